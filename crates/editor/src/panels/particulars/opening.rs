//! An opening: what holds it, what fills it, and how the hole in the frame is made up.

use egui::{Align2, RichText, Sense, vec2};
use layout_core::catalogue::LiningSize;
use layout_core::document::{
    Door, DoorStyle, Edit, Face, Hinge, Hold, HoldTo, Lining, Opening, OpeningKind, WallEnd,
};
use layout_core::id::{ItemRef, Name};

use super::form::Form;
use super::wall::{HEIGHTS, small_choice};
use super::{name_row, title};
use crate::gesture::line_of;
use crate::theme::{bold_font, font};

/// Bounds of an opening's width, mm.
const WIDTHS: (f64, f64) = (100.0, 12_000.0);

/// The page of opening `name`.
pub(super) fn page(form: &mut Form<'_, '_>, name: &Name) {
    let Some((wall, opening)) = form.scene.job.opening(name) else { return };
    let (wall, opening) = (wall.name.clone(), opening.clone());
    let what = capital(opening.kind.label());
    title(
        form,
        &format!("{what} {name}"),
        &format!("in wall {wall}"),
        &ItemRef::Opening(name.clone()),
    );
    name_row(form, name, ItemRef::Opening);
    let mut changed = opening.clone();
    if let Some(kind) = kind_row(form, &opening.kind) {
        changed.kind = kind;
    }
    hold_rows(form, &wall, &mut changed);
    kind_rows(form, &mut changed.kind);
    if changed != opening {
        form.edit(Edit::PutOpening { wall, opening: changed });
    }
    if let OpeningKind::Door(door) = &opening.kind {
        stack(form, door);
    }
}

/// The kinds there are, with the sizes a new one begins with.
pub(super) fn kinds(now: &OpeningKind) -> [(OpeningKind, &'static str); 4] {
    let (width, top) = (now.width().round(), now.top().round());
    let sill = now.sill().unwrap_or(900.0);
    let height = (top - sill).max(300.0);
    [
        (OpeningKind::Door(Door::default()), "door"),
        (OpeningKind::BorrowedLight { width, height, sill }, "borrowed light"),
        (OpeningKind::Hatch { width, height, sill }, "hatch"),
        (OpeningKind::Plain { width, height: top }, "opening"),
    ]
}

fn kind_row(form: &mut Form<'_, '_>, now: &OpeningKind) -> Option<OpeningKind> {
    let kinds = kinds(now);
    let options = kinds.each_ref().map(|(_, label)| (*label, *label));
    let label = small_choice(form, "Kind", &now.label(), &options)?;
    kinds.into_iter().find(|(_, l)| *l == label).map(|(kind, _)| kind)
}

fn hold_rows(form: &mut Form<'_, '_>, wall: &Name, opening: &mut Opening) {
    form.heading("Where it stands");
    let length = line_of(form.scene.job, wall).map_or(0.0, |l| l.2);
    let width = opening.kind.width();
    let left = opening.hold.left_edge(width, length);
    let ends = [(WallEnd::Start, "start of wall"), (WallEnd::End, "end of wall")];
    if let Some(from) = small_choice(form, "Held from", &opening.hold.from, &ends) {
        opening.hold = Hold { from, ..opening.hold }.with_left_edge(left, width, length);
    }
    let edges =
        [(HoldTo::Near, "near edge"), (HoldTo::Centre, "middle"), (HoldTo::Far, "far edge")];
    if let Some(to) = small_choice(form, "To its", &opening.hold.to, &edges) {
        opening.hold = Hold { to, ..opening.hold }.with_left_edge(left, width, length);
    }
    let most = length.max(opening.hold.distance).max(1.0) + width;
    if let Some(distance) = form.length("Distance", opening.hold.distance, (-width, most)) {
        opening.hold.distance = distance;
    }
}

/// The rows of what fills the hole.
pub(super) fn kind_rows(form: &mut Form<'_, '_>, kind: &mut OpeningKind) {
    match kind {
        OpeningKind::Door(door) => door_rows(form, door),
        OpeningKind::BorrowedLight { width, height, sill }
        | OpeningKind::Hatch { width, height, sill } => {
            form.heading("Hole in the frame");
            set(form.length("Width", *width, WIDTHS), width);
            set(form.length("Height", *height, HEIGHTS), height);
            set(form.length("Sill above floor", *sill, (0.0, 10_000.0)), sill);
        }
        OpeningKind::Plain { width, height } => {
            form.heading("Hole in the frame");
            set(form.length("Width", *width, WIDTHS), width);
            set(form.length("Top above floor", *height, HEIGHTS), height);
        }
    }
}

fn set(new: Option<f64>, value: &mut f64) {
    if let Some(new) = new {
        *value = new;
    }
}

fn door_rows(form: &mut Form<'_, '_>, door: &mut Door) {
    form.heading("Door");
    leaf_rows(form, door);
    lining_rows(form, door);
    set(form.length("Gap round leaf", door.gap, (0.0, 30.0)), &mut door.gap);
    set(form.length("Gap at floor", door.threshold, (0.0, 100.0)), &mut door.threshold);
    set(form.length("Packing", door.packing, (0.0, 50.0)), &mut door.packing);
    let styles = [
        (DoorStyle::Single, "one leaf"),
        (DoorStyle::Double, "pair"),
        (DoorStyle::Sliding, "sliding"),
    ];
    if let Some(style) = small_choice(form, "Style", &door.style, &styles) {
        door.style = style;
    }
    let sides = [(Hinge::Start, "start of wall"), (Hinge::End, "end of wall")];
    if door.style == DoorStyle::Single
        && let Some(hinge) = small_choice(form, "Hangs towards", &door.hinge, &sides)
    {
        door.hinge = hinge;
    }
    let faces = [(Face::Left, "left of wall"), (Face::Right, "right of wall")];
    let label = if door.style == DoorStyle::Sliding { "Slides on" } else { "Opens to" };
    if let Some(face) = small_choice(form, label, &door.opens, &faces) {
        door.opens = face;
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
}

/// How the hole is made up, from the leaf outwards: every term of the sum, set in two columns.
fn stack(form: &mut Form<'_, '_>, door: &Door) {
    form.heading("How the hole is made up");
    let stack = door.stack();
    let theme = form.scene.theme;
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
                form.scene.job.units.show(value),
                face.clone(),
                theme.ink,
            );
        }
        if total {
            painter.hline(right - 118.0..=right, rect.top(), egui::Stroke::new(1.0, theme.ink));
        }
        let words = format!(
            "{what} {} wide, {} high",
            form.scene.job.units.show(width),
            form.scene.job.units.show(height)
        );
        response
            .widget_info(|| egui::WidgetInfo::labeled(egui::accesskit::Role::Label, true, &words));
    };
    for term in &stack.lines {
        line(term.what, term.width, term.height, false);
    }
    line("hole", stack.width, stack.height, true);
    form.ui.label(RichText::new("width · height above floor").size(11.5).color(theme.quiet));
}

fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or(String::new(), |first| first.to_uppercase().chain(chars).collect())
}
