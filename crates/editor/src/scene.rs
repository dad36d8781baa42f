//! What a view may look at: everything, and nothing to write to.

use layout_core::document::Job;
use layout_core::layout::Layout;

use crate::session::Session;

/// All a view needs, by reference.
#[derive(Clone, Copy)]
pub struct Scene<'a> {
    /// The session.
    pub session: &'a Session,
    /// The job on screen.
    pub job: &'a Job,
    /// Its layout.
    pub layout: &'a Layout,
    /// The layout of the committed job.
    pub base: &'a Layout,
}
