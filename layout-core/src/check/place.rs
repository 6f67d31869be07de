//! Words for places and sizes in messages.

use crate::elevation::Point;

/// A length without needless digits, in mm.
pub(super) fn mm(v: f64) -> String {
    let r = (v * 10.0).round() / 10.0;
    if (r - r.round()).abs() < 1e-9 { format!("{r:.0}") } else { format!("{r:.1}") }
}

/// A point as the drawing's dimensions read it.
pub(super) fn at(p: Point) -> String {
    format!("({}, {})", mm(p.0), mm(p.1))
}

/// The tie at a point.
pub(super) fn tie(p: Point) -> String {
    format!("tie at {}", at(p))
}
