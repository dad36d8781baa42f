//! The order beside timber and board: how much of what, and how many to buy of what it is sold in.

use std::collections::BTreeMap;

use super::boards::{OfWall, of_ceiling, of_platform, of_wall};
use super::frame::{OfFrame, of_frame, of_platform_frame};
use crate::document::{Insulation, Job, Lining};
use crate::id::Name;
use crate::insulation::{Fill, alike, fills, friction, slabs};
use crate::layout::{Layout, WallLayout};
use crate::math::SAME;

/// What linings of doors are called in the order.
const LINING: &str = "door lining";

/// One line of the order.
#[derive(Clone, Debug, PartialEq)]
pub struct Need {
    /// What it is: “screws 38”. Its price goes by this.
    pub what: Name,
    /// How much is needed, in its unit.
    pub amount: f64,
    /// “m”, “kg”, “m²”; nothing for what is counted.
    pub unit: &'static str,
    /// How many to buy, spare ones among them.
    pub buy: usize,
    /// How many of them are spare.
    pub spare: usize,
    /// Of what: “box of 500”.
    pub of: String,
    /// The rule it was counted by.
    pub rule: String,
    /// Where the rule comes from.
    pub source: &'static str,
    /// What one costs, where the job has a price.
    pub each: Option<f64>,
    /// What they cost.
    pub price: Option<f64>,
    /// What they weigh, kg, where that is known.
    pub mass: Option<f64>,
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

/// Everything to buy beside timber and board: for the timber, for the boards, insulation, linings.
pub fn order(job: &Job, layout: &Layout) -> Vec<Need> {
    let mut list = List { job, needs: Vec::new() };
    for_frames(&mut list, layout);
    for_boards(&mut list, layout);
    for_bays(&mut list, layout);
    for_doors(&mut list, layout);
    list.needs
}

/// How something is sold: so much in one, and what one is called.
struct Sold {
    unit: &'static str,
    pack: f64,
    of: String,
}

/// The lines so far.
struct List<'a> {
    job: &'a Job,
    needs: Vec<Need>,
}

impl List<'_> {
    /// Adds what there is of something, with spares, rounded up to whole ones of what it is sold in.
    fn put(&mut self, what: String, amount: f64, sold: Sold, rule: String, source: &'static str) {
        if amount <= SAME {
            return;
        }
        let Sold { unit, pack, of } = sold;
        let count = |amount: f64| (amount / pack.max(SAME) - 1e-9).ceil().clamp(1.0, 1e9) as usize;
        // Made to the width of a wall, one a door: nobody keeps a spare.
        let spares = match what.starts_with(LINING) {
            true => 0.0,
            false => self.job.buying.spares.sundries.clamp(0.0, 100.0),
        };
        let (least, buy) = (count(amount), count(amount * (1.0 + spares / 100.0)));
        let rule = if spares > 0.0 { format!("{rule}; {spares} % spare") } else { rule };
        let mass = (unit == "kg").then_some(buy as f64 * pack);
        let what = Name::new(what);
        let each = self.job.sundries.prices.get(&what).copied();
        let price = each.map(|p| p * buy as f64);
        let spare = buy - least;
        self.needs.push(Need {
            what,
            amount,
            unit,
            buy,
            spare,
            of,
            rule,
            source,
            each,
            price,
            mass,
        });
    }
}

fn boxed(count: u32) -> Sold {
    Sold { unit: "", pack: f64::from(count), of: format!("box of {count}") }
}

/// Screws, fixings, packers, damp-proof course and hangers of the timber.
fn for_frames(list: &mut List<'_>, layout: &Layout) {
    let (rules, units) = (&list.job.sundries, list.job.units);
    let mut all = OfFrame::default();
    layout.walls.iter().for_each(|w| all.add(of_frame(w, rules)));
    layout.platforms.iter().for_each(|p| all.add(of_platform_frame(p, rules)));
    let all = all.in_order();
    let tenths = |key: i64| units.fine(key as f64 / 10.0);
    list.put(
        format!("frame screws {}", units.fine(rules.joint_length)),
        all.joints as f64,
        boxed(rules.joint_box),
        format!("{} in each end of every stud, noggin, head, sill and joist", rules.joint_fixings),
        "common practice; EN 1995-1-1, 8.3.1.1: two nails at least (from memory)",
    );
    list.put(
        format!("plate fixings {}", units.fine(rules.plate_length)),
        all.plates as f64,
        boxed(rules.plate_box),
        format!(
            "lowest plates as they are set out; other plates, and end studs against what is there, near each end and every {}",
            units.show(rules.plate_apart)
        ),
        "common practice",
    );
    for (key, count) in all.packers {
        list.put(
            format!("packers {}", tenths(key)),
            count as f64,
            Sold {
                unit: "",
                pack: f64::from(rules.packer_bag),
                of: format!("bag of {}", rules.packer_bag),
            },
            "what is packed at every fixing of the lowest plates".into(),
            "computed from the floor as it was read",
        );
    }
    for (key, length) in all.damp_proof {
        list.put(
            format!("damp-proof course {}", tenths(key)),
            length / 1000.0,
            Sold {
                unit: "m",
                pack: rules.damp_proof / 1000.0,
                of: format!("roll of {}", units.run(rules.damp_proof)),
            },
            "under every lowest plate, as wide as it is".into(),
            "common practice",
        );
    }
    for (key, count) in all.hangers {
        list.put(
            format!("joist hangers {}", tenths(key)),
            count as f64,
            Sold { unit: "", pack: 1.0, of: "one".into() },
            "one at each end of a joist that hangs".into(),
            "computed",
        );
    }
}

/// Screws, tape, filler, beads and sealant of the boards.
fn for_boards(list: &mut List<'_>, layout: &Layout) {
    let (rules, units) = (&list.job.sundries, list.job.units);
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
    let metres = |mm: f64| mm / 1000.0;
    let long = |mm: f64| units.show(mm);
    let by_metre = |pack: f64, of: String| Sold { unit: "m", pack: pack / 1000.0, of };
    for (length, count) in screws {
        list.put(
            format!("screws {}", units.fine(length as f64)),
            count as f64,
            boxed(rules.screw_box),
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
    list.put(
        "joint tape".into(),
        metres(all.tape),
        by_metre(rules.roll, format!("roll of {}", units.run(rules.roll))),
        "joints of the outer layer, and inside corners".into(),
        "measured off the boards",
    );
    list.put(
        "filler".into(),
        metres(all.filled) * rules.filler,
        Sold { unit: "kg", pack: rules.bag, of: format!("bag of {} kg", rules.bag) },
        format!("{} kg to a metre of joint, where there is no skim", rules.filler),
        "trade, 0.3 to 0.5 kg to a square metre of board (from memory)",
    );
    let bead = || by_metre(rules.bead, format!("length of {}", long(rules.bead)));
    list.put(
        "corner bead".into(),
        metres(all.corner_bead),
        bead(),
        "outside corners, free ends, boarded reveals".into(),
        "measured off the boards",
    );
    list.put(
        "edge bead".into(),
        metres(all.edge_bead),
        bead(),
        "where boards end against what is there".into(),
        "measured off the boards",
    );
    list.put(
        "sealant".into(),
        metres(all.sealant),
        by_metre(rules.cartridge, "cartridge".into()),
        "along floor, head and what is there, on each face".into(),
        "310 ml in a bead 6 across runs 11 m (computed)",
    );
}

/// Insulation of the bays.
fn for_bays(list: &mut List<'_>, layout: &Layout) {
    let (rules, units) = (&list.job.sundries, list.job.units);
    for (insulation, cuts, area) in wool(list.job, layout) {
        let (w, l) = insulation.slab;
        let size = format!("{} × {}", units.show(w), units.show(l));
        let slabs = slabs(&insulation, &cuts);
        let (amount, pack, of) = match insulation.pack {
            Some(pack) => {
                // What is cut to waste comes out of the packs too.
                let sold = slabs as f64 * w * l / 1e6;
                (sold.max(area / 1e6), pack, format!("pack of {pack} m²"))
            }
            None => (area / 1e6, area / 1e6 / slabs.max(1) as f64, format!("slab {size}")),
        };
        list.put(
            format!("{} {}", insulation.kind, units.fine(insulation.thickness)),
            amount,
            Sold { unit: "m²", pack, of },
            format!(
                "every bay, cut {} wider than it is clear, from slabs {size}",
                units.fine(friction(rules))
            ),
            "common practice",
        );
    }
}

/// Linings of the doors.
fn for_doors(list: &mut List<'_>, layout: &Layout) {
    let units = list.job.units;
    for ((thickness, width), (count, lengths)) in linings(layout) {
        let (thickness, width) = (thickness as f64 / 10.0, width as f64 / 10.0);
        list.put(
            format!("{LINING} {} × {}", units.fine(thickness), units.fine(width)),
            count as f64,
            Sold { unit: "", pack: 1.0, of: format!("set, {} in all", units.run(lengths)) },
            "two legs and a head to a door, as wide as the finished wall".into(),
            "computed",
        );
    }
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
