"""The sheets of board of a job, put together again with an independent geometry library (Shapely, on GEOS)."""

import itertools
import json
from collections import Counter

import pytest
from shapely.geometry import Polygon, box
from shapely.ops import unary_union

from conftest import baywright


@pytest.fixture(scope="session")
def plans(job):
    done = baywright("saw", job, "--json")
    assert done.returncode == 0, done.stderr.decode()
    return json.loads(done.stdout)["boards"]


def shape(piece):
    return Polygon(piece["outline"], piece["holes"])


def test_every_board_of_the_schedule_comes_out_of_one_sheet(schedule, plans):
    wanted = Counter(f"{b['wall'] or b['platform']} {b['face']} {b['number']}" for b in schedule["boards"])
    areas = {f"{b['wall'] or b['platform']} {b['face']} {b['number']}": b["area_m2"] for b in schedule["boards"]}
    given = Counter()
    for plan in plans:
        given.update(plan["left_over"])
        for sheet in plan["sheets"]:
            for piece in sheet["pieces"]:
                assert len(piece["marks"]) == sheet["count"]
                given.update(piece["marks"])
                for mark in piece["marks"]:
                    # Corners are rounded to a tenth of a millimetre.
                    assert abs(shape(piece).area / 1e6 - areas[mark]) < 2e-3, mark
    assert given == wanted


def test_boards_lie_on_their_sheet_and_not_on_each_other(plans):
    for plan in plans:
        for sheet in plan["sheets"]:
            whole = box(0, 0, *sheet["sheet_mm"]).buffer(0.01)
            shapes = [shape(p) for p in sheet["pieces"]]
            for s in shapes:
                assert s.is_valid and whole.covers(s)
            for a, b in itertools.combinations(shapes, 2):
                assert a.intersection(b).area < 50.0
            used = unary_union(shapes)
            for o in sheet["offcuts"]:
                kept = box(o["x_mm"], o["y_mm"], o["x_mm"] + o["width_mm"], o["y_mm"] + o["length_mm"])
                assert whole.covers(kept) and used.intersection(kept).area < 50.0


def test_no_plan_is_below_its_area(plans):
    for plan in plans:
        on_sheets = sum(s["count"] * s["sheet_mm"][0] * s["sheet_mm"][1] / 1e6 for s in plan["sheets"])
        assert plan["sheets_m2"] == pytest.approx(on_sheets, abs=1e-3)
        assert plan["boards_m2"] <= on_sheets + 1e-3
        assert plan["fewest"] <= plan["bought"] == sum(s["count"] for s in plan["sheets"] if not s["owned"])
