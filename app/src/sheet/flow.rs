//! Notes in columns: headings, paragraphs, rows of the key, poured from column to column.

use super::draft::{Draft, MEDIUM, SMALL, THIN};
use super::elevation::PAD;
use super::font::Face;
use super::geom::{Rect, hatch};
use super::model::{Align, Dash, Graphic, Layer, Symbol, Text};
use super::paper::Paper;

/// Distance between lines of notes, mm.
const PITCH: f64 = 3.8;

/// Room between columns, mm.
pub(super) const GUTTER: f64 = 5.0;

/// Least width of a column on a sheet of notes, mm.
const LEAST_COLUMN: f64 = 84.0;

/// A column is not cut shorter than this to make several even, mm.
const LEAST_DEPTH: f64 = 24.0;

/// A picture in front of a row of the key.
#[derive(Clone, Copy)]
pub(super) enum Sample {
    Tie(Symbol),
    Pinned,
    KeepOut,
    /// Line round a locked area.
    Locked,
    Joint,
    Flag,
    RowLine,
    /// A letter written beside something.
    Letter(&'static str),
    /// Ring round a tie to be tested.
    Ring,
    /// Limit between zones of wind.
    ZoneLimit,
    /// A side of the wall: its line.
    Side(f64, Dash),
    /// Match line.
    Match,
    /// Frame round what a detail shows.
    Detail,
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
    /// Stands in the same column as the line after it.
    keep: bool,
    /// Raised a little, to stand clear of the rule under it.
    raised: bool,
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

    /// Notes for the columns of a sheet of their own.
    pub fn for_sheet(paper: Paper) -> Self {
        let paper = Paper { upright: false, ..paper };
        let room = paper.frame().width() - 2.0 * PAD + GUTTER;
        let columns = (room / (LEAST_COLUMN + GUTTER)).floor().max(1.0);
        Self::new(room / columns - GUTTER)
    }

    /// Adds notes of the same width.
    pub fn append(&mut self, mut more: Self) {
        self.lines.append(&mut more.lines);
    }

    pub fn is_empty(&self) -> bool {
        self.lines.iter().all(|l| l.gap)
    }

    /// Height of everything in one column, mm.
    pub fn height(&self) -> f64 {
        self.lines.iter().map(|l| l.height).sum()
    }

    fn line(&mut self, layer: Layer, height: f64, parts: Vec<Part>, keep: bool) {
        self.lines.push(Line { height, parts, keep, raised: false, gap: false, layer });
    }

    pub fn gap(&mut self, height: f64) {
        self.lines.push(Line {
            height,
            parts: Vec::new(),
            keep: false,
            raised: false,
            gap: true,
            layer: Layer::Notes,
        });
    }

    /// A heading with a line under it, kept with what follows.
    pub fn heading(&mut self, text: &str) {
        if !self.lines.is_empty() {
            self.gap(3.0);
        }
        let face = Face::CondensedBold;
        let text = face.shorten(text, SMALL, self.width);
        let parts = vec![Part::Text { x: 0.0, text, align: Align::Left, height: SMALL, face }, Part::Rule];
        self.lines.push(Line {
            height: 5.4,
            parts,
            keep: true,
            raised: true,
            gap: false,
            layer: Layer::Notes,
        });
    }

    /// A paragraph.
    pub fn para(&mut self, layer: Layer, text: &str) {
        self.hanging(layer, "", 0.0, text);
    }

    /// A paragraph set in by `indent`, a label in front of its first line.
    pub fn hanging(&mut self, layer: Layer, label: &str, indent: f64, text: &str) {
        let face = Face::Condensed;
        let lines = face.wrap(text, SMALL, self.width - indent);
        let count = lines.len();
        for (i, text) in lines.into_iter().enumerate() {
            let mut parts = Vec::new();
            if i == 0 && !label.is_empty() {
                let face = Face::CondensedBold;
                let text = face.shorten(label, SMALL, indent.max(4.0));
                parts.push(Part::Text { x: 0.0, text, align: Align::Left, height: SMALL, face });
            }
            parts.push(Part::Text { x: indent, text, align: Align::Left, height: SMALL, face });
            // No line of a paragraph stands alone at the head or foot of a column.
            let keep = i + 1 < count && (count <= 3 || i == 0 || i + 2 == count);
            self.line(layer, PITCH, parts, keep);
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

    /// Entries with their labels, of which neither the first nor the last stands alone in a column.
    pub fn list(&mut self, indent: f64, entries: &[(String, String)]) {
        let mut starts = Vec::new();
        for (label, text) in entries {
            starts.push(self.lines.len());
            self.hanging(Layer::Notes, label, indent, text);
        }
        if let ([first, second, ..], [.., before, last]) = (starts.as_slice(), starts.as_slice()) {
            for together in [*first..*second, *before..*last] {
                self.lines[together].iter_mut().for_each(|l| l.keep = true);
            }
        }
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

    /// The columns cut to the least equal depth that still holds everything; as given where they do not
    /// hold it.
    pub fn balanced(&self, columns: &[Rect]) -> Vec<Rect> {
        let n = columns.len().max(1) as f64;
        let mut depth = (self.height() / n).max(LEAST_DEPTH);
        let cut = |depth: f64| -> Vec<Rect> {
            columns.iter().map(|c| Rect { bottom: c.bottom.max(c.top - depth), ..*c }).collect()
        };
        while columns.iter().any(|c| c.height() > depth) {
            let shallow = cut(depth);
            if self.left_over(&shallow) == 0 {
                return shallow;
            }
            depth += PITCH;
        }
        columns.to_vec()
    }

    /// How many lines would be left after pouring into columns.
    pub fn left_over(&self, columns: &[Rect]) -> usize {
        let next = columns.iter().fold(0, |next, c| self.fill(next, c, |_, _| {}));
        self.lines.get(next..).unwrap_or_default().iter().filter(|l| !l.gap).count()
    }

    /// Fills a column from line `next` on, telling of each line and its foot; returns the line after.
    fn fill(&self, mut next: usize, column: &Rect, mut place: impl FnMut(&Line, f64)) -> usize {
        let mut y = column.top;
        while let Some(line) = self.lines.get(next) {
            let top = y >= column.top - 1e-9;
            if line.gap {
                y -= if top { 0.0 } else { line.height };
                next += 1;
                continue;
            }
            // Lines kept together go over together, unless they are more than a column holds.
            let kept = self.lines[next..].iter().take_while(|l| l.keep).count();
            let together: f64 = self.lines[next..].iter().take(kept + 1).map(|l| l.height).sum();
            let needed = if top && together > column.height() { line.height } else { together };
            if y - needed < column.bottom - 1e-9 {
                break;
            }
            y -= line.height;
            place(line, y);
            next += 1;
        }
        next
    }

    /// Pours the lines into columns from the top, as far as they go, and keeps the rest.
    pub fn pour(&mut self, draft: &mut Draft, columns: &[Rect]) {
        let mut next = 0;
        for column in columns {
            next = self.fill(next, column, |line, y| draw(draft, line, column, y));
        }
        self.lines.drain(..next.min(self.lines.len()));
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
                let base = if line.raised { base + 0.9 } else { base };
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
                draft.line(Layer::Notes, a, b, THIN);
            }
            draft.rect(Layer::Notes, &r, THIN);
        }
        Sample::Locked => super::locked::sample(draft, (x, y)),
        Sample::Joint => {
            draft.styled(Layer::Notes, (x - 4.0, y), (x + 4.0, y), MEDIUM, Dash::DashDot, 0.0);
        }
        Sample::Flag => {
            draft.push(Layer::Notes, Graphic::Circle { centre: (x, y), radius: 1.8, width: MEDIUM });
        }
        Sample::Side(width, dash) => {
            draft.styled(Layer::Notes, (x - 4.0, y), (x + 4.0, y), width, dash, 0.0);
        }
        Sample::Match => {
            draft.styled(Layer::Notes, (x - 4.0, y), (x + 4.0, y), super::draft::THICK, Dash::DashDot, 0.0);
        }
        Sample::Detail => {
            let points = Rect::new(x - 3.5, y - 1.6, x + 3.5, y + 1.6).corners().to_vec();
            let (width, dash) = (MEDIUM, Dash::Dashed);
            draft.push(Layer::Notes, Graphic::Stroke { points, closed: true, width, dash, grey: 0.0 });
        }
        Sample::Letter(letter) => {
            let at = (x, y - SMALL / 2.0);
            draft.text(Layer::Notes, Text::new(at, letter, SMALL, Align::Centre, Face::CondensedBold));
        }
        Sample::Ring => super::engineering::sample_ring(draft, (x, y)),
        Sample::ZoneLimit => draft.styled(Layer::Notes, (x - 4.0, y), (x + 4.0, y), THIN, Dash::Dotted, 0.0),
        Sample::RowLine => {
            draft.styled(Layer::Notes, (x - 4.0, y), (x + 4.0, y), THIN, Dash::Solid, 0.5);
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
