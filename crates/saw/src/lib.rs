//! One-dimensional cutting: pieces to cut, bars to cut them from, the width of the saw cut; a plan
//! out. Knows nothing of walls. All lengths are whole tenths of a millimetre. [`sheets`] is the same in two
//! dimensions.
//!
//! ```
//! let problem = saw::Problem {
//!     kerf: 30,
//!     stock: vec![saw::StockLine::new(24_000, 729)],
//!     pieces: saw::demands(&[11_900_u64, 11_900, 5_000]),
//!     ..saw::Problem::default()
//! };
//! let mut planner = saw::Planner::new(&problem)?;
//! planner.run(&|| true);
//! assert_eq!(planner.best().bars(), 2);
//! assert!(planner.proven());
//! # Ok::<(), saw::Fault>(())
//! ```

mod problem;
mod plan;
mod order;
mod first_fit;
mod model;
mod knapsack;
mod lp;
mod counts;
mod sums;
mod columns;
mod dive;
mod every;
mod few;
mod pool;
mod coarse;
mod planner;
mod reserve;
mod buying;
pub mod sheets;

pub use buying::{Buying, Straightness};
pub use first_fit::first_fit_patterns;
pub use plan::{CutBar, Pattern, Patterns, Plan};
pub use planner::Planner;
pub use pool::Pool;
pub use problem::{
    Demand, Fault, LONGEST, MOST_LENGTHS, MOST_LINES, MOST_ON_A_BAR, MOST_PIECES, Piece, Problem,
    Slant, StockLine, demands,
};
pub use reserve::{chance, to_buy};

/// Asked now and then whether to go on.
type Go<'a> = &'a dyn Fn() -> bool;
