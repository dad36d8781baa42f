//! How lengths are typed and printed. Inside the program a length is always millimetres.

/// Reads a length as a joiner types it: `2400`, `2.4m`, `24cm`, `7'10 1/2"`, `3/4"`, or a sum
/// `=3600/3-46`. Millimetres out.
///
/// # Errors
/// One plain line: what could not be read and what would be.
pub fn read_length(_text: &str) -> Result<f64, String> {
    Err("not written yet".into())
}

/// A length to the nearest millimetre, with a thin space at the thousands: `2 300`.
pub fn mm(value: f64) -> String {
    let whole = crate::math::round_mm(value);
    let digits = whole.unsigned_abs().to_string();
    let mut out = String::new();
    for (i, c) in digits.chars().enumerate() {
        if i > 0 && (digits.len() - i) % 3 == 0 {
            out.push('\u{2009}');
        }
        out.push(c);
    }
    if whole < 0 { format!("−{out}") } else { out }
}
