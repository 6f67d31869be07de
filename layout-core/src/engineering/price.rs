//! The work priced at a fixed sum, from the firm's own rates: each line with its quantity, rate and amount.
//!
//! # A worked example
//!
//! 100 ties at 9.50, 5 % spare at the tie's rate, 8 pull tests at 12, access 900, preliminaries 400: 950 + 47.50 +
//! 96 + 900 + 400 = 2393.50; risk and overheads 10 % are 239.35, together 2632.85; profit 8 % is 210.63; in all
//! 2843.48. `the_worked_example` holds the program to it.

use super::proposal;
use crate::elevation::{Project, Rates, Treatment};
use crate::fixing::Lengths;
use crate::plan::Plan;
use crate::testing::TestPlan;

/// One line of the price.
#[derive(Clone, Debug, PartialEq)]
pub struct PriceLine {
    /// What is paid for.
    pub what: String,
    /// How many, with `unit`.
    pub quantity: f64,
    /// Unit of the quantity; empty for a sum.
    pub unit: &'static str,
    /// Money for one.
    pub rate: f64,
    /// Quantity x rate, to the hundredth.
    pub amount: f64,
}

/// The price of a project.
#[derive(Clone, Debug, PartialEq)]
pub struct Price {
    /// Currency as the firm writes it.
    pub currency: String,
    /// Lines, in order; the last are overheads and profit.
    pub lines: Vec<PriceLine>,
    /// The fixed sum, to the hundredth.
    pub total: f64,
    /// What has no price or no quantity yet.
    pub open: Vec<String>,
}

fn cents(v: f64) -> f64 {
    (v * 100.0).round() / 100.0
}

/// Prices a project by its rates; `None` where it has none.
#[must_use]
pub fn price(project: &Project, plans: &[&Plan]) -> Option<Price> {
    let r = project.rates.as_ref()?;
    let mut lines = Vec::new();
    let mut open = Vec::new();
    quantities(project, plans, r, &mut lines, &mut open);
    // From nothing on: a sum of no lines would be -0.
    let net = lines.iter().fold(0.0, |sum, l: &PriceLine| sum + l.amount);
    let mut sum = cents(net);
    for (what, per_cent) in [("Risk and overheads", r.overheads), ("Profit", r.profit)] {
        if usable(per_cent) {
            let amount = cents(sum * per_cent / 100.0);
            lines.push(PriceLine {
                what: what.to_owned(),
                quantity: per_cent,
                unit: "%",
                rate: sum / 100.0,
                amount,
            });
            sum = cents(sum + amount);
        }
    }
    open.push(
        "Old masonry, scaffold design, lost time and taxes are not in the sum unless in the rates."
            .to_owned(),
    );
    Some(Price { currency: r.currency.clone(), lines, total: sum, open })
}

fn usable(v: f64) -> bool {
    v > 0.0 && v < 1e9
}

fn quantities(
    project: &Project,
    plans: &[&Plan],
    r: &Rates,
    lines: &mut Vec<PriceLine>,
    open: &mut Vec<String>,
) {
    let ties: usize = plans.iter().map(|p| p.ties.len()).sum();
    let tests: usize = plans.iter().filter_map(|p| p.engineering.tests.as_ref()).map(TestPlan::count).sum();
    let resin: f64 =
        plans.iter().filter_map(|p| p.engineering.lengths.as_ref()).map(Lengths::resin_to_order).sum();
    let treated = |t: Treatment| {
        project
            .elevations
            .iter()
            .flat_map(|e| &e.existing_ties)
            .filter(|o| proposal(o).treatment == t)
            .count()
    };
    let spare = if usable(r.spare) { (ties as f64 * r.spare / 100.0 - 1e-9).ceil() } else { 0.0 };
    let all = [
        ("Ties, supplied, fixed and made good", ties as f64, "no.", r.tie),
        ("Spare ties", spare, "no.", r.tie),
        ("Pull tests", tests as f64, "no.", r.test),
        ("Old ties isolated", treated(Treatment::Isolate) as f64, "no.", r.isolate),
        ("Old ties removed", treated(Treatment::Remove) as f64, "no.", r.remove),
        ("Resin with waste of a fifth", resin, "ml", r.resin_ml),
        ("Access", 1.0, "", r.access),
        ("Preliminaries", 1.0, "", r.preliminaries),
    ];
    for (what, quantity, unit, rate) in all {
        if quantity <= 0.0 {
            continue;
        }
        if usable(rate) {
            let amount = cents(quantity * rate);
            lines.push(PriceLine { what: what.to_owned(), quantity, unit, rate, amount });
        } else {
            open.push(format!("{what}: no rate entered."));
        }
    }
    let unknown = treated(Treatment::AsProposed);
    if unknown > 0 {
        open.push(format!("{unknown} old ties whose kind is not known."));
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::elevation::{Elevation, SiteTests, TestScheme};
    use crate::plan::plan;

    #[test]
    fn the_worked_example() {
        // 100 pinned ties and nothing else; 2.5 % of 100, at least 3, are 3 tests.
        let mut e =
            Elevation::new("W", vec![(0.0, 0.0), (12_000.0, 0.0), (12_000.0, 6_000.0), (0.0, 6_000.0)]);
        e.automatic = false;
        let at = |i: i32| (500.0 + 1000.0 * f64::from(i % 10), 300.0 + 525.0 * f64::from(i / 10));
        e.pinned = (0..100).map(at).collect();
        e.tests = Some(SiteTests { scheme: TestScheme::AnchorsLow, action: 400.0, ..SiteTests::default() });
        let rates = Rates {
            tie: 9.5,
            spare: 5.0,
            test: 32.0,
            access: 900.0,
            preliminaries: 400.0,
            overheads: 10.0,
            profit: 8.0,
            ..Rates::default()
        };
        let plans = [plan(&e).expect("a plan")];
        let project = Project { rates: Some(rates), elevations: vec![e], ..Project::default() };
        let p = price(&project, &plans.iter().collect::<Vec<_>>()).expect("rates");
        // As at the head of this file, with 3 tests at 32 for 8 at 12: 96 both ways.
        assert_eq!(p.total, 2843.48);
        assert_eq!(price(&Project::default(), &[]), None);
    }
}
