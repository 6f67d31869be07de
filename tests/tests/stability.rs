//! A small change to the wall changes the ties near it, not the whole wall: "Stable" of a good layout. Every opening of
//! every example set out automatically is moved by 25 mm, sideways, up and down; in fifty-nine moves of
//! sixty no tie more than two field spacings from where it was or is may change.

use layout_core::elevation::{Elevation, Point, Shape, shape_bounds};
use layout_core::{Plan, plan};
use std::collections::BTreeSet;
use tiewright::document::file::read_checked;
use tiewright_tests::console::examples;

const MOVES: [Point; 4] = [(25.0, 0.0), (-25.0, 0.0), (0.0, 25.0), (0.0, -25.0)];

fn moved(shape: &Shape, (dx, dy): Point) -> Shape {
    let mut shape = shape.clone();
    match &mut shape {
        Shape::Rect { x, y, .. } | Shape::Arched { x, y, .. } | Shape::Circle { x, y, .. } => {
            *x += dx;
            *y += dy;
        }
        Shape::Polygon(points) => {
            for p in points {
                *p = (p.0 + dx, p.1 + dy);
            }
        }
    }
    shape
}

/// Places in tenths of a millimetre.
fn places(plan: &Plan) -> BTreeSet<(i64, i64)> {
    let tenths = |v: f64| (v * 10.0).round() as i64;
    plan.ties.iter().map(|t| (tenths(t.at.0), tenths(t.at.1))).collect()
}

/// Ties that differ further from both shapes than two field spacings.
fn far_changes(before: &Plan, after: &Plan, shapes: [&Shape; 2]) -> Vec<Point> {
    let (h, v) = (before.rules.horizontal.value, before.rules.vertical.value);
    let near = |(x, y): Point, shape: &Shape| {
        let (x0, y0, x1, y1) = shape_bounds(shape);
        // A millimetre for what is rounded.
        let off = |v: f64, lo: f64, hi: f64| (lo - v).max(v - hi).max(0.0) - 1.0;
        off(x, x0, x1) <= 2.0 * h && off(y, y0, y1) <= 2.0 * v
    };
    places(before)
        .symmetric_difference(&places(after))
        .map(|&(x, y)| (x as f64 / 10.0, y as f64 / 10.0))
        .filter(|&p| !shapes.iter().any(|s| near(p, s)))
        .collect()
}

fn laid_out(elevation: &Elevation) -> Plan {
    plan(elevation).unwrap_or_else(|faults| panic!("{}: {faults:?}", elevation.name))
}

#[test]
fn an_opening_moved_by_25_mm_changes_the_ties_next_to_it_alone() {
    let (mut moves, mut wide) = (0, Vec::new());
    for path in examples().expect("the examples are listed") {
        let project = read_checked(&path).unwrap_or_else(|e| panic!("{e}"));
        for elevation in project.elevations.iter().filter(|e| e.automatic) {
            let before = laid_out(elevation);
            let base = elevation.outline.iter().map(|p| p.1).fold(f64::INFINITY, f64::min);
            for (i, opening) in elevation.openings.iter().enumerate() {
                // What stands on the ground stays there.
                let on_ground = shape_bounds(&opening.shape).1 <= base;
                for by in MOVES.into_iter().filter(|by| !on_ground || by.1 == 0.0) {
                    let mut changed = elevation.clone();
                    changed.openings[i].shape = moved(&opening.shape, by);
                    let after = laid_out(&changed);
                    let far = far_changes(&before, &after, [&opening.shape, &changed.openings[i].shape]);
                    moves += 1;
                    if !far.is_empty() {
                        wide.push(format!("{} {} moved by {by:?}: {far:?}", elevation.name, opening.name));
                    }
                }
            }
        }
    }
    assert!(moves >= 50, "{moves} moves");
    // Not proved for every wall: one move in sixty may still reach further.
    assert!(wide.len() * 60 <= moves, "{} of {moves} moves: {wide:#?}", wide.len());
}
