//! The openings of a wall as the framer will build them: the head, the sill, and the clear hole
//! between its uprights.

use super::heights::Heights;
use crate::document::OpeningStuds;
use crate::id::{ItemRef, Name};
use crate::math::{LEAST_PIECE, SAME};
use crate::resolve::WallSpec;
use crate::snag::{Code, Snag};
use crate::span::Span;
use crate::units::mm;

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
    /// The sill under it.
    pub(super) sill_piece: Option<Span>,
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
}

impl Holes {
    /// Holes of `spec` that can be framed; the rest are snags.
    pub(super) fn of(spec: &WallSpec, heights: &Heights, snags: &mut Vec<Snag>) -> Holes {
        let makeup = &spec.makeup;
        let t = makeup.timber.thickness();
        let jack = match makeup.opening_studs {
            OpeningStuds::Single => 0.0,
            OpeningStuds::Double => t,
        };
        let head_depth = makeup.opening_head.as_ref().unwrap_or(&makeup.timber).thickness();
        let along = spec.along();
        let mut list: Vec<FramedHole> = Vec::new();
        for hole in &spec.holes {
            let mut snag = |code, message: String, remedy: &str, value: f64, limit: f64| {
                snags.push(
                    Snag::new(code, ItemRef::Opening(hole.name.clone()), message, remedy)
                        .in_wall(&spec.name, hole.span.centre())
                        .measured(value, limit),
                );
            };
            let named =
                |label: &str| format!("{}{} {}", label[..1].to_uppercase(), &label[1..], hole.name);
            let what = named(hole.label);
            let past = (along.low + t + jack - hole.span.low)
                .max(hole.span.high - (along.high - t - jack));
            if past > SAME {
                let (code, message) = if past > t + jack + SAME {
                    (
                        Code::OpeningPastEnd,
                        format!(
                            "{what} runs {} mm past the end of wall {}",
                            mm(past - t - jack),
                            spec.name
                        ),
                    )
                } else {
                    (
                        Code::OpeningNoStud,
                        format!(
                            "{what} leaves {} mm too little for its stud at the end of wall {}",
                            mm(past),
                            spec.name
                        ),
                    )
                };
                snag(
                    code,
                    message,
                    "Move it along, make it narrower, or make the wall longer.",
                    past,
                    0.0,
                );
            }
            let hole_span =
                hole.span.intersection(Span { low: along.low + t, high: along.high - t });
            if hole_span.length() < LEAST_PIECE {
                continue;
            }
            let at = hole_span.centre();
            let (foot, under) = (heights.foot.at(at), heights.under.at(at));
            let top = if hole.top > under + SAME {
                let over = hole.top - under;
                snag(
                    Code::OpeningTooTall,
                    format!(
                        "{what} is {} mm too tall: its top is above the underside of the head plate",
                        mm(over)
                    ),
                    "Make it lower, or raise the head of the wall.",
                    hole.top,
                    under,
                );
                under
            } else {
                hole.top
            };
            if let Some(sill) = hole.sill
                && (sill < foot - SAME || sill > top - LEAST_PIECE)
            {
                snag(
                    Code::OpeningUpsideDown,
                    format!(
                        "The sill of {} {} is not between the sole plate and its own head",
                        hole.label, hole.name
                    ),
                    "Set its sill above the sole plate and its top above its sill.",
                    sill,
                    top,
                );
                continue;
            }
            if hole.sill.is_none() && top < foot + LEAST_PIECE {
                snag(
                    Code::OpeningUpsideDown,
                    format!("The top of {} {} is not above the sole plate", hole.label, hole.name),
                    "Make it taller.",
                    top,
                    foot,
                );
                continue;
            }
            if let Some(last) = list.last()
                && hole_span.low - last.span.high < t + 2.0 * jack - SAME
            {
                let room = hole_span.low - last.span.high;
                snag(
                    Code::OpeningsClash,
                    format!(
                        "{what} stands {} mm from {}: a stud between them needs {}",
                        mm(room),
                        last.name,
                        mm(t + 2.0 * jack)
                    ),
                    "Move one of them.",
                    room,
                    t + 2.0 * jack,
                );
                if room < SAME {
                    continue;
                }
            }
            let head = (under - top >= head_depth - SAME).then(|| Span::from(top, head_depth));
            let sill_piece =
                hole.sill.filter(|s| s - t >= foot - SAME).map(|s| Span { low: s - t, high: s });
            // Where the head plate serves there is nothing for a jack to carry.
            let jacks = if head.is_some() { [jack; 2] } else { [0.0; 2] };
            list.push(FramedHole {
                name: hole.name.clone(),
                span: hole_span,
                clear: hole_span,
                jacks,
                sill: hole.sill,
                top,
                head,
                sill_piece,
            });
        }
        let studs = bound(spec, t, &mut list, snags);
        Holes { list, studs }
    }
}

/// Settles what stands either side of every hole: its own full-height stud, one shared with the next hole, or
/// the end stud of the frame. Gives the studs, and sets each hole's jacks and clear width.
fn bound(spec: &WallSpec, t: f64, list: &mut [FramedHole], snags: &mut Vec<Snag>) -> Vec<Span> {
    let inside = Span { low: spec.along().low + t, high: spec.along().high - t };
    let mut studs = Vec::new();
    let pack = |hole: &FramedHole, beside: &str, gap: f64, snags: &mut Vec<Snag>| {
        if gap > SAME {
            let message = format!("Opening {} stands {} mm off {beside}", hole.name, mm(gap));
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
