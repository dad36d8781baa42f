//! `baywright survey`: the room from its tape measurements, and what a tape reads to set it out.

use std::fmt::Write;

use layout_core::document::{Face, Job, Measured, Survey};
use layout_core::layout::Layout;
use layout_core::math::PlanPoint;
use layout_core::survey::tape::{diagonals, three_four_five, two_tapes};
use layout_core::survey::{Reading, Solved, plan_of};
use layout_core::units::Units;
use serde::Serialize;
use serde_json::{Map, Value, json};

use super::out::{self, thousandth};
use super::{Exit, Outcome};

/// Three, four and five in steps of this, mm: even figures on a tape.
const STEP: f64 = 100.0;

#[derive(Serialize)]
struct Answer<'a> {
    format: &'static str,
    version: u32,
    job: &'a str,
    corners: Vec<Value>,
    held: Option<&'a str>,
    measurements: Vec<Value>,
    closes: Option<bool>,
    spread: Option<f64>,
    redundancy: Option<usize>,
    freedom: Option<usize>,
    goes_round: Option<bool>,
    suspect: Option<usize>,
    measure_next: Vec<Value>,
    diagonals: Vec<Value>,
    nodes: Vec<Value>,
}

pub(super) fn run(job: &Job, json: bool) -> Outcome {
    let layout = Layout::of(job);
    let drawn: Vec<PlanPoint> = job.shell.outline.iter().map(|c| c.at).collect();
    let room = Room {
        job,
        survey: match &layout.survey {
            Some(_) => job.shell.survey.clone(),
            None => plan_of(&drawn),
        },
        solved: layout.survey.as_deref(),
        corners: layout.survey.as_ref().map_or_else(|| drawn.clone(), |s| s.outline()),
        drawn,
    };
    if json {
        out::print_json(&room.answer())?;
    } else {
        out::print(&room.text())?;
    }
    Ok(Exit::Done)
}

/// What the answer is about: the room as measured, or as drawn where nothing was measured.
struct Room<'a> {
    job: &'a Job,
    survey: Survey,
    solved: Option<&'a Solved>,
    corners: Vec<PlanPoint>,
    drawn: Vec<PlanPoint>,
}

impl Room<'_> {
    fn name(&self, corner: usize) -> &str {
        self.survey.corners.get(corner).map_or("", |n| n.as_str())
    }

    fn wanted(&self) -> Vec<Measured> {
        match self.solved {
            Some(solved) => solved.wanted.clone(),
            None => self.survey.rows.iter().map(|row| row.what.clone()).collect(),
        }
    }

    /// The biggest three-four-five at a corner: along the side that starts there, and the one that ends there.
    fn check(&self, corner: usize) -> Option<[f64; 3]> {
        let n = self.corners.len();
        let side = |a: usize, b: usize| (self.corners[b] - self.corners[a]).norm();
        let legs = (side(corner, (corner + 1) % n), side(corner, (corner + n - 1) % n));
        three_four_five(legs.0, legs.1, STEP).map(|t| [t.first, t.second, t.across])
    }

    fn answer(&self) -> Answer<'_> {
        let corner = |(i, at): (usize, &PlanPoint)| {
            let error = self.solved.and_then(|s| s.corners[i].error);
            json!({
                "name": self.name(i),
                "at_mm": xy(*at),
                "error_mm": error.map(thousandth),
                "three_four_five_mm": self.check(i),
            })
        };
        let empty = Reading::default();
        let measurements = self.survey.rows.iter().enumerate().map(|(i, line)| {
            let reading = self.solved.map_or(&empty, |s| &s.readings[i]);
            let unit = match line.what {
                Measured::Square { .. } => "mm_per_m",
                _ => "mm",
            };
            let mut entry = Map::new();
            entry.insert("what".into(), json!(kind(&self.survey, &line.what)));
            entry.insert("corners".into(), json!(line.what.corners()));
            if let Measured::Offset { side, .. } = line.what {
                entry.insert(
                    "side".into(),
                    json!(if side == Face::Left { "left" } else { "right" }),
                );
            }
            for (key, value) in [
                ("value", line.reading()),
                ("error", Some(line.error)),
                ("computed", reading.computed),
                ("residual", reading.residual),
                ("others", reading.others),
            ] {
                entry.insert(format!("{key}_{unit}"), json!(value.map(thousandth)));
            }
            entry.insert("standardised".into(), json!(reading.standardised.map(thousandth)));
            entry.insert("checked".into(), json!(thousandth(reading.checked)));
            let suspect = self.solved.is_some_and(|s| s.suspects.contains(&i));
            entry.insert("suspect".into(), json!(suspect));
            Value::Object(entry)
        });
        let diagonal = |d: &layout_core::survey::tape::Diagonal| {
            json!({
                "between": [self.name(d.between.0), self.name(d.between.1)],
                "length_mm": thousandth(d.length),
            })
        };
        let node = |node: &layout_core::document::Node| {
            let tapes = two_tapes(node.at, &self.drawn);
            json!({
                "name": node.name,
                "at_mm": xy(node.at),
                "from": tapes.map(|t| [self.drawn_name(t.from.0), self.drawn_name(t.from.1)]),
                "tapes_mm": tapes.map(|t| [thousandth(t.pulled.0), thousandth(t.pulled.1)]),
                "crossing_deg": tapes.map(|t| thousandth(t.crossing.to_degrees())),
            })
        };
        Answer {
            format: "baywright-survey",
            version: 1,
            job: &self.job.title,
            corners: self.corners.iter().enumerate().map(corner).collect(),
            held: self.solved.map(|s| self.name(s.held)),
            measurements: measurements.collect(),
            closes: self.solved.map(|s| s.closes),
            spread: self.solved.and_then(|s| s.spread).map(thousandth),
            redundancy: self.solved.map(|s| s.redundancy),
            freedom: self.solved.map(|s| s.freedom),
            goes_round: self.solved.map(|s| s.goes_round),
            suspect: self.solved.and_then(Solved::suspect),
            measure_next: self
                .wanted()
                .iter()
                .map(|w| json!({"what": kind(&self.survey, w), "corners": w.corners()}))
                .collect(),
            diagonals: diagonals(&self.corners).iter().map(diagonal).collect(),
            nodes: self.job.nodes.iter().map(node).collect(),
        }
    }

    /// What a corner of the room as drawn is called.
    fn drawn_name(&self, corner: usize) -> String {
        match self.survey.corners.get(corner) {
            Some(name) if self.survey.corners.len() == self.drawn.len() => name.to_string(),
            _ => (corner + 1).to_string(),
        }
    }

    // Writing to a string does not fail.
    fn text(&self) -> String {
        let units = self.job.units;
        let mut text = String::new();
        if self.corners.is_empty() {
            return "The job has no room: nothing is drawn and nothing measured\n".into();
        }
        let _ = writeln!(text, "{:<8} {:>10} {:>10}  {:<10} 3-4-5", "corner", "x", "y", "known to");
        for (i, at) in self.corners.iter().enumerate() {
            let known = match self.solved.map(|s| s.corners[i].error) {
                Some(Some(error)) => format!("± {}", units.tape(error)),
                Some(None) => "not held".into(),
                None => "as drawn".into(),
            };
            let check =
                self.check(i).map_or(String::new(), |c| c.map(|c| units.show(c)).join(" · "));
            let _ = writeln!(
                text,
                "{:<8} {:>10} {:>10}  {known:<10} {check}",
                self.name(i),
                units.tape(at.x),
                units.tape(at.y)
            );
        }
        if let Some(solved) = self.solved {
            self.measured(solved, &mut text);
        }
        let labels = |list: &[Measured]| -> String {
            list.iter().map(|w| self.survey.label(w)).collect::<Vec<_>>().join(", ")
        };
        let wanted = self.wanted();
        match self.solved {
            None => {
                let _ = writeln!(text, "\nNothing is measured yet. Measure {}", labels(&wanted));
            }
            Some(s) => {
                let _ = writeln!(text, "\n{}", verdict(units, s, &labels(&wanted)));
            }
        }
        for d in diagonals(&self.corners) {
            let (a, b) = (self.name(d.between.0), self.name(d.between.1));
            let _ = writeln!(text, "diagonal {a}–{b}: {}", units.tape(d.length));
        }
        for node in &self.job.nodes {
            if let Some(t) = two_tapes(node.at, &self.drawn) {
                let _ = writeln!(
                    text,
                    "node {}: {} from {} and {} from {}, crossing at {:.0}°",
                    node.name,
                    units.tape(t.pulled.0),
                    self.drawn_name(t.from.0),
                    units.tape(t.pulled.1),
                    self.drawn_name(t.from.1),
                    t.crossing.to_degrees()
                );
            }
        }
        text
    }

    fn measured(&self, solved: &Solved, text: &mut String) {
        let _ = writeln!(
            text,
            "\n{:<28} {:>10} {:>7} {:>10} {:>8}",
            "measured", "read", "±", "computed", "out by"
        );
        for (i, (line, r)) in self.survey.rows.iter().zip(&solved.readings).enumerate() {
            let units = match line.what {
                Measured::Square { .. } => Units::Millimetres,
                _ => self.job.units,
            };
            let figure = |v: Option<f64>| v.map_or("–".into(), |v| units.tape(v));
            let error = match units {
                Units::Millimetres => line.error.to_string(),
                Units::FeetInches => units.tape(line.error),
            };
            let suspect = if solved.suspects.contains(&i) { "  suspect" } else { "" };
            let _ = writeln!(
                text,
                "{:<28} {:>10} {:>7} {:>10} {:>8}{suspect}",
                self.survey.label(&line.what),
                figure(line.reading()),
                error,
                figure(r.computed),
                figure(r.residual)
            );
        }
    }
}

fn verdict(units: Units, solved: &Solved, wanted: &str) -> String {
    if solved.freedom > 0 {
        return match wanted {
            "" => "The shape is not held, and no distance between corners would hold it".into(),
            wanted => format!("The shape is not held yet. Measure {wanted}"),
        };
    }
    if !solved.closes {
        let out = solved.furthest().map_or(0.0, |f| f.1.abs());
        return format!(
            "It does not close: out by up to {} after the errors are shared",
            units.tape(out)
        );
    }
    match (solved.redundancy, wanted) {
        (0, wanted) => format!("The shape is held, and nothing checks it. Measure {wanted}"),
        (checks, _) => format!("It closes; checked {checks} times over"),
    }
}

fn kind(survey: &Survey, what: &Measured) -> &'static str {
    match what {
        Measured::Between { from, to } if survey.is_side(from, to) => "side",
        Measured::Between { .. } => "diagonal",
        Measured::Offset { .. } => "offset",
        Measured::Square { .. } => "square",
    }
}

fn xy(p: PlanPoint) -> [f64; 2] {
    [thousandth(p.x), thousandth(p.y)]
}
