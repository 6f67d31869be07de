//! A wall too long for one sheet, cut into pieces at match lines.

use super::dims::{Bands, LINE_STEP};
use super::draft::{Draft, SMALL, THICK, THIN, small};
use super::elevation::zones;
use super::font::Face;
use super::geom::{PaperPoint, Rect};
use super::model::{Align, Dash, Layer, Text};
use super::paper::Paper;
use super::place::Taken;
use super::view::{View, Wall};
use super::words::fill;
use layout_core::elevation::{Point, shape_bounds};

/// What is shown again beyond a match line, mm of paper.
const OVERLAP: f64 = 9.0;

/// Left over at the ends of a piece for what cannot be foreseen, mm of paper.
const SPARE: f64 = 1.0;

/// Between lines of the label of a match line, mm.
const PITCH: f64 = 3.6;

/// From the top of what is drawn to the labels of upright match lines, over the label of a level one, mm of paper.
const UPRIGHT_LABEL: f64 = 6.3;

/// Rows and columns of pieces.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Grid {
    pub columns: usize,
    pub rows: usize,
    /// How far a match line may stand from where it would make equal pieces, mm of paper.
    slack: (f64, f64),
}

impl Grid {
    pub const ONE: Self = Self { columns: 1, rows: 1, slack: (0.0, 0.0) };

    pub fn count(&self) -> usize {
        self.columns * self.rows
    }
}

/// The fewest pieces that fit a paper at a scale; `None` where even many do not.
pub(super) fn grid(wall: &Wall<'_>, paper: Paper, scale: u32, most: usize) -> Option<Grid> {
    let bands = Bands::of(wall, scale);
    let room = zones(paper, 1e9, 1).drawing;
    let [more_left, more_below, more_right] = bands.more;
    let across = |size: f64, room: f64, more: f64| -> Option<(usize, f64)> {
        let size = size / f64::from(scale);
        if size <= room {
            return Some((1, 0.0));
        }
        // Every piece but the outermost loses an overlap at both its ends.
        let each = room - 2.0 * OVERLAP - more - SPARE;
        if each <= 30.0 {
            return None;
        }
        let n = (size / each).ceil().max(2.0);
        // A piece between two match lines may lose or gain at both; of two pieces each has but one.
        let slack = if n > 2.0 { (each - size / n) / 2.0 } else { each + OVERLAP - size / n };
        Some((n as usize, slack))
    };
    let height = room.height() - bands.bottom - bands.top;
    let (rows, slack_y) = across(wall.bounds.height(), height, more_below)?;
    // Pieces above each other have no overall height.
    let right = bands.right - if rows > 1 { LINE_STEP } else { 0.0 };
    let width = room.width() - bands.left - right;
    let (columns, slack_x) = across(wall.bounds.width(), width, more_left + more_right)?;
    let grid = Grid { columns, rows, slack: (slack_x, slack_y) };
    (columns <= most && rows <= most && grid.count() <= most).then_some(grid)
}

/// The pieces of a wall, row by row from below, each from the left.
pub(super) fn pieces<'a>(wall: &Wall<'a>, scale: u32, grid: &Grid) -> Vec<Wall<'a>> {
    let b = &wall.bounds;
    let over = OVERLAP * f64::from(scale);
    let slack = (grid.slack.0 * f64::from(scale), grid.slack.1 * f64::from(scale));
    let clear = CLEAR * f64::from(scale);
    let xs = cuts(b.left, b.right, grid.columns, slack.0, &|x| disturbance(wall, x, clear, true));
    let ys = cuts(b.bottom, b.top, grid.rows, slack.1, &|y| disturbance(wall, y, clear, false));
    let mut all = Vec::new();
    for y in ys.windows(2) {
        for x in xs.windows(2) {
            let sides = [x[0] > b.left, y[0] > b.bottom, x[1] < b.right, y[1] < b.top];
            let (n, row) = (all.len() + 1, grid.columns);
            let neighbours = [n.wrapping_sub(1), n.wrapping_sub(row), n + 1, n + row];
            let mut piece = wall.piece(Rect::new(x[0], y[0], x[1], y[1]), sides, over);
            piece.beyond = std::array::from_fn(|i| sides[i].then_some(neighbours[i]));
            all.push(piece);
        }
    }
    all
}

/// Match lines stand at multiples of this from the end of the wall, mm.
const ROUND: f64 = 25.0;

/// A tie closer to a match line than this leaves too little room for its mark, mm of paper.
const CLEAR: f64 = 6.0;

/// Places tried either side of an equal cut.
const TRIES: i32 = 24;

/// Where to cut: near equal lengths, at the quietest place within some slack either way.
fn cuts(from: f64, to: f64, n: usize, slack: f64, disturbed: &dyn Fn(f64) -> f64) -> Vec<f64> {
    let mut all = vec![from];
    for i in 1..n {
        let wanted = from + (to - from) * i as f64 / n as f64;
        let mut best = (f64::INFINITY, wanted);
        for k in -TRIES..=TRIES {
            let at = wanted + slack * f64::from(k) / f64::from(TRIES);
            let cost = disturbed(at) + f64::from(k).abs() * 0.01;
            if cost < best.0 {
                best = (cost, at);
            }
        }
        // To a round figure from the end of the wall, which is what is measured.
        all.push(from + ((best.1 - from) / ROUND).round() * ROUND);
    }
    all.push(to);
    all
}

/// How much a match line at a place cuts through: openings, and ties closer to it than `clear`, the closer the
/// more.
fn disturbance(wall: &Wall<'_>, at: f64, clear: f64, upright: bool) -> f64 {
    let along = |p: Point| if upright { p.0 } else { p.1 };
    let near: f64 = wall.plan.ties.iter().map(|t| (1.0 - (along(t.at) - at).abs() / clear).max(0.0)).sum();
    let through = wall.elevation.openings.iter().map(|o| shape_bounds(&o.shape)).filter(|&(l, b, r, t)| {
        let (low, high) = if upright { (l, r) } else { (b, t) };
        at > low - 20.0 && at < high + 20.0
    });
    near + 3.0 * through.count() as f64
}

/// Draws the match lines of a piece, each with the coordinate it stands at and the sheet on which the wall goes on,
/// and the edge of what is shown again beyond them.
pub(super) fn match_lines(draft: &mut Draft, wall: &Wall<'_>, view: &View) {
    let w = view.rect(&wall.window);
    let (e, style) = (&view.wall, wall.style);
    let [left, bottom, right, top] = wall.cuts;
    let c = e.corners();
    for (cut, a, b) in [(left, c[0], c[3]), (bottom, c[0], c[1]), (right, c[1], c[2]), (top, c[3], c[2])] {
        if cut {
            draft.styled(Layer::Notes, a, b, THIN, Dash::Dotted, 0.0);
        }
    }
    let words = style.words;
    let named = |axis: &str, v: f64| fill(words.match_line, &[axis, &style.mm(v.round())]);
    let along_x = [(left, w.left, wall.window.left, 0), (right, w.right, wall.window.right, 2)];
    for (_, x, value, side) in along_x.into_iter().filter(|l| l.0) {
        line(draft, (x, e.bottom - 2.0), (x, e.top + UPRIGHT_LABEL - 1.2));
        let lines = [named("x", value - wall.bounds.left), words.continues_on.to_owned()];
        label(draft, &view.window, (x, e.top + UPRIGHT_LABEL), &lines, wall.beyond[side]);
    }
    // Between the upright lines, or out over the ends of the wall.
    let clear =
        (if left { w.left + 1.5 } else { e.left - 6.0 }, if right { w.right - 1.5 } else { e.right + 6.0 });
    let along_y = [(bottom, w.bottom, wall.window.bottom, 1), (top, w.top, wall.window.top, 3)];
    for (_, y, value, side) in along_y.into_iter().filter(|l| l.0) {
        line(draft, (e.left - 2.0, y), (e.right + 2.0, y));
        let name = named("y", value);
        let wordings = [words.continues_on, words.on_sheet].map(|w| format!("{name} – {w}"));
        // In the clear above or below what is drawn: the line itself is among ties.
        let (y, from, to) = if side == 1 {
            (e.bottom - 2.0 - SMALL, e.left, view.window.right)
        } else {
            (e.top + 1.7, clear.0, clear.1)
        };
        let half = |text: &String| Face::Condensed.width(text, SMALL) / 2.0;
        let fits = |text: &&String| 2.0 * half(text) <= to - from;
        let (text, beyond) = match wordings.iter().find(fits) {
            Some(text) => (text, wall.beyond[side]),
            None => (&name, None),
        };
        let x = e.centre().0.min(to - half(text)).max(from + half(text));
        label(draft, &view.window, (x, y), std::slice::from_ref(text), beyond);
    }
}

/// Lines of the label of a match line, the last with a gap for the sheet of the part beyond, over a place.
fn label(draft: &mut Draft, area: &Rect, (x, y): PaperPoint, lines: &[String], beyond: Option<usize>) {
    for (i, words) in lines.iter().rev().enumerate() {
        let text = within(small((x, y + PITCH * i as f64), words, Align::Centre), area);
        match beyond {
            Some(part) if i == 0 => draft.refer(Layer::Notes, text, part),
            _ => draft.text(Layer::Notes, text),
        }
    }
}

/// Lettering pushed back inside an area that it leaves at the left or right.
fn within(text: Text, area: &Rect) -> Text {
    let Some(r) = Rect::round(text.quad()) else { return text };
    let push = (area.left - r.left).max(0.0) + (area.right - r.right).min(0.0);
    Text { at: (text.at.0 + push, text.at.1), ..text }
}

fn line(draft: &mut Draft, a: PaperPoint, b: PaperPoint) {
    draft.styled(Layer::Notes, a, b, THICK, Dash::DashDot, 0.0);
    draft.room.take_line(a, b, Taken::Line);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_cut_keeps_clear_of_what_it_would_cut_through() {
        // Half of 10,000 lies in a window from 4,900 to 5,100; the places tried are 25 apart, the nearest
        // clear one five of them off.
        let window = |x: f64| if (4900.0..=5100.0).contains(&x) { 3.0 } else { 0.0 };
        assert_eq!(cuts(0.0, 10_000.0, 2, 600.0, &window), vec![0.0, 4875.0, 10_000.0]);
        assert_eq!(cuts(0.0, 9000.0, 3, 600.0, &|_| 0.0), vec![0.0, 3000.0, 6000.0, 9000.0]);
    }
}
