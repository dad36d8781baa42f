//! `baywright compare --what-if`: the whole job with other choices.

use std::fmt::Write;

use layout_core::compare::{WhatIf, what_ifs};
use layout_core::document::Job;
use layout_core::layout::Layout;
use serde::Serialize;

use super::out::{self, thousandth};
use super::{Exit, Outcome};

#[derive(Serialize)]
struct Answer<'a> {
    format: &'static str,
    version: u32,
    job: &'a str,
    currency: &'a str,
    choices: Vec<Row<'a>>,
}

#[derive(Serialize)]
struct Row<'a> {
    about: &'static str,
    choice: &'a str,
    price: Option<f64>,
    bought_mm: f64,
    bars: usize,
    waste_mm: f64,
    waste_percent: f64,
    cuts: usize,
    pieces: usize,
    sheets: usize,
    mass_kg: f64,
    stops: usize,
    mends: usize,
    notes: usize,
    without: usize,
    best: Vec<&'static str>,
}

/// The columns in which one may be the best.
const COLUMNS: [&str; 6] = ["cost", "waste", "cuts", "pieces", "mass", "snags"];

pub(super) fn run(job: &Job, json: bool) -> Outcome {
    let layout = Layout::of(job);
    let rows = what_ifs(job, &layout, &|| true, &|_| {});
    if json {
        out::print_json(&Answer {
            format: "baywright-what-if",
            version: 1,
            job: &job.title,
            currency: &job.saw.currency,
            choices: rows.iter().map(row).collect(),
        })?;
    } else {
        out::print(&text(job, &rows))?;
    }
    Ok(Exit::Done)
}

fn row(what: &WhatIf) -> Row<'_> {
    let whole = &what.whole;
    let [stops, mends, notes] = whole.snags;
    Row {
        about: what.about.label(),
        choice: &what.label,
        price: whole.cost,
        bought_mm: thousandth(whole.bought),
        bars: whole.bars,
        waste_mm: thousandth(whole.waste),
        waste_percent: thousandth(whole.waste_share),
        cuts: whole.cuts,
        pieces: whole.pieces,
        sheets: whole.sheets,
        mass_kg: thousandth(whole.mass),
        stops,
        mends,
        notes,
        without: whole.without,
        best: best(what),
    }
}

fn best(what: &WhatIf) -> Vec<&'static str> {
    COLUMNS.into_iter().zip(what.best).filter(|(_, best)| *best).map(|(name, _)| name).collect()
}

fn text(job: &Job, rows: &[WhatIf]) -> String {
    // Writing to a string does not fail.
    let mut text = String::new();
    let _ = writeln!(text, "{}\nThe whole job, each way\n", job.title);
    let head = "cost       waste  cuts  pieces  sheets     kg  snags";
    let _ = writeln!(text, "{:<26}{head}", "choice");
    for what in rows {
        let whole = &what.whole;
        let cost = match whole.cost {
            Some(cost) => job.saw.money(cost),
            None => job.units.run(whole.bought),
        };
        let [stops, mends, notes] = whole.snags;
        let _ = write!(
            text,
            "{:<26}{cost:<10} {:>4.0} %  {:>4}  {:>6}  {:>6}  {:>5.0}  {stops} {mends} {notes}",
            what.label, whole.waste_share, whole.cuts, whole.pieces, whole.sheets, whole.mass
        );
        if whole.without > 0 {
            let _ = write!(text, "  {} without a bar or sheet", whole.without);
        }
        let best = best(what);
        if !best.is_empty() {
            let _ = write!(text, "  least {}", best.join(", "));
        }
        text.push('\n');
    }
    text
}
