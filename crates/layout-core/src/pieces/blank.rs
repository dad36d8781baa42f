//! A piece as the saw sees it: what it takes of a bar, whether that has to be straight, how its ends lie against others.

use std::collections::BTreeMap;

use super::planning::BarPiece;
use super::tenths;
use crate::document::{SawSettings, Stock, Timber};
use crate::frame::{EndCut, Member, Role};
use crate::layout::Framed;

/// Uprights shorter than this come from any bar, mm: one that bows 20 mm in 4.8 m bows 1.3 mm in this, as the square of the length.
const STRAIGHT_FROM: f64 = 1200.0;
/// Mitres are told from bevels by so many tenths of a degree more.
const MITRE: u16 = 1000;

/// What a piece takes of a bar. Lengths in tenths of a millimetre.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Blank {
    /// From point to point, along the bar.
    length: u64,
    /// It has to be straight.
    straight: bool,
    /// The slant of its ends, by its angle, and whether both have it.
    slant: Option<(u16, bool)>,
    /// It is measured in place before it is cut.
    measured: bool,
}

impl Blank {
    /// Of a member of a part.
    pub(super) fn of(part: Framed<'_>, member: &Member) -> Blank {
        let cut = member.cut();
        let length = part.cut_length(member);
        Blank {
            length: tenths(length + member.reach() - cut.length),
            straight: has_to_be_straight(member.role, length),
            slant: slant(&cut.ends, &member.timber),
            measured: member.measure_in_place,
        }
    }

    fn piece(&self, saw: &SawSettings, sorted: bool, slants: &BTreeMap<u16, u16>) -> saw::Piece {
        let over = if self.measured { tenths(saw.measured) } else { 0 };
        let slant = self
            .slant
            .and_then(|(angle, both)| Some(saw::Slant { like: *slants.get(&angle)?, both }));
        saw::Piece { length: self.length + over, straight: self.straight && sorted, slant }
    }
}

/// Whether a bar for it has to be straight: full-height studs and those that carry the head of an opening.
fn has_to_be_straight(role: Role, length: f64) -> bool {
    let upright = matches!(
        role,
        Role::Stud
            | Role::EndStud
            | Role::OpeningStud
            | Role::CornerStud
            | Role::TeeStud
            | Role::Jack
    );
    upright && length >= STRAIGHT_FROM
}

/// The angle of an end that leans one way only, in tenths of a degree, mitres apart from bevels.
fn angle(end: &EndCut) -> Option<u16> {
    let tenths = |angle: f64| (angle.to_degrees().abs() * 10.0).round() as u16;
    match (tenths(end.bevel), tenths(end.mitre)) {
        (0, 0) => None,
        (bevel, 0) => Some(bevel),
        (0, mitre) => Some(MITRE + mitre),
        _ => None,
    }
}

/// What two ends of an angle save when they lie together: one cut makes both, which runs along the bar as far as they lean,
/// and takes the more of it the more it leans. Fifths of a millimetre, as the saw shares it out; never less than nothing.
fn saves(angle: u16, timber: &Timber, kerf: f64) -> u64 {
    let (tenths, across) = match angle.checked_sub(MITRE) {
        Some(mitre) => (mitre, timber.depth()),
        None => (angle, timber.thickness()),
    };
    let radians = (f64::from(tenths) / 10.0).to_radians();
    let mm = radians.tan() * across + kerf - kerf / radians.cos();
    (mm.clamp(0.0, 1e6) * 5.0) as u64
}

/// An end of a piece, where it may lie against another like it: its angle, and what the two save, mm.
pub(super) fn open_end(
    piece: &BarPiece,
    end: usize,
    timber: &Timber,
    kerf: f64,
) -> Option<(u16, f64)> {
    let (like, _) = slant(&piece.ends, timber)?;
    let saves = saves(like, timber, kerf) as f64 / 5.0;
    let counts = angle(&piece.ends[end]) == Some(like) && 2.0 * saves <= piece.on_bar;
    (counts && saves > 0.0).then_some((like, saves))
}

/// The slant of a piece: that of both its ends, or of the one that saves more.
fn slant(ends: &[EndCut; 2], timber: &Timber) -> Option<(u16, bool)> {
    let [a, b] = ends.each_ref().map(|end| angle(end).map(|a| (saves(a, timber, 0.0), a)));
    match (a, b) {
        (Some((_, a)), Some((_, b))) if a == b => Some((a, true)),
        (Some(a), Some(b)) => Some((if b.0 > a.0 { b.1 } else { a.1 }, false)),
        (a, b) => a.or(b).map(|(_, angle)| (angle, false)),
    }
}

/// The problem of cutting pieces of one section.
pub(super) struct Cutting<'a> {
    /// The lines of the timber list that give the section.
    pub(super) lines: Vec<&'a Stock>,
    /// What is asked of the saw.
    pub(super) problem: saw::Problem,
    /// Each blank as a piece of it, in their order.
    pub(super) pieces: Vec<saw::Piece>,
    /// How straight the bars are.
    pub(super) straightness: saw::Straightness,
}

impl<'a> Cutting<'a> {
    pub(super) fn new(
        timber: &Timber,
        blanks: &[Blank],
        stock: &'a [Stock],
        saw: &SawSettings,
    ) -> Cutting<'a> {
        let lines: Vec<&Stock> =
            stock.iter().filter(|s| s.timber == *timber && s.length > 0.0).collect();
        let priced = all_priced(&lines);
        let sorted = lines.iter().any(|s| s.crooked > 0.0 || s.is_bowed());
        let stock = lines.iter().map(|s| saw::StockLine {
            length: tenths(s.length),
            // Hundredths of the currency, or the length itself when prices are not all known.
            cost: match s.price {
                _ if s.owned.is_some() => 0,
                Some(price) if priced => (price.clamp(0.0, 1e9) * 100.0).round() as u64,
                _ => tenths(s.length),
            },
            available: s.owned.or(s.available),
            bowed: s.is_bowed(),
        });
        let mut slants: BTreeMap<u16, u16> =
            blanks.iter().filter_map(|b| b.slant).map(|(angle, _)| (angle, 0)).collect();
        slants.values_mut().zip(0..).for_each(|(like, i)| *like = i);
        let pieces: Vec<saw::Piece> =
            blanks.iter().map(|b| b.piece(saw, sorted, &slants)).collect();
        let saved = |angle: &u16| 2 * saves(*angle, timber, saw.kerf);
        let problem = saw::Problem {
            kerf: tenths(saw.kerf),
            trim: tenths(saw.trim),
            hold: tenths(saw.hold),
            slants: slants.keys().map(saved).collect(),
            stock: stock.collect(),
            pieces: saw::demands(&pieces),
        };
        let straightness = saw::Straightness {
            crooked: lines
                .iter()
                .map(|s| if s.owned.is_some() { 0.0 } else { s.crooked })
                .collect(),
            sure: saw.sure,
        };
        Cutting { lines, problem, pieces, straightness }
    }
}

pub(super) fn all_priced(lines: &[&Stock]) -> bool {
    lines.iter().all(|s| s.price_paid().is_some())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn end(bevel: f64, mitre: f64) -> EndCut {
        EndCut { bevel: bevel.to_radians(), mitre: mitre.to_radians() }
    }

    /// By hand: two ends at 45° across 97 with a saw cut of 3 save 97 + 3 − 4.24 = 95.76; at 1° across 46 it is 0.80.
    #[test]
    fn ends_that_lie_together_save_what_they_lean() {
        let timber = Timber::new(46.0, 97.0, "C16");
        let mm = |angle| saves(angle, &timber, 3.0) as f64 / 5.0;
        assert_eq!((mm(MITRE + 450), mm(10), mm(0)), (95.6, 0.8, 0.0));
        assert_eq!(slant(&[end(40.0, 0.0), end(-40.0, 0.0)], &timber), Some((400, true)));
        assert_eq!(slant(&[end(40.0, 0.0), end(0.0, 45.0)], &timber), Some((1450, false)));
        assert_eq!(slant(&[end(0.0, 0.0), end(0.0, 22.5)], &timber), Some((1225, false)));
        assert_eq!(slant(&[end(9.0, 9.0), end(0.0, 0.0)], &timber), None);
    }
}
