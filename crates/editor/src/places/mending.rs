//! Ways to mend a snag: each with what it changes, made so by one click.

use egui::{RichText, Ui};
use layout_core::remedies::{Remedy, may_be_mended};
use layout_core::snag::Snag;
use layout_core::units::Units;

use crate::command::Command;
use crate::panels::bits::{quiet, unbroken};
use crate::scene::Scene;
use crate::session::Where;

/// A button that opens the ways to mend `snag`, or puts them away.
pub fn mending_button_ui(ui: &mut Ui, scene: &Scene<'_>, snag: &Snag, out: &mut Vec<Command>) {
    if !may_be_mended(snag.code) {
        return;
    }
    let open = scene.session.mending.as_ref() == Some(snag);
    let words = if open { "Put away" } else { "Ways to mend" };
    let response = ui.small_button(RichText::new(words).size(12.0));
    let name = format!("{words}: {}", snag.message);
    response.widget_info(|| {
        egui::WidgetInfo::labeled(egui::accesskit::Role::Button, true, name.clone())
    });
    if response.clicked() {
        out.push(Command::Mend((!open).then(|| Box::new(snag.clone()))));
    }
}

/// The ways to mend `snag`, when they are asked for: a click does it, as one step. In Draw the drawing shows what a
/// pointed at one would do.
pub fn mending_ui(ui: &mut Ui, scene: &Scene<'_>, snag: &Snag, out: &mut Vec<Command>) {
    if scene.session.mending.as_ref() != Some(snag) {
        return;
    }
    let Some(remedies) = scene.remedies else { return };
    if remedies.is_empty() {
        ui.label(quiet(
            scene.theme,
            "The program knows no way that opens nothing else. See the line above.",
        ));
        return;
    }
    for remedy in remedies {
        let words = effect(scene.job.units, remedy);
        let response =
            ui.add(egui::Button::new(RichText::new(unbroken(&remedy.label)).size(13.0)).wrap());
        ui.label(quiet(scene.theme, unbroken(&words)).size(11.5));
        let shown = scene.session.preview.as_ref() == Some(&remedy.edit);
        if response.clicked() {
            out.push(Command::Edit(remedy.edit.clone()));
        } else if response.hovered() && !shown && scene.session.place == Where::Draw {
            out.push(Command::Preview(Some(remedy.edit.clone())));
        } else if shown && !response.hovered() {
            out.push(Command::Preview(None));
        }
    }
}

/// What a remedy changes: “pieces +3, timber +1.3 m; closes 1 snag, opens 1: A stud is added …”.
fn effect(units: Units, remedy: &Remedy) -> String {
    let timber = remedy.timber / units.run_step();
    let mut words = if remedy.pieces == 0 && timber.abs() < 0.05 {
        "no timber more or less".to_owned()
    } else {
        format!("pieces {:+}, timber {timber:+.1} {}", remedy.pieces, units.run_unit())
            .replace('-', "−")
    };
    words += &match remedy.closed.len() {
        1 => "; closes this snag".to_owned(),
        closed => format!("; closes {closed} snags"),
    };
    if let [first, rest @ ..] = &remedy.opened[..] {
        words += &match rest.len() {
            0 => format!(", opens a note: {}", first.message),
            more => format!(", opens {} notes, the first: {}", more + 1, first.message),
        };
    }
    words
}
