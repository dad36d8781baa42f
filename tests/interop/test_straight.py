"""How many bars to buy so that enough are straight, against the binomial distribution of SciPy."""

import json

import pytest
from scipy.stats import binom

from conftest import baywright

TIMBER = "timber: (thickness: 46, depth: 97)"
JOB = """(
  version: 1,
  title: "Studs",
  nodes: [(name: "1", at: (0, 0)), (name: "2", at: ({length}, 0))],
  makeups: [(name: "P", {timber}, centres: 400)],
  walls: [(name: "A", from: "1", to: "2", makeup: "P")],
  stock: [
    ({timber}, length: 2400, price: 6, crooked: {crooked}),
    ({timber}, length: 6000, owned: 99, bowed: true),
  ],
  saw: (kerf: 3, sure: {sure}),
)"""


def ordered(length, crooked, sure=0.95):
    """What is ordered for one wall whose studs are all alike and whose plates come from bowed bars that are there."""
    text = JOB.format(length=length, crooked=crooked, sure=sure, timber=TIMBER)
    done = baywright("saw", "-", "--json", input=text.encode())
    assert done.returncode == 0, done.stderr.decode()
    (section,) = json.loads(done.stdout)["sections"]
    (line,) = section["buy"]
    return line["straight"], line["count"], section["enough_straight"]


@pytest.mark.parametrize("crooked, buy", [(0.05, 45), (0.1, 48), (0.2, 56)])
def test_forty_straight_studs(crooked, buy):
    straight, count, sure = ordered(400 * 39 + 46 - 23, crooked)
    assert (straight, count) == (40, buy)
    assert sure == pytest.approx(binom.sf(39, buy, 1 - crooked), abs=6e-4)


@pytest.mark.parametrize("crooked", [0.03, 0.15, 0.37, 0.6])
@pytest.mark.parametrize("sure", [0.5, 0.8, 0.95, 0.99])
@pytest.mark.parametrize("length", [1500, 4300, 9200])
def test_no_fewer_would_do(length, crooked, sure):
    straight, count, chance = ordered(length, crooked, sure)
    assert binom.sf(straight - 1, count, 1 - crooked) >= sure
    assert binom.sf(straight - 1, count - 1, 1 - crooked) < sure
    assert chance == pytest.approx(binom.sf(straight - 1, count, 1 - crooked), abs=6e-4)


def bare(count, crooked, available):
    """What is bought for so many straight pieces, one to a bar, of a line that runs out and another that is dear and straight."""
    line = {"length_mm": 2400, "price": 6, "not_straight": crooked, "available": available}
    dear = {"length_mm": 2500, "price": 40}
    asked = {"stock": [line, dear], "pieces": [{"length_mm": 2300, "count": count, "straight": True}]}
    done = baywright("saw", "--pieces", "-", "--json", input=json.dumps(asked).encode())
    assert done.returncode == 0, done.stderr.decode()
    return json.loads(done.stdout)


@pytest.mark.parametrize("crooked", [0.1, 0.3, 0.5])
@pytest.mark.parametrize("available", [7, 20, 45])
def test_of_bars_that_run_out_no_more_are_leant_on_than_is_sure(crooked, available):
    """By SciPy: the most straight ones that are sure of all there are; a bar of the dear line costs more than any number of the others that makes one more sure."""
    answer = bare(60, crooked, available)
    most = max(k for k in range(available + 1) if binom.sf(k - 1, available, 1 - crooked) >= 0.95)
    fewest = min(n for n in range(most, available + 1) if binom.sf(most - 1, n, 1 - crooked) >= 0.95)
    by_line = {line["stock_index"]: (line["count"], line["straight"], line["short"]) for line in answer["buy"]}
    assert by_line == {0: (fewest, most, 0), 1: (60 - most, 60 - most, 0)}
    assert answer["lower_bound"] <= answer["cost"] == 6 * fewest + 40 * (60 - most)
