//! `baywright setout`: what a wall is set out by.

use std::fmt::Write;

use layout_core::document::Job;
use layout_core::frame::Role;
use layout_core::layout::{Layout, WallLayout};
use layout_core::packers::{self, Fixing};
use layout_core::resolve::WallSpec;
use layout_core::setout::{self, SolesAt};
use layout_core::units::Units;
use serde::Serialize;

use super::out::{self, thousandth};
use super::setout_floor::{self, Floor};
use super::{Exit, Outcome};

#[derive(Serialize)]
struct Answer<'a> {
    format: &'static str,
    version: u32,
    job: &'a str,
    laser_mm: f64,
    floor: Floor<'a>,
    walls: Vec<Wall<'a>>,
}

#[derive(Serialize)]
struct Wall<'a> {
    wall: &'a str,
    start: [f64; 2],
    end: [f64; 2],
    length_mm: f64,
    marks: Vec<Mark>,
    fixings: Vec<Fix>,
    levels: Vec<Level>,
    diagonals_mm: [f64; 2],
    racked: Racked,
    soles_at_openings: Vec<Soles<'a>>,
    drying: Drying,
}

/// By how much more the two diagonals differ when the head stands so far along from the sole.
#[derive(Serialize)]
struct Racked {
    rack_mm: f64,
    differ_mm: f64,
}

#[derive(Serialize)]
struct Mark {
    mark: String,
    role: &'static str,
    near_edge_mm: f64,
    cut_length_mm: f64,
}

#[derive(Serialize)]
struct Fix {
    at_mm: f64,
    plate: String,
    packer_mm: f64,
    shims: Vec<Shim>,
    left_over_mm: f64,
    over_a_pipe: bool,
}

#[derive(Serialize)]
struct Shim {
    thickness_mm: f64,
    count: usize,
}

#[derive(Serialize)]
struct Level {
    name: String,
    level_mm: f64,
    from_laser_mm: f64,
    at_mm: Option<f64>,
}

#[derive(Serialize)]
struct Soles<'a> {
    opening: &'a str,
    run_through: Vec<&'static str>,
    cut_out: Vec<&'static str>,
}

#[derive(Serialize)]
struct Drying {
    plates: usize,
    now_mm: f64,
    in_use_mm: f64,
}

pub(super) fn run(job: &Job, json: bool) -> Outcome {
    let layout = Layout::of(job);
    if json {
        out::print_json(&Answer {
            format: "baywright-setout",
            version: 1,
            job: &job.title,
            laser_mm: thousandth(job.levels.laser),
            floor: setout_floor::floor(job, &layout),
            walls: layout.walls.iter().map(|w| wall(job, w)).collect(),
        })?;
    } else {
        out::print(&text(job, &layout))?;
    }
    Ok(Exit::Done)
}

/// Stations here are counted from the start of the frame, where the tape is held.
fn wall<'a>(job: &Job, wall: &'a WallLayout) -> Wall<'a> {
    let spec = &wall.spec;
    let start = spec.along().low;
    let corner = |station: f64| {
        let p = wall.place.plan(station, 0.0);
        [thousandth(p.x), thousandth(p.y)]
    };
    let drying = setout::drying(job.levels.moisture, spec);
    Wall {
        wall: wall.name().as_str(),
        start: corner(start),
        end: corner(spec.along().high),
        length_mm: thousandth(spec.along().length()),
        marks: marks(wall),
        fixings: packers::fixings(spec, &wall.frame).iter().map(|f| fixing(wall, f)).collect(),
        levels: setout::levels(job, wall)
            .into_iter()
            .map(|l| Level {
                level_mm: thousandth(l.height),
                from_laser_mm: thousandth(setout::from_laser(job, l.height)),
                at_mm: l.at.map(|at| thousandth(at - start)),
                name: l.name,
            })
            .collect(),
        diagonals_mm: setout::diagonals(spec).map(thousandth),
        racked: racked(spec),
        soles_at_openings: soles(wall)
            .map(|(opening, soles)| Soles {
                opening,
                run_through: soles.run_through.into_iter().map(Role::label).collect(),
                cut_out: soles.cut_out.into_iter().map(Role::label).collect(),
            })
            .collect(),
        drying: Drying {
            plates: drying.plates,
            now_mm: thousandth(drying.now),
            in_use_mm: thousandth(drying.in_use),
        },
    }
}

fn racked(spec: &WallSpec) -> Racked {
    let [one, _] = setout::diagonals(spec);
    let length = spec.along().length();
    let height = (one * one - length * length).max(0.0).sqrt();
    Racked {
        rack_mm: setout::RACK,
        differ_mm: thousandth(setout::racked(length, height, setout::RACK)),
    }
}

fn marks(wall: &WallLayout) -> Vec<Mark> {
    wall.frame
        .running(&wall.spec)
        .into_iter()
        .map(|m| Mark {
            mark: format!("{}-{}", wall.name(), m.member),
            role: m.role.label(),
            near_edge_mm: thousandth(m.at),
            cut_length_mm: wall.member(m.member).map_or(0.0, |member| wall.cut_length(member)),
        })
        .collect()
}

fn fixing(wall: &WallLayout, f: &Fixing) -> Fix {
    let made = packers::shims(&wall.spec, f);
    Fix {
        at_mm: thousandth(f.at - wall.spec.along().low),
        plate: format!("{}-{}", wall.name(), f.plate),
        packer_mm: thousandth(f.packer),
        shims: made
            .shims
            .iter()
            .map(|&(thickness_mm, count)| Shim { thickness_mm, count })
            .collect(),
        left_over_mm: thousandth(made.left),
        over_a_pipe: f.blocked,
    }
}

fn soles(wall: &WallLayout) -> impl Iterator<Item = (&str, SolesAt)> {
    let holes = wall.spec.holes.iter();
    holes.filter_map(|h| Some((h.name.as_str(), setout::soles_at(wall, h)?)))
}

fn text(job: &Job, layout: &Layout) -> String {
    // Writing to a string does not fail.
    let mut text = String::new();
    let show = |length: f64| job.units.show(length);
    // Figures stand under one another.
    let wide = match job.units {
        Units::Millimetres => 7,
        Units::FeetInches => 11,
    };
    let _ = writeln!(text, "{}", job.title);
    let _ = writeln!(text, "Laser line {} above the finished floor", show(job.levels.laser));
    text += &setout_floor::text(job, layout);
    for w in &layout.walls {
        let answer = wall(job, w);
        let _ = writeln!(text, "\nWall {}, frame {} long", answer.wall, show(answer.length_mm));
        let _ = writeln!(text, "  One pull from the start: near edge of each upright");
        for m in &answer.marks {
            let (at, cut) = (show(m.near_edge_mm), show(m.cut_length_mm));
            let _ = writeln!(text, "    {at:>wide$}  {:<8} {:<13} cut {cut}", m.mark, m.role);
        }
        let _ = writeln!(text, "  Fixings of the sole, and packers there");
        for f in packers::fixings(&w.spec, &w.frame) {
            let made = packers::shims(&w.spec, &f);
            let at = show(f.at - w.spec.along().low);
            let _ = write!(text, "    {at:>wide$}  {:>4}", show(f.packer));
            if !made.shims.is_empty() {
                let _ = write!(text, "  = {}", made.text(job.units));
            }
            let _ = writeln!(text, "{}", if f.blocked { "  over a pipe" } else { "" });
        }
        let _ = writeln!(text, "  Levels above the finished floor, and from the laser line");
        for l in &answer.levels {
            let _ = writeln!(
                text,
                "    {:>wide$}  {:>wide$}  {}",
                show(l.level_mm),
                setout::signed(job.units, l.from_laser_mm),
                l.name
            );
        }
        let [a, b] = answer.diagonals_mm;
        let _ = writeln!(text, "  Diagonals {} and {}", show(a), show(b));
        for (opening, soles) in soles(w) {
            let _ = writeln!(text, "  At {opening}: {}", soles.text());
        }
        let d = setout::drying(job.levels.moisture, &w.spec);
        let _ = writeln!(
            text,
            "  {} plates, {} together, lose {} as they dry from {} to {} % moisture",
            d.plates,
            show(d.now),
            job.units.small(d.loss()),
            job.levels.moisture.now,
            job.levels.moisture.in_use
        );
    }
    text
}
