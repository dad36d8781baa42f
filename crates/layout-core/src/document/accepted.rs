//! Snags the user has looked at and lets stand, each with a reason that prints.

use serde::{Deserialize, Serialize};

use crate::id::ItemRef;
use crate::snag::{Code, Snag};

/// How far what is accepted may move along its wall or up and down, mm, before it is asked about again.
const MOVES: f64 = 150.0;
/// How much worse its value may become: this share of how far it was off, and this many millimetres.
const WORSE: (f64, f64) = (0.1, 5.0);

/// A snag that is let stand.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Accepted {
    /// What kind of snag it is.
    pub code: Code,
    /// What it is about.
    pub of: ItemRef,
    /// Station along its wall when it was accepted, when it had one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub station: Option<f64>,
    /// Its height above FFL then.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub height: Option<f64>,
    /// How far its value was off its limit then.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub off: Option<f64>,
    /// Why it is let stand, and who said so.
    pub reason: String,
}

impl Accepted {
    /// `snag`, let stand for a reason.
    pub fn new(snag: &Snag, reason: impl Into<String>) -> Accepted {
        Accepted {
            code: snag.code,
            of: snag.of.clone(),
            station: snag.station,
            height: snag.height,
            off: off(snag),
            reason: reason.into(),
        }
    }

    /// True when `snag` is the one that was accepted: of the same kind and thing, near where it was, and not much
    /// worse than it was.
    pub fn covers(&self, snag: &Snag) -> bool {
        let near = |then: Option<f64>, now: Option<f64>| match (then, now) {
            (Some(then), Some(now)) => (then - now).abs() <= MOVES,
            _ => true,
        };
        let no_worse = match (self.off, off(snag)) {
            (Some(then), Some(now)) => now <= then * (1.0 + WORSE.0) + WORSE.1,
            _ => true,
        };
        self.code == snag.code
            && self.of == snag.of
            && near(self.station, snag.station)
            && near(self.height, snag.height)
            && no_worse
    }
}

fn off(snag: &Snag) -> Option<f64> {
    Some((snag.value? - snag.limit?).abs())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::id::Name;

    fn snag(station: f64, value: f64) -> Snag {
        snag_of("D1", station, value)
    }

    fn snag_of(opening: &str, station: f64, value: f64) -> Snag {
        Snag::new(Code::NibShort, ItemRef::Opening(opening.into()), "", "")
            .in_wall(&Name::from("A"), station)
            .measured(value, 300.0)
    }

    #[test]
    fn it_holds_while_the_thing_stays_about_where_it_was_and_gets_no_worse() {
        let accepted = Accepted::new(&snag(1000.0, 200.0), "asked the client");
        assert!(accepted.covers(&snag(1000.0, 200.0)));
        assert!(accepted.covers(&snag(1120.0, 230.0)), "a little further along, and better");
        assert!(accepted.covers(&snag(1000.0, 190.0)), "100 short, then 110: within a tenth and 5");
        assert!(!accepted.covers(&snag(1000.0, 180.0)), "120 short is asked about again");
        assert!(!accepted.covers(&snag(1200.0, 200.0)), "200 further along");
        assert!(!accepted.covers(&snag_of("D2", 1000.0, 200.0)));
    }
}
