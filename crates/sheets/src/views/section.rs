//! The section strip: one cut through a wall from the slab to the ceiling, seen from its start towards its
//! end, so that its left face is on the left.

use layout_core::document::{Face, Job, Sole};
use layout_core::frame::Member;
use layout_core::id::{ItemRef, Kind};
use layout_core::layout::WallLayout;
use layout_core::span::Span;

use super::signs::{corners, diagonals};
use crate::picture::{At, Fill, Label, Pen, Picture};

/// What to show in a section.
#[derive(Clone, Debug, PartialEq)]
pub struct SectionOptions {
    /// Millimetres of model to one of paper: lettering is laid out for it.
    pub scale: f64,
}

/// How far floor and ceiling run on either side of the wall, mm of paper.
const RUN_ON: f64 = 6.0;

/// Draws a section of `wall` through its first bay with a noggin. Model x is the distance across the
/// wall, its left face on the left; model y the height above FFL, as in the elevation.
pub fn section(job: &Job, wall: &WallLayout, options: &SectionOptions) -> Picture {
    let mut picture = Picture::default();
    let station = cut_at(wall);
    let spec = &wall.spec;
    let across = |n: Span| Span::between(-n.low, -n.high);
    let wide = across(spec.finished);
    let level = |height: f64| {
        [
            At::model(wide.low, height).shifted(-RUN_ON, 0.0),
            At::model(wide.high, height).shifted(RUN_ON, 0.0),
        ]
    };

    let slab = job.levels.slab();
    let [a, b] = level(slab);
    picture.area(
        [a.shifted(0.0, -2.0), b.shifted(0.0, -2.0), b, a],
        Pen::None,
        Fill::Existing,
        None,
    );
    let mut top = slab;
    for layer in &job.levels.build_up {
        picture.line(level(top), if top == slab { Pen::Outline } else { Pen::Thin }, None);
        top += layer.thickness;
    }
    picture.line(level(0.0), Pen::Outline, None);
    if spec.ceiling.at(station) - spec.head.at(station) < 600.0 {
        picture.line(level(spec.ceiling.at(station)), Pen::Outline, None);
    }

    // The upright beyond the cut, then the boards, then what is cut through.
    let beyond = wall
        .frame
        .members
        .iter()
        .filter(|m| m.role.is_full_height() && m.solid.stations().low >= station)
        .min_by(|a, b| a.solid.stations().low.total_cmp(&b.solid.stations().low));
    if let Some(stud) = beyond {
        draw(&mut picture, wall, stud, Fill::Timber, false);
    }
    let foot = match spec.sole {
        Sole::Direct { .. } => spec.floor.at(station).max(0.0),
        Sole::Raised { .. } => 0.0,
    };
    for face in [Face::Left, Face::Right] {
        let (mut n, out, finish) = match face {
            Face::Left => (spec.frame.high, 1.0, &spec.makeup.left),
            Face::Right => (spec.frame.low, -1.0, &spec.makeup.right),
        };
        for board in &finish.boards {
            let sheet = across(Span::between(n, n + out * board.thickness));
            let quad = corners((sheet.low, sheet.high), (foot, spec.head.at(station)));
            picture.area(quad, Pen::Thin, Fill::Board, Some(&ItemRef::Wall(wall.name().clone())));
            n += out * board.thickness;
        }
    }
    for member in &wall.frame.members {
        let is_cut = member.solid.stations().contains(station) && !is_upright(member);
        if is_cut {
            draw(&mut picture, wall, member, super::elevation::fill(member.role), true);
        }
    }

    // Under it: the layers from the top down, and how thick the wall is.
    let mut lines: Vec<String> = job
        .levels
        .build_up
        .iter()
        .rev()
        .map(|l| format!("{} {}", l.name, spec.units.fine(l.thickness)))
        .collect();
    lines.push(format!("frame {}", spec.units.fine(spec.frame.length())));
    lines.push(format!("finished {}", spec.units.fine(spec.finished.length())));
    let lowest = picture.bounds(options.scale).map_or(0.0, |b| b.min[1]);
    let under = At::model(wide.centre(), 0.0);
    for (i, line) in lines.into_iter().enumerate() {
        let label = Label::new(under.shifted(0.0, lowest - 3.0 - 3.8 * i as f64), line);
        picture.label(label.small().pen(Pen::Quiet));
    }
    picture
}

fn is_upright(member: &Member) -> bool {
    matches!(member.mark.kind, Kind::Stud | Kind::Jack | Kind::Cripple | Kind::Slat | Kind::Riser)
}

/// Through the first noggin of the frame, or else through the middle of its longest stretch without
/// an opening, a little past the middle so as not to fall on a stud there.
fn cut_at(wall: &WallLayout) -> f64 {
    let members = &wall.frame.members;
    if let Some(noggin) = members.iter().find(|m| m.mark.kind == Kind::Noggin) {
        return noggin.solid.stations().centre();
    }
    let mut taken: Vec<Span> = wall.spec.holes.iter().map(|h| h.span).collect();
    taken.extend(members.iter().filter(|m| is_upright(m)).map(|m| m.solid.stations()));
    let bays = wall.spec.along().without(&taken);
    let longest = bays.into_iter().max_by(|a, b| a.length().total_cmp(&b.length()));
    longest.unwrap_or(wall.spec.along()).centre()
}

/// One piece across the wall; what is cut through is crossed.
fn draw(picture: &mut Picture, wall: &WallLayout, member: &Member, fill: Fill, is_cut: bool) {
    let of = ItemRef::Member { wall: wall.name().clone(), mark: member.mark };
    let (n, z) = (member.solid.across(), member.solid.heights());
    let quad = corners((-n.high, -n.low), (z.low, z.high));
    picture.area(quad, Pen::Outline, fill, Some(&of));
    if is_cut {
        for line in diagonals(&quad) {
            picture.line(line, Pen::Thin, Some(&of));
        }
    }
}
