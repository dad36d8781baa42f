//! What happens at a node and at a tee: who runs through, who stops where, and which timber is owed.
//!
//! ```text
//!    through wall   ════════════╗
//!                               ║   the butting wall stops at the
//!    butting wall   ────────────╢   through wall's near face
//! ```

use crate::document::{EndRule, Wall, WallEnd};
use crate::id::{ItemRef, Name};
use crate::snag::{Code, Snag};

use super::ends::{End, Meets, Strip, opposite};
use super::meetings::EndOf;
use super::{Backing, BackingKind};

/// What has been settled of each wall so far.
pub(super) struct Settled<'a> {
    pub(super) walls: Vec<&'a Wall>,
    pub(super) strips: Vec<Strip>,
    pub(super) ends: Vec<[Option<End>; 2]>,
    pub(super) backings: Vec<Vec<Backing>>,
    pub(super) snags: Vec<Snag>,
}

fn wall_end(end: usize) -> WallEnd {
    if end == 0 { WallEnd::Start } else { WallEnd::End }
}

impl Settled<'_> {
    fn name(&self, wall: usize) -> Name {
        self.walls[wall].name.clone()
    }

    fn rule(&self, (wall, end): EndOf) -> EndRule {
        if end == 0 { self.walls[wall].at_from } else { self.walls[wall].at_to }
    }

    fn set(&mut self, (wall, end): EndOf, station: f64, meets: Meets) {
        if station.is_finite() {
            self.ends[wall][end] = Some(End { station, meets });
        }
    }

    /// Two walls that carry straight on through the node.
    fn in_line(&self, a: EndOf, b: EndOf) -> bool {
        let (u, v) = (self.strips[a.0].outward(a.1), self.strips[b.0].outward(b.1));
        self.strips[a.0].is_parallel_to(v) && u.dot(&v) < 0.0
    }

    /// Settles all the ends that share a node.
    pub(super) fn node(&mut self, ends: &[EndOf]) {
        let pairs = |this: &Self| -> Option<(EndOf, EndOf)> {
            let all = ends
                .iter()
                .enumerate()
                .flat_map(|(i, &a)| ends[i + 1..].iter().map(move |&b| (a, b)));
            let straight: Vec<_> = all.filter(|&(a, b)| this.in_line(a, b)).collect();
            let wanted = |e: EndOf| this.rule(e) == EndRule::Through;
            straight
                .iter()
                .copied()
                .find(|&(a, b)| wanted(a) || wanted(b))
                .or(straight.first().copied())
        };
        if let Some((a, b)) = pairs(self) {
            for (this, that) in [(a, b), (b, a)] {
                let station = self.strips[this.0].node_station(this.1);
                self.set(this, station, Meets::InLine(self.name(that.0)));
            }
            for &other in ends.iter().filter(|&&e| e != a && e != b) {
                self.butt(other, a.0, None);
                self.owe_tee(b.0, other);
            }
            return;
        }
        let Some(through) = self.through(ends) else { return };
        let others: Vec<EndOf> = ends.iter().copied().filter(|&e| e != through).collect();
        if others.len() > 1 {
            self.angled(through, "More than two walls end at one node");
        }
        for &other in &others {
            self.corner(through, other);
        }
    }

    /// Who runs through at a corner: the one that asks to, or is not asked to give way, or comes
    /// first in the job.
    fn through(&self, ends: &[EndOf]) -> Option<EndOf> {
        let rank = |e: &&EndOf| match self.rule(**e) {
            EndRule::Through => 0,
            EndRule::Auto => 1,
            EndRule::Butt => 2,
        };
        ends.iter().min_by_key(rank).copied()
    }

    fn corner(&mut self, through: EndOf, butting: EndOf) {
        let (t, b) = (self.strips[through.0], self.strips[butting.0]);
        if t.is_parallel_to(b.place.along) {
            let message = format!(
                "Walls {} and {} lie over each other",
                self.name(through.0),
                self.name(butting.0)
            );
            self.snags.push(self.snag(
                Code::WallsCross,
                butting,
                message,
                "Move one of them, or take it away.",
            ));
            return;
        }
        // The through wall runs to the outer face of the other, the face turned away from its body.
        let outer = opposite(b.face_towards(t.place.plan(t.length / 2.0, 0.0)));
        if let Some(at) = t.meets_face(&b, outer) {
            // A sharp turn would send the outer corner far away: two depths past the node will do.
            let limit = 2.0 * (t.frame.length() + b.frame.length());
            let node = t.node_station(through.1);
            let station = Strip::stop_beyond(through.1, at).clamp(node - limit, node + limit);
            self.set(through, station, Meets::Through(self.name(butting.0)));
        }
        self.butt(butting, through.0, Some(wall_end(through.1)));
    }

    /// Stops `this` end at the near face of wall `against`, which owes it timber: at a corner when
    /// `corner` says at which of its ends, otherwise behind a tee.
    pub(super) fn butt(&mut self, this: EndOf, against: usize, corner: Option<WallEnd>) {
        let (strip, other) = (self.strips[this.0], self.strips[against]);
        if strip.is_parallel_to(other.place.along) {
            return;
        }
        let face = other.face_towards(strip.place.plan(strip.length / 2.0, 0.0));
        if let Some(at) = strip.meets_face(&other, face) {
            self.set(this, Strip::stop_short(this.1, at), Meets::Butts(self.name(against)));
        }
        match corner {
            Some(end) => self.owe(against, this, BackingKind::Corner(end)),
            None => self.owe_tee(against, this),
        }
        if !strip.is_square_to(other.place.along) {
            self.angled(
                this,
                &format!(
                    "Wall {} meets wall {} at an angle",
                    self.name(this.0),
                    self.name(against)
                ),
            );
        }
    }

    fn owe_tee(&mut self, wall: usize, to: EndOf) {
        self.owe(wall, to, BackingKind::Tee);
    }

    fn owe(&mut self, wall: usize, to: EndOf, kind: BackingKind) {
        let (w, other) = (self.strips[wall], self.strips[to.0]);
        let face = w.face_towards(other.place.plan(other.length / 2.0, 0.0));
        // Where the other frame's two faces land on this wall's near face.
        let on_face = |n: f64| {
            let p = other.place.plan(0.0, n);
            let near = w.place.plan(
                0.0,
                if face == crate::document::Face::Left { w.frame.high } else { w.frame.low },
            );
            crate::math::meet(near, w.place.along, p, other.place.along)
        };
        if let (Some(a), Some(b)) = (on_face(other.frame.low), on_face(other.frame.high)) {
            let span = crate::span::Span::between(a, b);
            let with = self.name(to.0);
            self.backings[wall].push(Backing { kind, with, span, face });
        }
    }

    fn angled(&mut self, at: EndOf, what: &str) {
        let message = format!("{what}; the frames are cut square and leave a wedge");
        let snag = self.snag(
            Code::AngledJunction,
            at,
            message,
            "Fill the wedge on site, or make the walls square.",
        );
        self.snags.push(snag);
    }

    pub(super) fn snag(
        &self,
        code: Code,
        (wall, end): EndOf,
        message: String,
        remedy: &str,
    ) -> Snag {
        let name = self.name(wall);
        let station = self.strips[wall].node_station(end);
        Snag::new(code, ItemRef::Wall(name.clone()), message, remedy).in_wall(&name, station)
    }
}
