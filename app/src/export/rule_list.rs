//! The rule sets as text, every value with its source and how sure we are of it.

use super::text::{one_line, plain, wrapped};
use layout_core::rules::{DEFAULT_RULES, Density, EdgeScope, RuleSet};
use layout_core::source::{Source, Sourced};

/// One set after another.
#[must_use]
pub fn rule_list(sets: &[RuleSet]) -> String {
    sets.iter().map(rule_set).collect::<Vec<_>>().join("\n")
}

fn rule_set(set: &RuleSet) -> String {
    let default = if set.id == DEFAULT_RULES { "  (default)" } else { "" };
    let mut out = format!("{}{default}\n", one_line(&set.id));
    out.push_str(&wrapped(&set.title, "  ", 96));
    for (label, value, source) in values(set) {
        out.push_str(&format!("    {label:<26}{value:<28}{source}\n"));
    }
    for remark in &set.remarks {
        let lines = wrapped(remark, "      ", 96);
        out.push_str(&format!("    - {}", lines.trim_start()));
    }
    out
}

/// Every value of a set: label, value with unit, source.
fn values(set: &RuleSet) -> Vec<(&'static str, String, &Source)> {
    let mm = |label, v: &'_ Sourced<f64>| (label, format!("{} mm", plain(v.value)));
    let density = match set.density.value {
        Density::Equivalent(v) => format!("{} per m², equivalent", plain(v)),
        Density::Minimum(v) => format!("at least {} per m²", plain(v)),
        Density::MinimumPlusEdges(v) => format!("at least {} per m² + edges", plain(v)),
    };
    let mut out = Vec::new();
    let mut push = |(label, value): (&'static str, String), source| out.push((label, value, source));
    push(mm("spacing along the wall", &set.horizontal), &set.horizontal.source);
    push(mm("spacing up the wall", &set.vertical), &set.vertical.source);
    push(("ties for the area", density), &set.density.source);
    if let Some(edge) = &set.edges {
        push(mm("edge ties within", &edge.within), &edge.within.source);
        let spacing = match edge.scope {
            EdgeScope::Upright => format!("{} mm up the edge", plain(edge.spacing.value)),
            EdgeScope::OpeningPerimeter { .. } => format!("{} mm round openings", plain(edge.spacing.value)),
            EdgeScope::EveryFreeEdge { .. } => format!("{} mm along every edge", plain(edge.spacing.value)),
        };
        push(("edge ties apart", spacing), &edge.spacing.source);
        if let Some(top) = &edge.top {
            push(mm("at the top, apart", top), &top.source);
        }
    }
    push(mm("from a boundary, least", &set.edge_distance), &set.edge_distance.source);
    push(mm("between ties, least", &set.between), &set.between.source);
    push(mm("from an old tie, least", &set.existing_clearance), &set.existing_clearance.source);
    out
}
