//! Pull tests of an elevation: the scheme, and what was measured.

use super::Point;
use serde::{Deserialize, Serialize};

/// The pull tests of an elevation.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct SiteTests {
    /// What the tests are planned and judged by.
    pub scheme: TestScheme,
    /// Number the choice of ties is drawn from; the same number gives the same ties.
    pub seed: u64,
    /// Characteristic action on one tie, N; 0: from the wind, or not known.
    pub action: f64,
    /// Test load the engineer or the tie's maker gives, N; 0: none given.
    pub proof: f64,
    /// Tests before work starts in each area and leaf; the remedial scheme only.
    pub trials: u32,
    /// Whether the outer leaf spans vertically without returns or edge ties; the remedial scheme raises the load.
    pub spans_vertically: bool,
    /// Which leaf is the weaker, tested while work goes on.
    pub weaker: LeafName,
    /// Areas tested each for itself; none: the whole elevation is one.
    pub areas: Vec<TestArea>,
    /// What was measured.
    pub results: Vec<TestResult>,
}

impl Default for SiteTests {
    fn default() -> Self {
        Self {
            scheme: TestScheme::default(),
            seed: 1,
            action: 0.0,
            proof: 0.0,
            trials: 5,
            spans_vertically: false,
            weaker: LeafName::Inner,
            areas: Vec::new(),
            results: Vec::new(),
        }
    }
}

/// What pull tests are planned and judged by.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum TestScheme {
    /// Remedial ties: every job, both leaves before work starts, then the weaker leaf while it goes on.
    #[default]
    RemedialTies,
    /// Post-installed anchors: 2.5 %, at least 3, at 1.5 times the characteristic action.
    AnchorsLow,
    /// Post-installed anchors: 5 % at 1.25 times the characteristic action.
    AnchorsHigh,
}

impl TestScheme {
    /// All schemes, in the order of the file format.
    pub const ALL: [Self; 3] = [Self::RemedialTies, Self::AnchorsLow, Self::AnchorsHigh];

    /// The scheme in a few words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::RemedialTies => "remedial ties",
            Self::AnchorsLow => "anchors, 2.5 % at 1.5 x",
            Self::AnchorsHigh => "anchors, 5 % at 1.25 x",
        }
    }
}

/// A leaf by its name.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
pub enum LeafName {
    /// The outer leaf.
    #[default]
    Outer,
    /// The inner leaf.
    Inner,
}

impl LeafName {
    /// Both leaves.
    pub const ALL: [Self; 2] = [Self::Outer, Self::Inner];

    /// The trade's words for it.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Outer => "outer leaf",
            Self::Inner => "inner leaf",
        }
    }
}

/// A part of the elevation with one kind of fixing, base material and condition.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct TestArea {
    /// Name.
    pub name: String,
    /// Left edge, mm.
    pub x: f64,
    /// Lower edge, mm.
    pub y: f64,
    /// Width, mm.
    pub w: f64,
    /// Height, mm.
    pub h: f64,
}

/// One pull test.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct TestResult {
    /// Where, mm: at a tie of the layout, or at a trial place.
    pub at: Point,
    /// In which leaf.
    pub leaf: LeafName,
    /// Greatest load reached, N.
    pub load: f64,
    /// Whether the tie held: no pull-out, slip or break at that load.
    pub held: bool,
    /// Whether the test was made before work started.
    pub before_work: bool,
    /// Name of the fixing tested; empty: the one chosen for the elevation. Results of another fixing than the
    /// one chosen are kept, and judge nothing.
    pub fixing: String,
    /// Anything seen.
    pub note: String,
}

impl Default for TestResult {
    fn default() -> Self {
        Self {
            at: (0.0, 0.0),
            leaf: LeafName::Outer,
            load: 0.0,
            held: true,
            before_work: false,
            fixing: String::new(),
            note: String::new(),
        }
    }
}
