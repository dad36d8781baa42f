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
    let (width, height) = match paper {
        crate::prefs::PaperChoice::A4 => (297.0, 210.0),
        crate::prefs::PaperChoice::A3 => (420.0, 297.0),
    };
    let mut ink = sheets::page::Ink::default();
    let options = sheets::views::PlanOptions { scale: 50.0, dimensions: true };
    ink.picture(&sheets::views::plan(job, layout, &options), 50.0, [60.0, 180.0]);
    vec![sheets::page::Page { name: "1-plan".into(), title: "Plan".into(), width, height, ink }]
}

pub(crate) fn write_bytes(path: &Path, bytes: &[u8]) -> Result<(), String> {
    std::fs::write(path, bytes).map_err(|e| format!("{e}: {}", path.display()))
}

pub(crate) fn today() -> String {
    "2026-11-25".into()
}
