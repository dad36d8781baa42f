//! What lies under the plan: how strong, where, how large, and what of it can be the room.

use layout_core::document::{Corner, Edit, Underlay};
use layout_core::id::ItemRef;
use layout_core::math::PlanPoint;

use super::form::Form;
use super::shell::place_rows;
use super::title;
use crate::command::Command;
use crate::drawing::{Drawing, Outline, outlines};
use crate::under::Shown;

/// Bounds of a distance between two points of it, mm.
const DISTANCE: (f64, f64) = (10.0, 1_000_000.0);
/// Bounds of a unit of it, mm.
const UNIT: (f64, f64) = (0.000_001, 1_000_000.0);
/// No more outlines are offered.
const OFFERED: usize = 6;
/// Thickness of existing walls, as the Room tool draws them, mm.
const THICKNESS: f64 = 140.0;

pub(super) fn page(form: &mut Form<'_, '_>) {
    let scene = form.scene;
    let Some(under) = scene.session.history.job().underlay.clone() else { return };
    title(form, "Under the plan", &under.file, &ItemRef::Underlay);
    let read = scene.session.under.as_ref().map(|u| &u.shown);
    if let Some(Err(line)) = read {
        form.note(line.clone());
    }
    looks(form, &under);
    if under.locked {
        form.note("It is locked: it stays as it lies.");
    } else {
        form.note("Drag it in the plan; its corners snap.");
        places(form, &under);
        two_points(form, &under);
    }
    if let Some(Ok(Shown::Drawing(drawing))) = read {
        rooms(form, &under, drawing);
    }
}

fn put(form: &mut Form<'_, '_>, under: Underlay) {
    form.edit(Edit::SetUnderlay(Some(under)));
}

fn looks(form: &mut Form<'_, '_>, under: &Underlay) {
    if let Some(shown) = form.tick("Shown", !under.hidden) {
        put(form, Underlay { hidden: !shown, ..under.clone() });
    }
    if let Some(locked) = form.tick("Locked", under.locked) {
        put(form, Underlay { locked, ..under.clone() });
    }
    if let Some(strength) = form.number("Strength", "%", under.strength, (5.0, 100.0)) {
        put(form, Underlay { strength, ..under.clone() });
    }
}

fn places(form: &mut Form<'_, '_>, under: &Underlay) {
    form.heading("Lower left corner");
    if let Some(at) = place_rows(form, under.at) {
        put(form, Underlay { at, ..under.clone() });
    }
    if let Some(turn_deg) = form.number("Turned", "°", under.turn_deg, (-360.0, 360.0)) {
        put(form, Underlay { turn_deg, ..under.clone() });
    }
    let of = match form.scene.session.under.as_ref().map(|u| &u.shown) {
        Some(Ok(Shown::Picture { .. })) => "mm to a dot",
        _ => "mm to a unit",
    };
    if let Some(unit_mm) = form.number(of, "mm", under.unit_mm, UNIT) {
        put(form, Underlay { unit_mm, ..under.clone() });
    }
}

/// Scale, place and turn from two points that are known on site.
fn two_points(form: &mut Form<'_, '_>, under: &Underlay) {
    form.heading("By two points");
    match form.scene.session.marking.as_deref() {
        None => {
            form.note("Two points you have the distance of: the ends of a wall, a door.");
            if form.button("Click two points…") {
                form.out.push(Command::MarkUnder(true));
            }
        }
        Some([]) => form.note("Click the first point in the plan. Esc gives up."),
        Some([_]) => form.note("Click the second point."),
        Some(&[a, b, ..]) => {
            let now = (b - a).norm();
            if let Some(asked) = form.length("They are apart", now, DISTANCE)
                && now > 0.0
            {
                let second = a + (b - a) * (asked / now);
                moved(form, under.scaled(a, asked / now), [a, second]);
            }
            if form.button("Put the first on the datum") {
                let by = form.scene.job.datum.at - a;
                moved(form, under.moved(by), [a + by, b + by]);
            }
            let (level, upright) = (b.y.total_cmp(&a.y).is_eq(), b.x.total_cmp(&a.x).is_eq());
            if !level && !upright && form.button("Turn them level or plumb") {
                let d = b - a;
                let angle = d.y.atan2(d.x);
                let quarter = std::f64::consts::FRAC_PI_2;
                let square = (angle / quarter).round() * quarter;
                let second =
                    a + layout_core::math::PlanVector::new(square.cos(), square.sin()) * now;
                moved(form, under.turned(a, square - angle), [a, second]);
            }
            if form.button("Done") {
                form.out.push(Command::MarkUnder(false));
            }
        }
    }
}

/// A change that takes the two points along.
fn moved(form: &mut Form<'_, '_>, under: Underlay, points: [PlanPoint; 2]) {
    put(form, under);
    form.out.push(Command::MarkUnder(true));
    form.out.extend(points.map(Command::Marked));
}

/// Closed outlines that can be the room.
fn rooms(form: &mut Form<'_, '_>, under: &Underlay, drawing: &Drawing) {
    if drawing.unit.is_none() {
        form.note("The drawing does not say its unit: set its size by two points.");
    }
    form.heading("The room from it");
    let found = kept_outlines(form, under, drawing);
    if found.is_empty() {
        form.note("There is no closed outline in it that is large enough for a room.");
    }
    let units = form.scene.job.units;
    for outline in found.iter().take(OFFERED) {
        let (wide, high) = (units.show(outline.across(0)), units.show(outline.across(1)));
        let (corners, layer) = (outline.corners.len(), outline.layer.as_str());
        let words = format!("{wide} × {high}, {corners} corners, {layer}");
        if form.button(&words) {
            let own = |p: &[f64; 2]| p.map(|v| v / under.unit_mm);
            let corner = |p: &[f64; 2]| Corner {
                at: under.plan(own(p)),
                thickness: THICKNESS,
                gaps: Vec::new(),
            };
            form.edit(Edit::SetOutline(outline.corners.iter().map(corner).collect()));
        }
    }
}

/// The outlines of the drawing at its scale, in millimetres from its lower left corner, looked for once.
fn kept_outlines(form: &Form<'_, '_>, under: &Underlay, drawing: &Drawing) -> Vec<Outline> {
    let id = egui::Id::unique("outlines under the plan");
    let key = (under.file.clone(), under.unit_mm.to_bits(), drawing.lines.len());
    type Kept = ((String, u64, usize), Vec<Outline>);
    if let Some((of, found)) = form.ui.data(|d| d.get_temp::<Kept>(id))
        && of == key
    {
        return found;
    }
    let found = outlines(&drawing.clone().scaled(under.unit_mm));
    form.ui.data_mut(|d| d.insert_temp::<Kept>(id, (key, found.clone())));
    found
}
