//! The sheet of one platform: its joist plan over a section, and the list of its pieces.

use layout_core::document::{Finish, Job};
use layout_core::layout::{Framed, PlatformLayout};

use super::drawing::{Drawing, Drawn};
use super::flow::Block;
use super::{Paper, Sheet, cautions, file_name, lists};
use crate::views::{platform_plan, platform_section};

/// Distance between plan and section, mm.
const APART: f64 = 8.0;

/// The sheet, and the lists that found no room on it.
pub(super) fn sheet(job: &Job, laid: &PlatformLayout, paper: Paper) -> (Sheet, Vec<Block>) {
    let name = format!("platform-{}", file_name(laid.name().as_str()));
    let title = format!("Platform {}", laid.name());
    let drawn = Drawn::new(name, title, &cautions::of_platform(laid), lists::PIECES, paper);
    let mut blocks = lists::pieces(Framed::Platform(laid));
    if let Some(platform) = job.platform(laid.name()).filter(|p| !p.holes.is_empty()) {
        blocks.insert(0, lists::platform_holes(job, platform));
    }
    let drawings = drawn.fitting(f64::INFINITY, |scale| {
        let pictures = vec![platform_plan(job, laid, scale), platform_section(job, laid, scale)];
        Drawing::stacked(scale, pictures, APART)
    });
    drawn.finish(&drawings, blocks, &about(job, laid), "“Pieces”")
}

/// What it is made of, in a line.
fn about(job: &Job, laid: &PlatformLayout) -> String {
    let Some(platform) = job.platform(laid.name()) else { return String::new() };
    let boards = |finish: &Finish| {
        let layers: Vec<String> =
            finish.boards.iter().map(|b| laid.spec.units.fine(b.thickness)).collect();
        if layers.is_empty() { "none".to_string() } else { layers.join(" + ") }
    };
    format!(
        "{} at {} · {} {} at {} centres · boards {} below, {} above · {} and {}",
        platform.kind.label(),
        laid.spec.units.show(platform.level),
        platform.timber.size_in(laid.spec.units),
        platform.timber.grade(),
        laid.spec.units.show(platform.centres),
        boards(&platform.below),
        boards(&platform.above),
        platform.bearings.0.label(),
        platform.bearings.1.label()
    )
}
