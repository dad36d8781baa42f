//! The bars of the cutting list: each way a bar is cut drawn to length, its ends as they lean, what has to be straight, and how
//! sure it is that enough bars are.

use layout_core::document::Job;
use layout_core::id::{Mark, Name};
use layout_core::math::round_to;
use layout_core::pieces::{Bar, SectionPlan};
use layout_core::snag::capital;
use layout_core::units::Units;

use super::flow::{Block, Row};
use super::lists::wall_ranges;
use super::{Ink, Type};
use crate::picture::{Align, Fill, Pen, Rect};

/// Top and height of a bar in its row, mm.
const TOP: f64 = 0.8;
const HIGH: f64 = 5.6;
/// Least room for what stands before a bar, mm.
const BEFORE: f64 = 20.0;

/// The cutting plan of each section: bars to length with their pieces.
pub(super) fn bars(job: &Job, plans: &[SectionPlan], width: f64) -> Vec<Block> {
    let is_some =
        |p: &&SectionPlan| !p.bars.is_empty() || !p.left_over.is_empty() || !p.done.is_empty();
    plans.iter().filter(is_some).map(|plan| section(job, plan, width)).collect()
}

fn section(job: &Job, plan: &SectionPlan, width: f64) -> Block {
    let units = job.units;
    let title = format!("Bars {} {}", plan.timber.size_in(units), plan.timber.grade());
    let mut rows = vec![words(&about(job, plan), Type::QUIET, width)];
    let sure = plan.straight_in_words(units);
    if let Some(sure) = &sure {
        let text = format!("{}. A dashed line marks what has to be straight.", capital(sure));
        rows.push(words(&text, Type::STRONG, width));
    }
    let longest = plan.bars.iter().map(|b| b.stock).fold(0.0, f64::max);
    let before = plan.bars.chunk_by(alike).flat_map(|run| before(units, run, sure.is_some()));
    let left = before.map(|text| Type::STRONG.width(&text) + 1.5).fold(BEFORE, f64::max);
    let look = Look {
        job,
        plan,
        left,
        width,
        per_mm: (width - left) / longest.max(1.0),
        tells_straight: sure.is_some(),
    };
    rows.extend(plan.bars.chunk_by(alike).filter_map(|run| look.row(run)));
    let left: Vec<(Name, Mark)> = plan.left_over.iter().map(|p| (p.wall.clone(), p.mark)).collect();
    if !left.is_empty() {
        let text = format!("No bar in the list is long enough for {}.", wall_ranges(&left));
        rows.push(words(&text, Type::STRONG, width));
    }
    Block { head: vec![Row::heading(&title, width)], rows, whole: false }
}

/// How many bars, what they come to, and how near that is to the least there could be.
fn about(job: &Job, plan: &SectionPlan) -> String {
    let price = plan.price.map_or(String::new(), |p| format!(" · {}", job.saw.money(p)));
    let cut = match plan.done.len() {
        0 => String::new(),
        n => format!(" · {n} cut"),
    };
    let count = plan.bars.len() + plan.done.len();
    let proof = plan.bound_in_words(job.units, &job.saw.currency);
    format!("{count} bars{cut} · {}{price}\n{proof}", job.units.run(plan.bought))
}

/// Words in as many lines as they take.
fn words(text: &str, kind: Type, width: f64) -> Row {
    let mut row = Row { height: 0.6, ink: Ink::default() };
    for line in kind.wrap(text, width) {
        row.height += 4.0;
        row.ink.text(0.0, row.height - 1.0, line, kind, Align::Left);
    }
    row
}

/// Cut alike, of the same kind of bar.
fn alike(a: &Bar, b: &Bar) -> bool {
    let pieces = |bar: &Bar| {
        let piece =
            |p: &layout_core::pieces::BarPiece| (round_to(p.length * 10.0, 1.0) as i64, p.straight);
        bar.pieces.iter().map(piece).collect::<Vec<_>>()
    };
    (a.stock, a.from, a.bowed) == (b.stock, b.from, b.bowed) && pieces(a) == pieces(b)
}

/// What stands before a bar, line by line: “3 × 2 400”, where it comes from, what it has to be.
fn before(units: Units, run: &[Bar], tells_straight: bool) -> Vec<String> {
    let Some(bar) = run.first() else { return Vec::new() };
    let mut lines = vec![format!("{} × {}", run.len(), units.show(bar.stock))];
    lines.push(bar.from.label().to_string());
    lines.push(match (bar.bowed, bar.straight() && tells_straight) {
        (true, _) => "bowed".into(),
        (_, true) => "straight".into(),
        _ => String::new(),
    });
    lines.retain(|line| !line.is_empty());
    lines
}

/// How the bars of a section are drawn.
struct Look<'a> {
    job: &'a Job,
    plan: &'a SectionPlan,
    /// Room before a bar, and with it, mm.
    left: f64,
    width: f64,
    /// Millimetres of paper to one of timber.
    per_mm: f64,
    tells_straight: bool,
}

impl Look<'_> {
    /// Bars that are cut alike in one row: how many, one of them drawn to length, the lengths when they do not fit in it, the
    /// marks that come out, and what is left.
    fn row(&self, run: &[Bar]) -> Option<Row> {
        let bar = run.first()?;
        let units = self.job.units;
        let mut ink = Ink::default();
        let mut low = TOP + 3.8;
        for (i, line) in before(units, run, self.tells_straight).into_iter().enumerate() {
            low = TOP + 3.8 + i as f64 * 3.9;
            let kind = if i == 0 { Type::STRONG } else { Type::SMALL };
            ink.text(0.0, low, line, kind, Align::Left);
        }
        let is_all_shown = self.bar(&mut ink, bar);
        let mut marks: Vec<(Name, Mark)> =
            run.iter().flat_map(|b| &b.pieces).map(|p| (p.wall.clone(), p.mark)).collect();
        marks.sort();
        let lengths: Vec<String> = bar.pieces.iter().map(|p| units.show(p.length)).collect();
        let lengths = if is_all_shown { String::new() } else { lengths.join(" + ") };
        let marks = format!("{}, leaves {}", wall_ranges(&marks), units.show(bar.offcut));
        let mut y = TOP + HIGH;
        for (text, kind) in [(lengths, Type::SMALL), (marks, Type::QUIET)] {
            for line in kind.wrap(&text, self.width - self.left) {
                y += 3.9;
                ink.text(self.left, y - 0.4, line, kind, Align::Left);
            }
        }
        Some(Row { height: y.max(low + 0.8) + 1.6, ink })
    }

    /// One bar from its trimmed end; true when every length found room in its piece.
    fn bar(&self, ink: &mut Ink, bar: &Bar) -> bool {
        let trim = self.job.saw.trim;
        let at = |mm: f64| self.left + (trim + mm) * self.per_mm;
        let whole = Rect::new(self.left, TOP, bar.stock * self.per_mm, HIGH);
        ink.rect(whole, Pen::Thin, Fill::Existing);
        let mut is_all_shown = true;
        for laid in bar.laid(&self.plan.timber, &self.job.saw) {
            let piece = &bar.pieces[laid.piece];
            let corners =
                laid.outline().map(|(mm, is_top)| [at(mm), if is_top { TOP } else { TOP + HIGH }]);
            ink.area(corners.to_vec(), Pen::Outline, Fill::Timber);
            // Within its shorter edge.
            let xs = corners.map(|[x, _]| x);
            let (from, to) = (xs[0].max(xs[3]), xs[1].min(xs[2]));
            if piece.straight && self.tells_straight {
                let y = TOP + HIGH - 0.9;
                ink.line([[from + 0.8, y], [to - 0.8, y]], Pen::Hidden);
            }
            let figure = self.job.units.show(piece.length);
            if Type::SMALL.width(&figure) + 0.8 <= to - from {
                let middle = (from + to) / 2.0;
                ink.text(middle, TOP + 3.8, figure, Type::SMALL, Align::Centre);
            } else {
                is_all_shown = false;
            }
        }
        is_all_shown
    }
}
