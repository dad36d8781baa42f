//! The floor as it is set out: one line for each frame, crossed on the side the timber goes, its figures off the datum along
//! two axes, and the fixed points tapes are held at.

use std::f64::consts::FRAC_PI_2;

use layout_core::document::{Face, Job};
use layout_core::id::ItemRef;
use layout_core::layout::{Layout, WallLayout};
use layout_core::setout::floor::{FloorLine, FloorPlan, Ordinate};

use super::partition::{at, solids};
use super::{Sheet, datum, partition, running, shell};
use crate::picture::{Align, At, Crowd, Fill, Label, Lettering, Pen, Picture, Rect, Shape, spread};

/// From one cross to the next along a line, mm of paper.
const CROSSES: f64 = 9.0;
/// A cross is no larger than this, mm of paper.
const CROSS: f64 = 2.4;
/// How far the figures of an axis stand off what is drawn, mm of paper.
const OFF: f64 = 7.0;
/// Least radius of the ring round the number of a fixed point, mm of paper.
const RING: f64 = 2.6;

/// What may be in the way of the number of a fixed point in the room before it stands outside, mm².
const OUTSIDE: f64 = 12.0;

/// Draws the setting out of `floor` for `scale` millimetres of model to one of paper.
pub fn floor(job: &Job, layout: &Layout, floor: &FloorPlan, scale: f64) -> Picture {
    let mut sheet = Sheet { picture: Picture::default(), crowd: Crowd::default(), scale };
    shell::draw(&mut sheet, job);
    for (wall, line) in layout.walls.iter().zip(&floor.lines) {
        snapped(&mut sheet, wall, line);
    }
    let drawn = sheet.picture.extent();
    axes(&mut sheet, job, floor, drawn);
    datum(&mut sheet, job);
    for wall in &layout.walls {
        partition::mark(&mut sheet, wall);
    }
    fixed(&mut sheet, floor);
    for wall in layout.walls.iter().filter(|w| needs_own_figures(w)) {
        running::draw(&mut sheet, wall);
    }
    sheet.picture
}

/// The figures of a wall without openings that lies along an axis are on the axes already.
fn needs_own_figures(wall: &WallLayout) -> bool {
    let along = wall.place.along;
    let is_aslant = along.x.abs().min(along.y.abs()) > layout_core::math::SQUARE;
    is_aslant || !wall.spec.holes.is_empty()
}

/// A frame in outline, its line heavy, and crosses on the timber side.
fn snapped(sheet: &mut Sheet, wall: &WallLayout, line: &FloorLine) {
    let of = ItemRef::Wall(wall.name().clone());
    let frame = wall.spec.frame;
    let side = usize::from(line.face == Face::Left);
    let on = if line.face == Face::Left { frame.high } else { frame.low };
    let arm = (frame.length() / sheet.scale * 0.42).min(CROSS / 2.0);
    for [from, to] in solids(wall) {
        let outline = [
            at(wall, from[0], frame.low),
            at(wall, to[0], frame.low),
            at(wall, to[1], frame.high),
            at(wall, from[1], frame.high),
        ];
        sheet.picture.area(outline, Pen::Thin, Fill::Paper, Some(&of));
        sheet.keep_strip_clear(outline);
        let heavy = [at(wall, from[side], on), at(wall, to[side], on)];
        sheet.picture.line(heavy, Pen::Cut, Some(&of));
        let length = to[side] - from[side];
        let count = (length / sheet.scale / CROSSES).floor().max(1.0);
        for i in 0..count as usize {
            let station = from[side] + length * (i as f64 + 0.5) / count;
            let middle = at(wall, station, frame.centre());
            for way in [1.0, -1.0] {
                let stroke = [middle.shifted(-arm, -arm * way), middle.shifted(arm, arm * way)];
                sheet.picture.line(stroke, Pen::Outline, Some(&of));
            }
        }
    }
    // Where the tape is hooked.
    let [start, _] = line.ends.map(|p| At::model(p.x, p.y));
    sheet.picture.add(Shape::Dot { at: start, radius: 0.9 }, Pen::Outline, Fill::Paper, Some(&of));
}

/// The two axes through the datum, and figures off it under and beside all that is drawn.
fn axes(sheet: &mut Sheet, job: &Job, floor: &FloorPlan, drawn: Rect) {
    let origin = [job.datum.at.x, job.datum.at.y];
    let drawn = drawn.join(Rect { min: origin, max: origin });
    let lines = [
        [[drawn.min[0], origin[1]], [drawn.max[0], origin[1]]],
        [[origin[0], drawn.min[1]], [origin[0], drawn.max[1]]],
    ];
    for ends in lines {
        let ends = ends.map(|[x, y]| At::model(x, y));
        sheet.picture.line(ends, Pen::Centre, Some(&ItemRef::Datum));
        sheet.keep_line_clear(ends[0], ends[1]);
    }
    for (axis, list) in floor.axes.iter().enumerate() {
        ordinates(sheet, job, list, axis, drawn);
    }
}

fn ordinates(sheet: &mut Sheet, job: &Job, list: &[Ordinate], axis: usize, drawn: Rect) {
    let origin = [job.datum.at.x, job.datum.at.y];
    // The datum is the first figure of its axis.
    let zero =
        Ordinate { at: 0.0, reach: [origin[1 - axis]; 2], of: ItemRef::Datum, is_line: true };
    let mut all: Vec<&Ordinate> = std::iter::once(&zero).chain(list).collect();
    all.sort_by(|a, b| a.at.total_cmp(&b.at));
    all.dedup_by(|b, a| layout_core::math::same(a.at, b.at));
    let place = |along: f64, other: f64| {
        if axis == 0 { At::model(along, other) } else { At::model(other, along) }
    };
    // Out over the edge of what is drawn, on paper.
    let out = |p: At, along: f64, out: f64| {
        if axis == 0 { p.shifted(along, -out) } else { p.shifted(-out, along) }
    };
    let edge = drawn.min[1 - axis];
    let on: Vec<f64> = all.iter().map(|o| (origin[axis] + o.at) / sheet.scale).collect();
    let high = Lettering::Normal.height();
    let to = spread(&on, &vec![high; on.len()], 1.0);
    for (ordinate, (on, to)) in all.into_iter().zip(on.iter().zip(&to)) {
        let along = origin[axis] + ordinate.at;
        let foot = place(along, edge);
        let from = place(along, ordinate.reach[0]);
        let shift = to - on;
        let leader = [from, out(foot, 0.0, OFF - 3.0), out(foot, shift, OFF - 0.8)];
        sheet.picture.line(leader, Pen::Dimension, Some(&ordinate.of));
        sheet.keep_line_clear(leader[0], leader[1]);
        let text = job.units.show(ordinate.at);
        let label = Label::new(out(foot, shift, OFF), text).pen(Pen::Dimension).of(&ordinate.of);
        let turn = if axis == 0 { FRAC_PI_2 } else { 0.0 };
        let label = label.turned(turn).align(Align::Right);
        sheet.crowd.write(&mut sheet.picture, sheet.scale, label);
    }
}

/// Numbers in rings beside the fixed points, on the side that is free.
fn fixed(sheet: &mut Sheet, floor: &FloorPlan) {
    let all = Rect::round(floor.fixed.iter().map(|p| [p.at.x, p.at.y]));
    for (i, point) in floor.fixed.iter().enumerate() {
        let of = ItemRef::Corner(i);
        let at = At::model(point.at.x, point.at.y);
        sheet.picture.add(Shape::Dot { at, radius: 0.8 }, Pen::Outline, Fill::Existing, Some(&of));
        let name = Label::new(at, point.name.as_str()).small().of(&of);
        let ring = (name.width() / 2.0 + 1.0).max(RING);
        let off = ring + 1.6;
        // Into the room first.
        let [x, y] = all.centre();
        let (x, y) = ((x - point.at.x).signum(), (y - point.at.y).signum());
        let ways = [[x, y], [-x, y], [x, -y], [-x, -y]];
        let choices = [off, off + 3.0, off + 7.0].into_iter().flat_map(|off| {
            let place = move |(i, [x, y]): (usize, [f64; 2])| {
                // Out of the room only where the room is full.
                let out = if i == 0 { 0.0 } else { OUTSIDE };
                (at.shifted(x * off, y * off), out)
            };
            ways.into_iter().enumerate().map(place)
        });
        let way = |(p, out): &(At, f64)| {
            let [x, y] = p.on_paper(sheet.scale);
            out + sheet.crowd.overlap(Rect::about(x, y, 2.0 * ring + 0.6, 2.0 * ring + 0.6))
        };
        let found = choices.min_by(|a, b| way(a).total_cmp(&way(b)));
        let Some((middle, _)) = found else { continue };
        let circle = Shape::Dot { at: middle, radius: ring };
        sheet.picture.add(circle, Pen::Outline, Fill::Paper, Some(&of));
        sheet.picture.label(name.at(middle));
        let [x, y] = middle.on_paper(sheet.scale);
        sheet.crowd.take(Rect::about(x, y, 2.0 * ring, 2.0 * ring));
    }
}
