//! The work priced at a fixed sum, from the firm's own rates.

use egui::{Align, FontId, Layout, RichText, Ui, vec2};
use layout_core::Plan;
use layout_core::engineering::{Price, price};

use super::form::Form;
use crate::document::Edit;
use crate::engineering;
use crate::session::{Context, Request};
use crate::theme::{Palette, bold};
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
    for (label, unit, value) in [
        ("A tie", "each", &mut new.tie),
        ("A pull test", "each", &mut new.test),
        ("Isolating", "each", &mut new.isolate),
        ("Removing", "each", &mut new.remove),
        ("Resin", "a ml", &mut new.resin_ml),
        ("Access", "sum", &mut new.access),
        ("Preliminaries", "sum", &mut new.preliminaries),
    ] {
        form.money(label, unit, value);
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
        heading(ui, "Price of the project");
        account(ui, &p);
    }
    if out {
        cx.ask(Request::Edit(Edit::Rates(None)));
    } else if changed {
        cx.ask(Request::Edit(Edit::Rates(Some(Box::new(new)))));
    }
}

/// The lines with their amounts in a column, the sum under a rule, and what is still open.
fn account(ui: &mut Ui, p: &Price) {
    let told = engineering::price(p);
    for (line, l) in told.lines.iter().zip(&p.lines) {
        amount(ui, &line.label, &money(p, l.amount), FontId::proportional(13.0));
        let share = || format!("{} % of {}", engineering::figure(l.quantity), money(p, l.rate * 100.0));
        quiet(ui, if l.unit == "%" { share() } else { line.how.clone() });
        ui.add_space(3.0);
    }
    if !p.lines.is_empty() {
        let y = ui.cursor().top();
        let ink = Palette::of(ui.ctx()).ink;
        ui.painter().hline(ui.max_rect().x_range(), y, egui::Stroke::new(1.0, ink));
        ui.add_space(3.0);
        amount(ui, "In all", &money(p, p.total), FontId::new(15.0, bold()));
        ui.add_space(3.0);
    }
    for note in &told.notes {
        quiet(ui, format!("• {note}"));
    }
}

/// Words at the left, an amount at the right edge.
fn amount(ui: &mut Ui, words: &str, amount: &str, font: FontId) {
    let ink = Palette::of(ui.ctx()).ink;
    let size = vec2(ui.available_width(), 20.0);
    ui.allocate_ui_with_layout(size, Layout::right_to_left(Align::Center), |ui| {
        ui.label(RichText::new(amount).font(font.clone()).color(ink));
        ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
            ui.add(egui::Label::new(RichText::new(words).font(font).color(ink)).truncate());
        });
    });
}

/// An amount to the hundredth, its thousands parted.
fn money(p: &Price, v: f64) -> String {
    let text = format!("{:.2}", v.abs());
    let (whole, cents) = text.split_once('.').unwrap_or((&text, "00"));
    let mut parted = String::new();
    for (i, digit) in whole.chars().enumerate() {
        if i > 0 && (whole.len() - i) % 3 == 0 {
            parted.push(',');
        }
        parted.push(digit);
    }
    let sign = if v < 0.0 { "-" } else { "" };
    format!("{sign}{}{parted}.{cents}", p.currency)
}
