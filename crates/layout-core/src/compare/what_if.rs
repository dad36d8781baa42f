//! What if: the whole job with other centres, of another timber, with other lengths of bar, its boards laid another way.
//! What each would cost, waste, weigh and take to cut, all of it reckoned alike.

use std::sync::Arc;

use crate::board_plan::board_plans;
use crate::document::{Board, Edit, Job, Lay, MakeUp, Stock, Timber, Wall};
use crate::layout::Layout;
use crate::math::same;
use crate::order::{Goods, OrderLine, order, timber_name};
use crate::pieces::{Planning, SectionPlan};
use crate::resolve::board_width;
use crate::snag::Severity;
use crate::sundries;

/// Usual stud centres with boards of millimetres and with boards of feet (16 and 24 in).
const CENTRES: [[f64; 2]; 2] = [[400.0, 600.0], [406.4, 609.6]];

/// No more of a kind than this: other timbers, lengths alone.
const MOST: usize = 8;

/// How often the cutting plans of a choice are looked at again: long enough for most jobs to be proven.
const TURNS: usize = 2;

/// What a choice is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum About {
    /// The job as it is.
    Now,
    /// The centres of the studs.
    Centres,
    /// The timber of the studs and plates: another section or grade, ordinary or made straight.
    Timber,
    /// Which lengths of bar are bought.
    Lengths,
    /// How the boards lie.
    Boards,
}

impl About {
    /// “as it is”, “centres”, “timber”, “lengths”, “boards”.
    pub fn label(self) -> &'static str {
        match self {
            About::Now => "as it is",
            About::Centres => "centres",
            About::Timber => "timber",
            About::Lengths => "lengths",
            About::Boards => "boards",
        }
    }
}

/// What a whole job comes to.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Whole {
    /// What all of it costs, with delivery and tax, when every bar and sheet has a price and every piece a bar or sheet.
    pub cost: Option<f64>,
    /// Length of the bars that are bought, spare ones too, mm.
    pub bought: f64,
    /// Bars that are bought, spare ones too.
    pub bars: usize,
    /// What is sawn away or left of the bars, mm.
    pub waste: f64,
    /// The same as a share of the bars, per cent.
    pub waste_share: f64,
    /// Saw cuts.
    pub cuts: usize,
    /// Pieces of timber.
    pub pieces: usize,
    /// Sheets that are bought, spare ones too.
    pub sheets: usize,
    /// Timber, boards and filler, kg.
    pub mass: f64,
    /// Snags: stop, mend, note.
    pub snags: [usize; 3],
    /// Pieces and boards that nothing in the lists gives.
    pub without: usize,
}

impl Whole {
    /// What `job` comes to. The cutting plans are looked at for a moment, not to their end: all choices alike.
    pub fn of(job: &Job, layout: &Layout, go_on: &dyn Fn() -> bool) -> Whole {
        let mut planning = Planning::new(job, layout);
        for _ in 0..TURNS {
            planning.run(go_on);
        }
        let plans = planning.plans();
        let needs = sundries::order(job, layout);
        let order = order(job, layout, &plans, &board_plans(job, layout), &needs);
        let timber = || order.of(Goods::Timber);
        let priced = order.lines.iter().all(|l| l.goods == Goods::Sundries || l.price.is_some());
        let bars = || plans.iter().flat_map(|p| p.bars.iter().chain(p.done.iter().map(|(_, b)| b)));
        let length: f64 = bars().map(|b| b.stock).sum();
        let waste: f64 = plans.iter().map(SectionPlan::waste).sum();
        let count = |of: Severity| layout.snags.iter().filter(|s| s.severity() == of).count();
        Whole {
            cost: Some(order.sum.total)
                .filter(|_| priced && order.without == 0 && !order.lines.is_empty()),
            bought: timber().map(|l| l.buy() as f64 * l.size.map_or(0.0, |(long, _)| long)).sum(),
            bars: timber().map(OrderLine::buy).sum(),
            waste,
            waste_share: if length > 0.0 { waste / length * 100.0 } else { 0.0 },
            cuts: bars().map(|b| cuts(b.pieces.len(), job.saw.trim > 0.0, b.offcut)).sum(),
            pieces: bars().map(|b| b.pieces.len()).sum::<usize>()
                + plans.iter().map(|p| p.left_over.len()).sum::<usize>(),
            sheets: order.of(Goods::Board).map(OrderLine::buy).sum(),
            mass: order.mass(),
            snags: [Severity::Stop, Severity::Mend, Severity::Note].map(count),
            without: order.without,
        }
    }

    /// What is compared, column by column: less is better. Without a price the length bought stands for the cost.
    fn columns(&self, priced: bool) -> [f64; 6] {
        let snags = self.snags[0] * 1_000_000 + self.snags[1] * 1000 + self.snags[2];
        [
            self.cost.filter(|_| priced).unwrap_or(self.bought),
            self.waste_share,
            self.cuts as f64,
            self.pieces as f64,
            self.mass,
            snags as f64,
        ]
    }
}

/// Saw cuts of one bar: the last piece of a bar that is used up needs none of its own.
fn cuts(pieces: usize, trimmed: bool, left: f64) -> usize {
    (pieces + usize::from(trimmed)).saturating_sub(usize::from(left <= 0.0 && pieces > 0))
}

/// One choice, and what the job would come to.
#[derive(Clone, Debug, PartialEq)]
pub struct WhatIf {
    /// What it is about.
    pub about: About,
    /// “studs at 600”, “of 46×97 C24”, “3 000 only”, “boards across”.
    pub label: String,
    /// What the job would come to.
    pub whole: Whole,
    /// True where no other choice is better: cost, waste, cuts, pieces, mass, snags. Those that leave pieces without a bar are
    /// not counted.
    pub best: [bool; 6],
    /// The edit that makes it so, as one step; `None` for the job as it is.
    pub edit: Option<Edit>,
}

/// The choices of a job, the job as it is first; nothing is worked out yet.
pub fn choices_of(job: &Job, layout: &Layout) -> Vec<(About, String, Option<Edit>)> {
    let mut choices = vec![(About::Now, "as it is".to_string(), None)];
    let mut put = |about: About, label: String, edits: Vec<Edit>| {
        let edit = Edit::Several(label.clone(), edits);
        if edit.apply(job) != *job {
            choices.push((about, label, Some(edit)));
        }
    };
    let units = job.units;
    let used: Vec<&Arc<MakeUp>> =
        job.makeups.iter().filter(|m| job.walls.iter().any(|w| w.makeup == m.name)).collect();
    let feet = used.first().is_some_and(|m| board_width(m.centres) != board_width(400.0));
    for centres in CENTRES[usize::from(feet)] {
        put(
            About::Centres,
            format!("studs at {}", units.show(centres)),
            spaced(job, &used, centres),
        );
    }
    if let Some(main) = main_timber(layout) {
        for timber in other_timbers(job, &main) {
            let label = format!("of {}", timber_name(&timber, units));
            put(About::Timber, label, made_of(&used, &main, &timber));
        }
        for (label, stock) in stocks(job, &main) {
            put(About::Lengths, label, vec![Edit::SetStock(stock)]);
        }
    }
    for lay in Lay::ALL {
        let label = match lay {
            Lay::Upright => "boards upright",
            Lay::Across => "boards across",
        };
        put(About::Boards, label.into(), laid(&used, lay));
    }
    choices
}

/// Every choice and what the job would come to with it, the job as it is first; `tell` hears of what there is so far. Fewer when
/// `go_on` says to give up.
pub fn what_ifs(
    job: &Job,
    layout: &Layout,
    go_on: &dyn Fn() -> bool,
    tell: &dyn Fn(&[WhatIf]),
) -> Vec<WhatIf> {
    let mut all: Vec<WhatIf> = Vec::new();
    for (about, label, edit) in choices_of(job, layout) {
        if !go_on() {
            break;
        }
        let whole = match &edit {
            None => Whole::of(job, layout, go_on),
            Some(edit) => {
                let after = edit.apply(job);
                Whole::of(&after, &layout.relayout(&after), go_on)
            }
        };
        all.push(WhatIf { about, label, whole, best: [false; 6], edit });
        mark_best(&mut all);
        tell(&all);
    }
    all
}

/// Marks the best of each column, among the choices that give every piece; a column in which all are alike has none.
fn mark_best(all: &mut [WhatIf]) {
    let priced = all.iter().all(|w| w.whole.cost.is_some() || w.whole.without > 0);
    let columns: Vec<Option<[f64; 6]>> =
        all.iter().map(|w| (w.whole.without == 0).then(|| w.whole.columns(priced))).collect();
    for column in 0..6 {
        let values = || columns.iter().flatten().map(|c| c[column]);
        let least = values().fold(f64::INFINITY, f64::min);
        let most = values().fold(f64::NEG_INFINITY, f64::max);
        for (choice, own) in all.iter_mut().zip(&columns) {
            let is_least = own.is_some_and(|own| own[column] <= least + 1e-6);
            choice.best[column] = is_least && most > least + 1e-6;
        }
    }
}

/// The edits that put every make-up in use, and every wall with centres of its own, at these.
fn spaced(job: &Job, used: &[&Arc<MakeUp>], centres: f64) -> Vec<Edit> {
    let makeups = used.iter().filter(|m| !same(m.centres, centres)).map(|m| {
        let mut makeup = MakeUp { centres, ..MakeUp::clone(m) };
        // A sheet that suited the old centres follows them.
        for board in makeup.right.boards.iter_mut().chain(&mut makeup.left.boards) {
            let usual = |at: f64| board_width(at);
            if board
                .sheet
                .is_some_and(|(w, _)| same(w, usual(m.centres)) && !same(w, usual(centres)))
            {
                board.sheet = None;
            }
        }
        Edit::PutMakeUp(Arc::new(makeup))
    });
    let walls = job.walls.iter().filter(|w| w.centres.is_some());
    let walls = walls.map(|w| Edit::PutWall(Arc::new(Wall { centres: None, ..Wall::clone(w) })));
    makeups.chain(walls).collect()
}

/// The section most of the timber is of, by length.
fn main_timber(layout: &Layout) -> Option<Timber> {
    let totals = crate::pieces::totals(layout);
    let bars = totals.into_iter().filter(|t| !t.timber.is_ply());
    bars.max_by(|a, b| a.length.total_cmp(&b.length)).map(|t| t.timber)
}

/// Other sections and grades of the timber list that are bought, those of the same size first.
fn other_timbers(job: &Job, main: &Timber) -> Vec<Timber> {
    let mut others: Vec<Timber> = Vec::new();
    for line in job.stock.iter().filter(|s| s.owned.is_none() && s.timber != *main) {
        if !others.contains(&line.timber) {
            others.push(line.timber.clone());
        }
    }
    let size = |t: &Timber| same(t.thickness(), main.thickness()) && same(t.depth(), main.depth());
    others.sort_by_key(|t| (!size(t), t.clone()));
    others.truncate(MOST);
    others
}

/// The edits that make every make-up of `main` of `other` instead.
fn made_of(used: &[&Arc<MakeUp>], main: &Timber, other: &Timber) -> Vec<Edit> {
    let of_main = used.iter().filter(|m| m.timber == *main);
    let made = of_main.map(|m| MakeUp { timber: other.clone(), ..MakeUp::clone(m) });
    made.map(|m| Edit::PutMakeUp(Arc::new(m))).collect()
}

/// The timber list with one length alone of the main section, or with none longer than so much; what is owned stays.
fn stocks(job: &Job, main: &Timber) -> Vec<(String, Vec<Stock>)> {
    let sold = |s: &Stock| s.owned.is_none() && s.timber == *main;
    let mut lengths: Vec<f64> = job.stock.iter().filter(|s| sold(s)).map(|s| s.length).collect();
    lengths.sort_by(f64::total_cmp);
    lengths.dedup_by(|a, b| same(*a, *b));
    if lengths.len() < 2 {
        return Vec::new();
    }
    let with = |has: &dyn Fn(f64) -> bool| -> Vec<Stock> {
        job.stock.iter().filter(|s| !sold(s) || has(s.length)).cloned().collect()
    };
    let units = job.units;
    let alone = lengths
        .iter()
        .take(MOST)
        .map(|length| (format!("{} only", units.show(*length)), with(&|l| same(l, *length))));
    // Two lengths and more, but not the longest ones.
    let inner = lengths.iter().take(lengths.len() - 1).skip(1).take(MOST);
    let up_to =
        inner.map(|most| (format!("up to {}", units.show(*most)), with(&|l| l <= most + 0.01)));
    alone.chain(up_to).collect()
}

/// The edits that lay the boards of every make-up in use so.
fn laid(used: &[&Arc<MakeUp>], lay: Lay) -> Vec<Edit> {
    let turn = |boards: &[Board]| -> Vec<Board> {
        boards.iter().map(|b| Board { lay, ..b.clone() }).collect()
    };
    let others =
        |m: &&&Arc<MakeUp>| m.right.boards.iter().chain(&m.left.boards).any(|b| b.lay != lay);
    let laid = used.iter().filter(others).map(|m| {
        let mut makeup = MakeUp::clone(m);
        makeup.right.boards = turn(&m.right.boards);
        makeup.left.boards = turn(&m.left.boards);
        Edit::PutMakeUp(Arc::new(makeup))
    });
    laid.collect()
}
