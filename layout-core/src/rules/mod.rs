//! Rule sets: how far apart ties stand, and why we say so.
//!
//! One file a published set in [`sets`], values only, each with its source. [`resolve`] turns the
//! choice of an elevation into a set.

mod custom;
mod german;
pub mod sets;

pub use german::{WindPlace, german_density};

use crate::elevation::RuleChoice;
use crate::source::Sourced;
use serde::{Deserialize, Serialize};

/// Id of the set an elevation has unless it says otherwise.
pub const DEFAULT_RULES: &str = "uk-approved-document-a";

/// The rules an elevation is set out and checked by.
#[derive(Clone, Debug, PartialEq)]
pub struct RuleSet {
    /// Id as project files name it; the user's own name for custom rules and for rules in a file.
    pub id: String,
    /// What it is for, in a line.
    pub title: String,
    /// Anything a reader has to know before using it: edition, superseded, what was not seen.
    pub remarks: Vec<String>,
    /// Greatest field spacing along the wall, mm.
    pub horizontal: Sourced<f64>,
    /// Greatest field spacing up the wall, mm.
    pub vertical: Sourced<f64>,
    /// Ties per m2 of masonry.
    pub density: Sourced<Density>,
    /// Extra ties along edges, if the set has them.
    pub edges: Option<EdgeRule>,
    /// Least distance of a tie from any boundary of the masonry, mm.
    pub edge_distance: Sourced<f64>,
    /// Least distance between two new ties, mm.
    pub between: Sourced<f64>,
    /// Least distance of a new tie from an old one, mm.
    pub existing_clearance: Sourced<f64>,
}

/// How a set states its number of ties per m2.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub enum Density {
    /// A figure that only restates the spacing: reported, never a breach of its own.
    Equivalent(f64),
    /// A minimum of its own: number of ties >= value x area.
    Minimum(f64),
    /// A minimum with the edge ties on top: number of ties >= value x area, and as many more as the edges
    /// need, counted edge by edge.
    MinimumPlusEdges(f64),
}

impl Density {
    /// The figure, ties per m2.
    #[must_use]
    pub fn per_m2(self) -> f64 {
        match self {
            Self::Equivalent(v) | Self::Minimum(v) | Self::MinimumPlusEdges(v) => v,
        }
    }

    /// The minimum, ties per m2, where the set has one; edge ties that come on top are not in it.
    #[must_use]
    pub fn minimum(self) -> Option<f64> {
        match self {
            Self::Minimum(v) | Self::MinimumPlusEdges(v) => Some(v),
            Self::Equivalent(_) => None,
        }
    }

    /// Whether the edge ties come on top of the minimum.
    #[must_use]
    pub fn edges_on_top(self) -> bool {
        matches!(self, Self::MinimumPlusEdges(_))
    }
}

/// Extra ties along edges.
#[derive(Clone, Debug, PartialEq)]
pub struct EdgeRule {
    /// A tie counts for an edge if it is no further from it than this, mm.
    pub within: Sourced<f64>,
    /// Greatest spacing along the edge, mm.
    pub spacing: Sourced<f64>,
    /// Greatest spacing along the top of the leaf, mm, where it is another than along other edges.
    pub top: Option<Sourced<f64>>,
    /// Which edges, and how the spacing is measured.
    pub scope: EdgeScope,
}

/// Which edges have ties of their own.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum EdgeScope {
    /// Jambs of openings, free ends, movement joints and verges; spacing measured vertically.
    #[default]
    Upright,
    /// The whole perimeter of openings, spacing measured along it; an opening no larger than
    /// `exempt` (mm) either way has none.
    OpeningPerimeter {
        /// Greatest width and height of an opening that needs no ties of its own, mm.
        exempt: f64,
    },
    /// Openings all round, free ends, movement joints, verges and the level top of the leaf. Each is an edge
    /// of its own: an upright one is measured by height, any other along it.
    EveryFreeEdge {
        /// Whether bonded corners have ties of their own too.
        corners: bool,
    },
}

impl RuleSet {
    /// Ties per m2 of the plain grid of this spacing.
    #[must_use]
    pub fn grid_density(&self) -> f64 {
        1e6 / (self.horizontal.value * self.vertical.value)
    }

    /// Fewest ties for an area of masonry, where the set has a minimum of its own; rounded up. Without the
    /// edge ties of a set that wants those on top: see [`crate::masonry::fewest_ties`].
    #[must_use]
    pub fn fewest_for(&self, area_m2: f64) -> usize {
        // A hair below a whole number is that number: 2.5 x 40.0 must not ask for 101.
        self.density.value.minimum().map_or(0, |d| (d * area_m2 - 1e-6).ceil().max(0.0) as usize)
    }

    /// Whether a plain grid of `h` x `v` mm keeps both the greatest spacing and the density.
    #[must_use]
    pub fn grid_passes(&self, h: f64, v: f64) -> bool {
        let within = |got: f64, limit: f64| got <= limit + crate::units::EPSILON;
        within(h, self.horizontal.value)
            && within(v, self.vertical.value)
            && self.density.value.minimum().is_none_or(|d| 1e6 / (h * v) >= d - 1e-9)
    }
}

/// The rules an elevation asks for.
///
/// # Errors
///
/// The unknown id and the ids there are, or what is the matter with the file of rules, in words.
pub fn resolve(choice: &RuleChoice) -> Result<RuleSet, String> {
    match choice {
        RuleChoice::Named(id) => sets::by_id(id)
            .ok_or_else(|| format!("no rule set is called '{id}'; there are {}", sets::ids().join(", "))),
        RuleChoice::Custom(c) => Ok(custom::rule_set(c)),
        RuleChoice::File(file) => match &file.found {
            Some(Ok(set)) => Ok((**set).clone()),
            Some(Err(message)) => Err(message.clone()),
            None => Err(format!("the file of rules '{}' has not been read", file.path)),
        },
    }
}
