//! Ties, areas and density: of the elevation, and of the whole project.

use egui::{Align, Layout, RichText, Ui, vec2};
use layout_core::marking::Marking;
use layout_core::{Plan, Role};

use crate::canvas::{Symbol, paint_symbol};
use crate::commands::Command;
use crate::export::text::per_cent;
use crate::session::Context;
use crate::theme::{Palette, bold};
use crate::widgets::{heading, quiet, row};

pub(super) fn show(ui: &mut Ui, cx: &mut Context<'_>) {
    let Some(e) = cx.elevation() else { return };
    heading(ui, "Ties");
    let Some(plan) = cx.derived.plan(cx.session.elevation) else {
        quiet(
            ui,
            if e.outline.is_empty() {
                "No wall drawn yet."
            } else {
                "Not set out: see what is wrong on the sheet."
            },
        );
        return;
    };
    total(ui, plan);
    for role in Role::ALL {
        let n = plan.count(role);
        // A role that does not occur is left out, but field ties are always told.
        if n > 0 || role == Role::Field {
            role_row(ui, role, n);
        }
    }
    let pinned = plan.ties.iter().filter(|t| t.pinned).count();
    if pinned > 0 {
        row(ui, "Of these, pinned", pinned.to_string());
    }
    let locked = plan.ties.iter().filter(|t| t.locked).count();
    if locked > 0 {
        row(ui, "Of these, in locked areas", locked.to_string());
    }
    if !e.existing_ties.is_empty() {
        row(ui, "Old ties drawn", e.existing_ties.len().to_string());
    }
    ui.add_space(4.0);
    if !plan.has_breach() {
        row(ui, "No layout has fewer than", plan.lower_bound.to_string());
    }
    // Of no ties all is true, and nothing said.
    if !plan.ties.is_empty() {
        marking(ui, &plan.marking);
    }
    row(ui, "Gross area", format!("{:.2} m²", plan.gross_area));
    row(ui, "Openings", format!("{:.2} m²", plan.opening_area()));
    row(ui, "Net area", format!("{:.2} m²", plan.net_area));
    row(ui, "Density", format!("{:.2} per m²", plan.density()));
}

/// How easy the layout is to mark out.
fn marking(ui: &mut Ui, m: &Marking) {
    let tip = |ui: &mut Ui, label: &str, value: String, tip: &str| {
        let response = ui.scope(|ui| row(ui, label, value)).response;
        response.on_hover_text(tip);
    };
    let full = "Heights with ties; full rows have at least one tie for every two field spacings of masonry";
    tip(ui, "Rows of ties", format!("{}, {} of them full", m.rows, m.main_rows), full);
    let steps = "Different distances between neighbours on one row: the most, and the mean of all rows";
    tip(ui, "Steps a row", format!("{} at most, mean {:.1}", m.most_steps, m.mean_steps), steps);
    let grid = "Ties on full rows that stand a whole number of half bricks or of 25 mm from the left end";
    tip(ui, "On the regular grid", format!("{} %", per_cent(m.grid_share())), grid);
    if m.jambs > 0 {
        let plumb = "Upright jambs of two ties or more whose ties stand on one line, plumb over each other";
        tip(ui, "Jambs on one plumb line", format!("{} of {}", m.plumb_jambs, m.jambs), plumb);
    }
    if m.repeated_openings > 0 {
        let alike = "Openings of one size with the same ties round them as their like, or their mirror image";
        tip(ui, "Repeated openings alike", format!("{} of {}", m.alike_openings, m.repeated_openings), alike);
    }
    if let Some(share) = m.mirrored_share() {
        let mirrored = "The wall is its own mirror image: ties that have another at their mirrored place";
        tip(ui, "Mirrored", format!("{} %", per_cent(share)), mirrored);
    }
}

fn total(ui: &mut Ui, plan: &Plan) {
    ui.horizontal(|ui| {
        let n = plan.ties.len();
        let large = egui::FontId::new(26.0, bold());
        ui.label(RichText::new(n.to_string()).font(large));
        ui.label(if n == 1 { "tie on this elevation" } else { "ties on this elevation" });
    });
}

fn role_row(ui: &mut Ui, role: Role, n: usize) {
    let p = Palette::of(ui.ctx());
    let size = vec2(ui.available_width(), 18.0);
    ui.allocate_ui_with_layout(size, Layout::left_to_right(Align::Center), |ui| {
        let (rect, _) = ui.allocate_exact_size(vec2(16.0, 18.0), egui::Sense::hover());
        paint_symbol(ui.painter(), Symbol::Tie(role, false), rect.center(), 6.0, p.paper, p.role(role));
        row(ui, role.words(), n.to_string());
    });
}

/// The whole project.
pub(super) fn totals(ui: &mut Ui, cx: &mut Context<'_>) {
    let count = cx.project().elevations.len();
    if count == 0 {
        return;
    }
    heading(ui, "Whole project");
    let t = cx.derived.totals();
    row(ui, "Elevations", count.to_string());
    row(ui, "Ties in all", t.ties.to_string());
    if count > 1 {
        for (role, n) in Role::ALL.into_iter().zip(t.by_role) {
            if n > 0 {
                role_row(ui, role, n);
            }
        }
    }
    row(ui, "Gross area", format!("{:.2} m²", t.gross));
    row(ui, "Net area", format!("{:.2} m²", t.net));
    let density = if t.net > 0.0 { t.ties as f64 / t.net } else { 0.0 };
    row(ui, "Density", format!("{density:.2} per m²"));
    if t.breaches > 0 {
        row(ui, "Breaches", t.breaches.to_string());
    }
    let p = Palette::of(ui.ctx());
    if t.faulty > 0 {
        let words = format!("{} of {count} elevations not set out; not in these figures", t.faulty);
        ui.add(egui::Label::new(RichText::new(words).color(p.breach)).wrap());
    }
    ui.add_space(6.0);
    let command = Command::Cautions;
    if ui.button(command.spec().label).on_hover_text(command.tip_text(ui.ctx())).clicked() {
        cx.run(command);
    }
}
