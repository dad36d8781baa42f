//! Price lists: what the merchant sells and what it costs, as a table for a spreadsheet. A list is read whole or not at
//! all, what it would change is told beforehand, and then it is one edit.
//!
//! ```text
//! kind,what,thickness_mm,width_mm,length_mm,grade,pack,in_stock,needed,price,price_for
//! timber,,46,97,4800,C16,,,12,11.20,each
//! board,standard,12.5,1200,2400,,48,,22,9.40,each
//! sundries,screws 38,,,,,,,3,12.50,each
//! ```

mod numbers;
mod read;
mod write;

use std::collections::BTreeMap;

use crate::document::{Edit, Job, SheetStock, Stock, Timber, check};
use crate::id::Name;
use crate::math::same;
use crate::order::timber_name;
use crate::sundries::Need;
use crate::units::Units;
pub use read::{BadRow, read_prices};
pub use write::write_prices;

/// What a row is about.
#[derive(Clone, Debug, PartialEq)]
pub enum RowOf {
    /// Bars of a section in one length, mm.
    Timber(Timber, f64),
    /// Sheets of a kind and a thickness in one size, width and length, mm.
    Board(Name, f64, (f64, f64)),
    /// What goes with boards, by its name in the order.
    Sundries(Name),
}

impl RowOf {
    /// “46×97 C16, 4 800”, “standard 12.5, 1 200 × 2 400”, “screws 38”.
    pub fn words(&self, units: Units) -> String {
        match self {
            RowOf::Timber(timber, length) => {
                format!("{}, {}", timber_name(timber, units), units.show(*length))
            }
            RowOf::Board(kind, thickness, (width, length)) => format!(
                "{kind} {}, {} × {}",
                units.fine(*thickness),
                units.show(*width),
                units.show(*length)
            ),
            RowOf::Sundries(name) => name.to_string(),
        }
    }

    fn is(&self, other: &RowOf) -> bool {
        match (self, other) {
            (RowOf::Timber(a, l), RowOf::Timber(b, m)) => a == b && same(*l, *m),
            (RowOf::Board(a, t, s), RowOf::Board(b, u, z)) => {
                a == b && same(*t, *u) && same(s.0, z.0) && same(s.1, z.1)
            }
            (RowOf::Sundries(a), RowOf::Sundries(b)) => a == b,
            _ => false,
        }
    }
}

/// One row of a price list.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// Its line in the file, from 1.
    pub line: usize,
    /// What it is about.
    pub of: RowOf,
    /// What one costs; `None` where the cell is empty.
    pub price: Option<f64>,
    /// How many there are in a pack; `None` where the list has no such column, `Some(None)` for one by one.
    pub pack: Option<Option<u32>>,
    /// How many the merchant has; `None` where the list has no such column, `Some(None)` for as many as needed.
    pub in_stock: Option<Option<u32>>,
}

/// A price list that has been read.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PriceList {
    /// Its rows, no two about the same.
    pub rows: Vec<Row>,
    /// Heads of columns that are not read.
    pub unread: Vec<String>,
}

/// What a row would change.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Does {
    /// A line is added.
    Adds,
    /// The price of a line changes.
    Prices,
    /// The pack of a line changes, or how many there are, but not its price.
    Counts,
    /// Nothing.
    Nothing,
    /// Nothing: it is not in the job's lists, and has no price.
    LeftOut,
}

impl Does {
    /// “added”, “price changed”, “pack or stock changed”, “unchanged”, “left out: no price”.
    pub fn label(self) -> &'static str {
        match self {
            Does::Adds => "added",
            Does::Prices => "price changed",
            Does::Counts => "pack or stock changed",
            Does::Nothing => "unchanged",
            Does::LeftOut => "left out: no price",
        }
    }
}

/// What one row of a list would change in a job.
#[derive(Clone, Debug, PartialEq)]
pub struct Change {
    /// Its line in the file, from 1.
    pub line: usize,
    /// What it is about, in words.
    pub what: String,
    /// What it would do.
    pub does: Does,
    /// The price there is now.
    pub now: Option<f64>,
    /// The price there would be.
    pub then: Option<f64>,
    /// True for something that the order of the job does not call for under this name.
    pub stranger: bool,
}

/// What taking a price list over would change, row by row, and the edit that does it.
#[derive(Clone, Debug, PartialEq)]
pub struct Offer {
    /// Row by row, in the order of the file.
    pub changes: Vec<Change>,
    /// Lines of the job's lists that the price list says nothing of; they stay.
    pub others: usize,
    /// All of it as one step; `None` when nothing would change.
    pub edit: Option<Edit>,
}

impl Offer {
    /// How many rows do this.
    pub fn count(&self, does: Does) -> usize {
        self.changes.iter().filter(|c| c.does == does).count()
    }

    /// “2 added, 5 prices changed, 3 unchanged, 1 left out: no price; 4 lines of the job are not in the list and stay”
    pub fn in_words(&self) -> String {
        let all = [Does::Adds, Does::Prices, Does::Counts, Does::Nothing, Does::LeftOut];
        let parts = all.into_iter().filter_map(|does| match (self.count(does), does) {
            (0, _) => None,
            (n, Does::Prices) if n > 1 => Some(format!("{n} prices changed")),
            (n, does) => Some(format!("{n} {}", does.label())),
        });
        let parts: Vec<String> = parts.collect();
        let words = if parts.is_empty() { "no rows".into() } else { parts.join(", ") };
        match self.others {
            0 => words,
            1 => format!("{words}; 1 line of the job is not in the list and stays"),
            n => format!("{words}; {n} lines of the job are not in the list and stay"),
        }
    }
}

/// What taking `list` over would change in `job`, whose order calls for `needs`. `from` names the list in the undo step.
///
/// # Errors
/// When the job would then break a limit of job files: which.
pub fn offer(job: &Job, needs: &[Need], list: &PriceList, from: &str) -> Result<Offer, String> {
    let mut taken = Taken {
        stock: job.stock.clone(),
        sheets: job.sheets.clone(),
        prices: job.sundries.prices.clone(),
    };
    let change = |row: &Row| {
        let (does, now) = match &row.of {
            RowOf::Timber(timber, length) => taken.timber(row, timber, *length),
            RowOf::Board(kind, thickness, size) => taken.board(row, kind, *thickness, *size),
            RowOf::Sundries(name) => taken.sundry(row, name),
        };
        Change {
            line: row.line,
            what: row.of.words(job.units),
            does,
            now,
            then: row.price.or(now),
            stranger: matches!(&row.of, RowOf::Sundries(name) if !needs.iter().any(|n| n.what == *name)),
        }
    };
    let changes: Vec<Change> = list.rows.iter().map(change).collect();
    let others = lines(job).filter(|of| !list.rows.iter().any(|row| row.of.is(of))).count();
    let edit = taken.edit(job, from);
    if let Some(edit) = &edit {
        check(&edit.apply(job))?;
    }
    Ok(Offer { changes, others, edit })
}

/// What the lists of a job have lines of that are bought.
fn lines(job: &Job) -> impl Iterator<Item = RowOf> {
    let bars = job.stock.iter().filter(|s| s.owned.is_none());
    let sheets = job.sheets.iter().filter(|s| s.owned.is_none());
    let sundries = job.sundries.prices.keys().cloned().map(RowOf::Sundries);
    bars.map(|s| RowOf::Timber(s.timber.clone(), s.length))
        .chain(sheets.map(|s| RowOf::Board(s.kind.clone(), s.thickness, s.size)))
        .chain(sundries)
}

/// The lists of a job while rows are taken over.
struct Taken {
    stock: Vec<Stock>,
    sheets: Vec<SheetStock>,
    prices: BTreeMap<Name, f64>,
}

impl Taken {
    fn timber(&mut self, row: &Row, timber: &Timber, length: f64) -> (Does, Option<f64>) {
        let is =
            |s: &&mut Stock| s.owned.is_none() && s.timber == *timber && same(s.length, length);
        if let Some(line) = self.stock.iter_mut().find(is) {
            let before = line.clone();
            put(&mut line.price, row.price);
            line.pack = row.pack.unwrap_or(line.pack);
            line.available = row.in_stock.unwrap_or(line.available);
            return (does(before.price, line.price, before == *line), before.price);
        }
        let Some(price) = row.price else { return (Does::LeftOut, None) };
        let line = Stock {
            price: Some(price),
            pack: row.pack.flatten(),
            available: row.in_stock.flatten(),
            ..Stock::new(timber.clone(), length)
        };
        // Behind the shorter ones of its section.
        let after = |s: &Stock| s.timber == *timber && s.length < length;
        let any = |s: &Stock| s.timber == *timber;
        let at = self.stock.iter().rposition(after).map(|i| i + 1);
        let at = at.or_else(|| self.stock.iter().position(any)).unwrap_or(self.stock.len());
        self.stock.insert(at, line);
        (Does::Adds, None)
    }

    fn board(
        &mut self,
        row: &Row,
        kind: &Name,
        thickness: f64,
        size: (f64, f64),
    ) -> (Does, Option<f64>) {
        let is = |s: &&mut SheetStock| {
            s.owned.is_none()
                && s.kind == *kind
                && same(s.thickness, thickness)
                && same(s.size.0, size.0)
                && same(s.size.1, size.1)
        };
        if let Some(line) = self.sheets.iter_mut().find(is) {
            let before = line.clone();
            put(&mut line.price, row.price);
            line.pack = row.pack.unwrap_or(line.pack);
            return (does(before.price, line.price, before == *line), before.price);
        }
        let Some(price) = row.price else { return (Does::LeftOut, None) };
        let line = SheetStock {
            price: Some(price),
            pack: row.pack.flatten(),
            ..SheetStock::new(kind.clone(), thickness, size)
        };
        self.sheets.push(line);
        (Does::Adds, None)
    }

    fn sundry(&mut self, row: &Row, name: &Name) -> (Does, Option<f64>) {
        let now = self.prices.get(name).copied();
        let mut then = now;
        put(&mut then, row.price);
        match (now, then) {
            (None, None) => return (Does::LeftOut, None),
            (_, Some(price)) => drop(self.prices.insert(name.clone(), price)),
            (Some(_), None) => {}
        }
        let does = match now {
            None => Does::Adds,
            Some(_) => does(now, then, now == then),
        };
        (does, now)
    }

    fn edit(self, job: &Job, from: &str) -> Option<Edit> {
        let mut edits = Vec::new();
        if self.stock != job.stock {
            edits.push(Edit::SetStock(self.stock));
        }
        if self.sheets != job.sheets {
            edits.push(Edit::SetSheets(self.sheets));
        }
        if self.prices != job.sundries.prices {
            let mut sundries = job.sundries.clone();
            sundries.prices = self.prices;
            edits.push(Edit::SetSundries(sundries));
        }
        let label = format!("take over the prices of {from}");
        (!edits.is_empty()).then_some(Edit::Several(label, edits))
    }
}

/// Prices that differ by less are the same.
const SAME_PRICE: f64 = 1e-6;

/// Takes a price over where there is one and it is another.
fn put(price: &mut Option<f64>, new: Option<f64>) {
    if let Some(new) = new
        && price.is_none_or(|now| (now - new).abs() > SAME_PRICE)
    {
        *price = Some(new);
    }
}

fn does(before: Option<f64>, after: Option<f64>, same: bool) -> Does {
    match (before == after, same) {
        (false, _) => Does::Prices,
        (true, false) => Does::Counts,
        (true, true) => Does::Nothing,
    }
}
