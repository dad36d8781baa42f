//! One platform for its own sheet: the joists seen from above, and a section along one of them.

use std::f64::consts::FRAC_PI_2;

use layout_core::document::{Finish, Job, Platform};
use layout_core::frame::{Member, Role};
use layout_core::id::{ItemRef, Kind};
use layout_core::layout::PlatformLayout;
use layout_core::platform::running;
use layout_core::span::Span;

use super::elevation::fill;
use super::signs::{corners, diagonals};
use crate::picture::{Align, At, Crowd, Fill, Label, Lettering, Pen, Picture, Rect, Shape, spread};

/// How much of a wall beside it is drawn, mm of paper.
const BESIDE: f64 = 4.0;

/// The joist plan. Model x runs along the platform's width, y along its depth, from its corner.
pub fn platform_plan(job: &Job, laid: &PlatformLayout, scale: f64) -> Picture {
    let mut sheet = Sheet { picture: Picture::default(), crowd: Crowd::default(), scale, laid };
    let Some(platform) = job.platform(laid.name()) else { return sheet.picture };
    sheet.walls();
    for member in &laid.frame.members {
        // The studs of a front stand under its plate.
        if member.role != Role::FrontStud {
            sheet.member(member);
        }
    }
    sheet.holes(platform);
    sheet.hole_names(platform);
    for member in &laid.frame.members {
        sheet.mark(member);
    }
    sheet.running();
    sheet.sizes();
    sheet.picture
}

struct Sheet<'a> {
    picture: Picture,
    crowd: Crowd,
    scale: f64,
    laid: &'a PlatformLayout,
}

impl Sheet<'_> {
    /// What lies `along` and `across` the joists, on the picture.
    fn at(&self, along: f64, across: f64) -> At {
        if self.laid.spec.along_width { At::model(along, across) } else { At::model(across, along) }
    }

    /// A shift on the paper, along and across the joists.
    fn shifted(&self, at: At, along: f64, across: f64) -> At {
        if self.laid.spec.along_width {
            at.shifted(along, across)
        } else {
            at.shifted(across, along)
        }
    }

    fn of(&self) -> ItemRef {
        ItemRef::Platform(self.laid.name().clone())
    }

    fn of_member(&self, member: &Member) -> ItemRef {
        ItemRef::Member { wall: self.laid.name().clone(), mark: member.mark }
    }

    fn own(&self, member: &Member) -> (Span, Span) {
        self.laid.spec.own(member.solid.stations(), member.solid.across())
    }

    /// The walls that hold its sides, each with its name.
    fn walls(&mut self) {
        let spec = self.laid.spec.clone();
        for (side, held) in spec.held.iter().enumerate() {
            let (edge, out) = match side {
                0 => (0.0, -1.0),
                1 => (spec.length, 1.0),
                2 => (0.0, -1.0),
                _ => (spec.width, 1.0),
            };
            for held in held {
                let place = |s: f64, by: f64| {
                    if side < 2 {
                        self.shifted(self.at(edge, s), out * by, 0.0)
                    } else {
                        self.shifted(self.at(s, edge), 0.0, out * by)
                    }
                };
                let (low, high) = (held.span.low, held.span.high);
                let strip =
                    [place(low, 0.0), place(high, 0.0), place(high, BESIDE), place(low, BESIDE)];
                let middle = place(held.span.centre(), BESIDE / 2.0);
                self.picture.area(strip, Pen::Thin, Fill::Existing, Some(&held.by));
                self.crowd.take(Rect::round(strip.iter().map(|p| p.on_paper(self.scale))));
                // Written along the strip, on paper of its own.
                let is_upright = (side < 2) == spec.along_width;
                let label = Label::new(middle, held.by.label()).small().of(&held.by);
                let label = if is_upright { label.turned(FRAC_PI_2) } else { label };
                if label.width() + 2.0 < held.span.length() / self.scale {
                    self.picture.area(label.backing(), Pen::None, Fill::Paper, None);
                    self.picture.label(label);
                }
            }
        }
    }

    fn member(&mut self, member: &Member) {
        let (x, y) = (member.solid.stations(), member.solid.across());
        let quad = corners((x.low, x.high), (y.low, y.high));
        let of = self.of_member(member);
        self.picture.area(quad, Pen::Outline, fill(member.role), Some(&of));
        self.crowd.take(Rect::round(quad.iter().map(|p| p.on_paper(self.scale))));
    }

    /// A piece's mark beside it, where there is room.
    fn mark(&mut self, member: &Member) {
        let (along, across) = self.own(member);
        let label = Label::new(self.at(0.0, 0.0), member.mark.to_string())
            .small()
            .pen(Pen::Quiet)
            .of(&self.of_member(member));
        let wide = label.width() / 2.0 + 0.8;
        // Half of the lettering across the joists, and along them.
        let (half_across, half_along) =
            if self.laid.spec.along_width { (2.7, wide) } else { (wide, 2.7) };
        let choices: Vec<At> = match member.mark.kind {
            Kind::Joist => {
                let shares = [0.08, 0.2, 0.35, 0.65, 0.8, 0.92];
                let on = shares.map(|s| self.at(along.low + along.length() * s, across.high));
                let off = shares.map(|s| self.at(along.low + along.length() * s, across.low));
                let beyond = on.map(|at| self.shifted(at, 0.0, half_across));
                let before = off.map(|at| self.shifted(at, 0.0, -half_across));
                beyond.into_iter().chain(before).collect()
            }
            Kind::Stud => return,
            _ => {
                let shares = [0.5, 0.3, 0.7, 0.15, 0.85];
                let on = |s: f64, a: f64| self.at(a, across.low + across.length() * s);
                let beyond = shares.map(|s| self.shifted(on(s, along.high), half_along, 0.0));
                let before = shares.map(|s| self.shifted(on(s, along.low), -half_along, 0.0));
                beyond.into_iter().chain(before).collect()
            }
        };
        let labels = choices.into_iter().map(|at| label.clone().at(at));
        self.crowd.place_if_free(&mut self.picture, self.scale, labels);
    }

    fn holes(&mut self, platform: &Platform) {
        for hole in &platform.holes {
            let of = ItemRef::PlatformHole(hole.name.clone());
            let (x, y) = (Span::about(hole.at.0, hole.size.0), Span::about(hole.at.1, hole.size.1));
            let quad = corners((x.low, x.high), (y.low, y.high));
            self.picture.area(quad, Pen::Outline, Fill::None, Some(&of));
            for line in diagonals(&quad) {
                self.picture.line(line, Pen::Thin, Some(&of));
            }
            self.crowd.take(Rect::round(quad.iter().map(|p| p.on_paper(self.scale))));
        }
        let corner = Shape::Dot { at: At::model(0.0, 0.0), radius: 0.9 };
        self.picture.add(corner, Pen::Dimension, Fill::Paper, Some(&self.of()));
    }

    /// The names of the holes; their sizes and places are in a list.
    fn hole_names(&mut self, platform: &Platform) {
        for hole in &platform.holes {
            let of = ItemRef::PlatformHole(hole.name.clone());
            let label = Label::new(At::model(0.0, 0.0), hole.name.as_str()).of(&of);
            let middle = At::model(hole.at.0, hole.at.1);
            let up = hole.size.1 / 2.0 / self.scale + 2.8;
            let aside = hole.size.0 / 2.0 / self.scale + label.width() / 2.0 + 1.2;
            let choices = [(0.0, up), (0.0, -up), (aside, 0.0), (-aside, 0.0), (0.0, 0.0)]
                .map(|(dx, dy)| label.clone().at(middle.shifted(dx, dy)));
            if let Some(best) = self.crowd.choose(self.scale, choices) {
                self.picture.area(best.backing(), Pen::None, Fill::Paper, None);
                self.crowd.write(&mut self.picture, self.scale, best);
            }
        }
    }

    /// One pull of the tape across the joists, along the side where they begin.
    fn running(&mut self) {
        let spec = self.laid.spec.clone();
        let of = self.of();
        let mut pulls: Vec<(f64, ItemRef)> = running(&spec, &self.laid.frame)
            .into_iter()
            .map(|m| (m.at, ItemRef::Member { wall: self.laid.name().clone(), mark: m.member }))
            .collect();
        pulls.push((spec.width, of.clone()));
        let line = -BESIDE - 7.0;
        let on_line = |sheet: &Self, across: f64, da: f64, dc: f64| {
            sheet.shifted(sheet.at(0.0, across), line + da, dc)
        };
        let ends = [on_line(self, 0.0, 0.0, 0.0), on_line(self, spec.width, 0.0, 0.0)];
        self.picture.line(ends, Pen::Dimension, Some(&of));
        let on: Vec<f64> = pulls.iter().map(|(at, _)| at / self.scale).collect();
        let to = spread(&on, &vec![Lettering::Normal.height(); on.len()], 1.1);
        for ((at, of), (on, to)) in pulls.into_iter().zip(on.iter().zip(&to)) {
            let aside = to - on;
            let tick = [
                on_line(self, at, 1.0, 0.0),
                on_line(self, at, -1.4, 0.0),
                on_line(self, at, -3.4, aside),
            ];
            self.picture.line(tick, Pen::Dimension, Some(&of));
            let label = Label::new(on_line(self, at, -4.2, aside), spec.units.show(at))
                .align(Align::Right)
                .pen(Pen::Dimension)
                .of(&of);
            let turn = if spec.along_width { 0.0 } else { FRAC_PI_2 };
            self.crowd.write(&mut self.picture, self.scale, label.turned(turn));
        }
        // As much of it as the line is long.
        let at = on_line(self, 0.0, 2.2, 0.0);
        let words = [
            "one pull: near edge of each joist, timber beyond the mark",
            "near edges, timber beyond",
            "near edges",
        ];
        let labels =
            words.map(|text| Label::new(at, text).small().pen(Pen::Quiet).align(Align::Left));
        let [long, short, shortest] = labels;
        let room = spec.width / self.scale;
        let label = [long, short].into_iter().find(|l| l.width() <= room).unwrap_or(shortest);
        let label = if spec.along_width { label.turned(FRAC_PI_2) } else { label };
        self.crowd.write(&mut self.picture, self.scale, label);
    }

    /// The whole size along the joists, and what a joist has between its bearings.
    fn sizes(&mut self) {
        let spec = self.laid.spec.clone();
        let of = self.of();
        let run = spec.run();
        for (span, away) in
            [(run, BESIDE + 5.0), (Span { low: 0.0, high: spec.length }, BESIDE + 11.0)]
        {
            let on = |sheet: &Self, along: f64, dc: f64| {
                sheet.shifted(sheet.at(along, spec.width), 0.0, away + dc)
            };
            self.picture.line(
                [on(self, span.low, 0.0), on(self, span.high, 0.0)],
                Pen::Dimension,
                Some(&of),
            );
            for end in [span.low, span.high] {
                let tick = [on(self, end, -1.2), on(self, end, 1.2)];
                self.picture.line(tick, Pen::Dimension, Some(&of));
            }
            let label = Label::new(on(self, span.centre(), 2.4), spec.units.show(span.length()))
                .pen(Pen::Dimension)
                .of(&of);
            let turn = if spec.along_width { 0.0 } else { FRAC_PI_2 };
            self.crowd.write(&mut self.picture, self.scale, label.turned(turn));
            if (span.length() - spec.length).abs() < layout_core::math::SAME {
                break;
            }
        }
    }
}

/// A section along a joist, seen with the first end on the left. Model x is along the joists, y the height
/// above FFL.
pub fn platform_section(job: &Job, laid: &PlatformLayout, scale: f64) -> Picture {
    let mut picture = Picture::default();
    let Some(platform) = job.platform(laid.name()) else { return picture };
    let spec = &laid.spec;
    let of = ItemRef::Platform(laid.name().clone());
    let whole = Span { low: 0.0, high: spec.length };
    let top = spec.ceiling.max(spec.finished.high);
    let low = spec.finished.low - 8.0 * scale;
    for (side, edge, out) in [(0, 0.0, -1.0), (1, spec.length, 1.0)] {
        if let Some(held) = spec.held[side].first() {
            let at = |by: f64, z: f64| At::model(edge, z).shifted(out * by, 0.0);
            let strip = [at(0.0, low), at(BESIDE, low), at(BESIDE, top), at(0.0, top)];
            picture.area(strip, Pen::Thin, Fill::Existing, Some(&held.by));
        }
    }
    let ends = [At::model(0.0, spec.ceiling), At::model(spec.length, spec.ceiling)];
    let line = [ends[0].shifted(-BESIDE - 2.0, 0.0), ends[1].shifted(BESIDE + 2.0, 0.0)];
    picture.line(line, Pen::Outline, Some(&ItemRef::Job));
    // A joist behind the cut, then what is cut through.
    let own = |m: &Member| spec.own(m.solid.stations(), m.solid.across()).0;
    let members = || laid.frame.members.iter();
    let of_member = |m: &Member| ItemRef::Member { wall: laid.name().clone(), mark: m.mark };
    let mut box_of = |m: &Member, is_cut: bool| {
        let (x, z) = (own(m), m.solid.heights());
        let quad = corners((x.low, x.high), (z.low, z.high));
        picture.area(quad, Pen::Outline, fill(m.role), Some(&of_member(m)));
        if is_cut {
            for line in diagonals(&quad) {
                picture.line(line, Pen::Thin, Some(&of_member(m)));
            }
        }
    };
    for role in [Role::Joist, Role::FrontStud] {
        let mut seen: Vec<Span> = Vec::new();
        for member in members().filter(|m| m.role == role) {
            if !seen.iter().any(|s| s.overlaps(own(member))) {
                box_of(member, false);
                seen.push(own(member));
            }
        }
    }
    let crossed = |m: &&Member| {
        matches!(m.role, Role::WallPlate | Role::Rim | Role::FrontPlate | Role::Noggin)
    };
    for member in members().filter(crossed) {
        box_of(member, true);
    }
    boards(&mut picture, whole, spec.heights.low, -1.0, &platform.below, &of);
    boards(&mut picture, whole, spec.heights.high, 1.0, &platform.above, &of);
    levels(&mut picture, laid, scale);
    picture
}

/// Boards on one side of the joists, from `from` away.
fn boards(picture: &mut Picture, x: Span, from: f64, out: f64, finish: &Finish, of: &ItemRef) {
    let mut z = from;
    for board in &finish.boards {
        let quad = corners((x.low, x.high), (z, z + out * board.thickness));
        picture.area(quad, Pen::Thin, Fill::Board, Some(of));
        z += out * board.thickness;
    }
}

/// Heights above FFL beside the section.
fn levels(picture: &mut Picture, laid: &PlatformLayout, scale: f64) {
    let spec = &laid.spec;
    let mut rungs = vec![
        (spec.finished.low, "underside"),
        (spec.heights.low, "joists from"),
        (spec.heights.high, "joists to"),
        (spec.finished.high, "top"),
        (spec.ceiling, "ceiling"),
    ];
    rungs.dedup_by(|a, b| (a.0 - b.0).abs() < layout_core::math::SAME);
    rungs.sort_by(|a, b| a.0.total_cmp(&b.0));
    let on: Vec<f64> = rungs.iter().map(|(z, _)| z / scale).collect();
    let to = spread(&on, &vec![Lettering::Small.height(); on.len()], 1.0);
    let of = ItemRef::Platform(laid.name().clone());
    for ((z, name), (on, to)) in rungs.into_iter().zip(on.iter().zip(&to)) {
        let at = |dx: f64, dy: f64| At::model(spec.length, z).shifted(BESIDE + dx, dy);
        let lead = [at(1.0, 0.0), at(2.5, 0.0), at(5.0, to - on)];
        picture.line(lead, Pen::Dimension, Some(&of));
        let text = format!("{} {name}", spec.units.show(z));
        let label = Label::new(at(5.8, to - on), text).small().align(Align::Left);
        picture.label(label.pen(Pen::Dimension).of(&of));
    }
}
