//! Fittings: what will hang on a wall, and what that is fixed into.

use layout_core::document::{Behind, Edit, Fitting};
use layout_core::id::{ItemRef, Name};

use super::form::small_choice;
use super::form::{Form, number_ui};
use super::point::{HEIGHTS, copy_rows, place_rows};
use super::{name_row, title};

/// The page of fitting `name`.
pub(super) fn fitting_page(form: &mut Form<'_, '_>, name: &Name) {
    let Some((wall, fitting)) = form.scene.job.fitting(name) else { return };
    let (wall, fitting) = (wall.name.clone(), fitting.clone());
    title(form, name.as_str(), &format!("hangs on wall {wall}"), &ItemRef::Fitting(name.clone()));
    name_row(form, name, ItemRef::Fitting);
    let mut new = fitting.clone();
    let item = ItemRef::Fitting(name.clone());
    place_rows(form, &wall, &item, (&mut new.face, &mut new.from, &mut new.distance));
    size_of_fitting(form, &mut new);
    if new != fitting {
        form.edit(Edit::PutFitting { wall, fitting: new });
    }
    copy_rows(form, &item, fitting.width + 100.0);
}

/// Width, heights and fixings of a fitting.
pub(super) fn size_of_fitting(form: &mut Form<'_, '_>, new: &mut Fitting) {
    if let Some(width) = form.length("Width", new.width, (10.0, 10_000.0)) {
        new.width = width;
    }
    if let Some(depth) = form.length("Stands off", new.depth, (0.0, 2000.0)) {
        new.depth = depth;
    }
    if let Some(bottom) = form.length("Underside", new.bottom, (-500.0, new.top)) {
        new.bottom = bottom;
    }
    if let Some(top) = form.length("Top", new.top, (new.bottom, 10_000.0)) {
        new.top = top;
    }
    form.heading("Heights of its fixings");
    let mut gone = None;
    for (i, height) in new.fixings.iter_mut().enumerate() {
        let label = format!("Fixing {}", i + 1);
        let (typed, out) = form.row(&label, |ui, scene| {
            let out = ui.small_button("×").on_hover_text(format!("Take {label} away")).clicked();
            (number_ui(ui, scene, &label, *height, HEIGHTS, 88.0), out)
        });
        if let Some(typed) = typed {
            *height = typed;
        }
        if out {
            gone = Some(i);
        }
    }
    if let Some(i) = gone {
        new.fixings.remove(i);
    }
    if form.button("Add a fixing height") {
        new.fixings.push((new.bottom + new.top) / 2.0);
        new.fixings.sort_by(f64::total_cmp);
    }
    if !new.fixings.is_empty() {
        behind_rows(form, new);
    }
}

/// What the fixings go into, and how far from them it may lie.
fn behind_rows(form: &mut Form<'_, '_>, new: &mut Fitting) {
    let kind = match new.behind {
        Behind::Noggin => 0,
        Behind::Ply { .. } => 1,
        Behind::Nothing => 2,
    };
    let kinds = [(0, "flat noggin"), (1, "ply between studs"), (2, "the boards alone")];
    if let Some(kind) = small_choice(form, "Fixed into", &kind, &kinds) {
        new.behind = match kind {
            0 => Behind::Noggin,
            1 => Behind::USUAL_PLY,
            _ => Behind::Nothing,
        };
    }
    if let Behind::Ply { height, thickness } = &mut new.behind {
        if let Some(value) = form.length("Ply height", *height, (10.0, 2000.0)) {
            *height = value;
        }
        if let Some(value) = form.length("Ply thickness", *thickness, (3.0, 50.0)) {
            *thickness = value;
        }
    }
    if new.behind != Behind::Nothing
        && let Some(value) = form.length("May lie off by", new.tolerance, (0.0, 500.0))
    {
        new.tolerance = value;
    }
}
