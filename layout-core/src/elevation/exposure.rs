//! How the wind reaches an elevation, and what one tie carries: what the number of ties is worked out from.

use serde::{Deserialize, Serialize};

/// Wind on an elevation and the resistance of its ties. Lengths in mm; 0 where a value was not entered.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Exposure {
    /// Fundamental basic wind velocity of the place, m/s; from the map of the national annex.
    pub basic_wind: f64,
    /// Terrain category of EN 1991-1-4.
    pub terrain: Terrain,
    /// Height of the building above ground, mm.
    pub height: f64,
    /// Length of the building along this elevation, mm; 0: the width of the outline.
    pub length: f64,
    /// Depth of the building behind this elevation, mm.
    pub depth: f64,
    /// x of the left corner of the building on this elevation, mm; `None`: the left of the outline.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub left: Option<f64>,
    /// Altitude of the site above the sea, m, where the UK altitude option is wanted.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub altitude: Option<f64>,
    /// Which internal pressure acts on the outer leaf.
    pub internal: InternalPressure,
    /// Directional factor.
    pub direction: f64,
    /// Seasonal factor.
    pub season: f64,
    /// Orography factor; 1 on ground that slopes by less than 3 degrees.
    pub orography: f64,
    /// Partial factor for the wind.
    pub load_factor: f64,
    /// Pressures given by an engineer, instead of all the above.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub given: Option<GivenPressure>,
    /// What one tie carries.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub resistance: Option<TieResistance>,
    /// Partial factor for the ties.
    pub gamma_m: f64,
}

impl Default for Exposure {
    fn default() -> Self {
        Self {
            basic_wind: 0.0,
            terrain: Terrain::default(),
            height: 0.0,
            length: 0.0,
            depth: 0.0,
            left: None,
            altitude: None,
            internal: InternalPressure::default(),
            direction: 1.0,
            season: 1.0,
            orography: 1.0,
            load_factor: 1.5,
            given: None,
            resistance: None,
            gamma_m: 3.0,
        }
    }
}

/// Terrain categories of EN 1991-1-4, Table 4.1.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum Terrain {
    /// Category 0: open sea, or coast exposed to it.
    Sea,
    /// Lakes, or flat land without obstacles.
    I,
    /// Low plants and single obstacles far apart.
    #[default]
    II,
    /// Villages, suburbs, woods.
    III,
    /// Towns: 15 % of the ground built over, buildings above 15 m.
    IV,
}

impl Terrain {
    /// All categories, in order.
    pub const ALL: [Self; 5] = [Self::Sea, Self::I, Self::II, Self::III, Self::IV];

    /// What the category looks like.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Sea => "0: open sea, open coast",
            Self::I => "I: lakes, bare flat land",
            Self::II => "II: open country",
            Self::III => "III: villages, suburbs, woods",
            Self::IV => "IV: town",
        }
    }

    /// The category's own name.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Sea => "0",
            Self::I => "I",
            Self::II => "II",
            Self::III => "III",
            Self::IV => "IV",
        }
    }
}

/// Which internal pressure acts on the outer leaf.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum InternalPressure {
    /// Openings are not known: +0.2 and -0.3, whichever is worse.
    #[default]
    Unknown,
    /// The inner leaf is airtight and the cavity is not open to the rooms: none on the outer leaf.
    InnerLeafAlone,
}

impl InternalPressure {
    /// Both, in order.
    pub const ALL: [Self; 2] = [Self::Unknown, Self::InnerLeafAlone];

    /// The choice in a few words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Unknown => "on the outer leaf too",
            Self::InnerLeafAlone => "on the inner leaf alone",
        }
    }
}

/// Design pressures on the outer leaf as an engineer gives them.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct GivenPressure {
    /// Outwards, factored, kN/m².
    pub outward: f64,
    /// Inwards, factored, kN/m².
    pub inward: f64,
    /// Whose letter, of what date.
    pub source: String,
}

/// Characteristic resistance of one tie.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct TieResistance {
    /// In tension, N.
    pub tension: f64,
    /// In compression, N.
    pub compression: f64,
    /// Where the values come from: declaration or test report.
    pub source: String,
}
