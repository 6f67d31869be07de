//! A masonry leaf before a timber frame: BS 5268-6.1 and later practice. Two densities, two sets.

use super::practice;
use crate::rules::{Density, EdgeRule, EdgeScope, RuleSet};
use crate::source::{
    Sourced,
    Sureness::{FromMemory, Published},
};

const DOCUMENT: &str = "BS 5268-6.1 and later practice";

/// For a sheltered site: 4.4 per m2.
pub(super) fn rule_set() -> RuleSet {
    with("uk-timber-frame", "Before a timber frame, sheltered: 600 x 380, at least 4.4 per m²", 4.4)
}

/// Outside urban shelter, or for a basic wind speed over 25 m/s: 7 per m2.
pub(super) fn exposed() -> RuleSet {
    let title = "Before a timber frame, exposed or wind over 25 m/s: 600 x 380, at least 7 per m²";
    with("uk-timber-frame-exposed", title, 7.0)
}

fn with(id: &str, title: &str, per_m2: f64) -> RuleSet {
    let p = practice();
    RuleSet {
        id: id.to_owned(),
        title: title.to_owned(),
        remarks: vec![
            "4.4 per m² within urban shelter, 7 outside it or where the basic wind speed is over 25 m/s.".to_owned(),
            format!("Spacing and edge distances: {FromMemory}."),
            "Ties are fixed to studs. The studs are not drawn here: move ties sideways to suit them, or give the stud spacing as own rules.".to_owned(),
            "The number per m² is taken as a minimum of its own: the plain 600 x 380 grid (4.386) does not pass.".to_owned(),
            format!("BS 5268-6.1 has been withdrawn ({FromMemory}): label the edition."),
        ],
        horizontal: Sourced::new(600.0, DOCUMENT, FromMemory),
        vertical: Sourced::new(380.0, DOCUMENT, FromMemory),
        density: Sourced::new(Density::Minimum(per_m2), DOCUMENT, Published),
        edges: Some(EdgeRule {
            within: Sourced::new(225.0, DOCUMENT, FromMemory),
            spacing: Sourced::new(300.0, DOCUMENT, FromMemory),
            top: None,
            scope: EdgeScope::Upright,
        }),
        edge_distance: p.edge_distance,
        between: p.between,
        existing_clearance: p.existing_clearance,
    }
}
