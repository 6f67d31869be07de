//! The drawing set as plain values in paper millimetres: a summary, then a sheet for each elevation.
//!
//! [`drawing_set`] takes a project and its layouts and lays nothing out again. Writers such as
//! [`crate::export::pdf`] turn the [`Sheet`]s into files. Paper x runs to the right and y up from the
//! lower left corner of the sheet.

mod dims;
mod draft;
mod elevation;
mod engineering;
mod flags;
mod flow;
mod font;
mod geom;
mod model;
mod paper;
mod place;
mod summary;
pub mod symbols;
mod ties;
mod title;
mod view;
mod wall;
mod words;

pub use font::Face;
pub use geom::{PaperPoint, Quad, Rect, overlap};
pub use model::{Align, Dash, Graphic, Item, Layer, Sheet, Symbol, Text};
pub use paper::{PaperSize, SCALES};

use elevation::{Composed, Page};
use layout_core::Plan;
use layout_core::elevation::{Fault, Project};
use paper::{Paper, SMALL_SCALES};
use view::Wall;

/// The layout of one elevation, or why it has none.
pub type Outcome<'a> = Result<&'a Plan, &'a [Fault]>;

/// What the user chooses for the drawing.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct SheetOptions {
    /// Paper; chosen for each elevation if left out, A3 where it will do.
    pub sheet: Option<PaperSize>,
    /// Denominator of the scale, one of [`SCALES`]; chosen for each elevation if left out.
    pub scale: Option<u32>,
    /// Date to print; none if left out.
    pub date: Option<String>,
}

/// Why there is no drawing.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum SheetError {
    /// The scale is not one of [`SCALES`].
    Scale(u32),
    /// An elevation does not fit the paper and scale asked for.
    DoesNotFit {
        /// Name of the elevation.
        name: String,
        /// Paper asked for.
        sheet: Option<PaperSize>,
        /// Scale asked for.
        scale: Option<u32>,
    },
}

impl std::fmt::Display for SheetError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Scale(s) => {
                let all: Vec<String> = SCALES.iter().map(|s| format!("1:{s}")).collect();
                write!(f, "1:{s} is not a scale of the drawing; choose {}", all.join(", "))
            }
            Self::DoesNotFit { name, sheet, scale } => {
                write!(f, "elevation '{name}' does not fit")?;
                match sheet {
                    Some(s) => write!(f, " on {s}")?,
                    None => write!(f, " on any sheet up to A1")?,
                }
                if let Some(s) = scale {
                    write!(f, " at 1:{s}")?;
                }
                write!(f, "; choose larger paper or a smaller scale")
            }
        }
    }
}

impl std::error::Error for SheetError {}

/// Draws a project: its summary first, then each elevation that has a layout.
///
/// `outcomes` holds one entry for each elevation of the project, in order; elevations beyond its end
/// count as not laid out. The same input gives the same sheets.
///
/// # Errors
///
/// A scale that is not one of [`SCALES`]; an elevation that does not fit the paper and scale asked
/// for.
pub fn drawing_set(
    project: &Project,
    outcomes: &[Outcome<'_>],
    options: &SheetOptions,
) -> Result<Vec<Sheet>, SheetError> {
    if let Some(s) = options.scale
        && !SCALES.contains(&s)
    {
        return Err(SheetError::Scale(s));
    }
    let mut pages = Vec::new();
    let mut drawn = Vec::new();
    for (i, e) in project.elevations.iter().enumerate() {
        let wall = outcomes.get(i).and_then(|o| o.as_ref().ok()).and_then(|plan| Wall::new(e, plan));
        let sheet = pages.len();
        let mut scale = None;
        if let Some(wall) = wall {
            let composed = best(&wall, i, options).ok_or_else(|| SheetError::DoesNotFit {
                name: e.name.clone(),
                sheet: options.sheet,
                scale: options.scale,
            })?;
            scale = composed.pages.first().and_then(|p| p.draft.elevation).map(|(_, s)| s);
            pages.extend(composed.pages);
        }
        drawn.push(summary::Drawn { scale, sheet });
    }
    let paper = Paper::lying(options.sheet.unwrap_or(PaperSize::A3));
    let count = summary::compose(project, outcomes, &drawn, paper, 1).len();
    let mut all = summary::compose(project, outcomes, &drawn, paper, count);
    all.extend(pages);
    Ok(finish(project, all, options))
}

/// Adds frames and title blocks, now that the number of sheets is known.
fn finish(project: &Project, pages: Vec<Page>, options: &SheetOptions) -> Vec<Sheet> {
    let of = pages.len();
    pages
        .into_iter()
        .enumerate()
        .map(|(i, Page { mut draft, title })| {
            let place = title::Place { number: i + 1, of, date: options.date.as_deref() };
            title::draw(&mut draft, project, &title, &place);
            draft.finish()
        })
        .collect()
}

/// Up to this much strain a drawing reads well enough: one mark in four led off, or one in eighty left
/// out.
const GOOD: f64 = 0.25;

/// Ties that stand closer than this on paper leave no room for their marks, mm.
const TOO_CLOSE: f64 = 2.0;

/// The elevation on the paper and at the scale that read best: the first of the usual choices that
/// shows every mark, else the one that strains least.
fn best(wall: &Wall<'_>, index: usize, options: &SheetOptions) -> Option<Composed> {
    let apart = ties::close_spacing(wall);
    let (roomy, mut close): (Vec<_>, Vec<_>) =
        choices(options).into_iter().partition(|(_, scale)| apart / f64::from(*scale) >= TOO_CLOSE);
    let mut best: Option<Composed> = None;
    for (paper, scale) in roomy {
        let Some(composed) = elevation::compose(wall, index, paper, scale) else { continue };
        if composed.strain <= GOOD {
            return Some(composed);
        }
        if best.as_ref().is_none_or(|b| composed.strain < b.strain) {
            best = Some(composed);
        }
    }
    let mut draw = |(paper, scale)| elevation::compose(wall, index, paper, scale);
    if best.is_none() {
        // As large as any paper allows.
        close.sort_by_key(|(paper, scale)| (*scale, paper.size));
        best = close.into_iter().find_map(&mut draw);
    }
    if best.is_none() && options.scale.is_none() {
        let size = options.sheet.unwrap_or(PaperSize::A1);
        let smaller: Vec<_> =
            SMALL_SCALES.into_iter().flat_map(|s| ways(size).into_iter().map(move |p| (p, s))).collect();
        best = smaller.into_iter().find_map(&mut draw);
    }
    best
}

fn ways(size: PaperSize) -> Vec<Paper> {
    let upright = Paper { size, upright: true };
    if size == PaperSize::A4 { vec![Paper::lying(size), upright] } else { vec![Paper::lying(size)] }
}

/// Papers and scales to try, best first: larger scales first, a smaller scale before larger paper.
fn choices(options: &SheetOptions) -> Vec<(Paper, u32)> {
    let sizes = match options.sheet {
        Some(s) => vec![s],
        None => vec![PaperSize::A3, PaperSize::A2, PaperSize::A1],
    };
    let fixed = options.sheet.is_some();
    let scales: Vec<u32> = match options.scale {
        Some(s) => vec![s],
        None => SCALES.to_vec(),
    };
    let mut all = Vec::new();
    for size in sizes {
        for &scale in &scales {
            // 1:200 leaves no room for marks: only where nothing else is left.
            let last_resort = scale == 200 && size != PaperSize::A1 && !fixed && options.scale.is_none();
            if !last_resort {
                all.extend(ways(size).into_iter().map(|p| (p, scale)));
            }
        }
    }
    all
}
