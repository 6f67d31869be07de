//! Why a tie is where it is: what it serves, and how far it is from its neighbours and the edges.

use layout_core::elevation::{Elevation, Point, SideCondition, outline_sides, shape_bounds};
use layout_core::units::tidy_mm;
use layout_core::{Plan, Role, Tie};

use crate::document::Item;
use crate::document::item::side;
use crate::widgets::number::Habits;

/// Ties whose heights differ by less than this are in one row, mm.
const ROW: f64 = 40.0;

/// A neighbour is straight beside, above or below a tie where it is off by less than this, mm.
const STRAIGHT: f64 = 0.5;

/// What is to be said of a tie, a line each.
#[must_use]
pub fn lines(plan: &Plan, e: &Elevation, tie: &Tie, habits: Habits) -> Vec<String> {
    let mut lines = vec![why(plan, e, tie, habits)];
    if tie.pinned {
        lines.push("Pinned by hand: it stays here whatever else changes.".to_owned());
    }
    let neighbours = neighbours(plan, tie);
    if !neighbours.is_empty() {
        let each =
            neighbours.iter().map(|(way, mark, off)| format!("{} ({mark})", way_to(way, *off, habits)));
        lines.push(format!("To the next tie: {}.", each.collect::<Vec<_>>().join(", ")));
    }
    let edges = edges(plan, tie.at);
    if !edges.is_empty() {
        let each = edges.iter().map(|(way, d)| format!("{way} {}", habits.show(*d)));
        lines.push(format!("To the edge of the masonry: {}.", each.collect::<Vec<_>>().join(", ")));
    }
    lines
}

/// What it is there for.
fn why(plan: &Plan, e: &Elevation, tie: &Tie, habits: Habits) -> String {
    let rule = plan.rules.edges.as_ref();
    let within = rule.map_or(0.0, |r| r.within.value);
    let found = match tie.role {
        Role::Jamb => nearest_opening(e, tie.at),
        Role::Joint => nearest_joint(e, tie.at).or_else(|| nearest_side(e, tie.at, SideCondition::Joint)),
        Role::FreeEnd => nearest_side(e, tie.at, SideCondition::FreeEnd),
        Role::Verge => nearest_side(e, tie.at, SideCondition::Verge),
        Role::Field => None,
    };
    match (found, rule) {
        (Some((what, off)), Some(rule)) => format!(
            "Holds {what}, {} away: ties along it within {}, no more than {} apart.",
            habits.show(tidy_mm(off)),
            habits.show(within),
            habits.show(rule.spacing.value)
        ),
        _ => format!(
            "Serves the field: the masonry {} to each side, {} up and down.",
            habits.show(plan.rules.horizontal.value / 2.0),
            habits.show(plan.rules.vertical.value / 2.0)
        ),
    }
}

fn nearest_opening(e: &Elevation, p: Point) -> Option<(String, f64)> {
    let off = |(l, b, r, t): (f64, f64, f64, f64)| {
        let dx = (l - p.0).max(p.0 - r).max(0.0);
        let dy = (b - p.1).max(p.1 - t).max(0.0);
        dx.hypot(dy)
    };
    let each = e.openings.iter().enumerate().map(|(i, o)| (i, off(shape_bounds(&o.shape))));
    let (i, off) = each.min_by(|a, b| a.1.total_cmp(&b.1))?;
    Some((format!("the edge of {}", Item::Opening(i).label(e)), off))
}

fn nearest_joint(e: &Elevation, p: Point) -> Option<(String, f64)> {
    let level =
        e.movement_joints.iter().enumerate().filter(|(_, j)| p.1 >= j.from - 1.0 && p.1 <= j.to + 1.0);
    let each = level.map(|(i, j)| (i, (j.x - p.0).abs()));
    let (i, off) = each.min_by(|a, b| a.1.total_cmp(&b.1))?;
    Some((Item::Joint(i).label(e), off))
}

fn nearest_side(e: &Elevation, p: Point, of: SideCondition) -> Option<(String, f64)> {
    let sides = outline_sides(e);
    let each = sides.iter().enumerate().filter(|(_, s)| **s == of).filter_map(|(i, _)| {
        let ends = side(&e.outline, i)?;
        Some((i, super::pick::distance_to_stretch(p, ends)))
    });
    let (i, off) = each.min_by(|a, b| a.1.total_cmp(&b.1))?;
    Some((format!("the {} (side {})", of.words(), i + 1), off))
}

/// How one gets to a neighbour: how far straight there, or by how much each way and in all where it is not straight.
fn way_to(way: &str, (dx, dy): Point, habits: Habits) -> String {
    let mm = |v: f64| habits.show(tidy_mm(v.abs()));
    if dx.abs() < STRAIGHT || dy.abs() < STRAIGHT {
        return format!("{way} {}", mm(dx.abs().max(dy.abs())));
    }
    let side = if dx < 0.0 { "left" } else { "right" };
    let level = if dy < 0.0 { "lower" } else { "higher" };
    format!("{} {side} and {} {level}, {} in all", mm(dx), mm(dy), habits.show(dx.hypot(dy).round()))
}

/// The next ties to the left and right in the row, and below and above: way, mark, and how far along the wall and up
/// it, mm.
#[must_use]
pub fn neighbours(plan: &Plan, tie: &Tie) -> Vec<(&'static str, String, Point)> {
    let half = plan.rules.horizontal.value / 2.0;
    let mut best: [Option<(f64, &Tie)>; 4] = [None; 4];
    for other in &plan.ties {
        let (dx, dy) = (other.at.0 - tie.at.0, other.at.1 - tie.at.1);
        let way = if dy.abs() < ROW && dx.abs() > 1.0 {
            usize::from(dx > 0.0)
        } else if dy.abs() >= ROW && dx.abs() <= half {
            2 + usize::from(dy > 0.0)
        } else {
            continue;
        };
        let d = if way < 2 { dx.abs() } else { dy.abs() };
        if best[way].is_none_or(|(b, _)| d < b) {
            best[way] = Some((d, other));
        }
    }
    let ways = ["left", "right", "below", "above"];
    let off = |t: &Tie| (t.at.0 - tie.at.0, t.at.1 - tie.at.1);
    ways.into_iter().zip(best).filter_map(|(w, b)| b.map(|(_, t)| (w, t.mark.clone(), off(t)))).collect()
}

/// How far the masonry goes on to the left and right, below and above: way, distance in mm.
fn edges(plan: &Plan, p: Point) -> Vec<(&'static str, f64)> {
    let mut best = [f64::INFINITY; 4];
    for ring in &plan.masonry {
        for i in 0..ring.len() {
            let (a, b) = (ring[i], ring[(i + 1) % ring.len()]);
            if (a.1 > p.1) != (b.1 > p.1) {
                let x = a.0 + (p.1 - a.1) / (b.1 - a.1) * (b.0 - a.0);
                let way = usize::from(x > p.0);
                best[way] = best[way].min((x - p.0).abs());
            }
            if (a.0 > p.0) != (b.0 > p.0) {
                let y = a.1 + (p.0 - a.0) / (b.0 - a.0) * (b.1 - a.1);
                let way = 2 + usize::from(y > p.1);
                best[way] = best[way].min((y - p.1).abs());
            }
        }
    }
    let ways = ["left", "right", "below", "above"];
    ways.into_iter().zip(best).filter(|(_, d)| d.is_finite()).map(|(w, d)| (w, tidy_mm(d.round()))).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use layout_core::elevation::{Opening, Shape};

    #[test]
    fn a_tie_put_by_hand_is_explained() {
        let mut e = Elevation::new("Front", vec![(0.0, 0.0), (6000.0, 0.0), (6000.0, 2400.0), (0.0, 2400.0)]);
        e.openings.push(Opening {
            name: "W1".into(),
            shape: Shape::Rect { x: 2400.0, y: 600.0, w: 1200.0, h: 1200.0 },
        });
        e.automatic = false;
        e.pinned = vec![(2250.0, 900.0), (1500.0, 900.0), (2250.0, 1200.0), (750.0, 225.0)];
        let plan = layout_core::plan(&e).expect("a usable drawing");
        let tie = |at: Point| plan.ties.iter().find(|t| t.at == at).expect("it stands").clone();
        let said = lines(&plan, &e, &tie((2250.0, 900.0)), Habits::default());
        assert_eq!(
            said[0],
            "Holds the edge of W1, 150 away: ties along it within 225, no more than 300 apart."
        );
        assert!(said[1].starts_with("Pinned by hand"));
        assert!(said[2].contains("left 750") && said[2].contains("above 300"), "{}", said[2]);
        // The jamb at 2400, the left end at 0; foot and top of the wall.
        assert_eq!(said[3], "To the edge of the masonry: left 2250, right 150, below 900, above 1500.");
        // One that is pinned between: 250 to the left and 75 below, the root of 68125 in all.
        assert_eq!(way_to("below", (-250.0, -75.0), Habits::default()), "250 left and 75 lower, 261 in all");
        let field = lines(&plan, &e, &tie((750.0, 225.0)), Habits::default());
        assert_eq!(field[0], "Serves the field: the masonry 450 to each side, 225 up and down.");
    }
}
