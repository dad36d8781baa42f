//! What belongs to this run of the program: the committed job, its history, what is picked, the
//! tool in the hand and the drag under way. Written by [`crate::run`] only.

use std::path::PathBuf;
use std::sync::Arc;

use layout_core::document::{Face, Job};
use layout_core::id::{ItemRef, Name};

use crate::gesture::Gesture;
use crate::history::History;

/// The five places of the window.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Where {
    /// Plan and elevation.
    #[default]
    Draw,
    /// What is or will be wrong.
    Snags,
    /// What to cut, in which order.
    Saw,
    /// What to buy.
    Yard,
    /// The prints.
    Sheets,
}

/// The tool in the hand in Draw.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Tool {
    /// Pick and drag.
    #[default]
    Pick,
    /// Draw the room, corner by corner.
    Room,
    /// Draw a wall between two points.
    Wall,
    /// Put a door in a wall.
    Door,
    /// Put another kind of opening in a wall.
    Opening,
    /// Put a first-fix point on a face.
    Point,
    /// Hang something on a face.
    Fitting,
    /// Put up a post.
    Post,
    /// Lay a beam.
    Beam,
}

/// One run of the program.
pub struct Session {
    /// The job as last committed, with what came before it and what was undone.
    pub history: History,
    /// The file it is saved in.
    pub path: Option<PathBuf>,
    /// The committed job as it was last saved or opened.
    pub saved: Arc<Job>,
    /// Where we are.
    pub place: Where,
    /// The tool in the hand.
    pub tool: Tool,
    /// What is picked.
    pub picked: Option<ItemRef>,
    /// The wall whose elevation is shown.
    pub wall: Option<Name>,
    /// The face the elevation is seen from.
    pub face: Face,
    /// The drag under way.
    pub gesture: Option<Gesture>,
    /// A message to the person, with how grave it is.
    pub message: Option<Message>,
}

/// A message to the person.
#[derive(Clone, Debug, PartialEq)]
pub struct Message {
    /// What happened, and what to do.
    pub text: String,
    /// True when something could not be done.
    pub failed: bool,
}

impl Session {
    /// A session on `job`.
    pub fn new(job: Job, path: Option<PathBuf>) -> Session {
        let job = Arc::new(job);
        let wall = job.walls.first().map(|w| w.name.clone());
        Session {
            saved: job.clone(),
            history: History::new(job),
            path,
            place: Where::Draw,
            tool: Tool::Pick,
            picked: wall.clone().map(ItemRef::Wall),
            wall,
            face: Face::Right,
            gesture: None,
            message: None,
        }
    }

    /// The job as it is on screen: committed, with what the drag under way amounts to.
    pub fn live(&self) -> Arc<Job> {
        match self.gesture.as_ref().and_then(|g| g.edit(self.history.job())) {
            Some(edit) => Arc::new(edit.apply(self.history.job())),
            None => self.history.job().clone(),
        }
    }

    /// True when there is something to save.
    pub fn changed(&self) -> bool {
        !Arc::ptr_eq(&self.saved, self.history.job()) && *self.saved != **self.history.job()
    }
}
