//! The levels of one wall: its plates, and the clear height its uprights fill.
//!
//! ```text
//!   head plate(s)   ▭▭▭▭▭▭▭▭▭▭▭  head ── top of the head plate
//!                    │       │   under ─ studs stop here
//!                    │       │
//!   upper sole      ▭▭▭▭▭▭▭▭▭▭▭  foot ── studs stand here
//!   risers           ▯   ▯   ▯
//!   lower sole      ▭▭▭▭▭▭▭▭▭▭▭
//!   packers          ·   ·   ·   floor
//! ```

use super::Role;
use super::courses::Course;
use crate::document::{Sole, SolesAtDoors};
use crate::id::ItemRef;
use crate::math::{LEAST_PIECE, LEAST_STUD, SAME};
use crate::profile::Profile;
use crate::resolve::WallSpec;
use crate::snag::{Code, Snag};
use crate::span::Span;

/// The levels of one wall.
#[derive(Clone, Debug)]
pub(super) struct Heights {
    /// Plates, from the floor up.
    pub(super) courses: Vec<Course>,
    /// What the uprights stand on.
    pub(super) foot: Profile,
    /// What they stop under.
    pub(super) under: Profile,
    /// From the top of the lower sole to the underside of the upper, of a raised sole.
    pub(super) riser: Option<(Profile, Profile)>,
}

impl Heights {
    /// Works out the levels of `spec`; `None` when there is no room for studs at all.
    pub(super) fn of(spec: &WallSpec, snags: &mut Vec<Snag>) -> Option<Heights> {
        let t = spec.makeup.timber.thickness();
        let wall = ItemRef::Wall(spec.name.clone());
        let mut courses = Vec::new();
        // Plate `layer` of a stack of `plates` that lies on `base`, or hangs under it.
        let mut course = |role, base: &Profile, plates: usize, layer: usize| {
            let from =
                if role == Role::HeadPlate { layer as f64 - plates as f64 } else { layer as f64 };
            let stack = if role == Role::HeadPlate {
                Span { low: -t * plates as f64, high: 0.0 }
            } else {
                Span { low: 0.0, high: t * plates as f64 }
            };
            let up = Span::from(t * from, t);
            // What the build-up buries may run on through a doorway; what stands above FFL may not.
            let buried = spec.soles_at_doors == SolesAtDoors::BuriedRunThrough
                && base.highest() + up.high <= SAME;
            let cut_at_doors = role != Role::HeadPlate && !buried;
            courses.push(Course { role, base: base.clone(), up, stack, cut_at_doors, layer });
        };

        let mut riser = None;
        let foot = match spec.sole {
            Sole::Direct { .. } => {
                let base = spec.bed.clone();
                let plates = usize::from(spec.makeup.sole_plates.max(1));
                for layer in 0..plates {
                    course(Role::SolePlate, &base, plates, layer);
                }
                base.offset(t * plates as f64)
            }
            Sole::Raised { top, .. } => {
                let lower = spec.bed.clone();
                let lower_top = lower.offset(t);
                let wanted = Profile::level(top - t);
                let room = wanted.lowest() - lower_top.highest();
                if room >= LEAST_PIECE {
                    course(Role::LowerSole, &lower, 1, 0);
                    course(Role::UpperSole, &wanted, 1, 0);
                    riser = Some((lower_top, wanted.clone()));
                    wanted.offset(t)
                } else {
                    snags.push(
                        Snag::new(
                            Code::NoRiser,
                            wall.clone(),
                            format!(
                                "The raised sole of wall {} leaves {} for its riser; the upper sole is laid on the lower",
                                spec.name,
                                spec.units.with_unit(room)
                            ),
                            "Raise the upper sole, or stand the wall on a single sole plate.",
                        )
                        .in_wall(&spec.name, spec.along().centre())
                        .measured(room, LEAST_PIECE),
                    );
                    course(Role::LowerSole, &lower, 2, 0);
                    course(Role::UpperSole, &lower, 2, 1);
                    lower.offset(2.0 * t)
                }
            }
        };
        let layers = usize::from(spec.makeup.head_plates.max(1));
        let under = spec.head.offset(-t * layers as f64);
        for layer in 0..layers {
            course(Role::HeadPlate, &spec.head, layers, layer);
        }

        if let Some(lowest) = courses.first().map(|c| c.base.lowest())
            && lowest < -SAME
        {
            snags.push(
                Snag::new(
                    Code::TimberBelowFloor,
                    wall.clone(),
                    format!(
                        "The lowest timber of wall {} is {} below the finished floor",
                        spec.name,
                        spec.units.with_unit(-lowest)
                    ),
                    "Keep it dry: a damp-proof strip under it, and screed or insulation held off it.",
                )
                .in_wall(&spec.name, spec.along().centre())
                .at_height(lowest)
                .measured(lowest, 0.0),
            );
        }
        let along = spec.along();
        let clear = under.range(along).high - foot.range(along).low;
        let least = if under.is_level() && foot.is_level() { LEAST_PIECE } else { LEAST_STUD };
        if clear.is_nan() || clear < least {
            snags.push(
                Snag::new(
                    Code::NoHeight,
                    wall,
                    format!(
                        "Wall {} has {} between its plates: no room for studs",
                        spec.name,
                        spec.units.with_unit(clear)
                    ),
                    "Raise its head or lower its sole.",
                )
                .in_wall(&spec.name, spec.along().centre())
                .measured(clear, least),
            );
            return None;
        }
        Some(Heights { courses, foot, under, riser })
    }

    /// The clear stretch of height that is free all over `span`.
    pub(super) fn clear(&self, span: Span) -> Span {
        Span { low: self.foot.range(span).high, high: self.under.range(span).low }
    }
}
