//! What can be picked, and what is under the pointer.
//!
//! Everything drawn that remembers what it is of can be picked where it is drawn. Added to that
//! are the things a hand reaches for though no line says so: nodes, room corners, the hole of an
//! opening, a noggin row as one thing.

use std::collections::BTreeMap;

use egui::{Pos2, Rect, vec2};
use layout_core::document::Face;
use layout_core::document::Job;
use layout_core::frame::Role;
use layout_core::id::ItemRef;
use layout_core::layout::{Layout, WallLayout};
use sheets::picture::{Align, Picture, Shape};

use super::eye::Sight;
use super::paint::{arc, bounds};
use crate::gesture::Space;

/// The least a target measures on screen, points: what a cold hand on a touchpad can hit.
pub const LEAST_TARGET: f32 = 10.0;

/// A part of something that can be picked, on screen.
#[derive(Clone, Debug, PartialEq)]
pub struct Target {
    /// What it is of.
    pub item: ItemRef,
    /// Its outline or line.
    pub points: Vec<Pos2>,
    /// True for an outline: its inside counts.
    pub closed: bool,
    /// True for lettering, which is picked but not outlined.
    pub lettering: bool,
    /// The box round it.
    pub covers: Rect,
}

impl Target {
    /// An outline.
    fn outline(item: ItemRef, points: Vec<Pos2>) -> Target {
        Target::new(item, points, true)
    }

    /// A line.
    fn line(item: ItemRef, points: Vec<Pos2>) -> Target {
        Target::new(item, points, false)
    }

    fn new(item: ItemRef, points: Vec<Pos2>, closed: bool) -> Target {
        let covers = bounds(&points);
        Target { item, points, closed, lettering: false, covers }
    }

    /// How far `p` is from it, points; 0 inside.
    fn distance(&self, p: Pos2) -> f32 {
        if self.closed && inside(p, &self.points) {
            return 0.0;
        }
        let n = self.points.len();
        let edges = if self.closed { n } else { n.saturating_sub(1) };
        let near = (0..edges).map(|i| to_segment(p, self.points[i], self.points[(i + 1) % n]));
        near.fold(self.points.first().map_or(f32::INFINITY, |q| (p - *q).length()), f32::min)
    }

    /// How near counts as on it: thin things are given some flesh.
    fn reach(&self) -> f32 {
        let size = self.covers.size();
        let thin = if self.closed { size.min_elem() } else { 0.0 };
        ((LEAST_TARGET - thin) / 2.0).max(1.0)
    }
}

/// All that can be picked in one view.
#[derive(Clone, Debug, Default)]
pub struct Targets {
    parts: Vec<Target>,
}

impl Targets {
    /// What can be picked on the plan.
    pub fn plan(picture: &Picture, sight: &Sight, job: &Job, layout: &Layout) -> Targets {
        // Timber on the plan is too small to be picked piece by piece: it is its wall's.
        let timber =
            |of: &ItemRef| matches!(of, ItemRef::Member { .. } | ItemRef::NogginRow { .. });
        let mut parts = drawn(picture, sight, |of| !timber(of));
        let disc = |item: ItemRef, x: f64, y: f64| {
            let c = sight.screen(x, y);
            Target::outline(item, arc(c, 6.0, 0.0, std::f32::consts::TAU))
        };
        for laid in &layout.walls {
            let (along, across) = (laid.spec.along(), laid.spec.frame);
            let corner = |s: f64, n: f64| {
                let p = laid.place.plan(s, n);
                sight.screen(p.x, p.y)
            };
            let outline = |low: f64, high: f64| {
                vec![
                    corner(low, across.low),
                    corner(high, across.low),
                    corner(high, across.high),
                    corner(low, across.high),
                ]
            };
            let wall = ItemRef::Wall(laid.name().clone());
            parts.push(Target::outline(wall, outline(along.low, along.high)));
            for hole in &laid.spec.holes {
                let item = ItemRef::Opening(hole.name.clone());
                parts.push(Target::outline(item, outline(hole.span.low, hole.span.high)));
            }
        }
        parts.extend(job.nodes.iter().map(|n| disc(ItemRef::Node(n.name.clone()), n.at.x, n.at.y)));
        let corners = job.shell.outline.iter().enumerate();
        parts.extend(corners.map(|(i, c)| disc(ItemRef::Corner(i), c.at.x, c.at.y)));
        for (i, (a, b)) in job.shell.sides().enumerate() {
            let points = vec![sight.screen(a.x, a.y), sight.screen(b.x, b.y)];
            parts.push(Target::line(ItemRef::Side(i), points));
        }
        for laid in &layout.platforms {
            let Some(platform) = job.platform(laid.name()) else { continue };
            let points = platform.corners().map(|p| sight.screen(p.x, p.y)).to_vec();
            parts.push(Target::outline(ItemRef::Platform(laid.name().clone()), points));
        }
        parts.push(disc(ItemRef::Datum, job.datum.at.x, job.datum.at.y));
        Targets { parts }
    }

    /// What can be picked in the elevation of `wall`; `mirrored` when its left face is seen.
    pub fn elevation(
        picture: &Picture,
        sight: &Sight,
        wall: &WallLayout,
        mirrored: bool,
    ) -> Targets {
        let mut parts = drawn(picture, sight, |_| true);
        let x = |s: f64| if mirrored { -s } else { s };
        let name = wall.name();
        let quad = |s: layout_core::span::Span, z: layout_core::span::Span| {
            [(s.low, z.low), (s.high, z.low), (s.high, z.high), (s.low, z.high)]
                .map(|(s, z)| sight.screen(x(s), z))
                .to_vec()
        };
        for member in &wall.frame.members {
            let face = if mirrored { Face::Left } else { Face::Right };
            let points = member.solid.elevation(face).map(|(s, z)| sight.screen(x(s), z)).to_vec();
            if member.role == Role::Noggin {
                let middle = member.solid.heights().centre();
                let rows = wall.frame.rows.iter().enumerate();
                let row = rows.min_by(|a, b| {
                    (a.1.height - middle).abs().total_cmp(&(b.1.height - middle).abs())
                });
                if let Some((row, _)) = row {
                    let item = ItemRef::NogginRow { wall: name.clone(), row };
                    parts.push(Target::outline(item, points.clone()));
                }
            }
            let item = ItemRef::Member { wall: name.clone(), mark: member.mark };
            parts.push(Target::outline(item, points));
        }
        let along = wall.spec.along();
        for hole in &wall.spec.holes {
            let low = hole.sill.unwrap_or_else(|| wall.spec.floor.lowest());
            let z = layout_core::span::Span { low, high: hole.top };
            let item = ItemRef::Opening(hole.name.clone());
            parts.push(Target::outline(item, quad(hole.span, z)));
        }
        let z = layout_core::span::Span {
            low: wall.spec.floor.lowest(),
            high: wall.spec.head.highest(),
        };
        parts.push(Target::outline(ItemRef::Wall(name.clone()), quad(along, z)));
        Targets { parts }
    }

    /// Everything under `p`, what the hand most likely means first.
    pub fn under(&self, p: Pos2, space: Space) -> Vec<ItemRef> {
        let mut found: BTreeMap<&ItemRef, (u8, f32)> = BTreeMap::new();
        for part in &self.parts {
            let reach = part.reach();
            if !part.covers.expand(reach).contains(p) {
                continue;
            }
            let off = part.distance(p);
            if off <= reach {
                let size = part.covers.size();
                // On it counts for more than near it, by a rank and a half.
                let near = if off > 0.0 || part.lettering || !part.closed { 3 } else { 0 };
                let key = (2 * rank(&part.item, space) + near, size.x * size.y);
                found
                    .entry(&part.item)
                    .and_modify(|best| *best = first_of(*best, key))
                    .or_insert(key);
            }
        }
        let mut order: Vec<_> = found.into_iter().collect();
        order.sort_by(|(_, a), (_, b)| compare(a, b));
        order.into_iter().map(|(item, _)| item.clone()).collect()
    }

    /// The parts of `item`.
    pub fn of<'a>(&'a self, item: &'a ItemRef) -> impl Iterator<Item = &'a Target> {
        self.parts.iter().filter(move |p| p.item == *item)
    }

    /// Every item with the box of its largest part inside `view`: where a press on its middle
    /// falls on it.
    pub fn items(&self, view: Rect) -> Vec<(ItemRef, Rect)> {
        let mut boxes: BTreeMap<&ItemRef, (bool, f32, Rect)> = BTreeMap::new();
        for part in &self.parts {
            let rect = part.covers.intersect(view);
            if rect.is_negative() || rect.width() + rect.height() < 4.0 {
                continue;
            }
            let solid = part.closed && !part.lettering;
            let size = rect.width() * rect.height();
            let best = boxes.entry(&part.item).or_insert((solid, size, rect));
            if (solid, size) > (best.0, best.1) {
                *best = (solid, size, rect);
            }
        }
        boxes.into_iter().map(|(item, (_, _, rect))| (item.clone(), rect)).collect()
    }
}

fn drawn(picture: &Picture, sight: &Sight, wanted: impl Fn(&ItemRef) -> bool) -> Vec<Target> {
    let part = |item: &sheets::picture::Item| {
        let of = item.of.clone().filter(|of| !matches!(of, ItemRef::Job) && wanted(of))?;
        let (points, closed) = match &item.shape {
            Shape::Line(points) => (points.iter().map(|p| sight.at(*p)).collect(), false),
            Shape::Area(points) => (points.iter().map(|p| sight.at(*p)).collect(), true),
            Shape::Arc { centre, radius, from, to } => {
                let r = (radius * sight.eye.zoom) as f32;
                (arc(sight.at(*centre), r, *from as f32, *to as f32), false)
            }
            Shape::Dot { at, .. } => (arc(sight.at(*at), 5.0, 0.0, std::f32::consts::TAU), true),
            Shape::Text { at, text, size, align, turn } => {
                (lettering_box(sight.at(*at), text, size.height(), *align, *turn as f32), true)
            }
        };
        let lettering = matches!(item.shape, Shape::Text { .. });
        Some(Target { lettering, ..Target::new(of, points, closed) })
    };
    picture.items.iter().filter_map(part).filter(|t| !t.points.is_empty()).collect()
}

/// About what a line of lettering covers on screen.
fn lettering_box(at: Pos2, text: &str, height: f64, align: Align, turn: f32) -> Vec<Pos2> {
    let high = height as f32 * 1.7;
    let wide = text.chars().count() as f32 * high * 0.9;
    let left = match align {
        Align::Left => 0.0,
        Align::Centre => -wide / 2.0,
        Align::Right => -wide,
    };
    let (sin, cos) = turn.sin_cos();
    [(left, -high), (left + wide, -high), (left + wide, high), (left, high)]
        .map(|(x, y)| at + vec2(x * cos - y * sin, -x * sin - y * cos))
        .to_vec()
}

/// What lies on top for the hand: the small before the large, the thing in the wall before the wall.
fn rank(item: &ItemRef, space: Space) -> u8 {
    match (item, space) {
        (ItemRef::Node(_), _) => 0,
        (ItemRef::Point(_) | ItemRef::Fitting(_) | ItemRef::Reading { .. }, _) => 1,
        (ItemRef::NogginRow { .. } | ItemRef::Route(_), _) => 2,
        (ItemRef::Member { .. }, _) => 3,
        (ItemRef::Opening(_), _) => 4,
        (ItemRef::Post(_) | ItemRef::Room(_) | ItemRef::PlatformHole(_), _) => 5,
        (ItemRef::Corner(_), _) => 6,
        (ItemRef::Datum, _) => 7,
        (ItemRef::Wall(_), _) => 8,
        (ItemRef::Beam(_), _) => 9,
        (ItemRef::Side(_), _) => 10,
        (
            ItemRef::Roof(_)
            | ItemRef::MakeUp(_)
            | ItemRef::Survey
            | ItemRef::Underlay
            | ItemRef::Job,
            _,
        ) => 11,
        // As large as a room: whatever is in it lies over it.
        (ItemRef::Platform(_), _) => 12,
    }
}

/// By rank, then the smaller.
fn compare(a: &(u8, f32), b: &(u8, f32)) -> std::cmp::Ordering {
    a.0.cmp(&b.0).then(a.1.total_cmp(&b.1))
}

fn first_of(a: (u8, f32), b: (u8, f32)) -> (u8, f32) {
    if compare(&b, &a).is_lt() { b } else { a }
}

fn inside(p: Pos2, outline: &[Pos2]) -> bool {
    let n = outline.len();
    let crossed = (0..n).filter(|&i| {
        let (a, b) = (outline[i], outline[(i + 1) % n]);
        (a.y > p.y) != (b.y > p.y) && p.x < a.x + (p.y - a.y) * (b.x - a.x) / (b.y - a.y)
    });
    crossed.count() % 2 == 1
}

fn to_segment(p: Pos2, a: Pos2, b: Pos2) -> f32 {
    let d = b - a;
    let t =
        if d.length_sq() > 0.0 { ((p - a).dot(d) / d.length_sq()).clamp(0.0, 1.0) } else { 0.0 };
    (p - (a + d * t)).length()
}

#[cfg(test)]
mod tests {
    use super::*;
    use egui::pos2;
    use layout_core::id::{Kind, Mark};

    fn target(item: ItemRef, x: (f32, f32), y: (f32, f32)) -> Target {
        let points = vec![pos2(x.0, y.0), pos2(x.1, y.0), pos2(x.1, y.1), pos2(x.0, y.1)];
        Target::outline(item, points)
    }

    fn stud(number: u16) -> ItemRef {
        ItemRef::Member { wall: "A".into(), mark: Mark { kind: Kind::Stud, number } }
    }

    #[test]
    fn a_stud_lies_over_its_wall_and_both_can_be_had() {
        let wall = ItemRef::Wall("A".into());
        let parts = vec![
            target(wall.clone(), (0.0, 500.0), (0.0, 350.0)),
            target(stud(1), (100.0, 107.0), (0.0, 350.0)),
            target(stud(2), (200.0, 207.0), (0.0, 350.0)),
        ];
        let targets = Targets { parts };
        let under = |x: f32| targets.under(pos2(x, 100.0), Space::Elevation);
        assert_eq!(under(103.0), [stud(1), wall.clone()]);
        assert_eq!(under(108.4), [stud(1), wall.clone()], "a thin stud is given 10 points");
        assert_eq!(under(150.0), [wall]);
    }

    #[test]
    fn the_nearest_kind_wins_then_the_smaller() {
        let post = |n: &str| ItemRef::Post(n.into());
        let parts = vec![
            target(post("P1"), (0.0, 100.0), (0.0, 100.0)),
            target(post("P2"), (40.0, 60.0), (40.0, 60.0)),
            target(ItemRef::Node("1".into()), (45.0, 55.0), (45.0, 55.0)),
        ];
        let under = Targets { parts }.under(pos2(50.0, 50.0), Space::Plan);
        assert_eq!(under, [ItemRef::Node("1".into()), post("P2"), post("P1")]);
    }
}
