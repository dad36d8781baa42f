//! Insulation: what is cut for every bay, in the middle of the frame.

use layout_core::boards::Shape;
use layout_core::insulation::{Fill, fills, friction};
use layout_core::layout::WallLayout;
use layout_core::math::is_place;
use layout_core::span::Span;

use super::Model;
use super::facts::Facts;
use super::shape::Flat;
use super::step::{Id, text};

/// The pieces of insulation of a wall.
pub(super) fn filling(model: &mut Model, wall: &WallLayout, place: Id) -> Vec<Id> {
    let Some(insulation) = &wall.spec.makeup.insulation else { return Vec::new() };
    let thickness = insulation.thickness.min(wall.spec.frame.length());
    let across = Span::about(wall.spec.frame.centre(), thickness);
    let mut pieces = Vec::new();
    let mut last = (0, 0);
    for fill in fills(&wall.spec, &wall.frame, friction(&model.job.sundries)) {
        let numbers = [fill.along.low, fill.along.high, fill.low, fill.high[0], fill.high[1]];
        if !numbers.into_iter().all(is_place) || thickness <= 0.0 {
            continue;
        }
        last = if fill.bay == last.0 { (fill.bay, last.1 + 1) } else { (fill.bay, 1) };
        let mark = format!("{} bay {}.{}", wall.name(), last.0, last.1);
        let covering = piece(model, &fill, across, &mark, insulation.kind.as_str(), place);
        model.filling.entry(insulation.kind.clone()).or_default().push(covering);
        pieces.push(covering);
    }
    pieces
}

fn piece(model: &mut Model, fill: &Fill, across: Span, mark: &str, kind: &str, place: Id) -> Id {
    let Span { low, high } = fill.along;
    let outline =
        vec![[low, fill.low], [high, fill.low], [high, fill.high[1]], [low, fill.high[0]]];
    let lies = Flat {
        origin: [0.0, across.low, 0.0],
        x: [1.0, 0.0, 0.0],
        y: [0.0, 0.0, 1.0],
        thickness: across.length(),
        out: [0.0, 1.0, 0.0],
    };
    let solid = lies.put(&mut model.step, &Shape { outline, holes: Vec::new() });
    let body = model.body("SweptSolid", &[solid]);
    let of = ["insulation", mark];
    let (id, name, object) = (model.id(&of), text(mark), text(kind));
    let covering = model.step.put(format_args!(
        "IFCCOVERING({id},$,{name},$,{object},{place},{body},{name},.INSULATION.)"
    ));
    Facts::new()
        .mark("Reference", mark)
        .status("NEW")
        .put(model, "Pset_CoveringCommon", &of, covering)
        .count("Bay", fill.bay)
        .length("CutWidth", fill.cut.0)
        .length("CutHeight", fill.cut.1)
        .put(model, "Baywright_Insulation", &of, covering)
        .long("Width", across.length())
        .wide("NetArea", fill.area())
        .put_quantities(model, "Qto_CoveringBaseQuantities", &of, covering);
    covering
}
