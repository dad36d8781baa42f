//! Pages: pictures, lists and a title strip laid out on paper.

mod ink;

pub use ink::{Ink, Mark, Type};

/// One page, ready for paper or screen.
///
/// x runs right and y down, in millimetres from the top left corner of the sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Page {
    /// A short name for files: `1-plan`, `2-wall-A`.
    pub name: String,
    /// What it is called in bookmarks and lists: “Plan”, “Wall A”.
    pub title: String,
    /// Width of the sheet, mm.
    pub width: f64,
    /// Height of the sheet, mm.
    pub height: f64,
    /// What is on it.
    pub ink: Ink,
}
