//! Job files: RON text to a checked [`Job`] and back.

use super::Job;

/// Why a job file could not be read, in one plain line.
#[derive(Clone, Debug, PartialEq)]
pub struct ReadError {
    /// Line in the file, from 1.
    pub line: usize,
    /// Column in the line, from 1.
    pub column: usize,
    /// What is wrong, what was expected, and the nearest right name.
    pub message: String,
}

/// Reads a job from the text of a job file.
///
/// # Errors
/// The first thing that is wrong, with its place.
pub fn read(text: &str) -> Result<Job, ReadError> {
    ron::Options::default()
        .with_default_extension(ron::extensions::Extensions::IMPLICIT_SOME)
        .from_str(text)
        .map_err(|e| ReadError {
            line: e.span.start.line,
            column: e.span.start.col,
            message: e.code.to_string(),
        })
}

/// The text of a job file for `job`.
pub fn write(job: &Job) -> String {
    let pretty = ron::ser::PrettyConfig::default().indentor("  ").depth_limit(4);
    ron::Options::default()
        .with_default_extension(ron::extensions::Extensions::IMPLICIT_SOME)
        .to_string_pretty(job, pretty)
        .unwrap_or_default()
}
