//! The test suite of Baywright.
//!
//! A *case* is a file with a few lines of job and, under `>>>` lines, what must come out; [`fixture`]
//! reads the job and [`report`] writes the answer. [`jobs`] makes the reference jobs by code and
//! [`random`] makes jobs nobody thought of, for the laws that hold for every job.

pub mod fixture;
pub mod jobs;
pub mod random;
pub mod wild;
pub mod report;

#[cfg(test)]
mod laws;
#[cfg(test)]
mod tidy;
