//! `baywright saw --pieces`: the plan for bars on a bare problem, without walls.

use std::fmt::Write;
use std::path::Path;
use std::time::Instant;

use ::saw::{Demand, LONGEST, MOST_PIECES, Pattern, Patterns, Piece, Planner, Problem, StockLine};
use serde::{Deserialize, Serialize};
use serde_json::Number;

use sheets::export::Cell;

use super::csv::{self, Table};
use super::{Exit, Failure, Form, Outcome, bare_problem, out};

/// How long better plans are looked for when nothing else is asked, seconds.
pub(super) const SECONDS: f64 = 3.0;
/// Steps in search of fewer patterns.
const TIDY: usize = 1_000_000;
/// Prices are no more.
const DEAREST: f64 = 1e12;
/// Lengths and prices may have so many decimals.
const DECIMALS: u32 = 4;

/// What is asked. Other fields of the whole are left alone, so that a file may carry notes of its own.
#[derive(Deserialize)]
#[serde(expecting = "{\"stock\": […], \"pieces\": […]}")]
struct Asked {
    #[serde(default)]
    name: String,
    #[serde(default)]
    kerf_mm: f64,
    #[serde(default)]
    trim_mm: Option<f64>,
    #[serde(default)]
    hold_mm: Option<f64>,
    stock: Vec<AskedLine>,
    pieces: Vec<AskedPieces>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct AskedLine {
    length_mm: f64,
    #[serde(default)]
    price: Option<f64>,
    #[serde(default)]
    available: Option<f64>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct AskedPieces {
    length_mm: f64,
    count: f64,
}

#[derive(Serialize)]
struct Answer<'a> {
    format: &'static str,
    version: u32,
    name: &'a str,
    cost: Number,
    lower_bound: Number,
    proven: bool,
    gap_percent: f64,
    bought_mm: Number,
    seconds: f64,
    patterns: usize,
    stop_settings: usize,
    bars: Vec<Bars>,
}

#[derive(Serialize)]
struct Bars {
    stock_index: usize,
    stock_length_mm: Number,
    count: usize,
    cuts_mm: Vec<Number>,
    offcut_mm: Number,
}

/// A problem as the saw counts, and how many of its units are one of those asked in.
struct Counted {
    problem: Problem,
    per_mm: u64,
    per_price: u64,
}

/// The least power of ten that makes whole numbers of all of them.
fn whole_by(numbers: &[f64]) -> Option<u64> {
    (0..=DECIMALS).map(|d| 10_u64.pow(d)).find(|&by| {
        numbers.iter().all(|n| {
            let scaled = n * by as f64;
            (scaled - scaled.round()).abs() <= 1e-9 * scaled.abs().max(1.0)
        })
    })
}

fn counted(asked: &Asked) -> Result<Counted, String> {
    let within = |what: &str, value: f64, least: f64, most: f64| {
        if (least..=most).contains(&value) {
            return Ok(value);
        }
        // A number that nobody could count the noughts of is shown by its power of ten.
        let shown = if value.abs() < 1e15 { value.to_string() } else { format!("{value:e}") };
        Err(format!("{what}: {shown} is not between {least} and {most}"))
    };
    let count = |what: &str, value: f64, most: f64| {
        if value.fract() == 0.0 && (0.0..=most).contains(&value) {
            return Ok(value as u64);
        }
        Err(format!("{what}: {value} is not a whole number between 0 and {most}"))
    };
    let trim = asked.trim_mm.unwrap_or(0.0);
    let hold = asked.hold_mm.unwrap_or(0.0);
    let mut lengths = Vec::new();
    let mut of = |what: &str, value: f64, least: f64| {
        // Whole numbers of ten-thousandths go up to a hundred metres, of millimetres further than any timber.
        let value = within(what, value, least, LONGEST as f64)?;
        if whole_by(&[value]).is_none() {
            return Err(format!("{what}: {value} has more than {DECIMALS} decimals"));
        }
        lengths.push((what.to_string(), value));
        Ok(value)
    };
    of("kerf_mm", asked.kerf_mm, 0.0)?;
    of("trim_mm", trim, 0.0)?;
    of("hold_mm", hold, 0.0)?;
    for (i, line) in asked.stock.iter().enumerate() {
        of(&format!("stock[{i}].length_mm"), line.length_mm, 0.0001)?;
    }
    for (i, pieces) in asked.pieces.iter().enumerate() {
        of(&format!("pieces[{i}].length_mm"), pieces.length_mm, 0.0001)?;
    }
    let per_mm = whole_by(&lengths.iter().map(|l| l.1).collect::<Vec<f64>>()).unwrap_or(1).max(10);
    let longest = LONGEST as f64 / per_mm as f64;
    for (what, length) in &lengths {
        within(what, *length, 0.0, longest)?;
    }
    let units = |mm: f64| (mm * per_mm as f64).round() as u64;

    let priced = asked.stock.iter().filter(|s| s.price.is_some()).count();
    if priced > 0 && priced < asked.stock.len() {
        let without = asked.stock.iter().position(|s| s.price.is_none()).unwrap_or(0);
        return Err(format!(
            "stock[{without}] has no price though {priced} of {} lines have one; give every line a price, or none",
            asked.stock.len()
        ));
    }
    for (i, line) in asked.stock.iter().enumerate() {
        within(&format!("stock[{i}].price"), line.price.unwrap_or(0.0), 0.0, DEAREST)?;
    }
    let prices: Vec<f64> = asked.stock.iter().filter_map(|s| s.price).collect();
    let per_price = match whole_by(&prices) {
        Some(by) if priced > 0 => by,
        Some(_) => per_mm,
        None => return Err(format!("a price has more than {DECIMALS} decimals")),
    };
    let mut stock = Vec::new();
    for (i, line) in asked.stock.iter().enumerate() {
        let length = units(line.length_mm);
        let cost = line.price.map_or(length, |price| (price * per_price as f64).round() as u64);
        let most = f64::from(u32::MAX);
        let n = |n: f64| count(&format!("stock[{i}].available"), n, most).map(|n| n as u32);
        let available = line.available.map(n).transpose()?;
        stock.push(StockLine { available, ..StockLine::new(length, cost) });
    }
    let mut pieces = Vec::new();
    for (i, p) in asked.pieces.iter().enumerate() {
        let n = count(&format!("pieces[{i}].count"), p.count, MOST_PIECES as f64)?;
        pieces.push(Demand::new(units(p.length_mm), n));
    }
    let (kerf, trim, hold) = (units(asked.kerf_mm), units(trim), units(hold));
    let problem = Problem { kerf, trim, hold, stock, pieces, ..Problem::default() };
    problem.check().map_err(|fault| fault.say(per_mm))?;
    Ok(Counted { problem, per_mm, per_price })
}

/// A whole number of parts, as it was written: without a decimal point where there is no need.
fn number(n: u64, per: u64) -> Number {
    match n % per {
        0 => Number::from(n / per),
        _ => Number::from_f64(n as f64 / per as f64).unwrap_or_else(|| Number::from(n / per)),
    }
}

pub(super) fn run(file: &Path, seconds: f64, form: Form) -> Outcome {
    let shown = file.display();
    if !(0.0..=86_400.0).contains(&seconds) {
        let line = format!("--seconds {seconds} is not between 0 and 86400. See baywright --help");
        return Err(Failure::input(line));
    }
    let asked: Asked = bare_problem(file)?;
    let fault = |line: String| Failure::input(format!("{shown}: {line}"));
    let counted = counted(&asked).map_err(fault)?;
    let start = Instant::now();
    let mut planner = Planner::new(&counted.problem).map_err(|f| fault(f.say(counted.per_mm)))?;
    let until = |most: f64| move || start.elapsed().as_secs_f64() < most;
    planner.run(&until(seconds));
    let spent = start.elapsed().as_secs_f64();
    // Sawing is made quicker when the cost is settled; nobody waits long for that.
    planner.tidy(TIDY, &until(seconds.min(spent + 0.25)));
    if let Some(&(Piece { length, .. }, n)) = planner.best().left_over.first() {
        return Err(fault(ran_out(&counted, planner.best(), length, n)));
    }
    if form.json {
        out::print_json(&answer(&asked, &counted, &planner, spent))?;
    } else if form.csv {
        out::print(&table(&counted, &planner.best().in_sawing_order(&counted.problem)))?;
    } else {
        out::print(&text_of(&asked, &counted, &planner))?;
    }
    Ok(Exit::Done)
}

/// Which pieces are left when the bars run out, and what more would do.
fn ran_out(counted: &Counted, plan: &Patterns, length: u64, n: usize) -> String {
    let problem = &counted.problem;
    let mm = |length: u64| number(length, counted.per_mm);
    let longest = problem.stock.iter().max_by_key(|s| s.length);
    let rest = Problem {
        stock: longest.map(|s| StockLine { available: None, ..s.clone() }).into_iter().collect(),
        pieces: plan.left_over.iter().map(|&(piece, n)| Demand::new(piece, n as u64)).collect(),
        ..problem.clone()
    };
    let more = ::saw::first_fit_patterns(&rest).bars();
    let bar = mm(longest.map_or(0, |s| s.length));
    let others = plan.missing() - n;
    let others = if others > 0 { format!(" and {others} shorter") } else { String::new() };
    format!(
        "the bars run out: {n} of {} mm{others} cannot be cut; {more} more of {bar} mm would do",
        mm(length)
    )
}

fn gap(counted: &Counted, planner: &Planner) -> f64 {
    let cost = planner.best().cost(&counted.problem) as f64;
    let bound = planner.bound() as f64;
    if cost > bound { ((cost - bound) / cost * 1e6).ceil() / 1e4 } else { 0.0 }
}

fn answer<'a>(asked: &'a Asked, counted: &Counted, planner: &Planner, seconds: f64) -> Answer<'a> {
    let Counted { problem, per_mm, per_price } = counted;
    let plan = planner.best().in_sawing_order(problem);
    let bars = |p: &Pattern| Bars {
        stock_index: p.stock,
        stock_length_mm: number(problem.stock[p.stock].length, *per_mm),
        count: p.bars,
        cuts_mm: p.each().map(|piece| number(piece.length, *per_mm)).collect(),
        offcut_mm: number(p.left, *per_mm),
    };
    Answer {
        format: "baywright-cut-pieces",
        version: 1,
        name: &asked.name,
        cost: number(plan.cost(problem), *per_price),
        lower_bound: number(planner.bound(), *per_price),
        proven: planner.proven(),
        gap_percent: gap(counted, planner),
        bought_mm: number(plan.bought(problem), *per_mm),
        seconds: (seconds * 1e6).round() / 1e6,
        patterns: plan.patterns.len(),
        stop_settings: plan.stop_settings(),
        bars: plan.patterns.iter().map(bars).collect(),
    }
}

fn table(counted: &Counted, plan: &Patterns) -> String {
    let heads = ["pattern", "bars", "stock_length_mm", "length_mm", "each", "offcut_mm"];
    let mut table = Table::new(&heads);
    let mm = |length: u64| csv::number(length as f64 / counted.per_mm as f64);
    for (i, pattern) in plan.patterns.iter().enumerate() {
        for &(Piece { length, .. }, each) in &pattern.cuts {
            table.line(&[
                csv::count(i + 1),
                Cell::Number(pattern.bars as f64),
                mm(counted.problem.stock[pattern.stock].length),
                mm(length),
                Cell::Number(each as f64),
                mm(pattern.left),
            ]);
        }
    }
    csv::written(&table)
}

fn text_of(asked: &Asked, counted: &Counted, planner: &Planner) -> String {
    // Writing to a string does not fail.
    let mut text = String::new();
    let Counted { problem, per_mm, per_price } = counted;
    let plan = planner.best().in_sawing_order(problem);
    let mm = |length: u64| number(length, *per_mm);
    if !asked.name.is_empty() {
        let _ = writeln!(text, "{}", asked.name);
    }
    let priced = asked.stock.iter().any(|s| s.price.is_some());
    let cost = match priced {
        true => format!(", cost {}", number(plan.cost(problem), *per_price)),
        false => String::new(),
    };
    let bound = if planner.proven() {
        format!("proven: nothing {} will do", if priced { "cheaper" } else { "shorter" })
    } else {
        let least = number(planner.bound(), *per_price);
        format!("no plan can be under {least}, {} % less", gap(counted, planner))
    };
    let bars = if plan.bars() == 1 { "bar" } else { "bars" };
    let _ =
        writeln!(text, "{} {bars}, {} mm{cost}, {bound}", plan.bars(), mm(plan.bought(problem)));
    let (patterns, settings) = (plan.patterns.len(), plan.stop_settings());
    if patterns > 1 {
        let _ = writeln!(
            text,
            "sawn in this order: {patterns} patterns, the stop set {settings} times"
        );
    }
    for pattern in &plan.patterns {
        let cuts: Vec<String> =
            pattern.cuts.iter().map(|&(piece, n)| format!("{n} × {}", mm(piece.length))).collect();
        let _ = writeln!(
            text,
            "  {:>3} × {:>5}  {}  left {}",
            pattern.bars,
            mm(problem.stock[pattern.stock].length).to_string(),
            cuts.join(", "),
            mm(pattern.left)
        );
    }
    text
}
