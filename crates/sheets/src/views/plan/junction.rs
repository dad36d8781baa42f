//! One place where walls meet, in plan and close to: uprights with their marks, boards as they lap, and how thick each wall is.

use std::collections::BTreeMap;

use layout_core::document::Job;
use layout_core::id::ItemRef;
use layout_core::layout::{Layout, WallLayout};
use layout_core::math::{PlanPoint, PlanVector, left_of};
use layout_core::resolve::Meets;
use layout_core::units::degrees;

use super::partition::{self, at};
use super::{Sheet, boards, shell};
use crate::picture::{Align, At, Crowd, Fill, Label, Pen, Picture, Rect, readable};

/// A place where walls meet, or a wall meets what is there.
#[derive(Clone, Debug, PartialEq)]
pub struct Junction {
    /// Where it is on the plan.
    pub at: PlanPoint,
    /// Those of the job's walls that stand there, by their place in the layout.
    pub walls: Vec<usize>,
    /// What meets what: “B butts A”, “C and D mitred at 22.5°”.
    pub what: Vec<String>,
}

/// How far round the place timber counts when two junctions are told apart, mm.
const REACH: f64 = 300.0;

/// Every place where walls meet one another, an existing wall or a post, in the job's order; ends that stand free are none.
fn junctions(job: &Job, layout: &Layout) -> Vec<Junction> {
    let mut places: Vec<Junction> = Vec::new();
    for (i, wall) in layout.walls.iter().enumerate() {
        for (end, of) in wall.spec.ends.iter().enumerate() {
            let Some((what, other)) = meeting(wall, end, &of.meets) else { continue };
            let station = if end == 0 { 0.0 } else { wall.spec.length };
            let at = wall.place.plan(station, 0.0);
            add(&mut places, at, i, what);
            let other = other.and_then(|name| layout.walls.iter().position(|w| w.name() == name));
            if let (Some(other), Some(place)) = (other, find(&mut places, at))
                && !place.walls.contains(&other)
            {
                place.walls.push(other);
            }
        }
        for stop in &wall.spec.breaks {
            if let ItemRef::Post(name) = &stop.with
                && let Some(post) = job.shell.posts.iter().find(|p| p.name == *name)
            {
                add(&mut places, post.at, i, format!("{} stops at post {name}", wall.name()));
            }
        }
    }
    places
}

fn find(places: &mut [Junction], at: PlanPoint) -> Option<&mut Junction> {
    places.iter_mut().find(|p| (p.at - at).norm() < 1.0)
}

fn add(places: &mut Vec<Junction>, at: PlanPoint, wall: usize, what: String) {
    if let Some(place) = find(places, at) {
        if !place.walls.contains(&wall) {
            place.walls.push(wall);
        }
        // A mitre is told by both its walls.
        if !what.is_empty() && !place.what.contains(&what) {
            place.what.push(what);
        }
    } else {
        let what = if what.is_empty() { Vec::new() } else { vec![what] };
        places.push(Junction { at, walls: vec![wall], what });
    }
}

/// What an end does, told once for both walls, and the other wall.
fn meeting<'a>(
    wall: &WallLayout,
    end: usize,
    meets: &'a Meets,
) -> Option<(String, Option<&'a layout_core::id::Name>)> {
    let name = wall.name();
    let spread = wall.spec.ends[end].spread().length();
    let saw = (spread / wall.spec.frame.length().max(1.0)).atan();
    let angle = if spread > 0.5 { format!(", plates cut {}", degrees(saw)) } else { String::new() };
    match meets {
        Meets::Free | Meets::Soffit => None,
        Meets::Existing { side } => Some((format!("{name} to side {}{angle}", side + 1), None)),
        Meets::Post(post) => Some((format!("{name} to post {post}"), None)),
        Meets::Butts(other) => Some((format!("{name} butts {other}{angle}"), Some(other))),
        Meets::Through(other) => Some((String::new(), Some(other))),
        Meets::InLine(other) => {
            let (a, b) = if name < other { (name, other) } else { (other, name) };
            Some((format!("{a} and {b} in line"), Some(other)))
        }
        Meets::Mitres(other) => {
            let (a, b) = if name < other { (name, other) } else { (other, name) };
            Some((format!("{a} and {b} mitred{angle}"), Some(other)))
        }
    }
}

/// What a junction looks like, whatever way it lies: equal for places that are built alike.
fn looks(layout: &Layout, place: &Junction) -> Vec<(i64, i64)> {
    let near = |p: PlanPoint| (p - place.at).norm() < REACH;
    let mut points: Vec<PlanPoint> = Vec::new();
    let mut ways: Vec<PlanVector> = Vec::new();
    for wall in place.walls.iter().filter_map(|i| layout.walls.get(*i)) {
        ways.extend([wall.place.along, -wall.place.along]);
        for member in wall.frame.members.iter().filter(|m| m.role.is_full_height()) {
            let corners = member.solid.ends[0].map(|p| wall.place.plan(p.x, p.y));
            if corners.iter().copied().any(near) {
                points.extend(corners);
            }
        }
        // How thick its boards are, on the side they are.
        let spec = &wall.spec;
        for n in [spec.finished.low, spec.finished.high] {
            let on = wall.place.wall(place.at).0;
            points.push(wall.place.plan(on, n));
        }
    }
    let seen_along = |way: &PlanVector| {
        let up = left_of(*way);
        let mut seen: Vec<(i64, i64)> = points
            .iter()
            .map(|p| {
                let d = p - place.at;
                ((d.dot(way)).round() as i64, (d.dot(&up)).round() as i64)
            })
            .collect();
        seen.sort_unstable();
        seen
    };
    ways.iter().map(seen_along).min().unwrap_or_default()
}

/// Junctions that are built alike, the first of each kind with all of its kind.
pub fn kinds(job: &Job, layout: &Layout) -> Vec<Vec<Junction>> {
    let mut kinds: Vec<Vec<Junction>> = Vec::new();
    let mut known: BTreeMap<Vec<(i64, i64)>, usize> = BTreeMap::new();
    for place in junctions(job, layout) {
        let index = *known.entry(looks(layout, &place)).or_insert_with(|| {
            kinds.push(Vec::new());
            kinds.len() - 1
        });
        kinds[index].push(place);
    }
    kinds
}

/// Draws the surroundings of a junction, for `half` mm of the building to either side and up and down of it. What lies outside is
/// there too: it is cut off on the page.
pub fn junction(
    job: &Job,
    layout: &Layout,
    place: &Junction,
    scale: f64,
    half: [f64; 2],
) -> Picture {
    let mut sheet = Sheet { picture: Picture::default(), crowd: Crowd::default(), scale };
    shell::draw(&mut sheet, job);
    let walls: Vec<&WallLayout> = place.walls.iter().filter_map(|i| layout.walls.get(*i)).collect();
    for wall in &walls {
        partition::draw(&mut sheet, layout, wall);
    }
    for wall in &walls {
        boards::draw(&mut sheet, wall, usize::MAX);
    }
    // Marks stand on the timber; they keep clear of one another only.
    let mut named = Crowd::default();
    for wall in &walls {
        marks(&mut sheet, &mut named, wall, place.at, half);
    }
    for wall in &walls {
        thickness(&mut sheet, wall, place.at, half);
    }
    sheet.picture
}

/// True when a point is well inside what is shown.
fn is_shown(p: PlanPoint, middle: PlanPoint, half: [f64; 2]) -> bool {
    let d = p - middle;
    d.x.abs() < half[0] && d.y.abs() < half[1]
}

/// The mark of every upright, across its grain.
fn marks(
    sheet: &mut Sheet,
    named: &mut Crowd,
    wall: &WallLayout,
    middle: PlanPoint,
    half: [f64; 2],
) {
    let inside = half.map(|h| h - 4.0 * sheet.scale);
    for member in wall.frame.members.iter().filter(|m| m.role.is_full_height()) {
        let corners = member.solid.ends[0].map(|p| wall.place.plan(p.x, p.y));
        let centre = corners.iter().fold(PlanVector::zeros(), |sum, p| sum + p.coords) / 4.0;
        let centre = PlanPoint::from(centre);
        if !is_shown(centre, middle, inside) {
            continue;
        }
        let of = ItemRef::Member { wall: wall.name().clone(), mark: member.mark };
        let text = member.full_mark(wall.name());
        let at = At::model(centre.x, centre.y);
        let label = Label::new(at, text).small().of(&of);
        let aside = [0.0, 2.8, -2.8, 4.2, -4.2, 5.6, -5.6];
        let ways = aside.into_iter().flat_map(|by| [(0.0, by), (by, 0.0)]);
        let mut choices = ways.map(|(dx, dy)| label.clone().at(at.shifted(dx, dy)));
        let is_free = |l: &Label| named.overlap(l.bounds(sheet.scale).grown(0.7)) == 0.0;
        let Some(label) = choices.find(is_free) else { continue };
        named.take(label.bounds(sheet.scale));
        sheet.picture.area(label.backing(), Pen::None, Fill::Paper, Some(&of));
        sheet.crowd.write(&mut sheet.picture, sheet.scale, label);
    }
}

/// Across a wall, as far from the junction as there is room: the frame and the finished thickness.
fn thickness(sheet: &mut Sheet, wall: &WallLayout, middle: PlanPoint, half: [f64; 2]) {
    let spec = &wall.spec;
    let on = wall.place.wall(middle).0;
    let along = spec.along().grown(-20.0);
    let is_clear = |s: &f64| {
        let is_hole = spec.holes.iter().any(|h| h.span.grown(30.0).contains(*s));
        let stands = wall
            .frame
            .members
            .iter()
            .any(|m| m.role.is_full_height() && m.solid.stations().grown(12.0).contains(*s));
        along.contains(*s) && !is_hole && !stands
    };
    // Towards either end, nearer and nearer until there is room for figures.
    let steps = (1..=40).rev().map(|i| f64::from(i) * 15.0);
    let places = steps.flat_map(|d| [on + d, on - d]).filter(is_clear);
    let shown = Rect::about(
        middle.x / sheet.scale,
        middle.y / sheet.scale,
        2.0 * half[0] / sheet.scale - 2.0,
        2.0 * half[1] / sheet.scale - 2.0,
    );
    let fits = |(_, label): &(f64, Label)| {
        let bounds = label.bounds(sheet.scale);
        shown.covers(bounds) && sheet.crowd.overlap(bounds.grown(0.3)) == 0.0
    };
    let choices = places.flat_map(|s| [true, false].map(|left| (s, figures(wall, s, left))));
    let found = choices.into_iter().find(fits);
    let Some((station, label)) = found else { return };
    let of = ItemRef::Wall(wall.name().clone());
    let (low, high) = (spec.finished.low, spec.finished.high);
    let u = wall.place.along;
    let ends = [(low, -3.0), (high, 3.0)].map(|(n, off)| {
        let l = left_of(u) * off;
        at(wall, station, n).shifted(l.x, l.y)
    });
    sheet.picture.line(ends, Pen::Dimension, Some(&of));
    for n in [low, spec.frame.low, spec.frame.high, high] {
        let on = at(wall, station, n);
        let slash = (u + left_of(u)) * 0.8;
        let tick = [on.shifted(-slash.x, -slash.y), on.shifted(slash.x, slash.y)];
        sheet.picture.line(tick, Pen::Dimension, Some(&of));
    }
    sheet.crowd.write(&mut sheet.picture, sheet.scale, label);
}

/// The figures beside one face, going on from the line across the wall.
fn figures(wall: &WallLayout, station: f64, left: bool) -> Label {
    let (spec, units) = (&wall.spec, wall.spec.units);
    let whole = units.fine(spec.finished.length());
    let text = format!("{whole} · frame {}", units.fine(spec.frame.length()));
    let (n, out) = if left { (spec.finished.high, 4.0) } else { (spec.finished.low, -4.0) };
    let way = left_of(wall.place.along) * out;
    let turn = readable(way.y.atan2(way.x));
    let (sin, cos) = turn.sin_cos();
    // Read away from the wall, or towards it.
    let align = if way.x * cos + way.y * sin > 0.0 { Align::Left } else { Align::Right };
    let of = ItemRef::Wall(wall.name().clone());
    let foot = at(wall, station, n).shifted(way.x, way.y);
    Label::new(foot, text).small().turned(turn).align(align).pen(Pen::Dimension).of(&of)
}
