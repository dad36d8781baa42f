//! One intention is one step, and every step can be taken back by its name.

use editor::command::Command;
use editor::session::{Dialog, Tool, Where};
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;
use layout_core::document::Edit;
use layout_core::id::ItemRef;

use crate::window::Window;

#[test]
fn a_step_is_undone_and_redone_by_its_name() {
    let mut w = Window::fresh();
    let before = w.job().clone();
    let wall = before.walls[0].name.clone();
    w.ask(Command::Edit(Edit::Remove(ItemRef::Wall(wall.clone()))));
    assert!(w.job().wall(&wall).is_none());
    w.click(&format!("Undo: remove wall {wall}"));
    assert_eq!(*w.job(), before);
    w.click(&format!("Redo: remove wall {wall}"));
    assert!(w.job().wall(&wall).is_none());
    w.press(Modifiers::COMMAND, Key::Z);
    assert_eq!(*w.job(), before);
    assert_eq!(w.session().history.depth(), 0);
}

#[test]
fn what_is_picked_is_forgotten_when_it_goes() {
    let mut w = Window::fresh();
    let wall = w.job().walls[0].name.clone();
    w.ask(Command::Pick(Some(ItemRef::Wall(wall.clone()))));
    w.press(Modifiers::NONE, Key::Delete);
    assert!(w.job().wall(&wall).is_none());
    assert_eq!(w.session().picked, None);
    assert_ne!(w.session().wall, Some(wall));
}

#[test]
fn the_title_is_changed_where_it_stands() {
    let mut w = Window::fresh();
    w.click_on("Title: ");
    w.type_into("Title of the job", "Sail loft, upper floor");
    assert_eq!(w.job().title, "Sail loft, upper floor");
    assert_eq!(w.session().history.undo_label(), Some("change the title"));
    assert_eq!(w.session().history.depth(), 1);
}

#[test]
fn escape_keeps_the_title() {
    let mut w = Window::fresh();
    let before = w.job().title.clone();
    w.click_on("Title: ");
    w.ui.key_press(Key::A);
    w.press(Modifiers::NONE, Key::Escape);
    assert_eq!(w.job().title, before);
    assert_eq!(w.session().history.depth(), 0);
}

#[test]
fn an_action_is_found_by_a_word_and_done_with_enter() {
    let mut w = Window::fresh();
    w.press(Modifiers::COMMAND, Key::K);
    assert_eq!(w.session().dialog, Some(Dialog::Find));
    w.type_into("Find an action by name", "post");
    assert_eq!(w.session().dialog, None);
    assert_eq!(w.session().tool, Tool::Post);
    assert_eq!(w.session().place, Where::Draw);
}

#[test]
fn a_letter_takes_a_tool_but_not_while_something_is_typed() {
    let mut w = Window::fresh();
    w.press(Modifiers::NONE, Key::W);
    assert_eq!(w.session().tool, Tool::Wall);
    w.click_on("Title: ");
    w.press(Modifiers::NONE, Key::B);
    assert_eq!(w.session().tool, Tool::Wall);
}

#[test]
fn the_more_particular_key_wins() {
    let mut w = Window::fresh();
    w.press(Modifiers::COMMAND | Modifiers::SHIFT, Key::O);
    assert!(matches!(w.session().dialog, Some(Dialog::Path(_, None))), "{:?}", w.session().dialog);
}

#[test]
fn every_key_is_on_the_sheet_of_keys() {
    let mut w = Window::fresh();
    w.press(Modifiers::NONE, Key::F1);
    assert_eq!(w.session().dialog, Some(Dialog::Keys));
    for action in editor::actions::ALL.iter().filter(|a| a.key.is_some()) {
        let label = action.label.trim_end_matches('…');
        assert!(w.ui.query_all_by_label(label).next().is_some(), "{label}");
    }
    w.press(Modifiers::NONE, Key::Escape);
    assert_eq!(w.session().dialog, None);
}

#[test]
fn a_second_door_is_one_step_and_is_picked() {
    let mut w = Window::fresh();
    let (wall, opening) = w
        .job()
        .walls
        .iter()
        .find_map(|wall| wall.openings.first().map(|o| (wall.clone(), o.name.clone())))
        .expect("the demonstration has an opening");
    w.ask(Command::Pick(Some(ItemRef::Opening(opening.clone()))));
    w.press(Modifiers::COMMAND, Key::D);
    let after = w.job().wall(&wall.name).expect("the wall stays").clone();
    assert_eq!(after.openings.len(), wall.openings.len() + 1);
    assert_eq!(w.session().history.depth(), 1);
    assert_ne!(w.session().picked, Some(ItemRef::Opening(opening)));
    assert!(matches!(w.session().picked, Some(ItemRef::Opening(_))));
}
