//! Tables for spreadsheets: comma-separated, texts in quotes, and no text that a spreadsheet would take
//! for a formula.

/// A table that grows line by line.
pub(super) struct Table {
    text: String,
}

impl Table {
    /// A table with these column heads.
    pub(super) fn new(heads: &[&str]) -> Table {
        Table { text: format!("{}\r\n", heads.join(",")) }
    }

    /// Adds a line.
    pub(super) fn line(&mut self, cells: &[String]) {
        self.text.push_str(&cells.join(","));
        self.text.push_str("\r\n");
    }

    /// The table as text.
    pub(super) fn into_text(self) -> String {
        self.text
    }
}

/// A cell of text.
pub(super) fn text(text: &str) -> String {
    let guard = if text.starts_with(['=', '+', '-', '@', '\t', '\r']) { "'" } else { "" };
    let one_line: String = text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect();
    format!("\"{guard}{}\"", one_line.replace('"', "\"\""))
}

/// A cell with a number, with a decimal point.
pub(super) fn number(value: f64) -> String {
    format!("{}", super::out::thousandth(value))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_text_becomes_a_formula() {
        assert_eq!(text("=1+1"), "\"'=1+1\"");
        assert_eq!(text("-5"), "\"'-5\"");
        assert_eq!(text("@x"), "\"'@x\"");
        assert_eq!(text("\t=1"), "\"' =1\"");
        assert_eq!(text("wall \"A\", left"), "\"wall \"\"A\"\", left\"");
        assert_eq!(text("a\nb"), "\"a b\"");
        assert_eq!(number(-2310.50004), "-2310.5");
        assert_eq!(number(-0.0001), "0");
    }
}
