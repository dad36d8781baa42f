//! Which limits the checks use: a set, and own values that take the place of some of its.

use serde::{Deserialize, Serialize};

use super::is_default;

/// One limit the checks hold a job against.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum Rule {
    /// A hole is no wider than this share of the depth of its stud.
    HoleShare,
    /// This much wood is left beside a hole.
    HoleEdge,
    /// A notch is no deeper than this share of the depth of its stud.
    NotchShare,
    /// Width of a cable zone along the top of a wall, and beside an angle.
    CableZone,
    /// The zone of a point shows on the other face of a wall no thicker than this.
    ZoneThrough,
    /// A cable nearer than this to a face is to be in a zone.
    CableCover,
    /// The lowest centre of a switch or socket.
    ReachLow,
    /// The highest centre of a switch or socket.
    ReachHigh,
    /// Wall beside the handle of a door, on the side it is pulled from.
    Nib,
    /// The widest stud centres behind thin board, under 12 mm.
    CentresThin,
    /// The widest stud centres behind thicker board.
    CentresThick,
    /// Pressure on a wall, for its stiffness.
    WallPressure,
    /// A stud may bend by its length over this.
    WallBend,
    /// The push of the duty test on one stud.
    DutyPush,
    /// The height of that push above the foot.
    DutyHeight,
    /// How far a stud may give under it: light duty.
    DutyLight,
    /// Medium duty.
    DutyMedium,
    /// Heavy duty.
    DutyHeavy,
    /// Severe duty.
    DutySevere,
    /// Typical sound reduction with one layer of 12.5 board on each face.
    SoundOne,
    /// The same with two layers on each face.
    SoundTwo,
    /// Typical fire resistance with one layer of 12.5 board on each face.
    FireOne,
    /// The same with two layers on each face.
    FireTwo,
    /// What one person lifts of a sheet.
    SheetLift,
}

/// What a limit is in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RuleUnit {
    /// Millimetres: shown as every length of the job is.
    Length,
    /// A share of something, or a plain number.
    Plain,
    /// Anything else, by its sign.
    Sign(&'static str),
}

impl Rule {
    /// All, in the order they are listed in.
    pub const ALL: [Rule; 24] = [
        Rule::HoleShare,
        Rule::HoleEdge,
        Rule::NotchShare,
        Rule::CableZone,
        Rule::ZoneThrough,
        Rule::CableCover,
        Rule::ReachLow,
        Rule::ReachHigh,
        Rule::Nib,
        Rule::CentresThin,
        Rule::CentresThick,
        Rule::WallPressure,
        Rule::WallBend,
        Rule::DutyPush,
        Rule::DutyHeight,
        Rule::DutyLight,
        Rule::DutyMedium,
        Rule::DutyHeavy,
        Rule::DutySevere,
        Rule::SoundOne,
        Rule::SoundTwo,
        Rule::FireOne,
        Rule::FireTwo,
        Rule::SheetLift,
    ];

    /// What it says, in a few words.
    pub fn label(self) -> &'static str {
        match self {
            Rule::HoleShare => "Hole, share of the stud's depth",
            Rule::HoleEdge => "Wood left beside a hole",
            Rule::NotchShare => "Notch, share of the stud's depth",
            Rule::CableZone => "Cable zone at tops and angles",
            Rule::ZoneThrough => "Zones show through walls up to",
            Rule::CableCover => "Cable safe this deep",
            Rule::ReachLow => "Switches and sockets from",
            Rule::ReachHigh => "Switches and sockets up to",
            Rule::Nib => "Wall beside a handle",
            Rule::CentresThin => "Centres behind board under 12 mm",
            Rule::CentresThick => "Centres behind thicker board",
            Rule::WallPressure => "Pressure on a wall",
            Rule::WallBend => "Stud may bend its length over",
            Rule::DutyPush => "Duty: push on one stud",
            Rule::DutyHeight => "Duty: height of the push",
            Rule::DutyLight => "Light duty: gives at most",
            Rule::DutyMedium => "Medium duty: gives at most",
            Rule::DutyHeavy => "Heavy duty: gives at most",
            Rule::DutySevere => "Severe duty: gives at most",
            Rule::SoundOne => "Sound, one layer each face",
            Rule::SoundTwo => "Sound, two layers each face",
            Rule::FireOne => "Fire, one layer each face",
            Rule::FireTwo => "Fire, two layers each face",
            Rule::SheetLift => "One person lifts a sheet of",
        }
    }

    /// What its value is in.
    pub fn unit(self) -> RuleUnit {
        match self {
            Rule::HoleShare | Rule::NotchShare | Rule::WallBend => RuleUnit::Plain,
            Rule::WallPressure => RuleUnit::Sign("kN/m²"),
            Rule::DutyPush => RuleUnit::Sign("N"),
            Rule::SoundOne | Rule::SoundTwo => RuleUnit::Sign("dB"),
            Rule::FireOne | Rule::FireTwo => RuleUnit::Sign("min"),
            Rule::SheetLift => RuleUnit::Sign("kg"),
            _ => RuleUnit::Length,
        }
    }

    /// The least and the most its value may be.
    pub fn range(self) -> (f64, f64) {
        match self {
            Rule::HoleShare | Rule::NotchShare => (0.0, 1.0),
            Rule::WallPressure => (0.0, 5.0),
            Rule::WallBend => (50.0, 1000.0),
            Rule::DutyPush => (0.0, 10_000.0),
            Rule::SoundOne | Rule::SoundTwo => (0.0, 100.0),
            Rule::FireOne | Rule::FireTwo => (0.0, 480.0),
            Rule::SheetLift => (1.0, 200.0),
            Rule::HoleEdge => (0.0, 200.0),
            _ => (0.0, 3000.0),
        }
    }
}

/// Where the limits come from.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum RuleSet {
    /// Guidance and practice of the United Kingdom.
    #[default]
    UnitedKingdom,
    /// Codes and practice of North America.
    NorthAmerica,
    /// One's own: common practice, to be filled in.
    Own,
}

impl RuleSet {
    /// All.
    pub const ALL: [RuleSet; 3] = [RuleSet::UnitedKingdom, RuleSet::NorthAmerica, RuleSet::Own];

    /// Its name on screen.
    pub fn label(self) -> &'static str {
        match self {
            RuleSet::UnitedKingdom => "United Kingdom",
            RuleSet::NorthAmerica => "North America",
            RuleSet::Own => "own",
        }
    }
}

/// A value of one's own for a limit.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct OwnRule {
    /// Which limit.
    pub rule: Rule,
    /// Its value, in the unit of the limit.
    pub value: f64,
    /// Where the value is from: “site manager, drawing 12”.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub source: String,
}

/// The limits a job is held against.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct RuleChoice {
    /// The set.
    #[serde(default, skip_serializing_if = "is_default")]
    pub set: RuleSet,
    /// Values of one's own, that take the place of those of the set.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub own: Vec<OwnRule>,
}
