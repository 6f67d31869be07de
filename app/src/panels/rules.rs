//! Rules of the elevation, each value with where it comes from.

use egui::{RichText, Ui};
use layout_core::elevation::{CustomRules, RuleChoice, RuleFile};
use layout_core::rules::{Density, EdgeScope, RuleSet, resolve, sets};
use layout_core::source::Source;

use super::{german, own_rules};
use crate::document::Change;
use crate::session::{Context, Request};
use crate::theme::{Palette, bold};
use crate::widgets::number::show as mm;
use crate::widgets::{heading, quiet};

pub(super) fn show(ui: &mut Ui, cx: &mut Context<'_>) {
    let Some(e) = cx.elevation() else { return };
    let rules = e.rules.clone();
    heading(ui, "Rules");
    rule_set(ui, cx, &rules);
}

/// The user's own rules, in the list of sets.
const OWN: &str = "own rules";

/// What the id of a set is for.
const ID_TIP: &str = "What this set is called in project files and for 'tiewright rules'";

fn rule_set(ui: &mut Ui, cx: &mut Context<'_>, rules: &RuleChoice) {
    let now = match rules {
        RuleChoice::Named(id) => id.as_str(),
        RuleChoice::Custom(_) => OWN,
        RuleChoice::File(file) => file.path.as_str(),
    };
    match list(ui, rules, now).as_deref() {
        Some(OWN) => {
            let own = found(cx, rules).map_or_else(|_| CustomRules::default(), |set| CustomRules::like(&set));
            cx.change(Change::Rules(RuleChoice::Custom(own)));
        }
        Some(id) => cx.change(Change::Rules(RuleChoice::Named(id.to_owned()))),
        None => {}
    }
    match rules {
        RuleChoice::File(file) => of_file(ui, cx, file),
        _ => choose_file(ui, cx, "From a file…"),
    }
    match rules {
        RuleChoice::Custom(custom) => return own_rules::show(ui, cx, custom),
        RuleChoice::Named(id) if id.starts_with(german::FAMILY) => german::show(ui, cx, id),
        RuleChoice::Named(_) | RuleChoice::File(_) => {}
    }
    match found(cx, rules) {
        Ok(set) => {
            let (whose, asks) = parted(&set.title);
            quiet(ui, if asks.is_empty() { whose } else { asks });
            if matches!(rules, RuleChoice::Named(_)) {
                let ink = Palette::of(ui.ctx()).ink_soft;
                ui.label(RichText::new(&set.id).size(11.0).color(ink)).on_hover_text(ID_TIP);
            }
            ui.add_space(2.0);
            values(ui, &set);
        }
        Err(message) => {
            let p = Palette::of(ui.ctx());
            ui.add(egui::Label::new(RichText::new(message).color(p.breach)).wrap());
        }
    }
}

/// The list of sets, each by its title. Gives the id of another that was chosen.
fn list(ui: &mut Ui, rules: &RuleChoice, now: &str) -> Option<String> {
    let shown = match rules {
        RuleChoice::Named(id) => {
            sets::by_id(id).map_or_else(|| id.clone(), |set| parted(&set.title).0.to_owned())
        }
        RuleChoice::Custom(_) => OWN.to_owned(),
        RuleChoice::File(_) => "rules in a file".to_owned(),
    };
    let mut chosen = None;
    egui::ComboBox::from_id_salt("Rule set")
        .selected_text(shown)
        .width(ui.available_width() - 4.0)
        .height(560.0)
        .truncate()
        .show_ui(ui, |ui| {
            ui.spacing_mut().item_spacing.y = 1.0;
            for set in sets::all() {
                if entry(ui, now == set.id, &set.title, &set.id) {
                    chosen = Some(set.id);
                }
            }
            if entry(ui, now == OWN, OWN, "every value typed here") {
                chosen = Some(OWN.to_owned());
            }
        })
        .response
        .accessible_name("Rule set");
    chosen.filter(|id| id != now)
}

/// A title in whose rules they are, and what they ask for.
fn parted(title: &str) -> (&str, &str) {
    title.split_once(": ").unwrap_or((title, ""))
}

/// An entry of the list, on one line so that all are seen at once: a title; something small shows where one points at
/// it. Whether it was clicked.
fn entry(ui: &mut Ui, chosen: bool, title: &str, small: &str) -> bool {
    let button = egui::Button::selectable(chosen, title).wrap_mode(egui::TextWrapMode::Extend);
    let response = ui.add(button).on_hover_text(small);
    let clicked = response.accessible_name(format!("{title} ({small})")).clicked();
    if clicked {
        ui.close();
    }
    clicked
}

/// The rules of a choice, those in a file as they were last read.
fn found(cx: &Context<'_>, rules: &RuleChoice) -> Result<RuleSet, String> {
    match rules {
        RuleChoice::File(file) => match cx.rule_files.found(file) {
            Some(found) => found.as_ref().map(|set| (**set).clone()).map_err(Clone::clone),
            None => resolve(rules),
        },
        _ => resolve(rules),
    }
}

fn choose_file(ui: &mut Ui, cx: &mut Context<'_>, words: &str) {
    let tip =
        "Rules of the firm's own, each value with its source; 'tiewright rules NAME --ron OUT' begins a file";
    if ui.button(words).on_hover_text(tip).clicked() {
        cx.ask(Request::ChooseRules);
    }
}

/// Which file, and what to do about it.
fn of_file(ui: &mut Ui, cx: &mut Context<'_>, file: &RuleFile) {
    if let Some(Ok(set)) = cx.rule_files.found(file) {
        ui.label(RichText::new(&set.id).font(egui::FontId::new(13.0, bold())));
    }
    quiet(ui, cx.rule_files.place(file).display().to_string());
    ui.horizontal(|ui| {
        choose_file(ui, cx, "Another file…");
        let tip = "A change is noticed by itself when you come back to this window";
        if ui.button("Read again").on_hover_text(tip).clicked() {
            cx.ask(Request::ReadRulesAgain);
        }
    });
    ui.add_space(2.0);
}

fn values(ui: &mut Ui, set: &RuleSet) {
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
