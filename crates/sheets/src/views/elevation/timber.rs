//! The frame itself: every piece from back to front, its mark, and the clear size of each bay.

use std::f64::consts::FRAC_PI_2;

use layout_core::document::Face;
use layout_core::frame::{Member, Role};
use layout_core::id::{ItemRef, Kind};
use layout_core::units::mm;

use super::{Sheet, seen_x};
use crate::picture::{Align, At, Fill, Label, Pen, spread};

/// What a piece's side is filled with.
pub(crate) fn fill(role: Role) -> Fill {
    match role {
        Role::SolePlate | Role::LowerSole | Role::UpperSole | Role::HeadPlate => Fill::TimberPlate,
        Role::OpeningStud | Role::Jack | Role::OpeningHead | Role::Sill => Fill::TimberStrong,
        Role::Ground | Role::Block | Role::Noggin | Role::Riser => Fill::TimberLight,
        Role::Stud | Role::EndStud | Role::CornerStud | Role::TeeStud | Role::Cripple => Fill::Timber,
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
        let corners = member.solid.elevation().map(|(s, z)| sheet.at(s, z));
        sheet.picture.area(corners, Pen::Outline, fill(member.role), Some(&of));
    }
    for (row, height) in wall.frame.rows.iter().enumerate() {
        let of = ItemRef::NogginRow { wall: wall.name().clone(), row };
        let seen = sheet.seen();
        let line = [At::model(seen.low, *height).shifted(-2.0, 0.0), At::model(seen.high, *height).shifted(2.0, 0.0)];
        sheet.picture.line(line, Pen::Hidden, Some(&of));
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
        let bay = member.solid.stations();
        let room = bay.length() / scale - 0.8;
        let under = sheet.at(bay.centre(), member.solid.heights().low);
        let label = Label::new(under, mm(member.solid.longest_edge())).pen(Pen::Dimension).of(&of);
        let small = label.clone().small();
        let level = |l: Label| l.at(under.shifted(0.0, -3.0));
        let upright = |l: Label| {
            let down = l.width() / 2.0 + 1.2;
            l.at(under.shifted(0.0, -down)).turned(FRAC_PI_2)
        };
        let label = if label.width() <= room {
            level(label)
        } else if small.width() <= room {
            level(small)
        } else {
            upright(if room >= 4.5 { label } else { small })
        };
        sheet.write(label);
    }
}

/// Marks of the pieces: uprights in a row above the head plate, the others beside themselves where there
/// is room.
pub(super) fn marks(sheet: &mut Sheet) {
    uprights(sheet);
    let scale = sheet.scale;
    for member in &sheet.wall.frame.members {
        let s = member.solid.stations();
        let z = member.solid.heights();
        let clear = |kind| sheet.wall.frame.members.iter().find(|m| m.mark.kind == kind).map(|m| m.solid.stations().length());
        let choices: Vec<At> = match member.mark.kind {
            Kind::Plate => {
                // In the first bay the plate has, next to it.
                let up = if member.role == Role::HeadPlate { z.low } else { z.high };
                let out = if member.role == Role::HeadPlate { -2.2 } else { 2.4 };
                let stud = clear(Kind::Stud).unwrap_or(46.0);
                (0..3)
                    .map(|bay| {
                        let into = (stud + f64::from(bay) * sheet.wall.spec.centres).min(s.length() / 2.0);
                        let station = if sheet.options.face == Face::Right { s.low + into } else { s.high - into };
                        sheet.at(station, up).shifted(3.6, out)
                    })
                    .collect()
            }
            Kind::Noggin => vec![
                sheet.at(s.centre(), z.high).shifted(0.0, 2.2),
                sheet.at(s.centre(), z.low).shifted(0.0, -6.6),
            ],
            Kind::Head => vec![sheet.at(s.centre(), z.low).shifted(0.0, -2.4), sheet.at(s.centre(), z.high).shifted(0.0, 2.4)],
            Kind::Sill => vec![sheet.at(s.centre(), z.low).shifted(0.0, -2.4), sheet.at(s.centre(), z.high).shifted(0.0, 2.4)],
            Kind::Jack => {
                let out: f64 = if beside_start(sheet, member) { 3.4 } else { -3.4 };
                let out = if sheet.options.face == Face::Right { out } else { -out };
                (1..4).map(|i| sheet.at(s.centre(), 200.0 * f64::from(i)).shifted(out + member_half(member, scale) * out.signum(), 0.0)).collect()
            }
            Kind::Stud | Kind::Cripple | Kind::Ground | Kind::Riser => Vec::new(),
        };
        let of = sheet.member(member.mark);
        let labels = choices.into_iter().map(|at| Label::new(at, member.mark.to_string()).small().pen(Pen::Quiet).of(&of));
        sheet.crowd.place_if_free(&mut sheet.picture, scale, labels);
    }
}

fn member_half(member: &Member, scale: f64) -> f64 {
    member.solid.stations().length() / scale / 2.0
}

/// True when the opening nearest to a jack lies on the side of the wall's end.
fn beside_start(sheet: &Sheet, jack: &Member) -> bool {
    let s = jack.solid.stations().centre();
    let nearest = sheet.wall.spec.holes.iter().min_by(|a, b| {
        let away = |h: &layout_core::resolve::Hole| (h.span.centre() - s).abs() - h.span.length() / 2.0;
        away(a).total_cmp(&away(b))
    });
    nearest.is_none_or(|h| h.span.centre() > s)
}

/// One row of marks over the head plate: full-height uprights and the cripples over openings.
fn uprights(sheet: &mut Sheet) {
    let (wall, face) = (sheet.wall, sheet.options.face);
    let tops = |m: &Member| m.solid.heights().high;
    let over_head = |m: &Member| wall.spec.holes.iter().any(|h| m.solid.heights().low >= h.top - 1.0 && h.span.contains(m.solid.stations().centre()));
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
            Label::new(At::model(0.0, 0.0), m.mark.to_string()).small().pen(pen).of(&sheet.member(m.mark))
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
