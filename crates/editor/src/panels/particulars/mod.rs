//! The particulars of what is picked: what it is, every number that makes it, what follows from
//! them, and the snags about it. With nothing picked, the job's own.

mod form;
mod rows;
mod wall;
mod door;
mod opening;
mod makeup;
mod point;
mod fixing;
mod shell;
mod readings;
mod limits;
mod levels;
mod platform;
mod survey;
mod underlay;
mod piece;
mod job;
mod next;

use egui::{RichText, ScrollArea, Ui};
use layout_core::document::Edit;
use layout_core::id::{ItemRef, Name};

use crate::canvas::DrawState;
use crate::command::Command;
use crate::icons::Icon;
use crate::panels::bits::{icon_button_ui, quiet, strong, unbroken};
use crate::places::mending::{mending_button_ui, mending_ui};
use crate::scene::Scene;
use crate::session::{Tool, has};
use form::Form;
pub use survey::WIDTH as SURVEY_WIDTH;
pub(crate) use survey::signed;

/// The panel, in all of `ui`.
pub fn particulars_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    state: &mut DrawState,
    out: &mut Vec<Command>,
) {
    ScrollArea::vertical().auto_shrink([false, false]).show(ui, |ui| {
        ui.set_max_width(ui.available_width() - 6.0);
        ui.spacing_mut().item_spacing.y = 3.0;
        ui.push_id(&scene.session.picked, |ui| {
            let mut form = Form { ui, scene, out };
            if matches!(
                scene.session.tool,
                Tool::Door
                    | Tool::Opening
                    | Tool::Point
                    | Tool::Fitting
                    | Tool::Platform
                    | Tool::Level
            ) {
                next::page(&mut form, &mut state.next);
            } else {
                match &scene.session.picked {
                    Some(ItemRef::Survey) => {
                        survey::page(&mut form, &mut state.measuring);
                        snags(&mut form, &ItemRef::Survey);
                    }
                    Some(item) => item_page(&mut form, item),
                    None => job::page(&mut form),
                }
            }
            form.ui.add_space(16.0);
        });
    });
}

fn item_page(form: &mut Form<'_, '_>, item: &ItemRef) {
    match item {
        ItemRef::Job | ItemRef::Datum | ItemRef::Survey => job::page(form),
        ItemRef::Underlay => underlay::page(form),
        ItemRef::Roof(name) => shell::roof_page(form, name),
        ItemRef::Wall(name) => wall::page(form, name),
        ItemRef::Opening(name) => opening::page(form, name),
        ItemRef::MakeUp(name) => makeup::page(form, name),
        ItemRef::Point(name) => point::point_page(form, name),
        ItemRef::Route(name) => point::route_page(form, name),
        ItemRef::Fitting(name) => fixing::fitting_page(form, name),
        ItemRef::Node(name) => shell::node_page(form, name),
        ItemRef::Corner(i) => shell::corner_page(form, *i),
        ItemRef::Side(i) => shell::side_page(form, *i),
        ItemRef::Post(name) => shell::post_page(form, name),
        ItemRef::Beam(name) => shell::beam_page(form, name),
        ItemRef::Room(name) => shell::room_page(form, name),
        ItemRef::Member { wall, mark } => piece::member_page(form, wall, *mark),
        ItemRef::Platform(name) => platform::page(form, name),
        ItemRef::PlatformHole(name) => platform::hole_page(form, name),
        ItemRef::Reading { wall, surface, index } => {
            readings::page(form, wall.as_ref(), *surface, *index);
        }
        ItemRef::NogginRow { wall, row } => rows::row_page(form, wall, *row),
    }
    snags(form, item);
}

/// The title of a page, its place beside it, and a button to take the thing away.
fn title(form: &mut Form<'_, '_>, what: &str, beside: &str, item: &ItemRef) {
    let can_go = !matches!(
        item,
        ItemRef::Job
            | ItemRef::Datum
            | ItemRef::Side(_)
            | ItemRef::Member { .. }
            | ItemRef::NogginRow { .. }
    );
    form.ui.horizontal(|ui| {
        ui.label(strong(what, 15.0));
        ui.label(quiet(form.scene.theme, beside));
        if can_go {
            ui.with_layout(egui::Layout::right_to_left(egui::Align::Center), |ui| {
                let name = format!("Remove {}", item.label());
                if icon_button_ui(ui, form.scene.theme, Icon::Close, &name, true).clicked() {
                    form.out.push(Command::Edit(Edit::Remove(item.clone())));
                }
            });
        }
    });
    form.ui.add_space(2.0);
}

/// The name of something, which can be changed; `kind` makes the reference a name would have.
fn name_row(form: &mut Form<'_, '_>, name: &Name, kind: fn(Name) -> ItemRef) {
    let job = form.scene.session.history.job();
    let taken = |text: &str| {
        if text != name.as_str() && has(job, &kind(text.into())) {
            Err(format!("{text} is taken. Choose another name."))
        } else {
            Ok(())
        }
    };
    if let Some(to) = form.text("Name", name.as_str(), taken) {
        form.edit(Edit::Rename { item: kind(name.clone()), to: to.as_str().into() });
    }
}

/// The snags about `item`, and for a wall those in it.
fn snags(form: &mut Form<'_, '_>, item: &ItemRef) {
    let scene = form.scene;
    let about = |s: &&layout_core::snag::Snag| {
        s.of == *item
            || matches!(item, ItemRef::Wall(wall) if s.wall.as_ref() == Some(wall))
            || matches!((item, &s.of), (ItemRef::Platform(p), ItemRef::Member { wall, .. }) if p == wall)
            || matches!((item, &s.of), (ItemRef::Platform(p), ItemRef::PlatformHole(h))
                if scene.job.platform(p).is_some_and(|p| p.hole(h).is_some()))
    };
    // While a way to mend one is shown done, the list stays as it is.
    let shown = if scene.session.preview.is_some() { scene.base } else { scene.layout };
    let here: Vec<_> = shown.snags.iter().filter(about).collect();
    if here.is_empty() {
        return;
    }
    form.line();
    form.heading("Snags here");
    for snag in here {
        form.ui.horizontal_top(|ui| {
            Icon::Severity(snag.severity()).show(ui, 18.0, scene.theme.severity(snag.severity()));
            ui.vertical(|ui| {
                ui.spacing_mut().item_spacing.y = 1.0;
                ui.label(RichText::new(unbroken(&snag.message)).size(12.5));
                if !snag.remedy.is_empty() {
                    ui.label(quiet(scene.theme, unbroken(&snag.remedy)));
                }
                mending_button_ui(ui, scene, snag, form.out);
                mending_ui(ui, scene, snag, form.out);
            });
        });
        form.ui.add_space(4.0);
    }
}
