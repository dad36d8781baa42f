//! Screws, masses and screw lengths against figures from outside.

use layout_core::boards;
use layout_core::catalogue::mass_of;
use layout_core::document::{Board, Sundries};
use layout_core::layout::Layout;
use layout_core::sundries::screw_length;
use suite::fixture;

/// Screws in each row up the studs of the first whole board of a wall.
fn rows(centres: f64) -> Vec<usize> {
    // A sheet 2400 high stands 10 off the floor.
    let text = format!(
        "level ceiling 2410\nmakeup P timber 38x89 centres {centres} boards 12.5 rows none\nwall A (0,0)->(3600,0)"
    );
    let layout = Layout::of(&fixture::job(&text).unwrap());
    let wall = &layout.walls[0];
    let layer = &wall.boards.layers[0];
    let piece = layer.pieces.iter().position(|p| layer.is_whole(p)).unwrap();
    let placed = boards::screws(&wall.spec, &wall.frame, layer, true, &Sundries::default());
    let mut stations: Vec<f64> = placed[piece].iter().map(|s| s[0]).collect();
    stations.sort_by(f64::total_cmp);
    let mut rows: Vec<(f64, usize)> = Vec::new();
    for s in stations {
        match rows.last_mut() {
            Some((at, n)) if (s - *at).abs() < 0.01 => *n += 1,
            _ => rows.push((s, 1)),
        }
    }
    // Between the studs there are two: at the sole and at the head.
    rows.into_iter().map(|(_, n)| n).filter(|n| *n > 2).collect()
}

/// A sheet of 2400 × 1200 at 300 centres has 9 rows of screws: 27 on three stud lines at 600, 36 on four at 400.
/// Geometry; computed.
#[test]
fn a_sheet_takes_27_screws_on_studs_at_600_and_36_at_400() {
    assert_eq!(rows(600.0), [9; 3]);
    assert_eq!(rows(400.0), [9; 4]);
}

/// Edge distances of 13 mm in a cut edge and 6 mm in timber, a UK specification clause (read): in 38 mm of stud there is
/// one place for the screws of each board. Computed.
#[test]
fn screws_keep_their_distance_from_edges() {
    let text = "makeup P timber 38x89 centres 600 boards 12.5\nwall A (0,0)->(4200,0)\ndoor D1 in A at 2000 leaf 762x1981";
    let layout = Layout::of(&fixture::job(text).unwrap());
    let wall = &layout.walls[0];
    for layer in &wall.boards.layers {
        let placed = boards::screws(&wall.spec, &wall.frame, layer, true, &Sundries::default());
        for (piece, screws) in layer.pieces.iter().zip(placed) {
            assert!(!screws.is_empty());
            for s in screws {
                assert!(
                    piece.shape.contains(s) && piece.shape.clearance(s) >= 13.0 - 1e-6,
                    "{s:?}"
                );
                let holds = wall.frame.members.iter().any(|m| {
                    let (x, z) = (m.solid.stations(), m.solid.heights());
                    x.contains(s[0]) && z.contains(s[1])
                });
                assert!(holds, "{s:?} is not in timber");
            }
        }
    }
}

/// 2400 × 1200 × 12.5 at 8.0 to 8.5 kg/m²: 23.0 to 24.5 kg; 15 mm at 9.8: 28.2. The masses are from memory, the
/// products computed.
#[test]
fn a_sheet_weighs_what_the_trade_says() {
    let sheet = |board: &Board| 2.4 * 1.2 * mass_of(board);
    assert!((23.0..=24.5).contains(&sheet(&Board::new("standard", 12.5))));
    assert!((sheet(&Board::new("thick", 15.0)) - 28.2).abs() < 0.5);
    assert!((sheet(&Board::new("dense", 12.5)) - 28.8).abs() < 1.5);
    assert!(mass_of(&Board::new("thin", 9.5)) >= 6.2 && mass_of(&Board::new("thin", 9.5)) <= 6.5);
}

/// 12.5 single: 35 to 38 mm; double: 50 mm (trade, from memory). ½ in and 5/8 in of wood: 1⅛, so a 1¼ in (32 mm) screw
/// (GA guidance, read).
#[test]
fn screws_are_as_long_as_the_trade_says() {
    assert_eq!(screw_length(12.5, 25.0), 38.0);
    assert_eq!(screw_length(25.0, 25.0), 50.0);
    assert_eq!(screw_length(12.7, 15.875), 32.0);
}

/// Studs of 46 at 400 are 354 clear; a friction fit 10 wider is cut at 364 (common practice), and two of the
/// strips come out of a slab 1200 long laid across, three of its 600: `slabs` stands the strips end to end.
#[test]
fn a_bay_of_354_is_cut_364() {
    let text = "makeup P timber 46x97 centres 400 boards 12.5 rows none insulated 75\nwall A (0,0)->(2400,0)";
    let layout = Layout::of(&fixture::job(text).unwrap());
    let wall = &layout.walls[0];
    let fills = layout_core::insulation::fills(&wall.spec, &wall.frame, 10.0);
    let whole: Vec<_> = fills.iter().filter(|f| (f.along.length() - 354.0).abs() < 0.01).collect();
    assert_eq!(whole.len(), 4);
    assert!(whole.iter().all(|f| (f.cut.0 - 364.0).abs() < 0.01));
    // Between a sole and a head of 46 each.
    assert!(whole.iter().all(|f| (f.cut.1 - (2400.0 - 92.0)).abs() < 0.01));
    let cuts = layout_core::insulation::alike(&fills);
    let of = wall.spec.makeup.insulation.as_ref().unwrap();
    // One strip of 1200 from a slab across its 600, or three of 600 along its 1200: 1800 of strip from each.
    // Four bays of 364 and two of 341 (331 clear, 10 wider), each 2308 high: 9232 / 1800 + 4616 / 1800 = 7.7.
    assert_eq!(layout_core::insulation::slabs(of, &cuts), 8);
}
