//! A piece of timber, to read.

use layout_core::id::{ItemRef, Mark, Name};

use super::form::Form;
use super::title;
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
