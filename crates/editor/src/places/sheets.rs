//! Sheets: the print set as it will look on paper, and the way to write it to files.

use egui::accesskit::Role;
use egui::{
    Align2, Button, CursorIcon, Label, Rect, ScrollArea, Sense, Stroke, Ui, WidgetInfo, pos2, vec2,
};
use sheets::page::Page;

use crate::command::Command;
use crate::icons::Icon;
use crate::panels::bits::{
    empty_ui, focus_ring, icon_button_ui, main_button, quiet, strong, write,
};
use crate::places::paper;
use crate::prefs::{PaperChoice, Preference};
use crate::scene::Scene;

/// Width of the list of pages, points.
const LIST: f32 = 232.0;

/// What the place remembers while the window is open.
#[derive(Default)]
pub struct Sheets {
    page: usize,
    /// Points to a millimetre of paper; `None` to fit the page.
    zoom: Option<f32>,
}

/// Shows the place.
pub fn sheets_ui(ui: &mut Ui, scene: &Scene<'_>, state: &mut Sheets, out: &mut Vec<Command>) {
    let whole = ui.available_rect_before_wrap();
    let list = Rect::from_min_max(whole.min, pos2(whole.left() + LIST, whole.bottom()));
    let desk = Rect::from_min_max(
        pos2(list.right() + 20.0, whole.top() - 20.0),
        whole.max + vec2(28.0, 20.0),
    );
    let pages: &[Page] = scene.prints.map_or(&[], |p| &p.pages);
    state.page = state.page.min(pages.len().saturating_sub(1));
    ui.scope_builder(egui::UiBuilder::new().max_rect(list), |ui| {
        list_ui(ui, scene, state, pages, out);
    });
    ui.painter().rect_filled(desk, 0.0, scene.theme.hover);
    ui.painter().vline(desk.left(), desk.y_range(), Stroke::new(1.0, scene.theme.hairline));
    ui.scope_builder(egui::UiBuilder::new().max_rect(desk.shrink(1.0)), |ui| {
        match pages.get(state.page) {
            Some(page) => page_ui(ui, scene, state, page),
            None => empty_ui(
                ui,
                scene.theme,
                Icon::Sheet,
                "The prints are being drawn",
                "They appear here in a moment.",
            ),
        }
    });
}

fn list_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    state: &mut Sheets,
    pages: &[Page],
    out: &mut Vec<Command>,
) {
    let theme = scene.theme;
    ui.label(strong("Prints", 16.0));
    ui.horizontal(|ui| {
        ui.label("Paper");
        for (paper, word) in [(PaperChoice::A4, "A4"), (PaperChoice::A3, "A3")] {
            if ui.selectable_label(scene.prefs.paper == paper, word).clicked() {
                out.push(Command::Prefer(Preference::Paper(paper)));
            }
        }
    });
    ui.add_space(4.0);
    let all = main_button(theme, "Write all as PDF…").min_size(vec2(LIST - 12.0, 30.0));
    if ui.add_enabled(!pages.is_empty(), all).clicked() {
        out.push(Command::ExportPdf(None));
    }
    let one = Button::new("Write this page as SVG…").min_size(vec2(LIST - 12.0, 30.0));
    if ui.add_enabled(!pages.is_empty(), one).clicked() {
        out.push(Command::ExportSvg(state.page, None));
    }
    ui.add(
        Label::new(quiet(theme, "Print at 100 %, not “fit to page”, and measure the 100 mm line."))
            .wrap(),
    );
    if scene.prints.is_some_and(|p| p.of.as_ref() != scene.job) {
        ui.label(quiet(theme, "Being drawn again…").color(theme.accent));
    }
    ui.add_space(6.0);
    ScrollArea::vertical().id_salt("pages").auto_shrink([false, false]).show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 0.0;
        for (i, page) in pages.iter().enumerate() {
            if row_ui(ui, scene, page, i, i == state.page).clicked() {
                state.page = i;
            }
        }
    });
}

fn row_ui(ui: &mut Ui, scene: &Scene<'_>, page: &Page, index: usize, here: bool) -> egui::Response {
    let theme = scene.theme;
    let (rect, response) = ui.allocate_exact_size(vec2(LIST - 12.0, 30.0), Sense::click());
    let name = format!("Page {}: {}", index + 1, page.title);
    response.widget_info(|| WidgetInfo::selected(Role::Button, true, here, &name));
    if here || response.hovered() {
        ui.painter().rect_filled(rect, 3.0, if here { theme.accent_tint } else { theme.hover });
    }
    focus_ring(ui, theme, &response, rect);
    let y = rect.center().y;
    write(
        ui,
        pos2(rect.left() + 24.0, y),
        Align2::RIGHT_CENTER,
        &(index + 1).to_string(),
        12.0,
        theme.quiet,
    );
    let words =
        write(ui, pos2(rect.left() + 34.0, y), Align2::LEFT_CENTER, &page.title, 13.5, theme.ink);
    if words.right() > rect.right() { response.on_hover_text(&page.title) } else { response }
}

fn page_ui(ui: &mut Ui, scene: &Scene<'_>, state: &mut Sheets, page: &Page) {
    let desk = ui.available_rect_before_wrap();
    let margin = 26.0;
    let (width, height) = (page.width.max(1.0) as f32, page.height.max(1.0) as f32);
    let fit = ((desk.width() - 2.0 * margin) / width)
        .min((desk.height() - 2.0 * margin) / height)
        .max(0.2);
    let pointer_in = ui.rect_contains_pointer(desk);
    let turned = ui.input(egui::InputState::zoom_delta);
    if pointer_in && (turned - 1.0).abs() > 1e-3 {
        state.zoom = Some((state.zoom.unwrap_or(fit) * turned).clamp(fit * 0.5, 16.0));
    }
    let scale = state.zoom.unwrap_or(fit);
    let size = vec2(width, height) * scale;
    ScrollArea::both()
        .id_salt("page")
        .auto_shrink([false, false])
        .scroll_source(egui::scroll_area::ScrollSource::ALL)
        .show(ui, |ui| {
            let room = vec2(
                (size.x + 2.0 * margin).max(desk.width() - 2.0),
                (size.y + 2.0 * margin).max(desk.height() - 2.0),
            );
            let (area, response) = ui.allocate_exact_size(room, Sense::hover());
            response.widget_info(|| {
                WidgetInfo::labeled(Role::Image, true, format!("Print: {}", page.title))
            });
            paper::paint(
                ui.painter(),
                page,
                Rect::from_center_size(area.center(), size),
                scene.theme,
            );
            response.on_hover_cursor(if state.zoom.is_some() {
                CursorIcon::Grab
            } else {
                CursorIcon::Default
            });
        });
    let buttons =
        Rect::from_min_size(pos2(desk.right() - 112.0, desk.top() + 8.0), vec2(100.0, 30.0));
    ui.painter().rect(
        buttons.expand(2.0),
        3.0,
        scene.theme.sheet,
        Stroke::new(1.0, scene.theme.hairline),
        egui::StrokeKind::Inside,
    );
    ui.scope_builder(egui::UiBuilder::new().max_rect(buttons), |ui| {
        ui.horizontal_centered(|ui| {
            ui.spacing_mut().item_spacing.x = 6.0;
            if icon_button_ui(ui, scene.theme, Icon::Minus, "Further away", true).clicked() {
                state.zoom = Some((scale / 1.25).max(fit * 0.5));
            }
            if icon_button_ui(ui, scene.theme, Icon::Plus, "Nearer", true).clicked() {
                state.zoom = Some((scale * 1.25).min(16.0));
            }
            if icon_button_ui(ui, scene.theme, Icon::Fit, "The whole page", state.zoom.is_some())
                .clicked()
            {
                state.zoom = None;
            }
        });
    });
}
