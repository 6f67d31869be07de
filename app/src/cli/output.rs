//! Where commands write: the terminal, or a file that is replaced whole or not at all.

use crate::document::replace::replace;
use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};

/// The two streams of a command. A reader that goes away (`| head`) is no error and ends no work.
pub(super) struct Console<'a> {
    out: &'a mut dyn Write,
    err: &'a mut dyn Write,
}

impl<'a> Console<'a> {
    pub(super) fn new(out: &'a mut dyn Write, err: &'a mut dyn Write) -> Self {
        Self { out, err }
    }

    pub(super) fn print(&mut self, text: &str) {
        // Only a reader gone away or a full disk stops this; the status still tells the result.
        let _ = self.out.write_all(text.as_bytes()).and_then(|()| self.out.flush());
    }

    pub(super) fn error(&mut self, text: &str) {
        let _ = writeln!(self.err, "{text}");
    }

    /// Writes a result to a file, with a line that says so, or to standard output for "-".
    ///
    /// A failure other than a reader gone away is an error: half a file must not pass for a whole.
    pub(super) fn deliver(&mut self, to: &Path, bytes: &[u8], what: &str) -> Result<(), String> {
        if to == Path::new("-") {
            return match self.out.write_all(bytes).and_then(|()| self.out.flush()) {
                Err(e) if e.kind() != std::io::ErrorKind::BrokenPipe => {
                    Err(format!("standard output cannot be written ({e})"))
                }
                _ => Ok(()),
            };
        }
        replace(to, bytes)?;
        self.print(&format!("Wrote {}: {what}.\n", to.display()));
        Ok(())
    }

    /// Writes results to files, with one line that says so; the first to standard output for "-".
    pub(super) fn deliver_all(&mut self, files: &[(PathBuf, Vec<u8>)], what: &str) -> Result<(), String> {
        match files {
            [] => Ok(()),
            [(to, bytes)] => self.deliver(to, bytes, what),
            [(first, _), .., (last, _)] => {
                files.iter().try_for_each(|(to, bytes)| replace(to, bytes))?;
                let (n, first, last) = (files.len(), first.display(), last.display());
                self.print(&format!("Wrote {n} files, {first} to {last}: {what}.\n"));
                Ok(())
            }
        }
    }
}

/// Refuses an output that would overwrite the project it is made from.
pub(super) fn keep_apart(project: &Path, out: &Path) -> Result<(), String> {
    let same = matches!((fs::canonicalize(project), fs::canonicalize(out)), (Ok(a), Ok(b)) if a == b);
    if same {
        return Err(format!("{}: this is the project itself; name another file to write", out.display()));
    }
    Ok(())
}
