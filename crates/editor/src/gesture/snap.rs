//! Snapping: what the hand may mean, by name. Everything is measured against the job the drag began
//! on, so a snap never depends on the one before it.
//!
//! A point looks for a point first (a node, a corner), then for one or two lines (a face, a wall,
//! square, in line, 45°), then for the grid. An opening looks for stations, anything that goes up
//! and down for heights.

use layout_core::document::{Job, OpeningStuds, WallEnd};
use layout_core::frame::Role;
use layout_core::id::Name;
use layout_core::layout::Layout;
use layout_core::math::{PlanPoint, PlanVector, left_of, meet, round_to};
use layout_core::units::mm;

use super::{Gesture, Grip, Space, direction, line_of};

/// What the hand has snapped to.
#[derive(Clone, Debug, PartialEq)]
pub struct Snap {
    /// Its name, as written beside the hand.
    pub label: String,
    /// The line that shows why: two points in the same space as the drag.
    pub guides: Vec<[PlanPoint; 2]>,
}

/// All that snapping looks at.
#[derive(Clone, Copy)]
pub struct Snapping<'a> {
    /// The job the drag began on.
    pub job: &'a Job,
    /// Its layout.
    pub layout: &'a Layout,
    /// How near counts, mm.
    pub reach: f64,
    /// True while the hand asks to be left alone.
    pub held_off: bool,
}

/// Something to snap a single number to.
struct Mark {
    value: f64,
    label: String,
}

/// A line to snap a point to.
struct Ray {
    at: PlanPoint,
    along: PlanVector,
    label: String,
    /// Only between these distances along it; `None` for all of it.
    within: Option<(f64, f64)>,
}

impl Snapping<'_> {
    /// Where the hand of `gesture` comes to rest when the pointer is at `hand`, and why there.
    pub fn settle(&self, gesture: &Gesture, hand: PlanPoint) -> (PlanPoint, Option<Snap>) {
        match gesture.space {
            Space::Plan => self.settle_plan(gesture, hand),
            Space::Elevation => self.settle_elevation(gesture, hand),
        }
    }

    fn settle_plan(&self, g: &Gesture, hand: PlanPoint) -> (PlanPoint, Option<Snap>) {
        let carried = |origin: PlanPoint, start: Option<PlanPoint>, moving: Option<&Name>| {
            let (to, snap) = self.point(origin + (hand - g.from), start, moving);
            (g.from + (to - origin), snap)
        };
        let in_wall = |wall: &Name, settle: &dyn Fn(f64) -> (f64, Option<Snap>)| {
            let Some((a, u, _)) = line_of(self.job, wall) else { return (hand, None) };
            let (s, snap) = settle((hand - a).dot(&u));
            let across = left_of(u) * (hand - a).dot(&left_of(u));
            let onto = |p: PlanPoint| a + u * p.x + left_of(u) * (p.y.signum() * 3.0 * self.reach);
            let snap = snap.map(|s| Snap {
                guides: s
                    .guides
                    .iter()
                    .map(|[p, q]| [onto(PlanPoint::new(p.x, -1.0)), onto(PlanPoint::new(q.x, 1.0))])
                    .collect(),
                ..s
            });
            (a + u * s + across, snap)
        };
        match &g.grip {
            Grip::Node(name) => match self.job.node(name) {
                Some(node) => carried(node.at, None, Some(name)),
                None => (hand, None),
            },
            Grip::Corner(i) => match self.job.shell.outline.get(*i) {
                Some(corner) => carried(corner.at, None, None),
                None => (hand, None),
            },
            Grip::Post(name) => match self.job.shell.posts.iter().find(|p| p.name == *name) {
                Some(post) => carried(post.at, None, None),
                None => (hand, None),
            },
            Grip::Datum => carried(self.job.datum.at, None, None),
            Grip::NewWall(_) | Grip::NewBeam(_) => self.point(hand, Some(g.from), None),
            Grip::NewRoom(corners) => match corners.first() {
                Some(first) if corners.len() > 2 && (first - hand).norm() <= self.reach => (
                    *first,
                    Some(Snap {
                        label: "first corner: closes the room".into(),
                        guides: Vec::new(),
                    }),
                ),
                _ => self.room_corner(hand, g.from, corners.first().copied()),
            },
            Grip::NewPost(_) => self.point(hand, None, None),
            Grip::Wall(name) => match line_of(self.job, name) {
                Some((a, u, length)) => {
                    self.sideways(g.from, hand, (a, a + u * length), Some(name), None)
                }
                None => (hand, None),
            },
            Grip::Side(i) => match self.job.shell.sides().nth(*i) {
                Some(side) => self.sideways(g.from, hand, side, None, Some(*i)),
                None => (hand, None),
            },
            Grip::Opening(name) => match self.job.opening(name) {
                Some((wall, opening)) => {
                    let Some((a, u, length)) = line_of(self.job, &wall.name) else {
                        return (hand, None);
                    };
                    let left = opening.hold.left_edge(opening.kind.width(), length);
                    let from = (g.from - a).dot(&u);
                    in_wall(&wall.name, &|s| {
                        let (to, snap) = self.opening(
                            &wall.name,
                            opening.kind.width(),
                            Some(name),
                            left + s - from,
                        );
                        (s + to - (left + s - from), snap)
                    })
                }
                None => (hand, None),
            },
            Grip::NewOpening { wall, opening } => {
                let half = opening.kind.width() / 2.0;
                in_wall(wall, &|s| {
                    let (to, snap) = self.opening(wall, half * 2.0, None, s - half);
                    (to + half, snap)
                })
            }
            Grip::Point(_) | Grip::Fitting(_) => self.thing_along(g, hand, &in_wall),
            Grip::NewPoint { wall, .. } | Grip::NewFitting { wall, .. } => {
                in_wall(wall, &|s| self.station(wall, s))
            }
            _ => (self.to_grid(hand), None),
        }
    }

    /// A point or fitting that slides along its wall on the plan.
    fn thing_along(
        &self,
        g: &Gesture,
        hand: PlanPoint,
        in_wall: &dyn Fn(&Name, &dyn Fn(f64) -> (f64, Option<Snap>)) -> (PlanPoint, Option<Snap>),
    ) -> (PlanPoint, Option<Snap>) {
        let Some((wall, at)) = self.thing(&g.grip) else { return (hand, None) };
        let Some((a, u, _)) = line_of(self.job, &wall) else { return (hand, None) };
        let from = (g.from - a).dot(&u);
        in_wall(&wall, &|s| {
            let (to, snap) = self.station(&wall, at.x + s - from);
            (to - at.x + from, snap)
        })
    }

    /// Wall, station and height of the point or fitting in the hand.
    fn thing(&self, grip: &Grip) -> Option<(Name, PlanPoint)> {
        let place = |wall: &Name, from: WallEnd, distance: f64, height: f64| {
            let (_, _, length) = line_of(self.job, wall)?;
            let station = match from {
                WallEnd::Start => distance,
                WallEnd::End => length - distance,
            };
            Some((wall.clone(), PlanPoint::new(station, height)))
        };
        match grip {
            Grip::Point(name) => {
                let (wall, p) = self.job.point(name)?;
                place(&wall.name, p.from, p.distance, p.height)
            }
            Grip::Fitting(name) => {
                let (wall, f) = self.job.fitting(name)?;
                place(&wall.name, f.from, f.distance, f.bottom)
            }
            _ => None,
        }
    }

    fn settle_elevation(&self, g: &Gesture, hand: PlanPoint) -> (PlanPoint, Option<Snap>) {
        let upright = |snap: Option<Snap>, p: PlanPoint| (p, snap);
        match &g.grip {
            Grip::Opening(name) => {
                let Some((wall, opening)) = self.job.opening(name) else { return (hand, None) };
                let Some((_, _, length)) = line_of(self.job, &wall.name) else {
                    return (hand, None);
                };
                let width = opening.kind.width();
                let left = opening.hold.left_edge(width, length);
                let (to, snap) =
                    self.opening(&wall.name, width, Some(name), left + hand.x - g.from.x);
                upright(snap, PlanPoint::new(g.from.x + to - left, hand.y))
            }
            Grip::NewOpening { wall, opening } => {
                let half = opening.kind.width() / 2.0;
                let (to, snap) = self.opening(wall, half * 2.0, None, hand.x - half);
                upright(snap, PlanPoint::new(to + half, hand.y))
            }
            Grip::Point(_) | Grip::Fitting(_) => {
                let Some((wall, at)) = self.thing(&g.grip) else { return (hand, None) };
                let (to, snap) = self.place(&wall, g, at + (hand - g.from));
                upright(snap, g.from + (to - at))
            }
            Grip::NewPoint { wall, .. } | Grip::NewFitting { wall, .. } => {
                let (to, snap) = self.place(wall, g, hand);
                upright(snap, to)
            }
            Grip::Sill(name) | Grip::Top(name) => {
                let Some((_, opening)) = self.job.opening(name) else { return (hand, None) };
                let was = match g.grip {
                    Grip::Sill(_) => opening.kind.sill().unwrap_or(0.0),
                    _ => opening.kind.top(),
                };
                self.upright_from(g, hand, was)
            }
            Grip::Row { row, heights, .. } => {
                self.upright_from(g, hand, heights.get(*row).copied().unwrap_or_default())
            }
            Grip::Head { height, .. } => self.upright_from(g, hand, *height),
            _ => (hand, None),
        }
    }

    /// Settles something that was at height `was` and goes up and down only.
    fn upright_from(&self, g: &Gesture, hand: PlanPoint, was: f64) -> (PlanPoint, Option<Snap>) {
        let (to, snap) = self.height(&g.grip, was + hand.y - g.from.y, hand.x);
        (PlanPoint::new(hand.x, g.from.y + to - was), snap)
    }

    /// Settles the middle of a point or fitting in the elevation of `wall`.
    fn place(&self, wall: &Name, g: &Gesture, at: PlanPoint) -> (PlanPoint, Option<Snap>) {
        let (x, along) = self.station(wall, at.x);
        let (y, up) = self.height(&g.grip, at.y, x);
        let snap = match (along, up) {
            (Some(a), Some(b)) => Some(Snap {
                label: format!("{} · {}", a.label, b.label),
                guides: a.guides.into_iter().chain(b.guides).collect(),
            }),
            (a, b) => a.or(b),
        };
        (PlanPoint::new(x, y), snap)
    }

    /// Settles the left edge of an opening of `width` in `wall`.
    pub fn opening(
        &self,
        wall: &Name,
        width: f64,
        moving: Option<&Name>,
        left: f64,
    ) -> (f64, Option<Snap>) {
        let mut marks = Vec::new();
        if let (Some(laid), false) = (self.layout.wall(wall), self.held_off) {
            let spec = &laid.spec;
            let (along, t) = (spec.along(), spec.makeup.timber.thickness());
            // The opening stud is flush with the hole, or a jack away from it.
            let jack = match spec.makeup.opening_studs {
                OpeningStuds::Single => 0.0,
                OpeningStuds::Double => t,
            };
            let off = jack + t / 2.0;
            let studs = stud_centres(laid);
            for (side, edge, outwards) in [("left", left, -1.0), ("right", left + width, 1.0)] {
                let grid = nearest_grid(&studs, spec.centres, edge + outwards * off);
                if let Some(c) = grid.filter(|c| along.contains(*c)) {
                    let at = mm(c - t / 2.0 - along.low);
                    let label = format!("{side} opening stud lands on the stud at {at}");
                    marks.push(Mark { value: left + c - edge - outwards * off, label });
                }
            }
            marks.push(Mark {
                value: along.low + t + jack,
                label: "tight to the start of the frame".into(),
            });
            marks.push(Mark {
                value: along.high - t - jack - width,
                label: "tight to the end of the frame".into(),
            });
            marks.push(Mark {
                value: along.centre() - width / 2.0,
                label: "middle of the wall".into(),
            });
            for hole in spec.holes.iter().filter(|h| moving != Some(&h.name)) {
                marks.push(Mark {
                    value: hole.span.high + t,
                    label: format!("one stud from {}", hole.name),
                });
                marks.push(Mark {
                    value: hole.span.low - t - width,
                    label: format!("one stud from {}", hole.name),
                });
            }
        }
        let (to, snap) = self.pick(marks, left);
        let upright = |x: f64| [PlanPoint::new(x, -FAR), PlanPoint::new(x, FAR)];
        let edge = if snap
            .as_ref()
            .is_some_and(|s| s.starts_with("right") || s.ends_with("end of the frame"))
        {
            to + width
        } else if snap.as_deref() == Some("middle of the wall") {
            to + width / 2.0
        } else {
            to
        };
        (to, snap.map(|label| Snap { label, guides: vec![upright(edge)] }))
    }

    /// Settles a station along `wall`: the middle of a bay, the middle of the wall, or the grid.
    fn station(&self, wall: &Name, s: f64) -> (f64, Option<Snap>) {
        let mut marks = Vec::new();
        if let (Some(laid), false) = (self.layout.wall(wall), self.held_off) {
            let mut uprights: Vec<_> = laid
                .frame
                .members
                .iter()
                .filter(|m| m.role.is_full_height())
                .map(|m| m.solid.stations())
                .collect();
            uprights.sort_by(|a, b| a.low.total_cmp(&b.low));
            for pair in uprights.windows(2).filter(|p| p[0].gap(p[1]) > layout_core::math::SLIVER) {
                marks.push(Mark {
                    value: (pair[0].high + pair[1].low) / 2.0,
                    label: "middle of the bay".into(),
                });
            }
            for p in self.job.walls.iter().filter(|w| w.name == *wall).flat_map(|w| &w.points) {
                if let (WallEnd::Start, true) =
                    (p.from, (p.distance - s).abs() > layout_core::math::SAME)
                {
                    marks.push(Mark { value: p.distance, label: format!("plumb with {}", p.name) });
                }
            }
        }
        let (to, label) = self.pick(marks, s);
        let guide = [PlanPoint::new(to, -FAR), PlanPoint::new(to, FAR)];
        (to, label.map(|label| Snap { label, guides: vec![guide] }))
    }

    /// Settles a height above FFL.
    fn height(&self, grip: &Grip, z: f64, s: f64) -> (f64, Option<Snap>) {
        let mut marks = Vec::new();
        if !self.held_off {
            let holding = grip.item();
            for w in &self.layout.walls {
                for (row, height) in w.frame.rows.iter().enumerate() {
                    let own = matches!(grip, Grip::Row { wall, row: held, .. } if wall == w.name() && *held == row);
                    if !own {
                        marks.push(Mark {
                            value: *height,
                            label: format!("in line with the noggins of {}", w.name()),
                        });
                    }
                }
            }
            let things = self.job.walls.iter().flat_map(|w| &w.openings);
            for o in things
                .filter(|o| holding != Some(layout_core::id::ItemRef::Opening(o.name.clone())))
            {
                marks.push(Mark {
                    value: o.kind.top(),
                    label: format!("level with the top of {}", o.name),
                });
                if let Some(sill) = o.kind.sill() {
                    marks.push(Mark {
                        value: sill,
                        label: format!("level with the sill of {}", o.name),
                    });
                }
            }
            for p in self.job.walls.iter().flat_map(|w| &w.points) {
                if matches!(grip, Grip::Point(n) if *n == p.name)
                    || !matches!(grip, Grip::Point(_) | Grip::NewPoint { .. })
                {
                    continue;
                }
                marks.push(Mark { value: p.height, label: format!("level with {}", p.name) });
            }
            marks.push(Mark { value: self.job.levels.laser, label: "on the laser line".into() });
            if matches!(grip, Grip::Row { .. }) {
                marks.push(Mark {
                    value: 1210.0,
                    label: "board joint: 1 200 and 10 under it".into(),
                });
            }
        }
        let (to, label) = self.pick(marks, z);
        let guide = [PlanPoint::new(s - FAR, to), PlanPoint::new(s + FAR, to)];
        (to, label.map(|label| Snap { label, guides: vec![guide] }))
    }

    /// The nearest mark within reach, else the grid.
    fn pick(&self, marks: Vec<Mark>, value: f64) -> (f64, Option<String>) {
        let near = |m: &Mark| (m.value - value).abs();
        let best = marks
            .into_iter()
            .filter(|m| near(m) <= self.reach)
            .min_by(|a, b| near(a).total_cmp(&near(b)));
        match best {
            Some(mark) => (mark.value, Some(mark.label)),
            None => (round_to(value, self.step()), None),
        }
    }

    /// Settles a plan point. `start` is where the line being drawn began; `moving` the node in
    /// the hand.
    pub fn point(
        &self,
        p: PlanPoint,
        start: Option<PlanPoint>,
        moving: Option<&Name>,
    ) -> (PlanPoint, Option<Snap>) {
        if self.held_off {
            return (self.to_grid(p), None);
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
    fn room_corner(
        &self,
        p: PlanPoint,
        start: PlanPoint,
        first: Option<PlanPoint>,
    ) -> (PlanPoint, Option<Snap>) {
        if self.held_off {
            return (self.to_grid(p), None);
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
    fn on_rays(
        &self,
        p: PlanPoint,
        start: Option<PlanPoint>,
        rays: Vec<Ray>,
    ) -> (PlanPoint, Option<Snap>) {
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
        let Some((_, first)) = near.first() else { return (self.to_grid(p), self.grid_snap()) };
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
                let known =
                    rays.iter().any(|r| layout_core::math::cross(r.along, along).abs() < 1e-4);
                if !known {
                    rays.push(Ray { at: start, along, label: label.into(), within: None });
                }
            }
        }
        rays
    }

    /// Settles the sideways movement of a wall or a side of the room.
    fn sideways(
        &self,
        from: PlanPoint,
        hand: PlanPoint,
        (a, b): (PlanPoint, PlanPoint),
        wall: Option<&Name>,
        side: Option<usize>,
    ) -> (PlanPoint, Option<Snap>) {
        let u = direction(b - a);
        let n = left_of(u);
        let by = (hand - from).dot(&n);
        let mut marks = Vec::new();
        if !self.held_off {
            let parallel = |d: PlanVector| layout_core::math::cross(u, direction(d)).abs() < 1e-3;
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

    /// Whole steps from the datum.
    fn to_grid(&self, p: PlanPoint) -> PlanPoint {
        let (d, step) = (self.job.datum.at, self.grid());
        PlanPoint::new(d.x + round_to(p.x - d.x, step), d.y + round_to(p.y - d.y, step))
    }

    fn grid_snap(&self) -> Option<Snap> {
        (self.grid() >= 10.0)
            .then(|| Snap { label: format!("grid {}", self.grid()), guides: Vec::new() })
    }

    /// The step of the plan grid: 100 or 50, finer when zoomed in or when snapping is held off.
    fn grid(&self) -> f64 {
        if self.held_off {
            1.0
        } else if self.reach > 100.0 {
            100.0
        } else if self.reach > 25.0 {
            50.0
        } else {
            self.step()
        }
    }

    /// The step a number moves by when nothing else is near: about what the eye can tell apart.
    fn step(&self) -> f64 {
        if self.held_off || self.reach <= 12.0 {
            1.0
        } else if self.reach <= 40.0 {
            5.0
        } else {
            10.0
        }
    }
}

/// How far guide lines run past the hand, mm: further than any wall is high.
const FAR: f64 = 20_000.0;

/// What is only meant (square, in line) gives way to what is there (a face, a wall).
fn penalty(ray: &Ray, reach: f64) -> f64 {
    if ray.within.is_some() { 0.0 } else { reach / 2.0 }
}

/// Centres of the common studs of a wall.
fn stud_centres(laid: &layout_core::layout::WallLayout) -> Vec<f64> {
    laid.frame
        .members
        .iter()
        .filter(|m| m.role == Role::Stud)
        .map(|m| m.solid.stations().centre())
        .collect()
}

/// The station on the grid of `studs` at `centres` nearest to `at`; the grid carries on where
/// openings took studs out.
fn nearest_grid(studs: &[f64], centres: f64, at: f64) -> Option<f64> {
    let whole = |c: f64| c + round_to(at - c, centres.max(1.0));
    studs.iter().map(|&c| whole(c)).min_by(|a, b| (a - at).abs().total_cmp(&(b - at).abs()))
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
