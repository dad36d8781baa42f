//! The top bar: what the job is called and whether it is saved, the five places as the tabs of a
//! folder, the last step and the way to every action.

use egui::accesskit::Role;
use egui::{
    Align, Align2, Frame, Layout, Margin, Panel, Rect, Sense, Shape, Stroke, Ui, WidgetInfo, pos2,
    vec2,
};
use layout_core::document::Edit;
use layout_core::pieces::SectionPlan;

use crate::command::Command;
use crate::icons::Icon;
use crate::panels::bits::{focus_ring, icon_button_ui, metres, price, quiet, strong, write};
use crate::panels::menu::menu_ui;
use crate::scene::Scene;
use crate::session::{Dialog, Where};
use crate::theme::{bold_font, font};

/// Height of the bar, points.
const HEIGHT: f32 = 46.0;
/// Below this width signs stand in for words, points.
const NARROW: f32 = 1000.0;

/// What is being typed in the bar.
#[derive(Default)]
pub struct TopBar {
    /// The title while it is being changed.
    title: Option<String>,
}

/// Shows the bar.
pub fn topbar_ui(ui: &mut Ui, scene: &Scene<'_>, state: &mut TopBar, out: &mut Vec<Command>) {
    let theme = scene.theme;
    let frame = Frame::new().fill(theme.bar).inner_margin(Margin::ZERO);
    Panel::top("top bar")
        .exact_size(HEIGHT)
        .show_separator_line(false)
        .resizable(false)
        .frame(frame)
        .show(ui, |ui| {
            let bar = ui.max_rect();
            ui.painter().hline(bar.x_range(), bar.bottom() - 0.5, Stroke::new(1.0, theme.hairline));
            let narrow = bar.width() < NARROW;
            let (least, steps) = if narrow { (170.0, 130.0) } else { (250.0, 300.0) };
            let tabs = Tab::all(ui, scene, bar.width() - least - steps);
            let width: f32 = tabs.iter().map(|t| t.width).sum();
            let left = (bar.center().x - width / 2.0)
                .min(bar.right() - steps - width)
                .max(bar.left() + least);
            let tab_rect = Rect::from_min_size(pos2(left, bar.top()), vec2(width, bar.height()));

            let rect = Rect::from_min_max(
                bar.min + vec2(10.0, 0.0),
                pos2(tab_rect.left() - 12.0, bar.bottom()),
            );
            let mut part = ui.new_child(
                egui::UiBuilder::new().max_rect(rect).layout(Layout::left_to_right(Align::Center)),
            );
            part.set_clip_rect(rect);
            job_ui(&mut part, scene, state, out);

            tabs_ui(ui, scene, &tabs, tab_rect, out);

            let rect = Rect::from_min_max(
                pos2(tab_rect.right() + 12.0, bar.top()),
                bar.max - vec2(12.0, 0.0),
            );
            let mut part = ui.new_child(
                egui::UiBuilder::new().max_rect(rect).layout(Layout::right_to_left(Align::Center)),
            );
            part.set_clip_rect(rect);
            steps_ui(&mut part, scene, narrow, out);
        });
}

/// Menu, title and whether it is saved.
fn job_ui(ui: &mut Ui, scene: &Scene<'_>, state: &mut TopBar, out: &mut Vec<Command>) {
    ui.spacing_mut().item_spacing.x = 6.0;
    menu_ui(ui, scene, out);
    if let Some(text) = &mut state.title {
        title_field_ui(ui, scene, text, out);
        let done = ui.input(|i| i.key_pressed(egui::Key::Escape));
        if done || !ui.memory(|m| m.has_focus(title_id())) {
            state.title = None;
        }
        return;
    }
    let saved = saved_word(scene);
    let room = ui.available_width()
        - ui.fonts_mut(|f| f.layout_no_wrap(saved.into(), font(12.0), scene.theme.quiet)).size().x;
    let galley = egui::WidgetText::from(strong(scene.job.title.clone(), 15.0)).into_galley(
        ui,
        Some(egui::TextWrapMode::Truncate),
        (room - 34.0).max(60.0),
        egui::TextStyle::Body,
    );
    let (rect, response) =
        ui.allocate_exact_size(vec2(galley.size().x + 12.0, 28.0), Sense::click());
    response.widget_info(|| {
        WidgetInfo::labeled(Role::Button, true, format!("Title: {}", scene.job.title))
    });
    if response.hovered() {
        ui.painter().rect_filled(rect, 3.0, scene.theme.hover);
    }
    focus_ring(ui, scene.theme, &response, rect);
    ui.painter().galley(
        pos2(rect.left() + 6.0, rect.center().y - galley.size().y / 2.0),
        galley,
        scene.theme.ink,
    );
    if response.on_hover_text("Change the title").clicked() {
        state.title = Some(scene.job.title.clone());
        ui.memory_mut(|m| m.request_focus(title_id()));
    }
    let colour = if scene.session.changed() { scene.theme.mend } else { scene.theme.quiet };
    let saved = egui::Label::new(quiet(scene.theme, saved).color(colour)).truncate();
    ui.add(saved).on_hover_text(match &scene.session.path {
        Some(path) => path.display().to_string(),
        None => "This job has no file yet".into(),
    });
}

fn saved_word(scene: &Scene<'_>) -> &'static str {
    match (scene.session.changed(), &scene.session.path) {
        (true, _) => "not saved",
        (false, Some(_)) => "saved",
        (false, None) => "no file yet",
    }
}

fn title_id() -> egui::Id {
    egui::Id::unique("title of the job")
}

/// The title as a field. Enter and leaving the field keep what was typed, Esc does not.
fn title_field_ui(ui: &mut Ui, scene: &Scene<'_>, text: &mut String, out: &mut Vec<Command>) {
    let width = ui.available_width().min(320.0);
    let field = egui::TextEdit::singleline(text)
        .id(title_id())
        .char_limit(120)
        .font(bold_font(14.0))
        .desired_width(width);
    let response = ui.add(field);
    let response = response.accessible_name("Title of the job");
    let kept = response.lost_focus() && !ui.input(|i| i.key_pressed(egui::Key::Escape));
    let title = text.trim();
    if kept && !title.is_empty() && title != scene.job.title {
        out.push(Command::Edit(Edit::SetTitle {
            title: title.into(),
            notes: scene.job.notes.clone(),
        }));
    }
}

/// One tab, measured before it is placed.
struct Tab {
    place: Where,
    width: f32,
    count: String,
    sign: Option<layout_core::snag::Severity>,
}

impl Tab {
    /// All five in `room` points: with their counts when there is room for them.
    fn all(ui: &Ui, scene: &Scene<'_>, room: f32) -> Vec<Tab> {
        let tabs =
            |counts| Where::ALL.iter().map(|&place| Tab::of(ui, scene, place, counts)).collect();
        let full: Vec<Tab> = tabs(true);
        let fits = full.iter().map(|t| t.width).sum::<f32>() <= room;
        if fits { full } else { tabs(false) }
    }

    fn of(ui: &Ui, scene: &Scene<'_>, place: Where, counts: bool) -> Tab {
        let gravest = scene.layout.snags.iter().map(layout_core::snag::Snag::severity).min();
        let count = match place {
            Where::Draw => String::new(),
            Where::Saw | Where::Yard | Where::Sheets if !counts => String::new(),
            Where::Snags if scene.layout.snags.is_empty() => "none".into(),
            Where::Snags => scene.layout.snags.len().to_string(),
            Where::Saw if scene.lists.plans.is_empty() => String::new(),
            Where::Saw if scene.lists.plans.iter().all(|p| p.proven) => "proven".into(),
            Where::Saw if scene.lists.planning() => "planning".into(),
            Where::Saw if scene.lists.plans.iter().any(|p| !p.left_over.is_empty()) => {
                "no bar".into()
            }
            Where::Saw => {
                let gaps = scene.lists.plans.iter().map(SectionPlan::gap_percent);
                format!("within {:.1} %", gaps.fold(0.0, f64::max))
            }
            Where::Yard => match scene.lists.price() {
                Some(total) => price(&scene.job.saw.currency, total),
                None if scene.lists.totals.is_empty() => String::new(),
                None => metres(scene, scene.lists.totals.iter().map(|t| t.length).sum()),
            },
            Where::Sheets => scene.prints.map(|p| p.pages.len().to_string()).unwrap_or_default(),
        };
        let sign = gravest.filter(|_| place == Where::Snags);
        let measure = |text: &str, font| {
            ui.fonts_mut(|f| f.layout_no_wrap(text.into(), font, scene.theme.ink)).size().x
        };
        let mut width = 32.0 + measure(place.label(), bold_font(14.0));
        if !count.is_empty() {
            width += 7.0 + measure(&count, font(12.0));
        }
        if sign.is_some() {
            width += 18.0;
        }
        Tab { place, width, count, sign }
    }

    fn name(&self) -> String {
        match (self.place, self.sign) {
            (Where::Snags, Some(sign)) => {
                format!("Snags, {} open, gravest {}", self.count, sign.label())
            }
            (place, _) if self.count.is_empty() => place.label().into(),
            (place, _) => format!("{}, {}", place.label(), self.count),
        }
    }
}

fn tabs_ui(ui: &mut Ui, scene: &Scene<'_>, tabs: &[Tab], rect: Rect, out: &mut Vec<Command>) {
    let mut x = rect.left();
    for tab in tabs {
        let cell = Rect::from_min_size(pos2(x, rect.top()), vec2(tab.width, rect.height()));
        x += tab.width;
        if tab_ui(ui, scene, tab, cell).clicked() {
            out.push(Command::Go(tab.place));
        }
    }
}

fn tab_ui(ui: &mut Ui, scene: &Scene<'_>, tab: &Tab, cell: Rect) -> egui::Response {
    let theme = scene.theme;
    let here = scene.session.place == tab.place;
    let response =
        ui.interact(cell, ui.scope_id().with(("tab", tab.place.label())), Sense::click());
    response.widget_info(|| WidgetInfo::selected(Role::Tab, true, here, tab.name()));
    let painter = ui.painter();
    if here {
        // The open sheet's own tab: paper, joined to the paper below it.
        let (l, r, t, b) = (cell.left() + 2.0, cell.right() - 2.0, cell.top() + 7.0, cell.bottom());
        let outline = vec![pos2(l, b), pos2(l + 4.0, t), pos2(r - 4.0, t), pos2(r, b)];
        painter.add(Shape::convex_polygon(outline.clone(), theme.sheet, Stroke::NONE));
        painter.add(Shape::line(outline, Stroke::new(1.0, theme.hairline)));
        painter.hline(l + 13.0..=r - 13.0, t + 31.0, Stroke::new(2.0, theme.accent));
    } else if response.hovered() {
        painter.hline(
            cell.left() + 15.0..=cell.right() - 15.0,
            cell.top() + 38.0,
            Stroke::new(2.0, theme.hairline),
        );
    }
    focus_ring(ui, theme, &response, cell.shrink2(vec2(3.0, 8.0)));
    let middle = cell.top() + 24.0;
    let label = painter.text(
        pos2(cell.left() + 16.0, middle),
        Align2::LEFT_CENTER,
        tab.place.label(),
        bold_font(14.0),
        theme.ink,
    );
    let mut x = label.right() + 7.0;
    if let Some(sign) = tab.sign {
        let square = Rect::from_center_size(pos2(x + 7.0, middle), vec2(14.0, 14.0));
        Icon::Severity(sign).paint(painter, square, theme.severity(sign));
        x += 18.0;
    }
    let colour = tab.sign.map_or(theme.quiet, |s| theme.severity(s));
    write(ui, pos2(x, middle), Align2::LEFT_CENTER, &tab.count, 12.0, colour);
    response
}

/// Undo and redo with the step's name, and the way to every action. Laid out from the right.
fn steps_ui(ui: &mut Ui, scene: &Scene<'_>, narrow: bool, out: &mut Vec<Command>) {
    let theme = scene.theme;
    ui.spacing_mut().item_spacing.x = 4.0;
    let find = match narrow {
        true => icon_button_ui(ui, theme, Icon::Find, "Find an action", true),
        false => find_ui(ui, scene),
    };
    if find.clicked() {
        out.push(Command::Ask(Dialog::Find));
    }
    let history = &scene.session.history;
    let name = |what: &str, label: Option<&str>| {
        label.map_or(what.into(), |label| format!("{what}: {label}"))
    };
    let redo = name("Redo", history.redo_label());
    if icon_button_ui(ui, theme, Icon::Redo, &redo, history.redo_label().is_some()).clicked() {
        out.push(Command::Redo);
    }
    let undo = name("Undo", history.undo_label());
    if icon_button_ui(ui, theme, Icon::Undo, &undo, history.undo_label().is_some()).clicked() {
        out.push(Command::Undo);
    }
    if let Some(label) = history.undo_label()
        && ui.available_width() > 80.0
    {
        ui.add(egui::Label::new(quiet(theme, label)).truncate().selectable(false));
    }
}

fn find_ui(ui: &mut Ui, scene: &Scene<'_>) -> egui::Response {
    let theme = scene.theme;
    let (rect, response) = ui.allocate_exact_size(vec2(168.0, 28.0), Sense::click());
    response.widget_info(|| WidgetInfo::labeled(Role::Button, true, "Find an action"));
    let edge = if response.hovered() { theme.ink } else { theme.rule };
    ui.painter().rect(rect, 3.0, theme.field, Stroke::new(1.0, edge), egui::StrokeKind::Inside);
    focus_ring(ui, theme, &response, rect);
    let sign = Rect::from_center_size(pos2(rect.left() + 15.0, rect.center().y), vec2(15.0, 15.0));
    Icon::Find.paint(ui.painter(), sign, theme.quiet);
    write(
        ui,
        pos2(rect.left() + 28.0, rect.center().y),
        Align2::LEFT_CENTER,
        "Find an action",
        12.5,
        theme.ink,
    );
    write(
        ui,
        pos2(rect.right() - 9.0, rect.center().y),
        Align2::RIGHT_CENTER,
        "Ctrl K",
        11.5,
        theme.quiet,
    );
    response
}
