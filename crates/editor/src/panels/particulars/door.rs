//! A door: its leaf and lining, how it moves, and how the hole in the frame is made up.

use egui::{Align2, RichText, Sense, vec2};
use layout_core::catalogue::LiningSize;
use layout_core::document::{Door, DoorStyle, Face, Hinge, Lining};
use layout_core::id::Name;
use layout_core::math::round_to;

use super::form::{Form, HEIGHTS, small_choice};
use super::opening::{WIDTHS, set};
use crate::theme::{bold_font, font};

/// Lap that a leaf is given when it is made to slide, mm. Common practice.
const LAP: f64 = 20.0;

/// What can be changed of a door.
pub(super) fn rows(form: &mut Form<'_, '_>, door: &mut Door) {
    form.heading("Door");
    let styles = [
        (DoorStyle::Single, "one leaf"),
        (DoorStyle::Double, "pair"),
        (DoorStyle::Sliding, "on the face"),
        (DoorStyle::Pocket, "into the wall"),
    ];
    if let Some(style) = small_choice(form, "Style", &door.style, &styles) {
        door.style = style;
        if slides(style) && door.lap == 0.0 {
            door.lap = LAP;
        }
    }
    leaf_rows(form, door);
    way_rows(form, door);
    form.heading("Lining and gaps");
    lining_rows(form, door);
    set(form.length("Gap round leaf", door.gap, (0.0, 30.0)), &mut door.gap);
    set(form.length("Gap at floor", door.threshold, (0.0, 100.0)), &mut door.threshold);
    set(form.length("Packing", door.packing, (0.0, 50.0)), &mut door.packing);
    if slides(door.style) {
        set(form.length("Lap of leaf", door.lap, (0.0, 100.0)), &mut door.lap);
        set(form.length("Track over leaf", door.track, (0.0, 300.0)), &mut door.track);
    } else if door.lining.rebate == 0.0 {
        set(form.length("Stop", door.stop, (0.0, 50.0)), &mut door.stop);
    }
    if door.style == DoorStyle::Pocket {
        set(form.length("Slats", door.slat, (5.0, 100.0)), &mut door.slat);
    }
    let architrave = &mut door.architrave;
    set(form.length("Architrave", architrave.width, (0.0, 300.0)), &mut architrave.width);
    set(form.length("Set back", architrave.set_back, (0.0, 50.0)), &mut architrave.set_back);
    hole_rows(form, door);
}

fn slides(style: DoorStyle) -> bool {
    matches!(style, DoorStyle::Sliding | DoorStyle::Pocket)
}

/// Which way it hangs or slides, and its hand.
fn way_rows(form: &mut Form<'_, '_>, door: &mut Door) {
    let sides = [(Hinge::Start, "start of wall"), (Hinge::End, "end of wall")];
    let label = if slides(door.style) { "Slides towards" } else { "Hangs towards" };
    if door.style != DoorStyle::Double
        && let Some(hinge) = small_choice(form, label, &door.hinge, &sides)
    {
        door.hinge = hinge;
    }
    let faces = [(Face::Left, "left of wall"), (Face::Right, "right of wall")];
    let label = if door.style == DoorStyle::Sliding { "Slides on" } else { "Opens to" };
    if door.style != DoorStyle::Pocket
        && let Some(face) = small_choice(form, label, &door.opens, &faces)
    {
        door.opens = face;
    }
    if let Some(hand) = door.hand() {
        form.shown("Hand", format!("{} hand", hand.label()));
    }
}

/// The structural size, from the leaf or as it is given, and the clear width asked for.
fn hole_rows(form: &mut Form<'_, '_>, door: &mut Door) {
    form.heading("Sizes given outright");
    let stack = door.stack();
    if let Some(given) = form.tick("Enter the structural size", door.hole.is_some()) {
        door.hole = given.then_some((stack.width, stack.height));
    }
    if let Some((width, height)) = &mut door.hole {
        set(form.length("Structural width", *width, WIDTHS), width);
        set(form.length("Top above floor", *height, HEIGHTS), height);
    }
    if let Some(asked) = form.tick("Ask for a clear width", door.wanted.is_some()) {
        door.wanted = asked.then_some(750.0);
    }
    if let Some(wanted) = &mut door.wanted {
        set(form.length("Clear width wanted", *wanted, (300.0, 3000.0)), wanted);
    }
}

fn leaf_rows(form: &mut Form<'_, '_>, door: &mut Door) {
    let mut options: Vec<_> = form
        .scene
        .catalogue
        .doors
        .iter()
        .map(|l| ((l.width, l.height, l.thickness), leaf_words((l.width, l.height, l.thickness))))
        .collect();
    if options.iter().all(|(size, _)| *size != door.leaf) {
        options.insert(0, (door.leaf, leaf_words(door.leaf)));
    }
    if let Some(leaf) = form.choice("Leaf", &door.leaf, &options) {
        door.leaf = leaf;
    }
    set(form.length("Leaf width", door.leaf.0, (200.0, 3000.0)), &mut door.leaf.0);
    set(form.length("Leaf height", door.leaf.1, (500.0, 4000.0)), &mut door.leaf.1);
    set(form.length("Leaf thickness", door.leaf.2, (10.0, 100.0)), &mut door.leaf.2);
}

fn leaf_words((width, height, thickness): (f64, f64, f64)) -> String {
    format!("{width} × {height} × {thickness}")
}

fn lining_rows(form: &mut Form<'_, '_>, door: &mut Door) {
    let as_lining = |l: &LiningSize| Lining { thickness: l.thickness, rebate: l.rebate };
    let mut options: Vec<_> =
        form.scene.catalogue.linings.iter().map(|l| (as_lining(l), l.name.to_string())).collect();
    if options.iter().all(|(lining, _)| *lining != door.lining) {
        options.insert(
            0,
            (door.lining, format!("{} thick", form.scene.job.units.show(door.lining.thickness))),
        );
    }
    if let Some(lining) = form.choice("Lining", &door.lining, &options) {
        door.lining = lining;
    }
    set(
        form.length("Lining thickness", door.lining.thickness, (6.0, 100.0)),
        &mut door.lining.thickness,
    );
    let most = door.lining.thickness;
    set(form.length("Rebate", door.lining.rebate, (0.0, most)), &mut door.lining.rebate);
}

/// How the hole is made up, and what follows from it: lining to order, clear width, doorway.
pub(super) fn made_up(form: &mut Form<'_, '_>, wall: &Name, opening: &Name, door: &Door) {
    form.heading("How the hole is made up");
    stack(form, door);
    if let Some(wall) = form.scene.layout.wall(wall) {
        let lining = round_to(wall.spec.finished.length(), 0.5);
        form.shown("Lining to order", format!("{lining} mm"));
        let hole = wall.spec.holes.iter().find(|h| h.name == *opening);
        if let Some((doorway, pocket)) = hole.and_then(|h| Some((h.doorway(), h.pocket()?))) {
            form.shown("Doorway", form.scene.job.units.with_unit(doorway.length()));
            form.shown("Pocket", form.scene.job.units.with_unit(pocket.length()));
        }
    }
    form.shown("Clear width", form.scene.job.units.with_unit(door.clear_width()));
    form.note("Clear width before handles. Indicative: local access guidance decides.");
}

/// How the hole is made up, from the leaf outwards: every term of the sum, set in two columns.
fn stack(form: &mut Form<'_, '_>, door: &Door) {
    let stack = door.stack();
    let theme = form.scene.theme;
    let units = form.scene.job.units;
    let mut line = |what: &str, width: f64, height: f64, total: bool| {
        let size = vec2(form.ui.available_width(), 19.0);
        let (rect, response) = form.ui.allocate_exact_size(size, Sense::hover());
        let face = if total { bold_font(13.0) } else { font(13.0) };
        let painter = form.ui.painter();
        let y = rect.center().y;
        painter.text(
            egui::pos2(rect.left(), y),
            Align2::LEFT_CENTER,
            what,
            face.clone(),
            theme.ink,
        );
        let right = rect.right() - 22.0;
        for (x, value) in [(right - 66.0, width), (right, height)] {
            painter.text(
                egui::pos2(x, y),
                Align2::RIGHT_CENTER,
                units.show(value),
                face.clone(),
                theme.ink,
            );
        }
        if total {
            painter.hline(right - 118.0..=right, rect.top(), egui::Stroke::new(1.0, theme.ink));
        }
        let words = format!("{what} {} wide, {} high", units.show(width), units.show(height));
        response
            .widget_info(|| egui::WidgetInfo::labeled(egui::accesskit::Role::Label, true, &words));
    };
    for term in &stack.lines {
        line(term.what, term.width, term.height, false);
    }
    line("hole", stack.width, stack.height, true);
    form.ui.label(RichText::new("width · height above floor, mm").size(11.5).color(theme.quiet));
}
