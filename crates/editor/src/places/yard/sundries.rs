//! What goes with timber and boards: screws, fixings, packers, tape, beads, filler, sealant, insulation, linings, as estimates
//! with their rules.

use egui::{Label, RichText, Ui};
use layout_core::document::{Edit, Sundries};

use super::{breakage, read_price};
use crate::command::Command;
use crate::panels::bits::{before_field_ui, hairline_ui, price, quiet, strong};
use crate::panels::field::{field_ui, length_ui};
use crate::scene::Scene;

/// Screws stand so far apart, mm.
const SPACING: (f64, f64) = (50.0, 1000.0);
/// Rolls, beads and cartridges run so far, mm.
const SOLD: (f64, f64) = (100.0, 1_000_000.0);

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
    ui.label(strong("Screws, fixings, tape, insulation, linings", 16.0));
    let about =
        format!("Estimates: each says how it was counted. {} A price is for one.", breakage(scene));
    ui.add(Label::new(quiet(theme, about)).wrap());
    ui.add_space(4.0);
    hairline_ui(ui, theme);
    for need in needs {
        ui.push_id(&need.what, |ui| {
            ui.horizontal(|ui| {
                let spare =
                    if need.spare > 0 { format!(" ({} spare)", need.spare) } else { String::new() };
                let buy = format!("{} × {}{spare}", need.buy, need.of);
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

/// The rules they are counted by, in three rows: screws in boards, the frame, and what they are sold in.
fn rules_ui(ui: &mut Ui, scene: &Scene<'_>, rules: &Sundries, out: &mut Vec<Command>) {
    let mut new = rules.clone();
    ui.add_space(4.0);
    ui.horizontal_wrapped(|ui| {
        ui.label("Screws in boards:");
        let short = (0.0, 200.0);
        lengths_ui(
            ui,
            scene,
            [
                ("edges every", "Screws at edges", &mut new.edge, SPACING),
                ("inside every", "Screws inside", &mut new.field, SPACING),
                ("inner layers", "Screws of inner layers", &mut new.inner, SPACING),
                ("overhead", "Screws of boards overhead", &mut new.overhead, SPACING),
                ("into timber", "Screws into timber", &mut new.penetration, (5.0, 200.0)),
                ("insulation wider by", "Insulation wider", &mut new.friction, short),
            ],
        );
    });
    ui.horizontal_wrapped(|ui| {
        ui.label("The frame:");
        let each = ("screws in each end", "Frame screws in each end", &mut new.joint_fixings);
        counts_ui(ui, scene, (0, 20), [each]);
        let long = (10.0, 500.0);
        lengths_ui(
            ui,
            scene,
            [
                ("long", "Length of frame screws", &mut new.joint_length, long),
                ("plates fixed every", "Plates fixed every", &mut new.plate_apart, (100.0, 2000.0)),
                ("with fixings long", "Length of plate fixings", &mut new.plate_length, long),
            ],
        );
    });
    ui.horizontal_wrapped(|ui| {
        ui.label("Sold in:");
        counts_ui(
            ui,
            scene,
            (1, 100_000),
            [
                ("boxes of board screws", "Board screws in a box", &mut new.screw_box),
                ("of frame screws", "Frame screws in a box", &mut new.joint_box),
                ("of plate fixings", "Plate fixings in a box", &mut new.plate_box),
                ("bags of packers", "Packers in a bag", &mut new.packer_bag),
            ],
        );
        lengths_ui(
            ui,
            scene,
            [
                (
                    "rolls of damp-proof course",
                    "Roll of damp-proof course",
                    &mut new.damp_proof,
                    SOLD,
                ),
                ("of tape", "Roll of tape", &mut new.roll, SOLD),
                ("beads", "Length of a bead", &mut new.bead, SOLD),
                ("a cartridge runs", "A cartridge runs", &mut new.cartridge, SOLD),
            ],
        );
        masses_ui(
            ui,
            scene,
            [
                ("filler to a metre", "Filler to a metre of joint", &mut new.filler, (0.0, 1000.0)),
                ("in bags of", "Filler in a bag", &mut new.bag, (0.1, 1000.0)),
            ],
        );
    });
    if new != *rules {
        out.push(Command::Edit(Edit::SetSundries(new)));
    }
}

/// What a number is called in the row, what the field is called, the number, and its least and most.
type Ruled<'a, T> = (&'a str, &'a str, &'a mut T, (f64, f64));

fn lengths_ui<const N: usize>(ui: &mut Ui, scene: &Scene<'_>, fields: [Ruled<'_, f64>; N]) {
    let with = (scene.theme, scene.job.units);
    for (label, name, value, range) in fields {
        let width = if range.1 > 10_000.0 { 60.0 } else { 48.0 };
        before_field_ui(ui, scene.theme, label, width);
        if let Some(changed) = length_ui(ui, with, name, *value, range, width) {
            *value = changed;
        }
    }
}

fn masses_ui<const N: usize>(ui: &mut Ui, scene: &Scene<'_>, fields: [Ruled<'_, f64>; N]) {
    for (label, name, value, (least, most)) in fields {
        // With room for what it is in.
        before_field_ui(ui, scene.theme, label, 70.0);
        let read = |text: &str| match text.trim().replace(',', ".").parse::<f64>() {
            Ok(kg) if (least..=most).contains(&kg) => Ok(kg),
            _ => Err(format!("Kilograms, from {least} to {most}.")),
        };
        let typed = field_ui(ui, scene.theme, name, &value.to_string(), 40.0, read);
        ui.label(quiet(scene.theme, "kg"));
        if let Some(kg) = typed.value {
            *value = kg;
        }
    }
}

fn counts_ui<const N: usize>(
    ui: &mut Ui,
    scene: &Scene<'_>,
    (least, most): (u32, u32),
    fields: [(&str, &str, &mut u32); N],
) {
    for (label, name, value) in fields {
        before_field_ui(ui, scene.theme, label, 44.0);
        let read = |text: &str| match text.trim().parse::<u32>() {
            Ok(count) if (least..=most).contains(&count) => Ok(count),
            _ => Err(format!("A whole number from {least} to {most}.")),
        };
        if let Some(count) = field_ui(ui, scene.theme, name, &value.to_string(), 44.0, read).value {
            *value = count;
        }
    }
}
