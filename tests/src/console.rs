//! Runs a command in this process and catches what it prints.

use std::ffi::OsString;
use std::path::PathBuf;
use tiewright::cli::{self, Outcome};

/// What a command printed and how it ended.
#[derive(Debug)]
pub struct Ran {
    /// Exit status.
    pub status: u8,
    /// Standard output.
    pub out: String,
    /// Standard error.
    pub err: String,
}

/// Runs `tiewright` with these arguments.
///
/// # Panics
///
/// If the arguments open the window.
#[must_use]
pub fn tiewright(args: &[&str]) -> Ran {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let all = std::iter::once("tiewright").chain(args.iter().copied()).map(OsString::from);
    let Outcome::Status(status) = cli::run(all, &mut out, &mut err) else {
        panic!("{args:?} opens the window");
    };
    let text = |bytes: Vec<u8>| String::from_utf8_lossy(&bytes).into_owned();
    Ran { status, out: text(out), err: text(err) }
}

/// The folder of the whole repository.
#[must_use]
pub fn repository() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("..")
}

/// The path of an example project.
#[must_use]
pub fn example(name: &str) -> String {
    repository().join("examples").join(name).display().to_string()
}

/// The paths of all example projects, in order of name.
///
/// # Errors
///
/// If the folder cannot be listed.
pub fn examples() -> std::io::Result<Vec<PathBuf>> {
    let mut paths = Vec::new();
    for entry in std::fs::read_dir(repository().join("examples"))? {
        paths.push(entry?.path());
    }
    paths.retain(|p| p.extension().is_some_and(|e| e == "ron"));
    paths.sort();
    Ok(paths)
}
