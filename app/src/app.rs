//! The window: each frame it shows the panels, then carries out what they asked for.

use std::path::PathBuf;
use std::sync::Arc;
use std::time::Duration;

use egui::{Pos2, Ui};
use layout_core::elevation::{Elevation, Point, Project};

use crate::commands;
use crate::derived::Derived;
use crate::document::Document;
use crate::files::Files;
use crate::panels;
use crate::rule_files::RuleFiles;
use crate::services::{Desktop, ExportDrawing, Services};
use crate::session::{Context, Request, Session};
use crate::settings::{self, Settings};
use crate::theme;
use crate::tools::{self, Tool};
use crate::widgets::field;
use crate::widgets::number::Habits;

/// The project a window without a file opens with.
const EXAMPLE: &str = include_str!("../../examples/larkspur-semi.ron");

/// The whole of the window but the window itself: needs only an egui context to run in.
pub struct Planner {
    pub(crate) document: Document,
    pub(crate) session: Session,
    pub(crate) derived: Derived,
    pub(crate) files: Files,
    pub(crate) rule_files: RuleFiles,
    /// Requests that wait for a field to commit what is typed in it.
    deferred: Vec<Request>,
    title: String,
}

impl Planner {
    /// A window on a project that has no file yet.
    #[must_use]
    pub fn new(project: Project, services: Arc<dyn Services>) -> Self {
        let mut planner = Self {
            document: Document::new(project),
            session: Session::default(),
            derived: Derived::default(),
            files: Files::new(services),
            rule_files: RuleFiles::default(),
            deferred: Vec::new(),
            title: String::new(),
        };
        planner.tool_for_sheet();
        planner
    }

    /// Waits up to this long within a frame for a layout, instead of a part of a frame.
    #[must_use]
    pub fn patient(mut self, wait: Duration) -> Self {
        self.derived = Derived::new(wait);
        self
    }

    /// The document.
    #[must_use]
    pub fn document(&self) -> &Document {
        &self.document
    }

    /// The session.
    #[must_use]
    pub fn session(&self) -> &Session {
        &self.session
    }

    /// The layouts.
    #[must_use]
    pub fn derived(&self) -> &Derived {
        &self.derived
    }

    /// The elevation that is shown.
    #[must_use]
    pub fn elevation(&self) -> Option<&Elevation> {
        self.document.project().elevations.get(self.session.elevation)
    }

    /// Where a place of the elevation is on the screen.
    #[must_use]
    pub fn world_to_screen(&self, p: Point) -> Pos2 {
        self.session.view.to_screen(p)
    }

    /// Which place of the elevation is at a place of the screen, mm.
    #[must_use]
    pub fn screen_to_world(&self, p: Pos2) -> Point {
        self.session.view.to_world(p)
    }

    /// Shows one frame.
    pub fn ui(&mut self, ui: &mut Ui) {
        let ctx = ui.ctx().clone();
        self.arrivals(&ctx);
        let (project, drawing) = self.with_rules();
        self.derived.update(&project, drawing, self.session.elevation, &ctx);
        Habits::of(self.elevation(), self.session.feet).put_in_force(&ctx);
        let typing = ctx.text_edit_focused();
        let mut requests = Vec::new();
        self.clipboard_events(&ctx, typing, &mut requests);
        let mut cx = Context {
            document: &self.document,
            derived: &self.derived,
            rule_files: &self.rule_files,
            session: &mut self.session,
            requests: &mut requests,
        };
        // An open menu or list takes the keyboard first.
        let board = cx.session.preview.is_none();
        if board && cx.session.dialog.is_none() && !egui::Popup::is_any_open(&ctx) {
            if !typing {
                tools::keys(&mut cx, &ctx);
            }
            commands::pressed(&ctx, typing, field::holds_typed(&ctx)).into_iter().for_each(|c| cx.run(c));
        }
        if board {
            panels::show(ui, &mut cx);
        } else {
            panels::preview::show(ui, &mut cx);
        }
        panels::dialogs::show(ui, &mut cx);
        // After what the fields committed in this frame.
        requests.append(&mut self.deferred);
        if typing {
            self.defer(&mut requests, &ctx);
        }
        let any = !requests.is_empty();
        for request in requests {
            self.perform(request, &ctx);
        }
        self.tidy();
        if any {
            ctx.request_repaint();
        }
        self.show_title(&ctx);
    }

    /// A command given while a field has the keyboard waits until the field has committed: the field lets
    /// go of the keyboard now and commits in the next frame. Undo and redo come here only where nothing is to be
    /// committed, and the keyboard stays, for the next of them.
    fn defer(&mut self, requests: &mut Vec<Request>, ctx: &egui::Context) {
        let waits = |r: &Request| matches!(r, Request::Run(c) if !c.is_step());
        if !requests.iter().any(waits) || !ctx.text_edit_focused() {
            return;
        }
        ctx.memory_mut(|m| {
            if let Some(id) = m.focused() {
                m.surrender_focus(id);
            }
        });
        let (wait, now) = std::mem::take(requests).into_iter().partition(waits);
        self.deferred = wait;
        *requests = now;
        ctx.request_repaint();
    }

    /// Lets go of what is no longer there.
    fn tidy(&mut self) {
        let count = self.document.project().elevations.len();
        if self.session.elevation >= count && count > 0 {
            self.session.elevation = count - 1;
            self.session.let_go();
        }
        let gone = self.session.item().is_some_and(|i| self.elevation().is_none_or(|e| !i.exists(e)));
        if gone {
            self.session.select(None);
        }
        let e = self.document.project().elevations.get(self.session.elevation);
        self.session.others.retain(|i| e.is_some_and(|e| i.exists(e)));
    }

    /// A bare sheet begins with the tool that draws the wall.
    pub(crate) fn tool_for_sheet(&mut self) {
        let bare = self.elevation().is_some_and(|e| e.outline.is_empty());
        self.session.tool = if bare { Tool::Wall } else { Tool::Select };
    }

    fn show_title(&mut self, ctx: &egui::Context) {
        let mark = if self.document.is_changed() { "• " } else { "" };
        let title = format!("Tiewright: {mark}{}", self.session.file_name());
        if title != self.title {
            ctx.send_viewport_cmd(egui::ViewportCommand::Title(title.clone()));
            self.title = title;
        }
    }
}

/// A planner in a window of the desktop, with what is remembered of the window.
struct Shell {
    planner: Planner,
    settings: Settings,
    /// Colour of the sheet, which is the largest part of the window: what it is cleared with need not be painted.
    paper: egui::Color32,
}

impl eframe::App for Shell {
    fn ui(&mut self, ui: &mut Ui, _frame: &mut eframe::Frame) {
        self.planner.ui(ui);
        self.settings = self.settings.seen(ui.ctx(), &self.planner.session);
        let paper = theme::Palette::of(ui.ctx()).paper;
        if paper != self.paper {
            self.paper = paper;
            ui.ctx().request_repaint();
        }
    }

    fn clear_color(&self, _visuals: &egui::Visuals) -> [f32; 4] {
        self.paper.to_normalized_gamma_f32()
    }

    fn on_exit(&mut self, _gl: Option<&eframe::glow::Context>) {
        // What was not saved was asked about.
        self.planner.drop_copy();
        if let Some(path) = settings::path() {
            self.settings.write(&path);
        }
    }
}

/// The example project.
#[must_use]
pub fn example() -> Project {
    crate::document::file::parse(EXAMPLE, "example").unwrap_or_default()
}

/// Opens the window on a file, or on the example, and stays until it is closed.
///
/// # Errors
///
/// Why no window can be opened.
pub fn run_window(path: Option<PathBuf>, export: ExportDrawing) -> Result<(), String> {
    let settings = settings::path().map_or_else(Settings::default, |p| Settings::read(&p));
    let options = eframe::NativeOptions {
        viewport: egui::ViewportBuilder::default()
            .with_title("Tiewright")
            .with_app_id("tiewright")
            .with_inner_size(settings.size.unwrap_or((1280.0, 800.0)))
            .with_maximized(settings.maximized)
            .with_min_inner_size([960.0, 600.0])
            .with_drag_and_drop(true),
        // All grounds are plain colours: there are no bands to hide, and each pixel costs less where the processor draws.
        dithering: false,
        ..eframe::NativeOptions::default()
    };
    eframe::run_native(
        "tiewright",
        options,
        Box::new(move |cc| {
            theme::install(&cc.egui_ctx);
            crate::ground::install(&cc.egui_ctx);
            let project = if path.is_some() { Project::default() } else { example() };
            let mut planner = Planner::new(project, Arc::new(Desktop::new(export)));
            settings.put(&cc.egui_ctx, &mut planner.session);
            if let Some(path) = path {
                planner.open_file(path);
            }
            planner.look_for_copies();
            let paper = theme::Palette::of(&cc.egui_ctx).paper;
            Ok(Box::new(Shell { planner, settings, paper }))
        }),
    )
    .map_err(|e| format!("no window can be opened: {e}"))
}
