//! Structural openings from leaves, against what books and codes of practice teach.

use approx::assert_abs_diff_eq;
use layout_core::document::{
    Door, DoorStyle, Face, Hand, Hinge, Hold, HoldTo, Lining, Opening, OpeningKind, WallEnd,
};
use layout_core::frame::{Member, Role};
use layout_core::layout::Layout;
use layout_core::span::Span;

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
    for style in [DoorStyle::Single, DoorStyle::Double, DoorStyle::Sliding, DoorStyle::Pocket] {
        let stack = Door { style, ..door((762.0, 1981.0), 32.0, 12.0) }.stack();
        let width: f64 = stack.lines.iter().map(|l| l.width).sum();
        let height: f64 = stack.lines.iter().map(|l| l.height).sum();
        assert_abs_diff_eq!(width, stack.width);
        assert_abs_diff_eq!(height, stack.height);
        assert!(stack.lines.iter().any(|l| l.what == "leaf"));
    }
}

/// US rule of the trade (from memory): the rough opening of a door that slides into the wall is twice the leaf and
/// about an inch wide. The sum comes to that within 3 mm with a 30 lining, 20 of lap, 3 of gap, 5 of packing.
#[test]
fn a_pocket_is_twice_the_leaf_and_an_inch() {
    for leaf in [610.0, 686.0, 762.0, 838.0] {
        let pocket =
            Door { style: DoorStyle::Pocket, lap: 20.0, ..door((leaf, 1981.0), 30.0, 0.0) };
        let stack = pocket.stack();
        assert_abs_diff_eq!(stack.width, 2.0 * leaf - 20.0 + 3.0 + 30.0 + 10.0);
        assert_abs_diff_eq!(stack.width, 2.0 * leaf + INCH, epsilon = 3.0);
        // Shut it still stands its lap in the mouth; open its edge is flush with the lining there.
        let hole = Span::from(0.0, stack.width);
        let (doorway, pocket_span) = pocket.parts(hole);
        let between = pocket.between_linings(doorway);
        assert_abs_diff_eq!(between.length(), pocket.clear_width());
        let shut = pocket.leaves(hole)[0].1;
        assert_abs_diff_eq!(between.low - shut.low, 20.0);
        let open = pocket.slid_open(shut);
        assert_abs_diff_eq!(open.high, between.low);
        let back = pocket_span.map_or(f64::NAN, |p| p.low);
        assert_abs_diff_eq!(open.low - back, 3.0 + 5.0);
    }
}

/// Clear width of a hung leaf: leaf + gap − stop − the thicker of the open leaf and the stop (guidance with
/// Approved Document M, formula read, values computed, handles not taken off): a 762 leaf cannot give 750, one
/// of 838 gives 775, a 926 leaf gives 850.
#[test]
fn clear_widths() {
    for (leaf, thickness, clear) in
        [(762.0, 35.0, 718.0), (838.0, 35.0, 794.0), (926.0, 40.0, 877.0)]
    {
        let door = Door { leaf: (leaf, 1981.0, thickness), ..door((leaf, 1981.0), 30.0, 0.0) };
        assert_abs_diff_eq!(door.clear_width(), clear);
    }
    assert!(door((762.0, 1981.0), 30.0, 0.0).clear_width() < 750.0);
}

/// The hand of a door is named from the side it opens towards (trade practice; DIN 107 says the same, from
/// memory): hinges on the left, left hand.
#[test]
fn the_hand_is_named_from_the_side_it_opens_towards() {
    for (hinge, opens, hand) in [
        (Hinge::Start, Face::Right, Hand::Left),
        (Hinge::End, Face::Right, Hand::Right),
        (Hinge::Start, Face::Left, Hand::Right),
        (Hinge::End, Face::Left, Hand::Left),
    ] {
        let door = Door { hinge, opens, ..Door::default() };
        assert_eq!(door.hand(), Some(hand));
    }
}

/// Griffith, Carpentry (1916), §14 (read, added up again): the parts of a window frame and its opening add up in
/// one column, 2 + 1 + 3 + 34 + 1 + 34 + 2 + 2 = 79 in. The same column as a direct structural size: the sum of the
/// parts and what is left over are both shown, and make the hole.
#[test]
fn a_window_frame_adds_up_in_one_column() {
    let column: f64 = [2.0, 1.0, 3.0, 34.0, 1.0, 34.0, 2.0, 2.0].iter().sum();
    assert_abs_diff_eq!(column, 79.0);
    let door = Door { hole: Some((900.0, 79.0 * INCH)), ..door((762.0, 1900.0), 30.0, 0.0) };
    let stack = door.stack();
    let height: f64 = stack.lines.iter().map(|l| l.height).sum();
    assert_abs_diff_eq!(height, column * INCH, epsilon = 1e-9);
    assert_eq!(stack.lines.last().map(|l| l.what), Some("as entered"));
}

/// A wall 3600 long and 2400 high of 38×89 at 600 centres with a door of 762×1981 in it from 1000 (computed by
/// hand, sole at finished floor, head tight): structural 838 × 2027; door studs 962–1000 and 1838–1876; commons
/// at 19, 600, 2400, 3000 and 3581; two cripples of 297; head 838 long from 2027 to 2065; noggins 543, 343, 505,
/// 562 and 543; sole plates of 1000 and 1762.
#[test]
fn a_door_in_a_wall_of_3600() {
    let text = "level ceiling 2400
        makeup P timber 38x89 centres 600 boards 12.5 rows 1200
        wall A (0,0)->(3600,0)";
    let job = suite::fixture::job(text).unwrap();
    let opening = Opening::new(
        "D1",
        OpeningKind::Door(door((762.0, 1981.0), 30.0, 0.0)),
        Hold { from: WallEnd::Start, to: HoldTo::Near, distance: 1000.0 },
    );
    let job = layout_core::document::Edit::PutOpening { wall: "A".into(), opening }.apply(&job);
    let layout = Layout::of(&job);
    let wall = &layout.walls[0];
    let of = |role: Role| -> Vec<&Member> {
        wall.frame.members.iter().filter(|m| m.role == role).collect()
    };
    let along = |role: Role| -> Vec<(f64, f64)> {
        let mut spans: Vec<(f64, f64)> = of(role)
            .iter()
            .map(|m| m.solid.stations())
            .map(|s| (s.low.round(), s.high.round()))
            .collect();
        spans.sort_by(|a, b| a.0.total_cmp(&b.0));
        spans
    };
    assert_eq!(along(Role::OpeningStud), [(962.0, 1000.0), (1838.0, 1876.0)]);
    assert_eq!(along(Role::EndStud), [(0.0, 38.0), (3562.0, 3600.0)]);
    assert_eq!(along(Role::Stud), [(581.0, 619.0), (2381.0, 2419.0), (2981.0, 3019.0)]);
    // The second, meant for 1800, would stand 19 mm off the door stud: it goes tight against it.
    assert_eq!(along(Role::Cripple), [(1181.0, 1219.0), (1800.0, 1838.0)]);
    assert!(of(Role::Cripple).iter().all(|m| (m.cut().length - 297.0).abs() < 0.01));
    assert_eq!(along(Role::OpeningHead), [(1000.0, 1838.0)]);
    let head = of(Role::OpeningHead)[0].solid.heights();
    assert_eq!((head.low, head.high), (2027.0, 2065.0));
    let noggins: Vec<f64> = along(Role::Noggin).iter().map(|(low, high)| high - low).collect();
    assert_eq!(noggins, [543.0, 343.0, 505.0, 562.0, 543.0]);
    assert_eq!(noggins.iter().sum::<f64>(), 2496.0);
    assert_eq!(along(Role::SolePlate), [(0.0, 1000.0), (1838.0, 3600.0)]);
}
