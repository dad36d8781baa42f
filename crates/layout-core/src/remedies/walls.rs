//! For walls: other centres, another place for the odd bay, noggins where boards want them, rows a little higher or
//! lower, timber in the list.

use std::sync::Arc;

use super::{Case, Try};
use crate::document::{Edit, GridFrom, OddBay, RowPlace, RowRule, Rows, Stock, Wall};
use crate::frame::own_rules;
use crate::id::{ItemRef, Name};
use crate::resolve::board_width;
use crate::snag::Code;

/// Usual centres with boards 1200 wide, the widest first; and with boards 4 ft wide.
const CENTRES: [&[f64]; 2] = [&[600.0, 400.0, 300.0], &[609.6, 406.4]];
/// How far a row is moved, mm, the shortest way first.
const STEPS: [f64; 9] = [10.0, 20.0, 40.0, 60.0, 80.0, 100.0, 150.0, 200.0, 300.0];
/// Lengths timber is usually sold in, mm: UK carcassing.
const LENGTHS: [f64; 5] = [2400.0, 3000.0, 3600.0, 4200.0, 4800.0];

pub(super) fn kinds(case: &Case) -> Vec<Vec<Try>> {
    let mut kinds = Vec::new();
    match &case.snag.of {
        ItemRef::Job if case.is(&[Code::NoStock]) => kinds.extend(stock(case)),
        ItemRef::NogginRow { wall, row } if case.is(&[Code::RowAside, Code::RowOutside]) => {
            kinds.extend(rows(case, wall, *row));
        }
        of => {
            let named = case.snag.wall.as_ref();
            let wall = case.job.wall_of(of).or_else(|| case.job.wall(named?));
            if let Some(wall) = wall {
                of_wall(case, wall, &mut kinds);
            }
        }
    }
    kinds
}

fn put(what: &str, wall: Wall) -> Edit {
    let label = format!("{what} of wall {}", wall.name);
    Edit::Several(label, vec![Edit::PutWall(Arc::new(wall))])
}

fn of_wall(case: &Case, wall: &Arc<Wall>, kinds: &mut Vec<Vec<Try>>) {
    let Some(laid) = case.layout.wall(&wall.name) else { return };
    if case.is(&[Code::CentresTooWide, Code::CentresOffBoard]) {
        let feet = board_width(laid.spec.centres) != board_width(CENTRES[0][0]);
        let closer = CENTRES[usize::from(feet)].iter().map(|&centres| {
            let changed = Wall { centres: Some(centres), ..Wall::clone(wall) };
            let label = format!("Put its studs at {} centres", case.length(centres));
            Try::new(label, put("change the centres", changed))
        });
        kinds.push(closer.collect());
    }
    if case.is(&[Code::JointAtCorner, Code::StudPacked, Code::StudDropped, Code::JointBare]) {
        let mut bays = vec![OddBay::AtEnd, OddBay::AtStart, OddBay::Split];
        bays.extend(wall.openings.iter().map(|o| OddBay::Beside(o.name.clone())));
        bays.retain(|bay| *bay != wall.odd_bay);
        let moved = bays.into_iter().map(|odd_bay| {
            let label = format!("Put the odd bay {}", odd_bay.label());
            let changed = Wall { odd_bay, ..Wall::clone(wall) };
            Try::new(label, put("change the odd bay", changed))
        });
        kinds.push(moved.collect());
    }
    if let (true, Some(height)) = (case.is(&[Code::BoardEdgeBare]), case.snag.height) {
        let mut rules = rules_of(case, wall);
        rules.push(RowRule::at(height));
        let edit = Edit::SetRows { wall: wall.name.clone(), rows: Some(Rows::By(rules)) };
        let label = format!("Add a row of noggins at {}", case.length(height));
        kinds.push(vec![Try::new(label, edit)]);
    }
    if case.is(&[Code::GridNotCarried]) {
        let changed = Wall { grid_from: GridFrom::FrameEnd, ..Wall::clone(wall) };
        let label = "Count its centres from the end of its frame";
        kinds.push(vec![Try::new(label, put("change the grid", changed))]);
    }
    if case.is(&[Code::ShiftLost]) {
        let near = |mark: f64| case.snag.station.is_some_and(|s| (s - mark).abs() < 0.5);
        let mut shifts = wall.shifts.clone();
        shifts.retain(|s| !near(s.mark));
        let edit = Edit::SetShifts { wall: wall.name.clone(), shifts };
        kinds.push(vec![Try::new("Take the shift away", edit)]);
    }
}

/// The rules the rows of a wall go by.
fn rules_of(case: &Case, wall: &Wall) -> Vec<RowRule> {
    let makeup = case.job.makeup(&wall.makeup);
    let rows = wall.noggin_rows.as_ref().or(makeup.map(|m| &m.noggins.rows));
    match rows {
        Some(Rows::By(rules)) => rules.clone(),
        Some(Rows::At(heights)) => heights.iter().map(|z| RowRule::at(*z)).collect(),
        Some(Rows::Auto) | None => {
            makeup.map(|m| RowRule::new(RowPlace::Apart(m.noggins.apart))).into_iter().collect()
        }
    }
}

/// The row a little lower, and a little higher.
fn rows(case: &Case, wall: &Name, row: usize) -> Vec<Vec<Try>> {
    let Some(laid) = case.layout.wall(wall) else { return Vec::new() };
    let Some(held) = laid.frame.rows.get(row) else { return Vec::new() };
    let moved = |by: f64| {
        let mut rules = own_rules(&laid.frame.rows, Some(row));
        rules.push(held.raised_to(held.height + by));
        let edit = Edit::SetRows { wall: wall.clone(), rows: Some(Rows::own(rules)) };
        let way = if by < 0.0 { "lower" } else { "higher" };
        Try::new(format!("Lay the row {} {way}", case.length(by.abs())), edit)
    };
    [-1.0, 1.0].map(|sign| STEPS.iter().map(|step| moved(step * sign)).collect()).into()
}

/// The usual lengths of every section that has none.
fn stock(case: &Case) -> Vec<Vec<Try>> {
    let mut stock = case.job.stock.clone();
    let mut named: Vec<String> = Vec::new();
    for total in case.layout.framed().flat_map(|p| &p.frame().totals) {
        if total.timber.is_ply() || stock.iter().any(|s| s.timber == total.timber) {
            continue;
        }
        named.push(total.timber.size_in(case.job.units));
        let timber = &total.timber;
        stock.extend(LENGTHS.map(|length| Stock::new(timber.clone(), length)));
    }
    let label = format!("Put the usual lengths of {} in the timber list", named.join(", "));
    vec![vec![Try::new(label, Edit::SetStock(stock))]]
}
