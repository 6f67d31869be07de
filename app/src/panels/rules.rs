//! Rules of the elevation, each value with where it comes from.

use egui::{Id, RichText, Ui};
use layout_core::elevation::{CustomEdges, CustomRules, RuleChoice};
use layout_core::rules::{Density, EdgeScope, RuleSet, resolve, sets};
use layout_core::source::Source;

use crate::document::Change;
use crate::session::Context;
use crate::theme::Palette;
use crate::widgets::number::{self, Must, show as mm};
use crate::widgets::{choose, field, heading, labelled, quiet};

pub(super) fn show(ui: &mut Ui, cx: &mut Context<'_>) {
    let Some(e) = cx.elevation() else { return };
    let rules = e.rules.clone();
    heading(ui, "Rules");
    rule_set(ui, cx, &rules);
}

/// The user's own rules, in the list of sets.
const OWN: &str = "own rules";

fn rule_set(ui: &mut Ui, cx: &mut Context<'_>, rules: &RuleChoice) {
    let ids = sets::ids();
    let mut options: Vec<(&str, &str)> = ids.iter().map(|id| (id.as_str(), id.as_str())).collect();
    options.push((OWN, OWN));
    let now = match rules {
        RuleChoice::Named(id) => id.as_str(),
        RuleChoice::Custom(_) => OWN,
    };
    if !options.iter().any(|(id, _)| *id == now) {
        options.push((now, now));
    }
    let chosen = labelled(ui, "Rule set", |ui| choose(ui, "Rule set", 190.0, now, &options));
    if let Some(id) = chosen {
        let next = if id == OWN { RuleChoice::Custom(like(rules)) } else { RuleChoice::Named(id.to_owned()) };
        cx.change(Change::Rules(next));
    }
    match rules {
        RuleChoice::Custom(custom) => own(ui, cx, custom),
        RuleChoice::Named(_) => match resolve(rules) {
            Ok(set) => values(ui, &set),
            Err(message) => {
                let p = Palette::of(ui.ctx());
                ui.add(egui::Label::new(RichText::new(message).color(p.breach)).wrap());
            }
        },
    }
}

/// Own rules that begin with the values of the set they follow.
fn like(rules: &RuleChoice) -> CustomRules {
    let Ok(set) = resolve(rules) else { return CustomRules::default() };
    CustomRules {
        name: "Own rules".to_owned(),
        source: String::new(),
        horizontal: set.horizontal.value,
        vertical: set.vertical.value,
        per_m2: set.density.value.minimum().unwrap_or(0.0),
        edges: set.edges.map(|e| CustomEdges { within: e.within.value, spacing: e.spacing.value }),
        edge_distance: set.edge_distance.value,
        between: set.between.value,
        existing_clearance: set.existing_clearance.value,
    }
}

fn values(ui: &mut Ui, set: &RuleSet) {
    quiet(ui, &set.title);
    ui.add_space(2.0);
    let least = |v: f64| format!("{} mm or more", mm(v));
    let density = match set.density.value {
        Density::Equivalent(v) => format!("{} per m² (same as spacing)", mm(v)),
        Density::Minimum(v) => format!("{} per m² at least", mm(v)),
        Density::MinimumPlusEdges(v) => format!("{} per m² + edge ties", mm(v)),
    };
    let mut rows = vec![
        ("Along the wall", format!("{} mm", mm(set.horizontal.value)), &set.horizontal.source),
        ("Up the wall", format!("{} mm", mm(set.vertical.value)), &set.vertical.source),
        ("Density", density, &set.density.source),
    ];
    if let Some(edges) = &set.edges {
        let what = match edges.scope {
            EdgeScope::Upright => "Edges",
            EdgeScope::OpeningPerimeter { .. } => "Round openings",
            EdgeScope::EveryFreeEdge { .. } => "Every edge",
        };
        rows.push((what, format!("within {} mm", mm(edges.within.value)), &edges.within.source));
        rows.push(("", format!("every {} mm", mm(edges.spacing.value)), &edges.spacing.source));
        if let Some(top) = &edges.top {
            rows.push(("At the top", format!("every {} mm", mm(top.value)), &top.source));
        }
    }
    rows.extend([
        ("From edges", least(set.edge_distance.value), &set.edge_distance.source),
        ("Between ties", least(set.between.value), &set.between.source),
        ("From old ties", least(set.existing_clearance.value), &set.existing_clearance.source),
    ]);
    sourced(ui, &rows);
    if !set.remarks.is_empty() {
        egui::CollapsingHeader::new("Remarks on this set").id_salt("remarks").show(ui, |ui| {
            for remark in &set.remarks {
                quiet(ui, remark);
            }
        });
    }
}

/// Values, and under each run of values of one source that source.
fn sourced(ui: &mut Ui, rows: &[(&str, String, &Source)]) {
    ui.spacing_mut().item_spacing.y = 1.0;
    for (i, (label, value, source)) in rows.iter().enumerate() {
        crate::widgets::row(ui, label, value);
        if rows.get(i + 1).is_none_or(|next| next.2 != *source) {
            quiet(ui, source.to_string());
            ui.add_space(5.0);
        }
    }
    ui.spacing_mut().item_spacing.y = 5.0;
}

fn own(ui: &mut Ui, cx: &mut Context<'_>, rules: &CustomRules) {
    let i = cx.session.elevation;
    let id = |name: &str| Id::unique(("own rules", i, name));
    let mut new = rules.clone();
    let mut changed = false;
    if let Some(name) =
        labelled(ui, "Name", |ui| field::required(ui, id("name"), "Name of the rules", 170.0, &rules.name))
    {
        new.name = name;
        changed = true;
    }
    let hint = "whose letter, what date";
    if let Some(source) = labelled(ui, "Source", |ui| {
        field::words(ui, id("source"), "Source of the rules", 170.0, hint, &rules.source)
    }) {
        new.source = source;
        changed = true;
    }
    let mut lengths_changed = false;
    let mut length = |ui: &mut Ui, label: &str, value: &mut f64, must: Must| {
        let got = labelled(ui, label, |ui| number::field(ui, id(label), label, *value, must));
        if let Some(v) = got {
            *value = v;
            lengths_changed = true;
        }
    };
    length(ui, "Along the wall", &mut new.horizontal, Must::BeSize);
    length(ui, "Up the wall", &mut new.vertical, Must::BeSize);
    if let Some(v) = labelled(ui, "At least", |ui| {
        number::density(ui, id("density"), "Ties per m² at least", rules.per_m2)
    }) {
        new.per_m2 = v;
        changed = true;
    }
    let mut has_edges = new.edges.is_some();
    if ui.checkbox(&mut has_edges, "Ties along edges").changed() {
        new.edges = has_edges.then(CustomEdges::default);
        changed = true;
    }
    if let Some(edges) = &mut new.edges {
        length(ui, "Within", &mut edges.within, Must::BeSize);
        length(ui, "Every", &mut edges.spacing, Must::BeSize);
    }
    length(ui, "From edges", &mut new.edge_distance, Must::BeDistance);
    length(ui, "Between ties", &mut new.between, Must::BeDistance);
    length(ui, "From old ties", &mut new.existing_clearance, Must::BeDistance);
    quiet(ui, "Your own values: have a competent engineer confirm them.");
    if changed || lengths_changed {
        cx.change(Change::Rules(RuleChoice::Custom(new)));
    }
}
