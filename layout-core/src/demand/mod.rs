//! How many ties the wind asks for, zone by zone, with each step shown.
//!
//! # Method
//!
//! Velocity pressure and zones by EN 1991-1-4:2005 + A1:2010 with the recommended values ([`wind`], [`walls`]),
//! or pressures that an engineer gives; ties per m² by EN 1996-1-1:2005, 6.5 ([`resistance`]); from those a
//! spacing in whole courses ([`spacing`]), never wider than the rules' own. The tighter of the two governs each
//! zone.
//!
//! Wind along the wall comes from either end, so zones A, B and C are taken from both; what governs at a place is
//! the worst of them and of zone E (wind onto the far side). Zone D presses on the whole elevation. One tie
//! carries the wind on less than 1 m², so `c_pe,1` governs. Ties near a zone's limit serve both sides of it:
//! every point of the masonry in a zone lies within half the *zone's own* spacing of a tie, whichever zone the
//! tie stands in, and the ties that serve a zone (those in it or within half its spacing of it) number at least
//! ties per m² x its masonry.
//!
//! # A worked example
//!
//! A house 8 m high, 12 m long along the elevation, 9 m deep; v_b 24 m/s, terrain III; ties of 1800 N in tension
//! and 1300 N in compression, declared; internal pressure carried by the inner leaf alone.
//!
//! 1. k_r = 0.19 (0.3/0.05)^0.07 = 0.2154; c_r = 0.2154 ln(8/0.3) = 0.7072; v_m = 0.7072 x 24 = 16.97 m/s.
//! 2. I_v = 1/ln(8/0.3) = 0.3046; q_p = (1 + 7 x 0.3046) x 0.5 x 1.25 x 16.97² = 563.9 N/m².
//! 3. Wind along the wall: e = min(9, 2 x 8) = 9 m. A reaches 9/5 = 1.8 m from each corner, B up to 9 m, which
//!    from both ends covers the rest. c_pe,1: A -1.4, B -1.1, D +1.0.
//! 4. Design pressures, x 1.5: A 1.5 x 0.5639 x 1.4 = 1.184 kN/m²; B 0.930; D 0.846.
//! 5. F_d is the smaller of 1800/3 and 1300/3: 433.3 N.
//! 6. Ties per m²: A 1184/433.3 = 2.73; B 930/433.3 = 2.15 (D asks for 1.95).
//! 7. The rules' 900 x 450 has 2.469 per m². In A the wind governs: 1/2.73 m² by 450 mm is 813 mm, rounded
//!    down to 810: 810 x 450. In B the rules govern: 900 x 450.
//!
//! `the_worked_example` in `zones.rs` holds the program to these figures.

pub mod resistance;
pub mod spacing;
mod steps;
pub mod walls;
pub mod wind;
mod zones;

pub use spacing::Part;

use crate::elevation::{Elevation, Exposure};
use crate::rules::RuleSet;
use crate::source::Source;

/// A figure on the way from the wind to the ties.
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    /// What it is, in words.
    pub what: String,
    /// How it was worked out, with its numbers.
    pub how: String,
    /// The figure.
    pub value: f64,
    /// Its unit; empty for a number alone.
    pub unit: &'static str,
    /// Where the formula or the value comes from.
    pub source: Source,
}

/// Which of the two asks for the closer spacing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Governs {
    /// The spacing of the rules.
    Prescription,
    /// The wind.
    Wind,
    /// The wind, and no spacing that can be drilled is close enough.
    TooMuch,
    /// The resistance of a tie is not known, so the spacing of the rules stands unproved.
    NotKnown,
}

impl Governs {
    /// In words.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Prescription => "rules govern",
            Self::Wind => "wind governs",
            Self::TooMuch => "too much for these ties",
            Self::NotKnown => "tie resistance not given",
        }
    }

    /// Name in results.
    #[must_use]
    pub fn id(self) -> &'static str {
        match self {
            Self::Prescription => "prescription",
            Self::Wind => "wind",
            Self::TooMuch => "too_much",
            Self::NotKnown => "not_known",
        }
    }
}

/// A zone of the elevation with one design pressure.
#[derive(Clone, Debug, PartialEq)]
pub struct DemandZone {
    /// Letter of the zone whose suction governs ("A"), "given" for pressures given by an engineer.
    pub name: String,
    /// From where to where along the wall, mm.
    pub x: (f64, f64),
    /// From where to where up the wall, mm.
    pub y: (f64, f64),
    /// Design pressure outwards, which pulls on ties, kN/m².
    pub outward: f64,
    /// Design pressure inwards, kN/m².
    pub inward: f64,
    /// Ties per m² that the pressures ask for; `None` where the resistance of a tie is not known.
    pub per_m2: Option<f64>,
    /// Spacing along the wall that governs, mm.
    pub horizontal: f64,
    /// Spacing up the wall that governs, mm.
    pub vertical: f64,
    /// Why it is that.
    pub governs: Governs,
}

/// What the wind asks for on one elevation.
#[derive(Clone, Debug, PartialEq)]
pub struct Demand {
    /// Each figure on the way.
    pub steps: Vec<Step>,
    /// The zones, from the left and from below.
    pub zones: Vec<DemandZone>,
    /// The method, with its edition.
    pub method: String,
    /// What to have confirmed by a competent engineer.
    pub cautions: Vec<String>,
    /// What was not looked at.
    pub not_checked: Vec<String>,
}

/// What came of asking.
#[derive(Clone, Debug, PartialEq)]
pub enum Assessment {
    /// Values are missing; each is named.
    Incomplete(Vec<String>),
    /// Worked out.
    Done(Box<Demand>),
}

impl Assessment {
    /// The demand, if it could be worked out.
    #[must_use]
    pub fn demand(&self) -> Option<&Demand> {
        match self {
            Self::Incomplete(_) => None,
            Self::Done(d) => Some(d),
        }
    }
}

/// Works out what the wind asks for; `None` where the elevation says nothing of the wind.
#[must_use]
pub fn assess(elevation: &Elevation, rules: &RuleSet) -> Option<Assessment> {
    let exposure = elevation.exposure.as_ref()?;
    let missing = missing(exposure);
    if !missing.is_empty() {
        return Some(Assessment::Incomplete(missing));
    }
    Some(Assessment::Done(Box::new(zones::demand(elevation, exposure, rules))))
}

/// The parts of the elevation that have a spacing of their own; one part, the whole plane at the spacing of the
/// rules, where the wind asks for nothing closer.
#[must_use]
pub fn parts(elevation: &Elevation, rules: &RuleSet) -> Vec<Part> {
    match assess(elevation, rules) {
        Some(Assessment::Done(demand)) => zones::parts(&demand, rules),
        _ => vec![Part::whole(rules)],
    }
}

/// What has to be entered before anything can be worked out.
fn missing(x: &Exposure) -> Vec<String> {
    let mut out = Vec::new();
    let mut need = |ok: bool, what: &str| {
        if !ok {
            out.push(what.to_owned());
        }
    };
    if let Some(given) = &x.given {
        need(
            (0.0..=50.0).contains(&given.outward) && (0.0..=50.0).contains(&given.inward),
            "pressures of 0 to 50 kN/m²",
        );
        need(given.outward + given.inward > 0.0, "a pressure more than 0");
    } else {
        need(x.basic_wind > 0.0 && x.basic_wind <= 100.0, "basic wind velocity, up to 100 m/s");
        need(x.height > 0.0 && x.height <= 1e6, "height of the building, mm");
        need(x.depth > 0.0 && x.depth <= 1e7, "depth of the building behind the elevation, mm");
        need((0.0..=1e7).contains(&x.length), "length of the building, mm, or 0");
        need(x.left.is_none_or(|l| l.abs() <= 1e7), "left corner of the building, mm");
        need(x.altitude.is_none_or(|a| (-500.0..=5000.0).contains(&a)), "altitude of -500 to 5000 m");
        let factor = |v: f64| v > 0.0 && v <= 10.0;
        need(
            factor(x.direction) && factor(x.season),
            "directional and seasonal factors, above 0 and at most 10",
        );
        need(factor(x.orography), "orography factor, above 0 and at most 10");
        need(x.load_factor >= 1.0 && x.load_factor <= 10.0, "partial factor for the wind, 1 to 10");
    }
    need(x.gamma_m >= 1.0 && x.gamma_m <= 20.0, "partial factor for the ties, 1 to 20");
    if let Some(tie) = &x.resistance {
        let usable = |v: f64| v > 0.0 && v <= 1e6;
        need(usable(tie.tension) && usable(tie.compression), "tension and compression of a tie, N, above 0");
    }
    out
}
