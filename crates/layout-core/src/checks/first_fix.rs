//! First fix: boxes, pipes and ducts that meet timber, and things that hang past their wall.

use crate::frame::Frame;
use crate::math::SAME;
use crate::resolve::{Spot, WallSpec};
use crate::snag::{Code, Snag};
use crate::span::Span;

/// A box wants this much clear beside it: half the box and a screwdriver's room. Common practice.
const BESIDE_BOX: f64 = 5.0;

/// Every point and fitting of a wall against its frame.
pub(super) fn spots(spec: &WallSpec, frame: &Frame, snags: &mut Vec<Snag>) {
    if frame.members.is_empty() {
        return;
    }
    for spot in &spec.spots {
        outside(spec, spot, snags);
        if spot.sunk {
            in_stud(spec, frame, spot, snags);
        }
    }
}

fn outside(spec: &WallSpec, spot: &Spot, snags: &mut Vec<Snag>) {
    let along = spec.along();
    let over = (along.low - spot.span.low).max(spot.span.high - along.high);
    let above = spot.heights.high - spec.head.at(spot.span.centre());
    if over > SAME || above > SAME {
        let message = if over > SAME {
            format!(
                "{} runs {} past the end of wall {}",
                capital(spot),
                spec.units.with_unit(over),
                spec.name
            )
        } else {
            format!(
                "{} stands {} above the head of wall {}",
                capital(spot),
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
                capital(spot),
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

/// “Socket X1”.
fn capital(spot: &Spot) -> String {
    let label = spot.called();
    let mut letters = label.chars();
    letters.next().map(|c| c.to_uppercase().chain(letters).collect()).unwrap_or_default()
}
