//! The question: which rectangles are to be cut, and from what sheets.

/// One kind of sheet.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sheet {
    /// Its width, tenths of a millimetre.
    pub width: u64,
    /// Its length, tenths of a millimetre.
    pub length: u64,
    /// What one costs, in any whole unit; 0 for what is there already.
    pub cost: u64,
    /// How many there are; `None` for as many as needed.
    pub available: Option<u32>,
}

/// A rectangle on a sheet or a blank, from its lower left corner: x across the sheet, y along it.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Rect {
    /// From the left edge, tenths of a millimetre.
    pub x: u64,
    /// From the lower edge, tenths of a millimetre.
    pub y: u64,
    /// Across the sheet, tenths of a millimetre.
    pub width: u64,
    /// Along the sheet, tenths of a millimetre.
    pub length: u64,
}

impl Rect {
    /// Its area.
    pub fn area(&self) -> u128 {
        u128::from(self.width) * u128::from(self.length)
    }
}

/// Pieces that are cut alike.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Blank {
    /// Across the sheet, tenths of a millimetre.
    pub width: u64,
    /// Along the sheet, tenths of a millimetre.
    pub length: u64,
    /// True when it may be cut the other way round.
    pub turns: bool,
    /// How many are wanted.
    pub count: u32,
    /// What falls out of it whole and can give other pieces, in its own directions, none over another; the
    /// cut round each is already taken off.
    pub cut_outs: Vec<Rect>,
}

impl Blank {
    /// Width and length as it lies on a sheet.
    pub fn size(&self, turned: bool) -> (u64, u64) {
        if turned { (self.length, self.width) } else { (self.width, self.length) }
    }

    /// The ways it may lie: a square lies one way only.
    pub(super) fn ways(&self) -> impl Iterator<Item = (bool, u64, u64)> + use<> {
        let (w, l, both) = (self.width, self.length, self.turns && self.width != self.length);
        std::iter::once((false, w, l)).chain(both.then_some((true, l, w)))
    }

    /// A cut-out as it lies when the blank lies at `at`: turned blanks are turned a quarter, not mirrored.
    pub(super) fn cut_out(&self, i: usize, at: Rect, turned: bool) -> Rect {
        let c = self.cut_outs[i];
        if turned {
            let x = at.x + self.length.saturating_sub(c.y + c.length);
            Rect { x, y: at.y + c.x, width: c.length, length: c.width }
        } else {
            Rect { x: at.x + c.x, y: at.y + c.y, ..c }
        }
    }
}

/// A cutting problem: every cut goes right across what it cuts, as a board is snapped.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Problem {
    /// Width of the cut, tenths of a millimetre; 0 for a knife.
    pub kerf: u64,
    /// An offcut is worth keeping when both its sides are so long, tenths of a millimetre.
    pub keep: u64,
    /// The kinds of sheet to be had.
    pub sheets: Vec<Sheet>,
    /// The pieces.
    pub blanks: Vec<Blank>,
}

impl Problem {
    /// True when a sheet of this kind holds a blank by itself.
    pub fn holds(&self, sheet: usize, blank: usize) -> bool {
        let s = &self.sheets[sheet];
        self.blanks[blank].ways().any(|(_, w, l)| w <= s.width && l <= s.length)
    }

    /// How many pieces are wanted.
    pub fn pieces(&self) -> u64 {
        self.blanks.iter().map(|b| u64::from(b.count)).sum()
    }

    /// The shortest width and length any wanted piece can have: what is smaller holds nothing.
    pub(super) fn smallest(&self) -> (u64, u64) {
        let wanted = || self.blanks.iter().filter(|b| b.count > 0).flat_map(Blank::ways);
        let width = wanted().map(|(_, w, _)| w).min().unwrap_or(u64::MAX);
        let length = wanted().map(|(_, _, l)| l).min().unwrap_or(u64::MAX);
        (width, length)
    }

    /// True when a wanted piece fits into a rectangle.
    pub(super) fn something_fits(&self, width: u64, length: u64) -> bool {
        let wanted = self.blanks.iter().filter(|b| b.count > 0);
        wanted.flat_map(Blank::ways).any(|(_, w, l)| w <= width && l <= length)
    }

    /// True when a cut-out of a blank can hold another wanted piece.
    pub(super) fn nests(&self, blank: &Blank) -> bool {
        blank.cut_outs.iter().any(|c| self.something_fits(c.width, c.length))
    }
}
