//! Pull tests: how many, where, at what load, and what the results mean.
//!
//! Two schemes, each chosen by name. **Remedial ties**: on every job, both leaves before work starts, then the
//! weaker leaf while it goes on; the load is given by the engineer or the tie's maker, never guessed here.
//! **Post-installed anchors** (BS 8539:2012, annex B.3, seen second-hand): in each discrete area 2.5 % of the
//! anchors, at least 3, at 1.5 times the characteristic action, or 5 % at 1.25 times; after one failure 5 % and at
//! least 6; after more, all.
//!
//! Which ties is drawn by lot from a seed that is kept with the project: the area is cut into as many patches of
//! equal numbers of ties as there are tests, and one is drawn from each.

mod choose;
mod verdict;

pub use choose::draw;
pub use verdict::Verdict;

use crate::demand::{Assessment, resistance::load_of_tie};
use crate::elevation::{Elevation, LeafName, Point, SiteTests, TestArea, TestResult, TestScheme};
use crate::fixing::choose;
use crate::plan::Tie;
use crate::source::{Source, Sureness};

/// A result and a tie belong together if they are no further apart than this, mm.
const SAME_PLACE: f64 = 5.0;

/// Factor on the load where the outer leaf spans vertically without returns or edge ties.
pub const SPANS_VERTICALLY: f64 = 1.72;

/// Tests of one area, where `of` ties stand: `per_cent` of them, rounded up, at least `least`, at most all.
#[must_use]
pub fn sample(of: usize, per_cent: f64, least: usize) -> usize {
    let share = (of as f64 * per_cent / 100.0 - 1e-9).ceil().max(0.0) as usize;
    share.max(least).min(of)
}

/// Tests of an area of `of` ties after a number of failures, for a scheme that begins with `per_cent`.
#[must_use]
pub fn sample_after(of: usize, per_cent: f64, failures: usize) -> usize {
    match failures {
        0 => sample(of, per_cent, 3),
        1 => sample(of, 5.0, 6),
        _ => of,
    }
}

/// The plan of an elevation's pull tests.
#[derive(Clone, Debug, PartialEq)]
pub struct TestPlan {
    /// The scheme it is by.
    pub scheme: TestScheme,
    /// The seed the ties were drawn with.
    pub seed: u64,
    /// The load to pull to, N; `None` where it has to be given first.
    pub load: Option<f64>,
    /// How the load was found.
    pub load_how: String,
    /// Where scheme and load come from.
    pub source: Source,
    /// Areas, each tested for itself.
    pub areas: Vec<AreaPlan>,
    /// What to mind.
    pub cautions: Vec<String>,
}

impl TestPlan {
    /// Every tie to be tested, by its number in the layout, in order.
    #[must_use]
    pub fn rings(&self) -> Vec<usize> {
        let mut all: Vec<usize> = self.areas.iter().flat_map(|a| a.chosen.iter().copied()).collect();
        all.sort_unstable();
        all.dedup();
        all
    }

    /// Pulls in all: before work starts, both leaves, and while it goes on.
    #[must_use]
    pub fn count(&self) -> usize {
        self.areas.iter().map(|a| a.chosen.len() + 2 * a.before).sum()
    }
}

/// Tests of one area.
#[derive(Clone, Debug, PartialEq)]
pub struct AreaPlan {
    /// Its name.
    pub name: String,
    /// Ties in it.
    pub ties: usize,
    /// Trial ties in each leaf before work starts; 0 where the scheme has none.
    pub before: usize,
    /// Ties of the layout to test, by their number in it.
    pub chosen: Vec<usize>,
    /// Which leaf is tested while work goes on.
    pub leaf: Option<LeafName>,
    /// Results that judge it, by their number among those entered.
    pub results: Vec<usize>,
    /// What the results so far mean.
    pub verdict: Verdict,
}

/// Plans the tests of an elevation and judges its results; `None` where it says nothing of tests.
#[must_use]
pub fn plan_tests(elevation: &Elevation, ties: &[Tie], demand: Option<&Assessment>) -> Option<TestPlan> {
    let tests = elevation.tests.as_ref()?;
    let (load, load_how) = load(elevation, tests, demand);
    let document = match tests.scheme {
        TestScheme::RemedialTies => {
            "remedial tie practice after BRE Digest 401; numbers while work goes on as for anchors"
        }
        _ => "BS 8539:2012, annex B.3",
    };
    let fixing = current_fixing(elevation);
    let areas = areas(tests, ties).into_iter().map(|a| plan_area(&fixing, tests, ties, a, load)).collect();
    Some(TestPlan {
        scheme: tests.scheme,
        seed: tests.seed,
        load,
        load_how,
        source: Source::new(document, Sureness::SecondHand),
        areas,
        cautions: cautions(tests, load),
    })
}

/// The lowest load at which a tested tie of the chosen fixing failed, N; `None` where none did or no load was
/// entered.
#[must_use]
pub fn lowest_failed(elevation: &Elevation) -> Option<f64> {
    let tests = elevation.tests.as_ref()?;
    if tests.results.is_empty() {
        return None;
    }
    let fixing = current_fixing(elevation);
    let failed = tests.results.iter().filter(|r| counts(&fixing, r) && !r.held && r.load > 0.0);
    failed.map(|r| r.load).min_by(f64::total_cmp)
}

/// The tie of a layout that a result belongs to, by its number.
#[must_use]
pub fn tie_of(result: &TestResult, ties: &[Tie]) -> Option<usize> {
    ties.iter().position(|t| apart(t.at, result.at) <= SAME_PLACE)
}

/// The id of the fixing that is chosen, by the user or as the one ranked first; empty where none is.
fn current_fixing(elevation: &Elevation) -> String {
    match elevation.substrate.as_ref().map(|s| s.fixing.as_str()) {
        Some("") => choose(elevation).and_then(|c| c.fixing().map(|f| f.id.clone())).unwrap_or_default(),
        named => named.unwrap_or_default().to_owned(),
    }
}

/// Whether a result is of the fixing that is chosen.
fn counts(fixing: &str, result: &TestResult) -> bool {
    result.fixing.is_empty() || result.fixing == fixing
}

fn apart(a: Point, b: Point) -> f64 {
    (a.0 - b.0).hypot(a.1 - b.1)
}

/// The load to pull to, N, and how it was found.
fn load(elevation: &Elevation, tests: &SiteTests, demand: Option<&Assessment>) -> (Option<f64>, String) {
    let usable = |v: f64| v > 0.0 && v <= 1e6;
    let factor = match tests.scheme {
        TestScheme::RemedialTies => {
            if !usable(tests.proof) {
                return (None, "not given: take it from BRE Digest 401, Table 5, the tie's maker or an engineer; it is never guessed here".to_owned());
            }
            return if tests.spans_vertically {
                let how = format!(
                    "{} N as given x {SPANS_VERTICALLY}: the outer leaf spans vertically without returns or edge ties",
                    tests.proof
                );
                (Some(tests.proof * SPANS_VERTICALLY), how)
            } else {
                (Some(tests.proof), "as given".to_owned())
            };
        }
        TestScheme::AnchorsLow => 1.5,
        TestScheme::AnchorsHigh => 1.25,
    };
    if usable(tests.action) {
        return (Some(tests.action * factor), format!("{factor} x characteristic action {} N", tests.action));
    }
    match action_from(elevation, demand) {
        Some((action, how)) => {
            (Some(action * factor), format!("{factor} x characteristic action {action:.0} N ({how})"))
        }
        None => (None, "not known: enter the characteristic action on a tie, or the wind".to_owned()),
    }
}

/// The greatest characteristic action on a tie of the field, N, from the wind.
fn action_from(elevation: &Elevation, demand: Option<&Assessment>) -> Option<(f64, String)> {
    let exposure = elevation.exposure.as_ref()?;
    let zones = &demand?.demand()?.zones;
    let factor = if exposure.given.is_some() { 1.0 } else { exposure.load_factor };
    let of = |z: &crate::demand::DemandZone| load_of_tie(z.outward / factor, z.horizontal, z.vertical);
    let worst = zones.iter().max_by(|a, b| of(a).total_cmp(&of(b)))?;
    let how = format!(
        "zone {}: {:.3} kN/m² on {} x {} mm",
        worst.name,
        worst.outward / factor,
        worst.horizontal,
        worst.vertical
    );
    Some((of(worst), how))
}

/// An area and the ties in it, by their number.
struct Area {
    name: String,
    ties: Vec<usize>,
    /// Its rectangle; none for what is left of the elevation.
    shape: Option<TestArea>,
    /// The rectangles of the areas before it, whose results are not its own.
    others: Vec<TestArea>,
}

fn inside(a: &TestArea, p: Point) -> bool {
    p.0 >= a.x && p.0 <= a.x + a.w && p.1 >= a.y && p.1 <= a.y + a.h
}

impl Area {
    fn holds(&self, p: Point) -> bool {
        !self.others.iter().any(|o| inside(o, p)) && self.shape.as_ref().is_none_or(|s| inside(s, p))
    }
}

fn areas(tests: &SiteTests, ties: &[Tie]) -> Vec<Area> {
    let mut out = Vec::new();
    let mut before: Vec<TestArea> = Vec::new();
    for (i, a) in tests.areas.iter().enumerate() {
        let name = if a.name.is_empty() { format!("Area {}", i + 1) } else { a.name.clone() };
        out.push(Area { name, ties: Vec::new(), shape: Some(a.clone()), others: before.clone() });
        before.push(a.clone());
    }
    let name = if out.is_empty() { "Whole elevation" } else { "Rest of the elevation" };
    out.push(Area { name: name.to_owned(), ties: Vec::new(), shape: None, others: before });
    for (i, tie) in ties.iter().enumerate() {
        if let Some(area) = out.iter_mut().find(|a| a.holds(tie.at)) {
            area.ties.push(i);
        }
    }
    let many = out.len() > 1;
    out.retain(|a| !many || !a.ties.is_empty());
    out
}

fn plan_area(fixing: &str, tests: &SiteTests, ties: &[Tie], area: Area, load: Option<f64>) -> AreaPlan {
    let judged = |i: &usize| tests.results.get(*i).is_some_and(|r| counts(fixing, r) && area.holds(r.at));
    let results: Vec<usize> = (0..tests.results.len()).filter(judged).collect();
    let mine: Vec<&TestResult> = results.iter().filter_map(|&i| tests.results.get(i)).collect();
    let remedial = tests.scheme == TestScheme::RemedialTies;
    let during: Vec<&TestResult> = mine.iter().copied().filter(|r| !remedial || !r.before_work).collect();
    let failures = during.iter().filter(|r| !r.held).count();
    let per_cent = if tests.scheme == TestScheme::AnchorsHigh { 5.0 } else { 2.5 };
    let of = area.ties.len();
    let first = sample_after(of, per_cent, 0);
    let wanted = sample_after(of, per_cent, failures).max(first);
    let before = if remedial && of > 0 { tests.trials.min(1000) as usize } else { 0 };
    AreaPlan {
        chosen: draw(ties, &area.ties, first, wanted, tests.seed),
        leaf: remedial.then_some(tests.weaker),
        verdict: verdict::judge(&verdict::Case {
            results: &mine,
            during: &during,
            before,
            wanted,
            load,
            remedial,
        }),
        results,
        name: area.name,
        ties: of,
        before,
    }
}

fn cautions(tests: &SiteTests, load: Option<f64>) -> Vec<String> {
    let mut out = vec![
        "Resin sets in about an hour before a pull test (common practice, no source): the maker's time for the temperature governs.".to_owned(),
        "Ties driven in dry cannot be pull-tested afterwards (common practice, no source): test trial ties.".to_owned(),
    ];
    match tests.scheme {
        TestScheme::RemedialTies => {
            out.push(format!(
                "{} trial ties a leaf before work starts: no published number was found; confirm with a competent engineer.",
                tests.trials
            ));
            if load.is_some_and(|l| l > 1000.0) {
                out.push(
                    "Test loads of remedial ties are seldom over 1 kN: look at the load again.".to_owned(),
                );
            }
        }
        _ => out.push("Rounding the number of tests up is our reading.".to_owned()),
    }
    out.push("Areas change with the fixing, the base material and its condition: draw them so.".to_owned());
    out
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::Role;

    #[test]
    fn numbers_of_the_anchor_scheme() {
        // Check value 19, BS 8539 B.3: 2.5 %, at least 3; rounding up is our reading.
        for (of, expect) in [(40, 3), (120, 3), (121, 4), (200, 5), (400, 10)] {
            assert_eq!(sample(of, 2.5, 3), expect, "{of} ties");
        }
        // Check value 20: after one failure of 60, 5 % and at least 6; after two, all.
        assert_eq!((sample_after(60, 2.5, 1), sample_after(60, 2.5, 2)), (6, 60));
        // No more tests than ties.
        assert_eq!((sample(2, 2.5, 3), sample(0, 2.5, 3)), (2, 0));
    }

    fn grid(across: usize, up: usize) -> Vec<Tie> {
        let at = |i: usize| (450.0 + 900.0 * (i % across) as f64, 225.0 + 450.0 * (i / across) as f64);
        (0..across * up)
            .map(|i| Tie {
                mark: format!("F{}", i + 1),
                at: at(i),
                role: Role::Field,
                pinned: false,
                locked: false,
            })
            .collect()
    }

    fn wall(tests: SiteTests) -> Elevation {
        let mut e = Elevation::new("W", vec![(0.0, 0.0), (9000.0, 0.0), (9000.0, 5400.0), (0.0, 5400.0)]);
        e.tests = Some(tests);
        e
    }

    #[test]
    fn loads_of_the_anchor_scheme() {
        // Check value 21: characteristic 0.4 kN: 0.60 at 2.5 %, 0.50 at 5 %.
        for (scheme, expect) in [(TestScheme::AnchorsLow, 600.0), (TestScheme::AnchorsHigh, 500.0)] {
            let e = wall(SiteTests { scheme, action: 400.0, ..SiteTests::default() });
            let plan = plan_tests(&e, &grid(10, 12), None).expect("tests");
            assert_eq!(plan.load, Some(expect));
        }
    }

    #[test]
    fn the_load_of_remedial_ties_is_never_guessed() {
        let e = wall(SiteTests::default());
        assert_eq!(plan_tests(&e, &grid(10, 12), None).and_then(|p| p.load), None);
        let e = wall(SiteTests { proof: 500.0, spans_vertically: true, ..SiteTests::default() });
        // 500 x 1.72.
        assert_eq!(plan_tests(&e, &grid(10, 12), None).and_then(|p| p.load), Some(860.0));
    }

    #[test]
    fn a_failure_asks_for_more_ties_and_keeps_those_drawn() {
        let mut tests = SiteTests { scheme: TestScheme::AnchorsLow, action: 400.0, ..SiteTests::default() };
        let ties = grid(10, 12);
        let first = plan_tests(&wall(tests.clone()), &ties, None).expect("tests");
        // 2.5 % of 120 are 3.
        assert_eq!(first.areas[0].chosen.len(), 3);
        let at = ties[first.areas[0].chosen[0]].at;
        tests.results.push(TestResult { at, load: 380.0, held: false, ..TestResult::default() });
        let second = plan_tests(&wall(tests), &ties, None).expect("tests");
        // 5 % of 120 are 6.
        assert_eq!(second.areas[0].chosen.len(), 6);
        assert!(first.areas[0].chosen.iter().all(|c| second.areas[0].chosen.contains(c)));
        assert_eq!(second.areas[0].verdict, Verdict::OneFailure { done: 1, wanted: 6 });
    }

    #[test]
    fn areas_are_planned_each_for_itself() {
        let area = TestArea { name: "Left bay".to_owned(), x: 0.0, y: 0.0, w: 4500.0, h: 5400.0 };
        let e = wall(SiteTests { scheme: TestScheme::AnchorsLow, areas: vec![area], ..SiteTests::default() });
        let plan = plan_tests(&e, &grid(10, 12), None).expect("tests");
        let told: Vec<(&str, usize)> = plan.areas.iter().map(|a| (a.name.as_str(), a.ties)).collect();
        assert_eq!(told, [("Left bay", 60), ("Rest of the elevation", 60)]);
        assert!(plan.areas[0].chosen.iter().all(|&i| grid(10, 12)[i].at.0 <= 4500.0));
    }

    #[test]
    fn results_of_another_fixing_judge_nothing() {
        let failed =
            TestResult { load: 300.0, held: false, fixing: "old".to_owned(), ..TestResult::default() };
        let mut e = wall(SiteTests { results: vec![failed], ..SiteTests::default() });
        assert_eq!(lowest_failed(&e), None);
        if let Some(t) = &mut e.tests {
            t.results[0].fixing.clear();
        }
        assert_eq!(lowest_failed(&e), Some(300.0));
    }
}
