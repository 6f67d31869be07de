//! Locked areas: their ties stay exactly, none is added, and the rest is set out to go with them.

use layout_core::check::Rule;
use layout_core::elevation::{Elevation, Locked, Opening, Pattern, Point, Shape, SideCondition, Style};
use layout_core::{Plan, plan};
use tiewright_tests::console::tiewright;
use tiewright_tests::walls::{FAMILIES, wall};

fn set_out(e: &Elevation) -> Plan {
    plan(e).unwrap_or_else(|f| panic!("no usable wall: {f:?}"))
}

fn holds((x, y, w, h): (f64, f64, f64, f64), p: Point) -> bool {
    p.0 >= x && p.0 <= x + w && p.1 >= y && p.1 <= y + h
}

fn within(plan: &Plan, area: (f64, f64, f64, f64)) -> Vec<Point> {
    plan.ties.iter().map(|t| t.at).filter(|&p| holds(area, p)).collect()
}

/// Locks a rectangle with the ties of a plan that stand in it.
fn lock(e: &mut Elevation, plan: &Plan, area: (f64, f64, f64, f64)) -> Vec<Point> {
    let (x, y, w, h) = area;
    let ties = within(plan, area);
    e.locked.push(Locked { name: String::new(), shape: Shape::Rect { x, y, w, h }, ties: ties.clone() });
    ties
}

fn front() -> Elevation {
    let mut e = Elevation::new("Front", vec![(0.0, 0.0), (9000.0, 0.0), (9000.0, 5250.0), (0.0, 5250.0)]);
    let shape = Shape::Rect { x: 1200.0, y: 900.0, w: 1200.0, h: 1350.0 };
    e.openings.push(Opening { name: "W1".to_owned(), shape });
    e
}

const BAY: (f64, f64, f64, f64) = (3000.0, 1000.0, 3000.0, 2500.0);

#[test]
fn locked_ties_stay_while_all_round_them_changes() {
    let mut e = front();
    let before = set_out(&e);
    let ties = lock(&mut e, &before, BAY);
    assert!(ties.len() >= 10, "{} ties", ties.len());
    let again = set_out(&e);
    assert_eq!(again.findings, []);
    assert_eq!(within(&again, BAY), ties);
    // Another arrangement, a window beside the area, a free end, other courses: the rest is set out anew.
    e.pattern = Pattern::Stacked;
    e.style = Style::Fewest;
    let shape = Shape::Rect { x: 6300.0, y: 900.0, w: 1200.0, h: 1350.0 };
    e.openings.push(Opening { name: "W2".to_owned(), shape });
    e.sides = vec![SideCondition::Base, SideCondition::FreeEnd, SideCondition::Eaves, SideCondition::Corner];
    let now = set_out(&e);
    assert_eq!(within(&now, BAY), ties, "as they were, to the last figure");
    assert_eq!(now.findings, []);
    for tie in &now.ties {
        assert_eq!(tie.locked, ties.contains(&tie.at), "{tie:?}");
        assert!(!tie.pinned, "{tie:?}");
    }
    // Nothing but the locked ties where none is set out.
    e.automatic = false;
    let by_hand = set_out(&e);
    assert_eq!(by_hand.ties.iter().map(|t| t.at).collect::<Vec<_>>(), ties);
}

#[test]
fn no_tie_is_added_in_a_locked_area_and_what_breaks_there_is_reported() {
    let mut e = front();
    let before = set_out(&e);
    let mut ties = lock(&mut e, &before, BAY);
    // The tie nearest the middle is struck out.
    let off = |p: &Point| (p.0 - 4500.0).hypot(p.1 - 2250.0);
    let at = (0..ties.len()).min_by(|&a, &b| off(&ties[a]).total_cmp(&off(&ties[b]))).expect("ties");
    let gone = ties.remove(at);
    e.locked[0].ties = ties.clone();
    e.locked[0].name = "Bay".to_owned();
    let now = set_out(&e);
    assert_eq!(within(&now, BAY), ties);
    let found: Vec<_> = now.findings.iter().filter(|f| f.rule == Rule::Coverage).collect();
    assert_eq!(found.len(), now.findings.len(), "{:#?}", now.findings);
    assert!(!found.is_empty() && found.iter().all(|f| holds(BAY, f.at)), "{found:#?}");
    assert!(found.iter().any(|f| (f.at.0 - gone.0).hypot(f.at.1 - gone.1) < 500.0), "{found:#?}");
    assert!(
        found.iter().any(|f| f.message.contains("the locked area 'Bay' has no tie within reach")),
        "{found:#?}"
    );
}

#[test]
fn a_tie_in_a_locked_area_that_breaks_a_rule_stays_and_is_reported() {
    let mut e = front();
    // Off the courses, and 40 from the end of the wall.
    let shape = Shape::Rect { x: 0.0, y: 0.0, w: 300.0, h: 600.0 };
    e.locked.push(Locked { name: String::new(), shape, ties: vec![(40.0, 310.0)] });
    let now = set_out(&e);
    assert!(now.ties.iter().any(|t| t.at == (40.0, 310.0) && t.locked));
    for rule in [Rule::Coursing, Rule::EdgeDistance] {
        assert!(now.findings.iter().any(|f| f.rule == rule && f.at == (40.0, 310.0)), "{rule:?}");
    }
}

#[test]
fn a_tie_both_pinned_and_locked_is_one_tie() {
    let mut e = front();
    e.pinned.push((4500.0, 2250.0));
    let before = set_out(&e);
    lock(&mut e, &before, BAY);
    let now = set_out(&e);
    assert_eq!(now.findings, []);
    let both: Vec<_> = now.ties.iter().filter(|t| t.at == (4500.0, 2250.0)).collect();
    assert!(both.len() == 1 && both[0].pinned && both[0].locked, "{both:?}");
}

#[test]
fn on_walls_of_every_family_locked_ties_stay() {
    for family in FAMILIES {
        for seed in 3..6 {
            let mut e = wall(family, seed);
            let xs: Vec<f64> = e.outline.iter().map(|p| p.0).collect();
            let (l, r) = xs.iter().fold((f64::MAX, f64::MIN), |(l, r), &x| (l.min(x), r.max(x)));
            let ys: Vec<f64> = e.outline.iter().map(|p| p.1).collect();
            let (b, t) = ys.iter().fold((f64::MAX, f64::MIN), |(b, t), &y| (b.min(y), t.max(y)));
            // The middle third each way.
            let area = (l + (r - l) / 3.0, b + (t - b) / 3.0, (r - l) / 3.0, (t - b) / 3.0);
            let before = set_out(&e);
            let ties = lock(&mut e, &before, area);
            e.pattern = if e.pattern == Pattern::Stacked { Pattern::Staggered } else { Pattern::Stacked };
            let now = set_out(&e);
            assert_eq!(within(&now, area), ties, "{family:?} {seed}");
            assert_eq!(now, set_out(&e), "{family:?} {seed}");
        }
    }
}

#[test]
fn json_and_the_summary_tell_locked_ties() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("job.ron");
    let text = "(format: 1, title: \"T\", elevations: [(name: \"Front\",
        outline: [(0, 0), (3000, 0), (3000, 1500), (0, 1500)],
        locked: [(name: \"Sound\", shape: Rect(x: 0, y: 0, w: 900, h: 900), ties: [(450, 225), (450, 675)])])])";
    std::fs::write(&file, text).expect("a file");
    let file = file.display().to_string();
    let json: serde_json::Value =
        serde_json::from_str(&tiewright(&["set-out", &file, "--json", "-"]).out).expect("JSON");
    let ties = json["elevations"][0]["ties"].as_array().expect("ties");
    let locked: Vec<_> = ties.iter().filter(|t| t["locked"] == true).collect();
    assert_eq!(locked.len(), 2);
    assert!(ties.len() > 2 && locked.iter().all(|t| t["pinned"] == false && t["x"] == 450.0));
    let ran = tiewright(&["set-out", &file]);
    assert!(ran.out.contains("2 of them in locked areas"), "{}", ran.out);
}
