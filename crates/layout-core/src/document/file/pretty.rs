//! Lays a job file out for reading: what fits on a line stays on a line, the rest is opened up with
//! two spaces a level, and whole numbers lose their `.0`.

use std::ops::ControlFlow;

use super::scan;

/// Columns a line may take.
const WIDTH: usize = 100;

const TOP: &str = "// A Baywright job. Lengths and levels in millimetres, levels above the finished floor.\n\
                   // docs/FILE-FORMAT.md explains every field.\n";

/// Lays out RON written without any spaces between its parts.
pub(super) fn pretty(flat: &str) -> String {
    let mut out = String::from(TOP);
    // The job itself is always opened up, however little there is in it.
    open(&mut out, flat, 0);
    out.push('\n');
    out
}

fn value(out: &mut String, flat: &str, level: usize, before: usize) {
    let line = on_one_line(flat);
    if before + line.chars().count() < WIDTH {
        out.push_str(&line);
    } else {
        open(out, flat, level);
    }
}

fn open(out: &mut String, flat: &str, level: usize) {
    let Some(bracket) = flat.find(['(', '[']).filter(|_| !flat.starts_with('"')) else {
        out.push_str(&number(flat));
        return;
    };
    out.push_str(&flat[..=bracket]);
    out.push('\n');
    let indent = "  ".repeat(level + 1);
    scan::each(flat, 0, |inner| {
        out.push_str(&indent);
        let key = inner.key.map(|k| format!("{k}: ")).unwrap_or_default();
        out.push_str(&key);
        value(
            out,
            &flat[inner.value..scan::end(flat, inner.value)],
            level + 1,
            indent.len() + key.len(),
        );
        out.push_str(",\n");
        ControlFlow::Continue(())
    });
    out.push_str(&"  ".repeat(level));
    out.push_str(&flat[flat.len() - 1..]);
}

fn on_one_line(flat: &str) -> String {
    let Some(bracket) = flat.find(['(', '[']).filter(|_| !flat.starts_with('"')) else {
        return number(flat);
    };
    let mut out = flat[..=bracket].to_string();
    scan::each(flat, 0, |inner| {
        if !out.ends_with(['(', '[']) {
            out.push_str(", ");
        }
        if let Some(key) = inner.key {
            out.push_str(key);
            out.push_str(": ");
        }
        out.push_str(&on_one_line(&flat[inner.value..scan::end(flat, inner.value)]));
        ControlFlow::Continue(())
    });
    out.push_str(&flat[flat.len() - 1..]);
    out
}

fn number(token: &str) -> String {
    match token.strip_suffix(".0") {
        Some("-0") => "0".into(),
        Some(whole) if whole.trim_start_matches('-').bytes().all(|b| b.is_ascii_digit()) => {
            whole.into()
        }
        _ => token.into(),
    }
}
