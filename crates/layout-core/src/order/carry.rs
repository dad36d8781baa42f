//! Whether what is ordered goes in the van and up the stair, and what would do where it does not.

use super::{Goods, Order};
use crate::document::{Job, Stock};
use crate::layout::{Framed, Layout};
use crate::math::SAME;
use crate::pieces::{Bill, Biller};
use crate::units::mm;

/// Something about bringing an order home that does not go.
#[derive(Clone, Debug, PartialEq)]
pub struct Remark {
    /// What does not go, and by how much.
    pub message: String,
    /// What would do.
    pub remedy: String,
}

/// Where something has to go through.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Way {
    Van,
    Stair,
}

impl Way {
    fn does_not(self) -> &'static str {
        match self {
            Way::Van => "not go in the van, which takes",
            Way::Stair => "not go up the stair or through the hatch, which take",
        }
    }

    /// What else can be done about bars, the pieces being short enough.
    fn or_else(self) -> &'static str {
        match self {
            Way::Van => "have them delivered",
            Way::Stair => "cut them before you carry them",
        }
    }

    /// What can be done about pieces that are too long themselves.
    fn at_last(self) -> &'static str {
        match self {
            Way::Van => "join it, or have it delivered",
            Way::Stair => "join it where it goes, or bring it in another way",
        }
    }
}

/// What of `order` is over what the job says that the van and the way in take.
pub fn remarks(job: &Job, layout: &Layout, order: &Order) -> Vec<Remark> {
    let carry = &job.buying.carry;
    let mut remarks = Vec::new();
    for (way, length, width) in [
        (Way::Van, carry.van_length, carry.van_width),
        (Way::Stair, carry.way_length, carry.way_width),
    ] {
        if let Some(limit) = length {
            remarks.extend(bars_over(job, layout, order, way, limit));
        }
        remarks.extend(sheets_over(job, order, way, length, width));
    }
    if let Some(payload) = carry.payload {
        let mass = order.mass();
        if mass > payload + SAME {
            let trips = (mass / payload.max(1.0) - 1e-9).ceil();
            remarks.push(Remark {
                message: format!(
                    "Timber, boards and filler weigh {} kg; the van takes {} kg at once",
                    mm(mass),
                    mm(payload)
                ),
                remedy: format!("Drive {trips:.0} times, or have it delivered."),
            });
        }
    }
    remarks
}

fn bars_over(job: &Job, layout: &Layout, order: &Order, way: Way, limit: f64) -> Option<Remark> {
    let units = job.units;
    let long = |l: &&super::OrderLine| l.size.is_some_and(|(long, _)| long > limit + SAME);
    let lines: Vec<_> = order.of(Goods::Timber).filter(long).collect();
    if lines.is_empty() {
        return None;
    }
    let count: usize = lines.iter().map(|l| l.buy()).sum();
    let longest = lines.iter().filter_map(|l| l.size).map(|(long, _)| long).fold(0.0, f64::max);
    let bars = match count {
        1 => format!("1 bar of {} does", units.show(longest)),
        n => format!("{n} bars of up to {} do", units.show(longest)),
    };
    Some(Remark {
        message: format!("{bars} {} {}", way.does_not(), units.show(limit)),
        remedy: instead(job, layout, way, limit),
    })
}

/// What would do instead of bars longer than `limit`.
fn instead(job: &Job, layout: &Layout, way: Way, limit: f64) -> String {
    let units = job.units;
    let too_long = |part: Framed<'_>| {
        let members = part.frame().members.iter().filter(|m| !m.timber.is_ply());
        members.filter(|m| part.cut_length(m) > limit + SAME).count()
    };
    let pieces: usize = layout.framed().map(too_long).sum();
    match pieces {
        0 => {}
        1 => return format!("1 piece is longer than that: {}.", way.at_last()),
        n => {
            let at_last = way.at_last().replace(" it", " them").replace("them goes", "they go");
            return format!("{n} pieces are longer than that: {at_last}.");
        }
    }
    let shorter: Vec<Stock> =
        job.stock.iter().filter(|s| s.length <= limit + SAME).cloned().collect();
    let biller = Biller::new(layout);
    let now = biller.bill(layout, &job.stock, &job.saw);
    let then = biller.bill(layout, &shorter, &job.saw);
    let limit = units.show(limit);
    if then.no_bar > now.no_bar {
        return format!("Put lengths up to {limit} in the timber list, or {}.", way.or_else());
    }
    let more = dearer(job, &now, &then);
    format!("Every piece comes out of lengths up to {limit} too, {more}; or {}.", way.or_else())
}

/// What the shorter lengths cost more, or how much more of them is bought.
fn dearer(job: &Job, now: &Bill, then: &Bill) -> String {
    match now.price.zip(then.price) {
        Some((now, then)) if then > now + 0.005 => {
            format!("{} more", job.saw.money(then - now))
        }
        Some(_) => "at no more cost".into(),
        None if then.bought > now.bought + 1.0 => {
            format!("{} more to buy", job.units.run(then.bought - now.bought))
        }
        None => "no more to buy".into(),
    }
}

fn sheets_over(
    job: &Job,
    order: &Order,
    way: Way,
    length: Option<f64>,
    width: Option<f64>,
) -> Option<Remark> {
    let units = job.units;
    let over = |l: &&super::OrderLine| {
        l.size.is_some_and(|(long, short)| {
            length.is_some_and(|most| long > most + SAME)
                || width.is_some_and(|most| short > most + SAME)
        })
    };
    let lines: Vec<_> = order.of(Goods::Board).filter(over).collect();
    let largest =
        lines.iter().filter_map(|l| l.size).max_by(|a, b| (a.0 * a.1).total_cmp(&(b.0 * b.1)))?;
    let size = format!("{} × {}", units.show(largest.1), units.show(largest.0));
    let sheets = match lines.iter().map(|l| l.buy()).sum::<usize>() {
        1 => format!("1 sheet of {size} does"),
        n => format!("{n} sheets of up to {size} do"),
    };
    let most = match (length, width) {
        (Some(l), Some(w)) => format!("{} × {}", units.show(w), units.show(l)),
        (Some(l), None) => format!("{} long", units.show(l)),
        (None, Some(w)) => format!("{} wide", units.show(w)),
        (None, None) => return None,
    };
    Some(Remark {
        message: format!("{sheets} {} {most}", way.does_not()),
        remedy: format!("Choose a smaller sheet in the make-up, or {}.", way.or_else()),
    })
}
