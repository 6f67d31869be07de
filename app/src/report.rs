//! A project with the plan of each elevation: worked out once, shown by every command and sheet.

use layout_core::check::{Finding, Severity};
use layout_core::elevation::{Elevation, Fault, Project, TieForm};
use layout_core::engineering::{Price, price};
use layout_core::{Plan, Role};
use rayon::prelude::*;

/// What every output reminds the reader of.
pub const CAUTION: &str = "Before drilling, look for hidden services, loose masonry and asbestos. Work at height, \
     dust and resin are for local codes and the maker's instructions. A competent engineer confirms the layout.";

/// A project with the plans of its elevations.
#[derive(Clone, Debug, PartialEq)]
pub struct Report {
    /// The project as drawn.
    pub project: Project,
    /// The plan of each elevation, in the order of the project.
    pub plans: Vec<Plan>,
}

impl Report {
    /// Sets out and checks every elevation; on as many cores as there are, with the same result.
    ///
    /// # Errors
    ///
    /// The first elevation that cannot be set out, by its index, and its faults.
    pub fn of(project: Project) -> Result<Self, (usize, Vec<Fault>)> {
        let plans: Vec<_> = project.elevations.par_iter().map(layout_core::plan).collect();
        let plans = plans.into_iter().enumerate().map(|(i, p)| p.map_err(|faults| (i, faults)));
        let plans = plans.collect::<Result<_, _>>()?;
        Ok(Self { project, plans })
    }

    /// Each elevation with its plan.
    pub fn elevations(&self) -> impl Iterator<Item = (&Elevation, &Plan)> {
        self.project.elevations.iter().zip(&self.plans)
    }

    /// Whether any rule is broken anywhere.
    #[must_use]
    pub fn has_breach(&self) -> bool {
        self.plans.iter().any(Plan::has_breach)
    }

    /// Sum of a quantity over all elevations.
    #[must_use]
    pub fn total(&self, of: impl Fn(&Elevation, &Plan) -> f64) -> f64 {
        self.elevations().map(|(e, p)| of(e, p)).sum()
    }

    /// The price of the work, where the project has rates.
    #[must_use]
    pub fn price(&self) -> Option<Price> {
        price(&self.project, &self.plans.iter().collect::<Vec<_>>())
    }

    /// Number of ties in all.
    #[must_use]
    pub fn tie_count(&self) -> usize {
        self.plans.iter().map(|p| p.ties.len()).sum()
    }

    /// Number of ties of a role in all.
    #[must_use]
    pub fn role_count(&self, role: Role) -> usize {
        self.plans.iter().map(|p| p.count(role)).sum()
    }
}

/// The breaches of a plan.
pub fn breaches(plan: &Plan) -> impl Iterator<Item = &Finding> {
    plan.findings.iter().filter(|f| f.severity == Severity::Breach)
}

/// How many old ties of each form an elevation has, forms that do not occur left out.
#[must_use]
pub fn old_ties(elevation: &Elevation) -> Vec<(TieForm, usize)> {
    let count = |form| elevation.existing_ties.iter().filter(|t| t.form == form).count();
    TieForm::ALL.into_iter().map(|f| (f, count(f))).filter(|&(_, n)| n > 0).collect()
}
