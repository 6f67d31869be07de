//! Saving: what is written reads back the same, and a file is replaced whole or left as it was.

use layout_core::elevation::{
    CavityReading, Condition, Coursing, CustomEdges, CustomRules, DeclaredFixing, Elevation, Environment,
    ExistingTie, Exposure, Fix, GivenPressure, Insulation, InternalPressure, KeepOut, Leaf, LeafName, Locked,
    Material, MovementJoint, Opening, Pattern, Point, Project, Rates, RuleChoice, RuleFile, Shape,
    SideCondition, SiteTests, Style, Substrate, Terrain, TestArea, TestResult, TestScheme, TieForm,
    TieResistance, Treatment, Voids,
};
use layout_core::rules::EdgeScope;
use proptest::prelude::*;
use std::fs;
use tiewright::document::file;
use tiewright::document::replace::replace;

fn number() -> impl Strategy<Value = f64> {
    prop_oneof![
        (-20_000..20_000i32).prop_map(f64::from),
        (-20_000_000..20_000_000i32).prop_map(|v| f64::from(v) / 1000.0),
        proptest::num::f64::NORMAL | proptest::num::f64::SUBNORMAL | proptest::num::f64::ZERO,
        Just(0.1 + 0.2),
        Just(f64::MAX),
    ]
}

fn words() -> impl Strategy<Value = String> {
    let odd = prop_oneof![
        any::<char>(),
        proptest::sample::select(vec![
            '"', '\\', '\n', '\r', '\t', '\0', '\'', '#', '{', '/', '*', '\u{feff}'
        ]),
        proptest::char::range('a', 'z'),
    ];
    proptest::collection::vec(odd, 0..12).prop_map(|chars| chars.into_iter().collect())
}

fn point() -> impl Strategy<Value = Point> {
    (number(), number())
}

fn points(most: usize) -> impl Strategy<Value = Vec<Point>> {
    proptest::collection::vec(point(), 0..most)
}

fn shape() -> impl Strategy<Value = Shape> {
    let n = number;
    prop_oneof![
        (n(), n(), n(), n()).prop_map(|(x, y, w, h)| Shape::Rect { x, y, w, h }),
        (n(), n(), n(), n(), n()).prop_map(|(x, y, w, h, rise)| Shape::Arched { x, y, w, h, rise }),
        (n(), n(), n()).prop_map(|(x, y, r)| Shape::Circle { x, y, r }),
        points(9).prop_map(Shape::Polygon),
    ]
}

fn rules() -> impl Strategy<Value = RuleChoice> {
    let scope = prop_oneof![
        Just(EdgeScope::Upright),
        number().prop_map(|exempt| EdgeScope::OpeningPerimeter { exempt }),
        any::<bool>().prop_map(|corners| EdgeScope::EveryFreeEdge { corners }),
    ];
    let edges = proptest::option::of((number(), number(), proptest::option::of(number()), scope))
        .prop_map(|e| e.map(|(within, spacing, top, scope)| CustomEdges { within, spacing, top, scope }));
    let lengths = (number(), number(), number(), number(), number(), number());
    let custom = (words(), words(), edges, lengths, any::<bool>());
    let custom = custom.prop_map(|(name, source, edges, lengths, edges_on_top)| {
        let (horizontal, vertical, per_m2, edge_distance, between, existing_clearance) = lengths;
        RuleChoice::Custom(CustomRules {
            name,
            source,
            horizontal,
            vertical,
            per_m2,
            edges_on_top,
            edges,
            edge_distance,
            between,
            existing_clearance,
        })
    });
    let file = words().prop_map(|path| RuleChoice::File(RuleFile::from(path)));
    prop_oneof![words().prop_map(RuleChoice::Named), custom, file]
}

fn exposure() -> impl Strategy<Value = Exposure> {
    let lengths = (number(), number(), number(), number(), proptest::option::of(number()));
    let factors = (number(), number(), number(), number(), number(), proptest::option::of(number()));
    let choices = (
        proptest::sample::select(Terrain::ALL.to_vec()),
        proptest::sample::select(InternalPressure::ALL.to_vec()),
    );
    let given = proptest::option::of((number(), number(), words()));
    let resistance = proptest::option::of((number(), number(), words()));
    (lengths, factors, choices, given, resistance).prop_map(
        |(lengths, factors, choices, given, resistance)| {
            let (basic_wind, height, length, depth, left) = lengths;
            let (direction, season, orography, load_factor, gamma_m, altitude) = factors;
            let (terrain, internal) = choices;
            Exposure {
                basic_wind,
                terrain,
                height,
                length,
                depth,
                left,
                altitude,
                internal,
                direction,
                season,
                orography,
                load_factor,
                given: given.map(|(outward, inward, source)| GivenPressure { outward, inward, source }),
                resistance: resistance.map(|(tension, compression, source)| TieResistance {
                    tension,
                    compression,
                    source,
                }),
                gamma_m,
            }
        },
    )
}

fn leaf() -> impl Strategy<Value = Leaf> {
    let choices = (
        proptest::sample::select(Material::ALL.to_vec()),
        proptest::sample::select(Condition::ALL.to_vec()),
        proptest::sample::select(Voids::ALL.to_vec()),
    );
    (choices, number(), number()).prop_map(|((material, condition, voids), thickness, render)| Leaf {
        material,
        condition,
        voids,
        thickness,
        render,
    })
}

fn substrate() -> impl Strategy<Value = Substrate> {
    let own = (words(), words(), words(), proptest::collection::vec(number(), 7), number());
    let own = own.prop_map(|(name, kind, source, lengths, v)| DeclaredFixing {
        name,
        kind,
        tension: v,
        compression: lengths[0],
        hole: lengths[1],
        bar: lengths[2],
        embed_outer: lengths[3],
        embed_inner: lengths[4],
        lengths,
        source,
    });
    let reading = (point(), number()).prop_map(|(at, cavity)| CavityReading { at, cavity });
    let choices = (
        proptest::sample::select(Insulation::ALL.to_vec()),
        proptest::sample::select(Environment::ALL.to_vec()),
        any::<bool>(),
    );
    let lists = (proptest::collection::vec(reading, 0..4), proptest::collection::vec(own, 0..3));
    (leaf(), leaf(), lists, choices, number(), number(), words()).prop_map(
        |(outer, inner, (cavities, declared), (insulation, environment, rebuilt), bulge, fall, fixing)| {
            Substrate {
                outer,
                inner,
                cavities,
                insulation,
                environment,
                bulge,
                fall,
                rebuilt,
                fixing,
                declared,
            }
        },
    )
}

fn site_tests() -> impl Strategy<Value = SiteTests> {
    let area = (words(), number(), number(), number(), number()).prop_map(|(name, x, y, w, h)| TestArea {
        name,
        x,
        y,
        w,
        h,
    });
    let leaf = || proptest::sample::select(LeafName::ALL.to_vec());
    let result = (point(), leaf(), number(), any::<bool>(), any::<bool>(), words(), words()).prop_map(
        |(at, leaf, load, held, before_work, fixing, note)| TestResult {
            at,
            leaf,
            load,
            held,
            before_work,
            fixing,
            note,
        },
    );
    let lists = (proptest::collection::vec(area, 0..3), proptest::collection::vec(result, 0..4));
    let scheme = proptest::sample::select(TestScheme::ALL.to_vec());
    (scheme, any::<u64>(), number(), number(), any::<u32>(), any::<bool>(), leaf(), lists).prop_map(
        |(scheme, seed, action, proof, trials, spans_vertically, weaker, (areas, results))| SiteTests {
            scheme,
            seed,
            action,
            proof,
            trials,
            spans_vertically,
            weaker,
            areas,
            results,
        },
    )
}

fn rates() -> impl Strategy<Value = Rates> {
    (words(), proptest::collection::vec(number(), 10)).prop_map(|(currency, v)| Rates {
        currency,
        tie: v[0],
        test: v[1],
        isolate: v[2],
        remove: v[3],
        resin_ml: v[4],
        access: v[5],
        preliminaries: v[6],
        spare: v[7],
        overheads: v[8],
        profit: v[9],
    })
}

fn elevation() -> impl Strategy<Value = Elevation> {
    let list = |s| proptest::collection::vec(s, 0..4);
    let opening = (words(), shape()).prop_map(|(name, shape)| Opening { name, shape });
    let keep_out =
        (words(), shape(), number()).prop_map(|(name, shape, clearance)| KeepOut { name, shape, clearance });
    let joint = (number(), number(), number()).prop_map(|(x, from, to)| MovementJoint { x, from, to });
    let locked = (words(), shape(), points(9)).prop_map(|(name, shape, ties)| Locked { name, shape, ties });
    let treatments = proptest::sample::select(Treatment::ALL.to_vec());
    let old = (point(), proptest::sample::select(TieForm::ALL.to_vec()), any::<u8>(), treatments)
        .prop_map(|(at, form, grade, treatment)| ExistingTie { at, form, grade, treatment });
    let sides = proptest::collection::vec(proptest::sample::select(SideCondition::ALL.to_vec()), 0..5);
    let coursing = (number(), number(), proptest::sample::select(Fix::ALL.to_vec()), number())
        .prop_map(|(gauge, first_bed, fix, brick)| Coursing { gauge, first_bed, fix, brick });
    let style = proptest::sample::select(vec![Style::Even, Style::Fewest]);
    let pattern = proptest::sample::select(vec![Pattern::Staggered, Pattern::Stacked]);
    let drawn = (words(), points(20), sides, list(opening.boxed()));
    let marked = (
        proptest::collection::vec(keep_out, 0..4),
        proptest::collection::vec(joint, 0..4),
        proptest::collection::vec(old, 0..4),
        points(20),
        proptest::collection::vec(locked, 0..3),
    );
    // On the heap: strategies this large do not fit a thread's stack.
    let engineering = (
        proptest::option::of(exposure().boxed()),
        proptest::option::of(substrate().boxed()),
        proptest::option::of(site_tests().boxed()),
    );
    (drawn, marked, any::<bool>(), coursing, rules(), style, pattern, engineering).prop_map(
        |(drawn, marked, automatic, coursing, rules, style, pattern, (exposure, substrate, tests))| {
            let (name, outline, sides, openings) = drawn;
            let (keep_outs, movement_joints, existing_ties, pinned, locked) = marked;
            Elevation {
                name,
                outline,
                sides,
                openings,
                keep_outs,
                movement_joints,
                existing_ties,
                pinned,
                locked,
                automatic,
                coursing,
                rules,
                style,
                pattern,
                exposure,
                substrate,
                tests,
            }
        },
    )
}

fn project() -> impl Strategy<Value = Project> {
    let texts = (words(), words(), words(), words(), words(), words());
    let notes = proptest::collection::vec(words(), 0..4);
    let elevations = proptest::collection::vec(elevation().boxed(), 0..3);
    (texts, notes, proptest::option::of(rates().boxed()), elevations).prop_map(
        |(texts, notes, rates, elevations)| {
            let (title, reference, site, client, drawn_by, revision) = texts;
            Project {
                format: 1,
                title,
                reference,
                site,
                client,
                drawn_by,
                revision,
                notes,
                rates,
                elevations,
            }
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn what_is_saved_reads_back_the_same(project in project()) {
        let text = file::to_text(&project);
        let read = file::parse(&text, "p.ron").map_err(|e| TestCaseError::fail(format!("{e}\n{text}")))?;
        prop_assert_eq!(&read, &project);
        // Saving again changes nothing, and the same project gives the same bytes.
        prop_assert_eq!(file::to_text(&read), text);
    }
}

#[test]
fn the_saved_form_is_the_one_people_write() {
    let mut front = Elevation::new("Front", vec![(0.0, 0.0), (9000.0, 0.0), (9000.0, 5250.0), (0.0, 5250.0)]);
    front.openings.push(Opening {
        name: "W1".to_owned(),
        shape: Shape::Rect { x: 1200.0, y: 900.5, w: 1200.0, h: 1350.0 },
    });
    front.automatic = false;
    let project =
        Project { title: "The \"old\" wall".to_owned(), elevations: vec![front], ..Project::default() };
    let expect = r#"(
    format: 1,
    title: "The \"old\" wall",
    reference: "",
    site: "",
    client: "",
    drawn_by: "",
    revision: "A",
    elevations: [
        (
            name: "Front",
            outline: [(0, 0), (9000, 0), (9000, 5250), (0, 5250)],
            openings: [
                (name: "W1", shape: Rect(x: 1200, y: 900.5, w: 1200, h: 1350)),
            ],
            automatic: false,
            coursing: (gauge: 75, first_bed: 0, fix: BedJoint),
            rules: Named("uk-approved-document-a"),
        ),
    ],
)
"#;
    assert_eq!(file::to_text(&project), expect);
}

#[test]
fn a_file_is_replaced_whole_and_keeps_its_permissions() -> Result<(), Box<dyn std::error::Error>> {
    let folder = tempfile::tempdir()?;
    let path = folder.path().join("job.ron");
    file::write(&Project::default(), &path)?;
    assert_eq!(file::read(&path)?, Project::default());
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        assert_eq!(fs::metadata(&path)?.permissions().mode() & 0o777, 0o644);
        fs::set_permissions(&path, fs::Permissions::from_mode(0o640))?;
        file::write(&Project { title: "Two".to_owned(), ..Project::default() }, &path)?;
        assert_eq!(fs::metadata(&path)?.permissions().mode() & 0o777, 0o640);
        // Through a link, the file it leads to is replaced and the link stays.
        let link = folder.path().join("link.ron");
        std::os::unix::fs::symlink(&path, &link)?;
        file::write(&Project { title: "Three".to_owned(), ..Project::default() }, &link)?;
        assert!(fs::symlink_metadata(&link)?.is_symlink());
        assert_eq!(file::read(&path)?.title, "Three");
        fs::remove_file(&link)?;
    }
    // Nothing is left beside it.
    assert_eq!(fs::read_dir(folder.path())?.count(), 1);
    Ok(())
}

#[test]
fn a_file_that_cannot_be_written_is_left_as_it_was() -> Result<(), Box<dyn std::error::Error>> {
    let folder = tempfile::tempdir()?;
    let path = folder.path().join("job.ron");
    fs::write(&path, "kept")?;
    let mut permissions = fs::metadata(&path)?.permissions();
    permissions.set_readonly(true);
    fs::set_permissions(&path, permissions)?;
    let refused = replace(&path, b"new").expect_err("a write-protected file");
    assert!(refused.ends_with("job.ron: you may not write here; choose another place"), "{refused}");
    assert_eq!(fs::read_to_string(&path)?, "kept");

    let refused = replace(folder.path(), b"new").expect_err("a folder");
    assert!(refused.ends_with(": this is a folder; name a file to write"), "{refused}");
    let refused = replace(&folder.path().join("no/such/job.ron"), b"new").expect_err("no folder");
    assert!(refused.ends_with("job.ron: the folder to write to does not exist"), "{refused}");
    assert_eq!(fs::read_dir(folder.path())?.count(), 1);
    Ok(())
}

#[cfg(unix)]
#[test]
fn a_device_is_written_to_and_not_replaced() -> Result<(), String> {
    use std::os::unix::fs::FileTypeExt;
    replace(std::path::Path::new("/dev/null"), b"gone")?;
    assert!(fs::metadata("/dev/null").is_ok_and(|m| m.file_type().is_char_device()));
    Ok(())
}
