//! Platforms that meet the wall: a dashed band at their level, whichever side of it they are on.

use layout_core::document::PlatformKind;
use layout_core::id::ItemRef;
use layout_core::layout::{Layout, PlatformLayout};
use layout_core::span::Span;

use super::Sheet;
use crate::picture::{At, Label, Pen};

/// Where platforms meet the wall: each with the stretch of the wall it lies along.
fn met<'a>(sheet: &Sheet, layout: &'a Layout) -> Vec<(&'a PlatformLayout, Span)> {
    let wall = sheet.of_wall();
    let mut met: Vec<(&PlatformLayout, Span)> = Vec::new();
    for laid in &layout.platforms {
        let spec = &laid.spec;
        for (side, held) in spec.held.iter().enumerate() {
            for held in held.iter().filter(|h| h.by == wall) {
                let station = |at: f64| {
                    let (along, across) = match side {
                        0 => (0.0, at),
                        1 => (spec.length, at),
                        2 => (at, 0.0),
                        _ => (at, spec.width),
                    };
                    let (x, y) = if spec.along_width { (along, across) } else { (across, along) };
                    sheet.wall.place.wall(laid.place.plan(x, y)).0
                };
                let span = Span::between(station(held.span.low), station(held.span.high));
                // A door that parts the wall below it does not part the platform.
                match met.iter_mut().find(|(p, _)| p.name() == laid.name()) {
                    Some((_, whole)) => {
                        *whole =
                            Span { low: whole.low.min(span.low), high: whole.high.max(span.high) };
                    }
                    None => met.push((laid, span)),
                }
            }
        }
    }
    met
}

pub(super) fn draw(sheet: &mut Sheet, layout: &Layout) {
    for (laid, span) in met(sheet, layout) {
        let of = ItemRef::Platform(laid.name().clone());
        let z = laid.spec.finished;
        let corners = [
            sheet.at(span.low, z.low),
            sheet.at(span.high, z.low),
            sheet.at(span.high, z.high),
            sheet.at(span.low, z.high),
        ];
        for i in 0..4 {
            let line = [corners[i], corners[(i + 1) % 4]];
            sheet.picture.line(line, Pen::Hidden, Some(&of));
            if i % 2 == 0 {
                sheet.keep_clear(&line);
            }
        }
    }
}

/// Their names, in the band.
pub(super) fn labels(sheet: &mut Sheet, layout: &Layout) {
    for (laid, span) in met(sheet, layout) {
        let of = ItemRef::Platform(laid.name().clone());
        let label = Label::new(At::model(0.0, 0.0), laid.name().as_str()).small().of(&of);
        let middle = laid.spec.finished.centre();
        let under = laid.spec.finished.low;
        let at = |share: f64, height: f64, dy: f64| {
            sheet.at(span.low + span.length() * share, height).shifted(0.0, dy)
        };
        let places = [
            at(0.5, middle, 0.0),
            at(0.35, middle, 0.0),
            at(0.65, middle, 0.0),
            at(0.5, under, -2.2),
            at(0.3, under, -2.2),
            at(0.7, under, -2.2),
        ];
        let choices = places.map(|at| label.clone().at(at));
        sheet.crowd.place(&mut sheet.picture, sheet.scale, choices);
    }
}

/// Their levels, with what to call them beside the drawing.
pub(super) fn levels(sheet: &Sheet, layout: &Layout) -> Vec<(f64, String, ItemRef)> {
    met(sheet, layout)
        .into_iter()
        .map(|(laid, _)| {
            let of = ItemRef::Platform(laid.name().clone());
            match laid.spec.kind {
                PlatformKind::Shelf => (laid.spec.finished.high, laid.name().to_string(), of),
                PlatformKind::LowCeiling | PlatformKind::Bulkhead => {
                    (laid.spec.finished.low, laid.name().to_string(), of)
                }
            }
        })
        .collect()
}
