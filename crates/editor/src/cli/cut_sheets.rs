//! `baywright saw --sheets`: the plan for sheets on a bare problem, without walls.

use std::fmt::Write;
use std::path::Path;

use ::saw::sheets::{Blank, Pattern, Plan, Problem, Rect, Sheet, plan};
use serde::{Deserialize, Serialize};

use super::{Exit, Failure, Outcome, bare_problem, out};

/// Sides and kerf may be so long, mm.
const LONGEST: f64 = 100_000.0;
/// So many pieces, cut-outs and kinds of sheet may be asked for.
const MOST: u64 = 10_000;
const MOST_SHEETS: u64 = 500;
const DEAREST: f64 = 1e9;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Asked {
    #[serde(default)]
    name: String,
    #[serde(default)]
    kerf_mm: f64,
    #[serde(default)]
    keep_mm: f64,
    sheets: Vec<AskedSheet>,
    blanks: Vec<AskedBlank>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct AskedSheet {
    width_mm: f64,
    length_mm: f64,
    #[serde(default)]
    price: Option<f64>,
    #[serde(default)]
    available: Option<u32>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct AskedBlank {
    width_mm: f64,
    length_mm: f64,
    #[serde(default = "one")]
    count: u32,
    #[serde(default)]
    turns: bool,
    #[serde(default)]
    cut_outs: Vec<Place>,
}

const fn one() -> u32 {
    1
}

#[derive(Clone, Copy, Deserialize, Serialize)]
#[serde(deny_unknown_fields)]
struct Place {
    x_mm: f64,
    y_mm: f64,
    width_mm: f64,
    length_mm: f64,
}

#[derive(Serialize)]
struct Answer<'a> {
    format: &'static str,
    version: u32,
    name: &'a str,
    cost: f64,
    lower_bound: f64,
    proven: bool,
    bought: u64,
    fewest: u64,
    sheets: Vec<JsonSheet>,
    left_over: Vec<LeftOver>,
}

#[derive(Serialize)]
struct JsonSheet {
    sheet_index: usize,
    count: u32,
    pieces: Vec<JsonPiece>,
    cuts: Vec<JsonCut>,
    offcuts: Vec<Place>,
}

#[derive(Serialize)]
struct JsonPiece {
    blank_index: usize,
    turned: bool,
    #[serde(flatten)]
    place: Place,
}

#[derive(Serialize)]
struct JsonCut {
    through: Place,
    across: bool,
    at_mm: f64,
}

#[derive(Serialize)]
struct LeftOver {
    blank_index: usize,
    count: u32,
}

/// How many of what cost counts in make one: hundredths of a price, or else square millimetres.
fn cost_unit(asked: &Asked) -> f64 {
    if priced(asked) { 100.0 } else { 1.0 }
}

fn priced(asked: &Asked) -> bool {
    asked.sheets.iter().all(|s| s.price.is_some())
}

fn tenths(mm: f64) -> u64 {
    (mm * 10.0).round() as u64
}

fn mm(tenths: u64) -> f64 {
    tenths as f64 / 10.0
}

/// The problem as the saw counts.
fn problem(asked: &Asked) -> Result<Problem, String> {
    let within = |what: &str, value: f64, least: f64, most: f64| {
        if (least..=most).contains(&value) {
            return Ok(value);
        }
        Err(format!("{what}: {value} is not between {least} and {most}"))
    };
    let side = |what: &str, value: f64| within(what, value, 0.1, LONGEST).map(tenths);
    let from = |what: &str, value: f64| within(what, value, 0.0, LONGEST).map(tenths);
    let pieces: u64 = asked.blanks.iter().map(|b| u64::from(b.count)).sum();
    let cut_outs: u64 = asked.blanks.iter().map(|b| b.cut_outs.len() as u64).sum();
    let sheets = asked.sheets.len() as u64;
    let counts = [("pieces", pieces, MOST), ("cut-outs", cut_outs, MOST)];
    for (what, n, most) in counts.into_iter().chain([("kinds of sheet", sheets, MOST_SHEETS)]) {
        if n > most {
            return Err(format!("{n} {what} are more than {most}"));
        }
    }
    let unit = cost_unit(asked);
    let mut sheets = Vec::new();
    for (i, s) in asked.sheets.iter().enumerate() {
        let at = |field: &str| format!("sheets[{i}].{field}");
        let (width, length) =
            (side(&at("width_mm"), s.width_mm)?, side(&at("length_mm"), s.length_mm)?);
        let price = s.price.map(|p| within(&at("price"), p, 0.0, DEAREST)).transpose()?;
        let area = || (width as f64 * length as f64 / 100.0).round() as u64;
        let cost = match price {
            Some(price) if priced(asked) => (price * unit).round() as u64,
            _ => area(),
        };
        sheets.push(Sheet { width, length, cost, available: s.available });
    }
    let mut blanks = Vec::new();
    for (i, b) in asked.blanks.iter().enumerate() {
        let at = |field: &str| format!("blanks[{i}].{field}");
        let mut cut_outs = Vec::new();
        for (k, c) in b.cut_outs.iter().enumerate() {
            let at = |field: &str| format!("blanks[{i}].cut_outs[{k}].{field}");
            let (x, y) = (from(&at("x_mm"), c.x_mm)?, from(&at("y_mm"), c.y_mm)?);
            let width = side(&at("width_mm"), c.width_mm)?;
            let length = side(&at("length_mm"), c.length_mm)?;
            if x + width > tenths(b.width_mm) || y + length > tenths(b.length_mm) {
                return Err(format!("blanks[{i}].cut_outs[{k}]: it is not within its blank"));
            }
            cut_outs.push(Rect { x, y, width, length });
        }
        blanks.push(Blank {
            width: side(&at("width_mm"), b.width_mm)?,
            length: side(&at("length_mm"), b.length_mm)?,
            turns: b.turns,
            count: b.count,
            cut_outs,
        });
    }
    let (kerf, keep) = (from("kerf_mm", asked.kerf_mm)?, from("keep_mm", asked.keep_mm)?);
    Ok(Problem { kerf, keep, sheets, blanks })
}

pub(super) fn run(file: &Path, json: bool) -> Outcome {
    let shown = file.display();
    let asked: Asked = bare_problem(file)?;
    let problem = problem(&asked).map_err(|e| Failure::input(format!("{shown}: {e}")))?;
    let plan = plan(&problem);
    if json {
        out::print_json(&answer(&asked, &problem, &plan))?;
    } else {
        out::print(&text_of(&asked, &problem, &plan))?;
    }
    Ok(Exit::Done)
}

fn answer<'a>(asked: &'a Asked, problem: &Problem, plan: &Plan) -> Answer<'a> {
    let unit = cost_unit(asked);
    let place = |r: Rect| Place {
        x_mm: mm(r.x),
        y_mm: mm(r.y),
        width_mm: mm(r.width),
        length_mm: mm(r.length),
    };
    let sheet = |p: &Pattern| JsonSheet {
        sheet_index: p.sheet,
        count: p.count,
        pieces: p
            .placed()
            .map(|p| JsonPiece { blank_index: p.blank, turned: p.turned, place: place(p.at) })
            .collect(),
        cuts: p
            .cuts()
            .map(|c| JsonCut { through: place(c.through), across: c.across, at_mm: mm(c.at) })
            .collect(),
        offcuts: p.offcuts(problem.keep).into_iter().map(place).collect(),
    };
    Answer {
        format: "baywright-cut-sheets",
        version: 1,
        name: &asked.name,
        cost: plan.cost(problem) as f64 / unit,
        lower_bound: plan.least_cost as f64 / unit,
        proven: plan.proven(problem),
        bought: plan.bought(problem),
        fewest: plan.least_sheets,
        sheets: plan.patterns.iter().map(sheet).collect(),
        left_over: plan
            .left_over
            .iter()
            .map(|&(blank_index, count)| LeftOver { blank_index, count })
            .collect(),
    }
}

fn text_of(asked: &Asked, problem: &Problem, plan: &Plan) -> String {
    // Writing to a string does not fail.
    let mut text = String::new();
    if !asked.name.is_empty() {
        let _ = writeln!(text, "{}", asked.name);
    }
    let bought = plan.bought(problem);
    let bound = if plan.proven(problem) {
        "proven: nothing cheaper will do".to_string()
    } else {
        format!("no plan needs fewer than {}", plan.least_sheets)
    };
    let _ = writeln!(text, "{bought} sheets, {bound}");
    for pattern in &plan.patterns {
        let s = &problem.sheets[pattern.sheet];
        let pieces: Vec<String> = pattern
            .placed()
            .map(|p| {
                let turned = if p.turned { " turned" } else { "" };
                let (w, l) = (mm(p.at.width), mm(p.at.length));
                format!("{w}×{l}{turned} at {},{}", mm(p.at.x), mm(p.at.y))
            })
            .collect();
        let (w, l) = (mm(s.width), mm(s.length));
        let _ = writeln!(text, "  {} × {w}×{l}: {}", pattern.count, pieces.join("; "));
    }
    for &(blank, count) in &plan.left_over {
        let b = &problem.blanks[blank];
        let _ = writeln!(text, "  no sheet for {count} × {}×{}", mm(b.width), mm(b.length));
    }
    text
}
