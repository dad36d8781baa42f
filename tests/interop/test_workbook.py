"""The tables, opened by spreadsheet libraries (openpyxl, pandas) and set against the JSON of the same job."""

import io
import json
import zipfile

import openpyxl
import pandas
import pytest

from conftest import FOUR_METRES, baywright

LISTS = [
    "Timber", "Totals", "Bars", "Boards", "Sheets of board", "Openings", "First fix", "Yard order", "Snags",
]


def written(job, folder):
    done = baywright("sheets", job, "-o", folder, "--as", "xlsx")
    assert done.returncode == 0, done.stderr.decode()
    (path,) = folder.glob("*.xlsx")
    return path


@pytest.fixture(scope="session")
def path(job, tmp_path_factory):
    return written(job, tmp_path_factory.mktemp("workbook") / "set")


@pytest.fixture(scope="session")
def book(path):
    return openpyxl.load_workbook(path)


def frame(path, name):
    return pandas.read_excel(path, sheet_name=name, keep_default_na=False)


def answer(*arguments):
    done = baywright(*arguments, "--json")
    assert done.returncode in (0, 1), done.stderr.decode()
    return json.loads(done.stdout)


def test_every_list_has_a_sheet_with_heads_that_stay(book):
    assert book.sheetnames == LISTS
    for sheet in book:
        assert sheet.freeze_panes == "A2" and sheet.print_title_rows == "$1:$1"
        heads = [cell.value for cell in sheet[1]]
        assert all(heads) and len(set(heads)) == len(heads), sheet.title
        assert not any("_" in head for head in heads)
        assert sheet.page_setup.orientation == "landscape" and sheet.page_setup.paperSize == 9
        # As wide as the paper, and as many pages long as it takes.
        assert sheet.sheet_properties.pageSetUpPr.fitToPage and sheet.page_setup.fitToHeight == 0


def test_nothing_is_a_formula(book):
    for sheet in book:
        for row in sheet.iter_rows():
            for cell in row:
                assert cell.data_type != "f", (sheet.title, cell.coordinate, cell.value)
                text = isinstance(cell.value, str) and cell.value[:1] in tuple("=+-@\t\r")
                assert not text or cell.quotePrefix, (sheet.title, cell.coordinate)


def test_every_piece_of_timber_is_in_it(path, schedule):
    timber = frame(path, "Timber")
    assert list(timber["Mark"]) == [m["mark"] for m in schedule["members"]]
    for (_, row), said in zip(timber.iterrows(), schedule["members"]):
        assert row["Role"] == said["role"] and row["Grade"] == said["section"]["grade"]
        assert row["Thickness, mm"] == said["section"]["thickness_mm"]
        assert row["Cut length, mm"] == pytest.approx(said["saw_length_mm"], abs=0.001)
        assert row["End 1 bevel, °"] == pytest.approx(said["ends"][0]["bevel_deg"], abs=0.001)
        assert row["Measure in place"] == ("yes" if said["measure_in_place"] else "no")
    totals = frame(path, "Totals")
    assert list(totals["Pieces"]) == [t["pieces"] for t in schedule["totals"]]


def test_boards_openings_and_points_are_in_it(path, schedule):
    boards = frame(path, "Boards")
    assert len(boards) == len(schedule["boards"])
    if len(boards):
        assert sum(boards["Area, m²"]) == pytest.approx(sum(b["area_m2"] for b in schedule["boards"]), abs=0.01)
        assert boards["Mark"].is_unique
    openings = frame(path, "Openings")
    assert list(openings["Name"].astype(str)) == [o["name"] for o in schedule["openings"]]
    for (_, row), said in zip(openings.iterrows(), schedule["openings"]):
        assert row["Width, mm"] == pytest.approx(said["width_mm"], abs=0.001)
        assert row["Top, mm"] == pytest.approx(said["top_mm"], abs=0.001)
    points = frame(path, "First fix")
    assert list(points["Name"].astype(str)) == [p["name"] for p in schedule["points"]]
    for (_, row), said in zip(points.iterrows(), schedule["points"]):
        assert row["Station, mm"] == pytest.approx(said["station_mm"], abs=0.001)
        assert row["Height, mm"] == pytest.approx(said["height_mm"], abs=0.001)


def test_the_cutting_plan_and_the_order_are_in_it(job, path):
    bars = frame(path, "Bars")
    planned = [
        (piece["mark"], piece["length_mm"])
        for section in answer("saw", job)["sections"]
        for bar in [*section["bars"], {"pieces": section["left_over"]}]
        for piece in bar["pieces"]
    ]
    assert list(zip(bars["Mark"], bars["Length, mm"])) == planned
    order = frame(path, "Yard order")
    lines = answer("yard", job)["lines"]
    assert list(order["What"]) == [line["what"] for line in lines]
    assert list(order["Buy"]) == [line["buy"] for line in lines]
    snags = answer("snags", job)
    told = [*snags["snags"], *(s for a in snags["accepted"] for s in a["snags"])]
    assert list(frame(path, "Snags")["Message"]) == [s["message"] for s in told]


def test_the_file_tells_of_no_person_and_no_time(path):
    with zipfile.ZipFile(path) as parts:
        assert parts.testzip() is None
        core = parts.read("docProps/core.xml").decode()
        assert "1980-01-01T00:00:00Z" in core
        assert "<dc:creator></dc:creator>" in core or "dc:creator" not in core
        assert all(info.date_time[0] == 1980 for info in parts.infolist())


def test_the_same_job_gives_the_same_bytes(tmp_path):
    assert written(FOUR_METRES, tmp_path / "one").read_bytes() == written(FOUR_METRES, tmp_path / "two").read_bytes()


def hostile(tmp_path):
    """A job whose texts try to be formulas."""
    text = FOUR_METRES.read_text()
    for old, new in [('"A"', '"=1+1"'), ('"D1"', '"@SUM(A1)"')]:
        assert old in text
        text = text.replace(old, new)
    job = tmp_path / "job.ron"
    job.write_text(text)
    return job


def test_texts_that_would_be_formulas_stay_texts(tmp_path):
    job = hostile(tmp_path)
    book = openpyxl.load_workbook(written(job, tmp_path / "out"))
    wall = [row[1] for row in book["Timber"].iter_rows(min_row=2)]
    assert wall and all(c.value == "=1+1" and c.data_type == "s" and c.quotePrefix for c in wall)
    assert [c.value for c in book["Openings"]["A"]][1:] == ["@SUM(A1)"]


@pytest.mark.parametrize("command", ["schedule", "saw", "yard"])
def test_tables_of_text_are_read_as_they_are(tmp_path, command):
    """Every table the program writes as text: as many cells in each row as there are heads, nothing that would be taken for a
    formula, and numbers that are numbers."""
    for job in (hostile(tmp_path), FOUR_METRES):
        done = baywright(command, job, "--csv")
        assert done.returncode == 0, done.stderr.decode()
        table = pandas.read_csv(io.BytesIO(done.stdout), keep_default_na=False, dtype=str)
        assert len(table) > 0
        for column in table.columns:
            for cell in table[column]:
                number = cell.lstrip("-").replace(".", "", 1).isdigit()
                assert number or not cell.startswith(("=", "+", "-", "@", "\t", "\r")), (column, cell)
            if column.endswith(("_mm", "_deg")):
                pandas.to_numeric(table[column].replace("", "0"))
