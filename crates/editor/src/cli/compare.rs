//! `baywright compare`: what every odd bay of a wall, or every place for an opening, comes to.

use std::fmt::Write;

use layout_core::compare::{Choice, Outcome, Stop, Sweep, choices, sweep};
use layout_core::document::{GridFrom, Job, OddBay};
use layout_core::id::Name;
use layout_core::layout::Layout;
use layout_core::snag::Snag;
use serde::Serialize;

use super::out::{self, thousandth};
use super::{Exit, Failure, Outcome as Ended};

/// Places tried along a wall.
const PLACES: usize = 200;

#[derive(Serialize)]
struct Answer<'a> {
    format: &'static str,
    version: u32,
    job: &'a str,
    wall: &'a str,
    opening: Option<&'a str>,
    currency: &'a str,
    choices: Vec<JsonChoice>,
    now: Option<JsonPlace>,
    places: Vec<JsonPlace>,
}

#[derive(Serialize)]
struct JsonChoice {
    odd_bay: &'static str,
    beside: Option<String>,
    grid_from: Option<&'static str>,
    centres_mm: f64,
    now: bool,
    best: bool,
    #[serde(flatten)]
    comes_to: ComesTo,
}

#[derive(Serialize)]
struct JsonPlace {
    distance_mm: f64,
    middle_mm: f64,
    best: bool,
    #[serde(flatten)]
    comes_to: ComesTo,
}

#[derive(Serialize)]
struct ComesTo {
    pieces: usize,
    studs: usize,
    noggins: usize,
    lengths: usize,
    timber_mm: f64,
    moved_studs: usize,
    joints_off_studs: usize,
    bought_mm: f64,
    price: Option<f64>,
    cuts: usize,
    no_bar: usize,
    stops: usize,
    mends: usize,
    notes: usize,
    opened: Vec<String>,
    closed: Vec<String>,
}

pub(super) fn run(job: &Job, wall: Option<&str>, opening: Option<&str>, json: bool) -> Ended {
    let layout = Layout::of(job);
    let wall = wall_of(job, wall, opening)?;
    if layout.wall(&wall).is_none() {
        return Err(Failure::input(format!("Wall {wall} cannot stand anywhere; see its snags")));
    }
    if let Some(opening) = opening {
        let Some(swept) = sweep(job, &layout, &Name::new(opening), PLACES, &|| true) else {
            return Err(Failure::input(format!(
                "There is no room to move opening {opening} in wall {wall}"
            )));
        };
        if json {
            out::print_json(&Answer {
                opening: Some(opening),
                now: Some(place(&swept.now)),
                places: swept.stops.iter().map(place).collect(),
                ..answer(job, &wall)
            })?;
        } else {
            out::print(&places_text(job, &swept))?;
        }
    } else {
        let offered = choices(job, &layout, &wall, &|| true);
        if json {
            out::print_json(&Answer {
                choices: offered.iter().map(choice).collect(),
                ..answer(job, &wall)
            })?;
        } else {
            out::print(&choices_text(job, &wall, &offered))?;
        }
    }
    Ok(Exit::Done)
}

/// The wall that is meant: the one named, or the one the opening is in.
fn wall_of(job: &Job, wall: Option<&str>, opening: Option<&str>) -> Result<Name, Failure> {
    let holder = opening.map(|o| (o, job.opening(&Name::new(o)).map(|(w, _)| w.name.clone())));
    match (wall, holder) {
        (_, Some((opening, None))) => {
            Err(Failure::input(format!("There is no opening {opening} in the job")))
        }
        (Some(wall), Some((opening, Some(holder)))) if holder != *wall => {
            Err(Failure::input(format!("Opening {opening} is in wall {holder}, not in {wall}")))
        }
        (_, Some((_, Some(holder)))) => Ok(holder),
        (Some(wall), None) if job.wall(&Name::new(wall)).is_some() => Ok(Name::new(wall)),
        (Some(wall), None) => Err(Failure::input(format!("There is no wall {wall} in the job"))),
        (None, None) => Err(Failure::input(
            "Say what to compare: --wall A, --opening D1, --boards MAKE-UP, or --what-if",
        )),
    }
}

fn answer<'a>(job: &'a Job, wall: &'a Name) -> Answer<'a> {
    Answer {
        format: "baywright-compare",
        version: 1,
        job: &job.title,
        wall: wall.as_str(),
        opening: None,
        currency: &job.saw.currency,
        choices: Vec::new(),
        now: None,
        places: Vec::new(),
    }
}

fn choice(choice: &Choice) -> JsonChoice {
    let (odd_bay, beside) = match &choice.odd_bay {
        OddBay::AtEnd => ("end", None),
        OddBay::AtStart => ("start", None),
        OddBay::Split => ("split", None),
        OddBay::Beside(name) => ("beside", Some(name.to_string())),
    };
    JsonChoice {
        odd_bay,
        beside,
        grid_from: choice.grid_from.map(GridFrom::place),
        centres_mm: thousandth(choice.centres),
        now: choice.now,
        best: choice.best,
        comes_to: comes_to(&choice.outcome),
    }
}

fn place(stop: &Stop) -> JsonPlace {
    JsonPlace {
        distance_mm: thousandth(stop.distance),
        middle_mm: thousandth(stop.at),
        best: stop.best,
        comes_to: comes_to(&stop.outcome),
    }
}

fn comes_to(outcome: &Outcome) -> ComesTo {
    let codes = |snags: &[Snag]| snags.iter().map(|s| s.code.id().to_string()).collect();
    ComesTo {
        pieces: outcome.wall.pieces,
        studs: outcome.wall.studs,
        noggins: outcome.wall.noggins,
        lengths: outcome.wall.lengths,
        timber_mm: thousandth(outcome.wall.timber),
        moved_studs: outcome.wall.moved,
        joints_off_studs: outcome.wall.joints_off,
        bought_mm: thousandth(outcome.bill.bought),
        price: outcome.bill.price.map(|p| (p * 100.0).round() / 100.0),
        cuts: outcome.bill.cuts,
        no_bar: outcome.bill.no_bar,
        stops: outcome.snags[0],
        mends: outcome.snags[1],
        notes: outcome.snags[2],
        opened: codes(&outcome.opened),
        closed: codes(&outcome.closed),
    }
}

fn line(job: &Job, outcome: &Outcome) -> String {
    let wall = &outcome.wall;
    let cost = match outcome.bill.price {
        Some(price) => job.saw.money(price),
        None => format!("{} to buy", job.units.run(outcome.bill.bought)),
    };
    let mut line = format!(
        "{:>4} {:>6} {:>8} {:>8} {:>5}  {cost}",
        wall.pieces, wall.studs, wall.noggins, wall.lengths, outcome.bill.cuts
    );
    if !outcome.opened.is_empty() || !outcome.closed.is_empty() {
        let _ = write!(line, ", snags +{} -{}", outcome.opened.len(), outcome.closed.len());
    }
    if wall.joints_off > 0 {
        let _ = write!(line, ", {} board joints off a stud", wall.joints_off);
    }
    if outcome.bill.no_bar > 0 {
        let _ = write!(line, ", {} pieces without a bar", outcome.bill.no_bar);
    }
    line
}

pub(super) fn signs(now: bool, best: bool) -> &'static str {
    match (now, best) {
        (true, true) => "  now, best",
        (true, false) => "  now",
        (false, true) => "  best",
        (false, false) => "",
    }
}

const HEAD: &str = "pieces  studs  noggins  lengths  cuts  price";

fn choices_text(job: &Job, wall: &Name, offered: &[Choice]) -> String {
    // Writing to a string does not fail.
    let mut text = String::new();
    let _ = writeln!(text, "{}\nWall {wall}: where the odd bay goes\n", job.title);
    let _ = writeln!(text, "centres  {:<18}{HEAD}", "odd bay");
    for choice in offered {
        let _ = writeln!(
            text,
            "{:>7}  {:<18}  {}{}",
            job.units.show(choice.centres),
            choice.words(),
            line(job, &choice.outcome),
            signs(choice.now, choice.best)
        );
    }
    text
}

/// Neighbouring places that come to the same are one line.
fn places_text(job: &Job, swept: &Sweep) -> String {
    let mut text = String::new();
    let _ = writeln!(
        text,
        "{}\n{} in wall {}: held at {} now\n",
        job.title,
        swept.opening,
        swept.wall,
        job.units.show(swept.now.distance)
    );
    let _ = writeln!(text, "{:<17}{HEAD}", "held at");
    let mut runs: Vec<(&Stop, &Stop, String)> = Vec::new();
    for stop in &swept.stops {
        let words = line(job, &stop.outcome) + signs(false, stop.best);
        match runs.last_mut() {
            Some((_, last, said)) if *said == words => *last = stop,
            _ => runs.push((stop, stop, words)),
        }
    }
    for (first, last, words) in runs {
        let at = if std::ptr::eq(first, last) {
            job.units.show(first.distance)
        } else {
            format!("{} to {}", job.units.show(first.distance), job.units.show(last.distance))
        };
        let _ = writeln!(text, "{at:<17}  {words}");
    }
    text
}
