//! The room: partitions that run out of it.

use crate::document::{Job, Shell};
use crate::id::ItemRef;
use crate::math::{ON_LINE, PlanPoint, SAME};
use crate::resolve::Shared;
use crate::snag::{Code, Snag};

/// Walls with an end outside the drawn room.
pub(super) fn outside(job: &Job, walls: &[Shared], snags: &mut Vec<Snag>) {
    if job.shell.outline.len() < 3 {
        return;
    }
    for shared in walls {
        for station in [0.0, shared.length] {
            if !is_inside(&job.shell, shared.place.plan(station, 0.0)) {
                let name = &job.walls[shared.wall].name;
                snags.push(
                    Snag::new(
                        Code::OutsideRoom,
                        ItemRef::Wall(name.clone()),
                        format!("Wall {name} has an end outside the room"),
                        "Move its node inside, or draw the room as it is.",
                    )
                    .in_wall(name, station),
                );
            }
        }
    }
}

/// True when `p` is in the room or on the face of one of its walls.
fn is_inside(shell: &Shell, p: PlanPoint) -> bool {
    let mut inside = false;
    for (a, b) in shell.sides() {
        let side = b - a;
        let length = side.norm();
        if length < SAME {
            continue;
        }
        let u = side / length;
        let d = p - a;
        let s = d.dot(&u);
        if crate::math::cross(u, d).abs() <= ON_LINE && (-ON_LINE..=length + ON_LINE).contains(&s) {
            return true;
        }
        if (a.y > p.y) != (b.y > p.y) && p.x < a.x + (p.y - a.y) / (b.y - a.y) * (b.x - a.x) {
            inside = !inside;
        }
    }
    inside
}
