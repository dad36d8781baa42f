//! Openings on the plan: doors with lining, leaf and swing; borrowed lights, hatches, plain openings.

use std::f64::consts::{FRAC_PI_2, TAU};

use layout_core::document::{Door, DoorStyle, Face, Hinge, Job, Opening, OpeningKind};
use layout_core::id::ItemRef;
use layout_core::layout::WallLayout;
use layout_core::resolve::Hole;
use layout_core::span::Span;

use super::Sheet;
use super::partition::{at, clear, shift, strip};
use crate::picture::{At, Fill, Label, Pen, Shape};

pub(super) fn draw(sheet: &mut Sheet, job: &Job, wall: &WallLayout) {
    for (hole, opening) in openings(job, wall) {
        let of = ItemRef::Opening(hole.name.clone());
        let finished = wall.spec.finished;
        let doorway = hole.doorway();
        let whole = strip(wall, doorway, finished);
        sheet.picture.area(whole, Pen::None, Fill::None, Some(&of));
        sheet.keep_strip_clear(whole);
        // The ends of the boards at each jamb.
        for station in [doorway.low, doorway.high] {
            let line = [at(wall, station, finished.low), at(wall, station, finished.high)];
            sheet.picture.line(line, Pen::Outline, Some(&of));
        }
        let along = |n: f64| [at(wall, hole.span.low, n), at(wall, hole.span.high, n)];
        match &opening.kind {
            OpeningKind::Door(door) => draw_door(sheet, wall, hole, door, &of),
            OpeningKind::BorrowedLight { .. } => {
                for n in [finished.low, finished.high] {
                    sheet.picture.line(along(n), Pen::Thin, Some(&of));
                }
                let quarter = finished.length().min(40.0) / 4.0;
                for n in [finished.centre() - quarter, finished.centre() + quarter] {
                    sheet.picture.line(along(n), Pen::Thin, Some(&of));
                }
            }
            OpeningKind::Hatch { .. } => {
                for n in [finished.low, finished.high] {
                    sheet.picture.line(along(n), Pen::Hidden, Some(&of));
                }
                sheet.picture.line([whole[0], whole[2]], Pen::Hidden, Some(&of));
            }
            OpeningKind::Plain { .. } => {
                for n in [finished.low, finished.high] {
                    sheet.picture.line(along(n), Pen::Hidden, Some(&of));
                }
            }
        }
    }
}

/// The wall's holes, each with what was drawn there.
fn openings<'a>(
    job: &'a Job,
    wall: &'a WallLayout,
) -> impl Iterator<Item = (&'a Hole, &'a Opening)> {
    wall.spec.holes.iter().filter_map(|h| job.opening(&h.name).map(|(_, o)| (h, o)))
}

fn draw_door(sheet: &mut Sheet, wall: &WallLayout, hole: &Hole, door: &Door, of: &ItemRef) {
    let finished = wall.spec.finished;
    let between = door.between_linings(hole.doorway());
    let thickness = door.lining.thickness;
    let linings = [
        Span { low: between.low - thickness, high: between.low },
        Span::from(between.high, thickness),
    ];
    let mouth = match door.hinge {
        Hinge::Start => 0,
        Hinge::End => 1,
    };
    for (side, lining) in linings.into_iter().enumerate() {
        if door.style == DoorStyle::Pocket && side == mouth {
            // In the mouth of a pocket the lining stands either side of the leaf.
            let (air, leaf) = (6.0, door.leaf.2);
            let middle = Span::about(wall.spec.frame.centre(), leaf + 2.0 * air);
            for part in finished.without(&[middle]) {
                sheet.picture.area(strip(wall, lining, part), Pen::Thin, Fill::Paper, Some(of));
            }
        } else {
            sheet.picture.area(strip(wall, lining, finished), Pen::Thin, Fill::Paper, Some(of));
        }
    }
    for (hinge, leaf) in door.leaves(hole.span) {
        match door.style {
            DoorStyle::Single | DoorStyle::Double => {
                Swing { wall, door, hinge, leaf }.draw(sheet, of);
            }
            DoorStyle::Sliding => slide(sheet, wall, door, leaf, of),
            DoorStyle::Pocket => pocket(sheet, wall, door, leaf, of),
        }
    }
}

/// A leaf half way into the pocket of its wall, hidden where it is in it, and an arrow the way it goes.
fn pocket(sheet: &mut Sheet, wall: &WallLayout, door: &Door, shut: Span, of: &ItemRef) {
    let across = Span::about(wall.spec.frame.centre(), door.leaf.2);
    let open = door.slid_open(shut);
    let by = (open.low - shut.low) / 2.0;
    let half = strip(wall, shut.moved(by), across);
    sheet.picture.area(half, Pen::Thin, Fill::Paper, Some(of));
    outline(sheet, strip(wall, open, across), of);
    let (from, tip) = (shut.centre() - by * 0.6, shut.centre() + by * 0.6);
    arrow(sheet, wall, [from, tip], wall.spec.finished.low - 60.0, of);
}

/// Where something stands that is not seen there.
fn outline(sheet: &mut Sheet, corners: [At; 4], of: &ItemRef) {
    for i in 0..4 {
        sheet.picture.line([corners[i], corners[(i + 1) % 4]], Pen::Hidden, Some(of));
    }
}

/// An arrow along the wall, `n` to its left.
fn arrow(sheet: &mut Sheet, wall: &WallLayout, [from, to]: [f64; 2], n: f64, of: &ItemRef) {
    let way = if to > from { 1.0 } else { -1.0 };
    let (from, tip) = (at(wall, from, n), at(wall, to, n));
    sheet.picture.line([from, tip], Pen::Thin, Some(of));
    for side in [0.8, -0.8] {
        let (dx, dy) = shift(wall, -2.2 * way, side);
        sheet.picture.line([tip, tip.shifted(dx, dy)], Pen::Thin, Some(of));
    }
}

/// One hung leaf.
struct Swing<'a> {
    wall: &'a WallLayout,
    door: &'a Door,
    hinge: Hinge,
    /// What it covers along the wall when it is shut.
    leaf: Span,
}

impl Swing<'_> {
    /// The leaf standing open square to the wall, and the quarter circle it came by.
    fn draw(&self, sheet: &mut Sheet, of: &ItemRef) {
        let Swing { wall, door, hinge, leaf: shut } = *self;
        let width = shut.length();
        let (pivot, inwards) = match hinge {
            Hinge::Start => (shut.low, 1.0),
            Hinge::End => (shut.high, -1.0),
        };
        let (face, out) = opening_face(wall, door.opens);
        let leaf = Span::between(pivot, pivot + inwards * door.leaf.2);
        let open = strip(wall, leaf, Span::between(face, face + out * width));
        sheet.picture.area(open, Pen::Thin, Fill::Paper, Some(of));
        let u = wall.place.along;
        let closed = (inwards * u.y).atan2(inwards * u.x);
        let opened = (out * u.x).atan2(-out * u.y);
        // A quarter turn, whichever way round it is.
        let turn = (opened - closed).rem_euclid(TAU);
        let from = if turn < std::f64::consts::PI { closed } else { opened };
        let centre = at(wall, pivot, face);
        let arc = Shape::Arc { centre, radius: width, from, to: from + FRAC_PI_2 };
        sheet.picture.add(arc, Pen::Thin, Fill::None, Some(of));
        // The swing stays free of lettering; its far corner, outside the arc, need not.
        let swept = [0.0_f64, 0.5, 0.87, 1.0].windows(2).map(|w| {
            let reach = (1.0 - w[0] * w[0]).max(0.0).sqrt() * width;
            let along =
                Span::between(pivot + inwards * w[0] * width, pivot + inwards * w[1] * width);
            strip(wall, along, Span::between(face, face + out * reach))
        });
        for corners in swept.collect::<Vec<_>>() {
            sheet.keep_clear(&corners);
        }
    }
}

/// Offset of the finished face a door opens to, and +1 to the left, −1 to the right.
fn opening_face(wall: &WallLayout, face: Face) -> (f64, f64) {
    match face {
        Face::Left => (wall.spec.finished.high, 1.0),
        Face::Right => (wall.spec.finished.low, -1.0),
    }
}

/// A leaf on the face of the wall, with an arrow the way it opens and where it stands when it is open.
fn slide(sheet: &mut Sheet, wall: &WallLayout, door: &Door, shut: Span, of: &ItemRef) {
    let (face, out) = opening_face(wall, door.opens);
    let across = Span::between(face, face + out * door.leaf.2);
    let leaf = strip(wall, shut, across);
    sheet.picture.area(leaf, Pen::Thin, Fill::Paper, Some(of));
    let open = door.slid_open(shut);
    let by = open.low - shut.low;
    let n = face + out * (door.leaf.2 + 60.0);
    arrow(sheet, wall, [shut.centre() - 0.3 * by, shut.centre() + 0.45 * by], n, of);
    let parked = strip(wall, open, across);
    outline(sheet, parked, of);
    sheet.keep_clear(&leaf);
    sheet.keep_clear(&parked);
}

/// Names of the openings, on whichever side is free.
pub(super) fn marks(sheet: &mut Sheet, job: &Job, wall: &WallLayout) {
    for (hole, _) in openings(job, wall) {
        let of = ItemRef::Opening(hole.name.clone());
        let label = |along: f64, left: f64, n: f64| {
            let (dx, dy) = shift(wall, along, left);
            Label::new(at(wall, hole.doorway().centre(), n).shifted(dx, dy), hole.name.as_str())
                .of(&of)
        };
        let spec = &wall.spec;
        let near = clear(wall, label(0.0, 0.0, 0.0).width(), 3.5);
        let choices: Vec<Label> = [near, near + 3.0, near + 6.0, near + 10.0]
            .into_iter()
            .flat_map(|off| [0.0, 6.0, -6.0].map(|along| (along, off)))
            .flat_map(|(along, off)| {
                [label(along, off, spec.finished.high), label(along, -off, spec.finished.low)]
            })
            .collect();
        sheet.place(choices);
    }
}
