//! The sheet of one layer of boards on a face of a wall: the face as one stands before it, and the list of its boards.

use layout_core::boards::{Layer, Piece};
use layout_core::document::{Face, Job, Lay};
use layout_core::layout::WallLayout;
use layout_core::units::Units;

use super::drawing::{Drawing, Drawn};
use super::flow::{Block, Cell, GUTTER, table};
use super::lists::column;
use super::{Paper, Sheet, cautions, file_name};
use crate::picture::Align;
use crate::views::cut_outs::{CutOut, Own, cut_outs};
use crate::views::{FaceOptions, board_face, cut_to};

/// Width of its list, mm.
pub(super) const LISTS: f64 = 68.0;

/// True when a face of a wall has boards.
pub(super) fn is_boarded(wall: &WallLayout, face: Face) -> bool {
    wall.boards.layers.iter().any(|l| l.face == face && !l.pieces.is_empty())
}

/// The sheets of a face, one of each layer that is cut otherwise than the one under it, and the lists that found no room.
pub(super) fn sheets(
    job: &Job,
    wall: &WallLayout,
    face: Face,
    paper: Paper,
) -> (Vec<Sheet>, Vec<Block>) {
    let on_face = wall.boards.layers.iter().filter(|l| l.face == face && !l.pieces.is_empty());
    let layers: Vec<&Layer> = on_face.collect();
    let (mut sheets, mut left_over) = (Vec::new(), Vec::new());
    for alike in layers.chunk_by(|a, b| is_alike(a, b)) {
        let (sheet, rest) = sheet(job, wall, alike, layers.len(), paper);
        sheets.push(sheet);
        left_over.extend(rest);
    }
    (sheets, left_over)
}

/// True when two layers are of one board and cut alike.
fn is_alike(a: &Layer, b: &Layer) -> bool {
    let shapes = a.pieces.iter().map(|p| &p.shape).eq(b.pieces.iter().map(|p| &p.shape));
    a.board == b.board && a.sheet == b.sheet && shapes
}

fn sheet(
    job: &Job,
    wall: &WallLayout,
    alike: &[&Layer],
    of: usize,
    paper: Paper,
) -> (Sheet, Vec<Block>) {
    let layer = alike[0];
    let (face, index) = (layer.face, layer.layer);
    let numbers: Vec<String> = alike.iter().map(|l| (l.layer + 1).to_string()).collect();
    let side = face.label();
    let which = match (of, alike.len()) {
        (1, _) => format!("{side} face"),
        (_, 1) => format!("{side}, layer {}", numbers.concat()),
        _ => format!("{side}, layers {}", numbers.join(" and ")),
    };
    let wall_name = file_name(wall.name().as_str());
    let layer_name = if of > 1 { format!("-{}", index + 1) } else { String::new() };
    let name = format!("boards-{wall_name}-{side}{layer_name}");
    let title = format!("Boards of wall {}, {which}", wall.name());
    let foot = cautions::of_boards(wall);
    let drawn = Drawn::new(name, title, &foot, LISTS, paper);
    let drawings = drawn.fitting(f64::INFINITY, |scale| {
        let options = FaceOptions { scale, face, layer: index };
        Drawing::side_by_side(scale, vec![board_face(job, wall, &options)], 0.0)
    });
    let units = job.units;
    let board = &layer.board;
    let kind = format!("{} {} {}", board.kind, units.fine(board.thickness), board.lay.label());
    let about = format!("as you stand before it · {kind} · thin: timber to fix to");
    let mut blocks = vec![list(job, wall, alike)];
    // Strips belong to both faces: they are listed with the first.
    let first = wall.boards.layers.iter().find(|l| !l.pieces.is_empty());
    if first.is_some_and(|l| (l.face, l.layer) == (face, index)) {
        blocks.extend(strips(units, wall));
    }
    drawn.finish(&drawings, blocks, &about, "“Boards of walls”")
}

/// The boards with a box to tick: number, blank, what is cut out, mass.
fn list(job: &Job, wall: &WallLayout, alike: &[&Layer]) -> Block {
    let layer = alike[0];
    let units = job.units;
    let columns = [
        column("", 3.0, Align::Left),
        column("", 4.0, Align::Right),
        column("cut to", 21.0, Align::Left),
        column("cut out", LISTS - 36.0 - 4.0 * GUTTER, Align::Left),
        column("kg", 8.0, Align::Right),
    ];
    let rows = layer.pieces.iter().map(|piece| {
        let size = if layer.is_whole(piece) { "whole".to_string() } else { cut_to(units, piece) };
        vec![
            Cell::Tick,
            Cell::Strong(piece.number.to_string()),
            Cell::Text(size),
            Cell::Text(shaped(units, wall, layer.face, piece).join("\n")),
            Cell::Text(format!("{:.1}", layer.mass(piece))),
        ]
    });
    let title = format!(
        "{} {}: {} {}",
        wall.name(),
        layer.face.label(),
        layer.board.kind,
        units.fine(layer.board.thickness)
    );
    let mass: f64 = layer.pieces.iter().map(|p| layer.mass(p)).sum();
    let mut block = table(&title, &columns, rows.collect());
    let count = layer.pieces.len();
    let boards = if count == 1 { "1 board".to_string() } else { format!("{count} boards") };
    let sheet = [layer.sheet.0, layer.sheet.1].map(|side| units.show(side)).join("\u{a0}×\u{a0}");
    block.note(&format!("{boards}, {mass:.0} kg; sheets of {sheet}."), LISTS);
    for other in &alike[1..] {
        let ends = [other.pieces.first(), other.pieces.last()].map(|p| p.map_or(0, |p| p.number));
        let text = format!("Layer {}: the same, {}–{}.", other.layer + 1, ends[0], ends[1]);
        block.note(&text, LISTS);
    }
    block.note(
        "Cut out: width × height, → from the left edge and ↑ from the foot of the board; boxes to their middle.",
        LISTS,
    );
    if layer.board.lay == Lay::Across {
        block.note("Cut to: across the sheet × along it, which lies along the wall.", LISTS);
    }
    block.whole = true;
    block
}

/// The strips over the free ends of a wall and in its reveals; `None` when it has none.
fn strips(units: Units, wall: &WallLayout) -> Option<Block> {
    let columns = [
        column("", 3.0, Align::Left),
        column("", 14.0, Align::Left),
        column("closes", LISTS - 45.0 - 4.0 * GUTTER, Align::Left),
        column("cut to", 20.0, Align::Left),
        column("kg", 8.0, Align::Right),
    ];
    let strips = wall.boards.strips.iter();
    let rows: Vec<Vec<Cell>> = strips
        .map(|strip| {
            let (across, along) = strip.blank();
            vec![
                Cell::Tick,
                Cell::Strong(format!("{} {}", strip.closes.on().label(), strip.number)),
                Cell::Text(strip.closes.in_words()),
                Cell::Text(format!("{} × {}", units.show(across), units.show(along))),
                Cell::Text(format!("{:.1}", strip.mass())),
            ]
        })
        .collect();
    let title = format!("{} free ends and reveals", wall.name());
    let mut block = (!rows.is_empty()).then(|| table(&title, &columns, rows))?;
    block.note("Over the edges of the boards on both faces.", LISTS);
    Some(block)
}

/// What makes a board other than a rectangle, a line each.
fn shaped(units: Units, wall: &WallLayout, face: Face, piece: &Piece) -> Vec<String> {
    let cuts = cut_outs(wall, face, piece);
    let mut lines: Vec<String> = cuts.iter().map(|cut| cut_out(units, cut)).collect();
    let own = Own { face, shape: &piece.shape };
    if let Some(top) = own.top() {
        let last = top.len() - 1;
        let corner = |(i, [x, y]): (usize, &[f64; 2])| match i {
            0 => format!("left {}", units.show(*y)),
            i if i == last => format!("right {}", units.show(*y)),
            _ => format!("{} at {}", units.show(*y), units.show(*x)),
        };
        let corners: Vec<String> = top.iter().enumerate().map(corner).collect();
        lines.push(format!("top {}", corners.join(", ")));
    }
    lines
}

/// “D1 588 × 2 017” over “→ 612 ↑ 0”.
fn cut_out(units: Units, cut: &CutOut) -> String {
    // Positions are rounded, so that the board on the other side of a joint agrees.
    let size = |low: f64, high: f64| units.show(units.round(high) - units.round(low));
    let low = cut.y.low.max(0.0);
    let wide = size(cut.x.low, cut.x.high);
    let high = size(low, cut.y.high);
    let at = if cut.is_centred { [cut.x.centre(), cut.y.centre()] } else { [cut.x.low, low] };
    let [x, y] = at.map(|v| units.show(v));
    format!("{} {wide} × {high}\n→ {x} ↑ {y}", cut.name)
}
