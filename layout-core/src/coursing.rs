//! Courses: which heights a tie may stand at, and how heights read as courses.

use crate::elevation::{Coursing, Fix};

impl Coursing {
    /// Height of the k-th place for a tie, mm: bed joint k, or the middle of the course above it.
    #[must_use]
    pub fn height(&self, k: i64) -> f64 {
        let half = if self.fix == Fix::BrickFace { 0.5 } else { 0.0 };
        self.first_bed + (k as f64 + half) * self.gauge
    }

    /// How far a height is off the nearest place for a tie, mm; 0 where any height will do.
    #[must_use]
    pub fn off_course(&self, y: f64) -> f64 {
        match self.fix {
            Fix::Anywhere => 0.0,
            Fix::BedJoint | Fix::BrickFace => (y - self.height(self.nearest(y))).abs(),
        }
    }

    /// Index of the place for a tie nearest to a height: the bed joint's number, or the course's.
    #[must_use]
    pub fn nearest(&self, y: f64) -> i64 {
        let half = if self.fix == Fix::BrickFace { 0.5 } else { 0.0 };
        crate::units::round((y - self.first_bed) / self.gauge - half) as i64
    }

    /// How many whole courses fit in a limit, at least 0. Six of 75 mm in 450; five of 76.2.
    #[must_use]
    pub fn courses_within(&self, limit: f64) -> i64 {
        ((limit + crate::units::EPSILON) / self.gauge).floor().max(0.0) as i64
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn courses_that_fit_the_greatest_spacing() {
        // Check value 23, recomputed: six courses of 76.2 mm are 457 mm, over 450; five are 381.
        let of = |gauge| Coursing { gauge, ..Coursing::default() }.courses_within(450.0);
        assert_eq!(of(76.2), 5);
        assert_eq!(of(75.0), 6);
    }

    #[test]
    fn brick_faces_lie_half_a_course_up() {
        let c = Coursing { gauge: 75.0, first_bed: 10.0, fix: Fix::BrickFace, ..Coursing::default() };
        assert!((c.height(0) - 47.5).abs() < 1e-9);
        assert!((c.off_course(122.9) - 0.4).abs() < 1e-9);
        assert_eq!(c.nearest(122.9), 1);
    }
}
