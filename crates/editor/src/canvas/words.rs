//! What things on the drawing are called, aloud and in the line at the bottom.

use layout_core::document::Face;
use layout_core::id::ItemRef;
use layout_core::units::Units;

use egui::{Align, Frame, Label, Layout, Margin, RichText, Stroke, Ui};

use super::DrawState;
use crate::gesture::{Gesture, Grip, Space};
use crate::scene::Scene;
use crate::session::Tool;

/// What to call `item` aloud: its name and where it is, “stud A-S3 at 777”.
pub fn item_words(scene: &Scene<'_>, item: &ItemRef) -> String {
    let (job, layout) = (scene.job, scene.layout);
    match item {
        ItemRef::Member { wall, mark } => {
            let Some(laid) = layout.wall(wall) else {
                let member = layout.member(wall, *mark);
                return member
                    .map_or(item.label(), |m| format!("{} {wall}-{mark}", m.role.label()));
            };
            let Some(member) = laid.member(*mark) else { return item.label() };
            let at = member.solid.stations().low - laid.spec.along().low;
            let label = member.role.label();
            if member.role.is_plate() {
                format!("{label} {wall}-{mark}")
            } else {
                format!("{label} {wall}-{mark} at {}", plain(job.units, at))
            }
        }
        ItemRef::Opening(name) => match job.opening(name) {
            Some((_, o)) => {
                format!("{} {name} at {}", o.kind.label(), plain(job.units, o.hold.distance))
            }
            None => item.label(),
        },
        ItemRef::NogginRow { wall, row } => {
            match layout.wall(wall).and_then(|w| w.frame.rows.get(*row)) {
                Some(laid) => {
                    let height = plain(job.units, laid.height);
                    let words = format!("noggin row {} of wall {wall} at {height}", row + 1);
                    if laid.why.is_needed() {
                        format!("{words}, {}", laid.why.label())
                    } else {
                        words
                    }
                }
                None => item.label(),
            }
        }
        ItemRef::Node(name) => match job.node(name) {
            Some(n) => {
                let d = n.at - job.datum.at;
                format!("node {name} at {}, {}", plain(job.units, d.x), plain(job.units, d.y))
            }
            None => item.label(),
        },
        ItemRef::Point(name) => match job.point(name) {
            Some((_, p)) => format!(
                "{} {name} at {}, {} up",
                p.kind.label(),
                plain(job.units, p.distance),
                plain(job.units, p.height)
            ),
            None => item.label(),
        },
        ItemRef::Route(name) => match job.route(name) {
            Some((_, r)) => {
                format!("{} route {name} at {} up", r.service.label(), plain(job.units, r.height))
            }
            None => item.label(),
        },
        ItemRef::Fitting(name) => match job.fitting(name) {
            Some((_, f)) => {
                format!(
                    "fitting {name} at {}, {} up",
                    plain(job.units, f.distance),
                    plain(job.units, f.bottom)
                )
            }
            None => item.label(),
        },
        ItemRef::Platform(name) => match job.platform(name) {
            Some(p) => format!("{} {name} at {}", p.kind.label(), plain(job.units, p.level)),
            None => item.label(),
        },
        ItemRef::PlatformHole(name) => match job.platform_hole(name) {
            Some((p, h)) => format!(
                "{} {name} in {} at {}, {}",
                h.kind.label(),
                p.name,
                plain(job.units, h.at.0),
                plain(job.units, h.at.1)
            ),
            None => item.label(),
        },
        ItemRef::Reading { wall: Some(wall), surface, index } => {
            match job.wall(wall).and_then(|w| w.readings(*surface).get(*index)) {
                Some((along, _)) => format!("{} at {}", item.label(), plain(job.units, *along)),
                None => item.label(),
            }
        }
        _ => item.label(),
    }
}

/// Without a space at the thousands: read aloud as one number.
fn plain(units: Units, value: f64) -> String {
    match units {
        Units::Millimetres => layout_core::math::round_mm(value).to_string(),
        Units::FeetInches => units.show(value),
    }
}

/// What is typed, or what the hand is at, for the box in the line at the bottom; `None` when a
/// number would mean nothing.
pub fn typed(scene: &Scene<'_>, _state: &DrawState) -> Option<String> {
    let gesture = scene.session.gesture.as_ref()?;
    if gesture.typed.is_empty() {
        let reading = gesture.reading(scene.session.history.job());
        (!reading.is_empty()).then_some(reading)
    } else {
        Some(gesture.typed.clone())
    }
}

/// The line at the bottom while drawing: the hint, and the typed number in its box.
pub fn hand_ui(ui: &mut Ui, scene: &Scene<'_>, state: &DrawState) {
    let theme = scene.theme;
    let number = typed(scene, state);
    ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
        if let Some(number) = number {
            let edge = Stroke::new(1.5, theme.accent);
            let frame = Frame::new().fill(theme.field).stroke(edge).corner_radius(3.0);
            frame.inner_margin(Margin::symmetric(10, 1)).show(ui, |ui| {
                ui.set_min_width(72.0);
                let text = RichText::new(number).font(crate::theme::bold_font(13.5));
                ui.label(text.color(theme.ink));
            });
        }
        ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
            let text = RichText::new(hint(scene, state)).size(13.0).color(theme.ink);
            ui.add(Label::new(text).truncate());
        });
    });
}

/// What the hand is about to do, in one line.
pub fn hint(scene: &Scene<'_>, state: &DrawState) -> String {
    if let Some(gesture) = &scene.session.gesture {
        return holding(gesture, state);
    }
    match scene.session.marking.as_deref() {
        Some([]) => {
            return "Click the first of two points whose distance you know. Esc gives up.".into();
        }
        Some([_]) => return "Click the second point.".into(),
        _ => {}
    }
    let first = state.drawn.is_empty();
    match scene.session.tool {
        Tool::Pick => match &state.hovered {
            Some((space, item)) => over(scene, *space, item),
            None if scene.job.walls.is_empty() && scene.job.shell.outline.is_empty() => {
                "Take Room and click the corners of the room, or Wall for a partition.".into()
            }
            None => "Click to pick, drag to move. Wheel zooms, space or middle drag moves the drawing, 0 fits it.".into(),
        },
        Tool::Room if first => "Click the first corner of the room.".into(),
        Tool::Room => "Click the next corner, or type the side's length and Enter. Esc takes a corner back.".into(),
        Tool::Wall if first => "Click or press where the wall starts.".into(),
        Tool::Wall => "Click where the wall ends.".into(),
        Tool::Door => "Point at a wall, in plan or elevation, and click to put a door in.".into(),
        Tool::Opening => format!("Point at a wall and click to put a {} in.", state.next.opening.label()),
        Tool::Point => format!("Point at a face and click to put a {} there.", state.next.point.label()),
        Tool::Fitting => format!("Point at a face and click to hang a {}.", state.next.fitting.name.as_str().to_lowercase()),
        Tool::Post => "Click where the middle of the post stands.".into(),
        Tool::Platform if first => format!("Click or press in one corner of the {}.", state.next.platform.label()),
        Tool::Platform => "Click the corner across.".into(),
        Tool::Level => "Point at a wall, in plan or elevation, or into the room, and type the level.".into(),
        Tool::Beam if first => "Click one end of the beam's centre line.".into(),
        Tool::Beam => "Click its other end.".into(),
        Tool::Roof if first => "Click one end of the foot of the slope; it will rise to the left of the line.".into(),
        Tool::Roof => "Click its other end.".into(),
    }
}

fn over(scene: &Scene<'_>, space: Space, item: &ItemRef) -> String {
    let words = sentence(&item_words(scene, item));
    let do_this = match (space, item) {
        (Space::Plan, ItemRef::Wall(_)) => {
            "Drag moves it sideways, double click shows its elevation."
        }
        (Space::Plan, ItemRef::Side(_)) => "Drag moves this face of the room.",
        (_, ItemRef::Opening(_)) => "Drag moves it along the wall.",
        (_, ItemRef::Reading { wall: Some(_), .. }) => "Drag moves it along the wall.",
        (_, ItemRef::NogginRow { .. }) => "Drag moves the row up and down.",
        (_, ItemRef::Route(_)) => "Drag moves it up and down.",
        (Space::Plan, ItemRef::Platform(_)) => {
            "Click to pick it; an edge can be dragged, and all of it when it is picked."
        }
        (Space::Elevation, ItemRef::Platform(_)) => "Drag moves its level.",
        (_, ItemRef::Member { .. }) => {
            "Click for its mark and cut length, Tab for what is behind it."
        }
        (_, ItemRef::Wall(_)) => "Click to pick it.",
        _ => "Drag moves it.",
    };
    format!("{words}. {do_this}")
}

fn holding(gesture: &Gesture, state: &DrawState) -> String {
    let what = gesture.item().map(|i| i.label()).unwrap_or_default();
    let place = "Click to put it here";
    let along = "Type its distance and Enter, Esc to leave it out, Alt for no snapping.";
    match &gesture.grip {
        Grip::NewWall(_) => "Click or let go where the wall ends, or type its length and Enter. Alt for no snapping.".into(),
        Grip::NewBeam(_) | Grip::NewRoof(_) => "Click the other end, or type the length and Enter.".into(),
        Grip::NewRoom(_) => match state.drawn.len() {
            0..=2 => "Click the next corner, or type the side's length and Enter. Esc takes a corner back.".into(),
            _ => "Click the next corner, or type a length. Enter or the first corner closes the room.".into(),
        },
        Grip::NewOpening { .. } => format!("{place}. {along}"),
        Grip::NewPoint { .. } | Grip::NewFitting { .. } => format!("{place}, or type distance, height and Enter. Alt for no snapping."),
        Grip::NewReading { from_laser, wall, surface, .. } => {
            let what = surface.label();
            let number = if *from_laser { "how far from the laser line" } else { "its level" };
            let both = if wall.is_some() { "distance, level" } else { "x, y, level" };
            format!("Type {number} to the {what} here and Enter, or {both}. Click takes the level shown.")
        }
        Grip::Reading { wall: Some(_), .. } => {
            format!("Moving {what} along. Type its distance, or distance, level. Esc to leave it, Alt for no snapping.")
        }
        Grip::Reading { wall: None, .. } => {
            format!("Moving {what}. Type how far, or x, y from the datum. Esc to leave it where it was, Alt for no snapping.")
        }
        Grip::NewPost(_) => format!("{place}, or type x, y and Enter."),
        Grip::Node(_) | Grip::Corner(_) | Grip::Post(_) | Grip::Beam(_) | Grip::Roof(_) | Grip::Datum | Grip::Underlay(_) | Grip::Room(_) => {
            format!("Moving {what}. Type how far, or x, y from the datum. Esc to leave it where it was, Alt for no snapping.")
        }
        Grip::NewPlatform(_) => "Click or let go in the corner across, or type width, depth and Enter. Alt for no snapping.".into(),
        Grip::Platform(_) | Grip::PlatformHole(_) => {
            format!("Moving {what}. Type how far, Esc to leave it where it was, Alt for no snapping.")
        }
        Grip::PlatformEdge { .. } => {
            format!("Moving an edge of {what}. Type its new size, Esc to leave it, Alt for no snapping.")
        }
        Grip::Level(_) => format!("Moving the level of {what}. Type it, Esc to leave it."),
        Grip::Wall(_) | Grip::Side(_) => {
            format!("Moving {what}. Type how far, Esc to leave it where it was, Alt for no snapping.")
        }
        Grip::Opening(_) => {
            format!("Moving {what}. Type its distance, Esc to leave it where it was, Alt for no snapping.")
        }
        Grip::Sill(_) => format!("Moving the sill of {what}. Type its height, Esc to leave it."),
        Grip::Top(_) => format!("Moving the top of {what}. Type its height, Esc to leave it."),
        Grip::Row { .. } | Grip::Route(_) => format!("Moving {what}. Type its height above the floor, Esc to leave it."),
        Grip::Head { wall, .. } => format!("Moving the top of wall {wall}. Type its height, Esc to leave it."),
        Grip::Point(_) | Grip::Fitting(_) => {
            format!("Moving {what}. Type a distance, or distance, height. Esc to leave it, Alt for no snapping.")
        }
    }
}

/// The words over the elevation: the wall, and what is seen of it.
pub fn elevation_title(scene: &Scene<'_>) -> (String, String) {
    let Some(name) = super::pane::shown_wall(scene) else {
        return ("No wall".into(), "draw one with Wall".into());
    };
    let seen = match scene.session.face {
        Face::Right => "right face",
        Face::Left => "left face",
    };
    let caption = match scene.layout.wall(name) {
        Some(w) => {
            format!(
                "{seen} · {} at {}",
                w.spec.makeup.timber.size_in(scene.job.units),
                scene.job.units.show(w.spec.centres)
            )
        }
        None => "cannot be framed".into(),
    };
    (format!("Wall {name}"), caption)
}

fn sentence(text: &str) -> String {
    let mut chars = text.chars();
    match chars.next() {
        Some(first) => first.to_uppercase().collect::<String>() + chars.as_str(),
        None => String::new(),
    }
}
