//! Snags: what is or will be wrong, the gravest first; choosing one goes to it.

use egui::accesskit::Role;
use egui::{Align2, Label, Rect, RichText, ScrollArea, Sense, Ui, WidgetInfo, pos2, vec2};
use layout_core::document::{Accepted, Edit};
use layout_core::snag::{Severity, Snag};

use crate::command::Command;
use crate::icons::Icon;
use crate::panels::bits::{
    empty_ui, focus_ring, hairline_ui, heading_ui, main_button, quiet, strong, unbroken, write,
};
use crate::places::mending::{mending_button_ui, mending_ui};
use crate::scene::Scene;
use crate::session::Where;

/// Shows the place.
pub fn snags_ui(ui: &mut Ui, scene: &Scene<'_>, out: &mut Vec<Command>) {
    let theme = scene.theme;
    let snags = &scene.layout.snags;
    if snags.is_empty() && scene.layout.accepted.is_empty() {
        let then = if scene.job.walls.is_empty() {
            "There is no wall to look at yet. Draw one and come back."
        } else {
            "Everything the program knows how to check fits. Check it on site before cutting all the same."
        };
        empty_ui(ui, theme, Icon::Tick, "No snags", then);
        return;
    }
    ScrollArea::vertical().auto_shrink([false, false]).show(ui, |ui| {
        ui.set_max_width(1290.0);
        for severity in [Severity::Stop, Severity::Mend, Severity::Note] {
            let of_this: Vec<&Snag> = snags.iter().filter(|s| s.severity() == severity).collect();
            if !of_this.is_empty() {
                heading_ui(ui, theme, heading(severity), &of_this.len().to_string());
                hairline_ui(ui, theme);
                for (i, snag) in of_this.into_iter().enumerate() {
                    row_ui(ui, scene, snag, i, out);
                    hairline_ui(ui, theme);
                }
                ui.add_space(18.0);
            }
        }
        accepted_ui(ui, scene, out);
    });
}

fn heading(severity: Severity) -> &'static str {
    match severity {
        Severity::Stop => "Stop: do not build it like this",
        Severity::Mend => "Mend: it will not fit, or will have to be undone",
        Severity::Note => "Note: worth knowing before it is cut",
    }
}

/// Widths of the sign, of the place and the source, and of the buttons.
const SIGN: f32 = 96.0;
const PLACE: f32 = 250.0;
const BUTTONS: f32 = 120.0;

fn row_ui(ui: &mut Ui, scene: &Scene<'_>, snag: &Snag, index: usize, out: &mut Vec<Command>) {
    let theme = scene.theme;
    let colour = theme.severity(snag.severity());
    let top = ui.cursor().min;
    let width = ui.available_width();
    let words = width - SIGN - PLACE - BUTTONS - 24.0;
    // The row is laid out first and made to answer as a whole afterwards, so that its height follows its words.
    let behind = ui.painter().add(egui::Shape::Noop);
    let column = |ui: &mut Ui, left: f32, wide: f32, add: &mut dyn FnMut(&mut Ui)| {
        let rect = Rect::from_min_size(top + vec2(left, 9.0), vec2(wide, f32::INFINITY));
        let inner = ui.scope_builder(egui::UiBuilder::new().max_rect(rect), |ui| {
            ui.spacing_mut().item_spacing.y = 3.0;
            add(ui);
        });
        inner.response.rect.bottom()
    };
    let said = column(ui, SIGN, words, &mut |ui| {
        ui.add(Label::new(strong(unbroken(&snag.message), 13.5)).wrap().selectable(false));
        ui.add(Label::new(unbroken(&snag.remedy)).wrap().selectable(false));
    });
    let placed = column(ui, width - PLACE - BUTTONS, PLACE - 16.0, &mut |ui| {
        let place = snag.place(scene.job.units);
        ui.add(Label::new(quiet(theme, place)).wrap().selectable(false));
        ui.add(Label::new(quiet(theme, snag.source()).size(11.5)).wrap().selectable(false));
    });
    let rect =
        Rect::from_min_max(top, pos2(top.x + width, said.max(placed).max(top.y + 30.0) + 9.0));
    let response =
        ui.interact(rect, ui.scope_id().with((snag.severity().label(), index)), Sense::click());
    let name = format!("{}: {}", snag.severity().label(), snag.message);
    response.widget_info(|| WidgetInfo::labeled(Role::Button, true, &name));
    if response.hovered() {
        ui.painter().set(behind, egui::Shape::rect_filled(rect, 0.0, theme.hover));
    }
    focus_ring(ui, theme, &response, rect);
    Icon::Severity(snag.severity()).paint(
        ui.painter(),
        Rect::from_center_size(pos2(top.x + 20.0, top.y + 20.0), vec2(20.0, 20.0)),
        colour,
    );
    let word = pos2(top.x + 40.0, top.y + 19.0);
    write(ui, word, Align2::LEFT_CENTER, snag.severity().label(), 13.5, colour);
    // Over the row, so that they are pressed and not the row.
    column(ui, width - BUTTONS, BUTTONS, &mut |ui| {
        mending_button_ui(ui, scene, snag, out);
        accept_button_ui(ui, scene, snag, out);
    });
    ui.advance_cursor_after_rect(rect);
    let open = [&scene.session.mending, &scene.session.accepting];
    if open.into_iter().any(|o| o.as_ref() == Some(snag)) {
        let left = ui.cursor().min + vec2(SIGN, 0.0);
        let ways = Rect::from_min_size(left, vec2(words + PLACE, f32::INFINITY));
        let inner = ui.scope_builder(egui::UiBuilder::new().max_rect(ways), |ui| {
            mending_ui(ui, scene, snag, out);
            reason_ui(ui, scene, snag, out);
            ui.add_space(8.0);
        });
        let covered = inner.response.rect;
        ui.advance_cursor_after_rect(Rect::from_min_max(
            pos2(top.x, covered.top()),
            pos2(top.x + width, covered.bottom()),
        ));
    }
    if response.on_hover_cursor(egui::CursorIcon::PointingHand).clicked() {
        out.push(Command::Pick(Some(snag.of.clone())));
        if let Some(wall) = wall_of(scene, snag) {
            out.push(Command::ShowWall(wall));
        }
        out.push(Command::Go(Where::Draw));
    }
}

/// A button that asks for the reason a snag is let stand.
fn accept_button_ui(ui: &mut Ui, scene: &Scene<'_>, snag: &Snag, out: &mut Vec<Command>) {
    let open = scene.session.accepting.as_ref() == Some(snag);
    let words = if open { "Leave it open" } else { "Accept…" };
    let response = ui.small_button(RichText::new(words).size(12.0));
    let name = format!("{words}: {}", snag.message);
    response.widget_info(|| WidgetInfo::labeled(Role::Button, true, name.clone()));
    if response.clicked() {
        out.push(Command::AskReason((!open).then(|| Box::new(snag.clone()))));
    }
}

/// The reason a snag is let stand, to be typed.
fn reason_ui(ui: &mut Ui, scene: &Scene<'_>, snag: &Snag, out: &mut Vec<Command>) {
    if scene.session.accepting.as_ref() != Some(snag) {
        return;
    }
    let id = ui.scope_id().with("reason");
    let mut reason = ui.data(|d| d.get_temp::<String>(id)).unwrap_or_default();
    let hint = match snag.severity() {
        Severity::Stop => "Who decided, and when: an engineer's name and the date of the letter",
        _ => "Why it may stand, and who said so",
    };
    ui.horizontal(|ui| {
        let field = egui::TextEdit::singleline(&mut reason).hint_text(hint).desired_width(460.0);
        let field = ui.add(field);
        field.clone().accessible_name("Reason");
        // Once, when it is opened: afterwards the hand may go elsewhere.
        let begun = ui.data(|d| d.get_temp::<Snag>(id.with("of"))).as_ref() == Some(snag);
        if !begun {
            field.request_focus();
            ui.data_mut(|d| d.insert_temp(id.with("of"), snag.clone()));
        }
        let said = !reason.trim().is_empty();
        let enter = field.lost_focus() && ui.input(|i| i.key_pressed(egui::Key::Enter));
        let pressed = ui.add_enabled(said, main_button(scene.theme, "Let it stand")).clicked();
        if said && (pressed || enter) {
            out.push(Command::Edit(Edit::Accept(Accepted::new(snag, reason.trim()))));
            reason.clear();
        }
    });
    let note = "It goes to its own list, is printed with the reason, and comes back when it gets worse or moves.";
    ui.label(quiet(scene.theme, note).size(11.5));
    ui.data_mut(|d| d.insert_temp(id, reason));
}

/// What is let stand, with the reasons.
fn accepted_ui(ui: &mut Ui, scene: &Scene<'_>, out: &mut Vec<Command>) {
    let theme = scene.theme;
    let accepted = &scene.layout.accepted;
    if accepted.is_empty() {
        return;
    }
    heading_ui(ui, theme, "Accepted: let stand for a reason", &accepted.len().to_string());
    hairline_ui(ui, theme);
    for (a, snags) in accepted {
        ui.add_space(5.0);
        ui.horizontal_top(|ui| {
            ui.add_space(SIGN);
            ui.vertical(|ui| {
                ui.set_width(ui.available_width() - BUTTONS - 8.0);
                for snag in snags {
                    let words = format!("{}: {}", snag.severity().label(), snag.message);
                    ui.add(Label::new(strong(words, 13.0)).wrap());
                }
                if snags.is_empty() {
                    let words = format!("{} of {}: no longer found", a.code.id(), a.of.label());
                    ui.label(quiet(theme, words));
                }
                ui.add(Label::new(format!("Accepted: {}", a.reason)).wrap());
            });
            let response = ui.small_button(RichText::new("Withdraw").size(12.0));
            let name = format!("Withdraw: {}", a.reason);
            response.widget_info(|| WidgetInfo::labeled(Role::Button, true, name.clone()));
            if response.clicked() {
                out.push(Command::Edit(Edit::Withdraw(a.clone())));
            }
        });
        ui.add_space(5.0);
        hairline_ui(ui, theme);
    }
}

fn wall_of(scene: &Scene<'_>, snag: &Snag) -> Option<layout_core::id::Name> {
    snag.wall.clone().or_else(|| scene.job.wall_of(&snag.of).map(|w| w.name.clone()))
}
