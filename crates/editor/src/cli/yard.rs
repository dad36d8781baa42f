//! `baywright yard`: what to buy.

use std::fmt::Write;

use layout_core::board_plan::board_plans;
use layout_core::boards::{Layer, On};
use layout_core::document::Job;
use layout_core::insulation::alike;
use layout_core::layout::{Layout, PlatformLayout, WallLayout};
use layout_core::order::{Goods, Order, OrderLine, Remark, order, remarks};
use layout_core::pieces::cutting_plan;
use layout_core::sundries::{self, Need, insulated, of_ceiling, of_platform, of_wall};
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
    lines: Vec<Line<'a>>,
    #[serde(flatten)]
    totals: Totals<'a>,
    walls: Vec<Wall>,
    platforms: Vec<Platform>,
    ceiling: Option<Ceiling>,
}

/// One line of the order.
#[derive(Serialize)]
struct Line<'a> {
    kind: &'static str,
    what: &'a str,
    needed: f64,
    unit: &'static str,
    buy: usize,
    of: &'a str,
    price: Option<f64>,
    estimate: bool,
    rule: &'a str,
    source: &'static str,
    spare: usize,
    over: usize,
    pack: Option<usize>,
    each: Option<f64>,
    mass_kg: Option<f64>,
}

/// What all lines come to.
#[derive(Serialize)]
struct Totals<'a> {
    sum: JsonSum,
    mass_kg: f64,
    longest_mm: f64,
    largest_sheet_mm: Option<[f64; 2]>,
    without: usize,
    remarks: Vec<JsonRemark<'a>>,
}

#[derive(Serialize)]
struct JsonSum {
    goods: f64,
    unpriced_lines: usize,
    discount: f64,
    delivery: f64,
    tax_percent: f64,
    tax: f64,
    total: f64,
}

#[derive(Serialize)]
struct JsonRemark<'a> {
    message: &'a str,
    remedy: &'a str,
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
    let (order, _) = ordered(job, &layout);
    let remarks = remarks(job, &layout, &order);
    if form.csv {
        out::print(&csv::written(&table(&order.lines)))?;
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
            lines: order.lines.iter().map(line).collect(),
            totals: totals(job, &order, &remarks),
        })?;
    } else {
        out::print(&text(job, &layout, &order, &remarks))?;
    }
    Ok(Exit::Done)
}

/// The order of a job, from plans as good as they get.
pub(super) fn ordered(job: &Job, layout: &Layout) -> (Order, Vec<Need>) {
    let needs = sundries::order(job, layout);
    let (bars, sheets) = (cutting_plan(job, layout), board_plans(job, layout));
    (order(job, layout, &bars, &sheets, &needs), needs)
}

fn line(line: &OrderLine) -> Line<'_> {
    Line {
        kind: line.goods.label(),
        what: &line.what,
        needed: thousandth(line.needed),
        unit: line.unit,
        buy: line.buy(),
        of: &line.of,
        price: line.price,
        estimate: line.goods == Goods::Sundries,
        rule: &line.rule,
        source: line.source,
        spare: line.spare,
        over: line.over,
        pack: line.pack,
        each: line.each,
        mass_kg: line.mass.map(thousandth),
    }
}

fn totals<'a>(job: &Job, order: &Order, remarks: &'a [Remark]) -> Totals<'a> {
    Totals {
        sum: JsonSum {
            goods: order.sum.goods,
            unpriced_lines: order.sum.unpriced,
            discount: order.sum.discount,
            delivery: order.sum.delivery,
            tax_percent: job.buying.tax,
            tax: order.sum.tax,
            total: order.sum.total,
        },
        mass_kg: thousandth(order.mass()),
        longest_mm: thousandth(order.longest()),
        largest_sheet_mm: order.largest_sheet().map(|(long, short)| [short, long].map(thousandth)),
        without: order.without,
        remarks: remarks
            .iter()
            .map(|r| JsonRemark { message: &r.message, remedy: &r.remedy })
            .collect(),
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
pub(super) fn table(lines: &[OrderLine]) -> Table {
    let mut table = Table::new(&[
        "kind", "what", "needed", "unit", "buy", "of", "price", "estimate", "rule", "source",
        "spare", "over", "pack", "each", "mass_kg",
    ]);
    for line in lines {
        table.line(&[
            Cell::Word(line.goods.label()),
            csv::text(&line.what),
            csv::number(line.needed),
            Cell::Word(line.unit),
            csv::count(line.buy()),
            csv::text(&line.of),
            line.price.map_or(Cell::Empty, Cell::Money),
            Cell::Truth(line.goods == Goods::Sundries),
            csv::text(&line.rule),
            csv::text(line.source),
            csv::count(line.spare),
            csv::count(line.over),
            line.pack.map_or(Cell::Empty, csv::count),
            line.each.map_or(Cell::Empty, csv::number),
            line.mass.map_or(Cell::Empty, csv::number),
        ]);
    }
    table
}

fn text(job: &Job, layout: &Layout, order: &Order, remarks: &[Remark]) -> String {
    // Writing to a string does not fail.
    let mut text = String::new();
    let _ = writeln!(text, "{}", job.title);
    let mut kind = None;
    for line in &order.lines {
        if kind != Some(line.goods) {
            kind = Some(line.goods);
            let heading = match line.goods {
                Goods::Timber => "timber",
                Goods::Board => "boards",
                Goods::Sundries => "estimates",
            };
            let _ = writeln!(text, "\n{heading}");
        }
        let price = line.price.map_or(String::new(), |price| format!("  {}", job.saw.money(price)));
        let beyond = line.beyond();
        let beyond = if beyond.is_empty() { beyond } else { format!("  ({beyond})") };
        let _ = writeln!(text, "  {}: {} × {}{beyond}{price}", line.what, line.buy(), line.of);
        if line.goods == Goods::Sundries {
            let digits = usize::from(!line.unit.is_empty());
            let needed = format!("{:.digits$} {}", line.needed, line.unit);
            let _ = writeln!(text, "      {}; {}; {}", needed.trim(), line.rule, line.source);
        }
    }
    if !order.lines.is_empty() {
        let _ = writeln!(text, "\nall of it");
    }
    for (name, sum) in order.sum.parts(&job.buying) {
        let _ = writeln!(text, "  {name}: {}", job.saw.money(sum));
    }
    if let Some(words) = order.sum.missing_in_words().filter(|_| order.sum.goods > 0.0) {
        let _ = writeln!(text, "  {words}");
    }
    if order.mass() > 0.0 {
        let longest = job.units.show(order.longest());
        let _ = writeln!(text, "  {:.0} kg; the longest is {longest}", order.mass());
    }
    for remark in remarks {
        let _ = writeln!(text, "  {}. {}", remark.message, remark.remedy);
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
