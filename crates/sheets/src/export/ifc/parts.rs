//! Walls, platforms and the ceiling, and what they are made of: timber and boards.

use layout_core::boards::{Layer, On, Piece, Strip};
use layout_core::ceiling::CeilingLayout;
use layout_core::document::{Board, Face};
use layout_core::frame::{Member, Role, Solid};
use layout_core::layout::{Framed, PlatformLayout, WallLayout};
use layout_core::platform::on_board;
use layout_core::resolve::Place;

use super::facts::Facts;
use super::shape::{Faces, Flat, Xyz, dot, less, placement};
use super::step::{Id, text};
use super::{Model, list};
use super::{bores, filling, hung, opening};

/// A wall with its timber, its boards and its openings.
pub(super) fn wall(model: &mut Model, wall: &WallLayout) {
    let (name, spec) = (wall.name().as_str(), &wall.spec);
    let place = local_place(model, wall.place);
    let axis = {
        let reach = spec.reach();
        let ends = [reach.low, reach.high].map(|s| {
            let at = super::step::point(&[s, 0.0]);
            model.step.put(format_args!("IFCCARTESIANPOINT({at})"))
        });
        let line = model.step.put(format_args!("IFCPOLYLINE({})", list(ends)));
        let of = model.axis;
        let shown =
            model.step.put(format_args!("IFCSHAPEREPRESENTATION({of},'Axis','Curve2D',({line}))"));
        model.step.put(format_args!("IFCPRODUCTDEFINITIONSHAPE($,$,({shown}))"))
    };
    let (id, shown, makeup) =
        (model.id(&["wall", name]), text(&format!("Wall {name}")), text(spec.makeup.name.as_str()));
    let tag = text(name);
    let whole = model.step.put(format_args!(
        "IFCWALL({id},$,{shown},$,{makeup},{place},{axis},{tag},.PARTITIONING.)"
    ));
    model.contained.push(whole);
    let of = ["wall", name];
    let common = Facts::new()
        .mark("Reference", name)
        .status("NEW")
        .truth("IsExternal", false)
        .truth("LoadBearing", spec.loadbearing);
    let own = common
        .put(model, "Pset_WallCommon", &of, whole)
        .label("MakeUp", spec.makeup.name.as_str())
        .length("Centres", spec.centres)
        .length("FrameDepth", spec.frame.length())
        .long("Length", spec.reach().length())
        .long("Width", spec.finished.length())
        .long("Height", spec.head.highest() - spec.bed.lowest());
    own.put(model, "Baywright_Wall", &of, whole).put_quantities(
        model,
        "Qto_WallBaseQuantities",
        &of,
        whole,
    );
    let mut parts = members(model, Framed::Wall(wall), place);
    parts.extend(faces(model, wall, place));
    parts.extend(strips(model, wall, place));
    parts.extend(filling::filling(model, wall, place));
    model.made_of(&["wall", name, "parts"], whole, &parts);
    opening::openings(model, wall, whole, place);
    hung::hung(model, wall, place);
}

/// A low ceiling, a shelf or a bulkhead with its timber and its boards.
pub(super) fn platform(model: &mut Model, laid: &PlatformLayout) {
    let name = laid.name().as_str();
    let place = local_place(model, laid.place);
    let (id, kind) = (model.id(&["platform", name]), laid.spec.kind.label());
    let (shown, tag, kind_text) = (text(&format!("{kind} {name}")), text(name), text(kind));
    let whole = model.step.put(format_args!(
        "IFCELEMENTASSEMBLY({id},$,{shown},$,{kind_text},{place},$,{tag},.SITE.,.USERDEFINED.)"
    ));
    model.contained.push(whole);
    Facts::new()
        .mark("Mark", name)
        .label("Kind", kind)
        .length("Underside", laid.spec.finished.low)
        .length("Top", laid.spec.finished.high)
        .length("Centres", laid.spec.centres)
        .put(model, "Baywright_Platform", &["platform", name], whole);
    let mut parts = members(model, Framed::Platform(laid), place);
    for layer in laid.boards.iter() {
        let at = |p: [f64; 2]| {
            let p = on_board(&laid.spec, layer, p);
            [p.x, p.y, p.z]
        };
        parts.extend(flat(model, name, layer, place, at));
    }
    model.made_of(&["platform", name, "parts"], whole, &parts);
}

/// The boards of the room's own ceiling.
pub(super) fn ceiling(model: &mut Model, laid: &CeilingLayout) {
    let id = model.id(&["ceiling"]);
    let place = model.whole();
    let whole =
        model.step.put(format_args!("IFCCOVERING({id},$,'Ceiling',$,$,{place},$,$,.CEILING.)"));
    model.contained.push(whole);
    let status = Facts::new().status("NEW");
    status.put(model, "Pset_CoveringCommon", &["ceiling"], whole);
    let mut parts = Vec::new();
    for layer in &laid.layers {
        let at = |p: [f64; 2]| {
            let plan = laid.on_plan(p);
            [plan.x, plan.y, layer.across.high]
        };
        parts.extend(flat(model, "", layer, place, at));
    }
    model.made_of(&["ceiling", "parts"], whole, &parts);
}

/// The axes of a wall or a platform within the storey.
fn local_place(model: &mut Model, place: Place) -> Id {
    let origin = [place.origin.x, place.origin.y, 0.0];
    let along = [place.along.x, place.along.y, 0.0];
    let at = placement(&mut model.step, origin, [0.0, 0.0, 1.0], along);
    let within = model.place;
    model.step.put(format_args!("IFCLOCALPLACEMENT({within},{at})"))
}

/// What IFC calls a piece of timber.
fn predefined(role: Role) -> &'static str {
    match role {
        Role::SolePlate
        | Role::LowerSole
        | Role::UpperSole
        | Role::HeadPlate
        | Role::WallPlate
        | Role::FrontPlate => "PLATE",
        Role::Stud
        | Role::EndStud
        | Role::OpeningStud
        | Role::CornerStud
        | Role::TeeStud
        | Role::Ground
        | Role::Cripple
        | Role::Slat
        | Role::FrontStud => "STUD",
        // Carries what lies on it.
        Role::Jack => "POST",
        Role::Riser
        | Role::OpeningHead
        | Role::Sill
        | Role::Block
        | Role::Noggin
        | Role::Joist
        | Role::TrimmingJoist
        | Role::TailJoist
        | Role::Trimmer
        | Role::Rim
        | Role::StudTrimmer
        | Role::BoxNoggin
        | Role::Pattress => "MEMBER",
    }
}

fn members(model: &mut Model, part: Framed, place: Id) -> Vec<Id> {
    let frame = part.frame();
    frame.members.iter().filter_map(|m| member(model, part, m, place)).collect()
}

/// One piece of timber by its eight corners.
fn member(model: &mut Model, part: Framed, member: &Member, place: Id) -> Option<Id> {
    let faces = Faces::of(&member.solid)?;
    let solid = faces.put(&mut model.step);
    let body = model.body("Tessellation", &[solid]);
    let (mark, role) = (member.full_mark(part.name()), member.role.label());
    let of = ["member", mark.as_str()];
    let (id, name, tag, role_text) =
        (model.id(&of), text(&mark), text(&member.mark.to_string()), text(role));
    let kind = predefined(member.role);
    let piece = model.step.put(format_args!(
        "IFCMEMBER({id},$,{name},{role_text},{role_text},{place},{body},{tag},.{kind}.)"
    ));
    model.timber.entry(member.timber.clone()).or_default().push(piece);
    let bears = matches!(part, Framed::Wall(wall) if wall.spec.loadbearing);
    let timber = &member.timber;
    let cut = member.cut();
    let mut facts = Facts::new()
        .mark("Reference", &mark)
        .status("NEW")
        .truth("LoadBearing", bears)
        .put(model, "Pset_MemberCommon", &of, piece)
        .mark("Mark", &mark)
        .label("Role", role)
        .label("Section", &timber.size())
        .label("StrengthClass", timber.grade().as_str())
        .length("CutLength", cut.length)
        .length("SawLength", part.cut_length(member))
        .truth("MeasureInPlace", member.measure_in_place);
    for (end, [bevel, mitre]) in cut.ends.iter().zip([["Bevel1", "Mitre1"], ["Bevel2", "Mitre2"]]) {
        facts = facts.angle(bevel, end.bevel).angle(mitre, end.mitre);
    }
    if let Some(rip) = member.solid.rip() {
        facts = facts
            .length("RipWide", rip.wide)
            .length("RipNarrow", rip.narrow)
            .angle("RipBevel", rip.bevel);
    }
    let facts = facts.put(model, "Baywright_Member", &of, piece);
    let bored = match part {
        Framed::Wall(wall) => bores::bores(model, wall, member, &faces, (piece, place)),
        Framed::Platform(_) => 0.0,
    };
    facts
        .long("Length", cut.length)
        .wide("CrossSectionArea", timber.thickness() * timber.depth())
        .large("GrossVolume", faces.volume())
        .large("NetVolume", faces.volume() - bored)
        .put_quantities(model, "Qto_MemberBaseQuantities", &of, piece);
    Some(piece)
}

/// The boards on the faces of a wall.
fn faces(model: &mut Model, wall: &WallLayout, place: Id) -> Vec<Id> {
    let mut plates = Vec::new();
    for layer in &wall.boards.layers {
        let (inner, out) = match layer.face {
            Face::Left => (layer.across.low, 1.0),
            Face::Right => (layer.across.high, -1.0),
        };
        let lies = Flat {
            origin: [0.0, inner, 0.0],
            x: [1.0, 0.0, 0.0],
            y: [0.0, 0.0, 1.0],
            thickness: layer.board.thickness,
            out: [0.0, out, 0.0],
        };
        for piece in &layer.pieces {
            let said = Said {
                mark: format!("{} {} {}", wall.name(), layer.face.label(), piece.number),
                face: layer.face.label(),
                layer: layer.layer + 1,
                board: &layer.board,
                area: piece.shape.area(),
                mass: layer.mass(piece),
            };
            plates.extend(plate(model, &lies, piece, &said, place));
        }
    }
    plates
}

/// The boards of a layer that lies flat, or of a front; `at` says where a place of the layer is.
fn flat(
    model: &mut Model,
    name: &str,
    layer: &Layer<On>,
    place: Id,
    at: impl Fn([f64; 2]) -> Xyz,
) -> Vec<Id> {
    let origin = at([0.0, 0.0]);
    let (x, y) = (less(at([1.0, 0.0]), origin), less(at([0.0, 1.0]), origin));
    let normal = super::shape::cross(x, y);
    // The layer is square to one of the axes, between two places on it: the timber is at one of them.
    let axis = normal.map(f64::abs);
    let to = layer.across.centre() - dot(origin, axis);
    let lies =
        Flat { origin, x, y, thickness: layer.board.thickness, out: axis.map(|v| v * to.signum()) };
    let mut plates = Vec::new();
    for piece in &layer.pieces {
        let said = Said {
            mark: format!("{name} {} {}", layer.face.label(), piece.number).trim().to_string(),
            face: layer.face.label(),
            layer: layer.layer + 1,
            board: &layer.board,
            area: piece.shape.area(),
            mass: layer.mass(piece),
        };
        plates.extend(plate(model, &lies, piece, &said, place));
    }
    plates
}

/// What is said of a board.
struct Said<'a> {
    mark: String,
    face: &'static str,
    layer: usize,
    board: &'a Board,
    /// mm²
    area: f64,
    /// kg
    mass: f64,
}

fn plate(model: &mut Model, lies: &Flat, piece: &Piece, said: &Said, place: Id) -> Option<Id> {
    let rings = std::iter::once(&piece.shape.outline).chain(&piece.shape.holes);
    let is_sane = rings.flatten().flatten().all(|v| v.is_finite()) && said.board.thickness > 0.0;
    if !is_sane {
        return None;
    }
    let solid = lies.put(&mut model.step, &piece.shape);
    let body = model.body("SweptSolid", &[solid]);
    Some(board(model, body, said, place))
}

/// The strips over the ends and in the reveals of a wall.
fn strips(model: &mut Model, wall: &WallLayout, place: Id) -> Vec<Id> {
    let mut plates = Vec::new();
    for strip in &wall.boards.strips {
        let Some(solid) = Faces::of(&block(strip)) else { continue };
        let solid = solid.put(&mut model.step);
        let body = model.body("Tessellation", &[solid]);
        let on = strip.closes.on().label();
        let said = Said {
            mark: format!("{} {on} {}", wall.name(), strip.number),
            face: on,
            layer: strip.layer + 1,
            board: &strip.board,
            area: strip.area(),
            mass: strip.mass(),
        };
        plates.push(board(model, body, &said, place));
    }
    plates
}

/// What a strip takes up.
fn block(strip: &Strip) -> Solid {
    let [along, across, up] = strip.place;
    Solid::upright(along, across, (up.low, up.low), (up.high, up.high))
}

fn board(model: &mut Model, body: Id, said: &Said, place: Id) -> Id {
    let of = ["board", said.mark.as_str()];
    let (id, name, kind) = (model.id(&of), text(&said.mark), text(said.board.kind.as_str()));
    let plate = model
        .step
        .put(format_args!("IFCPLATE({id},$,{name},$,{kind},{place},{body},{name},.SHEET.)"));
    model.boards.entry(said.board.kind.clone()).or_default().push(plate);
    Facts::new()
        .mark("Reference", &said.mark)
        .status("NEW")
        .put(model, "Pset_PlateCommon", &of, plate)
        .mark("Mark", &said.mark)
        .label("On", said.face)
        .count("Layer", said.layer)
        .label("Board", said.board.kind.as_str())
        .long("Width", said.board.thickness)
        .wide("NetArea", said.area)
        .large("NetVolume", said.area * said.board.thickness)
        .heavy("NetWeight", said.mass)
        .put(model, "Baywright_Board", &of, plate)
        .put_quantities(model, "Qto_PlateBaseQuantities", &of, plate);
    plate
}
