//! The take-off as comma-separated values, for a spreadsheet.

use crate::engineering::figure;
use crate::report::{Report, breaches};
use layout_core::elevation::{Elevation, Treatment};
use layout_core::engineering::proposal;
use layout_core::testing::TestPlan;
use layout_core::{Plan, Role};

/// The take-off: one row for each elevation, and one for all of them.
#[must_use]
pub fn take_off(report: &Report) -> String {
    let mut head: Vec<String> =
        ["elevation", "rules", "gross_area_m2", "opening_area_m2", "net_area_m2"].map(str::to_owned).into();
    head.extend(Role::ALL.map(|r| format!("{}_ties", r.id())));
    head.extend(
        ["ties", "pinned_ties", "lower_bound", "density_per_m2", "old_ties", "breaches"].map(str::to_owned),
    );
    head.extend(["rows", "full_rows", "most_steps_a_row", "mean_steps_a_row", "on_grid"].map(str::to_owned));
    head.extend(ENGINEERING.map(str::to_owned));
    let mut out = row(&head);
    for (elevation, plan) in report.elevations() {
        let mut cells = vec![elevation.name.clone(), plan.rules.id.clone()];
        cells.extend([plan.gross_area, plan.opening_area(), plan.net_area].map(two_places));
        cells.extend(Role::ALL.map(|r| plan.count(r).to_string()));
        cells.extend([plan.ties.len(), pinned(plan), plan.lower_bound].map(|n| n.to_string()));
        cells.push(two_places(plan.density()));
        cells.extend([elevation.existing_ties.len(), breaches(plan).count()].map(|n| n.to_string()));
        let m = &plan.marking;
        cells.extend([m.rows, m.main_rows, m.most_steps].map(|n| n.to_string()));
        cells.extend([m.mean_steps, m.grid_share()].map(two_places));
        cells.extend(engineering(elevation, plan));
        out.push_str(&row(&cells));
    }
    out.push_str(&row(&totals(report)));
    out
}

fn totals(report: &Report) -> Vec<String> {
    let net = report.total(|_, p| p.net_area);
    let density = if net > 0.0 { report.tie_count() as f64 / net } else { 0.0 };
    let mut cells = vec!["All elevations".to_owned(), String::new()];
    cells.push(two_places(report.total(|_, p| p.gross_area)));
    cells.push(two_places(report.total(|_, p| p.opening_area())));
    cells.push(two_places(net));
    cells.extend(Role::ALL.map(|r| report.role_count(r).to_string()));
    cells.push(report.tie_count().to_string());
    cells.push(report.plans.iter().map(pinned).sum::<usize>().to_string());
    cells.push(report.plans.iter().map(|p| p.lower_bound).sum::<usize>().to_string());
    cells.push(two_places(density));
    cells.push(report.project.elevations.iter().map(|e| e.existing_ties.len()).sum::<usize>().to_string());
    cells.push(report.plans.iter().map(|p| breaches(p).count()).sum::<usize>().to_string());
    // How easy it is to mark out is told of each elevation alone.
    cells.resize(cells.len() + 5, String::new());
    cells.extend(engineering_totals(report));
    cells
}

/// Columns of what was worked out beyond the places of the ties; a cell is empty where nothing was.
const ENGINEERING: [&str; 14] = [
    "fixing",
    "hole_mm",
    "bar_mm",
    "ties_by_length_mm",
    "resin_ml",
    "tests_before_work",
    "tests_during_work",
    "test_load_n",
    "old_ties_isolate",
    "old_ties_remove",
    "old_ties_leave",
    "old_ties_not_decided",
    "price",
    "currency",
];

/// Treatments of old ties in the order of the columns.
const TREATMENTS: [Treatment; 4] =
    [Treatment::Isolate, Treatment::Remove, Treatment::Leave, Treatment::AsProposed];

fn engineering(elevation: &Elevation, plan: &Plan) -> Vec<String> {
    let e = &plan.engineering;
    let fixing = e.fixing.as_ref().and_then(|c| c.fixing());
    let mut cells = vec![
        fixing.map_or_else(String::new, |f| f.name.clone()),
        fixing.map_or_else(String::new, |f| figure(f.hole)),
        fixing.map_or_else(String::new, |f| figure(f.bar)),
        lengths(&[plan]),
        e.lengths.as_ref().map_or_else(String::new, |l| two_places(l.resin_ml)),
    ];
    let tests = e.tests.as_ref();
    cells.push(tests.map_or_else(String::new, |t| before_work(t).to_string()));
    cells.push(tests.map_or_else(String::new, |t| during_work(t).to_string()));
    cells.push(tests.and_then(|t| t.load).map_or_else(String::new, two_places));
    cells.extend(TREATMENTS.map(|t| treated(elevation, t).to_string()));
    cells.extend(["", ""].map(str::to_owned));
    cells
}

/// The same of all elevations: no fixing, hole, bar or load, which differ; the price, which is of the whole.
fn engineering_totals(report: &Report) -> Vec<String> {
    let plans: Vec<&Plan> = report.plans.iter().collect();
    let resin: Vec<f64> =
        plans.iter().filter_map(|p| p.engineering.lengths.as_ref()).map(|l| l.resin_ml).collect();
    let tests: Vec<&TestPlan> = plans.iter().filter_map(|p| p.engineering.tests.as_ref()).collect();
    let sum = |of: fn(&TestPlan) -> usize| {
        if tests.is_empty() { String::new() } else { tests.iter().map(|t| of(t)).sum::<usize>().to_string() }
    };
    let mut cells = vec![String::new(), String::new(), String::new(), lengths(&plans)];
    cells.push(if resin.is_empty() { String::new() } else { two_places(resin.iter().sum()) });
    cells.extend([sum(before_work), sum(during_work), String::new()]);
    let all = &report.project.elevations;
    cells.extend(TREATMENTS.map(|t| all.iter().map(|e| treated(e, t)).sum::<usize>().to_string()));
    let price = report.price();
    cells.push(price.as_ref().map_or_else(String::new, |p| two_places(p.total)));
    cells.push(price.map_or_else(String::new, |p| p.currency));
    cells
}

/// Ties of each length, the shortest first: "225 x 196; 250 x 12".
fn lengths(plans: &[&Plan]) -> String {
    let groups = plans.iter().filter_map(|p| p.engineering.lengths.as_ref()).flat_map(|l| &l.groups);
    let mut all: Vec<(f64, usize)> = Vec::new();
    for (length, n) in groups.filter_map(|g| Some((g.length?, g.ties.len()))) {
        match all.iter_mut().find(|a| (a.0 - length).abs() < 0.05) {
            Some(a) => a.1 += n,
            None => all.push((length, n)),
        }
    }
    all.sort_by(|a, b| a.0.total_cmp(&b.0));
    all.iter().map(|(l, n)| format!("{} x {n}", figure(*l))).collect::<Vec<_>>().join("; ")
}

/// Trial ties before work starts, in both leaves.
fn before_work(tests: &TestPlan) -> usize {
    tests.areas.iter().map(|a| 2 * a.before).sum()
}

/// Ties of the layout that are tested.
fn during_work(tests: &TestPlan) -> usize {
    tests.areas.iter().map(|a| a.chosen.len()).sum()
}

fn treated(elevation: &Elevation, treatment: Treatment) -> usize {
    elevation.existing_ties.iter().filter(|t| proposal(t).treatment == treatment).count()
}

fn pinned(plan: &Plan) -> usize {
    plan.ties.iter().filter(|t| t.pinned).count()
}

fn two_places(v: f64) -> String {
    format!("{v:.2}")
}

/// Cells as one line of the file.
fn row(cells: &[String]) -> String {
    let cells: Vec<String> = cells.iter().map(|c| cell(c)).collect();
    cells.join(",") + "\n"
}

/// One cell: quoted where it has to be, and never one that a spreadsheet takes for a formula.
///
/// Numbers here are never negative, so a cell that begins like a formula is text and gets an
/// apostrophe in front.
fn cell(text: &str) -> String {
    let formula = text.starts_with(['=', '+', '-', '@', '\t', '\r', '\n', '＝', '＋', '－', '＠']);
    let safe = if formula { format!("'{text}") } else { text.to_owned() };
    if safe.contains([',', '"', '\n', '\r', '\'', ';', '\t']) || safe.trim() != safe {
        format!("\"{}\"", safe.replace('"', "\"\""))
    } else {
        safe
    }
}

#[cfg(test)]
mod tests {
    use super::cell;

    #[test]
    fn cells_are_quoted_and_never_a_formula() {
        assert_eq!(cell("Front"), "Front");
        assert_eq!(cell("Front, left"), "\"Front, left\"");
        assert_eq!(cell("the \"old\" gable"), "\"the \"\"old\"\" gable\"");
        assert_eq!(cell("=1+1"), "\"'=1+1\"");
        assert_eq!(cell("-3"), "\"'-3\"");
        assert_eq!(cell("@sum"), "\"'@sum\"");
        assert_eq!(cell("two\nlines"), "\"two\nlines\"");
    }
}
