//! Timber that dries.

use approx::assert_abs_diff_eq;
use layout_core::document::Moisture;

/// EN 336: softwood changes 0.25 % across the grain for one per cent of moisture (the rule read, the figure from
/// memory; the sizes computed from it).
#[test]
fn sizes_from_twenty_to_twelve_per_cent() {
    let dry = |size| Moisture { now: 20.0, in_use: 12.0 }.in_use_size(size);
    for (wet, size) in
        [(38.0, 37.24), (47.0, 46.06), (63.0, 61.74), (89.0, 87.22), (97.0, 95.06), (147.0, 144.06)]
    {
        assert_abs_diff_eq!(dry(wet), size, epsilon = 1e-9);
    }
}

/// The same from 20 to 10 per cent.
#[test]
fn sizes_from_twenty_to_ten_per_cent() {
    let dry = |size| Moisture { now: 20.0, in_use: 10.0 }.in_use_size(size);
    for (wet, size) in [(89.0, 86.775), (100.0, 97.5), (76.0, 74.1)] {
        assert_abs_diff_eq!(dry(wet), size, epsilon = 1e-9);
    }
}

/// Wetter than 30 per cent wood grows no more (fibre saturation; EN 336, read).
#[test]
fn sodden_timber_shrinks_from_thirty_per_cent() {
    let dry = |now| Moisture { now, in_use: 20.0 }.in_use_size(100.0);
    assert_abs_diff_eq!(dry(45.0), dry(30.0), epsilon = 1e-9);
    assert_abs_diff_eq!(dry(30.0), 97.5, epsilon = 1e-9);
}
