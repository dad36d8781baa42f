//! First-fix points and routes: their panel, their copies, and what is shown of them.

use editor::command::Command;
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;
use layout_core::document::{
    Edit, Face, Hold, HoldTo, MeasuredFrom, Opening, OpeningKind, Point, PointKind, Route, WallEnd,
};
use layout_core::id::ItemRef;

use super::window;
use crate::window::Window;

/// Wall A with a socket and a switch and no other points; the socket picked.
fn fixed() -> Window {
    let mut w = window();
    let gone: Vec<Edit> = w.job().walls[0]
        .points
        .iter()
        .map(|p| Edit::Remove(ItemRef::Point(p.name.clone())))
        .collect();
    let put = |point| Edit::PutPoint { wall: "A".into(), point };
    let mut edits = gone;
    edits.push(put(Point::new("S1", PointKind::Socket, Face::Right, 600.0, 450.0)));
    edits.push(put(Point::new("S2", PointKind::Switch, Face::Right, 1000.0, 1100.0)));
    w.ask(Command::Edit(Edit::Several("points".into(), edits)));
    w.ask(Command::Pick(Some(ItemRef::Point("S1".into()))));
    w
}

fn point(w: &Window, name: &str) -> Point {
    w.job().point(&name.into()).map(|(_, p)| p.clone()).expect("the point")
}

fn station(w: &Window, name: &str) -> f64 {
    let laid = &w.ui.state().derived().base;
    let of = ItemRef::Point(name.into());
    laid.walls.iter().find_map(|wall| wall.spec.spot(&of)).map(|s| s.span.centre()).expect("there")
}

fn press(w: &mut Window, name: &str) {
    w.ui.get_by_label(name).click_accesskit();
    w.settle();
}

/// Chooses `option` in the list called `list`, which may still be open from the last time.
fn choose(w: &mut Window, list: &str, option: &str) {
    if w.find(option).is_none() {
        press(w, list);
    }
    press(w, option);
}

#[test]
fn a_point_measured_from_something_else_stays_where_it_is() {
    let mut w = fixed();
    let before = station(&w, "S1");
    for (option, from) in [
        ("corner at the end", MeasuredFrom::Corner(WallEnd::End)),
        ("S2", MeasuredFrom::Point("S2".into())),
        ("end of wall", MeasuredFrom::End),
    ] {
        choose(&mut w, "Held from", option);
        assert_eq!(point(&w, "S1").from, from);
        assert!((station(&w, "S1") - before).abs() < 0.02, "{option}");
    }
    // Held from the switch it goes along with it, and stays behind when that is taken away.
    choose(&mut w, "Held from", "S2");
    let mut switch = point(&w, "S2");
    switch.distance += 100.0;
    w.ask(Command::Edit(Edit::PutPoint { wall: "A".into(), point: switch }));
    assert!((station(&w, "S1") - before - 100.0).abs() < 0.02);
    w.ask(Command::Edit(Edit::Remove(ItemRef::Point("S2".into()))));
    assert!((station(&w, "S1") - before - 100.0).abs() < 0.02);
    assert_eq!(point(&w, "S1").from, MeasuredFrom::Start);
}

#[test]
fn what_was_measured_from_an_opening_stays_when_that_goes() {
    let mut w = fixed();
    let hold = Hold { from: WallEnd::Start, to: HoldTo::Near, distance: 1500.0 };
    let kind = OpeningKind::Plain { width: 700.0, height: 2000.0 };
    let opening = Opening::new("O9", kind, hold);
    w.ask(Command::Edit(Edit::PutOpening { wall: "A".into(), opening }));
    let mut socket = point(&w, "S1");
    socket.from = MeasuredFrom::Opening("O9".into(), WallEnd::End);
    socket.distance = 150.0;
    w.ask(Command::Edit(Edit::PutPoint { wall: "A".into(), point: socket }));
    assert!((station(&w, "S1") - 2350.0).abs() < 0.02);
    w.ask(Command::Edit(Edit::Rename { item: ItemRef::Opening("O9".into()), to: "O8".into() }));
    assert_eq!(point(&w, "S1").from, MeasuredFrom::Opening("O8".into(), WallEnd::End));
    w.ask(Command::Edit(Edit::Remove(ItemRef::Opening("O8".into()))));
    assert!((station(&w, "S1") - 2350.0).abs() < 0.02);
}

#[test]
fn copies_go_to_the_other_face_and_in_a_row() {
    let mut w = fixed();
    let count = |w: &Window| w.job().walls[0].points.len();
    press(&mut w, "Copy to the other face");
    assert_eq!(count(&w), 3);
    let Some(ItemRef::Point(copy)) = w.session().picked.clone() else { panic!("it is picked") };
    let copy = point(&w, copy.as_str());
    assert_eq!((copy.face, copy.distance, copy.height), (Face::Left, 600.0, 450.0));
    w.press(Modifiers::COMMAND, Key::Z);
    w.ask(Command::Pick(Some(ItemRef::Point("S1".into()))));
    w.type_into("More of them", "3");
    w.type_into("Apart", "500");
    let steps = w.steps();
    press(&mut w, "Put them in a row");
    let mut places: Vec<f64> = w.job().walls[0].points.iter().map(|p| p.distance).collect();
    places.sort_by(f64::total_cmp);
    assert_eq!(places, [600.0, 1000.0, 1100.0, 1600.0, 2100.0]);
    assert_eq!(w.steps(), steps + 1, "one step");
}

#[test]
fn points_line_up_level_and_plumb() {
    let mut w = fixed();
    choose(&mut w, "Level with", "switch S2");
    assert_eq!(point(&w, "S1").height, 1100.0);
    // Away and back: the list is shut.
    w.ask(Command::Pick(None));
    w.ask(Command::Pick(Some(ItemRef::Point("S1".into()))));
    choose(&mut w, "Plumb with", "switch S2");
    assert_eq!(point(&w, "S1").distance, 1000.0);
}

#[test]
fn a_route_is_started_at_a_point_dragged_up_and_taken_away() {
    let mut w = fixed();
    press(&mut w, "Start a route here");
    let route = |w: &Window| -> Option<Route> { w.job().walls[0].routes.first().cloned() };
    let made = route(&w).expect("a route");
    assert_eq!((made.height, made.points.len(), made.past), (450.0, 1, (false, true)));
    let item = ItemRef::Route(made.name.clone());
    assert_eq!(w.session().picked, Some(item.clone()));
    press(&mut w, "switch S2");
    assert_eq!(route(&w).map(|r| r.points.len()), Some(2));
    w.type_into("Middle above floor", "2250");
    assert_eq!(route(&w).map(|r| r.height), Some(2250.0));
    assert!(w.find("Holes").is_some(), "what it drills is listed");
    w.ask(Command::Edit(Edit::Remove(item)));
    assert_eq!(route(&w), None);
}

#[test]
fn zones_are_shown_by_a_key() {
    let mut w = fixed();
    w.press(Modifiers::NONE, Key::Z);
    assert!(w.session().zones);
    w.press(Modifiers::NONE, Key::Z);
    assert!(!w.session().zones);
}
