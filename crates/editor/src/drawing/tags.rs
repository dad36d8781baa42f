//! The pairs of lines a DXF is made of: a code, then what it says.

/// A pair.
#[derive(Clone, Copy, Debug)]
pub(super) struct Tag<'a> {
    pub(super) code: i32,
    pub(super) value: &'a str,
    /// The line the value is on, from 1.
    pub(super) line: usize,
}

impl Tag<'_> {
    /// True for this code with this value.
    pub(super) fn is(&self, code: i32, value: &str) -> bool {
        self.code == code && self.value == value
    }

    /// Its value as a number that can be a place.
    pub(super) fn number(&self) -> Result<f64, String> {
        let value: f64 =
            self.value.parse().map_err(|_| format!("line {}: a number was expected", self.line))?;
        if value.is_finite() && value.abs() <= super::FURTHEST {
            Ok(value + 0.0)
        } else {
            Err(format!("line {}: {} is no place", self.line, short(self.value)))
        }
    }

    /// Its value as a whole number.
    pub(super) fn whole(&self) -> Result<i64, String> {
        let number = self.value.parse();
        number.map_err(|_| format!("line {}: a whole number was expected", self.line))
    }
}

/// The start of a value, as it may stand in a message.
fn short(value: &str) -> String {
    value.chars().filter(|c| !c.is_control()).take(30).collect()
}

/// All pairs of a text. One that ends in the middle of a pair is no drawing.
pub(super) fn tags(text: &str) -> Result<Vec<Tag<'_>>, String> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let mut lines = text.lines().enumerate();
    let mut tags = Vec::new();
    while let Some((i, code)) = lines.next() {
        let code = code.trim();
        if code.is_empty() && lines.clone().all(|(_, l)| l.trim().is_empty()) {
            break;
        }
        let code: i32 = code.parse().map_err(|_| match i {
            0 => "it is no DXF in text form; save it as one".to_string(),
            _ => format!("line {}: the code of a DXF was expected", i + 1),
        })?;
        let Some((line, value)) = lines.next() else {
            return Err(format!("line {}: it ends in the middle", i + 1));
        };
        tags.push(Tag { code, value: value.trim(), line: line + 1 });
        if tags.last().is_some_and(|t| t.is(0, "EOF")) {
            break;
        }
    }
    if tags.is_empty() { Err("it is empty".into()) } else { Ok(tags) }
}
