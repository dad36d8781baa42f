//! What lies under the plan: brought beside the job's file, read off the frame, set by two points.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use layout_core::document::{Edit, Underlay};
use layout_core::id::ItemRef;
use layout_core::math::PlanPoint;

use super::Desk;
use crate::command::{Command, Finished};
use crate::drawing::Drawing;
use crate::jobs::Kind;
use crate::session::{Message, Session};
use crate::under::{self, Under};

impl Desk {
    /// Puts the drawing or picture `from` under the plan.
    pub(super) fn place_under(&mut self, from: PathBuf) {
        self.session.dialog = None;
        let Some(job) = self.session.path.clone() else {
            let line = "Save the job first: what lies under the plan is kept beside its file.";
            return self.say(Message::failed(line));
        };
        let started = self.jobs.start(Kind::Under, move || match under::bring(&from, &job) {
            Ok(under) => Finished::Under { placed: true, under: Arc::new(under) },
            Err(line) => Finished::Failed(line),
        });
        if !started {
            self.say(Message::failed("A picture is still being read. Try again in a moment."));
        }
    }

    /// Reads what the job says lies under its plan, when it is not what was read.
    pub fn look_under(&mut self) {
        let wanted = file_under(&self.session);
        if wanted.as_deref() == self.session.under.as_ref().map(|u| u.path.as_path()) {
            return;
        }
        match wanted {
            None => self.session.under = None,
            Some(path) if !self.jobs.running().contains(&Kind::Under) => {
                self.jobs.start(Kind::Under, move || {
                    let under = Arc::new(Under::read(&path));
                    Finished::Under { placed: false, under }
                });
            }
            Some(_) => {}
        }
    }

    /// It was read. What was put down just now becomes a step, its lower left corner on the datum.
    pub(super) fn under_read(&mut self, under: Arc<Under>, placed: bool) {
        match &under.shown {
            Ok(shown) if placed => {
                let job = self.session.history.job();
                let beside = self.session.path.as_deref().and_then(Path::parent);
                let name = under.path.file_name().unwrap_or_default().to_string_lossy();
                let left_out = shown.drawing().and_then(told_left_out);
                // The job may have been saved elsewhere, or be another one, by now.
                if under.path.parent() == beside {
                    let put = Underlay::new(name, job.datum.at, shown.unit());
                    self.session.under = Some(under);
                    self.run(Command::Edit(Edit::SetUnderlay(Some(put))));
                    self.run(Command::Pick(Some(ItemRef::Underlay)));
                    if let Some(line) = left_out {
                        self.say(Message::done(line));
                    }
                }
            }
            Ok(_) => self.session.under = Some(under),
            Err(line) => {
                self.say(Message::failed(format!("What lies under the plan is missing. {line}")));
                self.session.under = Some(under);
            }
        }
    }
}

/// What of a drawing could not be read, when there is such.
fn told_left_out(drawing: &Drawing) -> Option<String> {
    match drawing.left_out {
        0 => None,
        1 => Some("One curve of it could not be read: it is left out.".into()),
        n => Some(format!("{n} curves of it could not be read: they are left out.")),
    }
}

/// The file that lies under the plan of the committed job.
fn file_under(session: &Session) -> Option<PathBuf> {
    let under = session.history.job().underlay.as_ref()?;
    Some(session.path.as_deref()?.parent()?.join(&under.file))
}

/// A point of what lies under the plan was clicked: the first, or the second of two.
pub(super) fn marked(session: &mut Session, at: PlanPoint) {
    if let Some(points) = &mut session.marking
        && points.len() < 2
    {
        points.push(at);
    }
}
