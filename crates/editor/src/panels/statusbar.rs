//! The line at the bottom: what the hand is about to do, the typed number, how long the last
//! layout took, and the unit.

use egui::{Align, Frame, Layout, Margin, Panel, Ui};

use crate::command::Command;
use crate::jobs::Kind;
use crate::panels::bits::quiet;
use crate::scene::Scene;
use crate::session::{Dialog, PathAsk, Where};

/// Height of the bar, points.
const HEIGHT: f32 = 30.0;

/// Shows the bar. `hand` shows what belongs to the drawing: its hint and the typed number.
pub fn statusbar_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    running: &[Kind],
    out: &mut Vec<Command>,
    hand: impl FnOnce(&mut Ui, &mut Vec<Command>),
) {
    let theme = scene.theme;
    let frame = Frame::new().fill(theme.bar).inner_margin(Margin::symmetric(14, 0));
    Panel::bottom("status bar").exact_size(HEIGHT).resizable(false).frame(frame).show(ui, |ui| {
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            ui.spacing_mut().item_spacing.x = 14.0;
            ui.label(quiet(theme, scene.job.units.short()));
            ui.label(quiet(theme, format!("re-laid in {:.1} ms", scene.layout_ms))).on_hover_text(
                "How long it took to work out the whole job again after the last change",
            );
            if let Some(word) = running.iter().find_map(|kind| kind.label()) {
                ui.label(quiet(theme, word).color(theme.accent));
            }
            ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
                match &scene.session.asking {
                    Some(ask) => waiting_ui(ui, scene, ask, out),
                    None if scene.session.place == Where::Draw => hand(ui, out),
                    None => {
                        ui.label(quiet(theme, about(scene.session.place)));
                    }
                }
            });
        });
    });
}

/// The system's file window is open, or was asked for and does not come.
fn waiting_ui(ui: &mut Ui, scene: &Scene<'_>, ask: &PathAsk, out: &mut Vec<Command>) {
    ui.label("The system's file window is open.");
    if ui.button("Type the path instead").clicked() {
        out.push(Command::Ask(Dialog::Path(ask.clone(), None)));
    }
    let _ = scene;
}

fn about(place: Where) -> &'static str {
    match place {
        Where::Draw => "",
        Where::Snags => "Choose a snag to see it in the plan and the elevation.",
        Where::Saw => "Batches are in cutting order: set the stop once, cut them all.",
        Where::Yard => "A length or price typed here is kept with the job.",
        Where::Sheets => {
            "Drawn as it will be printed. Ctrl and wheel zoom, drag moves, Page Up and Page Down turn the pages."
        }
    }
}
