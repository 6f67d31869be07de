//! The frame of a sheet: border, grid references, centring marks (ISO 5457).

use super::draft::{Draft, MEDIUM, SMALL, THICK, THIN};
use super::font::Face;
use super::model::{Align, Layer, Text};

/// Side of a field of the grid, mm.
const FIELD: f64 = 50.0;

/// Letters of the fields from above; I and O are left out.
const LETTERS: [&str; 24] = [
    "A", "B", "C", "D", "E", "F", "G", "H", "J", "K", "L", "M", "N", "P", "Q", "R", "S", "T", "U", "V", "W",
    "X", "Y", "Z",
];

/// Where fields end between two borders, counted from the middle of the sheet outwards, so that no field is
/// much narrower than it is wide.
fn field_ends(low: f64, high: f64, middle: f64) -> Vec<f64> {
    let mut ends = vec![middle];
    let mut k = 1.0;
    while middle - k * FIELD > low + FIELD * 0.25 || middle + k * FIELD < high - FIELD * 0.25 {
        ends.extend([middle - k * FIELD, middle + k * FIELD]);
        k += 1.0;
    }
    ends.retain(|e| *e > low + FIELD * 0.25 && *e < high - FIELD * 0.25);
    ends.sort_by(f64::total_cmp);
    ends
}

/// Draws border, frame, grid references and centring marks.
pub(super) fn draw(draft: &mut Draft) {
    let (frame, border) = (draft.paper.frame(), draft.paper.border());
    let (width, height) = (draft.paper.width(), draft.paper.height());
    let l = Layer::Frame;
    draft.rect(l, &border, MEDIUM);
    draft.rect(l, &frame, THICK);
    // A strip only where the frame stands in from the border.
    let low = frame.left > border.left;
    let label = |draft: &mut Draft, text: &str, x: f64, y: f64| {
        let at = (x, y - SMALL / 2.0);
        draft.text(l, Text::new(at, text, SMALL, Align::Centre, Face::Condensed));
    };
    let across = field_ends(border.left, border.right, width / 2.0);
    let up = field_ends(border.bottom, border.top, height / 2.0);
    let strip = border.top - frame.top;
    let bounds = |ends: &[f64], from: f64, to: f64| -> Vec<f64> {
        std::iter::once(from).chain(ends.iter().copied()).chain(std::iter::once(to)).collect()
    };
    for (i, w) in bounds(&across, border.left, border.right).windows(2).enumerate() {
        let (middle, text) = (f64::midpoint(w[0], w[1]), (i + 1).to_string());
        label(draft, &text, middle, border.top - strip / 2.0);
        if low {
            label(draft, &text, middle, border.bottom + strip / 2.0);
        }
    }
    for (i, w) in bounds(&up, border.bottom, border.top).windows(2).rev().enumerate() {
        let (middle, text) = (f64::midpoint(w[0], w[1]), LETTERS[i % LETTERS.len()]);
        label(draft, text, border.right - strip / 2.0, middle);
        if low {
            label(draft, text, border.left + strip / 2.0, middle);
        }
    }
    for x in across {
        draft.line(l, (x, frame.top), (x, border.top), THIN);
        if low {
            draft.line(l, (x, border.bottom), (x, frame.bottom), THIN);
        }
    }
    for y in up {
        draft.line(l, (frame.right, y), (border.right, y), THIN);
        if low {
            draft.line(l, (border.left, y), (frame.left, y), THIN);
        }
    }
    // Centring marks run from the margin to the frame, where a copy is lined up.
    let (x, y, out) = (width / 2.0, height / 2.0, 5.0);
    for (a, b) in [
        ((x, border.top + out), (x, frame.top)),
        ((x, border.bottom - out), (x, frame.bottom)),
        ((border.right + out, y), (frame.right, y)),
        ((border.left - out, y), (frame.left, y)),
    ] {
        draft.line(l, a, b, THICK);
    }
}
