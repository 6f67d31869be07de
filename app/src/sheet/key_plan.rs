//! Key plan: every elevation in outline at one scale, with the sheets it is on and where it is cut.

use super::draft::{Draft, MEDIUM, SMALL, THIN, small};
use super::elevation::name_of;
use super::font::Face;
use super::geom::{PaperPoint, Rect};
use super::model::{Align, Dash, Graphic, Layer, Text};
use super::words::{Style, fill};
use layout_core::elevation::{Elevation, Project, shape_ring};

/// What the key plan says of an elevation.
#[derive(Clone, Debug, Default)]
pub(super) struct Entry {
    /// First and last sheet of its drawing; `None` if it has none.
    pub sheets: Option<(usize, usize)>,
    /// New ties.
    pub ties: usize,
    /// Each part of its drawing: its sheet, and what it answers for, elevation mm.
    pub parts: Vec<(usize, Rect)>,
}

impl Entry {
    /// The entry with so many sheets put before it.
    pub fn moved(&self, by: usize) -> Self {
        Self {
            sheets: self.sheets.map(|(first, last)| (first + by, last + by)),
            parts: self.parts.iter().map(|&(sheet, window)| (sheet + by, window)).collect(),
            ..*self
        }
    }
}

/// Lines of lettering under an outline, mm.
const LETTERING: f64 = 8.6;

/// Between lines of the name of a part, mm.
const PITCH: f64 = 3.8;

/// Tallest outline, mm.
const TALLEST: f64 = 46.0;

/// Most elevations shown; the table has them all.
const MOST: usize = 24;

struct Shape<'a> {
    elevation: &'a Elevation,
    index: usize,
    bounds: Rect,
}

/// Draws the key plan below `top` across a width. Returns its foot, or `top` where there is nothing to show.
pub(super) fn draw(
    draft: &mut Draft,
    project: &Project,
    entries: &[Entry],
    (left, right): (f64, f64),
    top: f64,
    most_height: f64,
) -> f64 {
    let shapes: Vec<Shape<'_>> = project
        .elevations
        .iter()
        .enumerate()
        .filter(|(i, _)| entries.get(*i).is_some_and(|e| e.sheets.is_some()))
        .filter_map(|(index, elevation)| {
            let bounds = Rect::round(elevation.outline.iter().copied())?;
            (bounds.width() > 0.0 && bounds.height() > 0.0).then_some(Shape { elevation, index, bounds })
        })
        .take(MOST)
        .collect();
    if shapes.is_empty() {
        return top;
    }
    let Some((per_row, scale)) = arrange(&shapes, right - left, most_height) else { return top };
    let style = draft.style;
    draft.text(
        Layer::Notes,
        Text::new((left, top - 4.0), style.words.key_plan, SMALL, Align::Left, Face::CondensedBold),
    );
    draft.line(Layer::Notes, (left, top - 5.4), (right, top - 5.4), THIN);
    let mut y = top - 8.0;
    for row in shapes.chunks(per_row) {
        let tall = row.iter().map(|s| s.bounds.height() / scale).fold(0.0, f64::max);
        let cell = (right - left) / per_row as f64;
        let foot = y - tall;
        for (i, shape) in row.iter().enumerate() {
            let middle = left + cell * (i as f64 + 0.5);
            let origin = (middle - shape.bounds.width() / scale / 2.0, foot);
            outline(draft, shape, origin, scale, &entries[shape.index]);
            words(draft, shape, &entries[shape.index], (middle, foot), cell, style);
        }
        y = foot - LETTERING - 2.0;
    }
    y
}

/// How many stand in a row, and mm of elevation in a mm of paper, for the largest outlines that fit.
fn arrange(shapes: &[Shape<'_>], width: f64, height: f64) -> Option<(usize, f64)> {
    let widest = shapes.iter().map(|s| s.bounds.width()).fold(0.0, f64::max);
    let tallest = shapes.iter().map(|s| s.bounds.height()).fold(0.0, f64::max);
    let each = |n: usize| {
        let rows = shapes.len().div_ceil(n) as f64;
        let cell = (width / n as f64 - 5.0, (height - 8.0) / rows - LETTERING - 2.0);
        let fits = cell.0 > 24.0 && cell.1 > 8.0;
        fits.then(|| (n, (widest / cell.0).max(tallest / cell.1.min(TALLEST))))
    };
    (1..=shapes.len()).filter_map(each).min_by(|a, b| a.1.total_cmp(&b.1))
}

fn outline(draft: &mut Draft, shape: &Shape<'_>, origin: PaperPoint, scale: f64, entry: &Entry) {
    let b = &shape.bounds;
    let at = |(x, y): (f64, f64)| (origin.0 + (x - b.left) / scale, origin.1 + (y - b.bottom) / scale);
    let whole = Rect::new(origin.0, origin.1, at((b.right, b.top)).0, at((b.right, b.top)).1);
    let ring = |points: &[(f64, f64)]| whole.clip_ring(&points.iter().map(|&p| at(p)).collect::<Vec<_>>());
    let stroke =
        |points, width| Graphic::Stroke { points, closed: true, width, dash: Dash::Solid, grey: 0.0 };
    let l = Layer::Masonry;
    let points = ring(&shape.elevation.outline);
    draft.push(l, Graphic::Fill { rings: vec![points.clone()], grey: 0.93 });
    for o in &shape.elevation.openings {
        let hole = ring(&shape_ring(&o.shape));
        if hole.len() > 2 {
            draft.push(l, Graphic::Fill { rings: vec![hole.clone()], grey: 1.0 });
            draft.push(l, stroke(hole, THIN));
        }
    }
    draft.push(l, stroke(points, MEDIUM));
    if entry.parts.len() < 2 {
        return;
    }
    for (i, (sheet, w)) in entry.parts.iter().enumerate() {
        let (low, high) = (at((w.left, w.bottom)), at((w.right, w.top)));
        part(draft, &Rect::new(low.0, low.1, high.0, high.1), i + 1, *sheet);
        for (a, c) in [((high.0, low.1), high), ((low.0, high.1), high)] {
            let edge = (high.0 - whole.right).abs() < 0.01 && a.0 == high.0
                || (high.1 - whole.top).abs() < 0.01 && a.1 == high.1;
            if !edge {
                draft.styled(Layer::Notes, a, c, MEDIUM, Dash::DashDot, 0.0);
            }
        }
    }
}

/// Names a part in the middle of its place: its number and its sheet, or its sheet alone where it is small.
fn part(draft: &mut Draft, place: &Rect, number: usize, sheet: usize) {
    let (w, sheet) = (draft.style.words, sheet.to_string());
    let on_sheet = fill(w.on_sheet, &[&sheet]);
    let wordings =
        [vec![fill(w.part_n, &[&number.to_string()]), on_sheet.clone()], vec![on_sheet], vec![sheet]];
    let inside = place.inset(0.8);
    let (x, y) = place.centre();
    for lines in wordings {
        let n = lines.len() as f64;
        let stacked = lines.iter().enumerate().map(|(i, line)| {
            small((x, y + (n / 2.0 - i as f64 - 1.0) * PITCH + (PITCH - SMALL) / 2.0), line, Align::Centre)
        });
        let texts: Vec<Text> = stacked.collect();
        let Some(ground) = Rect::round(texts.iter().flat_map(Text::quad)).map(|r| r.inset(-0.5)) else {
            return;
        };
        if ground.corners().iter().all(|&p| inside.contains(p)) {
            draft.fill(Layer::Notes, ground.corners().to_vec(), 1.0);
            texts.into_iter().for_each(|t| draft.text(Layer::Notes, t));
            return;
        }
    }
}

fn words(
    draft: &mut Draft,
    shape: &Shape<'_>,
    entry: &Entry,
    (x, foot): PaperPoint,
    cell: f64,
    style: Style,
) {
    let w = style.words;
    let name = name_of(&shape.elevation.name, shape.index, style);
    let (first, last) = entry.sheets.unwrap_or_default();
    let sheets = if first == last {
        fill(w.on_sheet, &[&first.to_string()])
    } else {
        fill(w.on_sheets, &[&first.to_string(), &last.to_string()])
    };
    let ties = fill(w.n_new_ties, &[&entry.ties.to_string()]);
    let (face, room) = (Face::CondensedBold, cell - 3.0);
    let at = (x, foot - 3.6);
    draft.text(Layer::Notes, Text::new(at, &face.shorten(&name, SMALL, room), SMALL, Align::Centre, face));
    let line = Face::Condensed.shorten(&format!("{sheets} · {ties}"), SMALL, room);
    draft.text(Layer::Notes, small((x, foot - 7.4), &line, Align::Centre));
}
