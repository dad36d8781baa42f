//! Sheets: the print set as it will look on paper, what is in it, and the way to files and to the printer.

mod choice;

use egui::accesskit::Role;
use egui::{
    Align2, Button, CursorIcon, Key, Label, Rect, Response, ScrollArea, Sense, Stroke, Ui, Vec2,
    WidgetInfo, pos2, vec2,
};
use sheets::page::Page;

use crate::command::Command;
use crate::exchange::Form;
use crate::icons::Icon;
use crate::panels::bits::{
    empty_ui, focus_ring, icon_button_ui, main_button, quiet, strong, write,
};
use crate::places::paper;
use crate::prints;
use crate::scene::Scene;

/// Width of the list of pages, points.
const LIST: f32 = 232.0;

/// Least room round a page that is fitted, points.
const MARGIN: f32 = 26.0;

/// What the place remembers while the window is open.
#[derive(Default)]
pub struct Sheets {
    page: usize,
    /// How a page is looked at; `None` to fit it.
    eye: Option<Eye>,
}

/// How a page is looked at.
#[derive(Clone, Copy)]
struct Eye {
    /// Points to a millimetre of paper.
    scale: f32,
    /// From the middle of the place to the middle of the page, points.
    shift: Vec2,
}

impl Eye {
    /// Nearer by `factor`, with what is at `point` (from the middle of the place) staying there.
    fn nearer(self, factor: f32, point: Vec2, fit: f32) -> Eye {
        let scale = (self.scale * factor).clamp(fit * 0.5, 16.0);
        Eye { scale, shift: point + (self.shift - point) * (scale / self.scale) }
    }
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
            None if scene.prints.is_some_and(|p| p.pages.is_empty()) => empty_ui(
                ui,
                scene.theme,
                Icon::Sheet,
                "No sheets are chosen",
                "Tick what is printed, on the left.",
            ),
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
    ui.label(strong("Prints", 16.0));
    choice::choice_ui(ui, scene, out);
    ui.add_space(2.0);
    files_ui(ui, scene, state, pages, out);
    progress_ui(ui, scene, out);
    ui.add_space(4.0);
    ScrollArea::vertical().id_salt("pages").auto_shrink([false, false]).show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 0.0;
        for (i, page) in pages.iter().enumerate() {
            if row_ui(ui, scene, page, i, i == state.page).clicked() {
                state.page = i;
                state.eye = None;
            }
        }
    });
}

/// What is written for other programs, behind one button.
fn others_ui(ui: &mut Ui, page: Option<&Page>, out: &mut Vec<Command>) {
    let button = Button::new("For other programs…").min_size(vec2(LIST - 12.0, 26.0));
    egui::containers::menu::MenuButton::from_button(button).ui(ui, |ui| {
        let drawing = page.and_then(|page| Form::of_page(&page.name));
        let words = "The drawing on this page as DXF…";
        if ui.add_enabled(drawing.is_some(), Button::new(words)).clicked() {
            out.extend(drawing.map(|form| Command::ExportFor(form, None)));
            ui.close();
        }
        for (words, form) in [
            ("All lists as a workbook (XLSX)…", Form::Workbook),
            ("The job as a building model (IFC)…", Form::Model),
        ] {
            if ui.button(words).clicked() {
                out.push(Command::ExportFor(form, None));
                ui.close();
            }
        }
    });
}

/// What is done with the pages: written, shown, sent to the printer.
fn files_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    state: &Sheets,
    pages: &[Page],
    out: &mut Vec<Command>,
) {
    let theme = scene.theme;
    let some = !pages.is_empty();
    let all = main_button(theme, "Write all as PDF…").min_size(vec2(LIST - 12.0, 28.0));
    if ui.add_enabled(some, all).clicked() {
        out.push(Command::ExportPdf(None));
    }
    let half = vec2((LIST - 12.0 - ui.spacing().item_spacing.x) / 2.0, 26.0);
    let mut pair = |ui: &mut Ui, buttons: [(&str, &str, bool, Command); 2]| {
        ui.horizontal(|ui| {
            for (text, tip, is_there, command) in buttons {
                let button = ui.add_enabled(some && is_there, Button::new(text).min_size(half));
                if button.on_hover_text(tip).clicked() {
                    out.push(command);
                }
            }
        });
    };
    let has_printer = prints::printer().is_some();
    let tip =
        if has_printer { "At 100 %, on the system’s usual printer" } else { "No printer here" };
    pair(
        ui,
        [
            (
                "Open in viewer",
                "All sheets, in what shows PDF files here",
                true,
                Command::ViewPrints,
            ),
            ("Print", tip, has_printer, Command::SendPrints),
        ],
    );
    let page = state.page;
    pair(
        ui,
        [
            ("Page as PDF…", "Write this page as PDF", true, Command::ExportPage(page, None)),
            ("Page as SVG…", "Write this page as SVG", true, Command::ExportSvg(page, None)),
        ],
    );
    others_ui(ui, pages.get(state.page), out);
    ui.add(Label::new(quiet(theme, "Print at 100 %, and measure the 100 mm line.")).wrap());
}

/// How far the prints are that are being drawn, and a way to stop.
fn progress_ui(ui: &mut Ui, scene: &Scene<'_>, out: &mut Vec<Command>) {
    let theme = scene.theme;
    if scene.printing.is_some() && scene.prints_stopped {
        // A plan of very many walls takes its time.
        ui.label(quiet(theme, "Stops when this sheet is drawn").color(theme.accent));
        ui.ctx().request_repaint_after(std::time::Duration::from_millis(100));
    } else if let Some((done, count)) = scene.printing {
        ui.horizontal(|ui| {
            // While it is laid out anew nobody has counted yet.
            let text = match count {
                0 => "Being drawn".to_string(),
                _ => format!("Drawn {done} of {count}"),
            };
            ui.label(quiet(theme, text).color(theme.accent));
            if ui.small_button("Stop").clicked() {
                out.push(Command::StopPrints);
            }
        });
        ui.ctx().request_repaint_after(std::time::Duration::from_millis(100));
    } else if scene.prints_stopped {
        ui.horizontal(|ui| {
            ui.label(quiet(theme, "Stopped: these may be old.").color(theme.accent));
            if ui.small_button("Draw them").clicked() {
                out.push(Command::DrawPrints);
            }
        });
    }
}

/// Height of a row of the list of pages, points.
const ROW: f32 = 62.0;
/// Width of the room for a page in little, points.
const THUMB: f32 = 78.0;

fn row_ui(ui: &mut Ui, scene: &Scene<'_>, page: &Page, index: usize, here: bool) -> Response {
    let theme = scene.theme;
    let (rect, response) = ui.allocate_exact_size(vec2(LIST - 12.0, ROW), Sense::click());
    let name = format!("Page {}: {}", index + 1, page.title);
    response.widget_info(|| WidgetInfo::selected(Role::Button, true, here, &name));
    if here || response.hovered() {
        ui.painter().rect_filled(rect, 3.0, if here { theme.accent_tint } else { theme.hover });
    }
    focus_ring(ui, theme, &response, rect);
    if !ui.is_rect_visible(rect) {
        return response;
    }
    let paper_size = vec2(page.width.max(1.0) as f32, page.height.max(1.0) as f32);
    let fit = ((THUMB - 8.0) / paper_size.x).min((ROW - 8.0) / paper_size.y);
    let middle = pos2(rect.left() + THUMB / 2.0, rect.center().y);
    let sheet = Rect::from_center_size(middle, paper_size * fit);
    paper::paint(ui.painter(), page, sheet, theme);
    let left = rect.left() + THUMB + 4.0;
    let top = pos2(left, rect.top() + 9.0);
    write(ui, top, Align2::LEFT_TOP, &format!("{}", index + 1), 11.5, theme.quiet);
    let room = rect.right() - left - 4.0;
    let font = egui::FontId::proportional(13.0);
    let words = ui.painter().layout(page.title.clone(), font, theme.ink, room);
    let is_cut = words.size().y > ROW - 24.0;
    let clip = ui.painter().with_clip_rect(rect.intersect(ui.clip_rect()));
    clip.galley(pos2(left, rect.top() + 24.0), words, theme.ink);
    if is_cut { response.on_hover_text(&page.title) } else { response }
}

fn page_ui(ui: &mut Ui, scene: &Scene<'_>, state: &mut Sheets, page: &Page) {
    let desk = ui.available_rect_before_wrap();
    let paper_size = vec2(page.width.max(1.0) as f32, page.height.max(1.0) as f32);
    let room = desk.size() - Vec2::splat(2.0 * MARGIN);
    let fit = (room.x / paper_size.x).min(room.y / paper_size.y).max(0.2);
    let response = ui.allocate_rect(desk, Sense::click_and_drag());
    response
        .widget_info(|| WidgetInfo::labeled(Role::Image, true, format!("Print: {}", page.title)));
    look(ui, scene, state, &response, fit);
    let eye = state.eye.unwrap_or(Eye { scale: fit, shift: Vec2::ZERO });
    let size = paper_size * eye.scale;
    // Some of the page always stays in the place.
    let most = (size / 2.0 + desk.size() / 2.0 - Vec2::splat(60.0)).max(Vec2::ZERO);
    let shift = eye.shift.clamp(-most, most);
    state.eye = state.eye.map(|eye| Eye { shift, ..eye });
    let painter = ui.painter().with_clip_rect(desk.intersect(ui.clip_rect()));
    paper::paint(&painter, page, Rect::from_center_size(desk.center() + shift, size), scene.theme);
    response.on_hover_and_drag_cursor(CursorIcon::Grab);
    buttons_ui(ui, scene, state, desk, eye, fit);
}

/// Wheel and pinch zoom about the pointer, dragging and two fingers move, keys do both.
fn look(ui: &Ui, scene: &Scene<'_>, state: &mut Sheets, response: &Response, fit: f32) {
    let whole = Eye { scale: fit, shift: Vec2::ZERO };
    if response.dragged() {
        let eye = state.eye.unwrap_or(whole);
        state.eye = Some(Eye { shift: eye.shift + response.drag_delta(), ..eye });
    }
    if response.double_clicked() {
        state.eye = None;
    }
    if let Some(pointer) = response.hover_pos() {
        let point = pointer - response.rect.center();
        let (turned, moved) = ui.input(|i| (i.zoom_delta(), i.smooth_scroll_delta()));
        if (turned - 1.0).abs() > 1e-3 {
            state.eye = Some(state.eye.unwrap_or(whole).nearer(turned, point, fit));
        } else if moved != Vec2::ZERO && state.eye.is_some() {
            state.eye = state.eye.map(|eye| Eye { shift: eye.shift + moved, ..eye });
        }
    }
    if scene.session.dialog.is_none() && !ui.ctx().egui_wants_keyboard_input() {
        let pressed = |key| ui.input(|i| i.key_pressed(key));
        for (key, factor) in [(Key::Plus, 1.25), (Key::Minus, 0.8)] {
            if pressed(key) {
                state.eye = Some(state.eye.unwrap_or(whole).nearer(factor, Vec2::ZERO, fit));
            }
        }
        if pressed(Key::Home) {
            state.eye = None;
        }
        if pressed(Key::PageDown) {
            state.page += 1;
        }
        if pressed(Key::PageUp) {
            state.page = state.page.saturating_sub(1);
        }
    }
}

fn buttons_ui(ui: &mut Ui, scene: &Scene<'_>, state: &mut Sheets, desk: Rect, eye: Eye, fit: f32) {
    let theme = scene.theme;
    let rect = Rect::from_min_size(pos2(desk.right() - 112.0, desk.top() + 8.0), vec2(100.0, 30.0));
    let edge = Stroke::new(1.0, theme.hairline);
    ui.painter().rect(rect.expand(2.0), 3.0, theme.sheet, edge, egui::StrokeKind::Inside);
    ui.scope_builder(egui::UiBuilder::new().max_rect(rect), |ui| {
        ui.horizontal_centered(|ui| {
            ui.spacing_mut().item_spacing.x = 6.0;
            if icon_button_ui(ui, theme, Icon::Minus, "Further away", true).clicked() {
                state.eye = Some(eye.nearer(0.8, Vec2::ZERO, fit));
            }
            if icon_button_ui(ui, theme, Icon::Plus, "Nearer", true).clicked() {
                state.eye = Some(eye.nearer(1.25, Vec2::ZERO, fit));
            }
            if icon_button_ui(ui, theme, Icon::Fit, "The whole page", state.eye.is_some()).clicked()
            {
                state.eye = None;
            }
        });
    });
}
