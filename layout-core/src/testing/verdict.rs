//! What the results of an area mean, and what to do next.

use crate::elevation::{LeafName, TestResult};

/// What the results of an area so far mean.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// Trial ties before work starts: so many held and so many wanted, outer then inner leaf.
    Before {
        /// Held in the outer and the inner leaf.
        done: [usize; 2],
        /// Wanted in each leaf.
        wanted: usize,
    },
    /// A trial tie failed before work started.
    TrialFailed {
        /// How many failed.
        failed: usize,
    },
    /// Tests are still to be made.
    Open {
        /// Made and held.
        done: usize,
        /// Wanted.
        wanted: usize,
    },
    /// Every test wanted was made and held.
    Passed {
        /// How many.
        done: usize,
    },
    /// One test failed.
    OneFailure {
        /// Made.
        done: usize,
        /// Wanted now.
        wanted: usize,
    },
    /// More than one failed.
    MoreFailures {
        /// How many failed.
        failed: usize,
        /// Made.
        done: usize,
        /// Wanted now: all.
        wanted: usize,
    },
}

impl Verdict {
    /// Whether a test has failed.
    #[must_use]
    pub fn failed(&self) -> bool {
        matches!(self, Self::TrialFailed { .. } | Self::OneFailure { .. } | Self::MoreFailures { .. })
    }

    /// Name in results.
    #[must_use]
    pub fn id(&self) -> &'static str {
        match self {
            Self::Before { .. } => "before_work",
            Self::TrialFailed { .. } => "trial_failed",
            Self::Open { .. } => "open",
            Self::Passed { .. } => "passed",
            Self::OneFailure { .. } => "one_failure",
            Self::MoreFailures { .. } => "more_failures",
        }
    }

    /// What it means and what to do next, in words.
    #[must_use]
    pub fn words(&self) -> String {
        match self {
            Self::Before { done: [outer, inner], wanted } => format!(
                "Before work starts: {outer} of {wanted} trial ties held in the outer leaf, {inner} of {wanted} in the inner."
            ),
            Self::TrialFailed { failed } => format!(
                "{failed} trial {} failed before work started. Do not start: find the cause, switch to the fallback fixing and test that, or have an engineer set a lower resistance; the spacing follows the lowest load measured.",
                if *failed == 1 { "tie" } else { "ties" }
            ),
            Self::Open { done, wanted } => format!("{done} of {wanted} tests made, all held. Go on testing."),
            Self::Passed { done } => format!(
                "All {done} tests held at the test load. That proves these ties and no others: keep to the same fixing, hole and depth."
            ),
            Self::OneFailure { done, wanted } => format!(
                "One of {done} tests failed. Find the cause; test 5 % of the area and at least 6: {wanted} in all. The spacing follows the load measured."
            ),
            Self::MoreFailures { failed, done, wanted } => format!(
                "{failed} of {done} tests failed. Test all {wanted} ties of the area and reconsider the fixing: have a competent engineer decide. The spacing follows the lowest load measured."
            ),
        }
    }
}

/// What is judged.
pub(super) struct Case<'a> {
    /// Results of the area.
    pub results: &'a [&'a TestResult],
    /// Those made while work went on; all where the scheme has no others.
    pub during: &'a [&'a TestResult],
    /// Trial ties wanted in each leaf before work starts.
    pub before: usize,
    /// Tests wanted.
    pub wanted: usize,
    /// The test load, N.
    pub load: Option<f64>,
    /// Whether the scheme is that of remedial ties.
    pub remedial: bool,
}

pub(super) fn judge(case: &Case<'_>) -> Verdict {
    // A pull that held but was not taken to the test load proves nothing.
    let to_load = |r: &&&TestResult| case.load.is_some_and(|l| r.load >= l - 1e-9);
    let failed = case.during.iter().filter(|r| !r.held).count();
    let done = case.during.iter().filter(|r| r.held).filter(to_load).count();
    if failed > 1 {
        return Verdict::MoreFailures { failed, done: done + failed, wanted: case.wanted };
    }
    if case.remedial {
        let trials = || case.results.iter().filter(|r| r.before_work);
        let broken = trials().filter(|r| !r.held).count();
        if broken > 0 {
            return Verdict::TrialFailed { failed: broken };
        }
        let held = |leaf| trials().filter(|r| r.leaf == leaf).filter(to_load).count();
        let in_leaves = [held(LeafName::Outer), held(LeafName::Inner)];
        if in_leaves.iter().any(|&n| n < case.before) && failed == 0 {
            return Verdict::Before { done: in_leaves, wanted: case.before };
        }
    }
    if failed == 1 {
        Verdict::OneFailure { done: done + 1, wanted: case.wanted }
    } else if done >= case.wanted && case.wanted > 0 {
        Verdict::Passed { done }
    } else {
        Verdict::Open { done, wanted: case.wanted }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn result(leaf: LeafName, before: bool, load: f64, held: bool) -> TestResult {
        TestResult { leaf, before_work: before, load, held, ..TestResult::default() }
    }

    #[track_caller]
    fn case(results: &[TestResult], remedial: bool, before: usize, wanted: usize, expect: &Verdict) {
        let all: Vec<&TestResult> = results.iter().collect();
        let during: Vec<&TestResult> = all.iter().copied().filter(|r| !remedial || !r.before_work).collect();
        let case = Case { results: &all, during: &during, before, wanted, load: Some(600.0), remedial };
        assert_eq!(judge(&case), *expect);
    }

    #[test]
    fn anchors() {
        use LeafName::Outer;
        let held = result(Outer, false, 600.0, true);
        let failed = result(Outer, false, 450.0, false);
        let short = result(Outer, false, 500.0, true);
        case(&[], false, 0, 3, &Verdict::Open { done: 0, wanted: 3 });
        case(&[held.clone(), short.clone()], false, 0, 3, &Verdict::Open { done: 1, wanted: 3 });
        case(&vec![held.clone(); 3], false, 0, 3, &Verdict::Passed { done: 3 });
        let one = [held.clone(), failed.clone()];
        case(&one, false, 0, 6, &Verdict::OneFailure { done: 2, wanted: 6 });
        let two = [failed.clone(), held, failed];
        case(&two, false, 0, 60, &Verdict::MoreFailures { failed: 2, done: 3, wanted: 60 });
    }

    #[test]
    fn remedial_ties_are_tried_in_both_leaves_first() {
        use LeafName::{Inner, Outer};
        let trial = |leaf| result(leaf, true, 600.0, true);
        case(&[trial(Outer)], true, 1, 3, &Verdict::Before { done: [1, 0], wanted: 1 });
        case(&[trial(Outer), trial(Inner)], true, 1, 3, &Verdict::Open { done: 0, wanted: 3 });
        let broken = [trial(Outer), result(Inner, true, 200.0, false)];
        case(&broken, true, 1, 3, &Verdict::TrialFailed { failed: 1 });
    }
}
