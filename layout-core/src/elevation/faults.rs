//! What is wrong with a drawing, each fault with its place; and the words for numbers that cannot be.

use super::Point;
use crate::units::{EPSILON, LARGEST_COORDINATE};

/// Something wrong with a drawing.
#[derive(Clone, Debug, PartialEq)]
pub struct Fault {
    /// Whether the elevation can still be laid out.
    pub kind: FaultKind,
    /// The field of the elevation it is about.
    pub place: Place,
    /// What is wrong and how to mend it.
    pub message: String,
    /// Where on the elevation, if it has a place there, mm.
    pub at: Option<Point>,
}

/// How bad a fault is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FaultKind {
    /// The elevation cannot be laid out.
    Unusable,
    /// Said, and laid out without the part concerned.
    Note,
}

/// A field of an elevation: its name in the file, which item of a list, which field of the item.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Place {
    /// Field of the elevation as the file names it.
    pub field: &'static str,
    /// Item of a list, from 0.
    pub index: Option<usize>,
    /// Field of the item.
    pub part: Option<&'static str>,
}

impl Place {
    pub(super) fn of(field: &'static str) -> Self {
        Self { field, index: None, part: None }
    }
    pub(super) fn item(field: &'static str, index: usize) -> Self {
        Self { field, index: Some(index), part: None }
    }
    pub(super) fn part(self, part: &'static str) -> Self {
        Self { part: Some(part), ..self }
    }
}

/// Faults as they are found.
pub(super) struct Faults(pub(super) Vec<Fault>);

impl Faults {
    pub(super) fn unusable(&mut self, place: Place, message: impl Into<String>) {
        self.0.push(Fault { kind: FaultKind::Unusable, place, message: message.into(), at: None });
    }
    pub(super) fn note(&mut self, place: Place, message: impl Into<String>, at: Point) {
        self.0.push(Fault { kind: FaultKind::Note, place, message: message.into(), at: Some(at) });
    }
    /// Finite and no further out than a wall can be; says what is wrong otherwise.
    pub(super) fn coordinate(&mut self, place: Place, what: &str, v: f64) -> bool {
        if !v.is_finite() {
            self.unusable(place, format!("{what} is not a finite number; give it in mm"));
            false
        } else if v.abs() > LARGEST_COORDINATE {
            self.unusable(place, format!("{what} is {v} mm, more than 10 km; give it in mm"));
            false
        } else {
            true
        }
    }
    pub(super) fn size(&mut self, place: Place, what: &str, v: f64) -> bool {
        if self.coordinate(place, what, v) {
            if v > EPSILON {
                return true;
            }
            self.unusable(place, format!("{what} is {v} mm; it must be more than 0"));
        }
        false
    }
    pub(super) fn distance(&mut self, place: Place, what: &str, v: f64) -> bool {
        if self.coordinate(place, what, v) {
            if v >= 0.0 {
                return true;
            }
            self.unusable(place, format!("{what} is {v} mm; it must be 0 or more"));
        }
        false
    }
}
