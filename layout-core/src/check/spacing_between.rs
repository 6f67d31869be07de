//! Rule 6: new ties keep clear of each other.

use super::place::{at, mm, tie};
use super::{Finding, Rule, Severity, Subject};
use crate::elevation::Point;
use crate::many::gather;
use crate::units::{DISTANCE_TOLERANCE, EPSILON};

pub(super) fn check(s: &Subject<'_>, out: &mut Vec<Finding>) {
    let limit = s.rules.between.value;
    let least = limit - DISTANCE_TOLERANCE - EPSILON;
    out.extend(gather(s.ties.len(), |some| {
        let mut found = Vec::new();
        let mut close: Vec<usize> = Vec::new();
        for i in some {
            let p = s.ties[i];
            let box_about = ((p.0 - limit, p.1 - limit), (p.0 + limit, p.1 + limit));
            close.clear();
            close.extend(s.index.within(box_about.0, box_about.1).filter(|&j| j > i));
            close.sort_unstable();
            for &j in &close {
                let d = (p.0 - s.ties[j].0).hypot(p.1 - s.ties[j].1);
                if d < least {
                    found.push(finding(s, p, s.ties[j], d));
                }
            }
        }
        found
    }));
}

fn finding(s: &Subject<'_>, p: Point, q: Point, d: f64) -> Finding {
    let limit = s.rules.between.value;
    Finding {
        rule: Rule::SpacingBetween,
        severity: Severity::Breach,
        message: format!(
            "{} is {} mm from the tie at {}; at least {} is asked for: move one of them {} mm away",
            tie(q),
            mm(d),
            at(p),
            mm(limit),
            mm(limit - d)
        ),
        at: q,
        measured: Some(d),
        required: Some(limit),
        source: s.rules.between.source.clone(),
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::{broken, passes, wall};
    use super::*;

    #[test]
    fn apart_by_the_least_passes() {
        passes(Rule::SpacingBetween, &wall(), &[(450.0, 225.0), (550.0, 225.0), (450.0, 325.0)]);
    }

    #[test]
    fn too_near_is_found_once() {
        // 3-4-5: 60 across and 80 up are 100, and pass; 45 across and 75 up are 87.5 and do not.
        passes(Rule::SpacingBetween, &wall(), &[(450.0, 225.0), (510.0, 305.0)]);
        let f = broken(Rule::SpacingBetween, &wall(), &[(450.0, 225.0), (495.0, 300.0)]);
        assert!((f.measured.unwrap_or(0.0) - 87.464).abs() < 1e-3);
    }
}
