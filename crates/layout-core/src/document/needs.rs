//! What a wall is asked to do beside standing there.

use serde::{Deserialize, Serialize};

/// How hard a wall is used.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Duty {
    /// Dry places with little traffic: the rooms of a dwelling.
    Light,
    /// Some public use, some care.
    Medium,
    /// Public and industrial use with little care.
    Heavy,
    /// Rough use, and abuse.
    Severe,
}

impl Duty {
    /// All, the lightest first.
    pub const ALL: [Duty; 4] = [Duty::Light, Duty::Medium, Duty::Heavy, Duty::Severe];

    /// “light”, “medium” …
    pub fn label(self) -> &'static str {
        match self {
            Duty::Light => "light",
            Duty::Medium => "medium",
            Duty::Heavy => "heavy",
            Duty::Severe => "severe",
        }
    }
}

/// What somebody asks of a wall; nothing where nobody has said.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Needs {
    /// Sound reduction of the wall by itself, dB.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sound_db: Option<f64>,
    /// Fire resistance, minutes.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub fire_min: Option<f64>,
    /// How hard it is used.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub duty: Option<Duty>,
}
