//! The drawing command: plans every elevation, draws the sheets, writes the PDF.

use super::arguments::Drawing;
use super::commands::{in_short, report_of, status};
use super::output::{Console, keep_apart};
use crate::export::drawing::drawing_pdf;
use crate::sheet::{Outcome, SheetOptions};

pub(super) fn run(console: &mut Console<'_>, arguments: &Drawing) -> Result<u8, String> {
    keep_apart(&arguments.file, &arguments.out)?;
    let report = report_of(&arguments.file)?;
    let outcomes: Vec<Outcome<'_>> = report.plans.iter().map(Ok).collect();
    let options = SheetOptions { sheet: arguments.sheet, scale: arguments.scale, ..SheetOptions::default() };
    let pdf = drawing_pdf(&report.project, &outcomes, &options)?;
    console.deliver(&arguments.out, &pdf, &in_short(&report))?;
    Ok(status(&report))
}
