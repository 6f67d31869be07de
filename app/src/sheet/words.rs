//! What the drawing says in words: numbers, rules with their sources, cautions.

use layout_core::elevation::{Elevation, Fix};
use layout_core::rules::{Density, EdgeScope, RuleSet};
use layout_core::source::Source;

/// A length as a person reads it, mm: whole, or with the one decimal that it needs.
pub(super) fn mm(v: f64) -> String {
    let tenths = (v * 10.0).round() / 10.0;
    let tenths = if tenths == 0.0 { 0.0 } else { tenths };
    if (tenths - tenths.round()).abs() < 0.05 { format!("{tenths:.0}") } else { format!("{tenths:.1}") }
}

/// A rate or limit with no more decimals than it needs.
pub(super) fn figure(v: f64) -> String {
    let s = format!("{v:.3}");
    s.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// Every value of a rule set: what it is, the value, its source.
pub(super) fn rule_values(rules: &RuleSet) -> Vec<(&'static str, String, &Source)> {
    let density = match rules.density.value {
        Density::Equivalent(v) => format!("{} (restates the spacing; reported only)", figure(v)),
        Density::Minimum(v) => format!("at least {}", figure(v)),
        Density::MinimumPlusEdges(v) => format!("at least {}, edge ties on top", figure(v)),
    };
    let mut all = vec![
        (
            "field spacing along the wall",
            format!("≤ {} mm", mm(rules.horizontal.value)),
            &rules.horizontal.source,
        ),
        ("field spacing up the wall", format!("≤ {} mm", mm(rules.vertical.value)), &rules.vertical.source),
        ("ties per m²", density, &rules.density.source),
    ];
    if let Some(e) = &rules.edges {
        let along = match e.scope {
            EdgeScope::Upright => "edge ties, spacing measured vertically",
            EdgeScope::OpeningPerimeter { .. } => "edge ties, spacing along the whole opening",
            EdgeScope::EveryFreeEdge { .. } => {
                "edge ties, spacing by height, along edges that are not upright"
            }
        };
        all.push((
            "edge ties, distance from the edge",
            format!("≤ {} mm", mm(e.within.value)),
            &e.within.source,
        ));
        all.push((along, format!("≤ {} mm", mm(e.spacing.value)), &e.spacing.source));
        if let Some(top) = &e.top {
            all.push((
                "edge ties, spacing along the top of the leaf",
                format!("≤ {} mm", mm(top.value)),
                &top.source,
            ));
        }
        if let EdgeScope::OpeningPerimeter { exempt } = e.scope {
            let value = format!("≤ {} mm either way", mm(exempt));
            all.push(("no edge ties round openings", value, &e.within.source));
        }
    }
    let least = |v: f64| format!("≥ {} mm", mm(v));
    all.push(("from any edge of the masonry", least(rules.edge_distance.value), &rules.edge_distance.source));
    all.push(("between new ties", least(rules.between.value), &rules.between.source));
    all.push(("from old ties", least(rules.existing_clearance.value), &rules.existing_clearance.source));
    all
}

/// The values of a rule set in sentences, one for each source.
pub(super) fn rules_by_source(rules: &RuleSet) -> Vec<String> {
    let mut groups: Vec<(&Source, Vec<String>)> = Vec::new();
    for (label, value, source) in rule_values(rules) {
        let said = format!("{label} {value}");
        match groups.iter_mut().find(|(s, _)| *s == source) {
            Some((_, all)) => all.push(said),
            None => groups.push((source, vec![said])),
        }
    }
    groups.into_iter().map(|(source, all)| sourced(&capital(&all.join("; ")), source)).collect()
}

/// A value and its source as a sentence.
pub(super) fn sourced(value: &str, source: &Source) -> String {
    if source.document.is_empty() {
        format!("{value} ({source}).")
    } else {
        format!("{value}. Source: {source}.")
    }
}

/// The text with a capital first.
pub(super) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |c| c.to_uppercase().collect::<String>() + letters.as_str())
}

/// How heights and rows are to be read.
pub(super) fn coursing(e: &Elevation) -> String {
    let gauge = mm(e.coursing.gauge);
    let bed = mm(e.coursing.first_bed);
    match e.coursing.fix {
        Fix::BedJoint => format!(
            "Ties go in bed joints. C is the number of courses up from the first bed at {bed}; gauge {gauge} mm."
        ),
        Fix::BrickFace => format!(
            "Ties go in the middle of the brick face. C is the course, counted from the first bed at {bed}; gauge {gauge} mm."
        ),
        Fix::Anywhere => "Ties are set out by height, not by course.".to_owned(),
    }
}

/// Cautions, shown on every drawing.
pub(super) const CAUTIONS: [&str; 6] = [
    "An outer leaf with failed ties can fall: check bulges, lintels and parapets, and shore or fence off, before drilling.",
    "Work at height: follow the local code; use a scaffold fit for drilling, and keep people from below.",
    "Drilling makes silica dust: extraction, water and masks as the local code asks.",
    "Resin: gloves, eye protection and the maker's safety sheet.",
    "Find hidden cables, pipes and flues first. Stop and have it tested where asbestos may be near.",
    "A layout is not a structural design. Tie kind, length, embedment and pull tests are for a competent engineer; local codes govern.",
];

/// The cautions in short, for the sheet of an elevation.
pub(super) const CAUTIONS_SHORT: &str = "Loose leaf can fall: secure it before drilling. Work at height, silica dust, resin: follow the \
     local code. Find hidden services and asbestos first. Confirm sizes on site before drilling. Not a \
     structural design: a competent engineer confirms tie kind, length, embedment and tests.";
