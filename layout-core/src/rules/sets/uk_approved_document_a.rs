//! Approved Document A (England), 2013 edition.

use super::practice;
use crate::rules::{Density, EdgeRule, EdgeScope, RuleSet};
use crate::source::{
    Sourced,
    Sureness::{FromMemory, Published, SecondHand},
};

const DOCUMENT: &str = "Approved Document A (England) 2013, section 2C";

pub(super) fn rule_set() -> RuleSet {
    let p = practice();
    RuleSet {
        id: "uk-approved-document-a".to_owned(),
        title: "House walls in England: 900 x 450, edges within 225 at 300".to_owned(),
        remarks: vec![
            "The document states 2.5 per m² as the equivalent of 900 x 450 (which is 2.469), so the plain grid passes; the density is reported only.".to_owned(),
            format!("Clause number 2C8: {FromMemory}."),
            format!("Free (unreturned or unbonded) edges have the same ties: PD 6697 ({SecondHand})."),
            "No source settles whether edge ties count towards the field: they do here.".to_owned(),
        ],
        horizontal: Sourced::new(900.0, DOCUMENT, Published),
        vertical: Sourced::new(450.0, DOCUMENT, Published),
        density: Sourced::new(Density::Equivalent(2.5), DOCUMENT, Published),
        edges: Some(EdgeRule {
            within: Sourced::new(225.0, DOCUMENT, Published),
            spacing: Sourced::new(300.0, DOCUMENT, Published),
            top: None,
            scope: EdgeScope::Upright,
        }),
        edge_distance: p.edge_distance,
        between: p.between,
        existing_clearance: p.existing_clearance,
    }
}
