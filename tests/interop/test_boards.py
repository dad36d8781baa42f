"""The boards of the schedule, laid out flat and looked at with an independent geometry library (Shapely, on GEOS)."""

import itertools
import json
from collections import defaultdict

import numpy as np
from shapely.geometry import Polygon
from shapely.ops import unary_union

from conftest import ROOT, baywright


def flat(points, origin, along):
    """Outline in job coordinates as stations and heights on its face."""
    p = np.array(points)
    return list(zip((p[:, :2] - origin) @ along, p[:, 2]))


def layers(schedule):
    """Every layer of every face: its boards as shapes on the face."""
    groups = defaultdict(list)
    for board in schedule["boards"]:
        if board["face"] in ("left", "right"):
            groups[board["wall"], board["face"], board["layer"]].append(board)
    for key, boards in groups.items():
        every = np.array([p for b in boards for p in b["outline"]])[:, :2]
        origin = every[0]
        away = every - origin
        far = away[np.argmax(np.linalg.norm(away, axis=1))]
        along = far / np.linalg.norm(far)
        shapes = [
            Polygon(flat(b["outline"], origin, along), [flat(h, origin, along) for h in b["holes"]])
            for b in boards
        ]
        yield key, boards, shapes


def test_boards_are_whole_shapes_of_the_area_they_say(schedule):
    for key, boards, shapes in layers(schedule):
        for board, shape in zip(boards, shapes):
            assert shape.is_valid, (key, board["number"])
            assert abs(shape.area / 1e6 - board["area_m2"]) < 1e-3, (key, board["number"])
            width, length = board["cut_mm"]
            low_x, low_y, high_x, high_y = shape.bounds
            assert sorted((width, length)) == sorted(
                (round(high_x - low_x, 1), round(high_y - low_y, 1))
            ) or abs((high_x - low_x) * (high_y - low_y) - width * length) < 100
            assert width <= board["sheet_mm"][0] + 0.01 and length <= board["sheet_mm"][1] + 0.01


def test_boards_of_a_layer_do_not_overlap(schedule):
    for key, boards, shapes in layers(schedule):
        for (a, one), (b, other) in itertools.combinations(zip(boards, shapes), 2):
            share = one.intersection(other).area
            assert share < 1.0, f"{key}: boards {a['number']} and {b['number']} share {share:.1f} mm²"


def test_boards_leave_out_the_openings_and_nothing_else(schedule):
    """What the boards of a layer leave of the rectangle round each stretch of them is openings and what a sloping
    head cuts off."""
    holes = defaultdict(list)
    for opening in schedule["openings"]:
        holes[opening["wall"]].append(np.array(opening["corners"]))
    for key, boards, shapes in layers(schedule):
        union = unary_union([s.buffer(0.01) for s in shapes])
        # Under the top of the boards nothing is left out but openings: a gap in a joint would show here.
        for part in getattr(union, "geoms", [union]):
            for ring in part.interiors:
                gap = Polygon(ring)
                fits = [
                    h for h in holes[key[0]]
                    if abs(np.ptp(h[:, 2]) - (gap.bounds[3] - gap.bounds[1])) < 1.0
                ]
                assert fits or gap.area < 10.0, (key, gap.bounds)


def in_its_plane(points):
    """A flat outline in space, laid down: the two axes it spans best."""
    p = np.array(points)
    _, _, axes = np.linalg.svd(p - p.mean(axis=0))
    return Polygon((p - p[0]) @ axes[:2].T), abs((p - p[0]) @ axes[2]).max()


def test_strips_are_flat_and_as_large_as_they_say(schedule):
    for board in schedule["boards"]:
        if board["face"] in ("end", "reveal"):
            shape, off = in_its_plane(board["outline"])
            mark = board["wall"], board["face"], board["number"]
            assert off < 0.01 and shape.is_valid, mark
            assert abs(shape.area / 1e6 - board["area_m2"]) < 1e-3, mark
            assert abs(shape.length - 2 * sum(board["cut_mm"])) < 0.05, mark


def test_plain_openings_are_boarded_all_round(schedule):
    """The strips on the timber of a plain opening have the area of its two jambs and its head, as deep as frame and boards."""
    for opening in schedule["openings"]:
        strips = [
            b for b in schedule["boards"]
            if b.get("opening") == opening["name"] and b["wall"] == opening["wall"] and b["layer"] == 1
        ]
        if opening["kind"] != "opening" or not strips:
            continue
        depth = strips[0]["cut_mm"][0]
        low = min(p[2] for b in strips for p in b["outline"])
        head = sum(b["thickness_mm"] for b in strips if b["side"] == "head")
        jamb = opening["top_mm"] - head - low
        area = depth * (opening["width_mm"] + 2 * jamb) / 1e6
        assert abs(sum(b["area_m2"] for b in strips) - area) < 3e-3, opening["name"]


def test_boards_of_platforms_cover_them_but_for_their_holes(schedule):
    """Every layer under a platform has the area of its outline less its holes; those on its top no more; no two overlap."""
    platforms = {p["name"]: p for p in schedule["platforms"]}
    layers = defaultdict(list)
    for board in schedule["boards"]:
        if board.get("platform"):
            layers[board["platform"], board["face"], board["layer"]].append(board)
    for (name, face, layer), boards in layers.items():
        for board in boards:
            shape, off = in_its_plane(board["outline"])
            assert off < 0.01 and shape.is_valid, (name, face, board["number"])
        if face == "front":
            continue
        shapes = [
            Polygon([p[:2] for p in b["outline"]], [[p[:2] for p in h] for h in b["holes"]]) for b in boards
        ]
        for board, shape in zip(boards, shapes):
            assert abs(shape.area / 1e6 - board["area_m2"]) < 1e-3, (name, face, board["number"])
        for one, other in itertools.combinations(shapes, 2):
            assert one.intersection(other).area < 1.0, (name, face, layer)
        holes = unary_union([Polygon(h["corners"]) for h in platforms[name]["holes"]])
        whole = Polygon(platforms[name]["outline"]).difference(holes)
        covered = unary_union(shapes)
        assert covered.difference(whole.buffer(0.01)).area < 10.0, (name, face, layer)
        if face == "below":
            assert abs(covered.area - whole.area) < 10.0, (name, face, layer)


def test_the_ceiling_of_a_room_is_its_outline_less_its_partitions(tmp_path):
    """Boarded after partitions, the ceiling has the area of the room less what a partition and its boards take of it."""
    text = (ROOT / "assets" / "jobs" / "one-wall-with-door.ron").read_text()
    boarded = (
        "boarded: (below: (boards: [(kind: \"standard\", thickness: 12.5)]), joists_deg: 30, centres: 400, "
        "first: 23, width: 46, turn: TURN),\n    ceiling:"
    )
    areas = {}
    for turn in ("BeforePartitions", "AfterPartitions"):
        job = tmp_path / "ceiling.ron"
        job.write_text(text.replace("ceiling:", boarded.replace("TURN", turn), 1))
        done = baywright("schedule", job, "--json")
        assert done.returncode == 0, done.stderr.decode()
        boards = [b for b in json.loads(done.stdout)["boards"] if b["face"] == "ceiling"]
        shapes = [Polygon([p[:2] for p in b["outline"]]) for b in boards]
        assert all(s.is_valid for s in shapes)
        for one, other in itertools.combinations(shapes, 2):
            assert one.intersection(other).area < 1.0
        areas[turn] = unary_union(shapes)
        assert abs(sum(s.area for s in shapes) / 1e6 - sum(b["area_m2"] for b in boards)) < 1e-2
    # The room is 4000 × 3000; the wall across it takes its frame of 97 and 12.5 of board on each face.
    assert abs(areas["BeforePartitions"].area - 4000 * 3000) < 100.0
    assert abs(areas["AfterPartitions"].area - (4000 * 3000 - 4000 * (97 + 2 * 12.5))) < 100.0
