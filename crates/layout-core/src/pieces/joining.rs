//! Plates joined elsewhere, where that takes less timber: of all legal joints of each plate that has to be joined those
//! that leave the cheapest plan, tried with the cuts of the whole job.

use super::blank::{Blank, Cutting};
use super::planning::{Planning, SectionPlan, counted};
use super::{sawn, tenths};
use crate::document::{Edit, Job, Joint, Timber, money};
use crate::frame::{LEAST_PLATE, PlatePart, STAGGER};
use crate::id::Name;
use crate::layout::{Layout, WallLayout};
use crate::math::SAME;
use crate::span::Span;
use crate::units::Units;

/// Ways to join one plate that are tried.
const WAYS: usize = 48;
/// Ways tried in all, for one section.
const TRIES: usize = 200;
/// How often the planner may ask whether to go on, from the start and for one try: about a millisecond each.
const ASKS: (u32, u32) = (150, 8);

/// Joints of plates that come to less than those there are.
#[derive(Clone, Debug, PartialEq)]
pub struct Joining {
    /// Walls whose plates are joined elsewhere, and all joints of each.
    pub walls: Vec<(Name, Vec<Joint>)>,
    /// What it saves: money where `priced`, else mm of bar.
    pub saves: f64,
    /// True when it is reckoned by price.
    pub priced: bool,
}

impl Joining {
    /// The change that joins them so.
    pub fn edit(&self) -> Edit {
        Edit::SetJoints(self.walls.clone())
    }

    /// “Plates of A and B joined elsewhere save £7.20”.
    pub fn in_words(&self, units: Units, currency: &str) -> String {
        let names: Vec<String> = self.walls.iter().map(|(name, _)| name.to_string()).collect();
        let names = match names.split_last() {
            Some((last, [])) => last.clone(),
            Some((last, first)) => format!("{} and {last}", first.join(", ")),
            None => String::new(),
        };
        let saves = match self.priced {
            true => money(currency, self.saves),
            false => format!("{} of bar", units.run(self.saves)),
        };
        format!("Plates of {names} joined over other studs save {saves}")
    }
}

/// A plate that has to be joined.
struct Plate<'a> {
    wall: &'a WallLayout,
    part: &'a PlatePart,
    pieces: Vec<Span>,
}

/// Looks for joints that leave a cheaper plan than `plans`, which are those of `layout`; `None` when there are none, or
/// `go_on` says no.
pub fn joining(
    job: &Job,
    layout: &Layout,
    plans: &[SectionPlan],
    go_on: &dyn Fn() -> bool,
) -> Option<Joining> {
    let mut walls: Vec<(Name, Vec<Joint>)> = Vec::new();
    for plan in plans.iter().filter(|p| p.left_over.is_empty() && p.done.is_empty()) {
        walls.extend(of_section(job, layout, &plan.timber, go_on)?);
    }
    if walls.is_empty() {
        return None;
    }
    let other = Edit::SetJoints(walls.clone()).apply(job);
    let mut planning = Planning::new(&other, &layout.relayout(&other));
    while go_on() && !planning.run(go_on) {}
    let now = planning.plans();
    let priced = plans.iter().all(|p| p.priced);
    let whole = |plans: &[SectionPlan]| -> Option<f64> {
        let comes_to = |p: &SectionPlan| if priced { p.price } else { Some(p.bought) };
        plans.iter().filter(|p| p.left_over.is_empty()).map(comes_to).sum()
    };
    let saves = whole(plans)? - whole(&now)?;
    let all_there = now.iter().all(|p| p.left_over.is_empty());
    (go_on() && all_there && saves > 0.005).then_some(Joining { walls, saves, priced })
}

/// Walls of one section whose plates are better joined elsewhere; `None` when it may not go on.
fn of_section(
    job: &Job,
    layout: &Layout,
    timber: &Timber,
    go_on: &dyn Fn() -> bool,
) -> Option<Vec<(Name, Vec<Joint>)>> {
    let parts = layout.framed();
    let blanks: Vec<Blank> = parts
        .flat_map(|part| {
            let of = sawn(part).filter(|m| m.timber == *timber);
            of.map(move |member| Blank::of(part, member)).collect::<Vec<_>>()
        })
        .collect();
    let mut plates = plates(layout, timber);
    if plates.is_empty() {
        return Some(Vec::new());
    }
    let Cutting { mut problem, .. } = Cutting::new(timber, &blanks, &job.stock, &job.saw);
    let Ok(mut planner) = saw::Planner::new(&problem) else { return Some(Vec::new()) };
    planner.run(&counted(ASKS.0, go_on));
    let (mut cost, mut pool) = (planner.best().cost(&problem), planner.pool());
    let (mut tries, mut moved) = (0, vec![false; plates.len()]);
    for k in 0..plates.len() {
        for pieces in ways(&plates, k) {
            if tries == TRIES {
                break;
            }
            if !go_on() {
                return None;
            }
            let Some(other) = exchanged(&problem, &plates[k], &pieces) else { break };
            tries += 1;
            let Ok(mut planner) = saw::Planner::warm(&other, &pool) else { continue };
            if planner.bound() >= cost {
                continue;
            }
            planner.run(&counted(ASKS.1, go_on));
            let best = planner.best();
            if best.missing() == 0 && best.cost(&other) < cost {
                (cost, pool) = (best.cost(&other), planner.pool());
                (problem, moved[k]) = (other, true);
                plates[k].pieces = pieces;
            }
        }
    }
    let mut walls: Vec<(Name, Vec<Joint>)> = Vec::new();
    for wall in &layout.walls {
        let of: Vec<usize> =
            (0..plates.len()).filter(|&k| std::ptr::eq(plates[k].wall, wall)).collect();
        if of.iter().any(|&k| moved[k]) {
            // All of them, so that those that stay stay where they are.
            walls
                .push((wall.name().clone(), of.iter().flat_map(|&k| joints(&plates[k])).collect()));
        }
    }
    Some(walls)
}

/// The level plates of a section that are in more than one piece.
fn plates<'a>(layout: &'a Layout, timber: &Timber) -> Vec<Plate<'a>> {
    let of = layout.walls.iter().filter(|w| w.spec.makeup.timber == *timber);
    let parts = of.flat_map(|wall| wall.frame.plates.iter().map(move |part| (wall, part)));
    let joined = parts.filter(|(_, part)| part.pieces.len() > 1 && part.tilt - 1.0 < 1e-9);
    joined.map(|(wall, part)| Plate { wall, part, pieces: part.pieces.clone() }).collect()
}

/// Where its pieces meet.
fn joints(plate: &Plate<'_>) -> Vec<Joint> {
    let Some(of) = plate.part.plate() else { return Vec::new() };
    let meet = plate.pieces[1..].iter();
    meet.map(|p| Joint { plate: of, layer: plate.part.layer as u8, at: p.low }).collect()
}

/// The other ways to join a plate in as many pieces: at its stations, no piece longer than any now or than a bar, none shorter
/// than can be nailed, clear of the joints of the plates above and below it.
fn ways(plates: &[Plate<'_>], k: usize) -> Vec<Vec<Span>> {
    let plate = &plates[k];
    let part = plate.part;
    let others = plates.iter().filter(|p| {
        let near = p.part.layer.abs_diff(part.layer) == 1;
        std::ptr::eq(p.wall, plate.wall) && p.part.role == part.role && near
    });
    let near: Vec<f64> = others.flat_map(|p| p.pieces[1..].iter().map(|s| s.low)).collect();
    let clear = |s: &f64| near.iter().all(|b| (b - s).abs() >= STAGGER - SAME);
    let stations: Vec<f64> = part.stations.iter().copied().filter(clear).collect();
    let longest = plate.wall.spec.longest.unwrap_or(f64::INFINITY);
    let mut found = Vec::new();
    let mut cuts = Vec::new();
    spread(part.span, &stations, longest, plate.pieces.len() - 1, &mut cuts, &mut found);
    // Spread over all there are, rather than the first.
    let step = found.len().div_ceil(WAYS).max(1);
    found.into_iter().step_by(step).filter(|way| *way != plate.pieces).collect()
}

/// Every choice of so many joints.
fn spread(
    rest: Span,
    stations: &[f64],
    longest: f64,
    joints: usize,
    cuts: &mut Vec<Span>,
    found: &mut Vec<Vec<Span>>,
) {
    // More than this are never looked at.
    if found.len() >= 20 * WAYS {
        return;
    }
    if joints == 0 {
        if rest.length() <= longest + SAME && rest.length() >= LEAST_PLATE {
            found.push(cuts.iter().copied().chain([rest]).collect());
        }
        return;
    }
    let reach = stations.iter().filter(|s| {
        let length = **s - rest.low;
        length >= LEAST_PLATE && length <= longest + SAME
    });
    for &at in reach {
        cuts.push(Span { low: rest.low, high: at });
        spread(Span { low: at, high: rest.high }, stations, longest, joints - 1, cuts, found);
        cuts.pop();
    }
}

/// The problem with a plate cut into other pieces; `None` where those it has are not found in it.
fn exchanged(problem: &saw::Problem, plate: &Plate<'_>, pieces: &[Span]) -> Option<saw::Problem> {
    let units = plate.wall.spec.units;
    let length = |s: &Span| saw::Piece::from(tenths(units.round(s.high) - units.round(s.low)));
    let mut other = problem.clone();
    for old in plate.pieces.iter().map(length) {
        let demand = other.pieces.iter_mut().find(|d| d.piece == old && d.count > 0)?;
        demand.count -= 1;
    }
    other.pieces.extend(pieces.iter().map(|s| saw::Demand::new(length(s), 1)));
    Some(other)
}
