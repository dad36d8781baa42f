//! The sheets of board: what to buy, and every different way a sheet is cut, drawn to scale.

use layout_core::board_plan::{BoardMark, BoardPlan, CutSheet, marks_in_words};
use layout_core::boards::{Layer, On};
use layout_core::ceiling::CeilingLayout;
use layout_core::document::Job;
use layout_core::layout::{Layout, PlatformLayout};
use layout_core::span::Span;
use layout_core::units::Units;

use super::cut_sheet::{Look, Tile};
use super::flow::{Block, Cell, Column, Row, arrange, columns, table};
use super::plans::Plans;
use super::{GAP, Paper, SCALES, Sheet};
use crate::picture::Align;

/// Width of the summary and the lists, mm.
const LIST: f64 = 118.0;

/// Sheets are drawn no larger than this: 1:25.
const LARGEST: f64 = 25.0;

/// Room for a heading over the first, mm.
const HEADING: f64 = 10.0;

pub(super) fn sheets(job: &Job, layout: &Layout, plans: &Plans<'_>, paper: Paper) -> Vec<Sheet> {
    let plans = plans.sheets();
    if plans.is_empty() {
        return Vec::new();
    }
    let area = paper.area();
    let all = || plans.iter().flat_map(|p| &p.sheets);
    // One scale for all of them, so that they can be compared.
    let looks = SCALES.into_iter().filter(|scale| *scale >= LARGEST);
    let mut looks = looks.map(|scale| Look::new(job.units, scale, all()));
    let fits = |look: &Look| {
        let mut sizes = all().map(|s| look.size(s.size));
        sizes.all(|(w, h)| w <= area.width() && h + HEADING <= area.height())
    };
    let Some(look) = looks.find(fits) else { return Vec::new() };
    let width = all().map(|s| look.size(s.size).0).fold(30.0, f64::max);

    let mut lists = vec![summary(job, plans)];
    lists.extend(plans.iter().filter_map(|p| single(job.units, p)));
    lists.extend(strips(job, layout));
    lists.extend(layout.platforms.iter().filter_map(|p| platform(job, p)));
    lists.extend(layout.ceiling.iter().filter_map(|c| ceiling(job, c)));
    let mut blocks: Vec<Block> = Vec::new();
    for plan in plans {
        let drawn = plan.sheets.iter().filter(|s| !is_single(s));
        let rows: Vec<Row> = drawn.flat_map(|s| Tile::of(look, s).rows(width)).collect();
        if !rows.is_empty() {
            let head = Row::heading(&name(job.units, plan), width);
            blocks.push(Block { head: vec![head], rows, whole: false });
        }
    }

    // The lists on the left of the first sheet, the drawings beside them and on the sheets after it.
    let left = columns(area, 1, LIST, GAP);
    let set = arrange(&lists, &left);
    let mut sheet = Sheet::new("boards", "Boards");
    sheet.lists(&set);
    let mut rest_of_lists = set.rest;
    let beside = crate::picture::Rect { min: [area.min[0] + LIST + GAP, area.min[1]], ..area };
    let mut room = beside;
    let mut pages = Vec::new();
    loop {
        let count = ((room.width() + GAP) / (width + GAP)) as usize;
        let set = arrange(&blocks, &columns(room, count, width, GAP));
        if count > 0 {
            if set.bottom > 0.0 {
                sheet.scale = Some(look.scale);
            }
            sheet.lists(&set);
        }
        let rest = if count > 0 { set.rest } else { (!blocks.is_empty()).then_some((0, 0)) };
        pages.push(sheet);
        if rest.is_none() && rest_of_lists.is_none() {
            return pages;
        }
        blocks = rest.map_or(Vec::new(), |at| super::flow::rest(blocks, at));
        sheet = Sheet::new("boards", "Boards, continued");
        room = area;
        if let Some(at) = rest_of_lists.take() {
            lists = super::flow::rest(lists, at);
            let set = arrange(&lists, &left);
            sheet.lists(&set);
            rest_of_lists = set.rest;
            room = beside;
        }
    }
}

fn name(units: Units, plan: &BoardPlan) -> String {
    format!("Board {} {}", plan.kind, units.fine(plan.thickness))
}

/// With a capital at its start.
fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or(String::new(), |c| c.to_uppercase().chain(letters).collect())
}

fn size(units: Units, (width, length): (f64, f64)) -> String {
    format!("{} × {}", units.show(width), units.show(length))
}

/// What to buy of each kind, and how near that is to the least there could be.
fn summary(job: &Job, plans: &[BoardPlan]) -> Block {
    let column = |title, width, align| Column { title, width, align };
    let columns = [
        column("board", 30.0, Align::Left),
        column("boards", 11.0, Align::Right),
        column("buy", 8.0, Align::Right),
        column("sheets of", 25.0, Align::Left),
        column("at least", 12.0, Align::Right),
        column("offcuts", 12.0, Align::Right),
        column("price", LIST - 98.0 - 6.0 * super::flow::GUTTER, Align::Right),
    ];
    let mut rows = Vec::new();
    for plan in plans {
        let kind = format!("{} {}", plan.kind, job.units.fine(plan.thickness));
        let price = plan.price.filter(|_| plan.bought() > 0);
        let price = price.map_or("–".into(), |p| job.saw.money(p));
        let mut sizes = plan.by_size().into_iter();
        let first = sizes.next();
        let (shown, n) = first.map_or(("none to buy".into(), 0), |(s, n)| (size(job.units, s), n));
        rows.push(vec![
            Cell::Strong(kind),
            Cell::Text(plan.boards.to_string()),
            Cell::Strong(n.to_string()),
            Cell::Text(shown),
            Cell::Text(plan.fewest.to_string()),
            Cell::Text(format!("{:.0} %", plan.waste())),
            Cell::Text(price),
        ]);
        for (s, n) in sizes {
            let none = || Cell::Text(String::new());
            let cells =
                [none(), none(), Cell::Strong(n.to_string()), Cell::Text(size(job.units, s))];
            rows.push(cells.into_iter().chain([none(), none(), none()]).collect());
        }
    }
    let mut block = table("Boards to buy", &columns, rows);
    if plans.iter().all(|p| p.proven) {
        block.note("Proven: nothing cheaper will do.", LIST);
    }
    for plan in plans {
        let here = match plan.owned() {
            0 => String::new(),
            1 => "1 that is here is used. ".into(),
            n => format!("{n} that are here are used. "),
        };
        let bound = if plans.iter().all(|p| p.proven) {
            String::new()
        } else {
            format!("{}.", capital(&plan.bound_in_words()))
        };
        if !(here.is_empty() && bound.is_empty()) {
            block.note(&format!("{}: {here}{bound}", name(job.units, plan)), LIST);
        }
    }
    let kerf = if job.saw.board_kerf > 0.0 {
        format!("cuts {} wide", job.units.small(job.saw.board_kerf))
    } else {
        "scored and snapped".to_string()
    };
    let keep = job.units.show(job.saw.keep);
    let notes = format!(
        "Seen from the side that looks into the room, tapers at left and right; {kerf}. Figures run from the lower left corner. \
         Dashed: cut round an opening. Offcuts with a diagonal are kept, both sides {keep} or more."
    );
    block.note(&notes, LIST);
    let left: Vec<BoardMark> = plans.iter().flat_map(|p| p.left_over.clone()).collect();
    if !left.is_empty() {
        block.note(&format!("No sheet gives {}.", marks_in_words(&left)), LIST);
    }
    block
}

/// Where the boards of a platform go, and what they are cut to.
fn platform(job: &Job, laid: &PlatformLayout) -> Option<Block> {
    let screws =
        |l: &Layer<On>| layout_core::platform::screws(&laid.spec, &laid.frame, l, &job.sundries);
    let title = format!("Boards of {} {}", laid.spec.kind.label(), laid.name());
    let note = "Across and along the joists from the platform's first corner; on a front, along it and above the floor.";
    flat(job, (&title, note), &laid.boards, screws)
}

/// The same of the room's own ceiling.
fn ceiling(job: &Job, laid: &CeilingLayout) -> Option<Block> {
    let note = "Across the joists from the furthest the room goes on the left as you look along them; along them from where it begins.";
    flat(job, ("Boards of the ceiling", note), &laid.layers, |l| laid.screws(l, &job.sundries))
}

fn flat(
    job: &Job,
    (title, note): (&str, &str),
    layers: &[Layer<On>],
    screws: impl Fn(&Layer<On>) -> Vec<Vec<[f64; 2]>>,
) -> Option<Block> {
    let column = |title, width, align| Column { title, width, align };
    let columns = [
        column("", 3.0, Align::Left),
        column("mark", 21.0, Align::Left),
        column("across", LIST - 103.0 - 6.0 * super::flow::GUTTER, Align::Left),
        column("along", 27.0, Align::Left),
        column("cut", 30.0, Align::Left),
        column("kg", 9.0, Align::Right),
        column("screws", 13.0, Align::Right),
    ];
    let units = job.units;
    let span = |s: Span| format!("{} – {}", units.show(s.low), units.show(s.high));
    let mut rows: Vec<Vec<Cell>> = Vec::new();
    for layer in layers {
        for (piece, screws) in layer.pieces.iter().zip(screws(layer)) {
            rows.push(vec![
                Cell::Tick,
                Cell::Strong(format!("{} {}", layer.face.label(), piece.number)),
                Cell::Text(span(piece.shape.stations())),
                Cell::Text(span(piece.shape.heights())),
                Cell::Text(size(units, piece.blank)),
                Cell::Text(format!("{:.1}", layer.mass(piece))),
                Cell::Text(screws.len().to_string()),
            ]);
        }
    }
    let mut block = (!rows.is_empty()).then(|| table(title, &columns, rows))?;
    block.note(note, LIST);
    Some(block)
}

/// Where the strips over ends and in reveals go, and what they are cut to.
fn strips(job: &Job, layout: &Layout) -> Option<Block> {
    let column = |title, width, align| Column { title, width, align };
    let columns = [
        column("", 3.0, Align::Left),
        column("mark", 21.0, Align::Left),
        column("closes", LIST - 95.0 - 6.0 * super::flow::GUTTER, Align::Left),
        column("cut", 24.0, Align::Left),
        column("board", 25.0, Align::Left),
        column("kg", 9.0, Align::Right),
        column("screws", 13.0, Align::Right),
    ];
    let walls = layout.walls.iter().flat_map(|w| w.boards.strips.iter().map(move |s| (w, s)));
    let rows: Vec<Vec<Cell>> = walls
        .map(|(wall, strip)| {
            let board = format!("{} {}", strip.board.kind, job.units.fine(strip.board.thickness));
            let mark = format!("{} {} {}", wall.name(), strip.closes.on().label(), strip.number);
            vec![
                Cell::Tick,
                Cell::Strong(mark),
                Cell::Text(strip.closes.in_words()),
                Cell::Text(size(job.units, strip.blank())),
                Cell::Text(board),
                Cell::Text(format!("{:.1}", strip.mass())),
                Cell::Text(strip.screws(&job.sundries).len().to_string()),
            ]
        })
        .collect();
    let mut block = (!rows.is_empty()).then(|| table("Free ends and reveals", &columns, rows))?;
    block.note(
        "Over the edges of the boards on the faces. Head and sill run through, jambs stand between them.",
        LIST,
    );
    Some(block)
}

/// One board without an opening, and nothing else, from each: it needs no drawing.
fn is_single(sheet: &CutSheet) -> bool {
    matches!(&sheet.boards[..], [only] if only.is_rectangle())
}

/// The sheets that give one board each.
fn single(units: Units, plan: &BoardPlan) -> Option<Block> {
    let column = |title, width, align| Column { title, width, align };
    let columns = [
        column("", 3.0, Align::Left),
        column("", 8.0, Align::Right),
        column("cut to", 27.0, Align::Left),
        column("boards", 42.0, Align::Left),
        column("keep", LIST - 80.0 - 4.0 * super::flow::GUTTER, Align::Left),
    ];
    let rows: Vec<Vec<Cell>> = plan
        .sheets
        .iter()
        .filter(|s| is_single(s))
        .filter_map(|s| {
            let board = s.boards.first()?;
            let keep: Vec<String> =
                s.offcuts.iter().map(|o| size(units, (o.width, o.length))).collect();
            Some(vec![
                Cell::Tick,
                Cell::Strong(s.count.to_string()),
                Cell::Text(size(units, (board.at.width, board.at.length))),
                Cell::Strong(marks_in_words(&board.marks)),
                Cell::Text(keep.join(", ")),
            ])
        })
        .collect();
    let title = format!("{}: one board from a sheet", name(units, plan));
    (!rows.is_empty()).then(|| table(&title, &columns, rows))
}
