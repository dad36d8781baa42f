//! What the holes of a wall are for: their size, the leaf that goes in, the way it opens.

use std::f64::consts::FRAC_PI_2;

use layout_core::document::{Door, DoorStyle, Face, Hinge, OpeningKind};
use layout_core::id::ItemRef;
use layout_core::span::Span;
use layout_core::units::Units;

use super::Sheet;
use crate::picture::{Fill, Label, Pen};

pub(super) fn draw(sheet: &mut Sheet) {
    let wall = sheet.wall;
    for hole in &wall.spec.holes {
        let of = ItemRef::Opening(hole.name.clone());
        let foot = hole.sill.unwrap_or_else(|| wall.spec.floor.at(hole.span.centre()).max(0.0));
        let corners = [
            sheet.at(hole.span.low, foot),
            sheet.at(hole.span.high, foot),
            sheet.at(hole.span.high, hole.top),
            sheet.at(hole.span.low, hole.top),
        ];
        sheet.picture.area(corners, Pen::None, Fill::None, Some(&of));
        let doorway = hole.doorway();
        if let Some(door) = hole.door.as_ref().filter(|d| d.style == DoorStyle::Pocket) {
            in_pocket(sheet, door, hole.span, &of);
        }
        let size = format!(
            "{} × {}",
            sheet.job.units.show(hole.span.length()),
            sheet.job.units.show(hole.top - foot)
        );
        let mut lines = vec![Label::new(corners[0], hole.name.as_str()).large()];
        lines.push(Label::new(corners[0], size));
        let opening = sheet.job.opening(&hole.name).map(|(_, o)| &o.kind);
        let notes = match opening {
            Some(OpeningKind::Door(door)) => leaf(door, sheet.options.face, sheet.job.units),
            Some(kind) => vec![kind.label().to_string()],
            None => vec![hole.label.to_string()],
        };
        lines.extend(notes.into_iter().map(|n| Label::new(corners[0], n).small().pen(Pen::Quiet)));
        let lines: Vec<Label> = lines.into_iter().map(|l| l.of(&of)).collect();
        // Over the laser line or under it, wherever there is more room.
        let laser = sheet.job.levels.laser.clamp(foot, hole.top);
        let parts = [Span::between(laser, hole.top), Span::between(foot, laser)];
        let part = if parts[0].length() >= parts[1].length() { parts[0] } else { parts[1] };
        block(sheet, &lines, doorway, part);
    }
}

/// The leaf standing open in its pocket, behind the slats.
fn in_pocket(sheet: &mut Sheet, door: &Door, hole: Span, of: &ItemRef) {
    for (_, shut) in door.leaves(hole) {
        let open = door.slid_open(shut);
        let (foot, top) = (door.threshold, door.threshold + door.leaf.1);
        let corners = [
            sheet.at(open.low, foot),
            sheet.at(open.high, foot),
            sheet.at(open.high, top),
            sheet.at(open.low, top),
        ];
        for i in 0..4 {
            sheet.picture.line([corners[i], corners[(i + 1) % 4]], Pen::Hidden, Some(of));
        }
    }
}

/// Writes lines under one another about the middle of a part of a hole; turned upright when they are
/// too long to lie, fewer of them when they are too many.
fn block(sheet: &mut Sheet, lines: &[Label], along: Span, heights: Span) {
    let (wide, high) = (along.length() / sheet.scale, heights.length() / sheet.scale);
    let fits = |count: usize, along: f64, across: f64| {
        lines[..count].iter().all(|l| l.width() <= along - 1.0)
            && STEP * count as f64 + 1.0 <= across
    };
    let choice = (1..=lines.len()).rev().flat_map(|count| [(count, false), (count, true)]).find(
        |&(count, upright)| if upright { fits(count, high, wide) } else { fits(count, wide, high) },
    );
    let Some((count, is_upright)) = choice else { return };
    let centre = sheet.at(along.centre(), heights.centre());
    for (i, label) in lines[..count].iter().enumerate() {
        let down = (i as f64 - (count as f64 - 1.0) / 2.0) * STEP;
        // The mark is higher than the rest.
        let down = if i == 0 && count > 1 { down - 1.0 } else { down };
        let label = label.clone();
        sheet.write(if is_upright {
            label.at(centre.shifted(down, 0.0)).turned(FRAC_PI_2)
        } else {
            label.at(centre.shifted(0.0, -down))
        });
    }
}

/// From one line of lettering to the next, mm of paper.
const STEP: f64 = 5.2;

/// The leaf, and how it hangs as it is seen from `face`.
fn leaf(door: &Door, face: Face, units: Units) -> Vec<String> {
    let (width, height, _) = door.leaf;
    let hand = match (door.hinge, face) {
        (Hinge::Start, Face::Right) | (Hinge::End, Face::Left) => "left",
        (Hinge::End, Face::Right) | (Hinge::Start, Face::Left) => "right",
    };
    let way = if door.opens == face { "towards you" } else { "away" };
    let size = format!("{} × {}", units.show(width), units.show(height));
    let opens = format!("opens {way}");
    match door.style {
        DoorStyle::Single => vec![format!("leaf {size}"), format!("hung {hand}"), opens],
        DoorStyle::Double => vec!["pair of leaves".into(), size, opens],
        DoorStyle::Sliding => {
            let side = if door.opens == face { "on this side" } else { "on the far side" };
            vec![format!("leaf {size}"), format!("slides {hand}"), side.into()]
        }
        DoorStyle::Pocket => {
            vec![format!("leaf {size}"), format!("slides {hand}"), "into the wall".into()]
        }
    }
}
