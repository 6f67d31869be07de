//! Walls to start from: common shapes of an elevation, each drawn from a few sizes.

use layout_core::elevation::{Point, SideCondition};
use layout_core::units::tidy_mm;

/// A common shape of wall.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum WallShape {
    /// A rectangle between two bonded corners.
    Plain,
    /// A gable with its ridge in the middle.
    Gable,
    /// A gable with eaves of two heights, or its ridge off the middle.
    UnevenGable,
    /// A top that falls from one end to the other.
    LeanTo,
    /// A foot that rises in steps with the ground.
    Stepped,
    /// A high part with a lower one beside it.
    LowWing,
    /// A wall that stands free at both ends.
    FreeStanding,
    /// One half of a pair of houses, the wall running on past the party line.
    Semi,
}

/// A size that a shape is drawn from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Size {
    /// What it is called.
    pub label: &'static str,
    /// What it usually is, mm; a plain number for a count.
    pub usual: f64,
    /// Whether it is a count, not a length.
    pub count: bool,
}

const fn mm(label: &'static str, usual: f64) -> Size {
    Size { label, usual, count: false }
}

/// An outline with the condition of each side.
pub type Wall = (Vec<Point>, Vec<SideCondition>);

impl WallShape {
    /// All shapes, as the list shows them.
    pub const ALL: [Self; 8] = [
        Self::Plain,
        Self::Semi,
        Self::Gable,
        Self::UnevenGable,
        Self::LeanTo,
        Self::LowWing,
        Self::Stepped,
        Self::FreeStanding,
    ];

    /// What it is called.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Plain => "Plain wall",
            Self::Gable => "Gable",
            Self::UnevenGable => "Uneven gable",
            Self::LeanTo => "Lean-to",
            Self::Stepped => "Stepped foot",
            Self::LowWing => "L, with a low wing",
            Self::FreeStanding => "Parapet, ends free",
            Self::Semi => "Semi, to the party line",
        }
    }

    /// What it is, in a sentence.
    #[must_use]
    pub fn about(self) -> &'static str {
        match self {
            Self::Plain => "A rectangle from the base to the eaves, bonded corners at both ends.",
            Self::Gable => "The ridge in the middle, verges up both slopes.",
            Self::UnevenGable => "Eaves of two heights, or the ridge off the middle; verges up both slopes.",
            Self::LeanTo => "The top falls from right to left and counts as a verge.",
            Self::Stepped => "The foot rises to the right in equal steps, with the ground.",
            Self::LowWing => "A high part with a lower one at its right.",
            Self::FreeStanding => "Neither end is returned or bonded: both count as free ends.",
            Self::Semi => "A bonded corner at the left; at the right the wall runs on past the party line.",
        }
    }

    /// The sizes it is drawn from.
    #[must_use]
    pub fn sizes(self) -> &'static [Size] {
        match self {
            Self::Plain => const { &[mm("Width", 9000.0), mm("Height", 5250.0)] },
            Self::Semi => {
                const { &[mm("Width to the party line", 6750.0), mm("Height to the eaves", 5250.0)] }
            }
            Self::FreeStanding => const { &[mm("Width", 6000.0), mm("Height", 1200.0)] },
            Self::Gable => {
                const {
                    &[
                        mm("Width", 8100.0),
                        mm("Height to the eaves", 5250.0),
                        mm("Height to the ridge", 8250.0),
                    ]
                }
            }
            Self::UnevenGable => {
                const {
                    &[
                        mm("Width", 8100.0),
                        mm("Eaves at the left", 5250.0),
                        mm("Eaves at the right", 3000.0),
                        mm("Height to the ridge", 8250.0),
                        mm("Ridge from the left", 3600.0),
                    ]
                }
            }
            Self::LeanTo => {
                const {
                    &[
                        mm("Width", 3600.0),
                        mm("Height at the left", 2250.0),
                        mm("Height at the right", 3450.0),
                    ]
                }
            }
            Self::Stepped => {
                const {
                    &[
                        mm("Width", 9000.0),
                        mm("Height at the left", 6000.0),
                        Size { label: "Steps", usual: 3.0, count: true },
                        mm("Rise of a step", 300.0),
                    ]
                }
            }
            Self::LowWing => {
                const {
                    &[
                        mm("Width of the high part", 6000.0),
                        mm("Height of the high part", 5250.0),
                        mm("Width of the low part", 3000.0),
                        mm("Height of the low part", 2625.0),
                    ]
                }
            }
        }
    }

    /// Its usual sizes.
    #[must_use]
    pub fn usual(self) -> Vec<f64> {
        self.sizes().iter().map(|s| s.usual).collect()
    }

    /// The wall of these sizes, its lower left corner at the left end of the datum.
    ///
    /// # Errors
    ///
    /// Which size does not go with the others, in words.
    pub fn wall(self, sizes: &[f64]) -> Result<Wall, String> {
        let get = |i: usize| sizes.get(i).copied().filter(|v| v.is_finite() && *v > 0.0);
        let size = |i: usize| {
            let label = self.sizes().get(i).map_or("a size", |s| s.label);
            get(i).ok_or_else(|| format!("{label} has to be more than 0"))
        };
        let (w, h) = (size(0)?, size(1)?);
        match self {
            Self::Plain => Ok(rectangle(w, h, SideCondition::Corner, SideCondition::Corner)),
            Self::Semi => Ok(rectangle(w, h, SideCondition::Abutment, SideCondition::Corner)),
            Self::FreeStanding => Ok(rectangle(w, h, SideCondition::FreeEnd, SideCondition::FreeEnd)),
            Self::Gable => gable(w, h, h, size(2)?, w / 2.0),
            Self::UnevenGable => gable(w, h, size(2)?, size(3)?, size(4)?),
            Self::LeanTo => lean_to(w, h, size(2)?),
            Self::Stepped => stepped(w, h, size(2)?, size(3)?),
            Self::LowWing => low_wing(w, h, size(2)?, size(3)?),
        }
    }
}

fn rectangle(w: f64, h: f64, right: SideCondition, left: SideCondition) -> Wall {
    let ring = vec![(0.0, 0.0), (w, 0.0), (w, h), (0.0, h)];
    (ring, vec![SideCondition::Base, right, SideCondition::Eaves, left])
}

fn gable(w: f64, left: f64, right: f64, ridge: f64, at: f64) -> Result<Wall, String> {
    use SideCondition::{Base, Corner, Verge};
    if ridge <= left.max(right) {
        return Err("the ridge has to be higher than the eaves".to_owned());
    }
    if at >= w {
        return Err("the ridge has to stand between the ends of the wall".to_owned());
    }
    let ring = vec![(0.0, 0.0), (w, 0.0), (w, right), (tidy_mm(at), ridge), (0.0, left)];
    Ok((ring, vec![Base, Corner, Verge, Verge, Corner]))
}

fn lean_to(w: f64, left: f64, right: f64) -> Result<Wall, String> {
    use SideCondition::{Base, Corner, Eaves, Verge};
    let top = if (left - right).abs() < 1.0 { Eaves } else { Verge };
    Ok((vec![(0.0, 0.0), (w, 0.0), (w, right), (0.0, left)], vec![Base, Corner, top, Corner]))
}

fn stepped(w: f64, h: f64, steps: f64, rise: f64) -> Result<Wall, String> {
    use SideCondition::{Base, Corner, Eaves};
    let steps = steps.round();
    if !(1.0..=50.0).contains(&steps) {
        return Err("1 to 50 steps".to_owned());
    }
    if rise * steps >= h {
        return Err(format!("{steps} steps of that rise are higher than the wall"));
    }
    let (mut ring, mut sides) = (vec![(0.0, 0.0)], Vec::new());
    let tread = w / (steps + 1.0);
    for k in 1..=(steps as u32) {
        let (x, y) = (tidy_mm(tread * f64::from(k)), rise * f64::from(k));
        ring.extend([(x, tidy_mm(y - rise)), (x, tidy_mm(y))]);
        sides.extend([Base, Base]);
    }
    ring.extend([(w, tidy_mm(rise * steps)), (w, h), (0.0, h)]);
    sides.extend([Base, Corner, Eaves, Corner]);
    Ok((ring, sides))
}

fn low_wing(w: f64, h: f64, wing: f64, low: f64) -> Result<Wall, String> {
    use SideCondition::{Base, Corner, Eaves};
    if low >= h {
        return Err("the low part has to be lower than the high one".to_owned());
    }
    let all = tidy_mm(w + wing);
    let ring = vec![(0.0, 0.0), (all, 0.0), (all, low), (w, low), (w, h), (0.0, h)];
    Ok((ring, vec![Base, Corner, Eaves, Corner, Eaves, Corner]))
}

#[cfg(test)]
mod tests {
    use super::*;
    use layout_core::elevation::{Elevation, validate};

    #[test]
    fn every_usual_wall_can_be_set_out() {
        for shape in WallShape::ALL {
            let (ring, sides) = shape.wall(&shape.usual()).expect("the usual sizes go together");
            assert_eq!(ring.len(), sides.len(), "{shape:?}");
            let mut e = Elevation::new("Front", ring);
            e.sides = sides;
            assert_eq!(validate(&e), vec![], "{shape:?}");
        }
    }

    #[test]
    fn an_uneven_gable_by_hand() {
        let got = WallShape::UnevenGable.wall(&[8000.0, 5000.0, 3000.0, 8000.0, 3500.0]);
        let ring = vec![(0.0, 0.0), (8000.0, 0.0), (8000.0, 3000.0), (3500.0, 8000.0), (0.0, 5000.0)];
        assert_eq!(got.map(|w| w.0), Ok(ring));
    }

    #[test]
    fn a_foot_in_two_steps_by_hand() {
        // Three treads of 3 m, each 0.3 m above the one before.
        let got = WallShape::Stepped.wall(&[9000.0, 5000.0, 2.0, 300.0]);
        let ring =
            [(0, 0), (3000, 0), (3000, 300), (6000, 300), (6000, 600), (9000, 600), (9000, 5000), (0, 5000)];
        assert_eq!(got.map(|w| w.0), Ok(ring.map(|(x, y)| (f64::from(x), f64::from(y))).to_vec()));
    }

    #[test]
    fn sizes_that_do_not_go_together_are_told() {
        for (shape, sizes) in [
            (WallShape::Gable, vec![8000.0, 5000.0, 4000.0]),
            (WallShape::UnevenGable, vec![8000.0, 5000.0, 3000.0, 8000.0, 9000.0]),
            (WallShape::LowWing, vec![6000.0, 2500.0, 3000.0, 2600.0]),
            (WallShape::Stepped, vec![9000.0, 5000.0, 20.0, 300.0]),
            (WallShape::Plain, vec![9000.0]),
            (WallShape::Plain, vec![f64::NAN, 1.0]),
        ] {
            assert!(shape.wall(&sizes).is_err(), "{shape:?}");
        }
    }
}
