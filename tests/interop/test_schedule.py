"""The schedule's solids, rebuilt from their eight corners by nothing but numpy."""

import csv
import io
import itertools
import json
import math

import numpy as np
import pytest

from conftest import baywright

# The schedule gives thousandths of a millimetre.
NEAR = 0.01


def solids(schedule):
    return [(m["mark"], np.array(m["corners"])) for m in schedule["members"]]


def axes(corners):
    """Face normals and edge directions of a six-sided solid: two end quads, joined in order."""
    a, b = corners[:4], corners[4:]
    edges = [a[1] - a[0], a[3] - a[0], b[0] - a[0]]
    normals = [np.cross(edges[i], edges[j]) for i, j in ((0, 1), (0, 2), (1, 2))]
    # The two ends may be cut at different angles.
    normals.append(np.cross(b[1] - b[0], b[3] - b[0]))
    return normals, edges


def depth_of_overlap(one, other):
    """How far two solids run into each other; not above 0 when something parts them."""
    (normals_a, edges_a), (normals_b, edges_b) = axes(one), axes(other)
    tried = normals_a + normals_b + [np.cross(e, f) for e in edges_a for f in edges_b]
    least = np.inf
    for axis in tried:
        length = np.linalg.norm(axis)
        if length < 1e-6:
            continue
        p, q = one @ axis / length, other @ axis / length
        least = min(least, min(p.max(), q.max()) - max(p.min(), q.min()))
        if least <= NEAR:
            break
    return least


def test_there_is_something_to_check(job, schedule):
    assert schedule["format"] == "baywright-schedule" and schedule["version"] == 1
    if job.stem != "empty-room":
        assert len(schedule["members"]) > 10


def test_no_two_pieces_overlap(schedule):
    pieces = solids(schedule)
    boxes = [(c.min(axis=0), c.max(axis=0)) for _, c in pieces]
    for (i, (mark, one)), (j, (other_mark, other)) in itertools.combinations(enumerate(pieces), 2):
        (low, high), (other_low, other_high) = boxes[i], boxes[j]
        if np.all(np.minimum(high, other_high) - np.maximum(low, other_low) > NEAR):
            depth = depth_of_overlap(one, other)
            assert depth <= NEAR, f"{mark} and {other_mark} overlap by {depth:.2f} mm"


def test_pieces_are_cut_to_their_longest_edge(schedule):
    for member in schedule["members"]:
        corners = np.array(member["corners"])
        longest = np.linalg.norm(corners[4:] - corners[:4], axis=1).max()
        assert member["cut_length_mm"] == pytest.approx(longest, abs=NEAR), member["mark"]


def test_pieces_are_as_thick_and_deep_as_their_section(schedule):
    """The section, seen along the piece: its ends may be cut at any angle."""
    for member in schedule["members"]:
        corners = np.array(member["corners"])
        along = corners[4] - corners[0]
        along = along / np.linalg.norm(along)
        a = corners[:4] - np.outer(corners[:4] @ along, along)
        sides = np.linalg.norm(np.roll(a, -1, axis=0) - a, axis=1)
        section = member["section"]
        expected = sorted([section["thickness_mm"], section["depth_mm"]])
        if "rip" not in member:
            assert sorted([sides[0], sides[3]]) == pytest.approx(expected, abs=NEAR), member["mark"]
            continue
        # Ripped: two faces are as wide as it says, and it comes out of the bar.
        rip = member["rip"]
        widths = sorted([sides[0], sides[2]])
        assert widths == pytest.approx([rip["narrow_mm"], rip["wide_mm"]], abs=NEAR), member["mark"]
        assert rip["wide_mm"] <= expected[1] + NEAR, member["mark"]


def test_square_ends_are_square(schedule):
    """Bevel and mitre of each end, worked out from the corners."""
    for member in schedule["members"]:
        corners = np.array(member["corners"])
        along = corners[4] - corners[0]
        along = along / np.linalg.norm(along)
        for end, quad in zip(member["ends"], (corners[:4], corners[4:])):
            normal = np.cross(quad[2] - quad[0], quad[3] - quad[1])
            normal = normal / np.linalg.norm(normal)
            off_square = np.degrees(np.arccos(min(1.0, abs(normal @ along))))
            # Each is measured on its face of the bar; together they tilt the cut by the root of their squares.
            tilts = [np.tan(np.radians(end[k])) for k in ("bevel_deg", "mitre_deg")]
            said = np.degrees(np.arctan(np.hypot(*tilts)))
            assert off_square == pytest.approx(said, abs=0.01), member["mark"]


def test_marks_are_unique(schedule):
    marks = [m["mark"] for m in schedule["members"]]
    assert len(marks) == len(set(marks))


def test_totals_are_the_sum_of_the_pieces(schedule):
    counted = {}
    for member in schedule["members"]:
        section = member["section"]
        key = (section["thickness_mm"], section["depth_mm"], section["grade"])
        pieces, length = counted.get(key, (0, 0.0))
        counted[key] = (pieces + 1, length + member["cut_length_mm"])
    assert len(schedule["totals"]) == len(counted)
    for total in schedule["totals"]:
        section = total["section"]
        pieces, length = counted[section["thickness_mm"], section["depth_mm"], section["grade"]]
        assert total["pieces"] == pieces
        # Lengths may be added as they are cut, to the millimetre.
        assert total["length_mm"] == pytest.approx(length, abs=pieces)


def test_openings_hold_no_timber(schedule):
    """A hole, a millimetre smaller all round, meets no piece."""
    for opening in schedule["openings"]:
        hole = np.array(opening["corners"])
        centre = hole.mean(axis=0)
        smaller = centre + (hole - centre) * 0.99
        for mark, solid in solids(schedule):
            assert depth_of_overlap(smaller, solid) <= NEAR, f"{mark} stands in {opening['name']}"


def test_the_table_has_a_row_for_every_piece(job, schedule):
    done = baywright("schedule", job, "--csv")
    assert done.returncode == 0, done.stderr.decode()
    rows = list(csv.reader(io.StringIO(done.stdout.decode("utf-8-sig"))))
    assert len(rows) == len(schedule["members"]) + 1
    assert all(len(row) == len(rows[0]) for row in rows)
    # Nothing a spreadsheet would take for a formula.
    for cell in itertools.chain.from_iterable(rows):
        is_number = cell.lstrip("-").replace(".", "", 1).isdigit()
        assert is_number or not cell.startswith(("=", "+", "-", "@", "\t", "\r")), cell


def test_snags_end_with_1_when_a_stop_is_open(job):
    done = baywright("snags", job, "--json")
    answer = json.loads(done.stdout)
    stops = [s for s in answer["snags"] if s["severity"] == "stop"]
    assert done.returncode == (1 if stops else 0)


def leaning(member, end):
    """How far an end runs along its piece, mm."""
    section = member["section"]
    bevel, mitre = (abs(math.tan(math.radians(end[a]))) for a in ("bevel_deg", "mitre_deg"))
    return bevel * section["thickness_mm"] + mitre * section["depth_mm"]


def test_bars_hold_their_pieces(job, schedule):
    """Σ length + (n − 1) · kerf ≤ stock − trim, and every piece is cut exactly once. Ends that lean may lie together: each saves
    at most half of what it leans."""
    done = baywright("saw", job, "--json")
    assert done.returncode == 0, done.stderr.decode()
    plan = json.loads(done.stdout)
    assert plan["format"] == "baywright-saw"
    leans = {m["mark"]: sum(map(lambda end: leaning(m, end), m["ends"])) for m in schedule["members"]}
    cut = []
    for section in plan["sections"]:
        for bar in section["bars"]:
            lengths = [p["length_mm"] for p in bar["pieces"]]
            used = sum(lengths) + (len(lengths) - 1) * plan["kerf_mm"]
            used -= sum(leans[p["mark"]] for p in bar["pieces"]) / 2
            assert used <= bar["stock_length_mm"] - plan["trim_mm"] + NEAR
            cut += [p["mark"] for p in bar["pieces"]]
        cut += [p["mark"] for p in section["left_over"]]
    assert sorted(cut) == sorted(m["mark"] for m in schedule["members"])


@pytest.mark.parametrize(
    "text",
    [
        "",
        "(",
        "(version: 1, title: 3)",
        "(version: 99, title: \"from the future\")",
        "(version: 1, title: \"x\", nodes: [(name: \"1\", at: (NaN, 0))])",
        "(version: 1, title: \"x\", walls: [(name: \"A\", from: \"1\", to: \"2\", makeup: \"P\")])",
        "[" * 100_000,
    ],
    ids=["nothing", "cut off", "wrong kind", "newer", "no number", "no such node", "deep"],
)
def test_what_is_no_job_gets_one_plain_line(tmp_path, text):
    path = tmp_path / "job.ron"
    path.write_text(text)
    for command in (["schedule"], ["snags"], ["saw"], ["sheets", "-o", tmp_path / "out"]):
        done = baywright(command[0], path, *command[1:])
        said = done.stderr.decode()
        assert done.returncode == 2, (command, said)
        assert done.stdout == b"" and said.count("\n") == 1, said
        assert "job.ron:" in said and "panicked" not in said and len(said) < 400, said
    assert not (tmp_path / "out").exists()
    assert path.read_text() == text
