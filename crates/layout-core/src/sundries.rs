//! What is bought beside timber and board: screws, tape, beads, filler, sealant, insulation, linings. Estimates, each with the
//! rule it was counted by.

use std::collections::BTreeMap;

use crate::boards::{Layer, On, screws};
use crate::ceiling::CeilingLayout;
use crate::document::{Bearing, Face, Finish, Insulation, Job, Lining, Sundries};
use crate::id::Name;
use crate::insulation::{Fill, alike, fills, friction, slabs};
use crate::layout::{Layout, PlatformLayout, WallLayout};
use crate::math::SAME;
use crate::platform;
use crate::resolve::{Edge, Hole, side};
use crate::span::Span;

/// Lengths screws are sold in, mm. Common practice.
const SCREWS: [f64; 12] =
    [25.0, 32.0, 38.0, 42.0, 50.0, 60.0, 70.0, 80.0, 90.0, 100.0, 120.0, 150.0];

/// The least screw that goes through so much board and far enough into the timber, mm.
pub fn screw_length(boards: f64, penetration: f64) -> f64 {
    let least = boards + penetration;
    SCREWS.into_iter().find(|l| *l >= least - SAME).unwrap_or((least / 10.0).ceil() * 10.0)
}

/// What the boards of one wall or platform take.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct OfWall {
    /// Screws by length, mm.
    pub screws: Vec<(f64, usize)>,
    /// Tape over joints and in inside corners, mm.
    pub tape: f64,
    /// Joints and corners that are filled, mm: those without skim.
    pub filled: f64,
    /// Beads on outside corners, free ends and the boarded reveals, mm.
    pub corner_bead: f64,
    /// Beads where boards end against what is there, mm.
    pub edge_bead: f64,
    /// Sealant along floor, head and what is there, mm.
    pub sealant: f64,
    /// Mass of its boards, kg.
    pub mass: f64,
}

impl OfWall {
    fn screw(&mut self, length: f64, count: usize) {
        match self.screws.iter_mut().find(|(l, _)| *l == length) {
            Some((_, n)) => *n += count,
            None => self.screws.push((length, count)),
        }
    }

    fn in_order(mut self) -> OfWall {
        self.screws.retain(|(_, n)| *n > 0);
        self.screws.sort_by(|a, b| a.0.total_cmp(&b.0));
        self
    }
}

/// What the boards of `wall` take.
pub fn of_wall(wall: &WallLayout, rules: &Sundries) -> OfWall {
    let mut sum = OfWall::default();
    for face in [Face::Right, Face::Left] {
        let layers: Vec<&Layer> = wall.boards.layers.iter().filter(|l| l.face == face).collect();
        let Some(outer) = layers.last().copied() else { continue };
        let mut thick = 0.0;
        for layer in &layers {
            thick += layer.board.thickness;
            let length = screw_length(thick, rules.penetration);
            let is_outer = layer.layer == outer.layer;
            let placed = screws(&wall.spec, &wall.frame, layer, is_outer, rules);
            sum.screw(length, placed.iter().map(Vec::len).sum());
            sum.mass += layer.pieces.iter().map(|p| layer.mass(p)).sum::<f64>();
        }
        finish(wall, outer, &mut sum);
    }
    for strip in &wall.boards.strips {
        let length = screw_length(strip.under + strip.board.thickness, rules.penetration);
        sum.screw(length, strip.screws(rules).len());
        sum.mass += strip.mass();
    }
    sum.in_order()
}

/// What the boards of `platform` take. Those overhead are taped in the corners with what holds the platform; decking is not.
pub fn of_platform(platform: &PlatformLayout, rules: &Sundries) -> OfWall {
    let mut sum = OfWall::default();
    let spec = &platform.spec;
    let mut thick = 0.0;
    for layer in platform.boards.iter() {
        thick = if layer.layer == 0 { 0.0 } else { thick } + layer.board.thickness;
        let placed = platform::screws(spec, &platform.frame, layer, rules);
        let length = screw_length(thick, rules.penetration);
        sum.screw(length, placed.iter().map(Vec::len).sum());
        sum.mass += layer.pieces.iter().map(|p| layer.mass(p)).sum::<f64>();
        if !platform::is_outer(spec, layer) || layer.face == On::Above {
            continue;
        }
        sum.tape += layer.joints.iter().map(|j| j.along.length() + j.heights.length()).sum::<f64>();
        if layer.face == On::Front {
            // An inside corner with the ceiling, an outside one with the boards below.
            sum.tape += spec.width;
            sum.corner_bead += spec.width;
            continue;
        }
        for (side, held) in spec.held.iter().enumerate() {
            match spec.bearings.get(side) {
                Some(Bearing::Front) => {}
                Some(Bearing::Rim) => sum.edge_bead += spec.width,
                _ => {
                    let length = if side < 2 { spec.width } else { spec.length };
                    let whole = Span { low: 0.0, high: length };
                    let held: Vec<Span> = held.iter().map(|h| h.span).collect();
                    let bare: f64 = whole.without(&held).into_iter().map(Span::length).sum();
                    sum.tape += length - bare;
                }
            }
        }
    }
    if spec.below.skim <= 0.0 {
        sum.filled = sum.tape;
    }
    sum.in_order()
}

/// What the boards of the room's own ceiling take: taped where they stop at walls and partitions.
pub fn of_ceiling(ceiling: &CeilingLayout, rules: &Sundries) -> OfWall {
    let mut sum = OfWall::default();
    let mut thick = 0.0;
    for layer in &ceiling.layers {
        thick += layer.board.thickness;
        let placed = ceiling.screws(layer, rules);
        sum.screw(screw_length(thick, rules.penetration), placed.iter().map(Vec::len).sum());
        sum.mass += layer.pieces.iter().map(|p| layer.mass(p)).sum::<f64>();
    }
    if let Some(outer) = ceiling.layers.last() {
        let joints = outer.joints.iter().map(|j| j.along.length() + j.heights.length());
        sum.tape = joints.sum::<f64>() + ceiling.edge();
    }
    if ceiling.spec.boards.below.skim <= 0.0 {
        sum.filled = sum.tape;
    }
    sum.in_order()
}

fn finish(wall: &WallLayout, outer: &Layer, sum: &mut OfWall) {
    let spec = &wall.spec;
    let finish: &Finish = match outer.face {
        Face::Left => &spec.makeup.left,
        Face::Right => &spec.makeup.right,
    };
    let bottom = |s: f64| finish.floor_gap.max(spec.bed.at(s));
    let mut tape: f64 = outer.joints.iter().map(|j| j.along.length() + j.heights.length()).sum();
    for run in &spec.faces[side(outer.face)] {
        let Some(&along) = run.layers.get(outer.layer) else { continue };
        for (at, edge) in [along.low, along.high].into_iter().zip(run.edges) {
            let up = (spec.head.at(at).min(spec.head.before(at)) - bottom(at)).max(0.0);
            match edge {
                // Two runs meet there, of two walls: half of it is each one's.
                Edge::Inside => tape += up / 2.0,
                Edge::Outside => sum.corner_bead += up / 2.0,
                Edge::InLine => tape += up / 2.0,
                Edge::Free => sum.corner_bead += up,
                Edge::Existing => {
                    sum.edge_bead += up;
                    sum.sealant += up;
                }
            }
        }
        let at_floor = |h: &&Hole| h.sill.is_none_or(|sill| sill <= bottom(h.span.low) + SAME);
        let doors: Vec<Span> = spec.holes.iter().filter(at_floor).map(Hole::doorway).collect();
        sum.sealant += along.without(&doors).iter().map(|s| s.length()).sum::<f64>();
        sum.sealant += spec
            .head
            .stretches(along)
            .iter()
            .map(|s| s.span.length().hypot(s.to - s.from))
            .sum::<f64>();
    }
    // Reveals that are boarded.
    for hole in spec.holes.iter().filter(|h| h.boarded) {
        let doorway = hole.doorway();
        let low = hole.sill.unwrap_or_else(|| bottom(doorway.centre()));
        let level = if hole.sill.is_some() { 2.0 } else { 1.0 };
        sum.corner_bead += 2.0 * (hole.top - low).max(0.0) + level * doorway.length();
    }
    sum.tape += tape;
    if finish.skim <= 0.0 {
        sum.filled += tape;
    }
}

/// One line of the order.
#[derive(Clone, Debug, PartialEq)]
pub struct Need {
    /// What it is: “screws 38”. Its price goes by this.
    pub what: Name,
    /// How much is needed, in its unit.
    pub amount: f64,
    /// “m”, “kg”, “m²”; nothing for what is counted.
    pub unit: &'static str,
    /// How many to buy.
    pub buy: usize,
    /// Of what: “box of 500”.
    pub of: String,
    /// The rule it was counted by.
    pub rule: String,
    /// Where the rule comes from.
    pub source: &'static str,
    /// What they cost, where the job has a price for one.
    pub price: Option<f64>,
}

/// The insulation of one wall.
#[derive(Clone, Debug, PartialEq)]
pub struct Filled<'a> {
    /// The wall.
    pub wall: &'a WallLayout,
    /// What it is.
    pub insulation: &'a Insulation,
    /// Its pieces, bay by bay.
    pub fills: Vec<Fill>,
}

/// The walls that are insulated.
pub fn insulated<'a>(job: &Job, layout: &'a Layout) -> Vec<Filled<'a>> {
    let cut = friction(&job.sundries);
    let filled = layout.walls.iter().filter_map(|wall| {
        let insulation = wall.spec.makeup.insulation.as_ref()?;
        let fills = fills(&wall.spec, &wall.frame, cut);
        (!fills.is_empty()).then_some(Filled { wall, insulation, fills })
    });
    filled.collect()
}

/// Everything to buy beside timber and board.
pub fn order(job: &Job, layout: &Layout) -> Vec<Need> {
    let rules = &job.sundries;
    let units = job.units;
    let mut all = OfWall::default();
    let mut screws: BTreeMap<i64, usize> = BTreeMap::new();
    let walls = layout.walls.iter().map(|w| of_wall(w, rules));
    let platforms = layout.platforms.iter().map(|p| of_platform(p, rules));
    let ceiling = layout.ceiling.iter().map(|c| of_ceiling(c, rules));
    for own in walls.chain(platforms).chain(ceiling) {
        for (length, count) in own.screws {
            *screws.entry(length.round() as i64).or_default() += count;
        }
        all.tape += own.tape;
        all.filled += own.filled;
        all.corner_bead += own.corner_bead;
        all.edge_bead += own.edge_bead;
        all.sealant += own.sealant;
    }
    let mut needs = Vec::new();
    let mut put = |what: String, amount: f64, unit, pack: f64, of: String, rule: String, source| {
        if amount > SAME {
            let buy = (amount / pack.max(SAME) - 1e-9).ceil().clamp(1.0, 1e9) as usize;
            let what = Name::new(what);
            let price = rules.prices.get(&what).map(|p| p * buy as f64);
            needs.push(Need { what, amount, unit, buy, of, rule, source, price });
        }
    };
    let metres = |mm: f64| mm / 1000.0;
    let long = |mm: f64| units.show(mm);
    for (length, count) in screws {
        put(
            format!("screws {}", units.fine(length as f64)),
            count as f64,
            "",
            f64::from(rules.screw_box),
            format!("box of {}", rules.screw_box),
            format!(
                "up every upright and along plates and noggins: edges every {}, inside every {}, inner layers every {}, overhead every {}; 13 from a cut edge; into timber {}",
                long(rules.edge),
                long(rules.field),
                long(rules.inner),
                long(rules.overhead),
                units.fine(rules.penetration)
            ),
            "UK specification K10/610 (read); overhead, length: trade (from memory)",
        );
    }
    put(
        "joint tape".into(),
        metres(all.tape),
        "m",
        metres(rules.roll),
        format!("roll of {}", units.run(rules.roll)),
        "joints of the outer layer, and inside corners".into(),
        "measured off the boards",
    );
    put(
        "filler".into(),
        metres(all.filled) * rules.filler,
        "kg",
        rules.bag,
        format!("bag of {} kg", rules.bag),
        format!("{} kg to a metre of joint, where there is no skim", rules.filler),
        "trade, 0.3 to 0.5 kg to a square metre of board (from memory)",
    );
    put(
        "corner bead".into(),
        metres(all.corner_bead),
        "m",
        metres(rules.bead),
        format!("length of {}", long(rules.bead)),
        "outside corners, free ends, boarded reveals".into(),
        "measured off the boards",
    );
    put(
        "edge bead".into(),
        metres(all.edge_bead),
        "m",
        metres(rules.bead),
        format!("length of {}", long(rules.bead)),
        "where boards end against what is there".into(),
        "measured off the boards",
    );
    put(
        "sealant".into(),
        metres(all.sealant),
        "m",
        metres(rules.cartridge),
        "cartridge".into(),
        "along floor, head and what is there, on each face".into(),
        "310 ml in a bead 6 across runs 11 m (computed)",
    );
    for (insulation, cuts, area) in wool(job, layout) {
        let (w, l) = insulation.slab;
        let size = format!("{} × {}", long(w), long(l));
        let what = format!("{} {}", insulation.kind, units.fine(insulation.thickness));
        let slabs = slabs(&insulation, &cuts);
        let (amount, pack, of) = match insulation.pack {
            Some(pack) => {
                // What is cut to waste comes out of the packs too.
                let sold = slabs as f64 * w * l / 1e6;
                (sold.max(area / 1e6), pack, format!("pack of {pack} m²"))
            }
            None => (area / 1e6, area / 1e6 / slabs.max(1) as f64, format!("slab {size}")),
        };
        put(
            what,
            amount,
            "m²",
            pack,
            of,
            format!(
                "every bay, cut {} wider than it is clear, from slabs {size}",
                units.fine(friction(rules))
            ),
            "common practice",
        );
    }
    for ((thickness, width), (count, lengths)) in linings(layout) {
        let (thickness, width) = (thickness as f64 / 10.0, width as f64 / 10.0);
        put(
            format!("door lining {} × {}", units.fine(thickness), units.fine(width)),
            count as f64,
            "",
            1.0,
            format!("set, {} in all", units.run(lengths)),
            "two legs and a head to a door, as wide as the finished wall".into(),
            "computed",
        );
    }
    needs
}

/// Insulation of every kind with all its pieces and its area, mm².
fn wool(job: &Job, layout: &Layout) -> Vec<(Insulation, Vec<crate::insulation::Cuts>, f64)> {
    let mut kinds: Vec<(Insulation, Vec<Fill>)> = Vec::new();
    for filled in insulated(job, layout) {
        match kinds.iter_mut().find(|(kind, _)| kind == filled.insulation) {
            Some((_, fills)) => fills.extend(filled.fills),
            None => kinds.push((filled.insulation.clone(), filled.fills)),
        }
    }
    let sum = |(kind, fills): (Insulation, Vec<Fill>)| {
        let area = fills.iter().map(Fill::area).sum();
        (kind, alike(&fills), area)
    };
    kinds.into_iter().map(sum).collect()
}

/// How many linings of each thickness and width, tenths of a millimetre, and how long their parts are together.
fn linings(layout: &Layout) -> BTreeMap<(i64, i64), (usize, f64)> {
    let mut linings: BTreeMap<(i64, i64), (usize, f64)> = BTreeMap::new();
    for wall in &layout.walls {
        for hole in &wall.spec.holes {
            let Some(door) = &hole.door else { continue };
            let Lining { thickness, .. } = door.lining;
            let tenths = |mm: f64| (mm * 10.0).round() as i64;
            let key = (tenths(thickness), tenths(wall.spec.finished.length()));
            let sum = linings.entry(key).or_default();
            sum.0 += 1;
            sum.1 += 2.0 * hole.top + hole.doorway().length();
        }
    }
    linings.retain(|(thickness, _), _| *thickness > 0);
    linings
}
