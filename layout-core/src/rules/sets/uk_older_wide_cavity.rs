//! Earlier Approved Document A: cavities of 76 to 100 mm. Superseded.

use super::practice;
use crate::rules::{Density, EdgeRule, EdgeScope, RuleSet};
use crate::source::{Sourced, Sureness::SecondHand};

const DOCUMENT: &str = "Approved Document A, earlier editions, cavity of 76 to 100 mm (superseded)";

pub(super) fn rule_set() -> RuleSet {
    let p = practice();
    RuleSet {
        id: "uk-older-wide-cavity".to_owned(),
        title: "Older wide cavities: 750 x 450, edges within 150 at 300".to_owned(),
        remarks: vec![
            "Superseded; kept for judging older work.".to_owned(),
            "2.96 per m² is the equivalent of 750 x 450 (2.963) and reported only.".to_owned(),
        ],
        horizontal: Sourced::new(750.0, DOCUMENT, SecondHand),
        vertical: Sourced::new(450.0, DOCUMENT, SecondHand),
        density: Sourced::new(Density::Equivalent(2.96), DOCUMENT, SecondHand),
        edges: Some(EdgeRule {
            within: Sourced::new(150.0, DOCUMENT, SecondHand),
            spacing: Sourced::new(300.0, DOCUMENT, SecondHand),
            top: None,
            scope: EdgeScope::Upright,
        }),
        edge_distance: p.edge_distance,
        between: p.between,
        existing_clearance: p.existing_clearance,
    }
}
