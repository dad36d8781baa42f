//! Noggin rows: at what height each lies, and over what part of the wall.

use super::heights::Heights;
use super::level_joints::level_joints;
use crate::document::{Face, NogginLay, NogginSet, RowBase, RowEdge, RowPlace, RowRule, Rows};
use crate::id::ItemRef;
use crate::math::SAME;
use crate::resolve::WallSpec;
use crate::snag::{Code, Snag};
use crate::span::Span;

/// No wall has more rows than this.
const MOST_ROWS: usize = 50;

/// A noggin row.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// Its centre above FFL.
    pub height: f64,
    /// The part of the wall it is in, as stations.
    pub along: Span,
    /// The rule that would give this row by itself.
    pub rule: RowRule,
    /// What it is for.
    pub why: RowFor,
}

/// What a noggin row is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RowFor {
    /// Its height was asked for.
    Asked,
    /// Joints of boards, by a rule that says their width.
    Joints,
    /// Level joints of the boards of the wall.
    Boards,
    /// The middle of the wall.
    MidHeight,
    /// Tiles: rows no further apart than a tiled face allows.
    Tiles,
    /// Rows no further apart than they may be.
    Spacing,
}

impl RowFor {
    /// “for board joints”; nothing for a row that was asked for.
    pub fn label(self) -> &'static str {
        match self {
            RowFor::Asked => "",
            RowFor::Joints | RowFor::Boards => "for board joints",
            RowFor::MidHeight => "at mid-height",
            RowFor::Tiles => "for tiles",
            RowFor::Spacing => "for the height",
        }
    }

    /// True for a row that comes by itself, whatever rows were asked for: what is on the wall needs it.
    pub fn is_needed(self) -> bool {
        matches!(self, RowFor::Boards | RowFor::Tiles)
    }
}

/// The rules that would give these rows, but for one of them and for those that come by themselves.
pub fn own_rules(rows: &[Row], but: Option<usize>) -> Vec<RowRule> {
    let own = |(i, row): &(usize, &Row)| !row.why.is_needed() && Some(*i) != but;
    rows.iter().enumerate().filter(own).map(|(_, row)| row.rule.clone()).collect()
}

impl Row {
    /// The rule that puts this row with its centre at `height`.
    pub fn raised_to(&self, height: f64) -> RowRule {
        let mut rule = self.rule.clone();
        if let RowPlace::Height { height: z, .. } = &mut rule.place {
            *z += height - self.height;
        }
        rule
    }
}

/// The rows of `spec`, from the floor up. Heights that were asked for come first, then board joints, then
/// mid-height; what may be no further apart fills in between, the closest first.
pub(super) fn settle(spec: &WallSpec, heights: &Heights, snags: &mut Vec<Snag>) -> Vec<Row> {
    let rules: Vec<RowRule> = match &spec.rows {
        Rows::Auto => vec![RowRule::new(RowPlace::Apart(spec.makeup.noggins.apart))],
        Rows::At(wanted) => wanted.iter().map(|z| RowRule::at(*z)).collect(),
        Rows::By(rules) => rules.clone(),
    };
    let mut settling = Settling { spec, heights, rows: Vec::new() };
    for (index, rule) in rules.iter().enumerate() {
        settling.asked(index, rule, snags);
    }
    for rule in &rules {
        settling.joints(rule);
    }
    if spec.makeup.noggins.for_boards {
        settling.boards();
    }
    for rule in rules.iter().filter(|r| r.place == RowPlace::MidHeight) {
        let room = settling.room(settling.along(rule));
        settling.found(rule, room.centre(), RowFor::MidHeight);
    }
    let tiled = [&spec.makeup.left, &spec.makeup.right].into_iter().filter_map(|f| f.tiled);
    let tiles: Vec<RowRule> = tiled.map(|apart| RowRule::new(RowPlace::Apart(apart))).collect();
    let apart = |rule: &RowRule| match rule.place {
        RowPlace::Apart(apart) => Some(apart),
        _ => None,
    };
    let with = |why: RowFor| move |r| (r, why);
    let mut fill: Vec<(f64, &RowRule, RowFor)> = (tiles.iter().map(with(RowFor::Tiles)))
        .chain(rules.iter().map(with(RowFor::Spacing)))
        .filter_map(|(rule, why)| apart(rule).map(|apart| (apart, rule, why)))
        .collect();
    fill.sort_by(|a, b| a.0.total_cmp(&b.0));
    for (apart, rule, why) in fill {
        settling.filled(rule, apart, why);
    }
    let mut rows = settling.rows;
    rows.sort_by(|a, b| a.height.total_cmp(&b.height).then(a.along.low.total_cmp(&b.along.low)));
    rows
}

struct Settling<'a> {
    spec: &'a WallSpec,
    heights: &'a Heights,
    rows: Vec<Row>,
}

impl Settling<'_> {
    /// The part of the wall a rule speaks of.
    fn along(&self, rule: &RowRule) -> Span {
        let reach = self.spec.reach();
        Span {
            low: rule.from.unwrap_or(reach.low).max(reach.low),
            high: rule.to.unwrap_or(reach.high).min(reach.high),
        }
    }

    /// From the lowest foot to the highest head of it: under a rake rows are spaced for the tallest bay, and
    /// stop where they meet it.
    fn room(&self, along: Span) -> Span {
        let along = along.intersection(self.spec.along());
        let along = if along.length() > SAME { along } else { self.spec.along() };
        Span { low: self.heights.foot.range(along).low, high: self.heights.under.range(along).high }
    }

    /// Height of a noggin laid by `rule`.
    fn piece(&self, rule: &RowRule) -> f64 {
        lies(self.spec, rule.lay.unwrap_or(self.spec.makeup.noggins.lay)).0
    }

    fn put(&mut self, rule: &RowRule, height: f64, place: RowPlace, why: RowFor) {
        let along = self.along(rule);
        let same = |r: &Row| (r.height - height).abs() < SAME && r.along.overlaps(along);
        if self.rows.len() < MOST_ROWS && along.length() > SAME && !self.rows.iter().any(same) {
            self.rows.push(Row { height, along, rule: RowRule { place, ..rule.clone() }, why });
        }
    }

    /// A row at a height that was asked for.
    fn asked(&mut self, index: usize, rule: &RowRule, snags: &mut Vec<Snag>) {
        let RowPlace::Height { height, to, above } = rule.place else { return };
        let (h, room) = (self.piece(rule), self.room(self.along(rule)));
        let base = match above {
            RowBase::Floor => 0.0,
            RowBase::Sole => self.heights.foot.range(self.spec.along()).high,
        };
        let centre = base
            + height
            + match to {
                RowEdge::Centre => 0.0,
                RowEdge::Top => -h / 2.0,
                RowEdge::Underside => h / 2.0,
            };
        let t = self.spec.makeup.timber.thickness();
        if centre - t / 2.0 >= room.low - SAME && centre + t / 2.0 <= room.high + SAME {
            self.put(rule, centre, rule.place.clone(), RowFor::Asked);
            return;
        }
        let name = &self.spec.name;
        snags.push(
            Snag::new(
                Code::RowOutside,
                ItemRef::NogginRow { wall: name.clone(), row: index },
                format!(
                    "The noggin row at {} of wall {name} is not between its plates",
                    self.spec.units.show(centre)
                ),
                "Move the row, or take it away.",
            )
            .in_wall(name, self.spec.along().centre())
            .at_height(centre)
            .measured(
                centre,
                if centre < room.low + t / 2.0 { room.low + t / 2.0 } else { room.high - t / 2.0 },
            ),
        );
    }

    /// A row the program found; not where one lies already.
    fn found(&mut self, rule: &RowRule, centre: f64, why: RowFor) {
        let (h, along) = (self.piece(rule), self.along(rule));
        let near = |r: &Row| (r.height - centre).abs() < h && r.along.covers(along);
        let room = self.room(along);
        if room.covers(Span::about(centre, h)) && !self.rows.iter().any(near) {
            let RowPlace::Height { to, above, .. } = RowRule::at(0.0).place else { return };
            self.put(rule, centre, RowPlace::Height { height: centre, to, above }, why);
        }
    }

    fn joints(&mut self, rule: &RowRule) {
        let RowPlace::BoardJoints { board, gap } = rule.place else { return };
        for k in 1..=MOST_ROWS {
            self.found(rule, gap + board.max(100.0) * k as f64, RowFor::Joints);
        }
    }

    /// A row behind every level joint of the boards on the frame: all on one line, and on edge where one on the flat
    /// would miss one of the faces.
    fn boards(&mut self) {
        let noggins = &self.spec.makeup.noggins;
        for joint in level_joints(self.spec) {
            let shows = match noggins.lay {
                NogginLay::OnEdge => true,
                NogginLay::FlatLeft => !joint.faces[0],
                NogginLay::FlatRight => !joint.faces[1],
            };
            let whole = joint.along.covers(self.spec.along());
            let rule = RowRule {
                from: (!whole).then_some(joint.along.low),
                to: (!whole).then_some(joint.along.high),
                set: (noggins.set != NogginSet::InLine).then_some(NogginSet::InLine),
                lay: (!shows).then_some(NogginLay::OnEdge),
                ..RowRule::at(joint.height)
            };
            self.found(&rule, joint.height, RowFor::Boards);
        }
    }

    /// Rows between the others, so that nothing is further apart than asked.
    fn filled(&mut self, rule: &RowRule, apart: f64, why: RowFor) {
        let (along, room) = (self.along(rule), self.room(self.along(rule)));
        let there = self.rows.iter().filter(|r| r.along.covers(along)).map(|r| r.height);
        let mut at: Vec<f64> = [room.low, room.high].into_iter().chain(there).collect();
        at.sort_by(f64::total_cmp);
        for pair in at.windows(2) {
            let clear = pair[1] - pair[0];
            let rows = (clear / apart.max(300.0) - 1e-9).ceil() - 1.0;
            let rows = if (0.0..=MOST_ROWS as f64).contains(&rows) { rows as usize } else { 0 };
            for i in 1..=rows {
                self.found(rule, pair[0] + clear * i as f64 / (rows + 1) as f64, why);
            }
        }
    }
}

/// What a piece that lies `lay` takes up in height and across the wall.
pub(super) fn lies(spec: &WallSpec, lay: NogginLay) -> (f64, Span) {
    let (t, depth) = (spec.makeup.timber.thickness(), spec.makeup.timber.depth());
    match lay {
        NogginLay::OnEdge => (t, spec.frame),
        NogginLay::FlatLeft => (depth, flush(spec, Face::Left, t)),
        NogginLay::FlatRight => (depth, flush(spec, Face::Right, t)),
    }
}

/// The part of the frame that is `thick` deep from a face.
pub(super) fn flush(spec: &WallSpec, face: Face, thick: f64) -> Span {
    match face {
        Face::Left => Span { low: spec.frame.high - thick, high: spec.frame.high },
        Face::Right => Span::from(spec.frame.low, thick),
    }
}
