//! Lines, areas and lettering that know what they are of, and nothing of where they will be drawn.
//!
//! Every point has two parts: a place in the *model* (millimetres of the building, x right and
//! y up; an elevation's y is the height above FFL) and a shift on the *paper* (millimetres of
//! paper or of glass, x right and y up). At a scale of 1:20 a point falls at `model / 20 + paper`. So a
//! dimension line keeps its distance from the wall at every scale and zoom.

mod crowd;
mod label;
mod rect;
mod spread;

use layout_core::id::ItemRef;

pub use crowd::Crowd;
pub use label::{Label, readable};
pub use rect::Rect;
pub use spread::{spread, spread_up_to};

/// Width of a line of lettering on paper, mm.
pub(crate) fn width(size: Lettering, text: &str) -> f64 {
    rect::weight(size).width(text, size.height())
}

/// A point of a picture.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct At {
    /// Place in the model, mm.
    pub model: [f64; 2],
    /// Shift on the paper, mm of paper.
    pub paper: [f64; 2],
}

impl At {
    /// A point of the model.
    pub fn model(x: f64, y: f64) -> At {
        At { model: [x, y], paper: [0.0, 0.0] }
    }

    /// The same place, shifted on the paper.
    #[must_use]
    pub fn shifted(self, dx: f64, dy: f64) -> At {
        At { paper: [self.paper[0] + dx, self.paper[1] + dy], ..self }
    }

    /// Where it falls on paper, mm, with `scale` millimetres of model to one of paper.
    pub fn on_paper(self, scale: f64) -> [f64; 2] {
        [self.model[0] / scale + self.paper[0], self.model[1] / scale + self.paper[1]]
    }
}

/// What a line means; the page and the screen give it weight, dash and colour.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Pen {
    /// No line at all: an area without an edge.
    None,
    /// What is cut through: the outline of existing walls on the plan.
    Cut,
    /// Edges of what is seen: timber in an elevation, frames on the plan.
    Outline,
    /// Lighter edges: end-grain crosses, swings, leaf.
    Thin,
    /// What is hidden or above: dashed.
    Hidden,
    /// Cables and pipes in a wall: long dashes, heavy.
    Service,
    /// Centre and datum lines: dash-dot.
    Centre,
    /// Dimension and leader lines, and dimension figures.
    Dimension,
    /// Ordinary lettering.
    Text,
    /// Lettering of less weight: captions, units.
    Quiet,
}

/// What an area is; the page hatches, the screen tints.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Fill {
    /// Nothing: what is behind shows.
    None,
    /// Bare paper: hides what is behind.
    Paper,
    /// Common timber seen from its side.
    Timber,
    /// Timber of an opening: opening studs, jacks, head, sill.
    TimberStrong,
    /// Noggins, blocks and grounds.
    TimberLight,
    /// Timber or ply behind a fitting.
    Pattress,
    /// A noggin that a box hangs on.
    BoxNoggin,
    /// Plates.
    TimberPlate,
    /// Existing building, cut.
    Existing,
    /// Board.
    Board,
    /// A fitting or first-fix box.
    Fitting,
    /// A zone in which cables run; what is behind shows.
    Zone,
}

/// Heights of lettering on paper: ISO 3098 steps.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Lettering {
    /// 2.5 mm.
    Small,
    /// 3.5 mm: dimensions for the site.
    Normal,
    /// 5 mm, bold: marks and room names.
    Large,
}

impl Lettering {
    /// Height of capitals on paper, mm.
    pub fn height(self) -> f64 {
        match self {
            Lettering::Small => 2.5,
            Lettering::Normal => 3.5,
            Lettering::Large => 5.0,
        }
    }
}

/// Where a point of lettering sits in its line.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Align {
    /// The point is the left end.
    Left,
    /// The point is the middle.
    Centre,
    /// The point is the right end.
    Right,
}

/// A shape.
#[derive(Clone, Debug, PartialEq)]
pub enum Shape {
    /// A line through points.
    Line(Vec<At>),
    /// A closed outline. It is convex, so that anything can fill it.
    Area(Vec<At>),
    /// Part of a circle, anticlockwise from `from` to `to` radians; `radius` in the model, mm.
    Arc {
        /// Its centre.
        centre: At,
        /// Its radius in the model, mm.
        radius: f64,
        /// Where it starts, radians anticlockwise from x.
        from: f64,
        /// Where it stops.
        to: f64,
    },
    /// A small circle of a fixed size on paper.
    Dot {
        /// Its middle.
        at: At,
        /// Its radius on paper, mm.
        radius: f64,
    },
    /// One line of lettering; `at` is on its baseline's middle height.
    Text {
        /// Where.
        at: At,
        /// The text.
        text: String,
        /// Its height.
        size: Lettering,
        /// Which part of it is at the point, along the line; across it, it is centred.
        align: Align,
        /// Turned anticlockwise, radians.
        turn: f64,
    },
}

/// A shape with its meaning.
#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    /// The shape.
    pub shape: Shape,
    /// Its line, or the colour of its lettering.
    pub pen: Pen,
    /// What fills it, when it is an area.
    pub fill: Fill,
    /// What it is of.
    pub of: Option<ItemRef>,
}

/// A drawing. Later items lie over earlier ones.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Picture {
    /// Its items.
    pub items: Vec<Item>,
}

impl Picture {
    /// Adds a line through `points`.
    pub fn line(&mut self, points: impl Into<Vec<At>>, pen: Pen, of: Option<&ItemRef>) {
        self.add(Shape::Line(points.into()), pen, Fill::None, of);
    }

    /// Adds a convex area.
    pub fn area(&mut self, points: impl Into<Vec<At>>, pen: Pen, fill: Fill, of: Option<&ItemRef>) {
        self.add(Shape::Area(points.into()), pen, fill, of);
    }

    /// Adds any shape.
    pub fn add(&mut self, shape: Shape, pen: Pen, fill: Fill, of: Option<&ItemRef>) {
        self.items.push(Item { shape, pen, fill, of: of.cloned() });
    }

    /// Adds a line of lettering.
    pub fn label(&mut self, label: Label) {
        self.items.push(label.into());
    }

    /// What its model places cover, mm of the building, shifts on the paper and lettering left out; empty
    /// (inside out) when there is nothing.
    pub fn extent(&self) -> Rect {
        Rect::round(
            self.items
                .iter()
                .flat_map(|i| match &i.shape {
                    Shape::Line(points) | Shape::Area(points) => points.as_slice(),
                    Shape::Arc { centre: at, .. }
                    | Shape::Dot { at, .. }
                    | Shape::Text { at, .. } => std::slice::from_ref(at),
                })
                .map(|at| at.model),
        )
    }

    /// What the whole picture covers on paper at `scale`, mm; `None` when it is empty.
    pub fn bounds(&self, scale: f64) -> Option<Rect> {
        self.items.iter().map(|i| i.bounds(scale)).reduce(Rect::join)
    }
}
