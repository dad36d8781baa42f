//! The floor in `baywright setout`: lines off the datum and by two tapes, what proves them square, set-backs.

use std::fmt::Write;

use layout_core::document::Job;
use layout_core::id::ItemRef;
use layout_core::layout::Layout;
use layout_core::math::PlanPoint;
use layout_core::setout::floor::{FloorLine, FloorPlan, LASER_OFF, Ordinate, floor_plan};
use layout_core::survey::tape::TwoTapes;
use serde::Serialize;

use super::out::thousandth;

#[derive(Serialize)]
pub(super) struct Floor<'a> {
    datum: Datum<'a>,
    fixed: Vec<Fixed>,
    lines: Vec<Line>,
    axes: Axes,
    diagonals: Vec<Diagonal>,
    squares: Vec<Square>,
    splays: Vec<Splay>,
}

#[derive(Serialize)]
struct Datum<'a> {
    at: [f64; 2],
    label: &'a str,
}

/// A point tapes are held at.
#[derive(Serialize)]
struct Fixed {
    name: String,
    at: [f64; 2],
    from_datum_mm: [f64; 2],
}

/// A line snapped on the floor.
#[derive(Serialize)]
struct Line {
    wall: String,
    /// The face of the frame it is, and the side of it the timber goes on.
    face: &'static str,
    timber: &'static str,
    length_mm: f64,
    ends: [[f64; 2]; 2],
    from_datum_mm: [[f64; 2]; 2],
    /// Of its start and of its end; null where no two fixed points see it.
    tapes: [Option<Tapes>; 2],
    laser: Laser,
    marks: Vec<Mark>,
}

#[derive(Serialize)]
struct Tapes {
    from: [String; 2],
    pulled_mm: [f64; 2],
    crossing_deg: f64,
}

/// Where the laser stands: so far off the line, on the side without timber.
#[derive(Serialize)]
struct Laser {
    off_mm: f64,
    side: &'static str,
}

#[derive(Serialize)]
struct Mark {
    at_mm: f64,
    what: String,
    of: String,
}

#[derive(Serialize)]
struct Axes {
    x: Vec<Figure>,
    y: Vec<Figure>,
}

/// A face off the datum along an axis.
#[derive(Serialize)]
struct Figure {
    at_mm: f64,
    reach: [f64; 2],
    of: String,
    is_line: bool,
}

#[derive(Serialize)]
struct Diagonal {
    between: [String; 2],
    length_mm: f64,
}

#[derive(Serialize)]
struct Square {
    wall: String,
    to: String,
    at: [f64; 2],
    first_mm: f64,
    other_mm: f64,
    across_mm: f64,
}

#[derive(Serialize)]
struct Splay {
    wall: String,
    between: [String; 2],
    corner: [f64; 2],
    set_backs_mm: [f64; 2],
    face_mm: f64,
}

fn at(p: PlanPoint) -> [f64; 2] {
    [thousandth(p.x), thousandth(p.y)]
}

/// Everything that is set out on the floor.
pub(super) fn floor<'a>(job: &'a Job, layout: &Layout) -> Floor<'a> {
    let plan = floor_plan(job, layout);
    let datum = job.datum.at;
    let axis = |list: &[Ordinate]| list.iter().map(figure).collect();
    Floor {
        datum: Datum { at: at(datum), label: &job.datum.label },
        fixed: plan
            .fixed
            .iter()
            .map(|f| Fixed {
                name: f.name.clone(),
                at: at(f.at),
                from_datum_mm: at(f.at - datum.coords),
            })
            .collect(),
        lines: plan.lines.iter().map(|l| line(&plan, l)).collect(),
        axes: Axes { x: axis(&plan.axes[0]), y: axis(&plan.axes[1]) },
        diagonals: plan
            .diagonals
            .iter()
            .map(|d| Diagonal {
                between: [d.between.0, d.between.1].map(|i| called(&plan, i)),
                length_mm: thousandth(d.length),
            })
            .collect(),
        squares: plan
            .squares
            .iter()
            .map(|s| Square {
                wall: s.wall.to_string(),
                to: s.to.label(),
                at: at(s.at),
                first_mm: thousandth(s.proof.first),
                other_mm: thousandth(s.proof.second),
                across_mm: thousandth(s.proof.across),
            })
            .collect(),
        splays: plan
            .splays
            .iter()
            .map(|s| Splay {
                wall: s.wall.to_string(),
                between: s.between.each_ref().map(ItemRef::label),
                corner: at(s.corner),
                set_backs_mm: s.set_backs.map(thousandth),
                face_mm: thousandth(s.face),
            })
            .collect(),
    }
}

fn figure(o: &Ordinate) -> Figure {
    Figure {
        at_mm: thousandth(o.at),
        reach: o.reach.map(thousandth),
        of: o.of.label(),
        is_line: o.is_line,
    }
}

/// What a fixed point is called.
fn called(plan: &FloorPlan, i: usize) -> String {
    plan.fixed.get(i).map_or_else(String::new, |f| f.name.clone())
}

fn line(plan: &FloorPlan, line: &FloorLine) -> Line {
    let tapes = |t: &TwoTapes| Tapes {
        from: [t.from.0, t.from.1].map(|i| called(plan, i)),
        pulled_mm: [t.pulled.0, t.pulled.1].map(thousandth),
        crossing_deg: thousandth(t.crossing.to_degrees()),
    };
    Line {
        wall: line.wall.to_string(),
        face: line.face.label(),
        timber: line.timber().label(),
        length_mm: thousandth(line.length()),
        ends: line.ends.map(at),
        from_datum_mm: line.from_datum.map(|p| p.map(thousandth)),
        tapes: line.tapes.each_ref().map(|t| t.as_ref().map(tapes)),
        laser: Laser { off_mm: LASER_OFF, side: line.face.label() },
        marks: line
            .marks
            .iter()
            .map(|m| Mark { at_mm: thousandth(m.at), what: m.what.clone(), of: m.of.label() })
            .collect(),
    }
}

/// The same in words: both ends of every line off the datum and by two tapes, then what proves them.
pub(super) fn text(job: &Job, layout: &Layout) -> String {
    let floor = floor(job, layout);
    let show = |length: f64| job.units.show(length);
    // Writing to a string does not fail.
    let mut text = String::new();
    let _ = writeln!(text, "\nLines off the datum ({}): x, y, and by two tapes", job.datum.label);
    for line in &floor.lines {
        for (i, end) in ["start", "end"].into_iter().enumerate() {
            let [x, y] = line.from_datum_mm[i].map(show);
            let _ = write!(text, "    {:<10} {x:>9} {y:>9}", format!("{} {end}", line.wall));
            if let Some(t) = &line.tapes[i] {
                let ([one, other], [a, b]) = (&t.from, t.pulled_mm.map(show));
                let _ = write!(text, "   {one} – {a}, {other} – {b}");
            }
            let _ = writeln!(text, "{}", if i == 0 { "" } else { line.side() });
        }
    }
    for d in &floor.diagonals {
        let [a, b] = &d.between;
        let _ = writeln!(text, "  Room from {a} to {b}: {}", show(d.length_mm));
    }
    for s in &floor.squares {
        let [first, other, across] = [s.first_mm, s.other_mm, s.across_mm].map(show);
        let _ = writeln!(
            text,
            "  {} square to {}: {first} along it, {other} along the other, {across} across",
            s.wall, s.to
        );
    }
    for s in &floor.splays {
        let ([a, b], [on_a, on_b]) = (&s.between, s.set_backs_mm.map(show));
        let _ = writeln!(
            text,
            "  Splay {}: {on_a} back along {a}, {on_b} along {b}, {} long between",
            s.wall,
            show(s.face_mm)
        );
    }
    text
}

impl Line {
    fn side(&self) -> &'static str {
        if self.timber == "left" { "   timber on its left" } else { "   timber on its right" }
    }
}
