//! What each tie serves and what no tie does, as areas to be shown: the very answer that rule 1 is checked by.

use super::coverage::{open, reach_of};
use super::gaps::Gap;
use super::served::areas_of;
use super::{Subject, subject};
use crate::elevation::{Elevation, Point};
use crate::masonry::Masonry;
use crate::rules::RuleSet;
use crate::units::SLIVER;

/// A trapezoid with level sides, mm: lower left, lower right, upper right, upper left.
pub type Trapezoid = [Point; 4];

/// The areas of a layout.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Areas {
    /// For each tie the masonry that it serves, at the spacing that holds there. Nothing for a tie that stands on no
    /// masonry.
    pub served: Vec<Vec<Trapezoid>>,
    /// The masonry that no tie serves; slivers in which no square of 4 mm fits are left out, as in the rule.
    pub unserved: Vec<Trapezoid>,
}

/// What each of `ties` (mm) serves of the masonry of an elevation that can be used, and what none does.
#[must_use]
pub fn areas(elevation: &Elevation, rules: &RuleSet, ties: &[Point]) -> Areas {
    let masonry = Masonry::new(elevation);
    let old_ties: Vec<Point> = elevation.existing_ties.iter().map(|t| t.at).collect();
    let s = subject(elevation, &masonry, rules, ties, &old_ties);
    Areas { served: served(&s), unserved: unserved(&s) }
}

fn served(s: &Subject<'_>) -> Vec<Vec<Trapezoid>> {
    let mut all = vec![Vec::new(); s.ties.len()];
    for part in &s.parts {
        let within = (s.parts.len() > 1).then_some((part.x, part.y));
        let holding = s.stands.iter().map(|stand| stand.holds);
        areas_of(&s.masonry.bays, s.ties, holding, reach_of(part), within, |tie, gap| {
            all[tie].push(corners(&gap));
        });
    }
    all
}

fn unserved(s: &Subject<'_>) -> Vec<Trapezoid> {
    let pieces = s.parts.iter().flat_map(|part| open(s, part)).filter(|p| p.takes_square(SLIVER));
    pieces.flat_map(|p| p.gaps().iter().map(corners).collect::<Vec<_>>()).collect()
}

fn corners(g: &Gap) -> Trapezoid {
    [(g.l0, g.y0), (g.r0, g.y0), (g.r1, g.y1), (g.l1, g.y1)]
}

#[cfg(test)]
mod tests {
    use super::super::testing::wall;
    use super::*;
    use crate::elevation::{Exposure, GivenPressure, MovementJoint, Opening, Shape, TieResistance};
    use crate::rules::resolve;

    fn of(e: &Elevation, ties: &[Point]) -> Areas {
        areas(e, &resolve(&e.rules).expect("rules"), ties)
    }

    fn mm2(all: &[Trapezoid]) -> f64 {
        all.iter().map(|t| (t[1].0 - t[0].0 + t[2].0 - t[3].0) / 2.0 * (t[2].1 - t[1].1)).sum()
    }

    const GRID: [Point; 4] = [(450., 225.), (1350., 225.), (450., 675.), (1350., 675.)];

    #[test]
    fn on_a_plain_wall_each_serves_its_rectangle() {
        let got = of(&wall(), &GRID);
        // 900 x 450 each, of a wall of 1800 x 900.
        assert!(got.served.iter().all(|s| (mm2(s) - 405_000.0).abs() < 1e-6));
        assert!(got.unserved.is_empty());
        assert_eq!(got.served[0], [[(0., 0.), (900., 0.), (900., 450.), (0., 450.)]]);
    }

    #[test]
    fn a_joint_and_an_opening_end_what_is_served() {
        let mut e = wall();
        e.movement_joints.push(MovementJoint { x: 800., from: 0., to: 900. });
        let shape = Shape::Rect { x: 1000., y: 0., w: 200., h: 450. };
        e.openings.push(Opening { name: "Slot".into(), shape });
        let got = of(&e, &GRID);
        // The ties at 450 serve 0 to 800; the lower one at 1350 only what is right of the slot, 1200 to 1800.
        for (tie, mm) in [(0, 800. * 450.), (2, 800. * 450.), (1, 600. * 450.), (3, 900. * 450.)] {
            assert!((mm2(&got.served[tie]) - mm).abs() < 1e-6, "tie {tie}: {}", mm2(&got.served[tie]));
        }
        // 800 to 900 all the way up, and 900 to 1000 beside the slot.
        assert!((mm2(&got.unserved) - (100. * 900. + 100. * 450.)).abs() < 1e-6, "{:?}", got.unserved);
    }

    #[test]
    fn a_tie_off_the_masonry_serves_nothing() {
        let got = of(&wall(), &[(450., 225.), (-50., 225.)]);
        assert!(got.served[1].is_empty());
        assert!((mm2(&got.unserved) - (1_620_000.0 - 405_000.0)).abs() < 1e-6);
    }

    #[test]
    fn a_wide_wall_is_not_cut_into_bays() {
        // 44 x 900 wide, as the rule's own test: the tie at 13 050 serves across the cut at 13 200.
        let e = Elevation::new("Long", vec![(0., 0.), (39_600., 0.), (39_600., 450.), (0., 450.)]);
        let ties: Vec<Point> = (0..44).map(|i| (450. + 900. * f64::from(i), 225.)).collect();
        let got = of(&e, &ties);
        assert!(got.served.iter().all(|s| (mm2(s) - 405_000.0).abs() < 1e-6));
        assert!(got.unserved.is_empty());
    }

    #[test]
    fn where_the_wind_asks_for_more_each_serves_less() {
        let mut e = wall();
        // 3 kN/m² either way and 1500 N a tie over 3: 500 N, so 6 ties per m².
        e.exposure = Some(Exposure {
            given: Some(GivenPressure { outward: 3.0, inward: 3.0, source: "letter".into() }),
            resistance: Some(TieResistance { tension: 1500., compression: 1500., source: "test".into() }),
            gamma_m: 3.0,
            ..Exposure::default()
        });
        let got = of(&e, &[(900., 450.)]);
        // No more than a sixth of a square metre; what is left is open.
        let one = mm2(&got.served[0]);
        assert!(one > 100_000. && one < 1e6 / 6. + 1., "{one}");
        assert!((one + mm2(&got.unserved) - 1_620_000.0).abs() < 1e-3);
    }
}
