//! The change sheet: only what changed since the crew's copy, old values struck through, new ones beside them, and what was cut
//! already that still serves.

use layout_core::changes::{Change, Changes, Piece};
use layout_core::document::Job;
use layout_core::units::Units;

use super::flow::{Block, Cell, GUTTER, table};
use super::lists::column;
use super::{Page, Paper, PrintOptions, Sheet, run_on};
use crate::picture::Align;

/// Width of a column of the page, mm: two of them on A4.
const WIDTH: f64 = 126.0;

/// The pages of the changes from one state of a job to `job`.
pub fn change_set(job: &Job, changes: &Changes, options: &PrintOptions) -> Vec<Page> {
    let sheets = sheets(job, changes, options.paper);
    let count = sheets.len();
    let numbered = sheets.into_iter().enumerate();
    numbered.map(|(i, sheet)| sheet.page(job, options, (i + 1, count))).collect()
}

fn sheets(job: &Job, changes: &Changes, paper: Paper) -> Vec<Sheet> {
    let mut blocks = vec![summary(changes)];
    let walls = changes.changes.chunk_by(|a, b| of(a) == of(b));
    blocks.extend(walls.map(|list| wall(job.units, list)));
    blocks.extend(reuse(job.units, changes));
    run_on(("changes", "Changes"), blocks, WIDTH, paper)
}

/// The wall or platform a change is in.
fn of(change: &Change) -> &str {
    change.is().or(change.was()).map_or("", |p| p.of.as_str())
}

fn summary(changes: &Changes) -> Block {
    let count = |what: fn(&Change) -> bool| changes.changes.iter().filter(|c| what(c)).count();
    let lines = [
        (changes.unchanged, "pieces stay as they are"),
        (count(|c| matches!(c, Change::Moved(..))), "go elsewhere, as they are cut"),
        (count(|c| matches!(c, Change::Recut(..))), "are cut again"),
        (count(|c| matches!(c, Change::New(_))), "are new"),
        (count(|c| matches!(c, Change::Gone(_))), "are left over"),
        (count(|c| matches!(c, Change::Renamed(..))), "have another mark and nothing else"),
    ];
    let text: Vec<String> = lines.iter().map(|(n, what)| format!("{n} {what}.")).collect();
    Block::prose("What changed", &text, WIDTH, false)
}

/// What changed in one wall.
fn wall(units: Units, changes: &[Change]) -> Block {
    let columns = [
        column("", 3.0, Align::Left),
        column("mark", 17.0, Align::Left),
        column("piece", WIDTH - 101.0 - 6.0 * GUTTER, Align::Left),
        column("cut was", 17.0, Align::Right),
        column("cut is", 22.0, Align::Right),
        column("at was", 19.0, Align::Right),
        column("at is", 23.0, Align::Right),
    ];
    let rows = changes.iter().map(|change| row(units, change)).collect();
    let name = changes.first().map_or("", of);
    table(&format!("{name} changes"), &columns, rows)
}

fn row(units: Units, change: &Change) -> Vec<Cell> {
    let show = |v: f64| units.show(v);
    let (was, is) = (change.was(), change.is());
    let both = |f: fn(&Piece) -> f64| [was.map(f), is.map(f)].map(|v| v.map(show));
    // What did not change is said once, as it is.
    let pair = |[old, new]: [Option<String>; 2]| match (old, new) {
        (Some(old), Some(new)) if old == new => [Cell::Text(String::new()), Cell::Text(new)],
        (old, new) => {
            [Cell::Struck(old.unwrap_or_default()), Cell::Figure(new.unwrap_or_default())]
        }
    };
    let [cut_was, cut_is] = pair(both(|p| p.length));
    let [at_was, at_is] = pair(both(|p| p.at));
    let mark = match (was, is) {
        (Some(was), Some(is)) if was.mark != is.mark => format!("{} → {}", was.mark, is.mark),
        (was, is) => is.or(was).map_or(String::new(), |p| p.mark.to_string()),
    };
    let role = is.or(was).map_or("", |p| p.role.label());
    let what = format!("{role}, {}", change.label());
    vec![Cell::Tick, Cell::Strong(mark), Cell::Text(what), cut_was, cut_is, at_was, at_is]
}

/// What can be cut down rather than out of a new bar.
fn reuse(units: Units, changes: &Changes) -> Option<Block> {
    let columns = [
        column("", 3.0, Align::Left),
        column("take", 26.0, Align::Left),
        column("cut was", 22.0, Align::Right),
        column("for", 26.0, Align::Left),
        column("cut to", WIDTH - 77.0 - 4.0 * GUTTER, Align::Right),
    ];
    let name = |p: &Piece| format!("{}-{}", p.of, p.mark);
    let row = |r: &layout_core::changes::Reuse| {
        vec![
            Cell::Tick,
            Cell::Strong(name(&r.from)),
            Cell::Struck(units.show(r.from.length)),
            Cell::Strong(name(&r.to)),
            Cell::Figure(units.show(r.to.length)),
        ]
    };
    let rows: Vec<Vec<Cell>> = changes.reuse.iter().map(row).collect();
    (!rows.is_empty()).then(|| {
        let mut block = table("Pieces that still serve", &columns, rows);
        block.note("If they have been cut: the shortest that is long enough.", WIDTH);
        block
    })
}
