//! Rows of fields that tell whether any of them was changed.

use std::ops::RangeInclusive;

use egui::{Id, Ui};

use crate::widgets::field::{self, Look};
use crate::widgets::number::{self, Must, show};
use crate::widgets::{choose, labelled};

/// A form under one name, on one elevation.
pub(super) struct Form<'a> {
    pub ui: &'a mut Ui,
    name: String,
    key: Id,
    /// Told by the fields, not by comparing: a value that is no number differs from itself.
    pub changed: bool,
}

impl<'a> Form<'a> {
    pub(super) fn new(ui: &'a mut Ui, name: impl Into<String>, elevation: usize) -> Self {
        let name = name.into();
        Self { ui, key: Id::unique(("form", &name, elevation)), name, changed: false }
    }

    fn full(&self, label: &str) -> String {
        format!("{}: {label}", self.name)
    }

    /// A number with a unit, within limits.
    pub(super) fn number(&mut self, label: &str, unit: &str, value: &mut f64, limits: RangeInclusive<f64>) {
        self.shown(label, unit, value, limits, show);
    }

    /// Money, shown to the hundredth at least.
    pub(super) fn money(&mut self, label: &str, unit: &str, value: &mut f64) {
        let least = |v: f64| {
            let (short, whole) = (show(v), format!("{v:.2}"));
            if short.len() > whole.len() { short } else { whole }
        };
        self.shown(label, unit, value, 0.0..=1e9, least);
    }

    fn shown(
        &mut self,
        label: &str,
        unit: &str,
        value: &mut f64,
        limits: RangeInclusive<f64>,
        show: impl Fn(f64) -> String,
    ) {
        let (name, id) = (self.full(label), self.key.with(label));
        let look = Look { name: &name, width: 76.0, hint: "", unit, right: true, tip: "", ..Look::default() };
        let got = labelled(self.ui, label, |ui| {
            field::show(ui, id, look, &show(*value), |text| plain(text, &limits))
        });
        // The same figure written otherwise is no change.
        if let Some(v) = got.filter(|v| *v != *value) {
            *value = v;
            self.changed = true;
        }
    }

    /// A length as the trade says it.
    pub(super) fn length(&mut self, label: &str, value: &mut f64, must: Must) {
        let (name, id) = (self.full(label), self.key.with(label));
        if let Some(v) = labelled(self.ui, label, |ui| number::field(ui, id, &name, *value, must)) {
            *value = v;
            self.changed = true;
        }
    }

    /// A number that may be left out: empty is none.
    pub(super) fn optional(&mut self, label: &str, unit: &str, value: &mut Option<f64>, hint: &str) {
        let (name, id) = (self.full(label), self.key.with(label));
        let look = Look { name: &name, width: 76.0, hint, unit, right: true, tip: "", ..Look::default() };
        let current = value.map(show).unwrap_or_default();
        let got = labelled(self.ui, label, |ui| {
            field::show(ui, id, look, &current, |text| match text.trim() {
                "" => Ok(None),
                text => plain(text, &(-1e7..=1e7)).map(Some),
            })
        });
        if let Some(v) = got {
            *value = v;
            self.changed = true;
        }
    }

    /// Words.
    pub(super) fn words(&mut self, label: &str, hint: &str, value: &mut String) {
        let (name, id) = (self.full(label), self.key.with(label));
        if let Some(v) = labelled(self.ui, label, |ui| field::words(ui, id, &name, 170.0, hint, value)) {
            *value = v;
            self.changed = true;
        }
    }

    /// One of several.
    pub(super) fn choice<T: PartialEq + Copy>(&mut self, label: &str, value: &mut T, options: &[(T, &str)]) {
        let name = self.full(label);
        if let Some(v) = labelled(self.ui, label, |ui| choose(ui, &name, 184.0, *value, options)) {
            *value = v;
            self.changed = true;
        }
    }

    /// Yes or no.
    pub(super) fn flag(&mut self, label: &str, value: &mut bool) {
        if self.ui.checkbox(value, label).changed() {
            self.changed = true;
        }
    }

    /// A button.
    pub(super) fn button(&mut self, label: &str) -> bool {
        let name = self.full(label);
        self.ui.button(label).accessible_name(name).clicked()
    }
}

/// Shows each of several things in a form of its own, with a button that takes it out. Says whether any was changed.
pub(super) fn each<T>(
    ui: &mut Ui,
    elevation: usize,
    name: &str,
    all: &mut Vec<T>,
    mut fields: impl FnMut(&mut Form<'_>, usize, &mut T),
) -> bool {
    let (mut changed, mut gone) = (false, None);
    for (n, thing) in all.iter_mut().enumerate() {
        let mut form = Form::new(ui, format!("{name} {}", n + 1), elevation);
        fields(&mut form, n, thing);
        if form.button("Remove") {
            gone = Some(n);
        }
        changed |= form.changed;
        ui.add_space(4.0);
    }
    if let Some(n) = gone {
        all.remove(n);
        changed = true;
    }
    changed
}

fn plain(text: &str, limits: &RangeInclusive<f64>) -> Result<f64, String> {
    let typed = text.trim().replace(',', ".").replace('−', "-");
    match typed.parse::<f64>() {
        Ok(v) if limits.contains(&v) => Ok(v),
        Ok(_) => Err(format!("it must be {} to {}", show(*limits.start()), show(*limits.end()))),
        Err(_) => Err(format!("'{}' is not a number", text.trim())),
    }
}
