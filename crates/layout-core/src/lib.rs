//! The pure core of Baywright: a job, and everything that is worked out from it.
//!
//! A [`document::Job`] is what the user drew, measured or chose. [`resolve`] settles what walls
//! share: levels, junctions, where each frame stops. [`frame`] fills one wall with timber.
//! [`insulation`] fills its bays,
//! [`first_fix`] says what runs through it and what boxes hang on. [`platform`] joists out low ceilings, shelves and bulkheads between them,
//! [`ceiling`] boards the room's own; [`existing`] is what already stands.
//! [`snag::Snag`]s say what is wrong. [`layout::Layout`] holds all of it, and works it out again while the
//! user drags. [`pieces`] gathers what is to be cut, counts it and lays it on bars, [`board_plan`] lays boards on sheets,
//! [`sundries`] counts what goes with them, [`order`] makes one order of it, [`prices`] reads and writes price lists. [`compare`] sets choices
//! side by side, and [`remedies`] finds what closes a snag.
//!
//! ```
//! use layout_core::document::{Edit, Job, Wall};
//! use layout_core::layout::Layout;
//! use layout_core::math::PlanPoint;
//! use std::sync::Arc;
//!
//! let wall = Edit::AddWall {
//!     wall: Arc::new(Wall::new("A", "1", "2", "Partition 97")),
//!     from: PlanPoint::new(0.0, 2000.0),
//!     to: PlanPoint::new(3600.0, 2000.0),
//! };
//! let job = wall.apply(&Job::default());
//! let layout = Layout::of(&job);
//! let frame = &layout.walls[0].frame;
//! assert_eq!(frame.members.iter().filter(|m| m.role.is_full_height()).count(), 10);
//! assert_eq!(layout_core::pieces::totals(&layout)[0].pieces, frame.members.len());
//! ```
//!
//! Nothing here reads a file, a clock or a random number, starts a thread or prints. Nothing here
//! fails: a job that cannot be built as asked gives the nearest frame that can, and a snag. Only
//! reading the text of a job file returns a `Result`.

#![warn(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::print_stdout,
    clippy::print_stderr
)]

pub mod math;
pub mod span;
pub mod profile;
pub mod units;
pub mod id;
pub mod snag;
pub mod document;
pub mod rules;
pub mod catalogue;
pub mod survey;
pub mod resolve;
pub mod frame;
pub mod boards;
pub mod insulation;
pub mod first_fix;
pub mod platform;
pub mod ceiling;
pub mod existing;
pub mod packers;
mod checks;
pub mod layout;
mod relayout;
pub mod setout;
pub mod changes;
pub mod pieces;
pub mod board_plan;
pub mod sundries;
pub mod order;
pub mod prices;
pub mod compare;
pub mod remedies;
