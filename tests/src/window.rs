//! Driving the window without a display: a fake of the world outside, and the hand on the mouse.

use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, OnceLock};
use std::time::{Duration, Instant};

use egui::{Key, Modifiers, Pos2, vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use layout_core::elevation::{Elevation, Point, Project};
use layout_core::rules::RuleSet;
use tiewright::app::Planner;
use tiewright::document::file::ReadErrors;
use tiewright::firm::Firm;
use tiewright::services::{FileFor, Services};

/// The world outside: the next file to be picked, and what was asked of it.
#[derive(Default)]
pub struct World {
    /// What the next dialog answers; `None` as where there is no dialog service.
    pub pick: Mutex<Option<PathBuf>>,
    /// Where copies of unsaved work are kept.
    pub recovery: Mutex<Option<PathBuf>>,
    /// Drawings that were asked for: title of the project and path.
    pub exported: Mutex<Vec<(String, PathBuf)>>,
    /// The firm's settings.
    pub firm: Mutex<Firm>,
    /// When it was first asked for the time: there it stands still, however slow the machine is.
    pub began: OnceLock<Instant>,
}

impl World {
    /// Lets the next dialogs answer with a path.
    pub fn answer(&self, path: &Path) {
        if let Ok(mut pick) = self.pick.lock() {
            *pick = Some(path.to_owned());
        }
    }
}

impl Services for World {
    fn now(&self) -> Instant {
        *self.began.get_or_init(Instant::now)
    }

    fn pick(&self, _what: FileFor, _start: &Path) -> Option<PathBuf> {
        self.pick.lock().ok().and_then(|p| p.clone())
    }

    fn recovery_folder(&self) -> Option<PathBuf> {
        self.recovery.lock().ok().and_then(|p| p.clone())
    }

    fn load(&self, path: &Path) -> Result<Project, String> {
        tiewright::document::file::read(path).map_err(|e| e.to_string())
    }

    fn read_rules(&self, path: &Path) -> Result<RuleSet, ReadErrors> {
        tiewright::document::rule_file::read(path)
    }

    fn save(&self, project: &Project, path: &Path) -> Result<(), String> {
        tiewright::document::file::write(project, path)
    }

    fn export_drawing(&self, project: &Project, path: &Path) -> Result<(), String> {
        if let Ok(mut exported) = self.exported.lock() {
            exported.push((project.title.clone(), path.to_owned()));
        }
        Ok(())
    }

    fn firm(&self) -> Result<Firm, String> {
        Ok(self.firm.lock().map(|f| f.clone()).unwrap_or_default())
    }

    fn keep_firm(&self, firm: &Firm) -> Result<(), String> {
        if let Ok(mut kept) = self.firm.lock() {
            kept.clone_from(firm);
        }
        Ok(())
    }
}

/// A window under test.
pub struct Window {
    /// The window without a display.
    pub h: Harness<'static, Planner>,
    /// Its world outside.
    pub world: Arc<World>,
}

impl Window {
    /// A window on a project.
    #[must_use]
    pub fn on(project: Project) -> Self {
        Self::sized(project, 1280.0, 800.0)
    }

    /// A window of a size on a project.
    #[must_use]
    pub fn sized(project: Project, width: f32, height: f32) -> Self {
        // Layouts are waited for, so that what a test reads is that of the drawing as it stands.
        let mut window = Self::made(project, Duration::from_secs(60), width, height);
        window.h.run();
        window
    }

    /// A window that waits no longer than this for a layout within a frame.
    #[must_use]
    pub fn waiting(project: Project, patience: Duration) -> Self {
        Self::made(project, patience, 1280.0, 800.0)
    }

    fn made(project: Project, patience: Duration, width: f32, height: f32) -> Self {
        let world = Arc::new(World::default());
        let services: Arc<dyn Services> = world.clone();
        let planner = Planner::new(project, services).patient(patience);
        let h = Harness::builder()
            .with_size(vec2(width, height))
            .with_pixels_per_point(1.0)
            .with_theme(egui::Theme::Light)
            .with_max_steps(16)
            .with_context_setup(tiewright::theme::install)
            .build_ui_state(|ui, planner: &mut Planner| planner.ui(ui), planner);
        Self { h, world }
    }

    /// A window on a bare elevation.
    #[must_use]
    pub fn bare() -> Self {
        let mut project = Project::default();
        project.elevations.push(Elevation::new("Front", Vec::new()));
        Self::on(project)
    }

    /// A window on a 9 m x 5.25 m front without openings.
    #[must_use]
    pub fn front() -> Self {
        Self::on(front())
    }

    /// The project.
    #[must_use]
    pub fn project(&self) -> Project {
        (**self.h.state().document().project()).clone()
    }

    /// The elevation that is shown.
    ///
    /// # Panics
    ///
    /// Where there is none.
    #[must_use]
    #[track_caller]
    pub fn elevation(&self) -> Elevation {
        self.h.state().elevation().cloned().expect("an elevation is shown")
    }

    /// Number of ties that are shown.
    #[must_use]
    pub fn ties(&self) -> usize {
        let planner = self.h.state();
        planner.derived().plan(planner.session().elevation).map_or(0, |p| p.ties.len())
    }

    /// Clicks what is called so.
    #[track_caller]
    pub fn click(&mut self, label: &str) {
        self.h.get_by_label(label).click();
        self.h.run();
    }

    /// Whether something is called so.
    #[must_use]
    pub fn shows(&self, label: &str) -> bool {
        self.h.query_all_by_label(label).next().is_some()
    }

    /// Whether something says this among other words.
    #[must_use]
    pub fn says(&self, words: &str) -> bool {
        self.h.query_all_by_label_contains(words).next().is_some()
    }

    /// Types into the field called so, and commits with Enter.
    #[track_caller]
    pub fn enter(&mut self, field: &str, text: &str) {
        self.write(field, text);
        self.h.key_press(Key::Enter);
        self.h.run();
    }

    /// Types into the field called so, over what is there, and stays in it.
    #[track_caller]
    pub fn write(&mut self, field: &str, text: &str) {
        self.h.get_by_label(field).focus();
        self.h.run();
        self.h.key_press_modifiers(Modifiers::COMMAND, Key::A);
        self.h.run();
        self.h.get_by_label(field).type_text(text);
        self.h.run();
    }

    /// Picks from the list called so.
    #[track_caller]
    pub fn choose(&mut self, list: &str, option: &str) {
        self.click(list);
        self.h.get_by_role_and_label(egui::Role::Button, option).click();
        self.h.run();
    }

    /// Picks the set of rules with this id.
    #[track_caller]
    pub fn choose_rules(&mut self, id: &str) {
        self.click("Rule set");
        let ending = format!("({id})");
        // The list may have to be scrolled to it.
        for scroll in [true, false] {
            let entry = self.h.get_by(|n| {
                n.role() == egui::Role::Button && n.label().is_some_and(|l| l.ends_with(&ending))
            });
            if scroll {
                entry.scroll_to_me();
            } else {
                entry.click();
            }
            self.h.run();
        }
    }

    /// Presses keys.
    pub fn keys(&mut self, modifiers: Modifiers, key: Key) {
        self.h.key_press_modifiers(modifiers, key);
        self.h.run();
    }

    /// Presses a key.
    pub fn key(&mut self, key: Key) {
        self.keys(Modifiers::NONE, key);
    }

    fn at(&self, p: Point) -> Pos2 {
        self.h.state().world_to_screen(p)
    }

    /// Clicks on the sheet, at mm of the elevation.
    pub fn click_at(&mut self, p: Point) {
        let at = self.at(p);
        self.h.hover_at(at);
        self.h.step();
        self.h.drag_at(at);
        self.h.step();
        self.h.drop_at(at);
        self.h.step();
        self.h.run();
    }

    /// Drags on the sheet, between mm of the elevation.
    pub fn drag(&mut self, from: Point, to: Point) {
        let (a, b) = (self.at(from), self.at(to));
        self.press_and_move(a, b);
        self.h.drop_at(b);
        self.h.step();
        self.h.run();
    }

    /// Clicks on the sheet with a modifier held.
    pub fn click_at_with(&mut self, p: Point, modifiers: Modifiers) {
        self.h.event(egui::Event::ModifiersChanged(modifiers));
        self.click_at(p);
        self.h.event(egui::Event::ModifiersChanged(Modifiers::NONE));
        self.h.run();
    }

    /// Lets so many seconds of the window's clock pass.
    pub fn wait(&mut self, seconds: f64) {
        let time = self.h.ctx.input(|i| i.time);
        self.h.input_mut().time = Some(time + seconds);
        self.h.step();
        self.h.input_mut().time = None;
        self.h.run();
    }

    /// Drags on the sheet and keeps the button down.
    pub fn drag_and_hold(&mut self, from: Point, to: Point) {
        let (a, b) = (self.at(from), self.at(to));
        self.press_and_move(a, b);
    }

    fn press_and_move(&mut self, a: Pos2, b: Pos2) {
        self.h.hover_at(a);
        self.h.step();
        self.h.drag_at(a);
        self.h.step();
        for i in 1..=4 {
            self.h.hover_at(a + (b - a) * (i as f32 / 4.0));
            self.h.step();
        }
        self.h.step();
    }
}

/// A project with a 9 m x 5.25 m front without openings.
#[must_use]
pub fn front() -> Project {
    let mut project = Project { title: "Test wall".to_owned(), ..Project::default() };
    let ring = vec![(0.0, 0.0), (9000.0, 0.0), (9000.0, 5250.0), (0.0, 5250.0)];
    project.elevations.push(Elevation::new("Front", ring));
    project
}
