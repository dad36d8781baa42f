//! Drags of platforms: the whole, an edge, a hole, the level, and a new one.

use std::sync::Arc;

use layout_core::document::{Edit, Job, Platform};
use layout_core::math::{PlanVector, round_to};

use super::{Gesture, Grip, direction};

/// Nothing smaller is laid, mm: a click that trembled.
const LEAST: f64 = 150.0;

impl Gesture {
    pub(super) fn edit_platform(&self, base: &Job) -> Option<Edit> {
        match &self.grip {
            Grip::Platform(name) => {
                let mut p = Platform::clone(base.platform(name)?);
                p.corner = self.carried(p.corner, base);
                Some(Edit::PutPlatform(Arc::new(p)))
            }
            Grip::PlatformEdge { name, side } => {
                let p = base.platform(name)?;
                Some(Edit::PutPlatform(Arc::new(self.edge_moved(p, *side))))
            }
            Grip::PlatformHole(name) => {
                let (platform, hole) = base.platform_hole(name)?;
                let mut hole = hole.clone();
                let (du, dv) = own_shift(platform, self.shift());
                let by = PlanVector::new(du, dv);
                let by = match self.numbers()[..] {
                    [] => by,
                    [far] => direction(by) * far,
                    [x, y, ..] => PlanVector::new(x - hole.at.0, y - hole.at.1),
                };
                hole.at = (round_to(hole.at.0 + by.x, 0.01), round_to(hole.at.1 + by.y, 0.01));
                Some(Edit::PutPlatformHole { platform: platform.name.clone(), hole })
            }
            Grip::Level(name) => {
                let mut p = Platform::clone(base.platform(name)?);
                p.level = self.height(p.level);
                Some(Edit::PutPlatform(Arc::new(p)))
            }
            Grip::NewPlatform(platform) => {
                let (u, v) = own_shift(platform, self.shift());
                let (mut w, mut d) = (u.abs(), v.abs());
                match self.numbers()[..] {
                    [] => {}
                    [width] => w = width,
                    [width, depth, ..] => (w, d) = (width, depth),
                }
                if w < LEAST || d < LEAST {
                    return None;
                }
                let mut p = Platform::clone(platform);
                // The other corners lie where the hand is, whichever way it went.
                let back = (if u < 0.0 { -w } else { 0.0 }, if v < 0.0 { -d } else { 0.0 });
                p.corner = platform.plan(back.0, back.1);
                p.size = (round_to(w, 0.01), round_to(d, 0.01));
                // A bulkhead comes down along the wall it was begun at: its front is across.
                if p.bearings.0 != p.bearings.1 && (if p.spans_width() { u } else { v }) < 0.0 {
                    p.bearings = (p.bearings.1, p.bearings.0);
                }
                Some(Edit::PutPlatform(Arc::new(p)))
            }
            _ => None,
        }
    }

    /// The platform with one edge moved; holes keep their place on the plan.
    fn edge_moved(&self, p: &Platform, side: usize) -> Platform {
        let (u, v) = own_shift(p, self.shift());
        let along_width = side % 2 == 1;
        let was = if along_width { p.size.0 } else { p.size.1 };
        // Out of the platform at the far edges, into it at those by the corner.
        let grows = match side {
            0 => -v,
            1 => u,
            2 => v,
            _ => -u,
        };
        let now = self.numbers().first().copied().unwrap_or_else(|| round_to(was + grows, 0.01));
        let now = now.max(LEAST);
        let mut new = p.clone();
        if along_width {
            new.size.0 = now;
        } else {
            new.size.1 = now;
        }
        let by = now - was;
        let (du, dv) = match side {
            0 => (0.0, by),
            3 => (by, 0.0),
            _ => return new,
        };
        new.corner = p.plan(-du, -dv);
        for hole in &mut new.holes {
            hole.at = (hole.at.0 + du, hole.at.1 + dv);
        }
        new
    }
}

/// A shift on the plan along a platform's width and depth.
pub(super) fn own_shift(platform: &Platform, shift: PlanVector) -> (f64, f64) {
    platform.own(platform.corner + shift)
}
