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
    /// The crew sheet of one wall: one page in large type.
    Crew(Name),
    /// Junctions at 1:5, one of each kind.
    Junctions,
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

/// What kind of sheet a part is: what is chosen by when a set is put together.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Sort {
    /// The plan.
    Plan,
    /// Setting out on the floor.
    SettingOut,
    /// Elevations of walls.
    Walls,
    /// Crew sheets.
    Crew,
    /// Junctions at 1:5.
    Junctions,
    /// First fix.
    FirstFix,
    /// Platforms.
    Platforms,
    /// Marks, rods and stops.
    Marks,
    /// Rods at full size.
    Rods,
    /// The cutting list.
    Saw,
    /// Labels.
    Labels,
    /// Boards of walls.
    Faces,
    /// How sheets of board are cut.
    Boards,
    /// What goes with boards.
    Yard,
    /// Snags.
    Snags,
}

impl Sort {
    /// All of them, in the order they are printed.
    pub const ALL: [Sort; 15] = [
        Sort::Plan,
        Sort::SettingOut,
        Sort::Walls,
        Sort::Crew,
        Sort::Junctions,
        Sort::FirstFix,
        Sort::Platforms,
        Sort::Marks,
        Sort::Rods,
        Sort::Saw,
        Sort::Labels,
        Sort::Faces,
        Sort::Boards,
        Sort::Yard,
        Sort::Snags,
    ];

    /// “setting out”, “walls”.
    pub fn label(self) -> &'static str {
        match self {
            Sort::Plan => "plan",
            Sort::SettingOut => "setting out",
            Sort::Walls => "walls",
            Sort::Crew => "crew sheets",
            Sort::Junctions => "junctions",
            Sort::FirstFix => "first fix",
            Sort::Platforms => "platforms",
            Sort::Marks => "marks and rods",
            Sort::Rods => "rods at full size",
            Sort::Saw => "cutting list",
            Sort::Labels => "labels",
            Sort::Faces => "boards of walls",
            Sort::Boards => "sheets of board",
            Sort::Yard => "yard order",
            Sort::Snags => "snags",
        }
    }

    /// True for what is printed when nothing else is asked for.
    pub fn is_usual(self) -> bool {
        !matches!(self, Sort::Crew | Sort::Rods | Sort::Labels)
    }
}

impl Part {
    /// What kind of sheet it is.
    pub fn sort(&self) -> Sort {
        match self {
            Part::Plan => Sort::Plan,
            Part::SettingOut => Sort::SettingOut,
            Part::Wall(_) => Sort::Walls,
            Part::Crew(_) => Sort::Crew,
            Part::Junctions => Sort::Junctions,
            Part::FirstFix(_) => Sort::FirstFix,
            Part::Platform(_) => Sort::Platforms,
            Part::Marks => Sort::Marks,
            Part::Rod(_) => Sort::Rods,
            Part::Saw => Sort::Saw,
            Part::Labels => Sort::Labels,
            Part::Face(..) => Sort::Faces,
            Part::Boards => Sort::Boards,
            Part::Yard => Sort::Yard,
            Part::Snags => Sort::Snags,
        }
    }

    /// The wall it is of, when it is of one.
    pub fn wall(&self) -> Option<&Name> {
        match self {
            Part::Wall(wall)
            | Part::Crew(wall)
            | Part::FirstFix(wall)
            | Part::Rod(wall)
            | Part::Face(wall, _) => Some(wall),
            _ => None,
        }
    }

    /// The same parts with all that is of one wall together, where the first of it stood.
    pub fn by_wall(parts: Vec<Part>) -> Vec<Part> {
        let mut sorted: Vec<Part> = Vec::with_capacity(parts.len());
        for part in parts {
            let after =
                part.wall().and_then(|wall| sorted.iter().rposition(|p| p.wall() == Some(wall)));
            match after {
                Some(at) => sorted.insert(at + 1, part),
                None => sorted.push(part),
            }
        }
        sorted
    }

    /// Every part a job has, in the order they are printed: plan, setting out, walls, what goes into them, platforms, marks and
    /// rods, cutting list, labels, boards of walls, how boards are cut from sheets, what goes with them, snags.
    pub fn all(layout: &Layout) -> Vec<Part> {
        let walls = || layout.walls.iter();
        let name = |wall: &WallLayout| wall.name().clone();
        let mut parts = vec![Part::Plan, Part::SettingOut];
        parts.extend(walls().map(|w| Part::Wall(name(w))));
        parts.extend(walls().map(|w| Part::Crew(name(w))));
        parts.push(Part::Junctions);
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

    /// What is printed when nothing else is asked for: all but crew sheets, which say again in large type what others say, and
    /// rods at full size and labels, which take many sheets and paper of their own.
    pub fn usual(layout: &Layout) -> Vec<Part> {
        Part::all(layout).into_iter().filter(Part::is_usual).collect()
    }

    /// True for what is printed when nothing else is asked for.
    pub fn is_usual(&self) -> bool {
        self.sort().is_usual()
    }

    /// What it is called where parts are asked for: `plan`, `wall-A`, `first-fix-A`, `boards-A-left`, `platform-LC1`.
    pub fn name(&self) -> String {
        match self {
            Part::Plan => "plan".into(),
            Part::SettingOut => "setting-out".into(),
            Part::Crew(wall) => format!("crew-{wall}"),
            Part::Junctions => "junctions".into(),
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
