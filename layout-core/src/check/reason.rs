//! Why a place has no tie near enough, as far as the drawing tells: what keeps ties from standing there.
//!
//! Words for a message only; nothing is decided by it. Places are tried on every course within reach,
//! 25 mm apart.

use super::Subject;
use super::keep_out::{clear_of, keep_out_at};
use super::place::mm;
use crate::elevation::{Fix, Point, shape_ring};
use crate::units::{ANYWHERE_STEP, DISTANCE_TOLERANCE};

/// Step along a row of the places tried, mm.
const STEP: f64 = 25.0;

/// What stands in the way of a tie within `dx` and `dy` of a place, and what would mend it; nothing if some
/// place would do, or the ties were placed by hand.
pub(super) fn reason(s: &Subject<'_>, about: Point, dx: f64, dy: f64) -> Option<String> {
    if !s.elevation.automatic {
        return None;
    }
    let limit = s.rules.edge_distance.value;
    let heights = heights(s, about.1, dy);
    if heights.is_empty() {
        return Some(format!(
            "no {} lies within {} mm up or down of it; reduce the gauge or let ties go anywhere",
            s.elevation.coursing.fix.words(),
            mm(dy)
        ));
    }
    let (mut widest, mut keep_out, mut old, mut locked) = (0.0f64, None, false, None);
    for y in heights {
        for i in 0..=(2.0 * dx / STEP) as i64 {
            let p = (about.0 - dx + i as f64 * STEP, y);
            if !s.masonry.holds(p) {
                continue;
            }
            // The nearest side, no further off than asked for.
            let clear = s.masonry.boundary.nearest_within(p, limit).map_or(limit, |n| n.0);
            if clear < limit - 1.0 {
                widest = widest.max(clear);
            } else if let Some(name) = keep_out_at(s, p) {
                keep_out = Some(name);
            } else if near_old_tie(s, p) {
                old = true;
            } else if let Some(name) = locked_at(s, p) {
                locked = Some(name);
            } else {
                return None;
            }
        }
    }
    let clearance = s.rules.existing_clearance.value;
    keep_out
        .map(|name| format!("{name} leaves no place for a tie within reach; make it smaller or restrain the wall otherwise"))
        .or_else(|| {
            old.then(|| {
                format!("old ties leave no place for a tie {} mm clear of them; take them out or reduce the clearance", mm(clearance))
            })
        })
        .or_else(|| {
            locked.map(|name| format!("{name} has no tie within reach and none is added in it; release it, or lock it with more ties"))
        })
        .or_else(|| {
            (widest > 0.0).then(|| {
                format!(
                    "a tie within reach can stand no more than {} mm from the nearest side, and {} is asked for; \
                     reduce the edge distance or restrain the wall otherwise",
                    mm(widest),
                    mm(limit)
                )
            })
        })
}

/// Heights within reach at which a tie may stand.
fn heights(s: &Subject<'_>, y: f64, dy: f64) -> Vec<f64> {
    let c = s.elevation.coursing;
    if c.fix == Fix::Anywhere {
        return (0..=(2.0 * dy / ANYWHERE_STEP) as i64).map(|i| y - dy + i as f64 * ANYWHERE_STEP).collect();
    }
    (c.nearest(y - dy) - 1..=c.nearest(y + dy) + 1)
        .map(|k| c.height(k))
        .filter(|h| (h - y).abs() <= dy)
        .collect()
}

fn near_old_tie(s: &Subject<'_>, p: Point) -> bool {
    let r = s.rules.existing_clearance.value - 1.0;
    s.elevation.existing_ties.iter().any(|t| (t.at.0 - p.0).hypot(t.at.1 - p.1) < r)
}

/// A locked area that a place lies in, in words.
fn locked_at(s: &Subject<'_>, p: Point) -> Option<String> {
    let l = s.elevation.locked.iter().find(|l| clear_of(&shape_ring(&l.shape), p) < DISTANCE_TOLERANCE)?;
    Some(if l.name.is_empty() {
        "the locked area".to_owned()
    } else {
        format!("the locked area '{}'", l.name)
    })
}

#[cfg(test)]
mod tests {
    use super::super::Rule;
    use super::super::testing::{broken, found, wall};
    use crate::elevation::{Elevation, KeepOut, Opening, Shape};

    #[test]
    fn a_narrow_nib_says_how_narrow() {
        // A door leaves a nib 100 wide at the right: a tie in it is 50 from either side.
        let mut e = wall();
        e.openings
            .push(Opening { name: "D1".into(), shape: Shape::Rect { x: 700., y: 0., w: 1000., h: 900. } });
        let f = found(Rule::Coverage, &e, &[(350., 225.), (350., 675.)]);
        assert_eq!(f.len(), 1);
        assert!(
            f[0].message.contains("no more than 50 mm from the nearest side, and 75 is asked for"),
            "{}",
            f[0].message
        );
    }

    #[test]
    fn a_keep_out_is_named() {
        let mut e = Elevation::new("Wall", vec![(0., 0.), (600., 0.), (600., 300.), (0., 300.)]);
        let shape = Shape::Rect { x: 0., y: 0., w: 600., h: 300. };
        e.keep_outs.push(KeepOut { name: "Flue".into(), shape, clearance: 50. });
        let f = broken(Rule::Coverage, &e, &[]);
        assert!(f.message.contains("the keep-out 'Flue' leaves no place"), "{}", f.message);
    }

    #[test]
    fn coarse_courses_are_named() {
        let mut e = Elevation::new("Wall", vec![(0., 0.), (600., 0.), (600., 900.), (0., 900.)]);
        e.coursing.gauge = 1000.;
        e.coursing.first_bed = 120.;
        let f = broken(Rule::Coverage, &e, &[(300., 120.)]);
        assert!(f.message.contains("no bed joint lies within 225 mm"), "{}", f.message);
    }

    #[test]
    fn nothing_is_said_where_a_place_would_do() {
        let f = broken(Rule::Coverage, &wall(), &[]);
        assert!(!f.message.contains(": "), "{}", f.message);
    }
}
