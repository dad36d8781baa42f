//! Rule sets: the limits the checks use, each with its source and how well that is known. They are data, read from
//! text a person can edit. They help to see what is wrong early; whoever decides on site decides.

use std::sync::{Arc, LazyLock};

use serde::{Deserialize, Serialize};

use crate::document::{ReadError, Rule, RuleChoice, RuleSet, read_list};
use crate::id::Name;

/// How well the source of a limit is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub enum Status {
    /// The figure was read, second-hand, in what quotes the source.
    Read,
    /// Believed right, no document at hand.
    Memory,
    /// Common practice, without a published source.
    Practice,
    /// Somebody's own value.
    Own,
}

impl Status {
    /// “read”, “from memory” …
    pub fn label(self) -> &'static str {
        match self {
            Status::Read => "read",
            Status::Memory => "from memory",
            Status::Practice => "practice",
            Status::Own => "own",
        }
    }
}

/// One limit with its value.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Limit {
    /// Which.
    pub rule: Rule,
    /// Its value, in the unit of the limit.
    pub value: f64,
    /// Where it is from.
    pub source: Name,
    /// How well that is known.
    pub status: Status,
}

/// The limits a job is held against, one for every [`Rule`], in their order.
#[derive(Clone, Debug, PartialEq)]
pub struct Rules(Vec<Limit>);

// No value is NaN: neither reader lets one in. Two `Arc`s of one set are then equal at a glance.
impl Eq for Rules {}

impl Default for Rules {
    fn default() -> Rules {
        Rules::clone(&Rules::of(&RuleChoice::default()))
    }
}

static SETS: LazyLock<[Arc<Rules>; 3]> = LazyLock::new(|| {
    [
        include_str!("../../../assets/rules/uk.ron"),
        include_str!("../../../assets/rules/north-america.ron"),
        include_str!("../../../assets/rules/own.ron"),
    ]
    // A test reads all three.
    .map(|text| Arc::new(Rules(read_rules(text).unwrap_or_default())))
});

impl Rules {
    /// The limits `choice` asks for.
    pub fn of(choice: &RuleChoice) -> Arc<Rules> {
        let [uk, north_america, own] = &*SETS;
        let set = match choice.set {
            RuleSet::UnitedKingdom => uk,
            RuleSet::NorthAmerica => north_america,
            RuleSet::Own => own,
        };
        if choice.own.is_empty() {
            return set.clone();
        }
        let mut rules = Rules::clone(set);
        for own in &choice.own {
            if let Some(limit) = rules.0.iter_mut().find(|l| l.rule == own.rule) {
                let source = if own.source.is_empty() { "own value" } else { &own.source };
                limit.value = own.value;
                limit.source = source.into();
                limit.status = Status::Own;
            }
        }
        Arc::new(rules)
    }

    /// All of them, in the order of [`Rule::ALL`].
    pub fn limits(&self) -> &[Limit] {
        &self.0
    }

    /// The limit of `rule`.
    pub fn limit(&self, rule: Rule) -> Option<&Limit> {
        self.0.get(rule as usize)
    }

    /// The value of `rule`.
    pub fn value(&self, rule: Rule) -> f64 {
        self.limit(rule).map_or(0.0, |l| l.value)
    }

    /// Where the value of `rule` is from, and how well that is known.
    pub fn source(&self, rule: Rule) -> Name {
        match self.limit(rule) {
            Some(l) if l.status == Status::Memory => {
                Name::new(format!("{} ({})", l.source, l.status.label()))
            }
            Some(l) => l.source.clone(),
            None => Name::default(),
        }
    }

    /// The widest hole in the middle of a piece `depth` deep, mm.
    pub fn largest_hole(&self, depth: f64) -> f64 {
        let left = depth - 2.0 * self.value(Rule::HoleEdge);
        (self.value(Rule::HoleShare) * depth).min(left).max(0.0)
    }

    /// The deepest notch in the face of a piece `depth` deep, mm.
    pub fn deepest_notch(&self, depth: f64) -> f64 {
        self.value(Rule::NotchShare) * depth
    }
}

/// Reads a rule set: one limit for every rule, in the order of [`Rule::ALL`].
///
/// # Errors
/// The first thing that is wrong, with its place.
pub fn read_rules(text: &str) -> Result<Vec<Limit>, ReadError> {
    let list = read_list(text, Rule::ALL.len(), |l: &Limit| {
        let (least, most) = l.rule.range();
        if !(least..=most).contains(&l.value) {
            return Err(("value", format!("{} is not between {least} and {most}", l.value)));
        }
        let length = l.source.as_str().chars().count();
        if !(1..=300).contains(&length) {
            return Err(("source", format!("it has 1 to 300 characters, this one has {length}")));
        }
        Ok(())
    })?;
    match Rule::ALL.iter().enumerate().find(|(i, r)| list.get(*i).is_none_or(|l| l.rule != **r)) {
        Some((i, rule)) => Err(ReadError::whole(format!("entry {} is to be {rule:?}", i + 1))),
        None => Ok(list),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::document::OwnRule;

    #[test]
    fn every_set_has_every_limit_in_order() {
        for text in [
            include_str!("../../../assets/rules/uk.ron"),
            include_str!("../../../assets/rules/north-america.ron"),
            include_str!("../../../assets/rules/own.ron"),
        ] {
            let limits = read_rules(text).unwrap();
            assert!(limits.iter().map(|l| l.rule).eq(Rule::ALL));
        }
        for set in RuleSet::ALL {
            let rules = Rules::of(&RuleChoice { set, own: Vec::new() });
            for (i, rule) in Rule::ALL.into_iter().enumerate() {
                assert_eq!(rule as usize, i);
                assert_eq!(rules.limit(rule).map(|l| l.rule), Some(rule));
            }
        }
    }

    /// IRC R602.6 (2018), read: a hole to 60 % of the depth and 5/8 in (16 mm) from an edge, a notch to 40 %: 89 deep
    /// 53.4, 63 deep 31 because of the edge, 89 deep 35.6 for a notch.
    #[test]
    fn the_tighter_of_share_and_edge_decides() {
        let rules = Rules::default();
        assert!((rules.largest_hole(89.0) - 53.4).abs() < 1e-9);
        assert!((rules.largest_hole(63.0) - 31.0).abs() < 1e-9);
        assert!((rules.deepest_notch(89.0) - 35.6).abs() < 1e-9);
    }

    #[test]
    fn an_own_value_takes_the_place_of_the_sets() {
        let own = OwnRule { rule: Rule::Nib, value: 200.0, source: "client's brief".into() };
        let rules = Rules::of(&RuleChoice { set: RuleSet::UnitedKingdom, own: vec![own] });
        let limit = rules.limit(Rule::Nib).unwrap();
        assert_eq!((limit.value, limit.status), (200.0, Status::Own));
        assert_eq!(limit.source, "client's brief");
        assert_eq!(rules.value(Rule::ReachLow), Rules::default().value(Rule::ReachLow));
    }

    #[test]
    fn a_set_that_lacks_one_or_has_a_wild_value_is_refused() {
        assert!(read_rules("[]").unwrap_err().to_string().contains("HoleShare"));
        let wild = "[(rule: HoleShare, value: 3, source: \"x\", status: Own)]";
        assert_eq!(
            read_rules(wild).unwrap_err().to_string(),
            "1:27: value: 3 is not between 0 and 1"
        );
    }
}
