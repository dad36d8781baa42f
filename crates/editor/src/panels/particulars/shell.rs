//! Nodes, and what already stands: corners and sides of the room, posts, beams, room names.

use std::sync::Arc;

use layout_core::document::{Corner, Edit, Node, RoofPlane, Wall};
use layout_core::id::{ItemRef, Name};
use layout_core::math::{PlanPoint, PlanVector};

use super::form::Form;
use super::{name_row, title};
use crate::command::Command;
use crate::gesture::direction;

/// Bounds of a coordinate, mm from the datum.
const REACH: (f64, f64) = (-100_000.0, 100_000.0);

/// x and y of a point, from the datum. Gives the moved point.
pub(super) fn place_rows(form: &mut Form<'_, '_>, at: PlanPoint) -> Option<PlanPoint> {
    let datum = form.scene.job.datum.at;
    let d = at - datum;
    let x = form.length("x from datum", d.x, REACH);
    let y = form.length("y from datum", d.y, REACH);
    (x.is_some() || y.is_some())
        .then(|| datum + PlanVector::new(x.unwrap_or(d.x), y.unwrap_or(d.y)))
}

/// The page of node `name`.
pub(super) fn node_page(form: &mut Form<'_, '_>, name: &Name) {
    let Some(node) = form.scene.job.node(name).cloned() else { return };
    let walls: Vec<_> = form
        .scene
        .job
        .walls
        .iter()
        .filter(|w| w.from == *name || w.to == *name)
        .map(|w| w.name.to_string())
        .collect();
    let beside = format!("wall {}", walls.join(", "));
    title(form, &format!("Node {name}"), &beside, &ItemRef::Node(name.clone()));
    name_row(form, name, ItemRef::Node);
    if let Some(at) = place_rows(form, node.at) {
        form.edit(Edit::PutNode(Node { name: node.name.clone(), at }));
    }
    cut_node(form, &node);
}

/// Offers to cut off the corner of the two walls that end at a node.
fn cut_node(form: &mut Form<'_, '_>, node: &Node) {
    let job = form.scene.job;
    let ends: Vec<PlanPoint> = job
        .walls
        .iter()
        .filter_map(|w| match (w.from == node.name, w.to == node.name) {
            (true, false) => job.node(&w.to),
            (false, true) => job.node(&w.from),
            _ => None,
        })
        .map(|n| n.at)
        .collect();
    let [a, b] = ends[..] else { return };
    let (a, b) = (a - node.at, b - node.at);
    if layout_core::math::cross(direction(a), direction(b)).abs() < 0.1 {
        return;
    }
    form.heading("Splay");
    form.note("A wall across the corner, as far back on both walls. Drag it or give its face length afterwards.");
    let set_back = splay_set_back(a.norm().min(b.norm()));
    if form.button(&format!("Cut this corner, set back {}", form.scene.job.units.show(set_back))) {
        let makeup = job
            .walls
            .iter()
            .find(|w| w.from == node.name || w.to == node.name)
            .map_or_else(Name::default, |w| w.makeup.clone());
        let name = job.free_wall_name();
        let wall = Wall::new(name.clone(), "", "", makeup);
        form.edit(Edit::CutCorner {
            node: node.name.clone(),
            set_backs: [set_back; 2],
            wall: Arc::new(wall),
        });
        form.out.push(Command::Pick(Some(ItemRef::Wall(name))));
    }
}

/// 800, or a third of what there is.
fn splay_set_back(room: f64) -> f64 {
    (room / 3.0).min(800.0).round()
}

/// The page of a corner of the room.
pub(super) fn corner_page(form: &mut Form<'_, '_>, corner: usize) {
    let Some(at) = form.scene.job.shell.outline.get(corner).map(|c| c.at) else { return };
    title(form, &format!("Room corner {}", corner + 1), "", &ItemRef::Corner(corner));
    if let Some(to) = place_rows(form, at) {
        form.edit(Edit::MoveCorner { corner, to });
    }
    cut_room_corner(form, corner);
    sides_list(form);
}

/// Offers to run a wall across a corner of the room.
fn cut_room_corner(form: &mut Form<'_, '_>, corner: usize) {
    let job = form.scene.job;
    let outline = &job.shell.outline;
    let n = outline.len();
    if n < 3 {
        return;
    }
    let at = |i: usize| outline[i % n].at;
    let (here, before, after) = (at(corner), at(corner + n - 1), at(corner + 1));
    let set_back = splay_set_back((before - here).norm().min((after - here).norm()));
    let Some(makeup) = job.makeups.first() else { return };
    form.heading("Splay");
    if form.button(&format!("Run a wall across, set back {}", form.scene.job.units.show(set_back)))
    {
        let name = job.free_wall_name();
        let node = job.free_node_name();
        let wall = Wall::new(name.clone(), node.clone(), node, makeup.name.clone());
        let on = |p: PlanPoint| here + direction(p - here) * set_back;
        form.edit(Edit::AddWall { wall: Arc::new(wall), from: on(after), to: on(before) });
        form.out.push(Command::Pick(Some(ItemRef::Wall(name))));
    }
}

/// The page of a side of the room.
pub(super) fn side_page(form: &mut Form<'_, '_>, side: usize) {
    let Some((a, b)) = form.scene.job.shell.sides().nth(side) else { return };
    let outline = &form.scene.job.shell.outline;
    let thickness = outline[side].thickness;
    title(form, &format!("Room side {}", side + 1), "existing wall", &ItemRef::Side(side));
    let length = (b - a).norm();
    if let Some(new) = form.length("Length", length, (100.0, 100_000.0)) {
        // The corner at its far end moves; the next side follows.
        let to = a + direction(b - a) * new;
        form.edit(Edit::MoveCorner { corner: (side + 1) % outline.len(), to });
    }
    if let Some(new) = form.length("Thickness", thickness, (20.0, 2000.0)) {
        let mut corners = outline.clone();
        corners[side].thickness = new;
        form.edit(Edit::SetOutline(corners));
    }
    let same = form.button("This thickness all round");
    if same {
        let corners = outline.iter().map(|c| Corner { thickness, ..c.clone() }).collect();
        form.edit(Edit::SetOutline(corners));
    }
    sides_list(form);
}

fn sides_list(form: &mut Form<'_, '_>) {
    form.heading("The room");
    let sides: Vec<_> = form.scene.job.shell.sides().map(|(a, b)| (b - a).norm()).collect();
    for (i, length) in sides.iter().enumerate() {
        form.shown(&format!("Side {}", i + 1), form.scene.job.units.with_unit(*length));
    }
    let area = form.scene.job.shell.twice_area().abs() / 2e6;
    form.shown("Floor", format!("{area:.2} m²"));
    if form.button("Measure the room…") {
        form.out.push(Command::Pick(Some(ItemRef::Survey)));
    }
}

/// The page of post `name`.
pub(super) fn post_page(form: &mut Form<'_, '_>, name: &Name) {
    let Some(post) = form.scene.job.shell.posts.iter().find(|p| p.name == *name).cloned() else {
        return;
    };
    title(form, name.as_str(), "post", &ItemRef::Post(name.clone()));
    name_row(form, name, ItemRef::Post);
    let mut new = post.clone();
    if let Some(at) = place_rows(form, post.at) {
        new.at = at;
    }
    if let Some(x) = form.length("Size along x", post.size.0, (10.0, 2000.0)) {
        new.size.0 = x;
    }
    if let Some(y) = form.length("Size along y", post.size.1, (10.0, 2000.0)) {
        new.size.1 = y;
    }
    if let Some(turn) = form.number("Turned", "°", post.turn_deg, (-360.0, 360.0)) {
        new.turn_deg = turn;
    }
    if let Some(depth) = form.length("Plates let in", post.housing, (0.0, 200.0)) {
        new.housing = depth;
    }
    if new != post {
        form.edit(Edit::PutPost(new));
    }
}

/// The page of roof slope `name`.
pub(super) fn roof_page(form: &mut Form<'_, '_>, name: &Name) {
    let Some(roof) = form.scene.job.shell.roof.iter().find(|r| r.name == *name).cloned() else {
        return;
    };
    title(form, name.as_str(), "roof slope", &ItemRef::Roof(name.clone()));
    name_row(form, name, ItemRef::Roof);
    let mut new = roof.clone();
    if let Some(level) = form.length("Foot above floor", roof.level, (-2000.0, 20_000.0)) {
        new.level = level;
    }
    if let Some(pitch) = form.number("Slope", "°", roof.pitch_deg, (0.0, 85.0)) {
        new.pitch_deg = pitch;
    }
    if form.button("Rise to the other side") {
        std::mem::swap(&mut new.from, &mut new.to);
    }
    let part = form.tick("Only over a part of the plan", !roof.over.is_empty());
    match part {
        Some(true) => new.over = beside_line(&roof),
        Some(false) => new.over.clear(),
        None => over_rows(form, &mut new),
    }
    form.note("Heads of walls go under it, and under the ceiling where that is lower.");
    if new != roof {
        form.edit(Edit::PutRoof(new));
    }
}

/// The rectangle a metre deep that a slope's foot rises over.
fn beside_line(roof: &RoofPlane) -> Vec<PlanPoint> {
    let up = layout_core::math::left_of(direction(roof.to - roof.from)) * 1000.0;
    vec![roof.from, roof.to, roof.to + up, roof.from + up]
}

/// The corners of the part of the plan a slope covers, from the datum.
fn over_rows(form: &mut Form<'_, '_>, roof: &mut RoofPlane) {
    let datum = form.scene.job.datum.at;
    for (i, corner) in roof.over.iter_mut().enumerate() {
        let d = *corner - datum;
        let x = form.length(&format!("Corner {} x", i + 1), d.x, REACH);
        let y = form.length(&format!("Corner {} y", i + 1), d.y, REACH);
        *corner = datum + PlanVector::new(x.unwrap_or(d.x), y.unwrap_or(d.y));
    }
}

/// The page of beam `name`.
pub(super) fn beam_page(form: &mut Form<'_, '_>, name: &Name) {
    let Some(beam) = form.scene.job.shell.beams.iter().find(|b| b.name == *name).cloned() else {
        return;
    };
    title(form, name.as_str(), "beam", &ItemRef::Beam(name.clone()));
    name_row(form, name, ItemRef::Beam);
    let mut new = beam.clone();
    let length = (beam.to - beam.from).norm();
    if let Some(longer) = form.length("Length", length, (100.0, 100_000.0)) {
        new.to = beam.from + direction(beam.to - beam.from) * longer;
    }
    if let Some(width) = form.length("Width", beam.width, (10.0, 2000.0)) {
        new.width = width;
    }
    if let Some(soffit) = form.length("Underside", beam.soffit, (0.0, 20_000.0)) {
        new.soffit = soffit;
    }
    if new != beam {
        form.edit(Edit::PutBeam(new));
    }
}

/// The page of a room's name.
pub(super) fn room_page(form: &mut Form<'_, '_>, name: &Name) {
    title(form, name.as_str(), "room", &ItemRef::Room(name.clone()));
    name_row(form, name, ItemRef::Room);
    form.note("Drag the name to where it is written on the plan.");
}
