//! `baywright saw`: which bars and sheets to buy and what to cut from each.

use std::fmt::Write;

use layout_core::board_plan::{BoardPlan, board_plans};
use layout_core::document::{BarFrom, Job};
use layout_core::layout::Layout;
use layout_core::pieces::{Bar, BarPiece, Joining, SectionPlan, cutting_plan, joining};
use serde::Serialize;
use sheets::export::Cell;

use super::csv::{self, Table};
use super::out::{self, thousandth};
use super::{Exit, Form, Outcome, boards};

#[derive(Serialize)]
struct Answer<'a> {
    format: &'static str,
    version: u32,
    job: &'a str,
    kerf_mm: f64,
    trim_mm: f64,
    currency: &'a str,
    sections: Vec<Section<'a>>,
    board_kerf_mm: f64,
    keep_mm: f64,
    boards: Vec<boards::Boards<'a>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    joints: Option<JsonJoining>,
}

#[derive(Serialize)]
struct JsonJoining {
    saves: f64,
    joints: Vec<JsonJoint>,
}

#[derive(Serialize)]
struct JsonJoint {
    wall: String,
    plate: &'static str,
    layer: u8,
    at_mm: f64,
}

#[derive(Serialize)]
struct Section<'a> {
    thickness_mm: f64,
    depth_mm: f64,
    grade: &'a str,
    bought_mm: f64,
    price: Option<f64>,
    by_price: bool,
    cost: f64,
    lower_bound: f64,
    proven: bool,
    bars: Vec<JsonBar>,
    cut: Vec<JsonBar>,
    left_over: Vec<Piece>,
    buy: Vec<JsonBuy>,
    enough_straight: Option<f64>,
    short: Vec<JsonShort>,
}

#[derive(Serialize)]
struct JsonBuy {
    length_mm: f64,
    count: usize,
    straight: usize,
}

#[derive(Serialize)]
struct JsonShort {
    length_mm: f64,
    count: usize,
}

#[derive(Serialize)]
struct JsonBar {
    stock_length_mm: f64,
    from: &'static str,
    bowed: bool,
    pieces: Vec<Piece>,
    offcut_mm: f64,
}

#[derive(Serialize)]
struct Piece {
    mark: String,
    length_mm: f64,
}

pub(super) fn run(job: &Job, joints: bool, form: Form) -> Outcome {
    let layout = Layout::of(job);
    let plans = cutting_plan(job, &layout);
    let found = if joints { joining(job, &layout, &plans, &|| true) } else { None };
    if form.csv {
        out::print(&csv::written(&table(&plans)))?;
        return Ok(Exit::Done);
    }
    let sheets = board_plans(job, &layout);
    if form.json {
        out::print_json(&Answer {
            format: "baywright-saw",
            version: 1,
            job: &job.title,
            kerf_mm: job.saw.kerf,
            trim_mm: job.saw.trim,
            currency: &job.saw.currency,
            sections: plans.iter().map(section).collect(),
            board_kerf_mm: job.saw.board_kerf,
            keep_mm: job.saw.keep,
            boards: sheets.iter().map(boards::answer).collect(),
            joints: joints.then(|| answer(found.as_ref())),
        })?;
    } else {
        let mut text = text(job, &plans, &sheets);
        if joints {
            text += &joints_text(job, found.as_ref());
        }
        out::print(&text)?;
    }
    Ok(Exit::Done)
}

fn mark(piece: &BarPiece) -> String {
    format!("{}-{}", piece.wall, piece.mark)
}

fn section(plan: &SectionPlan) -> Section<'_> {
    let piece = |p: &BarPiece| Piece { mark: mark(p), length_mm: thousandth(p.length) };
    let bar = |b: &Bar| JsonBar {
        stock_length_mm: b.stock,
        from: match b.from {
            BarFrom::Bought => "bought",
            BarFrom::Owned => "owned",
            BarFrom::Piece => "piece",
        },
        bowed: b.bowed,
        pieces: b.pieces.iter().map(piece).collect(),
        offcut_mm: thousandth(b.offcut),
    };
    Section {
        thickness_mm: plan.timber.thickness(),
        depth_mm: plan.timber.depth(),
        grade: plan.timber.grade().as_str(),
        bought_mm: thousandth(plan.bought),
        price: plan.price,
        by_price: plan.priced,
        cost: thousandth(plan.cost),
        lower_bound: thousandth(plan.least),
        proven: plan.proven,
        bars: plan.bars.iter().map(bar).collect(),
        cut: plan.done.iter().map(|(_, b)| bar(b)).collect(),
        left_over: plan.left_over.iter().map(piece).collect(),
        buy: plan
            .order()
            .iter()
            .map(|l| JsonBuy {
                length_mm: thousandth(l.length),
                count: l.bars,
                straight: l.straight,
            })
            .collect(),
        enough_straight: plan.sure.map(thousandth),
        short: plan
            .short
            .iter()
            .map(|&(length, count)| JsonShort { length_mm: thousandth(length), count })
            .collect(),
    }
}

/// What joints that come to less save, and where they are; nothing saved where there are none.
fn answer(found: Option<&Joining>) -> JsonJoining {
    let each = found.iter().flat_map(|f| &f.walls);
    let joints = each.flat_map(|(wall, joints)| {
        joints.iter().map(|j| JsonJoint {
            wall: wall.to_string(),
            plate: j.plate.label(),
            layer: j.layer,
            at_mm: thousandth(j.at),
        })
    });
    JsonJoining { saves: found.map_or(0.0, |f| thousandth(f.saves)), joints: joints.collect() }
}

fn joints_text(job: &Job, found: Option<&Joining>) -> String {
    let Some(found) = found else {
        return "\nNo other joints of plates were found that come to less.\n".into();
    };
    let mut text = format!("\n{}:\n", found.in_words(job.units, &job.saw.currency));
    for (wall, joints) in &found.walls {
        for joint in joints {
            let at = job.units.show(joint.at);
            let _ = writeln!(text, "  {wall} {} {} at {at}", joint.plate.label(), joint.layer + 1);
        }
    }
    text
}

/// The bars still to be cut as a table.
pub(super) fn table(plans: &[SectionPlan]) -> Table {
    let mut table =
        Table::new(&["section", "grade", "bar", "stock_length_mm", "mark", "length_mm"]);
    for plan in plans {
        let mut line = |bar: Cell, stock: Cell, piece: &BarPiece| {
            table.line(&[
                csv::text(&plan.timber.size()),
                csv::text(plan.timber.grade().as_str()),
                bar,
                stock,
                csv::text(&mark(piece)),
                csv::number(piece.length),
            ]);
        };
        for (i, bar) in plan.bars.iter().enumerate() {
            for piece in &bar.pieces {
                line(csv::count(i + 1), csv::number(bar.stock), piece);
            }
        }
        for piece in &plan.left_over {
            line(Cell::Empty, Cell::Empty, piece);
        }
    }
    table
}

fn text(job: &Job, plans: &[SectionPlan], sheets: &[BoardPlan]) -> String {
    // Writing to a string does not fail.
    let mut text = String::new();
    let _ = writeln!(text, "{}", job.title);
    for plan in plans {
        let price = match plan.price {
            Some(price) => format!(", {}", job.saw.money(price)),
            None => String::new(),
        };
        let proof = plan.bound_in_words(job.units, &job.saw.currency);
        let cut = match plan.done.len() {
            0 => String::new(),
            n => format!(" ({n} cut)"),
        };
        let _ = writeln!(
            text,
            "\n{} {}: {} bars{cut}, {}{price}, {proof}",
            plan.timber.size_in(job.units),
            plan.timber.grade(),
            plan.bars.len() + plan.done.len(),
            job.units.with_unit(plan.bought)
        );
        for bar in &plan.bars {
            let cuts: Vec<String> = bar
                .pieces
                .iter()
                .map(|p| format!("{} {}", mark(p), job.units.show(p.length)))
                .collect();
            let _ = writeln!(
                text,
                "  {:>6}{}{}  {}  left {}",
                job.units.show(bar.stock),
                if bar.from == BarFrom::Bought { "" } else { " " },
                bar.from.label(),
                cuts.join(", "),
                job.units.show(bar.offcut)
            );
        }
        if let Some(words) = plan.straight_in_words(job.units) {
            let _ = writeln!(text, "  {words}");
        }
        for piece in &plan.left_over {
            let _ = writeln!(
                text,
                "  no bar for {} {}: add a longer one to the timber list",
                mark(piece),
                job.units.show(piece.length)
            );
        }
    }
    for plan in sheets {
        boards::text(&mut text, job, plan);
    }
    text
}
