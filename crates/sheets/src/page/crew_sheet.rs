//! The crew sheet of one wall: one page in type that can be read wet and at arm's length. Where the wall is, its elevation, the
//! marks on its plates, what is cut for it, its levels off the laser, three cautions.

use layout_core::document::{Face, Job};
use layout_core::layout::{Framed, Layout, WallLayout};
use layout_core::setout::{from_laser, signed};

use super::cautions::Foot;
use super::drawing::{Drawing, Drawn};
use super::flow::{Block, Row};
use super::lists::{alike_pieces, ranges};
use super::{Ink, Paper, SCALES, Sheet, Type, cautions, file_name, run_on};
use crate::lettering::Weight;
use crate::picture::{Align, Fill, Pen, Rect};
use crate::views::{ElevationOptions, PlanOptions, elevation, plan};

/// Width of a column of its lists, mm.
const LISTS: f64 = 72.0;
/// The plan in little is no higher than this, mm.
const THUMB: f64 = 40.0;

/// How large its lists are.
#[derive(Clone, Copy)]
struct Size {
    figure: Type,
    text: Type,
    row: f64,
}

const LARGE: Size = Size {
    figure: Type { height: 5.0, weight: Weight::Bold, pen: Pen::Text },
    text: Type::NORMAL,
    row: 7.4,
};
const SMALLER: Size = Size { figure: Type::HEADING, text: Type::SMALL, row: 5.4 };

pub(super) fn sheets(job: &Job, layout: &Layout, wall: &WallLayout, paper: Paper) -> Vec<Sheet> {
    let (first, rest) = put_together(job, layout, wall, paper, LARGE);
    if rest.is_empty() {
        return vec![first];
    }
    // A long wall has more marks than go on in large type.
    let (first, rest) = put_together(job, layout, wall, paper, SMALLER);
    let title = format!("Crew sheet of wall {}, continued", wall.name());
    let mut sheets = vec![first];
    sheets.extend(run_on(("crew", &title), rest, LISTS, paper));
    sheets
}

fn put_together(
    job: &Job,
    layout: &Layout,
    wall: &WallLayout,
    paper: Paper,
    size: Size,
) -> (Sheet, Vec<Block>) {
    let name = format!("crew-{}", file_name(wall.name().as_str()));
    let title = format!("Crew sheet of wall {}", wall.name());
    let foot = cautions::of_wall(job, layout, wall);
    let drawn = Drawn::in_type(name, title, (&foot, Foot::LARGE), LISTS, paper);
    let blocks = vec![
        marks(wall, size),
        cuts(wall, size),
        levels(job, wall, size),
        place(job, layout, wall),
    ];
    let draw = |scale: f64, dimensions: bool| {
        let face = Face::Right;
        let options = ElevationOptions { scale, face, dimensions, boards: None, zones: false };
        Drawing::side_by_side(scale, vec![elevation(job, layout, wall, &options)], 0.0)
    };
    // Smaller drawings leave room for lists, which matter more here.
    let mut drawings = drawn.every(LEAST, |scale| draw(scale, true));
    if drawings.is_empty() {
        drawings = drawn.every(f64::INFINITY, |scale| draw(scale, false));
    }
    let about = format!(
        "datum: {} · laser {} above the finished floor",
        job.datum.label,
        job.units.show(job.levels.laser)
    );
    drawn.finish(&drawings, blocks, &about, "the next sheet")
}

/// Its elevation is not drawn smaller than this with figures: 1:100.
const LEAST: f64 = 100.0;

/// A line of a list: a box, a figure, and words that give way to it.
fn line(figure: &str, words: &str, size: Size) -> Row {
    let mut ink = Ink::default();
    let base = size.row - 1.8;
    ink.rect(Rect::new(0.0, base - 3.2, 3.4, 3.4), Pen::Outline, Fill::None);
    let right = 5.0 + FIGURE.max(size.figure.width(figure));
    ink.text(right, base, figure, size.figure, Align::Right);
    let room = LISTS - right - 2.0;
    // Smaller before it is cut short.
    let kind = if size.text.width(words) <= room { size.text } else { Type::SMALL };
    ink.text(right + 2.0, base, kind.fit(words, room), kind, Align::Left);
    ink.line([[0.0, size.row], [LISTS, size.row]], Pen::Quiet);
    Row { height: size.row, ink }
}

/// Room for a figure, mm.
const FIGURE: f64 = 21.0;

fn block(title: &str, rows: Vec<Row>) -> Block {
    Block { head: vec![Row::heading(title, LISTS)], rows, whole: false }
}

/// Full-height uprights on one pull: the edge nearer the start, the cross beyond it.
fn marks(wall: &WallLayout, size: Size) -> Block {
    let units = wall.spec.units;
    let running = wall.frame.running(&wall.spec);
    let mut rows: Vec<Row> = running
        .iter()
        .map(|m| line(&units.show(m.at), &format!("{} {} →×", m.member, m.role.label()), size))
        .collect();
    rows.push(line(&units.show(wall.spec.along().length()), "end of the frame", size));
    block("Marks, sole and head, one pull", rows)
}

/// What is cut, like pieces together.
fn cuts(wall: &WallLayout, size: Size) -> Block {
    let units = wall.spec.units;
    let rows = alike_pieces(Framed::Wall(wall))
        .into_iter()
        .map(|(member, cut, marks)| {
            let star = if member.measure_in_place { " *" } else { "" };
            let words =
                format!("{} off{star} {} {}", marks.len(), member.role.label(), ranges(&marks));
            line(&units.show(cut.length), &words, size)
        })
        .collect();
    let mut block = block("Cut", rows);
    if super::lists::has_measured(Framed::Wall(wall)) {
        block.note("* measure in place before you cut", LISTS);
    }
    block
}

/// Openings and plates, from the laser.
fn levels(job: &Job, wall: &WallLayout, size: Size) -> Block {
    let units = job.units;
    let rows = layout_core::setout::levels(job, wall)
        .into_iter()
        .rev()
        .map(|l| {
            let words = format!("{} ({})", l.name, units.show(l.height));
            line(&signed(units, from_laser(job, l.height)), &words, size)
        })
        .collect();
    block("Off the laser (off the floor)", rows)
}

/// Where the wall is: the plan in little, the wall heavy.
fn place(job: &Job, layout: &Layout, wall: &WallLayout) -> Block {
    let mut rows = Vec::new();
    for scale in SCALES.into_iter().filter(|s| *s >= 200.0) {
        let picture = plan(job, layout, &PlanOptions { scale, dimensions: false, boards: None });
        let Some(bounds) = picture.bounds(scale) else { break };
        if bounds.width() > LISTS || bounds.height() > THUMB {
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
