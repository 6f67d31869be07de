//! The work priced at a fixed sum, from the firm's own rates.

use egui::Ui;
use layout_core::Plan;
use layout_core::engineering::price;

use super::form::Form;
use super::section;
use crate::document::Edit;
use crate::engineering;
use crate::session::{Context, Request};
use crate::widgets::{heading, quiet};

pub(super) fn show(ui: &mut Ui, cx: &mut Context<'_>) {
    heading(ui, "Price at a fixed sum");
    let Some(rates) = cx.project().rates.clone() else {
        quiet(
            ui,
            "The whole project at your own rates: ties, spare, tests, old ties, resin, access, overheads, profit.",
        );
        if ui.button("Enter rates").clicked() {
            cx.ask(Request::Edit(Edit::Rates(Some(Box::default()))));
        }
        return;
    };
    let mut new = rates;
    let mut form = Form::new(ui, "Rates", 0);
    form.words("Currency", "£", &mut new.currency);
    let money = 0.0..=1e9;
    for (label, unit, value) in [
        ("A tie", "each", &mut new.tie),
        ("A pull test", "each", &mut new.test),
        ("Isolating", "each", &mut new.isolate),
        ("Removing", "each", &mut new.remove),
        ("Resin", "a ml", &mut new.resin_ml),
        ("Access", "sum", &mut new.access),
        ("Preliminaries", "sum", &mut new.preliminaries),
    ] {
        form.number(label, unit, value, money.clone());
    }
    for (label, value) in
        [("Spare ties", &mut new.spare), ("Overheads", &mut new.overheads), ("Profit", &mut new.profit)]
    {
        form.number(label, "%", value, 0.0..=1000.0);
    }
    let out = form.button("Take the rates out");
    let changed = form.changed;
    let count = cx.project().elevations.len();
    let plans: Vec<&Plan> = (0..count).filter_map(|i| cx.derived.plan(i)).collect();
    if plans.len() < count {
        quiet(ui, "Some elevations are not set out: no price for them.");
    } else if let Some(p) = price(cx.project(), &plans) {
        section(
            ui,
            &engineering::Section { title: "Price of the project".to_owned(), ..engineering::price(&p) },
        );
    }
    if out {
        cx.ask(Request::Edit(Edit::Rates(None)));
    } else if changed {
        cx.ask(Request::Edit(Edit::Rates(Some(Box::new(new)))));
    }
}
