//! Old ties that were found in the wall.

use super::{Point, Treatment};
use serde::{Deserialize, Serialize};

/// An old tie that was found in the wall.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ExistingTie {
    /// Where it is.
    pub at: Point,
    /// What it is.
    #[serde(default)]
    pub form: TieForm,
    /// Corrosion grade, 1 (bright) to 9 (laminating); 0: not graded.
    #[serde(default)]
    pub grade: u8,
    /// What is done with it.
    #[serde(default)]
    pub treatment: Treatment,
}

/// Shape of an old tie.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum TieForm {
    /// Fishtailed strip with a vertical twist.
    VerticalTwist,
    /// Flat strip.
    FlatStrip,
    /// Butterfly of wire.
    WireButterfly,
    /// Double triangle of wire.
    WireDoubleTriangle,
    /// Something else.
    Other,
    /// Not known.
    #[default]
    Unknown,
}

impl TieForm {
    /// All forms, in the order of the file format.
    pub const ALL: [Self; 6] = [
        Self::VerticalTwist,
        Self::FlatStrip,
        Self::WireButterfly,
        Self::WireDoubleTriangle,
        Self::Other,
        Self::Unknown,
    ];

    /// The trade's words for it.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::VerticalTwist => "vertical twist",
            Self::FlatStrip => "flat strip",
            Self::WireButterfly => "wire butterfly",
            Self::WireDoubleTriangle => "wire double triangle",
            Self::Other => "other",
            Self::Unknown => "unknown",
        }
    }
}
