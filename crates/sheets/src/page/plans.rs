//! The plans of a job that several sheets are made of, each worked out when it is first asked for, by whoever draws the sheet that does.

use std::sync::OnceLock;

use layout_core::board_plan::{BoardPlan, board_plans};
use layout_core::document::Job;
use layout_core::layout::Layout;
use layout_core::pieces::{SectionPlan, cutting_plan};

/// The cutting plans of a job and the plans of its sheets of board.
pub(super) struct Plans<'a> {
    job: &'a Job,
    layout: &'a Layout,
    bars: OnceLock<Vec<SectionPlan>>,
    sheets: OnceLock<Vec<BoardPlan>>,
}

impl<'a> Plans<'a> {
    pub(super) fn new(job: &'a Job, layout: &'a Layout) -> Plans<'a> {
        Plans { job, layout, bars: OnceLock::new(), sheets: OnceLock::new() }
    }

    /// A cutting plan for each section.
    pub(super) fn bars(&self) -> &[SectionPlan] {
        self.bars.get_or_init(|| cutting_plan(self.job, self.layout))
    }

    /// A plan for each kind of board.
    pub(super) fn sheets(&self) -> &[BoardPlan] {
        self.sheets.get_or_init(|| board_plans(self.job, self.layout))
    }
}
