//! Small pieces that several panels share: headings, quiet captions, sign buttons, hairlines.

use egui::accesskit::Role;
use egui::{Align2, Color32, Rect, Response, RichText, Sense, Stroke, Ui, WidgetInfo, pos2, vec2};
use egui_plot::Plot;

use crate::icons::Icon;
use crate::theme::{Theme, bold, font};

/// Bold lettering.
pub fn strong(text: impl Into<String>, size: f32) -> RichText {
    RichText::new(text).family(bold()).size(size)
}

/// Lettering of less weight.
pub fn quiet(theme: &Theme, text: impl Into<String>) -> RichText {
    RichText::new(text).color(theme.quiet).size(12.0)
}

/// A plot that stays as it is drawn: nothing in it is dragged or zoomed, and it shows what it is given anew every time.
pub fn still_plot<'a>(name: impl egui::AsIdSalt) -> Plot<'a> {
    Plot::new(name)
        .reset()
        .allow_drag(false)
        .allow_zoom(false)
        .allow_scroll(false)
        .allow_boxed_zoom(false)
        .allow_double_click_reset(false)
        .show_x(false)
        .show_y(false)
        .show_background(false)
        .set_margin_fraction(vec2(0.0, 0.0))
}

/// What a field in a wrapped row is called, on a new row where it and the field, so wide, have no room on this one.
pub fn before_field_ui(ui: &mut Ui, theme: &Theme, label: &str, width: f32) {
    let words = egui::WidgetText::from(quiet(theme, label));
    let galley = words.into_galley(
        ui,
        Some(egui::TextWrapMode::Extend),
        f32::INFINITY,
        egui::TextStyle::Body,
    );
    let row = ui.spacing().interact_size.y;
    let needed = galley.size().x + 2.0 * ui.spacing().item_spacing.x + width;
    if ui.available_size_before_wrap().x < needed {
        ui.end_row();
        ui.set_row_height(row);
    }
    ui.label(galley);
}

/// A heading over a part of a place.
pub fn heading_ui(ui: &mut Ui, theme: &Theme, text: &str, beside: &str) {
    ui.horizontal(|ui| {
        ui.label(strong(text, 14.0));
        if !beside.is_empty() {
            ui.label(quiet(theme, beside));
        }
    });
}

/// A hairline across.
pub fn hairline_ui(ui: &mut Ui, theme: &Theme) {
    let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), 1.0), Sense::hover());
    ui.painter().hline(rect.x_range(), rect.center().y, Stroke::new(1.0, theme.hairline));
}

/// A button that is only a sign; `name` is what it is called and what its tip says.
pub fn icon_button_ui(
    ui: &mut Ui,
    theme: &Theme,
    icon: Icon,
    name: &str,
    enabled: bool,
) -> Response {
    let sense = if enabled { Sense::click() } else { Sense::hover() };
    let (rect, response) = ui.allocate_exact_size(vec2(28.0, 28.0), sense);
    response.widget_info(|| WidgetInfo::labeled(Role::Button, enabled, name));
    let colour = if enabled { theme.ink } else { theme.quiet.gamma_multiply(0.5) };
    if enabled && (response.hovered() || response.has_focus()) {
        ui.painter().rect_filled(rect, 3.0, theme.hover);
    }
    focus_ring(ui, theme, &response, rect);
    icon.paint(ui.painter(), rect.shrink(6.0), colour);
    response.on_hover_text(name)
}

/// A line round what the keyboard is on.
pub fn focus_ring(ui: &Ui, theme: &Theme, response: &Response, rect: Rect) {
    if response.has_focus() {
        ui.painter().rect_stroke(
            rect,
            3.0,
            Stroke::new(1.5, theme.accent),
            egui::StrokeKind::Inside,
        );
    }
}

/// The one button of a question that does what was asked for.
pub fn main_button(theme: &Theme, text: &str) -> egui::Button<'static> {
    egui::Button::new(RichText::new(text).color(theme.on_accent))
        .fill(theme.accent)
        .stroke(Stroke::NONE)
}

/// Writes `text` at a point; gives the rectangle it takes.
pub fn write(
    ui: &Ui,
    at: egui::Pos2,
    align: Align2,
    text: &str,
    size: f32,
    colour: Color32,
) -> Rect {
    ui.painter().text(at, align, text, font(size), colour)
}

/// A word in the middle of an otherwise empty place, with a line under it that says what to do.
pub fn empty_ui(ui: &mut Ui, theme: &Theme, icon: Icon, what: &str, then: &str) {
    let rect = ui.available_rect_before_wrap();
    let middle = pos2(rect.center().x, rect.top() + rect.height() * 0.36);
    icon.paint(
        ui.painter(),
        Rect::from_center_size(middle - vec2(0.0, 34.0), vec2(34.0, 34.0)),
        theme.quiet,
    );
    let area =
        Rect::from_center_size(middle + vec2(0.0, 24.0), vec2(rect.width().min(560.0), 60.0));
    ui.scope_builder(egui::UiBuilder::new().max_rect(area), |ui| {
        ui.vertical_centered(|ui| {
            ui.label(strong(what, 16.0));
            ui.label(quiet(theme, then));
        });
    });
}

/// Timber all told, as it is bought: `84.6 m`, `277.6 ft`. `length` is millimetres.
pub fn metres(scene: &crate::scene::Scene<'_>, length: f64) -> String {
    scene.job.units.run(length)
}

/// Text that may be broken over lines, but not within a number: the toolkit breaks at the thin space between thousands.
pub fn unbroken(text: &str) -> String {
    text.replace('\u{2009}', "\u{a0}")
}

/// A price with its currency in front.
pub fn price(currency: &str, value: f64) -> String {
    layout_core::document::money(currency, value)
}

/// What lies over everything behind a question.
pub fn veil(theme: &Theme) -> Color32 {
    theme.shade.gamma_multiply(0.28)
}

/// The sheet a question is written on.
pub fn card(theme: &Theme) -> egui::Frame {
    egui::Frame::new()
        .fill(theme.sheet)
        .stroke(Stroke::new(1.0, theme.rule))
        .corner_radius(3.0)
        .inner_margin(egui::Margin::symmetric(22, 18))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_plot_shows_as_much_as_it_is_given_each_time() {
        // What is asked for, and the top that was seen.
        let draw = |ui: &mut Ui, (top, seen): &mut (f64, f64)| {
            let plot = still_plot("a").show_axes([false; 2]).default_x_bounds(0.0, 1.0);
            let plot = plot.default_y_bounds(0.0, *top);
            *seen = plot.show(ui, |plot| plot.plot_bounds().max()[1]).inner;
        };
        let mut harness = egui_kittest::Harness::new_ui_state(draw, (1.0, 0.0));
        for top in [1.0, 5.0, 2.0] {
            harness.state_mut().0 = top;
            harness.run();
            assert!((harness.state().1 - top).abs() < 1e-9, "{:?}", harness.state());
        }
    }
}
