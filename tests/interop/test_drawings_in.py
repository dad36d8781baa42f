"""Drawings of other programs, written by an independent library (ezdxf), read as the room of a new job."""

import math
import random
import re

import ezdxf
import numpy as np
import pytest

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
