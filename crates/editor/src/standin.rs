//! Print set, until that of the sheets branch is merged.
use layout_core::document::Job;

pub(crate) fn print_set(
    job: &Job,
    layout: &layout_core::layout::Layout,
    paper: crate::prefs::PaperChoice,
) -> Vec<sheets::page::Page> {
    let (width, height) = match paper {
        crate::prefs::PaperChoice::A4 => (297.0, 210.0),
        crate::prefs::PaperChoice::A3 => (420.0, 297.0),
    };
    let mut ink = sheets::page::Ink::default();
    let options = sheets::views::PlanOptions { scale: 50.0, dimensions: true };
    ink.picture(&sheets::views::plan(job, layout, &options), 50.0, [60.0, 180.0]);
    vec![sheets::page::Page { name: "1-plan".into(), title: "Plan".into(), width, height, ink }]
}
