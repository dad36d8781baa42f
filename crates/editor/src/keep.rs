//! When unsaved work is put aside: two seconds after the last change, and at most every ten; and at
//! once when the program itself fails.

use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, Once};
use std::time::{Duration, Instant};

use layout_core::document::Job;

use crate::files::{drop_journal, journal_path, keep_journal};

/// Quiet time after a change before it is put aside.
const QUIET: Duration = Duration::from_secs(2);
/// Time between two copies while changes go on.
const APART: Duration = Duration::from_secs(10);

/// What has been put aside of the job on the desk.
#[derive(Default)]
pub struct Keeper {
    /// The job last looked at, and when it was first seen.
    seen: Option<(Arc<Job>, Instant)>,
    /// When the oldest change that is not put aside was seen.
    waiting: Option<Instant>,
    /// The job last put aside, and when.
    kept: Option<(Arc<Job>, Instant)>,
    /// The file it was put in.
    journal: Option<PathBuf>,
}

/// What is to be done about unsaved work.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Due {
    /// Put it aside.
    Now,
    /// Ask again after this long.
    In(Duration),
    /// Nothing is waiting.
    Never,
}

impl Keeper {
    /// What is to be done at `now` about `job`, which is `changed` since it was saved.
    pub fn due(&mut self, job: &Arc<Job>, changed: bool, now: Instant) -> Due {
        let is = |other: &Option<(Arc<Job>, Instant)>| {
            other.as_ref().is_some_and(|(j, _)| Arc::ptr_eq(j, job))
        };
        if !is(&self.seen) {
            self.seen = Some((job.clone(), now));
            self.waiting = self.waiting.or(Some(now));
        }
        if !changed || is(&self.kept) {
            self.waiting = None;
            return Due::Never;
        }
        let since = |at: Option<Instant>| at.map_or(APART, |at| now.saturating_duration_since(at));
        let quiet = QUIET.saturating_sub(since(self.seen.as_ref().map(|(_, at)| *at)));
        let patience = APART.saturating_sub(since(self.waiting));
        let apart = APART.saturating_sub(since(self.kept.as_ref().map(|(_, at)| *at)));
        match quiet.min(patience).max(apart) {
            Duration::ZERO => Due::Now,
            wait => Due::In(wait),
        }
    }

    /// `job` is being put aside in `journal`.
    pub fn keeping(&mut self, job: Arc<Job>, journal: PathBuf, now: Instant) {
        if self.journal.as_ref().is_some_and(|old| *old != journal) {
            self.forget();
        }
        self.kept = Some((job, now));
        self.waiting = None;
        self.journal = Some(journal);
    }

    /// What was put aside is not wanted any more: the job was saved, or left on purpose.
    pub fn forget(&mut self) {
        if let Some(journal) = self.journal.take() {
            drop_journal(&journal);
        }
        self.kept = None;
        self.waiting = None;
    }
}

/// The unsaved job on the desk and its file, for the moment the program fails. A failing program
/// cannot be asked, so this is kept where the failing can reach it.
static LAST: Mutex<Option<(Arc<Job>, Option<PathBuf>)>> = Mutex::new(None);

/// Remembers what would be lost if the program failed now; `None` when everything is saved.
pub fn at_stake(work: Option<(&Arc<Job>, Option<&Path>)>) {
    let Ok(mut last) = LAST.lock() else { return };
    let same = match (&*last, work) {
        (Some((job, of)), Some((new, path))) => Arc::ptr_eq(job, new) && of.as_deref() == path,
        (None, None) => true,
        _ => false,
    };
    if !same {
        *last = work.map(|(job, of)| (job.clone(), of.map(Path::to_path_buf)));
    }
}

/// From now on, work that is at stake is put aside when the window fails.
pub fn keep_when_failing() {
    static HOOK: Once = Once::new();
    HOOK.call_once(|| {
        let before = std::panic::take_hook();
        std::panic::set_hook(Box::new(move |about| {
            // Failures of work off the frame are caught and told; nothing is lost by them.
            if std::thread::current().name() == Some("main") {
                put_aside();
            }
            before(about);
        }));
    });
}

/// Puts aside what is at stake.
fn put_aside() -> Option<PathBuf> {
    let (job, of) = LAST.try_lock().ok()?.take()?;
    let journal = journal_path(of.as_deref())?;
    keep_journal(&journal, of.as_deref(), &job).ok()?;
    Some(journal)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_at_stake_is_put_aside_when_the_program_fails() {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("loft.ron");
        let saved = Job { title: "Saved".into(), ..Job::default() };
        crate::files::save_job(&path, &saved).unwrap();
        let job = Arc::new(Job { title: "Not saved yet".into(), ..Job::default() });
        at_stake(Some((&job, Some(&path))));
        let journal = put_aside().expect("put aside");
        let found = crate::files::find_recovery(&path).expect("and found again");
        assert_eq!((found.journal, found.job.as_ref()), (journal, Ok(&*job)));
        at_stake(None);
        assert_eq!(put_aside(), None);
    }

    #[test]
    fn work_is_put_aside_after_two_quiet_seconds_and_at_most_every_ten() {
        let start = Instant::now();
        let at = |s: f64| start + Duration::from_secs_f64(s);
        let mut keeper = Keeper::default();
        let first = Arc::new(Job::default());
        assert_eq!(keeper.due(&first, false, at(0.0)), Due::Never);
        let second = Arc::new(Job::default());
        assert_eq!(keeper.due(&second, true, at(1.0)), Due::In(QUIET));
        assert_eq!(keeper.due(&second, true, at(2.0)), Due::In(Duration::from_secs(1)));
        assert_eq!(keeper.due(&second, true, at(3.0)), Due::Now);
        keeper.keeping(second.clone(), PathBuf::from("nowhere"), at(3.0));
        assert_eq!(keeper.due(&second, true, at(9.0)), Due::Never);
        let third = Arc::new(Job::default());
        assert_eq!(keeper.due(&third, true, at(9.0)), Due::In(Duration::from_secs(4)));
        assert_eq!(keeper.due(&third, true, at(13.0)), Due::Now);
    }

    #[test]
    fn changes_that_never_pause_are_put_aside_all_the_same() {
        let start = Instant::now();
        let mut keeper = Keeper::default();
        let kept = (1..30).find(|second| {
            let job = Arc::new(Job::default());
            keeper.due(&job, true, start + Duration::from_secs(*second)) == Due::Now
        });
        assert_eq!(kept, Some(11));
    }
}
