//! The tools that put something new in the job. What they make hangs on the hand as a
//! [`Gesture`], laid out live, until a click or Enter lets it go.

use std::sync::Arc;

use layout_core::document::{
    Beam, Face, Fitting, HoldTo, Opening, Platform, Point, PointKind, Post, RoofPlane, Wall,
    WallEnd,
};
use layout_core::id::{ItemRef, Name, Surface};
use layout_core::math::PlanPoint;

use super::DrawState;
use crate::command::Command;
use crate::gesture::{Gesture, Grip, LEAST_DRAWN, Snap, Snapping, Space, face_at, outline_through};
use crate::scene::Scene;
use crate::session::Tool;

/// The gesture of this frame, copied from the session, changed by keys and views, and sent back as
/// one command at the end of it.
#[derive(Debug, Default)]
pub struct Hold {
    /// What the hand holds now.
    pub gesture: Option<Gesture>,
    /// True when it is to be let go.
    pub drop: bool,
    /// What is to be done after letting go.
    pub after: Vec<Command>,
}

impl Hold {
    /// What the hand held when the frame began.
    pub fn new(scene: &Scene<'_>) -> Hold {
        Hold { gesture: scene.session.gesture.clone(), ..Hold::default() }
    }

    /// Asks for what has changed.
    pub fn ask(self, scene: &Scene<'_>, out: &mut Vec<Command>) {
        let before = &scene.session.gesture;
        match self.gesture {
            None if before.is_some() => out.push(Command::Cancel),
            Some(gesture) if before.as_ref() != Some(&gesture) => out.push(Command::Drag(gesture)),
            _ => {}
        }
        if self.drop {
            out.push(Command::Drop);
        }
        out.extend(self.after);
    }
}

/// The wall under a plan point: the nearest whose finished thickness, or `reach`, covers it.
pub(super) fn wall_at(scene: &Scene<'_>, p: PlanPoint, reach: f64) -> Option<(Name, Face)> {
    let near = scene.base.walls.iter().filter_map(|w| {
        let (s, n) = w.place.wall(p);
        let off = (w.spec.finished.low - n).max(n - w.spec.finished.high).max(0.0);
        let along = w.spec.along();
        let past = (along.low - s).max(s - along.high).max(0.0);
        let far = off.max(past);
        (far <= reach).then(|| (far, w.name().clone(), face_at(n - w.spec.frame.centre())))
    });
    near.min_by(|a, b| a.0.total_cmp(&b.0)).map(|(_, name, face)| (name, face))
}

/// What hangs on the hand at `hand`, for the tool in it; with the snap of a first click when nothing
/// hangs there yet.
pub(super) fn hang(
    scene: &Scene<'_>,
    state: &DrawState,
    space: Space,
    hand: PlanPoint,
    snapping: &Snapping<'_>,
) -> (Option<Gesture>, Option<(PlanPoint, Option<Snap>)>) {
    let settled = |mut gesture: Gesture| {
        (gesture.now, gesture.snap) = snapping.settle(&gesture, hand);
        (Some(gesture), None)
    };
    let start = || (None, Some(snapping.point(hand, None, None)));
    let from =
        |grip: Grip| settled(Gesture::new(grip, space, *state.drawn.last().unwrap_or(&hand)));
    match (scene.session.tool, space) {
        (Tool::Pick, _) => (None, None),
        (Tool::Room | Tool::Wall | Tool::Beam | Tool::Roof, Space::Plan)
            if state.drawn.is_empty() =>
        {
            start()
        }
        (Tool::Room, Space::Plan) => from(Grip::NewRoom(state.drawn.clone())),
        (Tool::Wall, Space::Plan) => from(Grip::NewWall(Arc::new(new_wall(scene)))),
        (Tool::Beam, Space::Plan) => from(Grip::NewBeam(new_beam(scene))),
        (Tool::Roof, Space::Plan) => from(Grip::NewRoof(new_roof(scene))),
        (Tool::Platform, Space::Plan) => match state.drawn.last() {
            None => (None, Some(snapping.face_corner(hand))),
            Some(first) => from(Grip::NewPlatform(Arc::new(new_platform(scene, state, *first)))),
        },
        (Tool::Post, Space::Plan) => {
            let (at, snap) = snapping.point(hand, None, None);
            let mut gesture = Gesture::new(Grip::NewPost(new_post(scene)), space, at);
            gesture.snap = snap;
            (Some(gesture), None)
        }
        (Tool::Door | Tool::Opening | Tool::Point | Tool::Fitting, _) => {
            let found = match space {
                Space::Plan => wall_at(scene, hand, 1.5 * snapping.reach),
                Space::Elevation => scene.session.wall.clone().map(|w| (w, scene.session.face)),
            };
            let Some((wall, face)) = found.filter(|(w, _)| scene.base.wall(w).is_some()) else {
                return (None, None);
            };
            settled(Gesture::new(in_wall(scene, state, wall, face), space, hand))
        }
        (Tool::Level, _) => {
            let wall = match space {
                Space::Plan => wall_at(scene, hand, 1.5 * snapping.reach).map(|(w, _)| w),
                Space::Elevation => scene.session.wall.clone(),
            };
            if space == Space::Elevation && wall.is_none() {
                return (None, None);
            }
            settled(Gesture::new(reading(scene, state, (space, hand), wall), space, hand))
        }
        (
            Tool::Room | Tool::Wall | Tool::Beam | Tool::Roof | Tool::Post | Tool::Platform,
            Space::Elevation,
        ) => (None, None),
    }
}

/// A level read at the hand. In the elevation it is of the floor or of the ceiling, whichever is nearer; until one
/// is typed it is what it is taken to be there.
fn reading(
    scene: &Scene<'_>,
    state: &DrawState,
    (space, hand): (Space, PlanPoint),
    wall: Option<Name>,
) -> Grip {
    let job = scene.session.history.job();
    let spec = wall.as_ref().and_then(|w| scene.base.wall(w)).map(|w| (&w.spec, &w.place));
    let station = match (space, &spec) {
        (Space::Plan, Some((_, place))) => place.wall(hand).0,
        _ => hand.x,
    };
    let level = |surface| {
        spec.map_or(job.levels.nominal(surface), |(spec, _)| spec.surface(surface).at(station))
    };
    let surface = match space {
        Space::Plan => state.next.surface,
        Space::Elevation => {
            let middle = (level(Surface::Floor) + level(Surface::Ceiling)) / 2.0;
            if hand.y > middle { Surface::Ceiling } else { Surface::Floor }
        }
    };
    let (level, from_laser) = (job.units.round(level(surface)), state.next.from_laser);
    Grip::NewReading { wall, surface, level, from_laser }
}

fn in_wall(scene: &Scene<'_>, state: &DrawState, wall: Name, face: Face) -> Grip {
    let job = scene.session.history.job();
    let hold =
        layout_core::document::Hold { from: WallEnd::Start, to: HoldTo::Near, distance: 0.0 };
    match scene.session.tool {
        Tool::Door | Tool::Opening => {
            let kind = if scene.session.tool == Tool::Door {
                &state.next.door
            } else {
                &state.next.opening
            };
            let opening = Opening::new(job.free_opening_name(kind), kind.clone(), hold);
            Grip::NewOpening { wall, opening }
        }
        Tool::Point => {
            let kind = state.next.point.clone();
            let height = usual_height(&kind);
            let mut point = Point::new("", kind, face, 0.0, height);
            point.name = job.free_point_name();
            Grip::NewPoint { wall, point }
        }
        _ => {
            let name = job.free_fitting_name(state.next.fitting.name.as_str());
            Grip::NewFitting { wall, fitting: Fitting { name, face, ..state.next.fitting.clone() } }
        }
    }
}

/// Height of a point's centre above FFL where the plan says nothing of it. Common practice.
fn usual_height(kind: &PointKind) -> f64 {
    match kind {
        PointKind::Socket | PointKind::Data | PointKind::Spur => 450.0,
        PointKind::Switch => 1050.0,
        PointKind::Thermostat => 1400.0,
        PointKind::Light => 1800.0,
        PointKind::Fan | PointKind::Duct => 2100.0,
        PointKind::Pipe | PointKind::Waste | PointKind::Valve | PointKind::Other(_) => 300.0,
    }
}

fn new_wall(scene: &Scene<'_>) -> Wall {
    let job = scene.session.history.job();
    let makeup = scene
        .session
        .wall
        .as_ref()
        .and_then(|w| job.wall(w))
        .map(|w| w.makeup.clone())
        .or_else(|| job.makeups.first().map(|m| m.name.clone()))
        .unwrap_or_default();
    let from = job.free_node_name();
    // Two nodes may be made: the second name must be free as well.
    let to = layout_core::document::Edit::PutNode(layout_core::document::Node {
        name: from.clone(),
        at: PlanPoint::origin(),
    })
    .apply(job)
    .free_node_name();
    Wall::new(job.free_wall_name(), from, to, makeup)
}

fn new_post(scene: &Scene<'_>) -> Post {
    let name = scene.session.history.job().free_shell_name("P");
    Post { name, at: PlanPoint::origin(), size: (100.0, 100.0), turn_deg: 0.0, housing: 0.0 }
}

fn new_beam(scene: &Scene<'_>) -> Beam {
    let job = scene.session.history.job();
    let (from, to) = (PlanPoint::origin(), PlanPoint::origin());
    Beam {
        name: job.free_shell_name("B"),
        from,
        to,
        width: 100.0,
        soffit: job.levels.ceiling - 200.0,
    }
}

fn new_roof(scene: &Scene<'_>) -> RoofPlane {
    let job = scene.session.history.job();
    let (from, to) = (PlanPoint::origin(), PlanPoint::origin());
    RoofPlane {
        name: job.free_shell_name("R"),
        from,
        to,
        level: (job.levels.ceiling / 2.0).round(),
        pitch_deg: 40.0,
        over: Vec::new(),
    }
}

/// A platform with one corner at `first`, square to the wall or the side of the room nearest there.
fn new_platform(scene: &Scene<'_>, state: &DrawState, first: PlanPoint) -> Platform {
    let job = scene.session.history.job();
    let kind = state.next.platform;
    let name = job.free_platform_name(kind);
    let mut platform = Platform::new(name, kind, first, (0.0, 0.0), state.next.level);
    platform.turn_deg = turn_at(scene, first);
    platform
}

/// The turn of what stands nearest to `p`, degrees between -45 and 45.
fn turn_at(scene: &Scene<'_>, p: PlanPoint) -> f64 {
    let job = scene.session.history.job();
    let walls = scene.base.walls.iter().map(|w| {
        let along = w.spec.along();
        (w.place.plan(along.low, 0.0), w.place.plan(along.high, 0.0))
    });
    let off = |(a, b): &(PlanPoint, PlanPoint)| {
        let d = b - a;
        let t = ((p - a).dot(&d) / d.norm_squared().max(1.0)).clamp(0.0, 1.0);
        (p - (a + d * t)).norm()
    };
    let nearest = walls.chain(job.shell.sides()).min_by(|a, b| off(a).total_cmp(&off(b)));
    let Some((a, b)) = nearest.filter(|line| off(line) < 500.0) else { return 0.0 };
    let angle = (b.y - a.y).atan2(b.x - a.x).to_degrees();
    let turn = angle - (angle / 90.0).round() * 90.0;
    layout_core::math::round_to(turn, 0.001)
}

/// A click or Enter with a tool: sets a corner, or lets go what hangs on the hand.
pub(super) fn confirm(scene: &Scene<'_>, state: &mut DrawState, hold: &mut Hold, keep_tool: bool) {
    let job = scene.session.history.job();
    let Some(gesture) = &hold.gesture else { return };
    if let Grip::NewRoom(corners) = &gesture.grip {
        let at = gesture.carried(gesture.from, job);
        let closes = corners.first().is_some_and(|first| (first - at).norm() < LEAST_DRAWN);
        if closes && corners.len() > 2 {
            close_room(state, hold);
        } else if (at - gesture.from).norm() >= LEAST_DRAWN {
            state.drawn.push(at);
            let mut next = Gesture::new(Grip::NewRoom(state.drawn.clone()), gesture.space, at);
            next.now = at;
            hold.gesture = Some(next);
        }
        return;
    }
    if gesture.edit(job).is_none() {
        return;
    }
    let item = gesture.made(job);
    hold.drop = true;
    state.drawn.clear();
    hold.after.push(Command::Pick(item));
    // Walls and levels come in runs; of everything else one is put in, and then looked after.
    if !keep_tool && !matches!(gesture.grip, Grip::NewWall(_) | Grip::NewReading { .. }) {
        hold.after.push(Command::Take(Tool::Pick));
    }
}

/// Closes the room through the corners drawn so far.
pub(super) fn close_room(state: &mut DrawState, hold: &mut Hold) {
    if let Some(outline) = outline_through(&state.drawn) {
        hold.gesture = None;
        hold.after.push(Command::Edit(layout_core::document::Edit::SetOutline(outline)));
        hold.after.push(Command::Take(Tool::Pick));
        hold.after.push(Command::Pick(Some(ItemRef::Side(0))));
        hold.after.push(Command::View(crate::session::View::Fit));
        state.drawn.clear();
    }
}
