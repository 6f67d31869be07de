//! Never losing work: a copy of what has changed every 20 seconds, found again after a crash, and a look at
//! whether another program has changed the file.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use layout_core::elevation::Project;

use crate::app::Planner;
use crate::session::{Dialog, Request};

/// A copy is made this long after a change, seconds.
const EVERY: f64 = 20.0;

/// How a copy begins: a comment in the file, with the project's own file.
const HEAD: &str = "// Recovery copy of: ";

/// The copy of this window.
#[derive(Debug, Default)]
pub(crate) struct Recovery {
    /// Where it is, once there is one.
    file: Option<PathBuf>,
    /// The revision it holds.
    holds: Option<u64>,
    /// Since when there is a change that it does not hold, seconds of the window's clock.
    since: Option<f64>,
}

/// A copy that an earlier window left behind.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LeftBehind {
    /// The copy.
    pub copy: PathBuf,
    /// The project's own file, if it had one.
    pub of: Option<PathBuf>,
}

impl LeftBehind {
    /// What it is a copy of, in words.
    #[must_use]
    pub fn name(&self) -> String {
        let name = self.of.as_ref().and_then(|p| p.file_name());
        name.map_or_else(|| "a project that has no file yet".to_owned(), |n| n.to_string_lossy().into_owned())
    }
}

/// The copies in a folder that no running window keeps.
#[must_use]
pub fn left_behind(folder: &Path) -> Vec<LeftBehind> {
    let Ok(entries) = std::fs::read_dir(folder) else { return Vec::new() };
    let mut copies: Vec<PathBuf> =
        entries.filter_map(|e| e.ok().map(|e| e.path())).filter(|p| abandoned(p)).collect();
    copies.sort();
    copies
        .into_iter()
        .map(|copy| {
            let text = std::fs::read_to_string(&copy).unwrap_or_default();
            let of = text.lines().next().and_then(|l| l.strip_prefix(HEAD)).map(str::trim);
            let of = of.filter(|p| !p.is_empty()).map(PathBuf::from);
            LeftBehind { copy, of }
        })
        .collect()
}

/// Whether a file is a copy whose window is no longer there.
fn abandoned(path: &Path) -> bool {
    let name = path.file_name().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default();
    let Some(process) = name.strip_prefix("unsaved-").and_then(|n| n.strip_suffix(".ron")) else {
        return false;
    };
    let process = process.split('-').next().unwrap_or_default();
    // Where processes cannot be seen every other copy counts as left behind.
    process != std::process::id().to_string() && !is_running_planner(process)
}

/// Whether a process is there, has not ended, and is this program: numbers of processes are used again, after a
/// restart of the computer at the latest.
fn is_running_planner(process: &str) -> bool {
    let stat = |p: &str| std::fs::read_to_string(Path::new("/proc").join(p).join("stat")).ok();
    let (Some(other), Some(own)) = (stat(process), stat("self")) else {
        return Path::new("/proc").join(process).exists();
    };
    other_runs_as(&other, &own)
}

/// Whether two lines of the kind `4613 (name) S 1 ...` are of running processes with one name.
fn other_runs_as(other: &str, own: &str) -> bool {
    let parts = |line: &str| {
        let (head, tail) = line.rsplit_once(')')?;
        let name = head.split_once('(')?.1.to_owned();
        Some((name, tail.trim_start().chars().next()?))
    };
    match (parts(other), parts(own)) {
        (Some((name, state)), Some((own, _))) => name == own && !matches!(state, 'Z' | 'X'),
        _ => true,
    }
}

impl Planner {
    /// Makes a copy when there has been a change for long enough.
    pub(crate) fn keep_copy(&mut self, ctx: &egui::Context) {
        let revision = self.document.revision();
        if !self.document.is_changed() {
            // Undone back to what the file holds.
            if self.files.recovery.file.is_some() {
                self.drop_copy();
            }
            self.files.recovery.since = None;
            return;
        }
        let recovery = &mut self.files.recovery;
        if recovery.holds == Some(revision) {
            recovery.since = None;
            return;
        }
        let now = ctx.input(|i| i.time);
        let since = *recovery.since.get_or_insert(now);
        let left = since + EVERY - now;
        if left > 0.0 {
            ctx.request_repaint_after(std::time::Duration::from_secs_f64(left));
            return;
        }
        recovery.since = None;
        recovery.holds = Some(revision);
        let Some(folder) = self.files.services.recovery_folder() else { return };
        let own = self.own_copy(&folder);
        let file = self.files.recovery.file.get_or_insert(own).clone();
        let of = self.session.path.as_ref().map(|p| p.display().to_string()).unwrap_or_default();
        let text = format!("{HEAD}{of}\n{}", crate::document::file::to_text(self.document.project()));
        // Nobody waits for this; that it cannot be written is no reason to stop the user.
        let _ = std::fs::create_dir_all(&folder);
        let _ = crate::document::replace::replace(&file, text.as_bytes());
    }

    /// Takes the copy away: what it holds is saved, or was not wanted.
    pub(crate) fn drop_copy(&mut self) {
        if let Some(file) = self.files.recovery.file.take() {
            let _ = std::fs::remove_file(file);
        }
        self.files.recovery = Recovery::default();
    }

    /// Asks about the first copy that an earlier window left behind.
    pub fn look_for_copies(&mut self) {
        let Some(folder) = self.files.services.recovery_folder() else { return };
        if let Some(found) = left_behind(&folder).into_iter().next() {
            self.session.dialog = Some(Dialog::Recover(found));
        }
    }

    /// The question about a copy was answered: opened (`true`) or thrown away. What was opened is not saved yet,
    /// so its copy becomes this window's, and further copies wait for the next start.
    pub(crate) fn recover(&mut self, found: &LeftBehind, open: bool) {
        if !open {
            let _ = std::fs::remove_file(&found.copy);
            self.look_for_copies();
            return;
        }
        match self.files.services.load(&found.copy) {
            Ok(project) => {
                self.take_unsaved(project, found.of.clone());
                self.adopt(found);
            }
            Err(message) => {
                self.session.complain(format!("The copy cannot be read; it stays where it is. {message}"));
            }
        }
    }

    /// Makes a copy that was left behind the copy of this window.
    fn adopt(&mut self, found: &LeftBehind) {
        let Some(folder) = found.copy.parent() else { return };
        let own = self.own_copy(folder);
        if std::fs::rename(&found.copy, &own).is_ok() {
            let holds = Some(self.document.revision());
            self.files.recovery = Recovery { file: Some(own), holds, since: None };
        }
    }

    /// Where the copy of this window is kept.
    fn own_copy(&self, folder: &Path) -> PathBuf {
        // A number beside the process: two windows of one process keep two copies.
        let serial = Arc::as_ptr(&self.files.services).cast::<u8>() as usize;
        folder.join(format!("unsaved-{}-{serial:x}.ron", std::process::id()))
    }

    fn take_unsaved(&mut self, project: Project, path: Option<PathBuf>) {
        self.take_project(project, path);
        self.document.count_as_changed();
        self.session.tell("This is the copy as it was last kept. Save it to keep it.");
    }

    /// Looks whether another program has changed the file, once the window gets the keyboard back.
    pub(crate) fn look_at_file(&mut self, ctx: &egui::Context) {
        let focused = ctx.input(|i| i.focused);
        // A window that was put away shows no frame without the keyboard: the event alone tells.
        let told = |i: &egui::InputState| i.raw.events.contains(&egui::Event::WindowFocused(true));
        let back = focused && (!self.files.had_focus || ctx.input(told));
        self.files.had_focus = focused;
        if back && self.session.dialog.is_none() && self.is_stale() {
            self.session.dialog = Some(Dialog::ChangedOutside);
        }
    }

    /// Whether the file is another than the one that was read or written last.
    pub(crate) fn is_stale(&self) -> bool {
        let now = self.session.path.as_ref().and_then(|p| self.files.services.stamp(p));
        now.is_some() && self.files.stamp.is_some() && now != self.files.stamp
    }

    /// Notes the file as it is.
    pub(crate) fn note_file(&mut self) {
        self.files.stamp = self.session.path.as_ref().and_then(|p| self.files.services.stamp(p));
    }

    /// The question about a file changed outside was answered: read again (`true`), or what is here kept.
    pub(crate) fn settle_outside(&mut self, read: bool) {
        match self.session.path.clone().filter(|_| read) {
            Some(path) => self.open_file(path),
            None => {
                self.note_file();
                // What is here is not what the file holds.
                self.document.count_as_changed();
            }
        }
    }
}

/// What a dialog about lost or doubled work asks for.
#[must_use]
pub fn answer(found: Option<&LeftBehind>, yes: bool) -> Request {
    found.map_or(Request::ChangedOutside(yes), |f| Request::Recover(f.clone(), yes))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_used_again_is_not_the_window_that_ended() {
        let own = "77 (tiewright) S 1 77";
        assert!(other_runs_as("4613 (tiewright) R 1 4613", own));
        assert!(!other_runs_as("4613 (tiewright) Z 1 4613", own), "it has ended");
        assert!(!other_runs_as("4613 (a (shell)) S 1 4613", own), "it is another program");
        assert!(other_runs_as("cannot be read", own), "in doubt its copy is left alone");
    }

    #[test]
    fn only_copies_without_a_window_are_left_behind() {
        let folder = tempfile::tempdir().expect("a folder");
        let write = |name: &str, text: &str| {
            crate::document::replace::replace(&folder.path().join(name), text.as_bytes()).expect("a file");
        };
        // No process has this number: it is above the greatest that Linux gives out (2^22).
        write("unsaved-99999999-1.ron", "// Recovery copy of: some/where/semi.ron\n(format: 1)");
        write("unsaved-99999998-1.ron", "// Recovery copy of: \n(format: 1)");
        write(&format!("unsaved-{}-1.ron", std::process::id()), "ours");
        write("notes.txt", "something else");
        let found = left_behind(folder.path());
        let names: Vec<String> = found.iter().map(LeftBehind::name).collect();
        assert_eq!(names, ["a project that has no file yet", "semi.ron"]);
        assert!(left_behind(&folder.path().join("missing")).is_empty());
    }
}
