//! What ties carry and how many of them a pressure asks for: EN 1996-1-1:2005, 6.5.

use crate::source::{
    Sourced,
    Sureness::{FromMemory, Published},
};

/// A type of tie of PD 6697 with its characteristic resistance.
#[derive(Clone, Debug, PartialEq)]
pub struct TieType {
    /// Number of the type.
    pub number: u8,
    /// Characteristic tension, N.
    pub tension: Sourced<f64>,
    /// Characteristic compression, N.
    pub compression: Sourced<f64>,
}

/// The types of PD 6697, for comparison and for walls whose ties are declared by type.
#[must_use]
pub fn published_types() -> Vec<TieType> {
    let memory = "PD 6697, DD 140-2";
    let seen = "PD 6697 Table 12, mortar M2, as used in Masonry Design Note 4";
    let one = |number, tension, compression, document: &str, sureness| TieType {
        number,
        tension: Sourced::new(tension, document, sureness),
        compression: Sourced::new(compression, document, sureness),
    };
    vec![
        one(1, 2500.0, 2500.0, memory, FromMemory),
        one(2, 1800.0, 1300.0, seen, Published),
        one(3, 1100.0, 750.0, memory, FromMemory),
        one(4, 650.0, 450.0, memory, FromMemory),
    ]
}

/// Design resistance of one tie, N: characteristic by the partial factor.
#[must_use]
pub fn design_resistance(characteristic: f64, gamma_m: f64) -> f64 {
    characteristic / gamma_m
}

/// Ties per m² that a design pressure (kN/m²) asks for, each with a design resistance (N): (6.21).
#[must_use]
pub fn ties_needed(pressure: f64, resistance: f64) -> f64 {
    pressure * 1000.0 / resistance
}

/// Design load of one tie of a plain field of `h` x `v` mm under a pressure, N.
#[must_use]
pub fn load_of_tie(pressure: f64, h: f64, v: f64) -> f64 {
    pressure * 1000.0 * h * v / 1e6
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_published_design_note() {
        // Check value 12, Masonry Design Note 4: type 2, gamma 3.0, 2.5 per m2: 1.50 and 1.08 kN/m2.
        let types = published_types();
        let two = types.iter().find(|t| t.number == 2).expect("type 2");
        let (t, c) =
            (design_resistance(two.tension.value, 3.0), design_resistance(two.compression.value, 3.0));
        assert!((t * 2.5 / 1000.0 - 1.50).abs() < 0.005 * 1.5);
        assert!((c * 2.5 / 1000.0 - 1.08).abs() < 0.005 * 1.08);
        // Check value 13, from it: W_Ed 1.80 kN/m2 needs 3.00 and 4.15 per m2.
        assert!((ties_needed(1.80, t) - 3.00).abs() < 0.005 * 3.0);
        assert!((ties_needed(1.80, c) - 4.15).abs() < 0.005 * 4.15);
    }

    #[test]
    fn an_australian_worked_number() {
        // Check value 15, public worked numbers for AS 3700: 1.21 kPa x 0.65 x 2 on 600 x 600: 566 N; on
        // 600 x 450: 424 N.
        assert!((load_of_tie(1.21 * 0.65 * 2.0, 600.0, 600.0) - 566.0).abs() < 1.0);
        assert!((load_of_tie(1.21 * 0.65 * 2.0, 600.0, 450.0) - 424.0).abs() < 1.0);
    }
}
