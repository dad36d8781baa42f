//! Draw: everything can be taken hold of where it is seen; one drag is one step; a typed number is
//! exact; Esc gives back.

mod compare;
mod drags;
mod first_fix;
mod keys;
mod particulars;
mod platforms;
mod readings;
mod survey;
mod under;
mod tools;

use std::sync::Arc;

use editor::app::{Start, nobody};
use editor::command::Command;
use egui::{Event, Key, Modifiers, Pos2, Vec2, vec2};
use egui_kittest::kittest::Queryable;
use layout_core::document::{
    Corner, Door, Hold, HoldTo, Job, Node, Opening, OpeningKind, Wall, WallEnd,
};
use layout_core::math::PlanPoint;

use crate::window::Window;

/// A room of 4.6 × 5.2 m, wall A across it with door D1 2300 from its start, wall B from A to the
/// side behind.
fn room() -> Job {
    let mut job = Job { title: "Bench room".into(), ..Job::default() };
    let corner = |x, y| Corner { at: PlanPoint::new(x, y), thickness: 140.0, gaps: vec![] };
    job.shell.outline =
        vec![corner(0.0, 0.0), corner(4600.0, 0.0), corner(4600.0, 5200.0), corner(0.0, 5200.0)];
    let node = |n: &str, x, y| Node { name: n.into(), at: PlanPoint::new(x, y) };
    job.nodes = vec![
        node("1", 0.0, 3000.0),
        node("2", 4600.0, 3000.0),
        node("3", 1750.0, 3000.0),
        node("4", 1750.0, 0.0),
    ];
    let makeup = job.makeups[0].name.clone();
    let mut a = Wall::new("A", "1", "2", makeup.clone());
    a.openings.push(Opening::new(
        "D1",
        OpeningKind::Door(Door::default()),
        Hold { from: WallEnd::Start, to: HoldTo::Near, distance: 2300.0 },
    ));
    a.openings.push(Opening::new(
        "L1",
        OpeningKind::BorrowedLight { width: 600.0, height: 400.0, sill: 1500.0 },
        Hold { from: WallEnd::Start, to: HoldTo::Near, distance: 600.0 },
    ));
    job.walls = vec![Arc::new(a), Arc::new(Wall::new("B", "3", "4", makeup))];
    job
}

/// The window on [`room`].
fn window() -> Window {
    let mut w = Window::on(room());
    w.ask(Command::Prefer(editor::prefs::Preference::HintRead(true)));
    w
}

impl Window {
    /// The window on `job`.
    fn on(job: Job) -> Window {
        Window::start(Start { job: Some(job), open: None, prefs: None, asker: nobody() })
    }

    /// The middle of what is called `name`, on screen.
    fn middle(&self, name: &str) -> Pos2 {
        self.ui.get_by_label(name).rect().center()
    }

    /// Takes hold at `from` and moves the hand by `by`, without letting go.
    fn hold(&mut self, from: Pos2, by: Vec2) {
        self.ui.hover_at(from);
        self.ui.step();
        self.ui.drag_at(from);
        self.ui.step();
        for k in 1..=8 {
            self.ui.hover_at(from + by * (k as f32 / 8.0));
            self.ui.step();
        }
        self.ui.step();
    }

    /// Lets go at `at`.
    fn let_go(&mut self, at: Pos2) {
        self.ui.drop_at(at);
        self.settle();
    }

    /// Clicks a point of the screen.
    fn click_at(&mut self, at: Pos2) {
        self.ui.hover_at(at);
        self.ui.step();
        self.ui.drag_at(at);
        self.ui.step();
        self.ui.drop_at(at);
        self.settle();
    }

    /// Moves the hand to a point of the screen.
    fn point_at(&mut self, at: Pos2) {
        self.ui.hover_at(at);
        self.settle();
    }

    /// Types `text` as a hand would while it holds something.
    fn type_out(&mut self, text: &str) {
        self.ui.event(Event::Text(text.into()));
        self.ui.step();
        self.ui.step();
    }

    /// Presses a key with the views settled afterwards, modifiers none.
    fn key(&mut self, key: Key) {
        self.press(Modifiers::NONE, key);
    }

    /// Where a plan point falls on screen, found from nodes 3 (1750, 3000) and 4 (1750, 0).
    fn plan(&self, x: f32, y: f32) -> Pos2 {
        let a = self.middle("node 3 at 1750, 3000, plan");
        let b = self.middle("node 4 at 1750, 0, plan");
        let zoom = (b.y - a.y) / 3000.0;
        a + vec2((x - 1750.0) * zoom, (3000.0 - y) * zoom)
    }

    /// Distance that holds an opening of the committed job.
    fn distance(&self, opening: &str) -> f64 {
        self.job().opening(&opening.into()).expect("the opening").1.hold.distance
    }

    /// The same while it is dragged.
    fn live_distance(&self, opening: &str) -> f64 {
        let live = self.session().live();
        live.opening(&opening.into()).expect("the opening").1.hold.distance
    }

    /// How many steps can be undone.
    fn steps(&self) -> usize {
        self.session().history.depth()
    }
}
