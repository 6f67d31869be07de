//! Rule 7: new ties keep clear of old ones.

use super::place::{at, mm, tie};
use super::{Finding, Rule, Severity, Subject};
use crate::units::{DISTANCE_TOLERANCE, EPSILON};

pub(super) fn check(s: &Subject<'_>, out: &mut Vec<Finding>) {
    let limit = s.rules.existing_clearance.value;
    let least = limit - DISTANCE_TOLERANCE - EPSILON;
    for old in &s.elevation.existing_ties {
        let q = old.at;
        let mut close: Vec<usize> =
            s.index.within((q.0 - limit, q.1 - limit), (q.0 + limit, q.1 + limit)).collect();
        close.sort_unstable();
        for p in close.into_iter().map(|i| s.ties[i]) {
            let d = (p.0 - q.0).hypot(p.1 - q.1);
            if d < least {
                out.push(Finding {
                    rule: Rule::ExistingTies,
                    severity: Severity::Breach,
                    message: format!(
                        "{} is {} mm from the old tie at {}; at least {} is asked for: move it {} mm away",
                        tie(p),
                        mm(d),
                        at(q),
                        mm(limit),
                        mm(limit - d)
                    ),
                    at: p,
                    measured: Some(d),
                    required: Some(limit),
                    source: s.rules.existing_clearance.source.clone(),
                });
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::{broken, passes, wall};
    use super::*;
    use crate::elevation::{ExistingTie, TieForm};

    fn with_old_tie() -> crate::elevation::Elevation {
        let mut e = wall();
        e.existing_ties.push(ExistingTie {
            at: (450.0, 450.0),
            form: TieForm::VerticalTwist,
            ..ExistingTie::default()
        });
        e
    }

    #[test]
    fn clear_of_the_old_tie_passes() {
        passes(Rule::ExistingTies, &with_old_tie(), &[(550.0, 450.0), (450.0, 300.0)]);
    }

    #[test]
    fn near_the_old_tie_is_found() {
        assert_eq!(broken(Rule::ExistingTies, &with_old_tie(), &[(450.0, 525.0)]).measured, Some(75.0));
    }
}
