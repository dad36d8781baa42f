//! `baywright changes`: what changed between two states of a job, and the sheet that says so.

use std::fmt::Write;
use std::path::PathBuf;

use layout_core::changes::{Change, Changes, Piece, Thing, ThingChange, ThingKind, changes};
use layout_core::document::Job;
use layout_core::layout::Layout;
use layout_core::units::Units;
use serde_json::{Value, json};
use sheets::export::{Meta, pdf};
use sheets::page::{PrintOptions, change_set};

use super::out::{self, thousandth};
use super::sheets::write;
use super::{Exit, Failure, Outcome, Paper};
use crate::files;

pub(super) fn run(was: &Job, is: &Job, json: bool, sheet: Option<(PathBuf, Paper)>) -> Outcome {
    let found = changes(&Layout::of(was), &Layout::of(is));
    if let Some((folder, paper)) = sheet {
        let options = PrintOptions {
            paper: match paper {
                Paper::A4 => sheets::page::Paper::A4,
                Paper::A3 => sheets::page::Paper::A3,
            },
            date: files::today(),
            ..PrintOptions::default()
        };
        let pages = change_set(is, &found, &options);
        let meta = Meta { title: format!("{}, changes", is.title), date: options.date };
        let bytes = pdf(&pages, &meta).map_err(Failure::output)?;
        return write(&folder, vec![(format!("{}.pdf", files::safe_name(&meta.title)), bytes)]);
    }
    if json {
        out::print_json(&answer(is, &found))?;
    } else {
        out::print(&text(is.units, &found))?;
    }
    Ok(Exit::Done)
}

fn answer(job: &Job, found: &Changes) -> Value {
    let piece = |p: &Piece| {
        json!({
            "mark": format!("{}-{}", p.of, p.mark),
            "role": p.role.label(),
            "timber": p.timber,
            "cut_mm": thousandth(p.length),
            "at_mm": thousandth(p.at),
            "underside_mm": thousandth(p.height),
        })
    };
    let change = |c: &Change| json!({"change": c.label(), "was": c.was().map(piece), "is": c.is().map(piece)});
    let thing = |t: &Thing| {
        json!({
            "of": t.of.as_str(),
            "what": t.what,
            "at_mm": thousandth(t.at),
            "height_mm": thousandth(t.height),
            "size_mm": [thousandth(t.size.0), thousandth(t.size.1)],
            "note": t.note,
        })
    };
    let of_thing = |c: &ThingChange| {
        let (was, is) = (c.was.as_ref().map(thing), c.is.as_ref().map(thing));
        json!({"kind": c.kind.label(), "change": c.label(), "was": was, "is": is})
    };
    json!({
        "format": "baywright-changes",
        "version": 1,
        "job": job.title,
        "unchanged": found.unchanged,
        "changes": found.changes.iter().map(change).collect::<Vec<_>>(),
        "still_serve": found
            .reuse
            .iter()
            .map(|r| json!({"take": piece(&r.from), "for": piece(&r.to)}))
            .collect::<Vec<_>>(),
        "boards_unchanged": found.boards_unchanged,
        "things": found.things.iter().map(of_thing).collect::<Vec<_>>(),
    })
}

fn text(units: Units, found: &Changes) -> String {
    // Writing to a string does not fail.
    let mut text = String::new();
    let show = |v: f64| units.show(v);
    let name = |p: &Piece| format!("{}-{}", p.of, p.mark);
    let _ = writeln!(text, "{} pieces stay as they are", found.unchanged);
    for change in &found.changes {
        let line = match change {
            Change::Moved(was, is) => {
                format!(
                    "{} {}: from {} to {}",
                    name(is),
                    is.role.label(),
                    show(was.at),
                    show(is.at)
                )
            }
            Change::Recut(was, is) => format!(
                "{} {}: was {}, is {}",
                name(is),
                is.role.label(),
                show(was.length),
                show(is.length)
            ),
            Change::New(is) => {
                format!("{} {}: {} at {}", name(is), is.role.label(), show(is.length), show(is.at))
            }
            Change::Gone(was) => {
                format!("{} {}: {}", name(was), was.role.label(), show(was.length))
            }
            Change::Renamed(was, is) => format!("{} is {} now", name(was), name(is)),
        };
        let _ = writeln!(text, "  {:<10} {line}", change.label());
    }
    if !found.things.is_empty() {
        let _ = writeln!(text, "Openings, points, fittings and boards");
    }
    for change in &found.things {
        let _ = writeln!(text, "  {:<10} {}", change.label(), thing_line(units, change));
    }
    if !found.reuse.is_empty() {
        let _ = writeln!(text, "Pieces that still serve, if they have been cut");
    }
    for r in &found.reuse {
        let (from, to) = (show(r.from.length), show(r.to.length));
        let _ = writeln!(text, "  {} {from}  for {} {to}", name(&r.from), name(&r.to));
    }
    text
}

/// “A door D1: at 700, is at 760”: what it was and what it is, of that which differs.
fn thing_line(units: Units, change: &ThingChange) -> String {
    let show = |v: f64| units.show(v);
    let size = |t: &Thing| format!("{} × {}", show(t.size.0), show(t.size.1));
    let place = |t: &Thing| format!("at {}, {} up", show(t.at), show(t.height));
    let kind = if change.kind == ThingKind::Board { " board" } else { "" };
    let name = |t: &Thing| format!("{}{kind} {}", t.of, t.what);
    match (&change.was, &change.is) {
        (Some(was), Some(is)) => {
            let pairs = [
                (place(was), place(is)),
                (size(was), size(is)),
                (was.note.clone(), is.note.clone()),
            ];
            let differs = pairs.into_iter().filter(|(was, is)| was != is);
            let differs: Vec<String> =
                differs.map(|(was, is)| format!("was {was}, is {is}")).collect();
            let from = if name(was) == name(is) {
                name(is)
            } else {
                format!("{} was {}", name(is), name(was))
            };
            match differs.is_empty() {
                true => format!("{from}: another shape"),
                false => format!("{from}: {}", differs.join("; ")),
            }
        }
        (was, is) => {
            let thing = is.as_ref().or(was.as_ref());
            thing.map_or(String::new(), |t| format!("{}: {}, {}", name(t), size(t), place(t)))
        }
    }
}
