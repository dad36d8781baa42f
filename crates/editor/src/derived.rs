//! What can be worked out again from the session: the live layout, the committed layout and the
//! pictures on screen. Refreshed once a frame, when its input has changed.

use std::sync::Arc;

use layout_core::document::Job;
use layout_core::layout::Layout;

/// The layouts behind the screen.
pub struct Derived {
    /// The job the live layout is of.
    pub live_job: Arc<Job>,
    /// Layout of the live job.
    pub live: Arc<Layout>,
    /// The job the committed layout is of.
    pub base_job: Arc<Job>,
    /// Layout of the committed job: what the cost strip compares with.
    pub base: Arc<Layout>,
}

impl Derived {
    /// Everything worked out from `job`.
    pub fn new(job: Arc<Job>) -> Derived {
        let layout = Arc::new(Layout::of(&job));
        Derived { live_job: job.clone(), live: layout.clone(), base_job: job, base: layout }
    }

    /// Brings both layouts up to date with what they are of.
    pub fn refresh(&mut self, base: &Arc<Job>, live: Arc<Job>) {
        if !Arc::ptr_eq(base, &self.base_job) {
            self.base = Arc::new(self.base.relayout(base));
            self.base_job = base.clone();
        }
        if Arc::ptr_eq(&live, &self.base_job) {
            self.live = self.base.clone();
        } else if live != self.live_job {
            self.live = Arc::new(self.live.relayout(&live));
        }
        self.live_job = live;
    }
}
