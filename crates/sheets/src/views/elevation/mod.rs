//! The elevation of one wall, as its right face is seen (or its left, mirrored).

mod angles;
mod timber;
mod holes;
mod site;
mod pull;
mod ladder;
mod fixtures;
mod services;
mod platforms;
mod boards;
mod face;

use layout_core::document::{Face, Job};
use layout_core::id::ItemRef;
use layout_core::layout::{Layout, WallLayout};
use layout_core::profile::Profile;
use layout_core::span::Span;

pub(crate) use boards::cut_to;
pub use face::{FaceOptions, board_face};
pub(super) use timber::fill;

use crate::picture::{At, Crowd, Fill, Label, Pen, Picture, Rect};

/// What to show in an elevation.
#[derive(Clone, Debug, PartialEq)]
pub struct ElevationOptions {
    /// Millimetres of model to one of paper: lettering is laid out for it.
    pub scale: f64,
    /// The face it is seen from: the right face shows stations left to right, the left face is mirrored.
    pub face: Face,
    /// True to draw running marks, bay sizes and heights.
    pub dimensions: bool,
    /// Which layer of boards to draw over the frame, from 0; they take the place of bay sizes and marks.
    pub boards: Option<usize>,
    /// True to draw the zones in which cables run; they take the place of bay sizes and of marks, but for those of the uprights.
    pub zones: bool,
}

/// Draws the elevation of `wall`. Model x is the station from the wall's start node (minus the station
/// when seen from the left face), model y the height above FFL.
pub fn elevation(
    job: &Job,
    layout: &Layout,
    wall: &WallLayout,
    options: &ElevationOptions,
) -> Picture {
    let mut sheet = Sheet::new(job, wall, options);
    sheet.floor_and_ceiling();
    site::floor(&mut sheet);
    timber::draw(&mut sheet);
    holes::draw(&mut sheet);
    platforms::draw(&mut sheet, layout);
    sheet.laser();
    if options.zones {
        services::draw_zones(&mut sheet);
    }
    services::draw(&mut sheet);
    fixtures::draw(&mut sheet);
    let frame_figures = options.dimensions && options.boards.is_none() && !options.zones;
    if frame_figures {
        timber::bays(&mut sheet);
        angles::draw(&mut sheet);
    }
    if options.zones {
        // Bays are called by the studs they lie between.
        timber::uprights(&mut sheet);
    }
    if let Some(layer) = boards::shown(&sheet) {
        boards::outlines(&mut sheet, layer);
        boards::marks(&mut sheet, layer);
    }
    fixtures::labels(&mut sheet);
    services::labels(&mut sheet);
    platforms::labels(&mut sheet, layout);
    if frame_figures {
        timber::marks(&mut sheet);
        site::lengths(&mut sheet);
        let packed = site::packed(&sheet);
        let down = site::packers(&mut sheet, &packed);
        pull::draw(&mut sheet, down);
    }
    site::readings(&mut sheet);
    ladder::draw(&mut sheet, layout);
    sheet.picture
}

/// The drawing so far, and what it is of.
struct Sheet<'a> {
    job: &'a Job,
    wall: &'a WallLayout,
    options: &'a ElevationOptions,
    scale: f64,
    /// The stretch of wall that has timber in it.
    along: Span,
    picture: Picture,
    crowd: Crowd,
    /// Edges of boards, dimension and leader lines: lettering keeps off them, and they may cross one another.
    lines: Crowd,
}

/// How far the lines of floor and ceiling run on past the frame, mm of paper.
const RUN_ON: f64 = 4.0;
/// Thickness of the strip that stands for the ground, mm of paper.
const GROUND: f64 = 2.0;

/// Model x of a station as it is seen from one face.
fn seen_x(face: Face, station: f64) -> f64 {
    match face {
        Face::Right => station,
        Face::Left => -station,
    }
}

impl<'a> Sheet<'a> {
    fn new(job: &'a Job, wall: &'a WallLayout, options: &'a ElevationOptions) -> Sheet<'a> {
        let along = wall.frame.members.iter().map(|m| m.solid.stations()).fold(
            wall.spec.along(),
            |a, s| Span { low: a.low.min(s.low), high: a.high.max(s.high) },
        );
        let (picture, crowd, lines) = (Picture::default(), Crowd::default(), Crowd::default());
        Sheet { job, wall, options, scale: options.scale, along, picture, crowd, lines }
    }

    /// Model x of a station.
    fn x(&self, station: f64) -> f64 {
        seen_x(self.options.face, station)
    }

    /// The station at a model x.
    fn station(&self, x: f64) -> f64 {
        seen_x(self.options.face, x)
    }

    /// A station and a height as a point of the picture.
    fn at(&self, station: f64, height: f64) -> At {
        At::model(self.x(station), height)
    }

    /// The frame from left to right as it is seen: model x.
    fn seen(&self) -> Span {
        Span::between(self.x(self.along.low), self.x(self.along.high))
    }

    /// The station of the end that is at the right as it is seen.
    fn along_right(&self) -> f64 {
        match self.options.face {
            Face::Right => self.along.high,
            Face::Left => self.along.low,
        }
    }

    fn member(&self, mark: layout_core::id::Mark) -> ItemRef {
        ItemRef::Member { wall: self.wall.name().clone(), mark }
    }

    fn of_wall(&self) -> ItemRef {
        ItemRef::Wall(self.wall.name().clone())
    }

    /// The lowest height that is drawn: the underside of the floor build-up or of the timber.
    fn lowest(&self) -> f64 {
        let timber =
            self.wall.frame.members.iter().map(|m| m.solid.heights().low).fold(0.0, f64::min);
        timber.min(self.job.levels.slab()).min(self.wall.spec.floor.range(self.along).low)
    }

    /// Draws a label and keeps others off it.
    fn write(&mut self, label: Label) {
        self.crowd.write(&mut self.picture, self.scale, label);
    }

    fn keep_clear(&mut self, points: &[At]) {
        let covered = Rect::round(points.iter().map(|p| p.on_paper(self.scale)));
        self.crowd.take(covered.grown(0.2));
    }

    /// A level line across the whole wall and a little past it.
    fn level(&mut self, height: f64, pen: Pen) {
        let seen = self.seen();
        let line = [
            At::model(seen.low, height).shifted(-RUN_ON, 0.0),
            At::model(seen.high, height).shifted(RUN_ON, 0.0),
        ];
        self.picture.line(line, pen, None);
        if height <= 0.0 {
            self.keep_clear(&line);
        }
    }

    /// A line that follows a floor or a ceiling.
    fn profile(&mut self, profile: &Profile, pen: Pen) {
        let of = self.of_wall();
        let mut line: Vec<At> = Vec::new();
        for stretch in profile.stretches(self.along) {
            line.push(self.at(stretch.span.low, stretch.from));
            line.push(self.at(stretch.span.high, stretch.to));
        }
        let out = if self.options.face == Face::Right { RUN_ON } else { -RUN_ON };
        if let Some(first) = line.first_mut() {
            *first = first.shifted(-out, 0.0);
        }
        if let Some(last) = line.last_mut() {
            *last = last.shifted(out, 0.0);
        }
        self.picture.line(line, pen, Some(&of));
    }

    /// The ground, the layers of the floor, the finished floor and the ceiling.
    fn floor_and_ceiling(&mut self) {
        let levels = &self.job.levels;
        let seen = self.seen();
        let slab = levels.slab();
        let (a, b) = (
            At::model(seen.low, slab).shifted(-RUN_ON, 0.0),
            At::model(seen.high, slab).shifted(RUN_ON, 0.0),
        );
        let ground = [a.shifted(0.0, -GROUND), b.shifted(0.0, -GROUND), b, a];
        self.picture.area(ground, Pen::None, Fill::Existing, Some(&ItemRef::Job));
        let mut top = slab;
        for layer in &levels.build_up {
            self.level(top, if top == slab { Pen::Outline } else { Pen::Thin });
            top += layer.thickness;
        }
        self.level(0.0, Pen::Outline);
        if self.shows_ceiling() {
            let ceiling = self.wall.spec.ceiling.clone();
            self.profile(&ceiling, Pen::Outline);
        }
    }

    /// False for a screen or dwarf wall that stops well below the ceiling.
    fn shows_ceiling(&self) -> bool {
        self.wall.spec.ceiling.lowest() - self.wall.spec.head.highest() < 600.0
    }

    fn laser(&mut self) {
        self.level(self.job.levels.laser, Pen::Centre);
    }
}
