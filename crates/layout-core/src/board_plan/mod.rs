//! Sheets of board to buy, and how each is cut: for every kind and thickness the fewest that give every board of the
//! job, the offcuts of one used for another.
//!
//! Boards are scored and snapped, so every cut goes right across and takes nothing away, unless the job says that
//! they are sawn. A board that another is joined to lengthways lies as its sheet does, its long edges along the tapers.

mod blanks;

use std::collections::BTreeMap;
use std::fmt;

use saw::sheets::{Pattern, Problem, Sheet};

use crate::boards::On;
use crate::document::{Job, SheetStock};
use crate::id::Name;
use crate::layout::Layout;
use blanks::{Alike, Kind, Rings, Wanted, hundredths, tenths, wanted};

/// Which board it is, as on the elevation of its wall.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct BoardMark {
    /// Its wall or platform; “room” for the room's own ceiling.
    pub wall: Name,
    /// What of it.
    pub on: On,
    /// Its layer, from 0 at the frame.
    pub layer: usize,
    /// Its number there.
    pub number: usize,
}

impl fmt::Display for BoardMark {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {} {}", self.wall, self.on.label(), self.number)
    }
}

/// Marks in few words: “A right 1–3 5, B left 2”.
pub fn marks_in_words(marks: &[BoardMark]) -> String {
    let mut marks: Vec<&BoardMark> = marks.iter().collect();
    marks.sort();
    let place = |m: &BoardMark| (m.wall.clone(), m.on);
    let places = marks.chunk_by(|a, b| place(a) == place(b)).map(|there| {
        let runs = there.chunk_by(|a, b| b.number == a.number + 1).map(|run| match run {
            [a, .., b] => format!("{}–{}", a.number, b.number),
            one => one.iter().map(|m| m.number.to_string()).collect(),
        });
        let first = there[0];
        let runs: Vec<String> = runs.collect();
        format!("{} {} {}", first.wall, first.on.label(), runs.join(" "))
    });
    places.collect::<Vec<String>>().join(", ")
}

/// A rectangle on a sheet: from its lower left corner across and along it, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Patch {
    /// From the left edge, mm.
    pub x: f64,
    /// From the lower edge, mm.
    pub y: f64,
    /// Across the sheet, mm.
    pub width: f64,
    /// Along the sheet, mm.
    pub length: f64,
}

/// A board as it lies on its sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Laid {
    /// Its blank.
    pub at: Patch,
    /// True when its length lies across the sheet.
    pub turned: bool,
    /// Its outline and holes on the sheet, seen from the side that looks into the room, mm.
    pub rings: Vec<Vec<[f64; 2]>>,
    /// Which board it is, on each of the sheets cut alike.
    pub marks: Vec<BoardMark>,
}

impl Laid {
    /// True when its blank is all there is to it.
    pub fn is_rectangle(&self) -> bool {
        self.rings.len() == 1 && self.rings[0].len() == 4 && {
            let on = |v: f64, from: f64, size: f64| {
                (v - from).abs() < 0.1 || (v - from - size).abs() < 0.1
            };
            let p = self.at;
            self.rings[0].iter().all(|c| on(c[0], p.x, p.width) && on(c[1], p.y, p.length))
        }
    }
}

/// One cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BoardCut {
    /// The part of the sheet it goes right across.
    pub through: Patch,
    /// True when it goes across the sheet, false when it goes along it.
    pub across: bool,
    /// Where, from the lower or the left edge of the sheet, mm.
    pub at: f64,
}

/// Sheets cut alike.
#[derive(Clone, Debug, PartialEq)]
pub struct CutSheet {
    /// Width and length of the sheet, mm.
    pub size: (f64, f64),
    /// True when it is here already and is not bought.
    pub owned: bool,
    /// How many.
    pub count: usize,
    /// The boards that come out of each.
    pub boards: Vec<Laid>,
    /// The cuts, in the order they are made. Cutting round openings is not among them.
    pub cuts: Vec<BoardCut>,
    /// What is worth keeping of each, largest first.
    pub offcuts: Vec<Patch>,
}

/// The sheets of one kind and thickness.
#[derive(Clone, Debug, PartialEq)]
pub struct BoardPlan {
    /// The name of the board.
    pub kind: Name,
    /// Its thickness, mm.
    pub thickness: f64,
    /// The sheets: size by size, the fullest first.
    pub sheets: Vec<CutSheet>,
    /// Boards that no sheet gives.
    pub left_over: Vec<BoardMark>,
    /// How many boards.
    pub boards: usize,
    /// Area of the boards on the walls, mm².
    pub area: f64,
    /// What the sheets to buy cost, when all have a price.
    pub price: Option<f64>,
    /// No plan can do with fewer sheets to buy.
    pub fewest: usize,
    /// True when it is proven that nothing cheaper will do.
    pub proven: bool,
}

impl BoardPlan {
    /// How many sheets to buy.
    pub fn bought(&self) -> usize {
        self.sheets.iter().filter(|s| !s.owned).map(|s| s.count).sum()
    }

    /// How many sheets and offcuts that are here already are used.
    pub fn owned(&self) -> usize {
        self.sheets.iter().filter(|s| s.owned).map(|s| s.count).sum()
    }

    /// How near it is to the best there could be, in words.
    pub fn bound_in_words(&self) -> String {
        let bought = self.bought();
        if self.proven {
            "proven: nothing cheaper will do".into()
        } else if bought <= self.fewest {
            "no fewer will do; another size might be cheaper".into()
        } else {
            let (more, least) = (bought - self.fewest, self.fewest);
            format!("at most {more} more than need be: no plan can do with fewer than {least}")
        }
    }

    /// How many of each size to buy, width and length in mm.
    pub fn by_size(&self) -> Vec<((f64, f64), usize)> {
        let mut sizes: Vec<((f64, f64), usize)> = Vec::new();
        for sheet in self.sheets.iter().filter(|s| !s.owned) {
            match sizes.iter_mut().find(|(size, _)| *size == sheet.size) {
                Some((_, n)) => *n += sheet.count,
                None => sizes.push((sheet.size, sheet.count)),
            }
        }
        sizes
    }

    /// Area of all sheets that are cut, mm².
    pub fn sheet_area(&self) -> f64 {
        self.sheets.iter().map(|s| s.size.0 * s.size.1 * s.count as f64).sum()
    }

    /// The share of the sheets that is not on the walls, offcuts worth keeping counted, per cent.
    pub fn waste(&self) -> f64 {
        let whole = self.sheet_area();
        if whole > 0.0 && self.left_over.is_empty() {
            (1.0 - self.area / whole) * 100.0
        } else {
            0.0
        }
    }
}

/// The sheets of every kind and thickness a job is boarded with, in order of kind.
pub fn board_plans(job: &Job, layout: &Layout) -> Vec<BoardPlan> {
    let kinds = wanted(layout, job.saw.board_kerf, job.saw.keep);
    kinds.iter().map(|(kind, wanted)| plan(job, kind, wanted)).collect()
}

/// One size of sheet that can be had.
struct Had {
    size: (f64, f64),
    price: Option<f64>,
    owned: Option<u32>,
}

/// The sizes to be had: those in the board list, and those the walls were boarded with.
fn sizes(job: &Job, kind: &Kind, wanted: &Wanted) -> Vec<Had> {
    let of = |s: &&SheetStock| s.kind == kind.0 && hundredths(s.thickness) == kind.1;
    let had = |s: &SheetStock| Had { size: s.size, price: s.price, owned: s.owned };
    let mut all: Vec<Had> = job.sheets.iter().filter(of).map(had).collect();
    for &(width, length) in &wanted.sizes {
        let same =
            |h: &Had| h.owned.is_none() && (tenths(h.size.0), tenths(h.size.1)) == (width, length);
        if !all.iter().any(same) {
            let size = (width as f64 / 10.0, length as f64 / 10.0);
            all.push(Had { size, price: None, owned: None });
        }
    }
    all
}

/// The sizes to be had, and the problem of cutting the boards from them.
fn problem(job: &Job, kind: &Kind, wanted: &Wanted) -> (Vec<Had>, Problem) {
    let had = sizes(job, kind, wanted);
    let priced = had.iter().all(|h| h.owned.is_some() || h.price.is_some());
    let sheets = had.iter().map(|h| {
        let (width, length) = (tenths(h.size.0), tenths(h.size.1));
        // Hundredths of the currency, or square millimetres when prices are not all known; never nothing for
        // what is bought.
        let cost = match h.price {
            _ if h.owned.is_some() => 0,
            Some(price) if priced => ((price.clamp(0.0, 1e9) * 100.0).round() as u64).max(1),
            _ => (width.saturating_mul(length) / 100).max(1),
        };
        Sheet { width, length, cost, available: h.owned }
    });
    let blanks = wanted.boards.iter().map(|(alike, boards)| saw::sheets::Blank {
        width: alike.width,
        length: alike.length,
        turns: alike.turns,
        count: u32::try_from(boards.len()).unwrap_or(u32::MAX),
        cut_outs: alike.cut_outs.clone(),
    });
    let problem = Problem {
        kerf: tenths(job.saw.board_kerf),
        keep: tenths(job.saw.keep),
        sheets: sheets.collect(),
        blanks: blanks.collect(),
    };
    (had, problem)
}

/// What the sheets come to that are bought for `found`, when all have a price.
fn price(had: &[Had], found: &saw::sheets::Plan) -> Option<f64> {
    let bought = found.patterns.iter().filter(|p| had[p.sheet].owned.is_none());
    bought.map(|p| had[p.sheet].price.map(|price| price * f64::from(p.count))).sum()
}

fn plan(job: &Job, kind: &Kind, wanted: &Wanted) -> BoardPlan {
    let (had, problem) = problem(job, kind, wanted);
    let found = saw::sheets::plan(&problem);
    let mut dealt = Dealt::of(wanted);
    let sheets: Vec<CutSheet> =
        found.patterns.iter().flat_map(|p| dealt.sheets(&problem, &had[p.sheet], p)).collect();
    let left_over = found.left_over.iter().flat_map(|&(blank, n)| dealt.marks(blank, n)).collect();
    BoardPlan {
        kind: kind.0.clone(),
        thickness: kind.1 as f64 / 100.0,
        sheets,
        left_over,
        boards: wanted.boards.values().map(Vec::len).sum(),
        area: wanted.area,
        price: price(&had, &found),
        fewest: usize::try_from(found.least_sheets).unwrap_or(usize::MAX),
        proven: found.proven(&problem),
    }
}

/// What the sheets of a job come to: the sums of its [`board_plans`].
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SheetBill {
    /// Sheets to buy.
    pub sheets: usize,
    /// Area of all sheets that are cut, mm².
    pub sheet_area: f64,
    /// Area of the boards, mm².
    pub area: f64,
    /// What the sheets to buy cost, when all have a price and every board a sheet.
    pub price: Option<f64>,
    /// Boards that no sheet gives.
    pub no_sheet: usize,
}

impl SheetBill {
    /// The share of the sheets that is not on the walls, offcuts worth keeping counted, per cent.
    pub fn waste(&self) -> f64 {
        if self.sheet_area > 0.0 { (1.0 - self.area / self.sheet_area) * 100.0 } else { 0.0 }
    }
}

/// Adds up one job after another of which little differs: what was asked before is not worked out again.
#[derive(Default)]
pub struct SheetBiller {
    asked: Vec<(Problem, saw::sheets::Plan)>,
}

impl SheetBiller {
    /// What the sheets of `layout` come to.
    pub fn bill(&mut self, job: &Job, layout: &Layout) -> SheetBill {
        let mut bill = SheetBill { price: Some(0.0), ..SheetBill::default() };
        for (kind, wanted) in &wanted(layout, job.saw.board_kerf, job.saw.keep) {
            let (had, problem) = problem(job, kind, wanted);
            let known = self.asked.iter().position(|(asked, _)| *asked == problem);
            let at = known.unwrap_or_else(|| {
                let found = saw::sheets::plan(&problem);
                self.asked.push((problem, found));
                self.asked.len() - 1
            });
            let found = &self.asked[at].1;
            for pattern in &found.patterns {
                let of = &had[pattern.sheet];
                let count = pattern.count as usize;
                bill.sheets += if of.owned.is_none() { count } else { 0 };
                bill.sheet_area += of.size.0 * of.size.1 * count as f64;
            }
            bill.area += wanted.area;
            bill.no_sheet += found.left_over.iter().map(|(_, n)| *n as usize).sum::<usize>();
            bill.price = bill.price.zip(price(&had, found)).map(|(sum, p)| sum + p);
        }
        bill.price = bill.price.filter(|_| bill.no_sheet == 0);
        bill
    }
}

/// Boards still to be dealt out, by blank; those of one shape together.
struct Dealt<'a> {
    kinds: Vec<&'a Alike>,
    left: Vec<std::slice::Iter<'a, (Rings, BoardMark)>>,
}

impl<'a> Dealt<'a> {
    fn of(wanted: &'a Wanted) -> Dealt<'a> {
        Dealt {
            kinds: wanted.boards.keys().collect(),
            left: wanted.boards.values().map(|boards| boards.iter()).collect(),
        }
    }

    fn marks(&mut self, blank: usize, count: u32) -> Vec<BoardMark> {
        let next = self.left[blank].by_ref().take(count as usize);
        next.map(|(_, mark)| mark.clone()).collect()
    }

    /// The sheets of a pattern with their boards: those with boards of the same shapes are cut alike.
    fn sheets(&mut self, problem: &Problem, had: &Had, pattern: &Pattern) -> Vec<CutSheet> {
        let placed: Vec<_> = pattern.placed().collect();
        let mut alike: BTreeMap<Vec<&Rings>, Vec<Vec<BoardMark>>> = BTreeMap::new();
        for _ in 0..pattern.count {
            let boards = placed.iter().filter_map(|p| self.left[p.blank].next());
            let (rings, marks): (Vec<&Rings>, Vec<BoardMark>) =
                boards.map(|(rings, mark)| (rings, mark.clone())).unzip();
            alike.entry(rings).or_default().push(marks);
        }
        let sheet = |(rings, sheets): (Vec<&Rings>, Vec<Vec<BoardMark>>)| CutSheet {
            size: had.size,
            owned: had.owned.is_some(),
            count: sheets.len(),
            boards: placed
                .iter()
                .zip(rings)
                .enumerate()
                .map(|(i, (p, rings))| Laid {
                    at: patch(p.at),
                    turned: p.turned,
                    rings: on_sheet(rings, p.at, self.kinds[p.blank].length, p.turned),
                    marks: sheets.iter().map(|marks| marks[i].clone()).collect(),
                })
                .collect(),
            cuts: pattern
                .cuts()
                .map(|c| BoardCut { through: patch(c.through), across: c.across, at: mm(c.at) })
                .collect(),
            offcuts: pattern.offcuts(problem.keep).into_iter().map(patch).collect(),
        };
        alike.into_iter().map(sheet).collect()
    }
}

fn mm(tenths: u64) -> f64 {
    tenths as f64 / 10.0
}

fn patch(r: saw::sheets::Rect) -> Patch {
    Patch { x: mm(r.x), y: mm(r.y), width: mm(r.width), length: mm(r.length) }
}

/// Lines on a blank as they lie on the sheet.
fn on_sheet(rings: &Rings, at: saw::sheets::Rect, length: u64, turned: bool) -> Vec<Vec<[f64; 2]>> {
    let place = |&[x, y]: &[i64; 2]| {
        let (x, y) = (x as f64 / 10.0, y as f64 / 10.0);
        let (x, y) = if turned { (mm(length) - y, x) } else { (x, y) };
        [mm(at.x) + x, mm(at.y) + y]
    };
    rings.iter().map(|ring| ring.iter().map(place).collect()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::document::Face;

    #[test]
    fn marks_are_told_in_few_words() {
        let mark = |on, layer, number| BoardMark { wall: "A".into(), on, layer, number };
        let (left, right) = (On::Face(Face::Left), On::Face(Face::Right));
        let marks = [mark(right, 0, 3), mark(right, 0, 1), mark(right, 0, 2), mark(left, 1, 7)];
        assert_eq!(marks_in_words(&marks), "A left 7, A right 1–3");
        assert_eq!(marks_in_words(&[mark(right, 0, 2), mark(right, 0, 4)]), "A right 2 4");
        assert_eq!(marks_in_words(&[]), "");
    }
}
