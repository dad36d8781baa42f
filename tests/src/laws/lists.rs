//! Laws of the lists: nothing is lost or counted twice between the walls, the totals, the saw
//! batches and the bars.

use std::collections::BTreeMap;

use layout_core::document::{BarFrom, CutBar, Edit, Job, Stock, Timber};
use layout_core::id::{Mark, Name};
use layout_core::layout::Layout;
use layout_core::pieces::{SectionPlan, batches, cutting_plan, joining, totals};

use super::{all_pieces, law};

type Key = (Name, Mark);

/// Lists round where a piece begins and where it ends, so its length may be up to a millimetre off.
fn near_as_cut(exact: f64, listed: f64) -> bool {
    (exact - listed).abs() <= 1.01 && (listed - listed.round()).abs() < 1e-6
}

#[test]
fn totals_count_every_piece_once() {
    law("totals count every piece once", |_, layout| {
        let mut wanted: BTreeMap<Timber, (usize, f64)> = BTreeMap::new();
        for (_, m) in all_pieces(layout) {
            let entry = wanted.entry(m.timber.clone()).or_default();
            entry.0 += 1;
            entry.1 += m.cut().length;
        }
        let got = totals(layout);
        let alike = got.len() == wanted.len()
            && got.iter().all(|t| {
                wanted.get(&t.timber).is_some_and(|(n, length)| {
                    // Lengths may be added as cut, to the whole millimetre.
                    *n == t.pieces && (length - t.length).abs() <= *n as f64 + 0.01
                })
            });
        if alike { Vec::new() } else { vec![format!("wanted {wanted:?}, got {got:?}")] }
    });
}

#[test]
fn every_piece_is_in_one_batch_of_its_length() {
    law("every piece is in one saw batch of its length", |_, layout| {
        let mut wrong = Vec::new();
        let mut seen: BTreeMap<Key, usize> = BTreeMap::new();
        for batch in batches(layout) {
            for (wall, mark) in &batch.marks {
                *seen.entry((wall.clone(), *mark)).or_default() += 1;
                let Some(m) = layout.member(wall, *mark) else {
                    wrong.push(format!("{wall}-{mark} is in a batch and in no wall"));
                    continue;
                };
                let fits = m.timber == batch.timber
                    && near_as_cut(m.cut().length, batch.cut.length)
                    && (!m.measure_in_place || batch.measure_in_place)
                    && batch.roles.contains(&m.role);
                if !fits {
                    wrong.push(format!("{wall}-{mark} cut {} in {:?}", m.cut().length, batch.cut));
                }
            }
        }
        for (name, m) in all_pieces(layout) {
            let times = seen.get(&(name.clone(), m.mark)).copied().unwrap_or(0);
            if times != 1 {
                wrong.push(format!("{}-{} is in {times} batches", name, m.mark));
            }
        }
        wrong
    });
}

#[test]
fn pieces_kerfs_and_offcut_make_up_the_bar() {
    law(
        "pieces, kerfs, trim and offcut make up the bar, every piece is cut once",
        |job, layout| {
            let mut wrong = Vec::new();
            let mut seen: BTreeMap<Key, usize> = BTreeMap::new();
            let (kerf, trim) = (job.saw.kerf, job.saw.trim);
            for plan in cutting_plan(job, layout) {
                let mut bought = 0.0;
                for bar in &plan.bars {
                    // As they lie on it, slanted ends together.
                    let laid = bar.laid(&plan.timber, &job.saw);
                    let cut = laid.iter().map(|l| l.to).fold(0.0, f64::max);
                    // A kerf may or may not be wanted to part the last piece from the offcut.
                    let rest = bar.stock - trim - cut - bar.offcut;
                    if bar.straight() && bar.bowed {
                        wrong.push(format!("a stud from a bowed bar of {}", bar.stock));
                    }
                    if rest < -0.01
                        || rest > kerf + 0.01
                        || bar.offcut < -0.01
                        || bar.pieces.is_empty()
                    {
                        wrong.push(format!("bar {} of {cut} leaves {}", bar.stock, bar.offcut));
                    }
                    if !job.stock.iter().any(|s| s.timber == plan.timber && s.length == bar.stock) {
                        wrong.push(format!("no bar of {} is to be had", bar.stock));
                    }
                    bought += if bar.from == BarFrom::Bought { bar.stock } else { 0.0 };
                }
                bought += plan.extra.iter().map(|(stock, n)| stock * *n as f64).sum::<f64>();
                if (bought - plan.bought).abs() > 0.01 {
                    wrong.push(format!("bought {bought}, said {}", plan.bought));
                }
                let cut = plan.bars.iter().flat_map(|b| &b.pieces).chain(&plan.left_over);
                for p in cut {
                    *seen.entry((p.wall.clone(), p.mark)).or_default() += 1;
                    let m = layout.member(&p.wall, p.mark);
                    if !m.is_some_and(|m| {
                        m.timber == plan.timber && near_as_cut(m.cut().length, p.length)
                    }) {
                        wrong.push(format!(
                            "{}-{} of {} is no piece of the job",
                            p.wall, p.mark, p.length
                        ));
                    }
                }
            }
            let from_bars = all_pieces(layout).filter(|(_, m)| !m.timber.is_ply());
            for (name, m) in from_bars {
                let times = seen.get(&(name.clone(), m.mark)).copied().unwrap_or(0);
                if times != 1 {
                    wrong.push(format!("{}-{} is cut {times} times", name, m.mark));
                }
            }
            wrong
        },
    );
}

#[test]
fn a_limited_bar_is_not_used_more_often_than_there_are() {
    law("a bar of which there are three is used three times at most", |job, layout| {
        let mut stock = job.stock.clone();
        stock.iter_mut().filter(|s| s.length > 3500.0).for_each(|s| s.available = Some(3));
        let mut wrong = Vec::new();
        let job = Job { stock: stock.clone(), ..job.clone() };
        for plan in cutting_plan(&job, layout) {
            for length in [3600.0, 4800.0] {
                let used = plan.bars.iter().filter(|b| b.stock == length).count();
                let lines = stock.iter().filter(|s| s.timber == plan.timber && s.length == length);
                if used > 3 * lines.count() {
                    wrong.push(format!("{used} bars of {length}"));
                }
            }
        }
        wrong
    });
}

#[test]
fn what_has_been_cut_is_not_planned_again_and_can_be_taken_back() {
    law("bars ticked off are not planned again", |job, layout| {
        let mut wrong = Vec::new();
        let plans = cutting_plan(job, layout);
        let every = |take: usize| -> Vec<CutBar> {
            let bars = plans.iter().flat_map(|p| p.bars.iter().map(|b| b.cut(&p.timber, &job.saw)));
            bars.step_by(take).collect()
        };
        for take in [1, 2] {
            let cut = every(take);
            let after = Edit::CutBars(cut.clone()).apply(job);
            let mut to_cut: BTreeMap<Key, usize> = BTreeMap::new();
            for plan in cutting_plan(&after, layout) {
                let bars = plan.bars.iter().chain(plan.done.iter().map(|(_, bar)| bar));
                for p in bars.flat_map(|b| &b.pieces).chain(&plan.left_over) {
                    *to_cut.entry((p.wall.clone(), p.mark)).or_default() += 1;
                }
                if !plan.again.is_empty() {
                    wrong.push(format!("cut to another length: {:?}", plan.again));
                }
                if take == 1 && !plan.bars.is_empty() {
                    wrong.push(format!("{} bars are left to cut", plan.bars.len()));
                }
                // Bars that came out of offcuts may save some, never the other way round. Those beyond, to be sure of straight
                // ones, are not wanted any more.
                let beyond = |p: &SectionPlan| -> f64 {
                    p.extra.iter().map(|(stock, n)| stock * *n as f64).sum()
                };
                let before = plans.iter().find(|p| p.timber == plan.timber);
                let before = before.map(|p| p.bought - beyond(p));
                if take == 1 && before.is_some_and(|b| (b - plan.bought).abs() > 0.01) {
                    wrong.push(format!("{} was bought, {before:?} before", plan.bought));
                }
            }
            if let Some((key, times)) = to_cut.iter().find(|(_, times)| **times != 1) {
                wrong.push(format!("{key:?} is cut {times} times"));
            }
            // Taken back from the last, the job is as it was but for the order of the timber list.
            let mut back = after;
            while !back.cut.is_empty() {
                let count = back.cut.len();
                back = Edit::UncutBar(count - 1).apply(&back);
                if back.cut.len() == count {
                    wrong.push(format!("bar {count} cannot be taken back"));
                    break;
                }
            }
            let list = |job: &Job| {
                let lines = job.stock.iter().filter(|s| s.owned != Some(0));
                let mut lines: Vec<String> = lines.map(|s| format!("{s:?}")).collect();
                lines.sort();
                lines
            };
            if list(&back) != list(job) {
                wrong.push("taking back leaves another timber list".into());
            }
        }
        wrong
    });
}

#[test]
fn more_stock_never_costs_more_and_the_bound_holds() {
    law("a plan is never under its bound; more stock never costs more", |job, layout| {
        let mut wrong = Vec::new();
        let plans = cutting_plan(job, layout);
        for plan in &plans {
            if plan.left_over.is_empty() && plan.cost < plan.least - 0.001 {
                wrong.push(format!("{} is under {}", plan.cost, plan.least));
            }
            if plan.proven && (plan.cost - plan.least).abs() > 0.001 {
                wrong.push(format!("proven at {} with a bound of {}", plan.cost, plan.least));
            }
        }
        // An offcut for nothing: what was proven before cannot be proven dearer now.
        for plan in &plans {
            let mut more = job.clone();
            let (timber, length) = (plan.timber.clone(), 1700.0);
            more.stock.push(Stock { owned: Some(2), ..Stock::new(timber, length) });
            let now = cutting_plan(&more, layout);
            let now = now.iter().find(|p| p.timber == plan.timber);
            if let Some(now) = now.filter(|n| n.proven && plan.proven)
                && now.cost > plan.cost + 0.001
            {
                wrong.push(format!("{} with two offcuts more, {} before", now.cost, plan.cost));
            }
        }
        wrong
    });
}

/// What joints of plates are said to save they save, they are where they were put, and the frame is sound with them.
#[test]
fn plates_joined_elsewhere_save_what_they_say() {
    let mut found = 0;
    for seed in 0..60 {
        let mut job = crate::random::job(seed);
        // Long bars are dear, so that it is worth while now and then.
        for line in &mut job.stock {
            (line.price, line.crooked) = (Some((line.length / 1000.0).powi(2)), 0.0);
        }
        let layout = Layout::of(&job);
        let plans = cutting_plan(&job, &layout);
        let Some(joining) = joining(&job, &layout, &plans, &|| true) else { continue };
        found += 1;
        let other = joining.edit().apply(&job);
        let joined = layout.relayout(&other);
        let sum = |plans: &[SectionPlan]| -> f64 {
            plans
                .iter()
                .map(|p| if joining.priced { p.price.unwrap_or(0.0) } else { p.bought })
                .sum()
        };
        let saved = sum(&plans) - sum(&cutting_plan(&other, &joined));
        assert!((saved - joining.saves).abs() < 0.01 && saved > 0.0, "seed {seed}: {saved}");
        for (wall, joints) in &joining.walls {
            let wall = joined.walls.iter().find(|w| w.name() == wall).expect("its wall");
            let are: Vec<f64> =
                wall.frame.plates.iter().flat_map(|p| &p.pieces).map(|s| s.low).collect();
            for joint in joints {
                let near = are.iter().any(|low| (low - joint.at).abs() < 0.01);
                assert!(near, "seed {seed}: {joint:?} of {are:?}");
            }
        }
        let snags = |l: &Layout| l.snags.len();
        assert!(snags(&joined) <= snags(&layout), "seed {seed}");
    }
    assert!(found > 3, "{found}");
}
