"""What is in the building model beside timber, boards, openings and doors: what already stands, what is bored into timber,
points, fittings, insulation. Judged by the open toolkit's geometry kernel; places and sizes of what is bored and of points from
`schedule --json`, of what stands from the jobs themselves and plane geometry (Shapely)."""

import json
import math
import re

import ifcopenshell
import ifcopenshell.geom
import ifcopenshell.util.element as element
import ifcopenshell.util.shape as shape
import numpy as np
import pytest
from shapely.geometry import Polygon

from conftest import FOUR_METRES, ROOT, baywright
from test_ifc import DEMONSTRATION, NEAR, Solids, box, changed, model, path, run_into, written  # noqa: F401

LOFT = ROOT / "assets" / "jobs" / "sail-loft.ron"


def sets(product):
    return element.get_psets(product)


def outline_of(job):
    """Corners of the room and the thickness of its walls, read from the job's own text."""
    text = job.read_text()
    room = text[text.index("outline: [") : text.index("makeups")]
    found = re.findall(r"\(at: \(([-\d.]+), ([-\d.]+)\), thickness: ([-\d.]+)", room)
    return [(float(x), float(y)) for x, y, _ in found], float(found[0][2]) if found else 0.0


def area(product):
    """Of a surface, by the kernel, m²."""
    settings = ifcopenshell.geom.settings()
    settings.set("use-world-coords", True)
    return shape.get_area(ifcopenshell.geom.create_shape(settings, product).geometry)


def existing(model, kind):
    return [p for p in model.by_type(kind) if "Baywright_Existing" in sets(p)]


def test_what_stands_says_so_and_what_is_built_says_it_is_new(model):
    for product in model.by_type("IfcBuildingElement"):
        said = {tuple(v["Status"]) for v in sets(product).values() if "Status" in v}
        if "Baywright_Existing" in sets(product):
            assert said == {("EXISTING",)}, product.Name
        elif product.is_a() in ("IfcWall", "IfcMember", "IfcPlate", "IfcDoor", "IfcCovering"):
            assert said == {("NEW",)}, product.Name


@pytest.mark.parametrize("job, slab, top, open_", [(DEMONSTRATION, -165.0, 2450.0, 5), (FOUR_METRES, 0.0, 2400.0, 0)])
def test_existing_walls_are_the_ring_round_the_room(tmp_path, job, slab, top, open_):
    """Where the ceiling is level they fill what lies between the room and the same room as much larger as they are thick."""
    model = ifcopenshell.open(str(written(job, tmp_path / "out")))
    walls = existing(model, "IfcWall")
    corners, thick = outline_of(job)
    assert len(walls) == len(corners) >= 3
    room = Polygon(corners)
    ring = room.buffer(thick, join_style="mitre").area - room.area
    whole = Solids(walls, whole=True)
    found = np.vstack([whole.corners[w.GlobalId] for w in walls])
    assert found[:, 2].min() == pytest.approx(slab)
    assert found[:, 2].max() == pytest.approx(top)
    assert sum(whole.volumes.values()) == pytest.approx(ring * (top - slab), rel=1e-6)
    for wall in walls:
        said = sets(wall)["Qto_WallBaseQuantities"]
        assert said["GrossVolume"] * 1e9 == pytest.approx(whole.volumes[wall.GlobalId], abs=1e3)
    # Every door and window takes what it is wide, as thick as its wall, from its sill to the top.
    cut = Solids(walls)
    for wall in walls:
        gaps = [sets(v.RelatedOpeningElement)["Baywright_ExistingOpening"] for v in wall.HasOpenings]
        out = sum(g["Width"] * thick * (top - g["Sill"]) for g in gaps)
        assert whole.volumes[wall.GlobalId] - cut.volumes[wall.GlobalId] == pytest.approx(out, abs=10), wall.Name
        assert all(not g["HeadIsKnown"] for g in gaps)
    assert sum(len(w.HasOpenings) for w in walls) == open_


def test_the_post_and_the_beam_of_the_demonstration(tmp_path):
    """Post 120 x 120 at 1450, 2400 from the slab to the beam that rests on it; the beam 100 wide from its soffit, 2280, to the ceiling."""
    model = ifcopenshell.open(str(written(DEMONSTRATION, tmp_path / "out")))
    (post,), (beam,) = existing(model, "IfcColumn"), existing(model, "IfcBeam")
    found = Solids([post, beam])
    assert box(found.corners[post.GlobalId]) == pytest.approx(np.array([[1390, 2340, -165], [1510, 2460, 2280]]))
    assert box(found.corners[beam.GlobalId]) == pytest.approx(np.array([[1400, 0, 2280], [1500, 2400, 2450]]))
    assert sets(post)["Qto_ColumnBaseQuantities"]["GrossVolume"] == pytest.approx(0.12 * 0.12 * 2.445, abs=1e-6)
    assert sets(beam)["Qto_BeamBaseQuantities"]["GrossVolume"] == pytest.approx(0.1 * 2.4 * 0.17, abs=1e-6)


def test_slopes_and_ceiling_of_the_loft(tmp_path):
    """Slopes of 40 degrees from 1050 at both eaves come up to collars at 2400 after 1350 / tan 40°; gables follow them."""
    model = ifcopenshell.open(str(written(LOFT, tmp_path / "out")))
    run = 1350 / math.tan(math.radians(40))
    slopes = [s for s in existing(model, "IfcSlab") if s.PredefinedType == "ROOF"]
    (ceiling,), (floor,) = existing(model, "IfcCovering"), [s for s in existing(model, "IfcSlab") if s not in slopes]
    assert sorted(s.Name for s in slopes) == ["North slope", "South slope"]
    for slope in slopes:
        assert area(slope) == pytest.approx(7.2 * run / 1000 / math.cos(math.radians(40)), rel=1e-6)
        assert sets(slope)["Baywright_Existing"]["Pitch"] == pytest.approx(math.radians(40), abs=1e-6)
    assert area(ceiling) == pytest.approx(7.2 * (5.4 - 2 * run / 1000), rel=1e-6)
    assert area(floor) == pytest.approx(7.2 * 5.4)
    walls = {w.Name: w for w in existing(model, "IfcWall")}
    found = Solids(walls.values(), whole=True)
    eaves = found.corners[walls["Existing wall 1"].GlobalId][:, 2].max()
    assert eaves == pytest.approx(1050, abs=0.05)
    gable = found.corners[walls["Existing wall 2"].GlobalId]
    assert gable[:, 2].max() == pytest.approx(2400)
    inside = gable[np.abs(gable[:, 0] - 7200) < NEAR]
    at_break = inside[np.abs(inside[:, 1] - run) < 0.1]
    assert at_break[:, 2].max() == pytest.approx(2400)


def test_a_lowered_patch_leaves_a_hole_in_the_ceiling(tmp_path):
    patch = (
        'roof: [(name: "Patch", from: (500, 500), to: (900, 500), level: 2150, pitch_deg: 0, '
        "over: [(500, 500), (1500, 500), (1500, 1300), (500, 1300)])],\n    outline:"
    )
    _, model = changed(tmp_path, "outline:", patch)
    corners, _ = outline_of(FOUR_METRES)
    (ceiling,) = existing(model, "IfcCovering")
    (patch,) = [s for s in existing(model, "IfcSlab") if s.Name == "Patch"]
    assert area(patch) == pytest.approx(1.0 * 0.8)
    assert area(ceiling) == pytest.approx(Polygon(corners).area / 1e6 - 0.8)


def bores(model):
    return [o for o in model.by_type("IfcOpeningElement") if "Baywright_Bore" in sets(o)]


def all_bores_are(model, schedule):
    """As many as the schedule has, each in its piece, where it says, as large; gives what they take out of each piece."""
    found = bores(model)
    said = sorted((h["member"], h["for"], h["notch"], round(h["size_mm"], 3)) for h in schedule["holes"])
    facts = [sets(o)["Baywright_Bore"] for o in found]
    assert said == sorted((f["Member"], f["For"], f["Kind"] == "notch", round(f["Size"], 3)) for f in facts)
    solids = Solids(found)
    for hole in schedule["holes"]:
        fits = [
            o
            for o, f in zip(found, facts)
            if (f["Member"], f["For"]) == (hole["member"], hole["for"])
            and f["Height"] == pytest.approx(hole["at"][2], abs=NEAR)
        ]
        assert fits, hole
        low, high = box(solids.corners[fits[0].GlobalId])
        at = np.array(hole["at"])
        if not hole["notch"]:
            # A circle about the middle, drawn out through the piece.
            across = [high[2] - low[2]] if hole["along"] else list((high - low)[:2])
            assert max(across) == pytest.approx(hole["size_mm"], abs=0.05), hole
            assert np.all(at >= low - NEAR) and np.all(at <= high + NEAR), hole
        assert fits[0].VoidsElements[0].RelatingBuildingElement.Name == hole["member"]
    pieces = [p for p in model.by_type("IfcMember") if p.HasOpenings]
    assert {p.Name for p in pieces} == {h["member"] for h in schedule["holes"]}
    whole, cut = Solids(pieces, whole=True), Solids(pieces)
    taken = {}
    for piece in pieces:
        said = sets(piece)["Qto_MemberBaseQuantities"]
        taken[piece.Name] = whole.volumes[piece.GlobalId] - cut.volumes[piece.GlobalId]
        assert taken[piece.Name] > 100, piece.Name
        net = cut.volumes[piece.GlobalId]
        assert said["NetVolume"] * 1e9 == pytest.approx(net, abs=600 + taken[piece.Name] / 500), piece.Name
    return taken


def test_every_hole_is_in_the_model(job, model):
    done = baywright("schedule", job, "--json")
    all_bores_are(model, json.loads(done.stdout))


def test_a_stud_with_one_hole_has_lost_a_cylinder(tmp_path):
    model = ifcopenshell.open(str(written(DEMONSTRATION, tmp_path / "out")))
    stud = next(p for p in model.by_type("IfcMember") if p.Name == "A-S3")
    (hole,) = [o for o in bores(model) if sets(o)["Baywright_Bore"]["Member"] == stud.Name]
    assert sets(hole)["Baywright_Bore"]["Size"] == 20
    lost = Solids([stud], whole=True).volumes[stud.GlobalId] - Solids([stud]).volumes[stud.GlobalId]
    assert lost == pytest.approx(math.pi * 100 * 46, rel=2e-3)


def test_notches_are_let_in_from_their_face(tmp_path):
    """Two pipes in notches 30 deep, one over the other so that they meet: what both take counts once."""
    run = '(name: "N{}", service: Pipe, height: {}, hole: 30, past: (true, true), notched: Left), '
    schedule, model = changed(
        tmp_path, 'openings: [', "routes: [" + run.format(1, 2150) + run.format(2, 2170) + "],\n      openings: ["
    )
    taken = all_bores_are(model, schedule)
    section = schedule["members"][0]["section"]
    full = [m["mark"] for m in schedule["members"] if m["role"] == "stud"]
    assert full and all(taken[m] == pytest.approx(section["thickness_mm"] * 30 * 50, rel=1e-3) for m in full)
    for opening in bores(model):
        assert opening.PredefinedType == "RECESS"


def test_points_and_fittings_are_on_their_walls(job, model):
    done = baywright("schedule", job, "--json")
    schedule = json.loads(done.stdout)
    kinds = {
        "switch": "IfcSwitchingDevice", "socket": "IfcOutlet", "spur": "IfcOutlet", "data": "IfcOutlet",
        "light": "IfcLightFixture", "thermostat": "IfcUnitaryControlElement", "fan": "IfcFan", "duct": "IfcDuctSegment",
        "pipe": "IfcPipeSegment", "waste": "IfcPipeSegment", "valve": "IfcValve",
    }
    points = {p.Name: p for p in model.by_type("IfcProduct") if "Baywright_Point" in sets(p)}
    assert sorted(points) == sorted(p["name"] for p in schedule["points"])
    solids = Solids(points.values())
    for said in schedule["points"]:
        point = points[said["name"]]
        assert point.is_a(kinds.get(said["kind"], "IfcBuildingElementProxy"))
        facts = sets(point)["Baywright_Point"]
        assert (facts["Kind"], facts["Wall"], facts["Face"]) == (said["kind"], said["wall"], said["face"])
        assert facts.get("HangsOn") == said.get("on")
        low, high = box(solids.corners[point.GlobalId])
        at = np.array(said["at"])
        # Its middle is on the face, and the box reaches into the wall from there.
        assert np.all(at >= low - NEAR) and np.all(at <= high + NEAR), said["name"]
        assert high[2] - low[2] == pytest.approx(said["size_mm"][1], abs=NEAR)
        assert element.get_container(point).is_a("IfcBuildingStorey")


def test_fittings_of_the_demonstration(tmp_path):
    """The worktop hangs on the right face of a screen 63 deep at 5400 with 12.5 on it, 1300 wide, 860 to 900, 150 off it."""
    model = ifcopenshell.open(str(written(DEMONSTRATION, tmp_path / "out")))
    fittings = {p.Name: p for p in model.by_type("IfcBuildingElementProxy") if "Baywright_Fitting" in sets(p)}
    assert sorted(fittings) == ["Basin", "Coat rail", "Key cupboard", "Paddle rack", "Worktop"]
    (place,) = [box(c) for c in Solids([fittings["Worktop"]]).corners.values()]
    face = 5400 + 63 / 2 + 12.5
    assert place == pytest.approx(np.array([[face, 100, 860], [face + 150, 1400, 900]]))


def test_insulation_fills_what_the_timber_leaves(tmp_path):
    """Each piece as thick as it is bought, and none of it in timber that goes through more than half of the frame."""
    fill = 'insulation: (kind: "mineral wool", thickness: 75, slab: (600, 1200)),\n      sole:'
    schedule, model = changed(tmp_path, "sole:", fill)
    pieces = [c for c in model.by_type("IfcCovering") if c.PredefinedType == "INSULATION"]
    assert len(pieces) > 8
    solids = Solids(pieces)
    depth = schedule["members"][0]["section"]["depth_mm"]
    for piece in pieces:
        corners = solids.corners[piece.GlobalId]
        said = sets(piece)["Qto_CoveringBaseQuantities"]
        assert said["Width"] == 75 and np.ptp(corners[:, 1]) == pytest.approx(75)
        assert solids.volumes[piece.GlobalId] == pytest.approx(said["NetArea"] * 1e6 * 75, abs=75 * 2)
        low, high = box(corners)
        solid = np.array([[x, y, z] for z in (low[2], high[2]) for x, y in
                          ((low[0], low[1]), (high[0], low[1]), (high[0], high[1]), (low[0], high[1]))])
        for member in schedule["members"]:
            timber = np.array(member["corners"])
            if np.ptp(timber[:, 1]) > depth / 2:
                assert run_into(solid, timber) <= NEAR, (piece.Name, member["mark"])
        assert element.get_aggregate(piece).is_a("IfcWall")
        assert element.get_material(piece).Name == "mineral wool"
    assert any(piece.Name.endswith("bay 1.1") for piece in pieces)
