//! Icons of the tools, drawn by the painter.

use egui::{Color32, Painter, Pos2, Rect, Shape, Stroke, StrokeKind, pos2, vec2};

use crate::canvas::{Symbol, paint_symbol};
use crate::tools::Tool;

/// Paints the icon of a tool into a square of 18 points.
pub fn tool(painter: &Painter, rect: Rect, tool: Tool, ink: Color32, ground: Color32) {
    let c = rect.center();
    let at = |x: f32, y: f32| pos2(c.x + x, c.y + y);
    let line = Stroke::new(1.4, ink);
    let hair = Stroke::new(1.0, ink.gamma_multiply(0.6));
    let mark = |p: Pos2| {
        painter.rect_filled(Rect::from_center_size(p, vec2(3.5, 3.5)), 0.0, ink);
    };
    match tool {
        Tool::Select => {
            let arrow = vec![
                at(-4.0, -7.0),
                at(-4.0, 6.0),
                at(-1.0, 3.0),
                at(1.0, 7.5),
                at(3.0, 6.5),
                at(1.0, 2.2),
                at(5.0, 2.0),
            ];
            painter.add(Shape::closed_line(arrow, line));
        }
        Tool::Pan => {
            for (x, y) in [(1.0, 0.0), (-1.0, 0.0), (0.0, 1.0), (0.0, -1.0)] {
                let tip = at(x * 7.5, y * 7.5);
                painter.line_segment([c, tip], line);
                for side in [-1.0, 1.0] {
                    let barb = tip + vec2(-x * 2.8 + y * 2.8 * side, -y * 2.8 + x * 2.8 * side);
                    painter.line_segment([tip, barb], line);
                }
            }
        }
        Tool::Wall => {
            let r = Rect::from_center_size(c, vec2(15.0, 12.0));
            painter.rect_stroke(r, 0.0, line, StrokeKind::Middle);
            for (k, y) in [-2.0, 2.0].into_iter().enumerate() {
                painter.line_segment([at(-7.5, y), at(7.5, y)], hair);
                let x = if k == 0 { -2.0 } else { 3.0 };
                painter.line_segment([at(x, y), at(x, y + 4.0)], hair);
            }
        }
        Tool::WallCorners => {
            let ring = [at(-7.0, 6.5), at(7.0, 6.5), at(7.0, -1.0), at(0.0, -7.0), at(-7.0, -1.0)];
            painter.add(Shape::closed_line(ring.to_vec(), line));
            ring.into_iter().for_each(mark);
        }
        Tool::Rectangle => {
            let r = Rect::from_center_size(c, vec2(11.0, 14.0));
            painter.rect_stroke(r, 0.0, line, StrokeKind::Middle);
            painter.line_segment([r.left_center(), r.right_center()], hair);
        }
        Tool::Arched => {
            let mut ring = vec![at(-5.5, 7.0), at(5.5, 7.0)];
            ring.extend((0..=8).map(|i| {
                let a = std::f32::consts::PI * i as f32 / 8.0;
                at(5.5 * a.cos(), -1.5 - 5.0 * a.sin())
            }));
            painter.add(Shape::closed_line(ring, line));
        }
        Tool::Pointed => {
            let mut ring = vec![at(-5.0, 7.5), at(5.0, 7.5)];
            for (side, steps) in [(1.0, [0.0, 20.0, 40.0, 60.0]), (-1.0, [60.0, 40.0, 20.0, 0.0])] {
                ring.extend(steps.map(|a: f32| {
                    let a = a.to_radians();
                    at(side * (10.0 * a.cos() - 5.0), -10.0 * a.sin())
                }));
            }
            painter.add(Shape::closed_line(ring, line));
        }
        Tool::Circle => {
            painter.circle_stroke(c, 6.8, line);
            painter.line_segment([at(-6.5, 0.0), at(6.5, 0.0)], hair);
        }
        Tool::Polygon => {
            let ring = [at(-6.5, 5.5), at(6.0, 6.5), at(3.5, -6.5), at(-5.0, -3.0)];
            painter.add(Shape::closed_line(ring.to_vec(), line));
            ring.into_iter().for_each(mark);
        }
        Tool::KeepOut | Tool::RoundKeepOut | Tool::KeepOutCorners => {
            let r = Rect::from_center_size(c, vec2(14.0, 12.0));
            painter.rect_stroke(r, 0.0, line, StrokeKind::Middle);
            for x in [-4.0, 0.0, 4.0] {
                painter.line_segment([at(x + 2.6, -6.0), at(x - 2.6, 6.0)], hair);
            }
        }
        Tool::Joint => {
            for (a, b) in [(-8.0, -3.5), (-1.5, -0.2), (1.8, 6.3), (7.6, 8.6)] {
                painter.line_segment([at(0.0, a), at(0.0, b)], Stroke::new(1.8, ink));
            }
            painter.line_segment([at(-6.0, -4.0), at(-2.5, -4.0)], hair);
            painter.line_segment([at(2.5, 4.0), at(6.0, 4.0)], hair);
        }
        Tool::OldTie => paint_symbol(painter, Symbol::Old, c, 7.0, ground, ink),
        Tool::Pin => {
            paint_symbol(painter, Symbol::Tie(layout_core::Role::Field, true), c, 7.0, ground, ink);
        }
        Tool::Lock => {
            let r = Rect::from_center_size(c, vec2(15.0, 13.0));
            let corners = [r.left_top(), r.right_top(), r.right_bottom(), r.left_bottom(), r.left_top()];
            painter.extend(Shape::dashed_line(&corners, line, 3.0, 2.0));
            for (x, y) in [(-3.5, 2.5), (0.5, -2.5), (4.0, 2.5)] {
                painter.circle_filled(at(x, y), 1.7, ink);
            }
        }
    }
}
