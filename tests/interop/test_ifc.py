"""The building model, judged by the open IFC toolkit: its validator with the rules of the schema (ISO 16739-1), and its
geometry kernel, which knows nothing of how the solids were worked out. Positions and volumes come from `schedule --json`."""

import json
from collections import Counter

import ifcopenshell
import ifcopenshell.geom
import ifcopenshell.util.element as element
import ifcopenshell.util.placement as placement
import ifcopenshell.util.pset
import ifcopenshell.util.shape as shape
import ifcopenshell.validate
import numpy as np
import pytest
from scipy.spatial import ConvexHull

from conftest import FOUR_METRES, ROOT, baywright
from test_schedule import depth_of_overlap

# Places are compared to a hundredth of a millimetre.
NEAR = 0.01
DEMONSTRATION = ROOT / "assets" / "jobs" / "boat-club-annexe.ron"


def written(job, folder):
    done = baywright("sheets", job, "-o", folder, "--as", "ifc")
    assert done.returncode == 0, done.stderr.decode()
    (path,) = folder.glob("*.ifc")
    assert done.stdout.decode().split("\n")[0] == str(path)
    return path


@pytest.fixture(scope="session")
def path(job, tmp_path_factory):
    return written(job, tmp_path_factory.mktemp("model") / "set")


@pytest.fixture(scope="session")
def model(path):
    return ifcopenshell.open(str(path))


class Solids:
    """World corners (mm) and volumes (mm³) of products, by the kernel: with what openings take out of them, or whole."""

    def __init__(self, products, whole=False):
        settings = ifcopenshell.geom.settings()
        settings.set("use-world-coords", True)
        settings.set("disable-opening-subtractions", whole)
        # Round holes are measured as polygons: of sides so short that their area is right to a thousandth.
        settings.set("mesher-linear-deflection", 0.00001)
        settings.set("mesher-angular-deflection", 0.05)
        self.corners, self.volumes = {}, {}
        for product in products:
            made = ifcopenshell.geom.create_shape(settings, product)
            geometry = made.geometry
            self.corners[product.GlobalId] = shape.get_vertices(geometry) * 1000.0
            self.volumes[product.GlobalId] = shape.get_volume(geometry) * 1e9


@pytest.fixture(scope="session")
def solids(model):
    kinds = ("IfcMember", "IfcPlate", "IfcDoor", "IfcOpeningElement")
    return Solids([p for kind in kinds for p in model.by_type(kind)], whole=True)


def same_places(some, others, near=NEAR):
    """Every point of either lies on one of the other."""
    apart = np.linalg.norm(np.array(some)[:, None] - np.array(others)[None], axis=2)
    return apart.min(axis=0).max() <= near and apart.min(axis=1).max() <= near


def property_of(product, group, name):
    return element.get_psets(product)[group][name]


def test_the_validator_has_nothing_to_say(model):
    logger = ifcopenshell.validate.json_logger()
    ifcopenshell.validate.validate(model, logger, express_rules=True)
    assert logger.statements == [], logger.statements[:3]
    assert model.schema_identifier == "IFC4"


def test_sets_of_the_standard_are_as_it_has_them(model):
    """Every property and quantity set that is not of our own is one of ISO 16739-1, meant for what has it, with its names."""
    templates = ifcopenshell.util.pset.PsetQto("IFC4")
    looked_at = set()
    for product in model.by_type("IfcProduct"):
        for name, values in element.get_psets(product).items():
            if name.startswith("Baywright_") or (product.is_a(), name) in looked_at:
                continue
            looked_at.add((product.is_a(), name))
            assert name in templates.get_applicable_names(product.is_a()), (product.is_a(), name)
            known = {p.Name for p in templates.get_by_name(name).HasPropertyTemplates}
            assert values.keys() - {"id"} <= known, name
    assert looked_at or not model.by_type("IfcBuildingElement")


def test_the_validator_bites(path, tmp_path):
    """A validator that finds nothing in a damaged file would prove nothing in a sound one."""
    text = path.read_text()
    damaged = {
        "an identity too long": text.replace("IFCBUILDINGSTOREY('", "IFCBUILDINGSTOREY('x", 1),
        "a unit of the wrong kind": text.replace(".LENGTHUNIT.,.MILLI.,.METRE.", ".LENGTHUNIT.,.MILLI.,.GRAM.", 1),
    }
    for what, bad in damaged.items():
        assert bad != text, what
        file = tmp_path / "bad.ifc"
        file.write_text(bad)
        logger = ifcopenshell.validate.json_logger()
        ifcopenshell.validate.validate(ifcopenshell.open(str(file)), logger, express_rules=True)
        assert logger.statements, what


def test_every_piece_of_timber_is_where_the_schedule_says(model, solids, schedule):
    pieces = {m.Name: m for m in model.by_type("IfcMember")}
    assert len(pieces) == len(model.by_type("IfcMember"))
    assert sorted(pieces) == sorted(m["mark"] for m in schedule["members"])
    for said in schedule["members"]:
        piece = pieces[said["mark"]]
        corners = np.array(said["corners"])
        assert same_places(solids.corners[piece.GlobalId], corners), said["mark"]
        hull = ConvexHull(corners)
        # The schedule's corners have three places: each side may be off by half of the last.
        off = hull.area * 0.0005 + 1
        assert solids.volumes[piece.GlobalId] == pytest.approx(hull.volume, abs=off), said["mark"]
        quantities = element.get_psets(piece)["Qto_MemberBaseQuantities"]
        assert quantities["GrossVolume"] == pytest.approx(hull.volume / 1e9, abs=(off + 500) / 1e9)
        assert property_of(piece, "Baywright_Member", "CutLength") == pytest.approx(said["cut_length_mm"], abs=NEAR)
        assert property_of(piece, "Baywright_Member", "Role") == said["role"]


def test_timber_is_called_what_it_is(model, schedule):
    kinds = {m.Name: m.PredefinedType for m in model.by_type("IfcMember")}
    by_role = {
        "sole plate": "PLATE", "head plate": "PLATE", "lower sole": "PLATE", "upper sole": "PLATE",
        "wall plate": "PLATE", "front plate": "PLATE", "stud": "STUD", "end stud": "STUD",
        "opening stud": "STUD", "corner stud": "STUD", "tee stud": "STUD", "cripple": "STUD",
        "ground": "STUD", "slat": "STUD", "front stud": "STUD", "jack": "POST",
    }
    for said in schedule["members"]:
        assert kinds[said["mark"]] == by_role.get(said["role"], "MEMBER"), said["mark"]


def test_pieces_belong_to_their_wall_and_have_their_section(model, schedule):
    pieces = {m.Name: m for m in model.by_type("IfcMember")}
    for said in schedule["members"]:
        piece = pieces[said["mark"]]
        whole = element.get_aggregate(piece)
        if said["wall"] is not None:
            assert whole.is_a("IfcWall") and whole.Name == f"Wall {said['wall']}"
            assert whole.PredefinedType == "PARTITIONING"
        else:
            assert whole.is_a("IfcElementAssembly") and whole.Name.endswith(said["platform"])
        assert element.get_container(whole).is_a("IfcBuildingStorey")
        material = element.get_material(piece)
        (part,) = material.MaterialProfiles
        section = said["section"]
        assert (part.Profile.XDim, part.Profile.YDim) == (section["thickness_mm"], section["depth_mm"])
        assert part.Material.Name == section["grade"]


def test_boards_have_their_outline_their_cut_outs_and_their_thickness(model, solids, schedule):
    plates = {p.Name: p for p in model.by_type("IfcPlate")}
    assert len(plates) == len(model.by_type("IfcPlate")) == len(schedule["boards"])
    for board in schedule["boards"]:
        of = board.get("platform") or board["wall"]
        name = f"{of} {board['face']} {board['number']}" if of else f"{board['face']} {board['number']}"
        plate = plates[name]
        assert plate.PredefinedType == "SHEET"
        corners = solids.corners[plate.GlobalId]
        near = [p for ring in [board["outline"], *board["holes"]] for p in ring]
        # The side on the timber is the outline; the other is as far off as the board is thick.
        apart = np.linalg.norm(corners[:, None] - np.array(near)[None], axis=2).min(axis=1)
        on_timber = apart <= NEAR
        assert same_places(corners[on_timber], near), name
        assert apart[~on_timber] == pytest.approx(board["thickness_mm"], abs=NEAR), name
        assert on_timber.sum() * 2 == len(corners), name
        volume = board["area_m2"] * 1e6 * board["thickness_mm"]
        off = 2e3 * board["thickness_mm"]  # the schedule's areas have three places
        assert solids.volumes[plate.GlobalId] == pytest.approx(volume, abs=off), name


def box(points):
    points = np.array(points)
    return np.array([points.min(axis=0), points.max(axis=0)])


def openings_of_walls(model):
    """Those of the partitions: what is bored into timber and what stands open in existing walls are others."""
    ours = (o for o in model.by_type("IfcOpeningElement") if "Baywright_Opening" in element.get_psets(o))
    return {o.Name: o for o in ours}


def test_openings_void_their_wall_and_no_timber_nor_board(model, solids, schedule):
    openings = openings_of_walls(model)
    assert sorted(openings) == sorted(o["name"] for o in schedule["openings"])
    for said in schedule["openings"]:
        opening = openings[said["name"]]
        (voids,) = opening.VoidsElements
        assert voids.RelatingBuildingElement.Name == f"Wall {said['wall']}"
        quantities = element.get_psets(opening)["Qto_OpeningElementBaseQuantities"]
        sides = quantities["Width"], quantities["Height"], quantities["Depth"]
        assert solids.volumes[opening.GlobalId] == pytest.approx(np.prod(sides), rel=1e-6)
        # It lies in the hole of the frame: as high, as wide but for pockets, strips and soles that run through.
        hole = np.array(said["corners"])
        along = (hole[1] - hole[0]) / np.linalg.norm(hole[1] - hole[0])
        at = (solids.corners[opening.GlobalId] - hole[0]) @ along
        assert at.min() >= -NEAR and at.max() <= said["width_mm"] + NEAR, said["name"]
        z = solids.corners[opening.GlobalId][:, 2]
        assert z.min() >= hole[:, 2].min() - NEAR and z.max() <= said["top_mm"] + NEAR, said["name"]
        strips = any(b.get("opening") == said["name"] for b in schedule["boards"])
        pocket = any(m["role"] == "slat" and m["wall"] == said["wall"] for m in schedule["members"])
        if not strips and not pocket:
            assert at.max() - at.min() == pytest.approx(said["width_mm"], abs=NEAR)
            assert z.max() == pytest.approx(said["top_mm"], abs=NEAR)


def test_doors_fill_their_openings(model, solids, schedule):
    doors = {d.Tag: d for d in model.by_type("IfcDoor")}
    assert sorted(doors) == sorted(o["name"] for o in schedule["openings"] if o["kind"] == "door")
    openings = openings_of_walls(model)
    for name, door in doors.items():
        (fills,) = door.FillsVoids
        assert fills.RelatingOpeningElement == openings[name]
        hole, own = box(solids.corners[openings[name].GlobalId]), box(solids.corners[door.GlobalId])
        leaf = element.get_psets(door)["Baywright_Door"]
        least = leaf["LeafWidth"] * leaf["LeafHeight"] * leaf["LeafThickness"]
        assert solids.volumes[door.GlobalId] >= least - 1, name
        assert own[1][2] <= hole[1][2] + NEAR and own[0][2] >= -NEAR, name
        assert door.OverallHeight <= hole[1][2] + NEAR


def test_texts_survive(tmp_path):
    """Quotes, backslashes and letters beyond ASCII, as a reader gives them back."""
    title = "Sæl’s \\ “room” 'på' 🪚"
    text = FOUR_METRES.read_text()
    start = text.index('title: "') + 8
    end = text.index('"', start)
    job = tmp_path / "job.ron"
    quoted = title.replace("\\", "\\\\").replace('"', '\\"')
    job.write_text(text[:start] + quoted + text[end:])
    model = ifcopenshell.open(str(written(job, tmp_path / "out")))
    assert model.by_type("IfcProject")[0].Name == title


def test_the_file_tells_of_no_person_no_path_and_no_time(path):
    head = path.read_text().split("DATA;")[0]
    assert "FILE_NAME(" in head and "1970-01-01T00:00:00',(''),('')" in head
    for word in ("/home", "/root", "\\\\Users", "IFCPERSON", str(path.parent)):
        assert word not in path.read_text()
    assert path.read_bytes().isascii()


def test_what_did_not_change_keeps_its_identity(tmp_path):
    """Equal jobs give equal bytes; after a door is moved every thing of a name that is still there has its GlobalId."""
    one = written(DEMONSTRATION, tmp_path / "one")
    assert one.read_bytes() == written(DEMONSTRATION, tmp_path / "two").read_bytes()
    text = DEMONSTRATION.read_text()
    assert "distance:" in text
    at = text.index("distance:") + 9
    end = at + next(i for i, c in enumerate(text[at:]) if c in ",)")
    moved = tmp_path / "moved.ron"
    moved.write_text(f"{text[:at]} {float(text[at:end]) + 37.0}{text[end:]}")
    other = written(moved, tmp_path / "three")
    assert one.read_bytes() != other.read_bytes()

    def identities(path):
        model = ifcopenshell.open(str(path))
        return {(p.is_a(), p.Name): p.GlobalId for p in model.by_type("IfcProduct")}

    before, after = identities(one), identities(other)
    shared = before.keys() & after.keys()
    assert len(shared) > 100 and all(before[k] == after[k] for k in shared)
    counted = Counter(r.GlobalId for r in ifcopenshell.open(str(one)).by_type("IfcRoot"))
    assert max(counted.values()) == 1


def changed(tmp_path, old, new):
    """The job of one wall with a door, with something put in the place of something."""
    text = FOUR_METRES.read_text()
    assert old in text
    job = tmp_path / "job.ron"
    job.write_text(text.replace(old, new, 1))
    done = baywright("schedule", job, "--json")
    assert done.returncode == 0, done.stderr.decode()
    model = ifcopenshell.open(str(written(job, tmp_path / "out")))
    logger = ifcopenshell.validate.json_logger()
    ifcopenshell.validate.validate(model, logger, express_rules=True)
    assert logger.statements == [], logger.statements[:3]
    return json.loads(done.stdout), model


def boxes(product):
    """Each solid of a product by its eight corners, in job coordinates, from the file itself."""
    place = placement.get_local_placement(product.ObjectPlacement)
    for item in product.Representation.Representations[0].Items:
        points = np.array(item.Coordinates.CoordList)
        assert len(points) == 8, product.Name
        yield points @ place[:3, :3].T + place[:3, 3]


def run_into(one, other):
    """How far two six-sided solids run into each other: looked at closely only where the boxes round them do."""
    depth = (np.minimum(one.max(axis=0), other.max(axis=0)) - np.maximum(one.min(axis=0), other.min(axis=0))).min()
    return depth_of_overlap(one, other) if depth > NEAR else depth


DOORS = {
    "opens right": ("opens: Right", "SINGLE_SWING_RIGHT"),
    "opens left": ("opens: Left", "SINGLE_SWING_LEFT"),
    "hung at the end": ("opens: Left, hinge: End", "SINGLE_SWING_RIGHT"),
    "rebated": ("opens: Right, lining: (thickness: 32, rebate: 12)", "SINGLE_SWING_RIGHT"),
    "pair": ("opens: Right, style: Double, lining: (thickness: 32, rebate: 12)", "DOUBLE_DOOR_SINGLE_SWING"),
    "sliding": ("opens: Left, style: Sliding, lap: 20", "SLIDING_TO_LEFT"),
    "sliding right": ("opens: Right, style: Sliding", "SLIDING_TO_RIGHT"),
    "pocket": ("opens: Left, style: Pocket, lap: 30", "SLIDING_TO_LEFT"),
    "no lining": ("opens: Left, lining: (thickness: 0)", "SINGLE_SWING_LEFT"),
}


@pytest.mark.parametrize("kind", DOORS)
def test_every_kind_of_door_stands_free_of_timber_and_of_itself(tmp_path, kind):
    """Leaves and lining run into no timber, no board and not into each other; the leaf has its size; the door says how it moves."""
    more, moves = DOORS[kind]
    schedule, model = changed(tmp_path, "opens: Left", more)
    (door,) = model.by_type("IfcDoor")
    assert door.OperationType == moves
    parts = list(boxes(door))
    leaves = 2 if kind == "pair" else 1
    for leaf in parts[:leaves]:
        assert sorted(np.ptp(leaf, axis=0)) == pytest.approx([35, 762, 1981], abs=NEAR)
    for i, one in enumerate(parts):
        for other in parts[i + 1 :]:
            assert run_into(one, other) <= NEAR
        for member in schedule["members"]:
            assert run_into(one, np.array(member["corners"])) <= NEAR, member["mark"]
    # The leaf is at the face it opens to, or on it, or in the middle of the frame.
    (wall,) = {m["wall"] for m in schedule["members"]}
    frame = np.array([c for m in schedule["members"] for c in m["corners"]])[:, 1]
    leaf = parts[0][:, 1]
    if kind == "pocket":
        assert leaf.mean() == pytest.approx((frame.min() + frame.max()) / 2, abs=NEAR), wall
    elif "Left" in more:
        assert leaf.max() >= frame.max() - NEAR
    else:
        assert leaf.min() <= frame.min() + NEAR
    # Seen the way it opens (the y axis of the door), hinges on the left are where x is least.
    place = placement.get_local_placement(door.ObjectPlacement)
    assert place[:3, 1] @ [0, 1, 0] == pytest.approx(1 if "Left" in more else -1)


def test_no_lining_no_boxes_but_the_leaf(tmp_path):
    _, model = changed(tmp_path, "opens: Left", "opens: Left, lining: (thickness: 0)")
    (door,) = model.by_type("IfcDoor")
    assert len(list(boxes(door))) == 1


@pytest.mark.parametrize("turn", ["BeforePartitions", "AfterPartitions"])
def test_the_boards_of_the_rooms_own_ceiling_are_under_its_joists(tmp_path, turn):
    schedule, model = changed(
        tmp_path,
        "ceiling:",
        'boarded: (below: (boards: [(kind: "standard", thickness: 12.5)]), joists_deg: 30, centres: 400, '
        f"first: 23, width: 46, turn: {turn}),\n    ceiling:",
    )
    # Its boards are there in the place of what was over the room.
    (ceiling,) = model.by_type("IfcCovering")
    assert ceiling.PredefinedType == "CEILING" and ceiling.Name == "Ceiling"
    plates = {p.Name: p for p in element.get_decomposition(ceiling)}
    boards = [b for b in schedule["boards"] if b["face"] == "ceiling"]
    assert boards and sorted(plates) == sorted(f"ceiling {b['number']}" for b in boards)
    solids = Solids(plates.values())
    for board in boards:
        plate = plates[f"ceiling {board['number']}"]
        z = solids.corners[plate.GlobalId][:, 2]
        top = board["outline"][0][2]
        assert (z.min(), z.max()) == pytest.approx((top - 12.5, top), abs=NEAR)
        volume = board["area_m2"] * 1e6 * 12.5
        assert solids.volumes[plate.GlobalId] == pytest.approx(volume, abs=2e4)
