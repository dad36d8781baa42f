//! Where each wall's frame starts and stops, and what it meets there.

use crate::document::Face;
use crate::id::Name;
use crate::math::{PlanPoint, PlanVector, cross, meet};
use crate::span::Span;

use super::Place;

/// One end of a wall's frame.
#[derive(Clone, Debug, PartialEq)]
pub struct End {
    /// Where the frame stops, as a station.
    pub station: f64,
    /// What it meets there.
    pub meets: Meets,
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
    /// Another wall in the same line.
    InLine(Name),
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

    /// The face of this strip towards `p`.
    pub(super) fn face_towards(&self, p: PlanPoint) -> Face {
        let (_, n) = self.place.wall(p);
        if n >= self.frame.centre() { Face::Left } else { Face::Right }
    }

    /// A point on the given face; the face runs along `place.along` through it.
    fn face_point(&self, face: Face) -> PlanPoint {
        self.place.plan(
            0.0,
            match face {
                Face::Left => self.frame.high,
                Face::Right => self.frame.low,
            },
        )
    }

    /// Stations at which this strip's two faces meet the line through `p` along `direction`;
    /// `None` when it runs parallel.
    pub(super) fn meets_line(&self, p: PlanPoint, direction: PlanVector) -> Option<Span> {
        let at = |n: f64| meet(self.place.plan(0.0, n), self.place.along, p, direction);
        Some(Span::between(at(self.frame.low)?, at(self.frame.high)?))
    }

    /// Stations at which this strip's faces meet a face of `other`.
    pub(super) fn meets_face(&self, other: &Strip, face: Face) -> Option<Span> {
        self.meets_line(other.face_point(face), other.place.along)
    }

    /// Where this strip must stop, at `end`, to stay clear of the line whose crossings are `at`.
    pub(super) fn stop_short(end: usize, at: Span) -> f64 {
        if end == 0 { at.high } else { at.low }
    }

    /// Where this strip must stop, at `end`, to reach right up to the line.
    pub(super) fn stop_beyond(end: usize, at: Span) -> f64 {
        if end == 0 { at.low } else { at.high }
    }

    /// True when the two run square to each other.
    pub(super) fn is_square_to(&self, direction: PlanVector) -> bool {
        self.place.along.dot(&direction).abs() <= crate::math::SQUARE * direction.norm()
    }

    /// True when the two run parallel.
    pub(super) fn is_parallel_to(&self, direction: PlanVector) -> bool {
        cross(self.place.along, direction).abs() <= crate::math::SQUARE * direction.norm()
    }
}

/// The other face.
pub(super) fn opposite(face: Face) -> Face {
    match face {
        Face::Left => Face::Right,
        Face::Right => Face::Left,
    }
}
