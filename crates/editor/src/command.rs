//! Everything the hand can ask for.

use std::path::PathBuf;
use std::sync::Arc;

use layout_core::document::{Edit, Job};
use layout_core::id::{ItemRef, Name};
use layout_core::math::PlanPoint;
use layout_core::snag::Snag;

use crate::derived::{Compared, Planned, WhatIfs};
use crate::exchange::Form;
use crate::files::Recovery;
use crate::gesture::Gesture;
use crate::prefs::Preference;
use crate::prices::PriceOffer;
use crate::prints::Prints;
use crate::session::{Dialog, Message, PathAsk, Tool, View, Where};
use crate::under::Under;

/// One request. Views push these; [`crate::run`] carries them out.
#[derive(Clone, Debug, PartialEq)]
pub enum Command {
    /// These, one after the other.
    Each(Vec<Command>),
    /// Go to one of the five places.
    Go(Where),
    /// Take a tool.
    Take(Tool),
    /// Pick something, or nothing.
    Pick(Option<ItemRef>),
    /// Show the elevation of a wall.
    ShowWall(Name),
    /// See the elevation from the other face.
    OtherFace,
    /// Show this layer of boards in the elevation, or none.
    Boards(Option<usize>),
    /// Show the zones in which cables run, or none.
    Zones(bool),
    /// Move the eye over the drawing.
    View(View),
    /// Show the ways to mend a snag, or put them away.
    Mend(Option<Box<Snag>>),
    /// Ask for the reason a snag is let stand, or no longer.
    AskReason(Option<Box<Snag>>),
    /// Show what an edit would do without doing it, or the job as it is again.
    Preview(Option<Edit>),
    /// Show what the choices for what is picked come to, under the elevation, or put that away.
    Compare(bool),
    /// Compare the ways to lay a wall's boards, or the places for its odd bay.
    CompareBoards(bool),
    /// Put a drawing or a picture under the plan, asking for it when no path is given.
    PlaceUnder(Option<PathBuf>),
    /// Click two points of what lies under the plan, or no longer.
    MarkUnder(bool),
    /// One of them was clicked.
    Marked(PlanPoint),
    /// Change the document, as one step.
    Edit(Edit),
    /// Start or carry on a drag.
    Drag(Gesture),
    /// Let go: the drag becomes one step.
    Drop,
    /// Give the drag back: nothing has changed.
    Cancel,
    /// Undo a step.
    Undo,
    /// Redo a step.
    Redo,
    /// Start a new job from a starter.
    New(String),
    /// Open a job file, asking for it when no path is given.
    Open(Option<PathBuf>),
    /// Save, asking for a path when there is none.
    Save,
    /// Save under another path, asking for it when none is given.
    SaveAs(Option<PathBuf>),
    /// Print the whole set as one PDF, asking for a path when none is given.
    ExportPdf(Option<PathBuf>),
    /// Write one page of the set, counted from 0, as SVG, asking for a path when none is given.
    ExportSvg(usize, Option<PathBuf>),
    /// Write a file for another program, asking for a path when none is given.
    ExportFor(Form, Option<PathBuf>),
    /// Read a price list and offer what it would change, asking for the file when none is given.
    TakePrices(Option<PathBuf>),
    /// Write the price list for the merchant to fill in, asking for a path when none is given.
    WritePrices(Option<PathBuf>),
    /// Write one page of the set, counted from 0, as PDF, asking for a path when none is given.
    ExportPage(usize, Option<PathBuf>),
    /// Show the prints in whatever the system shows such files with.
    ViewPrints,
    /// Send the prints to the system's printer.
    SendPrints,
    /// Stop drawing the prints.
    StopPrints,
    /// Draw the prints after they were stopped.
    DrawPrints,
    /// Show a file in whatever the system shows such files with.
    ShowFile(PathBuf),
    /// Ask something in front of everything else.
    Ask(Dialog),
    /// Put away what is asked.
    Dismiss,
    /// Do this without asking about what is not saved.
    Anyway(Box<Command>),
    /// Save, then do this.
    SaveThen(Box<Command>),
    /// Change what is remembered between runs.
    Prefer(Preference),
    /// Save under this path, then do this.
    SaveAsThen(PathBuf, Box<Command>),
    /// Put unsaved work from an earlier run on the desk.
    Recover(Box<Recovery>),
    /// Throw unsaved work from an earlier run away.
    Discard(Box<Recovery>),
    /// Tell the person something.
    Say(Message),
    /// Put the message away.
    Hush,
    /// Leave the program.
    Quit,
    /// Work in the background has come to an end.
    Finished(Finished),
}

/// What background work came to.
#[derive(Clone, Debug, PartialEq)]
pub enum Finished {
    /// A file was read.
    Opened {
        /// Where it was.
        path: PathBuf,
        /// What it held.
        job: Arc<Job>,
        /// Unsaved work on it, when there is some.
        found: Option<Box<Recovery>>,
    },
    /// What lies under the plan was read.
    Under {
        /// True when it was put there just now.
        placed: bool,
        /// What was read.
        under: Arc<Under>,
    },
    /// Unsaved work was found.
    Found(Box<Recovery>),
    /// The job was written.
    Saved {
        /// Where to.
        path: PathBuf,
        /// What was written.
        job: Arc<Job>,
        /// Something to know about how it was written.
        remark: Option<String>,
        /// What was to be done next.
        then: Option<Box<Command>>,
    },
    /// It was done, and nobody needs to know.
    Nothing,
    /// The print set was drawn.
    Printed(Arc<Prints>),
    /// Choices were compared; nothing when it was given up.
    Compared(Option<Arc<Compared>>),
    /// The whole job with other choices, as far as it has been worked out.
    WhatIf(Arc<WhatIfs>),
    /// Cutting plans were found, which may be followed by better ones.
    Planned(Arc<Planned>),
    /// A price list was read.
    Prices(Box<PriceOffer>),
    /// A print was written.
    Exported(PathBuf),
    /// The system gave a path for what was asked.
    Chose {
        /// What the path is for.
        ask: PathAsk,
        /// The path; `None` when nothing was chosen.
        path: Option<PathBuf>,
        /// True when the answer came so fast that nobody can have seen a question.
        at_once: bool,
    },
    /// The system was asked to show a file; whether it does, it does not say.
    Showing(PathBuf),
    /// A print was sent to the printer.
    Sent(PathBuf),
    /// It could not be done.
    Failed(String),
}
