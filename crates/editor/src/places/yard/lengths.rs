//! What a section would come to with bars of one length alone, and from the list.

use std::cmp::Ordering;
use std::sync::Arc;

use egui::{Label, RichText, Stroke, Ui, vec2};
use layout_core::document::{Job, Stock, Timber};
use layout_core::layout::Layout;
use layout_core::order::timber_name;
use layout_core::pieces::{Planning, SectionPlan};
use sheets::picture::Fill;

use super::LENGTHS;
use crate::icons::Icon;
use crate::panels::bits::{empty_ui, metres, price, quiet, still_plot};
use crate::scene::Scene;

/// The section that is shown, and what was last worked out for it.
#[derive(Default)]
pub(super) struct Lengths {
    section: Option<Timber>,
    compared: Option<(Arc<Layout>, Timber, Vec<Alone>)>,
}

/// What a section would come to with bars of one length, as far as they reach.
struct Alone {
    /// The length, mm.
    length: f64,
    /// Length of all pieces, mm.
    used: f64,
    /// Length bought, mm.
    bought: f64,
    /// Pieces that need a longer bar; each gets one of its own from the list.
    longer: usize,
    /// What it costs, when the list has the prices.
    price: Option<f64>,
}

impl Alone {
    /// Share of what is bought that is not in the wall, per cent.
    fn waste(&self) -> f64 {
        if self.bought > 0.0 { (1.0 - self.used / self.bought) * 100.0 } else { 0.0 }
    }
}

/// What each length alone would come to, as bars: needed, and left over on top.
pub(super) fn compare_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    state: &mut Lengths,
    layout: &Arc<Layout>,
    height: f32,
) {
    let theme = scene.theme;
    let sections: Vec<&Timber> = scene.lists.plans.iter().map(|p| &p.timber).collect();
    let biggest =
        scene.lists.plans.iter().max_by(|a, b| a.bought.total_cmp(&b.bought)).map(|p| &p.timber);
    let Some(timber) = state.section.as_ref().filter(|t| sections.contains(t)).or(biggest).cloned()
    else {
        empty_ui(
            ui,
            theme,
            Icon::Sheet,
            "Nothing to compare yet",
            "Draw a wall, and see here which length to buy.",
        );
        return;
    };
    ui.label(quiet(
        theme,
        "What the section would come to with bars of one length, and from your list.",
    ));
    ui.horizontal_wrapped(|ui| {
        for section in sections {
            if ui
                .selectable_label(*section == timber, timber_name(section, scene.job.units))
                .clicked()
            {
                state.section = Some(section.clone());
            }
        }
    });
    let stale =
        state.compared.as_ref().is_none_or(|(of, t, _)| !Arc::ptr_eq(of, layout) || *t != timber);
    if stale {
        state.compared = Some((layout.clone(), timber.clone(), compare(scene, layout, &timber)));
    }
    let Some((_, _, alone)) = &state.compared else { return };
    let listed = scene.lists.plans.iter().find(|p| p.timber == timber);
    chart_ui(ui, scene, alone, listed, height);
    let cheapest = alone
        .iter()
        .filter(|a| a.price.is_some())
        .min_by(|a, b| a.price.partial_cmp(&b.price).unwrap_or(Ordering::Equal));
    let least = alone.iter().min_by(|a, b| a.bought.total_cmp(&b.bought));
    if let Some(best) = cheapest.or(least) {
        let with =
            if best.longer > 0 { format!(" with {} longer", best.longer) } else { String::new() };
        let comes_to = match best.price {
            Some(cost) => price(&scene.job.saw.currency, cost),
            None => format!("{} bought", metres(scene, best.bought)),
        };
        let share = best.waste();
        let words = format!(
            "Best of one length: {}{with}, {comes_to}, {share:.0} % offcuts.",
            scene.job.units.show(best.length)
        );
        ui.add(Label::new(words).wrap());
    }
}

/// What each length would come to; lengths with which some piece cannot be made at all are left out.
fn compare(scene: &Scene<'_>, layout: &Layout, timber: &Timber) -> Vec<Alone> {
    let listed = || scene.job.stock.iter().filter(|s| s.timber == *timber && s.owned.is_none());
    let price_of =
        |length: f64| listed().filter(|s| (s.length - length).abs() < 1.0).find_map(|s| s.price);
    let one = |length: f64| {
        let stock = [Stock { price: price_of(length), ..Stock::new(timber.clone(), length) }];
        let job = Job { stock: stock.into(), cut: Vec::new(), ..scene.job.clone() };
        let plan = Planning::new(&job, layout).plans().into_iter().find(|p| p.timber == *timber)?;
        let mut alone = Alone {
            length,
            used: plan
                .bars
                .iter()
                .flat_map(|b| &b.pieces)
                .chain(&plan.left_over)
                .map(|p| p.length)
                .sum(),
            bought: plan.bought,
            longer: plan.left_over.len(),
            price: if plan.bars.is_empty() { Some(0.0) } else { plan.price },
        };
        for piece in &plan.left_over {
            let reaches = |s: &&Stock| s.length >= piece.length + scene.job.saw.trim;
            let bar = listed().filter(reaches).min_by(|a, b| a.length.total_cmp(&b.length))?;
            alone.bought += bar.length;
            alone.price = alone.price.zip(bar.price).map(|(a, b)| a + b);
        }
        Some(alone)
    };
    LENGTHS.into_iter().filter_map(one).collect()
}

fn chart_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    alone: &[Alone],
    listed: Option<&SectionPlan>,
    height: f32,
) {
    use egui_plot::{Bar, BarChart, PlotPoint, Text};
    let theme = scene.theme;
    let listed = listed.filter(|p| p.left_over.is_empty()).map(|p| Alone {
        length: 0.0,
        used: p.bars.iter().flat_map(|b| &b.pieces).map(|p| p.length).sum(),
        bought: p.bought,
        longer: 0,
        price: p.price,
    });
    let columns: Vec<(String, &Alone)> = alone
        .iter()
        .map(|a| (scene.job.units.show(a.length), a))
        .chain(listed.as_ref().map(|a| ("your list".into(), a)))
        .collect();
    let top = columns.iter().map(|(_, a)| a.bought / 1000.0).fold(1.0, f64::max);
    let edge = Stroke::new(1.0, theme.ink);
    let bar = |i: usize, height: f64| Bar::new(i as f64, height).width(0.6).stroke(edge);
    let needed = columns
        .iter()
        .enumerate()
        .map(|(i, (name, a))| bar(i, a.used / 1000.0).fill(theme.fill(Fill::Timber)).name(name));
    let wasted = columns.iter().enumerate().map(|(i, (name, a))| {
        bar(i, (a.bought - a.used) / 1000.0)
            .base_offset(a.used / 1000.0)
            .fill(theme.sheet)
            .name(name)
    });
    let needed = BarChart::new("in the wall", needed.collect())
        .color(theme.fill(Fill::Timber))
        .allow_hover(false);
    let wasted = BarChart::new("offcuts", wasted.collect()).color(theme.sheet).allow_hover(false);
    let labels: Vec<(f64, f64, String, bool)> = columns
        .iter()
        .enumerate()
        .flat_map(|(i, (_, a))| {
            let cost = a.price.map(|p| (price(&scene.job.saw.currency, p), false));
            let longer = (a.longer > 0).then(|| (format!("+{} longer", a.longer), false));
            let lines = [Some((format!("{:.0} %", a.waste()), true)), cost, longer];
            lines.into_iter().flatten().enumerate().map(move |(line, (text, strong))| {
                (i as f64, a.bought / 1000.0 + top * (0.035 + 0.05 * line as f64), text, strong)
            })
        })
        .collect();
    let names: Vec<String> = columns.into_iter().map(|(name, _)| name).collect();
    let (ink, quiet_colour) = (theme.ink, theme.quiet);
    ui.add_space(6.0);
    let marks = names.len();
    let units = scene.job.units;
    still_plot("which length to buy")
        .height(height)
        .show_axes([false, true])
        .show_grid([false, true])
        .grid_color(theme.hairline)
        .default_x_bounds(-0.6, marks as f64 - 0.4)
        .default_y_bounds(top * -0.08, top * 1.22)
        .y_axis_formatter(|mark, _| {
            if mark.value < 0.0 {
                String::new()
            } else {
                format!("{:.0} {}", mark.value * 1000.0 / units.run_step(), units.run_unit())
            }
        })
        .show(ui, |plot| {
            plot.bar_chart(needed);
            plot.bar_chart(wasted);
            for (i, name) in names.into_iter().enumerate() {
                let text = RichText::new(name).size(12.5).color(ink);
                plot.text(Text::new("length", PlotPoint::new(i as f64, top * -0.04), text));
            }
            for (x, y, text, strong) in labels {
                let colour = if strong { ink } else { quiet_colour };
                let text = RichText::new(text).size(11.5).color(colour);
                plot.text(Text::new("share of offcuts", PlotPoint::new(x, y), text));
            }
        });
    ui.horizontal_wrapped(|ui| {
        for (fill, word) in [
            (theme.fill(Fill::Timber), "in the wall"),
            (theme.sheet, "offcuts and saw cuts, with their share of what is bought"),
        ] {
            let (rect, _) = ui.allocate_exact_size(vec2(14.0, 14.0), egui::Sense::hover());
            ui.painter().rect(rect.shrink(1.0), 0.0, fill, edge, egui::StrokeKind::Inside);
            ui.label(quiet(theme, word));
        }
    });
}
