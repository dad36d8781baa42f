//! A window for tests: no screen, no settings kept, nobody answers file questions.

use std::path::PathBuf;
use std::time::{Duration, Instant};

use editor::app::{App, Start, nobody};
use editor::command::Command;
use editor::session::Session;
use egui_kittest::kittest::Queryable;
use egui_kittest::{Harness, Node};
use layout_core::document::Job;

/// A window under test.
pub(crate) struct Window {
    /// The harness round it.
    pub(crate) ui: Harness<'static, App>,
}

impl Window {
    /// The window as a newcomer sees it.
    pub(crate) fn fresh() -> Window {
        Window::start(Start { job: None, open: None, prefs: None, asker: nobody() })
    }

    /// The window begun like this.
    pub(crate) fn start(start: Start) -> Window {
        let ui = Harness::builder()
            .with_size(egui::vec2(1366.0, 768.0))
            .with_max_steps(40)
            .build_eframe(|cc| App::new(&cc.egui_ctx, start));
        let mut window = Window { ui };
        window.settle();
        window
    }

    /// Runs frames until nothing moves and no work is under way.
    pub(crate) fn settle(&mut self) {
        let began = Instant::now();
        loop {
            self.ui.run_ok();
            if !self.ui.state().busy() {
                break;
            }
            assert!(began.elapsed() < Duration::from_secs(20), "work did not come to an end");
            std::thread::sleep(Duration::from_millis(5));
        }
        self.ui.run_ok();
    }

    /// Clicks what is called `name`.
    pub(crate) fn click(&mut self, name: &str) {
        self.ui.get_by_label(name).click();
        self.settle();
    }

    /// Clicks what is called `name`, which may have to be scrolled to first.
    pub(crate) fn reach(&mut self, name: &str) {
        self.ui.get_by_label(name).scroll_to_me();
        self.settle();
        self.click(name);
    }

    /// Clicks the first thing whose name has `part` in it.
    pub(crate) fn click_on(&mut self, part: &str) {
        let node = self.ui.get_all_by_label_contains(part).next();
        node.unwrap_or_else(|| panic!("nothing is called {part}")).click();
        self.settle();
    }

    /// Types into the field called `name`, replacing what is there, and presses Enter.
    pub(crate) fn type_into(&mut self, name: &str, text: &str) {
        self.ui.get_by_label(name).focus();
        self.ui.run_ok();
        self.ui.key_press_modifiers(egui::Modifiers::COMMAND, egui::Key::A);
        self.ui.run_ok();
        self.ui.get_by_label(name).type_text(text);
        self.ui.run_ok();
        self.ui.key_press(egui::Key::Enter);
        self.settle();
    }

    /// Presses a key.
    pub(crate) fn press(&mut self, modifiers: egui::Modifiers, key: egui::Key) {
        self.ui.key_press_modifiers(modifiers, key);
        self.settle();
    }

    /// Asks for something as a view would.
    pub(crate) fn ask(&mut self, command: Command) {
        self.ui.state_mut().ask(command);
        self.settle();
    }

    /// What is called `name`, when it is there.
    pub(crate) fn find<'a>(&'a self, name: &'a str) -> Option<Node<'a>> {
        self.ui.query_by_label(name)
    }

    /// The session behind the window.
    pub(crate) fn session(&self) -> &Session {
        self.ui.state().session()
    }

    /// The committed job.
    pub(crate) fn job(&self) -> &Job {
        self.session().history.job()
    }

    /// What the window last said.
    pub(crate) fn said(&self) -> &str {
        self.session().message.as_ref().map_or("", |m| m.text.as_str())
    }
}

/// A path in a folder that goes away with the guard.
pub(crate) fn somewhere(name: &str) -> (tempfile::TempDir, PathBuf) {
    let folder = tempfile::tempdir().expect("a folder for the test");
    let path = folder.path().join(name);
    (folder, path)
}
