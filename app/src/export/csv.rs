//! The take-off as comma-separated values, for a spreadsheet.

use crate::report::{Report, breaches};
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
    cells
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
