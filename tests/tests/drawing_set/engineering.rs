//! What was worked out of wind, fixing, tests and old ties, on the sheets.

use crate::cases::{self, Case};
use crate::sheets::{inspect, of_kind, sheets, texts};
use layout_core::Role;
use layout_core::elevation::{
    CavityReading, DeclaredFixing, Elevation, ExistingTie, Leaf, LeafName, Material, Shape, SiteTests,
    Substrate, TestResult, TestScheme, TieForm, Voids,
};
use layout_core::testing::TestPlan;
use tiewright::sheet::{Graphic, Include, Layer, Outcome, Sheet, SheetKind, SheetOptions, drawing_set};

/// A plain wall with cavities of 50 at its left end and 120 at its right, a fixing of the firm's own in lengths of
/// 220 and 250, trial ties, and old ties graded and not.
fn surveyed() -> Elevation {
    let mut e = cases::gable();
    e.existing_ties = vec![
        ExistingTie { at: (700.0, 450.0), form: TieForm::VerticalTwist, grade: 8, ..ExistingTie::default() },
        ExistingTie { at: (3300.0, 450.0), form: TieForm::VerticalTwist, grade: 3, ..ExistingTie::default() },
        ExistingTie { at: (3300.0, 2100.0), form: TieForm::Unknown, ..ExistingTie::default() },
    ];
    let brick = Leaf { material: Material::ClayBrick, voids: Voids::Solid, ..Leaf::default() };
    e.substrate = Some(Substrate {
        outer: brick,
        inner: Leaf { thickness: 100.0, ..brick },
        cavities: vec![
            CavityReading { at: (100.0, 2500.0), cavity: 50.0 },
            CavityReading { at: (8100.0, 2500.0), cavity: 120.0 },
        ],
        fixing: "Long bar".into(),
        declared: vec![DeclaredFixing {
            name: "Long bar".into(),
            kind: "resin-bonded".into(),
            hole: 12.0,
            bar: 8.0,
            embed_outer: 60.0,
            embed_inner: 70.0,
            lengths: vec![220.0, 250.0],
            source: "declaration of 3 May".into(),
            ..DeclaredFixing::default()
        }],
        ..Substrate::default()
    });
    e.tests = Some(SiteTests {
        scheme: TestScheme::RemedialTies,
        seed: 7,
        proof: 700.0,
        trials: 2,
        spans_vertically: true,
        weaker: LeafName::Outer,
        ..SiteTests::default()
    });
    e
}

fn said(all: &[Sheet], kind: SheetKind) -> Vec<&str> {
    of_kind(all, kind).into_iter().flat_map(texts).map(|(t, _)| t.text.as_str()).collect()
}

fn count(said: &[&str], text: &str) -> usize {
    said.iter().filter(|t| **t == text).count()
}

/// Middles of the rings on the elevations: closed lines of 24 corners among the ties.
fn rings(all: &[Sheet]) -> Vec<(usize, (f64, f64))> {
    let of = |(n, sheet): (usize, &Sheet)| -> Vec<(usize, (f64, f64))> {
        let ring = |g: &Graphic| match g {
            Graphic::Stroke { points, closed: true, .. } if points.len() == 24 => {
                let sum = points.iter().fold((0.0, 0.0), |a, p| (a.0 + p.0, a.1 + p.1));
                Some((n, (sum.0 / 24.0, sum.1 / 24.0)))
            }
            _ => None,
        };
        sheet.items.iter().filter(|i| i.layer == Layer::Ties).filter_map(|i| ring(&i.graphic)).collect()
    };
    all.iter().enumerate().filter(|(_, s)| s.kind == SheetKind::Elevation).flat_map(of).collect()
}

#[test]
fn sheets_with_all_of_it_keep_lettering_apart() {
    let case = Case::of(vec![surveyed()]);
    for paper in [None, Some(tiewright::sheet::PaperSize::A4), Some(tiewright::sheet::PaperSize::A1)] {
        sheets(&case, paper, None).iter().for_each(|s| inspect("surveyed", s));
    }
}

#[test]
fn ties_to_be_tested_are_ringed_and_listed() {
    let case = Case::of(vec![surveyed()]);
    let all = sheets(&case, None, None);
    let plan = &case.plans[0];
    let chosen: Vec<usize> = plan.engineering.tests.as_ref().map(TestPlan::rings).expect("tests");
    // 2.5 % of the ties, at least 3, rounded up.
    assert_eq!(chosen.len(), ((plan.ties.len() as f64 * 0.025).ceil() as usize).max(3));
    let rings = rings(&all);
    assert_eq!(rings.len(), chosen.len());
    for &i in &chosen {
        let on = |(n, at): &(usize, (f64, f64))| {
            let e = all[*n].shown[0].at(plan.ties[i].at);
            (at.0 - e.0).hypot(at.1 - e.1) < 0.05
        };
        assert_eq!(rings.iter().filter(|r| on(r)).count(), 1, "{} is ringed", plan.ties[i].mark);
    }
    let drawn = said(&all, SheetKind::Elevation);
    assert!(
        chosen.iter().all(|&i| count(&drawn, &plan.ties[i].mark) == 1),
        "a ring leaves room for the mark"
    );
    let tests = said(&all, SheetKind::Tests);
    // 700 N x 1.72, for a leaf that spans vertically, are 1204 N; two trials in each leaf and the ties chosen.
    assert_eq!(count(&tests, "1.20"), 4 + chosen.len());
    assert_eq!((count(&tests, "trial 1"), count(&tests, "trial 2"), count(&tests, "trial 3")), (2, 2, 0));
    assert!(chosen.iter().all(|&i| count(&tests, &plan.ties[i].mark) == 1));
    let record = said(&all, SheetKind::Record);
    assert_eq!(count(&record, "TEST"), chosen.len());
}

#[test]
fn results_stand_on_the_line_of_their_test() {
    let mut e = surveyed();
    let chosen = cases::laid_out(&e).engineering.tests.map(|t| t.rings()).expect("tests");
    let ties = cases::laid_out(&e).ties;
    let result =
        |at, load, held, before_work| TestResult { at, load, held, before_work, ..TestResult::default() };
    let tests = e.tests.as_mut().expect("tests");
    tests.results = vec![
        result((5.0, 5.0), 1300.0, true, true),
        result(ties[chosen[0]].at, 1210.0, true, false),
        result(ties[chosen[1]].at, 900.0, true, false),
        result(ties[chosen[2]].at, 640.0, false, false),
    ];
    let all = sheets(&Case::of(vec![e]), None, None);
    let tests = said(&all, SheetKind::Tests);
    let after = |mark: &str, n: usize| {
        let at = tests.iter().position(|t| *t == mark).expect("the mark is listed");
        tests[at + 1..at + 1 + n].to_vec()
    };
    let base = "outer leaf: clay brick, solid";
    // A trial stands at 5 from the left end and 5 above the datum; the next has its place to be filled in.
    assert_eq!(after("trial 1", 6), ["5", "5", base, "1.20", "1.30", "held"]);
    assert_eq!(after("trial 2", 2), [base, "1.20"]);
    let listed = |n: usize, rest: [&str; 3]| {
        let said = after(&ties[chosen[n]].mark, 6);
        let place = [said[0], said[1]].map(|v| v.parse::<f64>().expect("a figure"));
        let at = ties[chosen[n]].at;
        // Distances are in whole millimetres.
        assert!((place[0] - at.0).abs() <= 0.5 && (place[1] - at.1).abs() <= 0.5, "{place:?} for {at:?}");
        assert_eq!((said[2], &said[3..]), (base, rest.as_slice()));
    };
    listed(0, ["1.20", "1.21", "held"]);
    listed(1, ["1.20", "0.90", "below load"]);
    listed(2, ["1.20", "0.64", "FAILED"]);
}

#[test]
fn the_sheets_agree_on_which_leaf_is_tested() {
    let all = sheets(&Case::of(vec![surveyed()]), None, None);
    // Beside the drawing, or on the sheet of what found no room there.
    let drawn = [SheetKind::Elevation, SheetKind::Notes].map(|k| said(&all, k).join(" ")).join(" ");
    // The outer leaf is the weaker one here.
    assert!(drawn.contains("Test the ties ringed here, outer leaf: "), "{drawn}");
    let tests = said(&all, SheetKind::Tests);
    assert!(tests.join(" ").contains("an outer end in a tie that is not fixed to the inner leaf"));
    assert!(tests.contains(&"From left") && tests.contains(&"Height"));
}

#[test]
fn old_ties_are_crossed_as_proposed() {
    let all = sheets(&Case::of(vec![surveyed()]), None, None);
    let old = said(&all, SheetKind::OldTies);
    let row = |mark: &str| {
        let at = old.iter().position(|t| *t == mark).expect("the old tie is listed");
        &old[at + 1..at + 7]
    };
    // Where the outline begins at x 0, distances are those entered. Grades 3 and 8 of a thick strip: isolate, remove.
    assert_eq!(row("O1")[..5], ["vertical twist", "700", "450", "8", "✗"]);
    assert_eq!(row("O2")[..5], ["vertical twist", "3300", "450", "3", "✗"]);
    assert_eq!(row("O3")[..3], ["unknown", "3300", "2100"]);
    assert_eq!(count(&old, "✗"), 2);
    let column = |mark: &str| {
        let sheet = of_kind(&all, SheetKind::OldTies)[0];
        let found = texts(sheet);
        let x = |text: &str| found.iter().find(|(t, _)| t.text == text).map(|(t, _)| t.at.0).expect("a head");
        let y = found.iter().find(|(t, _)| t.text == mark).map(|(t, _)| t.at.1).expect("a line");
        let cross = found.iter().find(|(t, _)| t.text == "✗" && (t.at.1 - y).abs() < 4.0).expect("a cross");
        let heads = ["Isolate", "Remove", "Leave"];
        heads.into_iter().find(|h| (x(h) - cross.0.at.0).abs() < 0.01).expect("under a head")
    };
    assert_eq!((column("O1"), column("O2")), ("Remove", "Isolate"));
    // On the drawing a letter after the number says what is done.
    let drawn = said(&all, SheetKind::Elevation);
    for mark in ["O1 R", "O2 I", "O3"] {
        assert_eq!(count(&drawn, mark), 1, "{mark}");
    }
}

#[test]
fn the_section_and_the_record_have_the_sizes_of_the_job() {
    let case = Case::of(vec![surveyed()]);
    let all = sheets(&case, None, None);
    for kind in [SheetKind::Cover, SheetKind::Notes] {
        let said = said(&all, kind);
        for size in ["102.5", "50–120", "100", "≥ 60 and ≥ 70"] {
            assert_eq!(count(&said, size), 1, "{kind:?} has the size {size}");
        }
    }
    // A cavity of 50 takes 60 + 50 + 70 = 180 to 92.5 + 50 + 90 = 232.5: 220; one of 120 takes 250 to 302.5: 250.
    // A tie has the length of the reading nearest to it: those left of x 4100 are nearer to the first.
    let record = said(&all, SheetKind::Record);
    let left = case.plans[0].ties.iter().filter(|t| t.at.0 < 4100.0).count();
    let right = case.plans[0].ties.iter().filter(|t| t.at.0 > 4100.0).count();
    assert_eq!(left + right, case.plans[0].ties.len(), "no tie is as near to both");
    let heads = count(&record, "Length");
    assert!(heads > 0);
    // Heights and distances may be 250 too: those are told apart by the column, which every table begins anew.
    let in_column = |length: &str| {
        let tables = of_kind(&all, SheetKind::Record);
        let count = |sheet: &&Sheet| {
            let found = texts(sheet);
            let heads: Vec<f64> =
                found.iter().filter(|(t, _)| t.text == "Length").map(|(t, _)| t.at.0).collect();
            let under = |x: f64| heads.iter().any(|h| (x - h).abs() < 7.0);
            found.iter().filter(|(t, _)| t.text == length && under(t.at.0)).count()
        };
        tables.iter().map(count).sum::<usize>()
    };
    assert_eq!((in_column("220"), in_column("250")), (left, right));
}

#[test]
fn a_part_tells_of_its_own_ties_and_old_ties() {
    let mut e = surveyed();
    // 36 m at 1:50 are 720 mm of paper: several parts on A3.
    e.outline = vec![(0.0, 0.0), (36_000.0, 0.0), (36_000.0, 5100.0), (0.0, 5100.0)];
    e.sides.clear();
    e.openings.retain(|o| matches!(o.shape, Shape::Rect { .. }));
    let case = Case::of(vec![e]);
    let all = sheets(&case, Some(tiewright::sheet::PaperSize::A3), Some(50));
    let parts = of_kind(&all, SheetKind::Elevation);
    assert!(parts.len() > 2);
    let beside = |sheet: &Sheet, words: &str| -> Option<String> {
        let found = texts(sheet);
        let (line, _) = found.iter().find(|(t, _)| t.text == words)?;
        let right = found.iter().filter(|(t, _)| (t.at.1 - line.at.1).abs() < 0.01 && t.at.0 > line.at.0);
        right.max_by(|a, b| a.0.at.0.total_cmp(&b.0.at.0)).map(|(t, _)| t.text.clone())
    };
    let rings = rings(&all);
    for (n, sheet) in all.iter().enumerate().filter(|(_, s)| s.kind == SheetKind::Elevation) {
        let mine = rings.iter().filter(|r| r.0 == n).count();
        let told = beside(sheet, "ringed: tie to be pull-tested");
        assert_eq!(told, (mine > 0).then(|| mine.to_string()), "{}", sheet.title);
    }
    // All three old ties stand on the first part.
    assert_eq!(beside(parts[0], "old tie found (O…)").as_deref(), Some("3"));
    assert_eq!(beside(parts[0], "after its number: remove the old tie").as_deref(), Some("1"));
    assert!(parts[1..].iter().all(|p| beside(p, "after its number: remove the old tie").is_none()));
}

#[test]
fn the_account_is_told_once_for_each_elevation_and_can_be_left_out() {
    let mut plain = cases::gable();
    plain.name = "Plain".into();
    let case = Case::of(vec![surveyed(), plain]);
    let title = "Gable: wind, fixing and tests";
    let titled = |all: &[Sheet]| all.iter().filter(|s| s.title == title).count();
    let all = sheets(&case, None, None);
    assert_eq!(titled(&all), 1);
    assert!(all.iter().all(|s| s.title != "Plain: wind, fixing and tests"));
    let outcomes: Vec<Outcome<'_>> = case.plans.iter().map(Ok).collect();
    let include = Include { account: false, ..Include::default() };
    let without = drawing_set(&case.project, &outcomes, &SheetOptions { include, ..SheetOptions::default() });
    assert_eq!(titled(&without.expect("the rest is drawn")), 0);
}

#[test]
fn far_along_a_wall_every_distance_is_written_out() {
    // 120 m: distances of six digits.
    let mut e = Elevation::new("Long", vec![(0.0, 0.0), (120_000.0, 0.0), (120_000.0, 900.0), (0.0, 900.0)]);
    e.automatic = false;
    e.pinned = (0..80).map(|i| (700.0 + 1500.0 * f64::from(i), 225.0)).collect();
    let case = Case::of(vec![e]);
    assert!(case.plans[0].ties.iter().all(|t| t.role == Role::Field));
    let all = sheets(&case, None, None);
    for kind in [SheetKind::Record, SheetKind::Schedule] {
        let said = said(&all, kind);
        for t in &case.plans[0].ties {
            assert!(count(&said, &format!("{:.0}", t.at.0)) >= 1, "{kind:?}: {}", t.mark);
        }
        assert!(said.iter().all(|t| !t.ends_with('…')), "{kind:?} cuts nothing short");
    }
}
