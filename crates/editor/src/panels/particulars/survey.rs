//! The measured room: a table of what the tape said, and what comes of it.

use egui::{Align, Align2, Label, Layout, RichText, Ui, WidgetInfo, vec2};
use layout_core::document::{Edit, Face, Measured, Measurement, Survey};
use layout_core::id::Name;
use layout_core::math::PlanPoint;
use layout_core::survey::{Reading, Solved, plan_of, solve};
use layout_core::units::Units;

use super::form::{Form, choice_ui};
use crate::canvas::Measuring;
use crate::command::Command;
use crate::icons::Icon;
use crate::panels::bits::{icon_button_ui, main_button, quiet, strong, write};
use crate::panels::field::field_ui;
use crate::scene::Scene;
use crate::theme::Theme;

/// Width this page wants, points.
pub const WIDTH: f32 = 506.0;
/// Widths of what stands in a line of the table.
const KIND: f32 = 56.0;
const CORNERS: f32 = 224.0;
const CORNER: f32 = 30.0;
const SIDE: f32 = 56.0;
const VALUE: f32 = 64.0;
const ERROR: f32 = 30.0;
const OUT: f32 = 50.0;
/// Height of a line of the table.
const LINE: f32 = 28.0;

/// The page of the measured room.
pub(super) fn page(form: &mut Form<'_, '_>, measuring: &mut Option<Measuring>) {
    let survey = form.scene.job.shell.survey.clone();
    form.ui.horizontal(|ui| {
        ui.label(strong("The measured room", 15.0));
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            let close =
                icon_button_ui(ui, form.scene.theme, Icon::Close, "Put the table away", true);
            if close.clicked() {
                form.out.push(Command::Pick(None));
            }
        });
    });
    if survey.is_empty() {
        *measuring = None;
        begin(form);
        return;
    }
    let focus = measuring.take().and_then(|m| m.next);
    let mut table = Table { new: survey.clone(), typed: survey.clone(), row: None, next: focus };
    verdict(form, &mut table);
    using(form, &survey);
    form.line();
    table.show(form);
    adding(form, &mut table.new);
    if table.new != survey {
        form.edit(Edit::SetSurvey(table.new.clone()));
    }
    *measuring = Some(seen(form.scene, table, &survey));
}

/// The room with what is being typed just now, for the plan.
fn seen(scene: &Scene<'_>, table: Table, committed: &Survey) -> Measuring {
    let survey = if table.typed == *committed { table.new } else { table.typed };
    let solved = match &scene.layout.survey {
        Some(solved) if survey == *committed => (**solved).clone().into(),
        _ => {
            let rough: Vec<PlanPoint> = scene.job.shell.outline.iter().map(|c| c.at).collect();
            solve(&survey, &rough, scene.job.datum.at)
        }
    };
    Measuring { survey, solved, row: table.row, next: table.next }
}

/// Nothing is measured yet: which corners there are.
fn begin(form: &mut Form<'_, '_>) {
    let outline: Vec<PlanPoint> = form.scene.job.shell.outline.iter().map(|c| c.at).collect();
    form.note(
        "Measure every side and the diagonals with a tape, type them in as they are, and the corners \
         are worked out from all of them together.",
    );
    form.ui.add_space(6.0);
    if outline.len() >= 3 {
        let label = format!("Begin with the room as drawn, {} corners", outline.len());
        if form.button(&label) {
            form.edit(Edit::SetSurvey(plan_of(&outline)));
        }
        return;
    }
    form.note("No room is drawn yet. How many corners has it?");
    form.ui.horizontal(|ui| {
        for corners in [3, 4, 5, 6, 8] {
            if ui.button(format!("{corners} corners")).clicked() {
                form.out.push(Command::Edit(Edit::SetSurvey(plan_of(&regular(corners)))));
            }
        }
    });
}

/// A room with so many corners that is drawn by nobody.
fn regular(corners: usize) -> Vec<PlanPoint> {
    let turn = std::f64::consts::TAU / corners as f64;
    (0..corners)
        .map(|i| {
            let a = turn * (i as f64 - 0.5) - std::f64::consts::FRAC_PI_2;
            PlanPoint::new(3000.0 * a.cos(), 3000.0 * a.sin())
        })
        .collect()
}

/// What comes of it, in a line, and what to measure next.
fn verdict(form: &mut Form<'_, '_>, table: &mut Table) {
    let scene = form.scene;
    let Some(solved) = scene.layout.survey.as_deref() else { return };
    let (words, ink) = verdict_words(scene, solved);
    form.ui.add(Label::new(RichText::new(words).size(13.0).color(ink)).wrap());
    let Some(next) = solved.wanted.first() else { return };
    let survey = &scene.job.shell.survey;
    let listed = survey.rows.iter().any(|row| same_tape(&row.what, next));
    form.ui.horizontal(|ui| {
        let next_words = format!("Measure next: {}", survey.label(next));
        ui.label(RichText::new(next_words).size(13.0).color(scene.theme.accent));
        if !listed && ui.button("Add it").clicked() {
            table.new.rows.push(Measurement::of(next.clone()));
            table.next = Some(table.new.rows.len() - 1);
        }
    });
}

fn verdict_words(scene: &Scene<'_>, solved: &Solved) -> (String, egui::Color32) {
    let theme = scene.theme;
    let label = |i: usize| scene.job.shell.survey.label(&scene.job.shell.survey.rows[i].what);
    if solved.freedom > 0 && (solved.closes || !solved.wanted.is_empty()) {
        let ways =
            if solved.freedom == 1 { "one way".into() } else { format!("{} ways", solved.freedom) };
        return (format!("The shape can still give in {ways}."), theme.mend);
    }
    if !solved.closes {
        let out = solved.furthest().map_or(0.0, |f| f.1.abs());
        let words = match solved.suspect() {
            Some(i) => {
                let others = solved.readings[i].others.map_or(String::new(), |o| {
                    format!(" The others make it {}.", scene.job.units.show(o))
                });
                format!("It does not close. Most suspect: {}.{others}", label(i))
            }
            None => format!(
                "It does not close, by up to {}. One more measurement may say which is wrong.",
                scene.job.units.small(out)
            ),
        };
        return (words, theme.stop);
    }
    if !solved.goes_round {
        return (
            "The sides of this shape cross. Look at the order of the corners.".into(),
            theme.stop,
        );
    }
    match solved.redundancy {
        0 => ("The shape is held. Nothing checks it yet.".into(), theme.mend),
        1 => ("It closes; one measurement checks the others.".into(), theme.good),
        n => (format!("It closes; {n} measurements more than it takes."), theme.good),
    }
}

/// True when both are the same distance.
fn same_tape(a: &Measured, b: &Measured) -> bool {
    match (a, b) {
        (Measured::Between { from: a, to: b }, Measured::Between { from: c, to: d }) => {
            (a, b) == (c, d) || (a, b) == (d, c)
        }
        _ => a == b,
    }
}

/// The table while it is shown.
struct Table {
    /// The survey with what was changed in this frame.
    new: Survey,
    /// The survey with what is being typed.
    typed: Survey,
    /// The line the keyboard is in.
    row: Option<usize>,
    /// The line the keyboard goes to next.
    next: Option<usize>,
}

impl Table {
    fn show(&mut self, form: &mut Form<'_, '_>) {
        heads(form);
        let mut gone = None;
        let count = self.new.rows.len();
        for i in 0..count {
            form.ui.push_id(("measurement", i), |ui| {
                if self.line(ui, form.scene, i) {
                    gone = Some(i);
                }
            });
        }
        if let Some(i) = gone {
            self.new.rows.remove(i);
            self.next = None;
        }
        if self.next.is_some_and(|next| next >= self.new.rows.len()) {
            self.next = None;
        }
    }

    /// One measurement; true when it is to go.
    fn line(&mut self, ui: &mut Ui, scene: &Scene<'_>, i: usize) -> bool {
        let theme = scene.theme;
        let solved = scene.layout.survey.as_deref();
        let suspects = solved.map_or(&[][..], |s| &s.suspects[..]);
        let suspect = suspects.contains(&i) && suspects.len() <= 3;
        let reading = solved.and_then(|s| s.readings.get(i).copied()).unwrap_or_default();
        let units = match self.new.rows[i].what {
            Measured::Square { .. } => Units::Millimetres,
            _ => scene.job.units,
        };
        let mut gone = false;
        ui.allocate_ui_with_layout(
            vec2(ui.available_width(), LINE),
            Layout::left_to_right(Align::Center),
            |ui| {
                ui.spacing_mut().item_spacing.x = 4.0;
                let label = self.new.label(&self.new.rows[i].what);
                let kind = label.split(' ').next().unwrap_or_default().to_string();
                cell(ui, KIND, |ui| {
                    ui.label(RichText::new(kind).size(12.5));
                });
                cell(ui, CORNERS, |ui| self.corners(ui, i));
                self.figures(ui, scene, i);
                out_by(ui, (theme, units), i, &reading, suspect);
                let name = format!("Remove row {}", i + 1);
                gone = icon_button_ui(ui, theme, Icon::Close, &name, true).clicked();
            },
        );
        gone
    }

    /// Which corners it is between.
    fn corners(&mut self, ui: &mut Ui, i: usize) {
        let names = self.new.corners.clone();
        let row = i + 1;
        let pick = |ui: &mut Ui, what: &str, now: &mut Name| {
            let options: Vec<_> = names.iter().map(|n| (n.clone(), n.to_string())).collect();
            let label = format!("Row {row} {what}");
            if let Some(new) = choice_ui(ui, &label, what, now, &options, CORNER) {
                *now = new;
            }
        };
        let mut what = self.new.rows[i].what.clone();
        match &mut what {
            Measured::Between { from, to } => {
                pick(ui, "from", from);
                ui.label("–");
                pick(ui, "to", to);
            }
            Measured::Offset { corner, from, to, side } => {
                pick(ui, "corner", corner);
                pick(ui, "from", from);
                pick(ui, "to", to);
                let sides = [(Face::Left, "left".to_string()), (Face::Right, "right".to_string())];
                let label = format!("Row {row} side");
                if let Some(new) = choice_ui(ui, &label, "side", side, &sides, SIDE) {
                    *side = new;
                }
            }
            Measured::Square { corner } => pick(ui, "corner", corner),
        }
        let used = what.corners();
        let apart = used.iter().enumerate().all(|(k, name)| !used[..k].contains(name));
        if apart {
            self.new.rows[i].what = what;
        }
    }

    /// What the tape said and how sure it is.
    fn figures(&mut self, ui: &mut Ui, scene: &Scene<'_>, i: usize) {
        let line = self.new.rows[i].clone();
        let square = matches!(line.what, Measured::Square { .. });
        let units = match line.what {
            // So many millimetres in a metre, whatever the tape.
            Measured::Square { .. } => Units::Millimetres,
            _ => scene.job.units,
        };
        let (least, most) = match line.what {
            Measured::Between { .. } => (1.0, 100_000.0),
            Measured::Offset { .. } => (0.0, 100_000.0),
            Measured::Square { .. } => (-900.0, 900.0),
        };
        let read = |text: &str| -> Result<Option<f64>, String> {
            if text.trim().is_empty() {
                return Ok(None);
            }
            let value = units.read(text)?;
            if (least..=most).contains(&value) {
                Ok(Some(value))
            } else {
                Err(format!("Between {} and {}.", units.show(least), units.with_unit(most)))
            }
        };
        let name = format!("Row {} measured", i + 1);
        let shown = line.reading().map(|value| figure(units, value)).unwrap_or_default();
        let typed = field_ui(ui, scene.theme, &name, &shown, VALUE, read);
        let response = typed.response;
        if self.next == Some(i) && !response.has_focus() {
            response.request_focus();
            self.next = None;
        }
        if response.has_focus() {
            self.row = Some(i);
            let text = ui.data(|d| d.get_temp::<String>(response.id));
            if let Some(Ok(value)) = text.filter(|t| *t != shown).map(|t| read(&t)) {
                self.typed.rows[i].value = value;
            }
        } else if response.lost_focus() && ui.input(|input| input.key_pressed(egui::Key::Enter)) {
            self.next = Some(i + 1);
        }
        if let Some(value) = typed.value {
            self.new.rows[i].value = value;
        }
        let unit = if square {
            "how far it opens beyond square, mm in a metre"
        } else {
            "empty while it is still to be measured"
        };
        response.on_hover_text(format!("{name}, {unit}"));
        let name = format!("Row {} expected error", i + 1);
        let shown = figure(units, line.error);
        let typed = field_ui(ui, scene.theme, &name, &shown, ERROR, |text| {
            let value = units.read(text)?;
            if (0.1..=100.0).contains(&value) {
                Ok(value)
            } else {
                Err(format!("Between {} and {}.", units.small(0.1), units.small(100.0)))
            }
        });
        if let Some(error) = typed.value {
            self.new.rows[i].error = error;
        }
        typed.response.on_hover_text("±: two readings in three lie within it");
    }
}

/// A stretch of a line, as wide as its column.
fn cell(ui: &mut Ui, width: f32, add: impl FnOnce(&mut Ui)) {
    ui.allocate_ui_with_layout(vec2(width, LINE), Layout::left_to_right(Align::Center), |ui| {
        ui.set_width(width);
        add(ui);
    });
}

fn heads(form: &mut Form<'_, '_>) {
    let theme = form.scene.theme;
    let size = vec2(form.ui.available_width(), 18.0);
    let (rect, _) = form.ui.allocate_exact_size(size, egui::Sense::hover());
    let mut x = rect.left();
    let pad = 12.0;
    for (words, width, align) in [
        ("", KIND, Align2::LEFT_CENTER),
        ("corners", CORNERS, Align2::LEFT_CENTER),
        (form.scene.job.units.short(), VALUE + pad, Align2::RIGHT_CENTER),
        ("±", ERROR + pad, Align2::RIGHT_CENTER),
        ("out by", OUT, Align2::RIGHT_CENTER),
    ] {
        let at = if align == Align2::LEFT_CENTER { x } else { x + width };
        write(form.ui, egui::pos2(at, rect.center().y), align, words, 11.5, theme.quiet);
        x += width + 4.0;
    }
}

/// What a measurement is out by; the suspect is marked by a sign as well as by its colour.
fn out_by(
    ui: &mut Ui,
    (theme, units): (&Theme, Units),
    i: usize,
    reading: &Reading,
    suspect: bool,
) {
    let words = reading.residual.map_or("–".into(), |r| signed(units, r));
    let (rect, response) = ui.allocate_exact_size(vec2(OUT, LINE), egui::Sense::hover());
    let named = match (reading.residual, suspect) {
        (None, _) => format!("Row {} to measure", i + 1),
        (Some(_), false) => format!("Row {} out by {words}", i + 1),
        (Some(_), true) => format!("Row {} out by {words}, suspect", i + 1),
    };
    response.widget_info(|| WidgetInfo::labeled(egui::accesskit::Role::Label, true, &named));
    let ink = if suspect { theme.stop } else { theme.ink };
    let at = rect.right_center();
    if suspect {
        let sign =
            egui::Rect::from_center_size(rect.left_center() + vec2(6.0, 0.0), vec2(13.0, 13.0));
        Icon::Severity(layout_core::snag::Severity::Mend).paint(ui.painter(), sign, theme.stop);
    }
    write(ui, at, Align2::RIGHT_CENTER, &words, 13.0, ink);
    let tip = match (reading.others, reading.residual) {
        (Some(others), _) => {
            format!("Measured less computed. The others make it {}.", figure(units, others))
        }
        (None, Some(_)) => "Nothing checks this one: it is taken as it is.".into(),
        (None, None) => {
            let now =
                reading.computed.map_or(String::new(), |c| format!(" About {}.", units.show(c)));
            format!("Still to be measured.{now}")
        }
    };
    response.on_hover_text(tip);
}

/// A length as the tape shows it: whole millimetres, or tenths where there are some; sixteenths of an inch.
fn figure(units: Units, value: f64) -> String {
    if units == Units::FeetInches {
        return units.show(value);
    }
    let tenths = (value * 10.0).round() / 10.0;
    if tenths.fract() == 0.0 { units.show(tenths) } else { format!("{tenths}") }
}

/// With its sign, to a tenth or a sixteenth; zero has none.
pub(crate) fn signed(units: Units, value: f64) -> String {
    if units == Units::FeetInches {
        let text = units.show(value);
        let plus = value > 0.0 && units.round(value) != 0.0;
        return if plus { format!("+{text}") } else { text };
    }
    let text = format!("{value:+.1}").replace('-', "−");
    if text.trim_start_matches(['+', '−']) == "0.0" { "0.0".into() } else { text }
}

/// The buttons that add a line.
fn adding(form: &mut Form<'_, '_>, survey: &mut Survey) {
    form.ui.add_space(4.0);
    let listed = |what: &Measured| survey.rows.iter().any(|row| same_tape(&row.what, what));
    let n = survey.corners.len();
    let name = |i: usize| survey.corners[i % n].clone();
    let between = |a: usize, b: usize| Measured::Between { from: name(a), to: name(b) };
    let pairs = || (0..n).flat_map(move |a| (a + 2..n).map(move |b| (a, b)));
    let wanted = form.scene.layout.survey.as_deref().and_then(|s| s.wanted.first().cloned());
    let side = (0..n).map(|i| between(i, i + 1)).find(|w| !listed(w));
    let diagonal = wanted.filter(|w| !listed(w)).or_else(|| {
        let open = pairs().filter(|&(a, b)| a != 0 || b + 1 != n).map(|(a, b)| between(a, b));
        open.into_iter().find(|w| !listed(w))
    });
    let offset = (0..n)
        .map(|i| Measured::Offset {
            corner: name(i + 2),
            from: name(i),
            to: name(i + 1),
            side: Face::Left,
        })
        .find(|w| !listed(w));
    let square = (0..n).map(|i| Measured::Square { corner: name(i) }).find(|w| !listed(w));
    let offers = [
        ("Add side", side),
        ("Add diagonal", diagonal),
        ("Add offset", offset),
        ("Add square corner", square),
    ];
    let mut added = None;
    form.ui.horizontal_wrapped(|ui| {
        for (label, what) in offers {
            let button = egui::Button::new(RichText::new(label).size(13.0));
            if ui.add_enabled(what.is_some(), button).clicked() {
                added = what;
            }
        }
    });
    survey.rows.extend(added.map(Measurement::of));
    form.ui.add_space(4.0);
    if form.button("Take all measurements away") {
        *survey = Survey::default();
    }
}

/// What can be done with the shape.
fn using(form: &mut Form<'_, '_>, survey: &Survey) {
    let Some(solved) = form.scene.layout.survey.clone() else { return };
    let outline = &form.scene.job.shell.outline;
    let alike = outline.len() == survey.corners.len();
    let furthest = outline.iter().zip(&solved.corners).map(|(a, b)| (a.at - b.at).norm());
    let moved = furthest.fold(0.0, f64::max);
    if !alike && !outline.is_empty() {
        form.note(format!(
            "The room is drawn with {} corners and measured with {}: using the shape draws it anew.",
            outline.len(),
            survey.corners.len()
        ));
    } else if alike {
        let words = if moved < 0.05 {
            "The room is drawn as it was measured.".to_string()
        } else {
            format!(
                "Corners move by up to {} from where they are drawn.",
                form.scene.job.units.small(moved)
            )
        };
        form.note(words);
    }
    let id = form.ui.make_persistent_id("square to side");
    let mut square_to = form.ui.data(|d| d.get_temp(id)).unwrap_or(solved.held);
    if alike {
        let label = |i: usize| {
            let next = &survey.corners[(i + 1) % survey.corners.len()];
            format!("side {}–{next}", survey.corners[i])
        };
        let options: Vec<_> = (0..survey.corners.len()).map(|i| (i, label(i))).collect();
        if let Some(side) = form.choice("Walls stay square to", &square_to, &options) {
            square_to = side;
            form.ui.data_mut(|d| d.insert_temp(id, side));
        }
    }
    let ready = solved.freedom == 0 && solved.goes_round && (moved >= 0.05 || !alike);
    let scene = form.scene;
    let place = format!(
        "corner {} and the direction of its side stay",
        survey.corners.get(solved.held).map_or("", |n| n.as_str())
    );
    let mut used = false;
    form.ui.horizontal(|ui| {
        used = ui.add_enabled(ready, main_button(scene.theme, "Use this shape")).clicked();
        ui.label(quiet(scene.theme, place));
    });
    if used {
        form.edit(Edit::FitRoom { corners: solved.outline(), square_to });
    }
}
