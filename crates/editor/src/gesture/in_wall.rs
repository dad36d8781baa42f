//! Drags of what is in a wall: openings, noggin rows, the head, points and fittings.

use std::sync::Arc;

use layout_core::document::{
    Edit, Fitting, Head, Hold, HoldTo, Job, MeasuredFrom, Opening, OpeningKind, Point, Route, Rows,
    Wall, WallEnd,
};
use layout_core::frame::own_rules;
use layout_core::id::Name;
use layout_core::math::round_to;

use super::{Gesture, Grip, LEAST_DRAWN, Space, line_of};

impl Gesture {
    pub(super) fn edit_in_wall(&self, base: &Job) -> Option<Edit> {
        match &self.grip {
            Grip::Opening(name) => {
                let (wall, opening) = base.opening(name)?;
                let (_, _, length) = line_of(base, &wall.name)?;
                let width = opening.kind.width();
                let left = opening.hold.left_edge(width, length) + self.along(base, &wall.name);
                let held = opening.hold.with_left_edge(left, width, length);
                let distance = self
                    .numbers()
                    .first()
                    .copied()
                    .unwrap_or_else(|| round_to(held.distance, 0.01));
                Some(Edit::MoveOpening { opening: name.clone(), distance })
            }
            Grip::Sill(name) | Grip::Top(name) => {
                let (wall, opening) = base.opening(name)?;
                let mut opening = opening.clone();
                let top = matches!(self.grip, Grip::Top(_));
                match &mut opening.kind {
                    OpeningKind::BorrowedLight { height, sill, .. }
                    | OpeningKind::Hatch { height, sill, .. } => {
                        let old_top = *sill + *height;
                        if top {
                            *height = (self.height(old_top) - *sill).max(LEAST_DRAWN);
                        } else {
                            *sill = self.height(*sill).clamp(0.0, old_top - LEAST_DRAWN);
                            *height = old_top - *sill;
                        }
                    }
                    OpeningKind::Plain { height, .. } if top => {
                        *height = self.height(*height).max(LEAST_DRAWN);
                    }
                    OpeningKind::Plain { .. } | OpeningKind::Door(_) => return None,
                }
                Some(Edit::PutOpening { wall: wall.name.clone(), opening })
            }
            Grip::Row { wall, row, rows } => {
                let mut rules = own_rules(rows, Some(*row));
                let held = rows.get(*row)?;
                rules.push(held.raised_to(self.height(held.height)));
                Some(Edit::SetRows { wall: wall.clone(), rows: Some(Rows::own(rules)) })
            }
            Grip::Head { wall, corner, height } => {
                let mut changed = Wall::clone(base.wall(wall)?);
                let height = self.height(*height).max(LEAST_DRAWN);
                match (&mut changed.head, corner) {
                    (Some(Head::Line { points }), Some(corner)) => {
                        points.get_mut(*corner)?.1 = height;
                    }
                    (head, _) => *head = Some(Head::Free { height }),
                }
                Some(Edit::PutWall(Arc::new(changed)))
            }
            Grip::Point(name) => {
                let (wall, point) = base.point(name)?;
                Some(Edit::PutPoint {
                    wall: wall.name.clone(),
                    point: self.carried_point(base, &wall.name, point),
                })
            }
            Grip::Route(name) => {
                let (wall, route) = base.route(name)?;
                let route = Route { height: self.height(route.height), ..route.clone() };
                Some(Edit::PutRoute { wall: wall.name.clone(), route })
            }
            Grip::Fitting(name) => {
                let (wall, fitting) = base.fitting(name)?;
                let fitting = self.carried_fitting(base, &wall.name, fitting);
                Some(Edit::PutFitting { wall: wall.name.clone(), fitting })
            }
            Grip::NewOpening { wall, opening } => {
                let (_, _, length) = line_of(base, wall)?;
                let width = opening.kind.width();
                let hold = Hold { from: WallEnd::Start, to: HoldTo::Near, distance: 0.0 };
                let left = self.station(base, wall)? - width / 2.0;
                let held = hold.with_left_edge(left, width, length);
                let distance = self
                    .numbers()
                    .first()
                    .copied()
                    .unwrap_or_else(|| round_to(held.distance, 0.01));
                let opening = Opening { hold: Hold { distance, ..hold }, ..opening.clone() };
                Some(Edit::PutOpening { wall: wall.clone(), opening })
            }
            Grip::NewPoint { wall, point } => {
                let mut point = point.clone();
                point.distance = round_to(self.station(base, wall)?, 0.01);
                if self.space == Space::Elevation {
                    point.height = round_to(self.now.y, 0.01);
                }
                point.from = MeasuredFrom::Start;
                (point.distance, point.height) = self.typed_place(point.distance, point.height);
                Some(Edit::PutPoint { wall: wall.clone(), point })
            }
            Grip::NewFitting { wall, fitting } => {
                let mut fitting = fitting.clone();
                fitting.distance = round_to(self.station(base, wall)?, 0.01);
                fitting.from = MeasuredFrom::Start;
                let rise = match self.space {
                    Space::Elevation => round_to(self.now.y, 0.01) - fitting.bottom,
                    Space::Plan => 0.0,
                };
                let (distance, bottom) = self.typed_place(fitting.distance, fitting.bottom + rise);
                fitting.distance = distance;
                raise(&mut fitting, bottom);
                Some(Edit::PutFitting { wall: wall.clone(), fitting })
            }
            _ => None,
        }
    }

    /// Station of the hand along `wall`, mm.
    pub(super) fn station(&self, base: &Job, wall: &Name) -> Option<f64> {
        match self.space {
            Space::Elevation => Some(self.now.x),
            Space::Plan => line_of(base, wall).map(|(a, u, _)| (self.now - a).dot(&u)),
        }
    }

    /// Distance and height with what was typed in their place: one number is the distance when
    /// the hand moved mostly along the wall, else the height; two are both.
    pub(super) fn typed_place(&self, distance: f64, height: f64) -> (f64, f64) {
        let upwards = self.space == Space::Elevation && self.shift().y.abs() > self.shift().x.abs();
        match self.numbers()[..] {
            [] => (distance, height),
            [h] if upwards => (distance, h),
            [d] => (d, height),
            [d, h, ..] => (d, h),
        }
    }

    pub(super) fn carried_point(&self, base: &Job, wall: &Name, point: &Point) -> Point {
        let mut point = point.clone();
        let along = self.along(base, wall) * point.from.way();
        let rise = if self.space == Space::Elevation { self.shift().y } else { 0.0 };
        let place = (round_to(point.distance + along, 0.01), round_to(point.height + rise, 0.01));
        (point.distance, point.height) = self.typed_place(place.0, place.1);
        point
    }

    pub(super) fn carried_fitting(&self, base: &Job, wall: &Name, fitting: &Fitting) -> Fitting {
        let mut fitting = fitting.clone();
        let along = self.along(base, wall) * fitting.from.way();
        let rise = if self.space == Space::Elevation { self.shift().y } else { 0.0 };
        let place =
            (round_to(fitting.distance + along, 0.01), round_to(fitting.bottom + rise, 0.01));
        let (distance, bottom) = self.typed_place(place.0, place.1);
        fitting.distance = distance;
        raise(&mut fitting, bottom);
        fitting
    }

    /// How far the hand has moved along `wall`, mm.
    pub(super) fn along(&self, base: &Job, wall: &Name) -> f64 {
        match self.space {
            Space::Elevation => self.shift().x,
            Space::Plan => line_of(base, wall).map_or(0.0, |(_, u, _)| self.shift().dot(&u)),
        }
    }
}

/// Raises a fitting, with its fixings, so that its underside is at `bottom`.
fn raise(fitting: &mut Fitting, bottom: f64) {
    let by = bottom - fitting.bottom;
    fitting.bottom += by;
    fitting.top += by;
    for fixing in &mut fitting.fixings {
        *fixing += by;
    }
}
