//! First-fix points and fittings: what they are and where they are on their wall.

use layout_core::document::{Behind, Edit, Face, Fitting, Point, PointKind, WallEnd};
use layout_core::id::{ItemRef, Name};

use super::form::small_choice;
use super::form::{Form, number_ui};
use super::{name_row, title};
use crate::gesture::line_of;

/// Heights of points and fittings above FFL, mm.
const HEIGHTS: (f64, f64) = (-500.0, 10_000.0);

/// The page of point `name`.
pub(super) fn point_page(form: &mut Form<'_, '_>, name: &Name) {
    let Some((wall, point)) = form.scene.job.point(name) else { return };
    let (wall, point) = (wall.name.clone(), point.clone());
    title(
        form,
        &format!("Point {name}"),
        &format!("on wall {wall}"),
        &ItemRef::Point(name.clone()),
    );
    name_row(form, name, ItemRef::Point);
    let mut new = point.clone();
    if let Some(kind) = point_kind_row(form, &point.kind) {
        new.kind = kind;
    }
    place_rows(form, &wall, (&mut new.face, &mut new.from, &mut new.distance));
    if let Some(height) = form.length("Centre above floor", point.height, HEIGHTS) {
        new.height = height;
    }
    size_rows(form, &mut new);
    if new != point {
        form.edit(Edit::PutPoint { wall, point: new });
    }
}

fn size_rows(form: &mut Form<'_, '_>, point: &mut Point) {
    if let Some(width) = form.length("Box width", point.size.0, (10.0, 1000.0)) {
        point.size.0 = width;
    }
    if let Some(height) = form.length("Box height", point.size.1, (10.0, 1000.0)) {
        point.size.1 = height;
    }
}

/// The kinds of point there are.
pub(super) const KINDS: [PointKind; 11] = [
    PointKind::Switch,
    PointKind::Socket,
    PointKind::Spur,
    PointKind::Light,
    PointKind::Data,
    PointKind::Thermostat,
    PointKind::Fan,
    PointKind::Duct,
    PointKind::Pipe,
    PointKind::Waste,
    PointKind::Valve,
];

pub(super) fn point_kind_row(form: &mut Form<'_, '_>, now: &PointKind) -> Option<PointKind> {
    let mut options: Vec<_> = KINDS.map(|k| (k.clone(), k.label().to_owned())).into();
    if options.iter().all(|(k, _)| k != now) {
        options.push((now.clone(), now.label().to_owned()));
    }
    form.choice("Kind", now, &options)
}

/// Face, end and distance of something on a wall. Measured from the other end it stays where it is.
fn place_rows(
    form: &mut Form<'_, '_>,
    wall: &Name,
    (face, from, distance): (&mut Face, &mut WallEnd, &mut f64),
) {
    let faces = [(Face::Left, "left"), (Face::Right, "right")];
    if let Some(new) = small_choice(form, "Face", face, &faces) {
        *face = new;
    }
    let length = line_of(form.scene.job, wall).map_or(0.0, |l| l.2);
    let ends = [(WallEnd::Start, "start of wall"), (WallEnd::End, "end of wall")];
    if let Some(new) = small_choice(form, "Held from", from, &ends) {
        *from = new;
        *distance = length - *distance;
    }
    let most = length.max(*distance).max(1.0);
    if let Some(new) = form.length("Distance", *distance, (0.0, most)) {
        *distance = new;
    }
}

/// The page of fitting `name`.
pub(super) fn fitting_page(form: &mut Form<'_, '_>, name: &Name) {
    let Some((wall, fitting)) = form.scene.job.fitting(name) else { return };
    let (wall, fitting) = (wall.name.clone(), fitting.clone());
    title(form, name.as_str(), &format!("hangs on wall {wall}"), &ItemRef::Fitting(name.clone()));
    name_row(form, name, ItemRef::Fitting);
    let mut new = fitting.clone();
    place_rows(form, &wall, (&mut new.face, &mut new.from, &mut new.distance));
    size_of_fitting(form, &mut new);
    if new != fitting {
        form.edit(Edit::PutFitting { wall, fitting: new });
    }
}

/// Width, heights and fixings of a fitting.
pub(super) fn size_of_fitting(form: &mut Form<'_, '_>, new: &mut Fitting) {
    if let Some(width) = form.length("Width", new.width, (10.0, 10_000.0)) {
        new.width = width;
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
