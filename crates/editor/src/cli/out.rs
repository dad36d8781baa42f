//! Standard output that takes a closed pipe calmly.

use std::io::{ErrorKind, Write, stdout};

use super::Failure;

/// Prints `text` to standard output.
pub(super) fn print(text: &str) -> Result<(), Failure> {
    let mut out = stdout().lock();
    out.write_all(text.as_bytes()).and_then(|()| out.flush()).map_err(|e| match e.kind() {
        // Whoever read us has seen enough.
        ErrorKind::BrokenPipe => Failure::output(""),
        _ => failed(&e),
    })
}

/// Prints `value` as JSON.
pub(super) fn print_json(value: &impl serde::Serialize) -> Result<(), Failure> {
    let mut text = serde_json::to_string(value).map_err(|e| failed(&e.into()))?;
    text.push('\n');
    print(&text)
}

fn failed(error: &std::io::Error) -> Failure {
    Failure::output(format!("The output cannot be written: {}", crate::files::plain(error)))
}

/// A length for people and scripts: to a thousandth of a millimetre, never minus zero.
pub(super) fn thousandth(mm: f64) -> f64 {
    (mm * 1000.0).round() / 1000.0 + 0.0
}
