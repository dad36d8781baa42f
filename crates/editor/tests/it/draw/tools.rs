//! Tools that put something new in the job.

use editor::session::Tool;
use egui::{Key, Modifiers, vec2};
use egui_kittest::kittest::Queryable;
use layout_core::document::{Job, OpeningKind, PointKind};
use layout_core::id::ItemRef;

use super::window;
use crate::window::Window;

#[test]
fn a_wall_is_drawn_by_two_clicks_and_framed_before_the_second() {
    let mut w = window();
    w.key(Key::W);
    assert_eq!(w.session().tool, Tool::Wall);
    let (from, to) = (w.plan(3000.0, 3000.0), w.plan(3000.0, 5200.0));
    w.click_at(from);
    assert_eq!(w.job().walls.len(), 2);
    w.point_at(to + vec2(0.0, 2.0));
    assert!(w.ui.state().derived().live.wall(&"C".into()).is_some(), "it stands while it is drawn");
    w.click_at(to + vec2(0.0, 2.0));
    let job = w.job();
    let wall = job.wall(&"C".into()).expect("wall C");
    let (a, b) =
        (job.node(&wall.from).expect("its start").at, job.node(&wall.to).expect("its end").at);
    assert!((a.y - 3000.0).abs() < 1.0, "on wall A at {a}");
    assert!((b.y - 5200.0).abs() < 1.0, "on the existing face at {b}");
    assert!((a.x - b.x).abs() < 0.01, "square to it");
    assert_eq!(w.steps(), 1);
    assert_eq!(w.session().picked, Some(ItemRef::Wall("C".into())));
    // Its elevation, begun when it was a few millimetres long, is fitted again: all of it is in view.
    let wall = w.ui.state().derived().base.wall(&"C".into()).expect("wall C").clone();
    for stud in wall.frame.members.iter().filter(|m| m.role.is_full_height()) {
        let name = format!("{} at", stud.full_mark(wall.name()));
        assert!(w.ui.query_all_by_label_contains(&name).next().is_some(), "{name} is out of view");
    }
}

#[test]
fn a_typed_length_and_enter_end_a_wall_exactly() {
    let mut w = window();
    w.key(Key::W);
    let from = w.plan(3000.0, 3000.0);
    w.click_at(from);
    w.point_at(w.plan(3010.0, 4100.0));
    w.type_out("1250");
    w.key(Key::Enter);
    let job = w.job();
    let wall = job.wall(&"C".into()).expect("wall C");
    let (a, b) = (job.node(&wall.from).expect("a").at, job.node(&wall.to).expect("b").at);
    assert!(((b - a).norm() - 1250.0).abs() < 0.01);
    assert_eq!(w.steps(), 1);
}

#[test]
fn press_and_drag_draws_a_wall_as_well() {
    let mut w = window();
    w.key(Key::W);
    let (from, to) = (w.plan(3000.0, 3000.0), w.plan(3000.0, 5200.0));
    w.hold(from, to - from);
    w.let_go(to);
    assert_eq!((w.job().walls.len(), w.steps()), (3, 1));
}

#[test]
fn a_door_hangs_on_the_hand_and_is_put_in_by_a_click() {
    let mut w = window();
    w.key(Key::D);
    let at = w.plan(3900.0, 3000.0);
    w.point_at(at);
    assert!(w.session().live().opening(&"D2".into()).is_some(), "it is shown before it is there");
    assert!(w.job().opening(&"D2".into()).is_none());
    w.point_at(w.plan(3900.0, 4300.0));
    assert!(w.session().live().opening(&"D2".into()).is_none(), "away from the wall it is not");
    w.click_at(at);
    let (wall, door) = w.job().opening(&"D2".into()).expect("D2");
    assert_eq!(wall.name, "A");
    assert!(matches!(door.kind, OpeningKind::Door(_)));
    assert_eq!(w.steps(), 1);
    assert_eq!(w.session().tool, Tool::Pick, "then it is looked after");
    assert_eq!(w.session().picked, Some(ItemRef::Opening("D2".into())));
}

#[test]
fn a_door_that_hangs_on_the_hand_takes_a_typed_distance() {
    let mut w = window();
    w.key(Key::D);
    w.point_at(w.plan(3900.0, 3000.0));
    w.type_out("3500");
    w.key(Key::Enter);
    assert_eq!((w.distance("D2"), w.steps()), (3500.0, 1));
}

#[test]
fn a_socket_is_put_on_the_face_that_is_seen_in_the_elevation() {
    let mut w = window();
    w.key(Key::I);
    let at = w.middle("Elevation of wall A");
    w.click_at(at + vec2(150.0, 0.0));
    let (wall, point) = w.job().point(&"X1".into()).expect("X1");
    assert_eq!(wall.name, "A");
    assert_eq!(point.kind, PointKind::Socket);
    assert!(point.height > 300.0 && point.distance > 0.0, "{point:?}");
    assert_eq!(w.steps(), 1);
}

#[test]
fn a_fitting_a_post_and_a_beam_are_put_in() {
    let mut w = window();
    w.key(Key::H);
    w.click_at(w.plan(900.0, 3000.0));
    assert!(w.job().fitting(&"Shelf 1".into()).is_some());
    w.key(Key::T);
    w.click_at(w.plan(3500.0, 1200.0));
    assert_eq!(w.job().shell.posts.len(), 1);
    w.key(Key::B);
    w.click_at(w.plan(2500.0, 600.0));
    w.click_at(w.plan(4100.0, 600.0));
    let beam = &w.job().shell.beams[0];
    assert!((beam.to - beam.from).norm() > 1400.0);
    assert!((beam.to.y - beam.from.y).abs() < 0.01, "square to the room");
    assert_eq!(w.steps(), 3);
}

#[test]
fn a_room_is_drawn_by_its_sides_and_closed_with_enter() {
    let mut w = Window::on(Job::default());
    w.ask(editor::command::Command::Prefer(editor::prefs::Preference::HintRead(true)));
    w.key(Key::R);
    let middle = w.middle("Plan view");
    w.click_at(middle + vec2(-150.0, 120.0));
    w.point_at(middle + vec2(60.0, 122.0));
    w.type_out("3600");
    w.key(Key::Enter);
    w.point_at(middle + vec2(120.0, -60.0));
    w.type_out("2400");
    w.key(Key::Enter);
    w.point_at(middle + vec2(-60.0, -60.0));
    w.type_out("3.6m");
    w.key(Key::Enter);
    w.key(Key::Enter);
    let outline = &w.job().shell.outline;
    assert_eq!(outline.len(), 4);
    let sides: Vec<_> = w.job().shell.sides().map(|(a, b)| (b - a).norm().round()).collect();
    assert_eq!(sides, [3600.0, 2400.0, 3600.0, 2400.0]);
    assert!(w.job().shell.twice_area() > 0.0, "it runs anticlockwise");
    assert_eq!(w.steps(), 1);
}

#[test]
fn esc_takes_back_a_corner_then_the_tool() {
    let mut w = window();
    w.key(Key::W);
    w.click_at(w.plan(3000.0, 3000.0));
    w.key(Key::Escape);
    assert_eq!(w.session().tool, Tool::Wall, "the first Esc takes the start back");
    assert!(w.session().gesture.is_none());
    w.key(Key::Escape);
    assert_eq!(w.session().tool, Tool::Pick);
    assert_eq!(w.steps(), 0);
}

#[test]
fn shift_and_click_keeps_the_tool() {
    let mut w = window();
    w.key(Key::D);
    let at = w.plan(3900.0, 3000.0);
    w.point_at(at);
    w.ui.hover_at(at);
    w.ui.event(egui::Event::PointerButton {
        pos: at,
        button: egui::PointerButton::Primary,
        pressed: true,
        modifiers: Modifiers::SHIFT,
    });
    w.ui.event(egui::Event::PointerButton {
        pos: at,
        button: egui::PointerButton::Primary,
        pressed: false,
        modifiers: Modifiers::SHIFT,
    });
    w.settle();
    assert!(w.job().opening(&"D2".into()).is_some());
}
