//! The question: what is to be cut, and from what; and what is wrong with it.

use std::fmt;

/// One kind of bar.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StockLine {
    /// Its length, tenths of a millimetre.
    pub length: u64,
    /// What one costs, in any whole unit.
    pub cost: u64,
    /// How many there are; `None` for as many as needed.
    pub available: Option<u32>,
}

/// Pieces of one length.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Demand {
    /// Their length, tenths of a millimetre.
    pub length: u64,
    /// How many.
    pub count: u64,
}

/// A cutting problem.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Problem {
    /// Width of the saw cut, tenths of a millimetre.
    pub kerf: u64,
    /// Trimmed off every bar before the first piece, tenths of a millimetre.
    pub trim: u64,
    /// The least that can be held for the last cut of a bar: its longest piece, cut last, and what is left over
    /// behind it come to no less. Tenths of a millimetre; 0 where anything can be held.
    pub hold: u64,
    /// The bars to be had.
    pub stock: Vec<StockLine>,
    /// The pieces. A length may be named more than once.
    pub pieces: Vec<Demand>,
}

/// No length is more, tenths of a millimetre.
pub const LONGEST: u64 = 1_000_000_000;
/// So many pieces in all.
pub const MOST_PIECES: u64 = 1_000_000_000;
/// So many different lengths of piece.
pub const MOST_LENGTHS: usize = 5_000;
/// So many lines of stock.
pub const MOST_LINES: usize = 500;
/// So many pieces on one bar.
pub const MOST_ON_A_BAR: u64 = 100_000;
/// The dearest bar times the number of pieces is no more, so that no sum overflows.
const DEAREST: u128 = 1 << 62;

/// What is wrong with a problem, in words for the person who asked.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Fault {
    /// A length is zero or beyond [`LONGEST`]: what it is of, and the length in tenths of a millimetre.
    Length(String, u64),
    /// More of something than the planner counts: how many of what, and the most there may be.
    Many(u64, &'static str, u64),
    /// Prices and counts multiply to more than can be added up.
    Dear,
    /// No bar gives this length: the length, the longest piece any bar gives (`None` where no bar gives any) and
    /// the shortest bar that would do. Tenths of a millimetre.
    TooLong {
        /// The piece.
        length: u64,
        /// The longest piece to be had.
        longest: Option<u64>,
        /// The bar that would do.
        wanted: u64,
    },
}

impl Fault {
    /// The same in words, where a millimetre is so many of the problem's units.
    pub fn say(&self, per_mm: u64) -> String {
        let mm = |length: u64| length as f64 / per_mm as f64;
        match self {
            Fault::Length(what, length) => {
                format!("{what}: {} mm is not between 0 and {} mm", mm(*length), mm(LONGEST))
            }
            Fault::Many(n, what, most) => format!("{n} {what} are more than {most}"),
            Fault::Dear => "the prices are too large for so many pieces".to_string(),
            Fault::TooLong { length, longest, wanted } => {
                let there = match longest {
                    Some(longest) => format!("the longest to be had is {} mm", mm(*longest)),
                    None => "there are no bars to cut".to_string(),
                };
                let (length, wanted) = (mm(*length), mm(*wanted));
                format!(
                    "no bar gives a piece of {length} mm: {there}; a bar of {wanted} mm would do"
                )
            }
        }
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.say(10))
    }
}

impl std::error::Error for Fault {}

/// Lengths gathered: every length once with its count, longest first.
pub fn demands(lengths: &[u64]) -> Vec<Demand> {
    let mut lengths = lengths.to_vec();
    lengths.sort_unstable_by(|a, b| b.cmp(a));
    let alike = lengths.chunk_by(|a, b| a == b);
    alike.map(|alike| Demand { length: alike[0], count: alike.len() as u64 }).collect()
}

impl Problem {
    /// What a bar of `length` holds, with one saw cut added so that every piece can be counted
    /// with its own: n pieces fit when the sum of (piece + kerf) is no more. `None` when trim leaves nothing, or
    /// less than can be held.
    pub fn room(&self, length: u64) -> Option<u64> {
        let whole = length.checked_sub(self.trim)?;
        (whole > 0 && whole >= self.hold).then_some(whole.saturating_add(self.kerf))
    }

    /// Pieces in all.
    pub fn count(&self) -> u64 {
        self.pieces.iter().fold(0, |sum, p| sum.saturating_add(p.count))
    }

    /// Every length once with its count, longest first; none of which there are none.
    pub fn gathered(&self) -> Vec<Demand> {
        let mut all: Vec<Demand> = self.pieces.iter().copied().filter(|p| p.count > 0).collect();
        all.sort_by_key(|p| std::cmp::Reverse(p.length));
        all.dedup_by(|again, first| {
            let same = again.length == first.length;
            if same {
                first.count = first.count.saturating_add(again.count);
            }
            same
        });
        all
    }

    /// True when what is left of a bar can be held for its last cut: `longest` is its longest piece, `spare` what
    /// of its room no piece takes.
    pub(crate) fn holds(&self, longest: u64, spare: u64) -> bool {
        longest + spare >= self.hold
    }

    /// Whether the numbers are small enough to be reckoned with.
    pub fn sizes(&self) -> Result<(), Fault> {
        let within = |what: &str, length: u64, least: u64| {
            if (least..=LONGEST).contains(&length) {
                return Ok(());
            }
            Err(Fault::Length(what.to_string(), length))
        };
        within("saw cut", self.kerf, 0)?;
        within("trim", self.trim, 0)?;
        within("least that can be held", self.hold, 0)?;
        for (i, line) in self.stock.iter().enumerate() {
            within(&format!("stock line {}", i + 1), line.length, 1)?;
        }
        for (i, piece) in self.pieces.iter().enumerate() {
            within(&format!("piece line {}", i + 1), piece.length, 1)?;
        }
        let pieces = self.count();
        let lines = [
            (pieces, "pieces", MOST_PIECES),
            (self.stock.len() as u64, "stock lines", MOST_LINES as u64),
            (self.gathered().len() as u64, "different lengths", MOST_LENGTHS as u64),
        ];
        if let Some(&(n, what, most)) = lines.iter().find(|(n, _, most)| n > most) {
            return Err(Fault::Many(n, what, most));
        }
        let shortest = self.pieces.iter().map(|p| p.length + self.kerf).min().unwrap_or(u64::MAX);
        let longest = self.stock.iter().map(|s| s.length + self.kerf).max().unwrap_or(0);
        if longest / shortest > MOST_ON_A_BAR {
            return Err(Fault::Many(longest / shortest, "pieces on one bar", MOST_ON_A_BAR));
        }
        let dearest = self.stock.iter().map(|s| s.cost).max().unwrap_or(0);
        if u128::from(dearest) * u128::from(pieces.max(1)) > DEAREST {
            return Err(Fault::Dear);
        }
        Ok(())
    }

    /// Whether the problem can be reckoned with and some bar is long enough for every piece. Whether there are
    /// enough bars only a plan can say.
    pub fn check(&self) -> Result<(), Fault> {
        self.sizes()?;
        let there = self.stock.iter().filter(|s| s.available != Some(0));
        let rooms = there.filter_map(|s| self.room(s.length));
        let longest = rooms.max().map(|room| room - self.kerf);
        match self.gathered().first() {
            Some(piece) if longest.is_none_or(|l| piece.length > l) => Err(Fault::TooLong {
                length: piece.length,
                longest,
                wanted: piece.length.max(self.hold) + self.trim,
            }),
            _ => Ok(()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn problem(length: u64, count: u64) -> Problem {
        Problem {
            kerf: 30,
            trim: 20,
            stock: vec![StockLine { length: 24_000, cost: 729, available: None }],
            pieces: vec![Demand { length, count }],
            ..Problem::default()
        }
    }

    #[test]
    fn what_is_wrong_is_said_with_what_would_do() {
        assert_eq!(problem(23_980, 3).check(), Ok(()));
        let line = |p: &Problem| p.check().expect_err("a fault").to_string();
        assert_eq!(
            line(&problem(23_985, 3)),
            "no bar gives a piece of 2398.5 mm: the longest to be had is 2398 mm; a bar of 2400.5 mm would do"
        );
        let mut none_left = problem(1_000, 1);
        none_left.stock[0].available = Some(0);
        assert_eq!(
            line(&none_left),
            "no bar gives a piece of 100 mm: there are no bars to cut; a bar of 102 mm would do"
        );
        assert_eq!(line(&problem(0, 1)), "piece line 1: 0 mm is not between 0 and 100000000 mm");
        assert_eq!(
            line(&problem(100, u64::MAX)),
            "18446744073709551615 pieces are more than 1000000000"
        );
        let mut dear = problem(100, 1_000_000_000);
        dear.stock[0].cost = u64::MAX;
        assert_eq!(line(&dear), "the prices are too large for so many pieces");
    }

    #[test]
    fn a_length_named_twice_is_one_length() {
        let mut twice = problem(100, 2);
        twice.pieces.extend([Demand { length: 300, count: 1 }, Demand { length: 100, count: 5 }]);
        twice.pieces.push(Demand { length: 900, count: 0 });
        let gathered = twice.gathered();
        let pairs: Vec<_> = gathered.iter().map(|p| (p.length, p.count)).collect();
        assert_eq!(pairs, [(300, 1), (100, 7)]);
        assert_eq!(demands(&[100, 300, 100]).len(), 2);
    }

    #[test]
    fn a_bar_too_short_to_be_held_gives_nothing() {
        let short = Problem { hold: 2_000, ..problem(500, 1) };
        assert_eq!((short.room(2_010), short.room(2_020)), (None, Some(2_030)));
        assert!(short.holds(500, 1_500) && !short.holds(500, 1_499));
    }
}
