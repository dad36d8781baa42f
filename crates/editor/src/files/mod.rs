//! Files on disk: jobs read with care, written so that nothing is ever lost, and unsaved work
//! kept beside them.

mod catalogues;
mod read;
mod recover;
mod save;

pub use catalogues::{catalogue_folder, catalogue_from};
pub(crate) use read::plain;
pub use read::{LARGEST, read_bytes, read_input, read_job, read_table, read_text};
pub use recover::{
    Recovery, drop_journal, find_recoveries, find_recovery, journal_path, keep_journal,
};
pub use save::{clear_left_overs, save_bytes, save_job};

use std::ffi::OsString;
use std::path::Path;
use std::time::{SystemTime, UNIX_EPOCH};

/// `text` as it may be part of a file name on any system: letters, digits and hyphens.
pub fn safe_name(text: &str) -> String {
    let mut name = String::new();
    for c in text.chars().take(LONGEST_NAME / 4) {
        if c.is_alphanumeric() || c == '_' {
            name.push(c);
        } else if !name.is_empty() && !name.ends_with('-') {
            name.push('-');
        }
    }
    match name.trim_end_matches('-') {
        "" => "job".into(),
        name => name.into(),
    }
}

/// The day by the system's clock, in universal time, as year-month-day.
pub fn today() -> String {
    let seconds = SystemTime::now().duration_since(UNIX_EPOCH).map_or(0, |d| d.as_secs());
    let (year, month, day) = date_of(seconds / 86_400);
    format!("{year:04}-{month:02}-{day:02}")
}

/// Year, month and day of a count of days since 1970-01-01, by the Gregorian calendar.
fn date_of(days: u64) -> (u64, u64, u64) {
    // Years begin in March here, so that a leap day ends one; 719 468 days from March of year 0 to 1970.
    let days = days + 719_468;
    let (era, day_of_era) = (days / 146_097, days % 146_097);
    let year_of_era =
        (day_of_era - day_of_era / 1460 + day_of_era / 36_524 - day_of_era / 146_096) / 365;
    let day_of_year = day_of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
    let month = (5 * day_of_year + 2) / 153;
    let day = day_of_year - (153 * month + 2) / 5 + 1;
    let (month, next) = if month < 10 { (month + 3, 0) } else { (month - 9, 1) };
    (era * 400 + year_of_era + next, month, day)
}

/// The longest file name that is put into names of our own.
const LONGEST_NAME: usize = 150;

/// `.NAME.` of the files that stand beside `path` while it is worked on.
fn beside(path: &Path) -> OsString {
    let mut name = OsString::from(".");
    match path.file_name() {
        Some(own) if own.len() <= LONGEST_NAME => name.push(own),
        // A name near the system's limit leaves no room for more: its fingerprint stands for it.
        Some(own) => name.push(format!("{:016x}", fingerprint(own.as_encoded_bytes()))),
        None => name.push("job"),
    }
    name.push(".");
    name
}

/// A number that differs when the bytes differ: FNV-1a, 64 bits. Not a guard against malice.
fn fingerprint(bytes: &[u8]) -> u64 {
    bytes.iter().fold(0xcbf2_9ce4_8422_2325, |hash, byte| {
        (hash ^ u64::from(*byte)).wrapping_mul(0x0100_0000_01b3)
    })
}

/// True while the process `pid` runs this program, as far as the system tells. Numbers of processes
/// are used again, so that there is one of that number is not enough.
fn is_running(pid: u32) -> bool {
    let program = |pid: &str| {
        let about = std::fs::read_to_string(format!("/proc/{pid}/stat")).ok()?;
        // `1234 (baywright) S …`: a name in brackets, then a state; Z and X have ended.
        let (name, rest) = about.split_once(' ')?.1.rsplit_once(')')?;
        let alive = !rest.trim_start().starts_with(['Z', 'X']);
        alive.then(|| name.to_string())
    };
    pid == std::process::id()
        || (cfg!(target_os = "linux")
            && program(&pid.to_string()).is_some_and(|name| Some(name) == program("self")))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_a_living_process_of_this_program_counts_as_running() {
        assert!(is_running(std::process::id()));
        assert!(!is_running(1), "the first process is another program");
        assert!(!is_running(u32::MAX));
    }

    /// Checked against the calendar: leap years by 4, by 100 and by 400, and the ends of months.
    #[test]
    fn days_become_dates() {
        assert_eq!(date_of(0), (1970, 1, 1));
        assert_eq!(date_of(59), (1970, 3, 1));
        assert_eq!(date_of(11_016), (2000, 2, 29));
        assert_eq!(date_of(11_017), (2000, 3, 1));
        assert_eq!(date_of(20_453), (2025, 12, 31));
        assert_eq!(date_of(20_454), (2026, 1, 1));
        assert_eq!(date_of(47_540), (2100, 2, 28));
        assert_eq!(date_of(47_541), (2100, 3, 1));
    }

    #[test]
    fn names_are_safe_anywhere() {
        assert_eq!(safe_name("Boat-club annexe, Sallow Reach"), "Boat-club-annexe-Sallow-Reach");
        assert_eq!(safe_name("../../etc/passwd"), "etc-passwd");
        assert_eq!(safe_name("2-wall-A/B: \"C\""), "2-wall-A-B-C");
        assert_eq!(safe_name("…"), "job");
        assert_eq!(safe_name(&"x".repeat(400)).len(), 37);
    }
}
