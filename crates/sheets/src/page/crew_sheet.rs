//! The crew sheet of one wall: one page in type that can be read wet and at arm's length. Where the wall is, its elevation, the
//! marks on its plates, what is cut for it, its levels off the laser, three cautions.

use layout_core::document::{Face, Job};
use layout_core::id::ItemRef;
use layout_core::layout::{Framed, Layout, WallLayout};
use layout_core::math::same;
use layout_core::setout::{from_laser, signed};

use super::cautions::Foot;
use super::drawing::{Drawing, Drawn};
use super::flow::{Block, Row};
use super::lists::{Alike, by_section, ends, ranges};
use super::{Ink, Paper, SCALES, Sheet, Type, cautions, file_name, run_on};
use crate::lettering::Weight;
use crate::picture::{Align, Fill, Item, Pen, Rect, Shape};
use crate::views::{ElevationOptions, PlanOptions, elevation, plan};

/// Width of a column of its lists, mm.
const LISTS: f64 = 54.0;

/// How large its lists are.
#[derive(Clone, Copy)]
struct Size {
    figure: Type,
    text: Type,
    row: f64,
    /// The plan in little is no higher than this, mm.
    thumb: f64,
    /// Marks in a row of their list.
    marks_in_row: usize,
}

const LARGE: Size = Size {
    figure: Type { height: 5.0, weight: Weight::Bold, pen: Pen::Text },
    text: Type::NORMAL,
    row: 7.4,
    thumb: 40.0,
    marks_in_row: 1,
};
const SMALLER: Size =
    Size { figure: Type::HEADING, text: Type::SMALL, row: 5.4, thumb: 34.0, marks_in_row: 2 };

/// What is on the sheet beside its elevation, and how large.
#[derive(Clone, Copy)]
struct Contents {
    size: Size,
    /// The running marks as a list: they are under the elevation as well.
    marks: bool,
    /// How much the crew would miss, to be weighed against a smaller elevation.
    cost: f64,
}

const CHOICES: [Contents; 4] = [
    Contents { size: LARGE, marks: true, cost: 0.0 },
    Contents { size: SMALLER, marks: true, cost: 1.0 },
    Contents { size: LARGE, marks: false, cost: 1.2 },
    Contents { size: SMALLER, marks: false, cost: 2.0 },
];

/// What a crew would miss in an elevation at a scale.
fn cost_of(scale: f64) -> f64 {
    if scale <= 20.0 {
        0.0
    } else if scale <= 25.0 {
        0.3
    } else {
        1.5
    }
}

/// What a crew would mind in a list that goes on in another column.
const SPLIT: f64 = 0.6;

pub(super) fn sheets(job: &Job, layout: &Layout, wall: &WallLayout, paper: Paper) -> Vec<Sheet> {
    let drawn = start(job, layout, wall, paper);
    let draw = |scale: f64, dimensions: bool| {
        let face = Face::Right;
        let options = ElevationOptions { scale, face, dimensions, boards: None, zones: false };
        Drawing::side_by_side(scale, vec![elevation(job, layout, wall, &options)], 0.0)
    };
    // Levels last, or first: whichever splits fewer lists.
    let lists: Vec<(Contents, Vec<Block>)> = CHOICES
        .into_iter()
        .flat_map(|c| {
            let last = blocks(job, layout, wall, c);
            let mut first = last.clone();
            first.rotate_right(2);
            [(c, last), (c, first)]
        })
        .collect();
    let figured = drawn.every(LEAST, |scale| draw(scale, true));
    let costs = figured.iter().flat_map(|d| lists.iter().map(move |(c, blocks)| (d, c, blocks)));
    let mut fitting: Vec<_> = costs
        .filter_map(|(d, c, blocks)| {
            let split = drawn.splits(d, blocks)? as f64;
            Some((c.cost + cost_of(d.scale()) + SPLIT * split, d, blocks))
        })
        .collect();
    fitting.sort_by(|a, b| a.0.total_cmp(&b.0));
    let about = format!(
        "laser {} above the finished floor · datum: {}",
        job.units.show(job.levels.laser),
        job.datum.label
    );
    if let Some((_, drawing, blocks)) = fitting.first() {
        let (sheet, _) = drawn.finish(std::slice::from_ref(*drawing), blocks.to_vec(), &about, "");
        return vec![sheet];
    }
    // A long wall in little, its figures in the list.
    let plain = drawn.every(f64::INFINITY, |scale| draw(scale, false));
    let all = &blocks(job, layout, wall, CHOICES[1]);
    let fits = plain.iter().find(|d| drawn.splits(d, all).is_some()).or(plain.last());
    let chosen = fits.map_or(&[][..], std::slice::from_ref);
    let (first, rest) = drawn.finish(chosen, all.clone(), &about, "the next sheet");
    let title = format!("Crew sheet of wall {}, continued", wall.name());
    let mut sheets = vec![first];
    sheets.extend(run_on(("crew", &title), rest, LISTS, paper));
    sheets
}

fn start(job: &Job, layout: &Layout, wall: &WallLayout, paper: Paper) -> Drawn {
    let name = format!("crew-{}", file_name(wall.name().as_str()));
    let title = format!("Crew sheet of wall {}", wall.name());
    let foot = cautions::of_wall(job, layout, wall);
    Drawn::in_type(name, title, (&foot, Foot::LARGE), LISTS, paper)
}

fn blocks(job: &Job, layout: &Layout, wall: &WallLayout, contents: Contents) -> Vec<Block> {
    let size = contents.size;
    let mut blocks = Vec::new();
    if contents.marks {
        blocks.push(marks(wall, size));
    }
    blocks.extend(cuts(wall, size));
    blocks.push(levels(job, wall, size));
    blocks.push(place(job, layout, wall, size));
    blocks
}

/// Its elevation is not drawn smaller than this with figures: 1:50.
const LEAST: f64 = 50.0;

/// Lines of a list: see [`line`].
fn lines(list: &[(String, String)], size: Size) -> Vec<Row> {
    let room = list.iter().map(|(figure, _)| size.figure.width(figure)).fold(FIGURE, f64::max);
    list.iter().map(|(figure, words)| line(figure, room, words, size)).collect()
}

/// A line of a list: a box, a figure in `wide` mm, and words, in more lines than one where there is no room.
fn line(figure: &str, wide: f64, words: &str, size: Size) -> Row {
    let mut ink = Ink::default();
    let base = size.row - 1.8;
    let right = 5.0 + wide;
    tick(&mut ink, 0.0, base);
    ink.text(right, base, figure, size.figure, Align::Right);
    let room = LISTS - right - 2.0;
    // Smaller before it is wrapped.
    let kind = if size.text.width(words) <= room { size.text } else { Type::SMALL };
    let mut height = size.row;
    for (i, text) in kind.wrap(words, room).into_iter().enumerate() {
        let down = i as f64 * 3.9;
        ink.text(right + 2.0, base + down, text, kind, Align::Left);
        height = size.row + down;
    }
    ink.line([[0.0, height], [LISTS, height]], Pen::Quiet);
    Row { height, ink }
}

/// A box to tick, on a line of lettering.
fn tick(ink: &mut Ink, x: f64, base: f64) {
    ink.rect(Rect::new(x, base - 3.2, 3.4, 3.4), Pen::Outline, Fill::None);
}

/// Least room for a figure, mm.
const FIGURE: f64 = 12.0;

fn block(title: &str, rows: Vec<Row>) -> Block {
    Block { head: vec![Row::heading(title, LISTS)], rows, whole: false }
}

/// Full-height uprights on one pull: the edge nearer the start, the cross beyond it.
fn marks(wall: &WallLayout, size: Size) -> Block {
    let units = wall.spec.units;
    let running = wall.frame.running(&wall.spec);
    let end = (units.show(wall.spec.along().length()), "end".to_string(), "of the frame");
    let all: Vec<(String, String, &str)> = running
        .iter()
        .map(|m| (units.show(m.at), m.member.to_string(), m.role.label()))
        .chain([end])
        .collect();
    let widest = all.iter().map(|(at, ..)| size.figure.width(at)).fold(0.0, f64::max);
    let in_row = if widest > PAIRED { 1 } else { size.marks_in_row };
    let rows = match in_row {
        1 => {
            let list = all.iter().map(|(at, mark, what)| (at.clone(), format!("{mark} {what}")));
            lines(&list.collect::<Vec<_>>(), size)
        }
        _ => all.chunks(2).map(|pair| mark_pair(pair, size)).collect(),
    };
    let mut block = block("Marks, sole and head", rows);
    block.note("One pull from the start: near edges, the cross beyond them.", LISTS);
    block
}

/// Figures wider than this stand one in a row, mm.
const PAIRED: f64 = 13.5;

/// Two marks in a row, read from left to right.
fn mark_pair(pair: &[(String, String, &str)], size: Size) -> Row {
    let mut ink = Ink::default();
    let base = size.row - 1.8;
    let half = LISTS / 2.0;
    for (i, (at, mark, _)) in pair.iter().enumerate() {
        let x = i as f64 * half;
        let right = x + 4.4 + PAIRED;
        tick(&mut ink, x, base);
        ink.text(right, base, at, size.figure, Align::Right);
        let mark = Type::STRONG.fit(mark, x + half - right - 1.4);
        ink.text(right + 1.2, base, mark, Type::STRONG, Align::Left);
    }
    ink.line([[0.0, size.row], [LISTS, size.row]], Pen::Quiet);
    Row { height: size.row, ink }
}

/// What is cut, section by section, the longest first, all of one length together whatever it is for.
fn cuts(wall: &WallLayout, size: Size) -> Vec<Block> {
    let units = wall.spec.units;
    let mut blocks: Vec<Block> = by_section(Framed::Wall(wall))
        .into_iter()
        .map(|(timber, pieces)| {
            let mut lengths: Vec<Alike<'_>> = Vec::new();
            for (first, cut, marks) in pieces {
                let is_alike = |(other, c, _): &&mut Alike<'_>| {
                    same(c.length, cut.length)
                        && c.ends == cut.ends
                        && other.measure_in_place == first.measure_in_place
                };
                match lengths.iter_mut().find(is_alike) {
                    Some((_, _, all)) => all.extend(marks),
                    None => lengths.push((first, cut, marks)),
                }
            }
            lengths.sort_by(|a, b| b.1.length.total_cmp(&a.1.length));
            lengths.iter_mut().for_each(|(_, _, marks)| marks.sort());
            let list = lengths.iter().map(|(first, cut, marks)| {
                let star = if first.measure_in_place { " *" } else { "" };
                let ends = match ends(cut) {
                    none if none.is_empty() => none,
                    ends => format!(", {ends}"),
                };
                let words = format!("{} off{star} {}{ends}", marks.len(), ranges(marks));
                (units.show(cut.length), words)
            });
            let title = format!("Cut {} {}", timber.size_in(units), timber.grade());
            block(&title, lines(&list.collect::<Vec<_>>(), size))
        })
        .collect();
    if let (true, Some(last)) = (super::lists::has_measured(Framed::Wall(wall)), blocks.last_mut())
    {
        last.note("* measure in place before you cut", LISTS);
    }
    blocks
}

/// Openings and plates, from the laser; what they are off the floor is beside the elevation.
fn levels(job: &Job, wall: &WallLayout, size: Size) -> Block {
    let list = layout_core::setout::levels(job, wall)
        .into_iter()
        .rev()
        .map(|l| (signed(job.units, from_laser(job, l.height)), l.name));
    let rows = lines(&list.collect::<Vec<_>>(), size);
    Block { whole: true, ..block("Off the laser", rows) }
}

/// Where the wall is: the plan in little, the wall heavy.
fn place(job: &Job, layout: &Layout, wall: &WallLayout, size: Size) -> Block {
    let mut rows = Vec::new();
    for scale in SCALES.into_iter().filter(|s| *s >= 200.0) {
        let mut picture =
            plan(job, layout, &PlanOptions { scale, dimensions: false, boards: None });
        // Of lettering only the walls' letters: the rest would be larger than what it is of.
        let stays = |item: &Item| {
            !matches!(item.shape, Shape::Text { .. }) || matches!(item.of, Some(ItemRef::Wall(_)))
        };
        picture.items.retain(stays);
        let Some(bounds) = picture.bounds(scale) else { break };
        if bounds.width() > LISTS || bounds.height() > size.thumb {
            continue;
        }
        let mut ink = Ink::default();
        let origin = [(LISTS - bounds.width()) / 2.0 - bounds.min[0], 1.0 + bounds.max[1]];
        ink.picture(&picture, scale, origin);
        let along = wall.spec.along();
        let ends = [along.low, along.high].map(|s| {
            let p = wall.place.plan(s, wall.spec.frame.centre());
            [origin[0] + p.x / scale, origin[1] - p.y / scale]
        });
        ink.line(ends, Pen::Cut);
        for end in ends {
            ink.rect(Rect::about(end[0], end[1], 1.6, 1.6), Pen::Outline, Fill::Existing);
        }
        rows.push(Row { height: bounds.height() + 2.0, ink });
        break;
    }
    Block {
        head: vec![Row::heading(&format!("Where {} is", wall.name()), LISTS)],
        rows,
        whole: true,
    }
}
