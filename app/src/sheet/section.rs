//! Section through the wall: outer leaf, cavity, inner leaf, the tie with its embedment and slope.

use super::draft::{Draft, MEDIUM, SMALL, THIN, small};
use super::font::Face;
use super::geom::{PaperPoint, Rect, hatch};
use super::model::{Align, Dash, Graphic, Layer, Text};
use super::words::Style;

/// Least room for the figure without its notes, mm.
const FIGURE: (f64, f64) = (72.0, 38.0);

/// Draws the section into an area, with its notes beside it where there is room. False where the area is
/// too small.
pub(super) fn draw(draft: &mut Draft, area: &Rect, style: Style) -> bool {
    if area.width() < FIGURE.0 || area.height() < FIGURE.1 {
        return false;
    }
    let w = style.words;
    let l = Layer::Notes;
    let bold = Face::CondensedBold;
    let heading = bold.shorten(w.section, SMALL, area.width());
    draft.text(l, Text::new((area.left, area.top - 3.2), &heading, SMALL, Align::Left, bold));
    draft.line(l, (area.left, area.top - 4.6), (area.right, area.top - 4.6), THIN);
    let figure = Rect::new(area.left, area.bottom, area.left + FIGURE.0, area.top - 5.6);
    leaves(draft, &figure, style);
    let notes = Rect::new(figure.right + 4.0, area.bottom, area.right, area.top - 6.0);
    if notes.width() > 40.0 {
        let mut y = notes.top;
        for sentence in w.section_notes {
            for line in Face::Condensed.wrap(sentence, SMALL, notes.width()) {
                y -= 3.6;
                if y < notes.bottom {
                    return true;
                }
                draft.text(l, small((notes.left, y + 0.6), &line, Align::Left));
            }
            y -= 0.8;
        }
    }
    true
}

/// The leaves, cut, with the tie between them.
fn leaves(draft: &mut Draft, f: &Rect, style: Style) {
    let (w, l) = (style.words, Layer::Notes);
    let (low, high) = (f.bottom + 10.5, f.top - 1.0);
    let (outer, cavity) = (f.left + 20.0, f.left + 33.0);
    let leaf = |left: f64| Rect::new(left - 13.0, low, left, high);
    let (a, b) = (leaf(outer), leaf(cavity + 13.0));
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
    // Dimensions with gaps to fill in.
    let y = low - 2.4;
    for x in [a.left, a.right, b.left, b.right] {
        draft.line(l, (x, low - 0.8), (x, y - 1.0), THIN);
    }
    draft.line(l, (a.left, y), (b.right, y), THIN);
    for (x, words) in [
        (f64::midpoint(a.left, a.right), w.outer_leaf),
        (f64::midpoint(a.right, b.left), w.cavity),
        (f64::midpoint(b.left, b.right), w.inner_leaf),
    ] {
        draft.text(l, small((x, y - 3.8), words, Align::Centre));
        draft.line(l, (x - 4.5, y - 7.9), (x + 4.5, y - 7.9), THIN);
    }
    draft.text(l, small((b.right + 2.0, y - 7.4), w.mm_by_hand, Align::Left));
    draft.text(l, small((a.left - 1.6, middle + 2.0), w.outside, Align::Centre).turned(90.0));
    let label = |draft: &mut Draft, at: PaperPoint, to: PaperPoint, words: &str| {
        draft.line(l, (at.0 - 0.8, at.1 + SMALL / 2.0), to, THIN);
        draft.text(l, small(at, words, Align::Left));
    };
    let x = b.right + 4.0;
    label(draft, (x, high - 5.0), (a.right - 4.0, middle + 0.4), w.embedment);
    label(draft, (x, middle - 1.0), (b.left - 4.0, middle + 0.5), w.tie_label);
    label(draft, (x, low + 1.2), (a.right + 3.4, middle - 0.4), w.slope_label);
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
