//! An opening: what holds it and what fills it.

use layout_core::boards::{Closes, Reveal, Strip};
use layout_core::document::{Door, Edit, Hold, HoldTo, Opening, OpeningKind, Reveals, WallEnd};
use layout_core::id::{ItemRef, Name};

use super::form::{Form, HEIGHTS, small_choice};
use super::{door, name_row, title};
use crate::gesture::line_of;

/// Bounds of an opening's width, mm.
pub(super) const WIDTHS: (f64, f64) = (100.0, 12_000.0);

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
    reveals_row(form, &mut changed);
    let wall_name = wall.clone();
    if changed != opening {
        form.edit(Edit::PutOpening { wall, opening: changed });
    }
    if let OpeningKind::Door(door) = &opening.kind {
        door::made_up(form, &wall_name, name, door);
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
        OpeningKind::Door(door) => door::rows(form, door),
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

/// What covers its reveals, of those that have no lining of their own; and what is left between the boards.
fn reveals_row(form: &mut Form<'_, '_>, opening: &mut Opening) {
    let bare = Opening { reveals: Some(Reveals::Boarded), ..opening.clone() };
    if !bare.is_boarded() {
        return;
    }
    let now = if opening.is_boarded() { Reveals::Boarded } else { Reveals::Lined };
    let options = [(Reveals::Lined, "a lining or frame"), (Reveals::Boarded, "boards")];
    if let Some(reveals) = small_choice(form, "Reveals", &now, &options) {
        opening.reveals = Some(reveals);
    }
    let walls = &form.scene.layout.walls;
    let strips = walls.iter().flat_map(|w| &w.boards.strips);
    let of = |s: &&Strip| matches!(&s.closes, Closes::Reveal(name, _) if *name == opening.name);
    let (mut width, mut height) = (opening.kind.width(), opening.kind.top());
    let sill = opening.kind.sill().unwrap_or(0.0);
    let mut boards = false;
    for strip in strips.filter(of) {
        let thickness = strip.board.thickness;
        match &strip.closes {
            Closes::Reveal(_, Reveal::Start) => width -= 2.0 * thickness,
            Closes::Reveal(_, Reveal::Head) => height -= thickness,
            Closes::Reveal(_, Reveal::Sill) => height -= thickness,
            _ => {}
        }
        boards = true;
    }
    if boards {
        let units = form.scene.job.units;
        let clear = format!("{} × {}", units.fine(width), units.fine(height - sill));
        form.shown("Clear between boards", clear);
    }
}

pub(super) fn set(new: Option<f64>, value: &mut f64) {
    if let Some(new) = new {
        *value = new;
    }
}

fn capital(text: &str) -> String {
    let mut chars = text.chars();
    chars.next().map_or(String::new(), |first| first.to_uppercase().chain(chars).collect())
}
