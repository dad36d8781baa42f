//! Bounds of what is asked of walls, and of the limits they are held against.

use super::check::{Check, Checked, Limit, NAME};
use crate::document::{Needs, RuleChoice, RuleUnit};

impl Check {
    pub(super) fn needs(&mut self, needs: &Needs) -> Checked {
        if let Some(sound) = needs.sound_db {
            self.number("sound_db", sound, Limit(0.0, 100.0, "dB"))?;
        }
        if let Some(fire) = needs.fire_min {
            self.number("fire_min", fire, Limit(0.0, 480.0, "minutes"))?;
        }
        Ok(())
    }

    pub(super) fn rules(&mut self, rules: &RuleChoice) -> Checked {
        self.list("own", &rules.own, 100, |c, own| {
            let (least, most) = own.rule.range();
            let unit = match own.rule.unit() {
                RuleUnit::Length => "mm",
                RuleUnit::Plain => "",
                RuleUnit::Sign(sign) => sign,
            };
            c.number("value", own.value, Limit(least, most, unit))?;
            c.field("source", |c| c.text(&own.source, NAME))
        })
    }
}
