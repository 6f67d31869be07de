//! The drawing command: plans every elevation, draws the sheets, writes the file or files.

use super::arguments::Drawing;
use super::commands::{in_short, report_of, status};
use super::output::{Console, keep_apart};
use crate::export::drawing::{Format, drawing_files};
use crate::firm::Firm;
use crate::sheet::{Face, Outcome, SheetOptions};
use layout_core::elevation::Project;
use std::collections::BTreeSet;
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
    let lost = unlettered(&report.project, &options);
    if !lost.is_empty() {
        let lost: Vec<String> = lost.iter().map(|&c| format!("{c} (U+{:04X})", u32::from(c))).collect();
        console.error(&format!(
            "Drawn as a question mark, having no letter in the typeface: {}",
            lost.join(", ")
        ));
    }
    Ok(status(&report))
}

/// Characters in the words of a project or of the firm that the lettering of the drawing has not, each once.
fn unlettered(project: &Project, options: &SheetOptions) -> BTreeSet<char> {
    let project = serde_json::to_string(project).unwrap_or_default();
    let words = [project.as_str(), &options.firm.name, &options.firm.address];
    let lettered = |c: char| c.is_whitespace() || c.is_control() || Face::Condensed.shows(c);
    words.into_iter().flat_map(str::chars).filter(|&c| !lettered(c)).collect()
}
