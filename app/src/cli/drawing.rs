//! The drawing command: plans every elevation, draws the sheets, writes the file or files.

use super::arguments::Drawing;
use super::commands::{in_short, report_of, status};
use super::output::{Console, keep_apart};
use crate::export::drawing::{Format, drawing_files};
use crate::firm::Firm;
use crate::sheet::{Outcome, SheetOptions};
use std::path::Path;

pub(super) fn run(console: &mut Console<'_>, arguments: &Drawing) -> Result<u8, String> {
    keep_apart(&arguments.file, &arguments.out)?;
    // Told before anything is worked out.
    Format::of(&arguments.out)?;
    let firm = match &arguments.firm {
        Some(path) => {
            keep_apart(path, &arguments.out)?;
            Firm::read(path)?.options(path.parent().unwrap_or(Path::new("")))?
        }
        None => SheetOptions::default(),
    };
    let report = report_of(&arguments.file)?;
    let outcomes: Vec<Outcome<'_>> = report.plans.iter().map(Ok).collect();
    let sheet = arguments.sheet.or(firm.sheet);
    let options = SheetOptions { sheet, scale: arguments.scale, date: arguments.date.clone(), ..firm };
    let files = drawing_files(&report.project, &outcomes, &options, &arguments.out)?;
    console.deliver_all(&files, &in_short(&report))?;
    Ok(status(&report))
}
