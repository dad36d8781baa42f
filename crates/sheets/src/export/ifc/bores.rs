//! Holes and notches for cables and pipes: each a void in the piece of timber it is cut in.
//!
//! The piece itself keeps its eight corners, so that whoever wants the timber as it comes from the saw has it without
//! them; a bored hole is a true circle, drawn out through the piece.

use layout_core::first_fix::{Bore, Way};
use layout_core::frame::{Member, Solid};
use layout_core::layout::WallLayout;
use layout_core::span::Span;

use super::Model;
use super::existing::BEYOND;
use super::facts::Facts;
use super::shape::{Faces, Xyz, placement};
use super::step::{Id, real, text};

/// Slices in which what is taken out of a piece is summed up.
const SLICES: usize = 96;

/// Cuts what runs through the piece out of it, in the axes of its wall; gives the volume it takes out of it, mm³.
pub(super) fn bores(
    model: &mut Model,
    wall: &WallLayout,
    member: &Member,
    faces: &Faces,
    (piece, place): (Id, Id),
) -> f64 {
    let cuts: Vec<Cut> = wall
        .runs
        .bores
        .iter()
        .filter(|bore| bore.member == member.mark)
        .filter_map(|bore| Cut::of(wall, member, bore))
        .collect();
    let mark = member.full_mark(wall.name());
    for (i, cut) in cuts.iter().enumerate() {
        // Of several for the same thing in one piece: which, in their own order.
        let of_thing = cut.bore.of.label();
        let before = cuts[..i].iter().filter(|c| c.bore.of == cut.bore.of).count();
        let of = ["bore", mark.as_str(), of_thing.as_str(), &before.to_string()];
        cut.put(model, &mark, &of, (piece, place));
    }
    taken(&cuts, faces)
}

/// A hole or a notch in a piece: what of the wall it goes through, and what it takes square to that.
struct Cut<'a> {
    bore: &'a Bore,
    /// From where to where it goes, with a little beyond the piece at both ends.
    through: Span,
    /// Middle of the hole across the wall; what a notch takes across it.
    across: Span,
    /// Its middle up (along the wall) or along (up and down), and how much it takes that way.
    other: Span,
}

impl<'a> Cut<'a> {
    fn of(wall: &WallLayout, member: &Member, bore: &'a Bore) -> Option<Cut<'a>> {
        let run = wall.runs.runs.iter().find(|r| r.of == bore.of && r.way == bore.way)?;
        let own = member.solid.across();
        let (through, middle) = match bore.way {
            Way::Level => (member.solid.stations(), bore.height),
            Way::Upright => (member.solid.heights(), bore.station),
        };
        let takes = match run.notched {
            None => Span::about(wall.spec.frame.centre(), run.hole),
            Some(face) => wall.spec.into_from(face, run.hole),
        };
        let across = if bore.notch {
            // Open at the edge it is let in from.
            let cut = own.intersection(takes);
            let beyond = |at_edge: bool| if at_edge { BEYOND } else { 0.0 };
            Span {
                low: cut.low - beyond(takes.low <= own.low),
                high: cut.high + beyond(takes.high >= own.high),
            }
        } else {
            takes
        };
        let other = Span::about(middle, run.hole);
        let is_sane =
            [through, across, other].iter().all(|s| s.low.is_finite() && s.length() > 0.1);
        is_sane.then_some(Cut { bore, through: through.grown(BEYOND), across, other })
    }

    fn put(&self, model: &mut Model, mark: &str, of: &[&str], (piece, place): (Id, Id)) {
        let step = &mut model.step;
        let (solid, form) = if self.bore.notch {
            let box_ = match self.bore.way {
                Way::Level => [self.through, self.across, self.other],
                Way::Upright => [self.other, self.across, self.through],
            };
            let [s, n, z] = box_;
            let box_ = Solid::upright(s, n, (z.low, z.low), (z.high, z.high));
            let Some(faces) = Faces::of(&box_) else { return };
            (faces.put(step), "Tessellation")
        } else {
            let (n, other) = (self.across.centre(), self.other.centre());
            let (origin, axis): (Xyz, Xyz) = match self.bore.way {
                Way::Level => ([self.through.low, n, other], [1.0, 0.0, 0.0]),
                Way::Upright => ([other, n, self.through.low], [0.0, 0.0, 1.0]),
            };
            let radius = real(self.other.length() / 2.0);
            let circle = step.put(format_args!("IFCCIRCLEPROFILEDEF(.AREA.,$,$,{radius})"));
            let at = placement(step, origin, axis, [0.0, 1.0, 0.0]);
            let up = step.put("IFCDIRECTION((0.,0.,1.))");
            let depth = real(self.through.length());
            let drawn = format!("IFCEXTRUDEDAREASOLID({circle},{at},{up},{depth})");
            (step.put(drawn), "SweptSolid")
        };
        let body = model.body(form, &[solid]);
        let what = self.bore.of.label();
        let (kind, shape) = if self.bore.notch { ("notch", "RECESS") } else { ("hole", "OPENING") };
        let (id, name) = (model.id(of), text(&format!("{mark} {kind} for {what}")));
        let (object, tag) = (text(kind), text(mark));
        let opening = model.step.put(format_args!(
            "IFCOPENINGELEMENT({id},$,{name},$,{object},{place},{body},{tag},.{shape}.)"
        ));
        let mut voids = of.to_vec();
        voids.push("voids");
        model.voids(&voids, piece, opening);
        Facts::new()
            .mark("Member", mark)
            .label("For", &what)
            .label("Kind", kind)
            .length("Size", self.bore.size)
            .length("Station", self.bore.station)
            .length("Height", self.bore.height)
            .put(model, "Baywright_Bore", of, opening);
    }

    /// What it takes across the wall in a slice at `at`.
    fn slice(&self, at: f64) -> Option<Span> {
        if !self.other.contains(at) {
            return None;
        }
        if self.bore.notch {
            return Some(self.across);
        }
        let (r, off) = (self.other.length() / 2.0, at - self.other.centre());
        Some(Span::about(self.across.centre(), 2.0 * (r * r - off * off).max(0.0).sqrt()))
    }
}

/// The volume of a piece that cuts take together: where two of them meet it counts once.
fn taken(cuts: &[Cut], faces: &Faces) -> f64 {
    let mut sum = 0.0;
    for way in [Way::Level, Way::Upright] {
        let cuts: Vec<&Cut> = cuts.iter().filter(|c| c.bore.way == way).collect();
        let mut edges: Vec<f64> = cuts.iter().flat_map(|c| [c.other.low, c.other.high]).collect();
        edges.sort_by(f64::total_cmp);
        for pair in edges.windows(2).filter(|p| p[1] - p[0] > 1e-9) {
            let thick = (pair[1] - pair[0]) / SLICES as f64;
            for i in 0..SLICES {
                let at = pair[0] + (i as f64 + 0.5) * thick;
                let line = |n: f64| match way {
                    Way::Level => faces.chord([0.0, n, at], [1.0, 0.0, 0.0]),
                    Way::Upright => faces.chord([at, n, 0.0], [0.0, 0.0, 1.0]),
                };
                for span in together(cuts.iter().filter_map(|c| c.slice(at)).collect()) {
                    sum += thick * area(span, line);
                }
            }
        }
    }
    sum
}

/// The area under a line over a stretch, in as many strips as a slice has.
fn area(span: Span, line: impl Fn(f64) -> f64) -> f64 {
    const STRIPS: usize = 48;
    let wide = span.length() / STRIPS as f64;
    (0..STRIPS).map(|i| line(span.low + (i as f64 + 0.5) * wide)).sum::<f64>() * wide
}

/// Stretches that overlap as one.
fn together(mut spans: Vec<Span>) -> Vec<Span> {
    spans.sort_by(|a, b| a.low.total_cmp(&b.low));
    let mut joined: Vec<Span> = Vec::new();
    for span in spans {
        match joined.last_mut() {
            Some(last) if span.low <= last.high => last.high = last.high.max(span.high),
            _ => joined.push(span),
        }
    }
    joined
}
