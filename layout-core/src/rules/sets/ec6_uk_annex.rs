//! UK National Annex to BS EN 1996-1-1, NA.2.17. First generation, superseded 18 December 2024.

use super::practice;
use crate::rules::{Density, EdgeRule, EdgeScope, RuleSet};
use crate::source::{
    Sourced,
    Sureness::{Published, SecondHand},
};

const DOCUMENT: &str = "UK NA to BS EN 1996-1-1 (first generation), NA.2.17";
const EDGES: &str = "PD 6697, as the default set";

pub(super) fn rule_set() -> RuleSet {
    let p = practice();
    RuleSet {
        id: "ec6-uk-annex".to_owned(),
        title: "Eurocode 6 with the UK annex: 900 x 450 and at least 2.5 per m²".to_owned(),
        remarks: vec![
            "Superseded on 18 December 2024 by the second generation; label the edition.".to_owned(),
            "2.5 per m² is a minimum of its own: the plain 900 x 450 grid (2.469) does not pass.".to_owned(),
        ],
        horizontal: Sourced::new(900.0, DOCUMENT, Published),
        vertical: Sourced::new(450.0, DOCUMENT, Published),
        density: Sourced::new(Density::Minimum(2.5), DOCUMENT, Published),
        edges: Some(EdgeRule {
            within: Sourced::new(225.0, EDGES, SecondHand),
            spacing: Sourced::new(300.0, EDGES, SecondHand),
            top: None,
            scope: EdgeScope::Upright,
        }),
        edge_distance: p.edge_distance,
        between: p.between,
        existing_clearance: p.existing_clearance,
    }
}
