//! Section through the wall: outer leaf, cavity, inner leaf, the tie with its embedment and slope; with the sizes
//! of this job where they are known, and lines to write them on where not.

use super::draft::{Draft, MEDIUM, SMALL, THIN, small};
use super::font::Face;
use super::geom::{PaperPoint, Rect, hatch};
use super::model::{Align, Dash, Graphic, Layer, Text};
use super::site::{self, Fixed, span};
use super::view::Wall;
use super::words::{Style, fill};

/// Least room for the figure without its notes, mm.
const FIGURE: (f64, f64) = (84.0, 38.0);

/// Breadth of a leaf, as wide as its name below it asks, and of the cavity, mm.
const LEAF: f64 = 17.0;
const CAVITY: f64 = 13.0;

/// How a wall is built, as far as it is known.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Build {
    /// Thickness of the outer leaf, mm.
    outer: f64,
    /// Thickness of the inner leaf, mm.
    inner: f64,
    /// Narrowest and widest cavity measured, mm.
    cavity: Option<(f64, f64)>,
    /// The fixing chosen.
    fixed: Option<Fixed>,
}

impl Build {
    /// What is known of the wall of an elevation; `None` where it was not surveyed.
    pub fn of(wall: &Wall<'_>) -> Option<Self> {
        let s = wall.elevation.substrate.as_ref()?;
        let cavity = wall.plan.engineering.lengths.as_ref().map(|l| (l.cavity.0, l.cavity.2));
        Some(Self { outer: s.outer.thickness, inner: s.inner.thickness, cavity, fixed: site::fixing(wall) })
    }

    /// The sizes below the figure: outer leaf, cavity, inner leaf; empty where one is to be written in.
    fn sizes(&self, style: Style) -> [String; 3] {
        let leaf = |v: f64| if v.is_finite() && v > 0.0 { style.mm(v) } else { String::new() };
        let cavity = self.cavity.map_or_else(String::new, |c| span(c, style));
        [leaf(self.outer), cavity, leaf(self.inner)]
    }
}

/// Draws the section into an area under a heading, with its notes beside it, `lead` before them. False where the area is too small for both.
pub(super) fn draw(
    draft: &mut Draft,
    area: &Rect,
    (heading, lead): (&str, &str),
    build: Option<&Build>,
    style: Style,
) -> bool {
    if area.width() < FIGURE.0 || area.height() < FIGURE.1 {
        return false;
    }
    let w = style.words;
    let l = Layer::Notes;
    let bold = Face::CondensedBold;
    let heading = bold.shorten(heading, SMALL, area.width());
    draft.text(l, Text::new((area.left, area.top - 3.2), &heading, SMALL, Align::Left, bold));
    draft.line(l, (area.left, area.top - 4.6), (area.right, area.top - 4.6), THIN);
    let figure = Rect::new(area.left, area.bottom, area.left + FIGURE.0, area.top - 5.6);
    leaves(draft, &figure, build, style);
    let notes = Rect::new(figure.right + 3.0, area.bottom, area.right, area.top - 6.0);
    if notes.width() > 40.0 {
        let fixed = build.and_then(|b| b.fixed.as_ref());
        let said: Vec<String> = match fixed {
            Some(f) => vec![f.sentences(style).join(" "), w.engineering.drip.to_owned()],
            None => w.section_notes.map(str::to_owned).into(),
        };
        let mut y = notes.top;
        let lead = Some(lead.to_owned()).filter(|l| !l.is_empty());
        for sentence in lead.into_iter().chain(said) {
            let lines = Face::Condensed.wrap(&sentence, SMALL, notes.width());
            if y - 3.6 * (lines.len() as f64) < notes.bottom {
                break;
            }
            for line in lines {
                y -= 3.6;
                draft.text(l, small((notes.left, y + 0.6), &line, Align::Left));
            }
            y -= 0.8;
        }
    }
    true
}

/// The leaves, cut, with the tie between them.
fn leaves(draft: &mut Draft, f: &Rect, build: Option<&Build>, style: Style) {
    let l = Layer::Notes;
    let (low, high) = (f.bottom + 10.5, f.top - 1.0);
    let leaf = |left: f64| Rect::new(left, low, left + LEAF, high);
    let (a, b) = (leaf(f.left + 7.0), leaf(f.left + 7.0 + LEAF + CAVITY));
    // Brick, cut: hatched; the two leaves slope opposite ways, so that they read as two.
    let middle = f64::midpoint(low, high);
    for (r, mirrored) in [(&a, false), (&b, true)] {
        for (p, q) in hatch(&r.corners(), 2.2, r) {
            let turn = |p: PaperPoint| if mirrored { (r.left + r.right - p.0, p.1) } else { p };
            draft.line(l, turn(p), turn(q), THIN);
        }
        draft.rect(l, r, MEDIUM);
    }
    let mut y = low + (middle - low).rem_euclid(6.4);
    while y < high {
        draft.line(l, (a.left, y), (a.right, y), MEDIUM);
        y += 6.4;
    }
    tie(draft, &a, &b, middle);
    dimensions(draft, &a, &b, low, build, style);
    draft.text(l, small((a.left - 1.6, middle), style.words.outside, Align::Centre).turned(90.0));
    labels(draft, &a, &b, build.and_then(|b| b.fixed.as_ref()), style);
}

/// Thicknesses below the leaves: figures, or lines to write them on.
fn dimensions(draft: &mut Draft, a: &Rect, b: &Rect, low: f64, build: Option<&Build>, style: Style) {
    let (w, l) = (style.words, Layer::Notes);
    let y = low - 2.4;
    for x in [a.left, a.right, b.left, b.right] {
        draft.line(l, (x, low - 0.8), (x, y - 1.0), THIN);
    }
    draft.line(l, (a.left, y), (b.right, y), THIN);
    let sizes = build.map_or_else(Default::default, |b| b.sizes(style));
    let middles = [(a.left, a.right), (a.right, b.left), (b.left, b.right)].map(|(p, q)| f64::midpoint(p, q));
    for ((x, words), size) in middles.into_iter().zip([w.outer_leaf, w.cavity, w.inner_leaf]).zip(sizes) {
        draft.text(l, small((x, y - 3.8), words, Align::Centre));
        if size.is_empty() {
            draft.line(l, (x - 4.5, y - 7.9), (x + 4.5, y - 7.9), THIN);
        } else {
            draft.text(l, Text::new((x, y - 7.4), &size, SMALL, Align::Centre, Face::CondensedBold));
        }
    }
    draft.text(l, small((b.right + 2.0, y - 7.4), w.mm_by_hand, Align::Left));
}

/// What the parts of the tie are, at the right.
fn labels(draft: &mut Draft, a: &Rect, b: &Rect, fixed: Option<&Fixed>, style: Style) {
    let (w, l) = (style.words, Layer::Notes);
    let x = b.right + 4.0;
    let (low, high, middle) = (a.bottom, a.top, f64::midpoint(a.bottom, a.top));
    let mut label = |at: PaperPoint, to: PaperPoint, words: &str| {
        draft.line(l, (at.0 - 0.8, at.1 + SMALL / 2.0), to, THIN);
        draft.text(l, small(at, words, Align::Left));
    };
    let e = w.engineering;
    let length = match fixed.map(|f| f.lengths.as_slice()) {
        Some([(length, _, _)]) => fill(e.length_label, &[&style.figure(*length)]),
        _ => w.tie_label.to_owned(),
    };
    let slope = match fixed {
        Some(f) if f.fall > 0.0 => fill(e.fall_label, &[&style.figure(f.fall)]),
        Some(_) => e.level_label.to_owned(),
        None => w.slope_label.to_owned(),
    };
    label((x, high - 5.0), (a.right - 4.0, middle + 0.4), w.embedment);
    label((x, middle - 1.0), (b.left - 4.0, middle + 0.5), &length);
    label((x, low + 1.2), (a.right + 3.4, middle - 0.4), &slope);
    if let Some(f) = fixed {
        let least = fill(e.embed_label, &[&style.figure(f.embed.0), &style.figure(f.embed.1)]);
        draft.text(l, small((x, high - 8.6), &least, Align::Left));
    }
}

/// The tie: level or falling a little to the outside, with a drip in the cavity.
fn tie(draft: &mut Draft, outer: &Rect, inner: &Rect, middle: f64) {
    let l = Layer::Notes;
    let (from, to) = (outer.right - 7.5, inner.left + 7.5);
    let fall = 0.7;
    for (x0, x1) in [(from, outer.right), (inner.left, to)] {
        // White round the bar where it is bonded in.
        let ground = Rect::new(x0, middle - 1.5, x1, middle + 1.5);
        draft.fill(l, ground.corners().to_vec(), 1.0);
        let points = ground.corners().to_vec();
        draft.push(l, Graphic::Stroke { points, closed: true, width: THIN, dash: Dash::Solid, grey: 0.0 });
    }
    let drip = f64::midpoint(outer.right, inner.left);
    let at = |x: f64| middle - fall / 2.0 + fall * (x - from) / (to - from);
    let points = vec![
        (from, at(from)),
        (drip - 1.2, at(drip - 1.2)),
        (drip, at(drip) - 1.6),
        (drip + 1.2, at(drip + 1.2)),
        (to, at(to)),
    ];
    let (width, dash) = (super::draft::THICK, Dash::Solid);
    draft.push(l, Graphic::Stroke { points, closed: false, width, dash, grey: 0.0 });
}
