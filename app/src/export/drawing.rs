//! The drawing set of a project as files: PDF, SVG, DXF or PNG, all from the same sheets.

use crate::document::replace::replace;
use crate::export::pdf::{self, PdfInfo};
use crate::export::raster::Raster;
use crate::export::{dxf, png, svg};
use crate::firm;
use crate::sheet::{Include, Outcome, Sheet, SheetOptions, drawing_set};
use layout_core::Plan;
use layout_core::elevation::{Fault, Project};
use std::path::{Path, PathBuf};

/// A kind of file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Format {
    /// All sheets in one file, for paper and archive.
    Pdf,
    /// A file for each sheet, for the web and for editing.
    Svg,
    /// The elevations alone, in true millimetres, for other drawing programs.
    Dxf,
    /// A picture of each sheet.
    Png,
}

impl Format {
    /// The kind that the ending of a name asks for; PDF for a name without one.
    ///
    /// # Errors
    ///
    /// The ending is that of no kind: a file must not pass for what it is not.
    pub fn of(path: &Path) -> Result<Self, String> {
        let ending = path.extension().map(|e| e.to_string_lossy().to_lowercase());
        match ending.as_deref() {
            None | Some("pdf") => Ok(Self::Pdf),
            Some("svg") => Ok(Self::Svg),
            Some("dxf") => Ok(Self::Dxf),
            Some("png") => Ok(Self::Png),
            Some(other) => Err(format!(
                "{}: no drawing is written as .{other}; end the name in .pdf, .svg, .dxf or .png",
                path.display()
            )),
        }
    }
}

/// The drawing set as files: the first has the name given, others have the number of their sheet added to it.
/// The same project and options give the same bytes.
///
/// # Errors
///
/// What cannot be drawn and why, in a sentence for the user.
pub fn drawing_files(
    project: &Project,
    outcomes: &[Outcome<'_>],
    options: &SheetOptions,
    path: &Path,
) -> Result<Vec<(PathBuf, Vec<u8>)>, String> {
    let format = Format::of(path)?;
    let sheets = drawing_set(project, outcomes, &for_format(options, format)).map_err(|e| e.to_string())?;
    let named = |i: usize| if i == 0 { path.to_owned() } else { numbered(path, i + 1) };
    match format {
        Format::Pdf => Ok(vec![(path.to_owned(), pdf_of(project, &sheets)?)]),
        Format::Dxf => Ok(vec![(path.to_owned(), dxf::write(&sheets))]),
        Format::Svg => {
            Ok(sheets.iter().enumerate().map(|(i, s)| (named(i), svg::write(s).into_bytes())).collect())
        }
        Format::Png => {
            let mut raster = Raster::default();
            sheets.iter().enumerate().map(|(i, s)| Ok((named(i), png::write(s, &mut raster)?))).collect()
        }
    }
}

/// A wall in true millimetres needs no match lines, and no sheets that are not to scale.
fn for_format(options: &SheetOptions, format: Format) -> SheetOptions {
    if format != Format::Dxf {
        return options.clone();
    }
    let include = Include {
        cover: false,
        section: false,
        details: false,
        account: false,
        schedule: false,
        record: false,
        tests: false,
        old_ties: false,
    };
    SheetOptions { include, in_one: true, ..options.clone() }
}

/// `wall.svg` as `wall-3.svg`.
fn numbered(path: &Path, number: usize) -> PathBuf {
    let stem = path.file_stem().unwrap_or_default().to_string_lossy();
    let ending = path.extension().unwrap_or_default().to_string_lossy();
    path.with_file_name(format!("{stem}-{number}.{ending}"))
}

fn pdf_of(project: &Project, sheets: &[Sheet]) -> Result<Vec<u8>, String> {
    let info = PdfInfo {
        title: project.title.clone(),
        author: project.drawn_by.clone(),
        subject: project.site.clone(),
    };
    pdf::write(sheets, &info).map_err(|e| e.to_string())
}

/// Plans every elevation and draws the set, as it would be written to a PDF; elevations that cannot be laid
/// out are named on the cover.
///
/// # Errors
///
/// What cannot be drawn and why, in a sentence for the user.
pub fn sheets_of(project: &Project, options: &SheetOptions) -> Result<Vec<Sheet>, String> {
    let plans: Vec<Result<Plan, Vec<Fault>>> = project.elevations.iter().map(layout_core::plan).collect();
    let outcomes: Vec<Outcome<'_>> = plans.iter().map(|p| p.as_ref().map_err(Vec::as_slice)).collect();
    drawing_set(project, &outcomes, options).map_err(|e| e.to_string())
}

/// Plans every elevation and writes the drawing set, as the user's firm has it, to a file or files, each whole
/// or not at all; elevations that cannot be laid out are named on the cover.
///
/// # Errors
///
/// What cannot be drawn or written and why, in a sentence for the user.
pub fn export(project: &Project, path: &Path) -> Result<(), String> {
    // What is to be said of the firm's settings is said by whoever asked for the drawing.
    let (options, _) = firm::own_options()?;
    let plans: Vec<Result<Plan, Vec<Fault>>> = project.elevations.iter().map(layout_core::plan).collect();
    let outcomes: Vec<Outcome<'_>> = plans.iter().map(|p| p.as_ref().map_err(Vec::as_slice)).collect();
    let files = drawing_files(project, &outcomes, &options, path)?;
    files.iter().try_for_each(|(path, bytes)| replace(path, bytes))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_ending_says_what_is_written() {
        for (name, format) in [
            ("a.pdf", Format::Pdf),
            ("a.SVG", Format::Svg),
            ("a.dxf", Format::Dxf),
            ("a.b.png", Format::Png),
            ("a", Format::Pdf),
        ] {
            assert_eq!(Format::of(Path::new(name)), Ok(format), "{name}");
        }
        let said = Format::of(Path::new("wall.docx")).expect_err("no drawing");
        assert!(said.contains(".pdf, .svg, .dxf or .png"), "{said}");
        assert_eq!(numbered(Path::new("/x/wall.front.svg"), 3), Path::new("/x/wall.front-3.svg"));
    }
}
