//! What lies behind the boards of a wall for what hangs on them: for what, at what height, flush with which face.

use layout_core::frame::{Member, Role};
use layout_core::id::{ItemRef, Mark};
use layout_core::layout::WallLayout;
use layout_core::resolve::Fixing;

use super::flow::{Block, Cell, Column, table};
use super::lists::ranges;
use crate::picture::Align;

/// The pattresses and box noggins of a wall; `None` when it has none.
pub(super) fn list(wall: &WallLayout) -> Option<Block> {
    let column = |title, width, align| Column { title, width, align };
    let columns = [
        column("", 16.0, Align::Left),
        column("for", 25.2, Align::Left),
        column("centre", 13.0, Align::Right),
        column("face", 9.0, Align::Left),
    ];
    let mut rows: Vec<([String; 3], Vec<Mark>)> = Vec::new();
    for m in &wall.frame.members {
        let what = match m.role {
            Role::BoxNoggin => "boxes".to_string(),
            Role::Pattress => held(wall, m),
            _ => continue,
        };
        let cells = [what, wall.spec.units.show(m.solid.heights().centre()), face(wall, m).into()];
        match rows.iter_mut().find(|(other, _)| *other == cells) {
            Some((_, marks)) => marks.push(m.mark),
            None => rows.push((cells, vec![m.mark])),
        }
    }
    let line = |(cells, marks): ([String; 3], Vec<Mark>)| {
        std::iter::once(Cell::Strong(ranges(&marks))).chain(cells.map(Cell::Text)).collect()
    };
    let rows: Vec<Vec<Cell>> = rows.into_iter().map(line).collect();
    let title = format!("{} behind the boards", wall.name());
    (!rows.is_empty()).then(|| table(&title, &columns, rows))
}

/// The fitting a pattress is nearest to.
fn held(wall: &WallLayout, m: &Member) -> String {
    let (s, z) = (m.solid.stations(), m.solid.heights().centre());
    let off = |f: &Fixing| f.heights.iter().map(|h| (h - z).abs()).fold(f64::INFINITY, f64::min);
    let over = wall.spec.fixings.iter().filter(|f| f.span.overlaps(s));
    match over.min_by(|a, b| off(a).total_cmp(&off(b))).map(|f| &f.of) {
        Some(ItemRef::Fitting(name)) => name.to_string(),
        _ => String::new(),
    }
}

fn face(wall: &WallLayout, m: &Member) -> &'static str {
    let (across, frame) = (m.solid.across(), wall.spec.frame);
    let right = (across.low - frame.low).abs() < 1.0;
    let left = (across.high - frame.high).abs() < 1.0;
    match (right, left) {
        (true, true) => "both",
        (true, false) => "right",
        _ => "left",
    }
}
