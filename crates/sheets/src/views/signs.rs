//! Small conventions shared by the views: letters of first-fix points, places along a wall, crosses.

use layout_core::document::PointKind;

use crate::picture::At;

/// The two letters that stand for a kind of first-fix point on a drawing.
pub fn point_letters(kind: &PointKind) -> String {
    let mut letters = kind.label().chars();
    let first = letters.next().map(|c| c.to_uppercase().to_string()).unwrap_or_default();
    first + &letters.next().map(String::from).unwrap_or_default()
}

/// The four corners of an upright rectangle of the model, anticlockwise from low, low.
pub(crate) fn corners(x: (f64, f64), y: (f64, f64)) -> [At; 4] {
    [At::model(x.0, y.0), At::model(x.1, y.0), At::model(x.1, y.1), At::model(x.0, y.1)]
}

/// The two diagonals of a four-cornered area: sawn end grain, or a box.
pub(crate) fn diagonals(corners: &[At; 4]) -> [[At; 2]; 2] {
    [[corners[0], corners[2]], [corners[1], corners[3]]]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_kind_of_point_has_letters_of_its_own() {
        use PointKind::*;
        let kinds = [Switch, Socket, Spur, Light, Data, Thermostat, Fan, Duct, Pipe, Waste, Valve];
        let mut letters: Vec<String> = kinds.iter().map(point_letters).collect();
        assert_eq!(letters[0], "Sw");
        letters.sort();
        letters.dedup();
        assert_eq!(letters.len(), kinds.len());
        assert_eq!(point_letters(&Other(String::new())), "");
    }
}
