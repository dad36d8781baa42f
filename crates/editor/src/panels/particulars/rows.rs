//! Noggin rows: the rules of a make-up, the rows of a wall, and one row by itself.

use std::sync::Arc;

use layout_core::document::{
    Edit, MakeUp, NogginLay, NogginSet, RowBase, RowEdge, RowPlace, RowRule, Rows, Wall,
};
use layout_core::frame::{Row, RowFor, own_rules};
use layout_core::id::{ItemRef, Name};

use super::form::{Form, HEIGHTS, choice_ui, number_ui, small_choice};
use super::title;
use crate::command::Command;
use crate::gesture::line_of;

const LAYS: [(NogginLay, &str); 3] = [
    (NogginLay::OnEdge, "on edge"),
    (NogginLay::FlatLeft, "flat, left face"),
    (NogginLay::FlatRight, "flat, right face"),
];
const SETS: [(NogginSet, &str); 2] =
    [(NogginSet::InLine, "in line"), (NogginSet::Staggered, "staggered")];

/// The noggins of a make-up: what finds its rows, and how they are laid.
pub(super) fn of_makeup(form: &mut Form<'_, '_>, makeup: &mut MakeUp) {
    form.heading("Noggins");
    let noggins = &mut makeup.noggins;
    let kind = match &noggins.rows {
        Rows::Auto => 0,
        Rows::At(_) => 1,
        Rows::By(_) => 2,
    };
    let kinds = [(0, "by the height"), (1, "at heights"), (2, "by rules")];
    if let Some(kind) = small_choice(form, "Rows", &kind, &kinds) {
        noggins.rows = match kind {
            0 => Rows::Auto,
            1 => Rows::At(vec![1210.0]),
            _ => Rows::By(vec![
                RowRule::new(RowPlace::usual_joints()),
                RowRule::new(RowPlace::Apart(noggins.apart)),
            ]),
        };
    }
    match &mut noggins.rows {
        Rows::Auto => {
            if let Some(apart) = form.length("Apart at most", noggins.apart, (200.0, 5000.0)) {
                noggins.apart = apart;
            }
        }
        Rows::At(heights) => row_heights(form, heights),
        Rows::By(rules) => row_rules(form, rules),
    }
    if let Some(set) = small_choice(form, "Set", &noggins.set, &SETS) {
        noggins.set = set;
    }
    if let Some(lay) = small_choice(form, "Lying", &noggins.lay, &LAYS) {
        noggins.lay = lay;
    }
    let over = [(true, "go on"), (false, "stop")];
    if let Some(on) = small_choice(form, "Over openings", &noggins.over_heads, &over) {
        noggins.over_heads = on;
    }
    let joints = [(true, "by themselves"), (false, "only where asked for")];
    if let Some(on) = small_choice(form, "At board joints", &noggins.for_boards, &joints) {
        noggins.for_boards = on;
    }
}

fn row_heights(form: &mut Form<'_, '_>, heights: &mut Vec<f64>) {
    let mut gone = None;
    for (i, height) in heights.iter_mut().enumerate() {
        let (new, out) = row_height(form, i, *height);
        if let Some(new) = new {
            *height = new;
        }
        if out {
            gone = Some(i);
        }
    }
    if let Some(i) = gone {
        heights.remove(i);
    }
    if form.button("Add a row") {
        heights.push(heights.last().map_or(1200.0, |top| top + 600.0));
    }
    heights.sort_by(f64::total_cmp);
}

/// The height of one row, and whether it is to go.
fn row_height(form: &mut Form<'_, '_>, i: usize, height: f64) -> (Option<f64>, bool) {
    let label = format!("Row {} centre", i + 1);
    form.row(&label, |ui, scene| {
        let gone = ui.small_button("×").on_hover_text(format!("Take row {} out", i + 1)).clicked();
        (number_ui(ui, scene, &label, height, HEIGHTS, 88.0), gone)
    })
}

/// What kind a rule is, to choose by.
fn rule_kind(place: &RowPlace) -> u8 {
    match place {
        RowPlace::Height { .. } => 0,
        RowPlace::MidHeight => 1,
        RowPlace::BoardJoints { .. } => 2,
        RowPlace::Apart(_) => 3,
    }
}

fn row_rules(form: &mut Form<'_, '_>, rules: &mut Vec<RowRule>) {
    let mut gone = None;
    for (i, rule) in rules.iter_mut().enumerate() {
        let n = i + 1;
        let kinds =
            [(0, "at a height"), (1, "mid-height"), (2, "board joints"), (3, "no further apart")];
        let now = rule_kind(&rule.place);
        let label = format!("Rule {n}");
        let (kind, out) = form.row(&label, |ui, _| {
            let out = ui.small_button("×").on_hover_text(format!("Take rule {n} out")).clicked();
            let kinds = kinds.map(|(k, words)| (k, words.to_owned()));
            (choice_ui(ui, &label, &label, &now, &kinds, 118.0), out)
        });
        if let Some(kind) = kind {
            rule.place = match kind {
                0 => RowRule::at(1200.0).place,
                1 => RowPlace::MidHeight,
                2 => RowPlace::usual_joints(),
                _ => RowPlace::Apart(1200.0),
            };
        }
        if out {
            gone = Some(i);
        }
        match &mut rule.place {
            RowPlace::Height { .. } => height_rows(form, &mut rule.place, &format!("Row {n}")),
            RowPlace::MidHeight => {}
            RowPlace::BoardJoints { board, gap } => {
                if let Some(new) = form.length(&format!("Board width {n}"), *board, (100.0, 3000.0))
                {
                    *board = new;
                }
                if let Some(new) = form.length(&format!("Floor gap {n}"), *gap, (0.0, 500.0)) {
                    *gap = new;
                }
            }
            RowPlace::Apart(apart) => {
                if let Some(new) =
                    form.length(&format!("Apart at most {n}"), *apart, (200.0, 5000.0))
                {
                    *apart = new;
                }
            }
        }
    }
    if let Some(i) = gone {
        rules.remove(i);
    }
    if form.button("Add a rule") {
        rules.push(RowRule::new(RowPlace::MidHeight));
    }
}

/// Height of a row, what of the noggin it is taken to and what it is taken from.
fn height_rows(form: &mut Form<'_, '_>, place: &mut RowPlace, named: &str) {
    let RowPlace::Height { height, to, above } = place else { return };
    if let Some(new) = form.length(&format!("{named} height"), *height, HEIGHTS) {
        *height = new;
    }
    let edges = [
        (RowEdge::Centre, "its centre"),
        (RowEdge::Top, "its top"),
        (RowEdge::Underside, "its underside"),
    ];
    if let Some(new) = small_choice(form, &format!("{named} to"), to, &edges) {
        *to = new;
    }
    let bases = [(RowBase::Floor, "finished floor"), (RowBase::Sole, "top of sole")];
    if let Some(new) = small_choice(form, &format!("{named} from"), above, &bases) {
        *above = new;
    }
}

/// The rows of a wall, whoever asked for them; changing one gives the wall its own.
pub(super) fn of_wall(form: &mut Form<'_, '_>, wall: &Arc<Wall>) {
    form.heading("Noggin rows");
    let rows = form.scene.layout.wall(&wall.name).map(|w| w.frame.rows.clone()).unwrap_or_default();
    let set = |form: &mut Form<'_, '_>, rows: Option<Rows>| {
        form.edit(Edit::SetRows { wall: wall.name.clone(), rows });
    };
    for (i, row) in rows.iter().enumerate() {
        if row.why.is_needed() {
            let height = form.scene.job.units.show(row.height);
            form.shown(&format!("Row {} centre", i + 1), format!("{height}, {}", row.why.label()));
            continue;
        }
        let (new, gone) = row_height(form, i, row.height);
        if gone || new.is_some() {
            let mut rules = own_rules(&rows, Some(i));
            rules.extend(new.filter(|_| !gone).map(|new| row.raised_to(new)));
            set(form, Some(Rows::own(rules)));
        }
    }
    if rows.is_empty() {
        form.note("None in this wall.");
    }
    let own = wall.noggin_rows.is_some();
    let (add, back) = form
        .ui
        .horizontal(|ui| {
            let add = ui.button("Add a row").clicked();
            let back = own && ui.link("As the make-up").clicked();
            (add, back)
        })
        .inner;
    if back {
        set(form, None);
    } else if add {
        let top = rows.last().map_or(600.0, |r| r.height);
        let mut rules = own_rules(&rows, None);
        rules.push(RowRule::at(top + 600.0));
        set(form, Some(Rows::own(rules)));
    }
}

/// The page of a noggin row.
pub(super) fn row_page(form: &mut Form<'_, '_>, wall: &Name, row: usize) {
    let item = ItemRef::NogginRow { wall: wall.clone(), row };
    let Some(laid) = form.scene.layout.wall(wall) else { return };
    let rows = &laid.frame.rows;
    let Some(held) = rows.get(row) else {
        title(form, &format!("Noggin row {}", row + 1), "no longer there", &item);
        return;
    };
    title(form, &format!("Noggin row {}", row + 1), &format!("of wall {wall}"), &item);
    if held.why.is_needed() {
        needed_row(form, wall, held);
        return;
    }
    let mut rules = own_rules(rows, Some(row));
    let mut own = held.rule.clone();
    let rule = &mut own;
    if let Some(new) = form.length("Centre above floor", held.height, HEIGHTS) {
        *rule = held.raised_to(new);
    }
    edge_rows(form, rule, held.height, laid);
    part_rows(form, rule, wall);
    let noggins = &laid.spec.makeup.noggins;
    if let Some(lay) = small_choice(form, "Lying", &rule.lay.unwrap_or(noggins.lay), &LAYS) {
        rule.lay = (lay != noggins.lay).then_some(lay);
    }
    if let Some(set) = small_choice(form, "Set", &rule.set.unwrap_or(noggins.set), &SETS) {
        rule.set = (set != noggins.set).then_some(set);
    }
    let changed = own != held.rule;
    if form.button("Take this row out") {
        form.edit(Edit::SetRows { wall: wall.clone(), rows: Some(Rows::own(rules)) });
    } else if changed {
        rules.push(own);
        form.edit(Edit::SetRows { wall: wall.clone(), rows: Some(Rows::own(rules)) });
    }
    let own = form.scene.job.wall(wall).is_some_and(|w| w.noggin_rows.is_some());
    if own && form.button("Rows as the make-up") {
        form.edit(Edit::SetRows { wall: wall.clone(), rows: None });
    }
    form.note(if own {
        "This wall has rows of its own."
    } else {
        "These rows are the make-up's; moving one gives this wall its own."
    });
    form.ui.add_space(6.0);
    if form.button(&format!("Wall {wall}")) {
        form.out.push(Command::Pick(Some(ItemRef::Wall(wall.clone()))));
    }
}

/// A row that what is on the wall needs: where it is and why, and where that is said.
fn needed_row(form: &mut Form<'_, '_>, wall: &Name, held: &Row) {
    form.shown("Centre above floor", form.scene.job.units.show(held.height));
    form.note(match held.why {
        RowFor::Tiles => "For tiles: rows no further apart than the make-up says for a tiled face.",
        _ => "For board joints: the boards are joined here. It goes where they go.",
    });
    form.ui.add_space(6.0);
    if let Some(makeup) = form.scene.job.wall(wall).map(|w| w.makeup.clone())
        && form.button(&format!("Make-up {makeup}"))
    {
        form.out.push(Command::Pick(Some(ItemRef::MakeUp(makeup))));
    }
    if form.button(&format!("Wall {wall}")) {
        form.out.push(Command::Pick(Some(ItemRef::Wall(wall.clone()))));
    }
}

/// What of the noggin its height is taken to, and from where. The row stays where it is.
fn edge_rows(
    form: &mut Form<'_, '_>,
    rule: &mut RowRule,
    centre: f64,
    laid: &layout_core::layout::WallLayout,
) {
    let before = rule.clone();
    height_rows(form, &mut rule.place, "Row");
    let (
        RowPlace::Height { height, to, above },
        RowPlace::Height { height: old, to: old_to, above: old_above },
    ) = (&mut rule.place, &before.place)
    else {
        return;
    };
    if (*to, *above) == (*old_to, *old_above) || *height != *old {
        return;
    }
    let timber = &laid.spec.makeup.timber;
    let high = match rule.lay.unwrap_or(laid.spec.makeup.noggins.lay) {
        NogginLay::OnEdge => timber.thickness(),
        NogginLay::FlatLeft | NogginLay::FlatRight => timber.depth(),
    };
    let sole = laid
        .frame
        .members
        .iter()
        .filter(|m| m.role.is_full_height())
        .map(|m| m.solid.heights().low)
        .fold(f64::NEG_INFINITY, f64::max);
    let base = match above {
        RowBase::Sole if sole.is_finite() => sole,
        _ => 0.0,
    };
    *height = centre - base
        + match to {
            RowEdge::Centre => 0.0,
            RowEdge::Top => high / 2.0,
            RowEdge::Underside => -high / 2.0,
        };
}

/// The part of the wall a row is in.
fn part_rows(form: &mut Form<'_, '_>, rule: &mut RowRule, wall: &Name) {
    let length = line_of(form.scene.job, wall).map_or(0.0, |l| l.2);
    let whole = rule.from.is_none() && rule.to.is_none();
    let parts = [(true, "the whole wall"), (false, "a part of it")];
    if let Some(whole) = small_choice(form, "Runs over", &whole, &parts) {
        (rule.from, rule.to) = if whole { (None, None) } else { (Some(0.0), Some(length)) };
    }
    if whole {
        return;
    }
    let (from, to) = (rule.from.unwrap_or(0.0), rule.to.unwrap_or(length));
    if let Some(new) = form.length("From station", from, (-500.0, to)) {
        rule.from = Some(new);
    }
    if let Some(new) = form.length("To station", to, (from, length.max(to) + 500.0)) {
        rule.to = Some(new);
    }
}
