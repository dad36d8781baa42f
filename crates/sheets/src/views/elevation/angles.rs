//! The angles of plates: how they rake, and how they are mitred to what the wall meets.

use layout_core::frame::Member;
use layout_core::id::Kind;
use layout_core::span::Span;
use layout_core::units::degrees;

use super::Sheet;
use crate::picture::{At, Label, Pen, readable};

/// Slopes and mitres smaller than this are not worth a number, radians.
const LEAST: f64 = 0.001;
/// A slope smaller than this is a ceiling out of level, not a rake: half a degree, radians.
const LEAST_RAKE: f64 = 0.0087;

/// Writes the slope along every raking plate, and the mitre at either end of the lowest.
pub(super) fn draw(sheet: &mut Sheet) {
    let wall = sheet.wall;
    let plates = || wall.frame.members.iter().filter(|m| m.mark.kind == Kind::Plate);
    for plate in plates() {
        rake(sheet, plate);
    }
    let reach = wall.spec.reach();
    for (index, at) in [reach.low, reach.high].into_iter().enumerate() {
        let there = |m: &&Member| {
            let s = m.solid.stations();
            (if index == 0 { s.low } else { s.high } - at).abs() < 0.5
        };
        let low = |m: &&Member| m.solid.heights().low;
        // All plates of an end are cut alike through the wall: the lowest shows it.
        if let Some(plate) = plates().filter(there).min_by(|a, b| low(a).total_cmp(&low(b))) {
            mitre(sheet, plate, index);
        }
    }
}

/// A place along the underside of a plate, `share` of the way, `out` mm of paper below it, and the slope.
pub(super) fn under(sheet: &Sheet, plate: &Member, share: f64, out: f64) -> (At, f64) {
    let [from, _, _, to] = plate.solid.elevation(sheet.options.face);
    let (a, b) = ((sheet.x(from.0), from.1), (sheet.x(to.0), to.1));
    let slope = readable((b.1 - a.1).atan2(b.0 - a.0));
    let at = At::model(a.0 + (b.0 - a.0) * share, a.1 + (b.1 - a.1) * share);
    (at.shifted(out * slope.sin(), -out * slope.cos()), slope)
}

fn rake(sheet: &mut Sheet, plate: &Member) {
    let (_, slope) = under(sheet, plate, 0.5, 0.0);
    if slope.abs() < LEAST_RAKE {
        return;
    }
    let of = sheet.member(plate.mark);
    let choices: Vec<Label> = [0.4, 0.3, 0.6, 0.7, 0.2, 0.8]
        .into_iter()
        .map(|share| {
            let (at, slope) = under(sheet, plate, share, 2.4);
            Label::new(at, degrees(slope)).turned(slope).pen(Pen::Dimension).of(&of)
        })
        .collect();
    sheet.crowd.place_if_free(&mut sheet.picture, sheet.scale, choices);
}

fn mitre(sheet: &mut Sheet, plate: &Member, end: usize) {
    let angle = plate.cut().ends[end].mitre;
    if angle.abs() < LEAST {
        return;
    }
    let of = sheet.member(plate.mark);
    let z = plate.solid.heights();
    let label = Label::new(At::model(0.0, 0.0), format!("mitre {}", degrees(angle))).small();
    let label = label.pen(Pen::Dimension).of(&of);
    // In the bay nearest to the end that has room for it, on the plate.
    let stands: Vec<Span> = sheet
        .wall
        .frame
        .members
        .iter()
        .filter(|m| m.role.is_full_height())
        .map(|m| m.solid.stations())
        .collect();
    let mut bays = plate.solid.stations().without(&stands);
    bays.retain(|b| b.length() / sheet.scale > label.width() + 1.0);
    let nearest = if end == 0 { bays.first() } else { bays.last() };
    let Some(bay) = nearest else { return };
    let half = (label.width() / 2.0 + 0.6) * sheet.scale;
    let station = if end == 0 { bay.low + half } else { bay.high - half };
    let choices = [2.2, 5.0].map(|dy| label.clone().at(sheet.at(station, z.high).shifted(0.0, dy)));
    sheet.crowd.place_if_free(&mut sheet.picture, sheet.scale, choices);
}
