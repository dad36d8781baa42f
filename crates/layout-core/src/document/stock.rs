//! Timber to be had, how the saw cuts, and what was handed to the crew.

use serde::{Deserialize, Serialize};

use super::Timber;
use super::is_default;
use crate::id::Name;

/// One line of the timber list: a section in one length.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Stock {
    /// Section and strength class.
    pub timber: Timber,
    /// Length of a bar, mm.
    pub length: f64,
    /// Price of a bar in the job's own currency; `None` when not known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub price: Option<f64>,
    /// How many there are; `None` for as many as needed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub available: Option<u32>,
}

impl Stock {
    /// The list a new job starts with: the default section in the lengths sawn softwood is
    /// usually sold in, 2.4 to 4.8 m in steps of 0.6 m. Common practice.
    pub fn usual() -> Vec<Stock> {
        [2400.0, 3000.0, 3600.0, 4200.0, 4800.0]
            .into_iter()
            .map(|length| Stock {
                timber: Timber::new(46.0, 97.0, "C16"),
                length,
                price: None,
                available: None,
            })
            .collect()
    }
}

/// One line of the board list: sheets of one kind in one size.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SheetStock {
    /// The name of the board, as in the make-up.
    pub kind: Name,
    /// Its thickness, mm.
    pub thickness: f64,
    /// Width and length of a sheet, mm; the tapered edges run along the length.
    pub size: (f64, f64),
    /// Price of a sheet in the job's own currency; `None` when not known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub price: Option<f64>,
    /// How many are here already and cost nothing, whole ones or offcuts; `None` for what is bought, as many as needed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub owned: Option<u32>,
}

/// Offcuts of board are kept from this size of both sides, mm. Common practice.
const KEEP: f64 = 300.0;

const fn keep() -> f64 {
    KEEP
}

fn is_keep(value: &f64) -> bool {
    *value == KEEP
}

/// How the saw cuts, and the knife.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SawSettings {
    /// Width of the cut.
    pub kerf: f64,
    /// Trimmed off each bar before the first cut.
    #[serde(default, skip_serializing_if = "is_default")]
    pub trim: f64,
    /// Width of the cut in boards, mm; nothing when they are scored and snapped.
    #[serde(default, skip_serializing_if = "is_default")]
    pub board_kerf: f64,
    /// An offcut of board is kept, and used again, when both its sides are so long, mm.
    #[serde(default = "keep", skip_serializing_if = "is_keep")]
    pub keep: f64,
    /// What prices are in, as printed: “£”, “€”, “kr”.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub currency: String,
}

impl Default for SawSettings {
    fn default() -> SawSettings {
        SawSettings { kerf: 3.0, trim: 0.0, board_kerf: 0.0, keep: KEEP, currency: String::new() }
    }
}

/// A record of what was printed and handed out.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CrewCopy {
    /// Its letter: A for the first.
    pub letter: Name,
    /// The day, year-month-day.
    pub date: String,
    /// Who has it, or why it was printed.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
}
