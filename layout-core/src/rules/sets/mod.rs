//! The published sets, one file each, values only.

mod au_as3700;
mod de_din_en_1996;
mod ec6_recommended;
mod ec6_uk_annex;
mod uk_approved_document_a;
mod uk_older_wide_cavity;
mod uk_thin_leaf;
mod uk_timber_frame;
mod us_irc_2018;
mod us_tms402_2016;

use super::RuleSet;
use crate::source::Sourced;

/// Every published set, the default first.
#[must_use]
pub fn all() -> Vec<RuleSet> {
    vec![
        uk_approved_document_a::rule_set(),
        uk_thin_leaf::rule_set(),
        uk_older_wide_cavity::rule_set(),
        uk_timber_frame::rule_set(),
        uk_timber_frame::exposed(),
        ec6_uk_annex::rule_set(),
        ec6_recommended::rule_set(),
        de_din_en_1996::seven(),
        de_din_en_1996::five(),
        de_din_en_1996::eight(),
        de_din_en_1996::nine(),
        us_irc_2018::rule_set(),
        us_tms402_2016::rule_set(),
        au_as3700::rule_set(),
    ]
}

/// Their ids, the default first.
#[must_use]
pub fn ids() -> Vec<String> {
    all().into_iter().map(|s| s.id).collect()
}

/// The set with this id.
#[must_use]
pub fn by_id(id: &str) -> Option<RuleSet> {
    all().into_iter().find(|s| s.id == id)
}

/// Distances no published set gives: from boundaries, between ties, from old ties, mm.
struct Practice {
    edge_distance: Sourced<f64>,
    between: Sourced<f64>,
    existing_clearance: Sourced<f64>,
}

fn practice() -> Practice {
    Practice {
        edge_distance: Sourced::common_practice(75.0),
        between: Sourced::common_practice(100.0),
        existing_clearance: Sourced::common_practice(100.0),
    }
}
