//! Choices side by side, under the elevation: what every place for the odd bay of a wall, or every place for an
//! opening, would come to. A click makes it so, as one step.

use egui::accesskit::Role;
use egui::{
    Align, Align2, EventFilter, Id, Key, Layout, Rect, RichText, ScrollArea, Sense, Stroke, Ui,
    UiBuilder, WidgetInfo, pos2, vec2,
};
use egui_plot::{Line, Plot, PlotPoints, Points, VLine};
use layout_core::compare::{Choice, Outcome, Stop, Sweep};
use layout_core::document::Face;
use layout_core::units::mm;

use crate::command::Command;
use crate::derived::{About, Compared, Found};
use crate::icons::Icon;
use crate::panels::bits::{focus_ring, icon_button_ui, metres, price, quiet, strong};
use crate::scene::Scene;
use crate::theme::{bold_font, font};

/// Height of the strip, points.
pub const STRIP: f32 = 236.0;
/// Height of the line over it.
const TITLE: f32 = 30.0;
/// Height of one row of the table.
const ROW: f32 = 22.0;
/// What stands over the columns, and how wide each is, points.
const COLUMNS: [(&str, f32); 8] = [
    ("odd bay", 118.0),
    ("centres", 52.0),
    ("pieces", 48.0),
    ("studs", 42.0),
    ("noggins", 54.0),
    ("lengths", 52.0),
    ("price", 66.0),
    ("snags", 60.0),
];

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
        Some(Found::Choices(choices)) => choices_ui(&mut body_ui, scene, choices, old, out),
        Some(Found::Sweep(Some(sweep))) => sweep_ui(&mut body_ui, scene, sweep, old, out),
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

/// What it costs against now: the price, or else the length to buy.
fn cost(scene: &Scene<'_>, outcome: &Outcome, now: &Outcome) -> String {
    let (by, words): (f64, String) = match outcome.bill.price.zip(now.bill.price) {
        Some((a, b)) => (a - b, price(&scene.job.saw.currency, (a - b).abs())),
        None => (
            outcome.bill.bought - now.bill.bought,
            metres(scene, (outcome.bill.bought - now.bill.bought).abs()),
        ),
    };
    match by {
        by if by.abs() < 0.005 => "same".into(),
        by if by > 0.0 => format!("+{words}"),
        _ => format!("−{words}"),
    }
}

/// Snags that open and close.
fn snags(outcome: &Outcome) -> String {
    match (outcome.opened.len(), outcome.closed.len()) {
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
    let count = |n: usize, one: &str, many: &str| match n {
        1 => format!("1 {one}"),
        n => format!("{n} {many}"),
    };
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
    lines.extend(outcome.opened.iter().map(|s| format!("Opens: {}", s.message)));
    lines.extend(outcome.closed.iter().map(|s| format!("Closes: {}", s.message)));
    lines.join("\n")
}

fn choices_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    choices: &[Choice],
    old: bool,
    out: &mut Vec<Command>,
) {
    let theme = scene.theme;
    let Some(now) = choices.iter().find(|c| c.now).map(|c| &c.outcome) else {
        ui.label(quiet(theme, "This wall cannot be framed as it is."));
        return;
    };
    ui.spacing_mut().item_spacing.y = 0.0;
    let (head, _) = ui.allocate_exact_size(vec2(ui.available_width(), 18.0), Sense::hover());
    let heads = COLUMNS.map(|(words, _)| (words.to_owned(), theme.quiet));
    cells(ui, head, &heads, 11.5, false);
    ui.painter().hline(head.x_range(), head.bottom(), Stroke::new(1.0, theme.hairline));
    ScrollArea::vertical().id_salt("odd bay choices").auto_shrink([false, false]).show(ui, |ui| {
        let mut last = None;
        for choice in choices {
            if last.is_some_and(|c: f64| (c - choice.centres).abs() > 0.01) {
                ui.add_space(3.0);
                let line = ui.available_rect_before_wrap();
                let ink = Stroke::new(1.0, theme.hairline);
                ui.painter().hline(line.x_range(), line.top(), ink);
                ui.add_space(3.0);
            }
            last = Some(choice.centres);
            if row_ui(ui, scene, choice, now, old) {
                out.push(Command::Edit(choice.edit.clone()));
            }
        }
    });
}

/// One choice; true when it was chosen.
fn row_ui(ui: &mut Ui, scene: &Scene<'_>, choice: &Choice, now: &Outcome, old: bool) -> bool {
    let theme = scene.theme;
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), ROW), Sense::click());
    let (outcome, wall, was) = (&choice.outcome, &choice.outcome.wall, &now.wall);
    let words = [
        choice.words(),
        scene.job.units.show(choice.centres),
        against(wall.pieces, was.pieces),
        against(wall.studs, was.studs),
        against(wall.noggins, was.noggins),
        against(wall.lengths, was.lengths),
        cost(scene, outcome, now),
        snags(outcome),
    ];
    let sign = match (choice.now, choice.best) {
        (true, true) => ", as it is, the best",
        (true, false) => ", as it is",
        (false, true) => ", the best",
        (false, false) => "",
    };
    let name = format!(
        "Odd bay {} at {}{sign}: {} pieces, {} studs, price {}, snags {}",
        words[0], words[1], wall.pieces, wall.studs, words[6], words[7]
    );
    response.widget_info(|| WidgetInfo::selected(Role::ListItem, !old, choice.now, &name));
    if choice.now {
        ui.painter().rect_filled(rect, 3.0, theme.accent_tint);
    } else if response.hovered() || response.has_focus() {
        ui.painter().rect_filled(rect, 3.0, theme.hover);
    }
    focus_ring(ui, theme, &response, rect);
    let ink = |by: std::cmp::Ordering| match by {
        std::cmp::Ordering::Less => theme.good,
        std::cmp::Ordering::Greater => theme.mend,
        std::cmp::Ordering::Equal => theme.ink,
    };
    let dearer = outcome
        .bill
        .price
        .zip(now.bill.price)
        .map_or(outcome.bill.bought - now.bill.bought, |(a, b)| a - b);
    let colours = [
        if choice.now { theme.accent } else { theme.ink },
        theme.ink,
        ink(wall.pieces.cmp(&was.pieces)),
        ink(wall.studs.cmp(&was.studs)),
        ink(wall.noggins.cmp(&was.noggins)),
        ink(wall.lengths.cmp(&was.lengths)),
        if dearer.abs() < 0.005 { theme.ink } else { ink(dearer.total_cmp(&0.0)) },
        ink(outcome.opened.len().cmp(&outcome.closed.len())),
    ];
    let mut index = 0;
    let row = words.map(|text| {
        index += 1;
        (text, colours[index - 1])
    });
    cells(ui, rect, &row, 12.5, choice.now);
    if choice.best {
        let at = pos2(rect.right() - 4.0, rect.center().y);
        ui.painter().text(at, Align2::RIGHT_CENTER, "best", bold_font(11.5), theme.good);
    }
    response.on_hover_text(more(scene, outcome)).clicked() && !old && !choice.now
}

/// The cells of a row: the first stands left, the others right.
fn cells(ui: &Ui, rect: Rect, cells: &[(String, egui::Color32); 8], size: f32, bold: bool) {
    let mut x = rect.left() + 6.0;
    for (i, ((text, ink), (_, width))) in cells.iter().zip(COLUMNS).enumerate() {
        let face = if bold && i == 0 { bold_font(size) } else { font(size) };
        let (at, align) = match i {
            0 => (x, Align2::LEFT_CENTER),
            _ => (x + width - 4.0, Align2::RIGHT_CENTER),
        };
        let cell = Rect::from_x_y_ranges(x..=x + width, rect.y_range());
        ui.painter_at(cell.intersect(ui.clip_rect())).text(
            pos2(at, rect.center().y),
            align,
            text,
            face,
            *ink,
        );
        x += width;
    }
}

/// A figure of a sweep: its word, and what it is at a place.
type Figure = (&'static str, fn(&Outcome) -> f64);

fn sweep_ui(ui: &mut Ui, scene: &Scene<'_>, sweep: &Sweep, old: bool, out: &mut Vec<Command>) {
    let theme = scene.theme;
    let priced = sweep.stops.iter().all(|s| s.outcome.bill.price.is_some());
    let dear: Figure = if priced {
        ("price", |o| o.bill.price.unwrap_or(0.0))
    } else {
        ("to buy, m", |o| o.bill.bought / 1000.0)
    };
    let figures: [Figure; 3] = [
        ("pieces", |o| o.wall.pieces as f64),
        dear,
        ("snags", |o| o.snags.iter().sum::<usize>() as f64),
    ];
    best_ui(ui, scene, sweep, old, out);
    ui.add_space(2.0);
    let area = ui.available_rect_before_wrap();
    let foot = 16.0;
    let plots = Rect::from_min_max(
        pos2(area.left() + 58.0, area.top()),
        pos2(area.right() - 44.0, area.bottom() - foot),
    );
    let Some((first, last)) = sweep.stops.first().zip(sweep.stops.last()) else { return };
    // Seen from the left face the wall runs the other way.
    let flipped = scene.session.face == Face::Left;
    let (low, high) = (first.at.min(last.at), first.at.max(last.at));
    let x = |at: f64| if flipped { low + high - at } else { at };
    let each = plots.height() / figures.len() as f32;
    for (i, figure) in figures.iter().enumerate() {
        let top = plots.top() + each * i as f32;
        let rect =
            Rect::from_min_size(pos2(plots.left(), top + 2.0), vec2(plots.width(), each - 4.0));
        figure_ui(ui, scene, sweep, figure, rect, &x);
    }
    for (at, align) in [(low, Align2::LEFT_BOTTOM), (high, Align2::RIGHT_BOTTOM)] {
        let edge = if align == Align2::LEFT_BOTTOM { plots.left() } else { plots.right() };
        let text = scene.job.units.show(x(at));
        ui.painter().text(pos2(edge, area.bottom()), align, text, font(11.0), theme.quiet);
    }
    ui.painter().text(
        pos2(plots.center().x, area.bottom()),
        Align2::CENTER_BOTTOM,
        "middle of the opening, from the start of the frame",
        font(11.0),
        theme.quiet,
    );
    pointer_ui(ui, scene, sweep, plots, (low, high, flipped), old, out);
}

/// The best places as buttons, one for each run of them.
fn best_ui(ui: &mut Ui, scene: &Scene<'_>, sweep: &Sweep, old: bool, out: &mut Vec<Command>) {
    let theme = scene.theme;
    let mut runs: Vec<Vec<&Stop>> = Vec::new();
    let mut on = false;
    for stop in &sweep.stops {
        match (stop.best, on) {
            (true, true) => runs.last_mut().into_iter().for_each(|run| run.push(stop)),
            (true, false) => runs.push(vec![stop]),
            (false, _) => {}
        }
        on = stop.best;
    }
    // Of each run the place nearest to where it is now.
    let away = |s: &&&Stop| ((s.at - sweep.now.at).abs() * 100.0) as i64;
    let mut places: Vec<&Stop> =
        runs.iter().filter_map(|run| run.iter().min_by_key(away).copied()).collect();
    places.sort_by_key(|s| ((s.at - sweep.now.at).abs() * 100.0) as i64);
    ui.horizontal(|ui| {
        ui.label(quiet(theme, format!("Now at {}. Best at", scene.job.units.show(sweep.now.at))));
        for stop in places.iter().take(4) {
            let name = format!(
                "Move {} to {}: {}",
                sweep.opening,
                scene.job.units.show(stop.at),
                words(scene, stop, sweep)
            );
            let button = ui.add_enabled(
                !old,
                egui::Button::new(RichText::new(scene.job.units.show(stop.at)).size(12.5)),
            );
            button.widget_info(|| WidgetInfo::labeled(Role::Button, !old, &name));
            if button.on_hover_text(format!("{name}\n{}", more(scene, &stop.outcome))).clicked() {
                out.push(Command::Edit(sweep.edit(stop)));
            }
        }
        if let Some(stop) = places.first() {
            ui.label(quiet(theme, words(scene, stop, sweep)));
        }
    });
}

/// A place in words, against now.
fn words(scene: &Scene<'_>, stop: &Stop, sweep: &Sweep) -> String {
    let now = &sweep.now.outcome;
    format!(
        "pieces {}, price {}, snags {}",
        against(stop.outcome.wall.pieces, now.wall.pieces),
        cost(scene, &stop.outcome, now),
        snags(&stop.outcome)
    )
}

/// One figure against the place, with the best places and the place it has now.
fn figure_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    sweep: &Sweep,
    (word, value): &Figure,
    rect: Rect,
    x: &dyn Fn(f64) -> f64,
) {
    let theme = scene.theme;
    let values: Vec<f64> = sweep.stops.iter().map(|s| value(&s.outcome)).collect();
    let low = values.iter().copied().fold(f64::INFINITY, f64::min);
    let high = values.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let room = ((high - low) * 0.12).max(0.5);
    let point = |s: &Stop| [x(s.at), value(&s.outcome)];
    let line: Vec<[f64; 2]> = sweep.stops.iter().map(point).collect();
    let best: Vec<[f64; 2]> = sweep.stops.iter().filter(|s| s.best).map(point).collect();
    let (from, to) = line
        .iter()
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), p| (a.min(p[0]), b.max(p[0])));
    let mut inner = ui.new_child(UiBuilder::new().max_rect(rect).id_salt(*word));
    inner.painter().rect_filled(rect, 0.0, theme.sheet);
    Plot::new(("figure of a sweep", *word))
        .width(rect.width())
        .height(rect.height())
        .allow_drag(false)
        .allow_zoom(false)
        .allow_scroll(false)
        .allow_boxed_zoom(false)
        .allow_double_click_reset(false)
        .show_x(false)
        .show_y(false)
        .show_background(false)
        .show_axes([false, false])
        .show_grid([false, false])
        .sense(Sense::hover())
        .default_x_bounds(from, to)
        .default_y_bounds(low - room, high + room)
        .set_margin_fraction(vec2(0.0, 0.0))
        .show(&mut inner, |plot| {
            plot.vline(VLine::new("now", x(sweep.now.at)).color(theme.quiet).width(1.0));
            plot.line(Line::new(*word, PlotPoints::from(line)).color(theme.ink).width(1.4));
            plot.points(Points::new("best", PlotPoints::from(best)).color(theme.good).radius(2.6));
        });
    let painter = ui.painter();
    painter.rect_stroke(rect, 0.0, Stroke::new(1.0, theme.hairline), egui::StrokeKind::Inside);
    let left = pos2(rect.left() - 6.0, rect.center().y);
    painter.text(left, Align2::RIGHT_CENTER, word, font(11.5), theme.quiet);
    let figure = |v: f64| if *word == "price" { format!("{v:.2}") } else { mm(v) };
    let right = rect.right() + 4.0;
    painter.text(pos2(right, rect.top()), Align2::LEFT_TOP, figure(high), font(11.0), theme.quiet);
    if high - low > 0.004 {
        let at = pos2(right, rect.bottom());
        painter.text(at, Align2::LEFT_BOTTOM, figure(low), font(11.0), theme.quiet);
    }
}

/// The place under the pointer, or under the arrow keys; a click or Enter goes there.
fn pointer_ui(
    ui: &Ui,
    scene: &Scene<'_>,
    sweep: &Sweep,
    rect: Rect,
    (low, high, flipped): (f64, f64, bool),
    old: bool,
    out: &mut Vec<Command>,
) {
    let theme = scene.theme;
    let id = Id::unique("places of an opening");
    let response = ui.interact(rect, id, Sense::click());
    let share = |at: f64| {
        let share = ((at - low) / (high - low).max(1e-9)) as f32;
        if flipped { 1.0 - share } else { share }
    };
    let nearest = |at: f64| {
        let by = |i: &usize| ((sweep.stops[*i].at - at).abs() * 100.0) as i64;
        (0..sweep.stops.len()).min_by_key(by).unwrap_or(0)
    };
    let mut shown: Option<usize> = None;
    if let Some(p) = response.hover_pos() {
        let part = f64::from((p.x - rect.left()) / rect.width());
        let part = if flipped { 1.0 - part } else { part };
        shown = Some(nearest(low + part * (high - low)));
    }
    if response.has_focus() {
        let filter = EventFilter { horizontal_arrows: true, ..EventFilter::default() };
        ui.memory_mut(|m| m.set_focus_lock_filter(id, filter));
        let kept = ui.data(|d| d.get_temp::<usize>(id)).unwrap_or_else(|| nearest(sweep.now.at));
        let (left, right, enter) = ui.input(|i| {
            (
                i.num_presses(Key::ArrowLeft),
                i.num_presses(Key::ArrowRight),
                i.key_pressed(Key::Enter),
            )
        });
        // Stops run from the start of the wall to its end.
        let by = (right as i64 - left as i64) * if flipped { -1 } else { 1 };
        let at = (kept as i64 + by).clamp(0, sweep.stops.len() as i64 - 1) as usize;
        ui.data_mut(|d| d.insert_temp(id, at));
        shown = shown.or(Some(at));
        if enter && !old {
            out.push(Command::Edit(sweep.edit(&sweep.stops[at])));
            return;
        }
    }
    focus_ring(ui, theme, &response, rect);
    let name = match shown {
        Some(i) => {
            let stop = &sweep.stops[i];
            format!("Place {}: {}", scene.job.units.show(stop.at), words(scene, stop, sweep))
        }
        None => format!("Places for {} along wall {}", sweep.opening, sweep.wall),
    };
    response.widget_info(|| WidgetInfo::labeled(Role::Slider, !old, &name));
    let Some(stop) = shown.map(|i| &sweep.stops[i]) else { return };
    let x = rect.left() + rect.width() * share(stop.at);
    ui.painter().vline(x, rect.y_range(), Stroke::new(1.5, theme.accent));
    let clicked = response.clicked();
    response.on_hover_text_at_pointer(format!("{name}\n{}", more(scene, &stop.outcome)));
    if clicked && !old {
        out.push(Command::Edit(sweep.edit(stop)));
    }
}
