//! Points of the first fix and what will hang on walls, each as the box it takes up.

use layout_core::document::{Face, PointKind};
use layout_core::first_fix::held;
use layout_core::frame::Solid;
use layout_core::id::ItemRef;
use layout_core::layout::WallLayout;
use layout_core::resolve::Spot;
use layout_core::span::Span;

use super::Model;
use super::facts::Facts;
use super::shape::Faces;
use super::step::{Id, text};

/// The points and fittings of a wall.
pub(super) fn hung(model: &mut Model, wall: &WallLayout, place: Id) {
    let boxes = held(&wall.spec, &wall.frame);
    for spot in &wall.spec.spots {
        let across = takes(wall, spot);
        let box_ = Solid::upright(
            spot.span,
            across,
            (spot.heights.low, spot.heights.low),
            (spot.heights.high, spot.heights.high),
        );
        let Some(faces) = Faces::of(&box_) else { continue };
        let solid = faces.put(&mut model.step);
        let body = model.body("Tessellation", &[solid]);
        match &spot.of {
            ItemRef::Point(name) => {
                let Some((_, point)) = model.job.point(name) else { continue };
                let on = boxes.iter().find(|h| h.of == spot.of).and_then(|h| h.by);
                let on = on.map(|mark| format!("{}-{mark}", wall.name()));
                let facts = Facts::new().length("Depth", point.depth);
                let facts = if let Some(on) = on { facts.mark("HangsOn", &on) } else { facts };
                let thing = entity(&point.kind);
                put(model, wall, spot, ("point", name.as_str(), thing), facts, (place, body));
            }
            ItemRef::Fitting(name) => {
                let fixings = model.job.fitting(name).map_or(0, |(_, f)| f.fixings.len());
                let facts = Facts::new().count("Fixings", fixings);
                let thing = ("IFCBUILDINGELEMENTPROXY", "USERDEFINED");
                put(model, wall, spot, ("fitting", name.as_str(), thing), facts, (place, body));
            }
            _ => {}
        }
    }
}

/// What a point takes up across its wall, from the finished face as deep as its box; what a fitting does in front of it.
fn takes(wall: &WallLayout, spot: &Spot) -> Span {
    let (frame, finished) = (wall.spec.frame, wall.spec.finished);
    match (spot.sunk, spot.face) {
        (true, Face::Left) => {
            Span { low: frame.high - spot.depth.min(frame.length()), high: finished.high }
        }
        (true, Face::Right) => {
            Span { low: finished.low, high: frame.low + spot.depth.min(frame.length()) }
        }
        (false, Face::Left) => Span::from(finished.high, spot.depth),
        (false, Face::Right) => Span::from(finished.low - spot.depth, spot.depth),
    }
}

/// What IFC calls a point.
fn entity(kind: &PointKind) -> (&'static str, &'static str) {
    match kind {
        PointKind::Switch => ("IFCSWITCHINGDEVICE", "TOGGLESWITCH"),
        PointKind::Socket | PointKind::Spur => ("IFCOUTLET", "POWEROUTLET"),
        PointKind::Data => ("IFCOUTLET", "DATAOUTLET"),
        PointKind::Light => ("IFCLIGHTFIXTURE", "NOTDEFINED"),
        PointKind::Thermostat => ("IFCUNITARYCONTROLELEMENT", "THERMOSTAT"),
        PointKind::Fan => ("IFCFAN", "NOTDEFINED"),
        PointKind::Duct => ("IFCDUCTSEGMENT", "NOTDEFINED"),
        PointKind::Pipe | PointKind::Waste => ("IFCPIPESEGMENT", "NOTDEFINED"),
        PointKind::Valve => ("IFCVALVE", "NOTDEFINED"),
        PointKind::Other(_) => ("IFCBUILDINGELEMENTPROXY", "USERDEFINED"),
    }
}

fn put(
    model: &mut Model,
    wall: &WallLayout,
    spot: &Spot,
    (what, mark, (entity, kind)): (&str, &str, (&str, &str)),
    facts: Facts,
    (place, body): (Id, Id),
) {
    let of = [what, mark];
    let (id, name, tag) = (model.id(&of), text(mark), text(mark));
    let object = text(if spot.label.is_empty() { what } else { &spot.label });
    let thing = model
        .step
        .put(format_args!("{entity}({id},$,{name},$,{object},{place},{body},{tag},.{kind}.)"));
    model.contained.push(thing);
    let set = if what == "point" { "Baywright_Point" } else { "Baywright_Fitting" };
    Facts::new()
        .label("Kind", &spot.label)
        .mark("Wall", wall.name().as_str())
        .label("Face", spot.face.label())
        .length("Station", spot.span.centre())
        .length("Height", spot.heights.centre())
        .also(facts)
        .put(model, set, &of, thing);
}
