//! Setting out, marks, rods and labels as the crew gets them: figures that agree with one another and with geometry, sheets that
//! keep their parts apart.

use std::sync::Arc;

use layout_core::document::{Face, Job, Node, Wall, read};
use layout_core::layout::Layout;
use layout_core::math::PlanPoint;
use layout_core::setout::floor::floor_plan;
use layout_core::setout::marks::{On, marks};
use sheets::export::{Meta, pdf};
use sheets::page::{LabelSheet, Mark, Page, Paper, Part, PrintOptions, print_set};
use sheets::picture::{Fill, Pen, Rect};

fn shipped(name: &str) -> Job {
    let path = format!("{}/../../assets/jobs/{name}.ron", env!("CARGO_MANIFEST_DIR"));
    read(&std::fs::read_to_string(path).unwrap()).unwrap()
}

const JOBS: [&str; 4] = ["boat-club-annexe", "sail-loft", "l-shaped-pair", "sixteen-inch-centres"];

fn only(job: &Job, paper: Paper, only: Vec<Part>) -> Vec<Page> {
    let options =
        PrintOptions { paper, date: "2026-05-04".into(), only, ..PrintOptions::default() };
    print_set(job, &Layout::of(job), &options)
}

/// Two circles round the fixed points cross at the point the tapes are for: Euclid, not our own two_tapes.
#[test]
fn tapes_find_the_ends_of_every_line() {
    let mut seen = 0;
    for name in JOBS {
        let job = shipped(name);
        let floor = floor_plan(&job, &Layout::of(&job));
        assert_eq!(floor.lines.len(), job.walls.len(), "{name}");
        for line in &floor.lines {
            for (end, tapes) in line.ends.iter().zip(&line.tapes) {
                let Some(t) = tapes else { continue };
                let (a, b) = (floor.fixed[t.from.0].at, floor.fixed[t.from.1].at);
                let d = (b - a).norm();
                let x = (t.pulled.0.powi(2) - t.pulled.1.powi(2) + d * d) / (2.0 * d);
                let y = (t.pulled.0.powi(2) - x * x).max(0.0).sqrt();
                let u = (b - a) / d;
                let crossing = |side: f64| {
                    PlanPoint::new(a.x + u.x * x - u.y * y * side, a.y + u.y * x + u.x * y * side)
                };
                let off = (crossing(1.0) - end).norm().min((crossing(-1.0) - end).norm());
                assert!(off < 0.01, "{name}, wall {}: {off}", line.wall);
                assert!(
                    t.crossing.to_degrees() > 25.0,
                    "{name}, wall {}: a poor crossing",
                    line.wall
                );
                seen += 1;
            }
        }
    }
    assert!(seen > 20, "{seen}");
}

/// In a room of four corners every corner sees every point, along its sides too: no two tapes cross nearer to square than those told.
#[test]
fn the_two_tapes_told_cross_nearest_to_square() {
    let job = shipped("boat-club-annexe");
    let floor = floor_plan(&job, &Layout::of(&job));
    assert_eq!(floor.fixed.len(), 4);
    for line in &floor.lines {
        for (end, tapes) in line.ends.iter().zip(&line.tapes) {
            let toward = |f: &PlanPoint| (f.y - end.y).atan2(f.x - end.x);
            let away: Vec<f64> = floor
                .fixed
                .iter()
                .map(|f| f.at)
                .filter(|f| (f - end).norm() > 1.0)
                .map(|f| toward(&f))
                .collect();
            let pairs = (0..away.len()).flat_map(|i| (0..i).map(move |j| (i, j)));
            // The sine of the angle between two is 1 where they are square.
            let best = pairs.map(|(i, j)| (away[i] - away[j]).sin().abs()).fold(0.0, f64::max);
            let told = tapes.as_ref().expect("two tapes").crossing.sin();
            assert!((told - best).abs() < 1e-6, "wall {}: {told}, not {best}", line.wall);
        }
    }
}

/// A splay of 45° across a square corner has set-backs of its face over √2; any splay across a square corner obeys Pythagoras.
#[test]
fn set_backs_of_a_splay_obey_pythagoras() {
    let job = shipped("sail-loft");
    let floor = floor_plan(&job, &Layout::of(&job));
    assert_eq!(floor.splays.len(), 1);
    let splay = &floor.splays[0];
    let [a, b] = splay.set_backs;
    assert!((a.hypot(b) - splay.face).abs() < 0.01);
    assert!((a - splay.face / 2.0_f64.sqrt()).abs() < 0.01);
}

#[test]
fn three_four_five_is_square_and_fits() {
    for name in JOBS {
        let job = shipped(name);
        let layout = Layout::of(&job);
        for s in floor_plan(&job, &layout).squares {
            let p = s.proof;
            assert!((p.first.hypot(p.second) - p.across).abs() < 1e-6, "{name}, {}", s.wall);
            let line = layout.wall(&s.wall).unwrap();
            assert!(p.first <= line.spec.length + line.spec.frame.length(), "{name}, {}", s.wall);
        }
    }
}

/// The figures of the axes are where the frames stand: a wall along y has both its faces among those along x.
#[test]
fn ordinates_are_the_faces_of_frames() {
    let job = shipped("boat-club-annexe");
    let layout = Layout::of(&job);
    let floor = floor_plan(&job, &layout);
    let wall = layout.walls.iter().find(|w| w.place.along.x.abs() < 1e-6).unwrap();
    for n in [wall.spec.frame.low, wall.spec.frame.high] {
        let x = wall.place.plan(0.0, n).x - job.datum.at.x;
        assert!(floor.axes[0].iter().any(|o| (o.at - x).abs() < 0.01), "{x}");
    }
    let lines = floor.axes.iter().flatten().filter(|o| o.is_line).count();
    assert!(lines >= 5, "{lines}");
}

/// From the start and from the end every mark comes to the length of the frame; what stands full height is on both plates.
#[test]
fn marks_add_up_from_both_ends() {
    for name in JOBS {
        for wall in Layout::of(&shipped(name)).walls {
            let length = wall.spec.along().length();
            let marks = marks(&wall.spec, &wall.frame);
            assert!(marks.iter().all(|m| (m.at + m.back - length).abs() < 1e-9));
            assert!(
                marks.iter().all(|m| m.along_head >= m.at - 1e-6),
                "{name}: a slope is never shorter"
            );
            let running = wall.frame.running(&wall.spec).len();
            assert_eq!(marks.iter().filter(|m| m.on == On::Both).count(), running, "{name}");
        }
    }
}

/// Nothing over the border, no part over another, no lettering over other lettering, on every new kind of sheet.
#[test]
fn nothing_lies_over_anything_else() {
    for name in JOBS {
        let job = shipped(name);
        let layout = Layout::of(&job);
        let wall = layout.walls[0].name().clone();
        for paper in [Paper::A4, Paper::A3] {
            let of_wall = [Part::Rod(wall.clone()), Part::Crew(wall.clone())];
            let all = [Part::SettingOut, Part::Marks, Part::Junctions].into_iter().chain(of_wall);
            for part in all {
                let set = only(&job, paper, vec![part.clone()]);
                assert!(!set.is_empty(), "{name}, {part:?}");
                for page in set {
                    let at = format!("{name}, {paper:?}, {}", page.name);
                    inside(&page, paper.frame(), &at);
                    apart(&page, &at);
                }
            }
        }
    }
}

fn inside(page: &Page, frame: Rect, at: &str) {
    for mark in &page.ink.marks {
        assert!(frame.grown(0.01).covers(mark.bounds()), "{at}: {mark:?} runs over the border");
    }
    for (i, part) in page.parts.iter().enumerate() {
        for other in &page.parts[..i] {
            assert!(part.overlap(*other) < 0.01, "{at}: {part:?} lies over {other:?}");
        }
    }
}

/// No two boxes round capitals cross, whichever way they are turned.
fn apart(page: &Page, at: &str) {
    let crossing = crossing(page, at);
    assert!(crossing.is_empty(), "{}", crossing.join("\n"));
}

/// Every two boxes round capitals that cross, in words.
fn crossing(page: &Page, at: &str) -> Vec<String> {
    let texts: Vec<(&str, Rect)> = page.ink.marks.iter().filter_map(tight).collect();
    let mut found = Vec::new();
    for (i, (a, bounds)) in texts.iter().enumerate() {
        for (b, other) in &texts[..i] {
            let over = bounds.overlap(*other);
            if over >= 0.05 {
                found.push(format!("{at}: {a:?} over {b:?} ({over:.2} mm²)"));
            }
        }
    }
    found
}

fn tight(mark: &Mark) -> Option<(&str, Rect)> {
    let Mark::Text { at, text, height, weight, turn, .. } = mark else { return None };
    let width = weight.width(text, *height);
    let (sin, cos) = turn.sin_cos();
    // Lettering aslant has no upright box of its own.
    if sin.abs() > 0.01 && cos.abs() > 0.01 {
        return None;
    }
    let corner = |x: f64, up: f64| [at[0] + x * cos - up * sin, at[1] - x * sin - up * cos];
    let corners =
        [corner(0.0, 0.0), corner(width, 0.0), corner(width, *height), corner(0.0, *height)];
    Some((text, Rect::round(corners)))
}

/// Timber on a rod is as thick as it is, and where it is: 46 mm of paper for a stud of 46, the second mark at its own distance.
#[test]
fn rods_are_full_size() {
    let job = shipped("one-wall-with-door");
    let layout = Layout::of(&job);
    let wall = &layout.walls[0];
    let pages = only(&job, Paper::A4, vec![Part::Rod(wall.name().clone())]);
    assert!(pages.iter().all(|p| p.scale == Some(1.0)));
    let is_stud = |m: &&Mark| {
        matches!(m, Mark::Path { closed: true, fill: Fill::Timber, pen: Pen::Outline, .. })
    };
    let first: Vec<Rect> = pages[0].ink.marks.iter().filter(is_stud).map(Mark::bounds).collect();
    assert!((first[0].width() - wall.spec.makeup.timber.thickness()).abs() < 1e-9);
    let running = wall.frame.running(&wall.spec);
    let strip = first[0].min[0] - running[0].at;
    assert!((strip - Paper::A4.area().min[0]).abs() < 1e-9);
}

/// Every piece has a label, inside its place, with its mark and its length.
#[test]
fn every_piece_has_a_label() {
    for name in JOBS {
        let job = shipped(name);
        let layout = Layout::of(&job);
        for labels in LabelSheet::USUAL {
            let options =
                PrintOptions { only: vec![Part::Labels], labels, ..PrintOptions::default() };
            let pages = print_set(&job, &layout, &options);
            let pieces: usize = layout.framed().map(|p| p.frame().members.len()).sum();
            assert_eq!(pages.iter().map(|p| p.parts.len()).sum::<usize>(), pieces, "{name}");
            for page in &pages {
                assert_eq!((page.width, page.height), labels.sheet);
                apart(page, &format!("{name}, {}", labels.label()));
                for mark in &page.ink.marks {
                    let covers = |p: &Rect| p.grown(-1.0).covers(mark.bounds());
                    assert!(page.parts.iter().any(covers), "{name}, {}: {mark:?}", labels.label());
                }
            }
            let texts: Vec<&str> = pages
                .iter()
                .flat_map(|p| &p.ink.marks)
                .filter_map(|m| match m {
                    Mark::Text { text, .. } => Some(text.as_str()),
                    _ => None,
                })
                .collect();
            for part in layout.framed() {
                for m in &part.frame().members {
                    assert!(texts.contains(&m.full_mark(part.name()).as_str()));
                }
            }
        }
    }
}

/// The set is the same whoever draws which part, and can be stopped.
#[test]
fn a_set_is_the_same_every_time_and_can_be_stopped() {
    let job = shipped("boat-club-annexe");
    let layout = Layout::of(&job);
    let options = PrintOptions::default();
    let once = print_set(&job, &layout, &options);
    assert!(print_set(&job, &layout, &options) == once);
    let progress = sheets::page::Progress::default();
    assert!(sheets::page::print_set_telling(&job, &layout, &options, &progress).is_some());
    let (done, count) = progress.so_far();
    assert!(done == count && count == Part::usual(&layout).len());
    progress.stop();
    assert!(sheets::page::print_set_telling(&job, &layout, &options, &progress).is_none());
}

/// Both demonstration jobs, every sheet there is, on all four papers: inside the border, no part over another, nothing written over
/// anything else; and a crew sheet is one page.
#[test]
fn every_sheet_of_the_demonstrations_is_clear_on_every_paper() {
    let mut crossings = Vec::new();
    for name in ["boat-club-annexe", "sail-loft"] {
        let job = shipped(name);
        // Labels have paper of their own.
        let mut all = Part::all(&Layout::of(&job));
        all.retain(|part| *part != Part::Labels);
        for paper in [Paper::A4, Paper::A3, Paper::A4Upright, Paper::A3Upright] {
            let pages = only(&job, paper, all.clone());
            for page in &pages {
                let at = format!("{name}, {paper:?}, {}", page.name);
                // Plans lie on every paper.
                let lies = page.title.starts_with("Plan") || page.title.starts_with("Setting out");
                let paper = if lies { paper.lying() } else { paper };
                assert_eq!((page.width, page.height), paper.size(), "{at}");
                inside(page, paper.frame(), &at);
                crossings.extend(crossing(page, &at));
            }
            let crew = pages.iter().filter(|p| p.title.starts_with("Crew sheet")).count();
            let walls = all.iter().filter(|p| matches!(p, Part::Crew(_))).count();
            assert_eq!(crew, walls, "{name}, {paper:?}");
        }
    }
    assert!(crossings.is_empty(), "{}", crossings.join("\n"));
}

/// Elevations are at the scale that is asked for where it fits, and from the face that is asked for.
#[test]
fn scale_and_face_are_as_asked() {
    let job = shipped("one-wall-with-door");
    let layout = Layout::of(&job);
    let wall = layout.walls[0].name().clone();
    for (scale, comes) in [(Some(50.0), 50.0), (Some(100.0), 100.0), (Some(1.0), 20.0)] {
        let options = PrintOptions {
            only: vec![Part::Wall(wall.clone())],
            face: Face::Left,
            scale,
            ..PrintOptions::default()
        };
        let page = &print_set(&job, &layout, &options)[0];
        let at = page.scale.unwrap();
        assert!(at == comes || (scale == Some(1.0) && at > 1.0), "{scale:?} came out as {at}");
        let says = |m: &Mark| matches!(m, Mark::Text { text, .. } if text.starts_with("seen on its left face"));
        assert!(page.ink.marks.iter().any(says));
    }
}

/// A wall of 40 m is broken at studs: every part at 1:50 with its figures, match lines of neighbours at the same stud.
#[test]
fn a_long_wall_is_broken_at_studs() {
    let node = |name: &str, x: f64| Node { name: name.into(), at: PlanPoint::new(x, 0.0) };
    let wall = Wall::new("A", "1", "2", "Partition 97");
    let job = Job {
        nodes: vec![node("1", 0.0), node("2", 40_000.0)],
        walls: vec![Arc::new(wall)],
        ..Job::default()
    };
    for paper in [Paper::A4, Paper::A3, Paper::A4Upright] {
        let set = only(&job, paper, vec![Part::Wall("A".into())]);
        let parts: Vec<&Page> = set.iter().filter(|p| p.title.contains(", part ")).collect();
        assert!(parts.len() > 1, "{paper:?}");
        let lines = |page: &Page| -> Vec<String> {
            let texts = page.ink.marks.iter().filter_map(|m| match m {
                Mark::Text { text, .. } => text.strip_prefix("match line "),
                _ => None,
            });
            texts.map(|t| t.split(':').next().unwrap_or_default().to_string()).collect()
        };
        for pair in parts.windows(2) {
            assert_eq!(lines(pair[0]).last(), lines(pair[1]).first(), "{paper:?}");
        }
        for page in &parts {
            assert_eq!(page.scale, Some(50.0));
            let at = format!("{paper:?}, {}", page.name);
            inside(page, paper.frame(), &at);
            apart(page, &at);
        }
        // Every running figure is on some part.
        let layout = Layout::of(&job);
        for m in layout.walls[0].frame.running(&layout.walls[0].spec) {
            let text = layout.walls[0].spec.units.show(m.at);
            let is_on = |page: &&&Page| {
                page.ink.marks.iter().any(|m| matches!(m, Mark::Text { text: t, .. } if *t == text))
            };
            assert!(parts.iter().find(is_on).is_some(), "{paper:?}: {text} is on no part");
        }
    }
}

/// One junction of each kind: those of the demonstration are told apart, and places that are built alike share one.
#[test]
fn junctions_are_drawn_once_a_kind() {
    let job = shipped("boat-club-annexe");
    let layout = Layout::of(&job);
    let kinds = sheets::views::junction_kinds(&job, &layout);
    let places: usize = kinds.iter().map(Vec::len).sum();
    assert!(kinds.len() > 2 && places >= kinds.len(), "{} kinds, {places} places", kinds.len());
    let words: Vec<&String> = kinds.iter().flatten().flat_map(|j| &j.what).collect();
    assert!(words.iter().any(|w| w.contains("butts")), "{words:?}");
    for page in only(&job, Paper::A4, vec![Part::Junctions]) {
        assert_eq!(page.scale, Some(5.0));
        // A stud of 46 is 9.2 on paper.
        let is_stud = |m: &Mark| {
            let r = m.bounds();
            matches!(m, Mark::Path { closed: true, .. })
                && ((r.width() - 9.2).abs() < 1e-6 || (r.height() - 9.2).abs() < 1e-6)
        };
        assert!(page.ink.marks.iter().any(is_stud), "{}", page.name);
    }
}

/// What a reader of the screen is told: every page has its drawing and its headings.
#[test]
fn drawings_are_told_apart_from_lists() {
    let job = shipped("one-wall-with-door");
    let pages = only(&job, Paper::A4, Vec::new());
    let wall = pages.iter().find(|p| p.title == "Wall A").unwrap();
    assert_eq!(wall.drawings.len(), 2, "section and elevation");
    assert!(wall.drawings.iter().all(|d| d.end <= wall.ink.marks.len()));
    let meta = Meta { title: job.title.clone(), date: "2026-05-04".into() };
    let bytes = pdf(&pages, &meta).unwrap();
    let text = String::from_utf8_lossy(&bytes);
    assert!(text.contains("/StructTreeRoot") && text.contains("/Marked true"));
}
