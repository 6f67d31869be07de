//! EN 1996-1-1:2005, 8.5.2.2(2): the value recommended where no national annex says otherwise.

use super::practice;
use crate::rules::{Density, RuleSet};
use crate::source::{Sourced, Sureness::FromMemory};

const DOCUMENT: &str = "EN 1996-1-1:2005 (first generation), 8.5.2.2(2), recommended value";

pub(super) fn rule_set() -> RuleSet {
    let p = practice();
    RuleSet {
        id: "ec6-recommended".to_owned(),
        title: "Eurocode 6, recommended value: 900 x 450 and at least 2 per m², no edge ties".to_owned(),
        remarks: vec![
            format!("Every value: {FromMemory}."),
            "A national annex, where there is one, goes before it. First generation; the second has superseded it in the UK: label the edition.".to_owned(),
            "It asks for no ties along edges; that is no reason to leave them out.".to_owned(),
        ],
        horizontal: Sourced::new(900.0, DOCUMENT, FromMemory),
        vertical: Sourced::new(450.0, DOCUMENT, FromMemory),
        density: Sourced::new(Density::Minimum(2.0), DOCUMENT, FromMemory),
        edges: None,
        edge_distance: p.edge_distance,
        between: p.between,
        existing_clearance: p.existing_clearance,
    }
}
