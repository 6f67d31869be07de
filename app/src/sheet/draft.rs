//! A sheet while it is being drawn: its items, and the room they take.

use super::geom::{PaperPoint, Rect, segment};
use super::model::{Align, Dash, Graphic, Item, Layer, Sheet, SheetKind, Shown, Symbol, Text};
use super::paper::Paper;
use super::place::{Room, Taken};
use super::words::{Style, fill};

/// Line widths, mm: each about twice the one before (1 : 2 : 4).
pub(super) const THIN: f64 = 0.18;
pub(super) const MEDIUM: f64 = 0.35;
pub(super) const THICK: f64 = 0.7;

/// Height of notes and dimensions, mm.
pub(super) const SMALL: f64 = 2.5;

/// A sheet being drawn.
pub(super) struct Draft {
    pub paper: Paper,
    /// What it shows, in the title block.
    pub title: String,
    pub kind: SheetKind,
    /// The name of the elevation it is about, which is cut short before anything else of the title.
    pub subject: String,
    /// Breaches of the layout of that elevation.
    pub breaches: usize,
    /// How numbers and fixed words are written.
    pub style: Style,
    pub elevation: Option<(usize, u32)>,
    /// Which part of its elevation it shows, where that has several.
    pub part: Option<usize>,
    /// Lettering with a gap for the number of the sheet of a part, by the number of its item.
    refers: Vec<(usize, usize)>,
    pub shown: Vec<Shown>,
    pub items: Vec<Item>,
    pub room: Room,
}

impl Draft {
    pub fn new(paper: Paper, kind: SheetKind, title: impl Into<String>, style: Style) -> Self {
        let room = Room::new(paper.width(), paper.height(), paper.frame().inset(1.0));
        let title = title.into();
        let (refers, shown, items) = (Vec::new(), Vec::new(), Vec::new());
        Self {
            paper,
            title,
            kind,
            subject: String::new(),
            breaches: 0,
            style,
            elevation: None,
            part: None,
            refers,
            shown,
            items,
            room,
        }
    }

    pub fn push(&mut self, layer: Layer, graphic: Graphic) {
        self.items.push(Item { layer, graphic });
    }

    /// A solid black line.
    pub fn line(&mut self, layer: Layer, a: PaperPoint, b: PaperPoint, width: f64) {
        self.styled(layer, a, b, width, Dash::Solid, 0.0);
    }

    /// A line with dashes and a grey.
    pub fn styled(&mut self, layer: Layer, a: PaperPoint, b: PaperPoint, width: f64, dash: Dash, grey: f64) {
        self.push(layer, Graphic::Stroke { points: vec![a, b], closed: false, width, dash, grey });
    }

    /// A thin line left out where it would run over lettering.
    pub fn broken_line(&mut self, layer: Layer, a: PaperPoint, b: PaperPoint, width: f64, grey: f64) {
        for (a, b) in self.room.clear_of_text(a, b) {
            self.styled(layer, a, b, width, Dash::Solid, grey);
        }
    }

    pub fn rect(&mut self, layer: Layer, r: &Rect, width: f64) {
        self.push(
            layer,
            Graphic::Stroke {
                points: r.corners().to_vec(),
                closed: true,
                width,
                dash: Dash::Solid,
                grey: 0.0,
            },
        );
    }

    pub fn fill(&mut self, layer: Layer, points: Vec<PaperPoint>, grey: f64) {
        self.push(layer, Graphic::Fill { rings: vec![points], grey });
    }

    pub fn symbol(&mut self, layer: Layer, kind: Symbol, at: PaperPoint, scale: f64) {
        self.push(layer, Graphic::Symbol { kind, at, scale });
    }

    /// Lettering; takes its room. Empty text is left out.
    pub fn text(&mut self, layer: Layer, text: Text) {
        if !text.text.trim().is_empty() {
            self.room.take(text.quad(), Taken::Text);
            self.push(layer, Graphic::Text(text));
        }
    }

    /// Lettering with a gap for the number of the sheet of a part, which is known only when all sheets are there.
    pub fn refer(&mut self, layer: Layer, text: Text, part: usize) {
        let widest = Text { text: fill(&text.text, &["000"]), ..text.clone() };
        self.room.take(widest.quad(), Taken::Text);
        self.refers.push((self.items.len(), part));
        self.push(layer, Graphic::Text(text));
    }

    /// Fills those gaps, given the sheet of each part.
    pub fn number_parts(&mut self, sheet: impl Fn(usize) -> Option<usize>) {
        for (item, part) in std::mem::take(&mut self.refers) {
            if let Some(Item { graphic: Graphic::Text(t), .. }) = self.items.get_mut(item) {
                t.text = fill(&t.text, &[&sheet(part).map_or_else(String::new, |n| n.to_string())]);
            }
        }
    }

    /// A leader from a place to a label, a fine line that nothing later is written over.
    pub fn leader(&mut self, layer: Layer, a: PaperPoint, b: PaperPoint) {
        self.line(layer, a, b, THIN);
        self.room.take(segment(a, b), Taken::Leader);
    }

    /// The finished sheet.
    pub fn finish(self) -> Sheet {
        Sheet {
            paper: self.paper.size,
            width: self.paper.width(),
            height: self.paper.height(),
            title: self.title,
            kind: self.kind,
            elevation: self.elevation,
            shown: self.shown,
            items: self.items,
        }
    }
}

/// Level text in the narrow face at the height of notes.
pub(super) fn small(at: PaperPoint, text: &str, align: Align) -> Text {
    Text::new(at, text, SMALL, align, super::font::Face::Condensed)
}
