//! What is already on the paper, so that the next label finds a free place.

use std::collections::HashMap;

use super::{Label, Picture, Rect};

/// The rectangles already taken, mm of paper, kept by the cell of a grid they fall in so that a storey
/// of two hundred walls takes no longer for each label than a cupboard does.
#[derive(Clone, Debug, Default)]
pub struct Crowd {
    taken: HashMap<(i32, i32), Vec<Rect>>,
}

/// Side of a cell, mm of paper.
const CELL: f64 = 12.0;

/// The cells a rectangle falls in.
fn cells(rect: Rect) -> impl Iterator<Item = (i32, i32)> {
    let index = |v: f64| (v / CELL).floor().clamp(-1e5, 1e5) as i32;
    let (x, y) = (index(rect.min[0])..=index(rect.max[0]), index(rect.min[1])..=index(rect.max[1]));
    x.flat_map(move |i| y.clone().map(move |j| (i, j)))
}

impl Crowd {
    /// Nothing may be drawn over `rect` from now on.
    pub fn take(&mut self, rect: Rect) {
        for (i, j) in cells(rect) {
            let cell = Rect::new(f64::from(i) * CELL, f64::from(j) * CELL, CELL, CELL);
            self.taken.entry((i, j)).or_default().push(rect.common(cell));
        }
    }

    /// How much of `rect` is already taken, mm²; what is taken twice counts twice.
    pub fn overlap(&self, rect: Rect) -> f64 {
        cells(rect).filter_map(|c| self.taken.get(&c)).flatten().map(|t| t.overlap(rect)).sum()
    }

    /// The one of `choices` that is in nobody's way, the earlier the better; when none is free, the one
    /// least in the way.
    pub fn choose(&self, scale: f64, choices: impl IntoIterator<Item = Label>) -> Option<Label> {
        let mut best: Option<(f64, Label)> = None;
        for label in choices {
            let overlap = self.overlap(label.bounds(scale).grown(0.3));
            if best.as_ref().is_none_or(|(least, _)| overlap < *least) {
                best = Some((overlap, label));
            }
            if overlap == 0.0 {
                break;
            }
        }
        best.map(|(_, label)| label)
    }

    /// Draws the best of `choices`: see [`Crowd::choose`].
    pub fn place(
        &mut self,
        picture: &mut Picture,
        scale: f64,
        choices: impl IntoIterator<Item = Label>,
    ) {
        if let Some(label) = self.choose(scale, choices) {
            self.write(picture, scale, label);
        }
    }

    /// Draws the first of `choices` that is in nobody's way, or none.
    pub fn place_if_free(
        &mut self,
        picture: &mut Picture,
        scale: f64,
        choices: impl IntoIterator<Item = Label>,
    ) {
        let free = choices.into_iter().find(|l| self.overlap(l.bounds(scale).grown(0.3)) == 0.0);
        if let Some(label) = free {
            self.write(picture, scale, label);
        }
    }

    /// Draws `label` where it is, whatever is there.
    pub fn write(&mut self, picture: &mut Picture, scale: f64, label: Label) {
        self.take(label.bounds(scale));
        picture.label(label);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::picture::At;

    #[test]
    fn overlap_is_counted_once_however_many_cells_it_falls_in() {
        let mut crowd = Crowd::default();
        crowd.take(Rect::new(-50.0, 3.0, 100.0, 2.0));
        assert!((crowd.overlap(Rect::new(-20.0, 0.0, 40.0, 10.0)) - 80.0).abs() < 1e-9);
        assert_eq!(crowd.overlap(Rect::new(-20.0, 5.0, 40.0, 10.0)), 0.0);
    }

    #[test]
    fn a_label_takes_the_first_free_place() {
        let (mut crowd, mut picture) = (Crowd::default(), Picture::default());
        crowd.take(Rect::about(0.0, 0.0, 30.0, 8.0));
        let at = |y: f64| Label::new(At::model(0.0, 0.0).shifted(0.0, y), "2 300");
        crowd.place(&mut picture, 20.0, [at(0.0), at(9.0), at(-9.0)]);
        crowd.place(&mut picture, 20.0, [at(0.0), at(9.0), at(-9.0)]);
        let ys: Vec<f64> = picture.items.iter().map(|i| i.bounds(20.0).centre()[1]).collect();
        assert!(ys[0] > 8.0 && ys[1] < -8.0, "{ys:?}");
        crowd.place_if_free(&mut picture, 20.0, [at(0.0), at(9.0)]);
        assert_eq!(picture.items.len(), 2);
    }
}
