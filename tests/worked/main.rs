//! Checks worked by hand or taken from a source outside the project. Each names its source and how
//! well it is known: *read* second-hand, *computed* from a stated formula, or *from memory*. Figures are
//! for checks only; local codes and licensed practice decide on site.
//!
//! Whole walls worked by hand are the `.wall` files beside this one.

mod doors;
mod grounds;
mod imperial;
mod lengths;
mod platforms;
mod stiffness;
mod moisture;
mod sundries;
