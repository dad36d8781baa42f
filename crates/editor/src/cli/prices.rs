//! `baywright yard --price-list` and `--prices`: price lists out and in.

use std::fmt::Write;
use std::path::Path;

use layout_core::document::Job;
use layout_core::layout::Layout;
use layout_core::prices::{Does, Offer, PriceList, offer, read_prices, write_prices};

use super::{Exit, Failure, Outcome, new, out, yard};
use crate::files;

/// Prints the price list for the merchant to fill in.
pub(super) fn write_list(job: &Job) -> Outcome {
    let (order, _) = yard::ordered(job, &Layout::of(job));
    out::print(&write_prices(job, &order)).map(|()| Exit::Done)
}

/// Says what a price list would change, or writes the job with it taken over.
pub(super) fn run(job: &Job, list: &Path, to: Option<&Path>, force: bool) -> Outcome {
    let prices = read(list)?;
    let (_, needs) = yard::ordered(job, &Layout::of(job));
    let from = list.file_name().unwrap_or_default().to_string_lossy();
    let offer = offer(job, &needs, &prices, &from)
        .map_err(|why| Failure::input(format!("{}: {why}", list.display())))?;
    let Some(to) = to else {
        return out::print(&text(job, &prices, &offer)).map(|()| Exit::Done);
    };
    match &offer.edit {
        Some(edit) => new::write_job(&edit.apply(job), force, to),
        None => new::write_job(job, force, to),
    }
}

/// Reads a price list; every row that is wrong is a line of the message.
fn read(list: &Path) -> Result<PriceList, Failure> {
    let text = files::read_table(list).map_err(Failure::input)?;
    read_prices(&text).map_err(|wrong| {
        let lines: Vec<String> =
            wrong.iter().map(|row| format!("{}:{row}", list.display())).collect();
        Failure::input(lines.join("\n"))
    })
}

fn text(job: &Job, list: &PriceList, offer: &Offer) -> String {
    // Writing to a string does not fail.
    let mut text = String::new();
    let _ = writeln!(text, "{}\n{}\n", job.title, offer.in_words());
    let money = |price: Option<f64>| match price {
        Some(price) => job.saw.money(price),
        None => "no price".into(),
    };
    for change in offer.changes.iter().filter(|c| c.does != Does::Nothing) {
        let prices = match change.does {
            Does::Adds => format!(" at {}", money(change.then)),
            Does::Prices => format!(": {} instead of {}", money(change.then), money(change.now)),
            Does::Counts | Does::Nothing | Does::LeftOut => String::new(),
        };
        let stranger =
            if change.stranger { "; the order calls for nothing of this name" } else { "" };
        let (what, does) = (&change.what, change.does.label());
        let _ = writeln!(text, "  line {}: {what}: {does}{prices}{stranger}", change.line);
    }
    if !list.unread.is_empty() {
        let _ = writeln!(text, "  columns that are not read: {}", list.unread.join(", "));
    }
    text
}
