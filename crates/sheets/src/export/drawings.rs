//! The drawings of a job without the sheets they are on: what other programs draw on.

use layout_core::document::{Face, Job};
use layout_core::layout::Layout;

use crate::page::{Part, PrintOptions, file_name, print_set};
use crate::picture::Picture;
use crate::views::{ElevationOptions, PlanOptions, elevation, plan, platform_plan};

/// A drawing, laid out for a scale.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawing {
    /// A short name for files: `plan`, `wall-A`.
    pub name: String,
    /// Millimetres of model to one of paper: what its lettering is laid out for.
    pub scale: f64,
    /// What is drawn, in millimetres of the building.
    pub picture: Picture,
}

/// The smallest scale figures are drawn at, and the one that is taken where a sheet has a smaller: 1 to this.
const SMALLEST: f64 = 100.0;
const OTHERWISE: f64 = 50.0;

/// The plan, the elevation of every wall on its right face and the joist plan of every platform, each at the scale of its
/// sheet on the paper of `options`; those of the parts that are wanted.
pub fn drawings(job: &Job, layout: &Layout, options: &PrintOptions) -> Vec<Drawing> {
    let is_drawn = |part: &Part| matches!(part, Part::Plan | Part::Wall(_) | Part::Platform(_));
    let mut only: Vec<Part> = Part::all(layout).into_iter().filter(is_drawn).collect();
    if !options.only.is_empty() {
        only.retain(|part| options.only.contains(part));
    }
    only.into_iter().filter_map(|part| drawing(job, layout, options, part)).collect()
}

fn drawing(job: &Job, layout: &Layout, options: &PrintOptions, part: Part) -> Option<Drawing> {
    let name = file_name(&part.name());
    let only = vec![part.clone()];
    let pages = print_set(job, layout, &PrintOptions { only, ..options.clone() });
    let scale = pages.first().and_then(|page| page.scale);
    let scale = scale.filter(|scale| *scale <= SMALLEST).unwrap_or(OTHERWISE);
    let picture = match part {
        Part::Plan => plan(job, layout, &PlanOptions { scale, dimensions: true, boards: None }),
        Part::Wall(wall) => {
            let (face, boards) = (Face::Right, None);
            let shown = ElevationOptions { scale, face, dimensions: true, boards, zones: false };
            elevation(job, layout, layout.wall(&wall)?, &shown)
        }
        Part::Platform(platform) => platform_plan(job, layout.platform(&platform)?, scale),
        _ => return None,
    };
    Some(Drawing { name, scale, picture })
}
