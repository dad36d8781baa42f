//! Laws of change: laying out again after edits equals laying out from nothing, undo gives the same
//! bytes, and a saved job comes back as it was.

use layout_core::document::{Edit, Job, read, write};
use layout_core::layout::Layout;

use super::law;
use crate::random::{self, Random};

#[test]
fn laying_out_again_equals_laying_out_from_nothing() {
    for seed in 0..super::tries() {
        let mut r = Random::new(seed);
        let start = random::job(seed);
        let mut job = start.clone();
        let mut kept = Layout::of(&job);
        for step in 0..8 {
            let edit = random::edit(&job, &mut r);
            job = edit.apply(&job);
            kept = kept.relayout(&job);
            let fresh = Layout::of(&job);
            assert!(kept == fresh, "seed {seed}, step {step}, {}: relayout differs", edit.label());
        }
        // Undo everything: the first layout again, from whatever is at hand.
        let (undone, first) = (kept.relayout(&start), Layout::of(&start));
        assert_eq!(format!("{undone:?}"), format!("{first:?}"), "seed {seed}: after undo");
    }
}

#[test]
fn a_wall_that_did_not_change_is_not_framed_again() {
    let job = crate::jobs::building(4);
    let before = Layout::of(&job);
    let (wall, opening) =
        job.walls.iter().find_map(|w| Some((w, w.openings.first()?))).expect("a door");
    let distance = opening.hold.distance + 7.0;
    let after =
        before.relayout(&Edit::MoveOpening { opening: opening.name.clone(), distance }.apply(&job));
    let framed_again: Vec<String> = before
        .walls
        .iter()
        .zip(&after.walls)
        .filter(|(b, a)| !std::sync::Arc::ptr_eq(&b.frame, &a.frame))
        .map(|(b, _)| b.name().to_string())
        .collect();
    assert_eq!(framed_again, [wall.name.to_string()]);
}

#[test]
fn an_edit_leaves_the_job_it_was_applied_to_alone() {
    for seed in 0..super::tries() {
        let job = random::job(seed);
        let copy = format!("{job:?}");
        let mut r = Random::new(seed);
        for _ in 0..4 {
            let _ = random::edit(&job, &mut r).apply(&job);
        }
        assert_eq!(format!("{job:?}"), copy, "seed {seed}");
    }
}

#[test]
fn a_job_saved_and_read_is_the_same_job() {
    law("a job written and read again is the same job", |job, layout| {
        let text = write(job);
        match read(&text) {
            Err(e) => vec![format!("{}:{}: {}", e.line, e.column, e.message)],
            Ok(back) if back != *job => vec!["it came back different".into()],
            Ok(back) if write(&back) != text => vec!["it is written differently".into()],
            Ok(back) if Layout::of(&back) != *layout => vec!["it is laid out differently".into()],
            Ok(_) => Vec::new(),
        }
    });
}

#[test]
fn the_reference_jobs_are_saved_and_read_unchanged() {
    for job in [crate::jobs::demo(), crate::jobs::storey()] {
        let back: Job = read(&write(&job)).expect("it reads what it wrote");
        assert_eq!(back, job);
    }
}
