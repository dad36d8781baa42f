//! The lines of a DXF file: a code, then what it says.

use std::fmt::Write;

/// Pairs of lines, and the last handle given out.
pub(super) struct Tags {
    text: String,
    handle: u32,
}

/// Handles below are those of tables and blocks.
const FIRST: u32 = 0x100;

impl Tags {
    pub(super) fn new() -> Tags {
        Tags { text: String::new(), handle: FIRST }
    }

    /// A text or a name; control characters become spaces.
    pub(super) fn text(&mut self, code: u16, value: &str) {
        let value: String = value.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
        // Writing to a String cannot fail.
        let _ = writeln!(self.text, "{code}\n{value}");
    }

    /// A whole number.
    pub(super) fn whole(&mut self, code: u16, value: i64) {
        let _ = writeln!(self.text, "{code}\n{value}");
    }

    /// A number, to a millionth; nought for what is none.
    pub(super) fn number(&mut self, code: u16, value: f64) {
        let value = if value.is_finite() { value } else { 0.0 };
        let text = format!("{value:.6}");
        let text = text.trim_end_matches('0').trim_end_matches('.');
        let _ = writeln!(self.text, "{code}\n{}", if text == "-0" { "0" } else { text });
    }

    /// A point of the drawing: x under `code`, y under ten more, z under twenty more.
    pub(super) fn point(&mut self, code: u16, [x, y]: [f64; 2]) {
        self.number(code, x);
        self.number(code + 10, y);
        self.number(code + 20, 0.0);
    }

    /// Gives what follows a handle of its own.
    pub(super) fn handle(&mut self) {
        self.handle += 1;
        let _ = writeln!(self.text, "5\n{:X}", self.handle);
    }

    /// A handle that nothing has.
    pub(super) fn free_handle(&self) -> String {
        format!("{:X}", self.handle + 1)
    }

    /// The text so far.
    pub(super) fn into_text(self) -> String {
        self.text
    }
}

/// Lettering as it may stand in a `TEXT`: `^` and `%%` begin codes, and so does `\U+`. A thin space is an ordinary
/// one: few fonts of other programs have it.
pub(super) fn lettering(text: &str) -> String {
    let text = text.replace('\u{2009}', " ").replace('^', "^ ").replace("\\U+", "\\ U+");
    if text.contains("%%") { text.replace('%', "%%%") } else { text }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_short_and_never_minus_nought() {
        let mut tags = Tags::new();
        for value in [-0.000_000_1, 2400.0, 0.125, f64::NAN] {
            tags.number(40, value);
        }
        assert_eq!(tags.into_text(), "40\n0\n40\n2400\n40\n0.125\n40\n0\n");
    }

    #[test]
    fn codes_in_lettering_are_letters() {
        assert_eq!(lettering("50 %"), "50 %");
        assert_eq!(lettering("%%d ^J"), "%%%%%%d ^ J");
        assert_eq!(lettering("1\u{2009}200"), "1 200");
        let mut tags = Tags::new();
        tags.text(1, "a\nb");
        assert_eq!(tags.into_text(), "1\na b\n");
    }
}
