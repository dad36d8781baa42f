//! Runs every case under `suite/` and `worked/`, each as one test.
//!
//! `cargo suite` runs them all, `cargo suite door` those with “door” in their name, and
//! `UPDATE=1 cargo suite door` rewrites the answers of those under `suite/`. Cases under `worked/`
//! were done by hand or come from a published source: only a hand changes them.

use std::path::{Path, PathBuf};
use std::process::ExitCode;

use layout_core::layout::Layout;
use libtest_mimic::{Arguments, Failed, Trial};
use suite::{fixture, report};

fn main() -> ExitCode {
    let arguments = Arguments::from_args();
    let here = Path::new(env!("CARGO_MANIFEST_DIR"));
    let update = std::env::var_os("UPDATE").is_some();
    let mut paths = Vec::new();
    for folder in ["suite", "worked"] {
        gather(&here.join(folder), &mut paths);
    }
    paths.sort();
    let trials: Vec<Trial> = paths
        .into_iter()
        .map(|path| {
            let name = path.strip_prefix(here).unwrap_or(&path).with_extension("");
            let by_hand = name.starts_with("worked");
            let name = name.display().to_string();
            Trial::test(name, move || run(&path, update && !by_hand))
        })
        .collect();
    let matching = trials.iter().any(|t| match &arguments.filter {
        Some(filter) if arguments.exact => t.name() == filter,
        Some(filter) => t.name().contains(filter.as_str()),
        None => true,
    });
    if !matching {
        eprintln!("no case matches “{}”", arguments.filter.unwrap_or_default());
        return ExitCode::FAILURE;
    }
    libtest_mimic::run(&arguments, trials).exit_code()
}

fn gather(folder: &Path, into: &mut Vec<PathBuf>) {
    let Ok(entries) = std::fs::read_dir(folder) else { return };
    for path in entries.flatten().map(|e| e.path()) {
        if path.is_dir() {
            gather(&path, into);
        } else if path.extension().is_some_and(|e| e == "wall") {
            into.push(path);
        }
    }
}

fn run(path: &Path, update: bool) -> Result<(), Failed> {
    let text = std::fs::read_to_string(path)?;
    let mut case = fixture::Case::read(&text);
    if !case.job.starts_with('#') {
        return Err("a case begins with a comment that says which rule it guards".into());
    }
    if case.asks.is_empty() {
        return Err("a case asks at least one question (>>> …)".into());
    }
    let job = fixture::job(&case.job)?;
    let layout = Layout::of(&job);
    let mut wrong = None;
    for ask in &mut case.asks {
        let got = report::answer(&job, &layout, &ask.what)?;
        if got != ask.answer {
            wrong.get_or_insert_with(|| difference(&ask.what, &ask.answer, &got));
            ask.answer = got;
        }
    }
    match wrong {
        Some(_) if update => Ok(std::fs::write(path, case.write())?),
        Some(why) => Err(why.into()),
        None => Ok(()),
    }
}

/// The first line that differs, and what to do.
fn difference(what: &str, wanted: &str, got: &str) -> String {
    let (mut w, mut g) = (wanted.lines(), got.lines());
    let mut line = 1;
    loop {
        match (w.next(), g.next()) {
            (a, b) if a == b => line += 1,
            (a, b) => {
                return format!(
                    "under “>>> {what}”, line {line}\n  wanted  {}\n  got     {}\n\nall of it:\n{got}\n\n\
                     If the new answer is right, UPDATE=1 cargo suite NAME, and read the diff.",
                    a.unwrap_or("(nothing more)"),
                    b.unwrap_or("(nothing more)"),
                );
            }
        }
    }
}
