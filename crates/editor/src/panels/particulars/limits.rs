//! What is asked of a wall, and the limits the checks hold the job against.

use std::sync::Arc;

use layout_core::document::{
    Duty, Edit, Levels, OwnRule, Raising, Rule, RuleChoice, RuleSet, RuleUnit, Wall,
};
use layout_core::rules::{Limit, Rules, Status};

use super::form::{Form, small_choice};

/// How the floor and the frames are taken: part of the job's page.
pub(super) fn level_rows(form: &mut Form<'_, '_>, levels: &mut Levels) {
    if let Some(floating) = form.tick("The finished floor floats", levels.floating) {
        levels.floating = floating;
    }
    let ways = [(Raising::InPlace, "built in place"), (Raising::Tilted, "tilted up")];
    if let Some(raising) = small_choice(form, "Frames are", &levels.raising, &ways) {
        levels.raising = raising;
    }
}

/// Sound, fire and duty asked of a wall; 0 for none.
pub(super) fn wall_rows(form: &mut Form<'_, '_>, wall: &Arc<Wall>) {
    form.heading("Asked of it");
    let mut needs = wall.needs;
    for (label, unit, value, most) in [
        ("Sound reduction", "dB", &mut needs.sound_db, 100.0),
        ("Fire resistance", "min", &mut needs.fire_min, 480.0),
    ] {
        if let Some(new) = form.number(label, unit, value.unwrap_or(0.0), (0.0, most)) {
            *value = Some(new).filter(|v| *v > 0.0);
        }
    }
    let mut duties = vec![(None, "not said".to_owned())];
    duties.extend(Duty::ALL.map(|d| (Some(d), d.label().to_owned())));
    if let Some(duty) = form.choice("Duty", &needs.duty, &duties) {
        needs.duty = duty;
    }
    if needs != wall.needs {
        let wall = Wall { needs, ..Wall::clone(wall) };
        form.edit(Edit::PutWall(Arc::new(wall)));
    }
}

/// The limits: a set, and every value with its source. A value typed here is one's own.
pub(super) fn rules_rows(form: &mut Form<'_, '_>) {
    form.heading("Limits the checks use");
    let now = form.scene.job.rules.clone();
    let sets = RuleSet::ALL.map(|s| (s, s.label().to_owned()));
    if let Some(set) = form.choice("Rule set", &now.set, &sets) {
        form.edit(Edit::SetRules(RuleChoice { set, ..now.clone() }));
    }
    let rules = Rules::of(&now);
    egui::CollapsingHeader::new("Every limit, and where it is from").show(form.ui, |ui| {
        let mut form = Form { ui, scene: form.scene, out: &mut *form.out };
        for limit in rules.limits() {
            limit_row(&mut form, &now, limit);
        }
        form.note("Help for seeing early what will be asked. Whoever decides on site decides.");
    });
}

fn limit_row(form: &mut Form<'_, '_>, now: &RuleChoice, limit: &Limit) {
    let rule = limit.rule;
    let typed = match rule.unit() {
        RuleUnit::Length => form.length(rule.label(), limit.value, rule.range()),
        RuleUnit::Plain => form.number(rule.label(), "", limit.value, rule.range()),
        RuleUnit::Sign(sign) => form.number(rule.label(), sign, limit.value, rule.range()),
    };
    let others = |rule: Rule| now.own.iter().filter(move |o| o.rule != rule).cloned();
    if let Some(value) = typed {
        let own = OwnRule { rule, value, source: String::new() };
        form.edit(Edit::SetRules(RuleChoice {
            set: now.set,
            own: others(rule).chain([own]).collect(),
        }));
    }
    // In full: the label in its row may be cut short.
    form.note(format!("{}. {}: {}", rule.label(), limit.status.label(), limit.source));
    if limit.status == Status::Own {
        let back = form.row("", |ui, _| ui.link("Back to the set").clicked());
        if back {
            let own = others(rule).collect();
            form.edit(Edit::SetRules(RuleChoice { set: now.set, own }));
        }
    }
}
