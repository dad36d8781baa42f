//! Doors: the leaf, what it hangs or slides in, and how the hole in the frame is worked out from it.

use serde::{Deserialize, Serialize};

use super::Face;
use super::is_default;
use crate::math::SAME;
use crate::span::Span;

/// The side a door hangs on, as seen on the wall's right face; the side a sliding leaf opens towards.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Hinge {
    /// At the jamb nearer the wall's start.
    #[default]
    Start,
    /// At the jamb nearer the wall's end.
    End,
}

/// The hand of a hung leaf: the side its hinges are on for one who stands where it opens towards.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hand {
    /// Hinges on the left.
    Left,
    /// Hinges on the right.
    Right,
}

impl Hand {
    /// “left”, “right”.
    pub fn label(self) -> &'static str {
        match self {
            Hand::Left => "left",
            Hand::Right => "right",
        }
    }
}

/// How a door moves.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum DoorStyle {
    /// One hung leaf.
    #[default]
    Single,
    /// A pair of hung leaves, each of the given width, meeting in the middle.
    Double,
    /// One leaf that slides along the face of the wall.
    Sliding,
    /// One leaf that slides into a pocket framed in the wall.
    Pocket,
}

/// A door lining.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Lining {
    /// Its thickness.
    pub thickness: f64,
    /// Depth of the rebate the leaf shuts into; 0 for a planted stop.
    #[serde(default, skip_serializing_if = "is_default")]
    pub rebate: f64,
}

/// The moulding that covers the joint between lining and boards, on each face.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Architrave {
    /// Its width; 0 for none.
    pub width: f64,
    /// How far it stands back from the edge of the lining.
    pub set_back: f64,
}

/// A door, described by its leaf; the hole follows from it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Door {
    /// Leaf width, height and thickness.
    pub leaf: (f64, f64, f64),
    /// The lining.
    #[serde(default)]
    pub lining: Lining,
    /// Gap between leaf and lining at each side and at the top.
    #[serde(default = "usual_gap")]
    pub gap: f64,
    /// Gap between leaf and finished floor.
    #[serde(default = "usual_threshold")]
    pub threshold: f64,
    /// Packing behind the lining at each side and at the top.
    #[serde(default = "usual_packing")]
    pub packing: f64,
    /// How it moves.
    #[serde(default, skip_serializing_if = "is_default")]
    pub style: DoorStyle,
    /// The side it hangs on, or slides to.
    #[serde(default, skip_serializing_if = "is_default")]
    pub hinge: Hinge,
    /// The face it opens towards (or slides on).
    #[serde(default, skip_serializing_if = "is_default")]
    pub opens: Face,
    /// How far a sliding leaf, shut, laps what it slides past: the lining at each side and the head on the face
    /// of a wall (0: it fills the lining with its gaps), the mouth of its pocket in one.
    #[serde(default, skip_serializing_if = "is_default")]
    pub lap: f64,
    /// Height from the top of a sliding leaf to the top of its track.
    #[serde(default = "usual_track", skip_serializing_if = "is_usual_track")]
    pub track: f64,
    /// Thickness of the slats either side of a pocket.
    #[serde(default = "usual_slat", skip_serializing_if = "is_usual_slat")]
    pub slat: f64,
    /// How far a planted stop stands out from its lining.
    #[serde(default = "usual_stop", skip_serializing_if = "is_usual_stop")]
    pub stop: f64,
    /// Its architraves.
    #[serde(default, skip_serializing_if = "is_default")]
    pub architrave: Architrave,
    /// The clear width it has to give, where one is asked for.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wanted: Option<f64>,
    /// Width and top above FFL of the structural hole, where they are given outright; what is over goes to
    /// packing.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub hole: Option<(f64, f64)>,
}

fn usual_gap() -> f64 {
    3.0
}

fn usual_threshold() -> f64 {
    8.0
}

fn usual_packing() -> f64 {
    5.0
}

fn usual_track() -> f64 {
    60.0
}

fn usual_slat() -> f64 {
    20.0
}

fn usual_stop() -> f64 {
    12.0
}

#[allow(clippy::trivially_copy_pass_by_ref)]
fn is_usual_track(track: &f64) -> bool {
    *track == usual_track()
}

#[allow(clippy::trivially_copy_pass_by_ref)]
fn is_usual_slat(slat: &f64) -> bool {
    *slat == usual_slat()
}

#[allow(clippy::trivially_copy_pass_by_ref)]
fn is_usual_stop(stop: &f64) -> bool {
    *stop == usual_stop()
}

impl Default for Lining {
    fn default() -> Lining {
        Lining { thickness: 30.0, rebate: 0.0 }
    }
}

impl Default for Architrave {
    fn default() -> Architrave {
        Architrave { width: 57.0, set_back: 6.0 }
    }
}

impl Default for Door {
    fn default() -> Door {
        Door {
            leaf: (762.0, 1981.0, 35.0),
            lining: Lining::default(),
            gap: usual_gap(),
            threshold: usual_threshold(),
            packing: usual_packing(),
            style: DoorStyle::default(),
            hinge: Hinge::default(),
            opens: Face::default(),
            lap: 0.0,
            track: usual_track(),
            slat: usual_slat(),
            stop: usual_stop(),
            architrave: Architrave::default(),
            wanted: None,
            hole: None,
        }
    }
}

/// One line of the sum that makes a hole out of a leaf.
#[derive(Clone, Debug, PartialEq)]
pub struct StackLine {
    /// “leaf”, “gaps”, “lining”, “packing” …
    pub what: &'static str,
    /// Its share of the width, mm.
    pub width: f64,
    /// Its share of the height above FFL, mm.
    pub height: f64,
}

/// How the structural hole is made up, from the leaf outwards.
#[derive(Clone, Debug, PartialEq)]
pub struct Stack {
    /// The terms.
    pub lines: Vec<StackLine>,
    /// Structural width.
    pub width: f64,
    /// Top of the structural hole above FFL.
    pub height: f64,
}

/// The least packing a direct structural size may leave before it is short: a shaving, mm.
const SHAVING: f64 = 0.5;

impl Door {
    /// The sum from the leaf to the hole, every term a line.
    ///
    /// Width: leaves + gaps + linings less rebates + packing. A leaf that slides on the face laps the lining
    /// instead of leaving gaps, once its lap is given. One that slides into the wall: leaf in the doorway and
    /// leaf in the pocket, less the lap it keeps in the mouth of the pocket, a gap behind it, one lining at the
    /// closing jamb (the other stands beside the leaf, in the mouth) and packing.
    ///
    /// Height above FFL: leaf + threshold and head gap + lining less rebate + packing; a sliding leaf laps the
    /// head, or hangs on a track that takes the place of gap and lining.
    ///
    /// Where the hole is given outright the last line is what it differs by.
    pub fn stack(&self) -> Stack {
        let (leaf_width, leaf_height, _) = self.leaf;
        let lining = self.lining.thickness - self.lining.rebate;
        let line = |what, width, height| StackLine { what, width, height };
        let packing = line("packing", 2.0 * self.packing, self.packing);
        let hung = |leaves: f64| {
            vec![
                line("leaf", leaves * leaf_width, leaf_height),
                line("gaps", (leaves + 1.0) * self.gap, self.threshold + self.gap),
                line("lining", 2.0 * lining, lining),
            ]
        };
        let mut lines = match self.style {
            DoorStyle::Double => hung(2.0),
            DoorStyle::Sliding if self.lap > 0.0 => vec![
                line("leaf", leaf_width, leaf_height),
                line("gap at floor", 0.0, self.threshold),
                line("lap", -2.0 * self.lap, -self.lap),
                line("lining", 2.0 * lining, lining),
            ],
            DoorStyle::Single | DoorStyle::Sliding => hung(1.0),
            DoorStyle::Pocket => vec![
                line("leaf", leaf_width, leaf_height),
                line("leaf in pocket", leaf_width, 0.0),
                line("lap", -self.lap, 0.0),
                line("gaps", self.gap, self.threshold),
                line("lining", self.lining.thickness, 0.0),
                line("track", 0.0, self.track),
            ],
        };
        lines.push(packing);
        let sum = |lines: &[StackLine]| {
            let width: f64 = lines.iter().map(|l| l.width).sum();
            let height: f64 = lines.iter().map(|l| l.height).sum();
            (width, height)
        };
        let (width, height) = sum(&lines);
        let Some(hole) = self.hole else { return Stack { lines, width, height } };
        lines.push(line("as entered", hole.0 - width, hole.1 - height));
        Stack { lines, width: hole.0, height: hole.1 }
    }

    /// How much a hole given outright is too small for the leaf and what goes round it: width and height, mm;
    /// zero for what is not short. Packing may be used up first.
    pub fn short_of(&self) -> (f64, f64) {
        let Some((width, height)) = self.hole else { return (0.0, 0.0) };
        let sum = Door { hole: None, packing: 0.0, ..self.clone() }.stack();
        let short = |least: f64, given: f64| {
            if least - given > SHAVING { least - given } else { 0.0 }
        };
        (short(sum.width, width), short(sum.height, height))
    }

    /// Of the structural hole, the part one walks through and the pocket the leaf slides into.
    pub fn parts(&self, hole: Span) -> (Span, Option<Span>) {
        if self.style != DoorStyle::Pocket {
            return (hole, None);
        }
        // From the closing jamb: packing, lining, what is left clear, and the lining in the mouth.
        let doorway = self.packing + 2.0 * self.lining.thickness + self.leaf.0 - self.lap;
        let doorway = doorway.clamp(0.0, hole.length().max(0.0));
        match self.hinge {
            Hinge::Start => {
                let mouth = hole.high - doorway;
                (Span { low: mouth, high: hole.high }, Some(Span { low: hole.low, high: mouth }))
            }
            Hinge::End => {
                let mouth = hole.low + doorway;
                (Span { low: hole.low, high: mouth }, Some(Span { low: mouth, high: hole.high }))
            }
        }
    }

    /// Packing at each side of the lining as it comes out: what is given, and half of what a hole given outright
    /// has over. Of a pocket everything over goes to the pocket.
    pub fn packing_each(&self) -> f64 {
        match self.hole {
            Some((width, _)) if self.style != DoorStyle::Pocket => {
                let sum = Door { hole: None, ..self.clone() }.stack().width;
                (self.packing + (width - sum) / 2.0).max(0.0)
            }
            _ => self.packing,
        }
    }

    /// Between the faces of the lining, in `doorway`: the part of the hole one walks through.
    pub fn between_linings(&self, doorway: Span) -> Span {
        let (packing, thickness) = (self.packing_each(), self.lining.thickness);
        let inner = Span {
            low: doorway.low + packing + thickness,
            high: doorway.high - packing - thickness,
        };
        match (self.style, self.hinge) {
            // In the mouth the lining stands on the slats, without packing.
            (DoorStyle::Pocket, Hinge::Start) => Span { low: inner.low - packing, ..inner },
            (DoorStyle::Pocket, Hinge::End) => Span { high: inner.high + packing, ..inner },
            _ => inner,
        }
    }

    /// The leaves when shut, each with the side it hangs on (or slides to), along the wall.
    pub fn leaves(&self, hole: Span) -> Vec<(Hinge, Span)> {
        let width = self.leaf.0;
        let (doorway, _) = self.parts(hole);
        let clear = self.between_linings(doorway).grown(self.lining.rebate);
        let single = |from: f64| vec![(self.hinge, Span::from(from, width))];
        match self.style {
            DoorStyle::Single => match self.hinge {
                Hinge::Start => single(clear.low + self.gap),
                Hinge::End => single(clear.high - self.gap - width),
            },
            DoorStyle::Double => vec![
                (Hinge::Start, Span::from(clear.low + self.gap, width)),
                (
                    Hinge::End,
                    Span { low: clear.high - self.gap - width, high: clear.high - self.gap },
                ),
            ],
            DoorStyle::Sliding => single(clear.centre() - width / 2.0),
            // Shut against the lining of the closing jamb.
            DoorStyle::Pocket => match self.hinge {
                Hinge::Start => single(clear.high - width),
                Hinge::End => single(clear.low),
            },
        }
    }

    /// The way a sliding leaf goes and how far: its place when it is open.
    pub fn slid_open(&self, shut: Span) -> Span {
        let by = match self.style {
            DoorStyle::Sliding if self.lap > 0.0 => shut.length() - self.lap,
            DoorStyle::Sliding => shut.length(),
            DoorStyle::Pocket => shut.length() - self.lap,
            DoorStyle::Single | DoorStyle::Double => 0.0,
        };
        match self.hinge {
            Hinge::Start => shut.moved(-by),
            Hinge::End => shut.moved(by),
        }
    }

    /// The hand of a single hung leaf; `None` for the others.
    pub fn hand(&self) -> Option<Hand> {
        match (self.style, self.hinge, self.opens) {
            (DoorStyle::Single, Hinge::Start, Face::Right)
            | (DoorStyle::Single, Hinge::End, Face::Left) => Some(Hand::Left),
            (DoorStyle::Single, ..) => Some(Hand::Right),
            _ => None,
        }
    }

    /// The width one can pass with the leaf open at a right angle (or slid away), mm, before handles: of a hung
    /// leaf, leaf + gap less the stop at the closing jamb and, at the hanging one, the open leaf's thickness or
    /// the stop, whichever is more. Indicative: after the effective clear width of Approved Document M, which
    /// also takes off any pull handle.
    pub fn clear_width(&self) -> f64 {
        let (leaf, _, thickness) = self.leaf;
        // A rebate is a stop cut in the lining.
        let stop = if self.lining.rebate > 0.0 { self.lining.rebate } else { self.stop };
        let hung = thickness.max(stop);
        match self.style {
            DoorStyle::Single => leaf + self.gap - stop - hung,
            DoorStyle::Double => 2.0 * leaf + 3.0 * self.gap - 2.0 * hung,
            DoorStyle::Sliding if self.lap > 0.0 => leaf - 2.0 * self.lap,
            DoorStyle::Sliding => leaf + 2.0 * self.gap,
            DoorStyle::Pocket => leaf - self.lap,
        }
    }

    /// Depth of frame a pocket needs: the leaf, a little air either side of it, and two slats.
    pub fn pocket_depth(&self) -> f64 {
        self.leaf.2 + 2.0 * (AIR + self.slat)
    }

    /// What the architraves cover beside and over the hole, from the edge of the hole outwards, mm; negative
    /// where they do not reach it.
    pub fn architrave_past(&self) -> f64 {
        if self.architrave.width < SAME {
            return 0.0;
        }
        self.architrave.set_back + self.architrave.width
            - self.lining.thickness
            - self.packing_each()
    }
}

/// Air a leaf needs either side of it in its pocket, mm. Common practice.
const AIR: f64 = 6.0;
