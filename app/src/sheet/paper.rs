//! Paper sizes, the frame, and the scales of the drawing.

use super::geom::Rect;

/// A size of paper (ISO 216, trimmed).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum PaperSize {
    /// 210 x 297 mm.
    A4,
    /// 297 x 420 mm.
    A3,
    /// 420 x 594 mm.
    A2,
    /// 594 x 841 mm.
    A1,
    /// 841 x 1189 mm.
    A0,
}

impl PaperSize {
    /// All sizes, smallest first.
    pub const ALL: [Self; 5] = [Self::A4, Self::A3, Self::A2, Self::A1, Self::A0];

    /// Short and long side, mm.
    #[must_use]
    pub fn sides(self) -> (f64, f64) {
        match self {
            Self::A4 => (210.0, 297.0),
            Self::A3 => (297.0, 420.0),
            Self::A2 => (420.0, 594.0),
            Self::A1 => (594.0, 841.0),
            Self::A0 => (841.0, 1189.0),
        }
    }

    /// Its name.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::A4 => "A4",
            Self::A3 => "A3",
            Self::A2 => "A2",
            Self::A1 => "A1",
            Self::A0 => "A0",
        }
    }

    /// The size of a name ("A3", "a3").
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|s| s.name().eq_ignore_ascii_case(name.trim()))
    }

    /// Width of the column of notes, mm.
    pub(super) fn column(self) -> f64 {
        match self {
            Self::A4 => 80.0,
            Self::A3 => 100.0,
            Self::A2 => 120.0,
            Self::A1 | Self::A0 => 130.0,
        }
    }
}

impl std::fmt::Display for PaperSize {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(self.name())
    }
}

/// A sheet of paper the way round it is used.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Paper {
    pub size: PaperSize,
    pub upright: bool,
}

impl Paper {
    pub fn lying(size: PaperSize) -> Self {
        Self { size, upright: false }
    }

    pub fn width(self) -> f64 {
        let (short, long) = self.size.sides();
        if self.upright { short } else { long }
    }

    pub fn height(self) -> f64 {
        let (short, long) = self.size.sides();
        if self.upright { long } else { short }
    }

    /// The border: 20 mm from the left edge for filing, 10 mm from the others.
    pub fn border(self) -> Rect {
        Rect::new(20.0, 10.0, self.width() - 10.0, self.height() - 10.0)
    }

    /// The frame round the drawing, inside the strip with the grid references. On A4 they stand above
    /// and at the right alone.
    pub fn frame(self) -> Rect {
        let b = self.border();
        let low = if self.size == PaperSize::A4 { 0.0 } else { STRIP };
        Rect::new(b.left + low, b.bottom + low, b.right - STRIP, b.top - STRIP)
    }
}

/// Breadth of the strip with the grid references, mm.
const STRIP: f64 = 4.0;

/// The scales an elevation is drawn at, largest first.
pub const SCALES: [u32; 5] = [10, 20, 50, 100, 200];

/// Scales for walls that no sheet holds at 1:200, tried only where no scale is asked for.
pub(super) const SMALL_SCALES: [u32; 6] = [500, 1000, 2000, 5000, 10_000, 20_000];
