//! Stiffness of bare studs, and frames tilted up, by hand.

use layout_core::document::{Rule, RuleChoice, RuleSet, Timber};
use layout_core::layout::Layout;
use layout_core::platform::{sag, stiffness};
use layout_core::rules::Rules;
use layout_core::snag::{Code, Snag};
use suite::fixture;

fn snag(text: &str, code: Code) -> Option<Snag> {
    let job = fixture::job(text).expect("a job");
    Layout::of(&job).snags.into_iter().find(|s| s.code == code)
}

/// 5wL⁴/384EI, E0,mean 8 000 and 11 000 N/mm² for C16 and C24 (EN 338:2016, Table 1, read second-hand), 0.2 kN/m² (the
/// dry-lining convention, read). 38 × 89 C16 at 600 and 400, 2.4 m: I = 38 × 89³ / 12 = 2 232 402 mm⁴,
/// 5 × 0.12 × 2400⁴ / (384 × 8000 × 2 232 402) = 2.903 mm, at 400 two thirds of it, 1.935. Computed; likewise the rest.
#[test]
fn bare_studs_bend_as_the_formula_says() {
    let cases = [
        ((38.0, 89.0, "C16"), 600.0, 2400.0, 2.903),
        ((38.0, 89.0, "C16"), 400.0, 2400.0, 1.935),
        ((38.0, 89.0, "C16"), 600.0, 2700.0, 4.650),
        ((38.0, 89.0, "C16"), 600.0, 3000.0, 7.087),
        ((38.0, 89.0, "C24"), 600.0, 2400.0, 2.111),
        ((38.0, 89.0, "C24"), 600.0, 3000.0, 5.154),
        ((38.0, 63.0, "C16"), 600.0, 2400.0, 8.184),
        ((38.0, 63.0, "C16"), 600.0, 3000.0, 19.980),
        ((47.0, 75.0, "C16"), 600.0, 2700.0, 6.282),
        ((47.0, 100.0, "C16"), 600.0, 3000.0, 4.039),
    ];
    for ((thickness, depth, grade), centres, length, by_hand) in cases {
        let (e, _) = stiffness(grade).expect("a class of EN 338");
        let timber = Timber::new(thickness, depth, grade);
        let bend = sag(0.2 / 1000.0 * centres, length, e, &timber);
        assert!((bend - by_hand).abs() < 0.001, "{thickness}×{depth} at {centres}: {bend}");
    }
    assert_eq!(Rules::default().value(Rule::WallPressure), 0.2);
    assert_eq!(Rules::default().value(Rule::WallBend), 240.0);
}

/// A wall with studs 3 000 long between plates of 38, so 3 076 high: 19.980 is more than 3000/240 = 12.5. The same of
/// 38 × 89 bends 7.087 and is not said.
#[test]
fn a_wall_too_tall_for_its_studs_is_said() {
    let job = |depth: u32| {
        format!(
            "level ceiling 3076\nmakeup P timber 38x{depth} centres 600 boards 12.5\nwall A (0,0)->(2400,0)"
        )
    };
    let said = snag(&job(63), Code::WallBends).expect("the snag");
    assert!((said.value.expect("bend") - 19.980).abs() < 0.001, "{said:?}");
    assert!((said.limit.expect("limit") - 12.5).abs() < 1e-9, "{said:?}");
    assert!(said.source().contains("EN 338"), "{}", said.source());
    assert_eq!(snag(&job(89), Code::WallBends), None);
}

/// Pa²b²/3EIL at the push, 500 N at 1.5 m on one bare stud 2 400 long (BS 5234-2, Annex A, read; the limits from
/// memory): 38 × 63 C16 gives 500 × 1500² × 900² / (3 × 8000 × 791 816 × 2400) = 19.98 mm. Computed.
#[test]
fn one_stud_gives_as_the_formula_says() {
    let job = "level ceiling 2476\nmakeup P timber 38x63 centres 600 boards 12.5\n\
               wall A (0,0)->(2400,0) duty heavy";
    let said = snag(job, Code::DutyShort).expect("the snag");
    assert!((said.value.expect("give") - 19.98).abs() < 0.01, "{said:?}");
    assert_eq!(said.limit, Some(15.0));
}

/// √(H² + d²): 2 400 high and 97 deep is √(5 760 000 + 9 409) = 2 401.959 from corner to corner; under 2 400 the most
/// is √(2400² − 97²) = 2 398.04. Pythagoras.
#[test]
fn a_frame_as_high_as_the_room_cannot_be_tilted_up() {
    let job = |fit: f64| {
        format!(
            "level tilted\nlevel ceiling 2400\nmakeup P timber 46x97 centres 400 boards 12.5\n\
             wall A (0,0)->(2400,0) head tight {fit}"
        )
    };
    let said = snag(&job(0.0), Code::CannotTilt).expect("the snag");
    assert!((said.value.expect("diagonal") - 2401.959).abs() < 0.001, "{said:?}");
    assert_eq!(said.limit, Some(2400.0));
    assert!(snag(&job(1.9), Code::CannotTilt).is_some());
    assert_eq!(snag(&job(2.0), Code::CannotTilt), None);
}

/// 5 psf is 0.2394 kN/m² (IBC 1607, read); interior walls bend H/180 at most (IRC table R301.7, read).
#[test]
fn north_america_has_its_own_pressure_and_limit() {
    let rules = Rules::of(&RuleChoice { set: RuleSet::NorthAmerica, own: Vec::new() });
    let psf = 4.448_221_6 / (0.3048 * 0.3048) / 1000.0;
    assert!((rules.value(Rule::WallPressure) - 5.0 * psf).abs() < 0.001);
    assert_eq!(rules.value(Rule::WallBend), 180.0);
}
