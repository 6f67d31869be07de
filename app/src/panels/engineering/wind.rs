//! Wind on the elevation: what was entered, the zones, what governs each, the working.

use egui::{CollapsingHeader, Ui};
use layout_core::demand::resistance::published_types;
use layout_core::elevation::{Elevation, Exposure, GivenPressure, InternalPressure, Terrain, TieResistance};

use super::body;
use super::form::Form;
use crate::document::Change;
use crate::engineering::{self, Section};
use crate::session::Context;
use crate::widgets::number::Must;
use crate::widgets::{heading, quiet};

pub(super) fn show(ui: &mut Ui, cx: &mut Context<'_>) {
    let i = cx.session.elevation;
    let Some(e) = cx.elevation().cloned() else { return };
    heading(ui, "Wind on this elevation");
    let Some(exposure) = e.exposure.clone() else {
        quiet(
            ui,
            "How many ties the wind asks for, zone by zone, by EN 1991-1-4 with the recommended values, or from \
             pressures an engineer gives. Where that is more than the rules ask for, the ties are set out closer.",
        );
        if ui.button("Enter the wind").clicked() {
            cx.change(Change::Exposure(Some(Box::new(fresh(&e)))));
        }
        return;
    };
    let told = cx.derived.plan(i).and_then(|p| p.engineering.demand.clone());
    let zones = told.as_ref().map(engineering::wind).unwrap_or_default();
    body(ui, &Section { lines: zones.lines, ..Section::default() });
    if told.as_ref().is_some_and(|d| d.demand().is_none()) {
        body(ui, &Section { notes: zones.notes.clone(), ..Section::default() });
    }
    heading(ui, "Wind and building");
    let mut new = exposure;
    let mut form = Form::new(ui, "Wind", i);
    pressures(&mut form, &mut new);
    resistance(&mut form, &mut new);
    let out = form.button("Take the wind out");
    let changed = form.changed;
    if let Some(d) = told.as_ref().and_then(|t| t.demand()) {
        heading(ui, "Method, and what to have confirmed");
        body(ui, &Section { notes: zones.notes, ..Section::default() });
        ui.add_space(4.0);
        CollapsingHeader::new("The working, step by step")
            .id_salt("wind working")
            .show(ui, |ui| body(ui, &engineering::working(d)));
    }
    if out {
        cx.change(Change::Exposure(None));
    } else if changed {
        cx.change(Change::Exposure(Some(Box::new(new))));
    }
}

/// What a drawing tells of its building.
fn fresh(e: &Elevation) -> Exposure {
    let top = e.outline.iter().map(|p| p.1).filter(|y| y.is_finite()).fold(0.0, f64::max);
    Exposure { height: top, ..Exposure::default() }
}

fn pressures(form: &mut Form<'_>, x: &mut Exposure) {
    let mut given = x.given.is_some();
    form.choice(
        "Pressure",
        &mut given,
        &[(false, "worked out from the wind"), (true, "given by an engineer")],
    );
    if given != x.given.is_some() {
        x.given = given.then(GivenPressure::default);
    }
    if let Some(g) = &mut x.given {
        form.number("Outwards", "kN/m²", &mut g.outward, 0.0..=50.0);
        form.number("Inwards", "kN/m²", &mut g.inward, 0.0..=50.0);
        form.words("Source", "whose letter, what date", &mut g.source);
        quiet(form.ui, "Design values: with the partial factor for the load already in them.");
        return;
    }
    form.number("Basic wind", "m/s", &mut x.basic_wind, 0.0..=100.0);
    let terrains: Vec<(Terrain, &str)> = Terrain::ALL.into_iter().map(|t| (t, t.words())).collect();
    form.choice("Terrain", &mut x.terrain, &terrains);
    form.length("Height", &mut x.height, Must::BeDistance);
    form.length("Depth behind", &mut x.depth, Must::BeDistance);
    form.length("Length", &mut x.length, Must::BeDistance);
    quiet(
        form.ui,
        "Length of the building along the elevation; 0: as drawn. Left corner: x of its left end, where the building goes on beyond the drawing.",
    );
    form.optional("Left corner x", "mm", &mut x.left, "as drawn");
    form.optional("UK altitude", "m", &mut x.altitude, "none");
    let inside: Vec<(InternalPressure, &str)> =
        InternalPressure::ALL.into_iter().map(|t| (t, t.words())).collect();
    form.choice("From inside", &mut x.internal, &inside);
    form.number("Orography", "c_o", &mut x.orography, 0.1..=10.0);
    form.number("Direction", "c_dir", &mut x.direction, 0.1..=10.0);
    form.number("Season", "c_season", &mut x.season, 0.1..=10.0);
    form.number("Load factor", "γ", &mut x.load_factor, 1.0..=10.0);
    quiet(
        form.ui,
        "The factors open at the recommended values; the load factor is from memory, confirm before use. The working \
         below gives the source of each.",
    );
}

fn resistance(form: &mut Form<'_>, x: &mut Exposure) {
    heading(form.ui, "What one tie carries");
    let mut known = x.resistance.is_some();
    form.flag("A declared or tested value is known", &mut known);
    if known != x.resistance.is_some() {
        x.resistance = known.then(TieResistance::default);
    }
    if let Some(r) = &mut x.resistance {
        form.number("Tension", "N", &mut r.tension, 0.0..=1e6);
        form.number("Compression", "N", &mut r.compression, 0.0..=1e6);
        form.words("Declared by", "declaration or test report", &mut r.source);
        types(form, r);
    } else {
        quiet(
            form.ui,
            "Without it, or a fixing of your own with declared values, the rules' spacing stands unproved.",
        );
    }
    form.number("γM of ties", "", &mut x.gamma_m, 1.0..=20.0);
}

/// Published types of tie, to compare with or to begin from.
fn types(form: &mut Form<'_>, r: &mut TieResistance) {
    let mut number = 0u8;
    let all = published_types();
    let words: Vec<String> = all
        .iter()
        .map(|t| format!("type {}: {} / {} N", t.number, t.tension.value, t.compression.value))
        .collect();
    let mut options = vec![(0u8, "take the values of a type…")];
    options.extend(all.iter().zip(&words).map(|(t, w)| (t.number, w.as_str())));
    form.choice("Published type", &mut number, &options);
    if let Some(t) = all.iter().find(|t| t.number == number) {
        (r.tension, r.compression) = (t.tension.value, t.compression.value);
        r.source = t.tension.source.to_string();
    }
}
