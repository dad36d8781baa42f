//! The plan: what stands, the partitions, their openings and the setting-out dimensions.

mod shell;
mod partition;
mod boards;
mod platform;
mod opening;
mod running;
mod floor;
mod junction;
mod readings;

pub use floor::floor;
pub use junction::{Junction, junction, kinds as junction_kinds};

use layout_core::document::Job;
use layout_core::id::ItemRef;
use layout_core::layout::Layout;

use crate::picture::{Align, At, Crowd, Label, Pen, Picture, Rect, Shape};

/// What to show on a plan.
#[derive(Clone, Debug, PartialEq)]
pub struct PlanOptions {
    /// Millimetres of model to one of paper: lettering is laid out for it.
    pub scale: f64,
    /// True to draw the running dimensions along each wall.
    pub dimensions: bool,
    /// Up to which layer the boards of both faces are drawn, from 0: as strips as thick as they are.
    pub boards: Option<usize>,
}

/// Draws the plan of `job`. Model coordinates are the job's plan coordinates. The cut is taken at the
/// height of the uprights, so an opening always shows as an opening, whatever its sill.
pub fn plan(job: &Job, layout: &Layout, options: &PlanOptions) -> Picture {
    let mut sheet =
        Sheet { picture: Picture::default(), crowd: Crowd::default(), scale: options.scale };
    shell::draw(&mut sheet, job);
    for wall in &layout.walls {
        partition::draw(&mut sheet, layout, wall);
    }
    if let Some(last) = options.boards {
        for wall in &layout.walls {
            boards::draw(&mut sheet, wall, last);
        }
    }
    for wall in &layout.walls {
        opening::draw(&mut sheet, job, wall);
    }
    for laid in &layout.platforms {
        platform::draw(&mut sheet, job, laid);
    }
    datum(&mut sheet, job);
    for wall in &layout.walls {
        partition::fixtures(&mut sheet, job, wall);
    }
    rooms(&mut sheet, job);
    if options.dimensions {
        for wall in &layout.walls {
            running::draw(&mut sheet, wall);
        }
    }
    if !sheet.is_far() {
        for wall in &layout.walls {
            opening::marks(&mut sheet, job, wall);
        }
    }
    for wall in &layout.walls {
        partition::mark(&mut sheet, wall);
    }
    for laid in &layout.platforms {
        platform::mark(&mut sheet, job, laid);
    }
    readings::draw(&mut sheet, job, layout);
    shell::labels(&mut sheet, job);
    sheet.picture
}

/// The drawing so far, and what is already taken on it.
struct Sheet {
    picture: Picture,
    crowd: Crowd,
    scale: f64,
}

/// Beyond this scale a plan shows where walls are, not how they are made: names of openings, points and
/// fittings are left out, and so is what finds no free place.
const FAR: f64 = 120.0;

impl Sheet {
    /// True when the plan is too small for all its lettering.
    fn is_far(&self) -> bool {
        self.scale > FAR
    }

    /// Draws the best of `choices`; from afar only one that is in nobody's way.
    fn place(&mut self, choices: impl IntoIterator<Item = Label>) {
        if self.is_far() {
            let small = choices.into_iter().map(Label::small);
            self.crowd.place_if_free(&mut self.picture, self.scale, small);
        } else {
            self.crowd.place(&mut self.picture, self.scale, choices);
        }
    }

    /// Nothing may be written over these points' rectangle.
    fn keep_clear(&mut self, points: &[At]) {
        self.crowd.take(Rect::round(points.iter().map(|p| p.on_paper(self.scale))));
    }

    /// Nothing may be written over the line from `a` to `b`: a slanting line takes a string of small
    /// rectangles rather than one big one.
    fn keep_line_clear(&mut self, a: At, b: At) {
        let (p, q) = (a.on_paper(self.scale), b.on_paper(self.scale));
        let parts = ((p[0] - q[0]).abs().min((p[1] - q[1]).abs()) / 2.0).ceil().clamp(1.0, 200.0);
        let on = |t: f64| [p[0] + (q[0] - p[0]) * t, p[1] + (q[1] - p[1]) * t];
        for i in 0..parts as usize {
            let ends = [on(i as f64 / parts), on((i + 1) as f64 / parts)];
            self.crowd.take(Rect::round(ends).grown(0.2));
        }
    }

    /// Nothing may be written over a four-cornered strip: one that slants takes a string of small
    /// rectangles along its length.
    fn keep_strip_clear(&mut self, corners: [At; 4]) {
        let [a, b, c, d] = corners.map(|p| p.on_paper(self.scale));
        let parts = ((a[0] - b[0]).abs().min((a[1] - b[1]).abs()) / 2.0).ceil().clamp(1.0, 200.0);
        let on =
            |p: [f64; 2], q: [f64; 2], t: f64| [p[0] + (q[0] - p[0]) * t, p[1] + (q[1] - p[1]) * t];
        for i in 0..parts as usize {
            let (from, to) = (i as f64 / parts, (i + 1) as f64 / parts);
            let part = [on(a, b, from), on(a, b, to), on(d, c, from), on(d, c, to)];
            self.crowd.take(Rect::round(part));
        }
    }
}

/// Room names: large where all of them have room to be, or else smaller, and a little aside where the
/// place is taken.
fn rooms(sheet: &mut Sheet, job: &Job) {
    let labels: Vec<Label> = job
        .rooms
        .iter()
        .map(|room| {
            let of = ItemRef::Room(room.name.clone());
            Label::new(At::model(room.at.x, room.at.y), room.name.as_str()).large().of(&of)
        })
        .collect();
    let is_free = |l: &Label| sheet.crowd.overlap(l.bounds(sheet.scale).grown(0.3)) == 0.0;
    let all_large = labels.iter().all(is_free);
    for (room, large) in job.rooms.iter().zip(labels) {
        let at = At::model(room.at.x, room.at.y);
        let label = if all_large { large } else { large.normal() };
        let aside = [0.0, 4.0, -4.0, 7.0, -7.0];
        let shifts = aside.into_iter().flat_map(|by| [(0.0, by), (by, 0.0)]);
        let choices = shifts.map(|(dx, dy)| label.clone().at(at.shifted(dx, dy)));
        sheet.place(choices);
    }
}

/// The datum: a circle with a cross through it, and how the crew finds it.
fn datum(sheet: &mut Sheet, job: &Job) {
    let of = ItemRef::Datum;
    let at = At::model(job.datum.at.x, job.datum.at.y);
    for [x, y] in [[5.0, 0.0], [0.0, 5.0]] {
        sheet.picture.line([at.shifted(-x, -y), at.shifted(x, y)], Pen::Centre, Some(&of));
    }
    sheet.picture.add(
        Shape::Dot { at, radius: 2.0 },
        Pen::Outline,
        crate::picture::Fill::None,
        Some(&of),
    );
    let [x, y] = at.on_paper(sheet.scale);
    sheet.crowd.take(Rect::about(x, y, 6.0, 6.0));
    let text = format!("datum: {}", job.datum.label);
    let label = |dx: f64, dy: f64, align| {
        Label::new(at.shifted(dx, dy), text.as_str()).small().align(align).pen(Pen::Text).of(&of)
    };
    // Beside it, or under all that is drawn, before it makes the drawing wider.
    let aside = [-5.0, 5.0, -8.5, 8.5, -12.0, 12.0];
    let mut choices: Vec<Label> =
        aside.iter().flat_map(|dy| [1.2, 3.0].map(|dx| label(dx, *dy, Align::Left))).collect();
    if let Some(drawn) = sheet.picture.bounds(sheet.scale) {
        choices.push(label(0.0, drawn.min[1] - y - 3.0, Align::Left));
    }
    choices.extend(aside.map(|dy| label(-1.2, dy, Align::Right)));
    sheet.crowd.place(&mut sheet.picture, sheet.scale, choices);
}
