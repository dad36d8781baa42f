//! Snags: what is or will be wrong, the gravest first; choosing one goes to it.

use egui::accesskit::Role;
use egui::{Align2, Label, Rect, ScrollArea, Sense, Ui, WidgetInfo, pos2, vec2};
use layout_core::snag::{Severity, Snag};
use layout_core::units::Units;

use crate::command::Command;
use crate::icons::Icon;
use crate::panels::bits::{empty_ui, focus_ring, hairline_ui, heading_ui, quiet, strong, write};
use crate::places::mending::{mending_button_ui, mending_ui};
use crate::scene::Scene;
use crate::session::Where;

/// Shows the place.
pub fn snags_ui(ui: &mut Ui, scene: &Scene<'_>, out: &mut Vec<Command>) {
    let theme = scene.theme;
    let snags = &scene.layout.snags;
    if snags.is_empty() {
        let then = if scene.job.walls.is_empty() {
            "There is no wall to look at yet. Draw one and come back."
        } else {
            "Everything the program knows how to check fits. Check it on site before cutting all the same."
        };
        empty_ui(ui, theme, Icon::Tick, "No snags", then);
        return;
    }
    ScrollArea::vertical().auto_shrink([false, false]).show(ui, |ui| {
        ui.set_max_width(1290.0);
        for severity in [Severity::Stop, Severity::Mend, Severity::Note] {
            let of_this: Vec<&Snag> = snags.iter().filter(|s| s.severity() == severity).collect();
            if !of_this.is_empty() {
                heading_ui(ui, theme, heading(severity), &of_this.len().to_string());
                hairline_ui(ui, theme);
                for (i, snag) in of_this.into_iter().enumerate() {
                    row_ui(ui, scene, snag, i, out);
                    hairline_ui(ui, theme);
                }
                ui.add_space(18.0);
            }
        }
    });
}

fn heading(severity: Severity) -> &'static str {
    match severity {
        Severity::Stop => "Stop: do not build it like this",
        Severity::Mend => "Mend: it will not fit, or will have to be undone",
        Severity::Note => "Note: worth knowing before it is cut",
    }
}

/// Widths of the sign, of the place and the source, and of the buttons.
const SIGN: f32 = 96.0;
const PLACE: f32 = 250.0;
const BUTTONS: f32 = 120.0;

fn row_ui(ui: &mut Ui, scene: &Scene<'_>, snag: &Snag, index: usize, out: &mut Vec<Command>) {
    let theme = scene.theme;
    let colour = theme.severity(snag.severity());
    let top = ui.cursor().min;
    let width = ui.available_width();
    let words = width - SIGN - PLACE - BUTTONS - 24.0;
    // The row is laid out first and made to answer as a whole afterwards, so that its height follows its words.
    let behind = ui.painter().add(egui::Shape::Noop);
    let column = |ui: &mut Ui, left: f32, wide: f32, add: &mut dyn FnMut(&mut Ui)| {
        let rect = Rect::from_min_size(top + vec2(left, 9.0), vec2(wide, f32::INFINITY));
        let inner = ui.scope_builder(egui::UiBuilder::new().max_rect(rect), |ui| {
            ui.spacing_mut().item_spacing.y = 3.0;
            add(ui);
        });
        inner.response.rect.bottom()
    };
    let said = column(ui, SIGN, words, &mut |ui| {
        ui.add(Label::new(strong(snag.message.clone(), 13.5)).wrap().selectable(false));
        ui.add(Label::new(snag.remedy.as_str()).wrap().selectable(false));
    });
    let placed = column(ui, width - PLACE - BUTTONS, PLACE - 16.0, &mut |ui| {
        let place = place_of(scene.job.units, snag);
        ui.add(Label::new(quiet(theme, place)).wrap().selectable(false));
        ui.add(Label::new(quiet(theme, snag.code.source()).size(11.5)).wrap().selectable(false));
    });
    let rect =
        Rect::from_min_max(top, pos2(top.x + width, said.max(placed).max(top.y + 30.0) + 9.0));
    let response =
        ui.interact(rect, ui.scope_id().with((snag.severity().label(), index)), Sense::click());
    let name = format!("{}: {}", snag.severity().label(), snag.message);
    response.widget_info(|| WidgetInfo::labeled(Role::Button, true, &name));
    if response.hovered() {
        ui.painter().set(behind, egui::Shape::rect_filled(rect, 0.0, theme.hover));
    }
    focus_ring(ui, theme, &response, rect);
    Icon::Severity(snag.severity()).paint(
        ui.painter(),
        Rect::from_center_size(pos2(top.x + 20.0, top.y + 20.0), vec2(20.0, 20.0)),
        colour,
    );
    let word = pos2(top.x + 40.0, top.y + 19.0);
    write(ui, word, Align2::LEFT_CENTER, snag.severity().label(), 13.5, colour);
    // Over the row, so that they are pressed and not the row.
    column(ui, width - BUTTONS, BUTTONS, &mut |ui| mending_button_ui(ui, scene, snag, out));
    ui.advance_cursor_after_rect(rect);
    if scene.session.mending.as_ref() == Some(snag) {
        let left = ui.cursor().min + vec2(SIGN, 0.0);
        let ways = Rect::from_min_size(left, vec2(words + PLACE, f32::INFINITY));
        let inner = ui.scope_builder(egui::UiBuilder::new().max_rect(ways), |ui| {
            mending_ui(ui, scene, snag, out);
            ui.add_space(8.0);
        });
        let covered = inner.response.rect;
        ui.advance_cursor_after_rect(Rect::from_min_max(
            pos2(top.x, covered.top()),
            pos2(top.x + width, covered.bottom()),
        ));
    }
    if response.on_hover_cursor(egui::CursorIcon::PointingHand).clicked() {
        out.push(Command::Pick(Some(snag.of.clone())));
        if let Some(wall) = wall_of(scene, snag) {
            out.push(Command::ShowWall(wall));
        }
        out.push(Command::Go(Where::Draw));
    }
}

/// “wall A, 2 300 along, 1 200 up”
fn place_of(units: Units, snag: &Snag) -> String {
    let mut parts =
        vec![snag.wall.as_ref().map_or_else(|| snag.of.label(), |wall| format!("wall {wall}"))];
    if let Some(station) = snag.station {
        parts.push(format!("{} along", units.show(station)));
    }
    if let Some(height) = snag.height {
        parts.push(format!("{} up", units.show(height)));
    }
    parts.join(", ")
}

fn wall_of(scene: &Scene<'_>, snag: &Snag) -> Option<layout_core::id::Name> {
    snag.wall.clone().or_else(|| scene.job.wall_of(&snag.of).map(|w| w.name.clone()))
}
