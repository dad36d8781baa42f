//! Reads files that may be anything: too large, not text, not even a file.

use std::fs::File;
use std::io::{ErrorKind, Read};
use std::path::Path;

use layout_core::document::{Job, read};

/// The largest job file that is read: 16 MiB.
pub const LARGEST: u64 = 16 << 20;

/// Reads the job in the file at `path`.
///
/// # Errors
/// One line: the file, the place in it, what is wrong and what was expected.
pub fn read_job(path: &Path) -> Result<Job, String> {
    let text = read_text(path)?;
    read(&text).map_err(|error| format!("{}:{error}", path.display()))
}

/// Reads the text of the file at `path`.
///
/// # Errors
/// One line: why it cannot be read.
pub fn read_text(path: &Path) -> Result<String, String> {
    text_of(open(path, "A job")?, &path.display().to_string())
}

/// Reads the bytes of the file at `path`: a drawing or a picture.
///
/// # Errors
/// One line: why it cannot be read.
pub fn read_bytes(path: &Path) -> Result<Vec<u8>, String> {
    let file = open(path, "A drawing or a picture").map_err(|line| smaller(path, line))?;
    bytes_of(file, &path.display().to_string()).map_err(|line| smaller(path, line))
}

/// What is to be done about a drawing or picture that is too large.
fn smaller(path: &Path, line: String) -> String {
    let shown = path.display().to_string();
    if line != too_large(&shown) {
        return line;
    }
    format!(
        "The file is larger than {} MiB. Save a picture as JPEG, 4 000 dots wide at the most; of a drawing only the room: {shown}",
        LARGEST >> 20
    )
}

/// Reads the text of a table that a spreadsheet wrote: in UTF-8, or else in the western letters of older systems.
///
/// # Errors
/// One line: why it cannot be read.
pub fn read_table(path: &Path) -> Result<String, String> {
    let bytes = bytes_of(open(path, "A price list")?, &path.display().to_string())?;
    Ok(String::from_utf8(bytes)
        .unwrap_or_else(|e| e.into_bytes().into_iter().map(char::from).collect()))
}

/// Opens an ordinary file that is not too large; `what` is what it is read as.
fn open(path: &Path, what: &str) -> Result<File, String> {
    let shown = path.display();
    let failed = |e: &std::io::Error| match e.kind() {
        ErrorKind::NotFound => format!("There is no file {shown}"),
        ErrorKind::PermissionDenied => format!("You are not allowed to read {shown}"),
        _ => format!("The file cannot be read ({}): {shown}", plain(e)),
    };
    // Looked at before it is opened, because opening a pipe would wait; and after, because what a
    // name stands for can change in between.
    let not_a_file = |found: &std::fs::Metadata| {
        let kind = if found.is_dir() { "a folder" } else { "not an ordinary file" };
        format!("{what} is a file; this is {kind}: {shown}")
    };
    let metadata = std::fs::metadata(path).map_err(|e| failed(&e))?;
    if !metadata.is_file() {
        return Err(not_a_file(&metadata));
    }
    let file = File::open(path).map_err(|e| failed(&e))?;
    let metadata = file.metadata().map_err(|e| failed(&e))?;
    if !metadata.is_file() {
        return Err(not_a_file(&metadata));
    }
    if metadata.len() > LARGEST {
        return Err(too_large(&shown.to_string()));
    }
    Ok(file)
}

/// Reads all of an open input, such as the standard one; `name` is what messages call it.
///
/// # Errors
/// One line: why it cannot be read.
pub fn read_input(input: impl Read, name: &str) -> Result<String, String> {
    text_of(input, name)
}

fn bytes_of(input: impl Read, name: &str) -> Result<Vec<u8>, String> {
    let mut bytes = Vec::new();
    input
        .take(LARGEST + 1)
        .read_to_end(&mut bytes)
        .map_err(|e| format!("The file cannot be read ({}): {name}", plain(&e)))?;
    if bytes.len() as u64 > LARGEST {
        return Err(too_large(name));
    }
    Ok(bytes)
}

fn text_of(input: impl Read, name: &str) -> Result<String, String> {
    let bytes = bytes_of(input, name)?;
    String::from_utf8(bytes).map_err(|e| {
        let good = e.utf8_error().valid_up_to();
        let line = e.as_bytes()[..good].iter().filter(|b| **b == b'\n').count() + 1;
        format!("{name}:{line}: this is not UTF-8 text; a job is a text file")
    })
}

fn too_large(name: &str) -> String {
    format!("The file is larger than {} MiB, more than any job: {name}", LARGEST >> 20)
}

/// A system error without its number.
pub(crate) fn plain(error: &std::io::Error) -> String {
    let text = error.to_string();
    text.split(" (os error").next().unwrap_or_default().to_lowercase()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_no_job_file_is_told_plainly() {
        let dir = tempfile::tempdir().unwrap();
        let at = |name: &str| dir.path().join(name);
        let told = |path: &Path| {
            read_job(path).unwrap_err().replace(&dir.path().display().to_string(), "DIR")
        };
        assert_eq!(told(&at("none.ron")), "There is no file DIR/none.ron");
        assert_eq!(told(dir.path()), "A job is a file; this is a folder: DIR");
        std::fs::write(at("a.ron"), b"(version: 1,\n title: \"\xff\")").unwrap();
        assert_eq!(told(&at("a.ron")), "DIR/a.ron:2: this is not UTF-8 text; a job is a text file");
        std::fs::write(at("b.ron"), "(version: 1,\n titel: \"x\")").unwrap();
        assert_eq!(
            told(&at("b.ron")),
            "DIR/b.ron:2:2: there is no field \"titel\" in a job; did you mean title?"
        );
        File::create(at("c.ron")).unwrap().set_len(LARGEST + 1).unwrap();
        assert_eq!(
            told(&at("c.ron")),
            "The file is larger than 16 MiB, more than any job: DIR/c.ron"
        );
        let line = read_bytes(&at("c.ron")).unwrap_err();
        assert!(
            line.starts_with("The file is larger than 16 MiB. Save a picture as JPEG"),
            "{line}"
        );
        assert!(line.ends_with("c.ron") && !line.contains("any job"), "{line}");
    }

    #[test]
    fn a_table_may_be_in_older_letters() {
        let dir = tempfile::tempdir().unwrap();
        let list = dir.path().join("list.csv");
        std::fs::write(&list, b"kind,price\nboard,\xa37.40\n").unwrap();
        assert_eq!(read_table(&list).unwrap(), "kind,price\nboard,£7.40\n");
        let told = read_table(dir.path()).unwrap_err();
        assert!(told.starts_with("A price list is a file; this is a folder"), "{told}");
    }

    #[test]
    #[cfg(target_os = "linux")]
    fn devices_and_pipes_are_not_waited_for() {
        assert_eq!(
            read_job(Path::new("/dev/zero")).unwrap_err(),
            "A job is a file; this is not an ordinary file: /dev/zero"
        );
        let dir = tempfile::tempdir().unwrap();
        let pipe = dir.path().join("pipe");
        assert!(std::process::Command::new("mkfifo").arg(&pipe).status().unwrap().success());
        assert!(
            read_job(&pipe)
                .unwrap_err()
                .starts_with("A job is a file; this is not an ordinary file")
        );
    }

    #[test]
    fn an_endless_input_is_cut_off() {
        assert!(
            read_input(std::io::repeat(b' '), "-")
                .unwrap_err()
                .starts_with("The file is larger than 16 MiB")
        );
    }
}
