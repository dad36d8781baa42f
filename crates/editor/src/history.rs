//! Undo and redo: whole jobs under the name of the step that made them. Jobs share what did not
//! change, so a step costs next to nothing.

use std::sync::Arc;

use layout_core::document::Job;

/// Steps kept.
pub const STEPS: usize = 1000;

/// The committed job, what came before it and what was undone.
pub struct History {
    job: Arc<Job>,
    before: Vec<(String, Arc<Job>)>,
    undone: Vec<(String, Arc<Job>)>,
}

impl History {
    /// A history that starts with `job`.
    pub fn new(job: Arc<Job>) -> History {
        History { job, before: Vec::new(), undone: Vec::new() }
    }

    /// The committed job.
    pub fn job(&self) -> &Arc<Job> {
        &self.job
    }

    /// Commits `job` as the step `label`. A job that equals the committed one is no step.
    pub fn commit(&mut self, label: String, job: Job) {
        if job == *self.job {
            return;
        }
        self.undone.clear();
        if self.before.len() == STEPS {
            self.before.remove(0);
        }
        self.before.push((label, std::mem::replace(&mut self.job, Arc::new(job))));
    }

    /// Goes back one step; gives its name.
    pub fn undo(&mut self) -> Option<String> {
        let (label, job) = self.before.pop()?;
        self.undone.push((label.clone(), std::mem::replace(&mut self.job, job)));
        Some(label)
    }

    /// Takes back the last undo; gives the step's name.
    pub fn redo(&mut self) -> Option<String> {
        let (label, job) = self.undone.pop()?;
        self.before.push((label.clone(), std::mem::replace(&mut self.job, job)));
        Some(label)
    }

    /// Name of the step an undo would take back.
    pub fn undo_label(&self) -> Option<&str> {
        self.before.last().map(|(l, _)| l.as_str())
    }

    /// Name of the step a redo would bring back.
    pub fn redo_label(&self) -> Option<&str> {
        self.undone.last().map(|(l, _)| l.as_str())
    }

    /// How many steps can be undone.
    pub fn depth(&self) -> usize {
        self.before.len()
    }
}
