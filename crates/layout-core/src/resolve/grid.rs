//! Where boards start along a wall: what its stud grid is counted from, at either end. A wall may take
//! that from the wall it stands against, or carry the grid on from the wall in line with it.

use crate::document::{GridFrom, MakeUp, OddBay, Wall};
use crate::id::{ItemRef, Name};
use crate::math::{SAME, cross};
use crate::snag::{Code, Snag};
use crate::span::Span;

use super::ends::{End, Meets, Strip};
use super::faces;

/// Width of the boards that centres are meant for: 1200 mm, or 4 ft when the centres divide that.
pub(crate) fn board_width(centres: f64) -> f64 {
    let divides = |width: f64| {
        let rest = width / centres;
        (rest - rest.round()).abs() * centres < 0.5
    };
    if !divides(1200.0) && divides(1219.2) { 1219.2 } else { 1200.0 }
}

/// The stations boards run from, to the right from the start and to the left from the end; `given` are those
/// settled with other walls.
pub(super) fn boards_from(
    wall: &Wall,
    along: Span,
    centres: f64,
    given: [Option<f64>; 2],
) -> [f64; 2] {
    let inset = match wall.grid_from {
        GridFrom::Inset(by) => by,
        _ => 0.0,
    };
    match wall.odd_bay {
        OddBay::Split => split(along, centres),
        _ => [given[0].unwrap_or(along.low + inset), given[1].unwrap_or(along.high - inset)],
    }
}

/// Whole bays about the middle, what is left halved between the ends. The first board from either end is cut
/// on the last stud it reaches, so it would have started this far outside the frame.
fn split(along: Span, centres: f64) -> [f64; 2] {
    let (length, width) = (along.length(), board_width(centres));
    let bays = (length / centres).ceil();
    let first = (length - (bays - 2.0) * centres) / 2.0;
    let reached = first + ((width - first) / centres + 1e-6).floor() * centres;
    let back = reached - (width / centres - 1e-6).ceil() * centres;
    if !back.is_finite() {
        return [along.low, along.high];
    }
    [along.low + back, along.high - back]
}

/// A wall as far as its grid is concerned.
pub(super) struct Counted<'a> {
    pub(super) wall: &'a Wall,
    pub(super) makeup: &'a MakeUp,
    pub(super) strip: Strip,
    pub(super) ends: &'a [End; 2],
    /// Its frame between the short points of its ends.
    pub(super) along: Span,
}

impl Counted<'_> {
    fn centres(&self) -> f64 {
        self.wall.centres.unwrap_or(self.makeup.centres)
    }

    fn node(&self, end: usize) -> &Name {
        if end == 0 { &self.wall.from } else { &self.wall.to }
    }

    /// The ends its odd bay lets it count from.
    fn counts_from(&self, end: usize) -> bool {
        match self.wall.odd_bay {
            OddBay::AtEnd => end == 0,
            OddBay::AtStart => end == 1,
            OddBay::Beside(_) => true,
            OddBay::Split => false,
        }
    }
}

/// What every wall takes from others: the stations boards run from at its start and its end, where they are
/// not simply the ends of its frame.
pub(super) fn given(walls: &[Counted<'_>], snags: &mut Vec<Snag>) -> Vec<[Option<f64>; 2]> {
    let mut given: Vec<[Option<f64>; 2]> = vec![[None; 2]; walls.len()];
    let mut state = vec![State::New; walls.len()];
    for wall in 0..walls.len() {
        settle(walls, wall, &mut given, &mut state, snags);
    }
    given
}

#[derive(Clone, Copy, PartialEq)]
enum State {
    New,
    Open,
    Done,
}

/// Settles one wall, after those whose grid it carries on.
fn settle(
    walls: &[Counted<'_>],
    wall: usize,
    given: &mut [[Option<f64>; 2]],
    state: &mut [State],
    snags: &mut Vec<Snag>,
) {
    // A chain of walls is walked with a list of its own, so that a long one needs no deep stack.
    let mut chain = vec![wall];
    while let Some(&now) = chain.last() {
        if state[now] == State::Done {
            chain.pop();
            continue;
        }
        state[now] = State::Open;
        let ahead = (0..2)
            .filter_map(|end| carried_from(walls, now, end))
            .map(|(other, _)| other)
            .find(|other| state[*other] == State::New);
        if let Some(other) = ahead {
            chain.push(other);
            continue;
        }
        for end in 0..2 {
            given[now][end] = match walls[now].wall.grid_from {
                GridFrom::FrameEnd | GridFrom::Inset(_) => None,
                GridFrom::BoardedFace => boarded_face(walls, now, end),
                GridFrom::InLine => carried_from(walls, now, end)
                    .filter(|(other, _)| state[*other] == State::Done)
                    .map(|(other, there)| carried(walls, now, end, other, there, given[other])),
            };
        }
        let this = &walls[now];
        let wants = this.wall.grid_from == GridFrom::InLine;
        if wants && !(0..2).any(|end| given[now][end].is_some()) {
            let name = &this.wall.name;
            let message = format!("Wall {name} has no grid to carry on where it is counted from");
            let remedy = "Count from the end of its frame, or put the odd bay at its other end.";
            let of = ItemRef::Wall(name.clone());
            let at = if this.counts_from(0) { this.along.low } else { this.along.high };
            snags.push(Snag::new(Code::GridNotCarried, of, message, remedy).in_wall(name, at));
        }
        state[now] = State::Done;
        chain.pop();
    }
}

/// The wall, and its end, whose grid `wall` carries on at `end`.
fn carried_from(walls: &[Counted<'_>], wall: usize, end: usize) -> Option<(usize, usize)> {
    let this = &walls[wall];
    if this.wall.grid_from != GridFrom::InLine || !this.counts_from(end) {
        return None;
    }
    let Meets::InLine(name) = &this.ends[end].meets else { return None };
    let other = walls.iter().position(|w| w.wall.name == *name)?;
    let is_there = |e: &usize| {
        let meets = &walls[other].ends[*e].meets;
        walls[other].node(*e) == this.node(end)
            && matches!(meets, Meets::InLine(back) if *back == this.wall.name)
    };
    Some((other, (0..2).find(is_there)?))
}

/// Where the boards that come through the node from the end `there` of `other` started, as a station of
/// `wall`, beyond its `end`.
fn carried(
    walls: &[Counted<'_>],
    wall: usize,
    end: usize,
    other: usize,
    there: usize,
    given: [Option<f64>; 2],
) -> f64 {
    let from = &walls[other];
    let stations = boards_from(from.wall, from.along, from.centres(), given);
    let far = match from.wall.odd_bay {
        OddBay::AtEnd => 0,
        OddBay::AtStart => 1,
        OddBay::Split => 1 - there,
        OddBay::Beside(_) => there,
    };
    // How far into the other wall, which a negative inset makes less than nothing.
    let inward = if there == 0 { 1.0 } else { -1.0 };
    let back = (stations[far] - from.strip.node_station(there)) * inward;
    let outward = if end == 0 { -1.0 } else { 1.0 };
    walls[wall].strip.node_station(end) + outward * back
}

/// The finished face of the wall that is boarded first at `end`; `None` when that is this wall, or none
/// stands there.
fn boarded_face(walls: &[Counted<'_>], wall: usize, end: usize) -> Option<f64> {
    let this = &walls[wall];
    let (name, gives_way) = match &this.ends[end].meets {
        Meets::Butts(name) => (name, true),
        Meets::Through(name) | Meets::Mitres(name) => (name, false),
        _ => return None,
    };
    let other = walls.iter().find(|w| w.wall.name == *name)?;
    let there = (0..2).find(|e| other.node(*e) == this.node(end));
    let (mine, theirs) =
        (faces::rank(this.wall, end), there.map_or(1, |e| faces::rank(other.wall, e)));
    if mine < theirs || (mine == theirs && !gives_way) {
        return None;
    }
    // Seen from the other wall this one goes off to its left or its right; that face it shows.
    let out = -this.strip.outward(end);
    let shown = if cross(other.strip.place.along, out) > 0.0 {
        other.strip.frame.high + other.makeup.left.thickness()
    } else {
        other.strip.frame.low - other.makeup.right.thickness()
    };
    let along = other.strip.place.along;
    let at = this.strip.meets_line(other.strip.place.plan(0.0, shown), along)?;
    let towards = there.map(|e| cross(this.strip.place.along, -other.strip.outward(e)) > 0.0);
    let (low, high) = (at[0].min(at[1]), at[0].max(at[1]));
    let station = match towards.filter(|_| !gives_way) {
        Some(left) => at[usize::from(left)],
        None if end == 0 => high,
        None => low,
    };
    let inside = if end == 0 { station - this.along.low } else { this.along.high - station };
    (inside > -SAME && inside < this.along.length()).then_some(station)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_split_starts_boards_so_that_they_end_on_studs() {
        // 3100 at 400: 350 at either end; the first board is cut to 350 + 800 = 1150.
        let [from, to] = split(Span::between(0.0, 3100.0), 400.0);
        assert_eq!((from, to), (-50.0, 3150.0));
        // A whole number of bays is no different from any other grid.
        assert_eq!(split(Span::between(0.0, 3200.0), 400.0), [0.0, 3200.0]);
        assert_eq!(split(Span::between(0.0, 3200.0), 0.0), [0.0, 3200.0]);
    }

    #[test]
    fn boards_of_1200_and_of_4_ft() {
        assert_eq!(board_width(400.0), 1200.0);
        assert_eq!(board_width(406.4), 1219.2);
    }
}
