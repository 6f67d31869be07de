//! The velocity pressure of the wind by EN 1991-1-4:2005 + A1:2010, recommended values.

use crate::elevation::Terrain;

/// Density of air, kg/m³, clause 4.5 (1), recommended.
pub const AIR: f64 = 1.25;

/// Turbulence factor `k_I`, clause 4.4 (1), recommended.
const TURBULENCE: f64 = 1.0;

/// Above this height the method does not hold, m (clause 4.3.2).
pub const HIGHEST: f64 = 200.0;

/// Roughness length `z_0` and least height `z_min` of a terrain, m: Table 4.1.
#[must_use]
pub fn roughness(terrain: Terrain) -> (f64, f64) {
    match terrain {
        Terrain::Sea => (0.003, 1.0),
        Terrain::I => (0.01, 1.0),
        Terrain::II => (0.05, 2.0),
        Terrain::III => (0.3, 5.0),
        Terrain::IV => (1.0, 10.0),
    }
}

/// Wind at a height, with what it was worked out from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WindAt {
    /// Height it is worked out at, m: the height asked for, or `z_min` of the terrain if that is more.
    pub z: f64,
    /// Terrain factor `k_r`.
    pub terrain_factor: f64,
    /// Roughness factor `c_r`.
    pub roughness_factor: f64,
    /// Mean wind velocity `v_m`, m/s.
    pub mean: f64,
    /// Turbulence intensity `I_v`.
    pub turbulence: f64,
    /// Peak velocity pressure `q_p`, N/m².
    pub peak: f64,
}

/// The wind at height `z` (m) for a basic wind velocity (m/s), a terrain and an orography factor.
///
/// Clauses 4.3.1 to 4.5: `k_r = 0.19 (z0/0.05)^0.07`, `c_r = k_r ln(z/z0)`, `v_m = c_r c_o v_b`,
/// `I_v = k_I / (c_o ln(z/z0))`, `q_p = (1 + 7 I_v) ρ/2 v_m²`.
///
/// # Assumptions
///
/// `z` at most [`HIGHEST`]: above it the figure is no more than a continuation of the formula.
#[must_use]
pub fn wind_at(basic: f64, terrain: Terrain, orography: f64, z: f64) -> WindAt {
    let (z0, z_min) = roughness(terrain);
    let z = z.max(z_min);
    let terrain_factor = 0.19 * (z0 / 0.05_f64).powf(0.07);
    let log = (z / z0).ln();
    let roughness_factor = terrain_factor * log;
    let mean = roughness_factor * orography * basic;
    let turbulence = TURBULENCE / (orography * log);
    let peak = (1.0 + 7.0 * turbulence) * 0.5 * AIR * mean * mean;
    WindAt { z, terrain_factor, roughness_factor, mean, turbulence, peak }
}

/// The altitude factor of the UK annex for a site `altitude` m above the sea at height `z` m.
///
/// `1 + 0.001 A (10/z)^0.2` from 10 m up; below that `1 + 0.001 A`.
#[must_use]
pub fn altitude_factor(altitude: f64, z: f64) -> f64 {
    1.0 + 0.001 * altitude * if z >= 10.0 { (10.0 / z).powf(0.2) } else { 1.0 }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn near(got: f64, expect: f64, share: f64) {
        assert!((got - expect).abs() <= share * expect.abs(), "{got}, expected {expect} within {share}");
    }

    #[test]
    fn the_published_example_of_a_single_storey_hall() {
        // Check value 1. Steel Buildings in Europe, single-storey buildings, part 3, wind example:
        // v_b 26 m/s, terrain III, z 8 m. It rounds c_r before it squares it: 659 for 661.8, so 0.6 %.
        let w = wind_at(26.0, Terrain::III, 1.0, 8.0);
        near(0.5 * AIR * 26.0 * 26.0, 422.5, 1e-9);
        near(w.terrain_factor, 0.215, 0.006);
        near(w.roughness_factor, 0.706, 0.006);
        near(w.peak / 422.5, 1.56, 0.006);
        near(w.peak, 659.0, 0.006);
        near(w.peak, 661.8, 0.0006);
    }

    #[test]
    fn public_worked_sheets() {
        // Check value 3: sheet scribd 714265932; figures there are rounded to two places: 1 %.
        let w = wind_at(22.0, Terrain::III, 1.0, 13.48);
        near(w.roughness_factor, 0.82, 0.01);
        near(w.mean, 18.0, 0.01);
        near(w.turbulence, 0.263, 0.01);
        near(w.peak, 580.0, 0.01);
        // Check value 5: sheet scribd 156788976.
        let w = wind_at(25.0, Terrain::Sea, 1.0, 77.36);
        near(w.roughness_factor, 1.585, 0.002);
        near(w.mean, 39.62, 0.002);
        near(w.peak, 1658.0, 0.002);
        // I_v is printed with two figures: 0.098.
        assert!((w.turbulence - 0.098).abs() < 0.0005);
        let w = wind_at(25.0, Terrain::Sea, 1.0, 28.0);
        near(w.roughness_factor, 1.426, 0.002);
        near(w.peak, 1403.0, 0.002);
        // Check value 8: sheet scribd 797462041.
        let w = wind_at(22.0, Terrain::III, 1.0, 7.02);
        near(w.turbulence, 0.31718, 0.002);
        near(w.peak, 449.0, 0.002);
    }

    #[test]
    fn below_the_least_height_the_wind_is_that_of_the_least_height() {
        // Check value 7: sheet studylib 25969297: v_b 26, terrain IV, 9 m is taken as 10 m.
        let w = wind_at(26.0, Terrain::IV, 1.0, 9.0);
        near(w.peak, 497.0, 0.005);
        assert_eq!((w.z, w), (10.0, wind_at(26.0, Terrain::IV, 1.0, 10.0)));
    }

    #[test]
    fn a_published_sheet_that_forgets_to_square_is_not_followed() {
        // Check value 9, recomputed: v_b 40.9, terrain I, z 5: k_r 0.16974, ln(500) 6.2146, c_r 1.0549,
        // v_m 43.145, I_v 0.16091; (1 + 1.12638) x 0.625 x 1861.5 = 2474 N/m². A published sheet multiplies
        // by c_r once instead of squaring it and prints 2345.
        let peak = wind_at(40.9, Terrain::I, 1.0, 5.0).peak;
        near(peak, 2474.0, 0.002);
        assert!((peak - 2345.0).abs() > 100.0);
    }

    #[test]
    fn altitude_by_hand() {
        // 200 m above the sea: below 10 m 1.2; at 20 m 1 + 0.2 x 0.5^0.2 = 1 + 0.2 x 0.87055.
        near(altitude_factor(200.0, 8.0), 1.2, 1e-9);
        near(altitude_factor(200.0, 10.0), 1.2, 1e-9);
        near(altitude_factor(200.0, 20.0), 1.17411, 1e-5);
    }
}
