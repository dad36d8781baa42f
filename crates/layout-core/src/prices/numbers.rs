//! Numbers as people and spreadsheets write them: a decimal point or a decimal comma, a currency in front or behind, thin
//! spaces between thousands. What could be read in two ways is not read at all.

/// Most characters of a currency beside a number.
const CURRENCY: usize = 3;

/// A number as it stands in a cell.
///
/// # Errors
/// Why it is none, to go behind the name of its column.
pub(super) fn number(cell: &str) -> Result<f64, String> {
    let shown = || format!("“{}”", cell.chars().take(30).collect::<String>());
    let bare: String = cell.chars().filter(|c| !c.is_whitespace() && *c != '\'').collect();
    let digits = bare.trim_matches(|c: char| !c.is_ascii_digit() && !"-.,".contains(c));
    if bare.chars().count() - digits.chars().count() > CURRENCY {
        return Err(format!("{} is not a number; expected one such as 7.40", shown()));
    }
    let (points, commas) = (digits.matches('.').count(), digits.matches(',').count());
    let text = match (points, commas) {
        (_, 0) if points <= 1 => digits.to_string(),
        (0, 1) => {
            let after = digits.rsplit(',').next().unwrap_or_default();
            if after.len() == 3 {
                let whole = digits.replace(',', "");
                let point = digits.replace(',', ".");
                return Err(format!("{} could be {point} or {whole}; write one of them", shown()));
            }
            digits.replace(',', ".")
        }
        // Both: the last of them is the decimal one, and the others stand between thousands.
        (1, _) if digits.rfind('.') > digits.rfind(',') => grouped(digits, ',', '.'),
        (_, 1) if digits.rfind(',') > digits.rfind('.') => grouped(digits, '.', ','),
        _ => String::new(),
    };
    match text.parse::<f64>() {
        Ok(value) if text.chars().all(|c| c.is_ascii_digit() || c == '.') => Ok(value),
        _ => Err(format!("{} is not a number; expected one such as 7.40", shown())),
    }
}

/// The digits with a decimal point, when what stands between thousands really does; otherwise nothing.
fn grouped(digits: &str, between: char, decimal: char) -> String {
    let (whole, part) = digits.rsplit_once(decimal).unwrap_or((digits, ""));
    let mut groups = whole.split(between);
    let first = groups.next().unwrap_or_default();
    if (1..=3).contains(&first.len()) && groups.all(|g| g.len() == 3) {
        format!("{}.{part}", whole.replace(between, ""))
    } else {
        String::new()
    }
}

/// A length in a cell, mm; `scale` is what the head of its column says it is in.
///
/// # Errors
/// Why it is none.
pub(super) fn length(cell: &str, scale: f64) -> Result<f64, String> {
    let lower = cell.trim().to_lowercase();
    let (digits, scale) = match lower.strip_suffix("mm") {
        Some(digits) => (digits, 1.0),
        None => match lower.strip_suffix('m') {
            Some(digits) => (digits, 1000.0),
            None => (lower.as_str(), scale),
        },
    };
    number(digits).map(|value| value * scale)
}

/// A whole number in a cell.
///
/// # Errors
/// Why it is none.
pub(super) fn count(cell: &str, least: u32, most: u32) -> Result<u32, String> {
    let value = number(cell)?;
    if value.fract() != 0.0 || value < f64::from(least) || value > f64::from(most) {
        return Err(format!(
            "{cell} is not one of the whole numbers from {least} to {most}; leave it empty where nobody says"
        ));
    }
    Ok(value as u32)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_read_as_people_write_them() {
        let good = [
            ("7.40", 7.4),
            ("7,4", 7.4),
            ("£ 7.40", 7.4),
            ("7,40 €", 7.4),
            ("1,234.50", 1234.5),
            ("1.234,50", 1234.5),
            ("1 234,50", 1234.5),
            ("12", 12.0),
            ("0", 0.0),
            ("1.234", 1.234),
        ];
        for (cell, value) in good {
            assert_eq!(number(cell), Ok(value), "{cell}");
        }
    }

    #[test]
    fn what_could_be_two_numbers_is_none() {
        for cell in ["1,234", "abc", "", "-", "1,2,3", "1.2.3", "12,34.5", "--4", "-4", "1e5", "£"]
        {
            assert!(number(cell).is_err(), "{cell}: {:?}", number(cell));
        }
    }

    #[test]
    fn lengths_may_name_their_unit() {
        assert_eq!(length("4.8 m", 1.0), Ok(4800.0));
        assert_eq!(length("4800 mm", 1000.0), Ok(4800.0));
        assert_eq!(length("4,8", 1000.0), Ok(4800.0));
        assert_eq!(count("12", 1, 100), Ok(12));
        assert!(count("1.5", 1, 100).is_err() && count("0", 1, 100).is_err());
    }
}
