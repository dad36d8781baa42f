//! The drawings of a job without the sheets they are on: what other programs draw on.

use layout_core::document::{Face, Job};
use layout_core::id::Name;
use layout_core::layout::{Layout, WallLayout};
use layout_core::setout::floor::floor_plan;

use crate::page::{Page, Part, PrintOptions, file_name, print_set};
use crate::picture::Picture;
use crate::views::{
    ElevationOptions, FaceOptions, PlanOptions, SectionOptions, board_face, elevation, floor, plan,
    platform_plan, platform_section, section,
};

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

/// The smallest scale figures are drawn at, and the one that is taken where a sheet has a smaller: 1 to this. The floor
/// has figures for itself and may be half of that.
const SMALLEST: f64 = 100.0;
const SMALLEST_FLOOR: f64 = 200.0;
const OTHERWISE: f64 = 50.0;

/// A drawing that a part of the print set has.
#[derive(Clone, Debug, PartialEq, Eq)]
enum View {
    Plan,
    SettingOut,
    /// A wall from a face.
    Wall(Name, Face),
    /// A wall cut through.
    Section(Name),
    /// What goes into a wall, from a face.
    FirstFix(Name, Face),
    /// A layer of boards, from 0 at the frame.
    Boards(Name, Face, usize),
    Platform(Name),
    PlatformSection(Name),
}

/// A drawing that can be asked for.
struct Listed {
    name: String,
    part: Part,
    view: View,
}

/// Every drawing of the parts that are wanted, each at the scale of its sheet on the paper of `options`: plan, setting out,
/// walls with their sections, first fix, boards layer by layer, platforms. When nothing in particular is wanted, walls and
/// their first fix from both faces: that of `options` has the plain name.
pub fn drawings(job: &Job, layout: &Layout, options: &PrintOptions) -> Vec<Drawing> {
    let listed = listed(layout, options);
    listed.into_iter().filter_map(|one| drawn(job, layout, options, one)).collect()
}

/// The drawing of this name, as [`drawings`] gives it.
pub fn drawing(job: &Job, layout: &Layout, options: &PrintOptions, name: &str) -> Option<Drawing> {
    let listed = listed(layout, options);
    listed.into_iter().find(|one| one.name == name).and_then(|one| drawn(job, layout, options, one))
}

fn listed(layout: &Layout, options: &PrintOptions) -> Vec<Listed> {
    let is_wanted = |part: &Part| options.only.is_empty() || options.only.contains(part);
    let other = match options.face {
        Face::Left => Face::Right,
        Face::Right => Face::Left,
    };
    let other = Some(other).filter(|_| options.only.is_empty());
    let mut list = Vec::new();
    for part in Part::all(layout).into_iter().filter(is_wanted) {
        let own = file_name(&part.name());
        let mut add = |name: String, view: View| {
            list.push(Listed { name, part: part.clone(), view });
        };
        match &part {
            Part::Plan => add(own, View::Plan),
            Part::SettingOut => add(own, View::SettingOut),
            Part::Wall(wall) => {
                add(own.clone(), View::Wall(wall.clone(), options.face));
                if let Some(face) = other {
                    add(format!("{own}-{}", face.label()), View::Wall(wall.clone(), face));
                }
                add(file_name(&format!("section-{wall}")), View::Section(wall.clone()));
            }
            Part::FirstFix(wall) => {
                add(own.clone(), View::FirstFix(wall.clone(), options.face));
                if let Some(face) = other {
                    add(format!("{own}-{}", face.label()), View::FirstFix(wall.clone(), face));
                }
            }
            Part::Face(wall, face) => {
                for (name, layer) in layout.wall(wall).map_or(Vec::new(), |w| layers(w, *face)) {
                    add(name, View::Boards(wall.clone(), *face, layer));
                }
            }
            Part::Platform(platform) => {
                add(own, View::Platform(platform.clone()));
                let name = file_name(&format!("section-{platform}"));
                add(name, View::PlatformSection(platform.clone()));
            }
            _ => {}
        }
    }
    list
}

/// The layers of boards on a face of a wall, as their sheets are called; those above another that are cut like it, too.
fn layers(wall: &WallLayout, face: Face) -> Vec<(String, usize)> {
    let on_face = wall.boards.layers.iter().filter(|l| l.face == face && !l.pieces.is_empty());
    let layers: Vec<usize> = on_face.map(|l| l.layer).collect();
    let (wall, side) = (file_name(wall.name().as_str()), face.label());
    let name = |layer: usize| match layers.len() {
        1 => format!("boards-{wall}-{side}"),
        _ => format!("boards-{wall}-{side}-{}", layer + 1),
    };
    layers.iter().map(|layer| (name(*layer), *layer)).collect()
}

fn drawn(job: &Job, layout: &Layout, options: &PrintOptions, asked: Listed) -> Option<Drawing> {
    let Listed { name, part, view } = asked;
    let face = match &view {
        View::Wall(_, face) | View::FirstFix(_, face) => *face,
        _ => options.face,
    };
    let only = vec![part];
    let pages = print_set(job, layout, &PrintOptions { only, face, ..options.clone() });
    // No sheet, nothing to draw: what is set out where no wall stands.
    pages.first()?;
    let scale = scale_on(&pages, &name, &view);
    let (dimensions, boards) = (true, None);
    let seen = |wall: &Name, face: Face, zones: bool| {
        let shown = ElevationOptions { scale, face, dimensions, boards, zones };
        Some(elevation(job, layout, layout.wall(wall)?, &shown))
    };
    let picture = match &view {
        View::Plan => plan(job, layout, &PlanOptions { scale, dimensions, boards }),
        View::SettingOut => floor(job, layout, &floor_plan(job, layout), scale),
        View::Wall(wall, face) => seen(wall, *face, false)?,
        View::FirstFix(wall, face) => seen(wall, *face, true)?,
        View::Section(wall) => section(job, layout.wall(wall)?, &SectionOptions { scale }),
        View::Boards(wall, face, layer) => {
            let shown = FaceOptions { scale, face: *face, layer: *layer };
            board_face(job, layout.wall(wall)?, &shown)
        }
        View::Platform(platform) => platform_plan(job, layout.platform(platform)?, scale),
        View::PlatformSection(platform) => platform_section(job, layout.platform(platform)?, scale),
    };
    Some(Drawing { name, scale, picture })
}

/// The scale a drawing has on its sheets: on the one of its own name, where there is one.
fn scale_on(pages: &[Page], name: &str, view: &View) -> f64 {
    let own = |page: &&Page| {
        let bare = page.name.trim_start_matches(|c: char| c.is_ascii_digit());
        bare.strip_prefix('-') == Some(name) && page.scale.is_some()
    };
    let page = pages.iter().find(own).or_else(|| pages.iter().find(|p| p.scale.is_some()));
    let least = if *view == View::SettingOut { SMALLEST_FLOOR } else { SMALLEST };
    page.and_then(|page| page.scale).filter(|scale| *scale <= least).unwrap_or(OTHERWISE)
}
