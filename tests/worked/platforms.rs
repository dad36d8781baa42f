//! Platforms by hand: the sag of a joist, and joists set out round a fan.

use layout_core::document::Timber;
use layout_core::layout::Layout;
use layout_core::platform::{SAG, running, sag, stiffness};
use layout_core::snag::Code;
use suite::fixture;

/// A beam on two supports under an even load sags 5wL⁴ / 384EI (handbook formula, exact).
/// 50 × 200, 4.0 m, 2.5 kN/m, E 11 000: I = 50 × 200³ / 12 = 33.333 × 10⁶,
/// 5 × 2.5 × 4000⁴ / (384 × 11 000 × 33.333 × 10⁶) = 22.727 mm. Computed.
#[test]
fn a_beam_of_the_handbook_sags_as_it_says() {
    let timber = Timber::new(50.0, 200.0, "C24");
    let (e, _) = stiffness("C24").expect("a class of EN 338");
    assert!((sag(2.5, 4000.0, e, &timber) - 22.727).abs() < 0.001);
}

/// EN 338:2016, Table 1: E0,mean 8 000 and 11 000 N/mm², mean density 370 and 420 kg/m³ (read second-hand).
#[test]
fn stiffness_and_density_are_those_of_the_standard() {
    assert_eq!(stiffness("C16"), Some((8000.0, 370.0)));
    assert_eq!(stiffness("C24"), Some((11_000.0, 420.0)));
    assert_eq!(stiffness("oak"), None);
}

/// 46 × 97 C16 at 400 over 3508 between plates, 12.5 board under it, 0.25 kN/m² on it.
/// Board 0.0125 × 850 × 9.81 = 104.2 N/m²; timber 0.046 × 0.097 × 370 × 9.81 / 0.4 = 40.5 N/m²; with the
/// load 394.7 N/m², at 0.4 m 157.9 N/m. I = 46 × 97³ / 12 = 3.4986 × 10⁶.
/// 5 × 0.1579 × 3508⁴ / (384 × 8000 × 3.4986 × 10⁶) = 11.12 mm; 0.003 × 3508 = 10.52. Computed.
#[test]
fn a_ceiling_a_little_too_wide_is_said() {
    let job = fixture::job(
        "level ceiling 2700\nroom 3600x6000\nlow-ceiling LC1 at (0,0) size 3600x6000 level 2300",
    )
    .expect("a job");
    let layout = Layout::of(&job);
    let snag = layout.snags.iter().find(|s| s.code == Code::SpanTooLong).expect("the snag");
    assert!((snag.value.expect("sag") - 11.12).abs() < 0.005, "{snag:?}");
    assert!((snag.limit.expect("limit") - 10.52).abs() < 0.005, "{snag:?}");
    assert_eq!(SAG, 0.003);
}

/// 1651.5 × 2551.5 over a small room, 46 thick at 400: between plates 1651.5 − 2 × 46 = 1559.5 of joist.
/// Centres at 400, 800 … 2400, near edges 23 less; the first at 0, the last at 2551.5 − 46 = 2505.5, the odd
/// bay 2505.5 − 2423 = 82.5 clear. A fan of 160 about 1400 is clear of the joists at 1223 and 1577: two
/// trimmers of a bay, 354, and no joist more. Computed.
#[test]
fn joists_and_a_fan_between_them() {
    let job = fixture::job(
        "level ceiling 2450\nroom 1651.5x2551.5\nlow-ceiling LC1 at (0,0) size 1651.5x2551.5 level 2250\n\
         fan-hole F1 in LC1 at (1000,1400) size 160x160",
    )
    .expect("a job");
    let layout = Layout::of(&job);
    let laid = &layout.platforms[0];
    let marks: Vec<f64> = running(&laid.spec, &laid.frame).iter().map(|m| m.at).collect();
    assert_eq!(marks, [0.0, 377.0, 777.0, 1177.0, 1577.0, 1977.0, 2377.0, 2505.5]);
    let cuts = |role: &str| -> Vec<f64> {
        let of = laid.frame.members.iter().filter(|m| m.role.label() == role);
        of.map(|m| m.cut().length).collect()
    };
    assert_eq!(cuts("joist"), [1559.5; 8]);
    assert_eq!(cuts("wall plate"), [2551.5; 2]);
    assert_eq!(cuts("trimmer"), [354.0; 2]);
    // Level 2250 less nothing, 12.5 board: underside of the joists at 2262.5, their top 97 higher.
    assert_eq!((laid.spec.heights.low, laid.spec.heights.high), (2262.5, 2359.5));
    assert!(layout.snags.is_empty(), "{:?}", layout.snags);
}
