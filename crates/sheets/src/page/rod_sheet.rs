//! Rods at full size: a wall's sole and heights drawn 1:1 in strips, to be cut out, joined and laid beside the timber.

use layout_core::document::Job;
use layout_core::frame::{Member, Role};
use layout_core::id::ItemRef;
use layout_core::layout::WallLayout;
use layout_core::math::SAME;
use layout_core::setout::levels;
use layout_core::span::Span;
use layout_core::units::Units;

use super::flow::{Block, Row, arrange, columns};
use super::{CAPTION, Ink, Paper, Sheet, Type, caption, file_name};
use crate::picture::{Align, Fill, Pen, Rect};

/// Height of a strip, mm.
const HIGH: f64 = 40.0;
/// Height of the rule along the top of a strip, mm.
const RULE: f64 = 9.0;
/// Between strips, mm: room for scissors.
const APART: f64 = 6.0;

/// Something on a rod.
struct OnRod {
    /// What it covers along the rod, mm; a mark without thickness covers nothing.
    span: Span,
    /// What stands beside it.
    text: String,
    /// Its figure.
    figure: String,
    /// True for timber: it is drawn as thick as it is, crossed.
    is_timber: bool,
}

/// The two rods of a wall, as many sheets as they take.
pub(super) fn sheets(job: &Job, wall: &WallLayout, paper: Paper) -> Vec<Sheet> {
    let along = wall.spec.along();
    let sole = strips(paper, Span { low: 0.0, high: along.length() }, &on_sole(wall), "sole");
    let heights = on_height(job, wall);
    let reach = heights.iter().map(|m| m.span).reduce(Span::hull);
    let height = reach.map_or(Vec::new(), |reach| strips(paper, reach, &heights, "height"));
    let mut sheets = Vec::new();
    for (rows, what) in [(sole, "sole rod"), (height, "height rod")] {
        let title = format!("Wall {}, {what} at full size", wall.name());
        let name = format!("rod-{}", file_name(wall.name().as_str()));
        let mut blocks = vec![Block { head: Vec::new(), rows, whole: false }];
        while blocks.iter().any(|b| !b.rows.is_empty()) {
            let whole = paper.area();
            let area = Rect { min: [whole.min[0], whole.min[1] + CAPTION], ..whole };
            let mut sheet = Sheet::new(name.clone(), title.clone());
            let about = "cut the strips out, join them in order, and measure the 100 mm line first";
            caption(&mut sheet.ink, whole, &title, about);
            let set = arrange(&blocks, &columns(area, 1, area.width(), 0.0));
            sheet.lists(&set);
            sheet.scale = Some(1.0);
            let rest = set.rest;
            sheets.push(sheet);
            let Some(rest) = rest else { break };
            blocks = super::flow::rest(blocks, rest);
        }
    }
    sheets
}

/// Uprights and jambs from the start of the frame.
fn on_sole(wall: &WallLayout) -> Vec<OnRod> {
    let (units, start) = (wall.spec.units, wall.spec.along().low);
    let upright = |m: &Member| {
        let span = m.solid.stations().moved(-start);
        OnRod {
            text: format!("{} {}", m.mark, m.role.label()),
            figure: units.show(span.low),
            span,
            is_timber: true,
        }
    };
    let stands = |m: &&Member| m.role.is_full_height() || m.role == Role::Jack;
    let mut list: Vec<OnRod> = wall.frame.members.iter().filter(stands).map(upright).collect();
    list.push(line(units, wall.spec.along().length(), "end of the frame".into()));
    list.retain(|m| m.span.low > -SAME);
    list.sort_by(|a, b| a.span.low.total_cmp(&b.span.low));
    list
}

/// Plates, noggins and all other levels from the finished floor up. Plates at the start of the frame: under a slope the rest is
/// measured from the drawing.
fn on_height(job: &Job, wall: &WallLayout) -> Vec<OnRod> {
    let units = job.units;
    let mut list: Vec<OnRod> = Vec::new();
    for m in wall.frame.members.iter().filter(|m| m.role.is_plate()) {
        let solid = &m.solid;
        // A plate under a slope has no one height.
        let is_level = (solid.heights().length() - m.timber.thickness()).abs() < 1.0;
        let text = m.role.label().to_string();
        let known = |o: &OnRod| o.text == text && (o.span.low - solid.heights().low).abs() < 0.5;
        if is_level && !list.iter().any(known) {
            let span = solid.heights();
            list.push(OnRod { figure: units.show(span.low), span, text, is_timber: true });
        }
    }
    for l in levels(job, wall) {
        let is_row = matches!(l.of, ItemRef::NogginRow { .. });
        let is_plate = matches!(l.of, ItemRef::Wall(_));
        if is_row {
            let span = Span::about(l.height, wall.spec.makeup.timber.thickness());
            list.push(OnRod { figure: units.show(l.height), span, text: l.name, is_timber: true });
        } else if !is_plate || l.at.is_some() || l.name == "ceiling" || l.name == "floor" {
            list.push(line(units, l.height, l.name));
        }
    }
    if !list.iter().any(|m| m.span.contains(0.0)) {
        list.push(line(units, 0.0, "finished floor (FFL)".into()));
    }
    list.sort_by(|a, b| a.span.low.total_cmp(&b.span.low));
    list
}

fn line(units: Units, at: f64, text: String) -> OnRod {
    OnRod { span: Span { low: at, high: at }, text, figure: units.show(at), is_timber: false }
}

/// A rod in strips as long as the paper lets them be, in whole 20 mm.
fn strips(paper: Paper, reach: Span, marks: &[OnRod], what: &str) -> Vec<Row> {
    let long = ((paper.area().width() - 2.0) / 20.0).floor() * 20.0;
    let first = (reach.low / 10.0).floor() * 10.0;
    let count = ((reach.high - first) / long - 1e-9).ceil().clamp(1.0, MOST) as usize;
    (0..count)
        .map(|i| {
            let from = first + i as f64 * long;
            let over = Span { low: from, high: (from + long).min(reach.high) };
            strip(over, marks, &format!("{what} {}", i + 1), [i > 0, i + 1 < count])
        })
        .collect()
}

/// A rod of more strips than this is of no use to anyone.
const MOST: f64 = 400.0;

fn strip(over: Span, marks: &[OnRod], name: &str, joins: [bool; 2]) -> Row {
    let mut ink = Ink::default();
    let x = |at: f64| at - over.low;
    let wide = over.length();
    ink.rect(Rect::new(0.0, 0.0, wide, HIGH), Pen::Outline, Fill::Paper);
    rule(&mut ink, over);
    let mut labels: Vec<(f64, &OnRod)> = Vec::new();
    for mark in marks {
        let seen = mark.span.intersection(over);
        let starts_here = mark.span.low >= over.low - SAME && mark.span.low <= over.high + SAME;
        if mark.is_timber && seen.length() > SAME {
            let (a, b) = (x(seen.low), x(seen.high));
            let (top, low) = (RULE, HIGH);
            ink.rect(Rect::new(a, top, b - a, low - top), Pen::Outline, Fill::Timber);
            // The cross of the whole piece, of which this strip may have a part.
            let whole = [x(mark.span.low), x(mark.span.high)];
            let rect = Rect::new(a, top, b - a, low - top);
            let mut cross = Ink::default();
            cross.line([[whole[0], top], [whole[1], low]], Pen::Thin);
            cross.line([[whole[0], low], [whole[1], top]], Pen::Thin);
            ink.put(cross.clipped(rect), 0.0, 0.0);
        } else if starts_here {
            ink.line([[x(mark.span.low), 0.0], [x(mark.span.low), HIGH]], Pen::Cut);
        }
        if starts_here {
            labels.push((x(mark.span.low), mark));
        }
    }
    let mut rows_end = [0.0_f64; 3];
    for (at, mark) in labels {
        let text = format!("{}  {}", mark.figure, mark.text);
        let width = Type::STRONG.width(&text) + 1.4;
        let left = (at + 0.6).min(wide - width - 0.6).max(0.6);
        // The first of the three lines on which it stands clear of what is there.
        let Some(row) = (0..3).find(|r| rows_end[*r] <= left) else { continue };
        let y = RULE + 7.0 + 8.2 * row as f64;
        ink.rect(Rect::new(left, y - 3.6, width, 4.8), Pen::None, Fill::Paper);
        ink.text(left + 0.7, y, text, Type::STRONG, Align::Left);
        rows_end[row] = left + width + 0.6;
    }
    for (is_join, at, align) in [(joins[0], 0.8, Align::Left), (joins[1], wide - 0.8, Align::Right)]
    {
        if is_join {
            ink.text(at, HIGH - 1.2, "join here", Type::QUIET, align);
        }
    }
    let middle = wide / 2.0;
    ink.text(middle, HIGH + 3.6, name, Type::QUIET, Align::Centre);
    Row { height: HIGH + APART, ink }
}

/// A rule along the top: a tick a centimetre, a figure every ten.
fn rule(ink: &mut Ink, over: Span) {
    ink.line([[0.0, RULE], [over.length(), RULE]], Pen::Thin);
    let first = (over.low / 10.0).ceil() as i64;
    let last = (over.high / 10.0).floor() as i64;
    for tick in first..=last {
        let x = tick as f64 * 10.0 - over.low;
        let long = match tick.rem_euclid(10) {
            0 => 4.5,
            5 => 3.2,
            _ => 2.0,
        };
        ink.line([[x, 0.0], [x, long]], Pen::Thin);
        if tick.rem_euclid(10) == 0 {
            let text = layout_core::units::mm(tick as f64 * 10.0);
            let half = Type::SMALL.width(&text) / 2.0;
            if x > half + 0.5 && x < over.length() - half - 0.5 {
                ink.text(x, 8.0, text, Type::SMALL, Align::Centre);
            }
        }
    }
}
