//! The dialog with what the firm puts on all its drawings.

use egui::{Button, Label, RichText, TextEdit, Ui};

use crate::firm::Firm;
use crate::session::{Context, Request};
use crate::sheet::{DecimalMark, PaperSize};
use crate::theme::Palette;
use crate::widgets::{choose, labelled, quiet};

/// Its fields; the drawing takes them from the next time that it is made.
pub(super) fn show(
    ui: &mut Ui,
    cx: &mut Context<'_>,
    firm: &mut Firm,
    fault: &mut Option<String>,
    open: &mut bool,
) {
    quiet(ui, "Kept for all your projects, apart from the project file.");
    ui.add_space(4.0);
    for (label, hint, text) in
        [("Firm", "name on every sheet", &mut firm.name), ("Address", "one line", &mut firm.address)]
    {
        labelled(ui, label, |ui| words(ui, label, hint, 320.0, text));
    }
    labelled(ui, "Logo", |ui| {
        if words(ui, "Logo", "path of a PNG", 240.0, &mut firm.logo) {
            *fault = None;
        }
        let browse = ui.button("Browse…").on_hover_text("Pick the file of the logo");
        if browse.accessible_name("Browse for the logo").clicked() {
            cx.ask(Request::ChooseLogo);
        }
    });
    if let Some(fault) = fault {
        let breach = Palette::of(ui.ctx()).breach;
        ui.add(Label::new(RichText::new(fault.as_str()).size(12.0).color(breach)).wrap());
    }
    labelled(ui, "Paper", |ui| {
        let sizes = PaperSize::ALL.map(|s| (Some(s), s.name()));
        let all: Vec<(Option<PaperSize>, &str)> =
            std::iter::once((None, "chosen for each elevation")).chain(sizes).collect();
        if let Some(size) = choose(ui, "Paper", 200.0, PaperSize::named(&firm.paper), &all) {
            firm.paper = size.map_or_else(String::new, |s| s.name().to_owned());
        }
    });
    labelled(ui, "Decimal mark", |ui| {
        let marks = [(DecimalMark::Point, "point, 12.5"), (DecimalMark::Comma, "comma, 12,5")];
        if let Some(mark) = choose(ui, "Decimal mark", 200.0, firm.decimal, &marks) {
            firm.decimal = mark;
        }
    });
    ui.add_space(6.0);
    ui.label("The drawing has");
    let i = &mut firm.include;
    ui.columns(2, |columns| {
        for (k, (flag, words)) in [
            (&mut i.cover, "Cover"),
            (&mut i.section, "Section through the wall"),
            (&mut i.details, "Details of dense places"),
            (&mut i.account, "Wind, fixing and tests in full"),
            (&mut i.schedule, "Setting-out schedule"),
            (&mut i.record, "As-installed record"),
            (&mut i.tests, "Pull-test sheet"),
            (&mut i.old_ties, "Old-tie sheet"),
        ]
        .into_iter()
        .enumerate()
        {
            columns[k % 2].checkbox(flag, words);
        }
    });
    ui.add_space(10.0);
    ui.horizontal(|ui| {
        if ui.add(Button::new("Keep settings")).clicked() {
            // The dialog stays where its logo cannot be drawn.
            cx.ask(Request::KeepFirm(Box::new(firm.clone())));
        }
        if ui.button("Cancel").clicked() {
            *open = false;
        }
    });
}

/// A line to type in; says whether it was changed.
fn words(ui: &mut Ui, label: &str, hint: &str, width: f32, text: &mut String) -> bool {
    let edit = TextEdit::singleline(text)
        .hint_text(crate::widgets::hint(hint))
        .desired_width(width)
        .margin(egui::Margin::symmetric(6, 3));
    ui.add(edit).accessible_name(label).changed()
}
