//! The kinds of remedial fixing, by trade name, with their usual sizes. Common practice, no source.

/// A kind of remedial fixing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    /// Both ends expand in their holes.
    MechanicalExpansion,
    /// Both ends bonded with resin.
    ResinBonded,
    /// Helical bar in cement grout at both ends.
    HelicalGrouted,
    /// Helical bar driven dry into pilot holes.
    DrivenHelical,
    /// Expands in the inner leaf, resin in the outer.
    MechanicalResin,
    /// Bar in a fabric sock filled with grout.
    GroutedSock,
    /// Fixed to the inner leaf and built into a new outer leaf.
    Starter,
    /// Long bar through thick stone, bonded.
    LongStone,
}

/// How a fixing holds: a fallback holds in another way.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Principle {
    /// By pressing on the sides of its hole.
    Expansion,
    /// By bond.
    Bond,
    /// By the thread it cuts.
    Thread,
    /// By filling what is there.
    Filling,
    /// Built in.
    BuiltIn,
}

/// Usual sizes and words of a kind.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct KindData {
    /// Diameter of the hole, mm.
    pub hole: f64,
    /// Diameter of the bar, mm.
    pub bar: f64,
    /// Least embedment in the outer leaf, mm.
    pub embed_outer: f64,
    /// Least embedment in the inner leaf, mm.
    pub embed_inner: f64,
    /// Usual lengths, mm.
    pub lengths: &'static [f64],
    /// How it holds.
    pub principle: Principle,
    /// Leaves bonded with resin: outer, inner.
    pub resin: (bool, bool),
    /// Whether a tie in place can be pull-tested.
    pub testable: bool,
    /// Whether it goes into the face of a brick rather than a bed joint.
    pub in_face: bool,
    /// Where it suits.
    pub suits: &'static str,
    /// Where it does not.
    pub suits_not: &'static str,
}

const USUAL: &[f64] = &[175.0, 200.0, 225.0, 250.0, 275.0, 300.0, 325.0, 350.0];
const LONG: &[f64] = &[300.0, 350.0, 400.0, 450.0, 500.0, 550.0, 600.0, 650.0, 700.0, 750.0];

impl Kind {
    /// All kinds.
    pub const ALL: [Self; 8] = [
        Self::MechanicalExpansion,
        Self::ResinBonded,
        Self::HelicalGrouted,
        Self::DrivenHelical,
        Self::MechanicalResin,
        Self::GroutedSock,
        Self::Starter,
        Self::LongStone,
    ];

    /// Name in project files and results.
    #[must_use]
    pub fn id(self) -> &'static str {
        match self {
            Self::MechanicalExpansion => "mechanical-expansion",
            Self::ResinBonded => "resin-bonded",
            Self::HelicalGrouted => "helical-grouted",
            Self::DrivenHelical => "driven-helical",
            Self::MechanicalResin => "mechanical-resin",
            Self::GroutedSock => "grouted-sock",
            Self::Starter => "starter",
            Self::LongStone => "long-stone",
        }
    }

    /// The kind of an id.
    #[must_use]
    pub fn by_id(id: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|k| k.id() == id)
    }

    /// The trade's words for it.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::MechanicalExpansion => "mechanical expansion tie",
            Self::ResinBonded => "resin-bonded tie",
            Self::HelicalGrouted => "helical tie in grout",
            Self::DrivenHelical => "driven helical tie",
            Self::MechanicalResin => "combined mechanical and resin tie",
            Self::GroutedSock => "grouted sock anchor",
            Self::Starter => "starter tie for a rebuilt leaf",
            Self::LongStone => "long bonded tie for thick stone",
        }
    }

    /// Its usual sizes and words.
    #[must_use]
    pub fn data(self) -> KindData {
        let base = KindData {
            hole: 10.0,
            bar: 6.0,
            embed_outer: 60.0,
            embed_inner: 70.0,
            lengths: USUAL,
            principle: Principle::Bond,
            resin: (false, false),
            testable: true,
            in_face: false,
            suits: "",
            suits_not: "",
        };
        match self {
            Self::MechanicalExpansion => KindData {
                embed_inner: 60.0,
                principle: Principle::Expansion,
                in_face: true,
                suits: "sound, solid units that can be seen; quick, works wet and cold, loads at once",
                suits_not: "perforated, soft, cracked or hidden units, which expansion splits",
                ..base
            },
            Self::ResinBonded => KindData {
                resin: (true, true),
                suits: "most solid and perforated units, soft ones too; no pressure on the hole",
                suits_not: "rubble and open voids, which the resin runs into; wet or dusty holes",
                ..base
            },
            Self::HelicalGrouted => KindData {
                hole: 12.0,
                bar: 8.0,
                embed_inner: 75.0,
                suits: "bed joints and solid units; gives with movement; drips all along; grout is not hurt by fire",
                suits_not: "hollow units and open voids; frost while it sets",
                ..base
            },
            Self::DrivenHelical => KindData {
                hole: 6.0,
                bar: 8.0,
                embed_outer: 70.0,
                embed_inner: 75.0,
                principle: Principle::Thread,
                testable: false,
                suits: "light and aerated blocks, soft brick, studs; no setting time",
                suits_not: "hard dense units; walls whose ties have to be pull-tested in place",
                ..base
            },
            Self::MechanicalResin => KindData {
                principle: Principle::Expansion,
                resin: (true, false),
                suits: "a sound inner leaf behind a soft or perforated outer one; the inner end can be tested at once",
                suits_not: "a hollow, soft or cracked inner leaf",
                ..base
            },
            Self::GroutedSock => KindData {
                hole: 16.0,
                bar: 8.0,
                embed_outer: 80.0,
                embed_inner: 80.0,
                principle: Principle::Filling,
                suits: "rubble, voided, hollow or weak units: the sock swells to fill what is there",
                suits_not: "thin leaves and joints, for its large hole; more work than sound units need",
                ..base
            },
            Self::Starter => KindData {
                hole: 8.0,
                embed_outer: LEAST_BUILT_IN,
                principle: Principle::BuiltIn,
                suits: "an outer leaf that is taken down and built again",
                suits_not: "an outer leaf that stays",
                ..base
            },
            Self::LongStone => KindData {
                hole: 16.0,
                bar: 10.0,
                embed_outer: 150.0,
                embed_inner: 100.0,
                lengths: LONG,
                resin: (true, true),
                suits: "thick stone walls and leaves with a core; up to 750 mm long",
                suits_not: "leaves of ordinary thickness",
                ..base
            },
        }
    }
}

/// Least length built into a new outer leaf, mm: NHBC Standards 6.1.18 gives 50.
const LEAST_BUILT_IN: f64 = 50.0;

#[cfg(test)]
mod tests {
    use super::super::LEAST_EMBEDMENT;
    use super::*;

    #[test]
    fn no_kind_goes_below_the_published_embedment() {
        // NHBC Standards 6.1.18: 50 mm in each leaf.
        for kind in Kind::ALL {
            let d = kind.data();
            assert!(d.embed_outer >= LEAST_EMBEDMENT && d.embed_inner >= LEAST_EMBEDMENT, "{kind:?}");
            assert!(d.lengths.windows(2).all(|w| w[0] < w[1]) && d.bar > 0.0, "{kind:?}");
            assert_eq!(Kind::by_id(kind.id()), Some(kind));
        }
    }
}
