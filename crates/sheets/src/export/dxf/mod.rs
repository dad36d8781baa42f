//! A drawing as DXF: text form, version AC1024 (its letters are UTF-8), one unit to the millimetre of the building.
//!
//! Lines and outlines are `LINE` and `LWPOLYLINE`, arcs `ARC`, dots `CIRCLE`, lettering `TEXT`, hatches lines of their
//! own; dimensions are lines and lettering, so that every reader shows them as they were drawn. Lettering and all
//! else that has its size on paper is as large as it must be to come out right at the scale of the drawing.

mod layers;
mod tags;
mod frame;

use std::f64::consts::TAU;

use crate::page::hatched;
use crate::picture::{Align, At, Fill, Item, Lettering, Pen, Picture, Rect, Shape};
use crate::theme;

use layers::{Layer, Part};
use tags::Tags;

/// A picture at `scale` (millimetres of model to one of paper) as the text of a DXF file. Equal pictures give equal bytes.
pub fn dxf(picture: &Picture, scale: f64) -> String {
    let mut drawing = Drawing { scale, tags: Tags::new(), layers: Vec::new() };
    for item in &picture.items {
        drawing.item(item);
    }
    let Drawing { tags, mut layers, .. } = drawing;
    layers.sort_unstable();
    layers.dedup();
    let covered = picture
        .bounds(scale)
        .map(|r| Rect { min: r.min.map(|v| v * scale), max: r.max.map(|v| v * scale) });
    frame::file(tags, &layers, scale, covered)
}

/// The entities so far, and the layers they are on.
struct Drawing {
    scale: f64,
    tags: Tags,
    layers: Vec<Layer>,
}

impl Drawing {
    /// A place of the picture in the drawing.
    fn at(&self, at: At) -> [f64; 2] {
        let scale = self.scale;
        [0, 1].map(|i| at.model[i] + at.paper[i] * scale)
    }

    fn item(&mut self, item: &Item) {
        let layer = |part| Layer::of(item.of.as_ref(), part);
        let lines = layer(if item.pen == Pen::Dimension { Part::Dimension } else { Part::Edge });
        match &item.shape {
            Shape::Line(points) => self.path(points, false, item.pen, lines),
            Shape::Area(points) => {
                self.hatch(points, item.fill, layer(Part::Hatch));
                self.path(points, true, item.pen, lines);
            }
            // An arc that comes back to where it began would be none at all.
            Shape::Arc { centre, radius, from, to } if to - from > TAU - 1e-6 => {
                self.circle(self.at(*centre), *radius, item.pen, lines);
            }
            Shape::Arc { centre, radius, from, to } => {
                if self.begin("ARC", item.pen, lines, &["AcDbCircle"]) {
                    let centre = self.at(*centre);
                    self.tags.point(10, centre);
                    self.tags.number(40, *radius);
                    self.tags.text(100, "AcDbArc");
                    self.tags.number(50, from.to_degrees().rem_euclid(360.0));
                    self.tags.number(51, to.to_degrees().rem_euclid(360.0));
                }
            }
            Shape::Dot { at, radius } => {
                self.circle(self.at(*at), radius * self.scale, item.pen, lines);
            }
            Shape::Text { at, text, size, align, turn } => {
                let part = if item.pen == Pen::Dimension { Part::Dimension } else { Part::Text };
                self.lettering(self.at(*at), text, (*size, *align, *turn), item.pen, layer(part));
            }
        }
    }

    fn circle(&mut self, at: [f64; 2], radius: f64, pen: Pen, layer: Layer) {
        if self.begin("CIRCLE", pen, layer, &["AcDbCircle"]) {
            self.tags.point(10, at);
            self.tags.number(40, radius);
        }
    }

    /// Begins an entity drawn by `pen`; false for a pen that draws nothing.
    fn begin(&mut self, kind: &str, pen: Pen, layer: Layer, classes: &[&str]) -> bool {
        let Some(stroke) = theme::stroke(pen) else { return false };
        self.entity(kind, layer, pen == Pen::Quiet);
        if !stroke.dash.is_empty() {
            self.tags.text(6, frame::line_type(pen));
        }
        self.tags.whole(370, (stroke.width * 100.0).round() as i64);
        for class in classes {
            self.tags.text(100, class);
        }
        true
    }

    fn entity(&mut self, kind: &str, layer: Layer, quiet: bool) {
        self.layers.push(layer);
        self.tags.text(0, kind);
        self.tags.handle();
        self.tags.text(330, frame::MODEL);
        self.tags.text(100, "AcDbEntity");
        self.tags.text(8, &layer.name());
        if quiet {
            self.tags.whole(62, frame::GREY);
        }
    }

    fn path(&mut self, points: &[At], closed: bool, pen: Pen, layer: Layer) {
        let mut points: Vec<[f64; 2]> = points.iter().map(|p| self.at(*p)).collect();
        points.dedup();
        match points[..] {
            [] | [_] => {}
            [a, b] => {
                if self.begin("LINE", pen, layer, &["AcDbLine"]) {
                    self.tags.point(10, a);
                    self.tags.point(11, b);
                }
            }
            _ => {
                if self.begin("LWPOLYLINE", pen, layer, &["AcDbPolyline"]) {
                    self.tags.whole(90, points.len() as i64);
                    self.tags.whole(70, i64::from(closed));
                    for [x, y] in points {
                        self.tags.number(10, x);
                        self.tags.number(20, y);
                    }
                }
            }
        }
    }

    /// The lines of a hatch, where they fall on paper.
    fn hatch(&mut self, points: &[At], fill: Fill, layer: Layer) {
        let Some(hatch) = theme::hatch(fill) else { return };
        // The page's y runs down.
        let outline: Vec<[f64; 2]> = points
            .iter()
            .map(|p| {
                let [x, y] = p.on_paper(self.scale);
                [x, -y]
            })
            .collect();
        for line in hatched(&outline, hatch) {
            self.entity("LINE", layer, true);
            self.tags.whole(370, (theme::hatch_stroke().width * 100.0).round() as i64);
            self.tags.text(100, "AcDbLine");
            for (code, [x, y]) in [10, 11].into_iter().zip(line) {
                self.tags.point(code, [x * self.scale, -y * self.scale]);
            }
        }
    }

    /// A line of lettering about its middle height. Two points say the same: where it would begin if it were as wide as
    /// it is here, and where it is held.
    fn lettering(
        &mut self,
        at: [f64; 2],
        text: &str,
        (size, align, turn): (Lettering, Align, f64),
        pen: Pen,
        layer: Layer,
    ) {
        let height = size.height() * self.scale;
        let width = crate::picture::width(size, text) * self.scale;
        let (across, held) = match align {
            Align::Left => (0.0, 0),
            Align::Centre => (width / 2.0, 1),
            Align::Right => (width, 2),
        };
        let (sin, cos) = turn.sin_cos();
        let down = height / 2.0;
        let begin = [at[0] - across * cos + down * sin, at[1] - across * sin - down * cos];
        self.entity("TEXT", layer, pen == Pen::Quiet);
        self.tags.text(100, "AcDbText");
        self.tags.point(10, begin);
        self.tags.number(40, height);
        self.tags.text(1, &tags::lettering(text));
        self.tags.number(50, turn.to_degrees().rem_euclid(360.0));
        self.tags.text(7, if size == Lettering::Large { frame::BOLD } else { frame::REGULAR });
        self.tags.whole(72, held);
        self.tags.point(11, at);
        self.tags.text(100, "AcDbText");
        self.tags.whole(73, 2);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use layout_core::id::ItemRef;

    fn lines(picture: &Picture) -> Vec<String> {
        let text = dxf(picture, 50.0);
        let entities = text.split("ENTITIES").nth(1).unwrap().split("ENDSEC").next().unwrap();
        entities.lines().map(|l| l.trim().to_string()).collect()
    }

    #[test]
    fn a_line_is_where_it_was_drawn_and_what_is_of_paper_grows_with_the_scale() {
        let mut picture = Picture::default();
        let wall = ItemRef::Wall("A".into());
        picture.line(
            [At::model(0.0, 0.0), At::model(1000.0, 0.0).shifted(0.0, 2.0)],
            Pen::Hidden,
            Some(&wall),
        );
        let found = lines(&picture).join(" ");
        assert!(found.contains("LINE") && found.contains("W-WALL--E-"), "{found}");
        assert!(found.contains("11 1000 21 100"), "{found}");
        assert!(found.contains("6 HIDDEN 370 18"), "{found}");
    }

    #[test]
    fn a_whole_turn_is_a_circle() {
        let mut picture = Picture::default();
        let arc = |to| Shape::Arc { centre: At::model(0.0, 0.0), radius: 50.0, from: 0.0, to };
        picture.add(arc(TAU), Pen::Thin, Fill::None, None);
        assert!(lines(&picture).contains(&"CIRCLE".to_string()));
        picture.items.clear();
        picture.add(arc(1.0), Pen::Thin, Fill::None, None);
        assert!(lines(&picture).contains(&"ARC".to_string()));
    }

    #[test]
    fn a_pen_that_draws_nothing_leaves_nothing_but_the_hatch() {
        let mut picture = Picture::default();
        let square = [[0.0, 0.0], [500.0, 0.0], [500.0, 500.0], [0.0, 500.0]];
        let square = square.map(|[x, y]| At::model(x, y));
        picture.area(square, Pen::None, Fill::Existing, None);
        let found = lines(&picture).join(" ");
        assert!(!found.contains("LWPOLYLINE") && found.contains("LINE"), "{found}");
        assert!(found.contains("W-GENERLH-"), "{found}");
    }
}
