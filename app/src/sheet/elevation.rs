//! The sheets of one elevation: drawing, notes beside or below it; a long one in pieces with match lines;
//! details of dense places; more sheets where notes run over.

use super::detail::{self, Region};
use super::draft::{Draft, THIN};
use super::flow::{GUTTER, Notes, columns};
use super::geom::Rect;
use super::model::{Layer, SheetKind};
use super::notes::{self, Told};
use super::options::Include;
use super::paper::Paper;
use super::split::Grid;
use super::view::{View, Wall};
use super::words::{Style, fill};
use super::{dims, engineering, flags, locked, marks, split, ties, title, wall};

/// Room between the frame and what stands in it, mm.
pub(super) const PAD: f64 = 3.0;

/// Least height of notes below a drawing on a lying sheet, mm.
const LEAST_BELOW: f64 = 20.0;

/// Where the notes of a lying sheet stand.
#[derive(Clone, Copy, PartialEq, Eq)]
enum NotesRoom {
    /// In a column beside the drawing.
    Column,
    /// In that column, and below the drawing.
    Below,
    /// In two columns beside the drawing.
    TwoColumns,
}

/// Least height of notes below a drawing on an upright sheet, mm.
const LEAST_NOTES: f64 = 40.0;

/// A sheet that wants its title block.
pub(super) struct Page {
    pub draft: Draft,
    /// Where the title block goes.
    pub title: Rect,
}

/// An elevation drawn at a scale.
pub(super) struct Composed {
    pub pages: Vec<Page>,
    /// How poorly it reads: marks left out and led off, labels left out; 0 is best.
    pub strain: f64,
}

/// Where drawing, notes and title block go on a sheet.
pub(super) struct Zones {
    pub drawing: Rect,
    pub columns: Vec<Rect>,
    /// More columns, below the drawing of a lying sheet.
    pub below: Vec<Rect>,
    pub title: Rect,
}

pub(super) fn zones(paper: Paper, drawing_height: f64, count: usize) -> Zones {
    let frame = paper.frame();
    if paper.upright {
        let title =
            Rect::new(frame.left, frame.bottom, frame.right, frame.bottom + title::height(frame.width()));
        let drawing = Rect::new(
            frame.left + PAD,
            (frame.top - PAD - drawing_height).max(title.top + PAD),
            frame.right - PAD,
            frame.top - PAD,
        );
        let notes = Rect::new(drawing.left, title.top + PAD, drawing.right, drawing.bottom - PAD);
        let width = (notes.width() - GUTTER) / 2.0;
        return Zones { drawing, columns: columns(&notes, width), below: Vec::new(), title };
    }
    let width = paper.size.column();
    let left = frame.right - width;
    let title = Rect::new(left, frame.bottom, frame.right, frame.bottom + title::height(width));
    let edge = frame.right - width * count as f64;
    let drawing = Rect::new(frame.left + PAD, frame.bottom + PAD, edge - PAD, frame.top - PAD);
    let columns = (0..count)
        .map(|i| {
            let left = edge + i as f64 * width;
            let bottom = if i + 1 == count { title.top } else { frame.bottom };
            Rect::new(left + PAD, bottom + PAD, left + width - PAD, frame.top - PAD)
        })
        .collect();
    Zones { drawing, columns, below: Vec::new(), title }
}

/// The place of an elevation on a sheet, if it fits.
fn fit(
    wall: &Wall<'_>,
    bands: &dims::Bands,
    paper: Paper,
    scale: u32,
    room: NotesRoom,
) -> Option<(Zones, View)> {
    let s = f64::from(scale);
    let width = wall.extent.width() / s + bands.left + bands.right;
    let height = wall.extent.height() / s + bands.bottom + bands.top;
    let mut z = zones(paper, height, if room == NotesRoom::TwoColumns { 2 } else { 1 });
    let d = z.drawing;
    let notes: f64 = z.columns.iter().map(Rect::height).fold(f64::INFINITY, f64::min);
    if width > d.width() + 1e-9 || height > d.height() + 1e-9 || notes < LEAST_NOTES {
        return None;
    }
    let mut air = d.height() - height;
    let mut floor = d.bottom + dims::CAPTION;
    if room == NotesRoom::Below {
        // The drawing moves up, and the room it leaves is for notes.
        let width = z.columns.first().map_or(0.0, Rect::width);
        let below = Rect::new(d.left, floor + PAD, d.right, floor + air - 2.0 * PAD);
        if below.height() < LEAST_BELOW {
            return None;
        }
        z.below = columns(&below, width);
        floor = below.top + PAD;
        air = 2.0 * (air - PAD);
    }
    let origin = (d.left + bands.left + (d.width() - width) / 2.0, d.bottom + bands.bottom + air / 2.0);
    let window = Rect::new(d.left, floor, d.right, d.top);
    let view = View::new(wall, scale, origin, window);
    Some((z, view))
}

/// Name of an elevation, or its number where it has none.
pub(super) fn name_of(name: &str, index: usize, style: Style) -> String {
    let name = name.trim();
    if name.is_empty() { fill(style.words.elevation_n, &[&(index + 1).to_string()]) } else { name.to_owned() }
}

/// Draws an elevation on a paper at a scale, whole or in pieces; `None` where it does not fit.
pub(super) fn compose(
    wall: &Wall<'_>,
    paper: Paper,
    scale: u32,
    grid: &Grid,
    include: Include,
) -> Option<Composed> {
    let details = include.details;
    let pieces = split::pieces(wall, scale, grid);
    let (mut pages, mut notes) = (Vec::new(), Vec::new());
    let (mut unmarked, mut led, mut left_out) = (Vec::new(), 0, 0);
    let mut regions: Vec<Region> = Vec::new();
    for (i, piece) in pieces.iter().enumerate() {
        let part = Part { number: i + 1, of: pieces.len(), include };
        let drawn = compose_piece(piece, paper, scale, &part, &mut regions)?;
        notes.push((drawn.page.draft.title.clone(), drawn.notes));
        pages.push(drawn.page);
        unmarked.extend(drawn.unmarked);
        led += drawn.led;
        left_out += drawn.left_out;
    }
    pages.extend(notes::left_over(wall, paper, notes));
    pages.extend(detail::pages(wall, paper, &regions));
    let n = wall.plan.ties.len().max(1) as f64;
    let weight = if details { 3.0 } else { 20.0 };
    let strain = weight * unmarked.len() as f64 / n + 0.5 * led as f64 / n + 0.0001 * left_out as f64;
    Some(Composed { pages, strain })
}

/// Which piece of an elevation a sheet shows.
pub(super) struct Part {
    pub number: usize,
    pub of: usize,
    /// What the set has.
    pub include: Include,
}

/// A piece drawn.
struct Drawn {
    page: Page,
    /// Notes that found no room on it.
    notes: Notes,
    unmarked: Vec<usize>,
    led: usize,
    left_out: usize,
}

/// Draws a piece. Notes that run over their column take the room below the drawing or a second column beside
/// it where it leaves any, and more sheets where it does not.
fn compose_piece(
    wall: &Wall<'_>,
    paper: Paper,
    scale: u32,
    part: &Part,
    regions: &mut Vec<Region>,
) -> Option<Drawn> {
    let mut bands = dims::Bands::of(wall, scale);
    let height = wall.extent.height() / f64::from(scale) + bands.bottom + bands.top;
    if !paper.upright {
        bands.find_room(wall, scale, zones(paper, height, 1).drawing.height() - height);
    }
    let before = regions.len();
    let mut best = compose_with(wall, paper, scale, &bands, NotesRoom::Column, part, regions)?;
    for room in [NotesRoom::Below, NotesRoom::TwoColumns] {
        if best.notes.is_empty() || paper.upright {
            break;
        }
        let mut others = regions[..before].to_vec();
        match compose_with(wall, paper, scale, &bands, room, part, &mut others) {
            Some(other) if other.notes.is_empty() => {
                *regions = others;
                best = other;
            }
            _ => {}
        }
    }
    Some(best)
}

/// What drawing a piece of wall left undone.
pub(super) struct Undone {
    pub marks: marks::Outcome,
    pub left_out: dims::LeftOut,
    pub lost_flags: Vec<usize>,
    pub lost_labels: usize,
    /// Openings, by index, whose size is not written at them.
    pub lost_sizes: Vec<usize>,
}

/// Draws a piece of wall with its dimensions, labels, ties, marks and flags; `matched` says whether its cut
/// sides are match lines.
pub(super) fn draw_wall(
    draft: &mut Draft,
    wall: &Wall<'_>,
    view: &View,
    bands: &dims::Bands,
    matched: bool,
) -> Undone {
    let size = ties::symbol_scale(wall, view.scale);
    draft.shown.push(view.remember(wall));
    wall::draw(draft, wall, view);
    if matched {
        split::match_lines(draft, wall, view);
    }
    ties::take_room(draft, wall, view, size, matched);
    engineering::take_room(draft, wall, view, size);
    let mut lost_labels = wall::label_sides(draft, wall, view, bands);
    let left_out = dims::draw(draft, wall, view, bands);
    let lost = wall::label(draft, wall, view);
    lost_labels += lost.labels + locked::label(draft, wall, view);
    wall::take_rows(draft, wall, view);
    engineering::draw(draft, wall, view, size);
    let marks = marks::mark(draft, wall, view, size);
    lost_labels += marks.unnumbered;
    // Once all is lettered, so that the lines of the rows leave out every mark.
    wall::rows(draft, wall, view);
    ties::draw(draft, wall, view, size, matched);
    let lost_flags = flags::draw(draft, wall, view);
    wall::cross_openings(draft, wall, view);
    Undone { marks, left_out, lost_flags, lost_labels, lost_sizes: lost.sizes }
}

fn compose_with(
    wall: &Wall<'_>,
    paper: Paper,
    scale: u32,
    bands: &dims::Bands,
    room: NotesRoom,
    part: &Part,
    regions: &mut Vec<Region>,
) -> Option<Drawn> {
    let (zones, view) = fit(wall, bands, paper, scale, room)?;
    let name = name_of(&wall.elevation.name, wall.index, wall.style);
    let title = if part.of > 1 {
        fill(wall.style.words.part_of, &[&part.number.to_string(), &part.of.to_string(), &name])
    } else {
        name.clone()
    };
    let mut draft = Draft::new(paper, SheetKind::Elevation, title.clone(), wall.style);
    draft.elevation = Some((wall.index, scale));
    draft.part = (part.of > 1).then_some(part.number);
    dims::caption(&mut draft, wall, &title, scale, &zones.drawing);
    let undone = draw_wall(&mut draft, wall, &view, bands, true);
    let fresh = if part.include.details {
        detail::regions(wall, scale, paper, &undone.marks.unmarked)
    } else {
        Vec::new()
    };
    let fresh = detail::outline(&mut draft, wall, &view, fresh, regions.len());
    let frame = paper.frame();
    if paper.upright {
        let y = zones.drawing.bottom - PAD / 2.0;
        draft.line(Layer::Frame, (frame.left, y), (frame.right, y), THIN);
    } else {
        for c in &zones.columns {
            let x = c.left - PAD;
            draft.line(Layer::Frame, (x, c.bottom - PAD), (x, frame.top), THIN);
        }
    }
    let told = Told { undone: &undone, part, regions: &fresh };
    let (page, notes) = notes::with_notes(draft, &zones, wall, &told);
    regions.extend(fresh);
    let left = &undone.left_out;
    Some(Drawn {
        page,
        notes,
        led: undone.marks.led,
        left_out: left.runs.len() + left.rows.len() + left.chain,
        unmarked: undone.marks.unmarked,
    })
}

/// A sheet without a drawing: its title block stands at the right of the foot.
pub(super) fn plain_page(paper: Paper, kind: SheetKind, name: String, style: Style) -> Page {
    let frame = paper.frame();
    let width = title::FULL.min(frame.width());
    let title =
        Rect::new(frame.right - width, frame.bottom, frame.right, frame.bottom + title::height(width));
    Page { draft: Draft::new(paper, kind, name, style), title }
}

/// Columns of a width across an area, those over the title block cut short.
pub(super) fn columns_round(area: &Rect, width: f64, title: &Rect) -> Vec<Rect> {
    columns(area, width)
        .into_iter()
        .map(|c| {
            let over = c.right > title.left - 1.0;
            Rect { bottom: if over { title.top + PAD } else { c.bottom }, ..c }
        })
        .filter(|c| c.height() > 15.0)
        .collect()
}
