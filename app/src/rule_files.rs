//! The files of rules that the open project names: read when it opens, looked at again as the window goes on.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::{Duration, Instant};

use layout_core::elevation::{Project, RuleFile};
use layout_core::rules::RuleSet;

use crate::document::rule_links;
use crate::services::Services;

/// Files are looked at no more often than this.
const AGAIN: Duration = Duration::from_secs(1);

/// What a file was found to hold, or why it holds no rules, in words.
pub type Found = Result<Arc<RuleSet>, String>;

struct Known {
    stamp: Option<u64>,
    found: Found,
}

/// The project with its rules read, and which document and files it was made from.
struct Filled {
    revision: u64,
    project: Arc<Project>,
}

/// The files of rules as they were last read.
#[derive(Default)]
pub struct RuleFiles {
    known: BTreeMap<PathBuf, Known>,
    folder: PathBuf,
    looked: Option<Instant>,
    filled: Option<Filled>,
    serial: u64,
}

/// What became of a file since it was last read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum News {
    /// It holds other rules now.
    Changed(String),
    /// It holds no rules any more, or is gone; why, in words.
    Lost(String),
}

impl RuleFiles {
    /// What a file named by the project was found to hold, if it has been read.
    #[must_use]
    pub fn found(&self, file: &RuleFile) -> Option<&Found> {
        self.known.get(&rule_links::place(&self.folder, &file.path)).map(|k| &k.found)
    }

    /// Where a file named by the project is looked for.
    #[must_use]
    pub fn place(&self, file: &RuleFile) -> PathBuf {
        rule_links::place(&self.folder, &file.path)
    }

    /// Reads every file anew the next time.
    pub fn read_again(&mut self) {
        self.looked = None;
        self.known.values_mut().for_each(|k| k.stamp = None);
    }

    /// Looks whether files have changed the next time.
    pub fn look_again(&mut self) {
        self.looked = None;
    }

    /// The project with its rules read, and a number that is another for every other outcome; what became of
    /// the files since. `path` is the project's file.
    pub fn fill(
        &mut self,
        project: &Arc<Project>,
        revision: u64,
        path: Option<&Path>,
        services: &dyn Services,
    ) -> (Arc<Project>, u64, Vec<News>) {
        let folder = rule_links::folder_of(path);
        if folder != self.folder {
            (self.folder, self.filled, self.looked) = (folder, None, None);
        }
        let mut news = Vec::new();
        let new_drawing = self.filled.as_ref().is_none_or(|f| f.revision != revision);
        let due = self.looked.is_none_or(|t| services.now().duration_since(t) >= AGAIN);
        if rule_links::any(project) && (new_drawing || due) {
            news = self.look(project, services);
            self.looked = Some(services.now());
        }
        if let Some(f) = self.filled.as_ref().filter(|_| !new_drawing && news.is_empty()) {
            return (Arc::clone(&f.project), self.serial, news);
        }
        let mut with = Arc::clone(project);
        if rule_links::any(project) {
            for file in rule_links::named(Arc::make_mut(&mut with)) {
                file.found =
                    self.known.get(&rule_links::place(&self.folder, &file.path)).map(|k| k.found.clone());
            }
        }
        self.serial += 1;
        self.filled = Some(Filled { revision, project: Arc::clone(&with) });
        (with, self.serial, news)
    }

    /// The project with its rules read, as it was last filled.
    #[must_use]
    pub fn filled(&self) -> Option<&Arc<Project>> {
        self.filled.as_ref().map(|f| &f.project)
    }

    /// Forgets the project: another one is open.
    pub fn restart(&mut self) {
        (self.filled, self.looked) = (None, None);
        self.known.clear();
    }

    fn look(&mut self, project: &Arc<Project>, services: &dyn Services) -> Vec<News> {
        let mut news = Vec::new();
        let mut copy = (**project).clone();
        let mut seen: Vec<PathBuf> = Vec::new();
        for file in rule_links::named(&mut copy) {
            let at = rule_links::place(&self.folder, &file.path);
            if seen.contains(&at) {
                continue;
            }
            seen.push(at.clone());
            let stamp = services.stamp(&at);
            let before = self.known.get(&at);
            if before.is_some_and(|k| k.stamp == stamp && (stamp.is_some() || k.found.is_err())) {
                continue;
            }
            let found = rule_links::found(&file.path, &at, services.read_rules(&at));
            if let Some(before) = before.filter(|k| k.found != found) {
                news.push(match (&found, &before.found) {
                    (Ok(_), _) => News::Changed(file.path.clone()),
                    (Err(why), _) => News::Lost(why.clone()),
                });
            }
            self.known.insert(at, Known { stamp, found });
        }
        news
    }
}
