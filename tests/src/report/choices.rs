//! What the choices of a wall, or of the boards of a make-up, would come to.

use std::fmt::Write;

use layout_core::catalogue::{Sheet, read_boards};
use layout_core::compare;
use layout_core::document::Job;
use layout_core::id::Name;
use layout_core::layout::Layout;

use super::num;

fn sign(now: bool, best: bool) -> &'static str {
    match (now, best) {
        (true, true) => "  now, best",
        (true, false) => "  now",
        (false, true) => "  best",
        (false, false) => "",
    }
}

fn of(about: &[&str]) -> Name {
    Name::new(about.first().copied().unwrap_or_default())
}

/// What every place for the odd bay at every usual spacing would come to.
pub(super) fn odd_bays(job: &Job, layout: &Layout, about: &[&str]) -> String {
    let mut text = String::new();
    for choice in compare::choices(job, layout, &of(about), &|| true) {
        let (bay, tally) = (choice.words(), &choice.outcome.wall);
        let _ = writeln!(
            text,
            "{:<6}{bay:<16} pieces {}, studs {}, noggins {}, lengths {}, moved {}, joints off {}{}",
            num(choice.centres),
            tally.pieces,
            tally.studs,
            tally.noggins,
            tally.lengths,
            tally.moved,
            tally.joints_off,
            sign(choice.now, choice.best)
        );
    }
    text.trim_end().to_string()
}

/// The boards the program carries with it.
fn sold() -> Vec<Sheet> {
    read_boards(include_str!("../../../assets/catalogues/boards.ron")).unwrap_or_default()
}

/// What every way to lay the boards of a make-up would come to; behind its name a word to show only
/// the ways of which it is a part: `boardings stud upright`.
pub(super) fn boardings(job: &Job, layout: &Layout, about: &[&str]) -> String {
    let mut text = String::new();
    for way in compare::boardings(job, layout, &of(about), &sold(), &|| true) {
        let is = &way.outcome;
        let sheet = format!("{}x{}", num(way.sheet.0), num(way.sheet.1));
        let price = is.price().map_or_else(|| "no price".into(), |p| format!("{p:.2}"));
        let turns = match (is.opened.len(), is.closed.len()) {
            (0, 0) => String::new(),
            (opened, closed) => format!(", snags +{opened} -{closed}"),
        };
        let line = format!(
            "{} {sheet} at {} from {}: sheets {}, waste {:.1} %, joints {}, noggins {}, studs {}, {price}{turns}{}",
            way.lay.label(),
            num(way.centres),
            way.counted(),
            is.sheets.sheets,
            is.sheets.waste(),
            num(is.joints),
            is.noggins,
            is.studs,
            sign(way.now, way.best)
        );
        if about.iter().skip(1).all(|word| line.contains(word)) {
            let _ = writeln!(text, "{line}");
        }
    }
    text.trim_end().to_string()
}

/// The whole job each way: cost or metres to buy, waste, cuts, pieces, mass, snags, what it is the least in.
pub(super) fn what_ifs(job: &Job, layout: &Layout) -> String {
    let columns = ["cost", "waste", "cuts", "pieces", "mass", "snags"];
    let mut text = String::new();
    for what in compare::what_ifs(job, layout, &|| true, &|_| {}) {
        let whole = &what.whole;
        let cost = match whole.cost {
            Some(cost) => format!("{cost:.2}"),
            None => format!("{} m", num(whole.bought / 1000.0)),
        };
        let _ = write!(
            text,
            "{:<18} {cost:<8} waste {} %  cuts {}  pieces {}  bars {}  sheets {}  {} kg  snags {:?}",
            what.label.replace('\u{2009}', " "),
            num(whole.waste_share),
            whole.cuts,
            whole.pieces,
            whole.bars,
            whole.sheets,
            num(whole.mass),
            whole.snags
        );
        if whole.without > 0 {
            let _ = write!(text, "  {} without", whole.without);
        }
        let least: Vec<&str> =
            columns.into_iter().zip(what.best).filter(|(_, b)| *b).map(|(c, _)| c).collect();
        if !least.is_empty() {
            let _ = write!(text, "  least {}", least.join(" "));
        }
        text.push('\n');
    }
    text.trim_end().to_string()
}
