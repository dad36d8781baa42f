//! The pure core of Baywright: a job, and everything that is worked out from it.
//!
//! A [`document::Job`] is what the user drew, measured or chose. [`resolve`] settles what walls
//! share: levels, junctions, where each frame stops. [`frame`] fills one wall with timber.
//! [`pieces`] gathers what is to be cut and counts it. [`snag::Snag`]s say what is wrong.
//! [`layout::Layout`] holds all of it, and works it out again while the user drags.
//!
//! Nothing here reads a file, a clock or a random number, starts a thread or prints. Nothing here
//! fails: a job that cannot be built as asked gives the nearest frame that can, and a snag. Only
//! reading the text of a job file returns a `Result`.

pub mod math;
pub mod span;
pub mod profile;
pub mod units;
pub mod id;
pub mod snag;
pub mod document;
pub mod catalogue;
pub mod resolve;
pub mod frame;
pub mod pieces;
pub mod layout;
mod relayout;
