//! The job: everything the user drew, measured or chose, and nothing that can be worked out.
//!
//! This is the only thing that is ever saved, so it is the only thing that owes compatibility to
//! old files. Lengths are millimetres; an angle in a file says its unit in its name.
//! Walls and make-ups sit behind `Arc`s so that a copy of a job costs next to nothing and an
//! untouched wall can be recognised without looking inside.

mod side;
mod readings;
mod needs;
mod rules;
mod levels;
mod survey;
mod shell;
mod underlay;
mod noggins;
mod makeup;
mod door;
mod opening;
mod point;
mod fitting;
mod route;
mod wall;
mod platform;
mod stock;
mod buying;
mod sundries;
mod accepted;
mod names;
mod splay;
mod carried;
mod squared;
mod edit;
mod file;

use std::sync::Arc;

use serde::{Deserialize, Serialize};

pub use accepted::Accepted;
pub use buying::{Buying, Carry, Spares};
pub use door::{Architrave, Door, DoorStyle, Hand, Hinge, Lining, Stack, StackLine};
pub use edit::Edit;
pub(crate) use file::read_list;
pub use file::{ReadError, check, read, write};
pub use fitting::{Behind, Fitting};
pub use levels::{CeilingBoards, CeilingTurn, Datum, Layer, Levels};
pub use makeup::{
    AngledEnd, Board, CornerRecipe, Finish, Head, HeadLay, Insulation, Lay, MakeUp, OpeningStuds,
    Sole, TeeRecipe, Timber,
};
pub use needs::{Duty, Needs};
pub use noggins::{NogginLay, NogginSet, Noggins, RowBase, RowEdge, RowPlace, RowRule, Rows};
pub use opening::{Hold, HoldTo, Opening, OpeningKind, Reveals};
pub use platform::{
    Bearing, Platform, PlatformHole, PlatformHoleKind, PlatformKind, Span as PlatformSpan,
};
pub use point::{Feed, FeedFrom, Hung, MeasuredFrom, Point, PointKind};
pub use readings::{
    Bedding, Floor, Moisture, Packing, Raising, Reading, Readings, RiserShape, SolesAtDoors,
};
pub use route::{Route, Service, Shift};
pub use rules::{OwnRule, Rule, RuleChoice, RuleSet, RuleUnit};
pub use shell::{Beam, Corner, Gap, Post, RoofPlane, Shell};
pub use side::{Face, WallEnd};
pub use splay::{CutCorner, set_backs};
pub use stock::{BarFrom, CrewCopy, CutBar, Delivery, SawSettings, SheetStock, Stock, money};
pub use sundries::Sundries;
pub use survey::{Measured, Measurement, Survey};
pub use underlay::{Underlay, not_a_file_name};
pub use wall::{BoardedFirst, EndRule, GridFrom, Joint, Line, OddBay, Plate, Wall};

use crate::id::{ItemRef, Name};
use crate::math::PlanPoint;
use crate::units::Units;

/// The version of the job file this program writes.
pub const FORMAT: u32 = 1;

/// A whole job, as it is saved.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Job {
    /// Version of the file format; [`FORMAT`] for everything this program writes.
    pub version: u32,
    /// What it says at the top of every sheet.
    pub title: String,
    /// Notes for the crew, printed on the plan sheet.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub notes: String,
    /// What its lengths are shown, printed and cut in.
    #[serde(default, skip_serializing_if = "is_default")]
    pub units: Units,
    /// The point everything is measured from.
    #[serde(default)]
    pub datum: Datum,
    /// Build-up, finished floor, ceiling, laser line.
    #[serde(default)]
    pub levels: Levels,
    /// The limits the checks hold it against.
    #[serde(default, skip_serializing_if = "is_default")]
    pub rules: RuleChoice,
    /// What already stands.
    #[serde(default)]
    pub shell: Shell,
    /// What lies under the plan, to be drawn over.
    #[serde(default, skip_serializing_if = "is_default")]
    pub underlay: Option<Underlay>,
    /// Names of the rooms, where they are written on the plan.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub rooms: Vec<Room>,
    /// Named wall recipes.
    #[serde(default)]
    pub makeups: Vec<Arc<MakeUp>>,
    /// Setting-out points.
    #[serde(default)]
    pub nodes: Vec<Node>,
    /// The partitions.
    #[serde(default)]
    pub walls: Vec<Arc<Wall>>,
    /// Low ceilings, shelves and bulkheads.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub platforms: Vec<Arc<Platform>>,
    /// Timber to be had: lengths, prices, what is already owned.
    #[serde(default)]
    pub stock: Vec<Stock>,
    /// Sheets of board to be had: sizes, prices, what is already owned.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub sheets: Vec<SheetStock>,
    /// How the saw cuts, and the knife.
    #[serde(default)]
    pub saw: SawSettings,
    /// How it is bought: tax, delivery, discount, spares, what the van takes.
    #[serde(default, skip_serializing_if = "is_default")]
    pub buying: Buying,
    /// The bars that have been cut, in the order they were ticked off.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub cut: Vec<CutBar>,
    /// How boards are fixed and finished.
    #[serde(default, skip_serializing_if = "is_default")]
    pub sundries: Sundries,
    /// What was printed and handed out, and when.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub crew_copies: Vec<CrewCopy>,
    /// Snags that are let stand.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub accepted: Vec<Accepted>,
}

/// A setting-out point that walls run between.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Node {
    /// Its name, unique among nodes.
    pub name: Name,
    /// Where it is on the plan.
    #[serde(with = "xy")]
    pub at: PlanPoint,
}

/// A room's name, written on the plan.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Room {
    /// The name, unique among rooms.
    pub name: Name,
    /// The middle of the lettering on the plan.
    #[serde(with = "xy")]
    pub at: PlanPoint,
}

impl Default for Job {
    fn default() -> Job {
        Job {
            version: FORMAT,
            title: "Untitled job".into(),
            notes: String::new(),
            units: Units::default(),
            datum: Datum::default(),
            levels: Levels::default(),
            rules: RuleChoice::default(),
            shell: Shell::default(),
            underlay: None,
            rooms: Vec::new(),
            makeups: vec![Arc::new(MakeUp::default())],
            nodes: Vec::new(),
            walls: Vec::new(),
            platforms: Vec::new(),
            stock: Stock::usual(),
            sheets: Vec::new(),
            saw: SawSettings::default(),
            buying: Buying::default(),
            cut: Vec::new(),
            sundries: Sundries::default(),
            crew_copies: Vec::new(),
            accepted: Vec::new(),
        }
    }
}

impl Job {
    /// The wall called `name`.
    pub fn wall(&self, name: &Name) -> Option<&Arc<Wall>> {
        self.walls.iter().find(|w| w.name == *name)
    }

    /// The node called `name`.
    pub fn node(&self, name: &Name) -> Option<&Node> {
        self.nodes.iter().find(|n| n.name == *name)
    }

    /// The make-up called `name`.
    pub fn makeup(&self, name: &Name) -> Option<&Arc<MakeUp>> {
        self.makeups.iter().find(|m| m.name == *name)
    }

    /// The platform called `name`.
    pub fn platform(&self, name: &Name) -> Option<&Arc<Platform>> {
        self.platforms.iter().find(|p| p.name == *name)
    }

    /// The hole of a platform called `name`, with its platform.
    pub fn platform_hole(&self, name: &Name) -> Option<(&Arc<Platform>, &PlatformHole)> {
        self.platforms.iter().find_map(|p| p.hole(name).map(|h| (p, h)))
    }

    /// The opening called `name`, with the wall it is in.
    pub fn opening(&self, name: &Name) -> Option<(&Arc<Wall>, &Opening)> {
        self.walls.iter().find_map(|w| w.openings.iter().find(|o| o.name == *name).map(|o| (w, o)))
    }

    /// The first-fix point called `name`, with its wall.
    pub fn point(&self, name: &Name) -> Option<(&Arc<Wall>, &Point)> {
        self.walls.iter().find_map(|w| w.points.iter().find(|p| p.name == *name).map(|p| (w, p)))
    }

    /// The wall that `item` is, or is in.
    pub fn wall_of(&self, item: &ItemRef) -> Option<&Arc<Wall>> {
        match item {
            ItemRef::Wall(wall)
            | ItemRef::Member { wall, .. }
            | ItemRef::NogginRow { wall, .. }
            | ItemRef::Reading { wall: Some(wall), .. } => self.wall(wall),
            ItemRef::Opening(name) => self.opening(name).map(|(wall, _)| wall),
            ItemRef::Point(name) => self.point(name).map(|(wall, _)| wall),
            ItemRef::Route(name) => self.route(name).map(|(wall, _)| wall),
            ItemRef::Fitting(name) => self.fitting(name).map(|(wall, _)| wall),
            _ => None,
        }
    }

    /// The route called `name`, with its wall.
    pub fn route(&self, name: &Name) -> Option<(&Arc<Wall>, &Route)> {
        self.walls.iter().find_map(|w| w.routes.iter().find(|r| r.name == *name).map(|r| (w, r)))
    }

    /// The fitting called `name`, with its wall.
    pub fn fitting(&self, name: &Name) -> Option<(&Arc<Wall>, &Fitting)> {
        self.walls.iter().find_map(|w| w.fittings.iter().find(|f| f.name == *name).map(|f| (w, f)))
    }
}

/// Plan points are written `(1200.0, 0.0)` in a job file.
pub(crate) mod xy {
    use serde::{Deserialize, Deserializer, Serialize, Serializer};

    use crate::math::PlanPoint;

    pub(crate) fn serialize<S: Serializer>(p: &PlanPoint, s: S) -> Result<S::Ok, S::Error> {
        (p.x, p.y).serialize(s)
    }

    pub(crate) fn deserialize<'de, D: Deserializer<'de>>(d: D) -> Result<PlanPoint, D::Error> {
        <(f64, f64)>::deserialize(d).map(|(x, y)| PlanPoint::new(x, y))
    }
}

/// A list of plan points is written `[(0.0, 0.0), (1200.0, 0.0)]`.
pub(crate) mod xy_list {
    use serde::{Deserialize, Deserializer, Serialize, Serializer};

    use crate::math::PlanPoint;

    pub(crate) fn serialize<S: Serializer>(points: &[PlanPoint], s: S) -> Result<S::Ok, S::Error> {
        points.iter().map(|p| (p.x, p.y)).collect::<Vec<_>>().serialize(s)
    }

    pub(crate) fn deserialize<'de, D: Deserializer<'de>>(d: D) -> Result<Vec<PlanPoint>, D::Error> {
        let points = Vec::<(f64, f64)>::deserialize(d)?;
        Ok(points.into_iter().map(|(x, y)| PlanPoint::new(x, y)).collect())
    }
}

/// Used by `skip_serializing_if`: true when the value is what an absent field would be read as.
pub(crate) fn is_default<T: Default + PartialEq>(value: &T) -> bool {
    *value == T::default()
}
