//! Laws of the stud grid and of choices: a grid that is carried on runs through the node; comparing
//! changes nothing; a choice comes to what was said.

use std::sync::Arc;

use layout_core::board_plan::{BoardPlan, board_plans};
use layout_core::compare::{Outcome, boardings, choices, sweep};
use layout_core::document::{Edit, GridFrom, Job, OddBay, Wall};
use layout_core::frame::Role;
use layout_core::layout::{Layout, WallLayout};
use layout_core::math::PlanPoint;
use layout_core::pieces::{Biller, Planning};
use layout_core::snag::Code;

use super::{NEAR, law, law_of, tries};
use crate::random::Random;

/// Two to five walls in one line, drawn either way and named in any order, of which one keeps its own grid and
/// every other carries on that of the wall before it. Gives the job and the centres.
fn in_line(seed: u64) -> (Job, f64) {
    let mut r = Random::new(seed);
    let centres = r.pick(&[300.0, 400.0, 406.4, 600.0]);
    let count = 2 + r.below(4);
    let own = r.below(count);
    let turn = r.pick(&[0.0, 0.6, 2.2_f64]);
    let at = |s: f64| PlanPoint::new(s * turn.cos() + 300.0, s * turn.sin() - 200.0);
    let mut job = Job::default();
    let mut walls = Vec::new();
    let mut from = 0.0;
    for i in 0..count {
        let to = from + r.mm(900.0, 4000.0);
        let mut wall = Wall::new(["P", "Q", "R", "S", "T"][i], "", "", job.makeups[0].name.clone());
        wall.centres = Some(centres);
        // True when it is drawn the way the line runs.
        let onward = r.once_in(2);
        let counted_from_low = if i == own { r.once_in(2) } else { i > own };
        wall.odd_bay = match counted_from_low == onward {
            true => OddBay::AtEnd,
            false => OddBay::AtStart,
        };
        if i == own {
            wall.grid_from = GridFrom::Inset(r.mm(0.0, 40.0));
            if r.once_in(3) {
                wall.odd_bay = OddBay::Split;
            }
        } else {
            wall.grid_from = GridFrom::InLine;
        }
        walls.push((wall, if onward { (at(from), at(to)) } else { (at(to), at(from)) }));
        from = to;
    }
    while !walls.is_empty() {
        let (mut wall, (from, to)) = walls.remove(r.below(walls.len()));
        let (one, other) = (job.free_node_name(), format!("{}b", job.free_node_name()));
        (wall.from, wall.to) = (one, other.as_str().into());
        job = Edit::AddWall { wall: Arc::new(wall), from, to }.apply(&job);
    }
    (job, centres)
}

/// Where the common studs that were not moved stand along the line.
fn on_the_line(wall: &WallLayout, at: PlanPoint) -> Vec<f64> {
    let moved = |low: f64| {
        wall.frame.snags.iter().any(|s| {
            matches!(s.code, Code::StudShifted | Code::StudAdded)
                && s.station.is_some_and(|at| (at - low).abs() < NEAR)
        })
    };
    let studs = wall.frame.members.iter().filter(|m| m.role == Role::Stud);
    studs
        .map(|m| m.solid.stations())
        .filter(|s| !moved(s.low))
        .map(|s| (wall.place.plan(s.centre(), 0.0) - at).norm())
        .collect()
}

#[test]
fn a_grid_carried_on_runs_through_the_node() {
    let mut seen = 0;
    for seed in 0..tries() {
        let (job, centres) = in_line(seed);
        let layout = Layout::of(&job);
        assert!(
            layout.snags.iter().all(|s| s.code != Code::GridNotCarried),
            "seed {seed}: a grid was not carried on"
        );
        let zero = PlanPoint::new(300.0, -200.0);
        let mut studs = layout.walls.iter().flat_map(|w| on_the_line(w, zero));
        let Some(first) = studs.next() else { continue };
        for stud in studs {
            let bays = (stud - first) / centres;
            let off = (bays - bays.round()).abs() * centres;
            assert!(off < NEAR, "seed {seed}: studs at {first} and {stud}, centres {centres}");
            seen += 1;
        }
    }
    assert!(seen > 1000, "only {seen} studs");
}

#[test]
fn walls_that_carry_on_each_other_say_so() {
    let mut job = Job::default();
    let makeup = job.makeups[0].name.clone();
    for (name, odd_bay, from, to) in
        [("A", OddBay::AtStart, 0.0, 2000.0), ("B", OddBay::AtEnd, 2000.0, 4500.0)]
    {
        let mut wall = Wall::new(name, name, format!("{name}b").as_str(), makeup.clone());
        (wall.grid_from, wall.odd_bay) = (GridFrom::InLine, odd_bay);
        let (from, to) = (PlanPoint::new(from, 0.0), PlanPoint::new(to, 0.0));
        job = Edit::AddWall { wall: Arc::new(wall), from, to }.apply(&job);
    }
    let layout = Layout::of(&job);
    let said = layout.snags.iter().filter(|s| s.code == Code::GridNotCarried).count();
    assert_eq!(said, 1, "the ring is broken at one wall, and that is said");
}

#[test]
fn a_choice_comes_to_what_was_said_and_comparing_changes_nothing() {
    law("a choice comes to what was said", |job, layout| {
        let (job_was, layout_was) = (format!("{job:?}"), format!("{layout:?}"));
        let mut complaints = Vec::new();
        let Some(wall) = layout.walls.first().map(|w| w.name().clone()) else {
            return complaints;
        };
        let offered = choices(job, layout, &wall, &|| true);
        if offered.iter().filter(|c| c.now).count() != 1 {
            complaints.push("what the wall has now is not offered once".into());
        }
        // One in three is enough, and quicker.
        for choice in offered.iter().step_by(3) {
            let after = choice.edit.apply(job);
            let laid = Layout::of(&after);
            let fresh = Outcome::of(&after, &laid, &wall, layout, &Biller::new(&laid));
            if fresh != choice.outcome {
                complaints.push(format!(
                    "wall {wall}, {} at {}: said {:?}, came to {fresh:?}",
                    choice.odd_bay.label(),
                    choice.centres,
                    choice.outcome
                ));
            }
            if choice.now && (!choice.outcome.opened.is_empty() || after != *job) {
                complaints.push("what it has now is said to change something".into());
            }
        }
        if format!("{job:?}") != job_was || format!("{layout:?}") != layout_was {
            complaints.push("comparing changed the job".into());
        }
        complaints
    });
}

#[test]
fn a_way_to_board_comes_to_what_was_said_and_comparing_changes_nothing() {
    // Each job is laid out a hundred times over: one in ten is enough.
    law_of("a way to board comes to what was said", tries() / 10, |job, layout| {
        let job_was = format!("{job:?}");
        let mut complaints = Vec::new();
        let Some(makeup) = job.walls.first().map(|w| w.makeup.clone()) else { return complaints };
        let ways = boardings(job, layout, &makeup, &[], &|| true);
        if ways.iter().filter(|w| w.now).count() != usize::from(!ways.is_empty()) {
            complaints.push("what it has now is not offered once".into());
        }
        for way in ways.iter().step_by(5) {
            let after = way.edit.apply(job);
            if way.now != (after == *job) {
                complaints.push("what it has now is said to change something".into());
            }
            let laid = Layout::of(&after);
            let plans = board_plans(&after, &laid);
            let bill = Biller::new(&laid).bill(&laid, &after.stock, &after.saw);
            let is = &way.outcome;
            let walls = || laid.walls.iter().filter(|w| w.spec.makeup.name == makeup);
            let joints: f64 = walls()
                .flat_map(|w| &w.boards.layers)
                .flat_map(|l| &l.joints)
                .map(|j| j.along.length().max(j.heights.length()))
                .sum();
            let price: Option<f64> = plans.iter().map(|p| p.price).sum();
            let price = price.filter(|_| plans.iter().all(|p| p.left_over.is_empty()));
            let near = |a: f64, b: f64| (a - b).abs() < NEAR;
            if is.bill != bill
                || is.sheets.sheets != plans.iter().map(BoardPlan::bought).sum::<usize>()
                || is.sheets.no_sheet != plans.iter().map(|p| p.left_over.len()).sum::<usize>()
                || !near(is.sheets.area, plans.iter().map(|p| p.area).sum())
                || !near(is.sheets.sheet_area, plans.iter().map(BoardPlan::sheet_area).sum())
                || is.sheets.price.is_some() != price.is_some()
                || !near(is.sheets.price.unwrap_or(0.0), price.unwrap_or(0.0))
                || !near(is.joints, joints)
                || is.snags.iter().sum::<usize>() != laid.snags.len()
            {
                complaints.push(format!(
                    "{} {:?} at {}: {is:?}",
                    way.lay.label(),
                    way.sheet,
                    way.centres
                ));
            }
        }
        if format!("{job:?}") != job_was {
            complaints.push("comparing changed the job".into());
        }
        complaints
    });
}

#[test]
fn the_bill_is_the_sum_of_the_first_cutting_plan() {
    law("the bill is the sum of the first cutting plan", |job, layout| {
        let plans = Planning::new(job, layout).plans();
        let bars = || plans.iter().flat_map(|p| &p.bars);
        let no_bar: usize = plans.iter().map(|p| p.left_over.len()).sum();
        // The last piece of a bar that is used up needs no cut of its own.
        let trim = usize::from(job.saw.trim > 0.0);
        let cuts = bars().map(|b| b.pieces.len() + trim - usize::from(b.offcut == 0.0)).sum();
        let priced = no_bar == 0 && !plans.is_empty();
        let price = plans.iter().map(|p| p.price).sum::<Option<f64>>().filter(|_| priced);
        let bill = Biller::new(layout).bill(layout, &job.stock, &job.saw);
        let mut complaints = Vec::new();
        let near = |a: f64, b: f64| (a - b).abs() < NEAR;
        if (bill.cuts, bill.no_bar) != (cuts, no_bar)
            || !near(bill.bought, plans.iter().map(|p| p.bought).sum())
            || bill.price.is_some() != price.is_some()
            || !near(bill.price.unwrap_or(0.0), price.unwrap_or(0.0))
        {
            complaints
                .push(format!("{bill:?}, by the plan {cuts} cuts, {no_bar} without, {price:?}"));
        }
        complaints
    });
}

#[test]
fn a_place_of_a_sweep_comes_to_what_was_said() {
    law("a place of a sweep comes to what was said", |job, layout| {
        let Some(opening) = job.walls.iter().find_map(|w| Some(w.openings.first()?.name.clone()))
        else {
            return Vec::new();
        };
        let Some(swept) = sweep(job, layout, &opening, 5, &|| true) else { return Vec::new() };
        let mut complaints = Vec::new();
        for stop in &swept.stops {
            let after = swept.edit(stop).apply(job);
            let laid = Layout::of(&after);
            let biller = Biller::new(&laid);
            if Outcome::of(&after, &laid, &swept.wall, layout, &biller) != stop.outcome {
                complaints.push(format!("{opening} at {}: not what was said", stop.distance));
            }
            let spec = laid.wall(&swept.wall).map(|w| w.spec.clone());
            let at = spec.and_then(|s| {
                let hole = s.holes.iter().find(|h| h.name == opening)?;
                Some(hole.span.centre() - s.along().low)
            });
            if at.is_none_or(|at| (at - stop.at).abs() > NEAR) {
                complaints.push(format!("{opening} at {}: stands at {at:?}", stop.distance));
            }
        }
        if !swept.stops.iter().any(|s| s.best) {
            complaints.push("no place is the best".into());
        }
        complaints
    });
    let job = crate::jobs::demo();
    assert!(
        sweep(&job, &Layout::of(&job), &"D1".into(), 200, &|| false).is_none(),
        "it gives up when told to"
    );
}
