//! PD 6697 (earlier BS 5628-3): an outer leaf of 65 to 90 mm.

use super::practice;
use crate::rules::{Density, EdgeRule, EdgeScope, RuleSet};
use crate::source::{Sourced, Sureness::SecondHand};

const DOCUMENT: &str = "PD 6697, earlier BS 5628-3, leaf of 65 to 90 mm";

pub(super) fn rule_set() -> RuleSet {
    let p = practice();
    RuleSet {
        id: "uk-thin-leaf".to_owned(),
        title: "A leaf of 65 to 90 mm: 450 x 450, edges within 225 at 300".to_owned(),
        remarks: vec![
            "4.9 per m² is taken as the equivalent of 450 x 450 (which is 4.938) and reported only."
                .to_owned(),
        ],
        horizontal: Sourced::new(450.0, DOCUMENT, SecondHand),
        vertical: Sourced::new(450.0, DOCUMENT, SecondHand),
        density: Sourced::new(Density::Equivalent(4.9), DOCUMENT, SecondHand),
        edges: Some(EdgeRule {
            within: Sourced::new(225.0, DOCUMENT, SecondHand),
            spacing: Sourced::new(300.0, DOCUMENT, SecondHand),
            top: None,
            scope: EdgeScope::Upright,
        }),
        edge_distance: p.edge_distance,
        between: p.between,
        existing_clearance: p.existing_clearance,
    }
}
