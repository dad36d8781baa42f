//! Tables as a workbook (ISO/IEC 29500), a sheet for each.

use rust_xlsxwriter::{
    Color, DocProperties, ExcelDateTime, Format, FormatAlign, Workbook, Worksheet, XlsxError,
};

/// One cell of a table.
#[derive(Clone, Debug, PartialEq)]
pub enum Cell {
    /// A text of the user's or the program's; never a formula.
    Text(String),
    /// A word or a unit of the program's own.
    Word(&'static str),
    /// A number, with as many decimals as it has.
    Number(f64),
    /// Money, with two decimals.
    Money(f64),
    /// Yes or no.
    Truth(bool),
    /// Nothing.
    Empty,
}

/// A table: its heads, then its rows.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Table {
    /// Heads as scripts read them, the unit last: `cut_length_mm`.
    pub heads: Vec<&'static str>,
    /// The rows, as many cells each as there are heads.
    pub rows: Vec<Vec<Cell>>,
}

impl Table {
    /// A table with these column heads.
    pub fn new(heads: &[&'static str]) -> Table {
        Table { heads: heads.to_vec(), rows: Vec::new() }
    }

    /// Adds a row.
    pub fn line(&mut self, cells: &[Cell]) {
        self.rows.push(cells.to_vec());
    }
}

/// The tables, each with the name of its sheet (up to 31 letters), as the bytes of a workbook called `title`. No formulas,
/// and nothing of who wrote it when: equal tables give equal bytes.
///
/// # Errors
/// One plain line when the workbook cannot be made: a sheet longer than a spreadsheet can be.
pub fn xlsx(tables: &[(&str, Table)], title: &str) -> Result<Vec<u8>, String> {
    workbook(tables, title).map_err(|e| format!("The workbook could not be made: {e}."))
}

fn workbook(tables: &[(&str, Table)], title: &str) -> Result<Vec<u8>, XlsxError> {
    let mut book = Workbook::new();
    let long_ago = ExcelDateTime::from_ymd(1980, 1, 1)?;
    let about = DocProperties::new().set_title(short(title, 255)).set_creation_datetime(&long_ago);
    book.set_properties(&about);
    let looks = Looks::new();
    for (name, table) in tables {
        let sheet = book.add_worksheet();
        sheet.set_name(*name)?;
        fill(sheet, table, &looks)?;
    }
    book.save_to_buffer()
}

/// How cells look.
struct Looks {
    head: Format,
    money: Format,
    /// A text that would be taken for a formula if it were typed again.
    kept: Format,
}

impl Looks {
    fn new() -> Looks {
        let head = Format::new().set_bold().set_background_color(Color::RGB(0x00EE_EBE4));
        Looks {
            head: head.set_text_wrap().set_align(FormatAlign::Top),
            money: Format::new().set_num_format("0.00"),
            kept: Format::new().set_quote_prefix(),
        }
    }
}

/// Narrowest and widest column, in letters.
const NARROW: usize = 7;
const WIDE: usize = 48;

fn fill(sheet: &mut Worksheet, table: &Table, looks: &Looks) -> Result<(), XlsxError> {
    for (column, name) in table.heads.iter().enumerate() {
        sheet.write_string_with_format(0, column as u16, head(name), &looks.head)?;
        // A head may be broken at its spaces.
        let longest = head(name).split(' ').map(|w| w.chars().count()).max().unwrap_or(0);
        let cells = table.rows.iter().filter_map(|row| row.get(column)).map(letters);
        let wide = cells.fold(longest, usize::max).clamp(NARROW, WIDE);
        sheet.set_column_width(column as u16, wide as f64 + 1.5)?;
    }
    for (i, row) in table.rows.iter().enumerate() {
        for (column, cell) in row.iter().enumerate() {
            put(sheet, (i as u32 + 1, column as u16), cell, looks)?;
        }
    }
    sheet.set_freeze_panes(1, 0)?;
    if !table.rows.is_empty() && !table.heads.is_empty() {
        sheet.autofilter(0, 0, table.rows.len() as u32, table.heads.len() as u16 - 1)?;
    }
    // A4, lying, as wide as the paper, the heads on every page.
    sheet.set_paper_size(9).set_landscape().set_print_fit_to_pages(1, 0);
    sheet.set_repeat_rows(0, 0)?;
    Ok(())
}

fn put(
    sheet: &mut Worksheet,
    (row, column): (u32, u16),
    cell: &Cell,
    looks: &Looks,
) -> Result<(), XlsxError> {
    match cell {
        Cell::Text(text) => {
            let text = short(&one_line(text), LONGEST);
            if is_like_a_formula(&text) {
                sheet.write_string_with_format(row, column, text, &looks.kept)?;
            } else {
                sheet.write_string(row, column, text)?;
            }
        }
        Cell::Word(word) => drop(sheet.write_string(row, column, *word)?),
        Cell::Number(value) if value.is_finite() => drop(sheet.write_number(row, column, *value)?),
        Cell::Money(value) if value.is_finite() => {
            sheet.write_number_with_format(row, column, *value, &looks.money)?;
        }
        Cell::Truth(is) => drop(sheet.write_string(row, column, if *is { "yes" } else { "no" })?),
        Cell::Number(_) | Cell::Money(_) | Cell::Empty => {}
    }
    Ok(())
}

/// The longest text a cell holds, in letters.
const LONGEST: usize = 32_000;

/// True for a text that a spreadsheet would take for a formula when it is typed or comes from a table of text.
pub fn is_like_a_formula(text: &str) -> bool {
    text.starts_with(['=', '+', '-', '@', '\t', '\r', '＝', '＋', '－', '＠'])
}

/// A text without line breaks and other control characters.
pub fn one_line(text: &str) -> String {
    text.chars().map(|c| if c.is_control() { ' ' } else { c }).collect()
}

fn short(text: &str, letters: usize) -> String {
    text.chars().take(letters).collect()
}

/// A head as people read it: `cut_length_mm` is “Cut length, mm”.
fn head(name: &str) -> String {
    let units = [
        ("_mm", "mm"),
        ("_m2", "m²"),
        ("_deg", "°"),
        ("_kg", "kg"),
        ("_m", "m"),
        ("_percent", "%"),
    ];
    let unit = units.iter().find_map(|(end, unit)| Some((name.strip_suffix(end)?, *unit)));
    let (name, unit) = unit.map_or((name, String::new()), |(n, unit)| (n, format!(", {unit}")));
    let words = name.replace('_', " ");
    let mut letters = words.chars();
    let first: String = letters.next().map(|c| c.to_uppercase().collect()).unwrap_or_default();
    format!("{first}{}{unit}", letters.as_str())
}

/// How many letters a cell shows.
fn letters(cell: &Cell) -> usize {
    match cell {
        Cell::Text(text) => text.chars().count(),
        Cell::Word(word) => word.chars().count(),
        Cell::Number(value) => format!("{value}").chars().count(),
        Cell::Money(value) => format!("{value:.2}").chars().count(),
        Cell::Truth(_) => 3,
        Cell::Empty => 0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn heads_are_words_with_their_unit() {
        assert_eq!(head("cut_length_mm"), "Cut length, mm");
        assert_eq!(head("end_1_bevel_deg"), "End 1 bevel, °");
        assert_eq!(head("mark"), "Mark");
        assert_eq!(head(""), "");
    }

    #[test]
    fn equal_tables_give_equal_bytes() {
        let table = Table {
            heads: vec!["mark", "length_mm"],
            rows: vec![vec![Cell::Text("=1+1".into()), Cell::Number(2310.5)]],
        };
        let made = || xlsx(&[("Timber", table.clone())], "Shed").unwrap();
        assert_eq!(made(), made());
        assert!(made().starts_with(b"PK"));
    }

    #[test]
    fn what_looks_like_a_formula_is_known() {
        for text in ["=1", "+1", "-1", "@x", "\t=1", "＝1"] {
            assert!(is_like_a_formula(text), "{text:?}");
        }
        assert!(!is_like_a_formula("A-S3") && !is_like_a_formula(""));
    }
}
