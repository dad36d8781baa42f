//! One wall, settled: all that the framer needs to know.

use std::sync::Arc;

use super::{End, FaceRun};
use crate::document::{
    Behind, Door, Face, Feed, FeedFrom, Joint, MakeUp, Needs, OddBay, Packing, Raising, Rows,
    Service, Shift, Sole, SolesAtDoors, WallEnd,
};
use crate::id::{ItemRef, Name, Surface};
use crate::math::SAME;
use crate::profile::Profile;
use crate::rules::Rules;
use crate::span::Span;
use crate::units::Units;

/// A wall whose every shared question has been answered. Equal specs give equal frames.
#[derive(Clone, Debug, PartialEq)]
pub struct WallSpec {
    /// The wall's name.
    pub name: Name,
    /// Its make-up.
    pub makeup: Arc<MakeUp>,
    /// What its lengths are shown and cut in.
    pub units: Units,
    /// Stud centres.
    pub centres: f64,
    /// Distance between its nodes.
    pub length: f64,
    /// The frame across the wall, measured to the left of the line through the nodes.
    pub frame: Span,
    /// The finished wall across: frame, boards, skim.
    pub finished: Span,
    /// Its start and its end.
    pub ends: [End; 2],
    /// How its bottom is made.
    pub sole: Sole,
    /// What the lowest plate (or its packers) stands on.
    pub floor: Profile,
    /// Underside of the lowest plate.
    pub bed: Profile,
    /// True when its floor or its ceiling was read on site.
    pub is_read: bool,
    /// How its sole is fixed and packed.
    pub packing: Packing,
    /// What happens to its soles at its doorways.
    pub soles_at_doors: SolesAtDoors,
    /// Top of the head plate.
    pub head: Profile,
    /// Underside of the ceiling or soffit above it, for drawing.
    pub ceiling: Profile,
    /// Where its frame is interrupted, in order of station.
    pub breaks: Vec<Break>,
    /// Where its outer head plates lap those of other walls.
    pub head_laps: Laps,
    /// Where its outer sole plates do.
    pub sole_laps: Laps,
    /// Timber it owes to walls that meet it, in order of station.
    pub backings: Vec<Backing>,
    /// Its openings, in order of station.
    pub holes: Vec<Hole>,
    /// Boxes, pipes and ducts that no stud may stand behind, and what hangs on it.
    pub spots: Vec<Spot>,
    /// What its fittings are fixed to.
    pub fixings: Vec<Fixing>,
    /// Cables and pipes that run through its studs.
    pub routes: Vec<RouteSpec>,
    /// Common studs that stand beside their marks.
    pub shifts: Vec<Shift>,
    /// Where its plates are joined, when not as far along as bars reach.
    pub joints: Vec<Joint>,
    /// Where the odd bay goes.
    pub odd_bay: OddBay,
    /// The stations boards run from, to the right from the start and to the left from the end: what the grid is
    /// counted from.
    pub boards_from: [f64; 2],
    /// True when the room it stands in has been measured: its end bays are as drawn.
    pub surveyed: bool,
    /// The runs of boards on its right and its left face, between the walls that meet it.
    pub faces: [Vec<FaceRun>; 2],
    /// Noggin rows.
    pub rows: Rows,
    /// The longest bar of its section, where the timber list has one.
    pub longest: Option<f64>,
    /// True when something rests on it.
    pub loadbearing: bool,
    /// What is asked of it.
    pub needs: Needs,
    /// True when the finished floor floats.
    pub floor_floats: bool,
    /// How its frame comes to stand.
    pub raising: Raising,
    /// The limits it is held against.
    pub rules: Arc<Rules>,
}

impl WallSpec {
    /// The frame along the wall between the short points of its two ends: where uprights stand, and what
    /// running dimensions start and end at.
    pub fn along(&self) -> Span {
        Span { low: self.ends[0].spread().high, high: self.ends[1].spread().low }
    }

    /// The frame along the wall between the long points of its two ends.
    pub fn reach(&self) -> Span {
        Span { low: self.ends[0].spread().low, high: self.ends[1].spread().high }
    }

    /// What something `depth` deep takes up of the frame across, let in from one face.
    pub fn into_from(&self, face: Face, depth: f64) -> Span {
        let depth = depth.min(self.frame.length());
        match face {
            Face::Left => Span { low: self.frame.high - depth, high: self.frame.high },
            Face::Right => Span::from(self.frame.low, depth),
        }
    }

    /// What it stands on, or what is over it.
    pub fn surface(&self, surface: Surface) -> &Profile {
        match surface {
            Surface::Floor => &self.floor,
            Surface::Ceiling => &self.ceiling,
        }
    }

    /// The point or fitting `of`, where it is.
    pub fn spot(&self, of: &ItemRef) -> Option<&Spot> {
        self.spots.iter().find(|s| s.of == *of)
    }

    /// The cables and pipes that run upright in it: the feeds of its points, and the drops of its routes.
    pub fn drops(&self) -> Vec<Upright> {
        let feed = |s: &Spot| {
            let feed = s.feed?;
            let at = s.span.centre();
            let heights = match feed.from {
                FeedFrom::Above => Span { low: s.heights.high, high: self.head.at(at) },
                FeedFrom::Below => Span { low: self.floor.at(at), high: s.heights.low },
            };
            Some(Upright { of: s.of.clone(), at, heights, hole: feed.hole })
        };
        let drops = self.routes.iter().flat_map(|route| {
            route.drops.iter().map(|(_, at, box_)| {
                let (low, high) = (route.height.min(box_.low), route.height.max(box_.high));
                let heights = if route.height > box_.high {
                    Span { low: box_.high, high }
                } else if route.height < box_.low {
                    Span { low, high: box_.low }
                } else {
                    Span { low: route.height, high: route.height }
                };
                Upright { of: route.of.clone(), at: *at, heights, hole: route.hole }
            })
        });
        let mut list: Vec<Upright> = self.spots.iter().filter_map(feed).chain(drops).collect();
        list.retain(|u| u.heights.length() > SAME);
        list
    }

    /// The unbroken parts of the plates, as [`WallSpec::runs`]: the frame, and what is let into posts.
    pub fn plate_runs(&self) -> Vec<[[f64; 2]; 2]> {
        plate_runs(&self.ends, &self.breaks)
    }

    /// The unbroken parts of the frame: the cut at the start and at the end of each, as stations on its right
    /// and left face.
    pub fn runs(&self) -> Vec<[[f64; 2]; 2]> {
        runs(&self.ends, &self.breaks)
    }
}

/// What the breaks leave of a frame between its ends.
pub(super) fn runs(ends: &[End; 2], breaks: &[Break]) -> Vec<[[f64; 2]; 2]> {
    let mut runs = Vec::with_capacity(breaks.len() + 1);
    let mut from = ends[0].at;
    for b in breaks {
        runs.push([from, b.at[0]]);
        from = b.at[1];
    }
    runs.push([from, ends[1].at]);
    runs
}

/// The runs of a frame with what of their plates is let into posts.
pub(super) fn plate_runs(ends: &[End; 2], breaks: &[Break]) -> Vec<[[f64; 2]; 2]> {
    let housings = || breaks.iter().map(|b| b.housing);
    let before = std::iter::once(ends[0].housing).chain(housings());
    let after = housings().chain(std::iter::once(ends[1].housing));
    let let_in = |([start, end], (before, after)): ([[f64; 2]; 2], (f64, f64))| {
        [start.map(|s| s - before), end.map(|s| s + after)]
    };
    runs(ends, breaks).into_iter().zip(before.zip(after)).map(let_in).collect()
}

/// The stretch of a run between the short points of its two cuts.
pub(crate) fn between_cuts(run: [[f64; 2]; 2]) -> Span {
    Span { low: run[0][0].max(run[0][1]), high: run[1][0].min(run[1][1]) }
}

/// Where something stands in a wall from floor to head, and its frame is interrupted.
#[derive(Clone, Debug, PartialEq)]
pub struct Break {
    /// Where the frame before it stops and the frame after it starts, each as stations on the right and left
    /// face.
    pub at: [[f64; 2]; 2],
    /// The post that stands there, or the wall that runs through.
    pub with: ItemRef,
    /// How far the plates to either side are let into it.
    pub housing: f64,
}

/// Where the outer of two plates of a wall, the one the studs do not touch, stops other than the frame.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Laps {
    /// Stations at which they start and end.
    pub ends: [Option<f64>; 2],
    /// Where those of other walls lie across.
    pub gaps: Vec<Span>,
}

/// A hole in the frame.
#[derive(Clone, Debug, PartialEq)]
pub struct Hole {
    /// The opening's name.
    pub name: Name,
    /// “door”, “hatch” …
    pub label: &'static str,
    /// Its width, along the wall.
    pub span: Span,
    /// Its bottom above FFL; `None` when it goes to the floor.
    pub sill: Option<f64>,
    /// Its top above FFL.
    pub top: f64,
    /// The door in it.
    pub door: Option<Door>,
    /// True when its reveals are closed with strips of board.
    pub boarded: bool,
}

impl Hole {
    /// The part of it one walks or looks through: all of it, but for a pocket.
    pub fn doorway(&self) -> Span {
        self.parts(self.span).0
    }

    /// True when a point is where it leaves no wall.
    pub fn swallows(&self, spot: &Spot) -> bool {
        let void = Span { low: self.sill.unwrap_or(f64::NEG_INFINITY), high: self.top };
        self.doorway().overlaps(spot.span) && void.overlaps(spot.heights)
    }

    /// The pocket its leaf slides into.
    pub fn pocket(&self) -> Option<Span> {
        self.parts(self.span).1
    }

    /// Doorway and pocket, of a hole that came out as wide as `span`.
    pub(crate) fn parts(&self, span: Span) -> (Span, Option<Span>) {
        self.door.as_ref().map_or((span, None), |d| d.parts(span))
    }
}

/// A first-fix point or a fitting, where it is in the wall.
#[derive(Clone, Debug, PartialEq)]
pub struct Spot {
    /// The point or fitting.
    pub of: ItemRef,
    /// “socket”, “basin” …
    pub label: String,
    /// The face it is on.
    pub face: Face,
    /// What it covers along the wall.
    pub span: Span,
    /// What it covers in height.
    pub heights: Span,
    /// How far it goes into the wall, or stands off it.
    pub depth: f64,
    /// True for a box, pipe or duct that needs the space behind the board.
    pub sunk: bool,
    /// True for a pipe, waste or duct, which may go on down through the sole.
    pub is_pipe: bool,
    /// True for what is wired.
    pub is_wired: bool,
    /// True for a switch or socket that anyone is to reach.
    pub by_hand: bool,
    /// True for a box that hangs on timber.
    pub hangs: bool,
    /// How its service comes to it, where that comes straight down or up.
    pub feed: Option<Feed>,
    /// True when common studs in its way are cut out between trimmers.
    pub headed: bool,
}

/// A cable or pipe that runs upright in a wall.
#[derive(Clone, Debug, PartialEq)]
pub struct Upright {
    /// The point it feeds, or the route it is a drop of.
    pub of: ItemRef,
    /// Station of its middle.
    pub at: f64,
    /// From where to where it runs.
    pub heights: Span,
    /// How wide its holes are across.
    pub hole: f64,
}

/// Cables or pipes through the studs of a wall, where they are.
#[derive(Clone, Debug, PartialEq)]
pub struct RouteSpec {
    /// The route.
    pub of: ItemRef,
    /// What runs along it.
    pub service: Service,
    /// From where to where it runs level.
    pub along: Span,
    /// Height of its middle above FFL.
    pub height: f64,
    /// How wide its holes are across, or how deep its notches.
    pub hole: f64,
    /// The points it serves, each with the station of its middle and its heights.
    pub drops: Vec<(ItemRef, f64, Span)>,
    /// The face its studs are notched from.
    pub notched: Option<Face>,
}

impl Spot {
    /// “socket X1”.
    pub fn called(&self) -> String {
        match &self.of {
            ItemRef::Point(name) => format!("{} {name}", self.label),
            of => of.label(),
        }
    }
}

/// What a fitting is fixed to.
#[derive(Clone, Debug, PartialEq)]
pub struct Fixing {
    /// The fitting.
    pub of: ItemRef,
    /// What it covers along the wall.
    pub span: Span,
    /// The face it hangs on.
    pub face: Face,
    /// Heights of its fixings.
    pub heights: Vec<f64>,
    /// What its fixings go into.
    pub behind: Behind,
    /// How far that may lie above or below a fixing.
    pub tolerance: f64,
}

/// Timber a wall owes to another that meets it.
#[derive(Clone, Debug, PartialEq)]
pub struct Backing {
    /// What it is for.
    pub kind: BackingKind,
    /// The wall that meets this one.
    pub with: Name,
    /// Stations the other wall's frame covers.
    pub span: Span,
    /// The face the other wall stands against.
    pub face: Face,
}

/// What a backing is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BackingKind {
    /// The other wall butts against this one at its end: a corner.
    Corner(WallEnd),
    /// The other wall butts against this one's side.
    Tee,
}
