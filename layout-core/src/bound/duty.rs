//! Where the tie that does a duty may stand.

use super::HAIR;
use crate::elevation::{Coursing, Fix};
use crate::units::COURSING_TOLERANCE;

/// Places for a tie: a range of x, mm, on each of some courses.
#[derive(Clone, Copy, Debug)]
pub(super) struct Places {
    pub left: f64,
    pub right: f64,
    pub low: i64,
    pub high: i64,
}

impl Places {
    /// Whether some place is in both.
    pub(super) fn meets(&self, other: &Self) -> bool {
        self.left <= other.right
            && other.left <= self.right
            && self.low <= other.high
            && other.low <= self.high
    }
}

/// Heights are off their course by no more than this, mm.
pub(super) const SLACK: f64 = COURSING_TOLERANCE + HAIR;

/// Where any height will do, a course is a hundredth of a millimetre.
const TO_A_MM: f64 = 100.0;

/// The courses between two heights, lower and upper; the first is over the second where there is none.
pub(super) fn courses(c: Coursing, from: f64, to: f64) -> (i64, i64) {
    if c.fix == Fix::Anywhere {
        return ((from * TO_A_MM).floor() as i64, (to * TO_A_MM).ceil() as i64);
    }
    let mut high = c.nearest(to);
    while c.height(high) > to + SLACK {
        high -= 1;
    }
    (first_course(c, from), high)
}

/// The lowest of the courses from a height on.
pub(super) fn first_course(c: Coursing, from: f64) -> i64 {
    if c.fix == Fix::Anywhere {
        return (from * TO_A_MM).floor() as i64;
    }
    let mut low = c.nearest(from);
    while c.height(low) < from - SLACK {
        low += 1;
    }
    low
}

/// The height above which a course is no more among [`courses`] from there up, mm.
pub(super) fn top_of(c: Coursing, course: i64) -> f64 {
    if c.fix == Fix::Anywhere { (course + 1) as f64 / TO_A_MM } else { c.height(course) + SLACK }
}
