//! How long one frame of the window takes, without the graphics card: `cargo bench -p editor`.
//! Everything is laid out, painted into shapes and named for those who listen. Results and targets
//! are in `docs/PERFORMANCE.md`. Timings decide nothing in the tests.

use divan::Bencher;
use editor::app::{App, Start, nobody};
use egui_kittest::Harness;
use layout_core::document::Job;
use suite::jobs;

fn main() {
    divan::main();
}

fn window(job: Job) -> Harness<'static, App> {
    let start = Start { job: Some(job), open: None, prefs: None, asker: nobody() };
    let mut harness = Harness::builder()
        .with_size(egui::vec2(1366.0, 768.0))
        .with_max_steps(60)
        .build_eframe(|cc| App::new(&cc.egui_ctx, start));
    harness.run_ok();
    harness
}

/// A frame in which the pointer moves over the plan and nothing else happens.
fn frame(bencher: Bencher, job: Job) {
    let mut harness = window(job);
    let mut x = 0.0;
    bencher.bench_local(move || {
        x = (x + 1.0) % 200.0;
        harness.hover_at(egui::pos2(200.0 + x, 400.0));
        harness.step();
    });
}

#[divan::bench]
fn frame_of_demo(bencher: Bencher) {
    frame(bencher, jobs::demo());
}

#[divan::bench]
fn frame_of_storey(bencher: Bencher) {
    frame(bencher, jobs::storey());
}

/// A frame in which a door is dragged, with all that follows it.
#[divan::bench]
fn drag_frame_of_storey(bencher: Bencher) {
    let job = jobs::storey();
    let wall = job.walls.iter().find(|w| !w.openings.is_empty()).expect("a wall with an opening");
    let opening = wall.openings[0].clone();
    let mut harness = window(job);
    let grip = editor::gesture::Grip::Opening(opening.name);
    let space = editor::gesture::Space::Elevation;
    let from = layout_core::math::PlanPoint::origin();
    let mut x = 0.0;
    bencher.bench_local(move || {
        x = (x + 1.0) % 200.0;
        let mut gesture = editor::gesture::Gesture::new(grip.clone(), space, from);
        gesture.now.x = x;
        harness.state_mut().ask(editor::command::Command::Drag(gesture));
        harness.step();
    });
}
