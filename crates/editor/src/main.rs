//! The Baywright program: the window, and the commands that do without one.

use std::process::ExitCode;

fn main() -> ExitCode {
    ExitCode::from(editor::cli::run(std::env::args_os()) as u8)
}
