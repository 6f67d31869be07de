//! Paper and ink: the colours and type of the window, light and dark.

use std::sync::Arc;

use egui::{
    Color32, CornerRadius, FontData, FontDefinitions, FontFamily, FontId, Margin, Stroke, TextStyle, Theme,
    Visuals, vec2,
};
use layout_core::Role;

/// Every colour that is drawn on the sheet and around it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Palette {
    /// The board around the sheet: panels.
    pub board: Color32,
    /// Raised or headed parts of a panel.
    pub board_high: Color32,
    /// The sheet.
    pub paper: Color32,
    /// Fields to type in.
    pub field: Color32,
    /// Main ink.
    pub ink: Color32,
    /// Ink for what is said quietly.
    pub ink_soft: Color32,
    /// Hairlines.
    pub hairline: Color32,
    /// What is chosen or at work.
    pub accent: Color32,
    /// Behind what is chosen.
    pub accent_wash: Color32,
    /// Masonry.
    pub masonry: Color32,
    /// Bed joints on masonry.
    pub bed: Color32,
    /// Inside openings.
    pub glass: Color32,
    /// Keep-outs and their hatching.
    pub hazard: Color32,
    /// Broken rules and faults.
    pub breach: Color32,
    /// Behind what is said of broken rules and faults.
    pub breach_wash: Color32,
    /// Notes.
    pub note: Color32,
    /// All is well.
    pub good: Color32,
}

const fn rgb(hex: u32) -> Color32 {
    Color32::from_rgb((hex >> 16) as u8, (hex >> 8) as u8, hex as u8)
}

/// The drawing board by day.
pub const LIGHT: Palette = Palette {
    board: rgb(0xE9_E5_DA),
    board_high: rgb(0xF3_F0_E7),
    paper: rgb(0xFB_FA_F5),
    field: rgb(0xFD_FC_F8),
    ink: rgb(0x23_27_2B),
    ink_soft: rgb(0x5E_60_5C),
    hairline: rgb(0xC6_BF_AE),
    accent: rgb(0x1F_5B_7F),
    accent_wash: rgb(0xCF_DD_E3),
    masonry: rgb(0xF4_E7_DA),
    bed: rgb(0xE0_CD_BB),
    glass: rgb(0xF7_F9_F7),
    hazard: rgb(0x8A_4B_12),
    breach: rgb(0xA9_2F_24),
    breach_wash: rgb(0xF6_DF_D8),
    note: rgb(0x7A_5A_10),
    good: rgb(0x2F_6B_45),
};

/// The drawing board by night.
pub const DARK: Palette = Palette {
    board: rgb(0x26_29_2C),
    board_high: rgb(0x30_34_37),
    paper: rgb(0x1A_1D_1F),
    field: rgb(0x1D_20_22),
    ink: rgb(0xE6_E1_D6),
    ink_soft: rgb(0xA5_A3_9B),
    hairline: rgb(0x46_4B_4E),
    accent: rgb(0x86_BD_DC),
    accent_wash: rgb(0x2C_47_57),
    masonry: rgb(0x3A_31_2B),
    bed: rgb(0x4D_41_39),
    glass: rgb(0x20_26_29),
    hazard: rgb(0xE0_A2_5E),
    breach: rgb(0xF0_8A_7A),
    breach_wash: rgb(0x4A_2B_27),
    note: rgb(0xD9_B4_62),
    good: rgb(0x8C_C9_A2),
};

impl Palette {
    /// The palette of a context's theme.
    #[must_use]
    pub fn of(ctx: &egui::Context) -> Self {
        if ctx.theme() == Theme::Dark { DARK } else { LIGHT }
    }

    /// Ink of the ties of a role. Shape tells roles apart; the ink only helps.
    #[must_use]
    pub fn role(&self, role: Role) -> Color32 {
        let dark = *self == DARK;
        match role {
            Role::Field => self.ink,
            Role::Jamb => self.accent,
            Role::FreeEnd => rgb(if dark { 0xE8_9A_6C } else { 0x9A_48_18 }),
            Role::Joint => rgb(if dark { 0xC2_A5_E2 } else { 0x62_3F_8C }),
            Role::Verge => rgb(if dark { 0x9C_CB_7A } else { 0x3F_67_22 }),
        }
    }

    fn visuals(&self, dark: bool) -> Visuals {
        let mut v = if dark { Visuals::dark() } else { Visuals::light() };
        v.panel_fill = self.board;
        v.window_fill = self.board_high;
        v.extreme_bg_color = self.field;
        v.text_edit_bg_color = Some(self.field);
        v.faint_bg_color = self.board_high;
        v.code_bg_color = self.board_high;
        v.window_stroke = Stroke::new(1.0, self.hairline);
        v.window_corner_radius = CornerRadius::same(4);
        v.menu_corner_radius = CornerRadius::same(4);
        v.hyperlink_color = self.accent;
        v.warn_fg_color = self.note;
        v.error_fg_color = self.breach;
        v.weak_text_color = Some(self.ink_soft);
        v.selection.bg_fill = self.accent_wash;
        v.selection.stroke = Stroke::new(1.0, self.accent);
        v.striped = false;
        let w = &mut v.widgets;
        for state in [&mut w.noninteractive, &mut w.inactive, &mut w.hovered, &mut w.active, &mut w.open] {
            state.corner_radius = CornerRadius::same(3);
            state.expansion = 0.0;
            state.fg_stroke = Stroke::new(1.0, self.ink);
        }
        w.noninteractive.bg_stroke = Stroke::new(1.0, self.hairline);
        w.noninteractive.bg_fill = self.board;
        w.noninteractive.weak_bg_fill = self.board;
        w.inactive.bg_fill = self.field;
        w.inactive.weak_bg_fill = self.board_high;
        w.inactive.bg_stroke = Stroke::new(1.0, self.hairline);
        w.hovered.bg_fill = self.accent_wash;
        w.hovered.weak_bg_fill = self.accent_wash.gamma_multiply(0.6);
        w.hovered.bg_stroke = Stroke::new(1.0, self.accent);
        w.active.bg_fill = self.accent_wash;
        w.active.weak_bg_fill = self.accent_wash;
        w.active.bg_stroke = Stroke::new(1.0, self.accent);
        w.active.fg_stroke = Stroke::new(1.0, self.accent);
        w.open.bg_fill = self.board_high;
        w.open.weak_bg_fill = self.accent_wash;
        w.open.bg_stroke = Stroke::new(1.0, self.accent);
        v
    }
}

/// Font family of headings.
#[must_use]
pub fn bold() -> FontFamily {
    FontFamily::Name("bold".into())
}

/// Installs fonts, colours and spacing. Call once for a context.
pub fn install(ctx: &egui::Context) {
    ctx.set_fonts(fonts());
    // Paper is light unless the desktop says otherwise.
    ctx.options_mut(|o| o.fallback_theme = Theme::Light);
    for (theme, palette) in [(Theme::Light, LIGHT), (Theme::Dark, DARK)] {
        ctx.set_visuals_of(theme, palette.visuals(theme == Theme::Dark));
    }
    ctx.all_styles_mut(|style| {
        style.text_styles = [
            (TextStyle::Small, FontId::new(11.0, FontFamily::Proportional)),
            (TextStyle::Body, FontId::new(13.0, FontFamily::Proportional)),
            (TextStyle::Button, FontId::new(13.0, FontFamily::Proportional)),
            (TextStyle::Heading, FontId::new(15.0, bold())),
            (TextStyle::Monospace, FontId::new(12.5, FontFamily::Proportional)),
        ]
        .into();
        let s = &mut style.spacing;
        s.item_spacing = vec2(6.0, 5.0);
        s.button_padding = vec2(8.0, 3.0);
        s.interact_size = vec2(24.0, 24.0);
        s.menu_margin = Margin::same(6);
        s.window_margin = Margin::same(16);
        s.tooltip_width = 320.0;
        s.combo_width = 120.0;
        s.text_edit_width = 120.0;
        s.indent = 14.0;
        s.scroll = egui::style::ScrollStyle::thin();
        style.interaction.tooltip_delay = 0.35;
    });
}

fn fonts() -> FontDefinitions {
    let mut f = FontDefinitions::empty();
    let mut add = |name: &str, bytes: &'static [u8]| {
        f.font_data.insert(name.to_owned(), Arc::new(FontData::from_static(bytes)));
    };
    add("condensed", include_bytes!("../../assets/fonts/DejaVuSansCondensed.ttf"));
    add("condensed-bold", include_bytes!("../../assets/fonts/DejaVuSansCondensed-Bold.ttf"));
    add("sans", include_bytes!("../../assets/fonts/DejaVuSans.ttf"));
    let list = |names: &[&str]| names.iter().map(|n| (*n).to_owned()).collect::<Vec<_>>();
    f.families.insert(FontFamily::Proportional, list(&["condensed", "sans"]));
    f.families.insert(FontFamily::Monospace, list(&["sans"]));
    f.families.insert(bold(), list(&["condensed-bold", "sans"]));
    f
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Relative luminance and contrast ratio of WCAG 2.1, as published by the W3C.
    fn contrast(a: Color32, b: Color32) -> f64 {
        let luminance = |c: Color32| {
            let part = |v: u8| {
                let v = f64::from(v) / 255.0;
                if v <= 0.03928 { v / 12.92 } else { ((v + 0.055) / 1.055).powf(2.4) }
            };
            0.2126 * part(c.r()) + 0.7152 * part(c.g()) + 0.0722 * part(c.b())
        };
        let (l, m) = (luminance(a), luminance(b));
        (l.max(m) + 0.05) / (l.min(m) + 0.05)
    }

    #[test]
    fn text_stands_out_from_what_it_is_on() {
        for p in [LIGHT, DARK] {
            for back in [p.board, p.board_high, p.paper, p.field] {
                for ink in [p.ink, p.ink_soft, p.accent, p.breach, p.note, p.good] {
                    // 4.5 is the least ratio for text of ordinary size.
                    let got = contrast(ink, back);
                    assert!(got >= 4.5, "{ink:?} on {back:?}: {got:.2}");
                }
            }
            for role in Role::ALL {
                let got = contrast(p.role(role), p.masonry);
                assert!(got >= 4.5, "{role:?} on masonry: {got:.2}");
            }
        }
    }
}
