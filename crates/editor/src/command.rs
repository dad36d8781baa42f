//! Everything the hand can ask for.

use std::path::PathBuf;

use layout_core::document::Edit;
use layout_core::id::{ItemRef, Name};

use crate::gesture::Gesture;
use crate::session::{Tool, Where};

/// One request. Views push these; [`crate::run`] carries them out.
#[derive(Clone, Debug, PartialEq)]
pub enum Command {
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
}
