//! Tables for spreadsheets as text: comma-separated, texts in quotes, and no text that a spreadsheet would take
//! for a formula.

use sheets::export::{Cell, is_like_a_formula, one_line};

pub(super) use sheets::export::Table;

/// A cell of text.
pub(super) fn text(text: &str) -> Cell {
    Cell::Text(text.to_string())
}

/// A cell with a number, to a thousandth.
pub(super) fn number(value: f64) -> Cell {
    Cell::Number(super::out::thousandth(value))
}

/// A cell with a count.
pub(super) fn count(n: usize) -> Cell {
    Cell::Number(n as f64)
}

/// The table as text.
pub(super) fn written(table: &Table) -> String {
    let mut out = format!("{}\r\n", table.heads.join(","));
    for row in &table.rows {
        let cells: Vec<String> = row.iter().map(cell).collect();
        out.push_str(&cells.join(","));
        out.push_str("\r\n");
    }
    out
}

fn cell(cell: &Cell) -> String {
    match cell {
        Cell::Text(text) => quoted(text),
        Cell::Word(word) => (*word).to_string(),
        // With a decimal point, wherever it is read.
        Cell::Number(value) => format!("{value}"),
        Cell::Money(value) => format!("{value:.2}"),
        Cell::Truth(is) => is.to_string(),
        Cell::Empty => String::new(),
    }
}

fn quoted(text: &str) -> String {
    let guard = if is_like_a_formula(text) { "'" } else { "" };
    format!("\"{guard}{}\"", one_line(text).replace('"', "\"\""))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_text_becomes_a_formula() {
        assert_eq!(quoted("=1+1"), "\"'=1+1\"");
        assert_eq!(quoted("-5"), "\"'-5\"");
        assert_eq!(quoted("@x"), "\"'@x\"");
        assert_eq!(quoted("\t=1"), "\"' =1\"");
        assert_eq!(quoted("＝1"), "\"'＝1\"");
        assert_eq!(quoted("wall \"A\", left"), "\"wall \"\"A\"\", left\"");
        assert_eq!(quoted("a\nb"), "\"a b\"");
    }

    #[test]
    fn cells_are_written_as_scripts_read_them() {
        let mut table = Table::new(&["mark", "length_mm", "price", "owned", "unit", "of"]);
        table.line(&[
            text("S1"),
            number(-310.500_04),
            Cell::Money(3.5),
            Cell::Truth(true),
            Cell::Word("m²"),
            Cell::Empty,
        ]);
        let expected = "mark,length_mm,price,owned,unit,of\r\n\"S1\",-310.5,3.50,true,m²,\r\n";
        assert_eq!(written(&table), expected);
        assert_eq!(cell(&number(-0.0001)), "0");
    }
}
