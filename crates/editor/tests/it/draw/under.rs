//! What lies under the plan: from a file to the room.

use editor::app::{Start, nobody};
use editor::command::Command;
use egui::vec2;
use layout_core::id::ItemRef;
use layout_core::math::PlanPoint;

use crate::window::Window;

/// A room of 4 by 3, in metres, as four lines that meet, far from the origin.
fn drawing() -> String {
    let corners = [(1000.0, 500.0), (1004.0, 500.0), (1004.0, 503.0), (1000.0, 503.0)];
    let mut text = String::from(
        "0\nSECTION\n2\nHEADER\n9\n$INSUNITS\n70\n6\n0\nENDSEC\n0\nSECTION\n2\nENTITIES\n",
    );
    for i in 0..4 {
        let ((x, y), (u, v)) = (corners[i], corners[(i + 1) % 4]);
        text += &format!("0\nLINE\n8\nWALLS\n10\n{x}\n20\n{y}\n11\n{u}\n21\n{v}\n");
    }
    text + "0\nENDSEC\n0\nEOF\n"
}

/// A window on an empty room that is saved in a folder of its own, where a drawing lies too.
fn window(folder: &std::path::Path) -> Window {
    let job = editor::assets::starter("empty-room").expect("a starter");
    let mut w = Window::start(Start { job: Some(job), open: None, prefs: None, asker: nobody() });
    w.ask(Command::SaveAs(Some(folder.join("job.ron"))));
    w
}

#[test]
fn a_drawing_is_put_under_the_plan_and_becomes_the_room() {
    let (far, near) = (tempfile::tempdir().unwrap(), tempfile::tempdir().unwrap());
    let file = far.path().join("room.dxf");
    std::fs::write(&file, drawing()).unwrap();
    let mut w = window(near.path());
    w.ask(Command::PlaceUnder(Some(file)));
    assert!(near.path().join("room.dxf").is_file(), "a copy lies beside the job: {}", w.said());
    let under = w.job().underlay.clone().expect("it is in the job");
    assert_eq!((under.file.as_str(), under.unit_mm), ("room.dxf", 1000.0));
    assert_eq!(under.at, w.job().datum.at);
    assert_eq!(w.session().picked, Some(ItemRef::Underlay));
    w.click_on("4 corners, WALLS");
    let corners: Vec<PlanPoint> = w.job().shell.outline.iter().map(|c| c.at).collect();
    let at = w.job().datum.at;
    let expected = [(0.0, 0.0), (4000.0, 0.0), (4000.0, 3000.0), (0.0, 3000.0)];
    assert_eq!(corners.len(), 4);
    for (found, (x, y)) in corners.iter().zip(expected) {
        assert!((found - at - PlanPoint::new(x, y).coords).norm() < 0.01, "{corners:?}");
    }
    w.ask(Command::Undo);
    w.ask(Command::Undo);
    assert_eq!(w.job().underlay, None);
}

#[test]
fn two_points_and_their_distance_set_its_size() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("room.dxf");
    std::fs::write(&file, drawing()).unwrap();
    let mut w = window(folder.path());
    w.ask(Command::PlaceUnder(Some(file)));
    let at = w.job().datum.at;
    let on = |x: f64, y: f64| PlanPoint::new(at.x + x, at.y + y);
    w.click("Click two points…");
    w.ask(Command::Marked(on(0.0, 0.0)));
    w.ask(Command::Marked(on(4000.0, 0.0)));
    w.type_into("They are apart", "5000");
    let under = w.job().underlay.clone().expect("still there");
    assert!((under.unit_mm - 1250.0).abs() < 1e-6, "{under:?}");
    let marks = w.session().marking.clone().expect("the points go along");
    assert!((marks[1] - on(5000.0, 0.0)).norm() < 1e-6);
    w.click("Done");
    assert_eq!(w.session().marking, None);
    w.click("Locked");
    assert!(w.job().underlay.as_ref().is_some_and(|u| u.locked));
    assert!(w.find("Click two points…").is_none(), "what is locked stays as it lies");
}

/// Picked, it goes along with the hand, and its corner snaps; locked or not picked, the hand moves the view instead.
#[test]
fn it_is_dragged_by_the_hand() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("room.dxf");
    std::fs::write(&file, drawing()).unwrap();
    let mut w = window(folder.path());
    w.ask(Command::PlaceUnder(Some(file)));
    let start = w.job().datum.at;
    // Where the room of 4 by 3 has its corners on the screen.
    let place = |w: &Window, x: f64, y: f64| {
        let [a, b] = [1, 4].map(|i| w.middle(&format!("room corner {i}, plan")));
        let zoom = (a.y - b.y) / 3000.0;
        a + vec2(x as f32, -y as f32) * zoom
    };
    let lies = |w: &Window| w.job().underlay.clone().expect("it is in the job").at - start;
    let steps = w.steps();
    let from = place(&w, 1500.0, 1200.0);
    w.hold(from, vec2(40.0, -25.0));
    assert!(w.session().gesture.is_some());
    assert_eq!(lies(&w).norm(), 0.0, "the job is untouched until it is let go");
    w.let_go(from + vec2(40.0, -25.0));
    let by = lies(&w);
    assert!(by.x > 100.0 && by.y > 50.0, "{by:?}");
    assert_eq!(w.steps(), steps + 1, "one drag, one step");
    // Taken by its lower left corner it finds the corner of the room.
    let corner = place(&w, by.x, by.y);
    let home = place(&w, 0.0, 0.0);
    w.hold(corner, home - corner);
    w.let_go(home + vec2(2.0, 1.0));
    assert!(lies(&w).norm() < 1e-6, "{:?}", lies(&w));
    w.click("Locked");
    let before = place(&w, 0.0, 0.0);
    w.hold(from, vec2(40.0, 0.0));
    assert!(w.session().gesture.is_none());
    w.let_go(from + vec2(40.0, 0.0));
    assert!(lies(&w).norm() < 1e-6);
    assert!((place(&w, 0.0, 0.0) - before).x > 20.0, "the view moves");
}

#[test]
fn a_picture_is_shown_and_a_missing_one_is_told() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("sketch.png");
    // One dot of an open standard's smallest picture.
    let dot = [
        0x89, b'P', b'N', b'G', 13, 10, 26, 10, 0, 0, 0, 13, b'I', b'H', b'D', b'R', 0, 0, 0, 1, 0,
        0, 0, 1, 8, 2, 0, 0, 0, 0x90, 0x77, 0x53, 0xde, 0, 0, 0, 12, b'I', b'D', b'A', b'T', 0x08,
        0xd7, 0x63, 0xf8, 0xcf, 0xc0, 0x00, 0x00, 0x03, 0x01, 0x01, 0x00, 0x18, 0xdd, 0x8d, 0xb0,
        0, 0, 0, 0, b'I', b'E', b'N', b'D', 0xae, 0x42, 0x60, 0x82,
    ];
    std::fs::write(&file, dot).unwrap();
    let mut w = window(folder.path());
    w.ask(Command::PlaceUnder(Some(file.clone())));
    let under =
        w.job().underlay.clone().unwrap_or_else(|| panic!("it is in the job: {}", w.said()));
    assert_eq!(under.unit_mm, 10_000.0);
    w.ask(Command::Save);
    std::fs::remove_file(&file).unwrap();
    w.ask(Command::Open(Some(folder.path().join("job.ron"))));
    assert_eq!(w.job().underlay, Some(under));
    assert!(w.said().contains("sketch.png"), "{}", w.said());
}

#[test]
fn a_job_without_a_file_is_to_be_saved_first() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("room.dxf");
    std::fs::write(&file, drawing()).unwrap();
    let mut w = Window::fresh();
    w.ask(Command::PlaceUnder(Some(file)));
    assert!(w.said().starts_with("Save the job first"), "{}", w.said());
    assert_eq!(w.job().underlay, None);
}
