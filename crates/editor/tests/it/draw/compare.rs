//! The strip of choices under the elevation, and the sweep of an opening.

use egui::{Event, Key, Modifiers, vec2};
use egui_kittest::kittest::Queryable;
use layout_core::document::{Lay, OddBay};

use super::window;

#[test]
fn v_opens_and_closes_the_comparison_of_the_wall_that_is_shown() {
    let mut w = window();
    w.key(Key::V);
    assert!(w.session().comparing);
    assert!(w.find("Put the comparison away").is_some());
    w.key(Key::V);
    assert!(!w.session().comparing);
    assert_eq!(w.steps(), 0, "looking changes nothing");
}

#[test]
fn a_choice_is_one_step_that_can_be_undone() {
    let mut w = window();
    w.key(Key::V);
    let before = w.job().clone();
    w.click_on("Odd bay at the start at 300");
    let wall = w.job().wall(&"A".into()).unwrap();
    assert_eq!((wall.odd_bay.clone(), wall.centres), (OddBay::AtStart, Some(300.0)));
    assert_eq!(w.steps(), 1);
    // What it has now is marked, and is no choice.
    assert!(
        w.ui.get_all_by_label_contains("Odd bay at the start at 300, as it is").next().is_some()
    );
    w.press(Modifiers::COMMAND, Key::Z);
    assert_eq!(*w.job(), before);
}

#[test]
fn the_best_place_of_an_opening_is_a_button() {
    let mut w = window();
    w.click("door D1 at 2300, elevation");
    w.key(Key::V);
    w.click_on("Move D1 to ");
    assert_eq!(w.steps(), 1);
    assert!((w.distance("D1") - 2300.0).abs() > 0.5, "it went somewhere else");
}

#[test]
fn a_click_in_the_sweep_moves_the_opening_there() {
    let mut w = window();
    w.click("door D1 at 2300, elevation");
    w.key(Key::V);
    let view = w.ui.get_by_label("Elevation of wall A").rect();
    // Under the elevation: the plots run from the first place at their left to the last at their right.
    let at = view.left_bottom() + vec2(view.width() * 0.25, 110.0);
    w.click_at(at);
    assert_eq!(w.steps(), 1, "one step");
    assert!(w.distance("D1") < 2300.0, "towards the start: {}", w.distance("D1"));
}

#[test]
fn a_way_to_board_is_shown_while_pointed_at_and_taken_with_a_click() {
    let mut w = window();
    w.key(Key::V);
    w.click_on("Compare boards");
    assert!(w.session().comparing_boards);
    let before = w.job().clone();
    let makeup = before.wall(&"A".into()).unwrap().makeup.clone();
    let ways = w.ui.get_all_by_label_contains("Boards across ");
    let place = ways.map(|n| n.rect().center()).next().expect("a way with boards across");
    w.ui.event(Event::PointerMoved(place));
    w.settle();
    assert!(w.session().preview.is_some(), "pointed at, it is shown");
    assert_eq!(w.steps(), 0, "and not done");
    w.click_at(place);
    assert_eq!(w.steps(), 1, "one step");
    assert!(w.session().preview.is_none());
    let lays = w.job().makeup(&makeup).unwrap().right.boards.iter().map(|b| b.lay);
    assert!(lays.clone().count() > 0 && lays.clone().all(|lay| lay == Lay::Across));
    w.press(Modifiers::COMMAND, Key::Z);
    assert_eq!(*w.job(), before);
    w.click_on("Compare odd bay");
    assert!(w.ui.get_all_by_label_contains("Odd bay at the start").next().is_some());
}
