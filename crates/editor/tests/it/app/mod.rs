//! The frame of the window: steps, files, questions, places, looks.

mod buying;
mod files;
mod places;
mod steps;
mod straight;
