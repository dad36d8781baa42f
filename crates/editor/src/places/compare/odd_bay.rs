//! The odd bay of a wall, at every usual spacing, as a table.

use egui::{ScrollArea, Stroke, Ui};
use layout_core::compare::{Choice, Outcome};

use super::{Column, Way, against, heads_ui, ink, more, snags, timber_cost, way_ui};
use crate::command::Command;
use crate::panels::bits::quiet;
use crate::scene::Scene;

/// The columns.
const COLUMNS: [Column; 8] = [
    ("odd bay", 118.0),
    ("centres", 52.0),
    ("pieces", 48.0),
    ("studs", 42.0),
    ("noggins", 54.0),
    ("lengths", 52.0),
    ("price", 66.0),
    ("snags", 60.0),
];

/// Shows the choices.
pub(super) fn choices_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    choices: &[Choice],
    old: bool,
    out: &mut Vec<Command>,
) {
    let theme = scene.theme;
    let Some(now) = choices.iter().find(|c| c.now).map(|c| &c.outcome) else {
        ui.label(quiet(theme, "This wall cannot be framed as it is."));
        return;
    };
    ui.spacing_mut().item_spacing.y = 0.0;
    heads_ui(ui, scene, &COLUMNS);
    ScrollArea::vertical().id_salt("odd bay choices").auto_shrink([false, false]).show(ui, |ui| {
        let mut last = None;
        for choice in choices {
            if last.is_some_and(|c: f64| (c - choice.centres).abs() > 0.01) {
                ui.add_space(3.0);
                let line = ui.available_rect_before_wrap();
                let ink = Stroke::new(1.0, theme.hairline);
                ui.painter().hline(line.x_range(), line.top(), ink);
                ui.add_space(3.0);
            }
            last = Some(choice.centres);
            way_ui(ui, scene, &COLUMNS, &way(scene, choice, now), old, out);
        }
    });
}

fn way<'a>(scene: &Scene<'_>, choice: &'a Choice, now: &Outcome) -> Way<'a> {
    let theme = scene.theme;
    let (outcome, wall, was) = (&choice.outcome, &choice.outcome.wall, &now.wall);
    let (cost, dearer) = timber_cost(scene, outcome, now);
    let snags = snags(&outcome.opened, &outcome.closed);
    let (bay, centres) = (choice.words(), scene.job.units.show(choice.centres));
    let name = format!(
        "Odd bay {bay} at {centres}{}: {} pieces, {} studs, price {cost}, snags {snags}",
        Way::sign(choice.now, choice.best),
        wall.pieces,
        wall.studs
    );
    let figure = |value: usize, was: usize| (against(value, was), ink(scene, value.cmp(&was)));
    let cells = vec![
        (bay, if choice.now { theme.accent } else { theme.ink }),
        (centres, theme.ink),
        figure(wall.pieces, was.pieces),
        figure(wall.studs, was.studs),
        figure(wall.noggins, was.noggins),
        figure(wall.lengths, was.lengths),
        (cost, ink(scene, dearer)),
        (snags, ink(scene, outcome.opened.len().cmp(&outcome.closed.len()))),
    ];
    let (now, best, edit) = (choice.now, choice.best, &choice.edit);
    Way { cells, name, more: more(scene, outcome), now, best, edit }
}
