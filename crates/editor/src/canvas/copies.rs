//! Copies of openings, points and fittings: a second one beside, the same on the other face, a row of them.

use layout_core::document::{Edit, Face, Fitting, Job, MeasuredFrom, Point};
use layout_core::id::{ItemRef, Name};
use layout_core::math::round_to;

use crate::command::Command;
use crate::gesture::line_of;
use crate::scene::Scene;

/// A second one beside `item`: openings and points a step further along the wall.
pub fn repeat(job: &Job, item: &ItemRef) -> Vec<Command> {
    // Away from the end it is measured from while there is room, else back.
    let on = |length: f64, distance: f64, step: f64| {
        if distance + step <= length { distance + step } else { distance - step }
    };
    let (edit, made) = match item {
        ItemRef::Opening(name) => {
            let Some((wall, opening)) = job.opening(name) else { return Vec::new() };
            let length = line_of(job, &wall.name).map_or(0.0, |l| l.2);
            let mut copy = opening.clone();
            copy.name = job.free_opening_name(&copy.kind);
            let step = copy.kind.width() + 200.0;
            copy.hold.distance = on(length - copy.kind.width(), copy.hold.distance, step);
            let made = ItemRef::Opening(copy.name.clone());
            (Edit::PutOpening { wall: wall.name.clone(), opening: copy }, made)
        }
        ItemRef::Point(_) | ItemRef::Fitting(_) => {
            let length = job.wall_of(item).and_then(|w| line_of(job, &w.name)).map_or(0.0, |l| l.2);
            let step = match item {
                ItemRef::Fitting(name) => job.fitting(name).map_or(0.0, |(_, f)| f.width + 100.0),
                _ => 400.0,
            };
            match copy(job, item, &|_, _, distance| *distance = on(length, *distance, step)) {
                Some(made) => made,
                None => return Vec::new(),
            }
        }
        _ => return Vec::new(),
    };
    vec![Command::Edit(edit), Command::Pick(Some(made))]
}

/// The same point or fitting at the same place on the other face.
pub fn behind(scene: &Scene<'_>, item: &ItemRef) -> Vec<Command> {
    let job = scene.session.history.job();
    let Some(wall) = job.wall_of(item) else { return Vec::new() };
    let Some(laid) = scene.layout.wall(&wall.name) else { return Vec::new() };
    let Some(spot) = laid.spec.spot(item) else { return Vec::new() };
    let station = round_to(spot.span.centre(), 0.01);
    let other = match spot.face {
        Face::Left => Face::Right,
        Face::Right => Face::Left,
    };
    let Some((edit, made)) = copy(job, item, &|face, from, distance| {
        *face = other;
        // The corner of the other face may be somewhere else.
        if let MeasuredFrom::Corner(_) = from {
            (*from, *distance) = (MeasuredFrom::Start, station);
        }
    }) else {
        return Vec::new();
    };
    vec![Command::Edit(edit), Command::Pick(Some(made))]
}

/// `more` copies of a point or fitting, each `step` further from what it is measured from than the one before,
/// as one edit.
pub fn in_a_row(job: &Job, item: &ItemRef, more: usize, step: f64) -> Option<Edit> {
    let mut changed = job.clone();
    let mut edits = Vec::with_capacity(more);
    for k in 1..=more {
        let (edit, _) = copy(&changed, item, &|_, _, distance| *distance += step * k as f64)?;
        changed = edit.apply(&changed);
        edits.push(edit);
    }
    Some(Edit::Several(format!("a row of {} like {}", more, item.label()), edits))
}

/// What a change to a copy may touch: its face, what it is measured from and how far.
type Placed<'a> = &'a dyn Fn(&mut Face, &mut MeasuredFrom, &mut f64);

/// A copy of a point or fitting under a name of its own, changed.
fn copy(job: &Job, item: &ItemRef, change: Placed<'_>) -> Option<(Edit, ItemRef)> {
    match item {
        ItemRef::Point(name) => {
            let (wall, point) = job.point(name)?;
            let mut copy = Point { name: job.free_point_name(), ..point.clone() };
            change(&mut copy.face, &mut copy.from, &mut copy.distance);
            let made = ItemRef::Point(copy.name.clone());
            Some((Edit::PutPoint { wall: wall.name.clone(), point: copy }, made))
        }
        ItemRef::Fitting(name) => {
            let (wall, fitting) = job.fitting(name)?;
            let mut copy = Fitting { name: job.free_fitting_name(stem(name)), ..fitting.clone() };
            change(&mut copy.face, &mut copy.from, &mut copy.distance);
            let made = ItemRef::Fitting(copy.name.clone());
            Some((Edit::PutFitting { wall: wall.name.clone(), fitting: copy }, made))
        }
        _ => None,
    }
}

/// The name of a fitting without its number.
fn stem(name: &Name) -> &str {
    name.as_str().trim_end_matches(|c: char| c.is_ascii_digit()).trim_end()
}
