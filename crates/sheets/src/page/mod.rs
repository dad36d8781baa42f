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
mod wall_sheet;
mod platform_sheet;
mod first_fix_sheet;
mod face_sheet;
mod saw_sheet;
mod snag_sheet;
mod cut_sheet;
mod board_sheet;
mod yard_sheet;

use layout_core::document::{Face, Job};
use layout_core::id::Name;
use layout_core::layout::{Layout, WallLayout};

use crate::picture::{Align, Picture, Rect};

pub(crate) use ink::hatched;
pub use ink::{Ink, Mark, Type};
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
}

/// A part of the print set.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Part {
    /// The plan with its lists.
    Plan,
    /// The elevation of one wall.
    Wall(Name),
    /// The first fix of one wall, bay by bay.
    FirstFix(Name),
    /// The boards of one face of a wall, layer by layer.
    Face(Name, Face),
    /// The joist plan of one platform.
    Platform(Name),
    /// The cutting list.
    Saw,
    /// What is open, and what is accepted.
    Snags,
    /// How the sheets of board are cut.
    Boards,
    /// What goes with boards: the order, and insulation bay by bay.
    Yard,
}

/// What is printed, and on what.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PrintOptions {
    /// The size of the sheets.
    pub paper: Paper,
    /// The day as it is printed, year-month-day. The core reads no clock.
    pub date: String,
    /// The parts to print, in the usual order; everything when empty.
    pub only: Vec<Part>,
}

impl Part {
    /// The parts of the print set of a job, in the order they are printed: plan, walls, what goes into them, platforms, cutting
    /// list, boards of walls, how boards are cut from sheets, what goes with them, snags.
    pub fn all(layout: &Layout) -> Vec<Part> {
        let walls = || layout.walls.iter();
        let name = |wall: &WallLayout| wall.name().clone();
        let mut parts = vec![Part::Plan];
        parts.extend(walls().map(|w| Part::Wall(name(w))));
        let fixed = walls().filter(|w| first_fix_sheet::has_some(w));
        parts.extend(fixed.map(|w| Part::FirstFix(name(w))));
        parts.extend(layout.platforms.iter().map(|p| Part::Platform(p.name().clone())));
        parts.push(Part::Saw);
        for wall in walls() {
            let faces = [Face::Right, Face::Left].into_iter();
            let boarded = faces.filter(|face| face_sheet::is_boarded(wall, *face));
            parts.extend(boarded.map(|face| Part::Face(name(wall), face)));
        }
        parts.extend([Part::Boards, Part::Yard, Part::Snags]);
        parts
    }

    /// What it is called where parts are asked for: `plan`, `wall-A`, `first-fix-A`, `boards-A-left`, `platform-LC1`.
    pub fn name(&self) -> String {
        match self {
            Part::Plan => "plan".into(),
            Part::Wall(wall) => format!("wall-{wall}"),
            Part::FirstFix(wall) => format!("first-fix-{wall}"),
            Part::Platform(platform) => format!("platform-{platform}"),
            Part::Saw => "saw".into(),
            Part::Face(wall, face) => format!("boards-{wall}-{}", face.label()),
            Part::Boards => "boards".into(),
            Part::Yard => "yard".into(),
            Part::Snags => "snags".into(),
        }
    }
}

/// The whole print set, or the parts of it that are wanted: see [`Part::all`]. Lists that are too long run on to further sheets.
/// Never empty unless `only` names nothing the job has.
pub fn print_set(job: &Job, layout: &Layout, options: &PrintOptions) -> Vec<Page> {
    let paper = options.paper;
    let mut sheets = Vec::new();
    // Lists that found no room beside their drawing share sheets of their own.
    let (mut pieces, mut fixed, mut boards) = (Vec::new(), Vec::new(), Vec::new());
    let mut parts = Part::all(layout);
    if !options.only.is_empty() {
        parts.retain(|part| options.only.contains(part));
    }
    // Snags come last, so that what is left over has been printed by then whatever is wanted.
    let ends = parts.into_iter().map(Some).chain([None]);
    for part in ends {
        let of_frames = matches!(
            part,
            Some(Part::Plan | Part::Wall(_) | Part::FirstFix(_) | Part::Platform(_))
        );
        if !of_frames {
            let list = ("pieces", "Pieces");
            sheets.extend(run_on(list, std::mem::take(&mut pieces), wall_sheet::LISTS, paper));
            let list = ("first-fix", "First fix");
            sheets.extend(run_on(list, std::mem::take(&mut fixed), first_fix_sheet::LISTS, paper));
        }
        if !of_frames && !matches!(part, Some(Part::Saw | Part::Face(..))) {
            let list = ("boards-of-walls", "Boards of walls");
            sheets.extend(run_on(list, std::mem::take(&mut boards), face_sheet::LISTS, paper));
        }
        let Some(part) = part else { break };
        let wall = |name: &Name| layout.wall(name);
        match &part {
            Part::Plan => sheets.extend(plan_sheet::sheets(job, layout, paper)),
            Part::Wall(name) => {
                let made = wall(name).map(|w| wall_sheet::sheet(job, layout, w, paper));
                let (sheet, rest) = made.unzip();
                sheets.extend(sheet);
                pieces.extend(rest.into_iter().flatten());
            }
            Part::FirstFix(name) => {
                let made = wall(name).map(|w| first_fix_sheet::sheet(job, layout, w, paper));
                let (sheet, rest) = made.unzip();
                sheets.extend(sheet);
                fixed.extend(rest.into_iter().flatten());
            }
            Part::Platform(name) => {
                let laid = layout.platform(name);
                let (sheet, rest) = laid.map(|p| platform_sheet::sheet(job, p, paper)).unzip();
                sheets.extend(sheet);
                pieces.extend(rest.into_iter().flatten());
            }
            Part::Saw => sheets.extend(saw_sheet::sheets(job, layout, paper)),
            Part::Face(name, face) => {
                let made = wall(name).map(|w| face_sheet::sheets(job, w, *face, paper));
                let (of_face, rest) = made.unwrap_or_default();
                sheets.extend(of_face);
                boards.extend(rest);
            }
            Part::Boards => sheets.extend(board_sheet::sheets(job, layout, paper)),
            Part::Yard => sheets.extend(yard_sheet::sheets(job, layout, paper)),
            Part::Snags => sheets.extend(snag_sheet::sheets(job, layout, paper)),
        }
    }
    let count = sheets.len();
    sheets
        .into_iter()
        .enumerate()
        .map(|(i, sheet)| sheet.page(job, options, (i + 1, count)))
        .collect()
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
}

impl Sheet {
    fn new(name: impl Into<String>, title: impl Into<String>) -> Sheet {
        Sheet {
            name: name.into(),
            title: title.into(),
            scale: None,
            parts: Vec::new(),
            ink: Ink::default(),
        }
    }

    /// Draws `picture` with its lower left corner, as it comes out on paper, at a place on the page.
    fn draw(&mut self, picture: &Picture, scale: f64, bounds: Rect, [x, bottom]: [f64; 2]) {
        self.ink.picture(picture, scale, [x - bounds.min[0], bottom + bounds.min[1]]);
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
        let paper = options.paper;
        let title = strip::Title {
            job: &job.title,
            sheet: &self.title,
            scale: self.scale,
            date: &options.date,
            crew_copy: job.crew_copies.last().map(|copy| copy.letter.as_str()),
            page,
            units: job.units,
        };
        strip::draw(&mut self.ink, paper, &title);
        self.parts.push(paper.strip());
        let (width, height) = paper.size();
        Page {
            name: format!("{}-{}", page.0, self.name),
            title: self.title,
            width,
            height,
            scale: self.scale,
            parts: self.parts,
            ink: self.ink,
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
