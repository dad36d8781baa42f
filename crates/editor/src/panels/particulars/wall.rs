//! A wall: where it runs, what it is made of, and where it departs from its make-up.

use std::sync::Arc;

use layout_core::document::{
    BoardedFirst, CutCorner, Edit, EndRule, Floor, GridFrom, Head, Line, Node, OddBay, Sole, Wall,
};
use layout_core::id::{ItemRef, Name};
use layout_core::units::Units;

use super::form::{Form, HEIGHTS};
use super::{levels, limits, name_row, rows, title};
use crate::command::Command;
use crate::gesture::line_of;
use crate::panels::bits::metres;

/// Bounds of stud centres, mm.
pub(super) const CENTRES: (f64, f64) = (100.0, 1200.0);

/// The page of wall `name`.
pub(super) fn page(form: &mut Form<'_, '_>, name: &Name) {
    let job = form.scene.job;
    let Some(wall) = job.wall(name).cloned() else { return };
    let beside = form.scene.layout.wall(name).map_or(String::new(), |w| {
        format!("finished {} thick", form.scene.job.units.show(w.spec.finished.length()))
    });
    title(form, &format!("Wall {name}"), &beside, &ItemRef::Wall(name.clone()));
    name_row(form, name, ItemRef::Wall);
    if let Some(cut) = job.cut_corner(name).filter(is_splay) {
        splay_rows(form, &wall, &cut);
    } else {
        length_row(form, &wall);
    }
    makeup_row(form, &wall);
    line_row(form, &wall);
    centres_row(form, &wall);
    head_rows(form, &wall);
    sole_rows(form, &wall);
    form.heading("Ends and odd bay");
    odd_bay_row(form, &wall);
    for (label, at_start) in [("At its start", true), ("At its end", false)] {
        let now = if at_start { wall.at_from } else { wall.at_to };
        let options = [
            (EndRule::Auto, "chosen".to_owned()),
            (EndRule::Through, "runs through".to_owned()),
            (EndRule::Butt, "butts".to_owned()),
            (EndRule::Mitre, "mitres".to_owned()),
        ];
        if let Some(rule) = form.choice(label, &now, &options) {
            change(form, &wall, |w| *(if at_start { &mut w.at_from } else { &mut w.at_to }) = rule);
        }
    }
    rows::of_wall(form, &wall);
    levels::wall_rows(form, &wall);
    form.ui.add_space(4.0);
    if let Some(loadbearing) = form.tick("Something rests on it", wall.loadbearing) {
        change(form, &wall, |w| w.loadbearing = loadbearing);
    }
    limits::wall_rows(form, &wall);
    totals(form, name);
}

/// A wall that stands square to what it meets cuts no corner off.
fn is_splay(cut: &CutCorner) -> bool {
    cut.angles.iter().all(|a| *a < std::f64::consts::FRAC_PI_2 - 0.001)
}

/// The face of a wall across a corner, and how far it stands back from it.
fn splay_rows(form: &mut Form<'_, '_>, wall: &Arc<Wall>, cut: &CutCorner) {
    let (Some(from), Some(to)) = (form.scene.job.node(&wall.from), form.scene.job.node(&wall.to))
    else {
        return;
    };
    let face = (to.at - from.at).norm();
    if let Some(length) = form.length("Face across the corner", face, (50.0, 100_000.0)) {
        form.edit(Edit::SetFace { wall: wall.name.clone(), length });
    }
    let ends = [("Set-back at start", from), ("Set-back at end", to)];
    for ((label, node), set_back) in ends.into_iter().zip(cut.set_backs) {
        if let Some(new) = form.length(label, set_back, (10.0, 100_000.0)) {
            let at = cut.at + (node.at - cut.at) * (new / set_back);
            form.edit(Edit::PutNode(Node { name: node.name.clone(), at }));
        }
    }
    let [a, b] = cut.angles.map(layout_core::units::degrees);
    form.shown("Turns", if a == b { a } else { format!("{a} and {b}") });
}

/// Asks for `wall` with `change` made to it.
fn change(form: &mut Form<'_, '_>, wall: &Arc<Wall>, change: impl FnOnce(&mut Wall)) {
    let mut changed = Wall::clone(wall);
    change(&mut changed);
    form.edit(Edit::PutWall(Arc::new(changed)));
}

fn length_row(form: &mut Form<'_, '_>, wall: &Wall) {
    let Some((from, along, length)) = line_of(form.scene.job, &wall.name) else { return };
    if let Some(new) = form.length("Length", length, (100.0, 100_000.0)) {
        // Its end node moves; walls that meet there follow.
        form.edit(Edit::Several(
            format!("make wall {} {} long", wall.name, form.scene.job.units.show(new)),
            vec![Edit::PutNode(Node { name: wall.to.clone(), at: from + along * new })],
        ));
    }
}

fn makeup_row(form: &mut Form<'_, '_>, wall: &Arc<Wall>) {
    let options: Vec<_> =
        form.scene.job.makeups.iter().map(|m| (m.name.clone(), m.name.to_string())).collect();
    if let Some(makeup) = form.choice("Make-up", &wall.makeup, &options) {
        change(form, wall, |w| w.makeup = makeup);
    }
    let makeup = wall.makeup.clone();
    let open = form.row("", |ui, _| ui.link("Change this make-up").clicked());
    if open {
        form.out.push(Command::Pick(Some(ItemRef::MakeUp(makeup))));
    }
}

fn line_row(form: &mut Form<'_, '_>, wall: &Arc<Wall>) {
    let options = [
        (Line::LeftFinished, "left finished face"),
        (Line::LeftFace, "left face of frame"),
        (Line::Centre, "middle of frame"),
        (Line::RightFace, "right face of frame"),
        (Line::RightFinished, "right finished face"),
    ]
    .map(|(l, words)| (l, words.to_owned()));
    if let Some(line) = form.choice("Line on nodes", &wall.line, &options) {
        change(form, wall, |w| w.line = line);
    }
}

fn centres_row(form: &mut Form<'_, '_>, wall: &Arc<Wall>) {
    let Some(makeup) = form.scene.job.makeup(&wall.makeup) else { return };
    let usual = makeup.centres;
    let now = wall.centres.unwrap_or(usual);
    if let Some(centres) = form.length("Stud centres", now, CENTRES) {
        change(form, wall, |w| w.centres = Some(centres).filter(|c| (c - usual).abs() > 0.01));
    }
    if wall.centres.is_some() {
        back_to_makeup(
            form,
            wall,
            &format!("Make-up's {}", form.scene.job.units.show(usual)),
            |w| w.centres = None,
        );
    }
}

fn back_to_makeup(
    form: &mut Form<'_, '_>,
    wall: &Arc<Wall>,
    words: &str,
    back: impl FnOnce(&mut Wall),
) {
    let clicked = form.row("", |ui, _| {
        ui.link(egui::RichText::new(words).size(12.0))
            .on_hover_text("Follow the make-up again")
            .clicked()
    });
    if clicked {
        change(form, wall, back);
    }
}

/// Words for the kinds of head, as a list of choices with the make-up's first.
fn head_rows(form: &mut Form<'_, '_>, wall: &Arc<Wall>) {
    let makeup = form.scene.job.makeup(&wall.makeup).map(|m| m.head.clone()).unwrap_or_default();
    let ceiling = form.scene.job.levels.ceiling;
    let kind = wall.head.as_ref().map(head_kind);
    let mut options =
        vec![(None, format!("make-up's: {}", head_word(form.scene.job.units, &makeup)))];
    options.extend(["tight", "slip", "free", "own line"].map(|k| (Some(k), k.to_owned())));
    if let Some(kind) = form.choice("Head", &kind, &options) {
        let head = match kind {
            Some("own line") => drawn_line(form, &wall.name),
            kind => kind.map(|k| new_head(k, ceiling)),
        };
        change(form, wall, |w| w.head = head);
    }
    if let Some(head) = &wall.head
        && let Some(head) = head_number(form, head)
    {
        change(form, wall, |w| w.head = Some(head));
    }
}

/// A line of its own for the head of `wall`, from where its head is now.
fn drawn_line(form: &Form<'_, '_>, wall: &Name) -> Option<Head> {
    let laid = form.scene.layout.wall(wall)?;
    let (low, high) = (laid.spec.head.at(0.0), laid.spec.head.before(laid.spec.length));
    Some(Head::Line { points: vec![(0.0, low.round()), (laid.spec.length.round(), high.round())] })
}

/// “tight”, “slip”, “free” or “own line”.
pub(super) fn head_kind(head: &Head) -> &'static str {
    match head {
        Head::Tight { .. } => "tight",
        Head::Slip { .. } => "slip",
        Head::Free { .. } => "free",
        Head::Line { .. } => "own line",
    }
}

fn head_word(units: Units, head: &Head) -> String {
    match head {
        Head::Free { height } => format!("free {}", units.show(*height)),
        head => head_kind(head).into(),
    }
}

/// A head of `kind` with its usual number.
pub(super) fn new_head(kind: &str, ceiling: f64) -> Head {
    match kind {
        "slip" => Head::Slip { gap: 15.0 },
        "free" => Head::Free { height: (ceiling / 2.0).round() },
        _ => Head::Tight { fit: 3.0 },
    }
}

/// The number of a head: its fit, gap or height. Gives the changed head.
pub(super) fn head_number(form: &mut Form<'_, '_>, head: &Head) -> Option<Head> {
    match head {
        Head::Tight { fit } => {
            form.length("Fit allowance", *fit, (0.0, 50.0)).map(|fit| Head::Tight { fit })
        }
        Head::Slip { gap } => {
            form.length("Slip gap", *gap, (0.0, 200.0)).map(|gap| Head::Slip { gap })
        }
        Head::Free { height } => {
            form.length("Height", *height, HEIGHTS).map(|height| Head::Free { height })
        }
        Head::Line { points } => line_rows(form, points).map(|points| Head::Line { points }),
    }
}

/// The corners of a head that has a line of its own: how far along, and how high.
fn line_rows(form: &mut Form<'_, '_>, points: &[(f64, f64)]) -> Option<Vec<(f64, f64)>> {
    let mut changed: Option<Vec<(f64, f64)>> = None;
    for (i, &(along, height)) in points.iter().enumerate() {
        let label = format!("Corner {}, along", i + 1);
        if let Some(along) = form.length(&label, along, (-100_000.0, 100_000.0)) {
            changed.get_or_insert_with(|| points.to_vec())[i].0 = along;
        }
        let label = format!("Corner {}, height", i + 1);
        if let Some(height) = form.length(&label, height, HEIGHTS) {
            changed.get_or_insert_with(|| points.to_vec())[i].1 = height;
        }
    }
    let (add, take) = form.row("", |ui, _| {
        let add = ui.link("Add a corner").clicked();
        (add, points.len() > 2 && ui.link("Take the last away").clicked())
    });
    if let [.., a, b] = points
        && add
    {
        let middle = ((a.0 + b.0) / 2.0, (a.1 + b.1) / 2.0);
        changed.get_or_insert_with(|| points.to_vec()).insert(points.len() - 1, middle);
    }
    if take {
        changed.get_or_insert_with(|| points.to_vec()).pop();
    }
    changed
}

fn sole_rows(form: &mut Form<'_, '_>, wall: &Arc<Wall>) {
    let makeup = form.scene.job.makeup(&wall.makeup).map(|m| m.sole.clone()).unwrap_or_default();
    let kind = wall.sole.as_ref().map(sole_kind);
    let mut options = vec![(None, format!("make-up's: {}", sole_kind(&makeup)))];
    options.extend(SOLES.map(|k| (Some(k), k.to_owned())));
    if let Some(kind) = form.choice("Sole", &kind, &options) {
        let sole = kind.map(new_sole);
        change(form, wall, |w| w.sole = sole);
    }
    if let Some(sole) = &wall.sole
        && let Some(sole) = sole_number(form, sole)
    {
        change(form, wall, |w| w.sole = Some(sole));
    }
}

/// The kinds of sole there are.
pub(super) const SOLES: [&str; 3] = ["on the floor", "on the slab", "raised"];

/// Which of [`SOLES`] it is.
pub(super) fn sole_kind(sole: &Sole) -> &'static str {
    match sole {
        Sole::Direct { on: Floor::Finished, .. } => SOLES[0],
        Sole::Direct { on: Floor::Slab, .. } => SOLES[1],
        Sole::Raised { .. } => SOLES[2],
    }
}

/// A sole of `kind` with its usual numbers.
pub(super) fn new_sole(kind: &str) -> Sole {
    match kind {
        "on the slab" => Sole::Direct { on: Floor::Slab, packers: 0.0 },
        "raised" => Sole::Raised { packers: 10.0, top: 60.0 },
        _ => Sole::Direct { on: Floor::Finished, packers: 0.0 },
    }
}

/// The numbers of a sole. Gives the changed sole.
pub(super) fn sole_number(form: &mut Form<'_, '_>, sole: &Sole) -> Option<Sole> {
    match sole {
        Sole::Direct { on, packers } => {
            let on = *on;
            form.length("Packers", *packers, (0.0, 200.0))
                .map(|packers| Sole::Direct { on, packers })
        }
        Sole::Raised { packers, top } => {
            let (packers, top) = (*packers, *top);
            let low = form.length("Packers", packers, (0.0, 200.0));
            let high = form.length("Upper sole top", top, (-200.0, 600.0));
            (low.is_some() || high.is_some())
                .then(|| Sole::Raised { packers: low.unwrap_or(packers), top: high.unwrap_or(top) })
        }
    }
}

fn odd_bay_row(form: &mut Form<'_, '_>, wall: &Arc<Wall>) {
    let mut bays = vec![OddBay::AtEnd, OddBay::AtStart, OddBay::Split];
    bays.extend(wall.openings.iter().map(|o| OddBay::Beside(o.name.clone())));
    let options: Vec<_> = bays.into_iter().map(|bay| (bay.clone(), bay.label())).collect();
    if let Some(odd_bay) = form.choice("Odd bay", &wall.odd_bay, &options) {
        change(form, wall, |w| w.odd_bay = odd_bay);
    }
    if wall.odd_bay == OddBay::Split {
        return;
    }
    let inset = match wall.grid_from {
        GridFrom::Inset(by) => by,
        _ => 0.0,
    };
    let options = [
        (GridFrom::FrameEnd, "the end of the frame"),
        (GridFrom::BoardedFace, "the wall boarded first"),
        (GridFrom::InLine, "the wall in line"),
        (GridFrom::Inset(inset), "a distance in"),
    ]
    .map(|(from, words)| (from, words.to_owned()));
    if let Some(from) = form.choice("Centres from", &wall.grid_from, &options) {
        change(form, wall, |w| w.grid_from = from);
    }
    match wall.grid_from {
        GridFrom::Inset(by) => {
            if let Some(by) = form.length("In from the end", by, (-500.0, 500.0)) {
                change(form, wall, |w| w.grid_from = GridFrom::Inset(by));
            }
        }
        GridFrom::BoardedFace => boarded_rows(form, wall),
        GridFrom::FrameEnd | GridFrom::InLine => {}
    }
}

/// Which wall is boarded first at the ends the grid is counted from.
fn boarded_rows(form: &mut Form<'_, '_>, wall: &Arc<Wall>) {
    let options = [
        (BoardedFirst::Auto, "the one that runs on"),
        (BoardedFirst::This, "this wall"),
        (BoardedFirst::Other, "the other wall"),
    ]
    .map(|(first, words)| (first, words.to_owned()));
    if wall.odd_bay != OddBay::AtStart
        && let Some(first) = form.choice("First at start", &wall.boarded_from, &options)
    {
        change(form, wall, |w| w.boarded_from = first);
    }
    if wall.odd_bay != OddBay::AtEnd
        && let Some(first) = form.choice("First at end", &wall.boarded_to, &options)
    {
        change(form, wall, |w| w.boarded_to = first);
    }
}

/// What the wall takes.
fn totals(form: &mut Form<'_, '_>, name: &Name) {
    let Some(laid) = form.scene.layout.wall(name) else { return };
    let members = &laid.frame.members;
    let studs = members.iter().filter(|m| m.role.is_full_height()).count();
    let length: f64 = members.iter().map(|m| m.solid.longest_edge()).sum();
    form.line();
    form.note(format!(
        "{} pieces, {studs} of them studs, {} of timber",
        members.len(),
        metres(form.scene, length)
    ));
}
