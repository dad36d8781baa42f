//! The boards of `baywright saw`: which sheets to buy and how each is cut.

use std::fmt::Write;

use layout_core::board_plan::{BoardPlan, CutSheet, Patch};
use layout_core::document::Job;
use serde::Serialize;

use super::out::thousandth;

#[derive(Serialize)]
pub(super) struct Boards<'a> {
    kind: &'a str,
    thickness_mm: f64,
    bought: usize,
    owned_used: usize,
    fewest: usize,
    proven: bool,
    price: Option<f64>,
    boards_m2: f64,
    sheets_m2: f64,
    sheets: Vec<Sheet>,
    left_over: Vec<String>,
}

#[derive(Serialize)]
struct Sheet {
    sheet_mm: [f64; 2],
    owned: bool,
    count: usize,
    pieces: Vec<Piece>,
    cuts: Vec<Cut>,
    offcuts: Vec<Place>,
}

#[derive(Serialize)]
struct Piece {
    marks: Vec<String>,
    turned: bool,
    #[serde(flatten)]
    at: Place,
    outline: Vec<[f64; 2]>,
    holes: Vec<Vec<[f64; 2]>>,
}

#[derive(Serialize)]
struct Cut {
    through: Place,
    across: bool,
    at_mm: f64,
}

#[derive(Serialize)]
struct Place {
    x_mm: f64,
    y_mm: f64,
    width_mm: f64,
    length_mm: f64,
}

fn place(p: Patch) -> Place {
    Place {
        x_mm: thousandth(p.x),
        y_mm: thousandth(p.y),
        width_mm: thousandth(p.width),
        length_mm: thousandth(p.length),
    }
}

pub(super) fn answer(plan: &BoardPlan) -> Boards<'_> {
    let square_metres = |area: f64| thousandth(area / 1e6);
    Boards {
        kind: plan.kind.as_str(),
        thickness_mm: plan.thickness,
        bought: plan.bought(),
        owned_used: plan.owned(),
        fewest: plan.fewest,
        proven: plan.proven,
        price: plan.price,
        boards_m2: square_metres(plan.area),
        sheets_m2: square_metres(plan.sheet_area()),
        sheets: plan.sheets.iter().map(sheet).collect(),
        left_over: plan.left_over.iter().map(ToString::to_string).collect(),
    }
}

fn sheet(sheet: &CutSheet) -> Sheet {
    let ring = |r: &Vec<[f64; 2]>| r.iter().map(|p| p.map(thousandth)).collect::<Vec<_>>();
    Sheet {
        sheet_mm: [sheet.size.0, sheet.size.1],
        owned: sheet.owned,
        count: sheet.count,
        pieces: sheet
            .boards
            .iter()
            .map(|b| Piece {
                marks: b.marks.iter().map(ToString::to_string).collect(),
                turned: b.turned,
                at: place(b.at),
                outline: b.rings.first().map(ring).unwrap_or_default(),
                holes: b.rings.iter().skip(1).map(ring).collect(),
            })
            .collect(),
        cuts: sheet
            .cuts
            .iter()
            .map(|c| Cut { through: place(c.through), across: c.across, at_mm: thousandth(c.at) })
            .collect(),
        offcuts: sheet.offcuts.iter().map(|o| place(*o)).collect(),
    }
}

pub(super) fn text(text: &mut String, job: &Job, plan: &BoardPlan) {
    let units = job.units;
    let size = |(w, l): (f64, f64)| format!("{}×{}", units.show(w), units.show(l));
    let price = match plan.price {
        Some(price) if plan.bought() > 0 => format!(", {}", job.saw.money(price)),
        _ => String::new(),
    };
    let sheets = if plan.bought() == 1 { "sheet" } else { "sheets" };
    let _ = writeln!(
        text,
        "\nboard {} {}: {} {sheets}{price}, {}",
        plan.kind,
        units.small(plan.thickness),
        plan.bought(),
        plan.bound_in_words(),
    );
    for sheet in &plan.sheets {
        let boards = sheet.boards.iter().map(|b| {
            let turned = if b.turned { " turned" } else { "" };
            let marks: Vec<String> = b.marks.iter().map(ToString::to_string).collect();
            format!("{}{turned} {}", size((b.at.width, b.at.length)), marks.join(" / "))
        });
        let boards: Vec<String> = boards.collect();
        let owned = if sheet.owned { " in stock" } else { "" };
        let _ = writeln!(
            text,
            "  {} × {}{owned}  {}",
            sheet.count,
            size(sheet.size),
            boards.join(", ")
        );
        for o in &sheet.offcuts {
            let _ = writeln!(text, "      keep {}", size((o.width, o.length)));
        }
    }
    for mark in &plan.left_over {
        let _ = writeln!(text, "  no sheet for {mark}: add a larger one to the board list");
    }
}
