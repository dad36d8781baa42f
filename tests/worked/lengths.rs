//! Lengths as they are typed and printed.

use approx::assert_abs_diff_eq;
use layout_core::units::read_length;

/// What a tape shows, in millimetres. 25.4 mm to the inch, exactly (international inch, 1959).
#[test]
fn lengths_as_joiners_type_them() {
    for (typed, mm) in [
        ("2400", 2400.0),
        ("2.4m", 2400.0),
        ("24cm", 240.0),
        ("7'10 1/2\"", 94.5 * 25.4),
        ("3/4\"", 19.05),
        ("=3600/3-46", 1154.0),
    ] {
        match read_length(typed) {
            Ok(read) => assert_abs_diff_eq!(read, mm, epsilon = 1e-9),
            Err(why) => panic!("{typed}: {why}"),
        }
    }
}

/// 8 ft is 2438.4 mm, so a 2.4 m board or bar is 38.4 mm short of it (unit fact).
#[test]
fn eight_feet_are_more_than_two_metres_forty() {
    assert_abs_diff_eq!(read_length("8'").expect("8 ft"), 2438.4, epsilon = 1e-9);
}

/// US Army manual EN5156 (read): 10'-4" is 10⅓ ft, 3149.6 mm.
#[test]
fn feet_and_inches() {
    assert_abs_diff_eq!(read_length("10'4\"").expect("10 ft 4 in"), 3149.6, epsilon = 1e-9);
}
