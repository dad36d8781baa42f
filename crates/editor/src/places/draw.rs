//! Draw: the rail of tools, plan and elevation, and the particulars of what is picked.

use egui::{
    Align, Color32, CursorIcon, Layout, Panel, Rect, Sense, Stroke, StrokeKind, Ui, UiBuilder,
    WidgetInfo, accesskit::Role, pos2, vec2,
};
use layout_core::id::ItemRef;

use crate::actions::next_boards;
use crate::canvas::{self, Ask, Cost, DrawState, Hold};
use crate::command::Command;
use crate::derived::About;
use crate::gesture::Space;
use crate::icons::Icon;
use crate::panels::particulars;
use crate::places::compare;
use crate::scene::Scene;
use crate::session::{Tool, View};
use crate::theme::{bold_font, font};

/// Width of the rail of tools, points.
const RAIL: f32 = 60.0;
/// Width of the panel of particulars.
const PARTICULARS: f32 = 274.0;
/// Height of the line over a view.
const TITLE: f32 = 30.0;
/// Width of the divider that can be dragged.
const DIVIDER: f32 = 7.0;

/// The place Draw, in all that is left of `ui`.
pub fn draw_ui(ui: &mut Ui, scene: &Scene<'_>, state: &mut DrawState, out: &mut Vec<Command>) {
    let mut hold = Hold::new(scene);
    canvas::keys(ui.ctx(), scene, state, &mut hold, out);
    let bar = egui::Frame::new().fill(scene.theme.bar);
    Panel::left("tools")
        .exact_size(RAIL)
        .resizable(false)
        .show_separator_line(true)
        .frame(bar)
        .show(ui, |ui| rail_ui(ui, scene, state, out));
    let inner = bar.inner_margin(egui::Margin { left: 12, right: 6, top: 8, bottom: 0 });
    let measuring = scene.session.picked == Some(ItemRef::Survey);
    let wide = if measuring { particulars::SURVEY_WIDTH } else { PARTICULARS };
    Panel::right("particulars").exact_size(wide).resizable(false).frame(inner).show(ui, |ui| {
        particulars::particulars_ui(ui, scene, state, out);
    });
    let rect = ui.available_rect_before_wrap();
    ui.painter().rect_filled(rect, 0.0, scene.theme.sheet);
    views_ui(ui, rect, scene, &mut Ask { state, hold: &mut hold, out });
    leave(ui, rect, scene, state, &mut hold);
    hold.ask(scene, out);
}

/// What only follows the pointer is put away when the pointer leaves the views.
fn leave(ui: &Ui, rect: Rect, scene: &Scene<'_>, state: &mut DrawState, hold: &mut Hold) {
    if scene.session.tool == Tool::Pick {
        state.drawn.clear();
    }
    let over = ui.rect_contains_pointer(rect);
    let follows = hold.gesture.as_ref().is_some_and(|g| g.grip.is_new() && g.typed.is_empty());
    if !over && follows && state.drawn.is_empty() {
        hold.gesture = None;
    }
    if !over {
        state.hovered = None;
    }
}

fn views_ui(ui: &mut Ui, rect: Rect, scene: &Scene<'_>, ask: &mut Ask<'_>) {
    // The plan alone stands beside the table of measurements.
    let measuring = scene.session.picked == Some(ItemRef::Survey);
    if let Some(space) = ask.state.filled.or(measuring.then_some(Space::Plan)) {
        view_ui(ui, rect, space, scene, ask);
    } else {
        let (plan, divider, elevation) = shares(rect, ask.state.split);
        view_ui(ui, plan, Space::Plan, scene, ask);
        view_ui(ui, elevation, Space::Elevation, scene, ask);
        divider_ui(ui, rect, divider, scene, ask.state);
    }
}

/// Plan, divider and elevation: side by side, or the plan on top where the place is tall.
fn shares(rect: Rect, split: f32) -> (Rect, Rect, Rect) {
    if is_tall(rect) {
        let y = (rect.top() + rect.height() * split).round();
        let (a, rest) = rect.split_top_bottom_at_y(y);
        let (divider, b) = rest.split_top_bottom_at_y(y + DIVIDER);
        (a, divider, b)
    } else {
        let x = (rect.left() + rect.width() * split).round();
        let (a, rest) = rect.split_left_right_at_x(x);
        let (divider, b) = rest.split_left_right_at_x(x + DIVIDER);
        (a, divider, b)
    }
}

fn is_tall(rect: Rect) -> bool {
    rect.height() > rect.width() * 1.1
}

fn divider_ui(ui: &Ui, rect: Rect, divider: Rect, scene: &Scene<'_>, state: &mut DrawState) {
    let tall = is_tall(rect);
    let response = ui.interact(
        divider.expand(1.0),
        egui::Id::unique("divider of Draw"),
        Sense::click_and_drag(),
    );
    response.widget_info(|| {
        WidgetInfo::labeled(Role::Splitter, true, "Divider between plan and elevation")
    });
    if response.hovered() || response.dragged() {
        ui.ctx().set_cursor_icon(if tall {
            CursorIcon::ResizeRow
        } else {
            CursorIcon::ResizeColumn
        });
    }
    if let (true, Some(p)) = (response.dragged(), response.interact_pointer_pos()) {
        let share = if tall {
            (p.y - rect.top()) / rect.height()
        } else {
            (p.x - rect.left()) / rect.width()
        };
        state.split = share.clamp(0.2, 0.8);
    }
    if response.double_clicked() {
        state.split = DrawState::default().split;
    }
    let lit = response.hovered() || response.dragged();
    let ink = if lit { scene.theme.accent } else { scene.theme.hairline };
    let painter = ui.painter();
    painter.rect_filled(divider, 0.0, scene.theme.bar);
    if tall {
        painter.hline(divider.x_range(), divider.center().y, Stroke::new(1.0, ink));
    } else {
        painter.vline(divider.center().x, divider.y_range(), Stroke::new(1.0, ink));
    }
    let grip = scene.theme.rule;
    for k in -1..=1 {
        let off = vec2(0.0, 5.0 * k as f32);
        let off = if tall { vec2(off.y, 0.0) } else { off };
        painter.circle_filled(divider.center() + off, 1.2, grip);
    }
}

fn view_ui(ui: &mut Ui, rect: Rect, space: Space, scene: &Scene<'_>, ask: &mut Ask<'_>) {
    let (title, drawing) = rect.split_top_bottom_at_y(rect.top() + TITLE);
    match space {
        Space::Plan => canvas::plan_ui(ui, drawing, scene, ask),
        Space::Elevation => {
            let comparing = scene.session.comparing && About::picked(scene.session).is_some();
            let strip = if comparing { compare::STRIP.min(drawing.height() * 0.5) } else { 0.0 };
            let (drawing, below) = drawing.split_top_bottom_at_y(drawing.bottom() - strip);
            canvas::elevation_ui(ui, drawing, scene, ask);
            if comparing {
                compare::compare_ui(ui, below, scene, ask.out);
            }
            if scene.session.gesture.is_some() && !scene.layout.walls.is_empty() {
                let cost = Cost::between(scene.base, scene.layout, scene.job);
                canvas::cost_ui(ui, drawing, scene, &cost);
            }
        }
    }
    title_ui(ui, title, space, scene, ask.state, ask.out);
}

fn title_ui(
    ui: &mut Ui,
    rect: Rect,
    space: Space,
    scene: &Scene<'_>,
    state: &mut DrawState,
    out: &mut Vec<Command>,
) {
    let theme = scene.theme;
    ui.painter().rect_filled(rect, 0.0, theme.sheet);
    let inside = rect.shrink2(vec2(8.0, 0.0));
    let mut bar = ui
        .new_child(UiBuilder::new().max_rect(inside).layout(Layout::right_to_left(Align::Center)));
    bar.spacing_mut().item_spacing.x = 2.0;
    let filled = state.filled == Some(space);
    let (what, sign) = if filled {
        ("Show both views", Icon::Both)
    } else {
        ("Fill the place with this view", Icon::Fill)
    };
    let name = match space {
        Space::Plan => "plan",
        Space::Elevation => "elevation",
    };
    if small_button(
        &mut bar,
        scene,
        sign,
        &format!("{what}: {name}"),
        if space == Space::Plan { "1" } else { "2" },
    ) {
        state.filled = if filled { None } else { Some(space) };
    }
    if small_button(&mut bar, scene, Icon::Fit, &format!("Fit the {name}"), "0") {
        match space {
            Space::Plan => state.plan.fitted = None,
            Space::Elevation => state.elevation.fitted = None,
        }
    }
    if space == Space::Elevation
        && scene.session.wall.is_some()
        && small_button(&mut bar, scene, Icon::Flip, "See the other face", "")
    {
        out.push(Command::OtherFace);
    }
    if space == Space::Elevation && scene.session.wall.is_some() {
        let on = scene.session.boards.is_some();
        let words = egui::RichText::new("Boards").font(font(12.5));
        let button = bar.add(egui::Button::selectable(on, words));
        button.widget_info(|| WidgetInfo::selected(Role::Button, true, on, "Boards of the wall"));
        if button.on_hover_text("The boards of this face, layer by layer (S)").clicked() {
            out.push(Command::Boards(next_boards(scene)));
        }
        let on = scene.session.zones;
        let words = egui::RichText::new("Zones").font(font(12.5));
        let button = bar.add(egui::Button::selectable(on, words));
        button.widget_info(|| WidgetInfo::selected(Role::Button, true, on, "Zones of cables"));
        if button.on_hover_text("Where cables run and are looked for (Z)").clicked() {
            out.push(Command::Zones(!on));
        }
    }
    if space == Space::Elevation && About::picked(scene.session).is_some() {
        let on = scene.session.comparing;
        let words = egui::RichText::new("Compare").font(font(12.5));
        let button = bar.add(egui::Button::selectable(on, words));
        let name = if on { "Put the comparison away" } else { "Compare choices" };
        button.widget_info(|| WidgetInfo::selected(Role::Button, true, on, name));
        let tip = "What every odd bay, or every place for the opening, comes to (V)";
        if button.on_hover_text(tip).clicked() {
            out.push(Command::Compare(!on));
        }
    }
    let eye = match space {
        Space::Plan => state.plan.eye,
        Space::Elevation => state.elevation.eye,
    };
    bar.add_space(6.0);
    bar.label(egui::RichText::new(scale_words(eye.zoom)).font(font(11.5)).color(theme.quiet))
        .on_hover_text("Scale on a usual screen");
    let room = bar.available_rect_before_wrap();
    let mut left =
        ui.new_child(UiBuilder::new().max_rect(room).layout(Layout::left_to_right(Align::Center)));
    left.set_clip_rect(room);
    match space {
        Space::Plan => {
            left.label(egui::RichText::new("Plan").font(bold_font(14.0)));
            let caption = format!(
                "ceiling {} · slab {}",
                scene.job.units.show(scene.job.levels.ceiling),
                scene.job.units.show(scene.job.levels.slab())
            );
            left.label(egui::RichText::new(caption).font(font(12.0)).color(theme.quiet));
        }
        Space::Elevation => {
            let (name, caption) = canvas::elevation_title(scene);
            wall_choice(&mut left, scene, &name, out);
            left.label(egui::RichText::new(caption).font(font(12.0)).color(theme.quiet));
        }
    }
}

/// The name over the elevation, and the other walls under it.
fn wall_choice(ui: &mut Ui, scene: &Scene<'_>, name: &str, out: &mut Vec<Command>) {
    let text = egui::RichText::new(format!("{name} ▾")).font(bold_font(14.0));
    let button = egui::Button::new(text).frame(false);
    egui::containers::menu::MenuButton::from_button(button).ui(ui, |ui| {
        egui::ScrollArea::vertical().max_height(420.0).show(ui, |ui| {
            for wall in &scene.job.walls {
                let shown = scene.session.wall.as_ref() == Some(&wall.name);
                let caption = scene.layout.wall(&wall.name).map_or(String::new(), |w| {
                    format!("  {}", scene.job.units.show(w.spec.along().length()))
                });
                if ui.selectable_label(shown, format!("Wall {}{caption}", wall.name)).clicked() {
                    out.push(Command::ShowWall(wall.name.clone()));
                    out.push(Command::Pick(Some(ItemRef::Wall(wall.name.clone()))));
                    ui.close();
                }
            }
        });
    });
}

/// “1:34” on a screen of 96 points to the inch.
fn scale_words(zoom: f64) -> String {
    let scale = 96.0 / 25.4 / zoom.max(1e-6);
    if scale >= 10.0 { format!("1:{scale:.0}") } else { format!("1:{scale:.1}") }
}

fn small_button(ui: &mut Ui, scene: &Scene<'_>, sign: Icon, label: &str, key: &str) -> bool {
    let (rect, response) = ui.allocate_exact_size(vec2(26.0, 24.0), Sense::click());
    response.widget_info(|| WidgetInfo::labeled(Role::Button, true, label));
    let theme = scene.theme;
    let ink = if response.hovered() || response.has_focus() { theme.accent } else { theme.quiet };
    if response.hovered() || response.has_focus() {
        ui.painter().rect_filled(rect, 3.0, theme.hover);
    }
    sign.paint(ui.painter(), Rect::from_center_size(rect.center(), vec2(17.0, 17.0)), ink);
    let tip = if key.is_empty() { label.to_owned() } else { format!("{label} ({key})") };
    response.on_hover_text(tip).clicked()
}

fn rail_ui(ui: &mut Ui, scene: &Scene<'_>, state: &mut DrawState, out: &mut Vec<Command>) {
    ui.spacing_mut().item_spacing.y = 2.0;
    ui.add_space(6.0);
    // The buttons fit the lowest window: they grow shorter before they scroll.
    let tall =
        ((ui.available_height() - 24.0) / (Tool::ALL.len() + 1) as f32 - 2.0).clamp(42.0, 56.0);
    egui::ScrollArea::vertical().auto_shrink([false, false]).show(ui, |ui| {
        for tool in Tool::ALL {
            let taken = scene.session.tool == tool;
            if tool_button(ui, scene, Icon::Tool(tool), tool.label(), tip_of(tool), taken, tall) {
                state.drawn.clear();
                out.push(Command::Take(tool));
            }
        }
        ui.add_space(4.0);
        if tool_button(ui, scene, Icon::Fit, "Fit", "See all of it in both views (0)", false, tall)
        {
            out.push(Command::View(View::Fit));
        }
    });
}

fn tool_button(
    ui: &mut Ui,
    scene: &Scene<'_>,
    sign: Icon,
    label: &str,
    tip: &str,
    taken: bool,
    tall: f32,
) -> bool {
    let theme = scene.theme;
    let (outer, response) = ui.allocate_exact_size(vec2(RAIL, tall), Sense::click());
    response.widget_info(|| WidgetInfo::selected(Role::Button, true, taken, label));
    let rect = outer.shrink2(vec2(5.0, 1.0));
    let (fill, edge, ink) = if taken {
        (theme.accent_tint, theme.accent, theme.accent)
    } else if response.hovered() || response.has_focus() {
        (theme.hover, theme.hairline, theme.ink)
    } else {
        (Color32::TRANSPARENT, Color32::TRANSPARENT, theme.ink)
    };
    ui.painter().rect(rect, 5.0, fill, Stroke::new(1.0, edge), StrokeKind::Inside);
    let middle = pos2(rect.center().x, rect.top() + rect.height() * 0.38);
    sign.paint(ui.painter(), Rect::from_center_size(middle, vec2(24.0, 24.0)), ink);
    let foot = pos2(rect.center().x, rect.bottom() - 9.0);
    ui.painter().text(foot, egui::Align2::CENTER_CENTER, label, font(11.5), ink);
    response.on_hover_text(tip).clicked()
}

fn tip_of(tool: Tool) -> &'static str {
    match tool {
        Tool::Pick => "Pick things and drag them",
        Tool::Room => "Draw what stands: the inside faces, corner by corner",
        Tool::Wall => "Draw a partition between two points",
        Tool::Door => "Put a door in a wall",
        Tool::Opening => "Put a borrowed light, a hatch or a plain opening in a wall",
        Tool::Point => "Put a switch, socket, pipe or other first-fix point on a face",
        Tool::Fitting => "Hang something on a face: it will want timber behind it",
        Tool::Post => "Put up a post",
        Tool::Beam => "Lay a beam under the ceiling",
        Tool::Roof => "Draw the foot of a roof slope: heads of walls follow it",
        Tool::Level => "Read a level of floor or ceiling, along a wall or in the room",
        Tool::Platform => "Joist out a low ceiling, a shelf or a bulkhead between walls",
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn views_stand_side_by_side_and_on_a_tall_place_one_over_the_other() {
        let wide = Rect::from_min_size(pos2(60.0, 44.0), vec2(1044.0, 690.0));
        let (plan, divider, elevation) = shares(wide, 0.5);
        assert_eq!((plan.height(), elevation.height()), (690.0, 690.0));
        assert!((plan.width() + divider.width() + elevation.width() - 1044.0).abs() < 0.1);
        let tall = Rect::from_min_size(pos2(60.0, 44.0), vec2(700.0, 1200.0));
        let (plan, _, elevation) = shares(tall, 0.5);
        assert_eq!((plan.width(), elevation.width()), (700.0, 700.0));
        assert!(plan.bottom() < elevation.top());
    }
}
