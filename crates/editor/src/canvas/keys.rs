//! Keys in Draw: numbers typed during a drag, Esc, nudging, removing, duplicating, and the eye.

use egui::{Context, Event, Key, vec2};
use layout_core::id::ItemRef;
use layout_core::math::PlanPoint;

use super::DrawState;
use super::eye::Eye;
use super::pane::view_id;
use super::tools::{self, Hold};
use crate::command::Command;
use crate::gesture::{Gesture, Grip, Space, line_of};
use crate::scene::Scene;
use crate::session::{Tool, View};

/// Answers the keys that belong to the drawing. They are left alone while a field is typed in or
/// something is asked.
pub fn keys(
    ctx: &Context,
    scene: &Scene<'_>,
    state: &mut DrawState,
    hold: &mut Hold,
    out: &mut Vec<Command>,
) {
    look(scene, state);
    if ctx.text_edit_focused() || scene.session.dialog.is_some() {
        return;
    }
    if hold.gesture.is_some() {
        type_number(ctx, hold);
    }
    if ctx.input(|i| i.key_pressed(Key::Escape)) {
        give_back(scene, state, hold, out);
    }
    if ctx.input(|i| i.key_pressed(Key::Enter)) {
        enter(ctx, scene, state, hold);
    }
    if hold.gesture.is_some() {
        return;
    }
    let in_view = ctx
        .memory(egui::Memory::focused)
        .is_none_or(|id| [Space::Plan, Space::Elevation].map(view_id).contains(&id));
    if in_view {
        eye_keys(ctx, out, state);
        if let Some(item) = &scene.session.picked {
            nudge(ctx, scene, state, item, out);
        }
    }
    if ctx.input(|i| i.key_pressed(Key::Tab)) && state.hovered.is_some() {
        state.cycle = state.cycle.wrapping_add(1);
    }
}

/// Numbers typed while something hangs on the hand: digits, units, sums.
fn type_number(ctx: &Context, hold: &mut Hold) {
    let Some(gesture) = &mut hold.gesture else { return };
    let events = ctx.input(|i| i.events.clone());
    for event in events {
        match event {
            Event::Text(text) => {
                for c in text.chars() {
                    let starts = c.is_ascii_digit() || matches!(c, '.' | '=' | '-');
                    let carries_on = starts
                        || matches!(
                            c,
                            ',' | '/'
                                | '*'
                                | '+'
                                | '('
                                | ')'
                                | '\''
                                | '"'
                                | ' '
                                | 'm'
                                | 'c'
                                | 'i'
                                | 'n'
                                | 'f'
                                | 't'
                        );
                    if (gesture.typed.is_empty() && starts)
                        || (!gesture.typed.is_empty() && carries_on)
                    {
                        gesture.typed.push(c);
                    }
                }
            }
            Event::Key { key: Key::Backspace, pressed: true, .. } => {
                gesture.typed.pop();
            }
            _ => {}
        }
    }
    gesture.forget_snap_when_typed();
}

/// Enter lets go with what was typed, or closes the room.
fn enter(ctx: &Context, scene: &Scene<'_>, state: &mut DrawState, hold: &mut Hold) {
    let Some(gesture) = &hold.gesture else { return };
    let shift = ctx.input(|i| i.modifiers.shift);
    if matches!(gesture.grip, Grip::NewRoom(_)) && gesture.typed.is_empty() {
        tools::close_room(state, hold);
    } else if gesture.grip.is_new() {
        tools::confirm(scene, state, hold, shift);
    } else if !gesture.typed.is_empty() {
        hold.drop = true;
    }
}

/// Esc gives back what the hand holds; then the corners drawn; then the tool; then what is picked.
fn give_back(scene: &Scene<'_>, state: &mut DrawState, hold: &mut Hold, out: &mut Vec<Command>) {
    if hold.gesture.as_ref().is_some_and(|g| !g.typed.is_empty() && g.grip.is_new()) {
        if let Some(g) = &mut hold.gesture {
            g.typed.clear();
        }
    } else if state.drawn.pop().is_some() || hold.gesture.as_ref().is_some_and(|g| !g.grip.is_new())
    {
        hold.gesture = None;
    } else if scene.session.marking.is_some() {
        out.push(Command::MarkUnder(false));
    } else if scene.session.tool != Tool::Pick {
        hold.gesture = None;
        out.push(Command::Take(Tool::Pick));
    } else if scene.session.picked.is_some() {
        out.push(Command::Pick(None));
    }
}

/// Requests to move the eye, each seen once.
fn look(scene: &Scene<'_>, state: &mut DrawState) {
    let (count, view) = scene.session.view;
    if count == state.seen {
        return;
    }
    state.seen = count;
    let active = state.active;
    match view {
        View::Fit => {
            state.plan.fitted = None;
            state.elevation.fitted = None;
        }
        View::FitPicked => fit_picked(scene, state),
        View::In => zoom(state, active, 1.25),
        View::Out => zoom(state, active, 0.8),
        View::Both => state.filled = None,
        View::PlanOnly => state.filled = Some(Space::Plan),
        View::ElevationOnly => state.filled = Some(Space::Elevation),
    }
}

fn zoom(state: &mut DrawState, space: Space, factor: f64) {
    let pane = match space {
        Space::Plan => &mut state.plan,
        Space::Elevation => &mut state.elevation,
    };
    if let Some(rect) = pane.rect {
        pane.eye = pane.eye.zoomed(factor, rect.center(), rect);
        if let Some(fitted) = &mut pane.fitted {
            fitted.moved = true;
        }
    }
}

/// Brings what is picked to the middle of the plan, large.
fn fit_picked(scene: &Scene<'_>, state: &mut DrawState) {
    let job = scene.job;
    let points: Vec<PlanPoint> = match &scene.session.picked {
        Some(ItemRef::Node(n)) => job.node(n).map(|n| n.at).into_iter().collect(),
        Some(ItemRef::Corner(i)) => job.shell.outline.get(*i).map(|c| c.at).into_iter().collect(),
        Some(ItemRef::Post(n)) => {
            job.shell.posts.iter().filter(|p| p.name == *n).map(|p| p.at).collect()
        }
        Some(item) => super::pane::wall_of(scene, item)
            .and_then(|w| line_of(job, &w))
            .map(|(a, u, length)| vec![a, a + u * length])
            .unwrap_or_default(),
        None => Vec::new(),
    };
    if let (Some(rect), false) = (state.plan.rect, points.is_empty()) {
        let mut extent = super::Extent::default();
        for p in points {
            extent.include(p.x - 400.0, p.y - 400.0, 20.0);
            extent.include(p.x + 400.0, p.y + 400.0, 20.0);
        }
        state.plan.eye = Eye::fitting(&extent, rect);
        if let Some(fitted) = &mut state.plan.fitted {
            fitted.moved = true;
        }
    }
    state.elevation.fitted = None;
}

fn eye_keys(ctx: &Context, out: &mut Vec<Command>, state: &mut DrawState) {
    let typed = ctx.input(|i| {
        let plain = !i.modifiers.ctrl && !i.modifiers.command && !i.modifiers.alt;
        let text = i.events.iter().filter_map(|e| match e {
            Event::Text(t) => Some(t.clone()),
            _ => None,
        });
        if plain { text.collect::<String>() } else { String::new() }
    });
    for c in typed.chars() {
        match c {
            '0' => out.push(Command::View(View::Fit)),
            '1' => state.filled = fill_or_not(state.filled, Space::Plan),
            '2' => state.filled = fill_or_not(state.filled, Space::Elevation),
            _ => {}
        }
    }
}

fn fill_or_not(filled: Option<Space>, space: Space) -> Option<Space> {
    if filled == Some(space) { None } else { Some(space) }
}

/// Arrow keys move what is picked by 1 mm, 10 mm with Shift; each press is a step.
fn nudge(
    ctx: &Context,
    scene: &Scene<'_>,
    state: &DrawState,
    item: &ItemRef,
    out: &mut Vec<Command>,
) {
    let mirrored =
        state.active == Space::Elevation && scene.session.face == layout_core::document::Face::Left;
    let shift = ctx.input(|i| {
        if i.modifiers.ctrl || i.modifiers.alt || i.modifiers.command {
            return vec2(0.0, 0.0);
        }
        let presses = |key: Key| i.num_presses(key) as f32;
        let by = if i.modifiers.shift { 10.0 } else { 1.0 };
        vec2(
            presses(Key::ArrowRight) - presses(Key::ArrowLeft),
            presses(Key::ArrowUp) - presses(Key::ArrowDown),
        ) * by
    });
    if shift == vec2(0.0, 0.0) {
        return;
    }
    let job = scene.session.history.job();
    let grip = match (state.active, item) {
        // A row, and only a row, has no place on the plan to be nudged from.
        (_, ItemRef::NogginRow { .. })
        | (Space::Elevation, ItemRef::Opening(_) | ItemRef::Member { .. } | ItemRef::Platform(_)) => {
            Grip::on_elevation(item, PlanPoint::new(f64::NAN, f64::NAN), 0.0, job, scene.base)
        }
        _ => Grip::on_plan(item),
    };
    let in_elevation = matches!(item, ItemRef::NogginRow { .. })
        || state.active == Space::Elevation
            && matches!(
                item,
                ItemRef::Opening(_)
                    | ItemRef::Point(_)
                    | ItemRef::Fitting(_)
                    | ItemRef::Reading { wall: Some(_), .. }
                    | ItemRef::Member { .. }
                    | ItemRef::Platform(_)
            );
    let space = if in_elevation { Space::Elevation } else { Space::Plan };
    if let Some(grip) = grip {
        let mut gesture = Gesture::new(grip, space, PlanPoint::origin());
        let x = if mirrored && in_elevation { -shift.x } else { shift.x };
        gesture.now = PlanPoint::new(f64::from(x), f64::from(shift.y));
        if let Some(edit) = gesture.edit(job) {
            out.push(Command::Edit(edit));
        }
    }
}
