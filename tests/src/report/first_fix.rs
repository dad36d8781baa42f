//! Answers about what runs through a wall: holes and notches, bay by bay, and the zones of its cables; and what mends a snag.

use std::fmt::Write;

use layout_core::document::{Face, Job};
use layout_core::first_fix::{Bore, Way, Why, by_bay, zones};
use layout_core::id::ItemRef;
use layout_core::layout::{Layout, WallLayout};
use layout_core::remedies::remedies;

use super::{num, span};

/// Runs of cable and pipe, and what they take out of timber.
pub(super) fn runs(w: &WallLayout) -> String {
    let mut text = format!("{}\n", w.name());
    for run in &w.runs.runs {
        let place = match run.way {
            Way::Level => format!("level x {}  z {}", span(run.span), num(run.heights.centre())),
            Way::Upright => {
                format!("upright x {}  z {}", num(run.span.centre()), span(run.heights))
            }
        };
        let _ = writeln!(text, "  {}  {place}  hole {}", run.of.label(), num(run.hole));
    }
    for b in &w.runs.bores {
        let _ = writeln!(text, "    {}", bore(b));
    }
    text
}

fn bore(b: &Bore) -> String {
    let what = if b.notch { "notch" } else { "hole" };
    format!(
        "{} {}  {what} {} of {}  x {}  z {}  {}",
        b.member,
        b.role.label(),
        num(b.size),
        num(b.depth),
        num(b.station),
        num(b.height),
        b.of.label()
    )
}

/// Bay by bay: its points and what they hang on, and what is drilled.
pub(super) fn bays(w: &WallLayout) -> String {
    let mut text = String::new();
    for bay in by_bay(&w.spec, &w.frame, &w.runs) {
        let [a, b] = bay.between;
        let _ = writeln!(text, "{}  {a} to {b}, clear {}", w.name(), num(bay.clear.length()));
        for of in &bay.points {
            let spot = w.spec.spot(of);
            let place = spot.map_or(String::new(), |s| {
                format!("{} up, {} from {a}", num(s.heights.centre()), {
                    num(s.span.centre() - bay.clear.low)
                })
            });
            let held = bay.held.iter().find(|h| h.of == *of);
            let on = match held.map(|h| h.by) {
                Some(Some(mark)) => format!(", on {mark}"),
                Some(None) => ", on nothing".into(),
                None => String::new(),
            };
            let _ = writeln!(text, "    {}: {place}{on}", of.label());
        }
        for b in &bay.bores {
            let _ = writeln!(text, "    {}", bore(b));
        }
    }
    text
}

/// The zones in which cables run, face by face.
pub(super) fn cable_zones(w: &WallLayout) -> String {
    let mut text = String::new();
    for zone in zones(&w.spec) {
        let side = if zone.face == Face::Right { "right" } else { "left" };
        let of = |of: &ItemRef| of.label();
        let why = match &zone.why {
            Why::Top => "top".to_string(),
            Why::Angle => "angle".to_string(),
            Why::Upright(p) => format!("up and down from {}", of(p)),
            Why::Level(p) => format!("level with {}", of(p)),
        };
        let (low, high) = (zone.low.range(zone.span), zone.high.range(zone.span));
        let behind = if zone.from_behind { "  from the other face" } else { "" };
        let _ = writeln!(
            text,
            "{} {side}  {why}: x {}  z {}..{}{behind}",
            w.name(),
            span(zone.span),
            num(low.low),
            num(high.high)
        );
    }
    text
}

/// What would mend each snag, and what else it would change.
pub(super) fn remedies_of(job: &Job, layout: &Layout) -> String {
    let mut text = String::new();
    for snag in &layout.snags {
        let _ = writeln!(text, "{} {}", snag.code.id(), snag.of.label());
        for remedy in remedies(job, layout, snag) {
            let opened: Vec<&str> = remedy.opened.iter().map(|s| s.code.id()).collect();
            let opened = if opened.is_empty() {
                String::new()
            } else {
                format!(", opens {}", opened.join(" "))
            };
            let _ = writeln!(
                text,
                "    {}: pieces {:+}, timber {}, closes {}{opened}",
                remedy.label,
                remedy.pieces,
                num(remedy.timber),
                remedy.closed.len()
            );
        }
    }
    text.trim_end().to_string()
}

/// What is let stand, and why.
pub(super) fn accepted(layout: &Layout) -> String {
    let mut text = String::new();
    for (accepted, snags) in &layout.accepted {
        let (code, of) = (accepted.code.id(), accepted.of.label());
        let _ = writeln!(text, "{code} {of}: {}  {}", snags.len(), accepted.reason);
    }
    text.trim_end().to_string()
}
