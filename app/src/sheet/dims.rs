//! Dimensions round the wall: row heights at the left, ties from one datum and a chain of openings
//! below, a chain of heights at the right, overall sizes.

use super::draft::{Draft, MEDIUM, SMALL, THIN, small};
use super::font::Face;
use super::geom::{PaperPoint, Rect};
use super::model::{Align, Dash, Graphic, Layer, Text};
use super::place::{Taken, spread};
use super::view::{View, Wall};
use super::words::{self, Style, fill};
use layout_core::elevation::{SideCondition, outline_sides};

/// Strip next to the wall for what holds its sides, mm.
const STRIP: f64 = 4.6;

/// Least distance between labels side by side, mm.
const LABEL_PITCH: f64 = 3.5;

/// Least distance between the heights of rows, one above the other, mm.
const ROW_PITCH: f64 = 3.1;

/// Furthest that the label of a distance is led off from its place, mm.
const FURTHEST: f64 = 5.0;

/// From one dimension line to the next, mm.
const LINE_STEP: f64 = 6.2;

/// Room a second row of figures takes beyond a chain, mm.
const TIER: f64 = 4.6;

/// Room for the name and scale below the drawing, mm.
pub(super) const CAPTION: f64 = 15.0;

/// Column at the far left for what holds that side of the wall, mm.
const SIDE_WORDS: f64 = 4.4;

/// A label of a row at the left: course, height, and step from the row below.
struct RowLabel {
    y: f64,
    course: String,
    height: String,
    step: String,
}

/// What the dimensions need round the wall, paper mm.
pub(super) struct Bands {
    pub left: f64,
    pub right: f64,
    pub bottom: f64,
    pub top: f64,
    rows: Vec<RowLabel>,
    /// Widths of the columns of steps and of courses; 0 where there is none.
    steps: f64,
    courses: f64,
    heights: f64,
    runs: Vec<String>,
    run_length: f64,
    narrow_x: bool,
    narrow_y: bool,
    /// From the wall to the middle of the words for its left side; none where it has none.
    pub side_words: Option<f64>,
}

impl Bands {
    pub fn of(wall: &Wall<'_>, scale: u32) -> Self {
        let face = Face::Condensed;
        let longest = |texts: &[String]| texts.iter().map(|t| face.width(t, SMALL)).fold(0.0, f64::max);
        let column = |of: fn(&RowLabel) -> &str, rows: &[RowLabel]| {
            rows.iter().map(|r| face.width(of(r), SMALL)).fold(0.0, f64::max)
        };
        let mut rows = row_labels(wall);
        // Steps stand only where every row has its label: else they would not add up.
        let room = (wall.extent.height() / f64::from(scale) + 4.0) / ROW_PITCH;
        if rows.len() as f64 > room + 1.0 {
            rows.iter_mut().for_each(|r| r.step.clear());
        }
        let (steps, courses) = (column(|r| &r.step, &rows), column(|r| &r.course, &rows));
        let heights = column(|r| &r.height, &rows);
        let runs: Vec<String> = wall.runs.iter().map(|(r, _)| wall.style.mm(r.round())).collect();
        let run_length = longest(&runs).max(face.width("0", SMALL));
        let narrow = |stops: &[f64]| segments(stops, scale, wall.style).iter().any(|s| !s.fits);
        let (narrow_x, narrow_y) = (narrow(&wall.stops_x), narrow(&wall.stops_y));
        let tier = |narrow: bool| if narrow { TIER } else { 0.0 };
        let gap = |width: f64| if width > 0.0 { width + GAP } else { 0.0 };
        let labels = STRIP + 5.0 + heights + gap(steps) + gap(courses);
        // The head of the outermost column is wider than the column.
        let (column, head) = if courses > 0.0 {
            (courses, wall.style.words.course)
        } else {
            (heights, wall.style.words.height)
        };
        let labels = labels + (face.width(head, SMALL) - column).max(0.0);
        let side = if has_left_words(wall) { SIDE_WORDS } else { 0.0 };
        let (across, up) = (!wall.cuts[0] && !wall.cuts[2], !wall.cuts[1] && !wall.cuts[3]);
        let overall = |whole: bool| if whole { LINE_STEP } else { 0.0 };
        Self {
            left: (labels + side).max(longest(&from_here(wall).map(str::to_owned)) + 2.6),
            side_words: (side > 0.0).then_some(labels + side - SMALL / 2.0 - 0.4),
            right: STRIP + LINE_STEP + tier(narrow_y) + overall(up) + 0.6,
            bottom: STRIP + 5.0 + run_length + LINE_STEP + overall(across) + tier(narrow_x) + 2.0 + CAPTION,
            top: 13.0,
            rows,
            steps,
            courses,
            heights,
            runs,
            run_length,
            narrow_x,
            narrow_y,
        }
    }
}

/// Between columns of row labels, mm.
const GAP: f64 = 1.8;

/// Says what the distances of ties are measured from.
fn from_here(wall: &Wall<'_>) -> [&'static str; 2] {
    if wall.cuts[0] { wall.style.words.from_left_end } else { wall.style.words.from_here }
}

/// Whether a side of the outline stands upright at the left end of the wall.
pub(super) fn at_left_end(wall: &Wall<'_>, a: (f64, f64), b: (f64, f64)) -> bool {
    let left = wall.bounds.left;
    (a.0 - left).abs() < 1.0 && (b.0 - left).abs() < 1.0
}

fn has_left_words(wall: &Wall<'_>) -> bool {
    let ring = &wall.elevation.outline;
    !wall.cuts[0]
        && outline_sides(wall.elevation).iter().enumerate().any(|(i, side)| {
            at_left_end(wall, ring[i], ring[(i + 1) % ring.len()]) && *side != SideCondition::Base
        })
}

fn row_labels(wall: &Wall<'_>) -> Vec<RowLabel> {
    let style = wall.style;
    let mut below: Option<f64> = None;
    let label = |row: &super::view::Row| {
        let step = below.map_or_else(String::new, |b| format!("+{}", style.mm(row.y - b)));
        below = Some(row.y);
        RowLabel {
            y: row.y,
            course: words::course(wall.elevation, row.y, style),
            height: style.mm(row.y),
            step,
        }
    };
    wall.rows.iter().map(label).collect()
}

/// A stretch of a dimension chain.
struct Segment {
    from: f64,
    to: f64,
    text: String,
    /// Whether its figure fits between its ends.
    fits: bool,
}

fn segments(stops: &[f64], scale: u32, style: Style) -> Vec<Segment> {
    stops
        .windows(2)
        .map(|w| {
            let text = style.mm(w[1] - w[0]);
            let room = (w[1] - w[0]) / f64::from(scale);
            let fits = Face::Condensed.width(&text, SMALL) + 1.4 <= room;
            Segment { from: w[0], to: w[1], text, fits }
        })
        .collect()
}

/// Labels left out for want of room.
#[derive(Default)]
pub(super) struct LeftOut {
    pub rows: usize,
    pub runs: usize,
    pub chain: usize,
}

/// Draws all dimensions.
pub(super) fn draw(draft: &mut Draft, wall: &Wall<'_>, view: &View, bands: &Bands) -> LeftOut {
    let mut out = LeftOut { rows: rows(draft, wall, view, bands), ..LeftOut::default() };
    let below = view.wall.bottom - STRIP;
    out.runs = runs(draft, wall, view, bands, below);
    let chain_y = below - 5.0 - bands.run_length - LINE_STEP;
    let overall_y = chain_y - LINE_STEP - if bands.narrow_x { TIER } else { 0.0 };
    let chain_x = view.wall.right + STRIP + LINE_STEP;
    let overall_x = chain_x + LINE_STEP + if bands.narrow_y { TIER } else { 0.0 };
    let scale = view.scale as u32;
    let level = Axis { upright: false, at: chain_y };
    let upright = Axis { upright: true, at: chain_x };
    let (w, b) = (&wall.bounds, &view.wall);
    let [cut_left, cut_bottom, cut_right, cut_top] = wall.cuts;
    let (across, up) = (!cut_left && !cut_right, !cut_bottom && !cut_top);
    // One stretch from end to end is the overall dimension.
    let chained = |stops: &[f64], whole: bool| stops.len() > if whole { 2 } else { 1 };
    let (chain_across, chain_up) = (chained(&wall.stops_x, across), chained(&wall.stops_y, up));
    if chain_across {
        let all = segments(&wall.stops_x, scale, wall.style);
        out.chain += chain(draft, &level, &all, |x| view.x(x), (b.left, b.right));
    }
    if chain_up {
        let all = segments(&wall.stops_y, scale, wall.style);
        out.chain += chain(draft, &upright, &all, |y| view.y(y), (b.bottom, b.top));
    }
    for (cut, axis, from, to) in [
        (cut_left && chain_across, &level, b.left, wall.stops_x.first().map(|&x| view.x(x))),
        (cut_right && chain_across, &level, b.right, wall.stops_x.last().map(|&x| view.x(x))),
        (cut_bottom && chain_up, &upright, b.bottom, wall.stops_y.first().map(|&y| view.y(y))),
        (cut_top && chain_up, &upright, b.top, wall.stops_y.last().map(|&y| view.y(y))),
    ] {
        // What runs on over a match line has its figure on the sheet where both its ends are.
        if let (true, Some(to)) = (cut, to) {
            draft.styled(
                Layer::Dimensions,
                axis.point(from, 0.0),
                axis.point(to, 0.0),
                THIN,
                Dash::Dashed,
                0.0,
            );
        }
    }
    if across {
        overall(draft, &Axis { upright: false, at: overall_y }, (b.left, b.right), &wall.style.mm(w.width()));
    }
    if up {
        overall(draft, &Axis { upright: true, at: overall_x }, (b.bottom, b.top), &wall.style.mm(w.height()));
    }
    let ends = (if up { overall_x } else { chain_x }, if across { overall_y } else { chain_y });
    extensions(draft, wall, view, ends.0, ends.1, (chain_x, chain_y));
    out
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
fn arrange(wanted: &[f64], pitch: f64, low: f64, high: f64) -> Vec<(usize, f64)> {
    let room = ((high - low) / pitch + 1e-9).floor().max(0.0) as usize + 1;
    spread_out(wanted, &thin_out(wanted.len(), room), pitch, low, high).unwrap_or_default()
}

fn spread_out(wanted: &[f64], kept: &[usize], pitch: f64, low: f64, high: f64) -> Option<Vec<(usize, f64)>> {
    let places: Vec<f64> = kept.iter().map(|&i| wanted[i]).collect();
    Some(kept.iter().copied().zip(spread(&places, pitch, low, high)?).collect())
}

/// Labels of the places that most ties share, as many as can stand near enough to their places.
fn shared_most(wanted: &[f64], ties: impl Fn(usize) -> usize, low: f64, high: f64) -> Vec<(usize, f64)> {
    let mut order: Vec<usize> = (0..wanted.len()).collect();
    order.sort_by_key(|&i| std::cmp::Reverse(ties(i)));
    let (mut kept, mut placed): (Vec<usize>, Vec<(usize, f64)>) = (Vec::new(), Vec::new());
    for i in order {
        let at = kept.partition_point(|&k| k < i);
        kept.insert(at, i);
        match spread_out(wanted, &kept, LABEL_PITCH, low, high) {
            Some(p) if p.iter().all(|&(k, x)| (x - wanted[k]).abs() <= FURTHEST) => placed = p,
            _ => {
                kept.remove(at);
            }
        }
    }
    placed
}

/// Row heights at the left: course, height, a leader to the row. Returns how many were left out.
fn rows(draft: &mut Draft, wall: &Wall<'_>, view: &View, bands: &Bands) -> usize {
    let edge = view.wall.left - STRIP;
    let right = edge - 4.6;
    let gap = |width: f64| if width > 0.0 { width + GAP } else { 0.0 };
    let height_right = right - gap(bands.steps);
    let course_right = height_right - bands.heights - GAP;
    let b = &view.wall;
    let seen: Vec<usize> =
        (0..bands.rows.len()).filter(|&i| view.window.contains((b.left, view.y(bands.rows[i].y)))).collect();
    let wanted: Vec<f64> = seen.iter().map(|&i| view.y(bands.rows[i].y)).collect();
    let placed = arrange(&wanted, ROW_PITCH, b.bottom - 2.0, b.top + 2.0);
    let left_out = wall.rows.len() - placed.len();
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

/// Distances of ties from the left end of the wall. Returns how many were left out.
fn runs(draft: &mut Draft, wall: &Wall<'_>, view: &View, bands: &Bands, y: f64) -> usize {
    if wall.runs.is_empty() {
        return 0;
    }
    let b = &view.wall;
    let all: Vec<f64> = wall.runs.iter().map(|(r, _)| view.x(wall.bounds.left + r)).collect();
    let seen: Vec<usize> =
        (0..all.len()).filter(|&i| all[i] >= b.left - 0.1 && all[i] <= b.right + 0.1).collect();
    let wanted: Vec<f64> = seen.iter().map(|&i| all[i]).collect();
    let placed = shared_most(&wanted, |i| wall.runs[seen[i]].1, b.left + 1.0, b.right + 2.0);
    let axis = y - 1.0;
    draft.line(Layer::Dimensions, (b.left, axis), (b.right, axis), THIN);
    draft.room.take_line((b.left, axis), (b.right, axis), Taken::Line);
    if !wall.cuts[0] {
        let datum = Graphic::Circle { centre: (b.left, axis), radius: 0.7, width: THIN };
        draft.push(Layer::Dimensions, datum);
    }
    for &x in &wanted {
        draft.line(Layer::Dimensions, (x, axis - 0.8), (x, axis + 0.8), THIN);
    }
    for &(i, x) in &placed {
        let at = wanted[i];
        draft.line(Layer::Dimensions, (at, axis - 0.8), (x, axis - 3.4), THIN);
        let text = small((x + SMALL / 2.0, axis - 4.0), &bands.runs[seen[i]], Align::Right).turned(90.0);
        draft.text(Layer::Dimensions, text);
    }
    let from = from_here(wall);
    for (words, drop) in [(from[0], 1.2), (from[1], 1.2 + 1.5 * SMALL)] {
        draft.text(Layer::Dimensions, small((b.left - 1.6, axis - drop), words, Align::Right));
    }
    wall.runs.len() - placed.len()
}

/// A dimension line: level at a height, or upright at a distance from the left.
struct Axis {
    upright: bool,
    at: f64,
}

impl Axis {
    /// A point `along` the line, `off` to its far side.
    fn point(&self, along: f64, off: f64) -> PaperPoint {
        if self.upright { (self.at + off, along) } else { (along, self.at - off) }
    }

    fn text(&self, along: f64, off: f64, text: &str) -> Text {
        let angle = if self.upright { 90.0 } else { 0.0 };
        small(self.point(along, off), text, Align::Centre).turned(angle)
    }

    /// The slanting stroke at a stop.
    fn tick(&self, draft: &mut Draft, along: f64) {
        let (x, y) = self.point(along, 0.0);
        draft.line(Layer::Dimensions, (x - 0.9, y - 0.9), (x + 0.9, y + 0.9), MEDIUM);
    }
}

/// A chain of dimensions. Returns how many figures were left out.
fn chain(
    draft: &mut Draft,
    axis: &Axis,
    all: &[Segment],
    on_paper: impl Fn(f64) -> f64,
    (low, high): (f64, f64),
) -> usize {
    let (Some(first), Some(last)) = (all.first(), all.last()) else { return 0 };
    let ends = (axis.point(on_paper(first.from), 0.0), axis.point(on_paper(last.to), 0.0));
    draft.line(Layer::Dimensions, ends.0, ends.1, THIN);
    draft.room.take_line(ends.0, ends.1, Taken::Line);
    axis.tick(draft, on_paper(first.from));
    for s in all {
        axis.tick(draft, on_paper(s.to));
        if s.fits {
            let middle = f64::midpoint(on_paper(s.from), on_paper(s.to));
            draft.text(Layer::Dimensions, axis.text(middle, -0.9, &s.text));
        }
    }
    let narrow: Vec<&Segment> = all.iter().filter(|s| !s.fits).collect();
    let wanted: Vec<f64> = narrow.iter().map(|s| f64::midpoint(on_paper(s.from), on_paper(s.to))).collect();
    let widest = narrow.iter().map(|s| Face::Condensed.width(&s.text, SMALL)).fold(0.0, f64::max);
    let placed = arrange(&wanted, widest + 1.2, low, high);
    for &(i, along) in &placed {
        draft.line(Layer::Dimensions, axis.point(wanted[i], 0.0), axis.point(along, 1.7), THIN);
        draft.text(Layer::Dimensions, axis.text(along, 2.0 + SMALL, &narrow[i].text));
    }
    narrow.len() - placed.len()
}

fn overall(draft: &mut Draft, axis: &Axis, (from, to): (f64, f64), text: &str) {
    draft.line(Layer::Dimensions, axis.point(from, 0.0), axis.point(to, 0.0), THIN);
    draft.room.take_line(axis.point(from, 0.0), axis.point(to, 0.0), Taken::Line);
    axis.tick(draft, from);
    axis.tick(draft, to);
    draft.text(Layer::Dimensions, axis.text(f64::midpoint(from, to), -0.9, text));
}

/// Fine lines from the wall to the dimension lines, left out where they would run over lettering.
fn extensions(
    draft: &mut Draft,
    wall: &Wall<'_>,
    view: &View,
    overall_x: f64,
    overall_y: f64,
    (chain_x, chain_y): (f64, f64),
) {
    let (w, b) = (&wall.bounds, &view.wall);
    // A stop of no dimension line has no line to it.
    let [left, bottom, right, top] = wall.cuts;
    let lone = |stops: &[f64], cut: bool| cut && stops.len() < 2;
    for &x in wall.stops_x.iter().filter(|_| !lone(&wall.stops_x, left || right)) {
        let end = (x - w.left).abs() < 1.0 || (w.right - x).abs() < 1.0;
        let to = if end { overall_y - 1.2 } else { chain_y - 1.2 };
        let (a, b) = ((view.x(x), b.bottom - 1.0), (view.x(x), to));
        draft.broken_line(Layer::Dimensions, a, b, THIN, 0.0);
        draft.room.take_line(a, b, Taken::Line);
    }
    for &y in wall.stops_y.iter().filter(|_| !lone(&wall.stops_y, bottom || top)) {
        let end = (y - w.bottom).abs() < 1.0 || (w.top - y).abs() < 1.0;
        let to = if end { overall_x + 1.2 } else { chain_x + 1.2 };
        let (a, b) = ((b.right + 1.0, view.y(y)), (to, view.y(y)));
        draft.broken_line(Layer::Dimensions, a, b, THIN, 0.0);
        draft.room.take_line(a, b, Taken::Line);
    }
}

/// Name and scale below the drawing, with a scale bar.
pub(super) fn caption(draft: &mut Draft, wall: &Wall<'_>, name: &str, scale: u32, area: &Rect) {
    let style = wall.style;
    let bar = 74.0_f64.min(area.width() * 0.45);
    let metres = [0.05, 0.1, 0.2, 0.25, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0];
    let length = |m: f64| m * 1000.0 / f64::from(scale);
    let unit = metres.into_iter().filter(|&m| 4.0 * length(m) <= bar).fold(0.05, f64::max);
    let (step, base) = (length(unit), area.bottom + 1.5);
    let left = area.right - 4.0 * step - 8.0;
    for i in 0..4 {
        let r = Rect::new(left + f64::from(i) * step, base, left + f64::from(i + 1) * step, base + 1.6);
        if i % 2 == 0 {
            draft.fill(Layer::Notes, r.corners().to_vec(), 0.0);
        }
        draft.rect(Layer::Notes, &r, THIN);
    }
    let widest = (1..4).map(|i| style.figure(f64::from(i) * unit));
    let widest = widest.map(|t| Face::Condensed.width(&t, SMALL)).fold(0.0, f64::max);
    // Where the steps are short, every other has its figure.
    for i in (0..=4).step_by(if step < widest + 1.0 { 2 } else { 1 }) {
        let figure = style.figure(f64::from(i) * unit);
        let at = (left + f64::from(i) * step, base + 2.9);
        draft.text(Layer::Notes, small(at, &figure, Align::Centre));
    }
    draft.text(Layer::Notes, small((area.right - 4.6, base + 2.9), "m", Align::Left));
    let face = Face::Bold;
    let scale = fill(style.words.scale_1_to, &[&scale.to_string()]);
    let room = left - area.left - 8.0;
    draft.text(
        Layer::Notes,
        Text::new((area.left, base + 6.4), &face.shorten(name, 5.0, room), 5.0, Align::Left, face),
    );
    let dims = if wall.is_piece() {
        let (w, b) = (&wall.window, &wall.bounds);
        let span =
            |from: f64, to: f64| fill(style.words.of_wall, &[&style.mm(from.round()), &style.mm(to.round())]);
        let mut said = Vec::new();
        if wall.cuts[0] || wall.cuts[2] {
            said.push(format!("x {}", span(w.left - b.left, w.right - b.left)));
        }
        if wall.cuts[1] || wall.cuts[3] {
            said.push(format!("y {}", span(w.bottom, w.top)));
        }
        format!("{scale}    {}    {}", style.words.dimensions_in_mm, said.join(", "))
    } else {
        format!("{scale}    {}", style.words.dimensions_in_mm)
    };
    // Where there is no room for all of it, the scale matters most.
    let dims = if Face::Condensed.width(&dims, 3.5) <= room { dims } else { scale };
    let text = Face::Condensed.shorten(&dims, 3.5, room);
    draft.text(Layer::Notes, Text::new((area.left, base), &text, 3.5, Align::Left, Face::Condensed));
}
