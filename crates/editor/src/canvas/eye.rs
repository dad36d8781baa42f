//! Where the eye is: the step from a picture to the screen and back.
//!
//! A point of a picture has a place in the model and a shift on paper. On the screen it falls at
//! model × zoom + paper × [`PX_PER_PAPER_MM`], y turned downwards.

use egui::{Pos2, Rect, Vec2, pos2, vec2};
use sheets::picture::{Align, At, Picture, Shape};

/// Points of the screen to a millimetre of paper: dimension lines keep this distance at every zoom.
pub const PX_PER_PAPER_MM: f64 = 3.4;
/// The furthest and the nearest the eye goes, points of the screen to a millimetre of the building.
pub(super) const ZOOMS: std::ops::RangeInclusive<f64> = 0.004..=8.0;

/// Where the eye is over a drawing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Eye {
    /// Points of the screen to a millimetre of the model.
    pub zoom: f64,
    /// The place in the model at the middle of the view, mm.
    pub centre: [f64; 2],
}

impl Default for Eye {
    fn default() -> Eye {
        Eye { zoom: 0.1, centre: [0.0, 0.0] }
    }
}

/// An eye and the rectangle it looks through of the screen.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sight {
    /// The rectangle.
    pub rect: Rect,
    /// The eye.
    pub eye: Eye,
}

impl Sight {
    /// Where a place of the model falls on the screen.
    pub fn screen(&self, x: f64, y: f64) -> Pos2 {
        let c = self.rect.center();
        let dx = (x - self.eye.centre[0]) * self.eye.zoom;
        let dy = (y - self.eye.centre[1]) * self.eye.zoom;
        pos2(c.x + dx as f32, c.y - dy as f32)
    }

    /// Where a point of a picture falls on the screen.
    pub fn at(&self, at: At) -> Pos2 {
        let p = self.screen(at.model[0], at.model[1]);
        p + vec2((at.paper[0] * PX_PER_PAPER_MM) as f32, -(at.paper[1] * PX_PER_PAPER_MM) as f32)
    }

    /// The place in the model under a point of the screen.
    pub fn model(&self, p: Pos2) -> [f64; 2] {
        let d = p - self.rect.center();
        [
            self.eye.centre[0] + f64::from(d.x) / self.eye.zoom,
            self.eye.centre[1] - f64::from(d.y) / self.eye.zoom,
        ]
    }

    /// Length of the model that `px` points of the screen cover, mm.
    pub fn mm(&self, px: f64) -> f64 {
        px / self.eye.zoom
    }
}

impl Eye {
    /// The eye `factor` times nearer, with what is under `p` staying there.
    #[must_use]
    pub fn zoomed(self, factor: f64, p: Pos2, rect: Rect) -> Eye {
        let fixed = Sight { rect, eye: self }.model(p);
        let zoom = (self.zoom * factor).clamp(*ZOOMS.start(), *ZOOMS.end());
        let d = p - rect.center();
        let centre = [fixed[0] - f64::from(d.x) / zoom, fixed[1] + f64::from(d.y) / zoom];
        Eye { zoom, centre }
    }

    /// The eye after the drawing was dragged by `by` points of the screen.
    #[must_use]
    pub fn panned(self, by: Vec2) -> Eye {
        let [x, y] = self.centre;
        let centre = [x - f64::from(by.x) / self.zoom, y + f64::from(by.y) / self.zoom];
        Eye { centre, ..self }
    }

    /// The eye that sees all of `extent` in `rect`, as near as it goes.
    pub fn fitting(extent: &Extent, rect: Rect) -> Eye {
        let room = (rect.size() - Vec2::splat(2.0 * AIR)).max(Vec2::splat(40.0));
        let mut zoom = 1.0;
        // What stands off on paper keeps its size, so the box does not grow with the zoom; it
        // settles in a few steps.
        for _ in 0..24 {
            let size = extent.on_screen(zoom).size();
            let factor = (room.x / size.x.max(1.0)).min(room.y / size.y.max(1.0));
            zoom = (zoom * f64::from(factor)).clamp(*ZOOMS.start(), *ZOOMS.end());
        }
        Eye::over(extent, zoom)
    }

    /// The eye over the middle of `extent`.
    pub fn over(extent: &Extent, zoom: f64) -> Eye {
        let middle = extent.on_screen(zoom).center();
        Eye { zoom, centre: [f64::from(middle.x) / zoom, -f64::from(middle.y) / zoom] }
    }
}

/// Bare paper left round a drawing that is fitted, points.
const AIR: f32 = 14.0;

/// What a picture covers: places of the model, each with what stands off it on the screen.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Extent {
    parts: Vec<([f64; 2], Rect)>,
}

impl Extent {
    /// What `picture` covers.
    pub fn of(picture: &Picture) -> Extent {
        let mut extent = Extent::default();
        for item in &picture.items {
            match &item.shape {
                Shape::Line(points) | Shape::Area(points) => {
                    points.iter().for_each(|p| extent.take(*p, Vec2::ZERO));
                }
                Shape::Arc { centre, radius, .. } => {
                    for [dx, dy] in [[-1.0, -1.0], [1.0, 1.0]] {
                        let [x, y] = centre.model;
                        let model = [x + dx * radius, y + dy * radius];
                        extent.take(At { model, ..*centre }, Vec2::ZERO);
                    }
                }
                Shape::Dot { at, radius } => {
                    extent.take(*at, Vec2::splat((radius * PX_PER_PAPER_MM) as f32));
                }
                Shape::Text { at, text, size, align, turn } => {
                    let high = (size.height() * PX_PER_PAPER_MM * 0.7) as f32;
                    let half = vec2(text.chars().count() as f32 * high * 0.48, high);
                    let push = match align {
                        Align::Left => half.x,
                        Align::Centre => 0.0,
                        Align::Right => -half.x,
                    };
                    let (sin, cos) = (*turn as f32).sin_cos();
                    let around = vec2(
                        half.x * cos.abs() + half.y * sin.abs(),
                        half.x * sin.abs() + half.y * cos.abs(),
                    );
                    extent.take_moved(*at, around, vec2(push * cos, -push * sin));
                }
            }
        }
        extent
    }

    /// Takes in all that `other` covers.
    pub fn join(&mut self, other: Extent) {
        self.parts.extend(other.parts);
    }

    /// True when it covers nothing.
    pub fn is_empty(&self) -> bool {
        self.parts.is_empty()
    }

    /// Takes a place of the model in, with `air` points round it.
    pub fn include(&mut self, x: f64, y: f64, air: f32) {
        self.take(At::model(x, y), Vec2::splat(air));
    }

    fn take(&mut self, at: At, around: Vec2) {
        self.take_moved(at, around, Vec2::ZERO);
    }

    fn take_moved(&mut self, at: At, around: Vec2, push: Vec2) {
        let off =
            pos2((at.paper[0] * PX_PER_PAPER_MM) as f32, -(at.paper[1] * PX_PER_PAPER_MM) as f32);
        self.parts.push((at.model, Rect::from_center_size(off + push, 2.0 * around)));
    }

    /// The box it takes at `zoom`, with the model's origin at (0, 0) and y downwards.
    fn on_screen(&self, zoom: f64) -> Rect {
        let mut rect = Rect::NOTHING;
        for ([x, y], around) in &self.parts {
            rect = rect.union(around.translate(vec2((x * zoom) as f32, -(y * zoom) as f32)));
        }
        if rect.is_finite() { rect } else { Rect::from_min_size(Pos2::ZERO, Vec2::splat(1.0)) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn sight() -> Sight {
        let rect = Rect::from_min_size(pos2(58.0, 44.0), vec2(480.0, 690.0));
        Sight { rect, eye: Eye { zoom: 0.125, centre: [1800.0, 1200.0] } }
    }

    #[test]
    fn there_and_back() {
        let sight = sight();
        let [x, y] = sight.model(sight.screen(-300.0, 2415.0));
        assert!((x + 300.0).abs() < 0.01 && (y - 2415.0).abs() < 0.01);
        assert!(sight.screen(0.0, 100.0).y < sight.screen(0.0, 0.0).y, "up is up");
    }

    #[test]
    fn what_is_under_the_pointer_stays_there_while_zooming() {
        let mut sight = sight();
        let p = pos2(100.0, 200.0);
        let before = sight.model(p);
        sight.eye = sight.eye.zoomed(3.0, p, sight.rect);
        let after = sight.model(p);
        assert!((before[0] - after[0]).abs() < 1e-6 && (before[1] - after[1]).abs() < 1e-6);
        let far = sight.eye.zoomed(1e9, p, sight.rect);
        assert_eq!(far.zoom, *ZOOMS.end());
    }

    #[test]
    fn panning_moves_the_drawing_with_the_hand() {
        let mut sight = sight();
        let before = sight.screen(500.0, 500.0);
        sight.eye = sight.eye.panned(vec2(30.0, -12.0));
        let moved = sight.screen(500.0, 500.0) - before;
        assert!((moved - vec2(30.0, -12.0)).length() < 0.01);
    }

    #[test]
    fn a_paper_shift_keeps_its_size_at_every_zoom() {
        let mut sight = sight();
        let at = At::model(100.0, 100.0);
        let shift = |sight: &Sight| sight.at(at.shifted(10.0, 0.0)) - sight.at(at);
        let before = shift(&sight);
        sight.eye.zoom *= 7.0;
        assert!((shift(&sight) - before).length() < 0.01);
    }

    #[test]
    fn fitting_shows_all_of_it_and_no_more_air_than_needed() {
        let mut extent = Extent::default();
        extent.include(-140.0, -140.0, 40.0);
        extent.include(4740.0, 5340.0, 20.0);
        let rect = sight().rect;
        let sight = Sight { rect, eye: Eye::fitting(&extent, rect) };
        let low = sight.screen(-140.0, -140.0);
        let high = sight.screen(4740.0, 5340.0);
        assert!(low.x >= rect.left() + 53.9 && low.y <= rect.bottom() - 53.9);
        assert!(high.x <= rect.right() - 33.9 && high.y >= rect.top() + 33.9);
        let spare = (low.x - rect.left() - 54.0).min(rect.bottom() - low.y - 54.0);
        assert!(spare < 1.0, "one direction is used to the full, {spare} left");
    }
}
