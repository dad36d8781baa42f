//! How a job is held against its limits: a walk that knows where it is, so that whatever is wrong is said
//! with its place and its name.

use std::collections::BTreeSet;

use super::scan::{Step, quoted};
use super::wording::nearest;
use crate::id::Name;
use crate::math::PlanPoint;
use crate::units;

/// What is wrong, and where in the job.
pub(super) struct Fault {
    pub(super) path: Vec<Step>,
    pub(super) message: String,
}

pub(super) type Checked = Result<(), Fault>;

/// Least and most of a number, and its unit.
#[derive(Clone, Copy)]
pub(super) struct Limit(pub(super) f64, pub(super) f64, pub(super) &'static str);

pub(super) const COORDINATE: Limit = Limit(-1_000_000.0, 1_000_000.0, "mm");
/// Most characters of a name.
pub(super) const NAME: usize = 200;

/// The walk.
#[derive(Default)]
pub(super) struct Check {
    pub(super) path: Vec<Step>,
    /// What is being looked at: “wall A”.
    pub(super) of: String,
}

impl Check {
    pub(super) fn fault(&self, message: impl Into<String>) -> Checked {
        let field = self.path.iter().rev().find_map(|s| match s {
            Step::Field(name) => Some(*name),
            Step::Item(_) => None,
        });
        let message = message.into();
        let message = match (self.of.is_empty(), field) {
            (false, Some(field)) => format!("{}, {field}: {message}", self.of),
            (true, Some(field)) => format!("{field}: {message}"),
            (false, None) => format!("{}: {message}", self.of),
            (true, None) => message,
        };
        Err(Fault { path: self.path.clone(), message })
    }

    pub(super) fn within(
        &mut self,
        step: Step,
        look: impl FnOnce(&mut Check) -> Checked,
    ) -> Checked {
        self.path.push(step);
        look(self)?;
        self.path.pop();
        Ok(())
    }

    pub(super) fn field(
        &mut self,
        name: &'static str,
        look: impl FnOnce(&mut Check) -> Checked,
    ) -> Checked {
        self.within(Step::Field(name), look)
    }

    /// Checks every item of a list of at most `most`.
    pub(super) fn list<T>(
        &mut self,
        name: &'static str,
        items: &[T],
        most: usize,
        mut look: impl FnMut(&mut Check, &T) -> Checked,
    ) -> Checked {
        self.field(name, |c| {
            if items.len() > most {
                return c.fault(format!(
                    "there are {} of them; the most is {}",
                    amount(items.len()),
                    amount(most)
                ));
            }
            for (i, item) in items.iter().enumerate() {
                c.within(Step::Item(i), |c| look(c, item))?;
            }
            Ok(())
        })
    }

    /// Looks at something with a name: `kind` and the name start every message about it.
    pub(super) fn named(
        &mut self,
        kind: &str,
        name: &Name,
        look: impl FnOnce(&mut Check) -> Checked,
    ) -> Checked {
        let outer = std::mem::replace(&mut self.of, kind.to_string());
        self.field("name", |c| c.name(name.as_str()))?;
        self.of = format!("{kind} {name}");
        look(self)?;
        self.of = outer;
        Ok(())
    }

    pub(super) fn name(&mut self, text: &str) -> Checked {
        if text.trim().is_empty() {
            return self.fault("it is empty; give it a name");
        }
        if text != text.trim() {
            return self
                .fault(format!("{} starts or ends with a space; take it out", quoted(text)));
        }
        self.text(text, NAME)
    }

    pub(super) fn text(&mut self, text: &str, most: usize) -> Checked {
        let length = text.chars().count();
        if length > most {
            return self.fault(format!(
                "it is {} characters long; the most is {}",
                amount(length),
                amount(most)
            ));
        }
        match text.chars().find(|c| c.is_control() && *c != '\n' && *c != '\t') {
            Some(c) => self.fault(format!(
                "it holds the control character {:#06x}; take it out",
                u32::from(c)
            )),
            None => Ok(()),
        }
    }

    pub(super) fn number(&mut self, name: &'static str, value: f64, limit: Limit) -> Checked {
        self.field(name, |c| c.value(value, limit))
    }

    pub(super) fn value(&mut self, value: f64, Limit(least, most, unit): Limit) -> Checked {
        if !value.is_finite() {
            return self.fault(if value.is_nan() {
                "it is not a number"
            } else {
                "it is larger than any number"
            });
        }
        if (least..=most).contains(&value) {
            return Ok(());
        }
        let with_unit =
            |v: f64| if unit.is_empty() { plain(v) } else { format!("{} {unit}", plain(v)) };
        if value < least {
            self.fault(format!(
                "{} is too small; the least is {}",
                with_unit(value),
                with_unit(least)
            ))
        } else {
            self.fault(format!(
                "{} is too large; the most is {}",
                with_unit(value),
                with_unit(most)
            ))
        }
    }

    pub(super) fn numbers(&mut self, values: &[f64], limit: Limit) -> Checked {
        for (i, value) in values.iter().enumerate() {
            self.within(Step::Item(i), |c| c.value(*value, limit))?;
        }
        Ok(())
    }

    pub(super) fn point(&mut self, name: &'static str, at: PlanPoint) -> Checked {
        self.field(name, |c| c.numbers(&[at.x, at.y], COORDINATE))
    }

    /// Says that `name` is not among `names`, with the nearest that is.
    pub(super) fn missing(&self, kind: &str, name: &Name, names: &BTreeSet<&str>) -> Checked {
        let hint = match nearest(name.as_str(), names.iter().copied()) {
            Some(near) => format!("did you mean {near}?"),
            None if names.is_empty() => format!("there is no {kind} at all"),
            None => {
                let some: Vec<&str> = names.iter().copied().take(8).collect();
                let more = if names.len() > some.len() { " …" } else { "" };
                format!("there are {}{more}", some.join(", "))
            }
        };
        self.fault(format!("there is no {kind} {}; {hint}", quoted(name.as_str())))
    }

    /// Refuses the second of two things of one name.
    pub(super) fn different<'a>(
        &mut self,
        list: &'static str,
        kind: &str,
        names: impl Iterator<Item = &'a Name>,
    ) -> Checked {
        self.different_fields(list, "name", kind, names)
    }

    pub(super) fn different_fields<'a>(
        &mut self,
        list: &'static str,
        field: &'static str,
        kind: &str,
        names: impl Iterator<Item = &'a Name>,
    ) -> Checked {
        let mut seen = BTreeSet::new();
        for (i, name) in names.enumerate() {
            if !seen.insert(name.as_str()) {
                self.path.extend([Step::Field(list), Step::Item(i), Step::Field(field)]);
                return self.fault(format!(
                    "two {kind} are called {}; give one another name",
                    quoted(name.as_str())
                ));
            }
        }
        Ok(())
    }
}

/// A count as it is shown in a message.
pub(super) fn amount(count: usize) -> String {
    units::mm(count as f64)
}

/// A number as it is shown in a message.
pub(super) fn plain(value: f64) -> String {
    if value.abs() >= 1e12 {
        format!("{value:e}")
    } else if value.fract() == 0.0 {
        units::mm(value)
    } else {
        value.to_string()
    }
}
