//! One line to the person, above the status bar: what was done, or what could not be done.

use egui::{Frame, Margin, Panel, Ui};

use crate::command::Command;
use crate::icons::Icon;
use crate::panels::bits::icon_button_ui;
use crate::scene::Scene;

/// Shows the message, when there is one.
pub fn message_ui(ui: &mut Ui, scene: &Scene<'_>, out: &mut Vec<Command>) {
    let Some(message) = &scene.session.message else { return };
    let theme = scene.theme;
    let (sign, colour) = if message.failed {
        (Icon::Severity(layout_core::snag::Severity::Mend), theme.mend)
    } else {
        (Icon::Tick, theme.good)
    };
    let frame = Frame::new().fill(theme.sheet).inner_margin(Margin::symmetric(14, 3));
    Panel::bottom("message").resizable(false).frame(frame).show(ui, |ui| {
        ui.horizontal(|ui| {
            sign.show(ui, 18.0, colour);
            ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                if icon_button_ui(ui, theme, Icon::Close, "Put the message away", true).clicked() {
                    out.push(Command::Hush);
                }
                if let Some(file) = &message.file
                    && ui.button("Show it").clicked()
                {
                    out.push(Command::ShowFile(file.clone()));
                }
                ui.with_layout(egui::Layout::left_to_right(egui::Align::Center), |ui| {
                    ui.add(egui::Label::new(&message.text).wrap());
                });
            });
        });
    });
}
