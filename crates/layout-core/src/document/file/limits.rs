//! The numbers, names and references of a job, held against what can be built and what the
//! program takes on. Counted before anything is worked out from them.

use std::collections::{BTreeMap, BTreeSet};

use super::check::{COORDINATE, Check, Checked, Fault, Limit, NAME, amount, plain};
use super::scan::{Step, quoted};
use crate::document::{
    Behind, Corner, CrewCopy, Door, Finish, Fitting, GridFrom, Head, Job, MakeUp, Measured,
    MeasuredFrom, OddBay, Opening, OpeningKind, Packing, Platform, Point, PointKind, Readings,
    Route, RowPlace, RowRule, Rows, Sole, Survey, Timber, Wall,
};
use crate::id::Name;
use crate::math::{PlanPoint, crosses};

const LENGTH: Limit = Limit(1.0, 100_000.0, "mm");
const HEIGHT: Limit = Limit(-100_000.0, 100_000.0, "mm");
const CENTRES: Limit = Limit(50.0, 2000.0, "mm");
const SECTION: Limit = Limit(5.0, 600.0, "mm");
const LAYER: Limit = Limit(0.1, 100.0, "mm");
const BUILD_UP: Limit = Limit(0.1, 5000.0, "mm");
const SHEET: Limit = Limit(200.0, 10_000.0, "mm");
const MASS: Limit = Limit(0.1, 100.0, "kg");
const SKIM: Limit = Limit(0.0, 50.0, "mm");
const ALLOWANCE: Limit = Limit(0.0, 500.0, "mm");
const SMALL: Limit = Limit(0.0, 200.0, "mm");
const SIZE: Limit = Limit(1.0, 5000.0, "mm");
const BORE: Limit = Limit(1.0, 500.0, "mm");
const HOUSING: Limit = Limit(0.0, 200.0, "mm");
const TURN: Limit = Limit(-360.0, 360.0, "degrees");
const PITCH: Limit = Limit(0.0, 89.0, "degrees");
const TAPE_ERROR: Limit = Limit(0.1, 100.0, "mm");
const OUT_OF_SQUARE: Limit = Limit(-900.0, 900.0, "mm in a metre");

const MOISTURE: Limit = Limit(0.0, 100.0, "%");

const READINGS: usize = 500;
const NOTES: usize = 4000;
const STUDS_IN_WALL: f64 = 2000.0;
const STUDS_IN_JOB: f64 = 200_000.0;

/// Checks the whole job; the first thing wrong, in the order of the file.
pub(super) fn check(job: &Job) -> Result<(), Fault> {
    Check::default().job(job)
}

impl Check {
    fn job(&mut self, job: &Job) -> Checked {
        self.field("title", |c| c.text(&job.title, NAME))?;
        self.field("notes", |c| c.text(&job.notes, NOTES))?;
        self.field("datum", |c| {
            c.point("at", job.datum.at)?;
            c.field("label", |c| c.text(&job.datum.label, NAME))
        })?;
        self.field("levels", |c| {
            c.list("build_up", &job.levels.build_up, 30, |c, layer| {
                c.field("name", |c| c.name(&layer.name))?;
                c.number("thickness", layer.thickness, BUILD_UP)
            })?;
            c.number("ceiling", job.levels.ceiling, LENGTH)?;
            c.number("laser", job.levels.laser, HEIGHT)?;
            c.ceiling(job.levels.boarded.as_ref())?;
            c.field("readings", |c| c.readings(&job.levels.readings))?;
            c.field("packing", |c| c.packing(&job.levels.packing))?;
            c.field("moisture", |c| {
                c.number("now", job.levels.moisture.now, MOISTURE)?;
                c.number("in_use", job.levels.moisture.in_use, MOISTURE)
            })
        })?;
        self.field("rules", |c| c.rules(&job.rules))?;
        self.field("shell", |c| c.shell(job))?;
        self.underlay(job.underlay.as_ref())?;
        self.list("rooms", &job.rooms, 1000, |c, room| {
            c.named("room", &room.name, |c| c.point("at", room.at))
        })?;
        self.different("rooms", "rooms", job.rooms.iter().map(|r| &r.name))?;
        self.list("makeups", &job.makeups, 200, |c, makeup| {
            c.named("make-up", &makeup.name, |c| c.makeup(makeup, job))
        })?;
        self.different("makeups", "make-ups", job.makeups.iter().map(|m| &m.name))?;
        self.list("nodes", &job.nodes, 10_000, |c, node| {
            c.named("node", &node.name, |c| c.point("at", node.at))
        })?;
        self.different("nodes", "nodes", job.nodes.iter().map(|n| &n.name))?;
        self.walls(job)?;
        self.platforms(job)?;
        self.yard(job)?;
        self.list("accepted", &job.accepted, 5000, |c, a| {
            c.field("reason", |c| c.text(&a.reason, NOTES))
        })?;
        self.field("sundries", |c| c.sundries(&job.sundries))?;
        self.list("crew_copies", &job.crew_copies, 1000, Check::crew_copy)?;
        let letters = job.crew_copies.iter().map(|c| &c.letter);
        self.different_fields("crew_copies", "letter", "crew copies", letters)
    }

    fn readings(&mut self, readings: &Readings) -> Checked {
        for (name, list) in [("floor", &readings.floor), ("ceiling", &readings.ceiling)] {
            self.list(name, list, READINGS, |c, reading| {
                c.point("at", reading.at)?;
                c.number("level", reading.level, HEIGHT)
            })?;
        }
        Ok(())
    }

    fn packing(&mut self, packing: &Packing) -> Checked {
        self.list("shims", &packing.shims, 20, |c, shim| c.value(*shim, Limit(0.5, 200.0, "mm")))?;
        self.number("most", packing.most, ALLOWANCE)?;
        self.number("apart", packing.apart, Limit(100.0, 2000.0, "mm"))?;
        self.number("from_end", packing.from_end, Limit(10.0, 150.0, "mm"))?;
        self.number("alike", packing.alike, Limit(0.0, 10.0, "mm"))
    }

    fn shell(&mut self, job: &Job) -> Checked {
        let shell = &job.shell;
        self.list("outline", &shell.outline, 1000, |c, corner| {
            c.point("at", corner.at)?;
            c.number("thickness", corner.thickness, SIZE)?;
            c.list("gaps", &corner.gaps, 50, |c, gap| {
                c.number("from", gap.from, HEIGHT)?;
                c.number("width", gap.width, LENGTH)?;
                c.number("sill", gap.sill, HEIGHT)
            })
        })?;
        self.field("outline", |c| c.outline(&shell.outline))?;
        self.field("survey", |c| c.survey(&shell.survey))?;
        self.list("posts", &shell.posts, 1000, |c, post| {
            c.named("post", &post.name, |c| {
                c.point("at", post.at)?;
                c.field("size", |c| c.numbers(&[post.size.0, post.size.1], SIZE))?;
                c.number("turn_deg", post.turn_deg, TURN)?;
                c.number("housing", post.housing, HOUSING)
            })
        })?;
        self.different("posts", "posts", shell.posts.iter().map(|p| &p.name))?;
        self.list("beams", &shell.beams, 1000, |c, beam| {
            c.named("beam", &beam.name, |c| {
                c.point("from", beam.from)?;
                c.point("to", beam.to)?;
                c.apart("to", beam.from, beam.to)?;
                c.number("width", beam.width, SIZE)?;
                c.number("soffit", beam.soffit, LENGTH)
            })
        })?;
        self.different("beams", "beams", shell.beams.iter().map(|b| &b.name))?;
        self.list("roof", &shell.roof, 1000, |c, plane| {
            c.named("roof plane", &plane.name, |c| {
                c.point("from", plane.from)?;
                c.point("to", plane.to)?;
                c.apart("to", plane.from, plane.to)?;
                c.number("level", plane.level, HEIGHT)?;
                c.number("pitch_deg", plane.pitch_deg, PITCH)?;
                c.list("over", &plane.over, 100, |c, at| c.numbers(&[at.x, at.y], COORDINATE))
            })
        })?;
        self.different("roof", "roof planes", shell.roof.iter().map(|r| &r.name))
    }

    fn apart(&mut self, field: &'static str, a: PlanPoint, b: PlanPoint) -> Checked {
        if (b - a).norm() >= 1.0 {
            return Ok(());
        }
        self.field(field, |c| c.fault("it is less than 1 mm from the other end; move one of them"))
    }

    /// A room has no corners, or at least three that go round without crossing.
    fn outline(&mut self, corners: &[Corner]) -> Checked {
        let n = corners.len();
        if n == 0 {
            return Ok(());
        }
        if n < 3 {
            return self.fault(format!("a room has three corners or more, this one has {n}"));
        }
        let side = |i: usize| (corners[i].at, corners[(i + 1) % n].at);
        for i in 0..n {
            let (a, b) = side(i);
            if (b - a).norm() < 1.0 {
                return self.within(Step::Item((i + 1) % n), |c| {
                    c.fault(format!(
                        "corner {} stands on the corner before it; remove one",
                        (i + 1) % n + 1
                    ))
                });
            }
        }
        for i in 0..n {
            for j in i + 2..n {
                if (i > 0 || j + 1 < n) && crosses(side(i), side(j)) {
                    return self.within(Step::Item(j), |c| {
                        c.fault(format!(
                            "side {} crosses side {}; list the corners in order round the room",
                            j + 1,
                            i + 1
                        ))
                    });
                }
            }
        }
        Ok(())
    }

    fn survey(&mut self, survey: &Survey) -> Checked {
        if survey.is_empty() {
            return Ok(());
        }
        self.list("corners", &survey.corners, 50, |c, name| c.name(name.as_str()))?;
        let names: BTreeSet<&str> = survey.corners.iter().map(Name::as_str).collect();
        if names.len() < survey.corners.len() {
            return self.field("corners", |c| c.fault("two corners have the same name"));
        }
        if names.len() < 3 {
            return self.field("corners", |c| {
                c.fault(format!("a room has three corners or more, this one has {}", names.len()))
            });
        }
        self.list("rows", &survey.rows, 500, |c, row| {
            c.field("what", |c| {
                let used = row.what.corners();
                match used.iter().find(|n| !names.contains(n.as_str())) {
                    Some(name) => c.missing("corner", name, &names),
                    None if used.iter().collect::<BTreeSet<_>>().len() < used.len() => {
                        c.fault("it names the same corner twice")
                    }
                    None => Ok(()),
                }
            })?;
            let limit = match row.what {
                Measured::Between { .. } => LENGTH,
                Measured::Offset { .. } => Limit(0.0, LENGTH.1, "mm"),
                Measured::Square { .. } => OUT_OF_SQUARE,
            };
            if let Some(value) = row.value {
                c.number("value", value, limit)?;
            }
            c.number("error", row.error, TAPE_ERROR)
        })
    }

    pub(super) fn timber(&mut self, timber: &Timber) -> Checked {
        self.number("thickness", timber.thickness(), SECTION)?;
        self.number("depth", timber.depth(), SECTION)?;
        self.field("grade", |c| c.name(timber.grade().as_str()))
    }

    pub(super) fn finish(&mut self, finish: &Finish) -> Checked {
        self.list("boards", &finish.boards, 5, |c, board| {
            c.field("kind", |c| c.name(board.kind.as_str()))?;
            c.number("thickness", board.thickness, LAYER)?;
            c.number("mass", board.mass.unwrap_or(10.0), MASS)?;
            match board.sheet {
                Some((w, l)) => c.field("sheet", |c| c.numbers(&[w, l], SHEET)),
                None => Ok(()),
            }
        })?;
        self.number("skim", finish.skim, SKIM)?;
        self.number("floor_gap", finish.floor_gap, SMALL)?;
        self.number("tiled", finish.tiled.unwrap_or(Finish::TILED), Limit(100.0, 100_000.0, "mm"))
    }

    fn sole(&mut self, sole: &Sole) -> Checked {
        match sole {
            Sole::Direct { packers, on: _ } => self.number("packers", *packers, ALLOWANCE),
            Sole::Raised { packers, top } => {
                self.number("packers", *packers, ALLOWANCE)?;
                self.number("top", *top, HEIGHT)
            }
        }
    }

    fn head(&mut self, head: &Head) -> Checked {
        match head {
            Head::Tight { fit } => self.number("fit", *fit, ALLOWANCE),
            Head::Slip { gap } => self.number("gap", *gap, ALLOWANCE),
            Head::Free { height } => self.number("height", *height, LENGTH),
            Head::Line { points } => self.list("points", points, 100, |c, &(distance, height)| {
                c.numbers(&[distance, height], HEIGHT)
            }),
        }
    }

    fn rows(&mut self, rows: &Rows) -> Checked {
        match rows {
            Rows::Auto => Ok(()),
            Rows::At(heights) if heights.len() > 50 => {
                self.fault(format!("there are {} rows; the most is 50", amount(heights.len())))
            }
            Rows::At(heights) => self.within(Step::Item(0), |c| c.numbers(heights, HEIGHT)),
            Rows::By(rules) if rules.len() > 50 => {
                self.fault(format!("there are {} rules; the most is 50", amount(rules.len())))
            }
            Rows::By(rules) => self.within(Step::Item(0), |c| {
                rules
                    .iter()
                    .enumerate()
                    .try_for_each(|(i, rule)| c.within(Step::Item(i), |c| c.row_rule(rule)))
            }),
        }
    }

    fn row_rule(&mut self, rule: &RowRule) -> Checked {
        self.field("place", |c| match rule.place {
            RowPlace::Height { height, .. } => c.number("height", height, HEIGHT),
            RowPlace::MidHeight => Ok(()),
            RowPlace::BoardJoints { board, gap } => {
                c.number("board", board, Limit(100.0, 10_000.0, "mm"))?;
                c.number("gap", gap, ALLOWANCE)
            }
            RowPlace::Apart(apart) => {
                c.within(Step::Item(0), |c| c.value(apart, Limit(100.0, 100_000.0, "mm")))
            }
        })?;
        self.number("from", rule.from.unwrap_or(0.0), HEIGHT)?;
        self.number("to", rule.to.unwrap_or(0.0), HEIGHT)
    }

    fn makeup(&mut self, makeup: &MakeUp, job: &Job) -> Checked {
        self.field("timber", |c| c.timber(&makeup.timber))?;
        // Centres below the least: say how many studs that would be in the longest wall of it.
        let longest = if makeup.centres < CENTRES.0 {
            let walls = job.walls.iter().filter(|w| w.makeup == makeup.name && w.centres.is_none());
            walls.map(|w| length(job, w)).fold(0.0, f64::max)
        } else {
            0.0
        };
        self.field("centres", |c| c.centres(makeup.centres, longest))?;
        self.field("left", |c| c.finish(&makeup.left))?;
        self.field("right", |c| c.finish(&makeup.right))?;
        self.insulation(makeup.insulation.as_ref())?;
        self.field("sole", |c| c.sole(&makeup.sole))?;
        self.number("sole_plates", f64::from(makeup.sole_plates), Limit(1.0, 3.0, ""))?;
        self.field("head", |c| c.head(&makeup.head))?;
        self.number("head_plates", f64::from(makeup.head_plates), Limit(1.0, 3.0, ""))?;
        self.field("noggins", |c| {
            c.field("rows", |c| c.rows(&makeup.noggins.rows))?;
            c.number("apart", makeup.noggins.apart, Limit(100.0, 100_000.0, "mm"))
        })?;
        self.number("sills", f64::from(makeup.sills), Limit(1.0, 2.0, ""))?;
        match &makeup.opening_head {
            Some(timber) => self.field("opening_head", |c| c.timber(timber)),
            None => Ok(()),
        }
    }

    /// Stud centres of a wall `along` mm long; 0 when there is none yet.
    fn centres(&mut self, centres: f64, along: f64) -> Checked {
        let studs = (along / centres).ceil();
        if centres > 0.0 && centres < CENTRES.0 && along > 0.0 && studs.is_finite() {
            return self.fault(format!(
                "{} mm would need {} studs; the least is {} mm",
                plain(centres),
                plain(studs),
                plain(CENTRES.0)
            ));
        }
        self.value(centres, CENTRES)
    }

    fn walls(&mut self, job: &Job) -> Checked {
        let nodes: BTreeMap<&str, PlanPoint> =
            job.nodes.iter().map(|n| (n.name.as_str(), n.at)).collect();
        let node_names: BTreeSet<&str> = nodes.keys().copied().collect();
        let makeups: BTreeMap<&str, f64> =
            job.makeups.iter().map(|m| (m.name.as_str(), m.centres)).collect();
        let makeup_names: BTreeSet<&str> = makeups.keys().copied().collect();
        let mut studs = 0.0;
        self.list("walls", &job.walls, 5000, |c, wall| {
            c.named("wall", &wall.name, |c| {
                for (field, name) in [("from", &wall.from), ("to", &wall.to)] {
                    if !nodes.contains_key(name.as_str()) {
                        return c.field(field, |c| c.missing("node", name, &node_names));
                    }
                }
                let Some(usual) = makeups.get(wall.makeup.as_str()) else {
                    return c.field("makeup", |c| c.missing("make-up", &wall.makeup, &makeup_names));
                };
                let along = (nodes[wall.to.as_str()] - nodes[wall.from.as_str()]).norm();
                if along < 1.0 {
                    let message = if wall.from == wall.to {
                        format!("the wall starts and ends at node {}; give it another end", wall.to)
                    } else {
                        format!("nodes {} and {} stand on each other; move one", wall.from, wall.to)
                    };
                    return c.field("to", |c| c.fault(message));
                }
                c.field("centres", |c| {
                    let centres = wall.centres.unwrap_or(*usual);
                    c.centres(centres, along)?;
                    let in_wall = (along / centres).ceil() + 1.0;
                    if in_wall > STUDS_IN_WALL {
                        return c.fault(format!(
                            "{} mm over {} mm of wall would need {} studs; the most in a wall is {}",
                            plain(centres),
                            plain(along.round()),
                            plain(in_wall),
                            plain(STUDS_IN_WALL)
                        ));
                    }
                    studs += in_wall;
                    if studs > STUDS_IN_JOB {
                        return c.fault(format!(
                            "with this wall the job would need more than {} studs; split the job",
                            plain(STUDS_IN_JOB)
                        ));
                    }
                    Ok(())
                })?;
                c.wall(wall)
            })
        })?;
        self.different("walls", "walls", job.walls.iter().map(|w| &w.name))?;
        self.different_within(job, "openings", |w| w.openings.iter().map(|o| &o.name).collect())?;
        self.different_within(job, "points", |w| w.points.iter().map(|p| &p.name).collect())?;
        self.different_within(job, "routes", |w| w.routes.iter().map(|r| &r.name).collect())?;
        self.different_within(job, "fittings", |w| w.fittings.iter().map(|f| &f.name).collect())
    }

    /// Names of openings, points, routes and fittings are unique in the job, not only in their wall.
    fn different_within(
        &mut self,
        job: &Job,
        list: &'static str,
        names: impl Fn(&Wall) -> Vec<&Name>,
    ) -> Checked {
        let mut seen = BTreeMap::new();
        for (w, wall) in job.walls.iter().enumerate() {
            for (i, name) in names(wall).into_iter().enumerate() {
                if let Some(other) = seen.insert(name.as_str(), wall.name.as_str()) {
                    self.path.extend([Step::Field("walls"), Step::Item(w)]);
                    self.path.extend([Step::Field(list), Step::Item(i), Step::Field("name")]);
                    self.of = format!("wall {}", wall.name);
                    let message = if other == wall.name.as_str() {
                        format!(
                            "two {list} are called {}; give one another name",
                            quoted(name.as_str())
                        )
                    } else {
                        format!(
                            "{} is already the name of one of the {list} of wall {other}; give one another name",
                            quoted(name.as_str())
                        )
                    };
                    return self.fault(message);
                }
            }
        }
        Ok(())
    }

    fn wall(&mut self, wall: &Wall) -> Checked {
        for (name, list) in [("floor", &wall.floor), ("ceiling", &wall.ceiling)] {
            self.list(name, list, READINGS, |c, &(distance, level)| {
                c.numbers(&[distance, level], HEIGHT)
            })?;
        }
        let openings: BTreeSet<&str> = wall.openings.iter().map(|o| o.name.as_str()).collect();
        if let OddBay::Beside(name) = &wall.odd_bay
            && !openings.contains(name.as_str())
        {
            return self.field("odd_bay", |c| {
                c.within(Step::Item(0), |c| c.missing("opening", name, &openings))
            });
        }
        if let GridFrom::Inset(by) = wall.grid_from {
            let inset = Limit(-500.0, 500.0, "mm");
            self.field("grid_from", |c| c.within(Step::Item(0), |c| c.value(by, inset)))?;
        }
        if let Some(head) = &wall.head {
            self.field("head", |c| c.head(head))?;
        }
        if let Some(sole) = &wall.sole {
            self.field("sole", |c| c.sole(sole))?;
        }
        if let Some(rows) = &wall.noggin_rows {
            self.field("noggin_rows", |c| c.rows(rows))?;
        }
        self.field("needs", |c| c.needs(&wall.needs))?;
        self.list("openings", &wall.openings, 50, |c, o| {
            c.named("opening", &o.name, |c| c.opening(o))
        })?;
        self.list("points", &wall.points, 200, |c, p| {
            c.named("point", &p.name, |c| c.first_fix(p))
        })?;
        self.list("routes", &wall.routes, 50, |c, r| {
            c.named("route", &r.name, |c| c.route(wall, r))
        })?;
        self.list("joints", &wall.joints, 200, |c, j| c.number("at", j.at, HEIGHT))?;
        self.list("shifts", &wall.shifts, 200, |c, s| {
            c.number("mark", s.mark, HEIGHT)?;
            c.number("by", s.by, Limit(-500.0, 500.0, "mm"))
        })?;
        self.list("fittings", &wall.fittings, 100, |c, f| {
            c.named("fitting", &f.name, |c| c.fitting(f))
        })?;
        let points = wall.points.iter().map(|p| &p.from);
        let froms = [
            ("points", points.collect::<Vec<_>>()),
            ("fittings", wall.fittings.iter().map(|f| &f.from).collect()),
        ];
        for (list, froms) in froms {
            for (i, from) in froms.into_iter().enumerate() {
                self.within(Step::Field(list), |c| {
                    c.within(Step::Item(i), |c| c.measured_from(wall, from))
                })?;
            }
        }
        Ok(())
    }

    fn opening(&mut self, opening: &Opening) -> Checked {
        let hole = Limit(10.0, 100_000.0, "mm");
        self.field("kind", |c| match &opening.kind {
            OpeningKind::Door(door) => c.door(door),
            OpeningKind::BorrowedLight { width, height, sill }
            | OpeningKind::Hatch { width, height, sill } => {
                c.number("width", *width, hole)?;
                c.number("height", *height, hole)?;
                c.number("sill", *sill, HEIGHT)
            }
            OpeningKind::Plain { width, height } => {
                c.number("width", *width, hole)?;
                c.number("height", *height, hole)
            }
        })?;
        self.field("hold", |c| c.number("distance", opening.hold.distance, HEIGHT))
    }

    fn door(&mut self, door: &Door) -> Checked {
        let (width, height, thickness) = door.leaf;
        self.field("leaf", |c| {
            c.within(Step::Item(0), |c| c.value(width, Limit(100.0, 10_000.0, "mm")))?;
            c.within(Step::Item(1), |c| c.value(height, Limit(100.0, 10_000.0, "mm")))?;
            c.within(Step::Item(2), |c| c.value(thickness, Limit(5.0, 200.0, "mm")))
        })?;
        self.field("lining", |c| {
            c.number("thickness", door.lining.thickness, SMALL)?;
            c.number("rebate", door.lining.rebate, Limit(0.0, door.lining.thickness, "mm"))
        })?;
        self.number("gap", door.gap, SMALL)?;
        self.number("threshold", door.threshold, ALLOWANCE)?;
        self.number("packing", door.packing, SMALL)?;
        self.number("lap", door.lap, SMALL)?;
        self.number("track", door.track, ALLOWANCE)?;
        self.number("slat", door.slat, Limit(1.0, 200.0, "mm"))?;
        self.number("stop", door.stop, SMALL)?;
        self.field("architrave", |c| {
            c.number("width", door.architrave.width, ALLOWANCE)?;
            c.number("set_back", door.architrave.set_back, SMALL)
        })?;
        if let Some(wanted) = door.wanted {
            self.number("wanted", wanted, Limit(100.0, 10_000.0, "mm"))?;
        }
        match door.hole {
            Some((width, height)) => self.field("hole", |c| {
                let hole = Limit(10.0, 100_000.0, "mm");
                c.within(Step::Item(0), |c| c.value(width, hole))?;
                c.within(Step::Item(1), |c| c.value(height, hole))
            }),
            None => Ok(()),
        }
    }

    fn first_fix(&mut self, point: &Point) -> Checked {
        if let PointKind::Other(name) = &point.kind {
            self.field("kind", |c| c.within(Step::Item(0), |c| c.name(name)))?;
        }
        self.number("distance", point.distance, HEIGHT)?;
        self.number("height", point.height, HEIGHT)?;
        self.number("depth", point.depth, Limit(1.0, 500.0, "mm"))?;
        if let Some(feed) = point.feed {
            self.field("feed", |c| c.number("hole", feed.hole, BORE))?;
        }
        self.field("size", |c| c.numbers(&[point.size.0, point.size.1], SIZE))
    }

    /// What a point or fitting is measured from is in its own wall.
    fn measured_from(&mut self, wall: &Wall, from: &MeasuredFrom) -> Checked {
        let (what, name, names): (_, _, BTreeSet<&str>) = match from {
            MeasuredFrom::Opening(name, _) => {
                ("opening", name, wall.openings.iter().map(|o| o.name.as_str()).collect())
            }
            MeasuredFrom::Point(name) => {
                ("point", name, wall.points.iter().map(|p| p.name.as_str()).collect())
            }
            _ => return Ok(()),
        };
        if names.contains(name.as_str()) {
            return Ok(());
        }
        self.field("from", |c| c.within(Step::Item(0), |c| c.missing(what, name, &names)))
    }

    fn route(&mut self, wall: &Wall, route: &Route) -> Checked {
        self.number("height", route.height, HEIGHT)?;
        self.number("hole", route.hole, BORE)?;
        let names: BTreeSet<&str> = wall.points.iter().map(|p| p.name.as_str()).collect();
        self.list("points", &route.points, 200, |c, name| {
            if names.contains(name.as_str()) { Ok(()) } else { c.missing("point", name, &names) }
        })
    }

    fn fitting(&mut self, fitting: &Fitting) -> Checked {
        self.number("distance", fitting.distance, HEIGHT)?;
        self.number("width", fitting.width, LENGTH)?;
        self.number("depth", fitting.depth, Limit(0.0, 2000.0, "mm"))?;
        self.number("bottom", fitting.bottom, HEIGHT)?;
        self.number("top", fitting.top, HEIGHT)?;
        if fitting.top <= fitting.bottom {
            let message = format!(
                "{} mm is not above its bottom at {} mm",
                plain(fitting.top),
                plain(fitting.bottom)
            );
            return self.field("top", |c| c.fault(message));
        }
        self.list("fixings", &fitting.fixings, 50, |c, height| c.value(*height, HEIGHT))?;
        if let Behind::Ply { height, thickness } = fitting.behind {
            self.field("behind", |c| {
                c.number("height", height, Limit(10.0, 2000.0, "mm"))?;
                c.number("thickness", thickness, LAYER)
            })?;
        }
        self.number("tolerance", fitting.tolerance, ALLOWANCE)
    }

    /// Platforms: their names are those of no wall, for both begin the marks of pieces.
    fn platforms(&mut self, job: &Job) -> Checked {
        self.list("platforms", &job.platforms, 500, |c, p| {
            c.named("platform", &p.name, |c| c.platform(p))
        })?;
        self.different("platforms", "platforms", job.platforms.iter().map(|p| &p.name))?;
        let walls: BTreeSet<&str> = job.walls.iter().map(|w| w.name.as_str()).collect();
        let mut holes = BTreeSet::new();
        for (i, platform) in job.platforms.iter().enumerate() {
            self.path.extend([Step::Field("platforms"), Step::Item(i)]);
            self.of = format!("platform {}", platform.name);
            if walls.contains(platform.name.as_str()) {
                return self.field("name", |c| {
                    c.fault("a wall has this name too; give one another, for both begin marks")
                });
            }
            for (k, hole) in platform.holes.iter().enumerate() {
                if !holes.insert(hole.name.as_str()) {
                    self.path.extend([Step::Field("holes"), Step::Item(k), Step::Field("name")]);
                    return self.fault(format!(
                        "two holes are called {}; give one another name",
                        quoted(hole.name.as_str())
                    ));
                }
            }
            self.path.truncate(self.path.len() - 2);
            self.of.clear();
        }
        Ok(())
    }

    fn platform(&mut self, p: &Platform) -> Checked {
        const ACROSS: Limit = Limit(1.0, 50_000.0, "mm");
        self.point("corner", p.corner)?;
        self.field("size", |c| c.numbers(&[p.size.0, p.size.1], ACROSS))?;
        self.number("turn_deg", p.turn_deg, TURN)?;
        self.number("level", p.level, HEIGHT)?;
        self.field("timber", |c| c.timber(&p.timber))?;
        self.number("centres", p.centres, CENTRES)?;
        if let Some(front) = &p.front {
            self.field("front", |c| c.timber(front))?;
        }
        self.field("below", |c| c.finish(&p.below))?;
        self.field("above", |c| c.finish(&p.above))?;
        self.number("noggins_apart", p.noggins_apart, Limit(100.0, 100_000.0, "mm"))?;
        self.number("load", p.load.unwrap_or(0.0), Limit(0.0, 50.0, "kN/m²"))?;
        self.list("holes", &p.holes, 50, |c, hole| {
            c.named("hole", &hole.name, |c| {
                c.field("at", |c| c.numbers(&[hole.at.0, hole.at.1], HEIGHT))?;
                c.field("size", |c| {
                    c.numbers(&[hole.size.0, hole.size.1], Limit(10.0, 10_000.0, "mm"))
                })
            })
        })
    }

    fn crew_copy(&mut self, copy: &CrewCopy) -> Checked {
        self.field("letter", |c| c.name(copy.letter.as_str()))?;
        self.field("date", |c| {
            if is_day(&copy.date) {
                return Ok(());
            }
            c.fault(format!(
                "{} is not a day; write it year-month-day, like 2026-05-04",
                quoted(&copy.date)
            ))
        })?;
        self.field("note", |c| c.text(&copy.note, NOTES))
    }
}

/// Distance between a wall's nodes; 0 when one is missing.
fn length(job: &Job, wall: &Wall) -> f64 {
    match (job.node(&wall.from), job.node(&wall.to)) {
        (Some(a), Some(b)) => (b.at - a.at).norm(),
        _ => 0.0,
    }
}

/// True for `2026-05-04`.
fn is_day(text: &str) -> bool {
    let parts: Vec<&str> = text.split('-').collect();
    let digits =
        |part: &str, count: usize| part.len() == count && part.bytes().all(|b| b.is_ascii_digit());
    match parts[..] {
        [year, month, day] => {
            let number = |part: &str| part.parse::<u32>().unwrap_or(0);
            digits(year, 4)
                && digits(month, 2)
                && digits(day, 2)
                && (1..=12).contains(&number(month))
                && (1..=31).contains(&number(day))
        }
        _ => false,
    }
}
