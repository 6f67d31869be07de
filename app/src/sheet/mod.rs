//! The drawing set as plain values in paper millimetres: cover, elevations with their details, setting-out
//! schedules, as-installed records, pull tests, old ties.
//!
//! [`drawing_set`] takes a project and its layouts and lays nothing out again. Writers such as
//! [`crate::export::pdf`] turn the [`Sheet`]s into files, and the window shows the same sheets. Paper x runs
//! to the right and y up from the lower left corner of the sheet.

mod caption;
mod choose;
mod cover;
mod detail;
mod dims;
mod draft;
mod elevation;
mod engineering;
mod flags;
mod flow;
mod font;
mod frame;
mod geom;
mod keep_out;
mod key_plan;
mod leading;
mod levels;
mod locked;
mod marks;
mod model;
mod notes;
mod old_tie_sheet;
mod options;
mod paper;
mod place;
mod record;
mod schedule;
mod section;
mod site;
mod split;
pub mod symbols;
mod table;
mod test_sheet;
mod ties;
mod title;
mod view;
mod wall;
mod words;

pub use font::Face;
pub use geom::{PaperPoint, Quad, Rect, overlap};
pub use model::{Align, Dash, Graphic, Item, Layer, Picture, Sheet, SheetKind, Shown, Symbol, Text};
pub use options::{DecimalMark, FirmDetails, Include, SheetError, SheetOptions};
pub use paper::{PaperSize, SCALES};
pub use words::Language;

use cover::{Drawn, Listed};
use elevation::Page;
use layout_core::Plan;
use layout_core::elevation::{Fault, Project};
use paper::Paper;
use section::Build;
use std::collections::BTreeMap;
use view::Wall;
use words::Style;

/// The layout of one elevation, or why it has none.
pub type Outcome<'a> = Result<&'a Plan, &'a [Fault]>;

/// Draws a project: its cover, then each elevation that has a layout with its schedule and record, then the
/// sheets for tests and old ties; as far as `options` include them.
///
/// `outcomes` holds one entry for each elevation of the project, in order; elevations beyond its end
/// count as not laid out. The same input gives the same sheets.
///
/// # Errors
///
/// A scale that is not one of [`SCALES`]; an elevation that does not fit the paper and scale asked
/// for; nothing to draw at all.
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
    let style = Style::new(options.language, options.decimal);
    let paper = Paper::lying(options.sheet.unwrap_or(PaperSize::A3));
    let mut pages = Vec::new();
    let mut drawn = Vec::new();
    let mut walls = Vec::new();
    for (i, e) in project.elevations.iter().enumerate() {
        let plan = outcomes.get(i).and_then(|o| o.as_ref().ok());
        let Some(wall) = plan.and_then(|plan| Wall::new(e, plan, i, style)) else {
            drawn.push(Drawn::default());
            continue;
        };
        drawn.push(one_elevation(&wall, options, paper, &mut pages)?);
        walls.push(wall);
    }
    if options.include.tests && !walls.is_empty() {
        pages.extend(test_sheet::pages(&walls, paper, style));
    }
    if options.include.old_ties {
        for wall in &walls {
            let first = pages.len();
            pages.extend(old_tie_sheet::pages(wall, paper));
            title::about(&mut pages[first..], wall);
        }
    }
    if options.include.cover {
        let builds: Vec<Build> = walls.iter().filter_map(Build::of).collect();
        let set = Set { drawn: &drawn, builds: &builds };
        let all = with_cover(project, outcomes, options, paper, &set, pages);
        return Ok(finish(project, all, options));
    }
    if pages.is_empty() { Err(SheetError::Nothing) } else { Ok(finish(project, pages, options)) }
}

/// Adds the sheets of one elevation; says where they are, counted from 1 without the cover.
fn one_elevation(
    wall: &Wall<'_>,
    options: &SheetOptions,
    paper: Paper,
    pages: &mut Vec<Page>,
) -> Result<Drawn, SheetError> {
    let composed = choose::best(wall, options).ok_or_else(|| SheetError::DoesNotFit {
        name: wall.elevation.name.clone(),
        sheet: options.sheet,
        scale: options.scale,
    })?;
    let first = pages.len() + 1;
    let parts = composed.pages.iter().enumerate().filter(|(_, p)| p.draft.kind == SheetKind::Elevation);
    let parts = parts.flat_map(|(i, p)| p.draft.shown.iter().map(move |s| (first + i, s.window))).collect();
    let scale = composed.pages.first().and_then(|p| p.draft.elevation).map(|(_, s)| s);
    pages.extend(composed.pages);
    let sheets = Some((first, pages.len()));
    if options.include.account {
        pages.extend(engineering::pages(wall, paper));
    }
    if options.include.schedule {
        pages.extend(schedule::pages(wall, paper));
    }
    if options.include.record {
        pages.extend(record::pages(wall, paper));
    }
    title::about(&mut pages[first - 1..], wall);
    let entry = key_plan::Entry { sheets, ties: wall.plan.ties.len(), parts };
    Ok(Drawn { scale, entry })
}

/// What the cover is told of the sheets after it.
struct Set<'a> {
    drawn: &'a [Drawn],
    builds: &'a [Build],
}

/// Puts the cover first. How many sheets it takes depends on the numbers of those after it, so it is
/// drawn until that number holds.
fn with_cover(
    project: &Project,
    outcomes: &[Outcome<'_>],
    options: &SheetOptions,
    paper: Paper,
    set: &Set<'_>,
    pages: Vec<Page>,
) -> Vec<Page> {
    let style = Style::new(options.language, options.decimal);
    let mut count = 1;
    let mut cover = Vec::new();
    for _ in 0..3 {
        let moved: Vec<Drawn> =
            set.drawn.iter().map(|d| Drawn { entry: d.entry.moved(count), ..d.clone() }).collect();
        let listed: Vec<Listed> = pages
            .iter()
            .enumerate()
            .map(|(i, p)| Listed { number: count + 1 + i, title: p.draft.title.clone() })
            .collect();
        let told = cover::Told {
            project,
            plans: outcomes,
            drawn: &moved,
            builds: set.builds,
            listed: &listed,
            options,
            style,
        };
        cover = cover::compose(&told, paper);
        if cover.len() == count {
            break;
        }
        count = cover.len();
    }
    cover.extend(pages);
    cover
}

/// Adds frames and title blocks, now that the number of sheets is known.
fn finish(project: &Project, mut pages: Vec<Page>, options: &SheetOptions) -> Vec<Sheet> {
    title::number(&mut pages);
    let of = pages.len();
    // Match lines say on which sheet the wall goes on.
    let part_of = |(i, p): (usize, &Page)| Some(((p.draft.elevation?.0, p.draft.part?), i + 1));
    let parts: BTreeMap<(usize, usize), usize> = pages.iter().enumerate().filter_map(part_of).collect();
    pages
        .into_iter()
        .enumerate()
        .map(|(i, Page { mut draft, title })| {
            if let Some((index, _)) = draft.elevation {
                draft.number_parts(|part| parts.get(&(index, part)).copied());
            }
            frame::draw(&mut draft);
            title::draw(&mut draft, project, options, &title, &title::Place { number: i + 1, of });
            draft.finish()
        })
        .collect()
}
