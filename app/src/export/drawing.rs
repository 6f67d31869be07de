//! The drawing set of a project as a PDF.

use crate::export::pdf::{self, PdfInfo};
use crate::sheet::{Outcome, SheetOptions, drawing_set};
use layout_core::elevation::Project;

/// The drawing set as the bytes of a PDF; the same project and options give the same bytes.
///
/// # Errors
///
/// What cannot be drawn and why, in a sentence for the user.
pub fn drawing_pdf(
    project: &Project,
    outcomes: &[Outcome<'_>],
    options: &SheetOptions,
) -> Result<Vec<u8>, String> {
    let sheets = drawing_set(project, outcomes, options).map_err(|e| e.to_string())?;
    let info = PdfInfo {
        title: project.title.clone(),
        author: project.drawn_by.clone(),
        subject: project.site.clone(),
    };
    pdf::write(&sheets, &info).map_err(|e| e.to_string())
}
