//! A sheet as plain values: what is drawn, in paper millimetres, before any file format.

use super::font::Face;
use super::geom::{PaperPoint, Quad};
use super::paper::PaperSize;
use layout_core::Role;

/// One sheet of the drawing set.
#[derive(Clone, Debug, PartialEq)]
pub struct Sheet {
    /// Size of the paper.
    pub paper: PaperSize,
    /// Width, mm.
    pub width: f64,
    /// Height, mm.
    pub height: f64,
    /// What it shows ("Front").
    pub title: String,
    /// Index of the elevation it draws to scale, and the scale's denominator.
    pub elevation: Option<(usize, u32)>,
    /// Everything on it, lowest first.
    pub items: Vec<Item>,
}

/// One thing drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    /// What it belongs to.
    pub layer: Layer,
    /// What it is.
    pub graphic: Graphic,
}

/// What an item belongs to; layers can be switched off in a viewer.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Layer {
    /// Masonry, openings, keep-outs, joints.
    Masonry,
    /// Lines of the rows that ties stand on.
    BedJoints,
    /// Tie symbols, old ties.
    Ties,
    /// Marks of ties.
    Marks,
    /// Dimensions and row heights.
    Dimensions,
    /// Labels, key, counts, rules, cautions.
    Notes,
    /// Numbered flags and the list of findings.
    Findings,
    /// Frame and title block.
    Frame,
}

impl Layer {
    /// All layers, lowest first.
    pub const ALL: [Self; 8] = [
        Self::Masonry,
        Self::BedJoints,
        Self::Ties,
        Self::Marks,
        Self::Dimensions,
        Self::Notes,
        Self::Findings,
        Self::Frame,
    ];

    /// Name in a viewer, ASCII.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Masonry => "Masonry",
            Self::BedJoints => "Bed joints",
            Self::Ties => "Ties",
            Self::Marks => "Marks",
            Self::Dimensions => "Dimensions",
            Self::Notes => "Notes",
            Self::Findings => "Findings",
            Self::Frame => "Frame",
        }
    }
}

/// What an item is.
#[derive(Clone, Debug, PartialEq)]
pub enum Graphic {
    /// A line through points.
    Stroke {
        /// Its corners.
        points: Vec<PaperPoint>,
        /// Whether the last corner joins the first.
        closed: bool,
        /// Line width, mm.
        width: f64,
        /// Dashes.
        dash: Dash,
        /// 0 black to 1 white.
        grey: f64,
    },
    /// A filled area (even-odd).
    Fill {
        /// Its rings.
        rings: Vec<Vec<PaperPoint>>,
        /// 0 black to 1 white.
        grey: f64,
    },
    /// A circle with a white inside.
    Circle {
        /// Its middle.
        centre: PaperPoint,
        /// Radius, mm.
        radius: f64,
        /// Line width, mm.
        width: f64,
    },
    /// A symbol, its middle exactly at `at`.
    Symbol {
        /// Which.
        kind: Symbol,
        /// Where.
        at: PaperPoint,
        /// 1 for the full size of [`super::symbols::SIZE`].
        scale: f64,
    },
    /// Lettering.
    Text(Text),
}

/// Dashes of a line.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Dash {
    /// Unbroken.
    Solid,
    /// Short dashes.
    Dashed,
    /// Long dash, dot.
    DashDot,
    /// Fine dots.
    Dotted,
}

impl Dash {
    /// Lengths of dashes and gaps in turn, mm; empty for unbroken.
    #[must_use]
    pub fn pattern(self) -> &'static [f64] {
        match self {
            Self::Solid => &[],
            Self::Dashed => &[2.0, 1.0],
            Self::DashDot => &[5.0, 1.0, 0.6, 1.0],
            Self::Dotted => &[0.3, 1.0],
        }
    }
}

/// Symbols, each of its own shape.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Symbol {
    /// A new tie by its role.
    Tie(Role),
    /// Put over a tie that the user fixed in place.
    Pin,
    /// An old tie.
    OldTie,
}

/// Which end of a text stands at its point.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Align {
    /// Its start.
    Left,
    /// Its middle.
    Centre,
    /// Its end.
    Right,
}

/// A line of lettering.
#[derive(Clone, Debug, PartialEq)]
pub struct Text {
    /// A point on the baseline.
    pub at: PaperPoint,
    /// What it says; every character is in the face.
    pub text: String,
    /// Height of a capital, mm.
    pub height: f64,
    /// What stands at `at`.
    pub align: Align,
    /// Turn about `at`, degrees anticlockwise.
    pub angle: f64,
    /// Typeface.
    pub face: Face,
}

impl Text {
    /// Level text; characters the face lacks become `?`.
    #[must_use]
    pub fn new(at: PaperPoint, text: &str, height: f64, align: Align, face: Face) -> Self {
        Self { at, text: face.clean(text), height, align, angle: 0.0, face }
    }

    /// The same text turned about its point, degrees anticlockwise.
    #[must_use]
    pub fn turned(self, angle: f64) -> Self {
        Self { angle, ..self }
    }

    /// How far it runs, mm.
    #[must_use]
    pub fn width(&self) -> f64 {
        self.face.width(&self.text, self.height)
    }

    /// Start of its baseline.
    #[must_use]
    pub fn start(&self) -> PaperPoint {
        let back = match self.align {
            Align::Left => 0.0,
            Align::Centre => self.width() / 2.0,
            Align::Right => self.width(),
        };
        let (sin, cos) = self.angle.to_radians().sin_cos();
        (self.at.0 - back * cos, self.at.1 - back * sin)
    }

    /// The box its ink fills.
    #[must_use]
    pub fn quad(&self) -> Quad {
        let (low, high) = self.face.ink(&self.text, self.height);
        let (width, (x, y)) = (self.width(), self.start());
        let (sin, cos) = self.angle.to_radians().sin_cos();
        [(0.0, low), (width, low), (width, high), (0.0, high)]
            .map(|(u, v)| (x + u * cos - v * sin, y + u * sin + v * cos))
    }
}
