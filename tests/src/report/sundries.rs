//! Answers about what goes with boards: screws, the order, insulation.

use std::fmt::Write;

use layout_core::boards::{self, Layer, On};
use layout_core::document::{Job, Sundries};
use layout_core::insulation::{alike, fills};
use layout_core::layout::{Layout, WallLayout};
use layout_core::sundries;

use super::{num, span};

/// The order: how much of what, and what to buy.
pub(super) fn order(job: &Job, layout: &Layout) -> String {
    let mut text = String::new();
    for need in sundries::order(job, layout) {
        let amount = format!("{} {}", num(need.amount), need.unit);
        let _ = write!(text, "{}  {}  buy {} × {}", need.what, amount.trim(), need.buy, need.of);
        if let Some(price) = need.price {
            let _ = write!(text, "  {price:.2}");
        }
        text.push('\n');
    }
    text.trim_end().to_string()
}

/// Screws of each board: its rows, each with the station and the count; those between rows by their height.
pub(super) fn screws(w: &WallLayout) -> String {
    let rules = Sundries::default();
    let mut text = String::new();
    for layer in &w.boards.layers {
        let outer = w.boards.layers.iter().filter(|l| l.face == layer.face).count() - 1;
        let placed = boards::screws(&w.spec, &w.frame, layer, layer.layer == outer, &rules);
        let _ = writeln!(text, "{} {} {}", w.name(), layer.face.label(), layer.layer + 1);
        for (piece, screws) in layer.pieces.iter().zip(placed) {
            let mut columns: Vec<(f64, usize)> = Vec::new();
            for s in &screws {
                match columns.iter_mut().find(|(at, _)| (at - s[0]).abs() < 0.01) {
                    Some((_, n)) => *n += 1,
                    None => columns.push((s[0], 1)),
                }
            }
            columns.sort_by(|a, b| a.0.total_cmp(&b.0));
            let list: Vec<String> =
                columns.iter().map(|(at, n)| format!("{} x {n}", num(*at))).collect();
            let _ = writeln!(
                text,
                "  B{}  {} screws, {} kg: {}",
                piece.number,
                screws.len(),
                num(layer.mass(piece)),
                list.join(", ")
            );
        }
    }
    text
}

/// What is cut for every bay, and like pieces together.
pub(super) fn insulation(w: &WallLayout) -> String {
    let fills = fills(&w.spec, &w.frame, Sundries::default().friction);
    let mut text = String::new();
    for f in &fills {
        let high = f.high.map(num);
        let top = if high[0] == high[1] { high[0].clone() } else { high.join("/") };
        let _ = writeln!(
            text,
            "{}  bay {}  x {}  z {}..{top}  cut {}x{}",
            w.name(),
            f.bay,
            span(f.along),
            num(f.low),
            num(f.cut.0),
            num(f.cut.1)
        );
    }
    for c in alike(&fills) {
        let _ = writeln!(text, "    {} of {}x{}", c.count, num(c.size.0), num(c.size.1));
    }
    text
}

/// The boards of the platforms: x across the joists, z along them, or up a front.
pub(super) fn platform_boards(layout: &Layout) -> String {
    let mut out = String::new();
    for p in &layout.platforms {
        for layer in p.boards.iter() {
            let screws =
                layout_core::platform::screws(&p.spec, &p.frame, layer, &Sundries::default());
            flat(&mut out, p.name().as_str(), layer, screws);
        }
    }
    out.trim_end().to_string()
}

/// The boards of the room's own ceiling: x across the joists, z along them.
pub(super) fn ceiling_boards(layout: &Layout) -> String {
    let mut out = String::new();
    if let Some(c) = &layout.ceiling {
        for layer in &c.layers {
            flat(&mut out, "room", layer, c.screws(layer, &Sundries::default()));
        }
    }
    out.trim_end().to_string()
}

fn flat(out: &mut String, of: &str, layer: &Layer<On>, screws: Vec<Vec<[f64; 2]>>) {
    let board = format!("{} {}", layer.board.kind, num(layer.board.thickness));
    let place = format!("{} {} at {}", layer.face.label(), layer.layer + 1, span(layer.across));
    let _ = writeln!(out, "{of} {place}  {board}");
    for (piece, screws) in layer.pieces.iter().zip(screws) {
        let shape = &piece.shape;
        let _ = writeln!(
            out,
            "  B{:<2} x {}  z {}  cut {}x{}, {:.2} m2, {:.1} kg, {} screws",
            piece.number,
            span(shape.stations()),
            span(shape.heights()),
            num(piece.blank.0),
            num(piece.blank.1),
            shape.area() / 1e6,
            layer.mass(piece),
            screws.len()
        );
    }
    for j in layer.joints.iter().filter(|j| j.along.length() == 0.0) {
        let bare = if j.bare > 0.05 { format!("  bare {}", num(j.bare)) } else { String::new() };
        let _ = writeln!(out, "  end x {}  z {}{bare}", num(j.along.low), span(j.heights));
    }
}
