//! Levels that were read on site: those along a wall as a short table, and the page of a single one.

use egui::accesskit::Role;
use egui::{Align, Align2, Button, FontId, Layout, RichText, Sense, Ui, WidgetInfo, pos2, vec2};
use layout_core::document::{Edit, Levels, Reading, Wall};
use layout_core::id::{ItemRef, Name, Surface};
use layout_core::math::PlanPoint;
use layout_core::resolve::WallSpec;
use layout_core::setout;
use layout_core::units::Units;

use super::form::{Form, NUMBER, number_ui};
use super::{shell, title};
use crate::command::Command;
use crate::panels::field::field_ui;
use crate::scene::Scene;

/// Bounds of a level, mm above FFL.
pub(super) const LEVELS: (f64, f64) = (-10_000.0, 20_000.0);
/// Bounds of a distance along a wall.
const ALONG: (f64, f64) = (-100_000.0, 100_000.0);
/// What levels are read on, in the order of the lists.
const SURFACES: [Surface; 2] = [Surface::Floor, Surface::Ceiling];

/// Widths of the columns of the table: distance, level, level from the laser line, packer. Feet and inches are too long for
/// both levels: there the one that is read stands alone.
fn widths(units: Units) -> [f32; 4] {
    match units {
        Units::Millimetres => [56.0, 54.0, 66.0, 25.0],
        Units::FeetInches => [78.0, 0.0, 94.0, 33.0],
    }
}

/// Between two columns.
const GAP: f32 = 3.0;

/// The page of one level that was read.
pub(super) fn page(form: &mut Form<'_, '_>, wall: Option<&Name>, surface: Surface, index: usize) {
    let item = ItemRef::Reading { wall: wall.cloned(), surface, index };
    let what = format!("{} level {}", sentence(surface), index + 1);
    let job = form.scene.job;
    let Some(name) = wall else {
        let Some(reading) = job.levels.readings.of(surface).get(index).copied() else { return };
        title(form, &what, "read in the room", &item);
        let mut new = reading;
        if let Some(at) = shell::place_rows(form, reading.at) {
            new.at = at;
        }
        if let Some(level) = level_rows(form, reading.level) {
            new.level = level;
        }
        if new != reading {
            let mut readings = job.levels.readings.of(surface).clone();
            readings[index] = new;
            form.edit(Edit::SetReadings { surface, readings });
        }
        return;
    };
    let Some(drawn) = job.wall(name) else { return };
    let Some(&(along, level)) = drawn.readings(surface).get(index) else { return };
    title(form, &what, &format!("read along wall {name}"), &item);
    let mut new = (along, level);
    if let Some(along) = form.length("From its start", along, ALONG) {
        new.0 = along;
    }
    if let Some(level) = level_rows(form, level) {
        new.1 = level;
    }
    if new != (along, level) {
        let mut readings = drawn.readings(surface).clone();
        readings[index] = new;
        form.edit(Edit::SetWallReadings { wall: name.clone(), surface, readings });
    }
    wall_table(form, name);
}

/// A level above FFL, and what a tape says from the laser line; either can be typed.
fn level_rows(form: &mut Form<'_, '_>, level: f64) -> Option<f64> {
    let laser = form.scene.job.levels.laser;
    let from_ffl = form.named_length("Above FFL", "Level above FFL", level, LEVELS);
    let from_laser = form.row_with("From laser line", NUMBER, |ui, scene| {
        ui.label(crate::panels::bits::quiet(scene.theme, scene.job.units.short()));
        laser_ui(ui, scene, "From the laser line", level - laser, 88.0)
    });
    from_ffl.or_else(|| from_laser.map(|by| laser + by))
}

/// The levels read along a wall, those of the floor first, each list from the start of the wall on.
pub(super) fn wall_table(form: &mut Form<'_, '_>, name: &Name) {
    let Some(wall) = form.scene.job.wall(name).cloned() else { return };
    form.note("Levels read along it");
    heads(form);
    for surface in SURFACES {
        surface_rows(form, &wall, surface);
    }
}

/// What stands over the columns.
fn heads(form: &mut Form<'_, '_>) {
    let theme = form.scene.theme;
    let (rect, _) =
        form.ui.allocate_exact_size(vec2(form.ui.available_width(), 16.0), Sense::hover());
    let mut x = rect.left();
    let [along, level, laser, pack] = widths(form.scene.job.units);
    for (words, width) in
        [("from start", along), ("from FFL", level), ("from laser", laser), ("pack", pack)]
    {
        if width == 0.0 {
            continue;
        }
        let at = pos2(x + width - 2.0, rect.center().y);
        let font = FontId::proportional(11.0);
        form.ui.painter().text(at, Align2::RIGHT_CENTER, words, font, theme.quiet);
        x += width + GAP;
    }
}

fn surface_rows(form: &mut Form<'_, '_>, wall: &Wall, surface: Surface) {
    let scene = form.scene;
    let before = wall.readings(surface);
    let mut readings = before.clone();
    let spec = scene.layout.wall(&wall.name).map(|w| &*w.spec);
    let add = form
        .ui
        .horizontal(|ui| {
            ui.label(RichText::new(sentence(surface)).size(13.0));
            ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                ui.small_button("Add")
                    .accessible_name(format!("Add a {} level", surface.label()))
                    .clicked()
            })
            .inner
        })
        .inner;
    let mut gone = None;
    let mut order: Vec<usize> = (0..before.len()).collect();
    order.sort_by(|a, b| before[*a].0.total_cmp(&before[*b].0));
    for i in order {
        form.ui.push_id((surface.label(), i), |ui| {
            ui.horizontal(|ui| {
                ui.spacing_mut().item_spacing.x = GAP;
                if row_ui(ui, scene, spec, (surface, i), &mut readings[i]) {
                    gone = Some(i);
                }
            });
        });
    }
    if let Some(i) = gone {
        readings.remove(i);
    }
    if add {
        // A metre on from the last, at the level that is taken to be there.
        let along = before.iter().map(|r| r.0 + 1000.0).fold(0.0, f64::max);
        let level =
            spec.map_or(scene.job.levels.nominal(surface), |spec| spec.surface(surface).at(along));
        readings.push((along, scene.job.units.round(level)));
    }
    if readings != *before {
        form.edit(Edit::SetWallReadings { wall: wall.name.clone(), surface, readings });
    }
}

/// One line of the table. True when it is to be taken out.
fn row_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    spec: Option<&WallSpec>,
    (surface, i): (Surface, usize),
    reading: &mut (f64, f64),
) -> bool {
    let (along, level) = *reading;
    let laser = scene.job.levels.laser;
    let called = format!("{} level {}", surface.label(), i + 1);
    let widths = widths(scene.job.units);
    let name = format!("Place of {called}");
    if let Some(new) = number_ui(ui, scene, &name, along, ALONG, widths[0]) {
        reading.0 = new;
    }
    let name = format!("Height of {called}");
    if widths[1] > 0.0
        && let Some(new) = number_ui(ui, scene, &name, level, LEVELS, widths[1])
    {
        reading.1 = new;
    }
    let name = format!("From the laser line to {called}");
    if let Some(by) = laser_ui(ui, scene, &name, level - laser, widths[2]) {
        reading.1 = laser + by;
    }
    let (rect, response) = ui.allocate_exact_size(vec2(widths[3], 20.0), Sense::hover());
    if let (Surface::Floor, Some(spec)) = (surface, spec) {
        let shown = scene.job.units.show((spec.bed.at(along) - spec.floor.at(along)).max(0.0));
        let named = format!("Packer at {called}: {shown}");
        response.widget_info(|| WidgetInfo::labeled(Role::Label, true, &named));
        let font = FontId::proportional(13.0);
        let at = rect.right_center();
        ui.painter().text(at, Align2::RIGHT_CENTER, &shown, font, scene.theme.ink);
        response.on_hover_text("From the floor up to the sole here");
    }
    let name = format!("Remove {called}");
    ui.add(Button::new("×").small()).accessible_name(&name).on_hover_text(name).clicked()
}

/// What a tape adds to or takes from the laser line, with its sign.
fn laser_ui(ui: &mut Ui, scene: &Scene<'_>, name: &str, value: f64, width: f32) -> Option<f64> {
    let units = scene.job.units;
    let shown = setout::signed(units, value);
    let typed = field_ui(ui, scene.theme, name, &shown, width, |text| {
        let length = units.read(text.trim().trim_start_matches('+'))?;
        let level = length + scene.job.levels.laser;
        if (LEVELS.0..=LEVELS.1).contains(&level) {
            Ok(length)
        } else {
            Err("That is too far from the laser line.".into())
        }
    });
    typed.response.on_hover_text(format!("{name}: up is plus, down is minus"));
    typed.value.filter(|typed| (typed - value).abs() > layout_core::math::SAME)
}

/// “Floor”, “Ceiling”.
fn sentence(surface: Surface) -> &'static str {
    match surface {
        Surface::Floor => "Floor",
        Surface::Ceiling => "Ceiling",
    }
}

/// The levels read in the room: part of the job's page.
pub(super) fn job_rows(form: &mut Form<'_, '_>, levels: &Levels) {
    form.heading("Levels read in the room");
    for surface in SURFACES {
        for (index, reading) in levels.readings.of(surface).clone().iter().enumerate() {
            let words = format!(
                "{} level {}: {}",
                sentence(surface),
                index + 1,
                form.scene.job.units.with_unit(reading.level)
            );
            if form.ui.link(RichText::new(words).size(13.0)).clicked() {
                let item = ItemRef::Reading { wall: None, surface, index };
                form.out.push(Command::Pick(Some(item)));
            }
        }
    }
    let mut add = None;
    form.ui.horizontal(|ui| {
        for surface in SURFACES {
            let words = format!("Add a {} level", surface.label());
            if ui.button(RichText::new(words).size(13.0)).clicked() {
                add = Some(surface);
            }
        }
    });
    if let Some(surface) = add {
        let mut readings = levels.readings.of(surface).clone();
        let item = ItemRef::Reading { wall: None, surface, index: readings.len() };
        readings.push(new_reading(form.scene, levels, surface));
        form.edit(Edit::SetReadings { surface, readings });
        form.out.push(Command::Pick(Some(item)));
    }
}

/// A level in the middle of the room, where the job says it is.
fn new_reading(scene: &Scene<'_>, levels: &Levels, surface: Surface) -> Reading {
    let outline = &scene.job.shell.outline;
    let sum = outline.iter().fold(PlanPoint::origin().coords, |sum, c| sum + c.at.coords);
    Reading { at: (sum / outline.len().max(1) as f64).into(), level: levels.nominal(surface) }
}
