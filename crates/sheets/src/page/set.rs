//! The print set: every part drawn, each on its own and several at a time, then put in order and numbered.

use std::sync::Mutex;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};

use layout_core::document::{Face, Job};
use layout_core::layout::Layout;

use super::flow::Block;
use super::plans::Plans;
use super::{
    LabelSheet, Page, Paper, Part, Sheet, board_sheet, crew_sheet, detail_sheet, face_sheet,
    first_fix_sheet, label_sheet, marks_sheet, plan_sheet, platform_sheet, rod_sheet, run_on,
    saw_sheet, setout_sheet, snag_sheet, wall_sheet, yard_sheet,
};

/// What is printed, and on what.
#[derive(Clone, Debug, PartialEq)]
pub struct PrintOptions {
    /// The size of the sheets.
    pub paper: Paper,
    /// The day as it is printed, year-month-day. The core reads no clock.
    pub date: String,
    /// The parts to print, in the order they are printed; the usual ones when empty.
    pub only: Vec<Part>,
    /// The face elevations of walls are seen from.
    pub face: Face,
    /// Millimetres of model to one of paper that elevations are drawn at where they fit; the largest that fits when `None`.
    pub scale: Option<f64>,
    /// The sheets labels are printed on.
    pub labels: LabelSheet,
}

impl Default for PrintOptions {
    /// The usual sheets on A4, walls seen on their right face, no date.
    fn default() -> PrintOptions {
        PrintOptions {
            paper: Paper::default(),
            date: String::new(),
            only: Vec::new(),
            face: Face::Right,
            scale: None,
            labels: LabelSheet::default(),
        }
    }
}

/// How far a print set is drawn, for whoever waits for it, and a way to stop.
#[derive(Debug, Default)]
pub struct Progress {
    done: AtomicUsize,
    count: AtomicUsize,
    stop: AtomicBool,
}

impl Progress {
    /// Parts drawn, and parts there are.
    pub fn so_far(&self) -> (usize, usize) {
        (self.done.load(Ordering::Relaxed), self.count.load(Ordering::Relaxed))
    }

    /// True when it was stopped.
    pub fn is_stopped(&self) -> bool {
        self.stop.load(Ordering::Relaxed)
    }

    /// Nothing more is drawn, and no pages come of it.
    pub fn stop(&self) {
        self.stop.store(true, Ordering::Relaxed);
    }
}

/// What becomes of one part: its sheets, and lists that found no room beside their drawing. Those share sheets of their own.
#[derive(Default)]
struct Made {
    sheets: Vec<Sheet>,
    pieces: Vec<Block>,
    fixed: Vec<Block>,
    boards: Vec<Block>,
}

/// The usual print set, or the parts that are wanted: see [`Part::usual`]. Lists that are too long run on to further sheets.
/// Never empty unless `only` names nothing the job has.
pub fn print_set(job: &Job, layout: &Layout, options: &PrintOptions) -> Vec<Page> {
    print_set_telling(job, layout, options, &Progress::default()).unwrap_or_default()
}

/// The same, telling how far it is; `None` when it was stopped.
pub fn print_set_telling(
    job: &Job,
    layout: &Layout,
    options: &PrintOptions,
    progress: &Progress,
) -> Option<Vec<Page>> {
    let parts = if options.only.is_empty() {
        Part::usual(layout)
    } else {
        let all = Part::all(layout);
        options.only.iter().filter(|part| all.contains(part)).cloned().collect()
    };
    let made = make(job, layout, options, &parts, progress)?;
    let sheets = in_order(parts, made, options.paper);
    let count = sheets.len();
    let numbered = sheets.into_iter().enumerate();
    Some(numbered.map(|(i, sheet)| sheet.page(job, options, (i + 1, count))).collect())
}

/// More threads than this only wait for memory.
const MOST_THREADS: usize = 8;

/// Every part on its own, as many at a time as the machine has cores. What comes out does not depend on who draws what.
fn make(
    job: &Job,
    layout: &Layout,
    options: &PrintOptions,
    parts: &[Part],
    progress: &Progress,
) -> Option<Vec<Made>> {
    progress.count.store(parts.len(), Ordering::Relaxed);
    let next = AtomicUsize::new(0);
    let plans = Plans::new(job, layout);
    let places: Vec<Mutex<Option<Made>>> = parts.iter().map(|_| Mutex::new(None)).collect();
    let work = || {
        while !progress.stop.load(Ordering::Relaxed) {
            let i = next.fetch_add(1, Ordering::Relaxed);
            let Some(part) = parts.get(i) else { break };
            let made = one(job, layout, options, &plans, part);
            if let Ok(mut place) = places[i].lock() {
                *place = Some(made);
            }
            progress.done.fetch_add(1, Ordering::Relaxed);
        }
    };
    let cores = std::thread::available_parallelism().map_or(1, std::num::NonZero::get);
    std::thread::scope(|scope| {
        for _ in 1..cores.min(MOST_THREADS).min(parts.len()) {
            scope.spawn(work);
        }
        work();
    });
    places.into_iter().map(|place| place.into_inner().ok().flatten()).collect()
}

/// One part.
fn one(job: &Job, layout: &Layout, options: &PrintOptions, plans: &Plans<'_>, part: &Part) -> Made {
    let paper = options.paper;
    let sheets = |sheets: Vec<Sheet>| Made { sheets, ..Made::default() };
    // A building is wider than it is deep on paper: its plans lie, whatever way the other sheets stand.
    let lying = |of: fn(&Job, &Layout, Paper) -> Vec<Sheet>| {
        let mut made = of(job, layout, paper.lying());
        made.iter_mut().for_each(|sheet| sheet.paper = Some(paper.lying()));
        Some(sheets(made))
    };
    let made = match part {
        Part::Plan => lying(plan_sheet::sheets),
        Part::Wall(name) => layout.wall(name).map(|wall| {
            let (of_wall, pieces) = wall_sheet::sheets(job, layout, wall, options);
            Made { pieces, ..sheets(of_wall) }
        }),
        Part::FirstFix(name) => layout.wall(name).map(|wall| {
            let (sheet, fixed) = first_fix_sheet::sheet(job, layout, wall, options);
            Made { fixed, ..sheets(vec![sheet]) }
        }),
        Part::Platform(name) => layout.platform(name).map(|platform| {
            let (sheet, pieces) = platform_sheet::sheet(job, platform, paper);
            Made { pieces, ..sheets(vec![sheet]) }
        }),
        Part::Face(name, face) => layout.wall(name).map(|wall| {
            let (of_face, boards) = face_sheet::sheets(job, wall, *face, paper);
            Made { boards, ..sheets(of_face) }
        }),
        Part::SettingOut => lying(setout_sheet::sheets),
        Part::Crew(name) => {
            layout.wall(name).map(|wall| sheets(crew_sheet::sheets(job, layout, wall, paper)))
        }
        Part::Junctions => Some(sheets(detail_sheet::sheets(job, layout, paper))),
        Part::Marks => Some(sheets(marks_sheet::sheets(job, layout, paper))),
        Part::Rod(name) => {
            layout.wall(name).map(|wall| sheets(rod_sheet::sheets(job, wall, paper)))
        }
        Part::Labels => Some(sheets(label_sheet::sheets(job, layout, &options.labels))),
        Part::Saw => Some(sheets(saw_sheet::sheets(job, layout, plans, paper))),
        Part::Boards => Some(sheets(board_sheet::sheets(job, layout, plans, paper))),
        Part::Yard => Some(sheets(yard_sheet::sheets(job, layout, plans, paper))),
        Part::Snags => Some(sheets(snag_sheet::sheets(job, layout, paper))),
    };
    made.unwrap_or_default()
}

/// All sheets in order. Lists that found no room come after the last of the drawings they are of.
fn in_order(parts: Vec<Part>, made: Vec<Made>, paper: Paper) -> Vec<Sheet> {
    let mut sheets = Vec::new();
    let (mut pieces, mut fixed, mut boards) = (Vec::new(), Vec::new(), Vec::new());
    let mut all = parts.into_iter().zip(made);
    loop {
        let next = all.next();
        let part = next.as_ref().map(|(part, _)| part);
        let of_frames = matches!(
            part,
            Some(
                Part::Plan
                    | Part::SettingOut
                    | Part::Crew(_)
                    | Part::Junctions
                    | Part::Wall(_)
                    | Part::FirstFix(_)
                    | Part::Platform(_)
            )
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
        let Some((_, made)) = next else { return sheets };
        sheets.extend(made.sheets);
        pieces.extend(made.pieces);
        fixed.extend(made.fixed);
        boards.extend(made.boards);
    }
}
