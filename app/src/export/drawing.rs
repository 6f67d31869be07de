//! The drawing set of a project as a PDF.

use crate::document::replace::replace;
use crate::export::pdf::{self, PdfInfo};
use crate::sheet::{Outcome, SheetOptions, drawing_set};
use layout_core::Plan;
use layout_core::elevation::{Fault, Project};
use std::path::Path;

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

/// Plans every elevation and writes the drawing set to a file, whole or not at all; elevations that cannot
/// be laid out are named on the summary.
///
/// # Errors
///
/// What cannot be drawn or written and why, in a sentence for the user.
pub fn export(project: &Project, path: &Path) -> Result<(), String> {
    let plans: Vec<Result<Plan, Vec<Fault>>> = project.elevations.iter().map(layout_core::plan).collect();
    let outcomes: Vec<Outcome<'_>> = plans.iter().map(|p| p.as_ref().map_err(Vec::as_slice)).collect();
    let pdf = drawing_pdf(project, &outcomes, &SheetOptions::default())?;
    replace(path, &pdf)
}
