//! What holds for every job. Each law is tried on several hundred random jobs; a failure names the
//! seed, and `random::job(seed)` makes the job again. Small seeds make no smaller jobs, but every
//! job is at most five walls.

mod absurd;
mod boarded;
mod bought;
mod changes;
mod first_fix;
mod frames;
mod grounds;
mod grids;
mod lists;
mod modelled;
mod platforms;
mod remedies;
mod screwed;
mod shapes;
mod sheeted;
mod survey;
mod readings;
mod turned;

use layout_core::document::Job;
use layout_core::frame::Member;
use layout_core::layout::{Layout, WallLayout};
use layout_core::span::Span;

use crate::random;

/// How many random jobs a law is tried on: 400, or what `JOBS` says.
fn tries() -> u64 {
    std::env::var("JOBS").ok().and_then(|n| n.parse().ok()).unwrap_or(400)
}

/// Two positions closer than this are the same, for a law.
const NEAR: f64 = 0.02;

/// Tries a law on random jobs; it gives its complaints.
fn law(rule: &str, complaints: impl Fn(&Job, &Layout) -> Vec<String>) {
    law_of(rule, tries(), complaints);
}

/// Tries a law on so many random jobs.
fn law_of(rule: &str, tries: u64, complaints: impl Fn(&Job, &Layout) -> Vec<String>) {
    let mut broken = Vec::new();
    for seed in 0..tries {
        let job = random::job(seed);
        let layout = Layout::of(&job);
        if let Some(first) = complaints(&job, &layout).into_iter().next() {
            broken.push(format!("seed {seed}: {first}"));
        }
    }
    assert!(
        broken.is_empty(),
        "{rule}; broken by {} of {} jobs:\n  {}",
        broken.len(),
        tries,
        broken[..broken.len().min(12)].join("\n  ")
    );
}

/// The stretch, depth and height a piece takes up in its wall.
fn bounds(m: &Member) -> [Span; 3] {
    [m.solid.stations(), m.solid.across(), m.solid.heights()]
}

/// How far two boxes run into each other: the least of the three overlaps; negative when apart.
fn depth_of_overlap(a: &[Span; 3], b: &[Span; 3]) -> f64 {
    (0..3).map(|i| a[i].intersection(b[i]).length()).fold(f64::INFINITY, f64::min)
}

fn called(w: &WallLayout, m: &Member) -> String {
    let [x, y, z] = bounds(m);
    format!(
        "{}-{} {} x {:.1}..{:.1} y {:.1}..{:.1} z {:.1}..{:.1}",
        w.name(),
        m.mark,
        m.role.label(),
        x.low,
        x.high,
        y.low,
        y.high,
        z.low,
        z.high
    )
}

/// Every wall with each of its pieces.
fn pieces(layout: &Layout) -> impl Iterator<Item = (&WallLayout, &Member)> {
    layout.walls.iter().flat_map(|w| w.frame.members.iter().map(move |m| (w, m)))
}

/// Every wall and platform with each of its pieces.
fn all_pieces(layout: &Layout) -> impl Iterator<Item = (&layout_core::id::Name, &Member)> {
    layout.framed().flat_map(|p| p.frame().members.iter().map(move |m| (p.name(), m)))
}
