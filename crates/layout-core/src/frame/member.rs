//! One piece of timber in a wall: what it is, where it is and how it is cut.

use crate::document::Timber;
use crate::id::{Kind, Mark};
use crate::math::NEAR_SQUARE;
use crate::units::Units;

use super::{Cut, Solid};

/// What a piece does in the wall.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Role {
    /// Sole plate.
    SolePlate,
    /// Lower sole of a raised sole, on the slab.
    LowerSole,
    /// Riser between lower and upper sole.
    Riser,
    /// Upper sole of a raised sole.
    UpperSole,
    /// Head plate.
    HeadPlate,
    /// Common stud on the grid.
    Stud,
    /// First or last stud of the frame.
    EndStud,
    /// Full-height stud beside an opening.
    OpeningStud,
    /// Stud of a corner.
    CornerStud,
    /// Stud behind a tee.
    TeeStud,
    /// Stud turned flat to give a face its ground at a corner.
    Ground,
    /// Jack: carries the head of an opening.
    Jack,
    /// Short upright over a head or under a sill.
    Cripple,
    /// Thin upright at a face of a pocket, beside the leaf that slides into it.
    Slat,
    /// Head of an opening.
    OpeningHead,
    /// Sill of an opening.
    Sill,
    /// Block between two uprights nailed as one.
    Block,
    /// Noggin.
    Noggin,
    /// Wall plate: carries the ends of a platform's joists along a wall.
    WallPlate,
    /// Joist of a platform.
    Joist,
    /// Joist that runs beside a hole and carries its trimmers.
    TrimmingJoist,
    /// Joist cut short by a hole.
    TailJoist,
    /// Lies across at the edge of a hole and carries the tail joists.
    Trimmer,
    /// Closes the free ends of joists, and carries them.
    Rim,
    /// Plate of the upright front of a bulkhead.
    FrontPlate,
    /// Short stud of the upright front of a bulkhead.
    FrontStud,
    /// Carries the ends of a stud that is cut out round a box or duct.
    StudTrimmer,
    /// Noggin that a box hangs on.
    BoxNoggin,
    /// Pattress: timber or ply behind the fixings of a fitting.
    Pattress,
}

impl Role {
    /// The trade's word for it.
    pub fn label(self) -> &'static str {
        match self {
            Role::SolePlate => "sole plate",
            Role::LowerSole => "lower sole",
            Role::Riser => "riser",
            Role::UpperSole => "upper sole",
            Role::HeadPlate => "head plate",
            Role::Stud => "stud",
            Role::EndStud => "end stud",
            Role::OpeningStud => "opening stud",
            Role::CornerStud => "corner stud",
            Role::TeeStud => "tee stud",
            Role::Ground => "ground",
            Role::Jack => "jack",
            Role::Cripple => "cripple",
            Role::Slat => "slat",
            Role::OpeningHead => "head",
            Role::Sill => "sill",
            Role::Block => "block",
            Role::Noggin => "noggin",
            Role::WallPlate => "wall plate",
            Role::Joist => "joist",
            Role::TrimmingJoist => "trimming joist",
            Role::TailJoist => "tail joist",
            Role::Trimmer | Role::StudTrimmer => "trimmer",
            Role::Rim => "rim",
            Role::FrontPlate => "front plate",
            Role::FrontStud => "front stud",
            Role::BoxNoggin => "box noggin",
            Role::Pattress => "pattress",
        }
    }

    /// What its mark counts.
    pub fn kind(self) -> Kind {
        match self {
            Role::SolePlate | Role::LowerSole | Role::UpperSole | Role::HeadPlate => Kind::Plate,
            Role::WallPlate | Role::FrontPlate => Kind::Plate,
            Role::Stud
            | Role::EndStud
            | Role::OpeningStud
            | Role::CornerStud
            | Role::TeeStud
            | Role::Ground => Kind::Stud,
            Role::Riser => Kind::Riser,
            Role::Jack => Kind::Jack,
            Role::Cripple => Kind::Cripple,
            Role::Slat => Kind::Slat,
            Role::OpeningHead => Kind::Head,
            Role::Sill => Kind::Sill,
            Role::Block => Kind::Ground,
            Role::Joist | Role::TrimmingJoist | Role::TailJoist => Kind::Joist,
            Role::Trimmer | Role::Rim => Kind::Trimmer,
            Role::FrontStud => Kind::Stud,
            Role::Noggin | Role::BoxNoggin | Role::StudTrimmer => Kind::Noggin,
            Role::Pattress => Kind::Pattress,
        }
    }

    /// True for uprights from sole to head.
    pub fn is_full_height(self) -> bool {
        self.kind() == Kind::Stud
    }

    /// True for plates.
    pub fn is_plate(self) -> bool {
        self.kind() == Kind::Plate
    }
}

/// One piece of timber.
#[derive(Clone, Debug, PartialEq)]
pub struct Member {
    /// Its mark within the wall.
    pub mark: Mark,
    /// What it does.
    pub role: Role,
    /// Its section.
    pub timber: Timber,
    /// Its shape and place in the wall.
    pub solid: Solid,
    /// True when its length is to be taken on site rather than from the list.
    pub measure_in_place: bool,
}

impl Member {
    /// How it is cut: its longest edge, and the angle of each end from square. An end that is out of square by
    /// less than a saw is set to is cut square.
    pub fn cut(&self) -> Cut {
        let mut cut = self.solid.cut();
        for end in &mut cut.ends {
            for (angle, across) in
                [(&mut end.bevel, self.timber.thickness()), (&mut end.mitre, self.timber.depth())]
            {
                if angle.tan().abs() * across < NEAR_SQUARE {
                    *angle = 0.0;
                }
            }
        }
        cut
    }

    /// How long a bar has to be for it, mm: more than its longest edge where both ends lean the same way, and the points of one
    /// edge stand out beyond those of the other.
    pub fn reach(&self) -> f64 {
        let Cut { length, ends: [a, b] } = self.cut();
        let by = |a: f64, b: f64, across: f64| {
            if a * b > 0.0 { a.abs().min(b.abs()).tan() * across } else { 0.0 }
        };
        let timber = &self.timber;
        length + by(a.bevel, b.bevel, timber.thickness()) + by(a.mitre, b.mitre, timber.depth())
    }

    /// What its two ends are called: foot and top of an upright, start and end of what lies along the wall.
    pub fn end_names(&self) -> [&'static str; 2] {
        match self.role.kind() {
            Kind::Stud | Kind::Jack | Kind::Cripple | Kind::Slat | Kind::Riser => ["foot", "top"],
            Kind::Plate
            | Kind::Head
            | Kind::Sill
            | Kind::Noggin
            | Kind::Pattress
            | Kind::Ground
            | Kind::Joist
            | Kind::Trimmer => ["start", "end"],
        }
    }

    /// How its ends that are not square are cut, and how it is ripped: “top bevel 40°”.
    pub fn cut_words(&self, units: Units) -> Vec<String> {
        let ends = self.cut().ends;
        let named = self.end_names().into_iter().zip(ends);
        let mut words: Vec<String> =
            named.filter_map(|(name, end)| end.words().map(|w| format!("{name} {w}"))).collect();
        words.extend(self.solid.rip().map(|rip| rip.words(units)));
        words
    }

    /// Its mark with the wall's in front: `A-S3`.
    pub fn full_mark(&self, wall: &crate::id::Name) -> String {
        format!("{wall}-{}", self.mark)
    }
}
