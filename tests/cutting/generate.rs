//! Cutting problems by chance: the same seed gives the same problem, always.

use saw::{Problem, Slant, StockLine, demands};

/// Numbers by chance (xorshift; G. Marsaglia, 2003).
pub(crate) struct Chance(u64);

impl Chance {
    pub(crate) fn new(seed: u64) -> Chance {
        let mut chance = Chance(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1);
        for _ in 0..5 {
            chance.below(2);
        }
        chance
    }

    pub(crate) fn below(&mut self, n: u64) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) % n
    }

    pub(crate) fn between(&mut self, least: u64, most: u64) -> u64 {
        least + self.below(most - least + 1)
    }
}

/// Lines of stock at prices near their length, or at their length; sometimes so many only; sometimes with offcuts.
fn stock(chance: &mut Chance) -> Vec<StockLine> {
    let sets: [&[u64]; 5] = [
        &[2_400, 3_000, 3_600, 4_200, 4_800],
        &[3_000, 4_800],
        &[2_400, 2_700, 3_000, 3_600, 3_900, 4_200, 4_500, 4_800, 5_100, 5_400],
        &[4_800],
        &[1_800, 2_400, 3_000, 3_600, 4_200, 4_800, 5_400, 6_000],
    ];
    let set = sets[chance.below(5) as usize];
    let spread = [0, 4, 40, 40][chance.below(4) as usize];
    let mut lines = Vec::new();
    for &mm in set {
        let cost = if spread == 0 { mm * 10 } else { mm * (300 + chance.below(spread)) / 1_000 };
        lines.push(StockLine::new(mm * 10, cost));
    }
    if chance.below(4) == 0 {
        // The longest is always to be had.
        let longest = lines.len() - 1;
        for line in &mut lines[..longest] {
            if chance.below(2) == 0 {
                line.available = Some(chance.between(3, 25) as u32);
            }
        }
    }
    if chance.below(2) == 0 {
        for _ in 0..chance.below(9) {
            let length = chance.between(500, 2_300) * 10;
            let available = Some(chance.between(1, 2) as u32);
            lines.push(StockLine { available, ..StockLine::new(length, 0) });
        }
    }
    lines
}

/// The pieces of some walls, `count` or a few more: studs in few lengths or under a rake, plates, noggins, what goes round
/// openings.
pub(crate) fn room(seed: u64, count: u64) -> Problem {
    let chance = &mut Chance::new(seed);
    let kerf = [0, 30, 30, 40][chance.below(4) as usize];
    let stock = stock(chance);
    let longest =
        stock.iter().filter(|s| s.available.is_none()).map(|s| s.length / 10).max().unwrap_or(0);
    let stud = chance.between(2_050, 2_700).min(longest);
    let raked = chance.below(3) == 0;
    let mut mm: Vec<u64> = Vec::new();
    while (mm.len() as u64) < count {
        let wall = chance.between(8, 60) * 100 + chance.below(100);
        let studs = wall / 600 + 2;
        for i in 0..studs {
            let under_rake = raked && chance.below(2) == 0;
            mm.push(if under_rake { stud - chance.below(900) + 3 * i } else { stud });
        }
        let mut plate = wall;
        while plate > longest {
            let part = longest - chance.below(1_200);
            mm.extend([part, part]);
            plate -= part.min(plate);
        }
        if plate > 150 {
            mm.extend([plate, plate]);
        }
        mm.extend((1..studs).map(|_| [562, 555, 362, 400, 562][chance.below(5) as usize]));
        if chance.below(2) == 0 {
            mm.extend([stud - 40, stud - 40, chance.between(800, 1_000), 2_010, 2_010]);
            mm.extend((0..chance.below(3)).map(|_| chance.between(150, 400)));
        }
    }
    let lengths: Vec<u64> = mm.into_iter().map(|l| l.min(longest) * 10).collect();
    Problem { kerf, stock, pieces: demands(&lengths), ..Problem::default() }
}

/// A problem small enough to be tried out, and odd enough to catch a planner out: lengths that only just fit, equal prices, free
/// bars, bars that run out, pieces that fit nothing.
#[allow(dead_code)]
pub(crate) fn small(seed: u64, most: u64) -> Problem {
    let chance = &mut Chance::new(seed);
    let unit = [1, 10, 30][chance.below(3) as usize];
    let mut stock = Vec::new();
    for _ in 0..chance.between(1, 4) {
        let length = chance.between(8, 40) * unit;
        let cost = match chance.below(4) {
            0 => length,
            1 => 20,
            2 => chance.below(50),
            _ => length * chance.between(90, 110) / 10,
        };
        let few = chance.below(3) == 0;
        let available = few.then(|| chance.below(4) as u32);
        stock.push(StockLine { available, ..StockLine::new(length, cost) });
    }
    let kinds: Vec<u64> = (0..chance.between(1, 6)).map(|_| chance.between(1, 30) * unit).collect();
    let mut lengths: Vec<u64> = (0..chance.below(most + 1))
        .map(|_| kinds[chance.below(kinds.len() as u64) as usize])
        .collect();
    let (kerf, trim) = (chance.below(3), chance.below(4) * chance.below(2));
    if chance.below(3) == 0 {
        // Pieces that with their cuts come to a bar exactly.
        let whole = stock[0].length.saturating_sub(trim + kerf);
        lengths.extend([whole / 2, whole - whole / 2].into_iter().filter(|l| *l > 0));
    }
    let hold = chance.below(20) * chance.below(2) * unit;
    Problem { kerf, trim, hold, stock, pieces: demands(&lengths), ..Problem::default() }
}

/// The same problem where some bars are bowed, some pieces have to be straight and some have slanted ends.
#[allow(dead_code)]
pub(crate) fn sorted_and_slanted(seed: u64, mut problem: Problem) -> Problem {
    let chance = &mut Chance::new(seed);
    for line in &mut problem.stock {
        line.bowed = chance.below(3) == 0;
    }
    let longest = problem.stock.iter().map(|s| s.length).max().unwrap_or(0);
    problem.slants = (0..chance.below(3)).map(|_| chance.below(longest / 4 + 2)).collect();
    let mut pieces = Vec::new();
    for demand in &problem.pieces {
        for _ in 0..demand.count {
            let mut piece = demand.piece;
            piece.straight = chance.below(3) == 0;
            let slants = problem.slants.len() as u64;
            if slants > 0 && chance.below(2) == 0 {
                let (like, both) = (chance.below(slants) as u16, chance.below(3) == 0);
                piece.slant = Some(Slant { like, both });
            }
            pieces.push(piece);
        }
    }
    problem.pieces = demands(&pieces);
    problem
}
