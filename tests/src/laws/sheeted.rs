//! Laws of the sheets: every board of a job comes out of one sheet, whole and clear of the others, and no plan says that it
//! takes fewer than it could.

use std::collections::BTreeMap;

use layout_core::board_plan::{BoardMark, BoardPlan, CutSheet, Laid, Patch, board_plans};
use layout_core::boards::{Layer, On, Piece};
use layout_core::document::{Board, Job, SheetStock};
use layout_core::layout::Layout;

use super::{NEAR, tries};
use crate::{random, wild};

fn law(rule: &str, complaint: impl Fn(&Layout, &[BoardPlan], &Job) -> Option<String>) {
    let mut broken = Vec::new();
    let mut boards = 0;
    for seed in 0..tries() / 4 {
        for mut job in [random::job(seed), wild::job(seed)] {
            if seed % 3 == 0 {
                job.saw.board_kerf = 3.0;
            }
            if seed % 5 == 0 {
                job.sheets.push(SheetStock {
                    owned: Some((seed % 4) as u32),
                    ..SheetStock::new("standard".into(), 12.5, (900.0, 1500.0))
                });
            }
            let layout = Layout::of(&job);
            let plans = board_plans(&job, &layout);
            boards += plans.iter().map(|p| p.boards).sum::<usize>();
            if let Some(what) = complaint(&layout, &plans, &job) {
                broken.push(format!("seed {seed}: {what}"));
            }
        }
    }
    assert!(boards as u64 > tries(), "only {boards} boards");
    assert!(broken.is_empty(), "{rule}; broken by {}:\n  {}", broken.len(), broken.join("\n  "));
}

fn board<'a>(layout: &'a Layout, mark: &BoardMark) -> Option<(&'a Layer, &'a Piece)> {
    let layers = &layout.wall(&mark.wall)?.boards.layers;
    let layer = layers.iter().find(|l| On::Face(l.face) == mark.on && l.layer == mark.layer)?;
    Some((layer, layer.pieces.iter().find(|p| p.number == mark.number)?))
}

/// What a board is of, what it is cut from, and its area.
fn wanted<'a>(layout: &'a Layout, mark: &BoardMark) -> Option<(&'a Board, (f64, f64), f64)> {
    if let Some((layer, piece)) = board(layout, mark) {
        return Some((&layer.board, piece.blank, piece.shape.area()));
    }
    if mark.on == On::Ceiling {
        let layers = &layout.ceiling.as_ref()?.layers;
        let mut pieces = layers.iter().flat_map(|l| l.pieces.iter().map(move |p| (l, p)));
        let (layer, piece) = pieces.find(|(_, p)| p.number == mark.number)?;
        return Some((&layer.board, piece.blank, piece.shape.area()));
    }
    if let Some(platform) = layout.platform(&mark.wall) {
        let mut layers = platform.boards.iter();
        let is = |p: &&Piece| p.number == mark.number;
        let layer = layers.find(|l| {
            l.face == mark.on && l.layer == mark.layer && l.pieces.iter().any(|p| is(&p))
        })?;
        let piece = layer.pieces.iter().find(is)?;
        return Some((&layer.board, piece.blank, piece.shape.area()));
    }
    let mut strips = layout.wall(&mark.wall)?.boards.strips.iter();
    let strip = strips
        .find(|s| s.closes.on() == mark.on && s.layer == mark.layer && s.number == mark.number)?;
    Some((&strip.board, strip.blank(), strip.area()))
}

fn within(a: Patch, b: Patch) -> bool {
    a.x >= b.x - NEAR
        && a.y >= b.y - NEAR
        && a.x + a.width <= b.x + b.width + NEAR
        && a.y + a.length <= b.y + b.length + NEAR
}

fn apart(a: Patch, b: Patch, by: f64) -> bool {
    let clear = |from: f64, to: f64| from - to >= by - NEAR;
    clear(a.x, b.x + b.width)
        || clear(b.x, a.x + a.width)
        || clear(a.y, b.y + b.length)
        || clear(b.y, a.y + a.length)
}

/// True when a point is inside one closed line and not in another: by how often a ray crosses any of them.
fn covers(board: &Laid, [x, y]: [f64; 2]) -> bool {
    let edges = board.rings.iter().flat_map(|r| r.iter().zip(r.iter().cycle().skip(1)));
    let crossings = edges.filter(|(a, b)| {
        (a[1] > y) != (b[1] > y) && x < a[0] + (b[0] - a[0]) * (y - a[1]) / (b[1] - a[1])
    });
    crossings.count() % 2 == 1
}

fn area(ring: &[[f64; 2]]) -> f64 {
    let next = ring.iter().cycle().skip(1);
    (ring.iter().zip(next).map(|(a, b)| a[0] * b[1] - b[0] * a[1]).sum::<f64>() / 2.0).abs()
}

#[test]
fn every_board_comes_out_of_one_sheet() {
    law("every board comes out of one sheet, of its kind and size", |layout, plans, _| {
        let mut seen: BTreeMap<BoardMark, usize> = BTreeMap::new();
        for plan in plans {
            if !plan.left_over.is_empty() {
                return Some(format!("no sheet for {}", plan.left_over[0]));
            }
            for sheet in &plan.sheets {
                for laid in &sheet.boards {
                    if laid.marks.len() != sheet.count {
                        return Some(format!("{} marks on {}", laid.marks.len(), sheet.count));
                    }
                    for mark in &laid.marks {
                        *seen.entry(mark.clone()).or_default() += 1;
                        let Some((kind, blank, own)) = wanted(layout, mark) else {
                            return Some(format!("there is no {mark}"));
                        };
                        let (w, l) = blank;
                        let (w, l) = if laid.turned { (l, w) } else { (w, l) };
                        let size =
                            (laid.at.width - w).abs() < 0.1 && (laid.at.length - l).abs() < 0.1;
                        let shape: f64 = area(&laid.rings[0])
                            - laid.rings[1..].iter().map(|r| area(r)).sum::<f64>();
                        // Corners are rounded to a tenth.
                        let same = (shape - own).abs() < 0.2 * (w + l) * 2.0;
                        let kind = kind.kind == plan.kind
                            && (kind.thickness - plan.thickness).abs() < 0.01;
                        if !(size && same && kind) {
                            return Some(format!("{mark} is {:?} and was {:?}", laid.at, blank));
                        }
                    }
                }
            }
        }
        let of_faces = layout.walls.iter().flat_map(|w| &w.boards.layers).map(|l| l.pieces.len());
        let of_strips = layout.walls.iter().map(|w| w.boards.strips.len());
        let ceiling = layout.ceiling.iter().flat_map(|c| c.layers.iter());
        let flat = layout.platforms.iter().flat_map(|p| p.boards.iter()).chain(ceiling);
        let all: usize = of_faces.chain(of_strips).chain(flat.map(|l| l.pieces.len())).sum();
        let once = seen.values().all(|n| *n == 1);
        (seen.len() != all || !once).then(|| format!("{} of {all} boards", seen.len()))
    });
}

/// Boards on a sheet are a cut apart, or one lies in what falls out of another.
fn clear(sheet: &CutSheet, kerf: f64) -> Option<String> {
    let whole = Patch { x: 0.0, y: 0.0, width: sheet.size.0, length: sheet.size.1 };
    for (i, a) in sheet.boards.iter().enumerate() {
        if !within(a.at, whole) {
            return Some(format!("{} is off its sheet", a.marks[0]));
        }
        for b in &sheet.boards[i + 1..] {
            let in_hole = |inner: &Laid, outer: &Laid| {
                let p = inner.at;
                let places = [0.01, 0.25, 0.5, 0.75, 0.99];
                within(p, outer.at)
                    && places.iter().all(|u| {
                        places
                            .iter()
                            .all(|v| !covers(outer, [p.x + p.width * u, p.y + p.length * v]))
                    })
            };
            if !(apart(a.at, b.at, kerf) || in_hole(a, b) || in_hole(b, a)) {
                return Some(format!("{} and {} overlap", a.marks[0], b.marks[0]));
            }
        }
        for offcut in &sheet.offcuts {
            let middle = [offcut.x + offcut.width / 2.0, offcut.y + offcut.length / 2.0];
            if covers(a, middle) {
                return Some(format!("an offcut lies on {}", a.marks[0]));
            }
        }
    }
    None
}

#[test]
fn boards_on_a_sheet_are_clear_of_each_other() {
    law("boards on a sheet are a cut apart", |_, plans, job| {
        plans.iter().flat_map(|p| &p.sheets).find_map(|s| clear(s, job.saw.board_kerf))
    });
}

#[test]
fn no_plan_takes_less_than_its_bound_or_its_area() {
    law(
        "what is bought is at least the bound, and the bound at least the area",
        |_, plans, job| {
            plans.iter().find_map(|p| {
                let sizes = p.sheets.iter().filter(|s| !s.owned).map(|s| s.size.0 * s.size.1);
                let largest = sizes.fold(0.0, f64::max);
                let owned = job.sheets.iter().filter(|s| s.owned.is_some());
                let owned: f64 =
                    owned.map(|s| s.size.0 * s.size.1 * f64::from(s.owned.unwrap_or(0))).sum();
                let by_area = ((p.area - owned) / largest.max(1.0) - 1e-9).ceil().max(0.0) as usize;
                let proven = p.proven && p.by_size().len() == 1 && p.bought() < p.fewest;
                (p.bought() < p.fewest || p.bought() < by_area || proven).then(|| {
                    format!("{} bought, at least {}, {by_area} by area", p.bought(), p.fewest)
                })
            })
        },
    );
}

/// A board that is taped to another along its length is never cut across the sheet.
#[test]
fn joined_boards_lie_along_the_tapers() {
    law("a seen board with a neighbour beside it is not turned", |layout, plans, _| {
        let laid = plans.iter().flat_map(|p| &p.sheets).flat_map(|s| &s.boards);
        laid.filter(|l| l.turned).flat_map(|l| &l.marks).find_map(|mark| {
            let (layer, piece) = board(layout, mark)?;
            let wall = layout.wall(&mark.wall)?;
            let seen =
                !wall.boards.layers.iter().any(|l| l.face == layer.face && l.layer > layer.layer);
            let upright = layer.board.lay == layout_core::document::Lay::Upright;
            let sides = |p: &Piece| {
                let (s, z) = (p.shape.stations(), p.shape.heights());
                if upright { (s, z) } else { (z, s) }
            };
            let (across, along) = sides(piece);
            let beside = layer.pieces.iter().any(|other| {
                let (a, b) = sides(other);
                let meets =
                    (a.low - across.high).abs() < NEAR || (a.high - across.low).abs() < NEAR;
                other.number != piece.number && meets && b.intersection(along).length() > 100.0
            });
            // Two shapes may stand side by side in one cell, with an opening as wide as a line between them: no joint.
            (seen && beside).then(|| format!("{mark} is turned"))
        })
    });
}
