//! Rulers: metres along the top, courses up the left side.

use egui::{Align2, Rect, Stroke, pos2};
use layout_core::elevation::Elevation;
use layout_core::units::{FOOT, feet_and_inches};

use super::Sheet;
use crate::ground;
use crate::session::Context;
use crate::widgets::number::Habits;

/// Thickness of the ruler along the top, points.
pub(super) const TOP: f32 = 20.0;
/// Thickness of the ruler at the left, points.
pub(super) const LEFT: f32 = 32.0;

pub(super) fn paint(sheet: &Sheet<'_>, cx: &Context<'_>, e: &Elevation) {
    let rect = sheet.view.rect;
    let p = &sheet.palette;
    let top = Rect::from_min_max(rect.min, pos2(rect.right(), rect.top() + TOP));
    let left = Rect::from_min_max(rect.min, pos2(rect.left() + LEFT, rect.bottom()));
    ground::paint(sheet.painter, top, p.board_high);
    ground::paint(sheet.painter, left, p.board_high);
    let hair = Stroke::new(1.0, p.hairline);
    metres(sheet, top);
    courses(sheet, left, e);
    cursor(sheet, cx, top, left);
    // The corner where the two meet says what each shows.
    let corner = Rect::from_min_max(rect.min, pos2(left.right(), top.bottom()));
    ground::paint(sheet.painter, corner, p.board_high);
    sheet.painter.line_segment([top.left_bottom(), top.right_bottom()], hair);
    sheet.painter.line_segment([left.right_top(), left.right_bottom()], hair);
    let units = if Habits::in_force(sheet.painter.ctx()).feet { "crs · ft" } else { "crs · m" };
    sheet.text(corner.center(), Align2::CENTER_CENTER, units, 9.0, p.ink_soft);
}

/// The least of these steps whose lines are far enough apart.
fn step(steps: &[f64], scale: f64, apart: f64) -> f64 {
    steps.iter().copied().find(|s| s * scale >= apart).unwrap_or_else(|| steps.last().copied().unwrap_or(1.0))
}

fn metres(sheet: &Sheet<'_>, top: Rect) {
    let p = &sheet.palette;
    let feet = Habits::in_force(sheet.painter.ctx()).feet;
    let mut steps = [100.0, 250.0, 500.0, 1000.0, 2000.0, 5000.0, 10_000.0, 50_000.0, 1e6];
    if feet {
        steps = [0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 1000.0].map(|n| n * FOOT);
    }
    let major = step(&steps, sheet.view.scale, 56.0);
    let minor = major / 5.0;
    let (l, _, r, _) = sheet.view.seen();
    let first = (l / minor).floor() as i64;
    for k in first..=(first + ((r - l) / minor).ceil().min(4000.0) as i64 + 1) {
        let x = k as f64 * minor;
        let sx = sheet.view.to_screen((x, 0.0)).x;
        let is_major = k.rem_euclid(5) == 0;
        let length = if is_major { 7.0 } else { 3.5 };
        let ends = [pos2(sx, top.bottom() - length), pos2(sx, top.bottom())];
        sheet.painter.line_segment(ends, Stroke::new(1.0, p.ink_soft));
        if is_major {
            let places = if major < 100.0 { 2 } else { usize::from(major % 1000.0 != 0.0) * 2 };
            let mut text = format!("{:.places$}", x / 1000.0).replace("-0.00", "0.00");
            if feet {
                text = feet_and_inches(x);
            }
            sheet.text(pos2(sx + 3.0, top.top() + 1.0), Align2::LEFT_TOP, &text, 10.5, p.ink_soft);
        }
    }
}

fn courses(sheet: &Sheet<'_>, left: Rect, e: &Elevation) {
    let p = &sheet.palette;
    let gauge = e.coursing.gauge;
    if !gauge.is_finite() || gauge < 1.0 || !e.coursing.first_bed.is_finite() {
        return;
    }
    let pitch = gauge * sheet.view.scale;
    let every = step(&[1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 1000.0], pitch, 16.0);
    let tick = step(&[1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 1000.0], pitch, 4.0);
    let (_, lo, _, hi) = sheet.view.seen();
    let first = ((lo - e.coursing.first_bed) / gauge / tick).floor() * tick;
    for n in 0..=((hi - lo) / gauge / tick).ceil().min(4000.0) as i64 + 1 {
        let k = first + n as f64 * tick;
        let y = sheet.view.to_screen((0.0, e.coursing.first_bed + k * gauge)).y;
        let is_major = (k / every).fract().abs() < 1e-9;
        if y < left.top() {
            continue;
        }
        let length = if is_major { 7.0 } else { 3.5 };
        let ends = [pos2(left.right() - length, y), pos2(left.right(), y)];
        sheet.painter.line_segment(ends, Stroke::new(1.0, p.ink_soft));
        // Not into the corner of the rulers.
        if is_major && y > left.top() + TOP + 6.0 {
            let at = pos2(left.right() - 9.0, y);
            sheet.text(at, Align2::RIGHT_CENTER, &format!("{k:.0}"), 10.5, p.ink_soft);
        }
    }
}

fn cursor(sheet: &Sheet<'_>, cx: &Context<'_>, top: Rect, left: Rect) {
    let Some(at) = cx.session.cursor else { return };
    let at = sheet.view.to_screen(at);
    let stroke = Stroke::new(1.0, sheet.palette.accent);
    sheet.painter.line_segment([pos2(at.x, top.top()), pos2(at.x, top.bottom())], stroke);
    sheet.painter.line_segment([pos2(left.left(), at.y), pos2(left.right(), at.y)], stroke);
}
