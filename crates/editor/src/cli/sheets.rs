//! `baywright sheets`: the print set as files.

use std::fmt::Write;
use std::path::Path;

use layout_core::document::{Face, Job};
use layout_core::layout::Layout;
use sheets::export::{Meta, drawings, dxf, ifc, pdf, svg, xlsx};
use sheets::page::{LabelSheet, Page, Part, PrintOptions, print_set};

use super::{Exit, Failure, Kind, Outcome, Paper, Side, out, tables};
use crate::files;

/// What is asked of the print set.
pub(super) struct Asked {
    pub(super) paper: Paper,
    pub(super) upright: bool,
    pub(super) scale: Option<u16>,
    pub(super) face: Side,
    pub(super) only: Vec<String>,
    pub(super) labels: LabelSheet,
    pub(super) kinds: Vec<Kind>,
}

/// Writes the print set of `job` to the folder `folder`, and prints the path of each file.
pub(super) fn run(job: &Job, folder: &Path, asked: &Asked) -> Outcome {
    let layout = Layout::of(job);
    let only = asked.only.iter().map(|name| parts(name, &layout)).collect::<Result<Vec<_>, _>>()?;
    let options = PrintOptions {
        paper: match (asked.paper, asked.upright) {
            (Paper::A4, false) => sheets::page::Paper::A4,
            (Paper::A3, false) => sheets::page::Paper::A3,
            (Paper::A4, true) => sheets::page::Paper::A4Upright,
            (Paper::A3, true) => sheets::page::Paper::A3Upright,
        },
        face: match asked.face {
            Side::Right => Face::Right,
            Side::Left => Face::Left,
        },
        scale: asked.scale.map(f64::from),
        date: files::today(),
        only: only.concat(),
        labels: asked.labels,
    };
    let kinds = &asked.kinds;
    let printed = [Kind::Pdf, Kind::Svg].iter().any(|kind| kinds.contains(kind));
    let pages = if printed { print_set(job, &layout, &options) } else { Vec::new() };
    // Everything is made before anything is written.
    let mut made: Vec<(String, Vec<u8>)> = Vec::new();
    if kinds.contains(&Kind::Dxf) {
        let drawn = drawings(job, &layout, &options);
        if drawn.is_empty() {
            let line = "There is no drawing among these sheets; plan, setting out, walls, first fix, boards of walls and platforms have one";
            return Err(Failure::input(line));
        }
        let name = |name: &str| format!("{}.dxf", files::safe_name(name));
        made.extend(drawn.iter().map(|d| (name(&d.name), dxf(&d.picture, d.scale).into_bytes())));
    }
    if kinds.contains(&Kind::Xlsx) {
        let bytes = xlsx(&tables(job, &layout), &job.title).map_err(Failure::output)?;
        made.push((format!("{}.xlsx", files::safe_name(&job.title)), bytes));
    }
    if kinds.contains(&Kind::Pdf) {
        let meta = Meta { title: job.title.clone(), date: options.date.clone() };
        let bytes = pdf(&pages, &meta).map_err(Failure::output)?;
        made.push((format!("{}.pdf", files::safe_name(&job.title)), bytes));
    }
    if kinds.contains(&Kind::Svg) {
        let name = |page: &Page| format!("{}.svg", files::safe_name(&page.name));
        made.extend(pages.iter().map(|page| (name(page), svg(page).into_bytes())));
    }
    if kinds.contains(&Kind::Ifc) {
        let name = format!("{}.ifc", files::safe_name(&job.title));
        made.push((name, ifc(job, &layout).into_bytes()));
    }
    write(folder, made)
}

/// Writes files to a folder, which is made when it is not there, and prints the path of each.
pub(super) fn write(folder: &Path, made: Vec<(String, Vec<u8>)>) -> Outcome {
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

/// The parts of the print set called `name`. A wall or a platform may be called by its name alone, `boards-A` is both
/// faces of wall A, `rods` and `crew` those of every wall.
fn parts(name: &str, layout: &Layout) -> Result<Vec<Part>, Failure> {
    let mut all = Part::all(layout);
    let is_it = |part: &Part| match part {
        Part::Wall(own) | Part::Platform(own) => own.as_str() == name || part.name() == name,
        Part::Crew(_) => name == "crew" || part.name() == name,
        Part::Rod(_) => name == "rods" || part.name() == name,
        Part::Face(wall, _) => format!("boards-{wall}") == name || part.name() == name,
        _ => part.name() == name,
    };
    let names: Vec<String> = all.iter().map(Part::name).collect();
    all.retain(is_it);
    if all.is_empty() {
        let line = format!("There is no sheet {name}; there are {}", names.join(", "));
        return Err(Failure::input(line));
    }
    Ok(all)
}
