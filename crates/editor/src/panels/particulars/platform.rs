//! Low ceilings, shelves and bulkheads, and the holes through them.

use std::sync::Arc;

use layout_core::document::{
    Bearing, Board, Edit, Finish, Platform, PlatformHole, PlatformHoleKind, PlatformKind,
    PlatformSpan, Timber,
};
use layout_core::id::{ItemRef, Mark, Name};
use layout_core::layout::PlatformLayout;
use layout_core::math::PlanVector;

use super::form::{Form, small_choice};
use super::{name_row, title};
use crate::command::Command;

/// Levels above FFL, mm.
pub(super) const LEVELS: (f64, f64) = (-500.0, 20_000.0);
/// Sizes on the plan, mm.
const SIZES: (f64, f64) = (100.0, 50_000.0);
/// Sizes of holes, mm.
const HOLES: (f64, f64) = (10.0, 10_000.0);

/// What the level of a platform is the level of.
pub(super) fn level_label(kind: PlatformKind) -> &'static str {
    match kind {
        PlatformKind::Shelf => "Top at",
        PlatformKind::LowCeiling | PlatformKind::Bulkhead => "Underside at",
    }
}

/// Which of the three it is.
pub(super) fn kind_row(form: &mut Form<'_, '_>, kind: &mut PlatformKind) {
    let options = PlatformKind::ALL.map(|k| (k, k.label()));
    if let Some(new) = small_choice(form, "What it is", kind, &options) {
        *kind = new;
    }
}

/// The page of platform `name`.
pub(super) fn page(form: &mut Form<'_, '_>, name: &Name) {
    let Some(platform) = form.scene.job.platform(name).cloned() else { return };
    let item = ItemRef::Platform(name.clone());
    title(form, name.as_str(), platform.kind.label(), &item);
    name_row(form, name, ItemRef::Platform);
    let mut new = Platform::clone(&platform);
    kind_row(form, &mut new.kind);
    if let Some(level) = form.length(level_label(platform.kind), platform.level, LEVELS) {
        new.level = level;
    }
    place(form, &mut new);
    let add = holes(form, &platform);
    form.heading("Joists");
    timber(form, &mut new);
    carried(form, &mut new);
    form.heading("Boards and load");
    boards(form, "Boards below", &mut new.below);
    boards(form, "Boards above", &mut new.above);
    load(form, &mut new);
    follows(form, name);
    if new != *platform {
        form.edit(Edit::PutPlatform(Arc::new(new)));
    }
    if let Some(hole) = add {
        let picked = ItemRef::PlatformHole(hole.name.clone());
        form.edit(Edit::PutPlatformHole { platform: name.clone(), hole });
        form.out.push(Command::Pick(Some(picked)));
    }
}

fn place(form: &mut Form<'_, '_>, new: &mut Platform) {
    if let Some(width) = form.length("Width", new.size.0, SIZES) {
        new.size.0 = width;
    }
    if let Some(depth) = form.length("Depth", new.size.1, SIZES) {
        new.size.1 = depth;
    }
    let datum = form.scene.job.datum.at;
    let d = new.corner - datum;
    let reach = (-100_000.0, 100_000.0);
    let x = form.length("Corner x", d.x, reach);
    let y = form.length("Corner y", d.y, reach);
    if x.is_some() || y.is_some() {
        new.corner = datum + PlanVector::new(x.unwrap_or(d.x), y.unwrap_or(d.y));
    }
    if let Some(turn) = form.number("Turned", "°", new.turn_deg, (-360.0, 360.0)) {
        new.turn_deg = turn;
    }
}

fn timber(form: &mut Form<'_, '_>, new: &mut Platform) {
    if let Some(timber) = timber_row(form, "Timber", &new.timber) {
        new.timber = timber;
    }
    if let Some(centres) = form.length("Centres", new.centres, (50.0, 2000.0)) {
        new.centres = centres;
    }
    let options = [
        (PlatformSpan::Shorter, "the shorter way"),
        (PlatformSpan::Width, "along the width"),
        (PlatformSpan::Depth, "along the depth"),
    ];
    if let Some(span) = small_choice(form, "They run", &new.span, &options) {
        new.span = span;
    }
    if let Some(apart) = form.length("Noggins at most", new.noggins_apart, (100.0, 100_000.0)) {
        new.noggins_apart = apart;
    }
}

/// A section out of the timber list, or the one it is of.
fn timber_row(form: &mut Form<'_, '_>, label: &str, now: &Timber) -> Option<Timber> {
    let mut sections = vec![now.clone()];
    let job = form.scene.job;
    let makeups = job.makeups.iter().map(|m| &m.timber);
    for timber in job.stock.iter().map(|s| &s.timber).chain(makeups) {
        if !sections.contains(timber) {
            sections.push(timber.clone());
        }
    }
    for section in &form.scene.catalogue.timber {
        let timber = Timber::new(section.thickness, section.depth, "C16");
        if !sections.contains(&timber) {
            sections.push(timber);
        }
    }
    sections.sort();
    let options: Vec<_> = sections
        .into_iter()
        .map(|t| (t.clone(), format!("{} {}", t.size_in(form.scene.job.units), t.grade())))
        .collect();
    form.choice(label, now, &options)
}

/// How the ends of the joists are carried.
fn carried(form: &mut Form<'_, '_>, new: &mut Platform) {
    let (first, last) =
        if new.spans_width() { ("Left ends", "Right ends") } else { ("Near ends", "Far ends") };
    let options = Bearing::ALL.map(|b| (b, b.label()));
    if let Some(bearing) = small_choice(form, first, &new.bearings.0, &options) {
        new.bearings.0 = bearing;
    }
    if let Some(bearing) = small_choice(form, last, &new.bearings.1, &options) {
        new.bearings.1 = bearing;
    }
    if [new.bearings.0, new.bearings.1].contains(&Bearing::Front) {
        let now = new.front.clone().unwrap_or_else(|| new.timber.clone());
        if let Some(front) = timber_row(form, "Front timber", &now) {
            new.front = (front != new.timber).then_some(front);
        }
    }
}

/// One layer of board of a thickness; 0 for none. More layers are kept until it is changed.
pub(super) fn boards(form: &mut Form<'_, '_>, label: &str, finish: &mut Finish) {
    let now = finish.boards.iter().map(|b| b.thickness).sum();
    if let Some(thickness) = form.number(label, "mm", now, (0.0, 100.0))
        && (thickness - now).abs() > 1e-9
    {
        let kind = finish.boards.first().map_or_else(|| Name::from("standard"), |b| b.kind.clone());
        finish.boards.clear();
        if thickness >= 0.1 {
            finish.boards.push(Board::new(kind, thickness));
        }
    }
}

fn load(form: &mut Form<'_, '_>, new: &mut Platform) {
    let reckoned = new.load.unwrap_or(match new.kind {
        PlatformKind::Shelf => layout_core::platform::SHELF_LOAD,
        PlatformKind::LowCeiling | PlatformKind::Bulkhead => layout_core::platform::CEILING_LOAD,
    });
    if new.load.is_none() {
        form.note("Nobody has said what it carries; it is reckoned with this:");
    }
    if let Some(load) = form.number("Load", "kN/m²", reckoned, (0.0, 50.0))
        && (new.load.is_some() || (load - reckoned).abs() > 1e-9)
    {
        new.load = Some(load);
    }
    if new.load.is_none() && form.button("That is what it carries") {
        new.load = Some(reckoned);
    }
}

/// The holes it has, and one to add.
fn holes(form: &mut Form<'_, '_>, platform: &Platform) -> Option<PlatformHole> {
    form.heading("Holes");
    for hole in &platform.holes {
        let words = format!(
            "{} {}, {} × {}",
            hole.kind.label(),
            hole.name,
            form.scene.job.units.show(hole.size.0),
            form.scene.job.units.show(hole.size.1)
        );
        if form.button(&words) {
            form.out.push(Command::Pick(Some(ItemRef::PlatformHole(hole.name.clone()))));
        }
    }
    let (fan, hatch) = form
        .ui
        .horizontal(|ui| (ui.button("Add a fan").clicked(), ui.button("Add a hatch").clicked()))
        .inner;
    let kind = match (fan, hatch) {
        (true, _) => PlatformHoleKind::Fan,
        (_, true) => PlatformHoleKind::Hatch,
        _ => return None,
    };
    let size = match kind {
        PlatformHoleKind::Fan => (150.0, 150.0),
        PlatformHoleKind::Hatch => (560.0, 560.0),
    };
    let name = form.scene.session.history.job().free_platform_hole_name(kind);
    let (w, d) = platform.size;
    Some(PlatformHole { name, kind, at: (w / 2.0, d / 2.0), size })
}

/// What follows from it.
fn follows(form: &mut Form<'_, '_>, name: &Name) {
    let Some(laid) = form.scene.layout.platform(name) else { return };
    form.line();
    let spec = &laid.spec;
    form.shown("Joists between bearings", form.scene.job.units.with_unit(spec.run().length()));
    form.shown("Underside of the joists", form.scene.job.units.with_unit(spec.heights.low));
    form.shown("Pieces", laid.frame.members.len().to_string());
    let holders: Vec<String> = spec.holders().into_iter().map(ItemRef::label).collect();
    form.note(if holders.is_empty() {
        "It hangs on nothing yet.".to_owned()
    } else {
        format!("Beside {}.", holders.join(", "))
    });
}

/// The page of the hole `name`.
pub(super) fn hole_page(form: &mut Form<'_, '_>, name: &Name) {
    let Some((platform, hole)) = form.scene.job.platform_hole(name) else { return };
    let (platform, hole) = (platform.name.clone(), hole.clone());
    let beside = format!("{} through {platform}", hole.kind.label());
    title(form, name.as_str(), &beside, &ItemRef::PlatformHole(name.clone()));
    name_row(form, name, ItemRef::PlatformHole);
    let mut new = hole.clone();
    let options = [PlatformHoleKind::Fan, PlatformHoleKind::Hatch].map(|k| (k, k.label()));
    if let Some(kind) = small_choice(form, "What it is for", &hole.kind, &options) {
        new.kind = kind;
    }
    let reach = (-50_000.0, 50_000.0);
    if let Some(x) = form.length("Middle along width", hole.at.0, reach) {
        new.at.0 = x;
    }
    if let Some(y) = form.length("Middle along depth", hole.at.1, reach) {
        new.at.1 = y;
    }
    if let Some(x) = form.length("Size along width", hole.size.0, HOLES) {
        new.size.0 = x;
    }
    if let Some(y) = form.length("Size along depth", hole.size.1, HOLES) {
        new.size.1 = y;
    }
    form.note("Measured from the platform's first corner, the lower left one before it is turned.");
    if form.button(&format!("Platform {platform}")) {
        form.out.push(Command::Pick(Some(ItemRef::Platform(platform.clone()))));
    }
    if new != hole {
        form.edit(Edit::PutPlatformHole { platform, hole: new });
    }
}

/// The page of one piece of a platform.
pub(super) fn member_page(form: &mut Form<'_, '_>, laid: &PlatformLayout, mark: Mark) {
    let name = laid.name();
    let item = ItemRef::Member { wall: name.clone(), mark };
    let Some(member) = laid.member(mark) else {
        title(form, &format!("{name}-{mark}"), "no longer there", &item);
        return;
    };
    title(form, &format!("{name}-{mark}"), member.role.label(), &item);
    form.shown(
        "Section",
        format!("{} {}", member.timber.size_in(form.scene.job.units), member.timber.grade()),
    );
    form.shown("Cut length", form.scene.job.units.with_unit(laid.cut_length(member)));
    form.heading("Where it lies");
    let solid = &member.solid;
    for (label, span) in [
        ("Along width", solid.stations()),
        ("Along depth", solid.across()),
        ("Height", solid.heights()),
    ] {
        form.shown(
            label,
            format!(
                "{} to {}",
                form.scene.job.units.show(span.low),
                form.scene.job.units.show(span.high)
            ),
        );
    }
    form.ui.add_space(6.0);
    if form.button(&format!("Platform {name}")) {
        form.out.push(Command::Pick(Some(ItemRef::Platform(name.clone()))));
    }
}
