//! The changes that reach further than the thing they are about: what goes along with a wall or a side of
//! the room that moves, what is renamed with a name, what goes with a thing that is taken away.

use std::sync::Arc;

use super::{Corner, Job, MeasuredFrom, OddBay, Wall, WallEnd};
use crate::id::{ItemRef, Name};
use crate::math::{ON_LINE, PlanPoint, PlanVector, SAME, SQUARE, cross, left_of, meet};

pub(super) fn move_wall(job: &mut Job, wall: &Name, by: f64) {
    let Some(wall) = job.wall(wall).cloned() else { return };
    let (Some(from), Some(to)) = (job.node(&wall.from), job.node(&wall.to)) else { return };
    let (a, b) = (from.at, to.at);
    let along = b - a;
    let length = along.norm();
    if length < ON_LINE {
        return;
    }
    let u = along / length;
    // Each node that stands on the wall goes with it: along the one line that holds it there, so that walls which
    // meet this one at an angle keep their own; square to it when there is none, or more than one.
    let goes: Vec<(Name, PlanVector)> = job
        .nodes
        .iter()
        .filter(|node| {
            let from_a = node.at - a;
            let station = from_a.dot(&u);
            cross(u, from_a).abs() <= ON_LINE && (-ON_LINE..=length + ON_LINE).contains(&station)
        })
        .map(|node| {
            let slide = job.rail(&wall, &node.name).map(|rail| rail * (by / cross(u, rail)));
            (node.name.clone(), slide.unwrap_or(left_of(u) * by))
        })
        .collect();
    for node in &mut job.nodes {
        if let Some((_, shift)) = goes.iter().find(|(name, _)| *name == node.name) {
            node.at += shift;
        }
    }
}

/// Gives a wall that cuts a corner off another face length, keeping its angle.
pub(super) fn set_face(job: &mut Job, wall: &Name, length: f64) {
    let (Some(cut), Some(wall)) = (job.cut_corner(wall), job.wall(wall).cloned()) else { return };
    let (Some(from), Some(to)) = (job.node(&wall.from), job.node(&wall.to)) else { return };
    let share = length / (to.at - from.at).norm();
    if !(share.is_finite() && share > 0.0) {
        return;
    }
    for node in &mut job.nodes {
        if node.name == wall.from || node.name == wall.to {
            node.at = cut.at + (node.at - cut.at) * share;
        }
    }
}

/// Cuts off the corner of the two walls that end at `node`: each stops its set-back short of it, and `wall` runs
/// between them.
pub(super) fn cut_corner(job: &mut Job, node: &Name, set_backs: [f64; 2], wall: &Wall) {
    let Some(corner) = job.node(node).map(|n| n.at) else { return };
    let ends: Vec<(usize, bool)> = job
        .walls
        .iter()
        .enumerate()
        .flat_map(|(i, w)| [(i, w.from == *node, true), (i, w.to == *node, false)])
        .filter(|(_, here, _)| *here)
        .map(|(i, _, starts)| (i, starts))
        .collect();
    let [a, b] = ends[..] else { return };
    let mut names = Vec::new();
    for ((index, starts), set_back) in [a, b].into_iter().zip(set_backs) {
        let w = &job.walls[index];
        let far = if starts { &w.to } else { &w.from };
        let Some(far) = job.node(far).map(|n| n.at) else { return };
        let length = (far - corner).norm();
        if !(set_back > 0.0 && set_back < length) {
            return;
        }
        let name = job.free_node_name();
        job.nodes.push(super::Node {
            name: name.clone(),
            at: corner + (far - corner) * (set_back / length),
        });
        let w = Arc::make_mut(&mut job.walls[index]);
        *(if starts { &mut w.from } else { &mut w.to }) = name.clone();
        names.push(name);
    }
    if let [from, to] = &names[..] {
        job.walls.push(Arc::new(Wall { from: from.clone(), to: to.clone(), ..wall.clone() }));
    }
    drop_loose_nodes(job);
}

pub(super) fn move_side(job: &mut Job, side: usize, by: f64) {
    let n = job.shell.outline.len();
    if side >= n || n < 3 {
        return;
    }
    let at = |i: usize| job.shell.outline[i % n].at;
    let (before, a, b, after) = (at(side + n - 1), at(side), at(side + 1), at(side + 2));
    let along = b - a;
    if along.norm() < ON_LINE {
        return;
    }
    let shift = left_of(along / along.norm()) * by;
    let slide = |corner: PlanPoint, neighbour: PlanPoint| -> PlanPoint {
        let d: PlanVector = corner - neighbour;
        meet(neighbour, d, a + shift, along).map_or(corner + shift, |t| neighbour + d * t)
    };
    let (new_a, new_b) = (slide(a, before), slide(b, after));
    let mut outline = job.shell.outline.clone();
    outline[side].at = new_a;
    outline[(side + 1) % n].at = new_b;
    reshape(job, outline);
}

/// Gives the room another outline with as many corners. Nodes that stand on a side that moved go with
/// it: square to it when it only shifted, at the same share of its length when it turned.
pub(super) fn reshape(job: &mut Job, outline: Vec<Corner>) {
    let old: Vec<(PlanPoint, PlanPoint)> = job.shell.sides().collect();
    job.shell.outline = outline;
    let new: Vec<(PlanPoint, PlanPoint)> = job.shell.sides().collect();
    for node in &mut job.nodes {
        let moved = old.iter().zip(&new).find_map(|(&(a, b), &(p, q))| {
            let (was, is) = (b - a, q - p);
            let length = was.norm();
            if length < ON_LINE || (p - a).norm() + (q - b).norm() < SAME {
                return None;
            }
            let u = was / length;
            let d = node.at - a;
            let s = d.dot(&u);
            if cross(u, d).abs() > ON_LINE || !(-ON_LINE..=length + ON_LINE).contains(&s) {
                return None;
            }
            let shifted = cross(is, u).abs() <= SQUARE * is.norm();
            let at_corner = s < ON_LINE || s > length - ON_LINE;
            Some(if shifted && !at_corner {
                node.at + left_of(u) * cross(u, p - a)
            } else {
                p + is * (s / length)
            })
        });
        if let Some(at) = moved {
            node.at = at;
        }
    }
}

/// What was accepted is of the same thing under its new name.
fn rename_accepted(job: &mut Job, item: &ItemRef, to: &Name) {
    for accepted in &mut job.accepted {
        let to = to.clone();
        accepted.of = match (&accepted.of, item) {
            (ItemRef::Wall(n), ItemRef::Wall(from)) if n == from => ItemRef::Wall(to),
            (ItemRef::Member { wall, mark }, ItemRef::Wall(from) | ItemRef::Platform(from))
                if wall == from =>
            {
                ItemRef::Member { wall: to, mark: *mark }
            }
            (ItemRef::NogginRow { wall, row }, ItemRef::Wall(from)) if wall == from => {
                ItemRef::NogginRow { wall: to, row: *row }
            }
            (ItemRef::Opening(n), ItemRef::Opening(from)) if n == from => ItemRef::Opening(to),
            (ItemRef::Point(n), ItemRef::Point(from)) if n == from => ItemRef::Point(to),
            (ItemRef::Route(n), ItemRef::Route(from)) if n == from => ItemRef::Route(to),
            (ItemRef::Fitting(n), ItemRef::Fitting(from)) if n == from => ItemRef::Fitting(to),
            (ItemRef::Node(n), ItemRef::Node(from)) if n == from => ItemRef::Node(to),
            (ItemRef::Post(n), ItemRef::Post(from)) if n == from => ItemRef::Post(to),
            (ItemRef::Beam(n), ItemRef::Beam(from)) if n == from => ItemRef::Beam(to),
            (ItemRef::Roof(n), ItemRef::Roof(from)) if n == from => ItemRef::Roof(to),
            (ItemRef::MakeUp(n), ItemRef::MakeUp(from)) if n == from => ItemRef::MakeUp(to),
            (ItemRef::Platform(n), ItemRef::Platform(from)) if n == from => ItemRef::Platform(to),
            (ItemRef::PlatformHole(n), ItemRef::PlatformHole(from)) if n == from => {
                ItemRef::PlatformHole(to)
            }
            (of, _) => of.clone(),
        };
    }
}

pub(super) fn rename(job: &mut Job, item: &ItemRef, to: &Name) {
    let was = (!job.accepted.is_empty()).then(|| job.clone());
    rename_item(job, item, to);
    // A name that is taken is refused, and then nothing has another.
    if was.is_some_and(|was| was != *job) {
        rename_accepted(job, item, to);
    }
}

fn rename_item(job: &mut Job, item: &ItemRef, to: &Name) {
    let swap = |name: &mut Name, from: &Name| {
        if name == from {
            *name = to.clone();
        }
    };
    let walls = |job: &mut Job, change: &dyn Fn(&mut Wall)| {
        for w in &mut job.walls {
            let mut changed = Wall::clone(w);
            change(&mut changed);
            if changed != **w {
                *w = Arc::new(changed);
            }
        }
    };
    match item {
        ItemRef::Node(from) if job.node(to).is_none() => {
            job.nodes.iter_mut().for_each(|n| swap(&mut n.name, from));
            walls(job, &|w| {
                swap(&mut w.from, from);
                swap(&mut w.to, from);
            });
        }
        // Walls and platforms share their names: both begin the marks of pieces.
        ItemRef::Wall(_) | ItemRef::Platform(_)
            if job.wall(to).is_some() || job.platform(to).is_some() => {}
        ItemRef::Platform(from) => {
            for p in job.platforms.iter_mut().filter(|p| p.name == *from) {
                Arc::make_mut(p).name = to.clone();
            }
        }
        ItemRef::PlatformHole(from) if job.platform_hole(to).is_none() => {
            for p in job.platforms.iter_mut().filter(|p| p.hole(from).is_some()) {
                Arc::make_mut(p).holes.iter_mut().for_each(|h| swap(&mut h.name, from));
            }
        }
        ItemRef::Wall(from) => walls(job, &|w| swap(&mut w.name, from)),
        ItemRef::MakeUp(from) if job.makeup(to).is_none() => {
            for m in &mut job.makeups {
                if m.name == *from {
                    Arc::make_mut(m).name = to.clone();
                }
            }
            walls(job, &|w| swap(&mut w.makeup, from));
        }
        ItemRef::Opening(from) if job.opening(to).is_none() => walls(job, &|w| {
            w.openings.iter_mut().for_each(|o| swap(&mut o.name, from));
            if let OddBay::Beside(name) = &mut w.odd_bay {
                swap(name, from);
            }
            for held in measured(w) {
                if let MeasuredFrom::Opening(name, _) = held.0 {
                    swap(name, from);
                }
            }
        }),
        ItemRef::Point(from) if job.point(to).is_none() => walls(job, &|w| {
            w.points.iter_mut().for_each(|p| swap(&mut p.name, from));
            w.routes.iter_mut().flat_map(|r| &mut r.points).for_each(|p| swap(p, from));
            for held in measured(w) {
                if let MeasuredFrom::Point(name) = held.0 {
                    swap(name, from);
                }
            }
        }),
        ItemRef::Route(from) if job.route(to).is_none() => {
            walls(job, &|w| w.routes.iter_mut().for_each(|r| swap(&mut r.name, from)));
        }
        ItemRef::Fitting(from) if job.fitting(to).is_none() => {
            walls(job, &|w| w.fittings.iter_mut().for_each(|f| swap(&mut f.name, from)));
        }
        ItemRef::Room(from) if job.rooms.iter().all(|r| r.name != *to) => {
            job.rooms.iter_mut().for_each(|r| swap(&mut r.name, from));
        }
        ItemRef::Post(from) if job.shell.posts.iter().all(|p| p.name != *to) => {
            job.shell.posts.iter_mut().for_each(|p| swap(&mut p.name, from));
        }
        ItemRef::Beam(from) if job.shell.beams.iter().all(|b| b.name != *to) => {
            job.shell.beams.iter_mut().for_each(|b| swap(&mut b.name, from));
        }
        ItemRef::Roof(from) if job.shell.roof.iter().all(|r| r.name != *to) => {
            job.shell.roof.iter_mut().for_each(|r| swap(&mut r.name, from));
        }
        _ => {}
    }
}

pub(super) fn remove(job: &mut Job, item: &ItemRef) {
    let from_walls = |job: &mut Job, holds: &dyn Fn(&Wall) -> bool, change: &dyn Fn(&mut Wall)| {
        for w in job.walls.iter_mut().filter(|w| holds(w)) {
            change(Arc::make_mut(w));
        }
    };
    match item {
        ItemRef::Underlay => job.underlay = None,
        ItemRef::Wall(name) => {
            job.walls.retain(|w| w.name != *name);
            drop_loose_nodes(job);
        }
        ItemRef::Node(name) => {
            job.walls.retain(|w| w.from != *name && w.to != *name);
            job.nodes.retain(|n| n.name != *name);
            drop_loose_nodes(job);
        }
        ItemRef::Opening(name) => {
            let gone = job.opening(name).and_then(|(wall, opening)| {
                let line = job.node(&wall.to)?.at - job.node(&wall.from)?.at;
                let (length, width) = (line.norm(), opening.kind.width());
                let low = opening.hold.left_edge(width, length);
                Some((low, low + width))
            });
            from_walls(job, &|w| w.openings.iter().any(|o| o.name == *name), &|w| {
                w.openings.retain(|o| o.name != *name);
                if w.odd_bay == OddBay::Beside(name.clone()) {
                    w.odd_bay = OddBay::AtEnd;
                }
                for (from, distance) in measured(w) {
                    // What was measured from the opening stays where it is.
                    if let (MeasuredFrom::Opening(of, end), Some((low, high))) = (&*from, gone)
                        && of == name
                    {
                        let side = if *end == WallEnd::Start { low } else { high };
                        *distance = side + from.way() * *distance;
                        *from = MeasuredFrom::Start;
                    }
                }
            });
        }
        ItemRef::Point(name) => {
            from_walls(job, &|w| w.points.iter().any(|p| p.name == *name), &|w| {
                let gone = w.points.iter().find(|p| p.name == *name).cloned();
                w.points.retain(|p| p.name != *name);
                w.routes.iter_mut().for_each(|r| r.points.retain(|p| p != name));
                for (from, distance) in measured(w) {
                    // What was measured from it is measured from where that was.
                    if let (MeasuredFrom::Point(of), Some(gone)) = (&*from, &gone)
                        && of == name
                    {
                        *distance = gone.distance + gone.from.way() * *distance;
                        *from = gone.from.clone();
                    }
                }
            });
        }
        ItemRef::Route(name) => {
            from_walls(job, &|w| w.routes.iter().any(|r| r.name == *name), &|w| {
                w.routes.retain(|r| r.name != *name);
            });
        }
        ItemRef::Fitting(name) => {
            from_walls(job, &|w| w.fittings.iter().any(|f| f.name == *name), &|w| {
                w.fittings.retain(|f| f.name != *name);
            });
        }
        ItemRef::Platform(name) => job.platforms.retain(|p| p.name != *name),
        ItemRef::PlatformHole(name) => {
            for p in job.platforms.iter_mut().filter(|p| p.hole(name).is_some()) {
                Arc::make_mut(p).holes.retain(|h| h.name != *name);
            }
        }
        ItemRef::Corner(i) if job.shell.outline.len() > 3 && *i < job.shell.outline.len() => {
            job.shell.outline.remove(*i);
        }
        ItemRef::Reading { wall: None, surface, index } => {
            let list = job.levels.readings.of_mut(*surface);
            if *index < list.len() {
                list.remove(*index);
            }
        }
        ItemRef::Reading { wall: Some(wall), surface, index } => {
            for w in job.walls.iter_mut().filter(|w| w.name == *wall) {
                if *index < w.readings(*surface).len() {
                    Arc::make_mut(w).readings_mut(*surface).remove(*index);
                }
            }
        }
        ItemRef::Post(name) => job.shell.posts.retain(|p| p.name != *name),
        ItemRef::Beam(name) => job.shell.beams.retain(|b| b.name != *name),
        ItemRef::Roof(name) => job.shell.roof.retain(|r| r.name != *name),
        ItemRef::Room(name) => job.rooms.retain(|r| r.name != *name),
        ItemRef::MakeUp(name)
            if job.walls.iter().all(|w| w.makeup != *name) && job.makeups.len() > 1 =>
        {
            job.makeups.retain(|m| m.name != *name);
        }
        _ => {}
    }
}

/// What the points and fittings of a wall are measured from, and their distances.
fn measured(wall: &mut Wall) -> impl Iterator<Item = (&mut MeasuredFrom, &mut f64)> {
    let points = wall.points.iter_mut().map(|p| (&mut p.from, &mut p.distance));
    points.chain(wall.fittings.iter_mut().map(|f| (&mut f.from, &mut f.distance)))
}

/// Nodes that no wall uses are not kept.
fn drop_loose_nodes(job: &mut Job) {
    let walls = &job.walls;
    job.nodes.retain(|n| walls.iter().any(|w| w.from == n.name || w.to == n.name));
}
