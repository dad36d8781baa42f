//! What belongs to this run of the program: the committed job, its history, what is picked, the
//! tool in the hand and the drag under way. Written by [`crate::run`] only.

use std::path::PathBuf;
use std::sync::Arc;

use layout_core::document::{Edit, Face, Job};
use layout_core::id::{ItemRef, Name};
use layout_core::math::PlanPoint;
use layout_core::snag::Snag;

use crate::command::Command;
use crate::exchange::Form;
use crate::files::Recovery;
use crate::gesture::Gesture;
use crate::history::History;
use crate::prices::PriceOffer;
use crate::under::Under;

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

impl Where {
    /// All five, in the order of the tabs.
    pub const ALL: [Where; 5] = [Where::Draw, Where::Snags, Where::Saw, Where::Yard, Where::Sheets];

    /// What its tab says.
    pub fn label(self) -> &'static str {
        match self {
            Where::Draw => "Draw",
            Where::Snags => "Snags",
            Where::Saw => "Saw",
            Where::Yard => "Yard",
            Where::Sheets => "Sheets",
        }
    }
}

/// A way to move the eye over the drawing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum View {
    /// All of it, in both views.
    Fit,
    /// What is picked.
    FitPicked,
    /// Nearer.
    In,
    /// Further away.
    Out,
    /// Plan and elevation.
    Both,
    /// The plan fills the place.
    PlanOnly,
    /// The elevation fills the place.
    ElevationOnly,
}

/// Something asked in front of everything else.
#[derive(Clone, Debug, PartialEq)]
pub enum Dialog {
    /// Every action, to be searched.
    Find,
    /// Every key.
    Keys,
    /// Which starter to begin with.
    Starters,
    /// A path, to be typed, with the reason why it has to be when there is one.
    Path(PathAsk, Option<String>),
    /// What to do about work that is not saved, before doing this.
    Unsaved(Box<Command>),
    /// Unsaved work was found from a run that did not end well.
    Recover(Box<Recovery>),
    /// What a price list would change, or what is wrong with it.
    Prices(Box<PriceOffer>),
}

/// What a path is asked for.
#[derive(Clone, Debug, PartialEq)]
pub enum PathAsk {
    /// A job to open.
    Open,
    /// Where to save, and what to do then.
    Save(Option<Box<Command>>),
    /// Where to write the PDF.
    Pdf,
    /// Where to write this page as PDF.
    Page(usize),
    /// Where to write this page as SVG.
    Svg(usize),
    /// Where to write a file for another program.
    For(Form),
    /// A drawing or a picture to put under the plan.
    Under,
    /// A price list to take over.
    Prices,
    /// Where to write the price list for the merchant.
    PriceList,
}

impl PathAsk {
    /// True for a file that has to be there already.
    pub fn is_to_read(&self) -> bool {
        matches!(self, PathAsk::Open | PathAsk::Under | PathAsk::Prices)
    }
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
    /// Draw the foot of a roof slope.
    Roof,
    /// Joist out a low ceiling, a shelf or a bulkhead.
    Platform,
    /// Read a level of floor or ceiling.
    Level,
}

impl Tool {
    /// All of them, in the order of the rail.
    pub const ALL: [Tool; 12] = [
        Tool::Pick,
        Tool::Room,
        Tool::Wall,
        Tool::Door,
        Tool::Opening,
        Tool::Point,
        Tool::Fitting,
        Tool::Post,
        Tool::Beam,
        Tool::Roof,
        Tool::Platform,
        Tool::Level,
    ];

    /// What the rail says.
    pub fn label(self) -> &'static str {
        match self {
            Tool::Pick => "Pick",
            Tool::Room => "Room",
            Tool::Wall => "Wall",
            Tool::Door => "Door",
            Tool::Opening => "Opening",
            Tool::Point => "Point",
            Tool::Fitting => "Fitting",
            Tool::Post => "Post",
            Tool::Beam => "Beam",
            Tool::Roof => "Roof",
            Tool::Platform => "Platform",
            Tool::Level => "Level",
        }
    }
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
    /// The layer of boards the elevation shows, from 0 at the frame.
    pub boards: Option<usize>,
    /// True while the elevation shows the zones in which cables run.
    pub zones: bool,
    /// The snag whose ways to mend are shown.
    pub mending: Option<Snag>,
    /// The snag a reason is asked for, to let it stand.
    pub accepting: Option<Snag>,
    /// What is shown done while it is pointed at.
    pub preview: Option<Edit>,
    /// What lies under the plan, as it was read.
    pub under: Option<Arc<Under>>,
    /// The points of it that were clicked, at most two, while they are asked for.
    pub marking: Option<Vec<PlanPoint>>,
    /// True while choices for what is picked stand under the elevation.
    pub comparing: bool,
    /// True when it is the boards of a wall's make-up that are compared, not its odd bay.
    pub comparing_boards: bool,
    /// How the eye was last moved, counted so that a view sees each request once.
    pub view: (u64, View),
    /// What is asked in front of everything else.
    pub dialog: Option<Dialog>,
    /// What the system's own file window is being asked for.
    pub asking: Option<PathAsk>,
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
    /// A file the message is about, that could be shown.
    pub file: Option<PathBuf>,
}

impl Message {
    /// Something was done.
    pub fn done(text: impl Into<String>) -> Message {
        Message { text: text.into(), failed: false, file: None }
    }

    /// Something could not be done.
    pub fn failed(text: impl Into<String>) -> Message {
        Message { text: text.into(), failed: true, file: None }
    }
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
            boards: None,
            zones: false,
            mending: None,
            accepting: None,
            preview: None,
            under: None,
            marking: None,
            comparing: false,
            comparing_boards: false,
            view: (0, View::Fit),
            dialog: None,
            asking: None,
            message: None,
        }
    }

    /// The job as it is on screen: committed, with what the drag under way amounts to, or what is pointed at
    /// would do.
    pub fn live(&self) -> Arc<Job> {
        let held = self.gesture.as_ref().and_then(|g| g.edit(self.history.job()));
        match held.or_else(|| self.preview.clone()) {
            Some(edit) => Arc::new(edit.apply(self.history.job())),
            None => self.history.job().clone(),
        }
    }

    /// True when there is something to save.
    pub fn changed(&self) -> bool {
        !Arc::ptr_eq(&self.saved, self.history.job()) && *self.saved != **self.history.job()
    }

    /// Forgets what is picked or shown when it is no longer in the job.
    pub(crate) fn settle(&mut self) {
        let job = self.history.job().clone();
        if self.picked.as_ref().is_some_and(|item| !has(&job, item)) {
            self.picked = None;
        }
        if job.underlay.as_ref().is_none_or(|u| u.locked) {
            self.marking = None;
        }
        if self.wall.as_ref().is_none_or(|wall| job.wall(wall).is_none()) {
            self.wall = job.walls.first().map(|w| w.name.clone());
        }
    }
}

/// True when `item` is in `job`. A piece or noggin row counts as there while its wall or platform is.
pub fn has(job: &Job, item: &ItemRef) -> bool {
    match item {
        ItemRef::Job | ItemRef::Datum | ItemRef::Survey => true,
        ItemRef::Underlay => job.underlay.is_some(),
        ItemRef::Node(name) => job.node(name).is_some(),
        ItemRef::Wall(name) | ItemRef::NogginRow { wall: name, .. } => job.wall(name).is_some(),
        ItemRef::Member { wall: name, .. } => {
            job.wall(name).is_some() || job.platform(name).is_some()
        }
        ItemRef::Opening(name) => job.opening(name).is_some(),
        ItemRef::Corner(i) | ItemRef::Side(i) => *i < job.shell.outline.len(),
        ItemRef::Post(name) => job.shell.posts.iter().any(|p| p.name == *name),
        ItemRef::Beam(name) => job.shell.beams.iter().any(|b| b.name == *name),
        ItemRef::Roof(name) => job.shell.roof.iter().any(|r| r.name == *name),
        ItemRef::Room(name) => job.rooms.iter().any(|r| r.name == *name),
        ItemRef::Point(name) => job.point(name).is_some(),
        ItemRef::Route(name) => job.route(name).is_some(),
        ItemRef::Fitting(name) => job.fitting(name).is_some(),
        ItemRef::MakeUp(name) => job.makeup(name).is_some(),
        ItemRef::Platform(name) => job.platform(name).is_some(),
        ItemRef::PlatformHole(name) => job.platform_hole(name).is_some(),
        ItemRef::Reading { wall: None, surface, index } => {
            *index < job.levels.readings.of(*surface).len()
        }
        ItemRef::Reading { wall: Some(wall), surface, index } => {
            job.wall(wall).is_some_and(|w| *index < w.readings(*surface).len())
        }
    }
}
