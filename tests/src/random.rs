//! Jobs nobody thought of: made from a seed, so that a failure can be made again. Small seeds make
//! small jobs; the first that fails is the one to look at.

mod platforms;

use std::sync::Arc;

use layout_core::document::{
    Behind, BoardedFirst, Corner, CornerRecipe, Door, DoorStyle, Edit, EndRule, Face, Feed,
    FeedFrom, Fitting, Floor, GridFrom, Head, HeadLay, Hinge, Hold, HoldTo, Job, Layer, Line,
    Lining, MakeUp, MeasuredFrom, Node, NogginLay, NogginSet, OddBay, Opening, OpeningKind,
    OpeningStuds, Point, PointKind, Route, RowPlace, RowRule, Rows, Service, Shift, Sole, Stock,
    TeeRecipe, Timber, Wall, WallEnd,
};
use layout_core::id::{ItemRef, Surface};
use layout_core::math::{PlanPoint, PlanVector};

/// A source of numbers that depend on the seed alone (SplitMix64).
#[derive(Clone, Debug)]
pub struct Random(u64);

impl Random {
    /// The numbers of `seed`.
    pub fn new(seed: u64) -> Random {
        Random(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) ^ 0x5DEE_CE66_D1CE_4E5B)
    }

    fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        z ^ (z >> 31)
    }

    /// A whole number of millimetres from `low` up to `high`.
    pub fn mm(&mut self, low: f64, high: f64) -> f64 {
        let part = self.bits() as f64 / u64::MAX as f64;
        (low + (high - low) * part).round()
    }

    /// A whole number below `n`.
    pub fn below(&mut self, n: usize) -> usize {
        (self.bits() % n.max(1) as u64) as usize
    }

    /// True once in `n` times.
    pub fn once_in(&mut self, n: usize) -> bool {
        self.below(n) == 0
    }

    /// One of the things given.
    pub fn pick<T: Clone>(&mut self, things: &[T]) -> T {
        things[self.below(things.len())].clone()
    }
}

/// A job that could be built: walls that meet squarely and cross nowhere, openings roughly where
/// there is room for them.
pub fn job(seed: u64) -> Job {
    let mut r = Random::new(seed);
    let mut job = Job { title: format!("Random {seed}"), ..Job::default() };
    job.levels.ceiling = r.mm(2100.0, 3200.0);
    if r.once_in(3) {
        job.levels.build_up.push(Layer { name: "insulation".into(), thickness: r.mm(50.0, 150.0) });
        job.levels.build_up.push(Layer { name: "screed".into(), thickness: 50.0 });
    }
    job.makeups = (0..1 + r.below(2)).map(|i| Arc::new(makeup(&mut r, i))).collect();
    job.stock = stock(&job, &mut r);
    walls(&mut job, &mut r);
    let walls: Vec<Arc<Wall>> = job.walls.clone();
    for wall in walls {
        furnish(&mut job, &wall, &mut r);
    }
    while r.once_in(3) {
        platforms::add(&mut job, &mut r);
    }
    job
}

pub(crate) fn makeup(r: &mut Random, i: usize) -> MakeUp {
    let base = MakeUp::default();
    let section = [(46.0, 97.0), (38.0, 63.0), (38.0, 89.0), (47.0, 75.0), (44.0, 145.0)];
    let (thickness, depth) = r.pick(&section);
    MakeUp {
        name: format!("P{i}").as_str().into(),
        timber: Timber::new(thickness, depth, "C16"),
        centres: r.pick(&[300.0, 400.0, 406.4, 450.0, 600.0]),
        sole: r.pick(&[
            Sole::Direct { on: Floor::Finished, packers: 0.0 },
            Sole::Direct { on: Floor::Finished, packers: 6.0 },
            Sole::Direct { on: Floor::Slab, packers: 0.0 },
            Sole::Raised { packers: 10.0, top: 20.0 },
        ]),
        sole_plates: r.pick(&[1, 1, 1, 2]),
        head: r.pick(&[
            Head::Tight { fit: 0.0 },
            Head::Tight { fit: 3.0 },
            Head::Slip { gap: 20.0 },
            Head::Free { height: 1400.0 },
        ]),
        head_plates: r.pick(&[1, 1, 1, 2]),
        noggins: layout_core::document::Noggins {
            rows: r.pick(&[
                Rows::Auto,
                Rows::Auto,
                Rows::At(Vec::new()),
                Rows::At(vec![600.0, 1210.0]),
                Rows::By(vec![
                    RowRule::new(RowPlace::MidHeight),
                    RowRule::new(RowPlace::usual_joints()),
                    RowRule {
                        from: Some(500.0),
                        to: Some(2500.0),
                        lay: Some(NogginLay::FlatLeft),
                        ..RowRule::at(300.0)
                    },
                    RowRule::new(RowPlace::Apart(700.0)),
                ]),
            ]),
            set: r.pick(&[NogginSet::InLine, NogginSet::Staggered]),
            lay: r.pick(&[NogginLay::OnEdge, NogginLay::FlatLeft, NogginLay::FlatRight]),
            ..base.noggins.clone()
        },
        corner: r.pick(&[CornerRecipe::Pair, CornerRecipe::Blocked, CornerRecipe::Ground]),
        tee: r.pick(&[TeeRecipe::Studs, TeeRecipe::Ladder, TeeRecipe::Ground]),
        opening_studs: r.pick(&[OpeningStuds::Single, OpeningStuds::Double]),
        opening_head_lay: r.pick(&[
            HeadLay::Flat,
            HeadLay::Flat,
            HeadLay::OnEdge,
            HeadLay::Doubled,
        ]),
        sills: r.pick(&[1, 1, 2]),
        opening_head: r.pick(&[None, None, Some(Timber::new(thickness, depth, "C24"))]),
        ..base
    }
}

pub(crate) fn stock(job: &Job, r: &mut Random) -> Vec<Stock> {
    let mut stock = Vec::new();
    for makeup in &job.makeups {
        for timber in [Some(&makeup.timber), makeup.opening_head.as_ref()].into_iter().flatten() {
            for length in [2400.0, 3000.0, 3600.0, 4800.0] {
                let price = r.once_in(2).then_some(length / 500.0);
                // Of some lists not every bar is straight.
                let crooked = if price.is_some() && length == 3000.0 { 0.1 } else { 0.0 };
                stock.push(Stock { price, crooked, ..Stock::new(timber.clone(), length) });
            }
        }
    }
    stock
}

/// Draws the walls of one of the plans below, turned and moved as a whole.
///
/// ```text
///   alone  ────      L  ───┐    T  ──┬──    in line  ──·──    room  ┌──┬──┐
///                          │         │                              ├──┘  │
/// ```
fn walls(job: &mut Job, r: &mut Random) {
    let (w, d) = (r.mm(900.0, 7000.0), r.mm(900.0, 5000.0));
    let part = r.mm(0.3 * w, 0.7 * w);
    let corner = |x: f64, y: f64| PlanPoint::new(x, y);
    let lines: Vec<(PlanPoint, PlanPoint)> = match r.below(6) {
        0 => vec![(corner(0.0, 0.0), corner(w, 0.0))],
        1 => vec![(corner(0.0, 0.0), corner(w, 0.0)), (corner(w, 0.0), corner(w, d))],
        2 => vec![(corner(0.0, 0.0), corner(w, 0.0)), (corner(part, 0.0), corner(part, d))],
        3 => vec![(corner(0.0, 0.0), corner(part, 0.0)), (corner(part, 0.0), corner(w, 0.0))],
        4 => vec![
            (corner(0.0, 0.0), corner(w, 0.0)),
            (corner(part, 0.0), corner(part, d)),
            (corner(w, 0.0), corner(w, d)),
            (corner(w, d), corner(part, d)),
        ],
        _ => {
            let room = [(0.0, 0.0), (w + 2000.0, 0.0), (w + 2000.0, d), (0.0, d)];
            job.shell.outline = room
                .map(|(x, y)| Corner { at: corner(x, y), thickness: 140.0, gaps: Vec::new() })
                .to_vec();
            let half = (d / 2.0).round();
            vec![
                (corner(part, 0.0), corner(part, d)),
                (corner(part, half), corner(w + 2000.0, half)),
            ]
        }
    };
    let turn: f64 = r.pick(&[0.0, 90.0_f64, 180.0, 37.0]).to_radians();
    let shift = PlanVector::new(r.mm(-2000.0, 2000.0), r.mm(-2000.0, 2000.0));
    let put = |p: PlanPoint| {
        let (sin, cos) = turn.sin_cos();
        PlanPoint::new(p.x * cos - p.y * sin, p.x * sin + p.y * cos) + shift
    };
    for c in &mut job.shell.outline {
        c.at = put(c.at);
    }
    for (i, (from, to)) in lines.into_iter().enumerate() {
        let name = job.free_wall_name();
        let makeup = job.makeups[i % job.makeups.len()].name.clone();
        let node = job.free_node_name();
        let mut wall = Wall::new(name.as_str(), node.as_str(), node.as_str(), makeup.as_str());
        wall.line = r.pick(&[Line::Centre, Line::Centre, Line::LeftFace, Line::RightFinished]);
        wall.odd_bay = r.pick(&[OddBay::AtEnd, OddBay::AtEnd, OddBay::AtStart, OddBay::Split]);
        if r.once_in(4) {
            wall.grid_from = match i % 3 {
                0 => GridFrom::Inset(12.5),
                1 => GridFrom::BoardedFace,
                _ => GridFrom::InLine,
            };
            if i % 2 == 1 {
                wall.boarded_from = BoardedFirst::Other;
            }
        }
        // Who gives way is said, so that the order of the walls decides nothing.
        (wall.at_from, wall.at_to) = match i {
            0 => (EndRule::Through, EndRule::Through),
            3 => (EndRule::Butt, EndRule::Butt),
            _ => (EndRule::Butt, EndRule::Through),
        };
        let edit = Edit::AddWall { wall: Arc::new(wall), from: put(from), to: put(to) };
        *job = edit.apply(job);
    }
}

/// Puts openings and points in a wall.
pub(crate) fn furnish(job: &mut Job, wall: &Wall, r: &mut Random) {
    let length = match (job.node(&wall.from), job.node(&wall.to)) {
        (Some(a), Some(b)) => (b.at - a.at).norm(),
        _ => return,
    };
    let mut at = r.mm(150.0, 900.0);
    let mut beside = None;
    while r.below(5) > 1 && at + 300.0 < length {
        let room = length - at;
        let kind = opening_kind(job, room, r);
        let width = kind.width();
        if width + 150.0 < room {
            let name = job.free_opening_name(&kind);
            let from = r.pick(&[WallEnd::Start, WallEnd::End]);
            let to = r.pick(&[HoldTo::Near, HoldTo::Centre, HoldTo::Far]);
            let hold = Hold { from, to, distance: 0.0 }.with_left_edge(at, width, length);
            let opening = Opening::new(name.clone(), kind, hold);
            *job = Edit::PutOpening { wall: wall.name.clone(), opening }.apply(job);
            beside = Some(name);
        }
        at += width + r.mm(100.0, 1500.0);
    }
    if let (Some(name), true, Some(w)) = (beside, r.once_in(4), job.wall(&wall.name).cloned()) {
        let wall = Wall { odd_bay: OddBay::Beside(name), ..Wall::clone(&w) };
        *job = Edit::PutWall(Arc::new(wall)).apply(job);
    }
    for _ in 0..r.below(3) {
        let kind = r.pick(&[PointKind::Switch, PointKind::Socket, PointKind::Pipe]);
        let face = r.pick(&[Face::Left, Face::Right]);
        let (at, height) = (r.mm(0.0, length), r.mm(100.0, 2000.0));
        let mut point = Point::new(job.free_point_name().as_str(), kind, face, at, height);
        if r.once_in(3) {
            let from = r.pick(&[FeedFrom::Above, FeedFrom::Below]);
            point.feed = Some(Feed { from, hole: r.mm(10.0, 120.0) });
        }
        point.headed = r.once_in(3);
        if let Some(w) = job.wall(&wall.name) {
            let ends = [WallEnd::Start, WallEnd::End];
            let mut froms = vec![MeasuredFrom::Start, MeasuredFrom::End];
            froms.push(MeasuredFrom::Corner(r.pick(&ends)));
            froms.extend(w.points.iter().map(|p| MeasuredFrom::Point(p.name.clone())));
            let beside = w.openings.iter();
            froms.extend(beside.map(|o| MeasuredFrom::Opening(o.name.clone(), r.pick(&ends))));
            point.from = r.pick(&froms);
        }
        *job = Edit::PutPoint { wall: wall.name.clone(), point }.apply(job);
    }
    if let (true, Some(w)) = (r.once_in(4), job.wall(&wall.name)) {
        let route = Route {
            name: job.free_route_name(),
            service: r.pick(&[Service::Cable, Service::Pipe, Service::Waste]),
            height: r.mm(50.0, 2300.0),
            hole: r.mm(10.0, 120.0),
            points: w.points.iter().map(|p| p.name.clone()).collect(),
            past: (r.once_in(2), r.once_in(2)),
            notched: r.pick(&[None, None, Some(Face::Left)]),
        };
        *job = Edit::PutRoute { wall: wall.name.clone(), route }.apply(job);
    }
    if r.once_in(6) {
        let shifts = vec![Shift { mark: r.pick(&[400.0, 1200.0]), by: r.mm(-60.0, 60.0) }];
        *job = Edit::SetShifts { wall: wall.name.clone(), shifts }.apply(job);
    }
    if r.once_in(4) {
        let fitting = Fitting {
            name: job.free_fitting_name("Shelf"),
            face: Face::Left,
            from: MeasuredFrom::End,
            distance: length / 2.0,
            width: 400.0,
            depth: 150.0,
            bottom: 1000.0,
            top: 1100.0,
            fixings: vec![1050.0],
            behind: r.pick(&[Behind::Noggin, Behind::Noggin, Behind::USUAL_PLY]),
            tolerance: r.mm(0.0, 100.0),
        };
        *job = Edit::PutFitting { wall: wall.name.clone(), fitting }.apply(job);
    }
}

fn opening_kind(job: &Job, room: f64, r: &mut Random) -> OpeningKind {
    let ceiling = job.levels.ceiling;
    match r.below(4) {
        0 | 1 => OpeningKind::Door(Door {
            leaf: (r.pick(&[610.0, 686.0, 762.0, 838.0]), 1981.0, 35.0),
            lining: Lining { thickness: r.pick(&[27.0, 30.0, 32.0]), rebate: r.pick(&[0.0, 12.0]) },
            style: r.pick(&[
                DoorStyle::Single,
                DoorStyle::Single,
                DoorStyle::Double,
                DoorStyle::Sliding,
                DoorStyle::Pocket,
            ]),
            hinge: r.pick(&[Hinge::Start, Hinge::End]),
            opens: r.pick(&[Face::Left, Face::Right]),
            lap: r.pick(&[0.0, 20.0]),
            slat: r.pick(&[18.0, 20.0, 45.0]),
            hole: r.pick(&[None, None, None, Some((900.0, 2050.0))]),
            ..Door::default()
        }),
        2 => OpeningKind::BorrowedLight {
            width: r.mm(300.0, (room - 200.0).clamp(300.0, 1500.0)),
            height: r.mm(300.0, 700.0),
            sill: r.mm(200.0, ceiling - 1200.0),
        },
        _ => OpeningKind::Plain { width: r.mm(500.0, 1200.0), height: r.mm(1900.0, 2050.0) },
    }
}

/// An edit that a hand might make to `job`.
pub fn edit(job: &Job, r: &mut Random) -> Edit {
    let wall = r.pick(&job.walls);
    let opening = wall.openings.first().cloned();
    if let Some(edit) = platforms::edit(job, r) {
        return edit;
    }
    match (r.below(14), opening) {
        (0..=3, Some(o)) => {
            Edit::MoveOpening { opening: o.name, distance: o.hold.distance + r.mm(-300.0, 300.0) }
        }
        (4, Some(o)) => Edit::Remove(ItemRef::Opening(o.name)),
        (5, _) => {
            let node = r.pick(&job.nodes);
            let by = PlanVector::new(r.mm(-200.0, 200.0), r.mm(-200.0, 200.0));
            Edit::PutNode(Node { name: node.name, at: node.at + by })
        }
        (6, _) => Edit::MoveWall { wall: wall.name.clone(), by: r.mm(-300.0, 300.0) },
        (7, _) => Edit::SetRows {
            wall: wall.name.clone(),
            rows: r.pick(&[None, Some(Rows::At(vec![900.0])), Some(Rows::At(Vec::new()))]),
        },
        (8, _) => {
            let makeup = r.pick(&job.makeups);
            let centres = r.pick(&[300.0, 400.0, 600.0]);
            Edit::PutMakeUp(Arc::new(MakeUp { centres, ..MakeUp::clone(&makeup) }))
        }
        (11, _) => Edit::SetReadings {
            surface: r.pick(&[Surface::Floor, Surface::Ceiling]),
            readings: Vec::new(),
        },
        (12, _) => Edit::SetWallReadings {
            wall: wall.name.clone(),
            surface: Surface::Ceiling,
            readings: vec![
                (300.0, job.levels.ceiling - r.mm(0.0, 12.0)),
                (1500.0, job.levels.ceiling),
            ],
        },
        (13, _) => Edit::SetWallReadings {
            wall: wall.name.clone(),
            surface: Surface::Floor,
            readings: vec![(0.0, -r.mm(0.0, 12.0)), (1000.0, -3.0), (1000.0, r.mm(0.0, 9.0))],
        },
        (9, _) if job.walls.len() > 1 => Edit::Remove(ItemRef::Wall(wall.name.clone())),
        (10, _) => {
            let mut levels = job.levels.clone();
            levels.ceiling += r.mm(-50.0, 50.0);
            Edit::SetLevels(levels)
        }
        _ => Edit::PutWall(Arc::new(Wall {
            odd_bay: r.pick(&[OddBay::AtEnd, OddBay::AtStart, OddBay::Split]),
            centres: r.pick(&[None, Some(450.0)]),
            ..Wall::clone(&wall)
        })),
    }
}

/// A job of the right types and no sense at all: zero and endless lengths, things that are no
/// number, names that point nowhere, walls across each other.
pub fn absurd(seed: u64) -> Job {
    let mut r = Random::new(seed);
    let mut job = job(seed);
    let odd = [
        0.0,
        -0.0,
        -1.0,
        1e-9,
        1e9,
        -1e12,
        f64::NAN,
        f64::INFINITY,
        f64::NEG_INFINITY,
        f64::MAX,
        f64::MIN_POSITIVE,
        46.0,
        2400.0,
    ];
    for _ in 0..1 + r.below(4) {
        let value = r.pick(&odd);
        let which = r.below(job.walls.len());
        let wall = Arc::make_mut(&mut job.walls[which]);
        let mut makeup = MakeUp::clone(&job.makeups[0]);
        match r.below(24) {
            0 => wall.centres = Some(value),
            1 => wall.grid_from = GridFrom::Inset(value),
            2 => wall.head = Some(Head::Free { height: value }),
            3 => wall.head = Some(Head::Slip { gap: value }),
            4 => wall.sole = Some(Sole::Raised { packers: value, top: r.pick(&odd) }),
            5 => wall.noggin_rows = Some(Rows::At(vec![value, r.pick(&odd), 1000.0, 1000.0])),
            6 => wall.from = wall.to.clone(),
            7 => wall.makeup = "nowhere".into(),
            8 => wall.to = "nowhere".into(),
            9 => wall.odd_bay = OddBay::Beside("nowhere".into()),
            10 => {
                let hold = Hold {
                    from: r.pick(&[WallEnd::Start, WallEnd::End]),
                    to: HoldTo::Centre,
                    distance: value,
                };
                let kind = OpeningKind::Plain { width: r.pick(&odd), height: r.pick(&odd) };
                wall.openings.push(Opening::new("odd", kind, hold));
            }
            11 => {
                let hold = Hold { from: WallEnd::Start, to: HoldTo::Near, distance: 500.0 };
                let kind = OpeningKind::BorrowedLight {
                    width: value,
                    height: r.pick(&odd),
                    sill: r.pick(&odd),
                };
                wall.openings.push(Opening::new("odd", kind, hold));
            }
            12 => {
                if let Some(o) = wall.openings.first_mut() {
                    o.hold.distance = value;
                }
            }
            13 => {
                let node = r.below(job.nodes.len());
                job.nodes[node].at.x = value;
            }
            14 => job.levels.ceiling = value,
            15 => job.levels.build_up.push(Layer { name: "odd".into(), thickness: value }),
            16 => makeup.centres = value,
            17 => makeup.noggins.apart = value,
            18 => {
                makeup.sole_plates = r.pick(&[0, 255]);
                makeup.head_plates = r.pick(&[0, 255]);
            }
            19 => makeup.timber = Timber::new(value, r.pick(&odd), "C16"),
            20 => job.shell.outline.push(Corner {
                at: PlanPoint::new(value, value),
                thickness: value,
                gaps: Vec::new(),
            }),
            21 => platforms::absurd(&mut job, value, &mut r),
            22 => platforms::add(&mut job, &mut r),
            _ => {
                let copy = Wall { name: "twice".into(), ..Wall::clone(wall) };
                job.walls.push(Arc::new(copy));
            }
        }
        job.makeups[0] = Arc::new(makeup);
        if r.once_in(3) {
            job.stock.push(Stock {
                price: Some(r.pick(&odd)),
                available: Some(r.below(3) as u32),
                owned: r.once_in(3).then(|| r.below(4) as u32),
                crooked: r.pick(&odd),
                bowed: r.once_in(2),
                pack: r.once_in(3).then(|| r.below(4) as u32),
                ..Stock::new(Timber::new(46.0, 97.0, "C16"), r.pick(&odd))
            });
            job.saw.kerf = r.pick(&odd);
            job.saw.trim = r.pick(&odd);
        }
    }
    job
}
