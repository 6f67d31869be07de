//! What stands below a drawing: its name, scale and extent, with a scale bar.

use super::draft::{Draft, SMALL, THIN, small};
use super::font::Face;
use super::geom::Rect;
use super::model::{Align, Layer, Text};
use super::view::Wall;
use super::words::fill;

/// Room for it below the drawing, mm.
pub(super) const CAPTION: f64 = 15.0;

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
