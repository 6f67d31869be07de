//! Faults of the drawing that do not keep it from being laid out, as findings.

use super::{Finding, Rule, Severity};
use crate::elevation::{Fault, FaultKind};
use crate::source::{Source, Sureness};

/// The notes among the faults of a drawing.
#[must_use]
pub fn notes(faults: &[Fault]) -> Vec<Finding> {
    faults
        .iter()
        .filter(|f| f.kind == FaultKind::Note)
        .map(|f| Finding {
            rule: match f.place.field {
                "keep_outs" => Rule::KeepOut,
                "movement_joints" | "sides" => Rule::EdgeTies,
                "existing_ties" => Rule::ExistingTies,
                _ => Rule::Coverage,
            },
            severity: Severity::Note,
            message: f.message.clone(),
            at: f.at.unwrap_or((0.0, 0.0)),
            measured: None,
            required: None,
            source: Source::new("the drawing", Sureness::Stated),
        })
        .collect()
}
