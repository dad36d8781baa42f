//! New, open, save and leave: nothing is lost, and there is always a way.

use std::sync::Arc;

use editor::app::{Start, nobody};
use editor::command::Command;
use editor::session::{Dialog, PathAsk};
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;
use layout_core::document::{Edit, Job, read};

use crate::window::{Window, somewhere};

fn retitle(w: &mut Window, title: &str) {
    w.ask(Command::Edit(Edit::SetTitle { title: title.into(), notes: String::new() }));
}

#[test]
fn a_new_job_begins_from_a_starter() {
    let mut w = Window::fresh();
    let before = w.job().clone();
    w.press(Modifiers::COMMAND, Key::N);
    assert_eq!(w.session().dialog, Some(Dialog::Starters));
    w.click_on("One straight wall with a door");
    assert_eq!(w.session().dialog, None);
    assert_ne!(*w.job(), before);
    assert_eq!(w.job().walls.len(), 1);
    assert!(!w.session().changed());
    assert_eq!(w.session().path, None);
}

#[test]
fn a_bad_file_is_told_in_one_line_and_the_job_stays() {
    let (_folder, path) = somewhere("broken.ron");
    std::fs::write(&path, "(version: 1, title: \"x\", walls: [(name: 3)])").expect("written");
    let mut w = Window::fresh();
    let before = w.job().clone();
    w.ask(Command::Open(Some(path.clone())));
    assert_eq!(*w.job(), before);
    let said = w.said();
    assert!(w.session().message.as_ref().is_some_and(|m| m.failed));
    assert_eq!(said.lines().count(), 1, "{said}");
    assert!(said.contains("1:"), "{said}");
    assert!(said.contains("broken.ron"), "{said}");
    w.click("Put the message away");
    assert_eq!(w.session().message, None);
}

#[test]
fn when_no_file_window_answers_the_path_can_be_typed() {
    let (folder, path) = somewhere("typed.ron");
    let mut w = Window::fresh();
    retitle(&mut w, "Typed");
    w.press(Modifiers::COMMAND, Key::S);
    assert!(
        matches!(&w.session().dialog, Some(Dialog::Path(PathAsk::Save(None), Some(_)))),
        "{:?}",
        w.session().dialog
    );
    w.type_into("Path of the file", &path.display().to_string());
    assert_eq!(w.session().path.as_deref(), Some(path.as_path()));
    assert!(!w.session().changed());
    let text = std::fs::read_to_string(&path).expect("the file is there");
    assert_eq!(read(&text).expect("and can be read"), *w.job());
    drop(folder);
}

#[test]
fn a_chosen_path_is_opened_and_remembered() {
    let (_folder, path) = somewhere("there.ron");
    let job = Job { title: "From a file".into(), ..Job::default() };
    std::fs::write(&path, layout_core::document::write(&job)).expect("written");
    let answer = path.clone();
    let asker = Arc::new(move |_: &editor::run::Question| Some(answer.clone()));
    let mut w = Window::start(Start { job: None, open: None, prefs: None, asker });
    w.press(Modifiers::COMMAND, Key::O);
    assert_eq!(w.job().title, "From a file");
    assert_eq!(w.session().path.as_deref(), Some(path.as_path()));
    assert_eq!(w.ui.state().prefs().recent, [path]);
}

#[test]
fn unsaved_work_is_asked_about_and_kept() {
    let mut w = Window::fresh();
    retitle(&mut w, "Precious");
    w.ask(Command::New("Empty room".into()));
    assert!(matches!(w.session().dialog, Some(Dialog::Unsaved(_))));
    w.click("Keep editing");
    assert_eq!(w.job().title, "Precious");
    assert!(w.session().changed());
}

#[test]
fn unsaved_work_can_be_saved_on_the_way_out() {
    let (_folder, path) = somewhere("out.ron");
    let mut w = Window::fresh();
    w.ask(Command::SaveAs(Some(path.clone())));
    retitle(&mut w, "Saved on leaving");
    w.ask(Command::Quit);
    w.click("Save");
    let text = std::fs::read_to_string(&path).expect("the file is there");
    assert_eq!(read(&text).expect("and can be read").title, "Saved on leaving");
    assert!(!w.session().changed());
}

#[test]
fn unsaved_work_can_be_left() {
    let mut w = Window::fresh();
    retitle(&mut w, "Not so precious");
    w.ask(Command::New("Empty room".into()));
    w.click("Don't save");
    assert_ne!(w.job().title, "Not so precious");
    assert!(!w.session().changed());
}

#[test]
fn saving_where_there_is_no_folder_says_so_and_loses_nothing() {
    let (folder, _) = somewhere("");
    let path = folder.path().join("no/such/folder/job.ron");
    let mut w = Window::fresh();
    retitle(&mut w, "Kept");
    w.ask(Command::SaveAs(Some(path.clone())));
    assert!(w.session().message.as_ref().is_some_and(|m| m.failed), "{}", w.said());
    assert!(w.said().contains("no/such/folder"), "{}", w.said());
    assert_eq!(w.said().lines().count(), 1);
    assert_eq!(w.job().title, "Kept");
    assert!(w.session().changed());
}

#[test]
fn a_file_that_is_dropped_on_the_window_is_opened() {
    #[derive(Debug)]
    struct Dropped(std::path::PathBuf);
    impl egui::DroppedFile for Dropped {
        fn path(&self) -> &std::path::Path {
            &self.0
        }
        fn bytes(&self) -> Result<Vec<u8>, String> {
            std::fs::read(&self.0).map_err(|e| e.to_string())
        }
    }
    let (_folder, path) = somewhere("dropped.ron");
    let job = Job { title: "Dropped".into(), ..Job::default() };
    std::fs::write(&path, layout_core::document::write(&job)).expect("written");
    let mut w = Window::start(Start { job: None, open: None, prefs: None, asker: nobody() });
    w.ui.input_mut().dropped_files.push(Arc::new(Dropped(path)));
    w.settle();
    assert_eq!(w.job().title, "Dropped");
}

#[test]
fn work_from_a_run_that_ended_badly_is_offered_and_stays_unsaved() {
    let (_folder, path) = somewhere("annexe.ron");
    let saved = Job { title: "As saved".into(), ..Job::default() };
    let lost = Job { title: "As it was when the light went out".into(), ..Job::default() };
    editor::files::save_job(&path, &saved).expect("saved");
    let journal = editor::files::journal_path(Some(&path)).expect("a journal");
    editor::files::keep_journal(&journal, Some(&path), &lost).expect("kept");
    let mut w = Window::fresh();
    w.ask(Command::Open(Some(path.clone())));
    assert!(matches!(w.session().dialog, Some(Dialog::Recover(_))));
    assert_eq!(*w.job(), saved, "never opened silently");
    w.click("Bring it back");
    assert_eq!(*w.job(), lost);
    assert!(w.session().changed());
    assert!(journal.exists(), "kept until it is saved");
    w.press(Modifiers::COMMAND, Key::S);
    assert_eq!(editor::files::read_job(&path), Ok(lost));
    assert!(!journal.exists());
}

#[test]
fn work_that_is_not_wanted_goes() {
    let (_folder, path) = somewhere("annexe.ron");
    let saved = Job { title: "As saved".into(), ..Job::default() };
    editor::files::save_job(&path, &saved).expect("saved");
    let journal = editor::files::journal_path(Some(&path)).expect("a journal");
    editor::files::keep_journal(&journal, Some(&path), &Job::default()).expect("kept");
    let mut w = Window::fresh();
    w.ask(Command::Open(Some(path)));
    w.click("Throw it away");
    assert_eq!(*w.job(), saved);
    assert!(!journal.exists());
    assert_eq!(w.session().dialog, None);
}

#[test]
fn a_path_can_be_typed_while_the_file_window_does_not_come() {
    let (_folder, path) = somewhere("late.ron");
    let late = Job { title: "Late".into(), ..Job::default() };
    editor::files::save_job(&path, &late).expect("saved");
    let (answer, wait) = std::sync::mpsc::channel::<std::path::PathBuf>();
    let wait = std::sync::Mutex::new(wait);
    let asker = Arc::new(move |_: &editor::run::Question| wait.lock().ok()?.recv().ok());
    let mut w = Window::start(Start { job: None, open: None, prefs: None, asker });
    let before = w.job().clone();
    w.ui.state_mut().ask(Command::Open(None));
    w.ui.run_ok();
    assert_eq!(w.session().asking, Some(PathAsk::Open));
    w.ui.get_by_label("Type the path instead").click();
    w.ui.run_ok();
    assert_eq!(w.session().dialog, Some(Dialog::Path(PathAsk::Open, None)));
    answer.send(path).expect("the window is still asking");
    w.settle();
    assert_eq!(*w.job(), before, "a late answer is not wanted any more");
    assert_eq!(w.session().dialog, Some(Dialog::Path(PathAsk::Open, None)));
}
