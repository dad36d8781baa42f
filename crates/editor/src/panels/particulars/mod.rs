//! The particulars of what is picked.

use egui::Ui;

use crate::canvas::DrawState;
use crate::command::Command;
use crate::scene::Scene;

/// Page
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Page {
    /// What is picked.
    #[default]
    Picked,
}

/// The panel.
pub fn particulars_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    _state: &mut DrawState,
    _out: &mut Vec<Command>,
) {
    if let Some(item) = &scene.session.picked {
        ui.label(item.label());
    }
}
