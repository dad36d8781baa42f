//! Which bars to buy and what to cut from each.

use std::fmt::Write;

use layout_core::document::{BarFrom, Job};
use layout_core::layout::Layout;
use layout_core::pieces::{Bar, SectionPlan, cutting_plan, joining};

use super::num;

/// Every bar, section by section: those that have been cut, those still to be cut, and what has no bar.
pub(super) fn bars(job: &Job, layout: &Layout) -> String {
    let mut out = String::new();
    for plan in cutting_plan(job, layout) {
        let _ = writeln!(
            out,
            "{} {}  bought {}  {} bars{}{}",
            plan.timber.size(),
            plan.timber.grade(),
            num(plan.bought),
            plan.bars.len() + plan.done.len(),
            plan.price.map_or(String::new(), |p| format!("  price {p:.2}")),
            proof(&plan),
        );
        for (_, bar) in &plan.done {
            let _ = writeln!(out, "    cut {}", line(bar));
        }
        for (piece, length) in &plan.again {
            let (mark, now) = (piece.mark, num(piece.length));
            let _ = writeln!(out, "    {}-{mark} was cut {}, now {now}", piece.wall, num(*length));
        }
        for bar in &plan.bars {
            let _ = writeln!(out, "    {}", line(bar));
        }
        if let Some(sure) = plan.sure {
            for line in plan.order() {
                let (n, length) = (line.bars, num(line.length));
                let _ =
                    writeln!(out, "    buy {n} of {length}, {} of them straight", line.straight);
            }
            let _ = writeln!(out, "    enough straight: {:.1} %", sure * 100.0);
            for (length, n) in &plan.short {
                let _ = writeln!(out, "    short of {n} of {}", num(*length));
            }
        }
        for p in &plan.left_over {
            let _ = writeln!(out, "    left over: {}-{} {}", p.wall, p.mark, num(p.length));
        }
    }
    out.trim_end().to_string()
}

fn proof(plan: &SectionPlan) -> String {
    if plan.proven {
        "  proven".into()
    } else if plan.left_over.is_empty() {
        format!("  gap {:.2} %", plan.gap() * 100.0)
    } else {
        String::new()
    }
}

fn line(bar: &Bar) -> String {
    let cuts: Vec<String> = bar.pieces.iter().map(|p| num(p.length)).collect();
    let from = match bar.from {
        BarFrom::Bought => String::new(),
        from => format!(" {}", from.label()),
    };
    let bowed = if bar.bowed { " bowed" } else { "" };
    format!("{}{from}{bowed}: {}  left {}", num(bar.stock), cuts.join(" "), num(bar.offcut))
}

/// Joints of plates that come to less, what they save, and the bars with them.
pub(super) fn joints(job: &Job, layout: &Layout) -> String {
    let plans = cutting_plan(job, layout);
    let Some(found) = joining(job, layout, &plans, &|| true) else { return "none".into() };
    let mut out = String::new();
    let _ = writeln!(out, "{}", found.in_words(job.units, &job.saw.currency));
    for (wall, joints) in &found.walls {
        for j in joints {
            let (plate, layer, at) = (j.plate.label(), j.layer + 1, num(j.at));
            let _ = writeln!(out, "    {wall} {plate} {layer} at {at}");
        }
    }
    let job = found.edit().apply(job);
    out + &bars(&job, &Layout::of(&job))
}
