//! `baywright new`: a job to begin with.

use std::path::Path;

use layout_core::document::{Corner, Job, write};
use layout_core::math::PlanPoint;

use super::{Exit, Failure, Outcome, out};
use crate::drawing::{self, Outline, outlines};
use crate::{assets, files};

/// The room of a new job, from a drawing.
#[derive(clap::Args)]
pub(super) struct RoomFrom {
    /// A drawing (DXF) whose closed outline is the room
    #[arg(long, value_name = "DRAWING")]
    room: Option<std::path::PathBuf>,
    /// Millimetres to one unit of the drawing, where it does not say its unit or says a wrong one
    #[arg(long, value_name = "N", requires = "room")]
    unit_mm: Option<f64>,
    /// Which of its closed outlines, the largest being 1
    #[arg(long, value_name = "N", requires = "room", default_value_t = 1)]
    outline: usize,
}

pub(super) fn run(from: &str, room: &RoomFrom, force: bool, file: &Path) -> Outcome {
    let Some(mut job) = assets::starter(from) else {
        let names: Vec<&str> = assets::starter_names().collect();
        return Err(Failure::input(format!(
            "There is no starter called {from}; there are {}",
            names.join(", ")
        )));
    };
    if let Some(path) = &room.room {
        take_room(&mut job, &outline(path, room)?);
        layout_core::document::check(&job)
            .map_err(|why| Failure::input(format!("{}: {why}", path.display())))?;
    }
    write_job(&job, force, file)
}

/// Writes a job to a file that is not there yet, unless `force` says to replace it; - is standard output.
pub(super) fn write_job(job: &Job, force: bool, file: &Path) -> Outcome {
    if file == Path::new("-") {
        return out::print(&write(job)).map(|()| Exit::Done);
    }
    if !force && std::fs::symlink_metadata(file).is_ok() {
        let line = format!("There is already a file {}; --force replaces it", file.display());
        return Err(Failure::output(line));
    }
    // “Save as…” is in the window.
    files::save_job(file, job)
        .map(|_| Exit::Done)
        .map_err(|line| Failure::output(line.replace(" (Save as…)", "")))
}

/// The closed outline that is asked for, in millimetres.
fn outline(path: &Path, room: &RoomFrom) -> Result<Outline, Failure> {
    let shown = path.display();
    let bytes = files::read_bytes(path).map_err(Failure::input)?;
    let drawing = drawing::read(&String::from_utf8_lossy(&bytes))
        .map_err(|why| Failure::input(format!("{shown}: {why}")))?;
    let unit = room.unit_mm.or(drawing.unit).ok_or_else(|| {
        let line = "it does not say its unit; give it by --unit-mm: 1, 10, 1000, 25.4 …";
        Failure::input(format!("{shown}: {line}"))
    })?;
    if !(1e-6..=1e6).contains(&unit) {
        let line = format!("--unit-mm {unit}: between 0.000001 and 1000000");
        return Err(Failure::input(line));
    }
    let mut found = outlines(&drawing.scaled(unit));
    let count = found.len();
    if room.outline == 0 || room.outline > count {
        let line = match count {
            0 => "there is no closed outline in it that is large enough for a room".into(),
            1 => "there is one closed outline in it".to_string(),
            n => format!("there are {n} closed outlines in it"),
        };
        return Err(Failure::input(format!("{shown}: {line}")));
    }
    Ok(found.swap_remove(room.outline - 1))
}

/// Thickness of existing walls, as they are drawn in the window, mm.
const THICKNESS: f64 = 140.0;

/// Gives the job this room, its lower left corner at the origin; what stands in the old one goes.
fn take_room(job: &mut Job, outline: &Outline) {
    let least = |i: usize| outline.corners.iter().map(|p| p[i]).fold(f64::INFINITY, f64::min);
    let (x, y) = (least(0), least(1));
    let corner = |p: &[f64; 2]| Corner {
        at: PlanPoint::new(p[0] - x, p[1] - y),
        thickness: THICKNESS,
        gaps: Vec::new(),
    };
    let outline: Vec<Corner> = outline.corners.iter().map(corner).collect();
    job.datum.at = outline[0].at;
    job.shell.outline = outline;
    (job.walls, job.nodes, job.rooms, job.platforms) = Default::default();
}
