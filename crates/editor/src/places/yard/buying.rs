//! What all of it costs and weighs and whether it goes in the van; and how it is bought: tax, delivery, spares, the van.

use egui::{Label, RichText, Ui};
use layout_core::document::{Buying, Carry, Edit, Spares};
use layout_core::math::SAME;
use layout_core::units::mm;

use super::columns_ui;
use crate::command::Command;
use crate::panels::bits::{hairline_ui, price, quiet, strong, unbroken};
use crate::panels::field::field_ui;
use crate::scene::Scene;

/// The longest and widest that a van or a stair may be said to take, mm.
const SIDES: (f64, f64) = (100.0, 30_000.0);
/// What a van may be said to carry, kg.
const PAYLOAD: (f64, f64) = (10.0, 50_000.0);

/// What the whole order comes to.
pub(super) fn all_ui(ui: &mut Ui, scene: &Scene<'_>) {
    let (theme, units, order) = (scene.theme, scene.job.units, scene.lists.order());
    if order.lines.is_empty() {
        return;
    }
    ui.add_space(22.0);
    ui.label(strong("All of it", 16.0));
    hairline_ui(ui, theme);
    let widths = [240.0, 100.0];
    let parts = order.sum.parts(&scene.job.buying);
    let last = parts.len().saturating_sub(1);
    for (i, (name, sum)) in parts.into_iter().enumerate() {
        let sum = price(&scene.job.saw.currency, sum);
        let cells = match i == last {
            true => [strong(name, 14.0), strong(sum, 14.0)],
            false => [RichText::new(name), RichText::new(sum)],
        };
        columns_ui(ui, &widths, cells);
    }
    if let Some(words) = order.sum.missing_in_words().filter(|_| order.sum.goods > 0.0) {
        ui.label(quiet(theme, format!("{words}.")));
    }
    let mut words =
        format!("{} kg; the longest is {}", mm(order.mass()), units.show(order.longest()));
    if let Some((long, short)) = order.largest_sheet() {
        words += &format!(", the largest sheet {} × {}", units.show(short), units.show(long));
    }
    ui.add(Label::new(RichText::new(unbroken(&words))).wrap());
    let about = "Timber at the mean density of its strength class, dry; boards as they are marked; of the rest only filler is weighed.";
    ui.add(Label::new(quiet(theme, about)).wrap());
    for remark in scene.lists.remarks() {
        let message = unbroken(&format!("{}.", remark.message));
        ui.add(Label::new(RichText::new(message).color(theme.mend)).wrap());
        ui.add(Label::new(quiet(theme, unbroken(&remark.remedy))).wrap());
    }
}

/// The settings by which it is bought.
pub(super) fn rules_ui(ui: &mut Ui, scene: &Scene<'_>, out: &mut Vec<Command>) {
    let theme = scene.theme;
    let buying = &scene.job.buying;
    let mut new = buying.clone();
    ui.add_space(22.0);
    ui.label(strong("How it is bought", 16.0));
    let about = "Prices are without tax when you put a rate here. Spares are ordered and not cut from on paper.";
    ui.add(Label::new(quiet(theme, about)).wrap());
    ui.add_space(2.0);
    ui.horizontal(|ui| money_ui(ui, scene, &mut new));
    ui.horizontal(|ui| spares_ui(ui, scene, &mut new.spares));
    ui.horizontal(|ui| van_ui(ui, scene, &mut new.carry));
    ui.horizontal(|ui| way_ui(ui, scene, &mut new.carry));
    if new != *buying {
        out.push(Command::Edit(Edit::SetBuying(new)));
    }
}

fn money_ui(ui: &mut Ui, scene: &Scene<'_>, new: &mut Buying) {
    let limits = (0.0, 1_000_000.0);
    ui.label("Tax");
    share_ui(ui, scene, "Tax, per cent", &mut new.tax);
    ui.label("Discount");
    share_ui(ui, scene, "Discount, per cent", &mut new.discount);
    ui.label("Delivery");
    let mut delivery = Some(new.delivery).filter(|sum| *sum > 0.0);
    if number_ui(ui, scene, ("Delivery costs", ""), &mut delivery, limits, 60.0) {
        new.delivery = delivery.unwrap_or(0.0);
    }
    ui.label("free for goods of");
    number_ui(ui, scene, ("Delivery free from", ""), &mut new.free_from, limits, 60.0);
}

fn spares_ui(ui: &mut Ui, scene: &Scene<'_>, new: &mut Spares) {
    ui.label("Spare bars");
    share_ui(ui, scene, "Spare bars, per cent", &mut new.bars);
    ui.label("at least");
    count_ui(ui, scene, "Spare bars at least", &mut new.bars_least);
    ui.label("of a length, sheets");
    share_ui(ui, scene, "Spare sheets, per cent", &mut new.sheets);
    ui.label("at least");
    count_ui(ui, scene, "Spare sheets at least", &mut new.sheets_least);
    ui.label("the rest");
    share_ui(ui, scene, "Spare of the rest, per cent", &mut new.sundries);
}

fn van_ui(ui: &mut Ui, scene: &Scene<'_>, new: &mut Carry) {
    ui.label("The van takes lengths of");
    side_ui(ui, scene, "Van length", &mut new.van_length);
    ui.label("sheets");
    side_ui(ui, scene, "Van sheet width", &mut new.van_width);
    ui.label("wide and");
    number_ui(ui, scene, ("Van payload", "kg"), &mut new.payload, PAYLOAD, 60.0);
}

fn way_ui(ui: &mut Ui, scene: &Scene<'_>, new: &mut Carry) {
    ui.label("Stair or hatch takes lengths of");
    side_ui(ui, scene, "Way in length", &mut new.way_length);
    ui.label("and sheets");
    side_ui(ui, scene, "Way in sheet width", &mut new.way_width);
    ui.label("wide");
}

/// A share of a hundred; nothing typed is nought.
fn share_ui(ui: &mut Ui, scene: &Scene<'_>, name: &str, value: &mut f64) {
    let mut share = Some(*value).filter(|v| *v > 0.0);
    if number_ui(ui, scene, (name, "%"), &mut share, (0.0, 100.0), 40.0) {
        *value = share.unwrap_or(0.0);
    }
}

fn count_ui(ui: &mut Ui, scene: &Scene<'_>, name: &str, value: &mut u32) {
    let shown = if *value > 0 { value.to_string() } else { String::new() };
    let read = |text: &str| match text.trim() {
        "" => Ok(0),
        text => text
            .parse::<u32>()
            .ok()
            .filter(|n| *n <= 1000)
            .ok_or_else(|| "A whole number up to 1000, or nothing.".to_string()),
    };
    if let Some(count) = field_ui(ui, scene.theme, name, &shown, 36.0, read).value {
        *value = count;
    }
}

/// A number between two limits, or nothing; true when it was changed.
fn number_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    (name, unit): (&str, &str),
    value: &mut Option<f64>,
    (least, most): (f64, f64),
    width: f32,
) -> bool {
    let shown = value.map_or(String::new(), |v| v.to_string());
    let read = |text: &str| {
        let text = text.trim().trim_start_matches(scene.job.saw.currency.as_str());
        let text = text.trim_end_matches(unit).trim();
        if text.is_empty() {
            return Ok(None);
        }
        match text.replace(',', ".").parse::<f64>() {
            Ok(v) if (least..=most).contains(&v) => Ok(Some(v)),
            _ => Err(format!("A number from {least} to {most}, or nothing.")),
        }
    };
    let typed = field_ui(ui, scene.theme, name, &shown, width, read);
    if !unit.is_empty() {
        ui.label(unit);
    }
    match typed.value {
        Some(typed) => {
            *value = typed;
            true
        }
        None => false,
    }
}

/// A length in the job's units, or nothing.
fn side_ui(ui: &mut Ui, scene: &Scene<'_>, name: &str, value: &mut Option<f64>) {
    let units = scene.job.units;
    let shown = value.map_or(String::new(), |v| units.show(v));
    let read = |text: &str| {
        if text.trim().is_empty() {
            return Ok(None);
        }
        let length = units.read(text)?;
        match (SIDES.0..=SIDES.1).contains(&length) {
            true => Ok(Some(length)),
            false => {
                Err(format!("Between {} and {}.", units.show(SIDES.0), units.with_unit(SIDES.1)))
            }
        }
    };
    let typed = field_ui(ui, scene.theme, name, &shown, 60.0, read);
    if let Some(typed) = typed.value {
        let same = typed.zip(*value).is_some_and(|(a, b)| (a - b).abs() < SAME);
        if !same {
            *value = typed;
        }
    }
}
