//! The pages of the sidebar for wind, fixing, pull tests, old ties and price.

use layout_core::elevation::{ExistingTie, Rates, TieForm, Treatment};
use tiewright_tests::window::{Window, front};

/// A 9 m front in a tall window, with the wind of the village of the worked example entered by hand.
fn windy() -> Window {
    let mut w = Window::sized(front(), 1280.0, 1600.0);
    w.click("Wind");
    w.click("Enter the wind");
    w.enter("Wind: Basic wind", "24");
    w.enter("Wind: Height", "8 m");
    w.enter("Wind: Depth behind", "9000");
    w
}

#[test]
fn wind_is_entered_and_its_zones_are_told() {
    let mut w = Window::sized(front(), 1280.0, 1600.0);
    w.click("Wind");
    w.click("Enter the wind");
    assert!(w.says("Still to enter"), "what is missing is named");
    w.enter("Wind: Basic wind", "24");
    w.enter("Wind: Height", "8 m");
    w.enter("Wind: Depth behind", "9000");
    // e = min(9, 16) = 9: A reaches 1.8 m from each end.
    assert!(w.says("Zone A, x 0 to 1800"));
    assert!(w.says("Confirm with a competent engineer") && w.says("Not checked"), "never a bare OK");
    assert!(w.says("tie resistance not given"));
}

#[test]
fn weak_ties_bring_more_of_them() {
    let mut w = windy();
    let before = w.ties();
    w.click("A declared or tested value is known");
    w.enter("Wind: Tension", "700");
    w.enter("Wind: Compression", "700");
    assert!(w.ties() > before, "{} ties, {before} before", w.ties());
    assert!(w.says("wind governs"));
    // One step back each.
    w.keys(egui::Modifiers::COMMAND, egui::Key::Z);
    assert_eq!(w.ties(), before);
}

#[test]
fn a_wall_and_its_cavity_bring_fixing_and_length() {
    let mut w = Window::sized(front(), 1280.0, 2200.0);
    w.click("Fixing");
    w.click("Enter the wall");
    assert!(w.says("excluded"), "reasons are given for what will not do");
    // Nothing is known of the wall yet.
    assert!(w.shows("provisional") && !w.shows("chosen") && w.says("Assumed"));
    assert!(w.says("until it is known what both leaves are built of"));
    for leaf in ["Outer leaf", "Inner leaf"] {
        w.choose(&format!("{leaf}: Built of"), "clay brick");
    }
    assert!(w.shows("chosen") && !w.shows("provisional") && !w.says("Assumed"));
    w.click("Add a cavity reading");
    assert!(w.says("until then it does not count") && !w.says("Ties at a cavity"), "no width is made up");
    w.enter("Cavity reading 1: Cavity", "50");
    // 60 + 50 + 70 = 180 at least; 200 is the first in stock.
    assert!(w.says("Ties at a cavity of 50 mm") && w.says("200 mm"));
    w.enter("Cavity reading 1: Cavity", "300");
    assert!(w.says("too short"));
}

#[test]
fn tests_are_planned_and_a_failure_is_answered() {
    let mut w = Window::sized(front(), 1280.0, 2200.0);
    w.click("Tests");
    w.click("Plan pull tests");
    assert!(w.says("never guessed"), "the load of remedial ties is asked for");
    w.enter("Tests: Test load", "600");
    assert!(w.says("trial ties held in the outer leaf"));
    w.click("Enter a trial tie");
    assert_eq!(w.elevation().tests.map(|t| t.results.len()), Some(1));
    assert!(w.says("0 of 5 trial ties held in the outer leaf"), "no load is made up");
    assert!(w.says("until then it proves nothing"));
    w.enter("Result 1: Load reached", "600");
    assert!(w.says("1 of 5 trial ties held in the outer leaf"));
    w.click("Tests: Draw other ties");
    assert_eq!(w.elevation().tests.map(|t| t.seed), Some(2));
}

#[test]
fn a_failure_offers_the_fallback_and_switching_starts_afresh() {
    let mut w = Window::sized(front(), 1280.0, 2600.0);
    w.click("Fixing");
    w.click("Enter the wall");
    w.click("Tests");
    w.click("Plan pull tests");
    w.enter("Tests: Test load", "600");
    w.click("Enter a trial tie");
    let mut tests = w.elevation().tests.expect("tests");
    assert!(!tests.results[0].fixing.is_empty(), "a result says what was tested");
    tests.results[0].held = false;
    tests.results[0].load = 300.0;
    let mut project = w.project();
    project.elevations[0].tests = Some(tests);
    let mut w = Window::sized(project, 1280.0, 2600.0);
    w.click("Tests");
    assert!(w.says("Do not start: find the cause"));
    assert!(w.says("Whole elevation: Do not start"), "what to do stands first");
    assert!(w.says("The lowest load at which a tie failed is 300 N"));
    let planner = w.h.state();
    let choice = planner.derived().plan(0).and_then(|p| p.engineering.fixing.clone()).expect("a choice");
    let fallback = &choice.ranked[choice.fallback.expect("a fallback")].fixing;
    w.click(&format!("Switch to the {}", fallback.name));
    assert_eq!(w.elevation().substrate.map(|s| s.fixing), Some(fallback.id.clone()));
    assert_eq!(w.elevation().tests.map(|t| t.results.len()), Some(1), "results are kept");
    assert!(!w.says("Do not start: find the cause"));
}

#[test]
fn old_ties_have_a_proposal_with_its_reason() {
    let mut project = front();
    let old = ExistingTie {
        at: (4500.0, 2475.0),
        form: TieForm::VerticalTwist,
        grade: 8,
        treatment: Treatment::AsProposed,
    };
    project.elevations[0].existing_ties.push(old);
    let mut w = Window::sized(project, 1280.0, 1200.0);
    w.click("Old ties");
    assert!(w.says("grade 8; thick strip this far gone lifts the wall"));
}

#[test]
fn a_price_without_rates_says_so() {
    let mut project = front();
    project.rates = Some(Rates::default());
    let mut w = Window::sized(project, 1280.0, 1200.0);
    w.click("Price");
    assert!(w.says("Nothing is priced yet"));
    assert!(!w.says("In all"), "no sum of nothing");
}

#[test]
fn the_order_of_work_is_numbered() {
    let mut w = Window::sized(front(), 1280.0, 2200.0);
    w.click("Fixing");
    w.click("Enter the wall");
    assert!(w.shows("Order of work"));
    assert!(w.says("2. Prove trial ties in both leaves before work starts."));
}

#[test]
fn the_price_is_told_line_by_line() {
    let mut project = front();
    project.rates = Some(Rates { currency: "£".to_owned(), tie: 10.0, ..Rates::default() });
    let mut w = Window::sized(project, 1280.0, 1200.0);
    w.click("Price");
    let sum = w.ties() * 10;
    assert!((1000..10_000).contains(&sum), "{sum}");
    let sum = format!("£{},{:03}.00", sum / 1000, sum % 1000);
    assert!(w.says(&sum), "{sum}");
    use egui_kittest::kittest::{NodeT, Queryable};
    let right: Vec<f32> = w.h.query_all_by_label(&sum).map(|n| n.rect().right()).collect();
    assert!(right.len() >= 2 && right.iter().all(|x| (x - right[0]).abs() < 1.5), "in a column: {right:?}");
    let rate = w.h.get_by_label("Rates: A tie").accesskit_node().value();
    assert_eq!(rate.as_deref(), Some("10.00"));
    assert!(w.says("Access: no rate entered"));
}

#[test]
fn the_page_of_old_ties_hands_out_the_tool_for_them() {
    let mut w = Window::sized(front(), 1280.0, 2200.0);
    w.click("Old ties");
    w.click("Mark old ties");
    assert_eq!(w.h.state().session().tool, tiewright::tools::Tool::OldTie);
}

#[test]
fn findings_on_every_page_say_by_what_they_were_found() {
    let mut w = Window::front();
    for page in ["Wind", "Setting out"] {
        w.click(page);
        assert!(w.says("Checked against the rules of this elevation"));
    }
}
