//! Zones of the wind and rings of the pull tests, each while its page is open.

use egui::{Align2, Color32, Rect, Stroke, pos2, vec2};
use layout_core::Plan;
use layout_core::demand::{DemandZone, Governs};

use super::Sheet;
use super::ties::radius;
use crate::engineering::figure;
use crate::session::{Context, Page};

/// Paints what the open page is about.
pub(super) fn paint(sheet: &Sheet<'_>, cx: &Context<'_>) {
    let Some(plan) = cx.derived.plan(cx.session.elevation) else { return };
    match cx.session.page {
        Page::Wind => zones(sheet, plan),
        Page::Tests => rings(sheet, plan),
        _ => {}
    }
}

/// Limits of the zones as dashed lines, with what each asks for at its top.
fn zones(sheet: &Sheet<'_>, plan: &Plan) {
    let Some(demand) = plan.engineering.demand.as_ref().and_then(|d| d.demand()) else { return };
    let line = Stroke::new(1.4, sheet.palette.accent);
    for z in &demand.zones {
        let (a, b) = (sheet.view.to_screen((z.x.0, z.y.1)), sheet.view.to_screen((z.x.1, z.y.0)));
        let rect = Rect::from_two_pos(a, b);
        if z.governs == Governs::Wind || z.governs == Governs::TooMuch {
            sheet.painter.rect_filled(rect, 0.0, sheet.palette.accent.gamma_multiply(0.10));
        }
        let corners =
            [rect.left_bottom(), rect.left_top(), rect.right_top(), rect.right_bottom(), rect.left_bottom()];
        sheet.painter.extend(egui::Shape::dashed_line(&corners, line, 7.0, 5.0));
        label(sheet, rect, z);
    }
}

fn label(sheet: &Sheet<'_>, rect: Rect, z: &DemandZone) {
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
    let at = pos2(rect.center().x, rect.top() + 3.0);
    let ground = sheet.text_size(&text, size) + vec2(8.0, 4.0);
    let ground = Rect::from_min_size(at - vec2(ground.x / 2.0, 0.0), ground);
    sheet.painter.rect_filled(ground, 2.0, sheet.palette.paper.gamma_multiply(0.9));
    sheet.text(at + vec2(0.0, 2.0), Align2::CENTER_TOP, &text, size, sheet.palette.accent);
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
