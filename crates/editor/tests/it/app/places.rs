//! The five places, the looks, and what can be changed outside the drawing.

use editor::app::{Start, nobody};
use editor::command::Command;
use editor::exchange::Form;
use editor::prefs::PaperChoice;
use editor::session::Where;
use editor::theme::Look;
use egui::{Key, Modifiers};
use egui_kittest::kittest::Queryable;
use layout_core::document::{Edit, Face, Point, PointKind};
use layout_core::id::ItemRef;
use layout_core::snag::{Code, Snag};

use crate::window::Window;

#[test]
fn every_tab_goes_to_its_place() {
    let mut w = Window::fresh();
    for (tab, place) in [
        ("Snags", Where::Snags),
        ("Saw", Where::Saw),
        ("Yard", Where::Yard),
        ("Sheets", Where::Sheets),
        ("Draw", Where::Draw),
    ] {
        w.click_on(tab);
        assert_eq!(w.session().place, place);
    }
    w.press(Modifiers::COMMAND, Key::Num3);
    assert_eq!(w.session().place, Where::Saw);
}

#[test]
fn a_snag_leads_to_what_it_is_about() {
    let mut w = Window::fresh();
    let snag =
        w.ui.state().derived().base.snags.first().cloned().expect("the demonstration has a snag");
    w.ask(Command::Pick(None));
    w.click_on("Snags");
    w.click_on(&snag.message);
    assert_eq!(w.session().place, Where::Draw);
    assert_eq!(w.session().picked, Some(snag.of.clone()));
    if let Some(wall) = snag.wall.clone() {
        assert_eq!(w.session().wall, Some(wall));
    }
}

#[test]
fn a_snag_is_mended_by_a_click_and_taken_back_by_one_undo() {
    let mut w = Window::fresh();
    // A socket in a stud.
    let socket = Point::new("X99", PointKind::Socket, Face::Right, 388.0, 450.0);
    let wall = w.job().walls[0].name.clone();
    w.ask(Command::Edit(Edit::PutPoint { wall, point: socket }));
    let job = w.job().clone();
    let about = |s: &&Snag| s.code == Code::PointInStud;
    let snags = |w: &Window| w.ui.state().derived().base.snags.iter().filter(about).count();
    let snag =
        w.ui.state().derived().base.snags.iter().find(about).cloned().expect("a box in a stud");
    let before = snags(&w);
    w.click_on("Snags");
    w.click(&format!("Ways to mend: {}", snag.message));
    w.settle();
    let ways = w.ui.state().derived().remedies.as_ref().expect("ways were looked for");
    let first = ways.ways.first().expect("there is one").label.clone();
    w.click(&first);
    assert_eq!(snags(&w), before - 1, "{first}");
    assert!(w.session().mending.is_none() && w.session().preview.is_none());
    w.ask(Command::Undo);
    assert_eq!(*w.job(), job);
}

#[test]
fn a_snag_is_let_stand_for_a_reason_and_withdrawn() {
    let mut w = Window::fresh();
    let open = |w: &Window| w.ui.state().derived().base.snags.len();
    let (job, before) = (w.job().clone(), open(&w));
    let snag = w.ui.state().derived().base.snags[0].clone();
    w.click_on("Snags");
    w.click(&format!("Accept…: {}", snag.message));
    w.type_into("Reason", "Looked at on site, 3 May");
    w.settle();
    assert_eq!(open(&w), before - 1);
    assert_eq!(w.job().accepted[0].reason, "Looked at on site, 3 May");
    w.reach("Withdraw: Looked at on site, 3 May");
    assert_eq!((open(&w), w.job()), (before, &job));
    w.ask(Command::Undo);
    assert_eq!(open(&w), before - 1, "withdrawing is a step of its own");
}

#[test]
fn a_look_and_a_size_are_remembered() {
    let mut w = Window::fresh();
    for look in [Look::Dark, Look::Daylight, Look::Light] {
        w.ask(Command::Prefer(editor::prefs::Preference::Look(look)));
        assert_eq!(w.ui.state().prefs().look, look);
        assert_eq!(w.ui.ctx.theme() == egui::Theme::Dark, look == Look::Dark);
    }
    w.press(Modifiers::COMMAND, Key::Plus);
    assert!(w.ui.state().prefs().scale > 1.0);
    assert!((w.ui.ctx.zoom_factor() - w.ui.state().prefs().scale).abs() < 1e-6);
    w.press(Modifiers::COMMAND, Key::Num0);
    assert!((w.ui.state().prefs().scale - 1.0).abs() < 1e-6);
}

#[test]
fn the_hint_goes_for_good() {
    let mut w = Window::fresh();
    assert!(!w.ui.state().prefs().hint_read);
    w.click("Put the hint away");
    assert!(w.ui.state().prefs().hint_read);
    assert!(w.find("Put the hint away").is_none());
}

#[test]
fn a_price_typed_in_the_yard_is_a_step_and_makes_a_total() {
    let mut w = Window::fresh();
    w.click_on("Yard");
    let timber = w.job().stock[0].timber.clone();
    let count = w.job().stock.len();
    for i in 0..count {
        let of = &w.job().stock[i].timber;
        let name = format!("Price of {} {}, line {}", of.size(), of.grade(), i + 1);
        w.type_into(&name, "6,50");
        assert_eq!(w.job().stock[i].price, Some(6.5), "{name}");
    }
    assert_eq!(w.session().history.undo_label(), Some("change the timber list"));
    let lists = &w.ui.state().derived().lists;
    let plan = lists.plans.iter().find(|p| p.timber == timber).expect("the section is used");
    assert_eq!(plan.price, Some(6.5 * plan.bars.len() as f64));
}

/// A sheet that is here already saves one that is bought, and a price makes a total.
#[test]
fn sheets_that_are_here_and_prices_change_what_boards_come_to() {
    let text = include_str!("../../../../../assets/jobs/one-wall-with-door.ron");
    let job = layout_core::document::read(text).expect("a starter reads");
    let mut w = Window::start(Start { job: Some(job), open: None, prefs: None, asker: nobody() });
    w.click_on("Yard");
    let bought = |w: &Window| w.ui.state().derived().lists.boards()[0].bought();
    let before = bought(&w);
    w.reach("Add an offcut of standard 12.5");
    let name = "standard 12.5, board line 1";
    assert_eq!(w.job().sheets[0].size, (600.0, 2400.0));
    w.type_into(&format!("Width of {name}"), "1200");
    w.type_into(&format!("Here of {name}"), "2");
    assert_eq!((w.job().sheets[0].owned, bought(&w)), (Some(2), before - 2));
    w.reach("Add a size of standard 12.5");
    w.type_into(&format!("Price of {name}"), "9,50");
    let price = w.ui.state().derived().lists.boards()[0].price;
    assert_eq!(price, Some(9.5 * (before - 2) as f64));
    assert_eq!(w.session().history.undo_label(), Some("change the board list"));
    w.reach(&format!("Take away {name}"));
    assert_eq!(w.job().sheets.len(), 1);
}

#[test]
fn a_price_that_is_none_keeps_the_last_good_one_and_says_why() {
    let mut w = Window::fresh();
    w.click_on("Yard");
    let before = w.job().clone();
    let of = &before.stock[0].timber;
    let name = format!("Price of {} {}, line 1", of.size(), of.grade());
    w.type_into(&name, "cheap");
    assert_eq!(*w.job(), before);
    assert!(w.ui.query_by_label_contains("“cheap” was not taken").is_some());
}

#[test]
fn a_length_is_added_to_the_list_and_taken_away() {
    let mut w = Window::fresh();
    w.click_on("Yard");
    let before = w.job().stock.clone();
    let name = format!("{} {}", before[0].timber.size(), before[0].timber.grade());
    w.reach(&format!("Take away {name}, line 1"));
    assert_eq!(w.job().stock, before[1..]);
    w.press(Modifiers::COMMAND, Key::Z);
    assert_eq!(w.job().stock, before);
}

#[test]
fn paper_is_a_preference() {
    let mut w = Window::fresh();
    w.ask(Command::Prefer(editor::prefs::Preference::Paper(PaperChoice::A4)));
    assert_eq!(w.ui.state().prefs().paper, PaperChoice::A4);
}

#[test]
fn picking_an_opening_shows_its_wall() {
    let mut w = Window::fresh();
    let (wall, opening) = w
        .job()
        .walls
        .iter()
        .find_map(|wall| wall.openings.first().map(|o| (wall.name.clone(), o.name.clone())))
        .expect("the demonstration has an opening");
    w.ask(Command::Pick(Some(ItemRef::Opening(opening))));
    assert_eq!(w.session().wall, Some(wall));
}

#[test]
fn the_prints_are_written_as_they_are_shown() {
    let folder = tempfile::tempdir().expect("a folder for the test");
    let mut w = Window::fresh();
    w.click_on("Sheets");
    let pages = w.ui.state().derived().prints.clone().expect("prints are drawn off the frame");
    let services = w.job().walls.iter().filter(|w| !w.points.is_empty()).count();
    let each = w.job().walls.len() + services + w.job().platforms.len();
    let titled = |word: &str| pages.pages.iter().filter(|p| p.title.starts_with(word)).count();
    let (boards, snags, yard) = (titled("Boards"), titled("Snags"), titled("Yard"));
    let cutting = titled("Cutting list");
    let setting_out = titled("Setting out") + titled("Marks, rods and stops") + titled("Junctions");
    // Places for photographs go on sheets of their own.
    let photographs = pages.pages.iter().filter(|p| p.title == "First fix").count();
    let parts = "a plan, setting out, each wall and what goes into it, each platform, a cutting list, boards, yard, snags";
    assert!(setting_out > 1 && cutting > 0 && boards > 0 && snags > 0 && yard > 0, "{parts}");
    assert_eq!(
        pages.pages.len() - 1 - photographs - setting_out - cutting - boards - snags - yard,
        each,
        "{parts}"
    );
    w.click(&format!("Page 2: {}", pages.pages[1].title));
    assert!(w.find(&format!("Print: {}", pages.pages[1].title)).is_some());
    let pdf = folder.path().join("all.pdf");
    w.ask(Command::ExportPdf(Some(pdf.clone())));
    assert!(std::fs::read(&pdf).expect("written").starts_with(b"%PDF-"));
    assert_eq!(w.session().message.as_ref().and_then(|m| m.file.clone()), Some(pdf));
    let svg = folder.path().join("one.svg");
    w.ask(Command::ExportSvg(1, Some(svg.clone())));
    let written = std::fs::read_to_string(&svg).expect("written");
    assert_eq!(written, sheets::export::svg(&pages.pages[1]));
}

/// What is ticked is printed; nothing ticked is told as such; a page goes to a file of its own.
#[test]
fn what_is_printed_is_chosen() {
    let folder = tempfile::tempdir().expect("a folder for the test");
    let mut w = Window::fresh();
    w.click_on("Sheets");
    w.click("A4");
    let titles = |w: &Window| -> Vec<String> {
        let prints = w.ui.state().derived().prints.clone().expect("prints");
        prints.pages.iter().map(|p| p.title.clone()).collect()
    };
    assert!(!titles(&w).iter().any(|t| t.starts_with("Crew sheet")));
    w.click("What is printed");
    w.click("crew sheets");
    w.click("all of one wall together");
    let after = titles(&w);
    let at = |title: &str| after.iter().position(|t| t == title).expect("a page of that title");
    assert!(at("Wall A") < at("Crew sheet of wall A") && at("Crew sheet of wall A") < at("Wall B"));
    w.click("Upright");
    let prints = w.ui.state().derived().prints.clone().expect("prints");
    let lies = |title: &str| title.starts_with("Plan") || title.starts_with("Setting out");
    assert!(prints.pages.iter().all(|p| (p.width > p.height) == lies(&p.title)));
    let one = folder.path().join("one.pdf");
    w.ask(Command::ExportPage(0, Some(one.clone())));
    let all = folder.path().join("all.pdf");
    w.ask(Command::ExportPdf(Some(all.clone())));
    let size = |path: &std::path::Path| std::fs::metadata(path).expect("written").len();
    assert!(size(&one) * 3 < size(&all));
    assert!(w.ui.state().derived().printing.is_none());
    // What was chosen is remembered.
    assert!(w.ui.state().prefs().prints.upright && w.ui.state().prefs().prints.by_wall);
}

/// Labels of one's own are typed by their dimensions; what does not fit is not taken.
#[test]
fn labels_of_ones_own_are_typed_in_sheets() {
    let mut w = Window::fresh();
    w.click_on("Sheets");
    w.click("What is printed");
    w.reach("labels");
    let sheet = |w: &Window| w.ui.state().prefs().prints.label_sheet();
    let usual = sheet(&w);
    w.click("Size of labels");
    w.click("Labels of my own");
    // From those that were chosen.
    assert_eq!(sheet(&w).count, usual.count);
    assert_eq!(sheet(&w).gap, usual.gap);
    w.type_into("Own labels", "60x30,3x9");
    assert_eq!((sheet(&w).size, sheet(&w).count), ((60.0, 30.0), (3, 9)));
    w.type_into("Own labels", "60x50,3x9");
    assert_eq!(sheet(&w).size, (60.0, 30.0), "27 of them do not fit");
    w.click("Size of labels");
    w.click("70 × 35, 3 × 8");
    assert_eq!((sheet(&w).size, sheet(&w).count), ((70.0, 35.0), (3, 8)));
    assert!(w.find("Own labels").is_none());
}

#[test]
fn files_for_other_programs_are_written_from_sheets() {
    let folder = tempfile::tempdir().expect("a folder for the test");
    let mut w = Window::fresh();
    w.click_on("Sheets");
    w.click("For other programs…");
    assert!(w.find("All lists as a workbook (XLSX)…").is_some());
    assert!(w.find("The drawing on this page as DXF…").is_some());
    let pages = w.ui.state().derived().prints.clone().expect("prints are drawn off the frame");
    let elevation = pages.pages.iter().find(|p| p.title == "Wall A").expect("wall A has a page");
    let drawing = Form::of_page(&elevation.name).expect("and that has a drawing");
    let begins: [(Form, &[u8]); 3] =
        [(Form::Model, b"ISO-10303-21;"), (Form::Workbook, b"PK"), (drawing, b"0\nSECTION\n")];
    for (form, begins_with) in begins {
        let path = folder.path().join(format!("file.{}", form.ending()));
        w.ask(Command::ExportFor(form, Some(path.clone())));
        assert!(std::fs::read(&path).expect("written").starts_with(begins_with));
        assert_eq!(w.session().message.as_ref().and_then(|m| m.file.clone()), Some(path));
    }
    let gone = folder.path().join("gone.dxf");
    w.ask(Command::ExportFor(Form::Drawing("wall-none".into()), Some(gone.clone())));
    assert!(!gone.exists(), "a drawing that is not there leaves no file");
}

#[test]
fn prints_follow_the_job_and_the_paper() {
    let mut w = Window::fresh();
    w.click_on("Sheets");
    w.click("A4");
    let prints = w.ui.state().derived().prints.clone().expect("prints");
    assert_eq!(prints.pages[0].width.max(prints.pages[0].height), 297.0);
    let wall = w.job().walls[0].name.clone();
    w.ask(Command::Edit(Edit::Remove(ItemRef::Wall(wall))));
    let after = w.ui.state().derived().prints.clone().expect("prints");
    assert_eq!(*after.of, *w.job());
    assert!(after.pages.len() < prints.pages.len());
}

#[test]
fn bars_are_ticked_off_as_they_are_cut_and_taken_back() {
    let mut w = Window::fresh();
    w.ask(Command::Go(Where::Saw));
    w.settle();
    let before = w.job().clone();
    let lists = before.stock.len();
    w.ui.get_all_by_label("Bar 1 is cut").next().expect("a bar to tick").click();
    w.settle();
    assert_eq!(w.session().history.undo_label(), Some("tick a bar off as cut"));
    assert_eq!(w.job().cut.len(), 1);
    assert!(!w.job().cut[0].pieces.is_empty());
    assert!(w.job().stock.len() >= lists, "an offcut is a line more");
    // Those that are cut are counted first: the same box takes it back.
    w.ui.get_all_by_label("Bar 1 is cut").next().expect("the bar that is ticked").click();
    w.settle();
    assert!(w.job().cut.is_empty());
    w.press(Modifiers::COMMAND, Key::Z);
    w.press(Modifiers::COMMAND, Key::Z);
    assert_eq!(*w.job(), before);
}
