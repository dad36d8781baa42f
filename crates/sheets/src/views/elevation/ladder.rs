//! The heights beside an elevation: floor, rows, heads, plates, ceiling, each above FFL.

use layout_core::frame::RowFor;
use layout_core::id::ItemRef;
use layout_core::layout::Layout;
use layout_core::math::same;

use super::{Sheet, platforms};
use crate::picture::{Align, At, Label, Pen, spread};

/// One height.
pub(super) struct Rung {
    height: f64,
    names: Vec<String>,
    of: Option<ItemRef>,
}

/// Adds a height, or another name to one that is there.
pub(super) fn add(rungs: &mut Vec<Rung>, height: f64, name: String, of: Option<ItemRef>) {
    match rungs.iter_mut().find(|r| same(r.height, height)) {
        Some(rung) if rung.names.contains(&name) => {}
        Some(rung) => rung.names.push(name),
        None => rungs.push(Rung { height, names: vec![name], of }),
    }
}

/// What a row is called on the ladder, shortly.
fn row_words(why: RowFor) -> &'static str {
    match why {
        RowFor::Joints | RowFor::Boards => "noggins, board joint",
        RowFor::Tiles => "noggins, tiles",
        RowFor::Asked | RowFor::MidHeight | RowFor::Spacing => "noggins",
    }
}

pub(super) fn draw(sheet: &mut Sheet, layout: &Layout) {
    let mut rungs: Vec<Rung> = Vec::new();
    let mut add =
        |height: f64, name: String, of: Option<ItemRef>| add(&mut rungs, height, name, of);
    let job = sheet.job;
    let wall = sheet.wall;
    add(0.0, "FFL".into(), Some(ItemRef::Job));
    if job.levels.slab() < 0.0 {
        add(job.levels.slab(), "slab".into(), Some(ItemRef::Job));
    }
    let right = sheet.along_right();
    if sheet.shows_ceiling() {
        add(wall.spec.ceiling.at(right), "ceiling".into(), Some(ItemRef::Job));
    }
    add(job.levels.laser, "laser".into(), Some(ItemRef::Job));
    for (height, name, of) in platforms::levels(sheet, layout) {
        add(height, name, Some(of));
    }
    if sheet.options.dimensions {
        for (row, laid) in wall.frame.rows.iter().enumerate() {
            add(
                laid.height,
                row_words(laid.why).into(),
                Some(ItemRef::NogginRow { wall: wall.name().clone(), row }),
            );
        }
        for hole in &wall.spec.holes {
            let of = ItemRef::Opening(hole.name.clone());
            if let Some(sill) = hole.sill {
                add(sill, format!("{} sill", hole.name), Some(of.clone()));
            }
            add(hole.top, format!("{} head", hole.name), Some(of));
        }
        let studs = || wall.frame.members.iter().filter(|m| m.role.is_full_height());
        let ends = |pick: fn(&layout_core::span::Span) -> f64| {
            let mut heights = studs().map(|m| pick(&m.solid.heights()));
            let first = heights.next()?;
            heights.all(|h| same(h, first)).then_some(first)
        };
        let (top, under) = (wall.spec.head.at(right), wall.spec.ceiling.at(right));
        // A head a fit below the ceiling would only be lettered over it.
        if under - top > 10.0 {
            add(top, "frame top".into(), None);
        }
        if let Some(low) = ends(|h| h.low) {
            add(low, "stud foot".into(), None);
        }
        if let Some(high) = ends(|h| h.high) {
            add(high, "stud top".into(), None);
        }
    }
    put(sheet, rungs);
}

/// Draws heights beside the right end of the wall as it is seen.
pub(super) fn put(sheet: &mut Sheet, mut rungs: Vec<Rung>) {
    rungs.sort_by(|a, b| a.height.total_cmp(&b.height));
    let x = sheet.seen().high;
    let on: Vec<f64> = rungs.iter().map(|r| r.height / sheet.scale).collect();
    let to = spread(&on, &vec![3.5; on.len()], 0.9);
    let rail = if sheet.options.dimensions { 6.5 } else { super::RUN_ON };
    if let (Some(first), Some(last), true) = (rungs.first(), rungs.last(), sheet.options.dimensions)
    {
        let line = [
            At::model(x, first.height).shifted(rail, 0.0),
            At::model(x, last.height).shifted(rail, 0.0),
        ];
        sheet.picture.line(line, Pen::Dimension, None);
    }
    for (rung, (on, to)) in rungs.into_iter().zip(on.iter().zip(&to)) {
        let at = At::model(x, rung.height);
        let dy = to - on;
        let leader =
            [at.shifted(rail - 1.0, 0.0), at.shifted(rail + 1.0, 0.0), at.shifted(rail + 3.0, dy)];
        sheet.picture.line(leader, Pen::Dimension, rung.of.as_ref());
        let mut figure = Label::new(at.shifted(rail + 3.8, dy), sheet.job.units.show(rung.height))
            .align(Align::Left)
            .pen(Pen::Dimension);
        let mut name =
            Label::new(at, short(&rung.names)).small().align(Align::Left).pen(Pen::Quiet);
        if let Some(of) = &rung.of {
            figure = figure.of(of);
            name = name.of(of);
        }
        let name = name.at(at.shifted(rail + 3.8 + figure.width() + 1.2, dy));
        sheet.write(figure);
        sheet.write(name);
    }
}

/// Several names of one height in one short line.
fn short(names: &[String]) -> String {
    match names {
        [] => String::new(),
        [one] => one.clone(),
        [one, two] => format!("{one} · {two}"),
        [one, rest @ ..] => format!("{one} + {}", rest.len()),
    }
}
