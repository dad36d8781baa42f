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
use crate::document::Sole;
use crate::id::ItemRef;
use crate::math::LEAST_PIECE;
use crate::profile::Profile;
use crate::resolve::WallSpec;
use crate::snag::{Code, Snag};
use crate::units::mm;

/// One course of plates.
#[derive(Clone, Debug)]
pub(super) struct Course {
    pub(super) role: Role,
    /// Its underside.
    pub(super) low: Profile,
    /// True when it stops either side of an opening that goes to the floor.
    pub(super) cut_at_doors: bool,
    /// Which course of its kind it is, from 0: splices of one keep clear of those of the one below.
    pub(super) layer: usize,
}

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
        let mut course = |role, low: Profile, layer| {
            // What the build-up buries may run on through a doorway; what stands above FFL may not.
            let cut_at_doors = role != Role::HeadPlate && low.highest() + t > crate::math::SAME;
            courses.push(Course { role, low, cut_at_doors, layer });
        };

        let mut riser = None;
        let foot = match spec.sole {
            Sole::Direct { packers, .. } => {
                let mut top = spec.floor.raised(packers);
                for layer in 0..usize::from(spec.makeup.sole_plates.max(1)) {
                    course(Role::SolePlate, top.clone(), layer);
                    top = top.raised(t);
                }
                top
            }
            Sole::Raised { packers, top } => {
                let lower = spec.floor.raised(packers);
                let lower_top = lower.raised(t);
                course(Role::LowerSole, lower, 0);
                let wanted = Profile::level(top - t);
                let room = wanted.lowest() - lower_top.highest();
                let upper = if room >= LEAST_PIECE {
                    riser = Some((lower_top, wanted.clone()));
                    wanted
                } else {
                    snags.push(
                        Snag::new(
                            Code::NoRiser,
                            wall.clone(),
                            format!(
                                "The raised sole of wall {} leaves {} mm for its riser; the upper sole is laid on the lower",
                                spec.name,
                                mm(room)
                            ),
                            "Raise the upper sole, or stand the wall on a single sole plate.",
                        )
                        .in_wall(&spec.name, spec.along().centre())
                        .measured(room, LEAST_PIECE),
                    );
                    lower_top
                };
                course(Role::UpperSole, upper.clone(), 0);
                upper.raised(t)
            }
        };
        let layers = usize::from(spec.makeup.head_plates.max(1));
        let under = spec.head.raised(-t * layers as f64);
        for layer in 0..layers {
            course(Role::HeadPlate, under.raised(t * layer as f64), layer);
        }

        if let Some(lowest) = courses.first().map(|c| c.low.lowest())
            && lowest < -crate::math::SAME
        {
            snags.push(
                Snag::new(
                    Code::TimberBelowFloor,
                    wall.clone(),
                    format!(
                        "The lowest timber of wall {} is {} mm below the finished floor",
                        spec.name,
                        mm(-lowest)
                    ),
                    "Keep it dry: a damp-proof strip under it, and screed or insulation held off it.",
                )
                .in_wall(&spec.name, spec.along().centre())
                .at_height(lowest)
                .measured(lowest, 0.0),
            );
        }
        let clear = under.lowest() - foot.highest();
        if clear.is_nan() || clear < LEAST_PIECE {
            snags.push(
                Snag::new(
                    Code::NoHeight,
                    wall,
                    format!(
                        "Wall {} has {} mm between its plates: no room for studs",
                        spec.name,
                        mm(clear)
                    ),
                    "Raise its head or lower its sole.",
                )
                .in_wall(&spec.name, spec.along().centre())
                .measured(clear, LEAST_PIECE),
            );
            return None;
        }
        Some(Heights { courses, foot, under, riser })
    }

    /// Clear height of the uprights at station `s`.
    pub(super) fn clear(&self, s: f64) -> f64 {
        self.under.at(s) - self.foot.at(s)
    }
}
