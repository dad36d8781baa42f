//! Random jobs at any angle: walls that leave a place in all directions, tees and crossings at a slant, posts
//! in and at the end of walls, roof planes and beams over them.

use std::sync::Arc;

use layout_core::document::{
    AngledEnd, Beam, Bedding, Corner, Edit, EndRule, Floor, Head, Job, Layer, Line, MakeUp, Post,
    Reading, RiserShape, RoofPlane, Wall,
};
use layout_core::id::Surface;
use layout_core::math::{PlanPoint, PlanVector};

use crate::random::{Random, furnish, makeup, stock};

/// A job of up to nine walls.
pub fn job(seed: u64) -> Job {
    let mut r = Random::new(seed ^ 0xA11_A9C1E5);
    let mut job = Job { title: format!("Wild {seed}"), ..Job::default() };
    job.levels.ceiling = r.mm(2200.0, 2900.0);
    job.makeups = (0..1 + r.below(2))
        .map(|i| {
            let ends = r.pick(&[AngledEnd::Ground, AngledEnd::Ripped]);
            let bedding = r.pick(&[Bedding::Level, Bedding::Straight, Bedding::Following]);
            let riser = r.pick(&[RiserShape::Plain, RiserShape::T, RiserShape::I]);
            Arc::new(MakeUp { angled_end: ends, bedding, riser, ..makeup(&mut r, i) })
        })
        .collect();
    job.stock = stock(&job, &mut r);
    star(&mut job, &mut r);
    roof(&mut job, &mut r);
    read(&mut job, &mut r);
    let walls: Vec<Arc<Wall>> = job.walls.clone();
    for wall in walls {
        if r.once_in(2) {
            furnish(&mut job, &wall, &mut r);
        }
    }
    job
}

fn towards(degrees: f64) -> PlanVector {
    let (sin, cos) = degrees.to_radians().sin_cos();
    PlanVector::new(cos, sin)
}

/// Walls in all directions from one place, a tee and a crossing at a slant, a post.
fn star(job: &mut Job, r: &mut Random) {
    let middle = PlanPoint::new(r.mm(-500.0, 500.0), r.mm(-500.0, 500.0));
    let arms = 1 + r.below(6);
    let turn = r.mm(0.0, 359.0);
    let mut at = turn;
    let share = 360.0 / arms as f64;
    let mut first = None;
    for arm in 0..arms {
        let out = towards(at);
        let length = r.mm(900.0, 4200.0);
        let end = middle + out * length;
        let (from, to) = if r.once_in(2) { (middle, end) } else { (end, middle) };
        add(job, r, from, to);
        first.get_or_insert((out, length));
        // Now and then straight on, now and then at a right angle.
        at += match r.below(5) {
            0 if share > 80.0 => 90.0,
            1 if share > 170.0 => 180.0,
            _ => r.mm(share * 0.6, share * 1.2).max(28.0),
        };
        if at - turn > 330.0 || arm > 6 {
            break;
        }
    }
    let Some((out, length)) = first else { return };
    let aside = towards(r.mm(25.0, 155.0));
    let slant =
        PlanVector::new(out.x * aside.x - out.y * aside.y, out.x * aside.y + out.y * aside.x);
    if r.once_in(2) && length > 2000.0 {
        let foot = middle + out * r.mm(800.0, length - 500.0);
        let end = foot + slant * r.mm(800.0, 2500.0);
        add(job, r, foot, end);
    } else if r.once_in(2) && length > 2000.0 {
        let cross = middle + out * r.mm(900.0, length - 600.0);
        let (from, to) = (slant * r.mm(600.0, 1500.0), slant * r.mm(600.0, 1500.0));
        add(job, r, cross - from, cross + to);
    }
    if r.once_in(3) {
        let along = if r.once_in(2) { 0.0 } else { r.mm(300.0, length) };
        job.shell.posts.push(Post {
            name: "P1".into(),
            at: middle + out * along,
            size: (r.mm(80.0, 220.0), r.mm(80.0, 220.0)),
            turn_deg: if r.once_in(2) { 0.0 } else { r.mm(0.0, 90.0) },
            housing: if r.once_in(3) { 12.0 } else { 0.0 },
        });
    }
    if r.once_in(4) {
        // A room whose one side the first wall runs into at a slant.
        let end = middle + out * length;
        let side = PlanVector::new(-out.y, out.x) + out * (r.mm(-600.0, 600.0) / 1000.0);
        let (a, b) = (end - side * 6000.0, end + side * 6000.0);
        job.shell.outline = [a, b, b - out * 12000.0, a - out * 12000.0]
            .map(|at| Corner { at, thickness: 140.0, gaps: Vec::new() })
            .to_vec();
    }
}

fn add(job: &mut Job, r: &mut Random, from: PlanPoint, to: PlanPoint) {
    let (name, node) = (job.free_wall_name(), job.free_node_name());
    let makeup = r.pick(&job.makeups).name.clone();
    let mut wall = Wall::new(name.as_str(), node.as_str(), node.as_str(), makeup.as_str());
    wall.line = r.pick(&[Line::Centre, Line::Centre, Line::LeftFace, Line::RightFinished]);
    let rules = [EndRule::Auto, EndRule::Auto, EndRule::Through, EndRule::Butt, EndRule::Mitre];
    (wall.at_from, wall.at_to) = (r.pick(&rules), r.pick(&rules));
    if r.once_in(8) {
        wall.head = Some(Head::Line {
            points: vec![
                (0.0, r.mm(900.0, 1500.0)),
                (900.0, r.mm(900.0, 1500.0)),
                (2500.0, 2000.0),
            ],
        });
    }
    *job = Edit::AddWall { wall: Arc::new(wall), from, to }.apply(job);
}

/// Up to three roof planes, a lowered or raised patch of ceiling, a beam.
fn roof(job: &mut Job, r: &mut Random) {
    for i in 0..r.below(4) {
        let up = towards(r.mm(0.0, 359.0));
        let along = PlanVector::new(up.y, -up.x);
        let foot = PlanPoint::origin() - up * r.mm(1500.0, 4000.0);
        job.shell.roof.push(RoofPlane {
            name: format!("R{}", i + 1).as_str().into(),
            from: foot,
            to: foot + along * 3000.0,
            level: r.mm(300.0, 1900.0),
            pitch_deg: r.mm(5.0, 50.0),
            over: Vec::new(),
        });
    }
    if r.once_in(3) {
        let corner = PlanPoint::new(r.mm(-2500.0, 0.0), r.mm(-2500.0, 0.0));
        let (w, d) = (r.mm(800.0, 3000.0), r.mm(800.0, 3000.0));
        let sides = [(0.0, 0.0), (w, 0.0), (w, d), (0.0, d)];
        job.shell.roof.push(RoofPlane {
            name: "Patch".into(),
            from: corner,
            to: corner + PlanVector::new(1000.0, 0.0),
            level: job.levels.ceiling + r.mm(-300.0, 300.0),
            pitch_deg: 0.0,
            over: sides.map(|(x, y)| corner + PlanVector::new(x, y)).to_vec(),
        });
    }
    if r.once_in(3) {
        let along = towards(r.mm(0.0, 180.0));
        let at = PlanPoint::new(r.mm(-1500.0, 1500.0), r.mm(-1500.0, 1500.0));
        job.shell.beams.push(Beam {
            name: "B1".into(),
            from: at - along * 4000.0,
            to: at + along * 4000.0,
            width: r.mm(80.0, 250.0),
            soffit: job.levels.ceiling - r.mm(50.0, 300.0),
        });
    }
}

/// Levels read in the room and along walls; in one job of five all alike.
fn read(job: &mut Job, r: &mut Random) {
    let out = r.pick(&[0.0, 6.0, 18.0, 60.0, 60.0]);
    if r.once_in(3) {
        job.levels.build_up.push(Layer { name: "screed".into(), thickness: r.mm(40.0, 200.0) });
        job.levels.readings.floor_is = r.pick(&[Floor::Slab, Floor::Slab, Floor::Finished]);
    }
    let floor = match job.levels.readings.floor_is {
        Floor::Slab => job.levels.slab(),
        Floor::Finished => 0.0,
    };
    let ceiling = job.levels.ceiling;
    for (surface, level) in [(Surface::Floor, floor), (Surface::Ceiling, ceiling)] {
        if r.once_in(2) {
            let place = |r: &mut Random| PlanPoint::new(r.mm(-4e3, 4e3), r.mm(-4e3, 4e3));
            let list = (0..1 + r.below(12))
                .map(|_| Reading { at: place(r), level: level + r.mm(-out, out) })
                .collect();
            *job.levels.readings.of_mut(surface) = list;
        }
        for i in 0..job.walls.len() {
            if r.once_in(6) {
                let wall = Arc::make_mut(&mut job.walls[i]);
                *wall.readings_mut(surface) = (0..1 + r.below(6))
                    .map(|_| (r.mm(-200.0, 4e3), level + r.mm(-out, out)))
                    .collect();
            }
        }
    }
}
