//! Everything about an elevation beyond the places of its ties: wind, fixing, lengths, tests, old ties.

mod old_ties;
mod price;

pub use old_ties::{Proposal, proposal};
pub use price::{Price, PriceLine, price};

use crate::check::{Finding, Rule, Severity};
use crate::demand::{Assessment, Governs, assess};
use crate::elevation::{Elevation, Point};
use crate::fixing::{Choice, Lengths, choose, lengths};
use crate::plan::Tie;
use crate::rules::RuleSet;
use crate::source::Source;
use crate::testing::{TestPlan, plan_tests};

/// What was worked out beyond the places of the ties; each part only where the elevation has its data.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Engineering {
    /// What the wind asks for.
    pub demand: Option<Assessment>,
    /// What to fix the wall with.
    pub fixing: Option<Choice>,
    /// How long the ties are.
    pub lengths: Option<Lengths>,
    /// How they are tested.
    pub tests: Option<TestPlan>,
}

impl Engineering {
    /// Works everything out for a layout.
    #[must_use]
    pub fn of(elevation: &Elevation, rules: &RuleSet, ties: &[Tie]) -> Self {
        let demand = assess(elevation, rules);
        let fixing = choose(elevation);
        let lengths = fixing.as_ref().and_then(Choice::fixing).and_then(|f| lengths(elevation, f, ties));
        let tests = plan_tests(elevation, ties, demand.as_ref());
        Self { demand, fixing, lengths, tests }
    }

    /// What is wrong, for the list of findings.
    #[must_use]
    pub fn findings(&self, elevation: &Elevation) -> Vec<Finding> {
        let at = middle(elevation);
        let mut out = Vec::new();
        match &self.demand {
            Some(Assessment::Incomplete(missing)) => out.push(finding(
                Rule::Wind,
                Severity::Note,
                format!("the wind could not be worked out; still to enter: {}", missing.join("; ")),
                at,
            )),
            Some(Assessment::Done(d)) => {
                for z in d.zones.iter().filter(|z| z.governs == Governs::TooMuch) {
                    let place = (f64::midpoint(z.x.0, z.x.1), f64::midpoint(z.y.0, z.y.1));
                    let message = format!(
                        "zone {} asks for {:.1} ties per m², closer than ties can stand: a stronger fixing, or an engineer's decision",
                        z.name,
                        z.per_m2.unwrap_or(0.0)
                    );
                    out.push(finding(Rule::Wind, Severity::Breach, message, place));
                }
            }
            None => {}
        }
        if let Some(objection) = self.fixing.as_ref().and_then(|f| f.objection.clone()) {
            out.push(finding(Rule::Fixing, Severity::Breach, objection, at));
        }
        if let Some(l) = &self.lengths {
            for fault in &l.faults {
                out.push(finding(Rule::TieLength, Severity::Breach, fault.clone(), at));
            }
            for g in &l.groups {
                let Some(fault) = &g.fault else { continue };
                let message = format!("{} ties: {fault}", g.ties.len());
                out.push(finding(Rule::TieLength, Severity::Breach, message, g.at));
            }
        }
        for area in self.tests.iter().flat_map(|t| &t.areas).filter(|a| a.verdict.failed()) {
            let message = format!("{}: {}", area.name, area.verdict.words());
            out.push(finding(Rule::SiteTests, Severity::Breach, message, at));
        }
        out
    }
}

fn finding(rule: Rule, severity: Severity, message: String, at: Point) -> Finding {
    let source = Source::new("values entered for this elevation", crate::source::Sureness::Stated);
    Finding { rule, severity, message, at, measured: None, required: None, source }
}

fn middle(e: &Elevation) -> Point {
    let b = e
        .outline
        .iter()
        .fold((f64::INFINITY, f64::INFINITY, f64::NEG_INFINITY, f64::NEG_INFINITY), |b, p| {
            (b.0.min(p.0), b.1.min(p.1), b.2.max(p.0), b.3.max(p.1))
        });
    if b.0.is_finite() && b.2.is_finite() {
        (f64::midpoint(b.0, b.2), f64::midpoint(b.1, b.3))
    } else {
        (0.0, 0.0)
    }
}
