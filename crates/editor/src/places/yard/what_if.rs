//! What if: the whole job with other centres, of another timber, from other lengths, its boards laid another way. A plot of what
//! each of one kind costs and wastes, and a table of all of them.

use std::sync::Arc;

use egui::{Align, Label, Layout, RichText, Stroke, Ui, vec2};
use layout_core::compare::{About, WhatIf};
use layout_core::units::mm;
use sheets::picture::Fill;

use crate::command::Command;
use crate::icons::Icon;
use crate::panels::bits::{
    empty_ui, hairline_ui, metres, price, quiet, still_plot, strong, unbroken,
};
use crate::scene::Scene;

/// Height of the plot, points.
const PLOT: f32 = 210.0;
/// Widths of the columns, points: choice, cost, waste, cuts, pieces, mass, snags, the button.
const WIDTHS: [f32; 8] = [124.0, 74.0, 48.0, 44.0, 50.0, 56.0, 62.0, 44.0];

/// Which kind of choice the plot is of.
#[derive(Default)]
pub(super) struct WhatIfShown {
    about: Option<About>,
}

pub(super) fn what_if_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    state: &mut WhatIfShown,
    out: &mut Vec<Command>,
) {
    let theme = scene.theme;
    let words = "The whole job each way, timber, boards and what goes with them. The job stays as it is until you do one.";
    ui.add(Label::new(quiet(theme, words)).wrap());
    let Some(found) = scene.what_if.filter(|found| !found.rows.is_empty()) else {
        empty_ui(
            ui,
            theme,
            Icon::Sheet,
            "Working it out…",
            "Every choice is laid out and planned.",
        );
        return;
    };
    let stale = !std::ptr::eq(Arc::as_ptr(&found.of), std::ptr::from_ref(scene.job));
    let note = match (stale, found.ended) {
        (true, _) => "Of the job before your last change; being worked out again.",
        (_, false) => "Still working out the rest…",
        _ => "",
    };
    if !note.is_empty() {
        ui.label(quiet(theme, note));
    }
    let kinds = [About::Centres, About::Timber, About::Lengths, About::Boards];
    let has = |about: About| found.rows.iter().any(|row| row.about == about);
    let kinds: Vec<About> = kinds.into_iter().filter(|about| has(*about)).collect();
    let shown = state.about.filter(|about| has(*about)).or(kinds.first().copied());
    ui.horizontal(|ui| {
        ui.label(quiet(theme, "Shown"));
        for about in kinds {
            if ui.selectable_label(shown == Some(about), about.label()).clicked() {
                state.about = Some(about);
            }
        }
    });
    let rows: Vec<&WhatIf> = found
        .rows
        .iter()
        .filter(|row| row.about == About::Now || Some(row.about) == shown)
        .filter(|row| row.whole.without == 0)
        .collect();
    let priced = found.rows.iter().all(|r| r.whole.cost.is_some() || r.whole.without > 0);
    plot_ui(ui, scene, &rows, priced);
    ui.add_space(6.0);
    table_ui(ui, scene, &found.rows, priced, stale, out);
}

/// The cost of each choice, or the length bought where there are no prices, and what is wasted, over its name.
fn plot_ui(ui: &mut Ui, scene: &Scene<'_>, rows: &[&WhatIf], priced: bool) {
    use egui_plot::{Bar, BarChart, PlotPoint, Text};
    let (theme, currency) = (scene.theme, &scene.job.saw.currency);
    let height = |row: &WhatIf| match row.whole.cost.filter(|_| priced) {
        Some(cost) => cost,
        None => row.whole.bought / scene.job.units.run_step(),
    };
    let top = rows.iter().map(|row| height(row)).fold(1e-6, f64::max);
    let edge = Stroke::new(1.0, theme.ink);
    let bars = rows.iter().enumerate().map(|(i, row)| {
        let fill = if row.about == About::Now { theme.fill(Fill::Timber) } else { theme.sheet };
        Bar::new(i as f64, height(row)).width(0.62).stroke(edge).fill(fill).name(&row.label)
    });
    let bars = BarChart::new("cost", bars.collect()).color(theme.sheet).allow_hover(false);
    let labels: Vec<(f64, f64, String, bool)> = rows
        .iter()
        .enumerate()
        .flat_map(|(i, row)| {
            let (x, y) = (i as f64, height(row));
            let sum = match row.whole.cost.filter(|_| priced) {
                Some(cost) => price(currency, cost),
                None => metres(scene, row.whole.bought),
            };
            let waste = format!("{:.0} % waste, {} cuts", row.whole.waste_share, row.whole.cuts);
            let name = row.label.replace("boards ", "").replace("studs ", "");
            [
                (x, top * -0.06, name, true),
                (x, y + top * 0.05, waste, false),
                (x, y + top * 0.14, sum, true),
            ]
        })
        .collect();
    let (ink, quiet_colour, count) = (theme.ink, theme.quiet, rows.len());
    still_plot("what if")
        .height(PLOT)
        .show_axes([false, false])
        .show_grid([false, false])
        .default_x_bounds(-0.6, (count as f64 - 0.4).max(2.4))
        .default_y_bounds(top * -0.12, top * 1.24)
        .show(ui, |plot| {
            plot.bar_chart(bars);
            for (x, y, text, strong) in labels {
                let colour = if strong { ink } else { quiet_colour };
                let text = RichText::new(text).size(11.5).color(colour);
                plot.text(Text::new("choice", PlotPoint::new(x, y), text));
            }
        });
}

fn table_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    rows: &[WhatIf],
    priced: bool,
    stale: bool,
    out: &mut Vec<Command>,
) {
    let theme = scene.theme;
    let cost = if priced { "all of it" } else { "to buy" };
    let heads = ["", cost, "waste", "cuts", "pieces", "kg", "snags", ""].map(|t| quiet(theme, t));
    row_ui(ui, heads, |_| {});
    hairline_ui(ui, theme);
    let mut about = About::Now;
    for row in rows {
        if row.about != about {
            about = row.about;
            hairline_ui(ui, theme);
        }
        let cells = cells(scene, row, priced);
        row_ui(ui, cells, |ui| {
            let Some(edit) = row.edit.as_ref().filter(|_| !stale) else { return };
            let button = ui.button("Do");
            let name = format!("Do it: {}", row.label);
            button.widget_info(|| {
                egui::WidgetInfo::labeled(egui::accesskit::Role::Button, true, &name)
            });
            if button.on_hover_text(name).clicked() {
                out.push(Command::Edit(edit.clone()));
            }
        });
    }
    hairline_ui(ui, theme);
    let words = "• the least of a column. Waste is of the bars; snags are stops · mends · notes; “without” are pieces or boards that nothing gives. Plans are looked at for a moment each, \
                 all alike, so that Saw may find a little less.";
    ui.add(Label::new(quiet(theme, words)).wrap());
}

fn cells(scene: &Scene<'_>, row: &WhatIf, priced: bool) -> [RichText; 8] {
    let (theme, whole) = (scene.theme, &row.whole);
    let marked = |i: usize, text: String| match row.best[i] {
        true => strong(format!("• {text}"), 13.0),
        false => RichText::new(text).size(13.0),
    };
    let cost = match whole.cost.filter(|_| priced) {
        _ if whole.without > 0 => quiet(theme, format!("{} without", whole.without)),
        Some(cost) => marked(0, price(&scene.job.saw.currency, cost)),
        None => marked(0, metres(scene, whole.bought)),
    };
    let [stops, mends, notes] = whole.snags;
    let label = RichText::new(unbroken(&row.label)).size(13.0);
    [
        if row.about == About::Now { strong("as it is", 13.0) } else { label },
        cost,
        marked(1, format!("{:.0} %", whole.waste_share)),
        marked(2, whole.cuts.to_string()),
        marked(3, whole.pieces.to_string()),
        marked(4, mm(whole.mass)),
        marked(5, format!("{stops} · {mends} · {notes}")),
        RichText::new(""),
    ]
}

/// One row: the first cell stands left, the others right; the last is what `last` puts there.
fn row_ui(ui: &mut Ui, cells: [RichText; 8], last: impl FnOnce(&mut Ui)) {
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 8.0;
        ui.spacing_mut().button_padding.y = 0.0;
        let mut last = Some(last);
        for (i, (cell, width)) in cells.into_iter().zip(WIDTHS).enumerate() {
            let layout = match i {
                0 => Layout::left_to_right(Align::Center),
                _ => Layout::right_to_left(Align::Center),
            };
            ui.allocate_ui_with_layout(vec2(width, 22.0), layout, |ui| {
                ui.set_width(width);
                match last.take_if(|_| i + 1 == WIDTHS.len()) {
                    Some(last) => last(ui),
                    None => drop(ui.add(Label::new(cell).truncate())),
                }
            });
        }
    });
}
