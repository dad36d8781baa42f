//! The order as the merchant sells it: timber, boards and what goes with them, what it weighs and costs, how it was counted;
//! and what is cut for each bay.

use layout_core::document::Job;
use layout_core::layout::Layout;
use layout_core::order::{Goods, Order, OrderLine, order, remarks};
use layout_core::sundries;

use super::flow::{Block, Cell, GUTTER, table};
use super::lists::column;
use super::plans::Plans;
use super::{Paper, Sheet, insulation, run_on};
use crate::picture::Align;

/// Width of a column of the page, mm.
const WIDTH: f64 = 118.0;

pub(super) fn sheets(job: &Job, layout: &Layout, plans: &Plans<'_>, paper: Paper) -> Vec<Sheet> {
    let needs = sundries::order(job, layout);
    let order = order(job, layout, plans.bars(), plans.sheets(), &needs);
    if order.lines.is_empty() {
        return Vec::new();
    }
    let mut blocks = Vec::new();
    for (goods, title) in [
        (Goods::Timber, "Timber"),
        (Goods::Board, "Boards"),
        (Goods::Sundries, "Beside timber and board: estimates"),
    ] {
        let lines: Vec<&OrderLine> = order.of(goods).collect();
        if !lines.is_empty() {
            blocks.push(needed(job, title, &lines));
        }
    }
    blocks.push(all(job, layout, &order));
    let rules: Vec<String> =
        needs.iter().map(|n| format!("{}: {} – {}.", n.what, n.rule, n.source)).collect();
    if !rules.is_empty() {
        blocks.push(Block::prose("How they were counted", &rules, WIDTH, false));
    }
    blocks.extend(layout.walls.iter().filter_map(|w| insulation::of_wall(job, w, WIDTH)));
    run_on(("yard", "Yard order"), blocks, WIDTH, paper)
}

fn needed(job: &Job, title: &str, lines: &[&OrderLine]) -> Block {
    let columns = [
        column("", 3.0, Align::Left),
        column("what", 33.0, Align::Left),
        column("needed", 15.0, Align::Right),
        column("buy", 7.0, Align::Right),
        column("of", 30.0, Align::Left),
        column("kg", 9.0, Align::Right),
        column("price", WIDTH - 97.0 - 6.0 * GUTTER, Align::Right),
    ];
    let rows = lines.iter().map(|line| {
        let digits = usize::from(!line.unit.is_empty());
        let amount = match line.needed > 0.0 {
            true => format!("{:.digits$} {}", line.needed, line.unit),
            false => String::new(),
        };
        vec![
            Cell::Tick,
            Cell::Strong(line.what.clone()),
            Cell::Text(amount.trim().into()),
            Cell::Strong(line.buy().to_string()),
            Cell::Text(line.of.clone()),
            Cell::Text(line.mass.map_or(String::new(), |kg| format!("{kg:.0}"))),
            Cell::Text(line.price.map_or("–".into(), |p| job.saw.money(p))),
        ]
    });
    let mut block = table(title, &columns, rows.collect());
    let beyond: Vec<String> = lines
        .iter()
        .filter(|line| !line.beyond().is_empty())
        .map(|line| format!("{} of {}: {}", line.what, line.of, line.beyond()))
        .collect();
    if beyond.is_empty() {
        block.note("Nothing is added for breakage.", WIDTH);
    } else {
        block.note(&format!("Among them: {}.", beyond.join("; ")), WIDTH);
    }
    block
}

/// What it costs and weighs, and what does not go in the van.
fn all(job: &Job, layout: &Layout, order: &Order) -> Block {
    let columns = [column("", WIDTH - 30.0 - GUTTER, Align::Left), column("", 30.0, Align::Right)];
    let row = |name: String, sum: String| vec![Cell::Strong(name), Cell::Text(sum)];
    let sums = order.sum.parts(&job.buying).into_iter();
    let mut rows: Vec<Vec<Cell>> = sums.map(|(name, sum)| row(name, job.saw.money(sum))).collect();
    if order.mass() > 0.0 {
        rows.push(row("Weight, as far as it is known".into(), format!("{:.0} kg", order.mass())));
    }
    if order.longest() > 0.0 {
        rows.push(row("The longest".into(), job.units.with_unit(order.longest())));
    }
    if let Some((long, short)) = order.largest_sheet() {
        let size = format!("{} × {}", job.units.show(short), job.units.show(long));
        rows.push(row("The largest sheet".into(), size));
    }
    let mut block = table("All of it", &columns, rows);
    if let Some(words) = order.sum.missing_in_words().filter(|_| order.sum.goods > 0.0) {
        block.note(&format!("{words}."), WIDTH);
    }
    if order.without > 0 {
        let words = format!(
            "{} pieces or boards come out of nothing in the lists and are in no line.",
            order.without
        );
        block.note(&words, WIDTH);
    }
    for remark in remarks(job, layout, order) {
        block.note(&format!("{}. {}", remark.message, remark.remedy), WIDTH);
    }
    block
}
