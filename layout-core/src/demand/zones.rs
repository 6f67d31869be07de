//! Zones of one elevation: pressures, ties per m², spacing.

use super::resistance::{design_resistance, ties_needed};
use super::spacing::{Part, spacing_for};
use super::steps::{self, Sums};
use super::walls::{WallZone, coefficient_for, reference_heights, zone_length, zone_widths};
use super::wind::{altitude_factor, wind_at};
use super::{Demand, DemandZone, Governs};
use crate::elevation::{Elevation, Exposure, InternalPressure, TieResistance};
use crate::rules::RuleSet;
use crate::testing::lowest_failed;
use crate::units::m2;

/// Internal pressure coefficients where the openings are not known: 7.2.9 (6), note 2.
const INSIDE: (f64, f64) = (0.2, -0.3);

/// An elevation that would have more ties than this is beyond what can be set out.
const MOST_TIES: f64 = 50_000.0;

pub(super) fn demand(elevation: &Elevation, x: &Exposure, rules: &RuleSet) -> Demand {
    let bounds = bounds(elevation);
    let resistance = Resistance::of(elevation, x);
    let mut sums = Sums::default();
    let blank = |name: &str, x, y, outward, inward| DemandZone {
        name: name.to_owned(),
        x,
        y,
        outward,
        inward,
        per_m2: None,
        horizontal: rules.horizontal.value,
        vertical: rules.vertical.value,
        governs: Governs::NotKnown,
    };
    let mut zones = if let Some(given) = &x.given {
        steps::given(&mut sums, given);
        vec![blank("given", (bounds.0, bounds.2), (bounds.1, bounds.3), given.outward, given.inward)]
    } else {
        let building = Building::new(x, bounds);
        let mut zones = Vec::new();
        for (low, high, onto) in building.heights(x, &mut sums) {
            for (name, from, to) in building.bands() {
                let (outward, inward) = building.design(x, name, onto);
                zones.push(blank(name.letter(), (from, to), (low, high), outward, inward));
            }
        }
        steps::coefficients(&mut sums, x, &building, &zones);
        zones
    };
    if let Some(r) = &resistance {
        steps::resistance(&mut sums, r, x);
        let area = m2((bounds.2 - bounds.0).max(0.0) * (bounds.3 - bounds.1).max(0.0));
        for zone in &mut zones {
            space(zone, r.design, elevation, rules, area);
        }
    }
    steps::needed(&mut sums, &zones, resistance.as_ref().map(|r| r.design), rules);
    let cautions = steps::cautions(elevation, x, resistance.as_ref(), &zones);
    Demand {
        steps: sums.steps,
        zones,
        method: steps::method(x).to_owned(),
        cautions,
        not_checked: steps::not_checked(x),
    }
}

/// Ties per m² and spacing of a zone.
fn space(zone: &mut DemandZone, resistance: f64, elevation: &Elevation, rules: &RuleSet, area: f64) {
    let per_m2 = ties_needed(zone.outward.max(zone.inward), resistance);
    zone.per_m2 = Some(per_m2);
    let prescribed = (rules.horizontal.value, rules.vertical.value);
    match spacing_for(per_m2, elevation, rules).filter(|(h, v)| area * 1e6 / (h * v) <= MOST_TIES) {
        Some(spacing) if spacing == prescribed => zone.governs = Governs::Prescription,
        Some((h, v)) => {
            (zone.horizontal, zone.vertical) = (h, v);
            zone.governs = Governs::Wind;
        }
        None => zone.governs = Governs::TooMuch,
    }
}

/// What one tie carries.
pub(super) struct Resistance {
    /// Characteristic tension and compression, N, tests taken into account.
    pub tension: f64,
    pub compression: f64,
    /// Lowest load at which a tested tie failed, N, where that is less than declared.
    pub tested: Option<f64>,
    /// Design value, N: the smaller of the two.
    pub design: f64,
    /// Where the values come from.
    pub source: String,
}

impl Resistance {
    fn of(elevation: &Elevation, x: &Exposure) -> Option<Self> {
        let tie = x.resistance.clone().or_else(|| declared(elevation))?;
        let tested = lowest_failed(elevation).filter(|&load| load < tie.tension.min(tie.compression));
        // A tie that slips in tension is not trusted further in compression.
        let limit = tested.unwrap_or(f64::INFINITY).max(1.0);
        let (tension, compression) = (tie.tension.min(limit), tie.compression.min(limit));
        let design = design_resistance(tension.min(compression), x.gamma_m);
        Some(Self { tension, compression, tested, design, source: tie.source })
    }
}

/// What the fixing chosen for the elevation declares, where it declares both.
fn declared(elevation: &Elevation) -> Option<TieResistance> {
    let s = elevation.substrate.as_ref()?;
    let f = s.declared.iter().find(|f| f.name == s.fixing && f.tension > 0.0 && f.compression > 0.0)?;
    let usable = |v: f64| v.is_finite() && v <= 1e6;
    (usable(f.tension) && usable(f.compression)).then(|| TieResistance {
        tension: f.tension,
        compression: f.compression,
        source: if f.source.is_empty() { String::new() } else { format!("{}: {}", f.name, f.source) },
    })
}

/// The building as the wind sees it from this elevation. Lengths in m but `left` and `right`.
pub(super) struct Building {
    pub height: f64,
    pub length: f64,
    pub depth: f64,
    /// Corners of the building on the elevation, mm.
    left: f64,
    right: f64,
    bounds: (f64, f64, f64, f64),
    /// Velocity pressure at the top, kN/m².
    pub top: f64,
    /// Basic wind velocity with its factors and the altitude, m/s.
    pub basic: f64,
}

impl Building {
    fn new(x: &Exposure, bounds: (f64, f64, f64, f64)) -> Self {
        let length = if x.length > 0.0 { x.length } else { (bounds.2 - bounds.0).max(1.0) };
        let left = x.left.unwrap_or(bounds.0);
        let height = x.height / 1000.0;
        let altitude = x.altitude.map_or(1.0, |a| altitude_factor(a, height));
        let basic = x.direction * x.season * x.basic_wind * altitude;
        let top = wind_at(basic, x.terrain, x.orography, height).peak / 1000.0;
        Self {
            height,
            length: length / 1000.0,
            depth: x.depth / 1000.0,
            left,
            right: left + length,
            bounds,
            top,
            basic,
        }
    }

    /// `e` for wind along the wall, m.
    pub(super) fn zone_length(&self) -> f64 {
        zone_length(self.depth, self.height)
    }

    /// Widths of A, B and C for wind along the wall, m.
    pub(super) fn widths(&self) -> [f64; 3] {
        zone_widths(self.zone_length(), self.length)
    }

    /// Height over depth, for wind onto the wall.
    pub(super) fn slenderness(&self) -> f64 {
        self.height / self.depth
    }

    /// Strips of the elevation from below, each with its limits, mm, and the velocity pressure of wind onto
    /// it, kN/m².
    fn heights(&self, x: &Exposure, sums: &mut Sums) -> Vec<(f64, f64, f64)> {
        steps::wind(sums, x, self);
        let all = reference_heights(self.height, self.length);
        let mut out = Vec::new();
        let (mut low, top) = (self.bounds.1, self.bounds.3);
        for (i, z) in all.iter().enumerate() {
            let high = if i + 1 == all.len() { top } else { (z * 1000.0).min(top) };
            if high > low {
                let pressure = wind_at(self.basic, x.terrain, x.orography, *z).peak / 1000.0;
                out.push((low, high, pressure));
                low = high;
            }
        }
        if all.len() > 1 {
            steps::strips(sums, self, &all);
        }
        if out.is_empty() {
            out.push((self.bounds.1, top, self.top));
        }
        out
    }

    /// Zones for wind along the wall, the worse of both directions, from the left, mm.
    fn bands(&self) -> Vec<(WallZone, f64, f64)> {
        let [a, b, _] = self.widths().map(|w| w * 1000.0);
        let of = |from_end: f64| {
            if from_end < a {
                WallZone::A
            } else if from_end < a + b {
                WallZone::B
            } else {
                WallZone::C
            }
        };
        let mut cuts = vec![self.bounds.0, self.bounds.2];
        for end in [a, a + b] {
            cuts.extend([self.left + end, self.right - end]);
        }
        cuts.retain(|c| (self.bounds.0..=self.bounds.2).contains(c));
        cuts.sort_by(f64::total_cmp);
        let mut out: Vec<(WallZone, f64, f64)> = Vec::new();
        for pair in cuts.windows(2).filter(|p| p[1] - p[0] > 1e-6) {
            let middle = f64::midpoint(pair[0], pair[1]);
            // Beyond a corner of the building, as at the corner.
            let zone = of((middle - self.left).min(self.right - middle));
            match out.last_mut() {
                Some(last) if last.0 == zone => last.2 = pair[1],
                _ => out.push((zone, pair[0], pair[1])),
            }
        }
        out
    }

    /// Design pressures outwards and inwards, kN/m², at a zone with velocity pressure `onto` for wind onto it.
    fn design(&self, x: &Exposure, zone: WallZone, onto: f64) -> (f64, f64) {
        let (inside_out, inside_in) = inside(x.internal);
        let of = |z| coefficient_for(z, self.slenderness(), 0.4);
        let suction = of(zone).abs().max(of(WallZone::E).abs()) + inside_out;
        let pressure = of(WallZone::D) - inside_in;
        (x.load_factor * self.top * suction, x.load_factor * onto * pressure)
    }
}

/// Internal pressure coefficients, outwards and inwards.
pub(super) fn inside(internal: InternalPressure) -> (f64, f64) {
    match internal {
        InternalPressure::Unknown => INSIDE,
        InternalPressure::InnerLeafAlone => (0.0, 0.0),
    }
}

/// Left, lower, right, upper bound of the outline; a point where nothing is drawn.
fn bounds(e: &Elevation) -> (f64, f64, f64, f64) {
    let b = e
        .outline
        .iter()
        .filter(|p| p.0.is_finite() && p.1.is_finite())
        .fold((f64::INFINITY, f64::INFINITY, f64::NEG_INFINITY, f64::NEG_INFINITY), |b, p| {
            (b.0.min(p.0), b.1.min(p.1), b.2.max(p.0), b.3.max(p.1))
        });
    if b.0.is_finite() { b } else { (0.0, 0.0, 0.0, 0.0) }
}

/// The parts that zones make: neighbours of one spacing are one part; outer limits have no end.
pub(super) fn parts(demand: &Demand, rules: &RuleSet) -> Vec<Part> {
    let zones = &demand.zones;
    if zones.iter().all(|z| matches!(z.governs, Governs::Prescription | Governs::NotKnown)) {
        return vec![Part::whole(rules)];
    }
    let limits = |of: fn(&DemandZone) -> (f64, f64)| {
        zones.iter().map(of).fold((f64::INFINITY, f64::NEG_INFINITY), |a, b| (a.0.min(b.0), a.1.max(b.1)))
    };
    let (whole_x, whole_y) = (limits(|z| z.x), limits(|z| z.y));
    let open = |(from, to): (f64, f64), whole: (f64, f64)| {
        let from = if from <= whole.0 { f64::NEG_INFINITY } else { from };
        (from, if to >= whole.1 { f64::INFINITY } else { to })
    };
    let mut out: Vec<Part> = Vec::new();
    for z in zones {
        let governed = matches!(z.governs, Governs::Wind | Governs::TooMuch);
        let part = Part {
            x: open(z.x, whole_x),
            y: open(z.y, whole_y),
            horizontal: z.horizontal,
            vertical: z.vertical,
            per_m2: if governed { z.per_m2.unwrap_or(0.0) } else { 0.0 },
            name: z.name.clone(),
        };
        let joins = |o: &&mut Part| o.y == part.y && o.x.1 == part.x.0 && o.same_spacing(&part);
        match out.iter_mut().find(joins) {
            Some(o) => {
                o.x.1 = part.x.1;
                o.per_m2 = o.per_m2.max(part.per_m2);
                if !o.name.contains(&part.name) {
                    o.name = format!("{}, {}", o.name, part.name);
                }
            }
            None => out.push(part),
        }
    }
    upwards(out)
}

/// Parts above each other of one width and spacing put together.
fn upwards(parts: Vec<Part>) -> Vec<Part> {
    let mut out: Vec<Part> = Vec::new();
    for part in parts {
        let joins = |o: &&mut Part| o.x == part.x && o.y.1 == part.y.0 && o.same_spacing(&part);
        match out.iter_mut().find(joins) {
            Some(o) => {
                o.y.1 = part.y.1;
                o.per_m2 = o.per_m2.max(part.per_m2);
            }
            None => out.push(part),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::super::{Assessment, assess};
    use super::*;
    use crate::elevation::{GivenPressure, Terrain};
    use crate::rules::resolve;

    fn house() -> Elevation {
        let ring = vec![(0.0, 0.0), (12_000.0, 0.0), (12_000.0, 5_250.0), (0.0, 5_250.0)];
        let mut e = Elevation::new("Front", ring);
        e.exposure = Some(Exposure {
            basic_wind: 24.0,
            terrain: Terrain::III,
            height: 8_000.0,
            depth: 9_000.0,
            internal: InternalPressure::InnerLeafAlone,
            resistance: Some(TieResistance {
                tension: 1800.0,
                compression: 1300.0,
                source: "declaration of performance".to_owned(),
            }),
            ..Exposure::default()
        });
        e
    }

    #[track_caller]
    fn done(e: &Elevation) -> Demand {
        let rules = resolve(&e.rules).expect("a known set");
        match assess(e, &rules) {
            Some(Assessment::Done(d)) => *d,
            other => panic!("not worked out: {other:?}"),
        }
    }

    #[track_caller]
    fn near(got: f64, expect: f64, within: f64) {
        assert!((got - expect).abs() <= within, "{got}, expected {expect}");
    }

    #[test]
    fn the_worked_example() {
        // Worked by hand at the head of this module's folder.
        let d = done(&house());
        let names: Vec<&str> = d.zones.iter().map(|z| z.name.as_str()).collect();
        assert_eq!(names, ["A", "B", "A"]);
        let limits: Vec<(f64, f64)> = d.zones.iter().map(|z| z.x).collect();
        assert_eq!(limits, [(0.0, 1800.0), (1800.0, 10_200.0), (10_200.0, 12_000.0)]);
        // Figures by hand are good to four places.
        near(d.zones[0].outward, 1.184, 0.001);
        near(d.zones[1].outward, 0.930, 0.001);
        near(d.zones[0].inward, 0.846, 0.001);
        near(d.zones[0].per_m2.unwrap_or(0.0), 2.73, 0.01);
        near(d.zones[1].per_m2.unwrap_or(0.0), 2.15, 0.01);
        let a = &d.zones[0];
        assert_eq!((a.horizontal, a.vertical, a.governs), (810.0, 450.0, Governs::Wind));
        let b = &d.zones[1];
        assert_eq!((b.horizontal, b.vertical, b.governs), (900.0, 450.0, Governs::Prescription));
    }

    #[test]
    fn internal_pressure_adds_to_the_suction() {
        let mut e = house();
        if let Some(x) = &mut e.exposure {
            x.internal = InternalPressure::Unknown;
        }
        // 1.5 x 0.5639 x (1.4 + 0.2) and x (1.0 + 0.3).
        let d = done(&e);
        near(d.zones[0].outward, 1.353, 0.001);
        near(d.zones[0].inward, 1.100, 0.001);
    }

    #[test]
    fn an_elevation_in_the_middle_of_a_terrace_has_no_corner() {
        let mut e = house();
        if let Some(x) = &mut e.exposure {
            x.length = 60_000.0;
            x.left = Some(-24_000.0);
        }
        // The ends are 24 m off; e = 9: all of it is C, where E with -0.5 + ... is no worse: h/d 0.889 has
        // -0.5 + 0.2 x 0.111/0.75 = -0.470.
        let d = done(&e);
        assert_eq!(d.zones.len(), 1);
        assert_eq!(d.zones[0].name, "C");
        near(d.zones[0].outward, 1.5 * 0.5639 * 0.5, 0.001);
    }

    #[test]
    fn a_tower_is_pressed_harder_above() {
        let mut e = house();
        e.outline = vec![(0.0, 0.0), (10_000.0, 0.0), (10_000.0, 18_000.0), (0.0, 18_000.0)];
        if let Some(x) = &mut e.exposure {
            x.height = 18_000.0;
            x.depth = 10_000.0;
        }
        // b 10, h 18: two parts, up to 10 m and above; suction is that of the top all over.
        let d = done(&e);
        let heights: Vec<(f64, f64)> = d.zones.iter().map(|z| z.y).collect();
        assert!(heights.contains(&(0.0, 10_000.0)) && heights.contains(&(10_000.0, 18_000.0)));
        let (low, high) = (&d.zones[0], d.zones.last().expect("zones"));
        assert!(low.inward < high.inward && low.outward == high.outward);
    }

    #[test]
    fn a_given_pressure_is_one_zone() {
        // Check value 13 on an elevation: 1.80 kN/m2 given, type 2: 4.15 per m2; 1/4.154 m2 by 450 is 535.
        let mut e = house();
        if let Some(x) = &mut e.exposure {
            x.given = Some(GivenPressure { outward: 1.8, inward: 0.9, source: "letter".to_owned() });
        }
        let d = done(&e);
        assert_eq!(d.zones.len(), 1);
        near(d.zones[0].per_m2.unwrap_or(0.0), 4.15, 0.005 * 4.15);
        assert_eq!((d.zones[0].horizontal, d.zones[0].vertical), (530.0, 450.0));
    }

    #[test]
    fn without_a_resistance_nothing_is_proved() {
        let mut e = house();
        if let Some(x) = &mut e.exposure {
            x.resistance = None;
        }
        let d = done(&e);
        assert!(d.zones.iter().all(|z| z.governs == Governs::NotKnown && z.per_m2.is_none()));
        assert!(d.cautions.iter().any(|c| c.contains("resistance")));
        let rules = resolve(&e.rules).expect("a known set");
        assert_eq!(parts(&d, &rules), [Part::whole(&rules)]);
    }

    #[test]
    fn what_is_missing_is_named() {
        let mut e = house();
        e.exposure = Some(Exposure::default());
        let rules = resolve(&e.rules).expect("a known set");
        let Some(Assessment::Incomplete(missing)) = assess(&e, &rules) else { panic!("incomplete") };
        assert!(missing.iter().any(|m| m.contains("wind velocity")) && missing.len() >= 3, "{missing:?}");
        e.exposure = None;
        assert_eq!(assess(&e, &rules), None);
    }

    #[test]
    fn parts_of_one_spacing_are_one() {
        let e = house();
        let rules = resolve(&e.rules).expect("a known set");
        let parts = parts(&done(&e), &rules);
        let limits: Vec<(f64, f64)> = parts.iter().map(|p| p.x).collect();
        let (low, high) = (f64::NEG_INFINITY, f64::INFINITY);
        assert_eq!(limits, [(low, 1800.0), (1800.0, 10_200.0), (10_200.0, high)]);
        assert!(parts.iter().all(|p| p.y == (low, high)));
    }
}
