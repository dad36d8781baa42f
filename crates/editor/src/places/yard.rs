//! Yard: what to buy, the lists of what is sold, and what one length alone would come to.

mod boards;
mod buying;
mod lengths;
mod straight;
mod sundries;
mod what_if;

use std::sync::Arc;

use egui::{Align, Label, Layout, Rect, RichText, ScrollArea, Stroke, Ui, pos2, vec2};
use layout_core::document::{BarFrom, Edit, SawSettings, Spares, Stock, Timber};
use layout_core::layout::Layout as JobLayout;
use layout_core::order::{Goods, OrderLine, timber_name};
use layout_core::pieces::SectionPlan;

use crate::command::Command;
use crate::icons::Icon;
use crate::panels::bits::{
    hairline_ui, heading_ui, icon_button_ui, metres, price, quiet, strong, unbroken,
};
use crate::panels::field::{field_ui, length_ui};
use crate::scene::Scene;
use lengths::Lengths;
use what_if::WhatIfShown;

/// Lengths timber is commonly sold in, mm: 2.4 to 6.0 m in steps of 0.6 m. Common practice.
const LENGTHS: [f64; 7] = [2400.0, 3000.0, 3600.0, 4200.0, 4800.0, 5400.0, 6000.0];

/// Width from which the comparison stands beside the lists, points.
const SIDE_BY_SIDE: f32 = 960.0;

/// What the place remembers while it is open.
#[derive(Default)]
pub struct Yard {
    lengths: Lengths,
    came: straight::Came,
    shown: Shown,
    what_if: WhatIfShown,
}

/// What stands beside the lists.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
enum Shown {
    /// What each length alone would come to.
    #[default]
    Lengths,
    /// The whole job with other choices.
    WhatIf,
}

impl Yard {
    /// True while the whole job with other choices is looked at.
    pub fn asks_what_if(&self) -> bool {
        self.shown == Shown::WhatIf
    }
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
            buying::all_ui(ui, scene);
            buying::rules_ui(ui, scene, out);
            ui.add_space(22.0);
            stock_ui(ui, scene, out);
            straight::straight_ui(ui, scene, &mut state.came, out);
            boards::list_ui(ui, scene, out);
            ui.add_space(22.0);
            beside_ui(ui, scene, state, layout, 300.0, out);
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
            buying::all_ui(ui, scene);
            buying::rules_ui(ui, scene, out);
            ui.add_space(22.0);
            stock_ui(ui, scene, out);
            straight::straight_ui(ui, scene, &mut state.came, out);
            boards::list_ui(ui, scene, out);
        });
    });
    ui.scope_builder(egui::UiBuilder::new().max_rect(right), |ui| {
        ScrollArea::vertical().id_salt("comparing").auto_shrink([false, false]).show(ui, |ui| {
            let height = (right.height() - 186.0).clamp(180.0, 420.0);
            beside_ui(ui, scene, state, layout, height, out);
        });
    });
}

/// What stands beside the lists, one of two.
fn beside_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    state: &mut Yard,
    layout: &Arc<JobLayout>,
    height: f32,
    out: &mut Vec<Command>,
) {
    ui.horizontal(|ui| {
        for (shown, label) in
            [(Shown::Lengths, "Which length to buy"), (Shown::WhatIf, "What if …")]
        {
            let words = strong(label, 14.0);
            if ui.selectable_label(state.shown == shown, words).clicked() {
                state.shown = shown;
            }
        }
    });
    ui.add_space(4.0);
    match state.shown {
        Shown::Lengths => lengths::compare_ui(ui, scene, &mut state.lengths, layout, height),
        Shown::WhatIf => what_if::what_if_ui(ui, scene, &mut state.what_if, out),
    }
}

fn buy_ui(ui: &mut Ui, scene: &Scene<'_>) {
    let theme = scene.theme;
    ui.label(strong("Timber to buy", 16.0));
    if scene.lists.plans.is_empty() {
        ui.label(quiet(theme, "Nothing yet: draw a wall, and its timber is counted here."));
        return;
    }
    let about = if scene.lists.planning() {
        "From the plan so far; a better one is being looked for."
    } else if scene.lists.plans.iter().all(|p| p.proven) {
        "From the cutting plan, which is proven: nothing cheaper will do."
    } else {
        "From the cutting plan; Saw says how near it is to the least."
    };
    ui.label(quiet(theme, format!("{about} {}", breakage(scene))));
    let widths = [104.0, 56.0, 70.0, 74.0, 62.0, 84.0];
    ui.add_space(4.0);
    let head =
        ["section", "pieces", "needed", "bought", "offcuts", "price"].map(|t| quiet(theme, t));
    columns_ui(ui, &widths, head);
    hairline_ui(ui, theme);
    let mut all: Option<f64> = Some(0.0);
    for plan in &scene.lists.plans {
        let sum = section_ui(ui, scene, plan, &widths);
        all = all.zip(sum).map(|(all, sum)| all + sum);
    }
    if let Some(all) = all.filter(|all| *all > 0.0) {
        let none = || RichText::new("");
        let total = strong(price(&scene.job.saw.currency, all), 14.0);
        columns_ui(
            ui,
            &widths,
            [strong("All timber", 14.0), none(), none(), none(), none(), total],
        );
    }
}

/// What to buy of one section; gives what that costs, when every piece has a bar and every bar a price.
fn section_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    plan: &SectionPlan,
    widths: &[f32; 6],
) -> Option<f64> {
    let theme = scene.theme;
    let name = timber_name(&plan.timber, scene.job.units);
    let lines: Vec<&OrderLine> =
        scene.lists.order().of(Goods::Timber).filter(|line| line.what == name).collect();
    let total = scene.lists.totals.iter().find(|t| t.timber == plan.timber);
    let (pieces, needed) = total.map_or((0, 0.0), |t| (t.pieces, t.length));
    let bought: f64 =
        lines.iter().map(|line| line.buy() as f64 * line.size.map_or(0.0, |(long, _)| long)).sum();
    let sum: Option<f64> = lines.iter().map(|line| line.price).sum();
    let sum = sum.filter(|_| plan.left_over.is_empty());
    let cost = match sum {
        Some(sum) => RichText::new(price(&scene.job.saw.currency, sum)),
        None => quiet(theme, "no price"),
    };
    columns_ui(
        ui,
        widths,
        [
            strong(&name, 13.5),
            RichText::new(pieces.to_string()),
            RichText::new(metres(scene, needed)),
            RichText::new(metres(scene, bought)),
            RichText::new(format!("{:.0} %", waste(plan))),
            cost,
        ],
    );
    ui.add(Label::new(RichText::new(bars_by_length(plan, &lines)).size(13.5)).wrap());
    if !plan.left_over.is_empty() {
        let count = plan.left_over.len();
        let pieces = if count == 1 { "1 piece has".into() } else { format!("{count} pieces have") };
        ui.label(
            quiet(theme, format!("{pieces} no bar: add a longer length below")).color(theme.mend),
        );
    }
    hairline_ui(ui, theme);
    sum
}

/// What is said about spares over a list.
fn breakage(scene: &Scene<'_>) -> &'static str {
    match scene.job.buying.spares == Spares::default() {
        true => "Nothing is added for breakage.",
        false => "Spares are added as set under How it is bought.",
    }
}

/// “4 × 4 800    2 × 2 400 (1 spare)    and 3 of your own”
fn bars_by_length(plan: &SectionPlan, lines: &[&OrderLine]) -> String {
    let parts = lines.iter().map(|line| {
        let beyond = line.beyond();
        let beyond = if beyond.is_empty() { beyond } else { format!(" ({beyond})") };
        format!("{} × {}{beyond}", line.buy(), line.of)
    });
    let owned = plan.bars.iter().filter(|b| b.from != BarFrom::Bought).count();
    let owned = (owned > 0).then(|| format!("and {owned} of your own"));
    let parts: Vec<String> = parts.chain(owned).collect();
    if parts.is_empty() { "no bars".into() } else { unbroken(&parts.join("    ")) }
}

/// Share of the bars that is left as offcuts and saw cuts, per cent.
fn waste(plan: &SectionPlan) -> f64 {
    let bars = plan.bars.iter().chain(plan.done.iter().map(|(_, bar)| bar));
    let whole: f64 = bars.map(|b| b.stock).sum();
    if whole > 0.0 { plan.waste() / whole * 100.0 } else { 0.0 }
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
        "Price is for one bar; 84/12 works it out. “In stock” is what the merchant has, empty for as many as needed; \
         “pack” how many are sold together; “yours” are here already, offcuts too, and cost nothing.",
    ));
    ui.add_space(2.0);
    ui.horizontal(|ui| {
        if ui.button("Take over a price list…").clicked() {
            out.push(Command::TakePrices(None));
        }
        if ui.button("Write one for the merchant…").clicked() {
            out.push(Command::WritePrices(None));
        }
    });
    ui.add_space(4.0);
    let widths = [100.0, 66.0, 72.0, 56.0, 48.0, 44.0, 28.0];
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
            quiet(theme, "pack"),
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
    widths: &[f32; 7],
) -> Option<Option<Stock>> {
    let theme = scene.theme;
    let mut asked = None;
    let of = format!("{}, line {}", timber_name(&line.timber, scene.job.units), index + 1);
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 14.0;
        ui.allocate_ui_with_layout(
            vec2(widths[0], 26.0),
            Layout::left_to_right(Align::Center),
            |ui| {
                ui.set_width(widths[0]);
                ui.add(Label::new(timber_name(&line.timber, scene.job.units)).truncate());
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
        let shown = line.pack.map_or(String::new(), |n| n.to_string());
        let typed =
            field_ui(ui, theme, &format!("Pack of {of}"), &shown, inner(widths[4]), read_pack);
        if let Some(pack) = typed.value {
            asked = Some(Some(Stock { pack, ..line.clone() }));
        }
        let shown = line.owned.map_or(String::new(), |n| n.to_string());
        let typed =
            field_ui(ui, theme, &format!("Yours of {of}"), &shown, inner(widths[5]), read_count);
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
    let number = |text: &str| text.trim().replace(',', ".").parse::<f64>().ok();
    let price = match text.split_once('/') {
        Some((all, count)) => number(all).zip(number(count)).map(|(all, count)| all / count),
        None => number(text),
    };
    match price {
        Some(price) if (0.0..=1e6).contains(&price) => Ok(Some(price)),
        _ => Err("A price such as 7.40, or 84/12 for one of a dozen, or nothing.".into()),
    }
}

/// How many there are in a pack, as typed; nothing typed, or one, is one by one.
fn read_pack(text: &str) -> Result<Option<u32>, String> {
    if text.trim().is_empty() {
        return Ok(None);
    }
    match text.trim().parse::<u32>() {
        Ok(pack) if (1..=10_000).contains(&pack) => Ok(Some(pack).filter(|n| *n > 1)),
        _ => Err("A whole number, or nothing where they are sold one by one.".into()),
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
            if ui.button(timber_name(timber, scene.job.units)).clicked() {
                let has = |length: f64| {
                    scene
                        .job
                        .stock
                        .iter()
                        .any(|s| s.timber == *timber && (s.length - length).abs() < 1.0)
                };
                let length = LENGTHS.into_iter().find(|l| !has(*l)).unwrap_or(6000.0);
                let mut stock = scene.job.stock.clone();
                stock.push(Stock::new(timber.clone(), length));
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
