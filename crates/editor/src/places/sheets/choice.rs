//! What is printed, and on what: paper, scale, face, which sheets, in which order.

use egui::{ComboBox, ScrollArea, Ui};
use layout_core::document::Face;
use sheets::page::{LabelSheet, Part, Sort};

use crate::command::Command;
use crate::panels::bits::quiet;
use crate::panels::field::words_ui;
use crate::prefs::{PaperChoice, Preference, PrintChoice};
use crate::scene::Scene;

/// The choices, and the commands that come of them.
pub(super) fn choice_ui(ui: &mut Ui, scene: &Scene<'_>, out: &mut Vec<Command>) {
    ui.horizontal(|ui| {
        ui.label("Paper");
        for (paper, word) in [(PaperChoice::A4, "A4"), (PaperChoice::A3, "A3")] {
            if ui.selectable_label(scene.prefs.paper == paper, word).clicked() {
                out.push(Command::Prefer(Preference::Paper(paper)));
            }
        }
    });
    let choice = &scene.prefs.prints;
    let mut change = |changed: PrintChoice| {
        if changed != *choice {
            out.push(Command::Prefer(Preference::Prints(changed)));
        }
    };
    ui.horizontal(|ui| {
        for (upright, word, tip) in [
            (false, "Lying", "Sheets on their long side"),
            (true, "Upright", "Sheets on their short side"),
        ] {
            let label = ui.selectable_label(choice.upright == upright, word);
            if label.on_hover_text(tip).clicked() {
                change(PrintChoice { upright, ..choice.clone() });
            }
        }
        scale_ui(ui, choice, &mut change);
    });
    ui.horizontal(|ui| {
        ui.label("Walls from their");
        for face in [Face::Right, Face::Left] {
            let left_face = face == Face::Left;
            if ui.selectable_label(choice.left_face == left_face, face.label()).clicked() {
                change(PrintChoice { left_face, ..choice.clone() });
            }
        }
    });
    ui.collapsing("What is printed", |ui| {
        let there: Vec<Sort> = {
            let mut sorts: Vec<Sort> = Part::all(scene.base).iter().map(Part::sort).collect();
            sorts.sort_unstable();
            sorts.dedup();
            sorts
        };
        ScrollArea::vertical().id_salt("kinds").max_height(168.0).show(ui, |ui| {
            for sort in there {
                let mut is_in = choice.includes(sort);
                if ui.checkbox(&mut is_in, sort.label()).changed() {
                    change(choice.switching(sort));
                }
            }
        });
        let mut by_wall = choice.by_wall;
        if ui.checkbox(&mut by_wall, "all of one wall together").changed() {
            change(PrintChoice { by_wall, ..choice.clone() });
        }
        if choice.includes(Sort::Labels) {
            labels_ui(ui, scene, choice, &mut change);
        }
    });
}

fn scale_ui(ui: &mut Ui, choice: &PrintChoice, change: &mut dyn FnMut(PrintChoice)) {
    let word =
        |scale: Option<u16>| scale.map_or("largest".to_string(), |scale| format!("1 : {scale}"));
    let list = ComboBox::from_id_salt("scale").width(72.0).selected_text(word(choice.scale));
    let shown = list.show_ui(ui, |ui| {
        for scale in std::iter::once(None).chain(PrintChoice::SCALES.map(Some)) {
            if ui.selectable_label(choice.scale == scale, word(scale)).clicked() {
                change(PrintChoice { scale, ..choice.clone() });
            }
        }
    });
    shown.response.accessible_name("Scale of elevations");
}

/// Which labels: one of the usual sheets, or one's own by its dimensions.
fn labels_ui(
    ui: &mut Ui,
    scene: &Scene<'_>,
    choice: &PrintChoice,
    change: &mut dyn FnMut(PrintChoice),
) {
    let usual = &LabelSheet::USUAL;
    let chosen = choice.label_sheet();
    let text = match &choice.own_labels {
        Some(_) => "labels of my own".to_string(),
        None => format!("labels {}", chosen.label()),
    };
    let list = ComboBox::from_id_salt("labels").width(190.0).selected_text(text);
    let shown = list.show_ui(ui, |ui| {
        for (labels, size) in usual.iter().enumerate() {
            let is_it = choice.own_labels.is_none() && choice.labels == labels;
            if ui.selectable_label(is_it, size.label()).clicked() {
                change(PrintChoice { labels, own_labels: None, ..choice.clone() });
            }
        }
        if ui.selectable_label(choice.own_labels.is_some(), "Labels of my own").clicked() {
            // From those that were chosen, to be written over.
            let own_labels = choice.own_labels.clone().or_else(|| Some(chosen.written()));
            change(PrintChoice { own_labels, ..choice.clone() });
        }
    });
    shown.response.accessible_name("Size of labels");
    if let Some(own) = &choice.own_labels {
        let name = "Own labels";
        let typed = words_ui(ui, scene.theme, name, own, 190.0, |text| {
            LabelSheet::read(text).map(|_| text.trim().to_string()).map_err(|why| format!("{why}."))
        });
        typed.response.on_hover_text(
            "Width × height of one in mm, then how many across and down an A4 sheet: 60x30,3x9. Then, if need be, margins from the left and the top, and gaps: 60x30,3x9,10+12,5x0",
        );
        if let Some(text) = typed.value {
            change(PrintChoice { own_labels: Some(text), ..choice.clone() });
        }
        ui.label(quiet(scene.theme, format!("{}, on A4", chosen.label())));
    }
}
