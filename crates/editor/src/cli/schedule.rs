//! `baywright schedule`: every piece of timber.

use std::fmt::Write;

use layout_core::boards::{self, Closes, Layer, On};
use layout_core::ceiling::CeilingLayout;
use layout_core::document::{Face, Job, Lay, Timber};
use layout_core::first_fix::{Way, held};
use layout_core::frame::{self, Member, Solid};
use layout_core::id::ItemRef;
use layout_core::layout::{Framed, Layout, PlatformLayout, WallLayout};
use layout_core::math::WallPoint;
use layout_core::pieces;
use layout_core::platform::on_board;
use layout_core::resolve::Place;
use serde::Serialize;
use sheets::export::Cell;

use super::csv::{self, Table};
use super::out::{self, thousandth};
use super::{Exit, Form, Outcome};

#[derive(Serialize)]
struct Answer<'a> {
    format: &'static str,
    version: u32,
    job: &'a str,
    members: Vec<Piece<'a>>,
    openings: Vec<Opening<'a>>,
    points: Vec<FirstFix<'a>>,
    holes: Vec<Bored<'a>>,
    platforms: Vec<Platform<'a>>,
    boards: Vec<Board<'a>>,
    totals: Vec<Total<'a>>,
}

#[derive(Serialize)]
struct Piece<'a> {
    mark: String,
    wall: Option<&'a str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    platform: Option<&'a str>,
    role: &'static str,
    section: Section<'a>,
    cut_length_mm: f64,
    saw_length_mm: f64,
    ends: [End; 2],
    short_point_mm: f64,
    #[serde(skip_serializing_if = "Option::is_none")]
    rip: Option<Ripped>,
    measure_in_place: bool,
    corners: Vec<[f64; 3]>,
}

#[derive(Serialize)]
struct Ripped {
    wide_mm: f64,
    narrow_mm: f64,
    bevel_deg: f64,
}

#[derive(Serialize)]
struct Section<'a> {
    thickness_mm: f64,
    depth_mm: f64,
    grade: &'a str,
}

#[derive(Serialize)]
struct End {
    bevel_deg: f64,
    mitre_deg: f64,
}

#[derive(Serialize)]
struct Opening<'a> {
    name: &'a str,
    wall: &'a str,
    kind: &'static str,
    station_mm: f64,
    width_mm: f64,
    sill_mm: Option<f64>,
    top_mm: f64,
    corners: Vec<[f64; 3]>,
}

#[derive(Serialize)]
struct FirstFix<'a> {
    name: &'a str,
    wall: &'a str,
    kind: &'a str,
    face: &'static str,
    station_mm: f64,
    height_mm: f64,
    size_mm: [f64; 2],
    depth_mm: f64,
    /// Mark of the piece a box is screwed to.
    #[serde(skip_serializing_if = "Option::is_none")]
    on: Option<String>,
    at: [f64; 3],
}

/// A hole or a notch for a cable or a pipe.
#[derive(Serialize)]
struct Bored<'a> {
    wall: &'a str,
    member: String,
    /// The point or route it is for.
    r#for: String,
    notch: bool,
    /// Along the wall, or up and down.
    along: bool,
    size_mm: f64,
    of_mm: f64,
    at: [f64; 3],
}

#[derive(Serialize)]
struct Platform<'a> {
    name: &'a str,
    kind: &'static str,
    /// Finished underside, or finished top of a shelf.
    level_mm: f64,
    joist_underside_mm: f64,
    joist_top_mm: f64,
    centres_mm: f64,
    span_mm: f64,
    outline: Vec<[f64; 2]>,
    holes: Vec<PlatformHole<'a>>,
}

#[derive(Serialize)]
struct PlatformHole<'a> {
    name: &'a str,
    kind: &'static str,
    corners: Vec<[f64; 2]>,
}

#[derive(Serialize)]
struct Board<'a> {
    wall: Option<&'a str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    platform: Option<&'a str>,
    face: &'static str,
    /// What a strip closes: an opening, by its name, and which side of it; or which end of its wall.
    #[serde(skip_serializing_if = "Option::is_none")]
    opening: Option<&'a str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    side: Option<&'static str>,
    layer: usize,
    number: usize,
    kind: &'a str,
    thickness_mm: f64,
    lay: &'static str,
    /// Width and length of the sheet, and of the piece cut from it.
    sheet_mm: [f64; 2],
    cut_mm: [f64; 2],
    area_m2: f64,
    outline: Vec<[f64; 3]>,
    holes: Vec<Vec<[f64; 3]>>,
}

#[derive(Serialize)]
struct Total<'a> {
    section: Section<'a>,
    pieces: usize,
    length_mm: f64,
}

pub(super) fn run(job: &Job, form: Form) -> Outcome {
    let layout = Layout::of(job);
    let totals = pieces::totals(&layout);
    if form.json {
        out::print_json(&answer(job, &layout, &totals))?;
    } else if form.csv {
        out::print(&csv::written(&table(&layout)))?;
    } else {
        out::print(&text(job, &layout, &totals))?;
    }
    Ok(Exit::Done)
}

fn answer<'a>(job: &'a Job, layout: &'a Layout, totals: &'a [frame::Total]) -> Answer<'a> {
    let members = |part: Framed<'a>| part.frame().members.iter().map(move |m| piece(part, m));
    Answer {
        format: "baywright-schedule",
        version: 1,
        job: &job.title,
        members: layout.framed().flat_map(members).collect(),
        openings: layout.walls.iter().flat_map(openings).collect(),
        points: layout.walls.iter().flat_map(|w| first_fix(job, w)).collect(),
        holes: layout.walls.iter().flat_map(bored).collect(),
        platforms: layout.platforms.iter().filter_map(|p| platform(job, p)).collect(),
        boards: layout
            .walls
            .iter()
            .flat_map(|w| faces(w).chain(strips(w)))
            .chain(layout.platforms.iter().flat_map(flat))
            .chain(layout.ceiling.iter().flat_map(|c| ceiling(c)))
            .collect(),
        totals: totals
            .iter()
            .map(|t| Total {
                section: section(&t.timber),
                pieces: t.pieces,
                length_mm: thousandth(t.length),
            })
            .collect(),
    }
}

/// The boards of a wall, each on the face of it that looks at the frame.
fn faces(wall: &WallLayout) -> impl Iterator<Item = Board<'_>> {
    wall.boards.layers.iter().flat_map(move |layer| {
        let (face, inner) = match layer.face {
            Face::Left => ("left", layer.across.low),
            Face::Right => ("right", layer.across.high),
        };
        let points = move |list: &[[f64; 2]]| {
            let at = |p: &[f64; 2]| in_job(wall.place, WallPoint::new(p[0], inner, p[1]));
            list.iter().map(at).collect::<Vec<_>>()
        };
        layer.pieces.iter().map(move |p| Board {
            wall: Some(wall.name().as_str()),
            platform: None,
            face,
            opening: None,
            side: None,
            layer: layer.layer + 1,
            number: p.number,
            kind: layer.board.kind.as_str(),
            thickness_mm: layer.board.thickness,
            lay: layer.board.lay.label(),
            sheet_mm: pair(layer.sheet),
            cut_mm: pair(p.blank),
            area_m2: thousandth(p.shape.area() / 1e6),
            outline: points(&p.shape.outline),
            holes: p.shape.holes.iter().map(|h| points(h)).collect(),
        })
    })
}

fn pair((a, b): (f64, f64)) -> [f64; 2] {
    [thousandth(a), thousandth(b)]
}

/// The strips over the ends and in the reveals of a wall.
fn strips(wall: &WallLayout) -> impl Iterator<Item = Board<'_>> {
    wall.boards.strips.iter().map(move |strip| {
        let (opening, side) = match &strip.closes {
            Closes::End(end) => (None, end.label()),
            Closes::Reveal(opening, side) => (Some(opening.as_str()), side.label()),
        };
        let lay = if strip.is_level() { Lay::Across } else { Lay::Upright };
        let corner = |[s, n, z]: [f64; 3]| in_job(wall.place, WallPoint::new(s, n, z));
        Board {
            wall: Some(wall.name().as_str()),
            platform: None,
            face: strip.closes.on().label(),
            opening,
            side: Some(side),
            layer: strip.layer + 1,
            number: strip.number,
            kind: strip.board.kind.as_str(),
            thickness_mm: strip.board.thickness,
            lay: lay.label(),
            sheet_mm: pair(strip.sheet),
            cut_mm: pair(strip.blank()),
            area_m2: thousandth(strip.area() / 1e6),
            outline: strip.outline().into_iter().map(corner).collect(),
            holes: Vec::new(),
        }
    })
}

/// The boards of a platform, each on the side of it that looks at the timber.
fn flat(laid: &PlatformLayout) -> impl Iterator<Item = Board<'_>> {
    laid.boards.iter().flat_map(move |layer| {
        let at = move |p: &[f64; 2]| in_job(laid.place, on_board(&laid.spec, layer, *p));
        layer.pieces.iter().map(move |p| on_flat(Some(laid.name().as_str()), layer, p, at))
    })
}

/// The boards of the room's own ceiling, likewise.
fn ceiling(laid: &CeilingLayout) -> impl Iterator<Item = Board<'_>> {
    laid.layers.iter().flat_map(move |layer| {
        let at = move |p: &[f64; 2]| {
            let plan = laid.on_plan(*p);
            [thousandth(plan.x), thousandth(plan.y), thousandth(layer.across.high)]
        };
        layer.pieces.iter().map(move |p| on_flat(None, layer, p, at))
    })
}

fn on_flat<'a>(
    platform: Option<&'a str>,
    layer: &'a Layer<On>,
    piece: &'a boards::Piece,
    at: impl Fn(&[f64; 2]) -> [f64; 3],
) -> Board<'a> {
    let points = |list: &[[f64; 2]]| list.iter().map(&at).collect::<Vec<_>>();
    Board {
        wall: None,
        platform,
        face: layer.face.label(),
        opening: None,
        side: None,
        layer: layer.layer + 1,
        number: piece.number,
        kind: layer.board.kind.as_str(),
        thickness_mm: layer.board.thickness,
        lay: layer.board.lay.label(),
        sheet_mm: pair(layer.sheet),
        cut_mm: pair(piece.blank),
        area_m2: thousandth(piece.shape.area() / 1e6),
        outline: points(&piece.shape.outline),
        holes: piece.shape.holes.iter().map(|h| points(h)).collect(),
    }
}

fn section(timber: &Timber) -> Section<'_> {
    Section {
        thickness_mm: timber.thickness(),
        depth_mm: timber.depth(),
        grade: timber.grade().as_str(),
    }
}

fn piece<'a>(part: Framed<'a>, member: &'a Member) -> Piece<'a> {
    let cut = member.cut();
    let name = part.name().as_str();
    let (wall, platform) = match part {
        Framed::Wall(_) => (Some(name), None),
        Framed::Platform(_) => (None, Some(name)),
    };
    Piece {
        mark: member.full_mark(part.name()),
        wall,
        platform,
        role: member.role.label(),
        section: section(&member.timber),
        cut_length_mm: thousandth(cut.length),
        saw_length_mm: thousandth(part.cut_length(member)),
        ends: cut.ends.map(|e| End { bevel_deg: degrees(e.bevel), mitre_deg: degrees(e.mitre) }),
        short_point_mm: thousandth(member.solid.shortest_edge()),
        rip: member.solid.rip().map(|rip| Ripped {
            wide_mm: thousandth(rip.wide),
            narrow_mm: thousandth(rip.narrow),
            bevel_deg: degrees(rip.bevel),
        }),
        measure_in_place: member.measure_in_place,
        corners: member.solid.corners().into_iter().map(|p| in_job(part.place(), p)).collect(),
    }
}

/// A platform with its outline and its holes, as asked for, on the plan.
fn platform<'a>(job: &'a Job, laid: &'a PlatformLayout) -> Option<Platform<'a>> {
    let platform = job.platform(laid.name())?;
    let on_plan = |u: f64, v: f64| {
        let p = platform.plan(u, v);
        [thousandth(p.x), thousandth(p.y)]
    };
    let hole = |hole: &'a layout_core::document::PlatformHole| {
        let ((u, v), (w, d)) = (hole.at, (hole.size.0 / 2.0, hole.size.1 / 2.0));
        let corners = [(u - w, v - d), (u + w, v - d), (u + w, v + d), (u - w, v + d)];
        PlatformHole {
            name: hole.name.as_str(),
            kind: hole.kind.label(),
            corners: corners.into_iter().map(|(u, v)| on_plan(u, v)).collect(),
        }
    };
    let (w, d) = platform.size;
    Some(Platform {
        name: laid.name().as_str(),
        kind: platform.kind.label(),
        level_mm: thousandth(platform.level),
        joist_underside_mm: thousandth(laid.spec.heights.low),
        joist_top_mm: thousandth(laid.spec.heights.high),
        centres_mm: thousandth(platform.centres),
        span_mm: thousandth(laid.spec.run().length()),
        outline: [(0.0, 0.0), (w, 0.0), (w, d), (0.0, d)].map(|(u, v)| on_plan(u, v)).to_vec(),
        holes: platform.holes.iter().map(hole).collect(),
    })
}

fn degrees(radians: f64) -> f64 {
    thousandth(radians.to_degrees())
}

fn job_point(wall: &WallLayout, p: WallPoint) -> [f64; 3] {
    in_job(wall.place, p)
}

fn in_job(place: Place, p: WallPoint) -> [f64; 3] {
    let p = place.job(p);
    [thousandth(p.x), thousandth(p.y), thousandth(p.z)]
}

fn openings(wall: &WallLayout) -> impl Iterator<Item = Opening<'_>> {
    wall.spec.holes.iter().map(move |hole| {
        let heights = (hole.sill.unwrap_or(0.0), hole.top);
        let solid = Solid::upright(
            hole.span,
            wall.spec.frame,
            (heights.0, heights.0),
            (heights.1, heights.1),
        );
        Opening {
            name: hole.name.as_str(),
            wall: wall.name().as_str(),
            kind: hole.label,
            station_mm: thousandth(hole.span.low),
            width_mm: thousandth(hole.span.length()),
            sill_mm: hole.sill.map(thousandth),
            top_mm: thousandth(hole.top),
            corners: solid.corners().into_iter().map(|p| job_point(wall, p)).collect(),
        }
    })
}

/// First-fix points of one wall, on its finished faces.
fn first_fix<'a>(job: &'a Job, wall: &'a WallLayout) -> impl Iterator<Item = FirstFix<'a>> {
    let points = job.wall(wall.name()).map_or(&[][..], |w| &w.points);
    let held = held(&wall.spec, &wall.frame);
    points.iter().map(move |point| {
        let of = ItemRef::Point(point.name.clone());
        let spot = wall.spec.spot(&of);
        let station = spot.map_or(point.distance, |s| s.span.centre());
        let (face, across) = match point.face {
            Face::Left => ("left", wall.spec.finished.high),
            Face::Right => ("right", wall.spec.finished.low),
        };
        FirstFix {
            name: point.name.as_str(),
            wall: wall.name().as_str(),
            kind: point.kind.label(),
            face,
            station_mm: thousandth(station),
            height_mm: thousandth(point.height),
            size_mm: [point.size.0, point.size.1],
            depth_mm: point.depth,
            on: held
                .iter()
                .find(|h| h.of == of)
                .and_then(|h| h.by)
                .map(|m| format!("{}-{m}", wall.name())),
            at: job_point(wall, WallPoint::new(station, across, point.height)),
        }
    })
}

/// The holes and notches in the timber of one wall.
fn bored(wall: &WallLayout) -> impl Iterator<Item = Bored<'_>> {
    wall.runs.bores.iter().map(move |b| Bored {
        wall: wall.name().as_str(),
        member: format!("{}-{}", wall.name(), b.member),
        r#for: b.of.label(),
        notch: b.notch,
        along: b.way == Way::Level,
        size_mm: thousandth(b.size),
        of_mm: thousandth(b.depth),
        at: job_point(wall, WallPoint::new(b.station, wall.spec.frame.centre(), b.height)),
    })
}

/// Every piece as a table.
pub(super) fn table(layout: &Layout) -> Table {
    let mut table = Table::new(&[
        "mark",
        "wall",
        "role",
        "thickness_mm",
        "depth_mm",
        "grade",
        "cut_length_mm",
        "end_1_bevel_deg",
        "end_1_mitre_deg",
        "end_2_bevel_deg",
        "end_2_mitre_deg",
        "measure_in_place",
        "station_mm",
        "height_mm",
        "platform",
    ]);
    for part in layout.framed() {
        let (wall, platform) = match part {
            Framed::Wall(wall) => (wall.name().as_str(), ""),
            Framed::Platform(platform) => ("", platform.name().as_str()),
        };
        for member in &part.frame().members {
            let cut = member.cut();
            let [one, two] = cut.ends;
            table.line(&[
                csv::text(&member.full_mark(part.name())),
                csv::text(wall),
                csv::text(member.role.label()),
                csv::number(member.timber.thickness()),
                csv::number(member.timber.depth()),
                csv::text(member.timber.grade().as_str()),
                csv::number(part.cut_length(member)),
                csv::number(degrees(one.bevel)),
                csv::number(degrees(one.mitre)),
                csv::number(degrees(two.bevel)),
                csv::number(degrees(two.mitre)),
                Cell::Truth(member.measure_in_place),
                csv::number(member.solid.stations().low),
                csv::number(member.solid.heights().low),
                csv::text(platform),
            ]);
        }
    }
    table
}

fn text(job: &Job, layout: &Layout, totals: &[frame::Total]) -> String {
    // Writing to a string does not fail.
    let mut text = String::new();
    let _ = writeln!(text, "{}", job.title);
    for part in layout.framed() {
        let _ = match part {
            Framed::Wall(wall) => {
                writeln!(text, "\nWall {}, {}", wall.name(), wall.spec.makeup.name)
            }
            Framed::Platform(p) => {
                let level = job.platform(p.name()).map_or(0.0, |p| p.level);
                let (kind, centres) = (p.spec.kind.label(), job.units.show(p.spec.centres));
                writeln!(
                    text,
                    "\nPlatform {}, {kind} at {}, joists at {centres}",
                    p.name(),
                    job.units.show(level)
                )
            }
        };
        for member in &part.frame().members {
            let _ = write!(
                text,
                "  {:<8} {:<13} {:<11} {:>7}",
                member.full_mark(part.name()),
                member.role.label(),
                format!("{} {}", member.timber.size_in(job.units), member.timber.grade()),
                job.units.show(part.cut_length(member))
            );
            for words in member.cut_words(job.units) {
                let _ = write!(text, "  {words}");
            }
            let _ = writeln!(
                text,
                "{}",
                if member.measure_in_place { "  measure in place" } else { "" }
            );
        }
    }
    let _ = writeln!(text);
    for total in totals {
        let _ = writeln!(
            text,
            "{} {}: {} pieces, {}",
            total.timber.size_in(job.units),
            total.timber.grade(),
            total.pieces,
            job.units.with_unit(total.length)
        );
    }
    text
}
