//! What a change costs while it is being made: pieces, metres, snags and, where it is known, the price
//! against where it started.

use std::collections::BTreeMap;

use egui::{Rect, StrokeKind, Ui, pos2, vec2};
use layout_core::compare::missing;
use layout_core::document::{Job, Timber};
use layout_core::frame::Role;
use layout_core::layout::Layout;
use layout_core::pieces::totals;
use layout_core::snag::Severity;
use layout_core::units::Units;

use crate::scene::Scene;
use crate::theme::{bold_font, font};

/// A change counted against where it started.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Cost {
    /// Full-height studs more or fewer.
    pub studs: i64,
    /// Cripples and jacks more or fewer.
    pub cripples: i64,
    /// Noggins more or fewer.
    pub noggins: i64,
    /// Pieces of every kind more or fewer.
    pub pieces: i64,
    /// Timber more or less, as cut, mm.
    pub length: f64,
    /// Snags that were not there before, and whether one of them says stop.
    pub opened: usize,
    /// True when a new snag says stop.
    pub stop: bool,
    /// Snags that are gone.
    pub closed: usize,
    /// Timber at the list's price a metre, more or less; `None` when a section has no price.
    pub price: Option<f64>,
}

impl Cost {
    /// What `live` costs more than `base`. Prices come from `job`'s timber list.
    pub fn between(base: &Layout, live: &Layout, job: &Job) -> Cost {
        let (was, is) = (count(base), count(live));
        let more = |roles: &dyn Fn(Role) -> bool| {
            let sum = |m: &BTreeMap<Role, i64>| {
                m.iter().filter(|(r, _)| roles(**r)).map(|(_, n)| n).sum::<i64>()
            };
            sum(&is) - sum(&was)
        };
        let (before, after) = (lengths(base), lengths(live));
        let mut price = Some(0.0);
        for timber in before.keys().chain(after.keys().filter(|t| !before.contains_key(t))) {
            let by = after.get(timber).unwrap_or(&0.0) - before.get(timber).unwrap_or(&0.0);
            if by.abs() > 0.5 {
                price = price
                    .zip(price_a_metre(job, timber))
                    .map(|(sum, each)| sum + by / 1000.0 * each);
            }
        }
        let new = missing(&live.snags, &base.snags);
        Cost {
            studs: more(&Role::is_full_height),
            cripples: more(&|r| matches!(r, Role::Cripple | Role::Jack)),
            noggins: more(&|r| {
                matches!(r, Role::Noggin | Role::BoxNoggin | Role::Pattress | Role::StudTrimmer)
            }),
            pieces: more(&|_| true),
            length: after.values().sum::<f64>() - before.values().sum::<f64>(),
            opened: new.len(),
            stop: new.iter().any(|s| s.severity() == Severity::Stop),
            closed: missing(&base.snags, &live.snags).len(),
            price,
        }
    }

    /// The change in words, part by part.
    pub fn words(&self, units: Units) -> Vec<String> {
        let mut words = vec![format!("studs {}", signed(self.studs))];
        if self.cripples != 0 {
            words.push(format!("cripples {}", signed(self.cripples)));
        }
        words.push(format!("noggins {}", signed(self.noggins)));
        words.push(format!("pieces {}", signed(self.pieces)));
        words.push(format!(
            "timber {} {}",
            signed_tenths(self.length / units.run_step()),
            units.run_unit()
        ));
        words.push(match (self.opened, self.closed) {
            (0, 0) => "snags 0".into(),
            (opened, 0) => format!("snags +{opened}"),
            (0, closed) => format!("snags −{closed}"),
            (opened, closed) => format!("snags +{opened} −{closed}"),
        });
        words
    }
}

fn signed(n: i64) -> String {
    match n {
        0 => "0".into(),
        n if n > 0 => format!("+{n}"),
        n => format!("−{}", n.unsigned_abs()),
    }
}

fn signed_tenths(value: f64) -> String {
    let tenths = (value * 10.0).round() as i64;
    let sign = match tenths {
        0 => "",
        t if t > 0 => "+",
        _ => "−",
    };
    format!("{sign}{}.{}", tenths.abs() / 10, tenths.abs() % 10)
}

fn count(layout: &Layout) -> BTreeMap<Role, i64> {
    let mut counts = BTreeMap::new();
    for member in layout.framed().flat_map(|p| &p.frame().members) {
        *counts.entry(member.role).or_insert(0) += 1;
    }
    counts
}

fn lengths(layout: &Layout) -> BTreeMap<Timber, f64> {
    totals(layout).into_iter().map(|t| (t.timber, t.length)).collect()
}

/// The cheapest price of a metre of `timber` in the list.
fn price_a_metre(job: &Job, timber: &Timber) -> Option<f64> {
    let each = job.stock.iter().filter(|s| s.timber == *timber && s.length > 0.0);
    each.filter_map(|s| s.price.map(|p| p / s.length * 1000.0)).min_by(f64::total_cmp)
}

/// The strip along the bottom of `view`, while something moves.
pub fn cost_ui(ui: &Ui, view: Rect, scene: &Scene<'_>, cost: &Cost) {
    let Some(gesture) = &scene.session.gesture else { return };
    let theme = scene.theme;
    let rect = Rect::from_min_max(
        pos2(view.left() + 28.0, view.bottom() - 66.0),
        pos2(view.right() - 8.0, view.bottom() - 30.0),
    );
    let painter = ui.painter_at(view);
    painter.rect(
        rect,
        4.0,
        theme.accent_tint,
        egui::Stroke::new(1.0, theme.accent),
        StrokeKind::Inside,
    );
    let job = scene.session.history.job();
    let item = gesture.made(job).map(|i| short(&i)).unwrap_or_else(|| "Room".into());
    let moved = gesture.moved(job);
    let mut x = rect.left() + 12.0;
    let mut put = |text: String, face: egui::FontId, ink, right: f32| {
        let galley = painter.layout_no_wrap(text, face, ink);
        if x + galley.size().x > right {
            return;
        }
        let at = pos2(x, rect.center().y - galley.size().y / 2.0);
        x += galley.size().x + 12.0;
        painter.galley(at, galley, ink);
    };
    let right = rect.right() - 10.0;
    put(format!("{item} {moved}").trim().to_owned(), bold_font(13.0), theme.accent, right);
    let price = cost.price.filter(|p| p.abs() >= 0.005).map(|price| {
        let sign = if price > 0.0 { "+" } else { "−" };
        (
            format!("{sign}{}{:.2}", scene.job.saw.currency, price.abs()),
            if price > 0.0 { theme.mend } else { theme.good },
        )
    });
    let room =
        price.as_ref().map_or(right, |(text, _)| right - 9.0 * text.chars().count() as f32 - 10.0);
    let parts = cost.words(scene.job.units);
    let last = parts.len() - 1;
    for (i, part) in parts.into_iter().enumerate() {
        let ink = match i == last {
            true if cost.stop => theme.stop,
            true if cost.opened > 0 => theme.mend,
            true if cost.closed > 0 => theme.good,
            _ => theme.ink,
        };
        put(part, font(12.0), ink, room);
    }
    if let Some((text, ink)) = price {
        let galley = painter.layout_no_wrap(text, bold_font(13.0), ink);
        let at = pos2(right, rect.center().y) - vec2(galley.size().x, galley.size().y / 2.0);
        painter.galley(at, galley, ink);
    }
}

fn short(item: &layout_core::id::ItemRef) -> String {
    use layout_core::id::ItemRef;
    match item {
        ItemRef::Opening(n)
        | ItemRef::Point(n)
        | ItemRef::Route(n)
        | ItemRef::Fitting(n)
        | ItemRef::Post(n)
        | ItemRef::Beam(n)
        | ItemRef::Platform(n)
        | ItemRef::PlatformHole(n) => n.to_string(),
        ItemRef::Wall(n) => format!("Wall {n}"),
        ItemRef::Node(n) => format!("Node {n}"),
        ItemRef::NogginRow { row, .. } => format!("Row {}", row + 1),
        ItemRef::Corner(i) => format!("Corner {}", i + 1),
        ItemRef::Side(i) => format!("Side {}", i + 1),
        ItemRef::Reading { index, .. } => format!("Level {}", index + 1),
        item => item.label(),
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use layout_core::document::{Node, Stock, Wall};
    use layout_core::math::PlanPoint;

    use super::*;

    /// One wall, 3600 long at 400 centres, and its timber list.
    fn job(centres: f64, price: Option<f64>) -> Job {
        let mut job = Job::default();
        Arc::make_mut(&mut job.makeups[0]).centres = centres;
        let node = |n: &str, x| Node { name: n.into(), at: PlanPoint::new(x, 0.0) };
        job.nodes = vec![node("1", 0.0), node("2", 3600.0)];
        let makeup = &job.makeups[0];
        job.walls = vec![Arc::new(Wall::new("A", "1", "2", makeup.name.clone()))];
        job.stock = vec![Stock { price, ..Stock::new(makeup.timber.clone(), 3000.0) }];
        job
    }

    #[test]
    fn wider_centres_save_studs_and_what_they_cost() {
        // Common practice: 3600 at 400 takes 10 studs, at 600 it takes 7.
        let (close, wide) = (job(400.0, Some(6.0)), job(600.0, Some(6.0)));
        let cost = Cost::between(&Layout::of(&close), &Layout::of(&wide), &wide);
        assert_eq!(cost.studs, -3);
        assert!(cost.length < -3.0 * 2000.0, "{}", cost.length);
        let by_the_metre = cost.length / 1000.0 * 2.0;
        assert!((cost.price.expect("a price") - by_the_metre).abs() < 0.01);
        assert_eq!(cost.words(Units::Millimetres)[0], "studs −3");
        let unknown = job(600.0, None);
        let cost = Cost::between(&Layout::of(&close), &Layout::of(&unknown), &unknown);
        assert_eq!(cost.price, None, "a section without a price has none");
    }

    #[test]
    fn snags_are_counted_as_they_open_and_close() {
        let fine = job(400.0, None);
        let mut odd = fine.clone();
        Arc::make_mut(&mut odd.walls[0]).loadbearing = true;
        let (fine_layout, odd_layout) = (Layout::of(&fine), Layout::of(&odd));
        let opened = Cost::between(&fine_layout, &odd_layout, &odd);
        assert_eq!((opened.opened, opened.closed, opened.stop), (1, 0, true));
        assert!(opened.words(Units::Millimetres).contains(&"snags +1".to_owned()));
        let closed = Cost::between(&odd_layout, &fine_layout, &fine);
        assert_eq!((closed.opened, closed.closed, closed.stop), (0, 1, false));
        let same = Cost::between(&fine_layout, &fine_layout, &fine);
        assert_eq!(same, Cost { price: Some(0.0), ..Cost::default() });
    }
}
