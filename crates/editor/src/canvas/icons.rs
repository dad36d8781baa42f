//! Icons of the tools and buttons, drawn here as lines on a 24 × 24 field.

use egui::{Color32, Painter, Pos2, Rect, Shape, Stroke, pos2};

use super::paint::arc;

/// What an icon shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Icon {
    /// A pointing hand's arrow.
    Pick,
    /// A room's outline with a nib.
    Room,
    /// A stud wall seen from above.
    Wall,
    /// A leaf and its swing.
    Door,
    /// A hole with head and sill.
    Opening,
    /// A box with two holes.
    Point,
    /// A shelf on a face.
    Fitting,
    /// End grain, crossed.
    Post,
    /// A beam from below, dashed.
    Beam,
    /// All of it in the frame.
    Fit,
    /// One view fills the place.
    Fill,
    /// Both views side by side.
    Both,
    /// The other face.
    Flip,
}

/// Paints `icon` in `rect`.
pub fn icon(painter: &Painter, rect: Rect, icon: Icon, ink: Color32) {
    let scale = rect.width().min(rect.height()) / 24.0;
    let origin = rect.center() - egui::vec2(12.0, 12.0) * scale;
    let at = |x: f32, y: f32| origin + egui::vec2(x, y) * scale;
    let stroke = Stroke::new(1.4, ink);
    let run = |points: &[(f32, f32)]| {
        painter.add(Shape::line(points.iter().map(|&(x, y)| at(x, y)).collect(), stroke));
    };
    let shut = |points: &[(f32, f32)]| {
        painter.add(Shape::closed_line(points.iter().map(|&(x, y)| at(x, y)).collect(), stroke));
    };
    let square = |a: f32, b: f32, c: f32, d: f32| shut(&[(a, b), (c, b), (c, d), (a, d)]);
    let swing = |centre: Pos2, radius: f32, from: f32, to: f32| {
        painter.add(Shape::line(arc(centre, radius * scale, from, to), stroke));
    };
    match icon {
        Icon::Pick => shut(&[
            (6.0, 3.0),
            (18.0, 13.0),
            (12.5, 13.7),
            (15.6, 20.0),
            (13.0, 21.2),
            (10.0, 15.0),
            (6.0, 18.6),
        ]),
        Icon::Room => {
            shut(&[(3.0, 4.0), (21.0, 4.0), (21.0, 14.0), (14.0, 14.0), (14.0, 20.0), (3.0, 20.0)])
        }
        Icon::Wall => {
            square(2.0, 9.0, 22.0, 15.5);
            for x in [7.0, 12.0, 17.0] {
                run(&[(x, 9.0), (x, 15.5)]);
            }
        }
        Icon::Door => {
            run(&[(2.0, 20.0), (6.0, 20.0)]);
            run(&[(6.0, 20.0), (6.0, 5.0)]);
            swing(at(6.0, 20.0), 15.0, 0.0, std::f32::consts::FRAC_PI_2);
            run(&[(20.0, 20.0), (23.0, 20.0)]);
        }
        Icon::Opening => {
            run(&[(3.0, 3.0), (3.0, 21.0)]);
            run(&[(21.0, 3.0), (21.0, 21.0)]);
            square(3.0, 6.0, 21.0, 8.5);
            square(3.0, 15.0, 21.0, 17.5);
            run(&[(12.0, 17.5), (12.0, 21.0)]);
            run(&[(12.0, 3.0), (12.0, 6.0)]);
        }
        Icon::Point => {
            square(4.0, 4.0, 20.0, 20.0);
            for x in [9.0, 15.0] {
                run(&[(x, 10.0), (x, 14.0)]);
            }
        }
        Icon::Fitting => {
            run(&[(4.0, 2.0), (4.0, 22.0)]);
            square(4.0, 9.0, 21.0, 12.0);
            run(&[(4.0, 18.0), (15.0, 12.0)]);
        }
        Icon::Post => {
            square(5.0, 5.0, 19.0, 19.0);
            run(&[(5.0, 5.0), (19.0, 19.0)]);
            run(&[(19.0, 5.0), (5.0, 19.0)]);
        }
        Icon::Beam => {
            for y in [9.0, 15.0] {
                for x in [2.0, 9.0, 16.0] {
                    run(&[(x, y), (x + 5.0, y)]);
                }
            }
        }
        Icon::Fit => {
            for (x, y, dx, dy) in [
                (3.0, 3.0, 1.0, 1.0),
                (21.0, 3.0, -1.0, 1.0),
                (21.0, 21.0, -1.0, -1.0),
                (3.0, 21.0, 1.0, -1.0),
            ] {
                run(&[(x + 5.0 * dx, y), (x, y), (x, y + 5.0 * dy)]);
            }
            square(8.0, 8.0, 16.0, 16.0);
        }
        Icon::Fill => {
            run(&[(13.0, 4.0), (20.0, 4.0), (20.0, 11.0)]);
            run(&[(20.0, 4.0), (14.0, 10.0)]);
            run(&[(4.0, 13.0), (4.0, 20.0), (11.0, 20.0)]);
            run(&[(4.0, 20.0), (10.0, 14.0)]);
        }
        Icon::Both => {
            square(3.0, 4.0, 21.0, 20.0);
            run(&[(12.0, 4.0), (12.0, 20.0)]);
        }
        Icon::Flip => {
            run(&[(12.0, 3.0), (12.0, 21.0)]);
            shut(&[(9.0, 7.0), (9.0, 17.0), (2.0, 17.0)]);
            shut(&[(15.0, 7.0), (15.0, 17.0), (22.0, 17.0)]);
        }
    }
}

/// The middle of `rect`, on whole points, for crisp lines.
pub(super) fn crisp(p: Pos2) -> Pos2 {
    pos2(p.x.round() + 0.5, p.y.round() + 0.5)
}
