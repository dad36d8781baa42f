//! What is already on the paper, so that the next label finds a free place.

use super::{Label, Picture, Rect};

/// The rectangles already taken, mm of paper.
#[derive(Clone, Debug, Default)]
pub struct Crowd {
    taken: Vec<Rect>,
}

impl Crowd {
    /// Nothing may be drawn over `rect` from now on.
    pub fn take(&mut self, rect: Rect) {
        self.taken.push(rect);
    }

    /// How much of `rect` is already taken, mm².
    pub fn overlap(&self, rect: Rect) -> f64 {
        self.taken.iter().map(|t| t.overlap(rect)).sum()
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
