//! A piece of timber, to read; and a noggin row, to move.

use layout_core::document::{Edit, Rows};
use layout_core::id::{ItemRef, Mark, Name};

use super::form::Form;
use super::title;
use super::wall::HEIGHTS;
use crate::command::Command;

/// The page of one piece.
pub(super) fn member_page(form: &mut Form<'_, '_>, wall: &Name, mark: Mark) {
    let scene = form.scene;
    let item = ItemRef::Member { wall: wall.clone(), mark };
    if let Some(platform) = scene.layout.platform(wall) {
        super::platform::member_page(form, platform, mark);
        return;
    }
    let Some(laid) = scene.layout.wall(wall) else { return };
    let Some(member) = laid.member(mark) else {
        title(form, &format!("{wall}-{mark}"), "no longer there", &item);
        return;
    };
    title(form, &format!("{wall}-{mark}"), member.role.label(), &item);
    let cut = member.cut();
    let (stations, heights) = (member.solid.stations(), member.solid.heights());
    form.shown(
        "Section",
        format!("{} {}", member.timber.size_in(form.scene.job.units), member.timber.grade()),
    );
    let short = member.solid.shortest_edge();
    if cut.length - short > 0.5 {
        form.shown("Long point", form.scene.job.units.with_unit(laid.cut_length(member)));
        form.shown("Short point", form.scene.job.units.with_unit(short));
    } else {
        form.shown("Cut length", form.scene.job.units.with_unit(laid.cut_length(member)));
    }
    for (name, end) in member.end_names().into_iter().zip(cut.ends) {
        let label = format!("{}{} cut", name[..1].to_uppercase(), &name[1..]);
        form.shown(&label, end.words().unwrap_or_else(|| "square".into()));
    }
    if let Some(rip) = member.solid.rip() {
        form.shown(
            "Ripped",
            format!(
                "{} to {}",
                form.scene.job.units.show(rip.wide),
                form.scene.job.units.with_unit(rip.narrow)
            ),
        );
        form.shown("Rip bevel", layout_core::units::degrees(rip.bevel));
    }
    form.heading("Where it stands");
    let start = laid.spec.along().low;
    form.shown("Near edge at", form.scene.job.units.with_unit(stations.low - start));
    form.shown("Far edge at", form.scene.job.units.with_unit(stations.high - start));
    form.shown("Foot", form.scene.job.units.with_unit(heights.low));
    form.shown("Top", form.scene.job.units.with_unit(heights.high));
    if member.measure_in_place {
        form.note("Measure it in place before cutting.");
    }
    form.ui.add_space(6.0);
    if form.button(&format!("Wall {wall}")) {
        form.out.push(Command::Pick(Some(ItemRef::Wall(wall.clone()))));
    }
}

/// The page of a noggin row.
pub(super) fn row_page(form: &mut Form<'_, '_>, wall: &Name, row: usize) {
    let item = ItemRef::NogginRow { wall: wall.clone(), row };
    let rows = form.scene.layout.wall(wall).map(|w| w.frame.rows.clone()).unwrap_or_default();
    let Some(height) = rows.get(row).copied() else {
        title(form, &format!("Noggin row {}", row + 1), "no longer there", &item);
        return;
    };
    title(form, &format!("Noggin row {}", row + 1), &format!("of wall {wall}"), &item);
    let set = |form: &mut Form<'_, '_>, rows: Option<Rows>| {
        form.edit(Edit::SetRows { wall: wall.clone(), rows });
    };
    if let Some(new) = form.length("Centre above floor", height, HEIGHTS) {
        let mut rows = rows.clone();
        rows[row] = new;
        rows.sort_by(f64::total_cmp);
        set(form, Some(Rows::At(rows)));
    }
    let own = form.scene.job.wall(wall).is_some_and(|w| w.noggin_rows.is_some());
    if form.button("Take this row out") {
        let mut rows = rows.clone();
        rows.remove(row);
        set(form, Some(Rows::At(rows)));
    }
    if own && form.button("Rows as the make-up") {
        set(form, None);
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
