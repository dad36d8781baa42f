//! What changed beside the timber: openings, first-fix points, fittings and boards.

use crate::boards::{Layer, On, Piece as BoardPiece, Shape};
use crate::document::{Board, DoorStyle};
use crate::id::{ItemRef, Name};
use crate::layout::{Layout, WallLayout};
use crate::resolve::Hole;

/// What a thing is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum ThingKind {
    /// An opening.
    Opening,
    /// A first-fix point.
    Point,
    /// What hangs on a wall.
    Fitting,
    /// A board.
    Board,
}

impl ThingKind {
    /// “opening”, “board” …
    pub fn label(self) -> &'static str {
        match self {
            ThingKind::Opening => "opening",
            ThingKind::Point => "point",
            ThingKind::Fitting => "fitting",
            ThingKind::Board => "board",
        }
    }
}

/// A thing as it is or was.
#[derive(Clone, Debug, PartialEq)]
pub struct Thing {
    /// The wall or platform, or “ceiling”.
    pub of: Name,
    /// What it is called: “door D1”, “right 3”.
    pub what: String,
    /// Along the wall from the start of its frame, mm: of a point its middle, of others the edge nearer the start.
    pub at: f64,
    /// Above FFL, mm: of a point its middle, of others the lower edge. On a platform or a ceiling: along its other side.
    pub height: f64,
    /// Width and height, or what a board is cut from, mm.
    pub size: (f64, f64),
    /// What else there is to say of it: “leaf 762 × 1 981, right hand, opens left”, “on the right face”; of a board its kind.
    pub note: String,
    /// Its outline from its own lower left corner, in halves of a millimetre; empty for what is no board.
    outline: Vec<[i64; 2]>,
}

/// What became of a thing.
#[derive(Clone, Debug, PartialEq)]
pub struct ThingChange {
    /// What it is.
    pub kind: ThingKind,
    /// As it was; `None` for what is new.
    pub was: Option<Thing>,
    /// As it is; `None` for what is gone.
    pub is: Option<Thing>,
}

impl ThingChange {
    /// “moved”, “changed”, “cut again”, “new”, “left over”, “taken out”.
    pub fn label(&self) -> &'static str {
        let is_board = self.kind == ThingKind::Board;
        match (&self.was, &self.is) {
            (None, _) => "new",
            (_, None) if is_board => "left over",
            (_, None) => "taken out",
            (Some(was), Some(is)) if was.is_like(is) => "moved",
            _ if is_board => "cut again",
            _ => "changed",
        }
    }

    /// It as it is, or else as it was.
    pub fn thing(&self) -> Option<&Thing> {
        self.is.as_ref().or(self.was.as_ref())
    }
}

impl Thing {
    /// The same thing, wherever it is.
    fn is_like(&self, other: &Thing) -> bool {
        near(self.size.0, other.size.0)
            && near(self.size.1, other.size.1)
            && self.note == other.note
            && self.outline == other.outline
    }

    fn is_there(&self, other: &Thing) -> bool {
        self.of == other.of && near(self.at, other.at) && near(self.height, other.height)
    }
}

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() < super::SAME_PLACE
}

/// What changed of things, by kind, and how many boards stay as they are.
pub(super) fn changes(was: &Layout, is: &Layout) -> (Vec<ThingChange>, usize) {
    let mut all = Vec::new();
    for kind in [ThingKind::Opening, ThingKind::Point, ThingKind::Fitting] {
        let mut before = named(was, kind);
        for (name, thing) in named(is, kind) {
            let found = before.iter().position(|(other, _)| *other == name);
            let old = found.map(|i| before.remove(i).1);
            let stays = |old: &Thing| old.is_there(&thing) && old.is_like(&thing);
            if !old.as_ref().is_some_and(stays) {
                all.push(ThingChange { kind, was: old, is: Some(thing) });
            }
        }
        all.extend(before.into_iter().map(|(_, old)| ThingChange {
            kind,
            was: Some(old),
            is: None,
        }));
    }
    let (boards, unchanged) = boards_changed(boards(was), boards(is));
    all.extend(boards);
    (all, unchanged)
}

/// Things that have a name of their own in the job.
fn named(layout: &Layout, kind: ThingKind) -> Vec<(Name, Thing)> {
    let mut list = Vec::new();
    for wall in &layout.walls {
        match kind {
            ThingKind::Opening => {
                list.extend(wall.spec.holes.iter().map(|h| (h.name.clone(), opening(wall, h))));
            }
            _ => list.extend(spots(wall, kind)),
        }
    }
    list
}

fn opening(wall: &WallLayout, hole: &Hole) -> Thing {
    let units = wall.spec.units;
    let foot = hole.sill.unwrap_or_else(|| wall.spec.floor.at(hole.span.centre()).max(0.0));
    let note = hole.door.as_ref().map_or(String::new(), |door| {
        let (width, height, _) = door.leaf;
        let style = match (door.style, door.hand()) {
            (DoorStyle::Sliding, _) => "slides".to_string(),
            (DoorStyle::Pocket, _) => "slides into the wall".to_string(),
            (_, Some(hand)) => format!("{} hand", hand.label()),
            (_, None) => "pair".to_string(),
        };
        let size = format!("{} × {}", units.show(width), units.show(height));
        format!("leaf {size}, {style}, opens {}", door.opens.label())
    });
    Thing {
        of: wall.name().clone(),
        what: format!("{} {}", hole.label, hole.name),
        at: hole.span.low - wall.spec.along().low,
        height: foot,
        size: (hole.span.length(), hole.top - foot),
        note,
        outline: Vec::new(),
    }
}

fn spots(wall: &WallLayout, kind: ThingKind) -> impl Iterator<Item = (Name, Thing)> {
    let start = wall.spec.along().low;
    wall.spec.spots.iter().filter_map(move |spot| {
        let is_point = kind == ThingKind::Point;
        let name = match (&spot.of, is_point) {
            (ItemRef::Point(name), true) | (ItemRef::Fitting(name), false) => name.clone(),
            _ => return None,
        };
        let what = if is_point { format!("{} {name}", spot.label) } else { name.to_string() };
        let at = if is_point { spot.span.centre() } else { spot.span.low };
        let height = if is_point { spot.heights.centre() } else { spot.heights.low };
        let thing = Thing {
            of: wall.name().clone(),
            what,
            at: at - start,
            height,
            size: (spot.span.length(), spot.heights.length()),
            note: format!("on the {} face", spot.face.label()),
            outline: Vec::new(),
        };
        Some((name, thing))
    })
}

/// Every board with what it is on and its layer.
type Boards = Vec<((Name, On, usize), Thing)>;

fn boards(layout: &Layout) -> Boards {
    let mut list = Boards::new();
    for wall in &layout.walls {
        let start = wall.spec.along().low;
        for layer in &wall.boards.layers {
            let on = On::Face(layer.face);
            list.extend(layer.pieces.iter().map(|p| board(wall.name(), on, layer, p, start)));
        }
        for strip in &wall.boards.strips {
            let on = strip.closes.on();
            let (length, wide) = (strip.length(), strip.blank().0);
            let thing = Thing {
                of: wall.name().clone(),
                what: format!("{} {}", on.label(), strip.number),
                at: strip.place[0].low - start,
                height: strip.place[2].low,
                size: (wide, length.length()),
                note: kind_of(&strip.board),
                outline: Vec::new(),
            };
            list.push(((wall.name().clone(), on, strip.layer), thing));
        }
    }
    for platform in &layout.platforms {
        for layer in platform.boards.iter() {
            let of = platform.name();
            list.extend(layer.pieces.iter().map(|p| board(of, layer.face, layer, p, 0.0)));
        }
    }
    if let Some(ceiling) = &layout.ceiling {
        let of = Name::from("ceiling");
        for layer in &ceiling.layers {
            list.extend(layer.pieces.iter().map(|p| board(&of, layer.face, layer, p, 0.0)));
        }
    }
    list
}

fn board<F>(
    of: &Name,
    on: On,
    layer: &Layer<F>,
    piece: &BoardPiece,
    start: f64,
) -> ((Name, On, usize), Thing) {
    let (s, z) = (piece.shape.stations(), piece.shape.heights());
    let thing = Thing {
        of: of.clone(),
        what: format!("{} {}", on.label(), piece.number),
        at: s.low - start,
        height: z.low,
        size: piece.blank,
        note: kind_of(&layer.board),
        outline: outline(&piece.shape),
    };
    ((of.clone(), on, layer.layer), thing)
}

fn kind_of(board: &Board) -> String {
    format!("{} {}", board.kind, board.thickness)
}

/// A shape from its own corner, in halves of a millimetre: equal for boards that are cut alike.
fn outline(shape: &Shape) -> Vec<[i64; 2]> {
    let corner = [shape.stations().low, shape.heights().low];
    let rings = std::iter::once(&shape.outline).chain(&shape.holes);
    let halves = |p: &[f64; 2]| [0, 1].map(|k: usize| ((p[k] - corner[k]) * 2.0).round() as i64);
    let mut points: Vec<[i64; 2]> = rings.flatten().map(halves).collect();
    points.sort_unstable();
    points
}

/// Boards of one layer of one face: those that stay, those cut alike that hang elsewhere, those cut again under their number, and
/// those that are new or left over.
fn boards_changed(mut was: Boards, is: Boards) -> (Vec<ThingChange>, usize) {
    type Serves = fn(&Thing, &Thing) -> bool;
    let passes: [Serves; 3] = [
        |was, is| was.is_like(is) && was.is_there(is),
        |was, is| was.is_like(is),
        |was, is| was.what == is.what,
    ];
    let (mut left, mut found, mut unchanged) = (is, Vec::new(), 0);
    for (pass, serves) in passes.into_iter().enumerate() {
        let mut rest = Boards::new();
        for (place, thing) in left {
            let at = was.iter().position(|(other, old)| *other == place && serves(old, &thing));
            match at.map(|i| was.remove(i).1) {
                Some(_) if pass == 0 => unchanged += 1,
                Some(old) => found.push((Some(old), Some(thing))),
                None => rest.push((place, thing)),
            }
        }
        left = rest;
    }
    found.extend(left.into_iter().map(|(_, thing)| (None, Some(thing))));
    found.extend(was.into_iter().map(|(_, old)| (Some(old), None)));
    let change = |(was, is)| ThingChange { kind: ThingKind::Board, was, is };
    (found.into_iter().map(change).collect(), unchanged)
}
