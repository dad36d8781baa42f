//! What lies under the plan, to be drawn over: a drawing of another program, or a picture.

use serde::{Deserialize, Serialize};

use super::is_default;
use crate::math::{PlanPoint, PlanVector};

/// A drawing or a picture under the plan. Its file lies beside the job's own.
///
/// It is measured in units of its own, u to the right and v up from the lower left corner of what it shows: millimetres,
/// inches … of a drawing, dots of a picture.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Underlay {
    /// Name of its file, in the folder of the job.
    pub file: String,
    /// Where its lower left corner is on the plan.
    #[serde(with = "super::xy")]
    pub at: PlanPoint,
    /// Millimetres of the plan to one of its units.
    pub unit_mm: f64,
    /// Turned anticlockwise about that corner, degrees.
    #[serde(default, skip_serializing_if = "is_default")]
    pub turn_deg: f64,
    /// How strong it is drawn, percent.
    #[serde(default = "usual_strength")]
    pub strength: f64,
    /// True while it is not shown.
    #[serde(default, skip_serializing_if = "is_default")]
    pub hidden: bool,
    /// True when it is to stay as it lies.
    #[serde(default, skip_serializing_if = "is_default")]
    pub locked: bool,
}

fn usual_strength() -> f64 {
    45.0
}

/// The longest name of a file, characters.
const LONGEST: usize = 120;

impl Underlay {
    /// One that lies at `at` as it is drawn.
    pub fn new(file: impl Into<String>, at: PlanPoint, unit_mm: f64) -> Underlay {
        Underlay {
            file: file.into(),
            at,
            unit_mm,
            turn_deg: 0.0,
            strength: usual_strength(),
            hidden: false,
            locked: false,
        }
    }

    /// Where a place of it is on the plan.
    pub fn plan(&self, [u, v]: [f64; 2]) -> PlanPoint {
        let (sin, cos) = self.turn_deg.to_radians().sin_cos();
        let (x, y) = (u * self.unit_mm, v * self.unit_mm);
        self.at + PlanVector::new(x * cos - y * sin, x * sin + y * cos)
    }

    /// The same moved.
    #[must_use]
    pub fn moved(&self, by: PlanVector) -> Underlay {
        Underlay { at: self.at + by, ..self.clone() }
    }

    /// The same made `factor` times as large, `about` staying where it is.
    #[must_use]
    pub fn scaled(&self, about: PlanPoint, factor: f64) -> Underlay {
        let at = about + (self.at - about) * factor;
        Underlay { at, unit_mm: self.unit_mm * factor, ..self.clone() }
    }

    /// The same turned anticlockwise by so many radians, `about` staying where it is.
    #[must_use]
    pub fn turned(&self, about: PlanPoint, by: f64) -> Underlay {
        let (sin, cos) = by.sin_cos();
        let d = self.at - about;
        let at = about + PlanVector::new(d.x * cos - d.y * sin, d.x * sin + d.y * cos);
        let turn = (self.turn_deg + by.to_degrees()).rem_euclid(360.0);
        Underlay { at, turn_deg: if turn > 180.0 { turn - 360.0 } else { turn }, ..self.clone() }
    }
}

/// Why `name` cannot be the name of a file in the job's own folder, if it cannot.
pub fn not_a_file_name(name: &str) -> Option<String> {
    let bad = |c: char| c.is_control() || "/\\:*?\"<>|".contains(c);
    if name.is_empty() || name.starts_with('.') || name != name.trim() {
        Some("it is no name of a file; give the name of a file beside the job".into())
    } else if let Some(c) = name.chars().find(|c| bad(*c)) {
        Some(format!("{c:?} may not be in it: the file lies in the folder of the job"))
    } else if name.chars().count() > LONGEST {
        Some(format!("it is longer than {LONGEST} characters"))
    } else {
        None
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use approx::assert_relative_eq;

    fn picture() -> Underlay {
        Underlay { turn_deg: 30.0, ..Underlay::new("plan.png", PlanPoint::new(100.0, 50.0), 5.0) }
    }

    fn apart(a: PlanPoint, b: PlanPoint) -> f64 {
        (a - b).norm()
    }

    #[test]
    fn two_points_and_their_distance_set_its_scale() {
        let (before, p, q) = (picture(), [40.0, 10.0], [240.0, 110.0]);
        let (first, second) = (before.plan(p), before.plan(q));
        let after = before.scaled(first, 4000.0 / apart(first, second));
        assert_relative_eq!(apart(after.plan(p), after.plan(q)), 4000.0, epsilon = 1e-6);
        assert_relative_eq!(apart(after.plan(p), first), 0.0, epsilon = 1e-9);
    }

    #[test]
    fn turning_keeps_the_point_and_the_size() {
        let (before, p, q) = (picture(), [40.0, 10.0], [240.0, 110.0]);
        let (first, second) = (before.plan(p), before.plan(q));
        let d = second - first;
        let after = before.turned(first, -d.y.atan2(d.x));
        assert_relative_eq!(after.plan(q).y, first.y, epsilon = 1e-6);
        assert_relative_eq!(apart(after.plan(p), after.plan(q)), d.norm(), epsilon = 1e-6);
        assert!(after.turn_deg.abs() <= 180.0);
        assert_relative_eq!(before.turned(first, 4.0).turn_deg, 30.0 + 4f64.to_degrees() - 360.0);
    }

    #[test]
    fn a_file_lies_beside_the_job_and_nowhere_else() {
        for name in ["plan.png", "room 2.dxf", "Skizze – Küche.jpg"] {
            assert_eq!(not_a_file_name(name), None, "{name}");
        }
        for name in ["", "../plan.png", "/etc/passwd", "a\\b.png", "C:plan.png", ".hidden", "x\n"] {
            assert!(not_a_file_name(name).is_some(), "{name}");
        }
    }
}
