//! The Baywright program.
fn main() {
    if let Err(line) = editor::app::open_window(std::env::args_os().nth(1).map(Into::into)) {
        eprintln!("{line}");
        std::process::exit(3);
    }
}
