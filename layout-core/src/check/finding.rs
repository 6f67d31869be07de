//! What the checker has to say.

use crate::elevation::Point;
use crate::source::Source;

/// The rule a finding is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Rule {
    /// Every part of the masonry is served by some tie.
    Coverage,
    /// There are enough ties for the area.
    Density,
    /// Edges have ties near enough and close enough together.
    EdgeTies,
    /// Ties keep clear of the boundaries of the masonry.
    EdgeDistance,
    /// Ties keep clear of keep-outs.
    KeepOut,
    /// New ties keep clear of each other.
    SpacingBetween,
    /// New ties keep clear of old ones.
    ExistingTies,
    /// Ties stand on the courses.
    Coursing,
    /// What the wind asks for can be met.
    Wind,
    /// The fixing suits the wall.
    Fixing,
    /// Ties are long enough and stay in the wall.
    TieLength,
    /// Pull tests hold.
    SiteTests,
}

impl Rule {
    /// All rules, in order.
    pub const ALL: [Self; 12] = [
        Self::Coverage,
        Self::Density,
        Self::EdgeTies,
        Self::EdgeDistance,
        Self::KeepOut,
        Self::SpacingBetween,
        Self::ExistingTies,
        Self::Coursing,
        Self::Wind,
        Self::Fixing,
        Self::TieLength,
        Self::SiteTests,
    ];

    /// The name in results.
    #[must_use]
    pub fn id(self) -> &'static str {
        match self {
            Self::Coverage => "coverage",
            Self::Density => "density",
            Self::EdgeTies => "edge_ties",
            Self::EdgeDistance => "edge_distance",
            Self::KeepOut => "keep_out",
            Self::SpacingBetween => "spacing_between",
            Self::ExistingTies => "existing_ties",
            Self::Coursing => "coursing",
            Self::Wind => "wind",
            Self::Fixing => "fixing",
            Self::TieLength => "tie_length",
            Self::SiteTests => "site_tests",
        }
    }

    /// The name a person reads.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Coverage => "coverage",
            Self::Density => "ties per m²",
            Self::EdgeTies => "edge ties",
            Self::EdgeDistance => "edge distance",
            Self::KeepOut => "keep-out",
            Self::SpacingBetween => "distance between ties",
            Self::ExistingTies => "old ties",
            Self::Coursing => "coursing",
            Self::Wind => "wind",
            Self::Fixing => "fixing",
            Self::TieLength => "length of ties",
            Self::SiteTests => "pull tests",
        }
    }
}

/// Whether a finding is a fault of the layout.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Severity {
    /// A rule is broken.
    Breach,
    /// Worth knowing; no rule is broken.
    Note,
}

impl Severity {
    /// The name in results.
    #[must_use]
    pub fn id(self) -> &'static str {
        match self {
            Self::Breach => "breach",
            Self::Note => "note",
        }
    }
}

/// One thing found, with its place and what was measured.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// The rule it is about.
    pub rule: Rule,
    /// Whether the rule is broken.
    pub severity: Severity,
    /// What, where, by how much, in words.
    pub message: String,
    /// Where on the elevation, mm.
    pub at: Point,
    /// What was measured, in the unit of the rule.
    pub measured: Option<f64>,
    /// What the rule asks for, in the same unit.
    pub required: Option<f64>,
    /// Source of the required value.
    pub source: Source,
}
