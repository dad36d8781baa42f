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
    /// From full-height stud to full-height stud: the hole and its jacks.
    pub(super) clear: Span,
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
            // A jack that would stand in the end stud, or in what is beside it, is left out.
            let bounds = Span { low: along.low + t, high: along.high - t };
            let mut clear = hole_span.grown(jack).intersection(bounds);
            if let Some(last) = list.last_mut() {
                let room = hole_span.low - last.span.high;
                if room < t + 2.0 * jack - SAME {
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
                    last.clear.high = last.span.high;
                    clear.low = hole_span.low;
                }
            }
            let head = (under - top >= head_depth - SAME).then(|| Span::from(top, head_depth));
            let sill_piece =
                hole.sill.filter(|s| s - t >= foot - SAME).map(|s| Span { low: s - t, high: s });
            list.push(FramedHole {
                name: hole.name.clone(),
                span: hole_span,
                clear,
                sill: hole.sill,
                top,
                head,
                sill_piece,
            });
        }
        Holes { list }
    }
}
