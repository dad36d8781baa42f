//! Points of the plan: nodes and corners, faces and walls, square, in line and 45°.

use layout_core::id::Name;
use layout_core::math::{PlanPoint, PlanVector, cross, left_of, meet, round_to};

use super::{Mark, Settled, Snap, Snapping};
use crate::gesture::{direction, line_of};

/// A line to snap a point to.
pub(super) struct Ray {
    pub(super) at: PlanPoint,
    pub(super) along: PlanVector,
    pub(super) label: String,
    /// Only between these distances along it; `None` for all of it.
    pub(super) within: Option<(f64, f64)>,
}

impl Snapping<'_> {
    /// Settles a plan point. `start` is where the line being drawn began; `moving` the node in
    /// the hand.
    pub fn point(&self, p: PlanPoint, start: Option<PlanPoint>, moving: Option<&Name>) -> Settled {
        if self.held_off {
            return (self.on_grid(p), None);
        }
        let named = |at: PlanPoint, label: String| (at, Some(Snap { label, guides: Vec::new() }));
        let node = self.job.nodes.iter().filter(|n| moving != Some(&n.name));
        if let Some(n) = nearest_point(node, |n| n.at, p, self.reach) {
            return named(n.at, format!("end: node {}", n.name));
        }
        let corners: Vec<_> = self.job.shell.outline.iter().enumerate().collect();
        if let Some((i, c)) = nearest_point(corners.into_iter(), |(_, c)| c.at, p, self.reach) {
            return named(c.at, format!("room corner {}", i + 1));
        }
        let mut rays = self.faces_and_walls(moving);
        rays.extend(self.in_line(start, moving));
        rays.extend(start.map(|s| self.turned_from(s)).unwrap_or_default());
        self.on_rays(p, start, rays)
    }

    /// Settles the next corner of a room being drawn: square to and in line with what is drawn.
    pub(super) fn room_corner(
        &self,
        p: PlanPoint,
        start: PlanPoint,
        first: Option<PlanPoint>,
    ) -> Settled {
        if self.held_off {
            return (self.on_grid(p), None);
        }
        let mut rays = self.turned_from(start);
        for axis in [PlanVector::new(1.0, 0.0), PlanVector::new(0.0, 1.0)] {
            rays.extend(first.map(|at| Ray {
                at,
                along: axis,
                label: "in line with the first corner".into(),
                within: None,
            }));
        }
        self.on_rays(p, Some(start), rays)
    }

    /// On one or two of `rays`, else on the grid.
    pub(super) fn on_rays(
        &self,
        p: PlanPoint,
        start: Option<PlanPoint>,
        rays: Vec<Ray>,
    ) -> Settled {
        let mut near: Vec<(f64, Ray)> = rays
            .into_iter()
            .filter_map(|ray| {
                let s = (p - ray.at).dot(&ray.along);
                let off = (p - ray.at - ray.along * s).norm();
                let on_it = ray
                    .within
                    .is_none_or(|(low, high)| (low - self.reach..=high + self.reach).contains(&s));
                (off <= self.reach && on_it).then_some((off, ray))
            })
            .collect();
        // A ray that is drawn or built beats one that is only meant, when both are near.
        near.sort_by(|a, b| {
            (a.0 + penalty(&a.1, self.reach)).total_cmp(&(b.0 + penalty(&b.1, self.reach)))
        });
        let Some((_, first)) = near.first() else { return (self.on_grid(p), self.grid_snap()) };
        let guide = |ray: &Ray, to: PlanPoint| [ray.at, to];
        for (_, second) in &near[1..] {
            let Some(t) = meet(first.at, first.along, second.at, second.along) else { continue };
            let at = first.at + first.along * t;
            if (at - p).norm() <= 1.5 * self.reach {
                let label = format!("{} · {}", first.label, second.label);
                return (
                    at,
                    Some(Snap { label, guides: vec![guide(first, at), guide(second, at)] }),
                );
            }
        }
        // Along the line, whole steps from where it began.
        let from = start.filter(|s| (s - first.at).norm() < 1.0).unwrap_or(first.at);
        let s = round_to((p - from).dot(&first.along), self.step());
        let base = from + first.along * s;
        let at = base - (base - first.at - first.along * (base - first.at).dot(&first.along));
        (at, Some(Snap { label: first.label.clone(), guides: vec![guide(first, at)] }))
    }

    fn faces_and_walls(&self, moving: Option<&Name>) -> Vec<Ray> {
        let mut rays = Vec::new();
        for (i, (a, b)) in self.job.shell.sides().enumerate() {
            let within = Some((0.0, (b - a).norm()));
            rays.push(Ray {
                at: a,
                along: direction(b - a),
                label: format!("existing face {}", i + 1),
                within,
            });
        }
        for wall in &self.job.walls {
            if moving.is_some_and(|n| wall.from == *n || wall.to == *n) {
                continue;
            }
            if let Some((a, u, length)) = line_of(self.job, &wall.name) {
                rays.push(Ray {
                    at: a,
                    along: u,
                    label: format!("on wall {}", wall.name),
                    within: Some((0.0, length)),
                });
            }
        }
        rays
    }

    /// Lines through other nodes along plan x and y, and, for a moving node, along its walls.
    fn in_line(&self, start: Option<PlanPoint>, moving: Option<&Name>) -> Vec<Ray> {
        let axes = [PlanVector::new(1.0, 0.0), PlanVector::new(0.0, 1.0)];
        let mut rays = Vec::new();
        for node in self.job.nodes.iter().filter(|n| moving != Some(&n.name) && start != Some(n.at))
        {
            let label = format!("in line with node {}", node.name);
            rays.extend(axes.map(|along| Ray {
                at: node.at,
                along,
                label: label.clone(),
                within: None,
            }));
        }
        for wall in &self.job.walls {
            let Some(moving) = moving.filter(|n| wall.from == **n || wall.to == **n) else {
                continue;
            };
            let other = if wall.from == *moving { &wall.to } else { &wall.from };
            if let (Some(at), Some((_, u, _))) =
                (self.job.node(other), line_of(self.job, &wall.name))
            {
                rays.push(Ray {
                    at: at.at,
                    along: u,
                    label: format!("in line with wall {}", wall.name),
                    within: None,
                });
            }
        }
        rays
    }

    /// Lines from where the drawing began: square to plan, room and walls, and halfway between.
    fn turned_from(&self, start: PlanPoint) -> Vec<Ray> {
        let mut directions = vec![PlanVector::new(1.0, 0.0)];
        let sides = self.job.shell.sides().map(|(a, b)| (a, b - a));
        let walls = self
            .job
            .walls
            .iter()
            .filter_map(|w| line_of(self.job, &w.name))
            .map(|(a, u, length)| (a, u * length));
        for (a, d) in sides.chain(walls) {
            let s = (start - a).dot(&d) / d.norm_squared().max(1.0);
            let off = (start - a - d * s).norm();
            if off <= 1.0 && (-0.01..=1.01).contains(&s) {
                directions.push(direction(d));
            }
        }
        let mut rays: Vec<Ray> = Vec::new();
        for d in directions {
            let diagonal = direction(d + left_of(d));
            for (along, label) in [
                (d, "square"),
                (left_of(d), "square"),
                (diagonal, "45°"),
                (left_of(diagonal), "45°"),
            ] {
                let known = rays.iter().any(|r| cross(r.along, along).abs() < 1e-4);
                if !known {
                    rays.push(Ray { at: start, along, label: label.into(), within: None });
                }
            }
        }
        rays
    }

    /// Settles the sideways movement of a wall or a side of the room.
    pub(super) fn sideways(
        &self,
        from: PlanPoint,
        hand: PlanPoint,
        (a, b): (PlanPoint, PlanPoint),
        wall: Option<&Name>,
        side: Option<usize>,
    ) -> Settled {
        let u = direction(b - a);
        let n = left_of(u);
        let by = (hand - from).dot(&n);
        let mut marks = Vec::new();
        if !self.held_off {
            let parallel = |d: PlanVector| cross(u, direction(d)).abs() < 1e-3;
            let off = |p: PlanPoint| (p - a).dot(&n);
            for other in self.job.walls.iter().filter(|w| wall != Some(&w.name)) {
                if let Some((p, v, _)) =
                    line_of(self.job, &other.name).filter(|(_, v, _)| parallel(*v))
                {
                    let _ = v;
                    marks.push(Mark {
                        value: off(p),
                        label: format!("in line with wall {}", other.name),
                    });
                }
            }
            for (i, (p, q)) in self.job.shell.sides().enumerate().filter(|(i, _)| side != Some(*i))
            {
                if parallel(q - p) {
                    marks.push(Mark { value: off(p), label: format!("existing face {}", i + 1) });
                }
            }
            let own = |name: &Name| {
                wall.and_then(|w| self.job.wall(w))
                    .is_some_and(|w| w.from == *name || w.to == *name)
            };
            for node in self.job.nodes.iter().filter(|n| !own(&n.name) && off(n.at).abs() > 1.0) {
                marks.push(Mark {
                    value: off(node.at),
                    label: format!("in line with node {}", node.name),
                });
            }
        }
        let (to, label) = self.pick(marks, by);
        let shift = n * to;
        let guides = vec![[a + shift - u * self.reach * 6.0, b + shift + u * self.reach * 6.0]];
        (hand + n * (to - by), label.map(|label| Snap { label, guides }))
    }
}

/// What is only meant (square, in line) gives way to what is there (a face, a wall).
fn penalty(ray: &Ray, reach: f64) -> f64 {
    if ray.within.is_some() { 0.0 } else { reach / 2.0 }
}

fn nearest_point<T>(
    things: impl Iterator<Item = T>,
    at: impl Fn(&T) -> PlanPoint,
    p: PlanPoint,
    reach: f64,
) -> Option<T> {
    things
        .map(|t| ((at(&t) - p).norm(), t))
        .filter(|(d, _)| *d <= reach)
        .min_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, t)| t)
}
