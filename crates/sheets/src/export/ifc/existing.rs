//! What already stands: the walls of the room with their doors and windows, its floor and soffits, posts and beams. Each
//! says that it exists; nothing is given a size that nobody measured.

use layout_core::boards::Shape;
use layout_core::document::{Beam, Post};
use layout_core::existing::{
    Side, Surface, beam_stretches, floor, post_heights, post_outline, sides, soffits,
};
use layout_core::frame::Solid;
use layout_core::id::Name;
use layout_core::math::{PlanPoint, SAME};
use layout_core::span::Span;

use super::Model;
use super::facts::Facts;
use super::shape::{Faces, Xyz, sheet};
use super::step::{Id, text};

/// Everything that stands before the job begins.
pub(super) fn existing(model: &mut Model) {
    let job = model.job;
    for side in sides(&job.shell) {
        wall(model, &side);
    }
    for post in &job.shell.posts {
        column(model, post);
    }
    for beam in &job.shell.beams {
        self::beam(model, beam);
    }
    if let Some(floor) = floor(job) {
        surface(model, &floor, Under::Foot);
    }
    for soffit in soffits(job) {
        // Where the job boards the ceiling, its boards are there instead.
        if soffit.name.is_some() || job.levels.boarded.is_none() {
            surface(model, &soffit, Under::Roof);
        }
    }
}

/// A product in the storey, in plan coordinates, with the facts everyone asks of what exists.
fn stands(model: &mut Model, entity: &str, set: &str, of: &[&str], product: Product) -> Id {
    let place = model.whole();
    let (id, name, tag) = (model.id(of), text(&product.name), text(&product.mark));
    let (kind, body) = (product.kind, product.body);
    let thing =
        model.step.put(format_args!("{entity}({id},$,{name},$,$,{place},{body},{tag},.{kind}.)"));
    model.contained.push(thing);
    Facts::new()
        .mark("Reference", &product.mark)
        .status("EXISTING")
        .put(model, set, of, thing)
        .also(product.facts)
        .put(model, "Baywright_Existing", of, thing);
    thing
}

/// What one existing thing is called, and what it looks like.
struct Product {
    name: String,
    mark: String,
    kind: &'static str,
    body: Id,
    facts: Facts,
}

/// A wall of the room, from the slab to what is over its inside face.
fn wall(model: &mut Model, side: &Side) {
    let job = model.job;
    let slab = job.levels.slab();
    let stretches = side.under(job);
    let along_outside = |s: f64| side.outer.low + side.outer.length() * s / side.length;
    let mut solids = Vec::new();
    for stretch in &stretches {
        let Span { low, high } = stretch.span;
        let foot = [(low, 0.0), (high, 0.0), (along_outside(high), side.thickness)];
        let foot = [foot[0], foot[1], foot[2], (along_outside(low), side.thickness)];
        let tops = [stretch.from, stretch.to, stretch.to, stretch.from];
        let corner = |i: usize, z: f64| {
            let p = side.at(foot[i].0, foot[i].1);
            [p.x, p.y, z]
        };
        let bottom = [0, 1, 2, 3].map(|i| corner(i, slab));
        let top = [0, 1, 2, 3].map(|i| corner(i, tops[i]));
        solids.extend(Faces::of_corners(eight(bottom, top)));
    }
    let highest = stretches.iter().map(|s| s.from.max(s.to)).fold(slab, f64::max);
    if solids.is_empty() || highest <= slab {
        return;
    }
    let number = (side.index + 1).to_string();
    let items: Vec<Id> = solids.iter().map(|s| s.put(&mut model.step)).collect();
    let product = Product {
        name: format!("Existing wall {number}"),
        mark: format!("side {number}"),
        kind: "NOTDEFINED",
        body: model.body("Tessellation", &items),
        facts: Facts::new().length("Thickness", side.thickness),
    };
    let of = ["existing wall", number.as_str()];
    let whole = stands(model, "IFCWALL", "Pset_WallCommon", &of, product);
    Facts::new()
        .long("Length", side.length)
        .long("Width", side.thickness)
        .long("Height", highest - slab)
        .large("GrossVolume", solids.iter().map(Faces::volume).sum())
        .put_quantities(model, "Qto_WallBaseQuantities", &of, whole);
    for (i, (span, sill)) in side.gaps(&job.shell).into_iter().enumerate() {
        gap(model, side, whole, &format!("{number}.{}", i + 1), span, (sill, highest));
    }
}

/// A door or window in an existing wall: from its sill up as far as the wall goes, since its head is not known.
fn gap(
    model: &mut Model,
    side: &Side,
    whole: Id,
    mark: &str,
    span: Span,
    (sill, highest): (f64, f64),
) {
    // Beyond the wall where it goes through.
    let low = if sill <= model.job.levels.slab() + SAME { sill - BEYOND } else { sill };
    let across = Span { low: -BEYOND, high: side.thickness + BEYOND };
    let corner = |s: f64, n: f64, z: f64| {
        let p = side.at(s, n);
        [p.x, p.y, z]
    };
    let ring = |z: f64| {
        [
            corner(span.low, across.low, z),
            corner(span.high, across.low, z),
            corner(span.high, across.high, z),
            corner(span.low, across.high, z),
        ]
    };
    let Some(faces) = Faces::of_corners(eight(ring(low), ring(highest + BEYOND))) else { return };
    let solid = faces.put(&mut model.step);
    let body = model.body("Tessellation", &[solid]);
    let kind = if sill > 0.0 { "window" } else { "door" };
    let of = ["existing gap", mark];
    let place = model.whole();
    let (id, name, object, tag) =
        (model.id(&of), text(&format!("Existing {kind} {mark}")), text(kind), text(mark));
    let opening = model.step.put(format_args!(
        "IFCOPENINGELEMENT({id},$,{name},$,{object},{place},{body},{tag},.OPENING.)"
    ));
    model.voids(&["existing gap", mark, "voids"], whole, opening);
    Facts::new()
        .label("Kind", kind)
        .length("Station", span.low)
        .length("Width", span.length())
        .length("Sill", sill)
        .truth("HeadIsKnown", false)
        .put(model, "Baywright_ExistingOpening", &of, opening);
}

/// What a void is drawn out past what it is cut from, so that no skin is left over it, mm.
pub(super) const BEYOND: f64 = 1.0;

fn column(model: &mut Model, post: &Post) {
    let heights = post_heights(model.job, post);
    let outline = post_outline(post);
    let ring = |z: f64| outline.map(|p: PlanPoint| [p.x, p.y, z]);
    let Some(faces) = Faces::of_corners(eight(ring(heights.low), ring(heights.high))) else {
        return;
    };
    let solid = faces.put(&mut model.step);
    let name = post.name.as_str();
    let product = Product {
        name: name.into(),
        mark: name.into(),
        kind: "COLUMN",
        body: model.body("Tessellation", &[solid]),
        facts: Facts::new().length("Width", post.size.0).length("Depth", post.size.1),
    };
    let of = ["existing post", name];
    let column = stands(model, "IFCCOLUMN", "Pset_ColumnCommon", &of, product);
    Facts::new()
        .long("Length", heights.length())
        .wide("CrossSectionArea", post.size.0 * post.size.1)
        .large("GrossVolume", faces.volume())
        .put_quantities(model, "Qto_ColumnBaseQuantities", &of, column);
}

/// A beam as far as it shows: from its underside up to what is over it.
fn beam(model: &mut Model, beam: &Beam) {
    let Some((place, stretches)) = beam_stretches(model.job, beam) else { return };
    let across = Span::about(0.0, beam.width);
    let solids: Vec<Faces> = stretches
        .iter()
        .map(|s| Solid::lying(s.span, across, (beam.soffit, beam.soffit), (s.from, s.to)))
        .filter_map(|solid| {
            let corners = solid.corners().map(|p| {
                let p = place.job(p);
                [p.x, p.y, p.z]
            });
            Faces::of_corners(corners)
        })
        .collect();
    if solids.is_empty() {
        return;
    }
    let items: Vec<Id> = solids.iter().map(|s| s.put(&mut model.step)).collect();
    let name = beam.name.as_str();
    let product = Product {
        name: name.into(),
        mark: name.into(),
        kind: "BEAM",
        body: model.body("Tessellation", &items),
        facts: Facts::new().length("Width", beam.width).length("Soffit", beam.soffit),
    };
    let of = ["existing beam", name];
    let thing = stands(model, "IFCBEAM", "Pset_BeamCommon", &of, product);
    Facts::new()
        .long("Length", (beam.to - beam.from).norm())
        .large("GrossVolume", solids.iter().map(Faces::volume).sum())
        .put_quantities(model, "Qto_BeamBaseQuantities", &of, thing);
}

/// Which way one looks at a surface.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Under {
    /// Down, at the floor.
    Foot,
    /// Up, at what is over the room.
    Roof,
}

/// The floor, the ceiling or a roof slope: the side of it that is seen, with no thickness.
fn surface(model: &mut Model, surface: &Surface, under: Under) {
    let rings: Vec<Vec<Vec<Xyz>>> =
        surface.shapes.iter().map(|shape| lifted(shape, surface, under)).collect();
    let solid = sheet(&mut model.step, &rings);
    let body = model.body("Tessellation", &[solid]);
    let named = surface.name.as_ref().map(Name::as_str);
    let (entity, set, kind, called) = match (under, named) {
        (Under::Foot, _) => ("IFCSLAB", "Pset_SlabCommon", "FLOOR", "Existing floor"),
        (Under::Roof, Some(name)) => ("IFCSLAB", "Pset_SlabCommon", "ROOF", name),
        (Under::Roof, None) => {
            ("IFCCOVERING", "Pset_CoveringCommon", "CEILING", "Existing ceiling")
        }
    };
    let area = surface.shapes.iter().map(Shape::area).sum::<f64>() / surface.pitch().cos();
    let mark = named.map_or_else(|| called.to_lowercase(), str::to_string);
    let facts = Facts::new().label("Shape", "the side that is seen; thickness not known");
    let facts = if surface.slopes() { facts.angle("Pitch", surface.pitch()) } else { facts };
    let product = Product { name: called.into(), mark: mark.clone(), kind, body, facts };
    let of = ["existing surface", mark.as_str()];
    let thing = stands(model, entity, set, &of, product);
    let quantities =
        if entity == "IFCSLAB" { "Qto_SlabBaseQuantities" } else { "Qto_CoveringBaseQuantities" };
    Facts::new().wide("GrossArea", area).put_quantities(model, quantities, &of, thing);
}

/// A shape of the plan at the height of its surface: its outline and its holes, as one sees them from the room.
fn lifted(shape: &Shape, surface: &Surface, under: Under) -> Vec<Vec<Xyz>> {
    let lift = |ring: &Vec<[f64; 2]>| {
        let mut ring: Vec<Xyz> = ring.iter().map(|p| [p[0], p[1], surface.at(*p)]).collect();
        if under == Under::Roof {
            ring.reverse();
        }
        ring
    };
    std::iter::once(&shape.outline).chain(&shape.holes).map(lift).collect()
}

/// Corners of one end and of the other, in the order of a solid.
fn eight(a: [Xyz; 4], b: [Xyz; 4]) -> [Xyz; 8] {
    [a[0], a[1], a[2], a[3], b[0], b[1], b[2], b[3]]
}
