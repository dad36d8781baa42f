//! The language of the cases: a few words for a job.
//!
//! ```text
//! # Which rule this guards.
//! level ceiling 2400
//! room 4600x5200 thickness 140
//! makeup P timber 46x97 centres 400 boards 12.5
//! wall A (0,2000)->(4600,2000) centre
//! door D1 in A at 2300 leaf 762x1981
//!
//! >>> lengths
//! …
//! ```
//!
//! Order is free but for names: a make-up before its walls, a wall before what is in it. What is
//! not said is what a new job has.

mod asked;
mod buying;
mod first_fix;
mod makeup;
mod platform;
mod survey;
mod words;

use std::sync::Arc;

use layout_core::document::{
    Beam, BoardedFirst, Corner, Delivery, Door, DoorStyle, Edit, EndRule, Face, Floor, GridFrom,
    Hinge, Hold, HoldTo, Job, Layer, Line, Lining, MakeUp, Moisture, OddBay, Opening, OpeningKind,
    Post, Raising, Reading, Reveals, RoofPlane, SheetStock, SolesAtDoors, Stock, Wall, WallEnd,
};
use layout_core::id::{Name, Surface};
use layout_core::layout::Layout;
use layout_core::math::PlanPoint;
use layout_core::pieces::cutting_plan;
use layout_core::units::Units;

use buying::buying;
use first_fix::{accept, fitting, point, point_kind, route, shift};
use makeup::{bedding, head, makeup_words, rows, sole, timber};
use words::Words;

/// A case: its job as text, and its questions with the answers written under them.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Case {
    /// Everything above the first `>>>`.
    pub job: String,
    /// The questions, in order.
    pub asks: Vec<Ask>,
}

/// One question of a case.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Ask {
    /// What stands behind `>>>`: “members A”.
    pub what: String,
    /// The answer written under it.
    pub answer: String,
}

impl Case {
    /// Splits the text of a case file.
    pub fn read(text: &str) -> Case {
        let mut parts = text.split("\n>>> ");
        let job = parts.next().unwrap_or_default().to_string() + "\n";
        let asks = parts
            .map(|part| {
                let (what, answer) = part.split_once('\n').unwrap_or((part, ""));
                Ask { what: what.trim().to_string(), answer: answer.trim_end().to_string() }
            })
            .collect();
        Case { job, asks }
    }

    /// The text of the case file.
    pub fn write(&self) -> String {
        let mut out = self.job.trim_end().to_string() + "\n";
        for ask in &self.asks {
            out += &format!("\n>>> {}\n{}\n", ask.what, ask.answer);
        }
        out
    }
}

/// The job a case describes.
///
/// # Errors
/// The line that could not be read, and why.
pub fn job(text: &str) -> Result<Job, String> {
    let mut job = Job::default();
    let mut plain = true;
    for line in text.lines() {
        let line = line.split('#').next().unwrap_or_default().trim();
        if line.is_empty() {
            continue;
        }
        let mut words = Words::new(line);
        statement(&mut job, &mut plain, &mut words).map_err(|why| format!("“{line}”: {why}"))?;
    }
    Ok(job)
}

/// Carries out one line. `plain` is true until the first make-up or stock line replaces what a new
/// job starts with.
fn statement(job: &mut Job, plain: &mut bool, w: &mut Words) -> Result<(), String> {
    match w.word()?.as_str() {
        "title" => job.title = w.rest(),
        "level" => level(job, w)?,
        "units" => {
            job.units = match w.word()?.as_str() {
                "feet" => Units::FeetInches,
                "mm" => Units::Millimetres,
                other => return Err(format!("units are feet or mm, not “{other}”")),
            }
        }
        "read" => {
            let surface = surface(w)?;
            let list = job.levels.readings.of_mut(surface);
            while w.peek().is_some() {
                list.push(Reading { at: w.point()?, level: w.number()? });
            }
        }
        "packing" => packing(job, w)?,
        "rules" => asked::rules(job, w)?,
        "moisture" => job.levels.moisture = Moisture { now: w.number()?, in_use: w.number()? },
        "datum" => job.datum.at = w.point()?,
        "room" => job.shell.outline = room(w)?,
        "gap" => gap(job, w)?,
        "corners" => {
            while let Some(name) = w.next() {
                job.shell.survey.corners.push(name.as_str().into());
            }
        }
        "tape" | "offset" | "square" => survey::measurement(job, w)?,
        "post" => job.shell.posts.push(post(w)?),
        "beam" => job.shell.beams.push(beam(w)?),
        "roof" => job.shell.roof.push(roof(w)?),
        "makeup" => {
            if std::mem::take(plain) {
                job.makeups.clear();
            }
            let name = w.word()?;
            let mut makeup = MakeUp { name: name.as_str().into(), ..MakeUp::default() };
            makeup_words(&mut makeup, w)?;
            job.makeups.push(Arc::new(makeup));
        }
        "wall" => wall(job, w)?,
        "door" | "light" | "hatch" | "opening" => opening(job, w)?,
        "no-stock" => job.stock.clear(),
        "stock" => stock(job, w)?,
        "sheet" => sheet(job, w)?,
        "buying" => buying(job, w)?,
        "price" => {
            let price = w.number()?;
            job.sundries.prices.insert(Name::new(w.rest()), price);
        }
        "saw" => {
            while let Some(word) = w.next() {
                match word.as_str() {
                    "kerf" => job.saw.kerf = w.number()?,
                    "trim" => job.saw.trim = w.number()?,
                    "board-kerf" => job.saw.board_kerf = w.number()?,
                    "keep" => job.saw.keep = w.number()?,
                    "hold" => job.saw.hold = w.number()?,
                    "measured" => job.saw.measured = w.number()?,
                    "sure" => job.saw.sure = w.number()?,
                    "keep-bar" => job.saw.keep_bar = w.number()?,
                    other => return Err(format!("saw has no “{other}”")),
                }
            }
        }
        "cut" => cut(job, w)?,
        "came" => came(job, w)?,
        "fitting" => fitting(job, w)?,
        "route" => route(job, w)?,
        "accept" => accept(job, w)?,
        "shift" => shift(job, w)?,
        "low-ceiling" | "shelf" | "bulkhead" => platform::platform(job, w)?,
        "fan-hole" | "hatch-hole" => platform::hole(job, w)?,
        kind => {
            let kind = point_kind(kind)?;
            point(job, kind, w)?;
        }
    }
    match w.next() {
        Some(word) => Err(format!("what is “{word}”?")),
        None => Ok(()),
    }
}

fn level(job: &mut Job, w: &mut Words) -> Result<(), String> {
    match w.word()?.as_str() {
        "ceiling" => job.levels.ceiling = w.number()?,
        "boarded-ceiling" => job.levels.boarded = Some(platform::ceiling(w)?),
        "laser" => job.levels.laser = w.number()?,
        "read-on-finished" => job.levels.readings.floor_is = Floor::Finished,
        "floating" => job.levels.floating = true,
        "tilted" => job.levels.raising = Raising::Tilted,
        "build-up" => {
            while let Some(name) = w.next() {
                job.levels.build_up.push(Layer { name, thickness: w.number()? });
            }
        }
        other => return Err(format!("no level is called “{other}”")),
    }
    Ok(())
}

fn surface(w: &mut Words) -> Result<Surface, String> {
    match w.word()?.as_str() {
        "floor" => Ok(Surface::Floor),
        "ceiling" => Ok(Surface::Ceiling),
        other => Err(format!("floor or ceiling, not “{other}”")),
    }
}

/// `packing shims 2 5 most 30 apart 600 from-end 100 alike 1`.
fn packing(job: &mut Job, w: &mut Words) -> Result<(), String> {
    let packing = &mut job.levels.packing;
    while let Some(word) = w.next() {
        match word.as_str() {
            "shims" => {
                packing.shims.clear();
                while w.number_next() {
                    packing.shims.push(w.number()?);
                }
            }
            "most" => packing.most = w.number()?,
            "apart" => packing.apart = w.number()?,
            "from-end" => packing.from_end = w.number()?,
            "alike" => packing.alike = w.number()?,
            other => return Err(format!("packing has no “{other}”")),
        }
    }
    Ok(())
}

/// `room 4600x5200 thickness 140` or `room (0,0) (4600,0) … thickness 140`.
fn room(w: &mut Words) -> Result<Vec<Corner>, String> {
    let mut at = Vec::new();
    if w.peek().is_some_and(|p| p.starts_with('(')) {
        while w.peek().is_some_and(|p| p.starts_with('(')) {
            at.push(w.point()?);
        }
    } else {
        let size = w.sizes()?;
        let [x, y] = size[..] else { return Err("a room is WIDTHxDEPTH".into()) };
        at.extend([(0.0, 0.0), (x, 0.0), (x, y), (0.0, y)].map(|(x, y)| PlanPoint::new(x, y)));
    }
    let thickness = if w.take("thickness") { w.number()? } else { 140.0 };
    Ok(at.into_iter().map(|at| Corner { at, thickness, gaps: Vec::new() }).collect())
}

/// `gap side 1 from 500 width 900 sill 0`, sides counted from 1.
fn gap(job: &mut Job, w: &mut Words) -> Result<(), String> {
    w.expect("side")?;
    let side = w.number()? as usize;
    w.expect("from")?;
    let from = w.number()?;
    w.expect("width")?;
    let width = w.number()?;
    let sill = if w.take("sill") { w.number()? } else { 0.0 };
    let corner = side.checked_sub(1).and_then(|i| job.shell.outline.get_mut(i));
    let corner = corner.ok_or("there is no such side")?;
    corner.gaps.push(layout_core::document::Gap { from, width, sill });
    Ok(())
}

fn post(w: &mut Words) -> Result<Post, String> {
    let name = w.name()?;
    w.expect("at")?;
    let at = w.point()?;
    w.expect("size")?;
    let size = w.sizes()?;
    let [x, y] = size[..] else { return Err("a post's size is XxY".into()) };
    let turn_deg = if w.take("turn") { w.number()? } else { 0.0 };
    let housing = if w.take("housing") { w.number()? } else { 0.0 };
    Ok(Post { name, at, size: (x, y), turn_deg, housing })
}

fn beam(w: &mut Words) -> Result<Beam, String> {
    let name = w.name()?;
    let (from, to) = w.line()?;
    w.expect("width")?;
    let width = w.number()?;
    w.expect("soffit")?;
    let soffit = w.number()?;
    Ok(Beam { name, from, to, width, soffit })
}

fn wall(job: &mut Job, w: &mut Words) -> Result<(), String> {
    let name = w.name()?;
    let (from, to) = w.line()?;
    let makeup = job.makeups.last().ok_or("there is no make-up yet")?.name.clone();
    // Ends that meet no node yet get the next free numbers.
    let node = job.free_node_name();
    let mut wall = Wall::new(name.as_str(), node.as_str(), node.as_str(), makeup.as_str());
    while let Some(word) = w.next() {
        match word.as_str() {
            "makeup" => wall.makeup = w.name()?,
            "centre" => wall.line = Line::Centre,
            "left" => wall.line = Line::LeftFace,
            "right" => wall.line = Line::RightFace,
            "left-finished" => wall.line = Line::LeftFinished,
            "right-finished" => wall.line = Line::RightFinished,
            "start" => wall.at_from = end_rule(w)?,
            "end" => wall.at_to = end_rule(w)?,
            "odd" => {
                wall.odd_bay = match w.word()?.as_str() {
                    "end" => OddBay::AtEnd,
                    "start" => OddBay::AtStart,
                    "split" => OddBay::Split,
                    "beside" => OddBay::Beside(w.name()?),
                    other => {
                        return Err(format!("odd end, start, split or beside, not “{other}”"));
                    }
                }
            }
            "grid" => {
                wall.grid_from = match w.word()?.as_str() {
                    "boarded" => GridFrom::BoardedFace,
                    "in-line" => GridFrom::InLine,
                    inset => GridFrom::Inset(inset.parse().map_err(|_| {
                        format!("grid boarded, in-line or a number, not “{inset}”")
                    })?),
                }
            }
            "boarded-at-start" => wall.boarded_from = boarded_first(w)?,
            "boarded-at-end" => wall.boarded_to = boarded_first(w)?,
            "centres" => wall.centres = Some(w.number()?),
            "head" => wall.head = Some(head(w)?),
            "sole" => wall.sole = Some(sole(w)?),
            "rows" => wall.noggin_rows = Some(rows(w)?),
            "bedding" => wall.bedding = Some(bedding(w)?),
            "cut-out-soles" => wall.soles_at_doors = SolesAtDoors::AllCutOut,
            "read" => {
                let list = wall.readings_mut(surface(w)?);
                while w.number_next() {
                    list.push((w.number()?, w.number()?));
                }
            }
            "loadbearing" => wall.loadbearing = true,
            "sound" => wall.needs.sound_db = Some(w.number()?),
            "fire" => wall.needs.fire_min = Some(w.number()?),
            "duty" => wall.needs.duty = Some(asked::duty(w)?),
            other => return Err(format!("a wall has no “{other}”")),
        }
    }
    *job = Edit::AddWall { wall: Arc::new(wall), from, to }.apply(job);
    Ok(())
}

fn boarded_first(w: &mut Words) -> Result<BoardedFirst, String> {
    match w.word()?.as_str() {
        "first" => Ok(BoardedFirst::This),
        "second" => Ok(BoardedFirst::Other),
        other => Err(format!("boarded first or second, not “{other}”")),
    }
}

/// `roof R1 (0,4000)->(0,0) level 1200 pitch 35`: rises to the left of the line; with `over (0,0) (3000,0) …`
/// it covers that part of the plan only.
fn roof(w: &mut Words) -> Result<RoofPlane, String> {
    let name = w.name()?;
    let (from, to) = w.line()?;
    let mut plane = RoofPlane { name, from, to, level: 0.0, pitch_deg: 0.0, over: Vec::new() };
    while let Some(word) = w.next() {
        match word.as_str() {
            "level" => plane.level = w.number()?,
            "pitch" => plane.pitch_deg = w.number()?,
            "over" => {
                while w.peek().is_some() {
                    plane.over.push(w.point()?);
                }
            }
            other => return Err(format!("a roof plane has no “{other}”")),
        }
    }
    Ok(plane)
}

fn end_rule(w: &mut Words) -> Result<EndRule, String> {
    match w.word()?.as_str() {
        "through" => Ok(EndRule::Through),
        "butt" => Ok(EndRule::Butt),
        "mitre" => Ok(EndRule::Mitre),
        "auto" => Ok(EndRule::Auto),
        other => Err(format!("an end goes through, butts or mitres, not “{other}”")),
    }
}

/// `door D1 in A at 2300 leaf 762x1981`, held by its centre; `at 2300 near`, `at 2300 far`,
/// `at 2300 from end`. Other kinds: `light L1 in A at 1000 size 600x400 sill 1200`; their
/// reveals `boarded` or `lined`.
fn opening(job: &mut Job, w: &mut Words) -> Result<(), String> {
    let kind = w.first();
    let name = w.name()?;
    w.expect("in")?;
    let wall = w.name()?;
    w.expect("at")?;
    let mut hold = Hold { from: WallEnd::Start, to: HoldTo::Centre, distance: w.number()? };
    let mut door = Door::default();
    let (mut size, mut sill, mut reveals) = ((0.0, 0.0), 0.0, None);
    while let Some(word) = w.next() {
        match word.as_str() {
            "from" => {
                hold.from = match w.word()?.as_str() {
                    "start" => WallEnd::Start,
                    "end" => WallEnd::End,
                    other => return Err(format!("from start or end, not “{other}”")),
                }
            }
            "near" => hold.to = HoldTo::Near,
            "centre" => hold.to = HoldTo::Centre,
            "far" => hold.to = HoldTo::Far,
            "leaf" => {
                let leaf = w.sizes()?;
                door.leaf = match leaf[..] {
                    [width, height] => (width, height, 35.0),
                    [width, height, thickness] => (width, height, thickness),
                    _ => return Err("a leaf is WIDTHxHEIGHT".into()),
                };
            }
            "lining" => door.lining = Lining { thickness: w.number()?, ..door.lining },
            "rebate" => door.lining.rebate = w.number()?,
            "gap" => door.gap = w.number()?,
            "threshold" => door.threshold = w.number()?,
            "packing" => door.packing = w.number()?,
            "double" => door.style = DoorStyle::Double,
            "sliding" => door.style = DoorStyle::Sliding,
            "pocket" => door.style = DoorStyle::Pocket,
            "lap" => door.lap = w.number()?,
            "track" => door.track = w.number()?,
            "slat" => door.slat = w.number()?,
            "architrave" => door.architrave.width = w.number()?,
            "wanted" => door.wanted = Some(w.number()?),
            "hole" => {
                let s = w.sizes()?;
                let [width, top] = s[..] else { return Err("a hole is WIDTHxTOP".into()) };
                door.hole = Some((width, top));
            }
            "hinge" => {
                door.hinge = match w.word()?.as_str() {
                    "start" => Hinge::Start,
                    "end" => Hinge::End,
                    other => return Err(format!("hinge start or end, not “{other}”")),
                }
            }
            "opens" => door.opens = face(w)?,
            "size" => {
                let s = w.sizes()?;
                let [width, height] = s[..] else { return Err("a size is WIDTHxHEIGHT".into()) };
                size = (width, height);
            }
            "sill" => sill = w.number()?,
            "boarded" => reveals = Some(Reveals::Boarded),
            "lined" => reveals = Some(Reveals::Lined),
            other => return Err(format!("an opening has no “{other}”")),
        }
    }
    let (width, height) = size;
    let kind = match kind.as_str() {
        "door" => OpeningKind::Door(door),
        "light" => OpeningKind::BorrowedLight { width, height, sill },
        "hatch" => OpeningKind::Hatch { width, height, sill },
        _ => OpeningKind::Plain { width, height },
    };
    known_wall(job, &wall)?;
    *job =
        Edit::PutOpening { wall, opening: Opening { reveals, ..Opening::new(name, kind, hold) } }
            .apply(job);
    Ok(())
}

fn known_wall(job: &Job, wall: &Name) -> Result<(), String> {
    job.wall(wall).map(|_| ()).ok_or(format!("there is no wall {wall} yet"))
}

fn face(w: &mut Words) -> Result<Face, String> {
    match w.word()?.as_str() {
        "left" => Ok(Face::Left),
        "right" => Ok(Face::Right),
        other => Err(format!("left or right, not “{other}”")),
    }
}

/// `sheet standard 12.5 1200x2400 price 9.50` or `… owned 2`; `pack 48` when they are sold so
fn sheet(job: &mut Job, w: &mut Words) -> Result<(), String> {
    let kind = w.name()?;
    let thickness = w.number()?;
    let sizes = w.sizes()?;
    let [width, length] = sizes[..] else { return Err("a sheet is as wide x as long".into()) };
    let size = (width, length);
    let price = if w.take("price") { Some(w.number()?) } else { None };
    let owned = if w.take("owned") { Some(w.number()? as u32) } else { None };
    let pack = if w.take("pack") { Some(w.number()? as u32) } else { None };
    job.sheets.push(SheetStock { price, owned, pack, ..SheetStock::new(kind, thickness, size) });
    Ok(())
}

/// `stock 46x97 2400 3000 4800`, `price 7.2` for all of them, `only 3` of each, `owned 2` of each, `pack 12` when
/// they are sold in bundles, `crooked 0.1` of them not straight, `bowed` owned ones.
fn stock(job: &mut Job, w: &mut Words) -> Result<(), String> {
    let timber = timber(w)?;
    let mut lengths = Vec::new();
    while w.number_next() {
        lengths.push(w.number()?);
    }
    let price = if w.take("price") { Some(w.number()?) } else { None };
    let available = if w.take("only") { Some(w.number()? as u32) } else { None };
    let owned = if w.take("owned") { Some(w.number()? as u32) } else { None };
    let pack = if w.take("pack") { Some(w.number()? as u32) } else { None };
    let crooked = if w.take("crooked") { w.number()? } else { 0.0 };
    let bowed = w.take("bowed");
    job.stock.extend(lengths.into_iter().map(|length| Stock {
        price,
        available,
        owned,
        pack,
        crooked,
        bowed,
        ..Stock::new(timber.clone(), length)
    }));
    Ok(())
}

/// `came 46x97 2400 straight 40 bowed 8`: bars that came from the merchant.
fn came(job: &mut Job, w: &mut Words) -> Result<(), String> {
    let (timber, length) = (timber(w)?, w.number()?);
    let straight = if w.take("straight") { w.number()? as u32 } else { 0 };
    let bowed = if w.take("bowed") { w.number()? as u32 } else { 0 };
    *job = Edit::Deliver(vec![Delivery { timber, length, straight, bowed }]).apply(job);
    Ok(())
}

/// `cut 2`: the first bars of the plan for what was said so far are ticked off, section by section.
fn cut(job: &mut Job, w: &mut Words) -> Result<(), String> {
    let count = w.number()? as usize;
    let plans = cutting_plan(job, &Layout::of(job));
    let bars = plans.iter().flat_map(|p| p.bars.iter().map(|bar| bar.cut(&p.timber, &job.saw)));
    *job = Edit::CutBars(bars.take(count).collect()).apply(job);
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_case_is_read_and_written_unchanged() {
        let text = "# rule\nwall A (0,0)->(1,0)\n\n>>> walls\nA\n\n>>> snags A\n";
        let case = Case::read(text);
        assert_eq!(case.asks.len(), 2);
        assert_eq!(case.asks[1], Ask { what: "snags A".into(), answer: String::new() });
        assert_eq!(Case::read(&case.write()), case);
    }

    #[test]
    fn a_line_that_cannot_be_read_is_named() {
        let why = job("wall A (0,0)->(3000,0) purple").unwrap_err();
        assert_eq!(why, "“wall A (0,0)->(3000,0) purple”: a wall has no “purple”");
        assert!(job("door D1 in A at 900 leaf 762x1981").unwrap_err().contains("no wall A yet"));
    }

    #[test]
    fn walls_share_the_nodes_they_meet_at() {
        let job = job("wall A (0,0)->(3000,0)\nwall B (3000,0)->(3000,2000)").unwrap();
        assert_eq!(job.nodes.len(), 3);
        assert_eq!(job.walls[0].to, job.walls[1].from);
    }
}
