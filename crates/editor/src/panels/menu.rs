//! The menu: the table of actions by group, and the recent files.

use egui::{Button, Popup, Response, RichText, Ui};

use crate::actions::{ALL, Group, key_text};
use crate::command::Command;
use crate::icons::Icon;
use crate::panels::bits::{icon_button_ui, quiet};
use crate::prefs::Preference;
use crate::scene::Scene;

/// The menu behind one sign.
pub fn menu_ui(ui: &mut Ui, scene: &Scene<'_>, out: &mut Vec<Command>) {
    let response = icon_button_ui(ui, scene.theme, Icon::Menu, "Menu", true);
    popup_ui(&response, scene, out);
}

fn popup_ui(response: &Response, scene: &Scene<'_>, out: &mut Vec<Command>) {
    Popup::menu(response).accessible_name("Menu").show(|ui| {
        ui.set_min_width(190.0);
        for group in Group::ALL {
            ui.menu_button(group.label(), |ui| {
                ui.set_min_width(250.0);
                for action in ALL.iter().filter(|a| a.group == group) {
                    let button = Button::new(action.label).shortcut_text(
                        RichText::new(key_text(ui.ctx(), action)).color(scene.theme.quiet),
                    );
                    if ui
                        .add_enabled((action.enabled)(scene), button)
                        .on_hover_text(action.tip)
                        .clicked()
                    {
                        out.push((action.command)(scene));
                        ui.close();
                    }
                    if action.label == "Open by typed path…" {
                        ui.menu_button("Recent", |ui| recent_ui(ui, scene, out));
                    }
                }
            });
        }
    });
}

fn recent_ui(ui: &mut Ui, scene: &Scene<'_>, out: &mut Vec<Command>) {
    ui.set_min_width(260.0);
    if scene.prefs.recent.is_empty() {
        ui.label(quiet(scene.theme, "Nothing opened or saved yet"));
        return;
    }
    for path in &scene.prefs.recent {
        let name = path.file_name().unwrap_or(path.as_os_str()).to_string_lossy();
        if ui.button(name).on_hover_text(path.display().to_string()).clicked() {
            out.push(Command::Open(Some(path.clone())));
            ui.close();
        }
    }
    ui.separator();
    if ui.button("Forget these").clicked() {
        out.push(Command::Prefer(Preference::ForgetRecent));
        ui.close();
    }
}
