//! Small pictures of walls, for lists and dialogs.

use egui::{Painter, Rect, Shape, Stroke, pos2};
use layout_core::elevation::{Point, SideCondition};

use super::{View, fill};
use crate::theme::Palette;

/// Paints a wall as large as fits into a rectangle; the sides that are not bonded stand out.
pub(crate) fn wall_picture(painter: &Painter, rect: Rect, ring: &[Point], sides: &[SideCondition]) {
    let p = Palette::of(painter.ctx());
    let bounds =
        ring.iter().fold((f64::INFINITY, f64::INFINITY, f64::NEG_INFINITY, f64::NEG_INFINITY), |b, q| {
            (b.0.min(q.0), b.1.min(q.1), b.2.max(q.0), b.3.max(q.1))
        });
    let (w, h) = (bounds.2 - bounds.0, bounds.3 - bounds.1);
    if !(w.is_finite() && h.is_finite() && w > 0.0 && h > 0.0) {
        return;
    }
    let scale = (f64::from(rect.width()) / w).min(f64::from(rect.height()) / h);
    let centre = ((bounds.0 + bounds.2) / 2.0, (bounds.1 + bounds.3) / 2.0);
    let view = View { centre, scale, rect };
    painter.add(fill::filled(ring, &view, p.masonry));
    let at = |i: usize| view.to_screen(ring[i % ring.len()]);
    for (i, side) in sides.iter().enumerate().take(ring.len()) {
        let (a, b) = (at(i), at(i + 1));
        let role = match side {
            SideCondition::Verge => Some(layout_core::Role::Verge),
            SideCondition::FreeEnd => Some(layout_core::Role::FreeEnd),
            SideCondition::Joint => Some(layout_core::Role::Joint),
            _ => None,
        };
        let stroke = role.map_or(Stroke::new(1.3, p.ink), |r| Stroke::new(2.6, p.role(r)));
        if *side == SideCondition::Abutment {
            painter.extend(Shape::dashed_line(&[a, b], stroke, 4.0, 3.0));
        } else {
            painter.line_segment([a, b], stroke);
        }
    }
    let foot = view.to_screen((bounds.0, 0.0)).y.min(rect.bottom());
    let hair = Stroke::new(1.0, p.hairline);
    painter.line_segment([pos2(rect.left(), foot), pos2(rect.right(), foot)], hair);
}
