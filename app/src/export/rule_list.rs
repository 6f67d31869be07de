//! The rule sets as text, every value with its source and how sure we are of it.

use super::text::{one_line, plain, wrapped};
use crate::report::Report;
use layout_core::rules::{DEFAULT_RULES, Density, EdgeScope, RuleSet};
use layout_core::source::{Source, Sourced};

/// Width that running text is broken at, characters.
const LINE: usize = 96;

/// One set after another.
#[must_use]
pub fn rule_list(sets: &[RuleSet]) -> String {
    sets.iter().map(rule_set).collect::<Vec<_>>().join("\n")
}

fn rule_set(set: &RuleSet) -> String {
    let default = if set.id == DEFAULT_RULES { "  (default)" } else { "" };
    let mut out = format!("{}{default}\n", one_line(&set.id));
    out.push_str(&wrapped(&set.title, "  ", LINE));
    for (label, value, source) in values(set) {
        out.push_str(&format!("    {label:<26}{value:<28}{source}\n"));
    }
    for remark in &set.remarks {
        let lines = wrapped(remark, "      ", LINE);
        out.push_str(&format!("    - {}", lines.trim_start()));
    }
    out
}

/// The sets a report was worked out by, with the documents their values come from.
#[must_use]
pub fn rules_used(report: &Report) -> String {
    let mut used: Vec<(&RuleSet, Vec<String>)> = Vec::new();
    for (elevation, plan) in report.elevations() {
        let name = one_line(&elevation.name);
        match used.iter_mut().find(|(set, _)| **set == plan.rules) {
            Some((_, names)) => names.push(name),
            None => used.push((&plan.rules, vec![name])),
        }
    }
    let one = used.len() == 1;
    let mut out = String::new();
    for (set, names) in used {
        let on = if one { String::new() } else { format!(" ({})", names.join(", ")) };
        out.push_str(&wrapped(&format!("{}: {}{on}", one_line(&set.id), set.title), "  ", LINE));
        let mut sources: Vec<String> = Vec::new();
        for (_, _, source) in values(set) {
            let source = one_line(&source.to_string());
            if !sources.contains(&source) {
                sources.push(source);
            }
        }
        out.push_str(&wrapped(&format!("values from: {}", sources.join("; ")), "    ", LINE));
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
