//! Snags: what is wrong, or will be wrong, with its place, its reason and its remedy.
//!
//! The core never fails. Where a job asks for something that cannot be built, the framer builds
//! the nearest thing that can, and says so here.

use std::ops::Deref;
use std::sync::Arc;

use serde::{Deserialize, Serialize};

use crate::id::{ItemRef, Name};
use crate::units::Units;

/// How serious a snag is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Severity {
    /// Do not build it: someone may be hurt, or an engineer decides.
    Stop,
    /// It will not fit, or will have to be undone.
    Mend,
    /// Worth knowing before it is cut.
    Note,
}

impl Severity {
    /// The word on screen and paper.
    pub fn label(self) -> &'static str {
        match self {
            Severity::Stop => "stop",
            Severity::Mend => "mend",
            Severity::Note => "note",
        }
    }
}

/// What kind of snag it is. Every code has a case in the suite.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum Code {
    /// The wall is marked as carrying load.
    Loadbearing,
    /// The wall runs under a beam.
    UnderBeam,
    /// A post with plates let in too deep.
    HousingTooDeep,
    /// The wall names a node or make-up the job does not have.
    MissingPart,
    /// The wall is too short to frame.
    WallTooShort,
    /// Floor and head leave no room for studs.
    NoHeight,
    /// The wall has a number no building has.
    Absurd,
    /// Two walls lie over each other.
    WallsCross,
    /// Three or more walls end at one place with none straight through: a wedge is left open.
    AngledJunction,
    /// Part of the wall stands outside the room.
    OutsideRoom,
    /// The measurements of the room do not agree with each other.
    SurveyOpen,
    /// One measurement of the room is more than the others can explain.
    SurveySuspect,
    /// The measurements do not hold the shape of the room yet.
    SurveyLoose,
    /// An opening runs past the end of its wall's frame.
    OpeningPastEnd,
    /// There is no room for an opening's studs between it and what stands beside it.
    OpeningNoStud,
    /// Two openings overlap or leave no room for a stud between them.
    OpeningsClash,
    /// An opening reaches above the head plate.
    OpeningTooTall,
    /// An opening's sill is not above the sole, or not below its head.
    OpeningUpsideDown,
    /// A head that should lie on edge has no room: it is laid flat, or the head plate serves.
    HeadLaidFlat,
    /// The structural size given for a door is too small for its leaf and lining.
    HoleTooSmall,
    /// A wall is too shallow for the leaf that slides into it and its slats.
    PocketTooShallow,
    /// A box, pipe or fixing is in the pocket of a sliding door.
    PocketFouled,
    /// The track of a sliding door has no timber behind it.
    TrackNoGround,
    /// A door that slides on the face runs into something, or past the end of its wall.
    SlideFouled,
    /// The swing of a door meets a wall, a fitting, a post or another leaf.
    SwingFouled,
    /// An architrave or lining meets a wall, a fitting, a box, another one or the ceiling.
    ArchitraveFouled,
    /// A leaf cannot give the clear width asked for.
    ClearWidthShort,
    /// There is little wall beside the handle of a door, on the side it is pulled from.
    NibShort,
    /// A common stud was moved to stand tight against its neighbour.
    StudShifted,
    /// A common stud was left out because the spacing still holds.
    StudDropped,
    /// A common stud stays a sliver away from its neighbour: pack the gap.
    StudPacked,
    /// A stud was added because the spacing would have been too wide.
    StudAdded,
    /// Stud centres are above what the board allows.
    CentresTooWide,
    /// Stud centres do not divide the board's width.
    CentresOffBoard,
    /// A level joint between boards has no timber behind it.
    BoardEdgeBare,
    /// Boards are joined near the line of an opening's corner.
    JointAtCorner,
    /// A sheet of board is more than one person should lift.
    HeavySheet,
    /// A wall is to carry on a grid, and none comes through its node.
    GridNotCarried,
    /// The lowest timber is below the finished floor.
    TimberBelowFloor,
    /// A sole stands on higher packers than the job allows.
    PackersTooHigh,
    /// A sole has to be fixed where a pipe stands.
    FixingOnPipe,
    /// Studs differ in length because floor or ceiling is not level.
    StudsDiffer,
    /// Two readings of one place differ.
    ReadingsDiffer,
    /// A raised sole has no room for its riser.
    NoRiser,
    /// A noggin row would fall in a plate or outside the wall.
    RowOutside,
    /// A noggin of a row steps aside for a box, pipe, duct or pattress.
    RowAside,
    /// There is no timber behind a fixing or a box.
    MissingPattress,
    /// Two boards meet where no stud has room.
    JointBare,
    /// A piece is longer than every bar of its section.
    PieceTooLong,
    /// The timber list has no bar of a section the job uses.
    NoStock,
    /// A box, pipe or duct is in a stud.
    PointInStud,
    /// A stud was to be cut out for a box or duct, and cannot be.
    NotHeaded,
    /// A shifted stud has lost its mark.
    ShiftLost,
    /// Two boxes, pipes or ducts are in each other's way.
    PointsClash,
    /// A box is where there is no wall, or behind an architrave.
    PointAtOpening,
    /// A cable or pipe runs through an opening, or into something that stands in the wall.
    RouteBlocked,
    /// A hole leaves too little of a stud or a plate.
    HoleTooWide,
    /// A notch leaves too little of a stud.
    NotchTooDeep,
    /// A cable runs outside the zones in which one is looked for.
    CableOutsideZone,
    /// A fixing goes into a zone in which cables may run.
    FixingInZone,
    /// A switch or socket is above or below the heights asked for.
    OutsideHeights,
    /// The fit of a point, fitting or opening is outside its wall.
    OutsideWall,
    /// A platform is too small to frame.
    PlatformTooSmall,
    /// Joists, or the rim that carries them, would sag too far.
    SpanTooLong,
    /// A side of a platform that should hang on a wall has none.
    NoBearing,
    /// A platform goes up through the ceiling.
    AboveCeiling,
    /// A platform leaves little head room.
    LowHeadRoom,
    /// A hole runs past the edge of its platform.
    HoleOutside,
    /// A hole leaves no room for timber between it and the edge of its platform.
    HoleNearEdge,
    /// Two holes leave no room for timber between them.
    HolesClash,
    /// A joist lies off its mark, or a sliver away from its neighbour.
    JoistMoved,
    /// Nobody has said what a shelf carries.
    ShelfLoad,
    /// A wall stands up through a platform.
    WallThrough,
    /// The bare studs of a wall would bend too far.
    WallBends,
    /// A bare stud gives more than the duty of its wall allows.
    DutyShort,
    /// A wall stands on a floor that floats.
    FloatingFloor,
    /// A plate has to be joined, and no stud stands where it may be.
    SpliceNowhere,
    /// A frame built on the floor cannot be tilted up.
    CannotTilt,
    /// The make-up of a wall falls short of the sound reduction asked of it, or nobody knows.
    SoundShort,
    /// The make-up of a wall falls short of the fire resistance asked of it, or nobody knows.
    FireShort,
    /// Sound or fire is asked of a wall that typically has it: only a tested system counts.
    AskTested,
}

impl Code {
    /// All codes, in the order of the guide.
    pub const ALL: [Code; 81] = [
        Code::Loadbearing,
        Code::UnderBeam,
        Code::HousingTooDeep,
        Code::MissingPart,
        Code::WallTooShort,
        Code::NoHeight,
        Code::Absurd,
        Code::WallsCross,
        Code::AngledJunction,
        Code::OutsideRoom,
        Code::SurveyOpen,
        Code::SurveySuspect,
        Code::SurveyLoose,
        Code::OpeningPastEnd,
        Code::OpeningNoStud,
        Code::OpeningsClash,
        Code::OpeningTooTall,
        Code::OpeningUpsideDown,
        Code::HeadLaidFlat,
        Code::HoleTooSmall,
        Code::PocketTooShallow,
        Code::PocketFouled,
        Code::TrackNoGround,
        Code::SlideFouled,
        Code::SwingFouled,
        Code::ArchitraveFouled,
        Code::ClearWidthShort,
        Code::NibShort,
        Code::StudShifted,
        Code::StudDropped,
        Code::StudPacked,
        Code::StudAdded,
        Code::CentresTooWide,
        Code::CentresOffBoard,
        Code::BoardEdgeBare,
        Code::JointAtCorner,
        Code::HeavySheet,
        Code::GridNotCarried,
        Code::TimberBelowFloor,
        Code::PackersTooHigh,
        Code::FixingOnPipe,
        Code::StudsDiffer,
        Code::ReadingsDiffer,
        Code::NoRiser,
        Code::RowOutside,
        Code::RowAside,
        Code::MissingPattress,
        Code::JointBare,
        Code::PieceTooLong,
        Code::NoStock,
        Code::PointInStud,
        Code::NotHeaded,
        Code::ShiftLost,
        Code::PointsClash,
        Code::PointAtOpening,
        Code::RouteBlocked,
        Code::HoleTooWide,
        Code::NotchTooDeep,
        Code::CableOutsideZone,
        Code::FixingInZone,
        Code::OutsideHeights,
        Code::OutsideWall,
        Code::PlatformTooSmall,
        Code::SpanTooLong,
        Code::NoBearing,
        Code::AboveCeiling,
        Code::LowHeadRoom,
        Code::HoleOutside,
        Code::HoleNearEdge,
        Code::HolesClash,
        Code::JoistMoved,
        Code::ShelfLoad,
        Code::WallThrough,
        Code::WallBends,
        Code::DutyShort,
        Code::FloatingFloor,
        Code::SpliceNowhere,
        Code::CannotTilt,
        Code::SoundShort,
        Code::FireShort,
        Code::AskTested,
    ];

    /// Its name in lists and JSON.
    pub fn id(self) -> &'static str {
        match self {
            Code::Loadbearing => "loadbearing",
            Code::UnderBeam => "under-beam",
            Code::HousingTooDeep => "housing-too-deep",
            Code::MissingPart => "missing-part",
            Code::WallTooShort => "wall-too-short",
            Code::NoHeight => "no-height",
            Code::Absurd => "absurd-number",
            Code::WallsCross => "walls-cross",
            Code::AngledJunction => "angled-junction",
            Code::OutsideRoom => "outside-room",
            Code::SurveyOpen => "survey-open",
            Code::SurveySuspect => "survey-suspect",
            Code::SurveyLoose => "survey-loose",
            Code::OpeningPastEnd => "opening-past-end",
            Code::OpeningNoStud => "opening-no-stud",
            Code::OpeningsClash => "openings-clash",
            Code::OpeningTooTall => "opening-too-tall",
            Code::OpeningUpsideDown => "opening-upside-down",
            Code::HeadLaidFlat => "head-laid-flat",
            Code::HoleTooSmall => "hole-too-small",
            Code::PocketTooShallow => "pocket-too-shallow",
            Code::PocketFouled => "pocket-fouled",
            Code::TrackNoGround => "track-no-ground",
            Code::SlideFouled => "slide-fouled",
            Code::SwingFouled => "swing-fouled",
            Code::ArchitraveFouled => "architrave-fouled",
            Code::ClearWidthShort => "clear-width-short",
            Code::NibShort => "nib-short",
            Code::StudShifted => "stud-shifted",
            Code::StudDropped => "stud-dropped",
            Code::StudPacked => "stud-packed",
            Code::StudAdded => "stud-added",
            Code::CentresTooWide => "centres-too-wide",
            Code::CentresOffBoard => "centres-off-board",
            Code::BoardEdgeBare => "board-edge-bare",
            Code::JointAtCorner => "joint-at-corner",
            Code::HeavySheet => "heavy-sheet",
            Code::GridNotCarried => "grid-not-carried",
            Code::TimberBelowFloor => "timber-below-floor",
            Code::PackersTooHigh => "packers-too-high",
            Code::FixingOnPipe => "fixing-on-pipe",
            Code::StudsDiffer => "studs-differ",
            Code::ReadingsDiffer => "readings-differ",
            Code::NoRiser => "no-riser",
            Code::RowOutside => "row-outside",
            Code::RowAside => "row-aside",
            Code::MissingPattress => "missing-pattress",
            Code::JointBare => "joint-bare",
            Code::PieceTooLong => "piece-too-long",
            Code::NoStock => "no-stock",
            Code::PointInStud => "point-in-stud",
            Code::NotHeaded => "not-headed",
            Code::ShiftLost => "shift-lost",
            Code::PointsClash => "points-clash",
            Code::PointAtOpening => "point-at-opening",
            Code::RouteBlocked => "route-blocked",
            Code::HoleTooWide => "hole-too-wide",
            Code::NotchTooDeep => "notch-too-deep",
            Code::CableOutsideZone => "cable-outside-zone",
            Code::FixingInZone => "fixing-in-zone",
            Code::OutsideHeights => "outside-heights",
            Code::OutsideWall => "outside-wall",
            Code::PlatformTooSmall => "platform-too-small",
            Code::SpanTooLong => "span-too-long",
            Code::NoBearing => "no-bearing",
            Code::AboveCeiling => "above-ceiling",
            Code::LowHeadRoom => "low-head-room",
            Code::HoleOutside => "hole-outside",
            Code::HoleNearEdge => "hole-near-edge",
            Code::HolesClash => "holes-clash",
            Code::JoistMoved => "joist-moved",
            Code::ShelfLoad => "shelf-load",
            Code::WallThrough => "wall-through-platform",
            Code::WallBends => "wall-bends",
            Code::DutyShort => "duty-short",
            Code::FloatingFloor => "floating-floor",
            Code::SpliceNowhere => "splice-nowhere",
            Code::CannotTilt => "cannot-tilt",
            Code::SoundShort => "sound-short",
            Code::FireShort => "fire-short",
            Code::AskTested => "tested-system",
        }
    }

    /// How serious it is.
    pub fn severity(self) -> Severity {
        match self {
            Code::Loadbearing | Code::UnderBeam => Severity::Stop,
            Code::StudShifted
            | Code::StudDropped
            | Code::StudPacked
            | Code::StudAdded
            | Code::ShiftLost
            | Code::FixingInZone
            | Code::OutsideHeights
            | Code::HeadLaidFlat
            | Code::NibShort
            | Code::RowAside
            | Code::AngledJunction
            | Code::CentresOffBoard
            | Code::JointAtCorner
            | Code::HeavySheet
            | Code::SurveyLoose
            | Code::GridNotCarried
            | Code::TimberBelowFloor
            | Code::StudsDiffer
            | Code::ReadingsDiffer
            | Code::NoStock
            | Code::LowHeadRoom
            | Code::JoistMoved
            | Code::ShelfLoad
            | Code::AskTested => Severity::Note,
            _ => Severity::Mend,
        }
    }

    /// Where its limit comes from when no rule says it.
    fn usual_source(self) -> &'static str {
        match self {
            Code::Loadbearing | Code::UnderBeam => "an engineer and the local code decide",
            Code::SpanTooLong => {
                "indicative: 5wL⁴/384EI with E0,mean of EN 338:2016, sag to 0.003 of the span (BS 5268-2, 2.10.7); licensed practice decides"
            }
            Code::SurveyOpen | Code::SurveySuspect => {
                "data snooping at one in a thousand (Baarda 1968); your tape and your care decide"
            }
            Code::TimberBelowFloor => {
                "NHBC Standards 6.3.9: lowest timber at or above finished floor level"
            }
            Code::FloatingFloor => {
                "NHBC Standards 6.3.8: not on a floating floor with a layer that gives"
            }
            Code::ClearWidthShort => {
                "after Approved Document M (effective clear width); indicative, local guidance decides"
            }
            _ => "common practice",
        }
    }
}

/// The beginning of a sentence: “Hatch” for “hatch”.
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map(|c| c.to_uppercase().chain(letters).collect()).unwrap_or_default()
}

/// One snag: its [`Facts`], shared. A layout gathers the snags of every wall at every step of a drag.
#[derive(Clone, Debug)]
pub struct Snag(Arc<Facts>);

/// What is known of a snag.
#[derive(Clone, Debug, PartialEq)]
pub struct Facts {
    /// What kind it is.
    pub code: Code,
    /// What it is about.
    pub of: ItemRef,
    /// The wall it is in, when it is in one.
    pub wall: Option<Name>,
    /// Station along that wall, mm, when it has one.
    pub station: Option<f64>,
    /// Height above FFL, mm, when it has one.
    pub height: Option<f64>,
    /// What was found, mm, or in its unit.
    pub value: Option<f64>,
    /// What would do, mm, or in its unit.
    pub limit: Option<f64>,
    /// What the two are in, when they are not lengths: “dB”.
    pub unit: Option<&'static str>,
    /// Where the limit comes from, when a rule says it.
    pub rule_source: Option<Name>,
    /// What is wrong: what, where, how much.
    pub message: Arc<str>,
    /// What to do about it.
    pub remedy: Arc<str>,
}

impl Deref for Snag {
    type Target = Facts;

    fn deref(&self) -> &Facts {
        &self.0
    }
}

impl PartialEq for Snag {
    fn eq(&self, other: &Snag) -> bool {
        Arc::ptr_eq(&self.0, &other.0) || self.0 == other.0
    }
}

impl Snag {
    /// A snag about `of`, with nothing known of its place yet.
    pub fn new(
        code: Code,
        of: ItemRef,
        message: impl Into<Arc<str>>,
        remedy: impl Into<Arc<str>>,
    ) -> Snag {
        Snag(Arc::new(Facts {
            code,
            of,
            wall: None,
            station: None,
            height: None,
            value: None,
            limit: None,
            unit: None,
            rule_source: None,
            message: message.into(),
            remedy: remedy.into(),
        }))
    }

    fn with(mut self, say: impl FnOnce(&mut Facts)) -> Snag {
        say(Arc::make_mut(&mut self.0));
        self
    }

    /// The same snag, placed in a wall.
    #[must_use]
    pub fn in_wall(self, wall: &Name, station: f64) -> Snag {
        self.with(|facts| (facts.wall, facts.station) = (Some(wall.clone()), Some(station)))
    }

    /// The same snag, placed at a height.
    #[must_use]
    pub fn at_height(self, height: f64) -> Snag {
        self.with(|facts| facts.height = Some(height))
    }

    /// The same snag with what was found and what would do.
    #[must_use]
    pub fn measured(self, value: f64, limit: f64) -> Snag {
        self.with(|facts| (facts.value, facts.limit) = (Some(value), Some(limit)))
    }

    /// The same snag with what was found and what would do, in `unit`.
    #[must_use]
    pub fn measured_in(self, unit: &'static str, value: f64, limit: f64) -> Snag {
        self.measured(value, limit).with(|facts| facts.unit = Some(unit))
    }

    /// The same snag, its limit from `source`.
    #[must_use]
    pub fn by(self, source: Name) -> Snag {
        self.with(|facts| facts.rule_source = Some(source))
    }

    /// Where its limit comes from.
    pub fn source(&self) -> &str {
        self.rule_source.as_ref().map_or_else(|| self.code.usual_source(), Name::as_str)
    }

    /// Where it is: “wall A, 2 300 along, 1 200 up”.
    pub fn place(&self, units: Units) -> String {
        let whose = self.wall.as_ref();
        let mut parts = vec![whose.map_or_else(|| self.of.label(), |wall| format!("wall {wall}"))];
        parts.extend(self.station.map(|s| format!("{} along", units.show(s))));
        parts.extend(self.height.map(|z| format!("{} up", units.show(z))));
        parts.join(", ")
    }

    /// How serious it is.
    pub fn severity(&self) -> Severity {
        self.code.severity()
    }
}
