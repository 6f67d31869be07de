//! Which masonry each tie serves, and what no tie does: washes under the drawing.
//!
//! The areas are the checker's own, not drawn anew here.

use egui::{Color32, Mesh, Stroke};
use layout_core::check::Trapezoid;

use super::{Sheet, fill};
use crate::session::{Context, Selection};

/// Pieces that no tie serves that are hatched at most.
const MOST_HATCHED: usize = 400;

/// Paints the washes that are wanted, over the masonry and under the openings.
pub(super) fn paint(sheet: &Sheet<'_>, cx: &Context<'_>, hovered: Option<usize>) {
    let layers = cx.session.layers;
    let Some(outcome) = cx.derived.outcome(cx.session.elevation) else { return };
    let Some(plan) = &outcome.plan else { return };
    if layers.served {
        // All that is served in one tone: the wall less what no tie serves, with nothing washed twice.
        let p = &sheet.palette;
        let tone = fill::between(p.masonry, p.accent_wash, 0.75);
        sheet.painter.add(fill::filled(&outcome.drawing().outline, &sheet.view, tone));
        sheet.painter.add(washed(sheet, &outcome.areas().unserved, p.masonry));
    }
    if layers.untied {
        untied(sheet, &outcome.areas().unserved);
    }
    let chosen = match cx.session.selection {
        Some(Selection::Tie(at)) => plan.ties.iter().position(|t| t.at == at),
        _ => None,
    };
    for number in [chosen, hovered.filter(|n| chosen != Some(*n))].into_iter().flatten() {
        one(sheet, cx, number);
    }
}

/// The area that one tie serves, by its number in the layout.
fn one(sheet: &Sheet<'_>, cx: &Context<'_>, number: usize) {
    let Some(outcome) = cx.derived.outcome(cx.session.elevation) else { return };
    let Some(area) = outcome.areas().served.get(number) else { return };
    let p = &sheet.palette;
    // Where all that is served is washed, one area needs a stronger tone.
    let wash = if cx.session.layers.served {
        p.accent.gamma_multiply(0.22)
    } else {
        p.accent_wash.gamma_multiply(0.6)
    };
    sheet.painter.add(washed(sheet, area, wash));
}

/// What no tie serves, washed and hatched, so that it tells itself without colour too.
fn untied(sheet: &Sheet<'_>, open: &[Trapezoid]) {
    sheet.painter.add(washed(sheet, open, sheet.palette.breach_wash));
    let stroke = Stroke::new(1.0, sheet.palette.breach.gamma_multiply(0.7));
    for t in open.iter().filter(|t| sees(sheet, t)).take(MOST_HATCHED) {
        sheet.painter.extend(fill::hatched(&sheet.points(t), sheet.view.rect, 9.0, stroke));
    }
}

fn washed(sheet: &Sheet<'_>, area: &[Trapezoid], colour: Color32) -> Mesh {
    let mut mesh = Mesh::default();
    for trapezoid in area {
        fill::trapezoid(&mut mesh, trapezoid, &sheet.view, colour);
    }
    mesh
}

fn sees(sheet: &Sheet<'_>, t: &Trapezoid) -> bool {
    let (left, right) = (t[0].0.min(t[3].0), t[1].0.max(t[2].0));
    sheet.sees((left, t[0].1, right, t[2].1))
}
