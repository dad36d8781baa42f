//! Stations along a wall: where an opening's studs land, the middle of a bay.

use layout_core::document::{MeasuredFrom, OpeningStuds, Wall};
use layout_core::frame::Role;
use layout_core::id::{ItemRef, Name, Surface};
use layout_core::layout::WallLayout;
use layout_core::math::{PlanPoint, SAME, SLIVER, left_of, round_to};
use layout_core::resolve::station_on;

use super::{FAR, Mark, Settled, Snap, Snapping};
use crate::gesture::{Gesture, Grip, line_of};

impl Snapping<'_> {
    /// Settles the hand along `wall` on the plan; `settle` is given its station. How far it is
    /// off the wall stays as it is.
    pub(super) fn in_wall(
        &self,
        wall: &Name,
        hand: PlanPoint,
        settle: &dyn Fn(f64) -> (f64, Option<Snap>),
    ) -> Settled {
        let Some((a, u, _)) = line_of(self.job, wall) else { return (hand, None) };
        let (s, snap) = settle((hand - a).dot(&u));
        let across = left_of(u) * (hand - a).dot(&left_of(u));
        // A guide is a mark across the wall here, not a plumb line.
        let reach = 3.0 * self.reach;
        let mark = |s: f64| [-reach, reach].map(|n| a + u * s + left_of(u) * n);
        let snap = snap.map(|snap| Snap {
            guides: snap.guides.iter().map(|[p, _]| mark(p.x)).collect(),
            ..snap
        });
        (a + u * s + across, snap)
    }

    /// A point or fitting that slides along its wall on the plan.
    pub(super) fn thing_along(&self, g: &Gesture, hand: PlanPoint) -> Settled {
        let Some((wall, at)) = self.thing(&g.grip) else { return (hand, None) };
        let Some((a, u, _)) = line_of(self.job, &wall) else { return (hand, None) };
        let from = (g.from - a).dot(&u);
        self.in_wall(&wall, hand, &|s| {
            let (to, snap) = match &g.grip {
                Grip::Reading { surface, .. } => self.read_at(&wall, *surface, at.x + s - from),
                _ => self.station(&wall, at.x + s - from),
            };
            (to - at.x + from, snap)
        })
    }

    /// Wall, station and height of the point or fitting in the hand.
    pub(super) fn thing(&self, grip: &Grip) -> Option<(Name, PlanPoint)> {
        let place = |drawn: &Wall, face, from: &MeasuredFrom, distance: f64, height: f64| {
            let laid = self.layout.wall(&drawn.name)?;
            let station = station_on(&laid.spec, drawn, face, from, distance);
            Some((drawn.name.clone(), PlanPoint::new(station, height)))
        };
        match grip {
            Grip::Point(name) => {
                let (wall, p) = self.job.point(name)?;
                place(wall, p.face, &p.from, p.distance, p.height)
            }
            Grip::Fitting(name) => {
                let (wall, f) = self.job.fitting(name)?;
                place(wall, f.face, &f.from, f.distance, f.bottom)
            }
            Grip::Reading { wall: Some(wall), surface, index } => {
                let read = self.job.wall(wall)?.readings(*surface).get(*index)?;
                Some((wall.clone(), PlanPoint::new(read.0, read.1)))
            }
            _ => None,
        }
    }

    /// Settles where along `wall` a level of `surface` is read: the ends of its frame, the sides of its openings,
    /// where the other surface was read.
    pub(super) fn read_at(&self, wall: &Name, surface: Surface, s: f64) -> (f64, Option<Snap>) {
        let mut marks = Vec::new();
        if let (Some(laid), Some(drawn), false) =
            (self.layout.wall(wall), self.job.wall(wall), self.held_off)
        {
            let along = laid.spec.along();
            for (value, label) in
                [(along.low, "start of the frame"), (along.high, "end of the frame")]
            {
                marks.push(Mark { value, label: label.into() });
            }
            for hole in &laid.spec.holes {
                for value in [hole.span.low, hole.span.high] {
                    marks.push(Mark { value, label: format!("side of {}", hole.name) });
                }
            }
            let (other, where_) = match surface {
                Surface::Floor => (Surface::Ceiling, "under"),
                Surface::Ceiling => (Surface::Floor, "over"),
            };
            for (i, read) in drawn.readings(other).iter().enumerate() {
                let label = format!("{where_} {} level {}", other.label(), i + 1);
                marks.push(Mark { value: read.0, label });
            }
        }
        let (to, label) = self.pick(marks, s);
        let guide = [PlanPoint::new(to, -FAR), PlanPoint::new(to, FAR)];
        (to, label.map(|label| Snap { label, guides: vec![guide] }))
    }

    /// Settles the left edge of an opening of `width` in `wall`.
    pub fn opening(
        &self,
        wall: &Name,
        width: f64,
        moving: Option<&Name>,
        left: f64,
    ) -> (f64, Option<Snap>) {
        let mut marks = Vec::new();
        if let (Some(laid), false) = (self.layout.wall(wall), self.held_off) {
            let spec = &laid.spec;
            let (along, t) = (spec.along(), spec.makeup.timber.thickness());
            // The opening stud is flush with the hole, or a jack away from it.
            let jack = match spec.makeup.opening_studs {
                OpeningStuds::Single => 0.0,
                OpeningStuds::Double => t,
            };
            let off = jack + t / 2.0;
            let studs = stud_centres(laid);
            for (side, edge, outwards) in [("left", left, -1.0), ("right", left + width, 1.0)] {
                let grid = nearest_grid(&studs, spec.centres, edge + outwards * off);
                if let Some(c) = grid.filter(|c| along.contains(*c)) {
                    let at = spec.units.show(c - t / 2.0 - along.low);
                    let label = format!("{side} opening stud lands on the stud at {at}");
                    marks.push(Mark { value: left + c - edge - outwards * off, label });
                }
            }
            marks.push(Mark {
                value: along.low + t + jack,
                label: "tight to the start of the frame".into(),
            });
            marks.push(Mark {
                value: along.high - t - jack - width,
                label: "tight to the end of the frame".into(),
            });
            marks.push(Mark {
                value: along.centre() - width / 2.0,
                label: "middle of the wall".into(),
            });
            for hole in spec.holes.iter().filter(|h| moving != Some(&h.name)) {
                marks.push(Mark {
                    value: hole.span.high + t,
                    label: format!("one stud from {}", hole.name),
                });
                marks.push(Mark {
                    value: hole.span.low - t - width,
                    label: format!("one stud from {}", hole.name),
                });
            }
        }
        let (to, snap) = self.pick(marks, left);
        let upright = |x: f64| [PlanPoint::new(x, -FAR), PlanPoint::new(x, FAR)];
        let edge = if snap
            .as_ref()
            .is_some_and(|s| s.starts_with("right") || s.ends_with("end of the frame"))
        {
            to + width
        } else if snap.as_deref() == Some("middle of the wall") {
            to + width / 2.0
        } else {
            to
        };
        (to, snap.map(|label| Snap { label, guides: vec![upright(edge)] }))
    }

    /// Settles a station along `wall`: the middle of a bay, the middle of the wall, or the grid.
    pub(super) fn station(&self, wall: &Name, s: f64) -> (f64, Option<Snap>) {
        let mut marks = Vec::new();
        if let (Some(laid), false) = (self.layout.wall(wall), self.held_off) {
            let mut uprights: Vec<_> = laid
                .frame
                .members
                .iter()
                .filter(|m| m.role.is_full_height())
                .map(|m| m.solid.stations())
                .collect();
            uprights.sort_by(|a, b| a.low.total_cmp(&b.low));
            for pair in uprights.windows(2).filter(|p| p[0].gap(p[1]) > SLIVER) {
                marks.push(Mark {
                    value: (pair[0].high + pair[1].low) / 2.0,
                    label: "middle of the bay".into(),
                });
            }
            for spot in &laid.spec.spots {
                let at = spot.span.centre();
                if let (ItemRef::Point(name), true) = (&spot.of, (at - s).abs() > SAME) {
                    marks.push(Mark { value: at, label: format!("plumb with {name}") });
                }
            }
        }
        let (to, label) = self.pick(marks, s);
        let guide = [PlanPoint::new(to, -FAR), PlanPoint::new(to, FAR)];
        (to, label.map(|label| Snap { label, guides: vec![guide] }))
    }
}

/// Centres of the common studs of a wall.
fn stud_centres(laid: &WallLayout) -> Vec<f64> {
    laid.frame
        .members
        .iter()
        .filter(|m| m.role == Role::Stud)
        .map(|m| m.solid.stations().centre())
        .collect()
}

/// The station on the grid of `studs` at `centres` nearest to `at`; the grid carries on where
/// openings took studs out.
fn nearest_grid(studs: &[f64], centres: f64, at: f64) -> Option<f64> {
    let whole = |c: f64| c + round_to(at - c, centres.max(1.0));
    studs.iter().map(|&c| whole(c)).min_by(|a, b| (a - at).abs().total_cmp(&(b - at).abs()))
}
