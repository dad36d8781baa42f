//! What a drag amounts to and where it snaps, on a small room laid out by the core.

use std::sync::Arc;

use layout_core::document::{
    Behind, Corner, Door, Edit, Face, Fitting, Head, Hold, HoldTo, Job, MeasuredFrom, Node,
    Opening, OpeningKind, OpeningStuds, Point, PointKind, RowRule, Rows, Underlay, Wall, WallEnd,
};
use layout_core::frame::{Member, Role, Row, RowFor};
use layout_core::id::{ItemRef, Surface};
use layout_core::layout::Layout;
use layout_core::math::{PlanPoint, round_to};

use super::{Gesture, Grip, Snapping, Space, outline_through};

fn at(x: f64, y: f64) -> PlanPoint {
    PlanPoint::new(x, y)
}

/// A room of 4.6 × 5.2 m with wall A across it at y = 3000 and a door held 2300 from its start.
fn room() -> Job {
    let mut job = Job::default();
    let corner = |x, y| Corner { at: at(x, y), thickness: 140.0, gaps: vec![] };
    job.shell.outline =
        vec![corner(0.0, 0.0), corner(4600.0, 0.0), corner(4600.0, 5200.0), corner(0.0, 5200.0)];
    job.nodes =
        [("1", 0.0, 3000.0), ("2", 4600.0, 3000.0), ("3", 1750.0, 3000.0), ("4", 1750.0, 0.0)]
            .map(|(name, x, y)| Node { name: name.into(), at: at(x, y) })
            .into();
    let makeup = job.makeups[0].name.clone();
    let mut a = Wall::new("A", "1", "2", makeup.clone());
    let hold = Hold { from: WallEnd::Start, to: HoldTo::Near, distance: 2300.0 };
    a.openings.push(Opening::new("D1", OpeningKind::Door(Door::default()), hold));
    let hold = Hold { from: WallEnd::End, to: HoldTo::Far, distance: 1400.0 };
    let light = OpeningKind::BorrowedLight { width: 600.0, height: 400.0, sill: 1500.0 };
    a.openings.push(Opening::new("L1", light, hold));
    let mut socket = Point::new("X1", PointKind::Socket, Face::Right, 500.0, 450.0);
    socket.from = MeasuredFrom::End;
    a.points.push(socket);
    a.fittings.push(Fitting {
        name: "Rail".into(),
        face: Face::Right,
        from: MeasuredFrom::Start,
        distance: 900.0,
        width: 600.0,
        depth: Fitting::USUAL_DEPTH,
        bottom: 800.0,
        top: 900.0,
        fixings: vec![850.0],
        behind: Behind::Noggin,
        tolerance: Fitting::USUAL_TOLERANCE,
    });
    job.walls = vec![Arc::new(a), Arc::new(Wall::new("B", "3", "4", makeup))];
    job
}

fn row_at(height: f64) -> Row {
    let along = layout_core::span::Span::from(0.0, 4600.0);
    Row { height, along, rule: RowRule::at(height), why: RowFor::Asked }
}

fn drag(grip: Grip, space: Space, from: PlanPoint, now: PlanPoint) -> Gesture {
    Gesture { now, ..Gesture::new(grip, space, from) }
}

fn typed(text: &str, gesture: Gesture) -> Gesture {
    Gesture { typed: text.into(), ..gesture }
}

fn after(gesture: &Gesture, job: &Job) -> Job {
    gesture.edit(job).expect("an edit").apply(job)
}

fn distance(job: &Job, opening: &str) -> f64 {
    job.opening(&opening.into()).expect("the opening").1.hold.distance
}

#[test]
fn an_opening_follows_the_hand_along_its_wall_whichever_way_it_is_held() {
    let job = room();
    let d1 =
        drag(Grip::Opening("D1".into()), Space::Elevation, at(2500.0, 900.0), at(2460.0, 200.0));
    assert_eq!(distance(&after(&d1, &job), "D1"), 2260.0);
    let l1 = drag(Grip::Opening("L1".into()), Space::Plan, at(3500.0, 3000.0), at(3600.0, 2900.0));
    assert_eq!(
        distance(&after(&l1, &job), "L1"),
        1300.0,
        "held from the end, it comes nearer to it"
    );
    let exact = typed("=3600/3-46", d1);
    assert_eq!(distance(&after(&exact, &job), "D1"), 1154.0);
    assert_eq!(exact.moved(&job), "−1\u{2009}146 mm");
}

#[test]
fn sill_and_top_move_apart_and_never_through_each_other() {
    let job = room();
    let sill = |y| drag(Grip::Sill("L1".into()), Space::Elevation, at(0.0, 1500.0), at(0.0, y));
    let size = |g: &Gesture| match after(g, &job).opening(&"L1".into()).expect("L1").1.kind {
        OpeningKind::BorrowedLight { height, sill, .. } => (sill, height),
        _ => panic!("a light"),
    };
    assert_eq!(size(&sill(1300.0)), (1300.0, 600.0));
    let (low, height) = size(&sill(5000.0));
    assert!(height > 0.0 && low + height == 1900.0);
    let top = drag(Grip::Top("L1".into()), Space::Elevation, at(0.0, 1900.0), at(0.0, 2000.0));
    assert_eq!(size(&top), (1500.0, 500.0));
    assert_eq!(size(&typed("2100", top)), (1500.0, 600.0));
    let door = drag(Grip::Top("D1".into()), Space::Elevation, at(0.0, 2027.0), at(0.0, 2100.0));
    assert_eq!(door.edit(&job), None, "a door's top follows from its leaf");
}

#[test]
fn nodes_walls_and_sides_move_and_a_number_gives_the_distance() {
    let job = room();
    let node = drag(Grip::Node("4".into()), Space::Plan, at(1750.0, 0.0), at(1900.0, 200.0));
    assert_eq!(after(&node, &job).node(&"4".into()).expect("4").at, at(1900.0, 200.0));
    let exact = typed("500", node.clone());
    assert_eq!(
        after(&exact, &job).node(&"4".into()).expect("4").at,
        at(2050.0, 400.0),
        "3, 4, 5 on"
    );
    let xy = typed("1200, 2.4m", node);
    assert_eq!(after(&xy, &job).node(&"4".into()).expect("4").at, at(1200.0, 2400.0));
    let wall = drag(Grip::Wall("A".into()), Space::Plan, at(900.0, 3000.0), at(950.0, 2800.0));
    let moved = after(&wall, &job);
    assert!(
        ["1", "2", "3"].iter().all(|n| moved.node(&(*n).into()).expect("a node").at.y == 2800.0)
    );
    assert_eq!(moved.node(&"4".into()).expect("4").at.y, 0.0);
    let exact = typed("250", wall);
    assert_eq!(
        after(&exact, &job).node(&"1".into()).expect("1").at.y,
        2750.0,
        "to the hand's side"
    );
    let side = drag(Grip::Side(1), Space::Plan, at(4600.0, 100.0), at(4700.0, 500.0));
    assert_eq!(after(&side, &job).shell.outline[1].at.x, 4700.0);
}

#[test]
fn rows_points_and_fittings_move_in_the_elevation() {
    let job = room();
    let row = Grip::Row { wall: "A".into(), row: 0, rows: vec![row_at(1200.0), row_at(1800.0)] };
    let row = drag(row, Space::Elevation, at(0.0, 1200.0), at(0.0, 1350.0));
    let rows = after(&row, &job).wall(&"A".into()).expect("A").noggin_rows.clone();
    assert_eq!(rows, Some(Rows::At(vec![1350.0, 1800.0])));
    let point =
        drag(Grip::Point("X1".into()), Space::Elevation, at(4100.0, 450.0), at(4000.0, 500.0));
    let moved = after(&point, &job);
    let (_, x1) = moved.point(&"X1".into()).expect("X1");
    assert_eq!((x1.distance, x1.height), (600.0, 500.0), "held from the end");
    let both = after(&typed("700, 1050", point), &job);
    let (_, x1) = both.point(&"X1".into()).expect("X1");
    assert_eq!((x1.distance, x1.height), (700.0, 1050.0));
    let rail =
        drag(Grip::Fitting("Rail".into()), Space::Elevation, at(900.0, 850.0), at(900.0, 950.0));
    let moved = after(&rail, &job);
    let (_, rail) = moved.fitting(&"Rail".into()).expect("the rail");
    assert_eq!((rail.bottom, rail.top, rail.fixings[0]), (900.0, 1000.0, 950.0));
}

#[test]
fn what_lies_under_the_plan_goes_along_and_a_number_gives_the_distance() {
    let mut job = room();
    job.underlay = Some(Underlay::new("room.dxf", at(100.0, 200.0), 2.0));
    let lies = |gesture: &Gesture| after(gesture, &job).underlay.expect("it is there").at;
    let held =
        drag(Grip::Underlay(at(500.0, 500.0)), Space::Plan, at(500.0, 500.0), at(800.0, 500.0));
    assert_eq!(lies(&held), at(400.0, 200.0));
    assert_eq!(lies(&typed("1000", held.clone())), at(1100.0, 200.0));
    // Two numbers are where the place that is held goes, from the datum.
    let datum = job.datum.at;
    assert_eq!(lies(&typed("0,0", held)), at(datum.x - 400.0, datum.y - 300.0));
}

#[test]
fn what_is_not_in_the_job_is_no_edit() {
    let job = room();
    for grip in [
        Grip::Underlay(at(0.0, 0.0)),
        Grip::Node("9".into()),
        Grip::Opening("D9".into()),
        Grip::Wall("Z".into()),
        Grip::Corner(9),
    ] {
        assert_eq!(drag(grip, Space::Plan, at(0.0, 0.0), at(10.0, 10.0)).edit(&job), None);
    }
    let short = drag(
        Grip::NewWall(Arc::new(Wall::new("C", "5", "6", "x"))),
        Space::Plan,
        at(0.0, 0.0),
        at(3.0, 0.0),
    );
    assert_eq!(short.edit(&job), None, "a click that trembled draws nothing");
}

#[test]
fn a_room_drawn_clockwise_comes_out_anticlockwise() {
    let outline =
        outline_through(&[at(0.0, 0.0), at(0.0, 3000.0), at(4000.0, 3000.0), at(4000.0, 0.0)]);
    let job = Edit::SetOutline(outline.expect("a room")).apply(&Job::default());
    assert_eq!(job.shell.twice_area(), 24e6);
    assert_eq!(outline_through(&[at(0.0, 0.0), at(1.0, 0.0)]), None);
}

fn snapped(job: &Job, gesture: &Gesture, hand: PlanPoint, held_off: bool) -> (PlanPoint, String) {
    let layout = Layout::of(job);
    let snapping = Snapping { job, layout: &layout, reach: 60.0, held_off };
    let (to, snap) = snapping.settle(gesture, hand);
    (to, snap.map_or(String::new(), |s| s.label))
}

#[test]
fn an_opening_stud_lands_on_a_common_stud() {
    // The frame of A runs from face to face, 4600. At 400 centres the stud centred on 2000 has its
    // near edge at 1977; the hole beside it begins at 2023. Worked by hand.
    let job = room();
    let held = Gesture::new(Grip::Opening("D1".into()), Space::Elevation, at(2700.0, 900.0));
    let (to, label) = snapped(&job, &held, at(2700.0 - 270.0, 900.0), false);
    assert_eq!(label, "left opening stud lands on the stud at 1\u{2009}977");
    let moved = after(&Gesture { now: to, ..held.clone() }, &job);
    assert_eq!(distance(&moved, "D1"), 2023.0);
    let laid = Layout::of(&moved);
    let studs = laid.wall(&"A".into()).expect("A").frame.members.iter();
    let marks: Vec<_> = studs.map(|m| round_to(m.solid.stations().low, 0.01)).collect();
    assert!(marks.contains(&1977.0), "{marks:?}");
    let (_, label) = snapped(&job, &held, at(2700.0 - 270.0, 900.0), true);
    assert_eq!(label, "", "held off, nothing snaps");
}

#[test]
fn with_jacks_the_opening_stud_stands_one_further_out() {
    let mut job = room();
    Arc::make_mut(&mut job.makeups[0]).opening_studs = OpeningStuds::Double;
    let held = Gesture::new(Grip::Opening("D1".into()), Space::Elevation, at(2700.0, 900.0));
    let (to, label) = snapped(&job, &held, at(2700.0 - 220.0, 900.0), false);
    assert!(label.starts_with("left opening stud"), "{label}");
    let moved = after(&Gesture { now: to, ..held }, &job);
    assert_eq!(distance(&moved, "D1"), 2069.0, "1977 + 46 stud + 46 jack");
}

#[test]
fn the_same_snap_on_the_plan_as_in_the_elevation() {
    let job = room();
    let held = Gesture::new(Grip::Opening("D1".into()), Space::Plan, at(2700.0, 3000.0));
    let (to, label) = snapped(&job, &held, at(2430.0, 3020.0), false);
    assert_eq!(label, "left opening stud lands on the stud at 1\u{2009}977");
    assert_eq!(distance(&after(&Gesture { now: to, ..held }, &job), "D1"), 2023.0);
}

#[test]
fn a_wall_s_end_finds_nodes_faces_walls_and_square() {
    let job = room();
    let wall = |from| {
        Gesture::new(Grip::NewWall(Arc::new(Wall::new("C", "5", "6", "x"))), Space::Plan, from)
    };
    let find = |from, hand| snapped(&job, &wall(from), hand, false);
    assert_eq!(
        find(at(3000.0, 4000.0), at(1770.0, 2980.0)),
        (at(1750.0, 3000.0), "end: node 3".into())
    );
    assert_eq!(
        find(at(3000.0, 4000.0), at(4580.0, 5190.0)),
        (at(4600.0, 5200.0), "room corner 3".into())
    );
    let (to, label) = find(at(3000.0, 4000.0), at(3020.0, 5180.0));
    assert_eq!((to, label.as_str()), (at(3000.0, 5200.0), "existing face 3 · square"));
    let (to, label) = find(at(3000.0, 4000.0), at(3020.0, 3020.0));
    assert_eq!((to, label.as_str()), (at(3000.0, 3000.0), "on wall A · square"));
    let (to, label) = find(at(3000.0, 4000.0), at(3480.0, 4510.0));
    assert_eq!(label, "45°");
    assert!((to.x - 3000.0 - (to.y - 4000.0)).abs() < 1e-6);
    assert_eq!(find(at(3000.0, 4000.0), at(3310.0, 4690.0)).1, "grid 50");
}

#[test]
fn a_wall_moved_sideways_falls_in_line() {
    let mut job = room();
    job.nodes.push(Node { name: "7".into(), at: at(3000.0, 4000.0) });
    let held = Gesture::new(Grip::Wall("A".into()), Space::Plan, at(900.0, 3000.0));
    let (to, label) = snapped(&job, &held, at(900.0, 3960.0), false);
    assert_eq!((to.y, label.as_str()), (4000.0, "in line with node 7"));
    let (_, label) = snapped(&job, &held, at(900.0, 5170.0), false);
    assert_eq!(label, "existing face 3");
}

#[test]
fn heights_fall_level_with_what_is_there() {
    let job = room();
    let rows = Layout::of(&job).wall(&"B".into()).expect("B").frame.rows.clone();
    let row = Grip::Row { wall: "A".into(), row: 0, rows: vec![row_at(1000.0)] };
    let held = Gesture::new(row, Space::Elevation, at(0.0, 1000.0));
    let (to, label) = snapped(&job, &held, at(0.0, rows[0].height - 20.0), false);
    assert_eq!((to.y, label.as_str()), (rows[0].height, "in line with the noggins of B"));
    let sill = Gesture::new(Grip::Sill("L1".into()), Space::Elevation, at(0.0, 1500.0));
    let (to, label) = snapped(&job, &sill, at(0.0, 2000.0), false);
    assert_eq!((to.y, label.as_str()), (2027.0, "level with the top of D1"));
}

#[test]
fn without_anything_near_numbers_go_in_round_steps() {
    let job = room();
    let post = layout_core::document::Post {
        name: "P1".into(),
        at: at(0.0, 0.0),
        size: (100.0, 100.0),
        turn_deg: 0.0,
        housing: 0.0,
    };
    let (to, label) = snapped(
        &job,
        &Gesture::new(Grip::NewPost(post), Space::Plan, at(0.0, 0.0)),
        at(2713.0, 1190.0),
        false,
    );
    assert_eq!((to, label.as_str()), (at(2700.0, 1200.0), "grid 50"));
}

#[test]
fn the_top_of_a_free_wall_is_dragged_and_of_any_other_is_not() {
    let mut job = room();
    let wall = Arc::make_mut(&mut job.walls[0]);
    wall.head = Some(Head::Free { height: 1200.0 });
    wall.openings.clear();
    let layout = Layout::of(&job);
    let plate = |name: &str| {
        let members = &layout.wall(&name.into()).expect("a wall").frame.members;
        let plate = members.iter().find(|m| m.role == Role::HeadPlate).expect("a head plate");
        ItemRef::Member { wall: name.into(), mark: plate.mark }
    };
    let take = |item: &ItemRef| Grip::on_elevation(item, at(900.0, 1190.0), 40.0, &job, &layout);
    let grip = take(&plate("A")).expect("the top of a free wall");
    let dragged = drag(grip, Space::Elevation, at(900.0, 1190.0), at(900.0, 1290.0));
    let head = after(&dragged, &job).wall(&"A".into()).expect("A").head.clone();
    assert_eq!(head, Some(Head::Free { height: 1300.0 }));
    assert_eq!(dragged.moved(&job), "+100 mm");
    assert_eq!(take(&plate("B")), None, "the ceiling decides");
}

#[test]
fn a_hand_on_timber_of_an_opening_moves_the_opening() {
    let job = room();
    let layout = Layout::of(&job);
    let wall = layout.wall(&"A".into()).expect("A");
    let near = |role: Role, station: f64| {
        let members = wall.frame.members.iter().filter(|m| m.role == role);
        let nearest = members.min_by(|a, b| {
            let off = |m: &Member| (m.solid.stations().centre() - station).abs();
            off(a).total_cmp(&off(b))
        });
        let item = ItemRef::Member { wall: "A".into(), mark: nearest.expect("timber").mark };
        Grip::on_elevation(&item, at(station, 1000.0), 40.0, &job, &layout)
    };
    assert_eq!(near(Role::OpeningStud, 2277.0), Some(Grip::Opening("D1".into())));
    assert_eq!(near(Role::OpeningHead, 2700.0), Some(Grip::Opening("D1".into())), "a door's head");
    assert_eq!(near(Role::OpeningHead, 3500.0), Some(Grip::Top("L1".into())), "a light's head");
    assert_eq!(near(Role::Sill, 3500.0), Some(Grip::Sill("L1".into())));
    assert_eq!(near(Role::Stud, 400.0), None, "a common stud follows from the centres");
}

#[test]
fn a_level_is_read_from_the_laser_line_or_above_the_floor() {
    let mut job = room();
    job.levels.laser = 1050.0;
    let hang = |surface, from_laser| {
        let grip = Grip::NewReading { wall: Some("A".into()), surface, level: -4.0, from_laser };
        drag(grip, Space::Elevation, at(700.0, 30.0), at(700.0, 30.0))
    };
    let read = |g: &Gesture, surface| {
        let after = after(g, &job);
        after.wall(&"A".into()).expect("A").readings(surface).clone()
    };
    let floor = hang(Surface::Floor, true);
    assert_eq!(read(&floor, Surface::Floor), [(700.0, -4.0)], "untyped it is what was there");
    assert_eq!(read(&typed("1060", floor.clone()), Surface::Floor), [(700.0, -10.0)]);
    assert_eq!(read(&typed("-1060", floor.clone()), Surface::Floor), [(700.0, -10.0)]);
    assert_eq!(read(&typed("90,1045", floor.clone()), Surface::Floor), [(90.0, 5.0)]);
    let ceiling = hang(Surface::Ceiling, true);
    assert_eq!(read(&typed("1360", ceiling), Surface::Ceiling), [(700.0, 2410.0)]);
    let plain = hang(Surface::Floor, false);
    assert_eq!(read(&typed("-12", plain), Surface::Floor), [(700.0, -12.0)]);
    // Read again at one place it is one level, and that is the one to pick.
    let job = after(&typed("1060", floor.clone()), &job);
    let again = typed("1070", floor);
    assert_eq!(after(&again, &job).wall(&"A".into()).expect("A").floor, [(700.0, -20.0)]);
    let item = ItemRef::Reading { wall: Some("A".into()), surface: Surface::Floor, index: 0 };
    assert_eq!(again.made(&job), Some(item));
}

#[test]
fn a_level_in_the_hand_snaps_to_ends_openings_and_what_was_read_over_it() {
    let mut job = room();
    Arc::make_mut(&mut job.walls[0]).ceiling = vec![(1234.0, 2405.0)];
    Arc::make_mut(&mut job.walls[0]).floor = vec![(600.0, -5.0)];
    let layout = Layout::of(&job);
    let snapping = Snapping { job: &job, layout: &layout, reach: 20.0, held_off: false };
    let held = Grip::Reading { wall: Some("A".into()), surface: Surface::Floor, index: 0 };
    for space in [Space::Elevation, Space::Plan] {
        let y = if space == Space::Plan { 3000.0 } else { -5.0 };
        let moved = drag(held.clone(), space, at(610.0, y), at(610.0, y));
        for (hand, to, label) in [
            (15.0, 0.0, "start of the frame"),
            (2312.0, 2300.0, "side of D1"),
            (1250.0, 1234.0, "under ceiling level 1"),
        ] {
            let (now, snap) = snapping.settle(&moved, at(hand + 10.0, y + 40.0));
            assert_eq!(snap.map(|s| s.label).as_deref(), Some(label));
            let after = after(&Gesture { now, ..moved.clone() }, &job);
            let along = after.wall(&"A".into()).expect("A").floor[0];
            assert_eq!((round_to(along.0, 0.01), along.1), (to, -5.0), "{label} in {space:?}");
        }
    }
}
