//! Questions in front of everything else: a path to type, work that is not saved, which starter,
//! work found from a run that did not end well.

use std::path::PathBuf;

use egui::{Id, Key, Label, Modal, TextEdit, Ui};

use crate::assets::STARTERS;
use crate::command::Command;
use crate::files::Recovery;
use crate::panels::bits::{card, main_button, quiet, strong, veil};
use crate::panels::help::keys_ui;
use crate::panels::palette::{Palette, palette_ui};
use crate::panels::prices::prices_ui;
use crate::run::EXTENSION;
use crate::scene::Scene;
use crate::session::{Dialog, PathAsk};
use crate::theme::Theme;

/// What is being typed into questions.
#[derive(Default)]
pub struct Dialogs {
    palette: Palette,
    path: Option<TypedPath>,
}

/// A path being typed, and what is near it on disk.
struct TypedPath {
    text: String,
    /// What `near` was looked up for.
    looked: Option<String>,
    near: Vec<String>,
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
            let typed = state.path.get_or_insert_with(|| TypedPath {
                text: start(ask).display().to_string(),
                looked: None,
                near: Vec::new(),
            });
            path_ui(ctx, scene, ask, why.as_deref(), typed, out);
        }
        _ => state.path = None,
    }
    match &scene.session.dialog {
        Some(Dialog::Keys) => keys_ui(ctx, scene, out),
        Some(Dialog::Starters) => starters_ui(ctx, scene, out),
        Some(Dialog::Unsaved(then)) => unsaved_ui(ctx, scene, then, out),
        Some(Dialog::Recover(found)) => recover_ui(ctx, scene, found, out),
        Some(Dialog::Prices(offer)) => prices_ui(ctx, scene, offer, out),
        Some(Dialog::Find | Dialog::Path(..)) | None => {}
    }
}

/// A question: Esc and a click beside it leave things as they were.
pub(super) fn question_ui(
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
    typed: &mut TypedPath,
    out: &mut Vec<Command>,
) {
    let (name, act) = match ask {
        PathAsk::Open => ("Open a job", "Open"),
        PathAsk::Save(_) => ("Save the job as", "Save"),
        PathAsk::Pdf => ("Write the prints as PDF", "Write"),
        PathAsk::Page(_) => ("Write this page as PDF", "Write"),
        PathAsk::Svg(_) => ("Write this page as SVG", "Write"),
        PathAsk::For(form) => (form.question(), "Write"),
        PathAsk::Under => ("Put a drawing or a picture under the plan", "Put it there"),
        PathAsk::Prices => ("Take over a price list", "Read"),
        PathAsk::PriceList => ("Write a price list", "Write"),
    };
    question_ui(ctx, scene.theme, name, out, |ui, out| {
        if let Some(why) = why {
            ui.add(Label::new(why).wrap());
        }
        let field = ui.add(TextEdit::singleline(&mut typed.text).desired_width(f32::INFINITY));
        let field = field.accessible_name("Path of the file");
        let first = ui
            .ctx()
            .data_mut(|d| !std::mem::replace(d.get_temp_mut_or_default::<bool>(field.id), true));
        if first {
            field.request_focus();
            to_the_end(ui, field.id, &typed.text);
        }
        let path = PathBuf::from(expand_home(typed.text.trim()));
        let trouble = trouble(ask, &path);
        let remark = match (&trouble, !ask.is_to_read() && path.is_file()) {
            (Some(trouble), _) => trouble.as_str(),
            (None, true) => "There is a file of that name. It will be replaced.",
            (None, false) => "~ stands for your own folder",
        };
        ui.label(quiet(scene.theme, remark));
        near_ui(ui, scene, ask, typed, &field);
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
                    PathAsk::Page(page) => Command::ExportPage(*page, Some(path)),
                    PathAsk::Svg(page) => Command::ExportSvg(*page, Some(path)),
                    PathAsk::For(form) => Command::ExportFor(form.clone(), Some(path)),
                    PathAsk::Under => Command::PlaceUnder(Some(path)),
                    PathAsk::Prices => Command::TakePrices(Some(path)),
                    PathAsk::PriceList => Command::WritePrices(Some(path)),
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

/// Folders and jobs that begin as what is typed; a click takes one.
fn near_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    ask: &PathAsk,
    typed: &mut TypedPath,
    field: &egui::Response,
) {
    if typed.looked.as_ref() != Some(&typed.text) {
        typed.near = near(&typed.text, endings(ask));
        typed.looked = Some(typed.text.clone());
    }
    let mut taken = None;
    ui.scope(|ui| {
        ui.spacing_mut().interact_size.y = 0.0;
        ui.spacing_mut().button_padding.y = 1.0;
        for name in &typed.near {
            let words = quiet(scene.theme, name).color(scene.theme.accent);
            if ui.add(egui::Button::new(words).frame(false)).clicked() {
                taken = Some(name.clone());
            }
        }
    });
    if let Some(name) = taken {
        let folder = typed.text.rfind('/').map_or("", |i| &typed.text[..=i]);
        typed.text = format!("{folder}{name}");
        field.request_focus();
        to_the_end(ui, field.id, &typed.text);
    }
}

/// What the names of files that may be read end in.
fn endings(ask: &PathAsk) -> &'static [&'static str] {
    match ask {
        PathAsk::Open => &[EXTENSION],
        PathAsk::Under => &["dxf", "png", "jpg", "jpeg"],
        PathAsk::Prices => &["csv", "tsv", "txt"],
        _ => &[],
    }
}

/// Names in the folder of `text` that go on as it does: folders with a slash, and files that may be read. At most six.
fn near(text: &str, endings: &[&str]) -> Vec<String> {
    let text = expand_home(text);
    let (folder, begun) = text.rsplit_once('/').unwrap_or((".", &text));
    let folder = if folder.is_empty() { "/" } else { folder };
    let may_be = |name: &str| {
        let ending = name.rsplit_once('.').map(|(_, ending)| ending.to_lowercase());
        ending.is_some_and(|ending| endings.contains(&ending.as_str()))
    };
    let mut names: Vec<String> = std::fs::read_dir(folder)
        .into_iter()
        .flatten()
        .flatten()
        .filter_map(|entry| Some((entry.file_name().into_string().ok()?, entry.path().is_dir())))
        .filter(|(name, _)| name.starts_with(begun) && name != begun && !name.starts_with('.'))
        .filter_map(|(name, folder)| match folder {
            true => Some(format!("{name}/")),
            false => Some(name).filter(|name| may_be(name)),
        })
        .collect();
    names.sort_by_key(|name| (name.ends_with('/'), name.clone()));
    names.truncate(6);
    names
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
    let opening = ask.is_to_read();
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
        for starter in &STARTERS {
            let button = egui::Button::new(starter.title).min_size(egui::vec2(480.0, 34.0));
            if ui.add(button).clicked() {
                out.push(Command::Dismiss);
                out.push(Command::New(starter.name.into()));
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
        let title = found.job.as_ref().map_or("a job", |job| job.title.as_str());
        let when = ago(found.time);
        let words =
            format!("The last run did not end well. Work on “{title}” was put aside {when}.");
        ui.add(Label::new(words).wrap());
        if found.file_changed {
            let words = "The file itself has been changed since: look at both before you save.";
            ui.add(Label::new(egui::RichText::new(words).color(scene.theme.mend)).wrap());
        }
        let of =
            found.of.as_ref().map_or("It was never saved.".into(), |p| p.display().to_string());
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

/// How long ago `time`, seconds since 1970, was.
fn ago(time: u64) -> String {
    let now = std::time::SystemTime::now().duration_since(std::time::UNIX_EPOCH);
    let minutes = now.map_or(0, |d| d.as_secs().saturating_sub(time)) / 60;
    match (minutes, minutes / 60, minutes / 1440) {
        (0, ..) => "a moment ago".into(),
        (1, ..) => "a minute ago".into(),
        (2..60, ..) => format!("{minutes} minutes ago"),
        (_, 1, _) => "an hour ago".into(),
        (_, 2..24, _) => format!("{} hours ago", minutes / 60),
        (_, _, 1) => "a day ago".into(),
        (_, _, days) => format!("{days} days ago"),
    }
}
