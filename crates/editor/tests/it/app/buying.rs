//! Price lists, tax and delivery, spares, packs, the van: what the Yard is told and what it makes of it.

use editor::command::Command;
use editor::session::Dialog;
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;
use layout_core::order::{Goods, OrderLine};

use crate::window::{Window, somewhere};

#[test]
fn what_is_said_about_buying_changes_the_order() {
    let mut w = Window::fresh();
    w.click_on("Yard");
    let before = w.job().clone();
    let bars = |w: &Window| {
        let order = w.ui.state().derived().lists.order();
        order.of(Goods::Timber).map(OrderLine::buy).sum::<usize>()
    };
    let planned = bars(&w);
    w.type_into("Tax, per cent", "20");
    w.type_into("Delivery costs", "45,50");
    w.type_into("Delivery free from", "900");
    w.type_into("Spare bars, per cent", "10 %");
    w.type_into("Spare bars at least", "2");
    let buying = &w.job().buying;
    assert_eq!((buying.tax, buying.delivery, buying.free_from), (20.0, 45.5, Some(900.0)));
    assert_eq!((buying.spares.bars, buying.spares.bars_least), (10.0, 2));
    assert!(bars(&w) >= planned + 2);
    assert_eq!(w.session().history.undo_label(), Some("change how it is bought"));
    w.type_into("Tax, per cent", "120");
    assert_eq!(w.job().buying.tax, 20.0, "no tax is more than the goods");
    w.type_into("Tax, per cent", " ");
    assert_eq!(w.job().buying.tax, 0.0);
    for _ in 0..6 {
        w.press(Modifiers::COMMAND, Key::Z);
    }
    assert_eq!(*w.job(), before);
}

#[test]
fn a_pack_rounds_what_is_bought_up() {
    let mut w = Window::fresh();
    w.click_on("Yard");
    for i in 0..w.job().stock.len() {
        let of = &w.job().stock[i].timber;
        let name = format!("Pack of {} {}, line {}", of.size(), of.grade(), i + 1);
        w.type_into(&name, "7");
        assert_eq!(w.job().stock[i].pack, Some(7), "{name}");
    }
    let order = w.ui.state().derived().lists.order().clone();
    for line in order.of(Goods::Timber) {
        assert!(line.buy().is_multiple_of(7) && line.buy() >= line.planned, "{line:?}");
    }
    let of = &w.job().stock[0].timber;
    let name = format!("Price of {} {}, line 1", of.size(), of.grade());
    w.type_into(&name, "84/12");
    assert_eq!(w.job().stock[0].price, Some(7.0));
}

#[test]
fn what_does_not_go_in_the_van_is_told() {
    let mut w = Window::fresh();
    w.click_on("Yard");
    let told = |w: &Window, part: &str| w.ui.query_all_by_label_contains(part).next().is_some();
    assert!(!told(&w, "not go in the van, which takes"));
    w.type_into("Van length", "2.0m");
    w.type_into("Van payload", "120 kg");
    assert_eq!(w.job().buying.carry.van_length, Some(2000.0));
    assert!(told(&w, "not go in the van, which takes"));
    assert!(told(&w, "the van takes 120 kg at once"));
    w.type_into("Van length", " ");
    assert_eq!(w.job().buying.carry.van_length, None);
}

#[test]
fn a_price_list_is_written_filled_in_and_taken_over_as_one_step() {
    let (_folder, path) = somewhere("prices.csv");
    let mut w = Window::fresh();
    w.ask(Command::WritePrices(Some(path.clone())));
    let before = w.job().clone();
    let text = std::fs::read_to_string(&path).expect("it was written");
    let mut lines: Vec<String> = text.lines().map(str::to_string).collect();
    assert!(lines[0].starts_with("kind,what,thickness_mm,"), "{}", lines[0]);
    // The merchant fills in each timber.
    for line in lines.iter_mut().filter(|l| l.starts_with("timber,")) {
        let cells: Vec<&str> = line.split(',').collect();
        *line = format!("{},7.25,each", cells[..cells.len() - 2].join(","));
    }
    std::fs::write(&path, lines.join("\n")).unwrap();
    w.ask(Command::TakePrices(Some(path)));
    assert!(matches!(w.session().dialog, Some(Dialog::Prices(_))));
    assert_eq!(*w.job(), before, "nothing is taken unasked");
    w.click("Take over");
    assert!(w.job().stock.iter().filter(|s| s.owned.is_none()).all(|s| s.price == Some(7.25)));
    assert_eq!(w.session().history.undo_label(), Some("take over the prices of prices.csv"));
    assert!(w.session().dialog.is_none());
    w.press(Modifiers::COMMAND, Key::Z);
    assert_eq!(*w.job(), before);
}

#[test]
fn of_a_list_with_a_wrong_row_nothing_is_taken() {
    let (_folder, path) = somewhere("prices.csv");
    let text = "kind,section,length_mm,price\ntimber,46x97,2400,7.25\ntimber,46x97,3000,dear\n";
    std::fs::write(&path, text).unwrap();
    let mut w = Window::fresh();
    let before = w.job().clone();
    w.ask(Command::TakePrices(Some(path)));
    assert!(w.find("Take over").is_none());
    assert!(w.ui.query_by_label_contains("line 3: price: “dear” is not a number").is_some());
    w.click("Close");
    assert!(w.session().dialog.is_none());
    assert_eq!(*w.job(), before);
}

#[test]
fn what_if_is_worked_out_beside_the_lists_and_done_by_a_click() {
    let text = include_str!("../../../../../assets/jobs/one-wall-with-door.ron");
    let job = layout_core::document::read(text).expect("a starter reads");
    let asker = editor::app::nobody();
    let mut w =
        Window::start(editor::app::Start { job: Some(job), open: None, prefs: None, asker });
    w.click_on("Yard");
    assert!(w.ui.state().derived().what_if.is_none(), "nobody has asked yet");
    w.click("What if …");
    let found = w.ui.state().derived().what_if.clone().expect("it was worked out");
    assert!(found.ended && *found.of == *w.job());
    let row = found.rows.iter().find(|r| r.label == "studs at 600").expect("it stands at 400 now");
    let (before, pieces) = (w.job().clone(), row.whole.pieces);
    w.reach("Do it: studs at 600");
    let makeup = w.job().walls[0].makeup.clone();
    assert_eq!(w.job().makeup(&makeup).map(|m| m.centres), Some(600.0));
    assert_eq!(w.session().history.undo_label(), Some("studs at 600"));
    let found = w.ui.state().derived().what_if.clone().expect("it was worked out again");
    assert!(*found.of == *w.job() && found.rows[0].whole.pieces == pieces);
    w.press(Modifiers::COMMAND, Key::Z);
    assert_eq!(*w.job(), before);
}
