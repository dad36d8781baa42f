//! How lengths are typed and printed. Inside the program a length is always millimetres.

use serde::{Deserialize, Serialize};

use crate::math::round_to;

mod typed;

pub use typed::read_length;

/// What the lengths of a job are shown, printed and cut in.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Units {
    /// Whole millimetres.
    #[default]
    Millimetres,
    /// Feet, inches and sixteenths.
    FeetInches,
}

impl Units {
    /// Both, in the order they are offered.
    pub const ALL: [Units; 2] = [Units::Millimetres, Units::FeetInches];

    /// The least length that is shown and cut, mm: 1 mm or 1/16 in.
    pub fn step(self) -> f64 {
        match self {
            Units::Millimetres => 1.0,
            Units::FeetInches => SIXTEENTH,
        }
    }

    /// `value` to the nearest step, mm. Positions are rounded, lengths follow from them.
    pub fn round(self, value: f64) -> f64 {
        round_to(value, self.step())
    }

    /// `value` to the next step up, mm.
    pub fn up(self, value: f64) -> f64 {
        (value / self.step()).ceil() * self.step()
    }

    /// A length as it stands in a drawing or a list: `2 300`, `7' 10 1/2"`.
    pub fn show(self, value: f64) -> String {
        match self {
            Units::Millimetres => mm(value),
            Units::FeetInches => feet_inches(value),
        }
    }

    /// A length as it stands in a sentence: `2 300 mm`, `7' 10 1/2"`.
    pub fn with_unit(self, value: f64) -> String {
        format!("{}{}", self.show(value), self.mark())
    }

    /// A thickness, to the half millimetre or the sixteenth: `12.5`, `1/2"`.
    pub fn fine(self, value: f64) -> String {
        match self {
            Units::Millimetres if round_to(value, 0.5).fract() == 0.0 => mm(value),
            Units::Millimetres => round_to(value, 0.5).to_string(),
            Units::FeetInches => feet_inches(value),
        }
    }

    /// A small length in a sentence, to a tenth of a millimetre or the sixteenth: `3.2 mm`, `1/8"`.
    pub fn small(self, value: f64) -> String {
        match self {
            Units::Millimetres => format!("{} mm", (value * 10.0).round() / 10.0),
            Units::FeetInches => feet_inches(value),
        }
    }

    /// What a tape said or is worked out to say: `3608.4`, `11' 10 1/16"`.
    pub fn tape(self, value: f64) -> String {
        match self {
            Units::Millimetres => format!("{:.1}", value + 0.0),
            Units::FeetInches => feet_inches(value),
        }
    }

    /// A length of timber all told: `12.4 m`, `40.7 ft`.
    pub fn run(self, value: f64) -> String {
        format!("{:.1} {}", value / self.run_step(), self.run_unit())
    }

    /// Millimetres in the unit timber is bought by: a metre or a foot.
    pub fn run_step(self) -> f64 {
        match self {
            Units::Millimetres => 1000.0,
            Units::FeetInches => 12.0 * INCH,
        }
    }

    /// The unit timber is bought by: `m`, `ft`.
    pub fn run_unit(self) -> &'static str {
        match self {
            Units::Millimetres => "m",
            Units::FeetInches => "ft",
        }
    }

    /// What stands after a figure in a sentence; feet and inches bring their own marks.
    pub fn mark(self) -> &'static str {
        match self {
            Units::Millimetres => " mm",
            Units::FeetInches => "",
        }
    }

    /// Their short name beside a field or a column: `mm`, `ft-in`.
    pub fn short(self) -> &'static str {
        match self {
            Units::Millimetres => "mm",
            Units::FeetInches => "ft-in",
        }
    }

    /// Their name in words.
    pub fn words(self) -> &'static str {
        match self {
            Units::Millimetres => "millimetres",
            Units::FeetInches => "feet and inches",
        }
    }

    /// Reads a length as [`read_length`] does; a number without a unit is in the job's: millimetres, or
    /// inches, where `15 1/4` is fifteen and a quarter.
    ///
    /// # Errors
    /// One plain line: what could not be read and what would be.
    pub fn read(self, text: &str) -> Result<f64, String> {
        typed::read_in(self, text)
    }

    fn bare(self) -> f64 {
        match self {
            Units::Millimetres => 1.0,
            Units::FeetInches => INCH,
        }
    }

    fn like(self) -> &'static str {
        match self {
            Units::Millimetres => "2400, 2.4m, 7'10 1/2\" or =3600/3-46",
            Units::FeetInches => "15 1/4, 7'10 1/2\", 2400mm or =12'/3 - 1 1/2\"",
        }
    }
}

const INCH: f64 = 25.4;
const SIXTEENTH: f64 = INCH / 16.0;

/// An angle given in radians as degrees to a tenth, without its sign: `22.5°`.
pub fn degrees(angle: f64) -> String {
    let tenths = crate::math::round_mm(angle.to_degrees().abs() * 10.0);
    if tenths % 10 == 0 {
        format!("{}°", tenths / 10)
    } else {
        format!("{}.{}°", tenths / 10, tenths % 10)
    }
}

/// A length to the nearest millimetre, with a thin space at the thousands: `2 300`.
pub fn mm(value: f64) -> String {
    let whole = crate::math::round_mm(value);
    let digits = whole.unsigned_abs().to_string();
    let mut out = String::new();
    for (i, c) in digits.chars().enumerate() {
        if i > 0 && (digits.len() - i).is_multiple_of(3) {
            out.push('\u{2009}');
        }
        out.push(c);
    }
    if whole < 0 { format!("−{out}") } else { out }
}

/// A length in millimetres as feet and inches to the nearest sixteenth: `7' 10 1/2"`.
pub fn feet_inches(value: f64) -> String {
    let sixteenths = crate::math::round_mm(value / INCH * 16.0);
    let sign = if sixteenths < 0 { "−" } else { "" };
    let sixteenths = sixteenths.unsigned_abs();
    let (feet, inches, part) = (sixteenths / 192, sixteenths / 16 % 12, sixteenths % 16);
    // A fraction of sixteenths in its lowest terms: halve while both halve.
    let halvings = part.trailing_zeros().min(4);
    let fraction =
        if part == 0 { String::new() } else { format!("{}/{}", part >> halvings, 16 >> halvings) };
    let inches = match (feet, inches, part) {
        (_, _, 0) => inches.to_string(),
        (0, 0, _) => fraction,
        _ => format!("{inches} {fraction}"),
    };
    if feet == 0 { format!("{sign}{inches}\"") } else { format!("{sign}{feet}' {inches}\"") }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn degrees_to_a_tenth() {
        let deg = |d: f64| degrees(d.to_radians());
        assert_eq!(
            [deg(22.5), deg(-40.0), deg(30.700_000_3), deg(0.04)],
            ["22.5°", "40°", "30.7°", "0°"]
        );
    }

    #[test]
    fn inches_carry_into_feet_and_fractions_are_in_lowest_terms() {
        let shown = |inches: f64| Units::FeetInches.show(inches * 25.4);
        assert_eq!(shown(11.0 + 31.0 / 32.0), "1' 0\"");
        assert_eq!(shown(11.0 + 15.0 / 16.0), "11 15/16\"");
        assert_eq!(shown(15.25), "1' 3 1/4\"");
        assert_eq!(shown(-15.25), "−1' 3 1/4\"");
        assert_eq!(shown(-0.01), "0\"");
        assert_eq!(shown(12.5), "1' 0 1/2\"");
        // NAVEDTRA 14044: a rafter of 111.12 in is 9'-3 1/8\".
        assert_eq!(shown(111.12), "9' 3 1/8\"");
        assert_eq!(Units::FeetInches.up(25.4 / 15.0), 25.4 / 8.0);
        assert_eq!(Units::FeetInches.run(3048.0), "10.0 ft");
    }

    /// What is shown reads back within half a sixteenth, and shows the same again.
    #[test]
    fn what_is_shown_reads_back() {
        let mut seed = 7_u64;
        for _ in 0..20_000 {
            seed = seed
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            let value = (seed >> 11) as f64 / (1_u64 << 53) as f64 * 40_000.0 - 20_000.0;
            for units in Units::ALL {
                let shown = units.show(value);
                let read = units.read(&shown).unwrap_or_else(|e| panic!("{shown}: {e}"));
                assert!((read - value).abs() <= units.step() / 2.0 + 1e-9, "{value} as {shown}");
                assert_eq!(units.show(read), shown);
            }
        }
    }

    #[test]
    fn millimetres_have_thin_spaces_at_the_thousands() {
        assert_eq!(mm(2300.4), "2\u{2009}300");
        assert_eq!(mm(354.0), "354");
        assert_eq!(mm(-165.0), "−165");
        assert_eq!(mm(1_234_567.0), "1\u{2009}234\u{2009}567");
    }
}
