//! The change sheet: only what changed since the crew's copy, old values struck through, new ones beside them, and what was cut
//! already that still serves.

use layout_core::changes::{Change, Changes, Piece, Thing, ThingChange, ThingKind};
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
    for kind in [ThingKind::Opening, ThingKind::Point, ThingKind::Fitting, ThingKind::Board] {
        blocks.extend(things(job.units, kind, changes));
    }
    blocks.extend(reuse(job.units, changes));
    run_on(("changes", "Changes"), blocks, WIDTH, paper)
}

/// The wall or platform a change is in.
fn of(change: &Change) -> &str {
    change.is().or(change.was()).map_or("", |p| p.of.as_str())
}

fn summary(changes: &Changes) -> Block {
    let count = |what: fn(&Change) -> bool| changes.changes.iter().filter(|c| what(c)).count();
    let pieces = [
        (changes.unchanged, "stay as they are"),
        (count(|c| matches!(c, Change::Moved(..))), "go elsewhere, as they are cut"),
        (count(|c| matches!(c, Change::Recut(..))), "are cut again"),
        (count(|c| matches!(c, Change::New(_))), "are new"),
        (count(|c| matches!(c, Change::Gone(_))), "are left over"),
        (count(|c| matches!(c, Change::Renamed(..))), "have another mark and nothing else"),
    ];
    let of = |kind: ThingKind, what: &str| {
        let all = || changes.things.iter().filter(move |c| c.kind == kind);
        all().filter(|c| c.label() == what).count()
    };
    let boards = [
        (changes.boards_unchanged, "stay as they are"),
        (of(ThingKind::Board, "moved"), "hang elsewhere, as they are cut"),
        (of(ThingKind::Board, "cut again"), "are cut again"),
        (of(ThingKind::Board, "new"), "are new"),
        (of(ThingKind::Board, "left over"), "are left over"),
    ];
    let line = |name: &str, counts: &[(usize, &str)]| {
        let some = counts.iter().filter(|(n, _)| *n > 0);
        let parts: Vec<String> = some.map(|(n, what)| format!("{n} {what}")).collect();
        format!("{name}: {}.", if parts.is_empty() { "none".into() } else { parts.join(", ") })
    };
    let other = [ThingKind::Opening, ThingKind::Point, ThingKind::Fitting];
    let other = changes.things.iter().filter(|c| other.contains(&c.kind)).count();
    let mut text = vec![line("Timber", &pieces), line("Boards", &boards)];
    text.push(format!("Openings, points and fittings that changed: {other}."));
    Block::prose("What changed", &text, WIDTH, false)
}

/// Openings, points, fittings or boards that changed.
fn things(units: Units, kind: ThingKind, changes: &Changes) -> Option<Block> {
    let of_kind: Vec<&ThingChange> = changes.things.iter().filter(|c| c.kind == kind).collect();
    let mut rows: Vec<Vec<Cell>> =
        of_kind.iter().map(|change| vec![Cell::Tick, Cell::Strong(called(change))]).collect();
    let mut columns = Vec::new();
    let mut taken = 3.0 + GUTTER;
    for (was, is, wide, show) in figures(units) {
        let pairs = of_kind.iter().map(|c| [&c.was, &c.is].map(|t| t.as_ref().map(&*show)));
        let pairs: Vec<[Option<String>; 2]> = pairs.collect();
        // What nothing was before needs no column.
        let has_was = pairs.iter().any(|[was, is]| was.is_some() && was != is);
        if has_was {
            columns.push(column(was, wide, Align::Right));
            taken += wide + GUTTER;
        }
        columns.push(column(is, wide + 1.0, Align::Right));
        taken += wide + 1.0 + GUTTER;
        for (row, both) in rows.iter_mut().zip(pairs) {
            let [old, new] = pair(both);
            // Two figures in one place are too wide to be large.
            let new = match new {
                Cell::Figure(text) if text.contains('×') => Cell::Strong(text),
                same => same,
            };
            row.extend(has_was.then_some(old));
            row.push(new);
        }
    }
    let mut all = vec![column("", 3.0, Align::Left), column("what", WIDTH - taken, Align::Left)];
    all.extend(columns);
    let edges = "To the edge nearer the start of the frame, and to the foot.";
    let (title, note) = match kind {
        ThingKind::Opening => ("Openings", edges),
        ThingKind::Point => {
            ("First-fix points", "To the middle: along from the start of the frame, and up.")
        }
        ThingKind::Fitting => ("Fittings", edges),
        ThingKind::Board => (
            "Boards",
            "To the lower corner nearer the start; sizes are what they are cut from. What is cut out of them is on the boards of \
             their wall.",
        ),
    };
    (!rows.is_empty()).then(|| {
        let mut block = table(title, &all, rows);
        block.note(note, WIDTH);
        block
    })
}

/// Two columns of figures: what they are headed by, how wide they are, and what they show.
type Figures = (&'static str, &'static str, f64, Box<dyn Fn(&Thing) -> String>);

fn figures(units: Units) -> [Figures; 3] {
    [
        ("at was", "at is", 14.0, Box::new(move |t| units.show(t.at))),
        ("up was", "up is", 14.0, Box::new(move |t| units.show(t.height))),
        (
            "size was",
            "size is",
            20.0,
            Box::new(move |t| format!("{} × {}", units.show(t.size.0), units.show(t.size.1))),
        ),
    ]
}

/// What it is called, what became of it, and what else differs: “A door D1, changed” over “right hand → left hand”.
fn called(change: &ThingChange) -> String {
    let name = |t: &Thing| format!("{} {}", t.of, t.what);
    let mut text = format!("{}, {}", change.thing().map_or(String::new(), name), change.label());
    if let (Some(was), Some(is)) = (&change.was, &change.is) {
        if name(was) != name(is) {
            text += &format!("\nwas {}", name(was));
        }
        let parts = was.note.split(", ").zip(is.note.split(", "));
        for (old, new) in parts.filter(|(old, new)| old != new) {
            text += &format!("\n{old} → {new}");
        }
    }
    text
}

/// What it was struck through and what it is in large figures; what did not change is said once, as it is.
fn pair([old, new]: [Option<String>; 2]) -> [Cell; 2] {
    match (old, new) {
        (Some(old), Some(new)) if old == new => [Cell::Text(String::new()), Cell::Text(new)],
        (old, new) => {
            [Cell::Struck(old.unwrap_or_default()), Cell::Figure(new.unwrap_or_default())]
        }
    }
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
