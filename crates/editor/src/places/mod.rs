//! The five places of the window.

pub mod compare;
pub mod draw;
pub mod mending;
pub mod saw;
pub mod paper;
pub mod sheets;
pub mod snags;
pub mod yard;
