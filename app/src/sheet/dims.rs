//! Dimensions round the wall and the room they take: chains of openings below and at the right, overall sizes; the
//! heights of rows and distances of ties among them are in [`leading`].

use super::draft::{Draft, MEDIUM, SMALL, THIN, small};
use super::font::Face;
use super::geom::PaperPoint;
use super::leading;
use super::levels;
use super::model::{Align, Dash, Layer, Text};
use super::place::Taken;
use super::view::{View, Wall};
use super::words::{self, Style};

pub(super) use super::caption::{CAPTION, caption};
use layout_core::elevation::{SideCondition, outline_sides};

/// Strip next to the wall for what holds its sides, mm.
pub(super) const STRIP: f64 = 4.6;

/// From one dimension line to the next, mm.
pub(super) const LINE_STEP: f64 = 6.2;

/// Room a second row of figures takes beyond a chain, mm.
const TIER: f64 = 4.6;

/// Column at the far left for what holds that side of the wall, mm.
const SIDE_WORDS: f64 = 4.4;

/// A label of a row at the left: course, height, and step from the row below.
pub(super) struct RowLabel {
    pub y: f64,
    pub course: String,
    pub height: String,
    pub step: String,
}

/// What the dimensions need round the wall, paper mm.
pub(super) struct Bands {
    pub left: f64,
    pub right: f64,
    pub bottom: f64,
    pub top: f64,
    /// What a piece of the wall may need more at the left, for steps, and below and at the right, for a second row
    /// of figures.
    pub more: [f64; 3],
    pub rows: Vec<RowLabel>,
    /// Widths of the columns of steps and of courses; 0 where there is none.
    pub steps: f64,
    pub courses: f64,
    pub heights: f64,
    pub runs: leading::Runs,
    narrow_x: bool,
    narrow_y: bool,
    /// From the wall to the marks of levels; none where it has none.
    levels: Option<f64>,
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
        let room = (wall.extent.height() / f64::from(scale) + 4.0) / leading::ROW_PITCH;
        let all_steps = column(|r| &r.step, &rows);
        if rows.len() as f64 > room + 1.0 {
            rows.iter_mut().for_each(|r| r.step.clear());
        }
        let (steps, courses) = (column(|r| &r.step, &rows), column(|r| &r.course, &rows));
        let heights = column(|r| &r.height, &rows);
        let runs = leading::Runs::of(wall, scale);
        let narrow = |stops: &[f64]| segments(stops, scale, wall.style).iter().any(|s| !s.fits);
        let (narrow_x, narrow_y) = (narrow(&wall.stops_x), narrow(&wall.stops_y));
        let tier = |narrow: bool| if narrow { TIER } else { 0.0 };
        let gap = |width: f64| if width > 0.0 { width + GAP } else { 0.0 };
        let more_left = if steps > 0.0 { 0.0 } else { gap(all_steps) };
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
        let beside = STRIP + LINE_STEP + tier(narrow_y) + overall(up);
        let marked = !levels::of(wall).is_empty();
        Self {
            left: (labels + side).max(longest(&from_here(wall).map(str::to_owned)) + 2.6),
            side_words: (side > 0.0).then_some(labels + side - SMALL / 2.0 - 0.4),
            levels: marked.then_some(beside),
            right: beside + 0.6 + if marked { levels::BREADTH } else { 0.0 },
            bottom: STRIP + 5.0 + runs.length + LINE_STEP + overall(across) + tier(narrow_x) + 2.0 + CAPTION,
            top: 13.0,
            more: [more_left, if narrow_x { 0.0 } else { TIER }, if narrow_y { 0.0 } else { TIER }],
            rows,
            steps,
            courses,
            heights,
            runs,
            narrow_x,
            narrow_y,
        }
    }
}

impl Bands {
    /// Finds more labels room below the wall, where there is so much room to spare.
    pub fn find_room(&mut self, wall: &Wall<'_>, scale: u32, spare: f64) {
        self.runs.find_room(wall, scale, spare);
        self.bottom += self.runs.fall;
    }
}

/// Between columns of row labels, mm.
pub(super) const GAP: f64 = 1.8;

/// Says what the distances of ties are measured from.
pub(super) fn from_here(wall: &Wall<'_>) -> [&'static str; 2] {
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
    /// Heights of rows, by the number of the row.
    pub rows: Vec<usize>,
    /// Distances of ties, by the number of the distance.
    pub runs: Vec<usize>,
    /// How many figures of chains.
    pub chain: usize,
}

/// Draws all dimensions.
pub(super) fn draw(draft: &mut Draft, wall: &Wall<'_>, view: &View, bands: &Bands) -> LeftOut {
    let mut out = LeftOut { rows: leading::rows(draft, wall, view, bands), ..LeftOut::default() };
    let below = view.wall.bottom - STRIP;
    leading::runs(draft, wall, view, bands, below);
    out.runs = bands.runs.left_out();
    let chain_y = below - 5.0 - bands.runs.length - bands.runs.fall - LINE_STEP;
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
    let ends = |stops: &[f64]| stops.first().copied().zip(stops.last().copied());
    let (ends_x, ends_y) = (ends(&wall.stops_x), ends(&wall.stops_y));
    for (cut, axis, from, to) in [
        (cut_left && chain_across, &level, b.left, ends_x.map(|e| view.x(e.0))),
        (cut_right && chain_across, &level, b.right, ends_x.map(|e| view.x(e.1))),
        (cut_bottom && chain_up, &upright, b.bottom, ends_y.map(|e| view.y(e.0))),
        (cut_top && chain_up, &upright, b.top, ends_y.map(|e| view.y(e.1))),
    ] {
        // What runs on over a match line has its figure on the sheet where both its ends are.
        if let (true, Some(to)) = (cut, to) {
            let (from, to) = (axis.point(from, 0.0), axis.point(to, 0.0));
            draft.styled(Layer::Dimensions, from, to, THIN, Dash::Dashed, 0.0);
        }
    }
    // A chain that begins at a match line is taped from where the whole wall is.
    if let (true, Some((x, _))) = (cut_left && chain_across, ends_x) {
        begins(draft, &level, view.x(x), &format!("x {}", wall.style.mm((x - w.left).round())));
    }
    if let (true, Some((y, _))) = (cut_bottom && chain_up, ends_y) {
        begins(draft, &upright, view.y(y), &format!("y {}", wall.style.mm(y.round())));
    }
    if across {
        overall(draft, &Axis { upright: false, at: overall_y }, (b.left, b.right), &wall.style.mm(w.width()));
    }
    if up {
        overall(draft, &Axis { upright: true, at: overall_x }, (b.bottom, b.top), &wall.style.mm(w.height()));
    }
    let ends = (if up { overall_x } else { chain_x }, if across { overall_y } else { chain_y });
    extensions(draft, wall, view, ends.0, ends.1, (chain_x, chain_y));
    if let Some(out) = bands.levels {
        levels::draw(draft, wall, view, out);
    }
    out
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
    let placed = leading::arrange(&wanted, widest + 1.2, low, high);
    for &(i, along) in &placed {
        draft.line(Layer::Dimensions, axis.point(wanted[i], 0.0), axis.point(along, 1.7), THIN);
        draft.text(Layer::Dimensions, axis.text(along, 2.0 + SMALL, &narrow[i].text));
    }
    narrow.len() - placed.len()
}

/// Writes before the first stop of a chain where that is on the wall.
fn begins(draft: &mut Draft, axis: &Axis, along: f64, text: &str) {
    let text = Text { align: Align::Right, ..axis.text(along - 1.6, -0.9, text) };
    draft.text(Layer::Dimensions, text);
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
