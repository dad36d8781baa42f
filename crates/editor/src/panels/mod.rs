//! Panels beside the drawing.

pub mod particulars;
