"""Drawings for other programs, judged by an independent library (ezdxf): its strict reader and its audit, and what it finds
in them set against the SVG of the same sheet, which another part of the program wrote, and against `schedule --json`."""

import json
import math
import re
import xml.etree.ElementTree as ElementTree

import ezdxf
import numpy as np
import pytest

from conftest import FOUR_METRES, baywright

SVG = "{http://www.w3.org/2000/svg}"
# Millimetres of paper: the SVG has three places.
NEAR = 0.002


def both(job, tmp_path_factory, face):
    folder = tmp_path_factory.mktemp("drawings") / "set"
    done = baywright("sheets", job, "-o", folder, "--paper", "a3", "--as", "dxf,svg", "--face", face)
    assert done.returncode == 0, done.stderr.decode()
    return folder


@pytest.fixture(scope="session")
def drawings(job, tmp_path_factory):
    return both(job, tmp_path_factory, "right")


@pytest.fixture(scope="session")
def from_the_left(job, tmp_path_factory):
    return both(job, tmp_path_factory, "left")


def opened(path):
    """The drawing; neither an error nor anything the audit would have to mend."""
    document = ezdxf.readfile(path)
    audit = document.audit()
    assert not audit.errors and not audit.fixes, (path.name, audit.errors[:3], audit.fixes[:3])
    return document


def test_the_audit_finds_nothing(drawings):
    paths = sorted(drawings.glob("*.dxf"))
    assert paths
    for path in paths:
        document = opened(path)
        assert document.dxfversion == "AC1024"
        assert document.units == ezdxf.units.MM and document.header["$MEASUREMENT"] == 1
        handles = [e.dxf.handle for e in document.entitydb.values() if e.dxf.handle]
        assert len(handles) == len(set(handles))
        assert max(int(h, 16) for h in handles) < int(document.header["$HANDSEED"], 16) + 1000


def test_the_audit_bites(tmp_path):
    """An audit that passes a damaged file would prove nothing about a sound one."""
    done = baywright("sheets", FOUR_METRES, "-o", tmp_path / "out", "--as", "dxf", "--only", "plan")
    assert done.returncode == 0, done.stderr.decode()
    sound = (tmp_path / "out" / "plan.dxf").read_text()
    for name, bad in {
        "cut off": sound[: len(sound) // 2],
        "a layer's name": sound.replace("W-WALL--E-", "W<WALL>E-"),
        "one handle twice": sound.replace("\n5\n102\n", "\n5\n101\n"),
    }.items():
        assert bad != sound, name
        path = tmp_path / "bad.dxf"
        path.write_text(bad)
        try:
            audit = ezdxf.readfile(path).audit()
        except ezdxf.DXFError:
            continue
        assert audit.errors or audit.fixes, name


def test_every_layer_is_named_by_the_scheme(drawings):
    """ISO 13567-2: who drew it, what it is of, what kind of drawing: 2 + 6 + 2 letters."""
    for path in drawings.glob("*.dxf"):
        document = opened(path)
        names = {layer.dxf.name for layer in document.layers} - {"0", "Defpoints"}
        assert all(re.fullmatch(r"W-[A-Z-]{6}[EHTD]-", name) for name in names), names
        used = {e.dxf.layer for e in document.modelspace()}
        assert used == names, path.name


HATCH = "#968e7e"


def pieces(document, scale):
    """On paper, y up: lines (x, y, x, y), lettering (text, x, y, height, turn), arcs (x, y, radius), lines of hatches."""
    lines, lettering, rounds, hatch = [], [], [], []
    for entity in document.modelspace():
        kind = entity.dxftype()
        if kind == "LINE":
            line = (tuple(entity.dxf.start)[:2], tuple(entity.dxf.end)[:2])
            (hatch if entity.dxf.layer.endswith("H-") else lines).append(line)
        elif kind == "LWPOLYLINE":
            points = [p[:2] for p in entity.get_points()]
            ring = points + points[:1] if entity.closed else points
            lines += list(zip(ring, ring[1:]))
        elif kind == "TEXT":
            at = entity.dxf.insert
            lettering.append((entity.plain_text(), at[0], at[1], entity.dxf.height, entity.dxf.rotation))
        elif kind == "ARC":
            rounds.append((*tuple(entity.dxf.center)[:2], entity.dxf.radius))
            assert 0 < (entity.dxf.end_angle - entity.dxf.start_angle) % 360
        elif kind == "CIRCLE":
            rounds.append((*tuple(entity.dxf.center)[:2], entity.dxf.radius))
        else:
            raise AssertionError(kind)
    lettering = [(t, x / scale, y / scale, h / scale, turn) for t, x, y, h, turn in lettering]
    on_paper = [np.array(a, dtype=float).reshape(-1, n) / scale for a, n in ((lines, 4), (rounds, 3), (hatch, 4))]
    return on_paper[0], lettering, on_paper[1], on_paper[2]


def drawn(path):
    """The same of an SVG, y up: lines, lettering, and lines in the colour of hatches."""
    lines, lettering, hatch = [], [], []
    for node in ElementTree.parse(path).iter():
        if node.tag == f"{SVG}path" and node.get("stroke"):
            for part in re.findall(r"M[^M]*", node.get("d")):
                numbers = [float(n) for n in re.findall(r"-?[\d.]+", part)]
                points = [(x, -y) for x, y in zip(numbers[::2], numbers[1::2])]
                ring = points + points[:1] if part.endswith("Z") else points
                (hatch if node.get("stroke") == HATCH else lines).extend(zip(ring, ring[1:]))
        elif node.tag == f"{SVG}text":
            turn = re.search(r"rotate\((-?[\d.]+)", node.get("transform") or "")
            lettering.append(
                (
                    node.text,
                    float(node.get("x")),
                    -float(node.get("y")),
                    float(node.get("font-size")) * 0.729,
                    -float(turn.group(1)) if turn else 0.0,
                )
            )
    lines, hatch = (np.array(a, dtype=float).reshape(-1, 4) for a in (lines, hatch))
    return lines[np.abs(lines[:, :2] - lines[:, 2:]).max(axis=1) > NEAR], lettering, hatch


def slanting(lines):
    """How long those are that are neither level nor plumb: hatches, and not the rules of tables."""
    lines = lines[np.abs(lines[:, :2] - lines[:, 2:]).min(axis=1) > 0.01]
    return np.linalg.norm(lines[:, :2] - lines[:, 2:], axis=1).sum()


def shift_between(lettering, others):
    """How far the drawing is moved on its sheet: what most of the lettering agrees on."""
    votes = {}
    for text, x, y, height, turn in lettering:
        for other, ox, oy, *_ in others:
            if text == other.replace("\u2009", " "):
                key = (round(ox - x, 2), round(oy - y, 2))
                votes.setdefault(key, []).append((ox - x, oy - y))
    assert votes, "some lettering is on both"
    best = max(votes.values(), key=len)
    return np.mean(best, axis=0)


def missing(lines, among):
    """Of `lines`, those with no line of `among` between the same two places, either way round."""
    gone = []
    both = np.concatenate([among, among[:, [2, 3, 0, 1]]])
    for line in lines:
        if not (np.abs(both - line).max(axis=1) <= NEAR).any():
            gone.append(line)
    return gone


def is_round(line, rounds):
    """True for a line that lies on a circle: a page draws circles in short straight lines."""
    if not len(rounds):
        return False
    ends = line.reshape(2, 1, 2)
    off = np.abs(np.linalg.norm(ends - rounds[None, :, :2], axis=2) - rounds[None, :, 2])
    return bool((off.max(axis=0) <= 2 * NEAR).any())


def sheets_of(path):
    """The sheets a drawing may be on: of its own name, or that of what a section is cut through."""
    name = path.stem
    sheets = [p for p in path.parent.glob("*.svg") if re.fullmatch(rf"\d+-{re.escape(name)}", p.stem)]
    if name.startswith("section-") and not sheets:
        of = re.escape(name.removeprefix("section-"))
        sheets = [p for p in path.parent.glob("*.svg") if re.fullmatch(rf"\d+-(wall|platform)-{of}", p.stem)]
    # Where lists run on to a second sheet the drawing is on the first.
    return sorted(sheets, key=lambda p: int(p.stem.split("-")[0]))


def is_other_face(path):
    """Those seen from the face that has not been asked for: they are on no sheet."""
    return bool(re.match(r"(wall|first-fix)-.*-(left|right)$", path.stem)) and not sheets_of(path)


def test_every_drawing_is_there(drawings, from_the_left):
    """A drawing for every sheet that has one, and from either face what was asked from it."""
    for folder, other in ((drawings, "left"), (from_the_left, "right")):
        names = {p.stem for p in folder.glob("*.dxf")}
        drawn_ = re.compile(r"\d+-((plan|setting-out|(wall|section|first-fix|boards|platform)-.+))$")
        for sheet in folder.glob("*.svg"):
            if found := drawn_.match(sheet.stem):
                assert found[1] in names
        for name in [n for n in names if n.startswith(("wall-", "first-fix-"))]:
            if not name.endswith(("-left", "-right")):
                assert f"{name}-{other}" in names
                if name.startswith("wall-"):
                    assert "section-" + name.removeprefix("wall-") in names
    for path in drawings.glob("*.dxf"):
        if is_other_face(path):
            asked = from_the_left / f"{path.stem.removesuffix('-left')}.dxf"
            assert path.read_bytes() == asked.read_bytes(), path.name
            assert asked.read_bytes() != (drawings / asked.name).read_bytes()


@pytest.mark.parametrize("face", ["right", "left"])
def test_drawings_are_what_the_sheets_show(face, drawings, from_the_left):
    """Line by line and letter by letter, both ways round."""
    folder = drawings if face == "right" else from_the_left
    for path in sorted(folder.glob("*.dxf")):
        if is_other_face(path) or (face == "left" and not path.stem.startswith(("wall-", "first-fix-"))):
            continue
        sheet = sheets_of(path)[0]
        there, letters_there, quiet_there = drawn(sheet)
        scale = float(next(m for t, *_ in letters_there if (m := re.search(r"1\s?:\s?(\d+)", t)))[1])
        here, letters, rounds, hatch = pieces(opened(path), scale)
        if len(here) == 0:
            continue
        shift = shift_between(letters, letters_there)
        here = here + np.tile(shift, 2)
        rounds = rounds + np.array([*shift, 0.0])
        assert missing(here, np.concatenate([there, quiet_there])) == [], path.name
        for text, x, y, height, turn in letters:
            found = [
                o for o in letters_there
                if o[0].replace("\u2009", " ") == text
                and math.hypot(o[1] - x - shift[0], o[2] - y - shift[1]) <= 3 * NEAR
                and abs(o[3] - height) <= 0.01
                and abs((o[4] - turn + 180) % 360 - 180) <= 0.01
            ]
            assert found, (path.name, text)
        # And nothing of the drawing on the sheet is left out: all that lies within what it covers.
        ends = here.reshape(-1, 2)
        low, high = ends.min(axis=0) + 0.01, ends.max(axis=0) - 0.01
        within = there.reshape(-1, 2, 2)
        within = there[((within >= low) & (within <= high)).all(axis=(1, 2))]
        # Hatches are counted from the corner of the sheet there and from the origin here: as much of them, elsewhere.
        if len(hatch):
            ends = quiet_there.reshape(-1, 2, 2)
            own = (hatch + np.tile(shift, 2)).reshape(-1, 2)
            least, most = own.min(axis=0) - 0.5, own.max(axis=0) + 0.5
            hatched = quiet_there[((ends >= least) & (ends <= most)).all(axis=(1, 2))]
            # Thin lines have the colour of hatches too: those are matched above.
            hatched = np.array(missing(hatched, here)).reshape(-1, 4)
            assert slanting(hatch) == pytest.approx(slanting(hatched), rel=0.1), path.name
        left_out = [line for line in missing(within, here) if not is_round(np.array(line), rounds)]
        assert left_out == [], (path.name, left_out[:3])


def test_timber_in_the_elevation_is_where_the_schedule_says(tmp_path):
    """Every stud of a straight wall is an outline with its corners, in millimetres, from the start of the wall."""
    done = baywright("sheets", FOUR_METRES, "-o", tmp_path / "out", "--as", "dxf", "--only", "wall-A")
    assert done.returncode == 0, done.stderr.decode()
    assert sorted(p.name for p in (tmp_path / "out").iterdir()) == ["section-A.dxf", "wall-A.dxf"]
    schedule = json.loads(baywright("schedule", FOUR_METRES, "--json").stdout)
    outlines = [
        {tuple(np.round(p[:2], 3) + 0.0) for p in entity.get_points()}
        for entity in opened(tmp_path / "out" / "wall-A.dxf").modelspace()
        if entity.dxftype() == "LWPOLYLINE" and entity.dxf.layer == "W-TIMBERE-"
    ]
    origin = np.array(min(c[:2] for m in schedule["members"] for c in m["corners"]))
    studs = [m for m in schedule["members"] if "stud" in m["role"]]
    assert len(studs) > 8
    for member in studs:
        corners = np.array(member["corners"])
        xs, zs = corners[:, 0] - origin[0], corners[:, 2]
        expected = {
            (round(x, 3) + 0.0, round(z, 3) + 0.0) for x in (xs.min(), xs.max()) for z in (zs.min(), zs.max())
        }
        assert expected in outlines, member["mark"]


def test_the_same_job_gives_the_same_bytes(tmp_path):
    for name in ("one", "two"):
        done = baywright("sheets", FOUR_METRES, "-o", tmp_path / name, "--as", "dxf")
        assert done.returncode == 0, done.stderr.decode()
    for path in (tmp_path / "one").iterdir():
        assert path.read_bytes() == (tmp_path / "two" / path.name).read_bytes()


def test_lettering_survives(tmp_path):
    """What begins a code in this format, and letters beyond ASCII."""
    title = "Sæl ^J 50%%d room"
    text = FOUR_METRES.read_text()
    label = text.index('label: "') + 8
    end = text.index('"', label)
    job = tmp_path / "job.ron"
    job.write_text(text[:label] + title + text[end:])
    done = baywright("sheets", job, "-o", tmp_path / "out", "--as", "dxf", "--only", "plan")
    assert done.returncode == 0, done.stderr.decode()
    said = [e.plain_text() for e in opened(tmp_path / "out" / "plan.dxf").modelspace() if e.dxftype() == "TEXT"]
    assert f"datum: {title}" in said, said


def test_a_sheet_without_a_drawing_is_told(tmp_path):
    done = baywright("sheets", FOUR_METRES, "-o", tmp_path / "out", "--as", "dxf", "--only", "saw")
    assert done.returncode == 2
    assert done.stderr.decode().count("\n") == 1 and "drawing" in done.stderr.decode()
    assert not (tmp_path / "out").exists()
