//! The first fix of one wall: its elevation with boxes, cables, pipes and zones, and what is to be done bay by bay.

use layout_core::document::{Face, Job};
use layout_core::first_fix::{BayList, Bore, Way, by_bay};
use layout_core::id::{ItemRef, Mark};
use layout_core::layout::{Layout, WallLayout};
use layout_core::math::same;
use layout_core::resolve::Spot;

use super::flow::{Block, Cell, arrange, columns, rest, table};
use super::lists::{column, ranges};
use super::{CAPTION, GAP, Paper, SCALES, Sheet, caption, cautions, file_name};
use crate::picture::{Align, Picture, Rect};
use crate::views::{ElevationOptions, elevation};

/// Width of its lists, mm.
pub(super) const LISTS: f64 = 92.0;

/// True when a wall has a first fix.
pub(super) fn has_some(wall: &WallLayout) -> bool {
    wall.spec.spots.iter().any(|s| s.sunk) || !wall.runs.runs.is_empty()
}

/// The sheet, and the lists that found no room on it.
pub(super) fn sheet(
    job: &Job,
    layout: &Layout,
    wall: &WallLayout,
    paper: Paper,
) -> (Sheet, Vec<Block>) {
    let name = format!("first-fix-{}", file_name(wall.name().as_str()));
    let title = format!("First fix of wall {}", wall.name());
    let whole = paper.area();
    let mut sheet = Sheet::new(name, title.as_str());
    let over = cautions::foot(&mut sheet, whole, &cautions::of_first_fix());
    let area = Rect { min: [whole.min[0], whole.min[1] + CAPTION], max: [whole.max[0], over] };
    let blocks: Vec<Block> = [bays(job, wall), bores(wall)].into_iter().flatten().collect();
    let places = places(area, &blocks, |room| draw(job, layout, wall, room));
    let lists = match places {
        Some(Placed { drawing: (picture, scale, bounds), room, lists }) => {
            let slack = |free: f64| (free / 2.0).max(0.0);
            let left = room.min[0] + slack(room.width() - bounds.width());
            let bottom = room.max[1] - slack(room.height() - bounds.height());
            sheet.draw(&picture, scale, bounds, [left, bottom]);
            lists
        }
        None => columns(area, 1, LISTS, GAP),
    };
    let set = arrange(&blocks, &lists);
    sheet.lists(&set);
    let left = set.rest;
    let more = if left.is_some() { " · lists go on after the walls" } else { "" };
    let about = format!(
        "seen on its right face, what is on its left face dashed; zones of cables hatched{more}"
    );
    caption(&mut sheet.ink, whole, &title, &about);
    (sheet, left.map_or(Vec::new(), |left| rest(blocks, left)))
}

/// A drawing, its scale and what it covers on paper.
type Drawing = (Picture, f64, Rect);

/// A drawing, where it goes, and the columns left for lists.
struct Placed {
    drawing: Drawing,
    room: Rect,
    lists: Vec<Rect>,
}

/// The largest drawing of a wall that fits.
fn draw(job: &Job, layout: &Layout, wall: &WallLayout, room: Rect) -> Option<Drawing> {
    SCALES.into_iter().find_map(|scale| {
        let face = Face::Right;
        let options = ElevationOptions { scale, face, dimensions: true, boards: None, zones: true };
        let picture = elevation(job, layout, wall, &options);
        let bounds = picture.bounds(scale)?;
        let fits = bounds.width() <= room.width() && bounds.height() <= room.height();
        fits.then_some((picture, scale, bounds))
    })
}

/// The drawing beside the lists, or over them where it comes out larger there and they still fit.
fn places(area: Rect, blocks: &[Block], draw: impl Fn(Rect) -> Option<Drawing>) -> Option<Placed> {
    let left = Rect { max: [area.max[0] - LISTS - GAP, area.max[1]], ..area };
    let right = Rect { min: [area.max[0] - LISTS, area.min[1]], ..area };
    let beside = draw(left).map(|drawing| Placed {
        drawing,
        room: left,
        lists: columns(right, 1, LISTS, GAP),
    });
    let count = ((area.width() + GAP) / (LISTS + GAP)) as usize;
    let over = [0.75, 0.65, 0.55].into_iter().find_map(|share| {
        let room = Rect { max: [area.max[0], area.min[1] + area.height() * share], ..area };
        let under = Rect { min: [area.min[0], room.max[1] + GAP], ..area };
        let lists = columns(under, count.max(1), LISTS, GAP);
        let drawing = draw(room)?;
        arrange(blocks, &lists).rest.is_none().then_some(Placed { drawing, room, lists })
    });
    match (beside, over) {
        (Some(beside), Some(over)) if over.drawing.1 >= beside.drawing.1 => Some(beside),
        (beside, over) => over.or(beside),
    }
}

/// Bay by bay, its boxes, pipes and ducts: how high, how far from the stud before them, on what.
fn bays(job: &Job, wall: &WallLayout) -> Option<Block> {
    let units = wall.spec.units;
    let drawn = job.wall(wall.name())?;
    let columns = [
        column("", 3.0, Align::Left),
        column("bay", 14.6, Align::Left),
        column("what", 26.0, Align::Left),
        column("face", 8.0, Align::Left),
        column("up", 10.5, Align::Right),
        column("along", 11.0, Align::Right),
        column("on", 9.0, Align::Left),
    ];
    let mut rows = Vec::new();
    for bay in by_bay(&wall.spec, &wall.frame, &wall.runs) {
        for of in &bay.points {
            let (Some(spot), ItemRef::Point(name)) = (wall.spec.spot(of), of) else { continue };
            let kind = drawn.points.iter().find(|p| p.name == *name).map(|p| p.kind.label());
            let along = spot.span.centre() - bay.clear.low;
            rows.push(vec![
                Cell::Tick,
                Cell::Text(between(&bay)),
                Cell::Strong(format!("{name} {}", kind.unwrap_or_default())),
                Cell::Text(if spot.face == Face::Right { "right" } else { "left" }.into()),
                Cell::Text(units.show(spot.heights.centre())),
                Cell::Text(units.show(along)),
                Cell::Text(hung(&bay, of)),
            ]);
        }
    }
    noted(
        table(&format!("{} boxes, pipes and ducts", wall.name()), &columns, rows),
        "to centres: up from FFL, along from the first stud",
    )
}

fn between(bay: &BayList) -> String {
    format!("{}–{}", bay.between[0], bay.between[1])
}

fn hung(bay: &BayList, of: &ItemRef) -> String {
    match bay.held.iter().find(|h| h.of == *of).map(|h| h.by) {
        Some(Some(mark)) => mark.to_string(),
        Some(None) => "?".into(),
        None => "–".into(),
    }
}

/// What is drilled and notched: pieces that are treated alike in one row.
fn bores(wall: &WallLayout) -> Option<Block> {
    let units = wall.spec.units;
    let columns = [
        column("", 3.0, Align::Left),
        column("pieces", 24.0, Align::Left),
        column("", 9.0, Align::Left),
        column("wide", 9.0, Align::Right),
        column("up", 19.0, Align::Right),
        column("for", 19.0, Align::Left),
    ];
    let mut rows: Vec<(&Bore, Vec<Mark>)> = Vec::new();
    for bore in &wall.runs.bores {
        let alike = |(other, _): &&mut (&Bore, Vec<Mark>)| {
            other.of == bore.of
                && other.way == bore.way
                && other.notch == bore.notch
                && same(other.size, bore.size)
                && (bore.way == Way::Upright || same(other.height, bore.height))
                && other.role.kind() == bore.role.kind()
                && (bore.way == Way::Level || same(other.station, bore.station))
        };
        match rows.iter_mut().find(alike) {
            Some((_, marks)) => marks.push(bore.member),
            None => rows.push((bore, vec![bore.member])),
        }
    }
    let start = wall.spec.along().low;
    let rows: Vec<Vec<Cell>> = rows
        .into_iter()
        .map(|(bore, mut marks)| {
            marks.sort_unstable();
            let place = match bore.way {
                Way::Level => units.show(bore.height),
                Way::Upright => format!("{} along", units.show(bore.station - start)),
            };
            vec![
                Cell::Tick,
                Cell::Strong(ranges(&marks)),
                Cell::Text(if bore.notch { "notch" } else { "hole" }.into()),
                Cell::Text(units.show(bore.size)),
                Cell::Text(place),
                Cell::Text(called(wall, &bore.of)),
            ]
        })
        .collect();
    noted(
        table(&format!("{} to drill", wall.name()), &columns, rows),
        "in the middle of the depth; along from the frame's start",
    )
}

/// A list that has rows, with a note under it.
fn noted(mut block: Block, note: &str) -> Option<Block> {
    if block.rows.is_empty() {
        return None;
    }
    block.note(note, LISTS);
    Some(block)
}

fn called(wall: &WallLayout, of: &ItemRef) -> String {
    match of {
        ItemRef::Route(name) => format!("route {name}"),
        of => wall.spec.spot(of).map_or_else(|| of.label(), Spot::called),
    }
}
