//! The drawing command: plans every elevation, draws the sheets, writes the PDF.

use super::arguments::{Drawing, SheetSize};
use super::commands::{in_short, report_of, status};
use super::output::{Console, keep_apart};
use crate::report::Report;

pub(super) fn run(console: &mut Console<'_>, arguments: &Drawing) -> Result<u8, String> {
    keep_apart(&arguments.file, &arguments.out)?;
    let report = report_of(&arguments.file)?;
    let pdf = pdf_of(&report, arguments.sheet, arguments.scale)?;
    console.deliver(&arguments.out, &pdf, &in_short(&report))?;
    Ok(status(&report))
}

/// The drawing set as the bytes of a PDF; a sheet or scale of `None` is chosen for each elevation.
fn pdf_of(report: &Report, sheet: Option<SheetSize>, scale: Option<u32>) -> Result<Vec<u8>, String> {
    let _ = (report, sheet, scale);
    Err("drawing sheets are not part of this build".to_owned())
}
