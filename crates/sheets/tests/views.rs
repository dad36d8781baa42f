//! The pictures: what a joiner reads off them.

use std::f64::consts::FRAC_PI_2;
use std::sync::Arc;

use layout_core::document::{
    Door, Face, Hinge, Hold, HoldTo, Job, Node, Opening, OpeningKind, Wall, WallEnd, read,
};
use layout_core::id::ItemRef;
use layout_core::layout::{Layout, WallLayout};
use layout_core::math::PlanPoint;
use layout_core::units::Units;
use sheets::export::text;
use sheets::picture::{Pen, Picture, Shape};
use sheets::views::{ElevationOptions, PlanOptions, SectionOptions, elevation, plan, section};

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
    assert!(says(&picture, "one pull from the left: near edge of each stud, timber to the right"));
}

/// Seen from the other face the wall runs from right to left, and the tape is still hooked on its start.
#[test]
fn the_left_face_is_mirrored_and_its_lettering_is_not() {
    let job = one_wall(2000.0, None);
    let (right, left) = (seen(&job, Face::Right), seen(&job, Face::Left));
    let mut figures = upright(&left);
    figures.reverse();
    assert_eq!(figures, upright(&right));
    assert!(says(&left, "one pull from the right: near edge of each stud, timber to the left"));
    let middle =
        |p: &Picture, mark: &str| lettering(p).iter().find(|l| l.1 == mark).map(|l| l.0).unwrap();
    for mark in ["S1", "S3", "S6"] {
        assert_eq!(middle(&left, mark), -middle(&right, mark), "{mark}");
    }
    assert!(lettering(&left).iter().all(|(x, _, _)| *x <= 0.0));
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
    Arc::make_mut(&mut job.walls[0]).head =
        Some(layout_core::document::Head::Free { height: 600.0 });
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
