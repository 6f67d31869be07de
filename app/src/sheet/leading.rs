//! Dimensions that are led to where they belong: heights of rows at the left, distances of ties below.

use super::dims::{Bands, GAP, STRIP, from_here};
use super::draft::{Draft, SMALL, THIN, small};
use super::font::Face;
use super::model::{Align, Graphic, Layer};
use super::place::{Taken, spread};
use super::view::{View, Wall};

/// Least distance between labels side by side, mm.
const LABEL_PITCH: f64 = 3.5;

/// Least distance between the heights of rows, one above the other, mm.
pub(super) const ROW_PITCH: f64 = 3.1;

/// The same where more rows would be left without one.
const TIGHT_ROW_PITCH: f64 = 2.9;

/// Furthest that the label of a distance is led off from its place, and how much lower labels so far off stand, mm:
/// the next where labels would be left out.
const REACHES: [(f64, f64); 4] = [(5.0, 0.0), (8.0, 1.5), (12.0, 3.0), (17.0, 4.5)];

/// Labels of the distances of ties below a piece of wall.
pub(super) struct Runs {
    texts: Vec<String>,
    /// Where each belongs, mm of paper from the left of what is drawn.
    wanted: Vec<f64>,
    /// Those that have room, and where they stand.
    placed: Vec<(usize, f64)>,
    /// The longest, mm.
    pub length: f64,
    /// How much lower they stand than beside their places, mm.
    pub fall: f64,
}

impl Runs {
    /// Labels close to their places; some may be left out.
    pub fn of(wall: &Wall<'_>, scale: u32) -> Self {
        let texts: Vec<String> = wall.runs.iter().map(|(r, _)| wall.style.mm(r.round())).collect();
        let length = texts.iter().map(|t| Face::Condensed.width(t, SMALL)).fold(0.0, f64::max);
        let length = length.max(Face::Condensed.width("0", SMALL));
        let (from, scale) = (wall.bounds.left - wall.extent.left, f64::from(scale));
        let wanted = wall.runs.iter().map(|(r, _)| (from + r) / scale).collect();
        let mut runs = Self { texts, wanted, placed: Vec::new(), length, fall: 0.0 };
        runs.place(wall, scale, REACHES[0].0);
        runs
    }

    fn place(&mut self, wall: &Wall<'_>, scale: f64, furthest: f64) {
        let width = wall.extent.width() / scale;
        self.placed = shared_most(&self.wanted, |i| wall.runs[i].1, (1.0, width + 2.0), furthest);
    }

    /// Leads labels further off and lower, by no more than `spare`, where that finds all of them room.
    pub fn find_room(&mut self, wall: &Wall<'_>, scale: u32, spare: f64) {
        let near = std::mem::take(&mut self.placed);
        let enough = near.len() == self.texts.len();
        for (furthest, fall) in REACHES.into_iter().skip(1).filter(|r| !enough && r.1 <= spare) {
            self.place(wall, f64::from(scale), furthest);
            if self.placed.len() == self.texts.len() {
                self.fall = fall;
                return;
            }
        }
        self.placed = near;
    }

    /// The distances left without a label, by their number.
    pub fn left_out(&self) -> Vec<usize> {
        (0..self.texts.len()).filter(|i| self.placed.iter().all(|p| p.0 != *i)).collect()
    }
}

/// Which of many labels to keep where there is room for a few: evenly, first and last among them.
fn thin_out(count: usize, room: usize) -> Vec<usize> {
    if count <= room {
        return (0..count).collect();
    }
    match room {
        0 => Vec::new(),
        1 => vec![0],
        _ => {
            let mut kept: Vec<usize> = (0..room).map(|i| i * (count - 1) / (room - 1)).collect();
            kept.dedup();
            kept
        }
    }
}

/// Keeps as many labels as there is room for and spreads them: index and position of each.
pub(super) fn arrange(wanted: &[f64], pitch: f64, low: f64, high: f64) -> Vec<(usize, f64)> {
    let room = ((high - low) / pitch + 1e-9).floor().max(0.0) as usize + 1;
    spread_out(wanted, &thin_out(wanted.len(), room), pitch, low, high).unwrap_or_default()
}

fn spread_out(wanted: &[f64], kept: &[usize], pitch: f64, low: f64, high: f64) -> Option<Vec<(usize, f64)>> {
    let places: Vec<f64> = kept.iter().map(|&i| wanted[i]).collect();
    Some(kept.iter().copied().zip(spread(&places, pitch, low, high)?).collect())
}

/// Labels of the places that most ties share, as many as can stand near enough to their places.
fn shared_most(
    wanted: &[f64],
    ties: impl Fn(usize) -> usize,
    (low, high): (f64, f64),
    furthest: f64,
) -> Vec<(usize, f64)> {
    let mut order: Vec<usize> = (0..wanted.len()).collect();
    order.sort_by_key(|&i| std::cmp::Reverse(ties(i)));
    let (mut kept, mut placed): (Vec<usize>, Vec<(usize, f64)>) = (Vec::new(), Vec::new());
    for i in order {
        let at = kept.partition_point(|&k| k < i);
        kept.insert(at, i);
        match spread_out(wanted, &kept, LABEL_PITCH, low, high) {
            Some(p) if p.iter().all(|&(k, x)| (x - wanted[k]).abs() <= furthest) => placed = p,
            _ => {
                kept.remove(at);
            }
        }
    }
    placed
}

/// Row heights at the left: course, height, a leader to the row. Returns which were left out.
pub(super) fn rows(draft: &mut Draft, wall: &Wall<'_>, view: &View, bands: &Bands) -> Vec<usize> {
    let edge = view.wall.left - STRIP;
    let right = edge - 4.6;
    let gap = |width: f64| if width > 0.0 { width + GAP } else { 0.0 };
    let height_right = right - gap(bands.steps);
    let course_right = height_right - bands.heights - GAP;
    let b = &view.wall;
    let seen: Vec<usize> =
        (0..bands.rows.len()).filter(|&i| view.window.contains((b.left, view.y(bands.rows[i].y)))).collect();
    let wanted: Vec<f64> = seen.iter().map(|&i| view.y(bands.rows[i].y)).collect();
    let (low, high) = (b.bottom - 2.0, b.top + 2.0);
    let mut placed = arrange(&wanted, ROW_PITCH, low, high);
    if placed.len() < wanted.len() {
        placed = arrange(&wanted, TIGHT_ROW_PITCH, low, high);
    }
    let labelled = |row: usize| placed.iter().any(|&(i, _)| seen[i] == row);
    let left_out = (0..wall.rows.len()).filter(|&i| !labelled(i)).collect();
    for (i, y) in placed.iter().copied() {
        let row = &bands.rows[seen[i]];
        for (x, text) in [(right, &row.step), (height_right, &row.height), (course_right, &row.course)] {
            draft.text(Layer::Dimensions, small((x, y - SMALL / 2.0), text, Align::Right));
        }
    }
    for (i, y) in placed.iter().copied() {
        let at = wanted[i];
        draft.line(Layer::Dimensions, (right + 0.8, y), (right + 1.8, y), THIN);
        draft.leader(Layer::Dimensions, (right + 1.8, y), (edge - 0.6, at));
        draft.broken_line(Layer::Dimensions, (edge - 0.6, at), (b.left, at), THIN, 0.0);
    }
    if !placed.is_empty() {
        let top = placed.last().map_or(b.top, |p| p.1) + SMALL / 2.0 + 2.2;
        let w = wall.style.words;
        let course = if bands.courses > 0.0 { w.course } else { "" };
        let step = if bands.steps > 0.0 { w.step } else { "" };
        for (k, (x, head)) in
            [(right, step), (height_right, w.height), (course_right, course)].into_iter().enumerate()
        {
            // Heads are wider than their columns: each stands on a line of its own, stepped.
            draft.text(Layer::Dimensions, small((x, top + 3.6 * k as f64), head, Align::Right));
        }
    }
    left_out
}

/// Distances of ties from the left end of the wall.
pub(super) fn runs(draft: &mut Draft, wall: &Wall<'_>, view: &View, bands: &Bands, y: f64) {
    if wall.runs.is_empty() {
        return;
    }
    let (b, runs) = (&view.wall, &bands.runs);
    let axis = y - 1.0;
    draft.line(Layer::Dimensions, (b.left, axis), (b.right, axis), THIN);
    draft.room.take_line((b.left, axis), (b.right, axis), Taken::Line);
    if !wall.cuts[0] {
        let datum = Graphic::Circle { centre: (b.left, axis), radius: 0.7, width: THIN };
        draft.push(Layer::Dimensions, datum);
    }
    for x in runs.wanted.iter().map(|x| b.left + x) {
        draft.line(Layer::Dimensions, (x, axis - 0.8), (x, axis + 0.8), THIN);
    }
    for &(i, x) in &runs.placed {
        let (at, x, y) = (b.left + runs.wanted[i], b.left + x, axis - 3.4 - runs.fall);
        draft.line(Layer::Dimensions, (at, axis - 0.8), (x, y), THIN);
        let text = small((x + SMALL / 2.0, y - 0.6), &runs.texts[i], Align::Right).turned(90.0);
        draft.text(Layer::Dimensions, text);
    }
    let from = from_here(wall);
    for (words, drop) in [(from[0], 1.2), (from[1], 1.2 + 1.5 * SMALL)] {
        draft.text(Layer::Dimensions, small((b.left - 1.6, axis - drop), words, Align::Right));
    }
}
