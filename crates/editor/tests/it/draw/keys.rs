//! Keys in Draw.

use editor::session::Tool;
use egui::{Event, Key, Modifiers, MouseWheelSource, MouseWheelUnit, TouchPhase, vec2};
use egui_kittest::kittest::Queryable;
use layout_core::id::ItemRef;

use super::window;

#[test]
fn arrows_nudge_what_is_picked_a_millimetre_a_press() {
    let mut w = window();
    w.click("door D1 at 2300, elevation");
    assert_eq!(w.session().picked, Some(ItemRef::Opening("D1".into())));
    w.key(Key::ArrowRight);
    w.key(Key::ArrowRight);
    assert_eq!((w.distance("D1"), w.steps()), (2302.0, 2));
    w.press(Modifiers::SHIFT, Key::ArrowLeft);
    assert_eq!((w.distance("D1"), w.steps()), (2292.0, 3));
}

#[test]
fn delete_takes_away_and_ctrl_d_puts_a_second_one_beside() {
    let mut w = window();
    w.click("door D1 at 2300, elevation");
    w.press(Modifiers::COMMAND, Key::D);
    assert!(w.job().opening(&"D2".into()).is_some());
    assert_eq!(w.session().picked, Some(ItemRef::Opening("D2".into())));
    w.key(Key::Delete);
    assert!(w.job().opening(&"D2".into()).is_none());
    assert!(w.job().opening(&"D1".into()).is_some());
    assert_eq!(w.session().tool, Tool::Pick);
}

#[test]
fn the_wheel_zooms_about_the_pointer_and_two_fingers_move_the_drawing() {
    let mut w = window();
    let hand = w.plan(1000.0, 1000.0);
    let far = w.plan(4000.0, 1000.0);
    w.point_at(hand);
    let wheel = |unit, delta| Event::MouseWheel {
        unit,
        delta,
        phase: TouchPhase::Move,
        source: MouseWheelSource::Unknown,
        modifiers: Modifiers::NONE,
    };
    w.ui.event(wheel(MouseWheelUnit::Line, vec2(0.0, 1.0)));
    w.settle();
    assert!((w.plan(1000.0, 1000.0) - hand).length() < 3.0, "what is under the hand stays");
    assert!(w.plan(4000.0, 1000.0).x > far.x + 5.0, "the rest comes nearer");
    let before = w.plan(1000.0, 1000.0);
    w.ui.event(wheel(MouseWheelUnit::Point, vec2(12.0, -7.0)));
    w.settle();
    assert!((w.plan(1000.0, 1000.0) - before - vec2(12.0, -7.0)).length() < 1.0);
}

#[test]
fn tab_takes_what_lies_behind() {
    let mut w = window();
    let at = w.middle("door D1 at 2300, plan");
    w.click_at(at);
    assert_eq!(w.session().picked, Some(ItemRef::Opening("D1".into())));
    w.point_at(at);
    w.key(Key::Tab);
    w.click_at(at);
    assert_eq!(w.session().picked, Some(ItemRef::Wall("A".into())));
}

#[test]
fn everything_drawn_has_a_name_and_can_be_pressed_by_it() {
    let mut w = window();
    let wall = w.ui.state().derived().base.wall(&"A".into()).expect("wall A").clone();
    let start = wall.spec.along().low;
    for member in &wall.frame.members {
        let name = format!("A-{}", member.mark);
        assert!(
            w.ui.query_all_by_label_contains(&name).next().is_some(),
            "{} {name} has no name in the elevation",
            member.role.label()
        );
    }
    let stud = wall
        .frame
        .members
        .iter()
        .find(|m| m.role == layout_core::frame::Role::Stud)
        .expect("a common stud");
    let at = stud.solid.stations().low - start;
    w.click(&format!("stud A-{} at {at:.0}, elevation", stud.mark));
    assert_eq!(w.session().picked, Some(ItemRef::Member { wall: "A".into(), mark: stud.mark }));
    for name in
        ["wall B, plan", "node 3 at 1750, 3000, plan", "room side 1, plan", "room corner 2, plan"]
    {
        assert!(w.find(name).is_some(), "{name}");
    }
}

#[test]
fn a_double_click_on_a_wall_shows_its_elevation() {
    let mut w = window();
    let at = w.plan(1750.0, 1500.0);
    w.click_at(at);
    w.click_at(at);
    assert_eq!(w.session().wall, Some("B".into()));
    assert!(w.find("Elevation of wall B").is_some());
}

#[test]
fn the_other_face_is_the_same_wall_turned_over_and_drags_the_other_way() {
    let mut w = window();
    let view = w.ui.get_by_label("Elevation of wall A").rect();
    w.key(Key::X);
    let door = w.middle("door D1 at 2300, elevation");
    assert!(view.contains(door), "the view is fitted to the face that is seen");
    w.hold(door, vec2(-40.0, 0.0));
    w.let_go(door - vec2(40.0, 0.0));
    assert!(w.distance("D1") > 2400.0, "leftwards is further from the start: {}", w.distance("D1"));
}

#[test]
fn boards_are_shown_layer_by_layer_and_put_away_again() {
    let mut w = window();
    w.key(Key::S);
    assert_eq!(w.session().boards, Some(0));
    // The demonstration wall has one layer: the next press shows the frame alone.
    w.key(Key::S);
    assert_eq!(w.session().boards, None);
    w.click("Boards of the wall");
    assert_eq!(w.session().boards, Some(0));
    assert_eq!(w.steps(), 0, "looking changes nothing");
}
