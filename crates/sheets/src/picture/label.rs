//! One line of lettering, built up from what is not usual about it.

use std::f64::consts::{FRAC_PI_2, PI};

use layout_core::id::ItemRef;

use super::rect::of_text;
use super::{Align, At, Fill, Item, Lettering, Pen, Rect, Shape};

/// A line of lettering: centred, level, of the ordinary height, until it is said otherwise.
#[derive(Clone, Debug, PartialEq)]
pub struct Label {
    at: At,
    text: String,
    size: Lettering,
    align: Align,
    turn: f64,
    pen: Pen,
    of: Option<ItemRef>,
}

impl Label {
    /// `text` at a point.
    pub fn new(at: At, text: impl Into<String>) -> Label {
        Label {
            at,
            text: text.into(),
            size: Lettering::Normal,
            align: Align::Centre,
            turn: 0.0,
            pen: Pen::Text,
            of: None,
        }
    }

    /// At 2.5 mm.
    #[must_use]
    pub fn small(self) -> Label {
        Label { size: Lettering::Small, ..self }
    }

    /// At 3.5 mm, as it is to begin with.
    #[must_use]
    pub fn normal(self) -> Label {
        Label { size: Lettering::Normal, ..self }
    }

    /// At 5 mm, bold.
    #[must_use]
    pub fn large(self) -> Label {
        Label { size: Lettering::Large, ..self }
    }

    /// With its left end, middle or right end at the point.
    #[must_use]
    pub fn align(self, align: Align) -> Label {
        Label { align, ..self }
    }

    /// Turned anticlockwise, radians.
    #[must_use]
    pub fn turned(self, turn: f64) -> Label {
        Label { turn, ..self }
    }

    /// In another pen than [`Pen::Text`].
    #[must_use]
    pub fn pen(self, pen: Pen) -> Label {
        Label { pen, ..self }
    }

    /// Of something.
    #[must_use]
    pub fn of(self, of: &ItemRef) -> Label {
        Label { of: Some(of.clone()), ..self }
    }

    /// At another point.
    #[must_use]
    pub fn at(self, at: At) -> Label {
        Label { at, ..self }
    }

    /// What it covers on paper at `scale`.
    pub fn bounds(&self, scale: f64) -> Rect {
        of_text(self.at.on_paper(scale), &self.text, self.size, self.align, self.turn)
    }

    /// The corners of the paper it covers, for a backing that hides what is behind it.
    pub fn backing(&self) -> [At; 4] {
        let r = of_text(self.at.paper, &self.text, self.size, self.align, self.turn);
        let ([x0, y0], [x1, y1]) = (r.min, r.max);
        [[x0, y0], [x1, y0], [x1, y1], [x0, y1]].map(|paper| At { paper, ..self.at })
    }

    /// How long it is along its line, mm of paper.
    pub fn width(&self) -> f64 {
        super::rect::weight(self.size).width(&self.text, self.size.height())
    }
}

impl From<Label> for Item {
    fn from(label: Label) -> Item {
        let Label { at, text, size, align, turn, pen, of } = label;
        Item { shape: Shape::Text { at, text, size, align, turn }, pen, fill: Fill::None, of }
    }
}

/// The direction of lettering along a line of direction `angle`, so that it is read from below or from
/// the right: more than a quarter turn back, up to a quarter turn on.
pub fn readable(angle: f64) -> f64 {
    let mut a = angle.rem_euclid(PI);
    if a > FRAC_PI_2 + 1e-6 {
        a -= PI;
    }
    a
}
