//! A partition: two nodes, a make-up, and what is in it.

use serde::{Deserialize, Serialize};

use super::is_default;
use super::{
    Bedding, Fitting, Head, Needs, Opening, Point, Route, Rows, Shift, Sole, SolesAtDoors,
};
use crate::id::{Name, Surface};

/// Which line of the wall runs through its two nodes. Left and right are as you walk from its
/// start to its end. Changing the line moves the frame, not the nodes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Line {
    /// The left face of the frame.
    LeftFace,
    /// The middle of the frame.
    #[default]
    Centre,
    /// The right face of the frame.
    RightFace,
    /// The left face of the finished wall: frame, boards and skim.
    LeftFinished,
    /// The right face of the finished wall.
    RightFinished,
}

/// Who gives way at a corner.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum EndRule {
    /// The program chooses: at a square corner the wall that comes first in the job runs through, at any
    /// other both are mitred.
    #[default]
    Auto,
    /// This wall runs through to the other's outer face.
    Through,
    /// This wall stops at the other's near face.
    Butt,
    /// Both are cut on the line through the two corners of their faces: half the turn each when they are
    /// as deep.
    Mitre,
}

/// Where the bay that is not a full one goes.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub enum OddBay {
    /// At the end: centres are counted from the start.
    #[default]
    AtEnd,
    /// At the start: centres are counted back from the end.
    AtStart,
    /// Half at each end.
    Split,
    /// Beside the named opening: centres are counted from both ends towards it.
    Beside(Name),
}

impl OddBay {
    /// “at the end”, “beside D1” …
    pub fn label(&self) -> String {
        match self {
            OddBay::AtEnd => "at the end".into(),
            OddBay::AtStart => "at the start".into(),
            OddBay::Split => "half at each end".into(),
            OddBay::Beside(name) => format!("beside {name}"),
        }
    }
}

/// Where the grid of stud centres is counted from.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub enum GridFrom {
    /// The end of the frame, where boarding starts.
    #[default]
    FrameEnd,
    /// This far in from the end of the frame.
    Inset(f64),
    /// The finished face of the wall it stands against, where that wall is boarded first.
    BoardedFace,
    /// Where the wall in line with it counts from: boards run on through the node.
    InLine,
}

impl GridFrom {
    /// What it is counted from: “boarded face”.
    pub fn place(self) -> &'static str {
        match self {
            GridFrom::FrameEnd => "frame end",
            GridFrom::Inset(_) => "inset",
            GridFrom::BoardedFace => "boarded face",
            GridFrom::InLine => "wall in line",
        }
    }
}

/// Which of two walls that meet is boarded first: the boards of the other start at its finished face.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum BoardedFirst {
    /// The wall that runs on past the other; at a mitre neither.
    #[default]
    Auto,
    /// This wall.
    This,
    /// The other wall.
    Other,
}

/// Which plates of a wall.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Plate {
    /// Sole plates.
    Sole,
    /// Lower soles of a raised sole.
    LowerSole,
    /// Upper soles of a raised sole.
    UpperSole,
    /// Head plates.
    Head,
}

impl Plate {
    /// “sole plate”, “upper sole” …
    pub fn label(self) -> &'static str {
        match self {
            Plate::Sole => "sole plate",
            Plate::LowerSole => "lower sole",
            Plate::UpperSole => "upper sole",
            Plate::Head => "head plate",
        }
    }
}

/// Where a plate is joined: over the stud whose middle is nearest, where it may be joined there.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Joint {
    /// Which plates.
    pub plate: Plate,
    /// Which of them, from the floor up, from 0.
    #[serde(default, skip_serializing_if = "is_default")]
    pub layer: u8,
    /// Station along the frame, mm.
    pub at: f64,
}

/// A partition between two nodes.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Wall {
    /// Its name, unique among walls.
    pub name: Name,
    /// The node it starts at.
    pub from: Name,
    /// The node it ends at.
    pub to: Name,
    /// The make-up it is built to.
    pub makeup: Name,
    /// Which line of it runs through the nodes.
    #[serde(default, skip_serializing_if = "is_default")]
    pub line: Line,
    /// Who gives way at its start.
    #[serde(default, skip_serializing_if = "is_default")]
    pub at_from: EndRule,
    /// Who gives way at its end.
    #[serde(default, skip_serializing_if = "is_default")]
    pub at_to: EndRule,
    /// Where the odd bay goes.
    #[serde(default, skip_serializing_if = "is_default")]
    pub odd_bay: OddBay,
    /// Where its grid is counted from.
    #[serde(default, skip_serializing_if = "is_default")]
    pub grid_from: GridFrom,
    /// Which wall is boarded first at its start, where its grid is counted from a boarded face.
    #[serde(default, skip_serializing_if = "is_default")]
    pub boarded_from: BoardedFirst,
    /// Which wall is boarded first at its end.
    #[serde(default, skip_serializing_if = "is_default")]
    pub boarded_to: BoardedFirst,
    /// Stud centres of this wall, when they are not the make-up's.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub centres: Option<f64>,
    /// The top of this wall, when it is not the make-up's.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub head: Option<Head>,
    /// The bottom of this wall, when it is not the make-up's.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sole: Option<Sole>,
    /// Noggin rows of this wall, when they are not the make-up's.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub noggin_rows: Option<Rows>,
    /// Levels of the floor read along its line: distance from its start node and level. They take the place
    /// of those of the room.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub floor: Vec<(f64, f64)>,
    /// Levels of the ceiling read along its line.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub ceiling: Vec<(f64, f64)>,
    /// How its lowest plate lies, when it is not the make-up's way.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bedding: Option<Bedding>,
    /// What happens to its soles at its doorways.
    #[serde(default, skip_serializing_if = "is_default")]
    pub soles_at_doors: SolesAtDoors,
    /// True when something rests on it. The program then says stop: an engineer decides.
    #[serde(default, skip_serializing_if = "is_default")]
    pub loadbearing: bool,
    /// What is asked of it: sound, fire, duty.
    #[serde(default, skip_serializing_if = "is_default")]
    pub needs: Needs,
    /// Its openings, in any order.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub openings: Vec<Opening>,
    /// First-fix points on its faces.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub points: Vec<Point>,
    /// Cables and pipes that run through its studs.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub routes: Vec<Route>,
    /// Common studs that stand beside their marks.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub shifts: Vec<Shift>,
    /// Where its plates are joined, when not as far along as bars reach.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub joints: Vec<Joint>,
    /// What will hang on it.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub fittings: Vec<Fitting>,
}

impl Wall {
    /// A plain wall of `makeup` between two nodes, on its centre line.
    pub fn new(
        name: impl Into<Name>,
        from: impl Into<Name>,
        to: impl Into<Name>,
        makeup: impl Into<Name>,
    ) -> Wall {
        Wall {
            name: name.into(),
            from: from.into(),
            to: to.into(),
            makeup: makeup.into(),
            line: Line::Centre,
            at_from: EndRule::Auto,
            at_to: EndRule::Auto,
            odd_bay: OddBay::AtEnd,
            grid_from: GridFrom::FrameEnd,
            boarded_from: BoardedFirst::Auto,
            boarded_to: BoardedFirst::Auto,
            centres: None,
            head: None,
            sole: None,
            noggin_rows: None,
            floor: Vec::new(),
            ceiling: Vec::new(),
            bedding: None,
            soles_at_doors: SolesAtDoors::default(),
            loadbearing: false,
            needs: Needs::default(),
            openings: Vec::new(),
            points: Vec::new(),
            routes: Vec::new(),
            shifts: Vec::new(),
            joints: Vec::new(),
            fittings: Vec::new(),
        }
    }

    /// The levels read along its line, of one surface.
    pub fn readings(&self, surface: Surface) -> &Vec<(f64, f64)> {
        match surface {
            Surface::Floor => &self.floor,
            Surface::Ceiling => &self.ceiling,
        }
    }

    /// The same, to change.
    pub fn readings_mut(&mut self, surface: Surface) -> &mut Vec<(f64, f64)> {
        match surface {
            Surface::Floor => &mut self.floor,
            Surface::Ceiling => &mut self.ceiling,
        }
    }
}
