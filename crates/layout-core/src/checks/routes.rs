//! Cables and pipes: what they take out of timber, what stands in their way, and whether cables run where one
//! is looked for.

use crate::document::{Rule, Service};
use crate::first_fix::{Bore, Run, Runs, Way, Zone, zones};
use crate::frame::Frame;
use crate::id::{ItemRef, Mark};
use crate::math::SAME;
use crate::resolve::{RouteSpec, Spot, WallSpec, between_cuts};
use crate::snag::{Code, Snag, capital};
use crate::span::Span;

/// Every cable and pipe of a wall.
pub(super) fn runs(spec: &WallSpec, frame: &Frame, runs: &Runs, snags: &mut Vec<Snag>) {
    if runs.runs.is_empty() || frame.members.is_empty() {
        return;
    }
    for bore in &runs.bores {
        too_much(spec, bore, snags);
    }
    for run in &runs.runs {
        in_the_way(spec, frame, run, snags);
    }
    let cables = || spec.routes.iter().filter(|r| r.service == Service::Cable);
    if cables().next().is_some() {
        let zones = zones(spec);
        for route in cables() {
            outside_zones(spec, &zones, route, snags);
        }
    }
}

/// What a run is called in a sentence: “route R1”, “the feed of socket X1”.
fn called(spec: &WallSpec, of: &ItemRef) -> String {
    match spec.spot(of) {
        Some(spot) => format!("the feed of {}", spot.called()),
        None => of.label(),
    }
}

fn too_much(spec: &WallSpec, bore: &Bore, snags: &mut Vec<Snag>) {
    let (what, piece) = (called(spec, &bore.of), full_mark(spec, bore.member));
    let units = spec.units;
    let (code, rule, most, message, remedy) = if bore.notch {
        let most = spec.rules.deepest_notch(bore.depth);
        let message = format!(
            "{} takes a notch {} deep out of {} {piece}, {} deep: {} is the most",
            capital(&what),
            units.show(bore.size),
            bore.role.label(),
            units.show(bore.depth),
            units.show(most)
        );
        let remedy = "Drill the middle instead, or nail a second stud beside it.";
        (Code::NotchTooDeep, Rule::NotchShare, most, message, remedy)
    } else {
        let most = spec.rules.largest_hole(bore.depth);
        let by_share = spec.rules.value(Rule::HoleShare) * bore.depth;
        let rule = if most < by_share { Rule::HoleEdge } else { Rule::HoleShare };
        let message = format!(
            "{} takes a hole {} wide through {} {piece}, {} deep: {} is the most",
            capital(&what),
            units.show(bore.size),
            bore.role.label(),
            units.show(bore.depth),
            units.show(most)
        );
        let remedy = match bore.way {
            Way::Level => "Take it another way, or build the wall of deeper studs.",
            Way::Upright => {
                "Take it another way, or stop the plate either side of it and strap across."
            }
        };
        (Code::HoleTooWide, rule, most, message, remedy)
    };
    if bore.size > most + SAME {
        snags.push(
            Snag::new(code, bore.of.clone(), message, remedy)
                .in_wall(&spec.name, bore.station)
                .at_height(bore.height)
                .measured(bore.size, most)
                .by(spec.rules.source(rule)),
        );
    }
}

fn full_mark(spec: &WallSpec, mark: Mark) -> String {
    format!("{}-{mark}", spec.name)
}

/// Openings, posts, boxes that a run goes through, and studs that stand where one comes down.
fn in_the_way(spec: &WallSpec, frame: &Frame, run: &Run, snags: &mut Vec<Snag>) {
    let what = capital(&called(spec, &run.of));
    let mut say = |station: f64, height: f64, message: String, remedy: &str| {
        snags.push(
            Snag::new(Code::RouteBlocked, run.of.clone(), message, remedy)
                .in_wall(&spec.name, station)
                .at_height(height),
        );
    };
    let (s, z) = (run.span.centre(), run.heights.centre());
    for hole in &spec.holes {
        let void = Span { low: hole.sill.unwrap_or(f64::NEG_INFINITY), high: hole.top };
        if hole.span.overlaps(run.span) && void.overlaps(run.heights) {
            let at = hole.span.intersection(run.span).centre();
            let message = format!("{what} runs through {} {}", hole.label, hole.name);
            say(at, z, message, "Take it over the head, or through the floor.");
        }
    }
    let parts: Vec<Span> = spec.runs().into_iter().map(between_cuts).collect();
    if let (Way::Level, Some(gap)) = (
        run.way,
        spec.along().intersection(run.span).without(&parts).into_iter().find(|g| g.length() > SAME),
    ) {
        let message = format!("{what} runs into what stands in wall {}", spec.name);
        say(gap.centre(), z, message, "Take it round, or start a new route beyond.");
    }
    for spot in spec.spots.iter().filter(|s| s.sunk && s.of != run.of) {
        let served = spec
            .routes
            .iter()
            .any(|r| r.of == run.of && r.drops.iter().any(|(of, ..)| *of == spot.of));
        if !served && spot.span.overlaps(run.span) && spot.heights.overlaps(run.heights) {
            let message = format!("{what} runs behind or through {}", spot.called());
            say(spot.span.centre(), spot.heights.centre(), message, "Move one of the two.");
        }
    }
    if run.way == Way::Upright {
        let stud = frame.members.iter().find(|m| {
            let (along, up) = (m.solid.stations(), m.solid.heights());
            // Where its box stands in the same stud, that is said already.
            let box_in_it = |s: &Spot| {
                run.span.overlaps(s.span) && up.overlaps(s.heights) && along.overlaps(s.span)
            };
            !spec.spots.iter().any(|s| s.sunk && box_in_it(s))
                && up.length() > along.length()
                && along.overlaps(run.span)
                && up.overlaps(run.heights)
                && m.solid.across().overlaps(Span::about(spec.frame.centre(), run.hole))
        });
        if let Some(stud) = stud {
            let message = format!(
                "{what} comes down in {} {}",
                stud.role.label(),
                stud.full_mark(&spec.name)
            );
            say(s, z, message, "Move the point into the bay beside it.");
        }
    }
}

/// A cable that runs level where nothing shows that it does.
fn outside_zones(spec: &WallSpec, zones: &[Zone], route: &RouteSpec, snags: &mut Vec<Snag>) {
    let cover = spec.finished.length() / 2.0 - route.hole / 2.0;
    if cover >= spec.rules.value(Rule::CableCover) && route.notched.is_none() {
        return;
    }
    let z = route.height;
    let over: Vec<Span> = zones
        .iter()
        .filter(|zone| zone.contains(zone.span.centre(), z))
        .map(|zone| zone.span.grown(SAME))
        .collect();
    let bare = route.along.without(&over);
    let Some(first) = bare.iter().find(|span| span.length() > SAME) else { return };
    let length: f64 = bare.iter().map(|span| span.length()).sum();
    let message = format!(
        "{} runs {} level outside the zones, at {} from the floor",
        capital(&route.of.label()),
        spec.units.with_unit(length),
        spec.units.show(z)
    );
    let remedy = "Run it level with a switch or socket, along the top of the wall, or down beside the corner; else protect it as the wiring rules say. The electrician decides.";
    snags.push(
        Snag::new(Code::CableOutsideZone, route.of.clone(), message, remedy)
            .in_wall(&spec.name, first.centre())
            .at_height(z)
            .measured(length, 0.0)
            .by(spec.rules.source(Rule::CableZone)),
    );
}

/// Fixings of what hangs on a wall that go in where cables may run, or pipes do.
pub(super) fn fixings(spec: &WallSpec, snags: &mut Vec<Snag>) {
    if spec.fixings.is_empty() || spec.spots.iter().all(|s| !s.is_wired) {
        return;
    }
    let zones = zones(spec);
    for fixing in &spec.fixings {
        let mut met: Vec<(ItemRef, f64, Span)> = Vec::new();
        for zone in zones.iter().filter(|z| z.face == fixing.face) {
            let Some(of) = zone.of_point() else { continue };
            let here = zone.span.intersection(fixing.span);
            let Some(height) =
                fixing.heights.iter().copied().find(|h| zone.contains(here.centre(), *h))
            else {
                continue;
            };
            if here.length() > SAME && met.iter().all(|(other, ..)| other != of) {
                met.push((of.clone(), height, here));
            }
        }
        for (of, height, here) in met {
            let name = spec.spot(&of).map_or_else(|| of.label(), Spot::called);
            let message = format!(
                "The fixing at {} of {} goes into the cable zone of {name}, from {} to {}",
                spec.units.show(height),
                fixing.of.label(),
                spec.units.show(here.low - spec.along().low),
                spec.units.show(here.high - spec.along().low)
            );
            let remedy = "Find the cable before you drill, or fix to one side of it.";
            snags.push(
                Snag::new(Code::FixingInZone, fixing.of.clone(), message, remedy)
                    .in_wall(&spec.name, here.centre())
                    .at_height(height)
                    .by(spec.rules.source(Rule::CableZone)),
            );
        }
    }
}
