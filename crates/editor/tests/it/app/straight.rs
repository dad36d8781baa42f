//! Straight and bowed timber in Yard: a share that is not straight raises the order; what came is taken in and planned from.

use layout_core::document::Stock;
use layout_core::pieces::{BarsToBuy, SectionPlan};

use crate::window::Window;

/// The first section of which not all bars are straight.
fn sorted(w: &Window) -> &SectionPlan {
    let plans = &w.ui.state().derived().lists.plans;
    plans.iter().find(|p| p.sure.is_some()).expect("not all are straight")
}

/// Bars ordered of it that have to be straight, and what Yard calls them.
fn first(w: &Window) -> (BarsToBuy, String) {
    let (plan, units) = (sorted(w), w.job().units);
    let order = plan.order();
    let line = *order.iter().find(|l| l.straight > 0).expect("studs come from them");
    let timber = &plan.timber;
    let name = format!("{} {} {}", timber.size_in(units), timber.grade(), units.show(line.length));
    (line, name)
}

#[test]
fn so_many_more_are_ordered_and_what_came_is_taken_in() {
    let mut w = Window::fresh();
    // Every length the merchant has is half crooked, so that no other line is better.
    let mut stock: Vec<Stock> = w.job().stock.clone();
    for line in &mut stock {
        line.crooked = 0.5;
    }
    w.ask(editor::command::Command::Edit(layout_core::document::Edit::SetStock(stock)));
    w.click_on("Yard");
    w.settle();
    let plan = sorted(&w);
    assert!(plan.sure >= Some(0.95) && !plan.extra.is_empty(), "{:?}", plan.sure);

    let (line, name) = first(&w);
    w.type_into(&format!("Not straight of {name}"), "20");
    let share = |w: &Window| -> Vec<f64> {
        let of = w.job().stock.iter().filter(|s| (s.length - line.length).abs() < 0.1);
        of.map(|s| s.crooked).collect()
    };
    assert!(share(&w).contains(&0.2), "{:?}", share(&w));
    w.settle();

    let (line, name) = first(&w);
    w.type_into(&format!("Straight that came of {name}"), "3");
    w.type_into(&format!("Bowed that came of {name}"), "2");
    w.reach("Take in what came");
    let owned = |w: &Window, bowed: bool| -> u32 {
        let of = w.job().stock.iter().filter(|s| (s.length - line.length).abs() < 0.1);
        of.filter(|s| s.bowed == bowed).filter_map(|s| s.owned).sum()
    };
    assert_eq!((owned(&w, false), owned(&w, true)), (3, 2));
    w.ask(editor::command::Command::Undo);
    assert_eq!((owned(&w, false), owned(&w, true)), (0, 0));
}
