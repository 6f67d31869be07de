//! Project files: reading with errors that say where, and safe saving.

use std::fmt;
use std::path::Path;

use layout_core::elevation::Project;

/// Why a file could not be read.
#[derive(Clone, Debug)]
pub struct ReadErrors(String);

impl fmt::Display for ReadErrors {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// Why a file could not be written.
pub type WriteError = ReadErrors;

fn options() -> ron::Options {
    use ron::extensions::Extensions as Ext;
    ron::Options::default().with_default_extension(Ext::IMPLICIT_SOME | Ext::UNWRAP_VARIANT_NEWTYPES)
}

/// Reads a project from text; `name` stands for the file in errors.
///
/// # Errors
///
/// What is wrong, with line and column.
pub fn parse(text: &str, name: &str) -> Result<Project, ReadErrors> {
    options().from_str(text).map_err(|e| ReadErrors(format!("{name}:{e}")))
}

/// Reads a project file.
///
/// # Errors
///
/// Why the file cannot be read, or what is wrong in it.
pub fn read(path: &Path) -> Result<Project, ReadErrors> {
    let name = path.display().to_string();
    let text = std::fs::read_to_string(path).map_err(|e| ReadErrors(format!("{name}: {e}")))?;
    parse(&text, &name)
}

/// A project as the text of its file.
#[must_use]
pub fn to_text(project: &Project) -> String {
    options().to_string_pretty(project, ron::ser::PrettyConfig::new().depth_limit(4)).unwrap_or_default()
}

/// Writes a project file.
///
/// # Errors
///
/// Why it cannot be written.
pub fn write(project: &Project, path: &Path) -> Result<(), WriteError> {
    std::fs::write(path, to_text(project)).map_err(|e| ReadErrors(format!("{}: {e}", path.display())))
}
