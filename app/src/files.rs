//! New, open, save, export, close: everything that meets the world outside, with its questions.

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::mpsc::{Receiver, RecvTimeoutError, channel};
use std::time::Duration;

use layout_core::elevation::{Elevation, Project, RuleChoice, RuleFile};

use crate::app::Planner;
use crate::document::{Change, Document, Edit, rule_links};
use crate::export::drawing::Format;
use crate::firm::Firm;
use crate::preview::Preview;
use crate::recovery::Recovery;
use crate::rule_files::News;
use crate::services::{FileFor, Picked, Picking, Services};
use crate::session::{Dialog, Then};

/// Answers sooner than this are taken in the same frame, so that the window does not flicker.
const AT_ONCE: Duration = Duration::from_millis(200);

/// Dialogs and writers that are under way.
pub(crate) struct Files {
    pub(crate) services: Arc<dyn Services>,
    /// The copy of what is not saved.
    pub(crate) recovery: Recovery,
    /// The file as it was read or written last.
    pub(crate) stamp: Option<u64>,
    /// Whether the window had the keyboard in the last frame.
    pub(crate) had_focus: bool,
    picking: Option<Picking>,
    export: Option<(PathBuf, Receiver<Result<(), String>>)>,
    /// The user has settled what becomes of the changes: the window may close.
    pub(crate) leaving: bool,
}

impl Files {
    pub(crate) fn new(services: Arc<dyn Services>) -> Self {
        Self {
            services,
            recovery: Recovery::default(),
            stamp: None,
            had_focus: true,
            picking: None,
            export: None,
            leaving: false,
        }
    }
}

impl Planner {
    /// Takes what came in since the last frame: dropped files, answers of dialogs, the wish to close.
    pub(crate) fn arrivals(&mut self, ctx: &egui::Context) {
        let dropped = ctx.input(|i| i.raw.dropped_files.first().map(|f| f.path().to_path_buf()));
        if let Some(path) = dropped {
            self.ask_first(Then::OpenFile(path), ctx);
        }
        // Back from another program, which may have written the file of rules.
        if ctx.input(|i| i.raw.events.contains(&egui::Event::WindowFocused(true))) {
            self.rule_files.look_again();
        }
        self.take_picked(Duration::ZERO, ctx);
        self.take_exported(Duration::ZERO);
        self.keep_copy(ctx);
        self.look_at_file(ctx);
        if ctx.input(|i| i.viewport().close_requested()) && !self.files.leaving && self.document.is_changed()
        {
            ctx.send_viewport_cmd(egui::ViewportCommand::CancelClose);
            self.ask_first(Then::Quit, ctx);
        }
    }

    /// Goes on at once where nothing would be lost, else asks what becomes of the changes.
    pub(crate) fn ask_first(&mut self, then: Then, ctx: &egui::Context) {
        if self.document.is_changed() {
            self.session.dialog = Some(Dialog::Unsaved(then));
        } else {
            self.go_on(then, ctx);
        }
    }

    /// The question about the changes was answered.
    pub(crate) fn settle(&mut self, save: bool, then: Then, ctx: &egui::Context) {
        if save {
            self.session.then = Some(then);
            self.save(ctx);
        } else {
            self.go_on(then, ctx);
        }
    }

    fn go_on(&mut self, then: Then, ctx: &egui::Context) {
        match then {
            Then::New => {
                let mut project = Project::default();
                project.elevations.push(Elevation::new("Front", Vec::new()));
                self.take_project(project, None);
            }
            Then::Open => self.pick(FileFor::Open, ctx),
            Then::OpenFile(path) => self.open_file(path),
            Then::Quit => {
                self.drop_copy();
                self.files.leaving = true;
                ctx.send_viewport_cmd(egui::ViewportCommand::Close);
            }
        }
    }

    pub(crate) fn take_project(&mut self, project: Project, path: Option<PathBuf>) {
        self.document = Document::new(project);
        self.derived.restart();
        self.rule_files.restart();
        self.drop_copy();
        if let Some(path) = &path {
            self.session.note_recent(path);
        }
        self.session.path = path;
        self.note_file();
        self.session.elevation = 0;
        self.session.notice = None;
        self.session.let_go();
        self.tool_for_sheet();
    }

    /// Opens a file; what is open now stays if it cannot be read.
    pub fn open_file(&mut self, path: PathBuf) {
        match self.files.services.load(&path) {
            Ok(project) => {
                self.session.looks = self.session.looks_now();
                self.take_project(project, Some(path));
                self.session.look_again(self.document.project().elevations.len());
            }
            Err(message) => self.session.complain(format!("Not opened. {message}")),
        }
    }

    /// Saves to the project's file, or asks for one.
    pub(crate) fn save(&mut self, ctx: &egui::Context) {
        match self.session.path.clone() {
            Some(path) => self.save_to(path, ctx),
            None => self.pick(FileFor::Save, ctx),
        }
    }

    /// The project with the files of rules it names read, and a number that changes whenever it does; tells what
    /// became of the files.
    pub(crate) fn with_rules(&mut self) -> (Arc<Project>, u64) {
        let (project, revision) = (self.document.project(), self.document.revision());
        let services = self.files.services.as_ref();
        let (project, serial, news) =
            self.rule_files.fill(project, revision, self.session.path.as_deref(), services);
        for news in news {
            match news {
                News::Changed(name) => {
                    self.session
                        .tell(format!("{name} has changed: the ties follow its rules as they are now."));
                }
                News::Lost(why) => self.session.complain(why),
            }
        }
        (project, serial)
    }

    /// A file of rules was picked for the elevation that is shown.
    fn take_rules(&mut self, path: &Path) {
        if let Err(errors) = self.files.services.read_rules(path) {
            self.session.complain(format!("These rules were not taken. {errors}"));
            return;
        }
        let named = match &self.session.path {
            Some(project) => rule_links::path_from(&rule_links::folder_of(Some(project)), path),
            // Told from the project's folder once it has one.
            None => std::path::absolute(path).unwrap_or_else(|_| path.to_path_buf()).display().to_string(),
        };
        let rules = Change::Rules(RuleChoice::File(RuleFile::from(named)));
        let edit = Edit::In(self.session.elevation, rules);
        if let Err(message) = self.document.apply(&edit) {
            self.session.complain(format!("Not done: {message}."));
        }
    }

    /// A project that moves to another folder still names the same files of rules.
    fn move_rules(&mut self, to: &Path) {
        if !rule_links::any(self.document.project()) {
            return;
        }
        let to = rule_links::folder_of(Some(to));
        match self.session.path.clone() {
            Some(from) => {
                let from = rule_links::folder_of(Some(&from));
                if from != to {
                    self.document.everywhere(|p| rule_links::moved(p, &from, &to));
                }
            }
            None => self.document.everywhere(|p| {
                for file in rule_links::named(p) {
                    file.path = rule_links::path_from(&to, Path::new(&file.path));
                }
            }),
        }
    }

    fn save_to(&mut self, path: PathBuf, ctx: &egui::Context) {
        if self.session.path.as_ref() == Some(&path) && self.is_stale() {
            self.session.dialog = Some(Dialog::ChangedOutside);
            return;
        }
        self.move_rules(&path);
        let project = Arc::clone(self.document.project());
        match self.files.services.save(&project, &path) {
            Ok(()) => {
                self.document.mark_saved(&project);
                self.session.tell(format!("Saved to {}", path.display()));
                self.session.note_recent(&path);
                self.session.path = Some(path);
                self.note_file();
                self.drop_copy();
                if let Some(then) = self.session.then.take() {
                    self.go_on(then, ctx);
                }
            }
            Err(message) => {
                self.session.then = None;
                self.session.complain(format!("Not saved. {message}"));
            }
        }
    }

    fn export_to(&mut self, path: PathBuf, ctx: &egui::Context) {
        if let Err(message) = Format::of(&path) {
            self.session.complain(format!("Drawing not written. {message}."));
            return;
        }
        let (send, answer) = channel();
        let (services, project) = (Arc::clone(&self.files.services), self.with_rules().0);
        let (to, ctx) = (path.clone(), ctx.clone());
        std::thread::spawn(move || {
            // The window may be gone by now; then nobody waits for the answer.
            let _ = send.send(services.export_drawing(&project, &to));
            ctx.request_repaint();
        });
        self.session.tell("Writing the drawing…");
        self.files.export = Some((path, answer));
        self.take_exported(AT_ONCE);
    }

    fn take_exported(&mut self, wait: Duration) {
        let Some((path, answer)) = &self.files.export else { return };
        let done = match answer.recv_timeout(wait) {
            Ok(done) => done,
            Err(RecvTimeoutError::Timeout) => return,
            Err(RecvTimeoutError::Disconnected) => {
                Err("the drawing could not be made; the program is at fault".to_owned())
            }
        };
        match done {
            Ok(()) => {
                // What was left out is told with where it was written to.
                let said = self.files.services.sheet_options().ok().and_then(|(_, said)| said);
                let said = said.map_or_else(String::new, |said| format!(". {said}"));
                self.session.tell(format!("Drawing written to {}{said}", path.display()));
            }
            Err(message) => self.session.complain(format!("Drawing not written. {message}")),
        }
        self.files.export = None;
    }

    /// Opens the print preview, or draws its sheets anew.
    pub(crate) fn preview(&mut self, ctx: &egui::Context) {
        let (project, _) = self.with_rules();
        self.session.preview = Some(Preview::start(&project, &self.files.services, ctx));
    }

    /// Shows what the firm puts on all its drawings.
    pub(crate) fn ask_firm(&mut self) {
        match self.files.services.firm() {
            Ok(firm) => self.session.dialog = Some(Dialog::Firm(Box::new(firm), None)),
            Err(message) => self.session.complain(format!("The firm's settings are not usable. {message}")),
        }
    }

    /// Keeps what the firm puts on all its drawings, unless its logo cannot be drawn; an open preview is drawn anew.
    pub(crate) fn keep_firm(&mut self, firm: Box<Firm>, ctx: &egui::Context) {
        if let Err(why) = firm.logo(&self.files.services.firm_folder()) {
            self.session.dialog = Some(Dialog::Firm(firm, Some(why)));
            return;
        }
        self.session.dialog = None;
        match self.files.services.keep_firm(&firm) {
            Ok(()) => self.session.tell("Firm settings kept"),
            Err(message) => self.session.complain(format!("Not kept. {message}")),
        }
        if self.session.preview.is_some() {
            self.preview(ctx);
        }
    }

    /// A logo was picked, or no dialog came up to pick it in: the settings that it is for are still open.
    fn take_logo(&mut self, picked: Option<PathBuf>) {
        let folder = self.files.services.firm_folder();
        let Some(Dialog::Firm(firm, fault)) = &mut self.session.dialog else { return };
        *fault = match picked {
            Some(path) => {
                firm.logo = path.display().to_string();
                firm.logo(&folder).err()
            }
            None => Some("No file dialog of the desktop answered: type the path.".to_owned()),
        };
    }

    /// Asks for a file; the answer comes in a later frame, or at once.
    pub(crate) fn pick(&mut self, what: FileFor, ctx: &egui::Context) {
        if self.files.picking.is_some() {
            return;
        }
        self.files.picking = Some(Picking::start(&self.files.services, what, self.suggestion(what), ctx));
        self.take_picked(AT_ONCE, ctx);
    }

    /// Where a dialog begins, with a name that fits the project.
    fn suggestion(&self, what: FileFor) -> PathBuf {
        let ending = what.ending();
        if let Some(path) = &self.session.path {
            return match what {
                FileFor::Rules => path.with_file_name("rules.ron"),
                FileFor::Logo => path.with_file_name("logo.png"),
                _ => path.with_extension(ending),
            };
        }
        let title = &self.document.project().title;
        let name: String = title.chars().map(|c| if c.is_alphanumeric() { c } else { '-' }).collect();
        let name = name.split('-').filter(|part| !part.is_empty()).collect::<Vec<_>>().join("-");
        let name = Path::new(if name.is_empty() { "project" } else { &name }).with_extension(ending);
        std::env::current_dir().map_or_else(|_| name.clone(), |folder| folder.join(&name))
    }

    fn take_picked(&mut self, wait: Duration, ctx: &egui::Context) {
        let Some(picking) = &self.files.picking else { return };
        let what = picking.what;
        let Some(answer) = picking.answer(wait) else { return };
        self.files.picking = None;
        match answer {
            Picked::Path(path) => self.picked(what, path, ctx),
            Picked::Nothing => self.session.then = None,
            Picked::NoDialog if what == FileFor::Logo => self.take_logo(None),
            Picked::NoDialog => {
                let text = if what.is_read() && self.session.path.is_none() {
                    String::new()
                } else {
                    self.suggestion(what).display().to_string()
                };
                self.session.dialog = Some(Dialog::Path { what, text, error: None, replace: None });
            }
        }
    }

    /// A file was picked or typed.
    pub(crate) fn picked(&mut self, what: FileFor, mut path: PathBuf, ctx: &egui::Context) {
        if !what.is_read() && path.extension().is_none() {
            path.set_extension(what.ending());
        }
        match what {
            FileFor::Open => self.open_file(path),
            FileFor::Save => self.save_to(path, ctx),
            FileFor::Drawing => self.export_to(path, ctx),
            FileFor::Rules => self.take_rules(&path),
            FileFor::Logo => self.take_logo(Some(path)),
        }
    }
}
