//! Sections, blocks and entities: what of a drawing is lines.

use std::collections::{BTreeMap, BTreeSet};
use std::f64::consts::TAU;

use super::curves::{self, Spline};
use super::tags::Tag;
use super::{Drawing, Line, MOST_POINTS};

/// Blocks may hold blocks so deep.
const DEEPEST: usize = 8;
/// Arcs are drawn in steps of so much of a turn at the most.
const STEP: f64 = TAU / 72.0;
/// A block is not repeated in rows and columns more often than this.
const MOST_COPIES: i64 = 10_000;

/// The pairs of one entity: its kind is the value of the first.
type Entity<'a> = &'a [Tag<'a>];

pub(super) fn read(tags: &[Tag]) -> Result<Drawing, String> {
    let mut unit = None;
    let mut hidden: BTreeSet<&str> = BTreeSet::new();
    let mut blocks: BTreeMap<&str, Block> = BTreeMap::new();
    let mut own: &[Tag] = &[];
    for section in split(tags, |t| t.is(0, "SECTION")) {
        let Some(name) = section.iter().find(|t| t.code == 2) else { continue };
        match name.value {
            "HEADER" => unit = units(section)?,
            "TABLES" => hidden = layers_not_shown(section)?,
            "BLOCKS" => blocks = all_blocks(section)?,
            "ENTITIES" => own = section,
            _ => {}
        }
    }
    let mut reader =
        Reader { blocks, hidden, drawing: Drawing { unit, ..Drawing::default() }, points: 0 };
    reader.entities(own, Spot::HERE, 0)?;
    Ok(reader.drawing)
}

/// The pairs in parts, each beginning with one that `begins` it; what is before the first is left out.
fn split<'a>(
    tags: &'a [Tag<'a>],
    begins: impl Fn(&Tag) -> bool,
) -> impl Iterator<Item = &'a [Tag<'a>]> {
    let starts: Vec<usize> = (0..tags.len()).filter(|i| begins(&tags[*i])).collect();
    let ends: Vec<usize> = starts.iter().copied().skip(1).chain([tags.len()]).collect();
    starts.into_iter().zip(ends).map(|(from, to)| &tags[from..to])
}

/// Millimetres to one unit, from `$INSUNITS`.
fn units(header: &[Tag]) -> Result<Option<f64>, String> {
    let at = header.iter().position(|t| t.is(9, "$INSUNITS"));
    let Some(value) = at.and_then(|i| header.get(i + 1)) else { return Ok(None) };
    Ok(match value.whole()? {
        1 => Some(25.4),
        2 => Some(304.8),
        4 => Some(1.0),
        5 => Some(10.0),
        6 => Some(1000.0),
        10 => Some(914.4),
        14 => Some(100.0),
        _ => None,
    })
}

/// Layers that are off or frozen.
fn layers_not_shown<'a>(tables: &'a [Tag<'a>]) -> Result<BTreeSet<&'a str>, String> {
    let mut hidden = BTreeSet::new();
    for record in split(tables, |t| t.code == 0).filter(|r| r[0].is(0, "LAYER")) {
        let Some(name) = find(record, 2) else { continue };
        let frozen = find(record, 70).map_or(Ok(0), Tag::whole)? & 1 != 0;
        let off = find(record, 62).map_or(Ok(7), Tag::whole)? < 0;
        if frozen || off {
            hidden.insert(name.value);
        }
    }
    Ok(hidden)
}

/// A block: where it is held, and what is in it.
struct Block<'a> {
    base: [f64; 2],
    body: &'a [Tag<'a>],
}

fn all_blocks<'a>(section: &'a [Tag<'a>]) -> Result<BTreeMap<&'a str, Block<'a>>, String> {
    let mut blocks = BTreeMap::new();
    for body in split(section, |t| t.is(0, "BLOCK")) {
        let head = split(body, |t| t.code == 0).next().unwrap_or(body);
        let Some(name) = find(head, 2) else { continue };
        let rest = &body[head.len()..];
        let end = rest.iter().position(|t| t.is(0, "ENDBLK")).unwrap_or(rest.len());
        blocks.insert(name.value, Block { base: point(head, 10)?, body: &rest[..end] });
    }
    Ok(blocks)
}

fn find<'a>(entity: Entity<'a>, code: i32) -> Option<&'a Tag<'a>> {
    entity.iter().skip(1).find(|t| t.code == code)
}

/// A number of an entity, `usual` when it says none.
fn number(entity: Entity, code: i32, usual: f64) -> Result<f64, String> {
    find(entity, code).map_or(Ok(usual), Tag::number)
}

fn point(entity: Entity, code: i32) -> Result<[f64; 2], String> {
    Ok([number(entity, code, 0.0)?, number(entity, code + 10, 0.0)?])
}

/// Where a block is put: turned, stretched, moved.
#[derive(Clone, Copy)]
struct Spot {
    x: [f64; 2],
    y: [f64; 2],
    at: [f64; 2],
}

impl Spot {
    const HERE: Spot = Spot { x: [1.0, 0.0], y: [0.0, 1.0], at: [0.0; 2] };

    fn put(&self, [x, y]: [f64; 2]) -> [f64; 2] {
        [0, 1].map(|i| self.x[i] * x + self.y[i] * y + self.at[i])
    }

    /// The spot of what lies at `inner` in what lies here.
    fn of(&self, inner: Spot) -> Spot {
        let way = |v: [f64; 2]| [0, 1].map(|i| self.x[i] * v[0] + self.y[i] * v[1]);
        Spot { x: way(inner.x), y: way(inner.y), at: self.put(inner.at) }
    }
}

struct Reader<'a> {
    blocks: BTreeMap<&'a str, Block<'a>>,
    hidden: BTreeSet<&'a str>,
    drawing: Drawing,
    points: usize,
}

impl Reader<'_> {
    fn entities(&mut self, tags: &[Tag], spot: Spot, depth: usize) -> Result<(), String> {
        // The corners of an old polyline are entities of their own.
        let mut open: Option<(Entity, Vec<Corner>)> = None;
        for entity in split(tags, |t| t.code == 0) {
            match (entity[0].value, &mut open) {
                ("VERTEX", Some((_, corners))) => {
                    // Points of the frame of a curve are no corners of it.
                    if find(entity, 70).map_or(Ok(0), Tag::whole)? & 16 == 0 {
                        corners.push((point(entity, 10)?, number(entity, 42, 0.0)?));
                    }
                }
                ("SEQEND", Some(_)) => {
                    if let Some((head, corners)) = open.take() {
                        let kind = find(head, 70).map_or(Ok(0), Tag::whole)?;
                        // Meshes are no lines.
                        if kind & (16 | 64) == 0 {
                            self.polyline(head, &corners, kind & 1 != 0, spot)?;
                        }
                    }
                }
                ("POLYLINE", _) => open = Some((entity, Vec::new())),
                _ => self.entity(entity, spot, depth)?,
            }
        }
        Ok(())
    }

    fn entity(&mut self, entity: Entity, spot: Spot, depth: usize) -> Result<(), String> {
        if !self.is_shown(entity)? {
            return Ok(());
        }
        match entity[0].value {
            "LINE" => {
                // The only one of them that is never mirrored by its normal.
                let ends = [point(entity, 10)?, point(entity, 11)?];
                self.line(entity, ends.map(|p| spot.put(p)).to_vec(), false)
            }
            "LWPOLYLINE" => {
                let closed = find(entity, 70).map_or(Ok(0), Tag::whole)? & 1 != 0;
                let mut corners: Vec<Corner> = Vec::new();
                for tag in &entity[1..] {
                    match (tag.code, corners.last_mut()) {
                        (10, _) => corners.push(([tag.number()?, 0.0], 0.0)),
                        (20, Some((at, _))) => at[1] = tag.number()?,
                        (42, Some((_, bulge))) => *bulge = tag.number()?,
                        _ => {}
                    }
                }
                self.polyline(entity, &corners, closed, spot)
            }
            "ARC" | "CIRCLE" => {
                let whole = entity[0].value == "CIRCLE";
                let (centre, radius) = (point(entity, 10)?, number(entity, 40, 0.0)?);
                let from = number(entity, 50, 0.0)?.to_radians();
                let to = number(entity, 51, 0.0)?.to_radians();
                let turn = if whole { TAU } else { positive(to - from) };
                let mut points = arc(centre, radius, if whole { 0.0 } else { from }, turn);
                if whole {
                    points.pop();
                }
                let spot = spot.of(mirrored(entity)?);
                self.line(entity, points.into_iter().map(|p| spot.put(p)).collect(), whole)
            }
            "INSERT" => self.insert(entity, spot, depth),
            "ELLIPSE" => self.ellipse(entity, spot),
            "SPLINE" => self.spline(entity, spot),
            _ => Ok(()),
        }
    }

    /// Neither an ellipse nor a spline is mirrored by its normal: their points are where they are.
    fn ellipse(&mut self, entity: Entity, spot: Spot) -> Result<(), String> {
        let (centre, major) = (point(entity, 10)?, point(entity, 11)?);
        let from = number(entity, 41, 0.0)?;
        let turn = positive(number(entity, 42, TAU)? - from);
        let flipped = number(entity, 230, 1.0)? < 0.0;
        let short = (number(entity, 40, 1.0)?, flipped);
        let mut points = curves::ellipse(centre, major, short, [from, turn], STEP);
        let whole = turn > TAU - 1e-6;
        if whole {
            points.pop();
        }
        self.line(entity, points.into_iter().map(|p| spot.put(p)).collect(), whole)
    }

    fn spline(&mut self, entity: Entity, spot: Spot) -> Result<(), String> {
        let closed = find(entity, 70).map_or(Ok(0), Tag::whole)? & 1 != 0;
        let degree = find(entity, 71).map_or(Ok(3), Tag::whole)?;
        let mut spline =
            Spline { degree: usize::try_from(degree).unwrap_or(0), ..Spline::default() };
        for tag in &entity[1..] {
            match tag.code {
                40 => spline.knots.push(tag.number()?),
                41 => spline.weights.push(tag.number()?),
                10 => spline.controls.push([tag.number()?, 0.0]),
                11 => spline.places.push([tag.number()?, 0.0]),
                20 | 21 => {
                    let own =
                        if tag.code == 20 { &mut spline.controls } else { &mut spline.places };
                    if let Some(last) = own.last_mut() {
                        last[1] = tag.number()?;
                    }
                }
                _ => {}
            }
        }
        self.count(spline.controls.len() + spline.places.len(), entity[0].line)?;
        let Some(mut points) = spline.points() else {
            self.drawing.left_out += 1;
            return Ok(());
        };
        let (first, last) = (points[0], points[points.len() - 1]);
        let meets = closed && (first[0] - last[0]).hypot(first[1] - last[1]) < 1e-6;
        if meets {
            points.pop();
        }
        self.line(entity, points.into_iter().map(|p| spot.put(p)).collect(), closed)
    }

    /// False for what is on a sheet of its own, or on a layer that is not shown.
    fn is_shown(&self, entity: Entity) -> Result<bool, String> {
        let on_paper = find(entity, 67).map_or(Ok(0), Tag::whole)? != 0;
        let layer = find(entity, 8).map_or("0", |t| t.value);
        Ok(!on_paper && !self.hidden.contains(layer))
    }

    fn polyline(
        &mut self,
        entity: Entity,
        corners: &[Corner],
        closed: bool,
        spot: Spot,
    ) -> Result<(), String> {
        if !self.is_shown(entity)? {
            return Ok(());
        }
        let mut points: Vec<[f64; 2]> = Vec::new();
        for (i, (at, bulge)) in corners.iter().enumerate() {
            points.push(*at);
            let next = match corners.get(i + 1) {
                Some((next, _)) => *next,
                None if closed => corners[0].0,
                None => break,
            };
            if bulge.abs() > 1e-9 {
                let mut between = bulged(*at, next, *bulge);
                between.pop();
                points.extend(between.into_iter().skip(1));
            }
        }
        let spot = spot.of(mirrored(entity)?);
        self.line(entity, points.into_iter().map(|p| spot.put(p)).collect(), closed)
    }

    fn insert(&mut self, entity: Entity, spot: Spot, depth: usize) -> Result<(), String> {
        let Some(name) = find(entity, 2) else { return Ok(()) };
        let Some(block) = self.blocks.get(name.value) else { return Ok(()) };
        if depth >= DEEPEST {
            return Err(format!("line {}: blocks lie too deep in one another", name.line));
        }
        let (base, body) = (block.base, block.body);
        let (sin, cos) = number(entity, 50, 0.0)?.to_radians().sin_cos();
        let (wide, high) = (number(entity, 41, 1.0)?, number(entity, 42, 1.0)?);
        let at = point(entity, 10)?;
        let count = |code| find(entity, code).map_or(Ok(1), Tag::whole).map(|n| n.max(1));
        let (columns, rows) = (count(70)?, count(71)?);
        if columns.saturating_mul(rows) > MOST_COPIES {
            return Err(format!("line {}: a block is repeated too often", name.line));
        }
        let (apart, over) = (number(entity, 44, 0.0)?, number(entity, 45, 0.0)?);
        let outer = spot.of(mirrored(entity)?);
        for (column, row) in (0..columns).flat_map(|c| (0..rows).map(move |r| (c, r))) {
            // Blocks that hold nothing but blocks come to an end too.
            self.count(1, name.line)?;
            let (dx, dy) = (apart * column as f64, over * row as f64);
            let (x, y) = ([cos * wide, sin * wide], [-sin * high, cos * high]);
            let turned = |v: [f64; 2]| [0, 1].map(|i| x[i] * v[0] + y[i] * v[1]);
            let shift = [cos * dx - sin * dy, sin * dx + cos * dy];
            let held = turned(base);
            let at = [0, 1].map(|i| at[i] + shift[i] - held[i]);
            self.entities(body, outer.of(Spot { x, y, at }), depth + 1)?;
        }
        Ok(())
    }

    fn count(&mut self, points: usize, line: usize) -> Result<(), String> {
        self.points += points;
        if self.points > MOST_POINTS {
            return Err(format!("line {line}: it has more than {MOST_POINTS} points"));
        }
        Ok(())
    }

    fn line(&mut self, entity: Entity, points: Vec<[f64; 2]>, closed: bool) -> Result<(), String> {
        if points.len() < 2 {
            return Ok(());
        }
        let line = entity[0].line;
        self.count(points.len(), line)?;
        let is_place = |v: &f64| v.is_finite() && v.abs() <= super::FURTHEST;
        if !points.iter().flatten().all(is_place) {
            return Err(format!("line {line}: a point of it is no place"));
        }
        let layer = find(entity, 8).map_or("0", |t| t.value);
        let layer = layer.chars().filter(|c| !c.is_control()).take(200).collect();
        self.drawing.lines.push(Line { layer, points, closed });
        Ok(())
    }
}

/// A corner and how the line bulges from there to the next: the tangent of a quarter of the angle of its arc.
type Corner = ([f64; 2], f64);

/// What is drawn on the other side of its plane is seen mirrored.
fn mirrored(entity: Entity) -> Result<Spot, String> {
    let x = if number(entity, 230, 1.0)? < 0.0 { -1.0 } else { 1.0 };
    Ok(Spot { x: [x, 0.0], ..Spot::HERE })
}

/// An angle between nothing and a whole turn.
fn positive(angle: f64) -> f64 {
    let angle = angle.rem_euclid(TAU);
    if angle < 1e-9 { TAU } else { angle }
}

/// Points along an arc, both ends among them.
fn arc(centre: [f64; 2], radius: f64, from: f64, turn: f64) -> Vec<[f64; 2]> {
    let count = (turn.abs() / STEP).ceil().clamp(2.0, 72.0) as u32;
    (0..=count)
        .map(|i| {
            let (sin, cos) = (from + turn * f64::from(i) / f64::from(count)).sin_cos();
            [centre[0] + radius * cos, centre[1] + radius * sin]
        })
        .collect()
}

/// Points along the arc from `a` to `b` that bulges so; to the right of its way when it is positive.
fn bulged(a: [f64; 2], b: [f64; 2], bulge: f64) -> Vec<[f64; 2]> {
    let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
    // From the middle of the chord to the centre, as a share of the chord, to its left.
    let off = (1.0 - bulge * bulge) / (4.0 * bulge);
    let centre = [(a[0] + b[0]) / 2.0 - dy * off, (a[1] + b[1]) / 2.0 + dx * off];
    let radius = (a[0] - centre[0]).hypot(a[1] - centre[1]);
    let from = (a[1] - centre[1]).atan2(a[0] - centre[0]);
    arc(centre, radius, from, 4.0 * bulge.atan())
}

#[cfg(test)]
mod tests {
    use super::*;

    // A bulge of 1 is half a circle: from (0, 0) to (10, 0) it goes by (5, −5).
    #[test]
    fn a_bulge_of_one_is_half_a_circle() {
        let points = bulged([0.0, 0.0], [10.0, 0.0], 1.0);
        let middle = points[points.len() / 2];
        assert!((middle[0] - 5.0).abs() < 1e-9 && (middle[1] + 5.0).abs() < 1e-9, "{middle:?}");
        let [first, last] = [points[0], points[points.len() - 1]];
        assert!(first[0].abs() < 1e-9 && (last[0] - 10.0).abs() < 1e-9);
        let other = bulged([0.0, 0.0], [10.0, 0.0], -1.0);
        assert!((other[other.len() / 2][1] - 5.0).abs() < 1e-9);
    }
}
