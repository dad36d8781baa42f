//! Price lists written for the merchant to fill in, and to be read again.

use super::RowOf;
use crate::document::Job;
use crate::id::Name;
use crate::order::{Goods, Order, OrderLine, timber_name};

/// The job's lists and what its order calls for as a table: what costs nothing yet has an empty price. Read again it
/// changes nothing.
pub fn write_prices(job: &Job, order: &Order) -> String {
    let mut out =
        csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
    let head = [
        "kind",
        "what",
        "thickness_mm",
        "width_mm",
        "length_mm",
        "grade",
        "pack",
        "in_stock",
        "needed",
        "price",
        "price_for",
    ];
    let rows = std::iter::once(head.map(String::from)).chain(rows(job, order));
    for row in rows {
        // It is written to memory, which does not fail.
        let _ = out.write_record(row);
    }
    let bytes = out.into_inner().unwrap_or_default();
    String::from_utf8(bytes).unwrap_or_default()
}

fn rows(job: &Job, order: &Order) -> impl Iterator<Item = [String; 11]> {
    let needed = |goods: Goods, what: &str, of: &str| {
        let is = |l: &&OrderLine| l.goods == goods && l.what == what && l.of == of;
        order.lines.iter().find(is).map_or(0, OrderLine::buy)
    };
    let units = job.units;
    let mut rows = Rows { of: Vec::new(), rows: Vec::new() };
    for s in job.stock.iter().filter(|s| s.owned.is_none()) {
        let needed = needed(Goods::Timber, &timber_name(&s.timber, units), &units.show(s.length));
        let of = RowOf::Timber(s.timber.clone(), s.length);
        rows.put(of, (s.price, s.pack, s.available), needed);
    }
    let board = |kind: &Name, thickness: f64, (w, l): (f64, f64)| {
        let name = format!("board {kind} {}", units.fine(thickness));
        needed(Goods::Board, &name, &format!("{} × {}", units.show(w), units.show(l)))
    };
    for s in job.sheets.iter().filter(|s| s.owned.is_none()) {
        let of = RowOf::Board(s.kind.clone(), s.thickness, s.size);
        rows.put(of, (s.price, s.pack, None), board(&s.kind, s.thickness, s.size));
    }
    for (kind, thickness, size) in &order.sheets {
        let of = RowOf::Board(kind.clone(), *thickness, *size);
        rows.put(of, (None, None, None), board(kind, *thickness, *size));
    }
    for line in order.of(Goods::Sundries) {
        let of = RowOf::Sundries(Name::new(line.what.as_str()));
        rows.put(of, (line.each, None, None), line.buy());
    }
    for (name, price) in &job.sundries.prices {
        rows.put(RowOf::Sundries(name.clone()), (Some(*price), None, None), 0);
    }
    rows.rows.into_iter()
}

/// The rows so far, no two about the same: of two lines that are alike the first is written.
struct Rows {
    of: Vec<RowOf>,
    rows: Vec<[String; 11]>,
}

impl Rows {
    fn put(&mut self, of: RowOf, sold: Sold, needed: usize) {
        if !self.of.iter().any(|other| other.is(&of)) {
            self.rows.push(row(&of, sold, needed));
            self.of.push(of);
        }
    }
}

type Sold = (Option<f64>, Option<u32>, Option<u32>);

fn row(of: &RowOf, (price, pack, in_stock): Sold, needed: usize) -> [String; 11] {
    let number = |value: f64| format!("{value}");
    let (kind, what, sizes, grade) = match of {
        RowOf::Timber(t, length) => {
            let sizes = [t.thickness(), t.depth(), *length].map(number);
            ("timber", String::new(), sizes, t.grade().to_string())
        }
        RowOf::Board(kind, thickness, (w, l)) => {
            ("board", kind.to_string(), [*thickness, *w, *l].map(number), String::new())
        }
        RowOf::Sundries(name) => ("sundries", name.to_string(), Default::default(), String::new()),
    };
    let [thickness, width, length] = sizes;
    let (price, price_for) = match price {
        None => (String::new(), "each"),
        Some(each) => written(each, pack),
    };
    let count = |n: Option<u32>| n.map_or(String::new(), |n| n.to_string());
    [
        kind.into(),
        guarded(&what),
        thickness,
        width,
        length,
        guarded(&grade),
        count(pack),
        count(in_stock),
        needed.to_string(),
        price,
        price_for.into(),
    ]
}

/// A price of one, or of a pack where only that is a whole number of hundredths.
fn written(each: f64, pack: Option<u32>) -> (String, &'static str) {
    let is_whole = |price: f64| (price * 100.0 - (price * 100.0).round()).abs() < 1e-6;
    let of_pack = pack.map(|pack| each * f64::from(pack));
    match of_pack.filter(|of_pack| !is_whole(each) && is_whole(*of_pack)) {
        Some(of_pack) => (format!("{of_pack:.2}"), "pack"),
        None if is_whole(each) => (format!("{each:.2}"), "each"),
        None => (format!("{each}"), "each"),
    }
}

/// Text that no spreadsheet takes for a formula.
fn guarded(text: &str) -> String {
    let one_line: String = text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
    let one_line = one_line.trim().to_string();
    if one_line.starts_with(['=', '+', '-', '@']) { format!("'{one_line}") } else { one_line }
}
