//! Where the pieces of a bar lie on it: those with slanted ends turned so that they lie against each other.

use super::blank::open_end;
use super::planning::{Bar, BarPiece};
use crate::document::{SawSettings, Timber};

/// A piece as it lies on its bar.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Laid {
    /// Which of the bar's pieces.
    pub piece: usize,
    /// From where to where along the bar, from its trimmed end, point to point, mm.
    pub from: f64,
    /// See `from`.
    pub to: f64,
    /// How much further along the bar the upper corner of its first end lies than the lower one, mm; below 0 less far.
    pub starts: f64,
    /// The same of its other end.
    pub ends: f64,
}

impl Laid {
    /// Its corners in order round it: how far along the bar, mm, and whether at its upper edge.
    pub fn outline(&self) -> [(f64, bool); 4] {
        [
            (self.from + self.starts.max(0.0), true),
            (self.to - (-self.ends).max(0.0), true),
            (self.to - self.ends.max(0.0), false),
            (self.from + (-self.starts).max(0.0), false),
        ]
    }
}

/// An end as it lies: the way it leans, mm, and what may lie against it and save how much.
#[derive(Clone, Copy)]
struct Lean {
    by: f64,
    open: Option<(u16, f64)>,
}

fn leans(piece: &BarPiece, timber: &Timber, kerf: f64) -> [Lean; 2] {
    [0, 1].map(|at| {
        let end = &piece.ends[at];
        let by = match end.bevel == 0.0 {
            true => end.mitre.tan() * timber.depth(),
            false => end.bevel.tan() * timber.thickness(),
        };
        Lean { by, open: open_end(piece, at, timber, kerf) }
    })
}

impl Bar {
    /// Where its pieces lie, one after another.
    pub fn laid(&self, timber: &Timber, saw: &SawSettings) -> Vec<Laid> {
        let mut laid: Vec<Laid> = Vec::new();
        // The last end, where another may lie against it.
        let mut before: Option<Lean> = None;
        let mut at = 0.0;
        for (i, piece) in self.pieces.iter().enumerate() {
            let [mut first, mut last] = leans(piece, timber, saw.kerf);
            let like = |end: &Lean| end.open.map(|(like, _)| like);
            let meets = |end: &Lean| {
                before.filter(|b| like(b).is_some() && like(b) == like(end)).zip(end.open)
            };
            let lone = first.open.is_some() && last.open.is_none();
            if meets(&first).is_none() && (meets(&last).is_some() || lone) {
                // Half a turn in the plane of the bar, so that this end lies against the last, or is open for the next; each
                // keeps its lean.
                (first, last) = (last, first);
            }
            let mut from = at;
            if let Some((against, (_, saves))) = meets(&first) {
                from -= saves;
                if against.by * first.by < 0.0 {
                    // Rolled over, so that both lean the same way.
                    (first.by, last.by) = (-first.by, -last.by);
                }
            }
            let to = from + piece.on_bar;
            laid.push(Laid { piece: i, from, to, starts: first.by, ends: last.by });
            before = Some(last);
            at = to + saw.kerf;
        }
        laid
    }

    /// Brings pieces together whose ends lie against each other, each where the first of them is: of those with one slanted end two
    /// by two, those with two between them.
    pub(super) fn nest(&mut self, timber: &Timber, kerf: f64) {
        let like = |p: &BarPiece| -> Option<(u16, usize)> {
            let ends = [0, 1].map(|at| open_end(p, at, timber, kerf));
            let (kind, _) = ends[0].or(ends[1])?;
            Some((kind, ends.iter().flatten().count()))
        };
        let mut left: Vec<BarPiece> = std::mem::take(&mut self.pieces);
        while !left.is_empty() {
            let Some((kind, _)) = like(&left[0]) else {
                self.pieces.push(left.remove(0));
                continue;
            };
            let of = |p: &BarPiece| like(p).is_some_and(|l| l.0 == kind);
            let (mut alike, others): (Vec<_>, Vec<_>) = left.into_iter().partition(of);
            left = others;
            // One with one, all with two, one with one; then pairs.
            alike.sort_by_key(|p| like(p).map(|l| l.1));
            let singles = alike.iter().filter(|p| like(p).is_some_and(|l| l.1 == 1)).count();
            let doubles = alike.split_off(singles);
            let rest = alike.split_off(alike.len().min(1));
            self.pieces.extend(alike);
            self.pieces.extend(doubles);
            self.pieces.extend(rest);
        }
    }
}
