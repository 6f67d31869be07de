//! Notes in columns: headings, paragraphs, rows of the key, poured from column to column.

use super::draft::{Draft, FINE, MEDIUM, SMALL, THIN};
use super::font::Face;
use super::geom::{Rect, hatch};
use super::model::{Align, Dash, Graphic, Layer, Symbol, Text};

/// Distance between lines of notes, mm.
const PITCH: f64 = 4.0;

/// Room between columns, mm.
pub(super) const GUTTER: f64 = 5.0;

/// A picture in front of a row of the key.
#[derive(Clone, Copy)]
pub(super) enum Sample {
    Tie(Symbol),
    Pinned,
    KeepOut,
    Joint,
    Flag,
    RowLine,
}

enum Part {
    Text { x: f64, text: String, align: Align, height: f64, face: Face },
    Sample(Sample),
    Rule,
}

/// One line of notes, with what is drawn on it.
struct Line {
    height: f64,
    parts: Vec<Part>,
    /// Not left at the foot of a column.
    keep: bool,
    /// Nothing but room.
    gap: bool,
    layer: Layer,
}

/// Notes made up into lines of one width.
pub(super) struct Notes {
    pub width: f64,
    lines: Vec<Line>,
}

impl Notes {
    pub fn new(width: f64) -> Self {
        Self { width, lines: Vec::new() }
    }

    pub fn is_empty(&self) -> bool {
        self.lines.iter().all(|l| l.gap)
    }

    /// Height of everything in one column, mm.
    pub fn height(&self) -> f64 {
        self.lines.iter().map(|l| l.height).sum()
    }

    fn line(&mut self, layer: Layer, height: f64, parts: Vec<Part>, keep: bool) {
        self.lines.push(Line { height, parts, keep, gap: false, layer });
    }

    pub fn gap(&mut self, height: f64) {
        self.lines.push(Line { height, parts: Vec::new(), keep: false, gap: true, layer: Layer::Notes });
    }

    /// A heading with a line under it, kept with what follows.
    pub fn heading(&mut self, text: &str) {
        if !self.lines.is_empty() {
            self.gap(3.0);
        }
        let face = Face::CondensedBold;
        let text = face.shorten(text, SMALL, self.width);
        let parts =
            vec![Part::Text { x: 0.0, text, align: Align::Left, height: SMALL, face }, Part::Rule];
        self.line(Layer::Notes, 5.4, parts, true);
    }

    /// A paragraph.
    pub fn para(&mut self, layer: Layer, text: &str) {
        self.hanging(layer, "", 0.0, text);
    }

    /// A paragraph set in by `indent`, a label in front of its first line.
    pub fn hanging(&mut self, layer: Layer, label: &str, indent: f64, text: &str) {
        let face = Face::Condensed;
        for (i, text) in face.wrap(text, SMALL, self.width - indent).into_iter().enumerate() {
            let mut parts = Vec::new();
            if i == 0 && !label.is_empty() {
                let face = Face::CondensedBold;
                let text = face.shorten(label, SMALL, indent.max(4.0));
                parts.push(Part::Text { x: 0.0, text, align: Align::Left, height: SMALL, face });
            }
            parts.push(Part::Text { x: indent, text, align: Align::Left, height: SMALL, face });
            self.line(layer, PITCH, parts, false);
        }
        self.gap(0.7);
    }

    /// A label at the left and a value at the right.
    pub fn pair(&mut self, label: &str, value: &str, bold: bool) {
        let face = if bold { Face::CondensedBold } else { Face::Condensed };
        let value = face.shorten(value, SMALL, self.width * 0.6);
        let room = self.width - face.width(&value, SMALL) - 2.0;
        let label = face.shorten(label, SMALL, room);
        let text = |x, text, align| Part::Text { x, text, align, height: SMALL, face };
        let parts = vec![text(0.0, label, Align::Left), text(self.width, value, Align::Right)];
        self.line(Layer::Notes, PITCH, parts, false);
    }

    /// A row of the key.
    pub fn key(&mut self, sample: Sample, words: &str, value: &str) {
        let face = Face::Condensed;
        let room = self.width - 10.0 - face.width(value, SMALL) - 2.0;
        let lines = face.wrap(words, SMALL, room);
        for (i, words) in lines.into_iter().enumerate() {
            let text = |x, text, align| Part::Text { x, text, align, height: SMALL, face };
            let mut parts = vec![text(10.0, words, Align::Left)];
            if i == 0 {
                parts.push(Part::Sample(sample));
                parts.push(text(self.width, value.to_owned(), Align::Right));
            }
            self.line(Layer::Notes, if i == 0 { 4.7 } else { PITCH }, parts, false);
        }
    }

    /// Pours the lines into columns from the top, as far as they go, and keeps the rest.
    pub fn pour(&mut self, draft: &mut Draft, columns: &[Rect]) {
        let mut lines = std::mem::take(&mut self.lines).into_iter().peekable();
        for column in columns {
            let mut y = column.top;
            while let Some(line) = lines.peek() {
                if line.gap && y >= column.top - 1e-9 {
                    lines.next();
                    continue;
                }
                // A heading needs itself and two lines of what follows.
                let needed = line.height + if line.keep { 2.0 * PITCH } else { 0.0 };
                if y - needed < column.bottom - 1e-9 && !line.gap {
                    break;
                }
                if let Some(line) = lines.next() {
                    y -= line.height;
                    draw(draft, &line, column, y);
                }
            }
        }
        self.lines = lines.collect();
        if self.is_empty() {
            self.lines.clear();
        }
    }
}

/// Draws a line whose foot is at `y`.
fn draw(draft: &mut Draft, line: &Line, column: &Rect, y: f64) {
    // The baseline stands high enough that letters that hang below it stay on the line.
    let base = y + 1.0;
    for part in &line.parts {
        match part {
            Part::Text { x, text, align, height, face } => {
                let base = if line.keep { base + 0.9 } else { base };
                draft.text(line.layer, Text::new((column.left + x, base), text, *height, *align, *face));
            }
            Part::Rule => {
                draft.line(line.layer, (column.left, y + 0.6), (column.right, y + 0.6), THIN);
            }
            Part::Sample(sample) => draw_sample(draft, *sample, (column.left + 4.0, base + SMALL / 2.0)),
        }
    }
}

fn draw_sample(draft: &mut Draft, sample: Sample, (x, y): (f64, f64)) {
    match sample {
        Sample::Tie(symbol) => draft.symbol(Layer::Notes, symbol, (x, y), 1.0),
        Sample::Pinned => {
            draft.symbol(Layer::Notes, Symbol::Tie(layout_core::Role::Field), (x, y - 0.5), 0.8);
            draft.symbol(Layer::Notes, Symbol::Pin, (x, y - 0.5), 0.8);
        }
        Sample::KeepOut => {
            let r = Rect::new(x - 3.5, y - 1.6, x + 3.5, y + 1.6);
            for (a, b) in hatch(&r.corners(), 1.5, &r) {
                draft.line(Layer::Notes, a, b, FINE);
            }
            draft.rect(Layer::Notes, &r, THIN);
        }
        Sample::Joint => {
            draft.styled(Layer::Notes, (x - 4.0, y), (x + 4.0, y), MEDIUM, Dash::DashDot, 0.0);
        }
        Sample::Flag => draft.push(Layer::Notes, Graphic::Circle { centre: (x, y), radius: 1.8, width: 0.25 }),
        Sample::RowLine => {
            draft.styled(Layer::Notes, (x - 4.0, y), (x + 4.0, y), FINE, Dash::Solid, 0.5);
        }
    }
}

/// As many columns of a width as fit side by side in a rectangle.
pub(super) fn columns(area: &Rect, width: f64) -> Vec<Rect> {
    let n = (((area.width() + GUTTER) / (width + GUTTER) + 1e-9).floor() as usize).max(1);
    (0..n)
        .map(|i| {
            let left = area.left + i as f64 * (width + GUTTER);
            Rect::new(left, area.bottom, left + width, area.top)
        })
        .collect()
}
