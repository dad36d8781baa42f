//! The room from tape measurements: where its corners are, what each measurement is out by, and
//! which to take again or take next.
//!
//! ```
//! use layout_core::document::{Measured, Measurement, Survey};
//! use layout_core::math::PlanPoint;
//! use layout_core::survey::solve;
//!
//! let tape = |from: &str, to: &str, value| Measurement {
//!     value: Some(value),
//!     ..Measurement::of(Measured::Between { from: from.into(), to: to.into() })
//! };
//! let survey = Survey {
//!     corners: vec!["1".into(), "2".into(), "3".into(), "4".into()],
//!     rows: vec![
//!         tape("1", "2", 4000.0),
//!         tape("2", "3", 3000.0),
//!         tape("3", "4", 4000.0),
//!         tape("4", "1", 3000.0),
//!         tape("1", "3", 5000.0),
//!         tape("2", "4", 5000.0),
//!     ],
//! };
//! let room = solve(&survey, &[], PlanPoint::origin()).expect("it has corners");
//! assert!((room.corners[2].at - PlanPoint::new(4000.0, 3000.0)).norm() < 1e-6);
//! assert!(room.closes && room.freedom == 0 && room.redundancy == 1);
//! ```

mod fit;
mod start;
mod judge;
pub mod tape;

use crate::document::{Face, Measured, Measurement, Shell, Survey};
use crate::id::Name;
use crate::math::{PlanPoint, PlanVector, area, is_place, left_of};
use fit::{Frame, Kind, Row, cost, fit};
use judge::{Judgement, goes_round, judge};

/// A room with more corners than this is not folded in search of a better shape.
const MOST_TO_FOLD: usize = 12;
/// Rounds of folding.
const MOST_FOLDS: usize = 3;

/// A room worked out from its measurements.
#[derive(Clone, Debug, PartialEq)]
pub struct Solved {
    /// The corners, in the survey's order.
    pub corners: Vec<Placed>,
    /// One for each measurement, in the survey's order.
    pub readings: Vec<Reading>,
    /// The corner that stays where it was drawn, from 0; the side that starts there keeps its direction.
    pub held: usize,
    /// How many ways the shape can still give: 0 when the measurements hold it.
    pub freedom: usize,
    /// How many measurements more there are than it takes.
    pub redundancy: usize,
    /// How large the residuals are as a whole, in expected errors: about 1 when all is as it should be; `None`
    /// without a check.
    pub spread: Option<f64>,
    /// True when the residuals are no larger than the expected errors let expect.
    pub closes: bool,
    /// When it does not close: the measurement with the largest standardised residual; more than one when
    /// they cannot be told apart. From 0.
    pub suspects: Vec<usize>,
    /// What to measure next: what holds the shape, or, when it is held and nothing checks it, one that does. The most
    /// helpful first.
    pub wanted: Vec<Measured>,
    /// True when the corners, in their order, go round a room without crossing.
    pub goes_round: bool,
}

/// A corner worked out.
#[derive(Clone, Debug, PartialEq)]
pub struct Placed {
    /// Its name.
    pub name: Name,
    /// Where it is on the plan.
    pub at: PlanPoint,
    /// How well it is known from the corner that is held, ± mm; `None` while the measurements do not hold it.
    pub error: Option<f64>,
}

/// A measurement beside what the room makes of it.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Reading {
    /// What it would be in the room as worked out, mm (mm in a metre at a corner taken as square).
    pub computed: Option<f64>,
    /// Measured less computed; `None` while it is not measured.
    pub residual: Option<f64>,
    /// The residual in its own expected error; `None` when no other measurement checks this one.
    pub standardised: Option<f64>,
    /// How much of an error in it would show in its residual: 0 unchecked, 1 fully checked.
    pub checked: f64,
    /// What the other measurements make it.
    pub others: Option<f64>,
}

impl Solved {
    /// The one measurement that is most suspect, when the room does not close and it can be told.
    pub fn suspect(&self) -> Option<usize> {
        match self.suspects[..] {
            [one] => Some(one),
            _ => None,
        }
    }

    /// The largest residual in its size, with the measurement it is of.
    pub fn furthest(&self) -> Option<(usize, f64)> {
        let of = |(i, r): (usize, &Reading)| Some((i, r.residual?));
        self.readings
            .iter()
            .enumerate()
            .filter_map(of)
            .reduce(|best, next| if next.1.abs() > best.1.abs() { next } else { best })
    }

    /// Where the corners are.
    pub fn outline(&self) -> Vec<PlanPoint> {
        self.corners.iter().map(|c| c.at).collect()
    }
}

/// Works out the room of `shell`; `None` when nothing was measured. The corner drawn nearest `datum`
/// stays there, and the side from it to the next keeps its direction.
pub fn of_shell(shell: &Shell, datum: PlanPoint) -> Option<Solved> {
    let rough: Vec<PlanPoint> = shell.outline.iter().map(|c| c.at).collect();
    solve(&shell.survey, &rough, datum)
}

/// Works out the room from `survey`, roughly shaped as `rough` when that has as many corners; `None` when there
/// are fewer than three.
pub fn solve(survey: &Survey, rough: &[PlanPoint], datum: PlanPoint) -> Option<Solved> {
    let count = survey.corners.len();
    if count < 3 {
        return None;
    }
    let drawn = rough.len() == count && rough.iter().all(|p| is_place(p.x) && is_place(p.y));
    let held = if drawn { nearest(rough, datum) } else { 0 };
    let frame = Frame { held, count };
    let (rows, counted) = rows(survey);
    let corners = best(&rows, frame, drawn.then_some(rough));
    let judged = judge(&rows, frame, &corners);
    let placing = if drawn {
        let first = rough[(held + 1) % count] - rough[held];
        Placing { at: rough[held], along: unit(first) }
    } else {
        Placing { at: datum, along: PlanVector::new(1.0, 0.0) }
    };
    Some(told(survey, frame, &corners, &counted, &judged, placing))
}

/// How the frame the fit worked in lies on the plan.
#[derive(Clone, Copy)]
struct Placing {
    at: PlanPoint,
    along: PlanVector,
}

fn unit(v: PlanVector) -> PlanVector {
    let length = v.norm();
    if length > 0.0 { v / length } else { PlanVector::new(1.0, 0.0) }
}

fn nearest(points: &[PlanPoint], to: PlanPoint) -> usize {
    let far = |i: usize| (points[i] - to).norm();
    (1..points.len()).fold(0, |best, i| if far(i) < far(best) { i } else { best })
}

/// The measurements that count, and for each line of the survey its place among them.
fn rows(survey: &Survey) -> (Vec<Row>, Vec<Option<usize>>) {
    let mut rows = Vec::new();
    let counted = survey.rows.iter().map(|line| {
        let value = line.reading().filter(|v| v.is_finite())?;
        if !(line.error.is_finite() && line.error > 0.0) {
            return None;
        }
        rows.push(Row { kind: kind_of(survey, line)?, value, error: line.error });
        Some(rows.len() - 1)
    });
    let counted = counted.collect();
    (rows, counted)
}

fn kind_of(survey: &Survey, line: &Measurement) -> Option<Kind> {
    let n = survey.corners.len();
    let kind = match &line.what {
        Measured::Between { from, to } => Kind::Between(survey.index(from)?, survey.index(to)?),
        Measured::Offset { corner, from, to, side } => Kind::Offset(
            survey.index(corner)?,
            survey.index(from)?,
            survey.index(to)?,
            *side == Face::Right,
        ),
        Measured::Square { corner } => {
            let at = survey.index(corner)?;
            Kind::Square((at + n - 1) % n, at, (at + 1) % n)
        }
    };
    let apart = match kind {
        Kind::Between(a, b) => a != b,
        Kind::Offset(c, a, b, _) => a != b && c != a && c != b,
        Kind::Square(..) => true,
    };
    apart.then_some(kind)
}

/// The shape that agrees best: from the room as drawn, and when that does not close from its mirror
/// image, from the room as its distances draw it, and from these folded over a diagonal. A room that is
/// drawn anticlockwise is never turned over: a wrong side of an offset would do that to the whole room.
fn best(rows: &[Row], frame: Frame, drawn: Option<&[PlanPoint]>) -> Vec<PlanPoint> {
    let constructed = || frame.local(&start::construct(rows, frame.count, frame.held));
    let either_way = drawn.is_some_and(|d| area(d) < 0.0);
    let from = |start: &[PlanPoint]| Try::from(rows, frame, start, either_way);
    let first = drawn.map_or_else(constructed, |d| frame.local(d));
    let mut best = from(&first);
    if best.good {
        return best.corners;
    }
    let mut others = vec![start::mirrored(&first)];
    if drawn.is_some() {
        let built = constructed();
        others.extend([start::mirrored(&built), built]);
    }
    for other in &others {
        best = best.or(from(other));
    }
    // An offset entered on the wrong side can outweigh the drawing and turn the room over: without the offsets
    // it stays as it was drawn, and the wrong one shows.
    if !best.right_way {
        let sides: Vec<Row> =
            rows.iter().copied().filter(|r| !matches!(r.kind, Kind::Offset(..))).collect();
        let kept = Try::from(&sides, frame, &first, either_way);
        if kept.right_way {
            return kept.corners;
        }
    }
    if frame.count > MOST_TO_FOLD {
        return best.corners;
    }
    for _ in 0..MOST_FOLDS {
        let before = best.cost;
        for (a, b) in (0..frame.count).flat_map(|a| (a + 2..frame.count).map(move |b| (a, b))) {
            if !best.good {
                let folded = frame.local(&folded(&best.corners, a, b));
                best = best.or(from(&folded)).or(from(&start::mirrored(&folded)));
            }
        }
        if best.good || best.cost >= before {
            break;
        }
    }
    best.corners
}

/// A shape that was tried.
struct Try {
    corners: Vec<PlanPoint>,
    cost: f64,
    /// It runs the way it must.
    right_way: bool,
    /// It also agrees with the measurements as well as they let expect, and goes round a room.
    good: bool,
}

impl Try {
    fn from(rows: &[Row], frame: Frame, start: &[PlanPoint], either_way: bool) -> Try {
        let corners = frame.local(&fit(rows, frame, start));
        let cost = cost(rows, &corners);
        let checks = rows.len().saturating_sub(frame.unknowns()).max(1);
        let right_way = either_way || area(&corners) >= 0.0;
        let agrees = cost <= judge::SNOOP.powi(2) * checks as f64;
        let good = right_way && agrees && goes_round(&corners);
        Try { corners, cost, right_way, good }
    }

    /// The better of two; this one when there is nothing between them.
    fn or(self, other: Try) -> Try {
        let better = match (self.good, other.good) {
            (true, _) => false,
            (false, true) => true,
            (false, false) if self.right_way != other.right_way => other.right_way,
            (false, false) => other.cost < self.cost * (1.0 - 1e-6),
        };
        if better { other } else { self }
    }
}

/// The room folded over the line between two corners: what lies between them in order is mirrored in it.
fn folded(corners: &[PlanPoint], a: usize, b: usize) -> Vec<PlanPoint> {
    let normal = left_of(unit(corners[b] - corners[a]));
    let mut folded = corners.to_vec();
    for corner in &mut folded[a + 1..b] {
        *corner -= normal * (2.0 * (*corner - corners[a]).dot(&normal));
    }
    folded
}

fn told(
    survey: &Survey,
    frame: Frame,
    corners: &[PlanPoint],
    counted: &[Option<usize>],
    judged: &Judgement,
    placing: Placing,
) -> Solved {
    let place = |p: &PlanPoint| placing.at + placing.along * p.x + left_of(placing.along) * p.y;
    let readings = survey.rows.iter().zip(counted).map(|(line, row)| match row {
        Some(row) => {
            let j = judged.rows[*row];
            let residual = line.reading().map(|v| v - j.computed);
            let others = match (residual, j.standardised) {
                (Some(left), Some(_)) => Some(j.computed + left - left / j.checked),
                _ => None,
            };
            let computed = Some(j.computed);
            Reading { computed, residual, standardised: j.standardised, checked: j.checked, others }
        }
        None => Reading {
            computed: kind_of(survey, line).map(|k| k.computed(corners).0),
            ..Reading::default()
        },
    });
    let line_of = |row: &usize| counted.iter().position(|c| c.as_ref() == Some(row));
    let name = |i: usize| survey.corners[i].clone();
    Solved {
        corners: (corners.iter().zip(&judged.corners).zip(&survey.corners))
            .map(|((p, error), name)| Placed { name: name.clone(), at: place(p), error: *error })
            .collect(),
        readings: readings.collect(),
        held: frame.held,
        freedom: judged.freedom,
        redundancy: judged.redundancy,
        spread: judged.spread,
        closes: judged.closes,
        suspects: judged.suspects.iter().filter_map(line_of).collect(),
        wanted: judged
            .wanted
            .iter()
            .map(|&(a, b)| Measured::Between { from: name(a), to: name(b) })
            .collect(),
        goes_round: goes_round(corners),
    }
}

/// What to measure in a room drawn with `rough` corners: every side, and the diagonals that hold its
/// shape and check it.
pub fn plan_of(rough: &[PlanPoint]) -> Survey {
    let n = rough.len();
    if n < 3 {
        return Survey::default();
    }
    let corners: Vec<Name> = (1..=n).map(|i| Name::new(i.to_string())).collect();
    let side =
        |i: usize| Measured::Between { from: corners[i].clone(), to: corners[(i + 1) % n].clone() };
    let rows = (0..n).map(|i| Measurement::of(side(i))).collect();
    let mut survey = Survey { corners: corners.clone(), rows };
    // As if the sides had been measured as they are drawn.
    let drawn = |i: usize| (rough[(i + 1) % n] - rough[i]).norm();
    let mut as_drawn = survey.clone();
    for (i, row) in as_drawn.rows.iter_mut().enumerate() {
        row.value = Some(drawn(i));
    }
    let wanted = |s: &Survey| solve(s, rough, rough[0]).map(|s| s.wanted).unwrap_or_default();
    let mut diagonals = wanted(&as_drawn);
    // Enough to hold it first; then what checks that.
    for _ in 0..2 {
        for what in &diagonals {
            let Measured::Between { from, to } = what else { continue };
            let (Some(a), Some(b)) = (survey.index(from), survey.index(to)) else { continue };
            let line = Measurement::of(what.clone());
            survey.rows.push(line.clone());
            as_drawn.rows.push(Measurement { value: Some((rough[b] - rough[a]).norm()), ..line });
        }
        diagonals = wanted(&as_drawn);
    }
    survey
}
