//! What goes with the timber itself: screws in its joints, fixings of its plates, packers, damp-proof course, hangers.

use crate::document::{Bearing, Sundries};
use crate::frame::{Member, Role};
use crate::layout::{PlatformLayout, WallLayout};
use crate::math::SAME;
use crate::packers::{fixings, shims};
use crate::resolve::Meets;

/// What the timber of one wall or platform takes.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct OfFrame {
    /// Screws or nails in the ends of its pieces.
    pub joints: usize,
    /// Fixings of plates, and of end studs to what is there.
    pub plates: usize,
    /// Packers by thickness, tenths of a millimetre.
    pub packers: Vec<(i64, usize)>,
    /// Strips of damp-proof course under its lowest plates by their width, tenths of a millimetre, and their length, mm.
    pub damp_proof: Vec<(i64, f64)>,
    /// Hangers by the thickness of the joist, tenths of a millimetre.
    pub hangers: Vec<(i64, usize)>,
}

fn tenths(mm: f64) -> i64 {
    (mm * 10.0).round() as i64
}

/// True for a piece that lies along a wall, floor or ceiling and is fixed to it, not in its ends.
fn is_plate(role: Role) -> bool {
    matches!(
        role,
        Role::SolePlate
            | Role::LowerSole
            | Role::UpperSole
            | Role::HeadPlate
            | Role::WallPlate
            | Role::FrontPlate
    )
}

/// Fixings along so much, one near each end and no two further apart.
fn along(length: f64, apart: f64) -> usize {
    ((length / apart.max(50.0)).ceil().clamp(1.0, 1e6) as usize) + 1
}

fn joints<'a>(members: impl Iterator<Item = &'a Member>, rules: &Sundries) -> usize {
    members.filter(|m| !is_plate(m.role)).count() * 2 * rules.joint_fixings as usize
}

/// What the timber of `wall` takes.
pub fn of_frame(wall: &WallLayout, rules: &Sundries) -> OfFrame {
    let (spec, members) = (&wall.spec, &wall.frame.members);
    let mut sum = OfFrame { joints: joints(members.iter(), rules), ..OfFrame::default() };
    let floor = fixings(spec, &wall.frame);
    sum.plates = floor.len();
    for plate in members.iter().filter(|m| is_plate(m.role)) {
        let length = plate.solid.stations().length();
        if floor.iter().any(|f| f.plate == plate.mark) {
            let width = tenths(plate.timber.depth());
            match sum.damp_proof.iter_mut().find(|(w, _)| *w == width) {
                Some((_, sum)) => *sum += length,
                None => sum.damp_proof.push((width, length)),
            }
        } else {
            sum.plates += along(length, rules.plate_apart);
        }
    }
    let here = |meets: &Meets| matches!(meets, Meets::Existing { .. } | Meets::Post(_));
    let reach = spec.along();
    for (end, at) in spec.ends.iter().zip([reach.low, reach.high]) {
        let stands = |m: &&Member| {
            let run = m.solid.stations();
            m.role == Role::EndStud && run.low - SAME <= at && at <= run.high + SAME
        };
        if here(&end.meets)
            && let Some(stud) = members.iter().find(stands)
        {
            sum.plates += along(stud.solid.heights().length(), rules.plate_apart);
        }
    }
    for fixing in &floor {
        for (thickness, count) in shims(spec, fixing).shims {
            count_in(&mut sum.packers, tenths(thickness), count);
        }
    }
    sum
}

/// What the timber of `platform` takes.
pub fn of_platform_frame(platform: &PlatformLayout, rules: &Sundries) -> OfFrame {
    let members = &platform.frame.members;
    let mut sum = OfFrame { joints: joints(members.iter(), rules), ..OfFrame::default() };
    for plate in members.iter().filter(|m| is_plate(m.role)) {
        sum.plates += along(platform.cut_length(plate), rules.plate_apart);
    }
    let joists = || members.iter().filter(|m| matches!(m.role, Role::Joist | Role::TrimmingJoist));
    for bearing in &platform.spec.bearings {
        if *bearing == Bearing::Hangers {
            for joist in joists() {
                count_in(&mut sum.hangers, tenths(joist.timber.thickness()), 1);
            }
        }
    }
    sum
}

fn count_in(list: &mut Vec<(i64, usize)>, key: i64, count: usize) {
    match list.iter_mut().find(|(k, _)| *k == key) {
        Some((_, n)) => *n += count,
        None => list.push((key, count)),
    }
}

impl OfFrame {
    /// Puts what another part takes to it.
    pub(super) fn add(&mut self, other: OfFrame) {
        self.joints += other.joints;
        self.plates += other.plates;
        for (key, count) in other.packers {
            count_in(&mut self.packers, key, count);
        }
        for (key, count) in other.hangers {
            count_in(&mut self.hangers, key, count);
        }
        for (width, length) in other.damp_proof {
            match self.damp_proof.iter_mut().find(|(w, _)| *w == width) {
                Some((_, sum)) => *sum += length,
                None => self.damp_proof.push((width, length)),
            }
        }
    }

    /// Everything by size, small ones first.
    pub(super) fn in_order(mut self) -> OfFrame {
        self.packers.sort_unstable();
        self.hangers.sort_unstable();
        self.damp_proof.sort_by_key(|(width, _)| *width);
        self
    }
}
