//! The frame itself: every piece from back to front, its mark, and the clear size of each bay.

use std::f64::consts::FRAC_PI_2;

use layout_core::document::Face;
use layout_core::frame::{Member, Role};
use layout_core::id::{ItemRef, Kind};
use layout_core::resolve::Hole;
use layout_core::span::Span;

use super::angles::under;
use super::{RUN_ON, Sheet, seen_x};
use crate::picture::{Align, At, Fill, Label, Pen, spread};

/// What a piece's side is filled with.
pub(crate) fn fill(role: Role) -> Fill {
    match role {
        Role::SolePlate
        | Role::LowerSole
        | Role::UpperSole
        | Role::HeadPlate
        | Role::WallPlate
        | Role::FrontPlate => Fill::TimberPlate,
        Role::OpeningStud
        | Role::Jack
        | Role::OpeningHead
        | Role::Sill
        | Role::TrimmingJoist
        | Role::Trimmer
        | Role::StudTrimmer
        | Role::Rim => Fill::TimberStrong,
        Role::Pattress => Fill::Pattress,
        Role::BoxNoggin => Fill::BoxNoggin,
        Role::Ground | Role::Block | Role::Noggin | Role::Riser | Role::Slat => Fill::TimberLight,
        Role::Stud
        | Role::EndStud
        | Role::CornerStud
        | Role::TeeStud
        | Role::Cripple
        | Role::Joist
        | Role::TailJoist
        | Role::FrontStud => Fill::Timber,
    }
}

pub(super) fn draw(sheet: &mut Sheet) {
    let wall = sheet.wall;
    let mut members: Vec<&Member> = wall.frame.members.iter().collect();
    // How near each piece comes to the eye; the right face is at the low side across the wall.
    let near = |m: &Member| match sheet.options.face {
        Face::Right => -m.solid.across().low,
        Face::Left => m.solid.across().high,
    };
    members.sort_by(|a, b| near(a).total_cmp(&near(b)));
    for member in members {
        let of = sheet.member(member.mark);
        let side = |face: Face| member.solid.elevation(face);
        let (near, far) = match sheet.options.face {
            Face::Right => (side(Face::Right), side(Face::Left)),
            Face::Left => (side(Face::Left), side(Face::Right)),
        };
        // Of an end cut at an angle through the wall, the far side shows past the near one.
        let hidden = far.iter().all(|corner| near.contains(corner));
        let sides = if hidden { &[near][..] } else { &[far, near][..] };
        for corners in sides {
            let corners = corners.map(|(s, z)| sheet.at(s, z));
            sheet.picture.area(corners, Pen::Outline, fill(member.role), Some(&of));
        }
    }
    let holes = |height: f64| -> Vec<Span> {
        let crossed = |h: &&Hole| h.sill.unwrap_or(f64::NEG_INFINITY) < height && height < h.top;
        wall.spec.holes.iter().filter(crossed).map(|h| h.span).collect()
    };
    for (row, laid) in wall.frame.rows.iter().enumerate() {
        let of = ItemRef::NogginRow { wall: wall.name().clone(), row };
        for part in sheet.along.intersection(laid.along).without(&holes(laid.height)) {
            let (a, b) = (sheet.at(part.low, laid.height), sheet.at(part.high, laid.height));
            sheet.picture.line([a, b], Pen::Hidden, Some(&of));
        }
    }
}

/// The clear size of each bay, under its noggin: the length to cut.
pub(super) fn bays(sheet: &mut Sheet) {
    let scale = sheet.scale;
    for member in &sheet.wall.frame.members {
        if member.role != Role::Noggin {
            continue;
        }
        let of = sheet.member(member.mark);
        let (bay, heights) = (member.solid.stations(), member.solid.heights());
        let room = bay.length() / scale - 0.8;
        let label = Label::new(
            sheet.at(bay.centre(), 0.0),
            sheet.job.units.show(member.solid.longest_edge()),
        )
        .pen(Pen::Dimension)
        .of(&of);
        let (label, away) = if label.width() <= room {
            (label, 3.0)
        } else {
            let turned = if room >= 4.0 { label } else { label.small() }.turned(FRAC_PI_2);
            let away = turned.width() / 2.0 + 1.2;
            (turned, away)
        };
        let choices = [
            (heights.low, -away),
            (heights.high, away),
            (heights.low, -away - 4.5),
            (heights.high, away + 4.5),
        ]
        .map(|(height, dy)| label.clone().at(sheet.at(bay.centre(), height).shifted(0.0, dy)));
        sheet.crowd.place(&mut sheet.picture, scale, choices);
    }
}

/// Marks of the pieces: uprights in a row above the head plate, the others beside themselves where there
/// is room.
pub(super) fn marks(sheet: &mut Sheet) {
    uprights(sheet);
    let mut raking: Vec<(Label, &Member)> = Vec::new();
    for member in &sheet.wall.frame.members {
        let (s, z) = (member.solid.stations(), member.solid.heights());
        let of = sheet.member(member.mark);
        let label =
            Label::new(sheet.at(0.0, 0.0), member.mark.to_string()).small().pen(Pen::Quiet).of(&of);
        let room = s.length() / sheet.scale - 0.6;
        let choices: Vec<At> = match member.mark.kind {
            Kind::Plate => {
                let (_, slope) = under(sheet, member, 0.5, 0.0);
                if slope.abs() > 0.001 {
                    raking.push((label, member));
                    continue;
                }
                beside_plate(sheet, member, label.width())
            }
            Kind::Noggin | Kind::Pattress if label.width() > room => Vec::new(),
            Kind::Noggin | Kind::Pattress => {
                vec![
                    sheet.at(s.centre(), z.high).shifted(0.0, 2.2),
                    sheet.at(s.centre(), z.low).shifted(0.0, -2.2),
                ]
            }
            Kind::Head | Kind::Sill => {
                vec![
                    sheet.at(s.centre(), z.low).shifted(0.0, -2.4),
                    sheet.at(s.centre(), z.high).shifted(0.0, 2.4),
                ]
            }
            Kind::Jack => {
                let into_hole = if beside_start(sheet, member) { 1.0 } else { -1.0 };
                let out = sheet.x(into_hole)
                    * (s.length() / 2.0 / sheet.scale + label.width() / 2.0 + 0.8);
                [200.0, 400.0, 700.0]
                    .map(|height| sheet.at(s.centre(), height).shifted(out, 0.0))
                    .to_vec()
            }
            Kind::Stud
            | Kind::Cripple
            | Kind::Ground
            | Kind::Riser
            | Kind::Slat
            | Kind::Joist
            | Kind::Trimmer => Vec::new(),
        };
        let labels = choices.into_iter().map(|at| label.clone().at(at));
        sheet.crowd.place_if_free(&mut sheet.picture, sheet.scale, labels);
    }
    // Marks of raking plates lie along them.
    for (label, plate) in raking {
        let labels: Vec<Label> = [0.55, 0.65, 0.45, 0.75, 0.35, 0.85]
            .into_iter()
            .map(|share| {
                let (at, slope) = under(sheet, plate, share, 2.2);
                label.clone().turned(slope).at(at)
            })
            .collect();
        sheet.crowd.place_if_free(&mut sheet.picture, sheet.scale, labels);
    }
}

/// Places for a plate's mark: in the bays that stand on it or hang from it, next to it.
fn beside_plate(sheet: &Sheet, plate: &Member, width: f64) -> Vec<At> {
    let z = plate.solid.heights();
    let (height, out) = if plate.role == Role::HeadPlate { (z.low, -2.2) } else { (z.high, 2.2) };
    let touching =
        |m: &&Member| m.mark != plate.mark && m.solid.heights().grown(1.0).contains(height);
    let taken: Vec<Span> =
        sheet.wall.frame.members.iter().filter(touching).map(|m| m.solid.stations()).collect();
    let mut bays = plate.solid.stations().without(&taken);
    bays.retain(|b| b.length() / sheet.scale > width + 0.8);
    let inside = bays.iter().map(|b| sheet.at(b.centre(), height).shifted(0.0, out));
    // Or else past the left end, clear of the lines of floor and ceiling.
    let seen = sheet.seen();
    let outside = At::model(seen.low, z.centre()).shifted(-RUN_ON - width / 2.0 - 1.0, 0.0);
    inside.chain(std::iter::once(outside)).collect()
}

/// True when the opening nearest to a jack lies on the side of the wall's end.
fn beside_start(sheet: &Sheet, jack: &Member) -> bool {
    let s = jack.solid.stations().centre();
    let nearest = sheet.wall.spec.holes.iter().min_by(|a, b| {
        let away = |h: &Hole| (h.span.centre() - s).abs() - h.span.length() / 2.0;
        away(a).total_cmp(&away(b))
    });
    nearest.is_none_or(|h| h.span.centre() > s)
}

/// One row of marks over the head plate: full-height uprights and the cripples over openings.
pub(super) fn uprights(sheet: &mut Sheet) {
    let (wall, face) = (sheet.wall, sheet.options.face);
    let tops = |m: &Member| m.solid.heights().high;
    let over_head = |m: &Member| {
        wall.spec.holes.iter().any(|h| {
            m.solid.heights().low >= h.top - 1.0 && h.span.contains(m.solid.stations().centre())
        })
    };
    let mut uprights: Vec<&Member> = wall
        .frame
        .members
        .iter()
        .filter(|m| m.role.is_full_height() || (m.role == Role::Cripple && over_head(m)))
        .collect();
    let middle = |m: &Member| seen_x(face, m.solid.stations().centre());
    uprights.sort_by(|a, b| middle(a).total_cmp(&middle(b)));
    let labels: Vec<Label> = uprights
        .iter()
        .map(|m| {
            let pen = if m.role.is_full_height() { Pen::Text } else { Pen::Quiet };
            Label::new(At::model(0.0, 0.0), m.mark.to_string())
                .small()
                .pen(pen)
                .of(&sheet.member(m.mark))
        })
        .collect();
    let on: Vec<f64> = uprights.iter().map(|m| middle(m) / sheet.scale).collect();
    let widths: Vec<f64> = labels.iter().map(Label::width).collect();
    let mut to = spread(&on, &widths, 0.9);
    let shifted = |to: &[f64]| on.iter().zip(to).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max);
    let is_turned = shifted(&to) > 8.0;
    if is_turned {
        to = spread(&on, &vec![2.5; on.len()], 0.7);
    }
    // Over everything the frame has at the top, and over the ceiling when that is close.
    let top = wall.frame.members.iter().map(tops).fold(f64::NEG_INFINITY, f64::max);
    let ceiling = wall.spec.ceiling.highest();
    let base = if (0.0..12.0 * sheet.scale).contains(&(ceiling - top)) { ceiling } else { top };
    for ((member, label), (on, to)) in uprights.iter().zip(labels).zip(on.iter().zip(&to)) {
        let foot = At::model(middle(member), base);
        let of = sheet.member(member.mark);
        let dx = to - on;
        if dx.abs() > 0.4 {
            let leader = [foot.shifted(0.0, 0.6), foot.shifted(dx, 2.2)];
            sheet.picture.line(leader, Pen::Dimension, Some(&of));
        }
        let label = if is_turned {
            label.at(foot.shifted(dx, 2.8)).turned(FRAC_PI_2).align(Align::Left)
        } else {
            label.at(foot.shifted(dx, 4.2))
        };
        sheet.crowd.write(&mut sheet.picture, sheet.options.scale, label);
    }
}
