//! Where the outline of a wall steps: the places along it and up it that its corners stand at, as a chain of their own.

use layout_core::elevation::Point;
use layout_core::units::tidy_mm;

/// A corner whose sides run on more nearly straight than this is part of a curve, radians.
const TURN: f64 = 0.35;

/// An outline with more places than this has no chain of them: it could not be read.
const MOST: usize = 16;

/// How near two corners stand at one place, mm.
const SAME: f64 = 0.5;

/// Places of the corners of an outline along the wall, or up it, mm, in order, its ends among them; nothing where
/// there are but the two ends, or too many to read.
#[must_use]
pub fn places(ring: &[Point], up: bool) -> Vec<f64> {
    if !ring.iter().all(|p| p.0.is_finite() && p.1.is_finite()) {
        return Vec::new();
    }
    let mut corners: Vec<Point> = Vec::with_capacity(ring.len());
    for &p in ring {
        if corners.last() != Some(&p) {
            corners.push(p);
        }
    }
    while corners.len() > 1 && corners.first() == corners.last() {
        corners.pop();
    }
    let n = corners.len();
    let turns = |i: usize| {
        let (a, b, c) = (corners[(i + n - 1) % n], corners[i], corners[(i + 1) % n]);
        let (u, v) = ((b.0 - a.0, b.1 - a.1), (c.0 - b.0, c.1 - b.1));
        (u.0 * v.1 - u.1 * v.0).atan2(u.0 * v.0 + u.1 * v.1).abs() > TURN
    };
    let mut found: Vec<f64> =
        (0..n).filter(|&i| turns(i)).map(|i| if up { corners[i].1 } else { corners[i].0 }).collect();
    found.sort_by(f64::total_cmp);
    found.dedup_by(|b, a| *b - *a < SAME);
    if found.len() < 3 || found.len() > MOST { Vec::new() } else { found }
}

/// The outline with the corners at a place along the wall, or up it, moved by so much, mm; the others stay.
#[must_use]
pub fn moved(ring: &[Point], up: bool, at: f64, by: f64) -> Vec<Point> {
    ring.iter()
        .map(|&(x, y)| match up {
            false if (x - at).abs() < SAME => (tidy_mm(x + by), y),
            true if (y - at).abs() < SAME => (x, tidy_mm(y + by)),
            _ => (x, y),
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_l_steps_once_each_way() {
        let l = [(0.0, 0.0), (9.0e3, 0.0), (9.0e3, 2.7e3), (6.0e3, 2.7e3), (6.0e3, 5.4e3), (0.0, 5.4e3)];
        assert_eq!(places(&l, false), [0.0, 6.0e3, 9.0e3]);
        assert_eq!(places(&l, true), [0.0, 2.7e3, 5.4e3]);
        let wider = moved(&l, false, 6.0e3, 300.0);
        assert_eq!(wider[3..5], [(6.3e3, 2.7e3), (6.3e3, 5.4e3)]);
        assert_eq!(wider[2], (9.0e3, 2.7e3));
    }

    #[test]
    fn a_gable_has_eaves_and_a_ridge() {
        let gable = [(0.0, 0.0), (8.0e3, 0.0), (8.0e3, 5.0e3), (4.0e3, 8.0e3), (0.0, 5.0e3)];
        assert_eq!(places(&gable, true), [0.0, 5.0e3, 8.0e3]);
        assert_eq!(places(&gable, false), [0.0, 4.0e3, 8.0e3]);
        let lower = moved(&gable, true, 5.0e3, -200.0);
        assert_eq!((lower[2].1, lower[3].1, lower[4].1), (4.8e3, 8.0e3, 4.8e3));
    }

    #[test]
    fn plain_walls_curves_and_what_is_no_ring_have_none() {
        let plain = [(0.0, 0.0), (9.0, 0.0), (9.0, 5.0), (4.0, 5.0), (0.0, 5.0)];
        assert!(places(&plain, false).is_empty() && places(&plain, true).is_empty());
        // A quarter turn in 20 corners of 4.5 degrees: only its ends are corners, and of those only the upper turns.
        let mut round: Vec<Point> = vec![(0.0, 0.0), (4000.0, 0.0)];
        round.extend((0..=20).map(|i| f64::from(i) * 4.5_f64.to_radians()).map(|a| {
            let (sin, cos) = a.sin_cos();
            (3000.0 + 1000.0 * cos, 2000.0 + 1000.0 * sin)
        }));
        round.push((0.0, 3000.0));
        assert!(places(&round, false).is_empty());
        assert!(places(&[], true).is_empty());
        assert!(places(&[(0.0, 0.0), (f64::NAN, 1.0), (2.0, 2.0)], true).is_empty());
    }
}
