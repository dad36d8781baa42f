//! `baywright yard`: what to buy.

use std::fmt::Write;

use layout_core::board_plan::{BoardPlan, board_plans};
use layout_core::boards::{Layer, On};
use layout_core::document::Job;
use layout_core::insulation::alike;
use layout_core::layout::{Layout, PlatformLayout, WallLayout};
use layout_core::pieces::{SectionPlan, cutting_plan};
use layout_core::sundries::{Need, insulated, of_ceiling, of_platform, of_wall, order};
use serde::Serialize;
use sheets::export::Cell;

use super::csv::{self, Table};
use super::out::{self, thousandth};
use super::{Exit, Form, Outcome};

#[derive(Serialize)]
struct Answer<'a> {
    format: &'static str,
    version: u32,
    job: &'a str,
    currency: &'a str,
    lines: Vec<Line>,
    walls: Vec<Wall>,
    platforms: Vec<Platform>,
    ceiling: Option<Ceiling>,
}

/// One line of the order.
#[derive(Serialize)]
pub(super) struct Line {
    kind: &'static str,
    what: String,
    needed: f64,
    unit: &'static str,
    buy: usize,
    of: String,
    price: Option<f64>,
    estimate: bool,
    rule: String,
    source: &'static str,
}

#[derive(Serialize)]
struct Wall {
    wall: String,
    boards_kg: f64,
    sheets: Vec<Sheet>,
    insulation: Vec<Bay>,
}

#[derive(Serialize)]
struct Platform {
    platform: String,
    boards_kg: f64,
    sheets: Vec<Sheet>,
}

#[derive(Serialize)]
struct Ceiling {
    boards_kg: f64,
    sheets: Vec<Sheet>,
}

#[derive(Serialize)]
struct Sheet {
    face: &'static str,
    layer: usize,
    sheet_kg: f64,
    pieces_kg: Vec<f64>,
}

#[derive(Serialize)]
struct Bay {
    bay: usize,
    cut_mm: [f64; 2],
}

pub(super) fn run(job: &Job, form: Form) -> Outcome {
    let layout = Layout::of(job);
    let lines = lines(job, &layout);
    if form.csv {
        out::print(&csv::written(&table(&lines)))?;
    } else if form.json {
        out::print_json(&Answer {
            format: "baywright-yard",
            version: 1,
            job: &job.title,
            currency: &job.saw.currency,
            walls: walls(job, &layout),
            ceiling: layout.ceiling.as_ref().map(|c| Ceiling {
                boards_kg: thousandth(of_ceiling(c, &job.sundries).mass),
                sheets: c.layers.iter().map(|l| sheet(l.face.label(), l)).collect(),
            }),
            platforms: layout.platforms.iter().map(|p| platform(job, p)).collect(),
            lines,
        })?;
    } else {
        out::print(&text(job, &layout, &lines))?;
    }
    Ok(Exit::Done)
}

pub(super) fn lines(job: &Job, layout: &Layout) -> Vec<Line> {
    let bars = cutting_plan(job, layout);
    let sheets = board_plans(job, layout);
    let timber = bars.iter().flat_map(|plan| timber(job, plan));
    let boards = sheets.iter().flat_map(|plan| boards(job, plan));
    let needs = order(job, layout);
    timber.chain(boards).chain(needs.iter().map(sundry)).collect()
}

fn timber(job: &Job, plan: &SectionPlan) -> Vec<Line> {
    let mut lines: Vec<Line> = Vec::new();
    let what = format!("{} {}", plan.timber.size_in(job.units), plan.timber.grade());
    for bar in plan.bought_bars() {
        let of = job.units.show(bar.stock);
        match lines.iter_mut().find(|l| l.of == of) {
            Some(line) => {
                line.buy += 1;
                line.needed += bar.pieces.iter().map(|p| p.length).sum::<f64>() / 1000.0;
            }
            None => lines.push(Line {
                kind: "timber",
                what: what.clone(),
                needed: bar.pieces.iter().map(|p| p.length).sum::<f64>() / 1000.0,
                unit: "m",
                buy: 1,
                of,
                price: None,
                estimate: false,
                rule: "from the cutting plan".into(),
                source: "computed",
            }),
        }
    }
    let each = |of: &str| {
        let listed = job.stock.iter().filter(|s| s.timber == plan.timber);
        let listed = listed.filter(|s| s.owned.is_none() && job.units.show(s.length) == of);
        listed.filter_map(|s| s.price).next()
    };
    for line in &mut lines {
        line.needed = thousandth(line.needed);
        line.price = each(&line.of).map(|price| price * line.buy as f64);
    }
    lines
}

fn boards(job: &Job, plan: &BoardPlan) -> Vec<Line> {
    let what = format!("board {} {}", plan.kind, job.units.fine(plan.thickness));
    let sizes = plan.by_size();
    let one = sizes.len() == 1;
    let line = |((width, length), buy): ((f64, f64), usize)| Line {
        kind: "board",
        what: what.clone(),
        needed: if one { thousandth(plan.area / 1e6) } else { 0.0 },
        unit: "m²",
        buy,
        of: format!("{} × {}", job.units.show(width), job.units.show(length)),
        price: if one { plan.price } else { None },
        estimate: false,
        rule: "from the sheet plan".into(),
        source: "computed",
    };
    sizes.into_iter().map(line).collect()
}

fn sundry(need: &Need) -> Line {
    Line {
        kind: "sundries",
        what: need.what.to_string(),
        needed: thousandth(need.amount),
        unit: need.unit,
        buy: need.buy,
        of: need.of.clone(),
        price: need.price,
        estimate: true,
        rule: need.rule.clone(),
        source: need.source,
    }
}

fn walls(job: &Job, layout: &Layout) -> Vec<Wall> {
    let filled = insulated(job, layout);
    let wall = |wall: &WallLayout| Wall {
        wall: wall.name().to_string(),
        boards_kg: thousandth(of_wall(wall, &job.sundries).mass),
        sheets: faces(wall).chain(strips(wall)).collect(),
        insulation: filled
            .iter()
            .filter(|f| f.wall.name() == wall.name())
            .flat_map(|f| &f.fills)
            .map(|f| Bay { bay: f.bay, cut_mm: [thousandth(f.cut.0), thousandth(f.cut.1)] })
            .collect(),
    };
    layout.walls.iter().map(wall).collect()
}

fn platform(job: &Job, platform: &PlatformLayout) -> Platform {
    Platform {
        platform: platform.name().to_string(),
        boards_kg: thousandth(of_platform(platform, &job.sundries).mass),
        sheets: platform.boards.iter().map(|l| sheet(l.face.label(), l)).collect(),
    }
}

fn faces(wall: &WallLayout) -> impl Iterator<Item = Sheet> {
    wall.boards.layers.iter().map(|layer| sheet(layer.face.label(), layer))
}

fn sheet<F>(face: &'static str, layer: &Layer<F>) -> Sheet {
    Sheet {
        face,
        layer: layer.layer + 1,
        sheet_kg: thousandth(layer.sheet_mass()),
        pieces_kg: layer.pieces.iter().map(|p| thousandth(layer.mass(p))).collect(),
    }
}

/// The strips over its ends and in its reveals, layer by layer.
fn strips(wall: &WallLayout) -> impl Iterator<Item = Sheet> {
    let mut sheets: Vec<Sheet> = Vec::new();
    for on in [On::End, On::Reveal] {
        for strip in wall.boards.strips.iter().filter(|s| s.closes.on() == on) {
            let (face, layer) = (on.label(), strip.layer + 1);
            let kg = thousandth(strip.mass());
            match sheets.iter_mut().find(|s| s.face == face && s.layer == layer) {
                Some(sheet) => sheet.pieces_kg.push(kg),
                None => {
                    let sheet_kg = thousandth(strip.sheet_mass());
                    sheets.push(Sheet { face, layer, sheet_kg, pieces_kg: vec![kg] });
                }
            }
        }
    }
    sheets.into_iter()
}

/// The order as a table.
pub(super) fn table(lines: &[Line]) -> Table {
    let mut table = Table::new(&[
        "kind", "what", "needed", "unit", "buy", "of", "price", "estimate", "rule", "source",
    ]);
    for line in lines {
        table.line(&[
            Cell::Word(line.kind),
            csv::text(&line.what),
            csv::number(line.needed),
            Cell::Word(line.unit),
            csv::count(line.buy),
            csv::text(&line.of),
            line.price.map_or(Cell::Empty, Cell::Money),
            Cell::Truth(line.estimate),
            csv::text(&line.rule),
            csv::text(line.source),
        ]);
    }
    table
}

fn text(job: &Job, layout: &Layout, lines: &[Line]) -> String {
    // Writing to a string does not fail.
    let mut text = String::new();
    let _ = writeln!(text, "{}", job.title);
    let mut kind = "";
    for line in lines {
        if line.kind != kind {
            kind = line.kind;
            let heading = match kind {
                "timber" => "timber",
                "board" => "boards",
                _ => "estimates",
            };
            let _ = writeln!(text, "\n{heading}");
        }
        let price = match line.price {
            Some(price) => format!("  {}{price:.2}", job.saw.currency),
            None => String::new(),
        };
        let _ = writeln!(text, "  {}: {} × {}{price}", line.what, line.buy, line.of);
        if line.estimate {
            let needed = format!("{:.1} {}", line.needed, line.unit);
            let _ = writeln!(text, "      {}; {}; {}", needed.trim(), line.rule, line.source);
        }
    }
    for filled in insulated(job, layout) {
        let name = &filled.insulation.kind;
        let thickness = job.units.fine(filled.insulation.thickness);
        let _ = writeln!(text, "\nwall {}, {name} {thickness}", filled.wall.name());
        for cuts in alike(&filled.fills) {
            let bays: Vec<String> = cuts.bays.iter().map(ToString::to_string).collect();
            let size = format!("{} × {}", job.units.show(cuts.size.0), job.units.show(cuts.size.1));
            let _ = writeln!(text, "  {} × {size}  bay {}", cuts.count, bays.join(" "));
        }
    }
    text
}
