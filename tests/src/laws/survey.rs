//! Laws of the measured room: what was measured without error comes out without error, the order of
//! the lines does not matter, and a gross error is found where the others check it.

use layout_core::document::{Edit, Face, Job, Measured, Measurement, Survey, Wall};
use layout_core::math::{PlanPoint, PlanVector, cross};
use layout_core::survey::{Solved, plan_of, solve};

use crate::random::Random;

/// How much of a room is measured.
#[derive(Clone, Copy, PartialEq)]
enum How {
    /// Every corner from every other.
    All,
    /// Sides and as many diagonals as hold and check it, with offsets and a square corner where there are any.
    Enough,
}

/// A room of four to eight corners round its middle, none of them nearly straight.
fn room(r: &mut Random) -> Vec<PlanPoint> {
    loop {
        let n = 4 + r.below(5);
        let corners: Vec<PlanPoint> = (0..n)
            .map(|i| {
                let turn =
                    std::f64::consts::TAU * (i as f64 + r.mm(-300.0, 300.0) / 1000.0) / n as f64;
                let far = r.mm(2000.0, 4000.0);
                PlanPoint::new(far * turn.cos(), far * turn.sin())
            })
            .collect();
        let bends = (0..n).all(|i| {
            let (a, b) = (corners[i] - corners[(i + n - 1) % n], corners[(i + 1) % n] - corners[i]);
            cross(a, b).abs() > 0.15 * a.norm() * b.norm() && a.norm() > 300.0
        });
        if bends {
            return corners;
        }
    }
}

fn names(n: usize) -> Vec<layout_core::id::Name> {
    (1..=n).map(|i| i.to_string().as_str().into()).collect()
}

fn measured(corners: &[PlanPoint], how: How, r: &mut Random) -> Survey {
    let n = corners.len();
    let names = names(n);
    let line = |what, value| Measurement { value: Some(value), ..Measurement::of(what) };
    let between = |a: usize, b: usize| {
        let what = Measured::Between { from: names[a].clone(), to: names[b].clone() };
        line(what, (corners[b] - corners[a]).norm())
    };
    if how == How::All {
        let rows = (0..n).flat_map(|a| (a + 1..n).map(move |b| (a, b)));
        let rows = rows.map(|(a, b)| between(a, b)).collect();
        return Survey { corners: names, rows };
    }
    let mut survey = plan_of(corners);
    for row in &mut survey.rows {
        if let Measured::Between { from, to } = &row.what {
            let (a, b) = (survey.corners.iter(), survey.corners.iter());
            let a = a.clone().position(|c| c == from).expect("a corner");
            let b = b.clone().position(|c| c == to).expect("a corner");
            row.value = Some((corners[b] - corners[a]).norm());
        }
    }
    let (a, c) = (r.below(n), r.below(n));
    let b = (a + 1) % n;
    if c != a && c != b {
        let u = (corners[b] - corners[a]).normalize();
        let off = cross(u, corners[c] - corners[a]);
        let side = if off < 0.0 { Face::Right } else { Face::Left };
        let [from, to, corner] = [a, b, c].map(|i| names[i].clone());
        survey.rows.push(line(Measured::Offset { corner, from, to, side }, off.abs()));
    }
    survey
}

/// The room as it might be drawn by eye: every corner up to 150 off.
fn by_eye(corners: &[PlanPoint], r: &mut Random) -> Vec<PlanPoint> {
    let mut off = || r.mm(-150.0, 150.0);
    corners.iter().map(|p| p + PlanVector::new(off(), off())).collect()
}

fn solved(survey: &Survey, rough: &[PlanPoint]) -> Solved {
    solve(survey, rough, PlanPoint::origin()).expect("it has corners")
}

/// The largest difference of the distances between corners.
fn unlike(a: &[PlanPoint], b: &[PlanPoint]) -> f64 {
    let pairs = (0..a.len()).flat_map(|i| (i + 1..a.len()).map(move |j| (i, j)));
    pairs.map(|(i, j)| ((a[j] - a[i]).norm() - (b[j] - b[i]).norm()).abs()).fold(0.0, f64::max)
}

#[test]
fn what_is_measured_without_error_comes_out_without_error() {
    for seed in 0..super::tries() {
        let mut r = Random::new(seed);
        let corners = room(&mut r);
        for how in [How::All, How::Enough] {
            let survey = measured(&corners, how, &mut r);
            let rough = by_eye(&corners, &mut r);
            let got = solved(&survey, &rough);
            let worst =
                got.readings.iter().filter_map(|x| x.residual).fold(0.0, |w, x| x.abs().max(w));
            assert!(worst < 1e-6, "seed {seed}: a residual of {worst:e}");
            assert!(got.closes && got.freedom == 0 && got.redundancy > 0, "seed {seed}: {got:?}");
            let off = unlike(&got.outline(), &corners);
            assert!(off < 1e-4, "seed {seed}: a distance is off by {off:e}");
            assert!((got.outline()[got.held] - rough[got.held]).norm() < 1e-9, "seed {seed}");
        }
    }
}

#[test]
fn the_order_of_the_lines_does_not_matter() {
    for seed in 0..super::tries() {
        let mut r = Random::new(seed);
        let corners = room(&mut r);
        let mut survey = measured(&corners, How::All, &mut r);
        for row in &mut survey.rows {
            row.value = row.value.map(|v| v + r.mm(-6.0, 6.0));
        }
        let rough = by_eye(&corners, &mut r);
        let before = solved(&survey, &rough);
        for _ in 0..survey.rows.len() {
            let (i, j) = (r.below(survey.rows.len()), r.below(survey.rows.len()));
            survey.rows.swap(i, j);
        }
        let after = solved(&survey, &rough);
        for (a, b) in before.corners.iter().zip(&after.corners) {
            let moved = (a.at - b.at).norm();
            assert!(moved < 1e-6, "seed {seed}: corner {} moved by {moved:e}", a.name);
        }
        assert_eq!((before.freedom, before.closes), (after.freedom, after.closes), "seed {seed}");
    }
}

#[test]
fn a_gross_error_of_50_mm_is_named_where_the_others_check_it() {
    let (mut tried, mut named) = (0, 0);
    for seed in 0..super::tries() {
        let mut r = Random::new(seed);
        let corners = room(&mut r);
        if corners.len() < 5 {
            continue;
        }
        let mut survey = measured(&corners, How::All, &mut r);
        for row in &mut survey.rows {
            row.value = row.value.map(|v| v + r.mm(-2.0, 2.0));
        }
        let wrong = r.below(survey.rows.len());
        // A measurement the others hardly check cannot be found out; that it is so is said.
        let good = solved(&survey, &corners);
        if good.readings[wrong].checked < 0.2 {
            continue;
        }
        survey.rows[wrong].value = survey.rows[wrong].value.map(|v| v + 50.0);
        let got = solved(&survey, &corners);
        tried += 1;
        named += usize::from(got.suspect() == Some(wrong));
        assert!(!got.closes, "seed {seed}: 50 mm in {wrong} is not noticed");
        assert!(
            got.suspects.contains(&wrong) || corners.len() == 5,
            "seed {seed}: {:?}",
            got.suspects
        );
    }
    assert!(tried > 100 && named * 100 >= tried * 97, "{named} of {tried} named");
}

#[test]
fn a_room_drawn_as_in_a_mirror_or_not_at_all_is_solved_all_the_same() {
    let mut lost = Vec::new();
    for seed in 0..super::tries() / 4 {
        let mut r = Random::new(seed);
        let corners = room(&mut r);
        let mirrored: Vec<PlanPoint> = corners.iter().map(|p| PlanPoint::new(-p.x, p.y)).collect();
        let all = measured(&corners, How::All, &mut r);
        let enough = measured(&corners, How::Enough, &mut r);
        assert!(solved(&all, &[]).closes, "seed {seed}: every tape pulled and nothing drawn");
        assert!(solved(&enough, &mirrored).closes, "seed {seed}: drawn as in a mirror");
        // With few tapes and no drawing a corner may be taken for its image in a diagonal.
        if !solved(&enough, &[]).closes {
            lost.push(seed);
        }
    }
    assert!(lost.len() as u64 * 50 <= super::tries() / 4, "not solved without a drawing: {lost:?}");
}

#[test]
fn a_wrong_side_of_an_offset_does_not_turn_the_room_over() {
    for seed in 0..super::tries() / 4 {
        let mut r = Random::new(seed);
        let corners = room(&mut r);
        let mut survey = measured(&corners, How::All, &mut r);
        let [from, to, corner] = [0, 1, 2].map(|i| survey.corners[i].clone());
        let left = cross((corners[1] - corners[0]).normalize(), corners[2] - corners[0]);
        let (off, wrong) = (left.abs(), if left > 0.0 { Face::Right } else { Face::Left });
        let what = Measured::Offset { corner, from, to, side: wrong };
        survey.rows.push(Measurement { value: Some(off), ..Measurement::of(what) });
        let rough = by_eye(&corners, &mut r);
        let got = solved(&survey, &rough);
        let n = corners.len();
        let area: f64 = (0..n)
            .map(|i| {
                let (p, q) = (got.corners[i].at, got.corners[(i + 1) % n].at);
                p.x * q.y - q.x * p.y
            })
            .sum();
        assert!(area > 0.0 && !got.closes, "seed {seed}");
    }
}

#[test]
fn nonsense_gives_a_shape_and_no_panic() {
    let values = [0.0, 1.0, 1e9, f64::NAN, f64::INFINITY, -5.0, 4000.0];
    for seed in 0..super::tries() {
        let mut r = Random::new(seed);
        let n = 3 + r.below(6);
        let corners = names(n);
        let one = |r: &mut Random| corners[r.below(n)].clone();
        let rows = (0..r.below(3 * n))
            .map(|_| {
                let what = match r.below(4) {
                    0 => Measured::Square { corner: one(&mut r) },
                    1 => Measured::Offset {
                        corner: one(&mut r),
                        from: one(&mut r),
                        to: one(&mut r),
                        side: r.pick(&[Face::Left, Face::Right]),
                    },
                    _ => Measured::Between { from: one(&mut r), to: one(&mut r) },
                };
                let error = r.pick(&[3.0, 0.1, 0.0, f64::NAN, 100.0]);
                Measurement { value: Some(r.pick(&values)), error, what }
            })
            .collect();
        let survey = Survey { corners: corners.clone(), rows };
        let at = |r: &mut Random| r.pick(&[0.0, 0.0, 1000.0, 4000.0, 1e7]);
        let rough: Vec<PlanPoint> =
            (0..n).map(|_| PlanPoint::new(at(&mut r), at(&mut r))).collect();
        let got = solved(&survey, &rough);
        let all = got.outline().iter().all(|p| p.x.is_finite() && p.y.is_finite());
        assert!(all, "seed {seed}: {:?}", got.outline());
        let mut job = Job::default();
        job.shell.survey = survey;
        let _ = layout_core::layout::Layout::of(&job);
    }
}

#[test]
fn exact_rooms_come_out_exactly() {
    // Pythagoras, computed: 3-4-5 and 5-12-13, an L of two rectangles.
    let rooms: [&[(f64, f64)]; 4] = [
        &[(0.0, 0.0), (4000.0, 0.0), (4000.0, 3000.0), (0.0, 3000.0)],
        &[(0.0, 0.0), (12000.0, 0.0), (12000.0, 5000.0), (0.0, 5000.0)],
        &[(0.0, 0.0), (3000.0, 0.0), (0.0, 4000.0)],
        &[
            (0.0, 0.0),
            (6000.0, 0.0),
            (6000.0, 2500.0),
            (2500.0, 2500.0),
            (2500.0, 6000.0),
            (0.0, 6000.0),
        ],
    ];
    for room in rooms {
        let corners: Vec<PlanPoint> = room.iter().map(|&(x, y)| PlanPoint::new(x, y)).collect();
        let survey = measured(&corners, How::All, &mut Random::new(1));
        for rough in [corners.clone(), by_eye(&corners, &mut Random::new(7)), Vec::new()] {
            let rough: Vec<PlanPoint> = match rough.first() {
                // The datum corner and the direction of its side are the drawing's own.
                Some(_) => rough
                    .iter()
                    .enumerate()
                    .map(|(i, p)| if i < 2 { corners[i] } else { *p })
                    .collect(),
                None => rough,
            };
            let got = solved(&survey, &rough);
            for (got, corner) in got.corners.iter().zip(&corners) {
                let off = (got.at - corner).norm();
                assert!(off < 1e-7, "corner {} of {room:?} is off by {off:e}", got.name);
            }
        }
    }
}

#[test]
fn partitions_square_to_a_side_stay_square_in_the_measured_room() {
    let corner = |(x, y): (f64, f64)| PlanPoint::new(x, y);
    let mut job = Job::default();
    job.shell.outline = [(0.0, 0.0), (6000.0, 0.0), (6000.0, 4000.0), (0.0, 4000.0)]
        .map(|p| layout_core::document::Corner { at: corner(p), thickness: 140.0, gaps: vec![] })
        .to_vec();
    let wall = |name: &str, nodes: [&str; 2], from, to| Edit::AddWall {
        wall: std::sync::Arc::new(Wall::new(name, nodes[0], nodes[1], "Partition 97")),
        from: corner(from),
        to: corner(to),
    };
    // A across the room, B from it to the far side, C from A to B's side of the room, in line with nothing, D splayed.
    for edit in [
        wall("A", ["1", "2"], (0.0, 2500.0), (6000.0, 2500.0)),
        wall("B", ["3", "4"], (3500.0, 2500.0), (3500.0, 4000.0)),
        wall("C", ["5", "6"], (2000.0, 0.0), (2000.0, 2500.0)),
        wall("D", ["7", "8"], (5000.0, 0.0), (6000.0, 1000.0)),
    ] {
        job = edit.apply(&job);
    }
    let direction = |job: &Job, wall: &str| {
        let wall = job.wall(&wall.into()).expect("the wall");
        let at = |n| job.node(n).expect("the node").at;
        (at(&wall.to) - at(&wall.from)).normalize()
    };
    let shape = [(0.0, 0.0), (6020.0, 0.0), (6045.0, 3985.0), (-30.0, 4040.0)].map(corner).to_vec();
    for square_to in 0..4 {
        let fitted = Edit::FitRoom { corners: shape.clone(), square_to }.apply(&job);
        let sides: Vec<PlanVector> =
            fitted.shell.sides().map(|(a, b)| (b - a).normalize()).collect();
        let side = sides[square_to];
        for name in ["A", "B", "C"] {
            let d = direction(&fitted, name);
            let off = cross(d, side).abs().min(d.dot(&side).abs());
            assert!(off < 1e-9, "wall {name} is {off:e} off side {}", square_to + 1);
        }
        // Ends on the sides of the room stay on them, tees on their walls.
        let at = |n: &str| fitted.node(&n.into()).expect("a node").at;
        let off_side = |n: &str, i: usize| cross(sides[i], at(n) - shape[i]).abs();
        for (node, side) in [("1", 3), ("2", 1), ("4", 2), ("5", 0), ("7", 0), ("8", 1)] {
            let off = off_side(node, side);
            assert!(
                off < 1e-6,
                "square to {square_to}: node {node} is {off} off side {}",
                side + 1
            );
        }
        let a = direction(&fitted, "A");
        for tee in ["3", "6"] {
            assert!(cross(a, at(tee) - at("1")).abs() < 1e-6, "node {tee} is off wall A");
        }
    }
}
