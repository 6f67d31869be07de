//! What the window remembers from one day to the next: its look, its size, its panels, recent files.
//!
//! A small file in the user's own folder for settings. That it cannot be read or written is no matter to
//! the user: the window then opens as it does the first time.

use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use crate::document::replace::replace;
use crate::session::{Layers, Look, Panels, Session};

/// What is remembered.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct Settings {
    /// Dark, light, or as the desktop has it.
    pub dark: Option<bool>,
    /// Width and height of the window, points.
    pub size: Option<(f32, f32)>,
    /// Whether the window fills the screen.
    pub maximized: bool,
    /// Whether the colours are those of high contrast.
    pub contrast: bool,
    /// How much larger than usual everything is.
    pub zoom: Option<f32>,
    /// Whether lengths are shown in feet and inches.
    pub feet: bool,
    /// Whether things go along the wall by half bricks.
    pub half_bricks: bool,
    /// Whether the table of openings is shown.
    pub table: bool,
    /// What is shown on the sheet.
    pub layers: Layers,
    /// Which panels are shown, and how large.
    pub panels: Panels,
    /// Files opened and saved before, the latest first.
    pub recent: Vec<PathBuf>,
    /// Where the window looked in files, the latest first.
    pub looks: Vec<Look>,
}

/// Least and largest size that is taken from the file, points.
const SIZES: std::ops::RangeInclusive<f32> = 320.0..=16_000.0;

impl Settings {
    /// Those in a file; the defaults where it does not give them.
    #[must_use]
    pub fn read(path: &Path) -> Self {
        let text = std::fs::read_to_string(path).unwrap_or_default();
        let mut settings: Self = ron::from_str(&text).unwrap_or_default();
        settings.zoom = settings.zoom.filter(|z| (0.5..=3.0).contains(z));
        settings.size = settings.size.filter(|(w, h)| SIZES.contains(w) && SIZES.contains(h));
        settings.panels = settings.panels.within_limits();
        settings
    }

    /// Puts them in a file. Failure is passed over.
    pub fn write(&self, path: &Path) {
        let Ok(text) = ron::to_string(self) else { return };
        if let Some(folder) = path.parent()
            && std::fs::create_dir_all(folder).is_ok()
        {
            // Nobody waits for this.
            let _ = replace(path, text.as_bytes());
        }
    }

    /// Puts what is remembered into a window that opens.
    pub fn put(&self, ctx: &egui::Context, session: &mut Session) {
        if let Some(dark) = self.dark {
            ctx.set_theme(if dark { egui::Theme::Dark } else { egui::Theme::Light });
        }
        if let Some(zoom) = self.zoom {
            ctx.set_zoom_factor(zoom);
        }
        crate::theme::set_contrast(ctx, self.contrast);
        session.feet = self.feet;
        session.half_bricks = self.half_bricks;
        session.table = self.table;
        session.layers = self.layers;
        session.panels = self.panels;
        session.recent.clone_from(&self.recent);
        session.looks.clone_from(&self.looks);
    }

    /// What a window looks like now. While it fills the screen, the size it had before is kept.
    #[must_use]
    pub fn seen(&self, ctx: &egui::Context, session: &Session) -> Self {
        let dark = match ctx.options(|o| o.theme_preference) {
            egui::ThemePreference::Dark => Some(true),
            egui::ThemePreference::Light => Some(false),
            egui::ThemePreference::System => None,
        };
        let (rect, maximized) = ctx.input(|i| {
            let v = i.viewport();
            (v.inner_rect, v.maximized.unwrap_or(false) || v.fullscreen.unwrap_or(false))
        });
        let size = rect.filter(|_| !maximized).map(|r| (r.width().round(), r.height().round()));
        let zoom = ctx.zoom_factor();
        Self {
            dark,
            size: size.or(self.size),
            maximized,
            contrast: crate::theme::has_contrast(ctx),
            zoom: ((zoom - 1.0).abs() > 0.01).then_some(zoom),
            feet: session.feet,
            half_bricks: session.half_bricks,
            table: session.table,
            layers: session.layers,
            panels: session.panels,
            recent: session.recent.clone(),
            looks: session.looks_now(),
        }
    }
}

/// Where the settings are kept; `None` where the user has no folder for them.
#[must_use]
pub fn path() -> Option<PathBuf> {
    directories::ProjectDirs::from("", "", "tiewright").map(|d| d.config_dir().join("window.ron"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_written_is_read() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("new").join("window.ron");
        let settings = Settings {
            dark: Some(true),
            size: Some((1440.0, 900.0)),
            maximized: true,
            zoom: Some(1.25),
            feet: true,
            layers: Layers { served: true, ..Layers::default() },
            panels: Panels { left: false, right_width: 400.0, ..Panels::default() },
            recent: vec![PathBuf::from("some/semi.ron")],
            looks: vec![Look {
                file: PathBuf::from("some/semi.ron"),
                elevation: 1,
                near: Some(((4500.0, 2625.0), 0.25)),
            }],
            ..Settings::default()
        };
        settings.write(&path);
        assert_eq!(Settings::read(&path), settings);
    }

    #[test]
    fn a_spoilt_or_missing_file_is_passed_over() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("window.ron");
        assert_eq!(Settings::read(&path), Settings::default());
        for text in ["", "(((", "(size: Some((1e30, -4)))", "(size: Some((NaN, 800)))", "\u{0}"] {
            replace(&path, text.as_bytes()).expect("a file");
            assert_eq!(Settings::read(&path), Settings::default(), "{text}");
        }
        // Sizes of panels that no window has room for.
        replace(&path, b"(panels: (left_width: 9000.0, right_width: NaN, findings: -1.0))").expect("a file");
        let panels = Settings::read(&path).panels;
        assert_eq!((panels.left_width, panels.right_width, panels.findings), (340.0, 320.0, 90.0));
        // A file where a folder should be.
        Settings::default().write(&path.join("window.ron"));
    }
}
