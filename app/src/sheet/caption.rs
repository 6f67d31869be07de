//! What stands below a drawing: its name, scale and extent, with a scale bar.

use super::draft::{Draft, SMALL, THIN, small};
use super::font::Face;
use super::geom::{PaperPoint, Rect};
use super::model::{Align, Layer, Text};
use super::title;
use super::view::Wall;
use super::words::fill;
use layout_core::check::Severity;

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
    let room = left - area.left - 8.0;
    let named = not_to_be_drilled(draft, wall, (area.right, base + 8.2), area.width())
        .map_or(room, |l| room.min(l - area.left - 5.0));
    let said = facts(wall, scale);
    let face = Face::Condensed;
    let line = |y: f64, text: &str, height: f64, face: Face| {
        let room = if height > 4.0 { named } else { room };
        Text::new((area.left, base + y), &face.shorten(text, height, room), height, Align::Left, face)
    };
    let one = said.join("    ");
    if face.width(&one, 3.5) <= room {
        draft.text(Layer::Notes, line(6.4, name, 5.0, Face::Bold));
        draft.text(Layer::Notes, line(0.0, &one, 3.5, face));
        return;
    }
    draft.text(Layer::Notes, line(8.2, name, 5.0, Face::Bold));
    for (i, text) in lines(&said, room).iter().take(2).enumerate() {
        draft.text(Layer::Notes, line(3.7 * (1.0 - i as f64), text, SMALL, face));
    }
}

/// Says at the right, over the scale bar, that a layout has breaches, as large as so much breadth allows. Returns where
/// that begins.
fn not_to_be_drilled(draft: &mut Draft, wall: &Wall<'_>, at: PaperPoint, width: f64) -> Option<f64> {
    let found = wall.plan.findings.iter().filter(|f| f.severity == Severity::Breach).count();
    let said = title::breaches(found, wall.style.words)?;
    let face = Face::CondensedBold;
    let height = if face.width(&said, 3.5) < 0.4 * width { 3.5 } else { SMALL };
    let text = Text::new(at, &said, height, Align::Right, face);
    let begins = text.start().0;
    draft.text(Layer::Findings, text);
    Some(begins)
}

/// What is said under the name, what matters most first: the scale, the unit, and of a piece how far along and up the
/// wall it goes, with the length and the height of the whole.
fn facts(wall: &Wall<'_>, scale: u32) -> Vec<String> {
    let (style, w, b) = (wall.style, &wall.window, &wall.bounds);
    let mut said =
        vec![fill(style.words.scale_1_to, &[&scale.to_string()]), style.words.dimensions_in_mm.to_owned()];
    let span = |axis, [from, to, whole]: [f64; 3]| {
        let [from, to, whole] = [from, to, whole].map(|v| style.mm(v.round()));
        fill(style.words.of_wall, &[axis, &from, &to, &whole])
    };
    if wall.cuts[0] || wall.cuts[2] {
        said.push(span("x", [w.left - b.left, w.right - b.left, b.width()]));
    }
    if wall.cuts[1] || wall.cuts[3] {
        said.push(span("y", [w.bottom, w.top, b.height()]));
    }
    said
}

/// Facts set in lines of a length, none of them broken.
fn lines(said: &[String], room: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for fact in said {
        match lines.last_mut().map(|last| (format!("{last}    {fact}"), last)) {
            Some((longer, last)) if Face::Condensed.width(&longer, SMALL) <= room => *last = longer,
            _ => lines.push(fact.clone()),
        }
    }
    lines
}
