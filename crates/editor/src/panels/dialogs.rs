//! Questions in front of everything else: a path to type, work that is not saved, which starter,
//! work found from a run that did not end well.

use std::path::PathBuf;

use egui::{Id, Key, Label, Modal, TextEdit, Ui};

use crate::command::Command;
use crate::panels::bits::{card, main_button, quiet, strong, veil};
use crate::panels::help::keys_ui;
use crate::panels::palette::{Palette, palette_ui};
use crate::scene::Scene;
use crate::session::{Dialog, PathAsk, Recovery};
use crate::theme::Theme;

/// What is being typed into questions.
#[derive(Default)]
pub struct Dialogs {
    palette: Palette,
    path: Option<String>,
}

/// Shows what is asked, when something is. `start` is the path a typed one begins with.
pub fn dialogs_ui(
    ctx: &egui::Context,
    scene: &Scene<'_>,
    state: &mut Dialogs,
    start: impl Fn(&PathAsk) -> PathBuf,
    out: &mut Vec<Command>,
) {
    match &scene.session.dialog {
        Some(Dialog::Find) => palette_ui(ctx, scene, &mut state.palette, out),
        _ => state.palette.close(),
    }
    match &scene.session.dialog {
        Some(Dialog::Path(ask, why)) => {
            let text = state.path.get_or_insert_with(|| start(ask).display().to_string());
            path_ui(ctx, scene, ask, why.as_deref(), text, out);
        }
        _ => state.path = None,
    }
    match &scene.session.dialog {
        Some(Dialog::Keys) => keys_ui(ctx, scene, out),
        Some(Dialog::Starters) => starters_ui(ctx, scene, out),
        Some(Dialog::Unsaved(then)) => unsaved_ui(ctx, scene, then, out),
        Some(Dialog::Recover(found)) => recover_ui(ctx, scene, found, out),
        Some(Dialog::Find | Dialog::Path(..)) | None => {}
    }
}

/// A question: Esc and a click beside it leave things as they were.
fn question_ui(
    ctx: &egui::Context,
    theme: &Theme,
    name: &str,
    out: &mut Vec<Command>,
    body: impl FnOnce(&mut Ui, &mut Vec<Command>),
) {
    let modal = Modal::new(Id::unique(name)).backdrop_color(veil(theme)).frame(card(theme)).show(
        ctx,
        |ui| {
            ui.set_width(480.0);
            ui.label(strong(name, 16.0));
            ui.add_space(2.0);
            let before = out.len();
            body(ui, out);
            out.len() > before
        },
    );
    if !modal.inner && modal.should_close() {
        out.push(Command::Dismiss);
    }
}

fn path_ui(
    ctx: &egui::Context,
    scene: &Scene<'_>,
    ask: &PathAsk,
    why: Option<&str>,
    text: &mut String,
    out: &mut Vec<Command>,
) {
    let (name, act) = match ask {
        PathAsk::Open => ("Open a job", "Open"),
        PathAsk::Save(_) => ("Save the job as", "Save"),
        PathAsk::Pdf => ("Write the prints as PDF", "Write"),
        PathAsk::Svg(_) => ("Write this page as SVG", "Write"),
    };
    question_ui(ctx, scene.theme, name, out, |ui, out| {
        if let Some(why) = why {
            ui.add(Label::new(why).wrap());
        }
        let field = ui.add(TextEdit::singleline(text).desired_width(f32::INFINITY));
        let field = field.accessible_name("Path of the file");
        let first = ui
            .ctx()
            .data_mut(|d| !std::mem::replace(d.get_temp_mut_or_default::<bool>(field.id), true));
        if first {
            field.request_focus();
            to_the_end(ui, field.id, text);
        }
        let path = PathBuf::from(expand_home(text.trim()));
        let trouble = trouble(ask, &path);
        ui.label(quiet(
            scene.theme,
            trouble.clone().unwrap_or_else(|| "~ stands for your own folder".into()),
        ));
        ui.add_space(6.0);
        ui.horizontal(|ui| {
            let asked = ui.add_enabled(trouble.is_none(), main_button(scene.theme, act)).clicked();
            let entered = field.lost_focus() && ui.input(|i| i.key_pressed(Key::Enter));
            if (asked || entered) && trouble.is_none() {
                out.push(Command::Dismiss);
                out.push(match ask {
                    PathAsk::Open => Command::Open(Some(path)),
                    PathAsk::Save(None) => Command::SaveAs(Some(path)),
                    PathAsk::Save(Some(then)) => Command::SaveAsThen(path, then.clone()),
                    PathAsk::Pdf => Command::ExportPdf(Some(path)),
                    PathAsk::Svg(page) => Command::ExportSvg(*page, Some(path)),
                });
            } else if entered {
                field.request_focus();
            }
            if ui.button("Cancel").clicked() {
                out.push(Command::Dismiss);
            }
        });
        if !out.is_empty() {
            ui.ctx().data_mut(|d| d.remove::<bool>(field.id));
        }
    });
}

/// Puts the cursor behind what is already in the field.
fn to_the_end(ui: &Ui, id: Id, text: &str) {
    let mut state = egui::text_edit::TextEditState::load(ui.ctx(), id).unwrap_or_default();
    let end = egui::text::CCursor::new(text.chars().count());
    state.cursor.set_char_range(Some(egui::text::CCursorRange::one(end)));
    state.store(ui.ctx(), id);
}

/// Why a typed path will not do, or what it will do beyond what was asked.
fn trouble(ask: &PathAsk, path: &std::path::Path) -> Option<String> {
    let opening = *ask == PathAsk::Open;
    if path.as_os_str().is_empty() {
        return Some("Type a path".into());
    }
    if path.is_dir() {
        return Some("That is a folder. Add the name of the file.".into());
    }
    match (opening, path.exists(), path.parent()) {
        (true, false, _) => Some("There is no such file yet".into()),
        (false, false, Some(folder)) if !folder.as_os_str().is_empty() && !folder.is_dir() => {
            Some("There is no such folder".into())
        }
        _ => None,
    }
}

fn expand_home(text: &str) -> String {
    match (text.strip_prefix('~'), directories::UserDirs::new()) {
        (Some(rest), Some(dirs)) if rest.is_empty() || rest.starts_with('/') => {
            format!("{}{rest}", dirs.home_dir().display())
        }
        _ => text.into(),
    }
}

fn unsaved_ui(ctx: &egui::Context, scene: &Scene<'_>, then: &Command, out: &mut Vec<Command>) {
    let what = match then {
        Command::Quit => "leaving",
        Command::New(_) => "beginning another job",
        _ => "opening another job",
    };
    question_ui(ctx, scene.theme, "Not saved", out, |ui, out| {
        let count = scene.session.history.depth();
        let steps = if count == 1 { "1 step".into() } else { format!("{count} steps") };
        ui.add(
            Label::new(format!(
                "“{}” has changes that are not in its file ({steps}). Save before {what}?",
                scene.job.title
            ))
            .wrap(),
        );
        ui.add_space(8.0);
        ui.horizontal(|ui| {
            if ui.add(main_button(scene.theme, "Save")).clicked() {
                out.push(Command::SaveThen(Box::new(then.clone())));
            }
            if ui.button("Don't save").clicked() {
                out.push(Command::Anyway(Box::new(then.clone())));
            }
            if ui.button("Keep editing").clicked() {
                out.push(Command::Dismiss);
            }
        });
    });
}

fn starters_ui(ctx: &egui::Context, scene: &Scene<'_>, out: &mut Vec<Command>) {
    question_ui(ctx, scene.theme, "New job", out, |ui, out| {
        ui.label(quiet(scene.theme, "Begin with one of these; everything in it can be changed."));
        ui.add_space(4.0);
        for starter in crate::standin::STARTERS {
            if ui.add(egui::Button::new(*starter).min_size(egui::vec2(480.0, 34.0))).clicked() {
                out.push(Command::Dismiss);
                out.push(Command::New((*starter).into()));
            }
        }
        ui.add_space(6.0);
        if ui.button("Cancel").clicked() {
            out.push(Command::Dismiss);
        }
    });
}

fn recover_ui(ctx: &egui::Context, scene: &Scene<'_>, found: &Recovery, out: &mut Vec<Command>) {
    question_ui(ctx, scene.theme, "Unsaved work was found", out, |ui, out| {
        let of = found
            .path
            .as_ref()
            .map_or("a job that was never saved".into(), |p| p.display().to_string());
        ui.add(
            Label::new(format!(
                "The last run did not end well. Work on “{}” was put aside {}.",
                found.job.title, found.when
            ))
            .wrap(),
        );
        ui.add(Label::new(quiet(scene.theme, of)).wrap());
        ui.add_space(8.0);
        ui.horizontal(|ui| {
            if ui.add(main_button(scene.theme, "Bring it back")).clicked() {
                out.push(Command::Recover(Box::new(found.clone())));
            }
            if ui.button("Throw it away").clicked() {
                out.push(Command::Discard(Box::new(found.clone())));
            }
            if ui.button("Ask again next time").clicked() {
                out.push(Command::Dismiss);
            }
        });
    });
}
