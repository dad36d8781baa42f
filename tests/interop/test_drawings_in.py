"""Drawings of other programs, written by an independent library (ezdxf), read as the room of a new job."""

import math
import random
import re

import ezdxf
import numpy as np
import pytest
import scipy.interpolate
from shapely.affinity import translate
from shapely.geometry import LineString, Point, Polygon

from conftest import baywright

# An L of 6 × 4 m with 2 × 1.5 m cut out of it, mm.
ROOM = [(0, 0), (6000, 0), (6000, 2500), (4000, 2500), (4000, 4000), (0, 4000)]
UNITS = {1: 25.4, 2: 304.8, 4: 1.0, 5: 10.0, 6: 1000.0, 14: 100.0}


def corners(folder, document, *more):
    """The corners of the room of a new job from `document`."""
    path = folder / "in.dxf"
    document.saveas(path)
    return from_file(folder, path, *more)


def from_file(folder, path, *more):
    job = folder / "job.ron"
    done = baywright("new", "--from", "empty-room", "--room", path, "--force", *more, job)
    assert done.returncode == 0, done.stderr.decode()
    shell = job.read_text().split("outline:", 1)[1].split("]", 1)[0]
    return np.array([(float(x), float(y)) for x, y in re.findall(r"at: \(([-\d.]+), ([-\d.]+)\)", shell)])


def same_ring(found, expected, near=0.02):
    """The same corners in the same order, wherever they begin, from their lower left corner."""
    expected = np.array(expected, dtype=float)
    expected = expected - expected.min(axis=0)
    if len(found) != len(expected):
        return False
    return any(
        np.abs(np.roll(expected, k, axis=0)[::way] - found).max() <= near
        for k in range(len(expected))
        for way in (1, -1)
    )


def drawn(version, unit=4):
    document = ezdxf.new(version)
    if version != "R12":
        document.units = unit
    return document, document.modelspace()


@pytest.mark.parametrize("version", ["R12", "R2000", "R2004", "R2007", "R2010", "R2013", "R2018"])
def test_every_version_gives_the_room(tmp_path, version):
    document, space = drawn(version)
    if version == "R12":
        space.add_polyline2d(ROOM, close=True)
    else:
        space.add_lwpolyline(ROOM, close=True)
    # A version without units is asked for them.
    more = ("--unit-mm", "1") if version == "R12" else ()
    assert same_ring(corners(tmp_path, document, *more), ROOM)


@pytest.mark.parametrize("unit", UNITS)
def test_units_are_read(tmp_path, unit):
    document, space = drawn("R2010", unit)
    space.add_lwpolyline([(x / UNITS[unit], y / UNITS[unit]) for x, y in ROOM], close=True)
    assert same_ring(corners(tmp_path, document), ROOM)


def test_a_drawing_without_a_unit_asks_for_it(tmp_path):
    document, space = drawn("R2010", 0)
    space.add_lwpolyline([(x / 10, y / 10) for x, y in ROOM], close=True)
    path = tmp_path / "in.dxf"
    document.saveas(path)
    done = baywright("new", "--room", path, tmp_path / "job.ron")
    assert done.returncode == 2 and "--unit-mm" in done.stderr.decode()
    assert not (tmp_path / "job.ron").exists()
    assert same_ring(from_file(tmp_path, path, "--unit-mm", "10"), ROOM)


def test_loose_lines_that_meet_are_the_room(tmp_path):
    document, space = drawn("R2010")
    sides = list(zip(ROOM, ROOM[1:] + ROOM[:1]))
    for i in (3, 0, 5, 1, 4, 2):
        a, b = sides[i] if i % 2 else sides[i][::-1]
        space.add_line((a[0] + 0.3, a[1]), b)
    space.add_line((10000, 0), (12000, 0))
    assert same_ring(corners(tmp_path, document), ROOM, near=0.5)


def test_a_block_is_put_where_it_is_inserted(tmp_path):
    """Turned by 30°, stretched, in another block, seen from behind: the corners are those ezdxf works out."""
    document, space = drawn("R2010")
    inner = document.blocks.new("inner", base_point=(100, 50))
    inner.add_lwpolyline([(x / 2, y / 2) for x, y in ROOM], close=True)
    outer = document.blocks.new("outer")
    outer.add_blockref("inner", (700, 300), dxfattribs={"rotation": 30, "xscale": 2, "yscale": 2})
    reference = space.add_blockref("outer", (5000, 9000), dxfattribs={"rotation": -12, "xscale": 1.5, "yscale": 1.5})
    (nested,) = reference.virtual_entities()
    (line,) = nested.virtual_entities()
    with line.points() as points:
        expected = [p[:2] for p in points]
    assert same_ring(corners(tmp_path, document), expected)


def test_what_is_mirrored_by_its_normal_is_mirrored(tmp_path):
    document, space = drawn("R2010")
    space.add_lwpolyline(ROOM, close=True, dxfattribs={"extrusion": (0, 0, -1)})
    assert same_ring(corners(tmp_path, document), [(-x, y) for x, y in ROOM])


def test_a_bulge_is_an_arc(tmp_path):
    """A room with a round end: half a circle of 2 m. Every corner of it lies on the circle, and the area is right."""
    document, space = drawn("R2010")
    space.add_lwpolyline([(0, 0, 0), (5000, 0, 1), (5000, 4000, 0), (0, 4000, 0)], format="xyb", close=True)
    found = corners(tmp_path, document)
    bow = found[found[:, 0] > 5000.5]
    assert len(bow) > 20
    assert np.hypot(bow[:, 0] - 5000, bow[:, 1] - 2000) == pytest.approx(2000, abs=0.02)
    x, y = found.T
    area = abs(np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y)) / 2
    whole = 5000 * 4000 + math.pi * 2000**2 / 2
    assert whole * 0.998 < area < whole


def rounded(tmp_path, curve):
    """A room 5 m wide closed by a curve from (5000, 0) to (5000, 4000): its corners off the straight walls, and what ezdxf makes
    of the curve in steps a hundred times as fine."""
    document, space = drawn("R2018")
    space.add_lwpolyline([(5000, 4000), (0, 4000), (0, 0), (5000, 0)])
    entity = curve(document, space)
    found = corners(tmp_path, document)
    along = [(p.x, p.y) for p in entity.flattening(0.05, 40)]
    if along[0][1] > along[-1][1]:
        along.reverse()
    fine, whole = LineString(along), Polygon([(0, 4000), (0, 0), *along])
    return found, fine, whole


CURVES = {
    "rational": lambda d, s: s.add_rational_spline(
        [(5000, 0), (8000, 0), (7000, 2500), (9000, 4000), (5000, 4000)], weights=[1, 3, 0.5, 2, 1], degree=3
    ),
    "control points": lambda d, s: s.add_open_spline(
        [(5000, 0), (8000, -500), (6000, 1500), (9000, 2500), (7000, 4500), (5000, 4000)], degree=3
    ),
    "quadratic, uneven knots": lambda d, s: s.add_open_spline(
        [(5000, 0), (8000, 500), (6000, 1500), (9000, 2500), (5000, 4000)], degree=2, knots=[0, 0, 0, 1, 5, 6, 6, 6]
    ),
    "points it goes through": lambda d, s: s.add_spline([(5000, 0), (6500, 700), (6000, 2000), (7500, 3300), (5000, 4000)]),
    "half an ellipse": lambda d, s: s.add_ellipse((5000, 2000), (0, 2000), 0.7, start_param=math.pi, end_param=2 * math.pi),
    "seen from behind": lambda d, s: s.add_ellipse(
        (5000, 2000), (0, 2000), 0.7, start_param=0, end_param=math.pi, dxfattribs={"extrusion": (0, 0, -1)}
    ),
}


@pytest.mark.parametrize("kind", CURVES)
def test_curves_are_followed(tmp_path, kind):
    """Every corner lies on the curve as ezdxf has it (its own de Boor and interpolation), nowhere strays a side from it by more than
    a hundredth of its size, and the area is right to a thousandth."""
    found, fine, whole = rounded(tmp_path, CURVES[kind])
    low = np.array(whole.exterior.coords).min(axis=0)
    found = found + low
    bow = [p for p in found if p[0] > 5000.5]
    assert len(bow) > 12, len(bow)
    size = max(fine.bounds[2] - fine.bounds[0], fine.bounds[3] - fine.bounds[1])
    for p in bow:
        assert fine.distance(Point(p)) < 0.5, p
    ours = Polygon(found)
    assert ours.is_valid and ours.symmetric_difference(whole).area < 1e-3 * whole.area
    assert ours.exterior.hausdorff_distance(whole.exterior) < size / 100


def test_a_whole_ellipse_is_a_room(tmp_path):
    document, space = drawn("R2010")
    space.add_ellipse((9000, 9000), (3000, 1000), 0.5)
    assert Polygon(corners(tmp_path, document)).area == pytest.approx(math.pi * 10e6 / 2, rel=4e-3)


def test_a_spline_that_runs_into_itself_is_a_room(tmp_path):
    """Its knots are even throughout, so that it begins and ends nowhere near the points that pull it: SciPy has the curve."""
    document, space = drawn("R2010")
    spline = space.add_spline()
    spline.set_closed([(0, 0, 0), (6000, 0, 0), (6000, 5000, 0), (0, 5000, 0)])
    knots, points = np.array(spline.knots), np.array([tuple(p)[:2] for p in spline.control_points])
    curve = scipy.interpolate.BSpline(knots, points, 3)
    whole = Polygon(curve(np.linspace(knots[3], knots[len(points)], 4000)[:-1]))
    ours = Polygon(corners(tmp_path, document))
    low = np.array(whole.exterior.coords).min(axis=0)
    whole = translate(whole, -low[0], -low[1])
    assert ours.symmetric_difference(whole).area < 2e-3 * whole.area


def test_curves_in_blocks_in_blocks(tmp_path):
    """An ellipse and lines in a block that is turned, mirrored and stretched unevenly within another."""
    document, space = drawn("R2010")
    inner = document.blocks.new("inner", base_point=(300, 200))
    inner.add_lwpolyline([(5000, 4000), (0, 4000), (0, 0), (5000, 0)])
    inner.add_ellipse((5000, 2000), (0, 2000), 0.7, start_param=math.pi, end_param=2 * math.pi)
    outer = document.blocks.new("outer", base_point=(-50, 70))
    outer.add_blockref("inner", (700, 300), dxfattribs={"rotation": 25, "xscale": -1, "yscale": 1.2})
    reference = space.add_blockref("outer", (5000, 9000), dxfattribs={"rotation": -70, "xscale": 1.5, "yscale": 0.9})
    ours = Polygon(corners(tmp_path, document))
    arc = [(5000 + 1400 * math.cos(t), 2000 + 2000 * math.sin(t)) for t in np.linspace(-math.pi / 2, math.pi / 2, 400)]
    ring = [(0, 4000), (0, 0), *arc]
    (nested,) = outer.query("INSERT")
    placed = [reference.matrix44().transform(nested.matrix44().transform((x, y, 0))) for x, y in ring]
    expected = Polygon([(p.x, p.y) for p in placed])
    low = np.array(expected.exterior.coords).min(axis=0)
    expected = translate(expected, -low[0], -low[1])
    assert ours.symmetric_difference(expected).area < 2e-3 * expected.area


def test_a_drawing_in_binary_form_is_told_to_be_saved_as_text(tmp_path):
    document, space = drawn("R2010")
    space.add_lwpolyline(ROOM, close=True)
    path = tmp_path / "in.dxf"
    document.saveas(path, fmt="bin")
    done = baywright("new", "--room", path, tmp_path / "job.ron")
    said = done.stderr.decode()
    assert done.returncode == 2 and said.count("\n") == 1
    assert "binary" in said and "text form" in said and not (tmp_path / "job.ron").exists()


def test_the_largest_outline_or_the_one_asked_for(tmp_path):
    document, space = drawn("R2010")
    small = [(8000, 0), (9000, 0), (9000, 1500), (8000, 1500)]
    space.add_lwpolyline(small, close=True)
    space.add_lwpolyline(ROOM, close=True)
    assert same_ring(corners(tmp_path, document), ROOM)
    assert same_ring(corners(tmp_path, document, "--outline", "2"), small)
    done = baywright("new", "--room", tmp_path / "in.dxf", "--outline", "3", tmp_path / "none.ron")
    assert done.returncode == 2 and "2 closed outlines" in done.stderr.decode()


def test_hidden_layers_paper_and_crossed_lines_are_no_room(tmp_path):
    document, space = drawn("R2010")
    document.layers.add("off").off()
    document.layers.add("frozen").freeze()
    big = [(0, 0), (20000, 0), (20000, 20000), (0, 20000)]
    for layer in ("off", "frozen"):
        space.add_lwpolyline(big, close=True, dxfattribs={"layer": layer})
    document.paperspace().add_lwpolyline(big, close=True)
    space.add_lwpolyline([(0, 0), (9000, 9000), (9000, 0), (0, 7000)], close=True)
    space.add_lwpolyline(ROOM, close=True)
    assert same_ring(corners(tmp_path, document), ROOM)


@pytest.mark.parametrize(
    "text",
    [
        b"",
        b"hello\nworld\n",
        b"\x00\x01\x02" * 100,
        b"0\nSECTION\n2\nENTITIES\n0\nLINE\n10\nnan\n20\n0\n11\n5\n21\n5\n0\nENDSEC\n0\nEOF\n",
        b"0\nSECTION\n2\nENTITIES\n0\nLINE\n10\n1e309\n20\n0\n11\n5\n21\n5\n0\nENDSEC\n0\nEOF\n",
        b"0\nSECTION\n2\nENTITIES\n0\nLINE\n10\n0\n20",
        b"0\nSECTION\n2\nBLOCKS\n0\nBLOCK\n2\na\n0\nINSERT\n2\na\n0\nENDBLK\n0\nENDSEC\n"
        b"0\nSECTION\n2\nENTITIES\n0\nINSERT\n2\na\n0\nENDSEC\n0\nEOF\n",
        b"0\nSECTION\n2\nBLOCKS\n"
        + b"".join(
            b"0\nBLOCK\n2\nb%d\n0\nINSERT\n2\nb%d\n70\n99\n71\n99\n0\nENDBLK\n" % (i, i + 1) for i in range(7)
        )
        + b"0\nENDSEC\n0\nSECTION\n2\nENTITIES\n0\nINSERT\n2\nb0\n70\n99\n71\n99\n0\nENDSEC\n0\nEOF\n",
    ],
    ids=["nothing", "words", "bytes", "no number", "too large", "cut off", "in itself", "blocks of blocks"],
)
def test_what_is_no_drawing_gets_one_plain_line(tmp_path, text):
    path = tmp_path / "bad.dxf"
    path.write_bytes(text)
    done = baywright("new", "--room", path, "--unit-mm", "1", tmp_path / "job.ron")
    said = done.stderr.decode()
    assert done.returncode == 2 and done.stdout == b"", said
    assert said.count("\n") == 1 and "bad.dxf" in said and "panicked" not in said and len(said) < 300, said
    assert not (tmp_path / "job.ron").exists()


WORDS = ["nan", "inf", "-1e400", "1e308", "", "0", "-1", "9" * 20, "SECTION", "INSERT", "a", "1e9", "VERTEX", "SEQEND", "POLYLINE"]


def test_damaged_drawings_give_a_room_or_one_plain_line(tmp_path):
    """Two hundred sound drawings with a few of their pairs changed, doubled, swapped or gone: always the same two hundred."""
    document, space = drawn("R2010")
    space.add_lwpolyline([(0, 0, 0), (5000, 0, 1), (5000, 4000, 0), (0, 4000, 0)], format="xyb", close=True)
    block = document.blocks.new("a")
    block.add_line((0, 0), (3000, 0))
    block.add_arc((0, 0), 500, 0, 200)
    block.add_circle((1, 1), 300)
    space.add_blockref("a", (10, 10), dxfattribs={"rotation": 20})
    space.add_spline([(0, 0), (1, 1), (2, 0)])
    path = tmp_path / "in.dxf"
    document.saveas(path)
    lines = path.read_text().split("\n")
    pairs = list(zip(lines[::2], lines[1::2]))
    values = [value.strip() for _, value in pairs]
    low, high = values.index("BLOCKS"), values.index("OBJECTS")
    chance = random.Random(7)
    ends = set()
    for _ in range(200):
        changed = list(pairs)
        for _ in range(chance.randint(1, 5)):
            at, what = chance.randrange(low, high), chance.random()
            if what < 0.4:
                changed[at] = (changed[at][0], chance.choice(WORDS))
            elif what < 0.5:
                changed[at] = (chance.choice(["0", "10", "42", "70", "67", "230", "2"]), changed[at][1])
            elif what < 0.7:
                changed.insert(at, changed[chance.randrange(low, high)])
            elif what < 0.85:
                other = chance.randrange(low, high)
                changed[at], changed[other] = changed[other], changed[at]
            else:
                del changed[at]
                changed.append(("0", "EOF"))
        path.write_text("\n".join(line for pair in changed for line in pair))
        done = baywright("new", "--room", path, "--unit-mm", "1", "-")
        said = done.stderr.decode()
        assert done.returncode in (0, 2) and "panicked" not in said, said
        assert said.count("\n") == (1 if done.returncode else 0) and len(said) < 400, said
        ends.add(done.returncode)
    assert ends == {0, 2}, "some are still sound, some are not"
