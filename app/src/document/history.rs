//! Undo and redo as values: whole projects, shared, each with the name of the step; back to the beginning.

use std::sync::Arc;

use layout_core::elevation::Project;

#[derive(Clone, Debug)]
struct Step {
    name: String,
    /// The project on the other side of the step.
    project: Arc<Project>,
    /// The gesture that is still making this step, if one is.
    gesture: Option<u64>,
}

/// What was done and what was undone.
#[derive(Clone, Debug, Default)]
pub struct History {
    done: Vec<Step>,
    undone: Vec<Step>,
}

impl History {
    /// Notes a step made of `before`. Edits of one gesture make one step, named by the first.
    pub(super) fn record(&mut self, name: String, before: Arc<Project>, gesture: Option<u64>) {
        self.undone.clear();
        if let Some(last) = self.done.last_mut()
            && gesture.is_some()
            && last.gesture == gesture
        {
            return;
        }
        self.done.push(Step { name, project: before, gesture });
    }

    /// What the gesture started from, if the latest step is its.
    pub(super) fn gesture_start(&self, gesture: u64) -> Option<&Arc<Project>> {
        self.done.last().filter(|s| s.gesture == Some(gesture)).map(|s| &s.project)
    }

    /// Forgets the step of a gesture and gives back what it started from.
    pub(super) fn drop_gesture(&mut self, gesture: u64) -> Option<Arc<Project>> {
        self.gesture_start(gesture)?;
        self.done.pop().map(|s| s.project)
    }

    pub(super) fn undo(&mut self, now: Arc<Project>) -> Option<(String, Arc<Project>)> {
        let step = self.done.pop()?;
        self.undone.push(Step { name: step.name.clone(), project: now, gesture: None });
        Some((step.name, step.project))
    }

    pub(super) fn redo(&mut self, now: Arc<Project>) -> Option<(String, Arc<Project>)> {
        let step = self.undone.pop()?;
        self.done.push(Step { name: step.name.clone(), project: now, gesture: None });
        Some((step.name, step.project))
    }

    /// Changes the project of every step.
    pub(super) fn everywhere(&mut self, change: impl Fn(&mut Arc<Project>)) {
        self.done.iter_mut().chain(&mut self.undone).for_each(|step| change(&mut step.project));
    }

    /// Name of the step that undo would take back.
    #[must_use]
    pub fn undo_name(&self) -> Option<&str> {
        self.done.last().map(|s| s.name.as_str())
    }

    /// Name of the step that redo would make again.
    #[must_use]
    pub fn redo_name(&self) -> Option<&str> {
        self.undone.last().map(|s| s.name.as_str())
    }
}
