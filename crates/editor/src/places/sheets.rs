//! sheets
use crate::command::Command;
use crate::icons::Icon;
use crate::panels::bits::empty_ui;
use crate::scene::Scene;
use egui::Ui;

/// Shows the place.
pub fn sheets_ui(ui: &mut Ui, scene: &Scene<'_>, _out: &mut Vec<Command>) {
    empty_ui(ui, scene.theme, Icon::Sheet, "Nothing yet", "Draw a wall and come back.");
}
