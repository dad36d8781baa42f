//! What `setout` says, set against the core.

use super::{asset, json};

/// The floor in `setout` is the core's, figure by figure.
#[test]
fn setout_has_the_floor_of_the_core() {
    for name in ["boat-club-annexe", "sail-loft", "l-shaped-pair"] {
        let path = asset(&format!("{name}.ron"));
        let job = layout_core::document::read(&std::fs::read_to_string(&path).unwrap()).unwrap();
        let layout = layout_core::layout::Layout::of(&job);
        let plan = layout_core::setout::floor::floor_plan(&job, &layout);
        let floor = &json(&["setout", &path, "--json"])["floor"];
        let near =
            |value: &serde_json::Value, is: f64| (value.as_f64().unwrap() - is).abs() < 0.001;
        let count = |key: &str| floor[key].as_array().unwrap().len();
        assert_eq!(count("fixed"), plan.fixed.len());
        assert_eq!(count("lines"), plan.lines.len());
        assert_eq!(count("diagonals"), plan.diagonals.len());
        assert_eq!(count("squares"), plan.squares.len());
        assert_eq!(count("splays"), plan.splays.len());
        for (i, line) in plan.lines.iter().enumerate() {
            let said = &floor["lines"][i];
            assert_eq!(said["wall"], line.wall.as_str());
            assert_eq!(said["timber"], line.timber().label());
            assert!(near(&said["length_mm"], line.length()));
            assert_eq!(said["marks"].as_array().unwrap().len(), line.marks.len());
            for (j, mark) in line.marks.iter().enumerate() {
                assert_eq!(said["marks"][j]["what"], mark.what.as_str());
                assert!(near(&said["marks"][j]["at_mm"], mark.at));
            }
            for (j, tapes) in line.tapes.iter().enumerate() {
                assert_eq!(said["tapes"][j].is_null(), tapes.is_none());
                if let Some(t) = tapes {
                    assert!(near(&said["tapes"][j]["pulled_mm"][1], t.pulled.1));
                }
            }
        }
        for (key, axis) in ["x", "y"].into_iter().zip(&plan.axes) {
            let said = floor["axes"][key].as_array().unwrap();
            assert_eq!(said.len(), axis.len());
            assert!(
                said.iter()
                    .zip(axis)
                    .all(|(s, o)| near(&s["at_mm"], o.at) && s["is_line"] == o.is_line)
            );
        }
        for (i, splay) in plan.splays.iter().enumerate() {
            assert!(near(&floor["splays"][i]["set_backs_mm"][0], splay.set_backs[0]));
        }
    }
}
