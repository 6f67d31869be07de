//! What the wall is made of, as surveyed: what fixing and length are chosen from.

use super::Point;
use serde::{Deserialize, Serialize};

/// The wall as surveyed, and which fixing was chosen for it.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Substrate {
    /// The outer leaf.
    pub outer: Leaf,
    /// The inner leaf.
    pub inner: Leaf,
    /// The cavity where it was measured.
    pub cavities: Vec<CavityReading>,
    /// What is in the cavity.
    pub insulation: Insulation,
    /// How hard weather and air are on steel here.
    pub environment: Environment,
    /// How far the outer leaf stands out of plane, mm; 0 where it does not.
    pub bulge: f64,
    /// How much lower the outer end of the tie lies than the inner, mm; 0: level.
    pub fall: f64,
    /// Whether the outer leaf is taken down and built again.
    pub rebuilt: bool,
    /// Name of the fixing chosen, one of the firm's own or the id of a kind; empty: the one ranked first.
    pub fixing: String,
    /// Fixings of the firm's own, with their declared values.
    pub declared: Vec<DeclaredFixing>,
}

/// One leaf of a cavity wall.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Leaf {
    /// Its units.
    pub material: Material,
    /// Their condition.
    pub condition: Condition,
    /// Voids in them.
    pub voids: Voids,
    /// Thickness without render, mm.
    pub thickness: f64,
    /// Thickness of render or other cover, mm; 0: the units are in sight.
    pub render: f64,
}

impl Default for Leaf {
    fn default() -> Self {
        Self {
            material: Material::Unknown,
            condition: Condition::Unknown,
            voids: Voids::Unknown,
            thickness: 102.5,
            render: 0.0,
        }
    }
}

/// A fixing the firm uses, with declared values.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct DeclaredFixing {
    /// The firm's name for it.
    pub name: String,
    /// Which kind it is, by the kind's id ("resin-bonded").
    pub kind: String,
    /// Declared characteristic tension, N; 0: not declared.
    pub tension: f64,
    /// Declared characteristic compression, N; 0: not declared.
    pub compression: f64,
    /// Diameter of its hole, mm; 0: as its kind.
    pub hole: f64,
    /// Diameter of its bar, mm; 0: as its kind.
    pub bar: f64,
    /// Least embedment in the outer leaf, mm; 0: as its kind.
    pub embed_outer: f64,
    /// Least embedment in the inner leaf, mm; 0: as its kind.
    pub embed_inner: f64,
    /// Lengths in stock, mm; none: as its kind.
    pub lengths: Vec<f64>,
    /// The declaration: document and date.
    pub source: String,
}

/// The cavity measured at a place.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct CavityReading {
    /// Where, mm.
    pub at: Point,
    /// Clear width between the leaves, mm; 0: not entered yet.
    pub cavity: f64,
}

macro_rules! choices {
    ($(#[$head:meta])* $name:ident { $($(#[$doc:meta])* $variant:ident => $words:literal,)* }) => {
        $(#[$head])*
        #[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
        pub enum $name {
            $($(#[$doc])* $variant,)*
        }
        impl $name {
            /// All of them, in the order of the file format.
            pub const ALL: &'static [Self] = &[$(Self::$variant),*];
            /// The trade's words for it.
            #[must_use]
            pub fn words(self) -> &'static str {
                match self {
                    $(Self::$variant => $words,)*
                }
            }
        }
    };
}

choices! {
    /// What a leaf is built of.
    Material {
        /// Not known.
        #[default]
        Unknown => "not known",
        /// Fired clay brick.
        ClayBrick => "clay brick",
        /// Calcium silicate brick.
        SilicateBrick => "calcium silicate brick",
        /// Concrete brick.
        ConcreteBrick => "concrete brick",
        /// Dense aggregate block.
        DenseBlock => "dense concrete block",
        /// Light aggregate or aerated block.
        LightBlock => "light or aerated block",
        /// Cut stone.
        Stone => "cut stone",
        /// Rubble or a leaf with a rubble core.
        Rubble => "rubble",
        /// Concrete cast in place or panels.
        Concrete => "concrete",
        /// Timber frame.
        TimberFrame => "timber frame",
    }
}

choices! {
    /// How sound a leaf is.
    Condition {
        /// Not known.
        #[default]
        Unknown => "not known",
        /// Sound.
        Sound => "sound",
        /// Soft, friable or with mortar washed out.
        Weak => "weak or friable",
        /// Cracked.
        Cracked => "cracked",
    }
}

choices! {
    /// Voids in the units of a leaf.
    Voids {
        /// Not known.
        #[default]
        Unknown => "not known",
        /// None, or a shallow frog.
        Solid => "solid",
        /// Perforated.
        Perforated => "perforated",
        /// Hollow or cellular.
        Hollow => "hollow",
    }
}

choices! {
    /// What is in the cavity.
    Insulation {
        /// Not known.
        #[default]
        Unknown => "not known",
        /// Nothing.
        Clear => "clear",
        /// Boards on the inner leaf.
        Partial => "boards, part fill",
        /// Filled.
        Full => "full fill",
    }
}

choices! {
    /// How hard weather and air are on steel.
    Environment {
        /// Not known.
        #[default]
        Unknown => "not known",
        /// Inland.
        Inland => "inland",
        /// Within reach of sea spray or salt air.
        Coastal => "coastal",
        /// Industrial air, black ash mortar, chlorides.
        Aggressive => "aggressive",
    }
}

choices! {
    /// What is done with an old tie.
    Treatment {
        /// Nothing decided: the proposal stands.
        #[default]
        AsProposed => "as proposed",
        /// Left in the wall.
        Leave => "leave",
        /// Freed in the outer leaf, so that its rust lifts nothing.
        Isolate => "isolate in the outer leaf",
        /// Cut out.
        Remove => "remove",
    }
}
