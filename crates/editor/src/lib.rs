//! The Baywright window and commands.
//!
//! Views read a [`scene::Scene`] and push [`command::Command`]s; [`run`] is the only writer of the
//! [`session::Session`]. A drag is a [`gesture::Gesture`]: it never touches the document until it
//! is let go.

pub mod actions;
pub mod app;
pub mod canvas;
pub mod command;
pub mod derived;
pub mod gesture;
pub mod history;
pub mod icons;
pub mod jobs;
pub mod panels;
pub mod places;
pub mod prefs;
pub mod run;
pub mod scene;
pub mod session;
mod standin;
pub mod theme;
