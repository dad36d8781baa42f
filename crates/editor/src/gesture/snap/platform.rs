//! Platforms: their edges against the faces of frames and of the room.

use layout_core::document::Platform;
use layout_core::math::{PlanPoint, PlanVector, cross, left_of, round_to};

use super::plan::Ray;
use super::{Mark, Settled, Snap, Snapping};
use crate::gesture::{Gesture, Grip, direction};

impl Snapping<'_> {
    /// Settles a corner of a platform: in a corner of faces, on a face, else on the grid.
    pub fn face_corner(&self, p: PlanPoint) -> Settled {
        if self.held_off {
            return (self.on_grid(p), None);
        }
        self.on_rays(p, None, self.faces())
    }

    /// Faces of frames and of the room.
    fn faces(&self) -> Vec<Ray> {
        let mut rays: Vec<Ray> = self
            .job
            .shell
            .sides()
            .enumerate()
            .map(|(i, (a, b))| Ray {
                at: a,
                along: direction(b - a),
                label: format!("existing face {}", i + 1),
                within: Some((0.0, (b - a).norm())),
            })
            .collect();
        for w in &self.layout.walls {
            let along = w.spec.along();
            for n in [w.spec.frame.low, w.spec.frame.high] {
                rays.push(Ray {
                    at: w.place.plan(along.low, n),
                    along: w.place.along,
                    label: format!("frame of wall {}", w.name()),
                    within: Some((0.0, along.length())),
                });
            }
        }
        rays
    }

    pub(super) fn platform(&self, g: &Gesture, hand: PlanPoint) -> Settled {
        match &g.grip {
            Grip::NewPlatform(_) => self.face_corner(hand),
            Grip::Platform(name) => {
                let Some(p) = self.job.platform(name) else { return (hand, None) };
                // Whichever of its corners is nearest to a corner of faces leads.
                let shift = hand - g.from;
                let settled = p.corners().map(|c| (c, self.face_corner(c + shift)));
                let off = |s: &(PlanPoint, Settled)| (s.1.0 - (s.0 + shift)).norm();
                let snapped = settled.into_iter().filter(|s| s.1.1.is_some() && !self.held_off);
                let best = snapped.min_by(|a, b| {
                    let lines = |s: &(PlanPoint, Settled)| {
                        s.1.1.as_ref().map_or(0, |snap| snap.guides.len())
                    };
                    lines(b).cmp(&lines(a)).then(off(a).total_cmp(&off(b)))
                });
                match best {
                    Some((corner, (to, snap))) => (g.from + (to - corner), snap),
                    None => {
                        let to = self.on_grid(p.corner + shift);
                        (g.from + (to - p.corner), None)
                    }
                }
            }
            Grip::PlatformEdge { name, side } => match self.job.platform(name) {
                Some(p) => self.edge(g, hand, p, *side),
                None => (hand, None),
            },
            _ => {
                let step = self.step();
                let by = hand - g.from;
                (g.from + PlanVector::new(round_to(by.x, step), round_to(by.y, step)), None)
            }
        }
    }

    /// An edge moves sideways, up to faces it is parallel to.
    fn edge(&self, g: &Gesture, hand: PlanPoint, p: &Platform, side: usize) -> Settled {
        let corners = p.corners();
        let (a, b) = (corners[side % 4], corners[(side + 1) % 4]);
        let n = left_of(direction(b - a));
        let by = (hand - g.from).dot(&n);
        let mut marks = Vec::new();
        if !self.held_off {
            for ray in self.faces() {
                if cross(direction(b - a), ray.along).abs() < 1e-3 {
                    marks.push(Mark { value: (ray.at - a).dot(&n), label: ray.label });
                }
            }
        }
        let (to, label) = self.pick(marks, by);
        let guide = [a + n * to, b + n * to];
        (hand + n * (to - by), label.map(|label| Snap { label, guides: vec![guide] }))
    }
}
