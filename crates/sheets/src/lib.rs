//! Pictures of a layout, and the pages and files they become.
//!
//! [`views`] turn a job and its layout into a [`picture::Picture`]: lines, areas and lettering with
//! pens named by meaning, each item remembering what it is of. A picture is drawn on the
//! screen by the editor, or laid on a page and written as PDF or SVG. Neither knows what a stud is.

pub mod lettering;
pub mod theme;
pub mod picture;
pub mod views;
pub mod page;
pub mod export;
