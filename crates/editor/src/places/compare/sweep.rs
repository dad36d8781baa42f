//! Every place of an opening along its wall, as three figures over the wall.

use egui::accesskit::Role;
use egui::{
    Align2, EventFilter, Id, Key, Rect, RichText, Sense, Stroke, Ui, UiBuilder, WidgetInfo, pos2,
    vec2,
};
use egui_plot::{Line, PlotPoints, Points, VLine};
use layout_core::compare::{Outcome, Stop, Sweep};
use layout_core::document::Face;
use layout_core::units::mm;

use super::{against, more, snags, timber_cost};
use crate::command::Command;
use crate::panels::bits::{focus_ring, quiet, still_plot};
use crate::scene::Scene;
use crate::theme::font;

/// A figure of a sweep: its word, and what it is at a place.
type Figure = (&'static str, fn(&Outcome) -> f64);

/// Shows the places.
pub(super) fn sweep_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    sweep: &Sweep,
    old: bool,
    out: &mut Vec<Command>,
) {
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
        timber_cost(scene, &stop.outcome, now).0,
        snags(&stop.outcome.opened, &stop.outcome.closed)
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
    still_plot(("figure of a sweep", *word))
        .width(rect.width())
        .height(rect.height())
        .show_axes([false, false])
        .show_grid([false, false])
        .sense(Sense::hover())
        .default_x_bounds(from, to)
        .default_y_bounds(low - room, high + room)
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
