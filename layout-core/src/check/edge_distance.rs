//! Rule 4: ties keep clear of the boundaries of the masonry.

use super::place::{mm, tie};
use super::{Finding, Rule, Severity, Subject};
use crate::masonry::BoundaryKind;
use crate::units::{DISTANCE_TOLERANCE, EPSILON};

pub(super) fn check(s: &Subject<'_>, out: &mut Vec<Finding>) {
    let limit = s.rules.edge_distance.value;
    let least = limit - DISTANCE_TOLERANCE - EPSILON;
    for (&p, stand) in s.ties.iter().zip(&s.stands) {
        let (measured, message) = if stand.inside {
            let Some((d, i)) = stand.nearest.filter(|n| n.0 < least) else { continue };
            let what = match s.masonry.boundary.segments[i as usize].kind {
                BoundaryKind::Side(_) => "side of the wall",
                BoundaryKind::Opening => "opening",
                BoundaryKind::Joint(_) => "movement joint",
            };
            (
                d,
                format!(
                    "{} is {} mm from the nearest {what}; at least {} is asked for: move it {} mm away from there",
                    tie(p),
                    mm(d),
                    mm(limit),
                    mm(limit - d)
                ),
            )
        } else {
            (0.0, format!("{} stands off the masonry and holds nothing: move it onto the wall", tie(p)))
        };
        out.push(Finding {
            rule: Rule::EdgeDistance,
            severity: Severity::Breach,
            message,
            at: p,
            measured: Some(measured),
            required: Some(limit),
            source: s.rules.edge_distance.source.clone(),
        });
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::{broken, passes, wall};
    use super::*;
    use crate::elevation::{MovementJoint, Opening, Shape};

    #[test]
    fn at_the_edge_distance_passes() {
        passes(Rule::EdgeDistance, &wall(), &[(75.0, 75.0), (74.0, 225.0)]);
    }

    #[test]
    fn too_near_a_side_is_found() {
        let f = broken(Rule::EdgeDistance, &wall(), &[(60.0, 225.0)]);
        assert_eq!(f.measured, Some(60.0));
    }

    #[test]
    fn off_the_masonry_is_found() {
        let mut e = wall();
        e.openings.push(Opening {
            name: "W1".into(),
            shape: Shape::Rect { x: 600.0, y: 300.0, w: 600.0, h: 300.0 },
        });
        broken(Rule::EdgeDistance, &e, &[(900.0, 450.0)]);
        broken(Rule::EdgeDistance, &e, &[(-300.0, 450.0)]);
        // 30 right of the jamb at 1200.
        assert_eq!(broken(Rule::EdgeDistance, &e, &[(1230.0, 450.0)]).measured, Some(30.0));
    }

    #[test]
    fn a_joint_is_a_boundary() {
        let mut e = wall();
        e.movement_joints.push(MovementJoint { x: 900.0, from: 0.0, to: 900.0 });
        assert_eq!(broken(Rule::EdgeDistance, &e, &[(940.0, 450.0)]).measured, Some(40.0));
        passes(Rule::EdgeDistance, &e, &[(975.0, 450.0)]);
    }
}
