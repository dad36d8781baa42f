//! The print set as the crew gets it: on its paper, nothing over anything else, nothing cut off, the
//! same bytes for the same job.

use std::sync::Arc;

use layout_core::board_plan::{board_plans, marks_in_words};
use layout_core::document::{
    CrewCopy, Door, Edit, Face, Hold, HoldTo, Insulation, Job, Lay, Layer, Node, Opening,
    OpeningKind, Point, PointKind, Room, Wall, WallEnd, read,
};
use layout_core::layout::Layout;
use layout_core::math::PlanPoint;
use sheets::export::{Meta, pdf, svg};
use sheets::page::{Mark, Page, Paper, Part, PrintOptions, print_set};
use sheets::picture::{Fill, Pen, Rect};

fn options(paper: Paper) -> PrintOptions {
    PrintOptions { paper, date: "2026-05-04".into(), ..PrintOptions::default() }
}

fn pages(job: &Job, paper: Paper) -> Vec<Page> {
    print_set(job, &Layout::of(job), &options(paper))
}

fn shipped(name: &str) -> Job {
    let path = format!("{}/../../assets/jobs/{name}.ron", env!("CARGO_MANIFEST_DIR"));
    read(&std::fs::read_to_string(path).unwrap()).unwrap()
}

/// One wall `length` long with a door every 3 m.
fn long_wall(length: f64) -> Job {
    let node = |name: &str, x: f64| Node { name: name.into(), at: PlanPoint::new(x, 0.0) };
    let mut wall = Wall::new("A", "1", "2", "Partition 97");
    let doors = (length / 3000.0) as usize;
    for i in 0..doors {
        wall.openings.push(Opening::new(
            format!("D{}", i + 1).as_str(),
            OpeningKind::Door(Door::default()),
            Hold { from: WallEnd::Start, to: HoldTo::Near, distance: 1000.0 + 3000.0 * i as f64 },
        ));
    }
    Job {
        nodes: vec![node("1", 0.0), node("2", length)],
        walls: vec![Arc::new(wall)],
        ..Job::default()
    }
}

/// Rooms of 4 m in a grid, too many for one plan.
fn large_building() -> Job {
    let mut job = Job::default();
    for row in 0..4 {
        for column in 0..9 {
            let (x, y) = (4000.0 * f64::from(column), 4000.0 * f64::from(row));
            let name = format!("{row}-{column}");
            for (end, dx) in [("a", 0.0), ("b", 4000.0)] {
                let at = PlanPoint::new(x + dx, y);
                job.nodes.push(Node { name: format!("{name}{end}").as_str().into(), at });
            }
            let (from, to) = (format!("{name}a"), format!("{name}b"));
            let wall = Wall::new(name.as_str(), from.as_str(), to.as_str(), "Partition 97");
            job.walls.push(Arc::new(wall));
        }
    }
    job
}

/// Much text wherever there may be some.
fn wordy() -> Job {
    let mut job = shipped("boat-club-annexe");
    job.title =
        "Conversion of the old sail loft over the upper slip into three workshops and a store"
            .into();
    job.notes = "Mind the step. Ask before you drill.\n".repeat(60);
    job.datum.label =
        "inside corner between the pump recess and the lower store, where the slab is level".into();
    for name in
        ["membrane", "a rather long name for a layer of floor", "Zürich–Ålesund <screed> & deck"]
    {
        job.levels.build_up.push(Layer { name: name.into(), thickness: 12.5 });
    }
    for i in 0..30 {
        job.rooms.push(Room {
            name: format!("Room {i}").as_str().into(),
            at: PlanPoint::new(250.0 * f64::from(i), 3000.0),
        });
    }
    job
}

fn every_job() -> Vec<(&'static str, Job)> {
    let mut jobs: Vec<(&str, Job)> =
        ["boat-club-annexe", "empty-room", "one-wall-with-door", "l-shaped-pair"]
            .map(|n| (n, shipped(n)))
            .to_vec();
    jobs.push(("nothing at all", Job::default()));
    jobs.push(("long wall", long_wall(18_000.0)));
    jobs.push(("very long wall", long_wall(60_000.0)));
    jobs.push(("large building", large_building()));
    jobs.push(("wordy", wordy()));
    jobs
}

/// What the capitals and figures of a line of lettering cover, without room for tails.
fn tight(mark: &Mark) -> Option<(&str, Rect)> {
    let Mark::Text { at, text, height, weight, turn, .. } = mark else { return None };
    let width = weight.width(text, *height);
    let (sin, cos) = turn.sin_cos();
    let corner = |x: f64, up: f64| [at[0] + x * cos - up * sin, at[1] - x * sin - up * cos];
    Some((
        text,
        Rect::round([
            corner(0.0, 0.0),
            corner(width, 0.0),
            corner(width, *height),
            corner(0.0, *height),
        ]),
    ))
}

fn texts_in(page: &Page, area: Rect) -> Vec<(&str, Rect)> {
    page.ink
        .marks
        .iter()
        .filter_map(tight)
        .filter(|(_, covered)| area.grown(0.5).covers(*covered))
        .collect()
}

/// Nothing runs over the border, and no part of a sheet is over another. Common practice: a print that
/// has to be guessed at is worse than none.
#[test]
fn everything_is_inside_the_border_and_no_part_is_over_another() {
    for (name, job) in every_job() {
        for paper in [Paper::A4, Paper::A3] {
            for page in pages(&job, paper) {
                let at = format!("{name}, {paper:?}, {}", page.name);
                assert_eq!((page.width, page.height), paper.size(), "{at}");
                let frame = paper.frame().grown(0.01);
                for mark in &page.ink.marks {
                    assert!(frame.covers(mark.bounds()), "{at}: {mark:?} runs over the border");
                }
                for (i, part) in page.parts.iter().enumerate() {
                    assert!(frame.covers(*part), "{at}: part {i} runs over the border: {part:?}");
                    for other in &page.parts[..i] {
                        assert!(part.overlap(*other) < 0.01, "{at}: {part:?} lies over {other:?}");
                    }
                }
                for mark in &page.ink.marks {
                    let covered = mark.bounds();
                    let is_drawn_in = |p: &&Rect| p.grown(0.4).covers(covered);
                    let is_over_the_border = covered.overlap(paper.strip()) > 0.01;
                    let is_frame = covered.width() > 200.0 && covered.height() > 100.0;
                    if is_over_the_border && !is_frame {
                        assert!(
                            page.parts.iter().any(|p| is_drawn_in(&p)),
                            "{at}: {mark:?} is over the title strip"
                        );
                    }
                }
            }
        }
    }
}

/// Lettering of lists and of the title strip never runs into other lettering.
#[test]
fn lettering_of_lists_and_title_strips_does_not_collide() {
    for (name, job) in every_job() {
        for paper in [Paper::A4, Paper::A3] {
            for page in pages(&job, paper) {
                let drawings = if page.scale.is_some() { page.parts.len() } else { 0 };
                for part in &page.parts {
                    let texts = texts_in(&page, *part);
                    let turned = page.ink.marks.iter().any(|m| {
                        matches!(m, Mark::Text { turn, .. } if *turn != 0.0)
                            && part.grown(0.5).covers(m.bounds())
                    });
                    // Drawings have their own rules; a key plan has its numbers over what they are of.
                    let is_key = page.scale.is_some_and(|s| s > 100.0) && page.title == "Plan";
                    if (turned && drawings > 0) || is_key {
                        continue;
                    }
                    for (i, (a, bounds)) in texts.iter().enumerate() {
                        for (b, other) in &texts[..i] {
                            let over = bounds.overlap(*other);
                            assert!(
                                over < 0.01,
                                "{name}, {paper:?}, {}: {a:?} over {b:?} ({over:.1} mm²)",
                                page.name
                            );
                        }
                    }
                }
            }
        }
    }
}

/// Running figures are spread so that every one can be read, however close the studs.
#[test]
fn running_figures_do_not_touch() {
    for (name, job) in every_job() {
        for page in pages(&job, Paper::A4).iter().filter(|p| p.title.starts_with("Wall")) {
            let figures: Vec<Rect> = page
                .ink
                .marks
                .iter()
                .filter(|m| matches!(m, Mark::Text { turn, height, .. } if *turn > 1.5 && *height == 3.5))
                .filter_map(tight)
                .map(|(_, covered)| covered)
                .collect();
            let lowest = figures.iter().map(|r| r.min[1]).fold(0.0, f64::max);
            let row: Vec<&Rect> =
                figures.iter().filter(|r| (r.min[1] - lowest).abs() < 0.5).collect();
            for (i, a) in row.iter().enumerate() {
                for b in &row[..i] {
                    assert!(a.overlap(**b) < 0.01, "{name}, {}: {a:?} over {b:?}", page.name);
                }
            }
        }
    }
}

#[test]
fn equal_jobs_make_equal_bytes() {
    let job = shipped("boat-club-annexe");
    let meta = Meta { title: job.title.clone(), date: "2026-05-04".into() };
    let once = pdf(&pages(&job, Paper::A4), &meta).unwrap();
    let again = pdf(&pages(&job, Paper::A4), &meta).unwrap();
    assert!(once == again);
    assert!(once.starts_with(b"%PDF-"));
    let one = pages(&job, Paper::A3);
    let two = pages(&job, Paper::A3);
    assert!(one.iter().zip(&two).all(|(a, b)| svg(a) == svg(b)));
}

#[test]
fn the_file_says_nothing_of_who_made_it() {
    let job = shipped("one-wall-with-door");
    let meta = Meta { title: "A title".into(), date: "not a day".into() };
    let bytes = pdf(&pages(&job, Paper::A4), &meta).unwrap();
    let text = String::from_utf8_lossy(&bytes);
    assert!(!text.contains("/Author") && !text.contains("/CreationDate"));
    assert!(text.contains("/Outlines"));
}

#[test]
fn the_check_line_is_a_hundred_millimetres_on_every_sheet() {
    let copy = |letter: &str| CrewCopy {
        letter: letter.into(),
        date: "2026-05-01".into(),
        note: String::new(),
    };
    let mut job = shipped("l-shaped-pair");
    for letter in ["A", "B"] {
        job = Edit::AddCrewCopy(copy(letter)).apply(&job);
    }
    for paper in [Paper::A4, Paper::A3] {
        let [a, b] = paper.check_line();
        assert_eq!((b[0] - a[0], b[1] - a[1]), (100.0, 0.0));
        for page in pages(&job, paper) {
            let is_it = |m: &Mark| matches!(m, Mark::Path { points, .. } if *points == [a, b]);
            assert_eq!(page.ink.marks.iter().filter(|m| is_it(m)).count(), 1, "{}", page.name);
            for says in [
                "this line is 100 mm:",
                "Check on site before cutting",
                "last copy B",
                "2026-05-04",
            ] {
                let is_said = |m: &Mark| matches!(m, Mark::Text { text, .. } if text == says);
                assert!(page.ink.marks.iter().any(is_said), "{}: {says:?}", page.name);
            }
        }
    }
}

/// 1:10, 1:20, 1:50 … are ISO 5455; 1:25 is common practice for frames. A stud 46 mm thick is 46 / scale
/// on paper, and the drawing is as large as the sheet allows.
#[test]
fn drawings_are_at_a_scale_that_a_ruler_has() {
    let job = shipped("one-wall-with-door");
    for paper in [Paper::A4, Paper::A3] {
        for page in pages(&job, paper) {
            let Some(scale) = page.scale else { continue };
            assert!([5.0, 10.0, 20.0, 25.0, 50.0, 100.0].contains(&scale), "{scale}");
            let says = format!("Scale 1 : {scale}");
            let is_said = |m: &Mark| matches!(m, Mark::Text { text, .. } if *text == says);
            assert!(page.ink.marks.iter().any(is_said));
        }
    }
    let set = pages(&job, Paper::A4);
    let wall = set.iter().find(|p| p.title.starts_with("Wall")).unwrap();
    let scale = wall.scale.unwrap();
    let stud = 46.0 / scale;
    let uprights = wall.ink.marks.iter().filter(|m| {
        let r = m.bounds();
        matches!(m, Mark::Path { closed: true, points, .. } if points.len() == 4)
            && (r.width() - stud).abs() < 1e-6
            && r.height() > 1500.0 / scale
    });
    assert!(uprights.count() >= 4);
}

#[test]
fn only_what_is_asked_for_is_printed() {
    let job = shipped("l-shaped-pair");
    let layout = Layout::of(&job);
    let wall = layout.walls[1].name().clone();
    let only = PrintOptions { only: vec![Part::Wall(wall.clone())], ..options(Paper::A4) };
    let set = print_set(&job, &layout, &only);
    assert_eq!(set[0].title, format!("Wall {wall}"));
    assert!(set.iter().all(|p| p.title.starts_with("Wall") || p.title == "Pieces"));
    let only = PrintOptions { only: vec![Part::Plan], ..options(Paper::A4) };
    assert_eq!(print_set(&job, &layout, &only)[0].title, "Plan");
}

/// Every piece is in the lists once: the counts in the cutting list add up to the pieces of the job.
#[test]
fn every_piece_is_on_paper() {
    let job = shipped("boat-club-annexe");
    let layout = Layout::of(&job);
    let text: Vec<String> = pages(&job, Paper::A4)
        .iter()
        .flat_map(|p| &p.ink.marks)
        .filter_map(|m| match m {
            Mark::Text { text, .. } => Some(text.clone()),
            _ => None,
        })
        .collect();
    for part in layout.framed() {
        for member in part.frame().members.iter().filter(|m| m.role.is_full_height()) {
            let mark = member.mark.to_string();
            assert!(
                text.iter().any(|t| t.split([' ', '–']).any(|w| w == mark)),
                "{} {mark}",
                part.name()
            );
        }
    }
    let whole: usize = layout.framed().map(|p| p.frame().members.len()).sum();
    let totals = layout_core::pieces::totals(&layout);
    assert_eq!(totals.iter().map(|t| t.pieces).sum::<usize>(), whole);
    assert!(totals.iter().all(|t| text.contains(&t.pieces.to_string())));
}

/// A plan that only fits at a scale too small for figures comes in parts at 1:50, numbered on the plan,
/// and every wall's letter is on one of them.
#[test]
fn a_large_plan_comes_in_parts() {
    let job = large_building();
    let only = PrintOptions { only: vec![Part::Plan], ..options(Paper::A4) };
    let set = print_set(&job, &Layout::of(&job), &only);
    let parts: Vec<&Page> = set.iter().filter(|p| p.title.starts_with("Plan, part")).collect();
    assert!(parts.len() >= 2, "{:?}", set.iter().map(|p| &p.title).collect::<Vec<_>>());
    assert!(parts.iter().all(|p| p.scale == Some(50.0)));
    let is_there = |page: &Page, what: &str| {
        page.ink.marks.iter().any(|m| matches!(m, Mark::Text { text, .. } if text == what))
    };
    for number in 1..=parts.len() {
        assert!(is_there(&set[0], &number.to_string()), "{number}");
    }
    for wall in &job.walls {
        let name = wall.name.as_str();
        assert!(parts.iter().any(|p| is_there(p, name)), "{name}");
    }
}

/// Every box, pipe and duct is on the sheet of its wall's first fix, and so is every piece that is drilled.
#[test]
fn the_first_fix_is_on_paper() {
    let job = shipped("boat-club-annexe");
    let layout = Layout::of(&job);
    let mut looked_at = 0;
    for wall in job.walls.iter().filter(|w| !w.points.is_empty()) {
        let only =
            PrintOptions { only: vec![Part::FirstFix(wall.name.clone())], ..options(Paper::A4) };
        let set = print_set(&job, &layout, &only);
        let text: Vec<&String> = set
            .iter()
            .flat_map(|p| &p.ink.marks)
            .filter_map(|m| match m {
                Mark::Text { text, .. } => Some(text),
                _ => None,
            })
            .collect();
        for point in &wall.points {
            let name = point.name.as_str();
            let named = text.iter().filter(|t| t.split(' ').any(|w| w == name)).count();
            assert!(named >= 2, "{name} in the drawing and in the list");
            looked_at += 1;
        }
        let laid = layout.wall(&wall.name).unwrap();
        for bore in &laid.runs.bores {
            let size = layout_core::units::Units::Millimetres.show(bore.size);
            assert!(text.iter().any(|t| **t == size), "{} {size}", bore.member);
        }
    }
    assert!(looked_at >= 10, "{looked_at}");
}

/// A high wall with two layers on one face and boards that lie across on the other, a box over a joint of theirs.
fn layered() -> Job {
    let mut job = shipped("one-wall-with-door");
    job.levels.ceiling = 2700.0;
    for makeup in &mut job.makeups {
        let makeup = Arc::make_mut(makeup);
        let board = makeup.right.boards[0].clone();
        makeup.right.boards.push(board);
        makeup.left.boards[0].lay = Lay::Across;
    }
    let wall = Arc::make_mut(&mut job.walls[0]);
    wall.points = [(1100.0, Face::Right), (1210.0, Face::Left), (450.0, Face::Left)]
        .into_iter()
        .enumerate()
        .map(|(i, (height, face))| {
            let name = format!("X{}", i + 1);
            let along = 2300.0 + 350.0 * i as f64;
            Point::new(name.as_str(), PointKind::Socket, face, along, height)
        })
        .collect();
    job
}

/// Every layer has its page, and a box that a joint runs through is cut out of both boards.
#[test]
fn layers_have_pages_of_their_own() {
    let job = layered();
    let layout = Layout::of(&job);
    let faces = Part::all(&layout).into_iter().filter(|p| matches!(p, Part::Face(..))).collect();
    let set = print_set(&job, &layout, &PrintOptions { only: faces, ..options(Paper::A3) });
    let titles: Vec<&str> = set.iter().map(|p| p.title.as_str()).collect();
    assert_eq!(
        titles,
        [
            "Boards of wall A, right, layer 1",
            "Boards of wall A, right, layer 2",
            "Boards of wall A, left face"
        ]
    );
    let words = |page: &Page| -> Vec<String> {
        page.ink.marks.iter().filter_map(tight).map(|(text, _)| text.to_string()).collect()
    };
    for page in &set[..2] {
        assert!(words(page).iter().any(|t| t == "X1 75 × 75"), "{}", page.title);
    }
    let left = words(&set[2]);
    assert!(left.iter().any(|t| t == "over a joint"), "{left:?}");
    // Half of it in the board under the joint at 1 210, half in the one over it. Worked by hand: 1 210 − 37.5 is 1 162.5 over
    // the foot at 10, and the other half starts at the foot of its board.
    let halves = left.iter().filter(|t| t.starts_with("X2 75 × 3")).count();
    assert_eq!(halves, 2, "{left:?}");
}

/// On the boards of a face every board is outlined to scale, and no lettering lies over other lettering, over the edge of a board or
/// over what is cut out for a box.
#[test]
fn boards_of_a_face_can_be_read() {
    let mut looked_at = 0;
    for (name, job) in every_job().into_iter().chain([
        ("loft", shipped("sail-loft")),
        ("feet and inches", shipped("sixteen-inch-centres")),
        ("layers", layered()),
    ]) {
        let layout = Layout::of(&job);
        let faces = Part::all(&layout).into_iter().filter(|p| matches!(p, Part::Face(..)));
        let faces: Vec<Part> = faces.collect();
        if faces.is_empty() {
            continue;
        }
        for paper in [Paper::A4, Paper::A3] {
            let only = PrintOptions { only: faces.clone(), ..options(paper) };
            let set = print_set(&job, &layout, &only);
            for page in set.iter().filter(|p| p.scale.is_some()) {
                let at = format!("{name}, {paper:?}, {}", page.name);
                let drawing = page.parts[1];
                let texts = texts_in(page, drawing);
                let marks = || page.ink.marks.iter();
                let edges: Vec<[[f64; 2]; 2]> = marks()
                    .filter_map(|m| match m {
                        Mark::Path { points, closed: false, pen: Pen::Cut, .. } => Some(points),
                        _ => None,
                    })
                    .flat_map(|points| points.windows(2).map(|e| [e[0], e[1]]).collect::<Vec<_>>())
                    .collect();
                let boxes: Vec<Rect> = marks()
                    .filter(|m| matches!(m, Mark::Path { fill: Fill::Fitting, .. }))
                    .map(Mark::bounds)
                    .collect();
                assert!(!edges.is_empty(), "{at}");
                for (i, (a, bounds)) in texts.iter().enumerate() {
                    for (b, other) in &texts[..i] {
                        assert!(bounds.overlap(*other) < 0.01, "{at}: {a:?} over {b:?}");
                    }
                    // A board too small for its number has it all the same.
                    let is_number = a.parse::<u32>().is_ok();
                    for [p, q] in edges.iter().filter(|_| !is_number) {
                        let crossed = (0..=200).any(|k| {
                            let share = f64::from(k) / 200.0;
                            let [x, y] = [0, 1].map(|k: usize| p[k] + (q[k] - p[k]) * share);
                            bounds.grown(-0.05).overlap(Rect::about(x, y, 0.01, 0.01)) > 0.0
                        });
                        assert!(!crossed, "{at}: {a:?} over an edge {p:?} {q:?}");
                    }
                    for hole in &boxes {
                        assert!(bounds.overlap(*hole) < 0.01, "{at}: {a:?} over a box");
                    }
                    looked_at += 1;
                }
            }
        }
    }
    assert!(looked_at > 1000, "{looked_at}");
}

/// What is cut out by the figures of the list is what is cut out: every corner of every board with a level top is where they put
/// it, and between them there is board or none as they say.
#[test]
fn the_figures_of_a_board_make_its_shape() {
    let job = shipped("boat-club-annexe");
    let layout = Layout::of(&job);
    let mut looked_at = 0;
    for wall in &layout.walls {
        for layer in &wall.boards.layers {
            let part = Part::Face(wall.name().clone(), layer.face);
            let only = PrintOptions { only: vec![part], ..options(Paper::A3) };
            let set = print_set(&job, &layout, &only);
            let words: Vec<String> = set
                .iter()
                .flat_map(|p| &p.ink.marks)
                .filter_map(tight)
                .map(|(text, _)| text.replace('\u{2009}', ""))
                .collect();
            for piece in &layer.pieces {
                // From the line of its number to that of the next.
                let number = piece.number.to_string();
                let next = (piece.number + 1).to_string();
                let list = words.iter().position(|w| w == "cut out").unwrap();
                let from = list + words[list..].iter().position(|w| *w == number).unwrap();
                let to = words[from..].iter().position(|w| *w == next || w.contains("board"));
                let row = &words[from..from + to.unwrap()];
                let cuts: Vec<[f64; 4]> = row
                    .windows(2)
                    .filter(|pair| pair[0].contains('×') && pair[1].starts_with('→'))
                    .filter(|pair| !pair[0].starts_with('X'))
                    .map(|pair| {
                        let size = pair[0].split_once(' ').unwrap().1;
                        let (w, h) = size.split_once(" × ").unwrap();
                        let (x, y) = pair[1][3..].split_once('↑').unwrap();
                        [x, y, w, h].map(|v| v.trim().parse::<f64>().unwrap())
                    })
                    .collect();
                let (s, z) = (piece.shape.stations(), piece.shape.heights());
                for (u, v) in (0..60).flat_map(|u| (0..60).map(move |v| (u, v))) {
                    let x = s.length() * (f64::from(u) + 0.5) / 60.0;
                    let y = z.length() * (f64::from(v) + 0.5) / 60.0;
                    let station = match layer.face {
                        Face::Right => s.low + x,
                        Face::Left => s.high - x,
                    };
                    let near = |[cx, cy, w, h]: &[f64; 4]| {
                        let edge = |v: f64, from: f64, size: f64| {
                            (v - from).abs() < 1.0 || (v - from - size).abs() < 1.0
                        };
                        edge(x, *cx, *w) || edge(y, *cy, *h)
                    };
                    if cuts.iter().any(near) {
                        continue;
                    }
                    let cut = cuts.iter().any(|[cx, cy, w, h]| {
                        (*cx..cx + w).contains(&x) && (*cy..cy + h).contains(&y)
                    });
                    let there = piece.shape.contains([station, z.low + y]);
                    assert_eq!(there, !cut, "{} {:?} {number}: {x}, {y}", wall.name(), layer.face);
                }
                looked_at += cuts.len();
            }
        }
    }
    assert!(looked_at >= 15, "{looked_at}");
}

/// What fills the bays is on the sheet of the wall that has it.
#[test]
fn insulation_is_on_the_sheet_of_its_wall() {
    let mut job = shipped("one-wall-with-door");
    let said = |job: &Job| {
        let layout = Layout::of(job);
        let wall = layout.walls[0].name().clone();
        let only = PrintOptions { only: vec![Part::Wall(wall)], ..options(Paper::A3) };
        let set = print_set(job, &layout, &only);
        let texts = set.iter().flat_map(|p| &p.ink.marks).filter_map(tight);
        texts.map(|(text, _)| text.replace('\u{2009}', "")).collect::<Vec<String>>()
    };
    assert!(!said(&job).iter().any(|t| t.contains("mineral wool")));
    for makeup in &mut job.makeups {
        let makeup = Arc::make_mut(makeup);
        makeup.insulation = Some(Insulation::usual(makeup.timber.depth()));
    }
    let layout = Layout::of(&job);
    let filled = layout_core::sundries::insulated(&job, &layout);
    let cuts = layout_core::insulation::alike(&filled[0].fills);
    assert!(cuts.len() > 1);
    let said = said(&job);
    assert!(said.iter().any(|t| t.contains("mineral wool")));
    for cut in cuts {
        let size = format!("{} × {}", cut.size.0, cut.size.1);
        assert!(said.contains(&size), "{size} in {said:?}");
    }
}

/// Every board is on the sheets of board as often as it is in the job, no lettering of a drawing runs into other
/// lettering, and a sheet is drawn at the scale that is said.
#[test]
fn the_sheets_of_board_are_on_paper() {
    for (name, job) in every_job() {
        let layout = Layout::of(&job);
        let plans = board_plans(&job, &layout);
        for paper in [Paper::A4, Paper::A3] {
            let only = PrintOptions { only: vec![Part::Boards], ..options(paper) };
            let pages = print_set(&job, &layout, &only);
            assert_eq!(pages.is_empty(), plans.is_empty(), "{name}");
            let words = |page: &Page| {
                let texts = page.ink.marks.iter().filter_map(tight).map(|(text, _)| text);
                texts.collect::<Vec<_>>().join(" ")
            };
            // Names of walls may be long, and lists wrapped.
            let all: String = pages.iter().map(words).collect::<Vec<_>>().join(" ");
            let squeezed = |text: &str| text.replace(' ', "");
            for board in plans.iter().flat_map(|p| &p.sheets).flat_map(|s| &s.boards) {
                let marks = marks_in_words(&board.marks);
                assert!(squeezed(&all).contains(&squeezed(&marks)), "{name}, {paper:?}: {marks}");
            }
            for page in &pages {
                let texts = texts_in(page, paper.frame());
                for (i, (a, bounds)) in texts.iter().enumerate() {
                    for (b, other) in &texts[..i] {
                        let over = bounds.overlap(*other);
                        assert!(
                            over < 0.01,
                            "{name}, {paper:?}, {}: {a:?} over {b:?} ({over:.1} mm²)",
                            page.name
                        );
                    }
                }
                let Some(scale) = page.scale else { continue };
                let outline =
                    |m: &&Mark| matches!(m, Mark::Path { pen: Pen::Cut, closed: true, .. });
                let sizes = plans.iter().flat_map(|p| &p.sheets).map(|s| s.size);
                let sizes: Vec<(f64, f64)> = sizes.collect();
                let mut drawn = 0;
                for covered in page.ink.marks.iter().filter(outline).map(Mark::bounds) {
                    let (w, l) = (covered.width() * scale, covered.height() * scale);
                    let to_scale =
                        sizes.iter().any(|s| (s.0 - w).abs() < 0.1 && (s.1 - l).abs() < 0.1);
                    drawn += usize::from(to_scale);
                }
                assert!(drawn > 0, "{name}, {paper:?}, {}: no sheet to scale", page.name);
            }
        }
    }
}
