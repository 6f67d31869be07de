//! What the user draws: a project of elevations, each with its outline, openings and hazards.
//!
//! These types are the project file too (RON, `format: 1`): every field not marked as required has a
//! default. Lengths in mm, x to the right, y up, seen from outside; y = 0 is the datum of the
//! elevation.

mod existing;
mod exposure;
mod faults;
mod outside;
mod overlap;
mod pricing;
mod rings;
mod rule_choice;
mod site_tests;
mod substrate;
mod validate;
mod validate_rules;

pub use existing::{ExistingTie, TieForm};
pub use exposure::{Exposure, GivenPressure, InternalPressure, Terrain, TieResistance};
pub use faults::{Fault, FaultKind, Place};
pub use pricing::Rates;
pub use rings::{outline_sides, shape_bounds, shape_ring};
pub use rule_choice::{CustomEdges, CustomRules, RuleChoice, RuleFile};
pub use site_tests::{LeafName, SiteTests, TestArea, TestResult, TestScheme};
pub use substrate::{
    CavityReading, Condition, DeclaredFixing, Environment, Insulation, Leaf, Material, Substrate, Treatment,
    Voids,
};
pub use validate::validate;

use serde::{Deserialize, Serialize};

/// A point `(x, y)`, mm.
pub type Point = (f64, f64);

/// The file format this version reads and writes.
pub const FORMAT: u32 = 1;

/// Everything a project file holds.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Project {
    /// Always 1.
    pub format: u32,
    /// Title of the job.
    pub title: String,
    /// The firm's own number for the job.
    #[serde(default)]
    pub reference: String,
    /// Where the building stands.
    #[serde(default)]
    pub site: String,
    /// Who the work is for.
    #[serde(default)]
    pub client: String,
    /// Who drew it.
    #[serde(default)]
    pub drawn_by: String,
    /// Revision of the drawing.
    #[serde(default = "first_revision")]
    pub revision: String,
    /// Notes printed on the summary sheet.
    #[serde(default)]
    pub notes: Vec<String>,
    /// Rates to price the work by.
    #[serde(default)]
    pub rates: Option<Rates>,
    /// The elevations, in drawing order.
    pub elevations: Vec<Elevation>,
}

fn first_revision() -> String {
    "A".to_owned()
}

impl Default for Project {
    fn default() -> Self {
        Self {
            format: FORMAT,
            title: "Untitled".to_owned(),
            reference: String::new(),
            site: String::new(),
            client: String::new(),
            drawn_by: String::new(),
            revision: first_revision(),
            notes: Vec::new(),
            rates: None,
            elevations: Vec::new(),
        }
    }
}

/// One face of a building.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Elevation {
    /// Name, as the drawing shows it.
    pub name: String,
    /// Closed ring of corners, either winding, last point not repeated, mm.
    pub outline: Vec<Point>,
    /// Condition of each side; side i runs from point i to point i + 1. Empty: worked out by
    /// [`outline_sides`].
    #[serde(default)]
    pub sides: Vec<SideCondition>,
    /// Windows, doors and other holes.
    #[serde(default)]
    pub openings: Vec<Opening>,
    /// Areas where nothing may be drilled.
    #[serde(default)]
    pub keep_outs: Vec<KeepOut>,
    /// Vertical movement joints.
    #[serde(default)]
    pub movement_joints: Vec<MovementJoint>,
    /// Old ties that were found.
    #[serde(default)]
    pub existing_ties: Vec<ExistingTie>,
    /// Ties that the user fixed in place; never moved.
    #[serde(default)]
    pub pinned: Vec<Point>,
    /// Areas whose ties stay as they are.
    #[serde(default)]
    pub locked: Vec<Locked>,
    /// `false`: only the pinned and the locked ties stand.
    #[serde(default = "yes")]
    pub automatic: bool,
    /// Courses, and where on them a tie goes.
    #[serde(default)]
    pub coursing: Coursing,
    /// The rules to set out and check by.
    #[serde(default)]
    pub rules: RuleChoice,
    /// Whether a layout that is easy to mark out or one with the fewest ties is wanted.
    #[serde(default)]
    pub style: Style,
    /// Whether rows of long plain stretches are staggered.
    #[serde(default)]
    pub pattern: Pattern,
    /// Wind and the resistance of the ties.
    #[serde(default)]
    pub exposure: Option<Exposure>,
    /// What the wall is made of.
    #[serde(default)]
    pub substrate: Option<Substrate>,
    /// Pull tests.
    #[serde(default)]
    pub tests: Option<SiteTests>,
}

fn yes() -> bool {
    true
}

impl Elevation {
    /// An elevation with a name and an outline and every default.
    #[must_use]
    pub fn new(name: impl Into<String>, outline: Vec<Point>) -> Self {
        Self {
            name: name.into(),
            outline,
            sides: Vec::new(),
            openings: Vec::new(),
            keep_outs: Vec::new(),
            movement_joints: Vec::new(),
            existing_ties: Vec::new(),
            pinned: Vec::new(),
            locked: Vec::new(),
            automatic: true,
            coursing: Coursing::default(),
            rules: RuleChoice::default(),
            style: Style::default(),
            pattern: Pattern::default(),
            exposure: None,
            substrate: None,
            tests: None,
        }
    }
}

impl Elevation {
    /// The ties that never move: those pinned, and those of locked areas that are not pinned as well.
    #[must_use]
    pub fn fixed_ties(&self) -> Vec<Point> {
        let in_order = |a: &Point, b: &Point| a.1.total_cmp(&b.1).then(a.0.total_cmp(&b.0));
        let mut locked: Vec<Point> = self.locked.iter().flat_map(|l| l.ties.iter().copied()).collect();
        locked.sort_by(in_order);
        locked.dedup();
        let mut out = self.pinned.clone();
        out.sort_by(in_order);
        locked.retain(|tie| out.binary_search_by(|p| in_order(p, tie)).is_err());
        out.extend(locked);
        out
    }
}

/// An area whose ties stay as they are: no tie is added in it or taken out of it, and all round it ties are set
/// out to go with those in it.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Locked {
    /// Name, or why it is locked.
    #[serde(default)]
    pub name: String,
    /// Its shape.
    pub shape: Shape,
    /// The ties that stand in it, mm.
    #[serde(default)]
    pub ties: Vec<Point>,
}

/// What a layout is to be good for, where that pulls apart.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum Style {
    /// Easy to mark out: main rows at the full spacing, for up to a twentieth more ties.
    #[default]
    Even,
    /// As few ties as can be found.
    Fewest,
}

/// How the rows of a long plain stretch stand to each other.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum Pattern {
    /// Every other row set back by half the spacing.
    #[default]
    Staggered,
    /// Ties above each other.
    Stacked,
}

/// What holds one side of the outline.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum SideCondition {
    /// Ground, DPC or the support below.
    Base,
    /// Returned and bonded.
    Corner,
    /// Unreturned or unbonded.
    FreeEnd,
    /// A movement joint at the side of the wall.
    Joint,
    /// The wall runs on, for example at a party line.
    Abutment,
    /// Sloping top of a gable.
    Verge,
    /// Level top under the roof.
    Eaves,
}

impl SideCondition {
    /// All conditions, in the order of the file format.
    pub const ALL: [Self; 7] =
        [Self::Base, Self::Corner, Self::FreeEnd, Self::Joint, Self::Abutment, Self::Verge, Self::Eaves];

    /// The trade's words for it.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Base => "base",
            Self::Corner => "bonded corner",
            Self::FreeEnd => "free end",
            Self::Joint => "movement joint",
            Self::Abutment => "abutment (wall runs on)",
            Self::Verge => "verge",
            Self::Eaves => "eaves",
        }
    }
}

/// A hole in the outer leaf.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Opening {
    /// Name, as the drawing shows it ("W1").
    #[serde(default)]
    pub name: String,
    /// Its shape.
    pub shape: Shape,
}

/// A closed shape on the elevation, mm.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Shape {
    /// Rectangle by its lower left corner, width and height.
    Rect {
        /// Left edge.
        x: f64,
        /// Lower edge.
        y: f64,
        /// Width, more than 0.
        w: f64,
        /// Height, more than 0.
        h: f64,
    },
    /// Rectangle with an arched head: `h` to the springing, `rise` above it.
    Arched {
        /// Left edge.
        x: f64,
        /// Lower edge.
        y: f64,
        /// Width, more than 0.
        w: f64,
        /// Height to the springing, 0 or more.
        h: f64,
        /// Rise of the arc above the springing, more than 0; `w / 2` is a semicircle.
        rise: f64,
    },
    /// Circle by its centre and radius.
    Circle {
        /// Centre.
        x: f64,
        /// Centre.
        y: f64,
        /// Radius, more than 0.
        r: f64,
    },
    /// Any closed ring of points.
    Polygon(Vec<Point>),
}

/// An area where nothing may be drilled: services, fixings, cracked masonry.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct KeepOut {
    /// Name, as the drawing shows it.
    #[serde(default)]
    pub name: String,
    /// Its shape.
    pub shape: Shape,
    /// Distance that ties keep from it, mm, 0 or more.
    #[serde(default = "default_clearance")]
    pub clearance: f64,
}

fn default_clearance() -> f64 {
    50.0
}

/// A vertical movement joint inside the outline.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct MovementJoint {
    /// Where it stands.
    pub x: f64,
    /// Lower end.
    pub from: f64,
    /// Upper end.
    pub to: f64,
}

/// Courses of the wall, and where on them a tie goes.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Coursing {
    /// Height of a course with its joint, mm, more than 0.
    pub gauge: f64,
    /// Height of a bed joint, mm.
    pub first_bed: f64,
    /// Where a tie goes.
    pub fix: Fix,
    /// Length of a brick with its joint, mm, more than 0: for lengths counted in bricks.
    pub brick: f64,
}

/// Length of a brick with its joint, mm: the metric brick of 215 mm with a joint of 10 mm.
pub const USUAL_BRICK: f64 = 225.0;

impl Default for Coursing {
    fn default() -> Self {
        Self { gauge: 75.0, first_bed: 0.0, fix: Fix::BedJoint, brick: USUAL_BRICK }
    }
}

/// Where on a course a tie goes.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum Fix {
    /// In the bed joint: y = `first_bed` + k x `gauge`.
    #[default]
    BedJoint,
    /// In the middle of the brick's face: y = `first_bed` + (k + 1/2) x `gauge`.
    BrickFace,
    /// At any height.
    Anywhere,
}

impl Fix {
    /// All places, in the order of the file format.
    pub const ALL: [Self; 3] = [Self::BedJoint, Self::BrickFace, Self::Anywhere];

    /// The trade's words for it.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::BedJoint => "bed joint",
            Self::BrickFace => "brick face",
            Self::Anywhere => "anywhere",
        }
    }
}
