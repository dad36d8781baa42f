//! The question: what is to be cut, and from what; and what is wrong with it.

use std::fmt;

/// One kind of bar.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct StockLine {
    /// Its length, tenths of a millimetre.
    pub length: u64,
    /// What one costs, in any whole unit.
    pub cost: u64,
    /// How many there are; `None` for as many as needed.
    pub available: Option<u32>,
    /// True where these bars are known not to be straight: they give no piece that has to be.
    pub bowed: bool,
}

impl StockLine {
    /// As many straight bars of a length as needed.
    pub fn new(length: u64, cost: u64) -> StockLine {
        StockLine { length, cost, ..StockLine::default() }
    }
}

/// Ends of a piece that are cut on the slant.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Slant {
    /// Which of the problem's [`slants`](Problem::slants).
    pub like: u16,
    /// True for both ends, false for one.
    pub both: bool,
}

impl Slant {
    fn ends(self) -> u64 {
        if self.both { 2 } else { 1 }
    }
}

/// What is to be cut.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct Piece {
    /// Its length from point to point, tenths of a millimetre.
    pub length: u64,
    /// Only a straight bar will do.
    pub straight: bool,
    /// Its ends, where not both are square.
    pub slant: Option<Slant>,
}

impl From<u64> for Piece {
    /// With square ends, from any bar.
    fn from(length: u64) -> Piece {
        Piece { length, ..Piece::default() }
    }
}

/// Pieces that are alike.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Demand {
    /// What each is.
    pub piece: Piece,
    /// How many.
    pub count: u64,
}

impl Demand {
    /// So many of a piece; a length is one with square ends, from any bar.
    pub fn new(piece: impl Into<Piece>, count: u64) -> Demand {
        Demand { piece: piece.into(), count }
    }
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
    /// For each slant that ends are cut to: what two such ends save when they lie together and one cut makes both,
    /// tenths of a millimetre. A piece not twice as long counts as square.
    pub slants: Vec<u64>,
    /// The bars to be had.
    pub stock: Vec<StockLine>,
    /// The pieces. One may be named more than once.
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
        /// Whether it has to be straight, and what follows is about straight bars.
        straight: bool,
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
            Fault::TooLong { length, straight, longest, wanted } => {
                let bar = if *straight { "straight bar" } else { "bar" };
                let there = match longest {
                    Some(longest) => format!("the longest to be had is {} mm", mm(*longest)),
                    None => format!("there are no {bar}s to cut"),
                };
                let (length, wanted) = (mm(*length), mm(*wanted));
                format!(
                    "no {bar} gives a piece of {length} mm: {there}; a {bar} of {wanted} mm would do"
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

/// Pieces gathered: every one once with its count, longest first.
pub fn demands<P: Copy + Into<Piece>>(pieces: &[P]) -> Vec<Demand> {
    let mut pieces: Vec<Piece> = pieces.iter().map(|p| (*p).into()).collect();
    pieces.sort_unstable_by(|a, b| b.cmp(a));
    let alike = pieces.chunk_by(|a, b| a == b);
    alike.map(|alike| Demand { piece: alike[0], count: alike.len() as u64 }).collect()
}

/// What slanted pieces save on one bar: each with how many there are and what a pair of its ends saves.
pub(crate) fn saved(pieces: &(impl Iterator<Item = (Piece, u64, u64)> + Clone)) -> u64 {
    let like = |p: &Piece| p.slant.map(|s| s.like);
    let mut done: Vec<Option<u16>> = Vec::new();
    let mut sum = 0;
    for (piece, _, _) in pieces.clone() {
        if done.contains(&like(&piece)) {
            continue;
        }
        done.push(like(&piece));
        let (mut ends, mut all_both, mut each) = (0, true, 0);
        for (p, n, saves) in pieces.clone().filter(|(p, n, _)| like(p) == like(&piece) && *n > 0) {
            let both = p.slant.is_some_and(|s| s.both);
            ends += n * p.slant.map_or(0, Slant::ends);
            all_both &= both;
            each = saves;
        }
        if ends > 0 {
            sum += each * (ends / 2 - u64::from(all_both));
        }
    }
    sum
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

    /// Every piece once with its count, longest first; none of which there are none.
    pub fn gathered(&self) -> Vec<Demand> {
        let mut all: Vec<Demand> = self.pieces.iter().copied().filter(|p| p.count > 0).collect();
        all.sort_by_key(|p| std::cmp::Reverse(p.piece));
        all.dedup_by(|again, first| {
            let same = again.piece == first.piece;
            if same {
                first.count = first.count.saturating_add(again.count);
            }
            same
        });
        all
    }

    /// Whether bars of a line may give a piece at all, whatever its length.
    pub fn gives(&self, line: usize, piece: Piece) -> bool {
        !(piece.straight && self.stock[line].bowed)
    }

    /// What two ends of a slant save, tenths of a millimetre: a whole number for each of them. A slant there is not
    /// saves nothing, nor does a piece that is not twice as long.
    fn saves(&self, piece: Piece) -> u64 {
        let saves = |s: Slant| self.slants.get(usize::from(s.like)).copied().unwrap_or(0);
        let saves = piece.slant.map_or(0, saves);
        if saves <= piece.length / 2 { saves / 2 * 2 } else { 0 }
    }

    /// What each slanted end of a piece saves at the best, and how many it has.
    pub(crate) fn ends(&self, piece: Piece) -> (u64, u64) {
        (self.saves(piece) / 2, piece.slant.map_or(0, Slant::ends))
    }

    /// What pieces take of a bar's [`room`](Self::room), each with its saw cut, when those with ends alike lie together as far as
    /// they can: ends in pairs, and no ring of pieces that all have two. Tenths of a millimetre.
    pub fn takes(&self, cuts: impl Iterator<Item = (Piece, u64)> + Clone) -> u64 {
        let whole: u64 = cuts.clone().map(|(p, n)| (p.length + self.kerf) * n).sum();
        let slanted = cuts.filter(|(p, _)| self.saves(*p) > 0);
        whole - saved(&slanted.map(|(p, n)| (p, n, self.saves(p))))
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
        for (i, demand) in self.pieces.iter().enumerate() {
            within(&format!("piece line {}", i + 1), demand.piece.length, 1)?;
        }
        let pieces = self.count();
        let lines = [
            (pieces, "pieces", MOST_PIECES),
            (self.stock.len() as u64, "stock lines", MOST_LINES as u64),
            (self.gathered().len() as u64, "different pieces", MOST_LENGTHS as u64),
        ];
        if let Some(&(n, what, most)) = lines.iter().find(|(n, _, most)| n > most) {
            return Err(Fault::Many(n, what, most));
        }
        let need = |p: &Demand| p.piece.length + self.kerf - self.saves(p.piece);
        let shortest = self.pieces.iter().map(need).min().unwrap_or(u64::MAX);
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
        for Demand { piece, .. } in self.gathered() {
            let gives = |j: &usize| self.stock[*j].available != Some(0) && self.gives(*j, piece);
            let lines = (0..self.stock.len()).filter(gives);
            let rooms = lines.filter_map(|j| self.room(self.stock[j].length));
            let longest = rooms.max().map(|room| room - self.kerf);
            if longest.is_none_or(|l| piece.length > l) {
                let wanted = piece.length.max(self.hold) + self.trim;
                let Piece { length, straight, .. } = piece;
                return Err(Fault::TooLong { length, straight, longest, wanted });
            }
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn problem(length: u64, count: u64) -> Problem {
        Problem {
            kerf: 30,
            trim: 20,
            stock: vec![StockLine::new(24_000, 729)],
            pieces: vec![Demand::new(length, count)],
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
        twice.pieces.extend([Demand::new(300, 1), Demand::new(100, 5), Demand::new(900, 0)]);
        let gathered = twice.gathered();
        let pairs: Vec<_> = gathered.iter().map(|p| (p.piece.length, p.count)).collect();
        assert_eq!(pairs, [(300, 1), (100, 7)]);
        assert_eq!(demands(&[100, 300, 100]).len(), 2);
    }

    /// By hand, with a saw cut of 3 and 20 saved by two ends together. One slant each: two pairs of four, one of three. Two
    /// each: a row of three has two meetings. A row of them between two with one: all but the outer ends meet.
    #[test]
    fn slanted_ends_lie_together() {
        let problem = Problem { kerf: 3, slants: vec![20, 7], ..Problem::default() };
        let piece = |like: u16, both| Piece {
            length: 100,
            straight: false,
            slant: Some(Slant { like, both }),
        };
        let takes = |cuts: &[(Piece, u64)]| problem.takes(cuts.iter().copied());
        assert_eq!(takes(&[(piece(0, false), 4)]), 412 - 40);
        assert_eq!(takes(&[(piece(0, false), 3)]), 309 - 20);
        assert_eq!(takes(&[(piece(0, true), 3)]), 309 - 40);
        assert_eq!(takes(&[(piece(0, true), 1)]), 103);
        assert_eq!(takes(&[(piece(0, true), 2), (piece(0, false), 2)]), 412 - 60);
        // Another slant does not lie against this one, a square end against none; 7 is 6, 3 for each end.
        assert_eq!(takes(&[(piece(0, false), 1), (piece(1, false), 2)]), 309 - 6);
        assert_eq!(takes(&[(piece(0, false), 1), (100.into(), 2)]), 309);
        assert_eq!(takes(&[(piece(9, false), 2)]), 206);
    }

    #[test]
    fn a_piece_that_has_to_be_straight_wants_a_straight_bar() {
        let mut bowed = problem(23_000, 1);
        bowed.pieces[0].piece.straight = true;
        bowed.stock[0].bowed = true;
        assert_eq!(
            bowed.check().expect_err("a fault").to_string(),
            "no straight bar gives a piece of 2300 mm: there are no straight bars to cut; a straight bar of 2302 mm would do"
        );
        bowed.stock.push(StockLine::new(24_000, 800));
        assert_eq!(bowed.check(), Ok(()));
    }

    #[test]
    fn a_bar_too_short_to_be_held_gives_nothing() {
        let short = Problem { hold: 2_000, ..problem(500, 1) };
        assert_eq!((short.room(2_010), short.room(2_020)), (None, Some(2_030)));
        assert!(short.holds(500, 1_500) && !short.holds(500, 1_499));
    }
}
