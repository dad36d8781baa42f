//! Help that stands in the window: the first hint and the sheet of keys.

use egui::{Align2, Area, Frame, Grid, Margin, Modal, Stroke, Ui, vec2};

use crate::actions::{ALL, Group, key_text};
use crate::command::Command;
use crate::icons::Icon;
use crate::panels::bits::{card, icon_button_ui, main_button, quiet, strong, veil};
use crate::prefs::Preference;
use crate::scene::Scene;

/// Width of the hint's words, points: it stands over the foot of the particulars.
const HINT: f32 = 214.0;

/// Three things to try, over the drawing until they are put away.
pub fn hint_ui(ctx: &egui::Context, scene: &Scene<'_>, out: &mut Vec<Command>) {
    let theme = scene.theme;
    // Clear of the status bar, and of a message above it.
    let above = if scene.session.message.is_some() { 82.0 } else { 40.0 };
    let area = Area::new(egui::Id::unique("first hint"))
        .anchor(Align2::RIGHT_BOTTOM, vec2(-10.0, -above))
        .order(egui::Order::Middle);
    area.show(ctx, |ui| {
        let frame = Frame::new()
            .fill(theme.field)
            .stroke(Stroke::new(1.0, theme.accent))
            .corner_radius(3.0)
            .inner_margin(Margin::same(14));
        frame.show(ui, |ui| {
            ui.set_max_width(HINT);
            ui.horizontal(|ui| {
                ui.set_width(HINT);
                ui.label(strong("Three things to try", 14.0));
                ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                    if icon_button_ui(ui, theme, Icon::Close, "Put the hint away", true).clicked() {
                        out.push(Command::Prefer(Preference::HintRead(true)));
                    }
                });
            });
            for (number, text) in [
                ("1", "Drag a door along its wall, in the plan or the elevation, and watch the studs."),
                ("2", "While you drag, type a distance: 1200, 1.2m or =3600/3."),
                ("3", "Press Ctrl K and type a word to find anything that can be done."),
            ] {
                ui.horizontal_top(|ui| {
                    ui.label(strong(number, 13.5).color(theme.accent));
                    ui.add(egui::Label::new(text).wrap());
                });
            }
        });
    });
}

/// Every key on one sheet.
pub fn keys_ui(ctx: &egui::Context, scene: &Scene<'_>, out: &mut Vec<Command>) {
    let modal = Modal::new(egui::Id::unique("keys"))
        .backdrop_color(veil(scene.theme))
        .frame(card(scene.theme))
        .show(ctx, |ui| {
            ui.spacing_mut().interact_size.y = 0.0;
            ui.label(strong("Keys", 16.0));
            ui.add_space(4.0);
            ui.horizontal_top(|ui| {
                column_ui(ui, scene, &[Group::Job, Group::Change, Group::Tools]);
                ui.add_space(28.0);
                ui.vertical(|ui| {
                    column_ui(ui, scene, &[Group::See, Group::Print, Group::Window]);
                    hand_keys_ui(ui, scene);
                });
            });
            ui.add_space(10.0);
            ui.add(main_button(scene.theme, "Close")).clicked()
        });
    if modal.inner || modal.should_close() {
        out.push(Command::Dismiss);
    }
}

fn column_ui(ui: &mut Ui, scene: &Scene<'_>, groups: &[Group]) {
    ui.vertical(|ui| {
        for group in groups {
            ui.label(strong(group.label(), 13.0));
            let rows = ALL.iter().filter(|a| a.group == *group && a.key.is_some());
            let rows = rows.map(|a| (a.label.trim_end_matches('…'), key_text(ui.ctx(), a)));
            rows_ui(ui, scene, group.label(), &rows.collect::<Vec<_>>());
            ui.add_space(8.0);
        }
    });
}

fn rows_ui(ui: &mut Ui, scene: &Scene<'_>, id: &str, rows: &[(&str, String)]) {
    Grid::new(("keys", id)).num_columns(2).min_col_width(150.0).spacing(vec2(14.0, 4.0)).show(
        ui,
        |ui| {
            for (what, key) in rows {
                ui.label(*what);
                ui.label(quiet(scene.theme, key));
                ui.end_row();
            }
        },
    );
}

/// What the hand does in the drawing, which no table of actions can say.
fn hand_keys_ui(ui: &mut Ui, scene: &Scene<'_>) {
    ui.vertical(|ui| {
        ui.label(strong("While dragging", 13.0));
        let rows = [
            ("Fix the distance exactly", "type it, Enter"),
            ("Give it back", "Esc"),
            ("No snapping", "hold Alt"),
        ];
        rows_ui(ui, scene, "hand", &rows.map(|(what, key)| (what, key.to_string())));
    });
}
