//! Ties struck out by hand: a small round keep-out where no tie may be, with the reason in its name.
//!
//! So the file, the checker and the drawings know it without more ado, and taking it out releases the place.

use layout_core::elevation::{KeepOut, Point, Shape};

/// How the name of a place that was struck out begins.
const HEAD: &str = "Struck out: ";

/// Radius of a hole that was given up, mm.
const RADIUS: f64 = 15.0;

/// How far new ties keep from it, mm: with the radius, the 75 mm that ties keep from an edge.
const CLEAR: f64 = 60.0;

/// A place struck out for a reason.
#[must_use]
pub fn out(at: Point, reason: &str) -> KeepOut {
    KeepOut {
        name: format!("{HEAD}{}", reason.trim()),
        shape: Shape::Circle { x: at.0, y: at.1, r: RADIUS },
        clearance: CLEAR,
    }
}

/// Why a place was struck out; `None` for other keep-outs.
#[must_use]
pub fn reason(k: &KeepOut) -> Option<&str> {
    k.name.strip_prefix(HEAD).filter(|_| matches!(k.shape, Shape::Circle { .. }))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_reason_is_kept() {
        let k = out((1200.0, 900.0), " hit a cable ");
        assert_eq!(reason(&k), Some("hit a cable"));
        assert_eq!(reason(&KeepOut { name: "Flue".into(), ..k }), None);
    }
}
