//! What the window remembers but never saves: selection, tool, view, dialogs, notices.

mod shown;

use std::path::PathBuf;

use layout_core::check::Rule;
use layout_core::elevation::{Elevation, Point, Project};

use crate::asked::{Building, ShapeDraft, Struck};
use crate::canvas::View;
use crate::clipboard::Copied;
use crate::commands::Command;
use crate::derived::Derived;
use crate::document::arrange::Repeat;
use crate::document::{Change, Details, Document, Edit, Item};
use crate::firm::Firm;
use crate::preview::Preview;
use crate::recovery::LeftBehind;
use crate::rule_files::RuleFiles;
use crate::services::FileFor;
use crate::tools::dims::Dimension;
use crate::tools::entry::Entry;
use crate::tools::snap::Guide;
use crate::tools::typed::Typed;
use crate::tools::{Draft, Drag, Tool};

pub use shown::{Layers, Look, Page, Panels};

/// What is selected.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Selection {
    /// Something the user drew.
    Item(Item),
    /// A tie that was set out, by its place, mm.
    Tie(Point),
}

/// What to do once the question about unsaved changes is answered.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Then {
    /// Start an empty project.
    New,
    /// Pick a project and open it.
    Open,
    /// Open this file.
    OpenFile(PathBuf),
    /// Close the window.
    Quit,
}

/// A dialog over the window.
#[derive(Clone, Debug, PartialEq)]
pub enum Dialog {
    /// Save, drop or keep the changes?
    Unsaved(Then),
    /// A path to type.
    Path {
        /// What the file is for.
        what: FileFor,
        /// What is typed.
        text: String,
        /// What was wrong with it.
        error: Option<String>,
        /// A file that is there already, and that another press replaces.
        replace: Option<PathBuf>,
    },
    /// The words of the project.
    Details(Box<Details>),
    /// A wall to start from.
    Shape(ShapeDraft),
    /// Rows of openings to paste.
    Rows(String),
    /// What the firm puts on all its drawings, and what is wrong with its logo.
    Firm(Box<Firm>, Option<String>),
    /// What is selected, repeated at a spacing.
    Repeat(Repeat),
    /// A tie that is to be struck out.
    StrikeOut(Struck),
    /// A copy that an earlier window left behind.
    Recover(LeftBehind),
    /// The file was changed by another program.
    ChangedOutside,
    /// Commands by what is typed, and which of them is marked.
    Commands(String, usize),
    /// What one rule means.
    Rule(Rule),
    /// What every rule means.
    Rules,
    /// The list of shortcuts.
    Shortcuts,
    /// What to mind before drilling.
    Cautions,
}

/// Something to tell the user.
#[derive(Clone, Debug, PartialEq)]
pub struct Notice {
    /// Whether something went wrong.
    pub error: bool,
    /// What.
    pub text: String,
    /// When it was first shown, seconds of the window's clock.
    pub since: Option<f64>,
}

/// Everything the window remembers but never saves.
#[derive(Debug)]
pub struct Session {
    /// The elevation that is shown.
    pub elevation: usize,
    /// What is selected on it.
    pub selection: Option<Selection>,
    /// What else is selected; the thing selected first is `selection`.
    pub others: Vec<Item>,
    /// The frame that is being dragged round things, from where to where, mm.
    pub marquee: Option<(Point, Point)>,
    /// Lines that what is dragged has snapped to.
    pub guides: Vec<Guide>,
    /// Where the tool would draw, snapped, mm.
    pub aim: Option<Point>,
    /// Lengths typed while something is drawn.
    pub typed: Option<Typed>,
    /// The dimension that is typed anew, and where its figure is.
    pub retyping: Option<(Dimension, egui::Pos2)>,
    /// What was copied.
    pub copied: Copied,
    /// Whether places along the wall go by half bricks instead of 25 mm.
    pub half_bricks: bool,
    /// The tool in hand.
    pub tool: Tool,
    /// What the tool has drawn so far.
    pub draft: Option<Draft>,
    /// What is being dragged.
    pub drag: Option<Drag>,
    /// Sizes typed for the tools.
    pub entry: Entry,
    /// Where the canvas looks.
    pub view: View,
    /// Whether the whole elevation is to be shown in the next frame.
    pub fit: bool,
    /// Whether the whole elevation is shown and stays so when the window changes its size.
    pub fitted: bool,
    /// Where the pointer is on the elevation, mm.
    pub cursor: Option<Point>,
    /// The page of the sidebar.
    pub page: Page,
    /// What is shown on the canvas.
    pub layers: Layers,
    /// Which panels are shown, and how large.
    pub panels: Panels,
    /// The dialog over the window.
    pub dialog: Option<Dialog>,
    /// The print preview over the board.
    pub preview: Option<Preview>,
    /// The latest thing to tell.
    pub notice: Option<Notice>,
    /// Files opened and saved before, the latest first.
    pub recent: Vec<PathBuf>,
    /// Where the window looked in files, the latest first.
    pub looks: Vec<Look>,
    /// The project's file.
    pub path: Option<PathBuf>,
    /// What follows once the project is saved.
    pub then: Option<Then>,
    /// Whether the name field of the elevation takes the keyboard in the next frame.
    pub focus_name: bool,
    /// The finding that was clicked last.
    pub finding: Option<usize>,
    /// The building that German rules are asked for.
    pub building: Building,
    /// How many courses were measured, and what they measure together, mm.
    pub measured: (u32, f64),
    /// Whether lengths are shown in feet and inches.
    pub feet: bool,
    /// Whether the table of openings is shown.
    pub table: bool,
    /// The selection that the table has scrolled to.
    pub table_at: Option<Item>,
    /// Counts gestures, so that each has a number of its own.
    pub gestures: u64,
}

/// Recent files that are remembered.
const MOST_RECENT: usize = 8;

impl Default for Session {
    fn default() -> Self {
        Self {
            elevation: 0,
            selection: None,
            others: Vec::new(),
            marquee: None,
            guides: Vec::new(),
            aim: None,
            typed: None,
            retyping: None,
            copied: Copied::default(),
            half_bricks: false,
            tool: Tool::Select,
            draft: None,
            drag: None,
            entry: Entry::default(),
            view: View::default(),
            fit: true,
            fitted: true,
            cursor: None,
            page: Page::default(),
            layers: Layers::default(),
            panels: Panels::default(),
            dialog: None,
            preview: None,
            notice: None,
            recent: Vec::new(),
            looks: Vec::new(),
            path: None,
            then: None,
            focus_name: false,
            finding: None,
            building: Building::default(),
            measured: (10, 750.0),
            feet: false,
            table: false,
            table_at: None,
            gestures: 0,
        }
    }
}

impl Session {
    /// Tells the user that something was done.
    pub fn tell(&mut self, text: impl Into<String>) {
        self.notice = Some(Notice { error: false, text: text.into(), since: None });
    }

    /// Tells the user that something went wrong.
    pub fn complain(&mut self, text: impl Into<String>) {
        self.notice = Some(Notice { error: true, text: text.into(), since: None });
    }

    /// Lets go of everything that belongs to one project or one elevation.
    pub fn let_go(&mut self) {
        self.select(None);
        self.draft = None;
        self.typed = None;
        self.drag = None;
        self.marquee = None;
        self.retyping = None;
        self.guides.clear();
        self.finding = None;
        self.fit = true;
    }

    /// Puts a file at the head of the recent ones.
    pub fn note_recent(&mut self, path: &std::path::Path) {
        self.recent.retain(|p| p != path);
        self.recent.insert(0, path.to_owned());
        self.recent.truncate(MOST_RECENT);
    }

    /// Where the window looked in files, the file that is open among them as it looks now.
    #[must_use]
    pub fn looks_now(&self) -> Vec<Look> {
        let mut looks = self.looks.clone();
        if let Some(file) = self.path.clone() {
            let near = (!self.fitted && !self.fit).then_some((self.view.centre, self.view.scale));
            shown::put_first(&mut looks, Look { file, elevation: self.elevation, near });
        }
        looks
    }

    /// Looks where the window looked when the file, now of so many elevations, was last open.
    pub fn look_again(&mut self, elevations: usize) {
        let here = |l: &&Look| Some(&l.file) == self.path.as_ref() && l.elevation < elevations;
        let Some(look) = self.looks.iter().find(here) else { return };
        self.elevation = look.elevation;
        if let Some((centre, scale)) = look.near {
            self.view.look(centre, scale);
            (self.fit, self.fitted) = (false, false);
        }
    }

    /// Name of the project's file, or what a project without one is called.
    #[must_use]
    pub fn file_name(&self) -> String {
        self.path
            .as_ref()
            .and_then(|p| p.file_name())
            .map_or_else(|| "Untitled".to_owned(), |n| n.to_string_lossy().into_owned())
    }

    /// Selects one thing, or nothing.
    pub fn select(&mut self, selection: Option<Selection>) {
        self.selection = selection;
        self.others.clear();
    }

    /// Selects several things, the first of them first.
    pub fn select_all(&mut self, items: &[Item]) {
        let mut different: Vec<Item> = Vec::new();
        for item in items {
            if !different.contains(item) {
                different.push(*item);
            }
        }
        let mut rest = different.into_iter();
        self.selection = rest.next().map(Selection::Item);
        self.others = rest.collect();
    }

    /// Everything that is selected, the first thing first.
    #[must_use]
    pub fn items(&self) -> Vec<Item> {
        self.item().into_iter().chain(self.others.iter().copied()).collect()
    }

    /// The item that is selected.
    #[must_use]
    pub fn item(&self) -> Option<Item> {
        match self.selection {
            Some(Selection::Item(item)) => Some(item),
            _ => None,
        }
    }
}

/// Something a panel, the canvas or the keyboard asks for. Carried out once a frame, in order.
#[derive(Clone, Debug, PartialEq)]
pub enum Request {
    /// Change the project.
    Edit(Edit),
    /// Change the project as part of a gesture.
    Gesture(Edit, u64),
    /// The gesture is over.
    EndGesture(u64),
    /// Add to the elevation and select what was added.
    AddAndSelect(usize, Change),
    /// Select this.
    Select(Option<Selection>),
    /// Add this to what is selected, or take it from there.
    Toggle(Item),
    /// Select these.
    SelectMany(Vec<Item>),
    /// Show this elevation.
    Show(usize),
    /// Show these bounds: left, lower, right, upper, mm.
    ZoomTo((f64, f64, f64, f64)),
    /// Show the place of a finding, mm, and ring it.
    ShowFinding(Option<usize>, Point),
    /// Take the tool and the sizes of a preset: its group and its place in it.
    Preset(usize, usize),
    /// Keep this for all drawings of the firm.
    KeepFirm(Box<Firm>),
    /// Pick the firm's logo.
    ChooseLogo,
    /// Open this file.
    OpenFile(PathBuf),
    /// The question about a copy left behind was answered: open it, or throw it away.
    Recover(LeftBehind, bool),
    /// The question about a file changed outside was answered: read it again, or keep what is here.
    ChangedOutside(bool),
    /// Show a dialog.
    ShowDialog(Box<Dialog>),
    /// Run a command.
    Run(Command),
    /// The question about unsaved changes was answered: save first (`true`) or drop them.
    Unsaved(bool, Then),
    /// Pick a file of rules for the elevation.
    ChooseRules,
    /// Read the files of rules anew.
    ReadRulesAgain,
    /// A path was typed; what follows once the file is saved.
    PathTyped(FileFor, PathBuf, Option<Then>),
}

/// What a panel or the canvas sees, and where it leaves its requests.
pub struct Context<'a> {
    /// The document; changed through requests only.
    pub document: &'a Document,
    /// Its layouts.
    pub derived: &'a Derived,
    /// The files of rules it names.
    pub rule_files: &'a RuleFiles,
    /// The session.
    pub session: &'a mut Session,
    /// Requests of this frame.
    pub requests: &'a mut Vec<Request>,
}

impl Context<'_> {
    /// The project.
    #[must_use]
    pub fn project(&self) -> &Project {
        self.document.project()
    }

    /// The elevation that is shown.
    #[must_use]
    pub fn elevation(&self) -> Option<&Elevation> {
        self.document.project().elevations.get(self.session.elevation)
    }

    /// Asks for something.
    pub fn ask(&mut self, request: Request) {
        self.requests.push(request);
    }

    /// Asks for a change to the elevation that is shown.
    pub fn change(&mut self, change: Change) {
        let edit = Edit::In(self.session.elevation, change);
        self.requests.push(Request::Edit(edit));
    }

    /// Asks for a change as part of a gesture.
    pub fn gesture(&mut self, change: Change, gesture: u64) {
        let edit = Edit::In(self.session.elevation, change);
        self.requests.push(Request::Gesture(edit, gesture));
    }

    /// Asks to add something to the elevation and to select it.
    pub fn add(&mut self, change: Change) {
        self.requests.push(Request::AddAndSelect(self.session.elevation, change));
    }

    /// Asks to run a command.
    pub fn run(&mut self, command: Command) {
        self.requests.push(Request::Run(command));
    }
}
