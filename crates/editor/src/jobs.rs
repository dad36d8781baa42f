//! Work off the frame: each piece has a name and an owned snapshot, and answers with a command.

use std::sync::Arc;
use std::sync::mpsc::{Receiver, Sender, channel};
use std::task::{Wake, Waker};

use crate::command::{Command, Finished};

/// What kind of work it is; one of a kind runs at a time.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// The system's own file window is open.
    Ask,
    /// A job is read.
    Open,
    /// The job is written.
    Save,
    /// A copy of unsaved work is put aside.
    Journal,
    /// The print set is drawn.
    Print,
    /// Choices are compared.
    Compare,
    /// The whole job with other choices is worked out.
    WhatIf,
    /// Better cutting plans are looked for.
    Plan,
    /// Prints, or something for another program, are written to a file.
    Export,
    /// What lies under the plan is read.
    Under,
    /// A price list is read or written.
    Prices,
    /// The system is asked to show a file.
    Show,
}

impl Kind {
    /// What the status bar says while it runs; `None` when it is not worth a word.
    pub fn label(self) -> Option<&'static str> {
        match self {
            Kind::Ask | Kind::Journal | Kind::Print | Kind::Compare | Kind::Show => None,
            Kind::Plan | Kind::WhatIf => None,
            Kind::Open => Some("Opening…"),
            Kind::Save => Some("Saving…"),
            Kind::Under => Some("Reading what lies under the plan…"),
            Kind::Export => Some("Writing…"),
            Kind::Prices => Some("Price list…"),
        }
    }
}

/// The work under way.
pub struct Jobs {
    running: Vec<Kind>,
    send: Sender<Told>,
    done: Receiver<Told>,
    waker: Waker,
}

/// What work has to say; with its kind when that was the last of it.
type Told = (Option<Kind>, Finished);

struct Repaint(egui::Context);

impl Wake for Repaint {
    fn wake(self: Arc<Self>) {
        self.0.request_repaint();
    }
}

impl Jobs {
    /// No work yet; `ctx` is woken when some ends.
    pub fn new(ctx: &egui::Context) -> Jobs {
        let (send, done) = channel();
        Jobs { running: Vec::new(), send, done, waker: Arc::new(Repaint(ctx.clone())).into() }
    }

    /// Starts `work` on a thread of its own; false when one of its kind is still running.
    pub fn start(&mut self, kind: Kind, work: impl FnOnce() -> Finished + Send + 'static) -> bool {
        self.start_telling(kind, |_| work())
    }

    /// Starts work that may tell what it has so far before it ends.
    pub fn start_telling(
        &mut self,
        kind: Kind,
        work: impl FnOnce(&dyn Fn(Finished)) -> Finished + Send + 'static,
    ) -> bool {
        if self.running.contains(&kind) {
            return false;
        }
        let (send, waker) = (self.send.clone(), self.waker.clone());
        let started = std::thread::Builder::new().name(format!("{kind:?}")).spawn(move || {
            let so_far = |answer: Finished| {
                let _ = send.send((None, answer));
                waker.wake_by_ref();
            };
            let work = std::panic::AssertUnwindSafe(|| work(&so_far));
            let answer = std::panic::catch_unwind(work).unwrap_or_else(|_| {
                Finished::Failed(
                    "That went wrong inside the program. Nothing of your job has changed.".into(),
                )
            });
            // Nobody listens any more when the window has gone.
            let _ = send.send((Some(kind), answer));
            waker.wake();
        });
        match started {
            Ok(_) => self.running.push(kind),
            Err(e) => {
                let _ = self.send.send((
                    Some(kind),
                    Finished::Failed(format!("The system has no room for more work: {e}")),
                ));
            }
        }
        true
    }

    /// Finished work becomes commands.
    pub fn collect(&mut self, queue: &mut Vec<Command>) {
        while let Ok((kind, answer)) = self.done.try_recv() {
            self.running.retain(|k| Some(*k) != kind);
            queue.push(Command::Finished(answer));
        }
    }

    /// What is running.
    pub fn running(&self) -> &[Kind] {
        &self.running
    }
}
