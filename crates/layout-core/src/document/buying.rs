//! How it is bought: what comes on top of the prices, what is ordered beyond the plan, what the van and the way in take.

use serde::{Deserialize, Serialize};

use super::is_default;

/// How a job is bought. Everything is nought or open in a new job: prices are as typed.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Buying {
    /// Tax on goods and delivery, per cent. Prices are typed without it; 0 where they hold it already, or none is paid.
    #[serde(skip_serializing_if = "is_default")]
    pub tax: f64,
    /// Off the goods, per cent.
    #[serde(skip_serializing_if = "is_default")]
    pub discount: f64,
    /// What delivery costs, without tax, in the job's own currency.
    #[serde(skip_serializing_if = "is_default")]
    pub delivery: f64,
    /// Goods of so much, after discount and without tax, are delivered free; `None` when they never are.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub free_from: Option<f64>,
    /// What is ordered beyond what is planned.
    #[serde(skip_serializing_if = "is_default")]
    pub spares: Spares,
    /// What the van and the way in take.
    #[serde(skip_serializing_if = "is_default")]
    pub carry: Carry,
}

/// What is ordered beyond what the plans say: nothing is cut from it on paper. It comes on top of what the plans
/// themselves allow for.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Spares {
    /// Of the bars of every line that is ordered, per cent, rounded up to whole bars.
    #[serde(skip_serializing_if = "is_default")]
    pub bars: f64,
    /// But so many bars of every line at least.
    #[serde(skip_serializing_if = "is_default")]
    pub bars_least: u32,
    /// Of the sheets of every line that is ordered, per cent, rounded up to whole sheets.
    #[serde(skip_serializing_if = "is_default")]
    pub sheets: f64,
    /// But so many sheets of every line at least.
    #[serde(skip_serializing_if = "is_default")]
    pub sheets_least: u32,
    /// Of what is counted by rule, before it is rounded up to whole boxes and rolls, per cent. Door linings have none.
    #[serde(skip_serializing_if = "is_default")]
    pub sundries: f64,
}

impl Spares {
    /// Spare bars beside so many of one line.
    pub fn of_bars(&self, count: usize) -> usize {
        spare(count, self.bars, self.bars_least)
    }

    /// Spare sheets beside so many of one line.
    pub fn of_sheets(&self, count: usize) -> usize {
        spare(count, self.sheets, self.sheets_least)
    }
}

/// A share of a count, rounded up, and no less than `least`; none of nothing.
fn spare(count: usize, per_cent: f64, least: u32) -> usize {
    if count == 0 {
        return 0;
    }
    // A hair less, so that 10 % of 20 is 2 and not 3.
    let share = (count as f64 * per_cent.clamp(0.0, 100.0) / 100.0 - 1e-9).ceil().max(0.0);
    (share as usize).max(least as usize)
}

/// The longest and widest that can be brought, and the heaviest; `None` where nobody said.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Carry {
    /// The longest the van takes, mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub van_length: Option<f64>,
    /// The widest sheet the van takes, mm: its shorter side.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub van_width: Option<f64>,
    /// What the van carries at once, kg.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub payload: Option<f64>,
    /// The longest that goes up the stair or through the hatch, mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub way_length: Option<f64>,
    /// The widest sheet that does, mm: its shorter side.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub way_width: Option<f64>,
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Ten per cent and three straight ones for the openings: common practice.
    #[test]
    fn spares_are_whole_ones() {
        let rule = Spares { bars: 10.0, bars_least: 3, ..Spares::default() };
        let spares = [0, 1, 20, 30, 31, 45].map(|n| rule.of_bars(n));
        assert_eq!(spares, [0, 3, 3, 3, 4, 5]);
        let share = Spares { sheets: 10.0, ..Spares::default() };
        assert_eq!([0, 1, 10, 11, 20].map(|n| share.of_sheets(n)), [0, 1, 1, 2, 2]);
        assert_eq!(Spares::default().of_bars(50), 0);
    }
}
