//! Stiffness: how far the bare studs of a wall bend under a stated load. Boards stiffen a wall by half and more, and are
//! left out of the sum; what stands free at its top has nothing to bend against, and is not looked at.

use crate::document::{Duty, Rule};
use crate::frame::{Frame, Role};
use crate::id::ItemRef;
use crate::math::SAME;
use crate::platform::{sag, stiffness};
use crate::resolve::WallSpec;
use crate::snag::{Code, Snag};

/// A head further than this under what is over it is held by nothing, mm.
const FREE: f64 = 100.0;
/// Mean stiffness of a class nobody knows, N/mm²: that of C14, the weakest.
const WEAKEST: f64 = 7000.0;

/// True when the head of a wall stops clear of what is over it.
pub(super) fn is_free(spec: &WallSpec) -> bool {
    let at = spec.along().centre();
    spec.ceiling.at(at) - spec.head.at(at) > FREE
}

/// The tallest stud of a wall: its station, and its length with any riser under it.
fn tallest(spec: &WallSpec, frame: &Frame) -> Option<(f64, f64)> {
    if is_free(spec) {
        return None;
    }
    let riser = frame.members.iter().find(|m| m.role == Role::Riser);
    let foot = riser.map_or(0.0, |m| m.solid.heights().length() + spec.makeup.timber.thickness());
    let studs = frame.members.iter().filter(|m| m.role.is_full_height());
    studs
        .map(|m| (m.solid.stations().centre(), m.solid.heights().length() + foot))
        .max_by(|a, b| a.1.total_cmp(&b.1))
}

/// Mean stiffness of the studs, N/mm².
fn e_of(spec: &WallSpec) -> f64 {
    stiffness(spec.makeup.timber.grade().as_str()).map_or(WEAKEST, |(e, _)| e)
}

/// “studs of wall A, 38×63 C16 at 600”
fn called(spec: &WallSpec) -> String {
    let timber = &spec.makeup.timber;
    format!(
        "studs of wall {}, {} {} at {}",
        spec.name,
        timber.size_in(spec.units),
        timber.grade(),
        spec.units.show(spec.centres)
    )
}

/// Studs that bend too far under an even pressure: 5wL⁴/384EI, E0,mean of EN 338.
pub(super) fn bends(spec: &WallSpec, frame: &Frame, snags: &mut Vec<Snag>) {
    let Some((at, length)) = tallest(spec, frame) else { return };
    let (pressure, over) =
        (spec.rules.value(Rule::WallPressure), spec.rules.value(Rule::WallBend).max(1.0));
    let bend = sag(pressure / 1000.0 * spec.centres, length, e_of(spec), &spec.makeup.timber);
    let most = length / over;
    if bend <= most + SAME {
        return;
    }
    let units = spec.units;
    let message = format!(
        "The bare {}, {} long, bend {} under {pressure} kN/m²: more than {}, their length over {over}",
        called(spec),
        units.show(length),
        units.small(bend),
        units.small(most)
    );
    let source = format!(
        "5wL⁴/384EI, E0,mean of EN 338:2016; {}; {}",
        spec.rules.source(Rule::WallPressure),
        spec.rules.source(Rule::WallBend)
    );
    snags.push(
        Snag::new(
            Code::WallBends,
            ItemRef::Wall(spec.name.clone()),
            message,
            "Use deeper studs, closer centres or a lower head; boards help, and are not counted here.",
        )
        .in_wall(&spec.name, at)
        .at_height(spec.bed.at(at) + length / 2.0)
        .measured(bend, most)
        .by(source.as_str().into()),
    );
}

/// A stud that gives too far under the push of the duty asked of its wall: Pa²b²/3EIL where the push is.
pub(super) fn gives(spec: &WallSpec, frame: &Frame, snags: &mut Vec<Snag>) {
    let Some(duty) = spec.needs.duty else { return };
    let Some((at, length)) = tallest(spec, frame) else { return };
    let (push, height) = (spec.rules.value(Rule::DutyPush), spec.rules.value(Rule::DutyHeight));
    let rule = match duty {
        Duty::Light => Rule::DutyLight,
        Duty::Medium => Rule::DutyMedium,
        Duty::Heavy => Rule::DutyHeavy,
        Duty::Severe => Rule::DutySevere,
    };
    let gives = give(push, height, length, e_of(spec), &spec.makeup.timber);
    let most = spec.rules.value(rule);
    if gives <= most + SAME {
        return;
    }
    let units = spec.units;
    let message = format!(
        "One of the bare {} gives {} under {push} N at {}: {} duty allows {}",
        called(spec),
        units.small(gives),
        units.show(height),
        duty.label(),
        units.small(most)
    );
    snags.push(
        Snag::new(
            Code::DutyShort,
            ItemRef::Wall(spec.name.clone()),
            message,
            "Use deeper studs; noggins and boards share the push, and only a test of the whole wall counts.",
        )
        .in_wall(&spec.name, at)
        .at_height(height)
        .measured(gives, most)
        .by(spec.rules.source(rule)),
    );
}

/// How far a stud `length` long gives under `push` N at `height` above its foot, mm, where it is pushed.
fn give(push: f64, height: f64, length: f64, e: f64, timber: &crate::document::Timber) -> f64 {
    let (a, b) = (height.min(length), (length - height).max(0.0));
    let i = timber.thickness() * timber.depth().powi(3) / 12.0;
    push * a * a * b * b / (3.0 * e * i * length)
}
