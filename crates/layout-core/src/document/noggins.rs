//! Noggins: where their rows go, how they follow one another, which way they lie.

use serde::{Deserialize, Serialize};

use super::is_default;

/// Where noggin rows go.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub enum Rows {
    /// As many equally spaced rows as keep the clear heights within the make-up's maximum.
    #[default]
    Auto,
    /// Rows with their centre at these heights above FFL; none when empty.
    At(Vec<f64>),
    /// By several rules together.
    By(Vec<RowRule>),
}

impl Rows {
    /// Rows of a wall's own, in the plainest words that say them.
    pub fn own(mut rules: Vec<RowRule>) -> Rows {
        let height = |r: &RowRule| match r.place {
            RowPlace::Height { height, .. } => height,
            _ => f64::INFINITY,
        };
        rules.sort_by(|a, b| height(a).total_cmp(&height(b)));
        let plain: Option<Vec<f64>> =
            rules.iter().map(|r| (*r == RowRule::at(height(r))).then(|| height(r))).collect();
        plain.map_or(Rows::By(rules), Rows::At)
    }
}

/// One rule for noggin rows.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RowRule {
    /// At what height, or by what the program finds it.
    pub place: RowPlace,
    /// Where the row starts along the wall, from its start node; from its very start when not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub from: Option<f64>,
    /// Where it stops; at the wall's very end when not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub to: Option<f64>,
    /// How its noggins follow one another, when not as the make-up says.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub set: Option<NogginSet>,
    /// Which way they lie, when not as the make-up says.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub lay: Option<NogginLay>,
}

impl RowRule {
    /// A rule for the whole wall, laid as the make-up says.
    pub fn new(place: RowPlace) -> RowRule {
        RowRule { place, from: None, to: None, set: None, lay: None }
    }

    /// One row with its centre `height` above FFL.
    pub fn at(height: f64) -> RowRule {
        RowRule::new(RowPlace::Height { height, to: RowEdge::Centre, above: RowBase::Floor })
    }
}

/// Where a rule puts its rows.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum RowPlace {
    /// One row at a height.
    Height {
        /// The height.
        height: f64,
        /// To what of the noggin it is taken.
        #[serde(default, skip_serializing_if = "is_default")]
        to: RowEdge,
        /// From where it is taken.
        #[serde(default, skip_serializing_if = "is_default")]
        above: RowBase,
    },
    /// One row half-way between the plates.
    MidHeight,
    /// A row at every joint between boards that lie across: centres at the floor gap and whole board widths.
    BoardJoints {
        /// Width of the board.
        #[serde(default = "usual_board")]
        board: f64,
        /// What is left under the lowest board.
        #[serde(default = "usual_floor_gap")]
        gap: f64,
    },
    /// As many rows between the others as keep every clear height within this.
    Apart(f64),
}

fn usual_board() -> f64 {
    1200.0
}

fn usual_floor_gap() -> f64 {
    10.0
}

impl RowPlace {
    /// Joints of boards 1200 wide, 10 off the floor.
    pub fn usual_joints() -> RowPlace {
        RowPlace::BoardJoints { board: usual_board(), gap: usual_floor_gap() }
    }
}

/// What of a noggin a height is taken to.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum RowEdge {
    /// Its centre.
    #[default]
    Centre,
    /// Its top.
    Top,
    /// Its underside.
    Underside,
}

/// What a row's height is taken from.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum RowBase {
    /// The finished floor.
    #[default]
    Floor,
    /// The top of the sole plate, where it is highest.
    Sole,
}

/// How noggins follow one another along a row.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum NogginSet {
    /// All on one line, for board edges.
    #[default]
    InLine,
    /// Up and down by their thickness, for nailing through the stud into each end.
    Staggered,
}

/// Which way a noggin lies.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum NogginLay {
    /// Through the full depth of the frame.
    #[default]
    OnEdge,
    /// On the flat, flush with the left face.
    FlatLeft,
    /// On the flat, flush with the right face.
    FlatRight,
}

/// Noggins of a make-up.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Noggins {
    /// Where the rows go.
    #[serde(default)]
    pub rows: Rows,
    /// No clear height between rows or plates above this when rows are automatic.
    #[serde(default = "usual_apart")]
    pub apart: f64,
    /// In line or staggered.
    #[serde(default, skip_serializing_if = "is_default")]
    pub set: NogginSet,
    /// On edge or flat.
    #[serde(default, skip_serializing_if = "is_default")]
    pub lay: NogginLay,
    /// True when rows go on between the cripples over openings.
    #[serde(default = "yes", skip_serializing_if = "is_yes")]
    pub over_heads: bool,
    /// True when rows come by themselves behind level joints of boards.
    #[serde(default = "yes", skip_serializing_if = "is_yes")]
    pub for_boards: bool,
}

fn yes() -> bool {
    true
}

#[allow(clippy::trivially_copy_pass_by_ref)]
fn is_yes(value: &bool) -> bool {
    *value
}

fn usual_apart() -> f64 {
    1350.0
}

impl Default for Noggins {
    fn default() -> Noggins {
        Noggins {
            rows: Rows::Auto,
            apart: usual_apart(),
            set: NogginSet::default(),
            lay: NogginLay::default(),
            over_heads: true,
            for_boards: true,
        }
    }
}
