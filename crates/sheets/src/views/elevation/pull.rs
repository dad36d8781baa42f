//! The setting-out of the plates: one pull of the tape from the start of the frame.

use std::f64::consts::FRAC_PI_2;

use layout_core::document::Face;
use layout_core::id::ItemRef;

use super::{GROUND, Sheet};
use crate::picture::{Align, At, Fill, Label, Pen, Shape, spread};

/// One figure on the tape.
struct Pull {
    /// Distance from the start of the frame.
    at: f64,
    of: ItemRef,
    text: String,
}

/// Draws it `down` mm of paper under its usual place.
pub(super) fn draw(sheet: &mut Sheet, down: f64) {
    let start = sheet.wall.spec.along().low;
    let mut pulls: Vec<Pull> = sheet
        .wall
        .frame
        .running(&sheet.wall.spec)
        .into_iter()
        .map(|m| Pull { at: m.at, of: sheet.member(m.member), text: sheet.job.units.show(m.at) })
        .collect();
    let end = sheet.wall.spec.along().length();
    pulls.push(Pull { at: end, of: sheet.of_wall(), text: sheet.job.units.show(end) });
    let x = |sheet: &Sheet, at: f64| sheet.x(start + at);
    pulls.sort_by(|a, b| x(sheet, a.at).total_cmp(&x(sheet, b.at)));

    let seen = sheet.seen();
    let low = sheet.lowest();
    let line = -GROUND - 7.0 - down;
    let on_line = |model: f64, dx: f64, dy: f64| At::model(model, low).shifted(dx, line + dy);
    let of = sheet.of_wall();
    let caption = match sheet.options.face {
        Face::Right => "one pull from the left: near edge of each stud, timber to the right",
        Face::Left => "one pull from the right: near edge of each stud, timber to the left",
    };
    let caption = Label::new(on_line(seen.high, 0.0, 3.6), caption).small().pen(Pen::Quiet).of(&of);
    // Over the far end of the line, or from its left end when it is the longer of the two.
    let caption = if caption.width() > seen.length() / sheet.scale {
        caption.at(on_line(seen.low, 0.0, 3.6)).align(Align::Left)
    } else {
        caption.align(Align::Right)
    };
    sheet.write(caption);
    sheet.picture.line(
        [on_line(seen.low, 0.0, 0.0), on_line(seen.high, 0.0, 0.0)],
        Pen::Dimension,
        Some(&of),
    );

    // The last figure is the end of the frame.
    let (x_end, out, align) = match sheet.options.face {
        Face::Right => (seen.high, 1.4, Align::Left),
        Face::Left => (seen.low, -1.4, Align::Right),
    };
    let label = Label::new(on_line(x_end, out, 0.0), "end").small().pen(Pen::Quiet);
    sheet.write(label.align(align).of(&of));

    let on: Vec<f64> = pulls.iter().map(|p| x(sheet, p.at) / sheet.scale).collect();
    let figure = crate::picture::Lettering::Normal.height();
    let to = spread(&on, &vec![figure; on.len()], 1.1);
    for (pull, (on, to)) in pulls.into_iter().zip(on.iter().zip(&to)) {
        let model = x(sheet, pull.at);
        let dx = to - on;
        let tick = [on_line(model, 0.0, 1.0), on_line(model, 0.0, -1.4), on_line(model, dx, -3.4)];
        sheet.picture.line(tick, Pen::Dimension, Some(&pull.of));
        if pull.at.abs() < layout_core::math::SAME {
            let origin = Shape::Dot { at: on_line(model, 0.0, 0.0), radius: 0.8 };
            sheet.picture.add(origin, Pen::Dimension, Fill::Paper, Some(&pull.of));
        }
        let label = Label::new(on_line(model, dx, -4.2), pull.text);
        sheet.write(label.turned(FRAC_PI_2).align(Align::Right).pen(Pen::Dimension).of(&pull.of));
    }
}
