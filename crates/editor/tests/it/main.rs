//! The window, driven by the names of what is in it; what counts is the session afterwards.

mod app;
mod draw;
mod window;
