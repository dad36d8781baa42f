//! The lists that are printed: pieces of a wall, levels, walls, openings, signs, batches, bars.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use layout_core::document::{Door, DoorStyle, Job, OpeningKind, Platform, Timber};
use layout_core::frame::{Cut, EndCut, Member, Role};
use layout_core::id::{Mark, Name};
use layout_core::layout::{Framed, Layout, WallLayout};
use layout_core::math::same;
use layout_core::pieces::Batch;
use layout_core::resolve::Meets;
use layout_core::units::{Units, degrees};

use super::Type;
use super::flow::{Block, Cell, Column, GUTTER, table};
use crate::picture::Align;
use crate::views::point_letters;

/// Width of the list of pieces, mm.
pub(super) const PIECES: f64 = 68.0;

pub(super) fn column(title: &'static str, width: f64, align: Align) -> Column {
    Column { title, width, align }
}

/// Every piece of a wall or a platform with a box to tick, like pieces in one row, by section.
pub(super) fn pieces(part: Framed) -> Vec<Block> {
    let units = part.units();
    // Angles have a column of their own where there are some.
    let is_angled = part.frame().members.iter().any(|m| !ends(&m.cut()).is_empty());
    let columns: Vec<Column> = if is_angled {
        vec![
            column("", 3.0, Align::Left),
            column("marks", 12.4, Align::Left),
            column("piece", 15.6, Align::Left),
            column("cut", 10.6, Align::Right),
            column("ends", 14.0, Align::Left),
            column("no.", 4.2, Align::Right),
        ]
    } else {
        vec![
            column("", 3.0, Align::Left),
            column("marks", 19.2, Align::Left),
            column("piece", 21.0, Align::Left),
            column("cut", 13.4, Align::Right),
            column("no.", 5.0, Align::Right),
        ]
    };
    let mut blocks: Vec<Block> = by_section(part)
        .into_iter()
        .map(|(timber, pieces)| {
            let rows = pieces
                .into_iter()
                .map(|(first, cut, marks)| {
                    let star = if first.measure_in_place { " *" } else { "" };
                    let mut row = vec![
                        Cell::Tick,
                        Cell::Strong(ranges(&marks)),
                        Cell::Text(first.role.label().into()),
                        Cell::Text(format!("{}{star}", units.show(cut.length))),
                    ];
                    if is_angled {
                        row.push(Cell::Text(ends(&cut)));
                    }
                    row.push(Cell::Text(marks.len().to_string()));
                    row
                })
                .collect();
            table(
                &format!("{} pieces {} {}", part.name(), timber.size_in(units), timber.grade()),
                &columns,
                rows,
            )
        })
        .collect();
    if let (true, Some(last)) = (has_measured(part), blocks.last_mut()) {
        last.note("* measure in place before you cut", PIECES);
    }
    blocks
}

/// Pieces that are cut alike and called alike: the first of them, how it is cut, the marks of all.
pub(super) type Alike<'a> = (&'a Member, Cut, Vec<Mark>);

/// The pieces of a wall or a platform, like pieces together, in the order of the frame, section by section.
pub(super) fn by_section(part: Framed<'_>) -> BTreeMap<&Timber, Vec<Alike<'_>>> {
    // In the order of the frame, like pieces under the first of them.
    let mut sections: BTreeMap<&Timber, Vec<Alike<'_>>> = BTreeMap::new();
    for member in &part.frame().members {
        // As it is sent to the saw, so that list and saw agree.
        let cut = Cut { length: part.cut_length(member), ..member.cut() };
        let rows = sections.entry(&member.timber).or_default();
        let is_alike = |(first, other, _): &&mut (&Member, Cut, Vec<Mark>)| {
            first.mark.kind == member.mark.kind
                && first.role.label() == member.role.label()
                && same(other.length, cut.length)
                && other.ends == cut.ends
                && first.measure_in_place == member.measure_in_place
        };
        match rows.iter_mut().find(is_alike) {
            Some((_, _, marks)) => marks.push(member.mark),
            None => rows.push((member, cut, vec![member.mark])),
        }
    }
    // Of the noggins the standard bay comes first, then the others.
    for rows in sections.values_mut() {
        rows.sort_by_key(|(first, _, marks)| match first.role {
            Role::Noggin => (first.mark.kind, Reverse(marks.len())),
            _ => (first.mark.kind, Reverse(0)),
        });
    }
    sections
}

/// True when some piece of it is to be measured in place: its list has a star.
pub(super) fn has_measured(part: Framed) -> bool {
    part.frame().members.iter().any(|m| m.measure_in_place)
}

/// The angles of the ends that are not square, start or foot first: “40°”, “22.5° – 45°”.
pub(super) fn ends(cut: &Cut) -> String {
    let one = |end: &EndCut| -> String {
        let angles: Vec<String> = [("", end.bevel), ("m ", end.mitre)]
            .into_iter()
            .filter(|(_, a)| a.to_degrees().abs() >= 0.05)
            .map(|(what, a)| format!("{what}{}", degrees(a)))
            .collect();
        angles.join("+")
    };
    let [a, b] = cut.ends.each_ref().map(one);
    match (a.is_empty(), b.is_empty()) {
        (true, true) => String::new(),
        (true, false) => format!("sq / {b}"),
        (false, true) => format!("{a} / sq"),
        (false, false) => format!("{a} / {b}"),
    }
}

/// Marks with runs drawn together: `S1–S4 S6`.
pub(super) fn ranges(marks: &[Mark]) -> String {
    let mut out: Vec<String> = Vec::new();
    let mut run: Option<(Mark, Mark)> = None;
    let mut close = |run: Option<(Mark, Mark)>| match run {
        None => {}
        Some((a, b)) if a == b => out.push(a.to_string()),
        Some((a, b)) if a.number + 1 == b.number => out.extend([a.to_string(), b.to_string()]),
        Some((a, b)) => out.push(format!("{a}–{b}")),
    };
    for &mark in marks {
        run = match run {
            Some((a, b)) if b.kind == mark.kind && b.number.checked_add(1) == Some(mark.number) => {
                Some((a, mark))
            }
            done => {
                close(done);
                Some((mark, mark))
            }
        };
    }
    close(run);
    out.join(" ")
}

/// Marks of several walls: `A: S1–S4, B: S2`.
pub(super) fn wall_ranges(marks: &[(Name, Mark)]) -> String {
    let mut walls: Vec<(&Name, Vec<Mark>)> = Vec::new();
    for (wall, mark) in marks {
        match walls.iter_mut().find(|(w, _)| *w == wall) {
            Some((_, list)) => list.push(*mark),
            None => walls.push((wall, vec![*mark])),
        }
    }
    walls.iter().map(|(w, m)| format!("{w}: {}", ranges(m))).collect::<Vec<_>>().join(", ")
}

/// Running marks as a list, for a wall too long to have them drawn.
pub(super) fn running(wall: &WallLayout) -> Block {
    let columns = [
        column("", 3.0, Align::Left),
        column("mark", 14.0, Align::Left),
        column("near edge", 20.0, Align::Right),
        column("piece", 26.2, Align::Left),
    ];
    let rows = wall
        .frame
        .running(&wall.spec)
        .into_iter()
        .map(|m| {
            let cells =
                [m.member.to_string(), wall.spec.units.show(m.at), m.role.label().to_string()];
            std::iter::once(Cell::Tick).chain(cells.map(Cell::Text)).collect()
        })
        .collect();
    table("One pull from the start", &columns, rows)
}

/// The walls and what they are made of.
pub(super) fn walls(layout: &Layout) -> Block {
    let columns = [
        column("wall", 10.0, Align::Left),
        column("make-up", 25.2, Align::Left),
        column("centres", 14.0, Align::Right),
        column("finished", 15.0, Align::Right),
    ];
    let rows = layout
        .walls
        .iter()
        .map(|w| {
            vec![
                Cell::Strong(w.name().to_string()),
                Cell::Text(w.spec.makeup.name.to_string()),
                Cell::Text(w.spec.units.show(w.spec.centres)),
                Cell::Text(w.spec.units.fine(w.spec.finished.length())),
            ]
        })
        .collect();
    table("Walls", &columns, rows)
}

/// The platforms, their levels and their joists.
pub(super) fn platforms(job: &Job, layout: &Layout) -> Block {
    let columns = [
        column("", 10.0, Align::Left),
        column("what", 18.2, Align::Left),
        column("level", 11.0, Align::Right),
        column("joists", 25.0, Align::Right),
    ];
    let rows = layout
        .platforms
        .iter()
        .filter_map(|laid| {
            let platform = job.platform(laid.name())?;
            let joists = format!(
                "{} at {}",
                platform.timber.size_in(job.units),
                job.units.show(platform.centres)
            );
            Some(vec![
                Cell::Strong(laid.name().to_string()),
                Cell::Text(platform.kind.label().into()),
                Cell::Text(job.units.show(platform.level)),
                Cell::Text(joists),
            ])
        })
        .collect();
    table("Platforms", &columns, rows)
}

/// The holes of a platform, from its corner.
pub(super) fn platform_holes(job: &Job, platform: &Platform) -> Block {
    let columns = [
        column("", 10.0, Align::Left),
        column("for", 13.2, Align::Left),
        column("size", 19.0, Align::Right),
        column("middle at", 21.0, Align::Right),
    ];
    let rows = platform
        .holes
        .iter()
        .map(|h| {
            vec![
                Cell::Strong(h.name.to_string()),
                Cell::Text(h.kind.label().into()),
                Cell::Text(format!("{}×{}", job.units.show(h.size.0), job.units.show(h.size.1))),
                Cell::Text(format!("{} · {}", job.units.show(h.at.0), job.units.show(h.at.1))),
            ]
        })
        .collect();
    table("Holes from the corner", &columns, rows)
}

/// Where walls meet at an angle: how far they turn, what the saw is set to for their plates, and how far the
/// faces of each frame are apart along it.
pub(super) fn corners(layout: &Layout) -> Option<Block> {
    let columns = [
        column("where", 22.0, Align::Left),
        column("turn", 13.0, Align::Right),
        column("saw", 13.0, Align::Right),
        column("set back", 16.2, Align::Right),
    ];
    let mut rows = Vec::new();
    for (i, wall) in layout.walls.iter().enumerate() {
        for (end, outwards) in wall.spec.ends.iter().zip([-1.0, 1.0]) {
            let set_back = end.spread().length();
            let (other, between) = match &end.meets {
                Meets::Mitres(other) => (other, "–"),
                Meets::Butts(other) => (other, " to "),
                _ => continue,
            };
            let at = layout.walls.iter().position(|w| w.name() == other);
            let mitred_already = between == "–" && at.is_some_and(|j| j < i);
            let Some(at) = at.filter(|_| set_back > 0.5 && !mitred_already) else { continue };
            let saw = (set_back / wall.spec.frame.length()).atan();
            let (u, v) = (wall.place.along * outwards, layout.walls[at].place.along);
            // Mitred walls turn by the angle between the one's way in and the other's way out.
            let cos = u.dot(&v);
            let turn = if between == "–" {
                let into_other =
                    layout.walls[at].spec.ends.iter().zip([1.0, -1.0]).find(
                        |(e, _)| matches!(&e.meets, Meets::Mitres(back) if back == wall.name()),
                    );
                into_other.map_or(cos, |(_, way)| cos * way).clamp(-1.0, 1.0).acos()
            } else {
                cos.abs().clamp(0.0, 1.0).acos()
            };
            rows.push(vec![
                Cell::Strong(format!("{}{between}{other}", wall.name())),
                Cell::Text(degrees(turn)),
                Cell::Text(degrees(saw)),
                Cell::Text(wall.spec.units.show(set_back)),
            ]);
        }
    }
    (!rows.is_empty()).then(|| table("Corners at an angle", &columns, rows))
}

/// The openings: structural hole, leaf, how it is hung, and the width of lining to order.
pub(super) fn openings(job: &Job, layout: &Layout) -> Block {
    let columns = [
        column("", 8.0, Align::Left),
        column("hole", 18.2, Align::Right),
        column("leaf", 17.5, Align::Right),
        column("hand", 9.0, Align::Left),
        column("lining", 8.3, Align::Right),
    ];
    let mut rows = Vec::new();
    // Feet and inches are long: width over height, neither broken.
    let whole = |length: f64| job.units.show(length).replace(' ', "\u{a0}");
    let times = if job.units == Units::Millimetres { "×" } else { "× " };
    let size = |wide: f64, high: f64| format!("{}{times}{}", whole(wide), whole(high));
    for wall in &layout.walls {
        for hole in &wall.spec.holes {
            let high = hole.top - hole.sill.unwrap_or(0.0);
            let [leaf, hand, lining] = match job.opening(&hole.name).map(|(_, o)| &o.kind) {
                Some(OpeningKind::Door(door)) => [
                    size(door.leaf.0, door.leaf.1),
                    hung(door).to_string(),
                    job.units.fine(wall.spec.finished.length()).replace(' ', "\u{a0}"),
                ],
                Some(kind) => [kind.label().to_string(), String::new(), String::new()],
                None => Default::default(),
            };
            let hole_size = size(hole.span.length(), high);
            let cells = [hole_size, leaf, hand, lining].map(Cell::Text);
            rows.push(std::iter::once(Cell::Strong(hole.name.to_string())).chain(cells).collect());
        }
    }
    table("Openings", &columns, rows)
}

/// How a leaf is hung, in a word.
fn hung(door: &Door) -> &'static str {
    match (door.style, door.hand()) {
        (DoorStyle::Sliding, _) => "slides",
        (DoorStyle::Pocket, _) => "pocket",
        (_, Some(hand)) => hand.label(),
        (_, None) => "pair",
    }
}

/// The letters of the first-fix points that are used, in a line; `None` when there are none.
pub(super) fn signs(job: &Job) -> Option<String> {
    let mut used: Vec<(String, String)> = job
        .walls
        .iter()
        .flat_map(|w| &w.points)
        .map(|p| (point_letters(&p.kind), p.kind.label().to_string()))
        .collect();
    used.sort();
    used.dedup();
    let list: Vec<String> =
        used.iter().map(|(letters, name)| format!("{letters} {name}")).collect();
    (!used.is_empty()).then(|| format!("First-fix points: {}.", list.join(" · ")))
}

/// Stop-block batches of one section after another.
pub(super) fn batches(job: &Job, layout: &Layout, width: f64) -> Vec<Block> {
    let batches = layout_core::pieces::batches(layout);
    let sections = batches.chunk_by(|a, b| a.timber == b.timber);
    sections.map(|section| section_batches(job.units, section, width)).collect()
}

fn section_batches(units: Units, batches: &[Batch], width: f64) -> Block {
    // Angles have a column of their own where there are some.
    let is_angled = batches.iter().any(|b| !ends(&b.cut).is_empty());
    let angles = if is_angled { 18.0 + GUTTER } else { 0.0 };
    let marks = width - 3.0 - 8.0 - 16.0 - angles - 3.0 * GUTTER;
    let mut columns = vec![
        column("", 3.0, Align::Left),
        column("no.", 8.0, Align::Right),
        column("cut to", 16.0, Align::Right),
    ];
    if is_angled {
        columns.push(column("ends", 18.0, Align::Left));
    }
    columns.push(column("marks", marks, Align::Left));
    let mut rows = Vec::new();
    for batch in batches {
        let star = if batch.measure_in_place { " *" } else { "" };
        // A long list of marks becomes several rows, so that it can run on to the next column.
        let marks = Type::SMALL.wrap(&wall_ranges(&batch.marks), marks);
        for (i, lines) in marks.chunks(6).enumerate() {
            let of_first = |text: String| if i == 0 { text } else { String::new() };
            let mut row = vec![
                if i == 0 { Cell::Tick } else { Cell::Text(String::new()) },
                Cell::Text(of_first(batch.marks.len().to_string())),
                Cell::Strong(of_first(format!("{}{star}", units.show(batch.cut.length)))),
            ];
            if is_angled {
                row.push(Cell::Text(of_first(ends(&batch.cut))));
            }
            row.push(Cell::Text(lines.join(" ")));
            rows.push(row);
        }
    }
    let timber =
        batches.first().map(|b| format!("{} {}", b.timber.size_in(units), b.timber.grade()));
    table(&format!("Cut {}", timber.unwrap_or_default()), &columns, rows)
}

/// How many pieces of each section, and how long they are together.
pub(super) fn totals(job: &Job, layout: &Layout) -> Block {
    let columns = [
        column("section", 34.0, Align::Left),
        column("pieces", 16.0, Align::Right),
        column(if job.units == Units::Millimetres { "metres" } else { "feet" }, 22.0, Align::Right),
    ];
    let rows = layout_core::pieces::totals(layout)
        .into_iter()
        .map(|t| {
            vec![
                Cell::Strong(format!("{} {}", t.timber.size_in(job.units), t.timber.grade())),
                Cell::Text(t.pieces.to_string()),
                Cell::Text(format!("{:.2}", t.length / job.units.run_step())),
            ]
        })
        .collect();
    table("Totals, net", &columns, rows)
}

#[cfg(test)]
mod tests {
    use layout_core::id::Kind;

    use super::*;

    #[test]
    fn marks_are_drawn_together() {
        let marks: Vec<Mark> =
            [1, 2, 3, 5, 8, 9].map(|number| Mark { kind: Kind::Stud, number }).to_vec();
        assert_eq!(ranges(&marks), "S1–S3 S5 S8 S9");
        assert_eq!(ranges(&[]), "");
        let both = [("A".into(), marks[0]), ("A".into(), marks[1]), ("B".into(), marks[0])];
        assert_eq!(wall_ranges(&both), "A: S1 S2, B: S1");
    }
}
