//! Timber to be had, how the saw cuts, and what was handed to the crew.

use serde::{Deserialize, Serialize};

use super::Timber;
use super::is_default;
use crate::id::{Mark, Name};

/// One line of the timber list: a section in one length.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Stock {
    /// Section and strength class.
    pub timber: Timber,
    /// Length of a bar, mm.
    pub length: f64,
    /// Price of a bar in the job's own currency; `None` when not known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub price: Option<f64>,
    /// How many there are; `None` for as many as needed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub available: Option<u32>,
    /// How many are here already and cost nothing, whole ones or offcuts; `None` for what is bought.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub owned: Option<u32>,
    /// It is sold in bundles of so many only; `None` for one by one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pack: Option<u32>,
    /// Of those that are bought the share that is expected not to be straight enough for a full-height stud, 0 to 0.9.
    #[serde(default, skip_serializing_if = "is_default")]
    pub crooked: f64,
    /// True for owned bars that were looked at and are bowed: they give pieces that need not be straight.
    #[serde(default, skip_serializing_if = "is_default")]
    pub bowed: bool,
}

impl Stock {
    /// A line of straight bars sold one by one, as many as needed, price not known.
    pub fn new(timber: Timber, length: f64) -> Stock {
        let (price, available, owned, pack) = (None, None, None, None);
        Stock { timber, length, price, available, owned, pack, crooked: 0.0, bowed: false }
    }

    /// True for bars that are here and known to be bowed.
    pub fn is_bowed(&self) -> bool {
        self.bowed && self.owned.is_some()
    }

    /// What one costs: nothing when it is here already; `None` when not known.
    pub fn price_paid(&self) -> Option<f64> {
        if self.owned.is_some() { Some(0.0) } else { self.price }
    }

    /// The length that is bought with one, mm: none when it is here already.
    pub fn length_bought(&self) -> f64 {
        if self.owned.is_some() { 0.0 } else { self.length }
    }

    /// The list a new job starts with: the default section in the lengths sawn softwood is
    /// usually sold in, 2.4 to 4.8 m in steps of 0.6 m. Common practice.
    pub fn usual() -> Vec<Stock> {
        [2400.0, 3000.0, 3600.0, 4200.0, 4800.0]
            .into_iter()
            .map(|length| Stock::new(Timber::new(46.0, 97.0, "C16"), length))
            .collect()
    }
}

/// One line of the board list: sheets of one kind in one size.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SheetStock {
    /// The name of the board, as in the make-up.
    pub kind: Name,
    /// Its thickness, mm.
    pub thickness: f64,
    /// Width and length of a sheet, mm; the tapered edges run along the length.
    pub size: (f64, f64),
    /// Price of a sheet in the job's own currency; `None` when not known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub price: Option<f64>,
    /// How many are here already and cost nothing, whole ones or offcuts; `None` for what is bought, as many as needed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub owned: Option<u32>,
    /// It is sold in pallets or packs of so many only; `None` for one by one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pack: Option<u32>,
}

impl SheetStock {
    /// A line of sheets sold one by one, price not known.
    pub fn new(kind: Name, thickness: f64, size: (f64, f64)) -> SheetStock {
        SheetStock { kind, thickness, size, price: None, owned: None, pack: None }
    }
}

/// Bars of lengths that differ by less are one line, mm.
const SAME_LENGTH: f64 = 0.05;

/// Offcuts of timber are kept from this length, mm: a noggin between studs at 400 comes out of it. Common practice.
const KEEP_BAR: f64 = 400.0;

const fn keep_bar() -> f64 {
    KEEP_BAR
}

fn is_keep_bar(value: &f64) -> bool {
    *value == KEEP_BAR
}

/// What a piece that is measured in place is planned longer, mm. Common practice; from memory.
const MEASURED: f64 = 20.0;

const fn measured() -> f64 {
    MEASURED
}

fn is_measured(value: &f64) -> bool {
    *value == MEASURED
}

/// Nineteen times in twenty there are enough straight ones. Our own choice.
const SURE: f64 = 0.95;

const fn sure() -> f64 {
    SURE
}

fn is_sure(value: &f64) -> bool {
    *value == SURE
}

/// Offcuts of board are kept from this size of both sides, mm. Common practice.
const KEEP: f64 = 300.0;

const fn keep() -> f64 {
    KEEP
}

fn is_keep(value: &f64) -> bool {
    *value == KEEP
}

/// Where a bar comes from.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum BarFrom {
    /// It is bought.
    #[default]
    Bought,
    /// It is here already: an offcut, or a bar that was not bought for this job.
    Owned,
    /// It is a piece that was cut for this job, to a length that is not wanted any more.
    Piece,
}

impl BarFrom {
    /// “”, “yours”, “cut before”.
    pub fn label(self) -> &'static str {
        match self {
            BarFrom::Bought => "",
            BarFrom::Owned => "yours",
            BarFrom::Piece => "cut before",
        }
    }
}

/// A bar that has been cut.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CutBar {
    /// Section and strength class.
    pub timber: Timber,
    /// Its length, mm.
    pub length: f64,
    /// Where it came from.
    #[serde(default, skip_serializing_if = "is_default")]
    pub from: BarFrom,
    /// True when it was an owned one that was bowed.
    #[serde(default, skip_serializing_if = "is_default")]
    pub bowed: bool,
    /// What was cut from it: wall or platform, mark and length in mm.
    pub pieces: Vec<(Name, Mark, f64)>,
    /// The offcut that was kept and went back to the timber list, mm; 0 for none.
    #[serde(default, skip_serializing_if = "is_default")]
    pub kept: f64,
}

impl CutBar {
    /// Takes the bar out of the timber list where it was owned, and puts its offcut there.
    pub(super) fn use_up(&self, stock: &mut Vec<Stock>) {
        if self.from == BarFrom::Owned {
            self.count_owned(stock, self.length, false);
        }
        if self.kept > 0.0 {
            self.count_owned(stock, self.kept, true);
        }
    }

    /// False once the offcut that was kept of it has been cut up too.
    pub fn can_be_taken_back(&self, stock: &[Stock]) -> bool {
        self.kept <= 0.0 || owned_line(stock, &self.timber, self.kept, self.bowed).is_some()
    }

    /// Undoes [`use_up`](Self::use_up).
    pub(super) fn give_back(&self, stock: &mut Vec<Stock>) {
        if self.kept > 0.0 {
            self.count_owned(stock, self.kept, false);
        }
        if self.from == BarFrom::Owned {
            self.count_owned(stock, self.length, true);
        }
    }

    fn count_owned(&self, stock: &mut Vec<Stock>, length: f64, more: bool) {
        count_owned(stock, &self.timber, length, self.bowed, more);
    }
}

/// Which line has owned bars of this length, straight or bowed.
fn owned_line(stock: &[Stock], timber: &Timber, length: f64, bowed: bool) -> Option<usize> {
    stock.iter().position(|s| {
        let same = s.timber == *timber && (s.length - length).abs() < SAME_LENGTH;
        s.owned.is_some() && same && s.bowed == bowed
    })
}

/// Bars that came from the merchant: they are owned from now on, the straight ones and the bowed ones apart, and where
/// the merchant has only so many, so many fewer.
pub(super) fn deliver(stock: &mut Vec<Stock>, came: &Delivery) {
    let Delivery { timber, length, straight, bowed } = came;
    let merchant = stock.iter_mut().find(|s| {
        s.owned.is_none() && s.timber == *timber && (s.length - length).abs() < SAME_LENGTH
    });
    if let Some(there) = merchant.and_then(|s| s.available.as_mut()) {
        *there = there.saturating_sub(straight.saturating_add(*bowed));
    }
    for (n, bowed) in [(*straight, false), (*bowed, true)] {
        match owned_line(stock, timber, *length, bowed) {
            Some(i) => stock[i].owned = stock[i].owned.map(|had| had.saturating_add(n)),
            None if n > 0 => {
                let line = Stock::new(timber.clone(), *length);
                stock.push(Stock { owned: Some(n), bowed, ..line });
            }
            None => {}
        }
    }
}

/// Bars of one line that came from the merchant, sorted.
#[derive(Clone, Debug, PartialEq)]
pub struct Delivery {
    /// Section and strength class.
    pub timber: Timber,
    /// Length of a bar, mm.
    pub length: f64,
    /// How many are straight.
    pub straight: u32,
    /// How many are not.
    pub bowed: u32,
}

/// One owned bar of this length more, or one less; a line of none goes.
fn count_owned(stock: &mut Vec<Stock>, timber: &Timber, length: f64, bowed: bool, more: bool) {
    match owned_line(stock, timber, length, bowed) {
        Some(i) => {
            let n = stock[i].owned.unwrap_or(0);
            let n = if more { n.saturating_add(1) } else { n.saturating_sub(1) };
            stock[i].owned = Some(n);
            if n == 0 {
                stock.remove(i);
            }
        }
        None if more => {
            let line = Stock::new(timber.clone(), length);
            stock.push(Stock { owned: Some(1), bowed, ..line });
        }
        None => {}
    }
}

/// How the saw cuts, and the knife.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SawSettings {
    /// Width of the cut.
    pub kerf: f64,
    /// Trimmed off each bar before the first cut.
    #[serde(default, skip_serializing_if = "is_default")]
    pub trim: f64,
    /// The least that can be held for the last cut of a bar, mm: its longest piece, cut last, and what is left behind
    /// it come to no less. 0 where anything can be held.
    #[serde(default, skip_serializing_if = "is_default")]
    pub hold: f64,
    /// How much longer bars are planned for a piece that is measured in place before it is cut, mm.
    #[serde(default = "measured", skip_serializing_if = "is_measured")]
    pub measured: f64,
    /// How sure it has to be that of the bars to buy enough are straight: a chance, 0.5 to 0.999.
    #[serde(default = "sure", skip_serializing_if = "is_sure")]
    pub sure: f64,
    /// An offcut of timber is kept, and used again, from this length, mm.
    #[serde(default = "keep_bar", skip_serializing_if = "is_keep_bar")]
    pub keep_bar: f64,
    /// Width of the cut in boards, mm; nothing when they are scored and snapped.
    #[serde(default, skip_serializing_if = "is_default")]
    pub board_kerf: f64,
    /// An offcut of board is kept, and used again, when both its sides are so long, mm.
    #[serde(default = "keep", skip_serializing_if = "is_keep")]
    pub keep: f64,
    /// What prices are in, as printed: “£”, “€”, “kr”.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub currency: String,
}

impl SawSettings {
    /// A sum in the job's own currency: “£12.40”.
    pub fn money(&self, sum: f64) -> String {
        money(&self.currency, sum)
    }
}

/// A sum with its currency in front, apart from it where that is a word: “£12.40”, “kr 12.40”, “−£3.00”.
pub fn money(currency: &str, sum: f64) -> String {
    let minus = if (sum * 100.0).round() < 0.0 { "−" } else { "" };
    let apart = if currency.chars().count() > 1 { " " } else { "" };
    format!("{minus}{currency}{apart}{:.2}", sum.abs())
}

impl Default for SawSettings {
    fn default() -> SawSettings {
        SawSettings {
            kerf: 3.0,
            trim: 0.0,
            hold: 0.0,
            measured: MEASURED,
            sure: SURE,
            keep_bar: KEEP_BAR,
            board_kerf: 0.0,
            keep: KEEP,
            currency: String::new(),
        }
    }
}

/// A record of what was printed and handed out.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CrewCopy {
    /// Its letter: A for the first.
    pub letter: Name,
    /// The day, year-month-day.
    pub date: String,
    /// Who has it, or why it was printed.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
}

#[cfg(test)]
mod tests {
    use super::money;

    #[test]
    fn a_sum_has_its_sign_before_its_currency() {
        assert_eq!(money("£", 12.4), "£12.40");
        assert_eq!(money("kr", 12.4), "kr 12.40");
        assert_eq!(money("€", -27.04), "−€27.04");
        assert_eq!(money("", -0.001), "0.00");
    }
}
