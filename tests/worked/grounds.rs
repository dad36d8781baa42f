//! Every board edge that meets another wall has its ground, wide enough for its fixings.

use layout_core::document::Face;
use layout_core::layout::{Layout, WallLayout};
use layout_core::math::EDGE_BEARING;
use layout_core::span::Span;
use suite::fixture;

/// Edge distances 13 mm in a cut board edge and 6 mm in the timber (a UK specification clause, read)
/// make 2 × (13 + 6) = 38 for a joint between two cut edges, so 19 for one edge. Computed.
#[test]
fn one_cut_edge_bears_on_nineteen() {
    assert!((EDGE_BEARING - (13.0 + 6.0)).abs() < 1e-9);
}

/// How much timber shows on `face` of the wall beside station `at`: towards its start when `before`.
fn shows(w: &WallLayout, face: Face, at: f64, before: bool) -> f64 {
    let surface = if face == Face::Left { w.spec.frame.high } else { w.spec.frame.low };
    let beside = if before { Span { low: at - 97.0, high: at } } else { Span::from(at, 97.0) };
    w.frame
        .members
        .iter()
        .filter(|m| m.role.is_full_height() && m.solid.across().contains(surface))
        .map(|m| m.solid.stations().intersection(beside))
        // Timber that begins at the very corner.
        .filter(|s| if before { s.high >= at - 0.01 } else { s.low <= at + 0.01 })
        .map(Span::length)
        .fold(0.0, f64::max)
}

/// The through wall's inner face, beside the wall that butts, at each kind of corner: a ground of a
/// cut edge's bearing at least. Three uprights make every corner (common practice).
#[test]
fn corners_give_the_inner_face_its_ground() {
    for recipe in ["pair", "blocked"] {
        for (a, b, before) in [
            ("(0,0)->(2000,0)", "(2000,0)->(2000,1500)", true),
            ("(0,0)->(2000,0)", "(0,0)->(0,1500)", false),
            ("(0,0)->(2000,0)", "(2000,-1500)->(2000,0)", true),
        ] {
            let text = format!(
                "makeup P timber 46x97 centres 400 boards 12.5 corner {recipe}\nwall A {a}\nwall B {b}\n"
            );
            let layout = Layout::of(&fixture::job(&text).expect("it reads"));
            let wall = &layout.walls[0];
            let owed = &wall.spec.backings[0];
            let at = if before { owed.span.low } else { owed.span.high };
            let found = shows(wall, owed.face, at, before);
            assert!(found >= EDGE_BEARING - 0.01, "{recipe} {a} {b}: {found} mm of ground");
            let at_corner = Span { low: owed.span.low - 97.0, high: owed.span.high + 97.0 };
            let uprights = wall
                .frame
                .members
                .iter()
                .filter(|m| m.role.is_full_height() && at_corner.covers(m.solid.stations()))
                .count();
            assert_eq!(uprights + 1, 3, "{recipe} {a} {b}: with the end stud of B, three uprights");
        }
    }
}

/// Behind a tee, timber shows either side of the wall that butts.
#[test]
fn tees_give_both_sides_their_ground() {
    for at in [1000.0, 1900.0, 2000.0, 2100.0, 2345.0] {
        let text = format!("wall A (0,0)->(4000,0)\nwall B ({at},0)->({at},1500)\n");
        let layout = Layout::of(&fixture::job(&text).expect("it reads"));
        let wall = &layout.walls[0];
        let owed = &wall.spec.backings[0];
        let before = shows(wall, owed.face, owed.span.low, true);
        let after = shows(wall, owed.face, owed.span.high, false);
        let least = EDGE_BEARING - 0.01;
        assert!(before >= least && after >= least, "at {at}: {before} and {after} mm of ground");
    }
}

/// Where a wall meets two others that carry on in line, each of them has its ground too.
#[test]
fn a_tee_at_a_joint_gives_both_walls_their_ground() {
    let text = "wall A (0,0)->(2000,0)\nwall B (2000,0)->(4000,0)\nwall C (2000,0)->(2000,1500)\n";
    let layout = Layout::of(&fixture::job(text).expect("it reads"));
    let (a, b) = (&layout.walls[0], &layout.walls[1]);
    let before = shows(a, Face::Left, 2000.0 - 48.5, true);
    let after = shows(b, Face::Left, 48.5, false);
    let least = EDGE_BEARING - 0.01;
    assert!(before >= least && after >= least, "{before} and {after} mm of ground");
}
