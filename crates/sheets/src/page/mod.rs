//! Pages: pictures, lists and a title strip laid out on paper.
//!
//! Preview, PDF and SVG are all made from the same [`Page`]s. For whoever measures a print: the line of
//! [`Paper::check_line`] is exactly 100 mm long; a drawing is at the scale of its page, so a stud
//! 46 mm thick is 46 / scale mm wide on paper.

mod ink;
mod flow;
mod strip;
mod cautions;
mod drawing;
mod lists;
mod levels;
mod doors;
mod backing;
mod insulation;
mod parts;
mod plan_sheet;
mod plans;
mod long_wall;
mod wall_sheet;
mod platform_sheet;
mod first_fix_sheet;
mod face_sheet;
mod bars;
mod saw_sheet;
mod snag_sheet;
mod cut_sheet;
mod board_sheet;
mod yard_sheet;
mod setout_sheet;
mod marks_sheet;
mod rod_sheet;
mod label_sheet;
mod crew_sheet;
mod detail_sheet;
mod part;
mod set;
mod change_sheet;

use std::ops::Range;

use layout_core::document::Job;

use crate::picture::{Align, Picture, Rect};

pub use change_sheet::change_set;
pub(crate) use ink::hatched;
pub use ink::{Ink, Mark, Type};
pub use label_sheet::LabelSheet;
pub use part::{Part, Sort};
pub use set::{PrintOptions, Progress, print_set, print_set_telling};
pub use strip::Paper;

/// One page, ready for paper or screen.
///
/// x runs right and y down, in millimetres from the top left corner of the sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Page {
    /// A short name for files: `1-plan`, `2-wall-A`.
    pub name: String,
    /// What it is called in bookmarks and lists: “Plan”, “Wall A”.
    pub title: String,
    /// Width of the sheet, mm.
    pub width: f64,
    /// Height of the sheet, mm.
    pub height: f64,
    /// Millimetres of model to one of paper in its drawing, when it has one.
    pub scale: Option<f64>,
    /// Where the parts of the page are, none over another: drawing, lists, title strip.
    pub parts: Vec<Rect>,
    /// What is on it.
    pub ink: Ink,
    /// Which of its marks are drawings, each a stretch of them, in order; the others are lists and the title strip.
    pub drawings: Vec<Range<usize>>,
}

/// Scales a drawing may have: ISO 5455, and the 1:25 that timber frames are often drawn at.
const SCALES: [f64; 13] =
    [10.0, 20.0, 25.0, 50.0, 100.0, 200.0, 500.0, 1e3, 2e3, 5e3, 1e4, 1e5, 1e6];

/// A page before it knows its number.
struct Sheet {
    name: String,
    title: String,
    scale: Option<f64>,
    parts: Vec<Rect>,
    ink: Ink,
    /// Which of its marks are drawings.
    drawings: Vec<Range<usize>>,
    /// Its own paper, when it lies otherwise than the set.
    paper: Option<Paper>,
    /// Width and height of a sheet without border and title strip: a sheet of labels.
    bare: Option<(f64, f64)>,
}

impl Sheet {
    fn new(name: impl Into<String>, title: impl Into<String>) -> Sheet {
        Sheet {
            name: name.into(),
            title: title.into(),
            scale: None,
            parts: Vec::new(),
            ink: Ink::default(),
            drawings: Vec::new(),
            paper: None,
            bare: None,
        }
    }

    /// Draws `picture` with its lower left corner, as it comes out on paper, at a place on the page.
    fn draw(&mut self, picture: &Picture, scale: f64, bounds: Rect, [x, bottom]: [f64; 2]) {
        let from = self.ink.marks.len();
        self.ink.picture(picture, scale, [x - bounds.min[0], bottom + bounds.min[1]]);
        self.drawings.push(from..self.ink.marks.len());
        self.scale = Some(scale);
        self.parts.push(Rect::new(x, bottom - bounds.height(), bounds.width(), bounds.height()));
    }

    /// Draws lists in columns and remembers where they are.
    fn lists(&mut self, set: &flow::Arranged) {
        let mut ink = Ink::default();
        set.draw(&mut ink);
        self.parts.extend(set.parts());
        self.ink.put(ink, 0.0, 0.0);
    }

    fn page(mut self, job: &Job, options: &PrintOptions, page: (usize, usize)) -> Page {
        let paper = self.paper.unwrap_or(options.paper);
        let title = strip::Title {
            job: &job.title,
            sheet: &self.title,
            scale: self.scale,
            date: &options.date,
            crew_copy: job.crew_copies.last().map(|copy| copy.letter.as_str()),
            page,
            units: job.units,
        };
        if self.bare.is_none() {
            strip::draw(&mut self.ink, paper, &title);
            self.parts.push(paper.strip());
        }
        let (width, height) = self.bare.unwrap_or(paper.size());
        Page {
            name: format!("{}-{}", page.0, self.name),
            title: self.title,
            width,
            height,
            scale: self.scale,
            parts: self.parts,
            ink: self.ink,
            drawings: self.drawings,
        }
    }
}

/// Sheets of lists only, as many as it takes.
fn run_on(
    (name, title): (&str, &str),
    blocks: Vec<flow::Block>,
    width: f64,
    paper: Paper,
) -> Vec<Sheet> {
    let area = paper.area();
    let count = ((area.width() + GAP) / (width + GAP)) as usize;
    let columns = flow::columns(area, count.max(1), width, GAP);
    let mut sheets = Vec::new();
    let mut blocks = blocks;
    while !blocks.is_empty() {
        let set = flow::arrange(&blocks, &columns);
        let mut sheet = Sheet::new(name, title);
        sheet.lists(&set);
        let rest = set.rest;
        sheets.push(sheet);
        match rest {
            Some(rest) => blocks = flow::rest(blocks, rest),
            None => break,
        }
    }
    sheets
}

/// Distance between a drawing and a list, and between lists, mm.
const GAP: f64 = 6.0;

/// A line over a drawing that says what it shows.
fn caption(ink: &mut Ink, area: Rect, name: &str, about: &str) {
    let x = area.min[0];
    ink.text(x, area.min[1] + 3.6, name, Type::HEADING, Align::Left);
    let after = x + Type::HEADING.width(name) + 3.0;
    let about = Type::QUIET.fit(about, area.max[0] - after);
    ink.text(after, area.min[1] + 3.6, about, Type::QUIET, Align::Left);
}

/// Height of a caption, mm.
const CAPTION: f64 = 7.0;

/// A name as part of a file name: letters, digits and dashes only.
pub(crate) fn file_name(name: &str) -> String {
    name.chars().map(|c| if c.is_alphanumeric() { c } else { '-' }).take(40).collect()
}
