//! What was read on site, and what follows from it: the floor as it runs, the levels read along the wall, where
//! the sole is fixed and what is packed under it, and the length of each stud where they differ.

use std::f64::consts::FRAC_PI_2;

use layout_core::id::{ItemRef, Surface};
use layout_core::math::same;
use layout_core::packers::{Fixing, fixings};

use super::{GROUND, Sheet};
use crate::picture::{Align, At, Label, Pen, spread};

/// Height of the row of packers, mm of paper.
const ROW: f64 = 9.0;

/// The fixings to show under the wall: those of a sole that stands on packers somewhere.
pub(super) fn packed(sheet: &Sheet) -> Vec<Fixing> {
    let list = fixings(&sheet.wall.spec, &sheet.wall.frame);
    let packed =
        sheet.options.dimensions && list.iter().any(|f| sheet.job.units.round(f.packer) > 0.0);
    if packed { list } else { Vec::new() }
}

/// The floor as it was read, over the ground.
pub(super) fn floor(sheet: &mut Sheet) {
    let floor = sheet.wall.spec.floor.clone();
    if !floor.is_level() || sheet.wall.spec.is_read {
        sheet.profile(&floor, Pen::Outline);
    }
}

/// A cross at every level that was read along the wall, with the level.
pub(super) fn readings(sheet: &mut Sheet) {
    let Some(wall) = sheet.job.wall(sheet.wall.name()).cloned() else { return };
    for surface in [Surface::Floor, Surface::Ceiling] {
        let out = if surface == Surface::Floor { -3.0 } else { 3.0 };
        for (index, &(station, level)) in wall.readings(surface).iter().enumerate() {
            let of = ItemRef::Reading { wall: Some(wall.name.clone()), surface, index };
            let at = sheet.at(station, level);
            for (dx, dy) in [(1.2, 1.2), (1.2, -1.2)] {
                sheet.picture.line([at.shifted(-dx, -dy), at.shifted(dx, dy)], Pen::Cut, Some(&of));
            }
            let label =
                Label::new(at, sheet.job.units.show(level)).small().pen(Pen::Dimension).of(&of);
            let aside = label.width() / 2.0 + 2.0;
            let beside = [(0.0, out), (aside, out), (-aside, out)];
            let far = [(0.0, out * 2.8), (aside, out * 2.8), (-aside, out * 2.8)];
            let inside = [(aside, -out), (-aside, -out), (0.0, -out), (0.0, -out * 2.0)];
            let choices = beside
                .into_iter()
                .chain(far)
                .chain(inside)
                .map(|(dx, dy)| label.clone().at(at.shifted(dx, dy)));
            sheet.crowd.place_if_free(&mut sheet.picture, sheet.scale, choices);
        }
    }
}

/// The fixings in a row under the ground: a tick at each, and the packer there.
pub(super) fn packers(sheet: &mut Sheet, list: &[Fixing]) -> f64 {
    if list.is_empty() {
        return 0.0;
    }
    let of = sheet.of_wall();
    let low = sheet.lowest();
    let seen = sheet.seen();
    let mut on: Vec<(f64, String)> =
        list.iter().map(|f| (sheet.x(f.at), sheet.job.units.show(f.packer))).collect();
    on.sort_by(|a, b| a.0.total_cmp(&b.0));
    let labels: Vec<Label> = on
        .iter()
        .map(|(_, text)| Label::new(At::model(0.0, low), text.as_str()).small().pen(Pen::Dimension))
        .collect();
    let from: Vec<f64> = on.iter().map(|(x, _)| x / sheet.scale).collect();
    let widths: Vec<f64> = labels.iter().map(Label::width).collect();
    let to = spread(&from, &widths, 0.8);
    for (((x, _), label), (from, to)) in on.iter().zip(labels).zip(from.iter().zip(&to)) {
        let at = At::model(*x, low);
        let tick = [at.shifted(0.0, -GROUND), at.shifted(to - from, -GROUND - 2.4)];
        sheet.picture.line(tick, Pen::Dimension, Some(&of));
        sheet.write(label.at(at.shifted(to - from, -GROUND - 4.2)).of(&of));
    }
    let caption = Label::new(At::model(seen.low, low), "packers at the fixings of the sole");
    let caption = caption.small().pen(Pen::Quiet).align(Align::Left).of(&of);
    sheet.write(caption.at(At::model(seen.low, low).shifted(0.0, -GROUND - 7.6)));
    ROW
}

/// The length of every full-height upright beside it, where they are not all alike.
pub(super) fn lengths(sheet: &mut Sheet) {
    let wall = sheet.wall;
    let studs: Vec<_> = wall.frame.members.iter().filter(|m| m.role.is_full_height()).collect();
    let first = studs.first().map_or(0.0, |m| wall.cut_length(m));
    if studs.iter().all(|m| same(wall.cut_length(m), first)) {
        return;
    }
    for stud in studs {
        let (s, z) = (stud.solid.stations(), stud.solid.heights());
        let of = sheet.member(stud.mark);
        let label = Label::new(sheet.at(0.0, 0.0), sheet.job.units.show(wall.cut_length(stud)))
            .small()
            .pen(Pen::Dimension)
            .turned(FRAC_PI_2)
            .of(&of);
        let out = s.length() / 2.0 / sheet.scale + 2.0;
        let choices: Vec<Label> = [0.72, 0.62, 0.3, 0.2, 0.85]
            .into_iter()
            .flat_map(|share| [(share, out), (share, -out)])
            .map(|(share, dx)| {
                let at = sheet.at(s.centre(), z.low + z.length() * share);
                label.clone().at(at.shifted(dx, 0.0))
            })
            .collect();
        sheet.crowd.place_if_free(&mut sheet.picture, sheet.scale, choices);
    }
}
