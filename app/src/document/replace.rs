//! Writing a file whole or not at all.

use std::fs::{self, OpenOptions, Permissions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

/// Puts bytes in a file: written beside it, made safe on the disk, then moved into its place.
///
/// An existing file keeps its permissions and, on any error, its contents. A link is followed. What
/// is not a plain file (a pipe, a device) is written to directly.
///
/// # Errors
///
/// Why it could not be written, in words with the file's name.
pub fn replace(path: &Path, bytes: &[u8]) -> Result<(), String> {
    put(path, bytes).map_err(|e| format!("{}: {}", path.display(), cannot_write(&e)))
}

fn cannot_write(e: &io::Error) -> String {
    match e.kind() {
        io::ErrorKind::NotFound => "the folder to write to does not exist".to_owned(),
        io::ErrorKind::PermissionDenied => "you may not write here; choose another place".to_owned(),
        io::ErrorKind::IsADirectory => "this is a folder; name a file to write".to_owned(),
        io::ErrorKind::StorageFull => "the disk is full".to_owned(),
        _ => format!("the file cannot be written ({e})"),
    }
}

fn put(path: &Path, bytes: &[u8]) -> io::Result<()> {
    let target = fs::canonicalize(path).unwrap_or_else(|_| path.to_path_buf());
    let existing = fs::metadata(&target).ok();
    if let Some(meta) = &existing {
        if meta.is_dir() {
            return Err(io::ErrorKind::IsADirectory.into());
        }
        if meta.permissions().readonly() {
            return Err(io::ErrorKind::PermissionDenied.into());
        }
        if !meta.is_file() {
            return OpenOptions::new().write(true).open(&target)?.write_all(bytes);
        }
    }
    let permissions = existing.map_or_else(new_file_permissions, |m| Some(m.permissions()));
    let mut beside = tempfile::Builder::new();
    beside.prefix(".tiewright-").suffix(".part");
    let mut part = beside.tempfile_in(folder_of(&target))?;
    part.write_all(bytes)?;
    if let Some(p) = permissions {
        part.as_file().set_permissions(p)?;
    }
    part.as_file().sync_all()?;
    part.persist(&target).map_err(|e| e.error)?;
    Ok(())
}

/// The folder a file stands in.
fn folder_of(path: &Path) -> PathBuf {
    path.parent().filter(|p| !p.as_os_str().is_empty()).map_or_else(|| PathBuf::from("."), Path::to_path_buf)
}

/// What a new file may be used for: as the user's other files, read by all, written by the owner.
#[cfg(unix)]
fn new_file_permissions() -> Option<Permissions> {
    use std::os::unix::fs::PermissionsExt;
    Some(Permissions::from_mode(0o644))
}

#[cfg(not(unix))]
fn new_file_permissions() -> Option<Permissions> {
    None
}
