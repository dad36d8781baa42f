//! Lists that run down columns, from one to the next, and on to another sheet when there is no more room.

use super::{Ink, Type};
use crate::picture::{Align, Fill, Pen, Rect};

/// One row of a list, drawn from its own top left corner. It is never split.
#[derive(Clone, Debug, Default)]
pub(super) struct Row {
    pub(super) height: f64,
    pub(super) ink: Ink,
}

/// A list under a heading. The heading comes again where the list runs on.
#[derive(Clone, Debug, Default)]
pub(super) struct Block {
    pub(super) head: Vec<Row>,
    pub(super) rows: Vec<Row>,
    /// True when it goes to the next column rather than be split, if it fits there.
    pub(super) whole: bool,
}

/// Distance between blocks, mm.
const BETWEEN: f64 = 4.5;

/// A list of no more rows is not split where a column has room for all of it.
const SHORT: usize = 6;

/// Where rows go, and where the list breaks off.
#[derive(Clone, Debug, Default)]
pub(super) struct Arranged<'a> {
    placed: Vec<(&'a Row, [f64; 2])>,
    /// Block and row that found no room, when any.
    pub(super) rest: Option<(usize, usize)>,
    /// The lowest point used.
    pub(super) bottom: f64,
}

/// Sets `blocks` out in `columns`, one after another.
pub(super) fn arrange<'a>(blocks: &'a [Block], columns: &[Rect]) -> Arranged<'a> {
    let mut out = Arranged::default();
    let mut columns = columns.iter();
    let Some(mut column) = columns.next() else {
        out.rest = (!blocks.is_empty()).then_some((0, 0));
        return out;
    };
    let mut y = column.min[1];
    for (b, block) in blocks.iter().enumerate() {
        let head: f64 = block.head.iter().map(|r| r.height).sum();
        let mut is_headed = false;
        for (r, row) in block.rows.iter().enumerate() {
            // A row that is too high for an empty column is placed all the same: there is no better place.
            // A heading needs two rows under it, or all there are.
            let all: f64 = block.rows.iter().skip(1).map(|s| s.height).sum();
            let next = block.rows.get(r + 1).map_or(0.0, |s| s.height);
            let is_whole = block.whole || block.rows.len() <= SHORT;
            let fits = head + row.height + all <= column.height();
            let second = if is_whole && fits { all } else { next };
            let mut gap = if is_headed || y == column.min[1] { 0.0 } else { BETWEEN };
            // Nor is the last row left alone at the head of the next.
            let last = if r + 2 == block.rows.len() { next } else { 0.0 };
            let need = if is_headed { row.height + last } else { gap + head + row.height + second };
            if y + need > column.max[1] + 0.01 && y > column.min[1] {
                let Some(next) = columns.next() else {
                    out.rest = Some((b, r));
                    return out;
                };
                column = next;
                y = column.min[1];
                is_headed = false;
                gap = 0.0;
            }
            if !is_headed {
                y += gap;
                for head in &block.head {
                    out.placed.push((head, [column.min[0], y]));
                    y += head.height;
                }
                is_headed = true;
            }
            out.placed.push((row, [column.min[0], y]));
            y += row.height;
            out.bottom = out.bottom.max(y);
        }
    }
    out
}

impl Arranged<'_> {
    /// How often one of `blocks`, which are all placed, goes on in another column.
    pub(super) fn splits(&self, blocks: &[Block]) -> usize {
        let shown = blocks.iter().filter(|b| !b.rows.is_empty());
        let once: usize = shown.map(|b| b.head.len() + b.rows.len()).sum();
        self.placed.len().saturating_sub(once)
    }

    /// What each column it uses covers, from its first row to its last.
    pub(super) fn parts(&self) -> Vec<Rect> {
        let mut parts: Vec<Rect> = Vec::new();
        for (row, [x, y]) in &self.placed {
            let Some(covered) = row.ink.bounds().map(|b| b.moved(*x, *y)) else { continue };
            let same = parts.iter_mut().find(|p| (p.min[0] - x).abs() < 0.01);
            // From the column's own left edge, so that columns can be told apart.
            let covered = covered.join(Rect::new(*x, *y, 0.0, row.height));
            match same {
                Some(part) => *part = part.join(covered),
                None => parts.push(covered),
            }
        }
        parts
    }

    /// Draws what found room.
    pub(super) fn draw(&self, ink: &mut Ink) {
        for (row, [x, y]) in &self.placed {
            ink.put(row.ink.clone(), *x, *y);
        }
    }
}

/// What is left of `blocks` from a block and row on.
pub(super) fn rest(mut blocks: Vec<Block>, (block, row): (usize, usize)) -> Vec<Block> {
    blocks.drain(..block);
    if let Some(first) = blocks.first_mut() {
        first.rows.drain(..row);
    }
    blocks
}

/// `count` columns of one width side by side from the left of `area`.
pub(super) fn columns(area: Rect, count: usize, width: f64, gap: f64) -> Vec<Rect> {
    let x = |i: usize| area.min[0] + i as f64 * (width + gap);
    (0..count).map(|i| Rect::new(x(i), area.min[1], width, area.height())).collect()
}

impl Row {
    /// The heading of a block, with a rule under it.
    pub(super) fn heading(text: &str, width: f64) -> Row {
        let mut row = Row { height: 6.4, ink: Ink::default() };
        for (i, line) in Type::HEADING.wrap(text, width).into_iter().enumerate() {
            row.height = 6.4 + i as f64 * 4.8;
            row.ink.text(0.0, row.height - 2.2, line, Type::HEADING, Align::Left);
        }
        let rule = row.height - 0.5;
        row.ink.line([[0.0, rule], [width, rule]], Pen::Outline);
        row
    }
}

impl Block {
    /// A heading over wrapped text; each entry of `items` is a paragraph with a number before it when
    /// there is more than one.
    pub(super) fn prose(title: &str, items: &[String], width: f64, numbered: bool) -> Block {
        let indent = if numbered { 5.0 } else { 0.0 };
        let mut rows = Vec::new();
        for (i, item) in items.iter().enumerate() {
            for (k, line) in Type::SMALL.wrap(item, width - indent).into_iter().enumerate() {
                let mut row = Row { height: 4.2, ink: Ink::default() };
                if k == 0 && numbered {
                    row.ink.text(0.0, 3.2, format!("{}", i + 1), Type::STRONG, Align::Left);
                }
                row.ink.text(indent, 3.2, line, Type::SMALL, Align::Left);
                rows.push(row);
            }
            if let Some(last) = rows.last_mut() {
                last.height += 0.8;
            }
        }
        Block { head: vec![Row::heading(title, width)], rows, whole: true }
    }
}

impl Block {
    /// Small words under a table `width` wide, wrapped, clear of the rule over them. They stay with the last row.
    pub(super) fn note(&mut self, text: &str, width: f64) {
        let mut row = self.rows.pop().unwrap_or_default();
        if matches!(row.ink.marks.last(), Some(super::Mark::Path { .. })) {
            row.height += 1.0;
        }
        for line in Type::QUIET.wrap(text, width) {
            row.height += 4.2;
            row.ink.text(0.0, row.height - 1.4, line, Type::QUIET, Align::Left);
        }
        self.rows.push(row);
    }
}

/// One column of a table.
#[derive(Clone)]
pub(super) struct Column {
    pub(super) title: &'static str,
    /// What it takes while the others need no more, mm.
    pub(super) width: f64,
    pub(super) align: Align,
}

/// What stands in one place of a table.
pub(super) enum Cell {
    /// Lettering in a line or several; wrapped when it is too wide.
    Text(String),
    /// The same, in bold.
    Strong(String),
    /// A figure to work by with cold hands: 3.5 mm high, bold.
    Figure(String),
    /// What it was: of less weight, struck through.
    Struck(String),
    /// A box to tick.
    Tick,
}

/// Distance between columns of a table, mm.
pub(super) const GUTTER: f64 = 1.6;
/// Height of one line of a table, mm.
const LINE: f64 = 4.4;

impl Cell {
    /// Width of its longest line, and of its longest word, mm.
    fn widths(&self) -> (f64, f64) {
        let (text, kind) = match self {
            Cell::Tick => return (2.8, 2.8),
            Cell::Text(text) => (text, Type::SMALL),
            Cell::Strong(text) => (text, Type::STRONG),
            Cell::Figure(text) => (text, Type::HEADING),
            Cell::Struck(text) => (text, Type::QUIET),
        };
        let widest = |parts: &mut dyn Iterator<Item = &str>| {
            parts.map(|part| kind.width(part)).fold(0.0, f64::max)
        };
        (widest(&mut text.lines()), widest(&mut text.split([' ', '\n'])))
    }
}

/// Whether figures take, how much of what they need, and whether lettering gives way to its longest word.
type Pass = (bool, fn((f64, f64)) -> f64, bool);

/// The columns of a table as wide together as they are given, with room shifted from those that have too much to
/// those that have too little: figures first, which should not be broken, then lettering, which may be.
fn settled(columns: &[Column], rows: &[Vec<Cell>]) -> Vec<Column> {
    let mut columns = columns.to_vec();
    let need = |i: usize| {
        let cells = rows.iter().filter_map(|row| row.get(i)).map(Cell::widths);
        let title = Type::QUIET.width(columns[i].title);
        cells.fold((title, title), |(line, word), (l, w)| (line.max(l), word.max(w)))
    };
    let needs: Vec<(f64, f64)> = (0..columns.len()).map(need).collect();
    let is_figure = |c: &Column| c.align == Align::Right;
    // Who takes, how much, and how far down the others may go: figures to their longest word, then to one line, from what
    // is whole to one line and then from lettering to its longest word; lettering from what nobody needs.
    let (word, line) = (|n: (f64, f64)| n.1, |n: (f64, f64)| n.0);
    let passes: [Pass; 4] =
        [(true, word, true), (true, line, false), (true, line, true), (false, line, false)];
    for (takes_figure, wanted, down_to_words) in passes {
        for i in 0..columns.len() {
            if is_figure(&columns[i]) != takes_figure {
                continue;
            }
            for j in 0..columns.len() {
                let least =
                    if down_to_words && !is_figure(&columns[j]) { needs[j].1 } else { needs[j].0 };
                // A hair over, so that what just fits is not wrapped.
                let room = (columns[j].width - least - 0.01).max(0.0);
                let moved = room.min(wanted(needs[i]) + 0.01 - columns[i].width).max(0.0);
                columns[j].width -= moved;
                columns[i].width += moved;
            }
        }
    }
    columns
}

/// A table under a heading, ruled between its rows.
pub(super) fn table(title: &str, columns: &[Column], rows: Vec<Vec<Cell>>) -> Block {
    let width = columns.iter().map(|c| c.width + GUTTER).sum::<f64>() - GUTTER;
    let columns = &settled(columns, &rows)[..];
    let mut head = vec![Row::heading(title, width)];
    if columns.iter().any(|c| !c.title.is_empty()) {
        let mut row = Row { height: LINE + 0.6, ink: Ink::default() };
        each(columns, |c, x| row.ink.text(x, 3.5, c.title, Type::QUIET, c.align));
        head.push(row);
    }
    let rows = rows.into_iter().map(|cells| table_row(columns, width, cells)).collect();
    Block { head, rows, whole: false }
}

/// Calls `f` with each column and where its lettering is set from.
fn each<'a>(columns: &'a [Column], mut f: impl FnMut(&'a Column, f64)) {
    let mut left = 0.0;
    for column in columns {
        let x = match column.align {
            Align::Left => left,
            Align::Centre => left + column.width / 2.0,
            Align::Right => left + column.width,
        };
        f(column, x);
        left += column.width + GUTTER;
    }
}

fn table_row(columns: &[Column], width: f64, cells: Vec<Cell>) -> Row {
    let mut row = Row::default();
    let mut lines = 1;
    // Large figures need more room, and what stands beside them stands on their line.
    let is_large = cells.iter().any(|c| matches!(c, Cell::Figure(_)));
    let (first, step) = if is_large { (4.5, 4.8) } else { (3.5, 3.8) };
    let mut cells = cells.into_iter();
    each(columns, |column, x| {
        let mut struck = false;
        let (text, kind) = match cells.next() {
            None => return,
            Some(Cell::Tick) => {
                let box_of = Rect::new(x, first - 2.6, 2.8, 2.8);
                row.ink.rect(box_of, Pen::Outline, Fill::None);
                return;
            }
            Some(Cell::Text(text)) => (text, Type::SMALL),
            Some(Cell::Strong(text)) => (text, Type::STRONG),
            Some(Cell::Figure(text)) => (text, Type::HEADING),
            Some(Cell::Struck(text)) => {
                struck = true;
                (text, Type::QUIET)
            }
        };
        let wrapped = kind.wrap(&text, column.width);
        lines = lines.max(wrapped.len());
        for (i, line) in wrapped.into_iter().enumerate() {
            let base = first + i as f64 * step;
            if struck && !line.is_empty() {
                let wide = kind.width(&line);
                let left = match column.align {
                    Align::Left => x,
                    Align::Centre => x - wide / 2.0,
                    Align::Right => x - wide,
                };
                let through = base - kind.height / 2.0;
                let line = [[left - 0.5, through], [left + wide + 0.5, through]];
                row.ink.line(line, Pen::Outline);
            }
            row.ink.text(x, base, line, kind, column.align);
        }
    });
    row.height = first + 0.9 + (lines - 1) as f64 * step + 0.4;
    row.ink.line([[0.0, row.height], [width, row.height]], Pen::Quiet);
    row
}

#[cfg(test)]
mod tests {
    use super::*;

    fn block(count: usize) -> Block {
        let row = |height: f64| {
            let mut row = Row { height, ink: Ink::default() };
            row.ink.text(0.0, height - 1.4, "x", Type::SMALL, Align::Left);
            row
        };
        Block { head: vec![row(6.0)], rows: (0..count).map(|_| row(5.0)).collect(), whole: false }
    }

    #[test]
    fn a_list_runs_on_with_its_heading_again() {
        let blocks = [block(10)];
        // Each column takes the heading and four rows.
        let cols = columns(Rect::new(0.0, 0.0, 200.0, 27.0), 2, 60.0, 4.0);
        let set = arrange(&blocks, &cols);
        assert_eq!(set.rest, Some((0, 8)));
        assert_eq!(set.placed.len(), 10);
        assert_eq!(set.placed[5].1, [64.0, 0.0]);
        assert!(set.bottom <= 27.0);
        let left = rest(blocks.to_vec(), (0, 8));
        let set = arrange(&left, &cols);
        assert_eq!((set.rest, set.placed.len()), (None, 3));
    }

    #[test]
    fn a_heading_is_not_left_alone_at_the_foot_of_a_column() {
        let blocks = [block(2), block(2)];
        let cols = columns(Rect::new(0.0, 0.0, 200.0, 32.0), 2, 60.0, 4.0);
        let set = arrange(&blocks, &cols);
        assert_eq!(set.rest, None);
        assert_eq!(set.placed[3].1, [64.0, 0.0]);
    }

    #[test]
    fn no_row_is_left_alone_and_short_lists_stay_together() {
        // Each column takes the heading and nine rows: the tenth is not left alone.
        let cols = columns(Rect::new(0.0, 0.0, 200.0, 52.0), 2, 60.0, 4.0);
        let ten = [block(10)];
        let set = arrange(&ten, &cols);
        assert_eq!((set.rest, set.placed[9].1, set.placed[10].1), (None, [64.0, 0.0], [64.0, 6.0]));
        // A list of three would leave one behind: all of it goes to the next column.
        let lists = [block(5), block(3)];
        let set = arrange(&lists, &cols);
        assert_eq!((set.rest, set.placed[6].1), (None, [64.0, 0.0]));
    }

    #[test]
    fn figures_take_the_room_they_need_from_lettering_that_can_be_wrapped() {
        let columns = [
            Column { title: "piece", width: 30.0, align: Align::Left },
            Column { title: "cut", width: 8.0, align: Align::Right },
        ];
        let figure = "10' 11 15/16\"";
        let rows = vec![vec![
            Cell::Text("opening stud of a wide doorway".into()),
            Cell::Text(figure.into()),
        ]];
        let set = settled(&columns, &rows);
        assert!((set[1].width - Type::SMALL.width(figure)).abs() < 0.02);
        assert!((set[0].width + set[1].width - 38.0).abs() < 1e-9);
        // Nothing moves where all have enough.
        let short = vec![vec![Cell::Text("stud".into()), Cell::Text("12".into())]];
        assert_eq!(
            settled(&columns, &short).iter().map(|c| c.width).collect::<Vec<_>>(),
            [30.0, 8.0]
        );
        let long = table(
            "A heading that is far too long for the table that stands under it",
            &columns,
            rows,
        );
        assert!(long.head[0].height > 10.0);
    }

    #[test]
    fn rows_grow_with_what_is_in_them() {
        let columns = [Column { title: "marks", width: 20.0, align: Align::Left }];
        let rows = vec![
            vec![Cell::Text("S1".into())],
            vec![Cell::Strong("S1 S2 S3 S4 S5 S6 S7 S8".into())],
        ];
        let table = table("Pieces", &columns, rows);
        assert!(table.rows[1].height > table.rows[0].height);
        for row in &table.rows {
            let box_of = Rect::new(0.0, 0.0, 20.0, row.height);
            assert!(box_of.grown(0.4).covers(row.ink.bounds().unwrap()), "{:?}", row.ink.bounds());
        }
    }
}
