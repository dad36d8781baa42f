//! Our own signs, drawn as strokes on a 24 × 24 field. Each is a joiner's way to draw the thing:
//! a door as its swing, a post as crossed end grain, a wall as two faces with a stud in it.

use egui::{Color32, Painter, Pos2, Rect, Shape, Stroke, pos2, vec2};
use layout_core::snag::Severity;

use crate::session::Tool;

/// A sign.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Icon {
    /// A tool of the rail.
    Tool(Tool),
    /// How grave a snag is; told apart by shape.
    Severity(Severity),
    /// Three lines: more to choose.
    Menu,
    /// Back a step.
    Undo,
    /// Forward again.
    Redo,
    /// Find.
    Find,
    /// Put away.
    Close,
    /// Done, agreed.
    Tick,
    /// Add a line.
    Plus,
    /// Less of it.
    Minus,
    /// Opens downwards.
    Down,
    /// All of it on screen.
    Fit,
    /// One view fills the place.
    Fill,
    /// Both views.
    Both,
    /// From the other side.
    Flip,
    /// A sheet of paper.
    Sheet,
    /// Write to a file.
    Write,
}

/// One stroke of a sign, on the 24 × 24 field, y down.
enum Mark {
    /// Through these points.
    Line(&'static [(f32, f32)]),
    /// Closed.
    Loop(&'static [(f32, f32)]),
    /// Dashed, through these points.
    Dashed(&'static [(f32, f32)]),
    /// Centre, radius, from and to in degrees clockwise from the right.
    Arc((f32, f32), f32, f32, f32),
    /// A filled disc.
    Disc((f32, f32), f32),
}

use Mark::{Arc, Dashed, Disc, Line, Loop};

fn marks(icon: Icon) -> &'static [Mark] {
    match icon {
        Icon::Tool(tool) => tool_marks(tool),
        Icon::Severity(Severity::Stop) => &[
            Loop(&[
                (8.0, 3.0),
                (16.0, 3.0),
                (21.0, 8.0),
                (21.0, 16.0),
                (16.0, 21.0),
                (8.0, 21.0),
                (3.0, 16.0),
                (3.0, 8.0),
            ]),
            Line(&[(7.5, 12.0), (16.5, 12.0)]),
        ],
        Icon::Severity(Severity::Mend) => &[
            Loop(&[(12.0, 3.5), (22.0, 20.5), (2.0, 20.5)]),
            Line(&[(12.0, 9.5), (12.0, 14.5)]),
            Disc((12.0, 17.6), 1.1),
        ],
        Icon::Severity(Severity::Note) => &[
            Arc((12.0, 12.0), 9.0, 0.0, 360.0),
            Line(&[(12.0, 11.0), (12.0, 17.0)]),
            Disc((12.0, 7.6), 1.1),
        ],
        Icon::Menu => &[
            Line(&[(4.0, 7.0), (20.0, 7.0)]),
            Line(&[(4.0, 12.0), (20.0, 12.0)]),
            Line(&[(4.0, 17.0), (14.0, 17.0)]),
        ],
        Icon::Undo => &[
            Line(&[(9.0, 4.5), (4.5, 9.0), (9.0, 13.5)]),
            Line(&[(4.5, 9.0), (14.5, 9.0)]),
            Arc((14.5, 14.0), 5.0, -90.0, 90.0),
            Line(&[(14.5, 19.0), (9.0, 19.0)]),
        ],
        Icon::Redo => &[
            Line(&[(15.0, 4.5), (19.5, 9.0), (15.0, 13.5)]),
            Line(&[(19.5, 9.0), (9.5, 9.0)]),
            Arc((9.5, 14.0), 5.0, 90.0, 270.0),
            Line(&[(9.5, 19.0), (15.0, 19.0)]),
        ],
        Icon::Find => &[Arc((10.5, 10.5), 6.0, 0.0, 360.0), Line(&[(15.0, 15.0), (20.5, 20.5)])],
        Icon::Close => &[Line(&[(6.0, 6.0), (18.0, 18.0)]), Line(&[(18.0, 6.0), (6.0, 18.0)])],
        Icon::Tick => &[Line(&[(4.5, 12.5), (10.0, 18.0), (19.5, 6.5)])],
        Icon::Plus => &[Line(&[(12.0, 5.0), (12.0, 19.0)]), Line(&[(5.0, 12.0), (19.0, 12.0)])],
        Icon::Minus => &[Line(&[(5.0, 12.0), (19.0, 12.0)])],
        Icon::Down => &[Line(&[(6.0, 9.5), (12.0, 15.5), (18.0, 9.5)])],
        Icon::Fit => &[
            Line(&[(3.5, 9.0), (3.5, 3.5), (9.0, 3.5)]),
            Line(&[(15.0, 3.5), (20.5, 3.5), (20.5, 9.0)]),
            Line(&[(20.5, 15.0), (20.5, 20.5), (15.0, 20.5)]),
            Line(&[(9.0, 20.5), (3.5, 20.5), (3.5, 15.0)]),
            Loop(&[(8.0, 9.0), (16.0, 9.0), (16.0, 15.0), (8.0, 15.0)]),
        ],
        Icon::Fill => &[
            Line(&[(13.0, 4.0), (20.0, 4.0), (20.0, 11.0)]),
            Line(&[(20.0, 4.0), (14.0, 10.0)]),
            Line(&[(4.0, 13.0), (4.0, 20.0), (11.0, 20.0)]),
            Line(&[(4.0, 20.0), (10.0, 14.0)]),
        ],
        Icon::Both => &[
            Loop(&[(3.0, 4.0), (21.0, 4.0), (21.0, 20.0), (3.0, 20.0)]),
            Line(&[(12.0, 4.0), (12.0, 20.0)]),
        ],
        Icon::Flip => &[
            Dashed(&[(12.0, 3.0), (12.0, 21.0)]),
            Loop(&[(9.0, 7.0), (9.0, 17.0), (3.0, 17.0)]),
            Loop(&[(15.0, 7.0), (15.0, 17.0), (21.0, 17.0)]),
        ],
        Icon::Sheet => &[
            Loop(&[(5.0, 3.0), (19.0, 3.0), (19.0, 21.0), (5.0, 21.0)]),
            Line(&[(5.0, 17.0), (19.0, 17.0)]),
            Line(&[(13.0, 17.0), (13.0, 21.0)]),
        ],
        Icon::Write => &[
            Line(&[(12.0, 3.5), (12.0, 14.5)]),
            Line(&[(7.5, 10.0), (12.0, 14.5), (16.5, 10.0)]),
            Line(&[(4.0, 15.0), (4.0, 20.0), (20.0, 20.0), (20.0, 15.0)]),
        ],
    }
}

fn tool_marks(tool: Tool) -> &'static [Mark] {
    match tool {
        Tool::Pick => &[Loop(&[
            (6.0, 3.0),
            (18.5, 12.5),
            (12.6, 13.4),
            (16.0, 20.0),
            (13.4, 21.2),
            (10.2, 14.6),
            (6.0, 18.5),
        ])],
        Tool::Room => &[Loop(&[
            (3.0, 4.0),
            (21.0, 4.0),
            (21.0, 14.0),
            (14.0, 14.0),
            (14.0, 20.0),
            (3.0, 20.0),
        ])],
        Tool::Wall => &[
            Line(&[(2.0, 9.0), (22.0, 9.0)]),
            Line(&[(2.0, 15.0), (22.0, 15.0)]),
            Loop(&[(10.0, 9.0), (14.0, 9.0), (14.0, 15.0), (10.0, 15.0)]),
            Line(&[(10.0, 9.0), (14.0, 15.0)]),
            Line(&[(14.0, 9.0), (10.0, 15.0)]),
        ],
        Tool::Door => &[
            Line(&[(2.0, 20.0), (6.0, 20.0)]),
            Line(&[(18.0, 20.0), (22.0, 20.0)]),
            Line(&[(6.0, 20.0), (6.0, 7.0)]),
            Arc((6.0, 20.0), 12.5, -90.0, 0.0),
        ],
        Tool::Opening => &[
            Line(&[(4.0, 21.0), (4.0, 3.0)]),
            Line(&[(20.0, 21.0), (20.0, 3.0)]),
            Loop(&[(4.0, 7.0), (20.0, 7.0), (20.0, 16.0), (4.0, 16.0)]),
            Line(&[(8.5, 13.5), (12.5, 9.5)]),
        ],
        Tool::Point => &[
            Loop(&[(5.0, 5.0), (19.0, 5.0), (19.0, 19.0), (5.0, 19.0)]),
            Disc((9.5, 12.0), 1.4),
            Disc((14.5, 12.0), 1.4),
        ],
        Tool::Fitting => &[
            Line(&[(4.0, 3.0), (4.0, 21.0)]),
            Loop(&[(4.0, 8.0), (20.0, 8.0), (20.0, 11.5), (4.0, 11.5)]),
            Line(&[(16.0, 11.5), (4.0, 18.0)]),
        ],
        Tool::Post => &[
            Loop(&[(5.0, 5.0), (19.0, 5.0), (19.0, 19.0), (5.0, 19.0)]),
            Line(&[(5.0, 5.0), (19.0, 19.0)]),
            Line(&[(19.0, 5.0), (5.0, 19.0)]),
        ],
        Tool::Roof => {
            &[Line(&[(2.0, 18.0), (12.0, 5.0), (22.0, 18.0)]), Dashed(&[(12.0, 5.0), (12.0, 20.0)])]
        }
        Tool::Platform => &[
            Line(&[(3.0, 3.0), (3.0, 21.0)]),
            Line(&[(21.0, 3.0), (21.0, 21.0)]),
            Loop(&[(3.0, 8.0), (21.0, 8.0), (21.0, 13.0), (3.0, 13.0)]),
            Line(&[(9.0, 8.0), (9.0, 13.0)]),
            Line(&[(15.0, 8.0), (15.0, 13.0)]),
        ],
        Tool::Level => &[
            Dashed(&[(2.0, 5.0), (22.0, 5.0)]),
            Line(&[(12.0, 5.0), (12.0, 18.0)]),
            Line(&[(8.5, 14.5), (12.0, 18.0), (15.5, 14.5)]),
            Line(&[(2.0, 20.0), (9.0, 19.0), (22.0, 21.0)]),
        ],
        Tool::Beam => &[Dashed(&[(2.0, 9.0), (22.0, 9.0)]), Dashed(&[(2.0, 15.0), (22.0, 15.0)])],
    }
}

impl Icon {
    /// Draws it in the middle of `rect`, as large as fits, in `colour`.
    pub fn paint(self, painter: &Painter, rect: Rect, colour: Color32) {
        let side = rect.width().min(rect.height());
        let origin = rect.center() - vec2(side, side) / 2.0;
        let unit = side / 24.0;
        let at = |&(x, y): &(f32, f32)| origin + vec2(x, y) * unit;
        let stroke = Stroke::new((side / 14.0).clamp(1.1, 2.0), colour);
        for mark in marks(self) {
            match mark {
                Line(points) => {
                    painter.add(Shape::line(points.iter().map(at).collect(), stroke));
                }
                Loop(points) => {
                    painter.add(Shape::closed_line(points.iter().map(at).collect(), stroke));
                }
                Dashed(points) => {
                    let points: Vec<Pos2> = points.iter().map(at).collect();
                    painter.extend(Shape::dashed_line(&points, stroke, 4.0 * unit, 2.6 * unit));
                }
                Arc(centre, radius, from, to) => {
                    let steps = 24;
                    let points = (0..=steps)
                        .map(|i| {
                            let turn = (from + (to - from) * i as f32 / steps as f32).to_radians();
                            let c = at(centre);
                            pos2(c.x + radius * unit * turn.cos(), c.y + radius * unit * turn.sin())
                        })
                        .collect();
                    painter.add(Shape::line(points, stroke));
                }
                Disc(centre, radius) => {
                    painter.circle_filled(at(centre), (radius * unit).max(0.9), colour);
                }
            }
        }
    }

    /// Draws it in a square of `side` in the flow of `ui`, for the eye only.
    pub fn show(self, ui: &mut egui::Ui, side: f32, colour: Color32) {
        let (rect, _) = ui.allocate_exact_size(vec2(side, side), egui::Sense::hover());
        self.paint(ui.painter(), rect, colour);
    }
}

/// The sign of the program: a bay of studwork with a chalk line snapped across it.
pub fn window_icon() -> egui::IconData {
    const SIDE: usize = 64;
    const PAPER: [u8; 4] = [252, 251, 247, 255];
    const INK: [u8; 4] = [30, 42, 48, 255];
    const TIMBER: [u8; 4] = [246, 230, 192, 255];
    const CHALK: [u8; 4] = [27, 90, 168, 255];
    let mut rgba = vec![PAPER; SIDE * SIDE];
    let mut fill = |(x0, y0): (usize, usize), (x1, y1): (usize, usize), colour| {
        for y in y0..y1 {
            rgba[y * SIDE + x0..y * SIDE + x1].fill(colour);
        }
    };
    for (from, to) in [
        ((6, 14), (14, 50)),
        ((28, 14), (36, 50)),
        ((50, 14), (58, 50)),
        ((4, 6), (60, 15)),
        ((4, 49), (60, 58)),
    ] {
        fill(from, to, INK);
        fill((from.0 + 2, from.1 + 2), (to.0 - 2, to.1 - 2), TIMBER);
    }
    fill((0, 30), (64, 34), CHALK);
    egui::IconData { rgba: rgba.concat(), width: SIDE as u32, height: SIDE as u32 }
}
