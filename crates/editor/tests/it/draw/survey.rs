//! The table of measurements beside the plan: typed by keyboard, drawn while it is typed, used as one
//! step.

use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;
use layout_core::document::{Job, Measured, Measurement, Survey};

use super::window;
use crate::window::Window;

/// Opens the table on the bench room, 4.6 × 5.2 m, and begins with the room as drawn.
fn table() -> Window {
    let mut w = window();
    w.key(Key::M);
    w.click("Begin with the room as drawn, 4 corners");
    w
}

fn rows(w: &Window) -> &[Measurement] {
    &w.job().shell.survey.rows
}

/// The sides and diagonals of a room 4600 by 5200 a little out of square, read without error.
const READ: [(&str, f64); 6] = [
    ("Row 1 measured", 4600.0),
    ("Row 2 measured", 5200.0),
    ("Row 3 measured", 4610.0),
    ("Row 4 measured", 5195.0),
    ("Row 5 measured", 6950.0),
    ("Row 6 measured", 6942.0),
];

fn type_all(w: &mut Window) {
    for (name, value) in READ {
        w.type_into(name, &value.to_string());
    }
}

#[test]
fn the_table_begins_with_sides_and_the_diagonals_that_hold_and_check_them() {
    let w = table();
    let labels: Vec<String> =
        rows(&w).iter().map(|r| w.job().shell.survey.label(&r.what)).collect();
    assert_eq!(
        labels,
        ["side 1–2", "side 2–3", "side 3–4", "side 4–1", "diagonal 1–3", "diagonal 2–4"]
    );
    assert!(rows(&w).iter().all(|r| r.value.is_none() && r.error == 3.0));
    assert!(w.find("Row 5 to measure").is_some());
}

#[test]
fn what_is_typed_is_read_and_the_room_closes() {
    let mut w = table();
    type_all(&mut w);
    for (row, (_, value)) in rows(&w).iter().zip(READ) {
        assert_eq!(row.value, Some(value));
    }
    let solved = w.ui.state().derived().live.survey.clone().expect("a room");
    assert!(solved.closes && solved.freedom == 0 && solved.redundancy == 1);
    assert!(w.find("It closes; one measurement checks the others.").is_some());
    w.type_into("Row 2 expected error", "5");
    assert_eq!(rows(&w)[1].error, 5.0);
    w.type_into("Row 1 measured", "4.602m");
    assert_eq!(rows(&w)[0].value, Some(4602.0));
}

#[test]
fn a_wrong_value_is_refused_and_an_empty_one_is_to_be_measured() {
    let mut w = table();
    w.type_into("Row 1 measured", "4600");
    w.type_into("Row 1 measured", "half a mile");
    assert_eq!(rows(&w)[0].value, Some(4600.0));
    w.type_into("Row 1 measured", " ");
    assert_eq!(rows(&w)[0].value, None);
}

#[test]
fn enter_goes_down_the_table() {
    let mut w = table();
    w.ui.get_by_label("Row 1 measured").focus();
    w.ui.run_ok();
    for (_, value) in READ {
        let digits = value.to_string();
        w.ui.event(egui::Event::Text(digits));
        w.ui.run_ok();
        w.press(Modifiers::NONE, Key::Enter);
    }
    let read: Vec<Option<f64>> = rows(&w).iter().map(|r| r.value).collect();
    assert_eq!(read, READ.map(|(_, v)| Some(v)));
}

#[test]
fn the_plan_follows_while_a_number_is_typed() {
    let mut w = table();
    type_all(&mut w);
    let steps = w.steps();
    w.ui.get_by_label("Row 1 measured").focus();
    w.ui.run_ok();
    w.press(Modifiers::COMMAND, Key::A);
    w.type_out("4900");
    let seen = w.ui.state().measuring().expect("the table is shown");
    let solved = seen.solved.as_ref().expect("a room");
    assert!(!solved.closes, "4900 for 4600 does not close");
    assert_eq!(seen.row, Some(0));
    assert_eq!(w.steps(), steps, "nothing is committed while it is typed");
    w.key(Key::Escape);
    assert_eq!(rows(&w)[0].value, Some(4600.0));
}

#[test]
fn a_suspect_is_marked_in_words() {
    let job = suspect_job();
    let mut w = Window::on(job);
    w.key(Key::M);
    let marked = w.ui.get_all_by_label_contains(", suspect").count();
    assert_eq!(marked, 1);
    assert!(w.ui.query_by_label_contains("Row 6 out by").is_some());
    let said = w.ui.query_by_label_contains("It does not close. Most suspect: diagonal 1–3.");
    assert!(said.is_some());
}

/// A five-cornered room measured all ways, its sixth line 50 too long.
fn suspect_job() -> Job {
    let mut job = Job::default();
    let corners = [(0.0, 0.0), (5000.0, 0.0), (5000.0, 3000.0), (2500.0, 4500.0), (0.0, 3000.0)];
    let at = |i: usize| layout_core::math::PlanPoint::new(corners[i].0, corners[i].1);
    let corner =
        |i| layout_core::document::Corner { at: at(i), thickness: 140.0, gaps: Vec::new() };
    job.shell.outline = (0..5).map(corner).collect();
    let pairs = [(0, 1), (1, 2), (2, 3), (3, 4), (4, 0), (0, 2), (1, 3), (2, 4), (0, 3), (1, 4)];
    let name = |i: usize| layout_core::id::Name::new((i + 1).to_string());
    let line = |(k, &(a, b)): (usize, &(usize, usize))| Measurement {
        value: Some((at(b) - at(a)).norm() + if k == 5 { 50.0 } else { 0.0 }),
        ..Measurement::of(Measured::Between { from: name(a), to: name(b) })
    };
    let rows = pairs.iter().enumerate().map(line).collect();
    job.shell.survey = Survey { corners: (0..5).map(name).collect(), rows };
    job
}

#[test]
fn rows_are_added_and_taken_away() {
    let mut w = table();
    w.click("Remove row 6");
    assert_eq!(rows(&w).len(), 5);
    w.click("Add diagonal");
    assert_eq!(w.job().shell.survey.label(&rows(&w)[5].what), "diagonal 2–4");
    w.click("Add offset");
    w.click("Add square corner");
    assert!(matches!(rows(&w)[6].what, Measured::Offset { .. }));
    assert!(matches!(rows(&w)[7].what, Measured::Square { .. }));
    w.click("Remove row 1");
    w.click("Add side");
    assert_eq!(w.job().shell.survey.label(&rows(&w)[7].what), "side 1–2");
    w.press(Modifiers::COMMAND, Key::Z);
    assert_eq!(rows(&w).len(), 7);
    w.click("Take all measurements away");
    assert!(w.job().shell.survey.is_empty());
}

#[test]
fn using_the_shape_is_one_step_and_partitions_stay_square() {
    let mut w = table();
    type_all(&mut w);
    let steps = w.steps();
    w.click("Use this shape");
    assert_eq!(w.steps(), steps + 1);
    let job = w.job();
    let solved = w.ui.state().derived().live.survey.clone().expect("a room");
    for (corner, at) in job.shell.outline.iter().zip(solved.outline()) {
        assert!((corner.at - at).norm() < 1e-6);
    }
    // A ran along the first side, B square to it; node 2 is on the side it stood on.
    let at = |n: &str| job.node(&n.into()).expect("a node").at;
    let side = (job.shell.outline[1].at - job.shell.outline[0].at).normalize();
    let along = |from: &str, to: &str| (at(to) - at(from)).normalize();
    assert!(layout_core::math::cross(side, along("1", "2")).abs() < 1e-9);
    assert!(side.dot(&along("3", "4")).abs() < 1e-9);
    let (c, d) = (job.shell.outline[1].at, job.shell.outline[2].at);
    assert!(layout_core::math::cross((d - c).normalize(), at("2") - c).abs() < 1e-6);
    assert!(w.find("The room is drawn as it was measured.").is_some());
    w.press(Modifiers::COMMAND, Key::Z);
    assert_eq!(w.job().shell.outline[2].at, layout_core::math::PlanPoint::new(4600.0, 5200.0));
}

#[test]
fn a_room_nobody_has_drawn_is_measured_and_then_drawn() {
    let mut w = Window::on(Job::default());
    w.key(Key::M);
    w.click("4 corners");
    type_all(&mut w);
    w.click("Use this shape");
    assert_eq!(w.job().shell.outline.len(), 4);
    assert!(w.job().shell.twice_area() > 0.0);
}
