//! Levels read on site: with the tool in plan and elevation, and in a table beside the drawing.

use editor::command::Command;
use editor::session::Tool;
use egui::{Key, Modifiers, vec2};
use egui_kittest::kittest::Queryable;
use layout_core::document::{Bedding, Floor};
use layout_core::id::{ItemRef, Surface};

use super::window;
use crate::window::Window;

/// What was read along wall A.
fn read(w: &Window, surface: Surface) -> Vec<(f64, f64)> {
    w.job().wall(&"A".into()).expect("A").readings(surface).clone()
}

/// Presses what lies further down the panel than the window shows.
fn press(w: &mut Window, name: &str) {
    w.ui.get_by_label(name).click_accesskit();
    w.settle();
}

#[test]
fn levels_along_a_wall_are_typed_in_a_table_above_the_floor_or_from_the_laser_line() {
    let mut w = window();
    w.ask(Command::Pick(Some(ItemRef::Wall("A".into()))));
    press(&mut w, "Add a floor level");
    assert_eq!(read(&w, Surface::Floor), [(0.0, 0.0)]);
    w.type_into("From the laser line to floor level 1", "-1012");
    press(&mut w, "Add a floor level");
    w.type_into("Place of floor level 2", "4600");
    w.type_into("Height of floor level 2", "-2");
    assert_eq!(read(&w, Surface::Floor), [(0.0, -12.0), (4600.0, -2.0)]);
    press(&mut w, "Add a ceiling level");
    // A sign may be typed as the table shows it.
    w.type_into("From the laser line to ceiling level 1", "+1405");
    assert_eq!(read(&w, Surface::Ceiling), [(0.0, 2405.0)]);
    // The sole is packed up level with the highest place: 2 under it at one end, 12 at the other.
    assert!(w.find("Packer at floor level 1: 10").is_some());
    assert!(w.find("Packer at floor level 2: 0").is_some());
    let steps = w.steps();
    press(&mut w, "Remove floor level 1");
    assert_eq!(read(&w, Surface::Floor), [(4600.0, -2.0)]);
    assert_eq!(w.steps(), steps + 1);
    w.press(Modifiers::COMMAND, Key::Z);
    assert_eq!(read(&w, Surface::Floor), [(0.0, -12.0), (4600.0, -2.0)]);
}

#[test]
fn a_level_is_picked_where_it_is_drawn_and_goes_with_delete() {
    let mut w = window();
    w.ask(Command::Pick(Some(ItemRef::Wall("A".into()))));
    press(&mut w, "Add a floor level");
    w.type_into("Place of floor level 1", "1200");
    for view in ["plan", "elevation"] {
        w.ask(Command::Pick(None));
        w.click(&format!("floor level 1 of wall A at 1200, {view}"));
        let item = ItemRef::Reading { wall: Some("A".into()), surface: Surface::Floor, index: 0 };
        assert_eq!(w.session().picked, Some(item), "in the {view}");
    }
    w.type_into("Level above FFL", "-7");
    assert_eq!(read(&w, Surface::Floor), [(1200.0, -7.0)]);
    w.key(Key::Delete);
    assert_eq!(read(&w, Surface::Floor), []);
    assert_eq!(w.session().picked, None);
}

#[test]
fn the_job_has_levels_of_the_room_and_how_soles_are_packed() {
    let mut w = window();
    w.ask(Command::Pick(None));
    press(&mut w, "Add a ceiling level");
    let item = ItemRef::Reading { wall: None, surface: Surface::Ceiling, index: 0 };
    assert_eq!(w.session().picked, Some(item));
    w.type_into("x from datum", "500");
    w.type_into("From the laser line", "1390");
    let read = w.job().levels.readings.ceiling[0];
    assert_eq!((read.at.x, read.level), (500.0, 2390.0));
    w.ask(Command::Pick(None));
    w.type_into("Shims", "2, 5, 1");
    assert_eq!(w.job().levels.packing.shims, [2.0, 5.0, 1.0]);
    w.type_into("Shims", "2, 900");
    assert_eq!(w.job().levels.packing.shims, [2.0, 5.0, 1.0], "no shim is that thick");
    w.type_into("Moisture now", "18");
    assert_eq!(w.job().levels.moisture.now, 18.0);
    press(&mut w, "Add a layer on top");
    w.ui.get_by_label("Read on").click_accesskit();
    w.settle();
    press(&mut w, "the finished floor");
    assert_eq!(w.job().levels.readings.floor_is, Floor::Finished);
}

#[test]
fn a_wall_says_how_its_sole_lies() {
    let mut w = window();
    w.ask(Command::Pick(Some(ItemRef::Wall("A".into()))));
    press(&mut w, "Sole lies");
    press(&mut w, "as the floor runs");
    assert_eq!(w.job().wall(&"A".into()).expect("A").bedding, Some(Bedding::Following));
}

#[test]
fn levels_are_read_with_the_tool_one_after_another() {
    let mut w = window();
    w.key(Key::E);
    assert_eq!(w.session().tool, Tool::Level);
    // On the plan, at the start of wall A: 1 012 down from the laser line.
    w.point_at(w.plan(10.0, 3000.0));
    w.type_out("1012");
    assert!(read(&w, Surface::Floor).is_empty(), "nothing is in the job before Enter");
    let shown = w.session().live().wall(&"A".into()).expect("A").readings(Surface::Floor).clone();
    assert_eq!(shown, [(0.0, -12.0)], "and it is laid out before");
    w.key(Key::Enter);
    assert_eq!(read(&w, Surface::Floor), [(0.0, -12.0)]);
    assert_eq!((w.session().tool, w.steps()), (Tool::Level, 1), "the tool stays in the hand");
    // In the elevation, near the ceiling: distance and level at once.
    let stud = w.ui.get_by_label("end stud A-S1 at 0, elevation").rect();
    w.point_at(stud.center_top() + vec2(60.0, 12.0));
    w.type_out("800, 1410");
    w.key(Key::Enter);
    assert_eq!(read(&w, Surface::Ceiling), [(800.0, 2410.0)]);
    // Near the floor a click takes the level that is taken to be there; there was one: it is read again.
    w.point_at(stud.center_bottom() - vec2(0.0, 8.0));
    w.type_out("1003");
    w.key(Key::Enter);
    assert_eq!(read(&w, Surface::Floor), [(0.0, -3.0)]);
    assert_eq!(w.steps(), 3);
    for _ in 0..3 {
        w.press(Modifiers::COMMAND, Key::Z);
    }
    assert!(read(&w, Surface::Floor).is_empty() && read(&w, Surface::Ceiling).is_empty());
}

#[test]
fn the_panel_of_the_tool_says_what_is_read_and_what_a_number_means() {
    let mut w = window();
    w.click("Level");
    press(&mut w, "On the plan");
    press(&mut w, "ceiling");
    press(&mut w, "Number typed");
    press(&mut w, "above FFL");
    // Away from every wall it is a level of the room.
    w.point_at(w.plan(3000.0, 1200.0));
    w.type_out("2395");
    w.key(Key::Enter);
    let list = w.job().levels.readings.ceiling.clone();
    assert_eq!((list.len(), list[0].level), (1, 2395.0));
    assert!((list[0].at.x - 3000.0).abs() < 60.0, "at {}", list[0].at);
    // By x and y from the datum.
    w.point_at(w.plan(3500.0, 4200.0));
    w.type_out("100, 200, 2401");
    w.key(Key::Enter);
    let read = w.job().levels.readings.ceiling[1];
    assert_eq!((read.at.x, read.at.y, read.level), (100.0, 200.0, 2401.0));
    w.key(Key::Escape);
    assert_eq!(w.session().tool, Tool::Pick);
}

#[test]
fn a_level_is_dragged_along_its_wall_and_keeps_its_height() {
    let mut w = window();
    w.ask(Command::Pick(Some(ItemRef::Wall("A".into()))));
    press(&mut w, "Add a floor level");
    w.type_into("Place of floor level 1", "1200");
    w.type_into("Height of floor level 1", "-7");
    let steps = w.steps();
    let from = w.middle("floor level 1 of wall A at 1200, elevation");
    w.hold(from, vec2(25.0, -30.0));
    w.let_go(from + vec2(25.0, -30.0));
    let [(along, level)] = read(&w, Surface::Floor)[..] else { panic!("one level") };
    assert!(along > 1230.0, "it went to {along}");
    assert_eq!((level, w.steps()), (-7.0, steps + 1));
    let now = w.middle(&format!("floor level 1 of wall A at {along:.0}, plan"));
    w.hold(now, vec2(-10.0, 4.0));
    w.type_out("2000, -5");
    w.key(Key::Enter);
    assert_eq!(read(&w, Surface::Floor), [(2000.0, -5.0)]);
    w.let_go(now);
    w.press(Modifiers::COMMAND, Key::Z);
    assert_eq!(read(&w, Surface::Floor), [(along, -7.0)]);
}
