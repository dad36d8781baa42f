use super::*;
use crate::document::{Head, OddBay, OpeningKind, PointKind, Rows};
use crate::id::Name;

const ASSETS: [&str; 5] = [
    include_str!("../../../../../assets/jobs/boat-club-annexe.ron"),
    include_str!("../../../../../assets/jobs/empty-room.ron"),
    include_str!("../../../../../assets/jobs/one-wall-with-door.ron"),
    include_str!("../../../../../assets/jobs/l-shaped-pair.ron"),
    include_str!("../../../../../assets/jobs/sixteen-inch-centres.ron"),
];
/// Frozen: every released version opens for ever.
const VERSION_1: &str = include_str!("../../../tests/version-1.ron");

/// A job of two nodes, a make-up and a wall, with `fields` put in on line 3, for messages.
fn job_with(fields: &str) -> String {
    format!(
        "(\n  version: 1, title: \"T\",\n  {fields}\n  nodes: [(name: \"1\", at: (0, 0)), (name: \"2\", at: (2400, 0))],\n)"
    )
}

/// A job whose only make-up and wall carry `makeup` and `wall` as their last fields, on lines 4 and 7.
fn wall_with(makeup: &str, wall: &str) -> String {
    format!(
        r#"(
  version: 1, title: "T",
  makeups: [(name: "M", timber: (thickness: 46, depth: 97), centres: 400,
    {makeup}
  )],
  nodes: [(name: "1", at: (0, 0)), (name: "2", at: (2400, 0))],
  walls: [(name: "A", from: "1", to: "2", makeup: "M",
    {wall}
  )],
)"#
    )
}

#[track_caller]
fn says(text: &str, expected: &str) {
    match read(text) {
        Ok(_) => panic!("was read; expected: {expected}\n{text}"),
        Err(error) => assert_eq!(error.to_string(), expected, "\n{text}"),
    }
}

#[test]
fn what_is_shipped_reads_and_comes_back_the_same() {
    for text in ASSETS.into_iter().chain([VERSION_1]) {
        let job = read(text).unwrap_or_else(|e| panic!("{e}"));
        let written = write(&job);
        assert_eq!(read(&written).unwrap_or_else(|e| panic!("{e}\n{written}")), job);
        assert_eq!(write(&read(&written).unwrap()), written, "writing is deterministic");
        assert_eq!(check(&job), Ok(()));
    }
    assert_eq!(read(&write(&Job::default())), Ok(Job::default()));
}

#[test]
fn what_lies_under_the_plan_comes_back_and_names_a_file_beside_the_job() {
    let under = |file: &str, more: &str| {
        job_with(&format!("underlay: (file: \"{file}\", at: (120, -40), unit_mm: 25.4{more}),"))
    };
    let job = read(&under("plan of 1962.png", ", turn_deg: -1.5, locked: true")).unwrap();
    let found = job.underlay.as_ref().expect("it has one");
    assert_eq!((found.unit_mm, found.turn_deg, found.strength), (25.4, -1.5, 45.0));
    assert!(found.locked && !found.hidden);
    assert_eq!(read(&write(&job)).unwrap(), job);
    for file in ["../secret.png", "/etc/passwd", "a/b.dxf", ".plan.png", ""] {
        let error = read(&under(file, "")).unwrap_err().to_string();
        assert!(error.starts_with("3:") && error.contains("under the plan"), "{file}: {error}");
    }
    assert!(read(&under("plan.png", ", strength: 400")).is_err());
    assert!(read(&under("plan.png", ", turn_deg: 1e9")).is_err());
}

#[test]
fn the_board_list_comes_back_and_its_mistakes_are_told_with_their_place() {
    let job = |sheet: &str| format!("(version: 1, title: \"T\",\n  sheets: [({sheet})],\n)");
    let text = job("kind: \"standard\", thickness: 12.5, size: (900, 700), owned: 2");
    let read_back = read(&text).unwrap();
    assert_eq!((read_back.sheets[0].owned, read_back.sheets[0].price), (Some(2), None));
    assert_eq!((read_back.saw.board_kerf, read_back.saw.keep), (0.0, 300.0));
    assert_eq!(read(&write(&read_back)), Ok(read_back));
    says(
        &job("kind: \"\", thickness: 12.5, size: (900, 700)"),
        "2:19: kind: it is empty; give it a name",
    );
    says(
        &job("kind: \"standard\", thickness: 12.5, size: (900, 1)"),
        "2:60: size: 1 mm is too small; the least is 10 mm",
    );
}

#[test]
fn version_1_means_what_it_meant() {
    let job = read(VERSION_1).unwrap();
    assert_eq!((job.walls.len(), job.nodes.len(), job.makeups.len()), (4, 6, 3));
    assert_eq!(job.levels.slab(), -165.0);
    assert_eq!(job.notes, "Two lines\nof notes, with a \"quote\" and a back\\slash.");
    let a = job.wall(&"A".into()).unwrap();
    assert_eq!(a.odd_bay, OddBay::Beside("D1".into()));
    assert_eq!((a.centres, a.head.clone()), (Some(300.0), Some(Head::Tight { fit: 3.0 })));
    assert_eq!(a.noggin_rows, Some(Rows::At(Vec::new())));
    assert_eq!(a.points[11].kind, PointKind::Other("sounder".into()));
    assert_eq!(a.points[1].size, (75.0, 75.0));
    let OpeningKind::Door(door) = &a.openings[0].kind else { panic!("D1 is a door") };
    // 2 × 686 + 3 × 2.5 + 2 × (38 − 12) + 2 × 6
    assert_eq!(door.stack().width, 1443.5);
    assert_eq!(job.makeup(&"Plain".into()).unwrap().timber.grade(), &Name::from("C16"));
    assert_eq!(
        (job.stock[0].price, job.stock[0].available, job.stock[2].price),
        (Some(6.4), Some(12), None)
    );
}

#[test]
fn a_written_job_is_laid_out_for_reading() {
    let text = write(&read(ASSETS[0]).unwrap());
    assert!(text.starts_with("// A Baywright job."));
    assert!(text.contains("\n    (name: \"1\", at: (2900, 0)),\n"), "{text}");
    assert!(text.lines().all(|l| l.chars().count() <= 110 || l.contains("notes:")), "{text}");
}

#[test]
fn some_may_be_left_out_or_written() {
    let short = read(&wall_with("", "centres: 300, head: Tight(fit: 2),")).unwrap();
    let long = read(&wall_with("", "centres: Some(300), head: Some(Tight(fit: 2)),")).unwrap();
    assert_eq!(short, long);
}

#[test]
fn a_byte_order_mark_and_other_line_ends_are_fine() {
    let job = read(ASSETS[2]).unwrap();
    assert_eq!(read(&format!("\u{feff}{}", ASSETS[2])), Ok(job.clone()));
    assert_eq!(read(&ASSETS[2].replace('\n', "\r\n")), Ok(job));
}

#[test]
fn minus_zero_is_zero() {
    let job = read(&job_with("datum: (at: (-0.0, -0), label: \"x\"),")).unwrap();
    assert!(job.datum.at.x.is_sign_positive() && job.datum.at.y.is_sign_positive());
}

#[test]
fn the_grammar_is_told_plainly() {
    says("", "1:1: the file is empty; a job starts with (version: 1, title: …");
    says("// only a remark\n", "2:1: the file is empty; a job starts with (version: 1, title: …");
    let levels = |inside: &str| job_with(&format!("levels: {inside},"));
    says(&levels("(ceiling: 24oo)"), "3:21: \"24oo\" is not a number; write it like 2400 or 12.5");
    says(&levels("(ceiling: 2400,5)"), "3:25: write 2400.5 with a point, not a comma");
    says(&levels("(ceiling: 2400 mm)"), "3:26: expected a comma or ) before \"mm\"");
    says(
        &levels("(ceiling: 2400mm)"),
        "3:21: \"2400mm\" is not a number; lengths are millimetres already: leave the mm out",
    );
    says(
        &levels("(ceiling: 2.4m)"),
        "3:21: \"2.4m\" is not a number; lengths are in millimetres without a unit, not in m",
    );
    says(&levels("(ceiling: 2400]"), "3:25: found ] where ) should close the ( of line 3:11");
    says(&levels("(ceiling: 2400 laser: 900)"), "3:26: expected a comma or ) before \"laser\"");
    says(
        "(\n  version: 1,\n  title: \"T\",",
        "3:14: the file ends, but the ( of line 1:1 is not closed",
    );
    says("(version: 1, title: \"T)", "1:21: this text is not closed; end it with \"");
    says(
        "(version: 1, title: 'T')",
        "1:21: texts go between straight double quotes: \"like this\"",
    );
    says(
        "(version: 1, title: \"T\") )",
        "1:26: there is more text after the job's closing bracket; remove it",
    );
    says("(version: 1, /* title", "1:14: this /* remark is not closed; end it with */");
    says("(version: 1, title: ;)", "1:21: expected a value, found \";\"");
    let deep = format!("(version: 1, walls: {}", "[".repeat(200_000));
    says(&deep, "1:52: brackets are nested more than 32 deep; a job needs about ten");
}

#[test]
fn fields_and_choices_are_told_with_the_nearest_right_name() {
    let levels = |inside: &str| job_with(&format!("levels: {inside},"));
    says(
        &levels("(cieling: 2400)"),
        "3:12: there is no field \"cieling\" in the levels; did you mean ceiling?",
    );
    says(&levels("(laser: 900)"), "3:11: ceiling is missing in the levels");
    says(
        &levels("(ceiling: 2400, ceiling: 2)"),
        "3:27: ceiling is given twice in the levels; keep one",
    );
    says(&levels("(ceiling: \"2400\")"), "3:21: ceiling: expected a number, found \"2400\"");
    says(&levels("(ceiling: true)"), "3:21: ceiling: expected a number, found \"true\"");
    says(&levels("5"), "3:11: levels: expected values in round brackets, (…), found \"5\"");
    says(&job_with("wals: [],"), "3:3: there is no field \"wals\" in a job; did you mean walls?");
    says(
        &job_with("rooms: (name: \"x\"),"),
        "3:10: rooms: expected a list in square brackets, […], found \"(\"",
    );
    says(
        &job_with("rooms: [(name: 1, at: (0, 0))],"),
        "3:18: name: expected a text between double quotes, found \"1\"",
    );
    says(&job_with("rooms: [(name: \"x\", at: (0))],"), "3:27: at: expected 2 values, found 1");
    says(
        &job_with("rooms: [(name: \"x\", at: (0,5, 2))],"),
        "3:33: at: expected the closing ), found \"2\"; decimals take a point",
    );
    let makeup = |inside: &str| wall_with(inside, "");
    says(&makeup("sole_plates: 1.0,"), "4:18: sole_plates: expected a whole number, found \"1.0\"");
    says(
        &makeup("sole_plates: -1,"),
        "4:18: sole_plates: expected a whole number, not negative and not that large, found \"-1\"",
    );
    says(
        &makeup("corner: Blokced,"),
        "4:13: corner: there is no \"Blokced\"; did you mean Blocked?",
    );
    says(
        &makeup("corner: Xyz,"),
        "4:13: corner: there is no \"Xyz\"; expected one of Pair, Blocked, Ground",
    );
    says(&makeup("head: Tihgt(fit: 2),"), "4:11: head: there is no \"Tihgt\"; did you mean Tight?");
    says(
        &makeup("head: Tight(fits: 2),"),
        "4:17: there is no field \"fits\" in Tight; did you mean fit?",
    );
    says(&makeup("head: Tight,"), "4:16: head: expected values in round brackets, (…), before ,");
    says(
        &makeup("head: \"Tight\","),
        "4:11: head: expected a name without quotes, found \"Tight\"",
    );
    let wall = |inside: &str| wall_with("", inside);
    says(&wall("loadbearing: yes,"), "8:18: loadbearing: expected true or false, found \"yes\"");
    says(
        &wall(
            "openings: [(name: \"D1\", kind: Door((leaf: (762, 1981, 35))), hold: (distance: 5))],",
        ),
        "8:40: kind: expected the name of a field, found another (; one pair is enough",
    );
    says(
        &wall(
            "openings: [(name: \"D1\", kind: Door(leaf: (762, 1981, 35), hing: End), hold: (distance: 5))],",
        ),
        "8:63: there is no field \"hing\" in a door; did you mean hinge?",
    );
    let long = format!("levels: (ceiling: {}),", "x".repeat(5_000_000));
    let message = read(&job_with(&long)).unwrap_err().message;
    assert!(message.chars().count() < 260, "{} characters", message.chars().count());
    let message = read(&job_with("corner\u{202e}: 1,")).unwrap_err().message;
    assert!(!message.contains('\u{202e}'), "{message}");
}

#[test]
fn versions_are_looked_at_first() {
    says("(title: \"T\")", "1:1: the job has no version; a job starts with (version: 1, title: …");
    says(
        "(version: 7, title: \"T\", portals: Round(3))",
        "1:11: this job is of version 7, made by a newer Baywright; this one reads versions up to 1. Update Baywright to \
         open it",
    );
    says("(version: 0, title: \"T\")", "1:11: version \"0\" is not one there ever was; expected 1");
    says(
        "(version: one, title: \"T\")",
        "1:11: version \"one\" is not one there ever was; expected 1",
    );
}

#[test]
fn numbers_are_held_to_what_can_be_built() {
    let levels = |inside: &str| job_with(&format!("levels: (ceiling: {inside}),"));
    says(&levels("NaN"), "3:21: ceiling: it is not a number");
    says(&levels("1e309"), "3:21: ceiling: it is larger than any number");
    says(&levels("-inf"), "3:21: ceiling: it is larger than any number");
    says(&levels("1e-400"), "3:21: ceiling: 0 mm is too small; the least is 1 mm");
    says(
        &levels("100001"),
        "3:21: ceiling: 100\u{2009}001 mm is too large; the most is 100\u{2009}000 mm",
    );
    says(
        &job_with("datum: (at: (0, 1e7), label: \"x\"),"),
        "3:19: at: 10\u{2009}000\u{2009}000 mm is too large; the most is 1\u{2009}000\u{2009}000 mm",
    );
    says(
        &job_with(
            "shell: (roof: [(name: \"R\", from: (0, 0), to: (9, 0), level: 1, pitch_deg: 90)]),",
        ),
        "3:77: roof plane R, pitch_deg: 90 degrees is too large; the most is 89 degrees",
    );
    says(
        &wall_with("sole_plates: 5,", ""),
        "4:18: make-up M, sole_plates: 5 is too large; the most is 3",
    );
    says(
        &wall_with("opening_head: (thickness: 0.4, depth: 97),", ""),
        "4:31: make-up M, thickness: 0.4 mm is too small; the least is 5 mm",
    );
    says(
        &wall_with("noggins: (rows: At([1200, 5e9])),", ""),
        "4:31: make-up M, rows: 5\u{2009}000\u{2009}000\u{2009}000 mm is too large; the most is 100\u{2009}000 mm",
    );
    says(
        &wall_with("", "head: Some(Tight(fit: 900)),"),
        "8:27: wall A, fit: 900 mm is too large; the most is 500 mm",
    );
    says(
        &wall_with("", "fittings: [(name: \"F\", distance: 5, width: 5, bottom: 900, top: 800)],"),
        "8:69: fitting F, top: 800 mm is not above its bottom at 900 mm",
    );
}

#[test]
fn studs_are_counted_before_any_is_made() {
    says(
        &wall_with("", "centres: 0.001,"),
        "8:14: wall A, centres: 0.001 mm would need 2\u{2009}400\u{2009}000 studs; the least is 50 mm",
    );
    says(
        &wall_with("", "").replace("centres: 400", "centres: 0.001"),
        "3:70: make-up M, centres: 0.001 mm would need 2\u{2009}400\u{2009}000 studs; the least is 50 mm",
    );
    says(
        &wall_with("", "centres: 0,"),
        "8:14: wall A, centres: 0 mm is too small; the least is 50 mm",
    );
    says(
        &wall_with("", "centres: 50,").replace("(2400, 0)", "(120000, 0)"),
        "8:14: wall A, centres: 50 mm over 120\u{2009}000 mm of wall would need 2\u{2009}401 studs; the most in a wall is \
         2\u{2009}000",
    );
    let mut job = read(&wall_with("", "centres: 50,").replace("(2400, 0)", "(90000, 0)")).unwrap();
    let wall = job.walls[0].clone();
    job.walls = (0..200)
        .map(|i| {
            std::sync::Arc::new(crate::document::Wall {
                name: Name::new(i.to_string()),
                ..(*wall).clone()
            })
        })
        .collect();
    assert_eq!(
        check(&job),
        Err("wall 111, centres: with this wall the job would need more than 200\u{2009}000 studs; split the job".into())
    );
}

#[test]
fn names_are_given_once_and_point_at_something() {
    says(
        &wall_with("", "").replace("name: \"2\"", "name: \"1\""),
        "6:43: name: two nodes are called \"1\"; give one another name",
    );
    says(
        &job_with("rooms: [(name: \"WC\", at: (0, 0)), (name: \"WC\", at: (9, 9))],"),
        "3:44: name: two rooms are called \"WC\"; give one another name",
    );
    says(
        &job_with("rooms: [(name: \"\", at: (0, 0))],"),
        "3:18: room, name: it is empty; give it a name",
    );
    says(
        &job_with("rooms: [(name: \"WC \", at: (0, 0))],"),
        "3:18: room, name: \"WC \" starts or ends with a space; take it out",
    );
    says(
        &wall_with("", "").replace("to: \"2\"", "to: \"22\""),
        "7:38: wall A, to: there is no node \"22\"; did you mean 2?",
    );
    says(
        &wall_with("", "").replace("makeup: \"M\"", "makeup: \"Partition\""),
        "7:51: wall A, makeup: there is no make-up \"Partition\"; there are M",
    );
    says(
        &wall_with("", "odd_bay: Beside(\"D1\"),"),
        "8:21: wall A, odd_bay: there is no opening \"D1\"; there is no opening at all",
    );
    let two = "openings: [(name: \"D1\", kind: Plain(width: 9e2, height: 2e3), hold: (distance: 5)), \
               (name: \"D1\", kind: Plain(width: 9e2, height: 2e3), hold: (distance: 5))],";
    says(
        &wall_with("", two),
        "8:96: wall A, name: two openings are called \"D1\"; give one another name",
    );
    says(
        &job_with("crew_copies: [(letter: \"A\", date: \"4 May 2026\")],"),
        "3:37: date: \"4 May 2026\" is not a day; write it year-month-day, like 2026-05-04",
    );
    let name = "n".repeat(201);
    says(
        &job_with(&format!("rooms: [(name: \"{name}\", at: (0, 0))],")),
        "3:18: room, name: it is 201 characters long; the most is 200",
    );
    says(
        &job_with("notes: \"a\\u{0}b\","),
        "3:10: notes: it holds the control character 0x0000; take it out",
    );
}

#[test]
fn platforms_are_held_to_what_can_be_built() {
    let platform = |fields: &str| {
        job_with(&format!(
            "platforms: [(name: \"LC1\", corner: (0, 0), size: (1000, 2000), level: 2200, centres: 400, \
             timber: (thickness: 46, depth: 97), {fields})],"
        ))
    };
    let job = read(&platform("")).unwrap();
    assert_eq!(job.platforms[0].noggins_apart, 1350.0);
    assert_eq!(read(&write(&job)).unwrap(), job);
    let message = |text: &str| read(text).unwrap_err().message;
    assert_eq!(
        message(&platform("load: 51,")),
        "platform LC1, load: 51 kN/m² is too large; the most is 50 kN/m²"
    );
    assert_eq!(
        message(&platform("").replace("1000, 2000", "0, 2000")),
        "platform LC1, size: 0 mm is too small; the least is 1 mm"
    );
    let hole = "(name: \"F1\", at: (500, 500), size: (150, 150))";
    assert_eq!(
        message(&platform(&format!("holes: [{hole}, {hole}],"))),
        "platform LC1, name: two holes are called \"F1\"; give one another name"
    );
    assert_eq!(
        message(&platform("spann: Width,")),
        "there is no field \"spann\" in a platform; did you mean span?"
    );
    let shared = wall_with("", "").replace(
        "\n)",
        "\n  platforms: [(name: \"A\", corner: (0, 0), size: (900, 900), level: 2200, centres: 400, \
         timber: (thickness: 46, depth: 97))],\n)",
    );
    assert_eq!(
        message(&shared),
        "platform A, name: a wall has this name too; give one another, for both begin marks"
    );
}

#[test]
fn walls_and_rooms_have_a_shape() {
    says(
        &wall_with("", "").replace("to: \"2\"", "to: \"1\""),
        "7:38: wall A, to: the wall starts and ends at node 1; give it another end",
    );
    says(
        &wall_with("", "").replace("(2400, 0)", "(0.5, 0)"),
        "7:38: wall A, to: nodes 1 and 2 stand on each other; move one",
    );
    let outline = |corners: &[(i32, i32)]| {
        let corners: Vec<String> =
            corners.iter().map(|(x, y)| format!("(at: ({x}, {y}), thickness: 100)")).collect();
        job_with(&format!("shell: (outline: [{}]),", corners.join(", ")))
    };
    says(
        &outline(&[(0, 0), (9, 0)]),
        "3:20: outline: a room has three corners or more, this one has 2",
    );
    says(
        &outline(&[(0, 0), (9, 9), (9, 0), (0, 9)]),
        "3:81: outline: side 3 crosses side 1; list the corners in order round the room",
    );
    says(
        &outline(&[(0, 0), (9, 0), (9, 0), (0, 9)]),
        "3:81: outline: corner 3 stands on the corner before it; remove one",
    );
    assert!(read(&outline(&[(0, 0), (9, 0), (0, 9)])).is_ok());
    assert!(read(&outline(&[(0, 0), (9, 0), (9, 9), (5, 9), (5, 5), (0, 5)])).is_ok());
}

#[test]
fn lists_are_counted() {
    let corners = "(at: (0, 0), thickness: 100), ".repeat(1001);
    says(
        &job_with(&format!("shell: (outline: [{corners}]),")),
        "3:20: outline: there are 1\u{2009}001 of them; the most is 1\u{2009}000",
    );
    let openings =
        "(name: \"x\", kind: Plain(width: 900, height: 2100), hold: (distance: 5)), ".repeat(51);
    says(
        &wall_with("", &format!("openings: [{openings}],")),
        "8:15: wall A, openings: there are 51 of them; the most is 50",
    );
}

/// Files cut short or with a byte changed anywhere give a job or one line, never a panic; what is read
/// is what would be written.
#[test]
fn damaged_files_give_one_line() {
    let mut seed = 7_u64;
    let mut next = |below: usize| {
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (seed >> 33) as usize % below
    };
    let junk = [
        "(", ")", "[", "]", ",", ":", "\"", "-", "9", ".", "e", "x", "{", "}", "/*", "//", "\\",
        "é", "\0", "NaN", "Some(",
    ];
    for round in 0..3000 {
        let mut text = [VERSION_1, ASSETS[0]][round % 2].to_string();
        for _ in 0..=next(3) {
            let at = (0..=next(text.len())).rev().find(|i| text.is_char_boundary(*i)).unwrap();
            match next(3) {
                0 => text.truncate(at),
                1 => text.insert_str(at, junk[next(junk.len())]),
                _ => {
                    let end = (at..text.len())
                        .find(|i| *i > at && text.is_char_boundary(*i))
                        .unwrap_or(text.len());
                    text.replace_range(at..end, junk[next(junk.len())]);
                }
            }
            if text.is_empty() {
                break;
            }
        }
        match read(&text) {
            Ok(job) => assert_eq!(read(&write(&job)), Ok(job)),
            Err(error) => {
                assert!(
                    !error.message.contains('\n') && error.message.chars().count() < 500,
                    "{error}"
                );
                assert!(error.line <= text.lines().count() + 1, "{error}");
            }
        }
    }
}

/// Any job that passes the checks is read back as it was, to the last bit of every number.
#[test]
fn numbers_come_back_to_the_last_bit() {
    let mut job = read(VERSION_1).unwrap();
    for value in
        [0.1 + 0.2, 1e-7, 123_456.789_012_345_67, -999_999.999_999_9, 1.0 / 3.0, 1e6, 5e-324]
    {
        job.datum.at.x = value;
        assert_eq!(check(&job), Ok(()));
        assert_eq!(read(&write(&job)).unwrap().datum.at.x.to_bits(), value.to_bits(), "{value:e}");
    }
    job.datum.at.x = f64::NAN;
    assert_eq!(check(&job), Err("at: it is not a number".into()));
}

#[test]
fn names_with_odd_letters_come_back() {
    let mut job = Job::default();
    for name in ["Ærø 2½", "a\"b\\c", "(", "[x", "//", "r#\"", "日本", "tab\there", "it's"] {
        job.title = name.into();
        assert_eq!(read(&write(&job)), Ok(job.clone()), "{}", write(&job));
    }
}

/// Every example in the description of the format is a job this program reads.
#[test]
fn the_examples_in_the_docs_read() {
    let docs = include_str!("../../../../../docs/FILE-FORMAT.md");
    let blocks: Vec<&str> =
        docs.split("```ron\n").skip(1).filter_map(|b| b.split("\n```").next()).collect();
    assert!(!blocks.is_empty());
    for block in blocks {
        let job = read(block).unwrap_or_else(|e| panic!("{e}\n{block}"));
        assert_eq!(read(&write(&job)), Ok(job));
    }
}
