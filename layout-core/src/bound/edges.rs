//! Stretches of edges that need a tie each.

use super::HAIR;
use super::duty::{Duty, courses};
use super::taken::Taken;
use crate::elevation::Elevation;
use crate::masonry::{Edge, Masonry, Measure, edges};
use crate::rules::RuleSet;
use crate::units::DISTANCE_TOLERANCE;

/// Stretches of edges, no two of which one tie can serve.
pub(super) fn duties(elevation: &Elevation, masonry: &Masonry, rules: &RuleSet) -> Vec<Duty> {
    let Some(rule) = &rules.edges else { return Vec::new() };
    let within = rule.within.value + DISTANCE_TOLERANCE;
    // Both ends of a gap may stretch by the tolerance.
    let stretch = 2.0 * DISTANCE_TOLERANCE + HAIR;
    let mut chosen = Taken::new(elevation, masonry, rules);
    for edge in edges(masonry, elevation, rule) {
        let spacing = edge.spacing;
        let mut place = edge.from;
        loop {
            let duty = duty_at(elevation, &edge, place, stretch, within, spacing / 2.0);
            if !chosen.meets(&duty) {
                chosen.push(duty);
            }
            place += spacing + stretch + HAIR;
            if edge.measure == Measure::Level || place + stretch > edge.to {
                break;
            }
        }
    }
    chosen.into_duties()
}

fn duty_at(elevation: &Elevation, edge: &Edge, place: f64, stretch: f64, within: f64, half: f64) -> Duty {
    let (low, high, y0, y1);
    match edge.measure {
        Measure::Height => {
            (low, high) = (place - half - DISTANCE_TOLERANCE, place + stretch + half + DISTANCE_TOLERANCE);
            // The part of the edge that may be nearest to such a tie.
            (y0, y1) = (low - within, high + within);
        }
        Measure::Level => {
            (y0, y1) = (edge.lo.1, edge.hi.1);
            (low, high) = (y0 - within, y1 + within);
        }
        Measure::Length { .. } => {
            let p = edge.point_at(place);
            let reach = within + half + stretch + DISTANCE_TOLERANCE;
            let (low, high) = courses(elevation.coursing, p.1 - reach, p.1 + reach);
            return Duty { left: p.0 - reach, right: p.0 + reach, low, high };
        }
    }
    let xs = edge.pieces.iter().filter(|s| s.a.1.max(s.b.1) >= y0 && s.a.1.min(s.b.1) <= y1).flat_map(|s| {
        let at = |y: f64| {
            let (lo, hi) = (s.a.1.min(s.b.1), s.a.1.max(s.b.1));
            s.x_at(y.clamp(lo, hi))
        };
        if s.a.1 == s.b.1 { [s.a.0, s.b.0] } else { [at(y0), at(y1)] }
    });
    let (left, right) = xs.fold((f64::INFINITY, f64::NEG_INFINITY), |m, x| (m.0.min(x), m.1.max(x)));
    let (low, high) = courses(elevation.coursing, low, high);
    Duty { left: left - within, right: right + within, low, high }
}
