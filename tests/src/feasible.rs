//! Whether a breach could have been avoided: tries every place, and asks a general geometry library what
//! a tie there would serve.

use geo::{
    BooleanOps, Contains, Coord, Intersects, LineString, MultiPolygon, Point as GeoPoint, Polygon, Rect,
};
use layout_core::check::{Finding, Rule, check};
use layout_core::elevation::{Elevation, Fix, Point, shape_ring};
use layout_core::masonry::{Edge, Masonry, Measure, edges, service};
use layout_core::rules::{RuleSet, resolve};

/// Step of the places tried along a row, mm.
const STEP: f64 = 5.0;

/// Whether some place where a tie may stand, other new ties aside, would serve the place of a finding
/// about coverage or edge ties. Other rules are never unavoidable for a placed tie.
///
/// # Panics
///
/// If the elevation's rules are unknown.
#[must_use]
pub fn could_be_served(elevation: &Elevation, finding: &Finding) -> bool {
    let rules = resolve(&elevation.rules).expect("known rules");
    let masonry = Masonry::new(elevation);
    match finding.rule {
        Rule::Coverage => {
            let shape = polygons(elevation);
            let (h, v) = (rules.horizontal.value / 2.0, rules.vertical.value / 2.0);
            places(elevation, finding.at, h, v)
                .any(|p| may_stand(elevation, &masonry, &rules, p) && serves(&shape, p, h, v, finding.at))
        }
        Rule::EdgeTies => {
            let Some(rule) = &rules.edges else { return true };
            let all = edges(&masonry, elevation, rule);
            // The two faces of a joint are in one place: one of them is meant.
            let mut meant = all.iter().filter(|e| {
                e.pieces.iter().any(|s| s.distance(finding.at) < 0.5) && finding.message.contains(e.words())
            });
            meant.all(|edge| some_place_serves(elevation, &masonry, &rules, edge, finding.at))
        }
        _ => true,
    }
}

/// Whether some place where a tie may stand serves a place of an edge.
fn some_place_serves(
    elevation: &Elevation,
    masonry: &Masonry,
    rules: &RuleSet,
    edge: &Edge,
    at: Point,
) -> bool {
    let Some(within) = rules.edges.as_ref().map(|rule| rule.within.value) else { return true };
    let half = edge.spacing / 2.0;
    let (dx, dy) = match edge.measure {
        Measure::Height => (within + half, half),
        Measure::Length { .. } => (within + half, within + half),
        Measure::Level => (within + edge.hi.0 - edge.lo.0, within),
    };
    places(elevation, at, dx, dy).any(|p| {
        may_stand(elevation, masonry, rules, p)
            && service(masonry, edge, p, within).is_some_and(|s| match edge.measure {
                Measure::Height => (s.place - at.1).abs() <= half,
                Measure::Length { ring } => {
                    let off = (s.place - length_to(edge, at)).abs();
                    off <= half || (ring && edge.to - off <= half)
                }
                Measure::Level => true,
            })
    })
}

/// The length along an edge to its point nearest to `p`, mm.
fn length_to(edge: &Edge, p: Point) -> f64 {
    let mut along = 0.0;
    let mut best = (f64::INFINITY, 0.0);
    for s in &edge.pieces {
        let q = s.nearest(p);
        if s.distance(p) < best.0 {
            best = (s.distance(p), along + (q.0 - s.a.0).hypot(q.1 - s.a.1));
        }
        along += s.length();
    }
    best.1
}

fn places(e: &Elevation, about: Point, dx: f64, dy: f64) -> impl Iterator<Item = Point> {
    let c = e.coursing;
    let rows: Vec<f64> = if c.fix == Fix::Anywhere {
        let n = (2.0 * dy / STEP) as i64;
        (0..=n).map(|i| about.1 - dy + i as f64 * STEP).collect()
    } else {
        let (a, b) = (
            ((about.1 - dy - c.first_bed) / c.gauge).floor() as i64 - 1,
            ((about.1 + dy - c.first_bed) / c.gauge).ceil() as i64 + 1,
        );
        (a..=b).map(|k| c.height(k)).filter(|y| (y - about.1).abs() <= dy).collect()
    };
    let n = (2.0 * dx / STEP) as i64;
    rows.into_iter().flat_map(move |y| (0..=n).map(move |i| (about.0 - dx + i as f64 * STEP, y)))
}

/// Whether a tie may stand at a place as far as boundaries, keep-outs, old ties and courses go.
fn may_stand(e: &Elevation, masonry: &Masonry, rules: &RuleSet, p: Point) -> bool {
    let d = rules.edge_distance.value;
    if !masonry.contains(p) || masonry.boundary.nearest_within(p, d).is_some() {
        return false;
    }
    let r = rules.existing_clearance.value;
    if e.existing_ties.iter().any(|t| (t.at.0 - p.0).hypot(t.at.1 - p.1) < r) {
        return false;
    }
    e.keep_outs.is_empty() || !check(e, masonry, rules, &[p]).iter().any(|f| f.rule == Rule::KeepOut)
}

/// A closed ring of points as a polygon.
#[must_use]
pub fn ring(points: &[Point]) -> Polygon<f64> {
    let mut line = LineString::from(points.to_vec());
    line.close();
    Polygon::new(line, vec![])
}

/// The masonry by a general geometry library, joints as slits of 0.02 mm.
#[must_use]
pub fn polygons(e: &Elevation) -> MultiPolygon<f64> {
    let mut shape = MultiPolygon::new(vec![ring(&e.outline)]);
    let holes: Vec<Polygon<f64>> = e.openings.iter().map(|o| ring(&shape_ring(&o.shape))).collect();
    for hole in holes {
        shape = shape.difference(&hole);
    }
    for j in &e.movement_joints {
        let slit =
            Rect::new(Coord { x: j.x - 0.01, y: j.from - 0.01 }, Coord { x: j.x + 0.01, y: j.to + 0.01 });
        shape = shape.difference(&slit.to_polygon());
    }
    shape
}

/// Whether a tie at `p` serves the point `q`, by cutting out the rectangle about it.
#[must_use]
pub fn serves(shape: &MultiPolygon<f64>, p: Point, h: f64, v: f64, q: Point) -> bool {
    if (p.0 - q.0).abs() > h || (p.1 - q.1).abs() > v {
        return false;
    }
    let window = Rect::new(Coord { x: p.0 - h, y: p.1 - v }, Coord { x: p.0 + h, y: p.1 + v }).to_polygon();
    let cut = shape.intersection(&MultiPolygon::new(vec![window]));
    cut.iter()
        .any(|piece| piece.contains(&GeoPoint::new(p.0, p.1)) && piece.intersects(&GeoPoint::new(q.0, q.1)))
}
