//! The boards of one face for whoever cuts and fixes them: outlines, marks and sizes over the timber they are fixed to, what is
//! cut out of each from its own edges, joints on one tape, heights.

use std::f64::consts::FRAC_PI_2;

use layout_core::boards::{FacePoint, Layer, Piece};
use layout_core::document::{Face, Job};
use layout_core::frame::Member;
use layout_core::id::ItemRef;
use layout_core::layout::WallLayout;
use layout_core::math::{SAME, same};
use layout_core::resolve::Spot;
use layout_core::span::Span;

use super::boards::along_line;
use super::ladder::{self, Rung};
use super::pull::{self, Pull};
use super::{ElevationOptions, Sheet, boards};
use crate::picture::{Align, At, Fill, Label, Pen, Picture, Rect};
use crate::views::cut_outs::{CutOut, Own, cut_outs};
use crate::views::signs::{corners, diagonals};

/// Which boards to show, and how.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FaceOptions {
    /// Millimetres of model to one of paper: lettering is laid out for it.
    pub scale: f64,
    /// The face; it is seen as one stands before it.
    pub face: Face,
    /// The layer, from 0 at the frame.
    pub layer: usize,
}

/// Draws the boards of a layer of `wall`. Model places are those of [`super::elevation`].
pub fn board_face(job: &Job, wall: &WallLayout, options: &FaceOptions) -> Picture {
    let FaceOptions { scale, face, layer } = *options;
    let options =
        ElevationOptions { scale, face, dimensions: true, boards: Some(layer), zones: false };
    let mut sheet = Sheet::new(job, wall, &options);
    sheet.floor_and_ceiling();
    timber(&mut sheet);
    if let Some(layer) = boards::shown(&sheet) {
        boards::outlines(&mut sheet, layer);
        boxes(&mut sheet, layer);
        boards::marks(&mut sheet, layer);
        let pieces = layer.pieces.iter();
        let cuts: Vec<(Own, Vec<CutOut>)> =
            pieces.map(|p| (Own { face, shape: &p.shape }, cut_outs(wall, face, p))).collect();
        for spot in wall.spec.spots.iter().filter(|s| s.sunk && s.face == face) {
            let of_spot = |(own, cuts): &(Own, Vec<CutOut>)| -> Option<([f64; 2], usize)> {
                let mut centred = cuts.iter().filter(|c| c.is_centred && c.of == spot.of);
                let cut = centred.next()?;
                let is_it = |p: &Piece| std::ptr::eq(&p.shape, own.shape);
                let piece = layer.pieces.iter().position(is_it)?;
                Some(([cut.x.centre(), cut.y.centre()], piece))
            };
            let found = cuts.iter().find_map(of_spot);
            box_label(&mut sheet, layer, spot, found);
        }
        for (own, cuts) in &cuts {
            for cut in cuts.iter().filter(|c| !c.is_centred) {
                edges(&mut sheet, *own, cut);
            }
            rake(&mut sheet, *own);
        }
        names(&mut sheet);
        tape(&mut sheet, layer);
        heights(&mut sheet, layer);
    }
    sheet.picture
}

/// What can be fixed to: the timber that lies in the face.
fn timber(sheet: &mut Sheet) {
    /// How far timber may lie behind the face and still be fixed to, mm.
    const FLUSH: f64 = 0.5;
    let frame = sheet.wall.spec.frame;
    let face = sheet.options.face;
    let is_there = |m: &&Member| match face {
        Face::Right => m.solid.across().low <= frame.low + FLUSH,
        Face::Left => m.solid.across().high >= frame.high - FLUSH,
    };
    for member in sheet.wall.frame.members.iter().filter(is_there) {
        let of = sheet.member(member.mark);
        let outline = member.solid.elevation(face).map(|(s, z)| sheet.at(s, z));
        sheet.picture.area(outline, Pen::Thin, Fill::TimberLight, Some(&of));
    }
}

/// What is cut out for boxes, pipes and ducts.
fn boxes(sheet: &mut Sheet, layer: &Layer) {
    let face = layer.face;
    for spot in sheet.wall.spec.spots.iter().filter(|s| s.sunk && s.face == face) {
        let x = Span::between(sheet.x(spot.span.low), sheet.x(spot.span.high));
        let outline = corners((x.low, x.high), (spot.heights.low, spot.heights.high));
        sheet.picture.area(outline, Pen::Outline, Fill::Fitting, Some(&spot.of));
        for line in diagonals(&outline) {
            sheet.picture.line(line, Pen::Thin, Some(&spot.of));
        }
        sheet.keep_clear(&outline);
    }
}

/// A box, pipe or duct: its size, and its middle from the lower left corner of its board, when it lies on one board alone; with a
/// line to it when it stands apart, and on another board only when there is no room on its own.
fn box_label(sheet: &mut Sheet, layer: &Layer, spot: &Spot, own: Option<([f64; 2], usize)>) {
    let ItemRef::Point(name) = &spot.of else { return };
    let units = sheet.job.units;
    let (s, z) = (spot.span, spot.heights);
    let place = match own {
        Some(([x, y], _)) => format!("→ {} ↑ {}", units.show(x), units.show(y)),
        None if layer.pieces.iter().any(|p| p.shape.contains([s.centre(), z.centre()])) => {
            "over a joint".into()
        }
        None => return,
    };
    let lines = [format!("{name} {} × {}", units.show(s.length()), units.show(z.length())), place];
    let at = sheet.at(s.centre(), z.centre());
    let is_on_other = |p: FacePoint| {
        let mut others = layer.pieces.iter().enumerate();
        own.is_some_and(|(_, own)| others.any(|(k, b)| k != own && b.shape.contains(p)))
    };
    let lines = lines.map(|text| {
        Label::new(at, text).small().align(Align::Left).pen(Pen::Dimension).of(&spot.of)
    });
    let wide = lines.iter().map(Label::width).fold(0.0, f64::max);
    let half = [s, z].map(|span| span.length() / 2.0 / sheet.scale);
    // Level and upright, over a grid of places round it, the nearest first.
    let mut places: Vec<(f64, [f64; 2], bool)> = Vec::new();
    for is_upright in [false, true] {
        let size = if is_upright { [HIGH, wide] } else { [wide, HIGH] };
        let reach = [0, 1].map(|k: usize| half[k] + size[k] / 2.0 + 0.8);
        let steps = |k: usize| {
            let out = (0..9).map(move |i| reach[k] + 1.5 * f64::from(i));
            let within = [0.0, 0.3, -0.3, 0.6, -0.6, 0.9, -0.9].map(|share| reach[k] * share);
            within.into_iter().chain(out.flat_map(|d| [d, -d]))
        };
        for dx in steps(0) {
            for dy in steps(1) {
                let gaps = [dx.abs() - reach[0], dy.abs() - reach[1]];
                if gaps[0].max(gaps[1]) < -1e-9 {
                    continue;
                }
                let away = gaps[0].max(0.0).hypot(gaps[1].max(0.0));
                let off = (dx / reach[0]).abs().min((dy / reach[1]).abs());
                let turned = if is_upright { 3.0 } else { 0.0 };
                let [x, y] = [dx, dy].map(|by| by * sheet.scale);
                let stands = [sheet.station(at.model[0] + x), at.model[1] + y];
                let strange = if is_on_other(stands) { 20.0 } else { 0.0 };
                places.push((away + off * 0.5 + turned + strange, [dx, dy], is_upright));
            }
        }
    }
    places.sort_by(|a, b| a.0.total_cmp(&b.0));
    let block = |[dx, dy]: [f64; 2], is_upright: bool| {
        let [a, b] = lines.clone();
        let place = |l: Label, over: f64| {
            if is_upright {
                l.turned(FRAC_PI_2).at(at.shifted(dx - over, dy - wide / 2.0))
            } else {
                l.at(at.shifted(dx - wide / 2.0, dy + over))
            }
        };
        [place(a, 1.9), place(b, -1.9)]
    };
    let found = places.into_iter().find_map(|(_, by, is_upright)| {
        let labels = block(by, is_upright);
        if !labels.iter().all(|l| sheet.is_free(l)) {
            return None;
        }
        let covered = labels.iter().map(|l| l.bounds(sheet.scale)).reduce(Rect::join)?;
        // Heights stand beside the right end.
        if covered.max[0] > sheet.seen().high / sheet.scale + super::RUN_ON {
            return None;
        }
        let from = at.on_paper(sheet.scale);
        let nearest = |r: Rect, p: [f64; 2]| [0, 1].map(|k: usize| p[k].clamp(r.min[k], r.max[k]));
        let hole = Rect::about(from[0], from[1], 2.0 * half[0], 2.0 * half[1]).grown(0.3);
        let to = nearest(covered, from);
        let from = nearest(hole, to);
        let is_apart = (to[0] - from[0]).hypot(to[1] - from[1]) > 2.0;
        let leader = is_apart.then_some([from, to]);
        // The line to it runs over no lettering.
        let mut parts = leader.into_iter().flat_map(|[a, b]| along_line(a, b));
        let is_clear = parts.all(|part| sheet.crowd.overlap(part.grown(0.05)) == 0.0);
        is_clear.then_some((labels, leader))
    });
    let Some((labels, leader)) = found else { return };
    if let Some([a, b]) = leader {
        let centre = at.on_paper(sheet.scale);
        let ends = [a, b].map(|p| at.shifted(p[0] - centre[0], p[1] - centre[1]));
        sheet.picture.line(ends, Pen::Dimension, Some(&spot.of));
        for part in along_line(a, b) {
            sheet.lines.take(part.grown(0.2));
        }
    }
    for label in labels {
        sheet.write_on_paper(label);
    }
}

/// Height of two lines of lettering, mm of paper.
const HIGH: f64 = 7.4;

/// What an opening takes out of a board: where its sides and its foot or head are from the board's own edges.
fn edges(sheet: &mut Sheet, own: Own, cut: &CutOut) {
    let step = |k: usize| (3.2 + 3.6 * k as f64) * sheet.scale;
    // Down from its head, and in from its sides.
    let levels: Vec<f64> =
        (0..12).map(|k| cut.y.high - step(k)).filter(|y| *y > cut.y.low.max(0.0)).collect();
    let is_at_right = cut.x.high > own.width() - SAME;
    let from_left: Vec<f64> =
        (0..8).map(|k| cut.x.low + step(k)).filter(|x| *x < cut.x.high).collect();
    let from_right: Vec<f64> =
        (0..8).map(|k| cut.x.high - step(k)).filter(|x| *x > cut.x.low).collect();
    // Near the side that is cut, where the other board does not measure; not along an edge of timber, if that can be.
    let mut stations = if is_at_right { from_left } else { from_right };
    let heights = cut.y.moved(own.shape.heights().low);
    let beside = sheet.wall.frame.members.iter().filter(|m| m.solid.heights().overlaps(heights));
    let sides: Vec<f64> =
        beside.map(|m| m.solid.stations()).flat_map(|s| [s.low, s.high]).collect();
    let near = 0.7 * sheet.scale;
    stations.sort_by_key(|x| sides.iter().any(|s| (s - own.station(*x)).abs() < near));
    let positions = |span: Span, whole: f64| {
        let inner = [span.low, span.high].map(|v| v.clamp(0.0, whole));
        let mut stops = vec![0.0];
        stops.extend(inner.into_iter().filter(|v| *v > SAME));
        stops.dedup_by(|a, b| same(*a, *b));
        stops
    };
    let whole = own.width();
    let mut stops = positions(cut.x, whole);
    if !stops.last().is_some_and(|last| same(*last, whole)) {
        stops.push(whole);
    }
    for pair in positions(cut.y, f64::INFINITY).windows(2) {
        sheet.dimension(own, Way::Upright, [pair[0], pair[1]], &stations, &cut.of);
    }
    for pair in stops.windows(2) {
        sheet.dimension(own, Way::Level, [pair[0], pair[1]], &levels, &cut.of);
    }
}

/// Where the figure of a dimension may stand along its line.
const SHARES: [f64; 13] =
    [0.5, 0.44, 0.56, 0.38, 0.62, 0.33, 0.67, 0.29, 0.71, 0.25, 0.75, 0.2, 0.8];

/// Which way a dimension runs.
#[derive(Clone, Copy, PartialEq)]
enum Way {
    Level,
    Upright,
}

/// Over the foot of a board with a sloping top: how high each of its edges is, and where the slope breaks.
fn rake(sheet: &mut Sheet, own: Own) {
    let Some(top) = own.top() else { return };
    let of = sheet.of_wall();
    let last = top.len() - 1;
    for (i, &[x, y]) in top.iter().enumerate() {
        let text = format!("↑ {}", sheet.job.units.show(y));
        let label = Label::new(At::model(0.0, 0.0), text).small().turned(FRAC_PI_2).of(&of);
        let label = label.pen(Pen::Dimension);
        let half = label.width() / 2.0;
        let sides: &[f64] = match i {
            0 => &[1.0],
            i if i == last => &[-1.0],
            _ => &[-1.0, 1.0],
        };
        // On a slope the corner of the lettering comes to it before its middle does.
        let places = [2.0, 3.5, 5.0, 8.0, 12.0, 17.0].into_iter().flat_map(|down| {
            // Tails of upright lettering hang to the right.
            sides.iter().map(move |side| (side * 2.5 - 0.3, -(half + down)))
        });
        let at = sheet.own(own, [x, y]);
        let found = places
            .map(|(dx, dy)| label.clone().at(at.shifted(dx, dy)))
            .find(|label| sheet.is_free(label));
        if let Some(label) = found {
            sheet.write_on_paper(label);
        }
    }
}

/// The name of each opening, where there is room in it.
fn names(sheet: &mut Sheet) {
    let wall = sheet.wall;
    for hole in &wall.spec.holes {
        let of = ItemRef::Opening(hole.name.clone());
        let (along, foot) = (hole.doorway(), hole.sill.unwrap_or(0.0));
        let name = Label::new(At::model(0.0, 0.0), hole.name.as_str()).of(&of);
        let shares = [0.5, 0.6, 0.4, 0.7, 0.3, 0.8, 0.2];
        let places = shares.into_iter().flat_map(|up| shares.map(|across| [across, up]));
        let places: Vec<At> = places
            .map(|[across, up]| {
                let station = along.low + along.length() * across;
                sheet.at(station, foot + (hole.top - foot) * up)
            })
            .collect();
        let sizes = [name.clone().large(), name.normal()];
        let choices = sizes.iter().flat_map(|l| places.iter().map(|at| l.clone().at(*at)));
        let free = choices.into_iter().find(|label| sheet.is_free(label));
        if let Some(label) = free {
            sheet.write(label);
        }
    }
}

/// The upright joints on one pull of the tape in each run of boards, from its end nearer the start of the wall.
fn tape(sheet: &mut Sheet, layer: &Layer) {
    let face = layer.face;
    let runs = &sheet.wall.spec.faces[usize::from(face == Face::Left)];
    let of = sheet.of_wall();
    let (mut pulls, mut lines) = (Vec::new(), Vec::new());
    for run in runs.iter().filter_map(|run| run.layers.get(layer.layer)) {
        let boards = layer.pieces.iter().map(|p| p.shape.stations()).filter(|s| run.covers(*s));
        let Some(covered) = boards.reduce(Span::hull) else { continue };
        let upright = |j: &&layout_core::boards::Joint| j.along.length() < SAME;
        let joints = layer.joints.iter().filter(upright).map(|j| j.along.low);
        let mut stops: Vec<f64> = joints.filter(|s| covered.contains(*s)).collect();
        stops.extend([covered.low, covered.high]);
        stops.sort_by(f64::total_cmp);
        stops.dedup_by(|a, b| same(*a, *b));
        pulls.extend(stops.into_iter().map(|station| {
            let at = station - covered.low;
            Pull { station, of: of.clone(), text: sheet.job.units.show(at), is_zero: at < SAME }
        }));
        lines.push(covered);
    }
    let caption = match face {
        Face::Right => [
            "joints, one pull from the left: 0 at the edge of the first board",
            "joints, one pull from the left",
        ],
        Face::Left => [
            "joints, one pull from the right: 0 at the edge of the first board",
            "joints, one pull from the right",
        ],
    };
    pull::tape(sheet, pulls, &lines, caption, 0.0);
}

/// The heights beside the drawing: floor, foot of the boards, level joints, top, ceiling.
fn heights(sheet: &mut Sheet, layer: &Layer) {
    let of = sheet.of_wall();
    let mut rungs: Vec<Rung> = Vec::new();
    let mut add = |height: f64, name: &str, of: &ItemRef| {
        ladder::add(&mut rungs, height, name.to_string(), Some(of.clone()));
    };
    add(0.0, "FFL", &ItemRef::Job);
    let ends = |pick: fn(Span) -> f64| layer.pieces.iter().map(move |p| pick(p.shape.heights()));
    let foot = ends(|z| z.low).fold(f64::INFINITY, f64::min);
    let top = ends(|z| z.high).fold(f64::NEG_INFINITY, f64::max);
    if foot.is_finite() {
        add(foot, "foot of boards", &of);
    }
    for joint in layer.joints.iter().filter(|j| j.heights.length() < SAME) {
        add(joint.heights.low, "joint", &of);
    }
    for hole in &sheet.wall.spec.holes {
        let opening = ItemRef::Opening(hole.name.clone());
        if let Some(sill) = hole.sill {
            add(sill, &format!("{} sill", hole.name), &opening);
        }
        add(hole.top, &format!("{} head", hole.name), &opening);
    }
    if sheet.wall.spec.head.is_level() && top.is_finite() {
        add(top, "top of boards", &of);
    }
    if sheet.shows_ceiling() {
        let right = sheet.along_right();
        add(sheet.wall.spec.ceiling.at(right), "ceiling", &ItemRef::Job);
    }
    ladder::put(sheet, rungs);
}

impl Sheet<'_> {
    /// A place on a board, from its lower left corner, as a point of the picture.
    fn own(&self, own: Own, [x, y]: [f64; 2]) -> At {
        self.at(own.station(x), own.shape.heights().low + y)
    }

    /// A length on a board from one of its places to another along one way, at the first of `places` across it where nothing is
    /// in the way; none when there is no such place.
    fn dimension(
        &mut self,
        own: Own,
        way: Way,
        [from, to]: [f64; 2],
        places: &[f64],
        of: &ItemRef,
    ) {
        // Positions are rounded, so that lengths beside each other add up.
        let units = self.job.units;
        let text = units.show(units.round(to) - units.round(from));
        let point = |v: f64, across: f64| match way {
            Way::Level => [v, across],
            Way::Upright => [across, v],
        };
        let room = (to - from) / self.scale;
        // In the middle of its line, or else nearer to one of its ends.
        let tries = places.iter().flat_map(|across| {
            // Along the line, or else across it.
            [true, false].map(|along| SHARES.map(|share| (*across, along, share))).concat()
        });
        for (across, along, share) in tries {
            let middle = self.own(own, point(from + (to - from) * share, across));
            let label = Label::new(middle, text.as_str()).small().pen(Pen::Dimension).of(of);
            let gap = if along { label.width() + 1.0 } else { 3.6 };
            let is_level = along == (way == Way::Level);
            let label = if is_level { label } else { label.turned(FRAC_PI_2) };
            let beside = room * share.min(1.0 - share);
            if beside < gap / 2.0 || !self.is_free(&label) {
                continue;
            }
            let ends = [from, to].map(|v| self.own(own, point(v, across)));
            let [a, b] = ends.map(|at| at.on_paper(self.scale));
            let covered = Rect::round([a, b]).grown(0.2);
            if self.crowd.overlap(covered) > 0.0 {
                continue;
            }
            let stop = |sign: f64| match way {
                Way::Level => middle.shifted(sign * gap / 2.0, 0.0),
                Way::Upright => middle.shifted(0.0, sign * gap / 2.0),
            };
            // Model x runs to the right from either face.
            for (end, sign) in ends.into_iter().zip([-1.0, 1.0]) {
                self.picture.line([end, stop(sign)], Pen::Dimension, Some(of));
                let tick = [end.shifted(-0.8, -0.8), end.shifted(0.8, 0.8)];
                self.picture.line(tick, Pen::Outline, Some(of));
            }
            self.lines.take(covered);
            self.write_on_paper(label.align(Align::Centre));
            return;
        }
    }
}
