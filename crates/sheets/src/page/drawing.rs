//! A sheet with one drawing: its name over it, cautions along the foot, and between them the drawing and its lists, each as
//! large as the other lets it.

use super::cautions::Foot;
use super::flow::{Arranged, Block, arrange, columns, rest};
use super::{CAPTION, GAP, Paper, SCALES, Sheet, caption, cautions};
use crate::picture::{Picture, Rect};

/// Pictures at one scale that are drawn together.
pub(super) struct Drawing {
    scale: f64,
    /// Each with what it covers, and where its lower left corner is from that of the drawing, mm, y up.
    pictures: Vec<(Picture, Rect, [f64; 2])>,
    width: f64,
    height: f64,
}

impl Drawing {
    /// Elevations `apart` mm from one another from left to right, their heights level.
    pub(super) fn side_by_side(scale: f64, pictures: Vec<Picture>, apart: f64) -> Drawing {
        let bounded = bounded(scale, pictures);
        let all = bounded.iter().map(|(_, b)| *b).reduce(Rect::join).unwrap_or(EMPTY);
        let mut x = 0.0;
        let place = |(picture, bounds): (Picture, Rect)| {
            let at = [x, bounds.min[1] - all.min[1]];
            x += bounds.width() + apart;
            (picture, bounds, at)
        };
        let pictures: Vec<_> = bounded.into_iter().map(place).collect();
        Drawing { scale, pictures, width: (x - apart).max(0.0), height: all.height() }
    }

    /// Views `apart` mm under one another, the first at the top, their left and right in line.
    pub(super) fn stacked(scale: f64, pictures: Vec<Picture>, apart: f64) -> Drawing {
        let bounded = bounded(scale, pictures);
        let all = bounded.iter().map(|(_, b)| *b).reduce(Rect::join).unwrap_or(EMPTY);
        let mut y = 0.0;
        let place = |(picture, bounds): (Picture, Rect)| {
            let at = [bounds.min[0] - all.min[0], y];
            y += bounds.height() + apart;
            (picture, bounds, at)
        };
        let pictures: Vec<_> = bounded.into_iter().rev().map(place).collect();
        Drawing { scale, pictures, width: all.width(), height: (y - apart).max(0.0) }
    }

    /// Millimetres of model to one of paper.
    pub(super) fn scale(&self) -> f64 {
        self.scale
    }

    fn fits(&self, area: Rect) -> bool {
        self.width <= area.width() && self.height <= area.height()
    }

    /// Places for lists `wide` mm wide: one column at the right of the drawing, more of them, columns under it, or both.
    fn beside(&self, area: Rect, wide: f64) -> Vec<Vec<Rect>> {
        let across = |width: f64| ((width + GAP) / (wide + GAP)) as usize;
        let at_right = |count: usize| {
            let all = count as f64 * (wide + GAP) - GAP;
            columns(Rect { min: [area.max[0] - all, area.min[1]], ..area }, count, wide, GAP)
        };
        let most = across(area.width() - self.width - GAP);
        let mut choices: Vec<Vec<Rect>> = (1..=most).map(at_right).collect();
        let under = Rect { min: [area.min[0], area.min[1] + self.height + GAP], ..area };
        if under.height() > 25.0 {
            choices.push(columns(under, across(area.width()), wide, GAP));
            // Or as many at its right as there is room for, and then under it.
            let taken = most as f64 * (wide + GAP);
            let free = Rect { max: [area.max[0] - taken, area.max[1]], ..under };
            let count = across(free.width());
            if most > 0 && count > 0 {
                let mut both = at_right(most);
                both.extend(columns(free, count, wide, GAP));
                choices.push(both);
            }
        }
        choices
    }

    /// Draws it in the middle of what the columns leave of the area.
    fn draw(&self, sheet: &mut Sheet, area: Rect, columns: &[Rect]) {
        let mut free = area;
        for column in columns {
            if column.min[1] > area.min[1] + 1.0 {
                free.max[1] = free.max[1].min(column.min[1] - GAP);
            } else {
                free.max[0] = free.max[0].min(column.min[0] - GAP);
            }
        }
        let left = free.min[0] + ((free.width() - self.width) / 2.0).max(0.0);
        let bottom = free.max[1] - ((free.height() - self.height) / 2.0).max(0.0);
        for (picture, bounds, [x, y]) in &self.pictures {
            sheet.draw(picture, self.scale, *bounds, [left + x, bottom - y]);
        }
    }
}

/// A drawing at 1:20 or larger may make room for its lists.
const LARGE: f64 = 20.0;

const EMPTY: Rect = Rect { min: [0.0; 2], max: [0.0; 2] };

fn bounded(scale: f64, pictures: Vec<Picture>) -> Vec<(Picture, Rect)> {
    let with_bounds = |picture: Picture| {
        let bounds = picture.bounds(scale).unwrap_or(EMPTY);
        (picture, bounds)
    };
    pictures.into_iter().map(with_bounds).collect()
}

/// Such a sheet, while it is put together.
pub(super) struct Drawn {
    sheet: Sheet,
    title: String,
    whole: Rect,
    /// Between the caption and the cautions.
    area: Rect,
    /// Width of a column of its lists, mm.
    lists: f64,
}

impl Drawn {
    /// A sheet called `title` with cautions along its foot, its lists `lists` mm wide.
    pub(super) fn new(
        name: String,
        title: String,
        foot: &[String],
        lists: f64,
        paper: Paper,
    ) -> Drawn {
        Drawn::in_type(name, title, (foot, Foot::SMALL), lists, paper)
    }

    /// The same, with cautions in lettering of another size.
    pub(super) fn in_type(
        name: String,
        title: String,
        (foot, size): (&[String], Foot),
        lists: f64,
        paper: Paper,
    ) -> Drawn {
        let whole = paper.area();
        let mut sheet = Sheet::new(name, title.as_str());
        let over = cautions::foot(&mut sheet, whole, foot, size);
        let area = Rect { min: [whole.min[0], whole.min[1] + CAPTION], max: [whole.max[0], over] };
        Drawn { sheet, title, whole, area, lists }
    }

    /// The largest drawing that fits, and those that are less than twice as small or as large as 1:20, none smaller than
    /// 1:`least`; none when there is no room at any scale.
    pub(super) fn fitting(&self, least: f64, draw: impl Fn(f64) -> Drawing) -> Vec<Drawing> {
        self.at_or_fitting(None, least, draw)
    }

    /// The same, but at the scale that is `wanted` alone where it fits.
    pub(super) fn at_or_fitting(
        &self,
        wanted: Option<f64>,
        least: f64,
        draw: impl Fn(f64) -> Drawing,
    ) -> Vec<Drawing> {
        let asked = wanted.map(&draw).filter(|drawing| drawing.fits(self.area));
        if let Some(drawing) = asked {
            return vec![drawing];
        }
        let mut drawings: Vec<Drawing> = Vec::new();
        for scale in SCALES.into_iter().take_while(|scale| *scale <= least) {
            if drawings.first().is_some_and(|d| scale >= 2.0 * d.scale && scale > LARGE) {
                break;
            }
            let drawing = draw(scale);
            if drawing.fits(self.area) {
                drawings.push(drawing);
            }
        }
        drawings
    }

    /// Every drawing that fits, the largest first, none smaller than 1:`least`.
    pub(super) fn every(&self, least: f64, draw: impl Fn(f64) -> Drawing) -> Vec<Drawing> {
        let scales = SCALES.into_iter().take_while(|scale| *scale <= least);
        scales.map(draw).filter(|drawing| drawing.fits(self.area)).collect()
    }

    /// How many of `blocks` go on in another column beside `drawing`; `None` when there is no room for all of them.
    pub(super) fn splits(&self, drawing: &Drawing, blocks: &[Block]) -> Option<usize> {
        let columns = self.places(drawing, blocks)?;
        Some(arrange(blocks, &columns).splits(blocks))
    }

    /// The first places beside `drawing` that have room for all of `blocks`.
    fn places(&self, drawing: &Drawing, blocks: &[Block]) -> Option<Vec<Rect>> {
        let mut places = drawing.beside(self.area, self.lists).into_iter();
        places.find(|columns| {
            let set = arrange(blocks, columns);
            self.keeps(&set) && set.rest.is_none()
        })
    }

    /// A row that is higher than its column is no reason to write over the cautions.
    fn keeps(&self, set: &Arranged<'_>) -> bool {
        set.bottom <= self.area.max[1] + 0.01
    }

    /// Draws the first of `drawings` that leaves room for all lists, or else the first, with the lists and the caption. Gives
    /// back the lists that found no room; they go on on the sheet called `goes_on`.
    pub(super) fn finish(
        mut self,
        drawings: &[Drawing],
        blocks: Vec<Block>,
        about: &str,
        goes_on: &str,
    ) -> (Sheet, Vec<Block>) {
        let (area, lists) = (self.area, self.lists);
        let keeps = |columns: &Vec<Rect>| self.keeps(&arrange(&blocks, columns));
        let whole = |d| self.places(d, &blocks).map(|columns| (d, columns));
        let found = drawings.iter().find_map(whole);
        let found = found.or_else(|| {
            let first = drawings.first()?;
            let room = |columns: &Vec<Rect>| columns.iter().map(|c| c.height()).sum::<f64>();
            let most = first.beside(area, lists).into_iter().filter(keeps);
            let most = most.max_by(|a, b| room(a).total_cmp(&room(b)));
            Some((first, most.unwrap_or_default()))
        });
        let columns = match found {
            Some((drawing, columns)) => {
                drawing.draw(&mut self.sheet, area, &columns);
                columns
            }
            None => {
                let count = ((area.width() + GAP) / (lists + GAP)) as usize;
                columns(area, count.max(1), lists, GAP)
            }
        };
        let set = arrange(&blocks, &columns);
        self.sheet.lists(&set);
        let left = set.rest;
        let more =
            if left.is_some() { format!(" · lists go on in {goes_on}") } else { String::new() };
        caption(&mut self.sheet.ink, self.whole, &self.title, &format!("{about}{more}"));
        (self.sheet, left.map_or(Vec::new(), |left| rest(blocks, left)))
    }
}
