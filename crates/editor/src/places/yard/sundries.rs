//! What goes with boards: screws, tape, beads, filler, sealant, insulation, linings, as estimates with their rules.

use egui::{Label, RichText, Ui};
use layout_core::document::{Edit, Sundries};

use super::read_price;
use crate::command::Command;
use crate::panels::bits::{hairline_ui, price, quiet, strong};
use crate::panels::field::{field_ui, length_ui};
use crate::scene::Scene;

/// Screws stand so far apart, mm.
const SPACING: (f64, f64) = (50.0, 1000.0);

/// What to buy, each with how it was counted and the price of one.
pub(super) fn to_buy_ui(ui: &mut Ui, scene: &Scene<'_>, out: &mut Vec<Command>) {
    let theme = scene.theme;
    let needs = scene.lists.sundries();
    if needs.is_empty() {
        return;
    }
    let rules = &scene.job.sundries;
    let currency = &scene.job.saw.currency;
    ui.add_space(22.0);
    ui.label(strong("Screws, tape, beads, insulation, linings", 16.0));
    let about = "Estimates: each says how it was counted. Nothing is added for breakage. A price is for one.";
    ui.add(Label::new(quiet(theme, about)).wrap());
    ui.add_space(4.0);
    hairline_ui(ui, theme);
    for need in needs {
        ui.push_id(&need.what, |ui| {
            ui.horizontal(|ui| {
                let buy = format!("{} × {}", need.buy, need.of);
                ui.label(strong(need.what.to_string(), 13.5));
                ui.label(RichText::new(buy).size(13.5));
                ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                    let sum = need.price.map_or(String::new(), |p| price(currency, p));
                    ui.label(RichText::new(sum));
                    let now = rules.prices.get(&need.what);
                    let shown = now.map_or(String::new(), |p| format!("{p:.2}"));
                    let name = format!("Price of {}", need.what);
                    let read = |text: &str| read_price(text, scene);
                    let typed = field_ui(ui, theme, &name, &shown, 64.0, read);
                    if let Some(price) = typed.value {
                        let mut new = rules.clone();
                        match price {
                            Some(price) => new.prices.insert(need.what.clone(), price),
                            None => new.prices.remove(&need.what),
                        };
                        out.push(Command::Edit(Edit::SetSundries(new)));
                    }
                });
            });
            let digits = usize::from(!need.unit.is_empty());
            let needed = format!("{:.digits$} {}", need.amount, need.unit);
            let words = format!("estimate: {}, {} – {}", needed.trim(), need.rule, need.source);
            ui.add(Label::new(quiet(theme, words)).wrap());
        });
        hairline_ui(ui, theme);
    }
    rules_ui(ui, scene, rules, out);
}

fn rules_ui(ui: &mut Ui, scene: &Scene<'_>, rules: &Sundries, out: &mut Vec<Command>) {
    let with = (scene.theme, scene.job.units);
    let mut new = rules.clone();
    ui.add_space(4.0);
    ui.horizontal_wrapped(|ui| {
        ui.label("Screws at");
        for (label, name, value, range) in [
            ("edges every", "Screws at edges", &mut new.edge, SPACING),
            ("inside every", "Screws inside", &mut new.field, SPACING),
            ("inner layers", "Screws of inner layers", &mut new.inner, SPACING),
            ("overhead", "Screws of boards overhead", &mut new.overhead, SPACING),
            ("into timber", "Screws into timber", &mut new.penetration, (5.0, 200.0)),
            ("insulation wider by", "Insulation wider", &mut new.friction, (0.0, 100.0)),
        ] {
            ui.label(quiet(scene.theme, label));
            if let Some(changed) = length_ui(ui, with, name, *value, range, 48.0) {
                *value = changed;
            }
        }
    });
    if new != *rules {
        out.push(Command::Edit(Edit::SetSundries(new)));
    }
}
