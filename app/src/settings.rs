//! What the window remembers from one day to the next: its look and its size.
//!
//! A small file in the user's own folder for settings. That it cannot be read or written is no matter to
//! the user: the window then opens as it does the first time.

use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use crate::document::replace::replace;

/// What is remembered.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct Settings {
    /// Dark, light, or as the desktop has it.
    pub dark: Option<bool>,
    /// Width and height of the window, points.
    pub size: Option<(f32, f32)>,
    /// Whether the window fills the screen.
    pub maximized: bool,
}

/// Least and largest size that is taken from the file, points.
const SIZES: std::ops::RangeInclusive<f32> = 320.0..=16_000.0;

impl Settings {
    /// Those in a file; the defaults where it does not give them.
    #[must_use]
    pub fn read(path: &Path) -> Self {
        let text = std::fs::read_to_string(path).unwrap_or_default();
        let mut settings: Self = ron::from_str(&text).unwrap_or_default();
        settings.size = settings.size.filter(|(w, h)| SIZES.contains(w) && SIZES.contains(h));
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

    /// What a window looks like now. While it fills the screen, the size it had before is kept.
    #[must_use]
    pub fn seen(self, ctx: &egui::Context) -> Self {
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
        Self { dark, size: size.or(self.size), maximized }
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
        let settings = Settings { dark: Some(true), size: Some((1440.0, 900.0)), maximized: true };
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
        // A file where a folder should be.
        Settings::default().write(&path.join("window.ron"));
    }
}
