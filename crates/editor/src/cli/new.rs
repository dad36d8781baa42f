//! `baywright new`: a job to begin with.

use std::path::Path;

use layout_core::document::write;

use super::{Exit, Failure, Outcome, out};
use crate::{assets, files};

pub(super) fn run(from: &str, force: bool, file: &Path) -> Outcome {
    let Some(job) = assets::starter(from) else {
        let names: Vec<&str> = assets::starter_names().collect();
        return Err(Failure::input(format!(
            "There is no starter called {from}; there are {}",
            names.join(", ")
        )));
    };
    if file == Path::new("-") {
        return out::print(&write(&job)).map(|()| Exit::Done);
    }
    if !force && std::fs::symlink_metadata(file).is_ok() {
        let line = format!("There is already a file {}; --force replaces it", file.display());
        return Err(Failure::output(line));
    }
    // “Save as…” is in the window.
    files::save_job(file, &job)
        .map(|_| Exit::Done)
        .map_err(|line| Failure::output(line.replace(" (Save as…)", "")))
}
