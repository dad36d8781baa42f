//! A job in feet and inches: marks, studs and sections as a tape shows them.

use layout_core::document::Job;
use layout_core::frame::Role;
use layout_core::layout::Layout;
use layout_core::units::Units;

fn starter() -> Job {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../assets/jobs/sixteen-inch-centres.ron");
    let text = std::fs::read_to_string(path).expect("the starter is there");
    layout_core::document::read(&text).expect("it reads")
}

/// NAVEDTRA 14044 (read): 2×4 studs at 16 in on centres, the first board's edge on the middle of a stud at
/// 48 in, are marked 15 1/4, 31 1/4 and 47 1/4 in from the end.
#[test]
fn running_marks_are_fifteen_and_a_quarter_and_on() {
    let mut job = starter();
    let wall = std::sync::Arc::make_mut(&mut job.walls[0]);
    wall.openings.clear();
    let layout = Layout::of(&job);
    let wall = &layout.walls[0];
    let marks: Vec<String> =
        wall.frame.running(&wall.spec).iter().map(|m| wall.spec.units.show(m.at)).collect();
    assert_eq!(&marks[..4], ["0\"", "1' 3 1/4\"", "2' 7 1/4\"", "3' 11 1/4\""]);
}

/// American Softwood Lumber Standard PS 20 (read): a dressed 2×4 is 1 1/2 × 3 1/2 in. Common practice: under a
/// ceiling of 97 1/8 in three plates leave a precut stud of 92 5/8 in. Computed: 97 1/8 − 3 × 1 1/2.
#[test]
fn the_starter_takes_precut_studs() {
    let job = starter();
    assert_eq!(job.makeups[0].timber.size_in(Units::FeetInches), "1 1/2\"×3 1/2\"");
    let layout = Layout::of(&job);
    let wall = &layout.walls[0];
    let studs: Vec<_> = wall.frame.members.iter().filter(|m| m.role == Role::Stud).collect();
    assert!(!studs.is_empty());
    for stud in studs {
        assert_eq!(job.units.show(wall.cut_length(stud)), "7' 8 5/8\"");
        assert!((wall.cut_length(stud) - 2352.675).abs() < 1e-9);
    }
}

/// What is cut is a whole number of sixteenths, and no message speaks of millimetres.
#[test]
fn nothing_is_mixed() {
    let layout = Layout::of(&starter());
    for wall in &layout.walls {
        for member in &wall.frame.members {
            let sixteenths = wall.cut_length(member) / 25.4 * 16.0;
            assert!((sixteenths - sixteenths.round()).abs() < 1e-6, "{sixteenths}");
        }
    }
    for snag in &layout.snags {
        assert!(!snag.message.contains(" mm"), "{}", snag.message);
        assert!(!snag.remedy.contains(" mm"), "{}", snag.remedy);
    }
}
