//! What runs through a wall: cables and pipes with their holes and notches, and the zones of cables.

use std::f64::consts::TAU;

use layout_core::document::Face;
use layout_core::first_fix::{Bore, Way, Why, zones};
use layout_core::id::ItemRef;
use layout_core::span::Span;

use super::Sheet;
use crate::picture::{Align, At, Fill, Label, Pen, Shape};
use crate::views::signs::corners;

/// Routes and feeds as lines, their holes as circles, notches as small rectangles.
pub(super) fn draw(sheet: &mut Sheet) {
    let wall = sheet.wall;
    for run in &wall.runs.runs {
        let (s, z) = (run.span, run.heights);
        let line = match run.way {
            Way::Level => [sheet.at(s.low, z.centre()), sheet.at(s.high, z.centre())],
            Way::Upright => [sheet.at(s.centre(), z.low), sheet.at(s.centre(), z.high)],
        };
        sheet.picture.line(line, Pen::Service, Some(&run.of));
    }
    for bore in &wall.runs.bores {
        hole(sheet, bore);
    }
}

fn hole(sheet: &mut Sheet, bore: &Bore) {
    let at = sheet.at(bore.station, bore.height);
    match (bore.way, bore.notch) {
        // Seen through its length: what the drill takes out of a stud from one side to the other.
        (Way::Level, false) => {
            let centre = at;
            let radius = bore.size / 2.0;
            let circle = Shape::Arc { centre, radius, from: 0.0, to: TAU };
            sheet.picture.add(circle, Pen::Outline, Fill::None, Some(&bore.of));
        }
        (Way::Level, true) => {
            let half = bore.size / 2.0;
            let x = Span::about(at.model[0], bore.size);
            let z = (bore.height - half, bore.height + half);
            sheet.picture.area(
                corners((x.low, x.high), z),
                Pen::Outline,
                Fill::Paper,
                Some(&bore.of),
            );
        }
        (Way::Upright, _) => {
            let x = Span::about(at.model[0], bore.size);
            for x in [x.low, x.high] {
                let side = [At::model(x, bore.height - 8.0), At::model(x, bore.height + 8.0)];
                sheet.picture.line(side, Pen::Outline, Some(&bore.of));
            }
        }
    }
}

/// What each route is, and how high, where there is room beside its line.
pub(super) fn labels(sheet: &mut Sheet) {
    let (wall, units) = (sheet.wall, sheet.job.units);
    let Some(drawn) = sheet.job.wall(wall.name()) else { return };
    for spec in &wall.spec.routes {
        let ItemRef::Route(name) = &spec.of else { continue };
        let Some(route) = drawn.routes.iter().find(|r| r.name == *name) else { continue };
        let text = format!(
            "{name} {} {}, {} {}",
            route.service.label(),
            units.show(route.height),
            if route.notched.is_some() { "notch" } else { "hole" },
            units.show(route.hole)
        );
        let seen = Span::between(sheet.x(spec.along.low), sheet.x(spec.along.high));
        let label = |x: f64, dy: f64, align| {
            let at = At::model(x, spec.height).shifted(0.0, dy);
            Label::new(at, text.as_str()).small().align(align).of(&spec.of)
        };
        let choices = [2.2, -2.2].into_iter().flat_map(|dy| {
            [
                label(seen.low, dy, Align::Left)
                    .at(At::model(seen.low, spec.height).shifted(1.0, dy)),
                label(seen.centre(), dy, Align::Centre),
                label(seen.high, dy, Align::Right),
            ]
        });
        let choices: Vec<Label> = choices.collect();
        super::fixtures::place_over_timber(sheet, choices);
    }
}

/// The zones cables run in: those of the face that is seen hatched, those of the other face in outline.
pub(super) fn draw_zones(sheet: &mut Sheet) {
    let spec = &sheet.wall.spec;
    let face = sheet.options.face;
    let mut list = zones(spec);
    list.retain(|z| !z.from_behind);
    // What is seen lies over what is behind.
    list.sort_by_key(|zone| zone.face == face);
    for zone in &list {
        let (pen, fill) =
            if zone.face == face { (Pen::Quiet, Fill::Zone) } else { (Pen::Hidden, Fill::None) };
        if zone.face != face && zone.of_point().is_none() {
            continue;
        }
        let of = match &zone.why {
            Why::Upright(of) | Why::Level(of) => of.clone(),
            Why::Top | Why::Angle => ItemRef::Wall(spec.name.clone()),
        };
        for part in zone.high.stretches(zone.span) {
            let (low, high) = (zone.low.over(part.span), (part.from, part.to));
            let (a, b) = match face {
                Face::Right => (part.span.low, part.span.high),
                Face::Left => (part.span.high, part.span.low),
            };
            let ends = if face == Face::Right {
                [low.0, low.1, high.1, high.0]
            } else {
                [low.1, low.0, high.0, high.1]
            };
            let shape = [
                sheet.at(a, ends[0]),
                sheet.at(b, ends[1]),
                sheet.at(b, ends[2]),
                sheet.at(a, ends[3]),
            ];
            sheet.picture.area(shape, pen, fill, Some(&of));
        }
    }
}
