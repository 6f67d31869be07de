//! What the checker found and what is said of the drawing; a click shows the place.

use egui::{Color32, FontId, RichText, ScrollArea, Sense, Ui, WidgetInfo, vec2};
use layout_core::check::Severity;
use layout_core::elevation::{FaultKind, Point};

use super::items::item_of;
use crate::document::Item;
use crate::session::{Context, Dialog, Request, Selection};
use crate::theme::{Palette, bold};
use crate::widgets::{heading, quiet, row_ground};

struct Line {
    head: &'static str,
    message: String,
    tip: String,
    ink: Color32,
    at: Option<Point>,
    finding: Option<usize>,
    item: Option<Item>,
    rule: Option<layout_core::check::Rule>,
}

pub(super) fn show(ui: &mut Ui, cx: &mut Context<'_>) {
    let p = Palette::of(ui.ctx());
    let lines = lines(cx, &p);
    let bad = lines.iter().filter(|l| l.ink == p.breach).count();
    let of_drawing = lines.iter().any(|l| l.ink == p.breach && l.finding.is_none());
    let title = match (bad, of_drawing) {
        (0, _) => "Findings".to_owned(),
        (1, false) => "Findings: 1 breach".to_owned(),
        (n, false) => format!("Findings: {n} breaches"),
        (1, true) => "Findings: 1 fault in the drawing".to_owned(),
        (n, true) => format!("Findings: {n} faults in the drawing"),
    };
    heading(ui, &title);
    if cx.elevation().is_none_or(|e| e.outline.is_empty()) {
        quiet(ui, "Nothing to check yet.");
    }
    if cx.derived.plan(cx.session.elevation).is_some() && lines.is_empty() {
        ui.label(RichText::new("Every rule is kept.").color(p.good));
        quiet(
            ui,
            "Checked against the rules of this elevation, on the sizes as drawn. What the wall is made of, \
                   and what is behind it, was not checked.",
        );
    }
    ScrollArea::vertical().id_salt("findings").auto_shrink([false, false]).show(ui, |ui| {
        ui.spacing_mut().item_spacing.y = 2.0;
        for line in &lines {
            entry(ui, cx, line, &p);
        }
    });
}

fn lines(cx: &Context<'_>, p: &Palette) -> Vec<Line> {
    let Some(outcome) = cx.derived.outcome(cx.session.elevation) else { return Vec::new() };
    let mut lines = Vec::new();
    if cx.elevation().is_some_and(|e| e.outline.is_empty()) {
        return lines;
    }
    // Notes on a drawing that was set out are among its findings.
    for f in outcome.faults.iter().filter(|_| outcome.plan.is_none()) {
        let bad = f.kind == FaultKind::Unusable;
        lines.push(Line {
            head: if bad { "Drawing" } else { "Drawing, note" },
            message: f.message.clone(),
            tip: String::new(),
            ink: if bad { p.breach } else { p.note },
            at: f.at,
            finding: None,
            item: item_of(f.place),
            rule: None,
        });
    }
    for (i, f) in outcome.plan.iter().flat_map(|plan| plan.findings.iter().enumerate()) {
        lines.push(Line {
            head: if f.severity == Severity::Breach { f.rule.words() } else { "Note" },
            message: f.message.clone(),
            tip: f.source.to_string(),
            ink: if f.severity == Severity::Breach { p.breach } else { p.note },
            at: Some(f.at),
            finding: Some(i),
            item: None,
            rule: (f.severity == Severity::Breach).then_some(f.rule),
        });
    }
    lines
}

fn entry(ui: &mut Ui, cx: &mut Context<'_>, line: &Line, p: &Palette) {
    let width = ui.available_width();
    let room = if line.rule.is_some() { 30.0 } else { 0.0 };
    let mut job = egui::text::LayoutJob::default();
    let head =
        line.head.chars().next().map_or_else(String::new, |c| {
            c.to_uppercase().chain(line.head.chars().skip(1)).collect::<String>()
        });
    let format =
        |font: FontId, color: Color32| egui::TextFormat { font_id: font, color, ..Default::default() };
    job.append(&head, 0.0, format(FontId::new(12.5, bold()), line.ink));
    job.append("  ", 0.0, format(FontId::proportional(12.5), p.ink));
    job.append(&line.message, 0.0, format(FontId::proportional(12.5), p.ink));
    job.wrap.max_width = width - 18.0 - room;
    let galley = ui.painter().layout_job(job);
    let leads = line.at.is_some() || line.item.is_some();
    let sense = if leads { Sense::click() } else { Sense::hover() };
    let (rect, response) = ui.allocate_exact_size(vec2(width, galley.size().y + 8.0), sense);
    let role = if leads { egui::Role::Button } else { egui::Role::Label };
    response.widget_info(|| WidgetInfo::labeled(role, true, format!("Finding: {}", line.message)));
    let chosen = line.finding.is_some() && cx.session.finding == line.finding;
    if leads {
        row_ground(ui, rect, &response, chosen);
    }
    ui.painter().rect_filled(rect.with_max_x(rect.left() + 3.0), 1.0, line.ink);
    ui.painter().galley(rect.min + vec2(10.0, 4.0), galley, p.ink);
    let tip = if line.tip.is_empty() { String::new() } else { format!("Required by {}", line.tip) };
    let response = if tip.is_empty() { response } else { response.on_hover_text(tip) };
    if let Some(rule) = line.rule {
        let place = egui::Rect::from_min_size(rect.right_top() + vec2(-26.0, 3.0), vec2(22.0, 20.0));
        let tip = format!("What is asked for: {}", rule.words());
        // In a place of its own: it must not move where the next finding begins.
        let mut corner = ui.new_child(egui::UiBuilder::new().max_rect(place));
        let button = egui::Button::new("?").min_size(place.size());
        let help = corner.add(button).on_hover_text(&tip).accessible_name(tip);
        if help.clicked() {
            cx.ask(Request::ShowDialog(Box::new(Dialog::Rule(rule))));
        }
    }
    if response.clicked() {
        if let Some(item) = line.item {
            cx.ask(Request::Select(Some(Selection::Item(item))));
        }
        if let Some(at) = line.at {
            cx.ask(Request::ShowFinding(line.finding, at));
        }
    }
}
