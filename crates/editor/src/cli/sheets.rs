//! `baywright sheets`: the print set as files.

use std::fmt::Write;
use std::path::Path;

use layout_core::document::Job;
use layout_core::id::Name;
use layout_core::layout::{Framed, Layout};
use sheets::export::{Meta, pdf, svg};
use sheets::page::{Page, Part, PrintOptions, print_set};

use super::{Exit, Failure, Kind, Outcome, Paper, out};
use crate::files;

/// Writes the print set of `job` to the folder `folder`, and prints the path of each file.
pub(super) fn run(
    job: &Job,
    folder: &Path,
    paper: Paper,
    only: &[String],
    kinds: &[Kind],
) -> Outcome {
    let layout = Layout::of(job);
    let options = PrintOptions {
        paper: match paper {
            Paper::A4 => sheets::page::Paper::A4,
            Paper::A3 => sheets::page::Paper::A3,
        },
        date: files::today(),
        only: only.iter().map(|name| part(name, &layout)).collect::<Result<_, _>>()?,
    };
    let pages = print_set(job, &layout, &options);
    // Everything is made before anything is written.
    let mut made: Vec<(String, Vec<u8>)> = Vec::new();
    if kinds.contains(&Kind::Pdf) {
        let meta = Meta { title: job.title.clone(), date: options.date };
        let bytes = pdf(&pages, &meta).map_err(Failure::output)?;
        made.push((format!("{}.pdf", files::safe_name(&job.title)), bytes));
    }
    if kinds.contains(&Kind::Svg) {
        let name = |page: &Page| format!("{}.svg", files::safe_name(&page.name));
        made.extend(pages.iter().map(|page| (name(page), svg(page).into_bytes())));
    }
    std::fs::create_dir_all(folder).map_err(|e| {
        Failure::output(format!("The folder {} cannot be made: {e}", folder.display()))
    })?;
    let mut written = String::new();
    for (name, bytes) in made {
        let path = folder.join(name);
        files::save_bytes(&path, &bytes)
            .map_err(|line| Failure::output(line.replace(" (Save as…)", "")))?;
        // Writing to a string does not fail.
        let _ = writeln!(written, "{}", path.display());
    }
    out::print(&written).map(|()| Exit::Done)
}

/// The part of the print set called `name`: `plan`, `saw`, `boards`, or a wall's or a platform's name.
fn part(name: &str, layout: &Layout) -> Result<Part, Failure> {
    let wall = name.strip_prefix("wall-").unwrap_or(name);
    let fixed = Name::new(name.strip_prefix("first-fix-").unwrap_or_default());
    let platform = name.strip_prefix("platform-").unwrap_or(name);
    match name {
        "plan" => Ok(Part::Plan),
        "saw" => Ok(Part::Saw),
        "snags" => Ok(Part::Snags),
        "boards" => Ok(Part::Boards),
        "yard" => Ok(Part::Yard),
        _ if layout.wall(&Name::new(wall)).is_some() => Ok(Part::Wall(Name::new(wall))),
        _ if layout.wall(&fixed).is_some() => Ok(Part::FirstFix(fixed)),
        _ if layout.platform(&Name::new(platform)).is_some() => {
            Ok(Part::Platform(Name::new(platform)))
        }
        _ => {
            let walls: Vec<String> = layout
                .framed()
                .map(|part| match part {
                    Framed::Wall(w) => format!("wall-{}", w.name()),
                    Framed::Platform(p) => format!("platform-{}", p.name()),
                })
                .collect();
            Err(Failure::input(format!(
                "There is no sheet {name}; there are plan, saw, boards, snags{}{}",
                if walls.is_empty() { "" } else { ", " },
                walls.join(", ")
            )))
        }
    }
}
