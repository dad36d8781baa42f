//! A field that reads what is typed and keeps the last good value when it cannot.

use egui::text::{CCursor, CCursorRange};
use egui::{Align2, Id, Key, Response, Stroke, StrokeKind, TextEdit, Ui};
use layout_core::units::Units;

use crate::theme::Theme;

/// What a field took in.
pub struct Typed<T> {
    /// The new value, when one was typed, is good, and differs from what was shown.
    pub value: Option<T>,
    /// The field.
    pub response: Response,
}

/// A field called `name` that shows `shown`. `read` turns what was typed into a value or says in one
/// line why it cannot; that line stays at the field until it is typed in again. Enter, Tab and
/// leaving the field take the value; Esc does not.
pub fn field_ui<T>(
    ui: &mut Ui,
    theme: &Theme,
    name: &str,
    shown: &str,
    width: f32,
    read: impl Fn(&str) -> Result<T, String>,
) -> Typed<T> {
    aligned_ui(ui, theme, name, shown, (width, Align2::RIGHT_CENTER), read)
}

/// The same for words, which begin at the left.
pub fn words_ui<T>(
    ui: &mut Ui,
    theme: &Theme,
    name: &str,
    shown: &str,
    width: f32,
    read: impl Fn(&str) -> Result<T, String>,
) -> Typed<T> {
    aligned_ui(ui, theme, name, shown, (width, Align2::LEFT_CENTER), read)
}

fn aligned_ui<T>(
    ui: &mut Ui,
    theme: &Theme,
    name: &str,
    shown: &str,
    (width, align): (f32, Align2),
    read: impl Fn(&str) -> Result<T, String>,
) -> Typed<T> {
    let id = ui.make_persistent_id(("field", name));
    let why_id = id.with("why");
    let mut text = ui.data(|d| d.get_temp::<String>(id)).unwrap_or_else(|| shown.to_string());
    let edit = TextEdit::singleline(&mut text).id(id).desired_width(width).align(align);
    let response = ui.add(edit.char_limit(60));
    let response = response.accessible_name(name);
    if response.gained_focus() {
        ui.data_mut(|d| d.remove::<String>(why_id));
        pick_all(ui, id, &text);
    }
    let mut value = None;
    if response.has_focus() {
        if text != shown
            && let Err(why) = read(&text)
            && !text.trim().is_empty()
        {
            response.show_tooltip_text(why);
        }
        ui.data_mut(|d| d.insert_temp(id, text));
    } else if response.lost_focus() {
        ui.data_mut(|d| d.remove::<String>(id));
        if text != shown && !ui.input(|i| i.key_pressed(Key::Escape)) {
            match read(&text) {
                Ok(read) => value = Some(read),
                Err(why) => {
                    let why = format!("{why} “{text}” was not taken.");
                    ui.data_mut(|d| d.insert_temp(why_id, why));
                }
            }
        }
    }
    if let Some(why) = ui.data(|d| d.get_temp::<String>(why_id)) {
        ui.painter().rect_stroke(
            response.rect,
            3.0,
            Stroke::new(1.5, theme.stop),
            StrokeKind::Inside,
        );
        response.show_tooltip_text(why);
    }
    Typed { value, response }
}

/// A length called `name`, in `units`, between `least` and `most`.
pub fn length_ui(
    ui: &mut Ui,
    (theme, units): (&Theme, Units),
    name: &str,
    value: f64,
    (least, most): (f64, f64),
    width: f32,
) -> Option<f64> {
    let typed = field_ui(ui, theme, name, &units.show(value), width, |text| {
        let length = units.read(text)?;
        if (least..=most).contains(&length) {
            Ok(length)
        } else {
            Err(format!("Between {} and {}.", units.show(least), units.with_unit(most)))
        }
    });
    typed.response.on_hover_text(format!(
        "{name}, {} to {}",
        units.show(least),
        units.with_unit(most)
    ));
    typed.value.filter(|typed| (typed - value).abs() > layout_core::math::SAME)
}

fn pick_all(ui: &Ui, id: Id, text: &str) {
    let mut state = egui::text_edit::TextEditState::load(ui.ctx(), id).unwrap_or_default();
    let range = CCursorRange::two(CCursor::new(0), CCursor::new(text.chars().count()));
    state.cursor.set_char_range(Some(range));
    state.store(ui.ctx(), id);
}
