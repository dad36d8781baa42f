//! Low ceilings, shelves and bulkheads: drawn, dragged, typed, undone.

use editor::command::Command;
use editor::session::Tool;
use egui::{Key, Modifiers, vec2};
use egui_kittest::kittest::Queryable;
use layout_core::document::{Bearing, PlatformKind};
use layout_core::id::ItemRef;

use super::window;
use crate::window::Window;

/// The window with a low ceiling over the room to the left of wall B, drawn by hand from corner to corner.
fn with_ceiling() -> Window {
    let mut w = window();
    w.key(Key::C);
    assert_eq!(w.session().tool, Tool::Platform);
    let (from, to) = (w.plan(5.0, 8.0), w.plan(1695.0, 2945.0));
    w.hold(from, to - from);
    assert!(w.ui.state().derived().live.platform(&"LC1".into()).is_some(), "joists while drawn");
    assert!(w.job().platforms.is_empty());
    w.let_go(to);
    w
}

fn size(w: &Window) -> (f64, f64) {
    w.job().platform(&"LC1".into()).expect("LC1").size
}

#[test]
fn a_rectangle_dragged_from_face_to_face_catches_on_the_frames() {
    let mut w = with_ceiling();
    // From the corner of the room to the frames of B (1750 less half of 97) and A (3000 less half).
    assert_eq!(size(&w), (1701.5, 2951.5));
    assert_eq!((w.steps(), w.session().tool), (1, Tool::Pick));
    assert_eq!(w.session().picked, Some(ItemRef::Platform("LC1".into())));
    let laid = w.ui.state().derived().base.platform(&"LC1".into()).expect("laid out").clone();
    assert!(laid.snags.is_empty(), "{:?}", laid.snags);
    assert_eq!(laid.spec.holders().len(), 4);
    assert!(w.find("low ceiling LC1 at 2200, plan").is_some());
    w.press(Modifiers::COMMAND, Key::Z);
    assert!(w.job().platforms.is_empty());
}

#[test]
fn two_typed_numbers_and_enter_size_it_exactly() {
    let mut w = window();
    w.key(Key::C);
    let from = w.plan(5.0, 8.0);
    w.click_at(from);
    w.point_at(w.plan(900.0, 900.0));
    w.type_out("1200,800");
    w.key(Key::Enter);
    assert_eq!(size(&w), (1200.0, 800.0));
}

#[test]
fn an_edge_is_dragged_and_all_of_it_when_it_is_picked() {
    let mut w = with_ceiling();
    w.ask(Command::Pick(None));
    // Inside, not picked: the drawing moves and the ceiling stays.
    let inside = w.plan(1200.0, 700.0);
    w.hold(inside, vec2(20.0, 0.0));
    w.let_go(inside + vec2(20.0, 0.0));
    assert_eq!(w.steps(), 1);
    let inside = w.plan(1200.0, 700.0);
    w.click_at(inside);
    assert_eq!(w.session().picked, Some(ItemRef::Platform("LC1".into())));
    // Its far edge, against the face of A: the edge of what is picked wins over the wall.
    let edge = w.plan(400.0, 2945.0);
    w.hold(edge, vec2(0.0, 30.0));
    w.let_go(edge + vec2(0.0, 30.0));
    assert_eq!(w.steps(), 2);
    assert!(size(&w).1 < 2900.0, "{:?}", size(&w));
    assert_eq!(w.job().node(&"1".into()).expect("node 1").at.y, 3000.0);
    let corner = w.job().platforms[0].corner;
    let inside = w.plan(1200.0, 700.0);
    w.hold(inside, vec2(0.0, -20.0));
    w.let_go(inside + vec2(0.0, -20.0));
    assert_eq!(w.steps(), 3);
    assert!(w.job().platforms[0].corner.y > corner.y, "all of it moves once it is picked");
}

#[test]
fn its_level_is_dragged_in_the_elevation_of_a_wall_it_meets() {
    let mut w = with_ceiling();
    let level = w.middle("low ceiling LC1 at 2200, elevation");
    w.hold(level, vec2(0.0, 10.0));
    w.type_out("2150");
    w.key(Key::Enter);
    assert_eq!(w.job().platforms[0].level, 2150.0);
    assert_eq!(w.steps(), 2);
}

#[test]
fn its_particulars_can_be_changed_and_a_fan_added_and_dragged() {
    let mut w = with_ceiling();
    w.type_into("Underside at", "2250");
    w.type_into("Centres", "600");
    assert_eq!(w.job().platforms[0].level, 2250.0);
    assert_eq!(w.job().platforms[0].centres, 600.0);
    w.type_into("Boards below", "15");
    assert_eq!(w.job().platforms[0].below.thickness(), 15.0);
    w.click("Add a fan");
    assert_eq!(w.session().picked, Some(ItemRef::PlatformHole("F1".into())));
    w.type_into("Middle along width", "700");
    let at = w.middle("fan F1 in LC1 at 700, 1476, plan");
    w.hold(at, vec2(0.0, 30.0));
    w.let_go(at + vec2(0.0, 30.0));
    let (_, fan) = w.job().platform_hole(&"F1".into()).expect("F1");
    assert!(fan.at.1 < 1400.0 && fan.at.0 == 700.0, "{:?}", fan.at);
    w.press(Modifiers::NONE, Key::Delete);
    assert!(w.job().platform_hole(&"F1".into()).is_none());
}

#[test]
fn a_bulkhead_has_its_front_away_from_the_wall_it_was_begun_at() {
    let mut w = window();
    w.key(Key::C);
    w.click("What it is");
    w.click("bulkhead");
    // Down the side of the room at the right, from the face of A, drawn into the room.
    let (from, to) = (w.plan(4595.0, 2945.0), w.plan(4200.0, 5.0));
    w.hold(from, to - from);
    w.let_go(to);
    let bulkhead = w.job().platform(&"BH1".into()).expect("BH1").clone();
    assert_eq!(bulkhead.kind, PlatformKind::Bulkhead);
    assert_eq!(bulkhead.bearings, (Bearing::Front, Bearing::Plate));
    let laid = w.ui.state().derived().base.platform(&"BH1".into()).expect("laid out").clone();
    assert!(laid.snags.is_empty(), "{:?}", laid.snags);
}

#[test]
fn the_tool_is_found_by_a_word_and_its_pieces_can_be_read() {
    let mut w = with_ceiling();
    w.press(Modifiers::COMMAND, Key::K);
    assert!(w.ui.query_all_by_label_contains("bulkhead").next().is_some());
    w.ask(Command::Dismiss);
    let mark = w.ui.state().derived().base.platforms[0].frame.members[0].mark;
    w.ask(Command::Pick(Some(ItemRef::Member { wall: "LC1".into(), mark })));
    w.click("Platform LC1");
    assert_eq!(w.session().picked, Some(ItemRef::Platform("LC1".into())));
}

#[test]
fn no_boards_are_nought_thick() {
    let w = with_ceiling();
    let above = w.ui.get_by_label("Boards above").value();
    assert_eq!(above.as_deref(), Some("0"));
}
