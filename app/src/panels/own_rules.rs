//! Fields for rules of the user's own.

use egui::{Id, Ui};
use layout_core::elevation::{CustomEdges, CustomRules, RuleChoice};
use layout_core::rules::EdgeScope;

use crate::document::Change;
use crate::session::Context;
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
    lengths.field(ui, "Between ties", &mut new.between, Must::BeDistance);
    lengths.field(ui, "From old ties", &mut new.existing_clearance, Must::BeDistance);
    quiet(ui, "Your own values: have a competent engineer confirm them.");
    if changed || lengths.changed {
        cx.change(Change::Rules(RuleChoice::Custom(new)));
    }
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
