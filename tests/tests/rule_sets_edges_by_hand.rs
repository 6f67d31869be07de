//! Edge ties of every family of rule sets, in cases that can be worked out by hand: values from the documents
//! named in the sets (see `published_values.rs`), layouts placed here.

use layout_core::check::{Finding, Rule, check};
use layout_core::elevation::{Elevation, Fix, Opening, Point, RuleChoice, Shape, SideCondition};
use layout_core::masonry::{Masonry, edge_ties_on_top, fewest_ties};
use layout_core::plan;
use layout_core::rules::{WindPlace, german_density, resolve, sets};
use layout_core::units::INCH;

/// A wall whose sides have no ties of their own under any set but the German ones.
fn held(rules: &str, w: f64, h: f64) -> Elevation {
    let mut e = Elevation::new("Wall", vec![(0.0, 0.0), (w, 0.0), (w, h), (0.0, h)]);
    e.rules = RuleChoice::Named(rules.to_owned());
    e.coursing.fix = Fix::Anywhere;
    e.sides =
        vec![SideCondition::Base, SideCondition::Corner, SideCondition::Abutment, SideCondition::Corner];
    e
}

fn window(e: &mut Elevation, x: f64, y: f64, w: f64, h: f64) {
    e.openings.push(Opening { name: "W1".to_owned(), shape: Shape::Rect { x, y, w, h } });
}

/// What the edge rule alone finds.
fn at_edges(e: &Elevation, ties: &[Point]) -> Vec<Finding> {
    let rules = resolve(&e.rules).expect("known rules");
    let found = check(e, &Masonry::new(e), &rules, ties);
    found.into_iter().filter(|f| f.rule == Rule::EdgeTies).collect()
}

#[track_caller]
fn gaps(found: &[Finding], count: usize, measured: f64, required: f64) {
    assert_eq!(found.len(), count, "{found:#?}");
    for f in found {
        // A tenth of a millimetre: arithmetic in inches.
        let near = |v: Option<f64>, expect: f64| (v.unwrap_or(f64::NAN) - expect).abs() < 0.1;
        assert!(near(f.measured, measured) && near(f.required, required), "{f:#?}");
    }
}

/// Sets with 300 up a jamb, and how near the jamb.
const JAMBS_AT_300: [(&str, f64); 6] = [
    ("uk-approved-document-a", 225.0),
    ("uk-thin-leaf", 225.0),
    ("uk-older-wide-cavity", 150.0),
    ("uk-timber-frame", 225.0),
    ("uk-timber-frame-exposed", 225.0),
    ("ec6-uk-annex", 225.0),
];

#[test]
fn jambs_have_a_tie_for_every_300_of_height() {
    for (id, within) in JAMBS_AT_300 {
        // A window 900 high, from 900 to 1800: ties at 1050, 1350 and 1650 serve 150 up and down of each.
        let mut e = held(id, 3600.0, 2700.0);
        window(&mut e, 1200.0, 900.0, 1200.0, 900.0);
        let beside = |off: f64| -> Vec<Point> {
            [1050.0, 1350.0, 1650.0].iter().flat_map(|&y| [(1200.0 - off, y), (2400.0 + off, y)]).collect()
        };
        assert_eq!(at_edges(&e, &beside(within)), [], "{id}");
        // 2 mm further off they count for no jamb: each is without a tie.
        assert_eq!(at_edges(&e, &beside(within + 2.0)).len(), 2, "{id}");
        // Without the middle one of the left jamb, 600 lie between its neighbours.
        let mut two = beside(100.0);
        two.remove(2);
        gaps(&at_edges(&e, &two), 1, 600.0, 300.0);
        // Heads and sills have none of their own, nor has a bonded corner.
        let mut low = held(id, 3600.0, 2700.0);
        window(&mut low, 1200.0, 900.0, 1200.0, 300.0);
        assert_eq!(at_edges(&low, &[(1100.0, 1050.0), (2500.0, 1050.0)]), [], "{id}");
    }
}

#[test]
fn a_small_opening_has_jambs_where_no_set_exempts_it() {
    // 150 x 150: a tie beside each jamb at its height, for sets that measure jambs.
    for (id, _) in JAMBS_AT_300 {
        let mut e = held(id, 1800.0, 900.0);
        window(&mut e, 825.0, 375.0, 150.0, 150.0);
        assert_eq!(at_edges(&e, &[(725.0, 450.0), (1075.0, 450.0)]), [], "{id}");
        assert_eq!(at_edges(&e, &[(725.0, 450.0)]).len(), 1, "{id}");
    }
    // The US sets: 16 in either way are exempt, so is this.
    for id in ["us-irc-2018", "us-tms402-2016"] {
        let mut e = held(id, 1800.0, 900.0);
        window(&mut e, 825.0, 375.0, 150.0, 150.0);
        assert_eq!(at_edges(&e, &[]), [], "{id}");
    }
}

/// Ties about a window of 48 x 48 in at (36, 36) in, 6 in off its perimeter, at lengths along it from the lower
/// left corner, anticlockwise; inches.
fn round_the_window(along: &[f64]) -> Vec<Point> {
    let place = |s: f64| match s {
        s if s < 48.0 => (36.0 + s, 30.0),
        s if s < 96.0 => (90.0, 36.0 + s - 48.0),
        s if s < 144.0 => (84.0 - (s - 96.0), 90.0),
        s => (30.0, 84.0 - (s - 144.0)),
    };
    along.iter().map(|&s| place(s)).map(|(x, y)| (x * INCH, y * INCH)).collect()
}

#[test]
fn us_openings_have_ties_all_round() {
    // The perimeter is 192 in: at most 36 in apart, within 12 in. Six ties stand 32 in apart along it.
    let six = [8.0, 40.0, 72.0, 104.0, 136.0, 168.0];
    for id in ["us-irc-2018", "us-tms402-2016"] {
        let mut e = held(id, 120.0 * INCH, 120.0 * INCH);
        window(&mut e, 36.0 * INCH, 36.0 * INCH, 48.0 * INCH, 48.0 * INCH);
        assert_eq!(at_edges(&e, &round_the_window(&six)), [], "{id}");
        // Without one of them, 64 in lie between its neighbours, at a head as at a jamb.
        for gone in 0..six.len() {
            let mut five = six.to_vec();
            five.remove(gone);
            gaps(&at_edges(&e, &round_the_window(&five)), 1, 64.0 * INCH, 36.0 * INCH);
        }
        // Five at even steps are 38.4 in apart: too far, five times.
        let five = [4.8, 43.2, 81.6, 120.0, 158.4];
        gaps(&at_edges(&e, &round_the_window(&five)), 5, 38.4 * INCH, 36.0 * INCH);
        // 13 in off, none counts: the ring of ties moved 7 in outwards.
        let far: Vec<Point> = round_the_window(&six)
            .into_iter()
            .map(|(x, y)| {
                let out = |v: f64| match v / INCH {
                    i if i < 31.0 => v - 7.0 * INCH,
                    i if i > 89.0 => v + 7.0 * INCH,
                    _ => v,
                };
                (out(x), out(y))
            })
            .collect();
        assert!(!at_edges(&e, &far).is_empty(), "{id}");
        let plan = plan(&e).expect("a usable wall");
        assert_eq!(plan.findings, [], "{id}");
    }
}

#[test]
fn us_openings_are_exempt_up_to_16_inches_either_way() {
    for id in ["us-irc-2018", "us-tms402-2016"] {
        for (w, h, has) in [(16.0, 16.0, false), (4.0, 16.0, false), (16.5, 4.0, true), (4.0, 16.5, true)] {
            let mut e = held(id, 96.0 * INCH, 96.0 * INCH);
            window(&mut e, 40.0 * INCH, 40.0 * INCH, w * INCH, h * INCH);
            assert_eq!(!at_edges(&e, &[]).is_empty(), has, "{id}: {w} x {h} in");
        }
    }
}

#[test]
fn australian_openings_have_ties_all_round_within_300() {
    // A window 600 x 600 at (1200, 1200): a tie at the middle of each side serves 300 to either hand of it.
    let mut e = held("au-as3700", 3000.0, 3000.0);
    window(&mut e, 1200.0, 1200.0, 600.0, 600.0);
    let four = [(1000.0, 1500.0), (2000.0, 1500.0), (1500.0, 1000.0), (1500.0, 2000.0)];
    assert_eq!(at_edges(&e, &four), []);
    for (gone, words) in [(0, "jamb"), (1, "jamb"), (2, "head or sill"), (3, "head or sill")] {
        let three: Vec<Point> = (0..4).filter(|&i| i != gone).map(|i| four[i]).collect();
        let found = at_edges(&e, &three);
        assert_eq!(found.len(), 1, "{found:#?}");
        assert!(found[0].message.contains(words), "{}", found[0].message);
    }
    // 302 off the left jamb it does not count.
    let far = [(898.0, 1500.0), four[1], four[2], four[3]];
    assert_eq!(at_edges(&e, &far).len(), 1);
    // A free end 1200 high: at 300 and 900, 600 apart.
    let mut e = held("au-as3700", 3000.0, 1200.0);
    e.sides[1] = SideCondition::FreeEnd;
    assert_eq!(at_edges(&e, &[(2800.0, 300.0), (2800.0, 900.0)]), []);
    gaps(&at_edges(&e, &[(2800.0, 300.0), (2800.0, 910.0)]), 1, 610.0, 600.0);
}

#[test]
fn german_numbers_with_the_edges_on_top() {
    // 4 x 3 m of 12 m2. Bonded corners 3 m each, at 3 a metre 9 and 9; the top is held here, so has none: 18.
    for (id, per_m2, fewest) in [
        ("de-din-en-1996-5", 5.0, 60 + 18),
        ("de-din-en-1996", 7.0, 84 + 18),
        ("de-din-en-1996-8", 8.0, 96 + 18),
        ("de-din-en-1996-9", 9.0, 108 + 18),
    ] {
        assert_eq!(sets::by_id(id).map(|s| s.density.value.per_m2()), Some(per_m2));
        let e = held(id, 4000.0, 3000.0);
        let (masonry, rules) = (Masonry::new(&e), resolve(&e.rules).expect("known rules"));
        assert_eq!(edge_ties_on_top(&masonry, &e, &rules), 18, "{id}");
        assert_eq!(fewest_ties(&masonry, &e, &rules), fewest, "{id}");
        let plan = plan(&e).expect("a usable wall");
        assert_eq!((plan.findings.as_slice(), plan.ties.len()), (&[][..], fewest), "{id}");
    }
}

#[test]
fn german_gables_and_small_openings_add_theirs() {
    // A gable 4 m wide, eaves at 2 m, apex at 4 m: 8 + 4 m2. Corners 2 m each: 6 and 6. Verges 2.828 m each, by
    // a third of a metre 8.5: 9 and 9. An air brick 300 x 300: 0.9 for each of its four sides, so 4.
    let ring = vec![(0.0, 0.0), (4000.0, 0.0), (4000.0, 2000.0), (2000.0, 4000.0), (0.0, 2000.0)];
    let mut e = Elevation::new("Gable", ring);
    e.rules = RuleChoice::Named("de-din-en-1996".to_owned());
    window(&mut e, 1000.0, 1000.0, 300.0, 300.0);
    let (masonry, rules) = (Masonry::new(&e), resolve(&e.rules).expect("known rules"));
    assert_eq!(edge_ties_on_top(&masonry, &e, &rules), 6 + 6 + 9 + 9 + 4);
    // 12 - 0.09 m2 at 7 make 83.4, so 84.
    assert_eq!(fewest_ties(&masonry, &e, &rules), 84 + 34);
}

#[test]
fn every_number_of_the_german_table_has_a_set() {
    // DIN EN 1996-2/NA: height to 10, 18 and 25 m by zone and place; `None` where the table allows none. The shortest side
    // of the plan, 10 m, is over a quarter of every height.
    use WindPlace::{Coast, Inland, NorthSeaIsland};
    let table: [(u8, WindPlace, [Option<f64>; 3]); 7] = [
        (1, Inland, [Some(5.0), Some(5.0), Some(7.0)]),
        (2, Inland, [Some(5.0), Some(7.0), Some(7.0)]),
        (2, Coast, [Some(7.0), Some(7.0), Some(7.0)]),
        (3, Inland, [Some(7.0), Some(7.0), Some(7.0)]),
        (4, Inland, [Some(7.0), Some(7.0), Some(7.0)]),
        (4, Coast, [Some(7.0), Some(8.0), Some(8.0)]),
        (4, NorthSeaIsland, [Some(8.0), Some(9.0), None]),
    ];
    for (zone, place, numbers) in table {
        for (metres, number) in [10.0, 18.0, 25.0].into_iter().zip(numbers) {
            let got = german_density(metres * 1000.0, zone, place, 10_000.0);
            assert_eq!(got, number, "zone {zone}, {place:?}, {metres} m");
            let has_set = |n: f64| {
                sets::all()
                    .iter()
                    .any(|s| s.id.starts_with("de-din-en-1996") && s.density.value.per_m2() == n)
            };
            assert!(number.is_none_or(has_set), "{number:?}");
        }
    }
    // 24 m on the coast of zone 4, a side of the plan shorter than a quarter of that: 9.
    assert_eq!(german_density(24_000.0, 4, Coast, 5_999.0), Some(9.0));
}
