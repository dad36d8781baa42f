//! Cutting plans: which bars to buy and what to cut from each. What has been cut is not planned again.

use std::cell::Cell;
use std::collections::BTreeMap;

use super::blank::{Blank, Cutting, all_priced};
use super::{sawn, tenths};
use crate::document::{BarFrom, CutBar, Job, SawSettings, Stock, Timber, money};
use crate::frame::EndCut;
use crate::id::{Mark, Name};
use crate::layout::Layout;
use crate::math::SAME;
use crate::units::Units;

/// How often the planner asks whether to go on before its best plan is shown again, and then goes on: about
/// a millisecond each. After the last it ends. Counted, not timed, so that the same job gives the same plan on every machine.
const ASKS: [u32; 3] = [20, 150, 600];

/// Steps of the search for as cheap a plan with fewer patterns, once nothing cheaper is looked for, and how often it may
/// ask whether to go on: large jobs get on slowly.
const TIDY: (usize, u32) = (400_000, 40);

/// One piece on a bar.
#[derive(Clone, Debug, PartialEq)]
pub struct BarPiece {
    /// Its wall or platform.
    pub wall: Name,
    /// Its mark within that.
    pub mark: Mark,
    /// Length to cut, mm.
    pub length: f64,
    /// How its ends are cut.
    pub ends: [EndCut; 2],
    /// What it takes along the bar, mm: more than its length where both ends lean the same way, and where it is measured in place
    /// before it is cut.
    pub on_bar: f64,
    /// True when it has to come from a straight bar.
    pub straight: bool,
}

/// One bar of a cutting plan.
#[derive(Clone, Debug, PartialEq)]
pub struct Bar {
    /// Length of the bar as bought, mm.
    pub stock: f64,
    /// Where it comes from.
    pub from: BarFrom,
    /// True when it is known to be bowed.
    pub bowed: bool,
    /// Its pieces in the order they are cut.
    pub pieces: Vec<BarPiece>,
    /// What is left after trim, pieces and cuts, mm.
    pub offcut: f64,
}

impl Bar {
    /// True when it has to be straight.
    pub fn straight(&self) -> bool {
        self.pieces.iter().any(|p| p.straight)
    }

    /// The record of this bar having been cut; its offcut is kept when it is as long as `saw` says.
    pub fn cut(&self, timber: &Timber, saw: &SawSettings) -> CutBar {
        let keep = self.offcut > 0.0 && self.offcut >= saw.keep_bar;
        CutBar {
            timber: timber.clone(),
            length: self.stock,
            from: self.from,
            bowed: self.bowed,
            pieces: self.pieces.iter().map(|p| (p.wall.clone(), p.mark, p.length)).collect(),
            kept: if keep { self.offcut.floor() } else { 0.0 },
        }
    }
}

/// A cutting plan for one section.
#[derive(Clone, Debug, PartialEq)]
pub struct SectionPlan {
    /// Section and strength class.
    pub timber: Timber,
    /// The bars still to be cut, like ones together, in an order in which the stop is set few times.
    pub bars: Vec<Bar>,
    /// Pieces still to be cut that no bar in the list can give.
    pub left_over: Vec<BarPiece>,
    /// The bars that have been cut: where in the job's record, and which.
    pub done: Vec<(usize, Bar)>,
    /// Pieces to be cut that were cut before to another length, and that length, mm.
    pub again: Vec<(BarPiece, f64)>,
    /// Bars to be bought beyond those that are cut, so that enough are straight: their length in mm and how many.
    pub extra: Vec<(f64, usize)>,
    /// The chance that of those to be bought enough are straight; `None` where all are taken to be.
    pub sure: Option<f64>,
    /// Bars that it would take besides to be as sure as the job asks, of lines of which the merchant has no more: their length in
    /// mm and how many.
    pub short: Vec<(f64, usize)>,
    /// Total length bought, of bars cut and to be cut and those beyond, mm.
    pub bought: f64,
    /// Total price of those, when every one bought has a price.
    pub price: Option<f64>,
    /// True when the plan is by price, false when it is by length because not all prices are known.
    pub priced: bool,
    /// What the bars still to be cut cost at the least: money, or mm where it is by length.
    pub least: f64,
    /// What they do cost, in the same.
    pub cost: f64,
    /// True when it is proven that nothing cheaper will do.
    pub proven: bool,
    /// How many different ways bars are cut.
    pub patterns: usize,
    /// How often the stop is set when they are cut in their order.
    pub settings: usize,
    /// True when the planner has ended: what is not proven now will not be.
    pub ended: bool,
}

impl SectionPlan {
    /// How much more it costs than the least there could be, as a share of that; 0 when that is nothing.
    pub fn gap(&self) -> f64 {
        if self.least > 0.0 { (self.cost / self.least - 1.0).max(0.0) } else { 0.0 }
    }

    /// The same in hundredths, rounded up to a tenth of one.
    pub fn gap_percent(&self) -> f64 {
        (self.gap() * 1000.0 - 1e-9).ceil().max(0.0) / 10.0
    }

    /// How near it is to the best there could be, in words.
    pub fn bound_in_words(&self, units: Units, currency: &str) -> String {
        if !self.left_over.is_empty() {
            return "not every piece has a bar".into();
        }
        let dear = if self.priced { "cheaper" } else { "shorter" };
        if self.proven {
            return format!("proven: nothing {dear} will do");
        }
        let more = (self.cost - self.least).max(0.0);
        let more = match self.priced {
            true => money(currency, more),
            false => units.run(more),
        };
        let so_far = if self.ended { "" } else { " so far" };
        format!(
            "at most {more} ({:.1} %) over the least there could be{so_far}",
            self.gap_percent()
        )
    }

    /// What has to be straight of what is bought, in words; `None` where all bars are taken to be.
    pub fn straight_in_words(&self, units: Units) -> Option<String> {
        let sure = self.sure?;
        let order = self.order();
        let lines = order.iter().filter(|l| l.straight > 0);
        let of = |l: &BarsToBuy| match l.straight == l.bars && l.bars > 1 {
            true => format!("all {} of {}", l.bars, units.show(l.length)),
            false => format!("{} of the {} of {}", l.straight, l.bars, units.show(l.length)),
        };
        let lines: Vec<String> = lines.map(of).collect();
        let verb = if lines.len() == 1 && lines[0].starts_with("1 ") { "has" } else { "have" };
        let lines = match lines.split_last() {
            Some((last, before)) if !before.is_empty() => {
                format!("{} and {last}", before.join(", "))
            }
            _ => lines.concat(),
        };
        let sure = (sure * 100.0).floor();
        let words = format!("{lines} {verb} to be straight: {sure:.0} % sure that enough are");
        let short = self.short.iter().map(|(length, n)| format!("{n} of {}", units.show(*length)));
        let short: Vec<String> = short.collect();
        match short.is_empty() {
            true => Some(words),
            false => {
                Some(format!("{words}. To be sure, get {} more elsewhere", short.join(" and ")))
            }
        }
    }

    /// Bars to be bought that are cut, those that have been cut among them.
    pub fn bought_bars(&self) -> impl Iterator<Item = &Bar> {
        self.bars
            .iter()
            .chain(self.done.iter().map(|(_, bar)| bar))
            .filter(|bar| bar.from == BarFrom::Bought)
    }

    /// What is to be bought, longest first: those that are cut, those that have been, and those beyond.
    pub fn order(&self) -> Vec<BarsToBuy> {
        let mut lines: Vec<BarsToBuy> = Vec::new();
        let mut count = |length: f64, bars: usize, straight: usize| match lines
            .iter_mut()
            .find(|l| (l.length - length).abs() < SAME)
        {
            Some(line) => {
                line.bars += bars;
                line.straight += straight;
            }
            None => lines.push(BarsToBuy { length, bars, straight }),
        };
        for bar in self.bought_bars() {
            count(bar.stock, 1, usize::from(bar.straight()));
        }
        for &(length, bars) in &self.extra {
            count(length, bars, 0);
        }
        lines.sort_by(|a, b| b.length.total_cmp(&a.length));
        lines
    }

    /// What is sawn away or left of all bars, those kept included, mm.
    pub fn waste(&self) -> f64 {
        let of = |bar: &Bar| bar.stock - bar.pieces.iter().map(|p| p.length).sum::<f64>();
        self.bars.iter().chain(self.done.iter().map(|(_, bar)| bar)).map(of).sum()
    }
}

/// Bars of one length to be bought.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BarsToBuy {
    /// Their length, mm.
    pub length: f64,
    /// How many.
    pub bars: usize,
    /// How many of them have to be straight.
    pub straight: usize,
}

/// What has been cut of one section.
#[derive(Default)]
struct Done {
    bars: Vec<(usize, Bar)>,
    again: Vec<(BarPiece, f64)>,
    /// Lengths of pieces that were cut and are not wanted any more, mm.
    spare: Vec<f64>,
}

impl Done {
    /// Goes through the record and takes what has been cut out of `pieces`.
    fn of(job: &Job, timber: &Timber, pieces: &mut Vec<(BarPiece, Blank)>) -> Done {
        let mut done = Done::default();
        let of = job.cut.iter().enumerate().filter(|(_, bar)| bar.timber == *timber);
        for (index, bar) in of {
            for (wall, mark, length) in &bar.pieces {
                let is = |(p, _): &(BarPiece, Blank)| p.wall == *wall && p.mark == *mark;
                match pieces.iter().position(is) {
                    Some(i) if (pieces[i].0.length - length).abs() < SAME => {
                        pieces.remove(i);
                        continue;
                    }
                    Some(i) => done.again.push((pieces[i].0.clone(), *length)),
                    None => {}
                }
                done.spare.push(*length);
            }
            done.bars.push((index, was(bar, &job.saw)));
        }
        for (_, bar) in done.bars.iter().filter(|(_, bar)| bar.from == BarFrom::Piece) {
            let used = done.spare.iter().position(|length| (length - bar.stock).abs() < SAME);
            if let Some(i) = used {
                done.spare.swap_remove(i);
            }
        }
        // What was cut to another length and then again to the right one is not to be cut again.
        done.again.retain(|(piece, _)| pieces.iter().any(|(p, _)| p == piece));
        done
    }
}

/// The plan of one section under way.
struct Section {
    timber: Timber,
    saw: SawSettings,
    pieces: Vec<BarPiece>,
    /// The same as the saw has them.
    cut: Vec<saw::Piece>,
    /// What it can be cut from, and where that comes from.
    lines: Vec<(Stock, BarFrom)>,
    problem: saw::Problem,
    straightness: saw::Straightness,
    done: Done,
    /// None where the numbers are too large to be reckoned with, and only a first plan is made.
    planner: Option<saw::Buying>,
    /// Fewer patterns were looked for, after which nothing more is.
    tidied: bool,
}

/// The cutting plans of a job, one for each section: first ones at once, better ones as long as it may go on.
pub struct Planning {
    sections: Vec<Section>,
    /// How many times it went on.
    turns: usize,
}

impl Planning {
    /// First plans for each section the job uses, in order of section; ply comes in sheets and has none.
    pub fn new(job: &Job, layout: &Layout) -> Planning {
        let mut pieces: BTreeMap<Timber, Vec<(BarPiece, Blank)>> = BTreeMap::new();
        for part in layout.framed() {
            for member in sawn(part) {
                let blank = Blank::of(part, member);
                let piece = BarPiece {
                    wall: part.name().clone(),
                    mark: member.mark,
                    length: part.cut_length(member),
                    ends: member.cut().ends,
                    on_bar: 0.0,
                    straight: false,
                };
                match pieces.get_mut(&member.timber) {
                    Some(pieces) => pieces.push((piece, blank)),
                    None => drop(pieces.insert(member.timber.clone(), vec![(piece, blank)])),
                }
            }
        }
        for bar in &job.cut {
            pieces.entry(bar.timber.clone()).or_default();
        }
        let sections = pieces.into_iter().map(|(timber, pieces)| Section::new(job, timber, pieces));
        Planning { sections: sections.collect(), turns: 0 }
    }

    /// Goes on for a while, or until `go_on` says no; true when it has ended. It may be called again.
    pub fn run(&mut self, go_on: &dyn Fn() -> bool) -> bool {
        let Some(&asks) = ASKS.get(self.turns) else { return true };
        let last = self.turns + 1 == ASKS.len();
        for section in &mut self.sections {
            if let Some(planner) = section.planner.as_mut().filter(|_| !section.tidied) {
                planner.run(&counted(asks, go_on));
                if last || planner.done() || planner.proven() {
                    planner.tidy(TIDY.0, &counted(TIDY.1, go_on));
                    section.tidied = true;
                }
            }
        }
        self.turns += 1;
        self.ended()
    }

    /// True when it has ended.
    pub fn ended(&self) -> bool {
        self.turns >= ASKS.len() || self.sections.iter().all(|s| s.planner.is_none() || s.tidied)
    }

    /// The plans as they are now.
    pub fn plans(&self) -> Vec<SectionPlan> {
        let ended = self.ended();
        self.sections.iter().map(|s| s.plan(ended)).collect()
    }
}

/// Says yes so many times, as long as `go_on` does.
pub(super) fn counted(asks: u32, go_on: &dyn Fn() -> bool) -> impl Fn() -> bool {
    let asked = Cell::new(0);
    move || {
        asked.set(asked.get() + 1);
        asked.get() <= asks && go_on()
    }
}

/// The cutting plan of each section, as good as it gets: [`Planning`] run to its end.
pub fn cutting_plan(job: &Job, layout: &Layout) -> Vec<SectionPlan> {
    let mut planning = Planning::new(job, layout);
    while !planning.run(&|| true) {}
    planning.plans()
}

impl Section {
    fn new(job: &Job, timber: Timber, mut pieces: Vec<(BarPiece, Blank)>) -> Section {
        let done = Done::of(job, &timber, &mut pieces);
        let (mut pieces, blanks): (Vec<BarPiece>, Vec<Blank>) = pieces.into_iter().unzip();
        let cutting = Cutting::new(&timber, &blanks, &job.stock, &job.saw);
        let Cutting { lines, mut problem, pieces: cut, mut straightness } = cutting;
        for (piece, cut) in pieces.iter_mut().zip(&cut) {
            piece.on_bar = cut.length as f64 / 10.0;
            piece.straight = cut.straight;
        }
        for (line, had) in lines.iter().zip(&mut problem.stock) {
            // Of what the merchant has so many are used up.
            let used = done.bars.iter().filter(|(_, bar)| {
                bar.from == BarFrom::Bought
                    && line.owned.is_none()
                    && (bar.stock - line.length).abs() < SAME
            });
            let used = u32::try_from(used.count()).unwrap_or(u32::MAX);
            had.available = had.available.map(|n| n.saturating_sub(used));
        }
        let from = |s: &Stock| if s.owned.is_some() { BarFrom::Owned } else { BarFrom::Bought };
        let mut lines: Vec<(Stock, BarFrom)> =
            lines.into_iter().map(|s| (s.clone(), from(s))).collect();
        let mut spare = done.spare.clone();
        spare.sort_by(f64::total_cmp);
        for alike in spare.chunk_by(|a, b| (a - b).abs() < SAME) {
            let (length, count) = (alike[0], u32::try_from(alike.len()).unwrap_or(u32::MAX));
            let line = Stock { owned: Some(count), ..Stock::new(timber.clone(), length) };
            let bar = saw::StockLine::new(tenths(length), 0);
            problem.stock.push(saw::StockLine { available: Some(count), ..bar });
            lines.push((line, BarFrom::Piece));
            straightness.crooked.push(0.0);
        }
        let planner = saw::Buying::new(&problem, &straightness).ok();
        let saw = job.saw.clone();
        Section {
            timber,
            saw,
            pieces,
            cut,
            lines,
            problem,
            straightness,
            done,
            planner,
            tidied: false,
        }
    }

    fn plan(&self, ended: bool) -> SectionPlan {
        let first;
        let patterns = match &self.planner {
            Some(planner) => planner.best(),
            None => {
                first = saw::first_fit_patterns(&self.problem);
                &first
            }
        };
        let patterns = patterns.in_sawing_order(&self.problem);
        let dealt = patterns.deal(&self.cut);
        let bar = |bar: &saw::CutBar| {
            let (line, from) = &self.lines[bar.stock];
            let mut bar = Bar {
                stock: line.length,
                from: *from,
                bowed: line.is_bowed(),
                pieces: bar.pieces.iter().map(|&i| self.pieces[i].clone()).collect(),
                offcut: bar.left as f64 / 10.0,
            };
            bar.nest(&self.timber, self.saw.kerf);
            bar
        };
        let bars: Vec<Bar> = dealt.bars.iter().map(bar).collect();
        let beyond = self.beyond(&dealt);
        let lines: Vec<&Stock> = self.lines.iter().map(|(line, _)| line).collect();
        let priced = all_priced(&lines);
        // Hundredths of the currency or tenths of a millimetre.
        let whole = |cost: u64| cost as f64 / if priced { 100.0 } else { 10.0 };
        let cost = match &self.planner {
            Some(planner) => planner.cost(),
            None => patterns.cost(&self.problem),
        };
        let done = self.done.bars.iter().map(|(_, bar)| bar);
        let done = || done.clone().filter(|bar| bar.from == BarFrom::Bought);
        let price_of = |bar: &Bar| {
            let is = |s: &&Stock| s.owned.is_none() && (s.length - bar.stock).abs() < SAME;
            lines.iter().copied().find(is).and_then(|s| s.price)
        };
        let more = || beyond.iter().enumerate().filter(|(_, n)| **n > 0);
        let extra = more().map(|(j, n)| lines[j].price_paid().map(|p| p * *n as f64));
        let todo = dealt.bars.iter().map(|bar| lines[bar.stock].price_paid());
        let price = todo.chain(done().map(price_of)).chain(extra).sum::<Option<f64>>();
        let todo = dealt.bars.iter().map(|bar| lines[bar.stock].length_bought());
        let extra = || more().map(|(j, n)| (lines[j].length, *n));
        let bought = todo.chain(done().map(|bar| bar.stock)).sum::<f64>()
            + extra().map(|(length, n)| length * n as f64).sum::<f64>();
        SectionPlan {
            timber: self.timber.clone(),
            left_over: dealt.left_over.iter().map(|&i| self.pieces[i].clone()).collect(),
            extra: extra().collect(),
            sure: self.sure(&dealt, &beyond),
            short: self.short(),
            bought,
            price: price.filter(|_| !bars.is_empty() || !self.done.bars.is_empty()),
            priced,
            least: whole(self.planner.as_ref().map_or(0, saw::Buying::bound)),
            cost: whole(cost),
            proven: self.planner.as_ref().is_some_and(saw::Buying::proven),
            patterns: patterns.patterns.len(),
            settings: patterns.stop_settings(),
            ended: ended || self.tidied || self.planner.is_none(),
            done: self.done.bars.clone(),
            again: self.done.again.clone(),
            bars,
        }
    }

    /// Bars of each line to be bought beyond those that are cut.
    fn beyond(&self, dealt: &saw::Plan) -> Vec<usize> {
        let mut beyond: Vec<usize> = match &self.planner {
            Some(planner) => planner.buy().iter().map(|n| *n as usize).collect(),
            None => Vec::new(),
        };
        beyond.resize(self.lines.len(), 0);
        for bar in &dealt.bars {
            beyond[bar.stock] = beyond[bar.stock].saturating_sub(1);
        }
        beyond
    }

    /// Bars of each length that it would take besides, had the merchant so many, to be sure that enough are straight.
    fn short(&self) -> Vec<(f64, usize)> {
        let short = self.planner.as_ref().map(saw::Buying::short).unwrap_or_default();
        let short = self.lines.iter().zip(short).filter(|(_, n)| *n > 0);
        short.map(|((line, _), n)| (line.length, n as usize)).collect()
    }

    /// The chance that enough of those to be bought are straight, of all lines together.
    fn sure(&self, dealt: &saw::Plan, beyond: &[usize]) -> Option<f64> {
        let mut sure = None;
        for (j, crooked) in self.straightness.crooked.iter().enumerate() {
            let cut = || dealt.bars.iter().filter(|bar| bar.stock == j);
            let choice = cut().filter(|bar| bar.pieces.iter().any(|&i| self.cut[i].straight));
            let (choice, bought) = (choice.count() as u64, (cut().count() + beyond[j]) as u64);
            if *crooked > 0.0 && choice > 0 {
                sure = Some(sure.unwrap_or(1.0) * saw::chance(choice, bought, *crooked));
            }
        }
        sure
    }
}

/// A bar that has been cut, as it was.
fn was(bar: &CutBar, saw: &SawSettings) -> Bar {
    let pieces: Vec<BarPiece> = bar
        .pieces
        .iter()
        .map(|(wall, mark, length)| BarPiece {
            wall: wall.clone(),
            mark: *mark,
            length: *length,
            ends: [EndCut::default(); 2],
            on_bar: *length,
            straight: false,
        })
        .collect();
    let sawn: f64 = pieces.iter().map(|p| p.length + saw.kerf).sum();
    let offcut = (bar.length - saw.trim - sawn).max(0.0);
    Bar { stock: bar.length, from: bar.from, bowed: bar.bowed, pieces, offcut }
}
