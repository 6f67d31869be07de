//! What of the window is shown: pages, layers, panels.

use std::ops::RangeInclusive;
use std::path::PathBuf;

use layout_core::elevation::Point;
use serde::{Deserialize, Serialize};

/// A page of the sidebar.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Page {
    /// Properties, counts, rules.
    #[default]
    Layout,
    /// Wind and spacing by zone.
    Wind,
    /// The wall, its fixing and the length of ties.
    Fixing,
    /// Pull tests.
    Tests,
    /// Old ties.
    OldTies,
    /// Price at a fixed sum.
    Price,
}

impl Page {
    /// All pages, in order.
    pub const ALL: [Self; 6] =
        [Self::Layout, Self::Wind, Self::Fixing, Self::Tests, Self::OldTies, Self::Price];

    /// Its name.
    #[must_use]
    pub fn label(self) -> &'static str {
        match self {
            Self::Layout => "Setting out",
            Self::Wind => "Wind",
            Self::Fixing => "Fixing",
            Self::Tests => "Tests",
            Self::OldTies => "Old ties",
            Self::Price => "Price",
        }
    }

    /// What the command is called that shows it.
    #[must_use]
    pub const fn command(self) -> &'static str {
        match self {
            Self::Layout => "Page: setting out",
            Self::Wind => "Page: wind",
            Self::Fixing => "Page: fixing",
            Self::Tests => "Page: pull tests",
            Self::OldTies => "Page: old ties",
            Self::Price => "Page: price",
        }
    }

    /// What it is for.
    #[must_use]
    pub const fn tip(self) -> &'static str {
        match self {
            Self::Layout => "What is selected, counts, rules and coursing",
            Self::Wind => "How many ties the wind asks for, zone by zone",
            Self::Fixing => "What the wall is made of; fixing, lengths, resin",
            Self::Tests => "Pull tests: how many, which, results",
            Self::OldTies => "Grade and treatment of the old ties",
            Self::Price => "The work at a fixed sum, from your own rates",
        }
    }
}

/// What is shown on the canvas.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub struct Layers {
    /// Marks of ties.
    pub marks: bool,
    /// Bed joints.
    pub bed_joints: bool,
    /// Dimension chains.
    pub dimensions: bool,
    /// Old ties.
    pub old_ties: bool,
    /// The masonry that each tie serves.
    pub served: bool,
    /// The masonry that no tie serves.
    pub untied: bool,
}

impl Default for Layers {
    fn default() -> Self {
        Self { marks: true, bed_joints: true, dimensions: true, old_ties: true, served: false, untied: false }
    }
}

/// Which panels are shown, and how large they are, points.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub struct Panels {
    /// Whether the tools and lists at the left are shown.
    pub left: bool,
    /// Whether the sidebar at the right is shown.
    pub right: bool,
    /// Width of the tools and lists.
    pub left_width: f32,
    /// Width of the sidebar.
    pub right_width: f32,
    /// Height of the findings.
    pub findings: f32,
    /// Height of the table of openings.
    pub table: f32,
}

impl Panels {
    /// Least and greatest width of the tools and lists, points.
    pub const LEFT: RangeInclusive<f32> = 172.0..=340.0;
    /// Least and greatest width of the sidebar, points.
    pub const RIGHT: RangeInclusive<f32> = 312.0..=560.0;
    /// Least and greatest height of the findings, points.
    pub const FINDINGS: RangeInclusive<f32> = 90.0..=420.0;
    /// Least and greatest height of the table of openings, points.
    pub const TABLE: RangeInclusive<f32> = 96.0..=420.0;

    /// The same, each size within its limits; one that is no number is as usual.
    #[must_use]
    pub fn within_limits(self) -> Self {
        let usual = Self::default();
        let fit = |size: f32, limits: RangeInclusive<f32>, usual: f32| {
            if size.is_finite() { size.clamp(*limits.start(), *limits.end()) } else { usual }
        };
        Self {
            left_width: fit(self.left_width, Self::LEFT, usual.left_width),
            right_width: fit(self.right_width, Self::RIGHT, usual.right_width),
            findings: fit(self.findings, Self::FINDINGS, usual.findings),
            table: fit(self.table, Self::TABLE, usual.table),
            ..self
        }
    }
}

impl Default for Panels {
    fn default() -> Self {
        Self { left: true, right: true, left_width: 188.0, right_width: 320.0, findings: 160.0, table: 190.0 }
    }
}

/// Where the window looked in a file.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Look {
    /// The file.
    pub file: PathBuf,
    /// The elevation that was shown.
    pub elevation: usize,
    /// What was in the middle, mm, and points of the screen in one mm; nothing where the whole elevation was shown.
    pub near: Option<(Point, f64)>,
}

/// Files for which it is remembered where the window looked.
const MOST_LOOKS: usize = 8;

/// Puts where the window looks in a file before what was known of other files.
pub(super) fn put_first(looks: &mut Vec<Look>, look: Look) {
    looks.retain(|l| l.file != look.file);
    looks.insert(0, look);
    looks.truncate(MOST_LOOKS);
}
