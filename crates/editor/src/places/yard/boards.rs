//! The boards of the Yard: sheets to buy, and the list of sheets sold and offcuts there are.

use egui::accesskit::Role;
use egui::{Align, Label, Layout, RichText, Ui, WidgetInfo, vec2};
use layout_core::board_plan::{BoardPlan, marks_in_words};
use layout_core::document::{Edit, SawSettings, SheetStock};
use layout_core::id::Name;
use layout_core::order::{Goods, OrderLine};
use layout_core::units::Units;

use super::{breakage, columns_ui, read_count, read_pack, read_price};
use crate::command::Command;
use crate::icons::Icon;
use crate::panels::bits::{hairline_ui, icon_button_ui, price, quiet, strong, unbroken};
use crate::panels::field::{field_ui, length_ui};
use crate::scene::Scene;

/// Sides of a sheet or an offcut, mm.
const SIDES: (f64, f64) = (10.0, 10_000.0);

fn board_name(units: Units, kind: &Name, thickness: f64) -> String {
    format!("{kind} {}", units.fine(thickness))
}

fn size(units: Units, (width, length): (f64, f64)) -> String {
    format!("{} × {}", units.show(width), units.show(length))
}

/// What to buy of each kind of board, with what no plan can do better than.
pub(super) fn to_buy_ui(ui: &mut Ui, scene: &Scene<'_>) {
    let theme = scene.theme;
    let plans = scene.lists.boards();
    if plans.is_empty() {
        return;
    }
    ui.add_space(22.0);
    ui.label(strong("Boards to buy", 16.0));
    let proven = if plans.iter().all(|p| p.proven) {
        "Proven: nothing cheaper will do."
    } else {
        "“At least” is what no way of cutting can do with less than."
    };
    let about = format!(
        "Offcuts are used again. {proven} The page Boards shows how each is cut. {}",
        breakage(scene)
    );
    ui.add(Label::new(quiet(theme, about)).wrap());
    ui.add_space(4.0);
    let widths = [96.0, 44.0, 32.0, 92.0, 48.0, 48.0, 66.0];
    let head = ["board", "boards", "buy", "of", "at least", "offcuts", "price"];
    columns_ui(ui, &widths, head.map(|t| quiet(theme, t)));
    hairline_ui(ui, theme);
    for plan in plans {
        plan_ui(ui, scene, plan, &widths);
    }
    let boards: Option<f64> = scene.lists.order().of(Goods::Board).map(|line| line.price).sum();
    let whole = plans.iter().all(|p| p.left_over.is_empty());
    let boards = boards.filter(|_| whole);
    if let Some(boards) = boards.filter(|sum| *sum > 0.0) {
        let total = |name: &str, sum: f64| {
            let none = || RichText::new("");
            let sum = strong(price(&scene.job.saw.currency, sum), 14.0);
            [strong(name, 14.0), none(), none(), none(), none(), none(), sum]
        };
        columns_ui(ui, &widths, total("All boards", boards));
    }
}

fn plan_ui(ui: &mut Ui, scene: &Scene<'_>, plan: &BoardPlan, widths: &[f32; 7]) {
    let (theme, units) = (scene.theme, scene.job.units);
    let sizes = plan.by_size();
    let name = format!("board {}", board_name(units, &plan.kind, plan.thickness));
    let order = scene.lists.order();
    let lines: Vec<&OrderLine> = order.of(Goods::Board).filter(|l| l.what == name).collect();
    let buy: usize = lines.iter().map(|line| line.buy()).sum();
    let cost = match lines.iter().map(|line| line.price).sum::<Option<f64>>() {
        Some(sum) if buy > 0 => RichText::new(price(&scene.job.saw.currency, sum)),
        Some(_) => RichText::new(""),
        None => quiet(theme, "no price"),
    };
    let of = match &sizes[..] {
        [] => "none to buy".into(),
        [(one, _)] => size(units, *one),
        several => format!("{} sizes", several.len()),
    };
    columns_ui(
        ui,
        widths,
        [
            strong(board_name(units, &plan.kind, plan.thickness), 13.5),
            RichText::new(plan.boards.to_string()),
            strong(buy.to_string(), 13.5),
            RichText::new(of),
            RichText::new(plan.fewest.to_string()),
            RichText::new(format!("{:.0} %", plan.waste())),
            cost,
        ],
    );
    if sizes.len() > 1 || lines.iter().any(|line| !line.beyond().is_empty()) {
        let each = lines.iter().map(|line| {
            let beyond = line.beyond();
            let beyond = if beyond.is_empty() { beyond } else { format!(" ({beyond})") };
            format!("{} × {}{beyond}", line.buy(), line.of)
        });
        let each = unbroken(&each.collect::<Vec<String>>().join("    "));
        ui.add(Label::new(RichText::new(each).size(13.5)).wrap());
    }
    let here = match plan.owned() {
        0 => None,
        1 => Some("1 that is here is used".to_string()),
        n => Some(format!("{n} that are here are used")),
    };
    let bound = (!plan.proven).then(|| plan.bound_in_words());
    let words: Vec<String> = here.into_iter().chain(bound).collect();
    if !words.is_empty() {
        ui.add(Label::new(quiet(theme, words.join("; "))).wrap());
    }
    if !plan.left_over.is_empty() {
        let marks = marks_in_words(&plan.left_over);
        let words = format!("No sheet gives {marks}: add a larger one below");
        ui.add(Label::new(quiet(theme, words).color(theme.mend)).wrap());
    }
    hairline_ui(ui, theme);
}

/// The list of sheets: every line can be changed, taken away, and another added.
pub(super) fn list_ui(ui: &mut Ui, scene: &Scene<'_>, out: &mut Vec<Command>) {
    let theme = scene.theme;
    if scene.lists.boards().is_empty() && scene.job.sheets.is_empty() {
        return;
    }
    ui.add_space(22.0);
    ui.label(strong("Sheets that are sold, and what you have", 16.0));
    let about = "Price is for one sheet; “pack” is how many are sold together. A count in “here” makes it sheets or offcuts you have: they cost nothing. \
                 The sizes that walls are boarded with can be bought though they are not listed.";
    ui.add(Label::new(quiet(theme, about)).wrap());
    let currency = &scene.job.saw.currency;
    let price_head =
        if currency.is_empty() { "price".to_string() } else { format!("price {currency}") };
    if !scene.job.sheets.is_empty() {
        ui.add_space(4.0);
        let head = ["board", "width", "length", &price_head, "pack", "here", ""];
        columns_ui(ui, &WIDTHS, head.map(|t| quiet(theme, t)));
        hairline_ui(ui, theme);
    }
    let mut asked = None;
    for (i, line) in scene.job.sheets.iter().enumerate() {
        ui.push_id(("board line", i), |ui| {
            if let Some(changed) = line_ui(ui, scene, line, i) {
                asked = Some((i, changed));
            }
        });
    }
    if let Some((i, changed)) = asked {
        let mut sheets = scene.job.sheets.clone();
        match changed {
            Some(line) => sheets[i] = line,
            None => {
                sheets.remove(i);
            }
        }
        out.push(Command::Edit(Edit::SetSheets(sheets)));
    }
    add_ui(ui, scene, out);
    settings_ui(ui, scene, out);
}

const WIDTHS: [f32; 7] = [96.0, 64.0, 64.0, 72.0, 48.0, 48.0, 28.0];

/// One line; gives what it becomes when it was changed, `Some(None)` when it is to go.
fn line_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    line: &SheetStock,
    index: usize,
) -> Option<Option<SheetStock>> {
    let (theme, units) = (scene.theme, scene.job.units);
    let mut asked = None;
    let name = board_name(units, &line.kind, line.thickness);
    let of = format!("{name}, board line {}", index + 1);
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 14.0;
        let left = Layout::left_to_right(Align::Center);
        ui.allocate_ui_with_layout(vec2(WIDTHS[0], 26.0), left, |ui| {
            ui.set_width(WIDTHS[0]);
            ui.add(Label::new(name).truncate());
        });
        let mut side = |what: &str, value: f64, width: f32| {
            length_ui(ui, (theme, units), &format!("{what} of {of}"), value, SIDES, width)
        };
        let (w, l) = line.size;
        if let Some(width) = side("Width", w, WIDTHS[1]) {
            asked = Some(Some(SheetStock { size: (width, l), ..line.clone() }));
        }
        if let Some(length) = side("Length", l, WIDTHS[2]) {
            asked = Some(Some(SheetStock { size: (w, length), ..line.clone() }));
        }
        let shown = line.price.map_or(String::new(), |p| format!("{p:.2}"));
        let read = |text: &str| read_price(text, scene);
        let typed = field_ui(ui, theme, &format!("Price of {of}"), &shown, WIDTHS[3], read);
        if let Some(price) = typed.value {
            asked = Some(Some(SheetStock { price, ..line.clone() }));
        }
        let shown = line.pack.map_or(String::new(), |n| n.to_string());
        let typed = field_ui(ui, theme, &format!("Pack of {of}"), &shown, WIDTHS[4], read_pack);
        if let Some(pack) = typed.value {
            asked = Some(Some(SheetStock { pack, ..line.clone() }));
        }
        let shown = line.owned.map_or(String::new(), |n| n.to_string());
        let typed = field_ui(ui, theme, &format!("Here of {of}"), &shown, WIDTHS[5], read_count);
        if let Some(owned) = typed.value {
            asked = Some(Some(SheetStock { owned, ..line.clone() }));
        }
        if icon_button_ui(ui, theme, Icon::Close, &format!("Take away {of}"), true).clicked() {
            asked = Some(None);
        }
    });
    asked
}

/// Buttons for each kind the job uses or the list has: one more size of it that is sold, or an offcut of it.
fn add_ui(ui: &mut Ui, scene: &Scene<'_>, out: &mut Vec<Command>) {
    let units = scene.job.units;
    let mut kinds: Vec<(&Name, f64)> =
        scene.lists.boards().iter().map(|p| (&p.kind, p.thickness)).collect();
    kinds.extend(scene.job.sheets.iter().map(|s| (&s.kind, s.thickness)));
    kinds.sort_by(|a, b| a.0.cmp(b.0).then(a.1.total_cmp(&b.1)));
    kinds.dedup();
    ui.add_space(4.0);
    for (words, is_offcut) in [("Add a size of", false), ("Add an offcut of", true)] {
        ui.horizontal_wrapped(|ui| {
            ui.label(quiet(scene.theme, words));
            for &(kind, thickness) in &kinds {
                let name = board_name(units, kind, thickness);
                let button = ui.push_id(words, |ui| ui.button(&name)).inner;
                let full = format!("{words} {name}");
                button.widget_info(|| WidgetInfo::labeled(Role::Button, true, &full));
                if !button.clicked() {
                    continue;
                }
                let mut sheets = scene.job.sheets.clone();
                let size = next_size(scene, kind, thickness, is_offcut);
                sheets.push(SheetStock {
                    owned: is_offcut.then_some(1),
                    ..SheetStock::new(kind.clone(), thickness, size)
                });
                sheets.sort_by(|a, b| {
                    let key = |s: &SheetStock| (s.kind.clone(), s.owned.is_some());
                    key(a).cmp(&key(b)).then(a.thickness.total_cmp(&b.thickness))
                });
                out.push(Command::Edit(Edit::SetSheets(sheets)));
            }
        });
    }
}

/// The size of a new line: the first that the make-ups or the catalogue have and the list has not; half a sheet for
/// an offcut.
fn next_size(scene: &Scene<'_>, kind: &Name, thickness: f64, is_offcut: bool) -> (f64, f64) {
    let is_kind = |k: &Name, t: f64| k == kind && (t - thickness).abs() < 0.01;
    let plans = scene.lists.boards().iter().filter(|p| is_kind(&p.kind, p.thickness));
    let used = plans.flat_map(BoardPlan::by_size).map(|(size, _)| size);
    let sold = scene.catalogue.boards.iter().filter(|s| is_kind(&s.kind, s.thickness));
    let sizes: Vec<(f64, f64)> = used.chain(sold.map(|s| (s.width, s.length))).collect();
    let first = sizes.first().copied().unwrap_or((1200.0, 2400.0));
    if is_offcut {
        return (first.0 / 2.0, first.1);
    }
    let listed = |size: &(f64, f64)| {
        let mut lines = scene.job.sheets.iter().filter(|s| is_kind(&s.kind, s.thickness));
        lines.any(|s| s.owned.is_none() && s.size == *size)
    };
    sizes.into_iter().find(|s| !listed(s)).unwrap_or(first)
}

fn settings_ui(ui: &mut Ui, scene: &Scene<'_>, out: &mut Vec<Command>) {
    let (theme, units, saw) = (scene.theme, scene.job.units, &scene.job.saw);
    ui.add_space(6.0);
    ui.horizontal_wrapped(|ui| {
        let name = "Width of the cut in boards";
        ui.label(name);
        if let Some(board_kerf) =
            length_ui(ui, (theme, units), name, saw.board_kerf, (0.0, 20.0), 48.0)
        {
            let saw = SawSettings { board_kerf, ..saw.clone() };
            out.push(Command::Edit(Edit::SetSaw(saw)));
        }
        ui.label(quiet(theme, "nothing when snapped"));
        ui.add_space(12.0);
        let name = "Offcuts are kept from";
        ui.label(name);
        if let Some(keep) = length_ui(ui, (theme, units), name, saw.keep, SIDES, 56.0) {
            let saw = SawSettings { keep, ..saw.clone() };
            out.push(Command::Edit(Edit::SetSaw(saw)));
        }
        ui.label(quiet(theme, "both sides"));
    });
}
