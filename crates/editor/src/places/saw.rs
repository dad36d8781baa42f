//! Saw: stop-block batches in cutting order, and the bars drawn to length with their pieces.

use egui::accesskit::Role;
use egui::{
    Align, Align2, Checkbox, Label, Layout, Rect, RichText, ScrollArea, Sense, Stroke, StrokeKind,
    Ui, WidgetInfo, pos2, vec2,
};
use layout_core::document::{BarFrom, Edit, Timber};
use layout_core::frame::EndCut;
use layout_core::id::{Mark, Name};
use layout_core::pieces::{Bar, BarPiece, Batch, SectionPlan};
use layout_core::snag::capital;
use sheets::picture::Fill;

use crate::command::Command;
use crate::icons::Icon;
use crate::panels::bits::{
    empty_ui, hairline_ui, heading_ui, metres, price, quiet, strong, unbroken, write,
};
use crate::scene::Scene;
use crate::session::Where;
use crate::theme::font;

/// Widths of the columns of the batch table: length, count, what, ends.
const COLUMNS: [f32; 4] = [62.0, 44.0, 118.0, 92.0];

/// Shows the place.
pub fn saw_ui(ui: &mut Ui, scene: &Scene<'_>, out: &mut Vec<Command>) {
    if scene.lists.batches.is_empty() {
        empty_ui(
            ui,
            scene.theme,
            Icon::Tool(crate::session::Tool::Wall),
            "Nothing to cut yet",
            "Draw a wall, and its pieces are listed here.",
        );
        return;
    }
    let whole = ui.available_rect_before_wrap();
    let split = whole.left() + (whole.width() * 0.46).clamp(460.0, 640.0);
    let left = Rect::from_min_max(whole.min, pos2(split - 24.0, whole.bottom()));
    let right = Rect::from_min_max(pos2(split, whole.top()), whole.max);
    ui.painter().vline(split - 12.0, whole.y_range(), Stroke::new(1.0, scene.theme.hairline));
    ui.scope_builder(egui::UiBuilder::new().max_rect(left), |ui| {
        ScrollArea::vertical()
            .id_salt("batches")
            .auto_shrink([false, false])
            .show(ui, |ui| batches_ui(ui, scene));
    });
    ui.scope_builder(egui::UiBuilder::new().max_rect(right), |ui| {
        ScrollArea::vertical()
            .id_salt("bars")
            .auto_shrink([false, false])
            .show(ui, |ui| bars_ui(ui, scene, out));
    });
}

fn batches_ui(ui: &mut Ui, scene: &Scene<'_>) {
    let theme = scene.theme;
    ui.label(strong("Set the stop once, cut them all", 16.0));
    ui.label(quiet(theme, "One line is one setting of the saw, longest first."));
    if scene.lists.batches.iter().any(|b| b.measure_in_place) {
        ui.label(quiet(theme, "≈ take this length on site before cutting").color(theme.mend));
    }
    for section in scene.lists.batches.chunk_by(|a, b| a.timber == b.timber) {
        let timber = &section[0].timber;
        let count: usize = section.iter().map(|b| b.marks.len()).sum();
        ui.add_space(12.0);
        heading_ui(
            ui,
            theme,
            &format!("{} {}", timber.size_in(scene.job.units), timber.grade()),
            &pieces_word(count),
        );
        row_ui(
            ui,
            [
                quiet(theme, "length"),
                quiet(theme, "pieces"),
                quiet(theme, "what"),
                quiet(theme, "ends"),
            ],
            quiet(theme, "marks"),
        );
        hairline_ui(ui, theme);
        let plan = scene.lists.plans.iter().find(|p| p.timber == *timber);
        let done = plan.into_iter().flat_map(|p| &p.done).flat_map(|(_, bar)| &bar.pieces);
        let done: Vec<&BarPiece> = done.collect();
        for batch in section {
            batch_ui(ui, scene, batch, &done);
            hairline_ui(ui, theme);
        }
    }
}

/// One setting of the stop; what has been cut of it is said.
fn batch_ui(ui: &mut Ui, scene: &Scene<'_>, batch: &Batch, done: &[&BarPiece]) {
    let is_cut = |(wall, mark): &&(Name, Mark)| {
        let same = |p: &&BarPiece| {
            p.wall == *wall && p.mark == *mark && (p.length - batch.cut.length).abs() < 0.05
        };
        done.iter().any(same)
    };
    let cut = batch.marks.iter().filter(is_cut).count();
    let what: Vec<&str> = batch.roles.iter().map(|r| r.label()).collect();
    let length = match batch.measure_in_place {
        true => format!("≈ {}", scene.job.units.show(batch.cut.length)),
        false => scene.job.units.show(batch.cut.length),
    };
    row_ui(
        ui,
        [
            if cut == batch.marks.len() {
                quiet(scene.theme, length)
            } else {
                strong(length, 14.0)
            },
            RichText::new(format!("× {}", batch.marks.len())),
            RichText::new(what.join(", ")),
            RichText::new(ends(&batch.cut.ends)),
        ],
        quiet(
            scene.theme,
            match cut {
                0 => marks(batch),
                n if n == batch.marks.len() => format!("all cut: {}", marks(batch)),
                n => format!("{n} cut; {}", marks(batch)),
            },
        ),
    );
}

/// One row of the table: numbers stand right, words left, and the last column wraps.
fn row_ui(ui: &mut Ui, cells: [RichText; 4], last: RichText) {
    ui.horizontal_top(|ui| {
        ui.spacing_mut().item_spacing.x = 12.0;
        for (i, (cell, width)) in cells.into_iter().zip(COLUMNS).enumerate() {
            let align = if i < 2 { Align::Max } else { Align::Min };
            ui.allocate_ui_with_layout(vec2(width, 18.0), Layout::top_down(align), |ui| {
                ui.set_width(width);
                ui.add(Label::new(cell).wrap());
            });
        }
        ui.add(Label::new(last).wrap());
    });
}

/// “A-S1 to S4, B-S2”: marks of one wall and kind that follow each other are drawn together.
fn marks(batch: &Batch) -> String {
    let mut parts: Vec<String> = Vec::new();
    let runs = batch.marks.chunk_by(|(wall_a, a), (wall_b, b)| {
        wall_a == wall_b && a.kind == b.kind && a.number + 1 == b.number
    });
    for run in runs {
        let (wall, first) = &run[0];
        let last = &run[run.len() - 1].1;
        parts.push(match run.len() {
            1 => format!("{wall}-{first}"),
            2 => format!("{wall}-{first}, {wall}-{last}"),
            _ => format!("{wall}-{first} to {last}"),
        });
    }
    parts.join(", ")
}

fn ends(ends: &[EndCut; 2]) -> String {
    let [a, b] = ends.map(|end| end.words().unwrap_or_else(|| "square".into()));
    if a == b { a } else { format!("{a}; {b}") }
}

fn bars_ui(ui: &mut Ui, scene: &Scene<'_>, out: &mut Vec<Command>) {
    let theme = scene.theme;
    let units = scene.job.units;
    ui.horizontal(|ui| {
        ui.label(strong("Bars", 16.0));
        if scene.lists.planning() {
            ui.spinner();
            ui.label(quiet(theme, "looking for better ones"));
        } else if let Some(ms) = scene.lists.plans_ms {
            ui.label(quiet(theme, format!("planned in {}", time(ms))));
        }
    });
    let saw = &scene.job.saw;
    ui.label(quiet(
        theme,
        format!(
            "Saw cut {}, trimmed {} first. Tick a bar when it is cut: offcuts from {} go to your timber.",
            units.small(saw.kerf),
            units.small(saw.trim),
            units.show(saw.keep_bar)
        ),
    ));
    if let Some(joining) = &scene.lists.joining {
        ui.horizontal_wrapped(|ui| {
            let words = unbroken(&joining.in_words(units, &saw.currency));
            ui.label(RichText::new(words).size(13.5).color(theme.accent));
            if ui.button("Join them so").clicked() {
                out.push(Command::Edit(joining.edit()));
            }
        });
    }
    let bars = |p: &SectionPlan| p.bars.iter().map(|b| b.stock).fold(0.0, f64::max);
    let done = |p: &SectionPlan| p.done.iter().map(|(_, b)| b.stock).fold(0.0, f64::max);
    let longest = scene.lists.plans.iter().map(|p| bars(p).max(done(p))).fold(0.0, f64::max);
    for plan in &scene.lists.plans {
        ui.add_space(12.0);
        let count = plan.bars.len() + plan.done.len();
        let straight = plan.straight_in_words(units);
        let mut beside = format!("{}, {} to buy", bars_word(count), metres(scene, plan.bought));
        if let Some(sum) = plan.price.filter(|sum| *sum > 0.0) {
            beside += &format!(", {}", price(&saw.currency, sum));
        }
        heading_ui(
            ui,
            theme,
            &format!("{} {}", plan.timber.size_in(units), plan.timber.grade()),
            &beside,
        );
        left_over_ui(ui, scene, plan, out);
        again_ui(ui, scene, plan);
        if count > 0 {
            ui.add(Label::new(quiet(theme, unbroken(&standing(scene, plan)))).wrap());
        }
        if let Some(words) = straight {
            let words =
                format!("{}. A dashed line marks what has to be straight.", capital(&words));
            ui.add(Label::new(quiet(theme, unbroken(&words))).wrap());
        }
        for (i, bar) in plan.bars.iter().enumerate() {
            let number = plan.done.len() + i + 1;
            if bar_ui(ui, scene, (&plan.timber, bar), number, longest, Some(false)) {
                out.push(Command::Edit(Edit::CutBars(vec![bar.cut(&plan.timber, saw)])));
            }
        }
        if plan.bars.is_empty() && plan.left_over.is_empty() && count > 0 {
            ui.label(strong("All cut", 13.5));
        }
        for (i, (index, bar)) in plan.done.iter().enumerate() {
            let record = scene.job.cut.get(*index);
            let back = record.is_some_and(|r| r.can_be_taken_back(&scene.job.stock));
            if bar_ui(ui, scene, (&plan.timber, bar), i + 1, longest, back.then_some(true)) {
                out.push(Command::Edit(Edit::UncutBar(*index)));
            }
        }
    }
}

/// “12 ms”, “1.4 s”.
fn time(ms: f64) -> String {
    if ms < 999.5 { format!("{:.0} ms", ms.max(1.0)) } else { format!("{:.1} s", ms / 1000.0) }
}

/// How near the plan is to the least there could be, and what it wastes.
fn standing(scene: &Scene<'_>, plan: &SectionPlan) -> String {
    let saw = &scene.job.saw;
    let proof = plan.bound_in_words(scene.job.units, &saw.currency);
    let mut words = capital(&proof);
    if plan.patterns > 0 {
        let ways = match plan.patterns {
            1 => "cut one way".into(),
            n => format!("cut {n} ways"),
        };
        words += &format!(
            ". Bars like one another follow each other: {ways}, the stop set {} times",
            plan.settings
        );
    }
    let bars = || plan.bars.iter().chain(plan.done.iter().map(|(_, bar)| bar));
    let whole: f64 = bars().map(|b| b.stock).sum();
    if whole > 0.0 {
        let share = plan.waste() / whole;
        words += &format!(". Offcuts and saw cuts {}", metres(scene, plan.waste()));
        words += &match plan.price {
            Some(sum) if sum > 0.0 => {
                format!(" ({:.0} %, {})", share * 100.0, price(&saw.currency, sum * share))
            }
            _ => format!(" ({:.0} %)", share * 100.0),
        };
        let kept: f64 =
            plan.bars.iter().map(|b| b.cut(&plan.timber, saw).kept).filter(|k| *k > 0.0).sum();
        if kept > 0.0 {
            words += &format!(", {} of it worth keeping", metres(scene, kept));
        }
    }
    words + "."
}

/// Pieces that were cut before to another length.
fn again_ui(ui: &mut Ui, scene: &Scene<'_>, plan: &SectionPlan) {
    for (piece, was) in &plan.again {
        let units = scene.job.units;
        let name = piece_name(piece);
        let words = format!(
            "{name} was cut {} and is {} now. The old piece is planned as timber you have.",
            units.show(*was),
            units.show(piece.length)
        );
        ui.add(Label::new(RichText::new(unbroken(&words)).color(scene.theme.mend)).wrap());
    }
}

/// Pieces no bar can give, first, and where to mend it.
fn left_over_ui(ui: &mut Ui, scene: &Scene<'_>, plan: &SectionPlan, out: &mut Vec<Command>) {
    if plan.left_over.is_empty() {
        return;
    }
    let theme = scene.theme;
    ui.horizontal_wrapped(|ui| {
        Icon::Severity(layout_core::snag::Severity::Mend).show(ui, 18.0, theme.mend);
        let longest = plan.left_over.iter().map(|p| p.length).fold(0.0, f64::max);
        let names: Vec<String> = plan.left_over.iter().map(piece_name).collect();
        let names = if names.len() > 8 {
            format!("{} and {} more", names[..8].join(", "), names.len() - 8)
        } else {
            names.join(", ")
        };
        let why = if scene.job.stock.iter().any(|s| s.timber == plan.timber) {
            format!(
                "No bar on the list can give {names}; the longest is {}.",
                scene.job.units.show(longest)
            )
        } else {
            format!("There is no bar of this section on the list for {names}.")
        };
        ui.add(Label::new(RichText::new(why).color(theme.mend)).wrap());
        if ui.button("Add lengths in Yard").clicked() {
            out.push(Command::Go(Where::Yard));
        }
    });
}

/// One bar drawn to length; true when its tick was changed. `ticked` is none where the tick cannot be taken back.
fn bar_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    (timber, bar): (&Timber, &Bar),
    number: usize,
    longest: f64,
    ticked: Option<bool>,
) -> bool {
    let theme = scene.theme;
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), 30.0), Sense::hover());
    let pieces: Vec<String> = bar
        .pieces
        .iter()
        .map(|p| format!("{} {}", piece_name(p), scene.job.units.show(p.length)))
        .collect();
    let words = format!(
        "Bar {number}, {}{}: {}; {} left",
        scene.job.units.show(bar.stock),
        origin(bar),
        pieces.join(", "),
        scene.job.units.show(bar.offcut)
    );
    response.widget_info(|| WidgetInfo::labeled(Role::ListItem, true, &words));
    if !ui.is_rect_visible(rect) {
        return false;
    }
    let is_cut = ticked != Some(false);
    let mut tick = is_cut;
    let place = Rect::from_min_size(rect.min + vec2(0.0, 2.0), vec2(20.0, 20.0));
    let name = format!("Bar {number} is cut");
    let box_ui = |ui: &mut Ui| {
        let response = ui.add_enabled(ticked.is_some(), Checkbox::without_text(&mut tick));
        response
            .widget_info(|| WidgetInfo::selected(Role::CheckBox, ticked.is_some(), is_cut, &name));
        response.on_disabled_hover_text("Its offcut was cut up too: take that back first.");
    };
    ui.scope_builder(egui::UiBuilder::new().max_rect(place), box_ui);
    write(
        ui,
        pos2(rect.left() + 42.0, rect.center().y),
        Align2::RIGHT_CENTER,
        &number.to_string(),
        12.0,
        theme.quiet,
    );
    write(
        ui,
        pos2(rect.left() + 90.0, rect.center().y),
        Align2::RIGHT_CENTER,
        &scene.job.units.show(bar.stock),
        13.0,
        if bar.from == BarFrom::Bought { theme.ink } else { theme.accent },
    );
    let room = Rect::from_min_max(
        pos2(rect.left() + 102.0, rect.top() + 3.0),
        pos2(rect.right() - 4.0, rect.bottom() - 3.0),
    );
    let px = f64::from(room.width()) / longest.max(1.0);
    let along = |mm: f64| room.left() + (mm * px) as f32;
    let edge = Stroke::new(1.0, theme.ink);
    let whole = Rect::from_x_y_ranges(room.left()..=along(bar.stock), room.y_range());
    ui.painter().rect(whole, 0.0, theme.sheet, Stroke::new(1.0, theme.rule), StrokeKind::Inside);
    let trim = scene.job.saw.trim;
    let mut x = trim;
    for laid in bar.laid(timber, &scene.job.saw) {
        let piece = &bar.pieces[laid.piece];
        let part =
            Rect::from_x_y_ranges(along(trim + laid.from)..=along(trim + laid.to), room.y_range());
        let fill = if is_cut { theme.sheet } else { theme.fill(Fill::Timber) };
        let outline = laid
            .outline()
            .map(|(mm, top)| pos2(along(trim + mm), if top { room.top() } else { room.bottom() }));
        ui.painter().add(egui::Shape::convex_polygon(outline.to_vec(), fill, edge));
        if piece.straight {
            // A line down the middle of what has to be straight.
            let dash = egui::Shape::dashed_line(
                &[part.left_center() + vec2(3.0, 8.0), part.right_center() + vec2(-3.0, 8.0)],
                Stroke::new(0.8, theme.quiet),
                6.0,
                3.0,
            );
            ui.painter().extend(dash);
        }
        let mark = piece_name(piece);
        let long = format!("{mark}  {}", scene.job.units.show(piece.length));
        for text in [long, mark] {
            let galley = ui.painter().layout_no_wrap(text, font(12.0), theme.ink);
            if galley.size().x + 8.0 <= part.width() {
                ui.painter().galley(part.center() - galley.size() / 2.0, galley, theme.ink);
                break;
            }
        }
        x = trim + laid.to + scene.job.saw.kerf;
    }
    let left = Rect::from_x_y_ranges(along(x.min(bar.stock))..=whole.right(), room.y_range());
    if left.width() > 34.0 {
        write(
            ui,
            left.center(),
            Align2::CENTER_CENTER,
            &scene.job.units.show(bar.offcut),
            12.0,
            theme.quiet,
        );
    }
    response.on_hover_text(unbroken(&words));
    tick != is_cut
}

/// “, yours, bowed”, “, a straight one”: where a bar comes from and what it has to be.
fn origin(bar: &Bar) -> String {
    let from = match bar.from {
        BarFrom::Bought => String::new(),
        from => format!(", {}", from.label()),
    };
    let shape = match (bar.bowed, bar.straight()) {
        (true, _) => ", bowed",
        (_, true) => ", a straight one",
        _ => "",
    };
    from + shape
}

fn piece_name(piece: &BarPiece) -> String {
    format!("{}-{}", piece.wall, piece.mark)
}

fn pieces_word(count: usize) -> String {
    if count == 1 { "1 piece".into() } else { format!("{count} pieces") }
}

fn bars_word(count: usize) -> String {
    if count == 1 { "1 bar".into() } else { format!("{count} bars") }
}
