//! Edits: every change a hand can make to a job, as data.
//!
//! Gestures, the particulars panel, tests and undo all speak these. Applying one never fails:
//! an edit of something that is not there changes nothing.

use std::sync::Arc;

use super::{
    Beam, Corner, CrewCopy, Datum, Fitting, Gap, Job, Levels, MakeUp, Node, Opening, Point, Post,
    RoofPlane, Room, Rows, SawSettings, Stock, Wall,
};
use crate::id::{ItemRef, Name};
use crate::math::{ON_LINE, PlanPoint, PlanVector, SAME, SQUARE, cross, left_of};

/// One change to a job.
#[derive(Clone, Debug, PartialEq)]
pub enum Edit {
    /// Change the title and the notes.
    SetTitle {
        /// New title.
        title: String,
        /// New notes.
        notes: String,
    },
    /// Move or relabel the datum.
    SetDatum(Datum),
    /// Change build-up, ceiling or laser line.
    SetLevels(Levels),
    /// Replace the outline of the room.
    SetOutline(Vec<Corner>),
    /// Move one corner of the room.
    MoveCorner {
        /// Which, from 0.
        corner: usize,
        /// Where to.
        to: PlanPoint,
    },
    /// Move one side of the room sideways, keeping it parallel.
    MoveSide {
        /// Which, from 0.
        side: usize,
        /// How far to its left (into the room of an anticlockwise outline).
        by: f64,
    },
    /// Replace the doors and windows of one existing wall.
    SetGaps {
        /// Which side, from 0.
        side: usize,
        /// The new ones.
        gaps: Vec<Gap>,
    },
    /// Add a post, or replace the one of that name.
    PutPost(Post),
    /// Add a beam, or replace the one of that name.
    PutBeam(Beam),
    /// Add a roof plane, or replace the one of that name.
    PutRoof(RoofPlane),
    /// Add a room label, or replace the one of that name.
    PutRoom(Room),
    /// Add a make-up, or replace the one of that name.
    PutMakeUp(Arc<MakeUp>),
    /// Add a node, or move the one of that name. Walls keep their nodes.
    PutNode(Node),
    /// Add a wall with its two end nodes. An end within a millimetre of a node joins that node.
    AddWall {
        /// The wall; its `from` and `to` name the nodes to make when there is none to join.
        wall: Arc<Wall>,
        /// Where it starts.
        from: PlanPoint,
        /// Where it ends.
        to: PlanPoint,
    },
    /// Replace a wall by one of the same name.
    PutWall(Arc<Wall>),
    /// Move a wall sideways. Its nodes go with it, and so does every node standing on it;
    /// walls that meet it grow or shrink.
    MoveWall {
        /// Which.
        wall: Name,
        /// How far to its left.
        by: f64,
    },
    /// Add an opening to a wall, or replace the one of that name (which may be in another wall).
    PutOpening {
        /// The wall it goes in.
        wall: Name,
        /// The opening.
        opening: Opening,
    },
    /// Change the dimension that holds an opening.
    MoveOpening {
        /// Which.
        opening: Name,
        /// The new distance, measured as before.
        distance: f64,
    },
    /// Set the noggin rows of one wall; `None` gives it back its make-up's.
    SetRows {
        /// The wall.
        wall: Name,
        /// The rows.
        rows: Option<Rows>,
    },
    /// Add a first-fix point to a wall, or replace the one of that name.
    PutPoint {
        /// The wall it goes on.
        wall: Name,
        /// The point.
        point: Point,
    },
    /// Add a fitting to a wall, or replace the one of that name.
    PutFitting {
        /// The wall it hangs on.
        wall: Name,
        /// The fitting.
        fitting: Fitting,
    },
    /// Replace the timber list.
    SetStock(Vec<Stock>),
    /// Change how the saw cuts.
    SetSaw(SawSettings),
    /// Record that prints were handed out.
    AddCrewCopy(CrewCopy),
    /// Give something another name, everywhere it is used.
    Rename {
        /// What.
        item: ItemRef,
        /// Its new name.
        to: Name,
    },
    /// Take something away, with what cannot stand without it.
    Remove(ItemRef),
    /// Several edits as one step, under a name of its own.
    Several(String, Vec<Edit>),
}

impl Edit {
    /// What it is called in the undo list: “move door D2”.
    pub fn label(&self) -> String {
        match self {
            Edit::SetTitle { .. } => "change the title".into(),
            Edit::SetDatum(_) => "move the datum".into(),
            Edit::SetLevels(_) => "change the levels".into(),
            Edit::SetOutline(_) => "draw the room".into(),
            Edit::MoveCorner { corner, .. } => format!("move room corner {}", corner + 1),
            Edit::MoveSide { side, .. } => format!("move room side {}", side + 1),
            Edit::SetGaps { side, .. } => format!("change openings in room side {}", side + 1),
            Edit::PutPost(p) => format!("change post {}", p.name),
            Edit::PutBeam(b) => format!("change beam {}", b.name),
            Edit::PutRoof(r) => format!("change roof plane {}", r.name),
            Edit::PutRoom(r) => format!("change room name {}", r.name),
            Edit::PutMakeUp(m) => format!("change make-up {}", m.name),
            Edit::PutNode(n) => format!("move node {}", n.name),
            Edit::AddWall { wall, .. } => format!("draw wall {}", wall.name),
            Edit::PutWall(w) => format!("change wall {}", w.name),
            Edit::MoveWall { wall, .. } => format!("move wall {wall}"),
            Edit::PutOpening { opening, .. } => {
                format!("change {} {}", opening.kind.label(), opening.name)
            }
            Edit::MoveOpening { opening, .. } => format!("move opening {opening}"),
            Edit::SetRows { wall, .. } => format!("move noggins of wall {wall}"),
            Edit::PutPoint { point, .. } => format!("change {} {}", point.kind.label(), point.name),
            Edit::PutFitting { fitting, .. } => format!("change fitting {}", fitting.name),
            Edit::SetStock(_) => "change the timber list".into(),
            Edit::SetSaw(_) => "change the saw".into(),
            Edit::AddCrewCopy(c) => format!("hand out crew copy {}", c.letter),
            Edit::Rename { item, to } => format!("rename {} to {to}", item.label()),
            Edit::Remove(item) => format!("remove {}", item.label()),
            Edit::Several(label, _) => label.clone(),
        }
    }

    /// The job after this edit.
    #[must_use]
    pub fn apply(&self, job: &Job) -> Job {
        let mut job = job.clone();
        self.change(&mut job);
        job
    }

    fn change(&self, job: &mut Job) {
        match self {
            Edit::SetTitle { title, notes } => {
                job.title.clone_from(title);
                job.notes.clone_from(notes);
            }
            Edit::SetDatum(datum) => job.datum = datum.clone(),
            Edit::SetLevels(levels) => job.levels = levels.clone(),
            Edit::SetOutline(outline) => job.shell.outline.clone_from(outline),
            Edit::MoveCorner { corner, to } => {
                let mut outline = job.shell.outline.clone();
                if let Some(c) = outline.get_mut(*corner) {
                    c.at = *to;
                    reshape(job, outline);
                }
            }
            Edit::MoveSide { side, by } => move_side(job, *side, *by),
            Edit::SetGaps { side, gaps } => {
                if let Some(c) = job.shell.outline.get_mut(*side) {
                    c.gaps.clone_from(gaps);
                }
            }
            Edit::PutPost(post) => put(&mut job.shell.posts, post.clone(), |p| &p.name),
            Edit::PutBeam(beam) => put(&mut job.shell.beams, beam.clone(), |b| &b.name),
            Edit::PutRoof(roof) => put(&mut job.shell.roof, roof.clone(), |r| &r.name),
            Edit::PutRoom(room) => put(&mut job.rooms, room.clone(), |r| &r.name),
            Edit::PutMakeUp(makeup) => put(&mut job.makeups, makeup.clone(), |m| &m.name),
            Edit::PutNode(node) => put(&mut job.nodes, node.clone(), |n| &n.name),
            Edit::AddWall { wall, from, to } => {
                let mut wall = Wall::clone(wall);
                wall.from = join_or_make(job, *from, &wall.from);
                wall.to = join_or_make(job, *to, &wall.to);
                put(&mut job.walls, Arc::new(wall), |w| &w.name);
            }
            Edit::PutWall(wall) => put(&mut job.walls, wall.clone(), |w| &w.name),
            Edit::MoveWall { wall, by } => move_wall(job, wall, *by),
            Edit::PutOpening { wall, opening } => {
                put_in_wall(job, wall, opening, |w| &mut w.openings, |o| &o.name);
            }
            Edit::MoveOpening { opening, distance } => {
                let Some(index) =
                    job.walls.iter().position(|w| w.openings.iter().any(|o| o.name == *opening))
                else {
                    return;
                };
                for o in &mut Arc::make_mut(&mut job.walls[index]).openings {
                    if o.name == *opening {
                        o.hold.distance = *distance;
                    }
                }
            }
            Edit::SetRows { wall, rows } => {
                if let Some(w) = job.walls.iter_mut().find(|w| w.name == *wall) {
                    Arc::make_mut(w).noggin_rows.clone_from(rows);
                }
            }
            Edit::PutPoint { wall, point } => {
                put_in_wall(job, wall, point, |w| &mut w.points, |p| &p.name);
            }
            Edit::PutFitting { wall, fitting } => {
                put_in_wall(job, wall, fitting, |w| &mut w.fittings, |f| &f.name);
            }
            Edit::SetStock(stock) => job.stock.clone_from(stock),
            Edit::SetSaw(saw) => job.saw.clone_from(saw),
            Edit::AddCrewCopy(copy) => put(&mut job.crew_copies, copy.clone(), |c| &c.letter),
            Edit::Rename { item, to } => rename(job, item, to),
            Edit::Remove(item) => remove(job, item),
            Edit::Several(_, edits) => edits.iter().for_each(|e| e.change(job)),
        }
    }
}

/// Replaces the thing of the same name in `list`, or adds it at the end.
fn put<T>(list: &mut Vec<T>, thing: T, name: impl Fn(&T) -> &Name) {
    match list.iter().position(|t| name(t) == name(&thing)) {
        Some(i) => list[i] = thing,
        None => list.push(thing),
    }
}

/// Puts `thing` in a list of wall `wall`, taking it out of any other wall it was in.
fn put_in_wall<T: Clone>(
    job: &mut Job,
    wall: &Name,
    thing: &T,
    list: impl Fn(&mut Wall) -> &mut Vec<T>,
    name: impl Fn(&T) -> &Name,
) {
    if job.wall(wall).is_none() {
        return;
    }
    for w in &mut job.walls {
        if w.name == *wall {
            put(list(Arc::make_mut(w)), thing.clone(), &name);
        } else {
            let mut other = Wall::clone(w);
            let things = list(&mut other);
            let before = things.len();
            things.retain(|t| name(t) != name(thing));
            if things.len() != before {
                *w = Arc::new(other);
            }
        }
    }
}

/// The node at `at`, made under the name `name` (or the next free one) when there is none.
fn join_or_make(job: &mut Job, at: PlanPoint, name: &Name) -> Name {
    if let Some(node) = job.nodes.iter().find(|n| (n.at - at).norm() <= ON_LINE) {
        return node.name.clone();
    }
    let name = match job.node(name) {
        Some(_) => free_name("", 1, |n| job.node(n).is_some()),
        None => name.clone(),
    };
    job.nodes.push(Node { name: name.clone(), at });
    name
}

/// The first of `stem1`, `stem2` … from `first` that is not taken.
fn free_name(stem: &str, first: usize, taken: impl Fn(&Name) -> bool) -> Name {
    let mut number = first;
    loop {
        let name = Name::new(format!("{stem}{number}"));
        if !taken(&name) {
            return name;
        }
        number += 1;
    }
}

impl Job {
    /// A name for the next wall: the first free letter, then `A2`, `B2` …
    pub fn free_wall_name(&self) -> Name {
        let taken = |n: &Name| self.wall(n).is_some();
        let letters = || ('A'..='Z').map(String::from);
        let mut round = 1;
        loop {
            let suffix = if round == 1 { String::new() } else { round.to_string() };
            let name = letters().map(|l| Name::new(format!("{l}{suffix}"))).find(|n| !taken(n));
            if let Some(name) = name {
                return name;
            }
            round += 1;
        }
    }

    /// A name for the next node.
    pub fn free_node_name(&self) -> Name {
        free_name("", 1, |n| self.node(n).is_some())
    }

    /// A name for the next opening of a kind: `D1` for doors, `L1` lights, `H1` hatches, `O1` plain.
    pub fn free_opening_name(&self, kind: &super::OpeningKind) -> Name {
        let stem = match kind {
            super::OpeningKind::Door(_) => "D",
            super::OpeningKind::BorrowedLight { .. } => "L",
            super::OpeningKind::Hatch { .. } => "H",
            super::OpeningKind::Plain { .. } => "O",
        };
        free_name(stem, 1, |n| self.opening(n).is_some())
    }

    /// A name for the next first-fix point: `X1`, `X2` …
    pub fn free_point_name(&self) -> Name {
        free_name("X", 1, |n| self.point(n).is_some())
    }

    /// A name for the next fitting: the stem with the first free number.
    pub fn free_fitting_name(&self, stem: &str) -> Name {
        free_name(&format!("{stem} "), 1, |n| self.fitting(n).is_some())
    }

    /// A name for the next thing of the shell: `stem` with the first number no post, beam or
    /// roof plane has.
    pub fn free_shell_name(&self, stem: &str) -> Name {
        free_name(stem, 1, |n| {
            self.shell.posts.iter().any(|p| p.name == *n)
                || self.shell.beams.iter().any(|b| b.name == *n)
                || self.shell.roof.iter().any(|r| r.name == *n)
        })
    }
}

fn move_wall(job: &mut Job, wall: &Name, by: f64) {
    let Some(wall) = job.wall(wall).cloned() else { return };
    let (Some(from), Some(to)) = (job.node(&wall.from), job.node(&wall.to)) else { return };
    let (a, b) = (from.at, to.at);
    let along = b - a;
    let length = along.norm();
    if length < ON_LINE {
        return;
    }
    let u = along / length;
    let shift = left_of(u) * by;
    for node in &mut job.nodes {
        let from_a = node.at - a;
        let station = from_a.dot(&u);
        if cross(u, from_a).abs() <= ON_LINE && (-ON_LINE..=length + ON_LINE).contains(&station) {
            node.at += shift;
        }
    }
}

fn move_side(job: &mut Job, side: usize, by: f64) {
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
        crate::math::meet(neighbour, d, a + shift, along)
            .map_or(corner + shift, |t| neighbour + d * t)
    };
    let (new_a, new_b) = (slide(a, before), slide(b, after));
    let mut outline = job.shell.outline.clone();
    outline[side].at = new_a;
    outline[(side + 1) % n].at = new_b;
    reshape(job, outline);
}

/// Gives the room another outline with as many corners. Nodes that stand on a side that moved go with
/// it: square to it when it only shifted, at the same share of its length when it turned.
fn reshape(job: &mut Job, outline: Vec<Corner>) {
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

fn rename(job: &mut Job, item: &ItemRef, to: &Name) {
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
        ItemRef::Wall(from) if job.wall(to).is_none() => walls(job, &|w| swap(&mut w.name, from)),
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
            if let super::OddBay::Beside(name) = &mut w.odd_bay {
                swap(name, from);
            }
        }),
        ItemRef::Point(from) if job.point(to).is_none() => {
            walls(job, &|w| w.points.iter_mut().for_each(|p| swap(&mut p.name, from)));
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

fn remove(job: &mut Job, item: &ItemRef) {
    let from_walls = |job: &mut Job, holds: &dyn Fn(&Wall) -> bool, change: &dyn Fn(&mut Wall)| {
        for w in job.walls.iter_mut().filter(|w| holds(w)) {
            change(Arc::make_mut(w));
        }
    };
    match item {
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
            from_walls(job, &|w| w.openings.iter().any(|o| o.name == *name), &|w| {
                w.openings.retain(|o| o.name != *name);
                if w.odd_bay == super::OddBay::Beside(name.clone()) {
                    w.odd_bay = super::OddBay::AtEnd;
                }
            });
        }
        ItemRef::Point(name) => {
            from_walls(job, &|w| w.points.iter().any(|p| p.name == *name), &|w| {
                w.points.retain(|p| p.name != *name);
            });
        }
        ItemRef::Fitting(name) => {
            from_walls(job, &|w| w.fittings.iter().any(|f| f.name == *name), &|w| {
                w.fittings.retain(|f| f.name != *name);
            });
        }
        ItemRef::Corner(i) if job.shell.outline.len() > 3 && *i < job.shell.outline.len() => {
            job.shell.outline.remove(*i);
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

/// Nodes that no wall uses are not kept.
fn drop_loose_nodes(job: &mut Job) {
    let walls = &job.walls;
    job.nodes.retain(|n| walls.iter().any(|w| w.from == n.name || w.to == n.name));
}

#[cfg(test)]
mod tests {
    use super::*;

    fn room() -> Job {
        let corner = |x, y| Corner { at: PlanPoint::new(x, y), thickness: 140.0, gaps: Vec::new() };
        let mut job = Job::default();
        job.shell.outline = vec![
            corner(0.0, 0.0),
            corner(4000.0, 0.0),
            corner(4000.0, 3000.0),
            corner(0.0, 3000.0),
        ];
        Edit::AddWall {
            wall: Arc::new(Wall::new("A", "1", "2", "Partition 97")),
            from: PlanPoint::new(0.0, 1000.0),
            to: PlanPoint::new(4000.0, 1000.0),
        }
        .apply(&job)
    }

    fn at(job: &Job, node: &str) -> (f64, f64) {
        job.node(&node.into()).map(|n| (n.at.x, n.at.y)).unwrap()
    }

    #[test]
    fn a_partition_follows_the_side_of_the_room_it_stands_on() {
        // Side 1 runs up the right of the room; 500 to its left is 500 into the room.
        let job = Edit::MoveSide { side: 1, by: 500.0 }.apply(&room());
        assert_eq!((job.shell.outline[1].at.x, job.shell.outline[2].at.x), (3500.0, 3500.0));
        assert_eq!(at(&job, "2"), (3500.0, 1000.0));
        assert_eq!(at(&job, "1"), (0.0, 1000.0));
        let job = Edit::MoveCorner { corner: 2, to: PlanPoint::new(4300.0, 3000.0) }.apply(&room());
        assert_eq!(at(&job, "2"), (4100.0, 1000.0));
    }

    #[test]
    fn a_wall_takes_along_what_stands_on_it() {
        let tee = Edit::AddWall {
            wall: Arc::new(Wall::new("B", "3", "4", "Partition 97")),
            from: PlanPoint::new(2000.0, 1000.0),
            to: PlanPoint::new(2000.0, 3000.0),
        };
        let job = Edit::MoveWall { wall: "A".into(), by: 250.0 }.apply(&tee.apply(&room()));
        assert_eq!(at(&job, "1"), (0.0, 1250.0));
        assert_eq!(at(&job, "3"), (2000.0, 1250.0));
        assert_eq!(at(&job, "4"), (2000.0, 3000.0));
    }

    #[test]
    fn taking_a_wall_away_takes_its_loose_nodes() {
        let job = Edit::Remove(ItemRef::Wall("A".into())).apply(&room());
        assert!(job.walls.is_empty() && job.nodes.is_empty());
    }

    #[test]
    fn an_edit_of_what_is_not_there_changes_nothing() {
        let job = room();
        for edit in [
            Edit::Remove(ItemRef::Opening("D9".into())),
            Edit::MoveWall { wall: "Z".into(), by: 10.0 },
            Edit::MoveCorner { corner: 9, to: PlanPoint::origin() },
            Edit::MoveSide { side: 9, by: 10.0 },
            Edit::MoveOpening { opening: "D9".into(), distance: 1.0 },
            Edit::Rename { item: ItemRef::Node("1".into()), to: "2".into() },
        ] {
            assert_eq!(edit.apply(&job), job, "{}", edit.label());
        }
    }
}
