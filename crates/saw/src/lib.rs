//! One-dimensional cutting: pieces to cut, bars to cut them from, the width of the saw cut; a plan
//! out. Knows nothing of walls. All lengths are whole tenths of a millimetre. [`sheets`] is the same in two
//! dimensions.
//!
//! ```
//! let problem = saw::Problem {
//!     kerf: 30,
//!     trim: 0,
//!     stock: vec![saw::StockLine { length: 24_000, cost: 24_000, available: None }],
//!     pieces: vec![11_900, 11_900, 5_000],
//! };
//! let plan = saw::first_fit(&problem);
//! assert_eq!(plan.bars.len(), 2);
//! assert!(plan.left_over.is_empty());
//! ```

mod problem;
mod plan;
mod first_fit;
pub mod sheets;

pub use first_fit::{first_fit, first_fit_patterns};
pub use plan::{CutBar, Pattern, Patterns, Plan};
pub use problem::{Problem, StockLine};
