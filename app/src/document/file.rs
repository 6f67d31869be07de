//! Project files: reading with errors that say where, and safe saving.
//!
//! RON, `format: 1`. [`parse`] takes anything that has the right fields; [`checked`] refuses a
//! drawing that cannot be set out as well.

use super::read_error::Places;
pub use super::read_error::{ReadError, ReadErrors};
use super::replace::replace;
use super::rule_links;
use super::save_text::project_text;
use layout_core::elevation::{FORMAT, FaultKind, Project, validate};
use ron::extensions::Extensions;
use std::fs::File;
use std::io::{self, Read};
use std::path::Path;

/// The largest file that is read, bytes. A hundred thousand ties take 3 MB.
pub const LARGEST_FILE: usize = 16 << 20;

/// No more faults of one file than this are listed.
const MOST_ERRORS: usize = 50;

/// A project from the text of a file; `name` is the file as messages name it.
///
/// The drawing may still be one that cannot be set out: see [`checked`].
///
/// # Errors
///
/// What is wrong with the text, with line, column and field.
pub fn parse(text: &str, name: &str) -> Result<Project, ReadErrors> {
    let fail = |errors| Err(ReadErrors { file: name.to_owned(), errors });
    if text.len() > LARGEST_FILE {
        let (size, most) = (text.len() >> 20, LARGEST_FILE >> 20);
        return Err(ReadErrors::whole(name, format!("the file is {size} MB; no project is over {most} MB")));
    }
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let read = from_ron::<Project>(text);
    let places = Places::new(text);
    match read {
        Ok(project) if project.format == FORMAT => {
            let mut errors = places.not_finite();
            errors.truncate(MOST_ERRORS);
            if errors.is_empty() { Ok(project) } else { fail(errors) }
        }
        Ok(project) => fail(vec![places.other_format().unwrap_or_else(|| ReadError {
            at: None,
            field: "format".to_owned(),
            message: format!("there is no format {}", project.format),
        })]),
        Err(e) => fail(vec![places.other_format().unwrap_or_else(|| places.syntax(&e))]),
    }
}

/// The inside of `Custom(…)` and of `edges` may stand with or without brackets of its own.
pub(super) fn from_ron<T: serde::de::DeserializeOwned>(text: &str) -> Result<T, ron::error::SpannedError> {
    let plain = ron::Options::default().with_default_extension(Extensions::IMPLICIT_SOME);
    let unwrapped = plain.clone().with_default_extension(Extensions::UNWRAP_VARIANT_NEWTYPES);
    unwrapped.from_str(text).or_else(|e| plain.from_str(text).map_err(|_| e))
}

/// As [`parse`], and refuses a drawing that cannot be set out: an outline that crosses itself, a
/// size of 0, an unknown rule set.
///
/// # Errors
///
/// Every fault, with line, column and field.
pub fn checked(text: &str, name: &str) -> Result<Project, ReadErrors> {
    usable(parse(text, name)?, text, name)
}

fn usable(project: Project, text: &str, name: &str) -> Result<Project, ReadErrors> {
    let unusable: Vec<_> = project
        .elevations
        .iter()
        .enumerate()
        .flat_map(|(i, e)| validate(e).into_iter().map(move |fault| (i, fault)))
        .filter(|(_, fault)| fault.kind == FaultKind::Unusable)
        .take(MOST_ERRORS)
        .collect();
    if unusable.is_empty() {
        return Ok(project);
    }
    let places = Places::new(text.strip_prefix('\u{feff}').unwrap_or(text));
    let errors = unusable.iter().map(|(i, fault)| places.fault(*i, fault)).collect();
    Err(ReadErrors { file: name.to_owned(), errors })
}

/// Reads a project for the window: any that loads, even one that cannot be set out yet.
///
/// # Errors
///
/// As [`parse`], and why the file could not be read.
pub fn read(path: &Path) -> Result<Project, ReadErrors> {
    parse(&text_of(path)?, &path.display().to_string())
}

/// Reads a project that can be set out, and the files of rules it names.
///
/// # Errors
///
/// As [`checked`], and why a file could not be read; what is wrong with a file of rules.
pub fn read_checked(path: &Path) -> Result<Project, ReadErrors> {
    let (text, name) = (text_of(path)?, path.display().to_string());
    let mut project = parse(&text, &name)?;
    rule_links::read_all(&mut project, &rule_links::folder_of(Some(path)))?;
    usable(project, &text, &name)
}

fn text_of(path: &Path) -> Result<String, ReadErrors> {
    let name = path.display().to_string();
    let whole = |message: String| ReadErrors::whole(&name, message);
    if path.is_dir() {
        return Err(whole("this is a folder; name a project file (.ron)".to_owned()));
    }
    let mut bytes = Vec::new();
    let most = LARGEST_FILE as u64 + 1;
    File::open(path)
        .and_then(|f| f.take(most).read_to_end(&mut bytes))
        .map_err(|e| whole(cannot_read(&e)))?;
    if bytes.len() > LARGEST_FILE {
        return Err(whole(format!("the file is too large; no project is over {} MB", LARGEST_FILE >> 20)));
    }
    decode(bytes, &name)
}

pub(super) fn cannot_read(e: &io::Error) -> String {
    match e.kind() {
        io::ErrorKind::NotFound => "there is no such file".to_owned(),
        io::ErrorKind::PermissionDenied => "you may not read this file".to_owned(),
        _ => format!("the file cannot be read ({e})"),
    }
}

/// Text from the bytes of a file.
///
/// # Errors
///
/// Where the bytes stop being UTF-8.
pub fn decode(bytes: Vec<u8>, name: &str) -> Result<String, ReadErrors> {
    String::from_utf8(bytes).map_err(|e| {
        let good = e.utf8_error().valid_up_to();
        let bad = e.as_bytes().get(good).copied().unwrap_or(0);
        let before = String::from_utf8_lossy(&e.as_bytes()[..good]).into_owned();
        let error = ReadError {
            at: Some(super::locate::line_column(&before, good)),
            field: String::new(),
            message: format!("the byte {bad:#04x} is not UTF-8 text; save the file as UTF-8"),
        };
        ReadErrors { file: name.to_owned(), errors: vec![error] }
    })
}

/// A project as the text of a file.
#[must_use]
pub fn to_text(project: &Project) -> String {
    project_text(project)
}

/// Saves a project: the file is replaced whole, or left as it was.
///
/// # Errors
///
/// Why it could not be written, in words with the file's name.
pub fn write(project: &Project, path: &Path) -> Result<(), String> {
    replace(path, to_text(project).as_bytes())
}
