//! A make-up: timber, centres, boards, plates and how its corners are built. Changing it changes
//! every wall made of it, while it is changed.

use std::sync::Arc;

use layout_core::catalogue::Sheet;
use layout_core::document::{
    AngledEnd, Board, CornerRecipe, Edit, Finish, HeadLay, Insulation, Lay, MakeUp, OpeningStuds,
    TeeRecipe, Timber,
};
use layout_core::id::{ItemRef, Name};

use super::form::{Form, choice_ui, small_choice};
use super::wall::{
    CENTRES, SOLES, head_kind, head_number, new_head, new_sole, sole_kind, sole_number,
};
use super::{levels, name_row, rows, title};
use crate::command::Command;
use crate::panels::bits::quiet;

/// Strength classes offered; a job may hold others. EN 338 (published).
const GRADES: [&str; 4] = ["C16", "C18", "C24", "C30"];

/// The page of make-up `name`.
pub(super) fn page(form: &mut Form<'_, '_>, name: &Name) {
    let Some(makeup) = form.scene.job.makeup(name).cloned() else { return };
    let users = form.scene.job.walls.iter().filter(|w| w.makeup == *name).count();
    let beside = match users {
        0 => "not used".into(),
        1 => "in 1 wall".into(),
        n => format!("in {n} walls"),
    };
    heading(form, name, &beside, users);
    name_row(form, name, ItemRef::MakeUp);
    let mut new = MakeUp::clone(&makeup);
    timber_rows(form, &mut new);
    centres_rows(form, &mut new);
    finish_rows(form, "Left face", "left", &mut new.left);
    finish_rows(form, "Right face", "right", &mut new.right);
    form.note(format!("Finished wall {} thick", form.scene.job.units.show(makeup.finished())));
    insulation_rows(form, &mut new);
    plates_rows(form, &mut new);
    rows::of_makeup(form, &mut new);
    recipe_rows(form, &mut new);
    if new != *makeup {
        form.edit(Edit::PutMakeUp(Arc::new(new)));
    }
    form.ui.add_space(6.0);
    if form.button("Copy to a new make-up") {
        copy(form, &makeup);
    }
}

fn heading(form: &mut Form<'_, '_>, name: &Name, beside: &str, users: usize) {
    if users == 0 && form.scene.job.makeups.len() > 1 {
        title(form, "Make-up", beside, &ItemRef::MakeUp(name.clone()));
    } else {
        title(form, "Make-up", beside, &ItemRef::Job);
    }
}

fn copy(form: &mut Form<'_, '_>, makeup: &MakeUp) {
    let job = form.scene.session.history.job();
    let free = (2..).map(|n| Name::new(format!("{} ({n})", makeup.name)));
    let name = free.into_iter().find(|n| job.makeup(n).is_none()).unwrap_or_default();
    let copy = MakeUp { name: name.clone(), ..makeup.clone() };
    form.edit(Edit::PutMakeUp(Arc::new(copy)));
    form.out.push(Command::Pick(Some(ItemRef::MakeUp(name))));
}

fn timber_rows(form: &mut Form<'_, '_>, makeup: &mut MakeUp) {
    let now = makeup.timber.clone();
    let grade = now.grade().clone();
    let mut options: Vec<(Timber, String)> = form
        .scene
        .catalogue
        .timber
        .iter()
        .map(|s| Timber::new(s.thickness, s.depth, grade.clone()))
        .map(|t| (t.clone(), t.size()))
        .collect();
    options.sort_by(|a, b| a.0.cmp(&b.0));
    options.dedup_by(|a, b| a.0 == b.0);
    if options.iter().all(|(t, _)| *t != now) {
        options.insert(0, (now.clone(), now.size()));
    }
    if let Some(timber) = form.choice("Timber", &now, &options) {
        makeup.timber = timber;
    }
    let mut grades: Vec<(Name, String)> = GRADES.map(|g| (g.into(), g.into())).into();
    if grades.iter().all(|(g, _)| *g != grade) {
        grades.insert(0, (grade.clone(), grade.to_string()));
    }
    if let Some(grade) = form.choice("Strength class", &grade, &grades) {
        makeup.timber = Timber::new(now.thickness(), now.depth(), grade);
    }
}

fn centres_rows(form: &mut Form<'_, '_>, makeup: &mut MakeUp) {
    if let Some(centres) = form.length("Stud centres", makeup.centres, CENTRES) {
        makeup.centres = centres;
    }
    form.ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 3.0;
        for centres in [300.0, 400.0, 450.0, 600.0] {
            let now = (makeup.centres - centres).abs() < 0.01;
            let text = egui::RichText::new(form.scene.job.units.show(centres)).size(13.0);
            let button = egui::Button::selectable(now, text).min_size(egui::vec2(54.0, 25.0));
            if ui
                .add(button)
                .on_hover_text(format!("Studs at {} centres", form.scene.job.units.show(centres)))
                .clicked()
            {
                makeup.centres = centres;
            }
        }
    });
}

fn finish_rows(form: &mut Form<'_, '_>, heading: &str, side: &str, finish: &mut Finish) {
    form.heading(heading);
    let kinds = &form.scene.catalogue.boards;
    let mut options: Vec<((Name, u64), String)> = Vec::new();
    for b in kinds {
        let kind = (b.kind.clone(), b.thickness.to_bits());
        if options.iter().all(|(known, _)| *known != kind) {
            options.push((kind, format!("{} {}", b.kind, b.thickness)));
        }
    }
    let mut gone = None;
    for (i, board) in finish.boards.iter_mut().enumerate() {
        let now = (board.kind.clone(), board.thickness.to_bits());
        let mut list = options.clone();
        if list.iter().all(|(b, _)| *b != now) {
            list.insert(0, (now.clone(), format!("{} {}", board.kind, board.thickness)));
        }
        let label = format!("Board {}, {side}", i + 1);
        let (chosen, out) = form.row(&label, |ui, _| {
            let out = ui.small_button("×").on_hover_text(format!("Take {label} off")).clicked();
            (choice_ui(ui, &label, &label, &now, &list, 112.0), out)
        });
        if let Some((kind, thickness)) = chosen {
            board.kind = kind;
            board.thickness = f64::from_bits(thickness);
            board.sheet = None;
            let of_kind =
                |s: &&Sheet| s.kind == board.kind && (s.thickness - board.thickness).abs() < 0.05;
            board.mass = form.scene.catalogue.boards.iter().find(of_kind).map(|s| s.mass_kg_m2);
        }
        sheet_rows(form, &format!("{}, {side}", i + 1), board);
        if out {
            gone = Some(i);
        }
    }
    if let Some(i) = gone {
        finish.boards.remove(i);
    }
    let name = format!("Skim, {side}");
    if let Some(skim) = form.named_length("Skim", &name, finish.skim, (0.0, 30.0)) {
        finish.skim = skim;
    }
    if !finish.boards.is_empty() {
        let name = format!("Off the floor, {side}");
        let gap = form.named_length("Off the floor", &name, finish.floor_gap, (0.0, 200.0));
        if let Some(gap) = gap {
            finish.floor_gap = gap;
        }
    }
    let tiled = [(false, "no"), (true, "yes")];
    if let Some(on) = small_choice(form, &format!("Tiled, {side}"), &finish.tiled.is_some(), &tiled)
    {
        finish.tiled = on.then_some(Finish::TILED);
    }
    if let Some(apart) = finish.tiled {
        let name = format!("Noggins apart, {side}");
        if let Some(new) = form.named_length("Noggins apart", &name, apart, (100.0, 5000.0)) {
            finish.tiled = Some(new);
        }
    }
    let add = form.ui.button(format!("Add a board, {side}")).clicked();
    if add {
        let next = finish.boards.last().cloned();
        finish.boards.push(next.unwrap_or(Board::new("standard", 12.5)));
    }
}

/// Which sheets a board is cut from, and how they lie.
fn sheet_rows(form: &mut Form<'_, '_>, which: &str, board: &mut Board) {
    let units = form.scene.job.units;
    let size = |(w, l): (f64, f64)| format!("{} × {}", units.show(w), units.show(l));
    let of_kind = |s: &&Sheet| s.kind == board.kind && (s.thickness - board.thickness).abs() < 0.05;
    let kinds = form.scene.catalogue.boards.iter().filter(of_kind);
    let mut sheets = vec![(None, "suit centres".to_string())];
    sheets.extend(kinds.map(|s| (Some((s.width, s.length)), size((s.width, s.length)))));
    if let Some(own) = board.sheet.filter(|own| sheets.iter().all(|(s, _)| *s != Some(*own))) {
        sheets.push((Some(own), size(own)));
    }
    let name = format!("Sheets {which}");
    let chosen =
        form.row("Sheets", |ui, _| choice_ui(ui, &name, &name, &board.sheet, &sheets, 142.0));
    if let Some(sheet) = chosen {
        board.sheet = sheet;
    }
    let lays = Lay::ALL.map(|lay| (lay, lay.label().to_string()));
    let name = format!("Boards {which} lie");
    let chosen = form.row("Lie", |ui, _| choice_ui(ui, &name, &name, &board.lay, &lays, 142.0));
    if let Some(lay) = chosen {
        board.lay = lay;
    }
}

/// What fills the bays.
fn insulation_rows(form: &mut Form<'_, '_>, makeup: &mut MakeUp) {
    form.heading("Insulation");
    let has = makeup.insulation.is_some();
    if let Some(on) = form.tick("Insulated", has) {
        makeup.insulation = on.then(|| Insulation::usual(makeup.timber.depth()));
    }
    let Some(of) = &mut makeup.insulation else { return };
    let depth = makeup.timber.depth();
    if let Some(thick) = form.named_length("Thick", "Insulation thick", of.thickness, (5.0, 600.0))
    {
        of.thickness = thick;
    }
    let slab = (100.0, 50_000.0);
    if let Some(width) = form.named_length("Slab wide", "Slab wide", of.slab.0, slab) {
        of.slab.0 = width;
    }
    if let Some(length) = form.named_length("Slab long", "Slab long", of.slab.1, slab) {
        of.slab.1 = length;
    }
    if of.thickness > depth {
        form.note("Thicker than the frame is deep: it is squeezed.");
    }
}

fn plates_rows(form: &mut Form<'_, '_>, makeup: &mut MakeUp) {
    form.heading("Sole and head");
    let soles = SOLES.map(|k| (k, k));
    if let Some(kind) = small_choice(form, "Sole", &sole_kind(&makeup.sole), &soles) {
        makeup.sole = new_sole(kind);
    }
    if let Some(sole) = sole_number(form, &makeup.sole) {
        makeup.sole = sole;
    }
    levels::makeup_rows(form, makeup);
    let heads = ["tight", "slip", "free"].map(|k| (k, k));
    if let Some(kind) = small_choice(form, "Head", &head_kind(&makeup.head), &heads) {
        makeup.head = new_head(kind, form.scene.job.levels.ceiling);
    }
    if let Some(head) = head_number(form, &makeup.head) {
        makeup.head = head;
    }
    for (label, plates) in
        [("Sole plates", &mut makeup.sole_plates), ("Head plates", &mut makeup.head_plates)]
    {
        if let Some(n) = small_choice(form, label, plates, &[(1, "one"), (2, "two")]) {
            *plates = n;
        }
    }
}

fn recipe_rows(form: &mut Form<'_, '_>, makeup: &mut MakeUp) {
    form.heading("How it is built");
    let corners = [
        (CornerRecipe::Pair, "pair, right angle"),
        (CornerRecipe::Blocked, "two and blocks"),
        (CornerRecipe::Ground, "two and a ground"),
    ];
    if let Some(corner) = small_choice(form, "Corners", &makeup.corner, &corners) {
        makeup.corner = corner;
    }
    let tees = [
        (TeeRecipe::Studs, "two and blocks"),
        (TeeRecipe::Ladder, "ladder"),
        (TeeRecipe::Ground, "wide flat ground"),
    ];
    if let Some(tee) = small_choice(form, "Tees", &makeup.tee, &tees) {
        makeup.tee = tee;
    }
    let ends = [(AngledEnd::Ground, "ground, ripped flat"), (AngledEnd::Ripped, "stud, ripped")];
    if let Some(end) = small_choice(form, "Angled ends", &makeup.angled_end, &ends) {
        makeup.angled_end = end;
    }
    let studs = [(OpeningStuds::Single, "single"), (OpeningStuds::Double, "with jacks")];
    if let Some(studs) = small_choice(form, "Opening studs", &makeup.opening_studs, &studs) {
        makeup.opening_studs = studs;
    }
    let mut heads: Vec<(Option<Timber>, String)> = vec![(None, "as the studs".into())];
    let grade = makeup.timber.grade().clone();
    for section in &form.scene.catalogue.timber {
        let timber = Timber::new(section.thickness, section.depth, grade.clone());
        heads.push((Some(timber.clone()), timber.size_in(form.scene.job.units)));
    }
    heads.dedup_by(|a, b| a.0 == b.0);
    if heads.iter().all(|(t, _)| *t != makeup.opening_head)
        && let Some(own) = &makeup.opening_head
    {
        heads.push((Some(own.clone()), own.size()));
    }
    if let Some(head) = form.choice("Opening head", &makeup.opening_head.clone(), &heads) {
        makeup.opening_head = head;
    }
    let lays = [
        (HeadLay::Flat, "flat"),
        (HeadLay::OnEdge, "one on edge"),
        (HeadLay::Doubled, "two on edge, packed"),
    ];
    if let Some(lay) = small_choice(form, "Head lies", &makeup.opening_head_lay, &lays) {
        makeup.opening_head_lay = lay;
    }
    let packing = makeup.head_packing();
    if packing > 0.0 {
        form.shown("Packing in the head", form.scene.job.units.with_unit(packing));
    }
    if let Some(sills) = small_choice(form, "Sills", &makeup.sills, &[(1, "one"), (2, "two")]) {
        makeup.sills = sills;
    }
    form.ui.label(quiet(form.scene.theme, "Every wall of this make-up follows at once."));
}
