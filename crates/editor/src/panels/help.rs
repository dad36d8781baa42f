//! Help that stands in the window: the first hint and the sheet of keys.

use egui::{Align, Frame, Grid, Layout, Margin, Modal, Panel, Ui, vec2};

use crate::actions::{ALL, Group, key_text};
use crate::command::Command;
use crate::icons::Icon;
use crate::panels::bits::{card, icon_button_ui, main_button, quiet, strong, veil};
use crate::prefs::Preference;
use crate::scene::Scene;

/// Three things to try, in a line under the drawing until it is put away.
pub fn hint_ui(ui: &mut Ui, scene: &Scene<'_>, out: &mut Vec<Command>) {
    let theme = scene.theme;
    let frame = Frame::new().fill(theme.accent_tint).inner_margin(Margin::symmetric(14, 3));
    Panel::bottom("first hint").resizable(false).frame(frame).show(ui, |ui| {
        ui.horizontal(|ui| {
            ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                if icon_button_ui(ui, theme, Icon::Close, "Put the hint away", true).clicked() {
                    out.push(Command::Prefer(Preference::HintRead(true)));
                }
                ui.with_layout(Layout::left_to_right(Align::Center).with_main_wrap(true), |ui| {
                    ui.label(strong("Three things to try", 13.0));
                    for (number, text) in [
                        ("1", "Drag a door along its wall and watch the studs."),
                        ("2", "While you drag, type a distance: 1200, 1.2m, =3600/3."),
                        ("3", "Press Ctrl K to find anything that can be done."),
                    ] {
                        ui.add_space(6.0);
                        ui.label(strong(number, 13.0).color(theme.accent));
                        ui.label(text);
                    }
                });
            });
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
