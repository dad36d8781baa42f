//! A make-up is a named wall recipe: timber, centres, boards, plates, noggins and how its corners
//! are built. Walls refer to it by name, so changing it changes every wall made of it.

use serde::{Deserialize, Serialize};

use super::readings::{Bedding, Floor, RiserShape};
use super::{Noggins, is_default};
use crate::id::Name;
use crate::units::Units;

/// A timber section and its strength class.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Timber(TimberKey);

/// Sizes are kept in hundredths of a millimetre so that a section can be compared and sorted.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(from = "TimberText", into = "TimberText")]
struct TimberKey {
    thickness: u32,
    depth: u32,
    grade: Name,
}

/// How a section is written in a job file.
#[derive(Clone, Serialize, Deserialize)]
#[serde(rename = "Timber", deny_unknown_fields)]
struct TimberText {
    thickness: f64,
    depth: f64,
    #[serde(default = "usual_grade")]
    grade: Name,
}

fn usual_grade() -> Name {
    "C16".into()
}

impl From<TimberText> for TimberKey {
    fn from(t: TimberText) -> TimberKey {
        let hundredths = |v: f64| (v * 100.0).round() as u32;
        TimberKey { thickness: hundredths(t.thickness), depth: hundredths(t.depth), grade: t.grade }
    }
}

impl From<TimberKey> for TimberText {
    fn from(t: TimberKey) -> TimberText {
        TimberText {
            thickness: f64::from(t.thickness) / 100.0,
            depth: f64::from(t.depth) / 100.0,
            grade: t.grade,
        }
    }
}

impl Timber {
    /// A section `thickness` × `depth` mm of strength class `grade`.
    pub fn new(thickness: f64, depth: f64, grade: impl Into<Name>) -> Timber {
        Timber(TimberText { thickness, depth, grade: grade.into() }.into())
    }

    /// A strip of ply `thickness` thick and `height` high.
    pub fn ply(thickness: f64, height: f64) -> Timber {
        Timber::new(thickness, height, "ply")
    }

    /// True for ply: it comes in sheets and not in bars.
    pub fn is_ply(&self) -> bool {
        self.0.grade == "ply"
    }

    /// The smaller dimension in a stud wall: along the wall for a stud, up for a plate.
    pub fn thickness(&self) -> f64 {
        f64::from(self.0.thickness) / 100.0
    }

    /// The dimension through the wall.
    pub fn depth(&self) -> f64 {
        f64::from(self.0.depth) / 100.0
    }

    /// The strength class, “C16”.
    pub fn grade(&self) -> &Name {
        &self.0.grade
    }

    /// “46×97”, or “1 1/2"×3 1/2"”.
    pub fn size_in(&self, units: Units) -> String {
        match units {
            Units::Millimetres => self.size(),
            _ => format!("{}×{}", units.show(self.thickness()), units.show(self.depth())),
        }
    }

    /// “46×97”, in millimetres.
    pub fn size(&self) -> String {
        format!("{}×{}", self.thickness(), self.depth())
    }
}

/// How boards lie.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Lay {
    /// Their length up the wall.
    #[default]
    Upright,
    /// Their length along the wall.
    Across,
}

impl Lay {
    /// Both.
    pub const ALL: [Lay; 2] = [Lay::Upright, Lay::Across];

    /// “upright”, “across”.
    pub fn label(self) -> &'static str {
        match self {
            Lay::Upright => "upright",
            Lay::Across => "across",
        }
    }
}

/// One layer of board on a face.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Board {
    /// The name of the board in the catalogue.
    pub kind: Name,
    /// Its thickness, mm.
    pub thickness: f64,
    /// Width and length of its sheets, mm; those that suit the stud centres when nothing is said.
    #[serde(default, skip_serializing_if = "is_default")]
    pub sheet: Option<(f64, f64)>,
    /// How they lie.
    #[serde(default, skip_serializing_if = "is_default")]
    pub lay: Lay,
    /// Mass of a square metre, kg; the usual one of its kind when nothing is said.
    #[serde(default, skip_serializing_if = "is_default")]
    pub mass: Option<f64>,
}

impl Board {
    /// Boards of this kind and thickness, upright, of the usual size.
    pub fn new(kind: impl Into<Name>, thickness: f64) -> Board {
        Board { kind: kind.into(), thickness, sheet: None, lay: Lay::Upright, mass: None }
    }
}

/// Boards stop this far above the finished floor, mm. Common practice.
const FLOOR_GAP: f64 = 10.0;

/// What goes on one face of the frame.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Finish {
    /// The layers, from the frame outwards.
    #[serde(default)]
    pub boards: Vec<Board>,
    /// Skim coat, mm.
    #[serde(default)]
    pub skim: f64,
    /// How far above the finished floor boards stop, mm.
    #[serde(default = "floor_gap", skip_serializing_if = "is_floor_gap")]
    pub floor_gap: f64,
    /// On a face that is to be tiled: no clear height between noggin rows or plates above this, mm.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tiled: Option<f64>,
}

fn floor_gap() -> f64 {
    FLOOR_GAP
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "what serde asks for")]
fn is_floor_gap(gap: &f64) -> bool {
    *gap == FLOOR_GAP
}

impl Default for Finish {
    fn default() -> Finish {
        Finish { boards: Vec::new(), skim: 0.0, floor_gap: FLOOR_GAP, tiled: None }
    }
}

impl Finish {
    /// Clear height between the noggins of a tiled face, unless it says another, mm. Common practice.
    pub const TILED: f64 = 600.0;

    /// Thickness of boards and skim together.
    pub fn thickness(&self) -> f64 {
        self.boards.iter().map(|b| b.thickness).sum::<f64>() + self.skim
    }
}

/// What fills the bays.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Insulation {
    /// What it is, as the yard calls it: “mineral wool”.
    pub kind: Name,
    /// Its thickness, mm.
    pub thickness: f64,
    /// Width and length of a slab, or of a roll, mm.
    pub slab: (f64, f64),
    /// What a pack covers, m²; `None` when slabs are counted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pack: Option<f64>,
}

impl Insulation {
    /// Slabs of mineral wool 600 × 1200, as thick as most partitions take. Common practice.
    pub fn usual(depth: f64) -> Insulation {
        let thickness = if depth < 75.0 { 50.0 } else { 75.0 };
        Insulation { kind: "mineral wool".into(), thickness, slab: (600.0, 1200.0), pack: None }
    }
}

/// How the bottom of the wall is made.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Sole {
    /// A sole plate straight on the floor, on packers of the given height (0 for none).
    Direct {
        /// What it stands on.
        on: Floor,
        /// Height of the packers under it.
        #[serde(default)]
        packers: f64,
    },
    /// A lower sole on the slab, risers, and an upper sole that catches the boards' bottom edge.
    Raised {
        /// Height of the packers between slab and lower sole.
        packers: f64,
        /// Top of the upper sole above FFL.
        top: f64,
    },
}

impl Default for Sole {
    fn default() -> Sole {
        Sole::Direct { on: Floor::Finished, packers: 0.0 }
    }
}

/// How the top of the wall is made.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Head {
    /// Head plate tight to the soffit, less the fit allowance.
    Tight {
        /// What is left between head plate and soffit so that the frame goes in.
        #[serde(default)]
        fit: f64,
    },
    /// Head plate held down on temporary grounds so that the ceiling board slides over it.
    Slip {
        /// Ceiling board thickness plus clearance.
        gap: f64,
    },
    /// A dwarf or screen wall that stops at a height above FFL.
    Free {
        /// Top of the head plate.
        height: f64,
    },
    /// A screen whose top follows a line of its own: beside a stair, say.
    Line {
        /// Distance from the wall's start and height above FFL of each corner of the top of the head plate.
        points: Vec<(f64, f64)>,
    },
}

impl Default for Head {
    fn default() -> Head {
        Head::Tight { fit: 0.0 }
    }
}

/// How the through wall of a corner is built so that both inner faces have a ground. Each makes
/// three uprights with the end stud of the wall that butts.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum CornerRecipe {
    /// End stud and a stud turned flat to the inner face, nailed together as a right angle.
    #[default]
    Pair,
    /// Two studs with blocks between.
    Blocked,
    /// Two studs, and a ground turned flat to the inner face beyond them.
    Ground,
}

/// How the through wall is built where another wall butts against its side.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum TeeRecipe {
    /// Two studs with blocks between, showing either side of the butting wall.
    #[default]
    Studs,
    /// Flat noggins between the studs that happen to stand either side.
    Ladder,
    /// A wide flat ground that shows either side of the butting wall, and a flat stud behind it.
    Ground,
}

/// What fills the end of a frame that is cut at an angle, from its end stud to the face that runs further.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum AngledEnd {
    /// The end stud stays square; a ground turned flat and ripped to the angle carries the longer board.
    #[default]
    Ground,
    /// The end stud, or a second one in front of it, is ripped to the angle through the whole depth.
    Ripped,
}

/// What stands either side of an opening.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum OpeningStuds {
    /// One full-height stud each side; the head is nailed between them.
    #[default]
    Single,
    /// A full-height stud and a jack under the head each side.
    Double,
}

/// How the head over an opening lies.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum HeadLay {
    /// One timber on the flat.
    #[default]
    Flat,
    /// One timber on edge in the middle of the frame, packed out to its faces.
    OnEdge,
    /// Two timbers on edge, one flush with each face, and packing between them.
    Doubled,
}

/// A named wall recipe.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MakeUp {
    /// Its name, unique among make-ups.
    pub name: Name,
    /// Studs, plates and noggins.
    pub timber: Timber,
    /// Stud centres.
    pub centres: f64,
    /// Boards and skim on the left face.
    #[serde(default)]
    pub left: Finish,
    /// Boards and skim on the right face.
    #[serde(default)]
    pub right: Finish,
    /// What fills its bays.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub insulation: Option<Insulation>,
    /// The bottom of the wall.
    #[serde(default)]
    pub sole: Sole,
    /// How its lowest plate lies over a floor that was read.
    #[serde(default, skip_serializing_if = "is_default")]
    pub bedding: Bedding,
    /// The risers of a raised sole.
    #[serde(default, skip_serializing_if = "is_default")]
    pub riser: RiserShape,
    /// Sole plates one on another.
    #[serde(default = "one", skip_serializing_if = "is_one")]
    pub sole_plates: u8,
    /// The top of the wall.
    #[serde(default)]
    pub head: Head,
    /// Head plates one on another.
    #[serde(default = "one", skip_serializing_if = "is_one")]
    pub head_plates: u8,
    /// Noggin rows.
    #[serde(default)]
    pub noggins: Noggins,
    /// How its corners are built.
    #[serde(default, skip_serializing_if = "is_default")]
    pub corner: CornerRecipe,
    /// How its tees are built.
    #[serde(default, skip_serializing_if = "is_default")]
    pub tee: TeeRecipe,
    /// How its ends are filled where they are cut at an angle.
    #[serde(default, skip_serializing_if = "is_default")]
    pub angled_end: AngledEnd,
    /// What stands either side of its openings.
    #[serde(default, skip_serializing_if = "is_default")]
    pub opening_studs: OpeningStuds,
    /// Timber of the heads over its openings; `None` for the same as the studs.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub opening_head: Option<Timber>,
    /// How those heads lie.
    #[serde(default, skip_serializing_if = "is_default")]
    pub opening_head_lay: HeadLay,
    /// Sills one on another under its openings.
    #[serde(default = "one", skip_serializing_if = "is_one")]
    pub sills: u8,
}

fn one() -> u8 {
    1
}

#[allow(clippy::trivially_copy_pass_by_ref)]
fn is_one(n: &u8) -> bool {
    *n == 1
}

impl Default for MakeUp {
    fn default() -> MakeUp {
        let side = || Finish { boards: vec![Board::new("standard", 12.5)], ..Finish::default() };
        MakeUp {
            name: "Partition 97".into(),
            timber: Timber::new(46.0, 97.0, "C16"),
            centres: 400.0,
            left: side(),
            right: side(),
            insulation: None,
            sole: Sole::default(),
            bedding: Bedding::default(),
            riser: RiserShape::default(),
            sole_plates: 1,
            head: Head::default(),
            head_plates: 1,
            noggins: Noggins::default(),
            corner: CornerRecipe::default(),
            tee: TeeRecipe::default(),
            angled_end: AngledEnd::default(),
            opening_studs: OpeningStuds::default(),
            opening_head: None,
            opening_head_lay: HeadLay::default(),
            sills: 1,
        }
    }
}

impl MakeUp {
    /// Packing between the two timbers of a doubled head, mm; 0 for a head of one timber, and where the two
    /// fill the frame.
    pub fn head_packing(&self) -> f64 {
        let thickness = self.opening_head.as_ref().unwrap_or(&self.timber).thickness();
        match self.opening_head_lay {
            HeadLay::Doubled => (self.timber.depth() - 2.0 * thickness).max(0.0),
            HeadLay::Flat | HeadLay::OnEdge => 0.0,
        }
    }

    /// Thickness over boards and skim: what a tape shows across the finished wall.
    pub fn finished(&self) -> f64 {
        self.timber.depth() + self.left.thickness() + self.right.thickness()
    }
}
