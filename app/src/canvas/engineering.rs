//! Zones of the wind and rings of the pull tests, each while its page is open.

use egui::{Align2, Color32, Rect, Stroke, pos2, vec2};
use layout_core::Plan;
use layout_core::demand::{DemandZone, Governs};
use layout_core::elevation::Elevation;

use super::Sheet;
use super::ties::radius;
use crate::engineering::figure;
use crate::session::{Context, Page};

/// Paints what the open page is about.
pub(super) fn paint(sheet: &Sheet<'_>, cx: &Context<'_>, e: &Elevation) {
    let Some(plan) = cx.derived.plan(cx.session.elevation) else { return };
    match cx.session.page {
        Page::Wind => zones(sheet, e, plan),
        Page::Fixing => readings(sheet, e),
        Page::Tests => {
            areas(sheet, e);
            rings(sheet, plan);
        }
        _ => {}
    }
}

/// Limits of the zones as dashed lines, with what each asks for over the wall, or at its top where it ends lower.
fn zones(sheet: &Sheet<'_>, e: &Elevation, plan: &Plan) {
    let Some(demand) = plan.engineering.demand.as_ref().and_then(|d| d.demand()) else { return };
    let line = Stroke::new(1.4, sheet.palette.accent);
    let top = e.outline.iter().map(|p| p.1).fold(f64::NEG_INFINITY, f64::max);
    for z in &demand.zones {
        let (a, b) = (sheet.view.to_screen((z.x.0, z.y.1)), sheet.view.to_screen((z.x.1, z.y.0)));
        let rect = Rect::from_two_pos(a, b);
        if z.governs == Governs::Wind || z.governs == Governs::TooMuch {
            sheet.painter.rect_filled(rect, 0.0, sheet.palette.accent.gamma_multiply(0.10));
        }
        let corners =
            [rect.left_bottom(), rect.left_top(), rect.right_top(), rect.right_bottom(), rect.left_bottom()];
        sheet.painter.extend(egui::Shape::dashed_line(&corners, line, 7.0, 5.0));
        label(sheet, rect, z, z.y.1 > top - 1.0);
    }
}

fn label(sheet: &Sheet<'_>, rect: Rect, z: &DemandZone, over: bool) {
    let name = if z.name == "given" { "given pressure".to_owned() } else { format!("zone {}", z.name) };
    let full = match z.per_m2 {
        Some(n) => format!("{name}: {n:.2} per m², {} x {}", figure(z.horizontal), figure(z.vertical)),
        None => format!("{name}: {:.2} kN/m²", z.outward.max(z.inward)),
    };
    let size = 11.5;
    // What does not fit over the zone is shortened to its name.
    let short = match z.per_m2 {
        Some(_) => format!("{}\n{} x {}", z.name, figure(z.horizontal), figure(z.vertical)),
        None => z.name.clone(),
    };
    let fits = |text: &String| sheet.text_size(text, size).x < rect.width() - 8.0;
    let text = [full, short].into_iter().find(fits).unwrap_or_else(|| z.name.clone());
    let ground = sheet.text_size(&text, size) + vec2(8.0, 4.0);
    // Over the wall it covers no tie; clear of the ticks along the eaves.
    let at = pos2(rect.center().x, rect.top() + if over { -9.0 - ground.y } else { 3.0 });
    let ground = Rect::from_min_size(at - vec2(ground.x / 2.0, 0.0), ground);
    sheet.painter.rect_filled(ground, 2.0, sheet.palette.paper.gamma_multiply(0.9));
    sheet.text(at + vec2(0.0, 2.0), Align2::CENTER_TOP, &text, size, sheet.palette.accent);
}

/// Where the cavity was measured, with its width.
fn readings(sheet: &Sheet<'_>, e: &Elevation) {
    for r in e.substrate.iter().flat_map(|s| &s.cavities) {
        let at = sheet.view.to_screen(r.at);
        let ink = sheet.palette.accent;
        for step in [vec2(6.0, 0.0), vec2(0.0, 6.0)] {
            sheet.painter.line_segment([at - step, at + step], Stroke::new(2.0, ink));
        }
        let width = if r.cavity > 0.0 { figure(r.cavity) } else { "not entered".to_owned() };
        let text = format!("cavity {width}");
        let ground =
            Rect::from_min_size(at + vec2(6.0, -20.0), sheet.text_size(&text, 11.5) + vec2(6.0, 2.0));
        sheet.painter.rect_filled(ground, 2.0, sheet.palette.paper.gamma_multiply(0.9));
        sheet.text(ground.min + vec2(3.0, 1.0), Align2::LEFT_TOP, &text, 11.5, ink);
    }
}

/// Areas tested each for itself.
fn areas(sheet: &Sheet<'_>, e: &Elevation) {
    let line = Stroke::new(1.4, sheet.palette.accent);
    for a in e.tests.iter().flat_map(|t| &t.areas) {
        let (low, high) = (sheet.view.to_screen((a.x, a.y)), sheet.view.to_screen((a.x + a.w, a.y + a.h)));
        let r = Rect::from_two_pos(low, high);
        let ring = [r.left_bottom(), r.left_top(), r.right_top(), r.right_bottom(), r.left_bottom()];
        sheet.painter.extend(egui::Shape::dashed_line(&ring, line, 7.0, 5.0));
        sheet.text(r.left_top() + vec2(4.0, 3.0), Align2::LEFT_TOP, &a.name, 11.5, sheet.palette.accent);
    }
}

/// A double ring round each tie to be tested.
fn rings(sheet: &Sheet<'_>, plan: &Plan) {
    let Some(tests) = &plan.engineering.tests else { return };
    let r = radius(sheet.view.scale) + 4.0;
    let ink: Color32 = sheet.palette.accent;
    for tie in tests.rings().into_iter().filter_map(|i| plan.ties.get(i)) {
        let at = sheet.view.to_screen(tie.at);
        sheet.painter.circle_stroke(at, r, Stroke::new(2.0, ink));
        sheet.painter.circle_stroke(at, r + 3.0, Stroke::new(1.0, ink));
    }
}
