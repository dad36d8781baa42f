//! The frame of the window: steps, files, questions, places, looks.

mod files;
mod places;
mod steps;
