//! The one table of everything that can be done. Menu, keys, the list of actions and the key sheet
//! are this table shown four ways.

use egui::{Key, KeyboardShortcut, Modifiers};
use layout_core::document::Edit;
use layout_core::id::ItemRef;
use layout_core::units::Units;

use crate::command::Command;
use crate::derived::About;
use crate::exchange::Form;
use crate::prefs::Preference;
use crate::scene::Scene;
use crate::session::{Dialog, Tool, View, Where};
use crate::theme::Look;

/// Where an action stands in the menu and on the key sheet.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Group {
    /// Files.
    Job,
    /// Steps.
    Change,
    /// Tools.
    Tools,
    /// Where to look.
    See,
    /// The prints.
    Print,
    /// The window itself.
    Window,
}

impl Group {
    /// All of them, in menu order.
    pub const ALL: [Group; 6] =
        [Group::Job, Group::Change, Group::Tools, Group::See, Group::Print, Group::Window];

    /// Its heading.
    pub fn label(self) -> &'static str {
        match self {
            Group::Job => "Job",
            Group::Change => "Change",
            Group::Tools => "Tools",
            Group::See => "See",
            Group::Print => "Print",
            Group::Window => "Window",
        }
    }
}

/// One thing that can be done.
pub struct Action {
    /// What it is called.
    pub label: &'static str,
    /// Its group.
    pub group: Group,
    /// Its key.
    pub key: Option<KeyboardShortcut>,
    /// What it does, in a sentence.
    pub tip: &'static str,
    /// Whether it can be done now.
    pub enabled: fn(&Scene<'_>) -> bool,
    /// What it asks for.
    pub command: fn(&Scene<'_>) -> Command,
}

const CTRL: Modifiers = Modifiers::COMMAND;
const CTRL_SHIFT: Modifiers = Modifiers { shift: true, ..Modifiers::COMMAND };

const fn key(modifiers: Modifiers, key: Key) -> Option<KeyboardShortcut> {
    Some(KeyboardShortcut::new(modifiers, key))
}

const fn plain(k: Key) -> Option<KeyboardShortcut> {
    key(Modifiers::NONE, k)
}

fn always(_: &Scene<'_>) -> bool {
    true
}

fn comparable(scene: &Scene<'_>) -> bool {
    drawing(scene) && About::picked(scene.session).is_some()
}

fn drawing(scene: &Scene<'_>) -> bool {
    scene.session.place == Where::Draw
}

fn has_wall(scene: &Scene<'_>) -> bool {
    scene.session.wall.is_some()
}

/// What can be taken away when it is picked.
fn removable<'a>(scene: &Scene<'a>) -> Option<&'a ItemRef> {
    scene.session.picked.as_ref().filter(|item| {
        matches!(
            item,
            ItemRef::Wall(_)
                | ItemRef::Opening(_)
                | ItemRef::Post(_)
                | ItemRef::Beam(_)
                | ItemRef::Roof(_)
                | ItemRef::Room(_)
                | ItemRef::Point(_)
                | ItemRef::Route(_)
                | ItemRef::Fitting(_)
                | ItemRef::Node(_)
                | ItemRef::Corner(_)
                | ItemRef::Platform(_)
                | ItemRef::PlatformHole(_)
                | ItemRef::Underlay
                | ItemRef::Reading { .. }
        )
    })
}

/// The layer of boards after the one the elevation shows; none after the last.
pub(crate) fn next_boards(scene: &Scene<'_>) -> Option<usize> {
    let wall = scene.layout.wall(scene.session.wall.as_ref()?)?;
    let of_face = wall.boards.layers.iter().filter(|l| l.face == scene.session.face);
    let next = scene.session.boards.map_or(0, |layer| layer + 1);
    Some(next).filter(|layer| *layer < of_face.count())
}

macro_rules! action {
    ($group:ident, $label:literal, $key:expr, $tip:literal, $enabled:expr, $command:expr) => {
        Action {
            label: $label,
            group: Group::$group,
            key: $key,
            tip: $tip,
            enabled: $enabled,
            command: $command,
        }
    };
}

/// Everything that can be done, in menu order.
pub static ALL: &[Action] = &[
    action!(
        Job,
        "New job…",
        key(CTRL, Key::N),
        "Begin another job from a starter.",
        always,
        |_| Command::Ask(Dialog::Starters)
    ),
    action!(Job, "Open…", key(CTRL, Key::O), "Open a job from a file.", always, |_| {
        Command::Open(None)
    }),
    action!(
        Job,
        "Open by typed path…",
        key(CTRL_SHIFT, Key::O),
        "Open a job by typing where it is.",
        always,
        |_| { Command::Ask(Dialog::Path(crate::session::PathAsk::Open, None)) }
    ),
    action!(Job, "Save", key(CTRL, Key::S), "Save the job in its file.", always, |_| Command::Save),
    action!(
        Job,
        "Save as…",
        key(CTRL_SHIFT, Key::S),
        "Save the job in another file.",
        always,
        |_| { Command::SaveAs(None) }
    ),
    action!(Job, "Save by typed path…", None, "Save the job by typing where to.", always, |_| {
        Command::Ask(Dialog::Path(crate::session::PathAsk::Save(None), None))
    }),
    action!(Job, "Leave", key(CTRL, Key::Q), "Close the window.", always, |_| Command::Quit),
    action!(
        Change,
        "Undo",
        key(CTRL, Key::Z),
        "Take back the last step.",
        |s| s.session.history.undo_label().is_some(),
        |_| Command::Undo
    ),
    action!(
        Change,
        "Redo",
        key(CTRL_SHIFT, Key::Z),
        "Bring back the step that was undone.",
        |s| s.session.history.redo_label().is_some(),
        |_| Command::Redo
    ),
    action!(
        Change,
        "Remove what is picked",
        plain(Key::Delete),
        "Take away what is picked, with what cannot stand without it.",
        |s| removable(s).is_some(),
        |s| removable(s).map_or(Command::Cancel, |item| Command::Edit(Edit::Remove(item.clone())))
    ),
    action!(
        Change,
        "Put a second one beside it",
        key(CTRL, Key::D),
        "Put another opening, point or fitting like what is picked further along its wall.",
        |s| matches!(
            s.session.picked,
            Some(ItemRef::Opening(_) | ItemRef::Point(_) | ItemRef::Fitting(_))
        ),
        |s| Command::Each(
            s.session.picked.iter().flat_map(|i| crate::canvas::repeat(s.job, i)).collect()
        )
    ),
    action!(
        Change,
        "Copy to the other face",
        key(CTRL_SHIFT, Key::D),
        "Put a point or fitting like what is picked at the same place on the other face.",
        |s| matches!(s.session.picked, Some(ItemRef::Point(_) | ItemRef::Fitting(_))),
        |s| Command::Each(
            s.session.picked.iter().flat_map(|i| crate::canvas::behind(s, i)).collect()
        )
    ),
    action!(
        Change,
        "Pick nothing",
        None,
        "Let go of what is picked.",
        |s| s.session.picked.is_some(),
        |_| Command::Pick(None)
    ),
    action!(Tools, "Pick", plain(Key::P), "Pick things and drag them.", always, |_| Command::Take(
        Tool::Pick
    )),
    action!(
        Tools,
        "Draw the room",
        plain(Key::R),
        "Draw the room, corner by corner.",
        always,
        |_| { Command::Take(Tool::Room) }
    ),
    action!(
        Tools,
        "Measure the room",
        plain(Key::M),
        "Type in sides, diagonals and offsets; the corners are worked out from them.",
        always,
        |_| Command::Each(vec![Command::Take(Tool::Pick), Command::Pick(Some(ItemRef::Survey))])
    ),
    action!(Tools, "Draw a wall", plain(Key::W), "Draw a wall between two points.", always, |_| {
        Command::Take(Tool::Wall)
    }),
    action!(Tools, "Put in a door", plain(Key::D), "Put a door in a wall.", always, |_| {
        Command::Take(Tool::Door)
    }),
    action!(
        Tools,
        "Put in an opening",
        plain(Key::O),
        "Put a borrowed light, a hatch or a plain opening in a wall.",
        always,
        |_| Command::Take(Tool::Opening)
    ),
    action!(
        Tools,
        "Put up a first-fix point",
        plain(Key::I),
        "Put a box, pipe or duct on a face of a wall.",
        always,
        |_| Command::Take(Tool::Point)
    ),
    action!(
        Tools,
        "Hang a fitting",
        plain(Key::H),
        "Hang something on a face of a wall.",
        always,
        |_| { Command::Take(Tool::Fitting) }
    ),
    action!(
        Tools,
        "Put up a post",
        plain(Key::T),
        "Put up a post that already stands.",
        always,
        |_| { Command::Take(Tool::Post) }
    ),
    action!(
        Tools,
        "Lay a beam",
        plain(Key::B),
        "Lay a beam that is already there.",
        always,
        |_| { Command::Take(Tool::Beam) }
    ),
    action!(
        Tools,
        "Draw a roof slope",
        plain(Key::L),
        "Draw the foot of a roof slope; it rises to the left of the line.",
        always,
        |_| { Command::Take(Tool::Roof) }
    ),
    action!(
        Tools,
        "Lay a low ceiling, shelf or bulkhead",
        plain(Key::C),
        "Joist out a low ceiling, a shelf or a bulkhead between walls.",
        always,
        |_| { Command::Take(Tool::Platform) }
    ),
    action!(
        Tools,
        "Read a level",
        plain(Key::E),
        "Read a level of floor or ceiling, along a wall or in the room.",
        always,
        |_| { Command::Take(Tool::Level) }
    ),
    action!(
        Change,
        "Show lengths in feet and inches",
        None,
        "Show, print and cut lengths in feet, inches and sixteenths.",
        |scene| scene.job.units == Units::Millimetres,
        |_| Command::Edit(Edit::SetUnits(Units::FeetInches))
    ),
    action!(
        Change,
        "Show lengths in millimetres",
        None,
        "Show, print and cut lengths in millimetres.",
        |scene| scene.job.units == Units::FeetInches,
        |_| Command::Edit(Edit::SetUnits(Units::Millimetres))
    ),
    action!(See, "Draw", key(CTRL, Key::Num1), "Plan and elevation.", always, |_| Command::Go(
        Where::Draw
    )),
    action!(See, "Snags", key(CTRL, Key::Num2), "What is or will be wrong.", always, |_| {
        Command::Go(Where::Snags)
    }),
    action!(See, "Saw", key(CTRL, Key::Num3), "What to cut, and in which order.", always, |_| {
        Command::Go(Where::Saw)
    }),
    action!(See, "Yard", key(CTRL, Key::Num4), "What to buy.", always, |_| Command::Go(
        Where::Yard
    )),
    action!(
        See,
        "Sheets",
        key(CTRL, Key::Num5),
        "The prints, as they will look on paper.",
        always,
        |_| { Command::Go(Where::Sheets) }
    ),
    action!(
        See,
        "All of it",
        plain(Key::Home),
        "Fit the whole drawing in its view.",
        drawing,
        |_| { Command::View(View::Fit) }
    ),
    action!(
        See,
        "What is picked",
        plain(Key::F),
        "Fit what is picked in its view.",
        |s| drawing(s) && s.session.picked.is_some(),
        |_| Command::View(View::FitPicked)
    ),
    action!(
        See,
        "Nearer",
        plain(Key::Plus),
        "Zoom in on the drawing.",
        drawing,
        |_| Command::View(View::In)
    ),
    action!(
        See,
        "Compare choices",
        plain(Key::V),
        "What every odd bay of the wall, or every place for the opening, comes to.",
        comparable,
        |scene| Command::Compare(!scene.session.comparing)
    ),
    action!(See, "Further away", plain(Key::Minus), "Zoom out.", drawing, |_| Command::View(
        View::Out
    )),
    action!(See, "Plan and elevation", None, "Show both views.", drawing, |_| Command::View(
        View::Both
    )),
    action!(See, "Plan alone", None, "Let the plan fill the place.", drawing, |_| Command::View(
        View::PlanOnly
    )),
    action!(See, "Elevation alone", None, "Let the elevation fill the place.", drawing, |_| {
        Command::View(View::ElevationOnly)
    }),
    action!(
        See,
        "Other face of the wall",
        plain(Key::X),
        "See the wall from its other side.",
        has_wall,
        |_| { Command::OtherFace }
    ),
    action!(
        See,
        "Put a drawing or picture under the plan…",
        None,
        "A DXF, a scanned plan or a photo of a sketch, to draw over; its closed outlines can be the room.",
        always,
        |_| { Command::PlaceUnder(None) }
    ),
    action!(
        See,
        "What lies under the plan",
        None,
        "How strong it is, where it lies and how large it is.",
        |s| s.job.underlay.is_some(),
        |_| {
            Command::Each(vec![Command::Go(Where::Draw), Command::Pick(Some(ItemRef::Underlay))])
        }
    ),
    action!(
        See,
        "Boards of the wall",
        plain(Key::S),
        "Show the boards in the elevation and the plan, layer by layer, and then the frame alone again.",
        has_wall,
        |scene| Command::Boards(next_boards(scene))
    ),
    action!(
        See,
        "Zones of cables",
        plain(Key::Z),
        "Show the zones of the wall in which cables run and are looked for.",
        has_wall,
        |scene| Command::Zones(!scene.session.zones)
    ),
    action!(
        Print,
        "Write all prints as PDF…",
        key(CTRL, Key::P),
        "The whole set in one file, to true scale.",
        always,
        |_| { Command::ExportPdf(None) }
    ),
    action!(
        Print,
        "Write the plan as DXF…",
        None,
        "A drawing for other programs, in millimetres of the building. Elevations are written in Sheets, page by page.",
        always,
        |_| { Command::ExportFor(Form::Drawing("plan".into()), None) }
    ),
    action!(
        Print,
        "Write all lists as a workbook…",
        None,
        "Timber, bars, boards, openings, first fix, the order and the snags, a sheet each.",
        always,
        |_| { Command::ExportFor(Form::Workbook, None) }
    ),
    action!(
        Print,
        "Write a building model (IFC)…",
        None,
        "Every wall, piece, board, opening and door as a solid, for other programs.",
        always,
        |_| { Command::ExportFor(Form::Model, None) }
    ),
    action!(
        Job,
        "Take over a price list…",
        None,
        "Prices from a table, looked at before they are taken.",
        always,
        |_| { Command::TakePrices(None) }
    ),
    action!(
        Job,
        "Write a price list…",
        None,
        "A table for the merchant to fill in.",
        always,
        |_| { Command::WritePrices(None) }
    ),
    action!(
        Window,
        "Find an action…",
        key(CTRL, Key::K),
        "Every action, by a word of its name.",
        always,
        |_| { Command::Ask(Dialog::Find) }
    ),
    action!(Window, "Keys…", plain(Key::F1), "Every key on one sheet.", always, |_| Command::Ask(
        Dialog::Keys
    )),
    action!(
        Window,
        "Show the first hint",
        None,
        "Three things to try.",
        |s| s.prefs.hint_read,
        |_| { Command::Prefer(Preference::HintRead(false)) }
    ),
    action!(Window, "Light look", None, "Warm paper.", |s| s.prefs.look != Look::Light, |_| {
        Command::Prefer(Preference::Look(Look::Light))
    }),
    action!(Window, "Dark look", None, "For the evening.", |s| s.prefs.look != Look::Dark, |_| {
        Command::Prefer(Preference::Look(Look::Dark))
    }),
    action!(
        Window,
        "Daylight look",
        None,
        "Black on white, for a screen in the sun.",
        |s| s.prefs.look != Look::Daylight,
        |_| Command::Prefer(Preference::Look(Look::Daylight))
    ),
    action!(
        Window,
        "Larger",
        key(CTRL, Key::Plus),
        "Make everything in the window larger.",
        always,
        |s| { Command::Prefer(Preference::Scale(step(s.prefs.scale, 1))) }
    ),
    action!(
        Window,
        "Smaller",
        key(CTRL, Key::Minus),
        "Make everything in the window smaller.",
        always,
        |s| { Command::Prefer(Preference::Scale(step(s.prefs.scale, -1))) }
    ),
    action!(
        Window,
        "Usual size",
        key(CTRL, Key::Num0),
        "Everything as large as designed.",
        always,
        |_| { Command::Prefer(Preference::Scale(1.0)) }
    ),
];

/// The size next to `scale` among those offered.
fn step(scale: f32, by: i32) -> f32 {
    let scales = crate::prefs::Prefs::SCALES;
    let near = |s: &f32| (s - scale).abs();
    let here = scales
        .iter()
        .enumerate()
        .min_by(|a, b| near(a.1).total_cmp(&near(b.1)))
        .map_or(0, |(i, _)| i);
    scales[here.saturating_add_signed(by as isize).min(scales.len() - 1)]
}

/// The action called `label`.
pub fn action(label: &str) -> Option<&'static Action> {
    ALL.iter().find(|a| a.label == label)
}

/// What the keys pressed in this frame ask for. A key without Ctrl does nothing while something is
/// typed or held; Ctrl+Z then belongs to the field or the drag. What only hangs on a tool does not keep it.
pub fn keys(ctx: &egui::Context, scene: &Scene<'_>, out: &mut Vec<Command>) {
    let gesture = scene.session.gesture.as_ref();
    let typing = ctx.text_edit_focused() || gesture.is_some();
    let hangs = gesture.is_some_and(|g| g.grip.is_new() && g.typed.is_empty());
    // egui takes a key with Shift for the same key without, so those with Shift go first.
    let shifted = |a: &&Action| a.key.is_some_and(|k| k.modifiers.shift);
    for action in ALL.iter().filter(shifted).chain(ALL.iter().filter(|a| !shifted(a))) {
        let Some(shortcut) = action.key else { continue };
        let undo = shortcut.logical_key == Key::Z && (ctx.text_edit_focused() || !hangs);
        let in_field = shortcut.modifiers.is_none() || undo;
        let blocked = scene.session.dialog.is_some()
            || (typing && in_field && shortcut.logical_key != Key::F1);
        if !blocked && (action.enabled)(scene) && ctx.input_mut(|i| i.consume_shortcut(&shortcut)) {
            out.push((action.command)(scene));
        }
    }
}

/// A key as the menu writes it: `Ctrl+Shift+S`.
pub fn key_text(ctx: &egui::Context, action: &Action) -> String {
    action.key.map_or_else(String::new, |key| ctx.format_shortcut(&key))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_action_has_words_and_no_two_share_a_key_or_a_name() {
        for (i, a) in ALL.iter().enumerate() {
            assert!(!a.label.is_empty() && a.tip.ends_with('.'), "{}", a.label);
            for b in &ALL[i + 1..] {
                assert_ne!(a.label, b.label);
                assert!(
                    a.key.is_none() || a.key != b.key,
                    "{} and {} share a key",
                    a.label,
                    b.label
                );
            }
        }
    }
}
