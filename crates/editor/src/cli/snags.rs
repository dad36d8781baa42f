//! `baywright snags`: what is or will be wrong.

use std::fmt::Write;

use layout_core::document::{Accepted, Job};
use layout_core::id::Name;
use layout_core::layout::Layout;
use layout_core::snag::{Severity, Snag};
use layout_core::units::Units;
use serde::Serialize;

use super::out::{self, thousandth};
use super::{Exit, Outcome};

#[derive(Serialize)]
struct Answer<'a> {
    format: &'static str,
    version: u32,
    job: &'a str,
    counts: Counts,
    snags: Vec<Entry<'a>>,
    accepted: Vec<LetStand<'a>>,
}

/// What is accepted, and why.
#[derive(Serialize)]
struct LetStand<'a> {
    code: &'static str,
    of: String,
    reason: &'a str,
    snags: Vec<Entry<'a>>,
}

#[derive(Serialize)]
struct Counts {
    stop: usize,
    mend: usize,
    note: usize,
}

#[derive(Serialize)]
struct Entry<'a> {
    code: &'static str,
    severity: &'static str,
    of: String,
    wall: Option<&'a str>,
    station_mm: Option<f64>,
    height_mm: Option<f64>,
    value_mm: Option<f64>,
    limit_mm: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    value: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    limit: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    unit: Option<&'static str>,
    message: &'a str,
    remedy: &'a str,
    source: &'a str,
}

pub(super) fn run(job: &Job, json: bool) -> Outcome {
    let layout = Layout::of(job);
    let count = |severity| layout.snags.iter().filter(|s| s.severity() == severity).count();
    let counts = Counts {
        stop: count(Severity::Stop),
        mend: count(Severity::Mend),
        note: count(Severity::Note),
    };
    let exit = if counts.stop > 0 { Exit::Stops } else { Exit::Done };
    if json {
        let snags = layout.snags.iter().map(entry).collect();
        out::print_json(&Answer {
            format: "baywright-snags",
            version: 1,
            job: &job.title,
            counts,
            snags,
            accepted: layout.accepted.iter().map(let_stand).collect(),
        })?;
    } else {
        out::print(&text(job.units, &layout, &counts))?;
    }
    Ok(exit)
}

fn entry(snag: &Snag) -> Entry<'_> {
    let length = |value: Option<f64>| value.filter(|_| snag.unit.is_none()).map(thousandth);
    let other = |value: Option<f64>| value.filter(|_| snag.unit.is_some()).map(thousandth);
    Entry {
        code: snag.code.id(),
        severity: snag.severity().label(),
        of: snag.of.label(),
        wall: snag.wall.as_ref().map(Name::as_str),
        station_mm: snag.station.map(thousandth),
        height_mm: snag.height.map(thousandth),
        value_mm: length(snag.value),
        limit_mm: length(snag.limit),
        value: other(snag.value),
        limit: other(snag.limit),
        unit: snag.unit,
        message: &snag.message,
        remedy: &snag.remedy,
        source: snag.source(),
    }
}

fn let_stand((accepted, snags): &(Accepted, Vec<Snag>)) -> LetStand<'_> {
    LetStand {
        code: accepted.code.id(),
        of: accepted.of.label(),
        reason: &accepted.reason,
        snags: snags.iter().map(entry).collect(),
    }
}

fn text(units: Units, layout: &Layout, counts: &Counts) -> String {
    let mut text = String::new();
    for snag in &layout.snags {
        let place = match (&snag.wall, snag.station, snag.height) {
            (Some(wall), Some(s), Some(h)) => {
                format!("wall {wall} at {}, {} up", units.show(s), units.show(h))
            }
            (Some(wall), Some(s), None) => format!("wall {wall} at {}", units.show(s)),
            _ => snag.of.label(),
        };
        // Writing to a string does not fail.
        let _ = writeln!(
            text,
            "{:<5} {:<20} {place}: {}. {}",
            snag.severity().label(),
            snag.code.id(),
            snag.message,
            snag.remedy
        );
    }
    for (accepted, snags) in &layout.accepted {
        let (code, reason) = (accepted.code.id(), &accepted.reason);
        for snag in snags {
            let _ = writeln!(text, "accepted {code:<17} {}. Because: {reason}", snag.message);
        }
        if snags.is_empty() {
            let of = accepted.of.label();
            let _ = writeln!(text, "accepted {code:<17} {of}: no longer found. Because: {reason}");
        }
    }
    let _ = writeln!(
        text,
        "{} to stop for, {} to mend, {} to note",
        counts.stop, counts.mend, counts.note
    );
    text
}
