//! Running figures on one pull of the tape: the setting-out of the plates from the start of the frame, and joints of boards.

use std::f64::consts::FRAC_PI_2;

use layout_core::document::Face;
use layout_core::id::ItemRef;
use layout_core::span::Span;

use super::{GROUND, Sheet};
use crate::picture::{Align, At, Fill, Label, Pen, Shape, spread};

/// One figure on a tape.
pub(super) struct Pull {
    /// Where it points to.
    pub(super) station: f64,
    pub(super) of: ItemRef,
    pub(super) text: String,
    /// True where the tape is hooked.
    pub(super) is_zero: bool,
}

/// The setting-out of the frame, `down` mm of paper under its usual place.
pub(super) fn draw(sheet: &mut Sheet, down: f64) {
    let along = sheet.wall.spec.along();
    let pull = |at: f64, of: ItemRef| {
        let text = sheet.job.units.show(at);
        Pull { station: along.low + at, of, text, is_zero: at.abs() < layout_core::math::SAME }
    };
    let running = sheet.wall.frame.running(&sheet.wall.spec).into_iter();
    let mut pulls: Vec<Pull> = running.map(|m| pull(m.at, sheet.member(m.member))).collect();
    pulls.push(pull(along.length(), sheet.of_wall()));
    let caption = match sheet.options.face {
        Face::Right => [
            "one pull from the left: near edge of each stud, timber to the right",
            "one pull from the left, timber to the right",
        ],
        Face::Left => [
            "one pull from the right: near edge of each stud, timber to the left",
            "one pull from the right, timber to the left",
        ],
    };
    let whole = sheet.along;
    tape(sheet, pulls, &[whole], caption, down);

    // The last figure is the end of the frame.
    let seen = sheet.seen();
    let (x_end, out, align) = match sheet.options.face {
        Face::Right => (seen.high, 1.4, Align::Left),
        Face::Left => (seen.low, -1.4, Align::Right),
    };
    let at = At::model(x_end, sheet.lowest()).shifted(out, LINE - down);
    let label = Label::new(at, "end").small().pen(Pen::Quiet);
    sheet.write(label.align(align).of(&sheet.of_wall()));
}

/// How far under the lowest that is drawn a tape lies, mm of paper.
const LINE: f64 = -GROUND - 7.0;

/// A tape along the foot over some stretches of the wall, `down` mm of paper under its usual place. Of its captions the first
/// that is no longer than the wall, or else the last.
pub(super) fn tape(
    sheet: &mut Sheet,
    mut pulls: Vec<Pull>,
    stretches: &[Span],
    captions: [&str; 2],
    down: f64,
) {
    pulls.sort_by(|a, b| sheet.x(a.station).total_cmp(&sheet.x(b.station)));
    let seen = sheet.seen();
    let low = sheet.lowest();
    let on_line =
        |model: f64, dx: f64, dy: f64| At::model(model, low).shifted(dx, LINE - down + dy);
    let of = sheet.of_wall();
    let [caption, short] = captions
        .map(|text| Label::new(on_line(seen.high, 0.0, 3.6), text).small().pen(Pen::Quiet).of(&of));
    let is_longer = |label: &Label| label.width() > seen.length() / sheet.scale;
    let caption = if is_longer(&caption) { short } else { caption };
    // Over the far end of the line, or from its left end when it is the longer of the two.
    let caption = if is_longer(&caption) {
        caption.at(on_line(seen.low, 0.0, 3.6)).align(Align::Left)
    } else {
        caption.align(Align::Right)
    };
    sheet.write(caption);
    for stretch in stretches {
        let ends = [stretch.low, stretch.high].map(|s| on_line(sheet.x(s), 0.0, 0.0));
        sheet.picture.line(ends, Pen::Dimension, Some(&of));
    }

    let on: Vec<f64> = pulls.iter().map(|p| sheet.x(p.station) / sheet.scale).collect();
    let figure = crate::picture::Lettering::Normal.height();
    let to = spread(&on, &vec![figure; on.len()], 1.1);
    for (pull, (on, to)) in pulls.into_iter().zip(on.iter().zip(&to)) {
        let model = sheet.x(pull.station);
        let dx = to - on;
        let tick = [on_line(model, 0.0, 1.0), on_line(model, 0.0, -1.4), on_line(model, dx, -3.4)];
        sheet.picture.line(tick, Pen::Dimension, Some(&pull.of));
        if pull.is_zero {
            let origin = Shape::Dot { at: on_line(model, 0.0, 0.0), radius: 0.8 };
            sheet.picture.add(origin, Pen::Dimension, Fill::Paper, Some(&pull.of));
        }
        let label = Label::new(on_line(model, dx, -4.2), pull.text);
        sheet.write(label.turned(FRAC_PI_2).align(Align::Right).pen(Pen::Dimension).of(&pull.of));
    }
}
