//! What is offered against a snag closes it, and undoing it brings everything back.

use layout_core::layout::Layout;
use layout_core::remedies::{may_be_mended, remedies};
use layout_core::snag::Severity;

use super::law;

#[test]
fn a_remedy_closes_its_snag_and_opens_none_that_must_be_mended() {
    law("a remedy closes its snag", |job, layout| {
        let mut broken = Vec::new();
        // Two snags of each job are enough for four hundred jobs.
        for snag in layout.snags.iter().take(2) {
            let ways = remedies(job, layout, snag);
            if !ways.is_empty() && !may_be_mended(snag.code) {
                broken.push(format!("{} is mended after all", snag.code.id()));
            }
            for remedy in ways {
                let after = remedy.edit.apply(job);
                let laid = Layout::of(&after);
                let count = |of: &Layout| {
                    of.snags.iter().filter(|s| s.code == snag.code && s.of == snag.of).count()
                };
                let graver = |of: &Layout| {
                    of.snags.iter().filter(|s| s.severity() != Severity::Note).count()
                };
                let closed = count(&laid) < count(layout);
                let none_new = graver(&laid) <= graver(layout);
                let pieces = |of: &Layout| {
                    of.framed().map(|p| p.frame().members.len()).sum::<usize>() as i64
                };
                if !closed || !none_new || pieces(&laid) - pieces(layout) != remedy.pieces {
                    broken.push(format!(
                        "{} {}: {}",
                        snag.code.id(),
                        snag.of.label(),
                        remedy.label
                    ));
                }
            }
        }
        broken
    });
}
