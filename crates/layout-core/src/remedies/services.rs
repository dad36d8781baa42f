//! For what is on a wall or runs through it: move it clear, shift the stud, head the stud off, hang it on the board,
//! run it elsewhere.

use super::{Case, Try};
use crate::document::{Behind, Edit, Fitting, Hung, Point, Route, Shift, Wall};
use crate::frame::{BESIDE_BOX, Member, Role};
use crate::id::ItemRef;
use crate::layout::WallLayout;
use crate::math::{LEAST_PIECE, SAME, same};
use crate::resolve::Spot;
use crate::snag::Code;
use crate::span::Span;

/// A stud is shifted by no more than this. Common practice: beyond it the next bay wants a stud of its own.
const MOST_SHIFT: f64 = 120.0;
/// Studs a shift may not do without, and board edges it may not leave bare.
const KEEPS: &[Code] = &[
    Code::StudAdded,
    Code::ShiftLost,
    Code::StudPacked,
    Code::BoardEdgeBare,
    Code::JointBare,
    Code::JointAtCorner,
];
/// How far into the zone along the top of a wall a cable is laid, mm: half of it.
const UNDER_TOP: f64 = 75.0;

pub(super) fn kinds(case: &Case) -> Vec<Vec<Try>> {
    let mut kinds = Vec::new();
    match &case.snag.of {
        ItemRef::Point(name) => {
            let Some((wall, point)) = case.job.point(name) else { return kinds };
            let Some(laid) = case.layout.wall(&wall.name) else { return kinds };
            let Some(spot) = laid.spec.spot(&case.snag.of) else { return kinds };
            of_point(case, &On { wall, laid, spot }, point, &mut kinds);
        }
        ItemRef::Route(name) => {
            if let Some((wall, route)) = case.job.route(name)
                && let Some(laid) = case.layout.wall(&wall.name)
            {
                of_route(case, wall, laid, route, &mut kinds);
            }
        }
        ItemRef::Fitting(name) => {
            if let Some((wall, fitting)) = case.job.fitting(name) {
                of_fitting(case, wall, fitting, &mut kinds);
            }
        }
        _ => {}
    }
    kinds
}

/// A point on its wall.
struct On<'a> {
    wall: &'a Wall,
    laid: &'a WallLayout,
    spot: &'a Spot,
}

fn of_point(case: &Case, on: &On, point: &Point, kinds: &mut Vec<Vec<Try>>) {
    let wall = &on.wall.name;
    let put =
        |what: &str, point: Point| case.step(what, Edit::PutPoint { wall: wall.clone(), point });
    let in_the_way = [
        Code::PointInStud,
        Code::PointsClash,
        Code::PointAtOpening,
        Code::RouteBlocked,
        Code::MissingPattress,
        Code::OutsideWall,
        Code::ArchitraveFouled,
        Code::NotHeaded,
    ];
    if case.is(&in_the_way) {
        for side in clear_places(on) {
            let moves = side.into_iter().map(|by| {
                let moved =
                    Point { distance: point.distance + by * point.from.way(), ..point.clone() };
                let label = format!("Move it {} {}", case.length(by.abs()), Case::towards(by));
                Try::new(label, put("move", moved))
            });
            kinds.push(moves.collect());
        }
    }
    if case.is(&[Code::PointInStud]) {
        if let Some(stud) = stud_behind(on) {
            kinds.extend(shifts(case, on, stud));
        }
        let headed = Point { headed: true, ..point.clone() };
        let label = "Cut the stud out behind it, between two trimmers";
        kinds.push(vec![Try::new(label, put("head a stud off for", headed))]);
    }
    if case.is(&[Code::MissingPattress]) && point.kind.is_box() {
        let board = Point { hung: Hung::Board, ..point.clone() };
        kinds.push(vec![Try::new("Hang it on the board, a box with lugs", put("hang", board))]);
    }
    if case.is(&[Code::NotHeaded]) {
        let stands = Point { headed: false, ..point.clone() };
        kinds.push(vec![Try::new("Let the stud stand", put("let the stud stand behind", stands))]);
    }
    if let (true, Some(limit)) = (case.is(&[Code::OutsideHeights]), case.snag.limit) {
        let moved = Point { height: limit, ..point.clone() };
        let label = format!("Put its centre at {}", case.length(limit));
        kinds.push(vec![Try::new(label, put("move", moved))]);
    }
    if case.is(&[Code::HoleTooWide, Code::RouteBlocked]) && point.feed.is_some() {
        let without = Point { feed: None, ..point.clone() };
        let label = "Feed it another way: take its straight feed away";
        kinds.push(vec![Try::new(label, put("change the feed of", without))]);
    }
}

/// Everything upright beside a point at its heights.
fn uprights<'a>(on: &'a On<'_>) -> impl Iterator<Item = &'a Member> {
    on.laid.frame.members.iter().filter(|m| {
        let (s, z) = (m.solid.stations(), m.solid.heights());
        !m.role.is_plate() && z.length() > s.length() && z.overlaps(on.spot.heights)
    })
}

/// How far to move a point so that nothing is in its way: towards the start and towards the end, the nearest first.
fn clear_places(on: &On) -> [Vec<f64>; 2] {
    let (spec, spot) = (&on.laid.spec, on.spot);
    let half = spot.span.length() / 2.0;
    let stands = uprights(on).map(|m| m.solid.stations());
    let others = spec.spots.iter().filter(|s| s.sunk && s.of != spot.of);
    let boxes = others.filter(|s| s.heights.overlaps(spot.heights)).map(|s| s.span);
    let holes = spec.holes.iter().filter(|h| {
        Span { low: h.sill.unwrap_or(f64::NEG_INFINITY), high: h.top }.overlaps(spot.heights)
    });
    let room = half + BESIDE_BOX;
    let taken: Vec<Span> =
        stands.chain(boxes).chain(holes.map(|h| h.span)).map(|s| s.grown(room)).collect();
    let centre = spot.span.centre();
    let mut ways: [Vec<f64>; 2] = Default::default();
    for free in spec.along().grown(-room).without(&taken) {
        let (low, high) = (free.low.ceil(), free.high.floor());
        if high < low {
            continue;
        }
        let to = centre.clamp(low, high);
        // Whole millimetres from where it is, and never back into what it was moved off.
        let by = if to < centre {
            (to - centre).floor().max(low - centre)
        } else {
            (to - centre).ceil().min(high - centre)
        };
        if by.abs() > SAME {
            ways[usize::from(by > 0.0)].push(by);
        }
    }
    ways[0].sort_by(|a, b| b.total_cmp(a));
    ways[1].sort_by(f64::total_cmp);
    for way in &mut ways {
        way.truncate(4);
    }
    ways
}

/// The common stud a point stands in.
fn stud_behind<'a>(on: &'a On<'_>) -> Option<&'a Member> {
    let needs = on.spot.span.grown(BESIDE_BOX);
    let mut hit = uprights(on).filter(|m| m.solid.stations().overlaps(needs));
    let first = hit.next()?;
    (first.role == Role::Stud && hit.next().is_none()).then_some(first)
}

/// The stud moved clear to either side, the shorter way first.
fn shifts(case: &Case, on: &On, stud: &Member) -> Vec<Vec<Try>> {
    let (needs, at) = (on.spot.span.grown(BESIDE_BOX), stud.solid.stations());
    let mut ways = [(needs.low - at.high).floor(), (needs.high - at.low).ceil()];
    ways.sort_by(|a, b| a.abs().total_cmp(&b.abs()));
    let shift = |by: f64| {
        let mut shifts = on.wall.shifts.clone();
        let own = shifts.iter_mut().find(|s| same(s.mark + s.by, at.centre()));
        match own {
            Some(own) => own.by += by,
            None => shifts.push(Shift { mark: at.centre(), by }),
        }
        let edit = Edit::SetShifts { wall: on.wall.name.clone(), shifts };
        let label = format!("Shift the stud {} {}", case.length(by.abs()), Case::towards(by));
        Try { label, edit: case.step("shift the stud behind", edit), without: KEEPS }
    };
    ways.into_iter().filter(|by| by.abs() <= MOST_SHIFT).map(|by| vec![shift(by)]).collect()
}

fn of_route(case: &Case, wall: &Wall, laid: &WallLayout, route: &Route, kinds: &mut Vec<Vec<Try>>) {
    let put = |what: &str, route: Route| {
        case.step(what, Edit::PutRoute { wall: wall.name.clone(), route })
    };
    let at = |height: f64, words: String| {
        let moved = Route { height, ..route.clone() };
        Try::new(words, put("move", moved))
    };
    if case.is(&[Code::CableOutsideZone, Code::RouteBlocked]) {
        let along = laid.spec.spots.iter().filter(|s| s.sunk);
        let level: Vec<Try> = along
            .filter(|s| matches!(&s.of, ItemRef::Point(name) if route.points.contains(name)))
            .map(|s| {
                let z = s.heights.centre();
                at(z, format!("Run it level with {}, at {}", s.called(), case.length(z)))
            })
            .collect();
        kinds.push(level);
        let span = laid.spec.along();
        let top = (laid.spec.head.range(span).low - UNDER_TOP).round();
        kinds.push(vec![at(top, format!("Run it along the top, at {}", case.length(top)))]);
    }
    if case.is(&[Code::NotchTooDeep]) {
        let drilled = Route { notched: None, ..route.clone() };
        let label = "Drill the middle of the studs instead";
        kinds.push(vec![Try::new(label, put("drill for", drilled))]);
    }
}

fn of_fitting(case: &Case, wall: &Wall, fitting: &Fitting, kinds: &mut Vec<Vec<Try>>) {
    let put = |what: &str, fitting: Fitting| {
        case.step(what, Edit::PutFitting { wall: wall.name.clone(), fitting })
    };
    if case.is(&[Code::MissingPattress]) {
        let wider = [60.0, 80.0, 100.0, 150.0].into_iter().filter(|t| *t > fitting.tolerance);
        let allow = wider.map(|tolerance| {
            let label = format!("Let the timber lie up to {} off", case.length(tolerance));
            Try::new(label, put("allow more for", Fitting { tolerance, ..fitting.clone() }))
        });
        kinds.push(allow.collect());
        if fitting.behind == Behind::Noggin {
            let ply = Fitting { behind: Behind::USUAL_PLY, ..fitting.clone() };
            kinds.push(vec![Try::new("Put ply behind it", put("put ply behind", ply))]);
        }
    }
    let in_the_way = [
        Code::MissingPattress,
        Code::OutsideWall,
        Code::FixingInZone,
        Code::SwingFouled,
        Code::ArchitraveFouled,
    ];
    if case.is(&in_the_way) {
        for sign in [-1.0, 1.0] {
            let moves = super::openings::STEPS.into_iter().map(|step| {
                let by = step * sign;
                let distance = fitting.distance + by * fitting.from.way();
                let label = format!("Move it {} {}", case.length(step), Case::towards(by));
                Try::new(label, put("move", Fitting { distance, ..fitting.clone() }))
            });
            kinds.push(moves.collect());
        }
    }
    if let (true, Some(over)) = (case.is(&[Code::OutsideWall]), case.snag.value)
        && over > LEAST_PIECE
        && fitting.width - over > LEAST_PIECE
    {
        let width = (fitting.width - over).floor();
        let label = format!("Make it {} wide", case.length(width));
        kinds.push(vec![Try::new(label, put("change", Fitting { width, ..fitting.clone() }))]);
    }
}
