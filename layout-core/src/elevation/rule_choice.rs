//! Which rules an elevation has: a published set, rules of the user's own, or a file of the firm's.

use crate::rules::{EdgeScope, RuleSet};
use serde::{Deserialize, Serialize};
use std::sync::Arc;

/// Which rules an elevation is set out and checked by.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum RuleChoice {
    /// A published set by its id.
    Named(String),
    /// Rules of the user's own.
    Custom(CustomRules),
    /// Rules in a file of the firm's own.
    File(RuleFile),
}

impl Default for RuleChoice {
    fn default() -> Self {
        Self::Named(crate::rules::DEFAULT_RULES.to_owned())
    }
}

/// A file of rules: its path, and what it was found to hold. A project keeps the path alone; whoever reads the
/// project reads the file too.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(from = "String", into = "String")]
pub struct RuleFile {
    /// Its path, from the folder of the project file.
    pub path: String,
    /// The rules in it, or why there are none, in words; `None` while it has not been read.
    pub found: Option<Result<Arc<RuleSet>, String>>,
}

impl From<String> for RuleFile {
    fn from(path: String) -> Self {
        Self { path, found: None }
    }
}

impl From<RuleFile> for String {
    fn from(file: RuleFile) -> Self {
        file.path
    }
}

/// Rules of the user's own, with where they come from.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct CustomRules {
    /// Name.
    pub name: String,
    /// Where the values come from ("engineer's letter, 3 May").
    pub source: String,
    /// Field spacing along the wall, mm, more than 0.
    pub horizontal: f64,
    /// Field spacing up the wall, mm, more than 0.
    pub vertical: f64,
    /// Fewest ties per m2 of masonry, 0 or more.
    pub per_m2: f64,
    /// Whether the ties of edges come on top of those for the area.
    pub edges_on_top: bool,
    /// Extra ties along edges; `None` for no such rule.
    pub edges: Option<CustomEdges>,
    /// Least distance of a tie from any boundary of the masonry, mm.
    pub edge_distance: f64,
    /// Least distance between two new ties, mm.
    pub between: f64,
    /// Least distance of a new tie from an old one, mm.
    pub existing_clearance: f64,
}

impl Default for CustomRules {
    fn default() -> Self {
        Self {
            name: "Site rules".to_owned(),
            source: String::new(),
            horizontal: 900.0,
            vertical: 450.0,
            per_m2: 2.5,
            edges_on_top: false,
            edges: Some(CustomEdges::default()),
            edge_distance: 75.0,
            between: 100.0,
            existing_clearance: 100.0,
        }
    }
}

/// Edge ties of custom rules.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CustomEdges {
    /// A tie counts for an edge if it is no further from it than this, mm.
    pub within: f64,
    /// Greatest spacing along the edge, mm.
    pub spacing: f64,
    /// Greatest spacing along the top of the leaf, mm, where it is another than along other edges.
    #[serde(default)]
    pub top: Option<f64>,
    /// Which edges, and how the spacing is measured.
    #[serde(default)]
    pub scope: EdgeScope,
}

impl Default for CustomEdges {
    fn default() -> Self {
        Self { within: 225.0, spacing: 300.0, top: None, scope: EdgeScope::Upright }
    }
}

impl CustomRules {
    /// Own rules that begin with the values of a set. What is no minimum of its own there is none here.
    #[must_use]
    pub fn like(set: &RuleSet) -> Self {
        let edges = set.edges.as_ref().map(|e| CustomEdges {
            within: e.within.value,
            spacing: e.spacing.value,
            top: e.top.as_ref().map(|t| t.value),
            scope: e.scope,
        });
        Self {
            name: "Own rules".to_owned(),
            source: String::new(),
            horizontal: set.horizontal.value,
            vertical: set.vertical.value,
            per_m2: set.density.value.minimum().unwrap_or(0.0),
            edges_on_top: set.density.value.edges_on_top(),
            edges,
            edge_distance: set.edge_distance.value,
            between: set.between.value,
            existing_clearance: set.existing_clearance.value,
        }
    }
}
