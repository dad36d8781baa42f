//! The two faces and the two ends of a wall.

use serde::{Deserialize, Serialize};

/// A face of a wall, as you walk from its start to its end.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize,
)]
pub enum Face {
    /// On your left hand.
    Left,
    /// On your right hand: the face an elevation shows.
    #[default]
    Right,
}

impl Face {
    /// “left”, “right”
    pub fn label(self) -> &'static str {
        match self {
            Face::Left => "left",
            Face::Right => "right",
        }
    }
}

/// One of a wall's two ends.
#[derive(
    Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize,
)]
pub enum WallEnd {
    /// Where it starts: station 0.
    #[default]
    Start,
    /// Where it ends.
    End,
}

impl WallEnd {
    /// “start”, “end”.
    pub fn label(self) -> &'static str {
        match self {
            WallEnd::Start => "start",
            WallEnd::End => "end",
        }
    }
}
