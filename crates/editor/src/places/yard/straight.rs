//! How straight the timber is: the share of each line that is expected not to be, how sure it has to be that enough
//! are, and what came, sorted.

use std::collections::BTreeMap;

use egui::{Align, Label, RichText, Ui};
use layout_core::document::{Delivery, Edit, SawSettings, Stock, Timber};
use layout_core::order::timber_name;
use layout_core::pieces::{BarsToBuy, SectionPlan};

use super::columns_ui;
use crate::command::Command;
use crate::panels::bits::{hairline_ui, quiet, strong};
use crate::panels::field::{field_ui, length_ui};
use crate::scene::Scene;

/// Widths of the columns: bar, share that is not straight, to buy, of them straight, came straight, came bowed.
const WIDTHS: [f32; 6] = [132.0, 76.0, 40.0, 60.0, 92.0, 84.0];

/// How many came of each line, straight and bowed, as typed and not yet taken in.
#[derive(Default)]
pub(super) struct Came {
    lines: BTreeMap<(Timber, u64), [u32; 2]>,
}

/// One line of the order and what is known of it.
struct Row<'a> {
    timber: &'a Timber,
    line: BarsToBuy,
    /// Where it is in the timber list.
    stock: Option<usize>,
}

/// Shows the section; nothing while there is nothing to buy.
pub(super) fn straight_ui(ui: &mut Ui, scene: &Scene<'_>, came: &mut Came, out: &mut Vec<Command>) {
    let theme = scene.theme;
    let rows: Vec<Row<'_>> = scene.lists.plans.iter().flat_map(|plan| rows(scene, plan)).collect();
    if rows.is_empty() {
        return;
    }
    ui.add_space(22.0);
    ui.label(strong("Straight and bowed", 16.0));
    let about = "Studs from floor to head, and those that carry a head, are cut from straight bars; short pieces and plates take \
        the bowed ones. Say how many in a hundred are not straight, and so many more are ordered. When they have come, sort \
        them, count them and take them in: the cuts are planned again from what is there.";
    ui.add(Label::new(quiet(theme, about)).wrap());
    sure_ui(ui, scene, out);
    ui.add_space(4.0);
    let head = ["bar", "not straight", "buy", "straight", "came straight", "came bowed"];
    columns_ui(ui, &WIDTHS, head.map(|t| quiet(theme, t)));
    hairline_ui(ui, theme);
    for row in &rows {
        row_ui(ui, scene, row, came, out);
    }
    hairline_ui(ui, theme);
    for plan in &scene.lists.plans {
        if let Some(words) = plan.straight_in_words(scene.job.units) {
            let name = timber_name(&plan.timber, scene.job.units);
            ui.add(Label::new(RichText::new(format!("{name}: {words}.")).size(13.5)).wrap());
        }
    }
    let typed: Vec<Delivery> = rows
        .iter()
        .filter_map(|row| {
            let &[straight, bowed] = came.lines.get(&row.key())?;
            let (timber, length) = (row.timber.clone(), row.line.length);
            (straight + bowed > 0).then_some(Delivery { timber, length, straight, bowed })
        })
        .collect();
    ui.add_space(4.0);
    if ui.add_enabled(!typed.is_empty(), egui::Button::new("Take in what came")).clicked() {
        came.lines.clear();
        out.push(Command::Edit(Edit::Deliver(typed)));
    }
}

fn rows<'a>(scene: &Scene<'_>, plan: &'a SectionPlan) -> Vec<Row<'a>> {
    let listed = |length: f64| {
        let is = |s: &Stock| {
            s.owned.is_none() && s.timber == plan.timber && (s.length - length).abs() < 0.05
        };
        scene.job.stock.iter().position(is)
    };
    let row = |line: BarsToBuy| Row { timber: &plan.timber, line, stock: listed(line.length) };
    plan.order().into_iter().map(row).collect()
}

impl Row<'_> {
    fn key(&self) -> (Timber, u64) {
        (self.timber.clone(), (self.line.length * 10.0).round() as u64)
    }
}

fn row_ui(ui: &mut Ui, scene: &Scene<'_>, row: &Row<'_>, came: &mut Came, out: &mut Vec<Command>) {
    let theme = scene.theme;
    let units = scene.job.units;
    let name = format!("{} {}", timber_name(row.timber, units), units.show(row.line.length));
    let listed = row.stock.and_then(|i| scene.job.stock.get(i));
    let share = listed.map_or(0.0, |s| s.crooked);
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 14.0;
        cell_ui(ui, WIDTHS[0], Align::Min, RichText::new(&name));
        let shown = if share > 0.0 { format!("{:.0} %", share * 100.0) } else { String::new() };
        let typed =
            field_ui(ui, theme, &format!("Not straight of {name}"), &shown, WIDTHS[1], read_share);
        if let (Some(crooked), Some(i)) = (typed.value, row.stock) {
            let mut stock = scene.job.stock.clone();
            stock[i].crooked = crooked;
            out.push(Command::Edit(Edit::SetStock(stock)));
        }
        cell_ui(ui, WIDTHS[2], Align::Max, strong(row.line.bars.to_string(), 13.5));
        let straight = row.line.straight;
        cell_ui(
            ui,
            WIDTHS[3],
            Align::Max,
            RichText::new(if straight > 0 { straight.to_string() } else { "–".into() }),
        );
        let had = came.lines.get(&row.key()).copied().unwrap_or_default();
        for (k, what) in ["Straight that came of", "Bowed that came of"].into_iter().enumerate() {
            let shown = if had[k] > 0 { had[k].to_string() } else { String::new() };
            let typed = field_ui(
                ui,
                theme,
                &format!("{what} {name}"),
                &shown,
                WIDTHS[4 + k],
                super::read_count,
            );
            if let Some(n) = typed.value {
                came.lines.entry(row.key()).or_default()[k] = n.unwrap_or(0);
            }
        }
    });
}

fn cell_ui(ui: &mut Ui, width: f32, stands: Align, text: RichText) {
    let layout = match stands {
        Align::Max => egui::Layout::right_to_left(Align::Center),
        _ => egui::Layout::left_to_right(Align::Center),
    };
    ui.allocate_ui_with_layout(egui::vec2(width, 26.0), layout, |ui| {
        ui.set_width(width);
        ui.add(Label::new(text).truncate());
    });
}

fn sure_ui(ui: &mut Ui, scene: &Scene<'_>, out: &mut Vec<Command>) {
    let theme = scene.theme;
    let saw = &scene.job.saw;
    ui.horizontal(|ui| {
        ui.label("Sure that enough are straight");
        let shown = format!("{:.0} %", saw.sure * 100.0);
        let name = "Sure that enough are straight";
        if let Some(sure) = field_ui(ui, theme, name, &shown, 48.0, read_sure).value {
            out.push(Command::Edit(Edit::SetSaw(SawSettings { sure, ..saw.clone() })));
        }
        ui.add_space(12.0);
        let name = "Longer for what is measured in place";
        ui.label(name);
        let units = (theme, scene.job.units);
        if let Some(measured) = length_ui(ui, units, name, saw.measured, (0.0, 300.0), 48.0) {
            out.push(Command::Edit(Edit::SetSaw(SawSettings { measured, ..saw.clone() })));
        }
    });
}

fn percent(text: &str) -> Option<f64> {
    let text = text.trim().trim_end_matches('%').trim().replace(',', ".");
    text.parse::<f64>().ok().filter(|n| n.is_finite())
}

/// “10 %” as 0.1; nothing typed is none.
fn read_share(text: &str) -> Result<f64, String> {
    if text.trim().is_empty() {
        return Ok(0.0);
    }
    match percent(text) {
        Some(n) if (0.0..=90.0).contains(&n) => Ok(n / 100.0),
        _ => Err("So many in a hundred, 0 to 90.".into()),
    }
}

fn read_sure(text: &str) -> Result<f64, String> {
    match percent(text) {
        Some(n) if (50.0..=99.9).contains(&n) => Ok(n / 100.0),
        _ => Err("How sure, 50 to 99.9 in a hundred.".into()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shares_are_read_as_they_are_said() {
        assert_eq!(read_share("10 %"), Ok(0.1));
        assert_eq!(read_share("7,5"), Ok(0.075));
        assert_eq!(read_share(" "), Ok(0.0));
        assert!(read_share("95").is_err() && read_share("a few").is_err());
        assert_eq!(read_sure("95 %"), Ok(0.95));
        assert!(read_sure("100").is_err() && read_sure("").is_err());
    }
}
