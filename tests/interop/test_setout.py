"""What is set out on the floor, worked out again from nothing but the corners of timber in `schedule --json` and plane geometry."""

import itertools
import json

import numpy as np
import pytest
from shapely.geometry import LineString, Point, Polygon

from conftest import ROOT, baywright

NEAR = 0.01
LOFT = ROOT / "assets" / "jobs" / "sail-loft.ron"


@pytest.fixture(scope="session")
def setout(job):
    done = baywright("setout", job, "--json")
    assert done.returncode == 0, done.stderr.decode()
    return json.loads(done.stdout)


def ends_of(line):
    return np.array(line["ends"])


def unit(line):
    a, b = ends_of(line)
    return (b - a) / np.linalg.norm(b - a)


def left_of(v):
    return np.array([-v[1], v[0]])


def test_lines_lie_on_a_face_of_their_frame_and_the_timber_beside_them(setout, schedule):
    floor = setout["floor"]
    assert [line["wall"] for line in floor["lines"]] == [w["wall"] for w in setout["walls"]]
    for line in floor["lines"]:
        (a, b), along = ends_of(line), unit(line)
        soles = [m for m in schedule["members"] if m["wall"] == line["wall"] and "sole" in m["role"]]
        assert soles
        corners = np.array([c[:2] for m in soles for c in m["corners"]])
        beside = (corners - a) @ left_of(along)
        depth = soles[0]["section"]["depth_mm"]
        span = (0, depth) if line["timber"] == "left" else (-depth, 0)
        assert (beside.min(), beside.max()) == pytest.approx(span, abs=NEAR), line["wall"]
        assert line["face"] != line["timber"] and line["laser"] == {"off_mm": 300, "side": line["face"]}
        assert line["length_mm"] == pytest.approx(np.linalg.norm(b - a), abs=NEAR)
        datum = np.array(floor["datum"]["at"])
        assert np.array(line["from_datum_mm"]) == pytest.approx(ends_of(line) - datum, abs=NEAR)


def test_two_tapes_meet_at_the_ends(setout):
    floor = setout["floor"]
    fixed = {f["name"]: np.array(f["at"]) for f in floor["fixed"]}
    datum = np.array(floor["datum"]["at"])
    for f in floor["fixed"]:
        assert np.array(f["from_datum_mm"]) == pytest.approx(np.array(f["at"]) - datum, abs=NEAR)
    taped = 0
    for line in floor["lines"]:
        for end, tapes in zip(ends_of(line), line["tapes"]):
            if tapes is None:
                continue
            taped += 1
            one, other = (fixed[name] - end for name in tapes["from"])
            assert tapes["pulled_mm"] == pytest.approx([np.linalg.norm(one), np.linalg.norm(other)], abs=NEAR)
            cosine = abs(one @ other) / np.linalg.norm(one) / np.linalg.norm(other)
            assert tapes["crossing_deg"] == pytest.approx(np.degrees(np.arccos(min(cosine, 1))), abs=0.01)
            # No two others cross nearer to square: every corner of a room that has none looking inwards is seen, but for
            # those a tape would have to be pulled along a side from.
            room = list(fixed.values())
            sides = [LineString(pair) for pair in zip(room, room[1:] + room[:1])]
            if Polygon(room).convex_hull.area > Polygon(room).area + 1:
                continue
            along = [side for side in sides if side.distance(Point(end)) < 0.1]
            seen = [p for p in room if all(side.distance(Point(p)) > 0.1 for side in along)]
            for p, q in itertools.combinations(seen, 2):
                u, v = p - end, q - end
                assert abs(u @ v) / np.linalg.norm(u) / np.linalg.norm(v) >= cosine - 1e-6
    assert taped or not floor["lines"]


def test_axes_have_both_faces_of_every_frame_along_them(setout, schedule):
    floor = setout["floor"]
    datum = np.array(floor["datum"]["at"])
    for line in floor["lines"]:
        along = np.abs(unit(line))
        if along.min() > 1e-4:
            continue
        axis = 0 if along[0] < 1e-4 else 1
        figures = floor["axes"]["xy"[axis]]
        soles = [m for m in schedule["members"] if m["wall"] == line["wall"] and "sole" in m["role"]]
        faces = np.array([c[axis] for m in soles for c in m["corners"]]) - datum[axis]
        at = np.array([f["at_mm"] for f in figures])
        assert np.all(np.diff(at) > 0)
        for face in (faces.min(), faces.max()):
            assert np.abs(at - face).min() <= NEAR, line["wall"]
        snapped = ends_of(line)[0][axis] - datum[axis]
        assert any(f["is_line"] and abs(f["at_mm"] - snapped) <= NEAR for f in figures)


def test_diagonals_squares_and_racks(setout):
    floor = setout["floor"]
    fixed = {f["name"]: np.array(f["at"]) for f in floor["fixed"]}
    for diagonal in floor["diagonals"]:
        a, b = (fixed[name] for name in diagonal["between"])
        assert diagonal["length_mm"] == pytest.approx(np.linalg.norm(b - a), abs=NEAR)
    lines = {line["wall"]: line for line in floor["lines"]}
    for square in floor["squares"]:
        assert np.hypot(square["first_mm"], square["other_mm"]) == pytest.approx(square["across_mm"], abs=NEAR)
        line = lines[square["wall"]]
        assert square["first_mm"] <= line["length_mm"] + NEAR
        a = ends_of(line)[0]
        assert abs((np.array(square["at"]) - a) @ left_of(unit(line))) <= NEAR
    for wall in setout["walls"]:
        one, _ = wall["diagonals_mm"]
        length = wall["length_mm"]
        height = np.sqrt(one**2 - length**2)
        rack = wall["racked"]["rack_mm"]
        differ = np.hypot(length + rack, height) - np.hypot(length - rack, height)
        assert wall["racked"]["differ_mm"] == pytest.approx(differ, abs=0.002)


def test_the_splay_of_the_loft_is_set_back_alike_along_both():
    """At 45° the two set-backs are equal and the face is √2 of one; they end where its line meets the lines of its neighbours."""
    floor = json.loads(baywright("setout", LOFT, "--json").stdout)["floor"]
    (splay,) = floor["splays"]
    assert splay["set_backs_mm"][0] == pytest.approx(splay["set_backs_mm"][1], abs=NEAR)
    assert splay["face_mm"] == pytest.approx(splay["set_backs_mm"][0] * np.sqrt(2), abs=NEAR)
    lines = {f"wall {line['wall']}": line for line in floor["lines"]}

    def long(line):
        a, b = ends_of(line)
        u = (b - a) * 5
        return LineString([a - u, b + u])

    own = long(lines[f"wall {splay['wall']}"])
    one, other = (long(lines[name]) for name in splay["between"])
    corner = one.intersection(other)
    assert corner.distance(Point(splay["corner"])) <= NEAR
    for line, back in zip((one, other), splay["set_backs_mm"]):
        assert line.intersection(own).distance(corner) == pytest.approx(back, abs=NEAR)


def test_marks_along_a_line_are_its_jambs(setout, schedule):
    for line in setout["floor"]["lines"]:
        marks = {m["what"]: m["at_mm"] for m in line["marks"]}
        assert list(marks.values()) == sorted(marks.values())
        for opening in [o for o in schedule["openings"] if o["wall"] == line["wall"]]:
            near, far = marks[f"{opening['name']} near side"], marks[f"{opening['name']} far side"]
            assert far - near == pytest.approx(opening["width_mm"], abs=NEAR)
            wall = next(w for w in setout["walls"] if w["wall"] == line["wall"])
            start, along = np.array(wall["start"]), unit(line)
            corner = min((np.array(c[:2]) - start) @ along for c in opening["corners"])
            assert near == pytest.approx(corner, abs=NEAR)
