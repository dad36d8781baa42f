//! The rows a page of particulars is made of: a label on the left, what can be changed on the right.

use egui::{Align, ComboBox, Layout, RichText, Ui, UiBuilder, pos2, vec2};
use layout_core::document::Edit;

use crate::command::Command;
use crate::panels::bits::{hairline_ui, quiet, strong};
use crate::panels::field::{field_ui, words_ui};
use crate::scene::Scene;

/// Bounds of a wall's height and of what is in it, mm.
pub(super) const HEIGHTS: (f64, f64) = (100.0, 10_000.0);

/// Width of what stands on the right, points.
const FIELD: f32 = 142.0;
/// Width of a number with its unit.
pub(super) const NUMBER: f32 = 118.0;
/// Height of a row.
const ROW: f32 = 27.0;

/// A page being laid out.
pub(super) struct Form<'a, 'b> {
    pub(super) ui: &'a mut Ui,
    pub(super) scene: &'a Scene<'b>,
    pub(super) out: &'a mut Vec<Command>,
}

impl<'b> Form<'_, 'b> {
    /// Asks for a change.
    pub(super) fn edit(&mut self, edit: Edit) {
        self.out.push(Command::Edit(edit));
    }

    /// A heading over some rows.
    pub(super) fn heading(&mut self, text: &str) {
        self.ui.add_space(8.0);
        self.ui.label(strong(text, 13.0));
        self.ui.add_space(1.0);
    }

    /// A quiet line across.
    pub(super) fn note(&mut self, text: impl Into<String>) {
        self.ui.label(quiet(self.scene.theme, text));
    }

    /// A hairline.
    pub(super) fn line(&mut self) {
        self.ui.add_space(4.0);
        hairline_ui(self.ui, self.scene.theme);
        self.ui.add_space(2.0);
    }

    /// A label and, from the right, what `add` puts there.
    pub(super) fn row<R>(&mut self, label: &str, add: impl FnOnce(&mut Ui, &Scene<'b>) -> R) -> R {
        self.row_with(label, FIELD, add)
    }

    /// The same with `width` points for what stands on the right.
    pub(super) fn row_with<R>(
        &mut self,
        label: &str,
        width: f32,
        add: impl FnOnce(&mut Ui, &Scene<'b>) -> R,
    ) -> R {
        let scene = self.scene;
        let size = vec2(self.ui.available_width(), ROW);
        let (rect, _) = self.ui.allocate_exact_size(size, egui::Sense::hover());
        let (left, right) = rect.split_left_right_at_x(rect.right() - width);
        // Painted, not a widget: the field beside it carries the name for those who listen.
        let text = RichText::new(label).size(13.0);
        let wrap = Some(egui::TextWrapMode::Truncate);
        let galley = egui::WidgetText::from(text).into_galley(
            self.ui,
            wrap,
            left.width() - 4.0,
            egui::TextStyle::Body,
        );
        let at = pos2(left.left(), left.center().y - galley.size().y / 2.0);
        self.ui.painter().galley(at, galley, scene.theme.ink);
        let layout = Layout::right_to_left(Align::Center);
        let mut at_right =
            self.ui.new_child(UiBuilder::new().max_rect(right).layout(layout).id_salt(label));
        at_right.spacing_mut().item_spacing.x = 4.0;
        add(&mut at_right, scene)
    }

    /// What is shown and cannot be changed here.
    pub(super) fn shown(&mut self, label: &str, value: impl Into<String>) {
        let value = value.into();
        self.row(label, |ui, _| ui.label(RichText::new(value).size(13.0)));
    }

    /// A length, mm, between `least` and `most`.
    pub(super) fn length(&mut self, label: &str, value: f64, range: (f64, f64)) -> Option<f64> {
        self.named_length(label, label, value, range)
    }

    /// A length whose field is called `name` aloud.
    pub(super) fn named_length(
        &mut self,
        label: &str,
        name: &str,
        value: f64,
        range: (f64, f64),
    ) -> Option<f64> {
        self.row_with(label, NUMBER, |ui, scene| {
            ui.label(quiet(scene.theme, scene.job.units.short()));
            number_ui(ui, scene, name, value, range, 88.0)
        })
    }

    /// A plain number, not a length.
    pub(super) fn number(
        &mut self,
        label: &str,
        unit: &str,
        value: f64,
        (least, most): (f64, f64),
    ) -> Option<f64> {
        self.row_with(label, NUMBER, |ui, scene| {
            ui.label(quiet(scene.theme, unit));
            // Never “-0”, which is what no thicknesses add up to.
            let shown = format!("{}", (value * 100.0).round() / 100.0 + 0.0);
            let typed = field_ui(ui, scene.theme, label, &shown, 88.0, |text| {
                let read: Result<f64, _> = text.trim().parse();
                match read {
                    Ok(n) if (least..=most).contains(&n) => Ok(n),
                    Ok(_) => Err(format!("Between {least} and {most}.")),
                    Err(_) => Err("A number, with a point for decimals.".into()),
                }
            });
            typed.value
        })
    }

    /// A line of text that may not be empty.
    pub(super) fn text(
        &mut self,
        label: &str,
        value: &str,
        fine: impl Fn(&str) -> Result<(), String>,
    ) -> Option<String> {
        self.row(label, |ui, scene| {
            let typed = words_ui(ui, scene.theme, label, value, FIELD - 14.0, |text| {
                let text = text.trim();
                if text.is_empty() {
                    return Err("It needs a name.".into());
                }
                fine(text).map(|()| text.to_owned())
            });
            typed.value
        })
    }

    /// One of a few: gives the new choice.
    pub(super) fn choice<T: PartialEq + Clone>(
        &mut self,
        label: &str,
        now: &T,
        options: &[(T, String)],
    ) -> Option<T> {
        self.row(label, |ui, _| choice_ui(ui, label, label, now, options, FIELD))
    }

    /// Yes or no.
    pub(super) fn tick(&mut self, label: &str, now: bool) -> Option<bool> {
        let mut ticked = now;
        self.ui.checkbox(&mut ticked, RichText::new(label).size(13.0));
        (ticked != now).then_some(ticked)
    }

    /// A button across, in the flow.
    pub(super) fn button(&mut self, label: &str) -> bool {
        self.ui.button(RichText::new(label).size(13.0)).clicked()
    }
}

/// A length field of its own. While it is typed in it says what was read.
pub(super) fn number_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    name: &str,
    value: f64,
    (least, most): (f64, f64),
    width: f32,
) -> Option<f64> {
    let units = scene.job.units;
    let shown = units.show(value);
    let typed = field_ui(ui, scene.theme, name, &shown, width, |text| {
        let length = units.read(text)?;
        if (least..=most).contains(&length) {
            Ok(length)
        } else {
            Err(format!("Between {} and {}.", units.show(least), units.with_unit(most)))
        }
    });
    let response = typed.response;
    if response.has_focus()
        && let Some(text) = ui.data(|d| d.get_temp::<String>(response.id))
        && text != shown
        && let Ok(read) = units.read(&text)
        && (least..=most).contains(&read)
    {
        response.show_tooltip_text(format!("= {}", units.with_unit(read)));
    } else if !response.has_focus() {
        response.on_hover_text(format!(
            "{name}, {} to {}",
            units.show(least),
            units.with_unit(most)
        ));
    }
    typed.value.filter(|typed| (typed - value).abs() > layout_core::math::SAME)
}

/// A list to choose one of.
pub(super) fn choice_ui<T: PartialEq + Clone>(
    ui: &mut Ui,
    name: &str,
    salt: impl egui::AsIdSalt,
    now: &T,
    options: &[(T, String)],
    width: f32,
) -> Option<T> {
    let mut chosen = None;
    let text = options.iter().find(|(o, _)| o == now).map_or("", |(_, words)| words.as_str());
    let shown = RichText::new(text).size(13.0);
    let response = ComboBox::from_id_salt(salt)
        .selected_text(shown)
        .width(width)
        .height(340.0)
        .truncate()
        .show_ui(ui, |ui| {
            for (option, words) in options {
                if ui.selectable_label(option == now, words).clicked() && option != now {
                    chosen = Some(option.clone());
                }
            }
        })
        .response;
    response.accessible_name(name);
    chosen
}

/// A list to choose one of, for use in a row of its own.
pub(super) fn small_choice<T: PartialEq + Clone>(
    form: &mut Form<'_, '_>,
    label: &str,
    now: &T,
    options: &[(T, &str)],
) -> Option<T> {
    let options: Vec<_> =
        options.iter().map(|(o, words)| (o.clone(), (*words).to_owned())).collect();
    form.row(label, |ui, _| choice_ui(ui, label, label, now, &options, 142.0))
}
