//! The floor and the ceiling as they were read: how far they are out, and what that asks of the crew.

use std::collections::BTreeMap;

use crate::document::{Floor, Job, Reading, Sole};
use crate::frame::Frame;
use crate::id::{ItemRef, Surface};
use crate::math::{ON_LINE, SAME};
use crate::packers;
use crate::resolve::WallSpec;
use crate::snag::{Code, Snag};
use crate::span::Span;
use crate::units::Units;

/// Slopes above this are meant, and no fault of a ceiling: a rise of one in fifty.
const MEANT: f64 = 0.02;

/// Packers higher than the job allows, and fixings that no place clear of a pipe could be found for.
pub(super) fn packed(spec: &WallSpec, frame: &Frame, snags: &mut Vec<Snag>) {
    // Without a reading and with no pipe in it there is nothing to find.
    if !spec.is_read && spec.spots.iter().all(|s| !s.is_pipe) {
        return;
    }
    let wall = ItemRef::Wall(spec.name.clone());
    let fixings = packers::fixings(spec, frame);
    let units = spec.units;
    let most = spec.packing.most;
    let highest = fixings.iter().max_by(|a, b| a.packer.total_cmp(&b.packer));
    if let Some(f) = highest.filter(|f| spec.is_read && f.packer > most + SAME) {
        let out = spec.floor.range(spec.reach()).length();
        let what = if out > SAME {
            format!("the floor under wall {} is {} out of level", spec.name, units.with_unit(out))
        } else {
            format!("wall {} stands on packers all along", spec.name)
        };
        snags.push(
            Snag::new(
                Code::PackersTooHigh,
                wall.clone(),
                format!(
                    "Packers of {}: {what}, and they may be {} at most",
                    units.with_unit(f.packer),
                    units.with_unit(most)
                ),
                "Pack with timber, lay the sole in a sloping line or on the floor, or level the floor first.",
            )
            .in_wall(&spec.name, f.at)
            .at_height(spec.floor.at(f.at))
            .measured(f.packer, most),
        );
    }
    for f in fixings.iter().filter(|f| f.blocked) {
        snags.push(
            Snag::new(
                Code::FixingOnPipe,
                wall.clone(),
                format!(
                    "The fixing at {} of wall {} is over a pipe, and no place clear of it is near enough",
                    units.show(f.at),
                    spec.name
                ),
                "Find out where the pipe runs; glue that end, or move the pipe.",
            )
            .in_wall(&spec.name, f.at)
            .measured(0.0, packers::FROM_PIPE),
        );
    }
}

/// A wall on a floor that floats: a line of load on it breaks the screed or sinks in.
pub(super) fn floats(spec: &WallSpec, snags: &mut Vec<Snag>) {
    if !spec.floor_floats || !matches!(spec.sole, Sole::Direct { on: Floor::Finished, .. }) {
        return;
    }
    snags.push(
        Snag::new(
            Code::FloatingFloor,
            ItemRef::Wall(spec.name.clone()),
            format!("Wall {} stands on the finished floor, which floats", spec.name),
            "Stand it on the slab, by a direct or a raised sole, and lay the floor up to it.",
        )
        .in_wall(&spec.name, spec.along().centre())
        .at_height(spec.floor.at(spec.along().centre())),
    );
}

/// Studs that differ in length because floor or ceiling is not level.
pub(super) fn studs(spec: &WallSpec, frame: &Frame, snags: &mut Vec<Snag>) {
    let meant = spec.head.stretches(spec.reach()).iter().any(|s| s.slope().abs() > MEANT)
        || spec.head.steps().next().is_some();
    if !spec.is_read || meant {
        return;
    }
    let studs = frame.members.iter().filter(|m| m.role.is_full_height());
    let lengths = studs.map(|m| m.cut().length);
    let spread = lengths.fold(Span { low: f64::INFINITY, high: f64::NEG_INFINITY }, |r, l| Span {
        low: r.low.min(l),
        high: r.high.max(l),
    });
    if spread.length() > spec.packing.alike + SAME {
        snags.push(
            Snag::new(
                Code::StudsDiffer,
                ItemRef::Wall(spec.name.clone()),
                format!(
                    "Studs of wall {} run from {} to {}: floor or ceiling is not level",
                    spec.name,
                    spec.units.show(spread.low),
                    spec.units.show(spread.high)
                ),
                "Cut each stud to its own length, and mark it.",
            )
            .in_wall(&spec.name, spec.along().centre())
            .measured(spread.length(), spec.packing.alike),
        );
    }
}

/// Readings of one place that differ.
pub(super) fn readings(job: &Job, snags: &mut Vec<Snag>) {
    for surface in [Surface::Floor, Surface::Ceiling] {
        let list = job.levels.readings.of(surface);
        let mut places: BTreeMap<(i64, i64), Vec<usize>> = BTreeMap::new();
        let cell = |v: f64| (v / ON_LINE).floor() as i64;
        for (i, reading) in list.iter().enumerate() {
            let (x, y) = (cell(reading.at.x), cell(reading.at.y));
            let near = (-1..=1).flat_map(|dx| (-1..=1).map(move |dy| (dx, dy)));
            let same_place = |other: &&usize| (list[**other].at - reading.at).norm() <= ON_LINE;
            let first = near
                .filter_map(|(dx, dy)| places.get(&(x.saturating_add(dx), y.saturating_add(dy))))
                .flatten()
                .find(same_place);
            match first {
                Some(&first) => {
                    differ(job.units, surface, [(i, reading), (first, &list[first])], snags);
                }
                None => places.entry((x, y)).or_default().push(i),
            }
        }
    }
}

fn differ(
    units: Units,
    surface: Surface,
    [(index, a), (_, b)]: [(usize, &Reading); 2],
    snags: &mut Vec<Snag>,
) {
    let by = (a.level - b.level).abs();
    if by > SAME {
        snags.push(
            Snag::new(
                Code::ReadingsDiffer,
                ItemRef::Reading { wall: None, surface, index },
                format!(
                    "Two {} levels of one place are {} and {}; their mean counts",
                    surface.label(),
                    units.show(b.level),
                    units.show(a.level)
                ),
                "Read it again, and take the wrong one away.",
            )
            .measured(by, 0.0),
        );
    }
}
