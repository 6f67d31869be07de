//! Old ties: grade and treatment of each, with the reason for what is proposed.

use egui::Ui;
use layout_core::elevation::{TieForm, Treatment};
use layout_core::engineering::proposal;

use super::form::Form;
use super::section;
use crate::commands::Command;
use crate::document::{Change, Item, Object};
use crate::engineering;
use crate::session::{Context, Request, Selection};
use crate::tools::Tool;
use crate::widgets::{heading, quiet};

const GRADES: [(u8, &str); 10] = [
    (0, "not graded"),
    (1, "1: bright"),
    (2, "2"),
    (3, "3"),
    (4, "4"),
    (5, "5"),
    (6, "6"),
    (7, "7"),
    (8, "8"),
    (9, "9: very rusty, laminating"),
];

pub(super) fn show(ui: &mut Ui, cx: &mut Context<'_>) {
    let i = cx.session.elevation;
    let Some(e) = cx.elevation().cloned() else { return };
    heading(ui, "Old ties");
    if e.existing_ties.is_empty() {
        quiet(ui, "None drawn. Mark each where the detector found it.");
        if ui.button("Mark old ties").on_hover_text("Take the tool for old ties").clicked() {
            cx.run(Command::Pick(Tool::OldTie));
        }
        return;
    }
    if let Some(s) = engineering::old_ties(&e) {
        section(ui, &engineering::Section { title: "What is done with them".to_owned(), ..s });
    } else {
        quiet(
            ui,
            "Grade each tie as it was found, 1 (bright) to 9 (very rusty): a treatment is proposed with its reason.",
        );
    }
    heading(ui, "Each tie");
    for (n, tie) in e.existing_ties.iter().enumerate() {
        let mut new = *tie;
        let mut form = Form::new(ui, format!("Old tie {}", n + 1), i);
        let item = Item::OldTie(n);
        let chosen = cx.session.item() == Some(item);
        if form.ui.selectable_label(chosen, item.label(&e)).clicked() {
            cx.ask(Request::Select(Some(Selection::Item(item))));
        }
        let forms: Vec<(TieForm, &str)> = TieForm::ALL.into_iter().map(|f| (f, f.words())).collect();
        form.choice("Kind", &mut new.form, &forms);
        form.choice("Grade", &mut new.grade, &GRADES);
        let treatments: Vec<(Treatment, &str)> = Treatment::ALL.iter().map(|t| (*t, t.words())).collect();
        form.choice("Treatment", &mut new.treatment, &treatments);
        let changed = form.changed;
        let p = proposal(tie);
        let what = match p.treatment {
            Treatment::AsProposed => "none proposed yet",
            t => t.words(),
        };
        quiet(ui, format!("{what}: {} [{}]", p.reason, p.source));
        ui.separator();
        if changed {
            cx.change(Change::Replace(item, Object::OldTie(new)));
        }
    }
}
