//! The full-height uprights: end studs, junction studs, opening studs, and common studs on the
//! grid between them.

use super::Role;
use super::grid::{Grid, GridMark, Settled, divide_wide_bays, settle};
use super::holes::Holes;
use super::rows::flush;
use crate::document::{AngledEnd, CornerRecipe, Face, TeeRecipe, WallEnd};
use crate::id::ItemRef;
use crate::math::{EDGE_BEARING, SAME, SLIVER, same};
use crate::resolve::{BackingKind, Meets, WallSpec, between_cuts, cut_at};
use crate::snag::{Code, Snag};
use crate::span::Span;

/// A shifted stud is known by its mark to within this much, mm.
const NEAR_MARK: f64 = 5.0;
/// A board may overhang its stud by this much at an angled end. Common practice.
const LEAST_WEDGE: f64 = 6.0;

/// Least bearing of one bound board edge: half of the 32 mm that two need (10 + 6 mm each).
const BOUND_BEARING: f64 = 16.0;

/// A wide ground behind a tee shows this much either side: 1 in in the old books.
const GROUND_SHOWS: f64 = 25.4;

/// A full-height upright.
#[derive(Clone, Debug)]
pub(super) struct Upright {
    pub(super) role: Role,
    /// What it covers along the wall.
    pub(super) span: Span,
    /// Stations of its two sides on the right and the left of what it covers across: those of `span`, but for
    /// one that is ripped.
    pub(super) sides: [[f64; 2]; 2],
    /// What it covers across the wall.
    pub(super) across: Span,
    /// True when blocks join it to the upright after it.
    pub(super) blocked_to_next: bool,
}

impl Upright {
    fn square(role: Role, span: Span, across: Span) -> Upright {
        let sides = [[span.low; 2], [span.high; 2]];
        Upright { role, span, sides, across, blocked_to_next: false }
    }

    fn ripped(role: Role, sides: [[f64; 2]; 2], across: Span) -> Upright {
        let span = Span { low: sides[0][0].min(sides[0][1]), high: sides[1][0].max(sides[1][1]) };
        Upright { role, span, sides, across, blocked_to_next: false }
    }
}

/// The uprights of a wall, in order of station.
pub(super) struct Uprights {
    pub(super) list: Vec<Upright>,
    /// Grid stations inside each hole: where cripples stand.
    pub(super) grid: Grid,
}

/// Places the uprights of `spec`.
pub(super) fn place(spec: &WallSpec, holes: &Holes, snags: &mut Vec<Snag>) -> Uprights {
    let mut placer = Placer {
        spec,
        t: spec.makeup.timber.thickness(),
        list: Vec::new(),
        blocked: Vec::new(),
        snags,
    };
    placer.ends(holes);
    placer.openings(holes);
    placer.backings(holes);
    placer.steps(holes);
    let grid = Grid::of(spec);
    placer.commons(&grid, holes);
    placer.ladders();
    let (mut list, blocked) = (placer.list, placer.blocked);
    sort(&mut list);
    for upright in &mut list {
        let low = upright.span.low;
        upright.blocked_to_next = blocked.iter().any(|b| low > b.low - SAME && low < b.high - SAME);
    }
    Uprights { list, grid }
}

fn sort(list: &mut [Upright]) {
    list.sort_by(|a, b| a.span.low.total_cmp(&b.span.low));
}

struct Placer<'a> {
    spec: &'a WallSpec,
    t: f64,
    list: Vec<Upright>,
    /// From the start of one upright to the start of another that blocks join to it.
    blocked: Vec<Span>,
    snags: &'a mut Vec<Snag>,
}

impl Placer<'_> {
    fn put(&mut self, role: Role, span: Span) {
        self.list.push(Upright::square(role, span, self.spec.frame));
    }

    fn is_free(&self, span: Span) -> bool {
        self.list.iter().all(|u| !u.span.overlaps(span))
    }

    fn snag(&mut self, code: Code, station: f64, message: String, remedy: &str) {
        let of = ItemRef::Wall(self.spec.name.clone());
        self.snags.push(Snag::new(code, of, message, remedy).in_wall(&self.spec.name, station));
    }

    /// First and last stud of every run stand flush with the short points of its ends.
    fn ends(&mut self, holes: &Holes) {
        for run in self.spec.runs() {
            let inner = between_cuts(run);
            if inner.length() < self.t - SAME {
                continue;
            }
            let mut first = Span::from(inner.low, self.t);
            let mut last = Span { low: inner.high - self.t, high: inner.high };
            self.angled_end(run[0], &mut first, 1.0, holes);
            self.put_end(first);
            if inner.length() >= 2.0 * self.t - SAME {
                self.angled_end(run[1], &mut last, -1.0, holes);
                self.put_end(last);
            }
        }
    }

    fn put_end(&mut self, stud: Span) {
        if stud.length() > SAME {
            self.put(Role::EndStud, stud);
        }
    }

    /// What fills the end of a run that is cut at an angle, in front of its end stud (`stud`, from which
    /// `inward` goes into the run); a stud that is ripped itself takes the place of `stud`, but not where that
    /// stands beside an opening: its head would end in the air.
    fn angled_end(&mut self, cut: [f64; 2], stud: &mut Span, inward: f64, holes: &Holes) {
        let (t, frame) = (self.t, self.spec.frame);
        let wedge = (cut[0] - cut[1]).abs();
        if wedge < LEAST_WEDGE {
            return;
        }
        // The face that runs further, and the side of the stud it has to be carried from.
        let long = if (cut[0] - cut[1]) * inward < 0.0 { Face::Right } else { Face::Left };
        let beside = if inward > 0.0 { stud.low } else { stud.high };
        let ripped = self.spec.makeup.angled_end == AngledEnd::Ripped;
        let beside_hole = holes.list.iter().any(|h| h.clear.gap(*stud) < SAME);
        let (role, depth, inner) = if ripped && wedge <= t - EDGE_BEARING && !beside_hole {
            let long_point = if inward > 0.0 { cut[0].min(cut[1]) } else { cut[0].max(cut[1]) };
            *stud = Span { low: 0.0, high: 0.0 };
            (Role::EndStud, frame.length(), long_point + inward * t)
        } else if ripped && wedge <= t {
            (Role::Ground, frame.length(), beside)
        } else {
            // No wider than the bar lying flat, and ripped to a feather edge where the cut is that sharp.
            let long_point = if inward > 0.0 { cut[0].min(cut[1]) } else { cut[0].max(cut[1]) };
            let wide = (beside - long_point).abs().min(self.spec.makeup.timber.depth());
            (Role::Ground, t.min(wide * frame.length() / wedge), long_point + inward * wide)
        };
        let across = match long {
            Face::Left => Span { low: frame.high - depth, high: frame.high },
            Face::Right => Span::from(frame.low, depth),
        };
        let on_cut = [cut_at(cut, across.low, frame), cut_at(cut, across.high, frame)];
        let sides = if inward > 0.0 { [on_cut, [inner; 2]] } else { [[inner; 2], on_cut] };
        self.list.push(Upright::ripped(role, sides, across));
    }

    /// Where the head steps, a stud on the higher side closes the step and carries the lower plate.
    fn steps(&mut self, holes: &Holes) {
        let spec = self.spec;
        for s in spec.head.steps() {
            let rises = spec.head.at(s) > spec.head.before(s);
            let span =
                if rises { Span::from(s, self.t) } else { Span { low: s - self.t, high: s } };
            let stands = holes.gaps.iter().any(|gap| gap.overlaps(span));
            if spec.along().covers(span) && !stands && self.is_free(span) {
                self.put(Role::Stud, span);
            }
        }
    }

    /// The full-height studs beside the holes.
    fn openings(&mut self, holes: &Holes) {
        for stud in &holes.studs {
            if self.is_free(*stud) {
                self.put(Role::OpeningStud, *stud);
            }
        }
    }

    /// Timber owed to the walls that meet this one.
    fn backings(&mut self, holes: &Holes) {
        let spec = self.spec;
        for (i, backing) in spec.backings.iter().enumerate() {
            if holes.breaks.iter().any(|b| b.covers(backing.span)) {
                continue;
            }
            if let Some(hole) = holes.list.iter().find(|h| h.span.overlaps(backing.span)) {
                let message = format!(
                    "Wall {} meets wall {} where opening {} is: there is no timber to fix it to",
                    backing.with, spec.name, hole.name
                );
                self.snag(
                    Code::OpeningNoStud,
                    backing.span.centre(),
                    message,
                    "Move the opening or the wall.",
                );
                continue;
            }
            // Two walls that meet either side at one place share their studs.
            let twice = |b: &crate::resolve::Backing| {
                b.kind == backing.kind
                    && same(b.span.low, backing.span.low)
                    && same(b.span.high, backing.span.high)
            };
            if spec.backings[..i].iter().any(twice) {
                continue;
            }
            match backing.kind {
                BackingKind::Corner(end) => {
                    self.corner(end, backing.span, backing.face, holes);
                    let shown = match end {
                        WallEnd::Start => Span::from(backing.span.high, EDGE_BEARING),
                        WallEnd::End => {
                            Span { low: backing.span.low - EDGE_BEARING, high: backing.span.low }
                        }
                    };
                    let inside = spec.along().covers(shown);
                    if inside && !self.is_ground(backing.face, shown, None) {
                        self.flat(backing.face, shown, holes);
                    }
                }
                BackingKind::Tee if spec.makeup.tee == TeeRecipe::Ladder => {}
                BackingKind::Tee => {
                    let wide = spec.makeup.tee == TeeRecipe::Ground
                        && self.wide_ground(backing.span, backing.face, holes);
                    if !wide {
                        self.tee(backing.span, backing.face, holes);
                    }
                }
            }
        }
    }

    /// The second upright of the through wall at a corner: with its own end stud and the end stud
    /// of the wall that butts, three.
    fn corner(&mut self, end: WallEnd, other: Span, face: Face, holes: &Holes) {
        let (along, depth, frame) =
            (self.spec.along(), self.spec.makeup.timber.depth(), self.spec.frame);
        match self.spec.makeup.corner {
            CornerRecipe::Pair => {
                let span = match end {
                    WallEnd::Start => {
                        let high = (along.low + self.t + depth).max(other.high + EDGE_BEARING);
                        Span { low: high - depth, high }
                    }
                    WallEnd::End => Span::from(
                        (along.high - self.t - depth).min(other.low - EDGE_BEARING),
                        depth,
                    ),
                };
                let across = flush(self.spec, face, self.t);
                self.put_junction(Role::Ground, span, across, holes);
            }
            CornerRecipe::Blocked => {
                let show = EDGE_BEARING.max(self.t / 2.0);
                let span = match end {
                    WallEnd::Start => {
                        Span { low: other.high + show - self.t, high: other.high + show }
                    }
                    WallEnd::End => Span::from(other.low - show, self.t),
                };
                if self.put_junction(Role::CornerStud, span, frame, holes) {
                    let (first, second) = match end {
                        WallEnd::Start => (along.low, span.low),
                        WallEnd::End => (span.low, along.high - self.t),
                    };
                    self.blocked.push(Span { low: first, high: second });
                }
            }
            CornerRecipe::Ground => {
                let start = end == WallEnd::Start;
                // The second stud's far side stands at the other wall's, or it goes tight to the end stud.
                let mut behind =
                    if start { other.high - along.low } else { along.high - other.low };
                if behind - 2.0 * self.t < SLIVER {
                    behind = 2.0 * self.t;
                }
                let at = |from: f64, to: f64| {
                    if start {
                        Span { low: along.low + from, high: along.low + to }
                    } else {
                        Span { low: along.high - to, high: along.high - from }
                    }
                };
                let stud = at(behind - self.t, behind);
                if self.put_junction(Role::CornerStud, stud, frame, holes)
                    && behind - 2.0 * self.t > SAME
                {
                    let (first, second) =
                        if start { (along.low, stud.low) } else { (stud.low, along.high - self.t) };
                    self.blocked.push(Span { low: first, high: second });
                }
                let ground = at(behind, behind + depth);
                self.put_junction(Role::Ground, ground, flush(self.spec, face, self.t), holes);
            }
        }
    }

    /// A wide flat ground behind a tee, of as many flat studs as show [`GROUND_SHOWS`] either side, and one
    /// flat against the other face behind them. False where the frame is too thin for both, or where
    /// something stands in the way.
    fn wide_ground(&mut self, other: Span, face: Face, holes: &Holes) -> bool {
        let (t, depth) = (self.t, self.spec.makeup.timber.depth());
        let wide = other.length() + 2.0 * GROUND_SHOWS;
        let count = (wide / depth - SAME).ceil().max(1.0);
        let whole = Span::about(other.centre(), wide.max(count * depth));
        let clear = self.spec.along().covers(whole)
            && self.is_free(whole)
            && !holes.gaps.iter().any(|gap| gap.overlaps(whole));
        if !clear || self.spec.frame.length() < 2.0 * t - SAME || count > 5.0 {
            return false;
        }
        let across = flush(self.spec, face, t);
        for i in 0..count as usize {
            let span = Span::from(whole.low + depth * i as f64, depth);
            self.list.push(Upright::square(Role::Ground, span, across));
        }
        let back = Span::about(whole.centre(), depth.min(whole.length()));
        let behind = match face {
            Face::Left => Face::Right,
            Face::Right => Face::Left,
        };
        let across = flush(self.spec, behind, t);
        self.list.push(Upright::square(Role::Ground, back, across));
        true
    }

    /// Two studs behind a tee, showing either side of the wall that butts.
    fn tee(&mut self, other: Span, face: Face, holes: &Holes) {
        let show = EDGE_BEARING.max(self.t / 2.0);
        let outer = Span { low: other.low - show, high: other.high + show };
        let (a, b) = if outer.length() >= 2.0 * self.t {
            (Span::from(outer.low, self.t), Span::from(outer.high - self.t, self.t))
        } else {
            (Span::from(other.centre() - self.t, self.t), Span::from(other.centre(), self.t))
        };
        let first = self.tee_side(
            face,
            Span { low: other.low - EDGE_BEARING, high: other.low },
            a,
            -1.0,
            holes,
        );
        let second = self.tee_side(face, Span::from(other.high, EDGE_BEARING), b, 1.0, holes);
        if let (Some(first), Some(second)) = (first, second) {
            self.blocked.push(Span { low: first, high: second });
        }
    }

    /// Behind a tee built as a ladder, a rung needs a bay to lie in.
    fn ladders(&mut self) {
        let spec = self.spec;
        if spec.makeup.tee != TeeRecipe::Ladder {
            return;
        }
        sort(&mut self.list);
        let gaps: Vec<Span> = self
            .list
            .windows(2)
            .map(|p| Span { low: p[0].span.high, high: p[1].span.low })
            .filter(|gap| gap.length() > SAME && gap.length() < SLIVER - SAME)
            .collect();
        for b in spec.backings.iter().filter(|b| b.kind == BackingKind::Tee) {
            let sides = [
                Span { low: b.span.low - EDGE_BEARING, high: b.span.low },
                Span::from(b.span.high, EDGE_BEARING),
            ];
            for shown in sides.into_iter().filter(|s| spec.along().covers(*s)) {
                if gaps.iter().any(|gap| gap.overlaps(shown)) {
                    self.no_room(shown);
                }
            }
        }
    }

    /// One stud behind a tee: it must show `shown`, and is wanted at `wanted`; where something stands
    /// there already, tight beside that, further from the tee. Gives where it starts, when it is placed.
    fn tee_side(
        &mut self,
        face: Face,
        shown: Span,
        wanted: Span,
        outward: f64,
        holes: &Holes,
    ) -> Option<f64> {
        let along = self.spec.along();
        // Beyond the end of a frame that carries on in line, the other half has its own stud.
        if !along.covers(shown) {
            return None;
        }
        if self.is_ground(face, shown, None) {
            return None;
        }
        let free = |span: &Span| {
            along.covers(*span)
                && self.is_free(*span)
                && !holes.gaps.iter().any(|gap| gap.overlaps(*span))
        };
        let taken: Vec<Span> =
            self.list.iter().filter(|u| u.span.overlaps(wanted)).map(|u| u.span).collect();
        let low = taken.iter().map(|s| s.low).fold(f64::INFINITY, f64::min);
        let high = taken.iter().map(|s| s.high).fold(f64::NEG_INFINITY, f64::max);
        let (before, after) = (Span { low: low - self.t, high: low }, Span::from(high, self.t));
        let places = if outward < 0.0 { [wanted, before, after] } else { [wanted, after, before] };
        let grounds = |span: &Span| free(span) && self.is_ground(face, shown, Some(*span));
        if let Some(span) = places.into_iter().find(grounds) {
            self.put(Role::TeeStud, span);
            return Some(span.low);
        }
        // Where no whole stud goes, one on the flat does.
        if self.flat(face, shown, holes) {
            return None;
        }
        self.no_room(wanted);
        None
    }

    /// True when uprights flush with `face`, and one more that is thought of, are timber all over `shown`.
    fn is_ground(&self, face: Face, shown: Span, more: Option<Span>) -> bool {
        let plane = flush(self.spec, face, self.t.min(EDGE_BEARING));
        let flush = self.list.iter().filter(|u| u.across.covers(plane)).map(|u| u.span);
        shown.without(&flush.chain(more).collect::<Vec<_>>()).is_empty()
    }

    /// Plants a stud on the flat, flush with `face`, so that all of `shown` is timber; false where there is no
    /// room for it.
    fn flat(&mut self, face: Face, shown: Span, holes: &Holes) -> bool {
        let depth = self.spec.makeup.timber.depth();
        let across = flush(self.spec, face, self.t);
        let in_way = self.list.iter().filter(|u| u.across.overlaps(across)).map(|u| u.span);
        let taken: Vec<Span> = in_way.chain(holes.gaps.iter().copied()).collect();
        let bare = shown.without(&taken);
        let [missing] = bare[..] else { return false };
        let room = self.spec.along().without(&taken);
        let Some(room) = room.into_iter().find(|r| r.covers(missing) && r.length() >= depth - SAME)
        else {
            return false;
        };
        let low = (missing.centre() - depth / 2.0).clamp(room.low, room.high - depth);
        self.list.push(Upright::square(Role::Ground, Span::from(low, depth), across));
        true
    }

    /// Where two boards meet and their stud has given way to something that is no ground for both faces, a stud
    /// on the flat takes its place.
    fn joints_without_studs(&mut self, joints: &[f64], holes: &Holes) {
        for &at in joints {
            let shown = Span { low: at - BOUND_BEARING, high: at + BOUND_BEARING };
            for (face, word) in [(Face::Right, "right"), (Face::Left, "left")] {
                if !self.is_ground(face, shown, None) && !self.flat(face, shown, holes) {
                    let message = format!(
                        "Two boards meet at {} on the {word} face of wall {}, where no stud has room",
                        self.spec.units.show(at - self.spec.along().low),
                        self.spec.name
                    );
                    let remedy =
                        "Start the boards elsewhere, or plant a ground between what stands there.";
                    self.snag(Code::JointBare, at, message, remedy);
                }
            }
        }
    }

    fn no_room(&mut self, span: Span) {
        let message = format!(
            "A stud of the junction at {} of wall {} has no room beside what stands there",
            self.spec.units.show(span.centre() - self.spec.along().low),
            self.spec.name
        );
        self.snag(
            Code::OpeningNoStud,
            span.centre(),
            message,
            "Move the opening, or plant a ground on the stud that stands there.",
        );
    }

    /// Puts a junction's upright where it belongs, or tight beside what already stands there.
    fn put_junction(&mut self, role: Role, span: Span, across: Span, holes: &Holes) -> bool {
        let along = self.spec.along();
        if !along.covers(span) {
            return false;
        }
        let in_hole = holes.gaps.iter().any(|gap| gap.overlaps(span));
        if self.is_free(span) && !in_hole {
            self.list.push(Upright::square(role, span, across));
            return true;
        }
        // An upright that already stands there and shows as much is timber enough.
        let taken = self.list.iter().filter(|u| u.span.overlaps(span));
        let covered: f64 = taken.map(|u| u.span.intersection(span).length()).sum();
        if in_hole || covered + EDGE_BEARING < span.length() {
            self.no_room(span);
        }
        false
    }

    /// Common studs on the grid, settled against what already stands.
    fn commons(&mut self, grid: &Grid, holes: &Holes) {
        sort(&mut self.list);
        let fixed: Vec<Span> = self.list.iter().map(|u| u.span).collect();
        let limit = self.spec.centres + self.t / 2.0;
        let clear_of_holes: Vec<_> = self
            .shifted(grid)
            .into_iter()
            .filter(|m| {
                !holes
                    .gaps
                    .iter()
                    .any(|gap| gap.overlaps(Span::about(m.at, self.t)) && gap.contains(m.at))
            })
            .collect();
        let mut dropped = Vec::new();
        for settled in settle(&fixed, &clear_of_holes, self.t, limit, self.spec.along()) {
            if let Settled::Dropped { at, .. } = settled {
                dropped.push(at);
            }
            self.common(settled, holes);
        }
        self.fill_wide_bays(limit, holes);
        let joint = |at: &f64| grid.marks.iter().any(|m| m.joint && same(m.at, *at));
        dropped.retain(joint);
        self.joints_without_studs(&dropped, holes);
    }

    /// The marks of the grid, those of shifted studs where these are to stand.
    fn shifted(&mut self, grid: &Grid) -> Vec<GridMark> {
        let mut marks = grid.marks.clone();
        for shift in &self.spec.shifts {
            let near = |m: &&mut GridMark| (m.at - shift.mark).abs() <= NEAR_MARK;
            if let Some(mark) = marks.iter_mut().find(near) {
                mark.at += shift.by;
                continue;
            }
            let message = format!(
                "A stud of wall {} is to stand {} beside its mark at {}, and none has its mark there",
                self.spec.name,
                self.spec.units.with_unit(shift.by.abs()),
                self.spec.units.show(shift.mark - self.spec.along().low)
            );
            self.snag(
                Code::ShiftLost,
                shift.mark,
                message,
                "Take the shift away, or shift the stud that is there now.",
            );
        }
        marks.sort_by(|a, b| a.at.total_cmp(&b.at));
        marks
    }

    fn common(&mut self, settled: Settled, holes: &Holes) {
        let along = self.spec.along();
        let units = self.spec.units;
        let at = |s: f64| units.show(s - along.low);
        let wall = self.spec.name.clone();
        match settled {
            Settled::Kept(span) => {
                if !holes.gaps.iter().any(|gap| gap.overlaps(span)) {
                    self.put(Role::Stud, span);
                }
            }
            // A gap that a tape does not show is closed without a word.
            Settled::Packed { span, gap } if units.round(gap) <= 0.0 => self.put(Role::Stud, span),
            Settled::Packed { span, gap } => {
                self.put(Role::Stud, span);
                let message = format!(
                    "The stud at {} of wall {wall} stands {} off its neighbour",
                    at(span.low),
                    units.with_unit(gap)
                );
                self.snag(
                    Code::StudPacked,
                    span.low,
                    message,
                    "Pack the gap solid: a board joint needs it there.",
                );
            }
            Settled::Shifted { span, from } => {
                if holes.gaps.iter().any(|gap| gap.overlaps(span)) {
                    return;
                }
                self.put(Role::Stud, span);
                let message = format!(
                    "The stud of wall {wall} meant for {} stands at {}, tight against its neighbour",
                    at(from - self.t / 2.0),
                    at(span.low)
                );
                self.snag(Code::StudShifted, span.low, message, "Nail the two as one.");
            }
            Settled::Dropped { at: station, spacing } => {
                if spacing > self.spec.centres + SAME {
                    let message = format!(
                        "The stud of wall {wall} meant for {} is left out: the studs beside it are {} apart",
                        at(station - self.t / 2.0),
                        units.show(spacing)
                    );
                    let of = ItemRef::Wall(wall.clone());
                    self.snags.push(
                        Snag::new(
                            Code::StudDropped,
                            of,
                            message,
                            "Nothing: the board still has its stud.",
                        )
                        .in_wall(&wall, station)
                        .measured(spacing, self.spec.centres),
                    );
                }
            }
        }
    }

    /// A bay wider than the centres allow gets a stud of its own.
    fn fill_wide_bays(&mut self, limit: f64, holes: &Holes) {
        sort(&mut self.list);
        let standing: Vec<Span> = self.list.iter().map(|u| u.span).collect();
        let over_a_hole = |bay: Span| holes.gaps.iter().any(|gap| gap.overlaps(bay));
        let extra = divide_wide_bays(&standing, self.t, self.spec.centres, limit, over_a_hole);
        for (span, spacing) in extra {
            self.put(Role::Stud, span);
            let message = format!(
                "A stud is added at {} of wall {}: its neighbours would be {} apart",
                self.spec.units.show(span.low - self.spec.along().low),
                self.spec.name,
                self.spec.units.show(spacing)
            );
            let of = ItemRef::Wall(self.spec.name.clone());
            self.snags.push(
                Snag::new(Code::StudAdded, of, message, "Nothing: it is on the list.")
                    .in_wall(&self.spec.name, span.low)
                    .measured(spacing, self.spec.centres),
            );
        }
    }
}

/// True when a noggin beside this upright is measured in place: the existing wall may lean or stand elsewhere,
/// unless the room has been surveyed.
pub(super) fn is_beside_existing(spec: &WallSpec, upright: &Upright) -> bool {
    let at_end = |end: usize, edge: f64, station: f64| {
        matches!(spec.ends[end].meets, Meets::Existing { .. }) && same(edge, station)
    };
    !spec.surveyed
        && (at_end(0, upright.span.low, spec.along().low)
            || at_end(1, upright.span.high, spec.along().high))
}
