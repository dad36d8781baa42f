//! How the window looks: one table of colours a theme, and what is built from it.
//!
//! Paper, ink, hairlines and one accent, the blue of a chalk line, for what the hand holds.
//! Tints of timber and the like are mixed from the Okabe–Ito palette (published, safe for the
//! colour-blind) into the paper, so they stay apart by lightness too.

use std::sync::Arc;

use egui::epaint::CornerRadiusF32;
use egui::{
    Color32, CornerRadius, FontData, FontDefinitions, FontFamily, FontId, Margin, Stroke,
    TextStyle, vec2,
};
use layout_core::snag::Severity;
use serde::{Deserialize, Serialize};
use sheets::picture::{Fill, Pen};

/// The three looks.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Look {
    /// Warm paper.
    #[default]
    Light,
    /// For the evening.
    Dark,
    /// Black on white, for a screen in the sun.
    Daylight,
}

impl Look {
    /// All of them, in menu order.
    pub const ALL: [Look; 3] = [Look::Light, Look::Dark, Look::Daylight];

    /// Its name in the menu.
    pub fn label(self) -> &'static str {
        match self {
            Look::Light => "Light",
            Look::Dark => "Dark",
            Look::Daylight => "Daylight",
        }
    }
}

/// The colours of one look.
#[derive(Clone, Debug, PartialEq)]
pub struct Theme {
    /// Which look it is.
    pub look: Look,
    /// The bars and panels round the drawing.
    pub bar: Color32,
    /// The sheet that is drawn on.
    pub sheet: Color32,
    /// The inside of a field that can be typed in.
    pub field: Color32,
    /// Behind a row or button the pointer is over.
    pub hover: Color32,
    /// Ordinary lettering and outlines.
    pub ink: Color32,
    /// Lettering of less weight: captions, units.
    pub quiet: Color32,
    /// Lines between panels and rows.
    pub hairline: Color32,
    /// Edges of fields and buttons.
    pub rule: Color32,
    /// What the hand holds and what it is about to touch.
    pub accent: Color32,
    /// Behind what is picked.
    pub accent_tint: Color32,
    /// Lettering on the accent.
    pub on_accent: Color32,
    /// Do not build it.
    pub stop: Color32,
    /// It will have to be undone.
    pub mend: Color32,
    /// Worth knowing.
    pub note: Color32,
    /// Better than before.
    pub good: Color32,
    /// Paper white, on which prints are previewed in every look.
    pub print: Color32,
    /// The ink of prints.
    pub print_ink: Color32,
    /// What dims the window behind a question.
    pub shade: Color32,
    mixed: f32,
}

const fn rgb(hex: u32) -> Color32 {
    Color32::from_rgb((hex >> 16) as u8, (hex >> 8) as u8, hex as u8)
}

/// The Okabe–Ito colours that are mixed into the paper.
mod okabe_ito {
    pub(super) const ORANGE: u32 = 0x00E6_9F00;
    pub(super) const SKY: u32 = 0x0056_B4E9;
    pub(super) const GREEN: u32 = 0x0000_9E73;
    pub(super) const VERMILION: u32 = 0x00D5_5E00;
    pub(super) const PURPLE: u32 = 0x00CC_79A7;
}

impl Theme {
    /// The colours of `look`.
    pub fn of(look: Look) -> Theme {
        match look {
            Look::Light => Theme {
                look,
                bar: rgb(0x00F2_EEE5),
                sheet: rgb(0x00FC_FBF7),
                field: rgb(0x00FF_FFFF),
                hover: rgb(0x00E8_E3D7),
                ink: rgb(0x001E_2A30),
                quiet: rgb(0x0058_6368),
                hairline: rgb(0x00D6_D0C3),
                rule: rgb(0x00A9_A79D),
                accent: rgb(0x001B_5AA8),
                accent_tint: rgb(0x00DD_E8F6),
                on_accent: rgb(0x00FF_FFFF),
                stop: rgb(0x00A4_161A),
                mend: rgb(0x0086_4F00),
                note: rgb(0x003D_5A6C),
                good: rgb(0x001F_6B3A),
                print: rgb(0x00FF_FFFF),
                print_ink: rgb(0x0010_1010),
                shade: rgb(0x003B_362C),
                mixed: 1.0,
            },
            Look::Dark => Theme {
                look,
                bar: rgb(0x0022_272A),
                sheet: rgb(0x0019_1D20),
                field: rgb(0x0012_1517),
                hover: rgb(0x0031_383C),
                ink: rgb(0x00EC_E7DA),
                quiet: rgb(0x00AD_B3AF),
                hairline: rgb(0x003C_4448),
                rule: rgb(0x0067_7276),
                accent: rgb(0x0084_B8F5),
                accent_tint: rgb(0x0020_3A56),
                on_accent: rgb(0x000E_1B29),
                stop: rgb(0x00FF_9A8C),
                mend: rgb(0x00F0_B458),
                note: rgb(0x009F_C3D8),
                good: rgb(0x0086_D19D),
                print: rgb(0x00F4_F2EC),
                print_ink: rgb(0x0010_1010),
                shade: rgb(0x0000_0000),
                mixed: 1.35,
            },
            Look::Daylight => Theme {
                look,
                bar: rgb(0x00FF_FFFF),
                sheet: rgb(0x00FF_FFFF),
                field: rgb(0x00FF_FFFF),
                hover: rgb(0x00E2_E2E2),
                ink: rgb(0x0000_0000),
                quiet: rgb(0x0033_3333),
                hairline: rgb(0x0080_8080),
                rule: rgb(0x0040_4040),
                accent: rgb(0x0000_3C9E),
                accent_tint: rgb(0x00CF_E2FF),
                on_accent: rgb(0x00FF_FFFF),
                stop: rgb(0x008E_0000),
                mend: rgb(0x0066_3A00),
                note: rgb(0x001E_3A4C),
                good: rgb(0x0000_4D20),
                print: rgb(0x00FF_FFFF),
                print_ink: rgb(0x0000_0000),
                shade: rgb(0x0000_0000),
                mixed: 1.6,
            },
        }
    }

    /// Line weight in points and colour of a pen. Weights step as ISO 128 steps: 1 to 1.4 to 2.
    pub fn pen(&self, pen: Pen) -> Stroke {
        match pen {
            Pen::None => Stroke::NONE,
            Pen::Cut => Stroke::new(2.0, self.ink),
            Pen::Outline => Stroke::new(1.2, self.ink),
            Pen::Thin => Stroke::new(0.8, self.ink),
            Pen::Service => Stroke::new(1.6, self.ink),
            Pen::Hidden | Pen::Centre | Pen::Dimension => Stroke::new(0.8, self.quiet),
            Pen::Text => Stroke::new(1.0, self.ink),
            Pen::Quiet => Stroke::new(1.0, self.quiet),
        }
    }

    /// Dash and gap of a pen, in points; `None` for a full line.
    pub fn dash(pen: Pen) -> Option<&'static [f32]> {
        match pen {
            Pen::Hidden => Some(&[6.0, 3.0]),
            Pen::Service => Some(&[11.0, 3.0]),
            Pen::Centre => Some(&[14.0, 3.0, 2.0, 3.0]),
            _ => None,
        }
    }

    /// Colour of an area.
    pub fn fill(&self, fill: Fill) -> Color32 {
        use okabe_ito::{GREEN, ORANGE, PURPLE, SKY, VERMILION};
        match fill {
            Fill::None => Color32::TRANSPARENT,
            Fill::Paper => self.sheet,
            Fill::Timber => self.tint(ORANGE, 0.22),
            Fill::TimberPlate => self.tint(ORANGE, 0.36),
            Fill::TimberStrong => self.tint(VERMILION, 0.30),
            Fill::TimberLight => self.tint(GREEN, 0.18),
            Fill::Pattress => self.tint(PURPLE, 0.34),
            Fill::BoxNoggin => self.tint(GREEN, 0.34),
            Fill::Existing => mix(self.sheet, self.ink, 0.16),
            Fill::Board => self.tint(SKY, 0.16),
            Fill::Fitting => self.tint(PURPLE, 0.18),
            Fill::Zone => rgb(SKY).gamma_multiply(0.28),
        }
    }

    /// Colour of a severity's word and sign.
    pub fn severity(&self, severity: Severity) -> Color32 {
        match severity {
            Severity::Stop => self.stop,
            Severity::Mend => self.mend,
            Severity::Note => self.note,
        }
    }

    fn tint(&self, hex: u32, share: f32) -> Color32 {
        mix(self.sheet, rgb(hex), (share * self.mixed).min(1.0))
    }

    /// Puts this look and the lettering into egui.
    pub fn install(&self, ctx: &egui::Context) {
        ctx.set_theme(if self.look == Look::Dark { egui::Theme::Dark } else { egui::Theme::Light });
        ctx.all_styles_mut(|style| self.style(style));
    }

    fn style(&self, style: &mut egui::Style) {
        style.text_styles = [
            (TextStyle::Small, FontId::new(11.5, FontFamily::Proportional)),
            (TextStyle::Body, FontId::new(13.5, FontFamily::Proportional)),
            (TextStyle::Button, FontId::new(13.5, FontFamily::Proportional)),
            (TextStyle::Heading, FontId::new(16.0, bold())),
            (TextStyle::Monospace, FontId::new(12.5, FontFamily::Monospace)),
        ]
        .into();
        let s = &mut style.spacing;
        s.item_spacing = vec2(8.0, 6.0);
        s.button_padding = vec2(10.0, 4.0);
        s.interact_size = vec2(28.0, 26.0);
        s.menu_margin = Margin::symmetric(6, 6);
        s.window_margin = Margin::same(18);
        s.text_edit_width = 160.0;
        s.icon_width = 16.0;
        s.icon_width_inner = 9.0;
        s.combo_width = 80.0;
        s.tooltip_width = 340.0;
        s.scroll = egui::style::ScrollStyle::thin();
        style.animation_time = 0.08;
        style.interaction.tooltip_delay = 0.4;
        style.visuals = self.visuals();
    }

    fn visuals(&self) -> egui::Visuals {
        let mut v =
            if self.look == Look::Dark { egui::Visuals::dark() } else { egui::Visuals::light() };
        let radius = CornerRadius::from(CornerRadiusF32::same(3.0));
        v.override_text_color = None;
        v.weak_text_color = Some(self.quiet);
        v.hyperlink_color = self.accent;
        v.faint_bg_color = mix(self.sheet, self.ink, 0.03);
        v.extreme_bg_color = self.field;
        v.text_edit_bg_color = Some(self.field);
        v.code_bg_color = self.bar;
        v.warn_fg_color = self.mend;
        v.error_fg_color = self.stop;
        v.window_corner_radius = radius;
        v.menu_corner_radius = radius;
        v.window_shadow = egui::Shadow::NONE;
        v.popup_shadow = egui::Shadow::NONE;
        v.window_fill = self.sheet;
        v.window_stroke = Stroke::new(1.0, self.rule);
        v.panel_fill = self.bar;
        v.selection.bg_fill = self.accent_tint;
        v.selection.stroke = Stroke::new(1.0, self.accent);
        v.text_cursor.stroke = Stroke::new(1.5, self.accent);
        v.button_frame = true;
        v.striped = false;
        v.indent_has_left_vline = false;
        v.disabled_alpha = 0.62;
        let w = &mut v.widgets;
        for (state, fill, edge, text) in [
            (&mut w.noninteractive, self.bar, self.hairline, self.ink),
            (&mut w.inactive, self.field, self.rule, self.ink),
            (&mut w.hovered, self.hover, self.ink, self.ink),
            (&mut w.active, self.accent_tint, self.accent, self.accent),
            (&mut w.open, self.hover, self.rule, self.ink),
        ] {
            state.bg_fill = fill;
            state.weak_bg_fill = fill;
            state.bg_stroke = Stroke::new(1.0, edge);
            state.fg_stroke = Stroke::new(1.0, text);
            state.corner_radius = radius;
            state.expansion = 0.0;
        }
        v
    }
}

/// `share` of `b` in `a`.
fn mix(a: Color32, b: Color32, share: f32) -> Color32 {
    a.lerp_to_gamma(b, share)
}

/// The bold lettering.
pub fn bold() -> FontFamily {
    FontFamily::Name("bold".into())
}

/// A bold font of `size` points.
pub fn bold_font(size: f32) -> FontId {
    FontId::new(size, bold())
}

/// A plain font of `size` points.
pub fn font(size: f32) -> FontId {
    FontId::new(size, FontFamily::Proportional)
}

/// Registers the lettering: the same family as on paper, which has every sign of the trade.
pub fn install_fonts(ctx: &egui::Context) {
    let mut fonts = FontDefinitions::empty();
    for (name, bytes) in [
        ("plain", dejavu::sans_condensed::regular()),
        ("bold", dejavu::sans_condensed::bold()),
        ("even", dejavu::sans_mono::regular()),
    ] {
        fonts.font_data.insert(name.into(), Arc::new(FontData::from_static(bytes)));
    }
    for (family, font) in
        [(FontFamily::Proportional, "plain"), (FontFamily::Monospace, "even"), (bold(), "bold")]
    {
        fonts.families.insert(family, vec![font.into(), "plain".into()]);
    }
    ctx.set_fonts(fonts);
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Contrast ratio of two colours, as WCAG 2.2 (published) defines it.
    fn contrast(a: Color32, b: Color32) -> f64 {
        let light = |c: Color32| {
            let lin = |v: u8| {
                let v = f64::from(v) / 255.0;
                if v <= 0.04045 { v / 12.92 } else { ((v + 0.055) / 1.055).powf(2.4) }
            };
            0.2126 * lin(c.r()) + 0.7152 * lin(c.g()) + 0.0722 * lin(c.b())
        };
        let (a, b) = (light(a), light(b));
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    }

    #[test]
    fn lettering_stands_out_from_everything_it_is_written_on() {
        for look in Look::ALL {
            let t = Theme::of(look);
            for ground in [t.bar, t.sheet, t.field, t.hover] {
                for (what, letters) in [
                    ("ink", t.ink),
                    ("quiet", t.quiet),
                    ("accent", t.accent),
                    ("stop", t.stop),
                    ("mend", t.mend),
                    ("note", t.note),
                    ("good", t.good),
                ] {
                    let got = contrast(letters, ground);
                    assert!(
                        got >= 4.5,
                        "{look:?}: {what} on {ground:?} is {got:.2}:1, wanted 4.5:1"
                    );
                }
            }
            assert!(contrast(t.on_accent, t.accent) >= 4.5, "{look:?}: lettering on the accent");
            assert!(contrast(t.accent, t.accent_tint) >= 4.5, "{look:?}: the accent on its tint");
            for fill in [
                Fill::Timber,
                Fill::TimberPlate,
                Fill::TimberStrong,
                Fill::TimberLight,
                Fill::Board,
            ] {
                let got = contrast(t.ink, t.fill(fill));
                assert!(got >= 4.5, "{look:?}: ink on {fill:?} is {got:.2}:1");
            }
        }
    }
}
