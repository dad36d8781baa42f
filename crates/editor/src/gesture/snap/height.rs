//! Heights above the floor: level with what is there.

use layout_core::id::{ItemRef, Name};
use layout_core::math::PlanPoint;

use super::{FAR, Mark, Settled, Snap, Snapping};
use crate::gesture::{Gesture, Grip};

impl Snapping<'_> {
    /// Settles something that was at height `was` and goes up and down only.
    pub(super) fn upright_from(&self, g: &Gesture, hand: PlanPoint, was: f64) -> Settled {
        let (to, snap) = self.height(&g.grip, was + hand.y - g.from.y, hand.x);
        (PlanPoint::new(hand.x, g.from.y + to - was), snap)
    }

    /// Settles the middle of a point or fitting in the elevation of `wall`.
    pub(super) fn place(&self, wall: &Name, g: &Gesture, at: PlanPoint) -> Settled {
        let (x, along) = self.station(wall, at.x);
        let (y, up) = self.height(&g.grip, at.y, x);
        let snap = match (along, up) {
            (Some(a), Some(b)) => Some(Snap {
                label: format!("{} · {}", a.label, b.label),
                guides: a.guides.into_iter().chain(b.guides).collect(),
            }),
            (a, b) => a.or(b),
        };
        (PlanPoint::new(x, y), snap)
    }

    /// Settles a height above FFL.
    pub(super) fn height(&self, grip: &Grip, z: f64, s: f64) -> (f64, Option<Snap>) {
        let mut marks = Vec::new();
        if !self.held_off {
            let holding = grip.item();
            for w in &self.layout.walls {
                for (row, laid) in w.frame.rows.iter().enumerate() {
                    let own = matches!(grip, Grip::Row { wall, row: held, .. } if wall == w.name() && *held == row);
                    if !own {
                        marks.push(Mark {
                            value: laid.height,
                            label: format!("in line with the noggins of {}", w.name()),
                        });
                    }
                }
            }
            let things = self.job.walls.iter().flat_map(|w| &w.openings);
            for o in things.filter(|o| holding != Some(ItemRef::Opening(o.name.clone()))) {
                marks.push(Mark {
                    value: o.kind.top(),
                    label: format!("level with the top of {}", o.name),
                });
                if let Some(sill) = o.kind.sill() {
                    marks.push(Mark {
                        value: sill,
                        label: format!("level with the sill of {}", o.name),
                    });
                }
            }
            for p in self.job.walls.iter().flat_map(|w| &w.points) {
                if matches!(grip, Grip::Point(n) if *n == p.name)
                    || !matches!(grip, Grip::Point(_) | Grip::NewPoint { .. } | Grip::Route(_))
                {
                    continue;
                }
                marks.push(Mark { value: p.height, label: format!("level with {}", p.name) });
            }
            for p in &self.job.platforms {
                if matches!(grip, Grip::Level(n) if *n != p.name) {
                    marks.push(Mark { value: p.level, label: format!("level with {}", p.name) });
                }
            }
            marks.push(Mark { value: self.job.levels.laser, label: "on the laser line".into() });
            if matches!(grip, Grip::Row { .. }) {
                marks.push(Mark {
                    value: 1210.0,
                    label: "board joint: 1 200 and 10 under it".into(),
                });
            }
        }
        let (to, label) = self.pick(marks, z);
        let guide = [PlanPoint::new(s - FAR, to), PlanPoint::new(s + FAR, to)];
        (to, label.map(|label| Snap { label, guides: vec![guide] }))
    }
}
