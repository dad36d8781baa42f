//! What happens where walls meet: where each frame stops, on which line it is cut, who runs through, and
//! which timber is owed.
//!
//! At a meeting every wall is one or two *arms* that leave the point. Going round the point, the left face
//! of one arm meets the right face of the next in a corner; an arm that nobody lets through is cut on the line
//! between its two corners.
//!
//! ```text
//!    through ════════════╗          ╲   ╲  mitre: both cut on the line
//!                        ║           ╲╱──╲─────  from corner to corner
//!    butting ────────────╢            ╲___╲____
//! ```

use crate::document::{EndRule, Face, Post, Wall, WallEnd};
use crate::id::{ItemRef, Name};
use crate::math::{PlanPoint, PlanVector, SAME, SQUARE, area, cross, left_of, left_part, meet};
use crate::snag::{Code, Snag};
use crate::span::Span;

use super::ends::{End, Meets, Strip};
use super::meetings::{EndOf, Meeting};
use super::{Backing, BackingKind, Break};

/// Two walls that meet more sharply than this are not mitred: the spike would be long and weak. Common
/// practice: half of a right angle.
const SHARPEST_MITRE: f64 = std::f64::consts::FRAC_PI_4;
/// A cut through the frame runs no further along it than this many times its depth: sharper, and the plates
/// would end in a splinter. Common practice.
const LONGEST_SPIKE: f64 = 2.5;
/// Faces of two walls that turn little should cross within this many depths of their node.
const FAR_CORNER: f64 = 2.0;
/// Two walls hardly turn when the cosine of the angle between them is below this: 20 degrees off straight.
const HARDLY_TURNS: f64 = -0.94;
/// An overlap smaller than this is rounding, mm².
const NOTHING: f64 = 0.01;

/// What has been settled of each wall so far.
pub(super) struct Settled<'a> {
    pub(super) walls: Vec<&'a Wall>,
    pub(super) strips: Vec<Strip>,
    pub(super) ends: Vec<[Option<End>; 2]>,
    pub(super) breaks: Vec<Vec<Break>>,
    pub(super) backings: Vec<Vec<Backing>>,
    pub(super) snags: Vec<Snag>,
}

/// A wall, or half of one, as it leaves a meeting.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Arm {
    wall: usize,
    /// The end that is here; `None` for a wall that passes.
    end: Option<usize>,
    /// Unit direction away from the meeting.
    out: PlanVector,
    /// True when that is the wall's own direction.
    forward: bool,
}

impl Arm {
    /// The wall's face on the left or right hand, walking away from the meeting.
    fn face(&self, left: bool) -> Face {
        if left == self.forward { Face::Left } else { Face::Right }
    }
}

fn wall_end(end: usize) -> WallEnd {
    if end == 0 { WallEnd::Start } else { WallEnd::End }
}

impl Settled<'_> {
    fn name(&self, wall: usize) -> Name {
        self.walls[wall].name.clone()
    }

    fn rule(&self, arm: &Arm) -> EndRule {
        match arm.end {
            Some(0) => self.walls[arm.wall].at_from,
            Some(_) => self.walls[arm.wall].at_to,
            None => EndRule::Through,
        }
    }

    fn arm(&self, (wall, end): EndOf) -> Arm {
        let out = -self.strips[wall].outward(end);
        Arm { wall, end: Some(end), out, forward: end == 0 }
    }

    /// The two halves of a wall that passes a meeting.
    fn passing(&self, wall: usize) -> [Arm; 2] {
        let along = self.strips[wall].place.along;
        [
            Arm { wall, end: None, out: along, forward: true },
            Arm { wall, end: None, out: -along, forward: false },
        ]
    }

    fn set(&mut self, arm: &Arm, at: [f64; 2], meets: Meets) {
        let Some(end) = arm.end.filter(|_| at.iter().all(|s| s.is_finite())) else { return };
        let depth = self.strips[arm.wall].frame.length();
        let mut at = at;
        if (at[0] - at[1]).abs() > LONGEST_SPIKE * depth {
            // Square at the short point.
            at = [if end == 0 { at[0].max(at[1]) } else { at[0].min(at[1]) }; 2];
            let message = format!(
                "Wall {} meets what it stands against so sharply that it is cut square: a wedge is left open",
                self.name(arm.wall)
            );
            let remedy = "Fill the wedge with an offcut on site, or turn the wall.";
            let snag = self.snag(Code::AngledJunction, arm, message, remedy);
            self.snags.push(snag);
        }
        self.ends[arm.wall][end] = Some(End { at, meets, housing: 0.0 });
    }

    /// Where the arm's right and left wall faces meet the given face of another arm; `None` when they
    /// run parallel.
    fn on_face_of(&self, arm: &Arm, other: &Arm, face: Face) -> Option<[f64; 2]> {
        let strip = &self.strips[other.wall];
        self.strips[arm.wall].meets_line(strip.face_point(face), strip.place.along)
    }

    /// The cut of an arm on the line between two corners: its left face meets the right face of
    /// `next`, its right face the left face of `before`, as one walks away from the meeting.
    fn corner_to_corner(&self, arm: &Arm, before: &Arm, next: &Arm) -> [f64; 2] {
        let strip = &self.strips[arm.wall];
        let node = arm.end.map_or(0.0, |end| strip.node_station(end));
        // [right, left] of the wall; walking backwards its left hand is the arm's right.
        let (own_left, own_right) = if arm.forward { (1, 0) } else { (0, 1) };
        let mut at = [node; 2];
        if let Some(meets) = self.on_face_of(arm, next, next.face(false)) {
            at[own_left] = meets[own_left];
        }
        if let Some(meets) = self.on_face_of(arm, before, before.face(true)) {
            at[own_right] = meets[own_right];
        }
        at
    }

    /// The cut of one of two arms that are mitred: on the line through both corners of their faces, or, where
    /// faces that hardly turn and do not line up would cross far away, on the line through the node that
    /// halves the turn.
    fn mitre(&self, this: &Arm, that: &Arm) -> [f64; 2] {
        let strip = &self.strips[this.wall];
        let is_far = |arm: &Arm, other: &Arm| {
            let (strip, cut) = (&self.strips[arm.wall], self.corner_to_corner(arm, other, other));
            let node = arm.end.map_or(0.0, |end| strip.node_station(end));
            cut.iter().any(|s| (s - node).abs() > FAR_CORNER * strip.frame.length())
        };
        let turns_little = this.out.dot(&that.out) < -std::f64::consts::FRAC_1_SQRT_2;
        let on_bisector =
            this.end.filter(|_| turns_little && (is_far(this, that) || is_far(that, this)));
        on_bisector
            .and_then(|end| strip.meets_line(strip.node(end), left_of(this.out - that.out)))
            .unwrap_or_else(|| self.corner_to_corner(this, that, that))
    }

    /// Settles one meeting.
    pub(super) fn meeting(&mut self, meeting: &Meeting) {
        let mut arms: Vec<Arm> = meeting.ends.iter().map(|&e| self.arm(e)).collect();
        if self.lie_over_each_other(&arms) {
            return;
        }
        let pair = match meeting.passing.first() {
            Some(&wall) => {
                let halves = self.passing(wall);
                arms.extend(halves);
                Some(halves)
            }
            None => self.pair(&arms),
        };
        let Some([a, b]) = pair else { return };
        if arms.len() == 2 && !self.is_straight(&a, &b) {
            self.corner(a, b);
            return;
        }
        for (this, that) in [(a, b), (b, a)] {
            let (at, meets) = if self.is_straight(&a, &b) {
                let station = this.end.map_or(0.0, |end| self.strips[this.wall].node_station(end));
                ([station; 2], Meets::InLine(self.name(that.wall)))
            } else {
                (self.mitre(&this, &that), Meets::Mitres(self.name(that.wall)))
            };
            self.set(&this, at, meets);
        }
        let round = self.round(&arms);
        let mut settled: Vec<Arm> = vec![a, b];
        for arm in arms.iter().filter(|arm| **arm != a && **arm != b) {
            let at = round.iter().position(|other| other == arm).unwrap_or(0);
            let before = round[(at + round.len() - 1) % round.len()];
            let next = round[(at + 1) % round.len()];
            let cut = self.corner_to_corner(arm, &before, &next);
            let cut = self.clear_of(arm, cut, &settled);
            let against = if [before, next].contains(&a) { a } else { b };
            self.set(arm, cut, Meets::Butts(self.name(against.wall)));
            self.owe(&a, arm, BackingKind::Tee);
            if b.wall != a.wall {
                self.owe(&b, arm, BackingKind::Tee);
            }
            settled.push(*arm);
        }
        if arms.len() > 2 && !self.is_straight(&a, &b) {
            let names: Vec<String> =
                arms.iter().map(|arm| self.name(arm.wall).to_string()).collect();
            let message = format!(
                "Walls {} end at one place with none of them straight through: a wedge is left open between them",
                names.join(", ")
            );
            let remedy = "Fill the wedge with an offcut, or let two of them run in one line.";
            let snag = self.snag(Code::AngledJunction, &arms[0], message, remedy);
            self.snags.push(snag);
        }
    }

    /// Settles the ends of walls whose node stands in a post: each stops at the face it comes up to, and its
    /// plates are let into that face where they come onto it with their whole width and clear of the others.
    pub(super) fn at_post(&mut self, meeting: &Meeting, post: &Post) {
        let outline = outline(post);
        let mut housed: Vec<[PlanPoint; 4]> = Vec::new();
        let mut settled: Vec<Arm> = meeting.passing.iter().map(|&w| self.passing(w)[0]).collect();
        for &(wall, end) in &meeting.ends {
            let (arm, strip) = (self.arm((wall, end)), self.strips[wall]);
            let node = strip.node(end);
            let sides = (0..4).map(|i| (outline[i], outline[(i + 1) % 4] - outline[i]));
            // The side through which the wall's line leaves the post.
            let leaves = sides
                .filter(|(p, d)| {
                    cross(*d, arm.out) < 0.0
                        && meet(node, arm.out, *p, *d).is_some_and(|t| t >= -SAME)
                        && meet(*p, *d, node, arm.out).is_some_and(|t| (0.0..=1.0).contains(&t))
                })
                .min_by(|x, y| {
                    let squareness = |(_, d): &(PlanPoint, PlanVector)| {
                        -cross(*d, arm.out).abs() / d.norm().max(SAME)
                    };
                    squareness(x).total_cmp(&squareness(y))
                });
            let cut = leaves
                .and_then(|(p, d)| strip.meets_line(p, d))
                .unwrap_or([strip.node_station(end); 2]);
            let cut = self.clear_of(&arm, cut, &settled);
            self.set(&arm, cut, Meets::Post(post.name.clone()));
            if let Some(set) = self.ends[wall][end].as_mut().filter(|_| post.housing > 0.0) {
                let deep = strip.outward(end).dot(&strip.place.along) * post.housing;
                let (face, bottom) = (set.at, set.at.map(|s| s + deep));
                let shape = if end == 0 {
                    strip.outline(bottom, face)
                } else {
                    strip.outline(face, bottom)
                };
                let share = |with: &[PlanPoint]| area(&clipped(&shape, with));
                if share(&outline) >= area(&shape) - NOTHING
                    && housed.iter().all(|other| share(other) <= NOTHING)
                {
                    set.housing = post.housing;
                    housed.push(shape);
                }
            }
            settled.push(arm);
        }
    }

    /// Breaks the frame of a wall where a post stands in it.
    pub(super) fn post_in_wall(&mut self, wall: usize, post: &Post) {
        let strip = self.strips[wall];
        let own = [&self.ends[wall][0], &self.ends[wall][1]];
        let is_own = |end: &&Option<End>| matches!(end, Some(End { meets: Meets::Post(name), .. }) if *name == post.name);
        if own.iter().any(is_own) {
            return;
        }
        let within = strip.outline([0.0; 2], [strip.length; 2]);
        let shared = clipped(&outline(post), &within);
        if area(&shared) <= NOTHING {
            return;
        }
        let stations = spread(shared.iter().map(|p| strip.place.wall(*p).0));
        let at = [[stations.low; 2], [stations.high; 2]];
        // Plates are let into it where its faces are square to the wall and as wide as the frame.
        let whole = stations.length() * strip.frame.length();
        let housing = if area(&shared) >= whole - NOTHING { post.housing } else { 0.0 };
        self.breaks[wall].push(Break { at, with: ItemRef::Post(post.name.clone()), housing });
    }

    /// Breaks the frame of `wall` where `through` crosses it.
    pub(super) fn crossing(&mut self, through: usize, wall: usize) {
        let (t, w) = (self.strips[through], self.strips[wall]);
        let on = |face: Face| w.meets_line(t.face_point(face), t.place.along);
        let (Some(a), Some(b)) = (on(Face::Left), on(Face::Right)) else { return };
        let at = if a[0] + a[1] <= b[0] + b[1] { [a, b] } else { [b, a] };
        let with = ItemRef::Wall(self.name(through));
        self.breaks[wall].push(Break { at, with, housing: 0.0 });
        let halves = self.passing(wall);
        let through = self.passing(through)[0];
        for half in &halves {
            self.owe(&through, half, BackingKind::Tee);
        }
    }

    /// Says so when two arms run out in the same direction.
    fn lie_over_each_other(&mut self, arms: &[Arm]) -> bool {
        let all =
            arms.iter().enumerate().flat_map(|(i, a)| arms[i + 1..].iter().map(move |b| (a, b)));
        let over =
            |(a, b): &(&Arm, &Arm)| cross(a.out, b.out).abs() <= SQUARE && a.out.dot(&b.out) > 0.0;
        let Some((a, b)) = all.filter(over).map(|(a, b)| (*a, *b)).next() else { return false };
        let message =
            format!("Walls {} and {} lie over each other", self.name(a.wall), self.name(b.wall));
        let snag = self.snag(Code::WallsCross, &b, message, "Move one of them, or take it away.");
        self.snags.push(snag);
        true
    }

    /// Two walls that carry straight on through the meeting.
    fn is_straight(&self, a: &Arm, b: &Arm) -> bool {
        cross(a.out, b.out).abs() <= SQUARE && a.out.dot(&b.out) < 0.0
    }

    /// The two arms that are joined first, and past which the others must stop: those in one line, else
    /// those that turn least; one that is to run through goes before one that is not.
    fn pair(&self, arms: &[Arm]) -> Option<[Arm; 2]> {
        let all =
            arms.iter().enumerate().flat_map(|(i, a)| arms[i + 1..].iter().map(move |b| [*a, *b]));
        let rank = |[a, b]: &[Arm; 2]| {
            let wanted = [a, b].into_iter().any(|arm| self.rule(arm) == EndRule::Through);
            let unwanted = [a, b].into_iter().any(|arm| self.rule(arm) == EndRule::Butt);
            let turn = a.out.dot(&b.out);
            let straight = self.is_straight(a, b);
            // The turn in steps, so that rounding decides nothing.
            (
                u8::from(!straight),
                u8::from(!wanted),
                u8::from(unwanted),
                (turn * 1e6).round() as i64,
            )
        };
        all.min_by_key(rank)
    }

    /// A corner of two walls: square ones butt, others are cut on the line through both corners of their
    /// faces, unless they are told who runs through or meet too sharply.
    fn corner(&mut self, a: Arm, b: Arm) {
        // Walls that hardly turn have no side to butt against.
        let turns = a.out.dot(&b.out) > HARDLY_TURNS;
        let butts = |arm: &Arm| matches!(self.rule(arm), EndRule::Through | EndRule::Butt);
        let asked = turns && (butts(&a) || butts(&b));
        let mitre_asked = [a, b].iter().any(|arm| self.rule(arm) == EndRule::Mitre);
        let is_square = a.out.dot(&b.out).abs() <= SQUARE;
        let between = cross(a.out, b.out).atan2(a.out.dot(&b.out)).abs();
        if mitre_asked || !(asked || is_square || between < SHARPEST_MITRE) {
            for (this, that) in [(a, b), (b, a)] {
                let cut = self.mitre(&this, &that);
                self.set(&this, cut, Meets::Mitres(self.name(that.wall)));
            }
            return;
        }
        let rank = |arm: &Arm| match self.rule(arm) {
            EndRule::Through => 0,
            EndRule::Auto | EndRule::Mitre => 1,
            EndRule::Butt => 2,
        };
        let (through, butting) = if rank(&b) < rank(&a) { (b, a) } else { (a, b) };
        // The butting wall leaves on the through wall's left hand or its right.
        let on_left = cross(through.out, butting.out) > 0.0;
        if let Some(cut) = self.on_face_of(&butting, &through, through.face(on_left)) {
            self.set(&butting, cut, Meets::Butts(self.name(through.wall)));
        }
        if let Some(mut cut) = self.on_face_of(&through, &butting, butting.face(on_left)) {
            let depth = self.strips[through.wall].frame.length();
            if (cut[0] - cut[1]).abs() > 1.5 * depth {
                // Too sharp for a spike: square, just past the other's outer face.
                let inner = usize::from(through.face(on_left) == Face::Left);
                cut = [cut[inner]; 2];
            }
            self.set(&through, cut, Meets::Through(self.name(butting.wall)));
        }
        let end = wall_end(through.end.unwrap_or(0));
        self.owe(&through, &butting, BackingKind::Corner(end));
    }

    /// The arms in order round the meeting, anticlockwise.
    fn round(&self, arms: &[Arm]) -> Vec<Arm> {
        let mut round = arms.to_vec();
        round.sort_by(|a, b| {
            a.out.y.atan2(a.out.x).total_cmp(&b.out.y.atan2(b.out.x)).then(a.wall.cmp(&b.wall))
        });
        round
    }

    /// Moves a cut along its wall until the wall stands clear of the arms settled before it.
    fn clear_of(&self, arm: &Arm, cut: [f64; 2], settled: &[Arm]) -> [f64; 2] {
        let strip = &self.strips[arm.wall];
        let Some(end) = arm.end else { return cut };
        let mut cut = cut;
        for other in settled {
            let theirs = self.outline_of(other);
            let far = [strip.node_station(1 - end); 2];
            let own = if end == 0 { strip.outline(cut, far) } else { strip.outline(far, cut) };
            let shared = clipped(&theirs, &own);
            if area(&shared) <= NOTHING {
                continue;
            }
            let inward = if end == 0 { 1.0 } else { -1.0 };
            let past = shared.iter().map(|p| {
                let (s, n) = strip.place.wall(*p);
                (s - super::ends::cut_at(cut, n, strip.frame)) * inward
            });
            let by = past.fold(0.0, f64::max) * inward;
            cut = cut.map(|s| s + by);
        }
        cut
    }

    /// What an arm covers on the plan, as far as it is settled.
    fn outline_of(&self, arm: &Arm) -> [PlanPoint; 4] {
        let strip = &self.strips[arm.wall];
        let cut = |end: usize| {
            let settled = self.ends[arm.wall][end].as_ref().filter(|_| arm.end == Some(end));
            settled.map_or([strip.node_station(end); 2], |e| e.at)
        };
        strip.outline(cut(0), cut(1))
    }

    /// Timber that `wall` owes to the arm `to`, which stops against it.
    fn owe(&mut self, wall: &Arm, to: &Arm, kind: BackingKind) {
        let (w, other) = (self.strips[wall.wall], self.strips[to.wall]);
        let face = if cross(w.place.along, to.out) > 0.0 { Face::Left } else { Face::Right };
        // Where the other frame's two faces land on this wall's near face.
        let near = w.face_point(face);
        let lands = |n: f64| meet(near, w.place.along, other.place.plan(0.0, n), other.place.along);
        if let (Some(a), Some(b)) = (lands(other.frame.low), lands(other.frame.high)) {
            let (origin, _) = w.place.wall(near);
            let span = Span::between(a, b).moved(origin);
            let with = self.name(to.wall);
            self.backings[wall.wall].push(Backing { kind, with, span, face });
        }
    }

    fn snag(&self, code: Code, arm: &Arm, message: String, remedy: &str) -> Snag {
        let name = self.name(arm.wall);
        let station = self.strips[arm.wall].node_station(arm.end.unwrap_or(0));
        Snag::new(code, ItemRef::Wall(name.clone()), message, remedy).in_wall(&name, station)
    }

    /// Says that two walls lie over each other where neither ends.
    pub(super) fn overlap(&mut self, a: usize, b: usize) {
        let message = format!("Wall {} lies over wall {}", self.name(b), self.name(a));
        let arm = self.arm((b, 0));
        let snag = self.snag(Code::WallsCross, &arm, message, "Move one of them, or take it away.");
        self.snags.push(snag);
    }
}

/// A post's outline on the plan, anticlockwise.
pub fn outline(post: &Post) -> [PlanPoint; 4] {
    let (sin, cos) = post.turn_deg.to_radians().sin_cos();
    let (x, y) = (
        PlanVector::new(cos, sin) * post.size.0 / 2.0,
        PlanVector::new(-sin, cos) * post.size.1 / 2.0,
    );
    [post.at - x - y, post.at + x - y, post.at + x + y, post.at - x + y]
}

/// What two convex outlines, both anticlockwise, share.
fn clipped(a: &[PlanPoint], b: &[PlanPoint]) -> Vec<PlanPoint> {
    let mut shared = a.to_vec();
    for (i, &p) in b.iter().enumerate() {
        shared = left_part(&shared, p, b[(i + 1) % b.len()] - p);
    }
    shared
}

fn spread(values: impl Iterator<Item = f64>) -> Span {
    values.fold(Span { low: f64::INFINITY, high: f64::NEG_INFINITY }, |s, v| Span {
        low: s.low.min(v),
        high: s.high.max(v),
    })
}
