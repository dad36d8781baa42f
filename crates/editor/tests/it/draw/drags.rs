//! Drags in plan and elevation.

use editor::session::Message;
use egui::{Key, Modifiers, vec2};
use egui_kittest::kittest::Queryable;
use layout_core::document::{OpeningKind, Rows};
use layout_core::id::ItemRef;

use super::window;

const DOOR: &str = "door D1 at 2300, elevation";

#[test]
fn a_door_dragged_in_the_elevation_moves_studs_live_and_commits_once() {
    let mut w = window();
    let from = w.middle(DOOR);
    let studs = |w: &crate::window::Window| {
        let wall = w.ui.state().derived().live.wall(&"A".into()).expect("wall A");
        wall.frame.members.iter().map(|m| m.solid.stations().low).collect::<Vec<_>>()
    };
    let before = studs(&w);
    w.hold(from, vec2(40.0, 0.0));
    assert!(w.live_distance("D1") > 2400.0, "the door follows the hand");
    assert_eq!(w.distance("D1"), 2300.0, "the job is untouched until it is let go");
    assert_ne!(studs(&w), before, "the studs follow while it is dragged");
    assert_eq!(w.steps(), 0);
    w.let_go(from + vec2(48.0, 0.0));
    assert!(w.session().gesture.is_none());
    assert_eq!(w.steps(), 1, "one drag, one step");
    assert!(w.distance("D1") > 2400.0);
    assert_eq!(w.session().picked, Some(ItemRef::Opening("D1".into())));
    w.press(Modifiers::COMMAND, Key::Z);
    assert_eq!(w.distance("D1"), 2300.0);
    assert_eq!(w.steps(), 0);
}

#[test]
fn a_door_dragged_on_the_plan_follows_its_wall() {
    let mut w = window();
    let from = w.middle("door D1 at 2300, plan");
    w.hold(from, vec2(30.0, 12.0));
    assert!(w.live_distance("D1") > 2350.0);
    w.let_go(from + vec2(30.0, 12.0));
    assert_eq!(w.steps(), 1);
    let node = w.job().node(&"1".into()).expect("node 1");
    assert_eq!(node.at.y, 3000.0, "the wall stays where it is");
}

#[test]
fn esc_gives_a_drag_back_even_though_the_button_is_let_go_afterwards() {
    let mut w = window();
    let from = w.middle(DOOR);
    w.hold(from, vec2(40.0, 0.0));
    assert!(w.session().gesture.is_some());
    w.ui.key_press(Key::Escape);
    w.ui.step();
    w.ui.step();
    assert!(w.session().gesture.is_none());
    w.let_go(from + vec2(40.0, 0.0));
    assert_eq!((w.distance("D1"), w.steps()), (2300.0, 0));
}

#[test]
fn a_number_typed_during_a_drag_is_exact_and_enter_lets_go() {
    let mut w = window();
    let from = w.middle(DOOR);
    w.hold(from, vec2(40.0, 0.0));
    w.type_out("1");
    w.type_out("234");
    assert_eq!(w.live_distance("D1"), 1234.0);
    w.ui.hover_at(from + vec2(60.0, 0.0));
    w.ui.step();
    assert_eq!(w.live_distance("D1"), 1234.0, "the hand no longer matters");
    w.key(Key::Enter);
    assert_eq!((w.distance("D1"), w.steps()), (1234.0, 1));
    w.let_go(from + vec2(60.0, 0.0));
    assert_eq!((w.distance("D1"), w.steps()), (1234.0, 1), "letting go afterwards adds nothing");
}

#[test]
fn a_sum_with_units_can_be_typed_and_a_wrong_one_changes_nothing() {
    let mut w = window();
    let from = w.middle(DOOR);
    w.hold(from, vec2(40.0, 0.0));
    let hand = w.live_distance("D1");
    w.type_out("=36");
    assert_eq!(w.live_distance("D1"), 36.0);
    w.type_out("00/");
    assert_eq!(w.live_distance("D1"), hand, "half a sum is no number: the hand counts");
    w.type_out("2-46");
    assert_eq!(w.live_distance("D1"), 1754.0);
    w.let_go(from + vec2(40.0, 0.0));
    assert_eq!((w.distance("D1"), w.steps()), (1754.0, 1));
}

#[test]
fn a_noggin_row_is_dragged_up_in_the_elevation() {
    let mut w = window();
    let wall = w.ui.state().derived().base.wall(&"A".into()).expect("wall A").clone();
    let height = wall.frame.rows[0].height;
    let row = format!("noggin row 1 of wall A at {height:.0}, elevation");
    // The row is one thing made of many pieces: take hold of one of them.
    let noggin = wall
        .frame
        .members
        .iter()
        .find(|m| m.role == layout_core::frame::Role::Noggin)
        .expect("a noggin");
    let at = noggin.solid.stations().low - wall.spec.along().low;
    let piece = format!("noggin A-{} at {at:.0}, elevation", noggin.mark);
    assert!(w.find(&row).is_some());
    let from = w.middle(&piece);
    w.hold(from, vec2(0.0, -30.0));
    w.let_go(from + vec2(0.0, -30.0));
    assert_eq!(w.steps(), 1);
    let rows = w.job().wall(&"A".into()).expect("wall A").noggin_rows.clone();
    assert!(matches!(&rows, Some(Rows::At(rows)) if rows[0] > height + 50.0), "{rows:?}");
}

#[test]
fn the_top_and_the_sill_of_a_light_are_dragged_apart_from_each_other() {
    let mut w = window();
    let hole = w.ui.get_by_label("borrowed light L1 at 600, elevation").rect();
    let sill = hole.center_bottom();
    w.hold(sill - vec2(0.0, 1.0), vec2(0.0, 20.0));
    w.let_go(sill + vec2(0.0, 19.0));
    let kind =
        |w: &crate::window::Window| w.job().opening(&"L1".into()).expect("L1").1.kind.clone();
    let OpeningKind::BorrowedLight { height, sill, .. } = kind(&w) else { panic!("a light") };
    assert!(sill < 1450.0, "the sill came down to {sill}");
    assert!((sill + height - 1900.0).abs() < 0.01, "its top stays");
    assert_eq!(w.steps(), 1);
}

#[test]
fn a_node_and_a_wall_are_dragged_on_the_plan() {
    let mut w = window();
    let from = w.middle("node 4 at 1750, 0, plan");
    let to = w.plan(2150.0, 0.0);
    let (wall, wall_to) = (w.plan(4300.0, 3000.0), w.plan(4300.0, 3400.0));
    w.hold(from, to - from);
    w.let_go(to);
    let at = w.job().node(&"4".into()).expect("node 4").at;
    assert!((at.x - 2150.0).abs() < 60.0 && at.y.abs() < 1.0, "on the existing face at {at}");
    assert_eq!(w.steps(), 1);
    w.hold(wall, wall_to - wall);
    w.let_go(wall_to);
    let at = w.job().node(&"1".into()).expect("node 1").at;
    assert!((at.y - 3400.0).abs() < 60.0, "the wall went sideways to {}", at.y);
    let junction = w.job().node(&"3".into()).expect("node 3").at;
    assert_eq!(junction.y, at.y, "the wall that meets it follows");
    assert_eq!(w.steps(), 2);
}

#[test]
fn a_corner_and_a_side_of_the_room_are_dragged() {
    let mut w = window();
    let from = w.plan(4600.0, 1200.0);
    let to = w.plan(5000.0, 1200.0);
    w.hold(from, to - from);
    w.let_go(to);
    let corner = w.job().shell.outline[1].at;
    assert!((corner.x - 5000.0).abs() < 60.0 && corner.y == 0.0, "{corner}");
    assert_eq!(w.steps(), 1);
}

#[test]
fn pressing_on_nothing_moves_the_drawing_and_not_the_job() {
    let mut w = window();
    let from = w.plan(2300.0, 4200.0);
    let before = w.plan(0.0, 0.0);
    w.hold(from, vec2(40.0, 25.0));
    w.let_go(from + vec2(40.0, 25.0));
    let moved = w.plan(0.0, 0.0) - before;
    assert!((moved - vec2(40.0, 25.0)).length() < 8.0, "{moved:?}");
    assert_eq!(w.steps(), 0);
    assert_eq!(w.session().message, None::<Message>);
}
