//! The Baywright window and commands.
//!
//! Views read a [`scene::Scene`] and push [`command::Command`]s; [`run`] is the only writer of the
//! [`session::Session`]. A drag is a [`gesture::Gesture`]: it never touches the document until it
//! is let go.

/// A frame grows and frees large lists of triangles. The system's allocator gives such memory back each time
/// and takes it anew page by page; this one keeps it.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

pub mod files;
pub mod drawing;
pub mod under;
pub mod assets;
pub mod cli;

pub mod exchange;

pub mod command;
pub mod session;
pub mod history;
pub mod gesture;
pub mod run;
pub mod prints;
pub mod derived;
pub mod scene;
pub mod prefs;
pub mod prices;
pub mod keep;
pub mod jobs;

pub mod theme;
pub mod icons;
pub mod actions;
pub mod canvas;
pub mod panels;
pub mod places;
pub mod app;
