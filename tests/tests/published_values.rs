//! The rule sets against the documents they come from. The source of each value is named beside it, with how it was
//! seen: P in an official or primary page, S second-hand, R recomputed from published inputs.

use layout_core::check::{Finding, Rule, check};
use layout_core::elevation::{Coursing, Elevation, Fix, Opening, Pattern, Point, RuleChoice, Shape, Style};
use layout_core::masonry::Masonry;
use layout_core::rules::{DEFAULT_RULES, Density, EdgeRule, EdgeScope, RuleSet, resolve, sets};
use layout_core::source::Sureness::{self, CommonPractice, FromMemory, Published, SecondHand};
use layout_core::units::{FOOT, INCH};
use layout_core::{Role, plan};
use tiewright_tests::console::tiewright;

fn named(id: &str) -> RuleSet {
    sets::by_id(id).unwrap_or_else(|| panic!("no set {id}"))
}

#[track_caller]
fn close(got: f64, expect: f64, within: f64) {
    assert!((got - expect).abs() <= within, "{got} in place of {expect}");
}

/// What a document says of a set: value, word of the document, how it was seen.
struct Stated {
    id: &'static str,
    field: (f64, f64, &'static str, Sureness),
    density: (Density, &'static str, Sureness),
    edges: Option<Edges>,
}

/// What a document says of edge ties: distance and spacing, mm, each with its source, the spacing along the
/// top where it is another, and which edges.
struct Edges {
    within: Value,
    spacing: Value,
    top: Option<Value>,
    scope: EdgeScope,
}

type Value = (f64, &'static str, Sureness);

/// Edge ties whose values have one source.
fn edges(
    within: f64,
    spacing: f64,
    scope: EdgeScope,
    document: &'static str,
    how: Sureness,
) -> Option<Edges> {
    Some(Edges { within: (within, document, how), spacing: (spacing, document, how), top: None, scope })
}

/// Lengths of the US codes are inches there: 32, 24, 25, 12, 36, 16.
fn published() -> Vec<Stated> {
    let upright = EdgeScope::Upright;
    let perimeter = EdgeScope::OpeningPerimeter { exempt: 16.0 * INCH };
    let mut all = vec![
        Stated {
            // Approved Document A (England) 2013, section 2C: P; 2.5 is stated as the equivalent of the spacing.
            id: "uk-approved-document-a",
            field: (900.0, 450.0, "Approved Document A", Published),
            density: (Density::Equivalent(2.5), "Approved Document A", Published),
            edges: edges(225.0, 300.0, upright, "Approved Document A", Published),
        },
        Stated {
            // PD 6697, earlier BS 5628-3, a leaf of 65 to 90 mm: S; edges as the default.
            id: "uk-thin-leaf",
            field: (450.0, 450.0, "PD 6697", SecondHand),
            density: (Density::Equivalent(4.9), "PD 6697", SecondHand),
            edges: edges(225.0, 300.0, upright, "PD 6697", SecondHand),
        },
        Stated {
            // Earlier Approved Document A, cavities of 76 to 100 mm: S; edges within 150.
            id: "uk-older-wide-cavity",
            field: (750.0, 450.0, "superseded", SecondHand),
            density: (Density::Equivalent(2.96), "superseded", SecondHand),
            edges: edges(150.0, 300.0, upright, "superseded", SecondHand),
        },
    ];
    // BS 5268-6.1 and later practice: densities P, spacing and edges M. 7 outside urban shelter or over 25 m/s.
    for (id, per_m2) in [("uk-timber-frame", 4.4), ("uk-timber-frame-exposed", 7.0)] {
        all.push(Stated {
            id,
            field: (600.0, 380.0, "BS 5268-6.1", FromMemory),
            density: (Density::Minimum(per_m2), "BS 5268-6.1", Published),
            edges: edges(225.0, 300.0, upright, "BS 5268-6.1", FromMemory),
        });
    }
    all.extend([
        Stated {
            // UK NA to BS EN 1996-1-1, NA.2.17: P; a minimum of its own. Edges as the default, PD 6697: S.
            id: "ec6-uk-annex",
            field: (900.0, 450.0, "NA.2.17", Published),
            density: (Density::Minimum(2.5), "NA.2.17", Published),
            edges: edges(225.0, 300.0, upright, "PD 6697", SecondHand),
        },
        Stated {
            // EN 1996-1-1:2005 8.5.2.2(2), recommended value: M. No edge ties.
            id: "ec6-recommended",
            field: (900.0, 450.0, "8.5.2.2(2)", FromMemory),
            density: (Density::Minimum(2.0), "8.5.2.2(2)", FromMemory),
            edges: None,
        },
    ]);
    // DIN EN 1996-2/NA; DIN 1053-1 8.4.3.1 e: P. 3 a metre along edges, on top; how near is not published.
    for (id, per_m2) in [
        ("de-din-en-1996", 7.0),
        ("de-din-en-1996-5", 5.0),
        ("de-din-en-1996-8", 8.0),
        ("de-din-en-1996-9", 9.0),
    ] {
        all.push(Stated {
            id,
            field: (750.0, 500.0, "DIN EN 1996-2/NA", Published),
            density: (Density::MinimumPlusEdges(per_m2), "DIN EN 1996-2/NA", Published),
            edges: Some(Edges {
                within: (300.0, "", CommonPractice),
                spacing: (333.333_333_333, "8.4.3.1 e", Published),
                top: None,
                scope: EdgeScope::EveryFreeEdge { corners: true },
            }),
        });
    }
    all.extend([
        Stated {
            // IRC 2018 R703.8.4.1: P, one tie for 2.67 ft2, that is 3/8 a ft2, 0.09290304 m2: 4.0365 per m2.
            // R703.8.4.1.1: P, openings over 16 in, at most 36 in apart, within 12 in.
            id: "us-irc-2018",
            field: (812.8, 609.6, "R703.8.4.1", Published),
            density: (Density::Minimum(0.375 / 0.092_903_04), "R703.8.4.1", Published),
            edges: edges(304.8, 914.4, perimeter, "R703.8.4.1.1", Published),
        },
        Stated {
            // TMS 402-13/-16 12.2.2.5.6: M; edges as above.
            id: "us-tms402-2016",
            field: (812.8, 635.0, "TMS 402-13/-16", FromMemory),
            density: (Density::Minimum(0.375 / 0.092_903_04), "12.2.2.5.6", FromMemory),
            edges: edges(304.8, 914.4, perimeter, "TMS 402-13/-16", FromMemory),
        },
        Stated {
            // AS 3700: field S; within 300 of movement joints NCC 2022 5.6.5 (P), of openings M; top doubled M.
            id: "au-as3700",
            field: (600.0, 600.0, "AS 3700", SecondHand),
            density: (Density::Equivalent(2.78), "AS 3700", SecondHand),
            edges: Some(Edges {
                within: (300.0, "NCC 2022 Housing Provisions 5.6.5", FromMemory),
                spacing: (600.0, "AS 3700", FromMemory),
                top: Some((300.0, "AS 3700", FromMemory)),
                scope: EdgeScope::EveryFreeEdge { corners: false },
            }),
        },
    ]);
    all
}

#[test]
fn each_set_has_the_values_of_its_document() {
    let here: Vec<&str> = published().iter().map(|p| p.id).collect();
    assert_eq!(sets::ids(), here, "a set without its values here");
    for p in published() {
        let set = named(p.id);
        let (h, v, document, sureness) = p.field;
        for (got, expect) in [(&set.horizontal, h), (&set.vertical, v)] {
            close(got.value, expect, 1e-9);
            assert!(got.source.document.contains(document), "{}: {}", p.id, got.source);
            assert_eq!(got.source.sureness, sureness, "{}", p.id);
        }
        let (density, document, sureness) = p.density;
        close(set.density.value.per_m2(), density.per_m2(), 1e-9);
        assert_eq!(set.density.value.minimum().is_some(), density.minimum().is_some(), "{}", p.id);
        assert_eq!(set.density.value.edges_on_top(), density.edges_on_top(), "{}", p.id);
        assert!(set.density.source.document.contains(document), "{}: {}", p.id, set.density.source);
        assert_eq!(set.density.source.sureness, sureness, "{}", p.id);
        each_edge_value(p.id, set.edges.as_ref(), p.edges.as_ref());
        // Common practice, no source: 75 from a boundary, 100 between ties and from old ones.
        for (got, expect) in
            [(&set.edge_distance, 75.0), (&set.between, 100.0), (&set.existing_clearance, 100.0)]
        {
            close(got.value, expect, 1e-9);
            assert_eq!(got.source.sureness, CommonPractice, "{}", p.id);
        }
    }
}

#[track_caller]
fn each_edge_value(id: &str, set: Option<&EdgeRule>, stated: Option<&Edges>) {
    assert_eq!(set.is_some(), stated.is_some(), "{id}: edge ties");
    let (Some(set), Some(stated)) = (set, stated) else { return };
    assert_eq!(set.scope, stated.scope, "{id}");
    assert_eq!(set.top.is_some(), stated.top.is_some(), "{id}");
    let mut pairs = vec![(&set.within, stated.within), (&set.spacing, stated.spacing)];
    pairs.extend(set.top.iter().zip(stated.top));
    for (got, (value, document, sureness)) in pairs {
        close(got.value, value, 1e-9);
        assert!(got.source.document.contains(document), "{id}: {}", got.source);
        assert_eq!(got.source.sureness, sureness, "{id}");
    }
}

#[test]
fn every_value_has_a_document_unless_it_is_common_practice() {
    for set in sets::all() {
        let mut sources = vec![&set.horizontal.source, &set.vertical.source, &set.density.source];
        sources.extend([&set.edge_distance.source, &set.between.source, &set.existing_clearance.source]);
        sources.extend(set.edges.iter().flat_map(|e| [&e.within.source, &e.spacing.source]));
        sources.extend(set.edges.iter().filter_map(|e| e.top.as_ref()).map(|t| &t.source));
        for source in sources {
            let unnamed = source.document.trim().is_empty();
            assert_eq!(unnamed, source.sureness == CommonPractice, "{}: {source:?}", set.id);
        }
    }
}

#[test]
fn the_listing_says_each_source_and_how_sure_it_is() {
    let ran = tiewright(&["rules"]);
    assert_eq!((ran.status, ran.err.as_str()), (0, ""));
    for (n, p) in published().iter().enumerate() {
        let end = if n == 0 { "  (default)\n" } else { "\n" };
        let start = ran.out.find(&format!("{}{}{end}", if n == 0 { "" } else { "\n" }, p.id));
        let text = &ran.out[start.unwrap_or_else(|| panic!("{} is not listed", p.id))..];
        let lines: Vec<&str> =
            text.lines().skip_while(|l| l.is_empty()).skip(1).take_while(|l| !l.is_empty()).collect();
        let line = |label: &str, value: f64, document: &str, words: &str| {
            let found = lines.iter().find(|l| l.trim_start().starts_with(label));
            let found = found.unwrap_or_else(|| panic!("{}: no line '{label}'", p.id));
            for part in [format!(" {value} "), document.to_owned(), words.to_owned()] {
                assert!(found.contains(&part), "{}: no '{part}' in '{found}'", p.id);
            }
        };
        let (h, v, document, sureness) = p.field;
        line("spacing along the wall", h, document, sureness.words());
        line("spacing up the wall", v, document, sureness.words());
        // The listing gives two decimals: 4.0365 reads 4.04.
        let shown = (p.density.0.per_m2() * 100.0).round() / 100.0;
        line("ties for the area", shown, p.density.1, p.density.2.words());
        if let Some(edges) = &p.edges {
            let two = |v: f64| (v * 100.0).round() / 100.0;
            let values = [("edge ties within", Some(edges.within)), ("edge ties apart", Some(edges.spacing))];
            for (label, value) in values.into_iter().chain([("at the top, apart", edges.top)]) {
                let Some((value, document, sureness)) = value else { continue };
                line(label, two(value), document, sureness.words());
            }
        }
        line("from a boundary, least", 75.0, "common practice, no source", "");
        line("between ties, least", 100.0, "common practice, no source", "");
        line("from an old tie, least", 100.0, "common practice, no source", "");
    }
}

/// A plain wall of `columns` x `rows` fields of `h` x `v` mm with a tie in the middle of each.
fn plain_grid(rules: &str, (h, v): (f64, f64), columns: u32, rows: u32) -> (Elevation, Vec<Point>) {
    let (w, t) = (h * f64::from(columns), v * f64::from(rows));
    let mut e = Elevation::new("Plain", vec![(0.0, 0.0), (w, 0.0), (w, t), (0.0, t)]);
    e.rules = RuleChoice::Named(rules.to_owned());
    e.coursing.fix = Fix::Anywhere;
    let ties = (0..rows)
        .flat_map(|j| (0..columns).map(move |i| ((f64::from(i) + 0.5) * h, (f64::from(j) + 0.5) * v)))
        .collect();
    (e, ties)
}

fn findings((e, ties): &(Elevation, Vec<Point>)) -> Vec<Finding> {
    check(e, &Masonry::new(e), &resolve(&e.rules).expect("known rules"), ties)
}

#[test]
fn value_14_grids_and_their_densities() {
    // R: 1e6 / (900 x 450) and so on; 2.47 is published for the first.
    close(named("uk-approved-document-a").grid_density(), 2.469, 0.001);
    close(named("uk-thin-leaf").grid_density(), 4.938, 0.001);
    close(named("uk-older-wide-cavity").grid_density(), 2.963, 0.001);
    // Each passes its own set, which states the density as the equivalent of the spacing (P, S, S).
    for (id, grid) in [
        ("uk-approved-document-a", (900.0, 450.0)),
        ("uk-thin-leaf", (450.0, 450.0)),
        ("uk-older-wide-cavity", (750.0, 450.0)),
    ] {
        assert!(named(id).grid_passes(grid.0, grid.1), "{id}");
        assert_eq!(findings(&plain_grid(id, grid, 6, 6)), [], "{id}");
        // A little wider, and the same spacing rule refuses it.
        assert!(!named(id).grid_passes(grid.0 + 10.0, grid.1), "{id}");
        let wider = findings(&plain_grid(id, (grid.0 + 10.0, grid.1), 6, 6));
        assert!(!wider.is_empty() && wider.iter().all(|f| f.rule == Rule::Coverage), "{id}: {wider:?}");
    }
}

#[test]
fn value_14_a_minimum_of_its_own_wants_its_count() {
    // UK NA to BS EN 1996-1-1, NA.2.17 (P): 900 x 450 and at least 2.5 per m2.
    let annex = named("ec6-uk-annex");
    assert!(!annex.grid_passes(900.0, 450.0));
    assert!(annex.grid_passes(888.0, 450.0), "2.503 per m2");
    // 5.4 x 2.7 are 14.58 m2; 2.5 per m2 makes 36.45, so 37; the grid has 36.
    let grid = plain_grid("ec6-uk-annex", (900.0, 450.0), 6, 6);
    let found = findings(&grid);
    assert_eq!(found.len(), 1, "{found:?}");
    assert_eq!(
        (found[0].rule, found[0].measured, found[0].required),
        (Rule::Density, Some(36.0), Some(37.0))
    );
    // What is set out has the count.
    let plan = plan(&grid.0).expect("a usable wall");
    assert_eq!(plan.findings, []);
    assert!(plan.ties.len() >= 37 && plan.density() >= 2.5, "{} ties", plan.ties.len());
}

#[test]
fn value_16_square_feet_for_a_tie() {
    // IRC R703.8.4.1 (P): one tie supports no more than 2.67 ft2.
    let square_feet = |w: f64, h: f64| w * INCH * h * INCH / (FOOT * FOOT);
    close(square_feet(16.0, 24.0), 2.667, 0.001);
    close(square_feet(18.0, 24.0), 3.0, 1e-9);
    let irc = named("us-irc-2018");
    assert!(irc.grid_passes(16.0 * INCH, 24.0 * INCH));
    assert!(!irc.grid_passes(18.0 * INCH, 24.0 * INCH));
    // 12 x 8 ft are 96 ft2: 36 ties. At 16 x 24 in there are 9 x 4, at 18 x 24 in 8 x 4.
    assert_eq!(findings(&plain_grid("us-irc-2018", (16.0 * INCH, 24.0 * INCH), 9, 4)), []);
    let found = findings(&plain_grid("us-irc-2018", (18.0 * INCH, 24.0 * INCH), 8, 4));
    assert_eq!(found.len(), 1, "{found:?}");
    assert_eq!(
        (found[0].rule, found[0].measured, found[0].required),
        (Rule::Density, Some(32.0), Some(36.0))
    );
}

/// A veneer wall with one opening, sizes in inches.
fn veneer(w: f64, h: f64) -> Elevation {
    let mut e = Elevation::new("Veneer", vec![(0.0, 0.0), (3600.0, 0.0), (3600.0, 2700.0), (0.0, 2700.0)]);
    e.rules = RuleChoice::Named("us-irc-2018".to_owned());
    let shape = Shape::Rect { x: 1500.0, y: 1000.0, w: w * INCH, h: h * INCH };
    e.openings.push(Opening { name: "W1".to_owned(), shape });
    e
}

#[test]
fn value_17_openings_over_16_inches() {
    // IRC R703.8.4.1.1 (P): openings over 16 in either way; ties within 12 in, at most 36 in apart.
    for (w, h, perimeter) in
        [(15.0, 16.0, false), (16.0, 16.0, false), (16.0, 17.0, true), (17.0, 16.0, true)]
    {
        let e = veneer(w, h);
        let plan = plan(&e).expect("a usable wall");
        assert_eq!(plan.findings, [], "{w} x {h} in");
        let counted = plan.count(Role::Jamb);
        // 2 (16 + 17) in are 66 in: two ties at the least.
        assert!(if perimeter { counted >= 2 } else { counted == 0 }, "{w} x {h} in: {counted} ties");
        let bare = check(&e, &Masonry::new(&e), &plan.rules, &[]);
        assert_eq!(bare.iter().any(|f| f.rule == Rule::EdgeTies), perimeter, "{w} x {h} in");
    }
}

#[test]
fn value_23_courses_in_the_greatest_spacing() {
    // R: six courses of 76.2 mm are 457.2 mm, over 450, so five, 381 mm; six of 75 mm are 450 exactly.
    for (gauge, courses, step) in [(76.2, 5, 381.0), (75.0, 6, 450.0)] {
        let coursing = Coursing { gauge, first_bed: 0.0, fix: Fix::BedJoint, ..Coursing::default() };
        assert_eq!(coursing.courses_within(450.0), courses);
        for style in [Style::Even, Style::Fewest] {
            for pattern in [Pattern::Staggered, Pattern::Stacked] {
                let (w, h) = (7200.0, 60.0 * gauge);
                let mut e = Elevation::new("Plain", vec![(0.0, 0.0), (w, 0.0), (w, h), (0.0, h)]);
                (e.coursing, e.style, e.pattern) = (coursing, style, pattern);
                let plan = plan(&e).expect("a usable wall");
                assert_eq!(plan.findings, [], "gauge {gauge}");
                let rows = plan.row_heights();
                let steps: Vec<f64> = rows.windows(2).map(|r| r[1] - r[0]).collect();
                let widest = steps.iter().copied().fold(0.0, f64::max);
                assert!(widest <= step + 1e-6, "gauge {gauge}, {style:?}, {pattern:?}: {steps:?}");
                // And no row more than there need be: the plain wall uses the whole step.
                close(widest, step, 1e-6);
            }
        }
    }
}

#[test]
fn a_course_of_metric_bricks() {
    // Metric brick 65 mm high with a joint of 10 (P): what a new elevation starts with, by the default rules.
    close(Coursing::default().gauge, 65.0 + 10.0, 1e-9);
    assert_eq!(DEFAULT_RULES, "uk-approved-document-a");
}
