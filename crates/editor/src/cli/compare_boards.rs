//! `baywright compare --boards`: what every way to lay the boards of a make-up comes to.

use std::fmt::Write;

use layout_core::compare::{Boarding, boardings};
use layout_core::document::{Job, WallEnd};
use layout_core::id::Name;
use layout_core::layout::Layout;
use layout_core::snag::Snag;
use serde::Serialize;

use super::compare::signs;
use super::out::{self, thousandth};
use super::{Exit, Failure, Outcome};
use crate::files;

#[derive(Serialize)]
struct Answer<'a> {
    format: &'static str,
    version: u32,
    job: &'a str,
    makeup: &'a str,
    currency: &'a str,
    ways: Vec<Way>,
}

#[derive(Serialize)]
struct Way {
    lay: &'static str,
    sheet_width_mm: f64,
    sheet_length_mm: f64,
    centres_mm: f64,
    from: Option<&'static str>,
    now: bool,
    best: bool,
    sheets: usize,
    waste_percent: f64,
    joints_mm: f64,
    noggins: usize,
    studs: usize,
    bought_mm: f64,
    price: Option<f64>,
    no_sheet: usize,
    no_bar: usize,
    stops: usize,
    mends: usize,
    notes: usize,
    opened: Vec<String>,
    closed: Vec<String>,
}

pub(super) fn run(job: &Job, makeup: &str, json: bool) -> Outcome {
    let name = Name::new(makeup);
    let Some(of) = job.makeup(&name) else {
        let names: Vec<&str> = job.makeups.iter().map(|m| m.name.as_str()).collect();
        let names = names.join(", ");
        return Err(Failure::input(format!(
            "There is no make-up {makeup} in the job; there are: {names}"
        )));
    };
    if of.left.boards.is_empty() && of.right.boards.is_empty() {
        return Err(Failure::input(format!("Make-up {makeup} has no boards on either face")));
    }
    let layout = Layout::of(job);
    let (catalogue, told) = files::catalogue_from(files::catalogue_folder().as_deref());
    told.iter().for_each(|line| eprintln!("{line}"));
    let ways = boardings(job, &layout, &name, &catalogue.boards, &|| true);
    if ways.is_empty() {
        return Err(Failure::input(format!("No wall is made of make-up {makeup}")));
    }
    if json {
        out::print_json(&Answer {
            format: "baywright-compare-boards",
            version: 1,
            job: &job.title,
            makeup: name.as_str(),
            currency: &job.saw.currency,
            ways: ways.iter().map(way).collect(),
        })?;
    } else {
        out::print(&text(job, &name, &ways))?;
    }
    Ok(Exit::Done)
}

fn way(of: &Boarding) -> Way {
    let is = &of.outcome;
    let codes = |snags: &[Snag]| snags.iter().map(|s| s.code.id().to_string()).collect();
    Way {
        lay: of.lay.label(),
        sheet_width_mm: thousandth(of.sheet.0),
        sheet_length_mm: thousandth(of.sheet.1),
        centres_mm: thousandth(of.centres),
        from: of.from.map(|end| match end {
            WallEnd::Start => "start",
            WallEnd::End => "end",
        }),
        now: of.now,
        best: of.best,
        sheets: is.sheets.sheets,
        waste_percent: thousandth(is.sheets.waste()),
        joints_mm: thousandth(is.joints),
        noggins: is.noggins,
        studs: is.studs,
        bought_mm: thousandth(is.bill.bought),
        price: is.price().map(|p| (p * 100.0).round() / 100.0),
        no_sheet: is.sheets.no_sheet,
        no_bar: is.bill.no_bar,
        stops: is.snags[0],
        mends: is.snags[1],
        notes: is.snags[2],
        opened: codes(&is.opened),
        closed: codes(&is.closed),
    }
}

fn text(job: &Job, makeup: &Name, ways: &[Boarding]) -> String {
    // Writing to a string does not fail.
    let mut text = String::new();
    let walls = job.walls.iter().filter(|w| w.makeup == *makeup).map(|w| w.name.as_str());
    let walls = walls.collect::<Vec<&str>>().join(", ");
    let _ = writeln!(text, "{}\nBoards of {makeup}: walls {walls}\n", job.title);
    let _ = writeln!(
        text,
        "{:<24}centres  from       sheets  waste    joints  noggins  studs  price",
        "boards"
    );
    for way in ways {
        let is = &way.outcome;
        let show = |mm: f64| job.units.show(mm);
        let sheet = format!("{}×{}", show(way.sheet.0), show(way.sheet.1));
        let cost = match is.price() {
            Some(price) => job.saw.money(price),
            None => format!("{} of timber to buy", job.units.run(is.bill.bought)),
        };
        let _ = write!(
            text,
            "{:<24}{:>7}  {:<9}  {:>6}  {:>3.0} %  {:>8}  {:>7}  {:>5}  {cost}",
            format!("{} {sheet}", way.lay.label()),
            show(way.centres),
            way.counted(),
            is.sheets.sheets,
            is.sheets.waste(),
            job.units.run(is.joints),
            is.noggins,
            is.studs
        );
        if !is.opened.is_empty() || !is.closed.is_empty() {
            let _ = write!(text, ", snags +{} -{}", is.opened.len(), is.closed.len());
        }
        if is.sheets.no_sheet > 0 {
            let _ = write!(text, ", {} boards without a sheet", is.sheets.no_sheet);
        }
        if is.bill.no_bar > 0 {
            let _ = write!(text, ", {} pieces without a bar", is.bill.no_bar);
        }
        let _ = writeln!(text, "{}", signs(way.now, way.best));
    }
    text
}
