//! Files and starters, until those of the document branch are merged.
use std::path::Path;

use layout_core::document::{Job, read, write};

pub(crate) fn read_job(path: &Path) -> Result<Job, String> {
    let text = std::fs::read_to_string(path).map_err(|e| format!("{e}: {}", path.display()))?;
    read(&text).map_err(|e| format!("{}:{}: {} {}", e.line, e.column, e.message, path.display()))
}

pub(crate) fn save_job(path: &Path, job: &Job) -> Result<Option<String>, String> {
    std::fs::write(path, write(job)).map_err(|e| format!("{e}: {}", path.display()))?;
    Ok(None)
}

pub(crate) const STARTERS: &[&str] =
    &["Empty room", "One straight wall with a door", "L-shaped pair"];

pub(crate) fn starter(name: &str) -> Option<Job> {
    let text = match name {
        "Empty room" => include_str!("../../../assets/jobs/empty-room.ron"),
        "One straight wall with a door" => {
            include_str!("../../../assets/jobs/one-wall-with-door.ron")
        }
        "L-shaped pair" => include_str!("../../../assets/jobs/l-shaped-pair.ron"),
        _ => return None,
    };
    read(text).ok()
}

pub(crate) fn demo() -> Job {
    read(include_str!("../../../assets/jobs/boat-club-annexe.ron")).unwrap_or_default()
}

pub(crate) fn print_set(
    job: &Job,
    layout: &layout_core::layout::Layout,
    paper: crate::prefs::PaperChoice,
) -> Vec<sheets::page::Page> {
    let paper = match paper {
        crate::prefs::PaperChoice::A4 => sheets::page::Paper::A4,
        crate::prefs::PaperChoice::A3 => sheets::page::Paper::A3,
    };
    let crew_copy = job.crew_copies.last().map(|c| c.letter.to_string());
    let options = sheets::page::PrintOptions { paper, date: today(), crew_copy, only: Vec::new() };
    sheets::page::print_set(job, layout, &options)
}

pub(crate) fn write_bytes(path: &Path, bytes: &[u8]) -> Result<(), String> {
    std::fs::write(path, bytes).map_err(|e| format!("{e}: {}", path.display()))
}

pub(crate) fn today() -> String {
    "2026-11-25".into()
}
