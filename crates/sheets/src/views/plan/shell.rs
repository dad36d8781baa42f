//! What already stands, cut through: existing walls with their doors and windows, posts; beams and
//! roof planes above.

use layout_core::document::{Job, Shell};
use layout_core::existing::{Side, sides};
use layout_core::id::ItemRef;
use layout_core::math::{PlanPoint, left_of};
use layout_core::span::Span;

use super::Sheet;
use crate::picture::{At, Fill, Label, Pen, Picture, readable};
use crate::views::signs::diagonals;

/// The place on a side so far along its inside face and so far out of the room.
fn on(side: &Side, along: f64, out: f64) -> At {
    let p = side.at(along, out);
    At::model(p.x, p.y)
}

pub(super) fn draw(sheet: &mut Sheet, job: &Job) {
    let picture = &mut sheet.picture;
    let sides = sides(&job.shell);
    for side in &sides {
        existing_wall(picture, &job.shell, side);
    }
    for post in &job.shell.posts {
        let (sin, cos) = post.turn_deg.to_radians().sin_cos();
        let corner = |x: f64, y: f64| {
            let (x, y) = (x * post.size.0 / 2.0, y * post.size.1 / 2.0);
            At::model(post.at.x + x * cos - y * sin, post.at.y + x * sin + y * cos)
        };
        let corners = [corner(-1.0, -1.0), corner(1.0, -1.0), corner(1.0, 1.0), corner(-1.0, 1.0)];
        let of = ItemRef::Post(post.name.clone());
        picture.area(corners, Pen::Cut, Fill::Existing, Some(&of));
        for line in diagonals(&corners) {
            picture.line(line, Pen::Thin, Some(&of));
        }
        sheet
            .crowd
            .take(crate::picture::Rect::round(corners.iter().map(|c| c.on_paper(sheet.scale))));
    }
    for side in &sides {
        let strip = [
            on(side, 0.0, 0.0),
            on(side, side.length, 0.0),
            on(side, side.outer.high, side.thickness),
            on(side, side.outer.low, side.thickness),
        ];
        sheet.keep_strip_clear(strip);
    }
    for beam in &job.shell.beams {
        let along = beam.to - beam.from;
        if along.norm() < 1.0 {
            continue;
        }
        let half = left_of(along / along.norm()) * beam.width / 2.0;
        let at = |p: PlanPoint, side: f64| {
            let p = p + half * side;
            At::model(p.x, p.y)
        };
        let of = ItemRef::Beam(beam.name.clone());
        for side in [-1.0, 1.0] {
            let line = [at(beam.from, side), at(beam.to, side)];
            sheet.picture.line(line, Pen::Hidden, Some(&of));
            sheet.keep_line_clear(line[0], line[1]);
        }
        for end in [beam.from, beam.to] {
            sheet.picture.line([at(end, -1.0), at(end, 1.0)], Pen::Hidden, Some(&of));
        }
    }
}

/// One existing wall: filled stretches between its gaps, its two faces, and what is in the gaps.
fn existing_wall(picture: &mut Picture, shell: &Shell, side: &Side) {
    let of = ItemRef::Side(side.index);
    let whole = Span::between(0.0, side.length);
    let gaps = side.gaps(shell);
    let holes: Vec<Span> = gaps.iter().map(|g| g.0).collect();
    let last = side.length - layout_core::math::SAME;
    for solid in whole.without(&holes) {
        let outer = Span {
            low: if solid.low <= layout_core::math::SAME { side.outer.low } else { solid.low },
            high: if solid.high >= last { side.outer.high } else { solid.high },
        };
        let t = side.thickness;
        let quad = [
            on(side, solid.low, 0.0),
            on(side, solid.high, 0.0),
            on(side, outer.high, t),
            on(side, outer.low, t),
        ];
        picture.area(quad, Pen::None, Fill::Existing, Some(&of));
        picture.line([quad[0], quad[1]], Pen::Cut, Some(&of));
        picture.line([quad[3], quad[2]], Pen::Cut, Some(&of));
        for (at, is_jamb) in
            [([quad[0], quad[3]], solid.low > 0.1), ([quad[1], quad[2]], solid.high < last)]
        {
            if is_jamb {
                picture.line(at, Pen::Cut, Some(&of));
            }
        }
    }
    for (span, sill) in gaps {
        let across = |out: f64| [on(side, span.low, out), on(side, span.high, out)];
        let t = side.thickness;
        if sill > 0.0 {
            // A window: the sill seen below the cut, and the glass as two thin lines.
            for out in [0.0, 0.42 * t, 0.58 * t, t] {
                picture.line(across(out), Pen::Thin, Some(&of));
            }
        } else {
            for out in [0.0, t] {
                picture.line(across(out), Pen::Hidden, Some(&of));
            }
        }
    }
}

/// Names and heights of posts, beams and roof planes.
pub(super) fn labels(sheet: &mut Sheet, job: &Job) {
    for post in &job.shell.posts {
        let of = ItemRef::Post(post.name.clone());
        let reach = post.size.0.hypot(post.size.1) / 2.0 / sheet.scale;
        let at = At::model(post.at.x, post.at.y);
        let name = named("post", post.name.as_str());
        let label =
            |dx: f64, dy: f64| Label::new(at.shifted(dx, dy), name.as_str()).small().of(&of);
        let (x, y) = (reach + 6.5, reach + 2.5);
        let choices =
            [label(0.0, y), label(0.0, -y), label(x, y), label(-x, y), label(x, -y), label(-x, -y)];
        sheet.place(choices);
    }
    for beam in &job.shell.beams {
        let along = beam.to - beam.from;
        let turn = readable(along.y.atan2(along.x));
        let soffit = job.units.show(beam.soffit);
        let text = format!("{} over, soffit {soffit}", named("beam", beam.name.as_str()));
        let of = ItemRef::Beam(beam.name.clone());
        let scale = sheet.scale;
        let choices = [0.5, 0.35, 0.65, 0.2, 0.8].into_iter().flat_map(|t| {
            let p = beam.from + along * t;
            let clear = beam.width / 2.0 / scale + 2.4;
            let (text, of) = (&text, &of);
            [clear, -clear].into_iter().map(move |off| {
                let at = At::model(p.x, p.y).shifted(-off * turn.sin(), off * turn.cos());
                Label::new(at, text.as_str()).small().turned(turn).of(of)
            })
        });
        sheet.place(choices.collect::<Vec<_>>());
    }
    for plane in &job.shell.roof {
        let along = plane.to - plane.from;
        if along.norm() < 1.0 {
            continue;
        }
        let of = ItemRef::Roof(plane.name.clone());
        let up = left_of(along / along.norm());
        let at = |p: PlanPoint| At::model(p.x, p.y);
        sheet.picture.line([at(plane.from), at(plane.to)], Pen::Centre, Some(&of));
        let foot = plane.from + along * 0.5;
        let (tail, tip) = (foot + up * 200.0, foot + up * 900.0);
        sheet.picture.line([at(tail), at(tip)], Pen::Thin, Some(&of));
        sheet.keep_line_clear(at(tail), at(tip));
        for side in [-1.0, 1.0] {
            let barb = left_of(up) * side * 0.9 - up * 2.4;
            sheet.picture.line([at(tip), at(tip).shifted(barb.x, barb.y)], Pen::Thin, Some(&of));
        }
        let text = format!(
            "{} {}° up from {}",
            named("roof", plane.name.as_str()),
            layout_core::math::round_to(plane.pitch_deg, 0.1),
            job.units.show(plane.level)
        );
        // Along the eaves, near the arrow where that is free.
        let turn = readable(along.y.atan2(along.x));
        let choices = [0.5, 0.35, 0.65, 0.25, 0.75].into_iter().flat_map(|t| {
            let (text, of) = (&text, &of);
            [3.0, 7.0, 11.0, 16.0, 21.0].into_iter().map(move |off: f64| {
                let middle = at(plane.from + along * t).shifted(up.x * off, up.y * off);
                Label::new(middle, text.as_str()).small().turned(turn).of(of)
            })
        });
        sheet.place(choices.collect::<Vec<_>>());
    }
}

/// A name with its kind before it, unless it says so itself.
fn named(kind: &str, name: &str) -> String {
    if name.to_lowercase().contains(kind) { name.to_string() } else { format!("{kind} {name}") }
}
