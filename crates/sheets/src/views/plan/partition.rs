//! One partition on the plan: the cut frame, its uprights, its boards, its mark and what is fixed to it.

use layout_core::document::{Face, Job};
use layout_core::id::{ItemRef, Kind};
use layout_core::layout::{Layout, WallLayout};
use layout_core::math::meet;
use layout_core::resolve::{End, Hole, Meets};
use layout_core::span::Span;

use super::Sheet;
use crate::picture::{Align, At, Fill, Label, Pen};
use crate::views::signs::{diagonals, point_letters};

/// The plan point of a station and an offset, as a point of the picture.
pub(super) fn at(wall: &WallLayout, station: f64, across: f64) -> At {
    let p = wall.place.plan(station, across);
    At::model(p.x, p.y)
}

/// The four corners of a stretch of the wall.
pub(super) fn strip(wall: &WallLayout, along: Span, across: Span) -> [At; 4] {
    [
        at(wall, along.low, across.low),
        at(wall, along.high, across.low),
        at(wall, along.high, across.high),
        at(wall, along.low, across.high),
    ]
}

/// The direction on paper of `across` mm of paper to the wall's left.
pub(super) fn shift(wall: &WallLayout, along: f64, left: f64) -> (f64, f64) {
    let u = wall.place.along;
    (u.x * along - u.y * left, u.y * along + u.x * left)
}

/// Outlines of the frame between its openings and breaks, as it is cut, `across` wide: stations of each
/// end on the right and on the left.
pub(super) fn solids(wall: &WallLayout) -> Vec<[[f64; 2]; 2]> {
    let holes: Vec<Span> = wall.spec.holes.iter().map(Hole::doorway).collect();
    let runs = wall.spec.runs();
    let parts = runs.into_iter().flat_map(|[start, end]| {
        let (low, high) = (start[0].min(start[1]), end[0].max(end[1]));
        let parts = Span { low, high }.without(&holes);
        parts.into_iter().map(move |part| {
            let from = if part.low > low { [part.low; 2] } else { start };
            let to = if part.high < high { [part.high; 2] } else { end };
            [from, to]
        })
    });
    parts.collect()
}

pub(super) fn draw(sheet: &mut Sheet, layout: &Layout, wall: &WallLayout) {
    let of = ItemRef::Wall(wall.name().clone());
    let spec = &wall.spec;
    for [from, to] in solids(wall) {
        let Span { low, high } = spec.frame;
        let outline = [
            at(wall, from[0], low),
            at(wall, to[0], low),
            at(wall, to[1], high),
            at(wall, from[1], high),
        ];
        sheet.picture.area(outline, Pen::Outline, Fill::Paper, Some(&of));
        let covered = Span { low: from[0].min(from[1]), high: to[0].max(to[1]) };
        sheet.keep_strip_clear(strip(wall, covered, spec.finished));
    }
    for member in &wall.frame.members {
        if matches!(member.mark.kind, Kind::Stud | Kind::Jack | Kind::Slat) {
            let corners = member.solid.ends[0].map(|p| at(wall, p.x, p.y));
            let of = ItemRef::Member { wall: wall.name().clone(), mark: member.mark };
            sheet.picture.area(corners, Pen::Outline, Fill::Timber, Some(&of));
            for line in diagonals(&corners) {
                sheet.picture.line(line, Pen::Thin, Some(&of));
            }
        }
    }
    for face in [Face::Left, Face::Right] {
        let n = finished(wall, face);
        if (n - frame_face(wall, face)).abs() < layout_core::math::SAME {
            continue;
        }
        for board in boards(layout, wall, face) {
            sheet.picture.line(
                [at(wall, board.low, n), at(wall, board.high, n)],
                Pen::Thin,
                Some(&of),
            );
        }
    }
}

fn finished(wall: &WallLayout, face: Face) -> f64 {
    match face {
        Face::Left => wall.spec.finished.high,
        Face::Right => wall.spec.finished.low,
    }
}

fn frame_face(wall: &WallLayout, face: Face) -> f64 {
    match face {
        Face::Left => wall.spec.frame.high,
        Face::Right => wall.spec.frame.low,
    }
}

/// The station of `wall` where a finished face of `other` crosses the finished face `n` of it.
fn crossing(wall: &WallLayout, n: f64, other: &WallLayout, face: Face) -> Option<f64> {
    let p = wall.place.plan(0.0, n);
    let q = other.place.plan(0.0, finished(other, face));
    meet(p, wall.place.along, q, other.place.along)
}

/// Stretches of one finished face that show, openings left out. Where walls meet, faces stop at each
/// other:
///
/// ```text
///   ─────────────────┐        the outer faces of a corner run to where they cross,
///   ───────────┐     │        so do the inner ones
///              │     │
/// ```
fn boards(layout: &Layout, wall: &WallLayout, face: Face) -> Vec<Span> {
    let n = finished(wall, face);
    let side = usize::from(face == Face::Left);
    let mut shown = Span { low: wall.spec.ends[0].at[side], high: wall.spec.ends[1].at[side] };
    let mut hidden: Vec<Span> = wall.spec.holes.iter().map(Hole::doorway).collect();
    // This wall's ends against other walls.
    for (index, end) in wall.spec.ends.iter().enumerate() {
        let (Meets::Butts(name) | Meets::Mitres(name)) = &end.meets else { continue };
        let Some(other) = layout.wall(name) else { continue };
        let inwards = if index == 0 { 1.0 } else { -1.0 };
        let Some((near, far)) = faces_met(wall, n, other, inwards) else { continue };
        let stop = if matches!(end.meets, Meets::Mitres(_)) {
            // Both faces run to where they cross.
            let to = |s: f64| (s - end.at[side]).abs();
            if to(near) < to(far) { near } else { far }
        } else {
            // Past the end of the other wall's frame this is the outer face of a corner.
            let (on_other, _) = other.place.wall(wall.place.plan(end.at[side], n));
            if other.spec.reach().contains(on_other) { near } else { far }
        };
        if index == 0 { shown.low = stop } else { shown.high = stop }
    }
    // What stands in it.
    for b in &wall.spec.breaks {
        let mut covered = Span { low: b.at[0][side], high: b.at[1][side] };
        if let ItemRef::Wall(name) = &b.with
            && let Some(other) = layout.wall(name)
            && let [Some(a), Some(b)] =
                [Face::Left, Face::Right].map(|f| crossing(wall, n, other, f))
        {
            covered = Span::between(a, b);
        }
        hidden.push(covered);
    }
    // Other walls against this one.
    for other in &layout.walls {
        let crosses =
            other.spec.breaks.iter().any(|b| b.with == ItemRef::Wall(wall.name().clone()));
        let butts = |end: &&End| matches!(&end.meets, Meets::Butts(name) if name == wall.name());
        let is_corner = |end: &End| {
            wall.spec
                .ends
                .iter()
                .any(|e| matches!(&e.meets, Meets::Through(name) if name == other.name()))
                && matches!(&end.meets, Meets::Butts(_))
        };
        let ends = other.spec.ends.iter().filter(butts).map(|end| (true, is_corner(end)));
        for (is_end, corner) in ends.chain(crosses.then_some((false, false))) {
            let crossings = [Face::Left, Face::Right].map(|f| crossing(wall, n, other, f));
            let [Some(a), Some(b)] = crossings else { continue };
            let covered = Span::between(a, b);
            let (_, beside) = wall.place.wall(other.place.plan((other.spec.along()).centre(), 0.0));
            if !is_end || (beside > 0.0) == (face == Face::Left) {
                hidden.push(covered);
            }
            if corner {
                shown.low = shown.low.min(covered.low);
                shown.high = shown.high.max(covered.high);
            }
        }
    }
    shown.without(&hidden)
}

/// Where face `n` of `wall` crosses the nearer and the farther finished face of `other`; `inwards` is +1
/// when the wall runs on from there, −1 when it comes from before.
fn faces_met(wall: &WallLayout, n: f64, other: &WallLayout, inwards: f64) -> Option<(f64, f64)> {
    let a = crossing(wall, n, other, Face::Left)?;
    let b = crossing(wall, n, other, Face::Right)?;
    Some(if (a - b) * inwards > 0.0 { (a, b) } else { (b, a) })
}

/// How far from a face the middle of level lettering must stand, mm of paper, to be clear of it.
pub(super) fn clear(wall: &WallLayout, width: f64, height: f64) -> f64 {
    let u = wall.place.along;
    u.y.abs() * width / 2.0 + u.x.abs() * height / 2.0 + 1.6
}

/// The wall's letter, beside it where there is room.
pub(super) fn mark(sheet: &mut Sheet, wall: &WallLayout) {
    let of = ItemRef::Wall(wall.name().clone());
    let along = wall.spec.along();
    let places = [0.5, 0.35, 0.65, 0.2, 0.8, 0.1, 0.9];
    let width = Label::new(at(wall, 0.0, 0.0), wall.name().as_str()).large().width();
    let near = clear(wall, width, 5.0);
    let choices = [near, near + 3.5, near + 7.0]
        .into_iter()
        .flat_map(|off| places.into_iter().map(move |t| (t, off)));
    let label = |t: f64, off: f64, n: f64| {
        let (dx, dy) = shift(wall, 0.0, off);
        let station = along.low + along.length() * t;
        Label::new(at(wall, station, n).shifted(dx, dy), wall.name().as_str()).large().of(&of)
    };
    let labels: Vec<Label> = choices
        .flat_map(|(t, off)| {
            [label(t, off, wall.spec.finished.high), label(t, -off, wall.spec.finished.low)]
        })
        .collect();
    sheet.place(labels);
}

/// First-fix points as lettered squares standing off the face they are on, and fittings in outline.
pub(super) fn fixtures(sheet: &mut Sheet, job: &Job, wall: &WallLayout) {
    let Some(drawn) = job.wall(wall.name()).filter(|_| !sheet.is_far()) else { return };
    for fitting in &drawn.fittings {
        let of = ItemRef::Fitting(fitting.name.clone());
        let n = finished(wall, fitting.face);
        let out = if fitting.face == Face::Left { 1.0 } else { -1.0 };
        let (dx, dy) = shift(wall, 0.0, 2.0 * out);
        let Some(span) = wall.spec.spot(&of).map(|s| s.span) else { continue };
        let (a, b) = (at(wall, span.low, n), at(wall, span.high, n));
        let outline = [a, b, b.shifted(dx, dy), a.shifted(dx, dy)];
        sheet.picture.area(outline, Pen::Thin, Fill::Fitting, Some(&of));
        sheet.keep_clear(&outline);
        let turn = crate::picture::readable(wall.place.along.y.atan2(wall.place.along.x));
        let labels = [4.2, 7.0, 10.0].into_iter().map(|off| {
            let (dx, dy) = shift(wall, 0.0, off * out);
            let middle = at(wall, span.centre(), n).shifted(dx, dy);
            Label::new(middle, fitting.name.as_str()).small().turned(turn).of(&of)
        });
        sheet.place(labels);
    }
    for point in &drawn.points {
        let of = ItemRef::Point(point.name.clone());
        let out = if point.face == Face::Left { 1.0 } else { -1.0 };
        let Some(spot) = wall.spec.spot(&of) else { continue };
        let foot = at(wall, spot.span.centre(), finished(wall, point.face));
        let letters = point_letters(&point.kind);
        let width = Label::new(foot, letters.as_str()).small().width() + 1.4;
        let near = clear(wall, width, 4.0);
        let choices: Vec<(f64, f64, Label)> = [near, near + 4.0, near + 8.0]
            .into_iter()
            .flat_map(|off| [0.0, 5.0, -5.0].map(|along| (along, off)))
            .map(|(along, off)| {
                let (dx, dy) = shift(wall, along, off * out);
                let label = Label::new(foot.shifted(dx, dy), letters.as_str())
                    .small()
                    .align(Align::Centre)
                    .of(&of);
                (dx, dy, label)
            })
            .collect();
        let room = |l: &Label| sheet.crowd.overlap(l.bounds(sheet.scale).grown(0.8));
        let Some((dx, dy, label)) =
            choices.into_iter().min_by(|a, b| room(&a.2).total_cmp(&room(&b.2)))
        else {
            continue;
        };
        let middle = foot.shifted(dx, dy);
        let (half, high) = (label.width() / 2.0 + 0.7, 2.0);
        sheet.picture.line([foot, middle], Pen::Thin, Some(&of));
        let square = [
            middle.shifted(-half, -high),
            middle.shifted(half, -high),
            middle.shifted(half, high),
            middle.shifted(-half, high),
        ];
        sheet.picture.area(square, Pen::Thin, Fill::Paper, Some(&of));
        sheet.keep_clear(&square);
        sheet.picture.label(label);
    }
}
