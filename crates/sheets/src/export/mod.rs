//! Pages and pictures as files: PDF, SVG, and plain text for tests.

mod pdf;
mod svg;
mod text;

pub use pdf::{Meta, pdf};
pub use svg::svg;
pub use text::text;
