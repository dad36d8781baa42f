//! What changed between two states of a job, piece by piece: what stays, what goes elsewhere, what is cut again, what is new, what
//! is left over; and which pieces that were cut already still serve. Beside the timber: openings, points, fittings and boards.
//!
//! ```text
//!   was    │S1    │S2    │S3    │S4          S2 moved on by 60: the same piece
//!   is     │S1      │S2  │S3    │S4   │S5    S5 is new: what came out of the old opening may serve
//! ```

mod things;

use crate::frame::{Member, Role};
use crate::id::{Mark, Name};
use crate::layout::{Framed, Layout};
use crate::math::SAME;

pub use things::{Thing, ThingChange, ThingKind};

/// One piece as it is or was.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// The wall or platform.
    pub of: Name,
    /// Its mark there.
    pub mark: Mark,
    /// What it does.
    pub role: Role,
    /// What it is cut to, mm.
    pub length: f64,
    /// From the start of the frame, or the platform's corner, to its edge nearer there, mm.
    pub at: f64,
    /// Its underside above FFL, mm.
    pub height: f64,
    /// Its section and strength class in a line.
    pub timber: String,
    /// Its ends, to a tenth of a degree: pieces cut alike have equal ones.
    ends: [i64; 4],
}

/// What became of a piece.
#[derive(Clone, Debug, PartialEq)]
pub enum Change {
    /// The same piece at another place, along or up.
    Moved(Piece, Piece),
    /// In the same place, cut otherwise.
    Recut(Piece, Piece),
    /// There was none like it.
    New(Piece),
    /// It is not wanted any more.
    Gone(Piece),
    /// The same piece in the same place under another mark.
    Renamed(Piece, Piece),
}

impl Change {
    /// “moved”, “cut again” …
    pub fn label(&self) -> &'static str {
        match self {
            Change::Moved(..) => "moved",
            Change::Recut(..) => "cut again",
            Change::New(_) => "new",
            Change::Gone(_) => "left over",
            Change::Renamed(..) => "other mark",
        }
    }

    /// What it was; `None` for what is new.
    pub fn was(&self) -> Option<&Piece> {
        match self {
            Change::Moved(was, _) | Change::Recut(was, _) | Change::Renamed(was, _) => Some(was),
            Change::Gone(was) => Some(was),
            Change::New(_) => None,
        }
    }

    /// What it is; `None` for what is gone.
    pub fn is(&self) -> Option<&Piece> {
        match self {
            Change::Moved(_, is) | Change::Recut(_, is) | Change::Renamed(_, is) => Some(is),
            Change::New(is) => Some(is),
            Change::Gone(_) => None,
        }
    }
}

/// A piece that is left over or was cut otherwise, and the one it can be cut down to.
#[derive(Clone, Debug, PartialEq)]
pub struct Reuse {
    /// What is there.
    pub from: Piece,
    /// What is wanted: as long, or shorter.
    pub to: Piece,
}

/// Everything that changed.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Changes {
    /// Wall by wall, what moved first, then what is cut again, new, left over, or has another mark.
    pub changes: Vec<Change>,
    /// How many pieces stay as they are.
    pub unchanged: usize,
    /// What that was cut already still serves.
    pub reuse: Vec<Reuse>,
    /// Openings, points, fittings and boards that changed, one kind after another.
    pub things: Vec<ThingChange>,
    /// How many boards stay as they are.
    pub boards_unchanged: usize,
}

/// What changed from one layout to another.
pub fn changes(was: &Layout, is: &Layout) -> Changes {
    let mut names: Vec<&Name> = is.framed().map(Framed::name).collect();
    names.extend(
        was.framed().map(Framed::name).filter(|name| is.framed().all(|p| p.name() != *name)),
    );
    let of = |layout: &Layout, name: &Name| -> Vec<Piece> {
        let part = layout.framed().find(|p| p.name() == name);
        part.map_or(Vec::new(), |p| p.frame().members.iter().map(|m| piece(p, m)).collect())
    };
    let mut all = Changes::default();
    for name in names {
        let (stay, found) = compare(of(was, name), of(is, name));
        all.unchanged += stay;
        all.changes.extend(found);
    }
    all.reuse = reuse(&all.changes);
    (all.things, all.boards_unchanged) = things::changes(was, is);
    all
}

fn piece(part: Framed, member: &Member) -> Piece {
    let start = match part {
        Framed::Wall(wall) => wall.spec.along().low,
        Framed::Platform(_) => 0.0,
    };
    let tenths = |angle: f64| (angle.to_degrees() * 10.0).round() as i64;
    let [a, b] = member.cut().ends;
    Piece {
        of: part.name().clone(),
        mark: member.mark,
        role: member.role,
        length: part.cut_length(member),
        at: member.solid.stations().low - start,
        height: member.solid.heights().low,
        timber: format!("{} {}", member.timber.size_in(part.units()), member.timber.grade()),
        ends: [a.bevel, a.mitre, b.bevel, b.mitre].map(tenths),
    }
}

/// Nearer than this is the same place, mm: no tape tells it.
const SAME_PLACE: f64 = 0.5;

impl Piece {
    fn is_cut_as(&self, other: &Piece) -> bool {
        self.timber == other.timber
            && (self.length - other.length).abs() < SAME
            && self.ends == other.ends
    }

    fn off(&self, other: &Piece) -> f64 {
        (self.at - other.at).abs() + (self.height - other.height).abs()
    }
}

/// Which piece that was serves as one that is, and what that is called.
type Pass = (fn(&Piece, &Piece) -> bool, fn(Piece, Piece) -> Change);

/// The pieces of one wall as they were and as they are: how many stay, and what became of the others.
fn compare(mut was: Vec<Piece>, is: Vec<Piece>) -> (usize, Vec<Change>) {
    let mut changes = Vec::new();
    let mut unchanged = 0;
    // The nearest of those that were, of which `serves` is true.
    let take = |was: &mut Vec<Piece>, is: &Piece, serves: &dyn Fn(&Piece) -> bool| {
        let near = was.iter().enumerate().filter(|(_, p)| p.role == is.role && serves(p));
        let at = near.min_by(|(_, a), (_, b)| a.off(is).total_cmp(&b.off(is))).map(|(i, _)| i);
        at.map(|i| was.remove(i))
    };
    let mut left: Vec<Piece> = Vec::new();
    for piece in is {
        let there = |p: &Piece| p.is_cut_as(&piece) && p.off(&piece) < SAME_PLACE;
        match take(&mut was, &piece, &there) {
            Some(old) if old.mark == piece.mark => unchanged += 1,
            Some(old) => changes.push(Change::Renamed(old, piece)),
            None => left.push(piece),
        }
    }
    // What stands where one stood is that one, cut again; what is cut as one was is that one, moved.
    let passes: [Pass; 3] = [
        (|p, is| p.off(is) < SAME_PLACE && p.timber == is.timber, Change::Recut),
        (|p, is| p.is_cut_as(is), Change::Moved),
        (|p, is| p.mark == is.mark && p.timber == is.timber, Change::Recut),
    ];
    for (serves, change) in passes {
        let mut rest = Vec::new();
        for piece in left {
            match take(&mut was, &piece, &|p: &Piece| serves(p, &piece)) {
                Some(old) => changes.push(change(old, piece)),
                None => rest.push(piece),
            }
        }
        left = rest;
    }
    changes.extend(left.into_iter().map(Change::New));
    changes.extend(was.into_iter().map(Change::Gone));
    let order = |c: &Change| match c {
        Change::Moved(..) => 0,
        Change::Recut(..) => 1,
        Change::New(_) => 2,
        Change::Gone(_) => 3,
        Change::Renamed(..) => 4,
    };
    changes.sort_by_key(order);
    (unchanged, changes)
}

/// What is there and not wanted as it is, for what is wanted: the longest wanted first, each from the shortest that is long enough.
/// A piece whose ends are not square gives only what is shorter by more than its ends.
fn reuse(changes: &[Change]) -> Vec<Reuse> {
    let mut there: Vec<&Piece> = changes
        .iter()
        .filter(|c| matches!(c, Change::Gone(_) | Change::Recut(..)))
        .filter_map(Change::was)
        .collect();
    let mut wanted: Vec<&Piece> = changes
        .iter()
        .filter(|c| matches!(c, Change::New(_) | Change::Recut(..)))
        .filter_map(Change::is)
        .collect();
    wanted.sort_by(|a, b| b.length.total_cmp(&a.length));
    let mut list = Vec::new();
    for piece in wanted {
        let slack = |p: &Piece| if p.ends == [0; 4] { 0.0 } else { SLOPED };
        let serves = |p: &&Piece| {
            p.timber == piece.timber
                && (p.is_cut_as(piece) || p.length - slack(p) >= piece.length - SAME)
        };
        let found = there.iter().enumerate().filter(|(_, p)| serves(p));
        let best = found.min_by(|(_, a), (_, b)| a.length.total_cmp(&b.length)).map(|(i, _)| i);
        if let Some(i) = best {
            list.push(Reuse { from: there.remove(i).clone(), to: piece.clone() });
        }
    }
    list
}

/// What the sloped ends of a piece may take of its length, mm.
const SLOPED: f64 = 200.0;
