//! Setting out on the floor: the drawing with its axes, and the lists a crew works down with two tapes and a laser.

use layout_core::document::{Face, Job};
use layout_core::id::ItemRef;
use layout_core::layout::{Layout, WallLayout};
use layout_core::math::SQUARE;
use layout_core::packers;
use layout_core::setout::floor::{FloorLine, FloorPlan, LASER_OFF, floor_plan};
use layout_core::setout::{RACK, racked};

use super::drawing::{Drawing, Drawn};
use super::flow::{Block, Cell, GUTTER, table};
use super::lists::column;
use super::{Paper, Sheet, cautions, levels, run_on};
use crate::picture::Align;
use crate::views::floor;

/// Width of a column of its lists, mm.
const LISTS: f64 = 82.0;

pub(super) fn sheets(job: &Job, layout: &Layout, paper: Paper) -> Vec<Sheet> {
    if layout.walls.is_empty() {
        return Vec::new();
    }
    let plan = floor_plan(job, layout);
    let title = "Setting out".to_string();
    let drawn = Drawn::new("setting-out".into(), title, &cautions::of_floor(), LISTS, paper);
    let mut drawings = drawn.fitting(LEAST, |scale| {
        Drawing::side_by_side(scale, vec![floor(job, layout, &plan, scale)], 0.0)
    });
    drawings.truncate(1);
    let about =
        "the heavy line is snapped; crosses are on the timber side; figures are off the datum";
    let blocks = blocks(job, layout, &plan);
    let (first, rest) = drawn.finish(&drawings, blocks, about, "the sheets that follow");
    let mut sheets = vec![first];
    sheets.extend(run_on(("setting-out", "Setting out, continued"), rest, LISTS, paper));
    sheets
}

/// Its figures are not drawn smaller than this: 1:200.
const LEAST: f64 = 200.0;

fn blocks(job: &Job, layout: &Layout, plan: &FloorPlan) -> Vec<Block> {
    let mut blocks: Vec<Block> = fixed(job, plan).into_iter().collect();
    blocks.extend([lines(job, plan), sides(job, plan), tapes(job, plan)]);
    blocks.extend(
        [squares(job, plan), diagonals(job, layout, plan), splays(job, plan)].into_iter().flatten(),
    );
    for (wall, line) in layout.walls.iter().zip(&plan.lines) {
        // Start and end are in the list of lines already.
        if line.marks.len() > 2 {
            blocks.push(along(job, line));
        }
        blocks.push(levels::packers(wall).unwrap_or_else(|| fixings(wall)));
    }
    blocks
}

fn ends(line: &FloorLine) -> [String; 2] {
    ["start", "end"].map(|end| format!("{} {end}", line.wall))
}

/// Both ends of every line off the datum.
fn lines(job: &Job, plan: &FloorPlan) -> Block {
    let show = |v: f64| job.units.show(v);
    let columns = [
        column("", 3.0, Align::Left),
        column("point", 17.0, Align::Left),
        column("x", 17.0, Align::Right),
        column("y", 17.0, Align::Right),
        column("long", LISTS - 54.0 - 4.0 * GUTTER, Align::Right),
    ];
    let mut rows = Vec::new();
    for line in &plan.lines {
        for (i, (name, at)) in ends(line).into_iter().zip(line.from_datum).enumerate() {
            rows.push(vec![
                Cell::Tick,
                Cell::Strong(name),
                Cell::Figure(show(at[0])),
                Cell::Figure(show(at[1])),
                Cell::Text(if i == 1 { show(line.length()) } else { String::new() }),
            ]);
        }
    }
    table("Lines off the datum", &columns, rows)
}

/// Which side of every line the timber goes on, and where the laser stands: off the line on the side without timber.
fn sides(job: &Job, plan: &FloorPlan) -> Block {
    let columns = [
        column("", 3.0, Align::Left),
        column("line", 13.0, Align::Left),
        column("timber on its", 22.0, Align::Left),
        column("laser on its", 20.0, Align::Left),
        column("laser at", LISTS - 58.0 - 4.0 * GUTTER, Align::Left),
    ];
    let rows = plan.lines.iter().map(|line| {
        vec![
            Cell::Tick,
            Cell::Strong(line.wall.to_string()),
            Cell::Text(line.timber().label().into()),
            Cell::Text(line.face.label().into()),
            Cell::Text(laser_at(job, line)),
        ]
    });
    let mut block = table("Timber and laser", &columns, rows.collect());
    let off = job.units.show(LASER_OFF);
    block.note(&format!("The laser stands {off} off the line, seen from its start."), LISTS);
    block
}

/// “y 1 190”: where the laser's line is, for a line along one of the axes.
fn laser_at(job: &Job, line: &FloorLine) -> String {
    let show = |v: f64| job.units.show(v);
    let [a, b] = line.from_datum;
    let along = (line.ends[1] - line.ends[0]) / line.length().max(1.0);
    // Off the line on the side without timber.
    let way = if line.face == Face::Left { 1.0 } else { -1.0 };
    let off = [-along.y * way * LASER_OFF, along.x * way * LASER_OFF];
    if along.x.abs() < SQUARE {
        format!("x\u{a0}{}", show(a[0] + off[0]))
    } else if along.y.abs() < SQUARE {
        format!("y\u{a0}{}", show(b[1] + off[1]))
    } else {
        String::new()
    }
}

/// Two tapes to each end of every line.
fn tapes(job: &Job, plan: &FloorPlan) -> Block {
    let columns = [
        column("", 3.0, Align::Left),
        column("point", 17.0, Align::Left),
        column("from – pull", 24.0, Align::Right),
        column("from – pull", 24.0, Align::Right),
        column("cross", LISTS - 68.0 - 4.0 * GUTTER, Align::Right),
    ];
    let mut rows = Vec::new();
    for line in &plan.lines {
        for (name, tapes) in ends(line).into_iter().zip(&line.tapes) {
            let Some(t) = tapes else { continue };
            let pull = |from: usize, pulled: f64| {
                let name = plan.fixed.get(from).map_or("", |f| f.name.as_str());
                Cell::Figure(format!("{name} – {}", job.units.show(pulled)))
            };
            rows.push(vec![
                Cell::Tick,
                Cell::Strong(name),
                pull(t.from.0, t.pulled.0),
                pull(t.from.1, t.pulled.1),
                Cell::Text(format!("{:.0}°", t.crossing.to_degrees())),
            ]);
        }
    }
    let is_none = rows.is_empty();
    let mut block = table("By two tapes from fixed points", &columns, rows);
    let note = if is_none {
        "No two fixed points see the same end of a line: set out off the datum."
    } else {
        "The pair of fixed points that cross nearest to square. Level tapes, no sag."
    };
    block.note(note, LISTS);
    block
}

fn squares(job: &Job, plan: &FloorPlan) -> Option<Block> {
    let columns = [
        column("", 3.0, Align::Left),
        column("square", LISTS - 51.0 - 4.0 * GUTTER, Align::Left),
        column("first", 16.0, Align::Right),
        column("other", 16.0, Align::Right),
        column("across", 16.0, Align::Right),
    ];
    let row = |s: &layout_core::setout::floor::Square| {
        let p = s.proof;
        let figures = [p.first, p.second, p.across].map(|v| Cell::Figure(job.units.show(v)));
        let name = format!("{} – {}", s.wall, short(&s.to));
        [Cell::Tick, Cell::Strong(name)].into_iter().chain(figures).collect()
    };
    let rows: Vec<Vec<Cell>> = plan.squares.iter().map(row).collect();
    (!rows.is_empty()).then(|| {
        let mut block = table("Three, four, five", &columns, rows);
        block.note(
            "The biggest that fits, along the first and along the other; a side of the room has the number of the corner it starts at. Across is what the tape reads when it is square.",
            LISTS,
        );
        block
    })
}

fn short(of: &ItemRef) -> String {
    match of {
        ItemRef::Wall(name) => name.to_string(),
        ItemRef::Side(side) => format!("side {}", side + 1),
        of => of.label(),
    }
}

/// Diagonals of the room, and of every frame with what they differ by when it has racked.
fn diagonals(job: &Job, layout: &Layout, plan: &FloorPlan) -> Option<Block> {
    let show = |v: f64| job.units.show(v);
    let columns = [
        column("", 3.0, Align::Left),
        column("of", LISTS - 59.0 - 4.0 * GUTTER, Align::Left),
        column("one", 18.0, Align::Right),
        column("other", 18.0, Align::Right),
        column("racked", 20.0, Align::Right),
    ];
    let mut rows = Vec::new();
    for d in &plan.diagonals {
        let name = |i: usize| plan.fixed.get(i).map_or("", |f| f.name.as_str());
        rows.push(vec![
            Cell::Tick,
            Cell::Text(format!("room {}–{}", name(d.between.0), name(d.between.1))),
            Cell::Figure(show(d.length)),
            Cell::Text(String::new()),
            Cell::Text(String::new()),
        ]);
    }
    for wall in &layout.walls {
        let spec = &wall.spec;
        let [a, b] = layout_core::setout::diagonals(spec);
        let along = spec.along();
        let height = (a * a - along.length() * along.length()).max(0.0).sqrt();
        rows.push(vec![
            Cell::Tick,
            Cell::Text(format!("frame {}", wall.name())),
            Cell::Figure(show(a)),
            Cell::Figure(show(b)),
            Cell::Text(job.units.small(racked(along.length(), height, RACK))),
        ]);
    }
    let mut block = table("Diagonals", &columns, rows);
    let rack = job.units.small(RACK);
    let note = format!(
        "Racked: by how much the two tapes differ more than here when the head stands {rack} along from the sole."
    );
    block.note(&note, LISTS);
    Some(block)
}

fn splays(job: &Job, plan: &FloorPlan) -> Option<Block> {
    let show = |v: f64| job.units.show(v);
    let columns = [
        column("", 3.0, Align::Left),
        column("splay", 12.0, Align::Left),
        column("along", LISTS - 51.0 - 4.0 * GUTTER, Align::Left),
        column("set back", 18.0, Align::Right),
        column("face", 18.0, Align::Right),
    ];
    let mut rows = Vec::new();
    for splay in &plan.splays {
        for (i, (of, set_back)) in splay.between.iter().zip(splay.set_backs).enumerate() {
            let of_first = |text: String| if i == 0 { text } else { String::new() };
            rows.push(vec![
                Cell::Tick,
                Cell::Strong(of_first(splay.wall.to_string())),
                Cell::Text(short(of)),
                Cell::Figure(show(set_back)),
                Cell::Text(of_first(show(splay.face))),
            ]);
        }
    }
    (!rows.is_empty()).then(|| {
        let mut block = table("Splays, from the square corner", &columns, rows);
        block.note("From where the two lines would meet, along each of them; the splay's line joins the marks.", LISTS);
        block
    })
}

/// The fixed points off the datum, so that the room itself can be proved first.
fn fixed(job: &Job, plan: &FloorPlan) -> Option<Block> {
    let columns = [
        column("", 3.0, Align::Left),
        column("fixed point", LISTS - 39.0 - 3.0 * GUTTER, Align::Left),
        column("x", 18.0, Align::Right),
        column("y", 18.0, Align::Right),
    ];
    let datum = job.datum.at;
    let rows: Vec<Vec<Cell>> = plan
        .fixed
        .iter()
        .map(|f| {
            let [x, y] = [f.at.x - datum.x, f.at.y - datum.y].map(|v| job.units.show(v));
            vec![Cell::Tick, Cell::Strong(f.name.clone()), Cell::Figure(x), Cell::Figure(y)]
        })
        .collect();
    (!rows.is_empty()).then(|| {
        let mut block = table("Fixed points: check these first", &columns, rows);
        block.note(&format!("Datum: {}.", job.datum.label), LISTS);
        block
    })
}

/// One pull along one line.
fn along(job: &Job, line: &FloorLine) -> Block {
    let columns = [
        column("", 3.0, Align::Left),
        column("from its start", 22.0, Align::Right),
        column("what", LISTS - 25.0 - 2.0 * GUTTER, Align::Left),
    ];
    let rows = line
        .marks
        .iter()
        .map(|m| vec![Cell::Tick, Cell::Figure(job.units.show(m.at)), Cell::Text(m.what.clone())]);
    table(&format!("Along the line of {}", line.wall), &columns, rows.collect())
}

/// Where a sole that needs no packers is fixed.
fn fixings(wall: &WallLayout) -> Block {
    let units = wall.spec.units;
    let start = wall.spec.along().low;
    let list = packers::fixings(&wall.spec, &wall.frame);
    let one = |f: &packers::Fixing| {
        let pipe = if f.blocked { " (over a pipe)" } else { "" };
        format!("{}{pipe}", units.show(f.at - start))
    };
    let text = list.iter().map(one).collect::<Vec<_>>().join(" · ");
    let text = if text.is_empty() { "none".to_string() } else { text };
    Block::prose(&format!("{} fixings of the sole", wall.name()), &[text], LISTS, false)
}
