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
    /// Ink for hints in fields that are empty; they lean, too.
    pub hint: Color32,
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
    /// Ink of ties at jambs, free ends, joints and verges.
    pub roles: [Color32; 4],
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
    hint: rgb(0x5E_60_5C),
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
    good: rgb(0x00_62_5C),
    roles: [rgb(0x14_50_D8), rgb(0x7A_30_10), rgb(0x5A_14_66), rgb(0x06_72_59)],
};

/// The drawing board by night.
pub const DARK: Palette = Palette {
    board: rgb(0x26_29_2C),
    board_high: rgb(0x30_34_37),
    paper: rgb(0x1A_1D_1F),
    field: rgb(0x1D_20_22),
    ink: rgb(0xE6_E1_D6),
    ink_soft: rgb(0xA5_A3_9B),
    hint: rgb(0xA5_A3_9B),
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
    good: rgb(0x7E_D0_C0),
    roles: [rgb(0x30_A6_F5), rgb(0xFC_79_48), rgb(0xDC_84_B2), rgb(0x71_F3_9A)],
};

/// By day, in high contrast.
pub const LIGHT_CONTRAST: Palette = Palette {
    board: rgb(0xF0_F0_F0),
    board_high: rgb(0xFF_FF_FF),
    paper: rgb(0xFF_FF_FF),
    field: rgb(0xFF_FF_FF),
    ink: rgb(0x00_00_00),
    ink_soft: rgb(0x2E_2E_2E),
    hint: rgb(0x4E_4E_4E),
    hairline: rgb(0x55_55_55),
    accent: rgb(0x00_38_B8),
    accent_wash: rgb(0xC4_D6_FF),
    masonry: rgb(0xFF_FF_FF),
    bed: rgb(0xC8_C8_C8),
    glass: rgb(0xFF_FF_FF),
    hazard: rgb(0x6E_2E_00),
    breach: rgb(0x9C_00_10),
    breach_wash: rgb(0xFF_DA_DA),
    note: rgb(0x54_3C_00),
    good: rgb(0x00_54_4A),
    roles: [rgb(0x00_38_B8), rgb(0x6E_2E_00), rgb(0x6A_00_7A), rgb(0x00_5C_40)],
};

/// By night, in high contrast.
pub const DARK_CONTRAST: Palette = Palette {
    board: rgb(0x1A_1A_1A),
    board_high: rgb(0x00_00_00),
    paper: rgb(0x00_00_00),
    field: rgb(0x00_00_00),
    ink: rgb(0xFF_FF_FF),
    ink_soft: rgb(0xD8_D8_D8),
    hint: rgb(0xA8_A8_A8),
    hairline: rgb(0x9A_9A_9A),
    accent: rgb(0x8C_D0_FF),
    accent_wash: rgb(0x00_38_66),
    masonry: rgb(0x00_00_00),
    bed: rgb(0x48_48_48),
    glass: rgb(0x00_00_00),
    hazard: rgb(0xFF_C0_70),
    breach: rgb(0xFF_9C_90),
    breach_wash: rgb(0x60_10_10),
    note: rgb(0xFF_DD_80),
    good: rgb(0x80_E8_D8),
    roles: [rgb(0x7F_A8_F5), rgb(0xEC_93_42), rgb(0xED_A5_D2), rgb(0x36_F9_92)],
};

impl Palette {
    /// The palette of a context's theme.
    #[must_use]
    pub fn of(ctx: &egui::Context) -> Self {
        match (ctx.theme(), has_contrast(ctx)) {
            (Theme::Dark, false) => DARK,
            (Theme::Light, false) => LIGHT,
            (Theme::Dark, true) => DARK_CONTRAST,
            (Theme::Light, true) => LIGHT_CONTRAST,
        }
    }

    /// Ink of the ties of a role. Shape tells roles apart; the ink only helps.
    #[must_use]
    pub fn role(&self, role: Role) -> Color32 {
        let [jamb, free_end, joint, verge] = self.roles;
        match role {
            Role::Field => self.ink,
            Role::Jamb => jamb,
            Role::FreeEnd => free_end,
            Role::Joint => joint,
            Role::Verge => verge,
        }
    }

    /// Behind what is under the pointer.
    #[must_use]
    pub fn hover(&self) -> Color32 {
        self.hairline.gamma_multiply(0.45)
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
        v.weak_text_color = Some(self.hint);
        v.selection.bg_fill = self.accent_wash;
        v.selection.stroke = Stroke::new(1.0, self.accent);
        v.striped = false;
        let (hair, accent) = (Stroke::new(1.0, self.hairline), Stroke::new(1.0, self.accent));
        let wash = self.accent_wash;
        let w = &mut v.widgets;
        for (state, fill, weak_fill, edge) in [
            (&mut w.noninteractive, self.board, self.board, hair),
            (&mut w.inactive, self.field, self.board_high, hair),
            // Under the pointer, with the keyboard, and chosen (`selection`) are three looks, that none is taken for
            // another: a shade of grey, a thick edge, a wash of colour.
            (&mut w.hovered, self.field, self.hover(), Stroke::new(1.0, self.ink_soft)),
            (&mut w.active, self.field, self.board_high, Stroke::new(2.0, self.accent)),
            (&mut w.open, self.board_high, wash, accent),
        ] {
            state.corner_radius = CornerRadius::same(3);
            state.expansion = 0.0;
            state.fg_stroke = Stroke::new(1.0, self.ink);
            state.bg_fill = fill;
            state.weak_bg_fill = weak_fill;
            state.bg_stroke = edge;
        }
        w.active.fg_stroke = accent;
        v
    }
}

/// Font family of headings.
#[must_use]
pub fn bold() -> FontFamily {
    FontFamily::Name("bold".into())
}

fn contrast_id() -> egui::Id {
    egui::Id::unique("high contrast")
}

/// Whether the colours are those of high contrast.
#[must_use]
pub fn has_contrast(ctx: &egui::Context) -> bool {
    ctx.data(|d| d.get_temp(contrast_id())).unwrap_or(false)
}

/// Turns high contrast on or off.
pub fn set_contrast(ctx: &egui::Context, on: bool) {
    ctx.data_mut(|d| d.insert_temp(contrast_id(), on));
    let (light, dark) = if on { (LIGHT_CONTRAST, DARK_CONTRAST) } else { (LIGHT, DARK) };
    ctx.set_visuals_of(Theme::Light, light.visuals(false));
    ctx.set_visuals_of(Theme::Dark, dark.visuals(true));
}

/// Installs fonts, colours and spacing. Call once for a context.
pub fn install(ctx: &egui::Context) {
    ctx.set_fonts(fonts());
    // Paper is light unless the desktop says otherwise.
    ctx.options_mut(|o| o.fallback_theme = Theme::Light);
    set_contrast(ctx, false);
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
        // The handle in ink, so that one sees at once that there is more than is shown.
        s.scroll = egui::style::ScrollStyle {
            foreground_color: true,
            dormant_background_opacity: 0.5,
            dormant_handle_opacity: 0.4,
            active_handle_opacity: 0.6,
            interact_handle_opacity: 0.8,
            ..egui::style::ScrollStyle::thin()
        };
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
        // 4.5 is the least ratio for text of ordinary size (AA), 7 where contrast is to be high (AAA).
        for (p, least) in [(LIGHT, 4.5), (DARK, 4.5), (LIGHT_CONTRAST, 7.0), (DARK_CONTRAST, 7.0)] {
            for back in [p.board, p.board_high, p.paper, p.field] {
                for ink in [p.ink, p.ink_soft, p.hint, p.accent, p.breach, p.note, p.good] {
                    let got = contrast(ink, back);
                    assert!(got >= least, "{ink:?} on {back:?}: {got:.2}");
                }
            }
            for role in Role::ALL {
                let got = contrast(p.role(role), p.masonry);
                assert!(got >= least, "{role:?} on masonry: {got:.2}");
            }
        }
    }

    /// How colours look to people who lack one kind of cone, on linear light: Machado, Oliveira and Fernandes
    /// 2009, severity 1.0 (matrices from memory; the bound below leaves room for their last figures).
    const CONES: [[[f64; 3]; 3]; 3] = [
        [
            [0.152_286, 1.052_583, -0.204_868],
            [0.114_503, 0.786_281, 0.099_216],
            [-0.003_882, -0.048_116, 1.051_998],
        ],
        [
            [0.367_322, 0.860_646, -0.227_968],
            [0.280_085, 0.672_501, 0.047_413],
            [-0.011_820, 0.042_940, 0.968_881],
        ],
        [
            [1.255_528, -0.076_749, -0.178_779],
            [-0.078_411, 0.930_809, 0.147_602],
            [0.004_733, 0.691_367, 0.303_900],
        ],
    ];

    /// CIE 1976 L*a*b* of a colour as it looks through a matrix.
    fn lab(c: Color32, m: &[[f64; 3]; 3]) -> [f64; 3] {
        let linear = [c.r(), c.g(), c.b()].map(|v| {
            let v = f64::from(v) / 255.0;
            if v <= 0.04045 { v / 12.92 } else { ((v + 0.055) / 1.055).powf(2.4) }
        });
        let l = m.map(|row| row.iter().zip(linear).map(|(a, b)| a * b).sum::<f64>().clamp(0.0, 1.0));
        let f = |t: f64| if t > 0.008_856 { t.cbrt() } else { 7.787 * t + 16.0 / 116.0 };
        let x = f((0.4124 * l[0] + 0.3576 * l[1] + 0.1805 * l[2]) / 0.9505);
        let y = f(0.2126 * l[0] + 0.7152 * l[1] + 0.0722 * l[2]);
        let z = f((0.0193 * l[0] + 0.1192 * l[1] + 0.9505 * l[2]) / 1.089);
        [116.0 * y - 16.0, 500.0 * (x - y), 200.0 * (y - z)]
    }

    #[test]
    fn colours_stay_apart_for_every_eye() {
        // A difference of 2.3 is just seen in large patches; small symbols need several times that.
        let least = 18.0;
        for p in [LIGHT, DARK, LIGHT_CONTRAST, DARK_CONTRAST] {
            let roles = Role::ALL.map(|r| p.role(r));
            let mut pairs = vec![(p.breach, p.good)];
            for (i, a) in roles.iter().enumerate() {
                pairs.extend(roles[..i].iter().map(|b| (*a, *b)));
            }
            for m in &CONES {
                for (a, b) in &pairs {
                    let (u, v) = (lab(*a, m), lab(*b, m));
                    let apart = u.iter().zip(v).map(|(x, y)| (x - y).powi(2)).sum::<f64>().sqrt();
                    assert!(apart >= least, "{a:?} and {b:?}: {apart:.1}");
                }
            }
        }
    }
}
