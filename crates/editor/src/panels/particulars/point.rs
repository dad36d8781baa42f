//! First-fix points and routes: what they are, where they are, what they hang on and what they run through.

use layout_core::document::{
    Edit, Face, Feed, FeedFrom, Hung, MeasuredFrom, Point, PointKind, Route, Service, WallEnd,
};
use layout_core::first_fix::{Bore, held};
use layout_core::id::{ItemRef, Name};
use layout_core::layout::WallLayout;
use layout_core::math::round_to;
use layout_core::resolve::station_on;

use super::form::{Form, small_choice};
use super::{name_row, title};
use crate::canvas::{behind, in_a_row};
use crate::command::Command;

/// Heights of points, routes and fittings above FFL, mm.
pub(super) const HEIGHTS: (f64, f64) = (-500.0, 10_000.0);
/// Widths of holes, mm.
const HOLES: (f64, f64) = (5.0, 300.0);

/// The page of point `name`.
pub(super) fn point_page(form: &mut Form<'_, '_>, name: &Name) {
    let Some((wall, point)) = form.scene.job.point(name) else { return };
    let (wall, point) = (wall.name.clone(), point.clone());
    let item = ItemRef::Point(name.clone());
    title(form, &format!("Point {name}"), &format!("on wall {wall}"), &item);
    name_row(form, name, ItemRef::Point);
    let mut new = point.clone();
    if let Some(kind) = point_kind_row(form, &point.kind) {
        new.kind = kind;
    }
    place_rows(form, &wall, &item, (&mut new.face, &mut new.from, &mut new.distance));
    if let Some(height) = form.length("Centre above floor", point.height, HEIGHTS) {
        new.height = height;
    }
    size_rows(form, &mut new);
    hung_rows(form, &wall, &mut new);
    feed_rows(form, &mut new);
    if new != point {
        form.edit(Edit::PutPoint { wall: wall.clone(), point: new });
    }
    route_rows(form, &wall, &point);
    line_up_rows(form, &wall, &point);
    copy_rows(form, &item, 600.0);
}

fn size_rows(form: &mut Form<'_, '_>, point: &mut Point) {
    if let Some(width) = form.length("Box width", point.size.0, (10.0, 1000.0)) {
        point.size.0 = width;
    }
    if let Some(height) = form.length("Box height", point.size.1, (10.0, 1000.0)) {
        point.size.1 = height;
    }
    if let Some(depth) = form.length("Goes in", point.depth, (1.0, 500.0)) {
        point.depth = depth;
    }
}

/// What a box hangs on, and what becomes of a stud behind it.
fn hung_rows(form: &mut Form<'_, '_>, wall: &Name, point: &mut Point) {
    if point.kind.is_box() {
        let ways = [(Hung::Timber, "stud or noggin"), (Hung::Board, "the board alone")];
        if let Some(hung) = small_choice(form, "Hangs on", &point.hung, &ways) {
            point.hung = hung;
        }
        let laid = form.scene.layout.wall(wall);
        let of = ItemRef::Point(point.name.clone());
        let by = laid.and_then(|w| held(&w.spec, &w.frame).into_iter().find(|h| h.of == of));
        if let Some(by) = by {
            let words = by.by.map_or("nothing yet".to_owned(), |mark| format!("{wall}-{mark}"));
            form.shown("Screwed to", words);
        }
    }
    if let Some(headed) = form.tick("Cut studs out behind it", point.headed) {
        point.headed = headed;
    }
}

fn feed_rows(form: &mut Form<'_, '_>, point: &mut Point) {
    let now = point.feed.map(|f| f.from);
    let ways = [
        (None, "not said"),
        (Some(FeedFrom::Above), "down from above"),
        (Some(FeedFrom::Below), "up from below"),
    ];
    if let Some(from) = small_choice(form, "Fed", &now, &ways) {
        let hole = point.feed.map_or(point.kind.usual_hole(), |f| f.hole);
        point.feed = from.map(|from| Feed { from, hole });
    }
    if let Some(feed) = &mut point.feed
        && let Some(hole) = form.length("Hole", feed.hole, HOLES)
    {
        feed.hole = hole;
    }
}

/// The routes that run past a point, and one to start.
fn route_rows(form: &mut Form<'_, '_>, wall: &Name, point: &Point) {
    let Some(drawn) = form.scene.job.wall(wall).cloned() else { return };
    form.heading("Routes");
    for route in &drawn.routes {
        let mut past = route.points.contains(&point.name);
        let label = format!("{} {} at {}", route.service.label(), route.name, {
            form.scene.job.units.show(route.height)
        });
        let was = past;
        form.ui.horizontal(|ui| {
            ui.checkbox(&mut past, egui::RichText::new(&label).size(13.0));
        });
        if past != was {
            let mut route = route.clone();
            route.points.retain(|p| *p != point.name);
            if past {
                route.points.push(point.name.clone());
            }
            form.edit(Edit::PutRoute { wall: wall.clone(), route });
        }
    }
    if form.button("Start a route here") {
        let service = match point.kind {
            PointKind::Pipe | PointKind::Valve => Service::Pipe,
            PointKind::Waste => Service::Waste,
            _ => Service::Cable,
        };
        let route = Route {
            name: form.scene.job.free_route_name(),
            service,
            height: point.height,
            hole: point.kind.usual_hole(),
            points: vec![point.name.clone()],
            past: (false, true),
            notched: None,
        };
        let made = ItemRef::Route(route.name.clone());
        form.edit(Edit::PutRoute { wall: wall.clone(), route });
        form.out.push(Command::Pick(Some(made)));
    }
}

/// Puts a point level with another of its wall, or plumb with it.
fn line_up_rows(form: &mut Form<'_, '_>, wall: &Name, point: &Point) {
    let Some(drawn) = form.scene.job.wall(wall).cloned() else { return };
    let others = || drawn.points.iter().filter(|p| p.name != point.name);
    if others().next().is_none() {
        return;
    }
    form.heading("Line up");
    let mut options: Vec<(Option<Name>, String)> = vec![(None, "choose".into())];
    options
        .extend(others().map(|p| (Some(p.name.clone()), format!("{} {}", p.kind.label(), p.name))));
    let level = form.choice("Level with", &None, &options).flatten();
    if let Some((_, other)) = level.and_then(|name| form.scene.job.point(&name)) {
        let point = Point { height: other.height, ..point.clone() };
        form.edit(Edit::PutPoint { wall: wall.clone(), point });
    }
    let plumb = form.choice("Plumb with", &None, &options).flatten();
    if let (Some(name), Some(laid)) = (plumb, form.scene.layout.wall(wall))
        && let Some(spot) = laid.spec.spot(&ItemRef::Point(name))
    {
        let zero = station_on(&laid.spec, &drawn, point.face, &point.from, 0.0);
        let distance = round_to((spot.span.centre() - zero) * point.from.way(), 0.01);
        form.edit(Edit::PutPoint {
            wall: wall.clone(),
            point: Point { distance, ..point.clone() },
        });
    }
}

/// Copies: the other face, and a row of them.
pub(super) fn copy_rows(form: &mut Form<'_, '_>, item: &ItemRef, usual: f64) {
    form.heading("Copies");
    if form.button("Copy to the other face") {
        let copies = behind(form.scene, item);
        form.out.extend(copies);
    }
    let id = form.ui.scope_id().with(("row of copies", item));
    let (mut more, mut step) =
        form.ui.data(|d| d.get_temp::<(f64, f64)>(id)).unwrap_or((2.0, usual));
    if let Some(count) = form.number("More of them", "", more, (1.0, 20.0)) {
        more = count.round();
    }
    if let Some(apart) = form.length("Apart", step, (-10_000.0, 10_000.0)) {
        step = apart;
    }
    form.ui.data_mut(|d| d.insert_temp(id, (more, step)));
    if form.button("Put them in a row") {
        let job = form.scene.session.history.job();
        if let Some(edit) = in_a_row(job, item, more as usize, step) {
            form.edit(edit);
        }
    }
}

/// The kinds of point there are.
const KINDS: [PointKind; 11] = [
    PointKind::Switch,
    PointKind::Socket,
    PointKind::Spur,
    PointKind::Light,
    PointKind::Data,
    PointKind::Thermostat,
    PointKind::Fan,
    PointKind::Duct,
    PointKind::Pipe,
    PointKind::Waste,
    PointKind::Valve,
];

pub(super) fn point_kind_row(form: &mut Form<'_, '_>, now: &PointKind) -> Option<PointKind> {
    let own = matches!(now, PointKind::Other(_));
    let mut options: Vec<_> = KINDS.map(|k| (k.clone(), k.label().to_owned())).into();
    let other = if own { now.clone() } else { PointKind::Other("box".into()) };
    options.push((other, "my own".to_owned()));
    let chosen = form.choice("Kind", now, &options);
    if let PointKind::Other(name) = now {
        let fine = |text: &str| {
            if text.trim().is_empty() { Err("Give it a name.".to_owned()) } else { Ok(()) }
        };
        if let Some(name) = form.text("What it is", name, fine) {
            return Some(PointKind::Other(name));
        }
    }
    chosen
}

/// Face, datum and distance of something on a wall. Measured from something else it stays where it is.
pub(super) fn place_rows(
    form: &mut Form<'_, '_>,
    wall: &Name,
    item: &ItemRef,
    (face, from, distance): (&mut Face, &mut MeasuredFrom, &mut f64),
) {
    let faces = [(Face::Left, "left"), (Face::Right, "right")];
    if let Some(new) = small_choice(form, "Face", face, &faces) {
        *face = new;
    }
    let (Some(drawn), Some(laid)) = (form.scene.job.wall(wall), form.scene.layout.wall(wall))
    else {
        return;
    };
    let mut options: Vec<MeasuredFrom> = vec![
        MeasuredFrom::Start,
        MeasuredFrom::End,
        MeasuredFrom::Corner(WallEnd::Start),
        MeasuredFrom::Corner(WallEnd::End),
    ];
    for opening in &drawn.openings {
        let name = &opening.name;
        options
            .extend([WallEnd::Start, WallEnd::End].map(|e| MeasuredFrom::Opening(name.clone(), e)));
    }
    let hangs_on_it = |p: &Point| {
        let mut p = p;
        for _ in 0..drawn.points.len() {
            if ItemRef::Point(p.name.clone()) == *item {
                return true;
            }
            let MeasuredFrom::Point(name) = &p.from else { return false };
            let Some(next) = drawn.points.iter().find(|p| p.name == *name) else { return false };
            p = next;
        }
        true
    };
    let others = drawn.points.iter().filter(|p| !hangs_on_it(p));
    options.extend(others.map(|p| MeasuredFrom::Point(p.name.clone())));
    let options: Vec<(MeasuredFrom, String)> =
        options.into_iter().map(|o| (o.clone(), o.label())).collect();
    let station = station_on(&laid.spec, drawn, *face, from, *distance);
    if let Some(new) = form.choice("Held from", from, &options) {
        let zero = station_on(&laid.spec, drawn, *face, &new, 0.0);
        *distance = round_to((station - zero) * new.way(), 0.01);
        *from = new;
    }
    let most = laid.spec.length.max(distance.abs()).max(1.0);
    let least = if matches!(from, MeasuredFrom::Point(_)) { -most } else { distance.min(0.0) };
    if let Some(new) = form.length("Distance", *distance, (least, most)) {
        *distance = new;
    }
}

/// The page of route `name`.
pub(super) fn route_page(form: &mut Form<'_, '_>, name: &Name) {
    let Some((wall, route)) = form.scene.job.route(name) else { return };
    let (wall, route) = (wall.clone(), route.clone());
    let item = ItemRef::Route(name.clone());
    title(form, &format!("Route {name}"), &format!("through wall {}", wall.name), &item);
    name_row(form, name, ItemRef::Route);
    let mut new = route.clone();
    let services = [Service::Cable, Service::Pipe, Service::Waste].map(|s| (s, s.label()));
    if let Some(service) = small_choice(form, "What runs in it", &route.service, &services) {
        new.service = service;
    }
    if let Some(height) = form.length("Middle above floor", route.height, HEIGHTS) {
        new.height = height;
    }
    let ways = [
        (None, "holes in the middle"),
        (Some(Face::Left), "notches, left face"),
        (Some(Face::Right), "notches, right face"),
    ];
    if let Some(notched) = small_choice(form, "Through studs", &route.notched, &ways) {
        new.notched = notched;
    }
    let label = if new.notched.is_some() { "Notches deep" } else { "Holes wide" };
    if let Some(hole) = form.length(label, route.hole, HOLES) {
        new.hole = hole;
    }
    form.heading("Runs past");
    if let Some(past) = form.tick("the start of the wall", route.past.0) {
        new.past.0 = past;
    }
    for point in &wall.points {
        let there = route.points.contains(&point.name);
        let label = format!("{} {}", point.kind.label(), point.name);
        if let Some(there) = form.tick(&label, there) {
            new.points.retain(|p| *p != point.name);
            if there {
                new.points.push(point.name.clone());
            }
        }
    }
    if let Some(past) = form.tick("the end of the wall", route.past.1) {
        new.past.1 = past;
    }
    if new != route {
        form.edit(Edit::PutRoute { wall: wall.name.clone(), route: new });
    }
    if let Some(laid) = form.scene.layout.wall(&wall.name) {
        bores(form, laid, &item);
    }
}

/// What a route takes out of the timber it passes.
fn bores(form: &mut Form<'_, '_>, laid: &WallLayout, item: &ItemRef) {
    let list: Vec<&Bore> = laid.runs.bores.iter().filter(|b| b.of == *item).collect();
    let notched = list.iter().any(|b| b.notch);
    form.heading(if notched { "Notches" } else { "Holes" });
    if list.is_empty() {
        form.note("None: it meets no timber.");
        return;
    }
    let units = form.scene.job.units;
    for bore in list {
        let rules = &laid.spec.rules;
        let most = if bore.notch {
            rules.deepest_notch(bore.depth)
        } else {
            rules.largest_hole(bore.depth)
        };
        let words = format!(
            "{} at {} up, {} at most",
            units.show(bore.size),
            units.show(bore.height),
            units.show(most)
        );
        form.shown(&format!("{}-{}", laid.name(), bore.member), words);
    }
}
