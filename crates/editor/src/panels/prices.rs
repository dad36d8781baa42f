//! What a price list would change, before it is taken; or the rows that are wrong, when nothing of it is.

use egui::{Label, RichText, ScrollArea, Ui};
use layout_core::prices::{Change, Does, Offer};

use crate::command::Command;
use crate::panels::bits::{hairline_ui, main_button, price, quiet, strong, unbroken};
use crate::panels::dialogs::question_ui;
use crate::prices::PriceOffer;
use crate::scene::Scene;

/// The most of a list that is seen at once, points.
const SEEN: f32 = 320.0;

pub(super) fn prices_ui(
    ctx: &egui::Context,
    scene: &Scene<'_>,
    offer: &PriceOffer,
    out: &mut Vec<Command>,
) {
    let name = format!("Price list {}", offer.name());
    question_ui(ctx, scene.theme, &name, out, |ui, out| match &offer.found {
        Ok((found, unread)) => offer_ui(ui, scene, found, unread, out),
        Err(wrong) => wrong_ui(ui, scene, wrong, out),
    });
}

fn offer_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    offer: &Offer,
    unread: &[String],
    out: &mut Vec<Command>,
) {
    let theme = scene.theme;
    ui.add(Label::new(format!("{}.", offer.in_words())).wrap());
    if !unread.is_empty() {
        let words = format!("Columns that are not read: {}.", unread.join(", "));
        ui.add(Label::new(quiet(theme, words)).wrap());
    }
    ui.add_space(4.0);
    let shown: Vec<&Change> = offer.changes.iter().filter(|c| c.does != Does::Nothing).collect();
    if !shown.is_empty() {
        hairline_ui(ui, theme);
        ScrollArea::vertical().max_height(SEEN).auto_shrink([false, true]).show(ui, |ui| {
            for change in shown {
                change_ui(ui, scene, change);
            }
        });
        hairline_ui(ui, theme);
    }
    ui.add_space(8.0);
    ui.horizontal(|ui| match &offer.edit {
        Some(edit) => {
            if ui.add(main_button(theme, "Take over")).clicked() {
                out.push(Command::Dismiss);
                out.push(Command::Edit(edit.clone()));
            }
            if ui.button("Leave it").clicked() {
                out.push(Command::Dismiss);
            }
        }
        None => {
            ui.label("Nothing would change.");
            if ui.button("Close").clicked() {
                out.push(Command::Dismiss);
            }
        }
    });
}

fn change_ui(ui: &mut Ui, scene: &Scene<'_>, change: &Change) {
    let (theme, currency) = (scene.theme, &scene.job.saw.currency);
    let money = |sum: Option<f64>| sum.map_or("no price".into(), |sum| price(currency, sum));
    ui.horizontal(|ui| {
        ui.set_height(20.0);
        ui.label(strong(unbroken(&change.what), 13.0));
        ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
            let words = match change.does {
                Does::Prices => format!("{}  →  {}", money(change.now), money(change.then)),
                Does::Adds => money(change.then),
                Does::Counts | Does::Nothing | Does::LeftOut => String::new(),
            };
            ui.label(RichText::new(words).size(13.0));
            ui.label(quiet(theme, change.does.label()));
        });
    });
    if change.stranger && change.does != Does::LeftOut {
        let words = format!("Line {}: the order calls for nothing of this name.", change.line);
        ui.add(Label::new(quiet(theme, words).color(theme.mend)).wrap());
    }
}

fn wrong_ui(ui: &mut Ui, scene: &Scene<'_>, wrong: &[String], out: &mut Vec<Command>) {
    let words = match wrong.len() {
        1 => "Nothing was taken: something is wrong with it.".into(),
        n => format!("Nothing was taken: {n} rows are wrong."),
    };
    ui.add(Label::new(words).wrap());
    ui.add_space(4.0);
    hairline_ui(ui, scene.theme);
    ScrollArea::vertical().max_height(SEEN).auto_shrink([false, true]).show(ui, |ui| {
        for line in wrong {
            ui.add(Label::new(RichText::new(line).size(13.0)).wrap());
        }
    });
    hairline_ui(ui, scene.theme);
    ui.add_space(8.0);
    ui.horizontal(|ui| {
        if ui.add(main_button(scene.theme, "Close")).clicked() {
            out.push(Command::Dismiss);
        }
    });
}
