//! The job's own particulars: title, levels, make-ups, room names.

use egui::TextEdit;
use layout_core::document::{CeilingBoards, CeilingTurn, Datum, Edit, Layer, Levels, Room};
use layout_core::id::{ItemRef, Name};
use layout_core::math::PlanVector;
use layout_core::units::Units;

use super::form::{Form, number_ui, small_choice};
use crate::command::Command;
use crate::panels::bits::strong;
use crate::panels::field::words_ui;

/// The page of the job.
pub(super) fn page(form: &mut Form<'_, '_>) {
    form.ui.label(strong("The job", 15.0));
    title_rows(form);
    level_rows(form);
    makeup_rows(form);
    room_rows(form);
    datum_rows(form);
    super::limits::rules_rows(form);
}

fn title_rows(form: &mut Form<'_, '_>) {
    let (title, notes) = (form.scene.job.title.clone(), form.scene.job.notes.clone());
    let wide = form.ui.available_width() - 10.0;
    let typed = words_ui(form.ui, form.scene.theme, "Title", &title, wide, |text| {
        let text = text.trim();
        if text.is_empty() { Err("A job needs a title.".into()) } else { Ok(text.to_owned()) }
    });
    if let Some(title) = typed.value {
        form.edit(Edit::SetTitle { title, notes: notes.clone() });
    }
    form.ui.add_space(4.0);
    notes_ui(form, &title, &notes);
}

/// The notes, several lines of them. Leaving the field takes them, as one step.
fn notes_ui(form: &mut Form<'_, '_>, title: &str, notes: &str) {
    let id = form.ui.make_persistent_id("notes for the crew");
    let mut text = form.ui.data(|d| d.get_temp::<String>(id)).unwrap_or_else(|| notes.to_owned());
    let edit = TextEdit::multiline(&mut text)
        .hint_text("Notes for the crew")
        .id(id)
        .desired_rows(3)
        .desired_width(f32::INFINITY);
    let response = form.ui.add(edit.char_limit(4000)).accessible_name("Notes for the crew");
    if response.has_focus() {
        form.ui.data_mut(|d| d.insert_temp(id, text));
    } else if response.lost_focus() {
        form.ui.data_mut(|d| d.remove::<String>(id));
        if text != notes {
            form.edit(Edit::SetTitle { title: title.to_owned(), notes: text });
        }
    }
}

fn level_rows(form: &mut Form<'_, '_>) {
    let options = Units::ALL.map(|units| (units, units.words().to_owned()));
    if let Some(units) = form.choice("Lengths in", &form.scene.job.units, &options) {
        form.edit(Edit::SetUnits(units));
    }
    form.heading("Levels");
    let levels = form.scene.job.levels.clone();
    let mut new = levels.clone();
    if let Some(ceiling) = form.length("Ceiling", levels.ceiling, (500.0, 10_000.0)) {
        new.ceiling = ceiling;
    }
    if let Some(laser) = form.length("Laser line", levels.laser, (-1000.0, 10_000.0)) {
        new.laser = laser;
    }
    form.shown("Slab", form.scene.job.units.with_unit(levels.slab()));
    form.note("Floor build-up, from the top down");
    layers(form, &mut new);
    ceiling(form, &mut new);
    super::levels::job_rows(form, &mut new);
    super::limits::level_rows(form, &mut new);
    if new != levels {
        form.edit(Edit::SetLevels(new));
    }
}

/// Whether the room's own ceiling is boarded, and on what.
fn ceiling(form: &mut Form<'_, '_>, levels: &mut Levels) {
    let now = levels.boarded.as_ref().map(|b| b.turn);
    let options = [
        (None, "not boarded"),
        (Some(CeilingTurn::BeforePartitions), "boarded before partitions"),
        (Some(CeilingTurn::AfterPartitions), "boarded after partitions"),
    ];
    if let Some(turn) = small_choice(form, "Room's ceiling", &now, &options) {
        let boards = levels.boarded.take().unwrap_or_default();
        levels.boarded = turn.map(|turn| CeilingBoards { turn, ..boards });
    }
    let Some(boards) = &mut levels.boarded else { return };
    super::platform::boards(form, "Its boards", &mut boards.below);
    if let Some(turn) = form.number("Joists run at", "°", boards.joists_deg, (-360.0, 360.0)) {
        boards.joists_deg = turn;
    }
    if let Some(centres) = form.length("Joist centres", boards.centres, (50.0, 2000.0)) {
        boards.centres = centres;
    }
    if let Some(first) = form.length("Middle of the first", boards.first, (0.0, 2000.0)) {
        boards.first = first;
    }
    if let Some(width) = form.length("Joist width", boards.width, (5.0, 600.0)) {
        boards.width = width;
    }
    form.note("0° is along x. The first is counted from the left of the room as you look along the joists.");
}

fn layers(form: &mut Form<'_, '_>, levels: &mut Levels) {
    let mut gone = None;
    for i in (0..levels.build_up.len()).rev() {
        let layer = &mut levels.build_up[i];
        let name = layer.name.clone();
        form.ui.push_id(i, |ui| {
            ui.horizontal(|ui| {
                ui.spacing_mut().item_spacing.x = 4.0;
                let theme = form.scene.theme;
                let called =
                    words_ui(ui, theme, &format!("Layer {}", i + 1), &name, 100.0, |text| {
                        let text = text.trim();
                        if text.is_empty() {
                            Err("A layer needs a name.".into())
                        } else {
                            Ok(text.to_owned())
                        }
                    });
                if let Some(called) = called.value {
                    layer.name = called;
                }
                let label = format!("Thickness of layer {}", i + 1);
                if let Some(t) =
                    number_ui(ui, form.scene, &label, layer.thickness, (0.0, 2000.0), 56.0)
                {
                    layer.thickness = t;
                }
                ui.label(crate::panels::bits::quiet(theme, form.scene.job.units.short()));
                if ui.small_button("×").on_hover_text(format!("Take {name} out")).clicked() {
                    gone = Some(i);
                }
            });
        });
    }
    if let Some(i) = gone {
        levels.build_up.remove(i);
    }
    if form.button("Add a layer on top") {
        levels.build_up.push(Layer { name: "layer".into(), thickness: 50.0 });
    }
}

fn makeup_rows(form: &mut Form<'_, '_>) {
    form.heading("Make-ups");
    let makeups = form.scene.job.makeups.clone();
    for makeup in makeups {
        let words = format!(
            "{} at {}",
            makeup.timber.size_in(form.scene.job.units),
            form.scene.job.units.show(makeup.centres)
        );
        let open = form
            .ui
            .horizontal(|ui| {
                let open = ui.link(egui::RichText::new(makeup.name.as_str()).size(13.0)).clicked();
                ui.label(crate::panels::bits::quiet(form.scene.theme, words));
                open
            })
            .inner;
        if open {
            form.out.push(Command::Pick(Some(ItemRef::MakeUp(makeup.name.clone()))));
        }
    }
}

fn room_rows(form: &mut Form<'_, '_>) {
    form.heading("Room names");
    let rooms = form.scene.job.rooms.clone();
    for room in &rooms {
        if form.ui.link(egui::RichText::new(room.name.as_str()).size(13.0)).clicked() {
            form.out.push(Command::Pick(Some(ItemRef::Room(room.name.clone()))));
        }
    }
    if form.button("Add a room name") {
        let free = (1..).map(|n| Name::new(format!("Room {n}")));
        let name =
            free.into_iter().find(|n| rooms.iter().all(|r| r.name != *n)).unwrap_or_default();
        let outline = &form.scene.job.shell.outline;
        let middle = outline.iter().fold(PlanVector::zeros(), |sum, c| sum + c.at.coords)
            / outline.len().max(1) as f64;
        form.edit(Edit::PutRoom(Room { name: name.clone(), at: middle.into() }));
        form.out.push(Command::Pick(Some(ItemRef::Room(name))));
    }
}

fn datum_rows(form: &mut Form<'_, '_>) {
    form.heading("Datum");
    let datum = form.scene.job.datum.clone();
    let wide = form.ui.available_width() - 10.0;
    let typed = words_ui(form.ui, form.scene.theme, "Datum", &datum.label, wide, |text| {
        let text = text.trim();
        if text.is_empty() { Err("Say how the crew finds it.".into()) } else { Ok(text.to_owned()) }
    });
    if let Some(label) = typed.value {
        form.edit(Edit::SetDatum(Datum { label, ..datum }));
    }
}
