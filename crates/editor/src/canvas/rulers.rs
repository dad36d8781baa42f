//! Rulers along the left and the bottom of a view, in the units of the job.

use egui::{Align2, Painter, Pos2, Rect, Stroke, pos2, vec2};

use layout_core::units::Units;

use super::eye::Sight;
use crate::theme::{Theme, font};

/// Width of a ruler, points.
pub(super) const RULER: f32 = 20.0;

/// What zero of each ruler is at in the model, and whether the one along the bottom runs the other way.
#[derive(Clone, Copy, Debug)]
pub(super) struct Zero {
    pub(super) at: [f64; 2],
    pub(super) mirrored: bool,
}

/// Paints both rulers along the outside of the drawing, with a mark at `hand`.
pub(super) fn rulers(
    painter: &Painter,
    sight: &Sight,
    (theme, units): (&Theme, Units),
    zero: Zero,
    hand: Option<Pos2>,
) {
    let view = sight.rect;
    let bottom = Rect::from_min_size(view.left_bottom(), vec2(view.width(), RULER));
    let left = Rect::from_min_max(pos2(view.left() - RULER, view.top()), view.left_bottom());
    for rect in [bottom, left] {
        painter.rect_filled(rect, 0.0, theme.sheet);
    }
    let line = Stroke::new(1.0, theme.hairline);
    painter.hline(bottom.x_range(), bottom.top(), line);
    painter.vline(left.right(), left.y_range(), line);
    let tick = Stroke::new(1.0, theme.rule);
    let step = step(units, sight.mm(64.0));
    let [low, high] = [sight.model(view.left_bottom()), sight.model(view.right_top())];
    for k in whole(low[0] - zero.at[0], high[0] - zero.at[0], step) {
        let x = sight.screen(zero.at[0] + k, 0.0).x;
        painter.vline(x, bottom.top()..=bottom.top() + 5.0, tick);
        if x > view.left() + 16.0 && x < view.right() - 18.0 {
            let value = if zero.mirrored { -k } else { k };
            let at = pos2(x, bottom.bottom() - 8.0);
            painter.text(at, Align2::CENTER_CENTER, units.show(value), font(11.0), theme.quiet);
        }
    }
    for k in whole(low[1] - zero.at[1], high[1] - zero.at[1], step) {
        let y = sight.screen(0.0, zero.at[1] + k).y;
        painter.hline(left.right() - 5.0..=left.right(), y, tick);
        if y > view.top() + 18.0 && y < bottom.top() - 18.0 {
            let galley = painter.layout_no_wrap(units.show(k), font(11.0), theme.quiet);
            let size = galley.size();
            let corner = pos2(left.left() + 1.0, y + size.x / 2.0);
            let turn = -std::f32::consts::FRAC_PI_2;
            painter.add(egui::epaint::TextShape::new(corner, galley, theme.quiet).with_angle(turn));
        }
    }
    if let Some(hand) = hand.filter(|h| view.contains(*h)) {
        let mark = Stroke::new(1.5, theme.accent);
        painter.vline(hand.x, bottom.y_range(), mark);
        painter.hline(left.x_range(), hand.y, mark);
    }
    let corner = Rect::from_min_size(left.left_bottom(), vec2(RULER, RULER));
    painter.rect_filled(corner, 0.0, theme.sheet);
    painter.text(corner.center(), Align2::CENTER_CENTER, units.short(), font(11.0), theme.quiet);
}

/// The next of 1, 2 or 5 times a power of ten that is at least `least`; in feet and inches the next of
/// what a tape is marked in.
fn step(units: Units, least: f64) -> f64 {
    if units == Units::FeetInches {
        let inches = [1.0, 2.0, 3.0, 6.0, 12.0, 24.0, 60.0, 120.0, 240.0, 600.0, 1200.0];
        let steps = inches.map(|i| i * 25.4);
        return steps.into_iter().find(|s| *s >= least).unwrap_or(30_480.0);
    }
    let power = 10f64.powf(least.max(1.0).log10().floor());
    [1.0, 2.0, 5.0, 10.0]
        .map(|k| k * power)
        .into_iter()
        .find(|s| *s >= least)
        .unwrap_or(10.0 * power)
}

fn whole(low: f64, high: f64, step: f64) -> impl Iterator<Item = f64> {
    let first = (low / step).ceil() as i64;
    let count = (((high - low) / step) as i64 + 1).clamp(0, 400);
    (first..first + count).map(move |k| k as f64 * step)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn steps_are_round_numbers_at_every_zoom() {
        assert_eq!(
            [3.0, 64.0, 120.0, 640.0, 1800.0].map(|least| step(Units::Millimetres, least)),
            [5.0, 100.0, 200.0, 1000.0, 2000.0]
        );
        let tape = |least| (step(Units::FeetInches, least) / 25.4).round();
        assert_eq!([20.0, 64.0, 290.0, 640.0].map(tape), [1.0, 3.0, 12.0, 60.0]);
        assert_eq!(whole(-250.0, 480.0, 200.0).collect::<Vec<_>>(), [-200.0, 0.0, 200.0, 400.0]);
    }
}
