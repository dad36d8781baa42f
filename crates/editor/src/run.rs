//! Carries commands out: the only writer of the session.

use crate::command::Command;
use crate::session::Session;

/// Carries out one command that needs nothing but the session.
pub fn run(session: &mut Session, command: Command) {
    match command {
        Command::Go(place) => session.place = place,
        Command::Take(tool) => session.tool = tool,
        Command::Edit(edit) => {
            let job = edit.apply(session.history.job());
            session.history.commit(edit.label(), job);
        }
        _ => {}
    }
}
