//! Faults planted one at a time in layouts that have none: each is found at its place, and nothing else is said
//! except where the tie that was moved leaves something unserved.

use geo::{Area, Contains, Coord, Line, MultiPolygon};
use layout_core::check::{Finding, Rule, Severity};
use layout_core::elevation::{
    Elevation, ExistingTie, Fix, KeepOut, Point, Shape, TieForm, shape_bounds, shape_ring,
};
use layout_core::masonry::{BoundarySegment, Masonry, fewest_ties};
use layout_core::plan;
use layout_core::rules::{EdgeScope, RuleSet, resolve};
use tiewright_tests::served::{cut, served_by, thick_area, unserved};
use tiewright_tests::walls::{Dice, FAMILIES, wall};

/// Elevations tried of each family; those without a compliant layout are passed over.
const OF_EACH: u64 = 12;

/// A wall with a layout that has no fault, fixed in place as if made by hand.
struct Sound {
    elevation: Elevation,
    rules: RuleSet,
    masonry: Masonry,
    dice: Dice,
}

fn breaches(e: &Elevation) -> Vec<Finding> {
    let plan = plan(e).unwrap_or_else(|faults| panic!("{}: {faults:?}", e.name));
    plan.findings.into_iter().filter(|f| f.severity == Severity::Breach).collect()
}

fn apart(p: Point, q: Point) -> f64 {
    (p.0 - q.0).hypot(p.1 - q.1)
}

/// Every sound wall.
fn sound() -> Vec<Sound> {
    let mut out = Vec::new();
    for (n, family) in FAMILIES.into_iter().enumerate() {
        for seed in 0..OF_EACH {
            let mut e = wall(family, seed + 2000);
            let first = plan(&e).unwrap_or_else(|faults| panic!("{}: {faults:?}", e.name));
            if first.has_breach() {
                continue;
            }
            e.pinned = first.ties.iter().map(|t| t.at).collect();
            e.automatic = false;
            let second = plan(&e).unwrap_or_else(|faults| panic!("{}: {faults:?}", e.name));
            assert_eq!(second.findings, first.findings, "{}", e.name);
            let as_placed = |p: &layout_core::Plan| p.ties.iter().map(|t| (t.at, t.role)).collect::<Vec<_>>();
            assert_eq!(as_placed(&second), as_placed(&first), "{}", e.name);
            out.push(Sound {
                rules: resolve(&e.rules).expect("known rules"),
                masonry: Masonry::new(&e),
                dice: Dice::new(seed * 31 + n as u64),
                elevation: e,
            });
        }
    }
    assert!(out.len() >= 60, "only {} walls have a sound layout", out.len());
    out
}

impl Sound {
    /// Whether a tie at `p` would break none of rules 4 to 7, ties `but` aside; 5 mm to spare.
    fn clear(&self, p: Point, but: &[usize]) -> bool {
        let e = &self.elevation;
        let spare = 5.0;
        self.clear_of_boundary(p, self.rules.edge_distance.value + spare)
            && self.clear_of_ties(p, self.rules.between.value + spare, but)
            && self.clear_of_hazards(p, spare)
            && e.coursing.off_course(p.1) < 0.1
    }

    fn clear_of_boundary(&self, p: Point, by: f64) -> bool {
        self.masonry.contains(p) && self.masonry.boundary.segments.iter().all(|s| s.distance(p) >= by)
    }

    fn clear_of_ties(&self, p: Point, by: f64, but: &[usize]) -> bool {
        self.elevation.pinned.iter().enumerate().all(|(i, &q)| but.contains(&i) || apart(p, q) >= by)
    }

    fn clear_of_hazards(&self, p: Point, spare: f64) -> bool {
        let old = self.rules.existing_clearance.value + spare;
        self.elevation.existing_ties.iter().all(|t| apart(t.at, p) >= old)
            && self.elevation.keep_outs.iter().all(|k| {
                let (l, b, r, t) = shape_bounds(&k.shape);
                let by = k.clearance + spare;
                p.0 < l - by || p.0 > r + by || p.1 < b - by || p.1 > t + by
            })
    }

    /// The numbers of the ties, in an order of their own for each wall.
    fn shuffled(&mut self) -> Vec<usize> {
        let mut order: Vec<usize> = (0..self.elevation.pinned.len()).collect();
        for i in (1..order.len()).rev() {
            order.swap(i, self.dice.whole(0, i as i64) as usize);
        }
        order
    }

    /// What is found when tie `i` is taken away or stands at `to` instead.
    fn with_tie_at(&self, i: usize, to: Option<Point>) -> Vec<Finding> {
        let mut e = self.elevation.clone();
        match to {
            Some(p) => e.pinned[i] = p,
            None => {
                e.pinned.remove(i);
            }
        }
        breaches(&e)
    }

    fn with_one_more(&self, p: Point) -> Vec<Finding> {
        let mut e = self.elevation.clone();
        e.pinned.push(p);
        breaches(&e)
    }

    /// What tie `i` alone serves, by a general geometry library, with the tie at `to` if it is moved; mm2.
    fn left_unserved(&self, i: usize, to: Option<Point>) -> f64 {
        let reach = (self.rules.horizontal.value / 2.0, self.rules.vertical.value / 2.0);
        let (shape, gone) = (cut(&self.elevation), self.elevation.pinned[i]);
        let others =
            self.elevation.pinned.iter().enumerate().filter(|(j, _)| *j != i).map(|(_, &q)| q).chain(to);
        let near: Vec<Point> = others
            .filter(|q| (q.0 - gone.0).abs() <= 2.0 * reach.0 && (q.1 - gone.1).abs() <= 2.0 * reach.1)
            .collect();
        let left = unserved(&served_by(&shape, gone, reach), &shape, &near, reach);
        if left.unsigned_area() > 0.0 { thick_area(&left) } else { 0.0 }
    }

    /// Asserts that all these findings are about what tie `i` served and serves no more, and that what it
    /// alone served is among them. Returns how many there are of coverage, edges and density.
    #[track_caller]
    fn only_what_it_served(&self, i: usize, to: Option<Point>, rest: &[&Finding]) -> [usize; 3] {
        let (name, gone) = (&self.elevation.name, self.elevation.pinned[i]);
        let mut counts = [0; 3];
        for f in rest {
            match f.rule {
                Rule::Coverage => {
                    counts[0] += 1;
                    let (h, v) = (self.rules.horizontal.value / 2.0, self.rules.vertical.value / 2.0);
                    let near = (f.at.0 - gone.0).abs() <= h && (f.at.1 - gone.1).abs() <= v;
                    assert!(near, "{name}: tie at {gone:?} never served {:?}", f.at);
                }
                Rule::EdgeTies => {
                    counts[1] += 1;
                    self.near_its_edge(gone, f);
                }
                Rule::Density => {
                    counts[2] += 1;
                    assert!(to.is_none(), "{name}: {}", f.message);
                }
                _ => panic!("{name}, tie at {gone:?} to {to:?}: {}", f.message),
            }
        }
        let area = self.left_unserved(i, to);
        // What is about as small as a square of 4 mm may go either way.
        if area > 200.0 {
            assert!(counts[0] > 0, "{name}: {area} mm2 that {gone:?} served are not reported");
        } else if area < 4.0 {
            assert_eq!(counts[0], 0, "{name}: nothing is left unserved at {gone:?}");
        }
        counts
    }

    /// Asserts that a finding about an edge is within reach of where a tie stood.
    #[track_caller]
    fn near_its_edge(&self, gone: Point, f: &Finding) {
        let rule = self.rules.edges.as_ref().expect("a set with edge ties");
        let (within, half) = (rule.within.value + 1.0, rule.spacing.value / 2.0 + 1.0);
        let near = match rule.scope {
            // A level free end is one place, wherever on it the tie stood.
            _ if f.message.contains("it needs one") => (f.at.1 - gone.1).abs() <= within,
            EdgeScope::Upright => (f.at.1 - gone.1).abs() <= half,
            EdgeScope::OpeningPerimeter { .. } | EdgeScope::EveryFreeEdge { .. } => {
                apart(f.at, gone) <= within + half
            }
        };
        assert!(near, "{}: tie at {gone:?} never counted at {:?}: {}", self.elevation.name, f.at, f.message);
    }

    /// Asserts that the findings hold the planted one at its place once, and returns the rest.
    #[track_caller]
    fn planted<'a>(&self, found: &'a [Finding], rule: Rule, at: Point, measured: f64) -> Vec<&'a Finding> {
        let is_it = |f: &&Finding| f.rule == rule && apart(f.at, at) < 1e-6;
        let ours: Vec<_> = found.iter().filter(is_it).collect();
        assert_eq!(ours.len(), 1, "{}: one {rule:?} at {at:?} in {found:#?}", self.elevation.name);
        let got = ours[0].measured.unwrap_or(f64::NAN);
        // Places are rounded to a thousandth of a millimetre.
        assert!((got - measured).abs() < 2e-3, "{}: {got} in place of {measured}", self.elevation.name);
        found.iter().filter(|f| !is_it(f)).collect()
    }

    fn nearest_tie(&self, p: Point) -> usize {
        let ties = &self.elevation.pinned;
        (0..ties.len()).min_by(|&a, &b| apart(ties[a], p).total_cmp(&apart(ties[b], p))).expect("a tie")
    }
}

#[test]
fn a_tie_removed() {
    let mut counts = [0; 3];
    for mut s in sound() {
        for i in s.shuffled().into_iter().take(4) {
            let found = s.with_tie_at(i, None);
            let all: Vec<&Finding> = found.iter().collect();
            let of = s.only_what_it_served(i, None, &all);
            let fewest = fewest_ties(&s.masonry, &s.elevation, &s.rules);
            assert_eq!(of[2] == 1, s.elevation.pinned.len() - 1 < fewest, "{}: {found:?}", s.elevation.name);
            for (sum, n) in counts.iter_mut().zip(of) {
                *sum += n;
            }
        }
    }
    assert!(counts[0] > 100 && counts[1] > 40 && counts[2] > 4, "{counts:?}");
}

#[test]
fn a_tie_moved_off_its_course() {
    let mut planted = 0;
    for mut s in sound() {
        if s.elevation.coursing.fix == Fix::Anywhere {
            continue;
        }
        let place = s.shuffled().into_iter().find_map(|i| {
            let (x, y) = s.elevation.pinned[i];
            // The spare distance is wider than the move: the place it stood at was clear by as much.
            let to = (x, y + 30.0);
            let clear = s.clear_of_boundary(to, s.rules.edge_distance.value + 1.0)
                && s.clear_of_ties(to, s.rules.between.value + 1.0, &[i])
                && s.clear_of_hazards(to, 1.0);
            clear.then_some((i, to))
        });
        let Some((i, to)) = place else { continue };
        let found = s.with_tie_at(i, Some(to));
        let rest = s.planted(&found, Rule::Coursing, to, 30.0);
        s.only_what_it_served(i, Some(to), &rest);
        planted += 1;
    }
    assert!(planted >= 60, "only {planted} walls");
}

/// A stretch of a jamb.
type Stretch = (f64, f64);

/// The heights from `from` to `to` of a jamb at `x` that no tie is near enough to, by a general geometry library.
fn short_heights(
    s: &Sound,
    shape: &MultiPolygon<f64>,
    x: f64,
    (from, to): Stretch,
    ties: &[Point],
) -> Vec<Stretch> {
    let Some(rule) = &s.rules.edges else { return Vec::new() };
    // Distances pass within 1 mm.
    let (within, half) = (rule.within.value + 1.0, rule.spacing.value / 2.0);
    let mut served: Vec<f64> = ties
        .iter()
        .filter(|t| {
            let foot = (x, t.1.clamp(from, to));
            let length = apart(**t, foot);
            // Just short of the jamb, so that rounding does not put the line's end off the masonry.
            let k = 1.0 - 0.01 / length;
            let end = (t.0 + (foot.0 - t.0) * k, t.1 + (foot.1 - t.1) * k);
            length <= within && shape.contains(&Line::new(Coord::from(**t), Coord::from(end)))
        })
        .map(|t| t.1)
        .collect();
    served.sort_by(f64::total_cmp);
    let mut out = Vec::new();
    let mut reached = from;
    for y in served {
        if y - half > reached {
            out.push((reached, (y - half).min(to)));
        }
        reached = reached.max(y + half);
    }
    out.push((reached, to));
    // Each tie may be off by 1 mm.
    out.retain(|(a, b)| b - a > 3.0);
    out
}

#[test]
fn jambs_left_short_of_ties() {
    let (mut short, mut whole) = (0, 0);
    for mut s in sound() {
        if s.rules.edges.as_ref().is_none_or(|r| r.scope != EdgeScope::Upright) {
            continue;
        }
        let shape = cut(&s.elevation);
        for share in [4, 20, 70] {
            let mut e = s.elevation.clone();
            e.pinned.retain(|_| !s.dice.chance(share));
            let found: Vec<Finding> = breaches(&e).into_iter().filter(|f| f.rule == Rule::EdgeTies).collect();
            for o in &e.openings {
                let Shape::Rect { x, y, w, h } = o.shape else { continue };
                for jamb in [x, x + w] {
                    let on_jamb = |f: &&Finding| f.at.0 == jamb && (y..=y + h).contains(&f.at.1);
                    let reported: Vec<&Finding> = found.iter().filter(on_jamb).collect();
                    let expect = short_heights(&s, &shape, jamb, (y, y + h), &e.pinned);
                    let places: Vec<Point> = reported.iter().map(|f| f.at).collect();
                    assert_eq!(places.len(), expect.len(), "{} x {jamb}: {expect:?}, {places:?}", e.name);
                    for ((a, b), at) in expect.iter().zip(&places) {
                        assert!(*a <= at.1 && at.1 <= *b, "{} x {jamb}: {at:?} not in {a} to {b}", e.name);
                    }
                    if expect.is_empty() { whole += 1 } else { short += 1 }
                }
            }
        }
    }
    assert!(short > 200 && whole > 200, "{short} jambs are short of ties, {whole} are not");
}

/// Places 40 mm from an upright piece of boundary, on a course, clear of all else.
fn near_upright(s: &Sound, piece: &BoundarySegment) -> Option<Point> {
    if piece.a.0 != piece.b.0 || piece.length() < 400.0 {
        return None;
    }
    // Masonry lies on the left.
    let x = piece.a.0 + if piece.b.1 > piece.a.1 { -40.0 } else { 40.0 };
    let y = s.elevation.coursing.height(s.elevation.coursing.nearest(f64::midpoint(piece.a.1, piece.b.1)));
    let p = (x, y);
    let alone = s.masonry.contains(p)
        && s.masonry.boundary.segments.iter().all(|o| o == piece || o.distance(p) >= 40.1);
    let but = [s.nearest_tie(p)];
    (alone && s.clear_of_ties(p, s.rules.between.value + 1.0, &but) && s.clear_of_hazards(p, 1.0))
        .then_some(p)
}

#[test]
fn a_tie_moved_to_40_mm_from_a_jamb_or_side() {
    let (mut jambs, mut sides) = (0, 0);
    for s in sound() {
        let upright = |jamb: bool| {
            s.masonry
                .boundary
                .segments
                .iter()
                .filter(move |p| matches!(p.kind, layout_core::masonry::BoundaryKind::Opening) == jamb)
                .find_map(|p| near_upright(&s, p))
        };
        for (jamb, to) in [(true, upright(true)), (false, upright(false))] {
            let Some(to) = to else { continue };
            let i = s.nearest_tie(to);
            let found = s.with_tie_at(i, Some(to));
            let rest = s.planted(&found, Rule::EdgeDistance, to, 40.0);
            s.only_what_it_served(i, Some(to), &rest);
            if jamb { jambs += 1 } else { sides += 1 }
        }
    }
    assert!(jambs >= 20 && sides >= 60, "{jambs} jambs, {sides} sides");
}

#[test]
fn a_tie_in_a_keep_out() {
    let (mut moved, mut drawn) = (0, 0);
    for mut s in sound() {
        // A keep-out of 20 x 20, 50 clear, about a tie: other ties are at least 100 away.
        let i = s.shuffled()[0];
        let (x, y) = s.elevation.pinned[i];
        let mut e = s.elevation.clone();
        let shape = Shape::Rect { x: x - 10.0, y: y - 10.0, w: 20.0, h: 20.0 };
        e.keep_outs.push(KeepOut { name: "Cable".to_owned(), shape, clearance: 50.0 });
        let found = breaches(&e);
        assert!(s.planted(&found, Rule::KeepOut, (x, y), -10.0).is_empty(), "{}: {found:?}", e.name);
        drawn += 1;
        // The nearest tie moved into a keep-out that was there.
        let Some(k) = s.elevation.keep_outs.first() else { continue };
        let (l, b, r, t) = shape_bounds(&k.shape);
        let c = s.elevation.coursing;
        let middle = (f64::midpoint(l, r), f64::midpoint(b, t));
        let to = (middle.0, if c.fix == Fix::Anywhere { middle.1 } else { c.height(c.nearest(middle.1)) });
        let i = s.nearest_tie(to);
        let ring = shape_ring(&k.shape);
        let depth = (0..ring.len())
            .map(|n| BoundarySegment {
                a: ring[n],
                b: ring[(n + 1) % ring.len()],
                kind: s.masonry.boundary.segments[0].kind,
            })
            .map(|side| side.distance(to))
            .fold(f64::INFINITY, f64::min);
        let others = s.elevation.keep_outs[1..].iter().all(|o| {
            let (l, b, r, t) = shape_bounds(&o.shape);
            to.0 < l - 60.0 || to.0 > r + 60.0 || to.1 < b - 60.0 || to.1 > t + 60.0
        });
        if to.1 <= b || to.1 >= t || !others || !s.clear_of_ties(to, s.rules.between.value, &[i]) {
            continue;
        }
        let found = s.with_tie_at(i, Some(to));
        let rest = s.planted(&found, Rule::KeepOut, to, -depth);
        s.only_what_it_served(i, Some(to), &rest);
        moved += 1;
    }
    assert!(drawn >= 60 && moved >= 4, "{drawn} drawn, {moved} moved");
}

#[test]
fn one_tie_60_mm_from_another() {
    let mut planted = 0;
    for mut s in sound() {
        let place = s.shuffled().into_iter().find_map(|i| {
            let (x, y) = s.elevation.pinned[i];
            [60.0, -60.0].map(|d| (x + d, y)).into_iter().find(|&p| s.clear(p, &[i]))
        });
        let Some(p) = place else { continue };
        let found = s.with_one_more(p);
        assert_eq!(found.len(), 1, "{}: {found:#?}", s.elevation.name);
        assert_eq!(found[0].rule, Rule::SpacingBetween);
        // Reported at one of the two.
        let near = apart(found[0].at, p) < 60.1 && (found[0].measured.unwrap_or(0.0) - 60.0).abs() < 2e-3;
        assert!(near, "{}: {found:?}", s.elevation.name);
        planted += 1;
    }
    assert!(planted >= 60, "only {planted} walls");
}

#[test]
fn an_old_tie_50_mm_from_a_new_one() {
    let mut planted = 0;
    for mut s in sound() {
        let place = s.shuffled().into_iter().find_map(|i| {
            let (x, y) = s.elevation.pinned[i];
            // 30, 40, 50.
            let old = (x + 30.0, y + 40.0);
            (s.masonry.contains(old) && s.clear_of_ties(old, 101.0, &[i])).then_some((i, old))
        });
        let Some((i, at)) = place else { continue };
        let mut e = s.elevation.clone();
        e.existing_ties.push(ExistingTie { at, form: TieForm::FlatStrip, ..ExistingTie::default() });
        let found = breaches(&e);
        let rest = s.planted(&found, Rule::ExistingTies, s.elevation.pinned[i], 50.0);
        assert!(rest.is_empty(), "{}: {rest:?}", e.name);
        planted += 1;
    }
    assert!(planted >= 60, "only {planted} walls");
}

#[test]
fn a_tie_off_the_wall_and_in_an_opening() {
    let mut openings = 0;
    for mut s in sound() {
        let (_, bottom, right, _) = shape_bounds(&Shape::Polygon(s.elevation.outline.clone()));
        let c = s.elevation.coursing;
        let off = (right + 500.0, c.height(c.nearest(bottom + 600.0)));
        let found = s.with_one_more(off);
        assert!(s.planted(&found, Rule::EdgeDistance, off, 0.0).is_empty(), "{}", s.elevation.name);
        // One moved off the wall serves nothing there.
        let i = s.shuffled()[0];
        let found = s.with_tie_at(i, Some(off));
        let rest = s.planted(&found, Rule::EdgeDistance, off, 0.0);
        s.only_what_it_served(i, None, &rest);
        let Some(o) = s.elevation.openings.first() else { continue };
        let (l, b, r, t) = shape_bounds(&o.shape);
        let middle = (f64::midpoint(l, r), c.height(c.nearest(f64::midpoint(b, t))));
        let found = s.with_one_more(middle);
        assert!(s.planted(&found, Rule::EdgeDistance, middle, 0.0).is_empty(), "{}", s.elevation.name);
        openings += 1;
    }
    assert!(openings >= 20, "only {openings} openings");
}
