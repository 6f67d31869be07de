//! What the drawing says in words: numbers, rules with their sources, cautions.

mod engineering;
mod english;

pub(super) use engineering::EngineeringWords;
pub(super) use english::Words;

use super::options::DecimalMark;
use layout_core::elevation::{Elevation, Fix, Shape, shape_bounds};
use layout_core::rules::{Density, EdgeScope, RuleSet};
use layout_core::source::Source;
use serde::{Deserialize, Serialize};

/// Language of the fixed words of the drawing. What the rules and findings say is in English.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Language {
    /// English.
    #[default]
    English,
}

/// How the drawing writes numbers and fixed words.
#[derive(Clone, Copy)]
pub(super) struct Style {
    pub decimal: DecimalMark,
    pub words: &'static Words,
}

impl Style {
    pub fn new(language: Language, decimal: DecimalMark) -> Self {
        let words = match language {
            Language::English => &english::ENGLISH,
        };
        Self { decimal, words }
    }

    /// Digits with a point, written as this drawing writes them.
    pub fn number(self, digits: &str) -> String {
        match self.decimal {
            DecimalMark::Point => digits.to_owned(),
            DecimalMark::Comma => digits.replace('.', ","),
        }
    }

    /// A length as a person reads it, mm: whole, or with the one decimal that it needs.
    pub fn mm(self, v: f64) -> String {
        let tenths = (v * 10.0).round() / 10.0;
        let tenths = if tenths == 0.0 { 0.0 } else { tenths };
        let whole = (tenths - tenths.round()).abs() < 0.05;
        if whole { format!("{tenths:.0}") } else { self.number(&format!("{tenths:.1}")) }
    }

    /// A rate or limit with no more decimals than it needs.
    pub fn figure(self, v: f64) -> String {
        let s = format!("{v:.3}");
        self.number(s.trim_end_matches('0').trim_end_matches('.'))
    }

    /// With two decimals, as areas are.
    pub fn two(self, v: f64) -> String {
        self.number(&format!("{v:.2}"))
    }
}

/// A sentence with its gaps `{}` filled in turn.
pub(super) fn fill(template: &str, with: &[&str]) -> String {
    let mut parts = template.split("{}");
    let mut text = parts.next().unwrap_or_default().to_owned();
    for (i, part) in parts.enumerate() {
        text += with.get(i).copied().unwrap_or_default();
        text += part;
    }
    text
}

/// Every value of a rule set: what it is, the value, its source.
pub(super) fn rule_values(rules: &RuleSet, style: Style) -> Vec<(&'static str, String, &Source)> {
    let density = match rules.density.value {
        Density::Equivalent(v) => format!("{} (restates the spacing; reported only)", style.figure(v)),
        Density::Minimum(v) => format!("at least {}", style.figure(v)),
        Density::MinimumPlusEdges(v) => format!("at least {}, edge ties on top", style.figure(v)),
    };
    let mut all = vec![
        (
            "field spacing along the wall",
            format!("≤ {} mm", style.mm(rules.horizontal.value)),
            &rules.horizontal.source,
        ),
        (
            "field spacing up the wall",
            format!("≤ {} mm", style.mm(rules.vertical.value)),
            &rules.vertical.source,
        ),
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
            format!("≤ {} mm", style.mm(e.within.value)),
            &e.within.source,
        ));
        all.push((along, format!("≤ {} mm", style.mm(e.spacing.value)), &e.spacing.source));
        if let Some(top) = &e.top {
            all.push((
                "edge ties, spacing along the top of the leaf",
                format!("≤ {} mm", style.mm(top.value)),
                &top.source,
            ));
        }
        if let EdgeScope::OpeningPerimeter { exempt } = e.scope {
            let value = format!("≤ {} mm either way", style.mm(exempt));
            all.push(("no edge ties round openings", value, &e.within.source));
        }
    }
    let least = |v: f64| format!("≥ {} mm", style.mm(v));
    all.push(("from any edge of the masonry", least(rules.edge_distance.value), &rules.edge_distance.source));
    all.push(("between new ties", least(rules.between.value), &rules.between.source));
    all.push(("from old ties", least(rules.existing_clearance.value), &rules.existing_clearance.source));
    all
}

/// The values of a rule set in sentences, one for each source.
pub(super) fn rules_by_source(rules: &RuleSet, style: Style) -> Vec<String> {
    let mut groups: Vec<(&Source, Vec<String>)> = Vec::new();
    for (label, value, source) in rule_values(rules, style) {
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

/// The size of a shape: its breadth and height, and the rise of an arch.
pub(super) fn size(shape: &Shape, style: Style) -> String {
    let mm = |v| style.mm(v);
    match *shape {
        Shape::Rect { w, h, .. } => format!("{} × {}", mm(w), mm(h)),
        Shape::Arched { w, h, rise, .. } => {
            fill(style.words.arched_size, &[&mm(w), &mm(h + rise), &mm(rise)])
        }
        Shape::Circle { r, .. } => format!("⌀ {}", mm(2.0 * r)),
        Shape::Polygon(_) => {
            let (left, bottom, right, top) = shape_bounds(shape);
            fill(style.words.overall_size, &[&mm(right - left), &mm(top - bottom)])
        }
    }
}

/// How heights and rows are to be read.
pub(super) fn coursing(e: &Elevation, style: Style) -> String {
    let (bed, gauge) = (style.mm(e.coursing.first_bed), style.mm(e.coursing.gauge));
    match e.coursing.fix {
        Fix::BedJoint => fill(style.words.in_bed_joints, &[&bed, &gauge]),
        Fix::BrickFace => fill(style.words.in_brick_faces, &[&bed, &gauge]),
        Fix::Anywhere => style.words.by_height.to_owned(),
    }
}

/// The course that a row is at: its label, empty where there are no courses.
pub(super) fn course(e: &Elevation, y: f64, style: Style) -> String {
    let k = e.coursing.nearest(y);
    match e.coursing.fix {
        Fix::Anywhere => String::new(),
        _ if e.coursing.off_course(y) > layout_core::units::COURSING_TOLERANCE => style.words.off.to_owned(),
        Fix::BedJoint => format!("C{k}"),
        Fix::BrickFace => format!("C{}", k.saturating_add(1)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_written_as_the_firm_writes_them() {
        let comma = Style::new(Language::English, DecimalMark::Comma);
        let point = Style::new(Language::English, DecimalMark::Point);
        assert_eq!((comma.mm(1234.56), point.mm(1234.56)), ("1234,6".into(), "1234.6".into()));
        assert_eq!(
            (comma.mm(-0.01), comma.two(2.5), comma.figure(2.469)),
            ("0".into(), "2,50".into(), "2,469".into())
        );
    }

    #[test]
    fn gaps_are_filled_in_turn() {
        assert_eq!(fill("{} of {}", &["1", "2"]), "1 of 2");
        assert_eq!(fill("{} of {}", &["1"]), "1 of ");
        assert_eq!(fill("none", &["1"]), "none");
    }
}
