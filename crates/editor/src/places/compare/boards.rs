//! Every way to lay the boards of a make-up, as a table.

use egui::{ScrollArea, Ui};
use layout_core::compare::{Boarded, Boarding};

use super::{Column, Way, against, cost, count, heads_ui, ink, snags, turns, way_ui};
use crate::command::Command;
use crate::panels::bits::{metres, price, quiet};
use crate::scene::Scene;

/// The columns.
const COLUMNS: [Column; 8] = [
    ("boards", 128.0),
    ("studs at", 60.0),
    ("sheets", 46.0),
    ("waste", 38.0),
    ("joints", 50.0),
    ("noggins", 50.0),
    ("price", 58.0),
    ("snags", 44.0),
];

/// Shows the ways.
pub(super) fn boards_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    ways: &[Boarding],
    old: bool,
    out: &mut Vec<Command>,
) {
    let theme = scene.theme;
    let Some(now) = ways.iter().find(|w| w.now).map(|w| &w.outcome) else {
        ui.label(quiet(theme, "This make-up has no boards: give its faces a layer first."));
        return;
    };
    ui.spacing_mut().item_spacing.y = 0.0;
    heads_ui(ui, scene, &COLUMNS);
    ScrollArea::vertical().id_salt("ways to board").auto_shrink([false, false]).show(ui, |ui| {
        for boarding in ways {
            way_ui(ui, scene, &COLUMNS, &way(scene, boarding, now), old, out);
        }
    });
}

fn way<'a>(scene: &Scene<'_>, boarding: &'a Boarding, was: &Boarded) -> Way<'a> {
    let theme = scene.theme;
    let units = scene.job.units;
    let is = &boarding.outcome;
    let prices = is.price().zip(was.price());
    // Without prices the figure is the timber; sheets stand in their own column.
    let (cost, dearer) = cost(scene, prices, (is.bill.bought, was.bill.bought));
    let snags = snags(&is.opened, &is.closed);
    let sheet = format!("{}×{}", units.show(boarding.sheet.0), units.show(boarding.sheet.1));
    let boards = format!("{} {sheet}", boarding.lay.label());
    let centres = units.show(boarding.centres);
    let (studs_at, from) = match boarding.from {
        None => (centres.clone(), String::new()),
        Some(_) => {
            let end = boarding.counted();
            (format!("{centres}, {}", end.trim_start_matches("the ")), format!(" from {end}"))
        }
    };
    let joints = metres(scene, is.joints);
    let name = format!(
        "Boards {boards} at {centres}{from}{}: {} sheets, {} noggins, price {cost}, snags {snags}",
        Way::sign(boarding.now, boarding.best),
        is.sheets.sheets,
        is.noggins
    );
    let figure = |value: usize, was: usize| (against(value, was), ink(scene, value.cmp(&was)));
    let measured = |text: String, value: f64, was: f64| {
        (text, ink(scene, (value.round() as i64).cmp(&(was.round() as i64))))
    };
    let cells = vec![
        (boards, if boarding.now { theme.accent } else { theme.ink }),
        (studs_at, theme.ink),
        figure(is.sheets.sheets, was.sheets.sheets),
        measured(format!("{:.0} %", is.sheets.waste()), is.sheets.waste(), was.sheets.waste()),
        measured(joints, is.joints, was.joints),
        figure(is.noggins, was.noggins),
        (cost, ink(scene, dearer)),
        (snags, ink(scene, is.opened.len().cmp(&is.closed.len()))),
    ];
    let (now, best, edit) = (boarding.now, boarding.best, &boarding.edit);
    Way { cells, name, more: more(scene, is, was), now, best, edit }
}

/// What does not fit in a row: what is bought, studs, what has no sheet or bar, which snags.
fn more(scene: &Scene<'_>, is: &Boarded, was: &Boarded) -> String {
    let bought = format!(
        "{} and {} of timber to buy",
        count(is.sheets.sheets, "sheet", "sheets"),
        metres(scene, is.bill.bought)
    );
    let mut lines = vec![match is.price() {
        Some(sum) => format!("{bought}: {}", price(&scene.job.saw.currency, sum)),
        None => format!("{bought}; not all of it has a price"),
    }];
    lines.push(format!("{} full-height studs in its walls", against(is.studs, was.studs)));
    if is.sheets.no_sheet > 0 {
        lines.push(count(is.sheets.no_sheet, "board has no sheet", "boards have no sheet"));
    }
    if is.bill.no_bar > 0 {
        lines.push(count(is.bill.no_bar, "piece has no bar", "pieces have no bar"));
    }
    lines.extend(turns(&is.opened, &is.closed));
    lines.join("\n")
}
