//! What the tool in the hand will put in a wall, before it is put there.

use layout_core::document::Fitting;
use layout_core::id::Surface;

use super::fixing::size_of_fitting;
use super::form::{Form, small_choice};
use super::opening::{kind_rows, kinds};
use super::point::point_kind_row;
use crate::canvas::Next;
use crate::panels::bits::strong;
use crate::session::Tool;

/// The page of the tool in the hand.
pub(super) fn page(form: &mut Form<'_, '_>, next: &mut Next) {
    let what = match form.scene.session.tool {
        Tool::Door => "The next door",
        Tool::Opening => "The next opening",
        Tool::Point => "The next point",
        Tool::Platform => "The next platform",
        Tool::Level => "The next level",
        _ => "The next fitting",
    };
    form.ui.label(strong(what, 15.0));
    form.note(match form.scene.session.tool {
        Tool::Platform => {
            "Drag a rectangle on the plan, from the wall it hangs on: edges snap to the faces of frames and of the room."
        }
        Tool::Level => {
            "Point where it is read: on a wall, in plan or elevation, or out in the room. Type what the tape says and press Enter."
        }
        _ => "Point at a wall, in plan or elevation, and click. Shift and click puts in more than one.",
    });
    form.ui.add_space(4.0);
    match form.scene.session.tool {
        Tool::Platform => {
            super::platform::kind_row(form, &mut next.platform);
            let label = super::platform::level_label(next.platform);
            if let Some(level) = form.length(label, next.level, super::platform::LEVELS) {
                next.level = level;
            }
        }
        Tool::Level => level_rows(form, next),
        Tool::Door => kind_rows(form, &mut next.door),
        Tool::Opening => {
            let kinds = kinds(&next.opening);
            let options = [1, 2, 3].map(|i| (kinds[i].1, kinds[i].1));
            if let Some(label) = small_choice(form, "Kind", &next.opening.label(), &options)
                && let Some((kind, _)) = kinds.into_iter().find(|(_, l)| *l == label)
            {
                next.opening = kind;
            }
            kind_rows(form, &mut next.opening);
        }
        Tool::Point => {
            if let Some(kind) = point_kind_row(form, &next.point) {
                next.point = kind;
            }
        }
        _ => {
            let fine = |_: &str| Ok(());
            if let Some(name) = form.text("What it is", next.fitting.name.as_str(), fine) {
                next.fitting.name = name.as_str().into();
            }
            usual_row(form, &mut next.fitting);
            size_of_fitting(form, &mut next.fitting);
        }
    }
}

/// What is read, what a number typed means, and what was read along the wall that is shown.
fn level_rows(form: &mut Form<'_, '_>, next: &mut Next) {
    let surfaces = [Surface::Floor, Surface::Ceiling].map(|s| (s, s.label()));
    if let Some(surface) = small_choice(form, "On the plan", &next.surface, &surfaces) {
        next.surface = surface;
    }
    let ways = [(true, "from laser line"), (false, "above FFL")];
    if let Some(from_laser) = small_choice(form, "Number typed", &next.from_laser, &ways) {
        next.from_laser = from_laser;
    }
    if let Some(wall) = form.scene.session.wall.clone() {
        form.heading(&format!("Wall {wall}"));
        super::readings::wall_table(form, &wall);
    }
}

/// Fills in a usual fitting from the catalogue; every number may be changed afterwards.
fn usual_row(form: &mut Form<'_, '_>, next: &mut Fitting) {
    let usual = &form.scene.catalogue.fittings;
    let like = usual.iter().position(|f| {
        f.name == next.name && (f.width, f.bottom, f.top) == (next.width, next.bottom, next.top)
    });
    let mut options: Vec<(Option<usize>, String)> =
        usual.iter().enumerate().map(|(i, f)| (Some(i), f.name.to_string())).collect();
    if like.is_none() {
        options.insert(0, (None, "my own".to_owned()));
    }
    if let Some(Some(i)) = form.choice("Usual fitting", &like, &options) {
        let f = &usual[i];
        *next = Fitting {
            name: f.name.clone(),
            width: f.width,
            bottom: f.bottom,
            top: f.top,
            fixings: f.fixings.clone(),
            ..next.clone()
        };
    }
}
