//! The text of an ISO 10303-21 file: entities one a line, numbered from 1; reals with a point, texts with
//! everything beyond plain ASCII escaped.

use std::fmt::{self, Write};

use layout_core::math::round_to;

/// The number of an entity; written `#12`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Id(usize);

impl fmt::Display for Id {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "#{}", self.0)
    }
}

/// The entities so far.
#[derive(Default)]
pub(super) struct Step {
    data: String,
    count: usize,
}

impl Step {
    /// Adds an entity, `IFCDIRECTION((0.,0.,1.))`.
    pub(super) fn put(&mut self, entity: impl fmt::Display) -> Id {
        self.count += 1;
        // Writing to a String cannot fail.
        let _ = writeln!(self.data, "#{}={entity};", self.count);
        Id(self.count)
    }

    /// The whole file. The time is always the same, so that equal jobs give equal bytes.
    pub(super) fn file(self, name: &str, view: &str, schema: &str) -> String {
        let version = concat!("Baywright ", env!("CARGO_PKG_VERSION"));
        let (view, name) = (text(view), text(name));
        format!(
            "ISO-10303-21;\nHEADER;\nFILE_DESCRIPTION(({view}),'2;1');\nFILE_NAME({name},'1970-01-01T00:00:00',(''),\
             (''),'{version}','{version}','');\nFILE_SCHEMA(('{schema}'));\nENDSEC;\nDATA;\n{}ENDSEC;\nEND-ISO-10303-21;\n",
            self.data
        )
    }
}

/// A list of entities or numbers in brackets.
pub(super) fn list<T: fmt::Display>(items: impl IntoIterator<Item = T>) -> String {
    let items: Vec<String> = items.into_iter().map(|i| i.to_string()).collect();
    format!("({})", items.join(","))
}

/// A real, to a millionth: `45.`, `0.25`. What is no number is nought: no job that can be read has one.
pub(super) fn real(value: f64) -> String {
    let value = round_to(value, 1e-6) + 0.0;
    let text = format!("{:.6}", if value.is_finite() { value } else { 0.0 });
    text.trim_end_matches('0').to_string()
}

/// A real of a direction: more places, since it is multiplied by lengths.
fn fine(value: f64) -> String {
    let value = if value.is_finite() { value } else { 0.0 };
    let text = format!("{:.12}", value + 0.0);
    let text = text.trim_end_matches('0');
    if text == "-0." { "0.".into() } else { text.to_string() }
}

/// The coordinates of a direction.
pub(super) fn direction(xyz: &[f64]) -> String {
    list(xyz.iter().map(|v| fine(*v)))
}

/// The coordinates of a point.
pub(super) fn point(xyz: &[f64]) -> String {
    list(xyz.iter().map(|v| real(*v)))
}

/// A text in quotes. What is not plain ASCII is written in hexadecimal: between `\X2\` and `\X0\` in four digits, or what
/// takes more between `\X4\` and `\X0\` in eight. Control characters become spaces.
pub(super) fn text(text: &str) -> String {
    let mut out = String::from("'");
    let mut digits = 0;
    for c in text.chars() {
        let needs = match c {
            c if c.is_ascii() || c.is_control() => 0,
            '\0'..='\u{ffff}' => 4,
            _ => 8,
        };
        if needs != digits {
            out.push_str(if digits > 0 { "\\X0\\" } else { "" });
            out.push_str(["", "\\X2\\", "\\X4\\"][needs / 4]);
            digits = needs;
        }
        match c {
            '\'' => out.push_str("''"),
            '\\' => out.push_str("\\\\"),
            c if c.is_control() => out.push(' '),
            c if digits == 0 => out.push(c),
            c => {
                let _ = write!(out, "{:0digits$X}", u32::from(c));
            }
        }
    }
    out.push_str(if digits > 0 { "\\X0\\'" } else { "'" });
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reals_have_a_point_and_no_minus_nought() {
        assert_eq!(real(45.0), "45.");
        assert_eq!(real(0.25), "0.25");
        assert_eq!(real(-0.000_000_1), "0.");
        assert_eq!(real(-234.567_891_2), "-234.567891");
        assert_eq!([f64::NAN, f64::INFINITY].map(real), ["0.", "0."]);
        assert_eq!(direction(&[-0.0, 1.0, -1e-15]), "(0.,1.,0.)");
    }

    // ISO 10303-21, 6.4.3: ' and \ doubled, \X2\ … \X0\ for the basic multilingual plane, \X4\ … \X0\ beyond it.
    #[test]
    fn texts_are_escaped() {
        assert_eq!(text("Sal's \\ room"), "'Sal''s \\\\ room'");
        assert_eq!(text("46×97 På"), "'46\\X2\\00D7\\X0\\97 P\\X2\\00E5\\X0\\'");
        assert_eq!(text("a\nb"), "'a b'");
        assert_eq!(text("é🪚"), "'\\X2\\00E9\\X0\\\\X4\\0001FA9A\\X0\\'");
        assert_eq!(text(""), "''");
    }

    #[test]
    fn entities_are_numbered_from_one() {
        let mut step = Step::default();
        let first = step.put("IFCA()");
        let second = step.put(format_args!("IFCB({first})"));
        assert_eq!((first.to_string(), second.to_string()), ("#1".into(), "#2".into()));
        let file = step.file("x.ifc", "V", "IFC4");
        assert!(file.contains("#1=IFCA();\n#2=IFCB(#1);\nENDSEC;"), "{file}");
    }
}
