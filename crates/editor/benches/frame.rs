//! How long one frame of the window takes on the processor, without the graphics card.
//! `cargo bench -p editor`; results and targets are in `docs/PERFORMANCE.md`.

use divan::{Bencher, black_box};
use editor::app::{App, Start, nobody};
use editor::command::Command;
use eframe::App as _;
use egui::{Context, Event, Pos2, RawInput, Rect, Vec2};
use layout_core::document::{Edit, Job};
use suite::jobs;

fn main() {
    divan::main();
}

/// A window without a screen.
struct Window {
    ctx: Context,
    app: App,
    frame: eframe::Frame,
    time: f64,
}

impl Window {
    fn on(job: Job) -> Window {
        let ctx = Context::default();
        let start = Start { job: Some(job), open: None, prefs: None, asker: nobody() };
        let app = App::new(&ctx, start);
        let mut window = Window { ctx, app, frame: eframe::Frame::_new_kittest(), time: 0.0 };
        // Lettering is drawn once, on the first frames.
        for _ in 0..5 {
            window.step();
        }
        window
    }

    /// One frame: what the window does, and the triangles of what it shows.
    fn step(&mut self) -> usize {
        self.time += 1.0 / 60.0;
        // The pointer wanders over the drawing, so that something is always under it.
        let wander = (self.time * 40.0) as f32 % 300.0;
        let input = RawInput {
            screen_rect: Some(Rect::from_min_size(Pos2::ZERO, Vec2::new(1366.0, 768.0))),
            time: Some(self.time),
            events: vec![Event::PointerMoved(Pos2::new(300.0 + wander, 300.0))],
            ..RawInput::default()
        };
        let (app, frame) = (&mut self.app, &mut self.frame);
        let shown = self.ctx.run_ui(input, |ui| {
            app.logic(&ui.ctx().clone(), frame);
            app.ui(ui, frame);
        });
        self.ctx.tessellate(shown.shapes, shown.pixels_per_point).len()
    }
}

fn still(bencher: Bencher, job: Job) {
    let mut window = Window::on(job);
    bencher.bench_local(|| black_box(window.step()));
}

/// A frame in which a door has moved: the layout, both pictures, the lists and snags follow.
fn moving(bencher: Bencher, job: &Job) {
    let wall = job.walls.iter().find(|w| !w.openings.is_empty()).expect("a wall with a door");
    let opening = wall.openings[0].clone();
    let mut window = Window::on(job.clone());
    let mut step = 0_u32;
    bencher.bench_local(|| {
        step = (step + 1) % 100;
        let away = f64::from(50_u32.abs_diff(step));
        window.app.ask(Command::Edit(Edit::MoveOpening {
            opening: opening.name.clone(),
            distance: opening.hold.distance + away,
        }));
        black_box(window.step())
    });
}

#[divan::bench(sample_count = 300, sample_size = 1)]
fn still_demo(bencher: Bencher) {
    still(bencher, jobs::demo());
}

#[divan::bench(sample_count = 300, sample_size = 1)]
fn still_storey(bencher: Bencher) {
    still(bencher, jobs::storey());
}

#[divan::bench(sample_count = 300, sample_size = 1)]
fn moving_a_door_demo(bencher: Bencher) {
    moving(bencher, &jobs::demo());
}

#[divan::bench(sample_count = 300, sample_size = 1)]
fn moving_a_door_storey(bencher: Bencher) {
    moving(bencher, &jobs::storey());
}
