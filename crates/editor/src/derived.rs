//! What can be worked out again from the session: the live layout, the committed layout, the
//! cutting and buying lists. Refreshed once a frame, when its input has changed.

use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, OnceLock};
use std::time::Instant;

use layout_core::board_plan::{BoardPlan, board_plans};
use layout_core::catalogue::Sheet;
use layout_core::compare::{Boarding, Choice, Sweep, WhatIf, boardings, choices, sweep, what_ifs};
use layout_core::document::Job;
use layout_core::frame::Total;
use layout_core::id::{ItemRef, Name};
use layout_core::layout::Layout;
use layout_core::order::{self, Order, Remark};
use layout_core::pieces::{Batch, Joining, Planning, SectionPlan, batches, joining, totals};
use layout_core::remedies::{Remedy, remedies};
use layout_core::snag::Snag;
use layout_core::sundries::{self, Need};

use crate::prints::Prints;
use crate::session::Session;

/// The layouts and lists behind the screen.
pub struct Derived {
    /// The job the live layout is of.
    pub live_job: Arc<Job>,
    /// Layout of the live job.
    pub live: Arc<Layout>,
    /// The job the committed layout is of.
    pub base_job: Arc<Job>,
    /// Layout of the committed job: what the cost strip compares with.
    pub base: Arc<Layout>,
    /// Lists of the committed job. They follow on release of a drag, not during it.
    pub lists: Lists,
    /// The prints as last drawn, off the frame.
    pub prints: Option<Arc<Prints>>,
    /// How far the prints are that are being drawn; `None` while none are.
    pub printing: Option<(usize, usize)>,
    /// True when drawing them was stopped before they were done.
    pub prints_stopped: bool,
    /// Choices as last compared, off the frame.
    pub compared: Option<Arc<Compared>>,
    /// The whole job with other centres, timber, lengths or boards, off the frame.
    pub what_if: Option<Arc<WhatIfs>>,
    /// The ways to mend the snag that is asked about.
    pub remedies: Option<Mended>,
    /// How long the last layout took, ms.
    pub layout_ms: f64,
    /// Counts the changes of the live job, for whoever keeps something worked out from it.
    pub generation: u64,
}

/// What choices are compared for.
#[derive(Clone, Debug, PartialEq)]
pub enum About {
    /// The odd bay and centres of a wall.
    Wall(Name),
    /// The boards of a make-up.
    Boards(Name),
    /// The place of an opening.
    Opening(Name),
}

impl About {
    /// What is picked, when there are choices for it.
    pub fn picked(session: &Session) -> Option<About> {
        match session.picked.as_ref()? {
            ItemRef::Opening(name) => Some(About::Opening(name.clone())),
            ItemRef::Wall(name)
            | ItemRef::Member { wall: name, .. }
            | ItemRef::NogginRow { wall: name, .. } => match session.comparing_boards {
                true => session.history.job().wall(name).map(|w| About::Boards(w.makeup.clone())),
                false => Some(About::Wall(name.clone())),
            },
            _ => None,
        }
    }
}

/// Places tried along a wall.
const PLACES: usize = 200;

/// Choices of one job, compared.
#[derive(Debug, PartialEq)]
pub struct Compared {
    /// The job.
    pub of: Arc<Job>,
    /// What they are for.
    pub about: About,
    /// What was found.
    pub found: Found,
}

/// What a comparison found.
#[derive(Debug, PartialEq)]
pub enum Found {
    /// Every place for the odd bay of a wall, at every usual spacing.
    Choices(Vec<Choice>),
    /// Every way to lay the boards of a make-up.
    Boards(Vec<Boarding>),
    /// Every place for an opening; `None` when it has no room to move.
    Sweep(Option<Box<Sweep>>),
}

impl Compared {
    /// Compares the choices for `about`, with the boards that are `sold`; gives up when `stop` is set.
    pub fn of(
        job: Arc<Job>,
        layout: &Layout,
        about: About,
        sold: &[Sheet],
        stop: &AtomicBool,
    ) -> Option<Compared> {
        let go_on = || !stop.load(Ordering::Relaxed);
        let found = match &about {
            About::Wall(name) => Found::Choices(choices(&job, layout, name, &go_on)),
            About::Boards(makeup) => Found::Boards(boardings(&job, layout, makeup, sold, &go_on)),
            About::Opening(name) => {
                Found::Sweep(sweep(&job, layout, name, PLACES, &go_on).map(Box::new))
            }
        };
        go_on().then_some(Compared { of: job, about, found })
    }
}

/// The whole job with other centres, timber, lengths or boards, as far as it has been worked out.
#[derive(Debug, PartialEq)]
pub struct WhatIfs {
    /// The job.
    pub of: Arc<Job>,
    /// The choices, the job as it is first.
    pub rows: Vec<WhatIf>,
    /// True when all of them are there.
    pub ended: bool,
}

impl WhatIfs {
    /// Works the choices of a job out, telling what there is so far, until all are there or `stop` is set.
    pub fn of(
        job: &Arc<Job>,
        layout: &Layout,
        stop: &AtomicBool,
        tell: &dyn Fn(WhatIfs),
    ) -> WhatIfs {
        let go_on = || !stop.load(Ordering::Relaxed);
        let so_far =
            |rows: &[WhatIf]| tell(WhatIfs { of: job.clone(), rows: rows.to_vec(), ended: false });
        let rows = what_ifs(job, layout, &go_on, &so_far);
        WhatIfs { of: job.clone(), rows, ended: go_on() }
    }
}

/// Cutting plans of one job.
#[derive(Debug, PartialEq)]
pub struct Planned {
    /// The job.
    pub of: Arc<Job>,
    /// A plan for each section.
    pub plans: Vec<SectionPlan>,
    /// How long it took, ms.
    pub ms: f64,
    /// Joints of plates that come to less, once they were looked for.
    pub joining: Option<Joining>,
}

impl Planned {
    /// Plans the cuts of a job, telling what it has so far, until nothing better is to be found or `stop` is set.
    pub fn of(
        job: &Arc<Job>,
        layout: &Layout,
        stop: &AtomicBool,
        tell: &dyn Fn(Planned),
    ) -> Planned {
        let began = Instant::now();
        let mut planning = Planning::new(job, layout);
        let go_on = || !stop.load(Ordering::Relaxed);
        let found = |planning: &Planning| Planned {
            of: job.clone(),
            plans: planning.plans(),
            ms: ms_since(began),
            joining: None,
        };
        while go_on() && !planning.run(&go_on) {
            tell(found(&planning));
        }
        let planned = found(&planning);
        tell(found(&planning));
        Planned { joining: joining(job, layout, &planned.plans, &go_on), ..planned }
    }
}

/// The ways to mend one snag of one job.
#[derive(Debug)]
pub struct Mended {
    /// The job.
    pub of: Arc<Job>,
    /// The snag.
    pub snag: Snag,
    /// The ways.
    pub ways: Vec<Remedy>,
}

/// What to cut and what to buy.
pub struct Lists {
    /// Pieces in stop-block batches.
    pub batches: Vec<Batch>,
    /// Count and length of each section.
    pub totals: Vec<Total>,
    /// A cutting plan for each section: first ones at once, better ones as they are found.
    pub plans: Vec<SectionPlan>,
    /// How long the plans took, ms; `None` while they are the first.
    pub plans_ms: Option<f64>,
    /// Joints of plates that come to less, once they were looked for.
    pub joining: Option<Joining>,
    /// What they are of.
    of: (Arc<Job>, Arc<Layout>),
    /// The sheets of board, once somebody asks.
    boards: OnceLock<Vec<BoardPlan>>,
    /// What goes with boards, once somebody asks.
    sundries: OnceLock<Vec<Need>>,
    /// What is ordered and what of it does not go in the van, once somebody asks.
    order: OnceLock<(Order, Vec<Remark>)>,
}

impl Lists {
    fn of(job: &Arc<Job>, layout: &Arc<Layout>) -> Lists {
        Lists {
            of: (job.clone(), layout.clone()),
            boards: OnceLock::new(),
            sundries: OnceLock::new(),
            order: OnceLock::new(),
            batches: batches(layout),
            totals: totals(layout),
            plans: Planning::new(job, layout).plans(),
            plans_ms: None,
            joining: None,
        }
    }

    /// The sheets of board to buy, kind by kind.
    pub fn boards(&self) -> &[BoardPlan] {
        self.boards.get_or_init(|| board_plans(&self.of.0, &self.of.1))
    }

    /// Screws, tape, beads, filler, sealant, insulation and linings to buy.
    pub fn sundries(&self) -> &[Need] {
        self.sundries.get_or_init(|| sundries::order(&self.of.0, &self.of.1))
    }

    /// What is ordered, line by line.
    pub fn order(&self) -> &Order {
        &self.ordered().0
    }

    /// What of the order does not go in the van or up the stair.
    pub fn remarks(&self) -> &[Remark] {
        &self.ordered().1
    }

    fn ordered(&self) -> &(Order, Vec<Remark>) {
        self.order.get_or_init(|| {
            let (job, layout) = &self.of;
            let order = order::order(job, layout, &self.plans, self.boards(), self.sundries());
            let remarks = order::remarks(job, layout, &order);
            (order, remarks)
        })
    }

    /// Takes over plans of the same job.
    pub fn planned(&mut self, planned: &Planned) {
        if Arc::ptr_eq(&self.of.0, &planned.of) {
            self.plans.clone_from(&planned.plans);
            self.plans_ms = Some(planned.ms);
            self.joining.clone_from(&planned.joining);
            self.order = OnceLock::new();
        }
    }

    /// True while better plans are looked for.
    pub fn planning(&self) -> bool {
        self.plans.iter().any(|p| !p.ended && !p.proven)
    }

    /// How many bars to buy.
    pub fn bars(&self) -> usize {
        self.plans.iter().flat_map(SectionPlan::order).map(|line| line.bars).sum()
    }

    /// Length to buy, mm.
    pub fn bought(&self) -> f64 {
        self.plans.iter().map(|p| p.bought).sum()
    }

    /// What it all costs, when every bar has a price and every piece a bar.
    pub fn price(&self) -> Option<f64> {
        let whole = !self.plans.is_empty() && self.plans.iter().all(|p| p.left_over.is_empty());
        if whole { self.plans.iter().map(|p| p.price).sum() } else { None }
    }
}

impl Derived {
    /// Everything worked out from `job`.
    pub fn new(job: Arc<Job>) -> Derived {
        let began = Instant::now();
        let layout = Arc::new(Layout::of(&job));
        let layout_ms = ms_since(began);
        let lists = Lists::of(&job, &layout);
        Derived {
            live_job: job.clone(),
            live: layout.clone(),
            base_job: job,
            base: layout,
            lists,
            prints: None,
            printing: None,
            prints_stopped: false,
            compared: None,
            what_if: None,
            remedies: None,
            layout_ms,
            generation: 0,
        }
    }

    /// Finds the ways to mend `snag` in the committed job, when they are not known yet.
    pub fn mend(&mut self, snag: Option<&Snag>) {
        let Some(snag) = snag else {
            self.remedies = None;
            return;
        };
        let known = self.remedies.as_ref();
        if known.is_none_or(|m| m.snag != *snag || !Arc::ptr_eq(&m.of, &self.base_job)) {
            let ways = remedies(&self.base_job, &self.base, snag);
            self.remedies = Some(Mended { of: self.base_job.clone(), snag: snag.clone(), ways });
        }
    }

    /// Brings layouts and lists up to date with what they are of.
    pub fn refresh(&mut self, base: &Arc<Job>, live: Arc<Job>) {
        if !Arc::ptr_eq(&live, &self.live_job) && live != self.live_job {
            self.generation += 1;
        }
        let began = Instant::now();
        if !Arc::ptr_eq(base, &self.base_job) {
            self.base = Arc::new(self.base.relayout(base));
            self.base_job = base.clone();
            self.layout_ms = ms_since(began);
            self.lists = Lists::of(base, &self.base);
        }
        if Arc::ptr_eq(&live, &self.base_job) {
            self.live = self.base.clone();
        } else if live != self.live_job {
            let began = Instant::now();
            self.live = Arc::new(self.live.relayout(&live));
            self.layout_ms = ms_since(began);
        }
        self.live_job = live;
    }
}

fn ms_since(began: Instant) -> f64 {
    began.elapsed().as_secs_f64() * 1000.0
}
