//! What is to be cut: every piece of every wall and platform, grouped for the saw, counted, and laid on bars.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::document::{SawSettings, Stock, Timber};
use crate::frame::{Cut, EndCut, Frame, Member, Role, Total};
use crate::id::{Mark, Name};
use crate::layout::{Framed, Layout};

/// Pieces that are cut alike: one setting of the saw stop.
#[derive(Clone, Debug, PartialEq)]
pub struct Batch {
    /// Section and strength class.
    pub timber: Timber,
    /// Length to cut, a whole number of the job's saw steps, and end cuts, to a tenth of a degree.
    pub cut: Cut,
    /// What the pieces are, in order of first use.
    pub roles: Vec<Role>,
    /// Wall or platform and mark of every piece, in the job's order.
    pub marks: Vec<(Name, Mark)>,
    /// True when one of them is to be measured on site.
    pub measure_in_place: bool,
}

/// One piece on a bar.
#[derive(Clone, Debug, PartialEq)]
pub struct BarPiece {
    /// Its wall or platform.
    pub wall: Name,
    /// Its mark within that.
    pub mark: Mark,
    /// Length to cut, mm.
    pub length: f64,
}

/// One bar of a cutting plan.
#[derive(Clone, Debug, PartialEq)]
pub struct Bar {
    /// Length of the bar as bought, mm.
    pub stock: f64,
    /// Its pieces in cutting order, longest first.
    pub pieces: Vec<BarPiece>,
    /// What is left after trim, pieces and cuts, mm.
    pub offcut: f64,
}

/// A cutting plan for one section.
#[derive(Clone, Debug, PartialEq)]
pub struct SectionPlan {
    /// Section and strength class.
    pub timber: Timber,
    /// The bars, like ones together.
    pub bars: Vec<Bar>,
    /// Pieces that no bar in the list can give.
    pub left_over: Vec<BarPiece>,
    /// Total length bought, mm.
    pub bought: f64,
    /// Total price, when every bar used has one.
    pub price: Option<f64>,
    /// True when it is proven that nothing cheaper will do.
    pub proven: bool,
}

/// Pieces of the job in stop-block batches: by section, longest first.
pub fn batches(layout: &Layout) -> Vec<Batch> {
    let degrees = |end: EndCut| {
        let tenths = |a: f64| (a.to_degrees() * 10.0).round() as i64;
        (tenths(end.bevel), tenths(end.mitre))
    };
    let mut groups: BTreeMap<_, Batch> = BTreeMap::new();
    for part in layout.framed() {
        for member in &part.frame().members {
            let cut = member.cut();
            let length = part.cut_length(member);
            let key = (
                member.timber.clone(),
                std::cmp::Reverse(tenths(length)),
                degrees(cut.ends[0]),
                degrees(cut.ends[1]),
            );
            let batch = groups.entry(key).or_insert_with(|| Batch {
                timber: member.timber.clone(),
                cut: Cut { length, ends: cut.ends },
                roles: Vec::new(),
                marks: Vec::new(),
                measure_in_place: false,
            });
            if !batch.roles.contains(&member.role) {
                batch.roles.push(member.role);
            }
            batch.marks.push((part.name().clone(), member.mark));
            batch.measure_in_place |= member.measure_in_place;
        }
    }
    groups.into_values().collect()
}

/// Count and cut length of each section, in order of section.
pub fn totals(layout: &Layout) -> Vec<Total> {
    let mut totals: Vec<Total> = Vec::new();
    for total in layout.framed().flat_map(|p| &p.frame().totals) {
        match totals.iter_mut().find(|t| t.timber == total.timber) {
            Some(sum) => {
                sum.pieces += total.pieces;
                sum.length += total.length;
            }
            None => totals.push(total.clone()),
        }
    }
    totals.sort_by(|a, b| a.timber.cmp(&b.timber));
    totals
}

/// The pieces of a part that are cut from bars.
fn sawn<'a>(part: Framed<'a>) -> impl Iterator<Item = &'a Member> {
    part.frame().members.iter().filter(|m| !m.timber.is_ply())
}

/// A cutting plan for each section the job uses, in order of section; ply comes in sheets and has none.
pub fn cutting_plan(layout: &Layout, stock: &[Stock], saw: &SawSettings) -> Vec<SectionPlan> {
    let mut sections: BTreeMap<&Timber, Vec<BarPiece>> = BTreeMap::new();
    for part in layout.framed() {
        for member in sawn(part) {
            sections.entry(&member.timber).or_default().push(BarPiece {
                wall: part.name().clone(),
                mark: member.mark,
                length: part.cut_length(member),
            });
        }
    }
    sections.into_iter().map(|(timber, pieces)| section_plan(timber, &pieces, stock, saw)).collect()
}

/// Tenths of a millimetre, as the saw counts; nothing sensible is out of range.
fn tenths(mm: f64) -> u64 {
    (mm.clamp(0.0, 1e9) * 10.0).round() as u64
}

/// The lines of the timber list that give one section, and the problem of cutting pieces from them.
fn problem<'a>(
    timber: &Timber,
    lengths: &[u64],
    stock: &'a [Stock],
    saw: &SawSettings,
) -> (Vec<&'a Stock>, saw::Problem) {
    let lines: Vec<&Stock> =
        stock.iter().filter(|s| s.timber == *timber && s.length > 0.0).collect();
    let priced = lines.iter().all(|s| s.price.is_some());
    let stock = lines.iter().map(|s| saw::StockLine {
        length: tenths(s.length),
        // Hundredths of the currency, or the length itself when prices are not all known.
        cost: match s.price {
            Some(price) if priced => (price.clamp(0.0, 1e9) * 100.0).round() as u64,
            _ => tenths(s.length),
        },
        available: s.available,
    });
    let problem = saw::Problem {
        kerf: tenths(saw.kerf),
        trim: tenths(saw.trim),
        stock: stock.collect(),
        pieces: saw::demands(lengths),
        ..saw::Problem::default()
    };
    (lines, problem)
}

fn section_plan(
    timber: &Timber,
    pieces: &[BarPiece],
    stock: &[Stock],
    saw: &SawSettings,
) -> SectionPlan {
    let lengths: Vec<u64> = pieces.iter().map(|p| tenths(p.length)).collect();
    let (lines, problem) = problem(timber, &lengths, stock, saw);
    let (patterns, proven) = match saw::Planner::new(&problem) {
        Ok(planner) => (planner.best().clone(), planner.proven()),
        Err(_) => (saw::first_fit_patterns(&problem), false),
    };
    let plan = patterns.deal(&lengths);
    let bars: Vec<Bar> = plan
        .bars
        .iter()
        .map(|bar| Bar {
            stock: lines[bar.stock].length,
            pieces: bar.pieces.iter().map(|&i| pieces[i].clone()).collect(),
            offcut: bar.left as f64 / 10.0,
        })
        .collect();
    let price = plan.bars.iter().map(|bar| lines[bar.stock].price).sum::<Option<f64>>();
    SectionPlan {
        timber: timber.clone(),
        left_over: plan.left_over.iter().map(|&i| pieces[i].clone()).collect(),
        bought: bars.iter().map(|b| b.stock).sum(),
        price: price.filter(|_| !bars.is_empty()),
        proven,
        bars,
    }
}

/// What the timber of a job comes to: the sums of its cutting plan.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Bill {
    /// Length of the bars, mm.
    pub bought: f64,
    /// What they cost, when every one has a price and every piece a bar.
    pub price: Option<f64>,
    /// Saw cuts.
    pub cuts: usize,
    /// Pieces that no bar in the list can give.
    pub no_bar: usize,
}

/// The lengths to cut of one part of a job, with the frame they are of.
struct Lengths {
    frame: Arc<Frame>,
    sections: BTreeMap<Timber, Vec<u64>>,
}

impl Lengths {
    fn of(part: Framed<'_>) -> Lengths {
        let mut sections: BTreeMap<Timber, Vec<u64>> = BTreeMap::new();
        for member in sawn(part) {
            let length = tenths(part.cut_length(member));
            match sections.get_mut(&member.timber) {
                Some(lengths) => lengths.push(length),
                None => drop(sections.insert(member.timber.clone(), vec![length])),
            }
        }
        Lengths { frame: part.frame().clone(), sections }
    }
}

/// Adds up one job after another of which little differs from the first: only parts with another frame are
/// measured again.
pub struct Biller {
    first: Vec<Lengths>,
}

impl Biller {
    /// Starts from a layout.
    pub fn new(layout: &Layout) -> Biller {
        Biller { first: layout.framed().map(Lengths::of).collect() }
    }

    /// What `layout` comes to: the sums of its [`cutting_plan`].
    pub fn bill(&self, layout: &Layout, stock: &[Stock], saw: &SawSettings) -> Bill {
        let known = |i: usize, part: Framed<'_>| {
            self.first.get(i).filter(|first| Arc::ptr_eq(&first.frame, part.frame()))
        };
        let parts = layout.framed().enumerate();
        let fresh: Vec<Option<Lengths>> =
            parts.map(|(i, part)| known(i, part).is_none().then(|| Lengths::of(part))).collect();
        let parts = fresh.iter().enumerate();
        let parts = parts.filter_map(|(i, fresh)| fresh.as_ref().or_else(|| self.first.get(i)));
        let mut sections: BTreeMap<&Timber, Vec<u64>> = BTreeMap::new();
        for (timber, lengths) in parts.flat_map(|part| &part.sections) {
            sections.entry(timber).or_default().extend(lengths);
        }
        let mut bill = Bill { price: (!sections.is_empty()).then_some(0.0), ..Bill::default() };
        for (timber, lengths) in sections {
            let (lines, problem) = problem(timber, &lengths, stock, saw);
            let plan = saw::first_fit_patterns(&problem);
            bill.no_bar += plan.missing();
            for pattern in &plan.patterns {
                let n = pattern.bars as f64;
                bill.bought += lines[pattern.stock].length * n;
                bill.price = bill.price.zip(lines[pattern.stock].price).map(|(sum, p)| sum + p * n);
                // The last piece of a bar that is used up needs no cut of its own.
                let cuts = pattern.pieces() + usize::from(problem.trim > 0);
                bill.cuts += pattern.bars * (cuts - usize::from(pattern.left == 0));
            }
        }
        bill.price = bill.price.filter(|_| bill.no_bar == 0);
        bill
    }
}
