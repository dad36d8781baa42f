//! Unsaved work, kept beside its file: after a crash it is offered, never opened silently.
//!
//! The journal of `NAME` is `.NAME.recover`: a job file with four remark lines at its top, so it can
//! also be opened by hand.

use std::path::{Path, PathBuf};
use std::time::{SystemTime, UNIX_EPOCH};

use layout_core::document::{Job, read, write};

use super::save::put_bytes;
use super::{beside, fingerprint, is_running, read_text};

const FIRST: &str = "// Unsaved work of Baywright.";

/// Unsaved work that was found.
#[derive(Clone, Debug, PartialEq)]
pub struct Recovery {
    /// The journal itself.
    pub journal: PathBuf,
    /// The file it belongs to; `None` for a job that was never saved.
    pub of: Option<PathBuf>,
    /// When it was kept, seconds since 1970.
    pub time: u64,
    /// True when the program that kept it is still running: the job is open in another window.
    pub in_use: bool,
    /// True when the file has been changed by someone else since.
    pub file_changed: bool,
    /// The job, or why it cannot be read.
    pub job: Result<Job, String>,
}

/// Where the journal of the job at `path` is kept; for a job without a file, in the person's own
/// data folder. `None` when the system has no such place.
pub fn journal_path(path: Option<&Path>) -> Option<PathBuf> {
    match path {
        Some(path) => {
            let mut name = beside(path);
            name.push("recover");
            Some(path.with_file_name(name))
        }
        None => {
            let dirs = directories::ProjectDirs::from("", "", "baywright")?;
            Some(dirs.data_local_dir().join(format!(".untitled-{}.recover", std::process::id())))
        }
    }
}

/// Keeps `job`, unsaved work on the file `of`, in `journal`.
///
/// # Errors
/// One line: why it could not be kept.
pub fn keep_journal(journal: &Path, of: Option<&Path>, job: &Job) -> Result<(), String> {
    if of.is_none()
        && let Some(folder) = journal.parent()
    {
        std::fs::create_dir_all(folder)
            .map_err(|e| format!("Unsaved work cannot be kept ({e}): {}", journal.display()))?;
    }
    let time = SystemTime::now().duration_since(UNIX_EPOCH).map_or(0, |d| d.as_secs());
    let of = of.map(|p| std::path::absolute(p).unwrap_or_else(|_| p.to_path_buf()));
    let text = format!(
        "{FIRST}\n// file: {:?}\n// then: {}\n// time: {time}\n// pid: {}\n{}",
        of.as_deref().unwrap_or(Path::new("")).display().to_string(),
        of.as_deref().map_or_else(String::new, file_fingerprint),
        std::process::id(),
        write(job)
    );
    put_bytes(journal, text.as_bytes())
}

/// Takes the journal away, after a good save or when its work is not wanted.
pub fn drop_journal(journal: &Path) {
    let _ = std::fs::remove_file(journal);
}

/// Unsaved work on the file at `path`, if there is any that differs from the file.
pub fn find_recovery(path: &Path) -> Option<Recovery> {
    let recovery = open(&journal_path(Some(path))?)?;
    let on_disk = read_text(path).ok().and_then(|text| read(&text).ok());
    if on_disk.is_some() && on_disk == recovery.job.as_ref().ok().cloned() {
        return None;
    }
    Some(recovery)
}

/// Unsaved work on jobs that were never saved, in `folder`, the latest first.
pub fn find_recoveries(folder: &Path) -> Vec<Recovery> {
    let mut found: Vec<Recovery> = std::fs::read_dir(folder)
        .into_iter()
        .flatten()
        .flatten()
        .filter(|entry| {
            let name = entry.file_name();
            name.as_encoded_bytes().starts_with(b".untitled-")
                && name.as_encoded_bytes().ends_with(b".recover")
        })
        .filter_map(|entry| open(&entry.path()))
        .filter(|recovery| !recovery.in_use)
        .collect();
    found.sort_by(|a, b| (b.time, &a.journal).cmp(&(a.time, &b.journal)));
    found
}

fn open(journal: &Path) -> Option<Recovery> {
    // Never through a link: nobody may point our recovery at a file of theirs.
    if !std::fs::symlink_metadata(journal).ok()?.is_file() {
        return None;
    }
    let text = read_text(journal).ok()?;
    let mut lines = text.lines();
    if lines.next() != Some(FIRST) {
        return None;
    }
    let mut field = |name: &str| {
        lines
            .next()?
            .strip_prefix("// ")?
            .strip_prefix(name)?
            .strip_prefix(": ")
            .map(str::to_string)
    };
    let of: String = ron::from_str(&field("file")?).ok()?;
    let then = field("then").unwrap_or_default();
    let time = field("time")?.parse().ok()?;
    let pid = field("pid")?.parse().ok()?;
    let of = Some(PathBuf::from(of)).filter(|p| !p.as_os_str().is_empty());
    Some(Recovery {
        file_changed: of.as_deref().is_some_and(|p| file_fingerprint(p) != then),
        in_use: pid != std::process::id() && is_running(pid),
        job: read(&text).map_err(|e| format!("{}:{e}", journal.display())),
        journal: journal.to_path_buf(),
        of,
        time,
    })
}

fn file_fingerprint(path: &Path) -> String {
    read_text(path)
        .map_or_else(|_| "none".into(), |text| format!("{:016x}", fingerprint(text.as_bytes())))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::assets::demo;
    use crate::files::save_job;

    #[test]
    fn unsaved_work_is_found_and_forgotten() {
        let dir = tempfile::tempdir().unwrap();
        let path = dir.path().join("a \"job\".ron");
        let job = demo();
        assert_eq!(save_job(&path, &job), Ok(None));
        assert_eq!(find_recovery(&path), None);
        let journal = journal_path(Some(&path)).unwrap();
        keep_journal(&journal, Some(&path), &job).unwrap();
        assert_eq!(find_recovery(&path), None, "nothing differs from the file");
        let changed = Job { title: "changed".into(), ..job };
        keep_journal(&journal, Some(&path), &changed).unwrap();
        let found = find_recovery(&path).unwrap();
        assert_eq!(found.job, Ok(changed.clone()));
        assert_eq!((found.in_use, found.file_changed), (false, false));
        assert_eq!(found.of, Some(path.clone()));
        std::fs::write(&path, "(version: 1, title: \"someone else's\")").unwrap();
        assert!(find_recovery(&path).unwrap().file_changed);
        std::fs::remove_file(&path).unwrap();
        assert_eq!(find_recovery(&path).unwrap().job, Ok(changed));
        drop_journal(&journal);
        assert_eq!(find_recovery(&path), None);
    }

    #[test]
    fn jobs_never_saved_are_found_by_folder() {
        let dir = tempfile::tempdir().unwrap();
        let journal = dir.path().join("data/.untitled-1234567.recover");
        keep_journal(&journal, None, &demo()).unwrap();
        let found = find_recoveries(&dir.path().join("data"));
        assert_eq!(found.len(), 1);
        assert_eq!((found[0].of.as_ref(), found[0].job.as_ref()), (None, Ok(&demo())));
    }

    #[test]
    fn a_damaged_journal_says_where() {
        let dir = tempfile::tempdir().unwrap();
        let path = dir.path().join("a.ron");
        let journal = journal_path(Some(&path)).unwrap();
        keep_journal(&journal, Some(&path), &demo()).unwrap();
        let text = std::fs::read_to_string(&journal).unwrap();
        std::fs::write(&journal, &text[..text.len() / 2]).unwrap();
        assert!(find_recovery(&path).unwrap().job.unwrap_err().contains(".a.ron.recover:"));
        std::fs::write(&journal, "junk").unwrap();
        assert_eq!(find_recovery(&path), None);
    }

    #[test]
    #[cfg(unix)]
    fn a_link_in_the_journals_place_is_not_followed() {
        let dir = tempfile::tempdir().unwrap();
        let path = dir.path().join("a.ron");
        let journal = journal_path(Some(&path)).unwrap();
        let precious = dir.path().join("precious");
        std::fs::write(&precious, "precious").unwrap();
        std::os::unix::fs::symlink(&precious, &journal).unwrap();
        assert_eq!(find_recovery(&path), None);
        keep_journal(&journal, Some(&path), &demo()).unwrap();
        assert_eq!(std::fs::read_to_string(&precious).unwrap(), "precious");
        assert_eq!(find_recovery(&path).unwrap().job, Ok(demo()));
    }
}
