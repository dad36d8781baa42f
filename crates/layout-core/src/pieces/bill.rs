//! What the timber of a job comes to, for one job after another of which little differs.

use std::collections::BTreeMap;
use std::sync::Arc;

use super::blank::{Blank, Cutting};
use super::sawn;
use crate::document::{SawSettings, Stock, Timber};
use crate::frame::Frame;
use crate::layout::{Framed, Layout};

/// What the timber of a job comes to: the sums of its first cutting plans, as though nothing were cut yet.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Bill {
    /// Length of the bars to buy, mm.
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
    sections: BTreeMap<Timber, Vec<Blank>>,
}

impl Lengths {
    fn of(part: Framed<'_>) -> Lengths {
        let mut sections: BTreeMap<Timber, Vec<Blank>> = BTreeMap::new();
        for member in sawn(part) {
            let length = Blank::of(part, member);
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

    /// What `layout` comes to: the sums of its first plans, as [`Planning::new`](super::Planning::new) gives them.
    pub fn bill(&self, layout: &Layout, stock: &[Stock], saw: &SawSettings) -> Bill {
        let known = |i: usize, part: Framed<'_>| {
            self.first.get(i).filter(|first| Arc::ptr_eq(&first.frame, part.frame()))
        };
        let parts = layout.framed().enumerate();
        let fresh: Vec<Option<Lengths>> =
            parts.map(|(i, part)| known(i, part).is_none().then(|| Lengths::of(part))).collect();
        let parts = fresh.iter().enumerate();
        let parts = parts.filter_map(|(i, fresh)| fresh.as_ref().or_else(|| self.first.get(i)));
        let mut sections: BTreeMap<&Timber, Vec<Blank>> = BTreeMap::new();
        for (timber, lengths) in parts.flat_map(|part| &part.sections) {
            sections.entry(timber).or_default().extend(lengths);
        }
        let mut bill = Bill { price: (!sections.is_empty()).then_some(0.0), ..Bill::default() };
        for (timber, lengths) in sections {
            let Cutting { lines, problem, straightness, .. } =
                Cutting::new(timber, &lengths, stock, saw);
            let plan = saw::first_fit_patterns(&problem);
            let beyond = straightness.beyond(&problem, &plan);
            for (line, n) in lines.iter().zip(beyond).filter(|(_, n)| *n > 0) {
                let n = n as f64;
                bill.bought += line.length_bought() * n;
                bill.price = bill.price.zip(line.price_paid()).map(|(sum, p)| sum + p * n);
            }
            bill.no_bar += plan.missing();
            for pattern in &plan.patterns {
                let n = pattern.bars as f64;
                let line = lines[pattern.stock];
                bill.bought += line.length_bought() * n;
                bill.price = bill.price.zip(line.price_paid()).map(|(sum, p)| sum + p * n);
                // The last piece of a bar that is used up needs no cut of its own.
                let cuts = pattern.pieces() + usize::from(problem.trim > 0);
                bill.cuts += pattern.bars * (cuts - usize::from(pattern.left == 0));
            }
        }
        bill.price = bill.price.filter(|_| bill.no_bar == 0);
        bill
    }
}
