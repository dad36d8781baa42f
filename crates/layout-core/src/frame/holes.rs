//! The openings of a wall as the framer will build them: the head, the sill, and the clear hole
//! between its uprights.

use super::heights::Heights;
use crate::document::{HeadLay, OpeningStuds};
use crate::id::{ItemRef, Name};
use crate::math::{LEAST_PIECE, SAME};
use crate::resolve::{Hole, WallSpec, between_cuts};
use crate::snag::{Code, Snag};
use crate::span::Span;

/// An opening that will be framed.
#[derive(Clone, Debug)]
pub(super) struct FramedHole {
    pub(super) name: Name,
    /// The hole itself.
    pub(super) span: Span,
    /// From full-height stud to full-height stud: the hole, its jacks and any packing.
    pub(super) clear: Span,
    /// Thickness of the jack at each side; 0 for none.
    pub(super) jacks: [f64; 2],
    /// Bottom of the hole; `None` when it goes to the floor.
    pub(super) sill: Option<f64>,
    /// Top of the hole.
    pub(super) top: f64,
    /// The head over it; `None` when the head plate serves.
    pub(super) head: Option<Span>,
    /// How the head lies.
    pub(super) head_lay: HeadLay,
    /// The sills under it, together.
    pub(super) sill_piece: Option<Span>,
    /// The pocket its leaf slides into, and the thickness of the slats either side of it.
    pub(super) pocket: Option<(Span, f64)>,
}

impl FramedHole {
    /// What the hole covers in height.
    pub(super) fn void(&self) -> Span {
        Span { low: self.sill.unwrap_or(f64::NEG_INFINITY), high: self.top }
    }
}

/// The openings of a wall, in order of station.
pub(super) struct Holes {
    pub(super) list: Vec<FramedHole>,
    /// The full-height studs beside them.
    pub(super) studs: Vec<Span>,
    /// The unbroken parts of the frame, between the short points of their ends.
    pub(super) runs: Vec<Span>,
    /// Where the frame is interrupted, from end stud to end stud.
    pub(super) breaks: Vec<Span>,
    /// Where no upright may stand: the holes with what bounds them, and the breaks.
    pub(super) gaps: Vec<Span>,
}

impl Holes {
    /// Holes of `spec` that can be framed; the rest are snags.
    pub(super) fn of(spec: &WallSpec, heights: &Heights, snags: &mut Vec<Snag>) -> Holes {
        let mut list: Vec<FramedHole> = Vec::new();
        for hole in &spec.holes {
            let mut look = Look::at(spec, hole, snags);
            if let Some(mut framed) = look.framed(heights)
                && list.last().is_none_or(|last| look.clears(&mut framed, last))
            {
                list.push(framed);
            }
        }
        let runs: Vec<Span> = spec.runs().into_iter().map(between_cuts).collect();
        let mut studs = Vec::new();
        for run in &runs {
            let in_run = |h: &FramedHole| run.contains(h.span.centre());
            let first = list.iter().position(in_run).unwrap_or(list.len());
            let count = list[first..].iter().take_while(|h| in_run(h)).count();
            studs.extend(bound(spec, *run, &mut list[first..first + count], snags));
        }
        let breaks: Vec<Span> =
            runs.windows(2).map(|r| Span { low: r[0].high, high: r[1].low }).collect();
        let gaps = list.iter().map(|h| h.clear).chain(breaks.iter().copied()).collect();
        Holes { list, studs, runs, breaks, gaps }
    }
}

/// One opening, looked at: what can be framed of it, and what there is to say about it.
struct Look<'a> {
    spec: &'a WallSpec,
    hole: &'a Hole,
    /// Thickness of a stud, and of a jack where openings have them.
    t: f64,
    jack: f64,
    /// “Door D1”.
    what: String,
    snags: &'a mut Vec<Snag>,
}

impl<'a> Look<'a> {
    fn at(spec: &'a WallSpec, hole: &'a Hole, snags: &'a mut Vec<Snag>) -> Look<'a> {
        let t = spec.makeup.timber.thickness();
        let jack = match spec.makeup.opening_studs {
            OpeningStuds::Single => 0.0,
            OpeningStuds::Double => t,
        };
        let what = format!("{}{} {}", hole.label[..1].to_uppercase(), &hole.label[1..], hole.name);
        Look { spec, hole, t, jack, what, snags }
    }

    fn snag(&mut self, code: Code, message: String, remedy: &str, value: f64, limit: f64) {
        let of = ItemRef::Opening(self.hole.name.clone());
        self.snags.push(
            Snag::new(code, of, message, remedy)
                .in_wall(&self.spec.name, self.hole.span.centre())
                .measured(value, limit),
        );
    }

    /// What can be framed of it by itself; its clear width is settled with its neighbours.
    fn framed(&mut self, heights: &Heights) -> Option<FramedHole> {
        let span = self.within_frame()?;
        let Span { low: foot, high: under } = heights.clear(span);
        let top = self.below_head_plate(under);
        if !self.stands_up(foot, top) {
            return None;
        }
        let (makeup, t, sill) = (&self.spec.makeup, self.t, self.hole.sill);
        // The head runs on over the jacks: the rake must be clear of it there as well.
        let beside = heights.clear(span.grown(self.jack)).high;
        let (head, head_lay) = self.head(top, beside - top);
        // As many sills as there is room for.
        let sills = (1..=makeup.sills.max(1)).rev().map(|n| f64::from(n) * t);
        let sill_piece = sill.and_then(|s| {
            sills.into_iter().find(|d| s - d >= foot - SAME).map(|d| Span { low: s - d, high: s })
        });
        Some(FramedHole {
            name: self.hole.name.clone(),
            span,
            clear: span,
            // Where the head plate serves there is nothing for a jack to carry.
            jacks: if head.is_some() { [self.jack; 2] } else { [0.0; 2] },
            sill,
            top,
            head,
            head_lay,
            sill_piece,
            pocket: self.pocket(span),
        })
    }

    /// The head over a hole with its top at `top` and `room` above that: as the make-up wants it, flat where it
    /// does not fit on edge, or the head plate itself.
    fn head(&mut self, top: f64, room: f64) -> (Option<Span>, HeadLay) {
        let makeup = &self.spec.makeup;
        let timber = makeup.opening_head.as_ref().unwrap_or(&makeup.timber);
        let wanted = match makeup.opening_head_lay {
            // Two that are too thick for the frame leave room for one.
            HeadLay::Doubled if 2.0 * timber.thickness() > makeup.timber.depth() + SAME => {
                HeadLay::OnEdge
            }
            lay => lay,
        };
        // The slats of a pocket stand at the faces: one timber in the middle would miss them.
        let slides_in = self.hole.pocket().is_some();
        let wanted = if slides_in && wanted == HeadLay::OnEdge { HeadLay::Flat } else { wanted };
        let (flat, edge) = (timber.thickness(), timber.depth());
        if wanted != HeadLay::Flat && room >= edge - SAME {
            return (Some(Span::from(top, edge)), wanted);
        }
        let head = (room >= flat - SAME).then(|| Span::from(top, flat));
        if wanted != HeadLay::Flat && room > SAME {
            let lies =
                if head.is_some() { "its head is laid flat" } else { "the head plate serves" };
            let message = format!(
                "{} has {} over it, its head on edge needs {}: {lies}",
                self.what,
                self.spec.units.with_unit(room),
                self.spec.units.show(edge)
            );
            let remedy =
                "Lower the opening, or choose a shallower head; a long span wants it checked.";
            self.snag(Code::HeadLaidFlat, message, remedy, room, edge);
        }
        (head, HeadLay::Flat)
    }

    /// The pocket of a sliding door in a hole that came out as wide as `span`.
    fn pocket(&mut self, span: Span) -> Option<(Span, f64)> {
        let door = self.hole.door.as_ref()?;
        let (_, pocket) = self.hole.parts(span);
        let (needs, depth) = (door.pocket_depth(), self.spec.frame.length());
        // Slats that would meet in the middle leave no pocket at all.
        let slat = door.slat.min(depth / 2.0);
        // One that is no wider than a stud has no room for a leaf: its size has a snag of its own.
        let pocket = pocket.filter(|p| p.length() >= self.t - SAME)?;
        if depth < needs - SAME {
            let message = format!(
                "{} slides into a frame {} deep: its leaf, air and slats need {}",
                self.what,
                self.spec.units.with_unit(depth),
                self.spec.units.show(needs)
            );
            let remedy = "Use a deeper stud, thinner slats, or let it slide on the face.";
            self.snag(Code::PocketTooShallow, message, remedy, depth, needs);
        }
        Some((pocket, slat))
    }

    /// What of it lies between the end studs of the run it is in.
    fn within_frame(&mut self) -> Option<Span> {
        let (hole, beside) = (self.hole.span, self.t + self.jack);
        let runs = self.spec.runs().into_iter().map(between_cuts);
        let shares = |run: &Span| run.intersection(hole).length();
        let along = runs.max_by(|a, b| shares(a).total_cmp(&shares(b)))?;
        let past = (along.low + beside - hole.low).max(hole.high - (along.high - beside));
        if past > SAME {
            let (what, wall) = (&self.what, &self.spec.name);
            let (code, message) = if past > beside + SAME {
                let over = self.spec.units.with_unit(past - beside);
                (Code::OpeningPastEnd, format!("{what} runs {over} past the end of wall {wall}"))
            } else {
                let short = self.spec.units.with_unit(past);
                let message = format!(
                    "{what} leaves {short} too little for its stud at the end of wall {wall}"
                );
                (Code::OpeningNoStud, message)
            };
            let remedy = "Move it along, make it narrower, or make the wall longer.";
            self.snag(code, message, remedy, past, 0.0);
        }
        let inside = Span { low: along.low + self.t, high: along.high - self.t };
        Some(hole.intersection(inside)).filter(|span| span.length() >= LEAST_PIECE)
    }

    /// Its top, brought down under the head plate.
    fn below_head_plate(&mut self, under: f64) -> f64 {
        let top = self.hole.top;
        if top > under + SAME {
            let message = format!(
                "{} is {} too tall: its top is above the underside of the head plate",
                self.what,
                self.spec.units.with_unit(top - under)
            );
            let remedy = "Make it lower, or raise the head of the wall.";
            self.snag(Code::OpeningTooTall, message, remedy, top, under);
        }
        if top > under + SAME { under } else { top }
    }

    /// True when its sill, if it has one, and its top come in that order above the sole plate.
    fn stands_up(&mut self, foot: f64, top: f64) -> bool {
        let (label, name) = (self.hole.label, &self.hole.name);
        match self.hole.sill {
            Some(sill) if sill < foot - SAME || sill > top - LEAST_PIECE => {
                let message = format!(
                    "The sill of {label} {name} is not between the sole plate and its own head"
                );
                let remedy = "Set its sill above the sole plate and its top above its sill.";
                self.snag(Code::OpeningUpsideDown, message, remedy, sill, top);
                false
            }
            None if top < foot + LEAST_PIECE => {
                let message = format!("The top of {label} {name} is not above the sole plate");
                self.snag(Code::OpeningUpsideDown, message, "Make it taller.", top, foot);
                false
            }
            _ => true,
        }
    }

    /// True when it can be framed beside the opening before it, narrower where no stud goes between them; says so.
    fn clears(&mut self, framed: &mut FramedHole, last: &FramedHole) -> bool {
        let room = framed.span.low - last.span.high;
        let needs = self.t + 2.0 * self.jack;
        if room < needs - SAME {
            let message = format!(
                "{} stands {} from {}: a stud between them needs {}",
                self.what,
                self.spec.units.with_unit(room),
                last.name,
                self.spec.units.show(needs)
            );
            self.snag(Code::OpeningsClash, message, "Move one of them.", room, needs);
        }
        if room >= self.t - SAME {
            return true;
        }
        // What is left of it beside a stud for both, while that is more than half.
        let span = Span { low: last.span.high + self.t, high: framed.span.high };
        if span.length() < framed.span.length() / 2.0 || span.length() < LEAST_PIECE {
            return false;
        }
        (framed.span, framed.clear) = (span, span);
        let (_, pocket) = self.hole.parts(span);
        framed.pocket = framed.pocket.and_then(|(_, slat)| {
            pocket.filter(|p| p.length() >= self.t - SAME).map(|p| (p, slat))
        });
        true
    }
}

/// Settles what stands either side of every hole: its own full-height stud, one shared with the next hole, or
/// the end stud of the frame. Gives the studs, and sets each hole's jacks and clear width.
fn bound(spec: &WallSpec, run: Span, list: &mut [FramedHole], snags: &mut Vec<Snag>) -> Vec<Span> {
    let t = spec.makeup.timber.thickness();
    let inside = Span { low: run.low + t, high: run.high - t };
    let mut studs = Vec::new();
    let pack = |hole: &FramedHole, beside: &str, gap: f64, snags: &mut Vec<Snag>| {
        if gap > SAME {
            let message =
                format!("Opening {} stands {} off {beside}", hole.name, spec.units.with_unit(gap));
            let of = ItemRef::Opening(hole.name.clone());
            snags.push(
                Snag::new(
                    Code::StudPacked,
                    of,
                    message,
                    "Pack the gap solid, or close the opening up to the stud.",
                )
                .in_wall(&spec.name, hole.span.centre())
                .measured(gap, 0.0),
            );
        }
    };
    let last = list.len().saturating_sub(1);
    for i in 0..list.len() {
        if i == 0 {
            let hole = &mut list[0];
            let room = hole.span.low - inside.low;
            if room < hole.jacks[0] - SAME {
                hole.jacks[0] = 0.0;
            }
            if room - hole.jacks[0] >= t - SAME {
                hole.clear.low = hole.span.low - hole.jacks[0];
                studs.push(Span { low: hole.clear.low - t, high: hole.clear.low });
            } else {
                hole.clear.low = inside.low;
                pack(hole, "the end stud", room - hole.jacks[0], snags);
            }
        }
        if i == last {
            let hole = &mut list[i];
            let room = inside.high - hole.span.high;
            if room < hole.jacks[1] - SAME {
                hole.jacks[1] = 0.0;
            }
            if room - hole.jacks[1] >= t - SAME {
                hole.clear.high = hole.span.high + hole.jacks[1];
                studs.push(Span::from(hole.clear.high, t));
            } else {
                hole.clear.high = inside.high;
                pack(hole, "the end stud", room - hole.jacks[1], snags);
            }
            continue;
        }
        let (before, after) = list.split_at_mut(i + 1);
        let (a, b) = (&mut before[i], &mut after[0]);
        let room = b.span.low - a.span.high;
        if room < t + a.jacks[1] + b.jacks[0] - SAME {
            (a.jacks[1], b.jacks[0]) = (0.0, 0.0);
        }
        a.clear.high = a.span.high + a.jacks[1];
        b.clear.low = b.span.low - b.jacks[0];
        let rest = b.clear.low - a.clear.high;
        if rest >= 2.0 * t - SAME {
            studs.push(Span::from(a.clear.high, t));
            studs.push(Span { low: b.clear.low - t, high: b.clear.low });
        } else if rest >= t - SAME {
            // One stud for both, tight to the wider opening; the other's head runs on to it.
            if a.span.length() >= b.span.length() {
                studs.push(Span::from(a.clear.high, t));
                b.clear.low = a.clear.high + t;
                pack(b, "the stud it shares", rest - t, snags);
            } else {
                studs.push(Span { low: b.clear.low - t, high: b.clear.low });
                a.clear.high = b.clear.low - t;
                pack(a, "the stud it shares", rest - t, snags);
            }
        }
    }
    studs
}
