//! The list of all actions, searched by a word of their name.

use egui::{Align2, Key, Modal, RichText, ScrollArea, Sense, TextEdit, WidgetInfo, pos2, vec2};

use crate::actions::{ALL, Action, key_text};
use crate::command::Command;
use crate::panels::bits::{quiet, veil, write};
use crate::scene::Scene;
use crate::theme::font;

/// What has been typed, and which line is chosen.
#[derive(Default)]
pub struct Palette {
    query: String,
    chosen: usize,
    open: bool,
}

impl Palette {
    /// The next time it opens it is empty.
    pub fn close(&mut self) {
        *self = Palette::default();
    }
}

/// Shows the list.
pub fn palette_ui(
    ctx: &egui::Context,
    scene: &Scene<'_>,
    state: &mut Palette,
    out: &mut Vec<Command>,
) {
    let area = egui::Area::new(egui::Id::unique("find an action"))
        .anchor(Align2::CENTER_TOP, vec2(0.0, 54.0))
        .order(egui::Order::Foreground)
        .interactable(true);
    let modal = Modal::new(egui::Id::unique("find an action"))
        .area(area)
        .backdrop_color(veil(scene.theme))
        .show(ctx, |ui| {
            ui.set_width(470.0);
            let (down, up, enter) = ui.input_mut(|i| {
                (
                    i.consume_key(egui::Modifiers::NONE, Key::ArrowDown),
                    i.consume_key(egui::Modifiers::NONE, Key::ArrowUp),
                    i.key_pressed(Key::Enter),
                )
            });
            let field = TextEdit::singleline(&mut state.query)
                .hint_text("Find an action")
                .desired_width(f32::INFINITY);
            let response = ui.add(field.margin(vec2(10.0, 7.0)));
            let response = response.accessible_name("Find an action by name");
            if !state.open {
                state.open = true;
                response.request_focus();
            }
            if response.changed() {
                state.chosen = 0;
            }
            let found = found(&state.query);
            if down {
                state.chosen += 1;
            }
            if up {
                state.chosen = state.chosen.saturating_sub(1);
            }
            state.chosen = state.chosen.min(found.len().saturating_sub(1));
            ui.add_space(4.0);
            if found.is_empty() {
                ui.label(quiet(scene.theme, "No action has that word. Try another."));
            }
            let mut asked = None;
            ScrollArea::vertical().max_height(380.0).auto_shrink([false, true]).show(ui, |ui| {
                ui.spacing_mut().item_spacing.y = 0.0;
                for (i, action) in found.iter().enumerate() {
                    if row_ui(ui, scene, action, i == state.chosen, down || up)
                        || (enter && i == state.chosen)
                    {
                        asked = Some(*action);
                    }
                }
            });
            asked
        });
    let close = modal.should_close();
    if let Some(action) = modal.inner
        && (action.enabled)(scene)
    {
        out.push(Command::Dismiss);
        out.push((action.command)(scene));
    } else if close {
        out.push(Command::Dismiss);
    }
}

/// The actions whose words begin as those typed do, in the order of the menu.
fn found(query: &str) -> Vec<&'static Action> {
    let query = query.to_lowercase();
    let matches = |action: &&Action| {
        let words =
            format!("{} {} {}", action.label, action.group.label(), action.tip).to_lowercase();
        query.split_whitespace().all(|typed| {
            words.split(|c: char| !c.is_alphanumeric()).any(|word| word.starts_with(typed))
        })
    };
    let mut found: Vec<_> = ALL.iter().filter(matches).collect();
    // An action whose own name has the word comes before one that only mentions it.
    found.sort_by_key(|a| !a.label.to_lowercase().contains(query.trim()));
    found
}

fn row_ui(
    ui: &mut egui::Ui,
    scene: &Scene<'_>,
    action: &Action,
    chosen: bool,
    moved: bool,
) -> bool {
    let theme = scene.theme;
    let enabled = (action.enabled)(scene);
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), 30.0), Sense::click());
    response
        .widget_info(|| WidgetInfo::labeled(egui::accesskit::Role::Button, enabled, action.label));
    if chosen || response.hovered() {
        ui.painter().rect_filled(rect, 3.0, if chosen { theme.accent_tint } else { theme.hover });
    }
    if chosen && moved {
        response.scroll_to_me(None);
    }
    let colour = if enabled { theme.ink } else { theme.quiet };
    let y = rect.center().y;
    let label =
        write(ui, pos2(rect.left() + 10.0, y), Align2::LEFT_CENTER, action.label, 13.5, colour);
    let key = write(
        ui,
        pos2(rect.right() - 10.0, y),
        Align2::RIGHT_CENTER,
        &key_text(ui.ctx(), action),
        12.0,
        theme.quiet,
    );
    let room =
        egui::Rect::from_x_y_ranges(label.right() + 12.0..=key.left() - 12.0, rect.y_range());
    let tip =
        if enabled { action.tip.to_string() } else { format!("{} Not just now.", action.tip) };
    let galley = egui::WidgetText::from(RichText::new(tip).font(font(12.0)).color(theme.quiet))
        .into_galley(ui, Some(egui::TextWrapMode::Truncate), room.width(), egui::TextStyle::Body);
    ui.painter().galley(pos2(room.left(), y - galley.size().y / 2.0), galley, theme.quiet);
    response.clicked()
}
