//! Every way to lay the boards of a make-up: upright or across, every size of sheet, every usual spacing of the studs,
//! counted from either end.

use std::sync::Arc;

use super::{Tally, missing};
use crate::board_plan::{SheetBill, SheetBiller};
use crate::catalogue::Sheet;
use crate::document::{Board, Edit, Job, Lay, MakeUp, OddBay, Wall, WallEnd};
use crate::frame::sheet_of;
use crate::id::Name;
use crate::layout::Layout;
use crate::math::same;
use crate::pieces::{Bill, Biller};
use crate::resolve::board_width;
use crate::snag::{Severity, Snag};

/// Usual stud centres with boards of millimetres and with boards of feet (12, 16, 19.2 and 24 in).
const CENTRES: [&[f64]; 2] = [&[300.0, 400.0, 450.0, 600.0], &[304.8, 406.4, 487.68, 609.6]];

/// What the job comes to with its boards laid in one way.
#[derive(Clone, Debug, PartialEq)]
pub struct Boarded {
    /// The sheets of the whole job.
    pub sheets: SheetBill,
    /// The timber of the whole job.
    pub bill: Bill,
    /// Joints between the boards of the make-up's walls, mm.
    pub joints: f64,
    /// Full-height studs in those walls.
    pub studs: usize,
    /// Noggins in those walls.
    pub noggins: usize,
    /// Snags of the whole job: stop, mend, note.
    pub snags: [usize; 3],
    /// Snags that are not there now.
    pub opened: Vec<Snag>,
    /// Snags that are there now and would be gone.
    pub closed: Vec<Snag>,
}

impl Boarded {
    /// What timber and sheets cost together, when all of both have a price.
    pub fn price(&self) -> Option<f64> {
        self.bill.price.zip(self.sheets.price).map(|(timber, sheets)| timber + sheets)
    }

    /// Less is better: what stops or must be mended first, then the price, or the area of sheets and the length of bars
    /// where not all have one; then joints, noggins and studs.
    fn rank(&self, priced: bool) -> [i64; 7] {
        let bought = self.bill.bought.round() as i64;
        let cost = match self.price() {
            Some(price) if priced => [(price * 100.0).round() as i64, 0],
            _ => [(self.sheets.sheet_area / 1e4).round() as i64, bought],
        };
        let of = |n: usize| n as i64;
        let mends = self.snags[1] + self.bill.no_bar + self.sheets.no_sheet;
        let joints = self.joints.round() as i64;
        let [first, second] = cost;
        [of(self.snags[0]), of(mends), first, second, joints, of(self.noggins), of(self.studs)]
    }
}

/// One way to lay the boards of a make-up.
#[derive(Clone, Debug, PartialEq)]
pub struct Boarding {
    /// How they lie.
    pub lay: Lay,
    /// Width and length of the sheets, mm.
    pub sheet: (f64, f64),
    /// Stud centres of the make-up, mm.
    pub centres: f64,
    /// The end that every wall counts its studs from, when not from where each does now.
    pub from: Option<WallEnd>,
    /// True for the way it is now.
    pub now: bool,
    /// True for one than which no other is better.
    pub best: bool,
    /// What it comes to.
    pub outcome: Boarded,
    /// The edit that makes it so, as one step.
    pub edit: Edit,
}

impl Boarding {
    /// Where studs are counted from: “as now”, “the start”, “the end”.
    pub fn counted(&self) -> &'static str {
        match self.from {
            None => "as now",
            Some(WallEnd::Start) => "the start",
            Some(WallEnd::End) => "the end",
        }
    }
}

/// Every way to lay the boards of a make-up and what it comes to: as it is now, then the others, the best first. Both
/// faces and all layers are laid alike, and walls with centres of their own keep them. The sizes of sheet are those of the job's
/// board list; where it has none of a kind, those that are `sold`. Ways that differ only in the end the studs are counted from, and come to
/// the same, are given once. Empty when no wall is made of it, it has no boards, or `go_on` says to give up.
pub fn boardings(
    job: &Job,
    layout: &Layout,
    makeup: &Name,
    sold: &[Sheet],
    go_on: &dyn Fn() -> bool,
) -> Vec<Boarding> {
    let Some(of) = job.makeup(makeup) else { return Vec::new() };
    let walls: Vec<&Arc<Wall>> = job.walls.iter().filter(|w| w.makeup == *makeup).collect();
    let Some(first) = layers(of).next().filter(|_| !walls.is_empty()) else { return Vec::new() };
    let mut tried = Tried {
        layout,
        walls: walls.iter().map(|w| &w.name).collect(),
        timber: Biller::new(layout),
        sheets: SheetBiller::default(),
    };
    let as_now = Boarding {
        lay: first.lay,
        sheet: sheet_of(first, of.centres),
        centres: of.centres,
        from: None,
        now: true,
        best: false,
        outcome: tried.comes_to(job, layout),
        edit: Edit::Several(label(makeup), Vec::new()),
    };
    let feet = board_width(of.centres) != board_width(CENTRES[0][0]);
    let mut centres = CENTRES[usize::from(feet)].to_vec();
    if !centres.iter().any(|c| same(*c, of.centres)) {
        centres.push(of.centres);
        centres.sort_by(f64::total_cmp);
    }
    let mut ways: Vec<Boarding> = Vec::new();
    for lay in Lay::ALL {
        for sheet in sizes(job, of, sold) {
            for centres in centres.iter().copied() {
                let laid = laid(job, of, sold, lay, sheet, centres);
                let mut alike: Vec<Boarded> = Vec::new();
                for from in [None, Some(WallEnd::Start), Some(WallEnd::End)] {
                    if !go_on() {
                        return Vec::new();
                    }
                    let turned = from.map(|end| counted_from(&walls, end)).unwrap_or_default();
                    if from.is_some() && turned.is_empty() {
                        continue;
                    }
                    let put = std::iter::once(Edit::PutMakeUp(Arc::new(laid.clone())));
                    let edit = Edit::Several(label(makeup), put.chain(turned).collect());
                    let after = edit.apply(job);
                    if after == *job {
                        // As it is now, whatever its first layer says.
                        alike.push(as_now.outcome.clone());
                        continue;
                    }
                    let outcome = tried.comes_to(&after, &layout.relayout(&after));
                    if alike.contains(&outcome) {
                        continue;
                    }
                    alike.push(outcome.clone());
                    let (now, best) = (false, false);
                    ways.push(Boarding { lay, sheet, centres, from, now, best, outcome, edit });
                }
            }
        }
    }
    let priced =
        as_now.outcome.price().is_some() && ways.iter().all(|w| w.outcome.price().is_some());
    // Stable: what comes to the same stays in the order it was tried.
    ways.sort_by_key(|way| way.outcome.rank(priced));
    ways.insert(0, as_now);
    let best = ways.iter().map(|way| way.outcome.rank(priced)).min();
    for way in &mut ways {
        way.best = Some(way.outcome.rank(priced)) == best;
    }
    ways
}

fn label(makeup: &Name) -> String {
    format!("lay the boards of {makeup} another way")
}

/// Every layer of a make-up: of the right face, then of the left.
fn layers(makeup: &MakeUp) -> impl Iterator<Item = &Board> {
    makeup.right.boards.iter().chain(&makeup.left.boards)
}

/// The sizes one layer can be had in, mm.
fn had(job: &Job, board: &Board, sold: &[Sheet]) -> Vec<(f64, f64)> {
    let is = |kind: &Name, thickness: f64| *kind == board.kind && same(thickness, board.thickness);
    let list = job.sheets.iter().filter(|s| s.owned.is_none() && is(&s.kind, s.thickness));
    let list: Vec<(f64, f64)> = list.map(|s| s.size).collect();
    if !list.is_empty() {
        return list;
    }
    let sold = sold.iter().filter(|s| is(&s.kind, s.thickness));
    sold.map(|s| (s.width, s.length)).collect()
}

fn same_size(a: (f64, f64), b: (f64, f64)) -> bool {
    same(a.0, b.0) && same(a.1, b.1)
}

/// The sizes to try: those the layers have now and those they can be had in, small ones first.
fn sizes(job: &Job, makeup: &MakeUp, sold: &[Sheet]) -> Vec<(f64, f64)> {
    let mut sizes: Vec<(f64, f64)> = Vec::new();
    for board in layers(makeup) {
        let now = sheet_of(board, makeup.centres);
        for size in had(job, board, sold).into_iter().chain([now]) {
            if !sizes.iter().any(|s| same_size(*s, size)) {
                sizes.push(size);
            }
        }
    }
    sizes.sort_by(|a, b| a.1.total_cmp(&b.1).then(a.0.total_cmp(&b.0)));
    sizes
}

/// The make-up with its boards laid so. A layer that cannot be had in this size keeps its own.
fn laid(
    job: &Job,
    makeup: &MakeUp,
    sold: &[Sheet],
    lay: Lay,
    sheet: (f64, f64),
    centres: f64,
) -> MakeUp {
    let mut laid = MakeUp { centres, ..makeup.clone() };
    let layers = laid.right.boards.iter_mut().chain(&mut laid.left.boards);
    for board in layers {
        board.lay = lay;
        let own = sheet_of(board, makeup.centres);
        let size = match had(job, board, sold).iter().any(|s| same_size(*s, sheet)) {
            true => sheet,
            false => own,
        };
        // Nothing is said when it is what suits the centres.
        let usual = sheet_of(&Board { sheet: None, ..board.clone() }, centres);
        board.sheet = Some(size).filter(|size| !same_size(*size, usual));
    }
    laid
}

/// The edits after which walls count their studs from `end`; those whose odd bay is split or beside an opening stay.
fn counted_from(walls: &[&Arc<Wall>], end: WallEnd) -> Vec<Edit> {
    let (from, to) = match end {
        WallEnd::Start => (OddBay::AtStart, OddBay::AtEnd),
        WallEnd::End => (OddBay::AtEnd, OddBay::AtStart),
    };
    let others = walls.iter().filter(|w| w.odd_bay == from);
    let turned = others.map(|w| Wall { odd_bay: to.clone(), ..Wall::clone(w) });
    turned.map(|wall| Edit::PutWall(Arc::new(wall))).collect()
}

/// What is needed to say what one way after another comes to.
struct Tried<'a> {
    layout: &'a Layout,
    walls: Vec<&'a Name>,
    timber: Biller,
    sheets: SheetBiller,
}

impl Tried<'_> {
    fn comes_to(&mut self, job: &Job, layout: &Layout) -> Boarded {
        let walls = || self.walls.iter().filter_map(|name| layout.wall(name));
        let tallies: Vec<Tally> = walls().map(Tally::of).collect();
        let joints = walls().flat_map(|w| &w.boards.layers).flat_map(|l| &l.joints);
        let count = |of: Severity| layout.snags.iter().filter(|s| s.severity() == of).count();
        Boarded {
            sheets: self.sheets.bill(job, layout),
            bill: self.timber.bill(layout, &job.stock, &job.saw),
            joints: joints.map(|j| j.along.length().max(j.heights.length())).sum(),
            studs: tallies.iter().map(|t| t.studs).sum(),
            noggins: tallies.iter().map(|t| t.noggins).sum(),
            snags: [Severity::Stop, Severity::Mend, Severity::Note].map(count),
            opened: missing(&layout.snags, &self.layout.snags).into_iter().cloned().collect(),
            closed: missing(&self.layout.snags, &layout.snags).into_iter().cloned().collect(),
        }
    }
}
