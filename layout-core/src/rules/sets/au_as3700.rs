//! AS 3700 and the NCC 2022 Housing Provisions, 5.6.5.

use super::practice;
use crate::rules::{Density, EdgeRule, EdgeScope, RuleSet};
use crate::source::{
    Sourced,
    Sureness::{FromMemory, SecondHand},
};

const FIELD: &str = "AS 3700";
const EDGES: &str = "AS 3700; at movement joints NCC 2022 Housing Provisions 5.6.5";

pub(super) fn rule_set() -> RuleSet {
    let p = practice();
    RuleSet {
        id: "au-as3700".to_owned(),
        title: "Australia: 600 x 600, within 300 of openings and joints, top of the leaf doubled".to_owned(),
        remarks: vec![
            "2.78 per m² is the equivalent of 600 x 600 (2.778) and reported only.".to_owned(),
            "Within 300 of movement joints is published (NCC 2022 Housing Provisions 5.6.5).".to_owned(),
            format!("Within 300 of openings, the spacing along edges (as the field) and twice the ties along the top, read as 300 apart: {FromMemory}."),
            "Edges are openings all round, free ends, movement joints, verges and the top of the leaf; upright ones are measured by height, others along them.".to_owned(),
            "The edition of AS 3700 was not seen: label it.".to_owned(),
        ],
        horizontal: Sourced::new(600.0, FIELD, SecondHand),
        vertical: Sourced::new(600.0, FIELD, SecondHand),
        density: Sourced::new(Density::Equivalent(2.78), FIELD, SecondHand),
        edges: Some(EdgeRule {
            within: Sourced::new(300.0, EDGES, FromMemory),
            spacing: Sourced::new(600.0, FIELD, FromMemory),
            top: Some(Sourced::new(300.0, FIELD, FromMemory)),
            scope: EdgeScope::EveryFreeEdge { corners: false },
        }),
        edge_distance: p.edge_distance,
        between: p.between,
        existing_clearance: p.existing_clearance,
    }
}
