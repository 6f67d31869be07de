//! The files of rules that a project names: where they are, what they hold.

use super::read_error::ReadErrors;
use super::rule_file;
use layout_core::elevation::{Project, RuleChoice, RuleFile};
use layout_core::rules::RuleSet;
use std::path::{Component, Path, PathBuf};
use std::sync::Arc;

/// The folder that paths in a project are told from; of a project that has no file yet, the current one.
#[must_use]
pub fn folder_of(project: Option<&Path>) -> PathBuf {
    project.and_then(Path::parent).map_or_else(PathBuf::new, Path::to_path_buf)
}

/// Where a file of rules is, told from the folder of the project.
#[must_use]
pub fn place(folder: &Path, named: &str) -> PathBuf {
    folder.join(named)
}

/// The files of rules a project names.
pub fn named(project: &mut Project) -> impl Iterator<Item = &mut RuleFile> {
    project.elevations.iter_mut().filter_map(|e| match &mut e.rules {
        RuleChoice::File(file) => Some(file),
        _ => None,
    })
}

/// Whether a project names any file of rules.
#[must_use]
pub fn any(project: &Project) -> bool {
    project.elevations.iter().any(|e| matches!(e.rules, RuleChoice::File(_)))
}

/// What a file was found to hold, as a project keeps it: the rules with a remark that names the file.
///
/// # Errors
///
/// Why there are no rules, in words.
pub fn found(named: &str, at: &Path, read: Result<RuleSet, ReadErrors>) -> Result<Arc<RuleSet>, String> {
    match read {
        Ok(mut set) => {
            set.remarks.push(format!("From the file {named}."));
            Ok(Arc::new(set))
        }
        Err(errors) if errors.errors.iter().all(|e| e.at.is_none()) => {
            let why: Vec<&str> = errors.errors.iter().map(|e| e.message.as_str()).collect();
            let why = why.join("; ");
            Err(format!("the file of rules '{}': {why}; put it there or choose other rules", at.display()))
        }
        Err(errors) => Err(format!("the file of rules '{named}' cannot be used:\n{errors}")),
    }
}

/// Reads the files of rules that a project names. One that is not there stays unread, with the reason.
///
/// # Errors
///
/// What is wrong in the first file that is there but holds no usable rules.
pub fn read_all(project: &mut Project, folder: &Path) -> Result<(), ReadErrors> {
    for file in named(project) {
        let at = place(folder, &file.path);
        let read = rule_file::read(&at);
        if let Err(errors) = &read
            && errors.errors.iter().any(|e| e.at.is_some())
        {
            return Err(errors.clone());
        }
        file.found = Some(found(&file.path, &at, read));
    }
    Ok(())
}

/// Names every file of rules anew for a project that moves from one folder to another. Paths from the root stay.
pub fn moved(project: &mut Project, from: &Path, to: &Path) {
    for file in named(project) {
        if Path::new(&file.path).is_relative() {
            file.path = path_from(to, &place(from, &file.path));
        }
    }
}

/// The path of a file from a folder, with `/` between its parts; from the root where they have nothing in common.
#[must_use]
pub fn path_from(folder: &Path, file: &Path) -> String {
    let (folder, file) = (absolute(folder), absolute(file));
    let (a, b): (Vec<_>, Vec<_>) = (folder.components().collect(), file.components().collect());
    let same = a.iter().zip(&b).take_while(|(x, y)| x == y).count();
    let names = |c: &Component<'_>| match c {
        Component::Normal(name) => Some(name.to_string_lossy().into_owned()),
        _ => None,
    };
    // Nothing but the root in common: the two have nothing to do with each other.
    if !a[..same].iter().any(|c| matches!(c, Component::Normal(_))) {
        return file.to_string_lossy().into_owned();
    }
    let up = a[same..].iter().map(|_| "..".to_owned());
    up.chain(b[same..].iter().filter_map(names)).collect::<Vec<_>>().join("/")
}

/// A path from the root, without `.` and `..`.
fn absolute(path: &Path) -> PathBuf {
    let from_root = std::path::absolute(path).unwrap_or_else(|_| path.to_path_buf());
    let mut out = PathBuf::new();
    for part in from_root.components() {
        match part {
            Component::CurDir => {}
            Component::ParentDir => {
                out.pop();
            }
            other => out.push(other),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn case(folder: &str, file: &str, expect: &str) {
        assert_eq!(path_from(Path::new(folder), Path::new(file)), expect);
    }

    #[test]
    #[cfg(unix)]
    fn paths_are_told_from_the_folder_of_the_project() {
        case("/jobs/7", "/jobs/7/site.ron", "site.ron");
        case("/jobs/7", "/jobs/7/rules/site.ron", "rules/site.ron");
        case("/jobs/7", "/jobs/rules/site.ron", "../rules/site.ron");
        case("/jobs/7/a/../b", "/jobs/7/./site.ron", "../site.ron");
        // Nothing in common but the root.
        case("/jobs/7", "/srv/site.ron", "/srv/site.ron");
    }
}
