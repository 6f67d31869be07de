//! The lower bound: never above what an exhaustive search of small walls finds, and right where it can be
//! worked out by hand.

use layout_core::bound::lower_bound;
use layout_core::check::{Severity, check};
use layout_core::elevation::{Elevation, Opening, Pattern, Point, Shape, SideCondition};
use layout_core::masonry::Masonry;
use layout_core::plan;
use layout_core::rules::resolve;
use tiewright_tests::walls::Dice;

fn rectangle(w: f64, h: f64) -> Elevation {
    Elevation::new("Wall", vec![(0.0, 0.0), (w, 0.0), (w, h), (0.0, h)])
}

fn bound(e: &Elevation) -> usize {
    let rules = resolve(&e.rules).expect("known rules");
    lower_bound(e, &Masonry::new(e), &rules)
}

#[test]
fn of_a_plain_wall_it_is_the_plain_grid() {
    // 10 x 12 squares of 4 mm, 904 and 454 apart, fit into 9000 x 5250, and no tie serves two of them.
    let mut e = rectangle(9000.0, 5250.0);
    e.pattern = Pattern::Stacked;
    assert_eq!(bound(&e), 120);
    assert_eq!(plan(&e).expect("a usable drawing").ties.len(), 120);
}

#[test]
fn free_ends_count_for_each_300() {
    // 1500 / 300: 5 stretches on the free end, none served with another; the field beyond is within reach.
    let mut e = rectangle(600.0, 1500.0);
    e.sides = vec![SideCondition::Base, SideCondition::FreeEnd, SideCondition::Eaves, SideCondition::Corner];
    assert_eq!(bound(&e), 5);
    assert_eq!(plan(&e).expect("a usable drawing").ties.len(), 5);
}

/// The fewest ties, no more than three, at places 150 mm apart on the courses; `None` if three will not do.
fn fewest_of_three(e: &Elevation) -> Option<usize> {
    let rules = resolve(&e.rules).expect("known rules");
    let masonry = Masonry::new(e);
    let stands = |p: Point| masonry.contains(p) && masonry.boundary.nearest_within(p, 75.0).is_none();
    let places: Vec<Point> = (0..40)
        .flat_map(|k| (0..40).map(move |i| (75.0 + f64::from(i) * 75.0, f64::from(k) * 75.0)))
        .filter(|&p| stands(p))
        .collect();
    let passes =
        |ties: &[Point]| check(e, &masonry, &rules, ties).iter().all(|f| f.severity != Severity::Breach);
    let n = places.len();
    if places.iter().any(|&p| passes(&[p])) {
        return Some(1);
    }
    for i in 0..n {
        for j in i + 1..n {
            if passes(&[places[i], places[j]]) {
                return Some(2);
            }
        }
    }
    for i in 0..n {
        for j in i + 1..n {
            for k in j + 1..n {
                if passes(&[places[i], places[j], places[k]]) {
                    return Some(3);
                }
            }
        }
    }
    None
}

#[test]
fn it_is_never_above_what_an_exhaustive_search_finds() {
    let mut found = 0;
    for seed in 0..24 {
        let mut d = Dice::new(seed);
        let (w, h) = (d.step(450.0, 1050.0, 75.0), d.step(300.0, 600.0, 75.0));
        let mut e = rectangle(w, h);
        if seed % 3 == 0 {
            e.sides = vec![
                SideCondition::Base,
                SideCondition::FreeEnd,
                SideCondition::Eaves,
                SideCondition::Corner,
            ];
        } else if seed % 3 == 1 && w >= 750.0 {
            let shape = Shape::Rect { x: 300.0, y: 0.0, w: 150.0, h: 150.0 };
            e.openings.push(Opening { name: "Vent".to_owned(), shape });
        }
        if let Some(fewest) = fewest_of_three(&e) {
            found += 1;
            assert!(bound(&e) <= fewest, "seed {seed}: a bound of {} but {fewest} ties will do", bound(&e));
        }
    }
    assert!(found >= 12, "only {found} walls could be searched");
}
