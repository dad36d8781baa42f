//! Structural openings from leaves, against what books and codes of practice teach.

use approx::assert_abs_diff_eq;
use layout_core::document::{Door, DoorStyle, Lining};

const INCH: f64 = 25.4;

fn door(leaf: (f64, f64), lining: f64, rebate: f64) -> Door {
    Door {
        leaf: (leaf.0, leaf.1, 35.0),
        lining: Lining { thickness: lining, rebate },
        gap: 3.0,
        threshold: 8.0,
        packing: 5.0,
        ..Door::default()
    }
}

/// UK trade practice, formula from memory, values computed: W = leaf + 2·gap + 2·lining + 2·pack,
/// H above FFL = leaf + bottom gap + top gap + lining + pack, for the imperial leaves 1981 high
/// (BS 4787-1 era sizes, read).
#[test]
fn imperial_leaves_in_planted_stop_linings() {
    for (leaf, lining, width) in [
        (762.0, 30.0, 838.0),
        (762.0, 27.0, 832.0),
        (762.0, 32.0, 842.0),
        (610.0, 30.0, 686.0),
        (686.0, 30.0, 762.0),
        (838.0, 30.0, 914.0),
    ] {
        let stack = door((leaf, 1981.0), lining, 0.0).stack();
        assert_abs_diff_eq!(stack.width, width);
        assert_abs_diff_eq!(stack.height, 1981.0 + 8.0 + 3.0 + lining + 5.0);
    }
    assert_abs_diff_eq!(door((762.0, 1981.0), 30.0, 0.0).stack().height, 2027.0);
}

/// UK metric leaves 2040 high (BS 4787-1, read): the same formula, computed.
#[test]
fn metric_leaves() {
    let stack = door((826.0, 2040.0), 30.0, 0.0).stack();
    assert_abs_diff_eq!(stack.width, 902.0);
    assert_abs_diff_eq!(stack.height, 2086.0);
}

/// A rebated lining of 32 with a rebate of 12 gives (lining − rebate): 818, 24 less than a planted
/// stop of 32. Trade practice, formula from memory, computed.
#[test]
fn a_rebated_lining_takes_24_less() {
    let rebated = door((762.0, 1981.0), 32.0, 12.0).stack();
    let planted = door((762.0, 1981.0), 32.0, 0.0).stack();
    assert_abs_diff_eq!(rebated.width, 818.0);
    assert_abs_diff_eq!(planted.width - rebated.width, 24.0);
}

/// A refresher course for carpenters in British Columbia (topic 4; read, added up again): slab + 2 × ½
/// clearance + 2 × ¾ jamb wide; slab + ½ + ¾ + ½ + flooring + underlay high. 2'-6" × 6'-8" with 1" carpet and
/// ⅜" underlay is 32½ × 83⅛ in.
#[test]
fn the_canadian_rough_opening() {
    let door = Door {
        leaf: (30.0 * INCH, 80.0 * INCH, 35.0),
        lining: Lining { thickness: 0.75 * INCH, rebate: 0.0 },
        // Half an inch of clearance each side, and over the head.
        gap: 0.5 * INCH,
        // Half an inch, carpet and underlay.
        threshold: (0.5 + 1.0 + 0.375) * INCH,
        packing: 0.0,
        ..Door::default()
    };
    let stack = door.stack();
    assert_abs_diff_eq!(stack.width, 32.5 * INCH, epsilon = 1e-9);
    assert_abs_diff_eq!(stack.height, 83.125 * INCH, epsilon = 1e-9);
}

/// US rule of the trade (read): rough opening = door + 2 in wide, + 2½ in high; 30 × 80 → 32 × 82½.
/// It is the sum of ¾ jambs and ¼ of gap and shim each side.
#[test]
fn the_us_rough_opening() {
    let door = Door {
        leaf: (30.0 * INCH, 80.0 * INCH, 35.0),
        lining: Lining { thickness: 0.75 * INCH, rebate: 0.0 },
        gap: 0.125 * INCH,
        threshold: 1.5 * INCH,
        packing: 0.125 * INCH,
        ..Door::default()
    };
    let stack = door.stack();
    assert_abs_diff_eq!(stack.width, 32.0 * INCH, epsilon = 1e-9);
    assert_abs_diff_eq!(stack.height, 82.5 * INCH, epsilon = 1e-9);
}

/// A pair of leaves has three gaps: one at each jamb and one between the leaves. Computed.
#[test]
fn a_pair_of_leaves_has_three_gaps() {
    let pair = Door { style: DoorStyle::Double, ..door((610.0, 1981.0), 30.0, 0.0) };
    assert_abs_diff_eq!(pair.stack().width, 2.0 * 610.0 + 3.0 * 3.0 + 60.0 + 10.0);
}

/// Every term of the stack is shown: they add up to the hole. (A handbook's sum that did not — total
/// 82.5 cm where its terms give 81.7, read — is why.)
#[test]
fn the_terms_shown_add_up_to_the_hole() {
    for style in [DoorStyle::Single, DoorStyle::Double, DoorStyle::Sliding] {
        let stack = Door { style, ..door((762.0, 1981.0), 32.0, 12.0) }.stack();
        let width: f64 = stack.lines.iter().map(|l| l.width).sum();
        let height: f64 = stack.lines.iter().map(|l| l.height).sum();
        assert_abs_diff_eq!(width, stack.width);
        assert_abs_diff_eq!(height, stack.height);
        assert!(stack.lines.iter().any(|l| l.what == "leaf"));
    }
}
