//! What things cover on paper: upright rectangles, so that nothing is drawn over anything else.

use super::{Item, Shape};
use crate::lettering::Weight;
use crate::picture::{Align, Lettering};

/// An upright rectangle, mm. Which way y runs is the user's own affair.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rect {
    /// Least x and y.
    pub min: [f64; 2],
    /// Greatest x and y.
    pub max: [f64; 2],
}

impl Rect {
    /// The rectangle with one corner at `(x, y)` and the given size.
    pub fn new(x: f64, y: f64, width: f64, height: f64) -> Rect {
        Rect { min: [x, y], max: [x + width, y + height] }
    }

    /// The rectangle of the given size about a middle.
    pub fn about(x: f64, y: f64, width: f64, height: f64) -> Rect {
        Rect::new(x - width / 2.0, y - height / 2.0, width, height)
    }

    /// The least rectangle round `points`; empty (inside out) when there are none.
    pub fn round(points: impl IntoIterator<Item = [f64; 2]>) -> Rect {
        let empty = Rect { min: [f64::INFINITY; 2], max: [f64::NEG_INFINITY; 2] };
        points.into_iter().fold(empty, |r, p| r.join(Rect { min: p, max: p }))
    }

    /// Its width.
    pub fn width(self) -> f64 {
        self.max[0] - self.min[0]
    }

    /// Its height.
    pub fn height(self) -> f64 {
        self.max[1] - self.min[1]
    }

    /// Its middle.
    pub fn centre(self) -> [f64; 2] {
        [(self.min[0] + self.max[0]) / 2.0, (self.min[1] + self.max[1]) / 2.0]
    }

    /// The least rectangle round both.
    #[must_use]
    pub fn join(self, other: Rect) -> Rect {
        Rect {
            min: [self.min[0].min(other.min[0]), self.min[1].min(other.min[1])],
            max: [self.max[0].max(other.max[0]), self.max[1].max(other.max[1])],
        }
    }

    /// The same grown by `by` on every side.
    #[must_use]
    pub fn grown(self, by: f64) -> Rect {
        Rect {
            min: [self.min[0] - by, self.min[1] - by],
            max: [self.max[0] + by, self.max[1] + by],
        }
    }

    /// The same moved.
    #[must_use]
    pub fn moved(self, dx: f64, dy: f64) -> Rect {
        Rect {
            min: [self.min[0] + dx, self.min[1] + dy],
            max: [self.max[0] + dx, self.max[1] + dy],
        }
    }

    /// The part both cover; inside out when they are apart.
    #[must_use]
    pub fn common(self, other: Rect) -> Rect {
        Rect {
            min: [self.min[0].max(other.min[0]), self.min[1].max(other.min[1])],
            max: [self.max[0].min(other.max[0]), self.max[1].min(other.max[1])],
        }
    }

    /// The area both cover; 0 when they are apart or only touch.
    pub fn overlap(self, other: Rect) -> f64 {
        let side =
            |i: usize| (self.max[i].min(other.max[i]) - self.min[i].max(other.min[i])).max(0.0);
        side(0) * side(1)
    }

    /// True when `other` lies wholly inside, within a hundredth of a millimetre.
    pub fn covers(self, other: Rect) -> bool {
        (0..2).all(|i| self.min[i] <= other.min[i] + 0.01 && other.max[i] <= self.max[i] + 0.01)
    }
}

/// The rectangle a line of lettering covers, y up.
pub(crate) fn of_text(at: [f64; 2], text: &str, size: Lettering, align: Align, turn: f64) -> Rect {
    let width = weight(size).width(text, size.height());
    let from = match align {
        Align::Left => 0.0,
        Align::Centre => -width / 2.0,
        Align::Right => -width,
    };
    // Tails hang below the baseline by a third of the capitals' height.
    let (low, high) = (-0.83 * size.height(), 0.55 * size.height());
    let (sin, cos) = turn.sin_cos();
    let corner = |x: f64, y: f64| [at[0] + x * cos - y * sin, at[1] + x * sin + y * cos];
    Rect::round([
        corner(from, low),
        corner(from + width, low),
        corner(from + width, high),
        corner(from, high),
    ])
}

/// The weight each height is lettered in.
pub(crate) fn weight(size: Lettering) -> Weight {
    match size {
        Lettering::Small | Lettering::Normal => Weight::Regular,
        Lettering::Large => Weight::Bold,
    }
}

impl Item {
    /// What it covers on paper at `scale`, mm, y up. Line widths are left out.
    pub fn bounds(&self, scale: f64) -> Rect {
        match &self.shape {
            Shape::Line(points) | Shape::Area(points) => {
                Rect::round(points.iter().map(|p| p.on_paper(scale)))
            }
            Shape::Arc { centre, radius, from, to } => {
                let c = centre.on_paper(scale);
                let r = radius / scale;
                Rect::round((0..=16).map(|i| {
                    let angle = from + (to - from) * f64::from(i) / 16.0;
                    [c[0] + r * angle.cos(), c[1] + r * angle.sin()]
                }))
            }
            Shape::Dot { at, radius } => {
                let [x, y] = at.on_paper(scale);
                Rect::about(x, y, 2.0 * radius, 2.0 * radius)
            }
            Shape::Text { at, text, size, align, turn } => {
                of_text(at.on_paper(scale), text, *size, *align, *turn)
            }
        }
    }
}
