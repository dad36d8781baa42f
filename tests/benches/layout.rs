//! How long the core and the sheets take. `cargo bench -p suite`; results and targets are in
//! `docs/PERFORMANCE.md`. Timings decide nothing in the tests.

use std::cell::Cell;

use divan::{Bencher, black_box};
use layout_core::board_plan::board_plans;
use layout_core::compare;
use layout_core::document::{Edit, Job};
use layout_core::layout::Layout;
use layout_core::pieces::{Planning, batches, totals};
use sheets::export::Meta;
use sheets::page::PrintOptions;
use suite::jobs;

fn main() {
    divan::main();
}

fn pieces(layout: &Layout) -> usize {
    layout.walls.iter().map(|w| w.frame.members.len()).sum()
}

/// One step of dragging a door: the edit, the layout again, totals and snags.
fn drag_step(bencher: Bencher, job: &Job) {
    let wall = job.walls.iter().find(|w| !w.openings.is_empty()).expect("a wall with a door");
    let opening = wall.openings[0].clone();
    let kept = Cell::new(Some(Layout::of(job)));
    let step = Cell::new(0_u32);
    bencher.bench_local(|| {
        // To and fro, a millimetre at a time, as a hand does.
        step.set((step.get() + 1) % 200);
        let away = f64::from(100_u32.abs_diff(step.get()));
        let edit = Edit::MoveOpening {
            opening: opening.name.clone(),
            distance: opening.hold.distance + away,
        };
        let job = edit.apply(job);
        let layout = kept.take().expect("the last layout").relayout(&job);
        let seen = (totals(&layout).len(), layout.snags.len());
        kept.set(Some(layout));
        black_box(seen)
    });
}

#[divan::bench(sample_count = 1000, sample_size = 1)]
fn drag_step_demo(bencher: Bencher) {
    drag_step(bencher, &jobs::demo());
}

#[divan::bench(sample_count = 1000, sample_size = 1)]
fn drag_step_storey(bencher: Bencher) {
    drag_step(bencher, &jobs::storey());
}

fn board_sheets(bencher: Bencher, job: &Job) {
    let layout = Layout::of(job);
    bencher.bench(|| board_plans(black_box(job), &layout));
}

#[divan::bench(sample_count = 50, sample_size = 1)]
fn sheets_of_board_demo(bencher: Bencher) {
    board_sheets(bencher, &jobs::demo());
}

#[divan::bench(sample_count = 10, sample_size = 1)]
fn sheets_of_board_storey(bencher: Bencher) {
    board_sheets(bencher, &jobs::storey());
}

/// An opening tried at 200 places along its wall, with what the whole job comes to at each.
fn sweep_door(bencher: Bencher, job: &Job) {
    let layout = Layout::of(job);
    let wall = job.walls.iter().find(|w| !w.openings.is_empty()).expect("a wall with a door");
    let opening = wall.openings[0].name.clone();
    bencher.bench(|| compare::sweep(black_box(job), &layout, &opening, 200, &|| true));
}

#[divan::bench(sample_count = 20, sample_size = 1)]
fn sweep_200_places_demo(bencher: Bencher) {
    sweep_door(bencher, &jobs::demo());
}

#[divan::bench(sample_count = 3, sample_size = 1)]
fn sweep_200_places_storey(bencher: Bencher) {
    sweep_door(bencher, &jobs::storey());
}

/// Every place for the odd bay of one wall at every usual spacing.
#[divan::bench(sample_count = 20, sample_size = 1)]
fn odd_bay_choices_demo(bencher: Bencher) {
    let job = jobs::demo();
    let layout = Layout::of(&job);
    let wall = layout.walls[0].name().clone();
    bencher.bench(|| compare::choices(black_box(&job), &layout, &wall, &|| true));
}

/// The layout of a building of so many modules (nine walls each) from nothing: 22 is the storey,
/// 222 the block.
#[divan::bench(args = [22, 74, 222], sample_count = 30, sample_size = 1)]
fn whole_layout(bencher: Bencher, modules: usize) {
    let job = jobs::building(modules);
    bencher
        .counter(divan::counter::ItemsCount::new(pieces(&Layout::of(&job))))
        .bench(|| Layout::of(black_box(&job)));
}

#[divan::bench(sample_count = 100, sample_size = 1)]
fn whole_layout_demo(bencher: Bencher) {
    let job = jobs::demo();
    bencher.bench(|| Layout::of(black_box(&job)));
}

#[divan::bench(sample_count = 50, sample_size = 1)]
fn lists_of_the_storey(bencher: Bencher) {
    let job = jobs::storey();
    let layout = Layout::of(&job);
    bencher.bench(|| (batches(&layout).len(), Planning::new(&job, &layout).plans().len()));
}

#[divan::bench(sample_count = 50, sample_size = 1)]
fn read_and_write_the_storey(bencher: Bencher) {
    let text = layout_core::document::write(&jobs::storey());
    bencher.bench(|| {
        layout_core::document::read(black_box(&text)).map(|job| layout_core::document::write(&job))
    });
}

/// The whole print set on A4, laid out and written as one PDF.
fn print_set(bencher: Bencher, job: &Job) {
    let layout = Layout::of(job);
    let options = PrintOptions { date: "2026-01-01".into(), ..PrintOptions::default() };
    let sheets = sheets::page::print_set(job, &layout, &options).len();
    bencher.counter(divan::counter::ItemsCount::new(sheets)).bench(|| {
        let pages = sheets::page::print_set(black_box(job), &layout, &options);
        let about = Meta { title: job.title.clone(), date: options.date.clone() };
        sheets::export::pdf(&pages, &about).map(|file| file.len())
    });
}

#[divan::bench(sample_count = 20, sample_size = 1)]
fn print_demo(bencher: Bencher) {
    print_set(bencher, &jobs::demo());
}

#[divan::bench(sample_count = 5, sample_size = 1)]
fn print_storey(bencher: Bencher) {
    print_set(bencher, &jobs::storey());
}
