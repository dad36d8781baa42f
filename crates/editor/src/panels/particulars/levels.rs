//! How soles lie on the floor and are packed up from it, how the timber dries, and what that gives.

use std::sync::Arc;

use layout_core::document::{
    Bedding, Edit, Floor, Levels, MakeUp, RiserShape, Sole, SolesAtDoors, Wall,
};
use layout_core::id::Name;
use layout_core::units::Units;
use layout_core::{packers, setout};

use super::form::{Form, small_choice};
use super::readings;
use crate::panels::field::words_ui;

/// How soles are fixed and packed, and how the timber dries: part of the job's page.
pub(super) fn job_rows(form: &mut Form<'_, '_>, levels: &mut Levels) {
    readings::job_rows(form, levels);
    if !levels.build_up.is_empty() {
        let floors = [(Floor::Slab, "the slab"), (Floor::Finished, "the finished floor")];
        if let Some(floor) = small_choice(form, "Read on", &levels.readings.floor_is, &floors) {
            levels.readings.floor_is = floor;
        }
    }
    form.heading("Fixings and packers");
    let packing = &mut levels.packing;
    let units = form.scene.job.units;
    let shown: Vec<String> = packing.shims.iter().map(|s| units.fine(*s)).collect();
    let read = |text: &str| shims(units, text);
    let shims = form.row("Shims", |ui, scene| {
        words_ui(ui, scene.theme, "Shims", &shown.join(", "), 128.0, read).value
    });
    if let Some(shims) = shims {
        packing.shims = shims;
    }
    for (label, value, range) in [
        ("Packers up to", &mut packing.most, (0.0, 500.0)),
        ("Fixings apart", &mut packing.apart, (100.0, 2000.0)),
        ("From plate ends", &mut packing.from_end, (10.0, 150.0)),
        ("Cut alike within", &mut packing.alike, (0.0, 10.0)),
    ] {
        if let Some(new) = form.length(label, *value, range) {
            *value = new;
        }
    }
    let moisture = &mut levels.moisture;
    for (label, value) in
        [("Moisture now", &mut moisture.now), ("Moisture in use", &mut moisture.in_use)]
    {
        if let Some(new) = form.number(label, "%", *value, (0.0, 100.0)) {
            *value = new;
        }
    }
}

/// Reads a list of shim thicknesses.
fn shims(units: Units, text: &str) -> Result<Vec<f64>, String> {
    let (least, most) = (0.5, 200.0);
    let mut list = Vec::new();
    for word in text.split([',', ';']).filter(|w| !w.trim().is_empty()) {
        let thickness = units.read(word)?;
        if !(least..=most).contains(&thickness) {
            let (least, most) = (units.small(least), units.with_unit(most));
            return Err(format!("A shim is {least} to {most} thick; a comma between two."));
        }
        list.push(thickness);
    }
    if list.len() > 20 { Err("At most 20 thicknesses.".into()) } else { Ok(list) }
}

/// Words for the ways a sole lies over a floor that was read.
const BEDDINGS: [(Bedding, &str); 3] = [
    (Bedding::Level, "level"),
    (Bedding::Straight, "in a straight line"),
    (Bedding::Following, "as the floor runs"),
];

/// How soles of a make-up lie, and its risers.
pub(super) fn makeup_rows(form: &mut Form<'_, '_>, makeup: &mut MakeUp) {
    if let Some(bedding) = small_choice(form, "Sole lies", &makeup.bedding, &BEDDINGS) {
        makeup.bedding = bedding;
    }
    if matches!(makeup.sole, Sole::Raised { .. }) {
        let shapes = [
            (RiserShape::Plain, "plain"),
            (RiserShape::T, "T, two pieces"),
            (RiserShape::I, "I, three pieces"),
        ];
        if let Some(riser) = small_choice(form, "Risers", &makeup.riser, &shapes) {
            makeup.riser = riser;
        }
    }
}

/// The sole and the floor of one wall: how its sole lies, what was read along it, and what that gives.
pub(super) fn wall_rows(form: &mut Form<'_, '_>, wall: &Arc<Wall>) {
    form.heading("Floor and ceiling");
    let usual = form.scene.job.makeup(&wall.makeup).map(|m| m.bedding).unwrap_or_default();
    let word = BEDDINGS.iter().find(|b| b.0 == usual).map_or("", |b| b.1);
    let mut options = vec![(None, format!("make-up's: {word}"))];
    options.extend(BEDDINGS.map(|(b, words)| (Some(b), words.to_owned())));
    let mut new = Wall::clone(wall);
    if let Some(bedding) = form.choice("Sole lies", &wall.bedding, &options) {
        new.bedding = bedding;
    }
    let has_door = wall.openings.iter().any(|o| o.kind.sill().is_none());
    if has_door && form.scene.job.levels.slab() < 0.0 {
        let ways = [
            (SolesAtDoors::BuriedRunThrough, "buried run through"),
            (SolesAtDoors::AllCutOut, "all cut out"),
        ];
        if let Some(way) = small_choice(form, "Soles at doors", &wall.soles_at_doors, &ways) {
            new.soles_at_doors = way;
        }
    }
    if new != **wall {
        form.edit(Edit::PutWall(Arc::new(new)));
    }
    facts(form, &wall.name);
    readings::wall_table(form, &wall.name);
}

/// What follows: packers, diagonals, soles at doors, what the plates lose.
fn facts(form: &mut Form<'_, '_>, name: &Name) {
    let job = form.scene.job;
    let Some(laid) = form.scene.layout.wall(name) else { return };
    let fixings = packers::fixings(&laid.spec, &laid.frame);
    let range = fixings
        .iter()
        .fold((f64::INFINITY, 0.0_f64), |(low, high), f| (low.min(f.packer), high.max(f.packer)));
    if job.units.round(range.1) > 0.0 {
        let (low, high) = (job.units.show(range.0), job.units.show(range.1));
        form.shown("Packers", if low == high { low } else { format!("{low} to {high}") });
    }
    let [a, b] = setout::diagonals(&laid.spec).map(|d| job.units.show(d));
    form.shown("Diagonals", if a == b { a } else { format!("{a} and {b}") });
    let drying = setout::drying(job.levels.moisture, &laid.spec);
    form.shown(
        "Drying takes",
        format!("{} of {}", job.units.small(drying.loss()), job.units.show(drying.now)),
    );
    for hole in &laid.spec.holes {
        if let Some(soles) = setout::soles_at(laid, hole) {
            form.note(format!("At {}: {}", hole.name, soles.text()));
        }
    }
}
