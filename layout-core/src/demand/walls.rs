//! Pressure coefficients of upright walls of a building with a rectangular plan: EN 1991-1-4, 7.2.2.

/// A zone of the walls.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum WallZone {
    /// At the corner, wind along the wall.
    A,
    /// Next to A, wind along the wall.
    B,
    /// The rest, wind along the wall.
    C,
    /// Wind onto the wall.
    D,
    /// Wind onto the opposite wall.
    E,
}

impl WallZone {
    /// Its letter.
    #[must_use]
    pub fn letter(self) -> &'static str {
        match self {
            Self::A => "A",
            Self::B => "B",
            Self::C => "C",
            Self::D => "D",
            Self::E => "E",
        }
    }
}

/// The length `e` that zones are measured by: the lesser of the breadth across the wind and twice the height.
/// Any unit, the same for all.
#[must_use]
pub fn zone_length(breadth: f64, height: f64) -> f64 {
    breadth.min(2.0 * height)
}

/// Widths of zones A, B and C on a wall of depth `d` along the wind, from the upwind corner, Figure 7.5.
#[must_use]
pub fn zone_widths(e: f64, d: f64) -> [f64; 3] {
    if e >= 5.0 * d {
        return [d, 0.0, 0.0];
    }
    let a = e / 5.0;
    let b = if e < d { e - a } else { d - a };
    [a, b, (d - e).max(0.0)]
}

/// Reference heights of a windward wall from below, each with the height its strip reaches up to, Figure 7.4;
/// for a building of height `h` and breadth `b` across the wind, in one unit.
///
/// One part where h <= b; two where b < h <= 2b; a lower part, strips of at most b/2 and an upper part beyond.
#[must_use]
pub fn reference_heights(h: f64, b: f64) -> Vec<f64> {
    if h <= b {
        return vec![h];
    }
    if h <= 2.0 * b {
        return vec![b, h];
    }
    let between = h - 2.0 * b;
    // A chimney of a building needs no thousand strips: the upper ones are alike.
    let strips = (between / (b / 2.0)).ceil().clamp(1.0, 50.0);
    let mut all = vec![b];
    all.extend((1..=strips as usize).map(|i| b + between * i as f64 / strips));
    all.push(h);
    all
}

/// `c_pe,10` and `c_pe,1` of a zone, Table 7.1; between the given h/d linear, beyond them the last.
#[must_use]
pub fn coefficients(zone: WallZone, h_over_d: f64) -> (f64, f64) {
    let between = |at: &[(f64, f64)]| {
        let (first, last) = (at[0], at[at.len() - 1]);
        if h_over_d <= first.0 {
            return first.1;
        }
        at.windows(2)
            .find(|p| h_over_d <= p[1].0)
            .map_or(last.1, |p| p[0].1 + (p[1].1 - p[0].1) * (h_over_d - p[0].0) / (p[1].0 - p[0].0))
    };
    match zone {
        WallZone::A => (-1.2, -1.4),
        WallZone::B => (-0.8, -1.1),
        WallZone::C => (-0.5, -0.5),
        WallZone::D => (between(&[(0.25, 0.7), (1.0, 0.8)]), 1.0),
        WallZone::E => {
            let v = between(&[(0.25, -0.3), (1.0, -0.5), (5.0, -0.7)]);
            (v, v)
        }
    }
}

/// `c_pe` for a loaded area, m²: `c_pe,1` up to 1 m², `c_pe,10` from 10 m², by the logarithm between
/// (Figure 7.2, recommended).
#[must_use]
pub fn coefficient_for(zone: WallZone, h_over_d: f64, area: f64) -> f64 {
    let (ten, one) = coefficients(zone, h_over_d);
    if area <= 1.0 {
        one
    } else if area >= 10.0 {
        ten
    } else {
        one - (one - ten) * area.log10()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn zones_of_the_published_example() {
        // Check value 2, Steel Buildings in Europe, single-storey buildings, part 3: h 8, b 32, d 60 m.
        let e = zone_length(32.0, 8.0);
        assert_eq!(reference_heights(8.0, 32.0), [8.0]);
        assert_eq!(e, 16.0);
        let [a, b, c] = zone_widths(e, 60.0);
        assert!((a - 3.2).abs() < 1e-9 && (b - 12.8).abs() < 1e-9 && (c - 44.0).abs() < 1e-9);
    }

    #[test]
    fn short_walls_have_fewer_zones() {
        // e = 10: d = 8 lies between e and 5e: A 2, B 6, no C. d = 2 is a fifth of e: A alone.
        assert_eq!(zone_widths(10.0, 8.0), [2.0, 6.0, 0.0]);
        assert_eq!(zone_widths(10.0, 2.0), [2.0, 0.0, 0.0]);
    }

    #[test]
    fn a_wall_higher_than_broad_is_taken_in_parts() {
        // Check value 4, sheet scribd 714265932: h 13.48, b 11.2: two parts, the lower with z_e 11.2 m.
        assert_eq!(reference_heights(13.48, 11.2), [11.2, 13.48]);
        // h 30, b 10: below 10, above 20, and between them 10 m in two strips of b/2.
        assert_eq!(reference_heights(30.0, 10.0), [10.0, 15.0, 20.0, 30.0]);
    }

    #[test]
    fn coefficients_between_the_given_proportions() {
        // Check value 6, sheet scribd 156788976: h/d 2.763: E -0.5 - 0.2 x 1.763/4 = -0.588; D 0.8.
        let (e, _) = coefficients(WallZone::E, 2.763);
        let (d, _) = coefficients(WallZone::D, 2.763);
        assert!((e + 0.588).abs() < 0.001 && (d - 0.8).abs() < 1e-9);
        // Its pressures, with q_p 1.658 kN/m2: 1.326 and -0.975 within 0.2 %.
        assert!((1.658 * d / 1.326 - 1.0).abs() < 0.002 && (1.658 * e / -0.975 - 1.0).abs() < 0.002);
        // Check value 11, Table 7.1: h/d 0.625 is half way between 0.25 and 1.
        let (d, e) = (coefficients(WallZone::D, 0.625).0, coefficients(WallZone::E, 0.625).0);
        assert!((d - 0.75).abs() < 0.001 && (e + 0.40).abs() < 0.001);
    }

    #[test]
    fn a_small_loaded_area_has_the_greater_suction() {
        // Check value 10: zone A; -1.4 + 0.2 log10 A between 1 and 10 m2: log 2 = 0.30103, log 5 = 0.69897.
        for (area, expect) in
            [(0.4, -1.4), (1.0, -1.4), (2.0, -1.340), (5.0, -1.260), (10.0, -1.2), (20.0, -1.2)]
        {
            let got = coefficient_for(WallZone::A, 0.5, area);
            assert!((got - expect).abs() < 0.001, "{area} m²: {got}");
        }
    }
}
