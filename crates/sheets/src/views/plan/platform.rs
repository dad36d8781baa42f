//! Platforms on the plan: what is above, so dashed, with the joists as light lines.

use layout_core::document::Job;
use layout_core::frame::{Role, Solid};
use layout_core::id::ItemRef;
use layout_core::layout::PlatformLayout;

use super::Sheet;
use crate::picture::{At, Label, Pen};
use crate::views::signs::diagonals;

pub(super) fn draw(sheet: &mut Sheet, job: &Job, laid: &PlatformLayout) {
    let Some(platform) = job.platform(laid.name()) else { return };
    let of = ItemRef::Platform(laid.name().clone());
    let at = |u: f64, v: f64| {
        let p = platform.plan(u, v);
        At::model(p.x, p.y)
    };
    if !sheet.is_far() {
        for member in &laid.frame.members {
            let joist = matches!(
                member.role,
                Role::Joist | Role::TrimmingJoist | Role::TailJoist | Role::Trimmer
            );
            if joist {
                let [a, b] = middle(&member.solid);
                sheet.picture.line([at(a.0, a.1), at(b.0, b.1)], Pen::Quiet, Some(&of));
            }
        }
    }
    let (w, d) = platform.size;
    let corners = [at(0.0, 0.0), at(w, 0.0), at(w, d), at(0.0, d)];
    for i in 0..4 {
        sheet.picture.line([corners[i], corners[(i + 1) % 4]], Pen::Hidden, Some(&of));
    }
    for hole in &platform.holes {
        let of = ItemRef::PlatformHole(hole.name.clone());
        let ((u, v), (w, d)) = (hole.at, (hole.size.0 / 2.0, hole.size.1 / 2.0));
        let corners = [at(u - w, v - d), at(u + w, v - d), at(u + w, v + d), at(u - w, v + d)];
        for i in 0..4 {
            sheet.picture.line([corners[i], corners[(i + 1) % 4]], Pen::Hidden, Some(&of));
        }
        for line in diagonals(&corners) {
            sheet.picture.line(line, Pen::Thin, Some(&of));
        }
        sheet.keep_strip_clear(corners);
    }
}

/// The name, and the level; and the names of its holes.
pub(super) fn mark(sheet: &mut Sheet, job: &Job, laid: &PlatformLayout) {
    let Some(platform) = job.platform(laid.name()) else { return };
    let of = ItemRef::Platform(laid.name().clone());
    let (w, d) = platform.size;
    let down = [0.3, 0.7, 0.15, 0.85, 0.5, 0.4, 0.6];
    let shares = [0.5, 0.7, 0.3].into_iter().flat_map(|u| down.map(|v| (u, v)));
    let places: Vec<At> = shares
        .map(|(u, v)| {
            let p = platform.plan(w * u, d * v);
            At::model(p.x, p.y)
        })
        .collect();
    // In full where there is room, or else its name and its level.
    let level = job.units.show(platform.level);
    let full = format!("{} {} {level}", platform.name, platform.kind.label());
    let short = format!("{} {level}", platform.name);
    let choices = [full, short].into_iter().flat_map(|text| {
        let label = Label::new(At::model(0.0, 0.0), text).small().of(&of);
        places.iter().map(move |at| label.clone().at(*at)).collect::<Vec<_>>()
    });
    sheet.place(choices);
    if sheet.is_far() {
        return;
    }
    for hole in &platform.holes {
        let of = ItemRef::PlatformHole(hole.name.clone());
        let p = platform.plan(hole.at.0, hole.at.1);
        let (x, y) = (hole.size.0 / 2.0 / sheet.scale, hole.size.1 / 2.0 / sheet.scale);
        let label = Label::new(At::model(p.x, p.y), hole.name.as_str()).small().of(&of);
        let half = label.width() / 2.0 + 1.0;
        let choices = [(0.0, y + 2.7), (0.0, -y - 2.7), (x + half, 0.0), (-x - half, 0.0)]
            .map(|(dx, dy)| label.clone().at(At::model(p.x, p.y).shifted(dx, dy)));
        sheet.crowd.place(&mut sheet.picture, sheet.scale, choices);
    }
}

/// The middle line of a piece that lies flat, from end to end.
fn middle(solid: &Solid) -> [(f64, f64); 2] {
    let (x, y) = (solid.stations(), solid.across());
    if x.length() > y.length() {
        [(x.low, y.centre()), (x.high, y.centre())]
    } else {
        [(x.centre(), y.low), (x.centre(), y.high)]
    }
}
