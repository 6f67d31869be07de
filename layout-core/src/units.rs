//! Units and the one tolerance.
//!
//! Lengths are millimetres (`f64`), x to the right, y up, seen from outside. Areas are square
//! metres where a person reads them and square millimetres inside. Densities are ties per m2.

mod length;

pub use length::{Bricks, Length, feet_and_inches, in_bricks, read_length};

/// A distance that measures short by no more than this passes, mm.
///
/// Bounds what a tape on a wall can tell apart; see "Readings" 8 of the layout rules.
pub const DISTANCE_TOLERANCE: f64 = 1.0;

/// A tie whose height is off its course by no more than this is on it, mm.
pub const COURSING_TOLERANCE: f64 = 0.5;

/// Masonry left unserved in pieces into which no square of this side fits is ignored, mm.
pub const SLIVER: f64 = 4.0;

/// Arcs are flattened so that no chord strays further than this from its arc, mm.
pub const ARC_TOLERANCE: f64 = 1.0;

/// Heights that are tried where a tie may stand at any height are this far apart, mm.
pub const ANYWHERE_STEP: f64 = 25.0;

/// Lengths below this are rounding noise of the arithmetic, mm.
pub const EPSILON: f64 = 1e-6;

/// No coordinate may be larger than this in magnitude, mm (10 km).
pub const LARGEST_COORDINATE: f64 = 1e7;

/// Millimetres in one inch, exact (international yard and pound agreement, 1959).
pub const INCH: f64 = 25.4;

/// Millimetres in one foot, exact.
pub const FOOT: f64 = 304.8;

/// Square metres from square millimetres.
#[must_use]
pub fn m2(square_mm: f64) -> f64 {
    square_mm / 1e6
}

/// No number beyond this has a fraction.
const WHOLE_FROM: f64 = (1_u64 << 52) as f64;

/// As [`f64::round`], in a few instructions on every processor.
#[inline]
pub(crate) fn round(v: f64) -> f64 {
    if v.abs() < WHOLE_FROM {
        let whole = (v as i64) as f64;
        let rounded = if (v - whole).abs() >= 0.5 { whole + 1f64.copysign(v) } else { whole };
        return rounded.copysign(v);
    }
    v
}

/// As [`f64::floor`], likewise; nought is never negative.
#[inline]
pub(crate) fn floor(v: f64) -> f64 {
    if v.abs() < WHOLE_FROM {
        let whole = (v as i64) as f64;
        return if whole > v { whole - 1.0 } else { whole };
    }
    v
}

/// Rounds to a thousandth of a millimetre, so that results read cleanly and repeat exactly.
#[must_use]
pub fn tidy_mm(v: f64) -> f64 {
    let r = round(v * 1000.0) / 1000.0;
    if r == 0.0 { 0.0 } else { r }
}

#[cfg(test)]
mod tests {
    use super::{floor, round};

    #[test]
    fn round_and_floor_agree_with_the_standard_library() {
        let edges = [0.0, 0.25, 0.5, 0.75, 1.0, 1.5, 2.5, 1e3 + 0.5, 4.5e15, 4503599627370497.5, 1e18, 1e300];
        let below = edges.map(|v: f64| v.next_down());
        for v in edges.into_iter().chain(below).flat_map(|v| [v, -v]) {
            assert_eq!(round(v), v.round(), "{v}");
            assert_eq!(floor(v), v.floor(), "{v}");
        }
        assert!(round(f64::NAN).is_nan() && floor(f64::NAN).is_nan());
        assert_eq!((round(f64::NEG_INFINITY), floor(f64::INFINITY)), (f64::NEG_INFINITY, f64::INFINITY));
    }
}
