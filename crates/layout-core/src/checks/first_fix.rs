//! First fix: boxes, pipes and ducts that meet timber, and things that hang past their wall.

use crate::document::Rule;
use crate::frame::{BESIDE_BOX, Frame};
use crate::math::SAME;
use crate::resolve::{Hole, Spot, WallSpec};
use crate::snag::{Code, Snag, capital};
use crate::span::Span;

/// Every point and fitting of a wall against its frame.
pub(super) fn spots(spec: &WallSpec, frame: &Frame, snags: &mut Vec<Snag>) {
    if frame.members.is_empty() {
        return;
    }
    for (i, spot) in spec.spots.iter().enumerate() {
        outside(spec, spot, snags);
        if !spot.sunk {
            continue;
        }
        if spot.by_hand {
            out_of_reach(spec, spot, snags);
        }
        match spec.holes.iter().find(|hole| hole.swallows(spot)) {
            Some(hole) => at_opening(spec, spot, hole, snags),
            None => in_stud(spec, frame, spot, snags),
        }
        for other in spec.spots[..i].iter().filter(|s| s.sunk) {
            in_each_others_way(spec, other, spot, snags);
        }
    }
}

/// A switch or socket that stands too low or too high.
fn out_of_reach(spec: &WallSpec, spot: &Spot, snags: &mut Vec<Snag>) {
    let (units, found) = (spec.units, spot.heights.centre());
    let (low, high) = (spec.rules.value(Rule::ReachLow), spec.rules.value(Rule::ReachHigh));
    let (rule, limit, way) = if found < low - SAME {
        (Rule::ReachLow, low, "Raise")
    } else if found > high + SAME {
        (Rule::ReachHigh, high, "Lower")
    } else {
        return;
    };
    let message = format!(
        "{} has its centre {} above the floor",
        capital(&spot.called()),
        units.with_unit(found)
    );
    let remedy = format!(
        "{way} it by {}, where the guidance for new dwellings applies.",
        units.with_unit((found - limit).abs())
    );
    snags.push(
        Snag::new(Code::OutsideHeights, spot.of.clone(), message, remedy)
            .in_wall(&spec.name, spot.span.centre())
            .at_height(found)
            .measured(found, limit)
            .by(spec.rules.source(rule)),
    );
}

fn at_opening(spec: &WallSpec, spot: &Spot, hole: &Hole, snags: &mut Vec<Snag>) {
    let doorway = hole.doorway();
    let (left, right) = (spot.span.high - doorway.low, doorway.high - spot.span.low);
    let by = left.min(right);
    let message = format!(
        "{} is {} inside {} {}",
        capital(&spot.called()),
        spec.units.with_unit(spec.units.up(by)),
        hole.label,
        hole.name
    );
    let remedy = "Move it onto the wall, clear of the lining and the architrave.";
    snags.push(
        Snag::new(Code::PointAtOpening, spot.of.clone(), message, remedy)
            .in_wall(&spec.name, spot.span.centre())
            .at_height(spot.heights.centre())
            .measured(by, 0.0),
    );
}

/// Two boxes that overlap: on one face side by side, or back to back in a wall too thin for both.
fn in_each_others_way(spec: &WallSpec, a: &Spot, b: &Spot, snags: &mut Vec<Snag>) {
    if !a.span.overlaps(b.span) || !a.heights.overlaps(b.heights) {
        return;
    }
    let (message, remedy, value, limit) = if a.face == b.face {
        let by = a.span.intersection(b.span).length();
        let by_height = a.heights.intersection(b.heights).length();
        let least = by.min(by_height);
        let message = format!(
            "{} and {} overlap by {}",
            capital(&b.called()),
            a.called(),
            spec.units.with_unit(least)
        );
        (message, "Move one of the two.", least, 0.0)
    } else {
        let (both, room) = (a.depth + b.depth, spec.frame.length());
        if both <= room + SAME {
            return;
        }
        let message = format!(
            "{} and {} are back to back: together {} deep in a frame of {}",
            capital(&b.called()),
            a.called(),
            spec.units.show(both),
            spec.units.with_unit(room)
        );
        (message, "Move one of the two along, or take shallower boxes.", both, room)
    };
    snags.push(
        Snag::new(Code::PointsClash, b.of.clone(), message, remedy)
            .in_wall(&spec.name, b.span.centre())
            .at_height(b.heights.centre())
            .measured(value, limit),
    );
}

fn outside(spec: &WallSpec, spot: &Spot, snags: &mut Vec<Snag>) {
    let along = spec.along();
    let over = (along.low - spot.span.low).max(spot.span.high - along.high);
    let above = spot.heights.high - spec.head.at(spot.span.centre());
    if over > SAME || above > SAME {
        let message = if over > SAME {
            format!(
                "{} runs {} past the end of wall {}",
                capital(&spot.called()),
                spec.units.with_unit(over),
                spec.name
            )
        } else {
            format!(
                "{} stands {} above the head of wall {}",
                capital(&spot.called()),
                spec.units.with_unit(above),
                spec.name
            )
        };
        snags.push(
            Snag::new(Code::OutsideWall, spot.of.clone(), message, "Move it onto the wall.")
                .in_wall(&spec.name, spot.span.centre())
                .at_height(spot.heights.centre())
                .measured(over.max(above), 0.0),
        );
    }
}

fn in_stud(spec: &WallSpec, frame: &Frame, spot: &Spot, snags: &mut Vec<Snag>) {
    let needs = spot.span.grown(BESIDE_BOX);
    let stands = |span: Span| {
        frame
            .members
            .iter()
            .filter(|m| !m.role.is_plate() && m.solid.heights().overlaps(spot.heights))
            .find(|m| {
                m.solid.stations().overlaps(span)
                    && m.solid.stations().length() < span.length().max(200.0)
            })
    };
    let upright =
        |m: &&crate::frame::Member| m.solid.heights().length() > m.solid.stations().length();
    let Some(member) = stands(needs).filter(upright) else { return };
    let stud = member.solid.stations();
    let left = needs.high - stud.low;
    let right = stud.high - needs.low;
    let (by, way) = if left <= right {
        (left, "towards the start of the wall")
    } else {
        (right, "towards its end")
    };
    snags.push(
        Snag::new(
            Code::PointInStud,
            spot.of.clone(),
            format!(
                "{} meets {} {}",
                capital(&spot.called()),
                member.role.label(),
                member.full_mark(&spec.name)
            ),
            format!("Move it {} {way}.", spec.units.with_unit(spec.units.up(by))),
        )
        .in_wall(&spec.name, spot.span.centre())
        .at_height(spot.heights.centre())
        .measured(needs.intersection(stud).length(), 0.0),
    );
}
