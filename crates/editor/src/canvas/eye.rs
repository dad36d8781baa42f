//! Where the eye is: the step from a picture to the screen and back.
//!
//! A point of a picture has a place in the model and a shift on paper. On the screen it falls at
//! model × zoom + paper × [`PX_PER_PAPER_MM`], y turned downwards.

use egui::{Pos2, Rect, Vec2, pos2, vec2};
use sheets::picture::{At, Picture, Shape};

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

    /// The eye that sees all of `extent` in `rect`.
    pub fn fitting(extent: &Extent, rect: Rect) -> Eye {
        let Some([low, high]) = extent.model else { return Eye::default() };
        let room = rect.size() - extent.margin_low - extent.margin_high;
        let size = [(high[0] - low[0]).max(100.0), (high[1] - low[1]).max(100.0)];
        let zoom =
            (f64::from(room.x.max(60.0)) / size[0]).min(f64::from(room.y.max(60.0)) / size[1]);
        let zoom = zoom.clamp(*ZOOMS.start(), *ZOOMS.end());
        // The middle of the model goes to the middle of the room left between the margins.
        let off = (extent.margin_low - extent.margin_high) / 2.0;
        let centre = [
            (low[0] + high[0]) / 2.0 - f64::from(off.x) / zoom,
            (low[1] + high[1]) / 2.0 - f64::from(off.y) / zoom,
        ];
        Eye { zoom, centre }
    }
}

/// What a picture covers: its box in the model and what stands off it on paper.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Extent {
    /// Lower left and upper right in the model, mm; `None` for nothing.
    pub model: Option<[[f64; 2]; 2]>,
    /// What stands off to the left and below, points of the screen.
    pub margin_low: Vec2,
    /// What stands off to the right and above.
    pub margin_high: Vec2,
}

impl Extent {
    /// What `picture` covers, with a little air.
    pub fn of(picture: &Picture) -> Extent {
        let air = 18.0;
        let mut extent = Extent {
            margin_low: Vec2::splat(air),
            margin_high: Vec2::splat(air),
            ..Extent::default()
        };
        for item in &picture.items {
            match &item.shape {
                Shape::Line(points) | Shape::Area(points) => {
                    points.iter().for_each(|p| extent.take(*p, 0.0, air))
                }
                Shape::Arc { centre, radius, .. } => {
                    for [dx, dy] in [[-1.0, -1.0], [1.0, 1.0]] {
                        let [x, y] = centre.model;
                        extent.take(
                            At { model: [x + dx * radius, y + dy * radius], ..*centre },
                            0.0,
                            air,
                        );
                    }
                }
                Shape::Dot { at, .. } => extent.take(*at, 0.0, air),
                Shape::Text { at, size, .. } => {
                    extent.take(*at, size.height() * PX_PER_PAPER_MM, air)
                }
            }
        }
        extent
    }

    /// Takes a place of the model in.
    pub fn include(&mut self, x: f64, y: f64) {
        let [low, high] = self.model.get_or_insert([[x, y], [x, y]]);
        *low = [low[0].min(x), low[1].min(y)];
        *high = [high[0].max(x), high[1].max(y)];
    }

    fn take(&mut self, at: At, around: f64, air: f32) {
        let [x, y] = at.model;
        self.include(x, y);
        // Only what stands off the outside of the drawing needs a margin; what is inside has the
        // drawing itself. Taking it for all points errs on the side of air.
        let px = |mm: f64| (mm * PX_PER_PAPER_MM + around) as f32 + air;
        self.margin_low = self.margin_low.max(vec2(px(-at.paper[0]), px(-at.paper[1])));
        self.margin_high = self.margin_high.max(vec2(px(at.paper[0]), px(at.paper[1])));
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
    fn fitting_shows_all_of_it() {
        let mut extent = Extent {
            margin_low: vec2(40.0, 90.0),
            margin_high: vec2(20.0, 20.0),
            ..Extent::default()
        };
        extent.include(-140.0, -140.0);
        extent.include(4740.0, 5340.0);
        let rect = sight().rect;
        let sight = Sight { rect, eye: Eye::fitting(&extent, rect) };
        let low = sight.screen(-140.0, -140.0);
        let high = sight.screen(4740.0, 5340.0);
        assert!(low.x >= rect.left() + 39.9 && low.y <= rect.bottom() - 89.9);
        assert!(high.x <= rect.right() - 19.9 && high.y >= rect.top() + 19.9);
    }
}
