//! Where a wall stands on the plan: the step from wall coordinates to the job's.

use nalgebra::Point3;

use crate::math::{PlanPoint, PlanVector, WallPoint, left_of};

/// Origin and direction of a wall. Station 0 is the wall's start node.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Place {
    /// The start node on the plan.
    pub origin: PlanPoint,
    /// Unit direction from start to end.
    pub along: PlanVector,
}

impl Place {
    /// The plan point at station `s`, `n` to the left of the wall's line.
    pub fn plan(&self, s: f64, n: f64) -> PlanPoint {
        self.origin + self.along * s + left_of(self.along) * n
    }

    /// Station and offset to the left of a plan point.
    pub fn wall(&self, p: PlanPoint) -> (f64, f64) {
        let d = p - self.origin;
        (d.dot(&self.along), d.dot(&left_of(self.along)))
    }

    /// A point of the wall in job coordinates: plan x, plan y, height above FFL.
    pub fn job(&self, p: WallPoint) -> Point3<f64> {
        let plan = self.plan(p.x, p.y);
        Point3::new(plan.x, plan.y, p.z)
    }
}
