//! `baywright changes`, from outside: what is told of two states of a job, and the sheet that is written.

use std::path::Path;

use layout_core::document::{read, write};
use serde_json::Value;

use crate::{json, out, run};

#[test]
fn what_changed_is_told_piece_by_piece_and_printed() {
    let dir = tempfile::tempdir().unwrap();
    let was =
        Path::new(env!("CARGO_MANIFEST_DIR")).join("../../assets/jobs/one-wall-with-door.ron");
    let text = std::fs::read_to_string(&was).unwrap();
    let was = was.display().to_string();
    // Nothing changed: nothing is said to have.
    let same = out(&run(&["changes", &was, &was]));
    assert!(same.ends_with(" pieces stay as they are\n"), "{same}");
    // A door 100 further along: its studs move, and nothing is cut anew that need not be.
    let mut job = read(&text).unwrap();
    let mut wall = (*job.walls[0]).clone();
    wall.openings[0].hold.distance += 100.0;
    job.walls[0] = std::sync::Arc::new(wall);
    let is = dir.path().join("moved.ron");
    std::fs::write(&is, write(&job)).unwrap();
    let is = is.display().to_string();
    let told = out(&run(&["changes", &was, &is]));
    assert!(told.contains("moved"), "{told}");
    let answer = json(&["changes", &was, &is, "--json"]);
    let list = answer["changes"].as_array().unwrap();
    let is_moved = |c: &&Value| c["change"] == "moved" && c["is"]["role"] == "opening stud";
    let moved: Vec<&Value> = list.iter().filter(is_moved).collect();
    assert_eq!(moved.len(), 2, "{told}");
    for c in moved {
        let by = c["is"]["at_mm"].as_f64().unwrap() - c["was"]["at_mm"].as_f64().unwrap();
        assert!((by - 100.0).abs() < 1.0, "{c}");
        assert_eq!(c["is"]["cut_mm"], c["was"]["cut_mm"]);
    }
    // The door itself moved, the boards it is cut out of are cut again, and nothing else is said of either.
    let things = answer["things"].as_array().unwrap();
    let of = |kind: &str| things.iter().filter(|t| t["kind"] == kind).collect::<Vec<_>>();
    let doors = of("opening");
    assert_eq!(doors.len(), 1, "{told}");
    assert_eq!(doors[0]["change"], "moved");
    assert_eq!(doors[0]["was"]["size_mm"], doors[0]["is"]["size_mm"]);
    let by = doors[0]["is"]["at_mm"].as_f64().unwrap() - doors[0]["was"]["at_mm"].as_f64().unwrap();
    assert!((by - 100.0).abs() < 1e-6, "{told}");
    assert!(!of("board").is_empty() && answer["boards_unchanged"].as_u64().unwrap() > 0, "{told}");
    assert!(told.contains("moved      A door D1"), "{told}");
    let to = dir.path().join("prints").display().to_string();
    let wrote = out(&run(&["changes", &was, &is, "-o", &to, "--paper", "a4"]));
    assert!(std::fs::read(wrote.trim()).unwrap().starts_with(b"%PDF-"));
}
