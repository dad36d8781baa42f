//! The sheet of one platform: its joist plan over a section, and the list of its pieces.

use layout_core::document::{Finish, Job};
use layout_core::layout::{Framed, PlatformLayout};

use super::flow::{Block, arrange, columns, rest};
use super::{CAPTION, GAP, Paper, SCALES, Sheet, caption, cautions, file_name, lists};
use crate::picture::{Picture, Rect};
use crate::views::{platform_plan, platform_section};

/// Distance between plan and section, mm.
const APART: f64 = 8.0;

/// Plan and section at one scale, the one over the other.
struct Drawing {
    scale: f64,
    pictures: [Picture; 2],
    bounds: [Rect; 2],
}

impl Drawing {
    fn of(job: &Job, laid: &PlatformLayout, scale: f64) -> Drawing {
        let pictures = [platform_plan(job, laid, scale), platform_section(job, laid, scale)];
        let bounds = [0, 1]
            .map(|i: usize| pictures[i].bounds(scale).unwrap_or(Rect::new(0.0, 0.0, 0.0, 0.0)));
        Drawing { scale, pictures, bounds }
    }

    /// From the leftmost to the rightmost of both: they stand under each other.
    fn width(&self) -> f64 {
        self.right() - self.left()
    }

    fn left(&self) -> f64 {
        self.bounds[0].min[0].min(self.bounds[1].min[0])
    }

    fn right(&self) -> f64 {
        self.bounds[0].max[0].max(self.bounds[1].max[0])
    }

    fn height(&self) -> f64 {
        self.bounds[0].height() + APART + self.bounds[1].height()
    }

    fn draw(&self, sheet: &mut Sheet, room: Rect) {
        let left = room.min[0] + ((room.width() - self.width()) / 2.0).max(0.0);
        let mut bottom = room.max[1] - ((room.height() - self.height()) / 2.0).max(0.0);
        for (picture, bounds) in self.pictures.iter().zip(self.bounds).rev() {
            let x = left + bounds.min[0] - self.left();
            sheet.draw(picture, self.scale, bounds, [x, bottom]);
            bottom -= bounds.height() + APART;
        }
    }
}

/// The sheet, and the lists that found no room on it.
pub(super) fn sheet(job: &Job, laid: &PlatformLayout, paper: Paper) -> (Sheet, Vec<Block>) {
    let name = format!("platform-{}", file_name(laid.name().as_str()));
    let title = format!("Platform {}", laid.name());
    let whole = paper.area();
    let mut sheet = Sheet::new(name, title.as_str());
    let over = cautions::foot(&mut sheet, whole, &cautions::of_platform(laid));
    let area = Rect { min: [whole.min[0], whole.min[1] + CAPTION], max: [whole.max[0], over] };
    let mut blocks = lists::pieces(Framed::Platform(laid));
    if let Some(platform) = job.platform(laid.name()).filter(|p| !p.holes.is_empty()) {
        blocks.insert(0, lists::platform_holes(job, platform));
    }
    let most = ((area.width() + GAP) / (lists::PIECES + GAP)) as usize;
    // One column of lists, or more where the drawing leaves room for them all.
    let room = |count: usize| {
        let wide = count as f64 * (lists::PIECES + GAP);
        Rect { max: [area.max[0] - wide, area.max[1]], ..area }
    };
    let drawing = SCALES
        .into_iter()
        .map(|scale| Drawing::of(job, laid, scale))
        .find(|d| d.width() <= room(1).width() && d.height() <= area.height());
    let at_right = |count: usize| {
        let left = Rect { min: [room(count).max[0] + GAP, area.min[1]], ..area };
        columns(left, count, lists::PIECES, GAP)
    };
    let fits = |count: &usize| {
        let leaves = drawing.as_ref().is_none_or(|d| d.width() <= room(*count).width());
        leaves && arrange(&blocks, &at_right(*count)).rest.is_none()
    };
    let count = (1..most.max(2)).find(fits).unwrap_or(1);
    if let Some(drawing) = &drawing {
        drawing.draw(&mut sheet, room(count));
    }
    let set = arrange(&blocks, &at_right(count));
    sheet.lists(&set);
    let left = set.rest;
    let more = if left.is_some() { " · pieces on the sheet after the walls" } else { "" };
    caption(&mut sheet.ink, whole, &title, &format!("{}{more}", about(job, laid)));
    (sheet, left.map_or(Vec::new(), |left| rest(blocks, left)))
}

/// What it is made of, in a line.
fn about(job: &Job, laid: &PlatformLayout) -> String {
    let Some(platform) = job.platform(laid.name()) else { return String::new() };
    let boards = |finish: &Finish| {
        let layers: Vec<String> =
            finish.boards.iter().map(|b| laid.spec.units.fine(b.thickness)).collect();
        if layers.is_empty() { "none".to_string() } else { layers.join(" + ") }
    };
    format!(
        "{} at {} · {} {} at {} centres · boards {} below, {} above · {} and {}",
        platform.kind.label(),
        laid.spec.units.show(platform.level),
        platform.timber.size_in(laid.spec.units),
        platform.timber.grade(),
        laid.spec.units.show(platform.centres),
        boards(&platform.below),
        boards(&platform.above),
        platform.bearings.0.label(),
        platform.bearings.1.label()
    )
}
