//! Job files: RON text to a checked [`Job`] and back.
//!
//! Reading goes in four steps, and the first thing wrong in any of them is told in one line with
//! its place: the grammar ([`scan`]), the version, the fields (by the RON reader, whose messages
//! [`wording`] puts into plain words), and the numbers, names and references ([`limits`]).

mod pretty;
mod scan;
mod wording;
mod check;
mod asked;
mod goods;
mod limits;

use std::fmt;

use ron::extensions::Extensions;
use serde::de::DeserializeOwned;

use super::{FORMAT, Job};

/// Why a job file could not be read, in one plain line.
#[derive(Clone, Debug, PartialEq)]
pub struct ReadError {
    /// Line in the file, from 1.
    pub line: usize,
    /// Column in the line, in characters, from 1.
    pub column: usize,
    /// What is wrong, what was expected, and the nearest right name.
    pub message: String,
}

/// A line and a column, both from 1; columns count characters.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Spot {
    line: usize,
    column: usize,
}

impl ReadError {
    fn at(spot: Spot, message: impl Into<String>) -> ReadError {
        ReadError { line: spot.line, column: spot.column, message: message.into() }
    }
}

impl ReadError {
    /// What is wrong with a text as a whole.
    pub(crate) fn whole(message: impl Into<String>) -> ReadError {
        ReadError::at(Spot { line: 1, column: 1 }, message)
    }
}

impl fmt::Display for ReadError {
    /// `12:5: wall C, centres: …`, to be put after the file's name and a colon.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}:{}: {}", self.line, self.column, self.message)
    }
}

/// `Some(…)` may be left out, and `Door(leaf: …)` needs no second pair of brackets.
fn options() -> ron::Options {
    ron::Options::default()
        .with_default_extension(Extensions::IMPLICIT_SOME | Extensions::UNWRAP_VARIANT_NEWTYPES)
        .with_recursion_limit(64)
}

/// Reads a job from the text of a job file.
///
/// # Errors
/// The first thing that is wrong, with its place.
pub fn read(text: &str) -> Result<Job, ReadError> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let minus_zeros = scan::check_grammar(text)?;
    version(text)?;
    let job: Job = if minus_zeros.is_empty() {
        options().from_str(text)
    } else {
        options().from_str(&without_signs(text, &minus_zeros))
    }
    .map_err(|error| wording::reworded(text, &error))?;
    limits::check(&job).map_err(|fault| {
        ReadError::at(scan::spot(text, scan::locate(text, &fault.path)), fault.message)
    })?;
    Ok(job)
}

/// Reads a list of alike things, at most `most`, and has each looked at; a look that finds
/// something wrong names the field and says what.
///
/// # Errors
/// The first thing that is wrong, with its place.
pub(crate) fn read_list<T: DeserializeOwned>(
    text: &str,
    most: usize,
    look: impl Fn(&T) -> Result<(), (&'static str, String)>,
) -> Result<Vec<T>, ReadError> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    scan::check_grammar(text)?;
    let list: Vec<T> = options().from_str(text).map_err(|error| wording::reworded(text, &error))?;
    if list.len() > most {
        return Err(ReadError::at(
            Spot { line: 1, column: 1 },
            format!("the list has more than {most} entries"),
        ));
    }
    for (i, thing) in list.iter().enumerate() {
        look(thing).map_err(|(field, message)| {
            let at = scan::locate(text, &[scan::Step::Item(i), scan::Step::Field(field)]);
            ReadError::at(scan::spot(text, at), format!("{field}: {message}"))
        })?;
    }
    Ok(list)
}

/// The text with the minus signs at `offsets` blanked out, so that nothing else moves.
fn without_signs(text: &str, offsets: &[usize]) -> String {
    let mut out = String::with_capacity(text.len());
    let mut from = 0;
    for &at in offsets {
        out.push_str(&text[from..at]);
        out.push(' ');
        from = at + 1;
    }
    out.push_str(&text[from..]);
    out
}

/// Checks that the file is of a version this program knows, before anything else in it is looked at.
fn version(text: &str) -> Result<(), ReadError> {
    let root = scan::root(text);
    let at = scan::locate(text, &[scan::Step::Field("version")]);
    let spot = scan::spot(text, at);
    if at == root {
        return Err(ReadError::at(
            spot,
            format!("the job has no version; a job starts with (version: {FORMAT}, title: …"),
        ));
    }
    let found = &text[at..scan::end(text, at)];
    match found.parse::<u64>() {
        Ok(version) if version > u64::from(FORMAT) => Err(ReadError::at(
            spot,
            format!(
                "this job is of version {version}, made by a newer Baywright; this one reads versions up to \
                 {FORMAT}. Update Baywright to open it"
            ),
        )),
        Ok(0) | Err(_) => Err(ReadError::at(
            spot,
            format!("version {} is not one there ever was; expected {FORMAT}", scan::quoted(found)),
        )),
        Ok(_) => Ok(()),
    }
}

/// Checks that `job` is one that [`read`] would accept, as every job that is saved must be.
///
/// # Errors
/// The first thing that is wrong, named by what it is of.
pub fn check(job: &Job) -> Result<(), String> {
    limits::check(job).map_err(|fault| fault.message)
}

/// The text of a job file for `job`: the same job always gives the same text, and a job that
/// passes [`check`] is read back as it was.
pub fn write(job: &Job) -> String {
    // The serializer can only fail on input or output, and there is none: it writes to a string.
    let flat = options().to_string(job).unwrap_or_default();
    pretty::pretty(&flat)
}

#[cfg(test)]
mod tests;
