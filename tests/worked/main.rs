//! Checks worked by hand or taken from a source outside the project. Each names its source and how
//! well it is known.
