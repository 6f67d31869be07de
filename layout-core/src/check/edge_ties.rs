//! Rule 3: edges have ties near enough and close enough together.

use super::place::{at, mm};
use super::reason::{Wanted, reason};
use super::{Counted, Finding, Rule, Severity, Subject};
use crate::elevation::Point;
use crate::many::{each, gather};
use crate::masonry::{Edge, EdgeKind, Measure, Service, edges, service};
use crate::rules::EdgeRule;
use crate::units::{DISTANCE_TOLERANCE, EPSILON};

/// Adds what is wrong with edges; returns the ties that count for each.
pub(super) fn check(s: &Subject<'_>, out: &mut Vec<Finding>) -> Vec<Counted> {
    let Some(rule) = &s.rules.edges else { return Vec::new() };
    let edges = edges(s.masonry, s.elevation, rule);
    let services = each(edges.len(), |i| services(s, &edges[i], rule));
    out.extend(gather(edges.len(), |some| {
        some.flat_map(|i| findings(s, &edges[i], rule, &services[i])).collect()
    }));
    let ties = |of: Vec<(u32, Service)>| of.into_iter().map(|(i, s)| (i, s.distance)).collect();
    edges.iter().zip(services).map(|(e, of)| Counted { kind: e.kind, ties: ties(of) }).collect()
}

/// The ties that count for an edge, and how.
fn services(s: &Subject<'_>, edge: &Edge, rule: &EdgeRule) -> Vec<(u32, Service)> {
    let within = rule.within.value + DISTANCE_TOLERANCE;
    let lo = (edge.lo.0 - within, edge.lo.1 - within);
    let hi = (edge.hi.0 + within, edge.hi.1 + within);
    s.index
        .within(lo, hi)
        .filter(|&i| s.stands[i].holds)
        .filter_map(|i| Some((i as u32, service(s.masonry, edge, s.ties[i], within + EPSILON)?)))
        .collect()
}

/// What keeps ties from standing near a place of an edge.
fn why(s: &Subject<'_>, edge: &Edge, rule: &EdgeRule, about: Point, middle: f64) -> Option<String> {
    let (within, half) = (rule.within.value, edge.spacing / 2.0);
    let reach = match edge.measure {
        Measure::Height => (within, half),
        Measure::Level => (within + (edge.hi.0 - edge.lo.0) / 2.0, within),
        Measure::Length { .. } => (within + half, within + half),
    };
    let serves = |p: Point| {
        service(s.masonry, edge, p, within)
            .is_some_and(|found| edge.measure == Measure::Level || (found.place - middle).abs() <= half)
    };
    // A hair into the masonry that the edge borders, which is on the left of its pieces.
    let piece = edge.pieces.iter().min_by(|a, b| a.distance(about).total_cmp(&b.distance(about)));
    let about = piece.filter(|p| p.length() > 0.0).map_or(about, |p| {
        let off = 0.1 / p.length();
        (about.0 - (p.b.1 - p.a.1) * off, about.1 + (p.b.0 - p.a.0) * off)
    });
    reason(s, &Wanted { about, reach, serves: &serves })
}

/// What of an edge has no tie near enough.
fn findings(s: &Subject<'_>, edge: &Edge, rule: &EdgeRule, services: &[(u32, Service)]) -> Vec<Finding> {
    let mut places: Vec<f64> = services.iter().map(|(_, s)| s.place).collect();
    places.sort_by(f64::total_cmp);
    let described = |(from, to): (f64, f64)| {
        let mut found = finding(edge, rule, from, to, places.is_empty());
        if let Some(why) = why(s, edge, rule, found.at, f64::midpoint(from, to)) {
            found.message = format!("{}; {why}", found.message);
        }
        found
    };
    unserved(edge, &places, edge.spacing / 2.0).into_iter().map(described).collect()
}

/// The stretches of an edge further than `half` from every served place; a distance that measures over
/// by no more than the tolerance passes.
fn unserved(edge: &Edge, places: &[f64], half: f64) -> Vec<(f64, f64)> {
    let (from, to) = (edge.from, edge.to);
    let tolerance = DISTANCE_TOLERANCE + EPSILON;
    match edge.measure {
        Measure::Level => {
            if places.is_empty() {
                vec![(0.0, 0.0)]
            } else {
                Vec::new()
            }
        }
        Measure::Length { ring: true } => {
            let Some(&first) = places.first() else { return vec![(from, to)] };
            let next = places[1..].iter().copied().chain([first + to]);
            places
                .iter()
                .zip(next)
                .map(|(&a, b)| (a + half, b - half))
                .filter(|(a, b)| b - a > 2.0 * tolerance)
                .collect()
        }
        Measure::Height | Measure::Length { ring: false } => {
            let mut out = Vec::new();
            let mut reached = from;
            let mut begun = false;
            for &p in places {
                if p + half < from - tolerance {
                    continue;
                }
                // Both neighbours may stretch by the tolerance; an end has but one.
                let slack = if begun { 2.0 * tolerance } else { tolerance };
                let start = (p - half).min(to);
                if start - reached > slack || (p - half > to + tolerance && !begun) {
                    out.push((reached, start));
                }
                begun = true;
                reached = reached.max(p + half);
                if reached >= to {
                    return out;
                }
            }
            if to - reached > tolerance || !begun {
                out.push((reached, to));
            }
            out
        }
    }
}

fn finding(edge: &Edge, rule: &EdgeRule, from: f64, to: f64, none: bool) -> Finding {
    let (within, spacing) = (rule.within.value, edge.spacing);
    let wrapped = if matches!(edge.measure, Measure::Length { ring: true }) && edge.to > 0.0 {
        f64::midpoint(from, to) % edge.to
    } else {
        f64::midpoint(from, to)
    };
    let place = edge.point_at(wrapped);
    let what = edge.words();
    let message = match edge.measure {
        Measure::Level => {
            format!("the {what} at {} has no tie within {} mm; it needs one", at(place), mm(within))
        }
        Measure::Height => format!(
            "the {what} at x {} has {} from {} to {} mm: a tie within {} mm of it is needed at most {} mm apart",
            mm(place.0),
            if none { "no tie near enough" } else { "ties too far apart" },
            mm(from),
            mm(to),
            mm(within),
            mm(spacing)
        ),
        Measure::Length { .. } => format!(
            "the {what} near {} has no tie for {} mm of its length: ties within {} mm of it are needed at most {} mm apart along it",
            at(place),
            mm(to - from),
            mm(within),
            mm(spacing)
        ),
    };
    let top = matches!(edge.kind, EdgeKind::Verge | EdgeKind::Top);
    let spacing_along = rule.top.as_ref().filter(|_| top).unwrap_or(&rule.spacing);
    Finding {
        rule: Rule::EdgeTies,
        severity: Severity::Breach,
        message,
        at: place,
        measured: Some(to - from + spacing),
        required: Some(spacing),
        source: spacing_along.source.clone(),
    }
}

#[cfg(test)]
mod tests {
    use super::super::testing::{broken, found, passes};
    use super::*;
    use crate::elevation::{Elevation, Opening, RuleChoice, Shape, SideCondition};

    /// 3600 x 1800 with a window 1200 wide and 600 high, its sill at 600: jambs at 1200 and 2400.
    fn window() -> Elevation {
        let mut e = Elevation::new("Wall", vec![(0., 0.), (3600., 0.), (3600., 1800.), (0., 1800.)]);
        e.openings
            .push(Opening { name: "W1".into(), shape: Shape::Rect { x: 1200., y: 600., w: 1200., h: 600. } });
        e
    }

    #[test]
    fn jambs_with_ties_every_300_pass() {
        // 600 to 1200 high: ties at 750 and 1050 serve 600-900 and 900-1200.
        passes(Rule::EdgeTies, &window(), &[(975., 750.), (975., 1050.), (2625., 750.), (2625., 1050.)]);
    }

    #[test]
    fn one_tie_too_low_on_a_jamb_is_found() {
        let ties = [(975., 750.), (975., 1050.), (2625., 675.), (2625., 1050.)];
        let f = broken(Rule::EdgeTies, &window(), &ties);
        // 825 to 900 is served by neither.
        assert_eq!(f.at, (2400., 862.5));
        assert_eq!(f.measured, Some(375.));
    }

    #[test]
    fn a_tie_too_far_from_the_jamb_does_not_count() {
        let ties = [(970., 750.), (975., 1050.), (2625., 750.), (2625., 1050.)];
        broken(Rule::EdgeTies, &window(), &ties);
    }

    #[test]
    fn a_tie_beyond_the_opening_does_not_count() {
        // A slot 100 wide: a tie left of it is within 225 of its right jamb, but not through masonry.
        let mut e = window();
        e.openings[0].shape = Shape::Rect { x: 1200., y: 600., w: 100., h: 300. };
        passes(Rule::EdgeTies, &e, &[(1100., 750.), (1400., 750.)]);
        broken(Rule::EdgeTies, &e, &[(1100., 750.)]);
    }

    #[test]
    fn one_tie_serves_both_jambs_of_a_pier() {
        let mut e = window();
        e.openings[0].shape = Shape::Rect { x: 600., y: 600., w: 600., h: 300. };
        e.openings
            .push(Opening { name: "W2".into(), shape: Shape::Rect { x: 1500., y: 600., w: 600., h: 300. } });
        passes(Rule::EdgeTies, &e, &[(400., 750.), (1350., 750.), (2200., 750.)]);
    }

    #[test]
    fn free_ends_have_ties_and_corners_have_none() {
        let mut e = Elevation::new("Wall", vec![(0., 0.), (900., 0.), (900., 600.), (0., 600.)]);
        passes(Rule::EdgeTies, &e, &[]);
        e.sides =
            vec![SideCondition::Base, SideCondition::FreeEnd, SideCondition::Eaves, SideCondition::Corner];
        passes(Rule::EdgeTies, &e, &[(700., 150.), (700., 450.)]);
        let f = broken(Rule::EdgeTies, &e, &[(700., 150.)]);
        assert_eq!((f.at, f.measured), ((900., 450.), Some(600.)));
    }

    #[test]
    fn the_top_of_a_verge_is_exempt() {
        // A gable 3000 wide and 1500 high at 45 degrees; the verges need ties up to 1500 - 150.
        let e = Elevation::new("Gable", vec![(0., 0.), (3000., 0.), (1500., 1500.)]);
        // 130 right of the verge is 92 from it.
        let left: Vec<(f64, f64)> = [150., 450., 750., 1050., 1275.].iter().map(|&y| (y + 150., y)).collect();
        let right: Vec<(f64, f64)> = left.iter().map(|p| (3000. - p.0, p.1)).collect();
        passes(Rule::EdgeTies, &e, &[left.clone(), right.clone()].concat());
        assert_eq!(found(Rule::EdgeTies, &e, &[left[..3].to_vec(), right].concat()).len(), 1);
    }

    #[test]
    fn a_joint_has_ties_on_either_side() {
        let mut e = Elevation::new("Wall", vec![(0., 0.), (1800., 0.), (1800., 300.), (0., 300.)]);
        e.movement_joints.push(crate::elevation::MovementJoint { x: 900., from: 0., to: 300. });
        passes(Rule::EdgeTies, &e, &[(700., 150.), (1100., 150.)]);
        broken(Rule::EdgeTies, &e, &[(700., 150.)]);
    }

    fn veneer(w: f64, h: f64) -> Elevation {
        let mut e = Elevation::new("Veneer", vec![(0., 0.), (4000., 0.), (4000., 3000.), (0., 3000.)]);
        e.rules = RuleChoice::Named("us-irc-2018".into());
        e.openings.push(Opening { name: "W1".into(), shape: Shape::Rect { x: 1500., y: 1000., w, h } });
        e
    }

    #[test]
    fn small_openings_are_exempt_in_the_us_set() {
        // Check value 17: IRC R703.8.4.1.1, openings over 16 in either way.
        passes(Rule::EdgeTies, &veneer(15. * 25.4, 16. * 25.4), &[]);
        broken(Rule::EdgeTies, &veneer(16. * 25.4, 17. * 25.4), &[]);
    }

    #[test]
    fn perimeters_are_measured_along_them() {
        // 800 x 800: four ties at the middles of the sides are 800 apart along the perimeter of 3200.
        let e = veneer(800., 800.);
        let ties = [(1900., 900.), (2400., 1400.), (1900., 1900.), (1400., 1400.)];
        passes(Rule::EdgeTies, &e, &ties);
        let f = broken(Rule::EdgeTies, &e, &ties[..3]);
        // From the head's middle round to the sill's: 1600 in place of 914.4.
        assert!((f.measured.unwrap_or(0.) - 1600.).abs() < 1e-6);
    }
}
