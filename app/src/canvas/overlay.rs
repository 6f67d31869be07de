//! What lies over the drawing: selection, handles, dimensions, drafts, findings and faults.

use egui::{Align2, Pos2, Rect, Shape, Stroke, Vec2, pos2, vec2};
use layout_core::check::Severity;
use layout_core::elevation::{Elevation, FaultKind, Point, shape_ring};

use super::labels::{SIZE, above, closed};
use super::wall::screen;
use super::{Pointer, Sheet, chains, fill};
use crate::document::item::side;
use crate::document::{Item, Object};
use crate::session::Context;
use crate::tools::snap::Pull;
use crate::tools::{self, Draft, Handle, Tool};

pub(super) fn paint(sheet: &Sheet<'_>, cx: &Context<'_>, e: &Elevation, pointer: &Pointer) {
    findings(sheet, cx);
    for other in &cx.session.others {
        if let Some(object) = other.object(e) {
            outlined(sheet, &object, Stroke::new(2.0, sheet.palette.accent.gamma_multiply(0.75)));
        }
    }
    if let Some(item) = cx.session.item() {
        selected(sheet, cx, e, item);
    }
    guides(sheet, cx);
    draft(sheet, cx, pointer);
    slip(sheet, cx);
    if let Some((from, to)) = cx.session.marquee {
        let frame = Rect::from_two_pos(sheet.view.to_screen(from), sheet.view.to_screen(to));
        let stroke = Stroke::new(1.0, sheet.palette.accent);
        let ground = sheet.palette.accent_wash.gamma_multiply(0.35);
        sheet.painter.rect(frame, 0.0, ground, stroke, egui::StrokeKind::Inside);
    }
}

/// Where breaches are, a ring with a stroke through it; the one clicked last is ringed twice.
fn findings(sheet: &Sheet<'_>, cx: &Context<'_>) {
    let i = cx.session.elevation;
    let Some(outcome) = cx.derived.outcome(i) else { return };
    let p = &sheet.palette;
    if let Some(plan) = &outcome.plan {
        for (k, f) in plan.findings.iter().enumerate().take(400) {
            let chosen = cx.session.finding == Some(k);
            if f.severity == Severity::Breach || chosen {
                let ink = if f.severity == Severity::Breach { p.breach } else { p.note };
                place(sheet, f.at, ink, chosen);
            }
        }
    }
    for fault in outcome.faults.iter().filter(|f| f.kind == FaultKind::Unusable) {
        if let Some(at) = fault.at {
            place(sheet, at, p.breach, false);
        }
    }
}

fn place(sheet: &Sheet<'_>, at: Point, ink: egui::Color32, chosen: bool) {
    let c = sheet.view.to_screen(at);
    if !sheet.view.rect.contains(c) {
        return;
    }
    sheet.painter.circle_stroke(c, 11.0, Stroke::new(1.5, ink));
    if chosen {
        sheet.painter.circle_stroke(c, 16.0, Stroke::new(2.5, ink));
    }
    let reach = vec2(7.8, -7.8);
    sheet.painter.line_segment([c + reach, c + reach * 1.8], Stroke::new(1.5, ink));
    sheet.text(c + reach * 1.8 + vec2(1.0, 2.0), Align2::LEFT_BOTTOM, "!", 14.0, ink);
}

fn selected(sheet: &Sheet<'_>, cx: &Context<'_>, e: &Elevation, item: Item) {
    let accent = sheet.palette.accent;
    let strong = Stroke::new(2.0, accent);
    match item {
        Item::Side(i) => {
            if let Some((a, b)) = side(&e.outline, i) {
                let (p, q) = (sheet.view.to_screen(a), sheet.view.to_screen(b));
                sheet.painter.line_segment([p, q], Stroke::new(3.5, accent));
                let along = (q - p).normalized();
                let off = inwards(sheet, e, p + (q - p) * 0.5, vec2(along.y, -along.x)) * 20.0;
                sheet.dimension(p, q, off, &sheet.mm((a.0 - b.0).hypot(a.1 - b.1)));
            }
        }
        Item::Corner(i) => {
            if let Some(p) = e.outline.get(i) {
                let at = sheet.view.to_screen(*p);
                sheet.painter.circle_stroke(at, 9.0, strong);
                let text = format!("{}, {}", sheet.mm(p.0), sheet.mm(p.1));
                sheet.tag(at + vec2(12.0, -12.0), Align2::LEFT_BOTTOM, &text, SIZE, accent);
            }
        }
        _ => {
            if let Some(object) = item.object(e) {
                outlined(sheet, &object, strong);
                if let Some(bounds) = item.bounds(e) {
                    let in_chain = match item {
                        Item::Opening(i) if cx.session.layers.dimensions => chains::through(sheet, e, i),
                        _ => [false; 2],
                    };
                    dimensions(sheet, e, &object, bounds, in_chain);
                }
            }
        }
    }
    if cx.session.tool == Tool::Select && cx.session.others.is_empty() {
        for (handle, at) in tools::handles(item, e) {
            let c = sheet.view.to_screen(at);
            let square = Rect::from_center_size(c, Vec2::splat(8.0));
            if handle == Handle::Springing {
                let d = 6.0;
                let corners = [c + vec2(d, 0.0), c + vec2(0.0, d), c - vec2(d, 0.0), c - vec2(0.0, d)];
                sheet.painter.add(Shape::convex_polygon(
                    corners.to_vec(),
                    sheet.palette.paper,
                    Stroke::new(1.5, accent),
                ));
            } else {
                let inside = egui::StrokeKind::Middle;
                sheet.painter.rect(square, 1.0, sheet.palette.paper, Stroke::new(1.5, accent), inside);
            }
        }
    }
}

/// The lines that what is dragged has snapped to, right across the sheet, each with why it pulls.
fn guides(sheet: &Sheet<'_>, cx: &Context<'_>) {
    let rect = sheet.view.rect;
    for guide in &cx.session.guides {
        let at = sheet.view.to_screen((guide.at, guide.at));
        let (a, b) = if guide.upright {
            (pos2(at.x, rect.top()), pos2(at.x, rect.bottom()))
        } else {
            (pos2(rect.left(), at.y), pos2(rect.right(), at.y))
        };
        let word = match guide.pull {
            Pull::Edge => "",
            Pull::Middle => "middle",
            Pull::Gap => "equal gap",
        };
        let stroke = Stroke::new(1.0, sheet.palette.accent);
        sheet.dashed(&[a, b], stroke, &[6.0, 2.0], &[3.0, 3.0]);
        if !word.is_empty() {
            let (place, anchor) = if guide.upright {
                (pos2(at.x + 5.0, rect.top() + 26.0), Align2::LEFT_TOP)
            } else {
                (pos2(rect.left() + 40.0, at.y - 3.0), Align2::LEFT_BOTTOM)
            };
            sheet.tag(place, anchor, word, 11.0, sheet.palette.accent);
        }
    }
}

/// What is typed while something is drawn, beside the pointer.
fn slip(sheet: &Sheet<'_>, cx: &Context<'_>) {
    let (Some(typed), Some(aim)) = (&cx.session.typed, cx.session.aim) else { return };
    let at = sheet.view.to_screen(aim) + vec2(14.0, 22.0);
    let (words, ink) = match &typed.error {
        Some(error) => (error.clone(), sheet.palette.breach),
        None => (typed.words(cx.session.tool), sheet.palette.ink),
    };
    let rect = sheet.tag(at, Align2::LEFT_TOP, &words, 13.0, ink);
    let stroke = Stroke::new(1.0, sheet.palette.accent);
    sheet.painter.rect_stroke(rect.expand(2.0), 2.0, stroke, egui::StrokeKind::Outside);
}

/// The direction out of two that leads into the outline.
fn inwards(sheet: &Sheet<'_>, e: &Elevation, from: Pos2, way: Vec2) -> Vec2 {
    let probe = sheet.view.to_world(from + way * 4.0);
    if tools::pick::holds(&e.outline, probe) { way } else { -way }
}

fn outlined(sheet: &Sheet<'_>, object: &Object, stroke: Stroke) {
    match object {
        Object::Joint(j) => {
            let ends = [sheet.view.to_screen((j.x, j.from)), sheet.view.to_screen((j.x, j.to))];
            sheet.painter.line_segment(ends, stroke);
        }
        Object::OldTie(t) => {
            sheet.painter.circle_stroke(sheet.view.to_screen(t.at), 12.0, stroke);
        }
        Object::Pinned(p) => {
            sheet.painter.circle_stroke(sheet.view.to_screen(*p), 12.0, stroke);
        }
        Object::Opening(_) | Object::KeepOut(_) | Object::Locked(_) => {
            if let Some(shape) = object.shape() {
                sheet.painter.add(Shape::closed_line(sheet.points(&shape_ring(shape)), stroke));
            }
        }
    }
}

/// Size of a thing, and how far it is from the left end and the foot of the wall where no chain tells it.
fn dimensions(
    sheet: &Sheet<'_>,
    e: &Elevation,
    object: &Object,
    (l, b, r, t): (f64, f64, f64, f64),
    in_chain: [bool; 2],
) {
    let at = |x: f64, y: f64| sheet.view.to_screen((x, y));
    let sized = object.shape().is_some();
    if sized {
        sheet.dimension(at(l, t), at(r, t), vec2(0.0, -22.0), &sheet.mm(r - l));
        sheet.dimension(at(r, b), at(r, t), vec2(22.0, 0.0), &sheet.mm(t - b));
    } else if let Object::Joint(j) = object {
        sheet.dimension(at(j.x, j.from), at(j.x, j.to), vec2(22.0, 0.0), &sheet.mm(j.to - j.from));
    }
    let left = e.outline.iter().map(|p| p.0).fold(f64::INFINITY, f64::min);
    let foot = e.outline.iter().map(|p| p.1).fold(f64::INFINITY, f64::min);
    if !left.is_finite() || !foot.is_finite() {
        return;
    }
    let middle = (b + t) / 2.0;
    if !in_chain[0] && (l - left).abs() > 0.5 {
        sheet.dimension(at(left, middle), at(l, middle), vec2(0.0, 0.01), &sheet.mm(l - left));
    }
    let x = if sized { l } else { (l + r) / 2.0 };
    if !in_chain[1] && (b - foot).abs() > 0.5 {
        let off = if sized { vec2(14.0, 0.0) } else { vec2(0.01, 0.0) };
        sheet.dimension(at(x, foot), at(x, b), off, &sheet.mm(b - foot));
    }
}

fn draft(sheet: &Sheet<'_>, cx: &Context<'_>, pointer: &Pointer) {
    let tool = cx.session.tool;
    if matches!(tool, Tool::Select | Tool::Pan) {
        return;
    }
    let aim = tools::snapped(cx, pointer);
    match &cx.session.draft {
        Some(Draft::Box(from, to)) => boxed(sheet, tool, *from, *to),
        Some(Draft::Corners(points)) => corners(sheet, points, aim),
        None => {}
    }
    if let Some(aim) = aim {
        let c = sheet.view.to_screen(aim);
        let stroke = Stroke::new(1.0, sheet.palette.accent);
        sheet.painter.line_segment([c - vec2(7.0, 0.0), c + vec2(7.0, 0.0)], stroke);
        sheet.painter.line_segment([c - vec2(0.0, 7.0), c + vec2(0.0, 7.0)], stroke);
    }
}

fn boxed(sheet: &Sheet<'_>, tool: Tool, from: Point, to: Point) {
    let accent = sheet.palette.accent;
    let stroke = Stroke::new(2.0, accent);
    if tool == Tool::Joint {
        let ends = [sheet.view.to_screen(from), sheet.view.to_screen((from.0, to.1))];
        sheet.painter.line_segment(ends, stroke);
        sheet.dimension(ends[0], ends[1], vec2(22.0, 0.0), &sheet.mm((to.1 - from.1).abs()));
        return;
    }
    let Some(shape) = tools::box_shape(tool, from, to) else { return };
    let ring = shape_ring(&shape);
    sheet.painter.add(fill::filled(&ring, &sheet.view, sheet.palette.accent_wash.gamma_multiply(0.5)));
    sheet.painter.add(Shape::closed_line(sheet.points(&ring), stroke));
    let (l, b, r, t) = layout_core::elevation::shape_bounds(&shape);
    let rect = screen(sheet, (l, b, r, t));
    if tool.from_centre() {
        let text = format!("radius {}", sheet.mm((r - l) / 2.0));
        sheet.tag(above(rect), Align2::CENTER_BOTTOM, &text, SIZE, accent);
    } else {
        sheet.dimension(rect.left_top(), rect.right_top(), vec2(0.0, -22.0), &sheet.mm(r - l));
        sheet.dimension(rect.right_bottom(), rect.right_top(), vec2(22.0, 0.0), &sheet.mm(t - b));
    }
}

fn corners(sheet: &Sheet<'_>, points: &[Point], aim: Option<Point>) {
    let accent = sheet.palette.accent;
    let drawn = sheet.points(points);
    sheet.painter.add(Shape::line(drawn.clone(), Stroke::new(2.0, accent)));
    for p in &drawn {
        sheet.painter.circle_filled(*p, 3.5, accent);
    }
    if let Some(first) = drawn.first().filter(|_| points.len() >= 3) {
        sheet.painter.circle_stroke(*first, 9.0, Stroke::new(1.5, accent));
    }
    let (Some(last), Some(aim)) = (points.last(), aim) else { return };
    let (p, q) = (sheet.view.to_screen(*last), sheet.view.to_screen(aim));
    sheet.dashed(&closed(vec![p, q]), Stroke::new(1.5, accent), &[5.0], &[4.0]);
    let length = (aim.0 - last.0).hypot(aim.1 - last.1);
    if length > 1.0 {
        let middle = pos2((p.x + q.x) / 2.0, (p.y + q.y) / 2.0 - 10.0);
        sheet.tag(middle, Align2::CENTER_BOTTOM, &sheet.mm(length.round()), SIZE, accent);
    }
}
