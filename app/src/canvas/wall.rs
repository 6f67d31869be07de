//! Masonry, openings, keep-outs and joints.

use egui::{Align2, Color32, Rect, Shape, Stroke, pos2};
use layout_core::elevation::{Elevation, Shape as Outline, shape_bounds, shape_ring};

use super::labels::{SIZE, closed};
use super::marks::NAME_SIZE;
use super::{Sheet, fill, sides};
use crate::document::Item;
use crate::session::Context;

/// Paints the wall, and what the tie with this number serves, if the pointer is on one.
pub(super) fn paint(sheet: &Sheet<'_>, cx: &Context<'_>, e: &Elevation, hovered: Option<usize>) {
    sheet.painter.add(fill::filled(&e.outline, &sheet.view, sheet.palette.masonry));
    super::served::paint(sheet, cx, hovered);
    if cx.session.layers.bed_joints {
        bed_joints(sheet, e);
    }
    sides::paint(sheet, e);
    openings(sheet, e);
    keep_outs(sheet, e);
    locked(sheet, e);
    joints(sheet, e);
}

/// The names of what is on the wall, inside or beside it.
pub(super) fn words(sheet: &Sheet<'_>, e: &Elevation) {
    for o in &e.openings {
        let bounds = shape_bounds(&o.shape);
        if sheet.sees(bounds) {
            opening_words(sheet, &o.name, &o.shape, screen(sheet, bounds));
        }
    }
    for k in e.keep_outs.iter().filter(|k| !k.name.is_empty() && crate::document::struck::reason(k).is_none())
    {
        let bounds = shape_bounds(&k.shape);
        let rect = screen(sheet, bounds);
        // Without room inside, the name is put where ties leave room.
        if sheet.sees(bounds) && holds(sheet, rect, &k.name) {
            sheet.tag(rect.center(), Align2::CENTER_CENTER, &k.name, NAME_SIZE, sheet.palette.hazard);
        }
    }
    let ink = sheet.palette.role(layout_core::Role::Joint);
    for (i, j) in e.movement_joints.iter().enumerate().filter(|(_, j)| j.x.is_finite() && j.to.is_finite()) {
        let top = sheet.view.to_screen((j.x, j.to));
        sheet.text(top - egui::vec2(0.0, 16.0), Align2::CENTER_BOTTOM, &Item::Joint(i).label(e), 11.0, ink);
    }
}

/// Locked areas: a dashed line round each; their names are put where ties leave room.
fn locked(sheet: &Sheet<'_>, e: &Elevation) {
    let ink = sheet.palette.ink_soft;
    for l in &e.locked {
        if sheet.sees(shape_bounds(&l.shape)) {
            let line = closed(sheet.points(&shape_ring(&l.shape)));
            sheet.dashed(&line, Stroke::new(1.5, ink), &[7.0], &[4.0]);
        }
    }
}

/// The line all heights are measured from.
pub(super) fn datum(sheet: &Sheet<'_>) {
    let rect = sheet.view.rect;
    let y = sheet.view.to_screen((0.0, 0.0)).y;
    let hair = Stroke::new(1.0, sheet.palette.hairline);
    let left = rect.left() + super::rulers::LEFT;
    sheet.dashed(&[pos2(left, y), pos2(rect.right(), y)], hair, &[14.0, 3.0], &[4.0, 4.0]);
    let x = sheet.view.to_screen((0.0, 0.0)).x;
    sheet.painter.line_segment([pos2(x, y - 5.0), pos2(x, y + 5.0)], hair);
    let ink = sheet.palette.ink_soft;
    sheet.text(pos2(rect.right() - 6.0, y + 3.0), Align2::RIGHT_TOP, "datum", 10.5, ink);
}

fn bed_joints(sheet: &Sheet<'_>, e: &Elevation) {
    let gauge = e.coursing.gauge;
    let gap = gauge * sheet.view.scale;
    // Closer than 4 points apart the lines would be a grey.
    if !gap.is_finite() || gap < 4.0 || !e.coursing.first_bed.is_finite() {
        return;
    }
    let (_, lo, _, hi) = sheet.view.seen();
    let first = ((lo - e.coursing.first_bed) / gauge).floor();
    let strength = ((gap - 3.0) / 6.0).clamp(0.25, 1.0) as f32;
    let hair = Stroke::new(1.0, sheet.palette.bed.gamma_multiply(strength));
    for k in 0..=((hi - lo) / gauge).ceil().min(2000.0) as i64 {
        let y = e.coursing.first_bed + (first + k as f64) * gauge;
        for (l, r) in fill::spans(&e.outline, y) {
            let (a, b) = (sheet.view.to_screen((l, y)), sheet.view.to_screen((r, y)));
            sheet.painter.line_segment([a, b], hair);
        }
    }
}

fn openings(sheet: &Sheet<'_>, e: &Elevation) {
    for o in &e.openings {
        let bounds = shape_bounds(&o.shape);
        if !sheet.sees(bounds) {
            continue;
        }
        let ring = shape_ring(&o.shape);
        sheet.painter.add(fill::filled(&ring, &sheet.view, sheet.palette.glass));
        sheet.painter.add(Shape::closed_line(sheet.points(&ring), Stroke::new(1.5, sheet.palette.ink)));
    }
}

/// Name and size inside an opening, as far as there is room.
fn opening_words(sheet: &Sheet<'_>, name: &str, shape: &Outline, rect: Rect) {
    let narrow = if matches!(shape, Outline::Circle { .. }) { 0.8 } else { 1.0 };
    let width = rect.width() * narrow - 8.0;
    let size = size_words(sheet, shape);
    let both = rect.height() > 40.0 && sheet.text_size(&size, 11.0).x < width;
    let c = rect.center();
    let most = if both { c.y } else { c.y + 7.0 };
    if rect.height() > 15.0 && width > 12.0 {
        let name = sheet.cut(name, if both { 13.0 } else { SIZE }, width);
        let at = pos2(c.x - name.size().x / 2.0, most - name.size().y);
        sheet.painter.galley(at, name, sheet.palette.ink);
    }
    if both {
        sheet.text(c, Align2::CENTER_TOP, &size, 11.0, sheet.palette.ink_soft);
    }
}

/// The size of a shape, mm.
fn size_words(sheet: &Sheet<'_>, shape: &Outline) -> String {
    match *shape {
        Outline::Rect { w, h, .. } => format!("{} × {}", sheet.mm(w), sheet.mm(h)),
        Outline::Arched { w, h, rise, .. } => format!("{} × {}", sheet.mm(w), sheet.mm(h + rise)),
        Outline::Circle { r, .. } => format!("⌀ {}", sheet.mm(2.0 * r)),
        Outline::Polygon(ref points) => format!("{} corners", points.len()),
    }
}

pub(super) fn screen(sheet: &Sheet<'_>, bounds: (f64, f64, f64, f64)) -> Rect {
    screen_rect(&sheet.view, bounds)
}

/// Bounds (left, lower, right, upper, mm) on the screen.
pub(super) fn screen_rect(view: &super::View, (l, b, r, t): (f64, f64, f64, f64)) -> Rect {
    Rect::from_two_pos(view.to_screen((l, b)), view.to_screen((r, t)))
}

fn keep_outs(sheet: &Sheet<'_>, e: &Elevation) {
    let ink = sheet.palette.hazard;
    for k in &e.keep_outs {
        let (l, b, r, t) = shape_bounds(&k.shape);
        if crate::document::struck::reason(k).is_some() {
            struck(sheet, ((l + r) / 2.0, (b + t) / 2.0));
            continue;
        }
        let c = if k.clearance.is_finite() { k.clearance.max(0.0) } else { 0.0 };
        if !sheet.sees((l - c, b - c, r + c, t + c)) {
            continue;
        }
        let ring = sheet.points(&shape_ring(&k.shape));
        sheet.painter.extend(fill::hatched(
            &ring,
            sheet.view.rect,
            7.0,
            Stroke::new(1.0, ink.gamma_multiply(0.55)),
        ));
        sheet.painter.add(Shape::closed_line(ring.clone(), Stroke::new(1.5, ink)));
        clearance(sheet, &k.shape, c, ink);
    }
}

/// Whether a keep-out on the screen has room for its name inside.
pub(super) fn holds(sheet: &Sheet<'_>, area: Rect, name: &str) -> bool {
    area.height() > 18.0 && sheet.text_size(name, NAME_SIZE).x + 8.0 < area.width()
}

/// A place struck out: a circle with a bar through it.
fn struck(sheet: &Sheet<'_>, at: layout_core::elevation::Point) {
    let c = sheet.view.to_screen(at);
    if !sheet.view.rect.contains(c) {
        return;
    }
    let stroke = Stroke::new(1.5, sheet.palette.hazard);
    sheet.painter.circle_stroke(c, 6.0, stroke);
    sheet.painter.line_segment([c + egui::vec2(-8.0, 8.0), c + egui::vec2(8.0, -8.0)], stroke);
}

/// The line that ties keep outside of: about a rectangle or a circle; other shapes show none.
fn clearance(sheet: &Sheet<'_>, shape: &Outline, c: f64, ink: Color32) {
    if c * sheet.view.scale < 3.0 {
        return;
    }
    let hair = Stroke::new(1.0, ink.gamma_multiply(0.8));
    let line = match *shape {
        Outline::Rect { x, y, w, h } => {
            let r = screen(sheet, (x - c, y - c, x + w + c, y + h + c));
            let round = (c * sheet.view.scale) as f32;
            rounded(r, round)
        }
        Outline::Circle { x, y, r } => sheet.points(&shape_ring(&Outline::Circle { x, y, r: r + c })),
        _ => return,
    };
    sheet.dashed(&closed(line), hair, &[3.0], &[3.0]);
}

fn rounded(r: Rect, radius: f32) -> Vec<egui::Pos2> {
    let inner = r.shrink(radius);
    let corners = [
        (inner.right_top(), -90.0_f32),
        (inner.right_bottom(), 0.0),
        (inner.left_bottom(), 90.0),
        (inner.left_top(), 180.0),
    ];
    corners
        .into_iter()
        .flat_map(|(c, from)| {
            (0..=6).map(move |i| {
                let a = (from + 15.0 * i as f32).to_radians();
                pos2(c.x + radius * a.cos(), c.y + radius * a.sin())
            })
        })
        .collect()
}

fn joints(sheet: &Sheet<'_>, e: &Elevation) {
    let ink = sheet.palette.role(layout_core::Role::Joint);
    for j in &e.movement_joints {
        if ![j.x, j.from, j.to].iter().all(|v| v.is_finite()) {
            continue;
        }
        let (a, b) = (sheet.view.to_screen((j.x, j.from)), sheet.view.to_screen((j.x, j.to)));
        sheet.dashed(&[a, b], Stroke::new(2.0, ink), &[12.0, 2.0], &[3.0, 3.0]);
    }
}
