//! Which number of ties per m2 holds for a building in Germany: DIN EN 1996-2/NA.
//!
//! The values were seen in published pages, how the table groups its columns second-hand. The published sets
//! `de-din-en-1996` (7 per m2), `-5`, `-8` and `-9` have one of its values each.

/// Where a building stands, as the table tells places apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum WindPlace {
    /// Away from the sea.
    Inland,
    /// On the coast.
    Coast,
    /// On an island in the North Sea.
    NorthSeaIsland,
}

/// Ties per m2 for a building `height` mm high in wind zone 1 to 4; `shortest_side` is the shortest side of
/// its plan, mm.
///
/// `None` where the table allows none (higher than 25 m; on a North Sea island higher than 18 m), or for a
/// height, side or zone that cannot be.
#[must_use]
pub fn german_density(height: f64, zone: u8, place: WindPlace, shortest_side: f64) -> Option<f64> {
    let usable = height > 0.0 && shortest_side > 0.0 && (1..=4).contains(&zone);
    // Rows of the table: up to 10 m, 18 m, 25 m.
    let row = [10_000.0, 18_000.0, 25_000.0].iter().position(|&top| height <= top).filter(|_| usable)?;
    match (place, zone) {
        (WindPlace::NorthSeaIsland, _) => [Some(8.0), Some(9.0), None][row],
        (WindPlace::Coast, 4) if row == 2 && shortest_side < height / 4.0 => Some(9.0),
        (WindPlace::Coast, 4) => Some([7.0, 8.0, 8.0][row]),
        (_, 1) => Some([5.0, 5.0, 7.0][row]),
        (WindPlace::Inland, 2) => Some([5.0, 7.0, 7.0][row]),
        _ => Some(7.0),
    }
}

#[cfg(test)]
mod tests {
    use super::WindPlace::{Coast, Inland, NorthSeaIsland};
    use super::*;

    #[track_caller]
    fn case(metres: f64, zone: u8, place: WindPlace, expect: Option<f64>) {
        assert_eq!(german_density(metres * 1000.0, zone, place, 12_000.0), expect);
    }

    #[test]
    fn the_published_example() {
        // Check value 18: a building of 15 m, zone 1: 5 per m2; zone 2 away from the coast: 7.
        case(15.0, 1, Inland, Some(5.0));
        case(15.0, 2, Inland, Some(7.0));
    }

    #[test]
    fn every_field_of_the_table() {
        for (metres, low) in [(10.0, Some(5.0)), (18.0, Some(5.0)), (25.0, Some(7.0))] {
            case(metres, 1, Inland, low);
        }
        for (metres, low) in [(10.0, Some(5.0)), (10.1, Some(7.0)), (25.0, Some(7.0))] {
            case(metres, 2, Inland, low);
        }
        for metres in [10.0, 18.0, 25.0] {
            case(metres, 2, Coast, Some(7.0));
            case(metres, 3, Inland, Some(7.0));
            case(metres, 3, Coast, Some(7.0));
            case(metres, 4, Inland, Some(7.0));
        }
        for (metres, coast, island) in [(10.0, 7.0, Some(8.0)), (18.0, 8.0, Some(9.0)), (25.0, 8.0, None)] {
            case(metres, 4, Coast, Some(coast));
            case(metres, 4, NorthSeaIsland, island);
        }
    }

    #[test]
    fn a_slender_building_on_the_coast_has_9() {
        // 24 m high: a quarter is 6 m.
        assert_eq!(german_density(24_000.0, 4, Coast, 6_000.0), Some(8.0));
        assert_eq!(german_density(24_000.0, 4, Coast, 5_990.0), Some(9.0));
        assert_eq!(german_density(18_000.0, 4, Coast, 4_000.0), Some(8.0));
    }

    #[test]
    fn what_the_table_does_not_hold_has_no_number() {
        case(25.1, 1, Inland, None);
        case(0.0, 1, Inland, None);
        case(f64::NAN, 1, Inland, None);
        case(8.0, 0, Inland, None);
        case(8.0, 5, Inland, None);
        assert_eq!(german_density(8_000.0, 1, Inland, f64::NAN), None);
    }
}
