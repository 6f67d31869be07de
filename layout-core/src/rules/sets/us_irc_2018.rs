//! International Residential Code 2018, R703.8.4.1 and R703.8.4.1.1.

use super::practice;
use crate::rules::{Density, EdgeRule, EdgeScope, RuleSet};
use crate::source::{Sourced, Sureness::Published};
use crate::units::{FOOT, INCH};

const FIELD: &str = "IRC 2018, R703.8.4.1";
const OPENINGS: &str = "IRC 2018, R703.8.4.1.1";

pub(super) fn rule_set() -> RuleSet {
    let p = practice();
    // One tie supports no more than 2.67 ft2, that is 8/3 ft2 (16 x 24 in exactly).
    let per_m2 = 1e6 / (8.0 / 3.0 * FOOT * FOOT);
    RuleSet {
        id: "us-irc-2018".to_owned(),
        title: "Masonry veneer, US: 32 x 24 in, one tie for 2.67 ft2, perimeter of openings".to_owned(),
        remarks: vec![
            "Openings over 16 in either way have ties round the whole perimeter, at most 36 in apart, within 12 in.".to_owned(),
            "2.67 ft2 a tie is read as 8/3 ft2 and as a minimum of its own, by count on each elevation.".to_owned(),
        ],
        horizontal: Sourced::new(32.0 * INCH, FIELD, Published),
        vertical: Sourced::new(24.0 * INCH, FIELD, Published),
        density: Sourced::new(Density::Minimum(per_m2), FIELD, Published),
        edges: Some(EdgeRule {
            within: Sourced::new(12.0 * INCH, OPENINGS, Published),
            spacing: Sourced::new(36.0 * INCH, OPENINGS, Published),
            top: None,
            scope: EdgeScope::OpeningPerimeter { exempt: 16.0 * INCH },
        }),
        edge_distance: p.edge_distance,
        between: p.between,
        existing_clearance: p.existing_clearance,
    }
}
