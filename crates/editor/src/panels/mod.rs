//! What stands round the places: the bars, the menu, questions, messages.

pub mod bits;
pub mod field;
pub mod dialogs;
pub mod help;
pub mod menu;
pub mod message;
pub mod palette;
pub mod prices;
pub mod particulars;
pub mod statusbar;
pub mod topbar;
