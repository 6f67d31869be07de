//! Rule 8: ties stand on the courses.

use super::place::{mm, tie};
use super::{Finding, Rule, Severity, Subject};
use crate::source::{Source, Sureness};
use crate::units::{COURSING_TOLERANCE, EPSILON};

pub(super) fn check(s: &Subject<'_>, out: &mut Vec<Finding>) {
    let c = s.elevation.coursing;
    for &p in s.ties {
        let off = c.off_course(p.1);
        if off > COURSING_TOLERANCE + EPSILON {
            let k = c.nearest(p.1);
            out.push(Finding {
                rule: Rule::Coursing,
                severity: Severity::Breach,
                message: format!(
                    "{} is {} mm off its {}; the nearest, number {k}, is at {} mm",
                    tie(p),
                    mm(off),
                    c.fix.words(),
                    mm(c.height(k)),
                ),
                at: p,
                measured: Some(off),
                required: Some(0.0),
                source: Source::new("the coursing of the elevation", Sureness::Stated),
            });
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::{broken, passes, wall};
    use super::*;

    #[test]
    fn on_the_bed_joint_passes() {
        passes(Rule::Coursing, &wall(), &[(450.0, 225.0), (450.0, 300.4)]);
    }

    #[test]
    fn off_the_bed_joint_is_found() {
        let f = broken(Rule::Coursing, &wall(), &[(450.0, 255.0)]);
        // Worked by hand: 255 lies 30 above bed joint 3 at 225.
        assert_eq!(f.measured, Some(30.0));
        assert_eq!(f.at, (450.0, 255.0));
    }
}
