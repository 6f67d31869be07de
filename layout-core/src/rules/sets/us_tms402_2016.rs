//! TMS 402-13/-16, 12.2.2.5.6.

use super::practice;
use crate::rules::{Density, EdgeRule, EdgeScope, RuleSet};
use crate::source::{Sourced, Sureness::FromMemory};
use crate::units::{FOOT, INCH};

const DOCUMENT: &str = "TMS 402-13/-16, 12.2.2.5.6";

pub(super) fn rule_set() -> RuleSet {
    let p = practice();
    // As us-irc-2018: 2.67 ft2 are 8/3 ft2.
    let per_m2 = 1e6 / (8.0 / 3.0 * FOOT * FOOT);
    RuleSet {
        id: "us-tms402-2016".to_owned(),
        title: "Masonry veneer, US code 2016: 32 x 25 in, one tie for 2.67 ft2, perimeter of openings".to_owned(),
        remarks: vec![
            format!("Every value: {FromMemory}."),
            "Some kinds of anchor may support 3.5 ft2 each; the smaller 2.67 ft2, read as 8/3 ft2 and as a minimum by count on each elevation, is taken here for all.".to_owned(),
            "Editions up to 2011 had 18 in for the spacing up the wall. Label the edition: a later one may have superseded it.".to_owned(),
            "Openings over 16 in either way have ties round the whole perimeter, at most 36 in apart, within 12 in.".to_owned(),
        ],
        horizontal: Sourced::new(32.0 * INCH, DOCUMENT, FromMemory),
        vertical: Sourced::new(25.0 * INCH, DOCUMENT, FromMemory),
        density: Sourced::new(Density::Minimum(per_m2), DOCUMENT, FromMemory),
        edges: Some(EdgeRule {
            within: Sourced::new(12.0 * INCH, DOCUMENT, FromMemory),
            spacing: Sourced::new(36.0 * INCH, DOCUMENT, FromMemory),
            top: None,
            scope: EdgeScope::OpeningPerimeter { exempt: 16.0 * INCH },
        }),
        edge_distance: p.edge_distance,
        between: p.between,
        existing_clearance: p.existing_clearance,
    }
}
