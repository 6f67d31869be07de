//! The document: the project being edited, its edits, undo, and its file.

pub mod arrange;
pub mod edit;
mod field_words;
pub mod file;
pub mod heads;
mod history;
mod holds;
pub mod item;
pub mod locate;
pub mod mirror;
mod read_error;
pub mod replace;
pub mod rows;
pub mod rule_file;
pub mod rule_links;
pub mod rule_template;
mod rule_words;
mod save_text;
pub mod struck;
pub mod wall_shapes;

pub use edit::{Change, Details, Edit};
pub use history::History;
pub use holds::Holds;
pub use item::{Item, Object};

use std::sync::Arc;

use layout_core::elevation::Project;

/// A project with its history.
#[derive(Clone, Debug)]
pub struct Document {
    project: Arc<Project>,
    saved: Arc<Project>,
    history: History,
    revision: u64,
}

impl Document {
    /// A document that counts as saved.
    #[must_use]
    pub fn new(project: Project) -> Self {
        let project = Arc::new(project);
        Self { saved: Arc::clone(&project), project, history: History::default(), revision: 0 }
    }

    /// The project as it stands.
    #[must_use]
    pub fn project(&self) -> &Arc<Project> {
        &self.project
    }

    /// Grows with every change, undo and redo included.
    #[must_use]
    pub fn revision(&self) -> u64 {
        self.revision
    }

    /// Undo and redo.
    #[must_use]
    pub fn history(&self) -> &History {
        &self.history
    }

    /// Makes an edit as a step of its own.
    ///
    /// # Errors
    ///
    /// Why it cannot be made, in words; the project is as it was.
    pub fn apply(&mut self, edit: &Edit) -> Result<(), String> {
        self.make(edit, None)
    }

    /// Makes an edit as part of a gesture: all edits of one gesture are one step.
    ///
    /// # Errors
    ///
    /// As [`Self::apply`].
    pub fn apply_in(&mut self, edit: &Edit, gesture: u64) -> Result<(), String> {
        self.make(edit, Some(gesture))
    }

    fn make(&mut self, edit: &Edit, gesture: Option<u64>) -> Result<(), String> {
        let mut next = (*self.project).clone();
        edit.apply(&mut next)?;
        if next == *self.project {
            return Ok(());
        }
        self.history.record(edit.name(&self.project), Arc::clone(&self.project), gesture);
        self.set(Arc::new(next));
        Ok(())
    }

    /// Ends a gesture; one that came back to where it began leaves no step.
    pub fn end_gesture(&mut self, gesture: u64) {
        if self.history.gesture_start(gesture).is_some_and(|p| **p == *self.project)
            && let Some(start) = self.history.drop_gesture(gesture)
        {
            self.set(start);
        }
    }

    /// Takes a gesture back as if it had never begun.
    pub fn cancel_gesture(&mut self, gesture: u64) {
        if let Some(start) = self.history.drop_gesture(gesture) {
            self.set(start);
        }
    }

    /// Takes the latest step back; its name.
    pub fn undo(&mut self) -> Option<String> {
        let (name, project) = self.history.undo(Arc::clone(&self.project))?;
        self.set(project);
        Some(name)
    }

    /// Makes the latest undone step again; its name.
    pub fn redo(&mut self) -> Option<String> {
        let (name, project) = self.history.redo(Arc::clone(&self.project))?;
        self.set(project);
        Some(name)
    }

    fn set(&mut self, project: Arc<Project>) {
        self.project = project;
        self.revision += 1;
    }

    /// Whether there is anything that saving would keep.
    #[must_use]
    pub fn is_changed(&self) -> bool {
        !Arc::ptr_eq(&self.project, &self.saved) && *self.project != *self.saved
    }

    /// Changes the project and every step of undo alike, as where the file moves: no step of its own.
    pub fn everywhere(&mut self, change: impl Fn(&mut Project)) {
        let changed = |p: &mut Arc<Project>| change(Arc::make_mut(p));
        let was_saved = !self.is_changed();
        changed(&mut self.project);
        self.history.everywhere(changed);
        if was_saved {
            self.saved = Arc::clone(&self.project);
        }
        self.revision += 1;
    }

    /// Counts as changed although nothing was edited here: what is here is not what the file holds.
    pub fn count_as_changed(&mut self) {
        let nothing = Project { title: String::new(), elevations: Vec::new(), ..Project::default() };
        self.saved = Arc::new(nothing);
    }

    /// Notes that the project as given is what the file holds.
    pub fn mark_saved(&mut self, project: &Arc<Project>) {
        self.saved = Arc::clone(project);
    }
}
