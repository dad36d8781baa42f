//! First-fix points and fittings, on the face that is seen or (dashed) on the other.

use layout_core::document::{Face, Fitting, Point};
use layout_core::id::ItemRef;
use layout_core::span::Span;

use super::Sheet;
use crate::picture::{Align, At, Fill, Label, Pen};
use crate::views::signs::{diagonals, point_letters};

fn points<'a>(sheet: &Sheet<'a>) -> &'a [Point] {
    sheet.job.wall(sheet.wall.name()).map_or(&[], |w| &w.points)
}

fn fittings<'a>(sheet: &Sheet<'a>) -> &'a [Fitting] {
    sheet.job.wall(sheet.wall.name()).map_or(&[], |w| &w.fittings)
}

/// A point or fitting in outline; nothing where the wall does not have it.
fn outline(sheet: &Sheet, of: &ItemRef) -> Option<[At; 4]> {
    let spot = sheet.wall.spec.spot(of)?;
    let x = Span::between(sheet.x(spot.span.low), sheet.x(spot.span.high));
    Some(crate::views::signs::corners((x.low, x.high), (spot.heights.low, spot.heights.high)))
}

pub(super) fn draw(sheet: &mut Sheet) {
    for fitting in fittings(sheet) {
        let of = ItemRef::Fitting(fitting.name.clone());
        let Some(corners) = outline(sheet, &of) else { continue };
        frame(sheet, corners, fitting.face, Fill::None, &of);
        for height in &fitting.fixings {
            let [a, b] = [(corners[0].model[0], *height), (corners[1].model[0], *height)]
                .map(|(x, y)| At::model(x, y));
            sheet.picture.line([a, b], Pen::Centre, Some(&of));
        }
    }
    for point in points(sheet) {
        let of = ItemRef::Point(point.name.clone());
        let Some(corners) = outline(sheet, &of) else { continue };
        frame(sheet, corners, point.face, Fill::Fitting, &of);
        if point.face == sheet.options.face {
            for line in diagonals(&corners) {
                sheet.picture.line(line, Pen::Thin, Some(&of));
            }
        }
        sheet.keep_clear(&corners);
    }
}

/// An outline: whole on the face that is seen, dashed on the other.
fn frame(sheet: &mut Sheet, corners: [At; 4], face: Face, fill: Fill, of: &ItemRef) {
    let (pen, fill) =
        if face == sheet.options.face { (Pen::Outline, fill) } else { (Pen::Hidden, Fill::None) };
    sheet.picture.area(corners, pen, fill, Some(of));
}

pub(super) fn labels(sheet: &mut Sheet) {
    let scale = sheet.scale;
    for point in points(sheet) {
        let of = ItemRef::Point(point.name.clone());
        let Some(corners) = outline(sheet, &of) else { continue };
        // The same letters as on the plan where a whole word would cover too much timber.
        let kind =
            if scale > 30.0 { point_letters(&point.kind) } else { point.kind.label().into() };
        let text = format!("{} {kind} {}", point.name, sheet.job.units.show(point.height));
        let label = |at: At, align| Label::new(at, text.as_str()).small().align(align).of(&of);
        let half = point.size.0 / 2.0;
        let centre = At::model(corners[0].model[0] + half, point.height);
        let up = point.size.1 / 2.0 / scale + 2.4;
        let side = half / scale + 1.0;
        let choices = [0.0, 3.6, -3.6, 7.2, -7.2].into_iter().flat_map(|dy: f64| {
            let over = if dy < 0.0 { dy - up } else { dy + up };
            [
                label(centre.shifted(0.0, over), Align::Centre),
                label(centre.shifted(0.0, -over), Align::Centre),
                label(centre.shifted(side, dy), Align::Left),
                label(centre.shifted(-side, dy), Align::Right),
            ]
        });
        place_over_timber(sheet, choices.collect::<Vec<_>>());
    }
    for fitting in fittings(sheet) {
        let of = ItemRef::Fitting(fitting.name.clone());
        let Some(corners) = outline(sheet, &of) else { continue };
        let far = if fitting.face == sheet.options.face { "" } else { " (far side)" };
        let text = format!("{}{far}", fitting.name);
        let middle = (corners[0].model[0] + corners[1].model[0]) / 2.0;
        let label = |y: f64, dy: f64| {
            Label::new(At::model(middle, y).shifted(0.0, dy), text.as_str()).small().of(&of)
        };
        let (low, high) = (fitting.bottom, fitting.top);
        let choices = [
            label((low + high) / 2.0, 0.0),
            label(high, 2.4),
            label(low, -2.4),
            label(high, -2.8),
            label(low, 2.8),
        ];
        place_over_timber(sheet, choices);
    }
}

/// Places a label that may fall on timber: on a piece of bare paper of its own.
pub(super) fn place_over_timber(sheet: &mut Sheet, choices: impl IntoIterator<Item = Label>) {
    if let Some(label) = sheet.crowd.choose(sheet.scale, choices) {
        sheet.picture.area(label.backing(), Pen::None, Fill::Paper, None);
        sheet.write(label);
    }
}
