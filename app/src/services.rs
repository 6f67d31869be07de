//! The world outside the window: files and the desktop's dialogs, behind a seam that tests fill.

use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, channel};
use std::time::{Duration, Instant};

use layout_core::elevation::Project;
use layout_core::rules::RuleSet;

use crate::document::file::ReadErrors;

use crate::firm::{self, Firm};
use crate::sheet::SheetOptions;

/// What the user picks a file for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FileFor {
    /// A project to open.
    Open,
    /// A project to save.
    Save,
    /// A drawing to write.
    Drawing,
    /// A file of rules to set out by.
    Rules,
    /// The firm's sign.
    Logo,
}

impl FileFor {
    /// Title of the dialog.
    #[must_use]
    pub fn title(self) -> &'static str {
        match self {
            Self::Open => "Open a project",
            Self::Save => "Save the project",
            Self::Drawing => "Export the drawing",
            Self::Rules => "Choose a file of rules",
            Self::Logo => "Choose the logo",
        }
    }

    /// Kinds of file, the usual one first, with their endings, without the dot.
    #[must_use]
    pub fn kinds(self) -> &'static [(&'static str, &'static str)] {
        match self {
            Self::Open | Self::Save => &[("Tiewright project", "ron")],
            Self::Drawing => &[
                ("PDF drawing", "pdf"),
                ("SVG drawing", "svg"),
                ("DXF drawing", "dxf"),
                ("PNG picture", "png"),
            ],
            Self::Rules => &[("File of rules", "ron")],
            Self::Logo => &[("PNG picture", "png")],
        }
    }

    /// The ending of the usual kind, without the dot.
    #[must_use]
    pub fn ending(self) -> &'static str {
        self.kinds().first().map_or("", |kind| kind.1)
    }

    /// Whether the file has to be there already.
    #[must_use]
    pub fn is_read(self) -> bool {
        matches!(self, Self::Open | Self::Rules | Self::Logo)
    }
}

/// Files and dialogs.
pub trait Services: Send + Sync {
    /// Asks the user for a file; waits for the answer. `None`: nothing picked, or no dialog service.
    fn pick(&self, what: FileFor, start: &Path) -> Option<PathBuf>;

    /// Reads a project.
    ///
    /// # Errors
    ///
    /// What is wrong, in words, with its place in the file where there is one.
    fn load(&self, path: &Path) -> Result<Project, String>;

    /// Reads a file of rules.
    ///
    /// # Errors
    ///
    /// As [`crate::document::rule_file::read`].
    fn read_rules(&self, path: &Path) -> Result<RuleSet, ReadErrors>;

    /// Writes a project.
    ///
    /// # Errors
    ///
    /// Why it cannot be written, in words.
    fn save(&self, project: &Project, path: &Path) -> Result<(), String>;

    /// Where copies of unsaved work are kept; `None` for nowhere.
    fn recovery_folder(&self) -> Option<PathBuf> {
        None
    }

    /// The time by which it is told whether files are to be looked at again.
    fn now(&self) -> Instant {
        Instant::now()
    }

    /// A number that is another once a file has been written by anyone; `None` where there is no file.
    fn stamp(&self, path: &Path) -> Option<u64> {
        let found = std::fs::metadata(path).ok()?;
        let written = found.modified().ok()?.duration_since(std::time::UNIX_EPOCH).ok()?;
        Some(u64::try_from(written.as_nanos()).unwrap_or(u64::MAX).wrapping_mul(31).wrapping_add(found.len()))
    }

    /// Writes the drawing set.
    ///
    /// # Errors
    ///
    /// Why it cannot be written, in words.
    fn export_drawing(&self, project: &Project, path: &Path) -> Result<(), String>;

    /// What the firm puts on all its drawings; nothing where nothing is kept.
    ///
    /// # Errors
    ///
    /// What is kept cannot be read, in words.
    fn firm(&self) -> Result<Firm, String> {
        Ok(Firm::default())
    }

    /// What of the firm's settings the drawing takes, and what is to be said of a sign that it has to leave out.
    ///
    /// # Errors
    ///
    /// Its settings cannot be read, in words.
    fn sheet_options(&self) -> Result<(SheetOptions, Option<String>), String> {
        Ok(self.firm()?.options_at_least(&self.firm_folder()))
    }

    /// The folder that the firm's settings tell the place of its sign from.
    fn firm_folder(&self) -> PathBuf {
        PathBuf::new()
    }

    /// Keeps the firm's settings for all projects.
    ///
    /// # Errors
    ///
    /// Why they cannot be kept, in words.
    fn keep_firm(&self, firm: &Firm) -> Result<(), String> {
        let _ = firm;
        Ok(())
    }
}

/// Writes a drawing set to a file.
pub type ExportDrawing = fn(&Project, &Path) -> Result<(), String>;

/// The real files and the desktop's own dialogs.
pub struct Desktop {
    export: ExportDrawing,
}

impl Desktop {
    /// With the writer of drawings to use.
    #[must_use]
    pub fn new(export: ExportDrawing) -> Self {
        Self { export }
    }
}

impl Services for Desktop {
    fn pick(&self, what: FileFor, start: &Path) -> Option<PathBuf> {
        let mut dialog = rfd::FileDialog::new().set_title(what.title());
        for (kind, ending) in what.kinds() {
            dialog = dialog.add_filter(*kind, &[*ending]);
        }
        if let Some(folder) = start.parent().filter(|f| f.is_dir()) {
            dialog = dialog.set_directory(folder);
        }
        if let Some(name) = start.file_name() {
            dialog = dialog.set_file_name(name.to_string_lossy());
        }
        match what {
            FileFor::Open | FileFor::Rules | FileFor::Logo => dialog.pick_file(),
            FileFor::Save | FileFor::Drawing => dialog.save_file(),
        }
    }

    fn load(&self, path: &Path) -> Result<Project, String> {
        crate::document::file::read(path).map_err(|e| e.to_string())
    }

    fn read_rules(&self, path: &Path) -> Result<RuleSet, ReadErrors> {
        crate::document::rule_file::read(path)
    }

    fn save(&self, project: &Project, path: &Path) -> Result<(), String> {
        crate::document::file::write(project, path)
    }

    fn recovery_folder(&self) -> Option<PathBuf> {
        directories::ProjectDirs::from("", "", "tiewright").map(|d| d.data_local_dir().join("recovery"))
    }

    fn export_drawing(&self, project: &Project, path: &Path) -> Result<(), String> {
        (self.export)(project, path)
    }

    fn firm(&self) -> Result<Firm, String> {
        firm::own()
    }

    fn firm_folder(&self) -> PathBuf {
        firm::own_folder()
    }

    fn keep_firm(&self, firm: &Firm) -> Result<(), String> {
        let path = firm::path().ok_or("there is no folder for your settings")?;
        firm.write(&path)
    }
}

/// A `None` sooner than this came from no person: there is no dialog service.
const NOBODY_ANSWERS_SO_FAST: Duration = Duration::from_millis(150);

/// What came of asking for a file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Picked {
    /// This file.
    Path(PathBuf),
    /// The user picked nothing.
    Nothing,
    /// No dialog came up: ask in the window instead.
    NoDialog,
}

/// A dialog that is open on a thread of its own.
pub struct Picking {
    /// What the file is for.
    pub what: FileFor,
    answer: Receiver<Picked>,
}

impl Picking {
    /// Opens the dialog on a thread of its own; wakes the window when it is answered.
    #[must_use]
    pub fn start(
        services: &std::sync::Arc<dyn Services>,
        what: FileFor,
        start: PathBuf,
        ctx: &egui::Context,
    ) -> Self {
        let (send, answer) = channel();
        let (services, ctx) = (std::sync::Arc::clone(services), ctx.clone());
        std::thread::spawn(move || {
            let begun = Instant::now();
            let picked = match services.pick(what, &start) {
                Some(path) => Picked::Path(path),
                None if begun.elapsed() < NOBODY_ANSWERS_SO_FAST => Picked::NoDialog,
                None => Picked::Nothing,
            };
            // The window may be gone by now; then nobody waits for the answer.
            let _ = send.send(picked);
            ctx.request_repaint();
        });
        Self { what, answer }
    }

    /// The answer, if there is one yet; waits for at most this long.
    #[must_use]
    pub fn answer(&self, wait: Duration) -> Option<Picked> {
        use std::sync::mpsc::RecvTimeoutError;
        match self.answer.recv_timeout(wait) {
            Ok(picked) => Some(picked),
            Err(RecvTimeoutError::Timeout) => None,
            Err(RecvTimeoutError::Disconnected) => Some(Picked::NoDialog),
        }
    }
}
