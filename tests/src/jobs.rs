//! The reference jobs, made by code and the same every time: what the benches and the laws measure.

use layout_core::document::{Job, read};

use crate::fixture;

/// The demonstration job that the program opens with.
///
/// # Panics
/// When the demonstration job cannot be read.
pub fn demo() -> Job {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../assets/jobs/boat-club-annexe.ron");
    let text = std::fs::read_to_string(path).unwrap_or_else(|e| panic!("{path}: {e}"));
    read(&text).unwrap_or_else(|e| panic!("{path}:{}:{}: {}", e.line, e.column, e.message))
}

/// One storey of a long building: some 200 walls and 6,000 pieces, with every kind of junction,
/// opening, sole and head, and first-fix points.
pub fn storey() -> Job {
    building(22)
}

/// Ten times the same, end to end: some 2,000 walls
/// and 60,000 pieces.
pub fn block() -> Job {
    building(222)
}

/// A building of `modules` four metres wide, either side of a corridor.
///
/// ```text
///   ┌────────┬────────┬──    outer wall, existing
///   │ wc ┐ ╷ │ wc ┐ ╷ │      ┐ an L of two walls, ╷ a screen
///   ├──┘   ╵ ├──┘   ╵ │
///   ┴────────┴────────┴──    corridor walls, eight metres each, in line
///   ┬────────┬────────┬──
/// ```
///
/// # Panics
/// Never: the text it makes is a case that the suite reads.
pub fn building(modules: usize) -> Job {
    const MODULE: f64 = 4000.0;
    const ROOM: f64 = 5000.0;
    const CORRIDOR: f64 = 1600.0;
    let length = MODULE * modules as f64;
    let depth = 2.0 * ROOM + CORRIDOR;
    let mut text = format!(
        "level ceiling 3000\nroom {length}x{depth} thickness 300\n\
         makeup Cross timber 46x97 centres 400 boards 12.5+12.5 tee studs\n\
         makeup Corridor timber 46x97 centres 600 boards 12.5 doubled head slip 20 rows 1200 2100\n\
         makeup Wet timber 46x97 centres 400 boards 12.5/15 corner blocked staggered head tight 3\n\
         makeup Screen timber 38x63 centres 400 boards 12.5 head free 1200 soles 2\n\
         stock 46x97 2400 3000 3600 4200 4800\nstock 38x63 2400 3000\n"
    );
    for (side, name) in [(1.0, 'F'), (-1.0, 'B')] {
        // The far side is the near side turned over about the corridor's middle.
        let y = |y: f64| if side > 0.0 { y } else { depth - y };
        let mut line = |words: String| {
            text += &words;
            text.push('\n');
        };
        // Joints in the corridor walls lie half a module off the cross walls.
        let (mut left, mut i) = (0.0, 0);
        while left < length {
            let right = length.min(if i == 0 { MODULE / 2.0 } else { left + 2.0 * MODULE });
            let corridor = y(ROOM);
            let name = format!("{name}C{i}");
            line(format!("wall {name} ({left},{corridor})->({right},{corridor}) makeup Corridor"));
            if right - left > MODULE {
                line(format!("door D{name} in {name} at 3200 leaf 762x1981"));
                line(format!("light L{name} in {name} at 1200 from end size 900x500 sill 1500"));
                line(format!("hatch H{name} in {name} at 5200 size 600x600 sill 1000"));
            }
            (left, i) = (right, i + 1);
        }
        for (i, left) in (0..modules).map(|i| (i, MODULE * i as f64)) {
            let (outer, corridor) = (y(0.0), y(ROOM));
            let cross = format!("{name}X{i}");
            if i > 0 {
                line(format!("wall {cross} ({left},{outer})->({left},{corridor}) makeup Cross"));
                line(format!("socket S{cross} on {cross} at 1310 height 450"));
                line(format!("switch W{cross} on {cross} left at 420 from end height 1050"));
                line(format!("fitting R{cross} on {cross} at 3000 width 900 from 150 to 750"));
            }
            let (wet, side_wall) = (format!("{name}W{i}"), format!("{name}V{i}"));
            let (x, y_wet) = (left + 1800.0, y(2200.0));
            line(format!("wall {wet} ({x},{outer})->({x},{y_wet}) makeup Wet end butt"));
            line(format!(
                "wall {side_wall} ({x},{y_wet})->({left},{y_wet}) makeup Wet start through"
            ));
            line(format!("door D{side_wall} in {side_wall} at 850 leaf 686x1981"));
            let (screen, x) = (format!("{name}S{i}"), left + 3000.0);
            let (from, to) = (y(1000.0), y(2500.0));
            line(format!("wall {screen} ({x},{from})->({x},{to}) makeup Screen"));
        }
    }
    fixture::job(&text).unwrap_or_else(|why| panic!("{why}"))
}
