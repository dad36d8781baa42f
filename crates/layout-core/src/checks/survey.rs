//! The measured room: whether it closes, which measurement is suspect, what is still to be measured.

use crate::document::Survey;
use crate::id::ItemRef;
use crate::snag::{Code, Snag, capital};
use crate::survey::Solved;
use crate::units::Units;

/// Expected errors a residual may be before it is called out.
const LARGE: f64 = 3.29;

/// Snags of a room worked out from its measurements.
pub(crate) fn survey(units: Units, survey: &Survey, solved: &Solved) -> Vec<Snag> {
    let mut snags = Vec::new();
    if !solved.closes {
        open(units, survey, solved, &mut snags);
    }
    if let Some(suspect) = solved.suspect() {
        suspected(units, survey, solved, suspect, &mut snags);
    }
    let helped = solved.freedom > 0 && (solved.closes || !solved.wanted.is_empty());
    if helped {
        loose(survey, solved, &mut snags);
    }
    snags
}

fn open(units: Units, survey: &Survey, solved: &Solved, snags: &mut Vec<Snag>) {
    let Some((row, left)) = solved.furthest() else { return };
    let line = &survey.rows[row];
    let limit = LARGE * line.error * solved.readings[row].checked.sqrt();
    let remedy = match (solved.suspects.len(), solved.redundancy) {
        (1, _) => "Take the suspect measurement again.".to_string(),
        (_, 1) => "One measurement more than needed says that something is wrong, not what. \
                   Measure something more, or each of these again."
            .to_string(),
        _ => "Measure again what has the largest residuals, or expect larger errors.".to_string(),
    };
    snags.push(
        Snag::new(
            Code::SurveyOpen,
            ItemRef::Survey,
            format!(
                "The measured room does not close: {} is out by {} after the errors are shared",
                survey.label(&line.what),
                units.small(left.abs())
            ),
            remedy,
        )
        .measured(left.abs(), limit),
    );
}

fn suspected(
    units: Units,
    survey: &Survey,
    solved: &Solved,
    suspect: usize,
    snags: &mut Vec<Snag>,
) {
    let (line, reading) = (&survey.rows[suspect], &solved.readings[suspect]);
    let (Some(value), Some(others)) = (line.reading(), reading.others) else { return };
    let what = survey.label(&line.what);
    snags.push(
        Snag::new(
            Code::SurveySuspect,
            ItemRef::Survey,
            format!(
                "{} was read as {}; the others make it {}",
                capital(&what),
                units.show(value),
                units.show(others)
            ),
            format!("Measure {what} again."),
        )
        .measured(value, others),
    );
}

fn loose(survey: &Survey, solved: &Solved, snags: &mut Vec<Snag>) {
    let remedy = match solved.wanted.first() {
        Some(next) => format!("Measure {} next.", survey.label(next)),
        None => "No distance between corners holds it: measure an offset.".to_string(),
    };
    let ways =
        if solved.freedom == 1 { "one way".into() } else { format!("{} ways", solved.freedom) };
    snags.push(Snag::new(
        Code::SurveyLoose,
        ItemRef::Survey,
        format!("The measurements leave the shape of the room free in {ways}"),
        remedy,
    ));
}
