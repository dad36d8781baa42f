//! Names: how one part of a job points at another, and how a drawn thing remembers what it is of.

use std::fmt;
use std::sync::Arc;

use serde::{Deserialize, Serialize};

/// The name of a node, wall, opening, make-up, post … as the user wrote it. Names of one kind are
/// unique in a job, so a name is the identity. Cheap to clone.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Name(Arc<str>);

impl Name {
    /// The name `text`.
    pub fn new(text: impl AsRef<str>) -> Name {
        Name(Arc::from(text.as_ref()))
    }

    /// The name as text.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl Default for Name {
    fn default() -> Name {
        Name::new("")
    }
}

impl From<&str> for Name {
    fn from(text: &str) -> Name {
        Name::new(text)
    }
}

impl fmt::Display for Name {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.0)
    }
}

impl PartialEq<str> for Name {
    fn eq(&self, other: &str) -> bool {
        &*self.0 == other
    }
}

impl PartialEq<&str> for Name {
    fn eq(&self, other: &&str) -> bool {
        &*self.0 == *other
    }
}

/// What kind of piece a mark counts: each kind is numbered on its own within its wall or platform.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum Kind {
    /// Plates: soles and heads, `P`.
    Plate,
    /// Full-height uprights of every role, numbered along the wall, `S`.
    Stud,
    /// Jacks: carry an opening's head, `J`.
    Jack,
    /// Cripples: short uprights over a head or under a sill, `C`.
    Cripple,
    /// Slats of a pocket, `T` (thin).
    Slat,
    /// Heads over openings, `H`.
    Head,
    /// Sills under openings, `L` (for ledge; `S` is taken by studs).
    Sill,
    /// Noggins, `N`.
    Noggin,
    /// Pattresses, the backing of fittings, `B`.
    Pattress,
    /// Grounds, blocks and packers at junctions, `G`.
    Ground,
    /// Risers of a raised sole, `R`.
    Riser,
    /// Joists of a platform, `J`; a platform has no jacks.
    Joist,
    /// Trimmers and rims of a platform, `T`.
    Trimmer,
}

impl Kind {
    /// The letter in the mark.
    pub fn letter(self) -> char {
        match self {
            Kind::Plate => 'P',
            Kind::Stud => 'S',
            Kind::Jack => 'J',
            Kind::Cripple => 'C',
            Kind::Slat => 'T',
            Kind::Head => 'H',
            Kind::Sill => 'L',
            Kind::Noggin => 'N',
            Kind::Pattress => 'B',
            Kind::Ground => 'G',
            Kind::Riser => 'R',
            Kind::Joist => 'J',
            Kind::Trimmer => 'T',
        }
    }
}

/// The mark of one piece within its wall or platform, `S3`. With the wall's name in front, `A-S3`, it is
/// unique in the job.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub struct Mark {
    /// What is counted.
    pub kind: Kind,
    /// 1 for the first from the wall's start (and from the floor up).
    pub number: u16,
}

impl fmt::Display for Mark {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}{}", self.kind.letter(), self.number)
    }
}

/// What a level was read on.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum Surface {
    /// The floor the soles are packed up from.
    Floor,
    /// The ceiling or soffit the heads go up to.
    Ceiling,
}

impl Surface {
    /// “floor”, “ceiling”.
    pub fn label(self) -> &'static str {
        match self {
            Surface::Floor => "floor",
            Surface::Ceiling => "ceiling",
        }
    }
}

/// What a drawn thing, a snag or a row of a list is of. It travels from a picture back to the hand;
/// values never do.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum ItemRef {
    /// The job as a whole.
    Job,
    /// The datum point.
    Datum,
    /// A setting-out point.
    Node(Name),
    /// A wall.
    Wall(Name),
    /// An opening.
    Opening(Name),
    /// A noggin row of a wall, counted from the floor up, from 0.
    NogginRow {
        /// The wall.
        wall: Name,
        /// Which row, from 0 at the floor.
        row: usize,
    },
    /// One piece of timber.
    Member {
        /// Its wall or its platform: they share their names.
        wall: Name,
        /// Its mark within that.
        mark: Mark,
    },
    /// A corner of the shell, counted along its outline from 0.
    Corner(usize),
    /// A side of the shell: from corner `n` to the next.
    Side(usize),
    /// What was measured of the room.
    Survey,
    /// What lies under the plan.
    Underlay,
    /// A post in the shell.
    Post(Name),
    /// A beam in the shell.
    Beam(Name),
    /// A roof plane of the shell.
    Roof(Name),
    /// A room label.
    Room(Name),
    /// A first-fix point.
    Point(Name),
    /// A route of cables or pipes through a wall.
    Route(Name),
    /// Something that will hang on a wall.
    Fitting(Name),
    /// A make-up.
    MakeUp(Name),
    /// A low ceiling, a shelf or a bulkhead.
    Platform(Name),
    /// A hole through a platform.
    PlatformHole(Name),
    /// A level that was read, counted from 0 in its list.
    Reading {
        /// The wall it was read along; `None` for one of the room.
        wall: Option<Name>,
        /// What it was read on.
        surface: Surface,
        /// Which.
        index: usize,
    },
}

impl ItemRef {
    /// What to call it in a sentence: “wall A”, “opening D1”, “piece A-S3”.
    pub fn label(&self) -> String {
        match self {
            ItemRef::Job => "the job".into(),
            ItemRef::Datum => "the datum".into(),
            ItemRef::Node(n) => format!("node {n}"),
            ItemRef::Wall(n) => format!("wall {n}"),
            ItemRef::Opening(n) => format!("opening {n}"),
            ItemRef::NogginRow { wall, row } => format!("noggin row {} of wall {wall}", row + 1),
            ItemRef::Member { wall, mark } => format!("piece {wall}-{mark}"),
            ItemRef::Corner(i) => format!("room corner {}", i + 1),
            ItemRef::Side(i) => format!("room side {}", i + 1),
            ItemRef::Survey => "the measured room".into(),
            ItemRef::Underlay => "what lies under the plan".into(),
            ItemRef::Post(n) => format!("post {n}"),
            ItemRef::Beam(n) => format!("beam {n}"),
            ItemRef::Roof(n) => format!("roof plane {n}"),
            ItemRef::Room(n) => format!("room {n}"),
            ItemRef::Point(n) => format!("point {n}"),
            ItemRef::Route(n) => format!("route {n}"),
            ItemRef::Fitting(n) => format!("fitting {n}"),
            ItemRef::MakeUp(n) => format!("make-up {n}"),
            ItemRef::Platform(n) => format!("platform {n}"),
            ItemRef::PlatformHole(n) => format!("hole {n}"),
            ItemRef::Reading { wall: None, surface, index } => {
                format!("{} level {}", surface.label(), index + 1)
            }
            ItemRef::Reading { wall: Some(wall), surface, index } => {
                format!("{} level {} of wall {wall}", surface.label(), index + 1)
            }
        }
    }
}
