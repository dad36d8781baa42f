//! The core never fails: any job of the right types is answered, whatever its numbers.

use std::panic::{AssertUnwindSafe, catch_unwind};

use layout_core::document::{Job, read, write};
use layout_core::layout::Layout;
use layout_core::pieces::{batches, cutting_plan, totals};

use super::all_pieces;
use crate::random::{self, Random};

/// More pieces than any wall here may ever have: five plates high, fifty openings, 2 000 studs.
const TOO_MANY: usize = 20_000;

fn lay_out_everything(job: &Job) -> usize {
    let layout = Layout::of(job);
    let _ = totals(&layout).len() + batches(&layout).len();
    let _ = cutting_plan(job, &layout).len();
    for w in &layout.walls {
        let _ = w.frame.running(&w.spec);
    }
    assert!(
        all_pieces(&layout).all(|(_, m)| m
            .solid
            .corners()
            .iter()
            .all(|c| c.coords.iter().all(|v| v.is_finite()))),
        "a piece has a corner that is no number"
    );
    all_pieces(&layout).count()
}

#[test]
fn no_job_makes_the_core_panic() {
    let mut failed = Vec::new();
    for seed in 0..3_000 {
        let job = random::absurd(seed);
        match catch_unwind(AssertUnwindSafe(|| lay_out_everything(&job))) {
            Ok(n) if n <= TOO_MANY => {}
            Ok(n) => failed.push(format!("seed {seed}: {n} pieces")),
            Err(panic) => {
                let why = panic.downcast_ref::<String>().cloned();
                let why = why.or(panic.downcast_ref::<&str>().map(ToString::to_string));
                failed.push(format!("seed {seed}: {}", why.unwrap_or_default()));
            }
        }
    }
    assert!(
        failed.is_empty(),
        "{} jobs:\n  {}",
        failed.len(),
        failed[..failed.len().min(20)].join("\n  ")
    );
}

#[test]
fn no_edit_of_an_absurd_job_makes_the_core_panic() {
    for seed in 0..500 {
        let mut job = random::absurd(seed);
        let mut r = Random::new(seed);
        let mut layout = Layout::of(&job);
        for _ in 0..4 {
            if job.walls.is_empty() || job.nodes.is_empty() {
                break;
            }
            job = random::edit(&job, &mut r).apply(&job);
            layout = layout.relayout(&job);
        }
        assert!(all_pieces(&layout).count() <= TOO_MANY, "seed {seed}");
    }
}

#[test]
fn what_is_no_job_is_refused_with_its_place() {
    for seed in 0..300 {
        let text = write(&random::job(seed));
        let mut r = Random::new(seed);
        // Cut short, or with a stretch missing, or with a word that does not belong.
        let cut =
            (0..).map(|_| r.below(text.len())).find(|i| text.is_char_boundary(*i)).unwrap_or(0);
        let damaged = match r.below(3) {
            0 => text[..cut].to_string(),
            1 => format!("{}{}", &text[..cut], text.get(cut + 9..).unwrap_or_default()),
            _ => format!("{}~{}", &text[..cut], &text[cut..]),
        };
        if let Err(e) = read(&damaged) {
            assert!(e.line >= 1 && e.column >= 1 && !e.message.is_empty(), "seed {seed}: {e:?}");
            assert!(!e.message.contains('\n'), "seed {seed}: one line, not {:?}", e.message);
        }
    }
}
