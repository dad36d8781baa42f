//! The parts a print set is made of: what can be asked for, and in which order it is printed.

use layout_core::document::Face;
use layout_core::id::Name;
use layout_core::layout::{Layout, WallLayout};

use super::{face_sheet, first_fix_sheet};

/// A part of the print set.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Part {
    /// The plan with its lists.
    Plan,
    /// What is set out on the floor.
    SettingOut,
    /// The elevation of one wall.
    Wall(Name),
    /// The first fix of one wall, bay by bay.
    FirstFix(Name),
    /// The boards of one face of a wall, layer by layer.
    Face(Name, Face),
    /// The joist plan of one platform.
    Platform(Name),
    /// Marks for plates, height rods, settings of the saw's stop.
    Marks,
    /// The rods of one wall at full size.
    Rod(Name),
    /// The cutting list.
    Saw,
    /// A label for every piece.
    Labels,
    /// What is open, and what is accepted.
    Snags,
    /// How the sheets of board are cut.
    Boards,
    /// The order, line by line with spares, packs, masses and what it costs, and insulation bay by bay.
    Yard,
}

impl Part {
    /// Every part a job has, in the order they are printed: plan, setting out, walls, what goes into them, platforms, marks and
    /// rods, cutting list, labels, boards of walls, how boards are cut from sheets, what goes with them, snags.
    pub fn all(layout: &Layout) -> Vec<Part> {
        let walls = || layout.walls.iter();
        let name = |wall: &WallLayout| wall.name().clone();
        let mut parts = vec![Part::Plan, Part::SettingOut];
        parts.extend(walls().map(|w| Part::Wall(name(w))));
        let fixed = walls().filter(|w| first_fix_sheet::has_some(w));
        parts.extend(fixed.map(|w| Part::FirstFix(name(w))));
        parts.extend(layout.platforms.iter().map(|p| Part::Platform(p.name().clone())));
        parts.push(Part::Marks);
        parts.extend(walls().map(|w| Part::Rod(name(w))));
        parts.extend([Part::Saw, Part::Labels]);
        for wall in walls() {
            let faces = [Face::Right, Face::Left].into_iter();
            let boarded = faces.filter(|face| face_sheet::is_boarded(wall, *face));
            parts.extend(boarded.map(|face| Part::Face(name(wall), face)));
        }
        parts.extend([Part::Boards, Part::Yard, Part::Snags]);
        parts
    }

    /// What is printed when nothing else is asked for: all but rods at full size and labels, which take many sheets and paper of
    /// their own.
    pub fn usual(layout: &Layout) -> Vec<Part> {
        Part::all(layout).into_iter().filter(Part::is_usual).collect()
    }

    /// True for what is printed when nothing else is asked for.
    pub fn is_usual(&self) -> bool {
        !matches!(self, Part::Rod(_) | Part::Labels)
    }

    /// What it is called where parts are asked for: `plan`, `wall-A`, `first-fix-A`, `boards-A-left`, `platform-LC1`.
    pub fn name(&self) -> String {
        match self {
            Part::Plan => "plan".into(),
            Part::SettingOut => "setting-out".into(),
            Part::Marks => "marks".into(),
            Part::Rod(wall) => format!("rod-{wall}"),
            Part::Labels => "labels".into(),
            Part::Wall(wall) => format!("wall-{wall}"),
            Part::FirstFix(wall) => format!("first-fix-{wall}"),
            Part::Platform(platform) => format!("platform-{platform}"),
            Part::Saw => "saw".into(),
            Part::Face(wall, face) => format!("boards-{wall}-{}", face.label()),
            Part::Boards => "boards".into(),
            Part::Yard => "yard".into(),
            Part::Snags => "snags".into(),
        }
    }
}
