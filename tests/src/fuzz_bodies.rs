//! What the fuzz targets do with bytes. Plain functions, so that a test runs every seed too.
//!
//! Each panics where something does not hold; none may panic, or hang, for any bytes.

use layout_core::check::{Finding, Rule, check};
use layout_core::elevation::{Elevation, FaultKind, Point, validate};
use layout_core::masonry::Masonry;
use layout_core::rules::resolve;
use layout_core::{Plan, plan};
use tiewright::document::file;

use crate::from_bytes::{Choices, elevation};
use crate::sound::faults;

/// Elevations of one file that are set out as well; more take long and show nothing new.
const SET_OUT: usize = 3;

/// m2 inside an outline up to which a wall of a file is set out here.
const AREA: f64 = 400.0;

/// Reads a project file: it is refused with places, or reads back the same once saved, and its walls can
/// be set out.
///
/// # Panics
///
/// Where that does not hold.
pub fn load(bytes: &[u8]) {
    let read = file::decode(bytes.to_vec(), "p.ron").and_then(|text| {
        let project = file::parse(&text, "p.ron")?;
        let saved = file::to_text(&project);
        let again = file::parse(&saved, "p.ron");
        assert_eq!(again.as_ref(), Ok(&project), "what was saved reads back otherwise:\n{saved}");
        file::checked(&text, "p.ron")
    });
    match read {
        Ok(project) => {
            let usable = project.elevations.iter().filter(|e| area(e) < AREA);
            for e in usable.take(SET_OUT) {
                assert!(plan(e).is_ok(), "a checked drawing cannot be set out: {e:?}");
            }
        }
        Err(errors) => {
            let said = errors.to_string();
            assert!(!said.is_empty(), "refused without a word");
            for line in said.lines().filter(|l| l.starts_with("p.ron")) {
                let mut place = line.trim_start_matches("p.ron:").split(':').map(str::parse::<usize>);
                let mut number = || place.next().is_some_and(|n| n.is_ok_and(|n| n > 0));
                assert!(number() && number(), "no place in: {line}");
            }
        }
    }
}

fn area(e: &Elevation) -> f64 {
    let n = e.outline.len();
    let twice: f64 =
        (0..n).map(|i| (e.outline[i], e.outline[(i + 1) % n])).map(|(a, b)| a.0 * b.1 - b.0 * a.1).sum();
    (twice / 2e6).abs()
}

/// Sets a wall out: refused with a fault, or a sound plan, the same every time.
///
/// # Panics
///
/// Where that does not hold.
pub fn set_out(bytes: &[u8]) {
    let e = elevation(&mut Choices::new(bytes));
    let Some(plan) = planned(&e) else { return };
    let wrong = faults(&e, &plan);
    assert!(wrong.is_empty(), "{}\n{}", wrong.join("\n"), as_file(&e));
    assert_eq!(planned(&e).as_ref(), Some(&plan), "another plan the second time\n{}", as_file(&e));
}

fn planned(e: &Elevation) -> Option<Plan> {
    let bad = validate(e).into_iter().any(|f| f.kind == FaultKind::Unusable);
    let plan = plan(e);
    assert_eq!(plan.is_err(), bad, "validated otherwise than set out\n{}", as_file(e));
    plan.ok()
}

/// Checks a wall with ties that bytes put anywhere: the same findings every time and in whatever order the
/// ties come; one tie more leaves no more unserved.
///
/// # Panics
///
/// Where that does not hold.
pub fn check_ties(bytes: &[u8]) {
    let mut c = Choices::new(bytes);
    let ties: Vec<Point> =
        (0..c.below(24)).map(|_| (c.length(-300.0, 7800.0), c.length(-300.0, 4800.0))).collect();
    let e = elevation(&mut c);
    if validate(&e).iter().any(|f| f.kind == FaultKind::Unusable) {
        return;
    }
    let Ok(rules) = resolve(&e.rules) else { return };
    let masonry = Masonry::new(&e);
    let found = |ties: &[Point]| check(&e, &masonry, &rules, ties);
    let all = found(&ties);
    assert_eq!(all, found(&ties), "other findings the second time\n{}", as_file(&e));
    let turned: Vec<Point> = ties.iter().rev().copied().collect();
    let (here, there) = (counts(&all), counts(&found(&turned)));
    assert_eq!(here, there, "other findings in another order of {ties:?}\n{}", as_file(&e));
    if let Some((_, fewer)) = ties.split_last() {
        let (with, without) = (unserved(&all), unserved(&found(fewer)));
        assert!(
            with < without + 1e-4,
            "{with} m2 unserved, {without} with a tie less, of {ties:?}\n{}",
            as_file(&e)
        );
    }
}

fn counts(found: &[Finding]) -> Vec<usize> {
    Rule::ALL.iter().map(|&r| found.iter().filter(|f| f.rule == r).count()).collect()
}

fn unserved(found: &[Finding]) -> f64 {
    found.iter().filter(|f| f.rule == Rule::Coverage).filter_map(|f| f.measured).sum()
}

/// The wall as a project file, to be looked at.
#[must_use]
pub fn as_file(e: &Elevation) -> String {
    let project = layout_core::elevation::Project { elevations: vec![e.clone()], ..Default::default() };
    file::to_text(&project)
}
