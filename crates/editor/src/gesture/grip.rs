//! What the hand can hold, and what a hit on a drawing lets it hold.

use std::sync::Arc;

use layout_core::document::{
    Beam, Fitting, Head, Job, Opening, OpeningKind, Platform, Point, Post, RoofPlane, Wall,
};
use layout_core::frame::{Role, Row};
use layout_core::id::{ItemRef, Name, Surface};
use layout_core::layout::Layout;
use layout_core::math::PlanPoint;

/// What the points of a drag are points of.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Space {
    /// The plan: x right, y up.
    #[default]
    Plan,
    /// An elevation: x the station along the wall, y the height above FFL.
    Elevation,
}

/// What the hand holds. The `New…` grips hold something that is not in the job yet.
#[derive(Clone, Debug, PartialEq)]
pub enum Grip {
    /// A setting-out point.
    Node(Name),
    /// A wall, sideways.
    Wall(Name),
    /// A corner of the room.
    Corner(usize),
    /// A side of the room, sideways.
    Side(usize),
    /// The datum.
    Datum,
    /// What lies under the plan, by this place of it.
    Underlay(PlanPoint),
    /// A room's name.
    Room(Name),
    /// A post.
    Post(Name),
    /// A roof slope, with the part of the plan it covers.
    Roof(Name),
    /// A beam, both ends together.
    Beam(Name),
    /// An opening, along its wall.
    Opening(Name),
    /// The sill of an opening, up and down; its top stays.
    Sill(Name),
    /// The top of an opening, up and down; its sill stays.
    Top(Name),
    /// One noggin row of a wall, up and down.
    Row {
        /// The wall.
        wall: Name,
        /// Which row, from 0 at the floor.
        row: usize,
        /// All its rows when the drag began.
        rows: Vec<Row>,
    },
    /// The top of a free-standing wall, up and down.
    Head {
        /// The wall.
        wall: Name,
        /// Which corner of it, when it has a line of its own.
        corner: Option<usize>,
        /// Its height when the drag began.
        height: f64,
    },
    /// A first-fix point, along its wall and (in the elevation) up and down.
    Point(Name),
    /// A route, up and down in the elevation.
    Route(Name),
    /// A fitting, along its wall and (in the elevation) up and down.
    Fitting(Name),
    /// A level that was read: along its wall, or on the plan when it is one of the room.
    Reading {
        /// The wall it was read along.
        wall: Option<Name>,
        /// What it was read on.
        surface: Surface,
        /// Which of its list.
        index: usize,
    },
    /// A level being read at the hand.
    NewReading {
        /// The wall it is read along; `None` in the room.
        wall: Option<Name>,
        /// What it is read on.
        surface: Surface,
        /// The level that is taken to be there, while none is typed.
        level: f64,
        /// True when a number typed is how far it is from the laser line.
        from_laser: bool,
    },
    /// A wall from where the drag began to the hand.
    NewWall(Arc<Wall>),
    /// A room through these corners and the hand.
    NewRoom(Vec<PlanPoint>),
    /// An opening with its middle at the hand.
    NewOpening {
        /// The wall it goes in.
        wall: Name,
        /// The opening, its hold still to be settled.
        opening: Opening,
    },
    /// A first-fix point at the hand.
    NewPoint {
        /// The wall it goes on.
        wall: Name,
        /// The point, its place still to be settled.
        point: Point,
    },
    /// A fitting with its underside at the hand.
    NewFitting {
        /// The wall it hangs on.
        wall: Name,
        /// The fitting, its place still to be settled.
        fitting: Fitting,
    },
    /// A post at the hand.
    NewPost(Post),
    /// A beam from where the drag began to the hand.
    NewBeam(Beam),
    /// The foot of a roof slope from where the drag began to the hand.
    NewRoof(RoofPlane),
    /// A platform, all of it.
    Platform(Name),
    /// One edge of a platform: near, right, far or left, from 0.
    PlatformEdge {
        /// The platform.
        name: Name,
        /// The edge.
        side: usize,
    },
    /// A hole of a platform.
    PlatformHole(Name),
    /// The level of a platform, up and down.
    Level(Name),
    /// A platform from where the drag began to the hand.
    NewPlatform(Arc<Platform>),
}

impl Grip {
    /// What is held or will be made, for picking it.
    pub fn item(&self) -> Option<ItemRef> {
        Some(match self {
            Grip::Node(n) => ItemRef::Node(n.clone()),
            Grip::Wall(n) => ItemRef::Wall(n.clone()),
            Grip::Head { wall, .. } => ItemRef::Wall(wall.clone()),
            Grip::Corner(i) => ItemRef::Corner(*i),
            Grip::Side(i) => ItemRef::Side(*i),
            Grip::Datum => ItemRef::Datum,
            Grip::Underlay(_) => ItemRef::Underlay,
            Grip::Room(n) => ItemRef::Room(n.clone()),
            Grip::Post(n) => ItemRef::Post(n.clone()),
            Grip::Beam(n) => ItemRef::Beam(n.clone()),
            Grip::Roof(n) => ItemRef::Roof(n.clone()),
            Grip::Opening(n) | Grip::Sill(n) | Grip::Top(n) => ItemRef::Opening(n.clone()),
            Grip::Row { wall, row, .. } => ItemRef::NogginRow { wall: wall.clone(), row: *row },
            Grip::Point(n) => ItemRef::Point(n.clone()),
            Grip::Route(n) => ItemRef::Route(n.clone()),
            Grip::Fitting(n) => ItemRef::Fitting(n.clone()),
            Grip::NewWall(w) => ItemRef::Wall(w.name.clone()),
            Grip::Reading { wall, surface, index } => {
                ItemRef::Reading { wall: wall.clone(), surface: *surface, index: *index }
            }
            Grip::NewRoom(_) | Grip::NewReading { .. } => return None,
            Grip::NewOpening { opening, .. } => ItemRef::Opening(opening.name.clone()),
            Grip::NewPoint { point, .. } => ItemRef::Point(point.name.clone()),
            Grip::NewFitting { fitting, .. } => ItemRef::Fitting(fitting.name.clone()),
            Grip::NewPost(p) => ItemRef::Post(p.name.clone()),
            Grip::NewBeam(b) => ItemRef::Beam(b.name.clone()),
            Grip::NewRoof(r) => ItemRef::Roof(r.name.clone()),
            Grip::Platform(n) | Grip::PlatformEdge { name: n, .. } | Grip::Level(n) => {
                ItemRef::Platform(n.clone())
            }
            Grip::PlatformHole(n) => ItemRef::PlatformHole(n.clone()),
            Grip::NewPlatform(p) => ItemRef::Platform(p.name.clone()),
        })
    }

    /// True for something that is not in the job yet.
    pub fn is_new(&self) -> bool {
        matches!(
            self,
            Grip::NewWall(_)
                | Grip::NewRoom(_)
                | Grip::NewOpening { .. }
                | Grip::NewPoint { .. }
                | Grip::NewReading { .. }
                | Grip::NewFitting { .. }
                | Grip::NewPost(_)
                | Grip::NewBeam(_)
                | Grip::NewRoof(_)
                | Grip::NewPlatform(_)
        )
    }

    /// What pressing on `item` lets the hand hold on the plan.
    pub fn on_plan(item: &ItemRef) -> Option<Grip> {
        match item {
            ItemRef::Node(n) => Some(Grip::Node(n.clone())),
            ItemRef::Wall(n) => Some(Grip::Wall(n.clone())),
            ItemRef::Member { wall, .. } | ItemRef::NogginRow { wall, .. } => {
                Some(Grip::Wall(wall.clone()))
            }
            ItemRef::Corner(i) => Some(Grip::Corner(*i)),
            ItemRef::Side(i) => Some(Grip::Side(*i)),
            ItemRef::Datum => Some(Grip::Datum),
            ItemRef::Room(n) => Some(Grip::Room(n.clone())),
            ItemRef::Post(n) => Some(Grip::Post(n.clone())),
            ItemRef::Beam(n) => Some(Grip::Beam(n.clone())),
            ItemRef::Roof(n) => Some(Grip::Roof(n.clone())),
            ItemRef::Opening(n) => Some(Grip::Opening(n.clone())),
            ItemRef::Point(n) => Some(Grip::Point(n.clone())),
            ItemRef::Fitting(n) => Some(Grip::Fitting(n.clone())),
            ItemRef::Platform(n) => Some(Grip::Platform(n.clone())),
            ItemRef::PlatformHole(n) => Some(Grip::PlatformHole(n.clone())),
            ItemRef::Reading { .. } => Grip::reading(item),
            ItemRef::Job
            | ItemRef::MakeUp(_)
            | ItemRef::Survey
            | ItemRef::Underlay
            | ItemRef::Route(_) => None,
        }
    }

    /// What pressing on `item` at `at` lets the hand hold on the plan. A platform is as large as a room:
    /// its edges can be held, and all of it only when it is `picked`.
    pub fn on_plan_at(
        item: &ItemRef,
        at: PlanPoint,
        reach: f64,
        picked: bool,
        job: &Job,
    ) -> Option<Grip> {
        let ItemRef::Platform(name) = item else {
            return match item {
                // A piece of a platform is not drawn on the plan as something to hold.
                ItemRef::Member { wall, .. } if job.wall(wall).is_none() => None,
                _ => Grip::on_plan(item),
            };
        };
        let platform = job.platform(name)?;
        let (u, v) = platform.own(at);
        let (w, d) = platform.size;
        let off = [v.abs(), (u - w).abs(), (v - d).abs(), u.abs()];
        let nearest = (0..4).min_by(|a, b| off[*a].total_cmp(&off[*b]))?;
        if off[nearest] <= reach {
            Some(Grip::PlatformEdge { name: name.clone(), side: nearest })
        } else {
            picked.then(|| Grip::Platform(name.clone()))
        }
    }

    /// What pressing on `item` at `at` (station, height) lets the hand hold in the elevation of
    /// a wall. `reach` is how near an edge counts as on it, mm.
    pub fn on_elevation(
        item: &ItemRef,
        at: PlanPoint,
        reach: f64,
        job: &Job,
        layout: &Layout,
    ) -> Option<Grip> {
        match item {
            ItemRef::Opening(name) => {
                let (_, opening) = job.opening(name)?;
                let near = |edge: f64| (at.y - edge).abs() <= reach;
                match &opening.kind {
                    OpeningKind::Door(_) => Some(Grip::Opening(name.clone())),
                    kind if near(kind.top()) => Some(Grip::Top(name.clone())),
                    kind if kind.sill().is_some_and(near) => Some(Grip::Sill(name.clone())),
                    _ => Some(Grip::Opening(name.clone())),
                }
            }
            ItemRef::NogginRow { wall, row } => Grip::row(wall, *row, layout),
            ItemRef::Platform(n) => Some(Grip::Level(n.clone())),
            ItemRef::Route(n) => Some(Grip::Route(n.clone())),
            ItemRef::Point(n) => Some(Grip::Point(n.clone())),
            ItemRef::Fitting(n) => Some(Grip::Fitting(n.clone())),
            ItemRef::Reading { .. } => Grip::reading(item),
            ItemRef::Member { wall, mark } => {
                let laid = layout.wall(wall)?;
                let member = laid.member(*mark)?;
                match member.role {
                    Role::Noggin => {
                        let middle = member.solid.heights().centre();
                        Grip::row(wall, nearest_row(&laid.frame.rows, middle)?, layout)
                    }
                    Role::HeadPlate => Grip::head(wall, at.x, job, layout),
                    Role::OpeningHead | Role::Sill | Role::OpeningStud | Role::Jack => {
                        let hole = laid.spec.holes.iter().min_by(|a, b| {
                            let gap = |h: &layout_core::resolve::Hole| {
                                h.span.gap(member.solid.stations())
                            };
                            gap(a).total_cmp(&gap(b))
                        })?;
                        let (_, opening) = job.opening(&hole.name)?;
                        let door = matches!(opening.kind, OpeningKind::Door(_));
                        Some(match member.role {
                            Role::OpeningHead if !door => Grip::Top(hole.name.clone()),
                            Role::Sill => Grip::Sill(hole.name.clone()),
                            _ => Grip::Opening(hole.name.clone()),
                        })
                    }
                    _ => None,
                }
            }
            ItemRef::Wall(wall) => {
                let top = layout.wall(wall)?.spec.head.at(at.x);
                ((at.y - top).abs() <= reach).then(|| Grip::head(wall, at.x, job, layout)).flatten()
            }
            _ => None,
        }
    }

    fn reading(item: &ItemRef) -> Option<Grip> {
        let ItemRef::Reading { wall, surface, index } = item else { return None };
        Some(Grip::Reading { wall: wall.clone(), surface: *surface, index: *index })
    }

    /// A noggin row; not one that goes where the boards or tiles need it.
    fn row(wall: &Name, row: usize, layout: &Layout) -> Option<Grip> {
        let rows = layout.wall(wall)?.frame.rows.clone();
        let held = rows.get(row).is_some_and(|r| !r.why.is_needed());
        held.then(|| Grip::Row { wall: wall.clone(), row, rows })
    }

    /// The top of a wall, when it is a free one; of a head with a line of its own the corner nearest to
    /// `station`.
    fn head(wall: &Name, station: f64, job: &Job, layout: &Layout) -> Option<Grip> {
        let drawn = job.wall(wall)?;
        let head = drawn.head.clone().unwrap_or_else(|| {
            layout.wall(wall).map_or(Head::default(), |w| w.spec.makeup.head.clone())
        });
        match head {
            Head::Free { height } => Some(Grip::Head { wall: wall.clone(), corner: None, height }),
            Head::Line { points } => {
                let stations: Vec<f64> = points.iter().map(|p| p.0).collect();
                let corner = nearest(&stations, station)?;
                let height = points[corner].1;
                Some(Grip::Head { wall: wall.clone(), corner: Some(corner), height })
            }
            Head::Tight { .. } | Head::Slip { .. } => None,
        }
    }
}

fn nearest_row(rows: &[Row], to: f64) -> Option<usize> {
    nearest(&rows.iter().map(|r| r.height).collect::<Vec<_>>(), to)
}

fn nearest(values: &[f64], to: f64) -> Option<usize> {
    (0..values.len()).min_by(|&a, &b| (values[a] - to).abs().total_cmp(&(values[b] - to).abs()))
}
