//! A sheet as plain values: what is drawn, in paper millimetres, before any file format.

use super::font::Face;
use super::geom::{PaperPoint, Quad, Rect};
use super::paper::PaperSize;
use layout_core::Role;
use layout_core::elevation::Point;
use std::sync::Arc;

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
    /// What it is for.
    pub kind: SheetKind,
    /// Index of the elevation it draws to scale, and the scale's denominator.
    pub elevation: Option<(usize, u32)>,
    /// Where the elevation stands on it: one place for an elevation, one for each detail.
    pub shown: Vec<Shown>,
    /// Everything on it, lowest first.
    pub items: Vec<Item>,
}

/// What a sheet is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum SheetKind {
    /// The job: key plan, counts, cautions, rules.
    Cover,
    /// An elevation to scale, or a part of one.
    Elevation,
    /// Notes that run over from the sheet before.
    Notes,
    /// Dense places of an elevation at a larger scale.
    Detail,
    /// Every tie of an elevation, row by row, with running and step distances.
    Schedule,
    /// What was done at each tie, ticked off on site.
    Record,
    /// Pull tests.
    Tests,
    /// Old ties: which to isolate, remove or leave.
    OldTies,
}

/// Where a piece of an elevation stands on a sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Shown {
    /// Index of the elevation.
    pub elevation: usize,
    /// Denominator of the scale.
    pub scale: u32,
    /// A place on the elevation, mm.
    pub corner: Point,
    /// Where that place is on paper.
    pub origin: PaperPoint,
    /// What of the elevation this place answers for, elevation mm: up to its match lines.
    pub window: Rect,
    /// What of the elevation is drawn there, elevation mm.
    pub extent: Rect,
    /// Indices of the ties that belong to this piece, in the order of the plan.
    pub ties: Vec<usize>,
}

impl Shown {
    /// A place on the elevation, on paper.
    #[must_use]
    pub fn at(&self, (x, y): Point) -> PaperPoint {
        let s = f64::from(self.scale);
        (self.origin.0 + (x - self.corner.0) / s, self.origin.1 + (y - self.corner.1) / s)
    }
}

/// A picture in shades of grey, row by row from its upper left corner.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Picture {
    /// Width, pixels.
    pub width: u32,
    /// Height, pixels.
    pub height: u32,
    /// One byte a pixel, 0 black to 255 white; `width * height` of them.
    pub grey: Vec<u8>,
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
    /// Symbols of new ties.
    Ties,
    /// Old ties and their numbers.
    OldTies,
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
    pub const ALL: [Self; 9] = [
        Self::Masonry,
        Self::BedJoints,
        Self::Ties,
        Self::OldTies,
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
            Self::OldTies => "Old ties",
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
    /// A picture that fills a rectangle.
    Picture {
        /// Where.
        rect: Rect,
        /// What.
        picture: Arc<Picture>,
    },
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
    /// A new tie beyond a match line, shown again to find one's place: it belongs to another sheet.
    Beyond(Role),
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
