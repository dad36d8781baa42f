//! The lists of a job as tables: what the workbook has a sheet for.

use layout_core::board_plan::{BoardPlan, board_plans, marks_in_words};
use layout_core::document::{Door, Job};
use layout_core::frame::Total;
use layout_core::id::ItemRef;
use layout_core::layout::Layout;
use layout_core::pieces::{cutting_plan, totals};
use layout_core::snag::Snag;
use sheets::export::{Cell, Table};

use super::csv::{count, number, text};
use super::{saw, schedule, yard};

/// Every list, each with the name of its sheet.
pub(crate) fn tables(job: &Job, layout: &Layout) -> Vec<(&'static str, Table)> {
    let bars = cutting_plan(job, layout);
    let sheets = board_plans(job, layout);
    vec![
        ("Timber", schedule::table(layout)),
        ("Totals", sections(&totals(layout))),
        ("Bars", saw::table(&bars)),
        ("Boards", boards(layout)),
        ("Sheets of board", cut_from(&sheets)),
        ("Openings", openings(layout)),
        ("First fix", points(job, layout)),
        ("Yard order", yard::table(&yard::ordered(job, layout).0.lines)),
        ("Snags", snags(layout)),
    ]
}

fn sections(totals: &[Total]) -> Table {
    let mut table = Table::new(&["section", "grade", "pieces", "length_m"]);
    for total in totals {
        table.line(&[
            text(&total.timber.size()),
            text(total.timber.grade().as_str()),
            count(total.pieces),
            number(total.length / 1000.0),
        ]);
    }
    table
}

fn boards(layout: &Layout) -> Table {
    let mut table = Table::new(&[
        "mark",
        "of",
        "on",
        "layer",
        "board",
        "thickness_mm",
        "lay",
        "width_mm",
        "length_mm",
        "area_m2",
        "mass_kg",
    ]);
    let mut line = |of: &str, on: &str, number_on: usize, layer: usize, said: Board| {
        table.line(&[
            text(format!("{of} {on} {number_on}").trim()),
            text(of),
            text(on),
            count(layer + 1),
            text(said.board.kind.as_str()),
            number(said.board.thickness),
            text(said.board.lay.label()),
            number(said.blank.0),
            number(said.blank.1),
            number(said.area / 1e6),
            number(said.mass),
        ]);
    };
    for wall in &layout.walls {
        let of = wall.name().as_str();
        for layer in &wall.boards.layers {
            for piece in &layer.pieces {
                let said = Board::of(layer, piece);
                line(of, layer.face.label(), piece.number, layer.layer, said);
            }
        }
        for strip in &wall.boards.strips {
            let (area, mass) = (strip.area(), strip.mass());
            let said = Board { board: &strip.board, blank: strip.blank(), area, mass };
            line(of, strip.closes.on().label(), strip.number, strip.layer, said);
        }
    }
    let flat = layout.platforms.iter().map(|p| (p.name().as_str(), p.boards.as_slice()));
    let over = layout.ceiling.iter().map(|c| ("", c.layers.as_slice()));
    for (of, layers) in flat.chain(over) {
        for layer in layers {
            for piece in &layer.pieces {
                let said = Board::of(layer, piece);
                line(of, layer.face.label(), piece.number, layer.layer, said);
            }
        }
    }
    table
}

/// What is said of any board.
struct Board<'a> {
    board: &'a layout_core::document::Board,
    blank: (f64, f64),
    area: f64,
    mass: f64,
}

impl<'a> Board<'a> {
    fn of<F>(
        layer: &'a layout_core::boards::Layer<F>,
        piece: &layout_core::boards::Piece,
    ) -> Board<'a> {
        let (area, mass) = (piece.shape.area(), layer.mass(piece));
        Board { board: &layer.board, blank: piece.blank, area, mass }
    }
}

fn cut_from(plans: &[BoardPlan]) -> Table {
    let mut table = Table::new(&[
        "board",
        "thickness_mm",
        "sheet",
        "sheet_width_mm",
        "sheet_length_mm",
        "here_already",
        "alike",
        "boards",
        "from_left_mm",
        "from_foot_mm",
        "width_mm",
        "length_mm",
    ]);
    for plan in plans {
        for (i, sheet) in plan.sheets.iter().enumerate() {
            for board in &sheet.boards {
                table.line(&[
                    text(plan.kind.as_str()),
                    number(plan.thickness),
                    count(i + 1),
                    number(sheet.size.0),
                    number(sheet.size.1),
                    Cell::Truth(sheet.owned),
                    count(sheet.count),
                    text(&marks_in_words(&board.marks)),
                    number(board.at.x),
                    number(board.at.y),
                    number(board.at.width),
                    number(board.at.length),
                ]);
            }
        }
    }
    table
}

fn openings(layout: &Layout) -> Table {
    let mut table = Table::new(&[
        "name",
        "wall",
        "kind",
        "station_mm",
        "width_mm",
        "sill_mm",
        "top_mm",
        "leaf_width_mm",
        "leaf_height_mm",
        "leaf_thickness_mm",
        "hand",
        "clear_width_mm",
    ]);
    let holes = layout.walls.iter().flat_map(|w| w.spec.holes.iter().map(move |h| (w, h)));
    for (wall, hole) in holes {
        let door = hole.door.as_ref();
        let of_door = |value: fn(&Door) -> f64| door.map_or(Cell::Empty, |d| number(value(d)));
        let hand = door.and_then(Door::hand).map_or(Cell::Empty, |h| text(h.label()));
        table.line(&[
            text(hole.name.as_str()),
            text(wall.name().as_str()),
            text(hole.label),
            number(hole.span.low),
            number(hole.span.length()),
            hole.sill.map_or(Cell::Empty, number),
            number(hole.top),
            of_door(|d| d.leaf.0),
            of_door(|d| d.leaf.1),
            of_door(|d| d.leaf.2),
            hand,
            of_door(Door::clear_width),
        ]);
    }
    table
}

fn points(job: &Job, layout: &Layout) -> Table {
    let mut table = Table::new(&[
        "name",
        "wall",
        "kind",
        "face",
        "station_mm",
        "height_mm",
        "width_mm",
        "depth_mm",
        "box_height_mm",
    ]);
    for wall in &layout.walls {
        for point in job.wall(wall.name()).map_or(&[][..], |w| &w.points) {
            let spot = wall.spec.spot(&ItemRef::Point(point.name.clone()));
            table.line(&[
                text(point.name.as_str()),
                text(wall.name().as_str()),
                text(point.kind.label()),
                text(point.face.label()),
                number(spot.map_or(point.distance, |s| s.span.centre())),
                number(point.height),
                number(point.size.0),
                number(point.depth),
                number(point.size.1),
            ]);
        }
    }
    table
}

fn snags(layout: &Layout) -> Table {
    let mut table = Table::new(&[
        "severity",
        "snag",
        "of",
        "wall",
        "station_mm",
        "height_mm",
        "message",
        "remedy",
        "accepted_because",
        "source",
    ]);
    let mut line = |snag: &Snag, because: &str| {
        table.line(&[
            text(snag.severity().label()),
            text(snag.code.id()),
            text(&snag.of.label()),
            text(snag.wall.as_ref().map_or("", |w| w.as_str())),
            snag.station.map_or(Cell::Empty, number),
            snag.height.map_or(Cell::Empty, number),
            text(&snag.message),
            text(&snag.remedy),
            text(because),
            text(snag.source()),
        ]);
    };
    for snag in &layout.snags {
        line(snag, "");
    }
    for (accepted, snags) in &layout.accepted {
        for snag in snags {
            line(snag, &accepted.reason);
        }
    }
    table
}
