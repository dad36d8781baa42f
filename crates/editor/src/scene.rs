//! What a view may look at: everything, and nothing to write to.

use layout_core::catalogue::Catalogue;
use layout_core::document::Job;
use layout_core::layout::Layout;
use layout_core::remedies::Remedy;

use crate::derived::{Compared, Derived, Lists, WhatIfs};
use crate::prefs::Prefs;
use crate::prints::Prints;
use crate::session::Session;
use crate::theme::Theme;

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
    /// Cutting and buying lists of the committed job.
    pub lists: &'a Lists,
    /// The prints as last drawn, which may be of an earlier job; `None` until there are some.
    pub prints: Option<&'a Prints>,
    /// How far the prints are that are being drawn: parts done, and parts there are.
    pub printing: Option<(usize, usize)>,
    /// True when drawing them was stopped before they were done.
    pub prints_stopped: bool,
    /// Choices as last compared, which may be of an earlier job or of something else.
    pub compared: Option<&'a Compared>,
    /// The whole job with other centres, timber, lengths or boards, which may be of an earlier job.
    pub what_if: Option<&'a WhatIfs>,
    /// The ways to mend the snag that is asked about.
    pub remedies: Option<&'a [Remedy]>,
    /// How long the last layout took, ms.
    pub layout_ms: f64,
    /// Counts the changes of the job on screen.
    pub generation: u64,
    /// What is remembered between runs.
    pub prefs: &'a Prefs,
    /// What timber, boards, leaves and linings are to be had.
    pub catalogue: &'a Catalogue,
    /// Colours.
    pub theme: &'a Theme,
}

impl<'a> Scene<'a> {
    /// A scene of `session` and what was worked out from it.
    pub fn new(
        session: &'a Session,
        derived: &'a Derived,
        prefs: &'a Prefs,
        catalogue: &'a Catalogue,
        theme: &'a Theme,
    ) -> Scene<'a> {
        Scene {
            session,
            job: &derived.live_job,
            layout: &derived.live,
            base: &derived.base,
            lists: &derived.lists,
            prints: derived.prints.as_deref(),
            printing: derived.printing,
            prints_stopped: derived.prints_stopped,
            compared: derived.compared.as_deref(),
            what_if: derived.what_if.as_deref(),
            remedies: derived.remedies.as_ref().map(|m| m.ways.as_slice()),
            layout_ms: derived.layout_ms,
            generation: derived.generation,
            prefs,
            catalogue,
            theme,
        }
    }
}
