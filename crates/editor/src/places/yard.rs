//! Yard: what to buy, the lists of what is sold, and what one length alone would come to.

mod boards;
mod lengths;
mod sundries;

use std::collections::BTreeMap;
use std::sync::Arc;

use egui::{Align, Label, Layout, Rect, RichText, ScrollArea, Stroke, Ui, pos2, vec2};
use layout_core::document::{BarFrom, Edit, SawSettings, Stock, Timber};
use layout_core::layout::Layout as JobLayout;
use layout_core::pieces::SectionPlan;
use layout_core::units::Units;

use crate::command::Command;
use crate::icons::Icon;
use crate::panels::bits::{hairline_ui, heading_ui, icon_button_ui, metres, price, quiet, strong};
use crate::panels::field::{field_ui, length_ui};
use crate::scene::Scene;
use lengths::Lengths;

/// Lengths timber is commonly sold in, mm: 2.4 to 6.0 m in steps of 0.6 m. Common practice.
const LENGTHS: [f64; 7] = [2400.0, 3000.0, 3600.0, 4200.0, 4800.0, 5400.0, 6000.0];

/// Width from which the comparison stands beside the lists, points.
const SIDE_BY_SIDE: f32 = 960.0;

/// What the place remembers while it is open.
#[derive(Default)]
pub struct Yard {
    lengths: Lengths,
}

/// Shows the place. `layout` is the committed layout, shared.
pub fn yard_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    state: &mut Yard,
    layout: &Arc<JobLayout>,
    out: &mut Vec<Command>,
) {
    let whole = ui.available_rect_before_wrap();
    if whole.width() < SIDE_BY_SIDE {
        ScrollArea::vertical().auto_shrink([false, false]).show(ui, |ui| {
            buy_ui(ui, scene);
            boards::to_buy_ui(ui, scene);
            sundries::to_buy_ui(ui, scene, out);
            ui.add_space(22.0);
            stock_ui(ui, scene, out);
            boards::list_ui(ui, scene, out);
            ui.add_space(22.0);
            lengths::compare_ui(ui, scene, &mut state.lengths, layout, 300.0);
        });
        return;
    }
    let split = whole.left() + (whole.width() * 0.54).clamp(540.0, 760.0);
    let left = Rect::from_min_max(whole.min, pos2(split - 24.0, whole.bottom()));
    let right = Rect::from_min_max(pos2(split, whole.top()), whole.max);
    ui.painter().vline(split - 12.0, whole.y_range(), Stroke::new(1.0, scene.theme.hairline));
    ui.scope_builder(egui::UiBuilder::new().max_rect(left), |ui| {
        ScrollArea::vertical().id_salt("buying").auto_shrink([false, false]).show(ui, |ui| {
            buy_ui(ui, scene);
            boards::to_buy_ui(ui, scene);
            sundries::to_buy_ui(ui, scene, out);
            ui.add_space(22.0);
            stock_ui(ui, scene, out);
            boards::list_ui(ui, scene, out);
        });
    });
    ui.scope_builder(egui::UiBuilder::new().max_rect(right), |ui| {
        let height = (right.height() - 150.0).clamp(180.0, 420.0);
        lengths::compare_ui(ui, scene, &mut state.lengths, layout, height);
    });
}

fn buy_ui(ui: &mut Ui, scene: &Scene<'_>) {
    let theme = scene.theme;
    ui.label(strong("Timber to buy", 16.0));
    if scene.lists.plans.is_empty() {
        ui.label(quiet(theme, "Nothing yet: draw a wall, and its timber is counted here."));
        return;
    }
    ui.label(quiet(
        theme,
        if scene.lists.planning() {
            "From the plan so far; a better one is being looked for. Nothing is added for breakage."
        } else if scene.lists.plans.iter().all(|p| p.proven) {
            "From the cutting plan, which is proven: nothing cheaper will do. Nothing is added for breakage."
        } else {
            "From the cutting plan; Saw says how near it is to the least. Nothing is added for breakage."
        },
    ));
    let widths = [104.0, 56.0, 70.0, 74.0, 62.0, 84.0];
    ui.add_space(4.0);
    let head =
        ["section", "pieces", "needed", "bought", "offcuts", "price"].map(|t| quiet(theme, t));
    columns_ui(ui, &widths, head);
    hairline_ui(ui, theme);
    for plan in &scene.lists.plans {
        let total = scene.lists.totals.iter().find(|t| t.timber == plan.timber);
        let (pieces, needed) = total.map_or((0, 0.0), |t| (t.pieces, t.length));
        let cost = plan.price.map_or("no price".to_string(), |p| price(&scene.job.saw.currency, p));
        columns_ui(
            ui,
            &widths,
            [
                strong(section_name(scene.job.units, &plan.timber), 13.5),
                RichText::new(pieces.to_string()),
                RichText::new(metres(scene, needed)),
                RichText::new(metres(scene, plan.bought)),
                RichText::new(format!("{:.0} %", waste(plan))),
                if plan.price.is_some() { RichText::new(cost) } else { quiet(theme, cost) },
            ],
        );
        ui.add(Label::new(RichText::new(bars_by_length(scene.job.units, plan)).size(13.5)).wrap());
        if !plan.left_over.is_empty() {
            let count = plan.left_over.len();
            let pieces =
                if count == 1 { "1 piece has".into() } else { format!("{count} pieces have") };
            ui.label(
                quiet(theme, format!("{pieces} no bar: add a longer length below"))
                    .color(theme.mend),
            );
        }
        hairline_ui(ui, theme);
    }
    if let Some(total) = scene.lists.price() {
        let none = || RichText::new("");
        let total = strong(price(&scene.job.saw.currency, total), 14.0);
        columns_ui(
            ui,
            &widths,
            [strong("All timber", 14.0), none(), none(), none(), none(), total],
        );
    }
}

/// “buy 4 of 4 800, 2 of 2 400”
fn bars_by_length(units: Units, plan: &SectionPlan) -> String {
    let mut counts: BTreeMap<i64, usize> = BTreeMap::new();
    for bar in plan.bought_bars() {
        *counts.entry(-((bar.stock * 100.0).round() as i64)).or_default() += 1;
    }
    let parts: Vec<String> = counts
        .iter()
        .map(|(length, count)| format!("{count} × {}", units.show(-*length as f64 / 100.0)))
        .collect();
    let owned = plan.bars.iter().filter(|b| b.from != BarFrom::Bought).count();
    let owned = (owned > 0).then(|| format!("and {owned} of your own"));
    let parts: Vec<String> = parts.into_iter().chain(owned).collect();
    if parts.is_empty() { "no bars".into() } else { parts.join("    ") }
}

/// Share of the bars that is left as offcuts and saw cuts, per cent.
fn waste(plan: &SectionPlan) -> f64 {
    let bars = plan.bars.iter().chain(plan.done.iter().map(|(_, bar)| bar));
    let whole: f64 = bars.map(|b| b.stock).sum();
    if whole > 0.0 { plan.waste() / whole * 100.0 } else { 0.0 }
}

fn section_name(units: Units, timber: &Timber) -> String {
    format!("{} {}", timber.size_in(units), timber.grade())
}

/// One row of a table: the first column stands left, the others right.
fn columns_ui<const N: usize>(ui: &mut Ui, widths: &[f32; N], cells: [RichText; N]) {
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 14.0;
        for (i, (cell, &width)) in cells.into_iter().zip(widths).enumerate() {
            let layout = if i == 0 {
                Layout::left_to_right(Align::Center)
            } else {
                Layout::right_to_left(Align::Center)
            };
            ui.allocate_ui_with_layout(vec2(width, 20.0), layout, |ui| {
                ui.set_width(width);
                ui.add(Label::new(cell).truncate());
            });
        }
    });
}

/// The list of what is sold: every line can be changed, taken away, and another added.
fn stock_ui(ui: &mut Ui, scene: &Scene<'_>, out: &mut Vec<Command>) {
    let theme = scene.theme;
    let stock = &scene.job.stock;
    let currency = &scene.job.saw.currency;
    ui.label(strong("Timber that is sold, and what you have", 16.0));
    ui.label(quiet(
        theme,
        "Price is for one bar. “In stock” is what the merchant has, empty for as many as needed; “yours” are here \
         already, offcuts too, and cost nothing.",
    ));
    ui.add_space(4.0);
    let widths = [104.0, 76.0, 80.0, 66.0, 60.0, 28.0];
    let price_head =
        if currency.is_empty() { "price".to_string() } else { format!("price {currency}") };
    columns_ui(
        ui,
        &widths,
        [
            quiet(theme, "section"),
            quiet(theme, "length"),
            quiet(theme, price_head),
            quiet(theme, "in stock"),
            quiet(theme, "yours"),
            quiet(theme, ""),
        ],
    );
    hairline_ui(ui, theme);
    let mut asked = None;
    for (i, line) in stock.iter().enumerate() {
        ui.push_id(("stock line", i), |ui| {
            if let Some(changed) = stock_line_ui(ui, scene, line, i, &widths) {
                asked = Some((i, changed));
            }
        });
    }
    if let Some((i, changed)) = asked {
        let mut stock = stock.clone();
        match changed {
            Some(line) => stock[i] = line,
            None => {
                stock.remove(i);
            }
        }
        out.push(Command::Edit(Edit::SetStock(stock)));
    }
    add_line_ui(ui, scene, out);
    saw_settings_ui(ui, scene, out);
}

/// One line; gives what it becomes when it was changed, `Some(None)` when it is to go.
fn stock_line_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    line: &Stock,
    index: usize,
    widths: &[f32; 6],
) -> Option<Option<Stock>> {
    let theme = scene.theme;
    let mut asked = None;
    let of = format!("{}, line {}", section_name(scene.job.units, &line.timber), index + 1);
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 14.0;
        ui.allocate_ui_with_layout(
            vec2(widths[0], 26.0),
            Layout::left_to_right(Align::Center),
            |ui| {
                ui.set_width(widths[0]);
                ui.add(Label::new(section_name(scene.job.units, &line.timber)).truncate());
            },
        );
        let inner = |width: f32| width;
        let range = (300.0, 20_000.0);
        if let Some(length) = length_ui(
            ui,
            (theme, scene.job.units),
            &format!("Length of {of}"),
            line.length,
            range,
            inner(widths[1]),
        ) {
            asked = Some(Some(Stock { length, ..line.clone() }));
        }
        let shown = line.price.map_or(String::new(), |p| format!("{p:.2}"));
        let typed =
            field_ui(ui, theme, &format!("Price of {of}"), &shown, inner(widths[2]), |text| {
                read_price(text, scene)
            });
        if let Some(price) = typed.value {
            asked = Some(Some(Stock { price, ..line.clone() }));
        }
        let shown = line.available.map_or(String::new(), |n| n.to_string());
        let typed =
            field_ui(ui, theme, &format!("In stock of {of}"), &shown, inner(widths[3]), read_count);
        if let Some(available) = typed.value {
            asked = Some(Some(Stock { available, ..line.clone() }));
        }
        let shown = line.owned.map_or(String::new(), |n| n.to_string());
        let typed =
            field_ui(ui, theme, &format!("Yours of {of}"), &shown, inner(widths[4]), read_count);
        if let Some(owned) = typed.value {
            asked = Some(Some(Stock { owned, ..line.clone() }));
        }
        if icon_button_ui(ui, theme, Icon::Close, &format!("Take away {of}"), true).clicked() {
            asked = Some(None);
        }
    });
    asked
}

/// A price as typed, with or without its currency; nothing typed is no price.
fn read_price(text: &str, scene: &Scene<'_>) -> Result<Option<f64>, String> {
    let text = text.trim().trim_start_matches(scene.job.saw.currency.as_str()).trim();
    if text.is_empty() {
        return Ok(None);
    }
    match text.replace(',', ".").parse::<f64>() {
        Ok(price) if (0.0..=1e6).contains(&price) => Ok(Some(price)),
        _ => Err("A price such as 7.40, or nothing.".into()),
    }
}

/// A count as typed; nothing typed is as many as needed.
fn read_count(text: &str) -> Result<Option<u32>, String> {
    if text.trim().is_empty() {
        return Ok(None);
    }
    match text.trim().parse::<u32>() {
        Ok(count) if count <= 100_000 => Ok(Some(count)),
        _ => Err("A whole number, or nothing for as many as needed.".into()),
    }
}

/// A button for each section the job uses or the list has: one more length of it.
fn add_line_ui(ui: &mut Ui, scene: &Scene<'_>, out: &mut Vec<Command>) {
    let mut sections: Vec<&Timber> = scene.lists.plans.iter().map(|p| &p.timber).collect();
    sections.extend(scene.job.stock.iter().map(|s| &s.timber));
    sections.sort();
    sections.dedup();
    ui.add_space(4.0);
    ui.horizontal_wrapped(|ui| {
        ui.label(quiet(scene.theme, "Add a length of"));
        for timber in sections {
            if ui.button(section_name(scene.job.units, timber)).clicked() {
                let has = |length: f64| {
                    scene
                        .job
                        .stock
                        .iter()
                        .any(|s| s.timber == *timber && (s.length - length).abs() < 1.0)
                };
                let length = LENGTHS.into_iter().find(|l| !has(*l)).unwrap_or(6000.0);
                let mut stock = scene.job.stock.clone();
                stock.push(Stock {
                    timber: timber.clone(),
                    length,
                    price: None,
                    available: None,
                    owned: None,
                });
                stock.sort_by(|a, b| a.timber.cmp(&b.timber).then(a.length.total_cmp(&b.length)));
                out.push(Command::Edit(Edit::SetStock(stock)));
            }
        }
    });
}

fn saw_settings_ui(ui: &mut Ui, scene: &Scene<'_>, out: &mut Vec<Command>) {
    let theme = scene.theme;
    let saw = &scene.job.saw;
    ui.add_space(16.0);
    heading_ui(ui, theme, "The saw", "");
    ui.horizontal(|ui| {
        ui.label("Width of the cut");
        if let Some(kerf) =
            length_ui(ui, (theme, scene.job.units), "Width of the cut", saw.kerf, (0.0, 10.0), 48.0)
        {
            out.push(Command::Edit(Edit::SetSaw(SawSettings { kerf, ..saw.clone() })));
        }
        ui.add_space(12.0);
        ui.label("Trimmed off each bar first");
        if let Some(trim) = length_ui(
            ui,
            (theme, scene.job.units),
            "Trimmed off each bar first",
            saw.trim,
            (0.0, 300.0),
            48.0,
        ) {
            out.push(Command::Edit(Edit::SetSaw(SawSettings { trim, ..saw.clone() })));
        }
        ui.add_space(12.0);
        ui.label("Keep offcuts from");
        let range = (100.0, 5000.0);
        let units = (theme, scene.job.units);
        if let Some(keep_bar) = length_ui(ui, units, "Keep offcuts from", saw.keep_bar, range, 56.0)
        {
            let saw = SawSettings { keep_bar, ..saw.clone() };
            out.push(Command::Edit(Edit::SetSaw(saw)));
        }
    });
    ui.horizontal(|ui| {
        ui.label("Held for the last cut, at least");
        let units = (theme, scene.job.units);
        let name = "Held for the last cut, at least";
        if let Some(hold) = length_ui(ui, units, name, saw.hold, (0.0, 1000.0), 56.0) {
            out.push(Command::Edit(Edit::SetSaw(SawSettings { hold, ..saw.clone() })));
        }
        ui.add_space(12.0);
        ui.label("Prices in");
        let typed = field_ui(ui, theme, "Prices in", &saw.currency, 40.0, |text| {
            let text = text.trim();
            if text.chars().count() <= 4 {
                Ok(text.to_string())
            } else {
                Err("At most four signs, such as £ or kr.".into())
            }
        });
        if let Some(currency) = typed.value {
            out.push(Command::Edit(Edit::SetSaw(SawSettings { currency, ..saw.clone() })));
        }
    });
}
