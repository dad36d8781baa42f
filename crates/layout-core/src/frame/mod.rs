//! Fills one settled wall with timber: plates, studs, openings, junction grounds and noggins.
//!
//! A frame is worked out from its [`WallSpec`] alone. Whatever two walls must agree on was
//! settled before.

mod solid;
mod member;
mod courses;
mod heights;
mod holes;
mod grid;
mod level_joints;
mod rows;
mod uprights;
mod openings;
mod plates;
mod noggins;
mod fixings;
mod tracks;
mod pieces;
mod headed;

pub(crate) use level_joints::Rise;
pub use level_joints::{LIFT, sheet_of};
pub use member::{Member, Role};
pub use plates::{LEAST_PLATE, PlatePart, STAGGER};
pub use rows::{Row, RowFor, own_rules};
pub use solid::{Cut, EndCut, Rip, Solid};

use crate::document::Timber;
use crate::id::{ItemRef, Mark};
use crate::math::{SAME, is_place};
use crate::resolve::WallSpec;
use crate::snag::{Code, Snag};
pub(crate) use fixings::BOX_REACHES;
pub use grid::board_joints;
pub(crate) use grid::{
    GridMark, MOST_STUDS, Settled, divide_wide_bays, ladder, settle, suits_boards,
};
pub(crate) use headed::BESIDE_BOX;
use heights::Heights;
use holes::Holes;
use noggins::Bays;
use pieces::Pieces;

/// A framed wall, in wall coordinates.
#[derive(Clone, Debug, PartialEq)]
pub struct Frame {
    /// Every piece: plates from the floor up, then uprights along the wall, then what lies between them.
    pub members: Vec<Member>,
    /// The plates as they could be joined.
    pub plates: Vec<PlatePart>,
    /// The noggin rows of a wall, from the floor up.
    pub rows: Vec<Row>,
    /// Count and cut length of each section.
    pub totals: Vec<Total>,
    /// What had to be done differently.
    pub snags: Vec<Snag>,
}

/// One section's share of a frame.
#[derive(Clone, Debug, PartialEq)]
pub struct Total {
    /// Section and strength class.
    pub timber: Timber,
    /// How many pieces.
    pub pieces: usize,
    /// Their cut lengths together, mm.
    pub length: f64,
}

/// One running mark.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RunningMark {
    /// Distance from the start of the frame to the near edge of the timber.
    pub at: f64,
    /// The upright.
    pub member: Mark,
    /// Its role.
    pub role: Role,
}

impl Frame {
    /// Marks to set out on the sole and head plates with one pull of the tape: the near edge of every
    /// full-height upright from the start of the frame, timber on the far side of the mark.
    pub fn running(&self, spec: &WallSpec) -> Vec<RunningMark> {
        let start = spec.along().low;
        let mut marks: Vec<RunningMark> = self
            .members
            .iter()
            .filter(|m| m.role.is_full_height())
            .map(|m| RunningMark {
                at: m.solid.stations().low - start,
                member: m.mark,
                role: m.role,
            })
            // A ground planted beyond the end stud of an angled end goes to the end of the plate.
            .filter(|mark| mark.at > -SAME)
            .collect();
        marks.sort_by(|a, b| a.at.total_cmp(&b.at));
        marks
    }

    fn empty(snags: Vec<Snag>) -> Frame {
        Frame {
            members: Vec::new(),
            rows: Vec::new(),
            plates: Vec::new(),
            totals: Vec::new(),
            snags,
        }
    }
}

/// Frames one wall.
pub fn frame(spec: &WallSpec) -> Frame {
    let mut snags = Vec::new();
    if let Some(snag) = unbuildable(spec) {
        return Frame::empty(vec![snag]);
    }
    let Some(heights) = Heights::of(spec, &mut snags) else { return Frame::empty(snags) };
    let holes = Holes::of(spec, &heights, &mut snags);
    let mut uprights = uprights::place(spec, &holes, &mut snags);
    let rows = rows::settle(spec, &heights, &mut snags);

    let mut pieces = Pieces::new(spec);
    let plates = plates::lay(spec, &heights, &holes, &uprights, &mut pieces);
    headed::cut_out(spec, &heights, &holes, &mut uprights, &mut pieces, &mut snags);
    for upright in &uprights.list {
        pieces.full_height(upright, &heights);
    }
    for hole in &holes.list {
        openings::frame(spec, &heights, &uprights.grid, hole, &mut pieces);
    }
    pieces.risers(&heights);
    tracks::place(spec, &heights, &holes, &mut pieces, &mut snags);
    let drops = spec.drops();
    let bays = Bays { spec, heights: &heights, holes: &holes, uprights: &uprights, drops: &drops };
    fixings::pattresses(&bays, &mut pieces, &mut snags);
    noggins::place(&bays, &rows, &mut pieces, &mut snags);
    fixings::boxes(&bays, &mut pieces, &mut snags);
    let members = pieces.marked();
    let totals = totals(&members);
    Frame { members, rows, plates, totals, snags }
}

/// Why a wall cannot be framed at all.
fn unbuildable(spec: &WallSpec) -> Option<Snag> {
    let along = spec.along();
    let t = spec.makeup.timber.thickness();
    let wall = ItemRef::Wall(spec.name.clone());
    let holes =
        spec.holes.iter().flat_map(|h| [h.span.low, h.span.high, h.sill.unwrap_or(0.0), h.top]);
    let heights = [&spec.floor, &spec.bed, &spec.head, &spec.ceiling]
        .into_iter()
        .flat_map(|p| [p.lowest(), p.highest()]);
    let levels = match spec.sole {
        crate::document::Sole::Direct { packers, .. } => [packers, 0.0],
        crate::document::Sole::Raised { packers, top } => [packers, top],
    };
    let numbers = holes.chain(heights).chain(levels).chain([along.low, along.high, spec.centres]);
    if !numbers.into_iter().all(is_place) || t < 1.0 || spec.makeup.timber.depth() < 1.0 {
        let message = format!("Wall {} has a number that is not a size", spec.name);
        return Some(Snag::new(Code::Absurd, wall, message, "Give it lengths that are numbers."));
    }
    let studs = along.length() / spec.centres;
    if !(0.0..=MOST_STUDS).contains(&studs) && along.length() >= t {
        let message = format!(
            "Wall {} at {} centres would need more than {} studs",
            spec.name,
            spec.units.with_unit(spec.centres),
            crate::units::mm(MOST_STUDS)
        );
        return Some(
            Snag::new(
                Code::Absurd,
                wall,
                message,
                format!("Choose centres of {} or more.", spec.units.with_unit(50.0)),
            )
            .measured(spec.centres, 50.0),
        );
    }
    (along.length() < 2.0 * t).then(|| {
        let message = format!(
            "Wall {} has a frame {} long: too short for two studs",
            spec.name,
            spec.units.with_unit(along.length())
        );
        Snag::new(Code::WallTooShort, wall, message, "Make it longer, or take it away.")
            .in_wall(&spec.name, along.centre())
            .measured(along.length(), 2.0 * t)
    })
}

/// Count and cut length of each section among `members`, in order of first use.
pub(crate) fn totals(members: &[Member]) -> Vec<Total> {
    let mut totals: Vec<Total> = Vec::new();
    for member in members {
        let length = member.cut().length;
        match totals.iter_mut().find(|t| t.timber == member.timber) {
            Some(total) => {
                total.pieces += 1;
                total.length += length;
            }
            None => totals.push(Total { timber: member.timber.clone(), pieces: 1, length }),
        }
    }
    totals
}
