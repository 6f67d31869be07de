//! The drawing command: plans every elevation, draws the sheets, writes the PDF.

use super::arguments::Drawing;
use super::commands::{in_short, report_of, status};
use super::output::{Console, keep_apart};
use crate::export::pdf::{self, PdfInfo};
use crate::report::Report;
use crate::sheet::{Outcome, SheetOptions, drawing_set};

pub(super) fn run(console: &mut Console<'_>, arguments: &Drawing) -> Result<u8, String> {
    keep_apart(&arguments.file, &arguments.out)?;
    let report = report_of(&arguments.file)?;
    let options = SheetOptions { sheet: arguments.sheet, scale: arguments.scale, date: None };
    let pdf = pdf_of(&report, &options)?;
    console.deliver(&arguments.out, &pdf, &in_short(&report))?;
    Ok(status(&report))
}

/// The drawing set as the bytes of a PDF; the same project gives the same bytes.
fn pdf_of(report: &Report, options: &SheetOptions) -> Result<Vec<u8>, String> {
    let outcomes: Vec<Outcome<'_>> = report.plans.iter().map(Ok).collect();
    let sheets = drawing_set(&report.project, &outcomes, options).map_err(|e| e.to_string())?;
    let project = &report.project;
    let info = PdfInfo {
        title: project.title.clone(),
        author: project.drawn_by.clone(),
        subject: project.site.clone(),
    };
    pdf::write(&sheets, &info).map_err(|e| e.to_string())
}
