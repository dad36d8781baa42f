//! Gives the room its measured shape and keeps square what was square.
//!
//! A measured room is never quite square. A wall that stood square to a side, or ran along it, must do
//! so again, and two walls that were square to each other must stay so. So every wall takes its
//! direction from one side, the chosen one where it can, and nodes fall where its line meets what they
//! stood on.

use std::sync::Arc;

use super::carried::reshape;
use super::{Corner, Job, Wall};
use crate::math::{ON_LINE, PlanPoint, PlanVector, SQUARE, cross, is_place, left_of, meet};

/// Thickness of an existing wall that nobody has said anything about, mm.
const USUAL_THICKNESS: f64 = 140.0;
/// Lines that cross at a smaller angle than this (its sine) do not say where a node is.
const CLEAR_CROSSING: f64 = 0.1;

/// A line on the plan: a point and a direction of length 1.
#[derive(Clone, Copy)]
struct Ray {
    at: PlanPoint,
    along: PlanVector,
}

impl Ray {
    fn through(a: PlanPoint, b: PlanPoint) -> Option<Ray> {
        let along = b - a;
        let length = along.norm();
        (length >= ON_LINE).then(|| Ray { at: a, along: along / length })
    }

    /// How far a point lies off it.
    fn off(&self, p: PlanPoint) -> f64 {
        cross(self.along, p - self.at).abs()
    }

    fn is_square_or_along(&self, other: &Ray) -> bool {
        let (sin, cos) = (cross(self.along, other.along), self.along.dot(&other.along));
        sin.abs() <= SQUARE || cos.abs() <= SQUARE
    }

    fn crossing(&self, other: &Ray) -> Option<PlanPoint> {
        if cross(self.along, other.along).abs() < CLEAR_CROSSING {
            return None;
        }
        meet(self.at, self.along, other.at, other.along).map(|t| self.at + self.along * t)
    }

    fn nearest(&self, p: PlanPoint) -> PlanPoint {
        self.at + self.along * (p - self.at).dot(&self.along)
    }
}

/// Gives the room the shape `corners`. Walls keep their angle to the side `square_to`, where they were
/// square to it or along it, else to the first side round from there that they were.
pub(super) fn fit_room(job: &mut Job, corners: &[PlanPoint], square_to: usize) {
    if corners.len() < 3 || corners.iter().any(|p| !is_place(p.x) || !is_place(p.y)) {
        return;
    }
    let n = corners.len();
    let same_count = job.shell.outline.len() == n;
    let outline = corners.iter().enumerate().map(|(i, &at)| match job.shell.outline.get(i) {
        Some(corner) if same_count => Corner { at, ..corner.clone() },
        first => {
            let thickness = first.map_or(USUAL_THICKNESS, |c| c.thickness);
            Corner { at, thickness, gaps: Vec::new() }
        }
    });
    let outline = outline.collect();
    if !same_count {
        job.shell.outline = outline;
        return;
    }
    let rays = |job: &Job| -> Vec<Option<Ray>> {
        job.shell.sides().map(|(a, b)| Ray::through(a, b)).collect()
    };
    let old_sides = rays(job);
    let before: Vec<PlanPoint> = job.nodes.iter().map(|n| n.at).collect();
    let old_ends: Vec<(PlanPoint, PlanPoint)> = job.shell.sides().collect();
    let old_walls: Vec<Option<Ray>> = job.walls.iter().map(|w| ray_of(job, w)).collect();
    reshape(job, outline);
    let new_sides = rays(job);

    // Where each wall's line runs now: its direction from the side it goes by, its place from a node.
    let mut lines: Vec<Option<Ray>> = Vec::new();
    for (w, old) in old_walls.iter().enumerate() {
        let line = old.and_then(|old| {
            let wall = &job.walls[w];
            let before_it = old_walls[..w].iter().zip(&lines).zip(&job.walls);
            let in_line = before_it.filter_map(|((o, l), other)| Some(((*o)?, (*l)?, other))).find(
                |(ray, _, other)| {
                    let joined = [&other.from, &other.to]
                        .iter()
                        .any(|name| **name == wall.from || **name == wall.to);
                    joined && cross(ray.along, old.along).abs() <= SQUARE
                },
            );
            let in_line = in_line.map(|(_, line, _)| line);
            in_line.or_else(|| {
                let turn = turn_of(&old, &old_sides, &new_sides, square_to % n)?;
                let at = anchor(job, wall, &before, &old_ends)?;
                Some(Ray { at, along: turned(old.along, turn) })
            })
        });
        lines.push(line);
    }

    let mut places: Vec<PlanPoint> = job.nodes.iter().map(|n| n.at).collect();
    for (i, &was) in before.iter().enumerate() {
        let name = job.nodes[i].name.clone();
        let on_wall = |((old, line), wall): ((&Option<Ray>, &Option<Ray>), &Arc<Wall>)| {
            let (old, line) = ((*old)?, (*line)?);
            let ends = wall.from == name || wall.to == name;
            (ends || stands_on(job, wall, &old, was, &before)).then_some(line)
        };
        let mut through: Vec<Ray> =
            old_walls.iter().zip(&lines).zip(&job.walls).filter_map(on_wall).collect();
        // A node that only sides hold was put where it belongs when they moved.
        let Some(first) = through.first().copied() else { continue };
        through.extend(
            old_ends
                .iter()
                .zip(&new_sides)
                .filter_map(|(&(a, b), new)| if on_side(was, a, b) { *new } else { None }),
        );
        let at = through[1..].iter().find_map(|other| first.crossing(other));
        places[i] = at.unwrap_or_else(|| first.nearest(places[i]));
    }
    for (node, at) in job.nodes.iter_mut().zip(places) {
        node.at = at;
    }
}

fn ray_of(job: &Job, wall: &Wall) -> Option<Ray> {
    Ray::through(job.node(&wall.from)?.at, job.node(&wall.to)?.at)
}

/// True when a point stood on the line of a wall, between its nodes.
fn stands_on(job: &Job, wall: &Wall, old: &Ray, p: PlanPoint, before: &[PlanPoint]) -> bool {
    let end = job.nodes.iter().position(|n| n.name == wall.to).map(|i| before[i]);
    let length = end.map_or(0.0, |end| (end - old.at).norm());
    let s = (p - old.at).dot(&old.along);
    old.off(p) <= ON_LINE && (-ON_LINE..=length + ON_LINE).contains(&s)
}

/// True when a point stood on a side of the room.
fn on_side(p: PlanPoint, a: PlanPoint, b: PlanPoint) -> bool {
    Ray::through(a, b).is_some_and(|side| {
        let s = (p - a).dot(&side.along);
        side.off(p) <= ON_LINE && (-ON_LINE..=(b - a).norm() + ON_LINE).contains(&s)
    })
}

/// The node a wall's line is held by: the first of its ends that stands on a side of the room, else
/// its start.
fn anchor(
    job: &Job,
    wall: &Wall,
    before: &[PlanPoint],
    sides: &[(PlanPoint, PlanPoint)],
) -> Option<PlanPoint> {
    let ends: Vec<usize> = [&wall.from, &wall.to]
        .into_iter()
        .filter_map(|n| job.nodes.iter().position(|x| x.name == *n))
        .collect();
    let stands = |i: usize| sides.iter().any(|&(a, b)| on_side(before[i], a, b));
    let held = ends.iter().copied().find(|&i| stands(i)).or(ends.first().copied())?;
    Some(job.nodes[held].at)
}

/// How far the side a wall goes by has turned, as cosine and sine.
fn turn_of(
    wall: &Ray,
    old: &[Option<Ray>],
    new: &[Option<Ray>],
    square_to: usize,
) -> Option<PlanVector> {
    let n = old.len();
    (0..n).map(|k| (square_to + k) % n).find_map(|i| {
        let (was, is) = (old[i]?, new[i]?);
        wall.is_square_or_along(&was)
            .then(|| PlanVector::new(was.along.dot(&is.along), cross(was.along, is.along)))
    })
}

fn turned(v: PlanVector, turn: PlanVector) -> PlanVector {
    v * turn.x + left_of(v) * turn.y
}
