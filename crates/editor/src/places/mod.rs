//! The five places of the window.

pub mod draw;
