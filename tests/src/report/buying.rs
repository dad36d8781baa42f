//! Answers about what is ordered: lines with packs and spares, sums, and what does not go in the van.

use std::fmt::Write;

use layout_core::board_plan::board_plans;
use layout_core::document::Job;
use layout_core::layout::Layout;
use layout_core::order::{order, remarks};
use layout_core::pieces::cutting_plan;
use layout_core::sundries;

use super::num;

/// The whole order: line by line, then what it comes to.
pub(super) fn to_buy(job: &Job, layout: &Layout) -> String {
    let needs = sundries::order(job, layout);
    let order = order(job, layout, &cutting_plan(job, layout), &board_plans(job, layout), &needs);
    let mut text = String::new();
    for line in &order.lines {
        let _ = write!(text, "{}  {} × {}", line.what, line.buy(), line.of);
        let beyond = line.beyond();
        if !beyond.is_empty() {
            let _ = write!(text, "  {beyond}");
        }
        if let Some(mass) = line.mass {
            let _ = write!(text, "  {} kg", num(mass));
        }
        if let Some(price) = line.price {
            let _ = write!(text, "  {price:.2}");
        }
        text.push('\n');
    }
    for (name, sum) in order.sum.parts(&job.buying) {
        let _ = writeln!(text, "{name}  {sum:.2}");
    }
    if let Some(words) = order.sum.missing_in_words() {
        let _ = writeln!(text, "{words}");
    }
    if order.mass() > 0.0 {
        let (mass, longest) = (num(order.mass()), num(order.longest()));
        let _ = writeln!(text, "{mass} kg, longest {longest}");
    }
    for remark in remarks(job, layout, &order) {
        let _ = writeln!(text, "{}\n  {}", remark.message, remark.remedy);
    }
    text.trim_end().to_string()
}
