//! Strips of board that close a frame where no face does: over an end that stands free, and round an opening whose
//! reveals are boarded.
//!
//! ```text
//!      ═══════════════════╗  face boards first, flush with the end stud or the edge of the hole;
//!      ┄┄┄┄┄┄┄┄┄┄┄┄┄┄┐▒▒▒▒║  then the strip over their edges, as wide as frame and boards.
//!      ═══════════════════╝  In an opening head and sill run through, the jambs stand between them.
//! ```

use super::screws::{CUT, Spacing, TIMBER, merged, spread};
use super::{LIFT, On, sheet_of};
use crate::catalogue::mass_of;
use crate::document::{Board, Finish, Sundries, WallEnd};
use crate::frame::{Frame, Member};
use crate::id::Name;
use crate::math::{LEAST_PIECE, SAME};
use crate::resolve::{Hole, Meets, WallSpec};
use crate::span::Span;

/// What a strip closes.
#[derive(Clone, Debug, PartialEq)]
pub enum Closes {
    /// An end of the wall that stands free.
    End(WallEnd),
    /// A reveal of an opening.
    Reveal(Name, Reveal),
}

/// One of the sides of a hole.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reveal {
    /// Its jamb nearer the start of the wall.
    Start,
    /// Its jamb nearer the end of the wall.
    End,
    /// Its head.
    Head,
    /// Its sill.
    Sill,
}

impl Reveal {
    /// “start”, “end”, “head”, “sill”.
    pub fn label(self) -> &'static str {
        match self {
            Reveal::Start => "start",
            Reveal::End => "end",
            Reveal::Head => "head",
            Reveal::Sill => "sill",
        }
    }
}

impl Closes {
    /// “end of the wall”, “O1, head”, “O1, jamb at its start”.
    pub fn in_words(&self) -> String {
        match self {
            Closes::End(WallEnd::Start) => "start of the wall".into(),
            Closes::End(WallEnd::End) => "end of the wall".into(),
            Closes::Reveal(name, Reveal::Start) => format!("{name}, jamb at its start"),
            Closes::Reveal(name, Reveal::End) => format!("{name}, jamb at its end"),
            Closes::Reveal(name, Reveal::Head) => format!("{name}, head"),
            Closes::Reveal(name, Reveal::Sill) => format!("{name}, sill"),
        }
    }

    /// What its mark says it is on.
    pub fn on(&self) -> On {
        match self {
            Closes::End(_) => On::End,
            Closes::Reveal(..) => On::Reveal,
        }
    }
}

/// One strip: a rectangle.
#[derive(Clone, Debug, PartialEq)]
pub struct Strip {
    /// Its number among the ends of its wall, or among its reveals, from 1.
    pub number: usize,
    /// What it closes.
    pub closes: Closes,
    /// Its layer, from 0 at the frame.
    pub layer: usize,
    /// True when no other layer goes over it.
    pub is_outer: bool,
    /// What it is of.
    pub board: Board,
    /// Width and length of the sheets it is cut from, mm.
    pub sheet: (f64, f64),
    /// What it takes up along the wall, across it, and in height, mm; its thickness is one of the first and the last.
    pub place: [Span; 3],
    /// The timber behind it: across the wall, and along the strip.
    pub timber: Vec<(Span, Span)>,
    /// Thickness of the layers under it, mm.
    pub under: f64,
}

impl Strip {
    /// True when its length lies along the wall: a head or a sill.
    pub fn is_level(&self) -> bool {
        matches!(self.closes, Closes::Reveal(_, Reveal::Head | Reveal::Sill))
    }

    /// What it covers along its length: up the wall, or along it.
    pub fn length(&self) -> Span {
        if self.is_level() { self.place[0] } else { self.place[2] }
    }

    /// What it is cut from: across the wall and along itself, mm.
    pub fn blank(&self) -> (f64, f64) {
        (self.place[1].length(), self.length().length())
    }

    /// Its area, mm².
    pub fn area(&self) -> f64 {
        self.place[1].length() * self.length().length()
    }

    /// Its mass, kg.
    pub fn mass(&self) -> f64 {
        self.area() / 1e6 * mass_of(&self.board)
    }

    /// Mass of a whole sheet, kg.
    pub fn sheet_mass(&self) -> f64 {
        self.sheet.0 * self.sheet.1 / 1e6 * mass_of(&self.board)
    }

    /// Its four corners on the side that looks at the frame, as stations, places across and heights, mm.
    pub fn outline(&self) -> [[f64; 3]; 4] {
        let [along, across, up] = self.place;
        let (s, z) = match &self.closes {
            Closes::End(WallEnd::Start) => (Some(along.high), None),
            Closes::End(WallEnd::End) => (Some(along.low), None),
            Closes::Reveal(_, Reveal::Start) => (Some(along.low), None),
            Closes::Reveal(_, Reveal::End) => (Some(along.high), None),
            Closes::Reveal(_, Reveal::Head) => (None, Some(up.high)),
            Closes::Reveal(_, Reveal::Sill) => (None, Some(up.low)),
        };
        let long = self.length();
        let ends = [
            (across.low, long.low),
            (across.high, long.low),
            (across.high, long.high),
            (across.low, long.high),
        ];
        ends.map(|(n, at)| [s.unwrap_or(at), n, z.unwrap_or(at)])
    }

    /// Places of its screws: across the wall and along the strip, in rows near the edges of the timber behind it.
    pub fn screws(&self, rules: &Sundries) -> Vec<[f64; 2]> {
        let spacing = Spacing::of(self.is_outer, rules);
        let held = self.place[1].grown(-CUT);
        let mut screws = Vec::new();
        let across = merged(self.timber.iter().map(|t| t.0));
        for timber in across {
            for n in spread(held.intersection(timber.grown(-TIMBER)), spacing.field) {
                let behind = self.timber.iter().filter(|t| t.0.contains(n));
                for timber in merged(behind.map(|t| t.1)) {
                    let span = self.length().grown(-CUT).intersection(timber.grown(-TIMBER));
                    screws.extend(spread(span, spacing.edge).into_iter().map(|at| [n, at]));
                }
            }
        }
        screws
    }
}

/// The strips of a wall: its ends from the start, then its openings in order, layer by layer.
pub(super) fn strips(spec: &WallSpec, frame: &Frame) -> Vec<Strip> {
    // As many layers as the face with more of them, and the same boards.
    let (left, right) = (&spec.makeup.left, &spec.makeup.right);
    let finish = if left.boards.len() > right.boards.len() { left } else { right };
    if finish.boards.is_empty() {
        return Vec::new();
    }
    let thickness = |f: &Finish| f.boards.iter().map(|b| b.thickness).sum::<f64>();
    let across =
        Span { low: spec.frame.low - thickness(right), high: spec.frame.high + thickness(left) };
    let mut closing = Closing { spec, frame, finish, across, strips: Vec::new() };
    for (end, which) in spec.ends.iter().zip([WallEnd::Start, WallEnd::End]) {
        if end.meets == Meets::Free {
            closing.end(which);
        }
    }
    for hole in spec.holes.iter().filter(|h| h.boarded) {
        closing.opening(hole);
    }
    let mut strips = closing.strips;
    for on in [On::End, On::Reveal] {
        let alike = strips.iter_mut().filter(|s| s.closes.on() == on);
        for (i, strip) in alike.enumerate() {
            strip.number = i + 1;
        }
    }
    strips
}

/// A wall being closed.
struct Closing<'a> {
    spec: &'a WallSpec,
    frame: &'a Frame,
    finish: &'a Finish,
    across: Span,
    strips: Vec<Strip>,
}

impl Closing<'_> {
    /// The lowest a board may come at a station.
    fn bottom(&self, s: f64) -> f64 {
        self.finish.floor_gap.max(self.spec.bed.at(s))
    }

    fn head(&self, s: f64) -> f64 {
        self.spec.head.at(s).min(self.spec.head.before(s))
    }

    fn end(&mut self, which: WallEnd) {
        let along = self.spec.reach();
        let (at, out) = match which {
            WallEnd::Start => (along.low, -1.0),
            WallEnd::End => (along.high, 1.0),
        };
        let mut up = Span { low: self.bottom(at), high: self.head(at) };
        // Sheets that are a little short stand higher off the floor, as on the faces.
        let sheet = sheet_of(&self.finish.boards[0], self.spec.centres);
        let short = up.length() - sheet.1;
        if (0.0..=LIFT).contains(&short) {
            up.low += short;
        }
        let mut under = 0.0;
        for (layer, board) in self.finish.boards.iter().enumerate() {
            let (near, far) = (at + out * under, at + out * (under + board.thickness));
            let place = [Span::between(near, far), self.across, up];
            self.put(Closes::End(which), layer, board, place, under);
            under += board.thickness;
        }
    }

    fn opening(&mut self, hole: &Hole) {
        let spec = self.spec;
        let doorway = hole.doorway();
        // One that could not be framed is a snag, and has no reveals.
        let over = |m: &Member| {
            let (s, z) = (m.solid.stations(), m.solid.heights());
            s.covers(doorway) && (z.low - hole.top).abs() < FLUSH
        };
        if !spec.along().covers(doorway) || !self.frame.members.iter().any(over) {
            return;
        }
        let sill = hole.sill.filter(|sill| *sill > self.bottom(doorway.centre()) + SAME);
        let mut along = doorway;
        let mut up = Span {
            low: sill.unwrap_or_else(|| self.bottom(doorway.low).max(self.bottom(doorway.high))),
            high: hole.top,
        };
        let mut under = 0.0;
        for (layer, board) in self.finish.boards.iter().enumerate() {
            let t = board.thickness;
            let closes = |reveal| Closes::Reveal(hole.name.clone(), reveal);
            let place = [along, self.across, Span { low: up.high - t, high: up.high }];
            self.put(closes(Reveal::Head), layer, board, place, under);
            up.high -= t;
            if sill.is_some() {
                let place = [along, self.across, Span::from(up.low, t)];
                self.put(closes(Reveal::Sill), layer, board, place, under);
                up.low += t;
            }
            let place = [Span::from(along.low, t), self.across, up];
            self.put(closes(Reveal::Start), layer, board, place, under);
            let place = [Span { low: along.high - t, high: along.high }, self.across, up];
            self.put(closes(Reveal::End), layer, board, place, under);
            along = along.grown(-t);
            under += t;
        }
    }

    /// A strip, in as many lengths as it takes: of one layer from the start or the floor, of the next from the other end.
    fn put(&mut self, closes: Closes, layer: usize, board: &Board, place: [Span; 3], under: f64) {
        let sheet = sheet_of(board, self.spec.centres);
        let strip = Strip {
            number: 0,
            closes,
            layer,
            is_outer: layer + 1 == self.finish.boards.len(),
            board: board.clone(),
            sheet,
            place,
            timber: Vec::new(),
            under,
        };
        let whole = strip.length();
        let thinnest = place.iter().map(|s| s.length()).fold(f64::INFINITY, f64::min);
        if whole.length() < LEAST_PIECE || thinnest <= 0.0 {
            return;
        }
        let timber = self.behind(&strip);
        let count = (whole.length() / sheet.1 - SAME / sheet.1).ceil().clamp(1.0, 100.0) as usize;
        let steps = (1..count).map(|k| k as f64 * sheet.1);
        let mut cuts: Vec<f64> = if layer.is_multiple_of(2) {
            steps.map(|step| whole.low + step).collect()
        } else {
            steps.map(|step| whole.high - step).collect()
        };
        cuts.sort_by(f64::total_cmp);
        for part in super::cells(whole, &cuts) {
            let mut one = Strip { timber: timber.clone(), ..strip.clone() };
            one.place[if strip.is_level() { 0 } else { 2 }] = part;
            self.strips.push(one);
        }
    }

    /// The timber that shows at the plane a strip is fixed to.
    fn behind(&self, strip: &Strip) -> Vec<(Span, Span)> {
        let [along, _, up] = strip.place;
        let on = |a: f64, b: f64| (a - b).abs() < FLUSH;
        let under = strip.under;
        let members = self.frame.members.iter().filter_map(|m| {
            let (s, n, z) = (m.solid.stations(), m.solid.across(), m.solid.heights());
            let (shows, long) = match &strip.closes {
                Closes::End(WallEnd::Start) => (on(s.low, along.high + under), z),
                Closes::End(WallEnd::End) => (on(s.high, along.low - under), z),
                Closes::Reveal(_, Reveal::Start) => (on(s.high, along.low - under), z),
                Closes::Reveal(_, Reveal::End) => (on(s.low, along.high + under), z),
                Closes::Reveal(_, Reveal::Head) => (on(z.low, up.high + under), s),
                Closes::Reveal(_, Reveal::Sill) => (on(z.high, up.low - under), s),
            };
            (shows && long.overlaps(strip.length())).then_some((n, long))
        });
        members.collect()
    }
}

/// A side of a piece that lies in the plane of a strip, mm.
const FLUSH: f64 = 0.5;
