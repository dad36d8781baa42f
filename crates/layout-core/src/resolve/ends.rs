//! Where each wall's frame starts and stops, and what it meets there.

use crate::document::Face;
use crate::id::Name;
use crate::math::{PlanPoint, PlanVector, cross, meet};
use crate::span::Span;

use super::Place;

/// One end of a wall's frame: the plumb plane it is cut on, and what it meets there.
#[derive(Clone, Debug, PartialEq)]
pub struct End {
    /// Stations at which the right face and the left face of the frame stop. They differ where the wall
    /// meets something at an angle.
    pub at: [f64; 2],
    /// What it meets there.
    pub meets: Meets,
    /// How far past there its plates are let into what it meets, along the wall.
    pub housing: f64,
}

impl End {
    /// An end cut square at one station.
    pub fn square(station: f64, meets: Meets) -> End {
        End { at: [station; 2], meets, housing: 0.0 }
    }

    /// From the first station it touches to the last.
    pub fn spread(&self) -> Span {
        Span::between(self.at[0], self.at[1])
    }

    /// Station on the cut at `n` across the wall, whose frame is `frame` across.
    pub fn station_at(&self, n: f64, frame: Span) -> f64 {
        cut_at(self.at, n, frame)
    }
}

/// Station at `n` across a frame, on the cut through `at` on its right and left face.
pub fn cut_at(at: [f64; 2], n: f64, frame: Span) -> f64 {
    let share = if frame.length() > 0.0 { (n - frame.low) / frame.length() } else { 0.0 };
    at[0] + (at[1] - at[0]) * share
}

/// What the end of a wall meets.
#[derive(Clone, Debug, PartialEq)]
pub enum Meets {
    /// Nothing.
    Free,
    /// An existing wall: side of the shell counted from 0.
    Existing {
        /// The side of the shell.
        side: usize,
    },
    /// A post.
    Post(Name),
    /// A soffit that comes down to the floor.
    Soffit,
    /// Another wall in the same line.
    InLine(Name),
    /// Another wall at a corner, both cut on the line through the corner of their faces.
    Mitres(Name),
    /// Another wall at a corner; this one runs through to the other's outer face.
    Through(Name),
    /// Another wall's near face, at a corner or somewhere along it.
    Butts(Name),
}

/// A wall's frame on the plan, before it is known where it stops: a strip between two lines.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Strip {
    pub(super) place: Place,
    /// Distance between the nodes.
    pub(super) length: f64,
    /// The frame across.
    pub(super) frame: Span,
}

impl Strip {
    /// The node at one end.
    pub(super) fn node(&self, end: usize) -> PlanPoint {
        self.place.plan(self.node_station(end), 0.0)
    }

    /// Station of the node at one end.
    pub(super) fn node_station(&self, end: usize) -> f64 {
        if end == 0 { 0.0 } else { self.length }
    }

    /// Unit direction out of the wall at one end.
    pub(super) fn outward(&self, end: usize) -> PlanVector {
        if end == 0 { -self.place.along } else { self.place.along }
    }

    /// A point on the given face; the face runs along `place.along` through it.
    pub(super) fn face_point(&self, face: Face) -> PlanPoint {
        self.place.plan(
            0.0,
            match face {
                Face::Left => self.frame.high,
                Face::Right => self.frame.low,
            },
        )
    }

    /// Stations at which this strip's right and left face meet the line through `p` along `direction`;
    /// `None` when it runs parallel.
    pub(super) fn meets_line(&self, p: PlanPoint, direction: PlanVector) -> Option<[f64; 2]> {
        let at = |n: f64| meet(self.place.plan(0.0, n), self.place.along, p, direction);
        Some([at(self.frame.low)?, at(self.frame.high)?])
    }

    /// The strip's outline on the plan, anticlockwise, between two cuts.
    pub(super) fn outline(&self, start: [f64; 2], end: [f64; 2]) -> [PlanPoint; 4] {
        let at = |s: f64, n: f64| self.place.plan(s, n);
        let Span { low, high } = self.frame;
        [at(start[0], low), at(end[0], low), at(end[1], high), at(start[1], high)]
    }

    /// True when the two run parallel.
    pub(super) fn is_parallel_to(&self, direction: PlanVector) -> bool {
        cross(self.place.along, direction).abs() <= crate::math::SQUARE * direction.norm()
    }
}
