//! Price lists read from text: by the names of their columns, whatever stands between them.

use std::collections::BTreeMap;
use std::fmt;

use super::numbers::{count, length, number};
use super::{PriceList, Row, RowOf};
use crate::document::Timber;
use crate::id::Name;

/// What to do about decimal commas.
const COMMAS: &str = "put a number with a decimal comma in quotes, or semicolons between cells";
/// Most rows of a list.
const MOST: usize = 5000;
/// Most characters of a name.
const NAME: usize = 200;
/// Most that is shown of a cell.
const SHOWN: usize = 30;

/// A row that could not be read, in one plain line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BadRow {
    /// Its line in the file, from 1.
    pub line: usize,
    /// What is wrong, and what was expected.
    pub message: String,
}

impl fmt::Display for BadRow {
    /// `7: price: …`, to be put after the file's name and a colon.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}", self.line, self.message)
    }
}

/// A column that is read, and what its head may be called.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Column {
    Kind,
    What,
    Section,
    Thickness,
    Width,
    Length,
    Grade,
    Pack,
    InStock,
    Price,
    PriceFor,
    Needed,
}

const HEADS: [(&str, Column); 14] = [
    ("kind", Column::Kind),
    ("what", Column::What),
    ("name", Column::What),
    ("section", Column::Section),
    ("thickness", Column::Thickness),
    ("width", Column::Width),
    ("depth", Column::Width),
    ("length", Column::Length),
    ("grade", Column::Grade),
    ("pack", Column::Pack),
    ("in_stock", Column::InStock),
    ("price", Column::Price),
    ("price_for", Column::PriceFor),
    ("needed", Column::Needed),
];

/// Reads a price list. Columns are known by their heads, in any order; commas, semicolons or tabs stand between them.
///
/// # Errors
/// Every row that is wrong, one line each: then nothing of the list is taken.
pub fn read_prices(text: &str) -> Result<PriceList, Vec<BadRow>> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let mut reader = csv::ReaderBuilder::new()
        .delimiter(delimiter(text))
        .has_headers(false)
        .flexible(true)
        .trim(csv::Trim::All)
        .from_reader(text.as_bytes());
    let mut lines = Lines { text, at: 0, line: 1 };
    // Text is read, so that there is nothing that could fail.
    let mut records = reader.records().filter_map(Result::ok).map(|record| {
        let from = record.position().map_or(0, |p| p.byte() as usize);
        (lines.of(from), record)
    });
    let Some((line, head)) = records.next() else {
        return Err(vec![bad(1, "the list is empty; its first line names its columns")]);
    };
    let (columns, unread) = heads(line, &head)?;
    let mut rows: Vec<Row> = Vec::new();
    let mut wrong = Vec::new();
    for (line, record) in records {
        if record.iter().all(str::is_empty) {
            continue;
        }
        if rows.len() + wrong.len() >= MOST {
            wrong.push(bad(line, format!("the list has more than {MOST} rows")));
            break;
        }
        let cells = Cells { columns: &columns, record: &record };
        match cells.row(line, head.len()) {
            Err(message) => wrong.push(BadRow { line, message }),
            Ok(row) => match rows.iter().find(|other| other.of.is(&row.of)) {
                Some(other) => {
                    let other = other.line;
                    wrong.push(bad(line, format!("it is about the same as line {other}")));
                }
                None => rows.push(row),
            },
        }
    }
    if wrong.is_empty() { Ok(PriceList { rows, unread }) } else { Err(wrong) }
}

/// Counts lines as the reader goes on.
struct Lines<'a> {
    text: &'a str,
    at: usize,
    line: usize,
}

impl Lines<'_> {
    /// The line of the first thing that stands at a byte or behind it; the reader counts from the end of the record before.
    fn of(&mut self, byte: usize) -> usize {
        let bytes = self.text.as_bytes();
        let blank = |b: &&u8| matches!(b, b'\n' | b'\r');
        let from = byte.min(bytes.len());
        let to = from + bytes[from..].iter().take_while(blank).count();
        if let Some(passed) = bytes.get(self.at..to) {
            self.line += passed.iter().filter(|b| **b == b'\n').count();
            self.at = to;
        }
        self.line
    }
}

fn bad(line: usize, message: impl Into<String>) -> BadRow {
    BadRow { line, message: message.into() }
}

/// What stands between cells: whichever of the three the first line has most of, outside quotes.
fn delimiter(text: &str) -> u8 {
    let first = text.lines().find(|l| !l.trim().is_empty()).unwrap_or_default();
    let mut quoted = false;
    let mut counts = [(b';', 0), (b'\t', 0), (b',', 0)];
    for c in first.bytes() {
        quoted ^= c == b'"';
        if let Some((_, n)) = counts.iter_mut().find(|(d, _)| *d == c && !quoted) {
            *n += 1;
        }
    }
    counts.into_iter().max_by_key(|(_, n)| *n).map_or(b',', |(d, _)| d)
}

/// Where each column is, and what its lengths are in.
type Columns = BTreeMap<Column, (usize, f64)>;

fn heads(line: usize, head: &csv::StringRecord) -> Result<(Columns, Vec<String>), Vec<BadRow>> {
    let mut columns = Columns::new();
    let mut unread = Vec::new();
    let mut wrong = Vec::new();
    for (i, cell) in head.iter().enumerate() {
        let name = cell.to_lowercase().replace([' ', '-'], "_");
        let (name, scale) = match (name.strip_suffix("_mm"), name.strip_suffix("_m")) {
            (Some(name), _) => (name, 1.0),
            (_, Some(name)) => (name, 1000.0),
            _ => (name.as_str(), 1.0),
        };
        let column = HEADS.iter().find(|(head, _)| *head == name).map(|(_, column)| *column);
        match column {
            Some(column) if columns.insert(column, (i, scale)).is_some() => {
                wrong.push(bad(line, format!("two columns are called {cell}; take one out")));
            }
            None if !cell.is_empty() => unread.push(short(cell)),
            _ => {}
        }
    }
    for (column, name) in [(Column::Kind, "kind"), (Column::Price, "price")] {
        if !columns.contains_key(&column) {
            let names = "kind, what, thickness_mm, width_mm, length_mm, grade, pack, in_stock, price, price_for";
            let message = format!(
                "there is no column called {name}; the first line names the columns: {names}"
            );
            wrong.push(bad(line, message));
        }
    }
    if wrong.is_empty() { Ok((columns, unread)) } else { Err(wrong) }
}

fn short(cell: &str) -> String {
    cell.chars().filter(|c| !c.is_control()).take(SHOWN).collect()
}

/// The cells of one row.
struct Cells<'a> {
    columns: &'a Columns,
    record: &'a csv::StringRecord,
}

impl Cells<'_> {
    /// The text of a cell; nothing where the row or the list has none.
    fn text(&self, column: Column) -> &str {
        let cell = self.columns.get(&column).and_then(|(i, _)| self.record.get(*i));
        let cell = cell.unwrap_or_default();
        // What was kept from being a formula.
        let guarded = cell.strip_prefix('\'').filter(|c| c.starts_with(['=', '+', '-', '@']));
        guarded.unwrap_or(cell)
    }

    fn scale(&self, column: Column) -> f64 {
        self.columns.get(&column).map_or(1.0, |(_, scale)| *scale)
    }

    fn row(&self, line: usize, heads: usize) -> Result<Row, String> {
        if self.record.iter().any(|cell| cell.contains(['\n', '\r'])) {
            return Err("a quote is opened and not closed on its line; close it".into());
        }
        let beyond = self.record.iter().skip(heads).any(|cell| !cell.is_empty());
        if beyond {
            return Err(format!(
                "it has {} cells, the first line {heads}; {COMMAS}",
                self.record.len()
            ));
        }
        let of = self.of()?;
        let pack = self.optional_count(Column::Pack, "pack", 1, 10_000)?;
        let in_stock = self.optional_count(Column::InStock, "in_stock", 0, 100_000)?;
        let pack = pack.map(|pack| pack.filter(|n| *n > 1));
        let price = self.price(&of, pack.flatten())?;
        Ok(Row { line, of, price, pack, in_stock })
    }

    fn of(&self) -> Result<RowOf, String> {
        match self.text(Column::Kind).to_lowercase().as_str() {
            "timber" | "bar" | "bars" => {
                let (thickness, depth) = self.section()?;
                let grade = self.text(Column::Grade);
                let grade = self.name("grade", if grade.is_empty() { "C16" } else { grade })?;
                let length = self.length(Column::Length, "length", (100.0, 100_000.0))?;
                Ok(RowOf::Timber(Timber::new(thickness, depth, grade), length))
            }
            "board" | "boards" | "sheet" | "sheets" => {
                let kind = self.name("what", self.text(Column::What))?;
                let thickness = self.length(Column::Thickness, "thickness", (0.1, 100.0))?;
                let width = self.length(Column::Width, "width", (10.0, 10_000.0))?;
                let length = self.length(Column::Length, "length", (10.0, 10_000.0))?;
                Ok(RowOf::Board(kind, thickness, (width, length)))
            }
            "sundries" | "sundry" => {
                Ok(RowOf::Sundries(self.name("what", self.text(Column::What))?))
            }
            "" => Err("kind: it is empty; expected timber, board or sundries".into()),
            other => {
                Err(format!("kind: “{}” is none; expected timber, board or sundries", short(other)))
            }
        }
    }

    /// Thickness and depth, from their own columns or from one: “46x97”.
    fn section(&self) -> Result<(f64, f64), String> {
        let text = self.text(Column::Section);
        if text.is_empty() {
            let thickness = self.length(Column::Thickness, "thickness", (5.0, 600.0))?;
            return Ok((thickness, self.length(Column::Width, "width", (5.0, 600.0))?));
        }
        let parts: Vec<&str> = text.split(['x', 'X', '×', '*']).collect();
        let [a, b] = parts[..] else {
            return Err(format!("section: “{}” is none; expected one such as 46x97", short(text)));
        };
        let side = |cell: &str| {
            let value = length(cell, 1.0)?;
            within(value, (5.0, 600.0)).map(|()| value)
        };
        let (a, b) =
            side(a).and_then(|a| Ok((a, side(b)?))).map_err(|e| format!("section: {e}"))?;
        Ok((a.min(b), a.max(b)))
    }

    fn length(&self, column: Column, name: &str, limits: (f64, f64)) -> Result<f64, String> {
        let cell = self.text(column);
        if cell.is_empty() {
            return Err(format!("{name}: it is empty; expected a number of mm"));
        }
        let value = length(cell, self.scale(column)).map_err(|e| format!("{name}: {e}"))?;
        within(value, limits).map_err(|e| format!("{name}: {e}"))?;
        Ok(value)
    }

    fn name(&self, column: &str, text: &str) -> Result<Name, String> {
        if text.is_empty() {
            return Err(format!("{column}: it is empty; say what it is"));
        }
        if text.chars().count() > NAME || text.chars().any(char::is_control) {
            return Err(format!("{column}: “{}” is no name", short(text)));
        }
        Ok(Name::new(text))
    }

    fn optional_count(
        &self,
        column: Column,
        name: &str,
        least: u32,
        most: u32,
    ) -> Result<Option<Option<u32>>, String> {
        if !self.columns.contains_key(&column) {
            return Ok(None);
        }
        match self.text(column) {
            "" => Ok(Some(None)),
            cell => {
                count(cell, least, most).map(|n| Some(Some(n))).map_err(|e| format!("{name}: {e}"))
            }
        }
    }

    /// What one costs, from the price of one, of a pack, of a metre or of a square metre.
    fn price(&self, of: &RowOf, pack: Option<u32>) -> Result<Option<f64>, String> {
        let cell = self.text(Column::Price);
        if cell.is_empty() {
            return Ok(None);
        }
        let price = number(cell).map_err(|e| format!("price: {e}"))?;
        let price_for = self.text(Column::PriceFor).to_lowercase();
        let each = match (price_for.as_str(), of) {
            ("" | "each" | "1", _) => price,
            ("pack", _) => match pack {
                Some(pack) => price / f64::from(pack),
                None => return Err("price_for: it is for a pack, and pack is empty".into()),
            },
            ("m", RowOf::Timber(_, length)) => price * length / 1000.0,
            ("m2" | "m²", RowOf::Board(_, _, (width, length))) => price * width * length / 1e6,
            (digits, _) if digits.chars().all(|c| c.is_ascii_digit()) => {
                return Err(format!(
                    "price_for: “{}” looks like the end of a number; {COMMAS}",
                    short(digits)
                ));
            }
            (other, _) => {
                return Err(format!(
                    "price_for: “{}” will not do; expected each, pack, m for timber or m2 for boards",
                    short(other)
                ));
            }
        };
        within(each, (0.0, 1_000_000.0)).map_err(|e| format!("price: {e}"))?;
        Ok(Some(each))
    }
}

fn within(value: f64, (least, most): (f64, f64)) -> Result<(), String> {
    if (least..=most).contains(&value) {
        Ok(())
    } else {
        Err(format!("{value} is out of range; expected {least} to {most}"))
    }
}
