//! What is to be cut: every piece of every wall and platform, grouped for the saw, counted, and laid on bars.

use std::collections::BTreeMap;

use crate::document::{SawSettings, Stock, Timber};
use crate::frame::{Cut, EndCut, Role, Total};
use crate::id::{Mark, Name};
use crate::layout::Layout;

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

/// A cutting plan for each section the job uses, in order of section.
pub fn cutting_plan(layout: &Layout, stock: &[Stock], saw: &SawSettings) -> Vec<SectionPlan> {
    let mut sections: BTreeMap<&Timber, Vec<BarPiece>> = BTreeMap::new();
    for part in layout.framed() {
        for member in &part.frame().members {
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

fn section_plan(
    timber: &Timber,
    pieces: &[BarPiece],
    stock: &[Stock],
    saw: &SawSettings,
) -> SectionPlan {
    let lines: Vec<&Stock> =
        stock.iter().filter(|s| s.timber == *timber && s.length > 0.0).collect();
    let priced = lines.iter().all(|s| s.price.is_some());
    let problem = saw::Problem {
        kerf: tenths(saw.kerf),
        trim: tenths(saw.trim),
        stock: lines
            .iter()
            .map(|s| saw::StockLine {
                length: tenths(s.length),
                // Hundredths of the currency, or the length itself when prices are not all known.
                cost: match s.price {
                    Some(price) if priced => (price.clamp(0.0, 1e9) * 100.0).round() as u64,
                    _ => tenths(s.length),
                },
                available: s.available,
            })
            .collect(),
        pieces: pieces.iter().map(|p| tenths(p.length)).collect(),
    };
    let plan = saw::first_fit(&problem);
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
        proven: plan.proven(&problem),
        bars,
    }
}
