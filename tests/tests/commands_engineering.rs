//! Wind, fixing, tests, old ties and price as the commands tell them.

use serde_json::Value;
use tiewright_tests::console::{example, tiewright};

/// Example with everything entered.
const EXAMPLE: &str = "ferndale-wind.ron";

#[test]
fn the_csv_of_the_take_off_has_fixings_tests_old_ties_and_price() {
    let csv = tiewright(&["take-off", &example(EXAMPLE), "--csv", "-"]).out;
    let rows: Vec<Vec<&str>> = csv.lines().map(|l| l.split(',').collect()).collect();
    let cell = |row: usize, key: &str| {
        let i = rows[0].iter().position(|h| *h == key).expect("a column");
        rows[row][i].trim_matches('"')
    };
    // The columns that were there before stay in front.
    assert_eq!(rows[0][15], "breaches");
    assert!(rows.iter().all(|r| r.len() == rows[0].len()));
    let ties: usize = cell(1, "ties").parse().expect("a number");
    // One length does for cavities of 52 to 88 mm: 218 to 234.5, of which 225 is in stock.
    assert_eq!(cell(1, "ties_by_length_mm"), format!("225 x {ties}"));
    assert_eq!((cell(1, "hole_mm"), cell(1, "bar_mm"), cell(1, "test_load_n")), ("10", "6", "600.00"));
    // Bonded over 60 mm of the outer leaf: pi / 4 x (10² - 6²) x 60 mm are 3.0159 ml a tie.
    let resin: f64 = cell(1, "resin_ml").parse().expect("a number");
    assert!((resin - 3.0159 * ties as f64).abs() < 0.01 + 0.0001 * ties as f64);
    // Three trials in each of two leaves; 2.5 % of the ties, rounded up.
    let during = (ties as f64 * 0.025).ceil() as usize;
    assert_eq!(
        (cell(1, "tests_before_work"), cell(1, "tests_during_work")),
        ("6", during.to_string().as_str())
    );
    let old = ["isolate", "remove", "leave", "not_decided"].map(|t| cell(2, &format!("old_ties_{t}")));
    assert_eq!(old, ["1", "1", "2", "0"]);
    let priced = tiewright(&["engineering", &example(EXAMPLE)]).out;
    assert!(priced.contains(&format!("In all: £{}", cell(2, "price"))), "{priced}");
    assert_eq!((cell(1, "price"), cell(2, "currency")), ("", "£"));
}

#[test]
fn the_account_has_every_step_with_its_source() {
    let run = tiewright(&["engineering", &example(EXAMPLE)]);
    assert_eq!(run.status, 0, "{}", run.err);
    // The worked example at the head of the core's demand module, figure by figure.
    for words in [
        "Terrain factor k_r: 0.215",
        "Roughness factor c_r: 0.707",
        "Mean wind velocity v_m: 16.97",
        "Peak velocity pressure q_p: 0.564 kN/m²",
        "Width of zone A: 1.8 m",
        "Zone A, x 0 to 1800: 810 x 450 mm",
        "2.73 per m² needed; wind governs",
        "Zone B, x 1800 to 10200: 900 x 450 mm",
        "Design resistance F_d of one tie: 433.3 N",
        "EN 1991-1-4:2005 + A1:2010",
        "from memory, confirm",
        "Confirm with a competent engineer",
        "Not checked:",
    ] {
        let flat = run.out.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(flat.contains(words), "{words} is not in {}", run.out);
    }
}

#[test]
fn the_price_adds_up() {
    let run = tiewright(&["take-off", &example(EXAMPLE)]);
    let amount = |label: &str| {
        let line = run.out.lines().find(|l| l.trim_start().starts_with(label));
        let text = line.and_then(|l| l.rsplit('£').next()).unwrap_or_default();
        text.parse::<f64>().unwrap_or_else(|_| panic!("{label} in {}", run.out))
    };
    let net: f64 = [
        "Ties, supplied",
        "Spare ties",
        "Pull tests",
        "Old ties isolated",
        "Old ties removed",
        "Resin with",
        "Access",
        "Preliminaries",
    ]
    .into_iter()
    .map(amount)
    .sum();
    // Sums to the hundredth: half of one either way.
    let near = |a: f64, b: f64| (a - b).abs() < 0.0051;
    assert!(near(amount("Risk and overheads"), net * 0.10));
    assert!(near(amount("Profit"), (net + amount("Risk and overheads")) * 0.08));
    assert!(near(amount("In all"), net + amount("Risk and overheads") + amount("Profit")));
}

#[test]
fn the_result_carries_zones_steps_and_tests() {
    let run = tiewright(&["set-out", &example(EXAMPLE), "--json", "-"]);
    let all: Value = serde_json::from_str(&run.out).expect("JSON");
    let e = &all["elevations"][0];
    assert_eq!(e["wind"]["zones"].as_array().map(Vec::len), Some(3));
    let steps = e["wind"]["steps"].as_array().expect("steps");
    assert!(
        steps.iter().all(|s| s["source"].as_str().is_some_and(|t| !t.is_empty()) && s["mark"].is_string())
    );
    assert!(e["wind"]["not_checked"].as_array().is_some_and(|n| !n.is_empty()));
    // 2.5 % of the ties, rounded up, each named by its mark.
    let ties = e["tie_count"].as_u64().unwrap_or(0);
    let tested = e["tests"]["areas"][0]["test"].as_array().map_or(0, Vec::len);
    assert_eq!(tested as u64, (ties as f64 * 0.025).ceil() as u64);
    assert_eq!(e["fixing"]["chosen"], "mechanical-resin");
    assert_eq!(e["old_ties"].as_array().map(Vec::len), Some(4));
    // Elevations without such data say nothing of it.
    let plain = tiewright(&["set-out", &example("larkspur-semi.ron"), "--json", "-"]);
    assert!(!plain.out.contains("\"wind\"") && !plain.out.contains("\"tests\""));
}
