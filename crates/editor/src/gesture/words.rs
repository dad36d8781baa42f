//! What a drag reads: the figures at the hand and how far it has moved.

use layout_core::document::{Edit, Job};
use layout_core::math::PlanPoint;

use super::reading::Read;
use super::{Gesture, Grip};

impl Gesture {
    /// What the hand is at, in figures: the distance that holds an opening, a height, a length.
    pub fn reading(&self, base: &Job) -> String {
        let units = base.units;
        let figures = |p: PlanPoint| {
            let d = p - base.datum.at;
            format!("x {}  y {}", units.show(d.x), units.show(d.y))
        };
        match (&self.grip, self.edit(base)) {
            (Grip::NewRoom(_), _) => units.show((self.carried(self.from, base) - self.from).norm()),
            (_, None) => String::new(),
            (_, Some(edit)) => match edit {
                Edit::MoveOpening { distance, .. } => units.show(distance),
                Edit::PutOpening { opening, .. } => match self.grip {
                    Grip::Sill(_) => units.show(opening.kind.sill().unwrap_or(0.0)),
                    Grip::Top(_) => units.show(opening.kind.top()),
                    _ => units.show(opening.hold.distance),
                },
                Edit::SetRows { rows: Some(_), .. } => match &self.grip {
                    Grip::Row { row, rows, .. } => units.show(self.height(rows[*row].height)),
                    _ => String::new(),
                },
                Edit::PutWall(_) => match &self.grip {
                    Grip::Head { height, .. } => units.show(self.height(*height)),
                    _ => String::new(),
                },
                Edit::MoveWall { by, .. } | Edit::MoveSide { by, .. } => units.show(by.abs()),
                Edit::PutNode(node) => figures(node.at),
                Edit::MoveCorner { to, .. } => figures(to),
                Edit::PutPost(post) => figures(post.at),
                Edit::SetDatum(_) | Edit::PutRoom(_) | Edit::SetUnderlay(_) => {
                    units.show(self.shift().norm())
                }
                Edit::PutBeam(beam) => units.show((beam.to - beam.from).norm()),
                Edit::PutRoof(roof) => units.show((roof.to - roof.from).norm()),
                Edit::AddWall { from, to, .. } => units.show((to - from).norm()),
                Edit::PutPlatform(p) => match self.grip {
                    Grip::Level(_) => units.show(p.level),
                    Grip::Platform(_) => figures(p.corner),
                    _ => format!("{} × {}", units.show(p.size.0), units.show(p.size.1)),
                },
                Edit::PutPlatformHole { hole, .. } => {
                    format!("{} · {}", units.show(hole.at.0), units.show(hole.at.1))
                }
                Edit::PutPoint { point, .. } => {
                    format!("{} · {} up", units.show(point.distance), units.show(point.height))
                }
                Edit::PutRoute { route, .. } => format!("{} up", units.show(route.height)),
                Edit::PutFitting { fitting, .. } => {
                    format!("{} · {} up", units.show(fitting.distance), units.show(fitting.bottom))
                }
                edit => match self.read_in(&edit) {
                    Some((Read::Along(along), level)) => {
                        format!("{} along · {}", units.show(along), units.show(level))
                    }
                    Some((Read::InRoom(at), level)) => {
                        format!("{} · {}", figures(at), units.show(level))
                    }
                    None => String::new(),
                },
            },
        }
    }

    /// How far it has moved from where it started, in words: “+60 mm”. Empty for what is new.
    pub fn moved(&self, base: &Job) -> String {
        let signed = |by: f64| {
            let sign = if by > 0.05 { "+" } else { "" };
            format!("{sign}{}", base.units.with_unit(by))
        };
        match (&self.grip, self.edit(base)) {
            (grip, _) if grip.is_new() => String::new(),
            (Grip::Opening(name), Some(Edit::MoveOpening { distance, .. })) => base
                .opening(name)
                .map(|(_, o)| signed(distance - o.hold.distance))
                .unwrap_or_default(),
            (
                Grip::Sill(_)
                | Grip::Top(_)
                | Grip::Row { .. }
                | Grip::Head { .. }
                | Grip::Level(_),
                _,
            ) => signed(
                self.height(0.0) - self.numbers().first().map_or(0.0, |_| self.started_at(base)),
            ),
            (
                Grip::Wall(_) | Grip::Side(_),
                Some(Edit::MoveWall { by, .. } | Edit::MoveSide { by, .. }),
            ) => signed(by.abs()),
            (_, Some(edit)) => {
                let moved = self.begun_at(base).zip(placed_at(&edit)).map(|(a, b)| (b - a).norm());
                base.units.with_unit(moved.unwrap_or_else(|| self.shift().norm()))
            }
            (_, None) => String::new(),
        }
    }

    /// Where the point in the hand began.
    pub(super) fn begun_at(&self, base: &Job) -> Option<PlanPoint> {
        match &self.grip {
            Grip::Node(name) => base.node(name).map(|n| n.at),
            Grip::Corner(i) => base.shell.outline.get(*i).map(|c| c.at),
            Grip::Post(name) => base.shell.posts.iter().find(|p| p.name == *name).map(|p| p.at),
            Grip::Roof(name) => base.shell.roof.iter().find(|r| r.name == *name).map(|r| r.from),
            Grip::Beam(name) => base.shell.beams.iter().find(|b| b.name == *name).map(|b| b.from),
            Grip::Datum => Some(base.datum.at),
            Grip::Platform(name) => base.platform(name).map(|p| p.corner),
            _ => None,
        }
    }

    /// The height at which something that goes up and down began.
    pub(super) fn started_at(&self, base: &Job) -> f64 {
        match &self.grip {
            Grip::Sill(name) => base.opening(name).and_then(|(_, o)| o.kind.sill()).unwrap_or(0.0),
            Grip::Top(name) => base.opening(name).map_or(0.0, |(_, o)| o.kind.top()),
            Grip::Row { row, rows, .. } => rows.get(*row).map_or(0.0, |r| r.height),
            Grip::Head { height, .. } => *height,
            Grip::Level(name) => base.platform(name).map_or(0.0, |p| p.level),
            _ => 0.0,
        }
    }
}

/// Where an edit puts the point it moves.
fn placed_at(edit: &Edit) -> Option<PlanPoint> {
    match edit {
        Edit::PutNode(node) => Some(node.at),
        Edit::MoveCorner { to, .. } => Some(*to),
        Edit::PutPost(post) => Some(post.at),
        Edit::PutBeam(beam) => Some(beam.from),
        Edit::PutRoof(roof) => Some(roof.from),
        Edit::SetDatum(datum) => Some(datum.at),
        Edit::PutPlatform(p) => Some(p.corner),
        _ => None,
    }
}
