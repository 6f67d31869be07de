//! What the wall is made of, and what follows: a ranked choice of fixing, lengths, resin.

use egui::{CollapsingHeader, Label, RichText, Ui};
use layout_core::elevation::{
    CavityReading, Condition, DeclaredFixing, Environment, Insulation, Leaf, Material, Substrate, Voids,
};
use layout_core::fixing::{Choice, Kind};

use super::form::{Form, each};
use super::section;
use crate::document::Change;
use crate::engineering;
use crate::session::Context;
use crate::theme::Palette;
use crate::widgets::number::Must;
use crate::widgets::{heading, quiet};

pub(super) fn show(ui: &mut Ui, cx: &mut Context<'_>) {
    let i = cx.session.elevation;
    let Some(substrate) = cx.elevation().map(|e| e.substrate.clone()) else { return };
    let Some(substrate) = substrate else {
        heading(ui, "What the wall is made of");
        quiet(
            ui,
            "From what was surveyed of both leaves and the cavity follow a ranked choice of fixing with reasons, a \
             fallback, the length of ties and the resin.",
        );
        if ui.button("Enter the wall").clicked() {
            cx.change(Change::Substrate(Some(Box::default())));
        }
        return;
    };
    let mut new = substrate;
    let mut changed = false;
    let choice = cx.derived.plan(i).and_then(|p| p.engineering.fixing.clone());
    for (title, inner) in [("Outer leaf", false), ("Inner leaf", true)] {
        heading(ui, title);
        let mut form = Form::new(ui, title, i);
        leaf(&mut form, if inner { &mut new.inner } else { &mut new.outer });
        changed |= form.changed;
    }
    heading(ui, "Cavity and place");
    let mut form = Form::new(ui, "Wall", i);
    cavity(&mut form, &mut new);
    changed |= form.changed;
    changed |= readings(ui, i, &mut new.cavities);
    heading(ui, "Choice");
    let mut form = Form::new(ui, "Fixing", i);
    chosen(&mut form, &mut new, choice.as_ref());
    changed |= form.changed;
    changed |= own(ui, i, &mut new.declared);
    let out = Form::new(ui, "Fixing", i).button("Take the wall out");
    if let Some(plan) = cx.derived.plan(i) {
        if let Some(c) = &plan.engineering.fixing {
            choice_told(ui, c);
        }
        match &plan.engineering.lengths {
            Some(l) => section(ui, &engineering::lengths(l)),
            None => {
                quiet(ui, "Lengths follow once the cavity was measured at a place.");
            }
        }
    }
    if out {
        cx.change(Change::Substrate(None));
    } else if changed {
        cx.change(Change::Substrate(Some(Box::new(new))));
    }
}

/// The choice with its reasons, then the order of work step by step.
fn choice_told(ui: &mut Ui, c: &Choice) {
    let mut told = engineering::fixing(c);
    told.notes.retain(|note| !note.starts_with(engineering::ORDER));
    // A ranking of a wall that nobody has looked at says so before it ranks.
    let (open, notes) = told.notes.into_iter().partition(|note| note.ends_with(engineering::OPEN_IT_UP));
    told.notes = notes;
    for note in &open {
        let p = Palette::of(ui.ctx());
        ui.add(Label::new(RichText::new(note).size(12.5).strong().color(p.ink)).wrap());
    }
    section(ui, &engineering::Section { title: "What will do, best first".to_owned(), ..told });
    heading(ui, engineering::ORDER);
    for (i, step) in c.order.iter().enumerate() {
        let p = Palette::of(ui.ctx());
        let words = RichText::new(format!("{}. {step}", i + 1)).size(12.5).color(p.ink);
        ui.add(Label::new(words).wrap());
    }
}

macro_rules! options {
    ($name:ident) => {
        $name::ALL.iter().map(|v| (*v, v.words())).collect::<Vec<_>>()
    };
}

fn leaf(form: &mut Form<'_>, l: &mut Leaf) {
    form.choice("Built of", &mut l.material, &options!(Material));
    form.choice("Condition", &mut l.condition, &options!(Condition));
    form.choice("Units", &mut l.voids, &options!(Voids));
    form.length("Thickness", &mut l.thickness, Must::BeSize);
    let usual = Leaf::default();
    if l.material == usual.material && l.thickness.total_cmp(&usual.thickness).is_eq() {
        quiet(form.ui, "Assumed, a leaf of one brick, until you enter what the leaf is built of.");
    }
    form.length("Render", &mut l.render, Must::BeDistance);
}

fn cavity(form: &mut Form<'_>, s: &mut Substrate) {
    form.choice("Cavity", &mut s.insulation, &options!(Insulation));
    form.choice("Air", &mut s.environment, &options!(Environment));
    form.length("Bulge", &mut s.bulge, Must::BeDistance);
    form.length("Fall outwards", &mut s.fall, Must::BePlace);
    form.flag("The outer leaf is built again", &mut s.rebuilt);
}

/// Places where the cavity was measured. Says whether any was changed.
fn readings(ui: &mut Ui, i: usize, all: &mut Vec<CavityReading>) -> bool {
    let mut changed = each(ui, i, "Cavity reading", all, |form, n, r| {
        quiet(form.ui, format!("Cavity, reading {}", n + 1));
        form.length("At x", &mut r.at.0, Must::BePlace);
        form.length("At y", &mut r.at.1, Must::BePlace);
        form.length("Cavity", &mut r.cavity, Must::BeDistance);
        if r.cavity <= 0.0 {
            quiet(form.ui, "Enter the width measured; until then it does not count.");
        }
    });
    if ui.button("Add a cavity reading").clicked() {
        // The width is for whoever measured it to say.
        all.push(CavityReading { at: all.last().map_or((0.0, 0.0), |r| r.at), cavity: 0.0 });
        changed = true;
    }
    changed
}

fn chosen(form: &mut Form<'_>, s: &mut Substrate, choice: Option<&Choice>) {
    let Some(c) = choice else { return };
    let ids: Vec<(String, String)> = c
        .ranked
        .iter()
        .enumerate()
        .map(|(i, r)| (r.fixing.id.clone(), format!("{}. {}", i + 1, r.fixing.name)))
        .collect();
    let mut now = ids.iter().position(|(id, _)| *id == s.fixing).map_or(0, |n| n + 1);
    let mut options = vec![(0usize, "the one ranked first")];
    options.extend(ids.iter().enumerate().map(|(n, (_, words))| (n + 1, words.as_str())));
    let before = now;
    form.choice("Fixing", &mut now, &options);
    if now != before {
        s.fixing = now.checked_sub(1).and_then(|n| ids.get(n)).map_or_else(String::new, |(id, _)| id.clone());
    }
}

/// Fixings of the firm's own. Says whether any was changed.
fn own(ui: &mut Ui, i: usize, all: &mut Vec<DeclaredFixing>) -> bool {
    let mut changed = false;
    let mut gone = None;
    for (n, f) in all.iter_mut().enumerate() {
        let title = if f.name.is_empty() { format!("Own fixing {}", n + 1) } else { f.name.clone() };
        CollapsingHeader::new(title).id_salt(("own fixing", i, n)).show(ui, |ui| {
            let mut form = Form::new(ui, format!("Own fixing {}", n + 1), i);
            form.words("Name", "as the firm calls it", &mut f.name);
            let kinds: Vec<(Kind, &str)> = Kind::ALL.into_iter().map(|k| (k, k.words())).collect();
            let mut kind = Kind::by_id(&f.kind).unwrap_or(Kind::ResinBonded);
            form.choice("Kind", &mut kind, &kinds);
            f.kind = kind.id().to_owned();
            form.words("Declared by", "declaration, date", &mut f.source);
            form.number("Tension", "N", &mut f.tension, 0.0..=1e6);
            form.number("Compression", "N", &mut f.compression, 0.0..=1e6);
            form.length("Hole", &mut f.hole, Must::BeDistance);
            form.length("Bar", &mut f.bar, Must::BeDistance);
            form.length("Outer embed.", &mut f.embed_outer, Must::BeDistance);
            form.length("Inner embed.", &mut f.embed_inner, Must::BeDistance);
            lengths(&mut form, f);
            quiet(form.ui, "0 or empty: as usual for its kind.");
            if form.button("Remove") {
                gone = Some(n);
            }
            changed |= form.changed;
        });
    }
    if let Some(n) = gone {
        all.remove(n);
        changed = true;
    }
    if ui.button("Add a fixing of our own").clicked() {
        let name = format!("Own fixing {}", all.len() + 1);
        all.push(DeclaredFixing {
            name,
            kind: Kind::ResinBonded.id().to_owned(),
            ..DeclaredFixing::default()
        });
        changed = true;
    }
    changed
}

fn lengths(form: &mut Form<'_>, f: &mut DeclaredFixing) {
    let mut text: String = f.lengths.iter().map(ToString::to_string).collect::<Vec<_>>().join(" ");
    let before = text.clone();
    form.words("Lengths", "200 225 250", &mut text);
    if text != before {
        let words = text.split([' ', ',', ';']).filter_map(|w| w.trim().parse::<f64>().ok());
        f.lengths = words.filter(|l| l.is_finite() && *l > 0.0).collect();
    }
}
