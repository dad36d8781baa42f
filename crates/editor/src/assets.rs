//! What the program carries with it: the demonstration job, the starters and the catalogues. The
//! only place where files are built in.

use layout_core::document::{Job, read};

/// A job to begin from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Starter {
    /// Its name on the command line: `empty-room`.
    pub name: &'static str,
    /// Its name in menus.
    pub title: &'static str,
    text: &'static str,
}

/// The jobs to begin from, the plainest first.
pub const STARTERS: [Starter; 4] = [
    Starter {
        name: "empty-room",
        title: "Empty room",
        text: include_str!("../../../assets/jobs/empty-room.ron"),
    },
    Starter {
        name: "one-wall-with-door",
        title: "One straight wall with a door",
        text: include_str!("../../../assets/jobs/one-wall-with-door.ron"),
    },
    Starter {
        name: "l-shaped-pair",
        title: "L-shaped pair of walls",
        text: include_str!("../../../assets/jobs/l-shaped-pair.ron"),
    },
    Starter {
        name: "sixteen-inch-centres",
        title: "2×4 wall, feet and inches",
        text: include_str!("../../../assets/jobs/sixteen-inch-centres.ron"),
    },
];

const DEMO: Starter = Starter {
    name: "boat-club-annexe",
    title: "The demonstration: a boat-club annexe",
    text: include_str!("../../../assets/jobs/boat-club-annexe.ron"),
};

/// Catalogue files by name, as they are built in.
pub const CATALOGUES: [(&str, &str); 5] = [
    ("timber.ron", include_str!("../../../assets/catalogues/timber.ron")),
    ("boards.ron", include_str!("../../../assets/catalogues/boards.ron")),
    ("doors.ron", include_str!("../../../assets/catalogues/doors.ron")),
    ("linings.ron", include_str!("../../../assets/catalogues/linings.ron")),
    ("fittings.ron", include_str!("../../../assets/catalogues/fittings.ron")),
];

/// The demonstration job.
pub fn demo() -> Job {
    // A test holds that every built-in job reads.
    read(DEMO.text).unwrap_or_default()
}

/// The job to begin from called `name`: a starter's name or title, or `boat-club-annexe`.
pub fn starter(name: &str) -> Option<Job> {
    let starter = STARTERS.iter().chain([&DEMO]).find(|s| s.name == name || s.title == name)?;
    read(starter.text).ok()
}

/// Names [`starter`] knows, for messages.
pub fn starter_names() -> impl Iterator<Item = &'static str> {
    STARTERS.iter().chain([&DEMO]).map(|s| s.name)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_built_in_job_reads() {
        for name in starter_names() {
            assert!(starter(name).is_some(), "{name}");
        }
        assert!(demo().walls.len() > 5);
        assert_eq!(starter("cathedral"), None);
    }
}
