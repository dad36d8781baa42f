//! Laws of symmetry: where a plan lies, which way it is turned or looked at, and the order things
//! were drawn in, change nothing but names.

use std::sync::Arc;

use layout_core::document::{
    Door, EndRule, Face, Head, Hinge, Job, Line, MeasuredFrom, NogginLay, NogginSet, OddBay,
    OpeningKind, RowRule, Rows, Sole, Wall, WallEnd,
};
use layout_core::frame::Role;
use layout_core::layout::{Layout, WallLayout};
use layout_core::math::PlanPoint;
use layout_core::snag::{Code, Snag};

use super::{NEAR, bounds, called, law};

/// Puts every plan position of a job through `f`.
fn replaced(job: &Job, f: impl Fn(PlanPoint) -> PlanPoint) -> Job {
    let mut job = job.clone();
    job.datum.at = f(job.datum.at);
    job.nodes.iter_mut().for_each(|n| n.at = f(n.at));
    job.shell.outline.iter_mut().for_each(|c| c.at = f(c.at));
    job.shell.posts.iter_mut().for_each(|p| p.at = f(p.at));
    job
}

/// A piece's role and its six bounds, to compare by.
type Piece = (Role, [f64; 6]);

fn piece_list(w: &WallLayout, place: impl Fn(f64, f64) -> (f64, f64)) -> Vec<Piece> {
    let mut list: Vec<Piece> = w
        .frame
        .members
        .iter()
        .map(|m| {
            let [x, y, z] = bounds(m);
            let (a, b) = (place(x.low, y.low), place(x.high, y.high));
            let low = [a.0.min(b.0), a.1.min(b.1), z.low];
            let high = [a.0.max(b.0), a.1.max(b.1), z.high];
            (m.role, [low[0], low[1], low[2], high[0], high[1], high[2]])
        })
        .collect();
    let key = |v: f64| (v * 10.0).round() as i64;
    list.sort_by_key(|(role, b)| (b.map(key), *role));
    list
}

/// The first piece that one list has and the other has not.
fn difference(wanted: &[Piece], got: &[Piece]) -> Option<String> {
    let alike = |a: &Piece, b: &Piece| {
        a.0 == b.0 && a.1.iter().zip(&b.1).all(|(p, q)| (p - q).abs() < NEAR)
    };
    let odd = |these: &[Piece], those: &[Piece]| {
        these.iter().find(|a| !those.iter().any(|b| alike(a, b))).copied()
    };
    let show =
        |p: Option<Piece>| p.map_or("nothing".into(), |(r, b)| format!("{} {:.1?}", r.label(), b));
    let (a, b) = (odd(wanted, got), odd(got, wanted));
    (a.is_some() || b.is_some() || wanted.len() != got.len())
        .then(|| format!("only there {}, only here {}", show(a), show(b)))
}

fn compare(
    one: &Layout,
    other: &Layout,
    place: impl Fn(&WallLayout, f64, f64) -> (f64, f64),
) -> Vec<String> {
    if one.walls.len() != other.walls.len() {
        return vec![format!("{} walls against {}", one.walls.len(), other.walls.len())];
    }
    one.walls
        .iter()
        .filter_map(|w| {
            let Some(v) = other.wall(w.name()) else {
                return Some(format!("wall {} lost", w.name()));
            };
            let wanted = piece_list(w, |s, n| place(w, s, n));
            let got = piece_list(v, |s, n| (s, n));
            difference(&wanted, &got).map(|d| format!("wall {}: {d}", w.name()))
        })
        .collect()
}

#[test]
fn a_plan_moved_or_turned_has_the_same_frames() {
    law("a plan moved or turned has the same frames", |job, layout| {
        let (sin, cos) = 0.3_f64.sin_cos();
        let turned = replaced(job, |p| {
            PlanPoint::new(p.x * cos - p.y * sin + 12_345.6, p.x * sin + p.y * cos - 789.0)
        });
        compare(layout, &Layout::of(&turned), |_, s, n| (s, n))
    });
}

/// A make-up or wall with left and right changed over.
fn turn_over(job: &mut Job) {
    for m in &mut job.makeups {
        let m = Arc::make_mut(m);
        std::mem::swap(&mut m.left, &mut m.right);
        let other = |lay: &mut NogginLay| {
            *lay = match *lay {
                NogginLay::FlatLeft => NogginLay::FlatRight,
                NogginLay::FlatRight => NogginLay::FlatLeft,
                NogginLay::OnEdge => NogginLay::OnEdge,
            }
        };
        other(&mut m.noggins.lay);
        if let Rows::By(rules) = &mut m.noggins.rows {
            rules.iter_mut().filter_map(|r| r.lay.as_mut()).for_each(other);
        }
    }
    for w in &mut job.walls {
        let w = Arc::make_mut(w);
        w.line = match w.line {
            Line::LeftFace => Line::RightFace,
            Line::RightFace => Line::LeftFace,
            Line::LeftFinished => Line::RightFinished,
            Line::RightFinished => Line::LeftFinished,
            Line::Centre => Line::Centre,
        };
        let over = |f: &mut Face| *f = if *f == Face::Left { Face::Right } else { Face::Left };
        w.points.iter_mut().for_each(|p| over(&mut p.face));
        w.fittings.iter_mut().for_each(|f| over(&mut f.face));
        w.routes.iter_mut().filter_map(|r| r.notched.as_mut()).for_each(over);
        doors(w).for_each(|d| over(&mut d.opens));
    }
}

fn doors(wall: &mut Wall) -> impl Iterator<Item = &mut Door> {
    wall.openings.iter_mut().filter_map(|o| match &mut o.kind {
        OpeningKind::Door(door) => Some(door),
        _ => None,
    })
}

#[test]
fn a_mirrored_plan_has_mirrored_frames() {
    law("a mirrored plan has mirrored frames", |job, layout| {
        let mut mirrored = replaced(job, |p| PlanPoint::new(-p.x, p.y));
        turn_over(&mut mirrored);
        mirrored.shell.outline.reverse();
        compare(layout, &Layout::of(&mirrored), |_, s, n| (s, -n))
    });
}

fn other_end(end: WallEnd) -> WallEnd {
    match end {
        WallEnd::Start => WallEnd::End,
        WallEnd::End => WallEnd::Start,
    }
}

/// What a point is measured from, in the same wall drawn from its end to its start.
fn backwards_from(from: &mut MeasuredFrom, distance: &mut f64) {
    match from {
        MeasuredFrom::Start => *from = MeasuredFrom::End,
        MeasuredFrom::End => *from = MeasuredFrom::Start,
        MeasuredFrom::Corner(end) | MeasuredFrom::Opening(_, end) => *end = other_end(*end),
        MeasuredFrom::Point(_) => *distance = -*distance,
    }
}

#[test]
fn a_plan_drawn_backwards_has_the_same_frames_backwards() {
    // Splices are made and staggered noggins are counted from the start of a wall, wherever that is.
    let plain = |job: &Job| {
        let mut job = job.clone();
        job.stock.clear();
        // A shifted stud is known by its mark from the start.
        job.walls.iter_mut().for_each(|w| Arc::make_mut(w).shifts.clear());
        for m in &mut job.makeups {
            let noggins = &mut Arc::make_mut(m).noggins;
            noggins.set = NogginSet::InLine;
            // A part of the wall is said from its start, whichever way it was drawn.
            if let Rows::By(rules) = &mut noggins.rows {
                rules.iter_mut().for_each(|r| {
                    *r = RowRule { from: None, to: None, ..r.clone() };
                });
            }
        }
        job
    };
    law("walls drawn from end to start have the same frames", |job, _| {
        let mut backwards = plain(job);
        turn_over(&mut backwards);
        for w in &mut backwards.walls {
            let w = Arc::make_mut(w);
            std::mem::swap(&mut w.from, &mut w.to);
            std::mem::swap(&mut w.at_from, &mut w.at_to);
            std::mem::swap(&mut w.boarded_from, &mut w.boarded_to);
            w.odd_bay = match &w.odd_bay {
                OddBay::AtEnd => OddBay::AtStart,
                OddBay::AtStart => OddBay::AtEnd,
                other => other.clone(),
            };
            w.openings.iter_mut().for_each(|o| o.hold.from = other_end(o.hold.from));
            w.points.iter_mut().for_each(|p| backwards_from(&mut p.from, &mut p.distance));
            w.fittings.iter_mut().for_each(|f| backwards_from(&mut f.from, &mut f.distance));
            w.routes.iter_mut().for_each(|r| r.past = (r.past.1, r.past.0));
            doors(w).for_each(|d| {
                d.hinge = if d.hinge == Hinge::Start { Hinge::End } else { Hinge::Start };
            });
        }
        let layout = Layout::of(&plain(job));
        // Of two openings that clash, the one nearer the start is framed; and the centres that meet
        // beside an opening run on from the start.
        if job.walls.iter().any(|w| matches!(w.odd_bay, OddBay::Beside(_))) {
            return Vec::new();
        }
        let clash = |s: &Snag| matches!(s.code, Code::OpeningsClash | Code::OpeningNoStud);
        if layout.snags.iter().any(clash) {
            return Vec::new();
        }
        compare(&layout, &Layout::of(&backwards), |w, s, n| (w.spec.length - s, -n))
    });
}

#[test]
fn the_order_of_the_walls_decides_nothing_that_was_said() {
    law("the order of walls, nodes and openings changes no timber", |job, layout| {
        let mut shuffled = job.clone();
        shuffled.walls.reverse();
        shuffled.nodes.reverse();
        shuffled.makeups.reverse();
        shuffled.stock.reverse();
        for w in &mut shuffled.walls {
            Arc::make_mut(w).openings.reverse();
        }
        assert!(job.walls.iter().all(|w| w.at_from != EndRule::Auto));
        compare(layout, &Layout::of(&shuffled), |_, s, n| (s, n))
    });
}

#[test]
fn a_wall_said_in_full_equals_one_that_leaves_it_to_its_make_up() {
    law("what a wall takes from its make-up it may say itself", |job, layout| {
        let mut said = job.clone();
        for w in &mut said.walls {
            let Some(m) = job.makeup(&w.makeup).cloned() else { continue };
            let w: &mut Wall = Arc::make_mut(w);
            w.centres = Some(m.centres);
            w.head = Some(Head::clone(&m.head));
            w.sole = Some(Sole::clone(&m.sole));
            w.noggin_rows = Some(m.noggins.rows.clone());
        }
        compare(layout, &Layout::of(&said), |_, s, n| (s, n))
    });
}

#[test]
fn a_hold_says_the_same_from_either_end() {
    law("an opening held from the other end stays where it is", |job, layout| {
        let mut held = job.clone();
        for w in &mut held.walls {
            let Some(length) = layout.wall(&w.name).map(|l| l.spec.length) else { continue };
            for o in &mut Arc::make_mut(w).openings {
                let width = o.kind.width();
                let left = o.hold.left_edge(width, length);
                o.hold.from = other_end(o.hold.from);
                o.hold = o.hold.with_left_edge(left, width, length);
            }
        }
        compare(layout, &Layout::of(&held), |_, s, n| (s, n))
    });
}

#[test]
fn the_same_job_twice_gives_the_same_bytes() {
    law("the same job twice gives the same bytes", |job, layout| {
        let again = Layout::of(&job.clone());
        let (one, two) = (format!("{layout:?}"), format!("{again:?}"));
        if one == two { Vec::new() } else { vec!["they differ".into()] }
    });
}

#[test]
fn every_upright_can_be_found_by_its_running_mark() {
    law("running marks rise and stand where the timber is", |_, layout| {
        let mut wrong = Vec::new();
        for w in &layout.walls {
            let marks = w.frame.running(&w.spec);
            if !marks.is_sorted_by(|a, b| a.at <= b.at) {
                wrong.push(format!("{}: marks out of order", w.name()));
            }
            for mark in marks {
                let there = w.member(mark.member);
                let at = w.spec.along().low + mark.at;
                if !there.is_some_and(|m| (bounds(m)[0].low - at).abs() < NEAR) {
                    wrong.push(there.map_or("no piece".into(), |m| called(w, m)));
                }
            }
        }
        wrong
    });
}
