//! Snapping: what the hand may mean, by name. Everything is measured against the job the drag began
//! on, so a snap never depends on the one before it.
//!
//! A point looks for a point first (a node, a corner), then for one or two lines (a face, a wall,
//! square, in line, 45°), then for the grid. An opening looks for stations, anything that goes up
//! and down for heights.

mod along;
mod height;
mod plan;
mod platform;

use layout_core::document::Job;
use layout_core::id::Name;
use layout_core::layout::Layout;
use layout_core::math::{PlanPoint, round_to};

use super::{Gesture, Grip, Space, line_of};

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

/// Where the hand comes to rest, and what it has snapped to there.
pub type Settled = (PlanPoint, Option<Snap>);

/// Something to snap a single number to.
struct Mark {
    value: f64,
    label: String,
}

impl Snapping<'_> {
    /// Where the hand of `gesture` comes to rest when the pointer is at `hand`, and why there.
    pub fn settle(&self, gesture: &Gesture, hand: PlanPoint) -> Settled {
        match gesture.space {
            Space::Plan => self.settle_plan(gesture, hand),
            Space::Elevation => self.settle_elevation(gesture, hand),
        }
    }

    fn settle_plan(&self, g: &Gesture, hand: PlanPoint) -> Settled {
        let carried = |origin: PlanPoint, start: Option<PlanPoint>, moving: Option<&Name>| {
            let (to, snap) = self.point(origin + (hand - g.from), start, moving);
            (g.from + (to - origin), snap)
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
            Grip::Underlay(held) => carried(*held, None, None),
            Grip::NewWall(_) | Grip::NewBeam(_) | Grip::NewRoof(_) => {
                self.point(hand, Some(g.from), None)
            }
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
                    self.in_wall(&wall.name, hand, &|s| {
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
                self.in_wall(wall, hand, &|s| {
                    let (to, snap) = self.opening(wall, half * 2.0, None, s - half);
                    (to + half, snap)
                })
            }
            Grip::Point(_) | Grip::Fitting(_) | Grip::Reading { wall: Some(_), .. } => {
                self.thing_along(g, hand)
            }
            Grip::Reading { wall: None, surface, index } => {
                match self.job.levels.readings.of(*surface).get(*index) {
                    Some(reading) => carried(reading.at, None, None),
                    None => (hand, None),
                }
            }
            Grip::NewReading { wall: Some(wall), surface, .. } => {
                self.in_wall(wall, hand, &|s| self.read_at(wall, *surface, s))
            }
            Grip::NewReading { wall: None, .. } => self.point(hand, None, None),
            Grip::NewPoint { wall, .. } | Grip::NewFitting { wall, .. } => {
                self.in_wall(wall, hand, &|s| self.station(wall, s))
            }
            Grip::NewPlatform(_)
            | Grip::Platform(_)
            | Grip::PlatformEdge { .. }
            | Grip::PlatformHole(_) => self.platform(g, hand),
            _ => (self.on_grid(hand), None),
        }
    }

    fn settle_elevation(&self, g: &Gesture, hand: PlanPoint) -> Settled {
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
            Grip::Route(name) => {
                let Some((_, route)) = self.job.route(name) else { return (hand, None) };
                self.upright_from(g, hand, route.height)
            }
            // Levels are typed: in the elevation they only go along.
            Grip::Reading { surface, .. } => {
                let Some((wall, at)) = self.thing(&g.grip) else { return (hand, None) };
                let (to, snap) = self.read_at(&wall, *surface, at.x + hand.x - g.from.x);
                (PlanPoint::new(g.from.x + to - at.x, hand.y), snap)
            }
            Grip::NewReading { wall: Some(wall), surface, .. } => {
                let (to, snap) = self.read_at(wall, *surface, hand.x);
                (PlanPoint::new(to, hand.y), snap)
            }
            Grip::Sill(name) | Grip::Top(name) => {
                let Some((_, opening)) = self.job.opening(name) else { return (hand, None) };
                let was = match g.grip {
                    Grip::Sill(_) => opening.kind.sill().unwrap_or(0.0),
                    _ => opening.kind.top(),
                };
                self.upright_from(g, hand, was)
            }
            Grip::Row { row, rows, .. } => {
                self.upright_from(g, hand, rows.get(*row).map_or(0.0, |r| r.height))
            }
            Grip::Head { height, .. } => self.upright_from(g, hand, *height),
            Grip::Level(name) => {
                self.upright_from(g, hand, self.job.platform(name).map_or(0.0, |p| p.level))
            }
            _ => (hand, None),
        }
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

    /// Whole steps from the datum.
    fn on_grid(&self, p: PlanPoint) -> PlanPoint {
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
pub(super) const FAR: f64 = 20_000.0;
