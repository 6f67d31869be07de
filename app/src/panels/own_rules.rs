//! Fields for rules of the user's own.

use egui::{Id, Label, RichText, Ui};
use layout_core::elevation::{CustomEdges, CustomRules, RuleChoice};
use layout_core::rules::EdgeScope;

use crate::document::Change;
use crate::session::Context;
use crate::theme::Palette;
use crate::widgets::number::{self, Must};
use crate::widgets::{choose, field, labelled, quiet};

/// A field for a length; notes in `changed` that it was.
struct Lengths {
    elevation: usize,
    changed: bool,
}

impl Lengths {
    fn field(&mut self, ui: &mut Ui, label: &str, value: &mut f64, must: Must) {
        let id = Id::unique(("own rules", self.elevation, label));
        if let Some(v) = labelled(ui, label, |ui| number::field(ui, id, label, *value, must)) {
            *value = v;
            self.changed = true;
        }
    }
}

pub(super) fn show(ui: &mut Ui, cx: &mut Context<'_>, rules: &CustomRules) {
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
    let mut lengths = Lengths { elevation: i, changed: false };
    lengths.field(ui, "Along the wall", &mut new.horizontal, Must::BeSize);
    lengths.field(ui, "Up the wall", &mut new.vertical, Must::BeSize);
    if let Some(v) = labelled(ui, "At least", |ui| {
        number::density(ui, id("density"), "Ties per m² at least", rules.per_m2)
    }) {
        new.per_m2 = v;
        changed = true;
    }
    let mut has_edges = new.edges.is_some();
    if ui.checkbox(&mut has_edges, "Ties along edges").changed() {
        new.edges = has_edges.then(CustomEdges::default);
        new.edges_on_top &= has_edges;
        changed = true;
    }
    if let Some(e) = &mut new.edges {
        changed |= edges(ui, &mut lengths, e);
        let on_top = "Edge ties on top of the number";
        let tip = "Ticked: edges add their ties to those for the area. Not ticked: a tie may count for both.";
        changed |= ui.checkbox(&mut new.edges_on_top, on_top).on_hover_text(tip).changed();
    }
    lengths.field(ui, "From edges", &mut new.edge_distance, Must::BeDistance);
    against(ui, near_and_far(rules));
    lengths.field(ui, "Between ties", &mut new.between, Must::BeDistance);
    against(ui, close_and_apart(rules));
    lengths.field(ui, "From old ties", &mut new.existing_clearance, Must::BeDistance);
    quiet(ui, "Your own values: have a competent engineer confirm them.");
    if changed || lengths.changed {
        cx.change(Change::Rules(RuleChoice::Custom(new)));
    }
}

/// What two values that no layout can keep ask for, said at the field of the second.
fn against(ui: &mut Ui, said: Option<String>) {
    if let Some(said) = said {
        let breach = Palette::of(ui.ctx()).breach;
        ui.add(Label::new(RichText::new(said).size(12.0).color(breach)).wrap());
    }
}

/// Ties asked for closer to edges than they may stand.
fn near_and_far(r: &CustomRules) -> Option<String> {
    let e = r.edges.as_ref().filter(|e| e.within < r.edge_distance)?;
    let (far, near) = (number::show(r.edge_distance), number::show(e.within));
    Some(format!("No tie can do both: stand {far} mm or more from an edge, and within {near} mm of it."))
}

/// Ties asked for closer together than they may stand.
fn close_and_apart(r: &CustomRules) -> Option<String> {
    let along_edges = r.edges.as_ref().map(|e| ("along edges", e.spacing));
    let at_top = r.edges.as_ref().and_then(|e| e.top).map(|top| ("at the top", top));
    let spacings =
        [Some(("along the wall", r.horizontal)), Some(("up the wall", r.vertical)), along_edges, at_top];
    let (what, spacing) = spacings.into_iter().flatten().find(|(_, spacing)| *spacing < r.between)?;
    let (spacing, between) = (number::show(spacing), number::show(r.between));
    Some(format!(
        "No ties can do both: stand {between} mm or more apart, and no more than {spacing} mm {what}."
    ))
}

/// Largest opening without ties of its own, mm, where a rule about openings begins.
const EXEMPT: f64 = 400.0;

/// Which edges, how near them and how far apart; whether anything but a length changed.
fn edges(ui: &mut Ui, lengths: &mut Lengths, e: &mut CustomEdges) -> bool {
    let mut changed = false;
    let kinds =
        [(0, "jambs, ends, joints, verges"), (1, "all round openings"), (2, "every free edge and the top")];
    let now = match e.scope {
        EdgeScope::Upright => 0,
        EdgeScope::OpeningPerimeter { .. } => 1,
        EdgeScope::EveryFreeEdge { .. } => 2,
    };
    if let Some(kind) = labelled(ui, "Which edges", |ui| choose(ui, "Which edges", 190.0, now, &kinds)) {
        e.scope = match kind {
            0 => EdgeScope::Upright,
            1 => EdgeScope::OpeningPerimeter { exempt: EXEMPT },
            _ => EdgeScope::EveryFreeEdge { corners: false },
        };
        // Only that kind of rule has the top.
        e.top = e.top.filter(|_| kind == 2);
        changed = true;
    }
    lengths.field(ui, "Within", &mut e.within, Must::BeSize);
    lengths.field(ui, "Every", &mut e.spacing, Must::BeSize);
    match &mut e.scope {
        EdgeScope::Upright => {}
        EdgeScope::OpeningPerimeter { exempt } => {
            lengths.field(ui, "Not up to", exempt, Must::BeDistance);
            quiet(ui, "An opening no larger than that either way has no ties of its own.");
        }
        EdgeScope::EveryFreeEdge { corners } => {
            changed |= ui.checkbox(corners, "Building corners too").changed();
            let mut closer = e.top.is_some();
            if ui.checkbox(&mut closer, "Another spacing along the top").changed() {
                e.top = closer.then_some(e.spacing / 2.0);
                changed = true;
            }
            if let Some(top) = &mut e.top {
                lengths.field(ui, "At the top", top, Must::BeSize);
            }
        }
    }
    changed
}
