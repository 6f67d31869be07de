//! What a firm puts on all its drawings: its details, its paper, what it includes, how it writes numbers.
//!
//! A file of its own, apart from any project: `firm.ron` in the user's folder for settings, or any file that is
//! named with `--firm`. The window edits the first.

use crate::document::replace::replace;
use crate::sheet::{DecimalMark, FirmDetails, Include, Language, PaperSize, Picture, SheetOptions};
use serde::{Deserialize, Serialize};
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// A firm's settings, as they are kept.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default, deny_unknown_fields)]
pub struct Firm {
    /// Name of the firm.
    pub name: String,
    /// Its address and how it is reached, in one line.
    pub address: String,
    /// A PNG with its sign; from the folder of this file if it is not a whole path. None if empty.
    pub logo: String,
    /// Paper of its drawings ("A3"); chosen for each elevation if empty.
    pub paper: String,
    /// Which sheets and parts of sheets it draws.
    pub include: Include,
    /// What stands between whole numbers and decimals.
    pub decimal: DecimalMark,
    /// Language of the fixed words.
    pub language: Language,
}

/// Longest side of a sign, pixels; and most bytes of its file.
const LARGEST: (u32, u64) = (4000, 20_000_000);

impl Firm {
    /// The settings in a file.
    ///
    /// # Errors
    ///
    /// The file cannot be read, or is not settings of a firm; with its name, and the place where one is known.
    pub fn read(path: &Path) -> Result<Self, String> {
        let text =
            std::fs::read_to_string(path).map_err(|e| format!("{}: cannot be read ({e})", path.display()))?;
        let firm: Self = ron::from_str(&text).map_err(|e| {
            let at = e.span.start;
            format!("{}:{}:{}: these are not settings of a firm: {}", path.display(), at.line, at.col, e.code)
        })?;
        if !firm.paper.trim().is_empty() && PaperSize::named(&firm.paper).is_none() {
            let all = PaperSize::ALL.map(PaperSize::name).join(", ");
            return Err(format!(
                "{}: paper is '{}'; it is one of {all}, or empty",
                path.display(),
                firm.paper
            ));
        }
        Ok(firm)
    }

    /// Keeps the settings in a file, with a folder for it if there is none.
    ///
    /// # Errors
    ///
    /// The file cannot be written.
    pub fn write(&self, path: &Path) -> Result<(), String> {
        let text = ron::ser::to_string_pretty(self, ron::ser::PrettyConfig::default())
            .map_err(|e| format!("the settings cannot be put in words ({e})"))?;
        if let Some(folder) = path.parent() {
            std::fs::create_dir_all(folder)
                .map_err(|e| format!("{}: cannot be made ({e})", folder.display()))?;
        }
        replace(path, text.as_bytes())
    }

    /// The sign, if one is named; `folder` is where the file with the settings is.
    ///
    /// # Errors
    ///
    /// It cannot be read.
    pub fn logo(&self, folder: &Path) -> Result<Option<Arc<Picture>>, String> {
        match self.logo.trim() {
            "" => Ok(None),
            name => sign(&folder.join(name)).map(|s| Some(Arc::new(s))),
        }
    }

    /// What of it the drawing takes; `folder` is where the file with the settings is.
    ///
    /// # Errors
    ///
    /// The sign cannot be read.
    pub fn options(&self, folder: &Path) -> Result<SheetOptions, String> {
        let logo = self.logo(folder).map_err(|why| format!("the firm's logo: {why}"))?;
        Ok(self.options_with(logo))
    }

    /// What of it the drawing takes, without a sign that cannot be read, and what is to be said of that: a file that
    /// was moved since the settings were kept must not stop a drawing.
    #[must_use]
    pub fn options_at_least(&self, folder: &Path) -> (SheetOptions, Option<String>) {
        match self.logo(folder) {
            Ok(logo) => (self.options_with(logo), None),
            Err(why) => (self.options_with(None), Some(format!("Without the logo of Firm settings: {why}."))),
        }
    }

    fn options_with(&self, logo: Option<Arc<Picture>>) -> SheetOptions {
        SheetOptions {
            sheet: PaperSize::named(&self.paper),
            firm: FirmDetails { name: self.name.clone(), address: self.address.clone(), logo },
            include: self.include,
            decimal: self.decimal,
            language: self.language,
            ..SheetOptions::default()
        }
    }
}

/// Where the user's own are kept; `None` where the user has no folder for settings.
#[must_use]
pub fn path() -> Option<PathBuf> {
    directories::ProjectDirs::from("", "", "tiewright").map(|d| d.config_dir().join("firm.ron"))
}

/// The user's own settings; the defaults where none are kept.
///
/// # Errors
///
/// They are kept and cannot be read.
pub fn own() -> Result<Firm, String> {
    path().filter(|p| p.exists()).map_or_else(|| Ok(Firm::default()), |p| Firm::read(&p))
}

/// Where the user's own are kept; what they name is told from there.
#[must_use]
pub fn own_folder() -> PathBuf {
    path().and_then(|p| p.parent().map(Path::to_owned)).unwrap_or_default()
}

/// What the drawing takes of the user's own settings, and what is to be said of a sign that it has to leave out.
///
/// # Errors
///
/// They cannot be read.
pub fn own_options() -> Result<(SheetOptions, Option<String>), String> {
    Ok(own()?.options_at_least(&own_folder()))
}

/// A PNG in shades of grey on white: drawings are printed in black and white.
fn sign(path: &Path) -> Result<Picture, String> {
    let said = |what: &str| format!("{}: {what}", path.display());
    let size = std::fs::metadata(path).map_err(|e| said(&format!("cannot be read ({e})")))?.len();
    if size > LARGEST.1 {
        return Err(said("the sign is too large a file"));
    }
    let bytes = std::fs::read(path).map_err(|e| said(&format!("cannot be read ({e})")))?;
    let mut decoder = png::Decoder::new(std::io::Cursor::new(bytes));
    decoder.set_transformations(png::Transformations::normalize_to_color8() | png::Transformations::ALPHA);
    let mut reader = decoder.read_info().map_err(|e| said(&format!("is not a PNG ({e})")))?;
    let (width, height) = (reader.info().width, reader.info().height);
    if width > LARGEST.0 || height > LARGEST.0 {
        return Err(said("the sign has a side of more than 4000 pixels"));
    }
    let room = reader.output_buffer_size().ok_or_else(|| said("the sign is too large"))?;
    let mut pixels = vec![0; room];
    let frame = reader.next_frame(&mut pixels).map_err(|e| said(&format!("is not a PNG ({e})")))?;
    let channels = frame.color_type.samples();
    let grey: Vec<u8> = pixels[..frame.buffer_size()].chunks_exact(channels).map(shade).collect();
    if grey.len() as u64 != u64::from(width) * u64::from(height) {
        return Err(said("the sign is not whole"));
    }
    Ok(Picture { width, height, grey })
}

/// The shade of a pixel on white, by its share of light (ITU-R BT.601).
fn shade(pixel: &[u8]) -> u8 {
    let (light, cover) = match *pixel {
        [g, a] => (f64::from(g), f64::from(a)),
        [r, g, b, a] => (0.299 * f64::from(r) + 0.587 * f64::from(g) + 0.114 * f64::from(b), f64::from(a)),
        _ => (255.0, 0.0),
    };
    let cover = cover / 255.0;
    (light * cover + 255.0 * (1.0 - cover)).round() as u8
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_written_is_read() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("new").join("firm.ron");
        let include = Include { record: false, ..Include::default() };
        let firm = Firm {
            name: "Hollin Beck \"Repairs\"".into(),
            paper: "a2".into(),
            include,
            decimal: DecimalMark::Comma,
            ..Firm::default()
        };
        firm.write(&path).expect("written");
        assert_eq!(Firm::read(&path), Ok(firm.clone()));
        let options = firm.options(folder.path()).expect("no sign to read");
        assert_eq!(
            (options.sheet, options.include, options.decimal),
            (Some(PaperSize::A2), include, DecimalMark::Comma)
        );
    }

    #[test]
    fn what_is_wrong_is_said_with_its_place() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("firm.ron");
        let refused = |text: &str| {
            replace(&path, text.as_bytes()).expect("a file");
            Firm::read(&path).expect_err("refused")
        };
        assert!(
            refused("(\n  nmae: \"X\",\n)").contains("firm.ron:2:"),
            "{}",
            refused("(\n  nmae: \"X\",\n)")
        );
        assert!(refused("(paper: \"B4\")").contains("one of A4, A3, A2, A1, A0"));
        assert!(Firm::read(&folder.path().join("none.ron")).is_err());
        let firm = Firm { logo: "firm.ron".into(), ..Firm::default() };
        let said = firm.options(folder.path()).expect_err("no picture");
        assert!(said.contains("logo") && said.contains("is not a PNG"), "{said}");
        let (options, said) = firm.options_at_least(folder.path());
        assert!(options.firm.logo.is_none() && said.expect("told").contains("Firm settings"));
    }

    #[test]
    fn a_sign_is_read_in_shades_of_grey() {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("sign.png");
        let bytes = crate::export::png::grey(2, 1, &[0, 200], None).expect("a picture");
        replace(&path, &bytes).expect("a file");
        assert_eq!(sign(&path), Ok(Picture { width: 2, height: 1, grey: vec![0, 200] }));
        // Clear pixels are paper; red has 0.299 of the light: 76.
        assert_eq!((shade(&[0, 0, 0, 0]), shade(&[255, 0, 0, 255])), (255, 76));
    }
}
