//! The commands about what is cut and bought.

use std::process::Output;

use serde_json::Value;

use crate::{asset, fed, json, out, refused, run};

/// Whatever the plan, each piece is cut once, and a bar holds its pieces and the cuts between them.
#[test]
fn the_cutting_plan_adds_up() {
    let file = asset("boat-club-annexe.ron");
    let plan = json(&["saw", "--json", &file]);
    assert_eq!(plan["format"], "baywright-saw");
    let (kerf, trim) = (plan["kerf_mm"].as_f64().unwrap(), plan["trim_mm"].as_f64().unwrap());
    let mut marks = Vec::new();
    for section in plan["sections"].as_array().unwrap() {
        let mut bought = 0.0;
        for bar in section["bars"].as_array().unwrap() {
            let pieces = bar["pieces"].as_array().unwrap();
            let length: f64 = pieces.iter().map(|p| p["length_mm"].as_f64().unwrap()).sum();
            let stock = bar["stock_length_mm"].as_f64().unwrap();
            assert!(length + (pieces.len() as f64 - 1.0) * kerf <= stock - trim + 0.001, "{bar}");
            bought += stock;
            marks.extend(pieces.iter().map(|p| p["mark"].as_str().unwrap().to_string()));
        }
        assert_eq!(section["bought_mm"].as_f64(), Some(bought));
        assert_eq!(section["left_over"].as_array().unwrap().len(), 0);
    }
    marks.sort();
    let schedule = json(&["schedule", "--json", &file]);
    let mut all: Vec<String> = schedule["members"]
        .as_array()
        .unwrap()
        .iter()
        .map(|m| m["mark"].as_str().unwrap().into())
        .collect();
    all.sort();
    assert_eq!(marks, all);
    assert!(out(&run(&["saw", &file])).contains(" bars, "));
    assert!(out(&run(&["saw", "--csv", &file])).starts_with("section,grade,bar,"));
    for plan in plan["boards"].as_array().unwrap() {
        assert!(plan["left_over"].as_array().unwrap().is_empty(), "{plan}");
        assert!(plan["fewest"].as_u64() <= plan["bought"].as_u64(), "{plan}");
    }
    assert!(
        out(&run(&["saw", &file])).contains("\nboard moisture 12.5 mm: 7 sheets, €101.50, proven")
    );
}

/// What `saw --pieces -` says to `problem`.
fn pieces(problem: &str, more: &[&str]) -> Output {
    fed(&[&["saw", "--pieces", "-"], more].concat(), problem)
}

#[test]
fn bars_for_a_bare_list_of_lengths() {
    // Two of 1199 and the cut between them are 2401: one bar of 2400 will not do; one of 3000 is dearer than two.
    let problem = r#"{"name": "two", "kerf_mm": 3, "stock": [{"length_mm": 2400, "price": 7.29}, {"length_mm": 3000, "price": 15}],
        "pieces": [{"length_mm": 1199, "count": 2}], "note": "mine"}"#;
    let text = out(&pieces(problem, &[]));
    assert_eq!(
        text,
        "two\n2 bars, 4800 mm, cost 14.58, proven: nothing cheaper will do\n    2 ×  2400  1 × 1199  left 1198\n"
    );
    let answer: Value = serde_json::from_str(&out(&pieces(problem, &["--json"]))).unwrap();
    assert_eq!(answer["format"], "baywright-cut-pieces");
    assert_eq!((answer["cost"].as_f64(), &answer["lower_bound"]), (Some(14.58), &answer["cost"]));
    assert_eq!(answer["bars"][0]["cuts_mm"], serde_json::json!([1199]));
    assert!(out(&pieces(problem, &["--csv"])).starts_with("pattern,bars,stock_length_mm,"));
}

/// Forty straight pieces at one in ten crooked are 48 bars (the binomial distribution, as in `tests/interop`); what is bowed gives
/// the others. Of a line with 44 it says how many are short.
#[test]
fn straight_pieces_of_a_bare_list_come_from_bars_enough() {
    let problem = |available: &str| {
        format!(
            r#"{{"stock": [{{"length_mm": 2400, "price": 6, "not_straight": 0.1, "available": {available}}},
            {{"length_mm": 2400, "price": 0, "bowed": true, "available": 3}}],
            "pieces": [{{"length_mm": 2300, "count": 40, "straight": true}}, {{"length_mm": 1100, "count": 6}}]}}"#
        )
    };
    let answer = out(&pieces(&problem("null"), &["--json"]));
    let answer: Value = serde_json::from_str(&answer).unwrap();
    assert_eq!((&answer["cost"], &answer["proven"]), (&288.into(), &true.into()));
    let buy = serde_json::json!([{"stock_index": 0, "count": 48, "straight": 40, "short": 0},
        {"stock_index": 1, "count": 3, "straight": 0, "short": 0}]);
    assert_eq!(answer["buy"], buy);
    assert_eq!(answer["bars"].as_array().unwrap().len(), 2);
    assert!(answer["enough_straight"].as_f64() >= Some(0.95));
    let text = out(&pieces(&problem("44"), &[]));
    let told = "40 of the 44 of 2400 have to be straight; to be sure it would take 4 more than there are\n54 % sure";
    assert!(text.contains(told), "{text}");
}

/// By hand: of three pieces 1000 from point to point whose ends both lean by 100, each two lie together and save 100: 3000 and two cuts
/// of 3, less 200, are 2806; with one end each only two of them meet, and save 100.
#[test]
fn leaning_ends_of_a_bare_list_lie_together() {
    let problem = |ends: u32, stock: u32| {
        format!(
            r#"{{"kerf_mm": 3, "stock": [{{"length_mm": {stock}}}],
            "pieces": [{{"length_mm": 1000, "count": 3, "lean_mm": 100, "leaning_ends": {ends}}}]}}"#
        )
    };
    for (ends, stock, bars, saved) in [(2, 2806, 1, 200), (1, 2906, 1, 100), (2, 2805, 2, 100)] {
        let answer = out(&pieces(&problem(ends, stock), &["--json"]));
        let answer: Value = serde_json::from_str(&answer).unwrap();
        let list = answer["bars"].as_array().unwrap();
        let count: u64 = list.iter().filter_map(|b| b["count"].as_u64()).sum();
        let most = list.iter().filter_map(|b| b["saved_mm"].as_u64()).max();
        assert_eq!((count, most), (bars, Some(saved)), "{answer}");
        assert_eq!(list[0]["piece_index"][0], 0);
    }
}

#[test]
fn a_list_of_lengths_that_is_wrong_is_refused_in_one_line() {
    let stock = r#""stock": [{"length_mm": 2400, "available": 2}]"#;
    let cases = [
        (
            r#"{"stock": [{"length_mm": 2400, "price": 1}, {"length_mm": 3000}], "pieces": []}"#
                .to_string(),
            "-: stock[1] has no price though 1 of 2 lines have one; give every line a price, or none",
        ),
        (
            format!(r#"{{{stock}, "pieces": [{{"length_mm": 2500, "count": 2}}]}}"#),
            "-: no bar gives a piece of 2500 mm: the longest to be had is 2400 mm; a bar of 2500 mm would do",
        ),
        (
            format!(r#"{{{stock}, "pieces": [{{"length_mm": 500, "count": -2}}]}}"#),
            "-: pieces[0].count: -2 is not a whole number between 0 and 1000000000",
        ),
        (
            format!(
                r#"{{{stock}, "pieces": [{{"length_mm": 500, "count": 10}}, {{"length_mm": 300, "count": 3}}]}}"#
            ),
            "-: the bars run out: 2 of 500 mm and 1 shorter cannot be cut; 1 more of 2400 mm would do",
        ),
        (
            format!(r#"{{{stock}, "pieces": [{{"length": 500, "count": 10}}]}}"#),
            "-:1:69: unknown field `length`, expected one of `length_mm`, `count`, `straight`, `lean_mm`, `leaning_ends`",
        ),
        (
            r#"{"stock": [{"length_mm": 2400, "not_straight": 0.95}], "pieces": []}"#.to_string(),
            "-: stock[0].not_straight: 0.95 is not between 0 and 0.9",
        ),
        (
            r#"{"stock": [{"length_mm": 2400, "bowed": true}], "pieces": [{"length_mm": 500, "count": 1, "straight": true}]}"#
                .to_string(),
            "-: no straight bar gives a piece of 500 mm: there are no straight bars to cut; a straight bar of 500 mm would do",
        ),
    ];
    for (problem, line) in cases {
        let output = pieces(&problem, &[]);
        assert_eq!(output.status.code(), Some(2), "{problem}");
        assert_eq!(String::from_utf8_lossy(&output.stderr), format!("{line}\n"));
        assert!(output.stdout.is_empty());
    }
}

#[test]
fn a_price_list_goes_out_and_comes_back_in() {
    let dir = tempfile::tempdir().unwrap();
    let (job, at) = (asset("boat-club-annexe.ron"), |name: &str| dir.path().join(name));
    let list = out(&run(&["yard", &job, "--price-list"]));
    assert!(list.starts_with("kind,what,thickness_mm,width_mm,length_mm,grade,pack,in_stock,"));
    let filled = list
        .replace(",13.60,each", ",13.90,each")
        .replace("filler,,,,,,,1,,", "filler,,,,,,,1,11.5,");
    std::fs::write(at("list.csv"), &filled).unwrap();
    let file = at("list.csv").display().to_string();
    let told = out(&run(&["yard", &job, "--prices", &file]));
    assert!(told.contains("1 added, 1 price changed, "), "{told}");
    assert!(told.contains("€13.90 instead of €13.60"), "{told}");
    let new = at("new.ron").display().to_string();
    assert!(run(&["yard", &job, "--prices", &file, "-o", &new]).status.success());
    let answer = json(&["yard", &new, "--json"]);
    let filler = answer["lines"].as_array().unwrap().iter().find(|l| l["what"] == "filler");
    assert_eq!(filler.unwrap()["price"], 11.5);
    // A file that is there already stays.
    refused(
        &run(&["yard", &job, "--prices", &file, "-o", &new]),
        dir.path(),
        3,
        "There is already a file DIR/new.ron; --force replaces it",
    );
    // Every wrong row is told, and nothing is written.
    std::fs::write(at("list.csv"), "kind,what,price\nsundries,filler,ask\nnails,,1\n").unwrap();
    let lines = "DIR/list.csv:2: price: “ask” is not a number; expected one such as 7.40\n\
                 DIR/list.csv:3: kind: “nails” is none; expected timber, board or sundries";
    let again = at("again.ron").display().to_string();
    refused(&run(&["yard", &job, "--prices", &file, "-o", &again]), dir.path(), 2, lines);
    assert!(!at("again.ron").exists());
}

#[test]
fn what_if_tells_of_the_job_as_it_is_first() {
    let answer = json(&["compare", &asset("one-wall-with-door.ron"), "--what-if", "--json"]);
    assert_eq!(answer["format"], "baywright-what-if");
    let choices = answer["choices"].as_array().unwrap();
    assert_eq!(choices[0]["choice"], "as it is");
    assert!(choices.len() > 3 && choices.iter().all(|c| c["pieces"].as_u64() > Some(0)));
    let fewest = choices.iter().filter_map(|c| c["pieces"].as_u64()).min();
    let marked = |c: &&Value| c["best"].as_array().unwrap().iter().any(|b| b == "pieces");
    assert!(choices.iter().filter(marked).all(|c| c["pieces"].as_u64() == fewest));
}
