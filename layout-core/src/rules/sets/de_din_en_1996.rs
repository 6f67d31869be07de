//! DIN EN 1996-2/NA, earlier DIN 1053-1, 8.4.3.1 e. One set for each number per m2 of its table of heights
//! and wind zones; [`crate::rules::german_density`] says which.

use super::practice;
use crate::rules::{Density, EdgeRule, EdgeScope, RuleSet};
use crate::source::{Sourced, Sureness::Published};

const DOCUMENT: &str = "DIN EN 1996-2/NA (first generation), earlier DIN 1053-1, 8.4.3.1 e";
const THREE_A_METRE: f64 = 1000.0 / 3.0;

/// 7 per m2: most buildings.
pub(super) fn seven() -> RuleSet {
    with("de-din-en-1996", 7.0, "most buildings")
}

/// 5 per m2.
pub(super) fn five() -> RuleSet {
    with("de-din-en-1996-5", 5.0, "low buildings in wind zones 1 and 2")
}

/// 8 per m2.
pub(super) fn eight() -> RuleSet {
    with("de-din-en-1996-8", 8.0, "coast of wind zone 4, low buildings on North Sea islands")
}

/// 9 per m2.
pub(super) fn nine() -> RuleSet {
    with("de-din-en-1996-9", 9.0, "North Sea islands, slender buildings on the coast")
}

fn with(id: &str, per_m2: f64, buildings: &str) -> RuleSet {
    let p = practice();
    RuleSet {
        id: id.to_owned(),
        title: format!("Germany, {buildings}: 750 x 500, {per_m2} per m², edges 3 a metre on top"),
        remarks: vec![
            "Height to 10 m: 7 per m² (5 in wind zone 1, and inland in zone 2), on North Sea islands 8.".to_owned(),
            "Over 10 to 18 m: 7 (5 in zone 1), on the coast of zone 4 8, on North Sea islands 9.".to_owned(),
            "Over 18 to 25 m: 7, on the coast of zone 4 8 (9 where a side of the plan is shorter than a quarter of the height), on North Sea islands not allowed. Higher: not in the table.".to_owned(),
            "How the table groups places was seen second-hand: confirm the column.".to_owned(),
            "Edge ties are openings all round, building corners, free ends, movement joints, verges and the top of the leaf. 3 a metre is read as 333 mm apart, upright edges measured by height, others along them; each edge adds its length by that spacing, rounded up, to the number for the area.".to_owned(),
            "How near the edge those ties stand is not published: 300 mm is common practice, no source.".to_owned(),
            "DIN 1053-1 is superseded; label the edition of DIN EN 1996-2/NA.".to_owned(),
        ],
        horizontal: Sourced::new(750.0, DOCUMENT, Published),
        vertical: Sourced::new(500.0, DOCUMENT, Published),
        density: Sourced::new(Density::MinimumPlusEdges(per_m2), DOCUMENT, Published),
        edges: Some(EdgeRule {
            within: Sourced::common_practice(300.0),
            spacing: Sourced::new(THREE_A_METRE, DOCUMENT, Published),
            top: None,
            scope: EdgeScope::EveryFreeEdge { corners: true },
        }),
        edge_distance: p.edge_distance,
        between: p.between,
        existing_clearance: p.existing_clearance,
    }
}
