//! The first fix of one wall: its elevation with boxes, cables, pipes and zones, and what is to be done bay by bay.

use layout_core::document::{Face, Job};
use layout_core::first_fix::{BayList, Bore, Way, by_bay};
use layout_core::id::{ItemRef, Mark};
use layout_core::layout::{Layout, WallLayout};
use layout_core::math::same;
use layout_core::resolve::Spot;

use super::drawing::{Drawing, Drawn};
use super::flow::{Block, Cell, Row, table};
use super::lists::{column, ranges};
use super::{Ink, PrintOptions, Sheet, Type, cautions, file_name};
use crate::picture::{Align, Fill, Pen, Rect};
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
    options: &PrintOptions,
) -> (Sheet, Vec<Block>) {
    let name = format!("first-fix-{}", file_name(wall.name().as_str()));
    let title = format!("First fix of wall {}", wall.name());
    let drawn = Drawn::new(name, title, &cautions::of_first_fix(), LISTS, options.paper);
    let blocks: Vec<Block> = [bays(job, wall), bores(wall)].into_iter().flatten().collect();
    let face = options.face;
    let drawings = drawn.at_or_fitting(options.scale, f64::INFINITY, |scale| {
        let options = ElevationOptions { scale, face, dimensions: true, boards: None, zones: true };
        Drawing::side_by_side(scale, vec![elevation(job, layout, wall, &options)], 0.0)
    });
    let (near, far) = match face {
        Face::Right => ("right", "left"),
        Face::Left => ("left", "right"),
    };
    let about = format!(
        "seen on its {near} face, what is on its {far} face dashed; zones of cables hatched"
    );
    let (sheet, mut rest) = drawn.finish(&drawings, blocks, &about, "“First fix”");
    rest.extend(photographs(wall));
    (sheet, rest)
}

/// Width and height of the place for a photograph, mm.
const PHOTO: (f64, f64) = (43.0, 32.0);

/// A place for a photograph of every bay that has something in it, taken with a tape in view before it is boarded.
fn photographs(wall: &WallLayout) -> Option<Block> {
    let bays = by_bay(&wall.spec, &wall.frame, &wall.runs);
    let start = wall.spec.along().low;
    let units = wall.spec.units;
    let (wide, high) = PHOTO;
    let rows: Vec<Row> = bays
        .chunks(2)
        .map(|pair| {
            let mut ink = Ink::default();
            for (i, bay) in pair.iter().enumerate() {
                let x = i as f64 * (LISTS - wide);
                ink.rect(Rect::new(x, 0.8, wide, high), Pen::Thin, Fill::None);
                ink.rect(Rect::new(x, high + 2.3, 2.8, 2.8), Pen::Outline, Fill::None);
                let base = high + 4.9;
                let name = between(bay);
                ink.text(x + 4.4, base, name.as_str(), Type::STRONG, Align::Left);
                let after = x + 6.0 + Type::STRONG.width(&name);
                let text = format!("from {}", units.show(bay.clear.low - start));
                let text = Type::QUIET.fit(&text, x + wide - after);
                ink.text(after, base, text, Type::QUIET, Align::Left);
            }
            Row { height: high + 7.4, ink }
        })
        .collect();
    let title = format!("{} photographs, a tape in view", wall.name());
    let head = vec![Row::heading(&title, LISTS)];
    (!rows.is_empty()).then_some(Block { head, rows, whole: false })
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
