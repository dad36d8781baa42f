"""The order and price lists, read and written by pandas and Python's own csv, and added up in decimal numbers."""

import csv
import io
import json
from decimal import ROUND_HALF_UP, Decimal

import pandas as pd
import pytest

from conftest import baywright

CENT = Decimal("0.01")


def cents(value):
    return Decimal(str(value)).quantize(CENT, ROUND_HALF_UP)


def yard(job, *more):
    done = baywright("yard", job, *more)
    assert done.returncode == 0, done.stderr.decode()
    return done.stdout.decode()


def test_the_table_and_the_json_say_the_same(job):
    table = pd.read_csv(io.StringIO(yard(job, "--csv")))
    answer = json.loads(yard(job, "--json"))
    assert list(table["buy"]) == [line["buy"] for line in answer["lines"]]
    assert list(table["what"]) == [line["what"] for line in answer["lines"]]
    assert set(table["kind"]) <= {"timber", "board", "sundries"}
    assert table["mass_kg"].sum() == pytest.approx(answer["mass_kg"], abs=0.01)
    texts = table.select_dtypes(exclude="number").astype(str)
    assert not texts.map(lambda cell: str(cell).startswith(("=", "+", "-", "@"))).to_numpy().any()


@pytest.mark.parametrize("between", [",", ";", "\t"])
def test_a_merchant_fills_the_list_in(job, tmp_path, between):
    rows = list(csv.DictReader(io.StringIO(yard(job, "--price-list"))))
    assert rows, "there is something to price"
    prices = {}
    for i, row in enumerate(rows):
        price = Decimal(150 + 37 * i) / 100
        row["price"] = f"{price:.2f}".replace(".", ",")
        row["price_for"] = "each"
        prices[(row["kind"], row["what"], row["thickness_mm"], row["length_mm"], row["width_mm"])] = price
    filled = tmp_path / "filled.csv"
    with filled.open("w", newline="") as file:
        writer = csv.DictWriter(file, rows[0].keys(), delimiter=between)
        writer.writeheader()
        writer.writerows(rows)
    new = tmp_path / "new.ron"
    yard(job, "--prices", filled, "-o", new)
    answer = json.loads(yard(new, "--json"))
    lines = answer["lines"]
    assert answer["sum"]["unpriced_lines"] == 0
    # Each line, its price and the whole once more, in decimal numbers.
    goods = Decimal(0)
    for line in lines:
        each = Decimal(str(line["each"]))
        assert each in prices.values()
        assert cents(each * line["buy"]) == cents(line["price"])
        goods += cents(each * line["buy"])
        if line["pack"]:
            assert line["buy"] % line["pack"] == 0
    assert goods == cents(answer["sum"]["goods"])
    assert cents(answer["sum"]["total"]) == goods - cents(answer["sum"]["discount"]) + cents(
        answer["sum"]["delivery"]
    ) + cents(answer["sum"]["tax"])
    # Taken over twice it changes nothing.
    assert "changed" not in yard(new, "--prices", filled).replace("unchanged", "")


def test_one_wrong_row_and_nothing_is_written(job, tmp_path):
    rows = list(csv.reader(io.StringIO(yard(job, "--price-list"))))
    rows[2][rows[0].index("price")] = "ask"
    bad = tmp_path / "bad.csv"
    with bad.open("w", newline="") as file:
        csv.writer(file).writerows(rows)
    new = tmp_path / "new.ron"
    done = baywright("yard", job, "--prices", bad, "-o", new)
    assert done.returncode == 2
    assert done.stderr.decode() == f"{bad}:3: price: “ask” is not a number; expected one such as 7.40\n"
    assert not new.exists()
