//! From ties per m² to a spacing, and the parts of an elevation that have one of their own.

use crate::elevation::{Elevation, Fix};
use crate::rules::RuleSet;
use crate::source::{Source, Sureness};
use crate::units::ANYWHERE_STEP;

/// Ties closer than this are no answer: the wall wants a stronger fixing, mm. Our own limit.
pub const CLOSEST: f64 = 200.0;

/// Spacings along the wall are whole multiples of this, mm, so that they can be marked out.
const STEP: f64 = 10.0;

/// A part of an elevation with one spacing. Parts cover the whole plane; the outer ones have no end.
#[derive(Clone, Debug, PartialEq)]
pub struct Part {
    /// Left and right limit, mm.
    pub x: (f64, f64),
    /// Lower and upper limit, mm.
    pub y: (f64, f64),
    /// Greatest spacing along the wall, mm.
    pub horizontal: f64,
    /// Greatest spacing up the wall, mm.
    pub vertical: f64,
    /// Ties per m² that the demand asks for here; 0 where the prescription governs.
    pub per_m2: f64,
    /// What it is called; empty where the whole elevation is one.
    pub name: String,
}

impl Part {
    /// The whole plane at the spacing of the rules.
    #[must_use]
    pub fn whole(rules: &RuleSet) -> Self {
        let all = (f64::NEG_INFINITY, f64::INFINITY);
        Self {
            x: all,
            y: all,
            horizontal: rules.horizontal.value,
            vertical: rules.vertical.value,
            per_m2: 0.0,
            name: String::new(),
        }
    }

    /// What it is called in a sentence.
    #[must_use]
    pub fn words(&self) -> String {
        if self.name.contains(',') { format!("zones {}", self.name) } else { format!("zone {}", self.name) }
    }

    /// Where a spacing closer than the rules' own comes from.
    #[must_use]
    pub fn source(&self) -> Source {
        Source::new("wind demand of this elevation, EN 1996-1-1:2005, 6.5", Sureness::Recomputed)
    }

    /// Whether it has the same spacing as another.
    #[must_use]
    pub fn same_spacing(&self, other: &Self) -> bool {
        self.horizontal == other.horizontal
            && self.vertical == other.vertical
            && (self.per_m2 > 0.0) == (other.per_m2 > 0.0)
    }
}

/// The widest spacing (along, up the wall, mm) no wider than the rules' own whose plain field has `per_m2`
/// ties per m²; `None` where even [`CLOSEST`] has too few.
///
/// The rows stay as far apart as they can in whole courses while the spacing along them is at least three
/// quarters of it: fewer rows are fewer heights to mark.
#[must_use]
pub fn spacing_for(per_m2: f64, elevation: &Elevation, rules: &RuleSet) -> Option<(f64, f64)> {
    let (h, v) = (rules.horizontal.value, rules.vertical.value);
    if per_m2 <= rules.grid_density() + 1e-9 {
        return Some((h, v));
    }
    let area = 1e6 / per_m2;
    let step = if elevation.coursing.fix == Fix::Anywhere { ANYWHERE_STEP } else { elevation.coursing.gauge };
    let most = ((v + 1e-6) / step).floor();
    let along = |up: f64| ((area / up + 1e-6) / STEP).floor() * STEP;
    // Higher rungs would leave less than three quarters of their height along them.
    let mut rungs = most.min(((area / 0.75).sqrt() / step).floor().max(1.0));
    while rungs >= 1.0 {
        let up = rungs * step;
        let (wide, closest) = (along(up).min(h), CLOSEST.max(rules.between.value));
        if up < closest.min(v) {
            break;
        }
        if wide >= closest && (wide >= 0.75 * up || (rungs - 1.0) * step < closest) {
            return Some((wide, up));
        }
        rungs -= 1.0;
    }
    // Courses taller than the spacing: the height of the rules stays.
    let wide = along(v).min(h);
    (most < 1.0 && wide >= CLOSEST).then_some((wide, v))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::rules::resolve;

    fn wall(gauge: f64) -> (Elevation, RuleSet) {
        let ring = vec![(0.0, 0.0), (6000.0, 0.0), (6000.0, 5000.0), (0.0, 5000.0)];
        let mut e = Elevation::new("Wall", ring);
        e.coursing.gauge = gauge;
        let rules = resolve(&e.rules).expect("the default set");
        (e, rules)
    }

    #[track_caller]
    fn case(per_m2: f64, gauge: f64, expect: Option<(f64, f64)>) {
        let (e, rules) = wall(gauge);
        assert_eq!(spacing_for(per_m2, &e, &rules), expect, "{per_m2} per m²");
    }

    #[test]
    fn spacings_by_hand() {
        // Check value 14: 900 x 450 is 2.469 per m2, 450 x 450 is 4.938.
        case(2.4, 75.0, Some((900.0, 450.0)));
        // 1/3.2 m2 by 450 mm is 694 mm, rounded down to 690.
        case(3.2, 75.0, Some((690.0, 450.0)));
        case(4.938, 75.0, Some((450.0, 450.0)));
        // 1/6 m2: by 450 it is 370, still three quarters of 450.
        case(6.0, 75.0, Some((370.0, 450.0)));
        // 1/8 m2: by 450 only 277, by 375 it is 333.
        case(8.0, 75.0, Some((330.0, 375.0)));
        // Imperial courses of 76.2: five are 381; 1/6 m2 by 381 is 437.
        case(6.0, 76.2, Some((430.0, 381.0)));
        // 1/40 m2 is 158 mm square: closer than any tie should stand.
        case(40.0, 75.0, None);
    }
}
