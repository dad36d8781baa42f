//! Sound and fire asked of a wall, against what walls of its make-up typically have. Only a tested system counts: what
//! the table does not know is not known.

use super::stiffness::is_free;
use crate::document::{Finish, Rule};
use crate::id::ItemRef;
use crate::math::SAME;
use crate::resolve::WallSpec;
use crate::snag::{Code, Snag};

/// Plasterboards, by the names of the catalogue. Any other board is not in the table.
const PLASTERBOARDS: [&str; 5] = ["standard", "moisture", "thick", "dense", "plank"];
/// Thinner board is not in the table, mm.
const THICK_ENOUGH: f64 = 12.0;

/// What is asked of a wall that its make-up does not typically have, or that a tested system has to show.
pub(super) fn sound_and_fire(spec: &WallSpec, snags: &mut Vec<Snag>) {
    if let Some(asked) = spec.needs.sound_db {
        let rules = [Rule::SoundOne, Rule::SoundTwo];
        one(spec, ("sound reduction", "dB", asked), rules, Code::SoundShort, snags);
    }
    if let Some(asked) = spec.needs.fire_min {
        let rules = [Rule::FireOne, Rule::FireTwo];
        one(spec, ("fire resistance", "min", asked), rules, Code::FireShort, snags);
    }
}

/// Layers of plasterboard on a face that the table knows.
fn layers(finish: &Finish) -> usize {
    let known = |b: &&crate::document::Board| {
        b.thickness >= THICK_ENOUGH && PLASTERBOARDS.contains(&b.kind.as_str())
    };
    if finish.boards.iter().all(|b| known(&b)) { finish.boards.len() } else { 0 }
}

fn one(
    spec: &WallSpec,
    (what, unit, asked): (&str, &'static str, f64),
    [single, double]: [Rule; 2],
    short: Code,
    snags: &mut Vec<Snag>,
) {
    let known = match layers(&spec.makeup.left).min(layers(&spec.makeup.right)) {
        _ if is_free(spec) => None,
        0 => None,
        1 => Some(single),
        _ => Some(double),
    };
    let wall = format!("wall {} ({})", spec.name, spec.makeup.name);
    let typical = known.map(|rule| spec.rules.value(rule));
    let (code, message, remedy) = match typical {
        Some(value) if value + SAME >= asked => (
            Code::AskTested,
            format!(
                "{asked} {unit} of {what} are asked of {wall}; such walls typically have {value} {unit}"
            ),
            "Get the sheet of a tested system and build exactly that; its openings and gaps count too.",
        ),
        Some(value) => (
            short,
            format!(
                "{asked} {unit} of {what} are asked of {wall}; such walls typically have {value} {unit}"
            ),
            "Choose a make-up with more layers, and get the sheet of a tested system.",
        ),
        None => (
            short,
            format!("{asked} {unit} of {what} are asked of {wall}; what it has is not known"),
            "Ask for a tested system, and build exactly that.",
        ),
    };
    let snag = Snag::new(code, ItemRef::Wall(spec.name.clone()), message, remedy)
        .in_wall(&spec.name, spec.along().centre());
    snags.push(match (typical, known) {
        (Some(value), Some(rule)) => {
            let source = format!("{}; only a tested system counts", spec.rules.source(rule));
            snag.measured_in(unit, value, asked).by(source.as_str().into())
        }
        _ => snag.by("only a tested system counts".into()),
    });
}
