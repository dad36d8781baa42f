//! Edits: every change a hand can make to a job, as data.
//!
//! Gestures, the particulars panel, tests and undo all speak these. Applying one never fails:
//! an edit of something that is not there changes nothing.

use std::sync::Arc;

use super::carried::{cut_corner, move_side, move_wall, remove, rename, reshape, set_face};
use super::names::free_name;
use super::squared::fit_room;
use super::stock::deliver;
use super::{
    Accepted, Beam, Buying, Corner, CrewCopy, CutBar, Datum, Delivery, Fitting, Gap, Job, Joint,
    Levels, MakeUp, Node, Opening, Platform, PlatformHole, Point, Post, Reading, RoofPlane, Room,
    Route, Rows, RuleChoice, SawSettings, SheetStock, Shift, Stock, Sundries, Survey, Underlay,
    Wall,
};
use crate::id::{ItemRef, Name, Surface};
use crate::math::{ON_LINE, PlanPoint};
use crate::units::Units;

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
    /// Choose the limits the checks use.
    SetRules(RuleChoice),
    /// What lengths are shown, printed and cut in.
    SetUnits(Units),
    /// Replace the levels read in the room on one surface.
    SetReadings {
        /// What they were read on.
        surface: Surface,
        /// The new ones.
        readings: Vec<Reading>,
    },
    /// Replace the levels read along a wall on one surface.
    SetWallReadings {
        /// The wall.
        wall: Name,
        /// What they were read on.
        surface: Surface,
        /// The new ones: distance from its start node and level.
        readings: Vec<(f64, f64)>,
    },
    /// Put something under the plan, change how it lies, or take it away.
    SetUnderlay(Option<Underlay>),
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
    /// Replace what was measured of the room. The outline stays as it is drawn.
    SetSurvey(Survey),
    /// Give the room the shape that was measured. What stands on its sides goes along, and walls
    /// that were square to a side, or in line with it, are so again.
    FitRoom {
        /// Its corners, in order.
        corners: Vec<PlanPoint>,
        /// The side that walls are squared off first, from 0.
        square_to: usize,
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
    /// Give a wall that cuts a corner off another length between its nodes, keeping its angle.
    SetFace {
        /// Which.
        wall: Name,
        /// Its new length.
        length: f64,
    },
    /// Cut off the corner of the two walls that end at a node.
    CutCorner {
        /// The node.
        node: Name,
        /// How far the first and the second of the two walls, in the job's order, stop short of it.
        set_backs: [f64; 2],
        /// The wall across; it gets its nodes here.
        wall: Arc<Wall>,
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
    /// Add a route to a wall, or replace the one of that name.
    PutRoute {
        /// The wall it runs through.
        wall: Name,
        /// The route.
        route: Route,
    },
    /// Say which common studs of a wall stand beside their marks.
    SetShifts {
        /// The wall.
        wall: Name,
        /// Which, and by how much.
        shifts: Vec<Shift>,
    },
    /// Add a fitting to a wall, or replace the one of that name.
    PutFitting {
        /// The wall it hangs on.
        wall: Name,
        /// The fitting.
        fitting: Fitting,
    },
    /// Add a platform, or replace the one of that name.
    PutPlatform(Arc<Platform>),
    /// Add a hole to a platform, or replace the one of that name (which may be in another platform).
    PutPlatformHole {
        /// The platform it goes through.
        platform: Name,
        /// The hole.
        hole: PlatformHole,
    },
    /// Say where plates are joined: of each wall named all its joints.
    SetJoints(Vec<(Name, Vec<Joint>)>),
    /// Replace the timber list.
    SetStock(Vec<Stock>),
    /// Bars came from the merchant and were sorted into straight and bowed ones: they are owned from now on.
    Deliver(Vec<Delivery>),
    /// Replace the board list.
    SetSheets(Vec<SheetStock>),
    /// Change how the saw cuts.
    SetSaw(SawSettings),
    /// Say how it is bought: tax, delivery, discount, spares, what the van takes.
    SetBuying(Buying),
    /// Tick bars off as cut: their pieces are not planned again, their offcuts go to the timber list.
    CutBars(Vec<CutBar>),
    /// Take back that a bar was cut: which of the record, from 0. Nothing changes once its offcut was cut up too.
    UncutBar(usize),
    /// Says how boards are fixed and finished.
    SetSundries(Sundries),
    /// Let a snag stand, for a reason; of the same snag the reason is replaced.
    Accept(Accepted),
    /// No longer let a snag stand.
    Withdraw(Accepted),
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
            Edit::SetRules(_) => "change the limits".into(),
            Edit::SetUnits(units) => format!("show lengths in {}", units.words()),
            Edit::SetReadings { surface, .. } => format!("change the {} readings", surface.label()),
            Edit::SetWallReadings { wall, surface, .. } => {
                format!("change the {} readings of wall {wall}", surface.label())
            }
            Edit::SetUnderlay(_) => "change what lies under the plan".into(),
            Edit::SetOutline(_) => "draw the room".into(),
            Edit::MoveCorner { corner, .. } => format!("move room corner {}", corner + 1),
            Edit::MoveSide { side, .. } => format!("move room side {}", side + 1),
            Edit::SetSurvey(_) => "change what was measured".into(),
            Edit::FitRoom { .. } => "use the measured shape".into(),
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
            Edit::SetFace { wall, .. } => format!("change the face of wall {wall}"),
            Edit::CutCorner { node, wall, .. } => {
                format!("cut the corner at node {node} with wall {}", wall.name)
            }
            Edit::PutOpening { opening, .. } => {
                format!("change {} {}", opening.kind.label(), opening.name)
            }
            Edit::MoveOpening { opening, .. } => format!("move opening {opening}"),
            Edit::SetRows { wall, .. } => format!("set noggins of wall {wall}"),
            Edit::PutPoint { point, .. } => format!("change {} {}", point.kind.label(), point.name),
            Edit::PutRoute { route, .. } => format!("change route {}", route.name),
            Edit::SetShifts { wall, .. } => format!("shift studs of wall {wall}"),
            Edit::PutFitting { fitting, .. } => format!("change fitting {}", fitting.name),
            Edit::PutPlatform(p) => format!("change {} {}", p.kind.label(), p.name),
            Edit::PutPlatformHole { hole, .. } => {
                format!("change {} {}", hole.kind.label(), hole.name)
            }
            Edit::SetJoints(walls) => match &walls[..] {
                [(wall, _)] => format!("join the plates of wall {wall} elsewhere"),
                _ => "join plates elsewhere".into(),
            },
            Edit::SetStock(_) => "change the timber list".into(),
            Edit::Deliver(_) => "take in the timber that came".into(),
            Edit::SetSheets(_) => "change the board list".into(),
            Edit::SetSaw(_) => "change the saw".into(),
            Edit::SetBuying(_) => "change how it is bought".into(),
            Edit::CutBars(bars) => match bars.len() {
                1 => "tick a bar off as cut".into(),
                n => format!("tick {n} bars off as cut"),
            },
            Edit::UncutBar(_) => "take back that a bar was cut".into(),
            Edit::SetSundries(_) => "change how boards are fixed".into(),
            Edit::Accept(a) => format!("accept {} of {}", a.code.id(), a.of.label()),
            Edit::Withdraw(a) => format!("no longer accept {} of {}", a.code.id(), a.of.label()),
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
            Edit::SetRules(rules) => job.rules.clone_from(rules),
            Edit::SetUnits(units) => job.units = *units,
            Edit::SetReadings { surface, readings } => {
                job.levels.readings.of_mut(*surface).clone_from(readings);
            }
            Edit::SetWallReadings { wall, surface, readings } => {
                if let Some(w) = job.walls.iter_mut().find(|w| w.name == *wall) {
                    Arc::make_mut(w).readings_mut(*surface).clone_from(readings);
                }
            }
            Edit::SetUnderlay(underlay) => job.underlay.clone_from(underlay),
            Edit::SetOutline(outline) => job.shell.outline.clone_from(outline),
            Edit::MoveCorner { corner, to } => {
                let mut outline = job.shell.outline.clone();
                if let Some(c) = outline.get_mut(*corner) {
                    c.at = *to;
                    reshape(job, outline);
                }
            }
            Edit::MoveSide { side, by } => move_side(job, *side, *by),
            Edit::SetSurvey(survey) => job.shell.survey.clone_from(survey),
            Edit::FitRoom { corners, square_to } => fit_room(job, corners, *square_to),
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
            Edit::SetFace { wall, length } => set_face(job, wall, *length),
            Edit::CutCorner { node, set_backs, wall } => cut_corner(job, node, *set_backs, wall),
            Edit::PutOpening { wall, opening } => {
                if job.opening(&opening.name).is_some_and(|(from, _)| from.name != *wall) {
                    remove(job, &ItemRef::Opening(opening.name.clone()));
                }
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
                if job.point(&point.name).is_some_and(|(from, _)| from.name != *wall) {
                    remove(job, &ItemRef::Point(point.name.clone()));
                }
                put_in_wall(job, wall, point, |w| &mut w.points, |p| &p.name);
            }
            Edit::PutRoute { wall, route } => {
                put_in_wall(job, wall, route, |w| &mut w.routes, |r| &r.name);
            }
            Edit::SetShifts { wall, shifts } => {
                if let Some(w) = job.walls.iter_mut().find(|w| w.name == *wall) {
                    Arc::make_mut(w).shifts.clone_from(shifts);
                }
            }
            Edit::PutFitting { wall, fitting } => {
                put_in_wall(job, wall, fitting, |w| &mut w.fittings, |f| &f.name);
            }
            Edit::PutPlatform(platform) => {
                put(&mut job.platforms, platform.clone(), |p| &p.name);
            }
            Edit::PutPlatformHole { platform, hole } if job.platform(platform).is_some() => {
                for p in &mut job.platforms {
                    if p.name == *platform {
                        put(&mut Arc::make_mut(p).holes, hole.clone(), |h| &h.name);
                    } else if p.hole(&hole.name).is_some() {
                        Arc::make_mut(p).holes.retain(|h| h.name != hole.name);
                    }
                }
            }
            Edit::PutPlatformHole { .. } => {}
            Edit::SetJoints(walls) => {
                for (wall, joints) in walls {
                    if let Some(w) = job.walls.iter_mut().find(|w| w.name == *wall) {
                        Arc::make_mut(w).joints.clone_from(joints);
                    }
                }
            }
            Edit::SetStock(stock) => job.stock.clone_from(stock),
            Edit::Deliver(came) => came.iter().for_each(|d| deliver(&mut job.stock, d)),
            Edit::SetSheets(sheets) => job.sheets.clone_from(sheets),
            Edit::SetBuying(buying) => job.buying.clone_from(buying),
            Edit::SetSaw(saw) => job.saw.clone_from(saw),
            Edit::CutBars(bars) => {
                for bar in bars {
                    bar.use_up(&mut job.stock);
                    job.cut.push(bar.clone());
                }
            }
            Edit::UncutBar(index) => {
                // Not once its offcut was cut up as well.
                if job.cut.get(*index).is_some_and(|bar| bar.can_be_taken_back(&job.stock)) {
                    job.cut.remove(*index).give_back(&mut job.stock);
                }
            }
            Edit::SetSundries(sundries) => job.sundries.clone_from(sundries),
            Edit::Accept(accepted) => {
                let other =
                    |a: &Accepted| Accepted { reason: accepted.reason.clone(), ..a.clone() };
                job.accepted.retain(|a| other(a) != *accepted);
                job.accepted.push(accepted.clone());
            }
            Edit::Withdraw(accepted) => job.accepted.retain(|a| a != accepted),
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
