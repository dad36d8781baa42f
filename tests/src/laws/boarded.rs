//! Laws of boards: they cover each face once and no more, are no larger than their sheets, and are joined where they may be.

use layout_core::boards::{LIFT, Layer, Shape};
use layout_core::document::{Face, Job, Lay};
use layout_core::frame::Row;
use layout_core::layout::{Layout, WallLayout};
use layout_core::math::{PlanPoint, area, left_part};
use layout_core::snag::Code;
use layout_core::span::Span;

use super::{NEAR, tries};
use crate::random::{self, Random};
use crate::wild;

fn law(rule: &str, complaint: impl Fn(&WallLayout, &Layer, u64) -> Option<String>) {
    let mut broken = Vec::new();
    let mut layers = 0;
    for seed in 0..tries() {
        for job in [random::job(seed), wild::job(seed)] {
            let layout = Layout::of(&job);
            for wall in &layout.walls {
                for layer in &wall.boards.layers {
                    layers += 1;
                    if let Some(what) = complaint(wall, layer, seed) {
                        let face = layer.face;
                        broken.push(format!("seed {seed}: {} {face:?}: {what}", wall.name()));
                    }
                }
            }
        }
    }
    assert!(layers as u64 > tries(), "only {layers} layers");
    assert!(
        broken.is_empty(),
        "{rule}; broken by {} of {layers} layers:\n  {}",
        broken.len(),
        broken[..broken.len().min(12)].join("\n  ")
    );
}

/// True when a point is inside a closed line, by how often a ray from it crosses.
fn inside(outline: &[[f64; 2]], [x, y]: [f64; 2]) -> bool {
    let next = outline.iter().cycle().skip(1);
    let crossings = outline.iter().zip(next).filter(|(a, b)| {
        (a[1] > y) != (b[1] > y) && x < a[0] + (b[0] - a[0]) * (y - a[1]) / (b[1] - a[1])
    });
    crossings.count() % 2 == 1
}

fn covers(shape: &Shape, p: [f64; 2]) -> bool {
    inside(&shape.outline, p) && !shape.holes.iter().any(|h| inside(h, p))
}

/// What of the face should be board: between the ends of a run, over the gap, under the head, not in an opening.
/// `None` too near an edge to say.
fn is_board(wall: &WallLayout, layer: &Layer, [s, z]: [f64; 2]) -> Option<bool> {
    let spec = &wall.spec;
    let near = std::cell::Cell::new(false);
    let within = |span: Span, v: f64| {
        let edge = (v - span.low).abs() < 0.1 || (v - span.high).abs() < 0.1;
        near.set(near.get() || edge);
        span.contains(v)
    };
    let (runs, finish) = match layer.face {
        Face::Right => (&spec.faces[0], &spec.makeup.right),
        Face::Left => (&spec.faces[1], &spec.makeup.left),
    };
    let mut board = false;
    for run in runs {
        let along = run.layers[layer.layer];
        let low = finish.floor_gap.max(spec.bed.range(along).low);
        let under = Span { low, high: spec.head.at(s) };
        let step = Span { low, high: spec.head.before(s) };
        let (by_run, by_height) = (within(along, s), within(under, z));
        // Boards that are a little short are lifted.
        near.set(near.get() || (low..=low + LIFT + 0.1).contains(&z));
        near.set(near.get() || by_height != step.contains(z));
        board |= by_run && by_height;
    }
    for hole in &spec.holes {
        let low = hole.sill.unwrap_or(f64::NEG_INFINITY);
        let (by_width, by_height) =
            (within(hole.doorway(), s), within(Span { low, high: hole.top }, z));
        board &= !(by_width && by_height);
    }
    (!near.get()).then_some(board)
}

#[test]
fn boards_cover_each_face_once() {
    law(
        "every point of a face that should be boarded is under one board, and no other",
        |wall, layer, seed| {
            let mut r = Random::new(seed);
            let reach = wall.spec.reach().grown(100.0);
            let high = wall.spec.head.range(reach).high + 50.0;
            (0..150).find_map(|_| {
                let share = |r: &mut Random| r.mm(0.0, 1e6) / 1e6;
                let p = [
                    reach.low + reach.length() * share(&mut r),
                    -50.0 + (high + 50.0) * share(&mut r),
                ];
                let wanted = is_board(wall, layer, p)?;
                let over = layer.pieces.iter().filter(|b| covers(&b.shape, p)).count();
                (over != usize::from(wanted)).then(|| format!("{over} boards at {p:?}"))
            })
        },
    );
}

#[test]
fn no_board_is_larger_than_its_sheet() {
    law("a board is cut from a sheet", |_, layer, _| {
        layer.pieces.iter().find_map(|p| {
            let (across, along) = p.blank;
            let fits = across <= layer.sheet.0 + NEAR && along <= layer.sheet.1 + NEAR;
            let (s, z) = (p.shape.stations().length(), p.shape.heights().length());
            let lies = match layer.board.lay {
                Lay::Upright => (s, z),
                Lay::Across => (z, s),
            };
            let alike = (lies.0 - across).abs() < NEAR && (lies.1 - along).abs() < NEAR;
            (!fits || !alike).then(|| format!("board {}: {across} x {along}", p.number))
        })
    });
}

#[test]
fn boards_are_numbered_from_one_on_each_face() {
    law("numbers run on over the layers of a face", |wall, layer, _| {
        let of_face = wall.boards.layers.iter().filter(|l| l.face == layer.face);
        let numbers: Vec<usize> = of_face.flat_map(|l| &l.pieces).map(|p| p.number).collect();
        (numbers != (1..=numbers.len()).collect::<Vec<_>>()).then(|| format!("{numbers:?}"))
    });
}

/// Strips over free ends and in reveals lie in no timber, in no board of a face and in no other strip, touch the timber or
/// the strip under them, and come out of a sheet.
#[test]
fn strips_lie_on_the_frame_and_in_nothing() {
    let mut broken = Vec::new();
    let mut strips = 0;
    for seed in 0..tries() {
        let layout = Layout::of(&random::job(seed));
        for wall in &layout.walls {
            let doorways: Vec<Span> = wall.spec.holes.iter().map(|h| h.span).collect();
            let clash = doorways.iter().enumerate();
            if clash.clone().any(|(i, a)| doorways[i + 1..].iter().any(|b| a.overlaps(*b))) {
                continue;
            }
            for (i, strip) in wall.boards.strips.iter().enumerate() {
                strips += 1;
                let shared = |other: [Span; 3], by: f64| {
                    (0..3).all(|k| strip.place[k].grown(by).overlaps(other[k].grown(by)))
                };
                let name = format!("{} {:?}", wall.name(), strip.closes);
                let mut say = |what: String| broken.push(format!("seed {seed}: {name}: {what}"));
                let solid = |m: &layout_core::frame::Member| {
                    [m.solid.stations(), m.solid.across(), m.solid.heights()]
                };
                let under = wall.boards.strips.iter().map(|s| s.place);
                let bodies: Vec<[Span; 3]> = wall.frame.members.iter().map(solid).collect();
                if bodies.iter().any(|b| shared(*b, -0.1)) && wall.spec.head.is_level() {
                    say("lies in timber".into());
                }
                if wall.boards.strips[i + 1..].iter().any(|s| shared(s.place, -0.1)) {
                    say("lies in another strip".into());
                }
                if !bodies.into_iter().chain(under).any(|b| b != strip.place && shared(b, 0.1)) {
                    say("touches nothing".into());
                }
                let middle = [strip.place[0].centre(), strip.place[2].centre()];
                for layer in &wall.boards.layers {
                    let pieces = layer.pieces.iter().filter(|p| covers(&p.shape, middle));
                    let reveal = strip.closes.on() == layout_core::boards::On::Reveal;
                    if reveal && pieces.count() > 0 {
                        say(format!("lies in a board of the {:?} face", layer.face));
                    }
                }
                let (w, l) = strip.blank();
                if w > strip.sheet.0 + NEAR || l > strip.sheet.1 + NEAR {
                    say(format!("{w} x {l} out of {:?}", strip.sheet));
                }
            }
        }
    }
    assert!(strips as u64 > tries() / 2, "only {strips} strips");
    assert!(broken.is_empty(), "broken by {}:\n  {}", broken.len(), broken.join("\n  "));
}

/// What boards and frames take up on the plan, with a name for each.
fn footprints(layout: &Layout) -> Vec<(String, usize, Vec<PlanPoint>)> {
    let mut list = Vec::new();
    for (index, wall) in
        layout.walls.iter().enumerate().filter(|(_, w)| !w.frame.members.is_empty())
    {
        let (spec, place) = (&wall.spec, wall.place);
        let plan = |corners: [(f64, f64); 4]| corners.map(|(s, n)| place.plan(s, n)).to_vec();
        for [start, end] in spec.runs() {
            let Span { low, high } = spec.frame;
            let corners = [(start[0], low), (end[0], low), (end[1], high), (start[1], high)];
            list.push((format!("frame of {}", wall.name()), index, plan(corners)));
        }
        for (runs, face) in spec.faces.iter().zip([Face::Right, Face::Left]) {
            let (finish, frame, out) = match face {
                Face::Right => (&spec.makeup.right, spec.frame.low, -1.0),
                Face::Left => (&spec.makeup.left, spec.frame.high, 1.0),
            };
            for run in runs {
                let mut from = frame;
                for (along, board) in run.layers.iter().zip(&finish.boards) {
                    let to = from + out * board.thickness;
                    let (low, high) = (from.min(to), from.max(to));
                    let corners = [
                        (along.low, low),
                        (along.high, low),
                        (along.high, high),
                        (along.low, high),
                    ];
                    list.push((
                        format!("{face:?} boards of {}", wall.name()),
                        index,
                        plan(corners),
                    ));
                    from = to;
                }
            }
        }
    }
    list
}

/// Area two convex outlines share, mm².
fn shared(a: &[PlanPoint], b: &[PlanPoint]) -> f64 {
    let sides = (0..b.len()).map(|i| (b[i], b[(i + 1) % b.len()] - b[i]));
    let common = sides.fold(a.to_vec(), |rest, (p, d)| left_part(&rest, p, d));
    area(&common)
}

/// Walls drawn so that there is a wedge, or so that they lie in each other, are told so and have no boards worth looking at.
fn is_odd(layout: &Layout) -> bool {
    let odd = [Code::AngledJunction, Code::WallTooShort];
    layout.snags.iter().any(|s| odd.contains(&s.code))
}

fn no_two_overlap(rule: &str, jobs: impl Fn(u64) -> Job) {
    let mut broken = Vec::new();
    let mut looked_at = 0;
    for seed in 0..tries() {
        let layout = Layout::of(&jobs(seed));
        if is_odd(&layout) {
            continue;
        }
        let list = footprints(&layout);
        for (i, (a, wall, shape)) in list.iter().enumerate() {
            for (b, _, other) in list[i + 1..].iter().filter(|(_, w, _)| w != wall) {
                looked_at += 1;
                let common = shared(shape, other);
                if common > 30.0 {
                    broken.push(format!("seed {seed}: {a} and {b} share {common:.0} mm²"));
                }
            }
        }
    }
    assert!(looked_at as u64 > tries(), "only {looked_at} pairs");
    assert!(
        broken.is_empty(),
        "{rule}; broken {} times in {looked_at} pairs:\n  {}",
        broken.len(),
        broken[..broken.len().min(12)].join("\n  ")
    );
}

#[test]
fn boards_of_different_walls_do_not_overlap() {
    no_two_overlap("boards and frames of two walls are not in one place", random::job);
}

/// A corner at any angle, mitred, and a wall that meets one of its walls at any other.
fn corner(seed: u64) -> Job {
    let mut r = Random::new(seed);
    let (turn, slant) = (r.mm(-110.0, 110.0).to_radians(), r.mm(50.0, 130.0).to_radians());
    let boards = ["12.5", "12.5+12.5", "12.5/15", "15+12.5/12.5"][r.below(4)];
    let line = ["left", "centre", "right"][r.below(3)];
    let (bx, by) = (3000.0 + 2500.0 * turn.cos(), 2500.0 * turn.sin());
    let away = if r.once_in(2) { 1.0 } else { -1.0 };
    let (cx, cy) = (1300.0 + 2000.0 * slant.cos(), 2000.0 * slant.sin() * away);
    let text = format!(
        "makeup P timber 46x97 centres 400 boards {boards}\nwall A (0,0)->(3000,0) {line} end mitre\n\
         wall B (3000,0)->({bx:.1},{by:.1}) {line} start mitre\nwall C (1300,0)->({cx:.1},{cy:.1})\n"
    );
    crate::fixture::job(&text).unwrap_or_else(|e| panic!("{e}:\n{text}"))
}

#[test]
fn boards_do_not_overlap_in_corners_at_any_angle() {
    no_two_overlap("boards and frames of two walls are not in one place", corner);
}

#[test]
fn rows_come_behind_level_joints() {
    law(
        "a row that the boards need is where a board on the frame is joined level",
        |wall, layer, _| {
            if layer.layer != 0 {
                return None;
            }
            let noggins = &wall.spec.makeup.noggins;
            let room = wall.spec.head.lowest() - noggins_depth(wall);
            layer.joints.iter().filter(|j| j.along.length() > NEAR).find_map(|joint| {
                let height = joint.heights.low;
                let near = |by: f64| {
                    let has = |r: &&Row| (r.height - height).abs() < by;
                    wall.frame.rows.iter().find(has)
                };
                // Where another row lies so near that two would overlap, or there is no room, none comes.
                let fits = height < room && height > noggins_depth(wall);
                let missing = noggins.for_boards && fits && near(noggins_depth(wall)).is_none();
                missing.then(|| format!("no row behind the joint at {height}"))
            })
        },
    );
}

/// More than a noggin takes up in height, whichever way it lies, and the plates with it.
fn noggins_depth(wall: &WallLayout) -> f64 {
    let (timber, makeup) = (&wall.spec.makeup.timber, &wall.spec.makeup);
    let plates = f64::from(makeup.head_plates.max(makeup.sole_plates)) * timber.thickness();
    timber.depth() + plates + 200.0
}
