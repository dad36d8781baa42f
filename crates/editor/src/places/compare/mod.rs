//! Choices side by side, under the elevation: what every place for the odd bay of a wall, or every place for an
//! opening, would come to. A click makes it so, as one step.

mod boards;
mod odd_bay;
mod sweep;

use std::cmp::Ordering;

use egui::accesskit::Role;
use egui::{
    Align, Align2, Color32, Layout, Rect, Sense, Stroke, Ui, UiBuilder, WidgetInfo, pos2, vec2,
};
use layout_core::compare::Outcome;
use layout_core::document::Edit;
use layout_core::snag::Snag;

use crate::command::Command;
use crate::derived::{About, Compared, Found};
use crate::icons::Icon;
use crate::panels::bits::{focus_ring, icon_button_ui, metres, price, quiet, strong, unbroken};
use crate::scene::Scene;
use crate::theme::{bold_font, font};

/// Height of the strip, points.
pub const STRIP: f32 = 236.0;
/// Height of the line over it.
const TITLE: f32 = 30.0;
/// Height of one row of the table.
const ROW: f32 = 22.0;
/// Height of the line over a table.
const HEAD: f32 = 18.0;
/// So many snags that open, and that close, are told in full.
const SNAGS_TOLD: usize = 6;

/// Shows the strip for what is picked in `rect`.
pub fn compare_ui(ui: &mut Ui, rect: Rect, scene: &Scene<'_>, out: &mut Vec<Command>) {
    let Some(about) = About::picked(scene.session) else { return };
    let theme = scene.theme;
    ui.painter().rect_filled(rect, 0.0, theme.bar);
    ui.painter().hline(rect.x_range(), rect.top() + 0.5, Stroke::new(1.0, theme.hairline));
    let inside = rect.shrink2(vec2(12.0, 4.0));
    let (head, body) = inside.split_top_bottom_at_y(inside.top() + TITLE);
    let kept = scene.compared.filter(|c| c.about == about);
    let old = kept.is_none_or(|c| *c.of != **scene.session.history.job());
    let title = match &about {
        About::Wall(name) => format!("Odd bay of wall {name}"),
        About::Boards(makeup) => format!("Boards of {makeup}"),
        About::Opening(name) => format!("Places for {name}"),
    };
    let mut bar =
        ui.new_child(UiBuilder::new().max_rect(head).layout(Layout::left_to_right(Align::Center)));
    bar.label(strong(title, 14.0));
    let said = match kept {
        Some(_) if old => "as it was; being worked out again".into(),
        Some(Compared { found: Found::Sweep(Some(sweep)), .. }) => {
            format!("{} places tried", sweep.stops.len())
        }
        Some(_) => "for the whole job, against now".into(),
        None => "being worked out".into(),
    };
    bar.label(quiet(theme, said));
    if !matches!(about, About::Opening(_)) {
        bar.add_space(8.0);
        let boards = scene.session.comparing_boards;
        for (words, on) in [("Odd bay", !boards), ("Boards", boards)] {
            let button =
                bar.add(egui::Button::selectable(on, egui::RichText::new(words).font(font(12.5))));
            let name = format!("Compare {}", words.to_lowercase());
            button.widget_info(|| WidgetInfo::selected(Role::RadioButton, true, on, &name));
            if button.clicked() && !on {
                out.push(Command::CompareBoards(!boards));
            }
        }
    }
    let mut right =
        bar.new_child(UiBuilder::new().max_rect(head).layout(Layout::right_to_left(Align::Center)));
    if icon_button_ui(&mut right, theme, Icon::Close, "Close the comparison", true).clicked() {
        out.push(Command::Compare(false));
    }
    let mut body_ui = ui.new_child(UiBuilder::new().max_rect(body));
    if old {
        body_ui.set_opacity(0.55);
    }
    match kept.map(|c| &c.found) {
        Some(Found::Choices(choices)) => {
            odd_bay::choices_ui(&mut body_ui, scene, choices, old, out);
        }
        Some(Found::Boards(ways)) => boards::boards_ui(&mut body_ui, scene, ways, old, out),
        Some(Found::Sweep(Some(sweep))) => {
            sweep::sweep_ui(&mut body_ui, scene, sweep, old, out);
        }
        Some(Found::Sweep(None)) => {
            body_ui.label(quiet(theme, "There is no room to move it in this wall."));
        }
        None => {}
    }
}

/// A count against what it is now: “26 −2”.
fn against(value: usize, now: usize) -> String {
    match value as i64 - now as i64 {
        0 => value.to_string(),
        by if by > 0 => format!("{value} +{by}"),
        by => format!("{value} −{}", by.unsigned_abs()),
    }
}

/// What it costs against now, in words and as less or more: the price, or else the length to buy.
fn cost(
    scene: &Scene<'_>,
    prices: Option<(f64, f64)>,
    (bought, was): (f64, f64),
) -> (String, Ordering) {
    let (by, words): (f64, String) = match prices {
        Some((a, b)) => (a - b, price(&scene.job.saw.currency, (a - b).abs())),
        None => (bought - was, metres(scene, (bought - was).abs())),
    };
    match by {
        by if by.abs() < 0.005 => ("same".into(), Ordering::Equal),
        by if by > 0.0 => (format!("+{words}"), Ordering::Greater),
        _ => (format!("−{words}"), Ordering::Less),
    }
}

/// The timber of the job against now.
fn timber_cost(scene: &Scene<'_>, outcome: &Outcome, now: &Outcome) -> (String, Ordering) {
    let prices = outcome.bill.price.zip(now.bill.price);
    cost(scene, prices, (outcome.bill.bought, now.bill.bought))
}

/// Snags that open and close.
fn snags(opened: &[Snag], closed: &[Snag]) -> String {
    match (opened.len(), closed.len()) {
        (0, 0) => "same".into(),
        (opened, 0) => format!("+{opened}"),
        (0, closed) => format!("−{closed}"),
        (opened, closed) => format!("+{opened} −{closed}"),
    }
}

/// What does not fit in a row or a line: timber, cuts, what was moved, which snags.
fn more(scene: &Scene<'_>, outcome: &Outcome) -> String {
    let wall = &outcome.wall;
    let mut lines = vec![format!(
        "{} of timber in the wall, {} cuts in the job, {} to buy",
        metres(scene, wall.timber),
        outcome.bill.cuts,
        metres(scene, outcome.bill.bought)
    )];
    if wall.moved > 0 {
        lines.push(count(wall.moved, "stud off its mark", "studs off their marks"));
    }
    if wall.joints_off > 0 {
        lines.push(count(
            wall.joints_off,
            "board joint without a stud",
            "board joints without a stud",
        ));
    }
    if outcome.bill.no_bar > 0 {
        lines.push(count(outcome.bill.no_bar, "piece has no bar", "pieces have no bar"));
    }
    lines.extend(turns(&outcome.opened, &outcome.closed));
    lines.join("\n")
}

/// The snags that open and close, each in a line of its own; of many the first.
fn turns(opened: &[Snag], closed: &[Snag]) -> Vec<String> {
    let some = |word: &str, snags: &[Snag]| {
        let said = snags.iter().take(SNAGS_TOLD).map(|s| format!("{word}: {}", s.message));
        let more = snags.len().saturating_sub(SNAGS_TOLD);
        let more = (more > 0).then(|| format!("{word}: {more} more"));
        said.chain(more).collect::<Vec<String>>()
    };
    [some("Opens", opened), some("Closes", closed)].concat()
}

fn count(n: usize, one: &str, many: &str) -> String {
    match n {
        1 => format!("1 {one}"),
        n => format!("{n} {many}"),
    }
}

/// A column of a table: what stands over it, and how wide it is, points.
type Column = (&'static str, f32);

/// One way in a table: what is written in its columns and in which ink, how it is called, what is told while it is pointed at,
/// and the edit that makes it so.
struct Way<'a> {
    cells: Vec<(String, Color32)>,
    name: String,
    more: String,
    now: bool,
    best: bool,
    edit: &'a Edit,
}

impl Way<'_> {
    /// “, as it is, the best”: what is said after its name.
    fn sign(now: bool, best: bool) -> &'static str {
        match (now, best) {
            (true, true) => ", as it is, the best",
            (true, false) => ", as it is",
            (false, true) => ", the best",
            (false, false) => "",
        }
    }
}

/// The line over a table.
fn heads_ui(ui: &mut Ui, scene: &Scene<'_>, columns: &[Column]) {
    let theme = scene.theme;
    let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), HEAD), Sense::hover());
    let heads: Vec<(String, Color32)> =
        columns.iter().map(|(words, _)| (words.to_string(), theme.quiet)).collect();
    cells(ui, rect, columns, &heads, 11.5);
    ui.painter().hline(rect.x_range(), rect.bottom(), Stroke::new(1.0, theme.hairline));
}

/// One way as a row. The drawing shows it while it is pointed at; a click makes it so.
fn way_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    columns: &[Column],
    way: &Way<'_>,
    old: bool,
    out: &mut Vec<Command>,
) {
    let theme = scene.theme;
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), ROW), Sense::click());
    response.widget_info(|| WidgetInfo::selected(Role::ListItem, !old, way.now, &way.name));
    if way.now {
        ui.painter().rect_filled(rect, 3.0, theme.accent_tint);
    } else if response.hovered() || response.has_focus() {
        ui.painter().rect_filled(rect, 3.0, theme.hover);
    }
    focus_ring(ui, theme, &response, rect);
    cells(ui, rect, columns, &way.cells, 12.5);
    if way.best {
        let at = pos2(rect.right() - 4.0, rect.center().y);
        ui.painter().text(at, Align2::RIGHT_CENTER, "best", bold_font(11.5), theme.good);
    }
    let shown = scene.session.preview.as_ref() == Some(way.edit);
    let offered = !old && !way.now;
    let clicked = response.clicked();
    let pointed = response.hovered();
    response.on_hover_text(unbroken(&way.more));
    if clicked && offered {
        out.push(Command::Edit(way.edit.clone()));
    } else if pointed && offered && !shown {
        out.push(Command::Preview(Some(way.edit.clone())));
    } else if shown && !pointed {
        out.push(Command::Preview(None));
    }
}

/// The cells of a row: the first stands left, the others right.
fn cells(ui: &Ui, rect: Rect, columns: &[Column], cells: &[(String, Color32)], size: f32) {
    let mut x = rect.left() + 6.0;
    for (i, ((text, ink), (_, width))) in cells.iter().zip(columns).enumerate() {
        let (at, align) = match i {
            0 => (x, Align2::LEFT_CENTER),
            _ => (x + width - 4.0, Align2::RIGHT_CENTER),
        };
        let cell = Rect::from_x_y_ranges(x..=x + width, rect.y_range());
        ui.painter_at(cell.intersect(ui.clip_rect())).text(
            pos2(at, rect.center().y),
            align,
            text,
            font(size),
            *ink,
        );
        x += width;
    }
}

/// The ink of a figure against what it is now: less is good.
fn ink(scene: &Scene<'_>, by: Ordering) -> Color32 {
    match by {
        Ordering::Less => scene.theme.good,
        Ordering::Greater => scene.theme.mend,
        Ordering::Equal => scene.theme.ink,
    }
}
