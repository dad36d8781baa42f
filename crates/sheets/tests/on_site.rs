//! What a crew needs from the sheets of the demonstration jobs: figures that cannot be misread, bays that can be found, bars that
//! say what they have to be.

use layout_core::changes::changes;
use layout_core::document::{Edit, Face, Job, OpeningKind, read};
use layout_core::layout::Layout;
use sheets::page::{Mark, Page, Paper, Part, PrintOptions, change_set, print_set};
use sheets::picture::{Fill, Pen};

const JOBS: [&str; 2] = ["boat-club-annexe", "sail-loft"];

fn shipped(name: &str) -> Job {
    let path = format!("{}/../../assets/jobs/{name}.ron", env!("CARGO_MANIFEST_DIR"));
    read(&std::fs::read_to_string(path).unwrap()).unwrap()
}

fn only(job: &Job, paper: Paper, only: Vec<Part>) -> Vec<Page> {
    let layout = Layout::of(job);
    print_set(job, &layout, &PrintOptions { paper, only, ..PrintOptions::default() })
}

fn texts(page: &Page) -> impl Iterator<Item = &str> {
    page.ink.marks.iter().filter_map(|m| match m {
        Mark::Text { text, .. } => Some(text.as_str()),
        _ => None,
    })
}

fn says(page: &Page, what: &str) -> bool {
    texts(page).any(|text| text.contains(what))
}

/// Figures side by side on one line are further apart than the space that holds their thousands together, or “1 290 1 752” is read
/// as one.
#[test]
fn figures_on_one_line_are_told_apart() {
    for name in JOBS {
        let job = shipped(name);
        for page in only(&job, Paper::A4, vec![Part::Plan, Part::SettingOut]) {
            for drawing in &page.drawings {
                let figures: Vec<([f64; 2], f64, &str)> = page.ink.marks[drawing.clone()]
                    .iter()
                    .filter_map(|m| match m {
                        Mark::Text { at, text, height, weight, turn, .. }
                            if *turn == 0.0
                                && *height == 3.5
                                && text.chars().all(|c| c.is_ascii_digit() || c == '\u{2009}') =>
                        {
                            Some((*at, weight.width(text, *height), text.as_str()))
                        }
                        _ => None,
                    })
                    .collect();
                for (a, wide, text) in &figures {
                    for (b, _, next) in &figures {
                        let gap = b[0] - a[0] - wide;
                        let follows = (a[1] - b[1]).abs() < 0.1 && gap > -0.1;
                        assert!(!follows || gap > 1.8, "{name}, {}: {text} {next}", page.name);
                    }
                }
            }
        }
    }
}

/// The plan of either job is one sheet of A4, its lists with it.
#[test]
fn a_plan_keeps_its_lists() {
    for name in JOBS {
        for paper in [Paper::A4, Paper::A3] {
            let pages = only(&shipped(name), paper, vec![Part::Plan]);
            assert_eq!(pages.len(), 1, "{name}, {paper:?}");
            assert!(says(&pages[0], "Openings") && says(&pages[0], "Walls"));
        }
    }
}

/// The first fix is listed by bays between studs: the drawing says which stud is which.
#[test]
fn bays_of_the_first_fix_can_be_found() {
    let job = shipped("boat-club-annexe");
    let page = &only(&job, Paper::A4, vec![Part::FirstFix("A".into())])[0];
    let drawn: Vec<&Mark> = page.drawings.iter().flat_map(|d| &page.ink.marks[d.clone()]).collect();
    for stud in ["S1", "S2", "S4", "S5", "S8", "S10", "S14"] {
        let is_it = |m: &&&Mark| matches!(m, Mark::Text { text, .. } if text == stud);
        assert_eq!(drawn.iter().filter(is_it).count(), 1, "{stud}");
    }
}

/// A crew sheet says where its wall is, what the ends of a raking stud are cut to, and the datum, and cuts no word short.
#[test]
fn a_crew_sheet_has_all_a_crew_needs() {
    for name in JOBS {
        let job = shipped(name);
        let layout = Layout::of(&job);
        for wall in &layout.walls {
            for paper in [Paper::A4, Paper::A4Upright, Paper::A3] {
                let page = &only(&job, paper, vec![Part::Crew(wall.name().clone())])[0];
                let at = format!("{name}, {}, {paper:?}", wall.name());
                for what in ["Off the laser", "above the finished floor", "Cut ", "Where "] {
                    assert!(says(page, what), "{at}: {what}");
                }
                assert!(page.scale.is_some_and(|s| s <= 50.0), "{at}: {:?}", page.scale);
                let short: Vec<&str> = texts(page).filter(|t| t.ends_with('…')).collect();
                assert!(short.iter().all(|t| t.starts_with("laser ")), "{at}: {short:?}");
            }
        }
    }
    let raking = &only(&shipped("sail-loft"), Paper::A4, vec![Part::Crew("A".into())])[0];
    assert!(says(raking, "S13, sq / 40°"));
}

/// Ends lean on the bars of the cutting list as they lie, and every piece is on its bar.
#[test]
fn ends_lean_on_the_bars() {
    let pages = only(&shipped("sail-loft"), Paper::A4, vec![Part::Saw]);
    let timbers = pages.iter().flat_map(|p| &p.ink.marks).filter_map(|m| match m {
        Mark::Path { points, fill: Fill::Timber, pen: Pen::Outline, .. } => Some(points),
        _ => None,
    });
    let leans =
        |p: &&Vec<[f64; 2]>| (p[0][0] - p[3][0]).abs() > 0.3 || (p[1][0] - p[2][0]).abs() > 0.3;
    assert!(timbers.filter(leans).count() > 10);
}

/// Where bars are not all taken to be straight the list says which have to be, and how sure it is; otherwise it does not speak of it.
#[test]
fn the_cutting_list_says_what_has_to_be_straight() {
    let job = shipped("boat-club-annexe");
    let before = only(&job, Paper::A4, vec![Part::Saw]);
    assert!(!before.iter().any(|p| says(p, "straight")));
    let mut stock = job.stock.clone();
    for line in stock.iter_mut().filter(|s| s.owned.is_none()) {
        line.crooked = 0.2;
    }
    let job = Edit::SetStock(stock).apply(&job);
    let pages = only(&job, Paper::A4, vec![Part::Saw]);
    assert!(pages.iter().any(|p| says(p, "to be straight")));
    assert!(pages.iter().any(|p| says(p, "% sure")));
    assert!(pages.iter().any(|p| texts(p).any(|t| t == "straight")), "which bars");
    let dashed = |m: &&Mark| matches!(m, Mark::Path { closed: false, pen: Pen::Hidden, .. });
    assert!(pages.iter().flat_map(|p| &p.ink.marks).filter(dashed).count() > 5, "which pieces");
}

/// The boat club's annexe with a door moved, another hung the other way with a smaller leaf, a thermostat and a basin moved.
fn changed(job: &Job) -> Job {
    let mut job = job.clone();
    for wall in &mut job.walls {
        let wall = std::sync::Arc::make_mut(wall);
        for opening in &mut wall.openings {
            match (opening.name.as_str(), &mut opening.kind) {
                ("D1", _) => opening.hold.distance += 60.0,
                ("D2", OpeningKind::Door(door)) => {
                    door.leaf.0 = 686.0;
                    door.opens = Face::Right;
                }
                _ => {}
            }
        }
        wall.points
            .iter_mut()
            .filter(|p| p.name.as_str() == "X3")
            .for_each(|p| p.distance -= 100.0);
        wall.fittings
            .iter_mut()
            .filter(|f| f.name.as_str() == "Basin")
            .for_each(|f| f.distance += 50.0);
    }
    job
}

/// The change sheet says of openings, points, fittings and boards what it says of timber: what it was struck through, and what it is.
/// A job against itself has nothing to say.
#[test]
fn the_change_sheet_has_more_than_timber() {
    let was = shipped("boat-club-annexe");
    let is = changed(&was);
    let found = changes(&Layout::of(&was), &Layout::of(&is));
    let told: Vec<String> = found
        .things
        .iter()
        .filter(|t| t.kind.label() != "board")
        .map(|t| format!("{} {}", t.label(), t.thing().unwrap().what))
        .collect();
    assert_eq!(told, ["moved door D1", "changed door D2", "moved thermostat X3", "moved Basin"]);
    let boards = found.things.iter().filter(|t| t.kind.label() == "board");
    assert!(boards.clone().count() > 2);
    let of_walls = |t: &&layout_core::changes::ThingChange| {
        ["A", "B"].contains(&t.thing().unwrap().of.as_str())
    };
    assert!(boards.clone().all(|t| of_walls(&t)), "only walls whose doors changed");
    for paper in [Paper::A4, Paper::A4Upright, Paper::A3] {
        let options = PrintOptions { paper, ..PrintOptions::default() };
        let pages = change_set(&is, &found, &options);
        let says = |what: &str| pages.iter().any(|p| says(p, what));
        for what in ["Openings", "First-fix points", "Fittings", "Boards", "A door D1, moved"] {
            assert!(says(what), "{paper:?}: {what}");
        }
        for page in &pages {
            for (i, part) in page.parts.iter().enumerate() {
                assert!(
                    paper.frame().grown(0.01).covers(*part),
                    "{paper:?}, {}: {part:?}",
                    page.name
                );
                assert!(page.parts[..i].iter().all(|other| part.overlap(*other) < 0.01));
            }
        }
    }
    let same = changes(&Layout::of(&was), &Layout::of(&was));
    assert!(same.things.is_empty() && same.changes.is_empty());
}

/// On upright paper a wall as wide as the sheet has its lists under it, not on a sheet of their own beside an empty half.
#[test]
fn upright_walls_keep_their_lists() {
    let job = shipped("boat-club-annexe");
    let page = &only(&job, Paper::A4Upright, vec![Part::Wall("A".into())])[0];
    assert!(says(page, "A pieces 46×97"));
}

/// Upright A4 has room for two sheets of 2 400 one over the other at 1:25.
#[test]
fn sheets_of_board_stand_in_two_rows_on_upright_paper() {
    let pages = only(&shipped("boat-club-annexe"), Paper::A4Upright, vec![Part::Boards]);
    assert!(pages.iter().all(|p| p.scale.is_none_or(|s| s == 25.0)));
    assert!(pages.len() <= 10, "{} pages", pages.len());
}
