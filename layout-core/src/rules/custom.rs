//! Rules of the user's own.

use super::{Density, EdgeRule, RuleSet};
use crate::elevation::CustomRules;
use crate::source::{Sourced, Sureness};

pub(super) fn rule_set(c: &CustomRules) -> RuleSet {
    let document = if c.source.is_empty() { "the user, no source stated" } else { c.source.as_str() };
    let density =
        if c.edges_on_top { Density::MinimumPlusEdges(c.per_m2) } else { Density::Minimum(c.per_m2) };
    let stated = |v| Sourced::new(v, document, Sureness::Stated);
    RuleSet {
        id: c.name.clone(),
        title: "Rules given by the user".to_owned(),
        remarks: vec!["Confirm with a competent engineer.".to_owned()],
        horizontal: stated(c.horizontal),
        vertical: stated(c.vertical),
        density: Sourced::new(density, document, Sureness::Stated),
        edges: c.edges.map(|e| EdgeRule {
            within: stated(e.within),
            spacing: stated(e.spacing),
            top: e.top.map(stated),
            scope: e.scope,
        }),
        edge_distance: stated(c.edge_distance),
        between: stated(c.between),
        existing_clearance: stated(c.existing_clearance),
    }
}
