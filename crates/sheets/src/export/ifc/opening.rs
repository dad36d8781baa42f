//! Openings as what they take out of their wall, and doors as leaf and lining in them.

use layout_core::boards::{Closes, Reveal, Shape};
use layout_core::document::{Door, DoorStyle, Face, Hinge};
use layout_core::frame::Solid;
use layout_core::layout::WallLayout;
use layout_core::math::SAME;
use layout_core::resolve::Hole;
use layout_core::span::Span;

use super::Model;
use super::facts::Facts;
use super::shape::{Faces, Flat, Xyz, less, placement};
use super::step::{Id, real, text};

/// The openings of a wall that is already there.
pub(super) fn openings(model: &mut Model, wall: &WallLayout, whole: Id, place: Id) {
    for hole in &wall.spec.holes {
        let taken = Void::of(wall, hole);
        let spans = [taken.along, taken.across, taken.up];
        if spans.iter().any(|s| !(s.low.is_finite() && s.length() > SAME)) {
            continue;
        }
        let (opening, within) = void(model, hole, &taken, whole, place);
        if let Some(door) = &hole.door {
            leaf_and_lining(model, wall, hole, door, &taken, (opening, within));
        }
    }
}

/// The box an opening takes out of frame and boards: what one walks or looks through.
struct Void {
    along: Span,
    across: Span,
    up: Span,
}

impl Void {
    /// Between the strips of board in its reveals, over the sole where that runs through.
    fn of(wall: &WallLayout, hole: &Hole) -> Void {
        let mut along = hole.doorway();
        let mut up = Span { low: hole.sill.unwrap_or(0.0), high: hole.top };
        for strip in &wall.boards.strips {
            let [s, _, z] = strip.place;
            match &strip.closes {
                Closes::Reveal(name, side) if *name == hole.name => match side {
                    Reveal::Start => along.low = along.low.max(s.high),
                    Reveal::End => along.high = along.high.min(s.low),
                    Reveal::Head => up.high = up.high.min(z.low),
                    Reveal::Sill => up.low = up.low.max(z.high),
                },
                _ => {}
            }
        }
        if hole.sill.is_none() {
            let under = |m: &&layout_core::frame::Member| {
                m.role.is_plate()
                    && m.solid.stations().overlaps(along)
                    && m.solid.heights().high < up.centre()
            };
            let plates = wall.frame.members.iter().filter(under);
            up.low = plates.map(|m| m.solid.heights().high).fold(up.low, f64::max);
        }
        Void { along, across: wall.spec.finished, up }
    }

    fn corner(&self) -> Xyz {
        [self.along.low, self.across.low, self.up.low]
    }
}

fn void(model: &mut Model, hole: &Hole, taken: &Void, whole: Id, place: Id) -> (Id, Id) {
    let (x, z) = ([1.0, 0.0, 0.0], [0.0, 0.0, 1.0]);
    let at = placement(&mut model.step, taken.corner(), z, x);
    let within = model.step.put(format_args!("IFCLOCALPLACEMENT({place},{at})"));
    let (width, height) = (taken.along.length(), taken.up.length());
    let outline = vec![[0.0, 0.0], [width, 0.0], [width, height], [0.0, height]];
    let through =
        Flat { origin: [0.0; 3], x, y: z, thickness: taken.across.length(), out: [0.0, 1.0, 0.0] };
    let solid = through.put(&mut model.step, &Shape { outline, holes: Vec::new() });
    let body = model.body("SweptSolid", &[solid]);
    let name = hole.name.as_str();
    let of = ["opening", name];
    let (id, named, kind) = (model.id(&of), text(name), text(hole.label));
    let opening = model.step.put(format_args!(
        "IFCOPENINGELEMENT({id},$,{named},$,{kind},{within},{body},{named},.OPENING.)"
    ));
    model.voids(&["opening", name, "voids"], whole, opening);
    Facts::new()
        .label("Kind", hole.label)
        .length("StructuralWidth", hole.span.length())
        .length("StructuralTop", hole.top)
        .length("Station", hole.span.low)
        .put(model, "Baywright_Opening", &of, opening)
        .long("Width", width)
        .long("Height", height)
        .long("Depth", taken.across.length())
        .wide("Area", width * height)
        .large("Volume", width * height * taken.across.length())
        .put_quantities(model, "Qto_OpeningElementBaseQuantities", &of, opening);
    (opening, within)
}

/// A door where it stands when it is shut. Its y axis is the way it opens, as IFC asks.
fn leaf_and_lining(
    model: &mut Model,
    wall: &WallLayout,
    hole: &Hole,
    door: &Door,
    taken: &Void,
    (opening, within): (Id, Id),
) {
    let finished = wall.spec.finished;
    let (corner, way) = match door.opens {
        Face::Left => ([taken.along.low, finished.low, 0.0], 1.0),
        Face::Right => ([taken.along.high, finished.high, 0.0], -1.0),
    };
    let own = |p: Xyz| {
        let [x, y, z] = less(p, corner);
        [x * way, y * way, z]
    };
    let fitted = Fitted::of(wall, hole, door);
    let solids: Vec<Id> = fitted
        .boxes
        .iter()
        .filter_map(|b| Faces::of_corners(b.corners().map(|p| own([p.x, p.y, p.z]))))
        .map(|faces| faces.put(&mut model.step))
        .collect();
    if solids.is_empty() {
        return;
    }
    let body = model.body("Tessellation", &solids);
    let at =
        placement(&mut model.step, less(corner, taken.corner()), [0.0, 0.0, 1.0], [way, 0.0, 0.0]);
    let place = model.step.put(format_args!("IFCLOCALPLACEMENT({within},{at})"));
    let name = hole.name.as_str();
    let of = ["door", name];
    let (id, shown, tag) = (model.id(&of), text(&format!("Door {name}")), text(name));
    let (width, height) = fitted.size;
    let (w, h, moves) = (real(width), real(height), moves(door));
    let filled = model.step.put(format_args!(
        "IFCDOOR({id},$,{shown},$,$,{place},{body},{tag},{h},{w},.DOOR.,.{moves}.,$)"
    ));
    let fills = model.id(&["door", name, "fills"]);
    model.step.put(format_args!("IFCRELFILLSELEMENT({fills},$,$,$,{opening},{filled})"));
    model.contained.push(filled);
    Facts::new()
        .mark("Reference", name)
        .status("NEW")
        .truth("IsExternal", false)
        .put(model, "Pset_DoorCommon", &of, filled)
        .length("LeafWidth", door.leaf.0)
        .length("LeafHeight", door.leaf.1)
        .length("LeafThickness", door.leaf.2)
        .length("LiningThickness", door.lining.thickness)
        .length("ClearWidth", door.clear_width())
        .put(model, "Baywright_Door", &of, filled)
        .long("Width", width)
        .long("Height", height)
        .wide("Area", width * height)
        .put_quantities(model, "Qto_DoorBaseQuantities", &of, filled);
}

/// How IFC calls the way a door moves, as one sees it looking the way it opens. One who stands where it opens to
/// sees the other hand.
fn moves(door: &Door) -> &'static str {
    let at_left = (door.hinge == Hinge::Start) == (door.opens == Face::Left);
    match (door.style, at_left) {
        (DoorStyle::Single, true) => "SINGLE_SWING_LEFT",
        (DoorStyle::Single, false) => "SINGLE_SWING_RIGHT",
        (DoorStyle::Double, _) => "DOUBLE_DOOR_SINGLE_SWING",
        (DoorStyle::Sliding | DoorStyle::Pocket, true) => "SLIDING_TO_LEFT",
        (DoorStyle::Sliding | DoorStyle::Pocket, false) => "SLIDING_TO_RIGHT",
    }
}

/// Leaves and lining in wall coordinates, and how wide and high they are together.
struct Fitted {
    boxes: Vec<Solid>,
    size: (f64, f64),
}

impl Fitted {
    fn of(wall: &WallLayout, hole: &Hole, door: &Door) -> Fitted {
        let finished = wall.spec.finished;
        let (_, leaf_height, leaf_thick) = door.leaf;
        let leaf_across = match (door.style, door.opens) {
            (DoorStyle::Pocket, _) => Span::about(wall.spec.frame.centre(), leaf_thick),
            (DoorStyle::Sliding, Face::Left) => Span::from(finished.high, leaf_thick),
            (DoorStyle::Sliding, Face::Right) => Span::from(finished.low - leaf_thick, leaf_thick),
            (_, Face::Left) => Span::from(finished.high - leaf_thick, leaf_thick),
            (_, Face::Right) => Span::from(finished.low, leaf_thick),
        };
        let leaf_up = Span::from(door.threshold, leaf_height);
        let leaves = door.leaves(hole.span).into_iter().map(|(_, along)| along);
        let mut boxes: Vec<Solid> =
            leaves.map(|along| cuboid(along, leaf_across, leaf_up)).collect();
        let mut size = (door.leaf.0, leaf_height);
        if door.lining.thickness > 0.0 {
            let lining = Lining::of(wall, hole, door, leaf_across);
            size = (lining.between.length() + 2.0 * door.lining.thickness, lining.top);
            boxes.extend(lining.boxes());
        }
        Fitted { boxes, size }
    }
}

/// The lining of a door: two jambs, and a head between them unless the leaf hangs on a track in the wall.
struct Lining<'a> {
    door: &'a Door,
    between: Span,
    /// Across the wall, and what of it the leaf takes.
    across: Span,
    leaf: Span,
    /// Underside and top of its head.
    under: f64,
    top: f64,
}

impl Lining<'_> {
    fn of<'a>(wall: &WallLayout, hole: &Hole, door: &'a Door, leaf: Span) -> Lining<'a> {
        let lining = door.lining;
        let leaf_top = door.threshold + door.leaf.1;
        let under = match door.style {
            DoorStyle::Sliding if door.lap > 0.0 => leaf_top - door.lap,
            DoorStyle::Pocket => leaf_top,
            _ => leaf_top + door.gap - lining.rebate,
        };
        let top = if door.style == DoorStyle::Pocket { under } else { under + lining.thickness };
        let between = door.between_linings(hole.doorway());
        Lining { door, between, across: wall.spec.finished, leaf, under, top }
    }

    /// Cut out by the rebate where the leaf shuts into it.
    fn boxes(&self) -> Vec<Solid> {
        let (door, between, t) = (self.door, self.between, self.door.lining.thickness);
        let rebate = match door.style {
            DoorStyle::Single | DoorStyle::Double => door.lining.rebate.min(t),
            DoorStyle::Sliding | DoorStyle::Pocket => 0.0,
        };
        let up = Span { low: 0.0, high: self.top };
        let is_mouth = |end: Hinge| door.style == DoorStyle::Pocket && end == door.hinge;
        let mut boxes = Vec::new();
        for end in [Hinge::Start, Hinge::End] {
            let jamb = |rebate: f64| match end {
                Hinge::Start => Span { low: between.low - t, high: between.low - rebate },
                Hinge::End => Span { low: between.high + rebate, high: between.high + t },
            };
            if is_mouth(end) {
                let parts = self.across.without(&[self.leaf.grown(AIR)]);
                boxes.extend(parts.into_iter().map(|n| cuboid(jamb(0.0), n, up)));
            } else if rebate > 0.0 {
                let parts = self.across.without(&[self.leaf]);
                boxes.extend(parts.into_iter().map(|n| cuboid(jamb(0.0), n, up)));
                boxes.push(cuboid(jamb(rebate), self.leaf.intersection(self.across), up));
            } else {
                boxes.push(cuboid(jamb(0.0), self.across, up));
            }
        }
        if door.style != DoorStyle::Pocket {
            let head = |rebate: f64| Span { low: self.under + rebate, high: self.top };
            if rebate > 0.0 {
                let parts = self.across.without(&[self.leaf]);
                boxes.extend(parts.into_iter().map(|n| cuboid(between, n, head(0.0))));
                let leaf = self.leaf.intersection(self.across);
                boxes.push(cuboid(between.grown(rebate), leaf, head(rebate)));
            } else {
                boxes.push(cuboid(between, self.across, head(0.0)));
            }
        }
        boxes
    }
}

/// Air either side of a leaf in the mouth of its pocket, mm. Common practice.
const AIR: f64 = 6.0;

fn cuboid(along: Span, across: Span, up: Span) -> Solid {
    Solid::upright(along, across, (up.low, up.low), (up.high, up.high))
}
