//! Lengths as a joiner types them, read.

use super::{INCH, Units};

/// The longest length that can be typed, mm.
const LONGEST: f64 = 1e6;
/// Characters looked at, and brackets within brackets.
const MOST_TEXT: usize = 200;
const DEEPEST: usize = 32;

/// Reads a length as a joiner types it: `2400`, `2400 mm`, `24cm`, `2.4m`, `7'10 1/2"`, `3/4"`,
/// `7ft 10in`, `9'-3 1/8"`, or a sum `=3600/3-46` whose terms may carry units. Millimetres out.
///
/// # Errors
/// One plain line: what could not be read and what would be.
pub fn read_length(text: &str) -> Result<f64, String> {
    read_in(Units::Millimetres, text)
}

pub(super) fn read_in(units: Units, text: &str) -> Result<f64, String> {
    let text = text.trim();
    if text.is_empty() {
        return Err(format!("type a length, like {}", units.like()));
    }
    if text.chars().count() > MOST_TEXT {
        return Err(format!("a length has at most {MOST_TEXT} characters"));
    }
    if text.contains(',') {
        return Err(format!(
            "in {text}, write decimals with a point and thousands without a comma"
        ));
    }
    let sum = text.strip_prefix('=');
    let tidy = tidy(sum.unwrap_or(text));
    let mut reader = Reader { rest: &tidy, depth: 0, bare: units.bare() };
    let term = if sum.is_some() { reader.sum()? } else { reader.plain()? };
    let value = reader.as_length(term);
    reader.space();
    if !reader.rest.is_empty() {
        let hint = if sum.is_none() && reader.rest.starts_with(['+', '-', '*', '/', '×', '÷']) {
            "start a sum with =".to_owned()
        } else {
            format!("a length is written like {}", units.like())
        };
        return Err(format!("cannot read “{}”; {hint}", reader.rest));
    }
    if !value.is_finite() || value.abs() > LONGEST {
        return Err(format!("that is more than {}", units.with_unit(LONGEST)));
    }
    // A zero typed with a minus is zero.
    Ok(value + 0.0)
}

/// Spaces between thousands out, marks of feet, inches, fractions and sums in one spelling.
fn tidy(text: &str) -> String {
    let mut out = String::new();
    let chars: Vec<char> = text.chars().collect();
    for (i, &c) in chars.iter().enumerate() {
        let between = |c: char| i > 0 && chars[i - 1].is_ascii_digit() && c != '\0';
        match c {
            '\u{2009}' | '\u{202f}' | '\u{a0}'
                if between(c) && thousand_follows(&chars[i + 1..]) => {}
            ' ' if between(c) && thousand_follows(&chars[i + 1..]) => {}
            '″' | '”' | '“' => out.push('"'),
            '′' | '’' | '‘' => out.push('\''),
            '−' | '–' => out.push('-'),
            '⁄' => out.push('/'),
            '¼' => out.push_str(" 1/4"),
            '½' => out.push_str(" 1/2"),
            '¾' => out.push_str(" 3/4"),
            '⅛' => out.push_str(" 1/8"),
            '⅜' => out.push_str(" 3/8"),
            '⅝' => out.push_str(" 5/8"),
            '⅞' => out.push_str(" 7/8"),
            c => out.push(c),
        }
    }
    out
}

/// True when exactly three digits follow, and they are not the top of a fraction.
fn thousand_follows(chars: &[char]) -> bool {
    let digits = chars.iter().take_while(|c| c.is_ascii_digit()).count();
    digits == 3 && !matches!(chars.get(3), Some('/' | '⁄'))
}

/// A number being worked out, and whether it was given as a length.
#[derive(Clone, Copy)]
struct Term {
    value: f64,
    length: bool,
}

struct Reader<'a> {
    rest: &'a str,
    depth: usize,
    /// What a number without a unit is in, mm.
    bare: f64,
}

impl Reader<'_> {
    /// Millimetres of what was given as a length, or as a number alone.
    fn as_length(&self, term: Term) -> f64 {
        if term.length { term.value } else { term.value * self.bare }
    }

    fn space(&mut self) {
        self.rest = self.rest.trim_start();
    }

    fn take(&mut self, token: &str) -> bool {
        self.space();
        match self.rest.strip_prefix(token) {
            Some(rest) => {
                self.rest = rest;
                true
            }
            None => false,
        }
    }

    /// One length, without a sum: here `9'-3"` is nine feet three.
    fn plain(&mut self) -> Result<Term, String> {
        let negative = self.take("-");
        if !negative {
            self.take("+");
        }
        let term = self.length(true)?;
        Ok(Term { value: if negative { -term.value } else { term.value }, ..term })
    }

    fn sum(&mut self) -> Result<Term, String> {
        let mut total = self.product()?;
        loop {
            let sign = if self.take("+") {
                1.0
            } else if self.take("-") {
                -1.0
            } else {
                return Ok(total);
            };
            let next = self.product()?;
            // A number beside a length is a length itself.
            total = if total.length || next.length {
                let value = self.as_length(total) + sign * self.as_length(next);
                Term { value, length: true }
            } else {
                Term { value: total.value + sign * next.value, length: false }
            };
        }
    }

    fn product(&mut self) -> Result<Term, String> {
        let mut total = self.factor()?;
        loop {
            if self.take("*") || self.take("×") {
                let next = self.factor()?;
                if total.length && next.length {
                    return Err("a length times a length is an area; leave one unit out".into());
                }
                total =
                    Term { value: total.value * next.value, length: total.length || next.length };
            } else if self.take("/") || self.take("÷") {
                let next = self.factor()?;
                if next.length {
                    return Err(
                        "a length is divided by a plain number; leave the unit under the line out"
                            .into(),
                    );
                }
                if next.value == 0.0 {
                    return Err("the sum divides by nothing".into());
                }
                total = Term { value: total.value / next.value, ..total };
            } else {
                return Ok(total);
            }
        }
    }

    fn factor(&mut self) -> Result<Term, String> {
        let mut negative = false;
        loop {
            if self.take("-") {
                negative = !negative;
            } else if !self.take("+") {
                break;
            }
        }
        let term = if self.take("(") {
            if self.depth == DEEPEST {
                return Err(format!("brackets are nested more than {DEEPEST} deep"));
            }
            self.depth += 1;
            let inner = self.sum()?;
            self.depth -= 1;
            if !self.take(")") {
                return Err("a bracket is not closed; add )".into());
            }
            inner
        } else {
            self.length(false)?
        };
        Ok(Term { value: if negative { -term.value } else { term.value }, ..term })
    }

    /// A number with its unit, or feet and inches. `dash` allows `9'-3"`.
    fn length(&mut self, dash: bool) -> Result<Term, String> {
        if let Some(inches) = self.fraction_of_an_inch(dash)? {
            return Ok(Term { value: inches * INCH, length: true });
        }
        let value = self.number()?;
        match self.unit()? {
            None => {
                // `3/4` in a plain field: a fraction of what?
                if dash
                    && self.rest.trim_start().starts_with(|c: char| c == '/' || c.is_ascii_digit())
                {
                    return Err(
                        "say what the fraction is of: 3/4\" for inches, =3/4 for millimetres"
                            .into(),
                    );
                }
                Ok(Term { value, length: false })
            }
            Some(Unit::Feet) => {
                Ok(Term { value: value * 12.0 * INCH + self.inches(dash)? * INCH, length: true })
            }
            Some(Unit::Millimetres(factor)) => Ok(Term { value: value * factor, length: true }),
        }
    }

    /// The inches after a number of feet; 0 when there are none.
    fn inches(&mut self, dash: bool) -> Result<f64, String> {
        let before = self.rest;
        if dash {
            self.take("-");
        }
        if let Some(inches) = self.fraction_of_an_inch(dash)? {
            return Ok(inches);
        }
        self.space();
        if self.rest.starts_with(|c: char| c.is_ascii_digit() || c == '.') {
            let value = self.number()?;
            match self.unit()? {
                Some(Unit::Millimetres(INCH)) => return Ok(value),
                // Seven foot ten, without the mark.
                None if dash => return Ok(value),
                _ => {}
            }
        }
        self.rest = before;
        Ok(0.0)
    }

    /// `10 1/2"` or `3/4"`, in inches; nothing is taken when it is anything else. Where numbers without a
    /// unit are inches, a fraction outside a sum needs no mark either.
    fn fraction_of_an_inch(&mut self, plain: bool) -> Result<Option<f64>, String> {
        self.space();
        let before = self.rest;
        let mut whole = 0.0;
        let Some(mut top) = self.digits() else { return Ok(None) };
        if self.rest.starts_with(' ') {
            self.space();
            whole = top;
            match self.digits() {
                Some(digits) => top = digits,
                None => {
                    self.rest = before;
                    return Ok(None);
                }
            }
        }
        let bottom = if self.rest.starts_with('/') {
            self.rest = &self.rest[1..];
            self.digits()
        } else {
            None
        };
        match (bottom, bottom.map(|_| self.unit())) {
            (Some(bottom), Some(Ok(unit)))
                if matches!(unit, Some(Unit::Millimetres(INCH)))
                    || (unit.is_none() && plain && self.bare == INCH) =>
            {
                if bottom == 0.0 {
                    return Err("the fraction divides by nothing".into());
                }
                Ok(Some(whole + top / bottom))
            }
            _ => {
                self.rest = before;
                Ok(None)
            }
        }
    }

    fn digits(&mut self) -> Option<f64> {
        let end = self.rest.find(|c: char| !c.is_ascii_digit()).unwrap_or(self.rest.len());
        let value = self.rest[..end].parse().ok()?;
        self.rest = &self.rest[end..];
        Some(value)
    }

    fn number(&mut self) -> Result<f64, String> {
        self.space();
        let end =
            self.rest.find(|c: char| !(c.is_ascii_digit() || c == '.')).unwrap_or(self.rest.len());
        let (token, rest) = self.rest.split_at(end);
        if token.is_empty() {
            return Err(match self.rest.is_empty() {
                true => "a number is missing at the end".into(),
                false => format!("expected a number, found “{}”", self.rest),
            });
        }
        let value = token.parse().map_err(|_| format!("“{token}” is not a number"))?;
        self.rest = rest;
        Ok(value)
    }

    fn unit(&mut self) -> Result<Option<Unit>, String> {
        self.space();
        if self.take("\"") {
            return Ok(Some(Unit::Millimetres(INCH)));
        }
        if self.take("'") {
            return Ok(Some(Unit::Feet));
        }
        let end = self.rest.find(|c: char| !c.is_alphabetic()).unwrap_or(self.rest.len());
        let (word, rest) = self.rest.split_at(end);
        let unit = match word.to_lowercase().as_str() {
            "" => return Ok(None),
            "mm" => Unit::Millimetres(1.0),
            "cm" => Unit::Millimetres(10.0),
            "m" => Unit::Millimetres(1000.0),
            "in" | "inch" | "inches" => Unit::Millimetres(INCH),
            "ft" | "foot" | "feet" => Unit::Feet,
            _ => return Err(format!("“{word}” is not a unit; use mm, cm, m, in or ft")),
        };
        self.rest = rest;
        Ok(Some(unit))
    }
}

/// What a number is in: so many millimetres, or feet, which inches may follow.
enum Unit {
    Millimetres(f64),
    Feet,
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::feet_inches;

    fn reads(text: &str, mm: f64) {
        let read = read_length(text).unwrap_or_else(|e| panic!("{text}: {e}"));
        assert!((read - mm).abs() < 1e-9 * mm.abs().max(1.0), "{text} read as {read}, not {mm}");
    }

    #[test]
    fn metric_lengths() {
        reads("2400", 2400.0);
        reads(" 2400 mm ", 2400.0);
        reads("2 400", 2400.0);
        reads("2\u{2009}400", 2400.0);
        reads("2.4m", 2400.0);
        reads("2.4 M", 2400.0);
        reads("24cm", 240.0);
        reads(".5", 0.5);
        reads("-50", -50.0);
        reads("−50", -50.0);
        assert!(read_length("-0").unwrap().is_sign_positive());
    }

    /// An inch is 25.4 mm; 8 ft is 2438.4 mm, the usual sheet of board.
    #[test]
    fn feet_and_inches() {
        reads("8ft", 2438.4);
        reads("8'", 2438.4);
        reads("7'10 1/2\"", 94.5 * 25.4);
        reads("7′ 10½″", 94.5 * 25.4);
        reads("7ft 10in", 94.0 * 25.4);
        reads("7'10", 94.0 * 25.4);
        reads("9'-3 1/8\"", 111.125 * 25.4);
        reads("3/4\"", 19.05);
        reads("10 1/2 in", 266.7);
        reads("15 1/4\"", 387.35);
        reads("92 5/8\"", 2352.675);
    }

    #[test]
    fn sums() {
        reads("=3600/3-46", 1154.0);
        reads("= 2.4m - 2*46", 2308.0);
        reads("=(3600+2*12.5)/3", 3625.0 / 3.0);
        reads("=8' - 1 1/2\"", 2438.4 - 38.1);
        reads("=3/4\" + 10", 29.05);
        reads("=-(46)--46", 0.0);
        reads("=3600÷3×2", 2400.0);
    }

    #[test]
    fn what_cannot_be_read_says_why() {
        let says =
            |text: &str, why: &str| assert_eq!(read_length(text).unwrap_err(), why, "{text}");
        says("", "type a length, like 2400, 2.4m, 7'10 1/2\" or =3600/3-46");
        says("2,4m", "in 2,4m, write decimals with a point and thousands without a comma");
        says("2400-46", "cannot read “-46”; start a sum with =");
        says("3/4", "say what the fraction is of: 3/4\" for inches, =3/4 for millimetres");
        says("2.4.1", "“2.4.1” is not a number");
        says("2400 xx", "“xx” is not a unit; use mm, cm, m, in or ft");
        says("=2400/0", "the sum divides by nothing");
        says("1/0\"", "the fraction divides by nothing");
        says("=2m*3m", "a length times a length is an area; leave one unit out");
        says(
            "=2400/600mm",
            "a length is divided by a plain number; leave the unit under the line out",
        );
        says("=(2400", "a bracket is not closed; add )");
        says("=2400-", "a number is missing at the end");
        says("NaN", "expected a number, found “NaN”");
        says("1e400", "“e” is not a unit; use mm, cm, m, in or ft");
        says("9999999", "that is more than 1\u{2009}000\u{2009}000 mm");
        says(&"9".repeat(190), "that is more than 1\u{2009}000\u{2009}000 mm");
        says(&format!("={}", "(".repeat(100)), "brackets are nested more than 32 deep");
        says(&"1".repeat(500), "a length has at most 200 characters");
    }

    /// Whatever is typed, something comes back and nothing breaks.
    #[test]
    fn nothing_typed_breaks_it() {
        let parts = [
            "=", "(", ")", "-", "+", "*", "/", " ", "1", "3/4", ".", "'", "\"", "ft", "m", "½",
            "⁄", "\u{2009}", "é",
        ];
        let mut seed = 1_u64;
        for _ in 0..20_000 {
            let mut text = String::new();
            for _ in 0..(seed >> 40) % 12 {
                seed = seed
                    .wrapping_mul(6_364_136_223_846_793_005)
                    .wrapping_add(1_442_695_040_888_963_407);
                text.push_str(parts[(seed >> 33) as usize % parts.len()]);
            }
            seed = seed
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            if let Ok(value) = read_length(&text) {
                assert!(value.is_finite(), "{text}");
            }
        }
    }

    /// NAVEDTRA 14044 fig. 2-17: 13.89 in a foot of run over 8 ft is 111 1/8 in, 9'-3 1/8".
    #[test]
    fn a_rafter_to_the_nearest_sixteenth() {
        let length = read_length("=13.89in*8").unwrap();
        assert_eq!(feet_inches(length), "9' 3 1/8\"");
    }

    /// US Army EN5156: 17.69 in a foot of run over 10'-4" is 182.8 in, about 15'-3".
    #[test]
    fn a_second_rafter_within_a_quarter_inch() {
        let length = read_length("=17.69in*(10+4/12)").unwrap();
        assert!((length - read_length("15'-3\"").unwrap()).abs() < 0.25 * 25.4);
        assert_eq!(feet_inches(length), "15' 2 13/16\"");
    }

    /// A number alone is in the job's unit; a unit is always obeyed.
    #[test]
    fn a_number_alone_is_inches_in_an_imperial_job() {
        let reads = |text: &str, mm: f64| {
            let read = Units::FeetInches.read(text).unwrap_or_else(|e| panic!("{text}: {e}"));
            assert!((read - mm).abs() < 1e-9, "{text} read as {read}, not {mm}");
        };
        reads("16", 406.4);
        reads("15 1/4", 387.35);
        reads("3/4", 19.05);
        reads("7'10", 94.0 * 25.4);
        reads("7' 10 1/2", 94.5 * 25.4);
        reads("2400mm", 2400.0);
        reads("2.4m", 2400.0);
        reads("=8' - 1 1/2\"", 2438.4 - 38.1);
        reads("=8' - 2*1.5", 2438.4 - 76.2);
        reads("=(10+4/12)*12", 124.0 * 25.4);
        reads("=144/3-1.5", 46.5 * 25.4);
        reads("=10mm+1", 35.4);
        assert!((Units::Millimetres.read("=8'-2").unwrap() - 2436.4).abs() < 1e-9);
        assert_eq!(
            Units::FeetInches.read("99999999"),
            Err("that is more than 3280' 10 1/16\"".into())
        );
    }

    #[test]
    fn feet_and_inches_are_printed_to_sixteenths_and_read_back() {
        assert_eq!(feet_inches(2438.4), "8' 0\"");
        assert_eq!(feet_inches(94.5 * 25.4), "7' 10 1/2\"");
        assert_eq!(feet_inches(19.05), "3/4\"");
        assert_eq!(feet_inches(0.0), "0\"");
        assert_eq!(feet_inches(-38.1), "−1 1/2\"");
        assert_eq!(feet_inches(12.0 * 25.4 - 0.1), "1' 0\"");
        for sixteenths in 0..400 {
            let length = f64::from(sixteenths) / 16.0 * 25.4;
            reads(&feet_inches(length), length);
        }
    }
}
