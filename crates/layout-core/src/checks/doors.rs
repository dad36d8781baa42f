//! Doors and what is round them: swings, slides, architraves, the room beside a handle, pockets, clear widths.

use std::f64::consts::FRAC_PI_2;

use super::obstacles::{Corner2, Obstacle, Obstacles, Standing, Window};
use crate::document::{Door, DoorStyle, Face, Hinge, Job, Rule};
use crate::id::ItemRef;
use crate::math::SAME;
use crate::resolve::{Hole, Spot};
use crate::snag::{Code, Snag, capital};
use crate::span::Span;

/// What is nearer the face than this is the face, mm.
const SKIN: f64 = 5.0;
/// A swing may come this close to something, mm.
const BRUSH: f64 = 2.0;
/// How far an architrave stands off the face, mm. Common practice.
const MOULDING: f64 = 18.0;
/// A leaf that opens this far opens, radians.
const OPEN: f64 = 89.0 * FRAC_PI_2 / 90.0;

/// Every door of the layout against its own hole and all that stands round it.
pub(crate) fn doors(job: &Job, walls: &[Standing<'_>]) -> Vec<Snag> {
    let mut snags = Vec::new();
    let mut swings: Vec<Swing> = Vec::new();
    let mut obstacles = None;
    for wall in walls {
        for hole in &wall.spec.holes {
            let Some(door) = &hole.door else { continue };
            let everything = obstacles.get_or_insert_with(|| Obstacles::of(job, walls));
            let middle = wall.place.plan(hole.span.centre(), 0.0);
            let round = everything.round(middle, reach(hole, door), &wall.spec.name);
            let mut look = Look { wall, hole, door, round, snags: &mut snags };
            look.hole_size();
            look.clear_width();
            look.pocket();
            for face in [Face::Left, Face::Right] {
                look.architrave(face);
            }
            look.over_the_head();
            look.beside();
            match door.style {
                DoorStyle::Single | DoorStyle::Double => {
                    let leaves = door.leaves(hole.span);
                    for (hinge, leaf) in leaves {
                        let swing = Swing::of(wall, hole, door.opens, hinge, leaf);
                        look.swing(&swing);
                        look.against_leaves(&swing, &swings);
                        swings.push(swing);
                    }
                    look.nib();
                }
                DoorStyle::Sliding => look.slide(),
                DoorStyle::Pocket => {}
            }
        }
    }
    snags
}

/// How far from the middle of its hole anything may stand that matters to a door, mm: it slides
/// to its own width beside it, and then there are architraves, handles and the thickness of walls.
fn reach(hole: &Hole, door: &Door) -> f64 {
    2.0 * hole.span.length().max(door.leaf.0) + 1000.0
}

/// Offset of the finished face, and +1 to the left, −1 to the right.
fn face_of(wall: &Standing<'_>, face: Face) -> (f64, f64) {
    match face {
        Face::Left => (wall.spec.finished.high, 1.0),
        Face::Right => (wall.spec.finished.low, -1.0),
    }
}

/// A hung leaf and the quarter circle it sweeps.
struct Swing {
    of: ItemRef,
    /// The pivot, the way the shut leaf lies from it, and the way it opens.
    at: Corner2,
    width: f64,
}

impl Swing {
    fn of(wall: &Standing<'_>, hole: &Hole, face: Face, hinge: Hinge, leaf: Span) -> Swing {
        let (n, out) = face_of(wall, face);
        let (pivot, inwards) = match hinge {
            Hinge::Start => (leaf.low, 1.0),
            Hinge::End => (leaf.high, -1.0),
        };
        let at = Corner2::of(wall, pivot, n, inwards, out);
        Swing { of: ItemRef::Opening(hole.name.clone()), at, width: leaf.length() }
    }

    /// How far it opens before it meets the segment, radians; `None` when it clears it.
    fn meets(&self, segment: [[f64; 2]; 2]) -> Option<f64> {
        let reach = self.width - BRUSH;
        let quarter =
            Window { u: Span { low: 1.0, high: reach }, v: Span { low: SKIN, high: reach } };
        let [a, b] = quarter.clip(segment)?;
        // The part inside the circle; its angle changes one way along it.
        let (d, f) = ([b[0] - a[0], b[1] - a[1]], a);
        let (aa, bb) = (d[0] * d[0] + d[1] * d[1], f[0] * d[0] + f[1] * d[1]);
        let cc = f[0] * f[0] + f[1] * f[1] - reach * reach;
        let ends = if aa < SAME {
            if cc > 0.0 { return None } else { [0.0, 0.0] }
        } else {
            let root = (bb * bb - aa * cc).max(-1.0);
            if root <= 0.0 {
                return None;
            }
            let ends = [(-bb - root.sqrt()) / aa, (-bb + root.sqrt()) / aa];
            if ends[1] < 0.0 || ends[0] > 1.0 {
                return None;
            }
            [ends[0].max(0.0), ends[1].min(1.0)]
        };
        let angle = |t: f64| (f[1] + t * d[1]).atan2(f[0] + t * d[0]);
        let first = angle(ends[0]).min(angle(ends[1]));
        (first < OPEN).then_some(first)
    }
}

/// One door, looked at.
struct Look<'a> {
    wall: &'a Standing<'a>,
    hole: &'a Hole,
    door: &'a Door,
    /// What stands near, but for the wall it is in.
    round: Vec<&'a Obstacle>,
    snags: &'a mut Vec<Snag>,
}

impl Look<'_> {
    fn snag(&mut self, code: Code, message: String, remedy: &str, measured: Option<(f64, f64)>) {
        let of = ItemRef::Opening(self.hole.name.clone());
        let snag = Snag::new(code, of, message, remedy)
            .in_wall(&self.wall.spec.name, self.hole.doorway().centre());
        self.snags.push(match measured {
            Some((value, limit)) => snag.measured(value, limit),
            None => snag,
        });
    }

    fn hole_size(&mut self) {
        let (wide, high) = self.door.short_of();
        if wide.max(high) <= 0.0 {
            return;
        }
        let units = self.wall.spec.units;
        let much = match (wide > 0.0, high > 0.0) {
            (true, true) => format!(
                "{} too narrow and {} too low",
                units.with_unit(wide),
                units.with_unit(high)
            ),
            (true, false) => format!("{} too narrow", units.with_unit(wide)),
            _ => format!("{} too low", units.with_unit(high)),
        };
        let message =
            format!("The hole given for door {} is {much} for its leaf and lining", self.hole.name);
        let remedy = "Make the hole larger, or choose a smaller leaf or a thinner lining.";
        self.snag(Code::HoleTooSmall, message, remedy, Some((wide.max(high), 0.0)));
    }

    fn clear_width(&mut self) {
        let Some(wanted) = self.door.wanted else { return };
        let clear = self.door.clear_width();
        if clear < wanted - SAME {
            let message = format!(
                "Door {} gives {} clear where {} is wanted",
                self.hole.name,
                self.wall.spec.units.with_unit(clear),
                self.wall.spec.units.show(wanted)
            );
            let remedy = "Choose a wider leaf, or one that slides out of the way.";
            self.snag(Code::ClearWidthShort, message, remedy, Some((clear, wanted)));
        }
    }

    /// Boxes, pipes and fixings in the pocket.
    fn pocket(&mut self) {
        let Some(pocket) = self.hole.pocket() else { return };
        let inside = |s: &Spot| s.span.overlaps(pocket) && s.heights.low < self.hole.top;
        let fouled: Vec<&Spot> = self.wall.spec.spots.iter().filter(|s| inside(s)).collect();
        for spot in fouled {
            let what = if spot.sunk { "is in" } else { "is fixed over" };
            let message =
                format!("{} {what} the pocket of door {}", capital(&called(spot)), self.hole.name);
            let remedy = "Move it off the pocket, or fix it to the slats with screws too short to reach the leaf.";
            let share = spot.span.intersection(pocket).length();
            self.snag(Code::PocketFouled, message, remedy, Some((share, 0.0)));
        }
    }

    /// What the architrave of one face covers beside the doorway, and over it.
    fn covered(&self) -> (Span, f64) {
        let past = self.door.architrave_past().max(0.0);
        (self.hole.doorway().grown(past), self.hole.top + past)
    }

    fn architrave(&mut self, face: Face) {
        let past = self.door.architrave_past();
        if past <= SAME {
            return;
        }
        let doorway = self.hole.doorway();
        let (n, out) = face_of(self.wall, face);
        for (edge, along) in [(doorway.low, -1.0), (doorway.high, 1.0)] {
            let at = Corner2::of(self.wall, edge, n, along, out);
            let window =
                Window { u: Span { low: 0.0, high: past }, v: Span { low: SKIN, high: MOULDING } };
            if let Some((of, u)) = self.nearest(&at, &window, self.hole.top) {
                self.fouls_architrave(&of, past - u);
            }
        }
        let (covered, top) = self.covered();
        let spots = self.wall.spec.spots.iter().filter(|s| {
            s.face == face
                && s.span.overlaps(covered)
                && s.heights.low < top - SAME
                // In the doorway itself it is another matter.
                && !(s.span.overlaps(doorway) && s.heights.low < self.hole.top)
        });
        let fouled: Vec<(String, f64)> = spots
            .map(|s| {
                let beside = (doorway.low - s.span.high).max(s.span.low - doorway.high);
                let over = s.heights.low - self.hole.top;
                (called(s), past - beside.max(over).max(0.0))
            })
            .collect();
        for (what, by) in fouled {
            self.fouls_architrave(&what, by);
        }
    }

    fn fouls_architrave(&mut self, what: &str, by: f64) {
        let message = format!(
            "The architrave of door {} wants {} more than {what} leaves it",
            self.hole.name,
            self.wall.spec.units.with_unit(by)
        );
        let remedy = "Move the door, or use a narrower architrave or scribe it.";
        self.snag(Code::ArchitraveFouled, message, remedy, Some((by, 0.0)));
    }

    /// The architrave over the head against the ceiling.
    fn over_the_head(&mut self) {
        let (covered, top) = self.covered();
        let ceiling = self.wall.spec.ceiling.range(covered).low;
        // A hole that goes past it already is too tall.
        if top > ceiling + SAME && self.hole.top <= ceiling && self.door.architrave.width > SAME {
            self.fouls_architrave("the ceiling", top - ceiling);
        }
    }

    /// The architraves of two doors between which there is little wall.
    fn beside(&mut self) {
        let (covered, _) = self.covered();
        let before = self
            .wall
            .spec
            .holes
            .iter()
            .filter(|h| h.name != self.hole.name && h.span.centre() < self.hole.span.centre());
        let met: Vec<(String, f64)> = before
            .filter_map(|h| {
                let past = h.door.as_ref().map_or(0.0, |d| d.architrave_past().max(0.0));
                let theirs = h.doorway().grown(past);
                let shared = theirs.high - covered.low;
                let past_hole = h.span.high <= self.hole.span.low + SAME;
                (shared > SAME && past_hole).then(|| (format!("opening {}", h.name), shared))
            })
            .collect();
        for (what, by) in met {
            self.fouls_architrave(&what, by);
        }
    }

    fn swing(&mut self, swing: &Swing) {
        let mut first: Option<(f64, &Obstacle)> = None;
        let heights = self.leaf_heights();
        for o in self.round.iter().filter(|o| o.stands_in(heights)) {
            let hits = o.near(&swing.at, swing.width).filter_map(|s| swing.meets(s));
            let angle = hits.fold(f64::INFINITY, f64::min);
            if angle.is_finite() && first.as_ref().is_none_or(|f| angle < f.0) {
                first = Some((angle, *o));
            }
        }
        if let Some((angle, o)) = first {
            let what = o.called();
            let message = format!(
                "Door {} meets {what} when it is open {:.0}°",
                self.hole.name,
                angle.to_degrees()
            );
            let remedy = "Hang it on its other side, let it open the other way, or move it.";
            self.snag(Code::SwingFouled, message, remedy, None);
        }
    }

    fn leaf_heights(&self) -> Span {
        Span::from(self.door.threshold, self.door.leaf.1)
    }

    /// Leaves of other doors that sweep the same floor.
    fn against_leaves(&mut self, swing: &Swing, others: &[Swing]) {
        let mut met: Vec<ItemRef> = Vec::new();
        for other in others.iter().filter(|o| o.of != swing.of) {
            let apart = (other.at.origin - swing.at.origin).norm();
            if apart > other.width + swing.width || met.contains(&other.of) {
                continue;
            }
            let leaf = |step: u32| {
                let angle = f64::from(step) * FRAC_PI_2 / 12.0;
                let (sin, cos) = angle.sin_cos();
                let tip = other.at.origin + (other.at.u * cos + other.at.v * sin) * other.width;
                [swing.at.local(other.at.origin), swing.at.local(tip)]
            };
            if (1..=12).any(|step| swing.meets(leaf(step)).is_some()) {
                met.push(other.of.clone());
            }
        }
        for other in met {
            let message = format!(
                "The leaves of door {} and {} sweep the same floor",
                self.hole.name,
                other.label()
            );
            let remedy = "Hang one of them on its other side, or let it open the other way.";
            self.snag(Code::SwingFouled, message, remedy, None);
        }
    }

    /// The nearest thing along `u` in a window, and how far it is.
    fn nearest(&self, at: &Corner2, window: &Window, top: f64) -> Option<(String, f64)> {
        let heights = Span { low: 0.0, high: top };
        let reach = window.u.high.hypot(window.v.high);
        let mut best: Option<(&Obstacle, f64)> = None;
        for o in self.round.iter().filter(|o| o.stands_in(heights)) {
            for part in o.near(at, reach).filter_map(|s| window.clip(s)) {
                let u = part[0][0].min(part[1][0]);
                if best.is_none_or(|b| u < b.1) {
                    best = Some((*o, u));
                }
            }
        }
        best.map(|(o, u)| (o.called(), u))
    }

    /// Wall beside the handle on the side the door is pulled from.
    fn nib(&mut self) {
        if self.door.style != DoorStyle::Single {
            return;
        }
        let Some(&(hinge, leaf)) = self.door.leaves(self.hole.span).first() else { return };
        let (n, out) = face_of(self.wall, self.door.opens);
        let (edge, along) = match hinge {
            Hinge::Start => (leaf.high, 1.0),
            Hinge::End => (leaf.low, -1.0),
        };
        let at = Corner2::of(self.wall, edge, n, along, out);
        let rules = &self.wall.spec.rules;
        let least = rules.value(Rule::Nib);
        let window =
            Window { u: Span { low: 0.0, high: least }, v: Span { low: SKIN, high: least } };
        if let Some((what, nib)) = self.nearest(&at, &window, self.hole.top)
            && nib < least - SAME
        {
            let message = format!(
                "Door {} has {} beside its handle before {what}; access guidance asks {}",
                self.hole.name,
                self.wall.spec.units.with_unit(nib),
                self.wall.spec.units.show(least)
            );
            let remedy =
                "Where access guidance applies, move the door or hang it on its other side.";
            let source = rules.source(Rule::Nib);
            self.snag(Code::NibShort, message, remedy, Some((nib, least)));
            let snag = self.snags.pop().map(|snag| snag.by(source));
            self.snags.extend(snag);
        }
    }

    /// What a leaf that slides on the face runs into or over.
    fn slide(&mut self) {
        let Some(&(_, shut)) = self.door.leaves(self.hole.span).first() else { return };
        let open = self.door.slid_open(shut);
        let spec = &self.wall.spec;
        let (n, out) = face_of(self.wall, self.door.opens);
        let (from, along, way) = match self.door.hinge {
            Hinge::Start => (shut.high, -1.0, shut.high - open.low),
            Hinge::End => (shut.low, 1.0, open.high - shut.low),
        };
        let at = Corner2::of(self.wall, from, n, along, out);
        let depth = self.door.leaf.2 + MOULDING;
        let window = Window { u: Span { low: 0.0, high: way }, v: Span { low: SKIN, high: depth } };
        let heights = self.leaf_heights();
        let past = (spec.reach().low - open.low).max(open.high - spec.reach().high);
        let mut met: Vec<(String, f64)> = Vec::new();
        if let Some((what, u)) = self.nearest(&at, &window, heights.high) {
            met.push((what, way - u));
        } else if past > SAME {
            let message = format!(
                "Door {} slides {} past the end of wall {}",
                self.hole.name,
                self.wall.spec.units.with_unit(past),
                self.wall.spec.name
            );
            let remedy = "Let it slide the other way, move it, or let it slide into the wall.";
            self.snag(Code::SlideFouled, message, remedy, Some((past, 0.0)));
        }
        let parked = open.without(&[self.hole.span]);
        let covers = |span: Span| parked.iter().any(|p| p.overlaps(span));
        for h in spec.holes.iter().filter(|h| h.name != self.hole.name) {
            if covers(h.span) && h.sill.is_none_or(|s| s < heights.high) {
                met.push((format!("opening {}", h.name), h.span.intersection(open).length()));
            }
        }
        for s in spec.spots.iter().filter(|s| s.sunk && s.face == self.door.opens) {
            if covers(s.span) && s.heights.overlaps(heights) {
                met.push((called(s), s.span.intersection(open).length()));
            }
        }
        for (what, by) in met {
            let message = format!(
                "Door {} slides {} over or into {what}",
                self.hole.name,
                self.wall.spec.units.with_unit(by)
            );
            let remedy = "Let it slide the other way, move it, or let it slide into the wall.";
            self.snag(Code::SlideFouled, message, remedy, Some((by, 0.0)));
        }
    }
}

/// “socket X1”, “fitting Basin”.
fn called(spot: &Spot) -> String {
    match &spot.of {
        ItemRef::Point(name) => format!("{} {name}", spot.label),
        of => of.label(),
    }
}
