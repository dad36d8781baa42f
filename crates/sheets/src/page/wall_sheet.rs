//! The sheet of one wall: section and elevation side by side, the list of its pieces, cautions.

use layout_core::document::{Face, Finish, Job};
use layout_core::layout::{Framed, Layout, WallLayout};

use super::flow::{Block, arrange, columns, rest};
use super::{
    CAPTION, GAP, Paper, SCALES, Sheet, backing, caption, cautions, doors, file_name, levels, lists,
};
use crate::picture::{Picture, Rect};
use crate::views::{ElevationOptions, SectionOptions, elevation, section};

/// Width of a column of lists, mm.
pub(super) const LISTS: f64 = lists::PIECES;

/// The sheet, and the lists that found no room on it.
pub(super) fn sheet(
    job: &Job,
    layout: &Layout,
    wall: &WallLayout,
    paper: Paper,
) -> (Sheet, Vec<Block>) {
    let name = format!("wall-{}", file_name(wall.name().as_str()));
    let title = format!("Wall {}", wall.name());
    let whole = paper.area();
    let mut sheet = Sheet::new(name, title.as_str());
    let over_cautions = cautions::foot(&mut sheet, whole, &cautions::of_wall(job, layout, wall));
    let area =
        Rect { min: [whole.min[0], whole.min[1] + CAPTION], max: [whole.max[0], over_cautions] };

    let mut blocks = lists::pieces(Framed::Wall(wall));
    blocks.extend(backing::list(wall));
    blocks.extend(doors::stacks(wall));
    blocks.extend(levels::packers(wall));
    blocks.push(levels::of_wall(job, wall));
    let fitting = fitting(job, layout, wall, area);
    let (drawing, columns) = match fitting {
        Some(drawings) => place(drawings, &blocks, area),
        // Too long for its figures at any scale: they become a list, and the drawing goes without.
        None => {
            blocks.push(lists::running(wall));
            let plain = SCALES
                .into_iter()
                .map(|scale| Drawing::of(job, layout, wall, scale, false))
                .find(|d| d.fits(area));
            let Some(plain) = plain else { return (sheet, blocks) };
            place(vec![plain], &blocks, area)
        }
    };
    drawing.draw(&mut sheet, area, &columns);
    let set = arrange(&blocks, &columns);
    sheet.lists(&set);
    let left = set.rest;
    let more = if left.is_some() { " · lists go on after the walls" } else { "" };
    caption(&mut sheet.ink, whole, &title, &format!("{}{more}", about(wall)));
    (sheet, left.map_or(Vec::new(), |left| rest(blocks, left)))
}

/// The largest drawing that fits, and what is less than twice as small; `None` when the figures leave no
/// room at any scale they can be read at.
fn fitting(job: &Job, layout: &Layout, wall: &WallLayout, area: Rect) -> Option<Vec<Drawing>> {
    // What does not fit without its figures is not worth figuring.
    let plain = Drawing::of(job, layout, wall, 100.0, false).elevation.extent();
    let may_fit = |scale: &f64| {
        plain.width() / scale <= area.width() && plain.height() / scale <= area.height()
    };
    let mut drawings: Vec<Drawing> = Vec::new();
    for scale in SCALES.into_iter().filter(may_fit).take_while(|scale| *scale <= 100.0) {
        if drawings.first().is_some_and(|largest| scale >= 2.0 * largest.scale) {
            break;
        }
        let drawing = Drawing::of(job, layout, wall, scale, true);
        if drawing.fits(area) {
            drawings.push(drawing);
        }
    }
    (!drawings.is_empty()).then_some(drawings)
}

/// The first drawing that leaves room for all lists, or else the first, with the places for lists.
fn place(mut drawings: Vec<Drawing>, blocks: &[Block], area: Rect) -> (Drawing, Vec<Rect>) {
    let whole =
        |d: &Drawing| d.beside(area).into_iter().find(|c| arrange(blocks, c).rest.is_none());
    let found = drawings.iter().enumerate().find_map(|(i, d)| whole(d).map(|columns| (i, columns)));
    let (index, columns) = found.unwrap_or_else(|| {
        let beside = drawings.first().map(|d| d.beside(area)).unwrap_or_default();
        let most = beside.into_iter().max_by(|a, b| room(a).total_cmp(&room(b)));
        (0, most.unwrap_or_default())
    });
    (drawings.swap_remove(index), columns)
}

fn room(columns: &[Rect]) -> f64 {
    columns.iter().map(|c| c.height()).sum()
}

/// What the wall is made of, in a line.
fn about(wall: &WallLayout) -> String {
    let makeup = &wall.spec.makeup;
    let boards = |finish: &Finish| {
        let layers: Vec<String> =
            finish.boards.iter().map(|b| wall.spec.units.fine(b.thickness)).collect();
        if layers.is_empty() { "none".to_string() } else { layers.join(" + ") }
    };
    let (left, right) = (boards(&makeup.left), boards(&makeup.right));
    let boards = if left == right {
        format!("boards {left} each side")
    } else {
        format!("boards {left} left, {right} right")
    };
    format!(
        "seen on its right face · {} {} at {} centres · {boards}",
        makeup.timber.size_in(wall.spec.units),
        makeup.timber.grade(),
        wall.spec.units.show(wall.spec.centres)
    )
}

/// Section and elevation at one scale, level with each other.
struct Drawing {
    scale: f64,
    section: Picture,
    elevation: Picture,
    section_bounds: Rect,
    elevation_bounds: Rect,
}

/// Distance between section and elevation, mm.
const APART: f64 = 5.0;

impl Drawing {
    fn of(job: &Job, layout: &Layout, wall: &WallLayout, scale: f64, dimensions: bool) -> Drawing {
        let section = section(job, wall, &SectionOptions { scale });
        let elevation = elevation(
            job,
            layout,
            wall,
            &ElevationOptions { scale, face: Face::Right, dimensions, boards: None, zones: false },
        );
        let bounds = |p: &Picture| p.bounds(scale).unwrap_or(Rect::new(0.0, 0.0, 0.0, 0.0));
        let (section_bounds, elevation_bounds) = (bounds(&section), bounds(&elevation));
        Drawing { scale, section, elevation, section_bounds, elevation_bounds }
    }

    fn width(&self) -> f64 {
        self.section_bounds.width() + APART + self.elevation_bounds.width()
    }

    /// From the lowest to the highest of both; their heights are of one model.
    fn height(&self) -> f64 {
        self.high() - self.low()
    }

    fn low(&self) -> f64 {
        self.section_bounds.min[1].min(self.elevation_bounds.min[1])
    }

    fn high(&self) -> f64 {
        self.section_bounds.max[1].max(self.elevation_bounds.max[1])
    }

    fn fits(&self, area: Rect) -> bool {
        self.width() <= area.width() && self.height() <= area.height()
    }

    /// Places for lists: one column at the right of the drawing, more of them, or columns under it.
    fn beside(&self, area: Rect) -> Vec<Vec<Rect>> {
        let across = |width: f64| ((width + GAP) / (LISTS + GAP)) as usize;
        let most = across(area.width() - self.width() - GAP);
        let at_right = |count: usize| {
            let wide = count as f64 * (LISTS + GAP) - GAP;
            columns(Rect { min: [area.max[0] - wide, area.min[1]], ..area }, count, LISTS, GAP)
        };
        let mut choices: Vec<Vec<Rect>> = (1..=most).map(at_right).collect();
        let under = Rect { min: [area.min[0], area.min[1] + self.height() + GAP], ..area };
        if under.height() > 25.0 {
            choices.push(columns(under, across(area.width()), LISTS, GAP));
        }
        choices
    }

    /// Draws both in what the columns leave of the area.
    fn draw(&self, sheet: &mut Sheet, area: Rect, columns: &[Rect]) {
        let mut free = area;
        if let Some(first) = columns.first() {
            if first.min[1] > area.min[1] + 1.0 {
                free.max[1] = first.min[1] - GAP;
            } else {
                free.max[0] = first.min[0] - GAP;
            }
        }
        let left = free.min[0] + ((free.width() - self.width()) / 2.0).max(0.0);
        let bottom = free.max[1] - ((free.height() - self.height()) / 2.0).max(0.0);
        let bottom_of = |bounds: Rect| bottom - (bounds.min[1] - self.low());
        let (s, e) = (self.section_bounds, self.elevation_bounds);
        sheet.draw(&self.section, self.scale, s, [left, bottom_of(s)]);
        sheet.draw(&self.elevation, self.scale, e, [left + s.width() + APART, bottom_of(e)]);
    }
}
