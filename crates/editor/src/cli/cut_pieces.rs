//! `baywright saw --pieces`: the plan for bars on a bare problem, without walls.

use std::fmt::Write;
use std::path::Path;
use std::time::Instant;

use ::saw::{
    Buying, Demand, LONGEST, MOST_PIECES, Pattern, Patterns, Piece, Problem, Slant, StockLine,
    Straightness, chance,
};
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
/// How sure it is to be that enough bars are straight when nothing else is asked.
const SURE: f64 = 0.95;
/// No more of a line are taken not to be straight, of one.
const MOST_CROOKED: f64 = 0.9;

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
    #[serde(default)]
    sure: Option<f64>,
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
    #[serde(default)]
    bowed: bool,
    #[serde(default)]
    not_straight: Option<f64>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct AskedPieces {
    length_mm: f64,
    count: f64,
    #[serde(default)]
    straight: bool,
    #[serde(default)]
    lean_mm: Option<f64>,
    #[serde(default)]
    leaning_ends: Option<f64>,
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
    buy: Vec<Bought>,
    enough_straight: Option<f64>,
}

#[derive(Serialize)]
struct Bars {
    stock_index: usize,
    stock_length_mm: Number,
    count: usize,
    straight: bool,
    cuts_mm: Vec<Number>,
    piece_index: Vec<usize>,
    saved_mm: Number,
    offcut_mm: Number,
}

#[derive(Serialize)]
struct Bought {
    stock_index: usize,
    count: u64,
    straight: u64,
    short: u64,
}

/// A problem as the saw counts, and how many of its units are one of those asked in.
struct Counted {
    problem: Problem,
    straightness: Straightness,
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
        if let Some(lean) = pieces.lean_mm {
            of(&format!("pieces[{i}].lean_mm"), lean, 0.0)?;
        }
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
        stock.push(StockLine { available, bowed: line.bowed, ..StockLine::new(length, cost) });
    }
    let mut crooked = Vec::new();
    for (i, line) in asked.stock.iter().enumerate() {
        let share = line.not_straight.unwrap_or(0.0);
        crooked.push(within(&format!("stock[{i}].not_straight"), share, 0.0, MOST_CROOKED)?);
    }
    let sure = within("sure", asked.sure.unwrap_or(SURE), 0.5, 0.999)?;
    let (mut pieces, mut slants) = (Vec::new(), Vec::new());
    for (i, p) in asked.pieces.iter().enumerate() {
        let n = count(&format!("pieces[{i}].count"), p.count, MOST_PIECES as f64)?;
        let ends = p.leaning_ends.unwrap_or(1.0);
        let both = count(&format!("pieces[{i}].leaning_ends"), ends, 2.0)? == 2;
        let lean = p.lean_mm.filter(|lean| *lean > 0.0 && ends > 0.0).map(units);
        let slant = lean.map(|lean| Slant { like: known(&mut slants, lean), both });
        let piece = Piece { length: units(p.length_mm), straight: p.straight, slant };
        pieces.push(Demand::new(piece, n));
    }
    let (kerf, trim, hold) = (units(asked.kerf_mm), units(trim), units(hold));
    let problem = Problem { kerf, trim, hold, slants, stock, pieces };
    problem.check().map_err(|fault| fault.say(per_mm))?;
    Ok(Counted { problem, straightness: Straightness { crooked, sure }, per_mm, per_price })
}

/// Where a lean is among those there are, with it added when it is new.
fn known(slants: &mut Vec<u64>, lean: u64) -> u16 {
    let at = slants.iter().position(|known| *known == lean).unwrap_or_else(|| {
        slants.push(lean);
        slants.len() - 1
    });
    // There are no more of them than kinds of piece, which are counted.
    u16::try_from(at).unwrap_or(u16::MAX)
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
    let planner = Buying::new(&counted.problem, &counted.straightness);
    let mut planner = planner.map_err(|f| fault(f.say(counted.per_mm)))?;
    let until = |most: f64| move || start.elapsed().as_secs_f64() < most;
    planner.run(&until(seconds));
    let spent = start.elapsed().as_secs_f64();
    // Sawing is made quicker when the cost is settled; nobody waits long for that.
    planner.tidy(TIDY, &until(seconds.min(spent + 0.25)));
    if let Some(&(piece, n)) = planner.best().left_over.first() {
        return Err(fault(ran_out(&counted, planner.best(), piece, n)));
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
fn ran_out(counted: &Counted, plan: &Patterns, piece: Piece, n: usize) -> String {
    let problem = &counted.problem;
    let mm = |length: u64| number(length, counted.per_mm);
    let any = plan.left_over.iter().any(|(piece, _)| piece.straight);
    let longest = problem.stock.iter().filter(|s| !(any && s.bowed)).max_by_key(|s| s.length);
    let rest = Problem {
        stock: longest.map(|s| StockLine { available: None, ..s.clone() }).into_iter().collect(),
        pieces: plan.left_over.iter().map(|&(piece, n)| Demand::new(piece, n as u64)).collect(),
        ..problem.clone()
    };
    let more = ::saw::first_fit_patterns(&rest).bars();
    let (bar, length) = (mm(longest.map_or(0, |s| s.length)), piece.length);
    let others = plan.missing() - n;
    let others = if others > 0 { format!(" and {others} shorter") } else { String::new() };
    format!(
        "the bars run out: {n} of {} mm{others} cannot be cut; {more} more of {bar} mm would do",
        mm(length)
    )
}

fn gap(planner: &Buying) -> f64 {
    let cost = planner.cost() as f64;
    let bound = planner.bound() as f64;
    if cost > bound { ((cost - bound) / cost * 1e6).ceil() / 1e4 } else { 0.0 }
}

/// Whether and how well it is known that enough of the bars bought are straight.
fn enough_straight(counted: &Counted, buy: &[Bought]) -> Option<f64> {
    let crooked = &counted.straightness.crooked;
    let lines = buy.iter().filter(|line| line.straight > 0 && crooked[line.stock_index] > 0.0);
    let sure = lines.map(|line| chance(line.straight, line.count, crooked[line.stock_index]));
    sure.reduce(|all, line| all * line)
}

/// What is bought of each line that is bought of: bars, how many of them have to be straight, and how many more it would
/// take to be sure of those.
fn bought(planner: &Buying) -> Vec<Bought> {
    let choice = |j: usize| -> u64 {
        let of = planner.best().patterns.iter().filter(|p| p.stock == j && p.straight());
        of.map(|p| p.bars as u64).sum()
    };
    let lines = planner.buy().iter().zip(planner.short()).enumerate();
    let lines = lines.map(|(stock_index, (&count, short))| Bought {
        stock_index,
        count,
        straight: choice(stock_index),
        short,
    });
    lines.filter(|line| line.count > 0).collect()
}

fn answer<'a>(asked: &'a Asked, counted: &Counted, planner: &Buying, seconds: f64) -> Answer<'a> {
    let Counted { problem, per_mm, per_price, .. } = counted;
    let plan = planner.best().in_sawing_order(problem);
    let index = |piece: Piece| problem.pieces.iter().position(|d| d.piece == piece);
    let bars = |p: &Pattern| Bars {
        stock_index: p.stock,
        stock_length_mm: number(problem.stock[p.stock].length, *per_mm),
        count: p.bars,
        straight: p.straight(),
        cuts_mm: p.each().map(|piece| number(piece.length, *per_mm)).collect(),
        piece_index: p.each().filter_map(index).collect(),
        saved_mm: number(saved(problem, p), *per_mm),
        offcut_mm: number(p.left, *per_mm),
    };
    let buy = bought(planner);
    let length = |line: &Bought| problem.stock[line.stock_index].length * line.count;
    Answer {
        format: "baywright-cut-pieces",
        version: 1,
        name: &asked.name,
        cost: number(planner.cost(), *per_price),
        lower_bound: number(planner.bound(), *per_price),
        proven: planner.proven(),
        gap_percent: gap(planner),
        bought_mm: number(buy.iter().map(length).sum(), *per_mm),
        seconds: (seconds * 1e6).round() / 1e6,
        patterns: plan.patterns.len(),
        stop_settings: plan.stop_settings(),
        bars: plan.patterns.iter().map(bars).collect(),
        enough_straight: enough_straight(counted, &buy).map(out::thousandth),
        buy,
    }
}

/// What ends that lie together save on a bar.
fn saved(problem: &Problem, pattern: &Pattern) -> u64 {
    let cuts = || pattern.cuts.iter().map(|&(piece, n)| (piece, n as u64));
    let whole: u64 = cuts().map(|(piece, n)| (piece.length + problem.kerf) * n).sum();
    whole - problem.takes(cuts())
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

/// What is special about a piece, in words.
fn how(piece: Piece) -> &'static str {
    match (piece.straight, piece.slant) {
        (false, None) => "",
        (true, None) => " straight",
        (false, Some(_)) => " leaning",
        (true, Some(_)) => " straight, leaning",
    }
}

fn text_of(asked: &Asked, counted: &Counted, planner: &Buying) -> String {
    // Writing to a string does not fail.
    let mut text = String::new();
    let Counted { problem, per_mm, per_price, .. } = counted;
    let plan = planner.best().in_sawing_order(problem);
    let buy = bought(planner);
    let (count, length) = buy.iter().fold((0, 0), |(count, length), line| {
        (count + line.count, length + problem.stock[line.stock_index].length * line.count)
    });
    let mm = |length: u64| number(length, *per_mm);
    if !asked.name.is_empty() {
        let _ = writeln!(text, "{}", asked.name);
    }
    let priced = asked.stock.iter().any(|s| s.price.is_some());
    let cost = match priced {
        true => format!(", cost {}", number(planner.cost(), *per_price)),
        false => String::new(),
    };
    let bound = if planner.proven() {
        format!("proven: nothing {} will do", if priced { "cheaper" } else { "shorter" })
    } else {
        let least = number(planner.bound(), *per_price);
        format!("no plan can be under {least}, {} % less", gap(planner))
    };
    let bars = if count == 1 { "bar" } else { "bars" };
    let _ = writeln!(text, "{count} {bars}, {} mm{cost}, {bound}", mm(length));
    if let Some(sure) = enough_straight(counted, &buy) {
        for line in buy.iter().filter(|line| line.straight > 0) {
            let bar = mm(problem.stock[line.stock_index].length);
            let more = match line.short {
                0 => String::new(),
                short => format!("; to be sure it would take {short} more than there are"),
            };
            let (straight, count) = (line.straight, line.count);
            let _ = writeln!(text, "{straight} of the {count} of {bar} have to be straight{more}");
        }
        let _ = writeln!(text, "{:.0} % sure that they are", (sure * 100.0).floor());
    }
    let (patterns, settings) = (plan.patterns.len(), plan.stop_settings());
    if patterns > 1 {
        let _ = writeln!(
            text,
            "sawn in this order: {patterns} patterns, the stop set {settings} times"
        );
    }
    for pattern in &plan.patterns {
        let cuts: Vec<String> = pattern
            .cuts
            .iter()
            .map(|&(p, n)| format!("{n} × {}{}", mm(p.length), how(p)))
            .collect();
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
