//! The levels that were read: a small cross at each, with the level; those of the ceiling are ringed.

use layout_core::document::Job;
use layout_core::id::{ItemRef, Surface};
use layout_core::layout::Layout;
use layout_core::math::PlanPoint;
use layout_core::units::Units;

use super::Sheet;
use crate::picture::{At, Fill, Label, Pen, Shape};

pub(super) fn draw(sheet: &mut Sheet, job: &Job, layout: &Layout) {
    for surface in [Surface::Floor, Surface::Ceiling] {
        for (index, reading) in job.levels.readings.of(surface).iter().enumerate() {
            let of = ItemRef::Reading { wall: None, surface, index };
            let read = Read { surface, units: job.units, at: reading.at, level: reading.level };
            cross(sheet, &read, &of);
            let at = At::model(reading.at.x, reading.at.y);
            write(sheet, &read, &of, |label| {
                let aside = label.width() / 2.0 + 2.2;
                let beside = [1.4, -1.6, 4.4, -4.4].map(|dy| [(aside, dy), (-aside, dy)]);
                let over = [[(0.0, 3.4), (0.0, -3.4)]];
                let places = beside.into_iter().chain(over).flatten();
                places.map(|(dx, dy)| at.shifted(dx, dy)).collect()
            });
        }
        for wall in &job.walls {
            let Some(laid) = layout.wall(&wall.name) else { continue };
            let (place, finished) = (&laid.place, laid.spec.finished);
            for (index, &(station, level)) in wall.readings(surface).iter().enumerate() {
                let of = ItemRef::Reading { wall: Some(wall.name.clone()), surface, index };
                let at = place.plan(station, 0.0);
                let read = Read { surface, units: job.units, at, level };
                cross(sheet, &read, &of);
                // Clear of the wall: those of the floor on its right, those of the ceiling on its left.
                let left = place.plan(station, 1.0) - at;
                write(sheet, &read, &of, |label| {
                    let reach = left.x.abs() * label.width() / 2.0 + left.y.abs() * 1.2 + 1.0;
                    let beside = |n: f64, out: f64, along: f64| {
                        let p = place.plan(station, n);
                        let (dx, dy) =
                            (left.x * out + left.y * along, left.y * out - left.x * along);
                        At::model(p.x, p.y).shifted(dx, dy)
                    };
                    let step = left.y.abs() * label.width() + left.x.abs() * 2.4;
                    [0.0, step, -step]
                        .into_iter()
                        .flat_map(|along| {
                            let sides = [
                                beside(finished.low, -reach, along),
                                beside(finished.high, reach, along),
                            ];
                            if surface == Surface::Floor { sides } else { [sides[1], sides[0]] }
                        })
                        .collect()
                });
            }
        }
    }
}

/// A level that was read.
struct Read {
    surface: Surface,
    units: Units,
    at: PlanPoint,
    level: f64,
}

fn cross(sheet: &mut Sheet, read: &Read, of: &ItemRef) {
    let at = At::model(read.at.x, read.at.y);
    for (dx, dy) in [(1.1, 1.1), (1.1, -1.1)] {
        sheet.picture.line([at.shifted(-dx, -dy), at.shifted(dx, dy)], Pen::Dimension, Some(of));
    }
    if read.surface == Surface::Ceiling {
        let ring = Shape::Dot { at, radius: 1.7 };
        sheet.picture.add(ring, Pen::Dimension, Fill::None, Some(of));
    }
}

/// Writes the level at the best of `places`; from afar only where nobody is in the way.
fn write(sheet: &mut Sheet, read: &Read, of: &ItemRef, places: impl Fn(&Label) -> Vec<At>) {
    let at = At::model(read.at.x, read.at.y);
    let label = Label::new(at, read.units.show(read.level)).small().pen(Pen::Dimension).of(of);
    let choices: Vec<Label> = places(&label).into_iter().map(|at| label.clone().at(at)).collect();
    if sheet.is_far() {
        sheet.crowd.place_if_free(&mut sheet.picture, sheet.scale, choices);
    } else {
        sheet.place(choices);
    }
}
