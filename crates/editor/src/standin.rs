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
    let mut job = demo();
    job.title = name.into();
    job.walls.truncate(1);
    Some(job)
}

pub(crate) fn demo() -> Job {
    use layout_core::document::{Corner, Door, Hold, Opening, OpeningKind, Wall};
    use layout_core::math::PlanPoint;
    use std::sync::Arc;
    let mut job = Job { title: "Boathouse annexe, kit floor".into(), ..Job::default() };
    let c = |x, y| Corner { at: PlanPoint::new(x, y), thickness: 140.0, gaps: vec![] };
    job.shell.outline = vec![c(0.0, 0.0), c(4600.0, 0.0), c(4600.0, 5200.0), c(0.0, 5200.0)];
    let makeup = job.makeups[0].name.clone();
    let node =
        |n: &str, x, y| layout_core::document::Node { name: n.into(), at: PlanPoint::new(x, y) };
    job.nodes = vec![
        node("n1", 0.0, 3000.0),
        node("n2", 4600.0, 3000.0),
        node("n3", 1750.0, 3000.0),
        node("n4", 1750.0, 0.0),
    ];
    let mut a = Wall::new("A", "n1", "n2", makeup.clone());
    a.openings.push(Opening {
        name: "D1".into(),
        kind: OpeningKind::Door(Door::default()),
        hold: Hold { from: Default::default(), to: Default::default(), distance: 2300.0 },
    });
    job.walls = vec![Arc::new(a), Arc::new(Wall::new("B", "n3", "n4", makeup))];
    job
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
