//! Whether the rules of an elevation can be set out by.

use super::faults::{Faults, Place};
use super::{CustomRules, Elevation, RuleChoice};
use crate::rules::{self, EdgeScope};

pub(super) fn rule_choice(faults: &mut Faults, elevation: &Elevation) {
    let place = Place::of("rules");
    match &elevation.rules {
        RuleChoice::Named(_) | RuleChoice::File(_) => {
            if let Err(message) = rules::resolve(&elevation.rules) {
                faults.unusable(place, message);
            }
        }
        RuleChoice::Custom(c) => custom_rules(faults, place, c),
    }
}

fn custom_rules(faults: &mut Faults, place: Place, c: &CustomRules) {
    faults.size(place.part("horizontal"), "horizontal", c.horizontal);
    faults.size(place.part("vertical"), "vertical", c.vertical);
    if !c.per_m2.is_finite() || !(0.0..=10_000.0).contains(&c.per_m2) {
        faults.unusable(place.part("per_m2"), format!("per_m2 is {}; it must be 0 to 10000", c.per_m2));
    }
    if let Some(e) = c.edges {
        faults.size(place.part("within"), "edges: within", e.within);
        faults.size(place.part("spacing"), "edges: spacing", e.spacing);
        if let Some(top) = e.top {
            faults.size(place.part("top"), "edges: top", top);
        }
        if let EdgeScope::OpeningPerimeter { exempt } = e.scope {
            faults.distance(place.part("exempt"), "edges: scope: exempt", exempt);
        }
    }
    faults.distance(place.part("edge_distance"), "edge_distance", c.edge_distance);
    faults.distance(place.part("between"), "between", c.between);
    faults.distance(place.part("existing_clearance"), "existing_clearance", c.existing_clearance);
}
