//! What the crew sets out by: the lines of the frames on the floor ([`floor`]), the marks on their plates ([`marks`]), the
//! levels of a wall off the laser line, the diagonals of its frame, which soles run on through a doorway, and what its plates
//! lose as they dry.

pub mod floor;
pub mod marks;

use crate::document::{Job, Moisture, Sole};
use crate::frame::Role;
use crate::id::ItemRef;
use crate::layout::WallLayout;
use crate::math::same;
use crate::resolve::{Hole, WallSpec};
use crate::units::Units;

/// One level.
#[derive(Clone, Debug, PartialEq)]
pub struct Level {
    /// “plate underside”, “door D1 head” …
    pub name: String,
    /// Height above FFL, mm.
    pub height: f64,
    /// Station it is taken at, where it is not the same all along.
    pub at: Option<f64>,
    /// What it is of.
    pub of: ItemRef,
}

/// The levels of one wall, from the floor up. A line that is not level is given at both ends of the frame.
pub fn levels(job: &Job, wall: &WallLayout) -> Vec<Level> {
    let spec = &wall.spec;
    let along = spec.along();
    let of_wall = ItemRef::Wall(spec.name.clone());
    let mut list: Vec<Level> = Vec::new();
    let mut line = |name: &str, from: f64, to: f64| {
        let level = |name: String, height: f64, at: Option<f64>| Level {
            name,
            height,
            at,
            of: of_wall.clone(),
        };
        if same(from, to) {
            list.push(level(name.into(), from, None));
        } else {
            list.push(level(format!("{name}, start"), from, Some(along.low)));
            list.push(level(format!("{name}, end"), to, Some(along.high)));
        }
    };
    let over = |p: &crate::profile::Profile| p.over(along);
    let (f0, f1) = over(&spec.floor);
    line("floor", f0, f1);
    let (b0, b1) = over(&spec.bed);
    line("plate underside", b0, b1);
    if let Sole::Raised { top, .. } = spec.sole {
        line("upper sole top", top, top);
    }
    let (h0, h1) = over(&spec.head);
    line("head plate top", h0, h1);
    let (c0, c1) = over(&spec.ceiling);
    line("ceiling", c0, c1);
    let mut one = |name: String, height: f64, at: Option<f64>, of: ItemRef| {
        list.push(Level { name, height, at, of });
    };
    for hole in &spec.holes {
        let of = ItemRef::Opening(hole.name.clone());
        let at = Some(hole.span.centre());
        if let Some(sill) = hole.sill {
            one(format!("{} {} sill", hole.label, hole.name), sill, at, of.clone());
        }
        one(format!("{} {} head", hole.label, hole.name), hole.top, at, of);
    }
    for (index, row) in wall.frame.rows.iter().enumerate() {
        let of = ItemRef::NogginRow { wall: spec.name.clone(), row: index };
        let reason = if row.why.is_needed() { row.why.label() } else { "" };
        let words = format!("noggin row {} {reason}", index + 1);
        one(words.trim_end().to_string(), row.height, None, of);
    }
    for point in job.wall(&spec.name).map_or(&[][..], |w| &w.points) {
        let of = ItemRef::Point(point.name.clone());
        let station = spec.spot(&of).map_or(point.distance, |s| s.span.centre());
        one(format!("{} {}", point.kind.label(), point.name), point.height, Some(station), of);
    }
    list.sort_by(|a, b| a.height.total_cmp(&b.height));
    list
}

/// How far a height is above the laser line: to be measured up from it, or down when negative.
pub fn from_laser(job: &Job, height: f64) -> f64 {
    height - job.levels.laser
}

/// A length to be added or taken off, with its sign: “+1 027”, “−530”.
pub fn signed(units: Units, value: f64) -> String {
    let text = units.show(value);
    if units.round(value) > 0.0 { format!("+{text}") } else { text }
}

/// The two diagonals of a frame, from the underside of its lowest plate to the top of its head plate: from the
/// foot at its start to the top at its end, and from the foot at its end to the top at its start. Equal when it
/// is square.
pub fn diagonals(spec: &WallSpec) -> [f64; 2] {
    let along = spec.along();
    let (low, high) = (spec.bed.over(along), spec.head.over(along));
    [(high.1 - low.0).hypot(along.length()), (high.0 - low.1).hypot(along.length())]
}

/// The rack that is told beside the diagonals of a frame, mm: how much further along its head stands than its sole.
pub const RACK: f64 = 5.0;

/// By how much the two diagonals of a frame `length` long and `height` high differ when its head stands `rack` further along
/// than its sole: what a tape shows of a frame that has racked.
///
/// ```
/// // Pythagoras, by hand: √(2405² + 2400²) − √(2395² + 2400²) = 3 397.65 − 3 390.58.
/// let differ = layout_core::setout::racked(2400.0, 2400.0, 5.0);
/// assert!((differ - 7.07).abs() < 0.01);
/// ```
pub fn racked(length: f64, height: f64, rack: f64) -> f64 {
    (length + rack).hypot(height) - (length - rack).hypot(height)
}

/// What becomes of the soles at one opening.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct SolesAt {
    /// Those that run on through it.
    pub run_through: Vec<Role>,
    /// Those that are cut out between its studs.
    pub cut_out: Vec<Role>,
}

impl SolesAt {
    /// “lower sole runs through, upper sole cut out”.
    pub fn text(&self) -> String {
        let list =
            |roles: &[Role]| roles.iter().map(|r| r.label()).collect::<Vec<_>>().join(" and ");
        let mut parts = Vec::new();
        if !self.run_through.is_empty() {
            let verb = if self.run_through.len() == 1 { "runs" } else { "run" };
            parts.push(format!("{} {verb} through", list(&self.run_through)));
        }
        if !self.cut_out.is_empty() {
            parts.push(format!("{} cut out", list(&self.cut_out)));
        }
        parts.join(", ")
    }
}

/// Which soles run through an opening that goes to the floor, and which are cut out; `None` for one with a sill.
pub fn soles_at(wall: &WallLayout, hole: &Hole) -> Option<SolesAt> {
    if hole.sill.is_some() {
        return None;
    }
    let mut soles = SolesAt::default();
    for role in [Role::SolePlate, Role::LowerSole, Role::UpperSole] {
        let mut plates = wall.frame.members.iter().filter(|m| m.role == role).peekable();
        if plates.peek().is_some() {
            let runs = plates.any(|m| m.solid.stations().contains(hole.span.centre()));
            if runs { &mut soles.run_through } else { &mut soles.cut_out }.push(role);
        }
    }
    Some(soles)
}

/// What the plates of a wall lose as they dry.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drying {
    /// How many plates lie under and over its studs.
    pub plates: usize,
    /// Their height together when they are built in, mm.
    pub now: f64,
    /// Their height together in use, mm.
    pub in_use: f64,
}

impl Drying {
    /// How much lower the frame will be, mm; negative when it grows.
    pub fn loss(self) -> f64 {
        self.now - self.in_use
    }
}

/// The plates of a wall, built in and in use: 0.25 % across the grain for one per cent of moisture (EN 336).
/// Studs and risers stand along the grain and stay as long as they are.
pub fn drying(moisture: Moisture, spec: &WallSpec) -> Drying {
    let makeup = &spec.makeup;
    let soles = match spec.sole {
        Sole::Direct { .. } => usize::from(makeup.sole_plates.max(1)),
        Sole::Raised { .. } => 2,
    };
    let plates = soles + usize::from(makeup.head_plates.max(1));
    let now = plates as f64 * makeup.timber.thickness();
    Drying { plates, now, in_use: moisture.in_use_size(now) }
}
