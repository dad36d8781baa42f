//! Catalogues: what timber, boards, door leaves, linings and fittings are to be had. Lists a person can read
//! and edit; a job never depends on them, they only fill in its fields.

use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};

use crate::document::{Board, ReadError, read_list};
use crate::id::Name;

/// A timber section and what it is sold as.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Section {
    /// What the yard calls it: “4×2 sawn”.
    pub sold_as: Name,
    /// The smaller dimension, mm, dry.
    pub thickness: f64,
    /// The larger dimension, mm, dry.
    pub depth: f64,
    /// Lengths of a bar, mm.
    pub lengths: Vec<f64>,
}

/// A sheet of board.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Sheet {
    /// The kind of board a make-up asks for: “standard”, “moisture”.
    pub kind: Name,
    /// Width of the sheet, mm.
    pub width: f64,
    /// Length of the sheet, mm.
    pub length: f64,
    /// Thickness, mm.
    pub thickness: f64,
    /// Mass of a square metre, kg.
    pub mass_kg_m2: f64,
}

impl Sheet {
    /// Mass of a whole sheet, kg.
    pub fn mass(&self) -> f64 {
        self.width * self.length / 1e6 * self.mass_kg_m2
    }
}

/// Mass of a square metre of board for each millimetre of its thickness, kg, of the kinds that are not like
/// standard board. From memory, the middle of the usual range; the label on the board decides.
const HEAVIER: [(&str, f64); 3] = [("dense", 0.83), ("plank", 0.76), ("moisture", 0.68)];
/// The same of standard board: 12.5 thick, 8.2 kg.
const STANDARD: f64 = 0.66;

/// Mass of a square metre of `board`, kg: what it says, or else what its kind usually has.
pub fn mass_of(board: &Board) -> f64 {
    board.mass.unwrap_or_else(|| {
        let kind = HEAVIER.iter().find(|(kind, _)| board.kind == *kind);
        board.thickness * kind.map_or(STANDARD, |(_, mass)| *mass)
    })
}

/// A door leaf.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Leaf {
    /// Its name in lists.
    pub name: Name,
    /// Width, mm.
    pub width: f64,
    /// Height, mm.
    pub height: f64,
    /// Thickness, mm.
    pub thickness: f64,
}

/// A kind of door lining.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LiningSize {
    /// Its name in lists.
    pub name: Name,
    /// Thickness, mm.
    pub thickness: f64,
    /// Depth of the rebate, mm; 0 for a planted stop.
    pub rebate: f64,
}

/// A usual fitting: how wide it is and where it hangs.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Hung {
    /// Its name in lists, and the stem of its name in a job: “Basin”.
    pub name: Name,
    /// Its width, mm.
    pub width: f64,
    /// Its underside above FFL, mm.
    pub bottom: f64,
    /// Its top above FFL, mm.
    pub top: f64,
    /// Heights of its fixings above FFL, mm.
    pub fixings: Vec<f64>,
}

/// All five catalogues.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Catalogue {
    /// Timber sections.
    pub timber: Vec<Section>,
    /// Boards.
    pub boards: Vec<Sheet>,
    /// Door leaves.
    pub doors: Vec<Leaf>,
    /// Door linings.
    pub linings: Vec<LiningSize>,
    /// Usual fittings.
    pub fittings: Vec<Hung>,
}

/// Reads the timber catalogue.
///
/// # Errors
/// The first thing that is wrong, with its place.
pub fn read_timber(text: &str) -> Result<Vec<Section>, ReadError> {
    checked(text, |s: &Section| {
        named("sold_as", &s.sold_as)?;
        within("thickness", s.thickness, 5.0, 600.0)?;
        within("depth", s.depth, 5.0, 600.0)?;
        s.lengths.iter().try_for_each(|l| within("lengths", *l, 100.0, 100_000.0))
    })
}

/// Reads the board catalogue.
///
/// # Errors
/// The first thing that is wrong, with its place.
pub fn read_boards(text: &str) -> Result<Vec<Sheet>, ReadError> {
    checked(text, |s: &Sheet| {
        named("kind", &s.kind)?;
        within("width", s.width, 100.0, 10_000.0)?;
        within("length", s.length, 100.0, 10_000.0)?;
        within("thickness", s.thickness, 0.1, 100.0)?;
        within("mass_kg_m2", s.mass_kg_m2, 0.1, 100.0)
    })
}

/// Reads the catalogue of door leaves.
///
/// # Errors
/// The first thing that is wrong, with its place.
pub fn read_doors(text: &str) -> Result<Vec<Leaf>, ReadError> {
    checked(text, |l: &Leaf| {
        named("name", &l.name)?;
        within("width", l.width, 100.0, 10_000.0)?;
        within("height", l.height, 100.0, 10_000.0)?;
        within("thickness", l.thickness, 5.0, 200.0)
    })
}

/// Reads the catalogue of linings.
///
/// # Errors
/// The first thing that is wrong, with its place.
pub fn read_linings(text: &str) -> Result<Vec<LiningSize>, ReadError> {
    checked(text, |l: &LiningSize| {
        named("name", &l.name)?;
        within("thickness", l.thickness, 1.0, 200.0)?;
        within("rebate", l.rebate, 0.0, l.thickness)
    })
}

/// Reads the catalogue of fittings.
///
/// # Errors
/// The first thing that is wrong, with its place.
pub fn read_fittings(text: &str) -> Result<Vec<Hung>, ReadError> {
    checked(text, |f: &Hung| {
        named("name", &f.name)?;
        within("width", f.width, 10.0, 10_000.0)?;
        within("bottom", f.bottom, -500.0, 10_000.0)?;
        within("top", f.top, f.bottom + 1.0, 10_000.0)?;
        f.fixings.iter().try_for_each(|z| within("fixings", *z, -500.0, 10_000.0))
    })
}

/// Entries a catalogue may hold.
const MOST: usize = 10_000;

fn checked<T: DeserializeOwned>(
    text: &str,
    look: impl Fn(&T) -> Result<(), (&'static str, String)>,
) -> Result<Vec<T>, ReadError> {
    read_list(text, MOST, look)
}

fn named(field: &'static str, name: &Name) -> Result<(), (&'static str, String)> {
    let length = name.as_str().chars().count();
    if (1..=200).contains(&length) {
        return Ok(());
    }
    Err((field, format!("a name has 1 to 200 characters, this one has {length}")))
}

fn within(
    field: &'static str,
    value: f64,
    least: f64,
    most: f64,
) -> Result<(), (&'static str, String)> {
    if (least..=most).contains(&value) {
        return Ok(());
    }
    Err((field, format!("{value} is not between {least} and {most}")))
}

#[cfg(test)]
mod tests {
    use super::*;

    const TIMBER: &str = include_str!("../../../assets/catalogues/timber.ron");
    const BOARDS: &str = include_str!("../../../assets/catalogues/boards.ron");
    const DOORS: &str = include_str!("../../../assets/catalogues/doors.ron");
    const LININGS: &str = include_str!("../../../assets/catalogues/linings.ron");

    /// American Softwood Lumber Standard PS 20: a dressed 2×4 is 1½ × 3½ in, 38 × 89 mm.
    #[test]
    fn a_dressed_two_by_four_is_38_by_89() {
        let timber = read_timber(TIMBER).unwrap();
        let two_by_four = timber.iter().find(|s| s.sold_as == "2×4 dressed").unwrap();
        assert_eq!((two_by_four.thickness, two_by_four.depth), (38.0, 89.0));
        assert!((two_by_four.thickness - 1.5 * 25.4).abs() < 0.5);
        assert!((two_by_four.depth - 3.5 * 25.4).abs() < 0.5);
    }

    /// Mass per area is from memory; a 2400 × 1200 sheet of 12.5 board is 23 to 24.5 kg.
    #[test]
    fn a_standard_sheet_is_just_under_25_kg() {
        let boards = read_boards(BOARDS).unwrap();
        let sheet = boards.iter().find(|b| b.kind == "standard" && b.length == 2400.0).unwrap();
        assert!((23.0..24.5).contains(&sheet.mass()), "{}", sheet.mass());
    }

    /// A job says no masses of its own; what is taken then is what the catalogue has, within a twentieth.
    #[test]
    fn boards_weigh_what_the_catalogue_says() {
        for sheet in read_boards(BOARDS).unwrap() {
            let board = Board::new(sheet.kind.clone(), sheet.thickness);
            let off = mass_of(&board) / sheet.mass_kg_m2;
            assert!((0.95..1.05).contains(&off), "{} {}: {off}", sheet.kind, sheet.thickness);
        }
        let own = Board { mass: Some(11.0), ..Board::new("dense", 12.5) };
        assert_eq!(mass_of(&own), 11.0);
    }

    /// BS 4787-1: metric leaves are 2040 high and 40 thick, 526 to 926 wide.
    #[test]
    fn the_metric_leaves_are_there() {
        let doors = read_doors(DOORS).unwrap();
        for width in [526.0, 626.0, 726.0, 826.0, 926.0] {
            assert!(
                doors.iter().any(|d| (d.width, d.height, d.thickness) == (width, 2040.0, 40.0))
            );
        }
        assert!(read_linings(LININGS).unwrap().iter().any(|l| l.rebate > 0.0));
    }

    /// Common practice: a basin's rim at 850 or a little under, a grab rail's fixings inside its length, and
    /// everything fixed between its underside and its top.
    #[test]
    fn usual_fittings_are_fixed_within_themselves() {
        let fittings =
            read_fittings(include_str!("../../../assets/catalogues/fittings.ron")).unwrap();
        for f in &fittings {
            assert!(!f.fixings.is_empty(), "{}", f.name);
            assert!(f.fixings.iter().all(|z| (f.bottom..=f.top).contains(z)), "{}", f.name);
        }
        let basin = fittings.iter().find(|f| f.name == "Basin").unwrap();
        assert!((800.0..=850.0).contains(&basin.top));
    }

    #[test]
    fn a_slip_in_a_catalogue_is_told_with_its_place() {
        let wrong = "[\n  (name: \"30\", thickness: 30, rebate: 0),\n  (name: \"x\", thickness: 3000, rebate: 0),\n]";
        assert_eq!(
            read_linings(wrong).unwrap_err().to_string(),
            "3:26: thickness: 3000 is not between 1 and 200"
        );
        let wrong = "[(name: \"x\", thicknes: 30, rebate: 0)]";
        assert_eq!(
            read_linings(wrong).unwrap_err().to_string(),
            "1:14: there is no field \"thicknes\" in a lining; did you mean thickness?"
        );
        let wrong = "[(name: \"x\", thickness: NaN, rebate: 0)]";
        assert_eq!(
            read_linings(wrong).unwrap_err().to_string(),
            "1:25: thickness: NaN is not between 1 and 200"
        );
    }
}
