//! The pictures: what a joiner reads off them.

use std::f64::consts::FRAC_PI_2;
use std::sync::Arc;

use layout_core::document::{
    Door, Face, Head, Hinge, Hold, HoldTo, Job, Node, Opening, OpeningKind, Wall, WallEnd, read,
};
use layout_core::id::ItemRef;
use layout_core::layout::{Layout, WallLayout};
use layout_core::math::PlanPoint;
use layout_core::units::Units;
use sheets::export::text;
use sheets::picture::{Pen, Picture, Shape};
use sheets::views::{
    ElevationOptions, FaceOptions, PlanOptions, SectionOptions, board_face, elevation, plan,
    section,
};

/// One free-standing wall along x, `length` long, with at most one opening.
fn one_wall(length: f64, opening: Option<Opening>) -> Job {
    let node = |name: &str, x: f64| Node { name: name.into(), at: PlanPoint::new(x, 0.0) };
    let mut wall = Wall::new("A", "1", "2", "Partition 97");
    wall.openings.extend(opening);
    Job {
        nodes: vec![node("1", 0.0), node("2", length)],
        walls: vec![Arc::new(wall)],
        ..Job::default()
    }
}

fn door(hinge: Hinge, opens: Face) -> Opening {
    Opening::new(
        "D1",
        OpeningKind::Door(Door { hinge, opens, ..Door::default() }),
        Hold { from: WallEnd::Start, to: HoldTo::Near, distance: 1000.0 },
    )
}

fn seen(job: &Job, face: Face) -> Picture {
    let layout = Layout::of(job);
    elevation(
        job,
        &layout,
        &layout.walls[0],
        &ElevationOptions { scale: 20.0, face, dimensions: true, boards: None, zones: false },
    )
}

fn on_plan(job: &Job) -> Picture {
    plan(job, &Layout::of(job), &PlanOptions { scale: 50.0, dimensions: true, boards: None })
}

fn shipped() -> Vec<Job> {
    ["boat-club-annexe", "empty-room", "one-wall-with-door", "l-shaped-pair"]
        .map(|name| {
            let path = format!("{}/../../assets/jobs/{name}.ron", env!("CARGO_MANIFEST_DIR"));
            read(&std::fs::read_to_string(path).unwrap()).unwrap()
        })
        .to_vec()
}

/// Lettering of a picture from left to right: where (model x), what, and whether it is turned upright.
fn lettering(picture: &Picture) -> Vec<(f64, String, bool)> {
    let mut all: Vec<(f64, String, bool)> = picture
        .items
        .iter()
        .filter_map(|i| match &i.shape {
            Shape::Text { at, text, turn, .. } => {
                Some((at.model[0], text.replace('\u{2009}', " "), (turn - FRAC_PI_2).abs() < 1e-9))
            }
            _ => None,
        })
        .collect();
    all.sort_by(|a, b| a.0.total_cmp(&b.0));
    all
}

fn says(picture: &Picture, what: &str) -> bool {
    lettering(picture).iter().any(|(_, text, _)| text == what)
}

fn upright(picture: &Picture) -> Vec<String> {
    lettering(picture)
        .into_iter()
        .filter(|(_, _, upright)| *upright)
        .map(|(_, text, _)| text)
        .collect()
}

/// Worked by hand: 46 mm studs at 400 centres on a 2 000 mm frame. Near edges at 400 k − 23, the first
/// at 0, the last at 2 000 − 46. Common practice: one pull of the tape, timber beyond the mark.
#[test]
fn running_figures_are_near_edges_in_one_pull() {
    let job = one_wall(2000.0, None);
    let picture = seen(&job, Face::Right);
    assert_eq!(upright(&picture), ["0", "377", "777", "1 177", "1 577", "1 954", "2 000"]);
    assert!(says(&picture, "one pull from the left, timber to the right"));
}

/// Seen from the other face the wall runs from right to left, and the tape is still hooked on its start.
#[test]
fn the_left_face_is_mirrored_and_its_lettering_is_not() {
    let job = one_wall(2000.0, None);
    let (right, left) = (seen(&job, Face::Right), seen(&job, Face::Left));
    let mut figures = upright(&left);
    figures.reverse();
    assert_eq!(figures, upright(&right));
    assert!(says(&left, "one pull from the right, timber to the left"));
    let middle =
        |p: &Picture, mark: &str| lettering(p).iter().find(|l| l.1 == mark).map(|l| l.0).unwrap();
    for mark in ["S1", "S3", "S6"] {
        assert_eq!(middle(&left, mark), -middle(&right, mark), "{mark}");
    }
    assert!(lettering(&left).iter().all(|(x, _, _)| *x <= 0.0));
}

/// A wall 3 600 long with a door off its middle, under a rake that falls from 2 600 at its start to 2 150 at its end.
fn under_a_rake() -> Job {
    let mut job = one_wall(3600.0, Some(door(Hinge::Start, Face::Right)));
    let points = vec![(0.0, 2600.0), (3600.0, 2150.0)];
    Arc::make_mut(&mut job.walls[0]).head = Some(Head::Line { points });
    job
}

/// The same wall drawn from its other end: its near face is the far face of the other.
fn drawn_the_other_way() -> Job {
    let mut job = under_a_rake();
    let wall = Arc::make_mut(&mut job.walls[0]);
    std::mem::swap(&mut wall.from, &mut wall.to);
    wall.head = Some(Head::Line { points: vec![(0.0, 2150.0), (3600.0, 2600.0)] });
    wall.openings[0].hold.from = WallEnd::End;
    job
}

/// Model places of the areas and outlines of what is picked, each as its corners in order.
fn corners_of(
    picture: &Picture,
    is_it: impl Fn(&sheets::picture::Item) -> bool,
) -> Vec<Vec<[i64; 2]>> {
    let tenths = |v: f64| (v * 10.0).round() as i64;
    let mut all: Vec<Vec<[i64; 2]>> = Vec::new();
    for item in picture.items.iter().filter(|i| is_it(i)) {
        let (Shape::Area(points) | Shape::Line(points)) = &item.shape else { continue };
        let mut corners: Vec<[i64; 2]> = points.iter().map(|at| at.model.map(tenths)).collect();
        corners.sort_unstable();
        corners.dedup();
        all.push(corners);
    }
    all.sort();
    all
}

fn mirrored(all: Vec<Vec<[i64; 2]>>, shift: i64) -> Vec<Vec<[i64; 2]>> {
    let mut all: Vec<Vec<[i64; 2]>> = all
        .into_iter()
        .map(|corners| {
            let mut corners: Vec<[i64; 2]> =
                corners.into_iter().map(|[x, y]| [shift - x, y]).collect();
            corners.sort_unstable();
            corners
        })
        .collect();
    all.sort();
    all
}

/// What is seen from the far face is the near face mirrored: every piece of timber, the doorway, the rake.
#[test]
fn the_far_face_is_the_near_one_mirrored() {
    let job = under_a_rake();
    let (right, left) = (seen(&job, Face::Right), seen(&job, Face::Left));
    let timber = |p: &Picture| {
        let is_it = |i: &sheets::picture::Item| {
            matches!((&i.shape, &i.of), (Shape::Area(_), Some(ItemRef::Member { .. })))
        };
        corners_of(p, is_it)
    };
    let holes = |p: &Picture| {
        let is_it = |i: &sheets::picture::Item| {
            matches!((&i.shape, &i.of), (Shape::Area(_), Some(ItemRef::Opening(_))))
        };
        corners_of(p, is_it)
    };
    assert!(timber(&right).len() > 12);
    assert_eq!(timber(&left), mirrored(timber(&right), 0));
    assert_eq!(holes(&left), mirrored(holes(&right), 0));
    // Marks over the head are read the other way round.
    let marks = |p: &Picture| -> Vec<String> {
        let is_mark = |text: &str| text.starts_with('S') && text[1..].parse::<u32>().is_ok();
        lettering(p).into_iter().map(|l| l.1).filter(|text| is_mark(text)).collect()
    };
    let mut back = marks(&left);
    back.reverse();
    assert_eq!(back, marks(&right));
    // The same wall drawn from its other end has its doorway at the same place of that face. Worked by hand: from the left
    // 3600 − 1838 = 1762 to 3600 − 1000 = 2600.
    let other = seen(&drawn_the_other_way(), Face::Right);
    assert_eq!(holes(&other), mirrored(holes(&right), 36_000));
    assert_eq!(holes(&other)[0][0][0], 17_620);
    for what in ["leaf 762 × 1 981", "hung right", "opens away"] {
        assert!(says(&left, what), "{what}");
    }
}

/// Boards of either face as one stands before it: numbers run from the wall's start, which is at the left of the right face and at
/// the right of the left one; so does the tape of the joints; edges under a rake are as high as the rake is there.
#[test]
fn boards_are_seen_as_one_stands_before_them() {
    let job = under_a_rake();
    let layout = Layout::of(&job);
    let wall = &layout.walls[0];
    for face in [Face::Right, Face::Left] {
        let layer = wall.boards.layers.iter().find(|l| l.face == face).unwrap();
        let options = FaceOptions { scale: 20.0, face, layer: 0 };
        let picture = board_face(&job, wall, &options);
        let x = |station: f64| if face == Face::Right { station } else { -station };
        let outlines = corners_of(&picture, |i| i.pen == Pen::Cut);
        let mut expected: Vec<Vec<[i64; 2]>> = layer
            .pieces
            .iter()
            .map(|p| {
                let tenths = |v: f64| (v * 10.0).round() as i64;
                let ring = p.shape.outline.iter();
                let mut ring: Vec<[i64; 2]> =
                    ring.map(|c| [tenths(x(c[0])), tenths(c[1])]).collect();
                ring.sort_unstable();
                ring
            })
            .collect();
        expected.sort();
        assert_eq!(outlines, expected, "{face:?}");

        let texts = lettering(&picture);
        let numbers: Vec<u32> = texts
            .iter()
            .filter_map(|(x, text, upright)| {
                let inside = |p: &&layout_core::boards::Piece| {
                    p.number.to_string() == *text
                        && p.shape.stations().contains(if face == Face::Right { *x } else { -x })
                };
                let is_number = !upright && layer.pieces.iter().any(|p| inside(&p));
                is_number.then(|| text.parse().unwrap())
            })
            .collect();
        let mut in_order: Vec<u32> = (1..=layer.pieces.len() as u32).collect();
        if face == Face::Left {
            in_order.reverse();
        }
        assert_eq!(numbers, in_order, "{face:?}");

        let mut joints: Vec<f64> = layer
            .joints
            .iter()
            .filter(|j| j.along.length() < 0.01)
            .map(|j| j.along.low)
            .chain([0.0, 3600.0])
            .collect();
        joints.sort_by(f64::total_cmp);
        joints.dedup_by(|a, b| (*a - *b).abs() < 0.01);
        let show = |length: f64| Units::Millimetres.show(length).replace('\u{2009}', " ");
        let mut tape: Vec<String> = joints.iter().map(|s| show(*s)).collect();
        if face == Face::Left {
            tape.reverse();
        }
        let lowest = picture.items.iter().filter_map(|i| match &i.shape {
            Shape::Text { at, text, size: sheets::picture::Lettering::Normal, align, .. }
                if *align == sheets::picture::Align::Right =>
            {
                Some((at.model[0], text.replace('\u{2009}', " ")))
            }
            _ => None,
        });
        let mut lowest: Vec<(f64, String)> = lowest.collect();
        lowest.sort_by(|a, b| a.0.total_cmp(&b.0));
        assert_eq!(lowest.into_iter().map(|l| l.1).collect::<Vec<_>>(), tape, "{face:?}");

        // The head falls 450 over 3 600: 1 in 8; boards start 10 over the floor. Worked by hand: 2 590 at the start, which is more
        // than a sheet, so a board of 2 400 stands there with one over it, and 2 150 − 10 = 2 140 at the end.
        let height = |station: f64, text: &str| {
            let at = (format!("↑ {text}"), x(station));
            texts.iter().any(|l| l.1 == at.0 && (l.0 - at.1).abs() < 1.0)
        };
        assert!(height(3600.0, "2 140"), "{face:?}");
        for piece in layer.pieces.iter().filter(|p| p.shape.heights().low < 11.0) {
            let s = piece.shape.stations();
            for station in [s.low, s.high] {
                let rake = 2590.0 - station / 8.0;
                let is_raked = 2590.0 - s.high / 8.0 < 2400.0 - 1.0;
                if is_raked {
                    let text = show(rake.min(piece.shape.heights().length()));
                    assert!(height(station, &text), "{face:?} {}: {text}", piece.number);
                }
            }
        }
    }
}

/// Worked by hand: bays of 377 − 46 = 331, then 400 − 46 = 354, and 1 954 − 1 577 − 46 = 331 at the end.
#[test]
fn bays_are_lettered_with_the_length_to_cut() {
    let picture = seen(&one_wall(2000.0, None), Face::Right);
    let bays: Vec<String> = lettering(&picture)
        .into_iter()
        .filter(|(_, text, upright)| !upright && text.len() == 3 && text.parse::<u32>().is_ok())
        .map(|(_, text, _)| text)
        .collect();
    assert_eq!(bays, ["331", "354", "354", "354", "331"]);
}

/// 762 × 1 981 leaf, 30 lining, 3 gap, 5 packing, 8 threshold: 762 + 6 + 60 + 10 = 838 wide and
/// 1 981 + 11 + 30 + 5 = 2 027 high. Common practice, worked by hand.
#[test]
fn a_door_says_its_hole_its_leaf_and_its_hand() {
    let job = one_wall(3000.0, Some(door(Hinge::Start, Face::Right)));
    let right = seen(&job, Face::Right);
    for what in
        ["D1", "838 × 2 027", "leaf 762 × 1 981", "hung left", "opens towards you", "D1 head"]
    {
        assert!(says(&right, what), "{what}");
    }
    let left = seen(&job, Face::Left);
    for what in ["hung right", "opens away"] {
        assert!(says(&left, what), "{what}");
    }
}

/// A leaf turns about its own jamb, through a quarter circle, to the face it opens towards.
#[test]
fn doors_swing_where_they_are_hung() {
    for hinge in [Hinge::Start, Hinge::End] {
        for opens in [Face::Left, Face::Right] {
            let picture = on_plan(&one_wall(3000.0, Some(door(hinge, opens))));
            let arcs: Vec<_> = picture
                .items
                .iter()
                .filter_map(|i| match i.shape {
                    Shape::Arc { centre, radius, from, to } => {
                        Some((centre.model, radius, from, to))
                    }
                    _ => None,
                })
                .collect();
            let [(centre, radius, from, to)] = arcs[..] else { panic!("{arcs:?}") };
            assert!(
                (to - from - FRAC_PI_2).abs() < 1e-9 && (radius - 768.0).abs() < 7.0,
                "{radius}"
            );
            let middle = (from + to) / 2.0;
            // The wall runs along x: its left face looks up.
            assert_eq!(middle.sin() > 0.0, opens == Face::Left, "{hinge:?} {opens:?}");
            assert_eq!(middle.cos() > 0.0, hinge == Hinge::Start, "{hinge:?} {opens:?}");
            let jamb = if hinge == Hinge::Start { 1000.0 } else { 1838.0 };
            assert!((centre[0] - jamb).abs() < 45.0, "{centre:?}");
        }
    }
}

/// Plan figures run from the start of the frame to both edges of the hole and to the end.
#[test]
fn plan_dimensions_run_to_jambs_and_end() {
    let picture = on_plan(&one_wall(3000.0, Some(door(Hinge::Start, Face::Right))));
    for what in ["0", "1 000", "1 838", "3 000", "A", "D1"] {
        assert!(says(&picture, what), "{what}");
    }
}

/// Whoever paints a picture may count on convex areas.
#[test]
fn areas_are_convex() {
    for job in shipped() {
        let layout = Layout::of(&job);
        let mut pictures = vec![on_plan(&job)];
        for wall in &layout.walls {
            for face in [Face::Left, Face::Right] {
                let options = ElevationOptions {
                    scale: 25.0,
                    face,
                    dimensions: true,
                    boards: None,
                    zones: false,
                };
                pictures.push(elevation(&job, &layout, wall, &options));
            }
            pictures.push(section(&job, wall, &SectionOptions { scale: 25.0 }));
        }
        for item in pictures.iter().flat_map(|p| &p.items) {
            let Shape::Area(points) = &item.shape else { continue };
            let p: Vec<[f64; 2]> = points.iter().map(|at| at.on_paper(25.0)).collect();
            let turns: Vec<f64> = (0..p.len())
                .map(|i| {
                    let (a, b, c) = (p[i], p[(i + 1) % p.len()], p[(i + 2) % p.len()]);
                    (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])
                })
                .collect();
            let one_way = turns.iter().all(|t| *t >= -1e-9) || turns.iter().all(|t| *t <= 1e-9);
            assert!(one_way, "{}: {item:?}", job.title);
        }
    }
}

/// Every piece of timber can be picked in the elevation, and nothing points at what is not there.
#[test]
fn every_piece_is_drawn_and_knows_what_it_is() {
    for job in shipped() {
        let layout = Layout::of(&job);
        for wall in &layout.walls {
            let options = ElevationOptions {
                scale: 25.0,
                face: Face::Right,
                dimensions: true,
                boards: None,
                zones: false,
            };
            let picture = elevation(&job, &layout, wall, &options);
            for member in &wall.frame.members {
                let of = ItemRef::Member { wall: wall.name().clone(), mark: member.mark };
                let is_it = |i: &&sheets::picture::Item| {
                    matches!(i.shape, Shape::Area(_)) && i.of.as_ref() == Some(&of)
                };
                assert_eq!(picture.items.iter().filter(is_it).count(), 1, "{}", of.label());
            }
            for of in picture.items.iter().filter_map(|i| i.of.as_ref()) {
                if let ItemRef::Member { mark, .. } = of {
                    assert!(wall.member(*mark).is_some(), "{}", of.label());
                }
            }
        }
    }
}

/// The whole picture of a short dwarf wall, as text: what moves in a drawing shows here.
#[test]
fn a_dwarf_wall_as_text() {
    let mut job = one_wall(500.0, None);
    Arc::make_mut(&mut job.walls[0]).head = Some(Head::Free { height: 600.0 });
    let layout = Layout::of(&job);
    let options = ElevationOptions {
        scale: 20.0,
        face: Face::Right,
        dimensions: false,
        boards: None,
        zones: false,
    };
    let picture = elevation(&job, &layout, &layout.walls[0], &options);
    let expected = include_str!("dwarf-wall.txt");
    assert_eq!(text(&picture).trim(), expected.trim());
}

/// Each board of the layer is outlined once and has its number and what it is cut to, from either face.
#[test]
fn boards_are_drawn_with_number_and_size() {
    let job = one_wall(3000.0, Some(door(Hinge::Start, Face::Right)));
    let layout = Layout::of(&job);
    for face in [Face::Right, Face::Left] {
        let options =
            ElevationOptions { scale: 20.0, face, dimensions: true, boards: Some(0), zones: false };
        let picture = elevation(&job, &layout, &layout.walls[0], &options);
        let layers = &layout.walls[0].boards.layers;
        let layer = layers.iter().find(|l| l.face == face).unwrap();
        assert!(layer.pieces.len() > 2);
        let outlines = picture.items.iter().filter(|i| i.pen == Pen::Cut).filter(|i| {
            matches!(&i.shape, Shape::Line(points) if points.len() > 4 && points[0] == points[points.len() - 1])
        });
        assert_eq!(outlines.count(), layer.pieces.len());
        for piece in &layer.pieces {
            assert!(says(&picture, &piece.number.to_string()), "{}", piece.number);
            let (across, high) = (piece.shape.stations().length(), piece.shape.heights().length());
            let show = |length: f64| Units::Millimetres.show(length).replace('\u{2009}', " ");
            let size = format!("{}×{}", show(across), show(high));
            assert!(says(&picture, &size) || layer.is_whole(piece), "{size}");
        }
        // Bay sizes and marks of the frame give way to them.
        assert!(!says(&picture, "S1"));
    }
    let plain = seen(&job, Face::Right);
    assert!(says(&plain, "S1"));
}

#[test]
fn boards_on_the_plan_are_as_thick_and_as_long_as_they_are() {
    for job in shipped() {
        let layout = Layout::of(&job);
        let count = |boards| {
            let options = PlanOptions { scale: 50.0, dimensions: false, boards };
            plan(&job, &layout, &options).items.len()
        };
        let strips = |wall: &WallLayout| {
            wall.boards
                .layers
                .iter()
                .filter(|l| l.layer == 0)
                .map(|l| l.pieces.len())
                .sum::<usize>()
        };
        let most: usize = layout.walls.iter().map(strips).sum();
        let drawn = count(Some(0)) - count(None);
        assert_eq!(drawn > 0, most > 0, "{}", job.title);
        // Every run of boards on a face has at least one strip.
        let runs: usize = layout.walls.iter().flat_map(|w| &w.spec.faces).map(Vec::len).sum();
        assert!(drawn >= runs, "{}: {drawn} strips on {runs} runs", job.title);
    }
}
