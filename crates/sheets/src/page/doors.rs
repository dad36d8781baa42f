//! How the holes of a wall's doors are made up, and what follows from it.

use layout_core::document::{Door, DoorStyle, Hinge};
use layout_core::layout::WallLayout;

use super::flow::{Block, Cell, Column, table};
use super::lists::PIECES;
use crate::picture::Align;

/// The sum of every door of the wall, from its leaf to its hole; doors that are alike share one.
pub(super) fn stacks(wall: &WallLayout) -> Vec<Block> {
    let mut alike: Vec<(Vec<&str>, &Door)> = Vec::new();
    for hole in &wall.spec.holes {
        let Some(door) = &hole.door else { continue };
        match alike.iter_mut().find(|(_, other)| *other == door) {
            Some((names, _)) => names.push(hole.name.as_str()),
            None => alike.push((vec![hole.name.as_str()], door)),
        }
    }
    alike.into_iter().map(|(names, door)| stack(wall, &names.join(", "), door)).collect()
}

fn stack(wall: &WallLayout, names: &str, door: &Door) -> Block {
    let column = |title, width, align| Column { title, width, align };
    let columns = [
        column("", 36.0, Align::Left),
        column("width", 14.0, Align::Right),
        column("height", 14.2, Align::Right),
    ];
    let (stack, units) = (door.stack(), wall.spec.units);
    let cells = |what: &str, width: f64, height: f64| {
        vec![Cell::Text(what.into()), Cell::Text(units.show(width)), Cell::Text(units.show(height))]
    };
    let mut rows: Vec<Vec<Cell>> =
        stack.lines.iter().map(|l| cells(l.what, l.width, l.height)).collect();
    let total = [units.show(stack.width), units.show(stack.height)].map(Cell::Strong);
    rows.push(std::iter::once(Cell::Strong("hole".into())).chain(total).collect());
    let mut block = table(&format!("{names} hole"), &columns, rows);
    let lining = units.fine(wall.spec.finished.length());
    let notes = [
        format!("lining {lining} wide · clear width {}", units.show(door.clear_width())),
        moves(door),
    ];
    for note in notes {
        block.note(&note, PIECES);
    }
    block.whole = true;
    block
}

/// How it moves, in a line.
fn moves(door: &Door) -> String {
    let towards = match door.hinge {
        Hinge::Start => "start",
        Hinge::End => "end",
    };
    match (door.style, door.hand()) {
        (DoorStyle::Sliding, _) => format!("slides on the face, to the {towards} of the wall"),
        (DoorStyle::Pocket, _) => format!("slides into the wall, to its {towards}"),
        (_, Some(hand)) => format!("{} hand, seen from where it opens to", hand.label()),
        _ => "pair of leaves".into(),
    }
}
