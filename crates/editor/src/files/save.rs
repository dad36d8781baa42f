//! Writes files so that a crash, a full disk or a pulled plug leaves the old file or the new one,
//! whole: a new file beside the old one, forced to the disk, then put in its place in one step.

use std::fs::{File, Metadata, Permissions};
use std::io::{ErrorKind, Write};
use std::path::{Path, PathBuf};

use layout_core::document::{Job, check, write};
use tempfile::NamedTempFile;

use super::read::plain;
use super::{beside, is_running};

/// Links on the way to a file, at most.
const LINKS: usize = 40;

/// Saves `job` at `path`. Once this comes back well, the job on disk is this one; until then it is
/// the old one. A remark comes back when it is saved but something about it is worth knowing.
///
/// # Errors
/// One line: why it is not saved, and what to do. Nothing on disk has changed then.
pub fn save_job(path: &Path, job: &Job) -> Result<Option<String>, String> {
    check(job).map_err(|why| format!("Not saved, because it could not be read back: {why}"))?;
    save_bytes(path, write(job).as_bytes())
}

/// Puts `bytes` at `path` in one step. A link is followed, and mode and owner of a file that is
/// already there are kept.
///
/// # Errors
/// One line: why it is not written, and what to do. Nothing on disk has changed then.
pub fn save_bytes(path: &Path, bytes: &[u8]) -> Result<Option<String>, String> {
    let target = Target::find(path)?;
    let folder = target.folder.clone();
    target.replace(bytes)?;
    // From here on the new file is in place, whatever else happens.
    Ok(settle_folder(&folder).err().map(|e| {
        format!(
            "Saved; the system could not confirm the folder ({}), so wait before pulling the plug",
            plain(&e)
        )
    }))
}

/// Puts `bytes` at `path` itself, taking the place of a link that may stand there.
pub(super) fn put_bytes(path: &Path, bytes: &[u8]) -> Result<(), String> {
    let folder = path.parent().filter(|p| !p.as_os_str().is_empty()).unwrap_or(Path::new("."));
    Target { path: path.to_path_buf(), folder: folder.to_path_buf(), old: None }.replace(bytes)
}

/// Removes what savings of `path` left behind when the program was stopped in the middle.
pub fn clear_left_overs(path: &Path) {
    let Ok(Target { path, folder, .. }) = Target::find(path) else { return };
    let start = beside(&path);
    for entry in std::fs::read_dir(folder).into_iter().flatten().flatten() {
        let name = entry.file_name();
        let Some(rest) = name.as_encoded_bytes().strip_prefix(start.as_encoded_bytes()) else {
            continue;
        };
        let Some(middle) = rest.strip_suffix(b".saving") else { continue };
        let pid = std::str::from_utf8(middle).ok().and_then(|m| m.split('.').next()?.parse().ok());
        // Another window may be saving at this moment.
        if pid.is_some_and(|pid| !is_running(pid)) {
            let _ = std::fs::remove_file(entry.path());
        }
    }
}

/// Where a file is really written.
struct Target {
    path: PathBuf,
    folder: PathBuf,
    old: Option<Metadata>,
}

impl Target {
    fn find(path: &Path) -> Result<Target, String> {
        let shown = path.display();
        let mut path = path.to_path_buf();
        let mut links = 0;
        // Also through a link to a file that is not there yet, which cannot be canonicalised.
        while let Ok(to) = std::fs::read_link(&path) {
            links += 1;
            if links > LINKS {
                return Err(format!("Not saved: the link leads in a circle: {shown}"));
            }
            path = path.parent().unwrap_or(Path::new("")).join(to);
        }
        if path.file_name().is_none() {
            return Err(format!("Not saved: this is not the name of a file: {shown}"));
        }
        let parent = path.parent().filter(|p| !p.as_os_str().is_empty()).unwrap_or(Path::new("."));
        let folder = parent.canonicalize().map_err(|e| match e.kind() {
            ErrorKind::NotFound => {
                format!(
                    "Not saved: there is no folder {}. Save it elsewhere (Save as…)",
                    parent.display()
                )
            }
            _ => format!("Not saved ({}). Save it elsewhere (Save as…): {shown}", plain(&e)),
        })?;
        let old = match std::fs::metadata(&path) {
            Ok(old) if !old.is_file() => {
                let kind = if old.is_dir() { "a folder" } else { "not an ordinary file" };
                return Err(format!("Not saved: this is {kind}: {shown}"));
            }
            Ok(old) if old.permissions().readonly() => {
                return Err(format!(
                    "Not saved: the file is read-only. Save it elsewhere (Save as…): {shown}"
                ));
            }
            Ok(old) => Some(old),
            Err(e) if e.kind() == ErrorKind::NotFound => None,
            Err(e) => {
                return Err(format!(
                    "Not saved ({}). Save it elsewhere (Save as…): {shown}",
                    plain(&e)
                ));
            }
        };
        Ok(Target { path, folder, old })
    }

    fn replace(self, bytes: &[u8]) -> Result<(), String> {
        let Target { path, folder, old } = self;
        let failed = |e: std::io::Error| refusal(&e, &folder, &path);
        let mut temp = temporary(&folder, &path).map_err(failed)?;
        temp.write_all(bytes).map_err(failed)?;
        if let Some(old) = &old {
            keep_owner(temp.as_file(), old);
            temp.as_file().set_permissions(old.permissions()).map_err(failed)?;
        }
        temp.as_file().sync_all().map_err(failed)?;
        persist(temp, &path).map_err(failed)
    }
}

fn temporary(folder: &Path, path: &Path) -> std::io::Result<NamedTempFile> {
    let mut prefix = beside(path);
    prefix.push(format!("{}.", std::process::id()));
    let mut builder = tempfile::Builder::new();
    builder.prefix(&prefix).suffix(".saving");
    if let Some(permissions) = usual_permissions() {
        builder.permissions(permissions);
    }
    builder.tempfile_in(folder)
}

/// What a new file is allowed, before the person's own mask.
#[cfg(unix)]
fn usual_permissions() -> Option<Permissions> {
    use std::os::unix::fs::PermissionsExt;
    Some(Permissions::from_mode(0o666))
}

#[cfg(not(unix))]
fn usual_permissions() -> Option<Permissions> {
    None
}

/// Gives the new file the old one's owner and group, as far as the system lets us: without the right
/// to give files away the writer becomes the owner, as with every other program.
#[cfg(unix)]
fn keep_owner(file: &File, old: &Metadata) {
    use std::os::unix::fs::{MetadataExt, fchown};
    if fchown(file, Some(old.uid()), Some(old.gid())).is_err() {
        let _ = fchown(file, None, Some(old.gid()));
    }
}

#[cfg(not(unix))]
fn keep_owner(_file: &File, _old: &Metadata) {}

/// Puts the temporary file in its place. Virus scanners hold files open for moments on some systems,
/// so there the step is tried again for a second.
fn persist(temp: NamedTempFile, path: &Path) -> std::io::Result<()> {
    let mut temp = temp;
    for _ in 0..5 {
        match temp.persist(path) {
            Ok(_) => return Ok(()),
            Err(e) if cfg!(windows) && e.error.kind() == ErrorKind::PermissionDenied => {
                std::thread::sleep(std::time::Duration::from_millis(200));
                temp = e.file;
            }
            Err(e) => return Err(e.error),
        }
    }
    temp.persist(path).map(|_| ()).map_err(|e| e.error)
}

#[cfg(unix)]
fn settle_folder(folder: &Path) -> std::io::Result<()> {
    File::open(folder)?.sync_all()
}

#[cfg(not(unix))]
fn settle_folder(_folder: &Path) -> std::io::Result<()> {
    Ok(())
}

fn refusal(error: &std::io::Error, folder: &Path, path: &Path) -> String {
    let why = match error.kind() {
        ErrorKind::PermissionDenied | ErrorKind::ReadOnlyFilesystem => {
            return format!(
                "Not saved: the folder {} cannot be written to. Save it elsewhere (Save as…)",
                folder.display()
            );
        }
        ErrorKind::StorageFull | ErrorKind::QuotaExceeded => "the disk is full".to_string(),
        _ => plain(error),
    };
    format!(
        "Not saved ({why}), the old file is untouched. Try again, or save it elsewhere (Save as…): {}",
        path.display()
    )
}

#[cfg(test)]
mod tests;
