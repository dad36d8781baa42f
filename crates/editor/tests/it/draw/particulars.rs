//! The panel beside the drawing.

use editor::command::Command;
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;
use layout_core::frame::Role;
use layout_core::id::ItemRef;

use super::window;

#[test]
fn centres_of_a_make_up_change_every_wall_of_it_at_once() {
    let mut w = window();
    let makeup = w.job().makeups[0].name.clone();
    let studs = |w: &crate::window::Window| {
        let walls = &w.ui.state().derived().live.walls;
        walls.iter().flat_map(|x| &x.frame.members).filter(|m| m.role == Role::Stud).count()
    };
    let before = studs(&w);
    w.ask(Command::Pick(Some(ItemRef::MakeUp(makeup))));
    w.click("600");
    assert_eq!(w.job().makeups[0].centres, 600.0);
    assert!(studs(&w) < before, "{} studs at 600, {before} at 400", studs(&w));
    assert_eq!(w.steps(), 1);
    w.press(Modifiers::COMMAND, Key::Z);
    assert_eq!(studs(&w), before);
}

#[test]
fn a_distance_is_typed_in_any_of_the_ways_a_joiner_writes_it() {
    let mut w = window();
    w.ask(Command::Pick(Some(ItemRef::Opening("D1".into()))));
    for (typed, read) in [("2.4m", 2400.0), ("=3600/3-46", 1154.0), ("7'10 1/2\"", 2400.3)] {
        w.type_into("Distance", typed);
        assert!((w.distance("D1") - read).abs() < 0.01, "{typed} gave {}", w.distance("D1"));
    }
    assert_eq!(w.steps(), 3);
}

#[test]
fn a_wrong_value_keeps_the_last_good_one_and_is_no_step() {
    let mut w = window();
    w.ask(Command::Pick(Some(ItemRef::Opening("D1".into()))));
    w.type_into("Distance", "about here");
    w.type_into("Gap round leaf", "900");
    assert_eq!((w.distance("D1"), w.steps()), (2300.0, 0));
}

#[test]
fn the_hole_is_made_up_of_terms_that_add_up() {
    // 762 leaf, 2 × 3 gap, 2 × 30 lining, 2 × 5 packing: 838. Height 1981 + 8 + 3 + 30 + 5: 2027.
    // Common practice; the sum done by hand.
    let mut w = window();
    w.ask(Command::Pick(Some(ItemRef::Opening("D1".into()))));
    for line in [
        "leaf 762 wide, 1\u{2009}981 high",
        "gaps 6 wide, 11 high",
        "lining 60 wide, 30 high",
        "packing 10 wide, 5 high",
        "hole 838 wide, 2\u{2009}027 high",
    ] {
        assert!(w.find(line).is_some(), "{line}");
    }
}

#[test]
fn a_wall_is_renamed_and_made_longer() {
    let mut w = window();
    w.ask(Command::Pick(Some(ItemRef::Wall("B".into()))));
    w.type_into("Name", "Store");
    assert!(w.job().wall(&"Store".into()).is_some());
    assert_eq!(w.session().picked, Some(ItemRef::Wall("Store".into())));
    w.type_into("Length", "2500");
    let node = w.job().node(&"4".into()).expect("node 4").at;
    assert!((node.y - 500.0).abs() < 0.01, "{node}");
    w.type_into("Name", "A");
    assert!(w.job().wall(&"Store".into()).is_some(), "a taken name is refused");
}

#[test]
fn a_piece_is_read_by_its_mark() {
    let mut w = window();
    let wall = w.ui.state().derived().base.wall(&"A".into()).expect("wall A").clone();
    let member = &wall.frame.members[3];
    w.ask(Command::Pick(Some(ItemRef::Member { wall: "A".into(), mark: member.mark })));
    assert!(w.find(&format!("A-{}", member.mark)).is_some());
    let length = layout_core::units::mm(wall.cut_length(member));
    assert!(w.find(&format!("{length} mm")).is_some(), "its cut length {length}");
}

#[test]
fn with_nothing_picked_the_job_and_its_levels_are_shown() {
    let mut w = window();
    w.ask(Command::Pick(None));
    w.type_into("Ceiling", "2500");
    assert_eq!(w.job().levels.ceiling, 2500.0);
    w.click("Add a layer on top");
    assert_eq!(w.job().levels.slab(), -50.0);
    w.type_into("Title", "Bench room, south");
    assert_eq!(w.job().title, "Bench room, south");
    assert_eq!(w.steps(), 3);
}

#[test]
fn levels_and_rows_of_a_wall_are_its_own_once_changed() {
    let mut w = window();
    w.ask(Command::Pick(Some(ItemRef::Wall("A".into()))));
    w.type_into("Stud centres", "450");
    assert_eq!(w.job().wall(&"A".into()).expect("A").centres, Some(450.0));
    w.click("Add a row");
    let rows = w.job().wall(&"A".into()).expect("A").noggin_rows.clone();
    assert!(rows.is_some());
    w.click("As the make-up");
    assert_eq!(w.job().wall(&"A".into()).expect("A").noggin_rows, None);
}

#[test]
fn a_door_slides_into_its_wall_or_takes_a_size_given_outright() {
    let mut w = window();
    w.ask(Command::Pick(Some(ItemRef::Opening("D1".into()))));
    w.click("Style");
    w.click("into the wall");
    // 762 + 762 − 20 lap + 3 gap + 30 lining + 10 packing: 1547. 1981 + 8 + 60 track + 5: 2054. Done by hand.
    assert!(w.find("hole 1\u{2009}547 wide, 2\u{2009}054 high").is_some());
    let slats = |w: &crate::window::Window| {
        let walls = &w.ui.state().derived().live.walls;
        walls.iter().flat_map(|x| &x.frame.members).filter(|m| m.role == Role::Slat).count()
    };
    assert!(slats(&w) >= 4, "{} slats", slats(&w));
    w.click("Style");
    w.click("one leaf");
    assert_eq!(slats(&w), 0);
    // It lies further down the panel than the window shows.
    w.ui.get_by_label("Enter the structural size").click_accesskit();
    w.settle();
    w.type_into("Structural width", "900");
    assert!(w.find("hole 900 wide, 2\u{2009}027 high").is_some());
    assert!(w.find("as entered 62 wide, 0 high").is_some());
    assert_eq!(w.steps(), 4);
}
